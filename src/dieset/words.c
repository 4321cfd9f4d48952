/* Texts of rooms above, bound here; order lines and events. */

#include "dieset/build.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- words ----------------------------------------------------------------------------------------- */

struct word { const char *text; struct formula_code *code; const char *as; int only; };
struct dieset_words { struct word *words; int n; };

void dieset_words_free(struct dieset_words *w)
{
    for (int i = 0; w && i < w->n; i++)
        formula_code_free(w->words[i].code);
    if (w)
        free(w->words);
    free(w);
}

enum base_err dieset_words_new(struct dieset *d, const struct handbook_template *t, int item, int plate,
                               enum dieset_state s, const struct dieset_block *block,
                               struct dieset_words **out, struct base_diag *why)
{
    struct dieset_words *w = base_alloc(sizeof *w);
    w->words = base_alloc((size_t)(t->n_pieces + 1) * sizeof *w->words);
    enum base_err err = BASE_OK;
    for (int i = 0; i < t->n_pieces && !err; i++) {
        struct word *word = &w->words[w->n++];
        *word = (struct word){.text = t->pieces[i].text, .as = t->pieces[i].as, .only = t->pieces[i].only};
        if (t->pieces[i].tree)
            err = dieset_compile(d, t->pieces[i].tree, item, plate, s, block, NULL, &word->code, why);
    }
    *out = err ? NULL : w;
    if (err)
        dieset_words_free(w);
    return err;
}

/* OTHER: what it must be told from, NaN: nothing. */
static void print_word(struct dieset *d, const struct word *w, struct formula_value v, double other,
                       struct base_text *out)
{
    char buf[400];
    struct formula_type t = formula_code_type(w->code);
    if (!v.error && w->as && t.sort == FORMULA_NUMBER)
        base_text_add(out, unit_print_in(v.number, other, w->as, buf, sizeof buf));
    else if (!v.error && t.sort == FORMULA_NUMBER)
        base_text_add(out, unit_print_apart(v.number, other, t.dim, d->now->system, -1, buf, sizeof buf));
    else if (!v.error && t.sort == FORMULA_ITEM)
        base_text_add(out, dieset_item_title(d, (int)v.number));
    else
        base_text_add(out, handbook_print(d->h, v, t, d->now->system, buf, sizeof buf));
}

/* Of what stands in one sentence with word I and has its dimension, the nearest that is another number;
   nothing counts as one. */
static double beside(const struct dieset_words *w, const struct formula_value *v, int i)
{
    double nearest = NAN;
    struct formula_type t = formula_code_type(w->words[i].code);
    if (v[i].error || t.sort != FORMULA_NUMBER)
        return NAN;
    for (int k = -1; k < w->n; k++) {
        struct formula_type other = k < 0              ? t
                                    : w->words[k].code ? formula_code_type(w->words[k].code)
                                                       : (struct formula_type){.sort = FORMULA_TEXT};
        double number = k < 0 ? 0 : v[k].number;
        bool same = other.sort == FORMULA_NUMBER && unit_same(other.dim, t.dim) && (k < 0 || !v[k].error);
        double off = fabs(number - v[i].number);
        if (same && off > 1e-9 * fmax(fabs(number), fabs(v[i].number)) &&
            !(off >= fabs(nearest - v[i].number)))
            nearest = number;
    }
    return nearest;
}

/* The values of W, and in SILENT which of its words are not told: conditions, and what stands under one that
 * does not hold. One that cannot be worked out leaves nothing out. Both are yours to free(). */
static struct formula_value *run_values(struct dieset *d, const struct dieset_words *w,
                                        const double *arguments, const unsigned char *errors, bool **silent)
{
    struct formula_value *v = base_alloc((size_t)(w->n + 1) * sizeof *v);
    *silent = base_alloc((size_t)(w->n + 1) * sizeof **silent);
    for (int i = 0; i < w->n; i++) {
        const struct word *word = &w->words[i];
        v[i] = word->code && !(*silent)[i] ? model_run(d->now->model, word->code, arguments, errors)
                                           : (struct formula_value){.error = word->code ? FORMULA_EMPTY : 0};
        for (int k = 1; word->only && !v[i].error && v[i].number == 0 && k <= word->only; k++)
            (*silent)[i + k] = true;
        (*silent)[i] = (*silent)[i] || word->only;
    }
    return v;
}

