/* tui/tui.c - the loop: wait, do, look up again, draw
 *
 * Every frame is drawn whole from the state; the terminal is sent what differs. Nothing runs between events.
 */

#include "tui/tui.h"

#include "tui/act.h"
#include "tui/views/lesson.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const char tui_too_long[] = "what was pasted is longer than a line takes; nothing of it was taken";

/* ---- lists ---- */

void list_move(struct list *l, enum move m, int page)
{
    int step = page > 2 ? page - 1 : 1;
    switch (m) {
    case MOVE_UP: l->at--; break;
    case MOVE_DOWN: l->at++; break;
    case MOVE_PAGE_UP: l->at -= step; break;
    case MOVE_PAGE_DOWN: l->at += step; break;
    case MOVE_FIRST: l->at = 0; break;
    case MOVE_LAST: l->at = l->n - 1; break;
    default: break;
    }
    if (l->at >= l->n)
        l->at = l->n - 1;
    if (l->at < 0)
        l->at = 0;
}

void list_fit(struct list *l, int rows)
{
    list_move(l, MOVE_LEFT, 0);
    if (rows <= 0)
        return;
    int stays = rows / 4; /* the lines scroll seldom and by many at once: each time is a pane full of bytes */
    if (l->at < l->top)
        l->top = l->at == l->top - 1 ? l->at + 1 + stays - rows : l->at;
    if (l->at >= l->top + rows)
        l->top = l->at == l->top + rows ? l->at - stays : l->at - rows + 1;
    if (l->top > l->n - rows)
        l->top = l->n - rows;
    if (l->top < 0)
        l->top = 0;
}

enum hit list_hit(struct list *l, struct area body, int y, int x)
{
    int i = l->top + y - body.y;
    if (y < body.y || y >= body.y + body.h || x < body.x || x >= body.x + body.w || i >= l->n)
        return HIT_NOTHING;
    if (i == l->at)
        return HIT_HERE;
    l->at = i;
    return HIT_MOVED;
}

/* ---- levels ---- */

void tui_push(struct tui *t, struct level *l)
{
    if (t->n_levels == LEVELS) {
        if (l->ops->done)
            l->ops->done(l);
        return;
    }
    t->levels[t->n_levels++] = l;
}

void tui_pop(struct tui *t)
{
    if (t->n_levels == 0)
        return;
    struct level *l = t->levels[--t->n_levels];
    if (l->ops->done)
        l->ops->done(l);
}

struct level *tui_top(struct tui *t)
{
    return t->n_levels ? t->levels[t->n_levels - 1] : NULL;
}

/* ---- small things ---- */

static void put_message(struct tui *t, bool trouble, const char *fmt, va_list args) PRINTF_LIKE(3, 0);
static void put_message(struct tui *t, bool trouble, const char *fmt, va_list args)
{
    char text[900];
    vsnprintf(text, sizeof text, fmt, args);
    base_text_clear(&t->message);
    base_text_add(&t->message, text);
    t->trouble = trouble;
    t->message_level = t->n_levels;
}

double tui_step(struct tui *t, const char *name)
{
    int job = dieset_item_of_kind(t->d, DIESET_JOB);
    double mm = job < 0 ? NAN : dieset_number(t->d, job, name, DIESET_NEW);
    if (isfinite(mm) && mm > 0)
        return mm;
    tui_complain(t, "job.%s is no length above 0, so nothing moves: type one there", name);
    return 0;
}

void tui_warn(struct tui *t)
{
    const char *warning = job_warning(t->job);
    if (*warning)
        tui_complain(t, "%s", warning);
}

void tui_say(struct tui *t, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    put_message(t, false, fmt, args);
    va_end(args);
}

void tui_complain(struct tui *t, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    put_message(t, true, fmt, args);
    va_end(args);
}

void tui_progress(struct tui *t, const char *text)
{
    tui_message_row(t, INK_DIM, text);
    paint_send_now(&t->p);
}

void tui_changed(struct tui *t)
{
    t->changed++;
}

