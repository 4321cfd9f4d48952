/* Sudden ends: the program killed, the power cut. */

#include "../common.h"
#include "shim.h"
#include "suites.h"
#include "work.h"

#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

/* ---- killed ------------------------------------------------------------------------------- */

/* Edits without end, each told on FD once it is said to be saved. */
static void edit_until_killed(const char *path, int fd)
{
    struct store *s;
    if (store_open(path, false, &s, NULL) != BASE_OK)
        _exit(1);
    int i = (int)store_event_count(s);
    for (;; i++) {
        if (work_edit(s, i, NULL) != BASE_OK)
            _exit(2);
        if (write(fd, "+", 1) != 1)
            _exit(3);
    }
}

/* Kill an editor MICROSECONDS after its first edit; how many edits it was told were saved. */
static int kill_one(const char *path, unsigned microseconds)
{
    int ends[2];
    char told[4096];
    ck_assert_int_eq(pipe(ends), 0);
    pid_t child = fork();
    ck_assert_int_ge(child, 0);
    if (child == 0)
        edit_until_killed(path, ends[1]);
    close(ends[1]);
    int saved = (int)read(ends[0], told, 1);
    ck_assert_int_eq(saved, 1);
    nanosleep(&(struct timespec){.tv_nsec = microseconds * 1000L}, NULL);
    kill(child, SIGKILL);
    ck_assert_int_eq(waitpid(child, NULL, 0), child);
    for (ssize_t n; (n = read(ends[0], told, sizeof told)) > 0;)
        saved += (int)n;
    close(ends[0]);
    return saved;
}

/* As many kills as DIEWRIGHT_KILLS says. The rounds of work_edit begin with an edit of the number of events,
 * so that each editor goes on where the last was killed. */
START_TEST(killed_at_any_moment_no_saved_edit_is_lost)
{
    const char *wanted = getenv("DIEWRIGHT_KILLS");
    int kills = wanted ? atoi(wanted) : 50;
    char *path = base_format("%s/a.diejob", fresh_folder());
    unsigned seed = 11;
    struct store *s;
    long before = 0;
    for (int i = 0; i < kills; i++) {
        if (i % 25 == 0) { /* begin anew: the log grows by some ten edits a kill */
            unlink(path);
            ck_ok(store_create(path, &s, why));
            ck_ok(work_begin(s, why));
            for (int k = 1; k < 8; k++)
                ck_ok(work_edit(s, k, why));
            before = store_event_count(s);
            store_close(s);
        }
        int saved = kill_one(path, 500 + work_random(&seed) % 24500);
        ck_ok(store_open(path, i % 2 == 0, &s, why)); /* whoever comes first, be it only to look */
        ck_assert_str_eq(store_warning(s), "");
        long now = store_event_count(s);
        ck_assert_msg(now == before + saved || now == before + saved + 1,
                      "kill %d: %ld events, %ld before, %d saved", i, now, before, saved);
        work_check(s);
        before = now;
        store_close(s);
    }
    free(path);
}
END_TEST

/* ---- eight at once --------------------------------------------------------------------------- */

enum { CROWD = 8 };

/* What one of the crowd tells in the end. */
struct told {
    int own, shared, conflicts;
    double slowest;
};

static double seconds_now(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return (double)t.tv_sec + (double)t.tv_nsec / 1e9;
}

/* The value of ITEM.PATH as last read, counted one up; false: somebody else was there in between. */
static bool count_up(struct store *s, const char *item, const char *path, const char *who, struct told *told)
{
    struct store_state is;
    const char *before = NULL;
    char after[32], was[32];
    double begun = seconds_now();
    if (store_read(s, &is, NULL) != BASE_OK)
        _exit(2);
    for (int i = 0; i < is.n_entries; i++)
        if (strcmp(is.entries[i].item, item) == 0 && strcmp(is.entries[i].path, path) == 0)
            before = is.entries[i].text;
    snprintf(was, sizeof was, "%s", before ? before : "");
    snprintf(after, sizeof after, "%d", before ? atoi(before) + 1 : 1);
    const struct typed_change c = {TYPED_ENTRY, item, path, before ? was : NULL, after};
    enum base_err err = store_take(s, path, who, &c, 1, NULL);
    double took = seconds_now() - begun;
    told->slowest = took > told->slowest ? took : told->slowest;
    if (err != BASE_OK && err != BASE_CONFLICT)
        _exit(3);
    return err == BASE_OK;
}

/* EDITS of its own value and as many tries of the one that all count up. */
static void be_one_of_many(const char *path, int one, int edits, int fd)
{
    struct store *s;
    struct told told = {0};
    char own[20];
    snprintf(own, sizeof own, "note_%d", one);
    if (store_open(path, false, &s, NULL) != BASE_OK)
        _exit(1);
    for (int i = 0; i < edits; i++) {
        if (!count_up(s, "die_plate", own, own, &told))
            _exit(4); /* nobody else writes there */
        told.own++;
        if (count_up(s, "strip", "count", own, &told))
            told.shared++;
        else
            told.conflicts++;
    }
    store_close(s);
    _exit(write(fd, &told, sizeof told) == sizeof told ? 0 : 5);
}

