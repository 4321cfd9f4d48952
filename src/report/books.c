/* Papers of the handbook: parts tables and worked examples. */

#include "report/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

/* ---- parts ------------------------------------------------------------------------- */

/* A column's name with its unit at the end, as parts tables write it. */
static char *unit_column(const struct table_column_spec *c, struct base_arena *arena)
{
    static const struct { const char *unit, *suffix; } words[] = {
        {"N/mm", "n_per_mm"}, {"kg/m3", "kg_m3"}, {"N/mm2", "MPa"}, {"%", "pct"}, {"/min", "per_min"},
    };
    const char *suffix = c->is_text ? "" : unit_display(c->dim, UNIT_METRIC).name;
    for (size_t i = 0; i < COUNT_OF(words); i++)
        if (strcmp(words[i].unit, suffix) == 0)
            suffix = words[i].suffix;
    return base_arena_format(arena, "%s%s%s", c->name, *suffix ? "_" : "", suffix);
}

static void put_part(struct report_paper *p, const struct table_set *t, const struct table_cell *cell,
                     const struct table_column_spec *c)
{
    if (cell->empty) {
        report_text(p, NULL);
    } else if (c->is_text) {
        report_text(p, base_pool_text(table_pool(t), cell->text));
    } else {
        struct unit_display u = unit_display(c->dim, UNIT_METRIC);
        double number = cell->number / u.factor;
        int decimals = 0; /* as many as the figure has, to 4 */
        while (decimals < 4 && fabs(number * pow(10, decimals) - round(number * pow(10, decimals))) >
                                   1e-6 * pow(10, decimals))
            decimals++;
        report_number(p, number, decimals);
    }
}

static void list_tables(const struct table_set *t, struct report_paper *p)
{
    static const struct report_column columns[] = {
        {"table", "table", false}, {"rows", "rows", true}, {"standard", "standard", false},
        {"confidence", "confidence", false}, {"help", "help", false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    report_cut(p);
    for (int i = 0; i < table_count(t); i++) {
        report_text(p, table_spec(t, i)->name);
        report_number(p, table_rows(t, i), 0);
        report_text(p, table_standard(t, i));
        report_text(p, table_confidence_text(table_worst_confidence(t, i)));
        report_text(p, table_spec(t, i)->help);
    }
}

static void list_rows(const struct table_set *t, int table, struct report_paper *p)
{
    const struct table_spec *spec = table_spec(t, table);
    struct base_arena names = {0};
    int n = spec->n_columns;
    struct report_column *columns = base_arena_alloc(&names, (size_t)(n + 3) * sizeof *columns);
    for (int c = 0; c < n; c++) {
        const char *name = unit_column(&spec->columns[c], &names);
        columns[c] = (struct report_column){name, name, !spec->columns[c].is_text};
    }
    columns[n] = (struct report_column){"confidence", "confidence", false};
    columns[n + 1] = (struct report_column){"standard", "standard", false};
    columns[n + 2] = (struct report_column){"source", "source", false};
    report_begin(p, columns, n + 3);
    report_cut(p);
    base_arena_done(&names);
    report_line_above(p, "%s%s%s", spec->name, spec->help ? ": " : "", spec->help ? spec->help : "");
    if (*table_title(t, table))
        report_line_above(p, "%s.", table_title(t, table));
    if (*table_note(t, table))
        report_line_above(p, "%s", table_note(t, table));
    for (int r = 0; r < table_rows(t, table); r++) {
        for (int c = 0; c < n; c++)
            put_part(p, t, table_cell(t, table, r, c), &spec->columns[c]);
        report_text(p, table_confidence_text(table_row_confidence(t, table, r)));
        report_text(p, table_row_standard(t, table, r));
        report_text(p, table_row_source(t, table, r));
    }
}

void report_parts(const struct table_set *t, int table, struct report_paper *p)
{
    if (table < 0)
        list_tables(t, p);
    else
        list_rows(t, table, p);
}

/* ---- sources ---------------------------------------------------------------------------- */

void report_sources(const struct handbook *h, struct report_paper *p)
{
    static const struct report_column columns[] = {
        {"class", "class", false},       {"source", "source", false}, {"cited", "cited", true},
        {"memory", "from memory", true}, {"leans", "", false},
    };
    struct base_text text = {0};
    report_begin(p, columns, COUNT_OF(columns));
    report_fold(p, COUNT_OF(columns) - 1);
    for (int i = 0; i < handbook_cited_count(h); i++) {
        const struct handbook_cited *c = handbook_cited(h, i);
        bool class_says_it = strcmp(c->work, handbook_class_text(c->class)) == 0;
        base_text_clear(&text);
        handbook_cited_leans(h, c, &text);
        report_text(p, handbook_class_text(c->class));
        report_text(p, class_says_it ? "" : c->work);
        report_number(p, c->times, 0);
        report_number(p, c->memory, 0);
        report_text(p, base_text_get(&text));
    }
    base_text_clear(&text);
    handbook_sources_sum(h, &text);
    report_line_below(p, "%s", base_text_get(&text));
    base_text_done(&text);
}

/* ---- worked examples ------------------------------------------------------------------ */

static const char *try_words(const struct handbook *h, const struct formula_tree *tree,
                             const struct formula_type *want, char *buf, size_t size)
{
    struct formula_value v;
    struct formula_type t;
    struct base_diag why = {0};
    if (!tree || handbook_eval_tree(h, tree, want, &v, &t, &why) != BASE_OK)
        return NULL;
    return handbook_print(h, v, t, UNIT_METRIC, buf, size);
}

static bool example_row(const struct handbook *h, const struct handbook_example *e,
                        const struct handbook_try *t, struct report_paper *p)
{
    struct formula_value got = {0};
    struct formula_type type = {0};
    double expected = 0;
    bool agrees = handbook_try_run(h, t, &got, &expected, &type);
    char buf[200];
    report_text(p, e->name);
    report_text(p, formula_text(t->tree));
    report_text(p, handbook_print(h, got, type, UNIT_METRIC, buf, sizeof buf));
    report_text(p, e->printed ? e->printed : formula_text(t->expect));
    report_text(p, try_words(h, t->within, &type, buf, sizeof buf));
    report_text(p, t->disagrees
                       ? (agrees ? "differs, a slip in the source" : "no: agrees with a slip in the source")
                   : agrees ? "yes"
                            : "no");
    report_text(p, e->source);
    report_text(p, e->seen);
    return agrees;
}

void report_examples(const struct handbook *h, struct report_paper *p, int *failed)
{
    static const struct report_column columns[] = {
        {"example", "example", false}, {"tried", "tried: ", false}, {"computed", "computed", true},
        {"printed", "printed", false}, {"within", "within", true},  {"agrees", "agrees", false},
        {"source", "source: ", false}, {"read", NULL, false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    report_fold(p, 1);
    report_fold(p, 6);
    int tries = 0;
    *failed = 0;
    for (int i = 0; i < handbook_example_count(h); i++) {
        const struct handbook_example *e = handbook_example(h, i);
        for (int k = 0; k < e->n_tries && !e->like; k++, tries++)
            *failed += !example_row(h, e, &e->tries[k], p);
    }
    report_line_below(p, "%d tried, %d do not agree", tries, *failed);
}
