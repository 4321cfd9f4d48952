/* tui/panes/findings.c - the findings pane
 *
 * Gravest first. Within a try: those that would come with "+", those that would go with "-", then the rest.
 * `t->found->list.at` counts findings in that order, not lines.
 *
 * Where there is little room each has one line, and the words of one stand below them all: of that at the
 * cursor, of the first that a try would bring or clear. So no line moves when the cursor does. In tall panes,
 * and in those too low even for that, the words stand with each.
 */

#include "tui/panes.h"

#include "tui/found.h"
#include "tui/go.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- the order while trying ---- */

struct shown { const struct finding *f; char sign; int number; /* in the list that stands, -1 */ };
typedef BASE_VEC(struct shown) shown_vec;

static bool same_in(const struct finding *list, int n, const char *key)
{
    for (int i = 0; i < n; i++)
        if (strcmp(list[i].key, key) == 0)
            return true;
    return false;
}

static void gather(struct tui *t, shown_vec *out)
{
    bool trying = job_trying(t->job);
    const struct job_outcome *o = trying ? job_outcome(t->job) : NULL;
    for (int i = 0; trying && i < o->n_came; i++)
        base_vec_push(out, ((struct shown){&o->came[i], '+', -1}));
    for (int i = 0; trying && i < o->n_went; i++)
        base_vec_push(out, ((struct shown){&o->went[i], '-', -1}));
    for (int i = 0; i < t->found->n; i++)
        if (!trying || !same_in(o->came, o->n_came, t->found->findings[i].key))
            base_vec_push(out, ((struct shown){&t->found->findings[i], ' ', i}));
}

/* ---- drawing ---- */

static enum ink grade_ink(const struct finding *f)
{
    return f->waiver                      ? INK_DIM
           : f->grade == HANDBOOK_FAULT   ? INK_GRAVE
           : f->grade == HANDBOOK_CAUTION ? INK_TROUBLE
                                          : INK_DIM;
}

/* rows: of one that is told whole; of a rule and words below */
enum { TITLE_AT = 6, MESSAGE_AT = 19, WHOLE = 4, WORDS = 4 };

/* What a pane of HEIGHT rows holds: rows of findings, at most so many for each and for the one at the cursor,
   words below. */
struct lines { int rows, most, here; bool below; };

static struct lines lines_of(int height, bool any)
{
    enum { TALL = 14 };
    bool below = any && height <= TALL && height > 2 * WORDS;
    return (struct lines){.rows = height - 1 - (below ? WORDS : 0),
                          .most = height > TALL ? WHOLE
                                  : below       ? 1
                                                : 2,
                          .here = below ? 1 : WHOLE,
                          .below = below};
}

/* "ground: the posts' ends ...", and of a waiver that has lapsed, LAPSED_FIRST or behind it. */
static void words_of(struct tui *t, const struct finding *f, bool lapsed_first, char *buf, size_t size)
{
    const char *state = states_text(f->states);
    struct base_text lapsed = {0};
    bool any = review_lapsed(job_findings(t->job), f, &lapsed);
    snprintf(buf, size, "%s%s%s%s%s%s%s", any && lapsed_first ? base_text_get(&lapsed) : "",
             any && lapsed_first ? "; " : "", state, *state ? ": " : "", f->message,
             any && !lapsed_first ? " " : "", any && !lapsed_first ? base_text_get(&lapsed) : "");
    base_text_done(&lapsed);
}

/* The rows that one takes in a pane of WIDTH, MOST at most. */
static int rows_of(struct tui *t, const struct finding *f, int width, int most)
{
    char text[1200];
    int rows = 0;
    words_of(t, f, false, text, sizeof text);
    for (const char *at = text; *at && rows < most; rows++) {
        size_t skip;
        at += paint_wrap(at, width - MESSAGE_AT - 1, &skip);
        at += skip;
    }
    return rows ? rows : 1;
}

/* TEXT from row Y on, wrapped into MOST rows; returns the rows it took, 1 at least. */
static int draw_wrapped(struct tui *t, struct area a, int y, int x, enum ink ink, const char *text, int most)
{
    int rows = 0;
    while (*text && rows < most) {
        size_t skip, n = paint_wrap(text, a.w - x - 1, &skip);
        paint_format(&t->p, a, y + rows, x, ink, "%.*s", (int)n, text);
        text += n + skip;
        rows++;
    }
    if (*text && rows && most > 1) /* of one line one sees that it goes on */
        paint_text(&t->p, a, y + rows - 1, a.w - 3, INK_DIM, " ..");
    return rows ? rows : 1;
}

/* One finding from row Y on; returns the rows it took (it may be cut by the area). */
static int draw_one(struct tui *t, struct area a, int y, const struct shown *s, bool here, int most)
{
    char text[1200];
    words_of(t, s->f, false, text, sizeof text);
    if (s->sign != ' ')
        paint_format(&t->p, a, y, 2, INK_STRONG, "%c", s->sign);
    paint_text(&t->p, a, y, 3, grade_ink(s->f), findings_mark(s->f));
    struct area title = {a.y, a.x, a.h, MESSAGE_AT - 1};
    enum ink ink = here ? INK_HERE : s->sign != ' ' || s->f->grade == HANDBOOK_FAULT ? INK_STRONG : INK_PLAIN;
    paint_text(&t->p, title, y, TITLE_AT, ink, s->f->title);
    if (review_open_remarks(t->d, s->f->key, NULL))
        paint_text(&t->p, a, y, MESSAGE_AT - 2, INK_STRONG, REVIEW_MARK);
    return draw_wrapped(t, a, y, MESSAGE_AT, INK_PLAIN, text, most);
}

