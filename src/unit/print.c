/* Numbers as people read them: the unit shown for each dimension, and how many decimals. */

#include "diewright/unit.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct unit_display unit_display(struct unit_dim d, enum unit_system s)
{
    static const struct { const struct unit_dim *dim; const char *metric, *inch; int metric_decimals, inch_decimals; } rows[] = {
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
    struct unit_dim volume = {3 * UNIT_POWER, 0, 0, 0}, fourth = {4 * UNIT_POWER, 0, 0, 0}, time = {0, 0, UNIT_POWER, 0};
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

/* One more decimal when the value has it; a plain number sheds its zeros. */
static const char *print(double x, int decimals, bool plain, char *buf, size_t size)
{
    if (plain) {
        snprintf(buf, size, "%.*f", decimals, x);
        if (strchr(buf, '.')) {
            char *end = buf + strlen(buf);
            while (end[-1] == '0')
                *--end = '\0';
            if (end[-1] == '.')
                *--end = '\0';
        }
    } else {
        double scale = pow(10, decimals);
        int more = fabs(x) < 1e9 && fabs(nearbyint(x * scale * 10) / 10 - nearbyint(x * scale)) > 0.05 ? 1 : 0;
        snprintf(buf, size, "%.*f", decimals + more, x);
    }
    if (buf[0] == '-' && strspn(buf + 1, "0.") == strlen(buf + 1))
        memmove(buf, buf + 1, strlen(buf));
    return buf;
}

static bool gets_more_decimals(struct unit_dim d) { return unit_same(d, UNIT_LENGTH); }

/* Forces under 100 N are told in N, and an open share of 1 as it is. */
static struct unit_display display_of(double value, struct unit_dim d, enum unit_system s)
{
    struct unit_display u = unit_display(d, s);
    if (unit_same(d, UNIT_FORCE) && fabs(value) < 100 && value != 0)
        return (struct unit_display){"N", 1, 1};
    return u;
}

static const char *number_of(double value, struct unit_dim d, struct unit_display u, char *buf, size_t size)
{
    double x = value / u.factor;
    if (!isfinite(x)) {
        snprintf(buf, size, "?");
        return buf;
    }
    if (!*u.name)
        return print(x, u.decimals, true, buf, size);
    if (gets_more_decimals(d))
        return print(x, u.decimals, false, buf, size);
    snprintf(buf, size, "%.*f", u.decimals, x);
    if (buf[0] == '-' && strspn(buf + 1, "0.") == strlen(buf + 1))
        memmove(buf, buf + 1, strlen(buf));
    return buf;
}

const char *unit_print_number(double value, struct unit_dim d, enum unit_system s, char *buf, size_t size)
{
    return number_of(value, d, unit_display(d, s), buf, size);
}

const char *unit_print(double value, struct unit_dim d, enum unit_system s, char *buf, size_t size)
{
    struct unit_display u = display_of(value, d, s);
    number_of(value, d, u, buf, size);
    size_t n = strlen(buf);
    if (*u.name && n < size)
        snprintf(buf + n, size - n, " %s", u.name);
    return buf;
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
