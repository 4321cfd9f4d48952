/* Edits that can be dropped.
 *
 * An edit of values alone is *fast*: the cells' formulas are compiled anew into the same model, inside its
 * preview. Anything that changes the build (items, order, references, choices, counts, where something
 * lays, whether a value is typed over, whether it hangs on the state) is bound *anew* into a second
 * build; the first waits unchanged for a drop.
 */

#include "dieset/build.h"

#include <stdlib.h>
#include <string.h>

static const size_t MOST_GARBAGE = 4 << 20; /* bytes of replaced texts that a build may carry */

/* ---- fast edits ---------------------------------------------------------------------------------- */

/* The cell that C changes when it is an edit of one value; NULL: of a remark. False when it must be bound
   anew. */
static bool fast_change(const struct build *b, const struct typed_change *c, struct cell **out)
{
    int item;
    *out = NULL;
    if (c->what != TYPED_ENTRY || !base_map_get(&b->item_names, c->item, &item))
        return false;
    if (is_text_path(b, item, c->path))
        return typed_is_reason(c->path) || b->items.at[item].kind >= 0;
    if (typed_path_read(c->path).place == TYPED_AT_LAY)
        return false;
    struct cell *cell = item_cell(b, item, c->path);
    *out = cell;
    if (!cell || !cell->can_type || cell->what == CELL_LINE || cell->folded[0] || cell->folded[1] ||
        handbook_settled(cell->type) || cell->type.type.sort == FORMULA_YESNO)
        return false;
    if (cell->what == CELL_VALUE || has_usual(b, cell))
        return cell->typed && c->after;
    /* an asked value may come and go */
    return !c->after || cell->usual || !cell->tree || !asks_usual(c->after);
}

static void save_item(struct dieset *d, int item)
{
    struct build *b = d->now;
    for (size_t i = 0; i < d->undo_items.count; i++)
        if (d->undo_items.at[i].item == item)
            return;
    const struct text_item *t = &b->texts.items.at[item];
    struct undo_item u = {.item = item,
                          .entries = b->items.at[item].entries,
                          .n_entries = b->items.at[item].n_entries,
                          .title = b->items.at[item].title};
    u.texts = *t;
    u.texts.entries.at = base_alloc((t->entries.room + 1) * sizeof *t->entries.at);
    if (t->entries.count)
        memcpy(u.texts.entries.at, t->entries.at, t->entries.count * sizeof *t->entries.at);
    base_vec_push(&d->undo_items, u);
}

static void save_cell(struct dieset *d, struct cell *c)
{
    for (size_t i = 0; i < d->undo_cells.count; i++)
        if (d->undo_cells.at[i].cell == c)
            return;
    struct undo_cell u = {.cell = c, .was = *c};
    base_vec_push(&d->undo_cells, u);
}

/* Compile the cell's formula in its states and give it to the model. False: this needs binding anew; an error
 * in *ERR stands whatever the way. */
static bool recompile(struct dieset *d, struct cell *c, enum base_err *err, struct base_diag *why)
{
    struct build *b = d->now;
    if (!c->parsed && !c->tree) { /* blank */
        *err = model_set_code(b->model, c->slot[0], NULL, why);
        return !*err && !c->stateful;
    }
    for (int s = 0; s < (c->stateful ? DIESET_STATES : 1); s++) {
        struct frame f;
        struct formula_code *code;
        *err = bind_compile(b, c, s, &f, &code, why);
        if (*err)
            return true;
        if (f.stateful != c->stateful) {
            formula_code_free(code);
            return false;
        }
        if (model_set_code(b->model, c->slot[s], code, why) != BASE_OK)
            return false; /* a circle: binding anew names it */
    }
    return true;
}

static bool edit_cell(struct dieset *d, struct cell *c, const char *text, enum base_err *err,
                      struct base_diag *why)
{
    struct build *b = d->now;
    save_cell(d, c);
    for (size_t i = 0; i < d->undo_cells.count; i++)
        if (d->undo_cells.at[i].cell == c && c->parsed && c->parsed != d->undo_cells.at[i].was.parsed)
            formula_tree_free(c->parsed);
    c->parsed = NULL;
    c->typed = text;
    b->failed = false;
    *err = bind_parse(b, c, why);
    return *err ? true : recompile(d, c, err, why);
}

