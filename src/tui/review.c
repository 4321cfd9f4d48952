/* tui/review.c - the lead's screen: what is open, what was edited since the revision, what is typed over, how press and load stand
 *
 * One list of lines under headings; the cursor walks over those that lead somewhere. The lines are made anew whenever values may
 * differ; what an edit moved is worked out edit by edit, newest first, while no key waits, and kept until somebody edits.
 */

#include "tui/tui.h"

#include "tui/act.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum line_what { LINE_HEAD, LINE_FINDING, LINE_REMARK, LINE_EDIT, LINE_TYPED, LINE_NOTHING };

struct review_line {
    enum line_what what;
    enum ink ink;
    char *left, *right;
    char *go;     /* item or value that Enter goes to; a finding's key */
    char *record; /* the item that holds a remark or waiver, NULL: none */
    int edit;     /* its number among the edits, newest first */
};

struct review {
    struct level level;
    BASE_VEC(struct review_line) lines;
    struct list list;
    long seq;                 /* the newest event that the moves know */
    struct job_past *past;
    BASE_VEC(char *) moved;   /* by event, newest first; "" not worked out yet */
    int n_edits;
};

/* ---- lines ---- */

static void forget(struct review *r)
{
    for (size_t i = 0; i < r->lines.count; i++) {
        free(r->lines.at[i].left);
        free(r->lines.at[i].right);
        free(r->lines.at[i].go);
        free(r->lines.at[i].record);
    }
    r->lines.count = 0;
}

static struct review_line *add(struct review *r, enum line_what what, enum ink ink, char *left, char *right)
{
    struct review_line l = {.what = what, .ink = ink, .left = left, .right = right, .edit = -1};
    base_vec_push(&r->lines, l);
    return &r->lines.at[r->lines.count - 1];
}

static const char *plural(int n) { return n == 1 ? "" : "s"; }

static char *release_words(struct tui *t)
{
    int counts[3];
    findings_counts(job_findings(t->job), counts);
    if (counts[HANDBOOK_FAULT])
        return base_format("release: no, %d fault%s open", counts[HANDBOOK_FAULT], plural(counts[HANDBOOK_FAULT]));
    return base_copy("release: nothing stands against it");
}

static void add_finding(struct tui *t, struct review *r, const struct finding *f)
{
    const char *state = states_text(f->states);
    int remarks = review_remarks_of(t->d, f->key, -1), item = f->waiver ? dieset_find_item(t->d, f->waiver) : -1;
    const char *by = item >= 0 ? dieset_entry(t->d, item, "by") : NULL, *says = item >= 0 ? dieset_entry(t->d, item, "says") : NULL;
    char *right = item >= 0 ? base_format("%s: %.24s%s", by ? by : "somebody", says ? says : "no reason", says && strlen(says) > 24 ? ".." : "")
                : remarks ? base_format("%d remark%s", remarks, plural(remarks)) : NULL;
    enum ink ink = f->waiver || f->grade == HANDBOOK_NOTE ? INK_PLAIN : f->grade == HANDBOOK_FAULT ? INK_GRAVE : INK_TROUBLE;
    struct review_line *l = add(r, LINE_FINDING, ink, base_format("%s %-11s %s%s%s", findings_mark(f), f->title, state, *state ? ": " : "", f->message), right);
    l->go = base_copy(f->key);
    l->record = base_copy(f->waiver);
}

static void add_open(struct tui *t, struct review *r)
{
    int counts[3], waived = findings_waived(job_findings(t->job)), before = 0;
    struct base_text head = {0};
    findings_counts(job_findings(t->job), counts);
    base_text_addf(&head, "open   !! %d   ! %d   . %d", counts[HANDBOOK_FAULT], counts[HANDBOOK_CAUTION], counts[HANDBOOK_NOTE]);
    if (waived)
        base_text_addf(&head, "   ~ %d", waived);
    add(r, LINE_HEAD, INK_PLAIN, base_text_take(&head), release_words(t));
    for (int i = 0; i < t->n_findings; i++)
        if (t->findings[i].grade > HANDBOOK_NOTE || t->findings[i].waiver) {
            add_finding(t, r, &t->findings[i]);
            before++;
        }
    if (!before)
        add(r, LINE_NOTHING, INK_DIM, base_copy("no fault, no caution"), NULL);
}

