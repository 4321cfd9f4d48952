/* diewright/job.h - an open job: edit commands, preview, undo, message
 *
 * A job is a store (the file), a die set (the numbers) and findings. Both faces, command line and
 * screens, change a job only through here. Every command is tried, then taken (durable when it returns) or
 * dropped. Uses: review, findings, dieset, store, handbook and below.
 */
#ifndef DIEWRIGHT_JOB_H
#define DIEWRIGHT_JOB_H

#include "diewright/review.h"

struct job;

/* DATA: the folder with handbook/, parts/, templates/. */
NODISCARD enum base_err job_open_handbook(const char *data, struct handbook **out, struct base_diag *why);

/* "NAME" -> "NAME.diejob" where the suffix is missing. Yours to free(). */
char *job_path(const char *name);

NODISCARD enum base_err job_open(const struct handbook *h, const char *path, bool readonly, struct job **out,
                                 struct base_diag *why);
/* A new file from record text (a template or a dump). The shipped parts tables go into the file. */
NODISCARD enum base_err job_create(const struct handbook *h, const char *path, const char *text,
                                   const char *text_name, struct job **out, struct base_diag *why);
/* In memory only, from record text. */
NODISCARD enum base_err job_from_text(const struct handbook *h, const char *text, const char *text_name,
                                      struct job **out, struct base_diag *why);
void job_close(struct job *j);

struct dieset *job_dieset(struct job *j);
struct findings *job_findings(struct job *j);
const char *job_file(const struct job *j);
const char *job_title(const struct job *j); /* as typed, else its file's name */
bool job_readonly(const struct job *j);
bool job_edited(const struct job *j); /* has anything been changed in the file since it was opened? */
/* What the one who works on the job should know of its file, told once: it lies on another machine's disk,
 * something that lay beside it was put aside, it is shown without its last edit. "" when there is nothing
 * new. Good until the next call. */
const char *job_warning(struct job *j);
bool job_saved(const struct job *j); /* false: an edit stands in memory only */
/* Who edits, for the history; "" until said. */
void job_set_who(struct job *j, const char *who);

/* ---- edits ------------------------------------------------------------------------ */

/* What an edit did: for messages, `set`, the moves list. Borrowed until the next try or edit. */
struct job_outcome {
    const char *title;                       /* "die_plate.thickness 32 mm -> 36 mm" */
    const struct dieset_move *moves; int n_moves;
    const struct finding *came; int n_came;
    const struct finding *went; int n_went;
};

/* Commands, one a function; each opens a try (replacing an open one). Then job_take or job_drop.
 * Paths as dieset_quantity.path ("die_plate.thickness", "posts.right_back.x", "die_screws.lay.end"). */
NODISCARD enum base_err job_set(struct job *j, const char *path, const char *formula, struct base_diag *why);
/* Several at once: "path=formula" pairs; all or none. */
NODISCARD enum base_err job_set_many(struct job *j, const char *const *paths, const char *const *formulas,
                                     int n, struct base_diag *why);
/* back to usual, or blank */
NODISCARD enum base_err job_unset(struct job *j, const char *path, struct base_diag *why);
/* NULL: none */
NODISCARD enum base_err job_reason(struct job *j, const char *path, const char *text, struct base_diag *why);
/* place -1: last of its kind */
NODISCARD enum base_err job_add(struct job *j, const char *kind, const char *name, int place,
                                struct base_diag *why);
/* The same with N of its values typed, all or none, as one edit; NAMES are those of the item's own values
   ("off_die"). */
NODISCARD enum base_err job_add_with(struct job *j, const char *kind, const char *name, int place,
                                     const char *const *names, const char *const *formulas, int n,
                                     struct base_diag *why);
NODISCARD enum base_err job_add_like(struct job *j, const char *item, const char *name,
                                     struct base_diag *why);
/* refused while others name it, saying which */
NODISCARD enum base_err job_remove(struct job *j, const char *item, struct base_diag *why);
/* formulas follow */
NODISCARD enum base_err job_rename(struct job *j, const char *item, const char *name, struct base_diag *why);
NODISCARD enum base_err job_move(struct job *j, const char *item, int place, struct base_diag *why);
/* "six on die_plate" */
NODISCARD enum base_err job_lay(struct job *j, const char *item, const char *pattern_on_plate,
                                struct base_diag *why);
