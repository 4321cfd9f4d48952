/* diewright/place.h - laying out on a job: a group, or one point of it, is moved, measured from an edge,
 * freed, turned, laid out in another pattern, or added
 *
 * Knows no screen: numbers and sentences. A struct place holds entries that are not yet taken ("lay/end" ->
 * "25 mm"); place_try() opens a try of all of them on the job, so that its die set shows the outcome, and the
 * caller takes or drops that as any other (job_take, job_drop). Everything is kept by name: item numbers
 * change with every try. One point is *grabbed*. Moved with its group, the pattern's measure that shifts it
 * along (axis 0) or across (axis 1) is typed; moved alone, its own place is. Which measure that is, is found
 * by trying: no pattern is known by name here.
 *
 * Lengths are mm in the plan of the group's plate, new state, unless said otherwise.
 */
#ifndef DIEWRIGHT_PLACE_H
#define DIEWRIGHT_PLACE_H

#include "diewright/job.h"

enum { PLACE_ALONG, PLACE_ACROSS, PLACE_AXES };

/* From where a place is dimensioned. OWN: as the pattern does, or alone: from the point's place in its group.
 * LOW and HIGH are the left and right, or front and back edges; ORIGIN is the plan's zero. */
enum place_from {
    PLACE_FROM_OWN, PLACE_FROM_LOW, PLACE_FROM_HIGH, PLACE_FROM_CENTRE, PLACE_FROM_ORIGIN, PLACE_FROMS
};

struct place_way {
    bool moves;            /* else the pattern holds it */
    int take;              /* of the pattern: what is typed; -1: the point's own place */
    double per;            /* mm of the point for one mm of the measure */
    /* moved mm for mm: the edge that the pattern holds it from, "" the plan's zero. NULL: neither */
    const char *base;
    /* and what the pattern adds to that besides the measure: " - apart / 2"; NULL: nothing */
    char *rest;
    enum place_from from;
    double start, at;      /* mm in the plan, when grabbed and now */
    double own;            /* the measure when grabbed; alone: the place in the group */
    char *held;            /* what had been typed when grabbed; NULL: nothing */
    /* what the job has typed there where that is more than a number: moving types a number over it */
    char *formula;
};

struct place {
    struct job *job;          /* not owned; as is its die set */
    struct dieset *d;
    char item[80];
    char kind[80], like[80];  /* of a group that is added; "": the item stands already */
    char lay[160];            /* "six on die_plate"; "": as it stands */
    char point[48];
    bool alone;
    bool framed[PLACE_AXES];  /* its measures count from a station, not from what the plan counts from */
    BASE_VEC(struct job_typed) typed;
    struct place_way ways[PLACE_AXES];
    bool refused;             /* the last try was, and why */
    struct base_diag why;
};

/* ---- entries and their try ---- */

/* ITEM of J; kind and like are set for one that does not stand yet. No point is in hand. */
void place_init(struct place *p, struct job *j, const char *item);
void place_done(struct place *p);
/* What is to be typed at PATH of the item: TEXT is copied, NULL takes away what stands there. */
void place_put(struct place *p, const char *path, const char *text);
void place_forget(struct place *p, const char *path); /* leaves PATH as it stands */
/* NULL: not among the entries, or taken away */
const char *place_typed(const struct place *p, const char *path);
/* Try all of it; without entries the job stands as it was. False: refused, `why` says why. */
bool place_try(struct place *p);

/* ---- what is there, in the try at hand ---- */

/* The grabbed point; *NUMBER may be NULL. False: there is none. */
bool place_point(const struct place *p, struct dieset_point *out, int *number);
/* The group whose points ITEM stands at: itself, or another. */
int place_owner(const struct dieset *d, int item);
int place_item(const struct place *p);  /* -1: not there (yet) */
int place_plate(const struct place *p); /* that the layout is dimensioned on, -1 */
const struct handbook_pattern *place_has(const struct place *p); /* NULL: none */
/* Has the group anything that a turn would move: holes beside its axes, or such that are not round? */
bool place_turns(const struct place *p, enum dieset_state s);

/* ---- taking hold, moving ---- */

/* Take hold of POINT ("": the one at hand, or the first). A freed point, or one that no measure moves, is
   moved alone. Tries, so item numbers change. */
