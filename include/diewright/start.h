/* diewright/start.h - starts: texts that jobs are begun from, and the page of a job that was
 *
 * A start is a job as text that holds an item of kind `start`: in a line what it is, when to take it and when
 * not, what to put in first, which values its page asks and which it tells as a first estimate. Starts are
 * shipped (DATA/templates), a shop's own (a folder that the caller names), or demo jobs (DATA/demo); an own
 * one wins over a shipped one of the same name. Nothing here prints or asks.
 * Uses: job, dieset and below.     Ownership: a list owns its texts.
 */
#ifndef DIEWRIGHT_START_H
#define DIEWRIGHT_START_H

#include "diewright/job.h"

enum start_shelf { START_OWN, START_SHIPPED, START_DEMO, START_SHELVES };

struct start {
    const char *name, *path;
    enum start_shelf shelf;
    /* LINE is never empty: else it is the title of the job, or why the file cannot be read */
    const char *line, *take, *leave, *first;
    const char *note; /* of its job, where the text says nothing of itself; "": none */
};
struct start_list {
    BASE_VEC(struct start) at;
    struct base_arena memory;
};

/* The usual one, where none is named. */
extern const char start_usual[];

/* All that there are, own ones first, each shelf by name. OWN NULL: there is no such folder. */
void start_list_read(const char *data, const char *own, struct start_list *out);
void start_list_done(struct start_list *l);
/* By name; NULL: none. */
const struct start *start_find(const struct start_list *l, const char *name);
/* "when to take it" and so on with what is said there; how many paragraphs. */
struct start_paragraph {
    const char *head, *text;
};
enum { START_PARAGRAPHS = 4 };
int start_page_text(const struct start *s, struct start_paragraph out[START_PARAGRAPHS]);

/* A new file PATH begun from TEXT, PATHS typed over as FORMULAS say; all of it or nothing. */
NODISCARD enum base_err start_begin(const struct handbook *h, const char *path, const char *text,
                                    const char *name, const char *const *paths, const char *const *formulas,
                                    int n, struct job **out, struct base_diag *why);

/* The page of a job: quantities that it asks, and that it tells; what the job has not is left out. None of
   either where it was begun from no start that has a page. */
enum { START_PAGE = 40 };
struct start_page {
    int asks[START_PAGE], n_asks, tells[START_PAGE], n_tells;
};
void start_page(struct job *j, struct start_page *out);

/* The die set of J with its page, without what else was said of it: what another job like it begins from.
   Yours to free(). */
char *start_text_like(struct job *j);

/* Keep the die set of J, without what was said of it, as start NAME of the folder OWN, which is made where
 * there is none. LINE says what it is, TAKE when to take it ("": nothing); what J's own page asks and tells
 * goes along. *PATH is yours to free(). Refused where there is a start of that name. */
NODISCARD enum base_err start_keep(struct job *j, const char *data, const char *own, const char *name,
                                   const char *line, const char *take, char **path, struct base_diag *why);

/* ---- settings of the shop ---- */

/* FILE types values of the item `job`, kept once for all jobs of a shop: a text as a job has it, with that
 * item alone. What J has nothing typed for is typed in it: an open try, none where *N is 0. OWN, where it is
 * not NULL: the others, which J has otherwise, "job.tolerances = "fine" (the shop's: "medium")", a line each.
 * Refused: what is no such text. */
NODISCARD enum base_err start_shop_try(struct job *j, const char *file, int *n, struct base_text *own,
                                       struct base_diag *why);

/* ---- the part's outline from a file ---- */

/* How a file is to be read; 0 everywhere: as it says itself. UNIT_MM: millimetres of one of its units; SCALE:
 * times that; WITHIN_MM: curves become straight sides that are off by no more (0: START_WITHIN_MM); WHICH:
 * the number of an outline of several. */
#define START_WITHIN_MM 0.01
struct start_outline_wish { double unit_mm, scale, within_mm; int which; };
/* WHAT is unit, scale, within or path, as people type it: TEXT "mm", "2", "0.02 mm", "3". */
NODISCARD enum base_err start_outline_wish_set(struct start_outline_wish *w, const char *what,
                                               const char *text, struct base_diag *why);
/* Lines for job_outline(), the middle of the box round them at the station's point; how many CURVES became
 * straight sides; the size of that box, 0 where the lines are a job's own. */
struct start_outline { BASE_VEC(char *) lines; int curves; double along_mm, across_mm; };

/* TEXT: an SVG drawing, path data alone, or lines as a job has them. Refused, telling where, what is not
 * understood: other curves than C and A, transforms, drawings without a path or without a unit. */
NODISCARD enum base_err start_outline_read(const char *text, const char *name,
                                           const struct start_outline_wish *w, struct start_outline *out,
                                           struct base_diag *why);
void start_outline_done(struct start_outline *o);
/* The file PATH read so, and taken as the outline of ITEM, whose shape is one from then on. Not taken,
 * nothing has changed. *OUT is to be given back. */
NODISCARD enum base_err start_outline_take(struct job *j, const char *item, const char *path,
                                           const struct start_outline_wish *w, struct start_outline *out,
                                           struct base_diag *why);
/* "14 lines, 28 x 40 mm, 3 curves as straight sides" */
void start_outline_words(const struct start_outline *o, struct base_text *out);

#endif
