/* tui/views/review_lines.c - the lines of the review: what is open, what was remarked, edited and typed over,
   and what the edits moved */

#include "tui/views/review_lines.h"

#include "tui/found.h"
#include "tui/outcome.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void review_lines_forget(review_lines *l)
{
    for (size_t i = 0; i < l->count; i++) {
        free(l->at[i].lead);
        free(l->at[i].text);
        free(l->at[i].right);
        free(l->at[i].go);
        free(l->at[i].record);
        free(l->at[i].id);
    }
    l->count = 0;
}

/* LEAD, TEXT and RIGHT are taken over. */
static struct review_line *add(review_lines *r, enum line_what what, enum ink ink, char *lead, char *text,
                               char *right)
{
    struct review_line l = {.what = what, .ink = ink, .lead = lead, .text = text, .right = right, .edit = -1};
    base_vec_push(r, l);
    return &r->at[r->count - 1];
}

static void add_head(review_lines *r, char *text, char *right)
{
    add(r, LINE_HEAD, INK_PLAIN, text, NULL, right);
}

static const char *plural(int n) { return n == 1 ? "" : "s"; }

/* ---- findings ---- */

const char *review_finding_words(const struct tui *t, const char *key, char *buf, size_t size)
{
    snprintf(buf, size, "%s", key);
    for (int i = 0; i < t->found->n; i++)
        if (strcmp(t->found->findings[i].key, key) == 0) {
            const struct finding *f = &t->found->findings[i];
            int on = f->item >= 0 ? f->item : f->plate;
            snprintf(buf, size, "%s%s%s", f->title, on >= 0 ? ", " : "",
                     on >= 0 ? dieset_item_title(t->d, on) : "");
        }
    return buf;
}

static char *issue_words(struct tui *t)
{
    int counts[3];
    findings_counts(job_findings(t->job), counts);
    if (counts[HANDBOOK_FAULT])
        return base_format("issue: no, %d fault%s open", counts[HANDBOOK_FAULT],
                           plural(counts[HANDBOOK_FAULT]));
    if (counts[HANDBOOK_CAUTION])
        return base_format("issue: may be, with %d caution%s open on its papers", counts[HANDBOOK_CAUTION],
                           plural(counts[HANDBOOK_CAUTION]));
    return base_copy("issue: nothing stands against it");
}

static void add_finding(struct tui *t, review_lines *r, const struct finding *f)
{
    const char *state = states_text(f->states);
    int remarks = review_remarks_of(t->d, f->key, -1),
        item = f->waiver ? dieset_find_item(t->d, f->waiver) : -1;
    struct base_text lapsed = {0};
    const char *by = item >= 0 ? dieset_entry(t->d, item, "by") : NULL,
               *says = item >= 0 ? dieset_entry(t->d, item, "says") : NULL;
    char *right = item >= 0 ? base_format("%s: %s", by ? by : "somebody", says ? says : "no reason")
                : review_lapsed(job_findings(t->job), f, &lapsed) ? base_text_take(&lapsed)
                : remarks ? base_format("%d remark%s", remarks, plural(remarks)) : NULL;
    enum ink ink = f->waiver || f->grade == HANDBOOK_NOTE ? INK_PLAIN
                   : f->grade == HANDBOOK_FAULT           ? INK_GRAVE
                                                          : INK_TROUBLE;
    struct review_line *l = add(r, LINE_FINDING, ink, base_format("%s %-11s ", findings_mark(f), f->title),
                                base_format("%s%s%s", state, *state ? ": " : "", f->message), right);
    l->go = base_copy(f->key);
    l->record = base_copy(f->waiver);
    l->id = base_format("finding %s", f->key);
}

/* Waivers whose finding is gone, or has another name since. */
static void add_idle_waivers(struct tui *t, review_lines *r)
{
    const struct findings *f = job_findings(t->job);
    int n = review_waivers(f, NULL, 0);
    struct review_waiver *list = base_alloc((size_t)(n + 1) * sizeof *list);
    review_waivers(f, list, n);
    for (int i = 0; i < n; i++) {
        if (list[i].stands)
            continue;
        struct review_line *l = add(r, LINE_REMARK, INK_PLAIN, base_copy("waives nothing any more  "),
                                    base_copy(list[i].finding),
                                    base_format("%s: %s", *list[i].by ? list[i].by : "somebody",
                                                *list[i].says ? list[i].says : "no reason"));
        l->record = base_copy(list[i].name);
        l->id = base_format("waiver %s", list[i].name);
    }
    free(list);
}

