/* The explore bench: loads record text as the job room does, only shorter. */

#include "explore.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct texts {
    BASE_VEC(struct store_item) items;
    BASE_VEC(struct store_entry) entries;
    struct base_arena memory;
};

static void add(struct texts *t, const char *item, const char *path, const char *text)
{
    struct base_arena *m = &t->memory;
    struct store_entry e = {base_arena_copy(m, item), base_arena_copy(m, path), base_arena_copy(m, text)};
    base_vec_push(&t->entries, e);
}

/* One line below an item, and what stands below it; a `point NAME` line counts as NAME. */
static void walk(struct texts *t, const char *item, const struct record *r, const char *above)
{
    char path[200], point[100];
    bool is_point = strcmp(r->key, "point") == 0;
    if (is_point)
        record_word(r->rest, point, sizeof point);
    snprintf(path, sizeof path, "%s%s%s", above, *above ? "/" : "", is_point ? point : r->key);
    if (!is_point)
        add(t, item, path, strncmp(r->rest, "= ", 2) == 0 ? r->rest + 2 : r->rest);
    for (const struct record *c = r->child; c; c = c->next)
        walk(t, item, c, path);
}

static void load(struct bench *b, const char *job)
{
    struct texts t = {0};
    struct record_document doc;
    ck_ok(record_read(job, strlen(job), "job", &doc, why));
    for (const struct record *r = doc.first; r; r = r->next) {
        char name[100];
        const char *rest = record_word(r->rest, name, sizeof name);
        struct store_item item = {base_arena_copy(&t.memory, r->key), base_arena_copy(&t.memory, *name ? name : r->key)};
        base_vec_push(&t.items, item);
        if (*rest == '=')
            add(&t, item.name, "value", rest + 2);
        for (const struct record *c = r->child; c; c = c->next)
            walk(&t, item.name, c, *rest == '=' ? "value" : "");
    }
    record_done(&doc);
    ck_ok(dieset_new(b->h, NULL, &b->d, why));
    ck_ok(dieset_load(b->d, t.items.at, (int)t.items.count, t.entries.at, (int)t.entries.count, why));
    b->f = findings_new(b->d);
    base_vec_done(&t.items);
    base_vec_done(&t.entries);
    base_arena_done(&t.memory);
}

static struct handbook *shipped;

void bench_open_handbook(void) { ck_ok(handbook_load("data", &shipped, why)); }

void bench_close_handbook(void)
{
    handbook_free(shipped);
    shipped = NULL;
}

void bench_open(struct bench *b, const char *job)
{
    b->h = shipped;
    char *text = read_text(job);
    load(b, text);
    free(text);
}

void bench_close(struct bench *b)
{
    findings_free(b->f);
    dieset_free(b->d);
    *b = (struct bench){0};
}

struct explore *bench_run(struct bench *b, const char *path, const char *from, const char *to, const char *step, const char *show,
                          enum explore_road road)
{
    enum { ROOM = 20 };
    int shown[ROOM];
    struct explore_ask ask;
    struct explore *x = NULL;
    ck_ok(explore_read(b->d, path, from, to, step, &ask, why));
    char *names = base_copy(show), *place = NULL;
    for (char *name = strtok_r(names, " ", &place); name; name = strtok_r(NULL, " ", &place)) {
        shown[ask.n_show] = dieset_find(b->d, name);
        ck_assert_msg(ask.n_show < ROOM && shown[ask.n_show] >= 0, "there is no %s", name);
        ask.n_show++;
    }
    free(names);
    ask.show = shown;
    ask.road = road;
    ck_ok(explore_run(b->f, &ask, &x, why));
    return x;
}