/* Stations by number, each one edit. WHAT: an item that works in a station, or a number: all that work in
 * it. What lists its stations (pilots, lifters) stays where it is, but for inserting and closing. */
NODISCARD enum base_err job_station_move(struct job *j, const char *what, int to, struct base_diag *why);
NODISCARD enum base_err job_station_swap(struct job *j, int a, int b, struct base_diag *why);
/* An idle one gets NUMBER; it and all behind it get the next number. */
NODISCARD enum base_err job_station_insert(struct job *j, int number, struct base_diag *why);
/* An idle one, or a number without one, is taken out; all behind it move up. */
NODISCARD enum base_err job_station_close(struct job *j, int number, struct base_diag *why);
/* Another item like ITEM in station TO; NAME NULL: named after both. */
NODISCARD enum base_err job_station_copy(struct job *j, const char *item, int to, const char *name,
                                         struct base_diag *why);
/* Any of these by its words: "move ITEM|NUMBER TO", "swap A B", "insert NUMBER", "close NUMBER",
 * "copy ITEM TO [NAME]", "number" (job_station_tell). */
NODISCARD enum base_err job_station_words(struct job *j, const char *const *words, int n,
                                          struct base_diag *why);
/* The same of one LINE, with blanks between its words. */
NODISCARD enum base_err job_station_line(struct job *j, const char *line, struct base_diag *why);
/* What stands at places counted from the plan's origin is told by station numbers, without moving
 * anything. The first job that is opened for writing in the old form is told so by itself, unless it is
 * issued as it stands. BASE_UNKNOWN: nothing is of the old form; BASE_REFUSED: it would move something. */
NODISCARD enum base_err job_station_tell(struct job *j, struct base_diag *why);

/* Laying out on the plan, all in one edit. */
/* "lay/end", "lay/right_back/x", "head_in"; TEXT NULL: taken away, with its reason */
struct job_typed { const char *path, *text; };
struct job_laying {
    const char *item;
    const char *kind;   /* NULL: the item stands already; else it is added, with what its kind begins with */
    const char *like;   /* instead of that: with what is typed in this item; NULL: none */
    const char *lay;    /* "six on die_plate"; NULL: as it stands */
    const struct job_typed *entries; int n;
};
/* No try is open afterwards when all of it stands so already. */
NODISCARD enum base_err job_lay_out(struct job *j, const struct job_laying *l, struct base_diag *why);
/* title, note ... */
NODISCARD enum base_err job_entry(struct job *j, const char *item, const char *entry, const char *text,
                                  struct base_diag *why);
/* Outlines: a line, or all of it. Lines are also set and unset by their paths, "blank.outline.3"; one more
   than there are adds one. */
/* as line LINE; 0: the last */
NODISCARD enum base_err job_outline_insert(struct job *j, const char *item, int line, const char *text,
                                           struct base_diag *why);
NODISCARD enum base_err job_outline_remove(struct job *j, const char *item, int line, struct base_diag *why);
/* All lines anew, none: taken out. Refused in one sentence when it encloses nothing, an arc cannot reach, it
   crosses itself. */
NODISCARD enum base_err job_outline(struct job *j, const char *item, const char *const *texts, int n,
                                    struct base_diag *why);
/* The same, and ENTRY of the item typed as TEXT in that edit; NULL: nothing. */
NODISCARD enum base_err job_outline_with(struct job *j, const char *item, const char *entry, const char *text,
                                         const char *const *texts, int n, struct base_diag *why);
/* Own values: a group is an item of kind "values". */
NODISCARD enum base_err job_value_add(struct job *j, const char *group, const char *name, const char *type,
                                      const char *formula, struct base_diag *why);
NODISCARD enum base_err job_value_rename(struct job *j, const char *group, const char *name, const char *now,
                                         struct base_diag *why);
NODISCARD enum base_err job_value_remove(struct job *j, const char *group, const char *name,
                                         struct base_diag *why);

