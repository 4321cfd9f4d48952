/* diewright/handbook.h - the trade as data: kinds, functions, rules, worked examples
 *
 * Reads data/handbook/NN-*.txt (record text) into checked structures. Everything that
 * knows the trade stands there; this room knows only what a kind, a rule, a pattern is. Each
 * formula is checked against declared types when loading, with no job at hand.
 * Uses: model, formula, table, typed, record, unit, base.
 * Ownership: the handbook owns all it hands out; texts and trees live as long as it does.
 *
 * The file formats (all keys) are described in man/diewright-handbook.5.
 */
#ifndef DIEWRIGHT_HANDBOOK_H
#define DIEWRIGHT_HANDBOOK_H

#include "diewright/formula.h"
#include "diewright/record.h"
#include "diewright/table.h"

/* ---- declared types --------------------------------------------------------- */

/* What a property, argument or measure is declared to be. */
enum handbook_sort {
    HANDBOOK_NUMBER, /* with .type.dim */
    HANDBOOK_TEXT,
    HANDBOOK_DATE,   /* a text: a day of the calendar as base_is_date() has it, or none */
    HANDBOOK_YESNO,
    HANDBOOK_CHOICE, /* a text out of choices; settled */
    HANDBOOK_COUNT,  /* a whole number; settled */
    HANDBOOK_NUMBERS, /* a text that lists whole numbers, as formula_numbers() reads it; settled */
    HANDBOOK_FIGURES, /* a text with figures in it, as formula_figures() finds them; settled */
    HANDBOOK_ITEM,   /* a reference to an item of .type.kind; settled */
};
struct handbook_type { enum handbook_sort sort; struct formula_type type; };
bool handbook_settled(struct handbook_type t);
/* "length", "choice", "plate" ...: for dumps and help. Returns BUF. */
struct handbook;
const char *handbook_type_name(const struct handbook *h, struct handbook_type t, char *buf, size_t size);
/* A type as texts write it; kinds by their names. */
NODISCARD enum base_err handbook_parse_type(const struct handbook *h, const char *text,
                                            struct handbook_type *out, struct base_diag *why);

/* A text with formulas in braces: "{length as mm} x {size}". Piece without tree: plain words. Of
 * "{when known(x)}, {x} deep{end}" the first brace is a condition; what stands up to the second is not told
 * where it does not hold. */
struct handbook_piece {
    const char *text;
    const struct formula_tree *tree;
    const char *as; /* unit name or NULL */
    int only;       /* of a condition: how many pieces behind it are told only where it holds; else 0 */
};
struct handbook_template { const char *text; const struct handbook_piece *pieces; int n_pieces; };

/* The words that may stand below a record, in the order of the manual: word WORD (0 ...) of record RECORD (0
 * ...), *SEVERAL (may be NULL): several such lines may stand. WORD -1: the record itself, "hole". NULL: there
 * is no such record or word. */
const char *handbook_vocabulary(int record, int word, bool *several);

/* Where a record stands in its file. */
struct handbook_place { const char *file; int line; };

/* ---- sources ------------------------------------------------------------------ */

/* What a source is; of no class are lines in a shop's own words. */
enum handbook_class {
    HANDBOOK_UNSORTED,
    HANDBOOK_STANDARD,
    HANDBOOK_REGULATION,
    HANDBOOK_BOOK,
    HANDBOOK_ARTICLE,
    HANDBOOK_LECTURE,
    HANDBOOK_OWN_DERIVATION,
    HANDBOOK_COMMON_PRACTICE,
    HANDBOOK_CLASSES
};
/* How its print was read: the print itself, only its answer in an open companion, only quoted in another
 * text, or not again. What has no print (own derivation, common practice) has none of these. */
enum handbook_seen {
    HANDBOOK_NO_PRINT,
    HANDBOOK_SEEN,
    HANDBOOK_ANSWER_SEEN,
    HANDBOOK_SEEN_QUOTED,
    HANDBOOK_MEMORY,
    HANDBOOK_READINGS
};
const char *handbook_class_text(enum handbook_class c);
const char *handbook_seen_text(enum handbook_seen s); /* "seen", "answer seen", "seen quoted", "memory", "" */
bool handbook_is_print(enum handbook_class c);        /* standard, regulation, book, article, lecture */

