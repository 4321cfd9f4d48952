/* One binding of a job: texts, cells, quantities, points and holes over one model.
 *
 * A *cell* is whatever has a formula: a property, an own value, a factor, a measure of a lay, a
 * coordinate of a point, a field of a hole. Binding a cell compiles its formula; the names met on
 * the way are bound first, so slots of the model stand in the order in which they are computed. A
 * cell that hangs on the state has two slots, every other one.
 *
 * A *settled* cell (reference, choice, count) is folded: readers see its constant, and its arm of
 * an `if` alone is read. What is folded changes only by binding anew, in a second build beside the first;
 * so a build never changes its shape, and its pointers hold as long as it lives.
 */
#ifndef DIESET_BUILD_H
#define DIESET_BUILD_H

#include "diewright/dieset.h"
#include "dieset/texts.h"

enum cell_what {
    CELL_PROPERTY, CELL_MEASURE, CELL_VALUE, CELL_FACTOR,
    CELL_TAKE, CELL_TURN_ALL,                /* of a lay */
    CELL_X, CELL_Y, CELL_TURN, CELL_OWN_TURN, /* of a point; OWN_TURN: the pattern's, under a turn of all */
    /* of a point in a frame: its place in that, by its pattern or by the item it stands with */
    CELL_PLACE_X, CELL_PLACE_Y,
    CELL_COSINE, CELL_SINE,                  /* of a point's turn; made where they are asked for */
    /* of all points of an item; the latter where they are asked for */
    CELL_MEAN_X, CELL_MEAN_Y, CELL_MEAN_COS, CELL_MEAN_SIN,
    CELL_FRAME_X, CELL_FRAME_Y, CELL_FRAME_TURN, /* of a frame, INDEX its number */
    CELL_FIELD,                              /* of a hole */
    CELL_LINE,                               /* of an outline, as typed: a text */
    CELL_SIDE,                               /* what is typed in it, or follows from that */
    CELL_SUM,                                /* over many rows, for all that ask for them; of no item */
};

struct cell {
    enum cell_what what;
    int id;               /* in build.cells */
    int item;             /* whose text it is; -1: a factor that is not typed over */
    int number;           /* property, factor, take, field; line or side_column */
    int point, index, plate; /* of coordinates and fields, INDEX the side of an outline; -1: none */
    int quantity;         /* -1: not one */
    struct handbook_type type;
    const char *path, *name, *entry, *title;
    const char *typed;    /* NULL: nothing */
    const char *reason;
    const struct formula_tree *tree; /* the handbook's, NULL: none */
    struct formula_tree *parsed;     /* of the typed text */
    struct cell *usual;   /* the handbook's formula beside a typed text */
    bool size;            /* is bought, cut or drilled: may not hang on the state */
    bool can_type;

    /* known when bound */
    unsigned char progress[DIESET_STATES]; /* enum cell_progress */
    bool waiting;         /* bound from the outermost level at this moment */
    bool stateful, folded[DIESET_STATES];
    bool at_point;        /* a field that hangs on the point */
    int slot[DIESET_STATES]; /* -1: folded without one */
    struct formula_value constant[DIESET_STATES]; /* when folded */
};
enum cell_progress { CELL_UNBOUND, CELL_BINDING, CELL_BOUND };

/* own_turn: NULL unless all are turned, or its frame is. In a frame: its number, and the place there, of the
   pattern or (BESIDE, else -1) of that point of the item it stands with. */
struct point {
    const char *name;
    struct cell *x, *y, *turn, *own_turn, *cosine, *sine, *place_x, *place_y;
    int frame, beside;
    bool freed;
};

struct point_frame { struct cell *x, *y, *turn; };

/* What is known of the side of an outline. BY and RADIUS may be typed; AT is typed, or follows from the side
   before. */
