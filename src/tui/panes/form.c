/* tui/panes/form.c - the form pane: the values of the item at the cursor
 *
 *     title of the item              plate 5 of 7
 *      > thickness     40.0 mm    t            one row a value: mark, title, number on its decimal point,
 *      unit,
 *        a heading                             and where it comes from
 *      = the formula of the value at the cursor
 */

#include "tui/panes.h"

#include "tui/caution.h"
#include "tui/edits.h"
#include "tui/form.h"
#include "tui/found.h"
#include "tui/lesson.h"
#include "tui/marks.h"
#include "tui/values.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- values ---- */

static int before_point(const char *number)
{
    return (int)strcspn(number, ".");
}

/* whole: before the point; fraction: from the point on */
struct columns { int title, whole, fraction, unit, mark; };

/* Widths that the rows of this form need in AREA. */
static struct columns columns_of(struct tui *t, struct area a)
{
    /* the same places in most forms, so that labels and units stay where they are */
    struct columns c = {
        .title = 4, .whole = 4, .fraction = unit_is_inch(dieset_system(t->d)) ? 5 : 3, .unit = 2};
    for (int i = 0; i < t->form->list.n; i++) {
        char number[200], unit[40];
        int q = t->form->rows.at[i].quantity;
        if (q < 0)
            continue;
        const struct dieset_quantity *quantity = dieset_quantity(t->d, q);
        char label[200];
        int title = paint_width(form_label(t, q, label, sizeof label));
        c.title = title > c.title ? title : c.title;
        form_split(t, q, number, sizeof number, unit, sizeof unit);
        if (quantity->type.type.sort == FORMULA_NUMBER && *unit) {
            c.whole = before_point(number) > c.whole ? before_point(number) : c.whole;
            int fraction = (int)strlen(number) - before_point(number);
            c.fraction = fraction > c.fraction ? fraction : c.fraction;
            c.unit = paint_width(unit) > c.unit ? paint_width(unit) : c.unit;
        }
    }
    int most = a.w - 3 - 2 - c.whole - c.fraction - 1 - c.unit - 3;
    most = most > 18 && a.w < 44 && !t->form->page ? 18 : most < 8 ? 8 : most;
    c.title = c.title > most ? most : c.title;
    c.mark = a.w - 2;
    return c;
}

static const char *mark_of(const struct tui *t, int q, enum ink *ink)
{
    *ink = INK_PLAIN;
    switch (dieset_mark(t->d, q)) {
    case DIESET_FORMULA: return "=";
    case DIESET_PICKED: *ink = INK_STOCK; return "t";
    case DIESET_TYPED_OVER: return "^";
    case DIESET_BROKEN: *ink = INK_GRAVE; return "x";
    case DIESET_UNUSED: return "-";
    default: return " ";
    }
}

static bool is_line(const struct dieset_quantity *q)
{
    return q->entry && typed_path_read(q->entry).place == TYPED_AT_LINE;
}

/* Words begin where figures do; those that need more room begin further left, behind the title. */
static int text_at(const struct dieset_quantity *q, int label, const char *text, int at, int end)
{
    if (is_line(q))
        return 3 + 3; /* lines of an outline stand under each other */
    int least = 3 + label + 1, fits = end - paint_width(text);
    return fits >= at || at < least ? at : fits > least ? fits : least;
}

