/* What each act costs: processor time of the program's own, which others on the machine hardly change.
 *
 * The screens run on a terminal in memory; the time of a key is what the process has used until it rests
 * again, panes that wait for the cursor included. Told is the middle of several. Runs over points and cures
 * are called in this process. Goals are those of an ordinary machine.
 */

#include "acts.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "../screen/bed.h"
#include "diewright/explore.h"
#include "diewright/job.h"
#include "set.h"

enum { JOBS = 2, TIMES = 5, RESTED_MS = 120, ROWS = 40, COLUMNS = 120 };

static void stop(const char *what)
{
    fprintf(stderr, "bench: %s\n", what);
    exit(1);
}

static double clock_of(clockid_t id)
{
    struct timespec t;
    clock_gettime(id, &t);
    return (double)t.tv_sec + (double)t.tv_nsec * 1e-9;
}

static double own_time(void) { return clock_of(CLOCK_PROCESS_CPUTIME_ID); }

static double time_of(const struct bed *b)
{
    clockid_t id;
    return clock_getcpuclockid(bed_pid(b), &id) ? 0 : clock_of(id);
}

static int compare(const void *a, const void *b)
{
    return (*(const double *)a > *(const double *)b) - (*(const double *)a < *(const double *)b);
}

static double middle_of(double *x, int n)
{
    qsort(x, (size_t)n, sizeof *x, compare);
    return x[n / 2];
}

/* ---- the two jobs -------------------------------------------------------------------------------------- */

struct bench_job { char *text, *path; };

static struct bench_job jobs[JOBS]; /* the demo, the large set */

static const char *folder(void) { return getenv("B") ? getenv("B") : "build"; }

static void run(char *command)
{
    if (system(command) != 0)
        stop(command);
    free(command);
}

static void make_jobs(void)
{
    struct base_diag why = {0};
    if (base_read_file("data/demo/cover-plate.txt", &jobs[0].text, NULL, &why))
        stop(why.message);
    jobs[1].text = bench_set(BENCH_STATIONS, BENCH_IN_STATION);
    for (int i = 0; i < JOBS; i++) {
        char *text = base_format("%s/%d.txt", fresh_folder(), i);
        jobs[i].path = base_format("%s/%d.diejob", fresh_folder(), i);
        FILE *f = fopen(text, "w");
        if (!f || fputs(jobs[i].text, f) < 0 || fclose(f))
            stop(text);
        run(base_format("%s/diewright load %s %s >/dev/null 2>&1", folder(), jobs[i].path, text));
        free(text);
    }
}

/* ---- rows ---------------------------------------------------------------------------------------------- */

static void tell(const char *what, const char *unit, const double *is, const double *goal)
{
    printf("acts   %-40s", what);
    for (int i = 0; i < JOBS; i++)
        printf(" %9.*f %-2s %6g %-4s", is[i] < 10 ? 2 : is[i] < 100 ? 1 : 0, is[i], unit, goal[i],
               is[i] > goal[i] ? "over" : "");
    printf("\n");
}

/* ---- keys ---------------------------------------------------------------------------------------------- */

/* Keys that lead to the place; then, again and again, one that is not counted (may be "") and one that is. */
struct act { const char *what, *there, *before[2], *keys[2]; double goal[JOBS]; };

#define THICKNESS ":go-to die_plate.thickness\r"
static const struct act acts[] = {
    {"digit typed, to the settled picture", THICKNESS "\r\025" "3", {"", ""}, {"6", "\177"}, {4, 40}},
    {"Enter", THICKNESS, {"\r\02536", "\r\02534"}, {"\r", "\r"}, {5, 50}},
    {"undo", THICKNESS "\r\02536\r", {"\022", "\022"}, {"u", "u"}, {5, 50}},
    {"redo", THICKNESS "\r\02536\r", {"u", "u"}, {"\022", "\022"}, {5, 50}},
    {"x, new or ground", "", {"", ""}, {"x", "x"}, {5, 50}},
    {"cursor, down the stack", "", {"", ""}, {"\033OB", "\033OB"}, {1.5, 5}},
    {"cursor, over the plan", "\t\t", {"", ""}, {"\033OC", "\033OB"}, {1.5, 5}},
    {"ram step", "T", {"", ""}, {"\033OC", "\033OD"}, {1.5, 5}},
};

