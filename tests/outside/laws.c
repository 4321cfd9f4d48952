/* Laws that hold whatever the figures: how a result grows with each of its causes, and that units only
   name. */

#include "suites.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- powers -------------------------------------------------------------------------------------------- */

/* EXPRESSION grows with the POWER of the factor that stands in the place of "k". */
static const struct {
    const char *expression;
    double power;
} powers[] = {
    {"cutting_force(k * 100 mm, 2 mm, 300 MPa)", 1},
    {"cutting_force(100 mm, k * 2 mm, 300 MPa)", 1},
    {"cutting_force(100 mm, 2 mm, k * 300 MPa)", 1},
    {"round_hole_rule(k * 10 mm, 2 mm)", 1},
    {"round_hole_rule(10 mm, k * 2 mm)", 1},
    {"stripping_force(k * 100 kN)", 1},
    {"push_force(k * 100 kN, 3)", 1},
    {"push_force(100 kN, k * 3)", 1},
    {"force_with_shear_mean(k * 100 kN, 2 mm, 2 mm)", 1},
    {"cutting_work(k * 100 kN, 2 mm)", 1},
    {"cutting_work(100 kN, k * 2 mm)", 1},
    {"clearance(k * 2 mm, 6 %)", 1},
    {"root_clearance(k * 2 mm, 300 MPa)", 1},
    {"root_clearance(2 mm, k * 300 MPa)", 0.5},
    {"bending_force(k * 400 MPa, 50 mm, 2 mm, 16 mm)", 1},
    {"bending_force(400 MPa, k * 50 mm, 2 mm, 16 mm)", 1},
    {"bending_force(400 MPa, 50 mm, k * 2 mm, 16 mm)", 2},
    {"bending_force(400 MPa, 50 mm, 2 mm, k * 16 mm)", -1},
    {"beam_sag(k * 1 kN, 300 mm, 80 mm, 20 mm)", 1},
    {"beam_sag(1 kN, k * 300 mm, 80 mm, 20 mm)", 3},
    {"beam_sag(1 kN, 300 mm, k * 80 mm, 20 mm)", -1},
    {"beam_sag(1 kN, 300 mm, 80 mm, k * 20 mm)", -3},
    {"beam_sag(1 kN, 300 mm, 80 mm, 20 mm, k * 210 GPa)", -1},
    {"beam_sag_spread(1 kN, k * 300 mm, 80 mm, 20 mm)", 3},
    {"beam_sag_spread(1 kN, 300 mm, 80 mm, k * 20 mm)", -3},
    {"beam_stress(k * 1 kN, 300 mm, 80 mm, 20 mm)", 1},
    {"beam_stress(1 kN, k * 300 mm, 80 mm, 20 mm)", 1},
    {"beam_stress(1 kN, 300 mm, 80 mm, k * 20 mm)", -2},
    {"buckling_force(round_moment(k * 6 mm), 50 mm)", 4},
    {"buckling_force(round_moment(6 mm), k * 50 mm)", -2},
    {"buckling_force(round_moment(6 mm), 50 mm, k * 1)", -2},
    {"longest_punch(k * 6 mm, 2 mm, 300 MPa)", 1.5},
    {"longest_punch(6 mm, k * 2 mm, 300 MPa)", -0.5},
    {"longest_punch(6 mm, 2 mm, 300 MPa, k * 1)", -1},
    {"punch_stress(k * 6 mm, 2 mm, 300 MPa)", -1},
    {"punch_stress(6 mm, k * 2 mm, 300 MPa)", 1},
    {"head_pressure(10 kN, k * 13 mm)", -2},
    {"preload(k * 58 mm2, 830 MPa)", 1},
    {"preload(58 mm2, k * 830 MPa)", 1},
    {"torque(k * 10 mm, 30 kN)", 1},
    {"torque(10 mm, k * 30 kN)", 1},
    {"stripped_length(k * 50 kN, 300 MPa, 1.5 mm, 10 mm, 9.1 mm)", 1},
    {"stripped_length(50 kN, k * 300 MPa, 1.5 mm, 10 mm, 9.1 mm)", -1},
    {"stripped_length(50 kN, 300 MPa, k * 1.5 mm, k * 10 mm, k * 9.1 mm)", -1},
    {"core_diameter(k * 10 kN, 400 MPa, 6)", 0.5},
    {"dowel_shear(10 kN, 2, k * 10 mm)", -2},
    {"die_block(k * 100 kN)", 1.0 / 3},
    {"spring_force(4, k * 30 N/mm, 10 mm)", 1},
    {"spring_deflection(k * 4 mm, 30 mm, 8, 100 N, 80 GPa)", -4},
    {"spring_deflection(4 mm, k * 30 mm, 8, 100 N, 80 GPa)", 3},
    {"spring_deflection(4 mm, 30 mm, k * 8, 100 N, 80 GPa)", 1},
    {"wire_diameter(k * 1 kN, 6, 500 MPa)", 0.5},
    {"sling_force(k * 10 kN, 2, 50 deg)", 1},
    {"sling_force(10 kN, k * 2, 50 deg)", -1},
    {"block_mass(k * 100 mm, 50 mm, 20 mm)", 1},
    {"round_mass(k * 30 mm, 100 mm)", 2},
    {"round_moment(k * 10 mm)", 4},
    {"strip_use(100 mm2, k * 20 mm, 10 mm)", -1},
    {"force_at_height(k * 100 kN, 5 mm, 100 mm, 20 mm)", 1},
    {"force_at_height(100 kN, k * 5 mm, k * 100 mm, k * 20 mm)", 0},
};

