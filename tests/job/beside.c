/* Remarks of those who may not write: left beside the job, taken in as said by whoever owns the file, and by
   nobody else. */

#include "bench.h"

#include <dirent.h>
#include <fcntl.h>
#include <pwd.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define JOB "tests/job/all-sorts.txt"

/* A job that Ann has open for writing and Eva to look at. */
struct two {
    struct job *ann, *eva;
    char *path;
};

static void open_two(struct two *t)
{
    t->ann = bench_disk(fresh_folder(), "two", JOB, &t->path);
    ck_ok(job_open(bench_handbook, t->path, true, &t->eva, why));
    job_set_who(t->ann, "ann@ws1");
    job_set_who(t->eva, "eva@ws1");
}

static void close_two(struct two *t)
{
    job_close(t->ann);
    job_close(t->eva);
    free(t->path);
}

/* The file beside the job, yours to free(); NULL: there is none. */
static char *note_of(const struct two *t)
{
    char *folder = base_copy_n(t->path, (size_t)(strrchr(t->path, '/') - t->path)), *found = NULL;
    DIR *d = opendir(folder);
    for (struct dirent *e; d && (e = readdir(d));)
        if (strstr(e->d_name, ".diejob-said-")) {
            ck_assert_ptr_null(found);
            found = base_format("%s/%s", folder, e->d_name);
        }
    if (d)
        closedir(d);
    free(folder);
    return found;
}

static void says(const struct two *t, const char *subject, const char *text)
{
    struct base_text told = {0};
    ck_ok(job_remark_beside(t->eva, subject, text, &told, why));
    ck_assert_msg(strstr(base_text_get(&told), "lies beside the job"), "%s", base_text_get(&told));
    base_text_done(&told);
}

/* Ann takes in what is there: so many, and PART is told. */
static void takes_in(const struct two *t, int count, const char *part)
{
    struct base_text told = {0};
    ck_assert_int_eq(job_take_in(t->ann, &told), count);
    ck_assert_msg(strstr(base_text_get(&told), part), "%s", base_text_get(&told));
    base_text_done(&told);
}

static void take(struct job *j, enum base_err err, const struct base_diag *reason)
{
    ck_assert_msg(err == BASE_OK, "%s", reason->message);
    bench_take(j);
}

static struct review_remark last_remark(struct job *j)
{
    struct review_remark list[8];
    int n = review_remarks(job_dieset(j), list, 8);
    ck_assert_int_gt(n, 0);
    return list[n - 1];
}

START_TEST(who_only_looks_is_heard_under_the_name_of_the_account)
{
    struct two t;
    const struct typed_event *e;
    open_two(&t);
    says(&t, "die_plate.thickness", "it's in stock at 36");
    char *note = note_of(&t), *owner = base_format("%s@ws1", getpwuid(getuid())->pw_name);
    ck_assert_ptr_nonnull(note);
    takes_in(&t, 1, " on die_plate.thickness taken in: it's in stock at 36");
    struct review_remark r = last_remark(t.ann);
    ck_assert_str_eq(r.by, owner); /* not eva: the file does not tell */
    ck_assert_str_eq(r.on_item, "die_plate.thickness");
    ck_assert_str_eq(r.says, "it's in stock at 36");
    ck_assert_int_eq(access(note, F_OK), -1);
    ck_assert_int_gt(job_history(t.ann, &e, 1), 0);
    ck_assert_str_eq(e->who, "ann@ws1");
    ck_assert_int_eq(job_new_since(t.ann, e->seq - 1, &e), 1); /* new to her, though she took it in */
    ck_assert(job_refresh(t.eva));
    says(&t, "remark_1", "or at 38");
    takes_in(&t, 1, "on remark_1 taken in");
    ck_assert_str_eq(last_remark(t.ann).answers, "remark_1");
    takes_in(&t, 0, "");
    free(note);
    free(owner);
    close_two(&t);
}
END_TEST

START_TEST(who_only_reads_is_told_what_waits)
{
    struct two t;
    struct base_text told = {0};
    open_two(&t);
    says(&t, "die_plate.thickness", "it's in stock at 36");
    char *note = note_of(&t);
    ck_assert_int_eq(job_take_in(t.eva, &told), 0);
    ck_assert_ptr_nonnull(strstr(base_text_get(&told), "Not taken in yet: "));
    ck_assert_ptr_nonnull(strstr(base_text_get(&told), " on die_plate.thickness: it's in stock at 36"));
    ck_assert_int_eq(access(note, F_OK), 0); /* it waits */
    base_text_clear(&told);
    ck_assert_int_eq(job_take_in(t.eva, &told), 0); /* said once */
    ck_assert_str_eq(base_text_get(&told), "");
    takes_in(&t, 1, "it's in stock at 36");
    base_text_done(&told);
    free(note);
    close_two(&t);
}
END_TEST

