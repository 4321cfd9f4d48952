/* The findings bench. */

#include "bench.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void load(struct bench *b, const char *job)
{
    struct dieset_text t;
    ck_ok(dieset_text_read(b->h, job, "job", &t, why));
    ck_ok(dieset_new(b->h, NULL, &b->d, why));
    ck_ok(dieset_text_load(&t, b->d, why));
    b->f = findings_new(b->d);
    dieset_text_done(&t);
}

void bench_open_texts(struct bench *b, const char *const *texts, const char *const *names, int n,
                      const char *folder, const char *job)
{
    ck_ok(handbook_read(texts, names, n, folder, &b->h, why));
    load(b, job);
}

void bench_open(struct bench *b, const char *handbook, const char *folder, const char *job)
{
    const char *name = "handbook.txt";
    bench_open_texts(b, &handbook, &name, 1, folder, job);
}

void bench_open_shipped(struct bench *b, const char *file)
{
    char *job = read_text(file);
    ck_ok(handbook_load("data", &b->h, why));
    load(b, job);
    free(job);
}

void bench_open_on(struct bench *b, struct handbook *h, const char *file)
{
    char *job = read_text(file);
    b->h = h;
    load(b, job);
    free(job);
}

void bench_leave(struct bench *b)
{
    bench_drop(b);
    findings_free(b->f);
    dieset_free(b->d);
    *b = (struct bench){0};
}

void bench_close(struct bench *b)
{
    struct handbook *h = b->h;
    bench_leave(b);
    handbook_free(h);
    *b = (struct bench){0};
}

/* ---- edits --------------------------------------------------------------------------------- */

struct edits { BASE_VEC(struct typed_change) at; struct base_arena memory; };

static void change(struct edits *e, enum typed_what what, const char *item, const char *path,
                   const char *before, const char *after)
{
    struct base_arena *m = &e->memory;
    struct typed_change c = {what, base_arena_copy(m, item), base_arena_copy(m, path),
                             base_arena_copy(m, before), base_arena_copy(m, after)};
    base_vec_push(&e->at, c);
}

/* "posts.right_back.x" as the entry "lay/right_back/x"; what the die set does not know yet as it stands, "."
   as "/". */
static void change_value(struct bench *b, struct edits *e, const char *path, const char *text)
{
    char item[80], entry[160];
    int q = dieset_find(b->d, path);
    size_t n = strcspn(path, ".");
    snprintf(item, sizeof item, "%.*s", (int)n, path);
    snprintf(entry, sizeof entry, "%s", path[n] ? path + n + 1 : "");
    for (char *p = entry; *p; p++)
        if (*p == '.')
            *p = '/';
    change(e, TYPED_ENTRY, item,
           q >= 0 && dieset_quantity(b->d, q)->item >= 0 ? dieset_quantity(b->d, q)->entry : entry, NULL,
           *text ? text : NULL);
}

/* An item that an edit before it adds: that edit and all of it go. */
static void never_add(struct edits *e, const char *name)
{
    size_t kept = 0;
    for (size_t i = 0; i < e->at.count; i++)
        if (strcmp(e->at.at[i].item, name) != 0)
            e->at.at[kept++] = e->at.at[i];
    ck_assert_msg(kept < e->at.count, "there is no %s to be taken out", name);
    e->at.count = kept;
}

static void take_out(struct bench *b, struct edits *e, const char *name)
{
    const struct typed_entry *entries;
    int item = dieset_find_item(b->d, name);
    if (item < 0) {
        never_add(e, name);
        return;
    }
    int n = dieset_entries(b->d, item, &entries);
    for (int i = 0; i < n; i++)
        change(e, TYPED_ENTRY, name, entries[i].path, entries[i].text, NULL);
    change(e, TYPED_ITEM, name, "", handbook_kind(b->h, dieset_item_kind(b->d, item))->name, NULL);
}

static void change_factor(struct bench *b, struct edits *e, const char *words)
{
    char name[80];
    const char *rest = record_word(words, name, sizeof name);
    if (dieset_find_item(b->d, name) < 0)
        change(e, TYPED_ITEM, name, "", NULL, "factor");
    change(e, TYPED_ENTRY, name, "value", NULL, rest + 2);
}

static void one_edit(struct bench *b, struct edits *e, const char *words)
{
    char first[160], second[80];
    const char *rest = record_word(words, first, sizeof first);
    const char *behind = record_word(rest, second, sizeof second);
    if (strcmp(first, "+") == 0)
        change(e, TYPED_ITEM, behind, "", NULL, second);
    else if (strcmp(first, "-") == 0)
        take_out(b, e, second);
    else if (strcmp(first, "factor") == 0)
        change_factor(b, e, rest);
    else if (strcmp(second, "lay") == 0)
        change(e, TYPED_ENTRY, first, "lay", NULL, behind);
    else {
        ck_assert_msg(strcmp(second, "=") == 0, "'%s' is no edit", words);
        change_value(b, e, first, behind);
    }
}

void bench_try(struct bench *b, const char *words) { ck_ok(bench_may_try(b, words, why)); }

enum base_err bench_may_try(struct bench *b, const char *words, struct base_diag *why)
{
    enum base_err err = BASE_OK;
    struct edits e = {0};
    char *copy = base_copy(words), *place = NULL;
    for (char *one = strtok_r(copy, ";", &place); one; one = strtok_r(NULL, ";", &place))
        if (one[strspn(one, " ")])
            one_edit(b, &e, one + strspn(one, " "));
    if (e.at.count)
        err = dieset_try(b->d, e.at.at, (int)e.at.count, why);
    free(copy);
    base_vec_done(&e.at);
    base_arena_done(&e.memory);
    return err;
}

void bench_drop(struct bench *b)
{
    if (dieset_trying(b->d))
        dieset_drop(b->d);
}

/* ---- findings -------------------------------------------------------------------------------- */

const struct finding *bench_find(struct bench *b, const char *rule, const char *subject, double value)
{
    const struct finding *list, *best = NULL;
    int n = findings_judge(b->f, &list);
    char key[200];
    snprintf(key, sizeof key, "%s%s%s", rule, *subject ? " " : "", subject);
    for (int i = 0; i < n; i++) {
        const struct finding *x = &list[i];
        size_t length = strlen(key);
        bool fits = strncmp(x->key, key, length) == 0 && (x->key[length] == '\0' || x->key[length] == ' ');
        if (fits && (!best || (!isnan(value) && fabs(x->value - value) < fabs(best->value - value))))
            best = x;
    }
    return best;
}

char *bench_list(struct bench *b)
{
    const struct finding *list;
    struct base_text out = {0};
    int n = findings_judge(b->f, &list);
    for (int i = 0; i < n; i++)
        base_text_addf(&out, "%s %s %d %.9g %.9g %.9g %s\n", handbook_grade_text(list[i].grade), list[i].key,
                       (int)list[i].states, list[i].value, list[i].limit, list[i].margin, list[i].message);
    return base_text_take(&out);
}