/* ---- the lead's words: see review.h; each opens a try as edits do ---- */

/* SUBJECT: an item, a value's path, a finding (findings_named()), or a remark, which it answers. */
NODISCARD enum base_err job_remark(struct job *j, const char *subject, const char *text,
                                   struct base_diag *why);
/* The same by one who may not write to the job, or only looks: it is left as a file beside the job, or, where
 * the folder is closed to them, told as a line to send. TOLD: where it lies, or that line. */
NODISCARD enum base_err job_remark_beside(struct job *j, const char *subject, const char *text,
                                          struct base_text *told, struct base_diag *why);
/* Take in what was left beside the job: each as said by the account that owns its file, at the hour it was
 * written. How many; TOLD: what each says, and which were not taken in, why. Looks only where the folder has
 * changed since it looked last. Of a job that is only read nothing is taken in: TOLD is what others left. */
int job_take_in(struct job *j, struct base_text *told);
/* Let FINDING stand as it is now; where there is a waiver of it already, that one is brought up to now. */
NODISCARD enum base_err job_waive(struct job *j, const char *finding, const char *reason,
                                  struct base_diag *why);
/* REMARK is DONE, or open again; whoever says so is written down. */
NODISCARD enum base_err job_remark_done(struct job *j, const char *remark, bool done, struct base_diag *why);
/* "remark_2", or the waiver of FINDING (which may have gone since), is taken out. Refused when somebody else
 * said it, naming who and when; a waiver but for those who were told and said yes: OTHERS. */
NODISCARD enum base_err job_unremark(struct job *j, const char *remark, struct base_diag *why);
/* either, by its own name */
NODISCARD enum base_err job_unsay(struct job *j, const char *record, bool others, struct base_diag *why);
NODISCARD enum base_err job_unwaive(struct job *j, const char *finding, bool others, struct base_diag *why);
/* Freeze the job under LETTER (NULL: the next one). Refused while a fault is open, and when somebody has
 * edited since the job was last looked at: nothing is issued unseen. */
NODISCARD enum base_err job_issue(struct job *j, const char *letter, const char *note, struct base_diag *why);
/* As review_next_letter() and review_letter(), after every letter that the file's history knows too. */
const char *job_next_letter(struct job *j, char buf[REVIEW_LETTER]);
NODISCARD enum base_err job_letter(struct job *j, const char *letter, char out[REVIEW_LETTER],
                                   struct base_diag *why);
/* Parts were ordered by revision LETTER (NULL: the latest), or, BACK, they were not after all. */
NODISCARD enum base_err job_ordered(struct job *j, const char *letter, bool back, struct base_diag *why);
/* Revision LETTER is no longer in force, for REASON, which is needed. It stays on record. */
NODISCARD enum base_err job_withdraw(struct job *j, const char *letter, const char *reason,
                                     struct base_diag *why);
/* How the job stands to its revisions, as its papers tell it: "revision B, sum 0123456789abcdef". Added to
   OUT. */
void job_issued_words(struct job *j, struct base_text *out);
/* What the papers were made from: "job 0123456789abcdef, handbook 0123456789abcdef", sums of both texts;
 * the job's is that which a revision bears. Added to OUT. */
void job_sums(struct job *j, struct base_text *out);
/* Rows of the job's own for the parts table TABLE: CSV text that came from FILE, as an item named after it.
 * What is there under that name is replaced; a row with the keys of a shipped one stands in its place.
 * Reasons tell FILE, line and column. */
NODISCARD enum base_err job_import(struct job *j, const char *table, const char *file, const char *csv,
                                   size_t length, struct base_diag *why);

/* The shipped parts tables in the place of the copies that the file carries; its own rows stay. Opens a try;
 * once taken, undo does not take it back. BASE_REFUSED: the copies are the shipped ones. */
NODISCARD enum base_err job_renew(struct job *j, struct base_diag *why);
/* What that means, table by table: rows that only the shipped text has, and that only the job's copy has. */
typedef void job_renewal_fn(void *arg, const char *file, int more, int gone);
void job_renewals(struct job *j, job_renewal_fn *tell, void *arg);

