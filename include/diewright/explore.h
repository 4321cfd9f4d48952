/* diewright/explore.h - variation runs: one value over a range, and what it would bring; and what would clear
 * a finding
 *
 * A number that can be typed runs from one value to another by a step. At every point the values asked for,
 * in both states, and the findings that stand are taken down, each point tried as an edit would be; the die
 * set is as it was afterwards.
 * Uses: findings, dieset and below. No try may be open when a run begins.
 */
#ifndef DIEWRIGHT_EXPLORE_H
#define DIEWRIGHT_EXPLORE_H

#include "diewright/findings.h"

enum { EXPLORE_MOST = 5000, EXPLORE_VALUES = 40 }; /* points of one run; values that a variant types */

/* A further quantity that is typed at each point, TEXTS[i] at point i; "" leaves it as it is. */
struct explore_also { int quantity; const char *const *texts; };

/* What is asked. FROM, TO and STEP in base units. */
struct explore_ask {
    int quantity;
    double from, to, step;
    const int *show; int n_show; /* quantities */
    const double *points; int n_points; /* these instead of FROM, TO and STEP: ascending; NULL: none */
    const char *const *texts; /* what is typed at each of them; NULL: the number itself */
    const char *const *names; /* what the points are called, NULL: by what is typed */
    const struct explore_also *also; int n_also; /* with TEXTS only */
    const struct explore_ask *across; /* each point with each of this one's: NULL: none. Its `show` is not
    read */
    /* Asked between points, DONE of which are taken down: false breaks the run off. What was taken down is
       kept, the others are refused in it; with no point at all so is the run. May be NULL. */
    bool (*go_on)(void *arg, int done);
    void *arg;
};

/* PATH and three formulas as people type them ("10", "strip.thickness * 2"; a bare number is in the job's
 * unit). Refused in a whole sentence: what is no number, cannot be typed, is an empty range, has too many
 * points. */
NODISCARD enum base_err explore_read(struct dieset *d, const char *path, const char *from, const char *to,
                                     const char *step, struct explore_ask *out, struct base_diag *why);
/* What runs, by its words: NAME FROM TO STEP; NAME "listed", the rows of the parts table behind it; NAME and
 * values parted by commas. What it is made of is OUT's: explore_axis_done(), also when it is refused. */
struct explore_axis {
    struct explore_ask ask;
    const char **texts;
    double *points;
    struct base_arena memory;
};
NODISCARD enum base_err explore_axis_read(struct dieset *d, const char *const *words, int n,
                                          struct explore_axis *out, struct base_diag *why);
/* Variants: CSV text that came from FILE, whose columns are named after values that can be typed and whose
 * rows tell what is typed in each; an empty cell leaves the value as it is. A column "variant" names the
 * rows, else they are called by what they type. Reasons tell FILE and line. */
NODISCARD enum base_err explore_axis_rows(struct dieset *d, const char *file, const char *csv, size_t length,
                                          struct explore_axis *out, struct base_diag *why);
/* The same words in one text, parted by blanks. */
NODISCARD enum base_err explore_axis_text(struct dieset *d, const char *text, struct explore_axis *out,
                                          struct base_diag *why);
void explore_axis_done(struct explore_axis *a);
/* A range about the value that QUANTITY has now: AROUND points on each side, a round step, never past
   nothing. */
NODISCARD enum base_err explore_propose(struct dieset *d, const char *path, int around,
                                        struct explore_ask *out, struct base_diag *why);
/* The same number of points about ABOUT by the next finer step (BY -1) or coarser one (BY 1): 1, 2, 5, 10 ...
   of the job's unit. */
void explore_zoom(const struct dieset *d, struct explore_ask *ask, double about, int by);
/* The quantities that move most between the ends and the middle of ASK's range, the most moved first; of
 * those that forms show, or of their details where nothing else moves. Returns how many. */
int explore_movers(struct dieset *d, const struct explore_ask *ask, int *out, int room);

struct explore_shown { const char *path, *title; struct handbook_type type; int decimals; bool stateful; };

