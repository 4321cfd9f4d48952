/* The drawing of the set: its lower half from above, the whole of it from the front. */

#include "sheet/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double LEFT = 36, RIGHT = 12, ABOVE = 14, FIGURES = 30, HEADING = 24, FOOT = 44, BESIDE = 24;
enum { MOST = 64 };

struct set {
    struct dieset *d;
    enum dieset_state state;
    struct dieset_layer layers[MOST];
    struct dieset_plate plates[MOST];
    int n, base; /* the plate with the set's plan measures: the lowest */
    struct sheet_page *page;
    struct dieset_orders orders;
    bool *numbered; /* lines of the order list whose numbers stand in the view from the front */
    struct sheet_view plan, front;
    double left, right, low, back, high;
};

static enum base_err find(struct set *w, struct base_diag *why)
{
    int n = dieset_stack(w->d, w->state, w->layers, MOST);
    w->left = w->low = INFINITY;
    w->right = w->back = -INFINITY;
    for (int i = 0; i < n; i++) {
        struct dieset_plate p = dieset_plate(w->d, w->layers[i].plate, w->state);
        if (!isfinite(p.bottom + p.top + p.left + p.right + p.front + p.back))
            return base_fail(why, BASE_REFUSED,
                             "The set cannot be drawn while a size or a height of %s is unknown; "
                             "check tells why.",
                             dieset_item_name(w->d, w->layers[i].plate));
        w->plates[w->n++] = p;
        w->left = fmin(w->left, p.left);
        w->right = fmax(w->right, p.right);
        w->low = fmin(w->low, p.front);
        w->back = fmax(w->back, p.back);
        w->high = fmax(w->high, p.top);
    }
    return w->n ? BASE_OK : base_fail(why, BASE_REFUSED, "The set has no plates to draw.");
}

/* ---- each half as it lies open: the lower one from above, the upper one turned over ------------- */

static bool of_half(const struct set *w, int i, bool upper)
{
    return (w->plates[i].moves != DIESET_MOVES_BED) == upper;
}

/* Does a plate that lies nearer to the eye hide it? */
static bool covered(const struct set *w, int layer, const struct dieset_hole *h, bool upper)
{
    for (int i = upper ? layer + 1 : 0; i < (upper ? w->n : layer); i++) {
        const struct dieset_plate *p = &w->plates[i];
        if (of_half(w, i, upper) && h->left > p->left && h->right < p->right && h->front > p->front &&
            h->back < p->back)
            return true;
    }
    return false;
}

/* The hole as it is seen from below, the plate turned over about a line along X. SIDES: room for its own. */
static struct dieset_hole turned_over(const struct dieset_hole *h, double thickness, struct shape_side *sides)
{
    struct dieset_hole out = *h;
    out.y = -h->y;
    out.front = -h->back;
    out.back = -h->front;
    out.turn = -h->turn;
    out.low = thickness - h->high;
    out.high = thickness - h->low;
    out.from_top = !h->from_top;
    for (int i = 0; i < h->n_sides; i++) {
        sides[i] = h->sides[i];
        sides[i].y0 = -sides[i].y0;
        sides[i].y1 = -sides[i].y1;
        sides[i].cy = -sides[i].cy;
        sides[i].way = -sides[i].way;
    }
    out.sides = h->n_sides ? sides : NULL;
    return out;
}

static bool brings(const struct dieset_order *o, const char *name)
{
    size_t n = strlen(name);
    for (const char *at = o->used; (at = strstr(at, name)); at += n)
        if ((at == o->used || at[-1] == ' ') && (at[n] == ',' || !at[n]))
            return true;
    return false;
}

/* "9, 10, 11": the lines of the parts that ITEM brings, a post's clamps and their screws behind it; "": none.
   Yours to free(). */
static char *parts_of(const struct set *w, int item)
{
    struct base_text t = {0};
    for (int i = 0; i < w->orders.count; i++)
        if (brings(&w->orders.at[i], dieset_item_name(w->d, item)))
            base_text_addf(&t, "%s%d", t.length ? ", " : "", i + 1);
    return base_text_take(&t);
}

