/* Loading: files in the order of their names, kinds' names first, then all records, then the check. */

#include "handbook/book.h"
#include "handbook/shipped.h" /* written by the build, from data/handbook */

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct handbook *new_handbook(const char *folder)
{
    struct handbook *h = base_alloc(sizeof *h);
    h->pool = base_pool_new();
    h->tables = table_set_new(h->pool);
    h->folder = base_arena_copy(&h->memory, folder);
    return h;
}

void handbook_free(struct handbook *h)
{
    if (!h)
        return;
    for (size_t i = 0; i < h->spots.count; i++)
        formula_tree_free(h->spots.at[i].tree);
    for (size_t i = 0; i < h->documents.count; i++)
        record_done(&h->documents.at[i]);
    struct base_map *maps[] = {&h->factor_names, &h->function_names, &h->pattern_names,
                               &h->kind_names,   &h->rule_names,     &h->example_names};
    for (size_t i = 0; i < COUNT_OF(maps); i++)
        base_map_done(maps[i]);
    base_vec_done(&h->documents);
    base_vec_done(&h->texts);
    base_vec_done(&h->spots);
    base_vec_done(&h->factors);
    base_vec_done(&h->functions);
    base_vec_done(&h->patterns);
    base_vec_done(&h->kinds);
    base_vec_done(&h->papers);
    base_vec_done(&h->chains);
    base_vec_done(&h->rules);
    base_vec_done(&h->examples);
    base_vec_done(&h->works);
    base_vec_done(&h->sources);
    base_vec_done(&h->cited);
    base_vec_done(&h->cautions);
    base_vec_done(&h->words);
    base_vec_done(&h->differences);
    base_vec_done(&h->aparts);
    table_set_free(h->tables);
    base_pool_free(h->pool);
    base_arena_done(&h->memory);
    free(h);
}

static void note_kinds(struct handbook *h, const struct record *first)
{
    for (const struct record *c = first; c; c = c->next) {
        char name[80];
        record_word(c->rest, name, sizeof name);
        if (strcmp(c->key, "kind") != 0 || base_map_get(&h->kind_names, name, NULL))
            continue;
        base_map_put(&h->kind_names, name, (int)h->kinds.count);
        base_vec_push(&h->kinds, ((struct handbook_kind){.name = base_arena_copy(&h->memory, name)}));
    }
}

/* In this order: what comes later may name what came before. */
static const struct { const char *key; void (*read)(struct book_reader *r, const struct record *at);
} record_readers[] = {
    {"work", book_read_work},     {"word", book_read_word},         {"factor", book_read_factor},
    {"table", book_read_table},   {"function", book_read_function}, {"pattern", book_read_pattern},
    {"kind", book_read_kind},     {"paper", book_read_paper},       {"rule", book_read_rule},
    {"example", book_read_example}, {"differ", book_read_differ},   {"caution", book_read_caution},
    {"chain", book_read_chain},
};

static void refuse_unknown(struct book_reader *r, const struct record *first)
{
    struct base_text all = {0};
    for (size_t i = 0; i < COUNT_OF(record_readers); i++)
        base_text_addf(&all, "%s%s", i ? ", " : "", record_readers[i].key);
    for (const struct record *c = first; c && !r->failed; c = c->next) {
        size_t i = 0;
        while (i < COUNT_OF(record_readers) && strcmp(record_readers[i].key, c->key) != 0)
            i++;
        if (i == COUNT_OF(record_readers))
            book_refuse(r, c, "\"%s\" is no record of a handbook; there are %s.", c->key,
                        base_text_get(&all));
    }
    base_text_done(&all);
}

enum base_err handbook_check(struct handbook *h, struct base_diag *why)
{
    struct book_reader r = {.h = h, .why = why};
    for (size_t i = 0; i < h->spots.count; i++)
        if (formula_parse_now(h->spots.at[i].tree, why) != BASE_OK) {
            book_show(h, h->spots.at[i].file, h->spots.at[i].line, why);
            return BASE_REFUSED;
        }
    book_check_names(&r);
    return r.failed ? BASE_REFUSED : book_check(h, why);
}

