/* tui/edit.c - a value being typed in its row of the form
 *
 * Every text that can be taken opens a try, so the whole screen shows how it would turn out; any other text
 * drops it. `refused` keeps the reason and the place of the fault.
 */

#include "tui/tui.h"

#include "tui/act.h"
#include "tui/views/lesson.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct edit {
    struct level level;
    char path[PATH_MOST], item[80];
    char *was;         /* text at the start */
    char old[80];      /* the value at the start, as printed */
    char *usual;       /* the usual formula, NULL: none */
    bool over;         /* a usual formula holds now: typing over it asks for a reason */
    struct field *field;
    bool refused;
    struct base_diag why;
    struct base_text words; /* what Tab found */
};

/* ---- what all edits share ---- */

void edit_follow(struct tui *t)
{
    const struct typed_event *e;
    bool came = job_refresh(t->job);
    if (came) {
        tui_changed(t);
        tui_settle(t);
    }
    if (came && job_history(t->job, &e, 1))
        tui_say(t, "%s meanwhile: %s; shown as it is now", e->who && *e->who ? e->who : "somebody", e->title);
    tui_warn(t);
}

bool edit_allowed(struct tui *t)
{
    if (t->o.look) {
        tui_complain(t, "looking only: nothing is changed here");
        return false;
    }
    if (lesson_hides(t)) {
        tui_complain(
            t, "first find it: put the cursor on the value that is wrong, and Enter; then it can be changed");
        return false;
    }
    if (job_trying(t->job))
        return true;
    edit_follow(t);
    return true;
}

void edit_drop(struct tui *t)
{
    if (!job_trying(t->job))
        return;
    job_drop(t->job);
    tui_changed(t);
}

void edit_moves(struct tui *t, const struct dieset_move *m, struct base_text *out)
{
    char was[80], is[80];
    const struct handbook *h = dieset_handbook(t->d);
    handbook_print(h, m->was, m->type, dieset_system(t->d), was, sizeof was);
    handbook_print(h, m->is, m->type, dieset_system(t->d), is, sizeof is);
    base_text_addf(out, "%s  %s -> %s%s", m->path, was, is,
                   m->stateful ? m->state == DIESET_GROUND ? "  (ground)" : "  (new)" : "");
}

bool edit_seen(const struct tui *t, const struct dieset_move *m)
{
    char was[80], is[80];
    const struct handbook *h = dieset_handbook(t->d);
    handbook_print(h, m->was, m->type, dieset_system(t->d), was, sizeof was);
    handbook_print(h, m->is, m->type, dieset_system(t->d), is, sizeof is);
    return strcmp(was, is) != 0;
}

/* What one looks for comes first: stock sizes that step, then what the whole set is measured by, then the
 * rest that forms show, then points and details. 0 is first. */
enum { WEIGHTS = 4 };
int edit_weight(const struct tui *t, const struct dieset_move *m)
{
    int q = dieset_find(t->d, m->path);
    if (q < 0)
        return WEIGHTS - 1;
    const struct dieset_quantity *v = dieset_quantity(t->d, q);
    int kind = v->item < 0 ? -1 : dieset_item_kind(t->d, v->item);
    if (dieset_mark(t->d, q) == DIESET_PICKED)
        return 0;
    if (!v->property || !v->property->plain)
        return WEIGHTS - 1;
    return kind >= 0 && handbook_kind(dieset_handbook(t->d), kind)->single ? 1 : 2;
}

/* The moves of an outcome as lines, by weight; the vector of lines is the caller's. */
static char **move_lines(struct tui *t, const struct job_outcome *o)
{
    char **lines = base_alloc((size_t)(o->n_moves + 1) * sizeof *lines);
    int n = 0;
    for (int w = 0; w < WEIGHTS; w++)
        for (int i = 0; i < o->n_moves; i++) {
            if (edit_weight(t, &o->moves[i]) != w)
                continue;
            struct base_text line = {0};
            edit_moves(t, &o->moves[i], &line);
            lines[n++] = base_text_take(&line);
        }
    return lines;
}

void edit_remember(struct tui *t, const struct job_outcome *o)
{
    for (int i = 0; i < t->n_last_moves; i++)
        free(t->last_moves[i]);
    free(t->last_moves);
    t->last_moves = move_lines(t, o);
    t->n_last_moves = o->n_moves;
    base_text_clear(&t->last_title);
    base_text_add(&t->last_title, o->title);
}