/* A print that many records cite. */
struct handbook_work { const char *name, *title; enum handbook_class class; };

/* One line "source" of a record, in the order in which records are read. */
struct handbook_source {
    enum handbook_class class;
    enum handbook_seen seen;
    const char *work; /* what is cited, without the place in it: one text for one print */
    const char *text; /* the whole of it, without class and seen */
    const char *what, *name; /* "rule", "press-window": the record that leans on it */
    struct handbook_place place;
};

/* One source, however often it is cited: how many times, and how many of these from memory. */
struct handbook_cited { enum handbook_class class; const char *work; int times, memory; };

/* ---- factors, functions, patterns ------------------------------------------- */

struct handbook_factor {
    const char *name, *title, *help;
    const char *formerly; /* the name that it had before, which is still understood; NULL: none */
    /* all its sources as one text; how their prints were read: "", a word of handbook_seen_text, "in part".
       So in all records */
    const char *source, *seen;
    struct handbook_type type;
    const struct formula_tree *tree;
    const struct formula_tree *low, *high; /* allowed range, NULL when none */
    struct handbook_place place;
};

struct handbook_function {
    struct formula_function f;
    const char *help, *source, *seen;
    const char *const *parameter_help; /* one a parameter, NULL when none */
    struct handbook_place place;
};

/* USUAL holds until something is typed; START is only what laying out on the plan begins with. Both may be
   NULL. */
struct handbook_take {
    const char *name, *title, *help;
    struct handbook_type type;
    const struct formula_tree *usual, *start;
    const struct formula_tree *low, *high; /* allowed range, NULL when none */
};
struct handbook_point { const char *name; const struct formula_tree *x, *y, *turn; };
struct handbook_pattern {
    const char *name, *title, *help;
    const struct handbook_take *takes; int n_takes;
    const struct handbook_point *points; int n_points; /* named points; one unnamed when repeat is set */
    /* each point is to be given its own place: that is not typed over a formula */
    bool free;
    /* counted from the point of a frame: a station's in a kind with frames, else the plan's origin */
    bool framed;
    /* a count, with `index` from 0 in the point; points are then p1, p2 ... */
    const struct formula_tree *repeat;
    struct handbook_place place;
};

/* ---- kinds --------------------------------------------------------------------- */

enum handbook_how {
    HANDBOOK_ASKED,   /* typed in; the tree is a starting value */
    HANDBOOK_USUAL,   /* has a formula, may be typed over */
    HANDBOOK_FOLLOWS, /* has a formula, cannot be typed */
    /* worked out by geometry under this name (turned_miss ...); rules and why may read it, formulas may
       not */
    HANDBOOK_MEASURE,
    /* a named part of the kind's formulas: only its own kind's text reads it, only why-trees show it; its
       type is its formula's */
    HANDBOOK_LET,
};
/* How far a size may be off as it is made: from LOW to HIGH, added to what is drawn; without LOW, HIGH each
   way. HIGH NULL: nothing is told. */
struct handbook_limits { const struct formula_tree *low, *high; };

struct handbook_property {
    const char *name, *title, *help, *source, *seen;
    const char *group;          /* heading it stands under in the form, NULL: as before */
    enum handbook_how how;
    struct handbook_type type;
    const struct formula_tree *tree; /* NULL: not filled in */
    const char *const *choices; int n_choices;
    const char *from_table, *from_column; /* the picker's, NULL when none */
    const struct formula_tree *low, *high;
    int decimals;               /* -1: as the unit's */
    /* where it is used: it is shown, moved and typed there only; NULL: everywhere */
    const struct formula_tree *when;
    /* `given`, its own or its kind's: part, strip, press; no cure changes it unasked */
    bool given;
    /* `first`: a measure that is worked out before the others, so that formulas may read it */
    bool first;
    /* `detail`: shown in the form only when all is asked for -> false; else true */
    bool plain;
    struct handbook_limits limits;
    /* it follows, and is made as the drawing has it: what is off elsewhere does not move it */
    bool drawn;
    struct handbook_place place;
};

struct handbook_match {
    const char *column;
    enum formula_relation relation;
    const struct formula_tree *tree;
};
/* Behind a line `fold`: the bend itself, its rectangle's length along the bend line; what is turned by a bend
 * and stays flat; what is stretched or drawn; a rim that a hole is widened to; and what stays flat inside of
 * a form. */
