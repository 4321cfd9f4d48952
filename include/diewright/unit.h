/* diewright/unit.h - dimensions, units, and numbers as people read them
 *
 * Base units inside: mm, N, s, rad. So mass is N s2/mm (1 kg = 0.001), pressure
 * N/mm2 = MPa, work N mm. A dimension holds exponents in sixths, so that square
 * and cube roots stay exact.       Uses: base.
 */
#ifndef DIEWRIGHT_UNIT_H
#define DIEWRIGHT_UNIT_H

#include "diewright/base.h"

struct unit_dim { signed char length, force, time, angle; }; /* sixths of a power */

enum { UNIT_POWER = 6 }; /* sixths in one whole power */

/* The units that a job is shown in and that a bare number of it is taken in. Areas follow the length, rates
 * and small forces the force, densities the mass; the names are of unit_choose(). */
struct unit_system { const char *length, *force, *pressure, *mass, *work; };

extern const struct unit_system UNIT_METRIC, UNIT_INCH; /* mm or in; kN MPa kg N m both */

/* S with NAME for what NAME measures; false, S as before, when NAME is no unit that can be chosen:
 * mm in, kN N lbf ton_us, MPa N/mm2 psi ksi, kg lb, N m, lbf ft, lbf in. */
bool unit_choose(struct unit_system *s, const char *name);
bool unit_is_inch(struct unit_system s);

extern const struct unit_dim UNIT_NUMBER, UNIT_LENGTH, UNIT_AREA, UNIT_FORCE, UNIT_PRESSURE,
    UNIT_RATE, UNIT_WORK, UNIT_MASS, UNIT_DENSITY, UNIT_ANGLE;

bool unit_same(struct unit_dim a, struct unit_dim b);
/* False when an exponent would leave the range of a signed char. */
bool unit_multiply(struct unit_dim a, struct unit_dim b, struct unit_dim *out);
bool unit_divide(struct unit_dim a, struct unit_dim b, struct unit_dim *out);
/* A to the power P; false when P does not give whole sixths or leaves the range. */
bool unit_raise(struct unit_dim a, double p, struct unit_dim *out);

/* The unit that TEXT starts with, longest first ("mm2" before "mm"); its length in
 * bytes, 0 when there is none. FACTOR turns it into base units. A unit must not run on
 * into a letter, digit or "_". Units and no others: mm cm m um in ft thou, mm2 cm2 m2 in2,
 * mm3 cm3 m3, mm4, N kN MN lbf kgf ton_us ton_metric ton_long, MPa N/mm2 GPa kPa Pa bar psi ksi,
 * J kJ N*m lbf ft, lbf in, W kW, kg g lb, kg/m3 kg/mm3 lb/in3, N/mm kN/mm lbf/in, s min h, /min /s,
 * mm/s m/s m/min in/s, deg rad, %; and as they are printed, with a small 2, 3 or 4 raised, the degree
 * sign, the micro sign, the dot of N m. */
size_t unit_scan(const char *text, struct unit_dim *dim, double *factor);

/* The units one by one, for those who look through them: the name of number I, NULL behind the last. */
const char *unit_at(int i, struct unit_dim *dim, double *factor);

/* A whole word is a unit (names must not be). */
bool unit_is_word(const char *text);

/* "length", "force", "length^4", "force / length", "number" ... as handbook and job
 * texts write dimensions. Errors name the word that is not one. */
NODISCARD enum base_err unit_parse_dim(const char *text, struct unit_dim *out, struct base_diag *why);

/* "a length", "a force", "length^3 * force": for sentences. Returns BUF. */
const char *unit_dim_name(struct unit_dim d, char *buf, size_t size);

/* How a value of this dimension is shown in this system. */
struct unit_display {
    const char *name; /* "mm", "kN", "" for a plain number */
    double factor;    /* base units in one of it */
    int decimals;     /* on screens */
};
struct unit_display unit_display(struct unit_dim d, struct unit_system s);

/* The display unit with this exact name ("mm", "kN", "%"); false when no such unit. */
bool unit_display_named(const char *name, struct unit_dim *dim, struct unit_display *out);

/* The unit that VALUE is told in: that of its dimension, but forces under 0.1 kN in N. */
struct unit_display unit_display_of(double value, struct unit_dim d, struct unit_system s);

/* How many digits. One rule for every screen, paper and sentence: as many decimals as the unit has (1 of mm,
 * 3 of in), more where the value has them, to 0.001 mm, 0.0001 in or 0.001 deg; a plain number has those it
 * needs of three. What is not a length and would read as nothing shows its first two digits. LEAST >= 0: that
 * many instead of the unit's. OTHER, NaN: none, is a value it stands beside: it gets as many digits as tell
 * it from that one. No zero bears a minus. */

/* Decimals of NUMBER, and OTHER, which are in the unit of unit_display(). */
int unit_places(double number, struct unit_dim d, struct unit_system s, int least, double other);

/* VALUE (base units) with its unit for sentences and screens: "25.0 mm", "156.9 kN", "42.0 N"; in powers of
   mm, N, s and rad where none has a name (unit_powers()). Returns BUF. */
const char *unit_print(double value, struct unit_dim d, struct unit_system s, char *buf, size_t size);
const char *unit_print_apart(double value, double other, struct unit_dim d, struct unit_system s, int least,
                             char *buf, size_t size);

/* "N s2", "mm3 N", "mm^1/2", "s^-2": what a value without a unit of its own is counted in; "" of a plain
 * number. Returns BUF. */
const char *unit_powers(struct unit_dim d, char *buf, size_t size);

/* The bare number, in the unit of unit_display(). */
const char *unit_print_number(double value, struct unit_dim d, struct unit_system s, char *buf, size_t size);

/* The bare number in the unit of that name, without needless decimals: "25", "12.7"; of "%" one decimal. */
const char *unit_print_in(double value, double other, const char *unit, char *buf, size_t size);

/* A number as data (CSV, JSON): twelve digits, without the noise of floating point behind them. */
const char *unit_print_plain(double number, char *buf, size_t size);

/* Shortest text that reads back as the same number (for what is typed again and compared). */
const char *unit_print_exact(double number, char *buf, size_t size);

/* VALUE (base units) as a person would type it, in the system's unit where its name can be typed, in powers
 * of mm, N, s and rad where none has a name: "25.4 mm", "3 * (1 mm)^4". Twelve digits. Yours to free(). */
char *unit_typed(struct unit_dim d, struct unit_system s, double value);

#endif
