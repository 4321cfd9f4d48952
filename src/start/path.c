/* A part's outline out of a file: the path of an SVG drawing, path data alone, or lines as a job has them.
 *
 * Path data by the SVG 2 recommendation of the W3C, chapter 9: M L H V C A Z and their small letters. Y
 * points down there and away from the eye here, so it is turned over; an arc that goes round with the clock
 * still does.
 */

#include "diewright/start.h"
#include "diewright/shape.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846

/* ---- places along a path ---- */

/* A side that ends at x, y: straight, or with a radius. */
struct stretch {
    double x, y, radius;
    bool right, large;
};

/* One outline, in units of the file, its beginning first. */
struct loop {
    BASE_VEC(struct stretch) at;
    bool closed;
    int curves;
};

struct reading {
    const char *text, *at; /* path data, and how far it is read */
    double within;         /* a curve may be off by so much, in units of the file */
    double x, y;           /* where the path is */
    BASE_VEC(struct loop) loops;
    struct base_diag *why;
    const char *name;
};

static enum base_err refuse(struct reading *r, const char *fmt, ...) PRINTF_LIKE(2, 3);
static enum base_err refuse(struct reading *r, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    char *said = base_format_args(fmt, args);
    va_end(args);
    size_t n = strnlen(r->at, 20);
    enum base_err err = base_fail(r->why, BASE_REFUSED,
                                  "%s: %s It stands at \"%.*s\", %ld characters into the path.", r->name,
                                  said, (int)base_char_fit(r->at, n), r->at, (long)(r->at - r->text));
    free(said);
    return err;
}

static void skip(struct reading *r)
{
    while (*r->at && strchr(" \t\r\n,", *r->at))
        r->at++;
}

/* A number as the recommendation writes it: "1.5-2" and ".5.5" are two each. */
static bool number(struct reading *r, double *out)
{
    skip(r);
    const char *p = r->at;
    p += *p == '+' || *p == '-';
    size_t whole = strspn(p, "0123456789"), part = 0;
    p += whole;
    if (*p == '.') {
        part = strspn(p + 1, "0123456789");
        p += part + 1;
    }
    if (whole + part == 0)
        return false;
    if ((*p == 'e' || *p == 'E') && isdigit((unsigned char)p[1 + (p[1] == '+' || p[1] == '-')]))
        p += 1 + (p[1] == '+' || p[1] == '-'), p += strspn(p, "0123456789");
    char *copy = base_copy_n(r->at, (size_t)(p - r->at));
    *out = strtod(copy, NULL);
    free(copy);
    r->at = p;
    return isfinite(*out) && fabs(*out) < 1e7;
}

static bool flag(struct reading *r, bool *out)
{
    skip(r);
    if (*r->at != '0' && *r->at != '1')
        return false;
    *out = *r->at++ == '1';
    return true;
}

static struct loop *last(struct reading *r)
{
    return r->loops.count ? &r->loops.at[r->loops.count - 1] : NULL;
}

static void go(struct reading *r, double x, double y, double radius, bool right, bool large)
{
    struct loop *l = last(r);
    base_vec_push(&l->at, ((struct stretch){x, y, radius, right, large}));
    r->x = x;
    r->y = y;
}

static void begin_loop(struct reading *r, double x, double y)
{
    struct loop l = {0};
    base_vec_push(&r->loops, l);
    go(r, x, y, 0, false, false);
}

/* ---- curves ---- */

enum { MOST_PIECES = 2000 };

/* A cubic as straight sides. In N pieces it is off by no more than 3/4 * (second difference) / N^2
 * (own derivation: the bound of linear interpolation, h^2 / 8 of the second derivative, which is 6 times a
 * second difference of the control points). */
