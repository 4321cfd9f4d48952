/* tui/views/review.c - the lead's screen: what is open, what was edited since the revision, what is typed
 * over, how press and load stand
 *
 * One list of lines under headings; the cursor walks over those that lead somewhere. The lines are made anew
 * whenever values may differ, and cut into rows for the width at hand; the cursor stays on its line, which
 * its id tells. What an edit moved is worked out edit by edit, newest first, while no key waits, and kept
 * until somebody edits. Where the cursor was last is kept when the review is left, for who goes to a value
 * comes back to go on.
 */

#include "tui/views/review_lines.h"

#include "tui/act.h"
#include "tui/caution.h"
#include "tui/edits.h"
#include "tui/found.h"
#include "tui/go.h"
#include "tui/lesson.h"
#include "tui/views.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* A part of a line: bytes of its text, and of the words in its second column. */
struct row { int line, part; size_t text, n_text, right, n_right; };

struct review {
    struct level level;
    review_lines lines;
    BASE_VEC(struct row) rows;
    struct list list;         /* of rows; the cursor stands on the first of a line */
    int width;                /* that the rows are cut for */
    long seq;                 /* the newest event that the moves know */
    struct job_past *past;
    BASE_VEC(char *) moved;   /* by event, newest first; "" not worked out yet */
};

/* Columns: text of edits, their second column; text that has no room beside its lead goes on below. */
enum { EDIT_TEXT = 8, BELOW = 6, MOST_PARTS = 12 };

static int moved_column(int width) { return width > 100 ? width / 2 + 6 : 49; }

/* ---- rows ---- */

static struct review_line *line_at(struct review *r, int row)
{
    return row >= 0 && row < r->list.n ? &r->lines.at[r->rows.at[row].line] : NULL;
}

static struct review_line *at_cursor(struct review *r) { return line_at(r, r->list.at); }

static bool stops(struct review *r, int row)
{
    return r->rows.at[row].part == 0 && review_line_stops(line_at(r, row));
}

static bool has_moves(const struct review_line *l)
{
    return l->what == LINE_EDIT && l->right && strcmp(l->right, "-") != 0;
}

/* Where the text of a line stands and how wide it may be, in its first part and in those below. */
struct column { int x, width, below_x, below_width; };

static struct column text_column(const struct review_line *l, int width)
{
    int lead = 2 + paint_width(l->lead), right = l->right ? paint_width(l->right) + 3 : 1;
    switch (l->what) {
    case LINE_EDIT:
        right = l->right && !has_moves(l) ? width - 1 : moved_column(width) - 2;
        return (struct column){EDIT_TEXT, right - EDIT_TEXT, EDIT_TEXT, right - EDIT_TEXT};
    case LINE_REVISION:
    case LINE_REMARK: return (struct column){lead, width - lead - right, BELOW, width - BELOW - 1};
    default: return (struct column){lead, width - lead - 1, BELOW, width - BELOW - 1};
    }
}

static bool wraps(const struct review_line *l)
{
    return l->what == LINE_EDIT || l->what == LINE_REMARK || l->what == LINE_REVISION ||
           l->what == LINE_TYPED;
}

/* The next piece of TEXT from *AT on; *AT goes behind it. */
static size_t piece(const char *text, size_t *at, size_t *from, int width)
{
    size_t skip = 0, n = text && text[*at] ? paint_wrap(text + *at, width, &skip) : 0;
    *from = *at;
    *at += n + skip;
    return n;
}

static void add_rows(struct review *r, int line, int width)
{
    const struct review_line *l = &r->lines.at[line];
    struct column c = text_column(l, width);
    size_t text = 0, right = 0;
    bool beside = l->what == LINE_EDIT || c.width >= 16 || (l->text && paint_width(l->text) <= c.width);
    int part = 0;
    do {
        struct row row = {.line = line, .part = part};
        if (wraps(l) && (part || beside))
            row.n_text = piece(l->text, &text, &row.text, part ? c.below_width : c.width);
        if (has_moves(l))
            row.n_right = piece(l->right, &right, &row.right, width - moved_column(width) - 1);
        base_vec_push(&r->rows, row);
        part++;
    } while (part < MOST_PARTS && wraps(l) &&
             ((l->text && l->text[text]) || (has_moves(l) && l->right[right])));
}

