/* The shipped rules, each just inside and just outside, on edits of tests/findings/base.txt. That every rule
 * holds on the base itself is a test of its own, and so is that no rule of the handbook is missing here.
 *
 * Figures are worked out by hand from the base: plates 180 x 160, shoes 280 x 250; from the top 40 + 10 + 20,
 * stripper 20, 30 + 45; strip 1, punches 65, entry 1, lead 1, 4 to be ground off either cutting edge. So
 *     gap 65 - 20 - 1 = 44 (ground 40)          shut height 45 + 30 + 44 + 70 = 189 (ground 181), between the
 *     shoes 104 (96)
 *     travel 1 + 1 + 1 = 3 (ground 7)           punch plate to stripper 44 - 1 - 20 = 23 (ground 19), open 26
 *     cut   round 10: pi 10 x 1 x 300 MPa = 9.425 kN, 20 x 30: 100 x 1 x 300 = 30 kN, together 39.425 kN
 *     slugs 6 / 1 = 6, push 6 x 5 % = 0.3 of the cut; springs 8 x 67.7 N/mm, 89 in a room of 81: preload 8
 */

#include "bench.h"

#include <glob.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define PI 3.14159265358979323846
#define CUT (PI * 10 * 300 + 100 * 300) /* N */
#define SPRINGS (8 * 67.7)              /* N/mm */
#define FLIPS "die_screws.tapped = \"right through\"; die_dowels.seat = \"shared\"; "
#define SPRINGS_ROUND \
    "+ shoulder_screws more; more.head_in = upper_shoe; more.thread_in = stripper; more lay with springs; "
/* Four springs at the punches' own places along the feed, 80 less so much across. */
#define OVER_PUNCHES "springs.lay.columns = 2; springs.lay.end = 66 mm; springs.lay.side = "
#define MORE_SPRINGS \
    "+ springs more; more.seat_in = upper_shoe; more.stands_on = stripper; more.load = \"heavy\"; "
#define IN_TWO                                                                                        \
    "die_screws lay places on die_plate; die_screws.lay.end = ; die_screws.lay.side = ; "             \
    "+ screws more; more.head_in = lower_shoe; more.thread_in = die_plate; more.tapped = \"blind\"; " \
    "more lay places on die_plate; die_screws.lay.along = -70 mm; die_screws.lay.pitch = 70 mm; "     \
    "die_screws.lay.columns = 3; more.lay.along = -70 mm; more.lay.pitch = 70 mm; more.lay.columns = 3; "
#define MORE_BOLTS "+ shoulder_screws more; more.head_in = upper_shoe; more.thread_in = stripper; "
#define PILOTS "+ pilots finders; finders lay one on die_plate; finders.strip_hole = 6 mm; "
#define NUMBERED "pierce.number = 1; "
#define THIN_NOTCH \
    "strip.width = 110 mm; blank.does = \"notch\"; blank.along = 4 mm; blank.lay.across = 50 mm; "
#define CUTTER                                                                                \
    "strip.width = 110 mm; blank.does = \"notch\"; blank.gauges = yes; blank.across = 4 mm; " \
    "blank.lay.across = 55 mm; blank.along = strip.pitch + "
#define ONE_EDGE                                                                                \
    "die_screws lay places on die_plate; die_screws.lay.end = ; die_screws.lay.side = ; "       \
    "die_screws.lay.along = -60 mm; die_screws.lay.pitch = 40 mm; die_screws.lay.columns = 4; " \
    "die_screws.lay.across = -30 mm; die_screws.lay.rows = 2; "
#define FINDERS                                                                      \
    NUMBERED "+ pilots finders; finders.of = pierce; finders lay one on die_plate; " \
             "finders.stations = "
#define HEEL "+ own_block heel; heel.on = lower_shoe; heel lay one on lower_shoe; "
#define STOPPER "+ own_block stop; stop.on = die_plate; stop lay one on die_plate; "
#define BELOW "heel.screw_from = \"from the plate into the block\"; "
#define SUNK HEEL "heel.sits = \"in a pocket\"; heel.height = 80 mm; heel.sunk = lower_shoe.thickness"
#define BUTTON "+ die_button button; button.of = pierce; button lay with pierce; "
/* Parted half way between two stations, 27 from the hole's middle and 27 from the blank's. */
#define SECTIONS                                                                                    \
    "pierce.number = 1; blank.number = 2; + die_section a; a lay one on die_plate; a.to_station = 1; " \
    "+ die_section b; b lay one on die_plate; b.from_station = 2; b.to_station = 2; "
#define FRAMED SECTIONS "a.sits = \"in a pocket\"; b.sits = \"in a pocket\"; "
#define A_HELD                                                                                         \
    SECTIONS "a.held_with = die_screws; die_screws lay places on die_plate; die_screws.lay.end = ; "   \
             "die_screws.lay.side = ; die_screws.lay.along = -70 mm; die_screws.lay.pitch = 40 mm; " \
             "die_screws.lay.columns = 2; "
#define TOLD "die_plate.hardness = \""
#define PAIR                                                                                     \
    "posts lay one on lower_shoe; posts.lay.right_back.x = ; posts.lay.right_back.x.reason = ; " \
    "posts.lay.end = ; posts.lay.side = ; "
#define THIRD "+ station third; third lay one on die_plate; third.does = \"idle\"; "
#define ACROSS "pierce.shape = \"rectangle\"; pierce.held = \"by a shoulder\"; pierce.along = 4 mm; "
#define BLADE \
    "pierce.shape = \"rectangle\"; strip.width = 120 mm; strip.thickness = 2 mm; strip.shear = 496 MPa; "
#define ANGLE                                                                               \
    "blank.does = \"pierce\"; blank.shape = \"outline\"; blank.outline.1 = at 0 mm, 0 mm; " \
    "blank.outline.2 = line to 20 mm, 0 mm; blank.outline.3 = line to 20 mm, 8 mm; "        \
    "blank.outline.4 = line to 8 mm, 8 mm; blank.outline.5 = line to 8 mm, 20 mm; "         \
    "blank.outline.6 = line to 0 mm, 20 mm; "
#define DOWN                                                                                           \
    FIXED "stack.tunnel = 3 mm; + screws down; down.head_in = stripper; down.thread_in = lower_shoe; " \
          "down lay ends on stripper; down.lay.end = 20 mm; down.lay.right_across = 30 mm; "
#define TWICE                                                                   \
    "+ screws twice; twice.head_in = lower_shoe; twice.thread_in = die_plate; " \
    "twice.tapped = \"blind\"; twice lay six on die_plate; twice.lay.end = 20 mm; "
#define FIXED "stripper.moves = \"with the bed\"; - springs; - bolts; "
#define DIMPLE "blank.does = \"form\"; blank.forming_force = 5 kN; blank.depth = 2 mm; "
/* A bend of a strip of 1: radius 1, wiped over 3 more, so D is 5; its leg of 10 reaches 9 below the die. */
#define BEND "+ forming bend; bend lay one on die_plate; "
/* At station 2, behind the round hole of 10 of station 1; or behind two slots of 4 at its ends. */
#define BEHIND "pierce.number = 1; pierce.lay.along = 0 mm; " BEND "bend.number = 2; bend.lay.across = "
#define SLOTTED                                                                                       \
    "pierce.number = 1; pierce.does = \"notch\"; pierce.shape = \"rectangle\"; pierce.along = 4 mm; " \
    "pierce lay places on die_plate; pierce.lay.along = -12 mm; pierce.lay.pitch = 24 mm; "           \
    "pierce.lay.columns = 2; " BEND "bend.number = 2; "
#define CUP BEND "bend.does = \"draw\"; bend.size = 40 mm; bend.height = 6 mm; "
#define COLLAR BEND "bend.does = \"collar\"; bend.size = 10 mm; "
#define COMPOUND "@compound " /* what follows is tried on the start of that name */
#define EMBOSS BEND "bend.does = \"emboss\"; "
#define VEE BEND "bend.does = \"V bend\"; "
/* Over the hole of 10 that station 1 pierces; and a cup of 20 with it in its bottom. */
#define COLLARED                                                                                    \
    "pierce.number = 1; pierce.lay.along = 0 mm; " BEND "bend.number = 2; bend.does = \"collar\"; " \
    "bend.size = 20 mm; bend.hole = "
#define BOTTOMED                                                                                  \
    "pierce.number = 1; pierce.lay.along = 0 mm; " BEND "bend.number = 2; bend.does = \"draw\"; " \
    "bend.size = 20 mm; bend.radius = 5 mm; pierce.size = "
#define SPRUNG COMPOUND "knock_out.works = \"by springs\"; knock_out.spring_rate = "
#define PUSHED COMPOUND "knock_out.works = \"by springs\"; knock_out.spring_circle = "
#define PAD BEND "bend.pad = \"a pad of its own\"; bend.leg = 3 mm; bend.depth = 3 mm; "
#define INSERT BEND "bend.die = \"an insert\"; "
#define LIFTED BEND PINS "pins.lift = "
#define FORMED_AT_2 "pierce.number = 1; blank.number = 3; " BEND "bend.number = 2; bend.carried_to = "
#define CHANNEL FORMED_AT_2 "3; bend.cleared_by = \"a channel to the end\"; "
#define GUIDES "+ sub_posts guides; guides lay corners on punch_plate; guides.lay.side = 40 mm; "
#define HEAVY "lower_shoe.density = "
#define MORE_EYES "+ lift_holes eyes; eyes.tapped_in = lower_shoe; eyes.lifts = \"the whole set\"; "
#define PINS "+ lifters pins; pins.seat_in = lower_shoe; pins lay ends on die_plate; pins.lay.end = 40 mm; "
#define PASSED "+ lifters pins; pins.seat_in = lower_shoe; pins lay one on die_plate; pins.lay.along = 0 mm; "
#define WRONG_SCREW                                                                                  \
    "+ own_sizes odd; odd.table = shoulder_screw; odd.line.1 = "                                     \
    "shoulder_mm,thread,pitch_mm,head_diameter_mm,head_height_mm,thread_length_mm,length_mm,source," \
    "confidence; "                                                                                   \
    "odd.line.2 = 10,M8,1.25,10,7,13,80,own,derived; bolts.length = 80 mm"
#define DRILLED(d, depth) (PI / 4 * (d) * (d) * (depth))
#define UPPER_TAKEN(t)                                                                           \
    (4 * DRILLED(40, t) + 6 * (DRILLED(15, 8.6) + DRILLED(9, (t)-8.6)) +                         \
     4 * (DRILLED(17, 16) + DRILLED(10.5, (t)-16)) + 2 * (DRILLED(8, 19) + DRILLED(7, (t)-19)) + \
     8 * DRILLED(25, 25) + 12 * DRILLED(5, 15))
#define SLOTS "+ clamp_slots slots; slots.shoe = lower_shoe; "
#define ENDS "slots.edges = \"left and right\"; "
#define PAGE "+ sharpening page; "
#define TWO "+ sharpening page; + sharpening other; "
/* The blank by its outline, from the station's point on, which is 24 right of the middle: a rectangle; a
 * triangle with a side along x + y = -S, which leaves (48 - S) / sqrt(2) less 5.05 to the opening at -48, 0;
 * a half circle of 20. */
#define OUTLINE "blank.shape = \"outline\"; blank.outline.1 = at 0 mm, 0 mm; "
#define WIDE "strip.width = 110 mm; "
#define NOTCH WIDE "blank.does = \"notch\""
#define CORNERS(x, y)                                                                    \
    OUTLINE "blank.outline.2 = line to " x ", 0 mm; blank.outline.3 = line to " x ", " y \
            "; blank.outline.4 = line to 0 mm, " y
#define SLANTED(s)                                              \
    "blank.shape = \"outline\"; blank.outline.1 = at -" s       \
    " - 20 mm, 20 mm; blank.outline.2 = line to 0 mm, -" s "; " \
    "blank.outline.3 = line to 0 mm, 20 mm"
#define ARC(radius) OUTLINE "blank.outline.2 = arc to 20 mm, 0 mm radius " radius " left"
/* Masses in t: punches of their whole length, bushings 40 / 25 x 63, screws and shoulder screws with their
   heads, dowels. */
#define ROUND(d, l) (PI / 4 * (d) * (d) * (l)*7.85e-9)
#define SCREW(l) (ROUND(8, l) + ROUND(13.27, 8))
/* A spring for a hole of 25 and a rod of 12.5, 89 long and 26.7 pressed at most: at most this tube. */
#define TUBE (ROUND(25, 89 - 26.7) - ROUND(12.5, 89 - 26.7))
#define UPPER                                                                     \
    ((280 * 250 * 40 + 180 * 160 * 50 + 20 * 30 * 65) * 7.85e-9 + ROUND(10, 65) + \
     4 * (ROUND(40, 63) - ROUND(25, 63)) + 6 * SCREW(55) + 2 * ROUND(8, 45) +     \
     4 * (ROUND(10, 80) + ROUND(16, 7)) + 8 * TUBE)
#define LOWER \
    ((280 * 250 * 45 + 180 * 160 * 30) * 7.85e-9 + 4 * ROUND(25, 160) + 6 * SCREW(50) + 2 * ROUND(8, 32))
#define GRAVITY 9806.65
/* What a millimetre of M8 thread shears in its plate, mm2: smallest screw 7.765196, largest hole 7.348016
   over the flanks. */
#define THREAD (PI / 1.25 * 7.765195948 * (0.625 + 0.57735 * (7.765195948 - 7.348016339)))
#define NEW HANDBOOK_NEW
#define GROUND HANDBOOK_GROUND
#define BOTH HANDBOOK_BOTH
#define ANY NAN

enum outcome { HOLDS, NOTE, CAUTION, FAULT };

struct row {
    const char *rule, *subject, *edit;
    enum outcome outcome;
    enum handbook_states states;
    double value, limit; /* in mm, N, s, rad; NaN: not looked at */
};

