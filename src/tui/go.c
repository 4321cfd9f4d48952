/* tui/go.c - going to places, back and forward, and searching
 *
 * `visited` holds the places left behind; `spot` is where we are among them, equal to their count when at a
 * new place. What "/" found is walked in the order of its list.
 */

#include "tui/go.h"

#include "tui/act.h"
#include "tui/form.h"
#include "tui/found.h"
#include "tui/stack.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- places ---- */

void go_reset(struct tui *t)
{
    t->visits->spot = t->visits->seen = -1;
    t->visits->visited.count = 0;
}

static struct spot here(const struct tui *t)
{
    struct spot s = {.focus = t->focus, .swap = t->swap, .review = tui_level_of(t, AT_REVIEW) != NULL};
    snprintf(s.item, sizeof s.item, "%s", t->item);
    snprintf(s.path, sizeof s.path, "%s", t->path);
    return s;
}

static void show_item(struct tui *t, const char *item, const char *path)
{
    snprintf(t->item, sizeof t->item, "%s", item);
    snprintf(t->form->item, sizeof t->form->item, "%s", item);
    snprintf(t->path, sizeof t->path, "%s", path ? path : "");
    t->form->list = (struct list){0};
    stack_settle(t);
    form_settle(t);
}

/* The page of the job gives way to the item whose value it has not; what the plain form does not show either
 * is looked for among the details. */
static bool show_path(struct tui *t, const char *item, const char *path)
{
    t->form->page = t->form->page && path;
    show_item(t, item, path);
    if (t->form->page && strcmp(t->path, path) != 0) {
        t->form->page = false;
        show_item(t, item, path);
    }
    if (!path || strcmp(t->path, path) == 0)
        return true;
    t->form->all = true;
    show_item(t, item, path);
    return strcmp(t->path, path) == 0;
}

void go_remember(struct tui *t)
{
    struct spot was = here(t);
    struct visits *v = t->visits;
    if (v->spot >= 0 && (size_t)v->spot < v->visited.count)
        v->visited.count = (size_t)v->spot;
    base_vec_push(&v->visited, was);
    v->spot = (int)v->visited.count;
}

bool go_to(struct tui *t, const char *item, const char *path)
{
    int there = dieset_find_item(t->d, item);
    if (there < 0 || dieset_item_words(t->d, there))
        return false;
    /* they may be words of a level that is left */
    char *item_kept = base_copy(item), *path_kept = path ? base_copy(path) : NULL;
    go_remember(t);
    tui_clear(t);
    bool found = show_path(t, item_kept, path_kept);
    if (path)
        form_take_keys(t);
    else
        t->focus = PANE_STACK;
    free(item_kept);
    free(path_kept);
    return found;
}

bool go_to_form(struct tui *t, const char *item)
{
    bool found = go_to(t, item, NULL);
    if (found)
        form_take_keys(t);
    return found;
}

bool go_to_quantity(struct tui *t, int q)
{
    char item[80], path[PATH_MOST];
    const struct dieset_quantity *quantity = dieset_quantity(t->d, q);
    if (quantity->item < 0) {
        tui_say(t, "%s is a factor of the handbook: :set %s=... types over it", quantity->path,
                quantity->path);
        return false;
    }
    snprintf(item, sizeof item, "%s", dieset_item_name(t->d, quantity->item));
    snprintf(path, sizeof path, "%s", quantity->path);
    return go_to(t, item, path);
}

const char *go_value(struct tui *t)
{
    struct level *l = tui_top(t);
    if (l)
        return l->ops->path ? l->ops->path(t, l) : NULL;
    const struct finding *f = t->focus == PANE_FINDINGS ? found_here(t) : NULL;
    if (f && f->cause >= 0)
        return dieset_quantity(t->d, f->cause)->path;
    return *t->path ? t->path : NULL;
}

static void apply(struct tui *t, const struct spot *s)
{
    struct spot copy = *s;
    tui_clear(t);
    if (dieset_find_item(t->d, copy.item) < 0) {
        tui_say(t, "%s is no longer in the job", copy.item);
        return;
    }
    t->swap = copy.swap;
    t->focus = copy.focus;
    show_path(t, copy.item, copy.path);
    if (copy.review)
        tui_open(t, "review", "");
}

void act_back(struct tui *t)
{
    if (t->visits->spot <= 0) {
        tui_say(t, "this is the first place visited");
        return;
    }
    if ((size_t)t->visits->spot == t->visits->visited.count) {
        struct spot now = here(t);
        base_vec_push(&t->visits->visited, now);
    }
    t->visits->spot--;
    apply(t, &t->visits->visited.at[t->visits->spot]);
}

