/* Bytes from strangers: what each reader takes, changed at random, and read.
 *
 * DIEWRIGHT_MUTATIONS says how many of each kind, DIEWRIGHT_SEED where the dice begin; the kind, the seed and
 * the number of what failed are told. None takes more than five seconds of processor, and all together stay
 * below 256 MB.
 */

#include "../store/work.h"
#include "common.h"
#include "suites.h"

#include <dirent.h>
#include <signal.h>
#include <sqlite3.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>
#include <unistd.h>

#include "diewright/job.h"
#include "targets.h"

enum { KINDS_FEW = 25, LONGEST_S = 5, MOST_KB = 256 * 1024 };

typedef BASE_VEC(struct bytes) samples;

static const struct kind {
    const char *name;
    fuzz_fn *target;
    const char *folders[4], *often; /* a file as often as all the others */
} kinds[] = {
    {"formula", fuzz_formula, {"tests/fuzz/corpus/formula"}, NULL},
    {"record",
     fuzz_record,
     {"tests/fuzz/corpus/record", "data/handbook", "data/templates", "data/practice"},
     NULL},
    {"csv", fuzz_csv, {"tests/fuzz/corpus/csv"}, "tests/fuzz/corpus/csv/00"},
    {"job", fuzz_job, {"tests/fuzz/corpus/job", "data/demo", "tests/designs/bases"}, NULL},
    {"file", fuzz_file, {NULL}, NULL},
};

/* What readers have stumbled over: escapes of terminals, directions, cells that are worked out, size. */
static const char *const odd[] = {
    "\033[2J",
    "\033]0;x\a",
    "\xe2\x80\xae",
    "\xc2\x9b"
    "31m",
    "\xff",
    "\xc0\x80",
    "\xed\xa0\x80",
    "\r",
    "\t",
    "=1+1",
    "@SUM(1)",
    "-2+3",
    "\"",
    "\"\"\"",
    "((((((((((((((((",
    "1e308",
    "-1e308",
    "1e-320",
    "nan",
    "inf",
    "99999999999999999999",
    "0",
    "-0",
    "usual",
    "usual(usual)",
    "{",
    "}",
    "#",
    "\\",
    "%s%n",
    "../../../etc/x",
    "mm",
    "kN mm",
    "if(",
    "total(screws)",
    "at_new(",
    ",,,,,,,,",
    "\n\n",
    "\n  count = 100000\n",
    "\n  thickness = 1e9 mm\n",
    "\nplate x\n  moves = \"with the ram\"\n",
    "\nscrews y\n  lay = circle on x\n",
};

static void keep(samples *to, const char *path)
{
    struct bytes b = work_load(path);
    base_vec_push(to, b);
}

static void gather(samples *to, const char *folder)
{
    char path[400];
    struct dirent **names;
    int n = scandir(folder, &names, NULL, alphasort);
    ck_assert_int_gt(n, 2);
    for (int i = 0; i < n; i++) {
        snprintf(path, sizeof path, "%s/%s", folder, names[i]->d_name);
        if (names[i]->d_name[0] != '.')
            keep(to, path);
        free(names[i]);
    }
    free(names);
}

/* ---- changes ---- */

static unsigned below(unsigned *seed, size_t n) { return n ? work_random(seed) % (unsigned)n : 0; }

/* N bytes of B at AT replaced by others. */
static void splice(struct bytes *b, size_t at, size_t n, const void *by, size_t length)
{
    unsigned char *out = base_alloc(b->length - n + length + 1);
    memcpy(out, b->at, at);
    if (length)
        memcpy(out + at, by, length);
    memcpy(out + at + length, b->at + at + n, b->length - at - n);
    free(b->at);
    *b = (struct bytes){out, b->length - n + length};
}

static size_t line_at(const struct bytes *b, size_t at)
{
    while (at > 0 && b->at[at - 1] != '\n')
        at--;
    return at;
}

static size_t line_end(const struct bytes *b, size_t at)
{
    while (at < b->length && b->at[at] != '\n')
        at++;
    return at < b->length ? at + 1 : at;
}

