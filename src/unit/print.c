/* Numbers as people read them: the unit shown for each dimension, and how many decimals. */

#include "diewright/unit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const struct unit_system UNIT_METRIC = {"mm", "kN", "MPa", "kg", "N m"};
const struct unit_system UNIT_INCH = {"in", "kN", "MPa", "kg", "N m"};

bool unit_is_inch(struct unit_system s) { return strcmp(s.length, "in") == 0; }

static bool is_us_force(struct unit_system s)
{
    return strcmp(s.force, "lbf") == 0 || strcmp(s.force, "ton_us") == 0;
}

/* The units that values are shown in, with their decimals: the first of a dimension, or the one chosen. */
static const struct shown { const char *name; int decimals; } shown[] = {
    {"mm", 1},     {"in", 3},     {"mm2", 1},    {"in2", 4},
    {"kN", 1},     {"N", 0},      {"lbf", 0},    {"ton_us", 2},
    {"MPa", 0},    {"N/mm2", 0},  {"psi", 0},    {"ksi", 1},
    {"N/mm", 1},   {"lbf/in", 0}, {"N m", 1},    {"lbf ft", 1}, /* torque and work alike */
    {"lbf in", 0}, {"kW", 2},     {"kg", 1},     {"lb", 1},
    {"kg/m3", 0},  {"lb/in3", 3}, {"deg", 1},    {"/min", 0},
    {"mm3", 0},    {"mm4", 0},    {"s", 2},      {"mm/s", 1},
};

/* What unit_scan() tells of them, asked once. */
static const struct meant { struct unit_dim dim; double factor; } *meant(const struct shown *u)
{
    static struct meant all[COUNT_OF(shown)];
    for (size_t i = 0; !all[0].factor && i < COUNT_OF(shown); i++) {
        size_t k = COUNT_OF(shown) - 1 - i; /* the first comes last: then all are there */
        unit_scan(shown[k].name, &all[k].dim, &all[k].factor);
    }
    return &all[u - shown];
}

static const struct shown *shown_as(const char *name)
{
    for (size_t i = 0; i < COUNT_OF(shown); i++)
        if (strcmp(shown[i].name, name) == 0)
            return &shown[i];
    return NULL;
}

/* The place in S of what can be chosen; NULL: D is shown in one unit. */
static const char **chosen(struct unit_system *s, struct unit_dim d)
{
    return unit_same(d, UNIT_LENGTH)     ? &s->length
           : unit_same(d, UNIT_FORCE)    ? &s->force
           : unit_same(d, UNIT_PRESSURE) ? &s->pressure
           : unit_same(d, UNIT_MASS)     ? &s->mass
           : unit_same(d, UNIT_WORK)     ? &s->work
                                         : NULL;
}

bool unit_choose(struct unit_system *s, const char *name)
{
    const struct shown *u = shown_as(name);
    const char **place = u ? chosen(s, meant(u)->dim) : NULL;
    if (place)
        *place = u->name;
    return place;
}

/* The name of the unit for D, NULL when it has none. */
static const char *name_for(struct unit_dim d, struct unit_system s)
{
    if (unit_same(d, UNIT_AREA))
        return unit_is_inch(s) ? "in2" : "mm2";
    if (unit_same(d, UNIT_RATE))
        return is_us_force(s) ? "lbf/in" : "N/mm";
    if (unit_same(d, UNIT_DENSITY))
        return strcmp(s.mass, "lb") == 0 ? "lb/in3" : "kg/m3";
    const char **place = chosen(&s, d);
    return place ? *place : NULL;
}

struct unit_display unit_display(struct unit_dim d, struct unit_system s)
{
    const char *name = name_for(d, s);
    const struct shown *u = name ? shown_as(name) : NULL;
    for (size_t i = 0; !u && i < COUNT_OF(shown); i++)
        if (unit_same(meant(&shown[i])->dim, d))
            u = &shown[i];
    return u ? (struct unit_display){u->name, meant(u)->factor, u->decimals}
             : (struct unit_display){"", 1, 3};
}