/* Draws it; the column in which it begins. */
static int draw_value(struct tui *t, struct area a, int y, int q, struct columns c)
{
    char number[200], unit[40];
    const struct dieset_quantity *quantity = dieset_quantity(t->d, q);
    struct formula_value v = dieset_value(t->d, q, t->state);
    bool moved = base_map_get(&t->found->moved, quantity->path, NULL);
    enum ink ink = moved                                              ? INK_STRONG
                   : v.error && dieset_mark(t->d, q) == DIESET_BROKEN ? INK_TROUBLE
                                                                      : INK_PLAIN;
    char label[200];
    form_split(t, q, number, sizeof number, unit, sizeof unit);
    int labelled = paint_width(form_label(t, q, label, sizeof label));
    int at = 3 + c.title + 2, end;
    bool figures = quantity->type.type.sort == FORMULA_NUMBER && !v.error;
    int x = figures ? at + c.whole - before_point(number) : text_at(quantity, labelled, number, at,
                    c.mark - 1);
    struct area part = {a.y, a.x, a.h, c.mark - 1};
    end = paint_text(&t->p, part, y, x, ink, number);
    if (moved)
        end = paint_text(&t->p, part, y, end, INK_STRONG, "?");
    int unit_at = at + c.whole + c.fraction + 1;
    if (*unit)
        end = paint_text(&t->p, part, y, end >= unit_at ? end + 1 : unit_at, INK_PLAIN, unit);
    double spare, need;
    if (!v.error && dieset_mark(t->d, q) == DIESET_PICKED && dieset_spare(t->d, q, &spare, &need) &&
        spare > 1e-9) {
        char text[240];
        unit_print_number(spare, quantity->type.type.dim, dieset_system(t->d), number, sizeof number);
        snprintf(text, sizeof text, "spare %s", number);
        if (end + 2 + paint_width(text) < part.w)
            paint_text(&t->p, part, y, end + 2, INK_DIM, text);
    }
    if (review_open_remarks(t->d, NULL, quantity->path))
        paint_text(&t->p, a, y, c.mark - 1, INK_STRONG, REVIEW_MARK);
    const char *mark = mark_of(t, q, &ink);
    paint_text(&t->p, a, y, c.mark, ink, mark);
    return *number ? x : at + c.whole;
}

static void draw_row(struct tui *t, struct area a, int y, int i, struct columns c, bool focus)
{
    const struct form_row *r = &t->form->rows.at[i];
    bool here = i == t->form->list.at;
    if (r->quantity < 0) {
        paint_text(&t->p, a, y, 2, INK_DIM, r->heading);
        return;
    }
    char label[200];
    form_label(t, r->quantity, label, sizeof label);
    int value = draw_value(t, a, y, r->quantity, c);
    struct area title = {a.y, a.x, a.h, value - 1}; /* long titles run on up to the value */
    paint_text(&t->p, title, y, 3, here && focus ? INK_HERE : here ? INK_STRONG : INK_PLAIN, label);
    if (here)
        paint_text(&t->p, a, y, 1, focus ? INK_HERE : INK_STRONG, focus ? ">" : ":");
    if (here && focus)
        tui_cursor(t, a, y, 1);
}

/* ---- the pane ---- */

/* "plate 5 of 7" */
static void place_of(const struct tui *t, int item, char *buf, size_t size)
{
    int kind = dieset_item_kind(t->d, item), n = 0, at = 0;
    const struct handbook_kind *k = kind < 0 ? NULL : handbook_kind(dieset_handbook(t->d), kind);
    buf[0] = '\0';
    if (!k)
        snprintf(buf, size, "factor, typed over");
    if (!k || k->single)
        return;
    for (int i = 0; i < dieset_item_count(t->d); i++) {
        n += dieset_item_kind(t->d, i) == kind;
        if (i == item)
            at = n;
    }
    snprintf(buf, size, "%s %d of %d", k->title, at, n);
}

static void draw_head(struct tui *t, struct area a, int item, bool focus)
{
    char place[80] = "";
    if (t->form->page) {
        tui_head(t, a, focus, "page of the job", "");
        return;
    }
    if (item >= 0 && marks_has(t, dieset_item_name(t->d, item)))
        snprintf(place, sizeof place, "one of %d marked", (int)t->marks->items.count);
    else if (item >= 0)
        place_of(t, item, place, sizeof place);
    tui_head(t, a, focus, item < 0 ? "nothing chosen" : dieset_item_title(t->d, item), place);
}