static void refresh_item(struct dieset *d, int item)
{
    struct build *b = d->now;
    build_entries(b, item);
    b->items.at[item].title = build_title(b, item);
    const struct item *it = &b->items.at[item];
    for (int q = it->first_quantity; q < it->first_quantity + it->n_quantities; q++)
        quantity_refresh(b, q);
}

/* False: there is nothing to have a reason. */
static bool fast_reason(struct dieset *d, int item, const char *path, const char *text)
{
    char *base = base_copy_n(path, typed_path_read(path).base);
    struct cell *c = item_cell(d->now, item, base);
    free(base);
    if (!c)
        return false;
    save_cell(d, c);
    c->reason = text;
    return true;
}

static bool fast_apply(struct dieset *d, const struct typed_change *c, enum base_err *err,
                       struct base_diag *why)
{
    struct build *b = d->now;
    struct cell *cell;
    int item = -1;
    *err = BASE_OK;
    if (!fast_change(b, c, &cell))
        return false;
    base_map_get(&b->item_names, c->item, &item);
    save_item(d, item);
    texts_put(&b->texts, item, c->path, c->after);
    const char *text = texts_entry(&b->texts.items.at[item], c->path);
    if (cell)
        return edit_cell(d, cell, text, err, why);
    return !typed_is_reason(c->path) || fast_reason(d, item, c->path, text);
}

/* What has changed since the try was begun; yours to free(). NULL: nothing. */
static bool *fast_changed(const struct build *b)
{
    const int *slots;
    int n = model_preview_changes(b->model, &slots);
    bool *changed = n ? base_alloc((size_t)model_count(b->model) + 1) : NULL;
    for (int i = 0; i < n; i++)
        changed[slots[i]] = true;
    return changed;
}

/* Measures of the plates whose holes have moved, after those that formulas read. */
static void fast_measures(struct build *b)
{
    for (int pass = 0; pass < 2; pass++) {
        bool *changed = fast_changed(b);
        if (changed)
            build_measures(b, pass == 0, changed);
        free(changed);
    }
}

/* May a formula that was typed close a circle through a measure that formulas read? */
static bool fast_circle(struct dieset *d)
{
    struct formula_value ignored;
    bool any = false;
    for (size_t i = 0; i < d->undo_cells.count && !any; i++) {
        const struct cell *c = d->undo_cells.at[i].cell;
        const struct formula_code *code = c->slot[0] < 0 ? NULL : model_code(d->now->model, c->slot[0]);
        any = code && !formula_code_constant(code, &ignored);
    }
    return any && build_circle(d->now, NULL) != BASE_OK;
}

static void fast_drop(struct dieset *d)
{
    struct build *b = d->now;
    model_preview_drop(b->model);
    strip_stale(b);
    for (size_t i = 0; i < d->undo_cells.count; i++) {
        struct undo_cell *u = &d->undo_cells.at[i];
        if (u->cell->parsed && u->cell->parsed != u->was.parsed)
            formula_tree_free(u->cell->parsed);
        *u->cell = u->was;
    }
    for (size_t i = 0; i < d->undo_items.count; i++) {
        struct undo_item *u = &d->undo_items.at[i];
        free(b->texts.items.at[u->item].entries.at);
        b->texts.items.at[u->item] = u->texts;
        b->items.at[u->item].entries = u->entries;
        b->items.at[u->item].n_entries = u->n_entries;
        b->items.at[u->item].title = u->title;
        const struct item *it = &b->items.at[u->item];
        for (int q = it->first_quantity; q < it->first_quantity + it->n_quantities; q++)
            quantity_refresh(b, q);
    }
    d->undo_cells.count = d->undo_items.count = 0;
}

static void fast_keep(struct dieset *d)
{
    model_preview_keep(d->now->model);
    for (size_t i = 0; i < d->undo_cells.count; i++) {
        struct undo_cell *u = &d->undo_cells.at[i];
        if (u->was.parsed && u->was.parsed != u->cell->parsed)
            formula_tree_free(u->was.parsed);
    }
    for (size_t i = 0; i < d->undo_items.count; i++)
        base_vec_done(&d->undo_items.at[i].texts.entries);
    d->undo_cells.count = d->undo_items.count = 0;
}

