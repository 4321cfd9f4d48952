/* tui/detail.c - one finding in full: message, figures in both states, what would cure it, rule and source */

#include "tui/tui.h"

#include "tui/act.h"
#include "tui/lesson.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct detail {
    struct level level;
    char key[200];
};

static const struct finding *find(const struct tui *t, const char *key)
{
    for (int i = 0; i < t->n_findings; i++)
        if (strcmp(t->findings[i].key, key) == 0)
            return &t->findings[i];
    return NULL;
}

static int paragraph(struct tui *t, struct area a, int y, int x, enum ink ink, const char *text)
{
    while (text && *text && y < a.h) {
        size_t skip, n = paint_wrap(text, a.w - x - 2, &skip);
        char line[600];
        snprintf(line, sizeof line, "%.*s", (int)n, text);
        paint_text(&t->p, a, y++, x, ink, line);
        text += n + skip;
    }
    return y;
}

/* "  ground   238.0 mm   limit 240.0 mm   margin -2.0 mm" */
static int figures(struct tui *t, struct area a, int y, const struct finding *f)
{
    static const struct { enum handbook_states bit; const char *word; } states[] = {{HANDBOOK_NEW, "new"}, {HANDBOOK_GROUND, "ground"}};
    const struct handbook *h = dieset_handbook(t->d);
    for (int s = 0; s < 2; s++) {
        struct finding g;
        char value[60], limit[60], margin[60];
        if (!findings_standing(job_findings(t->job), f->rule, f->item, (enum dieset_state)s, &g) || !g.measured)
            continue;
        handbook_print(h, (struct formula_value){.number = g.value, .origin = -1}, g.type, dieset_system(t->d), value, sizeof value);
        handbook_print(h, (struct formula_value){.number = g.limit, .origin = -1}, g.type, dieset_system(t->d), limit, sizeof limit);
        handbook_print(h, (struct formula_value){.number = g.margin, .origin = -1}, g.type, dieset_system(t->d), margin, sizeof margin);
        bool fails = g.margin < 0;
        paint_format(&t->p, a, y++, 3, fails ? INK_STRONG : INK_PLAIN, "%-8s %-14s limit %-14s %s %s", states[s].word, value, limit,
                     fails ? "FAILS by" : "holds, margin", fails && margin[0] == '-' ? margin + 1 : margin);
    }
    return y;
}

static int mends(struct tui *t, struct area a, int y, const struct finding *f)
{
    if (f->n_mends == 0)
        return y;
    paint_text(&t->p, a, y++, 1, INK_PLAIN, "values that could cure it:");
    for (int i = 0; i < f->n_mends && i < 3; i++) {
        char value[80];
        const struct dieset_quantity *q = dieset_quantity(t->d, f->mends[i]);
        dieset_print(t->d, f->mends[i], t->state, value, sizeof value);
        paint_format(&t->p, a, y++, 2, INK_PLAIN, "%d %-40s %14s  %s", i + 1, q->path, value, q->text ? q->text : "");
    }
    return y;
}

static void draw(struct tui *t, struct level *level)
{
    struct detail *d = (struct detail *)level;
    const struct finding *f = find(t, d->key);
    struct area a = t->at.body;
    if (!f) {
        paint_text(&t->p, a, 0, 1, INK_PLAIN, "this finding is gone: the rule holds now");
        tui_cursor(t, a, 0, 0);
        return;
    }
    int x = paint_text(&t->p, a, 0, 1, INK_STRONG, f->title);
    x = paint_format(&t->p, a, 0, x + 3, f->grade == HANDBOOK_FAULT ? INK_GRAVE : INK_TROUBLE, "%s %s", findings_mark(f), handbook_grade_text(f->grade));
    if (f->item >= 0)
        paint_format(&t->p, a, 0, x + 3, INK_PLAIN, "%s", dieset_item_title(t->d, f->item));
    tui_cursor(t, a, 0, 0);
    int y = paragraph(t, a, 2, 1, INK_PLAIN, f->message) + 1;
    int was = y;
    y = figures(t, a, y, f);
    y += y > was;
    y = mends(t, a, y, f);
    if (f->cause >= 0)
        paint_format(&t->p, a, y++, 1, INK_PLAIN, "hangs most on %s; Enter goes there", dieset_quantity(t->d, f->cause)->path);
    y = paragraph(t, a, y + 1, 1, INK_PLAIN, f->help);
    paint_format(&t->p, a, y + 1, 1, INK_DIM, "rule: %s   source: %s", f->rule, f->source && *f->source ? f->source : "none given");
}

static void enter(struct tui *t, struct level *level)
{
    const struct finding *f = find(t, ((struct detail *)level)->key);
    if (f && f->cause >= 0)
        go_to_quantity(t, f->cause);
    else if (f && f->item >= 0)
        go_to(t, dieset_item_name(t->d, f->item), NULL);
    else
        tui_pop(t);
}

static const char *path_at(struct tui *t, struct level *level)
{
    const struct finding *f = find(t, ((struct detail *)level)->key);
    return f && f->cause >= 0 ? dieset_quantity(t->d, f->cause)->path : NULL;
}

static void done(struct level *level)
{
    free(level);
}

static const struct level_ops ops = {.place = PLACE_FINDING, .full = true, .draw = draw, .enter = enter, .path = path_at, .done = done};

void detail_open(struct tui *t, const char *key)
{
    struct detail *d = base_alloc(sizeof *d);
    d->level.ops = &ops;
    snprintf(d->key, sizeof d->key, "%s", key);
    tui_push(t, &d->level);
}

void act_detail(struct tui *t)
{
    if (lesson_hides(t)) {
        act_hint(t);
        return;
    }
    if (t->finding.at < t->n_findings)
        detail_open(t, t->findings[t->finding.at].key);
}

/* Type the I-th value that could cure F. */
static void try_mend(struct tui *t, const struct finding *f, int i)
{
    if (i >= f->n_mends) {
        tui_say(t, "the rule names %d value%s that could cure it", f->n_mends, f->n_mends == 1 ? "" : "s");
        return;
    }
    char path[PATH_MOST];
    snprintf(path, sizeof path, "%s", dieset_quantity(t->d, f->mends[i])->path);
    if (go_to_quantity(t, f->mends[i]))
        edit_open(t, path);
}

void act_try(struct tui *t)
{
    struct level *l = tui_top(t);
    const struct finding *f = l && l->ops == &ops ? find(t, ((struct detail *)l)->key) : NULL;
    if (f)
        try_mend(t, f, t->key - '1');
}

void act_mend(struct tui *t)
{
    if (t->finding.at < t->n_findings)
        try_mend(t, &t->findings[t->finding.at], 0);
}
