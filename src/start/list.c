/* The shelves of starts: what there is, and what each says of itself. */

#include "diewright/start.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>

const char start_usual[] = "spring-stripper";

/* ---- one file ------------------------------------------------------------------------------------- */

/* What the text says of itself; without a line of its own the title of its job. */
static void read_page(struct start_list *l, struct start *s, const struct record_document *doc)
{
    for (const struct record *r = doc->first; r; r = r->next) {
        if (strcmp(r->key, DIESET_START) == 0) {
            s->line = base_arena_copy(&l->memory, record_text(r, "line", ""));
            s->take = base_arena_copy(&l->memory, record_text(r, "take", ""));
            s->leave = base_arena_copy(&l->memory, record_text(r, "leave", ""));
            s->first = base_arena_copy(&l->memory, record_text(r, "first", ""));
        } else if (strcmp(r->key, DIESET_JOB) == 0 && !*s->line) {
            s->line = base_arena_copy(&l->memory, record_text(r, "title", ""));
            s->note = base_arena_copy(&l->memory, record_text(r, "note", ""));
        }
    }
}

static void read_start(struct start_list *l, const char *folder, enum start_shelf shelf, const char *file)
{
    struct base_diag why = {0};
    struct record_document doc;
    char *text = NULL;
    size_t length = 0;
    struct start s = {.shelf = shelf, .line = "", .take = "", .leave = "", .first = "", .note = ""};
    s.name = base_arena_copy_n(&l->memory, file, strlen(file) - strlen(".txt"));
    s.path = base_arena_format(&l->memory, "%s/%s", folder, file);
    if (base_read_file(s.path, &text, &length, &why) || record_read(text, length, s.path, &doc, &why)) {
        s.line = base_arena_format(&l->memory, "cannot be read: %s", why.message);
    } else {
        read_page(l, &s, &doc);
        record_done(&doc);
    }
    if (!*s.line)
        s.line = "says nothing of itself";
    free(text);
    base_vec_push(&l->at, s);
}

/* ---- all of them ---------------------------------------------------------------------------------- */

static int is_text(const struct dirent *e)
{
    size_t n = strlen(e->d_name);
    return n > 4 && e->d_name[0] != '.' && strcmp(e->d_name + n - 4, ".txt") == 0;
}

static void read_shelf(struct start_list *l, const char *folder, enum start_shelf shelf)
{
    struct dirent **found = NULL;
    int n = scandir(folder, &found, is_text, alphasort);
    for (int i = 0; i < n; i++) {
        read_start(l, folder, shelf, found[i]->d_name);
        free(found[i]);
    }
    free(found);
}

void start_list_read(const char *data, const char *own, struct start_list *out)
{
    static const char *const folders[START_SHELVES] = {NULL, "templates", "demo"};
    *out = (struct start_list){0};
    if (own)
        read_shelf(out, own, START_OWN);
    for (int s = START_SHIPPED; s < START_SHELVES; s++) {
        char *folder = base_format("%s/%s", data, folders[s]);
        read_shelf(out, folder, (enum start_shelf)s);
        free(folder);
    }
}

void start_list_done(struct start_list *l)
{
    base_vec_done(&l->at);
    base_arena_done(&l->memory);
}

const struct start *start_find(const struct start_list *l, const char *name)
{
    for (size_t i = 0; i < l->at.count; i++)
        if (strcmp(l->at.at[i].name, name) == 0)
            return &l->at.at[i];
    return NULL;
}

int start_page_text(const struct start *s, struct start_paragraph out[START_PARAGRAPHS])
{
    const struct start_paragraph all[START_PARAGRAPHS] = {{"take it for", s->take},
                                                          {"leave it for", s->leave},
                                                          {"put in first", s->first},
                                                          {"what it is", s->note}};
    int n = 0;
    for (int i = 0; i < START_PARAGRAPHS; i++)
        if (*all[i].text)
            out[n++] = all[i];
    return n;
}
