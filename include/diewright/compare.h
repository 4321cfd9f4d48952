/* diewright/compare.h - two die sets side by side: what differs
 *
 * Two die sets of one handbook, judged, go in: a job and another job, a job and itself as it was. Out come
 * rows: items that only one has, what is typed differently, values that differ in either state, findings that
 * only one has, order lines that differ. What is said of a job (dieset_item_words()) is no difference of the
 * set, but a finding that one of them has waived is one. Items are the same when their names are; values,
 * when their paths are; what is typed, when it is but for blanks that part nothing. Texts and numbers are
 * told in the first one's unit. Uses: findings, dieset and below.
 * No try need be closed: what is shown is compared.
 */
#ifndef DIEWRIGHT_COMPARE_H
#define DIEWRIGHT_COMPARE_H

#include "diewright/findings.h"

enum compare_what {
    COMPARE_ITEM,
    COMPARE_TYPED,
    COMPARE_VALUE,
    COMPARE_FINDING,
    COMPARE_ORDER,
    COMPARE_WHATS
};
/* "item", "typed", "value", "finding", "order". */
const char *compare_what_text(enum compare_what w);

enum compare_side { COMPARE_FIRST, COMPARE_SECOND, COMPARE_SIDES };

/* One difference. TEXT: as people read it, NULL: not on that side.
 *   item     its name; the text is its kind, or its place among those of its kind ("plate 3 of 7") where that
 *   differs
 *   typed    "die_plate.thickness"; the formula, or the words of a title, note or reason
 *   ("die_plate.thickness reason")
 *   value    its path; values of what only one side has are not told: the item or what is typed says it
 *   finding  its key; grade, whether it is waived, and message
 *   order    "posts: Guide post, plain"; pieces, size and material */
struct compare_row {
    enum compare_what what;
    const char *name;
    bool stateful;               /* a value that is told for STATE alone */
    enum dieset_state state;
    const char *text[COMPARE_SIDES];
    bool is_number;              /* a value of a dimension ... */
    struct unit_dim dim;
    double number[COMPARE_SIDES]; /* ... in base units, NaN: none */
};

struct compare {
    /* in the order of enum compare_what, then that of the first, then the second */
    BASE_VEC(struct compare_row) rows;
    int counts[COMPARE_WHATS];
    struct base_arena memory;
};

/* Both findings are judged already; their lists stay as they are. */
void compare_sets(struct findings *first, struct findings *second, struct compare *out);
void compare_done(struct compare *c);

/* The differences as lines of at most WIDTH columns (60 and up), those of one kind together under a heading;
 * the sides bear NAMES. PATH: the item or value that a line is about, NULL: none. Both are borrowed for the
 * call. */
typedef void compare_line_fn(void *arg, const char *line, const char *path);
void compare_lines(const struct compare *c, const char *const names[COMPARE_SIDES], int width,
                   compare_line_fn *tell, void *arg);

#endif