/* Prints W; true when one of its values is an error. */
static bool print_words(struct dieset *d, const struct dieset_words *w, const double *arguments,
                        const unsigned char *errors, struct base_text *out)
{
    bool broken = false, *silent;
    struct formula_value *v = run_values(d, w, arguments, errors, &silent);
    for (int i = 0; i < w->n; i++) {
        broken = broken || (v[i].error && (w->words[i].only || !silent[i]));
        if (silent[i])
            continue;
        if (w->words[i].code)
            print_word(d, &w->words[i], v[i], beside(w, v, i), out);
        else
            base_text_add(out, w->words[i].text);
    }
    free(v);
    free(silent);
    return broken;
}

void dieset_words_print(struct dieset *d, const struct dieset_words *w, const double *arguments,
                        const unsigned char *errors, struct base_text *out)
{
    print_words(d, w, arguments, errors, out);
}

/* --- evaluated at once ---------------------------------------------------------------------------------- */

/* TREE of ITEM in state S; ABSENT when there is none. What cannot be bound is an error: the handbook checked
   it. */
static struct formula_value run_tree(struct dieset *d, const struct formula_tree *tree, int item,
                                     enum dieset_state s, double absent)
{
    struct formula_type type;
    return tree ? dieset_run(d, tree, item, s, &type)
                : (struct formula_value){.number = absent, .origin = -1};
}

struct formula_value dieset_run(struct dieset *d, const struct formula_tree *tree, int item,
                                enum dieset_state s, struct formula_type *type)
{
    struct formula_code *code;
    *type = (struct formula_type){0};
    if (dieset_compile(d, tree, item, -1, s, NULL, NULL, &code, NULL) != BASE_OK)
        return (struct formula_value){.error = FORMULA_EMPTY, .origin = -1};
    struct formula_value v = model_run(d->now->model, code, NULL, NULL);
    *type = formula_code_type(code);
    formula_code_free(code);
    return v;
}

/* TEMPLATE of ITEM as text; *BROKEN is set when a value in it is an error. */
static void run_words(struct dieset *d, const struct handbook_template *t, int item, enum dieset_state s,
                      struct base_text *out, bool *broken)
{
    struct dieset_words *w;
    if (!t->n_pieces)
        return;
    if (dieset_words_new(d, t, item, -1, s, NULL, &w, NULL) != BASE_OK) {
        base_text_add(out, t->text);
        *broken = true;
        return;
    }
    if (print_words(d, w, NULL, NULL, out))
        *broken = true;
    dieset_words_free(w);
}

void dieset_say(struct dieset *d, const struct handbook_template *says, int item, struct base_text *out)
{
    struct dieset_words *w;
    if (dieset_words_new(d, says, item, -1, DIESET_NEW, NULL, &w, NULL) != BASE_OK)
        return;
    bool *silent;
    struct formula_value *v = run_values(d, w, NULL, NULL, &silent);
    for (int i = 0; i < w->n; i++)
        if (!silent[i] && (!w->words[i].code || v[i].error))
            base_text_add(out, v[i].error ? "?" : w->words[i].text);
        else if (!silent[i])
            print_word(d, &w->words[i], v[i], NAN, out);
    free(v);
    free(silent);
    dieset_words_free(w);
}

bool dieset_stamp(struct dieset *d, int item, struct base_text *out)
{
    int kind = dieset_item_kind(d, item);
    const struct handbook_kind *k = kind < 0 ? NULL : handbook_kind(d->h, kind);
    bool broken = false;
    if (!k || !k->stamp.n_pieces)
        return false;
    run_words(d, &k->stamp, item, DIESET_NEW, out, &broken);
    return true;
}

/* ---- cautions ---- */

