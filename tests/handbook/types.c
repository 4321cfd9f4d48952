/* Formulas: every place where one stands is held to its declared type, and to the names that are known
   there. */

#include "book.h"

#include <string.h>

#define RULE(over, lines) "rule r\n  " over "\n" lines "  says x\n"
#define IN_KIND(lines)                                                                                    \
    "kind k\n  lay\n  asked at_plate : plate\n  asked many : count = 2\n  asked a : length\n  asked f : " \
    "force\n  asked t : text\n" lines
#define HOLE(lines) IN_KIND("  hole tap\n" lines)

/* A formula that is at fault, the line it stands in, and what is marked in it; SAYS NULL: sound. */
static const struct { const char *text; int line; const char *mark, *says;
} formulas[] = {
    /* factors, functions */
    {"factor a : length = 3 N\n", 1, "3 N", "length"},
    {"factor a : length = 3\n", 1, "3", "length"},
    {"factor a : length = 0\n", 0, "", NULL},
    {"factor a : length = 1 mm\n  range 1 .. 2 mm\n", 2, "1", "length"},
    {"factor a : length = 1 mm\n  range 1 mm .. 2 N\n", 2, "2 N", "length"},
    {"factor a : number = wnted\n", 1, "wnted", "wanted"},
    {"factor a : number = 2 * b\nfactor b : number = 3 * a\n", 1, "b", "circle"},
    {"factor a : number = 1 / 0\n", 1, "1 / 0", "division by zero"},
    {"factor b : number = 3 * wanted\n", 0, "", NULL},
    {"function f\n  takes a : length\n  gives force = a\n", 3, "a", "force"},
    {"function f\n  takes a : length = 3 N\n  gives length = a\n", 2, "3 N", "length"},
    {"function f\n  takes a : length\n  let b = a + 3 N\n  gives length = a\n", 3, "a + 3 N", "added"},
    {"function f\n  takes a : length\n  let b = c\n  let c = a\n  gives length = b\n", 3, "c",
     "There is no \"c\""},
    {"function f\n  takes a : length\n  gives length = thickness\n", 3, "thickness",
     "There is no \"thickness\""},
    {"function f\n  takes p : plate\n  gives length = p.thicknes\n", 3, "p.thicknes", "near it: thickness"},
    {"function f\n  takes p : plate\n  gives length = total(plate.thickness, order > p.order)\n", 0, "",
     NULL},
    {"function f\n  takes a : length\n  gives length = f(a)\n", 3, "f(a)", "calls itself"},
    {"function f\n  takes a : length\n  gives length = other(a)\nfunction other\n  takes a : length\n  gives "
     "length = f(a)\n",
     3, "other(a)", "calls itself"},
    {"function f\n  takes a : length\n  gives length = mass_of(a)\n", 3, "mass_of(a)", "length"},
    {"function f\n  takes a : length\n  gives mass = mass_of(a, 1 mm, 2 mm, 3 mm)\n", 3, NULL, ""},
    {"function f\n  takes a : length\n  gives mass = mass_of(a, hight: 2 mm)\n", 3, NULL, "hight"},
    {"function f\n  takes a : length\n  gives length = turned(a)\n", 3, "turned(a)",
     "There is no function turned()"},
    {"function f\n  takes group : screws\n  gives length = group.turned_miss\n", 3, "group.turned_miss",
     "screws"},
    {"function f\n  takes p : plate\n  gives length = p.turned_miss\n", 3, "p.turned_miss",
     "worked out by geometry"},
    {"function f\n  gives number = sin(30)\n", 2, NULL, "30 deg"},
    /* patterns */
    {"pattern p\n  takes a : length\n  point q\n    x = a\n    y = 3 N\n", 5, "3 N", "length"},
    {"pattern p\n  takes a : length\n  point q\n    x = a\n    y = a\n    turn = 3\n", 6, "3", "angle"},
    {"pattern p\n  takes a : length\n  point q\n    x = a + index * 1 mm\n    y = a\n", 4, "index",
     "There is no \"index\""},
    {"pattern p\n  takes a : length\n  repeat a\n    x = a\n    y = a\n", 3, "a", "number"},
    {"pattern p\n  takes a : length\n  repeat 3\n    x = right - index * a\n    y = middle_y + width / 4\n",
     0, "", NULL},
    {"pattern p\n  takes a : length = 1 N\n  point q\n    x = a\n    y = a\n", 2, "1 N", "length"},
    /* properties */
    {IN_KIND("  usual b : length = f\n"), 8, "f", "length"},
    {IN_KIND("  asked b : length = 25\n"), 8, "25", "length"},
    {IN_KIND("  follows b : length = at_plate.thickness + f / (3 N/mm)\n"), 0, "", NULL},
    {IN_KIND("  follows b : length = at_plate.thickness + f\n"), 8, "at_plate.thickness + f", "added"},
    {IN_KIND("  follows b : length = at_plate.size\n"), 8, "at_plate.size", "The kind plate has no \"size\""},
    {IN_KIND("  follows b : length = a.thickness\n"), 8, "a.thickness", "is no item"},
    {IN_KIND("  follows b : length = plate.thickness\n"), 8, "plate.thickness", "There is no \"plate\""},
    {IN_KIND("  follows b : length = stack.high\n"), 0, "", NULL},
    {IN_KIND("  follows b : length = stack.top.thickness + stack.hihg\n"), 8, "stack.hihg", "near it: high"},
    {IN_KIND("  follows b : number = points + order + ground\n"), 0, "", NULL},
    {IN_KIND("  follows b : length = mean_x - mean_y\n"), 0, "", NULL},
    {"kind k\n  follows b : number = points\n", 2, "points", "There is no \"points\""},
    {IN_KIND("  follows b : length = x\n"), 8, "x", "There is no \"x\""},
    {IN_KIND("  measure miss : length\n  follows b : length = miss\n"), 9, "miss", "worked out by geometry"},
    {IN_KIND("  follows b : length = this.a + this.many * 1 mm\n"), 0, "", NULL},
    {IN_KIND("  asked c : count = 2 mm\n"), 8, "2 mm", "number"},
    {IN_KIND("  asked c : yesno = 1\n"), 8, "1", "yes or no"},
    {IN_KIND("  asked c : choice = 1\n    choices \"x\"\n"), 8, "1", "text"},
    {IN_KIND("  usual c : plate = stack\n"), 0, "", NULL},
    {IN_KIND("  asked c : length\n    range 1 mm .. 2 N\n"), 9, "2 N", "length"},
    /* both arms, whatever the condition */
    {IN_KIND("  usual b : length = if(many > 2, a, f)\n"), 8, NULL, "chosen between"},
    {IN_KIND("  usual b : length = if(count(screws) > 0, a, f)\n"), 8, "if(", "length"},
    {IN_KIND("  usual b : length = if(count(screws) = 0, f, a)\n"), 8, "if(", "length"},
    {IN_KIND("  usual b : length = if(count(screws) > 0, a, nonesuch)\n"), 8, "nonesuch",
     "There is no \"nonesuch\""},
    {IN_KIND("  usual b : length = if(count(screws) = 0, nonesuch, a)\n"), 8, "nonesuch",
     "There is no \"nonesuch\""},
    {IN_KIND("  usual b : length = if(count(screws, head_in = at_plate) > 0, a, nonesuch)\n"), 8, "nonesuch",
     "There is no"},
    {IN_KIND("  usual b : length = if(at_plate = stack.top, a, nonesuch)\n"), 8, "nonesuch", "There is no"},
    {IN_KIND("  usual b : length = if(at_plate != stack.top, a, nonesuch)\n"), 8, "nonesuch", "There is no"},
    {IN_KIND("  usual b : length = if(at_plate.moves = \"bed\", nonesuch, a)\n"), 8, "nonesuch",
     "There is no"},
    {IN_KIND("  usual b : length = if(at_plate.moves = \"bed\", a, nonesuch)\n"), 8, "nonesuch",
     "There is no"},
    {IN_KIND("  usual b : yesno = at_plate = stack.top and nonesuch\n"), 8, "nonesuch", "There is no"},
    {IN_KIND("  usual b : yesno = count(screws) = 0 or nonesuch\n"), 8, "nonesuch", "There is no"},
    /* picks */
    {IN_KIND("  follows b : length = total(plate.thickness, moves = \"bed\", order > at_plate.order)\n"), 0,
     "", NULL},
    {IN_KIND("  follows b : length = total(plate.thickness, moves = 3)\n"), 8, NULL, "compared"},
    {IN_KIND("  follows b : length = total(plate.thick)\n"), 8, "plate.thick", "thick"},
    {IN_KIND("  follows b : length = total(plates.thickness)\n"), 8, "plates.thickness",
     "There is no table or kind \"plates\""},
    {IN_KIND("  follows b : length = total(plate.steel)\n"), 8, "plate.steel", "no number"},
    /* holes */
    {HOLE("    in a\n    diameter = a\n"), 9, "a", NULL},
    {HOLE("    in stack\n    diameter = a\n"), 9, "stack", "another kind"},
    {HOLE("    in at_plate\n    diameter = f\n"), 10, "f", "length"},
    {HOLE("    in at_plate\n    diameter = a\n    depth = plate.thickness - f\n"), 11, "plate.thickness - f",
     "subtracted"},
    {HOLE("    in at_plate\n    diameter = a\n    x = x + index * a\n    y = y - point_y\n    repeat many\n"),
     0, "", NULL},
    {HOLE("    in at_plate\n    diameter = a\n    when many\n"), 11, "many", "yes or no"},
    {HOLE("    in at_plate\n    diameter = a\n    fit = 7\n"), 11, "7", "text"},
    {HOLE("    in at_plate\n    diameter = a\n    thread = a\n"), 11, "a", "text"},
    {HOLE("    in at_plate\n    diameter = a\n    from_top = 1\n"), 11, "1", "yes or no"},
    {HOLE("    in at_plate\n    diameter = a\n    nominal = t\n"), 11, "t", "length"},
    {HOLE("    in at_plate\n    diameter = a\n    repeat a\n"), 11, "a", "number"},
    {HOLE("    in each plate, order > at_plate.order, moves = t\n    diameter = a\n"), 0, "", NULL},
    {HOLE("    in each plate, ordre > at_plate.order\n    diameter = a\n"), 9, "ordre",
     "The kind plate has no \"ordre\""},
    {HOLE("    in each plate, order > a\n    diameter = a\n"), 9, "a", "number"},
    {HOLE("    in each plate, moves > t\n    diameter = a\n"), 9, "moves", "is no number"},
    {HOLE("    in each plate, moves = a\n    diameter = a\n"), 9, "a", "text"},
    /* order lines, events, motions */
    {IN_KIND("  order x {nonesuch}\n"), 8, "nonesuch", "There is no"},
    {IN_KIND("  order x {f as mm}\n"), 8, "f", "cannot be told in mm"},
    {IN_KIND("  order x {t as mm}\n"), 8, "t", "cannot be told in mm"},
    {IN_KIND("  order x {a as mm} {name} {at_plate}\n    pieces points\n    mass mass_of(a, a)\n    when "
             "many > 1\n"),
     0, "", NULL},
    {IN_KIND("  order x\n    size {a} by {b}\n"), 9, "b", "There is no \"b\""},
    {IN_KIND("  order x\n    material {nonesuch}\n"), 9, "nonesuch", "There is no"},
    {IN_KIND("  order x\n    note {nonesuch}\n"), 9, "nonesuch", "There is no"},
    {IN_KIND("  order x\n    pieces a\n"), 9, "a", "number"},
    {IN_KIND("  order x\n    mass a\n"), 9, "a", "mass"},
    {IN_KIND("  order x\n    when a\n"), 9, "a", "yes or no"},
    {IN_KIND("  event {nonesuch} enters\n    at a\n"), 8, "nonesuch", "There is no"},
    {IN_KIND("  event x\n    at f\n"), 9, "f", "length"},
    {IN_KIND("  event x\n    at a\n    when a\n"), 10, "a", "yes or no"},
    {IN_KIND("  motion gap : length = a + ram\n"), 0, "", NULL},
    {IN_KIND("  motion gap : length = a * ram\n"), 8, "a * ram", "length"},
    {IN_KIND("  motion gap : length = a + ram\n    least a\n    most 2 * a + ram\n    whole 3 * a\n    "
             "judged ram < a\n    note {ram as mm} of {a as mm}\n"),
     0, "", NULL},
    {IN_KIND("  motion gap : length = a + ram\n    least 3 N\n"), 9, "3 N", "length"},
    {IN_KIND("  motion gap : length = a + ram\n    whole many\n"), 9, "many", "length"},
    {IN_KIND("  motion gap : length = a + ram\n    judged a\n"), 9, "a", "yes or no"},
    {IN_KIND("  motion gap : length = a + ram\n    note {ran as mm}\n"), 9, "ran", "near it: ram"},
    {IN_KIND("  usual gap : length = a + ram\n"), 8, "ram", "There is no \"ram\""},
    /* rules */
    {RULE("once", "  value stack.high\n  fault unless at least 3 N\n"), 4, "3 N", "length"},
    {RULE("once", "  value stack.high\n  fault unless at least 0\n"), 0, "", NULL},
    {RULE("once", "  value stack.high\n  fault unless stack.high\n"), 4, "stack.high", "yes or no"},
    {RULE("once", "  value stack.hi\n  fault unless at least 0\n"), 3, "stack.hi",
     "The kind stack has no \"hi\""},
    {RULE("once", "  when stack.high\n  value stack.high\n  fault unless at least 0\n"), 3, "stack.high",
     "yes or no"},
    {RULE("once", "  value thickness\n  fault unless at least 0\n"), 3, "thickness", "There is no"},
    {RULE("each plate", "  value turned_miss\n  fault unless at least thickness\n"), 0, "", NULL},
    {RULE("each plate",
          "  value thickness\n  fault unless at least 0\n    says {name} {value as mm} {limit as mm}\n"),
     0, "", NULL},
    {RULE("each plate", "  value thickness\n  fault unless at least 0\n    says {value as N}\n"), 5, "value",
     "cannot be told in N"},
    {RULE("each plate",
          "  value thickness\n  fault unless at least 0\n    says fine so far\n    says {limt}\n"),
     6, "limt", "near it: limit"},
    {RULE("each plate", "  value thickness\n  fault unless at least 0\n  tells {limt}\n"), 5, "limt",
     "near it: limit"},
    {RULE("each plate", "  fault unless thickness > wide\n    says {value}\n"), 4, "value",
     "There is no \"value\""},
    {RULE("each hole",
          "  value hole.edge - hole.diameter / 2\n  fault unless at least hole.plate.thickness\n"),
     0, "", NULL},
    {RULE("each hole", "  when hole.operation = \"tap\" and hole.through and not hole.rectangular\n  value "
                       "hole.nominal\n  fault unless at least 0\n"),
     0, "", NULL},
    {RULE("each hole", "  value hole.with\n  fault unless at least 0\n"), 3, "hole.with",
     "hole has no \"with\""},
    {RULE("each hole", "  value wall\n  fault unless at least 0\n"), 3, "wall", "There is no \"wall\""},
    {RULE("each hole", "  value hole.item.long\n  fault unless at least 0\n"), 3, "hole.item.long",
     "Of which kind"},
    {RULE("each two holes", "  within 2 * largest_hole\n  value wall - shared\n  fault unless at least "
                            "a.diameter - b.diameter\n    says {a.item} {b.title} {plate} {same_item}\n"),
     0, "", NULL},
    {RULE("each two holes", "  within 3\n  value wall\n  fault unless at least 0\n"), 3, "3", "length"},
    {RULE("each two holes", "  within wall\n  value hole.x\n  fault unless at least 0\n"), 4, "hole",
     "There is no \"hole\""},
    {RULE("each typed_over", "  note unless has_reason\n    says {typed_over} {typed_text} {usual_text}\n"),
     0, "", NULL},
    {RULE("each typed_over", "  note unless typed_over\n"), 3, "typed_over", "yes or no"},
    {RULE("each weak_table", "  note unless no\n    says {table} {standard} {quantities}\n"), 0, "", NULL},
    {RULE("each weak_table", "  note unless has_reason\n"), 3, "has_reason", "There is no"},
    {"rule r\n  once\n  value stack.high\n  fault unless at least 0\n  says x\n  says {nonesuch}\n", 6,
     "nonesuch", "There is no"},
    /* examples */
    {"example e\n  try mass_of(1 m, 1 m)\n    expect 3 mm\n", 3, "3 mm", "mass"},
    {"example e\n  try mass_of(1 m, 1 m)\n    expect 3 kg within 1 %\n", 3, "1 %", "mass"},
    {"example e\n  try mass_off(1 m, 1 m)\n    expect 3 kg\n", 2, "mass_off", "There is no function"},
    {"example e\n  like x\n  try anything.at_all\n    expect 3 kg\n", 0, "", NULL},
};