static void change(struct bytes *b, const samples *all, unsigned *seed)
{
    static unsigned char many[60000];
    size_t at = below(seed, b->length + 1), left = b->length - at, n = below(seed, left < 40 ? left + 1 : 40);
    size_t line = line_at(b, at), next = line_end(b, at);
    const struct bytes *other = &all->at[below(seed, all->count)];
    const char *words = odd[below(seed, COUNT_OF(odd))];
    switch (below(seed, 9)) {
    case 0:
        if (left)
            b->at[at] ^= (unsigned char)(1u << below(seed, 8));
        break;
    case 1:
        splice(b, at, n, NULL, 0);
        break;
    case 2:
        splice(b, line, next - line, NULL, 0);
        break;
    case 3:
        splice(b, at, 0, words, strlen(words));
        break;
    case 4:
        splice(b, at, n, words, strlen(words));
        break;
    case 5: { /* a line of another place or file */
        size_t from = line_at(other, below(seed, other->length + 1));
        splice(b, line, below(seed, 2) ? next - line : 0, other->at + from, line_end(other, from) - from);
        break;
    }
    case 6:
        if (below(seed, 8) == 0)
            b->length = at;
        break;
    case 7: /* one letter, very often: depth and length */
        if (below(seed, 8) == 0) {
            memset(many, left ? b->at[at] : '(', sizeof many);
            splice(b, at, 0, many, 1 + below(seed, sizeof many));
        }
        break;
    default: { /* another figure */
        size_t digits = 0;
        char figure[24];
        while (at < b->length && (b->at[at] < '0' || b->at[at] > '9'))
            at++;
        while (at + digits < b->length && b->at[at + digits] >= '0' && b->at[at + digits] <= '9')
            digits++;
        snprintf(figure, sizeof figure, "%d",
                 (int)below(seed, 4) - 1 + (below(seed, 3) ? (int)below(seed, 90) : 0));
        splice(b, at, digits, figure, strlen(figure));
    }
    }
}

/* ---- a file with other contents, and sums that are right ---- */

/* One cell of a job's file typed over, or a row taken out, by another program that knows the sums. */
static void change_cell(const char *path, unsigned *seed)
{
    static const char *const tables[] = {"item", "entry", "event", "change", "part_row", "part_table"};
    sqlite3 *db;
    sqlite3_stmt *st;
    char column[60] = "";
    const char *table = tables[below(seed, COUNT_OF(tables))];
    ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
    char *sql = base_format("SELECT name FROM pragma_table_info('%s')", table);
    ck_assert_int_eq(sqlite3_prepare_v2(db, sql, -1, &st, NULL), SQLITE_OK);
    for (unsigned n = 1; sqlite3_step(st) == SQLITE_ROW; n++)
        if (below(seed, n) == 0)
            snprintf(column, sizeof column, "%s", (const char *)sqlite3_column_text(st, 0));
    sqlite3_finalize(st);
    free(sql);
    const char *words = odd[below(seed, COUNT_OF(odd))];
    bool out = below(seed, 10) == 0;
    sql = out ? base_format("DELETE FROM %s WHERE rowid = %u", table, 1 + below(seed, 60))
              : base_format("UPDATE OR IGNORE %s SET %s = %s WHERE rowid %s %u", table, column,
                            below(seed, 3) ? "?1" : "?1 || substr(?2, 1)", below(seed, 12) ? "=" : "<",
                            1 + below(seed, 120));
    if (sqlite3_prepare_v2(db, sql, -1, &st, NULL) == SQLITE_OK) {
        if (!out)
            sqlite3_bind_text(st, 1, words, -1, SQLITE_STATIC);
        sqlite3_step(st); /* a table that takes no such value keeps what it has */
        sqlite3_finalize(st);
    }
    free(sql);
    sqlite3_close(db);
}

/* ---- a run ---- */

static const struct kind *running;
static unsigned at_number, begun_with;

