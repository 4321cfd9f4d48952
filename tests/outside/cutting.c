/* Cutting, clearance, bending, work, press, strip: figures from outside. */

#include "suites.h"

static const char EXAM_SHEET[] =
    "GATE, examination paper, Production and Industrial Engineering, 2013, hole of 10 mm";
static const char PROBLEM_115[] = "A. Pytel, F. L. Singer, Strength of Materials, 4th ed., problem 115";
static const char SHEARING_20_1[] = "M. P. Groover, Fundamentals of Modern Manufacturing, example 20.1";
static const char BENDING_20_2[] = "M. P. Groover, Fundamentals of Modern Manufacturing, example 20.2";
static const char SHEET_FORMING[] =
    "G. Oehler, F. Kaiser, Schnitt-, Stanz- und Ziehwerkzeuge, force of a V bend";
/* Of these the answers were read in an open companion to the book, not the pages. */
static const char SHARMA_2_3[] =
    "P. C. Sharma, A Textbook of Production Engineering, 11th ed. 2008, example 2.3, p. 133";
static const char SHARMA_2_4[] =
    "P. C. Sharma, A Textbook of Production Engineering, 11th ed. 2008, example 2.4, p. 134";
static const char SHARMA_2_5[] =
    "P. C. Sharma, A Textbook of Production Engineering, 11th ed. 2008, example 2.5, p. 134";
static const char SHARMA_2_6[] =
    "P. C. Sharma, A Textbook of Production Engineering, 11th ed. 2008, example 2.6, p. 135";
static const char SHARMA_2_7[] =
    "P. C. Sharma, A Textbook of Production Engineering, 11th ed. 2008, example 2.7, p. 135";
static const char SHARMA_2_11[] =
    "P. C. Sharma, A Textbook of Production Engineering, 11th ed. 2008, example 2.11, p. 139";
static const char SHARMA_2_12[] =
    "P. C. Sharma, A Textbook of Production Engineering, 11th ed. 2008, example 2.12, p. 139";
static const char KHURMI_16_23[] =
    "R. S. Khurmi, J. K. Gupta, Theory of Machines, 14th ed. 2009, example 16.23, p. 606";
static const char HIBBELER_9_9[] =
    "R. C. Hibbeler, A. Gupta, Engineering Mechanics: Statics and Dynamics, example 9.9, p. 352";
static const char CRANK[] = "geometry of a crank with a long rod";