enum side_column {
    SIDE_BY_X,
    SIDE_BY_Y,
    SIDE_AT_X,
    SIDE_AT_Y,
    SIDE_RADIUS,
    SIDE_X,
    SIDE_Y,
    SIDE_WAY,
    SIDE_CHORD,
    SIDE_RISE,
    SIDE_ROUND,
    SIDE_SWEEP,
    SIDE_CENTRE_X,
    SIDE_CENTRE_Y,
    SIDE_LENGTH,
    SIDE_CUT,
    SIDE_CUT_X,
    SIDE_CUT_Y,
    SIDE_AREA,
    SIDE_AREA_X,
    SIDE_AREA_Y,
    SIDE_LEFT,
    SIDE_RIGHT,
    SIDE_FRONT,
    SIDE_BACK,
    SIDE_REACH,
    SIDE_COLUMNS
};
/* FREE: not cut along */
enum side_sort { SIDE_START, SIDE_STRAIGHT, SIDE_STRAIGHT_FREE, SIDE_ARC, SIDE_ARC_FREE, SIDE_SORTS };
struct side { struct dieset_line line; enum side_sort sort; struct cell *columns[SIDE_COLUMNS]; };

enum point_progress { POINTS_UNKNOWN, POINTS_COUNTING, POINTS_KNOWN };

struct item {
    const char *name, *title;
    int kind;                 /* -1: a factor */
    int place;                /* among the items of its kind, from 1 on */
    int factor;               /* of the handbook, when KIND is -1 */
    struct cell **properties; /* one for each property of the kind */
    BASE_VEC(struct cell *) values; /* own values, in order */
    bool lays;                /* something is typed at "lay" */
    const struct handbook_pattern *pattern; /* NULL: stands with another item, or not at all */
    int with;                 /* the item whose points these are, or lie as these do in each frame; -1 */
    bool framed;              /* its points lie in the frames of its kind */
    struct point_frame *frames;
    int n_frames;
    int plate;                /* the plate they are dimensioned from, -1 */
    struct cell **takes;      /* one for each take of the pattern */
    struct cell *turn_all, *mean_x, *mean_y, *mean_cos, *mean_sin;
    enum point_progress counted;
    struct point *points;     /* own ones; see item_points() */
    int n_points;
    int *point_numbers;       /* as pseudo items, for sums over points */
    struct cell **lines;      /* of its outline, as typed */
    int n_lines;
    struct side *sides;       /* the start, a side for each further line, and the one that closes it */
    int n_sides;
    int *side_numbers;        /* of all but the start, as pseudo items */
    struct typed_entry *entries; /* in the order of a dump */
    int n_entries;
    int first_quantity, n_quantities;
};

enum hole_field {
    FIELD_X,
    FIELD_Y,
    FIELD_DIAMETER,
    FIELD_FROM_TOP,
    FIELD_START,
    FIELD_DEPTH,
    FIELD_THREAD_DEPTH,
    FIELD_FIT,
    FIELD_THREAD,
    FIELD_NOMINAL,
    FIELD_LENGTH,
    FIELD_WIDTH,
    FIELD_CORNER,
    FIELD_OUTLINE,
    FIELD_TURN,
    FIELD_ROOM,
    FIELD_TIP,
    FIELD_LAND,
    FIELD_RELIEF,
    FIELD_FROM,
    FIELD_TO,
    FIELD_BORE, /* of a body */
    FIELD_COUNT
};

/* The outline of an item, grown, as the last that asked saw it. Holds room for all that it can become. */
struct grown { int item, n; double *key; struct shape_side *sides; };

/* The sides of what is turned at its point, in each state; NULL until it is. */
struct turned { struct shape_side *sides[DIESET_STATES]; };

/* One hole of one plate, or one body that stands on it. A field that does not hang on the point is one cell
   for all points. */
struct hole {
    int plate, item, point, index;
    int end_plate; /* of a body: the plate that its other end moves with */
    const struct handbook_hole *spec;
    struct cell *fields[FIELD_COUNT]; /* NULL: not given */
    struct grown *grown[DIESET_STATES]; /* one for all holes of a line in a plate; NULL: no outline */
    struct turned *turned; /* NULL: is never turned */
};