static void counts_line(const struct job_outcome *o, struct base_text *out)
{
    base_text_addf(out, "%d moved", o->n_moves);
    if (o->n_came)
        base_text_addf(out, ", %d finding%s came", o->n_came, o->n_came == 1 ? "" : "s");
    if (o->n_went)
        base_text_addf(out, ", %d went", o->n_went);
}

bool edit_take(struct tui *t)
{
    struct base_diag why = {0};
    struct base_text line = {0};
    if (job_changes_nothing(t->job)) {
        edit_drop(t);
        tui_say(t, "it stands so already: nothing to take");
        return true;
    }
    const struct job_outcome *o = job_outcome(t->job);
    bool words = job_trying_words(t->job); /* which undo passes by */
    base_text_addf(&line, "taken: %s; ", o->title);
    counts_line(o, &line);
    edit_remember(t, o);
    enum base_err err = job_take(t->job, &why);
    tui_changed(t);
    lesson_taken(t);
    if (err == BASE_OK)
        tui_say(t, words ? "%s" : "%s. u takes it back", base_text_get(&line));
    else if (err == BASE_NOT_SAVED)
        tui_complain(t, "%s The edit is kept here; :save-as FILE saves it", why.message);
    else
        tui_complain(t, "%s", why.message);
    base_text_done(&line);
    return err == BASE_OK;
}

void edit_outcome_line(struct tui *t, struct base_text *out)
{
    const struct job_outcome *o = job_outcome(t->job);
    size_t typed = strcspn(o->title, " ");
    bool any = false;
    base_text_addf(out, "would move %d", o->n_moves);
    if (o->n_came)
        base_text_addf(out, ", bring %d finding%s", o->n_came, o->n_came == 1 ? "" : "s");
    if (o->n_went)
        base_text_addf(out, ", clear %d", o->n_went);
    for (int w = 0; w < WEIGHTS; w++)
        for (int i = 0; i < o->n_moves && out->length < 300; i++) {
            const struct dieset_move *m = &o->moves[i];
            bool itself = strlen(m->path) == typed && strncmp(m->path, o->title, typed) == 0;
            if (itself || edit_weight(t, m) != w)
                continue;
            base_text_add(out, any ? "   " : ":  ");
            edit_moves(t, m, out);
            any = true;
        }
}

/* An empty text: back to the usual formula. */
static enum base_err set_or_unset(struct tui *t, const char *path, const char *text, struct base_diag *why)
{
    if (!*text && strstr(path, ".outline.")) { /* the row would be gone from under the field */
        edit_drop(t);
        return base_fail(why, BASE_REFUSED, "%s: an empty line; Del in the form takes a line out.", path);
    }
    return *text ? job_set(t->job, path, text, why) : job_unset(t->job, path, why);
}

/* Is TEXT one plain value, which people type anew rather than edit? */
static bool is_plain(const char *text)
{
    struct formula_tree *tree;
    struct base_diag why = {0};
    if (formula_parse(text, &tree, &why) != BASE_OK)
        return false;
    bool plain = formula_is_literal(tree);
    formula_tree_free(tree);
    return plain;
}

/* ---- the field ---- */

/* Where the row of the form is, drawn by the pane before this. */
static struct area form_area(const struct tui *t)
{
    return t->zoomed ? t->at.body : t->swap == SWAP_PLAN ? t->at.plan : t->at.swap;
}

static void blank(struct tui *t, struct area a, int y, int from)
{
    for (int x = from; x < a.w; x++)
        paint_char(&t->p, a, y, x, INK_PLAIN, ' ');
}

/* The fault's place, under the field. */
static void draw_fault(struct tui *t, struct edit *e, struct area a, int y)
{
    if (!e->refused || strcmp(e->why.source, field_text(e->field)) != 0)
        return;
    int x = field_column(e->field, e->why.start) - a.x;
    if (x < 0)
        return;
    blank(t, a, y, 0);
    int n = e->why.length > 0 ? e->why.length : 1;
    for (int i = 0; i < n; i++)
        paint_char(&t->p, a, y, x + i, INK_STRONG, '^');
}

