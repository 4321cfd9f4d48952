/* show and set: values read, explained and changed. */

#include "cli/cli.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* NAME is a quantity or an item (all its quantities that are shown). */
static int collect(struct job *j, const char *name, int *out, int room, struct base_diag *why)
{
    struct dieset *d = job_dieset(j);
    int item = dieset_find(d, name) < 0 ? dieset_find_item(d, name) : -1, first, count = 0;
    if (item < 0)
        return dieset_named(d, name, out, why) == BASE_OK ? 1 : -1;
    for (int n = dieset_item_quantities(d, item, &first), q = first; q < first + n && count < room; q++)
        if (dieset_shown(d, q))
            out[count++] = q;
    return count;
}

enum { WHY_LINES = 60, WHY_DEPTH = 4, WHY_VALUES = 34, REACHED = 12 };

/* Label and value stand in columns; what they come from stands behind them where it fits, else on lines
   below. */
static void print_why_line(const struct job_why_line *l, bool first, int width)
{
    int indent = 2 * l->depth, label = WHY_VALUES - indent;
    struct base_text out = {0};
    char *head = base_format("%*s%-*s %12s  ", indent, "", label > 8 ? label : 8, l->label, l->value),
         *from = base_format("= %s", l->formula);
    if (l->seen) {
        base_text_addf(&out, "%s(see above)\n", head);
    } else if (l->folded) {
        base_text_addf(&out, "%s(not asked as things stand)\n", head);
    } else if (!l->formula[0]) {
        base_text_addf(&out, "%.*s\n", (int)strlen(head) - 2, head);
    } else if (strlen(head) + strlen(from) <= (size_t)width) {
        base_text_addf(&out, "%s%s\n", head, from);
    } else {
        char *before = base_format("%*s", indent + 4, "");
        base_text_addf(&out, "%.*s\n", (int)strlen(head) - 2, head);
        cli_wrap(&out, before, from, indent + 6, width);
        free(before);
    }
    const char *const becomes[] = {l->taken, l->filled, l->worked};
    for (size_t i = 0; i < COUNT_OF(becomes) && first; i++)
        if (*becomes[i] && strcmp(becomes[i], l->value) != 0) {
            free(from);
            from = base_format("= %s", becomes[i]);
            cli_wrap(&out, "    ", from, 6, width);
        }
    if ((first || l->pick[0]) && l->source[0]) {
        char *cited = base_format("%s%s%s", l->pick, l->pick[0] ? "; " : "", l->source),
             *before = base_format("%*ssource: ", indent + 4, "");
        cli_wrap(&out, before, cited, indent + 6, width);
        free(cited);
        free(before);
    }
    free(head);
    free(from);
    cli_out(&out);
}

static void print_reached(struct job *j, int q, int width)
{
    int reached[REACHED], n = job_reaches(j, q, reached, REACHED);
    struct base_text names = {0}, out = {0};
    for (int i = 0; i < n; i++)
        base_text_addf(&names, "%s%s", i ? ", " : "", dieset_quantity(job_dieset(j), reached[i])->path);
    if (n)
        cli_wrap(&out, "reaches: ", base_text_get(&names), 9, width);
    base_text_done(&names);
    cli_out(&out);
}

static void print_why(struct job *j, int q, const struct job_why_line *lines, int n, int width)
{
    struct dieset *d = job_dieset(j);
    double spare, need;
    char buf[60];
    struct unit_dim dim = dieset_quantity(d, q)->type.type.dim;
    for (int i = 0; i < n; i++)
        print_why_line(&lines[i], i == 0, width);
    if (dieset_spare(d, q, &spare, &need)) {
        cli_say(stdout, "need %s", unit_print(need, dim, dieset_system(d), buf, sizeof buf));
        cli_say(stdout, ", spare %s\n", unit_print(spare, dim, dieset_system(d), buf, sizeof buf));
    }
    print_reached(j, q, width);
    struct base_text words = {0}, out = {0};
    job_describe(j, q, &words);
    if (words.length)
        cli_wrap(&out, "", base_text_get(&words), 0, width);
    base_text_done(&words);
    cli_out(&out);
}

