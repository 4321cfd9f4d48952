/* The list of marks: lines, arcs, words, hatches. */

#include "draw/letters.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double PI = 3.14159265358979323846;

void draw_begin(struct draw_sheet *s, double width, double height)
{
    *s = (struct draw_sheet){.width = width, .height = height};
}

void draw_done(struct draw_sheet *s)
{
    base_vec_done(&s->marks);
    base_arena_done(&s->memory);
    *s = (struct draw_sheet){0};
}

static void put(struct draw_sheet *s, struct draw_mark m) { base_vec_push(&s->marks, m); }

void draw_line(struct draw_sheet *s, enum draw_pen pen, double x, double y, double x1, double y1)
{
    put(s, (struct draw_mark){.sort = DRAW_LINE, .pen = pen, .x = x, .y = y, .x1 = x1, .y1 = y1});
}

void draw_rectangle(struct draw_sheet *s, enum draw_pen pen, double x, double y, double x1, double y1)
{
    draw_line(s, pen, x, y, x1, y);
    draw_line(s, pen, x1, y, x1, y1);
    draw_line(s, pen, x1, y1, x, y1);
    draw_line(s, pen, x, y1, x, y);
}

void draw_arc(struct draw_sheet *s, enum draw_pen pen, double x, double y, double radius, double from,
              double sweep)
{
    put(s, (struct draw_mark){.sort = DRAW_ARC, .pen = pen, .x = x, .y = y, .radius = radius, .from = from,
                              .sweep = sweep});
}

void draw_circle(struct draw_sheet *s, enum draw_pen pen, double x, double y, double radius)
{
    draw_arc(s, pen, x, y, radius, 0, 2 * PI);
}

void draw_blank(struct draw_sheet *s, double x, double y, double x1, double y1)
{
    put(s, (struct draw_mark){.sort = DRAW_BLANK, .x = x, .y = y, .x1 = x1, .y1 = y1});
}

void draw_number(struct base_text *out, double v)
{
    char *text = base_format("%.4f", fabs(v) < 5e-5 ? 0 : v);
    size_t n = strlen(text);
    while (text[n - 1] == '0')
        n--;
    base_text_add_n(out, text, text[n - 1] == '.' ? n - 1 : n);
    free(text);
}

/* ---- words ---------------------------------------------------------------------------- */

/* TEXT with what has no letter here as its code. Yours to free(). */
static char *lettered(const char *text)
{
    struct base_text seen = {0}, out = {0};
    base_text_add_visible(&seen, text, strlen(text), false);
    for (const char *at = base_text_get(&seen); *at;) {
        uint32_t ch;
        size_t n = base_char(at, strlen(at), &ch);
        if (letter_known(ch))
            base_text_add_n(&out, at, n);
        else
            base_text_addf(&out, "<U+%04X>", (unsigned)ch);
        at += n;
    }
    base_text_done(&seen);
    return base_text_take(&out);
}

/* In tenths of the height, with the gap behind the last letter. */
static double advance(const char *text, size_t bytes)
{
    double sum = 0;
    for (size_t at = 0; at < bytes && text[at];) {
        uint32_t ch;
        size_t n = base_char(text + at, strlen(text + at), &ch);
        sum += letter_advance(ch);
        at += n ? n : 1;
    }
    return sum;
}

static double width_of(const char *lettered_text, double height)
{
    double tenths = advance(lettered_text, strlen(lettered_text));
    return tenths > 2 ? (tenths - 2) * height / 10 : 0;
}

double draw_width(const char *text, double height)
{
    char *words = lettered(text);
    double width = width_of(words, height);
    free(words);
    return width;
}

size_t draw_fit(const char *text, double height, double most)
{
    size_t blank = 0, at = 0;
    while (text[at]) {
        size_t next = at + 1;
        while (text[next] && text[next] != ' ')
            next++;
        char *part = base_copy_n(text, next);
        bool fits = draw_width(part, height) <= most;
        free(part);
        if (!fits)
            return blank ? blank : next;
        blank = at = next;
    }
    return at;
}

/* Cut from behind till it goes into MOST at its tightest, two points at the end. */
static char *cut_to(char *words, double height, double most)
{
    size_t n = strlen(words);
    while (n && width_of(words, height) * DRAW_TIGHTEST > most) {
        n = base_char_start(words, n);
        char *shorter = base_format("%.*s..", (int)n, words);
        free(words);
        words = shorter;
    }
    return words;
}

