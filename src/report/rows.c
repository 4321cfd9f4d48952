/* A paper of the handbook: row by row, as its record says. */

#include "report/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/* In data the part that a row is of stands first. */
static void begin(const struct handbook_paper *of, struct report_paper *p)
{
    struct report_column *columns = base_alloc(((size_t)of->n_columns + 1) * sizeof *columns);
    columns[0] = (struct report_column){"part", NULL, false};
    for (int i = 0; i < of->n_columns; i++)
        columns[i + 1] = (struct report_column){of->columns[i].name,
                                                of->columns[i].noted ? "" : of->columns[i].heading,
                                                of->columns[i].number || of->columns[i].counted};
    report_begin(p, columns, of->n_columns + 1);
    for (int i = 0; i < of->n_columns; i++)
        if (of->columns[i].noted)
            report_fold(p, i + 1);
    free(columns);
}

static void put_number(struct dieset *d, const struct handbook_template *cell, int item,
                       struct report_paper *p)
{
    struct formula_type type = {0};
    struct formula_value v = {.error = FORMULA_EMPTY};
    if (cell->n_pieces)
        v = dieset_run(d, cell->pieces[0].tree, item, DIESET_NEW, &type);
    struct unit_display u = unit_display(type.dim, dieset_system(d));
    double number = v.number / u.factor;
    bool unknown = cell->n_pieces && v.error && v.error != FORMULA_EMPTY;
    if (v.error)
        unknown ? report_unknown(p) : report_number(p, NAN, 0);
    else
        report_number(p, number, unit_places(number, type.dim, dieset_system(d), -1, NAN));
}

static void put_words(struct dieset *d, const struct handbook_template *cell, int item,
                      struct report_paper *p)
{
    struct base_text t = {0};
    dieset_say(d, cell, item, &t);
    while (t.length && t.data[t.length - 1] == ' ')
        t.data[--t.length] = '\0';
    report_text(p, base_text_get(&t));
    base_text_done(&t);
}

static void put_row(struct dieset *d, const struct handbook_paper *of, const struct handbook_paper_row *row,
                    int item, struct report_paper *p)
{
    int number = report_rows(p) + 1;
    report_text(p, row->part);
    for (int i = 0; i < of->n_columns; i++)
        if (of->columns[i].counted)
            report_number(p, number, 0);
        else if (of->columns[i].noted)
            report_text(p, item < 0 ? NULL : dieset_entry(d, item, "note"));
        else if (of->columns[i].number)
            put_number(d, &row->cells[i], item, p);
        else
            put_words(d, &row->cells[i], item, p);
}

/* What cannot be worked out does not leave a row out. */
static bool stands(struct dieset *d, const struct handbook_paper_row *row, int item)
{
    struct formula_type type;
    if (!row->when)
        return true;
    struct formula_value v = dieset_run(d, row->when, item, DIESET_NEW, &type);
    return v.error || v.number != 0;
}

static void sentence(struct dieset *d, const struct handbook_template *says, int item, bool above,
                     struct report_paper *p)
{
    struct base_text t = {0};
    dieset_say(d, says, item, &t);
    if (t.length)
        (above ? report_line_above : report_line_below)(p, "%s", base_text_get(&t));
    base_text_done(&t);
}

void report_told(struct dieset *d, const struct handbook_paper *of, struct report_paper *p)
{
    const char *part = NULL;
    begin(of, p);
    for (int i = 0; i < of->n_above; i++)
        sentence(d, &of->above[i], -1, true, p);
    for (int r = 0; r < of->n_rows; r++) {
        const struct handbook_paper_row *row = &of->rows[r];
        for (int i = -1; i < dieset_item_count(d); i++) {
            bool meant = row->kind < 0 ? i < 0 : i >= 0 && dieset_item_kind(d, i) == row->kind;
            if (!meant || !stands(d, row, i))
                continue;
            if (row->part && row->part != part)
                report_line_within(p, "%s", row->part);
            part = row->part;
            put_row(d, of, row, i, p);
        }
    }
    for (int k = 0; k < of->n_below; k++)
        for (int i = -1; i < dieset_item_count(d); i++)
            if (of->below[k].kind < 0 ? i < 0 : i >= 0 && dieset_item_kind(d, i) == of->below[k].kind)
                sentence(d, &of->below[k].says, i, false, p);
    if (of->cautions)
        words_cautions(p, d, of->name);
    else
        words_general(p, d);
}