/* Only a "k" that stands alone is the factor: "kN" is not. */
static double with_factor(const char *expression, double k)
{
    struct base_text t = {0};
    for (const char *e = expression; *e; e++) {
        bool alone = *e == 'k' && e[1] == ' ' && (e == expression || !isalnum((unsigned char)e[-1]));
        if (alone)
            base_text_addf(&t, "%.17g", k);
        else
            base_text_add_n(&t, e, 1);
    }
    double value = outside_value(base_text_get(&t));
    base_text_done(&t);
    return value;
}

START_TEST(a_result_grows_with_the_power_of_its_cause)
{
    static const double factors[] = {0.5, 1.25, 2, 3.7};
    double one = with_factor(powers[_i].expression, 1);
    ck_assert_double_gt(fabs(one), 0);
    for (size_t f = 0; f < COUNT_OF(factors); f++) {
        double grown = with_factor(powers[_i].expression, factors[f]),
               wanted = one * pow(factors[f], powers[_i].power);
        ck_assert_msg(fabs(grown - wanted) <= 1e-9 * fabs(wanted), "%s for k = %g: %.12g, by its power %.12g",
                      powers[_i].expression, factors[f], grown, wanted);
    }
}
END_TEST

/* ---- units --------------------------------------------------------------------------------------------- */

/* Definitions: the inch of 1959, the pound, standard gravity of 1901 in the pound-force. */

#define FORCE 4.4482216152605 /* N in a pound-force */
static const struct {
    const char *from, *to;
    double factor;
} renamings[] = {
    {"ksi", "MPa", 1000 * FORCE / (25.4 * 25.4)},
    {"psi", "MPa", FORCE / (25.4 * 25.4)},
    {"lbf/in", "N/mm", FORCE / 25.4},
    {"ton_us", "kN", 2 * FORCE},
    {"lbf", "N", FORCE},
    {"lb", "kg", 0.45359237},
    {"in2", "mm2", 25.4 * 25.4},
    {"in", "mm", 25.4},
    {"ft", "m", 0.3048},
    {"thou", "um", 25.4},
};

/* Each "number unit" of TEXT in metric units; the rest as it stands. */
static char *in_metric(const char *text)
{
    struct base_text out = {0};
    while (*text) {
        bool begins = isdigit((unsigned char)*text) &&
                      (out.length == 0 || !(isalnum((unsigned char)out.data[out.length - 1]) ||
                                            out.data[out.length - 1] == '_'));
        char *end = (char *)text;
        double number = begins ? strtod(text, &end) : 0;
        size_t r = 0;
        while (begins && r < COUNT_OF(renamings) &&
               !(*end == ' ' && strncmp(end + 1, renamings[r].from, strlen(renamings[r].from)) == 0))
            r++;
        if (begins && r < COUNT_OF(renamings)) {
            base_text_addf(&out, "%.17g %s", number * renamings[r].factor, renamings[r].to);
            text = end + 1 + strlen(renamings[r].from);
        } else if (begins) {
            base_text_add_n(&out, text, (size_t)(end - text));
            text = end;
        } else {
            base_text_add_n(&out, text++, 1);
        }
    }
    return base_text_take(&out);
}