#define HANDBOOK_FOLD_BEND "bend"
#define HANDBOOK_FOLD_LEG "leg"
#define HANDBOOK_FOLD_FORM "form"
#define HANDBOOK_FOLD_COLLAR "collar"
#define HANDBOOK_FOLD_BOTTOM "bottom"
/* Behind a line `body`: a plate itself, told once more for its outline, and others are held against that. */
#define HANDBOOK_BODY_PLATE "plate"
struct handbook_hole {
    const char *operation;      /* counterbore, clear, tap, ream, bore, pocket, opening ... */
    const char *title;
    const struct formula_tree *in; /* one item ... */
    const char *each;           /* ... or each item of this kind that fits the matches */
    const struct handbook_match *matches; int n_matches;
    bool fastens;               /* holds or locates: counts for turn-proof */
    bool after_hardening;       /* finished once its plate is hard, where that is hardened; others before */
    bool together; /* made with the plates lying on each other in which its item has such a hole */
    char letter;                /* on the plan; 0: the kind's */
    const struct formula_tree *when;   /* settled; NULL: always */
    const struct formula_tree *repeat; /* several round one point, NULL: 1 */
    const struct formula_tree *x, *y, *diameter, *from_top, *start, *depth, *thread_depth, *fit, *thread,
        *nominal, *length, *width, *corner, *outline, *turn, *room, *tip, *land, *relief;
    /* length and width not NULL: a rectangle with corner radius instead of a circle of `diameter`; outline
     * not NULL: the item's own outline instead, larger all round by so much */
    /* turn: about its place, anticlockwise seen from above, of what is not round; NULL: not turned */
    /* room: diameter of the round body - flange, clamp - that stands over the hole on the plate's face, NULL:
       none */
    /* tip: of the point that a drill leaves below the depth, where that is not right through; NULL: flat */
    /* land: straight from the face it is made from, below it wider all round by the tangent of relief; NULL:
       straight all the way */
    bool open;                  /* may break the edge of its plate */
    /* A line `body` is written like a hole and read into the same structure: what a part of the item fills
     * instead of what is cut for it. `in` is then the plate that it stands on and moves with. */
    /* heights of its ends over the lower shoe's bottom face, ram at shut; NULL: a hole */
    const struct formula_tree *from, *to;
    const struct formula_tree *bore;      /* diameter of what may stand inside of it, NULL: nothing */
    const struct formula_tree *end_on;    /* the plate that its end `to` moves with; NULL: `in` */
    /* A line `cut` is written likewise: the line along which the strip is cut at each point; and a line
     * `fold`: what of the flat strip is formed there. */
    bool cuts, folds;
    struct handbook_template
        note; /* of a hole: what chart and drawing say of it beside; no pieces: nothing */
    struct handbook_place place;
};
struct handbook_order {
    struct handbook_template designation, size, material;
    const struct formula_tree *when, *pieces, *mass; /* mass of one piece; any may be NULL */
    const char *table;          /* parts table it leans on, NULL */
    struct handbook_template note;
    struct handbook_template raw, finish, hardness; /* as it is sawn; faces and edges */
    const struct formula_tree *spares, *price;      /* pieces more that are wanted; of one piece */
    struct handbook_template wanted, remark;        /* by which day; a buyer's words */
    /* a line of the list, designation and size, whose price, day and remark this is; no line of its own */
    struct handbook_template prices;
};
/* What no finding covers of an item of the kind, a few words, while WHEN (NULL: always) holds. */
struct handbook_unjudged {
    struct handbook_template says;
    const struct formula_tree *when;
    const char *source, *seen; /* as of a caution */
};
struct handbook_event { struct handbook_template title; const struct formula_tree *at, *when; };
/* A value that changes as the ram moves: its formulas may name `ram`, the height above shut. LEAST and MOST
 * are what it has to keep to while JUDGED holds (NULL: always); WHOLE is what a full bar of it stands for.
 * Each may be NULL. */
struct handbook_motion {
    const char *name, *title, *help;
    struct handbook_type type;
    const struct formula_tree *tree, *when, *least, *most, *whole, *judged;
    struct handbook_template note;
    struct handbook_place place;
};