/* Notes come last: they are many, and seldom what one looks for. */
static void add_notes(struct tui *t, struct review *r)
{
    int counts[3];
    findings_counts(job_findings(t->job), counts);
    if (counts[HANDBOOK_NOTE])
        add(r, LINE_HEAD, INK_PLAIN, base_copy("notes"), NULL);
    for (int i = 0; i < t->n_findings; i++)
        if (t->findings[i].grade == HANDBOOK_NOTE && !t->findings[i].waiver)
            add_finding(t, r, &t->findings[i]);
}

static void add_remarks(struct tui *t, struct review *r)
{
    int n = review_remarks(t->d, NULL, 0);
    struct review_remark *list = base_alloc((size_t)(n + 1) * sizeof *list);
    review_remarks(t->d, list, n);
    if (n)
        add(r, LINE_HEAD, INK_PLAIN, base_copy("remarks"), NULL);
    for (int i = n; i-- > 0;) { /* newest first */
        const char *on = *list[i].finding ? list[i].finding : list[i].on_item;
        struct review_line *l = add(r, LINE_REMARK, INK_PLAIN, base_format("%-24s %s", on, list[i].says),
                                    base_format("%s %.10s", list[i].by, list[i].when));
        l->go = base_copy(on);
        l->record = base_copy(list[i].name);
    }
    free(list);
}

static char *since_words(struct tui *t, int n)
{
    struct review_revision latest;
    bool any = review_latest(t->d, &latest);
    return any ? base_format("since %s   %d edit%s", latest.letter, n, plural(n)) : base_format("since the beginning   %d edit%s", n, plural(n));
}

/* The edits that stand since the latest revision, or all. */
static int edits(struct tui *t, const struct store_event **events)
{
    enum { MOST = 1000 };
    struct review_revision latest;
    int n = review_latest(t->d, &latest) ? job_since(t->job, latest.letter, events, NULL) : -1;
    return n < 0 ? job_standing(t->job, events, MOST) : n;
}

static void add_edits(struct tui *t, struct review *r)
{
    const struct store_event *events;
    int n = r->n_edits = edits(t, &events);
    add(r, LINE_HEAD, INK_PLAIN, since_words(t, n), n ? base_copy("moved") : NULL);
    for (int i = 0; i < n; i++) {
        const char *when = events[i].when ? events[i].when : "";
        struct review_line *l = add(r, LINE_EDIT, INK_PLAIN, base_format("%.10s %.5s %-3s %s", when, strlen(when) > 11 ? when + 11 : "",
                                                                      events[i].who ? events[i].who : "", events[i].title), NULL);
        l->edit = (int)events[i].seq;
        l->go = base_copy_n(events[i].title, strcspn(events[i].title, " :,"));
    }
}

static void add_typed(struct tui *t, struct review *r)
{
    enum { MOST = 400 };
    int *list = base_alloc(MOST * sizeof *list), n = review_typed_over(t->d, list, MOST);
    if (n)
        add(r, LINE_HEAD, INK_PLAIN, base_format("typed over a formula: %d%*s  value  formula gives   reason", n, n < 10 ? 15 : 14, ""), NULL);
    for (int i = 0; i < n && i < MOST; i++) {
        char value[60], usual[60];
        const struct dieset_quantity *q = dieset_quantity(t->d, list[i]);
        dieset_print(t->d, list[i], DIESET_NEW, value, sizeof value);
        review_usual(t->d, list[i], usual, sizeof usual);
        struct review_line *l = add(r, LINE_TYPED, q->reason ? INK_PLAIN : INK_TROUBLE, base_format("%-32s %12s  %12s   %s", q->path, value, usual,
                                                                                                 q->reason ? q->reason : "NONE GIVEN"), NULL);
        l->go = base_copy(q->path);
    }
    free(list);
}

/* ---- what edits moved ---- */

