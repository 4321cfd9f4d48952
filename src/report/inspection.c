/* What is measured: of each plate its size and its holes, of the stack its heights. */

#include "report/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct inspection { struct report_paper *p; const struct report_chart *c; const char *class; };

/* A row: LOWER and UPPER are sizes, NaN where nothing limits them; then the general tolerances do. */
static void row(const struct inspection *w, const char *mark, const char *what, double nominal, double lower,
                double upper)
{
    double off;
    if (!isfinite(lower) && report_general(w->c->d, w->class, fabs(nominal), &off)) {
        lower = nominal - off;
        upper = nominal + off;
    }
    report_text(w->p, dieset_item_name(w->c->d, w->c->plate));
    report_text(w->p, mark);
    report_text(w->p, what);
    words_length(w->p, w->c->d, nominal);
    words_length(w->p, w->c->d, lower);
    words_length(w->p, w->c->d, upper);
    report_text(w->p, NULL);
    report_text(w->p, NULL);
}

static void hole_rows(const struct inspection *w, const struct report_place *e)
{
    const struct dieset_hole *h = &e->hole;
    char mark[16];
    double lower = NAN, upper = NAN;
    struct base_text what = {0};
    report_mark(e, mark, sizeof mark);
    if (e->first) {
        row(w, mark, "x", e->x, NAN, NAN);
        row(w, mark, "y", e->y, NAN, NAN);
    }
    words_operation(w->c, h, &what);
    if (*h->thread)
        base_text_addf(&what, ", thread %s", h->thread);
    else if (*h->fit)
        base_text_addf(&what, " %s", h->fit);
    if (*h->fit && words_round(h) && report_limits(w->c->d, h->fit, h->diameter, &lower, &upper)) {
        lower += h->diameter;
        upper += h->diameter;
    }
    /* a thread's core has limits of its own (ISO 965-1), not those of the general class */
    struct inspection bare = *w;
    if (*h->thread)
        bare.class = "";
    row(&bare, mark, base_text_get(&what), words_round(h) ? h->diameter : NAN, lower, upper);
    if (!h->through)
        row(w, mark, "depth", words_depth(w->c, h), NAN, NAN);
    if (*h->thread && h->thread_depth > 0)
        row(w, mark, "depth of thread", h->thread_depth, NAN, NAN);
    base_text_done(&what);
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

static double limits_of(struct dieset *d)
{
    int job = dieset_item_of_kind(d, DIESET_JOB);
    return job < 0 ? NAN : dieset_number(d, job, "stack_limits", DIESET_NEW);
}

static void inspect(struct dieset *d, int plate, const char *class, struct report_paper *p)
{
    struct report_datum from;
    struct report_chart c;
    struct dieset_plate size = dieset_plate(d, plate, DIESET_NEW);
    double off = limits_of(d);
    if (report_datum_named(d, plate, DIESET_NEW, NULL, &from, NULL))
        return;
    report_chart_make(d, plate, DIESET_NEW, &from, &c);
    const struct inspection w = {p, &c, class};
    report_line_within(p, "%s, %s %s; x and y from %s", dieset_item_title(d, plate),
                       dieset_text(d, plate, "material"), dieset_text(d, plate, "hardness"), from.name);
    row(&w, "", "thickness", size.thickness, size.thickness - off, size.thickness + off);
    double parallel = dieset_number(d, plate, "parallel", DIESET_NEW);
    if (isfinite(parallel))
        row(&w, "", "parallel within", 0, 0, parallel);
    row(&w, "", "length", size.length, NAN, NAN);
    row(&w, "", "width", size.width, NAN, NAN);
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
        report_line_above(p, "Sizes without limits: the job tells no class (job.tolerances).");
    report_line_above(p, "Inspected by ____________  on ____________  serial number ____________");
    words_general(p, d);
}

static bool measured_any(struct dieset *d)
{
    struct formula_value v = {0};
    int q = dieset_find(d, "stack.is_measured");
    if (q >= 0)
        v = dieset_value(d, q, DIESET_NEW);
    return !v.error && v.number != 0;
}

void report_stack(struct dieset *d, struct report_paper *p)
{
    static const struct report_column columns[] = {
        {"plate", "plate", false}, {"thickness", "thickness", true}, {"lower", "lower", true},
        {"upper", "upper", true},  {"bottom", "bottom", true},       {"top", "top", true},
        {"measured", "measured", true},
    };
    struct dieset_layer layers[64];
    double off = limits_of(d), sum = 0;
    char shut[40], ground[40], all[40];
    int n = dieset_stack(d, DIESET_NEW, layers, COUNT_OF(layers));
    report_begin(p, columns, COUNT_OF(columns));
    for (int i = 0; i < n; i++) {
        double thick = dieset_plate(d, layers[i].plate, DIESET_NEW).thickness;
        report_text(p, dieset_item_name(d, layers[i].plate));
        words_length(p, d, thick);
        words_length(p, d, thick - off);
        words_length(p, d, thick + off);
        words_length(p, d, layers[i].bottom);
        words_length(p, d, layers[i].top);
        words_length(p, d, dieset_number(d, layers[i].plate, "measured", DIESET_NEW));
        sum += isfinite(off) ? off : 0;
    }
    struct unit_system u = dieset_system(d);
    report_line_above(p, "Thicknesses as made, heights over the lower shoe's bottom face, ram at shut, in %s",
                      unit_display(UNIT_LENGTH, u).name);
    report_line_below(p, "Shut height %s new, %s fully ground; all plates at their limits: %s each way.",
                      unit_print(dieset_shut_height(d, DIESET_NEW), UNIT_LENGTH, u, shut, sizeof shut),
                      unit_print(dieset_shut_height(d, DIESET_GROUND), UNIT_LENGTH, u, ground, sizeof ground),
                      unit_print(sum, UNIT_LENGTH, u, all, sizeof all));
    double measured = dieset_number(d, dieset_item_of_kind(d, DIESET_STACK), "measured_shut", DIESET_NEW);
    if (isfinite(measured) && measured_any(d))
        report_line_below(p, "Shut height as measured %s; what no longer holds stands in the findings.",
                          unit_print(measured, UNIT_LENGTH, u, all, sizeof all));
    words_general(p, d);
}
