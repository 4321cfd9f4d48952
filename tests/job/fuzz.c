/* Random edits, always the same ones: after each, values and findings equal those of a job freshly loaded
 * from its dump. What is refused must leave everything as it was. */

#include "bench.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static uint64_t state;

/* xorshift64*; the same numbers on every machine */
static unsigned draw(unsigned below)
{
    state ^= state >> 12;
    state ^= state << 25;
    state ^= state >> 27;
    return (unsigned)((state * 0x2545F4914F6CDD1DULL) >> 33) % below;
}

static const char *one_of(const char *const *words, size_t count) { return words[draw((unsigned)count)]; }
#define ONE_OF(words) one_of(words, COUNT_OF(words))

/* A text that may or may not suit Q. */
static void random_text(struct job *j, const struct dieset_quantity *q, char *out, size_t size)
{
    static const char *const odd[] = {"no",        "yes", "\"x\"",  "1 kN", "nothing.at_all", "(", "usual",
                                      "stack.gap", "",    "1/0 mm", "0"};
    struct dieset *d = job_dieset(j);
    char buf[80];
    const struct dieset_quantity *other = dieset_quantity(d, (int)draw((unsigned)dieset_quantity_count(d)));
    switch (draw(10)) {
    case 0:
        snprintf(out, size, "%s", ONE_OF(odd));
        break;
    case 1:
        snprintf(out, size, "%s", other->path);
        break;
    case 2:
        snprintf(out, size, "usual + %u mm", 1 + draw(5));
        break;
    case 3:
        if (q->property && q->property->n_choices) {
            snprintf(out, size, "\"%s\"", q->property->choices[draw((unsigned)q->property->n_choices)]);
            break;
        }
        /* fall through */
    case 4:
        snprintf(out, size, "%s", dieset_item_name(d, (int)draw((unsigned)dieset_item_count(d))));
        if (q->type.sort == HANDBOOK_ITEM)
            break;
        /* fall through */
    default:
        dieset_print(d, dieset_find(d, q->path), DIESET_NEW, buf, sizeof buf);
        if (q->type.sort == HANDBOOK_COUNT)
            snprintf(out, size, "%u", 1 + draw(6));
        else if (q->type.type.sort == FORMULA_NUMBER && unit_same(q->type.type.dim, UNIT_LENGTH))
            snprintf(out, size, "%u.%u mm", draw(90), draw(10));
        else if (q->type.type.sort == FORMULA_YESNO)
            snprintf(out, size, "%s", draw(2) ? "yes" : "no");
        else
            snprintf(out, size, "%s", buf);
    }
}

static const struct dieset_quantity *random_quantity(struct job *j)
{
    struct dieset *d = job_dieset(j);
    for (;;) {
        const struct dieset_quantity *q = dieset_quantity(d, (int)draw((unsigned)dieset_quantity_count(d)));
        if (q->can_type || draw(20) == 0)
            return q;
    }
}

static const char *random_item(struct job *j)
{
    return dieset_item_name(job_dieset(j), (int)draw((unsigned)dieset_item_count(job_dieset(j))));
}

/* An edit of the text: items and layouts. */
static enum base_err restructure(struct job *j, struct base_diag *why)
{
    static const char *const kinds[] = {"plate", "screws", "dowels", "springs", "values", "risers", "pilots"};
    static const char *const names[] = {"alpha", "beta", "gamma", "delta", "mm", "die_plate"};
    static const char *const lines[] = {"at 3, 0", "line by 4, 5", "arc to strip.width / 2, 3 radius 40 left",
                                        "line to 2, 9 no cut", "arc by 9"};
    static const char *const lays[] = {"six on die_plate", "corners on stripper", "one on die_plate",
                                       "with posts",       "rows on lower_shoe",  "with nobody"};
    switch (draw(8)) {
    case 0:
        return job_add(j, ONE_OF(kinds), ONE_OF(names), (int)draw(12) - 1, why);
    case 1:
        return job_add_like(j, random_item(j), ONE_OF(names), why);
    case 2:
        return job_remove(j, random_item(j), why);
    case 3:
        return job_rename(j, random_item(j), ONE_OF(names), why);
    case 4:
        return job_move(j, random_item(j), (int)draw((unsigned)dieset_item_count(job_dieset(j))), why);
    case 5:
        return job_lay(j, random_item(j), ONE_OF(lays), why);
    case 6:
        return job_outline_insert(j, random_item(j), (int)draw(6), ONE_OF(lines), why);
    case 7:
        return job_outline_remove(j, random_item(j), 1 + (int)draw(5), why);
    case 8:
        return job_value_add(j, random_item(j), ONE_OF(names), draw(2) ? "length" : "number",
                             draw(2) ? "3 mm" : "strip.thickness", why);
    default:
        return job_entry(j, random_item(j), draw(2) ? "note" : "title", "some words", why);
    }
}

