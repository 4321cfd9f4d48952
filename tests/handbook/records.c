/* Records become what handbook.h says, field by field. */

#include "book.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

START_TEST(a_factor_is_kept_with_its_words)
{
    struct handbook *h = read_more("");
    ck_assert_int_eq(handbook_factor_count(h), 2);
    const struct handbook_factor *f = handbook_factor(h, handbook_find_factor(h, "wanted"));
    ck_assert_str_eq(f->name, "wanted");
    ck_assert_str_eq(f->title, "wanted");
    ck_assert_str_eq(f->help, "Diameters of thread wanted.");
    ck_assert_str_eq(f->source, "common practice");
    ck_assert_str_eq(formula_text(f->tree), "1.5");
    ck_assert_str_eq(formula_text(f->low), "1");
    ck_assert_str_eq(formula_text(f->high), "3");
    ck_assert_int_eq(f->type.sort, HANDBOOK_NUMBER);
    ck_assert_str_eq(f->place.file, "small.txt");
    ck_assert_int_eq(f->place.line, 1);
    ck_assert_ptr_null(handbook_factor(h, handbook_find_factor(h, "play"))->low);
    ck_assert_int_eq(handbook_find_factor(h, "playful"), -1);
    handbook_free(h);
}
END_TEST

START_TEST(a_function_keeps_arguments_parts_and_result_in_order)
{
    struct handbook *h = read_more("");
    const struct handbook_function *f = handbook_function(h, handbook_find_function(h, "mass_of"));
    ck_assert_int_eq(f->f.n_parameters, 3);
    ck_assert_str_eq(f->f.parameters[0].name, "long_side");
    ck_assert_ptr_null(f->f.parameters[0].usual);
    ck_assert_str_eq(f->parameter_help[0], "the longer");
    ck_assert_ptr_null(f->parameter_help[1]);
    ck_assert_str_eq(formula_text(f->f.parameters[1].usual), "play");
    ck_assert_int_eq(f->f.n_lets, 1);
    ck_assert_str_eq(f->f.lets[0].name, "face");
    ck_assert_str_eq(formula_text(f->f.gives), "face * height * 7850 kg/m3");
    ck_assert(unit_same(f->f.type.dim, UNIT_MASS));
    ck_assert_int_eq(f->place.line, 7);
    handbook_free(h);
}
END_TEST

START_TEST(a_kind_keeps_its_properties)
{
    struct handbook *h = read_more("");
    const struct handbook_kind *k = handbook_kind(h, handbook_find_kind(h, "plate"));
    ck_assert_str_eq(k->title, "plate");
    ck_assert_str_eq(k->plural, "plates");
    ck_assert_int_eq(k->letter, 'q');
    ck_assert(!k->single && !k->lays && !k->values);
    ck_assert_int_eq(k->n_properties, 6);
    const struct handbook_property *p = &k->properties[handbook_find_property(k, "thickness")];
    ck_assert_int_eq(p->how, HANDBOOK_ASKED);
    ck_assert_str_eq(p->group, "Size");
    ck_assert_str_eq(formula_text(p->high), "400 mm");
    ck_assert_int_eq(p->decimals, -1);
    ck_assert(p->plain);
    ck_assert_int_eq(p->place.line, 26);
    p = &k->properties[handbook_find_property(k, "wide")];
    ck_assert_ptr_null(p->tree);
    ck_assert_int_eq(p->decimals, 3);
    ck_assert(!p->plain);
    p = &k->properties[handbook_find_property(k, "moves")];
    ck_assert_int_eq(p->type.sort, HANDBOOK_CHOICE);
    ck_assert(handbook_settled(p->type));
    ck_assert_int_eq(p->n_choices, 2);
    ck_assert_str_eq(p->choices[1], "slide, free");
    p = &k->properties[handbook_find_property(k, "weight")];
    ck_assert_int_eq(p->how, HANDBOOK_USUAL);
    ck_assert_str_eq(p->help, "Without holes. Rounded.");
    ck_assert_int_eq(k->properties[handbook_find_property(k, "turned_miss")].how, HANDBOOK_MEASURE);
    ck_assert_int_eq(handbook_find_property(k, "nothing"), -1);
    k = handbook_kind(h, handbook_find_kind(h, "screws"));
    ck_assert(k->lays);
    p = &k->properties[handbook_find_property(k, "head_in")];
    ck_assert_int_eq(p->type.sort, HANDBOOK_ITEM);
    ck_assert_int_eq(p->type.type.kind, handbook_find_kind(h, "plate"));
    ck_assert_str_eq(p->title, "head in");
    ck_assert(handbook_kind(h, handbook_find_kind(h, "stack"))->single);
    handbook_free(h);
}
END_TEST