/* What a new item has typed in it: each formula is worked out in the job when the item is added, and its
 * value typed at ENTRY. Of "lay" the formula is the plate, and PATTERN stands before it. */
struct handbook_begun {
    const char *entry, *pattern;
    const struct formula_tree *tree;
    struct handbook_place place;
};

/* A paper of rows: each tells something of the job, or of each item of a kind, in the columns of the paper. A
 * number column's cells are numbers, in the job's units; a counted one numbers the rows; one that no row
 * fills
 * is there to be written in by hand. */
struct handbook_paper_column {
    const char *name, *heading;
    bool number, counted, noted; /* noted: an item's note, under its row */
};
struct handbook_paper_row {
    int kind;         /* a row for each item of it; -1: one row, of the job */
    const char *part; /* the heading that it stands under, NULL: none */
    const struct formula_tree *when;       /* NULL: always */
    const struct handbook_template *cells; /* one a column; no pieces: empty */
    struct handbook_place place;
};
/* A sentence of the job, KIND -1, or of each item of a kind. */
struct handbook_paper_line { int kind; struct handbook_template says; };
struct handbook_paper {
    const char *name, *title, *help, *source, *seen;
    const struct handbook_paper_column *columns; int n_columns;
    const struct handbook_paper_row *rows; int n_rows;
    const struct handbook_template *above; int n_above; /* sentences of the job */
    const struct handbook_paper_line *below; int n_below;
    bool cautions; /* ends in all cautions of what stands in the job, not only in those of no kind */
    struct handbook_place place;
};

/* A chain of sizes that add up to what matters when the set is put together: VALUE, which the limits of what
 * it hangs on move, and links, each of which is added with limits of its own. */
struct handbook_link { const char *title; struct handbook_limits limits; struct handbook_place place; };
struct handbook_chain {
    const char *name, *title, *help, *source, *seen;
    int kind;                      /* of each of its items; -1: once */
    const struct formula_tree *when, *value;
    const struct handbook_link *links; int n_links;
    struct handbook_place place;
};

/* What can hurt where a kind is worked at, as one text; SOURCE and SEEN as in all records. */
struct handbook_caution {
    const char *text, *source, *seen;
    const char *on; /* names of the papers that tell it; NULL: all that tell cautions */
};

/* Where the points of a framed pattern, or of the item that one stands with, are laid out: each of `repeat`
 * frames (settled, NULL: one) has its place in the plan and its turn (NULL: none). Their formulas may name
 * `index`, the number of the frame from 0, and with_x, with_y, the place of the first frame of the item that
 * it stands with. */
struct handbook_frame {
    const struct formula_tree *repeat, *x, *y, *turn; /* x NULL: the kind has no frames */
    struct handbook_place place;
};

struct handbook_kind {
    const char *name, *title, *plural, *help;
    const struct handbook_caution *cautions; int n_cautions;
    struct handbook_template stamp; /* what is to be stamped on the set or kept with it; no pieces: nothing */
    bool single;                /* exactly one in a job, named after its kind */
    bool lays;                  /* items stand at points */
    struct handbook_frame frame;
    /* items may have an outline of lines and arcs: `outline` is a table of its sides */
    bool outlines;
    const struct formula_tree *outlines_when; /* where they use it; NULL: everywhere */
    bool rows;                  /* its items are rows that the job adds to parts tables */
    bool given;                 /* all that can be typed of it is given with the job */
    bool values;                /* the kind of a job's own variables: properties are the job's */
    /* lines of words, nothing that is computed: remarks and their like */
    const char *const *words; int n_words;
    char letter;                /* on plan and section; 0: none */
    const struct handbook_property *properties; int n_properties;
    const struct handbook_hole *holes; int n_holes;
    const struct handbook_hole *bodies; int n_bodies;
    const struct handbook_hole *cuts; int n_cuts;
    const struct handbook_hole *folds; int n_folds;
    const struct handbook_order *orders; int n_orders;
    const struct handbook_event *events; int n_events;
    const struct handbook_unjudged *unjudged; int n_unjudged;
    const struct handbook_motion *motions; int n_motions;
    const struct handbook_begun *begun; int n_begun;
    struct handbook_place place;
};