static const struct row rows[] = {
    /* ---- what a tool must be: common practice, but where said ---------------------------- */
    {"joint-held", "die_plate", "", HOLDS, NEW, ANY, ANY},
    {"joint-held", "die_plate", "die_screws lay ends on die_plate; die_screws.lay.side = ", CAUTION, NEW, ANY,
     ANY},
    {"joint-held", "die_plate",
     "die_screws lay one on die_plate; die_screws.lay.end = ; "
     "die_screws.lay.side = ",
     FAULT, NEW, ANY, ANY},
    {"joint-held", "die_plate", "- die_screws", FAULT, NEW, ANY, ANY},
    {"joint-held", "die_plate", "- die_screws; die_plate.held_by = \"clamps at both ends\"", NOTE, NEW, ANY,
     ANY},
    /* one mistake is one finding, at the joint that is nearest to the shoe */
    {"joint-held", "upper_shoe punch_backing", "- punch_screws", FAULT, NEW, ANY, ANY},
    {"joint-held", "punch_backing punch_plate", "- punch_screws", HOLDS, NEW, ANY, ANY},
    {"joint-held", "punch_backing punch_plate", "punch_screws.thread_in = punch_backing", FAULT, NEW, ANY,
     ANY},
    {"plate-located", "punch_plate", "- punch_dowels", FAULT, NEW, ANY, ANY},
    {"plate-located", "punch_plate", "- punch_dowels; punch_plate.located_by = \"a keyed fit\"", NOTE, NEW,
     ANY, ANY},
    {"plate-located", "punch_plate", "punch_dowels.second = punch_backing", FAULT, NEW, ANY, ANY},
    {"plate-located", "punch_plate", "punch_dowels.second = punch_backing; punch_plate.located_by = \"keys\"",
     HOLDS, NEW, ANY, ANY},
    {"die-on-top", "", "punch_backing.moves = \"with the bed\"", FAULT, NEW, 1, 0},
    {"die-on-top", "", "", HOLDS, NEW, 0, 0},
    {"punch-plate-lowest", "", "stack.punch_plate = punch_backing", FAULT, NEW, 1, 0},
    {"punch-plate-lowest", "", "", HOLDS, NEW, 0, 0},
    {"punch-plate-thick", "", "punch_plate.thickness = 20 mm; stack.punch_length = 80 mm", HOLDS, NEW, 20,
     20},
    {"punch-plate-thick", "", "punch_plate.thickness = 19.9 mm; stack.punch_length = 80 mm", CAUTION, NEW,
     19.9, 20},
    {"punch-plate-thick", "",
     "punch_plate.thickness = 22 mm; stack.punch_length = 70 mm; pierce.head_height = 14 mm", HOLDS, NEW, 22,
     22},
    {"punch-plate-thick", "",
     "punch_plate.thickness = 22 mm; stack.punch_length = 70 mm; pierce.head_height = 14.1 mm", CAUTION, NEW,
     22, 22.1},
    {"stripper-thick", "", "stripper.thickness = 15 mm", HOLDS, NEW, 15, 15},
    {"stripper-thick", "", "stripper.thickness = 14.9 mm", CAUTION, NEW, 14.9, 15},
    {"pilot-through", "finders", FINDERS "\"2\"", HOLDS, NEW, ANY, ANY},
    {"pilot-through", "finders", FINDERS "\"2\"; finders.clear_depth = die_plate.thickness - 0.1 mm", CAUTION,
     NEW, ANY, ANY},
    {"pilot-thin", "finders", FINDERS "\"2\"; finders.strip_hole = 3 mm", HOLDS, NEW, 3, 3},
    {"pilot-thin", "finders", FINDERS "\"2\"; finders.strip_hole = 2.9 mm", CAUTION, NEW, 2.9, 3},
    {"pilot-thin", "finders", FINDERS "\"2\"; finders.strip_hole = 5.9 mm; strip.thickness = 3 mm", CAUTION,
     NEW, 5.9, 6},
    /* of a hole of 6 and a nose that ends 2.5 wide: 1.75, half of it 0.875 */
    {"pilot-catch", "finders",
     FINDERS "\"2\"; finders.strip_hole = 6 mm; finders.tip = 2.5 mm; "
             "strip.deviation_feed = 0.87 mm",
     HOLDS, NEW, 0.87, 0.875},
    {"pilot-catch", "finders",
     FINDERS "\"2\"; finders.strip_hole = 6 mm; finders.tip = 2.5 mm; "
             "strip.deviation_feed = 0.88 mm",
     CAUTION, NEW, 0.88, 0.875},
    {"pilot-catch", "finders",
     FINDERS "\"2\"; finders.strip_hole = 6 mm; finders.tip = 2.5 mm; "
             "strip.deviation_feed = 1.76 mm",
     FAULT, NEW, 1.76, 1.75},
    {"pilot-every", "", FINDERS "\"2\"; strip.stations = 5", HOLDS, NEW, ANY, ANY},
    {"pilot-every", "", FINDERS "\"2\"; strip.stations = 6", CAUTION, NEW, ANY, ANY},
    {"pilot-every", "", FINDERS "\"2\"; strip.stations = 6; strip.located_by = \"a side cutter\"", HOLDS, NEW,
     ANY, ANY},
    {"joint-spread", "", "", HOLDS, NEW, ANY, ANY},
    {"joint-spread", "die_plate", ONE_EDGE "die_screws.lay.apart = 48.5 mm", HOLDS, NEW, ANY, ANY},
    {"joint-spread", "die_plate", ONE_EDGE "die_screws.lay.apart = 47.5 mm", CAUTION, NEW, 47.5 / 160, 0.3},
    {"heel-missing", "blank", THIN_NOTCH "blank.guided = \"in the stripper\"", HOLDS, NEW, ANY, ANY},
    {"heel-missing", "blank", THIN_NOTCH "blank.guided = \"not guided\"", CAUTION, NEW, ANY, ANY},
    {"heel-missing", "blank", THIN_NOTCH "blank.guided = \"not guided\"; blank.heel = 2.9 mm", CAUTION, NEW,
     ANY, ANY},
    {"heel-missing", "blank", THIN_NOTCH "blank.guided = \"not guided\"; blank.heel = 3 mm", HOLDS, NEW, ANY,
     ANY},
    {"plate-located", "stripper", "- die_dowels", HOLDS, NEW, ANY, ANY},
    {"plate-located", "stripper", FIXED, FAULT, NEW, ANY, ANY},
    /* through the die plate from a fixed stripper: it is located where it is reamed with them */
    {"plate-located", "die_plate", FIXED "die_dowels.first = stripper; die_dowels.passed = \"reamed too\"",
     HOLDS, NEW, ANY, ANY},
    {"plate-located", "die_plate", FIXED "die_dowels.first = stripper", FAULT, NEW, ANY, ANY},
    {"halves-guided", "", "", HOLDS, NEW, ANY, ANY},
    {"halves-guided", "", "posts lay diagonal on lower_shoe", HOLDS, NEW, ANY, ANY},
    {"halves-guided", "", "posts.runs_in = die_plate", FAULT, NEW, ANY, ANY},
    {"halves-guided", "",
     "posts.runs_in = die_plate; "
     "stack.guided_by = \"the slide of a press made for it\"",
     NOTE, NEW, ANY, ANY},
    {"stripper-pressed", "", "", HOLDS, NEW, ANY, ANY},
    {"stripper-pressed", "", "- springs", FAULT, NEW, ANY, ANY},
    {"stripper-pressed", "", "- springs; stack.pressed_by = \"gas springs of a manifold\"", NOTE, NEW, ANY,
     ANY},
    {"die-hard", "", "", HOLDS, NEW, ANY, ANY},
    {"die-hard", "", "die_plate.hardened = no", FAULT, NEW, ANY, ANY},
    {"die-hard", "", "die_plate.hardened = no; die_plate.soft_reason = \"200 parts\"", NOTE, NEW, ANY, ANY},
    {"die-hard", "", "die_plate.hardened = no; strip.metal = \"aluminium\"", HOLDS, NEW, ANY, ANY},
    {"die-soft", "", TOLD "50..52 HRC\"; strip.thickness = 3.1 mm", HOLDS, NEW, 50, 50},
    {"die-soft", "", TOLD "56..64 HRC\"", HOLDS, NEW, 56, 56},
    {"die-soft", "", TOLD "55.9 HRC\"", CAUTION, NEW, 55.9, 56},
    {"die-soft", "", TOLD "60..64.1 HRC\"", CAUTION, NEW, ANY, ANY},
    {"die-soft", "", TOLD "49.9..62 HRC\"", FAULT, NEW, 49.9, 50},
    {"hardness-called", "punch_backing", "punch_backing.hardness = \"45 HRC\"", HOLDS, NEW, 45, ANY},
    {"hardness-called", "punch_backing", "punch_backing.hardness = \"44.9 HRC\"", CAUTION, NEW, 44.9, ANY},
    {"hardness-called", "punch_plate", "punch_plate.hardness = \"45 HRC\"", HOLDS, NEW, 45, ANY},
    {"hardness-called", "punch_plate", "punch_plate.hardness = \"45 HRC\"; punch_plate.hardened = no",
     CAUTION, NEW, 45, ANY},
    {"hardness-reached", "die_plate", "die_plate.material = \"1.2379\"; " TOLD "63 HRC\"", HOLDS, NEW, 63,
     63},
    {"hardness-reached", "die_plate", "die_plate.material = \"1.2379\"; " TOLD "63.5 HRC\"", CAUTION, NEW,
     63.5, 63},
    {"punch-held", "blank", "blank.held = \"by a shoulder\"", HOLDS, NEW, ANY, ANY},
    {"punch-held", "blank", "blank.held = \"not told\"", FAULT, NEW, ANY, ANY},
    {"punch-held", "blank", "blank.held = \"otherwise\"", FAULT, NEW, ANY, ANY},
    {"punch-held", "blank", "blank.held = \"otherwise\"; blank.held_reason = \"bonded\"", NOTE, NEW, ANY,
     ANY},
    {"pilot-held", "finders", PILOTS, HOLDS, NEW, ANY, ANY},
    {"pilot-held", "finders", PILOTS "finders.held = \"not told\"", FAULT, NEW, ANY, ANY},
    {"pilot-held", "finders", PILOTS "finders.held = \"otherwise\"; finders.held_reason = \"a ball lock\"",
     NOTE, NEW, ANY, ANY},
    {"pilot-head", "finders", PILOTS "finders.head = 6.1 mm", HOLDS, NEW, 0.1, 0},
    {"pilot-head", "finders", PILOTS "finders.head = 6 mm", FAULT, BOTH, 0, 0},
    /* stations by number: own derivation, a place follows from its number */
    {"station-number", "blank", "", HOLDS, NEW, ANY, ANY},
    {"station-number", "blank", NUMBERED "blank.number = 2", HOLDS, NEW, 2, ANY},
    {"station-number", "blank", NUMBERED, CAUTION, BOTH, ANY, ANY},
    /* common practice: a hole is pierced before a pilot finds it, and found in the next station */
    {"pilot-order", "finders", FINDERS "\"2, 4\"", HOLDS, NEW, 2, 1},
    {"pilot-order", "finders", FINDERS "\"1, 2\"", FAULT, BOTH, 1, 1},
    {"pilot-first", "finders", FINDERS "\"2, 4\"", HOLDS, NEW, 2, 2},
    {"pilot-first", "finders", FINDERS "\"3, 4\"", NOTE, BOTH, 3, 2},
    /* own blocks and buttons: common practice */
    {"block-held", "heel", HEEL, HOLDS, NEW, 2, ANY},
    {"block-held", "heel", HEEL "heel.dowels = 0", CAUTION, BOTH, 2, ANY},
    {"block-held", "heel", HEEL "heel.screws = 1", CAUTION, BOTH, 1, ANY},
    {"block-held", "heel", HEEL "heel.screws = 1; heel.along = 65 mm", HOLDS, NEW, 1, ANY},
    {"block-room", "heel", HEEL, HOLDS, NEW, 6, 6},
    /* under 60 long by M4, under 40 by M3: 20 and 8 apart in 28 */
    {"block-room", "heel", HEEL "heel.along = 57 mm", HOLDS, NEW, 4, 4},
    {"block-room", "heel", HEEL "heel.along = 28 mm", CAUTION, NEW, 2, 3},
    {"block-room", "heel", HEEL "heel.along = 28 mm; heel.screws = 1", HOLDS, NEW, ANY, 3},
    {"block-room", "heel", HEEL "heel.along = 22 mm", FAULT, NEW, -4, 0},
    /* a head of M6 wants 11 across and 6.4 of the height */
    {"block-small", "heel", HEEL, HOLDS, NEW, ANY, 2.5},
    {"block-small", "heel", HEEL "heel.screw = \"M6\"; heel.across = 13.4 mm", CAUTION, NEW, 2.4, 2.5},
    {"block-small", "heel", HEEL "heel.screw = \"M6\"; heel.across = 11 mm", FAULT, NEW, 0, 0},
    {"block-small", "heel", HEEL "heel.height = 6 mm", FAULT, NEW, ANY, 0},
    {"block-small", "heel", HEEL BELOW "heel.across = 16.8 mm", HOLDS, NEW, 5.4, 5.4},
    {"block-small", "heel", HEEL BELOW "heel.across = 16.7 mm", CAUTION, NEW, 5.35, 5.4},
    {"block-held", "heel", HEEL "heel.screws = 1; heel.held_reason = \"welded\"", HOLDS, NEW, 1, ANY},
    /* a block 20 across, the strip's edge at 16.5 */
    {"block-path", "stop", STOPPER "stop.lay.across = 26.5 mm", HOLDS, NEW, -25, ANY},
    {"block-path", "stop", STOPPER "stop.lay.across = -26.4 mm", FAULT, NEW, -25, ANY},
    {"block-path", "stop", STOPPER PINS "pins.lift = 26 mm", HOLDS, NEW, 1, ANY},
    {"block-path", "stop", STOPPER PINS "pins.lift = 25.9 mm", CAUTION, NEW, 0.9, ANY},
    {"block-sunk", "heel", SUNK " - 8 mm", HOLDS, NEW, 8, 8},
    {"block-sunk", "heel", SUNK " - 7.9 mm", CAUTION, BOTH, 7.9, 8},
    {"block-sunk", "heel", SUNK, FAULT, BOTH, 0, 0},
    {"button-wall", "button", BUTTON "button.outside = pierce.opening + 6.06 mm", HOLDS, NEW, 3.03, 3.03},
    {"button-wall", "button", BUTTON "button.outside = pierce.opening + 6 mm", CAUTION, BOTH, 3, 3.03},
    {"button-wall", "button", BUTTON "button.outside = pierce.opening + 2 mm", CAUTION, BOTH, 1, 3.03},
    {"button-wall", "button", BUTTON "button.outside = pierce.opening + 1.9 mm", FAULT, BOTH, 0.95, 1},
    {"button-wall", "button", BUTTON "button.outside = pierce.opening", FAULT, BOTH, 0, 0},
    {"section-held", "a", A_HELD "die_screws.lay.apart = 100 mm; die_screws.lay.rows = 2", HOLDS, NEW, 4,
     ANY},
    {"section-held", "a", A_HELD, CAUTION, NEW, 2, ANY},
    {"section-held", "a", A_HELD "die_screws.lay.along = -30 mm; die_screws.lay.pitch = 80 mm", FAULT, NEW,
     ANY, ANY},
    {"section-held", "a", SECTIONS "a.held_by = \"a wedge\"", NOTE, NEW, 0, ANY},
    {"section-held", "a", SECTIONS, FAULT, NEW, 0, ANY},
    {"section-located", "a", SECTIONS, FAULT, NEW, 0, ANY},
    {"section-located", "a", SECTIONS "a.located_by = \"keys\"", NOTE, NEW, 0, ANY},
    {"section-located", "a", FRAMED, HOLDS, NEW, 0, ANY},
    {"section-station", "blank", SECTIONS, HOLDS, NEW, 1, 1},
    {"section-station", "blank", SECTIONS "b.to_station = 1", FAULT, NEW, ANY, ANY},
    {"section-station", "blank", SECTIONS "a.to_station = 2", FAULT, NEW, 2, 1},
    {"section-joint", "blank", SECTIONS "b.to_station = 3; blank.number = 3", HOLDS, NEW, 50, 37.5},
    {"section-joint", "blank", SECTIONS, CAUTION, NEW, 26, 37.5},
    {"section-joint", "blank", SECTIONS "a.right = blank.mean_x - 5 mm; b.left = a.right", FAULT, NEW, ANY,
     ANY},
    {"section-hole", "die_screws", SECTIONS, FAULT, NEW, -3.4, 0}, /* M8, one on the line */
    {"section-hole", "die_screws", A_HELD, HOLDS, NEW, ANY, ANY},
    {"section-meets", "a", SECTIONS, HOLDS, NEW, 0, ANY},
    {"section-meets", "a", SECTIONS "b.left = a.right + 0.1 mm", FAULT, NEW, 0.1, 0.001},
    {"section-meets", "a", SECTIONS "b.left = a.right - 0.1 mm", FAULT, NEW, -0.1, -0.001},
    {"section-frame", "a", FRAMED, HOLDS, NEW, ANY, ANY},
    {"section-frame", "a", FRAMED "a.across = die_plate.width", FAULT, NEW, 0, 0},
    {"section-alike", "a", SECTIONS, HOLDS, NEW, ANY, ANY},
    {"section-alike", "a", SECTIONS "a.sits = \"in a pocket\"", FAULT, NEW, ANY, ANY},
    {"section-alike", "a", FRAMED "a.height = die_plate.thickness - 7 mm; b.height = a.height", CAUTION,
     NEW, ANY, ANY},
    {"section-one", "", SECTIONS, HOLDS, NEW, 2, 2},
    {"section-one", "", "+ die_section a; a lay one on die_plate", CAUTION, NEW, 1, 2},
    {"button-laid", "button", BUTTON, HOLDS, NEW, 1, 0},
    {"button-laid", "button", "+ die_button button; button.of = pierce", FAULT, BOTH, 0, 0},
    {"button-soft", "button", BUTTON, HOLDS, NEW, 60, 56},
    {"button-soft", "button", BUTTON "button.hardness = \"55..57 HRC\"", CAUTION, BOTH, 55, 56},
    {"button-soft", "button", BUTTON "button.hardness = \"49..57 HRC\"", FAULT, BOTH, 49, 50},
    {"button-turn", "button", BUTTON, HOLDS, NEW, ANY, ANY},
    {"button-turn", "button", BUTTON "pierce.shape = \"rectangle\"", CAUTION, BOTH, ANY, ANY},
    {"button-turn", "button", BUTTON "pierce.shape = \"rectangle\"; button.stopped_from_turning = \"key\"",
     HOLDS, NEW, ANY, ANY},
    {"slug-way", "", "press.opening_length = ; + risers risers", HOLDS, NEW, ANY, ANY},
    {"slug-way", "", "press.opening_length = ", FAULT, NEW, ANY, ANY},
    {"strip-guided", "", "", HOLDS, NEW, ANY, ANY},
    {"strip-guided", "", "- edge_pins", FAULT, NEW, ANY, ANY},
    {"strip-guided", "", "- edge_pins; strip.guided_by = \"lifters with a guiding head\"", NOTE, NEW, ANY,
     ANY},
    {"strip-guided", "",
     "edge_pins.lay.columns = 4; edge_pins.lay.pitch = 33 mm; edge_pins.lay.rows = 1; "
     "edge_pins.lay.across = 20 mm",
     CAUTION, NEW, ANY, ANY},
    {"guide-pin-way", "edge_pins", "edge_pins.lay.apart = 39 mm", HOLDS, NEW, ANY, ANY},
    {"guide-pin-way", "edge_pins", "edge_pins.lay.apart = 38.9 mm", FAULT, NEW, -0.05, 0},
    {"guide-pin-way", "edge_pins", "edge_pins.lay.apart = 40 mm", HOLDS, NEW, ANY, ANY},
    {"guide-pin-way", "edge_pins", "edge_pins.lay.apart = 40.1 mm", CAUTION, NEW, 0.55, 0.5},
    {"guide-pin-high", "edge_pins", "edge_pins.stands = 1.1 mm", HOLDS, NEW, 1.1, 1},
    {"guide-pin-high", "edge_pins", "edge_pins.stands = 1 mm", FAULT, BOTH, 1, 1},
    /* 44, and 40 when ground */
    {"guide-pin-high", "edge_pins", "edge_pins.stands = 39.9 mm", HOLDS, GROUND, 39.9, 40},
    {"guide-pin-high", "edge_pins", "edge_pins.stands = 40 mm", FAULT, GROUND, 40, 40},
    {"channel-height", "", FIXED "stack.tunnel = 1.5 mm", HOLDS, NEW, 1.5, 1.5},
    {"channel-height", "", FIXED "stack.tunnel = 1.4 mm", CAUTION, NEW, 1.4, 1.5},
    {"channel-height", "", FIXED "stack.tunnel = 1.05 mm", FAULT, NEW, 1.05, 1.05},
    {"channel-height", "", FIXED "stack.tunnel = 5 mm", HOLDS, NEW, 5, 5},
    {"channel-height", "", FIXED "stack.tunnel = 5.1 mm", CAUTION, NEW, 5.1, 5},
    {"channel-width", "", FIXED "stack.tunnel = 2 mm; strip.channel = 34 mm", HOLDS, NEW, 1, 1},
    {"channel-width", "", FIXED "stack.tunnel = 2 mm; strip.channel = 34.1 mm", CAUTION, NEW, 1.1, 1},
    {"channel-width", "", FIXED "stack.tunnel = 2 mm; strip.channel = 33.2 mm", HOLDS, NEW, 0.2, 0.2},
    {"channel-width", "", FIXED "stack.tunnel = 2 mm; strip.channel = 33.1 mm", FAULT, NEW, 0.1, 0.2},
    /* 2 below the die face, and 1 more */
    {"strip-lifted", "", DIMPLE PINS "pins.lift = 3 mm", HOLDS, NEW, ANY, ANY},
    {"strip-lifted", "", DIMPLE PINS "pins.lift = 2.9 mm", CAUTION, NEW, ANY, ANY},
    {"strip-lifted", "", DIMPLE PINS "pins.lift = 2 mm", FAULT, NEW, ANY, ANY},
    {"strip-lifted", "", DIMPLE "strip.lifted_by = \"a lifting rail\"", NOTE, NEW, ANY, ANY},
    {"feed-checked", "", "", HOLDS, NEW, ANY, ANY},
    {"feed-checked", "", "strip.stopped_by = ", NOTE, NEW, ANY, ANY},
    {"screw-between", "die_screws", "", HOLDS, NEW, ANY, ANY},
    {"screw-between", "die_screws", "die_screws.head_in = upper_shoe", FAULT, NEW, ANY, ANY},
    {"screw-itself", "die_screws", "", HOLDS, NEW, ANY, ANY},
    {"screw-itself", "die_screws", "die_screws.thread_in = lower_shoe", FAULT, NEW, ANY, ANY},
    {"dowel-between", "die_dowels", "", HOLDS, NEW, ANY, ANY},
    {"dowel-between", "die_dowels", "die_dowels.second = stripper", FAULT, NEW, ANY, ANY},
    {"dowel-itself", "die_dowels", "", HOLDS, NEW, ANY, ANY},
    {"dowel-itself", "die_dowels", "die_dowels.second = die_plate", FAULT, NEW, ANY, ANY},
    {"spring-between", "springs", "", HOLDS, NEW, ANY, ANY},
    {"spring-between", "springs", "springs.stands_on = die_plate", FAULT, NEW, ANY, ANY},
    {"shoulder-between", "bolts", "", HOLDS, NEW, ANY, ANY},
    {"shoulder-between", "bolts", "bolts.thread_in = die_plate", FAULT, NEW, ANY, ANY},
    {"post-between", "posts", "", HOLDS, NEW, ANY, ANY},
    {"post-between", "posts", "posts.runs_in = die_plate", FAULT, NEW, ANY, ANY},
    {"post-clamps", "posts", "posts.form = \"flanged\"; posts.clamps = 2", HOLDS, NEW, 2, 2},
    {"post-clamps", "posts", "posts.form = \"flanged\"; posts.clamps = 1", CAUTION, NEW, 1, 2},
    {"post-clamps", "posts", "posts.form = \"flanged\"; posts.clamps = 0", FAULT, NEW, 0, 1},
    {"bushing-clamps", "bushings", "bushings.clamps = 2", HOLDS, NEW, 2, 2},
    {"bushing-clamps", "bushings", "bushings.clamps = 1", CAUTION, NEW, 1, 2},
    {"bushing-clamps", "bushings", "bushings.clamps = 0", FAULT, NEW, 0, 1},
    {"stripper-lead", "", "stack.lead = 0.1 mm", HOLDS, NEW, 0.1, 0},
    {"stripper-lead", "", "stack.lead = 0 mm", FAULT, NEW, 0, 0},
    {"pilot-lead", "finders", PILOTS "finders.ahead = 1.5 mm", HOLDS, NEW, 0.5, 0.5},
    {"pilot-lead", "finders", PILOTS "finders.ahead = 1.4 mm", CAUTION, NEW, 0.4, 0.5},
    {"pilot-lead", "finders", PILOTS "finders.ahead = 1 mm", FAULT, NEW, 0, 0},
    {"pilot-lead", "finders", PILOTS "finders.ahead = 0.9 mm; stack.lead = 0.3 mm", CAUTION, NEW, ANY, ANY},
    {"clearance-sane", "", "strip.clearance_share = 25 %", HOLDS, NEW, 0.25, 0.25},
    {"clearance-sane", "", "strip.clearance_share = 26 %", FAULT, NEW, 0.26, 0.25},
    {"clearance-sane", "", "strip.clearance_share = 0 %", FAULT, NEW, 0, 0},
    /* EN 10130: 0.35 to 3 */
    {"strip-range", "", "strip.thickness = 0.35 mm", HOLDS, NEW, 0.35, 0.35},
    {"strip-range", "", "strip.thickness = 0.34 mm", CAUTION, NEW, 0.34, 0.35},
    {"strip-range", "", "strip.thickness = 3.1 mm", CAUTION, NEW, 3.1, 3},
    {"backing-thick", "punch_backing", "punch_backing.thickness = 6 mm", HOLDS, NEW, 6, 6},
    {"backing-thick", "punch_backing", "punch_backing.thickness = 5.9 mm", CAUTION, NEW, 5.9, 6},
    {"backing-thick", "punch_backing", "punch_backing.thickness = 1 mm", FAULT, NEW, 1, 2.5},
    {"units-mixed", "", "", HOLDS, NEW, ANY, ANY},
    {"units-mixed", "", "die_dowels.diameter = 3/8 in", NOTE, NEW, ANY, ANY},
    {"units-mixed", "", "die_screws.size = \"5/16-18\"; die_screws.class = \"ASTM A574\"", NOTE, NEW, ANY,
     ANY},
    /* ---- press: rules 8, 7, 19 and 25 of a tool engineer's notes, common practice but where said ------- */
    /* 251 - 80 + 10 */
    {"press-window", "", "press.most_height = 251 mm", HOLDS, GROUND, 181, 181},
    {"press-window", "", "press.most_height = 251.1 mm", FAULT, GROUND, 181, 181.1},
    /* ground is the worse */
    {"press-window", "", "press.most_height = 300 mm", FAULT, BOTH, 181, 230},
    /* 5 below the highest */
    {"press-window", "", "press.most_height = 194 mm", HOLDS, NEW, 189, 189},
    {"press-window", "", "press.most_height = 193.9 mm", FAULT, NEW, 189, 188.9},
    /* risers count */
    {"press-window", "", "+ risers risers; risers.height = 56 mm", HOLDS, NEW, 245, 245},
    {"press-window", "", "+ risers risers; risers.height = 56.1 mm", FAULT, NEW, 245.1, 245},
    {"press-force", "", "press.rated = 77.2 kN", HOLDS, GROUND, 1.3 * (1.3 * CUT + SPRINGS * 15), 77200},
    {"press-force", "", "press.rated = 77.1 kN", FAULT, GROUND, 1.3 * (1.3 * CUT + SPRINGS * 15), 77100},
    {"press-force", "", "press.rated = 74.3 kN", FAULT, BOTH, 1.3 * (1.3 * CUT + SPRINGS * 15), 74300},
    {"press-force", "", "stripper.moves = \"with the bed\"; - springs; - bolts; press.rated = 66.7 kN", HOLDS,
     NEW, 1.69 * CUT, 66700},
    /* a slider-crank gives rated x sqrt(1 (60 - 1)) / sqrt(2 (60 - 2)) two above the bottom when rated at
       1 */
    {"press-force-height", "", "press.rated_height = 1 mm; press.rated = 65.2 kN", HOLDS, GROUND, ANY,
     CUT + SPRINGS * 13},
    {"press-force-height", "", "press.rated_height = 1 mm; press.rated = 65.1 kN", CAUTION, GROUND, ANY,
     CUT + SPRINGS * 13},
    /* half the force times the strip, and the springs: from 8 to 15 pressed when ground, over a travel of
       7 */
    {"press-work", "", "press.work = 63.4 J", HOLDS, GROUND, CUT / 2 + SPRINGS * 11.5 * 7, 63400},
    {"press-work", "", "press.work = 63.3 J", CAUTION, GROUND, CUT / 2 + SPRINGS * 11.5 * 7, 63300},
    {"press-work", "", "press.work = 69.9 J; stack.work_form = \"2/3 of force times thickness\"", HOLDS,
     GROUND, CUT * 2 / 3 + SPRINGS * 11.5 * 7, 69900},
    {"press-form-height", "blank", "blank.does = \"form\"; blank.forming_force = 260 kN; blank.depth = 12 mm",
     HOLDS, GROUND, ANY, 260000 + SPRINGS * 15},
    {"press-form-height", "blank", "blank.does = \"form\"; blank.forming_force = 300 kN; blank.depth = 12 mm",
     CAUTION, BOTH, ANY, 300000 + SPRINGS * 15},
    {"stagger-step", "pierce", "stack.entry = 3 mm; pierce.stagger = 1 mm", HOLDS, NEW, 1, 1},
    {"stagger-step", "pierce", "stack.entry = 3 mm; pierce.stagger = 0.99 mm", NOTE, NEW, 0.99, 1},
    {"stagger-step", "pierce", "stack.entry = 3 mm; pierce.stagger = 0.4 mm", NOTE, NEW, 0.4, 1},
    /* 0.4 of the strip */
    {"stagger-step", "pierce", "stack.entry = 3 mm; pierce.stagger = 0.39 mm", CAUTION, NEW, 0.39, 0.4},
    {"stagger-entry", "pierce", "pierce.stagger = 1 mm", HOLDS, NEW, 0, 0},
    {"stagger-entry", "pierce", "pierce.stagger = 1.01 mm", CAUTION, NEW, -0.01, 0},
    /* the last 0.6 of the strip break by themselves */
    {"stagger-entry", "pierce", "pierce.stagger = 1.61 mm", FAULT, NEW, -0.61, -0.6},
    {"entry-least", "", "stack.entry = 0.2 mm", HOLDS, NEW, 0.2, 0.2},
    {"entry-least", "", "stack.entry = 0.19 mm", NOTE, NEW, 0.19, 0.2},
    {"entry-least", "", "stack.entry = -0.1 mm", CAUTION, NEW, -0.1, 0},
    {"entry-least", "", "stack.entry = -0.61 mm", FAULT, NEW, -0.61, -0.6},
    /* the shear's far end is through last; the peak falls to 0.4 of the cut, what strips and what jams does
       not */
    {"shear-entry", "pierce", "pierce.slope = 0.8 mm", HOLDS, NEW, 0.2, 0.2},
    {"shear-entry", "pierce", "pierce.slope = 0.9 mm", NOTE, NEW, 0.1, 0.2},
    {"shear-entry", "pierce", "pierce.slope = 1.01 mm", CAUTION, NEW, -0.01, 0},
    {"shear-entry", "pierce", "stack.entry = 3 mm; pierce.stagger = 1 mm; pierce.slope = 2.1 mm", CAUTION,
     NEW, -0.1, 0},
    {"shear-entry", "pierce", "stack.entry = 3 mm; pierce.stagger = 1 mm; pierce.slope = 2.61 mm", FAULT, NEW,
     -0.61, -0.6},
    /* t 2, K 0.4, shear 2, entry 1: through, just, but not pushed clear; least entry 0.8 */
    {"shear-entry", "pierce", "strip.thickness = 2 mm; pierce.slope = 2 mm", CAUTION, NEW, -1, 0},
    {"shear-entry", "pierce", "strip.thickness = 2 mm; pierce.slope = 2 mm; stack.entry = 0.79 mm", FAULT,
     NEW, -1.21, -1.2},
    {"press-force", "", "pierce.slope = 1 mm; blank.slope = 1 mm; press.rated = 46.5 kN", HOLDS, GROUND,
     1.3 * (0.7 * CUT + SPRINGS * 15), 46500},
    {"press-force", "", "pierce.slope = 1 mm; blank.slope = 1 mm; press.rated = 46.4 kN", FAULT, GROUND,
     1.3 * (0.7 * CUT + SPRINGS * 15), 46400},
    {"spring-force", "", "pierce.slope = 1 mm; blank.slope = 1 mm; springs.rate = 54.7 N/mm", FAULT, NEW,
     8 * 54.7 * 9, 0.1 * CUT},
    /* corners of 10 make half circles of the ends of 20 by 30: no radius takes off more */
    {"corner-radius", "blank", "blank.corner = 10 mm", HOLDS, NEW, 10, 10},
    {"corner-radius", "blank", "blank.corner = 10.1 mm", FAULT, NEW, 10.1, 10},
    {"press-force", "", "blank.corner = 15 mm; press.rated = 68.5 kN", HOLDS, GROUND,
     1.3 * (1.3 * (CUT - (8 - 2 * PI) * 3000) + SPRINGS * 15), 68500},
    {"press-force", "", "blank.corner = 15 mm; press.rated = 68.4 kN", FAULT, GROUND,
     1.3 * (1.3 * (CUT - (8 - 2 * PI) * 3000) + SPRINGS * 15), 68400},
    /* 1.3 x (30 000 x 24 - 9 425 x 24) over 1.3 of the cut and the springs at shut: 11.22 of 60 */
    {"load-centre", "", "stack.set_along = 48.7 mm", HOLDS, NEW,
     (1.3 * 24 * (30000 - PI * 3000) / (1.3 * CUT + SPRINGS * 11) + 48.7) / 600, 0.1},
    {"load-centre", "", "stack.set_along = 48.8 mm", CAUTION, NEW,
     (1.3 * 24 * (30000 - PI * 3000) / (1.3 * CUT + SPRINGS * 11) + 48.8) / 600, 0.1},
    /* the springs count: 15.6 */
    {"load-centre", "", "stripper.offset_along = 42 mm; stack.set_along = 46 mm", CAUTION, NEW, ANY, 0.1},
    /* a rectangle of 20 by 30 from its point on, turned by 90 degrees about that: its middle is 15 before and
       10 behind it */
    {"load-centre", "",
     WIDE CORNERS("20 mm", "30 mm") "; strip.pitch = 99 mm; blank.middle.turn = 90 deg; "
                                    "stack.set_across = 33.1 mm",
     HOLDS, NEW, (1.3 * 30000 * 10 / (1.3 * CUT + SPRINGS * 11) + 33.1) / 400, 0.1},
    {"load-centre", "",
     WIDE CORNERS("20 mm", "30 mm") "; strip.pitch = 99 mm; blank.middle.turn = 90 deg; "
                                    "stack.set_across = 33.3 mm",
     CAUTION, NEW, (1.3 * 30000 * 10 / (1.3 * CUT + SPRINGS * 11) + 33.3) / 400, 0.1},
    {"load-centre", "", "stack.set_across = -40 mm", HOLDS, NEW, 0.1, 0.1},
    /* a notch of 20 by 30 at the back edge: its sides of 30, 20 and 30 have their middle 3.75 nearer to the
       strip's */
    {"load-centre", "", NOTCH "; blank.lay.across = 40 mm", HOLDS, NEW,
     1.3 * 24000 * (40 - 3.75) / (1.3 * (PI * 3000 + 24000) + SPRINGS * 11) / 400, 0.1},
    /* turned by 90 degrees and 5 farther out: 30 along it, and 20 - 10 of either side */
    {"load-centre", "", NOTCH "; strip.pitch = 100 mm; blank.lay.across = 55 mm; blank.middle.turn = 90 deg",
     HOLDS, NEW, 1.3 * 15000 * (30 * 45 + 20 * 50) / 50 / (1.3 * (PI * 3000 + 15000) + SPRINGS * 11) / 400,
     0.1},
    /* the rectangle of the base hangs over the edge of a strip of 30 as soon as that is narrower */
    {"strip-cut", "blank", "strip.width = 30.1 mm", HOLDS, NEW, 0, 0},
    {"strip-cut", "blank", "strip.width = 29 mm", FAULT, NEW, 20 * 2 + 2, 0},
    {"strip-cut", "blank", "strip.width = 29 mm; blank.does = \"notch\"", HOLDS, NEW, ANY, ANY},
    {"strip-notch", "blank", NOTCH "; blank.lay.across = 40 mm", HOLDS, NEW, 20, 0},
    {"strip-notch", "blank", NOTCH "; blank.lay.across = 39.9 mm", NOTE, NEW, 0, 0},
    {"strip-missed", "blank", NOTCH "; blank.lay.across = 69.9 mm", HOLDS, NEW, 20 + 2 * 0.1, 0},
    {"strip-missed", "blank", NOTCH "; blank.lay.across = 70 mm", FAULT, NEW, 0, 0},
    {"strip-missed", "pierce", "pierce.lay.across = 70 mm", FAULT, NEW, ANY, ANY},
    {"load-centre", "", "stack.set_across = -40.1 mm", CAUTION, NEW, 40.1 / 400, 0.1},
    {"bolster-fit", "", "press.bolster_width = 250 mm", HOLDS, NEW, 0, 0},
    {"bolster-fit", "", "press.bolster_width = 249.9 mm", FAULT, NEW, -0.1, 0},
    {"bolster-fit", "", "press.bolster_length = 279.9 mm; stack.clamped_at = \"left and right\"", FAULT, NEW,
     -0.1, 0},
    /* between its clamps: a fifth of 280 */
    {"bolster-over", "", "press.bolster_length = 280 mm", HOLDS, NEW, 0, 0},
    {"bolster-over", "", "press.bolster_length = 279.9 mm", NOTE, NEW, -0.1, 0},
    {"bolster-over", "", "press.slide_length = 223.9 mm", CAUTION, NEW, -56.1, -56},
    {"bolster-fit", "", "press.slide_width = 249.9 mm", FAULT, NEW, -0.1, 0},
    /* (250 - 160) / 2 */
    {"clamp-ledge", "", "stack.clamp_ledge = 45 mm", HOLDS, NEW, 45, 45},
    {"clamp-ledge", "", "stack.clamp_ledge = 45.1 mm", CAUTION, NEW, 45, 45.1},
    {"clamp-ledge", "", "stack.clamped_at = \"left and right\"; stack.clamp_ledge = 50 mm", HOLDS, NEW, 50,
     50},
    {"clamp-ledge", "",
     "stack.clamped_at = \"left and right\"; stack.clamp_ledge = 50 mm; upper_shoe.length = 279.8 mm",
     CAUTION, NEW, 49.9, 50},
    /* 125 - 16.5 */
    {"clamp-strip", "", "stack.clamped_at = \"left and right\"; stack.clamp_length = 108.5 mm", HOLDS, NEW,
     108.5, 108.5},
    {"clamp-strip", "", "stack.clamped_at = \"left and right\"; stack.clamp_length = 108.6 mm", CAUTION, NEW,
     108.5, 108.6},
    /* at front and back nothing is in the way */
    {"clamp-strip", "", "stack.clamp_length = 108.6 mm", HOLDS, NEW, ANY, ANY},
    /* 45 of shoe in front of the plates; the bolt stands 9.25 short of the slot's end, its clamp takes 24 all
       round it */
    {"clamp-slot-room", "slots", SLOTS "slots.depth = 30.25 mm", HOLDS, NEW, 45, 45},
    {"clamp-slot-room", "slots", SLOTS "slots.depth = 30.35 mm", FAULT, NEW, 45, 45.1},
    {"clamp-slot-room", "slots", SLOTS ENDS "slots.depth = 35.25 mm", HOLDS, NEW, 50, 50},
    {"clamp-slot-room", "slots", SLOTS ENDS "slots.depth = 35.35 mm", FAULT, NEW, 50, 50.1},
    {"clamp-slot-room", "slots", SLOTS "slots.depth = 31 mm; slots.form = \"T-slot\"", HOLDS, NEW, ANY, ANY},
    /* 30 from the lower shoe to the die face, 26 when ground; 73 and 69 from the strip to the upper shoe */
    /* (33 + 48) / 2 */
    {"clamp-slot-strip", "slots", SLOTS ENDS "slots.apart = 81 mm", HOLDS, NEW, ANY, ANY},
    {"clamp-slot-strip", "slots", SLOTS ENDS "slots.apart = 80.9 mm", FAULT, BOTH, -22, 0},
    {"clamp-slot-strip", "slots", SLOTS ENDS "slots.apart = 80.9 mm; slots.clamp_height = 25.9 mm", HOLDS,
     GROUND, 0.1, 0},
    {"clamp-slot-strip", "slots", SLOTS ENDS "slots.apart = 80.9 mm; slots.clamp_height = 26 mm", FAULT,
     GROUND, 0, 0},
    /* one in the middle */
    {"clamp-slot-strip", "slots", SLOTS ENDS "slots.each = 3; slots.clamp_height = 30 mm", FAULT, BOTH, -4,
     0},
    /* 62.5 - 22.1 */
    {"clamp-slot-strip", "slots", SLOTS ENDS "slots.shift = 22.1 mm", FAULT, BOTH, -22, 0},
    {"clamp-slot-strip", "slots", SLOTS ENDS "slots.shift = -22.1 mm", FAULT, BOTH, -22, 0},
    {"clamp-slot-strip", "slots", SLOTS ENDS "slots.shift = 22 mm", HOLDS, NEW, ANY, ANY},
    {"clamp-slot-strip", "slots",
     SLOTS ENDS "slots.shoe = upper_shoe; slots.each = 1; slots.clamp_height = 68.9 mm", HOLDS, GROUND, 0.1,
     0},
    {"clamp-slot-strip", "slots",
     SLOTS ENDS "slots.shoe = upper_shoe; slots.each = 1; slots.clamp_height = 69 mm", FAULT, GROUND, 0, 0},
    /* 140 - 114.75 - 9.25 */
    {"clamp-slot-side", "slots", SLOTS "slots.apart = 229.5 mm", HOLDS, NEW, 16, 16},
    {"clamp-slot-side", "slots", SLOTS "slots.apart = 229.7 mm", CAUTION, NEW, 15.9, 16},
    {"clamp-slot-side", "slots", SLOTS "slots.shift = -44.75 mm", HOLDS, NEW, 16, 16},
    {"clamp-slot-side", "slots", SLOTS "slots.each = 3; slots.apart = 130.8 mm", FAULT, NEW, -0.05, 0},
    /* a foot of 13 in 45 */
    {"clamp-slot-foot", "slots", SLOTS "slots.form = \"T-slot\"; slots.neck_depth = 16 mm", HOLDS, NEW, 16,
     16},
    {"clamp-slot-foot", "slots", SLOTS "slots.form = \"T-slot\"; slots.neck_depth = 16.1 mm", CAUTION, NEW,
     15.9, 16.1},
    {"clamp-slot-foot", "slots", SLOTS "slots.form = \"T-slot\"; slots.neck_depth = 32.1 mm", FAULT, NEW,
     -0.1, 0},
    {"upper-mass", "", "press.upper_mass = 37.05 kg", HOLDS, NEW, UPPER, 0.03705},
    {"upper-mass", "", "press.upper_mass = 37.04 kg", FAULT, NEW, UPPER, 0.03704},
    {"upper-mass", "",
     "posts.seat_in = upper_shoe; posts.runs_in = lower_shoe; posts.length = 160 mm; press.upper_mass = "
     "39.52 kg",
     HOLDS, NEW, UPPER + 4 * ROUND(25, 160), 0.03952},
    /* as bought */
    {"upper-mass", "", "springs.one_mass = 120 g; press.upper_mass = 36.57 kg", HOLDS, NEW,
     UPPER + 8 * (0.12e-3 - TUBE), 0.03657},
    {"upper-mass", "", "springs.one_mass = 120 g; press.upper_mass = 36.56 kg", FAULT, NEW,
     UPPER + 8 * (0.12e-3 - TUBE), 0.03656},
    {"stroke-feed", "", "strip.formed_height = 52 mm", HOLDS, NEW, 57, 57}, /* 60 - 3 */
    {"stroke-feed", "", "strip.formed_height = 52.1 mm", CAUTION, NEW, 57, 57.1},
    {"stroke-feed", "", "press.stroke = 3 mm", FAULT, NEW, 0, 0},
    /* 328 in the table */
    {"shear-strength-near", "", "strip.shear = 164 MPa", HOLDS, NEW, 0.5, 0.5},
    {"shear-strength-near", "", "strip.shear = 163 MPa", CAUTION, NEW, ANY, 0.5},
    {"shear-strength-near", "", "strip.shear = 657 MPa", CAUTION, NEW, ANY, 2},
    {"shear-strength-sane", "", "strip.shear = 10 MPa", HOLDS, NEW, 10, 10},
    {"shear-strength-sane", "", "strip.shear = 9.9 MPa", CAUTION, NEW, 9.9, 10},
    {"shear-strength-sane", "", "strip.shear = 1000 MPa", HOLDS, NEW, 1000, 1000},
    {"shear-strength-sane", "", "strip.shear = 1001 MPa", CAUTION, NEW, 1001, 1000},
    /* DC01: 4 to 8 % */
    {"clearance-range", "", "strip.clearance_share = 4 %", HOLDS, NEW, 0.04, 0.04},
    {"clearance-range", "", "strip.clearance_share = 3.9 %", NOTE, NEW, 0.039, 0.04},
    {"clearance-range", "", "strip.clearance_share = 2 %", NOTE, NEW, 0.02, 0.04},
    {"clearance-range", "", "strip.clearance_share = 1.9 %", CAUTION, NEW, ANY, ANY},
    {"clearance-range", "", "strip.clearance_share = 16 %", NOTE, NEW, 0.16, 0.08},
    {"clearance-range", "", "strip.clearance_share = 16.1 %", CAUTION, NEW, ANY, ANY},
    {"clearance-range", "", "strip.clearance_share = 8 %", HOLDS, NEW, 0.08, 0.08},
    {"clearance-range", "", "strip.clearance_share = 8.1 %", NOTE, NEW, 0.081, 0.08},
    {"clearance-range", "", "strip.share_meant = \"both sides together\"; strip.clearance_share = 16 %",
     HOLDS, NEW, 0.08, 0.08},
    {"clearance-range", "", "strip.clearance_form = \"root of the shear strength\"; strip.shear = 140 MPa",
     NOTE, NEW, 0.0032 * 11.8322, 0.04},
    {"strip-use", "", "strip.width = 33.3 mm", HOLDS, NEW, 600 / (33.3 * 24), 0.75},
    {"strip-use", "", "strip.width = 33.4 mm", NOTE, NEW, 600 / (33.4 * 24), 0.75},
    {"strip-bridge", "", "blank.middle.turn = 90 deg; strip.pitch = 40 mm; strip.width = 22 mm", HOLDS, NEW,
     1, 1},
    {"strip-bridge", "", "blank.middle.turn = 90 deg; strip.pitch = 40 mm; strip.width = 21.9 mm", CAUTION,
     NEW, 0.95, 1},
    {"strip-bridge", "", "blank.middle.turn = 30 deg; strip.pitch = 40 mm; strip.width = 37.9 mm", CAUTION,
     NEW, (37.9 - 35.98076) / 2, 1},
    {"strip-bridge", "", "strip.width = 30 mm", FAULT, NEW, 0, 0},
    {"strip-bridge", "", "strip.width = 29.9 mm", FAULT, NEW, ANY, ANY},
    {"strip-bridge", "", "strip.pitch = 20.1 mm", CAUTION, NEW, 0.1, 1},
    {"strip-bridge", "", "strip.pitch = 19.9 mm", FAULT, NEW, ANY, ANY},
    /* (32 - 30) / 2 */
    {"strip-bridge", "", "strip.width = 32 mm", HOLDS, NEW, 1, 1},
    {"strip-bridge", "", "strip.width = 31.9 mm", CAUTION, NEW, 0.95, 1},
    /* 20 x 30 of 1 mm: 1.25 t and 1.5 t, 1.5 at least; 4 between, 1.5 beside (TL-60) */
    {"strip-bridge-size", "", "strip.pitch = 21.5 mm", HOLDS, NEW, 1.5, 1.5},
    {"strip-bridge-size", "", "strip.pitch = 21.4 mm", NOTE, NEW, 1.4, 1.5},
    {"strip-bridge-size", "", "strip.width = 32.9 mm", NOTE, NEW, ANY, ANY},
    {"open-front", "bushings", "press.frame = \"open front\"; press.rated = 271 kN", HOLDS, NEW, ANY, 0.02},
    {"open-front", "bushings", "press.frame = \"open front\"; press.rated = 270 kN", NOTE, NEW,
     0.0015 * (1.3 * CUT + SPRINGS * 11) / 270000 * 63, 0.02},
    /* straight sides do not tilt */
    {"open-front", "bushings", "press.rated = 200 kN", HOLDS, NEW, ANY, ANY},
    /* a bar on two supports, load in the middle: F L^3 / (48 E I), I = 250 x 45^3 / 12 */
    {"shoe-bending", "risers", "+ risers risers; risers.apart = 289 mm", HOLDS, NEW, ANY, 0.05},
    {"shoe-bending", "risers", "+ risers risers; risers.apart = 290 mm", CAUTION, NEW,
     CUT * 290 * 290 * 290 / (48 * 210000.0 * 250 * 45 * 45 * 45 / 12), 0.05},

    /* ---- stack and punches: the chain of heights ------------------------------------------------------- */
    {"half-moves", "", "", HOLDS, NEW, ANY, ANY},
    {"half-moves", "", "stripper.moves = \"with the bed\"", HOLDS, NEW, ANY, ANY}, /* a fixed one */
    {"half-moves", "", "stripper.moves = \"with the slide\"", FAULT, NEW, ANY, ANY},
    {"half-moves", "", "punch_plate.moves = \"with the bed\"", FAULT, NEW, ANY, ANY},
    {"half-moves", "", "lower_shoe.moves = \"with the slide\"", FAULT, NEW, ANY, ANY},
    {"stripper-gap", "", "stripper.thickness = 37.9 mm", HOLDS, GROUND, 1.1, 1},
    /* more than, not at least */
    {"stripper-gap", "", "stripper.thickness = 38 mm", FAULT, GROUND, 1, 1},
    {"stripper-gap", "", "stripper.thickness = 42.1 mm", FAULT, BOTH, -3.1, 0},
    {"punch-length", "pierce", "pierce.length_given = 64.98 mm", HOLDS, NEW, 64.98, 64.98},
    {"punch-length", "pierce", "pierce.length_given = 64.97 mm", FAULT, NEW, 64.97, 64.98},
    {"punch-length", "pierce", "pierce.length_given = 65.02 mm", HOLDS, NEW, 65.02, 65.02},
    {"punch-length", "pierce", "pierce.length_given = 65.03 mm", FAULT, NEW, 65.03, 65.02},
    {"punch-length", "pierce", "pierce.length_given = 63 mm; pierce.stagger = 2 mm", HOLDS, NEW, 63, ANY},
    /* cube root of the force in tens of newtons: (39 425 / 10)^(1/3) = 15.80 */
    {"die-thickness", "", "die_plate.thickness = 19.8 mm", HOLDS, GROUND, 15.8, ANY},
    {"die-thickness", "", "die_plate.thickness = 19.7 mm", CAUTION, GROUND, 15.7, ANY},
    {"form-parts", "blank", "blank.does = \"form\"", HOLDS, GROUND, ANY, ANY},
    {"form-parts", "blank", "blank.does = \"form\"; blank.follows_grinding = no", FAULT, GROUND, ANY, ANY},
    /* 1 + 3 + 4 ground, point 0.6 x 5.97; the die plate's own 4 come off the clear depth */
    {"pilot-clear", "pins", "+ pilots pins; pins lay one on die_plate; pins.clear_depth = 15.6 mm", HOLDS,
     GROUND, 15.6 - 4 - 8 - 3.582, 0},
    {"pilot-clear", "pins", "+ pilots pins; pins lay one on die_plate; pins.clear_depth = 15.5 mm", FAULT,
     GROUND, 15.5 - 4 - 8 - 3.582, 0},
    /* right through the plate of 26 it meets the lower shoe: 1 + 21.418 + 0.6 x 5.97, and 4 ground off */
    {"pilot-clear", "pins",
     "+ pilots pins; pins lay one on die_plate; pins.shortened = yes; pins.ahead = 21.4 mm", HOLDS, GROUND,
     26 - 22.4 - 3.582, 0},
    {"pilot-clear", "pins",
     "+ pilots pins; pins lay one on die_plate; pins.shortened = yes; pins.ahead = 21.5 mm", FAULT, GROUND,
     26 - 22.5 - 3.582, 0},
    {"pilot-clear", "pins",
     "+ pilots pins; pins lay one on die_plate; pins.shortened = yes; pins.ahead = 21.5 mm; pins.clear_depth "
     "= 99 mm",
     FAULT, GROUND, 26 - 22.5 - 3.582, 0},
    {"pilot-size", "pins", "+ pilots pins; pins lay one on die_plate; pins.diameter = 5.99 mm", HOLDS, NEW,
     0.01, 0},
    {"pilot-size", "pins", "+ pilots pins; pins lay one on die_plate; pins.diameter = 6 mm", FAULT, NEW, 0,
     0},
    /* a hole of 10 is pierced a pitch before */
    {"pilot-hole", "finders", PILOTS "finders.strip_hole = 10 mm", HOLDS, NEW, ANY, ANY},
    {"pilot-hole", "finders", PILOTS "finders.strip_hole = 10 mm; finders.lay.along = 24 mm", HOLDS, NEW, ANY,
     ANY},
    {"pilot-hole", "finders", PILOTS "finders.strip_hole = 10 mm; finders.lay.along = 0.1 mm", FAULT, NEW,
     0.1, ANY},
    {"pilot-hole", "finders", PILOTS "finders.strip_hole = 10 mm; finders.lay.along = -24 mm", FAULT, NEW, 24,
     ANY},
    {"pilot-hole", "finders", PILOTS "finders.strip_hole = 10 mm; strip.pitch = 25 mm", FAULT, NEW, 1, ANY},
    {"pilot-hole", "finders", PILOTS "finders.diameter = 9.8 mm; finders.strip_hole = 10 mm", CAUTION, NEW,
     ANY, ANY},
    {"pilot-hole", "finders", PILOTS "finders.diameter = 10 mm; finders.strip_hole = 10.1 mm", FAULT, NEW,
     ANY, ANY},
    {"pilot-hole", "finders", PILOTS "strip.located_by = \"holes already in it\"", HOLDS, NEW, ANY, ANY},
    /* 1 + 1 + 3 and a point of 0.6 x 5 */
    {"pilot-out", "finders", PILOTS "finders.diameter = 5 mm; press.stroke = 13 mm", HOLDS, NEW, 5, 5},
    {"pilot-out", "finders", PILOTS "finders.diameter = 5 mm; press.stroke = 12.9 mm", CAUTION, NEW, 4.9, 5},
    {"pilot-out", "finders", PILOTS "finders.diameter = 5 mm; press.stroke = 8 mm", FAULT, NEW, 0, 0},
    {"strip-located", "", THIRD, CAUTION, NEW, ANY, ANY},
    {"strip-located", "", THIRD PILOTS, HOLDS, NEW, ANY, ANY},
    {"strip-located", "", THIRD "strip.located_by = \"a side cutter\"", NOTE, NEW, ANY, ANY},
    /* the strip's end between hole and blank, 10 to 14 on from the blank's middle; then within the blank */
    {"half-cut", "blank", "strip.start = 12 mm", HOLDS, NEW, 0, 0},
    {"half-cut", "blank", "strip.start = 0 mm", CAUTION, NEW, ANY, ANY},
    /* an edge at 55 that can stand out by 0.1 */
    {"strip-over", "blank", NOTCH "; blank.lay.across = 41.1 mm", HOLDS, NEW, 1, 1},
    {"strip-over", "blank", NOTCH "; blank.lay.across = 41 mm", CAUTION, NEW, 0.9, 1},
    {"strip-over", "blank", NOTCH "; blank.lay.across = 40.1 mm", FAULT, NEW, 0, 0},
    {"strip-over", "blank", NOTCH "; blank.lay.across = 39.1 mm", FAULT, NEW, -1, 0},
    /* the strip is 33 wide */
    {"strip-work", "blank", ACROSS "pierce.across = 32.9 mm", HOLDS, NEW, 0, 0},
    {"strip-work", "blank", ACROSS "pierce.across = 33 mm", FAULT, NEW, 1, 0},
    {"strip-work", "pierce", "blank.across = 33 mm", HOLDS, NEW, 0, 0},
    /* a hole of 10 whose middle comes to lie on the blank's side */
    {"strip-twice", "blank", "", HOLDS, NEW, 0, 0},
    {"strip-twice", "blank", "pierce.lay.across = 15 mm", FAULT, NEW, 10, 0},
    {"strip-twice", "blank", "pierce.lay.across = 15 mm; blank.cut_into_reason = \"makes the notch\"", NOTE,
     NEW, 10, 0},
    {"strip-twice", "blank", "pierce.lay.across = 15 mm; blank.does = \"pierce\"", CAUTION, NEW, 10, 0},
    /* each blank and the one before it, 24 on */
    {"strip-cross", "blank", "blank.along = 24.5 mm", HOLDS, NEW, 0.5, 0.5},
    {"strip-cross", "blank", "blank.along = 24.4 mm", CAUTION, NEW, 0.4, 0.5},
    {"strip-cross", "blank", "blank.along = 24 mm", CAUTION, NEW, 0, 0.5},
    {"strip-narrow", "strip", ACROSS "pierce.across = 31 mm", HOLDS, NEW, 2, 2},
    {"strip-narrow", "strip", ACROSS "pierce.across = 31.1 mm", CAUTION, NEW, 1.9, 2},
    {"strip-tie", "blank", NOTCH "; blank.lay.across = 42 mm; blank.along = 22 mm", HOLDS, NEW, 2, 2},
    {"strip-tie", "blank", NOTCH "; blank.lay.across = 42 mm; blank.along = 22.1 mm", CAUTION, NEW, 1.9, 2},
    /* a hole of 10 in the middle of the blank */
    {"hole-cut", "pierce", "blank.along = 14 mm", HOLDS, NEW, 2, 2},
    {"hole-cut", "pierce", "blank.along = 13.9 mm", NOTE, NEW, 1.95, 2},
    {"hole-cut", "pierce", "blank.along = 12.9 mm", CAUTION, NEW, 1.45, 1.5},
    {"hole-edge", "pierce", "pierce.lay.across = 9.5 mm", HOLDS, NEW, 2, 2},
    {"hole-edge", "pierce", "pierce.lay.across = -9.6 mm", NOTE, NEW, 1.9, 2},
    {"hole-edge", "pierce", "pierce.lay.across = 10.1 mm", CAUTION, NEW, 1.4, 1.5},
    {"pilot-whole", "finders", PILOTS "finders.lay.along = 24 mm", HOLDS, NEW, 0, 0},
    {"pilot-whole", "finders", PILOTS "finders.lay.along = 48 mm", FAULT, NEW, 1, 0},
    {"form-shift", "bend", BEND "bend.number = 2", HOLDS, NEW, ANY, ANY},
    {"form-shift", "bend", BEND "bend.number = 2; bend.shift = 0.02 mm", NOTE, NEW, 0.02, 0},
    {"form-shift", "bend", BEND "bend.number = 2; bend.shift = 0.05 mm", CAUTION, NEW, 0.05, ANY},
    {"form-shift", "bend", BEND "bend.number = 2; bend.shift = 0.3 mm", FAULT, NEW, 0.3, ANY},
    {"form-shift", "bend", BEND "bend.number = 2; bend.shift = 0.3 mm; bend.shift_reason = \"it pulls\"",
     NOTE, NEW, 0.3, 0},
    {"form-number", "bend", NUMBERED BEND "bend.number = 2", HOLDS, NEW, ANY, ANY},
    {"form-number", "bend", NUMBERED BEND, CAUTION, NEW, 0, ANY},
    {"form-number", "bend", NUMBERED BEND "bend.lay.along = 0.06 mm", FAULT, NEW, 0.06, ANY},
    {"form-near", "bend", NUMBERED BEND "bend.number = 2; bend.lay.along = 1 mm", HOLDS, NEW, 1, ANY},
    {"form-near", "bend", NUMBERED BEND "bend.number = 2; bend.lay.along = 0.3 mm", NOTE, NEW, 0.3, ANY},
    /* common practice: a side cutter is as long as the pitch, or some hundredths longer, and takes 1.5 off */
    /* 2 off one edge of 110 */
    {"channel-width", "", FIXED CUTTER "0.03 mm; stack.tunnel = 2 mm", HOLDS, NEW, 0.2, ANY},
    {"channel-width", "", FIXED CUTTER "0.03 mm; stack.tunnel = 2 mm; strip.channel_behind = 109.1 mm",
     CAUTION, NEW, 0.2, ANY},
    {"channel-width", "", FIXED CUTTER "0.03 mm; stack.tunnel = 2 mm; strip.channel_behind = 107.9 mm", FAULT,
     NEW, 0.2, ANY},
    {"side-cutter-long", "blank", CUTTER "0 mm", HOLDS, NEW, 0, ANY},
    {"side-cutter-long", "blank", CUTTER "0.05 mm", HOLDS, NEW, 0.05, 0.05},
    {"side-cutter-long", "blank", CUTTER "0.06 mm", CAUTION, NEW, 0.06, 0.05},
    {"side-cutter-long", "blank", CUTTER "0.11 mm", FAULT, NEW, 0.11, ANY},
    {"side-cutter-long", "blank", CUTTER "-0.01 mm", FAULT, NEW, -0.01, 0},
    {"side-cutter-deep", "blank", CUTTER "0 mm; blank.lay.across = 55.5 mm", HOLDS, NEW, 1.5, 1.5},
    {"side-cutter-deep", "blank", CUTTER "0 mm; blank.lay.across = 55.6 mm", CAUTION, NEW, 1.4, 1.5},
    {"side-cutter-deep", "blank", CUTTER "0 mm; blank.lay.across = 54.4 mm", NOTE, NEW, 2.6, 2.5},
    {"side-cutter-deep", "blank", CUTTER "0 mm; blank.lay.across = 57 mm", FAULT, NEW, 0, 0},
    {"side-cutter-first", "blank", NUMBERED CUTTER "0 mm; blank.number = 1", HOLDS, NEW, 1, 1},
    {"side-cutter-first", "blank", NUMBERED CUTTER "0 mm; blank.number = 2", CAUTION, NEW, 2, 1},
    {"strip-cross", "blank", CUTTER "0.03 mm", HOLDS, NEW, ANY, ANY},
    {"strip-cross", "blank", CUTTER "0.03 mm; blank.gauges = no", CAUTION, NEW, 0.03, ANY},
    {"strip-located", "", THIRD CUTTER "0 mm", HOLDS, NEW, ANY, ANY},
    {"heel-wanted", "blank", THIN_NOTCH "blank.guided = \"in the stripper\"; factor heel_push = 100 kN",
     HOLDS, NEW, ANY, 100000},
    {"heel-wanted", "blank", THIN_NOTCH "blank.guided = \"in the stripper\"; factor heel_push = 100 N", NOTE,
     NEW, ANY, 100},
    {"station-shift", "pierce", NUMBERED, HOLDS, NEW, ANY, ANY},
    {"station-shift", "pierce", NUMBERED "pierce.shift = -0.02 mm", NOTE, NEW, 0.02, 0},
    {"station-shift", "pierce", NUMBERED "pierce.shift = 0.021 mm", CAUTION, NEW, 0.021, ANY},
    {"station-shift", "pierce", NUMBERED "pierce.shift = 0.051 mm", FAULT, NEW, 0.051, ANY},
    {"station-shift", "pierce", NUMBERED "pierce.shift = 0.3 mm; pierce.shift_reason = \"the bend pulls\"",
     NOTE, NEW, 0.3, 0},
    {"part-freed", "", "", HOLDS, NEW, 600, 0},
    {"part-freed", "", "blank.does = \"pierce\"", FAULT, NEW, 0, 0},
    {"part-freed", "", "blank.does = \"pierce\"; strip.uncut_reason = \"perforated strip\"", NOTE, NEW, 0, 0},
    {"lifter-spread", "pins", PINS, HOLDS, NEW, 100, 100},
    /* pins of 8 in the lane of a hole of 10: 5 and 4 from its middle; the blank of 30 comes after them */
    {"lifter-path", "pins", PASSED "pins.lay.across = 9 mm", HOLDS, NEW, 0, 0},
    {"lifter-path", "pins", PASSED "pins.lay.across = -8.9 mm", CAUTION, NEW, -0.1, ANY},
    {"lifter-path", "pins", PASSED "pins.lay.across = 1.1 mm", CAUTION, NEW, -7.9, ANY},
    {"lifter-path", "pins", PASSED "pins.lay.across = 1.1 mm; pins.lane_reason = \"domed\"", NOTE, NEW, -7.9,
     0},
    {"lifter-path", "pins", PASSED "pins.lay.across = 1 mm; pins.lane_reason = \"domed\"", FAULT, NEW, -8,
     -8},
    {"lifter-spread", "pins", PINS "pins.lay.end = 39.9 mm", CAUTION, NEW, 100.2, 100},
    {"form-clamped", "blank", DIMPLE "blank.depth = 2.5 mm", HOLDS, NEW, 0.5, 0.5},
    {"form-clamped", "blank", DIMPLE "blank.depth = 2.6 mm", CAUTION, NEW, 0.4, 0.5},
    {"form-clamped", "blank", DIMPLE "blank.depth = 3.1 mm", FAULT, NEW, -0.1, 0},
    {"punch-shank", "pierce", "pierce.shank = 10 mm", HOLDS, NEW, 10, 10},
    {"punch-shank", "pierce", "pierce.shank = 9.9 mm", FAULT, NEW, 9.9, 10},
    {"punch-head", "pierce", "pierce.head = 10.1 mm", HOLDS, NEW, 10.1, 10},
    {"punch-head", "pierce", "pierce.head = 10 mm", FAULT, NEW, 10, 10},
    {"punch-head-seat", "pierce", "pierce.head_height = 19.9 mm", HOLDS, NEW, 0.1, 0},
    {"punch-head-seat", "pierce", "pierce.head_height = 20 mm", FAULT, BOTH, 0, 0},
    {"punch-head-seat", "pierce", "pierce.head_height = 19.9 mm; punch_plate.regrind = 1 mm", FAULT, GROUND,
     -0.9, 0},
    {"cannot-judge", "pierce.under_head", "punch_backing.hardened = no; pierce.head_height = 20 mm", FAULT,
     NEW, ANY, ANY},
    {"punch-left", "pierce", "pierce.does = \"blank\"; pierce.size = 0.2 mm; strip.clearance_share = 9 %",
     HOLDS, NEW, 0.02, 0},
    {"punch-left", "pierce", "pierce.does = \"blank\"; pierce.size = 0.2 mm; strip.clearance_share = 10 %",
     FAULT, NEW, 0, 0},
    {"lifter-head", "pins", PINS "pins.spring_hole = 8.1 mm", HOLDS, NEW, 8.1, 8},
    {"lifter-head", "pins", PINS "pins.spring_hole = 8 mm", FAULT, NEW, 8, 8},
    {"lifter-pocket", "pins", PINS "pins.seat_depth = 44.9 mm", HOLDS, NEW, 0.1, 0},
    {"lifter-pocket", "pins", PINS "pins.seat_depth = 45 mm", FAULT, BOTH, 0, 0},
    {"lifter-pocket", "pins", PINS "pins.seat_in = die_plate; pins.seat_depth = 26 mm", FAULT, GROUND, 0, 0},
    /* nor what it lifts */
    {"cannot-judge", "pins.raises", PINS "pins.seat_depth = 45 mm", FAULT, BOTH, ANY, ANY},
    {"plate-ground", "die_plate", "stack.land = 3 mm; die_plate.regrind = 29.9 mm", HOLDS, GROUND, 0.1, 0},
    {"plate-ground", "die_plate", "stack.land = 3 mm; die_plate.regrind = 30 mm", FAULT, GROUND, 0, 0},
    {"land-long", "", "stack.land = 6 mm", HOLDS, NEW, 6, 6},
    {"land-long", "", "stack.land = 6.1 mm", CAUTION, NEW, 6.1, 6},
    {"land-long", "", "stack.relief = 0 deg", CAUTION, NEW, 30, 6},
    {"press-rod", "", "press.rod = 1.25 * press.stroke", HOLDS, NEW, ANY, ANY},
    {"press-rod", "", "press.rod = 1.2 * press.stroke", CAUTION, NEW, ANY, ANY},
    {"press-rod", "", "press.rod = press.stroke / 2", FAULT, NEW, ANY, ANY},
    {"station-land", "pierce", "pierce.land = 5 mm", HOLDS, BOTH, ANY, ANY},
    {"station-land", "pierce", "pierce.land = 4.9 mm", CAUTION, GROUND, 0.9, 1},
    {"station-land", "pierce", "pierce.land = 4 mm", FAULT, GROUND, 0, 0},
    {"station-land", "pierce", "pierce.land = 6.1 mm", CAUTION, BOTH, ANY, ANY},
    {"station-land", "pierce", "pierce.relief = 0 deg", CAUTION, BOTH, ANY, ANY},
    {"station-land", "pierce", "pierce.relief = 0 deg; pierce.below = \"a step\"", HOLDS, BOTH, ANY, ANY},
    {"station-land", "pierce", "pierce.below = \"a step\"; pierce.step = 0.05 mm", CAUTION, BOTH, ANY, ANY},
    {"station-land", "pierce", "pierce.land = 31 mm", FAULT, BOTH, ANY, ANY},
    {"land-deep", "", "stack.land = 30 mm", HOLDS, NEW, 30, 30},
    {"land-deep", "", "stack.land = 30.1 mm", FAULT, NEW, 30.1, 30},
    /* nor what jams in it */
    {"cannot-judge", "stack.slugs", "stack.land = 30.1 mm", FAULT, BOTH, ANY, ANY},
    /* a small opening wants 1.5 of its own size, a large one 1.25 of the plate's thickness */
    {"opening-wall", "pierce", "stack.margin_in = 8.3 mm", HOLDS, NEW, ANY, ANY},
    {"opening-wall", "pierce", "stack.margin_in = 8.1 mm", CAUTION, NEW, 12 + 8.1 - 5.05, 15.15},
    {"opening-wall", "pierce", "pierce.size = 30 mm; stack.margin_in = 40.6 mm", HOLDS, NEW, ANY, ANY},
    {"opening-wall", "pierce", "pierce.size = 30 mm; stack.margin_in = 30 mm", CAUTION, NEW, ANY, 37.5},
    {"opening-wall-straight", "blank", "stack.margin_out = 35.5 mm", HOLDS, NEW, 37.5, 37.5},
    {"opening-wall-straight", "blank", "stack.margin_out = 35.4 mm", CAUTION, NEW, 37.4, 37.5},
    /* turned at its point: 20 by 30 is 30 by 20, and by 30 degrees 20 cos 30 + 30 sin 30 = 32.3205 along and
       35.9808 across */
    {"opening-wall-straight", "blank",
     "strip.pitch = 48 mm; blank.middle.turn = 90 deg; "
     "stack.margin_out = 28.5 mm",
     HOLDS, NEW, 37.5, 37.5},
    {"opening-wall-straight", "blank",
     "strip.pitch = 48 mm; blank.middle.turn = 90 deg; "
     "stack.margin_out = 28.4 mm",
     CAUTION, NEW, 37.4, 37.5},
    {"opening-wall-straight", "blank", "blank.lay.turn = 30 deg; stack.margin_out = 41 mm", CAUTION, NEW,
     53 - 16.16025, 37.5},
    /* 25.1 - 15 - 5.05 */
    {"opening-web", "", "blank.middle.turn = -90 deg; blank.lay.along = 1.1 mm", HOLDS, NEW, ANY, ANY},
    {"opening-web", "", "blank.middle.turn = -90 deg; blank.lay.along = 1 mm", FAULT, NEW, 4.95, 5},
    /* 20.1 - 10 - 5.05 */
    {"opening-web", "", "blank.lay.along = -3.9 mm", HOLDS, NEW, ANY, ANY},
    {"opening-web", "", "blank.lay.along = -4 mm", FAULT, NEW, 4.95, 5},
    /* they run into each other */
    {"opening-web", "", "blank.lay.along = -9 mm", FAULT, NEW, -0.05, 0},
    {"opening-web", "", SLANTED("33.7 mm"), HOLDS, NEW, ANY, ANY},
    {"opening-web", "", SLANTED("33.8 mm"), FAULT, NEW, 14.2 * M_SQRT1_2 - 5.05, 5},
    {"opening-web", "", "blank.lay.along = -3 mm; die_plate.thickness = 40 mm", CAUTION, NEW, 5.95, 6},
    {"smallest-hole", "pierce", "pierce.size = 1.2 mm", HOLDS, NEW, 1.2, 1.2},
    {"smallest-hole", "pierce", "pierce.size = 1.19 mm", CAUTION, NEW, 1.19, 1.2},
    /* stainless */
    {"smallest-hole", "pierce", "strip.material = \"1.4301-C\"; pierce.size = 2 mm", HOLDS, NEW, 2, 2},
    {"smallest-hole", "pierce", "strip.material = \"1.4301-C\"; pierce.size = 1.99 mm", CAUTION, NEW, 1.99,
     2},
    /* 4 x 300 x 1 / d */
    {"punch-stress", "pierce", "pierce.size = 1 mm", HOLDS, NEW, 1200, 1200},
    {"punch-stress", "pierce", "pierce.size = 0.99 mm", FAULT, NEW, 1200 / 0.99, 1200},
    /* Euler, held and guided: pi^2 E (pi d^4 / 64) / (0.7 x 25)^2 over pi d x 300 = 0.3525 d^3 */
    {"punch-buckling", "pierce", "pierce.size = 2.05 mm", HOLDS, NEW, ANY, 3},
    {"punch-buckling", "pierce", "pierce.size = 2.04 mm", FAULT, NEW,
     PI *PI * 210000 * 2.04 * 2.04 * 2.04 / (64 * 300 * 17.5 * 17.5), 3},
    /* the least blade 74 long in a strip of 2 with 496 N/mm2 under 1200: 1.691; a square one: 3.307 */
    {"punch-stress", "pierce", BLADE "pierce.along = 1.6912 mm; pierce.across = 74 mm", HOLDS, NEW, ANY,
     1200},
    {"punch-stress", "pierce", BLADE "pierce.along = 1.691 mm; pierce.across = 74 mm", FAULT, NEW, ANY, 1200},
    {"punch-stress", "pierce", BLADE "pierce.along = 3.307 mm; pierce.across = 3.307 mm", HOLDS, NEW, ANY,
     1200},
    {"punch-stress", "pierce", BLADE "pierce.along = 3.306 mm; pierce.across = 3.306 mm", FAULT, NEW, ANY,
     1200},
    /* 20 x 1.2^3 / 12 over 42.4 x 300 */
    {"punch-buckling", "pierce", "pierce.shape = \"rectangle\"; pierce.along = 1.2 mm; pierce.across = 20 mm",
     FAULT, NEW, PI *PI * 210000 * 2.88 / (17.5 * 17.5) / 12720, 3},
    {"punch-width", "blank", "blank.along = 1.6 mm", HOLDS, NEW, 1.5, 1.5},
    {"punch-width", "blank", "blank.along = 1.59 mm", CAUTION, NEW, 1.49, 1.5},
    {"punch-width", "blank", "blank.along = 2 mm; blank.guided = \"not guided\"", NOTE, NEW, 1.9, ANY},
    /* legs of 8, 20 by 20: 256 mm2 and 80 round count as a blade of 8 */
    {"punch-width", "blank", ANGLE "strip.thickness = 5.3 mm", HOLDS, NEW, 8, 7.95},
    {"punch-width", "blank", ANGLE "strip.thickness = 5.4 mm", CAUTION, NEW, 8, 8.1},
    {"backing-needed", "pierce", "punch_backing.hardened = no; factor backing_pressure = 35.5 MPa", FAULT,
     NEW, PI * 3000 / (PI / 4 * 169), 71},
    {"backing-needed", "pierce", "punch_backing.hardened = no; factor backing_pressure = 71.1 MPa", HOLDS,
     NEW, PI * 3000 / (PI / 4 * 169), 71.1},
    {"backing-needed", "pierce", "punch_backing.hardened = no; factor backing_pressure = 71 MPa", CAUTION,
     NEW, PI * 3000 / (PI / 4 * 169), 71},
    /* hardened backing stands it */
    {"backing-needed", "pierce", "factor backing_pressure = 71 MPa", HOLDS, NEW, ANY, ANY},
    /* 22 by 32 */
    {"slug-path", "blank", "blank.middle.turn = 30 deg; + risers risers; risers.apart = 83.06 mm", HOLDS, NEW,
     ANY, ANY},
    {"slug-path", "blank", "blank.middle.turn = 30 deg; + risers risers; risers.apart = 83 mm", FAULT, NEW,
     41.5 - 24 - (11 * sqrt(3) + 16) / 2, 0},
    /* 24 + (20 + 2) / 2 = 35 */
    {"slug-path", "blank", "+ risers risers; risers.apart = 70 mm", HOLDS, NEW, 0, 0},
    {"slug-path", "blank", "+ risers risers; risers.apart = 69.9 mm", FAULT, NEW, -0.05, 0},
    /* (30 + 2) / 2 = 16 */
    {"slug-path-along", "blank", "+ risers risers; risers.run = \"along the feed\"; risers.apart = 32 mm",
     HOLDS, NEW, 0, 0},
    {"slug-path-along", "blank", "+ risers risers; risers.run = \"along the feed\"; risers.apart = 31.9 mm",
     FAULT, NEW, -0.05, 0},
    {"slug-opening", "blank", "press.opening_width = 30 mm", HOLDS, NEW, 0, 0},
    {"slug-opening", "blank", "press.opening_width = 29.9 mm", FAULT, NEW, -0.05, 0},
    {"slug-opening", "blank", "press.opening_length = 68 mm", HOLDS, NEW, 0, 0},
    {"slug-opening", "blank", "press.opening_length = 67.9 mm", FAULT, NEW, -0.05, 0},
    {"land-left", "", "stack.land = 5 mm", HOLDS, GROUND, 1, 1},
    {"land-left", "", "stack.land = 4.9 mm", CAUTION, GROUND, 0.9, 1},
    {"land-left", "", "stack.land = 4 mm", FAULT, GROUND, 0, 0},
    /* the plate's own regrind counts */
    {"land-left", "", "stack.land = 5 mm; die_plate.regrind = 5 mm", FAULT, GROUND, 0, 0},

    /* ---- the sharpening book: 4 off either edge is what the base is laid out for;
       common practice, 0.1 to 0.3 a grind */
    {"punches-used-up", "", PAGE "page.off_punches = 2 mm", HOLDS, NEW, 2, 2},
    /* another such is too much */
    {"punches-used-up", "", PAGE "page.off_punches = 2.1 mm", NOTE, NEW, 1.9, 2.1},
    {"punches-used-up", "", PAGE "page.off_punches = 4 mm", NOTE, NEW, 0, 4},
    {"punches-used-up", "", PAGE "page.off_punches = 4.1 mm", FAULT, NEW, -0.1, 0},
    /* new punches */
    {"punches-used-up", "", TWO "page.off_punches = 3.5 mm; other.off_punches = -3.5 mm", HOLDS, NEW, 4, 3.5},
    {"die-used-up", "", PAGE "page.off_die = 2 mm", HOLDS, NEW, 2, 2},
    {"die-used-up", "", PAGE "page.off_die = 2.1 mm", NOTE, NEW, 1.9, 2.1},
    /* pages add up */
    {"die-used-up", "", TWO "page.off_die = 3 mm; other.off_die = 1.1 mm", FAULT, NEW, -0.1, 0},
    {"die-used-up", "", PAGE "page.off_die = 4.1 mm; die_plate.regrind = 8.2 mm", HOLDS, NEW, 4.1, 4.1},
    {"book-sign", "", TWO "page.off_die = 1 mm; other.off_die = -1 mm", HOLDS, NEW, 0, 0},
    {"book-sign", "", TWO "page.off_die = 1 mm; other.off_die = -1.1 mm", FAULT, NEW, -0.1, 0},
    {"book-sign", "", PAGE "page.off_punches = -0.1 mm", FAULT, NEW, -0.1, 0},
    {"book-sign", "", PAGE "page.under_punches = -0.1 mm", FAULT, NEW, -0.1, 0},
    {"book-sign", "", PAGE "page.under_die = -0.1 mm", FAULT, NEW, -0.1, 0},
    {"punches-shimmed-high", "", PAGE "page.off_punches = 1 mm; page.under_punches = 1.05 mm", HOLDS, NEW,
     0.05, 0.05},
    {"punches-shimmed-high", "", PAGE "page.off_punches = 1 mm; page.under_punches = 1.06 mm", CAUTION, NEW,
     0.06, 0.05},
    /* each side alone */
    {"punches-shimmed-high", "", PAGE "page.off_die = 1 mm; page.under_punches = 1 mm", CAUTION, NEW, 1,
     0.05},
    {"die-shimmed-high", "", PAGE "page.off_die = 1 mm; page.under_die = 1.05 mm", HOLDS, NEW, 0.05, 0.05},
    {"die-shimmed-high", "", PAGE "page.off_die = 1 mm; page.under_die = 1.06 mm", CAUTION, NEW, 0.06, 0.05},
    {"press-now", "", PAGE "page.off_punches = 4 mm; page.off_die = 4 mm; press.most_height = 251 mm", HOLDS,
     NEW, 181, 181},
    {"press-now", "", PAGE "page.off_punches = 4 mm; page.off_die = 4 mm; press.most_height = 251.1 mm",
     FAULT, NEW, 181, 181.1},
    {"press-now", "", PAGE "page.off_die = 4 mm; page.under_die = 2 mm; press.most_height = 257 mm", HOLDS,
     NEW, 187, 187},
    {"press-now", "", PAGE "page.off_die = 4 mm; page.under_die = 2 mm; press.most_height = 257.1 mm", FAULT,
     NEW, 187, 187.1},
    {"press-now", "", PAGE "page.under_die = 2 mm; press.most_height = 195.9 mm", FAULT, NEW, 191, 190.9},
    /* an empty book: as new */
    {"blocks-now", "", "stack.stop_blocks = 103 mm", HOLDS, NEW, 103, ANY},
    {"blocks-now", "", "stack.stop_blocks = 102.9 mm", CAUTION, NEW, 102.9, ANY},
    /* measured: die plate 30, of 189 in all; the press closes 70 under its greatest height, takes 5 less */
    {"plate-measured", "die_plate", "die_plate.measured = 30.02 mm", HOLDS, NEW, 0.02, 0.02},
    {"plate-measured", "die_plate", "die_plate.measured = 30.03 mm", CAUTION, NEW, 0.03, 0.02},
    {"plate-measured", "die_plate", "die_plate.measured = 29.97 mm", CAUTION, NEW, 0.03, 0.02},
    {"press-measured", "", "die_plate.measured = 30.1 mm; press.most_height = 259.1 mm", HOLDS, NEW, 189.1,
     189.1},
    {"press-measured", "", "die_plate.measured = 30.1 mm; press.most_height = 259.2 mm", FAULT, NEW, 189.1,
     189.2},
    {"press-measured", "", "stack.measured_punch = 65.2 mm; press.most_height = 194 mm", FAULT, NEW, 189.2,
     189},
    /* the punch plate is not in the chain */
    {"press-measured", "", "punch_plate.measured = 21 mm; press.most_height = 259.1 mm", FAULT, NEW, 189,
     189.1},
    {"room-measured", "", "stripper.measured = 42.9 mm", HOLDS, NEW, 0.1, 0},
    {"room-measured", "", "stripper.measured = 43 mm", FAULT, NEW, 0, 0},
    {"room-measured", "", "punch_plate.measured = 43 mm", FAULT, NEW, 0, 0},
    {"blocks-now", "", "stack.stop_blocks = 104.05 mm", HOLDS, NEW, 104.05, 104.05},
    {"blocks-now", "", "stack.stop_blocks = 104.06 mm", FAULT, NEW, 104.06, 104.05},
    {"blocks-now", "",
     PAGE
     "page.off_punches = 1 mm; page.off_die = 2 mm; page.under_die = 0.5 mm; stack.stop_blocks = 101.55 mm",
     HOLDS, NEW, 101.55, 101.55},
    {"blocks-now", "",
     PAGE
     "page.off_punches = 1 mm; page.off_die = 2 mm; page.under_die = 0.5 mm; stack.stop_blocks = 101.6 mm",
     FAULT, NEW, 101.6, 101.55},
    /* 8 + 3 + ground */
    {"springs-now", "springs", PAGE "page.off_punches = 6.8 mm", HOLDS, NEW, 17.8 / 89, 0.2},
    {"springs-now", "springs", PAGE "page.off_punches = 6.9 mm", CAUTION, NEW, 17.9 / 89, 0.2},
    {"springs-now", "springs", PAGE "page.off_punches = 6.9 mm; page.under_punches = 0.1 mm", HOLDS, NEW,
     17.8 / 89, 0.2},
    {"springs-now", "springs", PAGE "page.off_punches = 15.8 mm", FAULT, NEW, 26.8 / 89, 0.3},
    /* 96 - 80 - 7 - 3 - 6 */
    {"heads-now", "bolts", PAGE "bolts.length = 80 mm; page.off_punches = 6 mm", HOLDS, NEW, 0, 0},
    {"heads-now", "bolts", PAGE "bolts.length = 80 mm; page.off_punches = 6.1 mm", FAULT, NEW, -0.1, 0},
    {"heads-now", "bolts",
     PAGE "bolts.length = 80 mm; page.off_punches = 9 mm; stack.after_grinding = \"stripper set up again\"",
     HOLDS, NEW, 6, 0},

    /* ---- screws: clamp length 40 - 8.6 + 10 = 41.4, pitch 1.25, wanted 1.5 d = 12, least 1 d = 8 ------- */
    {"screw-engagement", "punch_screws", "punch_screws.length = 54.65 mm", HOLDS, NEW, 12, 12},
    {"screw-engagement", "punch_screws", "punch_screws.length = 54.6 mm", CAUTION, BOTH, 11.95, 12},
    {"screw-engagement", "punch_screws", "punch_screws.length = 50.65 mm", CAUTION, BOTH, 8, 12},
    {"screw-engagement", "punch_screws", "punch_screws.length = 50.6 mm", FAULT, BOTH, 7.95, 8},
    {"screw-bottom", "punch_screws", "punch_screws.length = 60.4 mm", HOLDS, GROUND, 1, 1},
    {"screw-bottom", "punch_screws", "punch_screws.length = 60.5 mm", FAULT, GROUND, 0.9, 1},
    /* out of the face */
    {"screw-bottom", "punch_screws", "punch_screws.length = 61.5 mm", FAULT, GROUND, -0.1, 0},
    /* a blind thread: a pitch */
    {"screw-bottom", "die_screws", "die_screws.thread_depth = 14.85 mm", HOLDS, GROUND, 1.25, 1.25},
    {"screw-bottom", "die_screws", "die_screws.thread_depth = 14.8 mm", FAULT, GROUND, 1.2, 1.25},
    /* 26 - 0.3 x 6.8 */
    {"screw-drill", "die_screws", "die_screws.drill_depth = 23.96 mm", HOLDS, GROUND, 0, 0},
    {"screw-drill", "die_screws", "die_screws.drill_depth = 24 mm", CAUTION, GROUND, -0.04, 0},
    {"screw-drill", "die_screws", "die_screws.drill_depth = 26 mm", FAULT, GROUND, -2.04, -2.04},
    {"screw-bottom", "die_screws",
     "die_screws.length = 50 mm; die_screws.thread_depth = 60 mm; die_screws.head_depth = 22.8 mm", FAULT,
     GROUND, ANY, ANY},
    /* a screw that falls through holds nothing */
    {"cannot-judge", "punch_screws.gross", "punch_screws.head_depth = 40 mm", FAULT, NEW, ANY, ANY},
    {"cannot-judge", "punch_screws.tightened", "punch_screws.head_depth = 40 mm", FAULT, NEW, ANY, ANY},
    /* M8: 0.5 x 8 */
    {"screw-seat", "punch_screws", "punch_screws.head_depth = 36 mm; upper_shoe.thickness = 40 mm", HOLDS,
     NEW, 4, 4},
    {"screw-seat", "punch_screws", "punch_screws.head_depth = 36.1 mm; upper_shoe.thickness = 40 mm", CAUTION,
     BOTH, 3.9, 4},
    {"screw-seat", "punch_screws", "punch_screws.head_depth = 40 mm; upper_shoe.thickness = 40 mm", FAULT,
     BOTH, 0, 0},
    {"screw-head", "punch_screws", "punch_screws.head_depth = 8 mm", HOLDS, NEW, 0, 0},
    {"screw-head", "punch_screws", "punch_screws.head_depth = 7.9 mm", FAULT, BOTH, -0.1, 0},
    {"screw-head", "punch_screws", "punch_screws.head_depth = 8.6 mm; upper_shoe.regrind = 0.7 mm", FAULT,
     GROUND, -0.1, 0},
    /* 2 d in hardened plate */
    {"screw-edge", "die_screws", "die_screws.lay.end = 16 mm", HOLDS, NEW, ANY, ANY},
    {"screw-edge", "die_screws", "die_screws.lay.end = 15.9 mm", CAUTION, NEW, 15.9, 16},
    {"screw-edge", "die_screws", "die_screws.lay.end = 12 mm; die_plate.hardened = no", HOLDS, NEW, ANY, ANY},
    {"screw-edge", "die_screws", "die_screws.lay.end = 11.9 mm; die_plate.hardened = no", CAUTION, NEW, 11.9,
     12},
    /* 81.5 - 70 - 7.5 */
    {"counterbore-edge", "punch_screws", "upper_shoe.length = 163 mm", HOLDS, NEW, ANY, ANY},
    {"counterbore-edge", "punch_screws", "upper_shoe.length = 162.9 mm", CAUTION, NEW, 3.95, 4},
    /* 16 d in this job */
    {"joint-gap", "die_plate", "die_screws.lay.side = 16 mm", HOLDS, NEW, ANY, ANY},
    {"joint-gap", "die_plate", "die_screws.lay.side = 15.9 mm", NOTE, NEW, 128.2, 128},
    /* three and three, typed in two groups along the front and the back, are the same six */
    {"joint-gap", "die_plate", IN_TWO "die_screws.lay.across = -64 mm; more.lay.across = 64 mm", HOLDS, NEW,
     ANY, ANY},
    {"joint-gap", "die_plate", IN_TWO "die_screws.lay.across = -64.1 mm; more.lay.across = 64.1 mm", NOTE,
     NEW, 128.2, 128},
    /* 19.9 - 3.4 - 16.5 */
    {"screw-path", "die_screws", "die_screws.tapped = \"right through\"; die_screws.lay.side = 60.1 mm",
     HOLDS, NEW, ANY, ANY},
    {"screw-path", "die_screws", "die_screws.tapped = \"right through\"; die_screws.lay.side = 60.2 mm",
     CAUTION, NEW, -0.1, 0},
    /* a blind thread stays below the face */
    {"screw-path", "die_screws", "die_screws.lay.side = 60.2 mm", HOLDS, NEW, ANY, ANY},
    /* drift holes of 7 at either end, before the stations; and among them */
    {"dowel-path", "die_dowels", "die_dowels.lay.right_across = 20 mm", HOLDS, NEW, ANY, ANY},
    {"dowel-path", "die_dowels", "die_dowels.lay.right_across = 19.9 mm", NOTE, NEW, -0.1, ANY},
    {"dowel-path", "die_dowels", "die_dowels.lay.end = 60 mm; die_dowels.lay.right_across = 19.9 mm", CAUTION,
     NEW, -0.1, ANY},
    {"screw-channel", "down", DOWN "down.lay.left_across = 21 mm", HOLDS, NEW, ANY, ANY},
    {"screw-channel", "down", DOWN "down.lay.left_across = 20 mm", FAULT, NEW, -1, 0},
    /* the told torque is for 0.75 of the proof load at 0.2; at 0.3 it gives two thirds of that, at 0.15 four
       thirds */
    {"screw-scatter", "punch_screws", "", HOLDS, NEW, 970 * 36.6, 970 * 36.6},
    {"screw-scatter", "punch_screws", "factor torque_friction_low = 0.149", CAUTION, NEW,
     970 * 36.6 * 0.15 / 0.149, 970 * 36.6},
    {"screw-scatter", "punch_screws", "punch_screws.torque_form = \"VDI 2230 short form\"", HOLDS, NEW,
     0.75 * 970 * 36.6 * (0.2 + 0.58 * 7.1881 * 0.12 + 5.5675 * 0.12) /
         (0.2 + 0.58 * 7.1881 * 0.1 + 5.5675 * 0.1),
     970 * 36.6},
    {"screw-scatter", "punch_screws",
     "punch_screws.torque_form = \"VDI 2230 short form\"; factor screw_friction_low = 0.08", CAUTION, NEW,
     ANY, 970 * 36.6},
    /* 10 % of the cut at 1 000 MPa, on six screws; preload 0.75 x 970 MPa x 36.6 mm2 = 26.6 kN (ISO 898-1),
     * two thirds of it at the highest friction */
    {"screw-tension", "punch_screws",
     "strip.shear = 1000 MPa; factor screw_reserve = 10; factor stripping_share = 8.1 %", HOLDS, NEW,
     0.081 * CUT / 0.3 / 6, 0.5 * 970 * 36.6 / 10},
    {"screw-tension", "punch_screws",
     "strip.shear = 1000 MPa; factor screw_reserve = 10; factor stripping_share = 8.2 %", FAULT, BOTH,
     0.082 * CUT / 0.3 / 6, 0.5 * 970 * 36.6 / 10},
    /* M8 of 12.9 breaks at 1 220 MPa x 36.6 mm2 (ISO 898-1); limits of 6g and 6H by the formulas of ISO
       965-1 */
    {"thread-strips", "punch_screws", "punch_plate.thread_shear = 214 MPa", HOLDS, NEW, 55 - 41.4 - 1.25,
     36.6 * 1220 / (214 * THREAD)},
    {"thread-strips", "punch_screws", "punch_plate.thread_shear = 213 MPa", NOTE, BOTH, 55 - 41.4 - 1.25,
     36.6 * 1220 / (213 * THREAD)},
    /* two of diameter 8: 100.53 mm2 */
    {"dowel-shear", "die_dowels", "die_dowels.side_force = 8042 N", HOLDS, NEW, 8042 / (PI * 32), 80},
    {"dowel-shear", "die_dowels", "die_dowels.side_force = 8043 N", CAUTION, NEW, 8043 / (PI * 32), 80},
    {"dowel-shear", "die_dowels", "die_dowels.side_force = 30150 N", CAUTION, NEW, 30150 / (PI * 32), 80},
    {"dowel-shear", "die_dowels", "die_dowels.side_force = 30160 N", FAULT, NEW, 30160 / (PI * 32), 300},
    {"size-exists-screws", "punch_screws", "punch_screws.length = 55 mm", HOLDS, NEW, ANY, ANY},
    {"size-exists-screws", "punch_screws", "punch_screws.length = 54 mm", FAULT, NEW, ANY, ANY},
    /* 41.4 + 12 + 1.25 */
    {"size-short-screws", "punch_screws", "punch_screws.length = 54.65 mm", HOLDS, NEW, 54.65, 54.65},
    {"size-short-screws", "punch_screws", "punch_screws.length = 54.6 mm", FAULT, NEW, 54.6, 54.65},

    /* ---- dowels of 8: least 1.5 d = 12 ----------------------------------------------------------------- */
    {"dowel-engagement", "die_dowels", "die_dowels.first_wanted = 12 mm", HOLDS, GROUND, 12, 12},
    {"dowel-engagement", "die_dowels", "die_dowels.first_wanted = 11.9 mm", CAUTION, GROUND, 11.9, 12},
    {"dowel-engagement", "die_dowels", "die_dowels.first_wanted = 0 mm", FAULT, GROUND, 0, 0},
    /* 16 of it in the first */
    {"dowel-engagement", "die_dowels", "die_dowels.length = 10 mm", FAULT, GROUND, -6, 0},
    /* 30 less 4 ground off */
    {"dowel-end", "die_dowels", "die_dowels.first_wanted = 26 mm", HOLDS, GROUND, 0, 0},
    {"dowel-end", "die_dowels", "die_dowels.first_wanted = 26.1 mm", FAULT, GROUND, -0.1, 0},
    /* half of sqrt(180^2 + 160^2) */
    {"plate-located", "die_plate", "die_dowels.lay.end = 36.4 mm", HOLDS, NEW, ANY, ANY},
    {"plate-located", "die_plate", "die_dowels.lay.end = 36.5 mm", CAUTION, NEW, ANY, ANY},
    {"plate-located", "die_plate",
     "die_dowels lay one on die_plate; die_dowels.lay.end = ; die_dowels.lay.left_across = ; "
     "die_dowels.lay.right_across = ",
     FAULT, NEW, ANY, ANY},
    {"dowel-out", "die_dowels", "die_dowels.way_out = \"driven out\"", HOLDS, NEW, ANY, ANY},
    {"dowel-out", "die_dowels", "die_dowels.way_out = \"none\"", CAUTION, NEW, ANY, ANY},
    /* beside screws of 8 */
    {"dowel-thin", "punch_dowels", "punch_dowels.diameter = 5 mm", HOLDS, NEW, 5, 4.8},
    {"dowel-thin", "punch_dowels", "punch_dowels.diameter = 4 mm", CAUTION, NEW, 4, 4.8},
    {"dowel-edge", "die_dowels", "die_dowels.lay.end = 16 mm", HOLDS, NEW, ANY, ANY},
    {"dowel-edge", "die_dowels", "die_dowels.lay.end = 15.9 mm", CAUTION, NEW, 15.9, 16},
    /* pin at 65 and screw at 70, 60: sqrt(25 + 15.8^2) = 16.57 less 4 and 4.5 */
    {"dowel-screw-wall", "", "die_dowels.lay.right_across = 44.2 mm", HOLDS, NEW, ANY, ANY},
    {"dowel-screw-wall", "", "die_dowels.lay.right_across = 44.3 mm", CAUTION, NEW, 7.977, 8},
    {"size-exists-dowels", "die_dowels", "die_dowels.length = 32 mm", HOLDS, NEW, ANY, ANY},
    {"size-exists-dowels", "die_dowels", "die_dowels.length = 33 mm", FAULT, NEW, ANY, ANY},
    /* 2 d in either plate */
    {"size-short-dowels", "die_dowels", "die_dowels.length = 32 mm", HOLDS, NEW, 32, 32},
    {"size-short-dowels", "die_dowels", "die_dowels.length = 31.9 mm", FAULT, NEW, 31.9, 32},
    /* -18 turned is 18 */
    {"turn-proof", "die_plate", "die_dowels.lay.right_across = 29 mm", HOLDS, NEW, 1, 1},
    {"turn-proof", "die_plate", "die_dowels.lay.right_across = 29.1 mm", CAUTION, NEW, 0.9, 1},
    {"flip-proof", "die_plate", FLIPS "die_dowels.lay.right_across = -29 mm", HOLDS, NEW, 1, 1},
    {"flip-proof", "die_plate", FLIPS "die_dowels.lay.right_across = -29.1 mm", CAUTION, NEW, 0.9, 1},
    /* blind holes tell the faces apart */
    {"flip-proof", "die_plate", "die_dowels.lay.right_across = -18 mm", HOLDS, NEW, ANY, ANY},

    /* ---- walls ----------------------------------------------------------------------------------------- */
    /* drift hole 7 beside a counterbore 15 in the lower shoe: sqrt(25 + 13.1^2) = 14.02 less 11 */
    {"hole-wall", "", "die_dowels.lay.right_across = 46.9 mm", HOLDS, NEW, ANY, ANY},
    {"hole-wall", "", "die_dowels.lay.right_across = 47 mm", CAUTION, BOTH, 2.9284, 3},
    {"hole-wall", "", "die_dowels.lay.right_across = 50.2 mm", CAUTION, BOTH, 0.0018, 3},
    {"hole-wall", "", "die_dowels.lay.right_across = 50.3 mm", FAULT, BOTH, -0.0872, 0},
    {"same-place", "", TWICE "twice.lay.side = 40 mm", HOLDS, NEW, ANY, ANY},
    {"same-place", "", TWICE "twice.lay.side = 20 mm", FAULT, BOTH, 0, 0.1},
    {"hole-wall", "", TWICE "twice.lay.side = 20 mm", HOLDS, NEW, ANY, ANY}, /* told once */
    {"hole-inside", "posts", "posts.lay.side = 12.6 mm", HOLDS, NEW, ANY, ANY},
    {"hole-inside", "posts", "posts.lay.side = 12.5 mm", FAULT, NEW, 0, 0},
    {"hole-inside", "blank", CORNERS("20 mm", "79.9 mm"), HOLDS, NEW, ANY, ANY},
    {"hole-inside", "blank", CORNERS("20 mm", "80 mm"), FAULT, NEW, 0, 0},
    {"hole-inside", "blank", "blank.across = 159.9 mm", HOLDS, NEW, ANY, ANY},
    {"hole-inside", "blank", "blank.across = 160 mm", FAULT, NEW, 0, 0},
    /* a notch, a form and a slot leave a plate as much; so does a slug hole, which is wider, below the die
       plate */
    {"hole-inside", "blank", "blank.does = \"notch\"; blank.across = 160.1 mm", FAULT, NEW, ANY, ANY},
    {"hole-inside", "blank", "blank.does = \"form\"; blank.across = 160.2 mm", FAULT, NEW, ANY, ANY},
    {"hole-inside", "blank",
     "blank.shape = \"obround\"; blank.along = 132.1 mm; blank.across = 20 mm; blank.middle.turn = 90 deg; "
     "blank.lay.across = 14 mm",
     FAULT, NEW, ANY, ANY},
    /* 30 and the room for slugs */
    {"hole-inside", "blank", "lower_shoe.width = 31 mm", FAULT, NEW, ANY, 0},
    /* 29.9, held in it */
    {"hole-inside", "blank", "stripper.width = 29.8 mm", FAULT, NEW, -0.05, 0},
    {"hole-inside", "blank", "punch_plate.width = 29 mm", FAULT, NEW, ANY, 0},
    /* open at the edge on purpose */
    {"hole-inside", "slots", SLOTS "slots.each = 3", HOLDS, NEW, ANY, ANY},

    /* ---- outlines -------------------------------------------------------------------------------------- */
    {"outline-encloses", "blank", CORNERS("0.1 mm", "20 mm"), HOLDS, NEW, 2, 0},
    {"outline-encloses", "blank", OUTLINE "blank.outline.2 = line to 20 mm, 0 mm", FAULT, NEW, 0, 0},
    {"outline-reach", "blank", ARC("10 mm"), HOLDS, NEW, 0, -1e-7},
    {"outline-reach", "blank", ARC("9.9 mm"), FAULT, NEW, -0.1, -1e-7},
    {"outline-crossing", "blank", CORNERS("20 mm", "20 mm"), HOLDS, NEW, 0, 0},
    {"outline-crossing", "blank", CORNERS("20 mm", "20 mm") "; blank.outline.5 = line to 30 mm, 10 mm", FAULT,
     NEW, 2, 0},
    {"outline-unused", "blank", CORNERS("20 mm", "20 mm"), HOLDS, NEW, ANY, ANY},
    {"outline-unused", "blank", CORNERS("20 mm", "20 mm") "; blank.shape = \"round\"", NOTE, NEW, ANY, ANY},
    {"outline-room", "blank", CORNERS("20 mm", "2.01 * strip.clearance"), HOLDS, NEW, 0, 0},
    {"outline-room", "blank", CORNERS("20 mm", "1.99 * strip.clearance"), FAULT, NEW, 1, 0},

    /* ---- posts of 25 shoes 104 apart, first touch 3, bushing 31 proud, chamfer 3; seat 45 - 2 = 43 */
    /* length - 43 - 104 - 3 + 31 - 3 */
    {"post-entry", "posts", "posts.length = 159.5 mm", HOLDS, NEW, 37.5, 37.5},
    {"post-entry", "posts", "posts.length = 159.4 mm", FAULT, NEW, 37.4, 37.5},
    /* never more than the bushing */
    {"post-entry", "posts", "posts.length = 315 mm", HOLDS, NEW, 63, 37.5},
    {"post-bore", "posts", "posts.bore_depth = 40 mm", HOLDS, NEW, 40, 40},
    {"post-bore", "posts", "posts.bore_depth = 40.1 mm", FAULT, NEW, 40.1, 40},
    /* 96 + 40 - (length - 43) */
    {"post-end", "posts", "posts.length = 176 mm", HOLDS, GROUND, 3, 3},
    {"post-end", "posts", "posts.length = 176.1 mm", FAULT, GROUND, 2.9, 3},
    {"post-end", "posts", "posts.length = 179.1 mm", FAULT, GROUND, -0.1, 0},
    /* shoe 315 */
    {"post-size", "posts", "stack.shoe_margin_ends = 67.5 mm", HOLDS, NEW, 25, 25},
    {"post-size", "posts", "stack.shoe_margin_ends = 67.6 mm", NOTE, NEW, 25, 32},
    /* one of four moved by d: the best wrong place is d / 2 off at each (TL-47) */
    {"post-turn", "posts", "posts.right_back.x = usual + 6 mm", HOLDS, NEW, 3, 3},
    {"post-turn", "posts", "posts.right_back.x = usual + 5.9 mm", CAUTION, NEW, 2.95, 3},
    /* two of one diameter change places wherever they stand; two diameters do not */
    {"post-pair", "posts",
     PAIR "+ posts other; other.seat_in = lower_shoe; other.runs_in = upper_shoe; "
          "other.diameter = 24 mm; other lay one on lower_shoe; other.lay.along = 100 mm",
     HOLDS, NEW, ANY, ANY},
    {"post-pair", "posts", "posts lay diagonal on lower_shoe; posts.right_back.x = ", CAUTION, NEW, 0, 3},
    {"post-pair", "posts", "posts lay diagonal on lower_shoe; posts.right_back.x = usual + 9 mm", CAUTION,
     NEW, 0, 3},
    /* both at the back, 92 from the middle: the half lands 184 off, which is seen */
    {"post-seen", "posts", "posts.right_back.x = usual + 10 mm", HOLDS, NEW, ANY, ANY},
    {"post-seen", "posts", "posts lay back_pair on lower_shoe; posts.right_back.x = ", NOTE, NEW, 0, 3},
    {"post-axis", "bushings", "bushings.post_diameter = 25 mm", HOLDS, NEW, 0, 0},
    {"post-axis", "bushings", "bushings.post_diameter = 25.1 mm", FAULT, NEW, 0.1, 0},
    {"post-bushing", "posts", "", HOLDS, NEW, ANY, ANY},
    {"post-bushing", "posts", "- bushings", FAULT, NEW, ANY, ANY},
    {"post-seat", "posts", "posts.sunk = 7.5 mm", HOLDS, NEW, 37.5, 37.5},
    {"post-seat", "posts", "posts.sunk = 7.6 mm", CAUTION, BOTH, 37.4, 37.5},
    /* the least */
    {"post-seat", "posts", "posts.sunk = 13.8 mm", CAUTION, BOTH, 31.2, 31.25},
    {"post-seat", "posts", "posts.sunk = 44.9 mm", CAUTION, BOTH, 0.1, 31.25},
    {"post-seat", "posts", "posts.sunk = 45 mm", FAULT, BOTH, 0, 0},
    /* nor where it would stand */
    {"cannot-judge", "posts.above_shoe", "posts.sunk = 45 mm", FAULT, BOTH, ANY, ANY},
    {"post-end", "posts", "posts.length = 160 mm; posts.bore_depth = 90 mm", HOLDS, GROUND, ANY, ANY},
    {"post-flange", "posts", "posts.form = \"flanged\"; posts.flange = 25.1 mm", HOLDS, NEW, 0.1, 0},
    {"post-flange", "posts", "posts.form = \"flanged\"; posts.flange = 25 mm", FAULT, NEW, 0, 0},
    {"bushing-wall", "bushings", "bushings.outside = 25.1 mm", HOLDS, NEW, 25.1, 25},
    {"bushing-wall", "bushings", "bushings.outside = 25 mm", FAULT, NEW, 25, 25},
    {"bushing-flange", "bushings", "bushings.flange = 40 mm", HOLDS, NEW, 40, 40},
    {"bushing-flange", "bushings", "bushings.flange = 39.9 mm", FAULT, NEW, 39.9, 40},
    {"bushing-seat", "bushings", "bushings.seat_length = 40 mm", HOLDS, NEW, 40, 40},
    {"bushing-seat", "bushings", "bushings.seat_length = 40.1 mm", FAULT, BOTH, 40, 40.1},
    {"bushing-stands", "bushings", "bushings.seat_length = 63 mm", HOLDS, NEW, 63, 63},
    {"bushing-stands", "bushings", "bushings.seat_length = 63.1 mm", FAULT, NEW, 63.1, 63},
    /* 125 - 88.5 - 20 - 16.5 */
    {"post-clear", "bushings", "posts.lay.side = 88.5 mm", HOLDS, NEW, ANY, ANY},
    {"post-clear", "bushings", "posts.lay.side = 88.6 mm", FAULT, NEW, -0.1, 0},
    {"post-clear", "bushings", "bushings.flange = 50 mm; posts.lay.side = 83.5 mm", HOLDS, NEW, ANY, ANY},
    {"post-clear", "bushings", "bushings.flange = 50 mm; posts.lay.side = 83.6 mm", FAULT, NEW, -0.1, 0},
    /* clamps stand on a circle of 40 + 16 at 60, 180 and 300 degrees, so 28 sin 60 = 24.249 nearer to the
       strip than the post */
    {"clamp-clear", "bushings", "posts.lay.side = 81.75 mm", HOLDS, NEW, ANY, ANY},
    {"clamp-clear", "bushings", "posts.lay.side = 81.8 mm", FAULT, NEW,
     125 - 81.8 - 28 * sin(PI / 3) - 2.5 - 16.5, 0},
    {"clamp-clear", "bushings", "posts.lay.side = 83.3 mm; posts.lay.turn = 135 deg", FAULT, NEW, ANY, 0},
    {"clamp-clear", "bushings", "posts.lay.side = 83.3 mm; bushings.clamps = 0", HOLDS, NEW, ANY, ANY},
    /* posts at 107, 92: 17 and 12 beside the plates' corner, and a clamp of one 3 beside them */
    {"post-plate", "bushings", "bushings.flange = 41.6 mm", HOLDS, NEW, ANY, ANY},
    {"post-plate", "bushings", "bushings.flange = 41.7 mm", FAULT, NEW, sqrt(17 * 17 + 12 * 12) - 20.85, 0},
    {"post-plate", "bushings", "bushings.clamp_room = 6 mm", HOLDS, NEW, ANY, ANY},
    {"post-plate", "bushings", "bushings.clamp_room = 6.1 mm", FAULT, NEW, -0.05, 0},
    /* 12.5 and 8.5 beside */
    {"post-plate", "posts", "posts.lay.end = 37.5 mm; posts.lay.side = 36.5 mm", HOLDS, NEW, ANY, ANY},
    {"post-plate", "posts", "posts.lay.end = 37.6 mm; posts.lay.side = 45 mm", FAULT, NEW, -0.1, 0},
    /* 107 + 28 of 140 */
    {"post-edge", "bushings", "bushings.clamp_room = 10 mm", HOLDS, NEW, ANY, ANY},
    {"post-edge", "bushings", "bushings.clamp_room = 10.1 mm", FAULT, NEW, -0.05, 0},
    /* 29 CFR 1910.217(d)(4): 1/4 in */
    {"guard-note", "posts", "press.stroke = 50.35 mm", HOLDS, NEW, 6.35, 6.35},
    {"guard-note", "posts", "press.stroke = 50.4 mm", NOTE, NEW, 6.4, 6.35},
    /* cage from 1.5 above the mouth at shut, so at the mouth at the first touch; 44 of post in the bushing at
       shut */
    {"cage-loaded", "bushings",
     "bushings.form = \"headed\"; bushings.guide = \"ball cage\"; bushings.cage = 41 mm", HOLDS, NEW, 41, 41},
    {"cage-loaded", "bushings",
     "bushings.form = \"headed\"; bushings.guide = \"ball cage\"; bushings.cage = 41.1 mm", FAULT, NEW, 41,
     41.1},
    {"cage-inside", "bushings",
     "bushings.form = \"headed\"; bushings.guide = \"ball cage\"; bushings.cage = 42.5 mm", HOLDS, NEW, 44,
     44},
    {"cage-inside", "bushings",
     "bushings.form = \"headed\"; bushings.guide = \"ball cage\"; bushings.cage = 42.6 mm", FAULT, NEW, 44.1,
     44},
    {"size-exists-posts", "posts", "posts.length = 160 mm", HOLDS, NEW, ANY, ANY},
    {"size-exists-posts", "posts", "posts.length = 161 mm", FAULT, NEW, ANY, ANY},
    {"size-short-posts", "posts", "posts.length = 159.5 mm", HOLDS, NEW, 159.5, 159.5},
    {"size-short-posts", "posts", "posts.length = 159.4 mm", FAULT, NEW, 159.4, 159.5},

    /* 26 + 20 + 1 to the die face as the stripper meets the strip, 16 of entry wanted; at shut 63 - 40 below
       the ground face */
    {"sub-guide", "guides", "+ sub_posts guides; guides.below = 63 mm", HOLDS, NEW, 16, 16},
    {"sub-guide", "guides", "+ sub_posts guides; guides.below = 62.9 mm", CAUTION, BOTH, 15.9, 16},
    /* less 4 ground off */
    {"sub-guide-room", "guides", "+ sub_posts guides; guides.cleared = 27 mm", HOLDS, GROUND, 0, 0},
    {"sub-guide-room", "guides", "+ sub_posts guides; guides.cleared = 26.9 mm", CAUTION, GROUND, -0.1, 0},

    /* 19 when ground */
    {"sub-guide-bushing", "guides", "+ sub_posts guides; guides.bushing_stands = 18 mm", HOLDS, GROUND, 1, 1},
    {"sub-guide-bushing", "guides", "+ sub_posts guides; guides.bushing_stands = 18.1 mm", FAULT, GROUND, 0.9,
     1},
    {"sub-guide-bushing", "guides", "+ sub_posts guides; guides.bushing_stands = 23.1 mm", FAULT, BOTH, -4.1,
     0},
    /* 30 and the shoe's 45 */
    {"sub-guide-cleared", "guides", "+ sub_posts guides; guides.cleared = 75 mm", HOLDS, NEW, 75, 75},
    {"sub-guide-cleared", "guides", "+ sub_posts guides; guides.cleared = 75.1 mm", FAULT, NEW, 75.1, 75},
    {"sub-guide-wall", "guides", "+ sub_posts guides; guides.bushing = 16.1 mm", HOLDS, NEW, 16.1, 16},
    {"sub-guide-wall", "guides", "+ sub_posts guides; guides.bushing = 16 mm", FAULT, NEW, 16, 16},

    /* a slot beside a post's bore of 25: 107 - 12.5 - 9.25 less half of what the slots are apart */
    {"hole-wall", "posts", SLOTS "slots.depth = 60 mm; slots.apart = 164.5 mm", HOLDS, NEW, ANY, ANY},
    {"hole-wall", "posts", SLOTS "slots.depth = 60 mm; slots.apart = 164.7 mm", CAUTION, BOTH, 2.9, 3},
    {"hole-wall", "posts", SLOTS "slots.depth = 60 mm; slots.apart = 172 mm", FAULT, BOTH, -0.75, 0},
    /* the press's clamp over it, 48 wide, and the post */
    /* 107 - 69.5 - 12.5 - 24 */
    {"bodies-meet", "posts", SLOTS "slots.depth = 42.25 mm; slots.apart = 139 mm", HOLDS, NEW, ANY, ANY},
    {"bodies-meet", "posts", SLOTS "slots.depth = 42.25 mm; slots.apart = 139.2 mm", CAUTION, BOTH, 0.9, 1},
    {"bodies-meet", "posts", SLOTS "slots.depth = 42.25 mm; slots.apart = 142 mm", FAULT, BOTH, -0.5, 0},
    {"bodies-meet", "posts", SLOTS "slots.depth = 42.25 mm; slots.apart = 142 mm; slots.form = \"T-slot\"",
     HOLDS, NEW, ANY, ANY},

    /* ---- bodies: springs of 25 at 45 and 40 from the middle, between punch plate and stripper ---------- */
    /* 45 - 26.5 - 12.5 - 5 */
    {"bodies-meet", "springs", "bolts.lay.side = 40 mm; bolts.lay.end = 26.5 mm", HOLDS, NEW, ANY, ANY},
    {"bodies-meet", "springs", "bolts.lay.side = 40 mm; bolts.lay.end = 26.6 mm", CAUTION, BOTH, 0.9, 1},
    {"bodies-meet", "springs", "bolts.lay.side = 40 mm; bolts.lay.end = 27.4 mm", CAUTION, BOTH, 0.1, 1},
    {"bodies-meet", "springs", "bolts.lay.side = 40 mm; bolts.lay.end = 27.5 mm", HOLDS, NEW, ANY,
     ANY}, /* told with the holes */
    {"hole-wall", "springs", "bolts.lay.side = 40 mm; bolts.lay.end = 27.5 mm", FAULT, BOTH, ANY, 0},
    {"bodies-meet", "springs", "bolts.lay.side = 40 mm; bolts.lay.end = 30 mm", HOLDS, NEW, ANY,
     ANY}, /* told with the holes */
    {"hole-wall", "springs", "bolts.lay.side = 40 mm; bolts.lay.end = 30 mm", FAULT, BOTH, ANY, 0},
    /* 18.5 - 12.5 - 5 */
    {"bodies-meet", "pierce", OVER_PUNCHES "61.5 mm", HOLDS, NEW, ANY, ANY},
    {"bodies-meet", "pierce", OVER_PUNCHES "61.6 mm", CAUTION, BOTH, 0.9, 1},
    {"bodies-meet", "pierce", OVER_PUNCHES "63 mm", HOLDS, NEW, ANY, ANY}, /* told with the holes */
    /* 28.5 - 14.95 - 12.5 */
    {"bodies-meet", "blank", OVER_PUNCHES "51.5 mm", HOLDS, NEW, ANY, ANY},
    {"bodies-meet", "blank", OVER_PUNCHES "51.6 mm", CAUTION, BOTH, 0.95, 1},
    /* 23.5 - 9.95 - 12.5 */
    {"bodies-meet", "blank", OVER_PUNCHES "56.5 mm; blank.middle.turn = 90 deg", HOLDS, NEW, ANY, ANY},
    {"bodies-meet", "blank", OVER_PUNCHES "56.6 mm; blank.middle.turn = 90 deg", CAUTION, BOTH, 0.95, 1},
    /* a shoulder screw within its spring: 12.5 of rod are free in a spring of 25 */
    {"bodies-meet", "springs", SPRINGS_ROUND "more.shoulder = 12 mm", HOLDS, NEW, ANY, ANY},
    {"bodies-meet", "springs", SPRINGS_ROUND "more.shoulder = 16 mm", FAULT, BOTH, -20.5, 0},
    /* what stands out of the stripper: a bushing of 26 beside a spring, where the guide itself leaves 5
       more */
    /* 26.5 - 12.5 - 13 */
    {"bodies-meet", "springs", GUIDES "guides.bushing_stands = 10 mm; guides.lay.end = 18.5 mm", HOLDS, NEW,
     ANY, ANY},
    {"bodies-meet", "springs", GUIDES "guides.bushing_stands = 10 mm; guides.lay.end = 18.6 mm", CAUTION,
     BOTH, 0.9, 1},
    {"bodies-meet", "springs", GUIDES "guides.lay.end = 23.5 mm", HOLDS, NEW, ANY, ANY},
    {"bodies-meet", "springs", GUIDES "guides.lay.end = 23.6 mm", CAUTION, BOTH, 0.9, 1},
    /* one over the other: between the shoes 104, when ground 96. A post's clamp stands 13 up from the lower
     * shoe, 26.5 from the axis and 18 wide, a bushing's hangs from the upper, 28 from it and 5 wide: in the
     * plan they are 1.5 - 9 - 2.5 apart */
    {"bodies-meet", "posts", "posts.form = \"flanged\"; bushings.clamp_height = 83 mm", HOLDS, NEW, ANY, ANY},
    {"bodies-meet", "posts", "posts.form = \"flanged\"; bushings.clamp_height = 83.1 mm", FAULT, GROUND, -10,
     0},
    {"bodies-meet", "posts", "posts.form = \"flanged\"; bushings.clamp_height = 91 mm", FAULT, GROUND, -10,
     0},
    {"bodies-meet", "posts", "posts.form = \"flanged\"; bushings.clamp_height = 91.1 mm", FAULT, BOTH, -10,
     0},

    /* ---- springs and shoulder screws ------------------------------------------------------------------- */
    {"spring-force", "", "springs.rate = 54.8 N/mm", HOLDS, NEW, 8 * 54.8 * 9, 0.1 * CUT},
    {"spring-force", "", "springs.rate = 54.7 N/mm", FAULT, NEW, 8 * 54.7 * 9, 0.1 * CUT},
    {"spring-preload", "springs", "springs.free_length = 81.1 mm", HOLDS, NEW, 0.1, 0},
    {"spring-preload", "springs", "springs.free_length = 81 mm", FAULT, BOTH, 0, 0},
    /* 8 + 3 + ground */
    {"spring-travel", "springs", "stack.punch_regrind = 6.8 mm", HOLDS, GROUND, 17.8 / 89, 0.2},
    {"spring-travel", "springs", "stack.punch_regrind = 6.9 mm", CAUTION, GROUND, 17.9 / 89, 0.2},
    {"spring-travel", "springs", "stack.punch_regrind = 15.8 mm", FAULT, GROUND, 26.8 / 89, 0.3},
    {"spring-solid", "springs", "stack.punch_regrind = 15.7 mm", HOLDS, GROUND, 26.7, 26.7},
    {"spring-solid", "springs", "stack.punch_regrind = 15.8 mm", FAULT, GROUND, 26.8, 26.7},
    {"pocket-floor", "springs", "springs.pocket_depth = 32 mm", HOLDS, NEW, ANY, ANY},
    {"pocket-floor", "springs", "springs.pocket_depth = 32.1 mm", CAUTION, BOTH, 7.9, 8},
    {"pocket-floor", "springs", "springs.pocket_depth = 40 mm", FAULT, BOTH, 0, 0},
    {"spring-pocket", "springs", "springs.pocket_depth = 39.9 mm", HOLDS, NEW, 0.1, 0},
    {"spring-pocket", "springs", "springs.pocket_depth = 40 mm", FAULT, BOTH, 0, 0},
    {"spring-pocket", "springs", "springs.pocket_depth = 39 mm; upper_shoe.regrind = 1 mm", FAULT, GROUND, 0,
     0},
    /* nor what they push */
    {"cannot-judge", "springs.preload", "springs.pocket_depth = 40 mm", FAULT, NEW, ANY, ANY},
    {"spring-foot", "springs", "springs.sits = \"in a pocket\"; springs.foot_depth = 19.9 mm", HOLDS, NEW,
     0.1, 0},
    {"spring-foot", "springs", "springs.sits = \"in a pocket\"; springs.foot_depth = 20 mm", FAULT, BOTH, 0,
     0},
    {"cannot-judge", "springs.preload", "springs.sits = \"in a pocket\"; springs.foot_depth = 20 mm", FAULT,
     NEW, ANY, ANY},
    /* stripping centre at 12.53 */
    {"spring-balance", "", "stripper.offset_along = -5.4 mm", HOLDS, NEW, ANY, 18},
    {"spring-balance", "", "stripper.offset_along = -5.5 mm", CAUTION, NEW, 5.5 + 30000 * 48 / CUT - 24, 18},
    {"spring-balance", "", "springs.lay.columns = 3", HOLDS, NEW, ANY, ANY}, /* six */
    {"spring-balance", "", "springs.lay.columns = 5; springs.lay.rows = 1", CAUTION, NEW, ANY, ANY},
    /* groups that differ, about one middle: nothing tilts; the stiffer one 10 to the right, it wanders */
    {"spring-equal", "", MORE_SPRINGS "more.preload_wanted = 20 mm", HOLDS, NEW, ANY, ANY},
    {"spring-equal", "",
     MORE_SPRINGS "factor spring_wander_most = 0.5 %; more.preload_wanted = 20 mm; more lay one on stripper; "
                  "more.lay.along = 60 mm",
     CAUTION, NEW, ANY, ANY},
    /* 95 - 80 - 7 - 7 */
    {"shoulder-head", "bolts", "bolts.length = 80 mm; upper_shoe.thickness = 39 mm", HOLDS, GROUND, 1, 1},
    {"shoulder-head", "bolts", "bolts.length = 80 mm; upper_shoe.thickness = 38.9 mm", FAULT, GROUND, 0.9, 1},
    {"shoulder-head", "bolts", "bolts.length = 80 mm; upper_shoe.thickness = 37.9 mm", FAULT, GROUND, -0.1,
     0},
    /* from the shoe's lower face down 10 + 20 + 26: 61 - 56, 0.5 x 10 */
    {"shoulder-seat", "bolts", "bolts.length = 61 mm", HOLDS, NEW, 5, 5},
    {"shoulder-seat", "bolts", "bolts.length = 60.9 mm", CAUTION, BOTH, 4.9, 5},
    {"shoulder-seat", "bolts", "bolts.length = 56 mm", FAULT, BOTH, 0, 0},
    {"stripper-hung", "", "", HOLDS, NEW, ANY, ANY},
    {"stripper-hung", "", "bolts lay diagonal on stripper", FAULT, NEW, ANY, ANY},
    {"stripper-hung", "", "- bolts", FAULT, NEW, ANY, ANY},
    {"stripper-hung", "", "- bolts; stack.hung_by = \"lugs at both ends\"", NOTE, NEW, ANY, ANY},
    {"stripper-hung", "", "bolts lay diagonal on stripper; " MORE_BOLTS "more lay ends on stripper", HOLDS,
     NEW, ANY, ANY},
    {"stripper-hung", "", "bolts lay diagonal on stripper; " MORE_BOLTS "more lay one on stripper", CAUTION,
     NEW, ANY, ANY},
    /* 8 x 8 / 4 */
    {"shoulder-tension", "bolts", "factor screw_reserve = 10; springs.rate = 221.8 N/mm", HOLDS, NEW,
     16 * 221.8, 97 * 36.6},
    {"shoulder-tension", "bolts", "factor screw_reserve = 10; springs.rate = 222 N/mm", FAULT, NEW,
     16 * 222.0, 97 * 36.6},
    /* 20 - 7 - 13 */
    {"shoulder-thread", "bolts", "bolts.sunk = 7 mm", HOLDS, NEW, 0, 0},
    {"shoulder-thread", "bolts", "bolts.sunk = 7.1 mm", CAUTION, BOTH, -0.1, 0},
    /* M8 in the 20 of the stripper */
    {"shoulder-held", "bolts", "bolts.sunk = 12 mm", HOLDS, NEW, 8, 8},
    {"shoulder-held", "bolts", "bolts.sunk = 12.1 mm", FAULT, BOTH, 7.9, 8},
    {"cannot-judge", "bolts.carries", "bolts.sunk = 20 mm", FAULT, NEW, ANY, ANY},
    {"cannot-judge", "bolts.room", "bolts.length = 56 mm", FAULT, GROUND, ANY, ANY},
    {"shoulder-level", "", MORE_BOLTS "more lay one on stripper; more.length = bolts.length", HOLDS, NEW, 0,
     0},
    {"shoulder-level", "", MORE_BOLTS "more lay one on stripper; more.length = 60 mm", CAUTION, NEW, ANY, 0},
    {"shoulder-steps", "bolts", "", HOLDS, NEW, 2, 0},
    {"shoulder-steps", "bolts", WRONG_SCREW, FAULT, NEW, 0, 0},
    {"size-exists-shoulders", "bolts", "bolts.length = 80 mm", HOLDS, NEW, ANY, ANY},
    {"size-exists-shoulders", "bolts", "bolts.length = 81 mm", FAULT, NEW, ANY, ANY},

    /* ---- handling and the job -------------------------------------------------------------------------- */
    /* without what its holes take off it: bores of bushings, screws and shoulder screws with their
       counterbores, dowels, spring pockets, threads of clamps, by hand */
    {"lift-hole", "upper_shoe", "upper_shoe.thickness = 51.4 mm", HOLDS, NEW, ANY, ANY},
    {"lift-hole", "upper_shoe", "upper_shoe.thickness = 51.5 mm", NOTE, NEW,
     (280 * 250 * 51.5 - UPPER_TAKEN(51.5)) * 7.85e-9, 0.025},
    {"lift-hole", "upper_shoe", "upper_shoe.thickness = 51.5 mm; factor lift_mass = 25.1 kg", NOTE, NEW,
     (280 * 250 * 51.5 - UPPER_TAKEN(51.5)) * 7.85e-9, 0.025},
    {"lift-hole", "upper_shoe", "upper_shoe.thickness = 51.5 mm; factor lift_mass = 25 kg", CAUTION, NEW,
     (280 * 250 * 51.5 - UPPER_TAKEN(51.5)) * 7.85e-9, 0.025},
    {"lift-hole", "upper_shoe",
     "upper_shoe.thickness = 91 mm; + lift_holes eyes; eyes.tapped_in = upper_shoe", HOLDS, NEW, ANY, ANY},
    /* four slots of 18.5 by 40, round at their ends, are not lifted */
    {"lift-hole", "upper_shoe", SLOTS "slots.shoe = upper_shoe; upper_shoe.thickness = 53.8 mm", HOLDS, NEW,
     ANY, ANY},
    {"lift-hole", "upper_shoe", SLOTS "slots.shoe = upper_shoe; upper_shoe.thickness = 53.9 mm", NOTE, NEW,
     ((280 * 250 - 4 * (40 * 18.5 - (0.5 - PI / 8) * 18.5 * 18.5)) * 53.9 - UPPER_TAKEN(53.9)) * 7.85e-9,
     0.025},
    {"lift-set", "", "- set_holes; factor lift_mass = 71.3 kg", HOLDS, NEW, UPPER + LOWER, 0.0713},
    {"lift-set", "", "- set_holes; factor lift_mass = 71.2 kg", NOTE, NEW, UPPER + LOWER, 0.0712},
    {"lift-set", "", "set_holes.lifts = \"this plate\"; factor lift_mass = 71.2 kg", NOTE, NEW, UPPER + LOWER,
     0.0712},
    /* two legs that lean: the table's row for any lean, and not twice; upright each has its half; of four
       legs two count */
    {"eyebolt-load", "set_holes", "set_holes.rated = 71.3 kg", HOLDS, NEW, UPPER + LOWER, 0.0713},
    {"eyebolt-load", "set_holes", "set_holes.rated = 71.2 kg", FAULT, NEW, UPPER + LOWER, 0.0712},
    {"eyebolt-load", "set_holes", "set_holes.rated = 71.2 kg; set_holes.sling_angle = 45 deg", FAULT, NEW,
     UPPER + LOWER, 0.0712},
    {"eyebolt-load", "set_holes", "set_holes.rated = 71.2 kg; set_holes.sling_angle = 89.9 deg", FAULT, NEW,
     UPPER + LOWER, 0.0712},
    {"eyebolt-load", "set_holes", "set_holes.rated = 35.7 kg; set_holes.sling_angle = 90 deg", HOLDS, NEW,
     (UPPER + LOWER) / 2, 0.0357},
    {"eyebolt-load", "set_holes", "set_holes.rated = 35.6 kg; set_holes.sling_angle = 90 deg", FAULT, NEW,
     (UPPER + LOWER) / 2, 0.0356},
    {"eyebolt-load", "set_holes",
     "set_holes lay corners on lower_shoe; set_holes.lay.side = 30 mm; set_holes.rated = 71.2 kg", FAULT, NEW,
     ANY, ANY},
    {"eyebolt-load", "set_holes",
     "set_holes lay corners on lower_shoe; set_holes.lay.side = 30 mm; set_holes.rated = 35.7 kg; "
     "set_holes.spreader = yes",
     HOLDS, NEW, (UPPER + LOWER) / 2, ANY},
    {"eyebolt-load", "set_holes", "set_holes.lifts = \"the upper half\"; set_holes.rated = 37.1 kg", HOLDS,
     NEW, UPPER, ANY},
    {"eyebolt-load", "set_holes", "set_holes.lifts = \"this plate\"; set_holes.rated = 24.7 kg", FAULT, NEW,
     280 * 250 * 45 * 7.85e-9, ANY},
    /* its load 15 off the middle of two legs, one counts; 14 is 5 % of the shoe */
    {"eyebolt-load", "set_holes",
     "set_holes.rated = 71.2 kg; set_holes.sling_angle = 90 deg; set_holes.right.x = usual - 30 mm", FAULT,
     NEW, UPPER + LOWER, 0.0712},
    {"eyebolt-load", "set_holes",
     "set_holes.rated = 35.7 kg; set_holes.sling_angle = 90 deg; set_holes.right.x = usual - 27 mm", HOLDS,
     NEW, (UPPER + LOWER) / 2, ANY},
    /* M12 that stays carries 240, from the rack it counts as M10: 170. What hangs: 23.5 kg beside the lower
       shoe's 3.15 l */
    {"eyebolt-load", "set_holes", "set_holes.size = \"M12\"", HOLDS, NEW, UPPER + LOWER, 0.240},
    {"eyebolt-load", "set_holes", "set_holes.size = \"M12\"; set_holes.sling_angle = 90 deg", HOLDS, NEW,
     (UPPER + LOWER) / 2, 0.340},
    {"eyebolt-load", "set_holes", "set_holes.size = \"M12\"; set_holes.bolts = \"come from the rack\"", HOLDS,
     NEW, UPPER + LOWER, 0.170},
    {"eyebolt-least", "set_holes", "", HOLDS, NEW, 12, 12},
    {"eyebolt-least", "set_holes", "set_holes.bolts = \"come from the rack\"", HOLDS, NEW, 16, 12},
    /* 499.8 kg */
    {"eyebolt-least", "set_holes", HEAVY "143900 kg/m3", HOLDS, NEW, 16, 12},
    {"eyebolt-least", "set_holes", HEAVY "143900 kg/m3; set_holes.bolts = \"come from the rack\"", HOLDS, NEW,
     20, 12},
    /* 500.4 kg */
    {"eyebolt-least", "set_holes", HEAVY "144100 kg/m3", HOLDS, NEW, 20, 12},
    {"eyebolt-lean", "set_holes", "set_holes.sling_angle = 45 deg", HOLDS, NEW, ANY, ANY},
    {"eyebolt-lean", "set_holes", "set_holes.sling_angle = 44.9 deg", FAULT, NEW, ANY, ANY},
    {"eyebolts-alike", "set_holes", MORE_EYES "eyes.bolts = \"stay in this die\"", HOLDS, NEW, ANY, ANY},
    {"eyebolts-alike", "set_holes", MORE_EYES "eyes.bolts = \"come from the rack\"", CAUTION, NEW, ANY, ANY},
    {"eyebolt-thread", "set_holes", "set_holes.thread_depth = 18 mm", HOLDS, NEW, 18, 18},
    {"eyebolt-thread", "set_holes", "set_holes.thread_depth = 17.9 mm", FAULT, BOTH, 17.9, 18},
    {"eyebolt-thread", "set_holes", "lower_shoe.material = \"AW-7075-T651\"", FAULT, BOTH, 20.5, 24},
    {"eyebolt-metal", "set_holes", "", HOLDS, NEW, ANY, ANY},
    {"eyebolt-metal", "set_holes", "lower_shoe.material = \"AW-7075-T651\"", CAUTION, NEW, ANY, ANY},
    {"eyebolt-seat", "set_holes", "set_holes.thread_depth = 20.5 mm", HOLDS, NEW, 20.5, 20.5},
    {"eyebolt-seat", "set_holes", "set_holes.thread_depth = 20.4 mm", FAULT, BOTH, 20.4, 20.5},
    /* right through, and still too short */
    {"eyebolt-seat", "set_holes", "lower_shoe.thickness = 20 mm", FAULT, BOTH, 20, 20.5},
    {"eyebolt-least", "set_holes", "set_holes.size = \"M12\"", HOLDS, NEW, 12, 12},
    {"eyebolt-least", "set_holes", "set_holes.size = \"M10\"", NOTE, NEW, 10, 12},
    {"lift-level", "set_holes", "set_holes.right.x = usual - 28 mm", HOLDS, NEW, 14, 14},
    {"lift-level", "set_holes", "set_holes.right.x = usual - 28.2 mm", CAUTION, NEW, 14.1, 14},
    {"lift-level", "set_holes",
     "set_holes lay corners on upper_shoe; set_holes.lay.side = 30 mm; set_holes.spreader = yes; "
     "upper_shoe.offset_along = 28 mm",
     HOLDS, NEW, 28, 28},
    {"hole-depth", "pins", PINS "pins.seat_depth = 45 mm", HOLDS, NEW, ANY, ANY},
    {"hole-depth", "pins", PINS "pins.seat_depth = 45.1 mm", FAULT, BOTH, -0.1, 0},
    {"hole-size", "die_dowels", "die_dowels.diameter = 1.1 mm", HOLDS, NEW, ANY, ANY},
    {"hole-size", "die_dowels", "die_dowels.diameter = 1 mm", FAULT, NEW, 0, 0},
    {"unreasoned", "posts.length", "posts.length = 160 mm; posts.length.reason = it lies on the shelf", HOLDS,
     NEW, ANY, ANY},
    {"unreasoned", "posts.length", "posts.length = 160 mm", NOTE, NEW, ANY, ANY},
    {"unreasoned", "screw_reserve", "factor screw_reserve = 4", NOTE, NEW, ANY, ANY},
    {"weak-source", "", "", NOTE, NEW, ANY, ANY}, /* its other side: machine.c */
    /* 16 of 89 is 18 percent: 20 less a tenth */
    {"guess-decides", "springs.life_share", "stack.punch_regrind = 5 mm", HOLDS, NEW, ANY, ANY},
    {"guess-decides", "springs.life_share", "stack.punch_regrind = 5.1 mm", NOTE, NEW, ANY, ANY},
    /* fails, and says so itself */
    {"guess-decides", "springs.life_share", "stack.punch_regrind = 6.9 mm", HOLDS, NEW, ANY, ANY},

    /* ---- forming ------------------------------------------------------------------------------------ */
    {"form-work", "bend", BEND, HOLDS, NEW, ANY, ANY},
    {"form-work", "bend", BEND "bend.lay.across = 70 mm", FAULT, NEW, 1, ANY},
    {"form-clamp", "bend", BEND "bend.depth = 2.5 mm", HOLDS, NEW, ANY, ANY}, /* the travel is 3 */
    {"form-clamp", "bend", BEND "bend.depth = 2.6 mm", CAUTION, NEW, 0.4, ANY},
    {"form-clamp", "bend", BEND "bend.depth = 3.1 mm", FAULT, NEW, -0.1, ANY},
    {"form-clamp", "bend", BEND "bend.pad = \"a pad of its own\"", FAULT, NEW, ANY, ANY},
    {"form-clamp", "bend", BEND "bend.does = \"V bend\"; bend.pad = \"a pad of its own\"", HOLDS, NEW, ANY,
     ANY},
    {"form-unheld", "bend", BEND, HOLDS, NEW, ANY, ANY},
    {"form-unheld", "bend", BEND "bend.pad = \"nothing\"", FAULT, NEW, ANY, ANY},
    {"form-unheld", "bend", BEND "bend.pad = \"nothing\"; bend.pad_reason = \"a nib\"", NOTE, NEW, ANY, ANY},
    {"form-unheld", "bend", FIXED BEND, FAULT, NEW, ANY, ANY},
    {"form-unheld", "bend", FIXED BEND "bend.pad = \"a pad of its own\"; bend.goes = \"up\"", FAULT, NEW, ANY,
     ANY},
    {"form-pad", "bend", BEND "bend.free_force = 12.9 kN", HOLDS, NEW, ANY, ANY}, /* a third: 4.3 */
    {"form-pad", "bend", BEND "bend.free_force = 13.1 kN", CAUTION, NEW, SPRINGS * 8, 13100 / 3.0},
    {"form-holder", "bend", CUP "bend.height = 20 mm; springs.rate = 15 N/mm", HOLDS, NEW, ANY, ANY},
    {"form-holder", "bend", CUP "bend.height = 20 mm", CAUTION, NEW, ANY, 1.3},
    {"form-pad-springs", "bend", PAD, HOLDS, NEW, ANY, ANY},
    {"form-pad-springs", "bend", PAD "bend.pad_free = 38 mm; bend.pad_rate = 20 N/mm", FAULT, NEW, ANY, ANY},
    {"form-pad-springs", "bend", PAD "bend.depth = 13 mm", CAUTION, NEW, ANY, ANY},
    {"form-radius", "bend", BEND, HOLDS, NEW, ANY, ANY}, /* DC01 along its grain: 0.5 and 1 */
    {"form-radius", "bend", BEND "bend.radius = 0.9 mm", NOTE, NEW, 0.9, 1},
    {"form-radius", "bend", BEND "bend.radius = 0.5 mm", NOTE, NEW, 0.5, 1},
    {"form-radius", "bend", BEND "bend.radius = 0.45 mm", FAULT, NEW, 0.45, 0.5},
    {"form-radius", "bend", BEND "bend.radius = 0.2 mm; bend.lay.turn = 90 deg", NOTE, NEW, 0.2, 0.5},
    {"form-leg", "bend", BEND "bend.leg = 3 mm", HOLDS, NEW, ANY, ANY},
    {"form-leg", "bend", BEND "bend.leg = 2.9 mm", CAUTION, NEW, 2.9, 3},
    {"form-leg", "bend", BEND "bend.leg = 1.9 mm", FAULT, NEW, 1.9, 2},
    {"form-base", "bend", BEND "bend.does = \"U bend\"; bend.over = 7 mm", HOLDS, NEW, ANY, ANY},
    {"form-base", "bend", BEND "bend.does = \"U bend\"; bend.over = 6.9 mm", CAUTION, NEW, 2.9, 3},
    {"form-base", "bend", BEND "bend.does = \"U bend\"; bend.over = 4 mm", FAULT, NEW, 0, 0},
    {"form-depth", "bend", BEND "bend.depth = 7 mm", HOLDS, NEW, ANY, ANY},
    {"form-depth", "bend", BEND "bend.depth = 6.9 mm", CAUTION, NEW, 6.9, 7},
    {"form-springback", "bend", BEND "bend.bottoms = yes", HOLDS, NEW, ANY, ANY},
    {"form-springback", "bend", BEND, NOTE, NEW, ANY, ANY},
    {"form-draw", "bend", CUP "bend.height = 10 mm", HOLDS, NEW, ANY, ANY},
    {"form-draw", "bend", CUP "bend.height = 24 mm", CAUTION, NEW, ANY, 1.8}, /* 74.3 / 41 */
    {"form-draw", "bend", CUP "bend.height = 40 mm", FAULT, NEW, ANY, 2.2},
    {"form-draw-edge", "bend", CUP "bend.edge_radius = 4 mm", HOLDS, NEW, ANY, ANY},
    {"form-draw-edge", "bend", CUP "bend.edge_radius = 3.9 mm", CAUTION, NEW, 3.9, 4},
    {"form-draw-edge", "bend", CUP "bend.edge_radius = 10.1 mm", NOTE, NEW, 10.1, 10},
    {"form-draw-nose", "bend", CUP "bend.radius = 4 mm", HOLDS, NEW, ANY, ANY},
    {"form-draw-nose", "bend", CUP "bend.radius = 3.9 mm", CAUTION, NEW, 3.9, 4},
    {"form-draw-nose", "bend", CUP "bend.height = 4 mm; bend.radius = 4 mm", HOLDS, NEW, 4, ANY},
    {"form-draw-nose", "bend", CUP "bend.height = 4 mm; bend.radius = 4.1 mm", FAULT, NEW, 4.1, ANY},
    {"form-draw-nose", "bend", CUP "bend.radius = 60 mm", FAULT, NEW, 60, ANY},
    {"form-stroke", "bend", CUP "bend.height = 10 mm; press.stroke = 25 mm", HOLDS, NEW, ANY, ANY},
    {"form-stroke", "bend", CUP "bend.height = 10 mm; press.stroke = 24 mm", CAUTION, NEW, 24, 25},
    {"form-collar", "bend", COLLAR "bend.height = 4 mm", HOLDS, NEW, ANY, ANY}, /* (100 - 16) / (121 - 100) */
    {"form-collar", "bend", COLLAR "bend.height = 4.1 mm", CAUTION, NEW, 4.1, 4},
    {"form-collar", "bend", COLLAR "bend.hole = 10 mm", FAULT, NEW, ANY, ANY},
    {"form-collar", "bend", COLLAR "bend.hole = 0.9 mm", CAUTION, NEW, ANY, ANY},
    {"form-emboss", "bend", EMBOSS "bend.height = 2.5 mm", HOLDS, NEW, ANY, ANY}, /* 10 wide */
    {"form-emboss", "bend", EMBOSS "bend.height = 2.6 mm", CAUTION, NEW, 2.6, 2.5},
    {"form-emboss", "bend", EMBOSS "bend.height = 4.1 mm; bend.size = 20 mm", CAUTION, NEW, 4.1, 4},
    {"form-emboss", "bend", EMBOSS "bend.height = 5.1 mm", FAULT, NEW, 5.1, 5},
    {"form-rim", "bend", COLLAR, HOLDS, NEW, ANY, ANY},
    {"form-rim", "bend", COLLAR "bend.hole = 3.9 mm", CAUTION, NEW, 10 / 3.9, 2.5},
    {"form-rim", "bend", COLLAR "bend.hole = 2.8 mm", FAULT, NEW, 10 / 2.8, 3.5},
    /* by r = t (50 / Z - 1) a least radius of half a thickness is Z 33, two thirds of soft steel's 50:
       1 + 1.5 x 2 / 3 and 1 + 2.5 x 2 / 3; of three thicknesses a quarter */
    {"form-rim", "bend", COLLAR "strip.material = \"1.4301-C\"; bend.hole = 5 mm", HOLDS, NEW, 2, 2},
    {"form-rim", "bend", COLLAR "strip.material = \"1.4301-C\"; bend.hole = 4.9 mm", CAUTION, NEW, ANY, 2},
    {"form-rim", "bend", COLLAR "strip.material = \"1.4301-C\"; bend.hole = 3.7 mm", FAULT, NEW, ANY,
     8 / 3.0},
    {"form-rim", "bend", COLLAR "strip.material = \"EN AW-2024-T3\"; bend.hole = 7 mm", CAUTION, NEW, ANY,
     1.375},
    {"form-collar-hole", "bend", COLLARED "10 mm", HOLDS, NEW, ANY, ANY},
    {"form-collar-hole", "bend", COLLARED "9.8 mm", CAUTION, NEW, 10, ANY},
    {"form-collar-hole", "bend", COLLARED "10 mm; bend.lay.across = 0.2 mm", FAULT, NEW, 0, 0},
    {"form-hole", "bend", COLLARED "10 mm", HOLDS, NEW, ANY, ANY},
    {"form-hole", "bend", BOTTOMED "5 mm", HOLDS, NEW, ANY, ANY}, /* 20 less twice 5 are flat */
    {"form-hole", "bend", BOTTOMED "6 mm", NOTE, NEW, 2, 2.5},
    {"form-hole", "bend", BOTTOMED "6.1 mm", CAUTION, NEW, 1.95, 2},
    {"form-pierced", "bend", BOTTOMED "5 mm", HOLDS, NEW, ANY, ANY},
    {"form-pierced", "bend", BOTTOMED "5 mm; pierce.number = 3", CAUTION, NEW, 1, 0},
    {"form-draw-blank", "bend", CUP "bend.size = 10 mm; bend.height = 5 mm", HOLDS, NEW, ANY, ANY},
    {"form-draw-blank", "bend", CUP "bend.size = 20 mm; bend.height = 10 mm", FAULT, NEW, ANY, 24},
    {"form-v-leg", "bend", VEE "bend.leg = 6.4 mm", HOLDS, NEW, ANY, ANY}, /* 4, 0.5 and 0.9 over a V of 8 */
    {"form-v-leg", "bend", VEE "bend.leg = 6 mm", CAUTION, NEW, ANY, 5.4},
    {"form-v-leg", "bend", VEE "bend.leg = 4.5 mm", FAULT, NEW, ANY, 4},
    {"form-pad-way", "bend", PAD "bend.pad_height = 23 mm", HOLDS, BOTH, ANY, ANY},
    {"form-pad-way", "bend", PAD "bend.pad_height = 23.9 mm", CAUTION, GROUND, ANY, ANY},
    {"form-pad-way", "bend", PAD "bend.pad_height = 24.9 mm", FAULT, GROUND, ANY, ANY},
    {"form-channel", "bend", CHANNEL, HOLDS, NEW, ANY, ANY},
    {"form-channel", "bend", CHANNEL "bend.lay.turn = 90 deg", FAULT, NEW, ANY, ANY},
    {"form-side", "bend", CUP "bend.gap = 1.05 mm", HOLDS, NEW, ANY, ANY},
    {"form-side", "bend", CUP "bend.gap = 1.04 mm", CAUTION, NEW, 1.04, ANY},
    {"form-side", "bend", CUP "bend.gap = 0.94 mm", FAULT, NEW, 0.94, 0.95},
    {"form-held", "bend", BEND "bend.held = \"by its head\"; bend.head = 0 mm", FAULT, NEW, ANY, ANY},
    {"form-lifted", "bend", LIFTED "10 mm", HOLDS, NEW, ANY, ANY},
    {"form-lifted", "bend", LIFTED "9.9 mm", CAUTION, NEW, 9.9, ANY},
    {"form-lifted", "bend", LIFTED "9 mm", FAULT, NEW, 9, ANY},
    {"form-lifted", "bend", LIFTED "8 mm; bend.goes = \"up\"", FAULT, NEW, 8,
     ANY}, /* the punch stands 8 high */
    {"form-lifted", "bend", BEND "strip.lifted_by = \"rails\"", HOLDS, NEW, ANY, ANY},
    {"form-high", "bend", LIFTED "25 mm", HOLDS, NEW, ANY, ANY},
    {"form-high", "bend", LIFTED "25.1 mm", NOTE, NEW, 25.1, 25},
    {"form-opening", "bend", BEND "bend.opening_depth = 13.5 mm", HOLDS, BOTH, ANY,
     ANY}, /* 4 are ground off */
    {"form-opening", "bend", BEND "bend.opening_depth = 13.4 mm", CAUTION, GROUND, 0.4, ANY},
    {"form-opening", "bend", BEND "bend.opening_depth = 12.9 mm", FAULT, GROUND, -0.1, ANY},
    {"form-side", "bend", BEND "bend.gap = 0.95 mm", HOLDS, NEW, ANY, ANY},
    {"form-side", "bend", BEND "bend.gap = 0.94 mm", CAUTION, NEW, 0.94, ANY},
    {"form-side", "bend", BEND "bend.gap = 1.16 mm", CAUTION, NEW, 1.16, ANY},
    {"form-side", "bend", BEND "bend.gap = 0.79 mm", FAULT, NEW, 0.79, 0.8},
    {"form-clear", "bend", BEND "bend.clear = 0.5 mm", HOLDS, NEW, ANY, ANY},
    {"form-clear", "bend", BEND "bend.clear = 0.4 mm", CAUTION, NEW, 0.4, 0.5},
    {"form-cam", "bend", BEND "bend.angle = 90 deg", HOLDS, NEW, ANY, ANY},
    {"form-cam", "bend", BEND "bend.angle = 91 deg", FAULT, NEW, ANY, ANY},
    {"form-insert-floor", "bend", INSERT "bend.insert_depth = 21 mm", HOLDS, NEW, ANY, ANY}, /* 15 is open */
    {"form-insert-floor", "bend", INSERT "bend.insert_depth = 20.9 mm", CAUTION, NEW, 5.9, 6},
    {"form-insert-seat", "bend", INSERT, HOLDS, NEW, ANY, ANY},
    {"form-insert-seat", "bend", INSERT "bend.insert_screws = 0", FAULT, NEW, ANY, ANY},
    {"form-insert-seat", "bend", INSERT "bend.insert_screws = 1", CAUTION, NEW, ANY, ANY},
    {"form-insert-seat", "bend", INSERT "bend.insert_along = 24 mm", FAULT, NEW, ANY, ANY},
    {"form-insert-seat", "bend", INSERT "bend.insert_along = 29 mm", CAUTION, NEW, ANY, ANY},
    {"form-held", "bend", BEND, HOLDS, NEW, ANY, ANY},
    {"form-held", "bend", BEND "bend.held = \"otherwise\"", FAULT, NEW, ANY, ANY},
    {"form-held", "bend", BEND "bend.screws = 1", CAUTION, NEW, ANY, ANY},
    {"form-held", "bend", BEND "bend.does = \"emboss\"; bend.held = \"by its head\"; bend.head = 0 mm", FAULT,
     NEW, ANY, ANY},
    {"form-backed", "bend", BEND, HOLDS, NEW, ANY, ANY},
    {"form-backed", "bend", BEND "bend.backed = \"by nothing\"", CAUTION, NEW, ANY, ANY},
    {"form-backed", "bend", BEND "bend.backed = \"by nothing\"; bend.does = \"U bend\"", HOLDS, NEW, ANY,
     ANY},
    {"form-ground", "bend", BEND, HOLDS, GROUND, ANY, ANY},
    {"form-ground", "bend", BEND "bend.follows_grinding = no", FAULT, GROUND, ANY, ANY},
    {"form-height", "bend", BEND, HOLDS, BOTH, ANY, ANY},
    {"form-height", "bend", BEND "bend.free_force = 1000 kN", CAUTION, BOTH, ANY, ANY},
    {"form-bottom", "bend", BEND "bend.bottoms = yes; stack.stop_blocks = 100 mm", HOLDS, NEW, ANY, ANY},
    {"form-bottom", "bend", BEND "bend.bottoms = yes", CAUTION, NEW, ANY, ANY},
    {"form-steel", "bend", BEND, HOLDS, NEW, ANY, ANY},
    {"form-steel", "bend", BEND "bend.opening_depth = 5 mm", FAULT, NEW, 4, 0},
    {"form-steel", "bend", FORMED_AT_2 "3", HOLDS, NEW, ANY, ANY},
    {"form-hole", "bend", BEHIND "7.5 mm", HOLDS, NEW, ANY, ANY},
    {"form-hole", "bend", BEHIND "7.4 mm", NOTE, NEW, 2.4, 2.5},
    {"form-hole", "bend", BEHIND "6.9 mm", CAUTION, NEW, 1.9, 2},
    {"form-hole", "bend", BEHIND "5.9 mm", FAULT, NEW, 0.9, 1},
    {"form-later", "bend", FORMED_AT_2 "3; blank.lay.along = 0 mm; bend.line = 10 mm", HOLDS, NEW, ANY, ANY},
    {"form-later", "bend", FORMED_AT_2 "3; blank.lay.along = 0 mm; bend.line = 30 mm", FAULT, NEW, ANY, 0},
    {"form-relief", "bend", SLOTTED "pierce.across = 10 mm; bend.lay.across = -3.5 mm", HOLDS, NEW, ANY, ANY},
    {"form-relief", "bend", SLOTTED "pierce.across = 10 mm; bend.lay.across = -4.55 mm", CAUTION, NEW, ANY,
     1},
    {"form-relief", "bend", SLOTTED "pierce.across = 10 mm; bend.lay.across = -6 mm", FAULT, NEW, ANY, 0},
    {"form-tied", "bend", SLOTTED "pierce.across = 24 mm; strip.width = 20 mm; bend.lay.across = 0 mm", HOLDS,
     NEW, ANY, ANY},
    {"form-tied", "bend", SLOTTED "pierce.across = 10 mm; bend.lay.across = -3.5 mm", FAULT, NEW, ANY, 0},
    {"form-carried", "bend", FORMED_AT_2 "3", HOLDS, NEW, ANY, ANY},
    {"form-carried", "bend", FORMED_AT_2 "2", FAULT, NEW, 2, 3},

    /* ---- compound sets ------------------------------------------------------------------------------ */
    {"compound-stack", "", COMPOUND "", HOLDS, NEW, ANY, ANY},
    {"compound-stack", "", COMPOUND "blank_die.moves = \"with the bed\"", FAULT, NEW, ANY, ANY},
    {"compound-stack", "", COMPOUND "stripper.moves = \"with the bed\"", FAULT, NEW, ANY, ANY},
    {"compound-stack", "", COMPOUND "blank.does = \"pierce\"", FAULT, NEW, ANY, ANY},
    {"compound-entry", "", COMPOUND "blank_die.thickness = 35.2 mm", HOLDS, BOTH, ANY, ANY}, /* the gap: 35 */
    {"compound-entry", "", COMPOUND "blank_die.thickness = 35.1 mm", CAUTION, BOTH, 0.1, 0.2},
    {"compound-entry", "", COMPOUND "blank_die.thickness = 34.9 mm", FAULT, BOTH, -0.1, 0},
    {"compound-entry", "", COMPOUND "blank_die.thickness = 37.1 mm", CAUTION, BOTH, 2.1, 2},
    {"blank-die-hard", "", COMPOUND "blank_die.hardened = no; blank_die.soft_reason = \"ten parts\"", HOLDS,
     NEW, ANY, ANY},
    {"blank-die-hard", "", COMPOUND "blank_die.hardened = no", FAULT, NEW, ANY, ANY},
    {"blank-die-hard", "", COMPOUND "blank_die.hardness = \"48 HRC\"", FAULT, NEW, ANY, ANY},
    {"compound-work", "holes", COMPOUND "", HOLDS, NEW, ANY, ANY},
    {"compound-work", "holes", COMPOUND "holes.does = \"notch\"", FAULT, NEW, ANY, ANY},
    {"compound-inside", "holes", COMPOUND "holes.size = 8 mm", HOLDS, NEW, ANY, ANY},
    {"compound-inside", "holes", COMPOUND "holes.lay.apart = 51 mm", CAUTION, NEW, ANY, 3.75},
    {"compound-inside", "holes", COMPOUND "holes.lay.apart = 50 mm", HOLDS, NEW, ANY, 3.75},
    {"compound-inside", "holes", COMPOUND "holes.lay.apart = 53 mm; stack.land = 1.5 mm", HOLDS, NEW, ANY,
     2.25},
    {"compound-inside", "holes", COMPOUND "holes.lay.apart = 53.6 mm; stack.land = 1.5 mm", CAUTION, NEW, ANY,
     2.25},
    {"compound-inside", "holes", COMPOUND "holes.lay.apart = 60 mm", FAULT, NEW, ANY, 0},
    {"knock-out-there", "blank", COMPOUND "", HOLDS, NEW, ANY, ANY},
    {"knock-out-there", "blank", COMPOUND "- knock_out", FAULT, NEW, 0, 1},
    {"knock-out-laid", "knock_out", COMPOUND "", HOLDS, NEW, ANY, ANY},
    {"knock-out-laid", "knock_out", COMPOUND "knock_out.of = ", FAULT, NEW, ANY, ANY},
    {"knock-out-laid", "knock_out", COMPOUND "stack.blank_die = ", FAULT, NEW, ANY, ANY},
    {"knock-out-way", "knock_out", COMPOUND "knock_out.height = 33 mm", HOLDS, BOTH, 0.5, 0.5},
    {"knock-out-way", "knock_out", COMPOUND "knock_out.height = 33.1 mm", CAUTION, BOTH, 0.4, 0.5},
    {"knock-out-way", "knock_out", COMPOUND "knock_out.height = 33.6 mm", FAULT, BOTH, -0.1, 0},
    {"knock-out-way", "knock_out", COMPOUND "knock_out.spider_height = 43 mm", CAUTION, BOTH, ANY, ANY},
    {"knock-out-way", "knock_out", COMPOUND "knock_out.spider_height = 53 mm", FAULT, BOTH, ANY, ANY},
    {"knock-out-held", "knock_out", COMPOUND "knock_out.flange = 1.5 mm", HOLDS, NEW, ANY, ANY},
    {"knock-out-held", "knock_out", COMPOUND "knock_out.flange = 1.4 mm", CAUTION, NEW, ANY, ANY},
    {"knock-out-held", "knock_out", COMPOUND "knock_out.flange = 0 mm", FAULT, NEW, ANY, ANY},
    {"knock-out-land", "knock_out", COMPOUND "knock_out.flange_height = 23.7 mm", HOLDS, BOTH, ANY, ANY},
    {"knock-out-land", "knock_out", COMPOUND "knock_out.flange_height = 23.8 mm", CAUTION, GROUND, 4.4, 4.5},
    {"knock-out-land", "knock_out", COMPOUND "knock_out.flange_height = 32.3 mm", FAULT, BOTH, ANY, 0},
    {"knock-out-force", "knock_out", SPRUNG "30 N/mm; knock_out.spring_free = 51 mm", FAULT, NEW, ANY, ANY},
    {"knock-out-force", "knock_out", SPRUNG "800 N/mm", HOLDS, NEW, ANY, ANY},
    {"knock-out-pins", "knock_out", COMPOUND "knock_out.pin_circle = 57.9 mm", HOLDS, NEW, ANY, 0},
    {"knock-out-pins", "knock_out", COMPOUND "knock_out.pin_circle = 58.1 mm", FAULT, NEW, -0.1, 0},
    {"knock-out-pins", "knock_out", COMPOUND "knock_out.pins = 1", CAUTION, NEW, ANY, ANY},
    {"knock-out-pins", "knock_out", COMPOUND "knock_out.pin_circle = 0 mm", FAULT, NEW, ANY, ANY},
    {"knock-out-pins", "knock_out", COMPOUND "knock_out.spider = 20 mm", FAULT, NEW, ANY, ANY},
    {"knock-out-pins", "knock_out", COMPOUND "knock_out.stands = 0 mm", CAUTION, NEW, ANY, ANY},
    {"knock-out-pins", "knock_out", COMPOUND "knock_out.stands = 1.5 mm", HOLDS, NEW, ANY, ANY},
    {"knock-out-pins", "knock_out", COMPOUND "knock_out.stands = 1.6 mm", CAUTION, NEW, ANY, ANY},
    /* a knock-out for an opening of 64: 64 - 40 - 16; four holes of 16 on a circle of 40 stand 28.3 apart */
    {"knock-out-springs", "knock_out", PUSHED "48 mm", HOLDS, NEW, 0, 0},
    {"knock-out-springs", "knock_out", PUSHED "48.1 mm", FAULT, NEW, -0.1, 0},
    {"knock-out-springs", "knock_out", PUSHED "26.9 mm", HOLDS, NEW, ANY, ANY},
    {"knock-out-springs", "knock_out", PUSHED "26.8 mm", CAUTION, NEW, ANY, ANY},
    {"knock-out-springs", "knock_out", PUSHED "22.6 mm", FAULT, NEW, ANY, ANY},
    {"knock-out-springs", "knock_out", PUSHED "40 mm; knock_out.springs = 2", CAUTION, NEW, ANY, ANY},
    {"knock-out-springs", "knock_out", PUSHED "0 mm; knock_out.springs = 1", HOLDS, NEW, ANY, ANY},
    {"punch-behind", "holes", COMPOUND "", HOLDS, NEW, ANY, ANY},
    {"punch-behind", "holes", COMPOUND "- punch_backing", FAULT, NEW, ANY, 0},
    {"punch-behind", "holes", COMPOUND "- punch_backing; knock_out.spider = 33 mm", CAUTION, NEW, ANY, 0},
    {"compound-play", "", COMPOUND "", HOLDS, NEW, 0.3, ANY},
    {"compound-play", "", COMPOUND "factor window_play = 0.04 mm", CAUTION, NEW, 0.04, ANY},
    {"compound-play", "", COMPOUND "factor window_play = 0.8 mm", CAUTION, NEW, 0.8, ANY},
    {"compound-play", "", COMPOUND "factor window_play = 0 mm", FAULT, NEW, 0, ANY},
    {"compound-play", "", COMPOUND "factor knock_play = 0 mm", FAULT, NEW, 0.3, ANY},
    {"compound-play", "", COMPOUND "factor knock_play = 0.01 mm", CAUTION, NEW, 0.3, ANY},
    {"compound-play", "", COMPOUND "factor knock_play = 0.4 mm", CAUTION, NEW, 0.3, ANY},
    {"knock-out-taken", "knock_out", COMPOUND "", HOLDS, NEW, ANY, ANY},
    {"knock-out-taken", "knock_out", COMPOUND "knock_out.taken_by = \"not told\"", CAUTION, NEW, ANY, ANY},
    {"knock-out-taken", "knock_out", COMPOUND "knock_out.taken_by = \"by hand\"", CAUTION, NEW, ANY, ANY},
};