/* The open try's outcome, judged. */
const struct job_outcome *job_outcome(struct job *j);
/* Write it. On BASE_NOT_SAVED the edit stays in the die set and job_saved() is false until a later job_take
 * or job_save_as succeeds; BASE_CONFLICT: dropped and reloaded, *WHY tells what stands there now. */
NODISCARD enum base_err job_take(struct job *j, struct base_diag *why);
void job_drop(struct job *j);
bool job_trying(const struct job *j);
bool job_trying_words(const struct job *j); /* the open try is of a remark, a waiver or a revision alone */
bool job_changes_nothing(const struct job *j); /* the open try: all that it would write stands so already */

/* What BACK, undo, or else redo would take: EDIT of the history, or, 0, one's own last, or where none is left
 * the last of all. WHO made it (took it back) and WHEN, as people read it. False: there is nothing. */
struct job_step { long edit; bool own; char who[100], when[20], title[300]; };
bool job_step_next(struct job *j, bool back, long edit, struct job_step *out);
enum base_err job_step_refuse(const struct job_step *s, bool back, struct base_diag *why); /* it is not own */
/* Take that edit back, or make it again, whoever made it: for those who were told and said yes; the outcome
 * tells what moved. Remarks, waivers and revisions are no steps. BASE_REFUSED: somebody else's edit stands on
 * it; *WHY names that edit, its writer and the hour. BASE_UNKNOWN: there is nothing. */
NODISCARD enum base_err job_step_take(struct job *j, bool back, long edit, struct base_diag *why);
int job_history(struct job *j, const struct typed_event **events, int room);

/* The edits that stand, the one done last first, without the one with which the job began; borrowed until the
   next call. */
int job_standing(struct job *j, const struct typed_event **events, int room);
/* The job as it was before its newest EDITS edits that stand: in memory, looked at and thrown away
   (job_close). J is as it was. */
NODISCARD enum base_err job_before(struct job *j, int edits, struct job **out, struct base_diag *why);
/* What stands since revision LETTER was issued, newest first: edits, and where an older edit was taken back
 * or made again, that. How many; borrowed until the next call. -1: there is no such revision. */
int job_since(struct job *j, const char *letter, const struct typed_event **events, struct base_diag *why);
/* What others than oneself did after event SEEN, newest first; borrowed until the next call. */
int job_new_since(struct job *j, long seen, const struct typed_event **events);
/* Does event E change nothing but words: a remark, a waiver, a revision? */
bool job_only_said(const struct job *j, const struct typed_event *e);
/* How many of job_since() change more than words. */
int job_edits_since(struct job *j, const char *letter);
/* Is the job, words apart, as it was at its latest revision? */
bool job_is_issued(struct job *j);
/* The job as it was issued under LETTER, as job_before() gives it, held against the revision's sum. */
NODISCARD enum base_err job_revision(struct job *j, const char *letter, struct job **out,
                                     struct base_diag *why);
/* The same, to be held against the job as it is: its items are called what they are called now. */
NODISCARD enum base_err job_revision_as_now(struct job *j, const char *letter, struct job **out,
                                            struct base_diag *why);

/* Back through the history, event by event, in a die set of its own: what each moved. */
struct job_past;
NODISCARD enum base_err job_past_new(struct job *j, struct job_past **out, struct base_diag *why);
void job_past_free(struct job_past *p);
/* The event before; false when there is none, or when today's handbook does not bind the job as it was then.
 * MOVES as that event made them, borrowed until the next call. */
struct job_past_step { const struct typed_event *event; const struct dieset_move *moves; int n_moves; };
bool job_past_back(struct job_past *p, struct job_past_step *out);

/* ---- two copies of a job that were edited apart --------------------------------------------- */

/* Since the edits that both files have in common, or since they were joined last: what differs, net, a value
 * (an outline, what is said in a remark) at a time. What one of them changed is that one's; what both
 * changed, each otherwise, is a clash and chosen by name. Mine is edited, theirs is only read. */
