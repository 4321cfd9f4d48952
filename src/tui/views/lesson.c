/* tui/views/lesson.c - see lesson.h */

#include "tui/views/lesson.h"

#include "diewright/practice.h"
#include "tui/act.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum step { STEP_FIND = 1, STEP_MEND, STEP_LEARNT, STEPS = 3 };

struct lesson {
    struct practice_book *book;
    struct practice_run *run;  /* NULL: none runs */
    int at;                    /* which one */
    enum step step;
    int tried, hints;
    bool taken;                /* look once no level is open */
    struct base_map mended;    /* names */
    bool own_look;             /* of the job behind it */
};

bool lesson_runs(const struct tui *t) { return t->lesson && t->lesson->run; }
bool lesson_hides(const struct tui *t) { return lesson_runs(t) && t->lesson->step == STEP_FIND; }

bool lesson_holds_back(struct tui *t, const char *what)
{
    if (lesson_hides(t))
        tui_complain(t, "%s waits until the mistake is found", what);
    return lesson_hides(t);
}

static const struct practice_job *about(const struct tui *t) { return practice_run_about(t->lesson->run); }

const char *lesson_title(const struct tui *t, char *buf, size_t size)
{
    enum { WIDE = 110 };
    bool whole = t->at.title.w >= WIDE;
    snprintf(buf, size, "practice %d of %d%s%s", t->lesson->at + 1, practice_count(t->lesson->book),
             whole ? ": " : "", whole ? about(t)->title : "");
    return buf;
}

/* ---- beginning and leaving ---- */

static bool read_book(struct tui *t, struct base_diag *why)
{
    if (t->lesson)
        return true;
    struct practice_book *book;
    if (practice_load(t->o.data, &book, why) != BASE_OK)
        return false;
    t->lesson = base_alloc(sizeof *t->lesson);
    t->lesson->book = book;
    return true;
}

bool lesson_begin(struct tui *t, const char *name, struct base_diag *why)
{
    struct practice_run *run;
    int i = read_book(t, why) ? practice_find(t->lesson->book, name, why) : -1;
    if (i < 0 || practice_begin(t->lesson->book, t->o.handbook, i, &run, why) != BASE_OK)
        return false;
    struct lesson *l = t->lesson;
    struct practice_run *before = l->run;
    if (!before)
        l->own_look = t->o.look;
    l->run = run;
    l->at = i;
    l->step = STEP_FIND;
    l->tried = l->hints = 0;
    l->taken = false;
    tui_use(t, practice_run_job(run), false);
    practice_end(before);
    tui_say(t, "a copy in memory, no job is touched; q leaves practice");
    return true;
}

bool lesson_leave(struct tui *t)
{
    if (!lesson_runs(t))
        return false;
    if (!t->o.job) {
        t->leaving = 0;
        return true;
    }
    struct practice_run *run = t->lesson->run;
    t->lesson->run = NULL;
    tui_use(t, t->o.job, t->lesson->own_look);
    practice_end(run);
    tui_say(t, "back in %s", job_title(t->job));
    return true;
}

void lesson_done(struct tui *t)
{
    if (!t->lesson)
        return;
    practice_end(t->lesson->run);
    practice_free(t->lesson->book);
    base_map_done(&t->lesson->mended);
    free(t->lesson);
    t->lesson = NULL;
}

/* ---- what was learnt: a view of its own, from which the next one begins ---- */

static int paragraph(struct tui *t, struct area a, int y, int x, enum ink ink, const char *text)
{
    a = layout_read(a);
    while (*text && y < a.h) {
        size_t skip, n = paint_wrap(text, a.w - x - 1, &skip);
        char *line = base_copy_n(text, n);
        paint_text(&t->p, a, y++, x, ink, line);
        free(line);
        text += n + skip;
    }
    return y;
}

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
    struct area a = t->at.body;
    const struct practice_job *p = about(t);
    int next = next_one(t);
    (void)level;
    paint_format(&t->p, a, 0, 1, INK_STRONG, "practice   step %d of %d   mended", STEP_LEARNT, STEPS);
    int y = paragraph(t, a, 2, 1, INK_PLAIN, p->question) + 1;
    y = paragraph(t, a, y, 1, INK_STRONG, p->learnt);
    char *source = base_format("source: %s", p->source);
    y = paragraph(t, a, y, 1, INK_DIM, source) + 1;
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

static const struct level_ops learnt_ops = {.place = PLACE_PRACTICE,
                                            .full = true,
                                            .draw = draw_learnt,
                                            .enter = enter_learnt,
                                            .tab = tab_learnt,
                                            .done = done};

/* ---- answers ---- */

