/* One hole in the words of the shop: what is made, how large, to which fit and how deep. */

#include "report/words.h"

#include "diewright/table.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* From the face that the hole is made from to its beginning and to its end. */
double words_start(const struct report_chart *c, const struct dieset_hole *h)
{
    return h->from_top ? c->thickness - h->high : h->low;
}
double words_depth(const struct report_chart *c, const struct dieset_hole *h)
{
    return h->from_top ? c->thickness - h->low : h->high;
}

void words_number(const struct dieset *d, double mm, struct base_text *out)
{
    char buf[40];
    base_text_add(out,
                  isfinite(mm) ? unit_print_number(mm, UNIT_LENGTH, dieset_system(d), buf, sizeof buf) : "?");
}

bool words_by_outline(const struct dieset_hole *h) { return h->n_sides && !(h->length > 0); }

bool words_round(const struct dieset_hole *h)
{
    return !words_by_outline(h) && !(h->length > 0 && h->width > 0);
}

static void shape(const struct report_chart *c, const struct dieset_hole *h, struct base_text *t)
{
    bool obround = h->length > 0 && fabs(h->corner - fmin(h->length, h->width) / 2) < 1e-9;
    if (words_by_outline(h))
        base_text_add(t, " by its outline");
    if (h->length > 0 && h->width > 0) {
        base_text_add(t, obround ? " obround " : " ");
        words_number(c->d, h->length, t);
        base_text_add(t, " x ");
        words_number(c->d, h->width, t);
    }
    if (h->corner > 0 && !obround) {
        base_text_add(t, " corner ");
        words_number(c->d, h->corner, t);
    }
    if (h->turn != 0 && h->length > 0 && h->width > 0) {
        char buf[40];
        base_text_addf(t, " turned %s",
                       unit_print(h->turn, UNIT_ANGLE, dieset_system(c->d), buf, sizeof buf));
    }
}

const char *words_title(const struct dieset_hole *h)
{
    return h->spec && h->spec->title ? h->spec->title : h->operation;
}

void words_operation(const struct report_chart *c, const struct dieset_hole *h, struct base_text *t)
{
    base_text_add(t, words_title(h));
    shape(c, h, t);
    if (words_start(c, h) > 1e-6) {
        base_text_add(t, " from ");
        words_number(c->d, words_start(c, h), t);
    }
    if (h->broken)
        base_text_add(t, ", a value of it cannot be worked out");
}

static bool row_holds(const struct table_set *t, int table, int row, const char *fit, double size)
{
    const struct table_cell *name = table_cell(t, table, row, table_column(t, table, "fit")),
                            *over = table_cell(t, table, row, table_column(t, table, "over")),
                            *upto = table_cell(t, table, row, table_column(t, table, "upto"));
    const char *text = base_pool_text(table_pool(t), name->text);
    size_t n = strcspn(fit, "/");
    return strncmp(text, fit, n) == 0 && !text[n] && size > over->number + 1e-9 && size < upto->number + 1e-9;
}

bool report_limits(const struct dieset *d, const char *fit, double size, double *lower, double *upper)
{
    const struct table_set *t = dieset_tables((struct dieset *)d);
    int table = table_find(t, "fit");
    static const char *const wanted[] = {"fit", "over", "upto", "lower", "upper"};
    for (size_t i = 0; i < COUNT_OF(wanted); i++)
        if (table < 0 || table_column(t, table, wanted[i]) < 0)
            return false;
    for (int row = 0; row < table_rows(t, table); row++)
        if (row_holds(t, table, row, fit, size)) {
            *lower = table_cell(t, table, row, table_column(t, table, "lower"))->number;
            *upper = table_cell(t, table, row, table_column(t, table, "upper"))->number;
            return true;
        }
    return false;
}

static void signed_number(const struct dieset *d, double mm, struct base_text *t)
{
    char buf[40];
    struct unit_system u = dieset_system(d);
    struct unit_display shown = unit_display(UNIT_LENGTH, u);
    snprintf(buf, sizeof buf, "%+.*f", unit_is_inch(u) ? 4 : 3, mm / shown.factor);
    base_text_add(t, strspn(buf, "+-0.") == strlen(buf) ? "0" : buf);
}

void words_fit(const struct dieset *d, const char *fit, double size, struct base_text *t)
{
    double lower, upper;
    base_text_add(t, fit);
    if (!report_limits(d, fit, size, &lower, &upper))
        return;
    base_text_add(t, " ");
    signed_number(d, upper, t);
    base_text_add(t, "/");
    signed_number(d, lower, t);
}

