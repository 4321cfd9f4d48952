/* The bench of the die sets. */

#include "bench.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum base_err bench_load(struct dieset *d, const char *text, struct base_diag *why)
{
    struct dieset_text t;
    enum base_err err = dieset_text_read(dieset_handbook(d), text, "job", &t, why);
    if (err)
        return err;
    err = dieset_text_load(&t, d, why);
    dieset_text_done(&t);
    return err;
}

static void open_empty(struct bench *b)
{
    char *book = read_text("tests/dieset/handbook.txt");
    const char *texts[] = {book}, *names[] = {"handbook.txt"};
    ck_ok(handbook_read(texts, names, 1, "tests/dieset", &b->h, why));
    free(book);
    ck_ok(dieset_new(b->h, NULL, &b->d, why));
}

void bench_open_text(struct bench *b, const char *text)
{
    open_empty(b);
    ck_ok(bench_load(b->d, text, why));
}

void bench_open_with(struct bench *b, const char *extra)
{
    char *job = read_text("tests/dieset/job.txt"), *text = base_format("%s\n%s", job, extra);
    bench_open_text(b, text);
    free(job);
    free(text);
}

void bench_open(struct bench *b) { bench_open_with(b, ""); }

void bench_close(struct bench *b)
{
    dieset_free(b->d);
    handbook_free(b->h);
}

const char *bench_refusal(const char *extra)
{
    static char message[1300];
    struct bench b;
    struct base_diag why = {0};
    open_empty(&b);
    char *job = read_text("tests/dieset/job.txt"), *text = base_format("%s\n%s", job, extra);
    ck_assert_int_ne(bench_load(b.d, text, &why), BASE_OK);
    snprintf(message, sizeof message, "%s", why.message);
    free(job);
    free(text);
    bench_close(&b);
    return message;
}

double bench_value(const struct bench *b, const char *path, enum dieset_state s)
{
    struct formula_value v = dieset_get(b->d, path, s);
    return v.error ? NAN : v.number;
}

enum base_err bench_try(struct bench *b, const char *item, const char *path, const char *text,
                        struct base_diag *why)
{
    struct typed_change c = {.what = TYPED_ENTRY, .item = item, .path = path, .after = text};
    return dieset_try(b->d, &c, 1, why);
}

void bench_set(struct bench *b, const char *item, const char *path, const char *text)
{
    ck_ok(bench_try(b, item, path, text, why));
    dieset_keep(b->d);
}

bool bench_hole(const struct bench *b, const char *plate, const char *item, const char *operation,
                enum dieset_state s, struct dieset_hole *out)
{
    int first, n = dieset_plate_holes(b->d, dieset_find_item(b->d, plate), &first);
    for (int i = first; i < first + n; i++) {
        dieset_hole(b->d, i, s, out);
        if (out->item == dieset_find_item(b->d, item) && strcmp(out->operation, operation) == 0)
            return true;
    }
    return false;
}

int bench_count_holes(const struct bench *b, const char *plate, const char *item, const char *operation)
{
    int first, count = 0, n = dieset_plate_holes(b->d, dieset_find_item(b->d, plate), &first);
    for (int i = first; i < first + n; i++) {
        struct dieset_hole h;
        dieset_hole(b->d, i, DIESET_NEW, &h);
        count += h.item == dieset_find_item(b->d, item) && strcmp(h.operation, operation) == 0;
    }
    return count;
}