static void cubic(struct reading *r, double ax, double ay, double bx, double by, double x, double y)
{
    double x0 = r->x, y0 = r->y;
    double d1 = hypot(x0 - 2 * ax + bx, y0 - 2 * ay + by), d2 = hypot(ax - 2 * bx + x, ay - 2 * by + y);
    double wanted = ceil(sqrt(6 * fmax(d1, d2) / 8 / r->within));
    int n = wanted < 1 ? 1 : wanted < MOST_PIECES ? (int)wanted : MOST_PIECES;
    for (int i = 1; i <= n; i++) {
        double t = (double)i / n, u = 1 - t;
        go(r, u * u * u * x0 + 3 * u * u * t * ax + 3 * u * t * t * bx + t * t * t * x,
           u * u * u * y0 + 3 * u * u * t * ay + 3 * u * t * t * by + t * t * t * y, 0, false, false);
    }
    last(r)->curves++;
}

/* A piece of an ellipse by its ends (SVG 2, B.2.4): its middle, then straight sides that are off by no more
 * than is allowed: the sagitta of the larger radius. */
static void ellipse(struct reading *r, double rx, double ry, double turn, bool large, bool sweep, double x,
                    double y)
{
    double c = cos(turn), s = sin(turn), dx = (r->x - x) / 2, dy = (r->y - y) / 2;
    double px = c * dx + s * dy, py = c * dy - s * dx;
    double over = px * px / (rx * rx) + py * py / (ry * ry);
    if (over > 1)
        rx *= sqrt(over), ry *= sqrt(over);
    double left = rx * rx * ry * ry - rx * rx * py * py - ry * ry * px * px;
    double k = sqrt(fmax(0, left) / (rx * rx * py * py + ry * ry * px * px)) * (large == sweep ? -1 : 1);
    double qx = k * rx * py / ry, qy = -k * ry * px / rx;
    double from = atan2((py - qy) / ry, (px - qx) / rx), to = atan2((-py - qy) / ry, (-px - qx) / rx);
    double by = to - from;
    if (sweep && by < 0)
        by += 2 * PI;
    if (!sweep && by > 0)
        by -= 2 * PI;
    double mx = (r->x + x) / 2 + c * qx - s * qy, my = (r->y + y) / 2 + s * qx + c * qy;
    double step = 2 * acos(fmax(-1, 1 - r->within / fmax(rx, ry)));
    int n = (int)ceil(fabs(by) / fmax(step, 1e-3));
    n = n < 1 ? 1 : n > MOST_PIECES ? MOST_PIECES : n;
    for (int i = 1; i < n; i++) {
        double a = from + by * i / n;
        go(r, mx + c * rx * cos(a) - s * ry * sin(a), my + s * rx * cos(a) + c * ry * sin(a), 0, false,
           false);
    }
    go(r, x, y, 0, false, false);
    last(r)->curves++;
}

static void arc(struct reading *r, double rx, double ry, double turn, bool large, bool sweep, double x,
                double y)
{
    double chord = hypot(x - r->x, y - r->y);
    rx = fabs(rx);
    ry = fabs(ry);
    if (chord == 0)
        return; /* as the recommendation has it */
    if (rx == 0 || ry == 0)
        go(r, x, y, 0, false, false);
    else if (fabs(rx - ry) <= 1e-9 * rx) /* too small a radius grows to half the chord */
        go(r, x, y, fmax(rx, chord / 2), sweep, large && rx > chord / 2 * (1 + 1e-9));
    else
        ellipse(r, rx, ry, turn * PI / 180, large, sweep, x, y);
}

/* ---- path data ---- */

/* So many numbers of a command; false: they are not there. */
static bool numbers(struct reading *r, double *out, int n)
{
    for (int i = 0; i < n; i++)
        if (!number(r, &out[i]))
            return false;
    return true;
}

/* One command's figures, the letter read already; the path stands at their end then. */
static enum base_err draw(struct reading *r, char letter)
{
    double v[6], dx = islower((unsigned char)letter) ? r->x : 0,
                 dy = islower((unsigned char)letter) ? r->y : 0;
    bool large, sweep;
    switch (toupper((unsigned char)letter)) {
    case 'L':
        if (!numbers(r, v, 2))
            break;
        go(r, v[0] + dx, v[1] + dy, 0, false, false);
        return BASE_OK;
    case 'H':
        if (!numbers(r, v, 1))
            break;
        go(r, v[0] + dx, r->y, 0, false, false);
        return BASE_OK;
    case 'V':
        if (!numbers(r, v, 1))
            break;
        go(r, r->x, v[0] + dy, 0, false, false);
        return BASE_OK;
    case 'C':
        if (!numbers(r, v, 6))
            break;
        cubic(r, v[0] + dx, v[1] + dy, v[2] + dx, v[3] + dy, v[4] + dx, v[5] + dy);
        return BASE_OK;
    default:
        if (!numbers(r, v, 3) || !flag(r, &large) || !flag(r, &sweep) || !numbers(r, v + 3, 2))
            break;
        arc(r, v[0], v[1], v[2], large, sweep, v[3] + dx, v[4] + dy);
        return BASE_OK;
    }
    return refuse(r, "the command %c lacks a number.", letter);
}

