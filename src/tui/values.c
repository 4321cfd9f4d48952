/* tui/values.c - opening whatever types a value: its field, a list of choices, its sizes */

#include "tui/values.h"

#include "tui/act.h"
#include "tui/choice.h"
#include "tui/edits.h"
#include "tui/form.h"
#include "tui/marks.h"
#include "tui/tui.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

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
    if (!stands(t, path, c->value) && edit_try(t, path, c->value, &why) != BASE_OK)
        tui_complain(t, "%s", why.message);
    tui_changed(t);
}

static void choice_taken(struct tui *t, const char *path, const struct choice *c)
{
    struct base_diag why = {0};
    edit_drop(t); /* what stood before says whether a reason is asked for */
    tui_settle(t);
    bool over = edit_is_over(t, path);
    if (stands(t, path, c->value)) {
        form_go_down(t);
        return;
    }
    if (edit_try(t, path, c->value, &why) != BASE_OK) {
        tui_complain(t, "%s", why.message);
        tui_changed(t);
        return;
    }
    marks_took(t, path, c->value);
    bool taken = edit_take(t);
    tui_settle(t);
    if (taken)
        form_go_down(t);
    if (taken && over)
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
        tui_open(t, "sizes", path);
    else
        open_choices(t, quantity);
}

void act_formula(struct tui *t)
{
    int q = form_quantity(t);
    if (q < 0)
        return;
    if (!dieset_quantity(t->d, q)->can_type)
        tui_say(t, "%s follows from other values and is not typed; w shows which", t->path);
    else
        edit_open_formula(t, t->path);
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
    edit_empty_field(t);
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
