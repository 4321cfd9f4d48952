/* Running dimensions: one figure for each place, read from a datum, moved apart where they would meet. */

#include "sheet/inside.h"

#include <math.h>
#include <stdlib.h>

/* The line to a figure: from the plate straight, oblique, straight; then the figure. */
static const double FROM = 1.5, BEND = 6, BENT = 12, FIGURE = 15;
/* Heights of figures with the pitch that they need (1.6 of the height). */
static const double heights[] = {SHEET_LETTERS, SHEET_CAPTION};

static int by_place(const void *a, const void *b)
{
    const struct sheet_dim *p = a, *q = b;
    return (p->at > q->at) - (p->at < q->at);
}

/* Sorted, those alike once. */
static int once(struct sheet_dim *at, int n)
{
    int kept = 0;
    if (n)
        qsort(at, (size_t)n, sizeof *at, by_place);
    for (int i = 0; i < n; i++)
        if (!kept || at[i].at - at[kept - 1].at > 5e-4)
            at[kept++] = at[i];
    return kept;
}

/* Where the figures stand, and how high they are; 0: there is no room. */
static double spread(const struct sheet_dim *at, int n, double low, double high, double *out)
{
    double *wanted = base_alloc((size_t)n * sizeof *wanted + 1), found = 0;
    for (int i = 0; i < n; i++)
        wanted[i] = at[i].at;
    for (size_t k = 0; k < COUNT_OF(heights) && !found && n; k++) {
        double pitch = 1.6 * heights[k], least = heights[k] / 2;
        draw_spread(wanted, n, pitch, out);
        if ((n - 1) * pitch > high - low - 2 * least)
            continue;
        /* what leaves the room on one side is pushed back into it */
        for (int i = 0; i < n; i++)
            out[i] = fmax(out[i], low + least + i * pitch);
        for (int i = n - 1; i >= 0; i--)
            out[i] = fmin(out[i], high - least - (n - 1 - i) * pitch);
        found = heights[k];
    }
    free(wanted);
    return found;
}

static char *figure(const struct dieset *d, double mm)
{
    char buf[40];
    return base_copy(unit_print_number(mm, UNIT_LENGTH, dieset_system(d), buf, sizeof buf));
}

bool sheet_dims_x(struct draw_sheet *s, const struct dieset *d, struct sheet_dim *at, int n, double edge,
                  double low, double high)
{
    n = once(at, n);
    double *where = base_alloc((size_t)n * sizeof *where + 1), height = spread(at, n, low, high, where);
    for (int i = 0; i < n && height > 0; i++) {
        char *text = figure(d, at[i].value);
        draw_line(s, DRAW_NARROW, at[i].at, edge - FROM, at[i].at, edge - BEND);
        draw_line(s, DRAW_NARROW, at[i].at, edge - BEND, where[i], edge - BENT);
        draw_line(s, DRAW_NARROW, where[i], edge - BENT, where[i], edge - FIGURE + 1);
        draw_words_up(s, where[i] + height / 2, edge - FIGURE, height, DRAW_RIGHT, text);
        free(text);
    }
    free(where);
    return height > 0;
}

bool sheet_dims_y(struct draw_sheet *s, const struct dieset *d, struct sheet_dim *at, int n, double edge,
                  double low, double high)
{
    n = once(at, n);
    double *where = base_alloc((size_t)n * sizeof *where + 1), height = spread(at, n, low, high, where);
    for (int i = 0; i < n && height > 0; i++) {
        char *text = figure(d, at[i].value);
        draw_line(s, DRAW_NARROW, edge - FROM, at[i].at, edge - BEND, at[i].at);
        draw_line(s, DRAW_NARROW, edge - BEND, at[i].at, edge - BENT, where[i]);
        draw_line(s, DRAW_NARROW, edge - BENT, where[i], edge - FIGURE + 1, where[i]);
        draw_words(s, edge - FIGURE, where[i] - height / 2, height, DRAW_RIGHT, 0, text);
        free(text);
    }
    free(where);
    return height > 0;
}