static enum base_err random_edit(struct job *j, struct base_diag *why)
{
    char text[200], path[200];
    const struct dieset_quantity *q = random_quantity(j);
    snprintf(path, sizeof path, "%s", q->path);
    switch (draw(10)) {
    case 0:
        return job_unset(j, path, why);
    case 1:
        return job_reason(j, path, draw(3) ? "a reason" : NULL, why);
    case 2:
    case 3:
        return restructure(j, why);
    default:
        random_text(j, q, text, sizeof text);
        return job_set(j, path, text, why);
    }
}

/* Take, drop, or look at it first; undo and redo now and then. */
static void finish(struct job *j)
{
    if (draw(3) == 0)
        job_outcome(j);
    if (draw(4) == 0)
        job_drop(j);
    else
        bench_take(j);
    if (draw(5) == 0)
        (void)!job_undo(j, NULL);
    if (draw(10) == 0)
        (void)!job_redo(j, NULL);
}

static const struct run { const char *file; uint64_t seed; int edits; } runs[] = {
    {"data/demo/cover-plate.txt", 7, 120},
    {"data/demo/spacer-plate.txt", 11, 80},
    {"tests/job/all-sorts.txt", 13, 100},
};

/* The sanitizers make an edit ten times dearer: in their build folder a third of the edits will do. */
static int edits_of(const struct run *r)
{
    const char *folder = getenv("B");
    return folder && strstr(folder, "-san") ? r->edits / 3 : r->edits;
}

START_TEST(after_any_edit_the_job_is_what_its_text_says)
{
    int edits = edits_of(&runs[_i]);
    struct job *j = bench_file(runs[_i].file);
    int taken = 0;
    state = runs[_i].seed;
    for (int i = 0; i < edits; i++) {
        struct base_diag why = {0};
        char *before = job_dump(j);
        enum base_err err = random_edit(j, &why);
        if (err) {
            char *after = job_dump(j);
            ck_assert_str_eq(before, after);
            ck_assert_msg(err == BASE_REFUSED || err == BASE_UNKNOWN, "%d: %s", (int)err, why.message);
            ck_assert_msg(strlen(why.message) > 10 && why.message[strlen(why.message) - 1] == '.',
                          "no sentence: %s", why.message);
            free(after);
        } else {
            taken++;
            finish(j);
        }
        free(before);
        if (i % 3 == 0) /* what is wrong once stays so */
            bench_same_when_fresh(j);
    }
    ck_assert_int_gt(taken, edits / 4);
    while (job_undo(j, NULL) == BASE_OK) {
    }
    bench_same_when_fresh(j);
    struct job *first = bench_file(runs[_i].file);
    char *a = job_dump(j), *b = job_dump(first);
    ck_assert_str_eq(a, b); /* all the way back */
    free(a);
    free(b);
    job_close(first);
    job_close(j);
}
END_TEST

TCase *fuzz_tests(void)
{
    TCase *c = tcase_create("fuzz");
    tcase_set_timeout(c, 240);
    tcase_add_unchecked_fixture(c, bench_open_handbook, bench_close_handbook);
    tcase_add_loop_test(c, after_any_edit_the_job_is_what_its_text_says, 0, (int)COUNT_OF(runs));
    return c;
}
