/* tui/views/stroke_draw.c - the picture of the stroke: section, what happens, values, bars
 *
 *     | stroke    ram 4.5 mm above shut        |      at 120 columns the section stands there in both states,
 *     | section   | what happens  new  ground  |      at 200 the die plate beside them, with what happens at
 *     this
 *     |           | values        new  ground  |      height standing out
 *     | bars, new and ground                   |
 */

#include "tui/views/stroke.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum {
    TABLE = 44,
    WIDE_TABLE = 55,
    NUMBER = 7,
    BOTH_FROM = 120,
    PLATE_FROM = 200,
    LEAST_SECTION = 10,
    LABEL = 19,
    VALUE = 14,
    LIMIT = 24
};

/* One value in both states. */
struct pair {
    const struct handbook_motion *motion;
    int item;
    bool there[DIESET_STATES];
    struct dieset_motion at[DIESET_STATES];
};
struct pairs { struct pair at[STROKE_VALUES]; int n; };

static const char *state_word(int s) { return s == DIESET_GROUND ? "ground" : "new"; }

/* ---- values ---------------------------------------------------------------------------- */

static void gather(struct tui *t, double ram, struct pairs *out)
{
    struct dieset_motion now[STROKE_VALUES];
    out->n = 0;
    for (int s = 0; s < DIESET_STATES; s++) {
        int n = dieset_motions(t->d, (enum dieset_state)s, ram, now, STROKE_VALUES);
        for (int i = 0; i < n; i++) {
            int at = 0;
            while (at < out->n && (out->at[at].motion != now[i].motion || out->at[at].item != now[i].item))
                at++;
            if (at == STROKE_VALUES)
                continue;
            if (at == out->n)
                out->at[out->n++] = (struct pair){.motion = now[i].motion, .item = now[i].item};
            out->at[at].there[s] = true;
            out->at[at].at[s] = now[i];
        }
    }
}

static bool is_bar(const struct pair *p)
{
    return p->motion->least || p->motion->most || p->motion->whole;
}

static int bars_of(const struct pairs *all, const struct pair **out)
{
    int n = 0;
    for (int i = 0; i < all->n; i++)
        if (is_bar(&all->at[i]))
            out[n++] = &all->at[i];
    return n;
}

static const char *number_text(const struct tui *t, const struct pair *p, double value, char *buf,
                               size_t size)
{
    return unit_print_number(value, p->motion->type.type.dim, dieset_system(t->d), buf, size);
}

static const char *value_text(const struct tui *t, const struct pair *p, int s, char *buf, size_t size)
{
    if (!p->there[s])
        return "-";
    return handbook_print(dieset_handbook(t->d), p->at[s].value, p->motion->type.type, dieset_system(t->d),
                          buf, size);
}

/* The name of the item, "" where there is one of its kind only. */
static const char *owner(const struct tui *t, const struct pair *p)
{
    const struct handbook_kind *k = handbook_kind(dieset_handbook(t->d), dieset_item_kind(t->d, p->item));
    return k->single ? "" : dieset_item_title(t->d, p->item);
}

/* ---- bars ------------------------------------------------------------------------------------ */

/* What a full bar stands for: its whole, and never less than what has to be seen. */
static double whole_of(const struct pair *p)
{
    double most = 0;
    for (int s = 0; s < DIESET_STATES; s++) {
        const struct dieset_motion *m = &p->at[s];
        if (p->there[s])
            most = fmax(most, fmax(m->whole, isnan(m->whole) ? fmax(m->value.error ? 0 : m->value.number,
                                                                    fmax(m->least, m->most))
                                                             : 0));
    }
    return most;
}

static int cells_of(double value, double whole, int width)
{
    double share = whole > 0 ? value / whole : 0;
    return (int)lround(fmax(0, fmin(1, share)) * width);
}

static void draw_bar(struct tui *t, struct area a, int y, int x, int width, const struct pair *p, int s)
{
    const struct dieset_motion *m = &p->at[s];
    double whole = whole_of(p), limit = isnan(m->least) ? m->most : m->least;
    int filled = m->value.error ? 0 : cells_of(m->value.number, whole, width);
    paint_text(&t->p, a, y, x, INK_DIM, "[");
    for (int i = 0; i < width; i++)
        paint_char(&t->p, a, y, x + 1 + i, i < filled ? INK_PLAIN : INK_DIM, i < filled ? '=' : ' ');
    paint_text(&t->p, a, y, x + 1 + width, INK_DIM, "]");
    if (isnan(limit))
        return;
    int at = cells_of(limit, whole, width);
    paint_char(&t->p, a, y, x + 1 + (at < width ? at : width - 1), INK_STRONG, '|');
}

