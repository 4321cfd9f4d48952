/* The card of a kind: a row for each of its items, and how the job stands with them, as the handbook's card
 * says. The sharpening card is one.
 */

#include "report/words.h"

#include <stdlib.h>

static void put_value(struct dieset *d, struct report_paper *p, const char *path)
{
    int q = dieset_find(d, path);
    if (q < 0) {
        report_text(p, NULL);
        report_text(p, NULL);
        return;
    }
    const struct dieset_quantity *x = dieset_quantity(d, q);
    struct unit_display u = unit_display(x->type.type.dim, dieset_system(d)); /* as the column's head says */
    words_value(p, d, dieset_value(d, q, DIESET_NEW), x->type.type, x->property ? x->property->decimals : -1,
                u);
}

static void put_row(struct dieset *d, const struct handbook_card *card, int item, struct report_paper *p)
{
    const char *name = dieset_item_name(d, item);
    report_text(p, name);
    for (int i = 0; i < card->n_columns; i++) {
        char *path = base_format("%s.%s", name, card->columns[i].property);
        put_value(d, p, path);
        free(path);
    }
    report_text(p, dieset_entry(d, item, "note"));
}

/* The item, two columns for each property, exact and as people read it, and the note below them. */
static void begin(const struct handbook_kind *k, struct report_paper *p)
{
    const struct handbook_card *card = &k->card;
    int n = 0;
    struct report_column *columns = base_alloc((size_t)(2 * card->n_columns + 2) * sizeof *columns);
    columns[n++] = (struct report_column){"page", "page", false};
    for (int i = 0; i < card->n_columns; i++) {
        bool right = k->properties[handbook_find_property(k, card->columns[i].property)].type.type.sort ==
                     FORMULA_NUMBER;
        columns[n++] = (struct report_column){card->columns[i].name, NULL, right};
        columns[n++] = (struct report_column){NULL, card->columns[i].heading, right};
    }
    columns[n++] = (struct report_column){"note", "", false};
    report_begin(p, columns, n);
    report_fold(p, n - 1);
    free(columns);
}

enum where { ABOVE, BELOW };

static void put_sentence(struct dieset *d, const struct handbook_template *says, int item, enum where where,
                         struct report_paper *p)
{
    struct base_text text = {0};
    dieset_say(d, says, item, &text);
    if (where == ABOVE)
        report_line_above(p, "%s", base_text_get(&text));
    else
        report_line_below(p, "%s", base_text_get(&text));
    base_text_done(&text);
}

static void put_below(struct dieset *d, const struct handbook_card *card, struct report_paper *p)
{
    for (int i = 0; i < card->n_below; i++)
        put_sentence(d, &card->below[i], -1, BELOW, p);
    for (int e = 0; e < card->n_each; e++)
        for (int i = 0; i < dieset_item_count(d); i++)
            if (dieset_item_kind(d, i) == card->each[e].kind)
                put_sentence(d, &card->each[e].says, i, BELOW, p);
}

static void put_card(struct dieset *d, int kind, struct report_paper *p)
{
    const struct handbook_kind *k = handbook_kind(dieset_handbook(d), kind);
    int rows = 0;
    begin(k, p);
    for (int i = 0; i < k->card.n_above; i++)
        put_sentence(d, &k->card.above[i], -1, ABOVE, p);
    for (int i = 0; i < dieset_item_count(d); i++)
        if (dieset_item_kind(d, i) == kind) {
            put_row(d, &k->card, i, p);
            rows++;
        }
    if (rows)
        put_below(d, &k->card, p);
    else
        report_line_below(p, "%s", k->card.none);
    words_cautions(p, d);
}

void report_card(struct dieset *d, struct report_paper *p)
{
    static const struct report_column nothing[] = {{"page", "page", false}};
    const struct handbook *h = dieset_handbook(d);
    int kind = 0;
    while (kind < handbook_kind_count(h) && !handbook_kind(h, kind)->card.n_columns)
        kind++;
    if (kind < handbook_kind_count(h)) {
        put_card(d, kind, p);
        return;
    }
    report_begin(p, nothing, COUNT_OF(nothing));
    report_line_below(p, "The handbook has no card.");
}
