/* tui/plan.h - the plan: which plate it shows, how large, which point its cursor is on; the section's ram */
#ifndef DIEWRIGHT_TUI_PLAN_H
#define DIEWRIGHT_TUI_PLAN_H

#include "diewright/view.h"
#include "tui/list.h"

struct tui;

struct plan {
    int plate;          /* follows the stack's cursor */
    int shown;          /* the plate drawn: follows when the cursor rests */
    double scale, x, y; /* 0 mm a column: all of the plate; else the point in the middle */
    double drawn;       /* mm a column of the last picture */
    char point[48];     /* of the item at hand, that the cursor is on; none of that name: its first */
    bool follow;        /* the cursor has moved: the next picture shows it */
    bool see_through, from_below;
    double ram;         /* mm above shut, of the section */
};

void plan_reset(struct tui *t); /* another job */
struct view_options plan_options(const struct tui *t);
/* Draw the plate shown into A, so that the point X, Y (NaN: none) is seen where `follow` asks for it; its
 * cell there, -1 outside. Returns mm a column. */
double plan_picture(struct tui *t, struct area a, const struct view_options *o, double x, double y, int *row,
                    int *column);

/* ---- points.c: a point that has a hole in the plate shown, which the plan's cursor walks ---- */

struct plan_spot { int item, point; double x, y; };
bool points_here(const struct tui *t, struct plan_spot *out); /* the one at the cursor; false: none */
void points_move(struct tui *t, enum move m);
void points_go(struct tui *t, int item, const char *point);
/* The point nearest to a cell of the plan drawn WIDTH by HEIGHT, at most one cell off; false: none. */
bool points_near(struct tui *t, const struct view_options *o, int width, int height, int row, int column,
                 struct plan_spot *out);
/* "die screws, right back, 6 of 6" */
void points_title(const struct tui *t, const struct plan_spot *s, struct base_text *out);

#endif