/* A reason without the path that stands in its row anyway. */
static const char *bare(const struct edit *e)
{
    size_t n = strlen(e->path);
    return strncmp(e->why.message, e->path, n) == 0 && strncmp(e->why.message + n, ": ", 2) == 0
               ? e->why.message + n + 2
               : e->why.message;
}

static void draw_message(struct tui *t, struct edit *e)
{
    struct base_text line = {0};
    bool fault = e->refused && !e->words.length;
    int q = dieset_find(t->d, e->path);
    const struct handbook_property *property = q >= 0 ? dieset_quantity(t->d, q)->property : NULL;
    const char *help = property ? property->help : NULL;
    if (e->words.length)
        base_text_add(&line, base_text_get(&e->words));
    else if (fault)
        base_text_add(&line, bare(e));
    else if (job_trying(t->job))
        edit_outcome_line(t, &line);
    else if (*field_text(e->field))
        base_text_add(&line, "as it was");
    else if (e->usual)
        base_text_addf(&line, "nothing typed; the usual formula holds: %s", e->usual);
    else
        base_text_addf(&line, "nothing typed%s%s", help ? ": " : "", help ? help : "");
    tui_message_row(t, fault ? INK_TROUBLE : INK_PLAIN, base_text_get(&line));
    base_text_done(&line);
}

/* The row: title, the value as it was, the field. A long text gets the old value's room as well, a longer one
   the whole row. */
static void draw(struct tui *t, struct level *level)
{
    struct edit *e = (struct edit *)level;
    struct area a = form_area(t);
    int y = 1 + t->form.at - t->form.top, q = dieset_find(t->d, e->path);
    const char *title = q >= 0 ? dieset_quantity(t->d, q)->title : e->path;
    int x = 3 + paint_width(title) + 1;
    int old = paint_width(e->old), want = paint_width(field_text(e->field)) + 2;
    want = want > 10 ? want : 10;
    x = x > a.w - 12 ? a.w - 12 : x;
    if (x + want >= a.w) {
        a = (struct area){a.y, t->at.body.x, a.h, t->at.body.w};
        blank(t, a, y, 0);
        x = paint_format(&t->p, a, y, 1, INK_PLAIN, ": %s -> ", title);
    } else {
        blank(t, a, y, x);
        if (x + 1 + old + 4 + want < a.w)
            x = paint_format(&t->p, a, y, x + 1, INK_PLAIN, "%s -> ", e->old);
    }
    field_place(e->field, a.y + y, a.x + x, a.w - x - 1);
    draw_fault(t, e, a, y + 1 < a.h ? y + 1 : y - 1);
    draw_message(t, e);
    t->live = e->field;
}

/* Try what stands in the field. */
static void attempt(struct tui *t, struct edit *e)
{
    const char *text = field_text(e->field);
    e->refused = false;
    base_text_clear(&e->words);
    if (strcmp(text, e->was) == 0) {
        edit_drop(t);
        return;
    }
    char *copy = base_copy(text);
    size_t n = strlen(copy);
    while (n > 0 && copy[n - 1] == ' ')
        copy[--n] = '\0';
    e->why = (struct base_diag){0};
    enum base_err err = set_or_unset(t, e->path, copy, &e->why);
    e->refused = err != BASE_OK;
    free(copy);
    tui_changed(t);
}

static bool event(struct tui *t, struct level *level, const struct terminal_event *ev)
{
    struct edit *e = (struct edit *)level;
    enum field_did did = ev->what == TERMINAL_PASTE ? field_paste(e->field, ev->text)
                                                    : field_key(e->field, ev->key);
    if (did == FIELD_CHANGED)
        attempt(t, e);
    else if (did == FIELD_MOVED)
        base_text_clear(&e->words);
    else if (ev->what == TERMINAL_PASTE && *ev->text) {
        base_text_clear(&e->words);
        base_text_add(&e->words, tui_too_long);
    }
    t->quick = did != FIELD_NOTHING;
    return did != FIELD_NOTHING || ev->what == TERMINAL_PASTE;
}