/* Each stands among the properties, with the type of its formula, and is no plain one. */
START_TEST(a_let_of_a_kind_is_a_part_of_its_formulas)
{
    struct handbook *h = read_more("kind beam\n  asked high : length = 3 mm\n  let face = high * wide\n"
                                   "  asked wide : length = 2 mm\n  let flat = high < wide\n"
                                   "  let says = if(flat,\n      \"flat\", \"upright\")\n"
                                   "  follows area : area = face * if(says = \"flat\", 1, 2)\n");
    const struct handbook_kind *k = handbook_kind(h, handbook_find_kind(h, "beam"));
    static const struct { const char *name, *type; } lets[] = {
        {"face", "area"}, {"flat", "yesno"}, {"says", "text"}};
    char buf[80];
    for (size_t i = 0; i < COUNT_OF(lets); i++) {
        const struct handbook_property *p = &k->properties[handbook_find_property(k, lets[i].name)];
        ck_assert_int_eq(p->how, HANDBOOK_LET);
        ck_assert(!p->plain);
        ck_assert_str_eq(p->title, lets[i].name);
        ck_assert_str_eq(handbook_type_name(h, p->type, buf, sizeof buf), lets[i].type);
    }
    ck_assert_str_eq(formula_text(k->properties[handbook_find_property(k, "says")].tree),
                     "if(flat, \"flat\", \"upright\")");
    handbook_free(h);
}
END_TEST

/* Several are several, each with its sources; data without a caution of no kind has the words that defer all
   the same. */
START_TEST(a_kind_keeps_all_its_cautions)
{
    struct handbook *h = read_more("kind jack\n  caution It sinks: block it up.\n    source common "
                                   "practice\n  caution Its handle swings.\n");
    const struct handbook_kind *k = handbook_kind(h, handbook_find_kind(h, "jack"));
    ck_assert_int_eq(k->n_cautions, 2);
    ck_assert_str_eq(k->cautions[0].text, "It sinks: block it up.");
    ck_assert_str_eq(k->cautions[0].source, "common practice");
    ck_assert_str_eq(k->cautions[1].text, "Its handle swings.");
    ck_assert_ptr_null(k->cautions[1].source);
    ck_assert_int_eq(handbook_caution_count(h), 1);
    ck_assert_ptr_nonnull(strstr(handbook_caution(h, 0)->text, "Local codes and the licensed person"));
    handbook_free(h);
    h = read_more("caution Ask the works council.\n  source own derivation\ncaution And the foreman.\n");
    ck_assert_int_eq(handbook_caution_count(h), 2);
    ck_assert_str_eq(handbook_caution(h, 0)->text, "Ask the works council.");
    ck_assert_str_eq(handbook_caution(h, 1)->text, "And the foreman.");
    handbook_free(h);
}
END_TEST

static const char laid[] =
    "kind dowels\n"
    "  lay\n"
    "  asked first : plate\n"
    "  asked many : count = 3\n"
    "  asked diameter : length = 8 mm\n"
    "  hole ream\n"
    "    letter D\n"
    "    fastens\n"
    "    in first\n"
    "    from_top = first.order > 2\n"
    "    diameter = diameter\n"
    "    depth = min(plate.thickness, 20 mm)\n"
    "    fit = \"H7\"\n"
    "  hole slot\n"
    "    title long slot\n"
    "    in each plate, order > first.order, moves = \"bed\"\n"
    "    when many > 2\n"
    "    repeat many\n"
    "    x = x + 10 mm * cos(turn + index * 360 deg / many)\n"
    "    length = 20 mm\n"
    "    width = 10 mm\n"
    "    corner = 2 mm\n"
    "  order Dowel of {diameter as mm} in {first}\n"
    "    when points > 0\n"
    "    size {diameter as mm} m6\n"
    "    pieces points * many\n"
    "    mass 0.1 kg\n"
    "    note keep dry\n"
    "  event {name} enter\n"
    "    at stack.high - mean_x\n"
    "  stamp Pins of {diameter}\n";