/* With CHECKED, the build has checked these very texts: only what the check finds out is worked out. */
static enum base_err read_all(struct handbook *h, bool checked, struct base_diag *why)
{
    struct book_reader r = {.h = h, .checked = checked, .why = why};
    for (size_t i = 0; i < h->documents.count; i++)
        note_kinds(h, h->documents.at[i].first);
    for (size_t i = 0; i < h->documents.count && !r.failed; i++) {
        r.file = h->documents.at[i].name;
        refuse_unknown(&r, h->documents.at[i].first);
    }
    for (size_t k = 0; k < COUNT_OF(record_readers); k++)
        for (size_t i = 0; i < h->documents.count && !r.failed; i++) {
            r.file = h->documents.at[i].name;
            for (const struct record *c = h->documents.at[i].first; c && !r.failed; c = c->next)
                if (strcmp(c->key, record_readers[k].key) == 0)
                    record_readers[k].read(&r, c);
        }
    /* data of a shop's own from before there were such records must not be without these words */
    if (!r.failed && !h->cautions.count)
        base_vec_push(&h->cautions, ((struct handbook_caution){
                                        .text = "Local codes and the licensed person decide.", .seen = ""}));
    if (!r.failed) {
        book_table_sources(h);
        book_gather_cited(h);
    }
    if (r.failed)
        return BASE_REFUSED;
    return checked ? book_tell_lets(h, why) : handbook_check(h, why);
}

static enum base_err read_texts(const char *const *texts, const char *const *names, int n, const char *folder,
                                uint64_t sum, bool checked, struct handbook **out, struct base_diag *why)
{
    struct base_diag unheard = {0};
    struct handbook *h = new_handbook(folder);
    enum base_err err = BASE_OK;
    *out = NULL;
    if (!why)
        why = &unheard;
    for (int i = 0; i < n && !err; i++) {
        struct record_document doc;
        err = record_read(texts[i], strlen(texts[i]), names[i], &doc, why);
        if (!err) {
            base_vec_push(&h->documents, doc);
            base_vec_push(&h->texts, texts[i]);
        }
    }
    h->sum = sum;
    if (!err)
        err = read_all(h, checked, why);
    base_vec_done(&h->texts); /* the caller's */
    if (err) {
        handbook_free(h);
        return err;
    }
    *out = h;
    return BASE_OK;
}

uint64_t handbook_own_sum(const struct handbook *h) { return h->sum; }

enum base_err handbook_read(const char *const *texts, const char *const *names, int n, const char *folder,
                            struct handbook **out, struct base_diag *why)
{
    return read_texts(texts, names, n, folder, handbook_sum(texts, n), false, out, why);
}

static int ends_in_txt(const struct dirent *e)
{
    size_t n = strlen(e->d_name);
    return n > 4 && e->d_name[0] != '.' && strcmp(e->d_name + n - 4, ".txt") == 0;
}

enum base_err handbook_load(const char *folder, struct handbook **out, struct base_diag *why)
{
    *out = NULL;
    char *path = base_format("%s/handbook", folder);
    struct dirent **found = NULL;
    int n = scandir(path, &found, ends_in_txt, alphasort);
    enum base_err err = BASE_OK;
    if (n <= 0)
        err = base_fail(why, BASE_UNREADABLE,
                        "There is no handbook in %s; say where it is with --data FOLDER.", path);
    int read = 0;
    char **texts = base_alloc((size_t)(n > 0 ? n : 1) * sizeof *texts),
         **names = base_alloc((size_t)(n > 0 ? n : 1) * sizeof *names);
    for (; read < n && !err; read++) {
        char *file = base_format("%s/%s", path, found[read]->d_name);
        names[read] = base_copy(found[read]->d_name);
        size_t length = 0;
        err = base_read_file(file, &texts[read], &length, why);
        if (!err && strlen(texts[read]) != length)
            err = base_fail(why, BASE_REFUSED, "%s is no text: there is a zero byte in it.", names[read]);
        free(file);
    }
    uint64_t sum = err ? 0 : handbook_sum((const char *const *)texts, n);
    if (!err)
        err = read_texts((const char *const *)texts, (const char *const *)names, n, folder, sum,
                         sum == SHIPPED_SUM, out, why);
    for (int i = 0; i < n; i++) {
        if (i < read) {
            free(texts[i]);
            free(names[i]);
        }
        free(found[i]);
    }
    free(found);
    free(texts);
    free(names);
    free(path);
    return err;
}
