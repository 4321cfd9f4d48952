/* tui/views/detail.c - one finding in full: message, figures in both states, what would clear it, what was
 * said of it, rule and source
 *
 * The finding is a copy, so that it still stands here while a proposal is tried that clears it. Proposals are
 * found one value at a time while no key waits; an edit by anybody begins the search anew.
 */

#include "tui/act.h"
#include "tui/edits.h"
#include "tui/found.h"
#include "tui/go.h"
#include "tui/lesson.h"
#include "tui/outcome.h"
#include "tui/press.h"
#include "tui/values.h"
#include "tui/views.h"

#include "diewright/explore.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { PROPOSALS = 5 };

struct detail {
    struct level level;
    char key[200];
    struct findings_kept *kept;  /* as they stood outside any try */
    const struct finding *f;     /* in it, NULL: gone */
    struct explore_mend *mend;
    long seq;                    /* the newest event that the proposals know */
    int tried;                   /* the proposal that is tried, -1 */
    bool over;                   /* it is typed over a formula */
    /* of the screen in the last picture: where each proposal begins, and where they end */
    int rows[PROPOSALS + 1];
    int n_rows;
};

enum { BELOW = 6 }; /* BELOW: the column of what has no room beside its proposal */

static const struct finding *find(const struct detail *d)
{
    const struct finding *list;
    int n = findings_kept_list(d->kept, &list);
    for (int i = 0; i < n; i++)
        if (strcmp(list[i].key, d->key) == 0)
            return &list[i];
    return NULL;
}

static long newest(struct tui *t)
{
    const struct typed_event *e;
    return job_history(t->job, &e, 1) ? e->seq : 0;
}

/* What stands outside a try; the search begins anew where somebody has edited. */
static void look(struct tui *t, struct level *level)
{
    struct detail *d = (struct detail *)level;
    if (job_trying(t->job))
        return;
    d->tried = -1;
    findings_kept_free(d->kept);
    d->kept = findings_keep(job_findings(t->job));
    d->f = find(d);
    long seq = newest(t);
    if (!d->mend || seq != d->seq) {
        explore_mend_free(d->mend);
        d->mend = explore_mend_new(job_findings(t->job), d->key);
        d->seq = seq;
    }
    level->pending = d->mend && d->mend->left.count > 0;
}

static void idle(struct tui *t, struct level *level)
{
    struct detail *d = (struct detail *)level;
    if (!job_trying(t->job) && d->mend && explore_mend_more(job_findings(t->job), d->mend))
        tui_changed(t);
    level->pending = !job_trying(t->job) && d->mend && d->mend->left.count > 0;
}

/* Words end two columns before A does. */
static struct area text_area(struct area a)
{
    a.w--;
    return a;
}

/* "  ground   238.0 mm   limit 240.0 mm   margin -2.0 mm" */
static int figures(struct tui *t, struct area a, int y, const struct finding *f)
{
    static const struct {
        enum handbook_states bit;
        const char *word;
    } states[] = {{HANDBOOK_NEW, "new"}, {HANDBOOK_GROUND, "ground"}};
    for (int s = 0; s < 2; s++) {
        struct finding g;
        char value[60], limit[60], margin[60];
        if (!findings_standing(job_findings(t->job), f->rule, f->item, (enum dieset_state)s, &g) ||
            !g.measured)
            continue;
        findings_print(t->d, &g, g.value, value, sizeof value);
        findings_print(t->d, &g, g.limit, limit, sizeof limit);
        findings_print(t->d, &g, g.margin, margin, sizeof margin);
        bool fails = g.margin < 0;
        paint_format(&t->p, a, y++, 3, fails ? INK_STRONG : INK_PLAIN, "%-8s %-14s limit %-14s %s %s",
                     states[s].word, value, limit, fails ? "FAILS by" : "holds, margin",
                     fails && margin[0] == '-' ? margin + 1 : margin);
        if (*g.message)
            paint_text(&t->p, a, y++, 12, INK_PLAIN, g.message);
    }
    return y;
}

/* "+1 !! +2 .  moves 12" */
static void outcome_words(const struct explore_proposal *p, char *buf, size_t size)
{
    struct base_text out = {0};
    static const char *const marks[] = {".", "!", "!!"};
    for (int g = HANDBOOK_FAULT; g >= HANDBOOK_NOTE; g--)
        if (p->came[g])
            base_text_addf(&out, "+%d %s ", p->came[g], marks[g]);
    base_text_addf(&out, "moves %d", p->moved);
    snprintf(buf, size, "%s", base_text_get(&out));
    base_text_done(&out);
}