START_TEST(holes_orders_and_events_are_kept)
{
    struct handbook *h = read_more(laid);
    const struct handbook_kind *k = handbook_kind(h, handbook_find_kind(h, "dowels"));
    ck_assert_int_eq(k->n_holes, 2);
    const struct handbook_hole *ream = &k->holes[0], *slot = &k->holes[1];
    ck_assert_str_eq(ream->operation, "ream");
    ck_assert_str_eq(ream->title, "ream");
    ck_assert_int_eq(ream->letter, 'D');
    ck_assert(ream->fastens && !slot->fastens);
    ck_assert_str_eq(formula_text(ream->in), "first");
    ck_assert_str_eq(formula_text(ream->fit), "\"H7\"");
    ck_assert_str_eq(slot->title, "long slot");
    ck_assert_str_eq(slot->each, "plate");
    ck_assert_int_eq(slot->n_matches, 2);
    ck_assert_str_eq(slot->matches[0].column, "order");
    ck_assert_int_eq(slot->matches[0].relation, FORMULA_MORE);
    ck_assert_str_eq(formula_text(slot->matches[1].tree), "\"bed\"");
    ck_assert_ptr_nonnull(slot->corner);
    ck_assert_int_eq(k->n_orders, 1);
    ck_assert_int_eq(k->stamp.n_pieces, 2);
    ck_assert_str_eq(k->stamp.text, "Pins of {diameter}");
    const struct handbook_template *t = &k->orders[0].designation;
    ck_assert_str_eq(t->text, "Dowel of {diameter as mm} in {first}");
    ck_assert_int_eq(t->n_pieces, 4);
    ck_assert_str_eq(t->pieces[0].text, "Dowel of ");
    ck_assert_ptr_null(t->pieces[0].tree);
    ck_assert_str_eq(formula_text(t->pieces[1].tree), "diameter");
    ck_assert_str_eq(t->pieces[1].as, "mm");
    ck_assert_ptr_null(t->pieces[3].as);
    ck_assert_str_eq(k->orders[0].note.text, "keep dry");
    ck_assert_int_eq(k->n_events, 1);
    ck_assert_str_eq(formula_text(k->events[0].at), "stack.high - mean_x");
    handbook_free(h);
}
END_TEST

static const char patterns[] =
    "pattern corners\n"
    "  title four corners\n"
    "  takes end : length\n"
    "    title from the ends\n"
    "    start = length / 8\n"
    "  takes side : length = 10 mm\n"
    "  point left_front\n"
    "    x = left + end\n"
    "    y = front + side\n"
    "    turn = 45 deg\n"
    "pattern ring\n"
    "  free\n"
    "  takes many : count\n"
    "  repeat many\n"
    "    x = middle_x + length / 4 * cos(index * 360 deg / many)\n"
    "    y = middle_y\n"
    "word shut height\n"
    "  also die height, closed height\n"
    "  help Top to bottom,\n"
    "  help ram at its lowest.\n";

START_TEST(patterns_and_words_are_kept)
{
    struct handbook *h = read_more(patterns);
    const struct handbook_pattern *p = handbook_pattern(h, handbook_find_pattern(h, "corners"));
    ck_assert_str_eq(p->title, "four corners");
    ck_assert_int_eq(p->n_takes, 2);
    ck_assert_str_eq(p->takes[0].title, "from the ends");
    ck_assert_str_eq(p->takes[1].title, "side");
    ck_assert_str_eq(formula_text(p->takes[0].start), "length / 8");
    ck_assert_ptr_null(p->takes[1].start);
    ck_assert_int_eq(p->n_points, 1);
    ck_assert_str_eq(p->points[0].name, "left_front");
    ck_assert_str_eq(formula_text(p->points[0].turn), "45 deg");
    ck_assert_ptr_null(p->repeat);
    ck_assert(!p->free);
    p = handbook_pattern(h, handbook_find_pattern(h, "ring"));
    ck_assert_str_eq(formula_text(p->repeat), "many");
    ck_assert(p->free);
    ck_assert_ptr_null(p->points[0].name);
    ck_assert_int_eq(handbook_word_count(h), 1);
    ck_assert_str_eq(handbook_word(h, 0)->name, "shut height");
    ck_assert_str_eq(handbook_word(h, 0)->also, "die height, closed height");
    ck_assert_str_eq(handbook_word(h, 0)->help, "Top to bottom, ram at its lowest.");
    handbook_free(h);
}
END_TEST