/* One finding, whoever of the points it stands at. GRADES[i]: its grade at point i where it is open, else one
   of these. */
enum { EXPLORE_ABSENT = -2, EXPLORE_WAIVED = -1 };
struct explore_finding {
    const char *key, *rule, *title, *subject; /* subject: its item's title, "" */
    enum handbook_grade grade;                /* the gravest of all points */
    enum handbook_states states;              /* in which it fails, over all points */
    int count;                                /* points at which it stands, waived or not */
    int waived;                               /* those at which a waiver of the job lets it stand */
    signed char *grades;
};

/* A limit on shown value SHOWN that is the same at every point: value at least, at most, ... the limit. */
struct explore_limit {
    int shown;
    enum dieset_state state;
    const char *rule, *title;
    enum formula_relation relation;
    double limit;
};

struct explore {
    const struct dieset *d;    /* borrowed */
    const char *path, *title;
    struct handbook_type type;
    int decimals;
    struct unit_system system;
    double now;                /* the value as it stands in the job, NaN: none */
    int n;                     /* points */
    int done;                  /* of them, taken down: fewer where the run was broken off */
    int columns;               /* of each value of ACROSS so many points, one behind the other; without one:
    N */
    struct { const char *path; struct handbook_type type; int n; double *at; const char **text; } across;
    bool even;                 /* they are a step apart */
    bool named;                /* they are variants: TEXT is what each is called, AT its number from 0 */
    double *at;                /* base units */
    const char **text;         /* what would be typed, or what the point is called */
    const char **refused;      /* why the die set does not take this point, NULL: it does */
    struct explore_shown *shown; int n_shown;
    struct formula_value *values; /* see explore_value() */
    BASE_VEC(struct explore_finding) findings; /* gravest first, then in the handbook's order */
    BASE_VEC(struct explore_limit) limits;
    /* sizes listed for the value, those of its own look-up or its table; ascending */
    double *stock; int n_stock;
    struct base_arena memory;
};

/* Run it. *OUT is yours: explore_free(). F judges D; its list is that of the die set as it stands
   afterwards. */
NODISCARD enum base_err explore_run(struct findings *f, const struct explore_ask *ask, struct explore **out,
                                    struct base_diag *why);
void explore_free(struct explore *x);

/* An error value's origin holds only in the binding of its point; do not follow it. */
struct formula_value explore_value(const struct explore *x, int shown, enum dieset_state s, int point);
/* As people read it: "25.0 mm", "yes", "no row fits". Returns BUF. */
const char *explore_print(const struct explore *x, int shown, enum dieset_state s, int point, char *buf,
                          size_t size);
/* "fault" ... "waived": what GRADES has. */
const char *explore_grade_text(int grade);
/* Is the die set free of open findings above note at POINT? */
bool explore_clear(const struct explore *x, int point);
/* The point nearest to VALUE. */
int explore_nearest(const struct explore *x, double value);
/* The findings at POINT: "fault press-window; note weak-source guide_post; waived turn-proof", gravest first,
   what is waived last. */
void explore_findings_at(const struct explore *x, int point, struct base_text *out);

/* The run as a plot in plain characters, WIDTH columns at most (60 and up) and HEIGHT rows of points at most:
 * shown value SHOWN (-1: none) over the range, "*" new, "o" ground, "@" both; limits as lines; and below it a
 * row of letters for each rule that changes over the range: "X" where it does not hold, "x" where it does not
 * for some of the points of the column, "~" where a waiver lets it stand, "." where it holds, "?" where the
 * die set does not take the value. `all` is marked where nothing is above note, `listed` where a listed size
 * is, "^" where the job stands now. Each line ends in a line feed. */
void explore_plot(const struct explore *x, int shown, int width, int height, struct base_text *out);
/* A run of two values as a map, WIDTH columns at most and HEIGHT rows: one character a point, the second
 * value up, the first along. A letter is the gravest finding above note that stands there and not
 * everywhere, "." is none of these, "?" not taken; below it what the letters are. Each line ends in a line
 * feed. */