bool unit_display_named(const char *name, struct unit_dim *dim, struct unit_display *out)
{
    double factor;
    size_t n = unit_scan(name, dim, &factor);
    if (!n || name[n] != '\0')
        return false;
    const struct shown *u = shown_as(name);
    *out = (struct unit_display){name, factor, u ? u->decimals : 1};
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

static struct digits digits_of(struct unit_dim d, struct unit_display u, struct unit_system s, int least)
{
    bool length = unit_same(d, UNIT_LENGTH),
         inch = length && (strcmp(u.name, "in") == 0 || (!*u.name && unit_is_inch(s)));
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

int unit_places(double number, struct unit_dim d, struct unit_system s, int least, double other)
{
    return places(number, digits_of(d, unit_display(d, s), s, least), other);
}

static const char *number_of(double value, double other, struct unit_dim d, struct unit_display u,
                             struct unit_system s, int least, char *buf, size_t size)
{
    double x = value / u.factor;
    if (isfinite(x))
        return fixed(x, places(x, digits_of(d, u, s, least), other / u.factor), buf, size);
    snprintf(buf, size, "?");
    return buf;
}

/* ---- values ---- */

struct unit_display unit_display_of(double value, struct unit_dim d, struct unit_system s)
{
    struct unit_display usual = unit_display(d, s);
    if (!unit_same(d, UNIT_FORCE) || value == 0 || fabs(value) >= 0.1 * usual.factor)
        return usual;
    return strcmp(usual.name, "kN") == 0       ? (struct unit_display){"N", 1, 1}
           : strcmp(usual.name, "ton_us") == 0 ? (struct unit_display){"lbf", usual.factor / 2000, 0}
                                               : usual;
}

const char *unit_print_number(double value, struct unit_dim d, struct unit_system s, char *buf, size_t size)
{
    return number_of(value, NAN, d, unit_display(d, s), s, -1, buf, size);
}

const char *unit_print_apart(double value, double other, struct unit_dim d, struct unit_system s, int least,
                             char *buf, size_t size)
{
    struct unit_display u = unit_display_of(value, d, s);
    number_of(value, other, d, u, s, least, buf, size);
    char powers[80];
    const char *name = *u.name ? u.name : unit_powers(d, powers, sizeof powers);
    size_t n = strlen(buf);
    if (*name && n < size)
        snprintf(buf + n, size - n, " %s", name);
    return buf;
}

const char *unit_print(double value, struct unit_dim d, struct unit_system s, char *buf, size_t size)
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
    struct unit_system s = strcmp(unit, "in") == 0 ? UNIT_INCH : UNIT_METRIC;
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

static void add_to_power(struct base_text *t, const char *unit, int sixths)
{
    int whole = sixths / UNIT_POWER, part = sixths % UNIT_POWER,
        under = part % 3 == 0   ? 2
                : part % 2 == 0 ? 3
                                : 6;
    if (!sixths)
        return;
    base_text_addf(t, "%s%s", base_text_get(t)[0] ? " " : "", unit);
    if (part)
        base_text_addf(t, "^%d/%d", sixths * under / UNIT_POWER, under);
    else if (whole < 0)
        base_text_addf(t, "^%d", whole);
    else if (whole > 1)
        base_text_addf(t, "%d", whole);
}

const char *unit_powers(struct unit_dim d, char *buf, size_t size)
{
    struct base_text t = {0};
    add_to_power(&t, "mm", d.length);
    add_to_power(&t, "N", d.force);
    add_to_power(&t, "s", d.time);
    add_to_power(&t, "rad", d.angle);
    snprintf(buf, size, "%s", base_text_get(&t));
    base_text_done(&t);
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

static struct unit_display typed_unit(struct unit_dim dim, struct unit_system system)
{
    struct unit_display u = unit_display(dim, system);
    struct unit_dim has;
    double factor;
    if (*u.name && unit_scan(u.name, &has, &factor) == strlen(u.name) && unit_same(has, dim))
        return u;
    return (struct unit_display){"", 1, u.decimals};
}

char *unit_typed(struct unit_dim dim, struct unit_system system, double value)
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
