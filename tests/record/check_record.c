/* Record text: what is read, what is refused and where, what is written. */

#include "../common.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "diewright/record.h"

#define TENFOLD(x) x x x x x x x x x x
static const char words_by_hundreds[] = TENFOLD(TENFOLD("ten bytes "));

static struct record_document read_or_fail(const char *text)
{
    struct record_document d;
    ck_ok(record_read(text, strlen(text), "job.txt", &d, why));
    return d;
}

/* ---- reading ---------------------------------------------------------------------------------- */

static const char job[] =
    "# a comment of its own\n"
    "job latch_eye\n"
    "  title \"Latch-eye die\"\n"
    "\n"
    "screws die_screws\n"
    "  size = \"M8\"\n"
    "    # another, anywhere deep\n"
    "  lay six on die_plate\n"
    "    end = 25 mm\n"
    "    point right_front\n"
    "      x = usual - 6 mm\n"
    "        reason \"clear # of the lifter\"\n"
    "  pieces\n"
    "plate die_plate";

START_TEST(lines_become_records_with_key_rest_and_children)
{
    struct record_document d = read_or_fail(job);
    ck_assert_str_eq(d.name, "job.txt");
    const struct record *r = d.first;
    ck_assert_str_eq(r->key, "job");
    ck_assert_str_eq(r->rest, "latch_eye");
    ck_assert_int_eq(r->line, 2);
    ck_assert_str_eq(r->child->rest, "\"Latch-eye die\"");
    ck_assert_ptr_null(r->child->next);
    r = r->next;
    ck_assert_str_eq(r->key, "screws");
    ck_assert_str_eq(record_text(r, "size", ""), "= \"M8\"");
    const struct record *lay = record_find(r, "lay"), *point = record_find(lay, "point"),
                        *x = record_find(point, "x");
    ck_assert_str_eq(lay->rest, "six on die_plate");
    ck_assert_int_eq(x->line, 11);
    ck_assert_str_eq(record_text(x, "reason", ""), "\"clear # of the lifter\"");
    ck_assert_str_eq(lay->next->key, "pieces");
    ck_assert_str_eq(lay->next->rest, "");
    ck_assert_str_eq(r->next->key, "plate");
    ck_assert_str_eq(r->next->rest, "die_plate");
    ck_assert_ptr_null(r->next->next);
    record_done(&d);
}
END_TEST

static const char *const empty[] = {"", "\n", "\n\n\n", "# only a comment", "   \n  # and blanks\n", "\r\n"};

START_TEST(a_text_without_lines_has_no_records)
{
    struct record_document d = read_or_fail(empty[_i]);
    ck_assert_ptr_null(d.first);
    record_done(&d);
    ck_assert_ptr_null(d.memory.blocks);
}
END_TEST

START_TEST(ends_of_lines_may_be_those_of_other_systems)
{
    struct record_document d = read_or_fail("kind plate\r\n  asked thickness : length\r\n");
    ck_assert_str_eq(d.first->rest, "plate");
    ck_assert_str_eq(d.first->child->rest, "thickness : length");
    record_done(&d);
}
END_TEST

START_TEST(blanks_round_the_rest_do_not_count)
{
    struct record_document d = read_or_fail("help    two   words   \n");
    ck_assert_str_eq(d.first->rest, "two   words");
    record_done(&d);
}
END_TEST

/* What stands two levels deeper, or more, is no child and goes on with the line above, whatever it begins
   with. */
START_TEST(a_line_goes_on_in_deeper_ones)
{
    struct record_document d = read_or_fail("a one\n"
                                            "    two  three   \n"
                                            "\n"
                                            "          # a comment between them\n"
                                            "      + \"four\"\n"
                                            "  b\n"
                                            "      = 5 mm\n"
                                            "    c\n"
                                            "      d\n"
                                            "        e\n"
                                            "            6 deep\r\n"
                                            "        e once more\n"
                                            "z\n"
                                            "    last");
    const struct record *a = d.first, *b = a->child;
    ck_assert_str_eq(a->rest, "one two  three + \"four\"");
    ck_assert_str_eq(b->rest, "= 5 mm");
    ck_assert_ptr_null(b->next);
    const struct record *e = record_find(record_find(record_find(b, "c"), "d"), "e");
    ck_assert_str_eq(e->rest, "6 deep");
    ck_assert_str_eq(e->next->rest, "once more");
    ck_assert_str_eq(a->next->rest, "last");
    record_done(&d);
}
END_TEST