struct seen {
    int item;
    double reach;
};

/* The numbers of the parts, beside the first hole of each item that is SEEN and off all others. */
static void numbers_of_half(struct set *w, const struct seen *seen, const struct draw_box *busy, int n)
{
    bool *numbered = base_alloc((size_t)dieset_item_count(w->d) * sizeof *numbered + 1);
    for (int i = 0; i < n; i++) {
        if (numbered[seen[i].item])
            continue;
        numbered[seen[i].item] = true;
        const struct draw_box *b = &busy[i];
        char *numbers = parts_of(w, seen[i].item);
        if (*numbers)
            (void)sheet_label(w->page->s, (b->left + b->right) / 2, (b->front + b->back) / 2, seen[i].reach,
                              numbers, busy, n);
        free(numbers);
    }
    free(numbered);
}

static void half(struct set *w, const struct sheet_view *v, bool upper)
{
    struct draw_sheet *s = w->page->s;
    BASE_VEC(struct draw_box) busy = {0};
    BASE_VEC(struct seen) seen = {0};
    for (int k = 0; k < w->n; k++) {
        int i = upper ? k : w->n - 1 - k, first;
        const struct dieset_plate *p = &w->plates[i];
        int count = dieset_plate_holes(w->d, w->layers[i].plate, &first);
        if (!of_half(w, i, upper))
            continue;
        draw_rectangle(s, DRAW_WIDE, sheet_at_x(v, p->left), sheet_at_y(v, upper ? -p->back : p->front),
                       sheet_at_x(v, p->right), sheet_at_y(v, upper ? -p->front : p->back));
        for (int n = first; n < first + count; n++) {
            struct dieset_hole h;
            dieset_hole(w->d, n, w->state, &h);
            struct shape_side *sides = base_alloc((size_t)h.n_sides * sizeof *sides + 1);
            bool hidden = covered(w, i, &h, upper);
            if (upper)
                h = turned_over(&h, p->thickness_now, sides);
            if (!hidden && !h.nowhere && h.high > p->thickness_now - 1e-6) {
                sheet_plan_hole(s, v, &h, p->thickness_now);
                base_vec_push(&busy, sheet_hole_box(v, &h));
                base_vec_push(
                    &seen, ((struct seen){h.item, fmin(h.right - h.left, h.back - h.front) / 2 * v->scale}));
            }
            free(sides);
        }
    }
    numbers_of_half(w, seen.at, busy.at, (int)busy.count);
    base_vec_done(&busy);
    base_vec_done(&seen);
}

/* Beside the lower half, where the sheet has the room; else that is told in the notes. */
static bool upper_half(struct set *w)
{
    double wide = (w->right - w->left) * w->page->scale, x = w->plan.x + wide + BESIDE;
    if (x + wide + RIGHT > w->page->size->width - SHEET_EDGE - SHEET_COLUMN)
        return false;
    struct sheet_view v = {x, w->plan.y, w->page->scale, w->left, -w->back};
    draw_words(w->page->s, v.x, sheet_at_y(&w->plan, w->back) + 5, SHEET_HEADING, DRAW_LEFT, wide + BESIDE,
               "Upper half seen from below, its back edge at the foot");
    half(w, &v, true);
    return true;
}

static void strip_path(struct set *w)
{
    struct draw_sheet *s = w->page->s;
    struct dieset_strip strip = dieset_strip(w->d, w->state, 0);
    if (!isfinite(strip.width))
        return;
    for (int way = -1; way < 2; way += 2)
        draw_line(s, DRAW_HIDDEN, sheet_at_x(&w->plan, w->left) - 4,
                  sheet_at_y(&w->plan, way * strip.width / 2), sheet_at_x(&w->plan, w->right) + 4,
                  sheet_at_y(&w->plan, way * strip.width / 2));
}

