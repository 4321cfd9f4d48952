/* tui/tui.h - what the files of this room share
 *
 * The main screen has four panes; above it lies a pile of levels (a field, a list, a full view), each left
 * with Esc. A key goes to the top level first, then through the one key table (keys.h) to a function act_*,
 * which asks the top level, or the pane that has the keys, to do it.
 * What the cursor stands on is kept by name (item, path), so that it survives every new binding; indices into
 * the die set are looked up again in tui_settle() whenever `changed` has gone up.
 */
#ifndef DIEWRIGHT_TUI_TUI_H
#define DIEWRIGHT_TUI_TUI_H

#include "diewright/terminal.h"
#include "diewright/tui.h"
#include "tui/keys.h"
#include "tui/layout.h"

enum { PATH_MOST = 240 };

enum pane { PANE_STACK, PANE_SWAP, PANE_PLAN, PANE_FINDINGS, PANES };
enum swap { SWAP_FORM, SWAP_PLAN, SWAP_SECTION };
enum move { MOVE_UP, MOVE_DOWN, MOVE_LEFT, MOVE_RIGHT, MOVE_PAGE_UP, MOVE_PAGE_DOWN, MOVE_FIRST, MOVE_LAST };

/* A cursor in N lines of which some are seen. */
struct list { int at, top, n; };
void list_move(struct list *l, enum move m, int page);
void list_fit(struct list *l, int rows); /* keeps `at` valid and seen */

/* What stands at a cell, once the cursor is on it. */
enum hit { HIT_NOTHING, HIT_MOVED, HIT_HERE }; /* here: it was on it already */
/* Row Y of the screen in BODY, where the list is seen. */
enum hit list_hit(struct list *l, struct area body, int y, int x);

/* ---- levels ------------------------------------------------------------------- */

struct level;
struct level_ops {
    unsigned place; /* of the key table */
    bool full;      /* hides the main screen */
    void (*draw)(struct tui *t, struct level *l);
    /* Keys and pastes before the table; true when it was meant for the level alone. May be NULL. */
    bool (*event)(struct tui *t, struct level *l, const struct terminal_event *e);
    void (*move)(struct tui *t, struct level *l, enum move m);
    void (*far)(struct tui *t, struct level *l, enum move m); /* H J K L: larger steps */
    void (*enter)(struct tui *t, struct level *l);
    void (*leave)(struct tui *t, struct level *l); /* NULL: just taken off */
    void (*tab)(struct tui *t, struct level *l, int by);
    /* puts the cursor on what stands at a cell; may be NULL */
    enum hit (*at)(struct tui *t, struct level *l, int y, int x);
    const char *(*path)(struct tui *t, struct level *l); /* the value at its cursor, for `w`; may be NULL */
    void (*settle)(struct tui *t, struct level *l);      /* the die set was bound anew; may be NULL */
    /* while `pending` and no key waits: a little work, then back */
    void (*idle)(struct tui *t, struct level *l);
    /* before a picture: what all keys since the last asked for */
    void (*catch_up)(struct tui *t, struct level *l);
    void (*done)(struct level *l);
};
/* pace: between two calls of idle; listed: where its list stood in the last picture */
struct level { const struct level_ops *ops; bool pending; int pace_ms; struct area listed; };
enum { LEVELS = 12 };

void tui_push(struct tui *t, struct level *l);
void tui_pop(struct tui *t); /* the top one, freed */
struct level *tui_top(struct tui *t); /* NULL: the main screen */

/* ---- state -------------------------------------------------------------------------- */

struct stack_row { int matrix; int item; }; /* matrix row, or -1 and an item of the list below */
struct form_row { int quantity; const char *heading; };
/* review: it lay over it */
struct spot { char item[80], path[PATH_MOST]; enum pane focus; enum swap swap; bool review; };

struct lesson;

struct tui {
    struct tui_options o;
    struct job *job;
    struct dieset *d;
    struct terminal *terminal;
    struct paint p;
    struct layout at;
    double cell_ratio;
    bool ascii;
    bool at_work;   /* what takes long may be given up */
    bool following; /* but not by keys: what others did is shown as it came */
    bool idling;    /* by any key: nobody asked for it */
    int leaving; /* -1: stays; else the exit status */
    int key;     /* the one being dealt with */
    bool mouse;  /* its reports come */
    int mouse_y, mouse_x; /* of the click being dealt with; -1: it is none */
    bool asked_to_leave; /* q was pressed once over an unsaved edit */