/* "least 48.0, spare 6.5", "most 630.0 !! over 12.0", "least 48.0 later". */
static void limit_text(const struct tui *t, const struct pair *p, int s, struct base_text *out)
{
    const struct dieset_motion *m = &p->at[s];
    char limit[40], spare[40];
    if (isnan(m->spare))
        return;
    bool least = !isnan(m->least) &&
                 (isnan(m->most) || m->value.number - m->least <= m->most - m->value.number);
    base_text_addf(out, "%s %s", least ? "least" : "most",
                   number_text(t, p, least ? m->least : m->most, limit, sizeof limit));
    number_text(t, p, fabs(m->spare), spare, sizeof spare);
    if (m->spare >= -1e-9)
        base_text_addf(out, ", spare %s", spare);
    else if (m->judged)
        base_text_addf(out, " !! %s %s", least ? "short" : "over", spare);
    else
        base_text_add(out, " later");
}

static void draw_bar_words(struct tui *t, struct area a, int y, int x, double ram, const struct pair *p,
                           int s)
{
    struct base_text words = {0}, note = {0};
    bool wrong = p->at[s].judged && p->at[s].spare < -1e-9;
    limit_text(t, p, s, &words);
    int end = paint_text(&t->p, a, y, x, wrong ? INK_GRAVE : INK_PLAIN, base_text_get(&words));
    dieset_motion_note(t->d, &p->at[s], (enum dieset_state)s, ram, &note);
    if (note.length && end + 3 + paint_width(base_text_get(&note)) < a.w)
        paint_text(&t->p, a, y, words.length ? x + LIMIT > end ? x + LIMIT : end + 2 : x, INK_DIM,
                   base_text_get(&note));
    base_text_done(&words);
    base_text_done(&note);
}

/* LABEL beside it, what is left of the label returned. */
static const char *draw_bar_row(struct tui *t, struct area a, int y, double ram, const struct pair *p, int s,
                                const char *label)
{
    int width = 14 + (a.w - 80) / 2, x = LABEL + 8;
    char value[60];
    size_t skip, n = paint_wrap(label, LABEL - 1, &skip);
    width = width > 40 ? 40 : width;
    paint_format(&t->p, a, y, 1, INK_PLAIN, "%.*s", (int)n, label);
    paint_text(&t->p, a, y, LABEL + 1, INK_PLAIN, state_word(s));
    if (p->there[s]) {
        draw_bar(t, a, y, x, width, p, s);
        paint_right(&t->p, a, y, x + width + VALUE - 1, INK_PLAIN, value_text(t, p, s, value, sizeof value));
        draw_bar_words(t, a, y, x + width + VALUE, ram, p, s);
    }
    return label + n + skip;
}

/* Rows that the bars want: both states where the section keeps its room, else the one at hand. */
static int rows_each(int n, int room)
{
    return n * DIESET_STATES <= room ? DIESET_STATES : 1;
}

static void draw_bars(struct tui *t, struct area a, const struct stroke *k, const struct pair *const *bars,
                      int n, int each)
{
    for (int i = k->first_bar; i < n && (i - k->first_bar + 1) * each <= a.h; i++) {
        char *whole = base_format("%s%s%s", owner(t, bars[i]), *owner(t, bars[i]) ? " " : "",
                                  bars[i]->motion->title);
        const char *label = whole;
        for (int row = 0; row < each; row++)
            label = draw_bar_row(t, a, (i - k->first_bar) * each + row, k->ram, bars[i],
                                 each == 1 ? (int)t->state : row, label);
        free(whole);
    }
}

/* ---- what happens, and values ---------------------------------------------------------------------- */

static void table_row(struct tui *t, struct area a, int y, enum ink ink, bool here, const char *title,
                      const char *is_new, const char *ground)
{
    struct area words = {a.y, a.x, a.h, a.w - 2 * NUMBER};
    paint_text(&t->p, words, y, 2, ink, title);
    paint_right(&t->p, a, y, a.w - NUMBER, ink, is_new);
    paint_right(&t->p, a, y, a.w, ink, ground);
    if (here) {
        paint_text(&t->p, a, y, 0, INK_STRONG, ">");
        tui_cursor(t, a, y, 0);
    }
}

