/* diewright/report.h - papers: findings, values, order list, hole charts; text, CSV, JSON
 *
 * A paper is columns and rows; one writer turns any paper into text, CSV or JSON. CSV headers are fixed once
 * and kept.
 * Uses: findings, dieset and below.     Papers for the shop end in the cautions of what stands in the job,
 * those that defer first.
 */
#ifndef DIEWRIGHT_REPORT_H
#define DIEWRIGHT_REPORT_H

#include "diewright/explore.h"
#include "diewright/tolerance.h"

enum report_format { REPORT_TEXT, REPORT_CSV, REPORT_JSON };
/* "text", "csv", "json". */
bool report_format_named(const char *name, enum report_format *out);

/* A cell is a text or a number (already in the unit of its column); `decimals` are those of the text form;
 * CSV and JSON have at least three, -1: as many as it has. A column without a heading stands in CSV and JSON
 * only, one without a name in the text form only. */
struct report_cell { const char *text; double number; bool is_number, only_text; int decimals; };
struct report_line { int row; const char *text; };
struct report_column { const char *name; const char *heading; bool right; };
struct report_paper {
    const struct report_column *columns; int n_columns;
    BASE_VEC(struct report_cell) cells; /* row by row */
    BASE_VEC(const char *) above, below; /* lines of the text form */
    BASE_VEC(struct report_line) within; /* before which row */
    bool *folded; /* columns that stand under the row */
    bool cut;     /* the last column of the text form is cut to one line */
    bool exact;   /* CSV and JSON have all figures: for values that are read back */
    int width;    /* of the text form, in columns; 0: 80 */
    struct base_arena memory;
};
void report_begin(struct report_paper *p, const struct report_column *columns, int n);
/* In the text form this column's texts stand on lines of their own under the row, wrapped, its heading before
   each. */
void report_fold(struct report_paper *p, int column);
/* The text form cuts the last column to one line (it can be read whole elsewhere). */
void report_cut(struct report_paper *p);
void report_text(struct report_paper *p, const char *text); /* copied; NULL: empty */
void report_number(struct report_paper *p, double number, int decimals); /* NaN: empty */
void report_unknown(struct report_paper *p); /* "?" in the text form, nothing in data */
void report_line_above(struct report_paper *p, const char *fmt, ...) PRINTF_LIKE(2, 3);
/* above all others so far */
void report_line_first(struct report_paper *p, const char *fmt, ...) PRINTF_LIKE(2, 3);
void report_line_below(struct report_paper *p, const char *fmt, ...) PRINTF_LIKE(2, 3);
/* A line of the text form before the row that comes next. */
void report_line_within(struct report_paper *p, const char *fmt, ...) PRINTF_LIKE(2, 3);
int report_rows(const struct report_paper *p);
/* The cell as the text form shows it; BUF where it is a number. */
const char *report_cell_words(const struct report_paper *p, int row, int column, char *buf, size_t size);
/* The text form in pages of LINES, with HEAD and the page's number on each, parted by form feeds. */
void report_paged(const struct report_paper *p, const char *head, int lines, struct base_text *out);
/* One HTML file that fetches nothing and runs nothing: begun with a title and LINES below it, a list of
 * contents by ids of letters and figures, papers as tables, drawings as the SVG that they are. On paper
 * each begins a page, drawings on sheets of their own. */
void report_html_begin(const char *title, const char *const *lines, int n, bool inches,
                       struct base_text *out);
void report_html_contents(const char *const *ids, const char *const *titles, int n, struct base_text *out);
/* HEAD stands over the table on each printed page. */
void report_html(const struct report_paper *p, const char *head, const char *id, const char *title,
                 struct base_text *out);
/* ID "": it goes on with the drawing before it. */
void report_html_drawing(const char *svg, const char *id, const char *title, struct base_text *out);
void report_html_end(struct base_text *out);
void report_write(const struct report_paper *p, enum report_format f, struct base_text *out);
void report_done(struct report_paper *p);