/* Up and Down: the neighbouring stock size. */
static void step(struct tui *t, struct level *level, enum move m)
{
    struct edit *e = (struct edit *)level;
    if (m != MOVE_UP && m != MOVE_DOWN)
        return;
    char *size = sizes_step(t, e->path, m == MOVE_UP ? 1 : -1);
    if (!size) {
        base_text_clear(&e->words);
        base_text_add(&e->words, "no further stock size; this value has none, or this is the last one");
        return;
    }
    field_set(e->field, size, -1);
    free(size);
    attempt(t, e);
}

static void enter(struct tui *t, struct level *level)
{
    struct edit *e = (struct edit *)level;
    if (e->refused) {
        tui_complain(t, "%s", e->why.message);
        return;
    }
    if (!job_trying(t->job)) {
        tui_pop(t);
        return;
    }
    char path[PATH_MOST];
    snprintf(path, sizeof path, "%s", e->path);
    bool over = e->over && *field_text(e->field);
    bool taken = edit_take(t);
    if (!taken && job_saved(t->job)) { /* somebody was quicker: stay, Enter takes it over theirs */
        e->refused = false;
        tui_settle(t);
        snprintf(e->why.message, sizeof e->why.message, "%s", base_text_get(&t->message));
        base_text_clear(&e->words);
        base_text_addf(&e->words, "%s Change it once more and press Enter to take yours over it.",
                       base_text_get(&t->message));
        return;
    }
    tui_pop(t);
    if (taken && over)
        edit_ask_reason(t, path);
}

static void leave(struct tui *t, struct level *level)
{
    (void)level;
    edit_drop(t);
    tui_pop(t);
    tui_say(t, "left as it was");
}

static void tab(struct tui *t, struct level *level, int by)
{
    struct edit *e = (struct edit *)level;
    struct base_text words = {0};
    (void)by;
    if (complete_name(t, e->field, e->item, &words))
        attempt(t, e);
    base_text_clear(&e->words);
    base_text_add(&e->words, base_text_get(&words));
    base_text_done(&words);
}

static void done(struct level *level)
{
    struct edit *e = (struct edit *)level;
    field_free(e->field);
    base_text_done(&e->words);
    free(e->was);
    free(e->usual);
    free(e);
}

static const char *edit_path(struct tui *t, struct level *level)
{
    (void)t;
    return ((struct edit *)level)->path;
}

static const struct level_ops ops = {.place = PLACE_FIELD,
                                     .draw = draw,
                                     .event = event,
                                     .move = step,
                                     .enter = enter,
                                     .leave = leave,
                                     .tab = tab,
                                     .path = edit_path,
                                     .done = done};

void edit_open_field(struct tui *t, const char *path)
{
    int q = dieset_find(t->d, path);
    if (q < 0)
        return;
    const struct dieset_quantity *quantity = dieset_quantity(t->d, q);
    if (strcmp(t->path, path) != 0 && !go_to_quantity(t, q))
        return;
    q = dieset_find(t->d, path);
    quantity = dieset_quantity(t->d, q);
    struct edit *e = base_alloc(sizeof *e);
    e->level.ops = &ops;
    snprintf(e->path, sizeof e->path, "%s", quantity->path);
    snprintf(e->item, sizeof e->item, "%s", dieset_item_name(t->d, quantity->item));
    e->was = base_copy(quantity->typed && quantity->text ? quantity->text : "");
    e->usual = base_copy(quantity->usual);
    e->over = quantity->usual && !quantity->typed;
    char unit[40];
    form_split(t, q, e->old, sizeof e->old, unit, sizeof unit);
    e->field = field_new(e->was);
    if (is_plain(e->was))
        field_offer(e->field);
    base_text_clear(&t->message);
    t->focus = t->swap == SWAP_PLAN ? PANE_PLAN : PANE_SWAP;
    if (t->swap == SWAP_SECTION)
        t->swap = SWAP_FORM;
    tui_push(t, &e->level);
}

void edit_open_typed(struct tui *t, const char *path, const char *text)
{
    edit_open_field(t, path);
    struct level *l = tui_top(t);
    if (!l || l->ops != &ops)
        return;
    struct edit *e = (struct edit *)l;
    field_set(e->field, text, -1);
    attempt(t, e);
}

/* ---- choices ---- */

/* TEXT is what is typed at PATH, outside of any try. */
static bool stands(struct tui *t, const char *path, const char *text)
{
    int q = dieset_find(t->d, path);
    const struct dieset_quantity *v = q >= 0 ? dieset_quantity(t->d, q) : NULL;
    if (!v || !v->typed)
        return !*text;
    return v->text && strcmp(v->text, text) == 0;
}

