/* diewright/shop.h - the papers of an open job: by name, as files, all of them in a folder
 *
 * A paper is asked for by its name: one of this list, or of the handbook's own papers. Above it stand the
 * job, its revision and what is open, below a drawing the sums of job and handbook. Both faces have them
 * from here.
 * Uses: job, sheet, solid, draw, report and below.
 */
#ifndef DIEWRIGHT_SHOP_H
#define DIEWRIGHT_SHOP_H

#include "diewright/job.h"
#include "diewright/report.h"
#include "diewright/sheet.h"
#include "diewright/solid.h"

/* What is asked of a job. DATUM as report_datum_named() has it, NULL: the left front corner. */
struct shop_ask {
    struct job *job;
    int plate; /* -1: all */
    enum dieset_state state;
    const char *datum;
    const char *since; /* the revision that was ordered by, "": the latest in force, NULL: none */
    bool strip;        /* the drawing of the strip, not of the set */
};

/* The papers of J's handbook and program in the order in which a shop asks for them; false: there are no
 * more. TITLE may be NULL. */
bool shop_paper(struct job *j, int i, const char **name, const char **title);
#define SHOP_RECHECK "recheck" /* what changed since the revision `since` was issued: in no folder */
bool shop_has_paper(struct job *j, const char *name);
/* The paper NAME of what ASK asks for, with the lines above it. Refused: there is none of that name, or what
 * report_holes() refuses. */
NODISCARD enum base_err shop_make(const struct shop_ask *ask, const char *name, struct report_paper *out,
                                  struct base_diag *why);
/* "Cover plate, revision B, sum 0123456789abcdef": what a paper is of. Yours to free(). */
char *shop_head(struct job *j);
/* That nobody is to order or cut by it while findings are open. Yours to free(), NULL: none are. */
char *shop_open_words(struct job *j);

/* What two copies of a job differ in, with who changed it and what each brings in findings; begins P. */
void shop_join(struct job_join *jj, struct report_paper *p);
const char *shop_joined_stays(const struct job_joined *x); /* "mine", "theirs", "choose" */

/* Files: a drawing (PLATE -1: of the set) as PDF or SVG; a solid (the set with the ram RAM mm above shut), or
 * a plate's outlines as curves. Added to OUT. */
NODISCARD enum base_err shop_drawing(const struct shop_ask *ask, bool svg, struct base_text *out,
                                     struct base_diag *why);
NODISCARD enum base_err shop_solid(const struct shop_ask *ask, double ram, bool curves, struct base_text *out,
                                   struct base_diag *why);
/* TEXT into the file PATH, whole or not at all; what stood there is replaced. */
NODISCARD enum base_err shop_write(const char *path, const struct base_text *text, struct base_diag *why);

/* All papers of the job into FOLDER, which is made where there is none; with SOLIDS also plates and set as
 * solids, and each plate's outlines. Added to TOLD: the files' names, one a line, then below an empty line
 * what to type to print them. Refused: files of an issued revision stand there and say something else. */
NODISCARD enum base_err shop_folder(const struct shop_ask *ask, const char *folder, bool solids,
                                    struct base_text *told, struct base_diag *why);

#endif
