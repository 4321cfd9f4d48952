/* diewright/dieset.h - a die set: items, stack, layout, holes, bound to one model
 *
 * Takes a job's texts (items and entries, as the store keeps them), binds them by the
 * handbook's kinds and patterns into quantities of one model, and derives points, holes, order lines and
 * events. An edit is tried first (nothing lost), then kept or dropped. Knows the trade only through the
 * handbook; the names it relies on are those that dieset_check_handbook() asks for.
 * Uses: shape, typed, handbook, model, table, formula, record, unit, base.
 *
 * Settled values (references, choices, counts, order, points) are folded when binding: an edit of one binds
 * again; an edit of any other value recomputes only what hangs on it.
 */
#ifndef DIEWRIGHT_DIESET_H
#define DIEWRIGHT_DIESET_H

#include "diewright/handbook.h"
#include "diewright/model.h"
#include "diewright/shape.h"
#include "diewright/typed.h"

struct dieset;

enum dieset_state { DIESET_NEW, DIESET_GROUND, DIESET_STATES };

/* Kinds and words of the handbook that the rooms above know by name; all else that is looked at, papers and
 * forms are told by the handbook's records. */
#define DIESET_JOB "job"
#define DIESET_STRIP "strip"
#define DIESET_STACK "stack"
#define DIESET_STATION "station"
#define DIESET_STATION_NUMBER "number" /* of a kind with frames: a count, the one station that it works in */
#define DIESET_STATION_LIST "stations" /* of a kind with frames: numbers, the stations that it stands in */
#define DIESET_PLATE "plate"
#define DIESET_FORMING "forming"
#define DIESET_REMARK "remark"
#define DIESET_WAIVER "waiver"
#define DIESET_REVISION "revision"
#define DIESET_JOINED "joined"
#define DIESET_START "start"
#define DIESET_LIMITS "limits"
#define DIESET_ON_SLIDE "with the slide" /* what a plate moves with */
#define DIESET_ON_STRIPPER "stripper"
#define DIESET_ON_BED "with the bed"

/* What the program reads of a handbook by name stands in one list (src/dieset/contract.c): kinds, their
 * properties with their types, choices and lines, and what each is for. False to it, a handbook is refused,
 * with the file and line where it is wrong (none where a kind is missing). dieset_new() asks it as well.
 *   measures:    plate.turned_miss, plate.mirrored_miss, plate.holes_in (as number: holes that fasten),
 *                plate.pair_distance;
 *                a kind with outlines: outline_crossings, inside_corner, opening_length, opening_area,
 *                punch_length, punch_area, outline_lost, opening_rim, opening_left ... opening_back,
 *                slug_left ... slug_back, and its properties outline_turn (angle), outline_mirrored
 *                (yesno), opening_grow, punch_grow (lengths);
 *                a kind with lines `cut`: off_strip, cut_before, slug_area, cut_x, cut_y, side_line, side_x,
 *                side_y, first_stroke, half_stroke (these come before the others, and formulas may read
 *                them), web_left, edge_left, meets_by, overcut, finds_none;
 *                the strip: parted_area, start_at (they come first), narrowest, narrowest_at: of a band of
 *                strip.width whose middle lies on Y 0, followed over its stations, see src/dieset/cuts.c;
 *                any laid kind: all_turned_miss, all_turned_shift (of the points of all items of the kind,
 *                those of one `diameter` alike), all_first, all_last, all_step (likewise, along the feed),
 *                found_miss, found_size (round cuts that come to its points, pitch by pitch), found_cut,
 *                farthest (greatest distance between two of its points), widest_span (the widest span between
 *                neighbouring points). */
NODISCARD enum base_err dieset_check_handbook(const struct handbook *h, struct base_diag *why);

/* TABLES NULL: the handbook's own. The handbook must outlive the die set. */
NODISCARD enum base_err dieset_new(const struct handbook *h, struct table_set *tables, struct dieset **out,
                                   struct base_diag *why);
void dieset_free(struct dieset *d);
const struct handbook *dieset_handbook(const struct dieset *d);
/* another one after each binding anew: ask again when dieset_binding() differs */
struct model *dieset_model(struct dieset *d);
struct table_set *dieset_tables(struct dieset *d);
void dieset_use_tables(struct dieset *d, struct table_set *tables); /* from the next dieset_load() on */
struct unit_system dieset_system(const struct dieset *d); /* the job's unit */

