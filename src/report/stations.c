/* The station table: what works in each station of the strip, and what stands there. */

#include "report/words.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static double of(struct dieset *d, int item, const char *property)
{
    return item < 0 ? NAN : dieset_number(d, item, property, DIESET_NEW);
}

/* "10.0 x 4.0", of what is round its diameter */
static void put_size(struct dieset *d, int item, struct report_paper *p)
{
    char a[40], b[40];
    double along = of(d, item, "size_along"), across = of(d, item, "size_across");
    bool round = item >= 0 && strcmp(dieset_text(d, item, "shape"), "round") == 0;
    bool idle = item < 0 || strcmp(dieset_text(d, item, "does"), "idle") == 0;
    if (idle || isnan(along) || isnan(across)) {
        report_text(p, NULL);
        return;
    }
    unit_print_number(along, UNIT_LENGTH, dieset_system(d), a, sizeof a);
    unit_print_number(across, UNIT_LENGTH, dieset_system(d), b, sizeof b);
    char *both = round ? base_copy(a) : base_format("%s x %s", a, b);
    report_text(p, both);
    free(both);
}

/* TIMES the property of the item. */
static void put_amount(struct dieset *d, int item, const char *property, double times, struct unit_dim dim,
                       struct report_paper *p)
{
    struct unit_display u = unit_display(dim, dieset_system(d));
    double v = times * of(d, item, property);
    report_number(p, v == 0 ? NAN : v / u.factor, u.decimals);
}

/* Pilots, lifters and their like that stand in the station; once, beside the first that works in it. */
static void put_standing(struct dieset *d, int number, struct report_paper *p)
{
    struct base_text names = {0};
    for (int i = 0; i < dieset_item_count(d) && number; i++)
        if (dieset_stands_at(d, i, number))
            base_text_addf(&names, "%s%s", names.length ? ", " : "", dieset_item_name(d, i));
    report_text(p, names.length ? base_text_get(&names) : NULL);
    base_text_done(&names);
}

static void put_row(struct dieset *d, const struct dieset_station *s, bool first, struct report_paper *p)
{
    struct unit_display mm = unit_display(UNIT_LENGTH, dieset_system(d));
    double points = s->item < 0 ? NAN : dieset_point_count(d, s->item);
    report_number(p, s->number ? s->number : NAN, 0);
    report_number(p, s->x / mm.factor, mm.decimals);
    report_text(p, s->item < 0 ? NULL : dieset_item_name(d, s->item));
    report_text(p, s->item < 0 ? "idle" : dieset_text(d, s->item, "does"));
    report_number(p, points, 0);
    put_size(d, s->item, p);
    put_amount(d, s->item, "cut", points, UNIT_LENGTH, p);
    put_amount(d, s->item, "force", 1, UNIT_FORCE, p);
    put_amount(d, s->item, "stagger", 1, UNIT_LENGTH, p);
    if (first)
        put_standing(d, s->number, p);
    else
        report_text(p, NULL);
}

void report_stations(struct dieset *d, struct report_paper *p)
{
    static const struct report_column columns[] = {
        {"station", "no", true},       {"x", "at", true},        {"item", "name", false},
        {"does", "does", false},       {"points", "of", true},   {"size", "size", false},
        {"cut", "cut", true},          {"force", "force", true}, {"stagger", "stagger", true},
        {"stand", "beside it: ", false},
    };
    struct dieset_station *rows = base_alloc((size_t)(dieset_item_count(d) + DIESET_MOST_STATIONS) *
                                             sizeof *rows);
    int n = dieset_stations(d, rows, dieset_item_count(d) + DIESET_MOST_STATIONS);
    report_begin(p, columns, COUNT_OF(columns));
    report_fold(p, COUNT_OF(columns) - 1);
    for (int i = 0; i < n; i++)
        put_row(d, &rows[i], i == 0 || rows[i].number != rows[i - 1].number, p);
    report_line_above(p, "Lengths in %s, forces in %s; cut and force are of all places of a row.",
                      unit_display(UNIT_LENGTH, dieset_system(d)).name,
                      unit_display(UNIT_FORCE, dieset_system(d)).name);
    if (n && rows[0].number == 0)
        report_line_below(p, "Without a number: its places are counted from the plan's origin.");
    free(rows);
}
