/* tui/views/practice.c - what was learnt of a practice job, and the list of all of them; hints */

#include "tui/act.h"
#include "tui/choice.h"
#include "tui/lesson.h"
#include "tui/views.h"

#include <stdio.h>
#include <stdlib.h>

/* ---- what was learnt: the next one begins from it ---- */

static int count_mended(const struct tui *t)
{
    int n = 0;
    for (int i = 0; i < practice_count(t->lesson->book); i++)
        n += base_map_get(&t->lesson->mended, practice_job(t->lesson->book, i)->name, NULL);
    return n;
}

/* The next that is not mended yet, round from the one at hand; -1: none. */
static int next_one(const struct tui *t)
{
    int n = practice_count(t->lesson->book);
    for (int i = 1; i < n; i++) {
        int at = (t->lesson->at + i) % n;
        if (!base_map_get(&t->lesson->mended, practice_job(t->lesson->book, at)->name, NULL))
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
    paint_format(&t->p, a, y++, 1, INK_PLAIN, "%d of %d mended since the start.", count_mended(t),
                 practice_count(t->lesson->book));
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

static void list_jobs(struct tui *t)
{
    struct base_diag why = {0};
    if (!lesson_book(t, &why)) {
        tui_complain(t, "%s", why.message);
        return;
    }
    const struct lesson *l = t->lesson;
    int n = practice_count(l->book), next = next_one(t);
    struct choice *choices = base_alloc((size_t)(n + 1) * sizeof *choices);
    for (int i = 0; i < n; i++) {
        const struct practice_job *p = practice_job(l->book, i);
        bool mended = base_map_get(&l->mended, p->name, NULL);
        choices[i] = (struct choice){base_copy(p->title), base_copy(p->name),
                                     base_copy(mended ? "mended" : p->name)};
    }
    choice_open(t, "practice: find and mend a mistake", "", choices, n,
                lesson_runs(t) && next >= 0 ? next : 0, NULL, chosen, NULL);
}

void lessons_open(struct tui *t, const char *name)
{
    struct base_diag why = {0};
    if (!*name)
        list_jobs(t);
    else if (!lesson_begin(t, name, &why))
        tui_complain(t, "%s", why.message);
}