/* Replace everything and bind. On failure the die set is as before; *WHY names item, path and column. */
NODISCARD enum base_err dieset_load(struct dieset *d, const struct typed_item *items, int n_items,
                                    const struct typed_entry *entries, int n_entries, struct base_diag *why);

/* ---- as record text -------------------------------------------------------------- */

/* Items and entries read from a job's text (diewright-job(5)), with the line of each for reasons. */
struct dieset_text {
    BASE_VEC(struct typed_item) items;
    BASE_VEC(struct typed_entry) entries;
    BASE_VEC(int) lines, item_lines; /* one an entry, one an item */
    struct base_arena memory;        /* holds all texts */
    const char *name;
};

/* NAME stands in reasons. Kinds are those of H; whether properties, formulas and references hold is for
 * dieset_load() to say. On failure nothing is left to give back. */
NODISCARD enum base_err dieset_text_read(const struct handbook *h, const char *text, const char *name,
                                         struct dieset_text *out, struct base_diag *why);
void dieset_text_done(struct dieset_text *t);
/* dieset_load() of all that was read; the reason of a refusal names the line. */
NODISCARD enum base_err dieset_text_load(const struct dieset_text *t, struct dieset *d,
                                         struct base_diag *why);
/* The whole die set as record text, stable in order; read again it gives the same. Yours to free(). */
char *dieset_text_write(const struct dieset *d);
char *dieset_text_write_set(const struct dieset *d); /* without what is said of it (dieset_item_words()) */

/* ---- edits --------------------------------------------------------------------- */

/* Try changes: the die set shows the outcome until it is kept or dropped. Refused (unknown name, wrong
 * unit, circle, size that hangs on the state ...): all as before, no try is open. Only one at a time.
 * `before` fields are ignored. */
NODISCARD enum base_err dieset_try(struct dieset *d, const struct typed_change *changes, int n,
                                   struct base_diag *why);
/* The same with other parts tables under the job's own rows; what was used before must outlive the try. */
NODISCARD enum base_err dieset_try_tables(struct dieset *d, struct table_set *tables, struct base_diag *why);
void dieset_keep(struct dieset *d);
void dieset_drop(struct dieset *d);
bool dieset_trying(const struct dieset *d);

/* What differs between before and the try, by rank: quantities that are seen by people (no hole fields).
 * Valid until kept or dropped. A quantity that differs in the ground state only is told with that state. */
struct dieset_move {
    const char *path;
    enum dieset_state state;
    bool stateful;
    struct formula_type type;
    struct formula_value was, is;
};
int dieset_moves(struct dieset *d, const struct dieset_move **moves);
/* Which binding is shown: every binding gets a number that none had before; on drop the one before comes
   back. */
long dieset_binding(const struct dieset *d);

/* ---- texts as typed --------------------------------------------------------------- */

int dieset_item_count(const struct dieset *d);
int dieset_find_item(const struct dieset *d, const char *name); /* -1: none */
const char *dieset_item_name(const struct dieset *d, int item);
/* its title, or its name with blanks for "_" */
const char *dieset_item_title(const struct dieset *d, int item);
/* in the handbook; -1: a factor typed over */
int dieset_item_kind(const struct dieset *d, int item);
/* of a kind of words: said of the job, no part of the die set */
bool dieset_item_words(const struct dieset *d, int item);
int dieset_item_of_kind(const struct dieset *d, const char *kind); /* the first, -1: none */
/* All items of KIND, a number of the handbook's; how many. *ITEMS is the die set's, till it is bound anew. */
int dieset_items_of_kind(const struct dieset *d, int kind, const int **items);
/* The text typed at PATH of ITEM, NULL when nothing is typed there. */
const char *dieset_entry(const struct dieset *d, int item, const char *path);
/* All entries of an item in the order in which a dump writes them. */
int dieset_entries(const struct dieset *d, int item, const struct typed_entry **entries);

/* ---- quantities -------------------------------------------------------------------- */

/* DIESET_UNUSED: typed, and not used as the job stands. */
enum dieset_mark {
    DIESET_TYPED,
    DIESET_FORMULA,
    DIESET_PICKED,
    DIESET_TYPED_OVER,
    DIESET_BROKEN,
    DIESET_BLANK,
    DIESET_UNUSED
};