static void put_words(struct draw_sheet *s, double x, double y, double height, enum draw_anchor anchor,
                      double most, bool up, const char *text)
{
    char *words = lettered(text);
    if (most > 0)
        words = cut_to(words, height, most);
    double width = width_of(words, height), squeeze = most > 0 && width > most ? most / width : 1;
    double back = (anchor == DRAW_LEFT ? 0 : anchor == DRAW_MIDDLE ? 0.5 : 1) * width * squeeze;
    if (*words)
        put(s, (struct draw_mark){.sort = DRAW_WORDS, .pen = DRAW_NARROW, .x = up ? x : x - back,
                                  .y = up ? y - back : y, .text = base_arena_copy(&s->memory, words),
                                  .height = height, .squeeze = squeeze, .up = up});
    free(words);
}

void draw_words(struct draw_sheet *s, double x, double y, double height, enum draw_anchor anchor, double most,
                const char *text)
{
    put_words(s, x, y, height, anchor, most, false, text);
}

void draw_words_up(struct draw_sheet *s, double x, double y, double height, enum draw_anchor anchor,
                   const char *text)
{
    put_words(s, x, y, height, anchor, 0, true, text);
}

struct draw_box draw_words_box(const struct draw_mark *m)
{
    double width = width_of(m->text, m->height) * m->squeeze, high = m->height, low = m->height * 0.3;
    if (m->up)
        return (struct draw_box){m->x - high, m->x + low, m->y, m->y + width};
    return (struct draw_box){m->x, m->x + width, m->y - low, m->y + high};
}

/* ---- hatches ---------------------------------------------------------------------------- */

struct span { double from, to; };

/* The part of the line y = x + C over a box, as x from ... to; false: none. */
static bool span_in(const struct draw_box *b, double c, struct span *out)
{
    out->from = fmax(b->left, b->front - c);
    out->to = fmin(b->right, b->back - c);
    return out->to > out->from + 1e-9;
}

static int by_from(const void *a, const void *b)
{
    const struct span *p = a, *q = b;
    return (p->from > q->from) - (p->from < q->from);
}

static void hatch_line(struct draw_sheet *s, double c, struct span whole, struct span *gaps, int n)
{
    double at = whole.from;
    if (n)
        qsort(gaps, (size_t)n, sizeof *gaps, by_from);
    for (int i = 0; i <= n; i++) {
        double to = i < n ? fmin(gaps[i].from, whole.to) : whole.to;
        if (to > at + 1e-6)
            draw_line(s, DRAW_FINE, at, at + c, to, to + c);
        if (i < n)
            at = fmax(at, gaps[i].to);
    }
}

void draw_hatch(struct draw_sheet *s, const struct draw_box *box, const struct draw_box *out, int n,
                double pitch)
{
    double step = pitch * sqrt(2), first = box->front - box->right, last = box->back - box->left;
    struct span *gaps = base_alloc((size_t)n * sizeof *gaps + 1);
    for (double c = step * ceil(first / step); c < last; c += step) {
        struct span whole;
        int found = 0;
        for (int i = 0; i < n; i++)
            found += span_in(&out[i], c, &gaps[found]);
        if (span_in(box, c, &whole))
            hatch_line(s, c, whole, gaps, found);
    }
    free(gaps);
}

/* ---- figures that would meet ---------------------------------------------------------------- */

/* Pool adjacent violators: what is wanted less its rank times the pitch has to rise, so neighbours that
 * fall are given their mean. Least squares under an order is that (Barlow and others, 1972; from memory). */
void draw_spread(const double *at, int n, double pitch, double *out)
{
    double *mean = base_alloc((size_t)n * sizeof *mean + 1);
    int *count = base_alloc((size_t)n * sizeof *count + 1), blocks = 0;
    for (int i = 0; i < n; i++) {
        mean[blocks] = at[i] - i * pitch;
        count[blocks++] = 1;
        while (blocks > 1 && mean[blocks - 2] > mean[blocks - 1]) {
            int a = count[blocks - 2], b = count[blocks - 1];
            mean[blocks - 2] = (mean[blocks - 2] * a + mean[blocks - 1] * b) / (a + b);
            count[blocks - 2] = a + b;
            blocks--;
        }
    }
    for (int b = 0, i = 0; b < blocks; b++)
        for (int k = 0; k < count[b]; k++, i++)
            out[i] = mean[b] + i * pitch;
    free(mean);
    free(count);
}