START_TEST(each_formula_is_held_to_its_type_and_names)
{
    struct base_diag why;
    if (!formulas[_i].says && !*formulas[_i].mark) {
        handbook_free(read_more(formulas[_i].text));
        return;
    }
    read_refused(formulas[_i].text, &why);
    const char *says = formulas[_i].says ? formulas[_i].says : "", *mark = formulas[_i].mark;
    ck_assert_msg(strstr(why.message, says), "%s\n-> %s", formulas[_i].text, why.message);
    ck_assert_str_eq(why.file, "more.txt");
    ck_assert_msg(why.line == formulas[_i].line, "%s\n-> line %d: %s", formulas[_i].text, why.line,
                  why.message);
    ck_assert_int_gt(why.length, 0);
    ck_assert_int_le(why.start + why.length, (int)strlen(why.source));
    ck_assert_msg(!mark || strncmp(why.source + why.start, mark, strlen(mark)) == 0,
                  "%s\n-> \"%s\" at %d: %s", formulas[_i].text, why.source, why.start, why.message);
}
END_TEST

START_TEST(a_fault_far_out_in_a_long_line_is_shown)
{
    struct base_text t = {0};
    base_text_add(&t, "function f\n  takes a : length\n  gives length = a");
    for (int i = 0; i < 180; i++)
        base_text_add(&t, " + a");
    base_text_add(&t, " + nonesuch\n");
    struct base_diag why;
    read_refused(base_text_get(&t), &why);
    ck_assert_int_eq(why.line, 3);
    ck_assert_int_eq(strncmp(why.source + why.start, "nonesuch", 8), 0);
    base_text_done(&t);
}
END_TEST

TCase *types_case(void)
{
    TCase *t = tcase_create("types");
    tcase_add_loop_test(t, each_formula_is_held_to_its_type_and_names, 0, COUNT_OF(formulas));
    tcase_add_test(t, a_fault_far_out_in_a_long_line_is_shown);
    return t;
}