struct dieset_quantity {
    int item;
    /* "die_plate.thickness", "posts.right_back.x", "die_screws.lay.end", "stripping_share" */
    const char *path;
    const char *name;    /* "thickness", "right_back.x", "lay.end" */
    const char *entry;   /* the entry path that types it: "thickness", "lay/right_back/x" */
    const char *title;   /* for people: "thickness" */
    const struct handbook_property *property; /* NULL: own value, layout, factor */
    const struct formula_tree *low, *high;    /* the range that the handbook allows; NULL: any */
    struct handbook_type type;
    bool can_type;
    bool typed;
    const char *text;    /* the formula that holds: typed or usual; NULL: blank */
    const char *usual;   /* the usual formula's text, NULL: none */
    const char *reason;  /* NULL: none */
    int slot[DIESET_STATES]; /* in the model; equal unless it hangs on the state */
    int usual_slot;      /* of the usual formula while typed over, else -1 */
};

int dieset_quantity_count(const struct dieset *d);
/* Of -1, which dieset_find() tells of a path that is not there: one without a name that nobody can type; its
   value and mark are those of a blank. */
const struct dieset_quantity *dieset_quantity(const struct dieset *d, int q);
int dieset_find(const struct dieset *d, const char *path); /* -1: none */
/* Names near a path that is not there, "a, b or c". */
void dieset_nearest(struct dieset *d, const char *path, struct base_text *out);
/* Factors that are not typed over stand behind those of all items, with item -1. */
/* The quantities of ITEM: first number and how many (they stand together, in the form's order). */
int dieset_item_quantities(const struct dieset *d, int item, int *first);
struct formula_value dieset_value(const struct dieset *d, int q, enum dieset_state s);
enum dieset_mark dieset_mark(struct dieset *d, int q);
/* Stock less need, when its value was picked from a table by size. */
bool dieset_spare(struct dieset *d, int q, double *spare, double *need);
/* The quantity that SLOT belongs to, -1 for hole fields and the like; its state in *S when not NULL. */
/* The cell of a parts table that SLOT's value is: false where it is none. */
bool dieset_slot_cell(struct dieset *d, int slot, int *table, int *row, int *column);
int dieset_of_slot(const struct dieset *d, int slot, enum dieset_state *s);
/* Value as people read it in the job's unit: "25.0 mm", "yes", "no row fits". Returns BUF. */
const char *dieset_print(const struct dieset *d, int q, enum dieset_state s, char *buf, size_t size);
/* TEXT as it is to be stored at PATH: where the whole text is one bare number and a length, angle, force,
 * mass ... is wanted, the job's unit is put behind it ("25" -> "25 mm"), so that it never changes its
 * meaning; so it is behind each bare number of a sum ("40 - 4"). Where a text is wanted, what begins with a
 * digit, what is no formula, and a name that stands for nothing is one and gets its quotes ("1.2379", "M10",
 * "our own press"); so does a word to choose from, however it is written ("slide"). Yours to free(). */
char *dieset_complete(const struct dieset *d, const char *path, const char *text);
/* A whole sentence why Q has an error value: "posts.length: no length of guide_post reaches 468 mm ...". */
void dieset_explain_error(struct dieset *d, int q, enum dieset_state s, struct base_text *out);
/* Is Q used as the job stands (its property's `when`)? It is worked out in either case, but what is not used
 * moves nothing that is, and is neither shown nor moved nor typed. */
bool dieset_applies(struct dieset *d, int q);
/* What people see: that which is used, and what was typed while it was: kept and marked, it counts again when
   it is used again. Not a let of a kind's text, which stands in why-trees alone. */
bool dieset_shown(struct dieset *d, int q);
/* Has ITEM an outline, or would it use one? */
bool dieset_outlined(struct dieset *d, int item);
/* One sentence why PATH is not used and what would use it, as the job stands with CHANGES. No try is open. */
void dieset_tell_unused(struct dieset *d, const char *path, const struct typed_change *changes, int n,
                        struct base_text *out);
/* The quantity that people mean by PATH; refused when there is none (near names are told) and when it is not
   shown. */