/* ---- rules and examples ---------------------------------------------------------- */

enum handbook_grade { HANDBOOK_NOTE, HANDBOOK_CAUTION, HANDBOOK_FAULT };
const char *handbook_grade_text(enum handbook_grade g);

enum handbook_over {
    HANDBOOK_ONCE,
    HANDBOOK_EACH_KIND,
    HANDBOOK_EACH_JOINT, /* two neighbouring plates that do not move against each other */
    HANDBOOK_EACH_HOLE,
    HANDBOOK_EACH_PAIR,
    HANDBOOK_EACH_BODIES,
    HANDBOOK_EACH_TYPED,
    HANDBOOK_EACH_WEAK,
    HANDBOOK_ALL_WEAK,
    HANDBOOK_EACH_GUESS
};
enum handbook_states { HANDBOOK_NEW = 1, HANDBOOK_GROUND = 2, HANDBOOK_BOTH = 3 };

struct handbook_rung {
    enum handbook_grade grade;
    enum formula_relation relation; /* at least, at most, more than (MORE), less than (LESS) */
    bool yesno;                     /* tree is the condition itself */
    const struct formula_tree *tree;
    struct handbook_template says;  /* pieces NULL: the rule's */
};
struct handbook_rule {
    const char *name, *title;       /* title: its own short words on screens */
    const char *help, *source, *seen;
    enum handbook_over over;
    bool first;                     /* looked at first: told in a review also while it holds */
    int kind;                       /* of EACH_KIND */
    enum handbook_states states;
    /* where that rule tells a fault of the same two items, one of this is told with it; NULL: alone */
    const char *told_with;
    const struct formula_tree *when, *value, *within;
    const struct handbook_rung *rungs; int n_rungs;
    struct handbook_template says;
    struct handbook_template tells;  /* beside its figures, whether or not it holds; no pieces: nothing */
    const char *const *mends; int n_mends; /* "length" (of the item) or "stack.risers" */
    struct handbook_place place;
};
/* "mend none": no value clears it, something has to be added or said, and none is tried. */
bool handbook_mends_nothing(const struct handbook_rule *rule);

/* A name that a block adds, and its type. */
struct handbook_name { const char *name; struct formula_type type; };

struct handbook_try {
    const struct formula_tree *tree, *expect, *within; /* expect has the tree's type; within NULL: exact */
    bool disagrees;             /* a slip in the source: must NOT agree */
    bool ground;                /* in the ground state (chains) */
};
struct handbook_setting { const char *path; const struct formula_tree *tree; };
struct handbook_example {
    const char *name, *title, *help, *printed, *source, *seen;
    const char *like;           /* template job for a chain, NULL: plain functions */
    const struct handbook_setting *settings; int n_settings;
    const struct handbook_try *tries; int n_tries;
    struct handbook_place place;
};

/* glossary; also: what other shops say, NULL: nothing else */
struct handbook_word { const char *name, *also, *help, *source, *seen; };
/* Where the sources differ about a figure or a form: help says how, `taken` what the program takes unless
   told otherwise, and `chosen_by` names what makes it another: factors, properties ("stack.work_form"),
   tables. */
struct handbook_difference {
    const char *name, *help, *source, *seen;
    const char *taken;
    const char *const *chosen_by; int n_chosen_by;
    struct handbook_place place;
};

/* ---- loading ------------------------------------------------------------------------ */

/* Read FOLDER/handbook/ *.txt in the order of their names and FOLDER/parts/ *.csv as they are asked for. The
   texts that the program was built with were checked at the end of its build (handbook_check()); all others
   are checked here. */
NODISCARD enum base_err handbook_load(const char *folder, struct handbook **out, struct base_diag *why);
/* Everything that names another record and every formula, against what there is. */
NODISCARD enum base_err handbook_check(struct handbook *h, struct base_diag *why);
/* What tells N texts, in this order, from all others. */
uint64_t handbook_sum(const char *const *texts, int n);
uint64_t handbook_own_sum(const struct handbook *h); /* of the texts that H was read from */
/* handbook_load() from texts, checked whole (tests; a handbook of a few lines). Tables' files are looked for
   in FOLDER/parts, NULL: none. */