/* The cell of a table that a slot is picked from, as it was at a moment (model_now()); 0: not yet asked. */
struct slot_cell { long when; int table, row, column; bool any; };
struct plate_holes { int first, count; };
/* Holes as they were last asked for, and when (model_now()); 0: not yet. */
struct made_holes { struct dieset_hole *at[DIESET_STATES]; long *when[DIESET_STATES]; };
struct bound_name { struct cell *cell; int state; };
struct point_place { int item, point; };
struct side_place { int item, side; };
struct rows { BASE_VEC(int) items; };

/* Tables with rows of the job's own, shared by the builds in which these rows are the same. */
struct own_tables { const struct table_set *base; struct table_set *set; char *rows; int users; };

struct build {
    struct dieset *d;
    const struct bind_asks *asks;
    struct texts texts;
    struct table_set *tables;         /* those of the die set, or of OWN */
    struct own_tables *own;           /* NULL: the job has no rows of its own */
    struct base_arena memory;
    struct model *model;
    struct unit_system system;
    size_t garbage_floor;             /* bytes of memory when it was bound */

    BASE_VEC(struct item) items;      /* as texts.items */
    struct base_map item_names;
    struct rows *rows; /* the items of each kind */
    struct cell **factors;            /* one for each factor of the handbook */
    BASE_VEC(struct cell *) cells;    /* all */
    struct base_map sums;             /* formula -> cell, of those of CELL_SUM */
    bool bound;                       /* no cell is added any more */
    struct base_map tallies;          /* what is counted -> its numbers in the next */
    BASE_VEC(int *) tallied;
    BASE_VEC(struct point_place) points; /* all points, as pseudo items count them */
    BASE_VEC(struct side_place) sides;   /* all sides, likewise */
    struct formula_tree *side_trees[SIDE_SORTS][SIDE_COLUMNS]; /* NULL: none is needed */

    struct dieset_quantity *quantities;
    struct cell **quantity_cells;
    int n_quantities;
    /* the conditions under which they are used, compiled when first asked */
    struct formula_code **uses;
    struct base_map paths;            /* path -> quantity */
    struct slot_cell *slot_cells;     /* one for each slot, as they were last asked for; NULL: none was */
    int *slot_quantity;               /* slot -> quantity * DIESET_STATES + state, -1: none */
    BASE_VEC(struct hole) holes;      /* plate by plate */
    struct plate_holes *plate_holes;  /* one for each item */
    struct made_holes *made;
    bool *tapped;                     /* of each item: has one of its holes a thread? */
    BASE_VEC(struct hole) bodies;     /* item by item */
    BASE_VEC(struct hole) cuts;       /* what is cut of the strip, item by item */
    BASE_VEC(struct hole) folds;      /* what is formed of it, item by item */
    struct strip *strip;              /* followed over its stations: cuts.c */
    /* one for each item: the plates, by their place in the stack, in which its points have holes */
    uint64_t *drilled;

    /* while binding */
    BASE_VEC(struct bound_name) path; /* from the outermost cell to the one being bound */
    BASE_VEC(struct bound_name) trail; /* the same of levels given up to bind from the outermost again */
    struct cell *late;                /* too deep: bind this one first */
    struct base_diag why;             /* the innermost reason */
    bool failed;                      /* WHY holds */
    /* formulas of our own */
    struct formula_tree *mean_x, *mean_y, *mean_cos, *mean_sin, *turn_all, *turn_sum, *turn_none, *turn_cos,
        *turn_sin, *no_length, *framed_x, *framed_y, *turned_x, *turned_y, *turn_framed, *beside_x, *beside_y,
        *beside_turn;
};

/* Property numbers that geometry reads. */
struct outline_contract { int opening_grow, punch_grow; };
struct contract {
    int plate, stack, job, strip;
    int length, width, thickness, top, bottom, left, right, front, back, middle_x, middle_y, moves,
        thickness_now;
    int die_plate, blank_die, shut_height; /* blank_die: -1: the handbook knows no such thing */
    struct { int length, shown, force, pressure, mass, work; } units; /* of the job; -1: not there */
    int travel, press, stroke; /* of the stack; kind and property; -1: the handbook knows no such thing */
    /* all but the first -1: it knows no such thing */
    int strip_thickness, strip_width, strip_pitch, strip_way, strip_lift, strip_first, strip_start;
    int seen_off, square_within, one_size_within; /* factors; -1: it knows no such one */
    struct outline_contract *outlines; /* one for each kind */
};