/* It died: which it was. */
static void on_end(int number)
{
    char line[160];
    int n = snprintf(line, sizeof line, "mutated: %s, number %u, DIEWRIGHT_SEED=%u, ended by signal %d\n",
                     running->name, at_number, begun_with, number);
    ssize_t w = write(STDERR_FILENO, line, (size_t)n);
    (void)w;
    signal(number, SIG_DFL);
    raise(number);
}

static int wanted(const char *name, int otherwise)
{
    const char *text = getenv(name);
    return text && atoi(text) > 0 ? atoi(text) : otherwise;
}

/* Whatever is read, it is read or refused in a sentence: FUZZ_... abort otherwise. */
START_TEST(what_strangers_send_is_read_or_refused)
{
    const struct kind *k = running = &kinds[_i];
    unsigned n = (unsigned)wanted("DIEWRIGHT_MUTATIONS", KINDS_FEW), seed;
    char *path = base_format("%s/a.diejob", fresh_folder());
    samples all = {0};
    clock_t slowest = 0;
    long taken = fuzz_taken;
    begun_with = (unsigned)wanted("DIEWRIGHT_SEED", 1);
    signal(SIGABRT, on_end);
    signal(SIGSEGV, on_end);
    for (size_t i = 0; i < COUNT_OF(k->folders) && k->folders[i]; i++)
        gather(&all, k->folders[i]);
    for (size_t i = all.count; k->often && i > 0; i--)
        keep(&all, k->often);
    if (!k->folders[0]) {
        char *text = read_text("data/demo/cover-plate.txt");
        struct job *j;
        ck_ok(job_create(fuzz_handbook(), path, text, "cover-plate", &j, why));
        job_close(j);
        keep(&all, path);
        fuzz_file_at(path);
        free(text);
    }
    for (at_number = 0; at_number < n; at_number++) {
        seed = begun_with * 7919u + at_number * 31u + (unsigned)_i;
        const struct bytes *from = &all.at[below(&seed, all.count)];
        struct bytes b = {0};
        splice(&b, 0, 0, from->at, from->length);
        if (k->target == fuzz_file && at_number % 2) {
            work_save(path, b.at, b.length);
            for (unsigned times = 1 + below(&seed, 3); times > 0; times--)
                change_cell(path, &seed);
            work_reseal(path);
            free(b.at);
            b = work_load(path);
        } else {
            for (unsigned times = 1 + below(&seed, 6); times > 0; times--)
                change(&b, &all, &seed);
        }
        clock_t begun = clock();
        k->target(b.at, b.length);
        clock_t took = clock() - begun;
        ck_assert_msg(took < LONGEST_S * CLOCKS_PER_SEC, "%s, number %u, DIEWRIGHT_SEED=%u: %.1f s", k->name,
                      at_number, begun_with, (double)took / CLOCKS_PER_SEC);
        slowest = took > slowest ? took : slowest;
        free(b.at);
    }
    taken = fuzz_taken - taken;
    ck_assert_int_gt(taken, n / 50); /* behind the first gate there is more to stumble over */
    struct rusage use;
    ck_assert_int_eq(getrusage(RUSAGE_SELF, &use), 0);
    const char *folder = getenv("B");
    if (!folder || !strstr(folder, "-san")) /* the sanitizers take several times as much */
        ck_assert_int_lt(use.ru_maxrss, MOST_KB);
    if (getenv("DIEWRIGHT_MUTATIONS"))
        printf("told: %u of %s changed at random: %ld taken, the others refused; the slowest in %.2f s, "
               "memory %ld MB "
               "so far\n",
               n, k->name, taken, (double)slowest / CLOCKS_PER_SEC, use.ru_maxrss / 1024);
    for (size_t i = 0; i < all.count; i++)
        free(all.at[i].at);
    base_vec_done(&all);
    free(path);
}
END_TEST

TCase *fuzz_mutated_case(void)
{
    TCase *c = tcase_create("mutated");
    tcase_set_timeout(c, 7200);
    tcase_add_loop_test(c, what_strangers_send_is_read_or_refused, 0, COUNT_OF(kinds));
    return c;
}
