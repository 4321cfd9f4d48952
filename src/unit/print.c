/* Numbers as people read them: the unit shown for each dimension, and how many decimals. */

#include "diewright/unit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct unit_display unit_display(struct unit_dim d, enum unit_system s)
{
    static const struct {
        const struct unit_dim *dim;
        const char *metric, *inch;
        int metric_decimals, inch_decimals;
    } rows[] = {
        {&UNIT_NUMBER, "", "", 3, 3},
        {&UNIT_LENGTH, "mm", "in", 1, 3},
        {&UNIT_AREA, "mm2", "in2", 1, 4},
        {&UNIT_FORCE, "kN", "kN", 1, 1},
        {&UNIT_PRESSURE, "MPa", "MPa", 0, 0},
        {&UNIT_RATE, "N/mm", "N/mm", 1, 1},
        {&UNIT_WORK, "N m", "N m", 1, 1}, /* torque and work alike */
        {&UNIT_POWER_DIM, "kW", "kW", 2, 2},
        {&UNIT_MASS, "kg", "kg", 1, 1},
        {&UNIT_DENSITY, "kg/m3", "kg/m3", 0, 0},
        {&UNIT_ANGLE, "deg", "deg", 1, 1},
        {&UNIT_FREQUENCY, "/min", "/min", 0, 0},
    };
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        if (!unit_same(d, *rows[i].dim))
            continue;
        struct unit_display out = {s == UNIT_INCH ? rows[i].inch : rows[i].metric, 1,
                                   s == UNIT_INCH ? rows[i].inch_decimals : rows[i].metric_decimals};
        struct unit_dim ignored;
        if (*out.name)
            unit_scan(out.name, &ignored, &out.factor);
        return out;
    }
    struct unit_dim volume = {3 * UNIT_POWER, 0, 0, 0}, fourth = {4 * UNIT_POWER, 0, 0, 0},
                    time = {0, 0, UNIT_POWER, 0};
    if (unit_same(d, volume))
        return (struct unit_display){"mm3", 1, 0};
    if (unit_same(d, fourth))
        return (struct unit_display){"mm4", 1, 0};
    if (unit_same(d, time))
        return (struct unit_display){"s", 1, 2};
    return (struct unit_display){"", 1, 3};
}

bool unit_display_named(const char *name, struct unit_dim *dim, struct unit_display *out)
{
    double factor;
    size_t n = unit_scan(name, dim, &factor);
    if (!n || name[n] != '\0')
        return false;
    struct unit_display usual = unit_display(*dim, strcmp(name, "in") == 0 ? UNIT_INCH : UNIT_METRIC);
    *out = (struct unit_display){name, factor, strcmp(usual.name, name) == 0 ? usual.decimals : 1};
    return true;
}

/* ---- digits: the one rule ---- */

/* What lies a bit's worth under a half is one: 1.0625 in are 26.988 mm. */
static void write_fixed(double x, int decimals, char *buf, size_t size)
{
    snprintf(buf, size, "%.*f", decimals, x + 2e-15 * x);
}

/* How many of MOST decimals X has that are not just zeros at its end; LEAST at least. */
static int needed(double x, int least, int most)
{
    char buf[400]; /* any double */
    if (most <= least)
        return most;
    write_fixed(x, most, buf, sizeof buf);
    size_t n = strlen(buf);
    while (most > least && n > 0 && buf[n - 1] == '0')
        n--, most--;
    return most;
}

static const char *fixed(double x, int decimals, char *buf, size_t size)
{
    write_fixed(x, decimals, buf, size);
    if (buf[0] == '-' && strspn(buf + 1, "0.") == strlen(buf + 1))
        memmove(buf, buf + 1, strlen(buf));
    return buf;
}

static bool reads_alike(double a, double b, int decimals)
{
    char x[400], y[400];
    /* more than a step apart: most are, and need not be written to be told apart */
    if (fabs(a - b) > 1.001 * pow(10, -decimals) + 1e-14 * (fabs(a) + fabs(b)))
        return false;
    fixed(a, decimals, x, sizeof x);
    fixed(b, decimals, y, sizeof y);
    return strcmp(x, y) == 0;
}

/* decimals: always, when the value has them, to tell it from another one */
struct digits { int least, most, apart; };

static struct digits digits_of(struct unit_dim d, struct unit_display u, enum unit_system s, int least)
{
    bool length = unit_same(d, UNIT_LENGTH),
         inch = length && (strcmp(u.name, "in") == 0 || (!*u.name && s == UNIT_INCH));
    int base = least >= 0 ? least : *u.name ? u.decimals : 0;
    int most = length                     ? (inch ? 4 : 3)
               : unit_same(d, UNIT_ANGLE) ? 3
               : least >= 0 || *u.name    ? base
                                          : u.decimals;
    most = most > base ? most : base;
    return (struct digits){base, most, length ? (inch ? 7 : 6) : most + 6};
}