void tui_cursor(struct tui *t, struct area a, int y, int x)
{
    if (y < 0 || y >= a.h || x < 0 || x >= a.w)
        return;
    t->cursor_y = a.y + y;
    t->cursor_x = a.x + x;
}

void tui_head(struct tui *t, struct area a, bool focus, const char *title, const char *right)
{
    int x = paint_text(&t->p, a, 0, 0, INK_STRONG, focus ? ">" : " ");
    x = paint_text(&t->p, a, 0, x, focus ? INK_STRONG : INK_PLAIN, title);
    paint_text(&t->p, a, 0, x, INK_PLAIN, " ");
    int at = a.w - 2 - paint_width(right);
    if (*right && at > x + 1)
        paint_format(&t->p, a, 0, at, INK_PLAIN, " %s ", right);
}

const struct pane_ops *tui_pane(const struct tui *t, enum pane p)
{
    static const struct pane_ops *const swaps[] = {&form_pane, &plan_pane, &section_pane};
    switch (p) {
    case PANE_STACK: return &stack_pane;
    case PANE_SWAP: return swaps[t->swap];
    case PANE_PLAN: return t->swap == SWAP_PLAN ? &form_pane : &plan_pane; /* they change places */
    default: return &findings_pane;
    }
}

unsigned tui_place(const struct tui *t)
{
    if (t->at.small)
        return PLACE_SMALL;
    if (t->n_levels)
        return t->levels[t->n_levels - 1]->ops->place;
    return tui_pane(t, t->focus)->place;
}

struct view_options tui_view(const struct tui *t)
{
    return (struct view_options){.ascii = t->ascii, .cell_ratio = t->cell_ratio, .state = t->state,
                                 .item = dieset_find_item(t->d, t->item), .point = -1};
}

struct unit_display tui_lengths(const struct tui *t)
{
    return unit_display(UNIT_LENGTH, dieset_system(t->d));
}

/* ---- looking up again ---- */

static void settle_moved(struct tui *t)
{
    base_map_done(&t->moved);
    if (!job_trying(t->job))
        return;
    const struct job_outcome *o = job_outcome(t->job);
    for (int i = 0; i < o->n_moves; i++)
        if (!base_map_get(&t->moved, o->moves[i].path, NULL))
            base_map_put(&t->moved, o->moves[i].path, i);
}

static void settle_revision(struct tui *t)
{
    struct review_revision latest;
    if (job_trying(t->job))
        return;
    bool any = review_latest(t->d, &latest);
    snprintf(t->revision, sizeof t->revision, "%s", any ? latest.letter : "");
    t->edits_since = any ? job_edits_since(t->job, latest.letter) : 0;
}

void tui_settle(struct tui *t)
{
    if (t->settled == t->changed)
        return;
    settle_moved(t); /* judges */
    t->n_findings = findings_list(job_findings(t->job), &t->findings);
    if (lesson_hides(t))
        t->n_findings = 0;
    view_matrix(t->d, t->state, &t->matrix);
    if (!job_trying(t->job))
        t->before = t->matrix;
    t->binding = dieset_binding(t->d);
    stack_settle(t);
    form_settle(t);
    findings_settle(t);
    for (int i = 0; i < t->n_levels; i++)
        if (t->levels[i]->ops->settle)
            t->levels[i]->ops->settle(t, t->levels[i]);
    t->settled = t->changed;
    settle_revision(t);
}

/* ---- drawing ---- */

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