/* The first row of the line with this id, -1. */
static int row_of(struct review *r, const char *id)
{
    for (int i = 0; i < r->list.n; i++)
        if (stops(r, i) && strcmp(line_at(r, i)->id, id) == 0)
            return i;
    return -1;
}

/* To the row at the cursor, or the nearest one that stops: on in the direction BY, else back. */
static void to_stop(struct review *r, int by)
{
    for (int turn = 0; turn < 2; turn++, by = -by)
        for (int at = r->list.at; at >= 0 && at < r->list.n; at += by)
            if (stops(r, at)) {
                r->list.at = at;
                return;
            }
}

/* Rows anew for WIDTH; the cursor finds line ID again, and that line keeps its place on the screen. Where the
 * list stood at its beginning it still does: a new fault comes there. */
static void lay(struct review *r, int width, const char *id)
{
    int up = r->list.at - r->list.top;
    r->rows.count = 0;
    for (int i = 0; i < (int)r->lines.count; i++)
        add_rows(r, i, width);
    r->width = width;
    r->list.n = (int)r->rows.count;
    int found = row_of(r, id);
    if (found >= 0) {
        r->list.at = found;
        r->list.top = r->list.top && found > up ? found - up : 0;
    }
    list_move(&r->list, MOVE_LEFT, 0);
    to_stop(r, 1);
}

static void remember(struct tui *t, struct review *r)
{
    const struct review_line *l = at_cursor(r);
    snprintf(t->visits->review, sizeof t->visits->review, "%s", l && l->id ? l->id : "");
}

/* ---- what edits moved ---- */

static long newest(struct tui *t)
{
    const struct typed_event *e;
    return job_history(t->job, &e, 1) ? e->seq : 0;
}

static void forget_moves(struct review *r)
{
    job_past_free(r->past);
    r->past = NULL;
    for (size_t i = 0; i < r->moved.count; i++)
        free(r->moved.at[i]);
    r->moved.count = 0;
}

static void put_moved(struct review *r, long seq, const char *words)
{
    for (size_t i = 0; i < r->lines.count; i++)
        if (r->lines.at[i].edit == seq && !r->lines.at[i].right)
            r->lines.at[i].right = base_copy(words);
}

static bool wanted(const struct review *r)
{
    for (size_t i = 0; i < r->lines.count; i++)
        if (r->lines.at[i].edit >= 0 && !r->lines.at[i].right)
            return true;
    return false;
}

static void idle(struct tui *t, struct level *level)
{
    struct review *r = (struct review *)level;
    struct job_past_step s;
    if (!r->past && job_past_new(t->job, &r->past, NULL) != BASE_OK) {
        level->pending = base_given_up();
        return;
    }
    level->pending = job_past_back(r->past, &s) || base_given_up();
    if (!level->pending)
        return;
    char *words = review_moves_words(t, &s);
    base_vec_push(&r->moved, words);
    put_moved(r, s.event->seq, words);
    lay(r, r->width, t->visits->review);
    level->pending = wanted(r);
}

static void settle(struct tui *t, struct level *level)
{
    struct review *r = (struct review *)level;
    if (job_trying(t->job))
        return;
    long seq = newest(t);
    if (seq != r->seq)
        forget_moves(r);
    r->seq = seq;
    review_lines_make(t, &r->lines);
    for (size_t i = 0; i < r->moved.count; i++) /* event by event, the newest first */
        put_moved(r, r->seq - (long)i, r->moved.at[i]);
    lay(r, t->at.body.w, t->visits->review);
    remember(t, r);
    level->pending = wanted(r);
}

/* ---- drawing ---- */

