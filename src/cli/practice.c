/* practice: a guide step by step, a planted mistake looked for and mended, the handbook's examples as
 * exercises.
 *
 * Each call stands alone: the job is made anew in memory. Kept is only what was done, by its name.
 */

#include "cli/cli.h"

#include "diewright/practice.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static void say(struct cli_call *c, const char *first, const char *text)
{
    struct base_text out = {0};
    cli_wrap(&out, first, text, (int)strlen(first), c->options->width);
    cli_out(&out);
}

/* Lines as they are, each wrapped, further ones indented by two more. */
static void say_lines(struct cli_call *c, const char *text)
{
    struct base_text out = {0};
    while (*text) {
        size_t n = strcspn(text, "\n"), indent = strspn(text, " ");
        char *line = base_copy_n(text + indent, n - indent), *first = base_format("%*s", (int)indent, "");
        cli_wrap(&out, first, line, (int)indent + 2, c->options->width);
        free(line);
        free(first);
        text += n + (text[n] == '\n');
    }
    cli_out(&out);
}

/* ---- the list -------------------------------------------------------------------------- */

static int list_all(struct cli_call *c, const struct practice_book *b)
{
    static const struct report_column columns[] = {{"number", "", true},      {"name", "name", false},
                                                   {"level", "level", true},  {"theme", "theme", false},
                                                   {"title", "title", false}, {"done", "done", false}};
    struct report_paper p;
    struct base_map done = {0};
    practice_done_read(c->options->state, &done);
    report_begin(&p, columns, COUNT_OF(columns));
    int guides = practice_guide_count(b), n_done = 0;
    for (int i = 0; i < guides + practice_count(b); i++) {
        const struct practice_guide *g = i < guides ? practice_guide(b, i) : NULL;
        const struct practice_job *j = g ? NULL : practice_job(b, i - guides);
        bool is_done = base_map_get(&done, g ? g->name : j->name, NULL);
        n_done += is_done;
        if (g) {
            report_text(&p, NULL);
            report_text(&p, g->name);
            report_text(&p, NULL);
            report_text(&p, "guide");
        } else {
            report_number(&p, i - guides + 1, 0);
            report_text(&p, j->name);
            report_number(&p, j->level, 0);
            report_text(&p, j->theme);
        }
        report_text(&p, g ? g->title : j->title);
        report_text(&p, is_done ? "done" : "");
    }
    report_line_below(
        &p,
        "Begin here: diewright practice %s. A guide goes in steps; behind it stand sets with one "
        "mistake planted in each, easy ones first. What is changed there changes no job.",
        guides ? practice_guide(b, 0)->name : "NAME");
    report_line_below(&p, "%d of %d done.", n_done, guides + practice_count(b));
    base_map_done(&done);
    cli_print(&p, c->format);
    return CLI_DONE;
}

/* ---- a guide ------------------------------------------------------------------------------ */

static void say_step(struct cli_call *c, struct practice_walk *w, const char *first, const char *text)
{
    struct base_text out = {0};
    practice_walk_say(w, text, &out);
    say(c, first, base_text_get(&out));
    base_text_done(&out);
}

/* Step I, and what is to be typed for it here. */
static void put_step(struct cli_call *c, struct practice_walk *w, int i)
{
    const struct practice_step *s = &practice_walk_about(w)->steps[i];
    char *first = base_format("%2d  ", i + 1);
    say_step(c, w, first, s->says);
    for (int k = 0; k < s->n_does; k++)
        cli_say(stdout, "    here: '%s'\n", s->does[k]);
    free(first);
}

