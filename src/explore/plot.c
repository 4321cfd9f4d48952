/* The plot: a grid of characters. Point i stands in column column_of(i); several points may share one.
 *
 *     gutter | columns of points            words
 *      244.0 |               *  *
 *      240.0 |-------*--*---------         press: at least 240.0 mm
 *         mm  10    11    12
 *      press  X  X  .  .  .  .             fault, ground
 */

#include "explore/explore.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WORDS = 27, LEAST = 60, SPREAD = 6, MOST_BANDS = 14, LINE = 400 };

struct plot {
    const struct explore *x;
    struct base_text *out;
    int width, gutter, columns; /* columns: that points use */
    struct unit_display unit;   /* of the range */
};

/* ---- lines --------------------------------------------------------------------------------------------- */

/* One column a character, whatever a name is written in. */
static void add_plain(char *line, size_t size, const char *text)
{
    size_t n = strlen(line);
    while (*text && n + 1 < size) {
        uint32_t ch = base_next_char(&text);
        line[n++] = ch < 0x80 ? (char)ch : '?';
    }
    line[n] = '\0';
}

static void put_line(struct plot *p, const char *label, char bar, const char *columns, const char *words)
{
    char line[LINE], whole[LINE] = "";
    snprintf(line, sizeof line, "%*.*s %c%-*.*s  %s", p->gutter, p->gutter, label, bar, p->columns,
             p->columns, columns, words);
    add_plain(whole, sizeof whole < (size_t)p->width + 1 ? sizeof whole : (size_t)p->width + 1, line);
    size_t n = strlen(whole);
    while (n && whole[n - 1] == ' ')
        n--;
    base_text_add_n(p->out, whole, n);
    base_text_add(p->out, "\n");
}

/* Words on lines of their own, broken at blanks. */
static void put_words(struct plot *p, const char *words)
{
    size_t room = (size_t)p->width, size = strlen(words) + 1;
    char *plain = base_alloc(size), *at = plain;
    add_plain(plain, size, words);
    for (bool first = true; *at; first = false) {
        size_t indent = first ? 0 : 2, n = strlen(at);
        if (n > room - indent) {
            n = room - indent;
            while (n > 0 && at[n] != ' ')
                n--;
            n = n ? n : room - indent;
        }
        size_t end = n;
        while (end && at[end - 1] == ' ')
            end--;
        base_text_addf(p->out, "%*s%.*s\n", (int)indent, "", (int)end, at);
        at += n + strspn(at + n, " ");
    }
    free(plain);
}

/*  where a point stands ---------------------------------------------------------------------------------- */

static int column_of(const struct plot *p, int point)
{
    return p->x->n < 2 ? 0 : (int)((long)point * (p->columns - 1) / (p->x->n - 1));
}

/* -1: outside the range */
static int column_at(const struct plot *p, double value)
{
    const double *at = p->x->at;
    int n = p->x->n, i = 0;
    double slack = 1e-9 * fmax(fabs(at[0]), fabs(at[n - 1]));
    if (!(value >= at[0] - slack && value <= at[n - 1] + slack))
        return -1;
    if (p->x->even || n < 2)
        return at[n - 1] > at[0] ? (int)lround((value - at[0]) / (at[n - 1] - at[0]) * (p->columns - 1)) : 0;
    while (i < n - 2 && value > at[i + 1] + slack)
        i++;
    double share = (value - at[i]) / (at[i + 1] - at[i]);
    return (int)lround(column_of(p, i) + fmax(0, fmin(1, share)) * (column_of(p, i + 1) - column_of(p, i)));
}

static void lay_out(struct plot *p, int room)
{
    int n = p->x->n;
    int apart = n < 2 ? 1 : (room - 1) / (n - 1);
    if (apart > SPREAD)
        apart = SPREAD;
    p->columns = n < 2 ? 1 : apart >= 1 ? (n - 1) * apart + 1 : room;
}

static const char *short_number(double value, char *buf, size_t size)
{
    snprintf(buf, size, "%.6g", value == 0 ? 0 : value);
    return buf;
}

/* ---- the scale ----------------------------------------------------------------------------------------- */

struct scale { double low, step; int rows; struct unit_display unit; };

/* The next of 1, 2, 2.5, 5, 10 ... at or over X. */
static double round_step(double x)
{
    static const double steps[] = {1, 2, 2.5, 5, 10};
    double ten = pow(10, floor(log10(x)));
    for (size_t i = 0; i < COUNT_OF(steps); i++)
        if (steps[i] * ten >= x * (1 - 1e-9))
            return steps[i] * ten;
    return 10 * ten;
}

