/* Numbers in cells, units at the ends of column names, words of confidence. */

#include "table/cell.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* ---- numbers -------------------------------------------------------------- */

static bool is_digit(char c) { return c >= '0' && c <= '9'; }

static const char *pass_digits(const char *p)
{
    while (is_digit(*p))
        p++;
    return p;
}

/* The end of the decimal number at P, P itself when there is none. */
static const char *pass_decimal(const char *p)
{
    const char *start = p, *whole = pass_digits(p);
    const char *end = *whole == '.' ? pass_digits(whole + 1) : whole;
    if (end - start - (*whole == '.') <= 0)
        return start;
    if (*end == 'e' || *end == 'E') {
        const char *power = end + 1 + (end[1] == '+' || end[1] == '-');
        if (is_digit(*power))
            end = pass_digits(power);
    }
    return end;
}

/* "5/32" or "1 1/64", without a sign. */
static bool read_fraction(const char *p, double *out)
{
    double whole = 0;
    const char *end = pass_digits(p);
    if (end == p)
        return false;
    if (*end == ' ') {
        whole = strtod(p, NULL);
        p = end + 1;
        end = pass_digits(p);
    }
    if (end == p || *end != '/' || !is_digit(end[1]) || *pass_digits(end + 1))
        return false;
    double over = strtod(p, NULL), under = strtod(end + 1, NULL);
    *out = whole + over / under;
    return isfinite(*out);
}

/* A decimal of up to fifteen figures: as a whole number and a power of ten, both of which are exact, so that
   the one division rounds as strtod() does, which takes several times as long; of any other that is asked. */
static double decimal(const char *text, const char *end)
{
    static const double tens[] = {1,   1e1, 1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                  1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15};
    const char *point = NULL, *p = text;
    int64_t whole = 0;
    if (end - text > 16)
        return strtod(text, NULL);
    for (; is_digit(*p) || (*p == '.' && !point); p++)
        if (*p == '.')
            point = p;
        else
            whole = whole * 10 + (*p - '0');
    if (p != end || (!point && end - text > 15))
        return strtod(text, NULL);
    return (double)whole / tens[point ? end - point - 1 : 0];
}

bool cell_read_number(const char *text, double *out)
{
    bool minus = *text == '-';
    const char *p = text + (*text == '-' || *text == '+');
    const char *end = pass_decimal(p);
    if (end != p && !*end)
        *out = decimal(p, end);
    else if (!read_fraction(p, out))
        return false;
    if (minus)
        *out = -*out;
    return isfinite(*out);
}

/* ---- units ---------------------------------------------------------------- */

/* Endings that are not simply the unit's own spelling. */
static const struct { const char *ending, *unit; double times; } endings[] = {
    {"pct", "%", 1},           {"n_m", "N*m", 1},         {"n_per_mm", "N/mm", 1},
    {"lbf_per_in", "lbf/in", 1}, {"kg_m3", "kg/m3", 1},   {"kg_mm3", "kg/mm3", 1},
    {"per_min", "/min", 1},    {"per_s", "/s", 1},        {"arcmin", "deg", 1 / 60.0},
    {"n", "N", 1},             {"kn", "kN", 1},           {"mn", "MN", 1},
    {"mpa", "MPa", 1},         {"gpa", "GPa", 1},         {"kpa", "kPa", 1},
    {"pa", "Pa", 1},           {"j", "J", 1},             {"kj", "kJ", 1},
    {"w", "W", 1},             {"kw", "kW", 1},
};
static const char *const plain_endings[] = {
    "mm", "cm", "m", "um", "in", "ft", "thou", "mm2", "cm2", "m2", "in2", "mm3", "cm3", "m3",
    "mm4", "lbf", "kgf", "ton_us", "ton_metric", "ton_long", "bar", "psi", "ksi", "kg", "g",
    "lb", "s", "deg", "rad",
};

/* In ASCII only, whatever the locale. */
static char small(char c) { return c >= 'A' && c <= 'Z' ? (char)(c + 'a' - 'A') : c; }

static bool begins(const char *text, const char *word)
{
    while (*word && small(*text) == small(*word))
        text++, word++;
    return !*word;
}

/* Where ENDING begins in NAME, with its "_" before it; 0 when NAME does not end so. */
static size_t ends_in(const char *name, const char *ending)
{
    size_t n = strlen(name), e = strlen(ending);
    return n > e + 1 && name[n - e - 1] == '_' && begins(name + n - e, ending) ? n - e - 1 : 0;
}

size_t cell_column_unit(const char *name, struct unit_dim *dim, double *factor)
{
    size_t best = strlen(name);
    const char *unit = NULL;
    double times = 1;
    for (size_t i = 0; i < COUNT_OF(endings); i++) {
        size_t at = ends_in(name, endings[i].ending);
        if (at && at < best)
            best = at, unit = endings[i].unit, times = endings[i].times;
    }
    for (size_t i = 0; i < COUNT_OF(plain_endings); i++) {
        size_t at = ends_in(name, plain_endings[i]);
        if (at && at < best)
            best = at, unit = plain_endings[i], times = 1;
    }
    *dim = UNIT_NUMBER;
    *factor = 1;
    if (unit) {
        unit_scan(unit, dim, factor);
        *factor *= times;
    }
    return best;
}

/* ---- confidence ------------------------------------------------------------ */

static const struct { const char *word; enum table_confidence means; } words[] = {
    {"published", TABLE_PUBLISHED}, {"confirmed", TABLE_CONFIRMED},
    {"common practice", TABLE_PRACTICE}, {"practice", TABLE_PRACTICE},
    {"derived", TABLE_DERIVED}, {"estimate", TABLE_DERIVED},
    {"memory", TABLE_MEMORY}, {"invented", TABLE_INVENTED},
};

/* The word at the head of TEXT, -1: none of them. */
static int find_word(const char *text)
{
    for (size_t i = 0; i < COUNT_OF(words); i++) {
        char after = begins(text, words[i].word) ? small(text[strlen(words[i].word)]) : 'a';
        if (!is_digit(after) && !(after >= 'a' && after <= 'z'))
            return (int)i;
    }
    return -1;
}

bool cell_is_confidence(const char *text) { return find_word(text) >= 0; }

enum table_confidence cell_confidence(const char *text)
{
    int word = find_word(text);
    return word < 0 ? TABLE_MEMORY : words[word].means;
}

const char *table_confidence_text(enum table_confidence c)
{
    static const char *const texts[] = {
        [TABLE_PUBLISHED] = "published", [TABLE_CONFIRMED] = "confirmed",
        [TABLE_PRACTICE] = "common practice", [TABLE_DERIVED] = "derived",
        [TABLE_MEMORY] = "memory", [TABLE_INVENTED] = "invented",
    };
    return texts[c];
}

/* A figure that two sources agree on is surer than one that a single source gives. */
enum table_confidence cell_less_sure(enum table_confidence a, enum table_confidence b)
{
    static const int doubt[] = {
        [TABLE_CONFIRMED] = 0, [TABLE_PUBLISHED] = 1, [TABLE_PRACTICE] = 2,
        [TABLE_DERIVED] = 3, [TABLE_MEMORY] = 4, [TABLE_INVENTED] = 5,
    };
    return doubt[a] >= doubt[b] ? a : b;
}