static long newest(struct tui *t)
{
    const struct store_event *e;
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

/* The move that tells most of EVENT: not what was typed itself, sizes and single kinds first. */
static char *moves_words(struct tui *t, const struct job_past_step *s)
{
    size_t typed = strcspn(s->event->title, " ");
    int best = -1, best_weight = 0, others = 0;
    for (int i = 0; i < s->n_moves; i++) {
        const char *path = s->moves[i].path;
        if ((strlen(path) == typed && strncmp(path, s->event->title, typed) == 0) || !edit_seen(t, &s->moves[i]))
            continue;
        int weight = edit_weight(t, &s->moves[i]);
        others++;
        if (best < 0 || weight < best_weight) {
            best = i;
            best_weight = weight;
        }
    }
    if (best < 0)
        return base_copy("-");
    struct base_text out = {0};
    char was[80], is[80];
    const struct dieset_move *m = &s->moves[best];
    const struct handbook *h = dieset_handbook(t->d);
    handbook_print(h, m->was, m->type, dieset_system(t->d), was, sizeof was);
    handbook_print(h, m->is, m->type, dieset_system(t->d), is, sizeof is);
    size_t number = strcspn(was, " "), unit = strcspn(is, " ");
    bool same_unit = strcmp(was + number, is + unit) == 0; /* told once */
    base_text_addf(&out, "%s %.*s > %s", m->path, same_unit ? (int)number : (int)strlen(was), was, is);
    if (others > 1)
        base_text_addf(&out, "  +%d", others - 1);
    return base_text_take(&out);
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
        level->pending = false;
        return;
    }
    level->pending = job_past_back(r->past, &s);
    if (!level->pending)
        return;
    char *words = moves_words(t, &s);
    base_vec_push(&r->moved, words);
    put_moved(r, s.event->seq, words);
    level->pending = wanted(r);
}

/* ---- making the list ---- */

static bool stops(const struct review_line *l) { return l->what != LINE_HEAD && l->what != LINE_NOTHING; }

static void to_line(struct review *r, int by)
{
    int at = r->list.at;
    while (at >= 0 && at < r->list.n && !stops(&r->lines.at[at]))
        at += by;
    if (at >= 0 && at < r->list.n)
        r->list.at = at;
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
    forget(r);
    add_open(t, r);
    add_remarks(t, r);
    add_edits(t, r);
    add_typed(t, r);
    add_notes(t, r);
    r->list.n = (int)r->lines.count;
    list_move(&r->list, MOVE_LEFT, 0);
    to_line(r, 1);
    for (size_t i = 0; i < r->moved.count; i++) /* event by event, the newest first */
        put_moved(r, r->seq - (long)i, r->moved.at[i]);
    level->pending = wanted(r);
}

/* ---- drawing ---- */

static void draw_title(struct tui *t, struct area a)
{
    struct review_revision latest;
    int x = paint_text(&t->p, a, 0, 1, INK_STRONG, "review");
    if (review_latest(t->d, &latest)) {
        x = paint_format(&t->p, a, 0, x + 3, INK_PLAIN, "rev %s released %.10s %s", latest.letter, latest.when, latest.by);
        if (*latest.says)
            paint_format(&t->p, a, 0, x + 2, INK_DIM, "\"%s\"", latest.says);
    } else {
        paint_text(&t->p, a, 0, x + 3, INK_PLAIN, "not released yet");
    }
}

static void draw_line(struct tui *t, struct area a, int y, const struct review_line *l, bool here)
{
    enum { YEAR = 5, NARROW = 100 }; /* "2026-" is left out where there is no room */
    int half = a.w > 120 ? a.w / 2 : 52, skip = l->what == LINE_EDIT && a.w < NARROW && strlen(l->left) > YEAR ? YEAR : 0, right = l->right ? paint_width(l->right) : 0;
    int room = l->what == LINE_EDIT ? half : right ? a.w - right - 3 : a.w - 1;
    struct area left = {a.y, a.x, a.h, room};
    enum ink ink = here ? INK_STRONG : l->what == LINE_HEAD ? INK_DIM : l->ink;
    if (here)
        paint_text(&t->p, a, y, 0, INK_STRONG, ">");
    paint_text(&t->p, left, y, l->what == LINE_HEAD ? 1 : 2, ink, l->left + skip);
    if (right && (l->what == LINE_EDIT || (l->what == LINE_HEAD && strcmp(l->right, "moved") == 0)))
        paint_text(&t->p, a, y, half + 2, l->what == LINE_HEAD ? INK_DIM : INK_PLAIN, l->right);
    else if (right)
        paint_right(&t->p, a, y, a.w - 1, l->what == LINE_HEAD ? INK_STRONG : INK_PLAIN, l->right);
    if (here)
        tui_cursor(t, a, y, 0);
}

