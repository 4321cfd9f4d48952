/* Hole charts: holes of a plate numbered from one of its corners.
 *
 * Holes of one group on one axis (counterbore and clear hole of a screw) are one place and bear one number;
 * places are numbered by x, then y. Depths are from the face that the hole is made from; an empty depth means
 * right through. Under a hole that has an outline stand its sides, in order, each as the place where it ends.
 */

#include "report/words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct corner { double x, y; int way_x, way_y; const char *name; };

struct chart {
    struct dieset *d;
    int plate;
    enum dieset_state state;
    struct corner from;
    double thickness;
};

struct entry { struct dieset_hole h; double x, y; int number; };

/* ---- order and numbers ------------------------------------------------------------ */

static int compare(double a, double b) { return a < b - 1e-6 ? -1 : a > b + 1e-6 ? 1 : 0; }

/* From the face that the hole is made from to its beginning and to its end. */
static double start_of(const struct chart *c, const struct dieset_hole *h)
{
    return h->from_top ? c->thickness - h->high : h->low;
}
static double depth_of(const struct chart *c, const struct dieset_hole *h)
{
    return h->from_top ? c->thickness - h->low : h->high;
}

static int by_place(const void *a, const void *b)
{
    const struct entry *p = a, *q = b;
    int x = compare(p->x, q->x), y = compare(p->y, q->y);
    if (x || y)
        return x ? x : y;
    if (p->h.item != q->h.item)
        return p->h.item < q->h.item ? -1 : 1;
    if (p->h.through != q->h.through)
        return p->h.through ? 1 : -1; /* the head's place before the hole under it */
    return compare(q->h.diameter, p->h.diameter);
}

static void number(struct entry *at, int n)
{
    for (int i = 0; i < n; i++) {
        bool same = i > 0 && at[i].h.item == at[i - 1].h.item && !compare(at[i].x, at[i - 1].x) &&
                    !compare(at[i].y, at[i - 1].y);
        at[i].number = i == 0 ? 1 : at[i - 1].number + !same;
    }
}

static struct entry *entries(const struct chart *c, int *n)
{
    int first = 0;
    *n = dieset_plate_holes(c->d, c->plate, &first);
    struct entry *at = base_alloc((size_t)*n * sizeof *at);
    for (int i = 0; i < *n; i++) {
        dieset_hole(c->d, first + i, c->state, &at[i].h);
        at[i].x = (at[i].h.x - c->from.x) * c->from.way_x;
        at[i].y = (at[i].h.y - c->from.y) * c->from.way_y;
    }
    qsort(at, (size_t)*n, sizeof *at, by_place);
    number(at, *n);
    return at;
}

/* ---- rows --------------------------------------------------------------------------- */

static void length_words(const struct chart *c, double mm, struct base_text *out)
{
    char buf[40];
    base_text_add(out, isfinite(mm) ? unit_print_number(mm, UNIT_LENGTH, dieset_system(c->d), buf, sizeof buf)
                                    : "?");
}

static bool by_outline(const struct dieset_hole *h) { return h->n_sides && !(h->length > 0); }

/* "counterbore", "opening 26.0 x 44.0 corner 5.0", "bore from 12.0". */
static char *operation(const struct chart *c, const struct dieset_hole *h)
{
    struct base_text t = {0};
    base_text_add(&t, h->spec && h->spec->title ? h->spec->title : h->operation);
    bool obround = h->length > 0 && fabs(h->corner - fmin(h->length, h->width) / 2) < 1e-9;
    if (by_outline(h))
        base_text_add(&t, " by its outline");
    if (h->length > 0 && h->width > 0) {
        base_text_add(&t, obround ? " obround " : " ");
        length_words(c, h->length, &t);
        base_text_add(&t, " x ");
        length_words(c, h->width, &t);
    }
    if (h->corner > 0 && !obround) {
        base_text_add(&t, " corner ");
        length_words(c, h->corner, &t);
    }
    if (h->turn != 0 && h->length > 0 && h->width > 0) {
        char buf[40];
        base_text_addf(&t, " turned %s",
                       unit_print(h->turn, UNIT_ANGLE, dieset_system(c->d), buf, sizeof buf));
    }
    if (start_of(c, h) > 1e-6) {
        base_text_add(&t, " from ");
        length_words(c, start_of(c, h), &t);
    }
    if (h->broken)
        base_text_add(&t, ", a value of it cannot be worked out");
    return base_text_take(&t);
}