/* All steps as a reading: each is done as it says, so that what is seen then has its values. */
static int read_guide(struct cli_call *c, struct practice_walk *w)
{
    const struct practice_guide *g = practice_walk_about(w);
    struct base_diag why = {0};
    cli_say(stdout, "%s\n", g->title);
    say(c, "  ", g->question);
    cli_say(stdout, "  It stands on %s.\n", g->base->title);
    for (int i = 0; i < g->n_steps; i++) {
        const struct practice_step *s = &g->steps[i];
        put_step(c, w, i);
        for (int k = 0; k < s->n_does; k++)
            if (practice_walk_do(w, s->does[k], &why))
                return cli_complain(&why);
        say_step(c, w, "    -> ", s->learnt);
    }
    say(c, "source  ", g->source);
    cli_say(stdout,
            "On a terminal that opens the screens on it. Here, how far one has come:\n"
            "  diewright practice %s 'NAME=FORMULA' ...\n",
            g->name);
    return CLI_DONE;
}

/* Each change is an edit of its own, in the order in which they stand. */
static int walk_guide(struct cli_call *c, struct practice_walk *w)
{
    const struct practice_guide *g = practice_walk_about(w);
    int said = 0;
    practice_walk_look(w, "");
    for (int i = 1; i <= c->n_words; i++) {
        struct base_diag why = {0};
        for (; said < practice_walk_at(w); said++) {
            char *first = base_format("%2d done  ", said + 1);
            say_step(c, w, first, g->steps[said].learnt);
            free(first);
        }
        if (i < c->n_words && practice_walk_do(w, c->words[i], &why))
            return cli_complain(&why);
        practice_walk_look(w, "");
    }
    if (practice_walk_at(w) == g->n_steps) {
        cli_say(stdout, "All %d steps are done.\n", g->n_steps);
        practice_done_add(c->options->state, g->name);
        return CLI_DONE;
    }
    cli_say(stdout, "step %d of %d\n", practice_walk_at(w) + 1, g->n_steps);
    put_step(c, w, practice_walk_at(w));
    return CLI_OPEN;
}

static int hint_of_step(struct cli_call *c, const struct practice_guide *g)
{
    char *end;
    long n = strtol(c->hint, &end, 10);
    if (*end || n < 1 || n > g->n_steps)
        return cli_usage(c, "There is no step \"%s\": they are 1 to %d.", c->hint, g->n_steps);
    const char *hint = g->steps[n - 1].hint;
    say(c, "", hint ? hint : "That step has no hint.");
    return CLI_DONE;
}

static int guide(struct cli_call *c, struct handbook *h, struct practice_book *b, int i)
{
    struct practice_walk *w = NULL;
    struct base_diag why = {0};
    if (c->hint)
        return hint_of_step(c, practice_guide(b, i));
    if (practice_walk_begin(b, h, i, &w, &why))
        return cli_complain(&why);
    int status = c->n_words == 1 ? read_guide(c, w) : walk_guide(c, w);
    practice_walk_end(w);
    return status;
}

/* ---- one mistake -------------------------------------------------------------------------- */

static void put_question(struct cli_call *c, const struct practice_job *p)
{
    cli_say(stdout, "%s\n", p->title);
    say(c, "  ", p->question);
    cli_say(stdout, "  It stands on %s.\n", p->base->title);
    cli_say(stdout, "Say what is wrong:  diewright practice %s NAME      such as %s\n", p->name,
            "die_plate.thickness");
    cli_say(stdout, "Mend it:            diewright practice %s NAME=FORMULA\n", p->name);
    cli_say(stdout, "A hint:             diewright practice %s --hint 1\n", p->name);
}

static int give_hints(struct cli_call *c, const struct practice_job *p)
{
    char *end;
    long n = strtol(c->hint, &end, 10);
    if (*end || n < 1 || n > PRACTICE_HINTS)
        return cli_usage(c, "There is no hint \"%s\": they are 1 to %d.", c->hint, PRACTICE_HINTS);
    for (int i = 0; i < n; i++) {
        char *first = base_format("hint %d  ", i + 1);
        say(c, first, p->hints[i]);
        free(first);
    }
    return CLI_DONE;
}