static double memory[JOBS], start[JOBS];

static struct bed *begun(const struct bench_job *j, int rows, int columns, char **home)
{
    char *program = base_format("%s/diewright", folder());
    const char *argv[] = {program, j->path, NULL};
    *home = realpath(fresh_folder(), NULL);
    struct bed *b = bed_open(
        &(struct bed_start){.argv = argv, .rows = rows, .columns = columns, .folder = *home});
    free(program);
    bed_wait(b, "stack");
    bed_quiet(b, 400);
    return b;
}

static void press(struct bed *b, const char *keys, bool one_by_one)
{
    for (const char *p = keys; *p; p++) {
        if (!one_by_one) {
            bed_raw(b, p, strlen(p));
            break;
        }
        bed_raw(b, p, 1);
        if (*p == '\r' || *p == '\025')
            bed_quiet(b, 40);
    }
    bed_quiet(b, RESTED_MS);
}

static double most_memory(const struct bed *b)
{
    char *path = base_format("/proc/%d/status", (int)bed_pid(b)), line[200];
    double kib = 0;
    FILE *f = fopen(path, "r");
    while (f && fgets(line, sizeof line, f))
        sscanf(line, "VmHWM: %lf", &kib);
    if (f)
        fclose(f);
    free(path);
    return kib / 1024;
}

static double key_time(const struct act *a, int job)
{
    char *home = NULL;
    struct bed *b = begun(&jobs[job], ROWS, COLUMNS, &home);
    double took[TIMES];
    start[job] = time_of(b) * 1e3;
    press(b, a->there, true);
    for (int i = 0; i < TIMES; i++) {
        press(b, a->before[i % 2], true);
        double before = time_of(b);
        press(b, a->keys[i % 2], false);
        took[i] = (time_of(b) - before) * 1e3;
    }
    memory[job] = fmax(memory[job], most_memory(b));
    bed_close(b);
    free(home);
    return middle_of(took, TIMES);
}

static void tell_keys(void)
{
    for (size_t k = 0; k < COUNT_OF(acts); k++) {
        double is[JOBS];
        for (int i = 0; i < JOBS; i++)
            is[i] = key_time(&acts[k], i);
        tell(acts[k].what, "ms", is, acts[k].goal);
    }
    tell("start, to the first picture", "ms", start, (double[]){45, 150});
}

/* ---- a command ----------------------------------------------------------------------------------------- */

static double command_time(const char *job)
{
    char *program = base_format("%s/diewright", folder());
    double took[TIMES];
    for (int i = 0; i < TIMES; i++) {
        struct rusage used;
        int status;
        fflush(stdout);
        pid_t child = fork();
        if (child == 0) {
            if (!freopen("/dev/null", "w", stdout))
                _exit(1);
            execl(program, "diewright", "check", job, (char *)NULL);
            _exit(127);
        }
        if (wait4(child, &status, 0, &used) < 0 || !WIFEXITED(status) || WEXITSTATUS(status) > 1)
            stop("diewright check does not run");
        took[i] = (double)(used.ru_utime.tv_sec + used.ru_stime.tv_sec) * 1e3 +
                  (double)(used.ru_utime.tv_usec + used.ru_stime.tv_usec) * 1e-3;
    }
    free(program);
    return middle_of(took, TIMES);
}

/* ---- runs and cures ------------------------------------------------------------------------------------ */

static struct handbook *handbook;

static struct job *opened(const char *text)
{
    struct job *j = NULL;
    struct base_diag why = {0};
    if ((!handbook && job_open_handbook("data", &handbook, &why)) ||
        job_from_text(handbook, text, "bench", &j, &why))
        stop(why.message);
    return j;
}

