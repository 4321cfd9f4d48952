/* What is measured: of each plate its size and its holes, of the stack its heights. */

#include "report/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct inspection {
    struct report_paper *p;
    const struct report_chart *c;
    const char *class;
    double places, openings; /* limits each way: of what is bored, ground or cut to place, of die openings */
};

static const double NO_LIMIT = NAN;

/* A row of any unit; NaN: nothing is told. */
static void put_row(const struct inspection *w, const char *mark, const char *what, double nominal,
                    double lower, double upper)
{
    report_text(w->p, dieset_item_name(w->c->d, w->c->plate));
    report_text(w->p, mark);
    report_text(w->p, what);
    words_length(w->p, w->c->d, nominal);
    words_length(w->p, w->c->d, lower);
    words_length(w->p, w->c->d, upper);
    report_text(w->p, NULL);
    report_text(w->p, NULL);
}

/* A length, OFF each way; NaN: as the general class lets it be. */
static void row(const struct inspection *w, const char *mark, const char *what, double nominal, double off)
{
    if (!isfinite(off) && !report_general(w->c->d, w->class, fabs(nominal), &off))
        off = NAN;
    put_row(w, mark, what, nominal, nominal - off, nominal + off);
}

/* Openings and seats that are cut or ground when the plate is hard; those without a fit have limits of their
 * own. */
static bool cut_after(const struct dieset_hole *h)
{
    return h->spec && h->spec->after_hardening && !*h->thread;
}

/* Is the place as exact as the plate's limits of places? It is when one of the steps made there has a fit or
   is cut after hardening, whichever comes first; others only have to let something through. */
static bool exact(const struct report_chart *c, const struct report_place *e)
{
    for (int i = 0; i < c->n; i++)
        if (c->at[i].letter == e->letter && c->at[i].figure == e->figure &&
            (*c->at[i].hole.fit || cut_after(&c->at[i].hole)))
            return true;
    return false;
}

/* Of a screw, or of a shoulder. */
static bool is_clear(const struct dieset_hole *h) { return strncmp(h->operation, "clear", 5) == 0; }

double report_screw_share(const struct report_chart *c, const struct dieset_hole *h)
{
    struct dieset_layer layers[64];
    int n = dieset_stack(c->d, c->state, layers, COUNT_OF(layers));
    double play = NAN;
    bool for_screw = h->nominal > 0 && (*h->thread || is_clear(h));
    for (int i = 0; i < n && for_screw; i++) {
        int first, count = dieset_item_holes(c->d, layers[i].plate, h->item, &first);
        for (int k = first; k < first + count; k++) {
            struct dieset_hole o;
            dieset_hole(c->d, k, c->state, &o);
            bool lets_through = is_clear(&o) && fabs(o.x - h->x) < 1e-6 && fabs(o.y - h->y) < 1e-6 &&
                                o.nominal > 0;
            if (lets_through && !(play < o.diameter - o.nominal))
                play = o.diameter - o.nominal;
        }
    }
    return floor(play / 2 / (2 * sqrt(2)) * 100 + 1e-6) / 100;
}

/* Limits of the place of row E along an edge that it is SIZE from. */
static double place_limit(const struct inspection *w, const struct report_place *e, double size)
{
    const struct report_chart *c = w->c;
    double limit, share;
    if (exact(c, e))
        return w->places;
    if (!report_general(c->d, w->class, fabs(size), &limit))
        limit = NAN;
    for (int i = 0; i < c->n; i++)
        if (c->at[i].letter == e->letter && c->at[i].figure == e->figure) {
            share = report_screw_share(c, &c->at[i].hole);
            limit = share > 0 ? fmin(limit, share) : limit;
        }
    return limit;
}

/* A size of the hole, to its fit where it has one, an opening to the limits of openings. */
static void size_row(const struct inspection *w, const struct dieset_hole *h, const char *mark,
                     const char *what, double size)
{
    double lower, upper;
    if (*h->fit && report_limits(w->c->d, h->fit, size, &lower, &upper))
        put_row(w, mark, what, size, size + lower, size + upper);
    else
        row(w, mark, what, size, *h->fit || cut_after(h) ? w->openings : NO_LIMIT);
}