static int entry_number(struct store *s, const char *item, const char *path)
{
    struct store_state is;
    ck_ok(store_read(s, &is, why));
    for (int i = 0; i < is.n_entries; i++)
        if (strcmp(is.entries[i].item, item) == 0 && strcmp(is.entries[i].path, path) == 0)
            return atoi(is.entries[i].text);
    return 0;
}

/* As many edits of each as DIEWRIGHT_CROWD says; then the slowest is told. */
START_TEST(eight_who_edit_one_job_at_once_lose_nothing)
{
    const char *wanted = getenv("DIEWRIGHT_CROWD");
    int edits = wanted ? atoi(wanted) : 6, ends[2], shared = 0;
    char *path = base_format("%s/a.diejob", fresh_folder());
    struct told told[CROWD] = {0};
    double slowest = 0;
    struct store *s;
    ck_ok(store_create(path, &s, why));
    ck_ok(work_begin(s, why));
    store_close(s);
    ck_assert_int_eq(pipe(ends), 0);
    for (int i = 0; i < CROWD; i++) {
        pid_t child = fork();
        ck_assert_int_ge(child, 0);
        if (child == 0)
            be_one_of_many(path, i, edits, ends[1]);
    }
    close(ends[1]);
    for (int i = 0, status; i < CROWD; i++) {
        ck_assert_int_gt(wait(&status), 0);
        ck_assert_msg(WIFEXITED(status) && WEXITSTATUS(status) == 0, "one of the crowd ended with %d",
                      status);
        ck_assert_int_eq(read(ends[0], &told[i], sizeof told[i]), (ssize_t)sizeof told[i]);
        shared += told[i].shared;
        slowest = told[i].slowest > slowest ? told[i].slowest : slowest;
    }
    close(ends[0]);
    ck_ok(store_open(path, false, &s, why));
    work_check(s);
    ck_assert_int_eq(store_event_count(s), 1 + CROWD * edits + shared);
    ck_assert_int_eq(entry_number(s, "strip", "count"), shared);
    for (int i = 0; i < CROWD; i++) {
        char own[20];
        snprintf(own, sizeof own, "note_%d", i);
        ck_assert_int_eq(entry_number(s, "die_plate", own), edits);
    }
    store_close(s);
    if (wanted)
        printf("told: eight at once: %d edits, %d of them on one value, none lost; the slowest took %.2f s\n",
               CROWD * edits + shared, shared, slowest);
    free(path);
}
END_TEST

/* ---- the power cut ------------------------------------------------------------------------- *
 *
 * A disk that keeps what was synced and, of what was not, each sector of 512 bytes as it
 * likes; likewise the names in the folder. Two files: the job and its journal. What a file holds
 * for certain is `sure`, what the program believes is `seen`.
 */

struct content {
    bool there;
    unsigned char *at;
    size_t length;
};
struct disk {
    struct content sure[2], seen[2];
};

static void set(struct content *c, const struct content *from)
{
    unsigned char *copy = base_alloc(from->length);
    if (from->length)
        memcpy(copy, from->at, from->length);
    free(c->at);
    *c = (struct content){from->there, copy, from->length};
}

static void resize(struct content *c, size_t length)
{
    c->at = base_grow(c->at, length + 1);
    if (length > c->length)
        memset(c->at + c->length, 0, length - c->length);
    c->length = length;
}

static void play_op(struct disk *d, const struct shim_op *op)
{
    struct content *seen = &d->seen[op->journal], *sure = &d->sure[op->journal];
    switch (op->kind) {
    case SHIM_WRITE:
        if ((size_t)op->offset + op->length > seen->length)
            resize(seen, (size_t)op->offset + op->length);
        memcpy(seen->at + op->offset, op->bytes, op->length);
        break;
    case SHIM_TRUNCATE:
        resize(seen, (size_t)op->offset);
        break;
    case SHIM_SYNC: /* a new file's first sync brings its name to the disk, too */
        set(sure, seen);
        break;
    case SHIM_CREATE:
        resize(seen, 0);
        seen->there = true;
        break;
    case SHIM_DELETE:
        seen->there = false;
        if (op->folder_too)
            sure->there = false;
        break;
    }
}

enum fate { DROP, KEEP, MIX };

/* What is found after the power is back. */
static struct content fate_of(const struct content *sure, const struct content *seen, enum fate fate,
                              unsigned *seed)
{
    struct content out = {0};
    const struct content *base = fate == DROP || (fate == MIX && work_random(seed) % 2) ? sure : seen;
    set(&out, base);
    for (size_t at = 0; fate == MIX && at < out.length; at += 512) {
        const struct content *from = work_random(seed) % 2 ? sure : seen;
        size_t n = out.length - at < 512 ? out.length - at : 512;
        if (at + n <= from->length)
            memcpy(out.at + at, from->at + at, n);
    }
    return out;
}

static void write_disk(const struct disk *d, const char *path, enum fate fate, unsigned *seed)
{
    for (int journal = 0; journal < 2; journal++) {
        char *name = base_format("%s%s", path, journal ? "-journal" : "");
        struct content c = fate_of(&d->sure[journal], &d->seen[journal], fate, seed);
        unlink(name);
        if (c.there)
            work_save(name, c.at, c.length);
        free(c.at);
        free(name);
    }
}