void explore_map(const struct explore *x, int width, int height, struct base_text *out);
/* The column of that plot in which POINT stands, counted from 0. */
int explore_plot_column(const struct explore *x, int shown, int width, int height, int point);
/* What stands at POINT in sentences, a line feed behind each: the shown value and what is to spare to its
 * limits; the findings above note, and how many notes; the other values. */
void explore_point(const struct explore *x, int shown, int point, struct base_text *out);
/* The shown value that is nearest to one of its limits at POINT, by share of the limit; 0 when none has a
   limit. */
int explore_closest(const struct explore *x, int point);
/* Points A and B side by side: shown values, then findings that only one of them has. */
void explore_beside(const struct explore *x, int a, int b, int width, struct base_text *out);

/* ---- listed sizes ------------------------------------------------------------------------------------ */

/* A size that serves: what would be typed, the number in base units (of a name: of the pool), the row that
   states it. */
struct explore_size { char *text; double number; int row; };
struct explore_sizes {
    int table, column;
    bool has_need;
    double need;                         /* what the look-up has to reach, base units */
    BASE_VEC(struct explore_size) at;    /* each once: numbers ascending, names as they are listed */
};
/* The sizes listed for QUANTITY: those of the rows that its own look-up by size leaves in state S, be the
 * value typed over or not, else all of its property's table; numbers of one series only, where the table
 * tells series of jobs: of that which the standing value is of, else of job.series. False: no table stands
 * behind it. *OUT is yours: explore_sizes_done(). */
bool explore_sizes(struct dieset *d, int quantity, enum dieset_state s, struct explore_sizes *out);
void explore_sizes_done(struct explore_sizes *s);

/* ---- what would clear a finding ---------------------------------------------------------------------- */

/* For each value that the finding's rule names as a cure (where it names none: the free number that it hangs
 * on), the nearest value that clears it, found by trying: the next listed size that does, another choice, or
 * the smallest change of a free number in a shop's steps (where none of those does, to the last digit that
 * screens show). A place is proposed as its usual one and so much more, a formula as itself and so much more.
 * The die set is as it was afterwards; no try may be open at a call. */
struct explore_proposal {
    const char *path, *title;
    const char *text;      /* what would be typed */
    const char *was, *is;  /* as people read it */
    const char *shown;     /* `is`, or the formula where the number alone would not follow its plate */
    bool listed;           /* a listed size */
    int moved;             /* values that differ then, itself left out */
    /* those of them that are picked from tables: "posts.length 200.0 mm -> 224.0 mm; ...", "" none */
    const char *sizes;
    int came[3];           /* open findings that come with it, by grade */
    /* why it is no cure to take unseen: "brings fault strip-bridge", "it is given with the job"; ""
       nothing */
    const char *against;
    /* "fault post-end posts; note ..."; the finding itself is not told among those that go */
    const char *comes, *goes;
};
struct explore_mend {
    const char *key;       /* of the finding */
    enum handbook_grade grade;
    BASE_VEC(struct explore_proposal) at;     /* those with something against them last, when all are tried */
    BASE_VEC(struct explore_proposal) behind; /* they wait here till then */
    BASE_VEC(const char *) hopeless; /* paths of values that were tried and do not clear it alone */
    BASE_VEC(const char *) untried;  /* paths for which the tries of one finding did not last */
    BASE_VEC(const char *) left;     /* paths still to be tried, the last first */
    int tries;                       /* made so far */
    long steps;                      /* the work in them, by base_steps() */
    struct base_arena memory;
};
/* Begin for the finding KEY of the last list of F; nothing is tried yet. NULL: there is no such finding. */
struct explore_mend *explore_mend_new(struct findings *f, const char *key);
/* Try the next value; false: there is none left. F's list is that of the die set as it stands afterwards. */
bool explore_mend_more(struct findings *f, struct explore_mend *m);
void explore_mend_free(struct explore_mend *m);

#endif