/* What stands behind the value at the cursor. */
static void draw_foot(struct tui *t, struct area a, int y)
{
    int q = form_quantity(t);
    if (q < 0)
        return;
    const struct dieset_quantity *quantity = dieset_quantity(t->d, q);
    if (!dieset_applies(t->d, q)) {
        paint_format(&t->p, a, y, 1, INK_DIM, "- kept, not used as the job stands: %s",
                     quantity->text ? quantity->text : "");
    } else if (quantity->typed && quantity->usual) {
        char gives[60];
        review_usual(t->d, q, gives, sizeof gives);
        paint_format(&t->p, a, y, 1, INK_DIM, "^ over %s%s%s%s%s", gives, quantity->reason ? ", " : "",
                     quantity->reason ? quantity->reason : "", *gives ? " = " : "", quantity->usual);
    } else if (quantity->text)
        paint_format(&t->p, a, y, 1, INK_DIM, "%s %s", quantity->typed ? "typed" : "=", quantity->text);
    else if (quantity->property && quantity->property->help)
        paint_text(&t->p, a, y, 1, INK_DIM, quantity->property->help);
}

/* What was let stand of the item, and is open again. */
static void lapsed_words(struct tui *t, int item, struct base_text *out)
{
    for (int i = 0; i < t->found->n; i++) {
        struct base_text lapsed = {0};
        if (t->found->findings[i].item == item &&
            review_lapsed(job_findings(t->job), &t->found->findings[i], &lapsed))
            base_text_addf(out, "%s%s %s.", out->length ? " " : "", t->found->findings[i].title,
                           base_text_get(&lapsed));
        base_text_done(&lapsed);
    }
}

/* What can hurt with the item, and what is to be stamped on the set; a press is asked what the set asks of
   it. */
static void standing_words(struct tui *t, int item, struct base_text *out)
{
    int kind = item < 0 ? -1 : dieset_item_kind(t->d, item);
    const struct handbook_kind *k = kind < 0 ? NULL : handbook_kind(dieset_handbook(t->d), kind);
    if (caution_any(t, item))
        caution_words(t, item, false, out);
    for (int i = 0; k && i < dieset_item_count(t->d); i++) {
        struct base_text stamp = {0};
        if ((i == item || (k->single && k->given)) && dieset_stamp(t->d, i, &stamp))
            base_text_addf(out, "%s%s", out->length ? " " : "", base_text_get(&stamp));
        base_text_done(&stamp);
    }
}

/* What open remarks say of the item and its values. */
static void remark_words(struct tui *t, int item, struct base_text *out)
{
    int n = item < 0 ? 0 : review_remarks(t->d, NULL, 0);
    struct review_remark *list = base_alloc((size_t)(n + 1) * sizeof *list);
    review_remarks(t->d, list, n);
    const char *name = item < 0 ? "" : dieset_item_name(t->d, item);
    size_t length = strlen(name);
    for (int i = 0; i < n; i++) {
        const struct review_remark *r = &list[i];
        bool of_it = strncmp(r->on_item, name, length) == 0 && strchr(".", r->on_item[length]);
        if (of_it && !*r->done && !*r->answers)
            base_text_addf(out, "%s" REVIEW_MARK " %s%s%s: %s", out->length ? " " : "",
                           r->on_item[length] ? r->on_item + length + 1 : "", r->on_item[length] ? ", " : "",
                           r->by, r->says);
    }
    free(list);
}

/* Those words above the foot, each in a third of the pane or what its first sentence takes; returns the
   rows. */
static int draw_standing(struct tui *t, struct area a, int item)
{
    struct base_text words = {0}, lapsed = {0}, said = {0};
    struct area above = {a.y, a.x, a.h - 1, a.w};
    standing_words(t, item, &words);
    if (words.length)
        above.h -= caution_foot(t, above, base_text_get(&words), a.h / 3, true);
    lapsed_words(t, item, &lapsed);
    if (lapsed.length)
        above.h -= caution_foot(t, above, base_text_get(&lapsed), a.h / 3, true);
    remark_words(t, item, &said);
    if (said.length)
        above.h -= caution_foot(t, above, base_text_get(&said), a.h / 3, true);
    base_text_done(&said);
    base_text_done(&words);
    base_text_done(&lapsed);
    return a.h - 1 - above.h;
}

