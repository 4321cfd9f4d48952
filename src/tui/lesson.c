/* tui/lesson.c - see lesson.h */

#include "tui/lesson.h"

#include "tui/tui.h"

#include <stdio.h>
#include <string.h>

bool lesson_runs(const struct tui *t) { return t->lesson && (t->lesson->run || t->lesson->walk); }

bool lesson_hides(const struct tui *t) { return t->lesson && t->lesson->run && t->lesson->step == STEP_FIND; }

bool lesson_holds_back(struct tui *t, const char *what)
{
    if (lesson_hides(t))
        tui_complain(t, "%s waits until the mistake is found", what);
    return lesson_hides(t);
}

const struct practice_job *lesson_about(const struct tui *t)
{
    return t->lesson && t->lesson->run ? practice_run_about(t->lesson->run) : NULL;
}

const struct practice_guide *lesson_guide(const struct tui *t)
{
    return t->lesson && t->lesson->walk ? practice_walk_about(t->lesson->walk) : NULL;
}

int lesson_count_done(const struct tui *t)
{
    const struct practice_book *b = t->lesson->book;
    int n = 0;
    for (int i = 0; i < practice_guide_count(b); i++)
        n += base_map_get(&t->lesson->done, practice_guide(b, i)->name, NULL);
    for (int i = 0; i < practice_count(b); i++)
        n += base_map_get(&t->lesson->done, practice_job(b, i)->name, NULL);
    return n;
}

const char *lesson_title(const struct tui *t, char *buf, size_t size)
{
    enum { WIDE = 110 };
    bool whole = t->at.title.w >= WIDE;
    if (lesson_guide(t))
        snprintf(buf, size, "guide: %s", lesson_guide(t)->title);
    else
        snprintf(buf, size, "practice %d of %d%s%s", t->lesson->at + 1, practice_count(t->lesson->book),
                 whole ? ": " : "", whole ? lesson_about(t)->title : "");
    return buf;
}

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