/* True when the fast way has an answer: *ERR. */
static bool try_fast(struct dieset *d, const struct typed_change *changes, int n, enum base_err *err,
                     struct base_diag *why)
{
    struct build *b = d->now;
    if (b->texts.memory.bytes + b->memory.bytes > MOST_GARBAGE + b->garbage_floor)
        return false;
    struct cell *unused;
    for (int i = 0; i < n; i++)
        if (!fast_change(b, &changes[i], &unused))
            return false;
    model_preview_begin(b->model);
    bool answered = true;
    *err = BASE_OK;
    for (int i = 0; i < n && answered && !*err; i++)
        answered = fast_apply(d, &changes[i], err, why);
    if (!answered || *err) {
        fast_drop(d);
        return answered && n == 1; /* of several, a later one may mend what an earlier one broke */
    }
    if (fast_circle(d)) { /* binding anew names it */
        fast_drop(d);
        return false;
    }
    model_recalculate(b->model);
    fast_measures(b);
    if (base_given_up()) {
        fast_drop(d);
        *err = base_fail_given_up(why);
        return true;
    }
    for (size_t i = 0; i < d->undo_items.count; i++)
        refresh_item(d, d->undo_items.at[i].item);
    d->trying = TRY_FAST;
    return true;
}

static void show_anew(struct dieset *d, struct build *base, struct build *tried)
{
    d->was = base;
    d->now = tried;
    d->trying = TRY_ANEW;
    d->binding_was = d->binding;
    d->binding = ++d->bindings;
}

/* ---- a try like the last one that bound anew ----------------------------------------------------------- */

void spare_free(struct dieset *d)
{
    if (d->spare.build)
        build_free(d->spare.build);
    base_vec_done(&d->spare.changes);
    base_arena_done(&d->spare.memory);
    d->spare = (struct spare){0};
}

static const char *kept_text(struct spare *s, const char *text)
{
    return text ? base_arena_copy(&s->memory, text) : NULL;
}

static void remember(struct dieset *d, const struct typed_change *changes, int n)
{
    struct spare s = {0};
    for (int i = 0; i < n; i++)
        base_vec_push(&s.changes, ((struct typed_change){changes[i].what, kept_text(&s, changes[i].item),
                                                         kept_text(&s, changes[i].path),
                                                         kept_text(&s, changes[i].before),
                                                         kept_text(&s, changes[i].after)}));
    spare_free(d);
    d->spare = s;
}

static bool same_text(const char *a, const char *b)
{
    return a == b || (a && b && strcmp(a, b) == 0);
}

/* What no single value is: items that come, go and are renamed, their order, patterns. */
static const struct typed_change *next_large(const struct typed_change *at, const struct typed_change *end)
{
    while (at < end && at->what == TYPED_ENTRY && typed_path_read(at->path).place != TYPED_AT_LAY)
        at++;
    return at;
}

/* Behind an item that is taken out or renamed an entry is not what stands in the job without the try. */
static bool keeps_entries(const struct typed_change *c)
{
    return c->what != TYPED_NAME && (c->what != TYPED_ITEM || !c->before);
}

static bool same_large(const struct typed_change *a, int n_a, const struct typed_change *b, int n_b)
{
    const struct typed_change *end_a = a + n_a, *end_b = b + n_b;
    for (;; a++, b++) {
        a = next_large(a, end_a);
        b = next_large(b, end_b);
        if (a == end_a || b == end_b)
            return a == end_a && b == end_b;
        if (a->what != b->what || !keeps_entries(a) || !same_text(a->item, b->item) ||
            !same_text(a->path, b->path) || !same_text(a->before, b->before) ||
            !same_text(a->after, b->after))
            return false;
    }
}

/* What C's entry has after all of CHANGES; where none is of it, what it has without them. */
static const char *after_all(const struct build *b, const struct typed_change *changes, int n,
                             const struct typed_change *c)
{
    while (n-- > 0)
        if (changes[n].what == TYPED_ENTRY && strcmp(changes[n].item, c->item) == 0 &&
            strcmp(changes[n].path, c->path) == 0)
            return changes[n].after;
    int item = texts_find(&b->texts, c->item);
    return item < 0 ? NULL : texts_entry(&b->texts.items.at[item], c->path);
}