void lesson_answer(struct tui *t, const char *path)
{
    struct lesson *l = t->lesson;
    struct base_text says = {0};
    l->tried++;
    if (practice_answer(l->run, path, &says) == PRACTICE_FOUND) {
        l->step = STEP_MEND;
        base_text_add(&says, " Now mend it: Enter changes it.");
        tui_changed(t);
    }
    tui_say(t, "%s", base_text_get(&says));
    base_text_done(&says);
}

void lesson_taken(struct tui *t)
{
    if (lesson_runs(t))
        t->lesson->taken = true;
}

void lesson_look(struct tui *t)
{
    struct lesson *l = t->lesson;
    if (!lesson_runs(t) || !l->taken || t->n_levels || job_trying(t->job))
        return;
    l->taken = false;
    if (l->step == STEP_FIND)
        return;
    struct base_text says = {0};
    enum practice_state state = practice_look(l->run, &says);
    tui_changed(t); /* it was judged anew */
    if (state == PRACTICE_MENDED) {
        l->step = STEP_LEARNT;
        base_map_put(&l->mended, about(t)->name, 1);
        struct level *level = base_alloc(sizeof *level);
        level->ops = &learnt_ops;
        tui_push(t, level);
    } else {
        l->step = STEP_MEND;
        tui_complain(t, "%s", base_text_get(&says));
    }
    base_text_done(&says);
}

static void give_hint(struct tui *t)
{
    struct lesson *l = t->lesson;
    if (l->hints < PRACTICE_HINTS)
        l->hints++;
    tui_say(t, "hint %d of %d: %s", l->hints, PRACTICE_HINTS, about(t)->hints[l->hints - 1]);
}

void act_hint(struct tui *t)
{
    if (lesson_runs(t))
        give_hint(t);
    else
        tui_say(t, "hints are given in practice; :practice lists what there is");
}

/* ---- in the findings pane ---- */

/* "Held back until found: 1 fault, 2 notes." */
static void held_back(struct tui *t, struct base_text *out)
{
    int counts[3], n = 0;
    findings_counts(job_findings(t->job), counts);
    base_text_add(out, "Held back until found: ");
    for (int g = HANDBOOK_FAULT; g >= HANDBOOK_NOTE; g--)
        if (counts[g])
            base_text_addf(out, "%s%d %s%s", n++ ? ", " : "", counts[g],
                           handbook_grade_text((enum handbook_grade)g), counts[g] == 1 ? "" : "s");
    base_text_add(out, n ? "." : "no finding.");
}

static int draw_find(struct tui *t, struct area a)
{
    const struct lesson *l = t->lesson;
    struct base_text held = {0};
    paint_format(&t->p, a, 0, 1, INK_STRONG, "practice   step %d of %d   tried %d   i hint %d of %d",
                 STEP_FIND, STEPS, l->tried, l->hints, PRACTICE_HINTS);
    int y = paragraph(t, a, 1, 1, INK_PLAIN, about(t)->question);
    y = paragraph(t, a, y, 1, INK_STRONG, "Cursor on the wrong value in the form, Enter.");
    for (int i = 0; i < l->hints && y < a.h - 2; i++) {
        paint_format(&t->p, a, y, 1, INK_DIM, "%d", i + 1);
        y = paragraph(t, (struct area){a.y, a.x, a.h - 2, a.w}, y, 3, INK_PLAIN, about(t)->hints[i]);
    }
    held_back(t, &held);
    if (y <= a.h - 1)
        paragraph(t, a, a.h - (paint_width(base_text_get(&held)) > a.w - 2 && y <= a.h - 2 ? 2 : 1), 1,
                  INK_DIM, base_text_get(&held));
    base_text_done(&held);
    if (tui_pane(t, t->focus) == &findings_pane && !t->n_levels)
        tui_cursor(t, a, 0, 0);
    return a.h;
}

int lesson_rows(const struct tui *t, struct area a)
{
    return !lesson_runs(t) ? 0 : t->lesson->step == STEP_FIND ? a.h : 1;
}

int lesson_draw(struct tui *t, struct area a)
{
    enum { ROOMY = 18 }; /* rows: the question stays in sight while it is mended */
    if (!lesson_runs(t))
        return 0;
    if (t->lesson->step == STEP_FIND)
        return draw_find(t, a);
    bool mended = t->lesson->step == STEP_LEARNT;
    paint_format(&t->p, a, 0, 1, INK_STRONG, "practice   step %d of %d   %s", t->lesson->step, STEPS,
                 mended ? "mended" : "now mend it");
    return a.h < ROOMY ? 1 : paragraph(t, a, 1, 1, INK_PLAIN, about(t)->question) + 1;
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
    if (!read_book(t, &why)) {
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

void lesson_open(struct tui *t, const char *name)
{
    struct base_diag why = {0};
    if (!*name)
        list_jobs(t);
    else if (!lesson_begin(t, name, &why))
        tui_complain(t, "%s", why.message);
}