static const char rules[] =
    "rule screw-grip\n"
    "  title thread\n"
    "  each screws\n"
    "  when known(long)\n"
    "  state ground\n"
    "  value long - head_in.thickness\n"
    "  fault unless at least diameter\n"
    "    says {name}: only {value} holds in {thread_in};\n"
    "    says {limit} is the least.\n"
    "  caution unless more than wanted * diameter\n"
    "  note unless points > 2\n"
    "  says {name}: {value as mm} mm hold.\n"
    "  tells {value} of {limit}\n"
    "  mend long, stack.top, head_in.thickness\n"
    "  source common practice\n"
    "rule walls\n"
    "  each two holes\n"
    "  within 2 * largest_hole\n"
    "  value wall\n"
    "  fault unless more than 0 mm\n"
    "  says {a.item} cuts {b.item} in {plate} by {-value}.\n";

START_TEST(rules_are_kept_rung_by_rung)
{
    struct handbook *h = read_more(rules);
    const struct handbook_rule *r = handbook_rule(h, handbook_find_rule(h, "screw-grip"));
    ck_assert_str_eq(r->title, "thread");
    ck_assert_int_eq(r->over, HANDBOOK_EACH_KIND);
    ck_assert_int_eq(r->kind, handbook_find_kind(h, "screws"));
    ck_assert_int_eq(r->states, HANDBOOK_GROUND);
    ck_assert_int_eq(r->n_rungs, 3);
    ck_assert_int_eq(r->rungs[0].grade, HANDBOOK_FAULT);
    ck_assert_int_eq(r->rungs[0].relation, FORMULA_AT_LEAST);
    ck_assert_str_eq(r->rungs[0].says.text,
                     "{name}: only {value} holds in {thread_in}; {limit} is the least.");
    ck_assert_int_eq(r->rungs[0].says.n_pieces, 9);
    ck_assert_int_eq(r->rungs[1].relation, FORMULA_MORE);
    ck_assert_int_eq(r->rungs[1].says.n_pieces, 0);
    ck_assert(r->rungs[2].yesno && !r->rungs[1].yesno);
    ck_assert_str_eq(r->tells.text, "{value} of {limit}");
    ck_assert_int_eq(r->n_mends, 3);
    ck_assert_str_eq(r->mends[2], "head_in.thickness");
    r = handbook_rule(h, handbook_find_rule(h, "walls"));
    ck_assert_int_eq(r->over, HANDBOOK_EACH_PAIR);
    ck_assert_int_eq(r->states, HANDBOOK_BOTH);
    ck_assert_str_eq(formula_text(r->within), "2 * largest_hole");
    handbook_free(h);
}
END_TEST

static const char examples[] =
    "example HB-1\n"
    "  title a block\n"
    "  try mass_of(1 m, 1 m, 10 mm)\n"
    "    expect 78.5 kg within 0.01 kg\n"
    "  try mass_of(1 m, 1 m, 10 mm)\n"
    "    expect 80 kg\n"
    "    disagrees\n"
    "  printed 78.50 kg\n"
    "  source own derivation: arithmetic\n"
    "example HB-2-set\n"
    "  like spring-stripper\n"
    "  with die_plate.thickness = 30 mm\n"
    "  try stack.high in ground\n"
    "    expect 196 mm\n";

START_TEST(examples_are_kept)
{
    struct handbook *h = read_more(examples);
    ck_assert_int_eq(handbook_example_count(h), 2);
    const struct handbook_example *e = handbook_example(h, 0);
    ck_assert_str_eq(e->name, "HB-1");
    ck_assert_str_eq(e->printed, "78.50 kg");
    ck_assert_ptr_null(e->like);
    ck_assert_int_eq(e->n_tries, 2);
    ck_assert_str_eq(formula_text(e->tries[0].within), "0.01 kg");
    ck_assert(e->tries[1].disagrees && !e->tries[0].disagrees);
    ck_assert_ptr_null(e->tries[1].within);
    e = handbook_example(h, 1);
    ck_assert_str_eq(e->like, "spring-stripper");
    ck_assert_int_eq(e->n_settings, 1);
    ck_assert_str_eq(e->settings[0].path, "die_plate.thickness");
    ck_assert_str_eq(formula_text(e->tries[0].tree), "stack.high");
    ck_assert(e->tries[0].ground);
    handbook_free(h);
}
END_TEST