/* Beside its share of the bolster the load centre tells how far it is off, and on which side; by 11.22 to the
   right as it stands. */
static const struct {
    const char *edit, *tells;
} sides[] = {
    {"", "11.221 mm right, 0.0 mm"},
    {"stack.set_along = -30 mm; stack.set_across = -12.5 mm", "18.779 mm left, 12.5 mm front"},
    {"stack.set_across = 7 mm", "11.221 mm right, 7.0 mm back"},
    {"job.unit = \"in\"; stack.set_across = 25.4 mm", "0.4418 in right, 1.000 in back"},
};

/* What leaves many rules unjudged, and how many values it is named by: each rule counts under one of them. */
static const struct {
    const char *edit;
    int named;
} unknown[] =
    {
        {"die_plate.length = 1 mm / 0", 1}, {"die_screws.lay.end = 1 mm / 0", 1},
        {"posts.diameter = 33 mm", 1},      {"blank.along = 1 mm / 0", 1},
        {"die_screws.size = \"M77\"", 3}, /* the screw itself, its head, its drill: each has a table */
};

/* What a row is tried on: the small set, or after COMPOUND the start of that name. */
static struct bench bench, compound, *at = &bench;
static char *found, *found_compound; /* what stands against them untouched */

static void open_base(void)
{
    bench_open_shipped(&bench, "tests/findings/base.txt");
    bench_open_on(&compound, bench.h, "data/templates/compound.txt");
    found = bench_list(&bench);
    found_compound = bench_list(&compound);
}