static void widen(double *low, double *high, double value)
{
    *low = fmin(*low, value);
    *high = fmax(*high, value);
}

/* A limit is shown when it is no farther from the values than they are from each other. */
static bool limit_near(double low, double high, double limit)
{
    double span = fmax(high - low, 0.02 * fmax(fabs(low), fabs(high)));
    return limit >= low - span && limit <= high + span;
}

static bool find_scale(const struct plot *p, int shown, int height, struct scale *s)
{
    const struct explore *x = p->x;
    double low = INFINITY, high = -INFINITY;
    s->unit = unit_display(x->shown[shown].type.type.dim, x->system);
    for (int i = 0; i < x->n; i++)
        for (int state = 0; state < DIESET_STATES; state++) {
            struct formula_value v = explore_value(x, shown, (enum dieset_state)state, i);
            if (!v.error)
                widen(&low, &high, v.number / s->unit.factor);
        }
    if (low > high)
        return false;
    double least = low, most = high;
    for (size_t i = 0; i < x->limits.count; i++)
        if (x->limits.at[i].shown == shown && limit_near(least, most, x->limits.at[i].limit / s->unit.factor))
            widen(&low, &high, x->limits.at[i].limit / s->unit.factor);
    for (double wanted = (high - low) / fmax(1, height - 1);; wanted = s->step * 1.01) {
        s->step = wanted > 1e-12 * fmax(1, fabs(high)) ? round_step(wanted) : pow(10, -s->unit.decimals);
        s->low = round(low / s->step) * s->step;
        s->rows = (int)lround((high - s->low) / s->step) + 1;
        if (s->rows <= height || height < 2)
            return true;
    }
}

static int row_of(const struct scale *s, double value)
{
    return (int)lround((value / s->unit.factor - s->low) / s->step);
}

/* ---- the points ---------------------------------------------------------------------------------------- */

const char *explore_relation(enum formula_relation r)
{
    switch (r) {
    case FORMULA_AT_LEAST:
        return "at least";
    case FORMULA_AT_MOST:
        return "at most";
    case FORMULA_MORE:
        return "more than";
    case FORMULA_LESS:
        return "less than";
    case FORMULA_EQUAL:
        return "just";
    case FORMULA_UNEQUAL:
        return "not";
    }
    return "";
}

static void draw_limits(const struct plot *p, int shown, const struct scale *s, int row, char *columns,
                        char *words, size_t size)
{
    for (size_t i = 0; i < p->x->limits.count; i++) {
        const struct explore_limit *l = &p->x->limits.at[i];
        char number[40];
        size_t n = strlen(words);
        if (l->shown != shown || row_of(s, l->limit) != row)
            continue;
        memset(columns, '-', (size_t)p->columns);
        if (strstr(words, l->title))
            continue; /* the same in the other state */
        unit_print_number(l->limit, p->x->shown[shown].type.type.dim, p->x->system, number, sizeof number);
        snprintf(words + n, size - n, "%s%s %s %s", n ? "; " : "", l->title, explore_relation(l->relation),
                 number);
    }
}

static void draw_points(const struct plot *p, int shown, const struct scale *s, int row, char *columns)
{
    for (int i = 0; i < p->x->n; i++)
        for (int state = 0; state < (p->x->shown[shown].stateful ? DIESET_STATES : 1); state++) {
            struct formula_value v = explore_value(p->x, shown, (enum dieset_state)state, i);
            char *at = &columns[column_of(p, i)], mine = state == DIESET_NEW ? '*' : 'o',
                 other = state == DIESET_NEW ? 'o' : '*';
            if (!v.error && row_of(s, v.number) == row)
                *at = *at == other || *at == '@' ? '@' : mine;
        }
}

static void put_points(struct plot *p, int shown, const struct scale *s)
{
    char *columns = base_alloc((size_t)p->columns + 1);
    for (int row = s->rows - 1; row >= 0; row--) {
        char label[40], words[LINE] = "";
        memset(columns, ' ', (size_t)p->columns);
        draw_limits(p, shown, s, row, columns, words, sizeof words);
        draw_points(p, shown, s, row, columns);
        double value = s->low + row * s->step;
        snprintf(label, sizeof label, "%.7g", fabs(value) < 1e-9 * s->step ? 0 : value);
        put_line(p, label, '|', columns, words);
    }
    free(columns);
}