static void put_why(struct report_paper *p, const char *of, const struct job_why_line *lines, int n)
{
    for (int i = 0; i < n; i++) {
        report_text(p, of);
        report_number(p, lines[i].depth, 0);
        report_text(p, lines[i].label);
        report_text(p, lines[i].value);
        report_text(p, lines[i].formula);
        report_text(p, lines[i].source);
        report_text(p, lines[i].pick);
        report_text(p, lines[i].read);
    }
}

static void show_why(struct cli_call *c, struct job *j, const int *list, int n)
{
    static const struct report_column columns[] = {
        {"of", "of", false},      {"depth", "depth", true},      {"name", "name", false},
        {"value", "value", true}, {"formula", "formula", false}, {"source", "source", false},
        {"pick", "pick", false},  {"read", "read", false},
    };
    struct report_paper p;
    struct job_why_line *lines = base_alloc(WHY_LINES * sizeof *lines);
    report_begin(&p, columns, COUNT_OF(columns));
    for (int i = 0; i < n; i++) {
        int got = job_why(j, list[i], c->ground ? DIESET_GROUND : DIESET_NEW, WHY_DEPTH, lines, WHY_LINES);
        if (c->format == REPORT_TEXT)
            print_why(j, list[i], lines, got, c->options->width);
        else
            put_why(&p, dieset_quantity(job_dieset(j), list[i])->path, lines, got);
    }
    free(lines);
    if (c->format == REPORT_TEXT)
        report_done(&p);
    else
        cli_print(&p, c->format);
}

static int show(struct cli_call *c, struct job *j)
{
    struct dieset *d = job_dieset(j);
    int room = dieset_quantity_count(d), n = 0;
    int *list = base_alloc((size_t)(room + 1) * (size_t)(c->n_words + 1) * sizeof *list);
    struct base_diag why = {0};
    for (int i = 1; i < c->n_words; i++) {
        int got = collect(j, c->words[i], list + n, room, &why);
        if (got < 0) {
            free(list);
            return cli_complain(&why);
        }
        n += got;
    }
    for (int q = 0; c->n_words == 1 && q < room; q++)
        if (dieset_shown(d, q))
            list[n++] = q;
    if (c->why) {
        show_why(c, j, list, n);
    } else {
        struct report_paper p;
        report_show(d, list, n, &p);
        cli_print(&p, c->format);
    }
    free(list);
    return CLI_DONE;
}

int cli_show(struct cli_call *c)
{
    if (c->why && c->n_words == 1)
        return cli_usage(c, "Which value is to be explained? Name it behind the job.");
    return cli_with_job(c, true, show);
}

/* What an edit did: read the changes that stand behind the first words, try them, take them. */
typedef enum base_err try_changes(struct cli_call *c, struct job *j, const char *const *paths,
                                  const char *const *formulas, int n, struct base_diag *why);

static int edit(struct cli_call *c, struct job *j, int before, try_changes *try)
{
    int n = c->n_words - before, status = CLI_DONE;
    const char **paths = base_alloc((size_t)(n + 1) * sizeof *paths),
               **formulas = base_alloc((size_t)(n + 1) * sizeof *formulas);
    struct base_diag why = {0};
    for (int i = 0; i < n && status == CLI_DONE; i++)
        if (!cli_part_change(c->words[i + before], &paths[i], &formulas[i]))
            status = cli_usage(c,
                               "\"%s\" is no change: write NAME=FORMULA, or NAME= to go back to the usual.",
                               c->words[i + before]);
    for (int i = 1; i < n && status == CLI_DONE; i++)
        for (int before_it = 0; before_it < i && status == CLI_DONE; before_it++)
            if (strcmp(paths[i], paths[before_it]) == 0)
                status = cli_usage(c, "\"%s\" is given twice: once is enough.", paths[i]);
    if (status == CLI_DONE && try(c, j, paths, formulas, n, &why))
        status = cli_complain(&why);
    if (status == CLI_DONE)
        status = cli_take(c, j);
    free(paths);
    free(formulas);
    return status;
}

static enum base_err try_set(struct cli_call *c, struct job *j, const char *const *paths,
                             const char *const *formulas, int n, struct base_diag *why)
{
    (void)c;
    return job_set_many(j, paths, formulas, n, why);
}