/* What stands at the end of a limited value: at least LOW, at most HIGH; NaN: none. */
static void limits_of(struct tui *t, int q, double *low, double *high)
{
    enum { ROOM = 12 };
    struct findings_limit limits[ROOM];
    int n = findings_limits(job_findings(t->job), q, DIESET_NEW, limits, ROOM);
    *low = *high = NAN;
    for (int i = 0; i < n; i++) {
        enum formula_relation relation = limits[i].rule->rungs[limits[i].rung].relation;
        if (relation == FORMULA_AT_LEAST || relation == FORMULA_MORE)
            *low = isnan(*low) ? limits[i].limit : fmax(*low, limits[i].limit);
        else if (relation == FORMULA_AT_MOST || relation == FORMULA_LESS)
            *high = isnan(*high) ? limits[i].limit : fmin(*high, limits[i].limit);
    }
}

/* "|240.0 ---n----g---- 290.0|": where the value stands between its limits, new and ground. */
static void bar(struct tui *t, int q, int width, struct base_text *out)
{
    char low_text[40], high_text[40];
    double low, high;
    struct unit_dim dim = dieset_quantity(t->d, q)->type.type.dim;
    limits_of(t, q, &low, &high);
    if (isnan(low) || isnan(high) || high <= low || width < 16)
        return;
    unit_print_number(low, dim, dieset_system(t->d), low_text, sizeof low_text);
    unit_print_number(high, dim, dieset_system(t->d), high_text, sizeof high_text);
    int room = width - (int)strlen(low_text) - (int)strlen(high_text) - 4;
    char *cells = base_alloc((size_t)(room > 0 ? room : 0) + 1);
    memset(cells, '=', (size_t)(room > 0 ? room : 0));
    for (int s = DIESET_STATES - 1; s >= 0 && room > 0; s--) {
        struct formula_value v = dieset_value(t->d, q, (enum dieset_state)s);
        double part = (v.number - low) / (high - low);
        if (!v.error && part >= 0 && part <= 1)
            cells[(int)fmin(part * room, room - 1)] = s == DIESET_NEW ? 'N' : 'G';
    }
    base_text_addf(out, "  |%s %s %s|", low_text, cells, high_text);
    free(cells);
}

static const char *figure(const struct tui *t, const struct finding *x, double value, char *buf, size_t size)
{
    return handbook_print(dieset_handbook(t->d), (struct formula_value){.number = value, .origin = -1}, x->type, dieset_system(t->d), buf, size);
}

/* "press    new 282.0 mm  ground 274.0 mm  limit 305.0 mm  23.0 mm to spare" of a rule that is looked at first: its limit and what is
 * to spare are those of the tighter state. False: it does not apply, or cannot be judged. */
static bool rule_words(struct tui *t, const struct handbook_rule *rule, bool *fails, struct base_text *out)
{
    struct finding worst = {.margin = NAN};
    double told = NAN;
    char buf[60];
    for (int s = 0; s < DIESET_STATES; s++) {
        struct finding x;
        if (!findings_standing(job_findings(t->job), rule->name, -1, (enum dieset_state)s, &x) || !x.measured)
            continue;
        if (x.value != told)
            base_text_addf(out, " %s %s ", s == DIESET_NEW ? "new" : "ground", figure(t, &x, x.value, buf, sizeof buf));
        told = x.value;
        if (isnan(worst.margin) || x.margin < worst.margin)
            worst = x;
    }
    if (isnan(worst.margin))
        return false;
    *fails = worst.margin < 0;
    base_text_addf(out, " limit %s ", figure(t, &worst, worst.limit, buf, sizeof buf));
    base_text_addf(out, " %s %s", figure(t, &worst, fabs(worst.margin), buf, sizeof buf), *fails ? "SHORT" : "to spare");
    return true;
}

