/* tests/screen/cases.c - keys in, screens out: every file of tests/screen/cases is one run of the program
 *
 *     # what it shows                  lines before the first keys set the stage; all but "job" may be left
 *     out
 *     size 80x24
 *     term xterm-256color
 *     locale C.UTF-8
 *     env NO_COLOR=1
 *     option --ascii
 *     job data/demo/cover-plate.txt    the text from which the job is made; none: there is no such job yet
 *     keys Tab Down "36 mm" Enter      names of keys as the help has them; what is typed stands in quotes
 *                                      (a line of keys rests before the next one, as a person does who looks)
 *     screen                           what then stands on the screen, each row behind "|"
 *     |...
 *     looks                            and how (may be left out): b bold, r reversed, u underlined, a digit
 *     for a colour
 *     |...                             (its number; bold as well: A for 0, B for 1 ...)
 *
 * Days and times of day stand as 2026-01-02 and 12:34, whenever the test is run.
 * Keys, screen and looks may follow each other again. KEEP=1 writes the blocks anew (make goldens).
 */

#include "screen.h"

#include <glob.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "../common.h"

enum { MORE = 6 };

struct stage {
    int rows, columns;
    char *term, *locale, *option, *job;
    const char *env[MORE + 1];
    int n_env;
};

static glob_t files;

START_TEST(there_are_cases)
{
    ck_assert_uint_gt(files.gl_pathc, getenv("SCREEN") ? 0 : 10);
}
END_TEST

/* ---- a case's lines ---- */

/* TEXT's first line without its end; moves *TEXT behind it. */
static char *take_line(const char **text)
{
    size_t n = strcspn(*text, "\n");
    char *line = base_copy_n(*text, n);
    *text += n + ((*text)[n] == '\n');
    return line;
}

static const char *value_of(const char *line, const char *key)
{
    size_t n = strlen(key);
    if (strncmp(line, key, n) != 0 || (line[n] != ' ' && line[n] != '\0'))
        return NULL;
    return line + n + strspn(line + n, " ");
}

static void replace(char **at, const char *text)
{
    free(*at);
    *at = base_copy(text);
}

static void set_stage(struct stage *s, const char *line, const char *file)
{
    const char *v;
    if (*line == '\0' || *line == '#')
        return;
    if ((v = value_of(line, "size")) && sscanf(v, "%dx%d", &s->columns, &s->rows) == 2)
        return;
    if ((v = value_of(line, "term")))
        replace(&s->term, v);
    else if ((v = value_of(line, "locale")))
        replace(&s->locale, v);
    else if ((v = value_of(line, "option")))
        replace(&s->option, v);
    else if ((v = value_of(line, "job")))
        replace(&s->job, v);
    else if ((v = value_of(line, "env")) && s->n_env < MORE)
        s->env[s->n_env++] = base_copy(v);
    else
        ck_abort_msg("%s: \"%s\" is no line of a case", file, line);
}

static void stage_done(struct stage *s)
{
    free(s->term);
    free(s->locale);
    free(s->option);
    free(s->job);
    for (int i = 0; i < s->n_env; i++)
        free((char *)s->env[i]);
}

/* ---- pictures ---- */

static char look_of(struct bed_cell c)
{
    if (c.colour >= 0)
        return (char)((c.bold ? 'A' : '0') + c.colour % 10);
    return c.bold ? 'b' : c.reverse ? 'r' : c.underline ? 'u' : ' ';
}

static void add_looks_row(struct bed *b, int row, int columns, struct base_text *out)
{
    char text[512];
    int n = columns < (int)sizeof text ? columns : (int)sizeof text - 1;
    for (int x = 0; x < n; x++)
        text[x] = look_of(bed_cell(b, row, x));
    while (n > 0 && text[n - 1] == ' ')
        n--;
    text[n] = '\0';
    base_text_addf(out, "|%s\n", text);
}

/* The block as it is now, "screen" or "looks" with its rows. */
static char *picture(struct bed *b, const struct stage *s, const char *block)
{
    struct base_text out = {0};
    base_text_addf(&out, "%s\n", block);
    for (int y = 0; y < s->rows; y++)
        if (strcmp(block, "looks") == 0)
            add_looks_row(b, y, s->columns, &out);
        else
            base_text_addf(&out, "|%s\n", play_row(b, y));
    return base_text_take(&out);
}

