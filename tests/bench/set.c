/* A long set for measuring, invented: a sheet with many small holes, a few of them pierced in each station.
 *
 * The part has a grid of places. A station pierces one column of it, a few rows that stand well apart, so
 * that webs of the openings and of the strip stay; a group is a pair on both sides of the middle, or a single
 * punch. Ten stations go over all columns, the next ten over the rows between, and so on.
 */

#include "set.h"

#include <math.h>

#include "diewright/base.h"

enum { COLUMNS = 10, TURNS = 4 };
static const double PITCH = 60, STEP = 5, ROW = 5;

/* How far out the rows reach, at least as far as in the set of forty stations, so that its plates are its. */
static double reach(int stations, int in_station)
{
    int turns = (stations + COLUMNS - 1) / COLUMNS;
    return ROW * fmax(turns, TURNS) * fmax(in_station, BENCH_IN_STATION);
}

static void add_head(struct base_text *out, double half, int stations)
{
    base_text_addf(out,
                   "job\n"
                   "  title A sheet with many holes, an invented job of %d stations\n"
                   "  note All of it is invented. It is made to be measured, not to be built.\n"
                   "  unit = \"mm\"\n"
                   "  part = \"flat sheet with holes of 2\"\n"
                   "  drawing = \"invented\"\n"
                   "strip\n"
                   "  material = \"DC01\"\n"
                   "  thickness = 0.5 mm\n"
                   "  width = %g mm\n"
                   "  pitch = %g mm\n"
                   "  guided_by = \"the shop's own rails on the die plate\"\n"
                   "  stopped_by = \"sensor on a pilot of the last station but one\"\n"
                   "  low_use_reason = \"carrier wanted on both sides\"\n",
                   stations, 2 * half + 44, PITCH);
    base_text_add(out,
                  "press\n"
                  "  size = \"straight side 6300 kN\"\n"
                  "  stroke = 100 mm\n"
                  "    reason set for this job\n"
                  "  most_height = 460 mm\n"
                  "    reason a low press with a long bed\n"
                  "  opening_length = 2600 mm\n"
                  "    reason its bed is open over all of its length\n"
                  "  opening_width = 340 mm\n"
                  "    reason its bed is open over all of its length\n"
                  "stack\n"
                  "  upper_shoe = upper_shoe\n"
                  "  punch_plate = punch_plate\n"
                  "  stripper = stripper\n"
                  "  die_plate = die_plate\n"
                  "  lower_shoe = lower_shoe\n"
                  "  punch_length = 66 mm\n"
                  "  entry = 0.8 mm\n"
                  "  punch_regrind = 3 mm\n"
                  "  die_regrind = 4.5 mm\n"
                  "  land = 5 mm\n"
                  "  lead = 0.6 mm\n"
                  "  margin_in = 40 mm\n"
                  "  margin_out = 40 mm\n"
                  "  margin_sides = 55 mm\n"
                  "  shoe_margin_ends = 80 mm\n"
                  "  shoe_margin_sides = 80 mm\n");
}

static void add_plates(struct base_text *out)
{
    static const struct { const char *name, *moves, *material, *hardness; double thickness; } plates[] = {
        {"upper_shoe", "with the slide", "1.0577", NULL, 64},
        {"punch_backing", "with the slide", "1.2842", "56..60 HRC", 12},
        {"punch_plate", "with the slide", "1.1730", NULL, 22},
        {"stripper", "stripper", "1.2312", "29..35 HRC", 18},
        {"die_plate", "with the bed", "1.2379", "60..62 HRC", 34},
        {"die_backing", "with the bed", "1.2842", "56..60 HRC", 12},
        {"lower_shoe", "with the bed", "1.0577", NULL, 60},
    };
    for (size_t i = 0; i < COUNT_OF(plates); i++) {
        base_text_addf(out, "plate %s\n  moves = \"%s\"\n  thickness = %g mm\n  material = \"%s\"\n",
                       plates[i].name, plates[i].moves, plates[i].thickness, plates[i].material);
        if (plates[i].hardness)
            base_text_addf(out, "%s  hardness = \"%s\"\n", i == 3 ? "" : "  hardened = yes\n",
                           plates[i].hardness);
    }
}

static void add_guides(struct base_text *out)
{
    base_text_add(out,
                  "posts posts\n"
                  "  seat_in = lower_shoe\n"
                  "  runs_in = upper_shoe\n"
                  "  diameter = 40 mm\n"
                  "  lengths = \"R20\"\n"
                  "  lead = 3 mm\n"
                  "  sunk = 2 mm\n"
                  "  lay corners on lower_shoe\n"
                  "    end = 52 mm\n"
                  "    side = 56 mm\n"
                  "    turn = 60 deg\n"
                  "    point left_front\n"
                  "      y = usual - 8 mm\n"
                  "        reason the odd post: the upper half does not go on turned round\n"
                  "bushings bushings\n"
                  "  of = posts\n"
                  "  seat_in = upper_shoe\n"
                  "  form = \"flanged\"\n"
                  "  lay with posts\n");
}

