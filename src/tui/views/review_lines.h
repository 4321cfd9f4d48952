/* tui/views/review_lines.h - what the review lists, before it is cut into rows
 *
 * A line has a lead, which keeps its place, a text behind it, which may take several rows, and words at its
 * right end or in a second column. ID tells it from others, so that the cursor finds its line again when the
 * list is made anew.
 */
#ifndef DIEWRIGHT_TUI_REVIEW_LINES_H
#define DIEWRIGHT_TUI_REVIEW_LINES_H

#include "tui/tui.h"

enum line_what {
    LINE_HEAD,
    LINE_NOTHING,
    LINE_DAY,
    LINE_FINDING,
    LINE_REMARK,
    LINE_REVISION,
    LINE_EDIT,
    LINE_TYPED
};

struct review_line {
    enum line_what what;
    enum ink ink;
    char *lead, *text, *right; /* text and right may be NULL */
    char *go;     /* what Enter goes to: item, value or a finding's key; NULL: nowhere */
    char *record; /* the item that holds a remark or waiver, a revision's letter, NULL: none */
    char *id;
    long edit;    /* the edit's event, -1 */
};
typedef BASE_VEC(struct review_line) review_lines;

void review_lines_make(struct tui *t, review_lines *out);
void review_lines_forget(review_lines *l);
static inline bool review_line_stops(const struct review_line *l) { return l->what > LINE_DAY; }

/* "turned, stripper" for a finding's KEY while it stands; else KEY itself. Returns BUF. */
const char *review_finding_words(const struct tui *t, const char *key, char *buf, size_t size);
/* What event S moved most to the point, "posts.length 200.0 -> 224.0 mm  +40", or "-". Yours to free(). */
char *review_moves_words(struct tui *t, const struct job_past_step *s);

/* The rules that are looked at first, at the foot of the screen. */
int review_foot_rows(const struct tui *t);
void review_foot_draw(struct tui *t, struct area a, int y);

/* What R and W speak of where the review is open: the line at its cursor, NULL: it is not on top. */
const struct review_line *review_at_cursor(struct tui *t);

#endif