/* Does a number follow? Then the command goes on without its letter. */
static bool goes_on(struct reading *r)
{
    skip(r);
    return *r->at && strchr("+-.0123456789", *r->at);
}

static enum base_err move(struct reading *r, char *letter)
{
    double v[2];
    bool by = *letter == 'm';
    if (!numbers(r, v, 2))
        return refuse(r, "the command %c lacks a number.", *letter);
    begin_loop(r, by ? r->x + v[0] : v[0], by ? r->y + v[1] : v[1]);
    *letter = by ? 'l' : 'L'; /* further pairs are lines */
    return BASE_OK;
}

static enum base_err read_data(struct reading *r)
{
    enum base_err err = BASE_OK;
    r->x = r->y = 0;
    size_t first = r->loops.count;
    for (skip(r); *r->at && !err; skip(r)) {
        char letter = *r->at;
        if (!strchr("MmLlHhVvCcAaZz", letter))
            return strchr("SsQqTt", letter)
                       ? refuse(r, "the curve %c is not understood; M L H V C A Z are. Turn it into C.",
                                letter)
                       : refuse(r, "a command is wanted here, one of M L H V C A Z.");
        if (r->loops.count == first && toupper((unsigned char)letter) != 'M')
            return refuse(r, "a path begins with M.");
        r->at++;
        if (toupper((unsigned char)letter) == 'Z') {
            struct loop *l = last(r);
            l->closed = true;
            r->x = l->at.at[0].x;
            r->y = l->at.at[0].y;
            continue;
        }
        if (toupper((unsigned char)letter) == 'M')
            err = move(r, &letter);
        else if (last(r)->closed)
            begin_loop(r, r->x, r->y), err = draw(r, letter); /* goes on from where it was closed */
        else
            err = draw(r, letter);
        while (!err && goes_on(r))
            err = draw(r, letter);
    }
    return err;
}

/* ---- the file ---- */

/* The value of attribute NAME of the element that begins at ELEMENT, yours to free(); NULL: it has none. */
static char *attribute(const char *element, const char *name)
{
    size_t n = strlen(name);
    for (const char *p = element + 1; *p && *p != '>';) {
        if (*p == '"' || *p == '\'') {
            const char *end = strchr(p + 1, *p);
            p = end ? end + 1 : p + strlen(p);
            continue;
        }
        const char *value = p + n + strspn(strncmp(p, name, n) == 0 ? p + n : "", " \t\r\n");
        if (isspace((unsigned char)p[-1]) && strncmp(p, name, n) == 0 && *value == '=') {
            value += 1 + strspn(value + 1, " \t\r\n");
            const char *end = *value == '"' || *value == '\'' ? strchr(value + 1, *value) : NULL;
            return end ? base_copy_n(value + 1, (size_t)(end - value - 1)) : NULL;
        }
        p++;
    }
    return NULL;
}

/* The next element NAME from P on, comments passed over; NULL: there is none. */
static const char *element(const char *p, const char *name)
{
    size_t n = strlen(name);
    while ((p = strchr(p, '<'))) {
        if (strncmp(p, "<!--", 4) == 0) {
            const char *end = strstr(p, "-->");
            if (!end)
                return NULL;
            p = end + 3;
        } else if (strncmp(p + 1, name, n) == 0 &&
                   (isspace((unsigned char)p[n + 1]) || p[n + 1] == '>' || p[n + 1] == '/')) {
            return p;
        } else {
            p++;
        }
    }
    return NULL;
}

