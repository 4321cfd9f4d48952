/* The door: what a stranger's file, a name or the environment brings along never reaches the output as it is.
 * And the program as it was built: the guards of compiler and linker are in it. */

#include "suites.h"

#include "diewright/store.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct bench bench;

static void take(struct store *s, enum typed_what what, const char *item, const char *path, const char *after)
{
    struct typed_change c = {what, item, path, NULL, after};
    ck_ok(store_take(s, "a\033]0;x\007", "me\xff", &c, 1, why));
}

/* cp.diejob, and beside it x.diejob, as somebody may have made it with another program: its words are not
   those that we take. */
static void open_job(void)
{
    struct store *s = NULL;
    bench_open(&bench, "cover-plate");
    bench_do(&bench, "d new x --like cover-plate", 0);
    char *path = base_format("%s/x.diejob", bench.folder);
    ck_ok(store_open(path, false, &s, why));
    take(s, TYPED_ITEM, "said", "", "remark");
    take(s, TYPED_ENTRY, "said", "says", "a\033[2J\xc2\x9b" "m\xe2\x80\xae\xff\nb\rc");
    take(s, TYPED_ITEM, "own", "", "plate");
    take(s, TYPED_ENTRY, "own", "title", "\033]0;x\007\xe2\x81\xa6\xff\n");
    take(s, TYPED_ENTRY, "own", "note", "=a\033\xf3\xa0\x81\x81");
    store_close(s);
    free(path);
}

/* ESC and BEL, C1 as UTF-8, a right-to-left override, a byte that is no UTF-8. */
#define HIDDEN "\\033]0;x\\007\\302\\233m\\342\\200\\256\\377"

/* Each line prints what comes from elsewhere; x.diejob is a job with a hidden title. */
static const char *const lines[] = {
    "printf 'job\\n  title a" HIDDEN "\\n' >bad.txt; d load y bad.txt",
    "d show cp \"$(printf 'a" HIDDEN "')\"",
    "d set cp \"$(printf 'strip.width=a" HIDDEN "')\"",
    "d set cp \"$(printf 'a" HIDDEN "=1')\"",
    "d add cp \"$(printf 'a" HIDDEN "')\" name",
    "d add cp plate \"$(printf 'a" HIDDEN "')\"",
    "d handbook \"$(printf 'a" HIDDEN "')\"",
    "d eval \"$(printf '2 + a" HIDDEN "')\"",
    "d \"$(printf 'a" HIDDEN "')\"",
    "d show \"$(printf 'a" HIDDEN "')\"",
    "d \"$(printf -- '--a" HIDDEN "')\"",
    "d show cp \"$(printf -- '--a" HIDDEN "')\"",
    "f=\"$(printf 'file" HIDDEN
    "')\"; printf 'nonsense' >\"$f\"; d load y \"$f\"; d parts screw --job cp --import \"$f\"",
    "f=\"$(printf 'new" HIDDEN
    "')\"; d new \"$f\" --like cover-plate; d history \"$f\"; d set \"$f\" strip.width=65mm; d dump \"$f\"",
    "USER=\"$(printf 'me" HIDDEN
    "')\" d set cp strip.width=66mm; d history cp; d history cp --format csv; d history cp --format json",
    "d remark cp strip \"$(printf 'a" HIDDEN "')\"; d review cp; d dump cp",
    "printf 'key,frame\\n=a" HIDDEN ",1\\n' >bad.csv; d parts press_size --job cp --import bad.csv",
    "rm -rf data; mkdir data; cp -r \"$DATA\"/handbook \"$DATA\"/parts data; printf 'factor a" HIDDEN
    "\\n' >data/handbook/99-x.txt; d --data data check cp",
    "rm -rf data; mkdir data; cp -r \"$DATA\"/handbook \"$DATA\"/parts data; printf 'word x\\n  is a" HIDDEN
    "\\n' >data/handbook/99-x.txt; d --data data handbook x",
    "d check x; d show x; d review x; d dump x; d compare x cp; d compare x cp --format csv; d compare x cp "
    "--format json; d order x --format csv; d history x",
};

