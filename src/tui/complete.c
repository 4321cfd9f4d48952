/* tui/complete.c - see complete.h */

#include "tui/complete.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

struct fitting {
    const char *head;       /* what stands before the cursor */
    size_t length;
    char *shared;           /* what all found begin with */
    int n;
    struct base_text *words;
};

static void offer(struct fitting *f, const char *name, const char *after)
{
    if (strncmp(name, f->head, f->length) != 0)
        return;
    char *whole = base_format("%s%s", name, after);
    if (!f->shared) {
        f->shared = base_copy(whole);
    } else {
        size_t k = 0;
        while (f->shared[k] && f->shared[k] == whole[k])
            k++;
        f->shared[k] = '\0';
    }
    if (f->n < 40)
        base_text_addf(f->words, "%s%s", f->n ? "  " : "", whole);
    f->n++;
    free(whole);
}

static void offer_values(struct tui *t, struct fitting *f, int item, bool own)
{
    int first, n = dieset_item_quantities(t->d, item, &first);
    for (int q = first; q < first + n; q++)
        if (dieset_shown(t->d, q))
            offer(f, own ? dieset_quantity(t->d, q)->name : dieset_quantity(t->d, q)->path, "");
}

static void offer_all(struct tui *t, struct fitting *f, const char *item)
{
    const char *dot = memchr(f->head, '.', f->length);
    int own = item ? dieset_find_item(t->d, item) : -1;
    if (own >= 0)
        offer_values(t, f, own, true);
    if (dot) { /* values only of the item that is named already */
        char *name = base_copy_n(f->head, (size_t)(dot - f->head));
        int i = dieset_find_item(t->d, name);
        if (i >= 0)
            offer_values(t, f, i, false);
        free(name);
        return;
    }
    for (int i = 0; i < dieset_item_count(t->d); i++)
        if (dieset_item_kind(t->d, i) >= 0 && !dieset_item_words(t->d, i))
            offer(f, dieset_item_name(t->d, i), "");
    const struct handbook *h = dieset_handbook(t->d);
    for (int i = 0; i < handbook_factor_count(h); i++)
        offer(f, handbook_factor(h, i)->name, "");
    for (int i = 0; i < handbook_function_count(h) && f->length > 0; i++)
        offer(f, handbook_function(h, i)->f.name, "(");
}

bool complete_name(struct tui *t, struct field *field, const char *item, struct base_text *words)
{
    const char *text = field_text(field);
    int to = field_cursor(field), from = to;
    while (from > 0 &&
           (isalnum((unsigned char)text[from - 1]) || text[from - 1] == '_' || text[from - 1] == '.'))
        from--;
    struct fitting f = {.head = text + from, .length = (size_t)(to - from), .words = words};
    offer_all(t, &f, item);
    bool longer = f.shared && strlen(f.shared) > f.length;
    if (longer)
        field_replace(field, from, to, f.shared);
    if (f.n == 1)
        base_text_clear(words);
    if (f.n == 0)
        base_text_add(words, "no name of the job or the handbook begins so");
    free(f.shared);
    return longer;
}