/* What comes with it and which sizes step, under the proposal. */
static int brings(struct tui *t, struct area a, int y, const struct explore_proposal *p)
{
    const struct {
        const char *word, *text;
    } lines[] = {{"but", p->against}, {"comes", p->comes}, {"also goes", p->goes}, {"sizes", p->sizes}};
    for (size_t i = 0; i < COUNT_OF(lines) && y < a.h; i++)
        if (*lines[i].text) {
            char *line = base_format("%s: %s", lines[i].word, lines[i].text);
            size_t skip, n = paint_wrap(line, a.w - 7, &skip);
            paint_format(&t->p, a, y++, BELOW, INK_PLAIN, "%.*s%s", (int)n, line, line[n] ? " .." : "");
            free(line);
        }
    return y;
}

static int named(struct tui *t, struct area a, int y, const char *what, const char *const *paths, size_t n)
{
    if (!n || y >= a.h)
        return y;
    struct base_text names = {0};
    for (size_t i = 0; i < n; i++)
        base_text_addf(&names, "%s%s", i ? ", " : "", paths[i]);
    paint_format(&t->p, a, y++, 2, INK_DIM, "%s: %s", what, base_text_get(&names));
    base_text_done(&names);
    return y;
}

static int proposals(struct tui *t, struct area a, int y, struct detail *d)
{
    d->n_rows = 0;
    const struct explore_mend *m = d->mend;
    if (!m || (!m->at.count && !m->left.count && !m->hopeless.count && !m->untried.count))
        return y;
    paint_format(&t->p, a, y++, 1, INK_PLAIN, "would clear it:%s",
                 m->left.count ? "   still trying ..."
                 : m->at.count ? ""
                               : "  no value of the rule alone");
    for (size_t i = 0; i < m->at.count && i < PROPOSALS && y < a.h; i++) {
        const struct explore_proposal *p = &m->at.at[i];
        char words[120], change[160];
        bool tried = (int)i == d->tried;
        d->rows[d->n_rows++] = a.y + y;
        enum ink ink = tried ? INK_STRONG : INK_PLAIN;
        outcome_words(p, words, sizeof words);
        snprintf(change, sizeof change, "%s -> %s%s", p->was, p->shown, p->listed ? ", listed" : "");
        int x = paint_format(&t->p, a, y++, 2, ink, "%c %-24s  %-20s", 'a' + (int)i, p->path, change) + 2;
        const char *yet = tried ? "  not yet taken" : "";
        if (x + paint_width(words) + paint_width(yet) >= a.w && y < a.h)
            paint_format(&t->p, a, y++, BELOW, ink, "%s%s", words, yet);
        else
            paint_format(&t->p, a, y - 1, x, ink, "%s%s", words, yet);
        if (tried || a.h > 28 || *p->against)
            y = brings(t, a, y, p);
    }
    d->rows[d->n_rows] = a.y + y;
    y = named(t, a, y, "alone does not clear it", m->hopeless.at, m->hopeless.count);
    y = named(t, a, y, "not tried to the end", m->untried.at, m->untried.count);
    return y + 1;
}

/* Who waived it, and what was remarked. */
static int said(struct tui *t, struct area a, int y, const struct finding *f)
{
    enum { MOST = 50 };
    int was = y, item = f->waiver ? dieset_find_item(t->d, f->waiver) : -1;
    if (item >= 0) {
        const char *by = dieset_entry(t->d, item, "by"), *on = dieset_entry(t->d, item, "on"),
                   *says = dieset_entry(t->d, item, "says");
        char *line = base_format("~ waived by %s on %.10s: %s", by ? by : "somebody", on ? on : "",
                                 says ? says : "no reason given");
        y = tui_paragraph(t, text_area(a), y, 1, INK_PLAIN, line);
        free(line);
    }
    struct base_text lapsed = {0};
    if (review_lapsed(job_findings(t->job), f, &lapsed))
        y = tui_paragraph(t, text_area(a), y, 1, INK_STRONG, base_text_get(&lapsed));
    base_text_done(&lapsed);
    struct review_remark *list = base_alloc(MOST * sizeof *list);
    int n = review_remarks(t->d, list, MOST);
    for (int i = 0; i < n && i < MOST; i++)
        if (strcmp(list[i].finding, f->key) == 0) {
            char *line = base_format("remark by %s on %.10s: %s", list[i].by, list[i].when, list[i].says);
            y = tui_paragraph(t, text_area(a), y, 1, INK_PLAIN, line);
            free(line);
        }
    free(list);
    return y + (y > was);
}