static int answer(struct cli_call *c, struct practice_run *r, const char *path)
{
    struct base_text says = {0};
    bool found = practice_answer(r, path, &says) == PRACTICE_FOUND;
    say(c, "", base_text_get(&says));
    if (found)
        cli_say(stdout, "Now mend it:  diewright practice %s %s=FORMULA\n", practice_run_about(r)->name,
                path);
    base_text_done(&says);
    return found ? CLI_DONE : CLI_OPEN;
}

static void tell_mended(struct cli_call *c, const struct practice_job *p)
{
    say(c, "learnt  ", p->learnt);
    say(c, "source  ", p->source);
}

static int mend(struct cli_call *c, struct practice_run *r)
{
    int n = c->n_words - 1, status = CLI_DONE;
    struct job *j = practice_run_job(r);
    const char **paths = base_alloc((size_t)n * sizeof *paths),
               **formulas = base_alloc((size_t)n * sizeof *formulas);
    struct base_diag why = {0};
    bool found = false; /* what is wrong is among what is changed: then there is nothing more to give away */
    for (int i = 0; i < n && status == CLI_DONE; i++) {
        struct base_text says = {0};
        if (!cli_part_change(c->words[i + 1], &paths[i], &formulas[i]))
            status = cli_usage(c, "\"%s\" is no change: write NAME=FORMULA.", c->words[i + 1]);
        else
            found = practice_answer(r, paths[i], &says) == PRACTICE_FOUND || found;
        base_text_done(&says);
    }
    if (status == CLI_DONE && (job_set_many(j, paths, formulas, n, &why) || job_take(j, &why)))
        status = cli_complain(&why);
    if (status == CLI_DONE) {
        struct base_text says = {0};
        const struct job_outcome *o = job_outcome(j);
        enum practice_state state = practice_look(r, &says);
        bool mended = state == PRACTICE_MENDED, told = found || state != PRACTICE_STANDS;
        cli_tell_findings(stdout, "+", o->came, told ? o->n_came : 0);
        cli_tell_findings(stdout, "-", o->went, told ? o->n_went : 0);
        say(c, "",
            told ? base_text_get(&says)
                 : "not mended yet, and nothing that was changed is what is wrong: find it first.");
        if (mended) {
            tell_mended(c, practice_run_about(r));
            practice_done_add(c->options->state, practice_run_about(r)->name);
        }
        status = mended ? CLI_DONE : CLI_OPEN;
        base_text_done(&says);
    }
    free(paths);
    free(formulas);
    return status;
}

static int practise(struct cli_call *c, struct handbook *h, struct practice_book *b)
{
    struct base_diag why = {0};
    struct practice_run *r = NULL;
    if (c->n_words == 0)
        return c->hint ? cli_usage(c, "A hint for which practice job?") : list_all(c, b);
    int walk = practice_find_guide(b, c->words[0]);
    if (walk >= 0)
        return guide(c, h, b, walk);
    int i = practice_find(b, c->words[0], &why), status = CLI_DONE;
    if (i < 0 || practice_begin(b, h, i, &r, &why))
        return cli_complain(&why);
    if (c->hint)
        status = give_hints(c, practice_job(b, i));
    else if (c->n_words == 1)
        put_question(c, practice_job(b, i));
    else if (strchr(c->words[1], '='))
        status = mend(c, r);
    else if (c->n_words == 2)
        status = answer(c, r, c->words[1]);
    else
        status = cli_usage(c, "One value at a time is said to be wrong.");
    practice_end(r);
    return status;
}

/* ---- exercises ------------------------------------------------------------------------------ */

static int list_exercises(struct cli_call *c, struct practice_exercises *x)
{
    static const struct report_column columns[] = {{"number", "", true}, {"title", "title", false}};
    struct report_paper p;
    report_begin(&p, columns, COUNT_OF(columns));
    for (int i = 0; i < practice_exercise_count(x); i++) {
        report_number(&p, i + 1, 0);
        report_text(&p, practice_exercise_title(x, i));
    }
    report_line_below(&p, "diewright practice --exercise NUMBER puts one.");
    cli_print(&p, c->format);
    return CLI_DONE;
}