/* The same file once more, after its remark was taken in and out again. */
START_TEST(what_was_taken_in_once_is_not_taken_in_again)
{
    struct two t;
    struct base_diag reason = {0};
    char text[400];
    open_two(&t);
    says(&t, "die_plate", "thicker");
    char *note = note_of(&t);
    FILE *f = fopen(note, "r");
    size_t n = fread(text, 1, sizeof text, f);
    fclose(f);
    takes_in(&t, 1, "thicker");
    job_set_who(t.ann, last_remark(t.ann).by);
    take(t.ann, job_unremark(t.ann, "remark_1", &reason), &reason);
    f = fopen(note, "w");
    fwrite(text, 1, n, f);
    fclose(f);
    chmod(note, 0644);
    takes_in(&t, 0, "");
    ck_assert_int_eq(access(note, F_OK), -1);
    ck_assert_int_eq(review_remarks(job_dieset(t.ann), NULL, 0), 0);
    free(note);
    close_two(&t);
}
END_TEST

/* What somebody else may have put there, or written into, is nobody's remark: it stays, and is told. */
static const struct {
    const char *how, *told;
} wrong[] = {
    {"open to others", "others than its owner may write to it"},
    {"two names", "it has several names"},
    {"a link", "it cannot be read"},
    {"a pipe", "it is no plain file"},
    {"long", "it is too long for a remark"},
    {"junk", "it is no record text"},
    {"other words", "it is no remark"},
    {"another job", "it was said of another job"},
    {"no such item", "The job has no item, value or open finding \"gone\""},
};

static void spoil(const char *how, char *note)
{
    char *aside = base_format("%.*s/aside", (int)(strrchr(note, '/') - note), note);
    const char *text = strcmp(how, "junk") == 0          ? "\033[2J\n"
                       : strcmp(how, "other words") == 0 ? "waiver\n  says it\n"
                       : strcmp(how, "another job") == 0 ? "remark\n  job 0123456789abcdef\n  on die_plate\n"
                                                         : NULL;
    if (strcmp(how, "open to others") == 0)
        ck_assert_int_eq(chmod(note, 0664), 0);
    else if (strcmp(how, "two names") == 0)
        ck_assert_int_eq(link(note, aside), 0);
    else if (strcmp(how, "a link") == 0)
        ck_assert_int_eq(rename(note, aside) || symlink(aside, note), 0);
    else if (strcmp(how, "a pipe") == 0)
        ck_assert_int_eq(unlink(note) || mkfifo(note, 0644), 0);
    else if (strcmp(how, "long") == 0)
        ck_assert_int_eq(truncate(note, 5000), 0);
    else if (text) {
        FILE *f = fopen(note, "w");
        fputs(text, f);
        fclose(f);
    }
    free(aside);
}

START_TEST(nobody_speaks_as_somebody_else)
{
    struct two t;
    struct base_diag reason = {0};
    open_two(&t);
    bool gone = strcmp(wrong[_i].how, "no such item") == 0;
    if (gone)
        take(t.ann, job_add(t.ann, "values", "gone", -1, &reason), &reason);
    job_refresh(t.eva);
    says(&t, gone ? "gone" : "die_plate", "thicker");
    if (gone)
        take(t.ann, job_remove(t.ann, "gone", &reason), &reason);
    char *note = note_of(&t);
    spoil(wrong[_i].how, note);
    takes_in(&t, 0, wrong[_i].told);
    ck_assert_int_eq(review_remarks(job_dieset(t.ann), NULL, 0), 0);
    struct stat s;
    ck_assert_int_eq(lstat(note, &s), 0);
    free(note);
    close_two(&t);
}
END_TEST

/* Root may write anywhere: for it alone the folder is taken away. */
START_TEST(a_closed_folder_gives_a_line_to_send)
{
    struct two t;
    struct base_text told = {0};
    struct base_diag reason = {0};
    open_two(&t);
    char *folder = base_copy_n(t.path, (size_t)(strrchr(t.path, '/') - t.path)),
         *away = base_format("%s.away", folder);
    ck_assert_int_eq(rename(folder, away), 0);
    ck_ok(job_remark_beside(t.eva, "die_plate", "it's thin", &told, why));
    ck_assert_msg(strstr(base_text_get(&told), "diewright remark 'two' 'die_plate' 'it'\\''s thin'\n"), "%s",
                  base_text_get(&told));
    ck_assert_int_eq(rename(away, folder), 0);
    ck_assert_int_eq(job_remark_beside(t.eva, "die_plate", "", &told, &reason), BASE_REFUSED);
    ck_assert_int_eq(job_remark_beside(t.eva, "die_plait", "x", &told, &reason), BASE_UNKNOWN);
    ck_assert_int_eq(job_remark_beside(t.eva, "die_plate", "a\nb", &told, &reason), BASE_REFUSED);
    base_text_done(&told);
    free(folder);
    free(away);
    close_two(&t);
}
END_TEST

TCase *beside_tests(void)
{
    TCase *t = tcase_create("beside");
    tcase_add_unchecked_fixture(t, bench_open_handbook, bench_close_handbook);
    tcase_add_test(t, who_only_looks_is_heard_under_the_name_of_the_account);
    tcase_add_test(t, who_only_reads_is_told_what_waits);
    tcase_add_test(t, what_was_taken_in_once_is_not_taken_in_again);
    tcase_add_loop_test(t, nobody_speaks_as_somebody_else, 0, COUNT_OF(wrong));
    tcase_add_test(t, a_closed_folder_gives_a_line_to_send);
    return t;
}