static double points_time(struct job *j)
{
    struct explore_ask ask;
    struct explore *x = NULL;
    struct base_diag why = {0};
    int shown[4];
    if (explore_read(job_dieset(j), "die_plate.thickness", "30", "40", "0.5", &ask, &why))
        stop(why.message);
    ask.n_show = explore_movers(job_dieset(j), &ask, shown, COUNT_OF(shown));
    ask.show = shown;
    double before = own_time();
    if (explore_run(job_findings(j), &ask, &x, &why))
        stop(why.message);
    double took = (own_time() - before) * 1e3;
    explore_free(x);
    return took;
}

/* All cures of the finding KEY tried: until the first stood there, and until the last. False: none. */
static bool mended(struct job *j, const char *key, double *first, double *all)
{
    double before = own_time();
    struct explore_mend *m = explore_mend_new(job_findings(j), key);
    *first = 0;
    while (explore_mend_more(job_findings(j), m))
        if (!*first && (m->at.count || m->behind.count))
            *first = (own_time() - before) * 1e3;
    *all = (own_time() - before) * 1e3;
    explore_mend_free(m);
    return *first > 0;
}

/* Of the gravest finding that has a cure. */
static void mend_time(struct job *j, double *first, double *all)
{
    const struct finding *list;
    int n = findings_judge(job_findings(j), &list);
    bool found = false;
    for (int i = 0; i < n && !found; i++) {
        char *key = base_copy(list[i].key);
        found = mended(j, key, first, all);
        free(key);
        findings_judge(job_findings(j), &list);
    }
    if (!found)
        stop("nothing to mend");
}

static void tell_runs(void)
{
    double points[JOBS], first[JOBS], all[JOBS], check[JOBS];
    for (int i = 0; i < JOBS; i++) {
        struct job *j = opened(jobs[i].text);
        check[i] = command_time(jobs[i].path);
        points[i] = points_time(j);
        mend_time(j, &first[i], &all[i]);
        job_close(j);
    }
    tell("check, whole", "ms", check, (double[]){45, 150});
    tell("21 points of a range, all rules", "ms", points, (double[]){10, 100});
    tell("mend, first proposal", "ms", first, (double[]){50, 300});
    tell("mend, all for one finding", "ms", all, (double[]){300, 3000});
}

/* ---- bytes --------------------------------------------------------------------------------------------- */

static void tell_bytes(void)
{
    static const struct { const char *what, *there, *keys[2]; bool at_once; double goal; } rows[] = {
        {"bytes, cursor settled in the stack", "", {"\033OB", "\033OB"}, false, 200},
        {"bytes, cursor settled in the plan", "\t\t", {"\033OC", "\033OB"}, false, 200},
        {"bytes, digit at once", THICKNESS "\r\025" "3", {"6", "\177"}, true, 250},
        {"bytes, digit settled", THICKNESS "\r\025" "3", {"6", "\177"}, false, 500},
    };
    for (size_t k = 0; k < COUNT_OF(rows); k++) {
        double is[JOBS];
        for (int i = 0; i < JOBS; i++) {
            char *home = NULL;
            struct bed *b = begun(&jobs[i], 24, 80, &home);
            double sent[TIMES];
            press(b, rows[k].there, true);
            for (int n = 0; n < TIMES; n++) {
                bed_raw(b, rows[k].keys[n % 2], strlen(rows[k].keys[n % 2]));
                sent[n] = (double)bed_quiet(b, 40);
                double rest = (double)bed_quiet(b, RESTED_MS);
                sent[n] += rows[k].at_once ? 0 : rest;
            }
            is[i] = middle_of(sent, TIMES);
            bed_close(b);
            free(home);
        }
        tell(rows[k].what, "B", is, (double[]){rows[k].goal, rows[k].goal});
    }
}