START_TEST(each_byte_of_a_rest_has_its_line)
{
    static const struct { const char *part; int line; size_t start; } places[] = {
        {"one", 1, 0}, {"two", 2, 4}, {"three", 2, 4}, {"four", 5, 15},
    };
    struct record_document d = read_or_fail("a one\n    two  three\n\n    # no\n    four\nb\n    five\n");
    for (size_t i = 0; i < COUNT_OF(places); i++) {
        size_t start = 99;
        const char *at = strstr(d.first->rest, places[i].part);
        ck_assert_int_eq(record_place(d.first, (size_t)(at - d.first->rest), &start), places[i].line);
        ck_assert_uint_eq(start, places[i].start);
    }
    size_t start;
    ck_assert_int_eq(record_place(d.first, 3, &start), 1); /* the blank between them */
    ck_assert_int_eq(record_place(d.first->next, 0, &start), 7);
    record_done(&d);
}
END_TEST

START_TEST(text_beyond_ascii_is_kept)
{
    struct record_document d = read_or_fail(
        "help K\xc3\xb6rper \xe2\x82\xac \xf0\x9f\x94\xa9 \xed\x9f\xbf \xf4\x8f\xbf\xbf\n");
    ck_assert_str_eq(d.first->rest,
                     "K\xc3\xb6rper \xe2\x82\xac \xf0\x9f\x94\xa9 \xed\x9f\xbf \xf4\x8f\xbf\xbf");
    record_done(&d);
}
END_TEST

START_TEST(a_line_of_a_thousand_bytes_is_read)
{
    char text[1001];
    memset(text, 'x', sizeof text);
    memcpy(text, "help ", 5);
    text[1000] = '\0';
    struct record_document d = read_or_fail(text);
    ck_assert_uint_eq(strlen(d.first->rest), 995);
    record_done(&d);
}
END_TEST

/* ---- refusals ------------------------------------------------------------------------------------ */

static const struct { const char *text; int line, start; const char *says; } refusals[] = {
    {"job a\n\ttitle x\n", 2, 0, "tab"},
    {"job a\n  title\tx\n", 2, 7, "tab"},
    {"\n\n # fine\n\tx\n", 4, 0, "tab"},
    {"job a\n title x\n", 2, 1, "odd number of blanks"},
    {"job a\n   title x\n", 2, 3, "odd number of blanks"},
    {"  job a\n", 1, 2, "begins with no blanks"},
    {"# x\n\n    job a\n", 3, 4, "begins with no blanks"},
    {"a\n  b\n    c\n      d\n        e\n          f\n", 6, 10, "too deep"},
    {"a\n     on\n", 2, 5, "odd number of blanks"},
    {"a\n    on\n  = b\n", 3, 2, "begins with a key"},
    {"a\n    o\tn\n", 2, 5, "tab"},
    {"a\n    o\xe2\x80\xaen\n", 2, 5, "not seen"},
    {"job a\nti\001tle\n", 2, 2, "control character"},
    {"job a\nhelp \033[2J\n", 2, 5, "control character"},
    {"help \177\n", 1, 5, "control character"},
    {"help a\rb\n", 1, 6, "control character"},
    {"help \xc2\x9b" "2J\n", 1, 5, "control character"},
    {"help \xc2\x85\n", 1, 5, "control character"},
    {"help \xe2\x80\xae" "a\n", 1, 5, "not seen"},
    {"help \xe2\x81\xa6\n", 1, 5, "not seen"},
    {"help a\xe2\x80\x8b" "b\n", 1, 6, "not seen"},
    {"help \xff\n", 1, 5, "UTF-8"},
    {"help \xc0\x80\n", 1, 5, "UTF-8"},
    {"help \xe0\x80\x80\n", 1, 5, "UTF-8"},
    {"help \xed\xa0\x80\n", 1, 5, "UTF-8"},
    {"help \xf4\x90\x80\x80\n", 1, 5, "UTF-8"},
    {"help \xf8\x88\x80\x80\x80\n", 1, 5, "UTF-8"},
    {"help \x80\n", 1, 5, "UTF-8"},
    {"help \xc3\n", 1, 5, "UTF-8"},
    {"help \xe2\x82", 1, 5, "UTF-8"},
    {"1st line\n", 1, 0, "begins with a key"},
    {"job a\n  = 5 mm\n", 2, 2, "begins with a key"},
    {"_key x\n", 1, 0, "begins with a key"},
    {"key= 5\n", 1, 3, "begins with a key"},
    {"key. x\n", 1, 3, "begins with a key"},
    {"\xc3\xb6l x\n", 1, 0, "begins with a key"},
};