static const char *height_text(const struct tui *t, double height, bool broken, char *buf, size_t size)
{
    return isnan(height) ? broken ? "?" : "-"
                         : unit_print_number(height, UNIT_LENGTH, dieset_system(t->d), buf, size);
}

static void draw_happening(struct tui *t, struct area a, int y, const struct stroke *k,
                           const struct happening *h)
{
    char is_new[40], ground[40];
    bool here = stroke_is_at(k, h, t->state);
    table_row(t, a, y, here ? INK_STRONG : INK_PLAIN, here, h->title,
              height_text(t, h->at[DIESET_NEW], h->broken, is_new, sizeof is_new),
              height_text(t, h->at[DIESET_GROUND], h->broken, ground, sizeof ground));
}

static void draw_ram(struct tui *t, struct area a, int y, const struct stroke *k)
{
    char at[40];
    height_text(t, k->ram, false, at, sizeof at);
    table_row(t, a, y, INK_STRONG, true, "ram", t->state == DIESET_NEW ? at : "",
              t->state == DIESET_GROUND ? at : "");
}

/* Happenings that the ram has passed or is at: the row of the ram comes behind them. */
static int passed(const struct stroke *k, enum dieset_state s)
{
    int n = 0;
    while (n < k->n_happen && !isnan(k->happen[n].at[s]) && k->happen[n].at[s] > k->ram - DIESET_SAME_HEIGHT)
        n++;
    return n;
}

/* Returns the rows used. */
static int draw_happenings(struct tui *t, struct area a, const struct stroke *k)
{
    int before = passed(k, t->state),
        at_one = before > 0 && stroke_is_at(k, &k->happen[before - 1], t->state);
    int rows = k->n_happen + !at_one, here = before - at_one,
        top = rows > a.h && here > a.h / 2 ? here - a.h / 2 : 0;
    if (top > 0 && top + a.h > rows)
        top = rows - a.h;
    for (int row = top; row < rows && row - top < a.h; row++)
        if (!at_one && row == before)
            draw_ram(t, a, row - top, k);
        else
            draw_happening(t, a, row - top, k, &k->happen[row - (!at_one && row > before)]);
    return rows < a.h ? rows : a.h;
}

/* "stripper springs push, kN"; lengths are in the unit that stands over the columns. */
static char *value_title(const struct tui *t, const struct pair *p)
{
    struct unit_display u = unit_display(p->motion->type.type.dim, dieset_system(t->d));
    bool said = !*u.name || strcmp(u.name, tui_lengths(t).name) == 0;
    return base_format("%s%s%s%s%s", owner(t, p), *owner(t, p) ? " " : "", p->motion->title, said ? "" : ", ",
                       said ? "" : u.name);
}

static const char *value_number(const struct tui *t, const struct pair *p, int s, char *buf, size_t size)
{
    if (!p->there[s] || p->at[s].value.error)
        return p->there[s] ? "?" : "-";
    return number_text(t, p, p->at[s].value.number, buf, size);
}

static void draw_values(struct tui *t, struct area a, const struct pairs *all)
{
    int y = 0;
    for (int i = 0; i < all->n && y < a.h; i++) {
        const struct pair *p = &all->at[i];
        char is_new[60], ground[60];
        if (is_bar(p) || p->motion->type.type.sort != FORMULA_NUMBER)
            continue;
        char *title = value_title(t, p);
        table_row(t, a, y++, INK_PLAIN, false, title, value_number(t, p, DIESET_NEW, is_new, sizeof is_new),
                  value_number(t, p, DIESET_GROUND, ground, sizeof ground));
        free(title);
    }
}

static void draw_table(struct tui *t, struct area a, const struct stroke *k, const struct pairs *all)
{
    struct area body = {a.y + 1, a.x, a.h - 1, a.w};
    char *head = base_format("above shut, %s", tui_lengths(t).name);
    table_row(t, a, 0, INK_DIM, false, head, "new", "ground");
    free(head);
    int used = draw_happenings(t, body, k);
    struct area rest = {body.y + used + 1, a.x, body.h - used - 1, a.w};
    if (rest.h > 0)
        draw_values(t, rest, all);
}

/* ---- pictures ---------------------------------------------------------------------------------------- */

/* In millimetres a row that are returned, LEAST or more. */
static double section(struct tui *t, struct area a, const struct stroke *k, int s, double least,
                      struct view_canvas *out)
{
    struct view_options o = tui_view(t);
    o.state = (enum dieset_state)s;
    o.item = -1;
    o.least_row = least;
    view_canvas_init(out, a.w, a.h);
    return view_section(t->d, k->ram, &o, out);
}