static void edges(struct set *w)
{
    struct sheet_dim x[2 * MOST], y[2 * MOST];
    int n = 0;
    for (int i = 0; i < w->n; i++) {
        const struct dieset_plate *p = &w->plates[i];
        if (p->moves != DIESET_MOVES_BED)
            continue;
        x[n] = (struct sheet_dim){sheet_at_x(&w->plan, p->left), p->left - w->left};
        y[n] = (struct sheet_dim){sheet_at_y(&w->plan, p->front), p->front - w->low};
        n++;
        x[n] = (struct sheet_dim){sheet_at_x(&w->plan, p->right), p->right - w->left};
        y[n] = (struct sheet_dim){sheet_at_y(&w->plan, p->back), p->back - w->low};
        n++;
    }
    sheet_dims_x(w->page->s, w->d, x, n, w->plan.y, SHEET_LEFT + 3,
                 w->page->s->width - SHEET_EDGE - SHEET_COLUMN);
    sheet_dims_y(w->page->s, w->d, y, n, w->plan.x, w->plan.y - FIGURES + 6,
                 w->page->s->height - SHEET_EDGE - 4);
}

/* ---- from the front --------------------------------------------------------------------------- */

typedef BASE_VEC(struct dieset_body) body_list;

static bool behind(const struct dieset_body *a, const struct dieset_body *b)
{
    double p = a->plan.right - a->plan.left, q = b->plan.right - b->plan.left;
    bool coil_a = a->end_plate != a->plan.plate, coil_b = b->end_plate != b->plan.plate;
    return coil_a != coil_b ? coil_a : p > q + 1e-6;
}

static bool same_there(const struct dieset_body *a, const struct dieset_body *b)
{
    return fabs(a->plan.left - b->plan.left) < 1e-6 && fabs(a->plan.right - b->plan.right) < 1e-6 &&
           fabs(a->low - b->low) < 1e-6 && fabs(a->high - b->high) < 1e-6;
}

/* Each once, those that stand behind first; kept in order as they come. */
static void bodies(struct set *w, body_list *out)
{
    for (int i = 0; i < dieset_body_count(w->d); i++) {
        struct dieset_body b;
        bool is_there = false;
        dieset_body(w->d, i, w->state, &b);
        for (size_t k = 0; k < out->count && !is_there; k++)
            is_there = same_there(&out->at[k], &b);
        if (!b.known || is_there || !(b.low < b.high))
            continue;
        base_vec_push(out, b);
        for (size_t k = out->count - 1; k > 0 && behind(&out->at[k], &out->at[k - 1]); k--) {
            out->at[k] = out->at[k - 1];
            out->at[k - 1] = b;
        }
    }
}

static struct draw_box box_of(const struct set *w, double left, double right, double low, double high)
{
    return (struct draw_box){sheet_at_x(&w->front, left), sheet_at_x(&w->front, right),
                             sheet_at_y(&w->front, low), sheet_at_y(&w->front, high)};
}

static void plate_from_front(struct set *w, int i)
{
    const struct dieset_plate *p = &w->plates[i];
    struct draw_sheet *s = w->page->s;
    struct draw_box b = box_of(w, p->left, p->right, p->bottom, p->top), *gaps;
    int first, n = 0, count = dieset_plate_holes(w->d, w->layers[i].plate, &first);
    gaps = base_alloc((size_t)count * sizeof *gaps + 1);
    for (int k = first; k < first + count; k++) {
        struct dieset_hole h;
        dieset_hole(w->d, k, w->state, &h);
        if (!h.nowhere)
            gaps[n++] = box_of(w, h.left, h.right, p->bottom + h.low, p->bottom + h.high);
    }
    draw_hatch(s, &b, gaps, n, i % 2 ? 2.5 : 4);
    draw_rectangle(s, DRAW_WIDE, b.left, b.front, b.right, b.back);
    for (int k = 0; k < n; k++) {
        draw_line(s, DRAW_FINE, gaps[k].left, gaps[k].front, gaps[k].left, gaps[k].back);
        draw_line(s, DRAW_FINE, gaps[k].right, gaps[k].front, gaps[k].right, gaps[k].back);
    }
    free(gaps);
}