static void add_stations(struct base_text *out, double half, int stations, int in_station)
{
    int turns = (stations + COLUMNS - 1) / COLUMNS;
    turns = turns > TURNS ? turns : TURNS;
    base_text_addf(out,
                   "station pilot_holes\n"
                   "  number = 1\n"
                   "  does = \"pierce\"\n"
                   "  size = 5 mm\n"
                   "  lay pair on die_plate\n"
                   "    apart = %g mm\n",
                   2 * half + 24);
    for (int s = 0; s < stations; s++)
        for (int g = 0; g < in_station; g++) {
            double along = (s % COLUMNS - (COLUMNS - 1) / 2.0) * STEP;
            double across = (s / COLUMNS + turns * g + 1) * ROW;
            base_text_addf(out, "station holes_%d_%d\n  number = %d\n  does = \"pierce\"\n  size = 2 mm\n",
                           s + 1, g + 1, s + 1);
            if (g > 0)
                base_text_addf(out,
                               "  lay places on die_plate\n    along = %g mm\n    across = %g mm\n"
                               "    pitch = 10 mm\n",
                               along, (s + g) % 2 ? across : -across);
            else
                base_text_addf(out, "  lay pair on die_plate\n    along = %g mm\n    apart = %g mm\n", along,
                               2 * across);
        }
    base_text_addf(out,
                   "station blank\n"
                   "  number = %d\n"
                   "  does = \"blank\"\n"
                   "  shape = \"rectangle\"\n"
                   "  along = %g mm\n"
                   "  across = %g mm\n"
                   "  corner = 4 mm\n"
                   "  held = \"by screws from behind\"\n"
                   "  lay one on die_plate\n"
                   "pilots pilots\n"
                   "  of = pilot_holes\n"
                   "  stations = \"2 to %d\"\n"
                   "  ahead = 2.5 mm\n"
                   "  lay with pilot_holes\n",
                   stations + 2, PITCH - 6, 2 * half + 4, stations);
    for (int s = 2; s <= stations; s += 2)
        base_text_addf(out,
                       "lifters lifters_%d\n"
                       "  stations = \"%d\"\n"
                       "  lift = 7 mm\n"
                       "  diameter = 5 mm\n"
                       "  seat_in = lower_shoe\n"
                       "  seat_depth = 28 mm\n"
                       "  lay pair on die_plate\n"
                       "    apart = %g mm\n",
                       s, s, 2 * half + 12);
}

static void add_fasteners(struct base_text *out, int stations)
{
    double length = stations * PITCH;
    int fours = stations / 4 > 2 ? stations / 4 : 2;
    for (int i = 0; i < fours; i++) {
        double end = 19 + (length / 2 - 19) * i / fours;
        base_text_addf(out,
                       "screws punch_screws_%d\n"
                       "  head_in = upper_shoe\n"
                       "  thread_in = punch_plate\n"
                       "  size = \"M8\"\n"
                       "  class = \"12.9\"\n"
                       "  head_depth = 10 mm\n"
                       "  lay corners on punch_plate\n"
                       "    end = %g mm\n"
                       "    side = 38 mm\n"
                       "screws die_screws_%d\n"
                       "  head_in = lower_shoe\n"
                       "  thread_in = die_plate\n"
                       "  size = \"M8\"\n"
                       "  class = \"12.9\"\n"
                       "  head_depth = 10 mm\n"
                       "  lay corners on die_plate\n"
                       "    end = %g mm\n"
                       "    side = 38 mm\n",
                       i + 1, end, i + 1, end);
        end += length / 4 / fours;
        base_text_addf(out,
                       "springs springs_%d\n"
                       "  seat_in = upper_shoe\n"
                       "  stands_on = stripper\n"
                       "  load = \"heavy\"\n"
                       "  hole_size = 32 mm\n"
                       "  pocket_depth = 27 mm\n"
                       "  lay corners on stripper\n"
                       "    end = %g mm\n"
                       "    side = 22 mm\n",
                       i + 1, end + 40);
    }
    base_text_add(out,
                  "shoulder_screws stripper_bolts\n"
                  "  head_in = upper_shoe\n"
                  "  thread_in = stripper\n"
                  "  shoulder = 10 mm\n"
                  "  lay rows on stripper\n"
                  "    columns = 5\n"
                  "    rows = 2\n"
                  "    end = 15 mm\n"
                  "    side = 14 mm\n"
                  "dowels punch_dowels\n"
                  "  first = punch_plate\n"
                  "  second = upper_shoe\n"
                  "  diameter = 10 mm\n"
                  "  lay ends on punch_plate\n"
                  "    end = 22 mm\n"
                  "    left_across = -13 mm\n"
                  "    right_across = 9 mm\n"
                  "dowels die_dowels\n"
                  "  first = die_plate\n"
                  "  second = lower_shoe\n"
                  "  diameter = 10 mm\n"
                  "  lay ends on die_plate\n"
                  "    end = 22 mm\n"
                  "    left_across = -11 mm\n"
                  "    right_across = 11 mm\n"
                  "risers risers\n"
                  "  height = 100 mm\n"
                  "  width = 50 mm\n"
                  "  run = \"along the feed\"\n"
                  "  apart = 340 mm\n");
}

char *bench_set(int stations, int in_station)
{
    struct base_text out = {0};
    double half = reach(stations, in_station);
    add_head(&out, half, stations);
    add_plates(&out);
    add_guides(&out);
    add_stations(&out, half, stations, in_station);
    add_fasteners(&out, stations);
    return base_text_take(&out);
}
