/* Paths of entries, read and written; the text at "lay". */

#include "common.h"

#include "diewright/typed.h"

#include <stdlib.h>

static const struct {
    const char *text;
    enum typed_place place;
    enum typed_detail detail;
    const char *name;
    int axis, number;
    const char *known;
} paths[] = {
    {"thickness", TYPED_AT_NAME, TYPED_ITSELF, "thickness", -1, 0, "it.thickness"},
    {"thickness/reason", TYPED_AT_NAME, TYPED_REASON, "thickness", -1, 0, "it.thickness.reason"},
    {"reach/type", TYPED_AT_NAME, TYPED_TYPE, "reach", -1, 0, "it.reach.type"},
    {"reach/help", TYPED_AT_NAME, TYPED_HELP, "reach", -1, 0, "it.reach.help"},
    {"reach/choices", TYPED_AT_NAME, TYPED_CHOICES, "reach", -1, 0, "it.reach.choices"},
    {"reach/from", TYPED_AT_NAME, TYPED_FROM, "reach", -1, 0, "it.reach.from"},
    {"reason", TYPED_AT_NAME, TYPED_ITSELF, "reason", -1, 0, "it.reason"},
    {"title", TYPED_AT_NAME, TYPED_ITSELF, "title", -1, 0, "it.title"},
    {"", TYPED_AT_NAME, TYPED_ITSELF, "", -1, 0, "it"},
    {"a/b", TYPED_AT_NAME, TYPED_ITSELF, "a/b", -1, 0, "it.a.b"},
    {"a/b/type", TYPED_AT_NAME, TYPED_ITSELF, "a/b/type", -1, 0, "it.a.b.type"},
    {"a/b/reason", TYPED_AT_NAME, TYPED_REASON, "a/b", -1, 0, "it.a.b.reason"},
    {"lay", TYPED_AT_LAY, TYPED_ITSELF, "lay", -1, 0, "it.lay"},
    {"lay/reason", TYPED_AT_LAY, TYPED_REASON, "lay", -1, 0, "it.lay.reason"},
    {"lay/end", TYPED_AT_TAKE, TYPED_ITSELF, "end", -1, 0, "it.lay.end"},
    {"lay/type", TYPED_AT_TAKE, TYPED_ITSELF, "type", -1, 0, "it.lay.type"}, /* a pattern may ask for one */
    {"lay/turn", TYPED_AT_TAKE, TYPED_ITSELF, "turn", -1, 0, "it.lay.turn"},
    {"lay/end/reason", TYPED_AT_TAKE, TYPED_REASON, "end", -1, 0, "it.lay.end.reason"},
    {"lay/p3/x", TYPED_AT_POINT, TYPED_ITSELF, "p3", TYPED_X, 0, "it.p3.x"},
    {"lay/right_back/y/reason", TYPED_AT_POINT, TYPED_REASON, "right_back", TYPED_Y, 0,
     "it.right_back.y.reason"},
    {"lay/p3/turn", TYPED_AT_POINT, TYPED_ITSELF, "p3", TYPED_TURN, 0, "it.p3.turn"},
    {"lay/p3/xx", TYPED_AT_POINT, TYPED_ITSELF, "p3", -1, 0, "it.p3.xx"},
    {"lay/p3/x/y", TYPED_AT_POINT, TYPED_ITSELF, "p3", -1, 0, "it.p3.x.y"},
    {"layer", TYPED_AT_NAME, TYPED_ITSELF, "layer", -1, 0, "it.layer"},
    {"outline/12", TYPED_AT_LINE, TYPED_ITSELF, "outline/12", -1, 12, "it.outline.12"},
    {"outline/12/reason", TYPED_AT_LINE, TYPED_REASON, "outline/12", -1, 12, "it.outline.12.reason"},
    {"outline/012", TYPED_AT_LINE, TYPED_ITSELF, "outline/012", -1, 0, "it.outline.012"},
    {"outline/0", TYPED_AT_LINE, TYPED_ITSELF, "outline/0", -1, 0, "it.outline.0"},
    {"outline/1x", TYPED_AT_LINE, TYPED_ITSELF, "outline/1x", -1, 0, "it.outline.1x"},
    {"outline", TYPED_AT_NAME, TYPED_ITSELF, "outline", -1, 0, "it.outline"},
    {"outline/type", TYPED_AT_NAME, TYPED_TYPE, "outline", -1, 0, "it.outline.type"}, /* an own value */
    {"line/999999", TYPED_AT_ROW, TYPED_ITSELF, "line/999999", -1, 999999, "it.line.999999"},
    {"line/1000000", TYPED_AT_ROW, TYPED_ITSELF, "line/1000000", -1, 0, "it.line.1000000"},
};

