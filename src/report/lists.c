/* Papers of values: show, moves, findings, order list. */

#include "report/words.h"

#include "diewright/review.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- values ----------------------------------------------------------------------- */

static const char *mark_text(enum dieset_mark m)
{
    switch (m) {
    case DIESET_FORMULA:
        return "=";
    case DIESET_PICKED:
        return "t";
    case DIESET_TYPED_OVER:
        return "^";
    case DIESET_BROKEN:
        return "x";
    case DIESET_UNUSED:
        return "-";
    case DIESET_TYPED:
    case DIESET_BLANK:
        break;
    }
    return "";
}

static bool stateful(const struct dieset_quantity *q)
{
    return q->slot[DIESET_NEW] != q->slot[DIESET_GROUND];
}

/* A long text typed in quotes stands once in the text form, as the formula: else it would widen the column of
   all values. */
static bool told_by_formula(const struct dieset_quantity *q, const char *words)
{
    enum { LONG = 16 };
    size_t n = words ? strlen(words) : 0;
    return n > LONG && q->text && q->text[0] == '"' && strncmp(q->text + 1, words, n) == 0 &&
           strcmp(q->text + 1 + n, "\"") == 0;
}

static void show_row(struct dieset *d, int quantity, enum dieset_state s, struct report_paper *p)
{
    const struct dieset_quantity *q = dieset_quantity(d, quantity);
    report_text(p, q->path);
    report_text(p, words_state(s, stateful(q)));
    struct formula_value v = dieset_value(d, quantity, s);
    struct unit_display u = words_display(d, q->type.type, v, v);
    words_value(p, d, v, q->type.type, q->property ? q->property->decimals : -1, u);
    struct report_cell *shown = &p->cells.at[p->cells.count - 1];
    if (told_by_formula(q, shown->text))
        shown->text = NULL;
    report_text(p, u.name);
    report_text(p, mark_text(dieset_mark(d, quantity)));
    report_text(p, q->text);
}

