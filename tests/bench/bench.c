/* How quick it is: `make bench`. Prints figures and ratios of one run on one machine; nothing passes or fails
 * by them.
 *
 *   chain   a chain of formulas, one variant at a time, and as a C compiler has it
 *   vary    points a second of a variation
 *   edit    binding the demo job, one edit in it, judging it
 *   acts    what each act costs beside its goal, on a demo job and on a large set
 *   growth  how reading, judging, an edit and memory grow with the set
 *   bytes   what the screens send to the terminal a key, beside other programs
 *
 * `build/bench WORD...` runs those alone; `build/bench set` prints the large set.
 */

#include "diewright/explore.h"
#include "diewright/job.h"

#include "acts.h"
#include "bytes.h"
#include "set.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

static double seconds(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

static void stop(const struct base_diag *why)
{
    fprintf(stderr, "bench: %s\n", why->message);
    exit(1);
}

/* -- a chain of formulas beside the same in C ------------------------------------------------------------ */

/* A screw between two plates, worked out along one chain. Slots are named by their letters. */
static const struct { const char *name, *formula; } chain[] = {
    {"a", NULL},
    {"b", "a * 2 + 12"},
    {"c", "rise_to(b * 0.8, 5)"},
    {"d", "max(c - b, 0) + a / 4"},
    {"e", "if(d > 6, d * d / 40, sqrt(d + 3))"},
    {"f", "min(e * 3, c)"},
    {"g", "(b + c + d + e + f) / 5"},
    {"h", "abs(g - c) * 1.5 + sin(g * 1 rad / 100)"},
};
enum { SLOTS = COUNT_OF(chain) };

static double by_hand(double a)
{
    double b = a * 2 + 12, c = ceil(b * 0.8 / 5 - 1e-6) * 5;
    double d = fmax(c - b, 0) + a / 4;
    double e = d > 6 ? d * d / 40 : sqrt(d + 3), f = fmin(e * 3, c);
    double g = (b + c + d + e + f) / 5;
    return fabs(g - c) * 1.5 + sin(g * 0.01);
}

static enum base_err name(void *arg, const char *text, bool in_body, struct formula_found *out,
                          struct base_diag *why)
{
    (void)in_body;
    for (int i = 0; i < SLOTS; i++)
        if (strcmp(chain[i].name, text) == 0) {
            *out = (struct formula_found){.how = FORMULA_SLOT, .index = i};
            return BASE_OK;
        }
    (void)arg;
    return base_fail(why, BASE_UNKNOWN, "There is no %s.", text);
}
static const struct formula_function *no_function(void *arg, const char *n)
{
    (void)arg;
    (void)n;
    return NULL;
}
static int no_number(void *arg, const char *n) { (void)arg; (void)n; return -1; }
static void no_names(void *arg, const char *n, struct base_text *out) { (void)arg; (void)n; (void)out; }

static struct model *chain_model(void)
{
    struct model *m = model_new(NULL, NULL);
    struct formula_scope scope = {
        .name = name, .function = no_function, .nearest = no_names, .kind = no_number, .table = no_number};
    struct base_diag why = {0};
    for (int i = 0; i < SLOTS; i++)
        model_add(m, chain[i].name, (struct formula_type){.sort = FORMULA_NUMBER});
    model_set_constant(m, 0, 10);
    for (int i = 1; i < SLOTS; i++) {
        struct formula_tree *t = NULL;
        struct formula_code *c = NULL;
        if (formula_parse(chain[i].formula, &t, &why) || formula_compile(t, &scope, NULL, &c, &why) ||
            model_set_code(m, i, c, &why))
            stop(&why);
        formula_tree_free(t);
    }
    if (model_settle(m, &why))
        stop(&why);
    return m;
}

static void bench_chain(void)
{
    enum { VARIANTS = 40000 };
    struct model *m = chain_model();
    double by_c = 0, by_model = 0, start = seconds();
    for (int k = 0; k < VARIANTS; k++)
        by_c += by_hand(5 + 0.001 * k);
    double hand = (seconds() - start) / VARIANTS;
    start = seconds();
    for (int k = 0; k < VARIANTS; k++) {
        model_set_constant(m, 0, 5 + 0.001 * k);
        model_recalculate(m);
        by_model += model_value(m, SLOTS - 1).number;
    }
    double model = (seconds() - start) / VARIANTS;
    printf("chain  C by hand    %9.1f ns a variant\n", hand * 1e9);
    printf("       the model    %9.1f ns a variant   %6.1f times C by hand\n", model * 1e9, model / hand);
    printf("       the sums differ by %.1g of %.6g\n", fabs(by_model - by_c), by_c);
    model_free(m);
}

/* ---- a demo job ---------------------------------------------------------------------------------------- */

struct demo { struct handbook *h; struct job *j; char *text; };

static void open_demo(struct demo *d, const char *name_of)
{
    struct base_diag why = {0};
    char *path = base_format("data/demo/%s.txt", name_of);
    if (base_read_file(path, &d->text, NULL, &why) || job_open_handbook("data", &d->h, &why) ||
        job_from_text(d->h, d->text, path, &d->j, &why))
        stop(&why);
    free(path);
}

static void close_demo(struct demo *d)
{
    job_close(d->j);
    handbook_free(d->h);
    free(d->text);
}

static double run_for(struct demo *d, const char *path, const char *from, const char *to, double step,
                      int *points)
{
    char text[40];
    struct explore_ask ask;
    struct explore *x = NULL;
    struct base_diag why = {0};
    int shown[4];
    snprintf(text, sizeof text, "%.6g", step);
    if (explore_read(job_dieset(d->j), path, from, to, text, &ask, &why))
        stop(&why);
    ask.n_show = explore_movers(job_dieset(d->j), &ask, shown, COUNT_OF(shown));
    ask.show = shown;
    double start = seconds();
    if (explore_run(job_findings(d->j), &ask, &x, &why))
        stop(&why);
    double took = seconds() - start;
    *points = x->n;
    explore_free(x);
    return took / *points;
}

static void bench_vary(struct demo *d, const char *path, const char *from, const char *to)
{
    int points;
    double width = strtod(to, NULL) - strtod(from, NULL);
    double took = run_for(d, path, from, to, width / 500, &points);
    printf("vary   %-24s %7.0f points a second\n", path, 1 / took);
}

static void bench_edit(struct demo *d)
{
    enum { TIMES = 20 };
    struct base_diag why = {0};
    struct dieset *set = job_dieset(d->j);
    const struct typed_change edit = {TYPED_ENTRY, "die_plate", "thickness", NULL, "36 mm"};
    const struct typed_change anew = {TYPED_ENTRY, "die_plate", "hardened", NULL, "no"};
    double start = seconds();
    for (int i = 0; i < TIMES; i++) {
        if (dieset_try(set, &anew, 1, &why))
            stop(&why);
        dieset_drop(set);
    }
    double bind = (seconds() - start) / TIMES;
    start = seconds();
    for (int i = 0; i < TIMES; i++) {
        if (dieset_try(set, &edit, 1, &why))
            stop(&why);
        dieset_drop(set);
    }
    double change = (seconds() - start) / TIMES;
    start = seconds();
    for (int i = 0; i < TIMES; i++)
        findings_judge(job_findings(d->j), NULL);
    double judge = (seconds() - start) / TIMES;
    printf("edit   %d values, %d slots, %d holes\n", dieset_quantity_count(set),
           model_count(dieset_model(set)), dieset_hole_count(set));
    printf(
        "       binding anew %.2f ms; an edit tried and dropped %.2f ms, %.0f times less; judging %.2f ms\n",
        bind * 1e3, change * 1e3, bind / change, judge * 1e3);
}

static void bench_demos(void)
{
    static const char *const jobs[] = {"cover-plate", "spacer-plate"};
    for (size_t i = 0; i < COUNT_OF(jobs); i++) {
        struct demo d = {0};
        open_demo(&d, jobs[i]);
        printf("%s\n", jobs[i]);
        bench_vary(&d, "die_plate.thickness", "20", "50");
        bench_vary(&d, "strip.thickness", "0.5", "4");
        bench_vary(&d, "stack.die_regrind", "0", "10");
        bench_vary(&d, "die_screws.lay.end", "10", "40");
        bench_edit(&d);
        close_demo(&d);
    }
}

/* The processor that it ran on, so that figures can be held against each other. */
static void tell_machine(void)
{
    char line[300];
    FILE *f = fopen("/proc/cpuinfo", "r");
    while (f && fgets(line, sizeof line, f))
        if (strncmp(line, "model name", 10) == 0 && strchr(line, ':')) {
            printf("on     %s", strchr(line, ':') + 2);
            break;
        }
    if (f)
        fclose(f);
}

int main(int argc, char **argv)
{
    static const struct { const char *name; void (*run)(void); } all[] = {
        {"acts", bench_acts},
        {"growth", bench_growth},
        {"chain", bench_chain},
        {"vary", bench_demos},
        {"bytes", bench_bytes},
    };
    if (argc == 2 && strcmp(argv[1], "set") == 0) {
        char *text = bench_set(BENCH_STATIONS, BENCH_IN_STATION);
        fputs(text, stdout);
        free(text);
        return 0;
    }
    setvbuf(stdout, NULL, _IOLBF, 0);
    tell_machine();
    for (size_t i = 0; i < COUNT_OF(all); i++) {
        bool asked = argc < 2;
        for (int k = 1; k < argc; k++)
            asked = asked || strcmp(argv[k], all[i].name) == 0;
        if (asked)
            all[i].run();
    }
    return 0;
}