START_TEST(a_path_is_read)
{
    struct typed_path p = typed_path_read(paths[_i].text);
    ck_assert_int_eq(p.place, paths[_i].place);
    ck_assert_int_eq(p.detail, paths[_i].detail);
    ck_assert_msg(typed_path_names(&p, paths[_i].name), "%s: %.*s", paths[_i].text, (int)p.length, p.name);
    ck_assert_int_eq(p.axis, paths[_i].axis);
    ck_assert_int_eq(p.number, paths[_i].number);
    ck_assert_int_eq(typed_is_reason(paths[_i].text), paths[_i].detail == TYPED_REASON);
    ck_assert_int_eq(typed_is_laid(paths[_i].text), p.place == TYPED_AT_TAKE || p.place == TYPED_AT_POINT);
    char *known = typed_known("it", paths[_i].text);
    ck_assert_str_eq(known, paths[_i].known);
    free(known);
}
END_TEST

static void written(char *text, const char *as, enum typed_place place, int axis, int number)
{
    struct typed_path p = typed_path_read(text);
    ck_assert_str_eq(text, as);
    ck_assert_int_eq(p.place, place);
    ck_assert_int_eq(p.axis, axis);
    ck_assert_int_eq(p.number, number);
    free(text);
}

START_TEST(what_is_written_is_read_as_that)
{
    written(typed_of_take("end"), "lay/end", TYPED_AT_TAKE, -1, 0);
    written(typed_of_point("p2", TYPED_X), "lay/p2/x", TYPED_AT_POINT, TYPED_X, 0);
    written(typed_of_point("p2", TYPED_Y), "lay/p2/y", TYPED_AT_POINT, TYPED_Y, 0);
    written(typed_of_point("p2", TYPED_TURN), "lay/p2/turn", TYPED_AT_POINT, TYPED_TURN, 0);
    written(typed_of_line(7), "outline/7", TYPED_AT_LINE, -1, 7);
    written(typed_of_row(41), "line/41", TYPED_AT_ROW, -1, 41);
    written(typed_of_reason("outline/7"), "outline/7/reason", TYPED_AT_LINE, -1, 7);
    written(typed_of_reason("lay"), "lay/reason", TYPED_AT_LAY, -1, 0);
    written(typed_of_detail("reach", TYPED_TYPE), "reach/type", TYPED_AT_NAME, -1, 0);
}
END_TEST

START_TEST(what_belongs_stands_under_it)
{
    ck_assert(typed_belongs("reach", "reach") && typed_belongs("reach/type", "reach"));
    ck_assert(typed_belongs("outline/3/reason", "outline/3") && typed_belongs("outline/3/reason", "outline"));
    ck_assert(!typed_belongs("reach_more", "reach") && !typed_belongs("reach", "reach/type"));
    ck_assert(!typed_belongs("outline/31", "outline/3"));
}
END_TEST

static const struct { const char *text; bool good, with; const char *pattern, *on; } lays[] = {
    {"corners on die_plate", true, false, "corners", "die_plate"},
    {"  corners  on  die_plate", true, false, "corners", "die_plate"},
    {"with posts", true, true, "", "posts"},
    {"with on posts", true, false, "with", "posts"}, /* a pattern of that name */
    {"with", false, false, "with", ""},
    {"corners", false, false, "corners", ""},
    {"corners at die_plate", false, false, "corners", ""},
    {"corners on", false, false, "corners", ""},
    {"corners on die_plate twice", false, false, "corners", ""},
    {"with posts too", false, false, "with", ""},
    {"", false, false, "", ""},
    {NULL, false, false, "", ""},
};

START_TEST(how_a_group_stands)
{
    struct typed_lay lay;
    ck_assert_int_eq(typed_lay_read(lays[_i].text, &lay), lays[_i].good);
    ck_assert_int_eq(lay.with, lays[_i].with);
    ck_assert_str_eq(lay.pattern, lays[_i].pattern);
    ck_assert_str_eq(lay.on, lays[_i].on);
}
END_TEST

START_TEST(a_lay_that_is_written_is_read)
{
    struct typed_lay lay;
    char *on = typed_lay_on("six", "lower_shoe"), *with = typed_lay_with("posts");
    ck_assert(typed_lay_read(on, &lay) && !lay.with);
    ck_assert_str_eq(lay.on, "lower_shoe");
    ck_assert(typed_lay_read(with, &lay) && lay.with);
    ck_assert_str_eq(lay.on, "posts");
    free(on);
    free(with);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("typed");
    TCase *t = tcase_create("paths");
    tcase_add_loop_test(t, a_path_is_read, 0, COUNT_OF(paths));
    tcase_add_test(t, what_is_written_is_read_as_that);
    tcase_add_test(t, what_belongs_stands_under_it);
    tcase_add_loop_test(t, how_a_group_stands, 0, COUNT_OF(lays));
    tcase_add_test(t, a_lay_that_is_written_is_read);
    suite_add_tcase(s, t);
    return run_suite(s);
}