static void put_depth(struct report_paper *p, const struct chart *c, const struct dieset_hole *h)
{
    words_length(p, c->d, h->through ? NAN : depth_of(c, h));
    if (h->through)
        report_text(p, "through");
    else
        words_length(p, c->d, depth_of(c, h));
}

/* A hole has a fit or a thread, so the text form shows them in one column. */
static void put_fit(struct report_paper *p, const struct chart *c, const struct dieset_hole *h)
{
    struct base_text t = {0};
    report_text(p, h->fit);
    report_text(p, h->thread);
    base_text_addf(&t, "%s%s%s", h->fit, *h->fit && *h->thread ? ", " : "", h->thread);
    if (*h->thread && h->thread_depth > 0) {
        base_text_add(&t, " ");
        length_words(c, h->thread_depth, &t);
        base_text_add(&t, " deep");
    }
    report_text(p, base_text_get(&t));
    base_text_done(&t);
}

static void hole_row(const struct chart *c, const struct entry *e, struct report_paper *p)
{
    bool round = !by_outline(&e->h) && !(e->h.length > 0 && e->h.width > 0);
    char *words = operation(c, &e->h);
    report_text(p, dieset_item_name(c->d, c->plate));
    report_number(p, e->number, 0);
    report_text(p, dieset_item_name(c->d, e->h.item));
    words_length(p, c->d, e->x);
    words_length(p, c->d, e->y);
    report_text(p, e->h.from_top ? "top" : "bottom");
    report_text(p, words);
    words_length(p, c->d, round ? e->h.diameter : NAN);
    put_depth(p, c, &e->h);
    put_fit(p, c, &e->h);
    report_text(p, words);
    free(words);
}

/* "to", or "arc 5.0 left to": seen along it, as it is told from the chart's corner. */
static char *side_words(const struct chart *c, const struct shape_side *s)
{
    struct base_text t = {0};
    if (s->radius > 0) {
        base_text_add(&t, "arc ");
        length_words(c, s->radius, &t);
        base_text_add(&t, s->way * c->from.way_x * c->from.way_y > 0 ? " left" : " right");
        base_text_add(&t, s->sweep > 3.14159265358979323846 * (1 + 1e-9) ? ", long, to" : " to");
    } else {
        base_text_add(&t, "line to");
    }
    return base_text_take(&t);
}

/* A row of an outline: a place, and how one gets there. */
static void place_row(const struct chart *c, const struct entry *e, double x, double y, const char *words,
                      struct report_paper *p)
{
    report_text(p, dieset_item_name(c->d, c->plate));
    report_number(p, e->number, 0);
    report_text(p, dieset_item_name(c->d, e->h.item));
    words_length(p, c->d, (e->h.x + x - c->from.x) * c->from.way_x);
    words_length(p, c->d, (e->h.y + y - c->from.y) * c->from.way_y);
    report_text(p, "");
    report_text(p, words);
    words_length(p, c->d, NAN);
    words_length(p, c->d, NAN);
    for (int i = 0; i < 4; i++)
        report_text(p, "");
    char *below = base_format("  %s", words);
    report_text(p, below);
    free(below);
}

static void outline_rows(const struct chart *c, const struct entry *e, struct report_paper *p)
{
    if (!by_outline(&e->h))
        return;
    if (e->h.n_sides)
        place_row(c, e, e->h.sides[0].x0, e->h.sides[0].y0, "from", p);
    for (int i = 0; i < e->h.n_sides; i++) {
        char *words = side_words(c, &e->h.sides[i]);
        place_row(c, e, e->h.sides[i].x1, e->h.sides[i].y1, words, p);
        free(words);
    }
}