NODISCARD enum base_err handbook_read(const char *const *texts, const char *const *names, int n,
                                      const char *folder, struct handbook **out, struct base_diag *why);
void handbook_free(struct handbook *h);

struct base_pool *handbook_pool(const struct handbook *h);
struct table_set *handbook_tables(const struct handbook *h); /* shipped tables; the pool is shared */

int handbook_factor_count(const struct handbook *h);
const struct handbook_factor *handbook_factor(const struct handbook *h, int i);
/* by a former name too; -1: none; so for all find */
int handbook_find_factor(const struct handbook *h, const char *name);
int handbook_function_count(const struct handbook *h);
const struct handbook_function *handbook_function(const struct handbook *h, int i);
int handbook_find_function(const struct handbook *h, const char *name);
int handbook_pattern_count(const struct handbook *h);
const struct handbook_pattern *handbook_pattern(const struct handbook *h, int i);
int handbook_find_pattern(const struct handbook *h, const char *name);
int handbook_kind_count(const struct handbook *h);
const struct handbook_kind *handbook_kind(const struct handbook *h, int i);
int handbook_find_kind(const struct handbook *h, const char *name);
/* Are the items of kind OF among the rows that PROPERTY of KIND sums up, itself or in what it names of its
 * own kind? Told from the formulas alone: "stack.whole_mass" of each kind that total(all.mass, rides = ...)
 * has. */
bool handbook_sums(const struct handbook *h, int kind, int property, int of);
int handbook_find_property(const struct handbook_kind *k, const char *name);
/* its place among the lines of words, -1: none */
int handbook_word_line(const struct handbook_kind *k, const char *name);
/* Cautions of no kind: they hold wherever one of a kind is shown. The first, which is always there, defers to
 * local codes and the licensed person and stands before all others. */
int handbook_caution_count(const struct handbook *h);
const struct handbook_caution *handbook_caution(const struct handbook *h, int i);
int handbook_paper_count(const struct handbook *h);
const struct handbook_paper *handbook_paper(const struct handbook *h, int i);
int handbook_find_paper(const struct handbook *h, const char *name);
int handbook_chain_count(const struct handbook *h);
const struct handbook_chain *handbook_chain(const struct handbook *h, int i);
int handbook_find_chain(const struct handbook *h, const char *name);
int handbook_rule_count(const struct handbook *h);
const struct handbook_rule *handbook_rule(const struct handbook *h, int i);
int handbook_find_rule(const struct handbook *h, const char *name);
int handbook_example_count(const struct handbook *h);
const struct handbook_example *handbook_example(const struct handbook *h, int i);
int handbook_word_count(const struct handbook *h);
const struct handbook_word *handbook_word(const struct handbook *h, int i);
int handbook_source_count(const struct handbook *h);
/* of records, then of parts tables */
const struct handbook_source *handbook_source(const struct handbook *h, int i);
/* Each source once, class by class, those of no class last; what leans on it, added to OUT: "rule wall (seen:
 * p. 3), tail"; and all of them counted, as a sentence. */
int handbook_cited_count(const struct handbook *h);
const struct handbook_cited *handbook_cited(const struct handbook *h, int i);
void handbook_cited_leans(const struct handbook *h, const struct handbook_cited *c, struct base_text *out);
void handbook_sources_sum(const struct handbook *h, struct base_text *out);
int handbook_difference_count(const struct handbook *h);
const struct handbook_difference *handbook_difference(const struct handbook *h, int i);
/* How they differ, what is taken, what another is chosen by: as sentences, added to OUT. */
void handbook_difference_text(const struct handbook_difference *d, struct base_text *out);

/* The type of a column that the table `outline` of a kind with outlines has: x y (where the side ends),
 * length, cut (what of it is cut), cut_x cut_y (cut times its middle), area area_x area_y (under the side,
 * seen from the origin; areas times middle), left right front back (how far it goes), reach (by how much an
 * arc's radius is larger than it must be). False: there is none. */
bool handbook_side_type(const char *column, struct formula_type *out);

/* The names that rule R's block adds to those of its subject, in the order in which their values are to be
 * handed over: measures of the kind, of the joint; hole.x ...; a.x ..., b.x ..., wall ... (of two holes, of
 * two bodies); typed_over ...; table .... `value` and `limit` come behind them, and `plate`, `hole.plate`,
 * `a.plate`, `b.plate`, of a joint `upper`, `lower`, `member`, `base`, are items that whoever binds the
 * rule knows.
 * Returns how many; writes at most ROOM. */