void report_show(struct dieset *d, const int *quantities, int n, struct report_paper *p)
{
    bool states = false;
    for (int i = 0; i < n; i++)
        states = states || stateful(dieset_quantity(d, quantities[i]));
    const struct report_column columns[] = {
        {"name", "name", false},       {"state", states ? "state" : NULL, false},
        {"value", NULL, true},         {NULL, "value", true},
        {"unit", "unit", false},       {NULL, "", false},
        {"formula", "formula", false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    p->exact = true;
    report_cut(p);
    for (int i = 0; i < n; i++) {
        show_row(d, quantities[i], DIESET_NEW, p);
        if (stateful(dieset_quantity(d, quantities[i])))
            show_row(d, quantities[i], DIESET_GROUND, p);
    }
}

void report_moves(struct dieset *d, const struct dieset_move *moves, int n, struct report_paper *p)
{
    bool states = false;
    for (int i = 0; i < n; i++)
        states = states || moves[i].stateful;
    const struct report_column columns[] = {
        {"name", "name", false}, {"state", states ? "state" : NULL, false},
        {"was", NULL, true},     {NULL, "was", true},
        {"is", NULL, true},      {NULL, "is", true},
        {"unit", "unit", false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    for (int i = 0; i < n; i++) {
        int quantity = dieset_find(d, moves[i].path);
        const struct handbook_property *property = quantity < 0 ? NULL
                                                                : dieset_quantity(d, quantity)->property;
        int decimals = property ? property->decimals : -1;
        report_text(p, moves[i].path);
        report_text(p, words_state(moves[i].state, moves[i].stateful));
        struct unit_display u = words_display(d, moves[i].type, moves[i].was, moves[i].is);
        words_value(p, d, moves[i].was, moves[i].type, decimals, u);
        words_value(p, d, moves[i].is, moves[i].type, decimals, u);
        report_text(p, u.name);
    }
}

/* ---- findings ------------------------------------------------------------------------ */

static const char *finding_states(enum handbook_states s)
{
    return s == HANDBOOK_NEW ? "new" : s == HANDBOOK_GROUND ? "ground" : "both";
}

/* One figure of a finding: exact, and with its unit. */
static void put_figure(struct report_paper *p, const struct dieset *d, const struct finding *f, double value)
{
    struct unit_display u = unit_display(f->type.dim, dieset_system(d));
    bool there = f->measured && f->type.sort == FORMULA_NUMBER && isfinite(value);
    char buf[64];
    report_number(p, there ? value / u.factor : NAN, u.decimals);
    report_text(p, there ? findings_print(d, f, value, buf, sizeof buf) : NULL);
}

/* "caution, by mh on 2026-11-24: worn-in stock" */
static void put_waiver(struct report_paper *p, const struct findings *all, const struct finding *f)
{
    const struct dieset *d = findings_dieset(all);
    int item = f->waiver ? dieset_find_item(d, f->waiver) : -1;
    if (item < 0) {
        struct base_text lapsed = {0};
        report_text(p, review_lapsed(all, f, &lapsed) ? base_text_get(&lapsed) : NULL);
        base_text_done(&lapsed);
        return;
    }
    const char *by = dieset_entry(d, item, "by"), *on = dieset_entry(d, item, "on"),
               *says = dieset_entry(d, item, "says");
    char *text = base_format("a %s, by %s on %.10s%s%s", handbook_grade_text(f->grade), by ? by : "somebody",
                             on ? on : "a day not told", says ? ": " : ", no reason given", says ? says : "");
    report_text(p, text);
    free(text);
}

static void finding_row(const struct findings *all, const struct finding *f, struct report_paper *p)
{
    const struct dieset *d = findings_dieset(all);
    report_text(p, f->waiver ? " ~ waived" : words_grade(f->grade));
    report_text(p, f->waiver ? "waived" : handbook_grade_text(f->grade));
    report_text(p, f->rule);
    report_text(p, f->item >= 0    ? dieset_item_name(d, f->item)
                   : f->plate >= 0 ? dieset_item_name(d, f->plate)
                                   : NULL);
    report_text(p, finding_states(f->states));
    put_figure(p, d, f, f->value);
    put_figure(p, d, f, f->limit);
    put_figure(p, d, f, f->margin);
    report_text(p, f->message);
    put_waiver(p, all, f);
    report_text(p, f->source);
    report_text(p, f->seen);
}

static const char *some(int n, const char *one, const char *many, char *buf, size_t size)
{
    snprintf(buf, size, "%d %s", n, n == 1 ? one : many);
    return buf;
}

/* Waivers whose finding is gone, or has another name since: nobody looks for them in the list. */
static void put_idle_waivers(const struct findings *f, struct report_paper *p)
{
    int n = review_waivers(f, NULL, 0);
    struct review_waiver *list = base_alloc((size_t)(n + 1) * sizeof *list);
    review_waivers(f, list, n);
    for (int i = 0; i < n; i++)
        if (!list[i].stands)
            report_line_below(
                p,
                "Waives nothing any more: %s, by %s on %.10s%s%s. There is no such finding; take the "
                "waiver out.",
                list[i].finding, *list[i].by ? list[i].by : "somebody", list[i].when,
                *list[i].says ? ": " : "", list[i].says);
    free(list);
}

void report_check(struct findings *f, struct report_paper *p)
{
    static const struct report_column columns[] = {
        {NULL, "grade", false},    {"grade", NULL, false},        {"rule", "rule", false},
        {"item", "item", false},   {"state", "state", false},     {"value", NULL, true},
        {NULL, NULL, true},        {"limit", NULL, true},         {NULL, "limit", true},
        {"margin", NULL, true},    {NULL, "margin", true},        {"message", "", false},
        {NULL, "waived: ", false}, {"source", "source: ", false}, {"read", NULL, false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    for (int c = 11; c <= 13; c++)
        report_fold(p, c);
    const struct finding *list;
    int n = findings_list(f, &list), counts[3];
    for (int i = 0; i < n; i++)
        finding_row(f, &list[i], p);
    findings_counts(f, counts);
    char faults[32], cautions[32], notes[32], waived[32] = "";
    if (findings_waived(f))
        snprintf(waived, sizeof waived, ", %d waived", findings_waived(f));
    report_line_above(p, "%s, %s, %s%s",
                      some(counts[HANDBOOK_FAULT], "fault", "faults", faults, sizeof faults),
                      some(counts[HANDBOOK_CAUTION], "caution", "cautions", cautions, sizeof cautions),
                      some(counts[HANDBOOK_NOTE], "note", "notes", notes, sizeof notes), waived);
    put_idle_waivers(f, p);
    words_unjudged(p, findings_dieset(f));
    words_general(p, findings_dieset(f));
}

/* ---- order list ------------------------------------------------------------------------ */

/* For lists that are bought by: what an order line's words lack must be read with them. */
static void put_designation(struct report_paper *p, const struct dieset_order *o)
{
    bool noted = o->note && *o->note;
    report_text(p, o->designation);
    if (!noted) {
        report_text(p, o->designation);
        return;
    }
    char *words = base_format("%s (%s)", o->designation ? o->designation : "", o->note);
    report_text(p, words);
    free(words);
}

static bool same_line(const struct dieset_order *a, const struct dieset_order *b)
{
    return strcmp(a->designation, b->designation) == 0 && strcmp(a->size, b->size) == 0 &&
           strcmp(a->material, b->material) == 0 && strcmp(a->note, b->note) == 0;
}

static void put_price(struct report_paper *p, double price)
{
    report_number(p, price, isfinite(price) ? 2 : 0);
}

/* "new", "was 4" against what was ordered; "" where nothing was, or as much. */
static void put_change(struct report_paper *p, const struct dieset_orders *before,
                       const struct dieset_order *o)
{
    const struct dieset_order *was = NULL;
    for (int i = 0; before && i < before->count && !was; i++)
        if (same_line(&before->at[i], o))
            was = &before->at[i];
    char *words = !before ? NULL
                  : !was  ? base_copy("new")
                  : was->pieces + was->spares == o->pieces + o->spares
                      ? NULL
                      : base_format("was %g", was->pieces + was->spares);
    report_text(p, words);
    free(words);
}

static void order_row(const struct dieset *d, const struct dieset_order *o, int line, double kg,
                      struct report_paper *p)
{
    double all = o->price * (o->pieces + o->spares);
    report_number(p, line, 0);
    report_number(p, o->pieces, unit_places(o->pieces, UNIT_NUMBER, dieset_system(d), -1, NAN));
    put_designation(p, o);
    report_text(p, o->size);
    report_text(p, o->material);
    report_number(p, kg, isfinite(kg) ? unit_places(kg, UNIT_MASS, dieset_system(d), -1, NAN) : 0);
    report_text(p, o->item < 0 ? NULL : dieset_item_name(d, o->item));
    report_text(p, o->hardness);
    report_text(p, o->finish);
    report_text(p, o->raw);
    report_number(p, o->spares > 0 ? o->spares : NAN, 0);
    report_text(p, o->used);
    put_price(p, o->price);
    put_price(p, all);
    report_text(p, o->wanted);
    report_text(p, *o->prices ? "the list has no such line" : o->remark);
    report_text(p, o->note);
    report_text(p, o->broken ? "a value of this line cannot be worked out; see the findings" : NULL);
}

/* What was ordered and is no longer in the list: none of it is wanted. */
static void gone_rows(struct dieset *d, const struct dieset_orders *now, const struct dieset_orders *before,
                      int line, struct report_paper *p)
{
    for (int i = 0; before && i < before->count; i++) {
        bool stands = false;
        for (int k = 0; k < now->count && !stands; k++)
            stands = same_line(&before->at[i], &now->at[k]);
        if (stands)
            continue;
        struct dieset_order gone = before->at[i];
        double was = gone.pieces + gone.spares;
        gone.pieces = gone.spares = 0;
        gone.price = NAN;
        gone.item = -1;
        order_row(d, &gone, ++line, NAN, p);
        char *words = base_format("gone, was %g", was);
        report_text(p, words);
        free(words);
    }
}

static void price_line(struct report_paper *p, double sum, int priced, int lines)
{
    if (priced)
        report_line_below(p, "total of the %d lines with a price: %.2f%s", priced, sum,
                          priced < lines ? "; the others are not in it" : "");
}

void report_order(struct dieset *d, const struct dieset_orders *before, const char *since,
                  struct report_paper *p)
{
    struct unit_display mass = unit_display(UNIT_MASS, dieset_system(d));
    char mass_heading[40], change_heading[40];
    struct dieset_orders orders;
    dieset_orders(d, &orders);
    bool spares = false, priced = false;
    for (int i = 0; i < orders.count; i++) {
        spares = spares || orders.at[i].spares > 0;
        priced = priced || isfinite(orders.at[i].price);
    }
    snprintf(mass_heading, sizeof mass_heading, "mass %s", mass.name);
    snprintf(change_heading, sizeof change_heading, "since %s", since ? since : "");
    /* the text form has a column where a line fills it, and tells the rest below the line */
    const struct report_column columns[] = {
        {"line", "line", true},
        {"quantity", "pcs", true},
        {NULL, "designation", false},
        {"designation", NULL, false},
        {"size", "size", false},
        {"material", "material", false},
        {"mass", mass_heading, true},
        {"item", NULL, false},
        {"hardness", NULL, false},
        {"finish", "finish: ", false},
        {"raw", "raw: ", false},
        {"spares", spares ? "spare" : NULL, true},
        {"used_in", NULL, false},
        {"price", priced ? "price" : NULL, true},
        {"price_all", priced ? "all" : NULL, true},
        {"wanted_by", "wanted by: ", false},
        {"remark", "remark: ", false},
        {NULL, "", false},
        {NULL, "! ", false},
        {"change", before ? change_heading : NULL, false},
    };
    static const char *const folded[] = {"finish", "raw", "wanted_by", "remark"};
    report_begin(p, columns, COUNT_OF(columns));
    for (int c = 0; c < (int)COUNT_OF(columns); c++)
        for (size_t k = 0; k < COUNT_OF(folded); k++)
            if (columns[c].name && strcmp(columns[c].name, folded[k]) == 0)
                report_fold(p, c);
    report_fold(p, COUNT_OF(columns) - 2);
    report_fold(p, COUNT_OF(columns) - 3);
    double total = 0, sum = 0;
    int open = 0, line = 0, prices = 0;
    for (int i = 0; i < orders.count; i++) {
        const struct dieset_order *o = &orders.at[i];
        double kg = o->pieces * o->mass / mass.factor; /* of the whole line */
        bool known = isfinite(kg) && kg > 0;
        total += known ? kg : 0;
        open += !known;
        prices += isfinite(o->price);
        sum += isfinite(o->price) ? o->price * (o->pieces + o->spares) : 0;
        order_row(d, o, ++line, known ? kg : NAN, p);
        put_change(p, before, o);
    }
    gone_rows(d, &orders, before, line, p);
    report_line_below(p, "total mass %.*f %s%s", mass.decimals, total, mass.name,
                      open ? ", lines without a mass not counted" : "");
    price_line(p, sum, prices, orders.count);
    dieset_orders_free(&orders);
    words_elsewhere(p, d);
}