void place_grab(struct place *p, const char *point);
void place_next(struct place *p, int by);
/* Move by MM, not yet tried. False: the pattern holds it there. */
bool place_move(struct place *p, int axis, double mm);
void place_turn(struct place *p, double by_deg); /* to the left, not yet tried */
/* The point's own place goes, not yet tried: it stands with its group again. */
void place_give_back(struct place *p);
/* The point alone, and what is moved now is its own; where it is alone, with its group again. Tried and
   grabbed. */
void place_free(struct place *p);
/* Another pattern on PLATE, tried: measures that nothing is typed for begin with what the handbook says,
   rounded to the job's large step of the plan. False: refused. */
bool place_pattern(struct place *p, const char *pattern, const char *plate);

/* ---- from where ---- */

/* "from the left edge"; of PLACE_FROM_OWN the pattern's words for its measure. */
void place_from_words(const struct place *p, int axis, enum place_from from, char *buf, size_t size);
/* "left", "right", "front", "back", "middle_x", "middle_y"; "x", "y" from the plan's zero; "along", "across"
   as the pattern has it, or off the place in the group. False: no such word. */
bool place_from_named(const char *word, int *axis, enum place_from *from);
const char *place_from_name(int axis, enum place_from from);
bool place_may(const struct place *p, int axis, enum place_from from);
/* What is measured from there, mm. */
double place_measured(const struct place *p, int axis, enum place_from from);
/* That number, or whatever formula is typed there, as it stands in the job: "right - 45 mm". NULL: nothing is
 * to be typed. Yours to free(). */
char *place_text(const struct place *p, int axis, enum place_from from, const char *measured);
/* The point MEASURED (a length or a formula; "": as usual) from there, not yet tried. */
NODISCARD enum base_err place_measure(struct place *p, int axis, enum place_from from, const char *measured,
                                      struct base_diag *why);
/* Another measure of the pattern, by its name; "": as usual. Not yet tried. */
void place_take(struct place *p, const char *name, const char *text);
/* "lay/end", "lay/right_back/x". Yours to free(). */
char *place_entry(const struct place *p, int axis);
/* A length as it is typed: rounded to a millionth of the job's unit. Yours to free(). */
char *place_length(const struct place *p, double mm);

/* ---- reasons ---- */

/* Is a point's own place typed over that in its group, and nobody has said why? */
bool place_lacks_reason(const struct place *p);
void place_give_reason(struct place *p, const char *text); /* for all of those, not yet tried */

/* ---- a group that is added ---- */

/* The pattern that it begins with: of the group that it is like, or of its kind; NULL: none. */
const char *place_first_pattern(const struct place *p);
/* Does the kind ask for an item here: a plate that the group is to hold, a group that it stands with? */
bool place_asks_item(const struct handbook_property *q);
/* What stands there most likely: what a group of the kind in PLATE names, else what the kind begins with,
   else PLATE. An item, -1. */
int place_likely_item(const struct place *p, const struct handbook_property *q, int plate,
                      enum dieset_state s);
/* Items of KIND: plates from the top down, others in the job's order. Returns how many, ROOM at most. */
int place_items(const struct dieset *d, int kind, enum dieset_state s, int *out, int room);
/* Has ITEM a hole in PLATE? */
bool place_stands_in(const struct dieset *d, int item, int plate, enum dieset_state s);

/* ---- what stands about the point in hand ---- */

/* A row (or column) of what stands already, or a centre line. */
struct place_line {
    bool there;
    double at;      /* mm */
    char letter;    /* 0: the plate's centre line */
};
struct place_wall { double wall; char letter; int item, plate; };
enum { PLACE_WALLS = 3 };
struct place_near {
    /* near by where it was moved to, but not on it; on it already. Along, across */
    struct place_line hint[PLACE_AXES], on[PLACE_AXES];
    struct place_wall walls[PLACE_WALLS]; /* the thinnest in the plate shown, each letter once */
    int n_walls;
    struct place_wall other;          /* thinner than those, in another plate; plate -1: none */
};
/* In PLATE; REACH: how far off, along and across, a line is offered, mm. */
void place_near(const struct place *p, int plate, enum dieset_state s, const double reach[PLACE_AXES],
                struct place_near *out);

#endif