/* What a fast try changed, to undo it. */
struct undo_cell { struct cell *cell; struct cell was; struct dieset_quantity quantity; };
struct undo_item {
    int item;
    struct text_item texts;
    struct typed_entry *entries;
    int n_entries;
    const char *title;
};

enum dieset_try_how { TRY_NONE, TRY_FAST, TRY_ANEW };

/* The build of the last try that bound anew, and the changes that made it of the present one: one like it is
 * tried next, as a step of what is being placed is, and then only the values that differ are edited in it. */
struct spare {
    struct build *build; /* NULL: there is none, or it is the one shown */
    BASE_VEC(struct typed_change) changes;
    struct base_arena memory; /* of their texts */
};

struct dieset {
    const struct handbook *h;
    struct table_set *tables;
    struct table_set *tables_was; /* before a try of others; NULL: none is open */
    struct base_pool *pool;
    struct base_map factors, functions, kinds, patterns;
    struct base_map *properties; /* one for each kind: name -> number */
    struct contract contract;
    struct build *now;
    struct build *was;           /* before a try that bound anew */
    enum dieset_try_how trying;
    struct spare spare;
    long binding, binding_was; /* number of the binding shown, and of `was` */
    long bindings;             /* made so far: no number is given twice */
    BASE_VEC(struct undo_cell) undo_cells;
    BASE_VEC(struct undo_item) undo_items;
    BASE_VEC(struct dieset_move) moves;
};

void spare_free(struct dieset *d); /* edit.c */

/* ---- cell.c ------------------------------------------------------------------------------- */

struct cell *build_cell(struct build *b, const struct cell *proto); /* a copy of PROTO as a new cell */
/* The item whose points ITEM has: itself or the one it stands with. */
const struct item *item_points(const struct build *b, int item);
/* NULL: it is of no property */
const struct handbook_property *cell_property(const struct build *b, const struct cell *c);
/* The range that the handbook allows it, NULL: any. */
void cell_range(const struct build *b, const struct cell *c, const struct formula_tree **low,
                const struct formula_tree **high);
struct formula_value cell_outcome(const struct build *b, const struct cell *c, enum dieset_state s);
/* its handbook formula is one that people type over, not a starting value */
bool has_usual(const struct build *b, const struct cell *c);
double cell_amount(const struct build *b, const struct cell *c, enum dieset_state s); /* NaN: error */
enum dieset_moves plate_moves(const struct build *b, int plate);
/* a length of the first item of KIND, which may be -1, that is never negative; 0: not known */
/* Does the stripper hang on the lower half, round the blanking punch of a compound set? */
bool stripper_is_below(const struct build *b);
double only_way(const struct build *b, int kind, int property, enum dieset_state s);
/* of the first item of KIND, which may be -1; NULL: none */
struct cell *only_cell(const struct build *b, int kind, int property);
typedef bool cell_fn(const struct build *b, const struct cell *c, void *arg);
/* Visitors: a slot of C is CHANGED (a const bool *); C has an error in a state, whose origin is put down. */
bool cell_is_changed(const struct build *b, const struct cell *c, void *changed);
bool cell_has_moved(const struct build *b, const struct cell *c, void *since); /* a moment, model_now() */
struct cell_origin { enum dieset_state state; int slot; };
bool cell_is_broken(const struct build *b, const struct cell *c, void *origin);
/* A reason that begins with the path it is about; keeps the innermost. */
enum base_err bind_fail(struct build *b, struct base_diag *why, const char *fmt, ...) PRINTF_LIKE(3, 4);
enum base_err bind_fail_at(struct build *b, const char *path, const struct base_diag *inner,
                           struct base_diag *why);