/* Numbers under the points, as many as stand apart. */
static void put_range(struct plot *p)
{
    const struct explore *x = p->x;
    char *columns = base_alloc((size_t)p->columns + 20), number[40];
    int free_from = 0, widest = 1, every = 1;
    memset(columns, ' ', (size_t)p->columns + 12);
    for (int i = 0; i < x->n; i++) {
        int n = (int)strlen(short_number(x->at[i] / p->unit.factor, number, sizeof number));
        widest = n > widest ? n : widest;
    }
    while (every < x->n && column_of(p, every) < widest + 1)
        every = every % 5 == 0 || every == 1 ? every * 2 : every == 2 ? 5 : every + 1;
    for (int i = 0; i < x->n; i += every) {
        int at = column_of(p, i),
            n = (int)strlen(short_number(x->at[i] / p->unit.factor, number, sizeof number));
        if (at < free_from || at + n > p->columns + 12)
            continue;
        memcpy(columns + at, number, (size_t)n);
        free_from = at + n + 1;
    }
    int columns_were = p->columns;
    p->columns += 12; /* the last number may stand over the end */
    put_line(p, p->unit.name, ' ', columns, "");
    p->columns = columns_were;
    free(columns);
}

/* ---- bands --------------------------------------------------------------------------------------------- */

/* Of findings that change over the range: those of one rule make one band. */
struct band { const char *rule, *title; int first; };

/* Open, waived or absent, and not the same all over the range? */
static bool changes(const struct explore *x, const struct explore_finding *f)
{
    int taken = 0;
    for (int i = 0; i < x->n; i++)
        taken += !x->refused[i];
    return f->count < taken || (f->waived > 0 && f->waived < f->count);
}

static bool in_band(const struct explore_finding *f, const struct band *b)
{
    return strcmp(f->rule, b->rule) == 0;
}

static int find_bands(const struct explore *x, struct band *bands, int room)
{
    int n = 0;
    for (size_t i = 0; i < x->findings.count; i++) {
        const struct explore_finding *f = &x->findings.at[i];
        bool there = !changes(x, f);
        for (int k = 0; k < n && k < room && !there; k++)
            there = in_band(f, &bands[k]);
        if (there)
            continue;
        if (n < room)
            bands[n] = (struct band){f->rule, f->title, (int)i};
        n++;
    }
    return n;
}

/* The worst of band B at POINT: a grade, EXPLORE_WAIVED or EXPLORE_ABSENT. */
static int band_at(const struct explore *x, const struct band *b, int point)
{
    int worst = EXPLORE_ABSENT;
    for (size_t k = 0; k < x->findings.count; k++) {
        const struct explore_finding *f = &x->findings.at[k];
        if (f->grades[point] > worst && in_band(f, b) && changes(x, f))
            worst = f->grades[point];
    }
    return worst;
}

static void draw_band(const struct plot *p, const struct band *b, char *columns)
{
    enum { HOLDS = 1, FAILS = 2, WAIVED = 4 };
    const struct explore *x = p->x;
    char *seen = base_alloc((size_t)p->columns);
    for (int i = 0; i < x->n; i++) {
        int here = band_at(x, b, i);
        if (x->refused[i])
            columns[column_of(p, i)] = '?';
        else
            seen[column_of(p, i)] |= here >= 0 ? FAILS : here == EXPLORE_WAIVED ? WAIVED : HOLDS;
    }
    for (int c = 0; c < p->columns; c++)
        if (seen[c])
            columns[c] = seen[c] & FAILS ? (seen[c] & HOLDS ? 'x' : 'X') : seen[c] & WAIVED ? '~' : '.';
    free(seen);
}

static void band_words(const struct explore *x, const struct band *b, char *out, size_t size)
{
    const struct explore_finding *first = &x->findings.at[b->first];
    int states = 0, others = 0;
    bool open = false;
    for (size_t i = 0; i < x->findings.count; i++)
        if (in_band(&x->findings.at[i], b) && changes(x, &x->findings.at[i])) {
            states |= (int)x->findings.at[i].states;
            others += (int)i != b->first;
            open = open || x->findings.at[i].waived < x->findings.at[i].count;
        }
    char more[24] = "";
    if (others)
        snprintf(more, sizeof more, " and %d more", others);
    snprintf(out, size, "%s%s%s%s%s", open ? handbook_grade_text(first->grade) : "waived",
             *first->subject ? ": " : "", first->subject, more,
             states == HANDBOOK_NEW      ? ", new"
             : states == HANDBOOK_GROUND ? ", ground"
                                         : "");
}

static bool any_waived(const struct explore *x)
{
    bool any = false;
    for (size_t i = 0; i < x->findings.count && !any; i++)
        any = x->findings.at[i].waived && changes(x, &x->findings.at[i]);
    return any;
}