START_TEST(a_fault_is_told_with_line_and_column)
{
    struct record_document d;
    struct base_diag why = {0};
    ck_assert_int_eq(record_read(refusals[_i].text, strlen(refusals[_i].text), "job.txt", &d, &why),
                     BASE_REFUSED);
    ck_assert_msg(strstr(why.message, refusals[_i].says), "%s", why.message);
    ck_assert_int_eq(why.message[strlen(why.message) - 1], '.');
    ck_assert_str_eq(why.file, "job.txt");
    ck_assert_int_eq(why.line, refusals[_i].line);
    ck_assert_int_eq(why.start, refusals[_i].start);
    ck_assert_ptr_null(d.first);
    ck_assert_ptr_null(d.memory.blocks);
    ck_assert_int_eq(record_read(refusals[_i].text, strlen(refusals[_i].text), "job.txt", &d, NULL),
                     BASE_REFUSED);
}
END_TEST

START_TEST(a_line_of_more_than_a_thousand_bytes_is_refused)
{
    char text[1010];
    struct record_document d;
    struct base_diag why = {0};
    memset(text, 'x', sizeof text);
    memcpy(text, "job\n  ", 6);
    ck_assert_int_eq(record_read(text, 4 + 1001, "job.txt", &d, &why), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(why.message, "1000 bytes"));
    ck_assert_int_eq(why.line, 2);
    ck_assert_int_le(why.start + why.length, (int)strlen(why.source));
}
END_TEST

/* Also where each of its lines is short. */
START_TEST(a_record_of_more_than_a_thousand_bytes_is_refused)
{
    struct base_text t = {0};
    struct record_document d;
    struct base_diag refused = {0};
    base_text_add(&t, "help");
    for (int i = 0; i < 18; i++)
        base_text_add(&t, "\n    49 bytes of words, as many as are wanted in a line");
    ck_ok(record_read(base_text_get(&t), t.length, "job.txt", &d, why));
    size_t all = strlen(d.first->rest);
    record_done(&d);
    base_text_addf(&t, "\n    %.*s", (int)(1000 - all - 1), words_by_hundreds);
    ck_ok(record_read(base_text_get(&t), t.length, "job.txt", &d, why));
    ck_assert_uint_eq(strlen(d.first->rest), 1000);
    record_done(&d);
    base_text_add(&t, "\n    \"");
    ck_assert_int_eq(record_read(base_text_get(&t), t.length, "job.txt", &d, &refused), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(refused.message, "1000 bytes"));
    ck_assert_int_eq(refused.line, 21);
    ck_assert_int_eq(refused.start, 4);
    base_text_done(&t);
}
END_TEST

START_TEST(a_zero_byte_is_a_control_character)
{
    static const char text[] = "job a\nti\0tle x\n";
    struct record_document d;
    struct base_diag why = {0};
    ck_assert_int_eq(record_read(text, sizeof text - 1, "job.txt", &d, &why), BASE_REFUSED);
    ck_assert_int_eq(why.line, 2);
    ck_assert_int_eq(why.start, 2);
}
END_TEST

/* In a line of 500 bytes a fault before the 300th is shown with the first 300 bytes, one further out with
   what stands from 100 before it on, and never from the middle of a character. */
static const struct { int at; bool umlauts; int from, shown; } far[] = {
    {0, false, 0, 300},   {299, false, 0, 300}, {300, false, 200, 300},
    {310, false, 210, 290}, {499, false, 399, 101}, {310, true, 210, 290}, {311, true, 210, 290},
};

START_TEST(a_long_line_is_shown_from_a_little_before_its_fault)
{
    char text[502];
    struct record_document doc;
    struct base_diag reason = {0};
    for (int i = 0; i < 500; i++)
        text[i] = far[_i].umlauts ? "\xc3\xa4"[i % 2] : (char)('a' + i % 26);
    text[far[_i].at] = '\t';
    if (far[_i].umlauts && far[_i].at % 2)
        text[far[_i].at - 1] = 'x';
    else if (far[_i].umlauts)
        text[far[_i].at + 1] = 'x';
    strcpy(text + 500, "\n");
    ck_assert_int_eq(record_read(text, 501, "x.txt", &doc, &reason), BASE_REFUSED);
    ck_assert_int_eq(reason.start, far[_i].at - far[_i].from);
    ck_assert_int_eq(reason.length, 1);
    ck_assert_uint_eq(strlen(reason.source), (size_t)far[_i].shown);
    ck_assert_int_eq(strncmp(reason.source, text + far[_i].from, (size_t)far[_i].shown), 0);
}
END_TEST