static const struct {
    const char *name;
    double mm;
} units[] = {{"mm", 1}, {"cm", 10}, {"in", 25.4}};

/* Millimetres of one unit of the drawing, as its root tells by width and viewBox; 0: it does not. */
static double told_scale(const char *text)
{
    const char *root = element(text, "svg");
    char *width = root ? attribute(root, "width") : NULL, *box = root ? attribute(root, "viewBox") : NULL;
    double scale = 0, v[4];
    if (width && box && sscanf(box, "%lf%*[ ,]%lf%*[ ,]%lf%*[ ,]%lf", &v[0], &v[1], &v[2], &v[3]) == 4 &&
        v[2] > 0) {
        char *end;
        double wide = strtod(width, &end);
        for (size_t i = 0; i < COUNT_OF(units); i++)
            if (strcmp(end, units[i].name) == 0)
                scale = wide * units[i].mm / v[2];
    }
    free(width);
    free(box);
    return scale > 0 && isfinite(scale) ? scale : 0;
}

static enum base_err read_drawing(struct reading *r, const char *text)
{
    enum base_err err = BASE_OK;
    int paths = 0;
    if (strstr(text, "transform="))
        return base_fail(
            r->why, BASE_REFUSED,
            "%s: something in it is moved or turned by a transform, which is not followed. Have the "
            "drawing program apply it to the path, and save it again.",
            r->name);
    for (const char *p = text; !err && (p = element(p, "path")); p++) {
        char *d = attribute(p, "d");
        paths++;
        if (d) {
            r->text = r->at = d;
            err = read_data(r);
        }
        free(d);
    }
    return !err && paths == 0
               ? base_fail(r->why, BASE_REFUSED,
                           "%s has no path. Have the drawing program turn its shapes into paths, "
                           "and save it again.",
                           r->name)
               : err;
}

/* ---- as lines of a job ---- */

static struct shape_box box_of(const struct loop *l)
{
    BASE_VEC(struct shape_side) sides = {0};
    for (size_t i = 1; i < l->at.count; i++) {
        const struct stretch *a = &l->at.at[i - 1], *b = &l->at.at[i];
        struct shape_side s = shape_straight(a->x, -a->y, b->x, -b->y);
        if (b->radius > 0)
            (void)!shape_arc(a->x, -a->y, b->x, -b->y, b->radius, b->right ? -1 : 1, b->large, &s);
        base_vec_push(&sides, s);
    }
    struct shape_box box = shape_box(sides.at, (int)sides.count);
    base_vec_done(&sides);
    return box;
}

/* To a ten-thousandth of a millimetre. */
static double rounded(double mm) { return round(mm * 1e4) / 1e4; }

static void length(struct base_text *out, double mm)
{
    char text[60];
    snprintf(text, sizeof text, "%.8f", mm == 0 ? 0 : mm);
    size_t n = strlen(text);
    while (text[n - 1] == '0')
        n--;
    n -= text[n - 1] == '.';
    base_text_addf(out, "%.*s mm", (int)n, text);
}

static void tell_lines(const struct loop *l, double scale, struct start_outline *out)
{
    struct shape_box box = box_of(l);
    double x0 = (box.left + box.right) / 2, y0 = (box.front + box.back) / 2;
    double x = 0, y = 0, first_x = 0, first_y = 0;
    for (size_t i = 0; i < l->at.count; i++) {
        const struct stretch *s = &l->at.at[i];
        struct base_text line = {0};
        double to_x = rounded((s->x - x0) * scale), to_y = rounded((-s->y - y0) * scale);
        bool closes = i + 1 == l->at.count && s->radius == 0 && to_x == first_x && to_y == first_y;
        if (i > 0 && (closes || (to_x == x && to_y == y)))
            continue; /* it closes by itself; or it has no length */
        base_text_add(&line, i == 0 ? "at " : s->radius > 0 ? "arc to " : "line to ");
        length(&line, to_x);
        base_text_add(&line, ", ");
        length(&line, to_y);
        if (s->radius > 0) { /* of a half circle, what rounding has left between its ends */
            double half = hypot(to_x - x, to_y - y) / 2, radius = rounded(s->radius * scale);
            base_text_add(&line, " radius ");
            length(&line, radius < half + 1e-4 ? half : radius);
            base_text_addf(&line, " %s%s", s->right ? "right" : "left", s->large ? " long" : "");
        }
        base_vec_push(&out->lines, base_text_take(&line));
        x = to_x;
        y = to_y;
        if (i == 0)
            first_x = x, first_y = y;
    }
    out->curves = l->curves;
    out->along_mm = (box.right - box.left) * scale;
    out->across_mm = (box.back - box.front) * scale;
}

