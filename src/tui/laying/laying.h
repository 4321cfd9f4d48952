/* tui/laying/laying.h - a group being laid out: what is typed so far, and how a move becomes something typed
 *
 * Knows no screen. A laying holds entries that are not yet taken ("lay/end" -> "25 mm"); laying_try() opens a
 * try of all of them, so that the die set shows the outcome. Everything is kept by name: item numbers change
 * with every try. One point is *grabbed*. Moved with its group, the pattern's measure that shifts it along
 * (or across) is typed; moved alone, its own place is. Which measure that is, is found by trying: no pattern
 * is known by name here.
 */
#ifndef DIEWRIGHT_TUI_LAYING_H
#define DIEWRIGHT_TUI_LAYING_H

#include "tui/tui.h"

/* From where a place is dimensioned. OWN: as the pattern does, or alone: from the point's place in its group.
 * LOW and HIGH are the left and right, or front and back edges; ORIGIN is the plan's zero. */
enum from { FROM_OWN, FROM_LOW, FROM_HIGH, FROM_CENTRE, FROM_ORIGIN, FROMS };

struct laying_way {        /* along (0) and across (1) */
    bool moves;            /* else the pattern holds it */
    int take;              /* of the pattern: what is typed; -1: the point's own place */
    double per;            /* mm of the point for one mm of the measure */
    /* moved mm for mm: the edge that the pattern holds it from, "" the plan's zero. NULL: neither */
    const char *base;
    /* and what the pattern adds to that besides the measure: " - apart / 2"; NULL: nothing */
    char *rest;
    enum from from;
    double start, at;      /* mm in the plan, when grabbed and now */
    double own;            /* the measure when grabbed; alone: the place in the group */
    char *held;            /* what had been typed when grabbed; NULL: nothing */
    /* what the job has typed there where that is more than a number: moving types a number over it */
    char *formula;
};

struct laying {
    char item[80];
    char kind[80], like[80];  /* "": the item stands already */
    char lay[160];            /* "six on die_plate"; "": as it stands */
    char point[48];
    bool alone;
    BASE_VEC(struct job_typed) typed;
    struct laying_way ways[2];
    bool refused;             /* the last try was, and why */
    struct base_diag why;
};

void laying_done(struct laying *l);
/* What is to be typed at PATH of the item: TEXT is copied, NULL takes away what stands there. */
void laying_put(struct laying *l, const char *path, const char *text);
void laying_forget(struct laying *l, const char *path); /* leaves PATH as it stands */
/* NULL: not among the entries, or taken away */
const char *laying_typed(const struct laying *l, const char *path);
/* Try all of it; without entries the job stands as it was. False: refused. */
bool laying_try(struct tui *t, struct laying *l);
/* Another pattern: takes that nothing is typed for begin with what the handbook says. */
bool laying_pattern(struct tui *t, struct laying *l, const char *pattern, const char *plate);

/* The grabbed point in the try at hand; *NUMBER may be NULL. False: there is none. */
bool laying_point(const struct tui *t, const struct laying *l, struct dieset_point *out, int *number);
/* the group whose points ITEM stands at: itself, or another */
int laying_owner(const struct tui *t, int item);
int laying_item(const struct tui *t, const struct laying *l); /* -1: not there (yet) */
int laying_plate(const struct tui *t, const struct laying *l); /* that the layout is dimensioned on, -1 */
const struct handbook_pattern *laying_has(const struct tui *t, const struct laying *l); /* NULL: none */
/* Take hold of POINT ("": the one at hand, or the first). A freed point, or one that no measure moves, is
   moved alone. */
void laying_grab(struct tui *t, struct laying *l, const char *point);
void laying_next(struct tui *t, struct laying *l, int by);
/* Move by MM, not yet tried. False: the pattern holds it there. */
bool laying_move(struct tui *t, struct laying *l, int axis, double mm);
void laying_turn(struct tui *t, struct laying *l); /* a quarter, not yet tried */
/* The point's own place goes, not yet tried: it stands with its group again. */
void laying_give_back(struct tui *t, struct laying *l);

/* "from the left edge"; of FROM_OWN the pattern's words for its measure. */
void laying_from(const struct tui *t, const struct laying *l, int axis, enum from from, char *buf,
                 size_t size);
bool laying_may(const struct laying *l, int axis, enum from from);
/* What is measured from there, mm. */
double laying_measured(const struct tui *t, const struct laying *l, int axis, enum from from);
/* That number, or whatever formula is typed there, as it stands in the job: "right - 45 mm". NULL: nothing is
 * to be typed. Yours to free(). */
char *laying_text(const struct tui *t, int axis, const struct laying *l, enum from from,
                  const char *measured);
/* "lay/end", "lay/right_back/x". Yours to free(). */
char *laying_entry(const struct tui *t, const struct laying *l, int axis);
/* A length as it is typed: rounded to a millionth of the job's unit. Yours to free(). */
char *laying_length(const struct tui *t, double mm);
#endif
