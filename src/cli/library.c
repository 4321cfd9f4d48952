/* eval, handbook, parts: the calculator and the books on the shelf. */

#include "cli/cli.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- eval -------------------------------------------------------------------------- */

static const struct report_column eval_columns[] = {{"value", "value", true},
                                                    {"unit", "unit", false},
                                                    {"text", "text", false}};

static void print_value(struct cli_call *c, struct handbook *h, struct formula_value v, struct formula_type t)
{
    char text[200], powers[80];
    struct unit_display u = unit_display(t.dim, UNIT_METRIC);
    if (!*u.name)
        u.name = unit_powers(t.dim, powers, sizeof powers);
    bool number = t.sort == FORMULA_NUMBER;
    handbook_print(h, v, t, UNIT_METRIC, text, sizeof text);
    if (c->format == REPORT_TEXT) {
        if (number)
            cli_say(stdout, "%.12g%s%s\n", v.number / u.factor == 0 ? 0 : v.number / u.factor,
                    *u.name ? " " : "", u.name);
        else
            cli_say(stdout, "%s\n", text);
        return;
    }
    struct report_paper p;
    report_begin(&p, eval_columns, COUNT_OF(eval_columns));
    report_number(&p, number ? v.number / u.factor : NAN, -1);
    report_text(&p, number ? u.name : "");
    report_text(&p, text);
    cli_print(&p, c->format);
}

int cli_eval(struct cli_call *c)
{
    struct base_text text = {0};
    for (int i = 0; i < c->n_words; i++)
        base_text_addf(&text, "%s%s", i ? " " : "", c->words[i]);
    int status;
    struct handbook *h = cli_handbook(c, &status);
    struct formula_value v;
    struct formula_type t;
    struct base_diag why = {0};
    if (h && handbook_eval(h, base_text_get(&text), &v, &t, &why))
        status = cli_complain(&why);
    else if (h && v.error) {
        cli_say(stderr, "diewright: This has no value: %s.\n", formula_error_text(v.error));
        status = CLI_REFUSED;
    } else if (h)
        print_value(c, h, v, t);
    handbook_free(h);
    base_text_done(&text);
    return status;
}

/* ---- handbook ------------------------------------------------------------------------ */

static const struct report_column look_columns[] = {
    {"what", "what", false}, {"name", "name", false},     {"text", "text", false},
    {"help", "help", false}, {"source", "source", false}, {"read", "read", false},
};

/* What a look-up gathers: entries that are called WORD, then those whose name, title or help hold it; all
 * when WORD is "". */
struct look {
    const char *word;
    bool called; /* those that are called so, at present; else the others */
    int width;
    bool as_paper; /* rows of a paper, else printed as entries */
    struct report_paper paper;
    int found;
    bool deferred; /* the cautions of no kind are told already */
};

/* The same, "_" being as good as a blank. */
static bool is_called(const char *name, const char *word)
{
    while (*name && (tolower((unsigned char)*name) == tolower((unsigned char)*word) ||
                     (strchr("_ ", *name) && *word && strchr("_ ", *word))))
        name++, word++;
    return !*name && !*word;
}

static bool holds(const struct look *l, const char *name, const char *title, const char *help)
{
    if (l->called || is_called(name, l->word))
        return l->called && is_called(name, l->word);
    return strcasestr(name, l->word) || (title && strcasestr(title, l->word)) ||
           (help && strcasestr(help, l->word));
}

static void entry(struct look *l, const char *what, const char *name, const char *text, const char *help,
                  const char *source, const char *seen)
{
    l->found++;
    if (l->as_paper) {
        report_text(&l->paper, what);
        report_text(&l->paper, name);
        report_text(&l->paper, text + strspn(text, " ="));
        report_text(&l->paper, help);
        report_text(&l->paper, source);
        report_text(&l->paper, seen);
        return;
    }
    enum { INDENT = 10 };
    struct base_text out = {0};
    char *head = base_format("%s%s", name, text), *first = base_format("%-*s", INDENT, what),
         *cited = base_format("source: %s", source ? source : "");
    cli_wrap(&out, first, head, INDENT, l->width);
    if (help)
        cli_wrap(&out, "          ", help, INDENT, l->width);
    if (source)
        cli_wrap(&out, "          ", cited, INDENT, l->width);
    free(head);
    free(first);
    free(cited);
    cli_out(&out);
}

static const char *dim_name(const struct handbook *h, struct formula_type t, char *buf, size_t size)
{
    return handbook_type_name(h, (struct handbook_type){HANDBOOK_NUMBER, t}, buf, size);
}