static void add_open(struct tui *t, review_lines *r)
{
    int counts[3], waived = findings_waived(job_findings(t->job)), before = 0;
    struct base_text head = {0};
    findings_counts(job_findings(t->job), counts);
    base_text_addf(&head, "open   !! %d   ! %d   . %d", counts[HANDBOOK_FAULT], counts[HANDBOOK_CAUTION],
                   counts[HANDBOOK_NOTE]);
    if (waived)
        base_text_addf(&head, "   ~ %d", waived);
    add_head(r, base_text_take(&head), issue_words(t));
    for (int i = 0; i < t->found->n; i++)
        if (t->found->findings[i].grade > HANDBOOK_NOTE || t->found->findings[i].waiver) {
            add_finding(t, r, &t->found->findings[i]);
            before++;
        }
    if (!before)
        add(r, LINE_NOTHING, INK_DIM, base_copy("no fault, no caution"), NULL, NULL);
    add_idle_waivers(t, r);
}

/* Notes come last: they are many, and seldom what one looks for. */
static void add_notes(struct tui *t, review_lines *r)
{
    int counts[3];
    findings_counts(job_findings(t->job), counts);
    if (counts[HANDBOOK_NOTE])
        add_head(r, base_copy("notes"), NULL);
    for (int i = 0; i < t->found->n; i++)
        if (t->found->findings[i].grade == HANDBOOK_NOTE && !t->found->findings[i].waiver)
            add_finding(t, r, &t->found->findings[i]);
}

/* ---- remarks ---- */

static void add_remark(struct tui *t, review_lines *r, const struct review_remark *m)
{
    char words[120];
    const char *on = *m->finding ? m->finding : m->on_item;
    char *lead = *m->answers ? base_copy("    answer  ")
                             : base_format("%s %-24s  ", *m->done ? " " : REVIEW_MARK,
                                           review_finding_words(t, on, words, sizeof words));
    struct review_line *l = add(r, LINE_REMARK, *m->done ? INK_DIM : INK_PLAIN, lead, base_copy(m->says),
                                base_format("%s%s %.10s", *m->done ? "done by " : "",
                                            *m->done ? m->done_by : m->by, *m->done ? m->done : m->when));
    l->go = base_copy(on);
    l->record = base_copy(m->name);
    l->id = base_format("remark %s", m->name);
}

static void add_remarks(struct tui *t, review_lines *r)
{
    int n = review_remarks(t->d, NULL, 0), open = review_open_remarks(t->d, NULL, NULL);
    struct review_remark *list = base_alloc((size_t)(n + 1) * sizeof *list);
    review_remarks(t->d, list, n);
    if (n)
        add_head(r, base_format("remarks   %d open", open), NULL);
    for (int i = n; i-- > 0;) { /* newest first, what was answered with its answers behind it */
        if (*list[i].answers)
            continue;
        add_remark(t, r, &list[i]);
        for (int k = 0; k < n; k++)
            if (strcmp(list[k].answers, list[i].name) == 0)
                add_remark(t, r, &list[k]);
    }
    free(list);
}

/* ---- revisions ---- */

