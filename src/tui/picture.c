/* tui/picture.c - the whole picture: title, panes or levels, message, hints */

#include "tui/picture.h"

#include "tui/form.h"
#include "tui/lesson.h"
#include "tui/panes.h"
#include "tui/laying/placing.h"
#include "tui/stack.h"

#include <stdio.h>
#include <string.h>

/* "rev B + 14 edits" between X and END, once there is a revision; "rev B + 14" where that has no room. */
static void draw_revision(struct tui *t, struct area a, int x, int end)
{
    char text[40];
    if (!*t->revision)
        return;
    if (t->edits_since)
        snprintf(text, sizeof text, "rev %s + %d edit%s", t->revision, t->edits_since,
                 t->edits_since == 1 ? "" : "s");
    else
        snprintf(text, sizeof text, "rev %s", t->revision);
    if (t->edits_since && x + paint_width(text) > end)
        snprintf(text, sizeof text, "rev %s + %d", t->revision, t->edits_since);
    if (x + paint_width(text) <= end)
        paint_text(&t->p, a, 0, x, INK_PLAIN, text);
}

/* What the title row ends in, part by part. */
struct title_part { char text[24]; enum ink ink; };
enum { TITLE_PARTS = 8, TITLE_GAP = 3 };

static int title_parts(struct tui *t, struct title_part *out)
{
    int counts[3], n = 0, waived = findings_waived(job_findings(t->job)),
                   remarks = review_open_remarks(t->d, NULL, NULL);
    bool trying = job_trying(t->job), saved = job_saved(t->job);
    const char *state = trying                                  ? "not yet taken"
                        : t->o.look || job_readonly(t->job)     ? "looking"
                        : !saved                                ? "NOT SAVED"
                        : *job_file(t->job)                     ? "saved"
                        : lesson_runs(t)                        ? "a copy"
                                                                : "in memory only";
    findings_counts(job_findings(t->job), counts);
    out[n].ink = !saved ? INK_GRAVE : trying ? INK_HERE : INK_PLAIN;
    snprintf(out[n++].text, sizeof out->text, "%s", state);
    out[n].ink = counts[HANDBOOK_FAULT] ? INK_GRAVE : INK_PLAIN;
    snprintf(out[n++].text, sizeof out->text, "!! %d", counts[HANDBOOK_FAULT]);
    out[n].ink = counts[HANDBOOK_CAUTION] ? INK_TROUBLE : INK_PLAIN;
    snprintf(out[n++].text, sizeof out->text, "! %d", counts[HANDBOOK_CAUTION]);
    out[n].ink = INK_PLAIN;
    snprintf(out[n++].text, sizeof out->text, ". %d", counts[HANDBOOK_NOTE]);
    if (waived) {
        out[n].ink = INK_PLAIN;
        snprintf(out[n++].text, sizeof out->text, "~ %d", waived);
    }
    if (remarks) {
        out[n].ink = INK_STRONG;
        snprintf(out[n++].text, sizeof out->text, REVIEW_MARK " %d", remarks);
    }
    out[n].ink = INK_PLAIN;
    snprintf(out[n++].text, sizeof out->text, "%s", t->state == DIESET_GROUND ? "ground" : "new");
    out[n].ink = INK_PLAIN;
    snprintf(out[n++].text, sizeof out->text, "%s", tui_lengths(t).name);
    return n;
}

static void draw_title(struct tui *t)
{
    struct area a = t->at.title;
    if (t->o.begin && !lesson_runs(t)) {
        paint_text(&t->p, a, 0, 1, INK_STRONG, "diewright");
        return;
    }
    struct title_part parts[TITLE_PARTS];
    /* with remarks there is less room for the revision */
    int n = title_parts(t, parts), gap = review_open_remarks(t->d, NULL, NULL) ? TITLE_GAP - 1 : TITLE_GAP,
        at = a.w - 1 - (n - 1) * gap;
    char practice[120];
    for (int i = 0; i < n; i++)
        at -= paint_width(parts[i].text);
    /* a long title ends before the state */
    int x = paint_cut(&t->p, a, 0, 1, at - 2, INK_STRONG,
                      lesson_runs(t) ? lesson_title(t, practice, sizeof practice) : job_title(t->job));
    if (at >= x + 2)
        draw_revision(t, a, x + 3, at - 2);
    at = at < 1 ? 1 : at;
    for (int i = 0; i < n; i++)
        at = paint_text(&t->p, a, 0, at, parts[i].ink, parts[i].text) + gap;
}