static void shape_rows(const struct inspection *w, const struct dieset_hole *h, const char *mark,
                       const char *title)
{
    const struct { const char *what; double size; } sizes[] = {
        {"along", h->length}, {"across", h->width}, {"corner radius", h->corner}};
    if (words_by_outline(h)) {
        char *what = base_format("%s, outline by the hole chart, off it at most", title);
        put_row(w, mark, what, NAN, NAN, *h->fit || cut_after(h) ? w->openings : NAN);
        free(what);
    }
    for (size_t i = 0; i < COUNT_OF(sizes); i++)
        if (sizes[i].size > 0) {
            char *what = base_format("%s %s%s%s", title, sizes[i].what, *h->fit ? " " : "", h->fit);
            size_row(w, h, mark, what, sizes[i].size);
            free(what);
        }
}

static void round_row(const struct inspection *w, const struct dieset_hole *h, const char *mark,
                      const char *title)
{
    if (*h->thread) {
        /* a thread's core has limits of its own (ISO 965-1), not those of the general class */
        char *drill = base_format("%s, drill", title);
        char *thread = base_format("%s, thread %s by gauge", title, h->thread);
        put_row(w, mark, drill, h->diameter, NAN, NAN);
        put_row(w, mark, thread, NAN, NAN, NAN);
        free(drill);
        free(thread);
        return;
    }
    char *what = base_format("%s%s%s", title, *h->fit ? " " : "", h->fit);
    size_row(w, h, mark, what, h->diameter);
    free(what);
}

static double of_stack(struct dieset *d, const char *what)
{
    int stack = dieset_item_of_kind(d, DIESET_STACK);
    return stack < 0 ? NAN : dieset_number(d, stack, what, DIESET_NEW);
}

static void land_rows(const struct inspection *w, const struct dieset_hole *h, const char *mark)
{
    if (h->relief <= 0)
        return;
    row(w, mark, "land", h->land, NO_LIMIT);
    struct unit_display deg = unit_display(UNIT_ANGLE, dieset_system(w->c->d));
    double off = of_stack(w->c->d, "deviation_relief");
    char *what = base_format("relief a side, %s", deg.name);
    report_text(w->p, dieset_item_name(w->c->d, w->c->plate));
    report_text(w->p, mark);
    report_text(w->p, what);
    const double figures[] = {h->relief, fmax(h->relief - off, 0), h->relief + off};
    for (size_t i = 0; i < COUNT_OF(figures); i++)
        report_number(w->p, i && !isfinite(off) ? NAN : figures[i] / deg.factor, 2);
    report_text(w->p, NULL);
    report_text(w->p, NULL);
    free(what);
}

static void hole_rows(const struct inspection *w, const struct report_place *e)
{
    const struct dieset_hole *h = &e->hole;
    char mark[16];
    struct base_text title = {0};
    report_mark(e, mark, sizeof mark);
    if (e->first) {
        row(w, mark, "x", e->x, place_limit(w, e, e->x));
        row(w, mark, "y", e->y, place_limit(w, e, e->y));
    }
    base_text_add(&title, words_title(h));
    if (words_round(h))
        round_row(w, h, mark, base_text_get(&title));
    else
        shape_rows(w, h, mark, base_text_get(&title));
    land_rows(w, h, mark);
    if (words_start(w->c, h) > 1e-6)
        row(w, mark, "begins below the face by", words_start(w->c, h), NO_LIMIT);
    if (!h->through)
        row(w, mark, *h->thread ? "depth of the drill" : "depth", words_depth(w->c, h), NO_LIMIT);
    if (*h->thread && h->thread_depth > 0)
        row(w, mark, "depth of the thread", h->thread_depth, NO_LIMIT);
    base_text_done(&title);
}

static int by_mark(const void *a, const void *b)
{
    const struct report_place *p = *(const struct report_place *const *)a,
                              *q = *(const struct report_place *const *)b;
    if (p->letter != q->letter)
        return p->letter < q->letter ? -1 : 1;
    return p->figure != q->figure ? (p->figure < q->figure ? -1 : 1) : (p > q) - (p < q);
}