static void add_revisions(struct tui *t, review_lines *r)
{
    int n = review_revisions(t->d, NULL, 0);
    struct review_revision *list = base_alloc((size_t)(n + 1) * sizeof *list);
    review_revisions(t->d, list, n);
    if (n)
        add_head(r, base_copy("revisions"), NULL);
    for (int i = n; i-- > 0;) {
        const struct review_revision *v = &list[i];
        struct base_text text = {0};
        if (*v->withdrawn)
            base_text_addf(&text, "withdrawn %.10s by %s: %s; ", v->withdrawn,
                           *v->withdrawn_by ? v->withdrawn_by : "somebody", v->because);
        if (*v->ordered)
            base_text_addf(&text, "ordered %.10s by %s; ", v->ordered,
                           *v->ordered_by ? v->ordered_by : "somebody");
        base_text_addf(&text, "%s%ssum %s", v->says, *v->says ? ", " : "", v->sum);
        if (*v->made_by)
            base_text_addf(&text, "; edited last by %s", v->made_by);
        struct review_line *l = add(r, LINE_REVISION, *v->withdrawn ? INK_DIM : INK_PLAIN,
                                    base_format("rev %s  ", v->letter), base_text_take(&text),
                                    base_format("%s %.10s", *v->by ? v->by : "somebody", v->when));
        l->record = base_copy(v->letter);
        l->id = base_format("revision %s", v->letter);
    }
    free(list);
}

/* ---- edits ---- */

/* "since A   3 edits, 1 remark or waiver" */
static char *since_words(struct tui *t, const struct typed_event *events, int n)
{
    struct review_revision latest;
    struct base_text out = {0};
    int said = 0;
    for (int i = 0; i < n; i++)
        said += job_only_said(t->job, &events[i]);
    base_text_addf(&out, "since %s   %d edit%s",
                   review_latest(t->d, &latest) ? latest.letter : "the beginning", n - said,
                   plural(n - said));
    if (said)
        base_text_addf(&out, out.length > 28 ? ", %d said" : ", %d remark%s or waiver%s", said, plural(said),
                       plural(said));
    return base_text_take(&out);
}

/* The edits that stand since the latest revision, or all. */
static int edits(struct tui *t, const struct typed_event **events)
{
    enum { MOST = 1000 };
    struct review_revision latest;
    int n = review_latest(t->d, &latest) ? job_since(t->job, latest.letter, events, NULL) : -1;
    return n < 0 ? job_standing(t->job, events, MOST) : n;
}

/* The value that a change typed, as people know it. */
static char *path_of(const struct typed_change *c) { return typed_known(c->item, c->path ? c->path : ""); }

/* What a remark or a waiver, the item NAME, speaks of; NULL: it is none, or taken out. */
static const char *spoken_of(struct tui *t, const char *name)
{
    int item = dieset_find_item(t->d, name);
    const char *on = item >= 0 && dieset_item_words(t->d, item) ? dieset_entry(t->d, item, "finding") : NULL;
    return on ? on : item >= 0 && dieset_item_words(t->d, item) ? dieset_entry(t->d, item, "item") : NULL;
}

/* The value that an edit typed, else its item under the name that it has now. */
static char *goal_of(struct tui *t, const struct typed_event *e)
{
    for (int i = 0; i < e->n_changes; i++)
        if (e->changes[i].what == TYPED_ENTRY) {
            char *path = path_of(&e->changes[i]);
            if (dieset_find(t->d, path) >= 0)
                return path;
            free(path);
        }
    for (int i = 0; i < e->n_changes; i++) {
        const char *name = e->changes[i].what == TYPED_NAME ? e->changes[i].after : e->changes[i].item,
                   *on = name ? spoken_of(t, name) : NULL;
        if (on)
            return base_copy(on);
        if (name && dieset_find_item(t->d, name) >= 0)
            return base_copy(name);
    }
    return base_copy(e->n_changes ? e->changes[0].item : NULL);
}

/* The day and the person stand once over the edits that they made. */
static void add_edits(struct tui *t, review_lines *r)
{
    const struct typed_event *events;
    int n = edits(t, &events);
    char day[100] = "";
    add_head(r, since_words(t, events, n), n ? base_copy("moved") : NULL);
    for (int i = 0; i < n; i++) {
        const char *when = events[i].when ? events[i].when : "",
                   *who = events[i].who && *events[i].who ? events[i].who : "somebody";
        char now[sizeof day];
        snprintf(now, sizeof now, "%.10s %s", when, who);
        if (strcmp(day, now) != 0)
            add(r, LINE_DAY, INK_PLAIN, base_copy(now), NULL, NULL);
        snprintf(day, sizeof day, "%s", now);
        struct review_line *l = add(r, LINE_EDIT, INK_PLAIN,
                                    base_format("%.5s ", strlen(when) > 11 ? when + 11 : ""),
                                    base_copy(events[i].title), NULL);
        l->edit = events[i].seq;
        l->go = goal_of(t, &events[i]);
        l->id = base_format("edit %ld", events[i].seq);
    }
}