static void draw_title(struct tui *t, struct area a)
{
    struct review_revision latest, gone;
    bool withdrawn = review_withdrawn(t->d, &gone);
    int x = paint_text(&t->p, a, 0, 1, INK_STRONG, "review");
    if (review_latest(t->d, &latest)) {
        x = paint_format(&t->p, a, 0, x + 3, INK_PLAIN, "rev %s issued %.10s %s", latest.letter, latest.when,
                         latest.by);
        if (*latest.says && !withdrawn)
            paint_format(&t->p, a, 0, x + 2, INK_DIM, "\"%s\"", latest.says);
    } else {
        x = paint_text(&t->p, a, 0, x + 3, INK_PLAIN, withdrawn ? "not issued" : "not issued yet");
    }
    if (withdrawn)
        paint_format(&t->p, a, 0, x + 2, INK_STRONG, "rev %s withdrawn", gone.letter);
}

/* The words at the right of a finding: as many as leave its own words two thirds. */
static int draw_right(struct tui *t, struct area a, int y, const struct review_line *l)
{
    int most = l->what == LINE_FINDING ? a.w / 3 : a.w - 20, width = l->right ? paint_width(l->right) : 0;
    if (!width)
        return a.w - 1;
    width = width < most ? width : most;
    enum ink ink = l->what == LINE_HEAD ? INK_STRONG : INK_PLAIN;
    paint_cut(&t->p, a, y, a.w - 1 - width, a.w - 1, ink, l->right);
    return a.w - 1 - width - 2;
}

static void draw_first(struct tui *t, struct area a, int y, const struct review_line *l, enum ink ink)
{
    int x = l->what == LINE_HEAD ? 1 : 2;
    x = paint_text(&t->p, a, y, x, ink, l->lead);
    if (l->what == LINE_EDIT)
        return;
    if (l->what == LINE_HEAD && l->right && strcmp(l->right, "moved") == 0) {
        paint_text(&t->p, a, y, moved_column(a.w), INK_DIM, l->right);
        return;
    }
    int end = draw_right(t, a, y, l);
    if (l->text && !wraps(l))
        paint_cut(&t->p, a, y, x, end, ink, l->text);
}

static void draw_row(struct tui *t, struct area a, int y, struct review *r, int row)
{
    const struct row *w = &r->rows.at[row];
    const struct review_line *l = line_at(r, row);
    bool here = w->line == r->rows.at[r->list.at].line, last = w->part == MOST_PARTS - 1;
    struct column c = text_column(l, a.w);
    enum ink ink = here && review_line_stops(l)                  ? INK_STRONG
                   : l->what == LINE_HEAD || l->what == LINE_DAY ? INK_DIM
                                                                 : l->ink;
    if (w->part == 0)
        draw_first(t, a, y, l, ink);
    if (w->n_text)
        paint_format(&t->p, a, y, w->part ? c.below_x : c.x, ink, "%.*s%s", (int)w->n_text, l->text + w->text,
                     last ? " .." : "");
    if (w->n_right)
        paint_format(&t->p, a, y, moved_column(a.w), INK_PLAIN, "%.*s", (int)w->n_right, l->right + w->right);
    if (row != r->list.at)
        return;
    paint_text(&t->p, a, y, 0, INK_STRONG, ">");
    tui_cursor(t, a, y, 0);
}

static void draw(struct tui *t, struct level *level)
{
    struct review *r = (struct review *)level;
    /* and the row of messages, while there is none */
    struct area whole = {t->at.body.y, t->at.body.x, t->at.body.h + 1, t->at.body.w};
    struct area a = caution_below(t, whole, -1, false, 1);
    int n = review_foot_rows(t);
    if (r->width != a.w)
        lay(r, a.w, t->visits->review);
    draw_title(t, a);
    struct area body = {a.y + 1, a.x, a.h - 2 - n, a.w};
    level->listed = body;
    list_fit(&r->list, body.h);
    while (r->list.top > 0 && r->list.at == r->list.top && !stops(r, r->list.top - 1) &&
           !review_line_stops(line_at(r, r->list.top - 1)))
        r->list.top--; /* with its heading */
    for (int y = 0; y < body.h && r->list.top + y < r->list.n; y++)
        draw_row(t, body, y, r, r->list.top + y);
    if (r->list.top + body.h < r->list.n)
        paint_format(&t->p, a, 0, a.w - 16, INK_DIM, "%4d rows below", r->list.n - r->list.top - body.h);
    paint_row(&t->p, a, a.h - n - 1, INK_DIM);
    review_foot_draw(t, a, a.h - n);
}