static void choice_tried(struct tui *t, const char *path, const struct choice *c)
{
    struct base_diag why = {0};
    edit_drop(t);
    if (!stands(t, path, c->value) && set_or_unset(t, path, c->value, &why) != BASE_OK)
        tui_complain(t, "%s", why.message);
    tui_changed(t);
}

static void choice_taken(struct tui *t, const char *path, const struct choice *c)
{
    struct base_diag why = {0};
    edit_drop(t); /* what stood before says whether a reason is asked for */
    int q = dieset_find(t->d, path);
    bool over = q >= 0 && dieset_quantity(t->d, q)->usual && !dieset_quantity(t->d, q)->typed;
    if (stands(t, path, c->value))
        return;
    if (set_or_unset(t, path, c->value, &why) != BASE_OK) {
        tui_complain(t, "%s", why.message);
        tui_changed(t);
        return;
    }
    if (edit_take(t) && over)
        edit_ask_reason(t, path);
}

static void choice_dropped(struct tui *t, const char *path, const struct choice *c)
{
    (void)path;
    (void)c;
    edit_drop(t);
    tui_say(t, "left as it was");
}

typedef BASE_VEC(struct choice) choice_vec;

static void add_choice(choice_vec *v, char *label, char *value, const char *note)
{
    struct choice c = {label, value, base_copy(note)};
    base_vec_push(v, c);
}

static void gather_choices(struct tui *t, const struct dieset_quantity *q, choice_vec *v)
{
    if (q->type.sort == HANDBOOK_YESNO) {
        add_choice(v, base_copy("yes"), base_copy("yes"), NULL);
        add_choice(v, base_copy("no"), base_copy("no"), NULL);
    } else if (q->type.sort == HANDBOOK_CHOICE && q->property) {
        for (int i = 0; i < q->property->n_choices; i++)
            add_choice(v, base_copy(q->property->choices[i]), base_format("\"%s\"", q->property->choices[i]),
                       NULL);
    } else if (q->type.sort == HANDBOOK_ITEM) {
        for (int i = 0; i < dieset_item_count(t->d); i++)
            if (q->type.type.kind < 0 || dieset_item_kind(t->d, i) == q->type.type.kind)
                add_choice(v, base_copy(dieset_item_title(t->d, i)), base_copy(dieset_item_name(t->d, i)),
                           dieset_item_name(t->d, i));
    }
}

static void open_choices(struct tui *t, const struct dieset_quantity *q)
{
    choice_vec v = {0};
    char now[120], title[300];
    int at = 0;
    gather_choices(t, q, &v);
    dieset_print(t->d, dieset_find(t->d, q->path), t->state, now, sizeof now);
    for (size_t i = 0; i < v.count; i++)
        if (strcmp(v.at[i].label, now) == 0 || (q->text && strcmp(v.at[i].value, q->text) == 0))
            at = (int)i;
    if (q->typed && q->usual)
        add_choice(&v, base_copy("(usual)"), base_copy(""), q->usual);
    snprintf(title, sizeof title, "%s, now %s", q->path, now);
    if (v.count == 0) {
        tui_say(t, "there is nothing to choose from yet for %s", q->path);
        base_vec_done(&v);
        return;
    }
    choice_open(t, title, q->path, v.at, (int)v.count, at, choice_tried, choice_taken, choice_dropped);
}

static bool has_list(const struct dieset_quantity *v)
{
    return v->type.sort == HANDBOOK_YESNO || v->type.sort == HANDBOOK_CHOICE ||
           v->type.sort == HANDBOOK_ITEM ||
           (v->type.sort == HANDBOOK_TEXT && v->property && v->property->from_table);
}

void edit_open(struct tui *t, const char *path)
{
    int q = dieset_find(t->d, path);
    if (q < 0)
        return;
    const struct dieset_quantity *quantity = dieset_quantity(t->d, q);
    if (!quantity->can_type) {
        tui_say(t, "%s follows from other values and is not typed; w shows which", quantity->path);
        return;
    }
    if (!has_list(quantity))
        edit_open_field(t, path);
    else if (quantity->type.sort == HANDBOOK_TEXT)
        sizes_open(t, path);
    else
        open_choices(t, quantity);
}