static enum base_err try_add(struct cli_call *c, struct job *j, const char *const *paths,
                             const char *const *formulas, int n, struct base_diag *why)
{
    return job_add_with(j, c->words[1], c->words[2], -1, paths, formulas, n, why);
}

static int set(struct cli_call *c, struct job *j) { return edit(c, j, 1, try_set); }
static int add(struct cli_call *c, struct job *j) { return edit(c, j, 3, try_add); }

int cli_set(struct cli_call *c) { return cli_with_job(c, false, set); }
int cli_add(struct cli_call *c) { return cli_with_job(c, false, add); }

/* What is done to an item as a whole is told by its title: often no value moves. */
static int take_titled(struct cli_call *c, struct job *j, enum base_err tried, struct base_diag *why)
{
    if (tried || job_take(j, why))
        return cli_complain(why);
    if (c->format == REPORT_TEXT)
        cli_say(stdout, "%s.\n", job_outcome(j)->title);
    cli_tell_outcome(c, j);
    return CLI_DONE;
}

static int take_out(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    return take_titled(c, j, job_remove(j, c->words[1], &why), &why);
}

static int give_name(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    return take_titled(c, j, job_rename(j, c->words[1], c->words[2], &why), &why);
}

int cli_remove(struct cli_call *c) { return cli_with_job(c, false, take_out); }
int cli_rename(struct cli_call *c) { return cli_with_job(c, false, give_name); }

static int print_outline(struct job *j, const char *item)
{
    struct dieset *d = job_dieset(j);
    int at = dieset_find_item(d, item);
    struct base_text out = {0};
    if (at < 0) {
        cli_say(stderr, "diewright: The job has no item \"%s\".\n", item);
        return CLI_REFUSED;
    }
    for (int l = 1; l <= dieset_outline_lines(d, at); l++) {
        char *path = typed_of_line(l);
        base_text_addf(&out, "%s\n", dieset_entry(d, at, path));
        free(path);
    }
    cli_out(&out);
    return CLI_DONE;
}

static int take_outline(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    if (job_outline(j, c->words[1], (const char *const *)c->words + 2, c->n_words - 2, &why) ||
        job_take(j, &why))
        return cli_complain(&why);
    cli_tell_outcome(c, j);
    return CLI_DONE;
}

static int outline_from(struct cli_call *c, struct job *j)
{
    const struct {
        const char *what, *text;
    } asked[] = {{"unit", c->unit}, {"scale", c->scale}, {"within", c->within}, {"path", c->path}};
    struct start_outline_wish wish = {0};
    struct start_outline taken;
    struct base_text said = {0};
    struct base_diag why = {0};
    for (size_t i = 0; i < COUNT_OF(asked); i++)
        if (asked[i].text && start_outline_wish_set(&wish, asked[i].what, asked[i].text, &why))
            return cli_complain(&why);
    enum base_err err = start_outline_take(j, c->words[1], c->from, &wish, &taken, &why);
    start_outline_words(&taken, &said);
    start_outline_done(&taken);
    if (!err)
        cli_say(stderr, "%s: %s.\n", c->from, base_text_get(&said));
    base_text_done(&said);
    if (err)
        return cli_complain(&why);
    cli_tell_outcome(c, j);
    return CLI_DONE;
}

static int outline(struct cli_call *c, struct job *j)
{
    if (c->from)
        return outline_from(c, j);
    return c->n_words == 2 ? print_outline(j, c->words[1]) : take_outline(c, j);
}

int cli_outline(struct cli_call *c)
{
    if (c->from && c->n_words > 2)
        return cli_usage(c, "The outline comes from %s or from lines, not from both.", c->from);
    return cli_with_job(c, c->n_words == 2 && !c->from, outline);
}

/* Without a verb the table, with one the edit: tried alone, or taken. */
static int stations(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    struct report_paper p;
    if (c->n_words == 1) {
        report_stations(job_dieset(j), &p);
        cli_print(&p, c->format);
        return CLI_DONE;
    }
    if (job_station_words(j, (const char *const *)c->words + 1, c->n_words - 1, &why))
        return cli_complain(&why);
    if (!c->try)
        return cli_take(c, j);
    cli_tell_outcome(c, j);
    job_drop(j);
    return CLI_DONE;
}

int cli_stations(struct cli_call *c) { return cli_with_job(c, c->n_words == 1, stations); }