/* "(cut: length, share: number = stripping_share) = half * share, where half = cut / 2" */
static void function_text(struct handbook *h, const struct handbook_function *f, struct base_text *out)
{
    char name[60];
    base_text_add(out, "(");
    for (int i = 0; i < f->f.n_parameters; i++) {
        const struct formula_parameter *a = &f->f.parameters[i];
        const char *type = a->type.sort == FORMULA_NUMBER ? dim_name(h, a->type, name, sizeof name)
                           : a->type.sort == FORMULA_ITEM && a->type.kind >= 0
                               ? handbook_kind(h, a->type.kind)->name
                               : "text";
        base_text_addf(out, "%s%s: %s", i ? ", " : "", a->name, type);
        if (a->usual)
            base_text_addf(out, " = %s", formula_text(a->usual));
    }
    base_text_addf(out, ") = %s",
                   f->f.gives ? formula_text(f->f.gives) : dim_name(h, f->f.type, name, sizeof name));
    for (int i = 0; i < f->f.n_lets; i++)
        base_text_addf(out, "%s %s = %s", i ? "," : ", where", f->f.lets[i].name,
                       formula_text(f->f.lets[i].tree));
}

static void look_at_words(struct handbook *h, struct look *l)
{
    for (int i = 0; i < handbook_word_count(h); i++) {
        const struct handbook_word *w = handbook_word(h, i);
        if (!holds(l, w->name, w->also, w->help))
            continue;
        char *text = base_format(l->as_paper || !w->also ? "%s" : " (elsewhere: %s)", w->also ? w->also : "");
        entry(l, "word", w->name, text, w->help, w->source, w->seen);
        free(text);
    }
}

static void look_at_differences(struct handbook *h, struct look *l)
{
    for (int i = 0; i < handbook_difference_count(h); i++) {
        const struct handbook_difference *w = handbook_difference(h, i);
        struct base_text text = {0};
        handbook_difference_text(w, &text);
        if (holds(l, w->name, "differ", base_text_get(&text)))
            entry(l, "differ", w->name, "", base_text_get(&text), w->source, w->seen);
        base_text_done(&text);
    }
}

static void look_at_factors(struct handbook *h, struct look *l)
{
    for (int i = 0; i < handbook_factor_count(h); i++) {
        const struct handbook_factor *f = handbook_factor(h, i);
        if (!holds(l, f->name, f->title, f->help))
            continue;
        char *text = base_format("%s%s", f->tree ? " = " : "", f->tree ? formula_text(f->tree) : "");
        entry(l, "factor", f->name, text, f->help, f->source, f->seen);
        free(text);
    }
}

static void look_at_functions(struct handbook *h, struct look *l)
{
    for (int i = 0; i < handbook_function_count(h); i++) {
        const struct handbook_function *f = handbook_function(h, i);
        if (!holds(l, f->f.name, NULL, f->help))
            continue;
        struct base_text text = {0};
        function_text(h, f, &text);
        entry(l, "function", f->f.name, base_text_get(&text), f->help, f->source, f->seen);
        base_text_done(&text);
    }
}

static void tell_caution(struct look *l, const char *of, const struct handbook_caution *c)
{
    entry(l, "caution", of, "", c->text, c->source, c->seen);
}

/* Before the first that is told of a kind: those that hold with every one. */
static void defer(struct handbook *h, struct look *l)
{
    for (int i = 0; i < handbook_caution_count(h) && !l->deferred; i++)
        tell_caution(l, "wherever work can hurt", handbook_caution(h, i));
    l->deferred = true;
}

static bool tells_of(const struct look *l, const struct handbook_property *p)
{
    return p->how != HANDBOOK_LET && holds(l, p->name, p->title, NULL);
}

static void tell_value(struct handbook *h, struct look *l, const struct handbook_kind *k,
                       const struct handbook_property *p)
{
    char type[60];
    char *name = base_format("%s.%s", k->name, p->name),
         *text = base_format(": %s", handbook_type_name(h, p->type, type, sizeof type));
    entry(l, "value", name, text, p->help, p->source, p->seen);
    free(name);
    free(text);
}

/* Values that are called so, or whose names hold the word; where more kinds have it than one reads, which. */
static void look_at_values(struct handbook *h, struct look *l)
{
    enum { READ = 8 };
    struct base_text kinds = {0};
    int n = 0;
    for (int round = 0; round < 2; round++)
        for (int k = 0; k < handbook_kind_count(h) && *l->word; k++)
            for (int i = 0; i < handbook_kind(h, k)->n_properties; i++) {
                const struct handbook_property *p = &handbook_kind(h, k)->properties[i];
                if (!tells_of(l, p))
                    continue;
                if (!round)
                    base_text_addf(&kinds, "%s%s.%s", n++ ? ", " : ": ", handbook_kind(h, k)->name, p->name);
                else if (n <= READ)
                    tell_value(h, l, handbook_kind(h, k), p);
            }
    if (n > READ)
        entry(l, "values", l->word, base_text_get(&kinds), NULL, NULL, NULL);
    base_text_done(&kinds);
}