    enum dieset_state state;
    enum pane focus;
    enum swap swap;
    bool zoomed; /* the pane with the keys has the body */
    bool all;    /* details in forms as well */

    long changed, settled; /* values may differ since; last looked up */
    long binding;

    struct view_matrix matrix, before; /* before: as it stood before the open try */
    BASE_VEC(struct stack_row) rows;
    struct list stack;
    int column; /* of the matrix, -1: the plate itself */
    char item[80];

    BASE_VEC(struct form_row) form_rows;
    struct list form;
    char form_item[80], path[PATH_MOST];

    struct area form_body; /* where the form's rows stood in the last picture */

    int plan_plate; /* follows the stack's cursor */
    int plan_shown; /* the plate drawn: follows when the cursor rests */
    double plan_scale, plan_x, plan_y; /* 0 mm a column: all of the plate; else the point in the middle */
    double plan_drawn;  /* mm a column of the last picture */
    char plan_point[48]; /* the point of `item` that the plan's cursor is on; none of that name: its first */
    bool plan_follow;   /* the cursor has moved: the next picture shows it */
    bool see_through, from_below;
    double ram;

    char revision[REVIEW_LETTER]; /* the latest, "" before the first */
    int edits_since;
    const struct finding *findings;
    int n_findings;
    struct list finding;
    struct base_map moved; /* paths that the open try moves, to the number of the move */

    BASE_VEC(struct spot) visited;
    int spot; /* where in visited */
    char search[80];
    char review_at[PATH_MOST + 20]; /* the line of the review that its cursor was on last */

    struct base_text message;
    struct base_text reason_for; /* what the edit did whose reason is asked for, "": it was another time */
    bool trouble;
    int message_level; /* how many levels there were when it was said; hidden while there are more */
    char **last_moves; /* lines of the last taken edit */
    int n_last_moves;
    struct base_text last_title;
    char **typed; /* commands typed before, oldest first */
    int n_typed;

    struct lesson *lesson; /* NULL until practice is asked for */

    struct level *levels[LEVELS];
    int n_levels;
    /* the key at hand is answered where the cursor is: panes beside it may follow when it rests */
    bool quick;
    /* the next picture shows all; else, and with quick keys alone, some panes stay as they are */
    bool whole;
    bool behind;     /* they stayed */
    /* one number for all titles of the form's rows; of the form drawn last */
    uint64_t form_labels, labels_drawn;
    struct area drawn; /* the stack in the last picture: all else follows from it and the size */
    int cursor_y, cursor_x;
    struct field *live; /* the field that has the cursor in this frame, NULL: none */
    bool on_panel;      /* a panel has the cursor in this frame */
};

/* ---- tui.c -------------------------------------------------------------------------- */

/* A step of the screens in mm, as the job has it: its plan_step, plan_stride, ram_step or ram_fine. Where it
 * has no value a sentence says so and 0 comes back: nothing moves then. */
double tui_step(struct tui *t, const char *name);
void tui_warn(struct tui *t); /* what is to be known of the job's file, if there is anything new */
void tui_say(struct tui *t, const char *fmt, ...) PRINTF_LIKE(2, 3);
void tui_complain(struct tui *t, const char *fmt, ...) PRINTF_LIKE(2, 3);
void tui_message_row(struct tui *t, enum ink ink, const char *text); /* now, for the level at hand */
/* In the message row at once, between two steps of something long. */
void tui_progress(struct tui *t, const char *text);
void tui_changed(struct tui *t); /* values may differ: look all up again before drawing */
void tui_settle(struct tui *t);
/* Show JOB from now on, from its top; all levels are left. */
void tui_use(struct tui *t, struct job *job, bool look);
extern const char tui_too_long[]; /* of a paste that was not taken */
/* As if the key had come. */
void tui_press(struct tui *t, int key);
unsigned tui_place(const struct tui *t); /* where keys go now, for the key table */
/* The first row of a pane: marker, title, and words at its right end where they fit. */
void tui_head(struct tui *t, struct area a, bool focus, const char *title, const char *right);
void tui_cursor(struct tui *t, struct area a, int y, int x); /* the terminal's cursor for this frame */
/* While quick keys come A stays as it was, and is drawn when the cursor rests. False: draw it now. */
bool tui_stays(struct tui *t, struct area a);
struct view_options tui_view(const struct tui *t);
struct unit_display tui_lengths(const struct tui *t);