const struct report_place **words_by_mark(const struct report_chart *c)
{
    const struct report_place **rows = base_alloc((size_t)c->n * sizeof *rows + 1);
    for (int i = 0; i < c->n; i++)
        rows[i] = &c->at[i];
    qsort(rows, (size_t)c->n, sizeof *rows, by_mark);
    return rows;
}

/* In Rockwell C, whatever it is told in; none is told of what stays as it is bought. */
static void hardness_row(const struct inspection *w)
{
    double least = dieset_number(w->c->d, w->c->plate, "hardness_least", DIESET_NEW),
           most = dieset_number(w->c->d, w->c->plate, "hardness_most", DIESET_NEW);
    if (!isfinite(least))
        return;
    report_text(w->p, dieset_item_name(w->c->d, w->c->plate));
    report_text(w->p, "");
    report_text(w->p, "hardness, HRC");
    report_text(w->p, NULL);
    report_number(w->p, least, 1);
    report_number(w->p, most, 1);
    report_text(w->p, NULL);
    report_text(w->p, NULL);
}

static void inspect(struct dieset *d, int plate, const char *class, struct report_paper *p)
{
    struct report_datum from;
    struct report_chart c;
    struct dieset_plate size = dieset_plate(d, plate, DIESET_NEW);
    if (report_datum_named(d, plate, DIESET_NEW, NULL, &from, NULL))
        return;
    report_chart_make(d, plate, DIESET_NEW, &from, &c);
    const struct inspection w = {p, &c, class, dieset_number(d, plate, "deviation_places", DIESET_NEW),
                                 dieset_number(d, plate, "deviation_openings", DIESET_NEW)};
    const char *hardness = dieset_text(d, plate, "hardness");
    report_line_within(p, "%s, %s%s%s; x and y from %s", dieset_item_title(d, plate),
                       dieset_text(d, plate, "material"), *hardness ? " " : "", hardness, from.name);
    row(&w, "", "thickness", size.thickness,
        dieset_number(d, plate, "deviation_thickness", DIESET_NEW));
    double parallel = dieset_number(d, plate, "parallel", DIESET_NEW);
    if (isfinite(parallel))
        put_row(&w, "", "faces parallel within", NAN, NAN, parallel);
    row(&w, "", "length", size.length, NO_LIMIT);
    row(&w, "", "width", size.width, NO_LIMIT);
    hardness_row(&w);
    const struct report_place **list = words_by_mark(&c);
    for (int i = 0; i < c.n; i++)
        hole_rows(&w, list[i]);
    free(list);
    report_chart_done(&c);
}

void report_inspection(struct dieset *d, int plate, struct report_paper *p)
{
    static const struct report_column columns[] = {
        {"plate", NULL, false},      {"mark", "hole", false},  {"what", "what", false},
        {"nominal", "nominal", true}, {"lower", "lower", true}, {"upper", "upper", true},
        {"measured", "measured", false}, {"remark", "remark", false},
    };
    int job = dieset_item_of_kind(d, DIESET_JOB);
    const char *class = job < 0 ? "" : dieset_text(d, job, "tolerances");
    struct dieset_layer layers[64];
    report_begin(p, columns, COUNT_OF(columns));
    int n = plate < 0 ? dieset_stack(d, DIESET_NEW, layers, COUNT_OF(layers)) : 0;
    if (plate >= 0)
        inspect(d, plate, class, p);
    for (int i = 0; i < n; i++)
        inspect(d, layers[i].plate, class, p);
    report_line_above(p, "Sizes in %s at 20 \u00b0C (ISO 1); limits of fits by ISO 286-2",
                      unit_display(UNIT_LENGTH, dieset_system(d)).name);
    if (*class && strcmp(class, "not told") != 0)
        report_line_above(p, "Sizes without limits of their own by ISO 2768-1 %s.", class);
    else
        report_line_above(p, "Sizes without limits of their own: no class is told for them.");
    report_line_above(p, "Inspected by ____________  on ____________  serial number ____________");
    words_general(p, d);
}