static void size_of(const struct report_chart *c, const struct dieset_hole *h, struct base_text *t)
{
    if (*h->thread) {
        base_text_addf(t, " %s", h->thread);
        if (h->thread_depth > 0) {
            base_text_add(t, " ");
            words_number(c->d, h->thread_depth, t);
            base_text_add(t, " deep");
        }
    }
    if (words_round(h)) {
        base_text_add(t, *h->thread ? ", drill \u00d8" : " \u00d8");
        words_number(c->d, h->diameter, t);
    }
    if (*h->fit) {
        base_text_add(t, " ");
        words_fit(c->d, h->fit, words_round(h) ? h->diameter : NAN, t);
    }
}

void words_machining(const struct report_chart *c, const struct dieset_hole *h, struct base_text *t)
{
    words_operation(c, h, t);
    size_of(c, h, t);
    if (h->through) {
        base_text_add(t, ", through");
    } else {
        base_text_add(t, ", ");
        words_number(c->d, words_depth(c, h), t);
        base_text_add(t, " deep");
    }
    if (!h->from_top)
        base_text_add(t, ", from below");
    if (h->spec && h->spec->note.n_pieces) {
        struct base_text note = {0}; /* may be of conditions alone, none of which holds */
        dieset_say(c->d, &h->spec->note, h->item, &note);
        base_text_addf(t, "%s%s", note.length ? ", " : "", base_text_get(&note));
        base_text_done(&note);
    }
}

/* ---- other plates, hardening ------------------------------------------------------------- */

static bool goes_on_in(const struct report_chart *c, const struct dieset_hole *h, int plate, bool together)
{
    int first, n = dieset_plate_holes(c->d, plate, &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole o;
        dieset_hole(c->d, i, c->state, &o);
        if (o.item == h->item && fabs(o.x - h->x) < 1e-6 && fabs(o.y - h->y) < 1e-6 &&
            (!together || (o.spec && o.spec->together)))
            return true;
    }
    return false;
}

static bool hardened(const struct report_chart *c, int plate)
{
    char *path = base_format("%s.hardened", dieset_item_name(c->d, plate));
    struct formula_value v = dieset_get(c->d, path, c->state);
    free(path);
    return !v.error && v.number != 0;
}

void words_other_plates(const struct report_chart *c, const struct dieset_hole *h, bool together,
                        struct base_text *t)
{
    struct dieset_layer layers[64];
    int n = dieset_stack(c->d, c->state, layers, COUNT_OF(layers));
    const char *comma = "";
    if (h->nowhere || (together && (!(h->spec && h->spec->together) || hardened(c, c->plate))))
        return; /* nothing is reamed through hard steel */
    for (int i = 0; i < n; i++)
        if (layers[i].plate != c->plate && !(together && hardened(c, layers[i].plate)) &&
            goes_on_in(c, h, layers[i].plate, together)) {
            base_text_addf(t, "%s%s", comma, dieset_item_title(c->d, layers[i].plate));
            comma = ", ";
        }
}

const char *words_hardening(const struct report_chart *c, const struct dieset_hole *h)
{
    if (!hardened(c, c->plate))
        return "";
    return h->spec && h->spec->after_hardening ? "after hardening" : "before hardening";
}

bool report_general(const struct dieset *d, const char *class, double size, double *off)
{
    const struct table_set *t = dieset_tables((struct dieset *)d);
    int table = table_find(t, "general_tolerance");
    static const char *const wanted[] = {"kind", "class", "over", "upto", "plus_minus"};
    int column[COUNT_OF(wanted)];
    for (size_t i = 0; i < COUNT_OF(wanted); i++)
        if ((column[i] = table < 0 ? -1 : table_column(t, table, wanted[i])) < 0)
            return false;
    for (int row = 0; row < table_rows(t, table); row++) {
        const char *kind = base_pool_text(table_pool(t), table_cell(t, table, row, column[0])->text),
                   *name = base_pool_text(table_pool(t), table_cell(t, table, row, column[1])->text);
        if (strcmp(kind, "length") != 0 || strcmp(name, class) != 0 ||
            size <= table_cell(t, table, row, column[2])->number + 1e-9 ||
            size >= table_cell(t, table, row, column[3])->number + 1e-9)
            continue;
        *off = table_cell(t, table, row, column[4])->number;
        return true;
    }
    return false;
}