static const char *const inch_expressions[] = {
    "cutting_force(28 in, 0.079 in, 40000 psi)",
    "round_hole_rule(3 in, 0.25 in)",
    "stripping_force(88480 lbf, 5 %)",
    "force_with_shear(22 ton_us, 0.125 in, 0.09 in)",
    "push_force(44 ton_us, slugs_in_land(0.25 in, 0.079 in))",
    "blanking_punch(2.5 in, clearance(0.125 in, 6 %))",
    "root_clearance(0.06 in, 50 ksi)",
    "load_centre(4 in, 1 in, 2.5 in, 3 in)",
    "bending_force(60 ksi, 4 in, 0.06 in, 0.5 in)",
    "cutting_work(20 ton_us, 0.1 in)",
    "force_at_height(100 ton_us, 0.25 in, 4 in, 0.75 in)",
    "crank_angle(4 in, 0.75 in)",
    "set_height(2 in, 0.375 in, 1.25 in, 1.75 in, 0.75 in, 0.375 in, 1.5 in)",
    "stripper_travel(0.03 in, 0.06 in, 0.04 in)",
    "die_block(60 ton_us)",
    "beam_sag(30 ton_us, 8 in, 14 in, 2 in)",
    "beam_stress(30 ton_us, 8 in, 14 in, 2 in)",
    "block_mass(1 ft, 10 in, 2 in)",
    "round_mass(1.25 in, 7 in)",
    "buckling_force(round_moment(0.25 in), 2 in, 0.7)",
    "longest_punch(0.25 in, 0.06 in, 50 ksi)",
    "screw_need(1.9 in, 0.375 in, 0.0625 in)",
    "stress_area(0.5 in, 0.076923 in)",
    "preload(0.0775 in2, 140 ksi)",
    "torque(0.375 in, 8100 lbf)",
    "stripped_length(12000 lbf, 50 ksi, 0.0625 in, 0.37 in, 0.34 in)",
    "post_engagement(5.5 in, 4.5 in, 0.2 in, 0.75 in, 2 in)",
    "post_diameter_for_shoe(14 in)",
    "spring_force(8, 180 lbf/in, 0.4 in)",
    "sling_force(2000 lbf, 2, 60 deg)",
    "root_stack(2 thou, 3 thou, 1 thou)",
    "12.5 lb * 1 in2 / 1 ft",
};

START_TEST(an_expression_in_inches_is_the_same_in_millimetres)
{
    const char *inch = inch_expressions[_i];
    char *metric = in_metric(inch);
    ck_assert_str_ne(inch, metric);
    ck_assert_ptr_null(strstr(metric, " in,"));
    double a = outside_value(inch), b = outside_value(metric);
    ck_assert_msg(fabs(a - b) <= 1e-12 * fabs(a), "%s = %.15g, %s = %.15g", inch, a, metric, b);
    free(metric);
}
END_TEST

START_TEST(units_are_by_their_definitions)
{
    ck_assert_double_eq_tol(outside_value("1 in"), 25.4, 1e-12);
    ck_assert_double_eq_tol(outside_value("1 lbf"), FORCE, 1e-12);
    ck_assert_double_eq_tol(outside_value("1 lb / 1 kg"), 0.45359237, 1e-12);
    ck_assert_double_eq_tol(outside_value("1 ton_us / 1 lbf"), 2000, 1e-9);
    ck_assert_double_eq_tol(outside_value("1 ton_long / 1 lbf"), 2240, 1e-9);
    ck_assert_double_eq_tol(outside_value("1 ton_metric"), 9806.65, 1e-9);
    ck_assert_double_eq_tol(outside_value("1 ksi / 1 psi"), 1000, 1e-9);
    ck_assert_double_eq_tol(outside_value("1 kW / (1 kJ / 1 s)"), 1, 1e-12);
    ck_assert_double_eq_tol(outside_value("1 kg * 9.80665 m / (1 s)^2 / 1 kgf"), 1, 1e-12);
}
END_TEST

/* ---- pairs that undo each other ------------------------------------------------------------------------ */