/* A kind, or cautions of it that speak of the word. */
static void look_at_kind(struct handbook *h, struct look *l, const struct handbook_kind *k)
{
    bool whole = holds(l, k->name, k->title, k->help);
    if (!l->called && is_called(k->name, l->word)) /* told whole */
        return;
    if (whole && k->n_cautions)
        defer(h, l);
    if (whole)
        entry(l, "kind", k->name, "", k->help, NULL, NULL);
    for (int i = 0; i < k->n_cautions; i++)
        if (whole || holds(l, "caution", NULL, k->cautions[i].text)) {
            defer(h, l);
            tell_caution(l, k->name, &k->cautions[i]);
        }
}

/* With the measures that it is laid out by. */
static void look_at_pattern(struct look *l, const struct handbook_pattern *p)
{
    struct base_text measures = {0};
    if (!holds(l, p->name, p->title, p->help))
        return;
    for (int i = 0; i < p->n_takes; i++)
        base_text_addf(&measures, "%s%s%s%s", i ? "; " : ": ", p->takes[i].name,
                       p->takes[i].title && strcmp(p->takes[i].title, p->takes[i].name) ? ", " : "",
                       p->takes[i].title && strcmp(p->takes[i].title, p->takes[i].name) ? p->takes[i].title
                                                                                        : "");
    entry(l, "pattern", p->name, base_text_get(&measures), p->help, NULL, NULL);
    base_text_done(&measures);
}

static void look_at_rules(struct handbook *h, struct look *l)
{
    for (int i = 0; i < handbook_rule_count(h); i++) {
        const struct handbook_rule *r = handbook_rule(h, i);
        if (!holds(l, r->name, r->title, r->help))
            continue;
        char *text = base_format("%s%s", r->value ? " judges " : "", r->value ? formula_text(r->value) : "");
        entry(l, "rule", r->name, text, r->help, r->source, r->seen);
        free(text);
    }
    for (int i = 0; i < handbook_caution_count(h); i++)
        if (holds(l, "caution", NULL, handbook_caution(h, i)->text))
            defer(h, l);
    for (int i = 0; i < handbook_kind_count(h); i++)
        look_at_kind(h, l, handbook_kind(h, i));
    for (int i = 0; i < handbook_pattern_count(h); i++)
        look_at_pattern(l, handbook_pattern(h, i));
    look_at_values(h, l);
}

static int no_entry(struct handbook *h, const char *word)
{
    struct base_text near = {0};
    int n = 0, room = handbook_function_count(h) + handbook_factor_count(h) + handbook_word_count(h);
    const char **names = base_alloc((size_t)(room + 1) * sizeof *names);
    for (int i = 0; i < handbook_function_count(h); i++)
        names[n++] = handbook_function(h, i)->f.name;
    for (int i = 0; i < handbook_factor_count(h); i++)
        names[n++] = handbook_factor(h, i)->name;
    for (int i = 0; i < handbook_word_count(h); i++)
        names[n++] = handbook_word(h, i)->name;
    base_nearest(&near, word, names, (size_t)n);
    cli_say(stderr, "diewright: The handbook does not speak of \"%s\"%s%s.\n", word,
            near.length ? "; near it: " : "", base_text_get(&near));
    base_text_done(&near);
    free(names);
    return CLI_REFUSED;
}

int cli_look_up(struct cli_call *c, struct handbook *h)
{
    struct look l = {.word = c->n_words ? c->words[0] : "",
                     .width = c->options->width,
                     .as_paper = c->format != REPORT_TEXT};
    report_begin(&l.paper, look_columns, COUNT_OF(look_columns));
    for (int others = *l.word == '\0'; others < 2; others++) {
        l.called = !others;
        look_at_words(h, &l);
        if (c->only_words)
            continue;
        look_at_differences(h, &l);
        look_at_factors(h, &l);
        look_at_functions(h, &l);
        look_at_rules(h, &l);
    }
    if (l.as_paper && l.found)
        cli_print(&l.paper, c->format);
    else
        report_done(&l.paper);
    return l.found;
}

static int work_examples(struct cli_call *c, struct handbook *h)
{
    struct report_paper p;
    struct base_diag why = {0};
    int failed = 0, tried = 0, failed_on_sets = 0;
    if (handbook_check(h, &why))
        return cli_complain(&why);
    report_examples(h, &p, &failed);
    if (cli_set_examples(c, h, &p, &tried, &failed_on_sets, &why)) {
        report_done(&p);
        return cli_complain(&why);
    }
    if (tried)
        report_line_below(&p, "%d tried on whole sets, %d do not agree", tried, failed_on_sets);
    cli_print(&p, c->format);
    failed += failed_on_sets;
    if (!failed)
        return CLI_DONE;
    cli_say(stderr, "diewright: %d worked example%s not agree.\n", failed, failed == 1 ? " does" : "s do");
    return CLI_REFUSED;
}