static void put_bands(struct plot *p, const struct band *bands, int n)
{
    char *columns = base_alloc((size_t)p->columns + 1), words[LINE];
    int shown = n < MOST_BANDS ? n : MOST_BANDS;
    for (int i = 0; i < shown; i++) {
        memset(columns, ' ', (size_t)p->columns);
        draw_band(p, &bands[i], columns);
        band_words(p->x, &bands[i], words, sizeof words);
        put_line(p, bands[i].title, ' ', columns, words);
    }
    if (n > shown) {
        snprintf(words, sizeof words, "%*s  and %d more rules that change", p->gutter, "", n - shown);
        put_words(p, words);
    }
    free(columns);
}

/* ---- marks below the bands ----------------------------------------------------------------------------- */

static void put_clear(struct plot *p)
{
    char *columns = base_alloc((size_t)p->columns + 1);
    memset(columns, ' ', (size_t)p->columns);
    for (int i = 0; i < p->x->n; i++) {
        char *at = &columns[column_of(p, i)];
        *at = explore_clear(p->x, i) ? '#' : *at == '#' ? '#' : '.';
    }
    put_line(p, "all", ' ', columns, "# nothing above note");
    free(columns);
}

static void put_stock(struct plot *p)
{
    if (!p->x->n_stock)
        return;
    char *columns = base_alloc((size_t)p->columns + 1);
    memset(columns, ' ', (size_t)p->columns);
    bool any = false;
    for (int i = 0; i < p->x->n_stock; i++) {
        int at = column_at(p, p->x->stock[i]);
        if (at >= 0)
            columns[at] = 'x', any = true;
    }
    put_line(p, "listed", ' ', columns, any ? "listed sizes" : "no size listed here");
    free(columns);
}

static void put_now(struct plot *p)
{
    int at = column_at(p, p->x->now);
    if (at < 0)
        return;
    char *columns = base_alloc((size_t)p->columns + 1), number[40], words[60];
    memset(columns, ' ', (size_t)p->columns);
    columns[at] = '^';
    unit_print(p->x->now, p->x->type.type.dim, p->x->system, number, sizeof number);
    snprintf(words, sizeof words, "now %s", number);
    put_line(p, "", ' ', columns, words);
    free(columns);
}

/* What stands all over the range is one line: no value of it helps. */
static void put_throughout(struct plot *p)
{
    struct base_text t = {0};
    for (size_t i = 0; i < p->x->findings.count; i++) {
        const struct explore_finding *f = &p->x->findings.at[i];
        if (f->grade >= HANDBOOK_CAUTION && !changes(p->x, f) && f->count)
            base_text_addf(&t, "%s%s%s%s%s", t.length ? "; " : "Throughout: ", f->title,
                           *f->subject ? " (" : "", f->subject, *f->subject ? ")" : "");
        if (f->grade >= HANDBOOK_CAUTION && !changes(p->x, f) && f->waived)
            base_text_add(&t, ", waived");
    }
    if (t.length)
        put_words(p, base_text_get(&t));
    base_text_done(&t);
}

static void put_refused(struct plot *p)
{
    int n = 0, first = -1;
    for (int i = 0; i < p->x->n; i++)
        if (p->x->refused[i]) {
            first = first < 0 ? i : first;
            n++;
        }
    if (!n)
        return;
    struct base_text t = {0};
    base_text_addf(&t, "Not taken at %d of %d points; at %s: %s", n, p->x->n, p->x->text[first],
                   p->x->refused[first]);
    put_words(p, base_text_get(&t));
    base_text_done(&t);
}

/* ---- the whole ----------------------------------------------------------------------------------------- */

static void put_title(struct plot *p, int shown)
{
    const struct explore *x = p->x;
    char from[40], to[40], step[40];
    struct base_text t = {0};
    base_text_addf(&t, "%s  %s .. %s", x->path, short_number(x->at[0] / p->unit.factor, from, sizeof from),
                   short_number(x->at[x->n - 1] / p->unit.factor, to, sizeof to));
    if (x->n > 1 && x->even)
        base_text_addf(&t, " by %s", short_number((x->at[1] - x->at[0]) / p->unit.factor, step, sizeof step));
    base_text_addf(&t, " %s", p->unit.name);
    if (!x->even)
        base_text_addf(&t, ", %d sizes", x->n);
    put_words(p, base_text_get(&t));
    base_text_clear(&t);
    if (shown >= 0) {
        const char *unit = unit_display(x->shown[shown].type.type.dim, x->system).name;
        base_text_addf(&t, "%s%s%s%s", x->shown[shown].path, *unit ? ", " : "", unit,
                       x->shown[shown].stateful ? ": * new  o ground  @ both" : "");
        put_words(p, base_text_get(&t));
    }
    base_text_done(&t);
}