enum base_err bind_fail_given_up(struct build *b, struct base_diag *why);

/* ---- names.c: what a formula's names stand for ------------------------------------------ */

/* Numbers that stand for a thing with names of its own where an item is expected. */
enum { POINT_ITEMS = 1 << 24, LAY_ITEMS = 1 << 26, SIDE_ITEMS = 1 << 27, BLOCK_ITEMS = 1 << 28 };

enum where { IN_KIND, IN_FRAME, IN_JOB, IN_LAY, IN_PATTERN, IN_HOLE, IN_SIDE, IN_RULE };

/* From where a formula is read. */
struct frame {
    struct build *b;
    enum where where;
    int item, plate, point, index;    /* -1: none */
    const struct dieset_block *block; /* names of a rule's block, NULL */
    struct cell *usual;
    int variant;                      /* the state that is meant when none is told */
    int told;                         /* inside at_new, at_ground; else -1 */
    int types_only;                   /* in an arm that is never taken */
    bool stateful, at_point;          /* out: the formula hangs on them */
    const char *asked;                /* out: the first name that made it stateful; NULL: none did */
};
void frame_scope(struct frame *f, struct formula_scope *out);

/* What binding asks of those who stand on it: they tell what names mean, and which points there are. */
struct bind_asks {
    void (*scope)(struct frame *f, struct formula_scope *out);
    /* make the points of ITEM known */
    enum base_err (*points)(struct build *b, int item, struct base_diag *why);
};
struct formula_found found_constant(struct formula_type t, double number);

/* ---- rows.c: rows that the job adds to parts tables ------------------------------------------- */

NODISCARD enum base_err build_tables(struct build *b, struct base_diag *why);
void build_tables_done(struct build *b);
/* "table", "line/3" of an item with rows */
bool is_row_entry(const struct build *b, int item, const char *path);

/* ---- expand.c: texts to cells -------------------------------------------------------------- */

NODISCARD enum base_err build_expand(struct build *b, struct base_diag *why);
/* Make the points of ITEM known; may bind counts. */
NODISCARD enum base_err build_points(struct build *b, int item, struct base_diag *why);
/* cosine or sine of its turn; of POINT -1 the mean of all */
struct cell *point_share(struct build *b, int item, int point, bool sine);
void build_entries(struct build *b, int item); /* order the entries of ITEM as a dump has them */
const char *build_title(struct build *b, int item);
/* a title, a note, a reason: no formula hangs on it */
bool is_text_path(const struct build *b, int item, const char *path);
bool asks_usual(const char *text);
struct cell *item_cell(const struct build *b, int item, const char *entry); /* that is typed there, NULL */

/* ---- sides.c: outlines to cells, and back to sides --------------------------------------------- */

NODISCARD enum base_err build_outline(struct build *b, int item, struct base_diag *why);
void build_outlines_done(struct build *b);
int side_cell(const char *name);   /* the column of this name; -1: none */
int side_column(const char *name); /* the same of those that the handbook may read */
/* The outline of ITEM, grown by GROW, from its origin on; *OUT is held by G. 0: it is broken, or leaves no
   room. */
int grown_sides(const struct build *b, struct grown *g, enum dieset_state s, double grow,
                const struct shape_side **out);
struct grown *grown_new(struct build *b, int item);
/* is any cell so that its sides' ends hang on? */
bool outline_any(const struct build *b, int item, cell_fn *is, void *arg);
/* of an error in it, -1: there is none */
int outline_origin(const struct build *b, int item, enum dieset_state s);
/* Measures, in the new state; false: not known. */
/* The sides of ITEM's outline as they are typed, from its origin on, crossing or not; yours to free(). NULL:
   a value is missing, or an arc does not reach. */
struct shape_side *outline_typed(const struct build *b, int item, int *n);
bool outline_crossings(const struct build *b, int item, double *out);
bool outline_inside_corner(const struct build *b, int item, double *out);
bool outline_lost(const struct build *b, int item, double *out);
bool outline_opening_length(const struct build *b, int item, double *out);
bool outline_opening_area(const struct build *b, int item, double *out);
bool outline_punch_length(const struct build *b, int item, double *out);
bool outline_punch_area(const struct build *b, int item, double *out);