/* Which of several is meant is for people to say. */
static enum base_err choose(const struct reading *r, double scale, int which, const struct loop **out)
{
    int n = (int)r->loops.count;
    struct base_text sizes = {0};
    *out = n == 1 && which == 0 ? &r->loops.at[0] : which >= 1 && which <= n ? &r->loops.at[which - 1] : NULL;
    if (*out)
        return BASE_OK;
    for (int i = 0; i < n && i < 12; i++) {
        struct shape_box b = box_of(&r->loops.at[i]);
        base_text_addf(&sizes, "%s%d: %.6g x %.6g mm", i ? ", " : "", i + 1, (b.right - b.left) * scale,
                       (b.back - b.front) * scale);
    }
    enum base_err err = base_fail(r->why, BASE_REFUSED,
                                  "%s has %d outline%s (%s%s); a station cuts one: say which by its number.",
                                  r->name, n, n == 1 ? "" : "s", base_text_get(&sizes), n > 12 ? " .." : "");
    base_text_done(&sizes);
    return err;
}

static enum base_err read_path(const char *text, const struct start_outline_wish *w, struct reading *r,
                               struct start_outline *out)
{
    enum { MOST_LINES = 400 };
    bool drawing = *text == '<';
    double told = drawing ? told_scale(text) : 0, mm = w->unit_mm > 0 ? w->unit_mm : told;
    if (mm <= 0)
        return base_fail(r->why, BASE_REFUSED,
                         "%s does not say how long one of its units is: say it, as mm or in.", r->name);
    double scale = mm * (w->scale > 0 ? w->scale : 1);
    r->within = (w->within_mm > 0 ? w->within_mm : START_WITHIN_MM) / scale;
    r->text = r->at = text;
    const struct loop *l;
    enum base_err err = drawing ? read_drawing(r, text) : read_data(r);
    if (!err)
        err = choose(r, scale, w->which, &l);
    if (!err && l->at.count < 2)
        err = base_fail(r->why, BASE_REFUSED, "%s: the path goes nowhere.", r->name);
    if (!err)
        tell_lines(l, scale, out);
    if (!err && out->lines.count > MOST_LINES)
        err = base_fail(
            r->why, BASE_REFUSED,
            "%s would be an outline of %d sides; %d are the most. Let its curves be off by more, or "
            "draw them as arcs.",
            r->name, (int)out->lines.count, MOST_LINES);
    return err;
}

/* Lines as a job has them, one a line of the file; "#" begins a comment. */
static void read_own(const char *text, struct start_outline *out)
{
    while (*text) {
        size_t n = strcspn(text, "\r\n"), from = strspn(text, " \t");
        while (n > from && (text[n - 1] == ' ' || text[n - 1] == '\t'))
            n--;
        if (from < n && text[from] != '#')
            base_vec_push(&out->lines, base_copy_n(text + from, n - from));
        text += strcspn(text, "\r\n");
        text += strspn(text, "\r\n");
    }
}