static void draw_rule(struct tui *t, struct area a, int y, const struct handbook_rule *rule)
{
    enum { WIDEST = 60 };
    struct base_text line = {0};
    bool fails = false;
    base_text_addf(&line, "%-7s", rule->title);
    bool any = rule_words(t, rule, &fails, &line);
    int q = rule->value ? dieset_find(t->d, formula_text(rule->value)) : -1, room = a.w - (int)line.length - 4;
    if (any && q >= 0)
        bar(t, q, room < WIDEST ? room : WIDEST, &line);
    if (!any)
        base_text_add(&line, " does not apply, or cannot be judged");
    paint_text(&t->p, a, y, 1, fails ? INK_TROUBLE : INK_PLAIN, base_text_get(&line));
    base_text_done(&line);
}

static int first_rules(const struct handbook *h, const struct handbook_rule **out, int room)
{
    int n = 0;
    for (int i = 0; i < handbook_rule_count(h) && n < room; i++)
        if (handbook_rule(h, i)->first)
            out[n++] = handbook_rule(h, i);
    return n;
}

static void draw(struct tui *t, struct level *level)
{
    enum { RULES = 6 };
    struct review *r = (struct review *)level;
    const struct handbook_rule *rules[RULES];
    struct area a = t->at.body;
    int n = first_rules(dieset_handbook(t->d), rules, RULES);
    draw_title(t, a);
    struct area body = {a.y + 1, a.x, a.h - 2 - n, a.w};
    list_fit(&r->list, body.h);
    if (r->list.top > 0 && r->list.at == r->list.top && !stops(&r->lines.at[r->list.top - 1]))
        r->list.top--; /* with its heading */
    for (int y = 0; y < body.h && r->list.top + y < r->list.n; y++)
        draw_line(t, body, y, &r->lines.at[r->list.top + y], r->list.top + y == r->list.at);
    if (r->list.top + body.h < r->list.n)
        paint_format(&t->p, a, 0, a.w - 10, INK_DIM, "%d more", r->list.n - r->list.top - body.h);
    paint_row(&t->p, a, a.h - n - 1, INK_DIM);
    for (int i = 0; i < n; i++)
        draw_rule(t, a, a.h - n + i, rules[i]);
}

/* ---- keys ---- */

static struct review_line *at_cursor(struct review *r)
{
    return r->list.at >= 0 && r->list.at < r->list.n ? &r->lines.at[r->list.at] : NULL;
}

static void step(struct tui *t, struct level *level, enum move m)
{
    struct review *r = (struct review *)level;
    int was = r->list.at;
    list_move(&r->list, m, t->at.body.h - 6);
    to_line(r, r->list.at < was ? -1 : 1);
    if (!stops(&r->lines.at[r->list.at]))
        r->list.at = was;
}

static void enter(struct tui *t, struct level *level)
{
    const struct review_line *l = at_cursor((struct review *)level);
    if (!l || !l->go)
        return;
    int q = dieset_find(t->d, l->go);
    if (l->what == LINE_FINDING)
        detail_open(t, l->go);
    else if (q >= 0)
        go_to_quantity(t, q);
    else if (dieset_find_item(t->d, l->go) < 0 || !go_to(t, l->go, NULL))
        tui_say(t, "%s is not in the job now", l->go);
}

static const char *path_at(struct tui *t, struct level *level)
{
    const struct review_line *l = at_cursor((struct review *)level);
    if (!l || !l->go)
        return NULL;
    for (int i = 0; i < t->n_findings && l->what == LINE_FINDING; i++)
        if (strcmp(t->findings[i].key, l->go) == 0 && t->findings[i].cause >= 0)
            return dieset_quantity(t->d, t->findings[i].cause)->path;
    return dieset_find(t->d, l->go) >= 0 ? l->go : NULL;
}

static void done(struct level *level)
{
    struct review *r = (struct review *)level;
    forget(r);
    forget_moves(r);
    base_vec_done(&r->lines);
    base_vec_done(&r->moved);
    free(r);
}

static const struct level_ops ops = {.place = PLACE_REVIEW, .full = true, .draw = draw, .move = step, .enter = enter, .path = path_at,
                                     .settle = settle, .idle = idle, .done = done};

void review_open(struct tui *t)
{
    struct review *r = base_alloc(sizeof *r);
    r->level.ops = &ops;
    edit_drop(t);
    tui_settle(t);
    settle(t, &r->level);
    tui_push(t, &r->level);
    base_text_clear(&t->message);
}

void act_review(struct tui *t) { review_open(t); }