static void close_base(void)
{
    free(found);
    free(found_compound);
    bench_leave(&compound);
    bench_close(&bench);
}

static void drop_try(void)
{
    bench_drop(&bench);
    bench_drop(&compound);
}

static struct bench *base_of(const struct row *r)
{
    return strncmp(r->edit, COMPOUND, strlen(COMPOUND)) == 0 ? &compound : &bench;
}

static void try_row(const struct row *r)
{
    at = base_of(r);
    bench_try(at, r->edit + (at == &compound ? strlen(COMPOUND) : 0));
}

static void near(const char *what, const struct row *r, double got, double wanted)
{
    if (!isnan(wanted))
        ck_assert_msg(fabs(got - wanted) <= 1e-4 * fmax(1, fabs(wanted)) && fabs(got - wanted) <= 0.51,
                      "%s after '%s': %s %.9g, not %.9g", r->rule, r->edit, what, got, wanted);
}

static void holds(const struct row *r)
{
    const struct finding *x = bench_find(at, r->rule, r->subject, NAN);
    ck_assert_msg(!x, "%s does not hold after '%s': %s", r->rule, r->edit, x ? x->message : "");
    struct finding s;
    int item = *r->subject ? dieset_find_item(at->d, r->subject) : -1;
    if (isnan(r->value) && isnan(r->limit))
        return;
    ck_assert_msg(findings_standing(at->f, r->rule, item, r->states == GROUND ? DIESET_GROUND : DIESET_NEW,
                                    &s),
                  "%s has no standing after '%s'", r->rule, r->edit);
    near("value", r, s.value, r->value);
    near("limit", r, s.limit, r->limit);
    ck_assert_msg(s.margin >= -1e-6 * fmax(1, fabs(s.limit)), "%s after '%s': margin %.9g", r->rule, r->edit,
                  s.margin);
}