enum job_side { JOB_MINE, JOB_THEIRS, JOB_SIDES };
struct job_joined {
    const char *name;            /* "die_plate.thickness", "springs", "order of items" */
    const char *was;             /* what both had, NULL: nothing */
    const char *is[JOB_SIDES];   /* what stands there in each, NULL: nothing */
    const char *who[JOB_SIDES], *when[JOB_SIDES]; /* who changed it last, "": it was not changed there */
    bool clash;
    int side;                    /* enum job_side; -1: a clash that is not chosen yet */
    const char *stuck;           /* why theirs cannot be taken as mine is, NULL: it can */
};
struct job_join;
/* Both stay yours and open until job_join_free(). BASE_REFUSED: they are no copies of one job; both have
 * issued a revision since; theirs has, and mine was edited: then mine is to be joined into theirs. */
NODISCARD enum base_err job_join_new(struct job *mine, struct job *theirs, struct job_join **out,
                                     struct base_diag *why);
void job_join_free(struct job_join *jj);
/* Clashes first, then what theirs changed, then what mine did. */
int job_join_count(const struct job_join *jj);
struct job_joined job_join_at(const struct job_join *jj, int i); /* borrowed until the next choice */
/* "24 edits in common until 2026-11-24 14:02; since then 3 here, 5 there" */
const char *job_join_words(const struct job_join *jj);
int job_join_open(const struct job_join *jj);  /* clashes not chosen yet */
int job_join_taken(const struct job_join *jj); /* how many would be taken of theirs */
/* NAME as mine or theirs has it; NAME "all": every clash. Refused when theirs cannot be taken so; all is as
   before. */
NODISCARD enum base_err job_join_choose(struct job_join *jj, const char *name, enum job_side side,
                                        struct base_diag *why);
/* The findings that difference I brings if mine, or theirs, stays, beside what is chosen of the others: those
 * that the other side does not bring, parted by "; ". Added to OUT. */
void job_join_brings(struct job_join *jj, int i, struct base_text out[JOB_SIDES]);
/* What is chosen of theirs becomes edits of mine: one for each edit of theirs that brought it last, its title
 * telling who made it and when; each can be taken back. Clashes not chosen stay as mine has them, and stand
 * there again when the two are joined again. How many edits in *TAKEN. BASE_CONFLICT: somebody has edited
 * mine since it was looked at. */
NODISCARD enum base_err job_join_take(struct job_join *jj, int *taken, struct base_diag *why);

/* Somebody else's edits: reload when the file changed; true when it did. */
bool job_refresh(struct job *j);
NODISCARD enum base_err job_save_as(struct job *j, const char *path, struct base_diag *why);

/* ---- text and why -------------------------------------------------------------------- */

/* The whole job as record text, stable in order; yours to free(). */
char *job_dump(struct job *j);

/* A value's derivation as lines, for `show --why` and the why screen. */
struct job_why_line {
    int depth;
    int quantity;      /* -1 when it is not one */
    enum dieset_state state;
    char label[64], value[48], formula[200], filled[200], source[400];
    /* the formula without the arms that its conditions do not take, "": it has none such; `filled` is of
       it */
    char taken[200];
    /* what the handbook's function that it calls adds up, with its numbers put in: "53.0 mm + 1.5 * 8.0 mm +
       1.25 mm"; "": it calls none by itself */
    char worked[240];
    const char *read;  /* how the prints of its source were read, "" none or not told */
    /* "die_spring: estimate, +- 10 %": a figure of a parts table, how sure it is, "": it is none */
    char pick[96];
    bool more;         /* has lines of its own below that are not unfolded */
    bool seen;         /* unfolded already above */
    bool folded;       /* stands only in an arm that is not taken */
};
/* The tree below quantity Q down to DEPTH levels; lines into OUT, returns how many. */
int job_why(struct job *j, int q, enum dieset_state s, int depth, struct job_why_line *out, int room);
/* The tree the other way: what reads Q, and what reads that. A value met before is `seen`. */
int job_reach(struct job *j, int q, enum dieset_state s, int depth, struct job_why_line *out, int room);
/* Quantities that hang on Q, nearest first. */
int job_reaches(struct job *j, int q, int *out, int room);
/* Help for a quantity: property's help and source, function sources used; the usual formula that it is typed
   over. */
void job_describe(struct job *j, int q, struct base_text *out);

#endif
