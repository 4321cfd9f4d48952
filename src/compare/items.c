/* items.c - items that only one side has, places that differ, and what is typed differently */

#include "compare/compare.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

static enum compare_side other(enum compare_side s)
{
    return s == COMPARE_FIRST ? COMPARE_SECOND : COMPARE_FIRST;
}

static const char *kind_title(const struct dieset *d, int item)
{
    int kind = dieset_item_kind(d, item);
    return kind < 0 ? "factor" : handbook_kind(dieset_handbook(d), kind)->title;
}

/* Its place among those of its kind that both sides have, counted from 1, and how many there are: what was
 * added or taken out moves nothing. */
static int place_of(const struct dieset *d, int item, const struct dieset *beside, int *n)
{
    int place = 0;
    *n = 0;
    for (int i = 0; i < dieset_item_count(d); i++) {
        if (dieset_item_kind(d, i) != dieset_item_kind(d, item) ||
            dieset_find_item(beside, dieset_item_name(d, i)) < 0)
            continue;
        ++*n;
        place += i <= item;
    }
    return place;
}

static void compare_places(struct comparing *c, int first, int second)
{
    int n, m, a = place_of(c->d[COMPARE_FIRST], first, c->d[COMPARE_SECOND], &n);
    int b = place_of(c->d[COMPARE_SECOND], second, c->d[COMPARE_FIRST], &m);
    const char *kinds[] = {kind_title(c->d[COMPARE_FIRST], first), kind_title(c->d[COMPARE_SECOND], second)};
    bool same_kind = strcmp(kinds[0], kinds[1]) == 0;
    if (same_kind && a == b)
        return;
    char *left = same_kind ? base_format("%s %d of %d", kinds[0], a, n) : base_copy(kinds[0]);
    char *right = same_kind ? base_format("%s %d of %d", kinds[1], b, m) : base_copy(kinds[1]);
    comparing_add(c, COMPARE_ITEM, dieset_item_name(c->d[COMPARE_FIRST], first), left, right);
    free(left);
    free(right);
}

void comparing_items(struct comparing *c)
{
    for (enum compare_side s = COMPARE_FIRST; s < COMPARE_SIDES; s++)
        for (int i = 0; i < dieset_item_count(c->d[s]); i++) {
            const char *name = dieset_item_name(c->d[s], i);
            int there = dieset_find_item(c->d[other(s)], name);
            if (dieset_item_words(c->d[s], i))
                continue;
            if (there < 0)
                comparing_add_only(c, COMPARE_ITEM, name, s, kind_title(c->d[s], i));
            else if (s == COMPARE_FIRST)
                compare_places(c, i, there);
        }
}

/* ---- what is typed ------------------------------------------------------------------------- */

/* "lay/right_back/x" of posts -> "posts.right_back.x", as the value is called; a reason stands behind its
 * value's name. Yours to free(). */
static char *typed_name(const struct dieset *d, int item, const char *path)
{
    struct typed_path at = typed_path_read(path);
    const char *behind = at.detail == TYPED_REASON ? " reason" : "";
    char *entry = base_copy_n(path, *behind ? at.base : strlen(path)), *name = NULL;
    int first, count = dieset_item_quantities(d, item, &first);
    for (int q = first; q < first + count && !name; q++)
        if (strcmp(dieset_quantity(d, q)->entry, entry) == 0)
            name = base_format("%s%s", dieset_quantity(d, q)->path, behind);
    char *known = typed_known(dieset_item_name(d, item), entry);
    name = name ? name : base_format("%s%s", known, behind);
    free(known);
    free(entry);
    return name;
}

static bool in_word(char c)
{
    return c == '_' || c == '.' || (unsigned char)c >= 128 || isalnum((unsigned char)c);
}

/* TEXT from *AT on, past blanks that part nothing: those within quotes, and between two words, do. "34 mm" is
   "34mm". */
static char next_of(const char *text, size_t *at, bool *quoted)
{
    size_t n = strspn(text + *at, " ");
    if (n && !*quoted) {
        char before = *at ? text[*at - 1] : '\0', after = text[*at + n];
        bool parts = in_word(before) && in_word(after) &&
                     !(isdigit((unsigned char)before) && isalpha((unsigned char)after));
        *at += parts ? n - 1 : n;
    }
    char c = text[*at];
    *quoted = *quoted != (c == '"');
    *at += c != '\0';
    return c;
}

/* Blanks alone are no difference. */
static bool same_text(const char *a, const char *b)
{
    size_t at_a = 0, at_b = 0;
    bool quoted_a = false, quoted_b = false;
    for (;;) {
        char x = next_of(a, &at_a, &quoted_a), y = next_of(b, &at_b, &quoted_b);
        if (x != y || !x)
            return x == y;
    }
}

static void compare_entry(struct comparing *c, enum compare_side s, int item, const struct typed_entry *e)
{
    const struct dieset *beside = c->d[other(s)];
    int there = dieset_find_item(beside, dieset_item_name(c->d[s], item));
    const char *text = there < 0 ? NULL : dieset_entry(beside, there, e->path);
    if (text && (s == COMPARE_SECOND || same_text(text, e->text)))
        return; /* the same, or told from the first side */
    char *name = typed_name(c->d[s], item, e->path);
    if (text)
        comparing_add(c, COMPARE_TYPED, name, e->text, text);
    else
        comparing_add_only(c, COMPARE_TYPED, name, s, e->text);
    free(name);
}

void comparing_typed(struct comparing *c)
{
    for (enum compare_side s = COMPARE_FIRST; s < COMPARE_SIDES; s++)
        for (int i = 0; i < dieset_item_count(c->d[s]); i++) {
            const struct typed_entry *entries;
            int n = dieset_item_words(c->d[s], i) ? 0 : dieset_entries(c->d[s], i, &entries);
            for (int k = 0; k < n; k++)
                compare_entry(c, s, i, &entries[k]);
        }
}