static const struct row inverses[] = {
    {"piercing_opening(blanking_punch(40 mm, 0.1 mm), 0.1 mm)", "40 mm", NULL, PAPER,
     "a clearance taken and given"},
    {"preload_from_torque(torque(16 mm, 70 kN, 0.15), 16 mm, 0.15)", "70 kN", NULL, PAPER,
     "torque and preload"},
    {"spring_deflection(4 mm, 30 mm, spring_coils(4 mm, 30 mm, 200 N, 12 mm, 80 GPa), 200 N, 80 GPa)",
     "12 mm", NULL, PAPER, "coils and way"},
    {"spring_preload(89 mm, 81 mm) + 81 mm", "89 mm", NULL, PAPER, "free length and room"},
    {"post_out(150 mm, 114 mm, 80 mm, 20 mm) + post_engagement(150 mm, 114 mm, 0 mm, 20 mm, 200 mm)", "80 mm",
     NULL, PAPER, "in at shut and out at the top make the stroke"},
    {"screw_gross(60 mm, 48 mm) - screw_net(60 mm, 48 mm, 1.5 mm)", "1.5 mm", NULL, PAPER,
     "the point of a screw is a pitch"},
    {"feed_angle(100 mm, 30 mm) + 2 * crank_angle(100 mm, 30 mm)", "360 deg", NULL, PAPER, "a turn"},
    {"crank_angle(100 mm, 50 mm * (1 - cos(37 deg)))", "37 deg", NULL, PAPER, "height and angle of a crank"},
    {"crank_angle(100 mm, 50 mm * (1 - cos(37 deg)) + 250 mm - sqrt((250 mm)^2 - (50 mm * sin(37 deg))^2), "
     "250 mm)",
     "37 deg", NULL, PAPER, "height and angle of crank and rod"},
    {"crank_lever(100 mm, 300 mm - sqrt((250 mm)^2 + (50 mm)^2), 250 mm)", "sqrt(1 + 1/25)", NULL, PAPER,
     "crank square to its rod: the slide is faster than the pin by the rod's lean"},
    {"crank_lever(100 mm, 25 mm)", "sin(60 deg)", NULL, PAPER, "a long rod"},
    {"shoe_opening(set_height(50 mm, 10 mm, 30 mm, 44 mm, 20 mm, 10 mm, 40 mm), 50 mm, 40 mm)",
     "10 mm + 30 mm + 44 mm + 20 mm + 10 mm", NULL, PAPER, "what stands between the shoes"},
    {"stripper_hang(65 mm, 20 mm, 1 mm, 20 mm) - stripper_gap(die_gap(65 mm, 20 mm, 1 mm), 2 mm, 20 mm)",
     "stripper_travel(1 mm, 2 mm, 1 mm)", NULL, PAPER, "open less shut is the way"},
};

START_TEST(what_one_formula_does_another_undoes) { outside_holds(&inverses[_i]); }
END_TEST

/* ---- never the wrong way ------------------------------------------------------------------------------- */

/* FORMAT with a length from LOW to HIGH in steps: never growing (-1) or never shrinking (1). */
static const struct {
    const char *format;
    double low, high;
    int way;
} slopes[] = {
    {"force_at_height(1000 kN, 6 mm, 100 mm, %g mm)", 0, 50, -1},
    {"force_at_height(1000 kN, 6 mm, 100 mm, %g mm, 250 mm)", 0, 44, -1},
    /* a long rod, which counts where none is told, is the careful one */
    {"force_at_height(1000 kN, 6 mm, 100 mm, 30 mm, %g mm)", 250, 4000, -1},
    {"feed_angle(100 mm, 30 mm, %g mm)", 100, 4000, -1},
    {"force_with_shear(100 kN, 2 mm, %g mm)", 0.1, 10, -1},
    {"crank_angle(100 mm, %g mm)", 0, 100, 1},
    {"feed_angle(100 mm, %g mm)", 0, 100, -1},
    {"post_engagement(150 mm, 114 mm, %g mm, 20 mm, 60 mm, 4 mm)", 0, 100, -1},
    {"cage_loaded(45 mm, 10 mm, 70 mm, 80 mm, %g mm)", 20, 80, -1},
    {"post_diameter_for_shoe(%g mm)", 50, 900, 1},
    {"wire_factor(%g)", 3, 16, -1},
    {"stripped_length(50 kN, 300 MPa, 1.5 mm, 10 mm, %g mm)", 8.5, 9.9, 1},
    {"sling_force(10 kN, 2, %g deg)", 10, 90, -1},
    {"listed(fit.upper, fit = \"p6\", over < %g mm, upto >= %g mm)", 1, 120, 1},
    {"size_over(cap_screw_length.length, %g mm, size = \"M8\")", 12, 80, 1},
};

START_TEST(more_never_turns_into_less)
{
    double before = 0;
    for (int step = 0; step <= 60; step++) {
        double at = slopes[_i].low + (slopes[_i].high - slopes[_i].low) * step / 60;
        double now = outside_value_of(slopes[_i].format, at, at);
        ck_assert_msg(step == 0 || slopes[_i].way * (now - before) >= -1e-9 * fabs(before),
                      "%s at %g: %.9g after %.9g", slopes[_i].format, at, now, before);
        before = now;
    }
}
END_TEST

TCase *law_tests(void)
{
    TCase *t = tcase_create("laws");
    tcase_add_unchecked_fixture(t, outside_load, outside_unload);
    tcase_add_loop_test(t, a_result_grows_with_the_power_of_its_cause, 0, COUNT_OF(powers));
    tcase_add_loop_test(t, an_expression_in_inches_is_the_same_in_millimetres, 0, COUNT_OF(inch_expressions));
    tcase_add_test(t, units_are_by_their_definitions);
    tcase_add_loop_test(t, what_one_formula_does_another_undoes, 0, COUNT_OF(inverses));
    tcase_add_loop_test(t, more_never_turns_into_less, 0, COUNT_OF(slopes));
    return t;
}