/* What is formed of the strip as it is bent there; false: seen so, nothing of it is. */
static bool formed_from_front(struct set *w, const struct dieset_body *b)
{
    struct dieset_bent bent[DIESET_BENT_MOST];
    struct dieset_strip strip = dieset_strip(w->d, w->state, 0);
    bool is_formed = dieset_has_folds(w->d, b->plan.item) && strcmp(b->plan.operation, "formed") == 0;
    int n = is_formed && isfinite(strip.low) ? dieset_formed_profile(w->d, b, strip.low, 1, bent) : 0;
    sheet_metal(w->page->s, &w->front, bent, n, strip.thickness, DRAW_NARROW);
    return n > 0;
}

static void body_from_front(struct set *w, const struct dieset_body *b)
{
    struct draw_sheet *s = w->page->s;
    if (formed_from_front(w, b))
        return;
    struct draw_box x = box_of(w, b->plan.left, b->plan.right, b->low, b->high);
    bool coil = b->end_plate != b->plan.plate;
    draw_blank(s, x.left, x.front, x.right, x.back);
    draw_rectangle(s, coil ? DRAW_HIDDEN : DRAW_NARROW, x.left, x.front, x.right, x.back);
    for (double y = x.front; coil && y + 1e-9 < x.back; y += 3)
        draw_line(s, DRAW_FINE, x.left, y, x.right, fmin(y + 1.5, x.back));
}

static void heights(struct set *w)
{
    struct sheet_dim at[2 * MOST];
    int n = 0;
    for (int i = 0; i < w->n; i++) {
        at[n++] = (struct sheet_dim){sheet_at_y(&w->front, w->plates[i].bottom), w->plates[i].bottom};
        at[n++] = (struct sheet_dim){sheet_at_y(&w->front, w->plates[i].top), w->plates[i].top};
    }
    sheet_dims_y(w->page->s, w->d, at, n, w->front.x, SHEET_EDGE + FOOT - 4, w->plan.y - FIGURES);
}

/* ---- the parts' numbers ------------------------------------------------------------------------ */

typedef BASE_VEC(struct sheet_balloon) balloon_list;

/* Where ITEM is seen from the front: a plate near its right end, the middle of a body, of a hole, the strip
 * where it comes in. False: nowhere. */
static bool seen_at(const struct set *w, const body_list *list, int item, double *x, double *y)
{
    for (int i = 0; i < w->n; i++)
        if (w->layers[i].plate == item) {
            *x = sheet_at_x(&w->front, w->plates[i].right) - 2.5;
            *y = sheet_at_y(&w->front, (w->plates[i].bottom + w->plates[i].top) / 2);
            return true;
        }
    for (size_t i = 0; i < list->count; i++)
        if (list->at[i].plan.item == item) {
            const struct dieset_body *b = &list->at[i];
            *x = sheet_at_x(&w->front, (b->plan.left + b->plan.right) / 2);
            *y = sheet_at_y(&w->front, b->low + (b->high - b->low) * 0.6);
            return true;
        }
    for (int i = 0; i < w->n; i++) {
        int first, count = dieset_item_holes(w->d, w->layers[i].plate, item, &first);
        struct dieset_hole h;
        if (!count)
            continue;
        dieset_hole(w->d, first, w->state, &h);
        if (h.nowhere)
            continue;
        *x = sheet_at_x(&w->front, h.x);
        *y = sheet_at_y(&w->front, w->plates[i].bottom + (h.low + h.high) / 2);
        return true;
    }
    struct dieset_strip strip = dieset_strip(w->d, w->state, 0);
    *x = sheet_at_x(&w->front, w->left) - 3;
    *y = sheet_at_y(&w->front, (strip.low + strip.high) / 2);
    return item == dieset_item_of_kind(w->d, DIESET_STRIP) && isfinite(*y);
}

/* Over the view what is of the upper half, below it what is of the lower one; of what finds no room there
 * the lines stay out of TOLD. */
