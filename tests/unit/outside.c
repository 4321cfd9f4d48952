/* Conversions against GNU units (Debian package units), whose definitions are its own. */

#include "suites.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* From one of our units into another, and what GNU units calls the two. BASE is the base unit of the
   dimension. */
#define BASE NULL
static const struct { const char *from, *to, *have, *want; } rows[] = {
    {"mm", BASE, "mm", "mm"},
    {"cm", BASE, "cm", "mm"},
    {"m", BASE, "m", "mm"},
    {"um", BASE, "micrometer", "mm"},
    {"in", BASE, "inch", "mm"},
    {"ft", BASE, "foot", "mm"},
    {"thou", BASE, "mil", "mm"},
    {"mm2", BASE, "mm^2", "mm^2"},
    {"cm2", BASE, "cm^2", "mm^2"},
    {"m2", BASE, "m^2", "mm^2"},
    {"in2", BASE, "inch^2", "mm^2"},
    {"mm3", BASE, "mm^3", "mm^3"},
    {"cm3", BASE, "cc", "mm^3"},
    {"m3", BASE, "stere", "mm^3"},
    {"mm4", BASE, "mm^4", "mm^4"},
    {"N", BASE, "newton", "N"},
    {"kN", BASE, "kilonewton", "N"},
    {"MN", BASE, "meganewton", "N"},
    {"lbf", BASE, "lbf", "N"},
    {"kgf", BASE, "kgf", "N"},
    {"ton_us", BASE, "uston force", "N"},
    {"ton_metric", BASE, "tonne force", "N"},
    {"ton_long", BASE, "brton force", "N"},
    {"MPa", BASE, "megapascal", "N/mm^2"},
    {"GPa", BASE, "gigapascal", "N/mm^2"},
    {"kPa", BASE, "kilopascal", "N/mm^2"},
    {"Pa", BASE, "pascal", "N/mm^2"},
    {"bar", BASE, "bar", "N/mm^2"},
    {"psi", BASE, "psi", "N/mm^2"},
    {"ksi", BASE, "1000 psi", "N/mm^2"},
    {"J", BASE, "joule", "N mm"},
    {"kJ", BASE, "kilojoule", "N mm"},
    {"N*m", BASE, "newton meter", "N mm"},
    {"N m", BASE, "newton meter", "N mm"},
    {"W", BASE, "watt", "N mm/s"},
    {"kW", BASE, "kilowatt", "N mm/s"},
    {"kg", BASE, "kilogram", "N s^2/mm"},
    {"g", BASE, "gram", "N s^2/mm"},
    {"lb", BASE, "pound", "N s^2/mm"},
    {"kg/m3", BASE, "kg/m^3", "N s^2/mm^4"},
    {"kg/mm3", BASE, "kg/mm^3", "N s^2/mm^4"},
    {"N/mm", BASE, "N/mm", "N/mm"},
    {"lbf/in", BASE, "lbf/inch", "N/mm"},
    {"s", BASE, "second", "s"},
    {"min", BASE, "minute", "s"},
    {"h", BASE, "hour", "s"},
    {"/min", BASE, "1/minute", "hertz"},
    {"/s", BASE, "hertz", "1/s"},
    {"deg", BASE, "degree", "radian"},
    {"rad", BASE, "radian", "radian"},
    {"%", BASE, "percent", "1"},
    {"in", "mm", "inch", "mm"},
    {"ft", "in", "foot", "inch"},
    {"um", "thou", "micron", "mil"},
    {"m", "ft", "meter", "foot"},
    {"in2", "cm2", "inch^2", "cm^2"},
    {"m2", "in2", "m^2", "in^2"},
    {"ton_us", "kN", "uston force", "kN"},
    {"ton_long", "ton_us", "brton force", "uston force"},
    {"ton_metric", "ton_long", "metricton force", "brton force"},
    {"kN", "lbf", "kN", "lbf"},
    {"kgf", "lbf", "kgf", "lbf"},
    {"psi", "MPa", "psi", "MPa"},
    {"ksi", "GPa", "ksi", "GPa"},
    {"bar", "psi", "bar", "psi"},
    {"MPa", "psi", "MPa", "psi"},
    {"lb", "kg", "lb", "kg"},
    {"kg", "lb", "kg", "lb"},
    {"lbf/in", "N/mm", "lbf/in", "N/mm"},
    {"N/mm", "lbf/in", "N/mm", "lbf/in"},
    {"J", "N*m", "joule", "N m"},
    {"kJ", "J", "kJ", "J"},
    {"kW", "W", "kW", "W"},
    {"h", "min", "hr", "min"},
    {"/s", "/min", "1/s", "1/min"},
    {"rad", "deg", "radian", "degree"},
    {"kg/mm3", "kg/m3", "kg/mm^3", "kg/m^3"},
};

static double factor_of(const char *unit)
{
    struct unit_dim dim;
    double factor = 1;
    ck_assert_msg(!unit || unit_scan(unit, &dim, &factor) == strlen(unit), "%s", unit ? unit : "");
    return factor;
}

/* All questions go to one process, each as two lines. */
static const char *ask_all(void)
{
    char path[300], command[400];
    snprintf(path, sizeof path, "%s/questions", fresh_folder());
    FILE *f = fopen(path, "w");
    ck_assert_ptr_nonnull(f);
    for (size_t i = 0; i < COUNT_OF(rows); i++)
        fprintf(f, "%s\n%s\n", rows[i].have, rows[i].want);
    ck_assert_int_eq(fclose(f), 0);
    snprintf(command, sizeof command, "LC_ALL=C units --terse --compact --quiet --digits 15 < %s", path);
    int status;
    const char *answer = output_of(command, &status);
    ck_assert_msg(status == 0, "units: status %d: %s", status, answer);
    return answer;
}

START_TEST(conversions_agree_with_gnu_units)
{
    const char *answer = ask_all();
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        char *end;
        double theirs = strtod(answer, &end), ours = factor_of(rows[i].from) / factor_of(rows[i].to);
        ck_assert_msg(end != answer && *end == '\n', "%s to %s: no answer but \"%.40s\"", rows[i].have,
                      rows[i].want, answer);
        ck_assert_msg(fabs(ours - theirs) <= 1e-12 * fabs(theirs), "%s to %s: %.17g, units says %.17g",
                      rows[i].from, rows[i].want, ours, theirs);
        answer = end + 1;
    }
    ck_assert_str_eq(answer, "");
}
END_TEST

TCase *outside_case(void)
{
    TCase *t = tcase_create("outside");
    tcase_add_test(t, conversions_agree_with_gnu_units);
    return t;
}