static void draw_title(struct tui *t)
{
    struct area a = t->at.title;
    int counts[3], end = a.w - 1;
    char text[160], waived[24] = "", practice[120];
    const char *saved = t->o.look || job_readonly(t->job) ? "looking"
                        : !job_saved(t->job)              ? "NOT SAVED"
                        : *job_file(t->job)               ? "saved"
                        : lesson_runs(t)                  ? "a copy"
                                                          : "in memory only";
    findings_counts(job_findings(t->job), counts);
    if (findings_waived(job_findings(t->job)))
        snprintf(waived, sizeof waived, "   ~ %d", findings_waived(job_findings(t->job)));
    snprintf(text, sizeof text, "%s   !! %d   ! %d   . %d%s   %s   %s",
             job_trying(t->job) ? "not yet taken" : saved, counts[HANDBOOK_FAULT], counts[HANDBOOK_CAUTION],
             counts[HANDBOOK_NOTE], waived, t->state == DIESET_GROUND ? "ground" : "new",
             tui_lengths(t).name);
    int at = end - paint_width(text);
    /* a long title ends before the state, between two characters */
    struct area left = {a.y, a.x, a.h, at - 2};
    int x = paint_text(&t->p, left, 0, 1, INK_STRONG,
                       lesson_runs(t) ? lesson_title(t, practice, sizeof practice) : job_title(t->job));
    if (at >= x + 2)
        draw_revision(t, a, x + 3, at - 2);
    at = at < 1 ? 1 : at;
    paint_text(&t->p, a, 0, at, !job_saved(t->job) ? INK_GRAVE : INK_PLAIN, text);
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

bool tui_stays(struct tui *t, struct area a)
{
    if (t->whole)
        return false;
    paint_again(&t->p, a);
    t->behind = true;
    return true;
}

/* While keys come, panes that only follow the cursor stay as they are; a form with the same labels differs by
 * some figures, and what a field is typed for is seen at once in the stack as well. */
static bool may_wait(const struct tui *t, const struct pane_ops *pane, bool focus)
{
    if (focus)
        return false;
    if (pane == &form_pane)
        return t->form_labels != t->labels_drawn;
    return pane != &stack_pane || t->n_levels == 0;
}

static void draw_pane(struct tui *t, const struct pane_ops *pane, struct area a, bool focus)
{
    if (!may_wait(t, pane, focus) || !tui_stays(t, a))
        pane->draw(t, a, focus && t->n_levels == 0);
}

static void draw_main(struct tui *t)
{
    const struct layout *at = &t->at;
    if (t->zoomed) {
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

/* While a mistake is looked for, Enter says which value is wrong; what is laid out nowhere is not placed. */
static const char *hint_word(const struct tui *t, const struct key_row *r)
{
    if (r->run == act_place && (tui_place(t) & (PLACE_STACK | PLACE_FORM)) && !place_may(t))
        return NULL;
    if (!lesson_hides(t) || !(tui_place(t) & PLACE_MAIN))
        return r->hint;
    if (r->run == act_hint || r->run == act_detail)
        return "hint";
    if (r->run == act_vary)
        return NULL;
    if (r->run != act_enter)
        return r->hint;
    return tui_place(t) == PLACE_FORM ? "that is it" : tui_place(t) == PLACE_FINDINGS ? NULL : r->hint;
}

static bool refused(const struct tui *t, const struct key_row *r)
{
    return r->edits && (lesson_hides(t) ? r->run != act_enter : t->o.look);
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
        if ((rows[i].places & place) && rows[i].run == act_help) {
            hint_text(t, &rows[i], text, sizeof text);
            end -= paint_width(text) + 2;
            paint_text(&t->p, a, 0, end + 2, INK_DIM, text);
        }
    for (int i = 0; i < n; i++) {
        if (!(rows[i].places & place) || !hint_word(t, &rows[i]) || rows[i].run == act_help ||
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
    if (rows > 1 && t->message.length)
        paint_text(&t->p, all, 1, 0, INK_PLAIN, base_text_get(&t->message));
}

static void draw_levels(struct tui *t)
{
    int from = 0;
    for (int i = 0; i < t->n_levels; i++)
        if (t->levels[i]->ops->full)
            from = i;
    bool covered = t->n_levels && t->levels[from]->ops->full;
    if (covered)
        t->levels[from]->ops->draw(t, t->levels[from]);
    else
        draw_main(t);
    paint_keep(&t->p);
    for (int i = from + covered; i < t->n_levels; i++)
        t->levels[i]->ops->draw(t, t->levels[i]);
}

/* In the message row; what is longer takes the row above as well. */
void tui_message_row(struct tui *t, enum ink ink, const char *text)
{
    struct area a = t->at.message;
    size_t skip, n = paint_wrap(text, a.w - 2, &skip);
    bool two = text[n] != '\0';
    struct area rows = {a.y - two, a.x, 1 + two, a.w};
    for (int y = 0; y < rows.h; y++)
        for (int x = 0; x < rows.w; x++)
            paint_char(&t->p, rows, y, x, INK_PLAIN, ' ');
    char *first = base_copy_n(text, n);
    paint_text(&t->p, rows, 0, 1, ink, first);
    free(first);
    if (two)
        paint_text(&t->p, rows, 1, 1, ink, text + n + skip);
}

/* What was said last; while nothing is said, what the letters of the plan mean. */
static void draw_message(struct tui *t)
{
    struct level *l = tui_top(t);
    if (l && !l->ops->full)
        return; /* those fill the row themselves */
    if (t->message.length && t->message_level >= t->n_levels)
        tui_message_row(t, t->trouble ? INK_TROUBLE : INK_PLAIN, base_text_get(&t->message));
    else if (t->n_levels == 0 && !t->zoomed)
        plan_legend(t, t->at.message, 0);
}

static void lay_out(struct tui *t)
{
    int rows, columns;
    terminal_size(t->terminal, &rows, &columns);
    t->at = layout_main(rows, columns, stack_wish(t));
}

static void draw(struct tui *t)
{
    t->live = NULL;
    t->on_panel = false;
    t->cursor_y = t->cursor_x = 0;
    lay_out(t);
    t->whole = t->whole || t->at.stack.h != t->drawn.h || t->at.stack.w != t->drawn.w;
    t->behind = false;
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
    paint_send(&t->p, t->cursor_y, t->cursor_x, t->at.small ? NULL : t->live, t->on_panel);
    t->drawn = t->at.stack;
    t->whole = false;
}

/* ---- what takes long ---- */

/* Steps told before keys are looked at, so that the quick work of most jobs never takes a key out of its
   turn; and between two looks. */
enum { UNASKED = 100000, UNASKED_MORE = 2000 };

static bool give_up(void *arg)
{
    struct tui *t = arg;
    if (!t->at_work)
        return false;
    enum terminal_asks asks = terminal_asks(t->terminal);
    if (t->idling && terminal_key_waits(t->terminal))
        return true;
    return asks == TERMINAL_ASKS_END || (asks == TERMINAL_ASKS_GIVE_UP && !t->following);
}

/* What was asked for took long and was given up: the job is as it was before, and so is what had been opened
 * for it. At the end of the program nothing long is begun any more. */
static void after_giving_up(struct tui *t)
{
    if (t->idling) { /* what nobody asked for waits until the key is answered */
        tui_changed(t);
        if (terminal_asks(t->terminal) != TERMINAL_ASKS_END)
            base_go_on();
        return;
    }
    edit_drop(t);
    struct level *l = tui_top(t);
    if (l && l->ops->leave)
        l->ops->leave(t, l);
    else
        tui_pop(t);
    tui_changed(t);
    tui_complain(t, "given up; the job is as it was before");
    if (terminal_asks(t->terminal) == TERMINAL_ASKS_END)
        return;
    terminal_forget_typed(t->terminal);
    base_go_on();
}

/* ---- events ---- */

/* While something is typed Alt with a letter must not leave it, and run as a command what the letter is.
 * Elsewhere it is Esc and the letter, which may have been pressed one after the other on a slow line. */
static void on_alt(struct tui *t, int key)
{
    if ((tui_place(t) & PLACE_WRITES) && !t->at.small)
        return;
    tui_press(t, '\033');
    tui_press(t, key - KEY_ALT);
}

static void on_key(struct tui *t, const struct terminal_event *e)
{
    struct level *l = tui_top(t);
    bool by_mouse = e->what == TERMINAL_KEY && e->key >= KEY_CLICK && e->key < KEY_ALT;
    t->key = e->what == TERMINAL_KEY ? e->key : 0;
    t->mouse_y = by_mouse ? e->y : -1;
    t->mouse_x = by_mouse ? e->x : -1;
    if (l && !t->at.small && l->ops->event && l->ops->event(t, l, e))
        return;
    if (e->what == TERMINAL_KEY && e->key >= KEY_ALT) {
        on_alt(t, e->key);
        return;
    }
    if (e->what == TERMINAL_PASTE) {
        tui_complain(t, "pasted text is taken only where something is being typed");
        return;
    }
    const struct key_row *row = keys_find(tui_place(t), e->key);
    if (!row) {
        char label[20];
        if (!t->at.small && !by_mouse)
            tui_say(t, "%s does nothing here; ? shows the keys that do",
                    keys_label(e->key, label, sizeof label));
        return;
    }
    if (row->run != act_quit)
        t->asked_to_leave = false;
    bool answers = lesson_hides(t) && row->run == act_enter;
    if (row->edits && !answers && !edit_allowed(t))
        return;
    row->run(t);
}

/* Edits of others are shown as they come, but not under somebody's hands: what is typed or tried is held
 * against what it was begun with. */
static bool follows(const struct tui *t)
{
    return t->o.look || (*job_file(t->job) && !job_trying(t->job) && (tui_place(t) & PLACE_READ) != 0);
}

void tui_press(struct tui *t, int key)
{
    on_key(t, &(struct terminal_event){.what = TERMINAL_KEY, .key = key});
}

static void on_waited(struct tui *t)
{
    struct level *l = tui_top(t);
    if (l && l->pending && !t->at.small) {
        t->idling = true;
        l->ops->idle(t, l);
        return;
    }
    t->plan_shown = t->plan_plate;
    t->following = true;
    if (follows(t))
        edit_follow(t);
    t->following = false;
}

static void on_event(struct tui *t, const struct terminal_event *e)
{
    t->quick = false;
    t->at_work = true;
    t->idling = false;
    if (!base_given_up())
        base_go_on();
    switch (e->what) {
    case TERMINAL_KEY:
    case TERMINAL_PASTE: on_key(t, e); break;
    case TERMINAL_RESIZED:
    case TERMINAL_REDRAW: t->cell_ratio = terminal_cell_ratio(t->terminal); break;
    case TERMINAL_SIGNAL: t->leaving = 128 + e->signal; break;
    case TERMINAL_WAITED: on_waited(t); break;
    }
    if (!base_given_up())
        lesson_look(t);
    t->whole = t->whole || !t->quick;
}

static void forget_moves(struct tui *t)
{
    for (int i = 0; i < t->n_last_moves; i++)
        free(t->last_moves[i]);
    free(t->last_moves);
    t->last_moves = NULL;
    t->n_last_moves = 0;
    base_text_clear(&t->last_title);
}

void tui_use(struct tui *t, struct job *job, bool look)
{
    while (t->n_levels)
        tui_pop(t);
    if (t->job)
        job_drop(t->job);
    t->job = job;
    t->d = job_dieset(job);
    t->o.look = look;
    t->state = DIESET_NEW;
    t->focus = PANE_STACK;
    t->swap = SWAP_FORM;
    t->zoomed = t->all = false;
    t->ram = 0;
    t->stack = t->form = t->finding = (struct list){0};
    t->item[0] = t->form_item[0] = t->path[0] = '\0';
    t->column = t->spot = -1;
    t->visited.count = 0;
    t->plan_plate = t->plan_shown = -1;
    t->plan_scale = t->plan_x = t->plan_y = 0;
    base_map_done(&t->moved);
    forget_moves(t);
    tui_changed(t);
}

/* How long to wait for a key: for ever, but while there is work to do, when panes are behind, or when
 * somebody else may be editing. */
static int patience(const struct tui *t)
{
    enum { RESTS_MS = 80, FOLLOWING_MS = 500 };
    if (t->n_levels && t->levels[t->n_levels - 1]->pending && !t->at.small)
        return t->levels[t->n_levels - 1]->pace_ms;
    if (t->behind || t->plan_shown != t->plan_plate)
        return RESTS_MS;
    return follows(t) ? FOLLOWING_MS : -1;
}

/* Nothing is given up while a picture is drawn: keys that are read may bring a new size. */
static void settle(struct tui *t)
{
    tui_settle(t);
    t->at_work = false;
    if (!base_given_up())
        return;
    after_giving_up(t);
    tui_settle(t);
}

static void run(struct tui *t)
{
    while (t->leaving < 0) {
        struct terminal_event e;
        struct level *l = tui_top(t);
        if (l && l->ops->catch_up)
            l->ops->catch_up(t, l);
        settle(t);
        if (!base_given_up()) /* else the end waits */
            draw(t);
        terminal_wait(t->terminal, patience(t), &e);
        on_event(t, &e);
        /* typed ahead: one picture for all of it */
        while (t->leaving < 0 && terminal_key_waits(t->terminal)) {
            settle(t);
            lay_out(t);
            terminal_wait(t->terminal, 0, &e);
            if (e.what == TERMINAL_WAITED)
                break;
            on_event(t, &e);
        }
    }
}

/* ---- begin and end ---- */

static void on_no_memory(void *terminal)
{
    terminal_close(terminal);
}

static bool is_utf8(const char *codeset)
{
    return codeset && (strcmp(codeset, "UTF-8") == 0 || strcmp(codeset, "utf8") == 0);
}

static void begin(struct tui *t)
{
    paint_start(&t->p, is_utf8(t->o.codeset) && !t->o.ascii, terminal_has_colour(t->terminal));
    t->ascii = !t->p.utf8;
    t->cell_ratio = terminal_cell_ratio(t->terminal);
    t->leaving = -1;
    t->column = -1;
    t->spot = -1;
    t->plan_plate = t->plan_shown = -1;
    t->changed = 1;
    t->whole = true;
    t->mouse_y = t->mouse_x = -1;
    t->mouse = t->o.mouse && terminal_mouse(t->terminal, true);
    if (t->job)
        tui_use(t, t->job, t->o.look);
    if (t->o.look)
        tui_say(t, "looking only; changes by others are shown as they come");
    if (t->job)
        tui_warn(t);
    struct review_revision latest;
    if (t->o.look && review_latest(t->d, &latest))
        review_open(t);
}

static void end(struct tui *t)
{
    while (t->n_levels)
        tui_pop(t);
    job_drop(t->job);
    lesson_done(t);
    base_vec_done(&t->rows);
    base_vec_done(&t->form_rows);
    base_vec_done(&t->visited);
    base_map_done(&t->moved);
    base_text_done(&t->message);
    base_text_done(&t->reason_for);
    forget_moves(t);
    base_text_done(&t->last_title);
    for (int i = 0; i < t->n_typed; i++)
        free(t->typed[i]);
    free(t->typed);
    paint_end(&t->p);
    free(t);
}

int tui_run(const struct tui_options *o, struct base_diag *why)
{
    struct terminal_wish wish = {.term = o->term, .utf8 = is_utf8(o->codeset) && !o->ascii,
                                 .colour = o->colour != TUI_COLOUR_NEVER, .escape_ms = o->escape_ms};
    struct tui *t = base_alloc(sizeof *t);
    t->o = *o;
    t->o.look = o->job && (o->look || job_readonly(o->job));
    t->job = o->job;
    if ((o->practice && !lesson_begin(t, o->practice, why)) || !terminal_open(&wish, &t->terminal, why)) {
        lesson_done(t);
        base_text_done(&t->message);
        free(t);
        return 2;
    }
    base_on_no_memory(on_no_memory, t->terminal);
    base_on_long_work(give_up, t, UNASKED, UNASKED_MORE);
    begin(t);
    run(t);
    struct terminal *terminal = t->terminal;
    int status = t->leaving;
    base_on_long_work(NULL, NULL, 0, 0);
    end(t); /* panels and windows first */
    base_on_no_memory(NULL, NULL);
    terminal_close(terminal);
    if (status == 0 && o->job && !job_saved(o->job))
        status = 4;
    return status;
}