void act_forward(struct tui *t)
{
    if (t->visits->spot < 0 || (size_t)t->visits->spot + 1 >= t->visits->visited.count) {
        tui_say(t, "this is the last place visited");
        return;
    }
    t->visits->spot++;
    apply(t, &t->visits->visited.at[t->visits->spot]);
}

/* ---- searching ---- */

bool go_to_subject(struct tui *t, const char *subject)
{
    for (int i = 0; i < t->found->n; i++)
        if (strcmp(t->found->findings[i].key, subject) == 0) {
            tui_open(t, "finding", subject);
            return true;
        }
    int q = dieset_find(t->d, subject);
    if (q >= 0 ? go_to_quantity(t, q) : go_to(t, subject, NULL))
        return true;
    tui_say(t, "the job has no %s any more", subject);
    return false;
}

/* What is spoken of by a remark that was found, under words of its own. */
static bool go_to_remark(struct tui *t, int number, struct base_text *told)
{
    int n = review_remarks(t->d, NULL, 0);
    struct review_remark *all = base_alloc((size_t)(n + 1) * sizeof *all);
    review_remarks(t->d, all, n);
    const struct review_remark *r = &all[number];
    base_text_addf(told, "remark of %s: %s", r->by, r->says);
    tui_clear(t);
    bool there = go_to_subject(t, *r->finding ? r->finding : r->on_item);
    free(all);
    return there;
}

void go_to_hit(struct tui *t, const struct find_hit *h)
{
    struct base_text told = {0};
    bool there = true;
    t->visits->hit = *h;
    if (h->what == FIND_WORD) {
        tui_open(t, "words", handbook_word(dieset_handbook(t->d), h->number)->name);
        return;
    }
    if (h->what == FIND_REMARK) {
        there = go_to_remark(t, h->number, &told);
    } else if (h->what == FIND_ITEM) {
        base_text_add(&told, dieset_item_name(t->d, h->number));
        go_to(t, base_text_get(&told), NULL);
    } else {
        base_text_add(&told, dieset_quantity(t->d, h->number)->path);
        there = go_to_quantity(t, h->number);
    }
    find_vec places = {0};
    int at = -1, n = find_places(t->d, t->state, t->visits->search, &places);
    for (int i = 0; i < n; i++)
        if (places.at[i].what == h->what && places.at[i].number == h->number)
            at = i;
    if (there)
        tui_say(t, at < 0 ? "%s" : "%s   %d of %d with \"%s\"", base_text_get(&told), at + 1, n,
                t->visits->search);
    base_vec_done(&places);
    base_text_done(&told);
}

/* BY: 1 next, -1 last, from the place that was gone to last, in the order of the list. */
static void search_step(struct tui *t, int by)
{
    find_vec places = {0};
    int at = by > 0 ? -1 : 0;
    if (!*t->visits->search) {
        tui_say(t, "nothing has been searched for; / begins");
        return;
    }
    int n = find_places(t->d, t->state, t->visits->search, &places);
    for (int i = 0; i < n; i++)
        if (places.at[i].what == t->visits->hit.what && places.at[i].number == t->visits->hit.number)
            at = i;
    if (n)
        go_to_hit(t, &places.at[(at + by + n) % n]);
    else
        tui_complain(t, "no item and no value has \"%s\" in its name, title, formula or remarks",
                     t->visits->search);
    base_vec_done(&places);
}

void act_search_next(struct tui *t) { search_step(t, 1); }
void act_search_last(struct tui *t) { search_step(t, -1); }

void go_search(struct tui *t, const char *text)
{
    if (*text)
        snprintf(t->visits->search, sizeof t->visits->search, "%.*s",
                 (int)paint_fit(text, (int)sizeof t->visits->search / 4), text);
    t->visits->hit = (struct find_hit){.number = -1};
}

void go_keep_search(struct tui *t, const char *text)
{
    struct visits *v = t->visits;
    int from = 0;
    while (from < v->n_past && strcmp(v->past[from], text) != 0)
        from++;
    if (from == GO_PAST)
        from--;
    else if (from == v->n_past)
        v->n_past++;
    memmove(v->past[1], v->past[0], (size_t)from * sizeof v->past[0]);
    snprintf(v->past[0], sizeof v->past[0], "%.*s", (int)paint_fit(text, (int)sizeof v->past[0] / 4), text);
}