struct acknowledged {
    size_t ops[64];
    int count;
};

/* Cut the power after each recorded call, in as many ways as DIEWRIGHT_CUTS says; how many times COUNT_SAVED
 * finds fewer edits than were acknowledged by then. */
static int lost_in(const struct acknowledged *a, struct bytes start, const char *path,
                   long (*count_saved)(const char *path))
{
    size_t n;
    const char *wanted = getenv("DIEWRIGHT_CUTS");
    int lost = 0, saved = 0, ways = wanted ? atoi(wanted) : 4;
    const struct shim_op *ops = shim_ops(&n);
    struct content begin = {true, start.at, start.length};
    struct disk d = {0};
    unsigned seed = 3;
    set(&d.sure[0], &begin);
    set(&d.seen[0], &begin);
    for (size_t i = 0; i < n; i++) {
        play_op(&d, &ops[i]);
        while (saved < a->count && a->ops[saved] <= i + 1)
            saved++;
        for (int k = 0; k < ways; k++) {
            write_disk(&d, path, k < MIX ? (enum fate)k : MIX, &seed);
            lost += count_saved(path) < saved;
        }
    }
    for (int i = 0; i < 2; i++) {
        free(d.sure[i].at);
        free(d.seen[i].at);
    }
    return lost;
}

static void acknowledge(struct acknowledged *a)
{
    ck_assert_int_lt(a->count, 64);
    shim_ops(&a->ops[a->count++]);
}

/* Edits in the file beyond the one it began with; the file must be whole. */
static long saved_in_job(const char *path)
{
    struct store *s;
    ck_ok(store_open(path, false, &s, why));
    work_check(s);
    long n = store_event_count(s) - 1;
    store_close(s);
    return n;
}

START_TEST(no_power_cut_loses_a_saved_edit)
{
    char *path = base_format("%s/a.diejob", fresh_folder()), *found = base_format("%s.found", path);
    struct acknowledged a = {0};
    struct store *s;
    ck_ok(store_create(path, &s, why));
    ck_ok(work_begin(s, why));
    store_close(s);
    struct bytes start = work_load(path);
    shim_install();
    ck_ok(store_open(path, false, &s, why));
    shim_record(true);
    for (int i = 1; i < 8; i++) {
        ck_ok(work_edit(s, i, why));
        acknowledge(&a);
    }
    shim_record(false);
    store_close(s);
    size_t n;
    shim_ops(&n);
    ck_assert_uint_gt(n, 50);
    ck_assert_int_eq(lost_in(&a, start, found, saved_in_job), 0);
    shim_remove();
    free(start.at);
    free(path);
    free(found);
}
END_TEST

static long rows_in(const char *path)
{
    sqlite3 *db;
    sqlite3_stmt *st;
    long n = -1;
    ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
    if (sqlite3_prepare_v2(db, "SELECT count(*) FROM t", -1, &st, NULL) == SQLITE_OK &&
        sqlite3_step(st) == SQLITE_ROW)
        n = sqlite3_column_int(st, 0);
    sqlite3_finalize(st);
    sqlite3_close(db);
    return n;
}

/* The control: a looser setting, which is known to lose the last edit when the folder was not synced. A
 * model of the disk that does not see it would prove nothing above. */
START_TEST(the_model_sees_what_looser_settings_lose)
{
    char *path = base_format("%s/a.db", fresh_folder()), *found = base_format("%s.found", path);
    struct acknowledged a = {0};
    sqlite3 *db;
    ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(db, "CREATE TABLE t (x)", NULL, NULL, NULL), SQLITE_OK);
    sqlite3_close(db);
    struct bytes start = work_load(path);
    shim_install();
    ck_assert_int_eq(sqlite3_open(path, &db), SQLITE_OK);
    ck_assert_int_eq(sqlite3_exec(db, "PRAGMA journal_mode = DELETE; PRAGMA synchronous = FULL", NULL, NULL,
                                  NULL),
                     SQLITE_OK);
    shim_record(true);
    for (int i = 0; i < 6; i++) {
        ck_assert_int_eq(sqlite3_exec(db, "INSERT INTO t VALUES (1)", NULL, NULL, NULL), SQLITE_OK);
        acknowledge(&a);
    }
    shim_record(false);
    sqlite3_close(db);
    ck_assert_int_gt(lost_in(&a, start, found, rows_in), 0);
    shim_remove();
    free(start.at);
    free(path);
    free(found);
}
END_TEST

TCase *store_deaths_case(void)
{
    TCase *t = tcase_create("deaths");
    tcase_add_test(t, killed_at_any_moment_no_saved_edit_is_lost);
    tcase_add_test(t, eight_who_edit_one_job_at_once_lose_nothing);
    tcase_add_test(t, no_power_cut_loses_a_saved_edit);
    tcase_add_test(t, the_model_sees_what_looser_settings_lose);
    tcase_set_timeout(t, 600);
    return t;
}