/* The mark lies inside the text that is shown, also far out in a long line. */
START_TEST(a_fault_far_out_in_a_line_is_still_shown)
{
    char text[900];
    struct record_document d;
    struct base_diag why = {0};
    memset(text, 'x', sizeof text);
    memcpy(text, "help ", 5);
    text[800] = '\t';
    ck_assert_int_eq(record_read(text, sizeof text, "job.txt", &d, &why), BASE_REFUSED);
    ck_assert_int_lt(why.start, (int)strlen(why.source));
    ck_assert_int_eq(why.source[why.start], '\t');
}
END_TEST

/* ---- asking ----------------------------------------------------------------------------------------- */

START_TEST(repeated_lines_are_joined_by_a_blank)
{
    struct record_document d = read_or_fail(
        "kind plate\n  help A flat plate.\n  title x\n  help Top first.\n  note\n");
    struct base_arena a = {0};
    ck_assert_str_eq(record_joined(d.first, "help", &a), "A flat plate. Top first.");
    ck_assert_str_eq(record_joined(d.first, "note", &a), "");
    ck_assert_ptr_null(record_joined(d.first, "caution", &a));
    ck_assert_ptr_null(record_find(d.first, "caution"));
    ck_assert_str_eq(record_text(d.first, "caution", "none"), "none");
    ck_assert_str_eq(record_text(d.first, "help", ""), "A flat plate.");
    base_arena_done(&a);
    record_done(&d);
}
END_TEST

static const struct { const char *text, *word, *rest;
} words[] = {
    {"six on die_plate", "six", "on die_plate"},
    {"  six   on", "six", "on"},
    {"six", "six", ""},
    {"", "", ""},
    {"   ", "", ""},
    {"a_long_word_is_cut x", "a_long_word", "x"},
};

START_TEST(the_first_word_is_split_off)
{
    char buf[12];
    ck_assert_str_eq(record_word(words[_i].text, buf, sizeof buf), words[_i].rest);
    ck_assert_str_eq(buf, words[_i].word);
}
END_TEST

static const struct { const char *text; bool is;
} names[] = {
    {"die_plate", true},  {"a", true},          {"a9", true},         {"", false},
    {"9a", false},        {"_a", false},        {"Die", false},       {"dIe", false},
    {"die-plate", false}, {"die plate", false}, {"die.plate", false}, {"d\xc3\xbc", false},
};

START_TEST(a_name_is_small_letters_digits_and_underscores)
{
    ck_assert_msg(record_is_name(names[_i].text) == names[_i].is, "\"%s\"", names[_i].text);
}
END_TEST

/* ---- writing ------------------------------------------------------------------------------------------ */

static void write_all(const struct record *r, int level, struct base_text *out)
{
    for (; r; r = r->next) {
        record_write(out, level, r->key, false, *r->rest ? r->rest : NULL);
        write_all(r->child, level + 1, out);
    }
}

static char *written(const struct record_document *d)
{
    struct base_text t = {0};
    write_all(d->first, 0, &t);
    return base_text_take(&t);
}

START_TEST(a_line_is_written_at_its_level)
{
    struct base_text t = {0};
    record_write(&t, 0, "plate", false, "die_plate");
    record_write(&t, 1, "thickness", true, "30 mm");
    record_write(&t, 2, "reason", false, "\"stock\"");
    record_write(&t, 1, "lay", false, NULL);
    record_write(&t, 4, "x", true, "usual");
    ck_assert_str_eq(
        base_text_get(&t),
        "plate die_plate\n  thickness = 30 mm\n    reason \"stock\"\n  lay\n        x = usual\n");
    base_text_done(&t);
}
END_TEST

START_TEST(what_is_written_reads_back_as_the_same_bytes)
{
    struct record_document d = read_or_fail(job);
    char *once = written(&d);
    record_done(&d);
    d = read_or_fail(once);
    char *twice = written(&d);
    ck_assert_str_eq(once, twice);
    ck_assert_ptr_null(strstr(once, "comment"));
    record_done(&d);
    free(once);
    free(twice);
}
END_TEST

static size_t indent_of(const char *line) { return strspn(line, " "); }