static void fails(const struct row *r)
{
    static const enum handbook_grade grades[] = {0, HANDBOOK_NOTE, HANDBOOK_CAUTION, HANDBOOK_FAULT};
    const struct finding *x = bench_find(at, r->rule, r->subject, r->value);
    char *list = x ? NULL : bench_list(at);
    ck_assert_msg(x, "%s holds after '%s'; open are:\n%s", r->rule, r->edit, list);
    ck_assert_msg(x->grade == grades[r->outcome], "%s after '%s' is a %s", r->rule, r->edit,
                  handbook_grade_text(x->grade));
    ck_assert_msg(x->states == r->states, "%s after '%s' is told for states %d", r->rule, r->edit,
                  (int)x->states);
    near("value", r, x->value, r->value);
    near("limit", r, x->limit, r->limit);
    ck_assert(!x->measured || x->margin <= 1e-6);
}

/* A finding's sentence is whole: it begins with a capital or the item's title and ends in a full stop, and no
 * figure in it failed to print. */
static void speaks_in_whole_sentences(void)
{
    static const char *const slips[] = {"{", "}", "_", "nan", "inf", "..", "  ", " .", "--"};
    const struct finding *list;
    int n = findings_judge(at->f, &list);
    for (int i = 0; i < n; i++) {
        const char *m = list[i].message;
        size_t length = strlen(m);
        ck_assert_msg(length > 20 && m[length - 1] == '.', "%s: '%s'", list[i].rule, m);
        bool named = strcmp(list[i].rule, "unreasoned") == 0 || strcmp(list[i].rule, "weak-source") == 0 ||
                     strcmp(list[i].rule, "cannot-judge") == 0; /* these quote paths and tables */
        for (size_t k = 0; k < COUNT_OF(slips) && !named; k++)
            ck_assert_msg(!strstr(m, slips[k]), "%s has '%s': '%s'", list[i].rule, slips[k], m);
    }
}

