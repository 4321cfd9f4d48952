/* Dimensions and the table of units. */

#include "diewright/unit.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { P = UNIT_POWER };

const struct unit_dim UNIT_NUMBER = {0, 0, 0, 0};
const struct unit_dim UNIT_LENGTH = {P, 0, 0, 0};
const struct unit_dim UNIT_AREA = {2 * P, 0, 0, 0};
const struct unit_dim UNIT_FORCE = {0, P, 0, 0};
const struct unit_dim UNIT_PRESSURE = {-2 * P, P, 0, 0};
const struct unit_dim UNIT_RATE = {-P, P, 0, 0};
const struct unit_dim UNIT_WORK = {P, P, 0, 0};
const struct unit_dim UNIT_MASS = {-P, P, 2 * P, 0};
const struct unit_dim UNIT_DENSITY = {-4 * P, P, 2 * P, 0};
const struct unit_dim UNIT_ANGLE = {0, 0, 0, P};

bool unit_same(struct unit_dim a, struct unit_dim b)
{
    return a.length == b.length && a.force == b.force && a.time == b.time && a.angle == b.angle;
}

static bool fit(const int e[4], struct unit_dim *out)
{
    for (int i = 0; i < 4; i++)
        if (e[i] < -127 || e[i] > 127)
            return false;
    *out = (struct unit_dim){(signed char)e[0], (signed char)e[1], (signed char)e[2], (signed char)e[3]};
    return true;
}

bool unit_multiply(struct unit_dim a, struct unit_dim b, struct unit_dim *out)
{
    const int e[4] = {a.length + b.length, a.force + b.force, a.time + b.time, a.angle + b.angle};
    return fit(e, out);
}

bool unit_divide(struct unit_dim a, struct unit_dim b, struct unit_dim *out)
{
    const int e[4] = {a.length - b.length, a.force - b.force, a.time - b.time, a.angle - b.angle};
    return fit(e, out);
}

bool unit_raise(struct unit_dim a, double p, struct unit_dim *out)
{
    const int from[4] = {a.length, a.force, a.time, a.angle};
    int e[4];
    for (int i = 0; i < 4; i++) {
        double x = from[i] * p;
        if (fabs(x) > 127 || fabs(x - nearbyint(x)) > 1e-9)
            return false;
        e[i] = (int)nearbyint(x);
    }
    return fit(e, out);
}

/* ---- units ------------------------------------------------------------------ */

/* Exact by definition: inch 25.4 mm, pound 0.45359237 kg, standard gravity 9.80665 m/s2. */
#define INCH 25.4
#define POUND_FORCE (0.45359237 * 9.80665)
#define KILOGRAM 0.001 /* N s2/mm */
#define POUND (0.45359237 * KILOGRAM)
#define PI 3.14159265358979323846

