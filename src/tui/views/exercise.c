/* tui/views/exercise.c - the handbook's worked examples asked one by one
 *
 * Question above, the answer typed in a field, below it what is said to it and, once it is right or asked
 * for, the working.
 */

#include "tui/tui.h"
#include "tui/views.h"

#include "diewright/practice.h"

#include <stdlib.h>
#include <string.h>

struct exercise {
    struct level level;
    struct practice_exercises *all;
    int at;
    struct field *field;
    struct base_text question, says, hint, working;
    bool right;
};

static void put(struct exercise *e, int at)
{
    struct base_diag why = {0};
    e->at = at;
    e->right = false;
    field_set(e->field, "", 0);
    base_text_clear(&e->question);
    base_text_clear(&e->says);
    base_text_clear(&e->hint);
    base_text_clear(&e->working);
    if (practice_exercise_ask(e->all, at, &e->question, &why) != BASE_OK)
        base_text_addf(&e->says, "%s", why.message);
}

/* Lines from row Y on, each wrapped, the first in ink FIRST; the row behind them. Rows below the area are
   counted, not drawn. */
static int draw_lines(struct tui *t, struct area a, int y, enum ink first, const char *text)
{
    for (bool top = true; *text; top = false) {
        size_t line = strcspn(text, "\n"), at = 0, indent = strspn(text, " ");
        while (at < line) {
            size_t skip;
            char *rest = base_copy_n(text + at, line - at);
            int x = 1 + (at ? (int)indent + 2 : 0);
            size_t n = paint_wrap(rest, a.w - x - 1, &skip);
            rest[n] = '\0';
            if (y < a.h)
                paint_text(&t->p, a, y, x, top ? first : INK_PLAIN, rest);
            y++;
            free(rest);
            at += n + skip;
        }
        text += line + (text[line] == '\n');
    }
    return y;
}

/* Below the answer: the formula alone until the working is asked for, too. */
static const char *below_text(const struct exercise *e)
{
    return base_text_get(e->working.length ? &e->working : &e->hint);
}

static void draw(struct tui *t, struct level *level)
{
    struct exercise *e = (struct exercise *)level;
    struct area a = layout_read(t->at.body);
    paint_format(&t->p, a, 0, 1, INK_STRONG, "exercise %d of %d   PgDn the next, PgUp the one before",
                 e->at + 1, practice_exercise_count(e->all));
    struct area nowhere = {a.y, a.x, 0, a.w};
    int below = draw_lines(t, nowhere, 0, INK_PLAIN, base_text_get(&e->says));
    below = draw_lines(t, nowhere, below, INK_PLAIN, below_text(e));
    int room = a.h - 1 - (below > 1 ? below : 1); /* a long question gives way to what is said below it */
    struct area above = {a.y, a.x, room > 4 ? room : 4, a.w};
    int y = draw_lines(t, above, 1, INK_STRONG, base_text_get(&e->question)) + 1;
    y = y > above.h ? above.h : y;
    int x = paint_text(&t->p, a, y, 1, INK_PLAIN, "your number, with its unit: ");
    field_place(e->field, a.y + y, a.x + x, 30, 1);
    y = draw_lines(t, a, y + 1, e->right ? INK_STRONG : INK_TROUBLE, base_text_get(&e->says));
    y = draw_lines(t, a, y, INK_PLAIN, below_text(e));
    if (y > a.h)
        paint_text(&t->p, a, a.h - 1, a.w - 4, INK_DIM, " ..");
    tui_live(t, e->field);
}

static bool event(struct tui *t, struct level *level, const struct terminal_event *ev)
{
    struct exercise *e = (struct exercise *)level;
    enum field_did did = ev->what == TERMINAL_PASTE ? field_paste(e->field, ev->text)
                                                    : field_key(e->field, ev->key);
    (void)t;
    return did != FIELD_NOTHING || ev->what == TERMINAL_PASTE;
}

static void show_hint(struct exercise *e)
{
    struct base_diag why = {0};
    if (practice_exercise_hint(e->all, e->at, &e->hint, &why) != BASE_OK)
        base_text_addf(&e->hint, "%s\n", why.message);
}

static void show_working(struct exercise *e)
{
    struct base_diag why = {0};
    base_text_clear(&e->working);
    if (practice_exercise_solve(e->all, e->at, &e->working, &why) != BASE_OK)
        base_text_addf(&e->working, "%s\n", why.message);
}

static void go_by(struct exercise *e, int by)
{
    int n = practice_exercise_count(e->all);
    put(e, (e->at + by + n) % n);
}

static void enter(struct tui *t, struct level *level)
{
    struct exercise *e = (struct exercise *)level;
    const char *text = field_text(e->field);
    (void)t;
    if (e->working.length) { /* has been seen: the next one */
        go_by(e, 1);
        return;
    }
    base_text_clear(&e->says);
    if (!text[strspn(text, " ")]) {
        base_text_add(&e->says, "write a number and its unit; Tab shows the formula, then the working");
        return;
    }
    e->right = practice_exercise_answer(e->all, e->at, text, &e->says);
    if (e->right)
        show_working(e);
}

static void tab(struct tui *t, struct level *level, int by)
{
    struct exercise *e = (struct exercise *)level;
    (void)t, (void)by;
    base_text_clear(&e->says);
    if (e->hint.length)
        show_working(e);
    else
        show_hint(e);
}

static void step(struct tui *t, struct level *level, enum move m)
{
    (void)t;
    if (m == MOVE_PAGE_DOWN || m == MOVE_PAGE_UP)
        go_by((struct exercise *)level, m == MOVE_PAGE_DOWN ? 1 : -1);
}

static void done(struct level *level)
{
    struct exercise *e = (struct exercise *)level;
    practice_exercises_free(e->all);
    field_free(e->field);
    base_text_done(&e->question);
    base_text_done(&e->says);
    base_text_done(&e->hint);
    base_text_done(&e->working);
    free(e);
}

static const struct level_ops ops = {.place = AT_PRACTICE,
                                     .full = true,
                                     .draw = draw,
                                     .event = event,
                                     .enter = enter,
                                     .tab = tab,
                                     .move = step,
                                     .done = done};

void exercise_open(struct tui *t, const char *number)
{
    struct practice_exercises *all = practice_exercises_new(t->o.handbook, t->o.data);
    char *end;
    long n = strtol(number, &end, 10);
    if (*number && (*end || n < 1 || n > practice_exercise_count(all))) {
        tui_complain(t, "there is no exercise \"%s\": they are 1 to %d", number,
                     practice_exercise_count(all));
        practice_exercises_free(all);
        return;
    }
    struct exercise *e = base_alloc(sizeof *e);
    e->level.ops = &ops;
    e->all = all;
    e->field = field_new("");
    put(e, *number ? (int)n - 1 : 0);
    tui_push(t, &e->level);
}