static void balloons(struct set *w, const body_list *list, bool *told)
{
    balloon_list rows[2] = {{0}, {0}};
    struct dieset_strip strip = dieset_strip(w->d, w->state, 0);
    double split = sheet_at_y(&w->front, isfinite(strip.low) ? strip.low : w->high / 2);
    for (int item = 0; item < dieset_item_count(w->d); item++) {
        struct sheet_balloon b = {0};
        for (int i = 0; i < w->orders.count && b.n < SHEET_LINES; i++)
            if (w->orders.at[i].item == item || brings(&w->orders.at[i], dieset_item_name(w->d, item)))
                b.lines[b.n++] = i + 1;
        b.first = b.lines[0];
        if (b.n && seen_at(w, list, item, &b.x, &b.y))
            base_vec_push(&rows[b.y < split], b);
    }
    for (int k = 0; k < 2; k++) {
        double y = k ? w->front.y - 8 : sheet_at_y(&w->front, w->high) + 8;
        if (sheet_balloons(w->page->s, rows[k].at, (int)rows[k].count, y, SHEET_LEFT + 3,
                           w->page->size->width - SHEET_EDGE - SHEET_COLUMN - 4))
            for (size_t i = 0; i < rows[k].count; i++)
                for (int n = 0; n < rows[k].at[i].n; n++)
                    told[rows[k].at[i].lines[n] - 1] = true;
        base_vec_done(&rows[k]);
    }
}

static void from_front(struct set *w)
{
    struct draw_sheet *s = w->page->s;
    body_list list = {0};
    char scale[16];
    struct dieset_strip strip = dieset_strip(w->d, w->state, 0);
    char *heading = base_format(
        "The set from the front, shut, %s, %s; heights over the lower shoe's bottom face",
        w->state == DIESET_GROUND ? "fully ground" : "new",
        sheet_scale_text(w->page->scale, scale, sizeof scale));
    draw_words(s, w->front.x, sheet_at_y(&w->front, w->high) + 15, SHEET_HEADING, DRAW_LEFT,
               s->width - SHEET_EDGE - SHEET_COLUMN - w->front.x, heading);
    for (int i = 0; i < w->n; i++)
        plate_from_front(w, i);
    bodies(w, &list);
    for (size_t i = 0; i < list.count; i++)
        body_from_front(w, &list.at[i]);
    if (isfinite(strip.low + strip.high)) {
        struct draw_box b = box_of(w, w->left, w->right, strip.low, strip.high);
        draw_line(s, DRAW_WIDE, b.left - 4, (b.front + b.back) / 2, b.right + 4, (b.front + b.back) / 2);
    }
    heights(w);
    balloons(w, &list, w->numbered);
    base_vec_done(&list);
    free(heading);
}

/* ---- the table beside ------------------------------------------------------------------------------ */

static void plate_list(struct sheet_flow *f, struct set *w)
{
    sheet_flow_heading(f, "Plates, from the top", 4);
    sheet_flow_row(f,
                   (struct sheet_cell[]){
                       {"no", 8, true}, {"plate", 36, false}, {"thick", 16, true}, {"material", 28, false}},
                   4);
    for (int i = 0; i < w->n; i++) {
        char no[12], thick[40];
        snprintf(no, sizeof no, "%d", i + 1);
        unit_print_number(w->plates[i].thickness_now, UNIT_LENGTH, dieset_system(w->d), thick, sizeof thick);
        sheet_flow_row(f,
                       (struct sheet_cell[]){{no, 8, true},
                                             {dieset_item_title(w->d, w->layers[i].plate), 36, false},
                                             {thick, 16, true},
                                             {dieset_text(w->d, w->layers[i].plate, "material"), 28, false}},
                       4);
    }
}

static void order_list(struct sheet_flow *f, struct set *w)
{
    sheet_flow_heading(f, "Parts", 4);
    sheet_flow_row(f, (struct sheet_cell[]){{"no", 8, true}, {"pcs", 10, true}, {"part", 70, false}}, 3);
    for (int i = 0; i < w->orders.count; i++) {
        char no[12], pieces[40];
        snprintf(no, sizeof no, "%d", i + 1);
        snprintf(pieces, sizeof pieces, "%g", w->orders.at[i].pieces);
        char *words = base_format("%s, %s", w->orders.at[i].designation, w->orders.at[i].size);
        sheet_flow_row(f, (struct sheet_cell[]){{no, 8, true}, {pieces, 10, true}, {words, 70, false}}, 3);
        free(words);
    }
}