static int show_working(struct cli_call *c, struct practice_exercises *x, int i)
{
    struct base_text out = {0};
    struct base_diag why = {0};
    enum base_err err = practice_exercise_solve(x, i, &out, &why);
    say_lines(c, base_text_get(&out));
    base_text_done(&out);
    return err ? cli_complain(&why) : CLI_DONE;
}

static int show_formula(struct cli_call *c, struct practice_exercises *x, int i)
{
    struct base_text out = {0};
    struct base_diag why = {0};
    if (strcmp(c->hint, "1") != 0)
        return cli_usage(c, "There is no hint \"%s\": an exercise has one, its formula.", c->hint);
    enum base_err err = practice_exercise_hint(x, i, &out, &why);
    if (!err)
        say_lines(c, base_text_get(&out));
    base_text_done(&out);
    return err ? cli_complain(&why) : CLI_DONE;
}

/* True when it is right. */
static bool judge(struct cli_call *c, struct practice_exercises *x, int i, const char *text)
{
    struct base_text says = {0};
    bool right = practice_exercise_answer(x, i, text, &says);
    say(c, "", base_text_get(&says));
    base_text_done(&says);
    return right;
}

/* Lines from the standard input until one is right; an empty one shows the working. */
static int ask(struct cli_call *c, struct practice_exercises *x, int i)
{
    char line[400];
    struct base_text question = {0};
    struct base_diag why = {0};
    if (practice_exercise_ask(x, i, &question, &why)) {
        base_text_done(&question);
        return cli_complain(&why);
    }
    say_lines(c, base_text_get(&question));
    base_text_done(&question);
    for (;;) {
        if (isatty(STDIN_FILENO))
            cli_put(stdout, "your number, or Enter alone for the working: ");
        fflush(stdout);
        if (!fgets(line, sizeof line, stdin))
            return CLI_DONE;
        line[strcspn(line, "\r\n")] = '\0';
        bool given_up = line[strspn(line, " ")] == '\0';
        if (given_up || judge(c, x, i, line)) {
            int status = show_working(c, x, i);
            return status ? status : given_up ? CLI_OPEN : CLI_DONE;
        }
    }
}

static int exercise(struct cli_call *c, struct practice_exercises *x)
{
    if (c->n_words == 0)
        return c->hint ? cli_usage(c, "A hint for which exercise?") : list_exercises(c, x);
    char *end;
    long n = strtol(c->words[0], &end, 10);
    if (*end || n < 1 || n > practice_exercise_count(x))
        return cli_usage(c, "There is no exercise \"%s\": they are 1 to %d.", c->words[0],
                         practice_exercise_count(x));
    if (c->hint)
        return show_formula(c, x, (int)n - 1);
    if (c->n_words == 1)
        return ask(c, x, (int)n - 1);
    struct base_text text = {0};
    for (int i = 1; i < c->n_words; i++)
        base_text_addf(&text, "%s%s", i > 1 ? " " : "", c->words[i]);
    bool right = judge(c, x, (int)n - 1, base_text_get(&text));
    base_text_done(&text);
    int status = right ? show_working(c, x, (int)n - 1) : CLI_DONE;
    return status ? status : right ? CLI_DONE : CLI_OPEN;
}

int cli_practice(struct cli_call *c)
{
    int status;
    struct handbook *h = cli_handbook(c, &status);
    struct practice_book *b = NULL;
    struct base_diag why = {0};
    if (h && c->exercise) {
        struct practice_exercises *x = practice_exercises_new(h, c->options->data);
        status = exercise(c, x);
        practice_exercises_free(x);
    } else if (h) {
        status = practice_load(c->options->data, &b, &why) ? cli_complain(&why) : practise(c, h, b);
    }
    practice_free(b);
    handbook_free(h);
    return status;
}