/* The papers; each begins P. Lengths in the job's unit, angles in degrees; what a value is shown in on
 * screens holds for its exact figure too. Where a value cannot be worked out, CSV is empty and JSON null, the
 * text form says why not. holes: those of one group on one axis bear one number; depth empty: right through.
 * order: mass is the whole line's. */
/* name,state,value,unit,formula */
void report_show(struct dieset *d, const int *quantities, int n, struct report_paper *p);
/* grade,rule,item,state,value,limit,margin,message,source,read; the grade of what is waived is "waived" */
void report_check(struct findings *f, struct report_paper *p);
/* Where the places of a plate are counted from: a spot in the plan, and the ways in which x and y run. */
struct report_datum { double x, y; int way_x, way_y; char name[120]; };
/* "left front", "right-back" ...: that corner of PLATE, inwards. "centre lines": its middle. A group with a
 * hole in the plate, "die_dowels" (its first place) or "die_dowels.left": that hole's axis. NULL: the left
 * front corner. Refused: none of these, or the group has no hole there. */
NODISCARD enum base_err report_datum_named(struct dieset *d, int plate, enum dieset_state s, const char *text,
                                           struct report_datum *out, struct base_diag *why);
/* A hole of a plate in the chart's order: x and y from the datum. Holes of one group on one axis are one
 * place. A letter stands for one machining - all that is done at the place, with its sizes, depths and
 * faces -, the figure counts its places: A1, A2, B1. No I, O and Q. Letters go by the first place of each,
 * by x, then y. NUMBER counts places by x, then y. Chart, plan and drawings show these and no others. */
struct report_place {
    struct dieset_hole hole;
    double x, y;
    int number, letter, figure; /* letter from 0 */
    bool first;                 /* the first row of its place */
};
struct report_chart {
    struct dieset *d;
    int plate;
    enum dieset_state state;
    struct report_datum from;
    double thickness; /* as it stands in the state */
    struct report_place *at; int n;
    int letters;
};
void report_chart_make(struct dieset *d, int plate, enum dieset_state s, const struct report_datum *from,
                       struct report_chart *out);
void report_chart_done(struct report_chart *c);
/* "A", "B" ... "Z", "AA". Returns BUF. */
const char *report_letter(int letter, char *buf, size_t size);
const char *report_mark(const struct report_place *p, char *buf, size_t size); /* "A12" */
int report_letter_places(const struct report_chart *c, int letter);
/* All that LETTER stands for, in the words of the chart: "M8, drill 6.8, through, from below", and where
 * its holes go on, what it is made together with, whether before or after hardening. */
void report_machining(const struct report_chart *c, int letter, struct base_text *out);
/* The limits that FIT ("H7"; of a pair the hole's, "H7/m6") gives SIZE, mm over it, from the table of fits
 * of the handbook (ISO 286-2). False: the table has no such row. */
bool report_limits(const struct dieset *d, const char *fit, double size, double *lower, double *upper);
/* What class CLASS of ISO 2768-1 ("medium") lets a length of SIZE be off each way, mm; false: nothing is
 * told. */
bool report_general(const struct dieset *d, const char *class, double size, double *off);
/* How far the place of a screw's hole H may be off along each edge, mm, so that the screw still goes from its
 * clear holes into the thread. Of the play one half is the thread's and one the clear hole's (ASME Y14.5,
 * fixed fasteners, from memory: T = (H - F) / 2, the diameter of a circle), and the square within that circle
 * is taken, down to a hundredth. NaN: it is no thread of a screw, nor a clear hole of one. */
double report_screw_share(const struct report_chart *c, const struct dieset_hole *h);
/* plate,mark,what,nominal,lower,upper,measured,remark: what an inspector measures of PLATE (-1: of all),
 * place by place from the left front corner, with the limits of fits and of the job's class of general
 * tolerances; the last two columns are empty. */
