/* tui/panes/practice.c - practice in the findings pane: the question while the mistake is looked for */

#include "tui/panes.h"

#include "tui/lesson.h"
#include "tui/tui.h"

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
    int y = tui_paragraph(t, layout_read(a), 1, 1, INK_PLAIN, lesson_about(t)->question);
    y = tui_paragraph(t, layout_read(a), y, 1, INK_STRONG, "Cursor on the wrong value in the form, Enter.");
    for (int i = 0; i < l->hints && y < a.h - 2; i++) {
        paint_format(&t->p, a, y, 1, INK_DIM, "%d", i + 1);
        y = tui_paragraph(t, layout_read((struct area){a.y, a.x, a.h - 2, a.w}), y, 3, INK_PLAIN,
                          lesson_about(t)->hints[i]);
    }
    held_back(t, &held);
    if (y <= a.h - 1)
        tui_paragraph(t, layout_read(a),
                      a.h - (paint_width(base_text_get(&held)) > a.w - 2 && y <= a.h - 2 ? 2 : 1), 1, INK_DIM,
                      base_text_get(&held));
    base_text_done(&held);
    if (tui_pane_has_keys(t, AT_FINDINGS) && !tui_depth(t))
        tui_cursor(t, a, 0, 0);
    return a.h;
}

enum { ROOMY = 18 }; /* rows: the question stays in sight while it is mended, what was seen in a guide too */

/* The step at hand, below it in a tall pane what was seen in the one before; the row behind. */
static int draw_walk(struct tui *t, struct area a)
{
    const struct practice_guide *g = lesson_guide(t);
    int at = practice_walk_at(t->lesson->walk), y = 1;
    struct base_text says = {0};
    bool ends = at == g->n_steps;
    if (ends)
        paint_format(&t->p, a, 0, 1, INK_STRONG, "guide   all %d steps done", at);
    else
        paint_format(&t->p, a, 0, 1, INK_STRONG, "guide   step %d of %d%s", at + 1, g->n_steps,
                     g->steps[at].hint ? "   i hint" : "");
    practice_walk_say(t->lesson->walk,
                      ends ? "Go on as you like: it is a copy. :practice lists what comes next, q leaves."
                           : g->steps[at].says,
                      &says);
    y = tui_paragraph(t, layout_read(a), y, 1, INK_PLAIN, base_text_get(&says));
    base_text_clear(&says);
    if (at && a.h >= ROOMY) {
        practice_walk_say(t->lesson->walk, g->steps[at - 1].learnt, &says);
        y = tui_paragraph(t, layout_read(a), y, 1, INK_DIM, base_text_get(&says)) + 1;
    }
    base_text_done(&says);
    return y;
}

int practice_pane_draw(struct tui *t, struct area a)
{
    if (!lesson_runs(t))
        return 0;
    if (lesson_guide(t))
        return draw_walk(t, a);
    if (t->lesson->step == STEP_FIND)
        return draw_find(t, a);
    bool mended = t->lesson->step == STEP_LEARNT;
    paint_format(&t->p, a, 0, 1, INK_STRONG, "practice   step %d of %d   %s", t->lesson->step, STEPS,
                 mended ? "mended" : "now mend it");
    return a.h < ROOMY ? 1 : tui_paragraph(t, layout_read(a), 1, 1, INK_PLAIN, lesson_about(t)->question) + 1;
}