NODISCARD enum base_err dieset_named(struct dieset *d, const char *path, int *q, struct base_diag *why);
/* Short hand by path for rooms above; error value FORMULA_EMPTY when there is no such path. */
struct formula_value dieset_get(const struct dieset *d, const char *path, enum dieset_state s);
/* NaN: error or none */
double dieset_number(const struct dieset *d, int item, const char *property, enum dieset_state s);
/* "" none */
const char *dieset_text(const struct dieset *d, int item, const char *property);
/* -1 none */
int dieset_reference(const struct dieset *d, int item, const char *property);

/* ---- outlines ---------------------------------------------------------------------------- */

/* One line of an outline as it is typed: "at X, Y" (the first line only), "line to X, Y", "arc to X, Y radius
 * R left" or "... right", then "long" for an arc of more than half a circle; "by" instead of "to" counts from
 * the line before; "no cut" at the end: the strip is not cut along it. X, Y and R are formulas; where they
 * stand in the text: START and LENGTH. */
enum dieset_line_sort { DIESET_AT, DIESET_STRAIGHT, DIESET_ARC };
enum dieset_line_part { DIESET_PART_X, DIESET_PART_Y, DIESET_PART_RADIUS, DIESET_PARTS };
struct dieset_line {
    enum dieset_line_sort sort;
    bool by, left, long_way, cuts;
    struct { int start, length; } parts[DIESET_PARTS]; /* length 0: not there */
};
/* Refused with the reason and the place of the fault; formulas are not read. */
NODISCARD enum base_err dieset_read_line(const char *text, struct dieset_line *out, struct base_diag *why);
/* How many lines are typed of ITEM's outline; the Nth, counted from 1, is the entry "outline/N". */
int dieset_outline_lines(const struct dieset *d, int item);
/* The slots of what is typed in Q, a line of an outline: at most DIESET_PARTS; how many. 0: Q is no such
   line. */
int dieset_line_slots(const struct dieset *d, int q, int out[DIESET_PARTS]);
/* What is wrong with the outline of ITEM as it stands, one sentence into OUT: it encloses nothing, an arc
 * cannot reach, it crosses itself, it leaves no room for the clearance. False: nothing is, or nothing is
 * drawn. */
bool dieset_outline_flaw(const struct dieset *d, int item, struct base_text *out);

/* ---- points and holes ----------------------------------------------------------------- */

struct dieset_point { const char *name; double x, y, turn; bool freed, broken; };
int dieset_point_count(const struct dieset *d, int item);
/* The item whose points ITEM stands at: itself, or the one that it is laid with. */
int dieset_points_owner(const struct dieset *d, int item);
void dieset_point(const struct dieset *d, int item, int point, struct dieset_point *out);
/* The slot of a part of Q, a coordinate of a point in a frame: NAME is "frame_x", "frame_y", "frame_turn"
 * (of its frame), "place_x" or "place_y" (in it). -1: Q is none, or has none. */
int dieset_point_part(const struct dieset *d, int q, const char *name);