static const struct row rows[] = {
    /* cutting */
    {"cutting_force(pi * 20 mm, 25 mm, 350 MPa)", "549778.7 N", "0.05 N", PRINTED, PROBLEM_115},
    {"cutting_force(pi * 10 mm, 2 mm, 80 MPa)", "5026.5 N", "0.1 N", PRINTED, EXAM_SHEET},
    {"cutting_force(pi * 1 cm, 5 mm, 276 MPa)", "43354 N", "1 N", PAPER, "50 pi mm2 times 276"},
    {"cutting_force(pi * 150 mm, 3.2 mm, 310 MPa)", "467469 N", "1 N", MEMORY, SHEARING_20_1},
    {"cutting_force(100 mm, 1 mm, 300 MPa)", "30 kN", NULL, PAPER,
     "force is length times thickness times shear strength"},
    {"cutting_force(1 in, 1 in, 50000 psi)", "25 ton_us", NULL, PRACTICE,
     "inch rule, 25 US tons for each square inch of cut face of mild steel"},
    {"round_hole_rule(1 in, 1/4 in)", "20 ton_us", NULL, PRACTICE,
     "inch rule, diameter times thickness times 80"},
    {"round_hole_rule(1/2 in, 1/8 in)", "5 ton_us", NULL, PRACTICE,
     "inch rule, diameter times thickness times 80"},
    {"round_hole_rule(1 in, 1 in) / cutting_force(pi * 1 in, 1 in, 50000 psi)", "80 / (25 * pi)", NULL,
     PRACTICE, "80 for a diameter stands for 25 for a perimeter, 1.9 % more"},
    {"shear_from_tensile(1000 MPa, 0.8)", "800 MPa", NULL, PRACTICE,
     "shear strength of steel sheet is 0.8 of the tensile strength"},
    {"shear_from_tensile(400 MPa)", "320 MPa", NULL, PRACTICE,
     "shear strength of steel sheet is 0.8 of the tensile strength"},
    /* shear on the tool */
    {"force_with_shear(100 kN, 2 mm, 2 mm, 0.5)", "50 kN", NULL, PAPER,
     "energy form: bite 1 mm, spread over 2 mm"},
    {"force_with_shear(100 kN, 2 mm, 1 mm, 0.5)", "100 kN", NULL, PAPER,
     "energy form: a slope as high as the bite relieves nothing"},
    {"force_with_shear(100 kN, 2 mm, 0.2 mm, 0.5)", "100 kN", NULL, PAPER, "never more than the plain force"},
    {"force_with_shear_mean(cutting_force(60 mm, 2.5 mm, 450 MPa), 2.5 mm, 1 mm, 0.4) / cutting_force(60 mm, "
     "2.5 mm, 450 MPa)",
     "1/2", NULL, PRINTED, SHARMA_2_7},
    {"cutting_force(pi * 25.4 mm, 1.5 mm, 280 MPa)", "33.5 kN", "0.05 kN", PRINTED, SHARMA_2_6},
    {"cutting_force(pi * (25.4 mm + 12.7 mm), 1.5 mm, 280 MPa)", "50.27 kN", "0.005 kN", PRINTED, SHARMA_2_6},
    {"force_with_shear_mean(cutting_force(pi * (25.4 mm + 12.7 mm), 1.5 mm, 280 MPa), 1.5 mm, 1 mm, 0.6)",
     "23.8 kN", "0.05 kN", PRINTED, SHARMA_2_6},
    /* stripping and pushing */
    {"stripping_force(467469 N)", "46747 N", "1 N", PRACTICE, "a tenth of the cutting force"},
    {"stripping_force(100 kN, share: 20 %)", "20 kN", NULL, PAPER, "a fifth"},
    {"slugs_in_land(6 mm, 2 mm)", "3", NULL, PAPER, "land over thickness"},
    {"slugs_in_land(5 mm, 2 mm)", "3", NULL, PAPER, "halves are counted up"},
    {"slugs_in_land(4.9 mm, 2 mm)", "2", NULL, PAPER, "to the nearest whole"},
    {"push_force(100 kN, slugs_in_land(6 mm, 2 mm))", "15 kN", NULL, PRACTICE, "a twentieth for each slug"},
    /* clearance */
    {"clearance(3.2 mm, 0.075)", "0.24 mm", NULL, MEMORY, SHEARING_20_1},
    {"clearance(1.5 mm, 5 %)", "0.075 mm", NULL, PRINTED, SHARMA_2_5},
    {"blanking_punch(25.35 mm, clearance(1.5 mm, 5 %))", "25.20 mm", NULL, PRINTED, SHARMA_2_5},
    {"piercing_opening(12.75 mm, clearance(1.5 mm, 5 %))", "12.90 mm", NULL, PRINTED, SHARMA_2_5},
    {"blanking_punch(150 mm, clearance(3.2 mm, 0.075))", "149.52 mm", NULL, MEMORY, SHEARING_20_1},
    {"blanking_punch(50 mm, 0.1 mm) + 2 * 0.1 mm", "50 mm", NULL, PRACTICE,
     "the opening of a blanking die has the blank's size"},
    {"piercing_opening(12 mm, 0.09 mm)", "12.18 mm", NULL, PRACTICE,
     "the punch has the hole's size, the clearance goes to the die"},
    {"root_clearance(1 mm, 350 MPa)", "0.06 mm", "0.0002 mm", MEMORY,
     "exam paper of 2005: 0.0064 t sqrt(shear) on both sides, 0.06 t a side at 350"},
    {"root_clearance(2 mm, 400 MPa)", "0.128 mm", NULL, PAPER, "0.0032 x 2 x 20"},
    {"listed(strip_material.clearance_share, key = \"DC01\")", "6 %", "2 %", PRACTICE,
     "mild steel takes 4 to 8 % of its thickness a side"},
    {"listed(strip_material.clearance_share, key = \"1.4301-half\")", "7.5 %", NULL, PRINTED,
     "M. P. Groover, Fundamentals of Modern Manufacturing, table 20.1, as quoted: stainless, half and full "
     "hard"},
    /* load centre */
    {"load_centre(10 mm, 0 mm, 30 mm, 40 mm)", "30 mm", NULL, PAPER, "lever: 30 of 40 parts at 40"},
    {"load_centre(1 mm, 1 mm, 1 mm, 2 mm, 1 mm, 3 mm, 1 mm, 4 mm)", "2.5 mm", NULL, PAPER, "four equal cuts"},
    {"arc_centre(10 mm, 90 deg)", "20 mm / pi", NULL, PAPER, "semicircle line: 2 r / pi from its centre"},
    {"arc_centre(60 mm, 90 deg)", "38.2 mm", "0.05 mm", PRINTED, HIBBELER_9_9},
    {"load_centre(pi * 60 mm, 60 mm, 40 mm, 0 mm, 20 mm, 0 mm)", "45.5 mm", "0.05 mm", PRINTED, HIBBELER_9_9},
    {"load_centre(pi * 60 mm, -arc_centre(60 mm, 90 deg), 40 mm, 20 mm, 20 mm, 40 mm)", "-22.5 mm", "0.05 mm",
     PRINTED, HIBBELER_9_9},
    {"arc_centre(10 mm, 45 deg)", "9.003 mm", "0.0005 mm", MEMORY,
     "quarter of a circle line: 2 sqrt(2) r / pi, tables of centroids"},
    {"arc_centre(10 mm, 180 deg)", "0 mm", "0.000001 mm", PAPER,
     "a whole circle has its centre in its centre"},
    /* bending */
    {"bending_force(450 MPa, 44.5 mm, 3.2 mm, 25 mm)", "10909 N", "1 N", MEMORY, BENDING_20_2},
    {"bending_force(630 MPa, 375 mm, 2.5 mm, 40 mm, 1.20)", "44.3 kN", "0.05 kN", PRINTED, SHARMA_2_3},
    {"bending_force(455 MPa, 1200 mm, 1.6 mm, 12.8 mm, 1.33)", "145.24 kN", "0.005 kN", PRINTED, SHARMA_2_12},
    {"bending_force(400 MPa, 900 mm, 3.2 mm, 9.5 mm + 9.5 mm + 3.2 mm, 0.67)", "111.25 kN", "0.01 kN",
     PRINTED, SHARMA_2_11},
    {"bending_force(310 MPa, 100 mm, 1 mm, 10 mm, 1 + 4 * 1 mm / 10 mm)", "4.34 kN", "0.005 kN", MEMORY,
     SHEET_FORMING},
    {"pad_force(bending_force(450 MPa, 44.5 mm, 3.2 mm, 25 mm))", "10909 N / 3", "1 N", PRACTICE,
     "a pad takes a third of the bending force"},
    /* work */
    {"cutting_work(100 kN, 2 mm)", "100 J", NULL, PRACTICE, "half of force times thickness"},
    {"cutting_work(100 kN, 2 mm, 2/3)", "400/3 J", NULL, MEMORY,
     "A. H. Fritz, G. Schulze, Fertigungstechnik, shearing: two thirds"},
    {"cutting_force(2 * (30 mm + 25 mm), 1.5 mm, 450 MPa)", "74.25 kN", NULL, PRINTED, SHARMA_2_4},
    {"cutting_work(cutting_force(2 * (30 mm + 25 mm), 1.5 mm, 450 MPa), 1.5 mm, 0.25)", "27.84 J", "0.005 J",
     PRINTED, SHARMA_2_4},
    {"stroke_power(cutting_work(cutting_force(pi * 25 mm, 18 mm, 300 MPa), 18 mm), 25 /min) / 95 %",
     "1.674 kW", "0.0005 kW", PRINTED, KHURMI_16_23},
    {"stroke_power(1 kJ, 60 /min)", "1 kW", NULL, PAPER, "one kilojoule a second"},
    {"stroke_power(cutting_work(40 kN, 4 mm), 30 /min)", "40 W", NULL, PAPER, "80 J, every two seconds"},
    /* press */
    {"force_at_height(1000 kN, 200 mm * (1 - cos(30 deg)) / 2, 200 mm, 100 mm)", "500 kN", NULL, PRACTICE,
     "a crank press rated at 30 degrees gives half of it at half the stroke"},
    {"force_at_height(1000 kN, 10 mm, 200 mm, 10 mm)", "1000 kN", NULL, PAPER, "at the height of its rating"},
    {"force_at_height(1000 kN, 10 mm, 200 mm, 0 mm)", "1000 kN", NULL, PRACTICE,
     "the frame is not rated for more near the bottom"},
    {"force_at_height(1000 kN, 10 mm, 200 mm, 20 mm) / 1 kN", "1000 * sqrt(10 * 190) / sqrt(20 * 180)", NULL,
     PAPER, CRANK},
    {"crank_angle(100 mm, 0 mm)", "0 deg", "0.000001 deg", PAPER, CRANK},
    {"crank_angle(100 mm, 50 mm)", "90 deg", NULL, PAPER, CRANK},
    {"crank_angle(100 mm, 100 mm)", "180 deg", NULL, PAPER, CRANK},
    {"crank_angle(100 mm, 25 mm)", "60 deg", NULL, PAPER, CRANK},
    {"feed_angle(100 mm, 25 mm)", "240 deg", NULL, PAPER, CRANK},
    {"press_most(300 mm) - press_least(300 mm, 60 mm)", "45 mm", NULL, PRACTICE,
     "adjustment less 5 above and 10 below"},
    {"open_tilt(1000 kN, 1000 kN) * 1 in", "0.0015 in", NULL, MEMORY,
     "JIC press standard, open-front presses: 0.0015 in for each inch at the rating"},
    /* die plate, strip */
    {"die_block(10 ton_metric)", "21.4 mm", "0.1 mm", MEMORY,
     "C. Donaldson, G. H. LeCain, Tool Design: cube root of the metric tons, in cm"},
    {"die_block(80 N * 125)", "10 mm", NULL, PAPER, "cube root of 1000"},
    {"strip_use(pi / 4 * (10 mm)^2, 10 mm, 10 mm)", "78.54 %", "0.005 %", PAPER,
     "discs in a row, no bridge: pi over 4"},
    {"strip_use(pi / 4 * (10 mm)^2 * 2, 10 mm * (1 + sqrt(3) / 2), 10 mm)", "84.2 %", "0.05 %", PAPER,
     "discs in two staggered rows, no bridge"},
    {"strip_use(pi / 4 * (10 mm)^2, 10 mm * sqrt(3) / 2, 10 mm)", "90.69 %", "0.005 %", PAPER,
     "densest packing of discs, pi over two times the root of three"},
    {"strip_use(6 cm2, 30 mm, 25 mm)", "80 %", NULL, PAPER, "600 of 750"},
};

START_TEST(cutting_agrees_with_the_outside)
{
    outside_holds(&rows[_i]);
}
END_TEST

TCase *cutting_tests(void)
{
    TCase *t = tcase_create("cutting");
    tcase_add_unchecked_fixture(t, outside_load, outside_unload);
    tcase_add_loop_test(t, cutting_agrees_with_the_outside, 0, COUNT_OF(rows));
    return t;
}