static const struct { const char *text; enum handbook_sort sort;
} types[] = {
    {"length", HANDBOOK_NUMBER},   {"number", HANDBOOK_NUMBER}, {"density", HANDBOOK_NUMBER},
    {"length^4", HANDBOOK_NUMBER}, {"text", HANDBOOK_TEXT},     {"yesno", HANDBOOK_YESNO},
    {"choice", HANDBOOK_CHOICE},   {"count", HANDBOOK_COUNT},   {"plate", HANDBOOK_ITEM},
    {"screws", HANDBOOK_ITEM},
};

START_TEST(a_type_is_read_and_told)
{
    struct handbook *h = read_more("");
    struct handbook_type t;
    char buf[80];
    ck_ok(handbook_parse_type(h, types[_i].text, &t, why));
    ck_assert_int_eq(t.sort, types[_i].sort);
    ck_assert_str_eq(handbook_type_name(h, t, buf, sizeof buf), types[_i].text);
    ck_assert_int_eq(handbook_settled(t),
                     t.sort == HANDBOOK_CHOICE || t.sort == HANDBOOK_COUNT || t.sort == HANDBOOK_ITEM);
    handbook_free(h);
}
END_TEST

/* What is shown says the class and how the print was read, and each line is kept for itself with what leans
   on it. */
START_TEST(a_source_says_its_class_and_whether_it_was_seen)
{
    static const struct {
        const char *line, *shown, *text;
        enum handbook_class class;
        enum handbook_seen seen;
    } rows[] = {
        {"common practice, 3 to 10 mm", "common practice: 3 to 10 mm", "3 to 10 mm", HANDBOOK_COMMON_PRACTICE,
         HANDBOOK_NO_PRINT},
        {"own derivation", "own derivation", "", HANDBOOK_OWN_DERIVATION, HANDBOOK_NO_PRINT},
        {"standard, memory: ISO 273", "standard, memory: ISO 273", "ISO 273", HANDBOOK_STANDARD,
         HANDBOOK_MEMORY},
        {"regulation, seen: 29 CFR 1910.217(d)(4)", "regulation, seen: 29 CFR 1910.217(d)(4)",
         "29 CFR 1910.217(d)(4)", HANDBOOK_REGULATION, HANDBOOK_SEEN},
        {"miller, answer seen: example 2, p. 3",
         "book, answer seen: A. Miller, Dies, 2nd ed., example 2, p. 3",
         "A. Miller, Dies, 2nd ed., example 2, p. 3", HANDBOOK_BOOK, HANDBOOK_ANSWER_SEEN},
        {"miller, seen quoted", "book, seen quoted: A. Miller, Dies, 2nd ed.", "A. Miller, Dies, 2nd ed.",
         HANDBOOK_BOOK, HANDBOOK_SEEN_QUOTED},
        /* a shop's own words of before */
        {"own rule", "own rule", "own rule", HANDBOOK_UNSORTED, HANDBOOK_NO_PRINT},
        {"our foreman, by experience: 3 mm", "our foreman, by experience: 3 mm",
         "our foreman, by experience: 3 mm", HANDBOOK_UNSORTED, HANDBOOK_NO_PRINT},
        {"common practices of ours", "common practices of ours", "common practices of ours",
         HANDBOOK_UNSORTED, HANDBOOK_NO_PRINT},
    };
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        char *text = base_format("factor new_one : number = 1\n  source %s\nwork miller\n  class book\n  "
                                 "title A. Miller, Dies, 2nd ed.\n",
                                 rows[i].line);
        struct handbook *h = read_more(text);
        const struct handbook_factor *f = handbook_factor(h, handbook_find_factor(h, "new_one"));
        ck_assert_str_eq(f->source, rows[i].shown);
        ck_assert_str_eq(f->seen, handbook_seen_text(rows[i].seen));
        int at = 0;
        while (strcmp(handbook_source(h, at)->name, "new_one") != 0)
            at++;
        const struct handbook_source *s = handbook_source(h, at);
        ck_assert_str_eq(s->what, "factor");
        ck_assert_str_eq(s->text, rows[i].text);
        ck_assert_int_eq(s->class, rows[i].class);
        ck_assert_int_eq(s->seen, rows[i].seen);
        ck_assert_str_eq(s->place.file, "more.txt");
        ck_assert_int_eq(s->place.line, 2);
        handbook_free(h);
        free(text);
    }
}
END_TEST