/* Once the try is dropped the list is the one from before. */
static void leaves_no_trace(const struct row *r)
{
    bench_drop(at);
    char *after = bench_list(at);
    ck_assert_msg(strcmp(after, at == &compound ? found_compound : found) == 0, "after '%s' was dropped:\n%s",
                  r->edit, after);
    free(after);
}

START_TEST(a_rule_holds_just_inside_and_fails_just_outside)
{
    const struct row *r = &rows[_i];
    try_row(r);
    if (r->outcome == HOLDS)
        holds(r);
    else
        fails(r);
    speaks_in_whole_sentences();
    leaves_no_trace(r);
}
END_TEST

START_TEST(every_rule_holds_on_the_base)
{
    const struct finding *list;
    int n = findings_judge(bench.f, &list);
    for (int i = 0; i < n; i++)
        ck_assert_msg(strcmp(list[i].rule, "weak-source") == 0 || strcmp(list[i].rule, "guard-note") == 0,
                      "%s: %s", list[i].rule, list[i].message);
    ck_assert_str_eq(findings_unbound(bench.f), "");
}
END_TEST

/* The finding says which guess it leans on; a figure that is typed is none. */
START_TEST(a_finding_tells_the_guess_that_it_leans_on)
{
    bench_try(&bench, "stack.punch_regrind = 6.9 mm");
    const struct finding *x = bench_find(&bench, "spring-travel", "springs", NAN);
    ck_assert_ptr_nonnull(x);
    ck_assert_ptr_nonnull(strstr(x->message, " Leans on "));
    ck_assert_ptr_nonnull(strstr(x->message, "(estimate, +- 10 %)"));
    bench_drop(&bench);
    bench_try(&bench, "springs.rate = 54.7 N/mm");
    x = bench_find(&bench, "spring-force", "", NAN);
    ck_assert_ptr_nonnull(x);
    ck_assert_msg(!strstr(x->message, "spring rate"), "%s", x->message);
}
END_TEST