typedef BASE_VEC(const struct handbook_caution *) caution_list;

static void add_caution(caution_list *list, const struct handbook_caution *c)
{
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->at[i]->text, c->text) == 0)
            return;
    base_vec_push(list, c);
}

static void mark_kind(const struct dieset *d, int item, bool *kinds)
{
    int kind = dieset_item_kind(d, item);
    if (kind >= 0)
        kinds[kind] = true;
}

static void mark_drilled(const struct dieset *d, int plate, bool *kinds)
{
    int first = 0, n = dieset_plate_holes(d, plate, &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(d, i, DIESET_NEW, &h);
        mark_kind(d, h.item, kinds);
    }
}

/* In the order of the handbook's kinds. */
int dieset_cautions(const struct dieset *d, int item, bool drilled, const struct handbook_caution ***out)
{
    caution_list list = {0};
    bool *kinds = base_alloc((size_t)handbook_kind_count(d->h) + 1);
    for (int i = 0; i < dieset_item_count(d); i++)
        if (item < 0 || i == item)
            mark_kind(d, i, kinds);
    if (item >= 0 && drilled)
        mark_drilled(d, item, kinds);
    add_caution(&list, handbook_caution(d->h, 0));
    for (int k = 0; k < handbook_kind_count(d->h); k++)
        for (int i = 0; kinds[k] && i < handbook_kind(d->h, k)->n_cautions; i++)
            add_caution(&list, &handbook_kind(d->h, k)->cautions[i]);
    for (int i = 1; i < handbook_caution_count(d->h); i++)
        add_caution(&list, handbook_caution(d->h, i));
    free(kinds);
    *out = list.at;
    return (int)list.count;
}

/* ---- what is not judged ---- */

typedef BASE_VEC(struct dieset_unjudged_line) unjudged_list;

static void add_unjudged(struct dieset *d, int item, const struct handbook_unjudged *u, unjudged_list *list)
{
    struct formula_value when = run_tree(d, u->when, item, DIESET_NEW, 1);
    struct base_text says = {0};
    if (!when.error && when.number == 0)
        return;
    dieset_say(d, &u->says, item, &says);
    for (size_t i = 0; i < list->count; i++)
        if (strcmp(list->at[i].text, base_text_get(&says)) == 0) {
            base_text_done(&says);
            return;
        }
    struct dieset_unjudged_line line = {base_text_take(&says), u->source};
    base_vec_push(list, line);
}

void dieset_unjudged(struct dieset *d, struct dieset_unjudged *out)
{
    unjudged_list list = {0};
    for (int k = 0; k < handbook_kind_count(d->h); k++)
        for (int i = 0; handbook_kind(d->h, k)->n_unjudged && i < dieset_item_count(d); i++)
            for (int u = 0; dieset_item_kind(d, i) == k && u < handbook_kind(d->h, k)->n_unjudged; u++)
                add_unjudged(d, i, &handbook_kind(d->h, k)->unjudged[u], &list);
    *out = (struct dieset_unjudged){list.at, (int)list.count};
}

void dieset_unjudged_free(struct dieset_unjudged *u)
{
    for (int i = 0; i < u->count; i++)
        free(u->at[i].text);
    free(u->at);
    *u = (struct dieset_unjudged){0};
}

/* ---- order lines --------------------------------------------------------------------------------------- */

/* Without the blanks that a text which is not filled in leaves at the end. */
static const char *kept_words(struct dieset *d, const struct handbook_template *t, int item,
                              struct base_arena *memory, bool *broken)
{
    struct base_text text = {0};
    run_words(d, t, item, DIESET_NEW, &text, broken);
    size_t n = text.length;
    while (n > 0 && text.data[n - 1] == ' ')
        n--;
    const char *kept = base_arena_copy_n(memory, base_text_get(&text), n);
    base_text_done(&text);
    return kept;
}

typedef BASE_VEC(struct dieset_order) order_list;