struct dieset_hole {
    int plate, item, point, index;
    const struct handbook_hole *spec;
    double x, y;          /* plan, mm */
    double diameter;      /* of a circle; of a rectangle, and of the box round an outline, the diagonal */
    double length, width, corner; /* of a rectangle, else 0 */
    /* rad, about x, y, of a rectangle or an outline; a turned rectangle has sides too */
    double turn;
    /* of an outline, or of what is turned, anticlockwise, from x, y on; else NULL. Held by the die set till
       it changes */
    const struct shape_side *sides;
    int n_sides;
    double left, right, front, back; /* the box round it, in the plan */
    double start, depth;  /* from the face it is made from; depth to the far face when right through */
    /* plate left under its end as its depth is given: negative where that is more than there is of the
       plate */
    double left_under;
    double thread_depth;  /* 0: as deep as the hole */
    double tip;           /* height of the drill's point below its depth, 0: a flat floor */
    double land, relief;  /* straight so deep, then wider all round by the tangent of relief, rad */
    double low, high;     /* the same as heights over the plate's bottom face */
    double edge;          /* centre to the nearest plate edge, NaN: not known */
    double rim;           /* its rim to the nearest plate edge; negative: it runs out; NaN: not known */
    double nominal;       /* thread or pin diameter, 0 none */
    double room;          /* diameter of the flange or clamp that stands over it, 0 none */
    /* broken: a field has an error value; an unknown depth counts as right through */
    bool through, from_top, broken;
    bool nowhere;         /* its place or its size is not known: no pair, no wall */
    /* slot in which the error arose that leaves something of it unknown, -1: none did */
    int origin;
    const char *operation, *fit, *thread; /* "" none */
    char letter;
};
int dieset_hole_count(const struct dieset *d);
void dieset_hole(const struct dieset *d, int hole, enum dieset_state s, struct dieset_hole *out);
/* The holes of PLATE: first number and how many (they stand together). */
int dieset_plate_holes(const struct dieset *d, int plate, int *first);
/* Those of them that ITEM makes: they stand together as well. */
int dieset_item_holes(const struct dieset *d, int plate, int item, int *first);
/* Has measure NAME of ITEM moved since that moment (model_now())? */
bool dieset_measure_moved(const struct dieset *d, int item, const char *name, long since);
/* Has anything moved since that moment (model_now()) that the holes of PLATE hang on, or that bodies do? */
bool dieset_holes_moved(const struct dieset *d, int plate, long since);
bool dieset_bodies_moved(const struct dieset *d, long since);
/* Wall between two holes of a plate: negative when they cut; *SHARED: depth that both have. */
double dieset_wall(const struct dieset_hole *a, const struct dieset_hole *b, double *shared);
/* Does the hole, or its rim, cover the place? */
bool dieset_covers(const struct dieset_hole *h, double x, double y);
/* Does all of A, seen from above, lie in B? */
bool dieset_lies_in(const struct dieset_hole *a, const struct dieset_hole *b);
/* Visit pairs of holes of PLATE that share depth, are not of one fastener on one axis, and whose wall is
   under WITHIN. */
typedef void dieset_pair_fn(void *arg, int hole_a, int hole_b, double wall, double shared);
void dieset_pairs(const struct dieset *d, int plate, enum dieset_state s, double within,
                  dieset_pair_fn *visit, void *arg);

/* Two neighbouring plates that do not move against each other. MEMBER is the one that stands further from its
 * half's shoe: the lower one of those that move with the slide, else the upper one; BASE the other. What
 * joins them are the items with holes that fasten in both, in however many groups they were typed. */
struct dieset_joint { int upper, lower, member, base; };
/* The joints from the top, one for each call: begin with *AT 0. False: there are no more. */
bool dieset_joint(const struct dieset *d, int *at, struct dieset_joint *out);
/* Of a joint, in the plan: screw_gap, the widest span between two neighbouring screws of all that join it;
 * screw_spread, the share of its member's length or width, the lesser, that they reach over;
 * false: it is not known, or there are no two. */
bool dieset_joint_measure(const struct dieset *d, const struct dieset_joint *j, const char *name,
                          double *out);

/* What a part of an item fills outside of plates: a flange, a clamp, a spring, the part of a punch that is
   out of its plate. */
struct dieset_body {
    /* its outline, as a hole's; `plate` is the one that it stands on and moves with, `operation` its name */
    struct dieset_hole plan;
    double from, to;         /* heights of its ends over the lower shoe's bottom face, ram at shut */
    double low, high;        /* the same, the lower first */
    int end_plate;           /* its end `to` moves with this one: `plan.plate` unless it is a spring's */
    double bore;             /* what is no larger and on its axis may stand inside of it, 0 nothing */
    /* else place, size or heights are not known, because of the error in plan.origin */
    bool known;
};
int dieset_body_count(const struct dieset *d);
void dieset_body(const struct dieset *d, int body, enum dieset_state s, struct dieset_body *out);
/* The same with the ram RAM over shut: each end as high as the plate that it moves with has taken it. */
void dieset_body_raised(const struct dieset *d, int body, enum dieset_state s, double ram,
                        struct dieset_body *out);
/* Two bodies that are not of one part, that have a height in common where neither is inside a plate drilled
 * for it, and less than some distance between them. What moves up with the slide or the stripper passes on
 * its way what stands still: the heights are those where they have most in common, at the lowest such place
 * of the ram. */
struct dieset_meeting {
    int a, b;
    double wall;      /* between their outlines in the plan; negative: they run into each other */
    double low, high; /* what they have in common, over the lower shoe's bottom face */
    double ram;       /* at this height of the ram over shut */
};
typedef void dieset_meeting_fn(void *arg, const struct dieset_meeting *m);
/* BODIES: all of them, as dieset_body() tells them in state S; those not known are passed over. */
void dieset_meetings(const struct dieset *d, const struct dieset_body *bodies, enum dieset_state s,
                     double within, dieset_meeting_fn *visit, void *arg);