int handbook_rule_names(const struct handbook *h, const struct handbook_rule *r, struct handbook_name *out,
                        int room);

/* A formula with factors and handbook functions only: the calculator and the plain examples.
 * EXPRESSION's value and type; the comma of a number alone is its point; texts come back as pool numbers. */
NODISCARD enum base_err handbook_eval(const struct handbook *h, const char *expression,
                                      struct formula_value *value, struct formula_type *type,
                                      struct base_diag *why);
NODISCARD enum base_err handbook_eval_tree(const struct handbook *h, const struct formula_tree *t,
                                           const struct formula_type *want, struct formula_value *value,
                                           struct formula_type *type, struct base_diag *why);
/* Evaluate TRY: *GOT and *EXPECTED in base units; true when it agrees as it should (a `disagrees`
 * must not). For examples without `like`. */
bool handbook_try_run(const struct handbook *h, const struct handbook_try *t, struct formula_value *got,
                      double *expected, struct formula_type *type);

/* "series = job.series": the match that a size of TABLE is picked by where its formula names no such column;
 * NULL: none. For struct formula_scope. */
/* The text of TREE taken apart, if it is one call of a function of the handbook: the text given for each of
 * its parameters, NULL its usual one. handbook_call_done() frees it. False, and nothing kept: it is none. */
enum { HANDBOOK_ARGUMENTS = 24 };
struct handbook_call { const struct handbook_function *function; char *arguments[HANDBOOK_ARGUMENTS]; };
bool handbook_call(const struct handbook *h, const struct formula_tree *tree, struct handbook_call *out);
void handbook_call_done(struct handbook_call *c);

const struct formula_tree *handbook_apart(const struct handbook *h, int table);

/* A value as text in sentences: numbers with unit, texts bare, "yes"/"no", the error's words. */
const char *handbook_print(const struct handbook *h, struct formula_value v, struct formula_type t,
                           struct unit_system s, char *buf, size_t size);

/* Names of one block for templates, rules, holes: tells the types of names that the block adds, e.g. `hole`,
 * `value`. The rooms above bind the same trees with scopes of their own; this is what they must offer:
 *   in a kind's text: its properties and measures, `this`, `name` (the item itself, printed as its title),
 *   `ground`,
 *       single kinds by name; where it lays: `points` (count), `point_x`, `point_y`, `turn` and in repeats
 *       `index`; mean_x, mean_y, mean_cos, mean_sin (means over its points: places, cosine and sine of their
 *       turns); where it has an outline: the table `outline` with one row a side, columns as in
 *       handbook_side_type();
 *   in a frame: as in its kind, index, with_x, with_y (see handbook_frame);
 *   in a pattern: its takes, left right front back middle_x middle_y length width (of the plate), `index`;
 *   in a hole or a body: as in its kind, and `plate` (the plate drilled, or stood on), x y (the point's
 *   place), turn, index; in a rule over a kind: as in the kind, and `value`, `limit` in says;
 *   each hole: hole.diameter depth start x y edge (number) operation fit thread (text) nominal, hole.plate,
 *   hole.item,
 *       hole.rim (least distance of its rim from the plate's edges), hole.room (diameter of what stands over
 *       it), hole.through (yesno), hole.rectangular (yesno), hole.left (plate left under its end; negative:
 *       it is deeper than the plate);
 *   each two holes: a.* and b.* as hole.*, wall, shared, plate, largest_hole, same_item, a_inside and
 *       b_inside (yesno; one lies whole in the other);
 *   each two bodies: a.* and b.* (x y diameter low high item title), wall, shared (height that both have),
 *   low high (its ends),
 *       ram (where that is so);
 *   each typed over: typed_over (text: the path), has_reason (yesno), usual_text (text), typed_text (text);
 *   each weak table (a fault leans on rows from memory): table (text), standard (text), quantities (text);
 *   all weak tables at once:
 *       the same, each text of them all;
 *   each guess (an estimated or invented figure that could turn what holds): figure (text), sureness (text),
 *   rules (text).
 */

#endif