/* ---- keys ---- */

static void step(struct tui *t, struct level *level, enum move m)
{
    struct review *r = (struct review *)level;
    int was = r->list.at;
    list_move(&r->list, m, t->at.body.h - 6);
    to_stop(r, r->list.at < was ? -1 : 1);
    if (m == MOVE_FIRST)
        r->list.top = 0;
    remember(t, r);
}

static void enter(struct tui *t, struct level *level)
{
    const struct review_line *l = at_cursor((struct review *)level);
    if (l && l->go)
        go_to_subject(t, l->go);
}

static const char *path_at(struct tui *t, struct level *level)
{
    const struct review_line *l = at_cursor((struct review *)level);
    if (!l || !l->go)
        return NULL;
    for (int i = 0; i < t->found->n; i++)
        if (strcmp(t->found->findings[i].key, l->go) == 0 && t->found->findings[i].cause >= 0)
            return dieset_quantity(t->d, t->found->findings[i].cause)->path;
    return dieset_find(t->d, l->go) >= 0 ? l->go : NULL;
}

/* Any row of a line leads to the line. */
static enum hit at(struct tui *t, struct level *level, int y, int x)
{
    struct review *r = (struct review *)level;
    struct list l = r->list;
    int was = r->list.at;
    if (list_hit(&l, level->listed, y, x) == HIT_NOTHING || !review_line_stops(line_at(r, l.at)))
        return HIT_NOTHING;
    r->list.at = l.at;
    to_stop(r, -1);
    remember(t, r);
    return r->list.at == was ? HIT_HERE : HIT_MOVED;
}

static void done(struct level *level)
{
    struct review *r = (struct review *)level;
    review_lines_forget(&r->lines);
    forget_moves(r);
    base_vec_done(&r->lines);
    base_vec_done(&r->rows);
    base_vec_done(&r->moved);
    free(r);
}

static const struct level_ops ops = {.place = AT_REVIEW,
                                     .full = true,
                                     .draw = draw,
                                     .move = step,
                                     .enter = enter,
                                     .path = path_at,
                                     .at = at,
                                     .settle = settle,
                                     .idle = idle,
                                     .done = done};

static struct review *on_top(struct tui *t)
{
    struct level *l = tui_top(t);
    return l && l->ops == &ops ? (struct review *)l : NULL;
}

const struct review_line *review_at_cursor(struct tui *t)
{
    struct review *r = on_top(t);
    return r ? at_cursor(r) : NULL;
}

void review_open(struct tui *t, const char *unused)
{
    (void)unused;
    if (lesson_holds_back(t, "the review"))
        return;
    struct review *r = base_alloc(sizeof *r);
    r->level.ops = &ops;
    edit_drop(t);
    tui_settle(t);
    settle(t, &r->level);
    int page = t->at.body.h - 6; /* the first lines, where the cursor is among them: they are the gravest */
    r->list.top = r->list.at < page ? 0 : r->list.at - page / 2;
    tui_push(t, &r->level);
    tui_hush(t);
}

void act_review(struct tui *t) { review_open(t, ""); }

/* The next heading's first line, and round. */
void act_review_next(struct tui *t)
{
    struct review *r = on_top(t);
    bool passed = false;
    for (int i = 1; i <= r->list.n; i++) {
        int k = (r->list.at + i) % r->list.n;
        passed = passed || line_at(r, k)->what == LINE_HEAD;
        if (passed && stops(r, k)) {
            r->list.at = k;
            r->list.top = k > 0 ? k - 1 : 0; /* under its heading, with what follows in sight */
            while (r->list.top > 0 && line_at(r, r->list.top)->what != LINE_HEAD)
                r->list.top--;
            remember(t, r);
            return;
        }
    }
}

void act_differences(struct tui *t)
{
    struct review_revision latest;
    if (review_latest(t->d, &latest))
        tui_open(t, "compare", latest.letter);
    else
        tui_say(t, "not issued yet: there is no revision to compare with; c compares with an edit ago");
}