/* By hand: springs of 89 are pressed together by 8 and the travel, 3 and the regrinding, so with 6.8 by 17.8,
   a fifth of their length, which is their most; with d less by d / 17.8 less. What is left is told with as
   many digits as tell it from none. */
START_TEST(a_guess_tells_how_near_the_limit_is)
{
    static const struct {
        const char *edit, *says;
    } nearness[] = {
        {"stack.punch_regrind = 6.8 mm", "spring-travel of springs, just at its limit"},
        {"stack.punch_regrind = 6.7997 mm", "spring-travel of springs, by 0.002 %."}, /* 0.00169 */
        {"stack.punch_regrind = 6.79 mm", "spring-travel of springs, by 0.06 %."},    /* 0.0562 */
        {"stack.punch_regrind = 6.74 mm", "spring-travel of springs, by 0.3 %."},     /* 0.337 */
        {"stack.punch_regrind = 6.5 mm", "spring-travel of springs, by 1.7 %."},      /* 1.685 */
    };
    for (size_t i = 0; i < COUNT_OF(nearness); i++) {
        bench_drop(&bench);
        bench_try(&bench, nearness[i].edit);
        const struct finding *x = bench_find(&bench, "guess-decides", "springs.life_share", NAN);
        ck_assert_ptr_nonnull(x);
        ck_assert_msg(strstr(x->message, nearness[i].says) != NULL, "%s: %s", nearness[i].edit, x->message);
    }
}
END_TEST

