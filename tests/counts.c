/* What takes time, counted: formulas read, tries opened, builds bound, lists judged. In diewright-test the
 * counts go at the end into the file that DIEWRIGHT_COUNTS of the environment names. */

#include "counts.h"

#include <stdio.h>
#include <stdlib.h>

struct base_diag;
struct build;
struct dieset;
struct finding;
struct findings;
struct formula_tree;
struct texts;
struct typed_change;

struct counts counts;

int __real_formula_parse(const char *text, struct formula_tree **out, struct base_diag *why);
int __wrap_formula_parse(const char *text, struct formula_tree **out, struct base_diag *why);
int __real_dieset_try(struct dieset *d, const struct typed_change *changes, int n, struct base_diag *why);
int __wrap_dieset_try(struct dieset *d, const struct typed_change *changes, int n, struct base_diag *why);
struct build *__real_build_new(struct dieset *d, struct texts *texts, struct base_diag *why);
struct build *__wrap_build_new(struct dieset *d, struct texts *texts, struct base_diag *why);
int __real_findings_judge(struct findings *f, const struct finding **list);
int __wrap_findings_judge(struct findings *f, const struct finding **list);

int __wrap_formula_parse(const char *text, struct formula_tree **out, struct base_diag *why)
{
    counts.parsed++;
    return __real_formula_parse(text, out, why);
}

int __wrap_dieset_try(struct dieset *d, const struct typed_change *changes, int n, struct base_diag *why)
{
    counts.tried++;
    return __real_dieset_try(d, changes, n, why);
}

struct build *__wrap_build_new(struct dieset *d, struct texts *texts, struct base_diag *why)
{
    counts.bound++;
    return __real_build_new(d, texts, why);
}

int __wrap_findings_judge(struct findings *f, const struct finding **list)
{
    counts.judged++;
    return __real_findings_judge(f, list);
}

__attribute__((destructor)) static void tell(void)
{
    const char *name = getenv("DIEWRIGHT_COUNTS");
    FILE *f = name ? fopen(name, "w") : NULL;
    if (!f)
        return;
    fprintf(f, "%ld %ld %ld %ld\n", counts.parsed, counts.tried, counts.bound, counts.judged);
    fclose(f);
}