/* "findings, not yet taken  1 fault  2 notes" */
static void draw_head(struct tui *t, struct area a, bool focus, int hidden)
{
    int counts[3];
    char more[40] = "";
    struct base_text title = {0};
    findings_counts(job_findings(t->job), counts);
    base_text_add(&title, job_trying(t->job) ? "findings, not yet taken" : "findings");
    for (int g = HANDBOOK_FAULT; g >= HANDBOOK_NOTE; g--)
        if (counts[g])
            base_text_addf(&title, "  %d %s%s", counts[g], handbook_grade_text((enum handbook_grade)g),
                           counts[g] == 1 ? "" : "s");
    if (findings_waived(job_findings(t->job)))
        base_text_addf(&title, "  %d waived", findings_waived(job_findings(t->job)));
    if (t->found->n == 0)
        base_text_add(&title, "  none: every rule that applies holds");
    if (hidden > 0)
        snprintf(more, sizeof more, "%d more", hidden);
    tui_head(t, a, focus, base_text_get(&title), more);
    base_text_done(&title);
}

/* The whole words of a finding, below a rule; they follow the cursor when it rests. */
static void draw_words(struct tui *t, struct area a, const struct finding *f)
{
    char text[1200];
    if (tui_stays(t, a))
        return;
    words_of(t, f, true, text, sizeof text);
    paint_row(&t->p, (struct area){a.y, a.x + 3, 1, a.w - 4}, 0, INK_DIM);
    draw_wrapped(t, a, 1, 3, INK_PLAIN, text, a.h - 1);
}

/* Is there one that a try would bring or clear? They stand at the top. */
static bool differs(const struct tui *t)
{
    if (!job_trying(t->job))
        return false;
    const struct job_outcome *o = job_outcome(t->job);
    return o->n_came || o->n_went;
}

static void findings_draw(struct tui *t, struct area a, bool focus)
{
    int taken = practice_pane_draw(t, a);
    a = (struct area){a.y + taken, a.x, a.h - taken, a.w};
    t->found->above = taken;
    if (a.h < 2)
        return;
    shown_vec all = {0};
    gather(t, &all);
    bool other = differs(t);
    struct lines l = lines_of(a.h, all.count > 0);
    list_fit(&t->found->list, l.rows / l.most > 0 ? l.rows / l.most : 1);
    struct area body = {a.y + 1, a.x, l.rows, a.w};
    int y = 0, i = other ? 0 : t->found->list.top;
    for (; y < l.rows && i < (int)all.count; i++) {
        bool here = !other && i == t->found->list.at;
        if (here)
            paint_text(&t->p, body, y, 1, focus ? INK_HERE : INK_STRONG, focus ? ">" : ":");
        if (here && focus)
            tui_cursor(t, body, y, 1);
        y += draw_one(t, body, y, &all.at[i], here && focus, here ? l.here : l.most);
    }
    if (l.below)
        draw_words(t, (struct area){body.y + l.rows, a.x, WORDS, a.w},
                   all.at[other ? 0 : t->found->list.at].f);
    draw_head(t, a, focus, (int)all.count - i);
    if (all.count == 0 && focus)
        tui_cursor(t, a, 0, 0);
    base_vec_done(&all);
}

/* ---- moving ---- */

static void findings_move(struct tui *t, enum move m)
{
    list_move(&t->found->list, m, 4);
}

static void findings_enter(struct tui *t)
{
    const struct finding *f = found_here(t);
    if (f && f->cause >= 0 && go_to_quantity(t, f->cause))
        tui_say(t, "%s; < goes back", f->message);
    else if (f && f->item >= 0)
        go_to(t, dieset_item_name(t->d, f->item), NULL);
}

static enum hit findings_at(struct tui *t, struct area a, int y, int x)
{
    int taken = t->found->above, at = a.y + taken + 1;
    struct lines l = lines_of(a.h - taken, t->found->n > 0);
    int below = at + l.rows;
    (void)x;
    if (job_trying(t->job))
        return HIT_NOTHING;
    for (int i = t->found->list.top; i < t->found->n && at < below; i++) {
        int end = at + rows_of(t, &t->found->findings[i], a.w, i == t->found->list.at ? l.here : l.most);
        if (y >= at && y < end && y < below) {
            bool here = i == t->found->list.at;
            t->found->list.at = i;
            return here ? HIT_HERE : HIT_MOVED;
        }
        at = end;
    }
    return HIT_NOTHING;
}

const struct pane_ops findings_pane = {AT_FINDINGS, findings_draw, findings_move,
                                       findings_enter, findings_at,   true};