/* ---- heads ------------------------------------------------------------------------------ */

static const char *const corners[] = {"left front", "right front", "left back", "right back"};

bool report_corner_named(const char *text, enum report_corner *out)
{
    size_t n = strcspn(text, " -");
    for (size_t i = 0; i < COUNT_OF(corners); i++)
        if (strncmp(corners[i], text, n) == 0 && corners[i][n] == ' ' && text[n] &&
            strcmp(corners[i] + n + 1, text + n + 1) == 0) {
            *out = (enum report_corner)i;
            return true;
        }
    return false;
}

static struct corner corner_of(struct dieset *d, int plate, enum dieset_state s, enum report_corner which)
{
    bool right = which == REPORT_RIGHT_FRONT || which == REPORT_RIGHT_BACK;
    bool back = which == REPORT_LEFT_BACK || which == REPORT_RIGHT_BACK;
    struct dieset_plate p = dieset_plate(d, plate, s);
    return (struct corner){
        .x = right ? p.right : p.left, .way_x = right ? -1 : 1,
        .y = back ? p.back : p.front, .way_y = back ? -1 : 1,
        .name = corners[which],
    };
}

static void head(const struct chart *c, struct report_paper *p)
{
    struct dieset_plate plate = dieset_plate(c->d, c->plate, c->state);
    const double sizes[] = {plate.length, plate.width, plate.thickness};
    struct base_text t = {0};
    for (size_t i = 0; i < COUNT_OF(sizes); i++) {
        base_text_add(&t, i ? " x " : "");
        length_words(c, sizes[i], &t);
    }
    base_text_addf(&t, " %s", unit_display(UNIT_LENGTH, dieset_system(c->d)).name);
    static const char *const words[] = {"material", "hardness"};
    for (size_t i = 0; i < COUNT_OF(words); i++) {
        const char *word = dieset_text(c->d, c->plate, words[i]);
        base_text_addf(&t, "%s%s", *word ? ", " : "", word);
    }
    report_line_within(p, "%s: %s%s", dieset_item_title(c->d, c->plate), base_text_get(&t),
                      c->state == DIESET_GROUND ? ", as it is when fully ground" : "");
    base_text_done(&t);
}

static void chart(struct dieset *d, int plate, enum dieset_state s, enum report_corner from,
                  struct report_paper *p)
{
    struct chart c = {d, plate, s, corner_of(d, plate, s, from), dieset_plate(d, plate, s).thickness_now};
    head(&c, p);
    int n;
    struct entry *at = entries(&c, &n);
    for (int i = 0; i < n; i++) {
        hole_row(&c, &at[i], p);
        outline_rows(&c, &at[i], p);
    }
    free(at);
}

void report_holes(struct dieset *d, int plate, enum dieset_state s, enum report_corner from,
                  struct report_paper *p)
{
    const struct report_column columns[] = {
        {"plate", NULL, false},     {"hole", "no", true},       {"group", "group", false},
        {"x", "x", true},           {"y", "y", true},           {"face", "face", false},
        {"operation", NULL, false}, {"diameter", "dia", true},  {"depth", NULL, true},
        {NULL, "depth", true},      {"fit", NULL, false},       {"thread", NULL, false},
        {NULL, "fit", false},       {NULL, "operation", false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    struct dieset_layer layers[64];
    int n = plate < 0 ? dieset_stack(d, s, layers, COUNT_OF(layers)) : 0;
    if (plate >= 0)
        chart(d, plate, s, from, p);
    for (int i = 0; i < n; i++)
        chart(d, layers[i].plate, s, from, p);
    report_line_above(p,
                      "x and y in %s from the plate's %s corner, seen from above; depths from the face named",
                      unit_display(UNIT_LENGTH, dieset_system(d)).name,
                      corner_of(d, plate < 0 && n ? layers[0].plate : plate, s, from).name);
    words_cautions(p, d);
}
