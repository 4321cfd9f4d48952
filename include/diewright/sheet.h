/* diewright/sheet.h - sheets for the shop: a plate's drawing, the set's, lists on pages
 *
 * Each function makes one or several sheets (diewright/draw.h) out of a die set. Sizes of sheets are those
 * of ISO 5457 (trimmed: ISO 216), in an inch job of ASME Y14.1; scales of ISO 5455 (1:1 1:2 1:5 1:10), in
 * an inch job 1:1 1:2 1:4 1:8; fields of the title block in the manner of ISO 7200; all from memory.
 * Lengths are told in the job's unit. What stands on a sheet is what the hole charts tell
 * (report_chart_make()). Uses: draw, report, findings, dieset and below.
 */
#ifndef DIEWRIGHT_SHEET_H
#define DIEWRIGHT_SHEET_H

#include "diewright/draw.h"
#include "diewright/report.h"

/* What the title block tells of the job; texts are borrowed, NULL or "": not told. */
struct sheet_title {
    const char *job;      /* its title */
    const char *number;   /* the set's number, the stem of drawing numbers */
    const char *standing; /* "revision B, sum 0123456789abcdef", "not issued" */
    const char *revision; /* "B", "": not issued as it stands */
    const char *date;     /* of that revision, never of the clock */
    const char *made_by, *checked_by; /* who edited it last before, and who else issued it; "": nobody */
    const char *sums;     /* of job and handbook */
    int faults, cautions; /* open ones */
};
/* "NOT TO BE MADE BY: 2 FAULTS OPEN", "1 caution open", "": what each page of a paper says. Yours to
   free(). */
char *sheet_open_words(const struct sheet_title *t);
/* Sheets in order; the first is the drawing, what follows holds what did not fit on it. */
struct sheet_book { BASE_VEC(struct draw_sheet) at; char *title; };
void sheet_done(struct sheet_book *b);

/* PLATE at true scale: seen from above with lettered holes and running dimensions from the datum FROM
 * (report_datum_named()), a section through it, its place in the stack, tables of machining and places,
 * notes. Refused: a size of it is not known, it is too large for the largest sheet, FROM is no datum. */
NODISCARD enum base_err sheet_plate(struct dieset *d, int plate, enum dieset_state s, const char *from,
                                    const struct sheet_title *t, struct sheet_book *out,
                                    struct base_diag *why);
/* The set: the lower half from above, the stack from the front, shut, with heights over the lower shoe's
 * bottom. */
NODISCARD enum base_err sheet_set(struct dieset *d, enum dieset_state s, const struct sheet_title *t,
                                  struct sheet_book *out, struct base_diag *why);
/* The strip from above as the tools find it, station by station, the part that comes of it, flat and with
 * running dimensions, and the table of stations. Refused: width, pitch or the stations' numbers are not
 * known. */
NODISCARD enum base_err sheet_strip(struct dieset *d, const struct sheet_title *t, struct sheet_book *out,
                                    struct base_diag *why);
/* Are papers printed on sheets by ASME Y14.1 and letter, or else by ISO 216? As the job says, or its unit. */
bool sheet_inch_paper(const struct dieset *d);
/* A list on upright pages, A4 (US letter in an inch job): NAME goes into its number, "TEST-order". */
void sheet_pages(const struct report_paper *p, bool inches, const char *name, const char *title,
                 const struct sheet_title *t, struct sheet_book *out);
/* "A3", "letter": what a sheet is printed on. */
const char *sheet_paper_name(const struct draw_sheet *s);

#endif