/* The bar at the left of a pane, joined to the rule. */
static void draw_bar(struct tui *t, struct area right, int rule_y)
{
    if (right.w <= 0 || right.x == 0)
        return;
    bool lower = right.y == rule_y;
    struct area rule = {rule_y, 0, 1, t->at.title.w};
    paint_bar(&t->p, right.x - 1, right.y + lower, right.h - lower, INK_DIM);
    paint_char(&t->p, rule, 0, right.x - 1, INK_DIM, lower ? 0x252c : 0x2534);
}

static void draw_frame(struct tui *t)
{
    const struct layout *at = &t->at;
    struct area rule = {at->plan.y, 0, 1, at->title.w};
    const struct area bars[] = {at->swap, at->section, at->side, at->findings};
    paint_row(&t->p, rule, 0, INK_DIM);
    for (size_t i = 0; i < COUNT_OF(bars); i++)
        draw_bar(t, bars[i], rule.y);
    for (size_t i = 0; i + 1 < COUNT_OF(bars); i++)
        if (bars[i].w > 0 && bars[i].x == at->findings.x)
            paint_char(&t->p, rule, 0, at->findings.x - 1, INK_DIM, 0x253c);
}

/* While keys come, panes that only follow the cursor stay as they are; a form with the same labels differs by
 * some figures, and what a field is typed for is seen at once in the stack as well. */
static bool may_wait(const struct tui *t, const struct pane_ops *pane, bool focus)
{
    if (focus)
        return false;
    if (pane == &form_pane)
        return t->form->labels != t->form->labels_drawn;
    return pane != &stack_pane || tui_depth(t) == 0;
}

static void draw_pane(struct tui *t, const struct pane_ops *pane, struct area a, bool focus)
{
    if (!may_wait(t, pane, focus) || !tui_stays(t, a))
        pane->draw(t, a, focus && tui_depth(t) == 0);
}

static void draw_main(struct tui *t)
{
    const struct layout *at = &t->at;
    if (tui_alone(t)) {
        tui_pane(t, t->focus)->draw(t, at->body, true);
        return;
    }
    draw_frame(t);
    if (at->section.w > 0)
        draw_pane(t, t->swap == SWAP_SECTION ? &form_pane : &section_pane, at->section, false);
    if (at->side.w > 0 && !tui_stays(t, at->side))
        side_draw(t, at->side);
    const struct area areas[PANES] = {at->stack, at->swap, at->plan, at->findings};
    for (int p = 0; p < PANES; p++)
        draw_pane(t, tui_pane(t, (enum pane)p), areas[p], (enum pane)p == t->focus);
}

static bool is(const struct key_row *r, const char *action) { return strcmp(r->action, action) == 0; }

/* While a mistake is looked for, Enter says which value is wrong; what is laid out nowhere is not placed. */
static const char *hint_word(const struct tui *t, const struct key_row *r)
{
    if (is(r, "place") && (tui_place(t) & (AT_STACK | AT_FORM)) && !placing_may(t))
        return NULL;
    if (!lesson_hides(t) || !(tui_place(t) & AT_MAIN))
        return r->hint;
    if (is(r, "hint") || is(r, "detail"))
        return "hint";
    if (is(r, "vary"))
        return NULL;
    if (!is(r, "enter"))
        return r->hint;
    return tui_place(t) == AT_FORM ? "that is it" : tui_place(t) == AT_FINDINGS ? NULL : r->hint;
}

static bool refused(const struct tui *t, const struct key_row *r)
{
    return r->edits && (lesson_hides(t) ? !is(r, "enter") : t->o.look);
}

static void hint_text(const struct tui *t, const struct key_row *r, char *buf, size_t size)
{
    char label[20];
    snprintf(buf, size, "%s %s", keys_label(r->keys[0], label, sizeof label), hint_word(t, r));
}