START_TEST(each_rule_of_the_handbook_has_rows_on_both_sides)
{
    struct base_text missing = {0};
    for (int i = 0; i < handbook_rule_count(bench.h); i++) {
        const char *name = handbook_rule(bench.h, i)->name;
        int inside = 0, outside = 0;
        for (size_t k = 0; k < COUNT_OF(rows); k++)
            if (strcmp(rows[k].rule, name) == 0)
                rows[k].outcome == HOLDS ? inside++ : outside++;
        if ((!inside && strcmp(name, "weak-source") != 0) || !outside)
            base_text_addf(&missing, " %s", name);
    }
    ck_assert_msg(!missing.length, "no rows for:%s", base_text_get(&missing));
    base_text_done(&missing);
}
END_TEST

/* The flange and, standing on it, the clamps of a post: without a height they are not held against anything,
   which is told once. */
START_TEST(a_body_that_is_not_known_is_told)
{
    bench_try(&bench,
              "posts.form = \"flanged\"; posts.flange_height = 1 mm / 0; bushings.clamp_height = 91.1 mm");
    const struct finding *x = bench_find(&bench, "cannot-judge", "posts.flange_height", NAN);
    ck_assert_ptr_nonnull(x);
    ck_assert_int_eq(x->grade, HANDBOOK_FAULT);
    ck_assert_int_eq(x->states, BOTH);
    ck_assert_ptr_nonnull(strstr(x->message, "rule \"bodies\" cannot be judged"));
    ck_assert_ptr_null(bench_find(&bench, "bodies-meet", "posts", NAN));
}
END_TEST

/* Eyebolts from the rack are not bought with the die; those that stay are. Either way the papers tell, and
   the hole is made for them. */
START_TEST(eyebolts_are_ordered_where_they_stay)
{
    static const struct {
        const char *edit, *thread, *ordered, *told;
    } ways[] = {
        {"set_holes.bolts = \"come from the rack\"", "M16", NULL,
         "2 eyebolts from the rack, one thread larger"},
        {"set_holes.bolts = \"stay in this die\"", "M12", "M12",
         "2 eyebolts that stay in this die; the whole set"},
    };
    struct dieset_orders orders;
    struct base_text stamp = {0};
    bench_try(&bench, ways[_i].edit);
    int item = dieset_find_item(bench.d, "set_holes"), holes = 0;
    const char *ordered = NULL;
    for (int h = 0; h < dieset_hole_count(bench.d); h++) {
        struct dieset_hole hole;
        dieset_hole(bench.d, h, DIESET_NEW, &hole);
        if (hole.item == item) {
            ck_assert_str_eq(hole.thread, ways[_i].thread);
            holes++;
        }
    }
    ck_assert_int_eq(holes, 2);
    dieset_orders(bench.d, &orders);
    for (int i = 0; i < orders.count; i++)
        if (orders.at[i].item == item)
            ordered = orders.at[i].size;
    ck_assert_pstr_eq(ordered, ways[_i].ordered);
    dieset_orders_free(&orders);
    ck_assert(dieset_stamp(bench.d, item, &stamp));
    ck_assert_msg(strstr(base_text_get(&stamp), ways[_i].told), "%s", base_text_get(&stamp));
    base_text_done(&stamp);
}
END_TEST

/* ---- masses: halves, set, order list and each item tell the same --------------------------------------- */

#define ALL_SORTS                                                                                       \
    "+ pilots pins; pins lay one on die_plate; + risers risers; + clamp_slots slots; slots.shoe = "     \
    "lower_shoe; "                                                                                      \
    "+ lifters lifts; lifts.seat_in = lower_shoe; lifts lay ends on die_plate; lifts.lay.end = 40 mm; " \
    "+ sub_posts guides; guides lay corners on punch_plate; guides.lay.side = 40 mm; posts.form = "     \
    "\"flanged\"; springs.one_mass = 123 g"

static double mass_of(int item)
{
    double mass = dieset_number(bench.d, item, "mass", DIESET_NEW);
    return isnan(mass) ? 0 : mass;
}

START_TEST(order_list_and_masses_agree_to_the_gram)
{
    static const char *const edits[] = {
        "", ALL_SORTS, "blank.does = \"form\"; stripper.moves = \"with the bed\"; - springs; - bolts"};
    static const double gram = 1e-6;
    struct dieset_orders orders;
    bench_try(&bench, edits[_i]);
    double ordered[500] = {0}, sum = 0, apart = 0;
    dieset_orders(bench.d, &orders);
    for (int i = 0; i < orders.count; i++) /* lines of like parts are joined: both sides are told by kind */
        ordered[dieset_item_kind(bench.d, orders.at[i].item)] += orders.at[i].pieces * orders.at[i].mass;
    dieset_orders_free(&orders);
    for (int k = 0; k < handbook_kind_count(bench.h); k++) {
        const struct handbook_kind *kind = handbook_kind(bench.h, k);
        double own = 0;
        for (int i = 0; i < dieset_item_count(bench.d); i++)
            own += dieset_item_kind(bench.d, i) == k ? mass_of(i) : 0;
        if (strcmp(kind->name, "risers") == 0) /* under the set, and in no mass of it: the papers name them */
            apart += ordered[k];
        else
            ck_assert_msg(fabs(own - ordered[k]) < gram, "%s weigh %.9g t, ordered %.9g", kind->plural, own,
                          ordered[k]);
        sum += own;
    }
    int stack = dieset_find_item(bench.d, "stack");
    ck_assert_double_eq_tol(dieset_number(bench.d, stack, "whole_mass", DIESET_NEW), sum, gram);
    ck_assert_double_eq_tol(dieset_number(bench.d, stack, "upper_mass", DIESET_NEW) +
                                dieset_number(bench.d, stack, "lower_mass", DIESET_NEW),
                            sum, gram);
    ck_assert(_i != 1 || apart > gram);
}
END_TEST

/* A kind that weighs says what it moves with, and so is counted; what the order list weighs its kind weighs
   too. */
START_TEST(a_kind_that_weighs_is_counted)
{
    for (int k = 0; k < handbook_kind_count(bench.h); k++) {
        const struct handbook_kind *kind = handbook_kind(bench.h, k);
        bool weighs = handbook_find_property(kind, "mass") >= 0;
        ck_assert_msg(!weighs || handbook_find_property(kind, "rides") >= 0,
                      "%s have a mass, and do not say what they move with", kind->plural);
        for (int o = 0; o < kind->n_orders; o++)
            ck_assert_msg(!kind->orders[o].mass || weighs || strcmp(kind->name, "risers") == 0,
                          "%s weigh in the order list alone", kind->plural);
    }
}
END_TEST

/* A shop's own kinds: one that weighs and rides is counted, one that only weighs is told to be left out,
   bought or not. */
START_TEST(a_kind_of_a_shop_is_counted_or_told)
{
    static const char chutes[] = "kind chute\n  plural chutes\n  help A chute.\n  asked weighs : mass = 3 "
                                 "kg\n  follows mass : mass = weighs\n"
                                 "  follows rides : text = \"with the bed\"\n"
                                 "kind cover\n  plural covers\n  help A cover.\n  follows mass : mass = 2 "
                                 "kg\n  follows rides : text = \"with the slide\"\n"
                                 "kind box\n  plural boxes\n  help A box.\n  asked mass : mass = 7 kg\n  "
                                 "order Box\n    pieces 1\n    mass mass\n"
                                 "kind plug\n  plural plugs\n  help A plug.\n  asked mass : mass = 1 kg\n";
    glob_t files;
    struct bench own = {0};
    struct base_text said = {0};
    char *job = read_text("tests/findings/base.txt");
    ck_assert_int_eq(glob("data/handbook/*.txt", 0, NULL, &files), 0);
    char **texts = base_alloc((files.gl_pathc + 1) * sizeof *texts),
         **names = base_alloc((files.gl_pathc + 1) * sizeof *names);
    for (size_t i = 0; i < files.gl_pathc; i++) {
        texts[i] = read_text(files.gl_pathv[i]);
        names[i] = base_copy(strrchr(files.gl_pathv[i], '/') + 1);
    }
    texts[files.gl_pathc] = base_copy(chutes);
    names[files.gl_pathc] = base_copy("chutes.txt");
    bench_open_texts(&own, (const char *const *)texts, (const char *const *)names, (int)files.gl_pathc + 1,
                     "data", job);
    int stack = dieset_find_item(own.d, "stack");
    double upper = dieset_number(own.d, stack, "upper_mass", DIESET_NEW),
           lower = dieset_number(own.d, stack, "lower_mass", DIESET_NEW);
    bench_try(&own, "+ chute slide; + cover lid; + box crate; + plug bung");
    stack = dieset_find_item(own.d, "stack");
    ck_assert_double_eq_tol(dieset_number(own.d, stack, "lower_mass", DIESET_NEW) - lower, 0.003, 1e-9);
    ck_assert_double_eq_tol(dieset_number(own.d, stack, "upper_mass", DIESET_NEW) - upper, 0.002, 1e-9);
    ck_assert(dieset_uncounted(own.d, &said));
    ck_assert_msg(strstr(base_text_get(&said), "Box (crate)") && strstr(base_text_get(&said), "bung") &&
                      !strstr(base_text_get(&said), "slide") && !strstr(base_text_get(&said), "lid"),
                  "%s", base_text_get(&said));
    for (size_t i = 0; i <= files.gl_pathc; i++) {
        free(texts[i]);
        free(names[i]);
    }
    free(texts);
    free(names);
    free(job);
    globfree(&files);
    base_text_done(&said);
    bench_close(&own);
}
END_TEST

START_TEST(the_load_centre_tells_its_side)
{
    struct finding x;
    bench_try(&bench, sides[_i].edit);
    ck_assert(findings_standing(bench.f, "load-centre", -1, DIESET_NEW, &x));
    ck_assert_str_eq(x.message, sides[_i].tells);
}
END_TEST

START_TEST(what_cannot_be_judged_names_the_value_behind_it)
{
    const struct finding *list;
    bench_try(&bench, unknown[_i].edit);
    int n = findings_judge(bench.f, &list), unjudged = 0;
    for (int i = 0; i < n; i++) {
        bool is = strcmp(list[i].rule, FINDINGS_UNJUDGED) == 0;
        unjudged += is;
        ck_assert_msg(!is || list[i].cause >= 0, "%s: %s", unknown[_i].edit, list[i].message);
    }
    ck_assert_int_eq(unjudged, unknown[_i].named);
}
END_TEST

/* A hair under or over the limit: the sentence and the figures beside it still tell the one from the
   other. */
static const struct {
    const char *edit, *rule, *subject, *value, *limit;
} hairs[] = {
    {"stack.margin_out = 35.4999 mm", "opening-wall-straight", "blank", "37.4999 mm", "37.5 mm"},
    {"strip.pitch = 20.9996 mm", "strip-bridge", "", "0.9996 mm", "1.0 mm"},
    {"stack.set_across = -40.01 mm", "load-centre", "", "10.003", "10"}, /* percent of the bolster */
    {"blank.lay.across = 64.9997 mm + 0.0002 mm", "opening-wall-straight", "blank", "0.0001 mm", "37.5 mm"},
    {"job.unit = \"in\"; strip.pitch = 20.9996 mm", "strip-bridge", "", "0.03935 in", "0.03937 in"},
};

START_TEST(a_finding_tells_its_value_from_its_limit)
{
    char value[60], limit[60];
    bench_try(&bench, hairs[_i].edit);
    const struct finding *x = bench_find(&bench, hairs[_i].rule, hairs[_i].subject, NAN);
    ck_assert_ptr_nonnull(x);
    ck_assert_msg(strstr(x->message, hairs[_i].value) && strstr(x->message, hairs[_i].limit), "%s",
                  x->message);
    findings_print(bench.d, x, x->value, value, sizeof value);
    findings_print(bench.d, x, x->limit, limit, sizeof limit);
    ck_assert_str_ne(value, limit);
    ck_assert_msg(strncmp(value, hairs[_i].value, strlen(hairs[_i].value)) == 0, "%s", value);
    findings_print(bench.d, x, x->margin, value, sizeof value);
    ck_assert_msg(strtod(value, NULL) < 0, "%s", value);
}
END_TEST

/* ---- what is taken out of a start is asked for at once ------------------------------------------------ */

static int faults_now(struct bench *b)
{
    const struct finding *list;
    int n = findings_judge(b->f, &list), faults = 0;
    for (int i = 0; i < n; i++)
        faults += list[i].grade == HANDBOOK_FAULT;
    return faults;
}

static const char *const starts[] = {"spring-stripper", "spring-stripper-inch", "fixed-stripper",
                                     "one-station",     "notch-and-part",       "compound"};

/* Posts go with the bushings that are named after them. */
START_TEST(what_is_taken_out_of_a_start_is_missed)
{
    static const char *const joining[] = {"posts",   "bushings",        "screws",     "dowels",
                                          "springs", "shoulder_screws", "guide_pins", "risers"};
    struct bench own = {0};
    char file[80], edit[120];
    int tried = 0;
    snprintf(file, sizeof file, "data/templates/%s.txt", starts[_i]);
    bench_open_shipped(&own, file);
    ck_assert_int_eq(faults_now(&own), 0);
    for (int i = 0; i < dieset_item_count(own.d); i++) {
        const char *name = dieset_item_name(own.d, i);
        int kind = dieset_item_kind(own.d, i);
        bool joins = false, posts = kind == handbook_find_kind(own.h, "posts");
        for (size_t k = 0; k < COUNT_OF(joining); k++)
            joins = joins || kind == handbook_find_kind(own.h, joining[k]);
        if (!joins)
            continue;
        snprintf(edit, sizeof edit, "%s- %s", posts ? "- bushings; " : "", name);
        bench_try(&own, edit);
        ck_assert_msg(faults_now(&own) > 0, "%s without %s has no fault", file, name);
        bench_drop(&own);
        tried++;
    }
    ck_assert_int_ge(tried, 7);
    bench_close(&own);
}
END_TEST

/* A round blanking punch of a compound set is turned from a bar: pi / 4 of its block. */
START_TEST(a_round_blanking_punch_is_ordered_as_a_bar)
{
    for (int round = 0; round < 2; round++) {
        struct dieset_orders orders;
        int bars = 0;
        bench_try(&compound, round ? "blank.shape = \"round\"; blank.size = 80 mm" : "blank.across = 60 mm");
        int punch = dieset_find_item(compound.d, "blank_punch");
        dieset_orders(compound.d, &orders);
        for (int i = 0; i < orders.count; i++)
            bars += orders.at[i].item == punch && strstr(orders.at[i].designation, "Round bar");
        dieset_orders_free(&orders);
        ck_assert_int_eq(bars, round);
        double along = dieset_number(compound.d, punch, "length", DIESET_NEW),
               across = dieset_number(compound.d, punch, "width", DIESET_NEW);
        double block = along * across * dieset_number(compound.d, punch, "thickness", DIESET_NEW) *
                       dieset_number(compound.d, punch, "density", DIESET_NEW);
        ck_assert_double_eq_tol(dieset_number(compound.d, punch, "mass", DIESET_NEW) / block,
                                round ? PI / 4 : 1, 1e-9);
        bench_drop(&compound);
    }
}
END_TEST

TCase *rule_tests(void)
{
    TCase *c = tcase_create("rules");
    tcase_set_timeout(c, 60);
    tcase_add_unchecked_fixture(c, open_base, close_base);
    tcase_add_checked_fixture(c, NULL, drop_try);
    tcase_add_test(c, every_rule_holds_on_the_base);
    tcase_add_test(c, a_finding_tells_the_guess_that_it_leans_on);
    tcase_add_test(c, a_guess_tells_how_near_the_limit_is);
    tcase_add_test(c, each_rule_of_the_handbook_has_rows_on_both_sides);
    tcase_add_loop_test(c, a_rule_holds_just_inside_and_fails_just_outside, 0, (int)COUNT_OF(rows));
    tcase_add_test(c, a_body_that_is_not_known_is_told);
    tcase_add_loop_test(c, eyebolts_are_ordered_where_they_stay, 0, 2);
    tcase_add_loop_test(c, a_finding_tells_its_value_from_its_limit, 0, (int)COUNT_OF(hairs));
    tcase_add_loop_test(c, order_list_and_masses_agree_to_the_gram, 0, 3);
    tcase_add_test(c, a_kind_that_weighs_is_counted);
    tcase_add_test(c, a_round_blanking_punch_is_ordered_as_a_bar);
    tcase_add_loop_test(c, what_is_taken_out_of_a_start_is_missed, 0, (int)COUNT_OF(starts));
    tcase_add_test(c, a_kind_of_a_shop_is_counted_or_told);
    tcase_add_loop_test(c, the_load_centre_tells_its_side, 0, (int)COUNT_OF(sides));
    tcase_add_loop_test(c, what_cannot_be_judged_names_the_value_behind_it, 0, (int)COUNT_OF(unknown));
    return c;
}