static int places(double x, struct digits g, double other)
{
    int n = needed(x, g.least, g.most);
    double size = fabs(x);
    if (!isfinite(x))
        return 0;
    /* what would read as nothing: its first two digits */
    if (size > 0 && size < pow(10, -g.most) * (1 - 1e-9) && g.most == g.least) {
        int two = 1 - (int)floor(log10(size));
        n = needed(x, n, two < g.most + 2 ? two : g.most + 2);
    }
    if (!isfinite(other) || fabs(x - other) <= 1e-9 * fmax(size, fabs(other)))
        return n;
    int told = n;
    while (told < g.apart && reads_alike(x, other, told))
        told++;
    return reads_alike(x, other, told) ? n : needed(x, n, told);
}

int unit_places(double number, struct unit_dim d, enum unit_system s, int least, double other)
{
    return places(number, digits_of(d, unit_display(d, s), s, least), other);
}

static const char *number_of(double value, double other, struct unit_dim d, struct unit_display u,
                             enum unit_system s, int least, char *buf, size_t size)
{
    double x = value / u.factor;
    if (isfinite(x))
        return fixed(x, places(x, digits_of(d, u, s, least), other / u.factor), buf, size);
    snprintf(buf, size, "?");
    return buf;
}

/* ---- values ---- */

struct unit_display unit_display_of(double value, struct unit_dim d, enum unit_system s)
{
    if (unit_same(d, UNIT_FORCE) && fabs(value) < 100 && value != 0)
        return (struct unit_display){"N", 1, 1};
    return unit_display(d, s);
}

const char *unit_print_number(double value, struct unit_dim d, enum unit_system s, char *buf, size_t size)
{
    return number_of(value, NAN, d, unit_display(d, s), s, -1, buf, size);
}

const char *unit_print_apart(double value, double other, struct unit_dim d, enum unit_system s, int least,
                             char *buf, size_t size)
{
    struct unit_display u = unit_display_of(value, d, s);
    number_of(value, other, d, u, s, least, buf, size);
    size_t n = strlen(buf);
    if (*u.name && n < size)
        snprintf(buf + n, size - n, " %s", u.name);
    return buf;
}

const char *unit_print(double value, struct unit_dim d, enum unit_system s, char *buf, size_t size)
{
    return unit_print_apart(value, NAN, d, s, -1, buf, size);
}

const char *unit_print_in(double value, double other, const char *unit, char *buf, size_t size)
{
    enum { PERCENT = 1, ELSE = 4 };
    struct unit_dim dim = UNIT_NUMBER;
    struct unit_display u = {.name = unit, .factor = 1};
    if (!unit_display_named(unit, &dim, &u))
        u.factor = 1;
    enum unit_system s = strcmp(unit, "in") == 0 ? UNIT_INCH : UNIT_METRIC;
    struct digits g = digits_of(dim, u, s, 0);
    if (!unit_same(dim, UNIT_LENGTH))
        g.most = strcmp(unit, "%") == 0 ? PERCENT : ELSE, g.apart = g.most + 6;
    double x = value / u.factor;
    if (!isfinite(x))
        snprintf(buf, size, "?");
    else
        fixed(x, places(x, g, other / u.factor), buf, size);
    return buf;
}

const char *unit_print_plain(double number, char *buf, size_t size)
{
    static const double nothing = 5e-10; /* what adding and taking away leaves of a place that is none */
    char text[40];
    snprintf(text, sizeof text, "%.12g", fabs(number) < nothing ? 0 : number);
    return unit_print_exact(strtod(text, NULL), buf, size);
}

const char *unit_print_exact(double number, char *buf, size_t size)
{
    for (int digits = 6; digits <= 17; digits++) {
        snprintf(buf, size, "%.*g", digits, number);
        if (strtod(buf, NULL) == number)
            break;
    }
    if (strcmp(buf, "-0") == 0)
        snprintf(buf, size, "0");
    return buf;
}

/* ---- as typed ---- */

/* " * (1 mm)^3": a dimension that no unit is written for. */
static void add_power(struct base_text *t, const char *unit, int sixths)
{
    if (sixths % UNIT_POWER == 0 && sixths)
        base_text_addf(t, " * (1 %s)^%d", unit, sixths / UNIT_POWER);
    else if (sixths)
        base_text_addf(t, " * (1 %s)^(%d / %d)", unit, sixths, UNIT_POWER);
}

static struct unit_display typed_unit(struct unit_dim dim, enum unit_system system)
{
    struct unit_display u = unit_display(dim, system);
    struct unit_dim has;
    double factor;
    if (*u.name && unit_scan(u.name, &has, &factor) == strlen(u.name) && unit_same(has, dim))
        return u;
    return (struct unit_display){"", 1, u.decimals};
}

char *unit_typed(struct unit_dim dim, enum unit_system system, double value)
{
    struct unit_display u = typed_unit(dim, system);
    char number[40];
    snprintf(number, sizeof number, "%.12g", value / u.factor);
    struct base_text t = {0};
    base_text_add(&t, unit_print_exact(strtod(number, NULL), number, sizeof number));
    if (*u.name) {
        base_text_addf(&t, " %s", u.name);
    } else {
        add_power(&t, "mm", dim.length);
        add_power(&t, "N", dim.force);
        add_power(&t, "s", dim.time);
        add_power(&t, "rad", dim.angle);
    }
    return base_text_take(&t);
}
