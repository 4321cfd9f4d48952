/* tui/find.c - see find.h */

#include "tui/find.h"

#include "diewright/review.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

enum { EXACT, BEGINS, HOLDS, TOGETHER, INITIALS, INSIDE, IN_ORDER, NONE = -1 };

static bool holds(const char *text, const char *part, size_t n)
{
    char *copy = base_copy_n(part, n);
    bool any = text && strcasestr(text, copy);
    free(copy);
    return any;
}

/* Each blank-parted word of TEXT stands in one of the two. */
static bool together(const char *name, const char *title, const char *text)
{
    for (const char *at = text + strspn(text, " "); *at; at += strspn(at, " ")) {
        size_t n = strcspn(at, " ");
        if (!holds(name, at, n) && !holds(title, at, n))
            return false;
        at += n;
    }
    return *text;
}

static bool begins_word(const char *name, size_t i) { return i == 0 || !isalnum((unsigned char)name[i - 1]); }

/* PART begins a word of TEXT. */
static bool holds_word(const char *text, const char *part)
{
    for (const char *at = text; (at = strcasestr(at, part)); at++)
        if (begins_word(text, (size_t)(at - text)))
            return true;
    return false;
}

/* The letters of TEXT stand in NAME in order; with INITIALS each begins a word, and the first the first. */
static bool in_order(const char *name, const char *text, bool initials)
{
    size_t i = 0;
    for (const char *c = text; *c; c++) {
        int low = tolower((unsigned char)*c);
        while (name[i] && (tolower((unsigned char)name[i]) != low || (initials && !begins_word(name, i))))
            i++;
        if (!name[i] || (initials && c == text && i != 0))
            return false;
        i++;
    }
    return true;
}

int find_rank(const char *name, const char *title, const char *text)
{
    size_t n = strlen(text);
    title = title ? title : "";
    if (n && (strcasecmp(name, text) == 0 || strcasecmp(title, text) == 0))
        return EXACT;
    if (!n)
        return BEGINS;
    if (strncasecmp(name, text, n) == 0 || strncasecmp(title, text, n) == 0)
        return BEGINS;
    if (holds_word(name, text) || holds_word(title, text))
        return HOLDS;
    if (strchr(text, ' ') && together(name, title, text))
        return TOGETHER;
    if (n > 1 && in_order(name, text, true))
        return INITIALS;
    if (strcasestr(name, text) || strcasestr(title, text))
        return INSIDE;
    return n > 2 && in_order(name, text, false) ? IN_ORDER : NONE;
}

static void add(find_vec *out, enum find_what what, int number, int rank, bool detail)
{
    if (rank != NONE)
        base_vec_push(out, ((struct find_hit){what, number, rank, detail}));
}

/* A letter of the plan finds what it stands for. */
static bool is_letter_of(const struct dieset *d, int item, const char *text)
{
    int kind = dieset_item_kind(d, item);
    const struct handbook_kind *k = kind < 0 ? NULL : handbook_kind(dieset_handbook(d), kind);
    return k && k->letter && text[0] && !text[1] &&
           tolower((unsigned char)k->letter) == tolower((unsigned char)text[0]);
}

static void add_value(struct dieset *d, enum dieset_state state, int q, const char *text, find_vec *out)
{
    const struct dieset_quantity *v = dieset_quantity(d, q);
    char value[120];
    int rank = find_rank(v->path, v->title, text);
    if (!dieset_shown(d, q))
        return;
    if (v->name && strcasecmp(v->name, text) == 0)
        rank = EXACT;
    if (rank == NONE && v->text && strcasestr(v->text, text))
        rank = INSIDE;
    if ((rank == NONE || rank > INITIALS) && text[0] && text[1] &&
        strcasecmp(dieset_print(d, q, state, value, sizeof value), text) == 0)
        rank = HOLDS;
    add(out, FIND_VALUE, q, rank, !v->property || !v->property->plain);
}

static void add_items(struct dieset *d, enum dieset_state state, const char *text, find_vec *out)
{
    for (int i = 0; i < dieset_item_count(d); i++) {
        int first, n = dieset_item_quantities(d, i, &first);
        if (dieset_item_words(d, i))
            continue;
        add(out, FIND_ITEM, i,
            is_letter_of(d, i, text) ? BEGINS
                                     : find_rank(dieset_item_name(d, i), dieset_item_title(d, i), text),
            false);
        for (int q = first; q < first + n && text[0]; q++)
            add_value(d, state, q, text, out);
    }
}

static void add_remarks(struct dieset *d, const char *text, find_vec *out)
{
    int n = review_remarks(d, NULL, 0);
    struct review_remark *all = base_alloc((size_t)(n + 1) * sizeof *all);
    review_remarks(d, all, n);
    for (int i = 0; i < n; i++)
        if (text[0] &&
            (strcasestr(all[i].says, text) || strcasestr(all[i].by, text) || strcasestr(all[i].name, text)))
            add(out, FIND_REMARK, i, HOLDS, false);
    free(all);
}

static void add_words(const struct handbook *book, const char *text, find_vec *out)
{
    for (int i = 0; i < handbook_word_count(book) && text[0]; i++) {
        int rank = find_rank(handbook_word(book, i)->name, handbook_word(book, i)->also, text);
        add(out, FIND_WORD, i, rank > TOGETHER ? NONE : rank, false);
    }
}

static int compare(const void *a, const void *b)
{
    const struct find_hit *x = a, *y = b;
    int far_x = x->rank > TOGETHER ? x->rank : 0, far_y = y->rank > TOGETHER ? y->rank : 0;
    if (far_x != far_y)
        return far_x - far_y;
    if (x->what != y->what)
        return (int)x->what - (int)y->what;
    if (x->rank != y->rank)
        return x->rank - y->rank;
    return x->detail != y->detail ? (int)x->detail - (int)y->detail : x->number - y->number;
}

void find_all(struct dieset *d, enum dieset_state state, const char *text, find_vec *out)
{
    add_items(d, state, text, out);
    add_remarks(d, text, out);
    add_words(dieset_handbook(d), text, out);
    if (out->count)
        qsort(out->at, out->count, sizeof *out->at, compare);
}

int find_places(struct dieset *d, enum dieset_state state, const char *text, find_vec *out)
{
    size_t n = 0;
    find_all(d, state, text, out);
    for (size_t i = 0; i < out->count; i++)
        if (out->at[i].what != FIND_WORD)
            out->at[n++] = out->at[i];
    out->count = n;
    return (int)n;
}
