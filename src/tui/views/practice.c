/* tui/views/practice.c - what was learnt of a practice job; the list of guides and jobs; hints */

#include "tui/act.h"
#include "tui/choice.h"
#include "tui/lesson.h"
#include "tui/views.h"

#include <stdio.h>
#include <stdlib.h>

/* ---- what was learnt: the next one begins from it ---- */

/* The next that is not mended yet, round from the one at hand; -1: none. */
static int next_one(const struct tui *t)
{
    int n = practice_count(t->lesson->book);
    for (int i = 1; i < n; i++) {
        int at = (t->lesson->at + i) % n;
        if (!base_map_get(&t->lesson->done, practice_job(t->lesson->book, at)->name, NULL))
            return at;
    }
    return -1;
}

static void draw_learnt(struct tui *t, struct level *level)
{
    struct area a = t->at.body, text = layout_read(a);
    const struct practice_job *p = lesson_about(t);
    int next = next_one(t);
    (void)level;
    paint_format(&t->p, a, 0, 1, INK_STRONG, "practice   step %d of %d   mended", STEP_LEARNT, STEPS);
    int y = tui_paragraph(t, text, 2, 1, INK_PLAIN, p->question) + 1;
    y = tui_paragraph(t, text, y, 1, INK_STRONG, p->learnt);
    char *source = base_format("source: %s", p->source);
    y = tui_paragraph(t, text, y, 1, INK_DIM, source) + 1;
    free(source);
    paint_format(&t->p, a, y++, 1, INK_PLAIN, "%d of %d done.", lesson_count_done(t),
                 practice_count(t->lesson->book) + practice_guide_count(t->lesson->book));
    if (next >= 0)
        paint_format(&t->p, a, y, 1, INK_PLAIN, "next: %s", practice_job(t->lesson->book, next)->title);
    tui_cursor(t, a, 0, 0);
}

static void enter_learnt(struct tui *t, struct level *level)
{
    struct base_diag why = {0};
    int next = next_one(t);
    (void)level;
    if (next < 0) {
        tui_pop(t);
        tui_say(t, "all of them are mended; q leaves practice");
    } else if (!lesson_begin(t, practice_job(t->lesson->book, next)->name, &why)) {
        tui_complain(t, "%s", why.message);
    }
}

static void list_jobs(struct tui *t);

static void tab_learnt(struct tui *t, struct level *level, int by)
{
    (void)level, (void)by;
    list_jobs(t);
}

static void done(struct level *level) { free(level); }

static const struct level_ops learnt_ops = {.place = AT_PRACTICE,
                                            .full = true,
                                            .draw = draw_learnt,
                                            .enter = enter_learnt,
                                            .tab = tab_learnt,
                                            .done = done};

void learnt_open(struct tui *t, const char *unused)
{
    struct level *level = base_alloc(sizeof *level);
    (void)unused;
    level->ops = &learnt_ops;
    tui_push(t, level);
}

/* ---- hints ---- */

static void give_hint(struct tui *t)
{
    struct lesson *l = t->lesson;
    const struct practice_guide *g = lesson_guide(t);
    int at = g ? practice_walk_at(l->walk) : 0;
    if (g) {
        const char *hint = at < g->n_steps ? g->steps[at].hint : NULL;
        tui_say(t, "%s", hint ? hint : "there is no hint to this");
        return;
    }
    if (l->hints < PRACTICE_HINTS)
        l->hints++;
    tui_say(t, "hint %d of %d: %s", l->hints, PRACTICE_HINTS, lesson_about(t)->hints[l->hints - 1]);
}

void act_hint(struct tui *t)
{
    if (lesson_runs(t))
        give_hint(t);
    else
        tui_say(t, "hints are given in practice; :practice lists what there is");
}

/* ---- by name ---- */

static void chosen(struct tui *t, const char *subject, const struct choice *c)
{
    struct base_diag why = {0};
    char name[80];
    (void)subject;
    snprintf(name, sizeof name, "%s", c->value);
    if (!lesson_begin(t, name, &why))
        tui_complain(t, "%s", why.message);
}

/* "done  1 fasteners", "guide": all notes of one width, for the list makes room by whole lines. */
static struct choice line_of(const struct tui *t, const char *name, const char *title, const char *kind)
{
    bool done = base_map_get(&t->lesson->done, name, NULL);
    return (struct choice){base_copy(title), base_copy(name),
                           base_format("%-4s  %-11s", done ? "done" : "", kind)};
}

static void list_jobs(struct tui *t)
{
    struct base_diag why = {0};
    if (!lesson_book(t, &why)) {
        tui_complain(t, "%s", why.message);
        return;
    }
    const struct practice_book *b = t->lesson->book;
    int n = practice_count(b), guides = practice_guide_count(b), at = -1;
    struct choice *choices = base_alloc((size_t)(guides + n + 1) * sizeof *choices);
    for (int i = 0; i < guides; i++)
        choices[i] = line_of(t, practice_guide(b, i)->name, practice_guide(b, i)->title, "guide");
    for (int i = 0; i < n; i++) {
        const struct practice_job *p = practice_job(b, i);
        char *kind = base_format("%d %s", p->level, p->theme);
        choices[guides + i] = line_of(t, p->name, p->title, kind);
        free(kind);
    }
    for (int i = 0; i < guides + n && at < 0; i++) /* the first that is not done */
        if (!base_map_get(&t->lesson->done, choices[i].value, NULL))
            at = i;
    if (lesson_about(t) && next_one(t) >= 0)
        at = guides + next_one(t);
    char *title = base_format("begin here: guides, then mistakes to find; %d of %d done",
                              lesson_count_done(t), guides + n);
    choice_open(t, title, "", choices, guides + n, at < 0 ? 0 : at, NULL, chosen, NULL);
    free(title);
}

void lessons_open(struct tui *t, const char *name)
{
    struct base_diag why = {0};
    if (!*name)
        list_jobs(t);
    else if (!lesson_begin(t, name, &why))
        tui_complain(t, "%s", why.message);
}