/* One state, or both side by side under their names: to one scale, the coarser, since they are compared. */
static void draw_sections(struct tui *t, struct area a, const struct stroke *k, bool both)
{
    struct area picture = {a.y + both, a.x, a.h - both, a.w - 1};
    struct view_canvas c[DIESET_STATES];
    double row[DIESET_STATES], coarser = 0;
    int first = both ? 0 : (int)t->state, end = both ? DIESET_STATES : first + 1;
    for (int s = first; s < end; s++)
        coarser = fmax(coarser, row[s] = section(t, picture, k, s, 0, &c[s]));
    for (int s = first; s < end; s++, a.x += a.w, picture.x += a.w) {
        if (row[s] < coarser) {
            view_canvas_done(&c[s]);
            row[s] = section(t, picture, k, s, coarser, &c[s]);
        }
        if (both)
            paint_format(&t->p, a, 0, 1, s == (int)t->state ? INK_STRONG : INK_DIM,
                         row[s] > 0 ? "%s   %g mm/row" : "%s", state_word(s), row[s]);
        paint_canvas(&t->p, picture, &c[s], 0);
        view_canvas_done(&c[s]);
    }
}

/* The die plate; what happens at this height, or happened last, stands out. */
static void draw_plate(struct tui *t, struct area a, const struct stroke *k)
{
    int plate = dieset_die_plate(t->d), last = passed(k, t->state) - 1;
    if (plate < 0)
        return;
    struct view_options o = tui_view(t);
    struct view_canvas c;
    o.item = last < 0 ? -1 : k->happen[last].item;
    view_canvas_init(&c, a.w - 1, a.h - 1);
    double scale = view_plan(t->d, plate, &o, &c);
    struct area picture = {a.y + 1, a.x, a.h - 1, a.w - 1};
    char step[40];
    paint_format(&t->p, a, 0, 1, INK_DIM, "%s   %s/col", dieset_item_title(t->d, plate),
                 view_scale_text(scale, dieset_system(t->d), step, sizeof step));
    paint_canvas(&t->p, picture, &c, 0);
    view_canvas_done(&c);
}

static void draw_pictures(struct tui *t, struct area a, const struct stroke *k)
{
    bool plate = t->at.body.w >= PLATE_FROM, both = t->at.body.w >= BOTH_FROM;
    int n = both ? DIESET_STATES : 1;
    struct area part = {a.y, a.x, a.h, plate ? a.w * 3 / 10 : a.w / n};
    draw_sections(t, part, k, both);
    part.x += n * part.w;
    part.w = a.x + a.w - part.x;
    if (plate)
        draw_plate(t, part, k);
}

static void draw_head(struct tui *t, struct area a, const struct stroke *k)
{
    char ram[60];
    unit_print(k->ram, UNIT_LENGTH, dieset_system(t->d), ram, sizeof ram);
    int x = paint_format(&t->p, a, 0, 1, INK_STRONG, "stroke   ram %s above shut   %s", ram,
                         state_word((int)t->state));
    if (k->level.pending)
        paint_text(&t->p, a, 0, x + 3, INK_PLAIN, "gliding; any key stops");
}

void stroke_draw(struct tui *t, struct stroke *k, struct area a)
{
    struct pairs all;
    const struct pair *bars[STROKE_VALUES];
    gather(t, k->ram, &all);
    int n = bars_of(&all, bars), room = a.h - 1 - LEAST_SECTION, each = rows_each(n, room);
    int most = n - room / each;
    k->first_bar = k->first_bar > most ? most : k->first_bar;
    k->first_bar = k->first_bar < 0 ? 0 : k->first_bar;
    int rows = n * each < room ? n * each : room;
    int wide = a.w >= PLATE_FROM ? WIDE_TABLE : TABLE;
    struct area middle = {a.y + 1, a.x, a.h - 1 - rows, a.w - wide};
    struct area table = {middle.y, a.x + middle.w, middle.h, wide - 1};
    struct area below = {middle.y + middle.h, a.x, rows, a.w};
    draw_head(t, a, k);
    draw_pictures(t, middle, k);
    draw_table(t, table, k, &all);
    draw_bars(t, below, k, bars, n, each);
}

bool stroke_is_at(const struct stroke *k, const struct happening *e, enum dieset_state s)
{
    return fabs(e->at[s] - k->ram) < DIESET_SAME_HEIGHT;
}