static int list_sources(struct cli_call *c, struct handbook *h)
{
    struct report_paper p;
    report_sources(h, &p);
    cli_print(&p, c->format);
    return CLI_DONE;
}

int cli_handbook_look(struct cli_call *c)
{
    int status;
    struct handbook *h = cli_handbook(c, &status);
    if (h && c->sources)
        status = list_sources(c, h);
    else if (h && c->examples)
        status = work_examples(c, h);
    else if (h && cli_look_up(c, h) == 0)
        status = no_entry(h, c->n_words ? c->words[0] : "");
    handbook_free(h);
    return status;
}

/* ---- parts ------------------------------------------------------------------------------ */

static int no_table(const struct table_set *set, const char *name)
{
    struct base_text near = {0};
    const char **names = base_alloc((size_t)(table_count(set) + 1) * sizeof *names);
    for (int i = 0; i < table_count(set); i++)
        names[i] = table_spec(set, i)->name;
    base_nearest(&near, name, names, (size_t)table_count(set));
    cli_say(stderr, "diewright: There is no parts table \"%s\"%s%s. To see them all: diewright parts\n", name,
            near.length ? "; near it: " : "", base_text_get(&near));
    free(names);
    base_text_done(&near);
    return CLI_REFUSED;
}

static int print_parts(struct cli_call *c, const struct table_set *set)
{
    int table = c->n_words ? table_find(set, c->words[0]) : -1;
    if (c->n_words && table < 0)
        return no_table(set, c->words[0]);
    struct report_paper p;
    report_parts(set, table, &p);
    cli_print(&p, c->format);
    return CLI_DONE;
}

/* How many rows of the table come from the item that FILE became, the newest of all. */
static void tell_rows(struct cli_call *c, struct job *j)
{
    const struct table_set *set = dieset_tables(job_dieset(j));
    int table = table_find(set, c->words[0]), n = 0;
    const char *last = NULL, *file;
    for (int row = 0; row < table_rows(set, table); row++) {
        int line;
        table_row_place(set, table, row, &file, &line);
        n = last && strcmp(last, file) == 0 ? n + 1 : 1;
        last = file;
    }
    cli_say(stderr, "%s: %d row%s of %s%s.\n", last, n, n == 1 ? "" : "s", c->words[0],
            c->try ? ", not taken" : "");
}

static int take_or_drop(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    cli_tell_outcome(c, j);
    if (!c->try)
        return job_take(j, &why) ? cli_complain(&why) : CLI_DONE;
    job_drop(j);
    return CLI_DONE;
}

static int import_rows(struct cli_call *c, struct job *j)
{
    char *csv = NULL;
    size_t length;
    struct base_diag why = {0};
    if (base_read_file(c->import, &csv, &length, &why))
        return cli_complain(&why);
    int status = job_import(j, c->words[0], c->import, csv, length, &why) ? cli_complain(&why) : CLI_DONE;
    free(csv);
    if (status != CLI_DONE)
        return status;
    tell_rows(c, j);
    return take_or_drop(c, j);
}

static void tell_renewal(void *arg, const char *file, int more, int gone)
{
    (void)arg;
    cli_say(stderr, "%s: %d row%s that the job's copy has not, %d that only the copy has.\n", file, more,
            more == 1 ? "" : "s", gone);
}

static int renew(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    if (job_renew(j, &why))
        return cli_complain(&why);
    job_renewals(j, tell_renewal, NULL);
    return take_or_drop(c, j);
}

int cli_parts(struct cli_call *c)
{
    int status;
    if (c->import && (!c->job || !c->n_words))
        return cli_usage(
            c, "Rows are imported into a table of a job: name the table, and the job behind --job.");
    if (c->refresh && (!c->job || c->n_words || c->import))
        return cli_usage(
            c, "All tables of a job are taken over at once: name the job behind --job, and nothing else.");
    if (c->try && !c->import && !c->refresh)
        return cli_usage(c, "The option --try goes with --import or --refresh.");
    struct handbook *h = cli_handbook(c, &status);
    struct job *j = h && c->job ? cli_open(c, h, c->job, !c->import && !c->refresh, &status) : NULL;
    if (h && status == CLI_DONE && c->import)
        status = import_rows(c, j);
    else if (h && status == CLI_DONE && c->refresh)
        status = renew(c, j);
    else if (h && status == CLI_DONE)
        status = print_parts(c, j ? dieset_tables(job_dieset(j)) : handbook_tables(h));
    cli_close(c, j);
    handbook_free(h);
    return status;
}
