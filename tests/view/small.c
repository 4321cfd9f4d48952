/* Die sets from record text, with edits before they are bound. */

#include "small.h"

#include "../common.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

const struct handbook *small_handbook(void)
{
    static struct handbook *h;
    if (!h) {
        char *text = read_text("tests/view/small-handbook.txt");
        const char *texts[] = {text}, *names[] = {"small-handbook.txt"};
        ck_ok(handbook_read(texts, names, 1, NULL, &h, why));
        free(text);
    }
    return h;
}

static void edit(struct dieset_text *l, const struct small_edit *e)
{
    if (!*e->path) {
        struct typed_item item = {e->text, e->item};
        base_vec_push(&l->items, item);
        return;
    }
    for (size_t i = 0; i < l->entries.count; i++) {
        struct typed_entry *at = &l->entries.at[i];
        if (strcmp(at->item, e->item) != 0 || strcmp(at->path, e->path) != 0)
            continue;
        at->text = e->text;
        return;
    }
    struct typed_entry added = {e->item, e->path, e->text};
    base_vec_push(&l->entries, added);
}

struct dieset *small_dieset(const struct handbook *h, const char *file, const struct small_edit *edits)
{
    struct dieset_text t;
    struct dieset *d = NULL;
    char *text = read_text(file);
    ck_ok(dieset_text_read(h, text, file, &t, why));
    for (; edits && edits->path; edits++)
        edit(&t, edits);
    ck_ok(dieset_new(h, NULL, &d, why));
    ck_ok(dieset_load(d, t.items.at, (int)t.items.count, t.entries.at, (int)t.entries.count, why));
    dieset_text_done(&t);
    free(text);
    return d;
}

void matches_kept(const char *text, const char *file)
{
    if (getenv("KEEP")) {
        FILE *f = fopen(file, "w");
        ck_assert_ptr_nonnull(f);
        fputs(text, f);
        fclose(f);
        return;
    }
    char *kept = read_text(file);
    ck_assert_msg(strcmp(text, kept) == 0, "%s differs; now it is\n%s", file, text);
    free(kept);
}