typedef BASE_VEC(struct typed_change) changes_vec;

/* What of LIST, one of the two, ends otherwise in the other one. */
static void add_differences(const struct dieset *d, const struct typed_change *list, int n_list,
                            const struct typed_change *changes, int n, changes_vec *out)
{
    const struct spare *s = &d->spare;
    for (int i = 0; i < n_list; i++) {
        bool told = list[i].what != TYPED_ENTRY;
        for (size_t k = 0; k < out->count && !told; k++)
            told = strcmp(out->at[k].item, list[i].item) == 0 && strcmp(out->at[k].path, list[i].path) == 0;
        const char *was = told ? NULL : after_all(d->now, s->changes.at, (int)s->changes.count, &list[i]),
                   *is = told ? NULL : after_all(d->now, changes, n, &list[i]);
        if (!same_text(was, is))
            base_vec_push(out, ((struct typed_change){TYPED_ENTRY, list[i].item, list[i].path, was, is}));
    }
}

/* In the build of the last such try all values that differ are edited. False: this needs binding anew. */
static bool try_spare(struct dieset *d, const struct typed_change *changes, int n, enum base_err *err,
                      struct base_diag *why)
{
    struct spare *s = &d->spare;
    changes_vec differ = {0};
    if (!s->build || !same_large(s->changes.at, (int)s->changes.count, changes, n))
        return false;
    add_differences(d, s->changes.at, (int)s->changes.count, changes, n, &differ);
    add_differences(d, changes, n, changes, n, &differ);
    struct build *base = d->now;
    d->now = s->build;
    *err = BASE_OK;
    bool is = !differ.count || try_fast(d, differ.at, (int)differ.count, err, why);
    base_vec_done(&differ);
    if (!is || *err) {
        d->now = base;
        d->trying = TRY_NONE;
        return is;
    }
    if (d->trying == TRY_FAST)
        fast_keep(d);
    s->build = NULL; /* shown */
    remember(d, changes, n);
    show_anew(d, base, d->now);
    return true;
}

/* ---- binding anew ------------------------------------------------------------------------------------ */

static enum base_err try_anew(struct dieset *d, const struct typed_change *changes, int n,
                              struct base_diag *why)
{
    struct texts texts;
    texts_copy(&texts, &d->now->texts);
    enum base_err err = BASE_OK;
    for (int i = 0; i < n && !err; i++)
        err = texts_apply(&texts, &changes[i], why);
    if (err) {
        texts_done(&texts);
        return err;
    }
    struct base_diag reason = {0};
    struct build *b = build_new(d, &texts, &reason);
    if (!b) {
        if (why)
            *why = reason;
        return reason.code ? reason.code : BASE_REFUSED;
    }
    remember(d, changes, n);
    show_anew(d, d->now, b);
    return BASE_OK;
}

enum base_err dieset_try(struct dieset *d, const struct typed_change *changes, int n, struct base_diag *why)
{
    enum base_err err;
    dieset_drop(d);
    d->moves.count = 0;
    if (try_fast(d, changes, n, &err, why) || try_spare(d, changes, n, &err, why))
        return err;
    spare_free(d);
    return try_anew(d, changes, n, why);
}

enum base_err dieset_try_tables(struct dieset *d, struct table_set *tables, struct base_diag *why)
{
    dieset_drop(d);
    struct table_set *was = d->tables;
    spare_free(d);
    d->tables = tables;
    enum base_err err = try_anew(d, NULL, 0, why);
    if (err)
        d->tables = was;
    else
        d->tables_was = was;
    return err;
}

bool dieset_trying(const struct dieset *d) { return d->trying != TRY_NONE; }

void dieset_keep(struct dieset *d)
{
    if (d->trying == TRY_FAST)
        fast_keep(d);
    if (d->trying == TRY_ANEW)
        build_free(d->was);
    spare_free(d);
    d->was = NULL;
    d->tables_was = NULL;
    d->trying = TRY_NONE;
    d->moves.count = 0;
}

