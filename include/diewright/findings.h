/* diewright/findings.h - rules applied to a die set
 *
 * Each rule of the handbook is tried in the states that matter to it; what does not hold becomes a finding:
 * data, with value, limit, margin, state, message and source. One finding a rule and subject: the states in
 * which it fails, the worse state's figures. A rule that cannot be judged because its value or limit is an
 * error is no finding of its own; there is one finding for each origin of errors, also of those behind a hole
 * or a measure. Uses: dieset and below.
 */
#ifndef DIEWRIGHT_FINDINGS_H
#define DIEWRIGHT_FINDINGS_H

#include "diewright/dieset.h"

struct finding {
    const char *rule;   /* "press-window"; "cannot-judge" when an error stands in the way */
    const char *title;  /* the rule's own short words */
    enum handbook_grade grade;
    int item;           /* subject, -1: the die set */
    int plate;          /* of a hole or pair, else -1 */
    int more;           /* of a pair: in how many more places it is so; the gravest is told */
    enum handbook_states states;
    bool measured;      /* value, limit and margin hold */
    struct formula_type type;
    double value, limit, margin; /* base units; margin negative: fails */
    const char *message, *source, *help;
    const char *seen;   /* how the prints of its source were read, as in the handbook */
    const char *key;    /* stays the same while this finding stands: rule and subject */
    int cause;          /* quantity that it hangs on most, -1 */
    const int *mends; int n_mends; /* quantities that would cure it */
    const char *waiver; /* the item of the job that lets it stand, NULL: it is open */
};
#define FINDINGS_UNJUDGED "cannot-judge" /* its rule, where an error stands in the way */

struct findings;

struct findings *findings_new(struct dieset *d);
void findings_free(struct findings *f);
struct dieset *findings_dieset(const struct findings *f); /* that is judged */

/* Judge the die set as it stands (also within a try). Gravest first, then in the handbook's order; what is
 * waived comes last. The list is borrowed until the next call. It is not whole when base_given_up() says so:
 * findings_restore() brings back one that was kept. */
int findings_judge(struct findings *f, const struct finding **list);
/* The same without words, cures and order: what is needed of many tries. */
int findings_judge_bare(struct findings *f, const struct finding **list);
/* The finding KEY as its own rule alone tells it now, bare: RULE over ITEM and PLATE as they stand in a list
 * judged before. NULL: it does not stand. Not of FINDINGS_UNJUDGED, which many rules tell. The list is what
 * that rule found, till it is judged again. */
const struct finding *findings_judge_one(struct findings *f, const char *rule, const char *key, int item,
                                         int plate);
/* The last list again. */
int findings_list(const struct findings *f, const struct finding **list);
/* Open findings by grade: [HANDBOOK_NOTE], [HANDBOOK_CAUTION], [HANDBOOK_FAULT]. */
void findings_counts(const struct findings *f, int counts[3]);
int findings_waived(const struct findings *f); /* how many of the list are waived */
/* The finding of the last list that TEXT names: its key or the first words of that ("press-window",
 * "screw-engagement die_screws"). Refused when none or several are meant, saying which. */
NODISCARD enum base_err findings_named(const struct findings *f, const char *text, const struct finding **out,
                                       struct base_diag *why);

/* Waivers are items of the kind `waiver`: its lines finding (a key), grade, states and margin say what was
 * let stand. One holds while the finding's grade is no graver, it fails in no further state, and its margin
 * is no smaller; a fault's needs a reason (says). */
/* The waiver that lets X stand, as an item of the job, by X's key, rule, grade, states and figures; -1: none
   does. */
int findings_waiver(const struct findings *f, const struct finding *x);
const char *findings_states_word(enum handbook_states s); /* "new", "ground", "both" */
/* The margin of X as a waiver keeps it, "-2 mm"; NULL: it has none. Yours to free(). */
char *findings_margin_text(const struct finding *x, struct unit_system system);

/* A figure of X as its rule's sentence tells it: a share that is told in percent, in percent; else with its
   unit. Returns BUF. */
const char *findings_print(const struct dieset *d, const struct finding *x, double value, char *buf,
                           size_t size);

/* A frozen list, to compare a later one with. */
struct findings_kept;
struct findings_kept *findings_keep(const struct findings *f);
/* The list of F is again what was kept, when the die set stands again as it stood then: nothing is judged. */
void findings_restore(struct findings *f, const struct findings_kept *k);
void findings_kept_free(struct findings_kept *k);
int findings_kept_list(const struct findings_kept *k, const struct finding **list);
/* CAME[i]: item i of LIST has no fellow in the kept list (by key), or its grade rose, or it is open again;
 * WENT[j]: kept item j was open and is gone or waived now. */
void findings_compare(const struct findings_kept *k, const struct findings *f, bool *came, bool *went);
/* X of the list as it is now is open, and was not, or was of a lower grade, or fails by more than it did. */
bool findings_worse(const struct findings_kept *k, const struct finding *x);

/* Rules that do not bind to this die set, a line each; "" in a sound handbook (tests ask). */
const char *findings_unbound(struct findings *f);

/* How a rule stands for a subject, whether or not it fails ("holds, 3.2 mm to spare"): value, limit, margin
 * of rule RULE over ITEM (-1: once) in state S; its message is what the rule tells beside its figures, ""
 * nothing. False when it does not apply or cannot be judged. */
bool findings_standing(struct findings *f, const char *rule, int item, enum dieset_state s,
                       struct finding *out);

/* Limits that rules set to QUANTITY itself in state S, as they are now: of rules whose value is just this
 * quantity, one for each rung that compares it. */
struct findings_limit { const struct handbook_rule *rule; int item; int rung; double limit; };
int findings_limits(struct findings *f, int quantity, enum dieset_state s, struct findings_limit *out,
                    int room);

/* Sizes that may be off as they are made: SLOTS of the model, one a state, LOW to HIGH added to what stands
 * there. What STAYS says, one a slot, does not move with them though it hang on them. */
struct findings_size { int slots[DIESET_STATES], n_slots; double low, high; };
struct findings_off { const struct findings_size *at; int n; const bool *stays; };
/* A rule of ITEM (-1: the die set) that fails, or by a graver grade, with each size at the worse of its
 * limits: its margin as drawn and there, and the sizes that take most of it, most first, of N_ALL that move
 * it. */
enum { FINDINGS_TOLD = 3 };
struct findings_turned {
    const struct handbook_rule *rule;
    int item;
    enum dieset_state state;
    enum handbook_grade grade; /* at the worst case */
    struct formula_type type;
    double margin, worst, value, limit;
    int sizes[FINDINGS_TOLD], n_sizes, n_all;
    double takes[FINDINGS_TOLD];
};
typedef void findings_turned_fn(void *arg, const struct findings_turned *t);
/* Rules over holes or of yes and no, and measures of geometry, are as drawn. Not whole when base_given_up()
 * says so. */
void findings_at_limits(struct findings *f, const struct findings_off *off, findings_turned_fn *tell,
                        void *arg);

/* Of two told of one key: is A to be told and not B? By grade, then by margin. */
bool findings_graver(const struct finding *a, const struct finding *b);

#endif