/* ---- a run ---- */

static struct bed *raise_curtain(const struct stage *s, const char *file)
{
    ck_assert_msg(s->job, "%s: no line \"job\"", file);
    char none[1000];
    snprintf(none, sizeof none, "%s/lid", fresh_folder());
    const char *argv[] = {program(), strcmp(s->job, "none") == 0 ? none : job_from(s->job), s->option, NULL};
    struct bed *b = bed_open(&(struct bed_start){.argv = argv,
                                                 .rows = s->rows,
                                                 .columns = s->columns,
                                                 .term = s->term,
                                                 .locale = s->locale,
                                                 .more = s->env});
    bed_wait(b, s->rows < 24 || s->columns < 80 ? "diewright" : "? help");
    bed_settle(b, PLAY_RESTED_MS);
    return b;
}

/* The block as it is now; on a busy machine what should be KEPT may take a while yet. */
static char *picture_like(struct bed *b, const struct stage *s, const char *block, const char *kept)
{
    enum { TRIES = 6, MORE_MS = 250 };
    char *now = picture(b, s, block);
    for (int i = 0; i < TRIES && !getenv("KEEP") && strcmp(now, kept) != 0; i++) {
        free(now);
        bed_settle(b, MORE_MS);
        now = picture(b, s, block);
    }
    return now;
}

/* Rows behind LINE's block that stand in the file. */
static char *kept_block(const char **text, const char *block)
{
    struct base_text out = {0};
    base_text_addf(&out, "%s\n", block);
    while (**text == '|') {
        char *row = take_line(text);
        base_text_addf(&out, "%s\n", row);
        free(row);
    }
    return base_text_take(&out);
}

static void play(const char *file, const char *text, struct base_text *anew)
{
    struct stage s = {.rows = 24, .columns = 80};
    struct bed *b = NULL;
    int line_number = 0;
    const char *begin = text;
    while (*text) {
        char *line = take_line(&text);
        const char *keys = value_of(line, "keys");
        bool block = strcmp(line, "screen") == 0 || strcmp(line, "looks") == 0;
        if (!b && (keys || block))
            b = raise_curtain(&s, file);
        if (keys)
            play_keys(b, keys);
        else if (!block && (!b || *line))
            set_stage(&s, line, file);
        if (block) {
            char *kept = kept_block(&text, line), *now = picture_like(b, &s, line, kept);
            line_number = 0;
            for (const char *p = begin; p < text; p++)
                line_number += *p == '\n';
            if (!getenv("KEEP") && strcmp(now, kept) != 0)
                ck_abort_msg("%s: before line %d (KEEP=1 keeps what is now):\n%s--- it was\n%s", file,
                             line_number, now, kept);
            base_text_add(anew, now);
            free(now);
            free(kept);
        } else {
            base_text_addf(anew, "%s\n", line);
        }
        free(line);
    }
    ck_assert_msg(b, "%s has no keys and no screen", file);
    bed_close(b);
    stage_done(&s);
}

START_TEST(keys_give_the_screens_that_are_kept)
{
    const char *file = files.gl_pathv[_i];
    char *text = read_text(file);
    struct base_text anew = {0};
    play(file, text, &anew);
    if (getenv("KEEP") && strcmp(text, base_text_get(&anew)) != 0) {
        FILE *f = fopen(file, "w");
        ck_assert_ptr_nonnull(f);
        fputs(base_text_get(&anew), f);
        fclose(f);
    }
    base_text_done(&anew);
    free(text);
}
END_TEST

void add_cases(Suite *s)
{
    TCase *c = tcase_create("cases");
    const char *one = getenv("SCREEN"); /* a file's name without its folder: that one alone */
    char *wanted = base_format("tests/screen/cases/%s.txt", one ? one : "*");
    glob(wanted, 0, NULL, &files); /* none found: a test says so */
    free(wanted);
    tcase_set_timeout(c, 120);
    tcase_add_test(c, there_are_cases);
    tcase_add_loop_test(c, keys_give_the_screens_that_are_kept, 0, (int)files.gl_pathc);
    suite_add_tcase(s, c);
}