/* An item without values, such as a list of own sizes: its texts. */
static void draw_texts(struct tui *t, struct area a, int item)
{
    const struct typed_entry *entries;
    int n = dieset_entries(t->d, item, &entries);
    for (int i = 0; i < n && i < a.h; i++) {
        bool row = typed_path_read(entries[i].path).place == TYPED_AT_ROW;
        paint_format(&t->p, a, i, 1, INK_PLAIN, "%s  %s", row ? "line" : entries[i].path, entries[i].text);
    }
    if (n > a.h)
        paint_format(&t->p, a, a.h, a.w - 9, INK_DIM, "%d more", n - a.h);
}

static void form_draw(struct tui *t, struct area a, bool focus)
{
    int item = *t->form->item ? dieset_find_item(t->d, t->form->item) : -1;
    draw_head(t, a, item, focus);
    t->form->labels_drawn = t->form->labels;
    int rows = a.h - 2 - draw_standing(t, a, item);
    if (item >= 0 && t->form->list.n == 0)
        draw_texts(t, (struct area){a.y + 1, a.x, rows, a.w}, item);
    list_fit(&t->form->list, rows);
    if (t->form->list.at == 1 && t->form->list.top == 1)
        t->form->list.top = 0; /* the first heading comes along */
    struct columns c = columns_of(t, a);
    struct area body = t->form->body = (struct area){a.y + 1, a.x, rows, a.w};
    for (int y = 0; y < rows && t->form->list.top + y < t->form->list.n; y++)
        draw_row(t, body, y, t->form->list.top + y, c, focus);
    if (t->form->list.top + rows < t->form->list.n)
        paint_format(&t->p, a, a.h - 1, a.w - 9, INK_DIM, "%d more",
                     t->form->list.n - t->form->list.top - rows);
    struct area foot = {a.y, a.x, a.h, t->form->list.top + rows < t->form->list.n ? a.w - 10 : a.w};
    draw_foot(t, foot, a.h - 1);
}

static void form_move(struct tui *t, enum move m)
{
    bool second = t->swap == SWAP_PLAN;
    int h = (tui_alone(t) ? t->at.body.h : second ? t->at.plan.h : t->at.swap.h) - 2;
    list_move(&t->form->list, m, h);
    int by = m == MOVE_UP || m == MOVE_PAGE_UP || m == MOVE_LAST ? -1 : 1;
    while (t->form->list.at > 0 && t->form->list.at + 1 < t->form->list.n &&
           t->form->rows.at[t->form->list.at].quantity < 0)
        t->form->list.at += by;
    if (t->form->list.at < t->form->list.n && t->form->rows.at[t->form->list.at].quantity < 0)
        t->form->list.at += t->form->list.at == 0 && t->form->list.n > 1 ? 1 : 0;
    int q = form_quantity(t);
    if (q >= 0)
        snprintf(t->path, sizeof t->path, "%s", dieset_quantity(t->d, q)->path);
}

static void form_enter(struct tui *t)
{
    if (form_quantity(t) >= 0 && lesson_hides(t))
        lesson_answer(t, t->path);
    else if (form_quantity(t) >= 0 && edit_allowed(t))
        edit_open(t, t->path);
}

static enum hit form_at(struct tui *t, struct area a, int y, int x)
{
    struct list l = t->form->list;
    enum hit hit = list_hit(&l, t->form->body, y, x);
    (void)a;
    if (hit == HIT_NOTHING || t->form->rows.at[l.at].quantity < 0)
        return HIT_NOTHING;
    t->form->list = l;
    snprintf(t->path, sizeof t->path, "%s", dieset_quantity(t->d, form_quantity(t))->path);
    return hit;
}

const struct pane_ops form_pane = {AT_FORM, form_draw, form_move, form_enter, form_at, true};