/* A measure by its name ("turned_miss" of a plate ...), worked out by geometry; base units. */
bool dieset_measure(const struct dieset *d, int item, const char *name, enum dieset_state s, double *out);
/* The slot in which an error arose that stands in the way of ITEM's measures; -1: none does. */
int dieset_measure_origin(const struct dieset *d, int item, enum dieset_state s);

/* ---- plates and strip -------------------------------------------------------------------- */

/* What a plate moves with. */
enum dieset_moves { DIESET_MOVES_BED, DIESET_MOVES_STRIPPER, DIESET_MOVES_SLIDE };
/* A plate in base units, by the names of the contract above; NaN: not known. Heights over the lower shoe's
   bottom face, ram at shut; `thickness` as it was made, `thickness_now` as it is in the state. */
struct dieset_plate {
    double length, width, thickness, thickness_now, bottom, top, left, right, front, back, middle_x, middle_y;
    enum dieset_moves moves;
    bool strip; /* the strip runs over it: the die plate, a stripper */
};
/* Nothing is known where ITEM (-1: none) is no plate. */
struct dieset_plate dieset_plate(const struct dieset *d, int item, enum dieset_state s);
int dieset_die_plate(const struct dieset *d); /* -1: none */
double dieset_shut_height(const struct dieset *d, enum dieset_state s); /* NaN: not known */
/* How far PLATE is above its place at shut with the ram RAM over shut: the bed's stay, the stripper rises
   once its travel is used up, the slide's rise at once. */
double dieset_rise(const struct dieset *d, int plate, enum dieset_state s, double ram);
/* The strip: on the die face, or as high as it is lifted with the ram RAM over shut. LOW NaN: not known. */
struct dieset_strip { int item; double low, high, thickness, width; };
struct dieset_strip dieset_strip(const struct dieset *d, enum dieset_state s, double ram);
/* ---- stations --------------------------------------------------------------------------- */

enum { DIESET_MOST_STATIONS = 999 };

/* A station of the strip: ITEM works in it, -1: nothing does; NUMBER 0: it has none, and stands where its
 * places were typed. X: the place that the number gives along the plan, mm, NaN: none. */
struct dieset_station { int number, item; double x; };
/* In the order of their numbers, all that work in one behind each other; how many, at most ROOM. */
int dieset_stations(const struct dieset *d, struct dieset_station *out, int room);
bool dieset_has_number(const struct dieset *d, int item); /* is it of a kind that works in a station? */
int dieset_station_number(const struct dieset *d, int item); /* 0: none */
/* The numbers of the stations in which ITEM (pilots, lifters) stands: how many, at most ROOM; -1: it is of no
   kind that lists them. */
int dieset_station_list(const struct dieset *d, int item, int *out, int room);
bool dieset_stands_at(const struct dieset *d, int item, int number);

/* What is at a place of the strip as the tools come down, in the new state: beside it, whole, cut by a
 * station before, cut here (*ITEM: by what), or parted from what comes after it. */
enum dieset_metal {
    DIESET_NO_STRIP,
    DIESET_WHOLE,
    DIESET_GONE,
    DIESET_CUT,
    DIESET_LOOSE,
    DIESET_METALS /* how many */
};
enum dieset_metal dieset_strip_at(const struct dieset *d, double x, double y, int *item);
/* What of the flat strip at this place has been formed by the station there or by one before: a word of
 * handbook.h, HANDBOOK_FOLD_..., *ITEM: by what; NULL: nothing has. */
const char *dieset_formed_at(const struct dieset *d, double x, double y, int *item);
/* Visits the lines along which the strip is cut, or FORMED: those round what is bent and formed, each with
 * its item and its sides at their places in the plan. */
typedef void dieset_line_fn(void *arg, int item, const struct shape_side *sides, int n);
void dieset_strip_lines(const struct dieset *d, bool formed, dieset_line_fn *visit, void *arg);
/* The box of the first piece that is parted from the strip; false: only slugs come loose, or nothing is
 * known. */
