/* The job bench. */

#include "bench.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

struct handbook *bench_handbook;

void bench_open_handbook(void) { ck_ok(job_open_handbook("data", &bench_handbook, why)); }

void bench_close_handbook(void)
{
    handbook_free(bench_handbook);
    bench_handbook = NULL;
}

struct job *bench_text(const char *text)
{
    struct job *j;
    ck_ok(job_from_text(bench_handbook, text, "text", &j, why));
    return j;
}

struct job *bench_file(const char *file)
{
    char *text = read_text(file);
    struct job *j;
    ck_ok(job_from_text(bench_handbook, text, file, &j, why));
    free(text);
    return j;
}

struct job *bench_disk(const char *folder, const char *name, const char *file, char **path)
{
    char *text = read_text(file);
    struct job *j;
    *path = base_format("%s/%s.diejob", folder, name);
    ck_ok(job_create(bench_handbook, *path, text, file, &j, why));
    free(text);
    return j;
}

void bench_take(struct job *j) { ck_ok(job_take(j, why)); }

void bench_set(struct job *j, const char *path, const char *formula)
{
    ck_ok(job_set(j, path, formula, why));
    bench_take(j);
}

double bench_number(struct job *j, const char *path, enum dieset_state s)
{
    struct formula_value v = dieset_get(job_dieset(j), path, s);
    ck_assert_msg(!v.error, "%s: %s", path, formula_error_text((enum formula_error)v.error));
    return v.number;
}

const char *bench_print(struct job *j, const char *path)
{
    static char buf[80];
    int q = dieset_find(job_dieset(j), path);
    ck_assert_msg(q >= 0, "there is no %s", path);
    return dieset_print(job_dieset(j), q, DIESET_NEW, buf, sizeof buf);
}

char *bench_values(struct job *j)
{
    struct dieset *d = job_dieset(j);
    struct base_text out = {0};
    for (int q = 0; q < dieset_quantity_count(d); q++) {
        const struct dieset_quantity *quantity = dieset_quantity(d, q);
        if (strncmp(quantity->entry, "outline/", 8) == 0)
            continue; /* a line is its own text, which the dump tells */
        base_text_add(&out, quantity->path);
        for (int s = 0; s < DIESET_STATES; s++) {
            struct formula_value v = dieset_value(d, q, (enum dieset_state)s);
            if (v.error)
                base_text_addf(&out, " %s", formula_error_text((enum formula_error)v.error));
            else if (quantity->type.type.sort == FORMULA_TEXT)
                base_text_addf(&out, " \"%s\"", base_pool_text(handbook_pool(bench_handbook), (int)v.number));
            else
                base_text_addf(&out, " %.17g", v.number);
        }
        base_text_add(&out, "\n");
    }
    return base_text_take(&out);
}

static char *findings_of(struct job *j)
{
    const struct finding *list;
    struct base_text out = {0};
    int n = findings_list(job_findings(j), &list);
    for (int i = 0; i < n; i++)
        base_text_addf(&out, "%s %s: %s\n", handbook_grade_text(list[i].grade), list[i].key, list[i].message);
    return base_text_take(&out);
}

static void same_lines(const char *what, const char *a, const char *b)
{
    size_t i = 0;
    while (a[i] && a[i] == b[i])
        i++;
    size_t from = i;
    while (from > 0 && a[from - 1] != '\n')
        from--;
    ck_assert_msg(strcmp(a, b) == 0, "%s differ:\n%.200s\n--- and freshly loaded:\n%.200s", what, a + from,
                  b + from);
}

void bench_same_when_fresh(struct job *j)
{
    char *dump = job_dump(j), *values = bench_values(j), *findings = findings_of(j);
    struct job *fresh;
    ck_ok(job_from_text(bench_handbook, dump, "dump", &fresh, why));
    char *dump_2 = job_dump(fresh), *values_2 = bench_values(fresh), *findings_2 = findings_of(fresh);
    same_lines("texts", dump, dump_2);
    same_lines("values", values, values_2);
    same_lines("findings", findings, findings_2);
    job_close(fresh);
    char *const all[] = {dump, dump_2, values, values_2, findings, findings_2};
    for (size_t i = 0; i < COUNT_OF(all); i++)
        free(all[i]);
}

static enum base_err step(struct job *j, bool back, struct base_diag *why)
{
    struct job_step s;
    bool any = job_step_next(j, back, 0, &s);
    return any && !s.own ? job_step_refuse(&s, back, why) : job_step_take(j, back, s.edit, why);
}

enum base_err job_undo(struct job *j, struct base_diag *why) { return step(j, true, why); }
enum base_err job_redo(struct job *j, struct base_diag *why) { return step(j, false, why); }
