/* tui/go.c - going to places, back and forward, and searching
 *
 * `visited` holds the places left behind; `spot` is where we are among them, equal to their count when at a
 * new place. Searching walks all items and their values in the job's order, from the cursor on, and round
 * again.
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
    t->visits->spot = -1;
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

/* A value that the plain form does not show is looked for among the details. */
static bool show_path(struct tui *t, const char *item, const char *path)
{
    show_item(t, item, path);
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

static bool fits(const char *text, const char *word)
{
    return text && strcasestr(text, word) != NULL;
}

/* Is WORD one of the trade, here or elsewhere? */
static bool is_word(const struct tui *t, const char *word)
{
    const struct handbook *book = dieset_handbook(t->d);
    for (int i = 0; i < handbook_word_count(book); i++)
        if (fits(handbook_word(book, i)->name, word) || fits(handbook_word(book, i)->also, word))
            return true;
    return false;
}

/* Does a remark on SUBJECT, an item or a value, or on a finding of item SUBJECT, hold the word? */
static bool remark_fits(const struct tui *t, const char *subject, const char *word)
{
    int n = review_remarks(t->d, NULL, 0);
    bool found = false;
    if (!n)
        return false;
    struct review_remark *list = base_alloc((size_t)(n + 1) * sizeof *list);
    review_remarks(t->d, list, n);
    for (int i = 0; i < n && !found; i++) {
        const char *on = list[i].on_item;
        if (!fits(list[i].says, word) && !fits(list[i].by, word))
            continue;
        for (int k = 0; k < t->found->n && *list[i].finding; k++)
            if (t->found->findings[k].item >= 0 && strcmp(t->found->findings[k].key, list[i].finding) == 0)
                on = dieset_item_name(t->d, t->found->findings[k].item);
        found = strcmp(on, subject) == 0;
    }
    free(list);
    return found;
}

/* Is target N (item I, or value Q of it) one that the word fits? */
static bool item_fits(const struct tui *t, int i, const char *word)
{
    return fits(dieset_item_name(t->d, i), word) || fits(dieset_item_title(t->d, i), word);
}

static bool value_fits(const struct tui *t, int q, const char *word)
{
    const struct dieset_quantity *v = dieset_quantity(t->d, q);
    return fits(v->title, word) || fits(v->name, word) || fits(v->text, word) || fits(v->path, word);
}

struct target { int item, quantity; }; /* quantity -1: the item itself */
typedef BASE_VEC(struct target) target_vec;

static void gather(const struct tui *t, const char *word, target_vec *out, int *now)
{
    *now = -1;
    int here_item = dieset_find_item(t->d, t->item), here_q = t->focus == PANE_STACK ? -1 : form_quantity(t);
    for (int i = 0; i < dieset_item_count(t->d); i++) {
        int first, n = dieset_item_quantities(t->d, i, &first);
        if (dieset_item_words(t->d, i))
            continue;
        if (i == here_item && here_q < 0)
            *now = (int)out->count;
        bool whole = item_fits(t, i, word), said = remark_fits(t, dieset_item_name(t->d, i), word);
        if (whole || said)
            base_vec_push(out, ((struct target){i, -1}));
        for (int q = first; q < first + n; q++) {
            if (q == here_q)
                *now = (int)out->count;
            const char *name = dieset_quantity(t->d, q)->name;
            if (!dieset_shown(t->d, q))
                continue;
            if (whole ? fits(name, word) || fits(dieset_quantity(t->d, q)->title, word)
                      : value_fits(t, q, word) || remark_fits(t, dieset_quantity(t->d, q)->path, word))
                base_vec_push(out, ((struct target){i, q}));
        }
    }
}

/* How well the word fits: 0 it is the name, 1 a name begins with it, 2 a name or title holds it, 3 only a
   formula does. */
static int rank(const struct tui *t, const struct target *x, const char *word)
{
    size_t n = strlen(word);
    const struct dieset_quantity *q = x->quantity < 0 ? NULL : dieset_quantity(t->d, x->quantity);
    const char *name = q ? q->name : dieset_item_name(t->d, x->item),
               *title = q ? q->title : dieset_item_title(t->d, x->item);
    if (strcasecmp(name, word) == 0 || strcasecmp(title, word) == 0 || (q && strcasecmp(q->path, word) == 0))
        return 0;
    if (strncasecmp(name, word, n) == 0 || strncasecmp(title, word, n) == 0 ||
        (q && strncasecmp(q->path, word, n) == 0))
        return 1;
    return fits(name, word) || fits(title, word) || (q && fits(q->path, word)) ? 2 : 3;
}

/* The best fit, the nearest behind NOW among equals. */
static int best_target(const struct tui *t, const target_vec *all, int now, const char *word)
{
    int n = (int)all->count, best = now, best_rank = 4;
    for (int i = 0; i < n; i++) {
        int at = (now + i) % n, r = rank(t, &all->at[at], word);
        if (r < best_rank) {
            best = at;
            best_rank = r;
        }
    }
    return best;
}

static bool at_target(const struct tui *t, const struct target *x)
{
    if (strcmp(dieset_item_name(t->d, x->item), t->item) != 0)
        return false;
    return x->quantity < 0 ? t->focus == PANE_STACK
                           : t->focus != PANE_STACK && x->quantity == form_quantity(t);
}

/* BY: 1 next, -1 last, 0 a new search: the best fit first. */
static void search_step(struct tui *t, int by)
{
    target_vec all = {0};
    int now;
    if (!*t->visits->search) {
        tui_say(t, "nothing has been searched for; / begins");
        return;
    }
    gather(t, t->visits->search, &all, &now);
    int n = (int)all.count;
    if (n == 0) {
        tui_complain(t, "no item and no value has \"%s\" in its name, title, formula or remarks%s%s",
                     t->visits->search,
                     is_word(t, t->visits->search) ? "; it is a word of the trade: :words " : "",
                     is_word(t, t->visits->search) ? t->visits->search : "");
        return;
    }
    if (now < 0)
        now = 0;
    if (now >= n)
        now = 0;
    int at = by == 0  ? best_target(t, &all, now, t->visits->search)
             : by > 0 ? (now < n && at_target(t, &all.at[now]) ? now + 1 : now)
                      : now - 1;
    at = (at + n) % n;
    struct target x = all.at[at];
    char item[80], path[PATH_MOST] = "";
    snprintf(item, sizeof item, "%s", dieset_item_name(t->d, x.item));
    if (x.quantity >= 0)
        snprintf(path, sizeof path, "%s", dieset_quantity(t->d, x.quantity)->path);
    base_vec_done(&all);
    go_to(t, item, *path ? path : NULL);
    tui_say(t, "%s   %d of %d with \"%s\"", *path ? path : item, at + 1, n, t->visits->search);
}

void act_search_next(struct tui *t) { search_step(t, 1); }
void act_search_last(struct tui *t) { search_step(t, -1); }

static void look_for(struct tui *t, const char *text)
{
    if (*text)
        snprintf(t->visits->search, sizeof t->visits->search, "%.*s",
                 (int)paint_fit(text, (int)sizeof t->visits->search / 4), text);
}

void go_search(struct tui *t, const char *text)
{
    look_for(t, text);
    search_step(t, 0);
}

void go_found(struct tui *t, const char *text)
{
    target_vec all = {0};
    int now, n, at = -1;
    look_for(t, text);
    gather(t, t->visits->search, &all, &now);
    n = (int)all.count;
    for (int i = 0; i < n && at < 0; i++)
        at = at_target(t, &all.at[i]) ? i : -1;
    const char *where = t->focus == PANE_STACK ? t->item : t->path;
    if (at >= 0)
        tui_say(t, "%s   %d of %d with \"%s\"", where, at + 1, n, t->visits->search);
    else
        tui_say(t, "%s", where);
    base_vec_done(&all);
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