bool dieset_parted_box(const struct dieset *d, struct shape_box *out);
bool dieset_has_folds(const struct dieset *d, int item); /* is it of a kind with lines for that? */
bool dieset_cuts_strip(const struct dieset *d, int item); /* has it lines that are cut of the strip? */

/* ---- what is formed, in section ------------------------------------------------------- */

/* What is formed at a point of ITEM, lying in the flat strip where the item works: WHAT is one of
 * HANDBOOK_FOLD_...; its middle, half of it ALONG the direction TURN and ACROSS (of what is round both its
 * radius). A bend is turned by ANGLE, to the inside RADIUS, and its base lies on the side BASE of it, 1 to
 * the left of TURN, 0: both its legs swing. What is no bend stands HEIGHT out of the strip's face. Up is
 * positive. mm, rad. */
struct dieset_fold {
    int item, point, base;
    const char *what;
    double x, y, turn, along, across, angle, radius, height;
};
/* Of all items, in their order, in the new state; those with a value missing are left out. Yours to free. */
struct dieset_fold *dieset_folds(struct dieset *d, int *n);

/* A line in the flat strip: a place on it, and the unit vector of its direction. */
struct dieset_ray { double x, y, along, across; };
/* A place of the section along a line: OFF along it, HIGH over the flat strip's middle, and which place of
 * the flat strip that is, FLAT along the line. */
struct dieset_bent { double off, high, flat; };
enum { DIESET_BENT_MOST = 400 };
/* The middle of the metal of a strip so THICK along LINE, from FROM to TO of it, by what of N folds it
 * crosses, as far as the SHARE (0: flat, 1: all) of them is formed; it lies flat at its place 0. How many
 * places, in order; the wall of a collar ends at one that is NaN. Own derivation: a bend turns the middle of
 * the metal round its angle, with its radius and half the thickness. */
int dieset_profile(const struct dieset_fold *folds, int n, const struct dieset_ray *line, double from,
                   double to, double thick, double share, struct dieset_bent out[DIESET_BENT_MOST]);
/* The part whose flat outline lies in BOX, all formed, in section along the feed, or ACROSS it, through the
 * first fold that such a section shows, from a place that stays flat. How many places, as above; 0: none. */
int dieset_part_profile(struct dieset *d, const struct shape_box *box, bool across,
                        struct dieset_bent out[DIESET_BENT_MOST]);
/* The metal that the body FORMED of a forming station stands for, in section along the feed, as far as the
 * SHARE of it is formed: OFF is the plan's x, HIGH over the lower shoe's bottom face, the strip's lower face
 * flat at LOW there. Of a bend what swings, from its tangent on. How many places; 0: such a section shows
 * nothing of it. */
int dieset_formed_profile(struct dieset *d, const struct dieset_body *formed, double low, double share,
                          struct dieset_bent out[DIESET_BENT_MOST]);
/* How far what ITEM forms has come with the ram RAM over shut: 0 until its punch touches, 1 at shut; in
 * between in proportion to the punch's way, which is an own simplification. */
double dieset_formed_share(struct dieset *d, int item, double ram);

/* ---- stack, orders, events -------------------------------------------------------------- */

/* Plates from the top down; heights over the lower shoe's bottom face at shut. */
struct dieset_layer { int plate; double bottom, top, thickness; };
int dieset_stack(const struct dieset *d, enum dieset_state s, struct dieset_layer *out, int room);

/* MASS of one piece, base units, 0 when not told; PRICE of one piece, NaN when not told; TABLE and the texts
 * "" when there is none. ITEM: the first that brings the line; USED: the names of all that do. */
struct dieset_order {
    int item;
    const char *designation, *size, *material, *note, *table;
    const char *raw, *finish, *hardness, *wanted, *remark, *used;
    const char *prices; /* a line of the list that has none of this text */
    double pieces, mass, spares, price;
    bool broken;
};
/* Evaluate all order lines; yours: dieset_orders_free(). Lines that are the same part are joined. */
struct dieset_orders { struct dieset_order *at; int count; struct base_arena memory; };
void dieset_orders(struct dieset *d, struct dieset_orders *out);
void dieset_orders_free(struct dieset_orders *o);

/* TREE as the text of ITEM (-1: of the job) has it, in state S, worked out at once; *TYPE is its type. What
   cannot be bound is an error value: the handbook has checked it. */