/* ---- bind.c: cells to slots ------------------------------------------------------------------ */

NODISCARD enum base_err bind_cells(struct build *b, struct base_diag *why); /* points, then all of them */
/* Bind CELL as far as state S asks. */
NODISCARD enum base_err bind_need(struct build *b, struct cell *c, int s, struct base_diag *why);
/* Compile the text of CELL for state S. */
NODISCARD enum base_err bind_compile(struct build *b, struct cell *c, int s, struct frame *f,
                                     struct formula_code **out, struct base_diag *why);
/* Run STEP(B, I), binding first what it finds too deep. */
typedef enum base_err build_step(struct build *b, int i, struct base_diag *why);
NODISCARD enum base_err bind_step(struct build *b, build_step *step, int i, struct base_diag *why);
/* Compile a settled formula (a repeat, a condition, a match): it must fold to a constant of type WANT. */
NODISCARD enum base_err bind_settled(struct frame *f, const struct formula_tree *t, struct formula_type want,
                                     const char *what, struct formula_value *out, struct base_diag *why);
NODISCARD enum base_err bind_parse(struct build *b, struct cell *c, struct base_diag *why);
/* a bare number where a unit is wanted */
bool cell_bare(const struct build *b, const struct cell *c, struct base_diag *why);

/* ---- walls.c -------------------------------------------------------------------------------------- */

struct shape_box hole_box(const struct dieset_hole *h); /* the box round it, in the plan */

/* ---- cuts.c, strip.c: the strip followed over its stations; measures, false: not known --------------- */

void strip_new(struct build *b);
void strip_free(struct build *b);
/* Look at what it hangs on: true when it had to be worked out anew. Stays so until it is told to be stale. */
bool strip_follow(const struct build *b);
void strip_stale(const struct build *b);
bool cut_off_strip(const struct build *b, int item, double *out);
bool cut_before(const struct build *b, int item, double *out);
bool cut_side_line(const struct build *b, int item, double *out);
bool cut_side_x(const struct build *b, int item, double *out);
bool cut_side_y(const struct build *b, int item, double *out);
bool first_stroke(const struct build *b, int item, double *out);
bool first_half(const struct build *b, int item, double *out);
bool first_start(const struct build *b, int item, double *out);
bool cut_slug(const struct build *b, int item, double *out);
bool cut_middle_x(const struct build *b, int item, double *out);
bool cut_middle_y(const struct build *b, int item, double *out);
bool strip_web(const struct build *b, int item, double *out);
bool strip_edge(const struct build *b, int item, double *out);
bool strip_meets(const struct build *b, int item, double *out);
bool strip_over(const struct build *b, int item, double *out);
bool strip_misses(const struct build *b, int item, double *out);
bool strip_found_cut(const struct build *b, int item, double *out);
bool strip_lane(const struct build *b, int item, double *out);
bool strip_parted(const struct build *b, int item, double *out);
bool strip_narrowest(const struct build *b, int item, double *out);
bool strip_narrowest_at(const struct build *b, int item, double *out);
/* forms.c: of what is formed */
bool form_hole_left(const struct build *b, int item, double *out);
bool form_cut_later(const struct build *b, int item, double *out);
bool form_bottom_cut(const struct build *b, int item, double *out);
bool form_widens(const struct build *b, int item, double *out);
bool form_relief(const struct build *b, int item, double *out);
bool form_leg_tied(const struct build *b, int item, double *out);
bool form_in_steel(const struct build *b, int item, double *out);
/* Is any so of what the folds and the bodies of ITEM hang on, and the holes and heights of all plates? */
bool form_any(const struct build *b, int item, cell_fn *is, void *arg);
/* Is any so of what the measures of ITEM of this kind are worked out of? */
bool cuts_any(const struct build *b, int item, cell_fn *is, void *arg);
/* The same, but of other items of those only that cut what it meets. */
bool cuts_any_met(const struct build *b, int item, cell_fn *is, void *arg);