static const struct unit { const char *name; struct unit_dim dim; double factor; } units[] = {
    {"mm", {P, 0, 0, 0}, 1},
    {"cm", {P, 0, 0, 0}, 10},
    {"m", {P, 0, 0, 0}, 1000},
    {"um", {P, 0, 0, 0}, 0.001},
    {"in", {P, 0, 0, 0}, INCH},
    {"ft", {P, 0, 0, 0}, 12 * INCH},
    {"thou", {P, 0, 0, 0}, INCH / 1000},
    {"mm2", {2 * P, 0, 0, 0}, 1},
    {"cm2", {2 * P, 0, 0, 0}, 100},
    {"m2", {2 * P, 0, 0, 0}, 1e6},
    {"in2", {2 * P, 0, 0, 0}, INCH * INCH},
    {"mm3", {3 * P, 0, 0, 0}, 1},
    {"cm3", {3 * P, 0, 0, 0}, 1000},
    {"m3", {3 * P, 0, 0, 0}, 1e9},
    {"mm4", {4 * P, 0, 0, 0}, 1},
    {"N", {0, P, 0, 0}, 1},
    {"kN", {0, P, 0, 0}, 1000},
    {"MN", {0, P, 0, 0}, 1e6},
    {"lbf", {0, P, 0, 0}, POUND_FORCE},
    {"kgf", {0, P, 0, 0}, 9.80665},
    {"ton_us", {0, P, 0, 0}, 2000 * POUND_FORCE},
    {"ton_metric", {0, P, 0, 0}, 1000 * 9.80665},
    {"ton_long", {0, P, 0, 0}, 2240 * POUND_FORCE},
    {"MPa", {-2 * P, P, 0, 0}, 1},
    {"N/mm2", {-2 * P, P, 0, 0}, 1},
    {"GPa", {-2 * P, P, 0, 0}, 1000},
    {"kPa", {-2 * P, P, 0, 0}, 0.001},
    {"Pa", {-2 * P, P, 0, 0}, 1e-6},
    {"bar", {-2 * P, P, 0, 0}, 0.1},
    {"psi", {-2 * P, P, 0, 0}, POUND_FORCE / (INCH * INCH)},
    {"ksi", {-2 * P, P, 0, 0}, 1000 * POUND_FORCE / (INCH * INCH)},
    {"J", {P, P, 0, 0}, 1000},
    {"kJ", {P, P, 0, 0}, 1e6},
    {"N m", {P, P, 0, 0}, 1000},
    {"Nm", {P, P, 0, 0}, 1000},
    {"N*m", {P, P, 0, 0}, 1000},
    {"lbf ft", {P, P, 0, 0}, POUND_FORCE * 12 * INCH},
    {"ft lbf", {P, P, 0, 0}, POUND_FORCE * 12 * INCH},
    {"lbf in", {P, P, 0, 0}, POUND_FORCE * INCH},
    {"in lbf", {P, P, 0, 0}, POUND_FORCE * INCH},
    {"W", {P, P, -P, 0}, 1000},
    {"kW", {P, P, -P, 0}, 1e6},
    {"kg", {-P, P, 2 * P, 0}, KILOGRAM},
    {"g", {-P, P, 2 * P, 0}, KILOGRAM / 1000},
    {"lb", {-P, P, 2 * P, 0}, POUND},
    {"kg/m3", {-4 * P, P, 2 * P, 0}, KILOGRAM / 1e9},
    {"kg/mm3", {-4 * P, P, 2 * P, 0}, KILOGRAM},
    {"lb/in3", {-4 * P, P, 2 * P, 0}, POUND / (INCH * INCH * INCH)},
    {"N/mm", {-P, P, 0, 0}, 1},
    {"kN/mm", {-P, P, 0, 0}, 1000},
    {"lbf/in", {-P, P, 0, 0}, POUND_FORCE / INCH},
    {"s", {0, 0, P, 0}, 1},
    {"min", {0, 0, P, 0}, 60},
    {"h", {0, 0, P, 0}, 3600},
    {"/min", {0, 0, -P, 0}, 1.0 / 60},
    {"/s", {0, 0, -P, 0}, 1},
    {"mm/s", {P, 0, -P, 0}, 1},
    {"m/s", {P, 0, -P, 0}, 1000},
    {"m/min", {P, 0, -P, 0}, 1000.0 / 60},
    {"in/s", {P, 0, -P, 0}, INCH},
    {"deg", {0, 0, 0, P}, PI / 180},
    {"rad", {0, 0, 0, P}, 1},
    {"%", {0, 0, 0, 0}, 0.01},
    /* The same as they stand in print. */
    {"\u00b0", {0, 0, 0, P}, PI / 180},
    {"\u00b5m", {P, 0, 0, 0}, 0.001},
    {"\u03bcm", {P, 0, 0, 0}, 0.001},
    {"mm\u00b2", {2 * P, 0, 0, 0}, 1},
    {"cm\u00b2", {2 * P, 0, 0, 0}, 100},
    {"m\u00b2", {2 * P, 0, 0, 0}, 1e6},
    {"in\u00b2", {2 * P, 0, 0, 0}, INCH * INCH},
    {"mm\u00b3", {3 * P, 0, 0, 0}, 1},
    {"cm\u00b3", {3 * P, 0, 0, 0}, 1000},
    {"m\u00b3", {3 * P, 0, 0, 0}, 1e9},
    {"mm\u2074", {4 * P, 0, 0, 0}, 1},
    {"N/mm\u00b2", {-2 * P, P, 0, 0}, 1},
    {"N\u00b7m", {P, P, 0, 0}, 1000},
};

static bool runs_on(char c) { return isalnum((unsigned char)c) || c == '_'; }

size_t unit_scan(const char *text, struct unit_dim *dim, double *factor)
{
    size_t longest = 0;
    for (size_t i = 0; i < COUNT_OF(units); i++) {
        if (units[i].name[0] != *text) /* most of them; formulas ask for every word */
            continue;
        size_t n = strlen(units[i].name);
        if (n <= longest || strncmp(text, units[i].name, n) != 0)
            continue;
        if (units[i].name[n - 1] != '%' && runs_on(text[n]))
            continue;
        longest = n;
        *dim = units[i].dim;
        *factor = units[i].factor;
    }
    return longest;
}