struct formula_value dieset_run(struct dieset *d, const struct formula_tree *tree, int item,
                                enum dieset_state s, struct formula_type *type);
/* SAYS of ITEM (-1: of the job) with its values as people read them, "?" for those that cannot be worked out;
   added to OUT. */
void dieset_say(struct dieset *d, const struct handbook_template *says, int item, struct base_text *out);

/* What is to be stamped for ITEM, as its kind says, added to OUT; false: nothing. */
bool dieset_stamp(struct dieset *d, int item, struct base_text *out);
/* What can hurt, each text once: the first caution of no kind, which defers, then those of ITEM's kind, and
 * with DRILLED also of the kinds that have holes in the plate ITEM; ITEM -1: of all kinds that stand in the
 * job; last the others of no kind. Returns how many, at least handbook_caution_count(); *OUT is an array of
 * them, yours to free(). */
int dieset_cautions(const struct dieset *d, int item, bool drilled, const struct handbook_caution ***out);
/* What is ordered and counted in no mass, because its line or its item tells none or a size is not known:
 * "Riser (risers); Lifter pin (end lifters)", added to OUT; false: there is nothing of the sort. */
bool dieset_uncounted(struct dieset *d, struct base_text *out);

/* What no finding covers of the set as it stands, each text once, in the order of the handbook's kinds.
   Yours: dieset_unjudged_free(). SOURCE points into the handbook. */
struct dieset_unjudged_line { char *text; const char *source; };
struct dieset_unjudged { struct dieset_unjudged_line *at; int count; };
void dieset_unjudged(struct dieset *d, struct dieset_unjudged *out);
void dieset_unjudged_free(struct dieset_unjudged *u);

struct dieset_event { char title[120]; double at; bool broken; int item; };
/* In the order in which they happen as the ram comes down (highest first, those without height last); at one
 * height in the order of the job's items. Heights that differ by less than this are one. */
#define DIESET_SAME_HEIGHT 1e-6 /* mm */
int dieset_events(struct dieset *d, enum dieset_state s, struct dieset_event *out, int room);

/* What changes as the ram moves, with the ram RAM mm above shut: engagements, gaps, spring forces, as the
 * kinds' `motion` lines give them, item by item. */
struct dieset_motion {
    int item;
    const struct handbook_motion *motion;
    struct formula_value value;
    double least, most, whole; /* NaN: none, or it cannot be worked out */
    bool judged;               /* at this height it has to keep to them */
    double spare;              /* to the nearer of the two, negative: short or over; NaN: none */
};
int dieset_motions(struct dieset *d, enum dieset_state s, double ram, struct dieset_motion *out, int room);
/* The words beside it at that height; nothing when it has none. */
void dieset_motion_note(struct dieset *d, const struct dieset_motion *m, enum dieset_state s, double ram,
                        struct base_text *out);

/* ---- formulas of rooms above, bound here -------------------------------------------------- */

/* Names that a block adds, as arguments by number. A name may have two parts ("hole.diameter", "a.x"): the
 * first then stands for no item of the job, only for these. "plate", "hole.plate", "a.plate", "b.plate" need
 * not be listed: they are the constant PLATE handed to dieset_compile, so that hole.plate.thickness can be
 * read. */
struct dieset_named { const char *name; int item; };
struct dieset_block {
    const char *const *names; const struct formula_type *types; int count;
    const struct dieset_named *items; int n_items; /* names that stand for items of the job: "upper" */
};
/* Bind TREE as the item's own text would be (ITEM -1: none), in state S. `plate` PLATE (-1: none). WANT as
   formula_compile. */
NODISCARD enum base_err dieset_compile(struct dieset *d, const struct formula_tree *tree, int item, int plate,
                                       enum dieset_state s, const struct dieset_block *block,
                                       const struct formula_type *want, struct formula_code **out,
                                       struct base_diag *why);
/* A bound template, printed with arguments. */
struct dieset_words;
NODISCARD enum base_err dieset_words_new(struct dieset *d, const struct handbook_template *t, int item,
                                         int plate, enum dieset_state s, const struct dieset_block *block,
                                         struct dieset_words **out, struct base_diag *why);
void dieset_words_free(struct dieset_words *w);
void dieset_words_print(struct dieset *d, const struct dieset_words *w, const double *arguments,
                        const unsigned char *errors, struct base_text *out);

#endif