START_TEST(table)
{
    make_jobs();
    struct job *j = opened(jobs[1].text);
    printf("acts   the large set: %d stations, %d items, %d holes\n", BENCH_STATIONS,
           dieset_item_count(job_dieset(j)), dieset_hole_count(job_dieset(j)));
    job_close(j);
    printf("acts   %-40s %12s %-11s %12s %s\n", "processor time, middle of 5", "demo", "   goal", "large set",
           "   goal");
    tell_keys();
    tell_runs();
    tell("memory of the screens", "MB", memory, (double[]){12, 40});
    tell_bytes();
    for (int i = 0; i < JOBS; i++) {
        free(jobs[i].path);
        free(jobs[i].text);
    }
    handbook_free(handbook);
    handbook = NULL;
}
END_TEST

/* A test only because the bed is made for tests and fails as they do. */
void bench_acts(void)
{
    Suite *s = suite_create("acts");
    TCase *c = tcase_create("acts");
    tcase_add_test(c, table);
    suite_add_tcase(s, c);
    SRunner *r = srunner_create(s);
    srunner_set_fork_status(r, CK_NOFORK);
    srunner_run_all(r, CK_MINIMAL);
    srunner_free(r);
}

/* ---- growth -------------------------------------------------------------------------------------------- */

enum { READ, JUDGE, DIGIT, MEMORY, GROWN };
struct grown { int stations, items, holes; double is[GROWN]; };

/* In a child of its own, for what is let go of is not given back to the system at once. */
static struct grown grow(int stations, int in_station)
{
    struct grown g = {.stations = stations};
    struct base_diag why = {0};
    struct dieset *d;
    char *text = bench_set(stations, in_station);
    double began = own_time();
    struct job *j = opened(text);
    g.is[READ] = own_time() - began;
    d = job_dieset(j);
    g.items = dieset_item_count(d);
    g.holes = dieset_hole_count(d);
    began = own_time();
    findings_judge(job_findings(j), NULL);
    g.is[JUDGE] = own_time() - began;
    began = own_time();
    if (job_set(j, "die_plate.thickness", "35 mm", &why))
        stop(why.message);
    job_outcome(j);
    g.is[DIGIT] = own_time() - began;
    struct rusage used;
    getrusage(RUSAGE_SELF, &used);
    g.is[MEMORY] = (double)used.ru_maxrss / 1024;
    job_close(j);
    free(text);
    return g;
}

static bool grow_apart(int stations, int in_station, struct grown *g)
{
    int ends[2], status;
    fflush(stdout);
    if (pipe(ends))
        return false;
    pid_t child = fork();
    if (child == 0) {
        struct grown mine = grow(stations, in_station);
        _exit(write(ends[1], &mine, sizeof mine) == sizeof mine ? 0 : 1);
    }
    close(ends[1]);
    bool whole = read(ends[0], g, sizeof *g) == sizeof *g;
    close(ends[0]);
    waitpid(child, &status, 0);
    return whole;
}

void bench_growth(void)
{
    enum { IN_STATION = 3, MOST_SECONDS = 60 };
    static const int sizes[] = {10, 30, 100, 300, 900};
    struct grown last = {0}, g;
    printf("growth %8s %7s %8s %22s %22s %22s %20s\n", "stations", "items", "holes", "read", "judge",
           "an edit, judged", "memory");
    for (size_t i = 0; i < COUNT_OF(sizes); i++) {
        if (!grow_apart(sizes[i], IN_STATION, &g)) {
            printf("growth %8d has not ended\n", sizes[i]);
            return;
        }
        printf("growth %8d %7d %8d", g.stations, g.items, g.holes);
        double more = last.holes ? log((double)g.holes / last.holes) : 0;
        for (int k = 0; k < GROWN; k++) {
            char power[20] = "";
            if (more > 0)
                snprintf(power, sizeof power, "^%.2f", log(g.is[k] / last.is[k]) / more);
            printf(k == MEMORY ? " %9.1f MB %7s" : " %11.1f ms %7s", g.is[k] * (k == MEMORY ? 1 : 1e3),
                   power);
        }
        printf("\n");
        double all = g.is[READ] + g.is[JUDGE] + g.is[DIGIT];
        if (all > MOST_SECONDS) {
            printf("growth larger ones are left out: %.0f s\n", all);
            return;
        }
        last = g;
    }
}