/* What a buyer says of a line that stands in the list already goes to that one. */
static bool buys_line(order_list *list, const struct dieset_order *line)
{
    for (size_t i = 0; i < list->count; i++) {
        struct dieset_order *o = &list->at[i];
        char *words = base_format("%s%s%s", o->designation, *o->size ? ", " : "", o->size);
        bool meant = strcmp(words, line->prices) == 0;
        free(words);
        if (!meant)
            continue;
        o->price = line->price;
        o->wanted = line->wanted;
        o->remark = line->remark;
        return true;
    }
    return false;
}

static void add_order(struct dieset *d, int item, const struct handbook_order *o, struct base_map *seen,
                      order_list *list, struct base_arena *memory)
{
    struct formula_value when = run_tree(d, o->when, item, DIESET_NEW, 1),
                         pieces = run_tree(d, o->pieces, item, DIESET_NEW, 1);
    struct formula_value mass = run_tree(d, o->mass, item, DIESET_NEW, 0);
    if (!when.error && when.number == 0)
        return;
    if (!when.error && !pieces.error && pieces.number <= 0)
        return;
    struct dieset_order line = {.item = item, .table = o->table ? o->table : ""};
    line.broken = when.error || pieces.error || mass.error;
    line.pieces = pieces.error ? 0 : pieces.number;
    line.mass = mass.error ? 0 : mass.number;
    line.designation = kept_words(d, &o->designation, item, memory, &line.broken);
    line.size = kept_words(d, &o->size, item, memory, &line.broken);
    line.material = kept_words(d, &o->material, item, memory, &line.broken);
    line.note = kept_words(d, &o->note, item, memory, &line.broken);
    line.raw = kept_words(d, &o->raw, item, memory, &line.broken);
    line.finish = kept_words(d, &o->finish, item, memory, &line.broken);
    line.hardness = kept_words(d, &o->hardness, item, memory, &line.broken);
    line.wanted = kept_words(d, &o->wanted, item, memory, &line.broken);
    line.remark = kept_words(d, &o->remark, item, memory, &line.broken);
    line.prices = kept_words(d, &o->prices, item, memory, &line.broken);
    line.used = dieset_item_name(d, item);
    struct formula_value spares = run_tree(d, o->spares, item, DIESET_NEW, 0),
                         price = run_tree(d, o->price, item, DIESET_NEW, NAN);
    line.spares = spares.error ? 0 : spares.number;
    line.price = price.error ? NAN : price.number;
    if (*line.prices && buys_line(list, &line))
        return;
    char *key = base_format("%s\n%s\n%s\n%s", line.designation, line.size, line.material, line.note);
    int at;
    if (!line.broken && base_map_get(seen, key, &at)) {
        struct dieset_order *kept = &list->at[at];
        kept->pieces += line.pieces;
        kept->spares += line.spares;
        kept->used = base_arena_format(memory, "%s, %s", kept->used, line.used);
    } else {
        if (!line.broken)
            base_map_put(seen, key, (int)list->count);
        base_vec_push(list, line);
    }
    free(key);
}

void dieset_orders(struct dieset *d, struct dieset_orders *out)
{
    *out = (struct dieset_orders){0};
    struct base_map seen = {0};
    order_list list = {0};
    for (int i = 0; i < dieset_item_count(d); i++) {
        if (dieset_item_kind(d, i) < 0)
            continue;
        const struct handbook_kind *k = handbook_kind(d->h, dieset_item_kind(d, i));
        for (int o = 0; o < k->n_orders; o++)
            add_order(d, i, &k->orders[o], &seen, &list, &out->memory);
    }
    base_map_done(&seen);
    out->at = list.at;
    out->count = (int)list.count;
}

void dieset_orders_free(struct dieset_orders *o)
{
    free(o->at);
    base_arena_done(&o->memory);
    *o = (struct dieset_orders){0};
}

