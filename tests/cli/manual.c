/* The manual says what the program does: commands, options and keys are those of its tables. What it shows as
 * printed is held by tests/pages. */

#include "suites.h"

#include "diewright/cli.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct bench bench;

static void open_job(void) { bench_open(&bench, "cover-plate"); }

/* A manual page without its mdoc requests and escapes: the words, blanks single. Yours to free(). */
static char *words_of(const char *page)
{
    char *text = read_text(page);
    struct base_text out = {0};
    for (const char *p = text; *p; p++) {
        bool line_start = p == text || p[-1] == '\n';
        if (line_start && *p == '.')
            p += 1 + strspn(p + 1, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz");
        if (p[0] == '\\' && p[1] == '&')
            p += 2;
        if (p[0] == '\\' && (p[1] == '-' || p[1] == 'e'))
            p++;
        bool blank = *p == ' ' || *p == '\n';
        if (!*p)
            break;
        if (!blank || (out.length && out.data[out.length - 1] != ' '))
            base_text_add_n(&out, blank ? " " : p, 1);
    }
    free(text);
    return base_text_take(&out);
}

/* Without mdoc's own words and marks between the words of a usage line, only its words count. */
static void holds_words(const char *manual, const char *text, const char *what)
{
    char *copy = base_copy(text), *rest = NULL;
    for (char *word = strtok_r(copy, " []|", &rest); word; word = strtok_r(NULL, " []|", &rest)) {
        word += strspn(word, "-");
        word[strcspn(word, ".")] = '\0';
        ck_assert_msg(strstr(manual, word) != NULL, "%s: \"%s\" does not stand in the manual", what, word);
    }
    free(copy);
}

START_TEST(the_manual_has_every_command_with_its_usage)
{
    char *page = read_text("man/diewright.1"), *words = words_of("man/diewright.1");
    struct base_text commands = {0};
    int n = 0;
    cli_commands(&commands);
    char *rest = NULL;
    for (char *line = strtok_r(commands.data, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest), n++) {
        char *name = line, *usage = strchr(name, '\t'), *help = strchr(usage + 1, '\t');
        *usage++ = *help++ = '\0';
        char *item = base_format("\n.It Cm %s", name);
        ck_assert_msg(strstr(page, item) != NULL, "the manual has no \".It Cm %s\"", name);
        holds_words(words, usage, name);
        free(item);
    }
    ck_assert_int_ge(n, 13);
    base_text_done(&commands);
    free(page);
    free(words);
}
END_TEST

START_TEST(the_manual_has_no_command_that_is_none)
{
    char *page = read_text("man/diewright.1");
    int n = 0;
    for (const char *at = page; (at = strstr(at, "\n.It Cm ")); n++) {
        char word[40];
        at += strlen("\n.It Cm ");
        snprintf(word, sizeof word, "%.*s", (int)strcspn(at, " \n"), at);
        ck_assert_msg(cli_is_command(word), "the manual speaks of a command %s", word);
    }
    ck_assert_int_gt(n, 0);
    free(page);
}
END_TEST

START_TEST(the_help_has_every_command)
{
    struct base_text help = {0}, commands = {0};
    cli_help(&help);
    cli_commands(&commands);
    char *rest = NULL;
    for (char *line = strtok_r(commands.data, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        char *what = strrchr(line, '\t') + 1;
        ck_assert_msg(strstr(base_text_get(&help), what) != NULL, "%s", what);
    }
    base_text_done(&help);
    base_text_done(&commands);
}
END_TEST

/* "keys <tab> where <tab> name <tab> what it does": the manual has name and keys in one item, and the words
   below. */
START_TEST(the_manual_has_every_key_of_the_screens)
{
    char *words = words_of("man/diewright.1");
    struct said s = bench_want(&bench, "d --keys", 0);
    char *rest = NULL;
    int n = 0;
    for (char *line = strtok_r(s.out, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest), n++) {
        char *help = strrchr(line, '\t') + 1;
        ck_assert_msg(strstr(words, help) != NULL, "the manual does not say: %s", help);
        line[strcspn(line, "\t")] = '\0';
        holds_words(words, line, help);
    }
    ck_assert_int_gt(n, 40);
    free(words);
    said_done(&s);
}
END_TEST

/* In a shell of its own, with the program of the test by its name. */
START_TEST(a_shell_completes_commands_options_jobs_and_names)
{
    static const struct { const char *typed; int at; const char *offers;
    } rows[] = {
        {"diewright sh", 1, "show|sharpening"},
        {"diewright show c", 2, "cp.diejob"},
        {"diewright show m", 2, "my job.diejob|my own"},
        {"diewright holes cp --d", 3, "--datum"},
        {"diewright set cp die_plate.thickness_", 3, "die_plate.thickness_now"},
        {"diewright plan cp lower", 3, "lower_shoe"},
        {"diewright order cp --format j", 4, "json"},
        {"diewright eval --f", 2, "--format"},
    };
    if (system("command -v bash >/dev/null") != 0)
        return; /* nothing to be completed here */
    bench_do(&bench, "mkdir -p 'my own' && touch 'my job.diejob'", 0);
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        char *line = base_format("d completion bash >c.sh && P=\"$P\" DATA=\"$DATA\" bash -c '"
                                 "diewright() { \"$P\" --data \"$DATA\" \"$@\"; }; . ./c.sh; "
                                 "COMP_WORDS=(%s); COMP_CWORD=%d; _diewright; "
                                 "IFS=\"|\"; echo \"${COMPREPLY[*]}\"'",
                                 rows[i].typed, rows[i].at);
        struct said s = bench_want(&bench, line, 0);
        ck_assert_msg(strstr(s.out, rows[i].offers) != NULL, "%s: %s", rows[i].typed, s.out);
        said_done(&s);
        free(line);
    }
}
END_TEST

static const char *const pages[] = {"man/diewright.1", "man/diewright-job.5", "man/diewright-handbook.5",
                                    "man/diewright-formula.7", "man/diewright-screens.7"};

START_TEST(a_manual_page_is_formatted_without_complaint)
{
    if (system("command -v mandoc >/dev/null") != 0)
        return; /* the page is at least there: */
    char *line = base_format("mandoc -T lint -W warning %s", pages[_i]);
    int status;
    const char *said = output_of(line, &status);
    ck_assert_msg(status == 0, "%s", said);
    free(line);
}
END_TEST

/* ---- the other pages -------------------------------------------------------------------------- */

START_TEST(the_page_on_formulas_has_every_built_in_word_and_unit)
{
    static const char *const built_in[] = {
        "if",     "min",       "max",        "abs",       "sqrt",  "sin",     "cos",
        "tan",    "atan2",     "rise_to",    "drop_to",   "whole", "rest",    "known",
        "listed", "size_over", "size_under", "size_near", "total", "largest", "smallest",
        "count",  "at_new",    "at_ground",  "usual",     "pi",
    };
    static const char *const units[] = {
        "mm",    "cm",   "m",      "um",  "in",  "ft",     "thou",       "mm2",      "in2", "mm3", "mm4",
        "N",     "kN",   "MN",     "lbf", "kgf", "ton_us", "ton_metric", "ton_long", "MPa", "GPa", "kPa",
        "Pa",    "bar",  "psi",    "ksi", "J",   "kJ",     "W",          "kW",       "kg",  "g",   "lb",
        "kg/m3", "N/mm", "lbf/in", "s",   "min", "h",      "/min",       "/s",       "deg", "rad",
    };
    char *words = words_of("man/diewright-formula.7");
    for (size_t i = 0; i < COUNT_OF(built_in); i++)
        ck_assert_msg(strstr(words, built_in[i]) != NULL, "%s", built_in[i]);
    for (size_t i = 0; i < COUNT_OF(units); i++) {
        char *alone = base_format(" %s ", units[i]), *line = base_format("d eval '2 %s'", units[i]);
        ck_assert_msg(strstr(words, alone) != NULL, "the page does not name the unit %s", units[i]);
        bench_do(&bench, line, 0);
        free(alone);
        free(line);
    }
    free(words);
}
END_TEST

TCase *manual_tests(void)
{
    TCase *t = tcase_create("manual");
    tcase_set_timeout(t, 60);
    tcase_add_unchecked_fixture(t, open_job, NULL);
    tcase_add_test(t, the_manual_has_every_command_with_its_usage);
    tcase_add_test(t, the_manual_has_no_command_that_is_none);
    tcase_add_test(t, the_help_has_every_command);
    tcase_add_test(t, the_manual_has_every_key_of_the_screens);
    tcase_add_test(t, a_shell_completes_commands_options_jobs_and_names);
    tcase_add_loop_test(t, a_manual_page_is_formatted_without_complaint, 0, COUNT_OF(pages));
    tcase_add_test(t, the_page_on_formulas_has_every_built_in_word_and_unit);
    return t;
}