/* ---- reasons ---- */

/* What the edit before did is told along: the question stood in the place of its message. */
static void reason_given(struct tui *t, const char *path, const char *text)
{
    struct base_diag why = {0};
    char *edit = t->reason_for.length ? base_format("%s; ", base_text_get(&t->reason_for)) : base_copy("");
    if (!*text)
        tui_say(t, "%sno reason given: it stays a note until there is one (^ gives it)", edit);
    else if (job_reason(t->job, path, text, &why) != BASE_OK)
        tui_complain(t, "%s", why.message);
    else if (edit_take(t) && *edit)
        tui_say(t, "%sbecause: %s. u takes the reason back", edit, text);
    free(edit);
    tui_changed(t);
}

void edit_ask_reason(struct tui *t, const char *path)
{
    static const char back[] = ". u takes it back";
    int q = dieset_find(t->d, path);
    const char *reason = q >= 0 ? dieset_quantity(t->d, q)->reason : NULL, *said = base_text_get(&t->message),
               *end = strstr(said, back);
    base_text_clear(&t->reason_for);
    if (strncmp(said, "taken: ", 7) == 0 && end)
        base_text_addf(&t->reason_for, "%.*s", (int)(end - said), said);
    ask_open(t, "typed over its formula, because: ", path, reason ? reason : "", reason_given);
}

/* ---- keys ---- */

void act_keep(struct tui *t)
{
    int q = form_quantity(t);
    if (q < 0)
        return;
    if (dieset_mark(t->d, q) != DIESET_TYPED_OVER) {
        tui_say(t, "%s is not typed over a formula", t->path);
        return;
    }
    base_text_clear(&t->message); /* of an edit before */
    edit_ask_reason(t, t->path);
}

void act_formula(struct tui *t)
{
    int q = form_quantity(t);
    if (q < 0)
        return;
    if (!dieset_quantity(t->d, q)->can_type)
        tui_say(t, "%s follows from other values and is not typed; w shows which", t->path);
    else
        edit_open_field(t, t->path);
}

/* What begins a value is typed in its place; where a list would open, a digit narrows that. */
void act_type_here(struct tui *t)
{
    int key = t->key, q = form_quantity(t);
    if (q < 0)
        return;
    const struct dieset_quantity *v = dieset_quantity(t->d, q);
    bool listed = v->can_type && has_list(v) && key >= '0' && key <= '9';
    if (listed)
        edit_open(t, t->path);
    else
        act_formula(t);
    struct level *l = tui_top(t);
    if (!l || !keys_begins_value(key))
        return;
    if (l->ops == &ops)
        field_set(((struct edit *)l)->field, "", 0);
    l->ops->event(t, l, &(struct terminal_event){.what = TERMINAL_KEY, .key = key});
}

void act_unset(struct tui *t)
{
    struct base_diag why = {0};
    if (form_quantity(t) < 0)
        return;
    if (job_unset(t->job, t->path, &why) != BASE_OK)
        tui_complain(t, "%s", why.message);
    else
        edit_take(t);
    tui_changed(t);
}

/* All that the open try would move, to be read; Esc comes back to the field. */
void act_moves(struct tui *t)
{
    if (!job_trying(t->job)) {
        tui_say(t, "nothing would move");
        return;
    }
    const struct job_outcome *o = job_outcome(t->job);
    char **lines = base_alloc((size_t)(o->n_moves + o->n_came + o->n_went + 1) * sizeof *lines);
    int n = 0;
    for (int i = 0; i < o->n_came; i++)
        lines[n++] = base_format("+%s  %s: %s", findings_mark(&o->came[i]), o->came[i].title,
                                 o->came[i].message);
    for (int i = 0; i < o->n_went; i++)
        lines[n++] = base_format("-%s  %s: %s", findings_mark(&o->went[i]), o->went[i].title,
                                 o->went[i].message);
    char **moves = move_lines(t, o);
    for (int i = 0; i < o->n_moves; i++)
        lines[n++] = moves[i];
    free(moves);
    char *title = base_format("not yet taken: %s", o->title);
    lines_open(t, title, lines, NULL, n);
    free(title);
}
