/* tests/tui/find.c - how well what is typed behind "/" fits a name */

#include "parts.h"

#include "tui/find.h"

static const struct { const char *name, *title, *text; int rank; } rows[] = {
    {"die_plate", "die plate", "die plate", 0},
    {"die_plate.thickness", "thickness", "THICKNESS", 0},
    {"die_plate.thickness", "thickness", "thick", 1},
    {"die_plate.thickness", "thickness", "plate", 2},
    {"die_plate.thickness", "thickness", "plate thick", 3},
    {"die_plate.thickness", "thickness", "dt", 4},
    {"die_plate.thickness", "thickness", "dpt", 4},
    {"die_plate.thickness", "thickness", "pt", -1}, /* the first letter begins the name */
    {"stack.shoe_width", "width of the shoes", "dt", 5},
    {"die_plate.thickness", "thickness", "dplth", 6},
    {"die_plate.thickness", "thickness", "kd", -1},
    {"posts", "guide posts", "guide x", -1},
};

START_TEST(what_is_typed_fits_so_well)
{
    ck_assert_int_eq(find_rank(rows[_i].name, rows[_i].title, rows[_i].text), rows[_i].rank);
}
END_TEST

void add_find(Suite *s)
{
    TCase *c = tcase_create("find");
    tcase_add_loop_test(c, what_is_typed_fits_so_well, 0, (int)COUNT_OF(rows));
    suite_add_tcase(s, c);
}