/* Is the mass of ITEM more than nothing, and does the mass of the set hang on it? *ANY: it has one at all. */
static bool mass_counts(struct dieset *d, int item, int *room, bool *any)
{
    const struct model *m = dieset_model(d);
    const int whole = dieset_find(d, "stack.whole_mass");
    char *path = base_format("%s.mass", dieset_item_name(d, item));
    int q = dieset_find(d, path);
    free(path);
    *any = q >= 0 && dieset_number(d, item, "mass", DIESET_NEW) > 0;
    if (!*any || whole < 0)
        return false;
    int slot = dieset_quantity(d, q)->slot[DIESET_NEW], reads = 0;
    if (slot >= 0)
        model_reads(m, slot, &reads);
    int n = slot < 0 ? 0 : model_reach(m, slot, room);
    while (n > 0 && room[n - 1] != dieset_quantity(d, whole)->slot[DIESET_NEW])
        n--;
    /* A plain figure of the handbook stands in the sum as such, and nothing hangs on it: what the sum reads
       tells whether it is there. */
    const struct dieset_quantity *sum = dieset_quantity(d, whole);
    int stack = dieset_item_kind(d, sum->item);
    return n > 0 || (reads == 0 &&
                     handbook_sums(d->h, stack, handbook_find_property(handbook_kind(d->h, stack), sum->name),
                                   dieset_item_kind(d, item)));
}

static void add_uncounted(struct base_text *out, bool *any, const char *what, const char *title)
{
    base_text_addf(out, "%s%s", *any ? "; " : "", what);
    if (*title)
        base_text_addf(out, " (%s)", title);
    *any = true;
}

bool dieset_uncounted(struct dieset *d, struct base_text *out)
{
    int *room = base_alloc(((size_t)model_count(dieset_model(d)) + 1) * sizeof *room);
    bool *named = base_alloc((size_t)dieset_item_count(d) + 1), any = false, has;
    struct dieset_orders orders;
    dieset_orders(d, &orders);
    for (int i = 0; i < orders.count; i++) {
        const struct dieset_order *o = &orders.at[i];
        if (mass_counts(d, o->item, room, &has) && o->mass > 0)
            continue;
        named[o->item] = true;
        add_uncounted(out, &any, o->designation, dieset_item_title(d, o->item));
    }
    dieset_orders_free(&orders);
    for (int i = 0; i < dieset_item_count(d); i++)
        if (dieset_item_kind(d, i) >= 0 && !named[i] && !mass_counts(d, i, room, &has) && has)
            add_uncounted(out, &any, dieset_item_title(d, i), "");
    free(room);
    free(named);
    return any;
}

/* ---- events -------------------------------------------------------------------------------------------- */

static bool add_event(struct dieset *d, int item, const struct handbook_event *e, enum dieset_state s,
                      struct dieset_event *out)
{
    struct formula_value when = run_tree(d, e->when, item, s, 1), at = run_tree(d, e->at, item, s, 0);
    if (!when.error && when.number == 0)
        return false;
    *out = (struct dieset_event){.item = item,
                                 .at = at.error ? 0 : at.number,
                                 .broken = when.error || at.error};
    struct base_text title = {0};
    bool unread = false;
    run_words(d, &e->title, item, s, &title, &unread);
    snprintf(out->title, sizeof out->title, "%s", base_text_get(&title));
    base_text_done(&title);
    return true;
}

static bool happens_before(const struct dieset_event *a, const struct dieset_event *b)
{
    if (a->broken || b->broken)
        return !a->broken && b->broken;
    return a->at > b->at + DIESET_SAME_HEIGHT;
}

int dieset_events(struct dieset *d, enum dieset_state s, struct dieset_event *out, int room)
{
    int n = 0;
    for (int i = 0; i < dieset_item_count(d); i++) {
        if (dieset_item_kind(d, i) < 0)
            continue;
        const struct handbook_kind *k = handbook_kind(d->h, dieset_item_kind(d, i));
        for (int e = 0; e < k->n_events && n < room; e++) {
            struct dieset_event event;
            if (!add_event(d, i, &k->events[e], s, &event))
                continue;
            int at = n++;
            for (; at > 0 && happens_before(&event, &out[at - 1]); at--)
                out[at] = out[at - 1];
            out[at] = event;
        }
    }
    return n;
}