void dieset_drop(struct dieset *d)
{
    if (d->trying == TRY_FAST)
        fast_drop(d);
    if (d->trying == TRY_ANEW) {
        if (d->tables_was)
            build_free(d->now);
        else
            d->spare.build = d->now;
        d->now = d->was;
        d->binding = d->binding_was;
    }
    d->was = NULL;
    if (d->tables_was)
        d->tables = d->tables_was;
    d->tables_was = NULL;
    d->trying = TRY_NONE;
    d->moves.count = 0;
}

/* -- what moved ------------------------------------------------------------------------------------------ */

static bool differs(struct formula_value a, struct formula_value b)
{
    return a.error != b.error || (!a.error && a.number != b.number);
}

static void add_move(struct dieset *d, int q, enum dieset_state s, struct formula_value was,
                     struct formula_value is)
{
    const struct cell *c = d->now->quantity_cells[q];
    if (!dieset_applies(d, q))
        return;
    struct dieset_move m = {c->path, s, c->stateful, c->type.type, was, is};
    base_vec_push(&d->moves, m);
}

static void fast_moves(struct dieset *d)
{
    struct model *m = d->now->model;
    const int *slots;
    int n = model_preview_changes(m, &slots);
    bool *told = base_alloc((size_t)d->now->n_quantities + 1);
    for (int i = 0; i < n; i++) {
        enum dieset_state s;
        int q = dieset_of_slot(d, slots[i], &s);
        if (q < 0 || told[q])
            continue;
        int slot = d->now->quantity_cells[q]->slot[0];
        if (!differs(model_preview_old(m, slot), model_value(m, slot)))
            slot = slots[i]; /* in the ground state only */
        else
            s = DIESET_NEW;
        struct formula_value was = model_preview_old(m, slot), is = model_value(m, slot);
        if (!differs(was, is))
            continue;
        told[q] = true;
        add_move(d, q, s, was, is);
    }
    free(told);
}

/* An item's number of the build before in the present one, so that values can be compared. */
static struct formula_value translated(const struct dieset *d, const struct cell *c, struct formula_value v)
{
    int now;
    if (c->type.type.sort != FORMULA_ITEM || v.error)
        return v;
    const char *name = d->was->items.at[(int)v.number].name;
    v.number = base_map_get(&d->now->item_names, name, &now) ? now : -1;
    return v;
}

static bool same_type(const struct cell *a, const struct cell *b)
{
    return a->type.type.sort == b->type.type.sort && unit_same(a->type.type.dim, b->type.type.dim);
}

static void anew_move(struct dieset *d, int q)
{
    int before;
    const struct cell *c = d->now->quantity_cells[q];
    if (!base_map_get(&d->was->paths, c->path, &before))
        return;
    const struct cell *old = d->was->quantity_cells[before];
    if (!same_type(c, old))
        return;
    for (int s = 0; s < DIESET_STATES; s++) {
        struct formula_value was = translated(d, old, cell_outcome(d->was, old, (enum dieset_state)s));
        struct formula_value is = cell_outcome(d->now, c, (enum dieset_state)s);
        if (differs(was, is)) {
            add_move(d, q, (enum dieset_state)s, was, is);
            return;
        }
    }
}

/* Slots are made in the order in which they are computed: by slot is by rank. */
static int by_slot(const void *a, const void *b)
{
    struct cell *const *x = a, *const *y = b;
    return ((*x)->slot[0] > (*y)->slot[0]) - ((*x)->slot[0] < (*y)->slot[0]);
}

static void anew_moves(struct dieset *d)
{
    const struct build *b = d->now;
    struct cell **order = base_alloc((size_t)(b->n_quantities + 1) * sizeof *order);
    if (b->n_quantities) {
        memcpy(order, b->quantity_cells, (size_t)b->n_quantities * sizeof *order);
        qsort(order, (size_t)b->n_quantities, sizeof *order, by_slot);
    }
    for (int i = 0; i < b->n_quantities; i++)
        anew_move(d, order[i]->quantity);
    free(order);
}

int dieset_moves(struct dieset *d, const struct dieset_move **moves)
{
    d->moves.count = 0;
    if (d->trying == TRY_FAST)
        fast_moves(d);
    if (d->trying == TRY_ANEW)
        anew_moves(d);
    *moves = d->moves.at;
    return (int)d->moves.count;
}