/* ---- panes -------------------------------------------------------------------------- */

struct pane_ops {
    unsigned place;
    void (*draw)(struct tui *t, struct area a, bool focus);
    void (*move)(struct tui *t, enum move m);
    void (*enter)(struct tui *t);
    /* as a level's, of a pane drawn in A; may be NULL */
    enum hit (*at)(struct tui *t, struct area a, int y, int x);
    bool listed; /* it is a list, which the wheel moves in */
};
extern const struct pane_ops stack_pane, form_pane, plan_pane, section_pane, findings_pane;
const struct pane_ops *tui_pane(const struct tui *t, enum pane p);

void stack_settle(struct tui *t);
int stack_wish(const struct tui *t); /* rows it would like */
int stack_item(const struct tui *t); /* the item at the cursor, -1 */
void form_settle(struct tui *t);
int form_quantity(const struct tui *t); /* at the cursor, -1 */
/* A value split for columns that stand on the decimal point. */
void form_split(struct tui *t, int quantity, char *number, size_t n_number, char *unit, size_t n_unit);
void findings_settle(struct tui *t);
const char *findings_mark(const struct finding *f);
const char *states_text(enum handbook_states s);
void side_draw(struct tui *t, struct area a);
void plan_zoom(struct tui *t, int by);
void plan_pan(struct tui *t, enum move m);
struct view_options plan_options(const struct tui *t);
/* Draw the plate shown into A, so that the point X, Y (NaN: none) is seen where `plan_follow` asks for it;
 * its cell there, -1 outside. Returns mm a column. */
double plan_picture(struct tui *t, struct area a, const struct view_options *o, double x, double y, int *row,
                    int *column);
void plan_legend(struct tui *t, struct area a, int y); /* only letters that are there */
/* the stack's cursor on ITEM, in the plate shown where it has a cell there */
void stack_show(struct tui *t, int item);

/* A point that has a hole in the plate shown: what the plan's cursor walks. */
struct plan_spot { int item, point; double x, y; };
bool points_here(const struct tui *t, struct plan_spot *out); /* the one at the cursor; false: none */
void points_move(struct tui *t, enum move m);
void points_go(struct tui *t, int item, const char *point);
/* The point nearest to a cell of the plan drawn WIDTH by HEIGHT, at most one cell off; false: none. */
bool points_near(struct tui *t, const struct view_options *o, int width, int height, int row, int column,
                 struct plan_spot *out);
bool points_in(const struct tui *t, int item, int plate); /* has it a hole there? */
/* "die screws, right back, 6 of 6" */
void points_title(const struct tui *t, const struct plan_spot *s, struct base_text *out);

/* ---- cautions (caution.c) --------------------------------------------------------------- */

/* What dieset_cautions() has of ITEM, one behind the other. */
void caution_words(const struct tui *t, int item, bool drilled, struct base_text *out);
/* WORDS in the last rows of A, at most MOST of them: all, or as many whole sentences as have room and "!
 * more". The first sentence is never cut, however many rows it takes. Returns the rows; with DRAW false they
 * are only counted. */
int caution_foot(struct tui *t, struct area a, const char *words, int most, bool draw);
/* The same of ITEM's cautions, drawn; returns what is left of A above them. */
struct area caution_below(struct tui *t, struct area a, int item, bool drilled, int most);
/* Is anything to be said of ITEM's kind? */
bool caution_any(const struct tui *t, int item);

/* ---- going and finding ----------------------------------------------------------------- */

/* Where the cursor is can be gone back to. */
void go_remember(struct tui *t);
/* Put the cursor on an item or a value; remembers where it was. False: no such path. */
bool go_to(struct tui *t, const char *item, const char *path);
/* To an item whose form has the keys: what is typed next is meant for its values. */
bool go_to_form(struct tui *t, const char *item);
bool go_to_quantity(struct tui *t, int quantity);
/* The value that is meant by the cursor: a finding's cause, else that of the form; NULL: none. */
const char *go_value(struct tui *t);

/* ---- edits ------------------------------------------------------------------------------ */

