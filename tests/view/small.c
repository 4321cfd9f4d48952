/* Record text to items and entries, as the store would hand them over. */

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

struct load { BASE_VEC(struct store_item) items; BASE_VEC(struct store_entry) entries; struct base_arena memory; };

static void add_lines(struct load *l, const char *item, const char *prefix, const struct record *line)
{
    struct base_arena *m = &l->memory;
    for (; line; line = line->next) {
        const char *rest = line->rest[0] == '=' ? line->rest + 1 + strspn(line->rest + 1, " ") : line->rest;
        bool point = strcmp(line->key, "point") == 0;
        char *path = base_arena_format(m, "%s%s", prefix, point ? rest : line->key);
        struct store_entry e = {item, path, base_arena_copy(m, rest)};
        if (!point)
            base_vec_push(&l->entries, e);
        add_lines(l, item, base_arena_format(m, "%s/", path), line->child);
    }
}

static void edit(struct load *l, const struct small_edit *e)
{
    for (size_t i = 0; i < l->entries.count; i++) {
        struct store_entry *at = &l->entries.at[i];
        if (strcmp(at->item, e->item) != 0 || strcmp(at->path, e->path) != 0)
            continue;
        at->text = e->text;
        return;
    }
    struct store_entry added = {e->item, e->path, e->text};
    base_vec_push(&l->entries, added);
}

struct dieset *small_dieset(const struct handbook *h, const char *file, const struct small_edit *edits)
{
    struct load l = {0};
    struct record_document doc;
    char *text = read_text(file);
    ck_ok(record_read(text, strlen(text), file, &doc, why));
    for (const struct record *line = doc.first; line; line = line->next) {
        struct store_item item = {base_arena_copy(&l.memory, line->key), base_arena_copy(&l.memory, *line->rest ? line->rest : line->key)};
        base_vec_push(&l.items, item);
        add_lines(&l, item.name, "", line->child);
    }
    for (; edits && edits->path; edits++)
        edit(&l, edits);
    struct dieset *d = NULL;
    ck_ok(dieset_new(h, NULL, &d, why));
    ck_ok(dieset_load(d, l.items.at, (int)l.items.count, l.entries.at, (int)l.entries.count, why));
    base_vec_done(&l.items);
    base_vec_done(&l.entries);
    base_arena_done(&l.memory);
    record_done(&doc);
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