void report_inspection(struct dieset *d, int plate, struct report_paper *p);
/* plate,hole,group,x,y,face,operation,diameter,depth,fit,thread,mark,lower,upper,goes_on,together,hardening,
 * length,width,corner,turn,land,relief,thread_depth;
 * plate -1: all. FROM: see report_datum_named(); with all plates one that lacks the group is charted from
 * its left front corner, and says so. */
NODISCARD enum base_err report_holes(struct dieset *d, int plate, enum dieset_state s, const char *from,
                                     struct report_paper *p, struct base_diag *why);
/* line,quantity,designation,size,material,mass,item,hardness,finish,raw,spares,used_in,price,price_all,
 * wanted_by,remark,change. BEFORE: what was ordered with revision SINCE, NULL: nothing; what it has and the
 * list has no longer stands behind the others, with none of it wanted. */
void report_order(struct dieset *d, const struct dieset_orders *before, const char *since,
                  struct report_paper *p);
/* station,x,item,does,points,size,cut,force,stagger,stand: a row for each that works in a station; lengths
 * and forces in the job's units */
void report_stations(struct dieset *d, struct report_paper *p);
/* name,state,was,is,unit */
void report_moves(struct dieset *d, const struct dieset_move *moves, int n, struct report_paper *p);
/* state,height,event,item,what,value,unit: each event, and what stands then */
void report_stroke(struct dieset *d, struct report_paper *p);
/* A paper of the handbook, as its record says: part, then the record's columns. */
void report_told(struct dieset *d, const struct handbook_paper *of, struct report_paper *p);
/* finding,name,was,is,typed,listed,moved,comes,goes,sizes: a row for each proposal; a value that does not
   clear it alone has nothing in `is`. */
void report_mend_begin(struct report_paper *p);
void report_mend(const struct explore_mend *m, struct report_paper *p);
/* How NAME, an expression or a chain of the handbook (of ITEM, "": of each), is when it is made:
 * of,what,drawn,lower,upper,unit,by,share,squares,limits: the worst case, the root of squares, samples, then
 * each size that moves it; shares in percent. Several items, and NAME "", all chains:
 * chain,item,drawn,worst_lower,worst_upper,root_lower,root_upper,unit,most: a row for each. State, seed and
 * samples as in HOW. What is refused leaves no paper. */
NODISCARD enum base_err report_tolerance(struct dieset *d, const char *name, const char *item,
                                         const struct tolerance_ask *how, struct report_paper *p,
                                         struct base_diag *why);
/* grade,rule,item,state,drawn,worst,unit,takes: what does not hold at the worst case */
NODISCARD enum base_err report_worst(struct findings *f, struct report_paper *p, struct base_diag *why);
/* The review: part,grade,name,state,value,usual,by,when,says. Parts: open, waived (or "open again", "not
 * needed"), remark, revision, edit (each of EVENTS: those since the latest revision), what came of them
 * (changed, came, went, order, moved: against WAS, the set as it was at that revision, NULL: there is none),
 * typed over. The lists of F and WAS are the last that were judged. */
void report_review(struct findings *f, struct findings *was, const struct typed_event *events, int n,
                   struct report_paper *p);
void report_remarks(const struct dieset *d, struct report_paper *p);    /* remark,item,finding,by,when,says */
/* waiver,finding,stands,grade,states,margin,by,when,says */
void report_waivers(const struct findings *f, struct report_paper *p);
/* number,when,who,undone,what */
void report_history(const struct typed_event *events, int n, struct report_paper *p);
/* the table's columns, then confidence,source; table -1: the list of tables */
void report_parts(const struct table_set *t, int table, struct report_paper *p);
/* class,source,cited,memory,leans: each source once, with what leans on it */
void report_sources(const struct handbook *h, struct report_paper *p);
/* example,tried,computed,printed,within,agrees,source,read; plain ones */
void report_examples(const struct handbook *h, struct report_paper *p, int *failed);

#endif