START_TEST(nothing_hidden_reaches_the_output)
{
    struct said s = bench_run(&bench, lines[_i]);
    ck_assert_uint_gt(strlen(s.out) + strlen(s.err), 0);
    const char *const said[] = {s.out, s.err};
    for (size_t i = 0; i < COUNT_OF(said); i++)
        for (const char *at = said[i]; *at; at += strcspn(at, "\r\n"), at += strspn(at, "\r\n"))
            ck_assert_msg(!has_hidden(at, strcspn(at, "\r\n")), "%s says\n%s", lines[_i], at);
    said_done(&s);
}
END_TEST

START_TEST(a_refused_line_is_marked_where_its_visible_form_stands)
{
    struct said s = bench_want(&bench, "printf 'job\\n  title a\\033b\\033\\n' >bad.txt; d load y bad.txt",
                               2);
    ck_assert_msg(strstr(s.err, "\n    title a<U+001B>b<U+001B>\n           ^^^^^^^^\n") != NULL, "%s",
                  s.err);
    said_done(&s);
}
END_TEST

START_TEST(what_opens_is_dumped_so_that_it_can_be_loaded_again)
{
    bench_do(&bench, "d dump x >x.txt; rm -f again.diejob; d load again x.txt && d dump again | cmp - x.txt",
             0);
}
END_TEST

START_TEST(a_signature_with_hidden_characters_is_kept_in_its_visible_form)
{
    bench_do(&bench, "USER=\"$(printf 'me\\033[2J')\" d set cp strip.width=67mm", 0);
    struct said s = bench_want(&bench, "d history cp --format csv; grep -c \"$(printf 'me\\033')\" cp.diejob",
                               1);
    ck_assert_ptr_nonnull(strstr(s.out, "me<U+001B>[2J"));
    said_done(&s);
}
END_TEST

/* ---- the program as it was built ---------------------------------------------------------- */

/* What hardens a program, as readelf of binutils tells it; see hardening-check(1) and dpkg-buildflags(1) of
   Debian. */
static const struct { const char *ask, *says;
} guards[] = {
    {"-h", "DYN"},
    {"-lW", "GNU_RELRO"},
    {"-d", "BIND_NOW"},
    {"--dyn-syms -W", "__stack_chk_fail"},
    {"--dyn-syms -W", "printf_chk"},
};

START_TEST(the_built_program_has_its_guards)
{
    if (strcmp(guards[_i].says, "printf_chk") == 0) { /* with sanitizers their checks stand in its place */
        struct said own = bench_want(&bench, "readelf --dyn-syms -W \"$P\"", 0);
        bool sanitized = strstr(own.out, "__asan_init") != NULL;
        said_done(&own);
        if (sanitized)
            return;
    }
    char *line = base_format("readelf %s \"$P\"", guards[_i].ask);
    struct said s = bench_want(&bench, line, 0);
    ck_assert_msg(strstr(s.out, guards[_i].says) != NULL, "readelf %s does not say %s", guards[_i].ask,
                  guards[_i].says);
    const char *stack = strstr(s.out, "GNU_STACK"), *flags = stack ? strstr(stack, "RW") : NULL;
    ck_assert(!stack || (flags && flags[2] != 'E')); /* no code is run from the stack */
    free(line);
    said_done(&s);
}
END_TEST

TCase *door_tests(void)
{
    TCase *t = tcase_create("door");
    tcase_set_timeout(t, 60);
    tcase_add_unchecked_fixture(t, open_job, NULL);
    tcase_add_loop_test(t, nothing_hidden_reaches_the_output, 0, COUNT_OF(lines));
    tcase_add_test(t, a_refused_line_is_marked_where_its_visible_form_stands);
    tcase_add_test(t, what_opens_is_dumped_so_that_it_can_be_loaded_again);
    tcase_add_test(t, a_signature_with_hidden_characters_is_kept_in_its_visible_form);
    tcase_add_loop_test(t, the_built_program_has_its_guards, 0, COUNT_OF(guards));
    return t;
}