/* Lines that go on with the one before stand behind it. */
START_TEST(the_shipped_texts_come_back_line_by_line)
{
    static const char *const files[] = {"data/handbook/20-factors.txt", "data/handbook/60-kinds-set.txt",
                                        "data/demo/cover-plate.txt"};
    char *text = read_text(files[_i]);
    struct record_document d = read_or_fail(text);
    char *out = written(&d), *p = out;
    size_t last = 0;
    for (char *line = strtok(text, "\n"); line; line = strtok(NULL, "\n")) {
        if (line[indent_of(line)] == '\0' || line[indent_of(line)] == '#')
            continue;
        bool on = indent_of(line) > last + 2;
        const char *wanted = on ? line + indent_of(line) : line;
        size_t n = strlen(wanted);
        if (p > out)
            ck_assert_int_eq(*p++, on ? ' ' : '\n');
        ck_assert_msg(strncmp(p, wanted, n) == 0, "%s: \"%s\"", files[_i], line);
        p += n;
        last = on ? last : indent_of(line);
    }
    ck_assert_str_eq(p, "\n");
    record_done(&d);
    free(out);
    free(text);
}
END_TEST

/* --- chance --------------------------------------------------------------------------------------------- */

static unsigned next(uint64_t *state)
{
    *state = *state * 6364136223846793005u + 1442695040888963407u;
    return (unsigned)(*state >> 33);
}

/* Texts of likely and unlikely bytes: each is read and comes back the same when written, or is refused in
   words. */
START_TEST(texts_by_chance_are_read_or_refused)
{
    static const char *const bits[] = {"  ",   "    ",    "\n",   "key", " rest", "#", "\t",   "\xc3\xa4",
                                       "\xc3", " = 5 mm", "\r\n", "-",   "_",     "9", "\001", "\n\n"};
    uint64_t state = (uint64_t)_i * 7919 + 1;
    int read = 0;
    for (int i = 0; i < 4000; i++) {
        struct base_text t = {0};
        unsigned choice = i % 2 ? 6 : COUNT_OF(bits);
        for (unsigned n = next(&state) % 24; n; n--)
            base_text_add(&t, bits[next(&state) % choice]);
        struct record_document d;
        struct base_diag why = {0};
        if (record_read(base_text_get(&t), t.length, "chance", &d, &why) == BASE_OK) {
            char *once = written(&d);
            record_done(&d);
            d = read_or_fail(once);
            char *twice = written(&d);
            ck_assert_str_eq(once, twice);
            record_done(&d);
            free(once);
            free(twice);
            read++;
        } else {
            ck_assert_int_gt(why.line, 0);
            ck_assert_int_ne(why.message[0], '\0');
        }
        base_text_done(&t);
    }
    ck_assert_int_gt(read, 400);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("record");
    TCase *t = tcase_create("reading");
    tcase_add_test(t, lines_become_records_with_key_rest_and_children);
    tcase_add_loop_test(t, a_text_without_lines_has_no_records, 0, COUNT_OF(empty));
    tcase_add_test(t, ends_of_lines_may_be_those_of_other_systems);
    tcase_add_test(t, blanks_round_the_rest_do_not_count);
    tcase_add_test(t, a_line_goes_on_in_deeper_ones);
    tcase_add_test(t, each_byte_of_a_rest_has_its_line);
    tcase_add_test(t, text_beyond_ascii_is_kept);
    tcase_add_test(t, a_line_of_a_thousand_bytes_is_read);
    suite_add_tcase(s, t);
    t = tcase_create("refusals");
    tcase_add_loop_test(t, a_fault_is_told_with_line_and_column, 0, COUNT_OF(refusals));
    tcase_add_test(t, a_line_of_more_than_a_thousand_bytes_is_refused);
    tcase_add_test(t, a_record_of_more_than_a_thousand_bytes_is_refused);
    tcase_add_test(t, a_zero_byte_is_a_control_character);
    tcase_add_test(t, a_fault_far_out_in_a_line_is_still_shown);
    tcase_add_loop_test(t, a_long_line_is_shown_from_a_little_before_its_fault, 0, COUNT_OF(far));
    suite_add_tcase(s, t);
    t = tcase_create("asking");
    tcase_add_test(t, repeated_lines_are_joined_by_a_blank);
    tcase_add_loop_test(t, the_first_word_is_split_off, 0, COUNT_OF(words));
    tcase_add_loop_test(t, a_name_is_small_letters_digits_and_underscores, 0, COUNT_OF(names));
    suite_add_tcase(s, t);
    t = tcase_create("writing");
    tcase_add_test(t, a_line_is_written_at_its_level);
    tcase_add_test(t, what_is_written_reads_back_as_the_same_bytes);
    tcase_add_loop_test(t, the_shipped_texts_come_back_line_by_line, 0, 3);
    tcase_add_loop_test(t, texts_by_chance_are_read_or_refused, 0, 4);
    suite_add_tcase(s, t);
    return run_suite(s);
}