/* ---- swaps.c: which way round; measures, false: not known ----------------------------------------- */

typedef BASE_VEC(struct shape_spot) spots_vec;
bool taken_share(const struct build *b, int plate, double *out); /* taken.c: 0 to 1 */
bool swap_turned(const struct build *b, int plate, double *out);
bool swap_flipped(const struct build *b, int plate, double *out);
bool swap_all(const struct build *b, int item, double *out);
bool swap_all_shift(const struct build *b, int item, double *out);
/* The points of ITEM, added to OUT; false: one is not known. */
bool points_spots(const struct build *b, int item, int class, spots_vec *out);
/* Is any of the factors so that all of these go by? */
bool swap_any(const struct build *b, cell_fn *is, void *arg);
int swap_size(const struct build *b, int item); /* the property `diameter` of its kind; -1: it has none */

/* ---- along.c: measures along the strip; false: not known ------------------------------------------ */

bool along_found_miss(const struct build *b, int item, double *out);
bool along_found_size(const struct build *b, int item, double *out);
bool along_first(const struct build *b, int item, double *out);
bool along_last(const struct build *b, int item, double *out);
bool along_step(const struct build *b, int item, double *out);
/* Of what the holes found hang on, but for the points that find them. */
bool along_any(const struct build *b, cell_fn *is, void *arg);

/* ---- bodies.c ------------------------------------------------------------------------------------- */

void build_bodies(struct build *b); /* once holes and bodies are made */

/* ---- holes.c, quantity.c, measure.c ------------------------------------------------------------ */

NODISCARD enum base_err build_holes(struct build *b, struct base_diag *why);
/* HOLE as it is; it holds till the die set changes. */
const struct dieset_hole *build_hole(const struct build *b, int hole, enum dieset_state s);
/* The holes of ITEM in PLATE: first number and how many. */
int build_item_holes(const struct build *b, int plate, int item, int *first);
/* Is any so of the cells that H hangs on, its plate's among them? */
bool hole_any(const struct build *b, const struct hole *h, cell_fn *is, void *arg);
/* A field of H as a number, for OUT, which remembers where its first error arose; ABSENT where it is not
   given or an error. */
double hole_field(const struct build *b, const struct hole *h, enum hole_field f, enum dieset_state s,
                  double absent, struct dieset_hole *out);
/* Place and size of a hole or a body, without its depth and edges. */
void hole_shape(const struct build *b, const struct hole *h, enum dieset_state s, struct dieset_hole *out);
void build_holes_done(struct build *b);
void build_quantities(struct build *b);
void build_uses_done(struct build *b); /* use.c */
const struct formula_tree *quantity_when(const struct build *b, int q); /* its condition, NULL: none */
void quantity_refresh(struct build *b, int q); /* its texts, after an edit */
/* Work out measures of geometry again, those that come first (FIRST) or the others, and what follows from
   them; CHANGED[slot] NULL: all, else of plates whose holes changed. */
void build_measures(struct build *b, bool first, const bool *changed);
bool measure_known(const char *name);
bool measure_is_first(const char *name); /* formulas may read it */
/* Does a measure that comes first read what hangs on it? Refused by name. */
NODISCARD enum base_err build_circle(struct build *b, struct base_diag *why);
/* Do formulas read a measure that hangs on slots that are CHANGED? */
/* Do the measures of ITEM hang on slots that are CHANGED? */
bool measures_hang(const struct build *b, int item, const bool *changed);

/* ---- contract.c ---------------------------------------------------------------------------------- */

/* Find in the handbook what is read of it by name; refused when something is missing. */
NODISCARD enum base_err contract_find(const struct handbook *h, struct contract *c, struct base_diag *why);

/* ---- dieset.c ------------------------------------------------------------------------------------ */

void dieset_map_names(struct dieset *d); /* of its handbook */
/* TEXTS are taken in any case; NULL: failed */
struct build *build_new(struct dieset *d, struct texts *texts, struct base_diag *why);
void build_free(struct build *b);

#endif