static void draw(struct tui *t, struct level *level)
{
    struct detail *d = (struct detail *)level;
    const struct finding *f = d->f;
    struct area a = t->at.body;
    tui_cursor(t, a, 0, 0);
    if (!f) {
        d->n_rows = 0;
        paint_text(&t->p, a, 0, 1, INK_PLAIN, "this finding is gone: the rule holds now. Esc goes back");
        return;
    }
    int x = paint_text(&t->p, a, 0, 1, INK_STRONG, f->title);
    x = paint_format(&t->p, a, 0, x + 3,
                     f->waiver                    ? INK_PLAIN
                     : f->grade == HANDBOOK_FAULT ? INK_GRAVE
                                                  : INK_TROUBLE,
                     "%s %s%s", findings_mark(f), f->waiver ? "waived " : "", handbook_grade_text(f->grade));
    if (f->item >= 0)
        paint_format(&t->p, a, 0, x + 3, INK_PLAIN, "%s", dieset_item_title(t->d, f->item));
    int y = tui_paragraph(t, text_area(a), 2, 1, INK_PLAIN, f->message) + 1;
    int was = y;
    y = figures(t, a, y, f);
    y += y > was;
    y = said(t, a, y, f);
    y = proposals(t, a, y, d);
    if (f->cause >= 0 && d->tried < 0)
        paint_format(&t->p, a, y++, 1, INK_PLAIN, "hangs most on %s; Enter goes there",
                     dieset_quantity(t->d, f->cause)->path);
    y = tui_paragraph(t, text_area(a), y + 1, 1, INK_PLAIN, f->help);
    paint_format(&t->p, a, y + 1, 1, INK_DIM, "rule: %s   source: %s", f->rule,
                 f->source && *f->source ? f->source : "none given");
}

static void take(struct tui *t, struct detail *d)
{
    char path[PATH_MOST];
    snprintf(path, sizeof path, "%s", d->mend->at.at[d->tried].path);
    if (edit_take(t) && d->over)
        edit_ask_reason(t, path);
}

static void enter(struct tui *t, struct level *level)
{
    struct detail *d = (struct detail *)level;
    if (job_trying(t->job) && d->tried >= 0)
        take(t, d);
    else if (d->f && d->f->cause >= 0)
        go_to_quantity(t, d->f->cause);
    else if (d->f && d->f->item >= 0)
        go_to(t, dieset_item_name(t->d, d->f->item), NULL);
    else
        tui_pop(t);
}

/* Esc first leaves the try, then the finding. */
static void leave(struct tui *t, struct level *level)
{
    (void)level;
    bool tried = job_trying(t->job);
    edit_drop(t);
    if (tried)
        tui_say(t, "left as it was");
    else
        tui_pop(t);
}

/* A click on a proposal tries it; on the one that is tried it is Enter, which takes it. */
static enum hit at(struct tui *t, struct level *level, int y, int x)
{
    struct detail *d = (struct detail *)level;
    (void)x;
    for (int i = 0; i < d->n_rows; i++)
        if (y >= d->rows[i] && y < d->rows[i + 1]) {
            if (i == d->tried)
                return HIT_HERE;
            press_key(t, 'a' + i);
            return HIT_MOVED;
        }
    return HIT_NOTHING;
}

static const char *path_at(struct tui *t, struct level *level)
{
    const struct finding *f = ((struct detail *)level)->f;
    return f && f->cause >= 0 ? dieset_quantity(t->d, f->cause)->path : NULL;
}

static const char *key_of(struct tui *t, struct level *level)
{
    (void)t;
    return ((struct detail *)level)->key;
}

static void done(struct level *level)
{
    struct detail *d = (struct detail *)level;
    explore_mend_free(d->mend);
    findings_kept_free(d->kept);
    free(d);
}

static const struct level_ops ops = {.place = AT_FINDING,
                                     .full = true,
                                     .draw = draw,
                                     .enter = enter,
                                     .leave = leave,
                                     .path = path_at,
                                     .finding = key_of,
                                     .at = at,
                                     .settle = look,
                                     .idle = idle,
                                     .done = done};

void detail_open(struct tui *t, const char *key)
{
    struct detail *d = base_alloc(sizeof *d);
    d->level.ops = &ops;
    d->tried = -1;
    snprintf(d->key, sizeof d->key, "%s", key);
    edit_drop(t);
    tui_settle(t);
    look(t, &d->level);
    tui_push(t, &d->level);
}

void act_detail(struct tui *t)
{
    if (lesson_hides(t)) {
        tui_do(t, "hint");
        return;
    }
    const struct finding *f = found_here(t);
    if (f)
        detail_open(t, f->key);
}

/* The proposal of the letter, not yet taken. */
void act_try(struct tui *t)
{
    struct detail *d = (struct detail *)tui_top(t);
    struct base_diag why = {0};
    int i = t->key - 'a';
    edit_drop(t);
    tui_settle(t);
    if (!d->mend || i >= (int)d->mend->at.count) {
        tui_say(t, d->mend && d->mend->left.count ? "not found yet: still trying" : "there is no proposal %c",
                'a' + i);
        return;
    }
    const struct explore_proposal *p = &d->mend->at.at[i];
    d->over = edit_is_over(t, p->path);
    if (job_set(t->job, p->path, p->text, &why) != BASE_OK) {
        tui_complain(t, "%s", why.message);
        tui_changed(t);
        return;
    }
    d->tried = i;
    struct base_text line = {0};
    edit_outcome_line(t, &line);
    tui_say(t, "%s", base_text_get(&line));
    base_text_done(&line);
    tui_changed(t);
}

void act_mend(struct tui *t)
{
    act_detail(t);
}