/* Keys that work here, as many as fit; help is always among them, at the right end. */
static void draw_hint(struct tui *t)
{
    struct area a = t->at.hint;
    unsigned place = tui_place(t);
    char text[60];
    int n, x = 1, end = a.w - 1;
    const struct key_row *rows = keys_table(&n);
    for (int i = 0; i < n; i++)
        if ((rows[i].places & place) && is(&rows[i], "help")) {
            hint_text(t, &rows[i], text, sizeof text);
            end -= paint_width(text) + 2;
            paint_text(&t->p, a, 0, end + 2, INK_DIM, text);
        }
    for (int i = 0; i < n; i++) {
        if (!(rows[i].places & place) || !hint_word(t, &rows[i]) || is(&rows[i], "help") ||
            refused(t, &rows[i]))
            continue;
        hint_text(t, &rows[i], text, sizeof text);
        if (x + paint_width(text) <= end) /* a shorter one may still fit */
            x = paint_text(&t->p, a, 0, x, INK_DIM, text) + 2;
    }
}

static void draw_small(struct tui *t)
{
    char text[120];
    int rows, columns;
    terminal_size(t->terminal, &rows, &columns);
    struct area all = {0, 0, rows, columns};
    snprintf(text, sizeof text, "%dx%d: diewright needs %dx%d. q quit, ? help", columns, rows,
             LAYOUT_LEAST_COLUMNS, LAYOUT_LEAST_ROWS);
    paint_text(&t->p, all, 0, 0, INK_PLAIN, text);
    if (rows > 1 && *tui_said(t))
        paint_text(&t->p, all, 1, 0, INK_PLAIN, tui_said(t));
}

static void draw_levels(struct tui *t)
{
    int from = 0;
    for (int i = 0; i < tui_depth(t); i++)
        if (tui_level(t, i)->ops->full)
            from = i;
    bool covered = tui_depth(t) && tui_level(t, from)->ops->full;
    if (covered)
        tui_level(t, from)->ops->draw(t, tui_level(t, from));
    else
        draw_main(t);
    paint_keep(&t->p);
    for (int i = from + covered; i < tui_depth(t); i++)
        tui_level(t, i)->ops->draw(t, tui_level(t, i));
}

/* Where one is among the panes of which one is seen. */
static void draw_panes(struct tui *t)
{
    int x = paint_text(&t->p, t->at.message, 0, 1, INK_DIM, "Tab:");
    for (int p = 0; p < PANES; p++) {
        struct base_text name = {0};
        keys_places(tui_pane_place(t, (enum pane)p), &name);
        bool here = (enum pane)p == t->focus;
        x = paint_format(&t->p, t->at.message, 0, x + 1, here ? INK_STRONG : INK_DIM, here ? ">%s<" : " %s ",
                         base_text_get(&name));
        base_text_done(&name);
    }
}

/* What was said last; while nothing is said, what the letters of the plan mean. */
static void draw_message(struct tui *t)
{
    struct level *l = tui_top(t);
    if (l && !l->ops->full)
        return; /* those fill the row themselves */
    if (tui_told(t))
        tui_message_row(t, tui_complained(t) ? INK_TROUBLE : INK_PLAIN, tui_said(t));
    else if (tui_depth(t) == 0 && !tui_alone(t))
        plan_legend(t, t->at.message, 0);
    else if (tui_depth(t) == 0 && t->at.alone)
        draw_panes(t);
}

void picture_lay_out(struct tui *t)
{
    int rows, columns;
    terminal_size(t->terminal, &rows, &columns);
    t->at = layout_main(rows, columns, stack_wish(t));
}

void picture_draw(struct tui *t)
{
    t->frame.live = NULL;
    t->frame.on_panel = false;
    t->frame.cursor_y = t->frame.cursor_x = 0;
    picture_lay_out(t);
    t->frame.whole = t->frame.whole || t->at.stack.h != t->frame.drawn.h || t->at.stack.w != t->frame.drawn.w;
    t->frame.behind = false;
    paint_begin(&t->p);
    if (t->at.small) {
        draw_small(t);
    } else {
        draw_title(t);
        draw_levels(t);
        draw_message(t);
        draw_hint(t);
        paint_blanks(&t->p);
    }
    paint_send(&t->p, t->frame.cursor_y, t->frame.cursor_x, t->at.small ? NULL : t->frame.live,
               t->frame.on_panel);
    t->frame.drawn = t->at.stack;
    t->frame.whole = false;
}