static void notes(struct sheet_flow *f, struct set *w, bool upper)
{
    sheet_flow_heading(f, "Notes", 2);
    for (int i = 0; i < dieset_item_count(w->d); i++) {
        struct base_text stamp = {0};
        if (dieset_stamp(w->d, i, &stamp))
            sheet_flow_words(f, 3, base_text_get(&stamp));
        base_text_done(&stamp);
    }
    sheet_flow_words(
        f, 3,
        "Bodies are seen whole, holes through the metal behind them. Dashed: springs, and the edges "
        "of the strip.");
    sheet_flow_words(
        f, 3,
        upper ? "Numbers are those of the parts list; in a row on one line: the part and what holds it."
              : "Numbers are those of the parts list; in a row on one line: the part and what holds it. The "
                "upper half is drawn plate by plate.");
    struct base_text unseen = {0};
    for (int i = 0; i < w->orders.count; i++)
        if (!w->numbered[i])
            base_text_addf(&unseen, "%s%d",
                           unseen.length ? ", " : "Parts without a number in the views: ", i + 1);
    if (unseen.length)
        sheet_flow_words(f, 3, base_text_get(&unseen));
    base_text_done(&unseen);
    const struct handbook *h = dieset_handbook(w->d);
    for (int i = 0; i < handbook_caution_count(h); i++)
        sheet_flow_words(f, 3, handbook_caution(h, i)->text);
}

enum base_err sheet_set(struct dieset *d, enum dieset_state s, const struct sheet_title *t,
                        struct sheet_book *out, struct base_diag *why)
{
    struct set w = {.d = d, .state = s};
    struct sheet_page page = {.title = "die set", .kind = "assembly drawing", .item = -1};
    *out = (struct sheet_book){0};
    enum base_err err = find(&w, why);
    if (err)
        return err;
    double wide = w.right - w.left, high = w.back - w.low + w.high, beside = LEFT + RIGHT + SHEET_COLUMN,
           below = ABOVE + FIGURES + HEADING + FOOT;
    if (!sheet_choose(d, SHEET_THIRD, wide, high, beside, below, &page.size, &page.scale) &&
        !sheet_choose(d, SHEET_ANY, wide, high, beside, below, &page.size, &page.scale))
        return base_fail(why, BASE_REFUSED,
                         "The set is too large for the largest sheet at the smallest scale.");
    /* a larger sheet for the upper half beside the lower one, where that keeps the scale */
    const struct sheet_size *larger;
    double scale;
    if (sheet_choose(d, SHEET_THIRD, 2 * wide, high, beside + BESIDE, below, &larger, &scale) &&
        scale + 1e-9 >= page.scale)
        page.size = larger;
    snprintf(page.number, sizeof page.number, "%.40s-00", t->number);
    w.page = &page;
    sheet_begin(out, &page);
    double top = page.size->height - SHEET_EDGE - ABOVE - (w.back - w.low) * page.scale;
    w.plan = (struct sheet_view){SHEET_LEFT + LEFT, top, page.scale, w.left, w.low};
    w.front = (struct sheet_view){SHEET_LEFT + LEFT, SHEET_EDGE + FOOT, page.scale, w.left, 0};
    draw_words(page.s, w.plan.x, sheet_at_y(&w.plan, w.back) + 5, SHEET_HEADING, DRAW_LEFT, 0,
               "Lower half seen from above");
    dieset_orders(d, &w.orders);
    w.numbered = base_alloc((size_t)w.orders.count * sizeof *w.numbered + 1);
    half(&w, &w.plan, false);
    strip_path(&w);
    bool upper = upper_half(&w);
    edges(&w);
    from_front(&w);
    sheet_foot(page.s, d, t, SHEET_LEFT + 5, SHEET_EDGE + 3);
    struct sheet_flow f = sheet_flow_beside(out, &page);
    plate_list(&f, &w);
    order_list(&f, &w);
    notes(&f, &w, upper);
    dieset_orders_free(&w.orders);
    free(w.numbered);
    sheet_title_blocks(out, &page, d, t);
    return BASE_OK;
}