/* The next heading's first line, and round. */
void act_review_next(struct tui *t)
{
    struct review *r = (struct review *)tui_top(t);
    int at = r->list.at;
    for (int i = 1; i <= r->list.n; i++) {
        int k = (at + i) % (r->list.n ? r->list.n : 1);
        if (stops(&r->lines.at[k]) && k > 0 && !stops(&r->lines.at[k - 1])) {
            r->list.at = k;
            return;
        }
    }
}

void act_differences(struct tui *t)
{
    struct review_revision latest;
    if (review_latest(t->d, &latest))
        compare_with(t, latest.letter);
    else
        tui_say(t, "not released yet: there is no revision to compare with; c compares with an edit ago");
}

/* ---- saying ---- */

/* What R and W speak of: the finding, value or item where the keys go. */
static const char *subject(struct tui *t, bool *finding)
{
    struct level *l = tui_top(t);
    const struct review_line *line = l && l->ops == &ops ? at_cursor((struct review *)l) : NULL;
    const char *key = detail_key(t);
    *finding = key || (line && line->what == LINE_FINDING) || (!l && t->focus == PANE_FINDINGS);
    if (key || line)
        return key ? key : line->go;
    if (*finding)
        return t->finding.at < t->n_findings ? t->findings[t->finding.at].key : NULL;
    return t->focus != PANE_STACK && form_quantity(t) >= 0 ? t->path : *t->item ? t->item : NULL;
}

static void tried(struct tui *t, enum base_err err, const struct base_diag *why)
{
    if (err)
        tui_complain(t, "%s", why->message);
    else
        edit_take(t);
    tui_changed(t);
}

static void remark_given(struct tui *t, const char *on, const char *text)
{
    struct base_diag why = {0};
    if (*text)
        tried(t, job_remark(t->job, on, text, &why), &why);
    else
        tui_say(t, "nothing remarked");
}

void act_remark(struct tui *t)
{
    bool finding;
    const char *on = subject(t, &finding);
    if (!on) {
        tui_say(t, "a remark speaks of an item, a value or a finding: put the cursor on it");
        return;
    }
    char *title = base_format("remark on %.40s: ", on), *held = base_copy(on);
    ask_open(t, title, held, "", remark_given);
    free(title);
    free(held);
}

static void reason_given(struct tui *t, const char *key, const char *text)
{
    struct base_diag why = {0};
    tried(t, job_waive(t->job, key, text, &why), &why);
}

void act_waive(struct tui *t)
{
    bool finding;
    const char *key = subject(t, &finding);
    if (!finding || !key) {
        tui_say(t, "it is a finding that is waived: put the cursor on one");
        return;
    }
    char *title = base_format("waive %.40s, because: ", key), *held = base_copy(key);
    ask_open(t, title, held, "", reason_given);
    free(title);
    free(held);
}

static void note_given(struct tui *t, const char *letter, const char *text)
{
    struct base_diag why = {0};
    tried(t, job_release(t->job, letter, text, &why), &why);
}

static void letter_given(struct tui *t, const char *unused, const char *text)
{
    struct base_diag why = {0};
    char letter[REVIEW_LETTER];
    (void)unused;
    if (!*text) {
        tui_say(t, "not released");
    } else if (review_letter(t->d, text, letter, &why)) {
        tui_complain(t, "%s", why.message);
    } else {
        char *title = base_format("release as %s, with the note: ", letter);
        ask_open(t, title, letter, "", note_given);
        free(title);
    }
}

void act_release(struct tui *t)
{
    struct base_diag why = {0};
    char next[REVIEW_LETTER];
    if (review_may_release(job_findings(t->job), &why)) {
        tui_complain(t, "%s", why.message);
        return;
    }
    ask_open(t, "release as revision: ", "", review_next_letter(t->d, next), letter_given);
}

void act_take_back(struct tui *t)
{
    struct level *l = tui_top(t);
    const struct review_line *line = l && l->ops == &ops ? at_cursor((struct review *)l) : NULL;
    struct base_diag why = {0};
    if (!line || !line->record) {
        tui_say(t, "only a remark or a waiver is taken out here; u takes the last change back");
        return;
    }
    tried(t, job_remove(t->job, line->record, &why), &why);
}