static int wider(int a, const char *text) { return (int)strlen(text) > a ? (int)strlen(text) : a; }

static int gutter_of(const struct plot *p, const struct scale *s, bool scaled, const struct band *bands,
                     int n)
{
    int width = wider(3, p->unit.name);
    char label[40];
    for (int row = 0; scaled && row < s->rows; row++) {
        snprintf(label, sizeof label, "%.7g", s->low + row * s->step);
        width = wider(width, label);
    }
    for (int i = 0; i < n && i < MOST_BANDS; i++)
        width = wider(width, bands[i].title);
    if (p->x->n_stock)
        width = wider(width, "listed");
    return width > 12 ? 12 : width;
}

/* What a plot is made of before its first line. */
struct parts {
    struct plot p;
    struct scale scale;
    bool scaled;
    int shown;
    struct band bands[MOST_BANDS];
    int n_bands;
};

static void prepare(const struct explore *x, int shown, int width, int height, struct parts *out)
{
    *out = (struct parts){.p = {.x = x, .width = width < LEAST ? LEAST : width}, .shown = shown};
    out->p.unit = unit_display(x->type.type.dim, x->system);
    if (shown >= 0 && (shown >= x->n_shown || x->shown[shown].type.type.sort != FORMULA_NUMBER))
        out->shown = -1;
    out->n_bands = find_bands(x, out->bands, MOST_BANDS);
    out->scaled = out->shown >= 0 && find_scale(&out->p, out->shown, height < 2 ? 2 : height, &out->scale);
    out->p.gutter = gutter_of(&out->p, &out->scale, out->scaled, out->bands, out->n_bands);
    lay_out(&out->p, out->p.width - out->p.gutter - 4 - WORDS);
}

int explore_plot_column(const struct explore *x, int shown, int width, int height, int point)
{
    struct parts parts;
    prepare(x, shown, width, height, &parts);
    return parts.p.gutter + 2 + column_of(&parts.p, point);
}

void explore_plot(const struct explore *x, int shown, int width, int height, struct base_text *out)
{
    struct parts parts;
    prepare(x, shown, width, height, &parts);
    struct plot p = parts.p;
    int n = parts.n_bands;
    p.out = out;
    put_title(&p, parts.shown);
    if (parts.scaled)
        put_points(&p, parts.shown, &parts.scale);
    put_range(&p);
    put_bands(&p, parts.bands, n);
    put_clear(&p);
    put_stock(&p);
    put_now(&p);
    put_throughout(&p);
    put_refused(&p);
    if (n)
        put_words(&p, any_waived(x)
                          ? "X does not hold   x for some of the column   ~ waived   . holds   ? not taken"
                          : "X does not hold   x for some of the column   . holds   ? not taken");
}

/* ---- two points side by side --------------------------------------------------------------------------- */

static void put_pair(struct base_text *out, int width, const char *label, const char *a, const char *b)
{
    int side = width / 4, name = width - 2 * side - 2;
    base_text_addf(out, "%-*.*s %*.*s %*.*s\n", name, name, label, side, side, a, side, side, b);
}

static void put_only(const struct explore *x, int here, int there, struct base_text *out)
{
    for (size_t i = 0; i < x->findings.count; i++) {
        const struct explore_finding *f = &x->findings.at[i];
        if (f->grades[here] > f->grades[there])
            base_text_addf(out, "%s: %s %s%s%s\n", x->text[here], explore_grade_text(f->grades[here]),
                           f->title, *f->subject ? ", " : "", f->subject);
    }
}

void explore_beside(const struct explore *x, int a, int b, int width, struct base_text *out)
{
    char left[80], right[80], label[200];
    put_pair(out, width, x->path, x->text[a], x->text[b]);
    for (int i = 0; i < x->n_shown; i++)
        for (int s = 0; s < (x->shown[i].stateful ? DIESET_STATES : 1); s++) {
            snprintf(label, sizeof label, "%s%s", x->shown[i].path,
                     !x->shown[i].stateful ? ""
                     : s == DIESET_NEW     ? ", new"
                                           : ", ground");
            put_pair(out, width, label, explore_print(x, i, (enum dieset_state)s, a, left, sizeof left),
                     explore_print(x, i, (enum dieset_state)s, b, right, sizeof right));
        }
    put_only(x, a, b, out);
    put_only(x, b, a, out);
}