START_TEST(several_sources_stand_in_one_text)
{
    struct handbook *h = read_more("factor new_one : number = 1\n  source book, seen: A\n  source standard, "
                                   "memory: B\n  source common practice\n");
    const struct handbook_factor *f = handbook_factor(h, handbook_find_factor(h, "new_one"));
    ck_assert_str_eq(f->source, "book, seen: A; standard, memory: B; common practice");
    ck_assert_str_eq(f->seen, "in part");
    handbook_free(h);
    h = read_more("factor new_one : number = 1\n  source book, seen: A\n  source standard, seen: B\n  source "
                  "common practice\n");
    ck_assert_str_eq(handbook_factor(h, handbook_find_factor(h, "new_one"))->seen, "seen");
    handbook_free(h);
}
END_TEST

START_TEST(what_sources_differ_about_is_kept_with_what_is_taken)
{
    struct handbook *h = read_more("differ grip of a screw\n  help One diameter,\n  help or two.\n  taken "
                                   "one\n  choose wanted, screws.long\n  source two pages\n");
    ck_assert_int_eq(handbook_difference_count(h), 1);
    const struct handbook_difference *w = handbook_difference(h, 0);
    ck_assert_str_eq(w->name, "grip of a screw");
    ck_assert_str_eq(w->help, "One diameter, or two.");
    ck_assert_str_eq(w->taken, "one");
    ck_assert_str_eq(w->source, "two pages");
    ck_assert_int_eq(w->n_chosen_by, 2);
    ck_assert_str_eq(w->chosen_by[1], "screws.long");
    handbook_free(h);
}
END_TEST

START_TEST(tables_are_declared_over_their_files)
{
    char path[400];
    const char *folder = fresh_folder();
    snprintf(
        path, sizeof path,
        "mkdir %s/parts && printf 'size,d_mm,lengths_mm\\nM6,6,10 16\\nM8,8,20\\n' > %s/parts/screws.csv",
        folder, folder);
    int status;
    output_of(path, &status);
    ck_assert_int_eq(status, 0);
    const char *text = "table screw\n"
                       "  help Screws.\n"
                       "  file screws.csv\n"
                       "  column size : text from size\n"
                       "  column diameter : length from d_in, d_mm\n"
                       "  column length : length from each lengths_mm\n"
                       "  figure    k\n"
                       "  figure |=====|\n"
                       "kind screws\n"
                       "  asked size : text = \"M6\"\n"
                       "    from screw.size\n"
                       "  usual length : length = size_over(screw.length, 12 mm, size = this.size)\n";
    struct handbook *h;
    ck_ok(handbook_read(&text, (const char *const[]){"t.txt"}, 1, folder, &h, why));
    struct table_set *t = handbook_tables(h);
    ck_assert_int_eq(table_rows(t, table_find(t, "screw")), 3);
    ck_assert_str_eq(table_spec(t, 0)->help, "Screws.");
    ck_assert_str_eq(table_spec(t, 0)->figure, "   k\n|=====|\n");
    ck_assert_str_eq(handbook_kind(h, 0)->properties[0].from_column, "size");
    struct formula_value v;
    struct formula_type type;
    ck_ok(handbook_eval(h, "size_over(screw.length, 12 mm, size = \"M6\")", &v, &type, why));
    ck_assert_int_eq(v.error, 0);
    ck_assert_double_eq(v.number, 16);
    ck_ok(handbook_eval(h, "size_over(screw.length, 12 mm, size = \"M7\")", &v, &type, why));
    ck_assert_int_eq(v.error, FORMULA_NO_ROW);
    handbook_free(h);
}
END_TEST

TCase *records_case(void)
{
    TCase *t = tcase_create("records");
    tcase_add_test(t, a_factor_is_kept_with_its_words);
    tcase_add_test(t, a_function_keeps_arguments_parts_and_result_in_order);
    tcase_add_test(t, a_kind_keeps_its_properties);
    tcase_add_test(t, a_kind_keeps_all_its_cautions);
    tcase_add_test(t, a_let_of_a_kind_is_a_part_of_its_formulas);
    tcase_add_test(t, holes_orders_and_events_are_kept);
    tcase_add_test(t, patterns_and_words_are_kept);
    tcase_add_test(t, rules_are_kept_rung_by_rung);
    tcase_add_test(t, examples_are_kept);
    tcase_add_test(t, a_source_says_its_class_and_whether_it_was_seen);
    tcase_add_test(t, several_sources_stand_in_one_text);
    tcase_add_test(t, what_sources_differ_about_is_kept_with_what_is_taken);
    tcase_add_loop_test(t, a_type_is_read_and_told, 0, COUNT_OF(types));
    tcase_add_test(t, tables_are_declared_over_their_files);
    return t;
}