enum base_err start_outline_read(const char *text, const char *name, const struct start_outline_wish *w,
                                 struct start_outline *out, struct base_diag *why)
{
    struct reading r = {.why = why, .name = name};
    enum base_err err = BASE_OK;
    *out = (struct start_outline){0};
    const char *p = text + (strncmp(text, "\xef\xbb\xbf", 3) == 0 ? 3 : 0);
    p += strspn(p, " \t\r\n");
    bool own = *p == '#' || (strncmp(p, "at", 2) == 0 && isspace((unsigned char)p[2]));
    if (own && (w->unit_mm > 0 || w->scale > 0 || w->which))
        err = base_fail(why, BASE_REFUSED,
                        "%s has lines as a job has them, which say their units themselves: "
                        "there is nothing to scale or to choose.",
                        name);
    else if (own)
        read_own(p, out);
    else if (*p == '<' || *p == 'M' || *p == 'm')
        err = read_path(p, w, &r, out);
    else
        err = base_fail(why, BASE_REFUSED,
                        "%s is no outline: it begins neither as an SVG drawing, nor as path data (M), "
                        "nor as lines of an outline (at).",
                        name);
    for (size_t i = 0; i < r.loops.count; i++)
        base_vec_done(&r.loops.at[i].at);
    base_vec_done(&r.loops);
    if (err)
        start_outline_done(out);
    return err;
}

static bool positive(const char *text, double *out, const char **end)
{
    char *stop;
    *out = strtod(text, &stop);
    *end = stop + strspn(stop, " ");
    return stop != text && isfinite(*out) && *out > 0;
}

enum base_err start_outline_wish_set(struct start_outline_wish *w, const char *what, const char *text,
                                     struct base_diag *why)
{
    const char *end;
    double number;
    if (strcmp(what, "unit") == 0) {
        for (size_t i = 0; i < COUNT_OF(units); i++)
            if (strcmp(text, units[i].name) == 0) {
                w->unit_mm = units[i].mm;
                return BASE_OK;
            }
        return base_fail(why, BASE_REFUSED, "A unit of a drawing is mm, cm or in, not \"%s\".", text);
    }
    if (!positive(text, &number, &end))
        return base_fail(why, BASE_REFUSED, "%s wants a number above 0, not \"%s\".", what, text);
    if (strcmp(what, "within") == 0 && strcmp(end, "in") == 0) {
        number *= 25.4;
        end += 2;
    } else if (strcmp(what, "within") == 0 && strcmp(end, "mm") == 0) {
        end += 2;
    }
    if (*end)
        return base_fail(why, BASE_REFUSED, "%s: there is \"%s\" too much behind its number.", what, end);
    if (strcmp(what, "scale") == 0)
        w->scale = number;
    else if (strcmp(what, "within") == 0)
        w->within_mm = number;
    else if (number != floor(number) || number > 9999)
        return base_fail(why, BASE_REFUSED, "path wants a whole number: which outline of several.");
    else
        w->which = (int)number;
    return BASE_OK;
}

void start_outline_done(struct start_outline *o)
{
    for (size_t i = 0; i < o->lines.count; i++)
        free(o->lines.at[i]);
    base_vec_done(&o->lines);
    *o = (struct start_outline){0};
}

/* ---- taken ---- */

static bool is_outlined(struct job *j, const char *item)
{
    char *shape = base_format("%s.shape", item);
    int q = dieset_find(job_dieset(j), shape);
    const char *is = q < 0 ? NULL : dieset_quantity(job_dieset(j), q)->text;
    free(shape);
    return !is || strcmp(is, "\"outline\"") == 0;
}

enum base_err start_outline_take(struct job *j, const char *item, const char *path,
                                 const struct start_outline_wish *w, struct start_outline *out,
                                 struct base_diag *why)
{
    char *text = NULL;
    *out = (struct start_outline){0};
    enum base_err err = base_read_file(path, &text, NULL, why);
    if (!err)
        err = start_outline_read(text, path, w, out, why);
    if (!err) {
        const char *entry = is_outlined(j, item) ? NULL : "shape";
        err = job_outline_with(j, item, entry, "\"outline\"", (const char *const *)out->lines.at,
                               (int)out->lines.count, why);
    }
    if (!err)
        err = job_take(j, why);
    free(text);
    return err;
}

void start_outline_words(const struct start_outline *o, struct base_text *out)
{
    base_text_addf(out, "%d lines", (int)o->lines.count);
    if (o->along_mm > 0 || o->across_mm > 0)
        base_text_addf(out, ", %.6g x %.6g mm, its middle at the station's point", o->along_mm, o->across_mm);
    if (o->curves)
        base_text_addf(out, "; %d curve%s became straight sides", o->curves, o->curves == 1 ? "" : "s");
}