/* ---- typed over ---- */

static void add_typed(struct tui *t, review_lines *r)
{
    enum { MOST = 400 };
    int *list = base_alloc(MOST * sizeof *list), n = review_typed_over(t->d, list, MOST);
    if (n)
        add_head(r,
                 base_format("typed over a formula: %d%*s  value  formula gives   reason", n,
                             n < 10 ? 15 : 14, ""),
                 NULL);
    for (int i = 0; i < n && i < MOST; i++) {
        char value[60], usual[60];
        const struct dieset_quantity *q = dieset_quantity(t->d, list[i]);
        dieset_print(t->d, list[i], DIESET_NEW, value, sizeof value);
        review_usual(t->d, list[i], usual, sizeof usual);
        struct review_line *l = add(r, LINE_TYPED, q->reason ? INK_PLAIN : INK_TROUBLE,
                                    base_format("%-32s %12s  %12s   ", q->path, value, usual),
                                    base_copy(q->reason ? q->reason : "NONE GIVEN"), NULL);
        l->go = base_copy(q->path);
        l->id = base_format("typed %s", q->path);
    }
    free(list);
}

void review_lines_make(struct tui *t, review_lines *out)
{
    review_lines_forget(out);
    add_open(t, out);
    add_remarks(t, out);
    add_revisions(t, out);
    add_edits(t, out);
    add_typed(t, out);
    add_notes(t, out);
}

/* ---- what edits moved ---- */

static bool is_typed(const struct typed_event *e, const char *value)
{
    for (int i = 0; i < e->n_changes; i++) {
        char *path = e->changes[i].what == TYPED_ENTRY ? path_of(&e->changes[i]) : NULL;
        bool same = path && strcmp(path, value) == 0;
        free(path);
        if (same)
            return true;
    }
    return false;
}

/* A change that hardly shows, such as the set's mass with shorter screws, tells less than any other. */
static int weight_of(const struct tui *t, const struct dieset_move *m)
{
    enum { SLIGHT = 10 };
    const double share = 0.02;
    bool numbers = m->type.sort == FORMULA_NUMBER && !m->was.error && !m->is.error;
    bool slight = numbers &&
                  fabs(m->is.number - m->was.number) < share * fmax(fabs(m->is.number), fabs(m->was.number));
    return edit_weight(t, m) + (slight ? SLIGHT : 0);
}

/* The move that tells most: not what was typed itself, sizes and single kinds first. */
static const struct dieset_move *best_move(struct tui *t, const struct job_past_step *s, int *others)
{
    const struct dieset_move *best = NULL;
    int best_weight = 0;
    *others = -1;
    for (int i = 0; i < s->n_moves; i++) {
        if (is_typed(s->event, s->moves[i].path) || !edit_seen(t, &s->moves[i]))
            continue;
        int weight = weight_of(t, &s->moves[i]);
        ++*others;
        if (!best || weight < best_weight) {
            best = &s->moves[i];
            best_weight = weight;
        }
    }
    return best;
}

char *review_moves_words(struct tui *t, const struct job_past_step *s)
{
    int others;
    const struct dieset_move *m = best_move(t, s, &others);
    if (!m)
        return base_copy("-");
    struct base_text out = {0};
    char was[80], is[80];
    const struct handbook *h = dieset_handbook(t->d);
    handbook_print(h, m->was, m->type, dieset_system(t->d), was, sizeof was);
    handbook_print(h, m->is, m->type, dieset_system(t->d), is, sizeof is);
    size_t number = strcspn(was, " "), unit = strcspn(is, " ");
    bool same_unit = m->type.sort == FORMULA_NUMBER && strcmp(was + number, is + unit) == 0; /* told once */
    base_text_addf(&out, "%s %.*s -> %s", m->path, same_unit ? (int)number : (int)strlen(was), was, is);
    if (others > 0)
        base_text_addf(&out, "  +%d", others);
    return base_text_take(&out);
}