/* Refuses with a sentence when only looking; takes in what others did meanwhile. */
bool edit_allowed(struct tui *t);
/* Take in what others did meanwhile, and say what was last. */
void edit_follow(struct tui *t);
/* Keep the open try and say what moved. False: it was not taken or not saved. */
bool edit_take(struct tui *t);
void edit_drop(struct tui *t);
/* How the open try would turn out, in one line. */
void edit_outcome_line(struct tui *t, struct base_text *out);
/* outline.c: is the outline of ITEM part of its form? */
bool outline_is_used(struct tui *t, int item);
/* `a` at a line of an outline, or where one is to begin; false: it means something else */
bool outline_add_here(struct tui *t);
void outline_run(struct tui *t, const char *item, const char *text);
void edit_moves(struct tui *t, const struct dieset_move *m, struct base_text *out); /* one move as a line */
bool edit_seen(const struct tui *t, const struct dieset_move *m); /* it differs as people read it */
int edit_weight(const struct tui *t, const struct dieset_move *m); /* what one looks for comes first: 0 */
void edit_remember(struct tui *t, const struct job_outcome *o);
/* Open whatever types PATH: a field, a list of choices, a picker. */
void edit_open(struct tui *t, const char *path);
void edit_open_field(struct tui *t, const char *path);
/* The same with TEXT typed in it already: tried, not taken. */
void edit_open_typed(struct tui *t, const char *path, const char *text);
void edit_ask_reason(struct tui *t, const char *path);
/* A line is asked for; DONE gets it when Enter was pressed. Title is shown before the field. */
typedef void ask_fn(struct tui *t, const char *subject, const char *text);
void ask_open(struct tui *t, const char *title, const char *subject, const char *text, ask_fn *done);

struct choice { char *label, *value, *note; };
/* A list to choose from; TRIED (may be NULL) is called for the choice at the cursor as it moves, TAKEN on
 * Enter, DROPPED (may be NULL) on Esc. The choices are adopted. */
typedef void choice_fn(struct tui *t, const char *subject, const struct choice *c);
void choice_open(struct tui *t, const char *title, const char *subject, struct choice *choices, int n, int at,
                 choice_fn *tried, choice_fn *taken, choice_fn *dropped);
void sizes_open(struct tui *t, const char *path);
/* The stock size next to what stands in the job, BY steps; yours to free(), NULL when there is none. */
char *sizes_step(struct tui *t, const char *path, int by);

/* Is the item at the cursor laid out on a plan, by itself or with another? */
bool place_may(const struct tui *t);
void stroke_open(struct tui *t);
/* The value at PATH over a range: FROM, TO, STEP as typed, or NULL: a range about its present value. */
void vary_open(struct tui *t, const char *path, const char *from, const char *to, const char *step);
/* A practice job by name or number, "": their list; an exercise by number, "": the first. */
void lesson_open(struct tui *t, const char *name);
void exercise_open(struct tui *t, const char *number);
/* The job beside itself as it was EDITS edits ago, or as it was issued, or beside another job: TEXT is a
   revision or a file. */
void compare_with_before(struct tui *t, int edits);
void compare_with(struct tui *t, const char *text);
void review_open(struct tui *t);
bool review_is_open(const struct tui *t); /* it is on top or below what is */
void why_open(struct tui *t, const char *path);
void detail_open(struct tui *t, const char *key);
const char *detail_key(struct tui *t); /* of the finding that is opened on top, NULL: none is */
/* The words of the trade, narrowed to those that hold FILTER. */
void words_open(struct tui *t, const char *filter);
bool words_hold(const struct tui *t, const char *word); /* is it a name here or elsewhere? */
void command_open(struct tui *t, const char *text);
void search_open(struct tui *t);
/* Lines to read; ITEMS may be NULL or a path for each line that Enter goes to. Both adopted. */
void lines_open(struct tui *t, const char *title, char **lines, char **paths, int n);
/* The same for lines that are laid out for the width: MAKE tells them all of SOURCE, at once and anew
 * whenever the width changes; lines set in by more than two columns go on what stands above them. SOURCE is
 * adopted; DROP (may be NULL) frees it. */
typedef void lines_tell_fn(void *arg, const char *line, const char *path);
typedef void lines_make_fn(const void *source, int width, lines_tell_fn *tell, void *arg);
void lines_open_made(struct tui *t, const char *title, void *source, lines_make_fn *make,
                     void (*drop)(void *source));

/* Complete the word before the cursor among the job's names: the length that is shared is put in; true when
 * it changed.
 * *WORDS gets what fits, "a  b  c". */
bool complete_name(struct tui *t, struct field *f, const char *item, struct base_text *words);

/* Run a line as the ":" row would. */
void command_run(struct tui *t, const char *line);

#endif