const char *unit_at(int i, struct unit_dim *dim, double *factor)
{
    if (i < 0 || (size_t)i >= COUNT_OF(units))
        return NULL;
    *dim = units[i].dim;
    *factor = units[i].factor;
    return units[i].name;
}

bool unit_is_word(const char *text)
{
    struct unit_dim d;
    double f;
    size_t n = unit_scan(text, &d, &f);
    return n > 0 && text[n] == '\0';
}

/* ---- names of dimensions ------------------------------------------------------ */

static const struct { const char *name; struct unit_dim dim; } dims[] = {
    {"number", {0, 0, 0, 0}},          {"length", {P, 0, 0, 0}},          {"area", {2 * P, 0, 0, 0}},
    {"force", {0, P, 0, 0}},           {"pressure", {-2 * P, P, 0, 0}},   {"rate", {-P, P, 0, 0}},
    {"work", {P, P, 0, 0}},            {"power", {P, P, -P, 0}},          {"mass", {-P, P, 2 * P, 0}},
    {"density", {-4 * P, P, 2 * P, 0}}, {"angle", {0, 0, 0, P}},          {"frequency", {0, 0, -P, 0}},
    {"time", {0, 0, P, 0}},
};

static const char *skip_blanks(const char *t)
{
    while (*t == ' ')
        t++;
    return t;
}

/* One factor, "length" or "length^4"; moves *T behind it. */
static enum base_err parse_factor(const char **t, struct unit_dim *out, struct base_diag *why)
{
    const char *start = *t = skip_blanks(*t);
    while (isalpha((unsigned char)**t) || **t == '_')
        (*t)++;
    size_t n = (size_t)(*t - start), i = 0;
    while (i < COUNT_OF(dims) && (strlen(dims[i].name) != n || strncmp(dims[i].name, start, n) != 0))
        i++;
    if (i == COUNT_OF(dims))
        return base_fail(
            why, BASE_REFUSED,
            "\"%.*s\" is no dimension; there are number, length, area, force, pressure, rate, work, "
            "power, mass, density, angle, frequency.",
            (int)(n ? n : strlen(start)), start);
    *out = dims[i].dim;
    *t = skip_blanks(*t);
    if (**t != '^')
        return BASE_OK;
    char *end;
    double p = strtod(*t + 1, &end);
    if (end == *t + 1 || !unit_raise(*out, p, out))
        return base_fail(why, BASE_REFUSED,
                         "The power behind \"^\" must be a plain number that the dimension can bear.");
    *t = end;
    return BASE_OK;
}

enum base_err unit_parse_dim(const char *text, struct unit_dim *out, struct base_diag *why)
{
    const char *t = text;
    struct unit_dim sum = UNIT_NUMBER;
    bool divide = false;
    for (;;) {
        struct unit_dim d;
        enum base_err err = parse_factor(&t, &d, why);
        if (!err && !(divide ? unit_divide(sum, d, &sum) : unit_multiply(sum, d, &sum)))
            err = base_fail(why, BASE_REFUSED, "\"%s\" has powers that are too high.", text);
        if (err) {
            base_diag_mark(why, text, (int)(t - text), 1);
            return err;
        }
        t = skip_blanks(t);
        if (*t == '\0')
            break;
        if (*t != '*' && *t != '/') {
            err = base_fail(why, BASE_REFUSED, "Between dimensions stands \"*\" or \"/\".");
            base_diag_mark(why, text, (int)(t - text), 1);
            return err;
        }
        divide = *t++ == '/';
    }
    *out = sum;
    return BASE_OK;
}

static void add_power(struct base_text *t, const char *name, int sixths)
{
    if (!sixths)
        return;
    base_text_addf(t, "%s%s", t->length ? " * " : "", name);
    if (sixths % P == 0 && sixths != P)
        base_text_addf(t, "^%d", sixths / P);
    else if (sixths != P)
        base_text_addf(t, "^(%d/%d)", sixths, P);
}

const char *unit_dim_name(struct unit_dim d, char *buf, size_t size)
{
    for (size_t i = 0; i < COUNT_OF(dims); i++)
        if (unit_same(d, dims[i].dim)) {
            bool vowel = strchr("aeiou", dims[i].name[0]) != NULL;
            snprintf(buf, size, "%s %s", vowel ? "an" : "a", dims[i].name);
            return buf;
        }
    struct base_text t = {0};
    add_power(&t, "length", d.length);
    add_power(&t, "force", d.force);
    add_power(&t, "time", d.time);
    add_power(&t, "angle", d.angle);
    snprintf(buf, size, "%s", base_text_get(&t));
    base_text_done(&t);
    return buf;
}
