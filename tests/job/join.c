/* Two copies of a job that were edited apart, brought together. */

#include "bench.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define JOB "tests/job/all-sorts.txt"

/* Mine is Ann's, theirs is Eva's; the job that both began with is written as two files. */
struct pair {
    struct job *mine, *theirs;
    struct job_join *join;
};

static void part(struct pair *p)
{
    char *path, *folder = base_copy(fresh_folder()), *other = base_format("%s/mail.diejob", folder);
    *p = (struct pair){0};
    p->theirs = bench_disk(folder, "bench", JOB, &path);
    ck_ok(job_save_as(p->theirs, other, why)); /* it goes on there */
    ck_ok(job_open(bench_handbook, path, false, &p->mine, why));
    job_set_who(p->mine, "ann@ws1");
    job_set_who(p->theirs, "eva@ws2");
    free(other);
    free(folder);
    free(path);
}

static void close_pair(struct pair *p)
{
    job_join_free(p->join);
    job_close(p->mine);
    job_close(p->theirs);
}

/* Held side by side anew, MINE into which THEIRS is to come. */
static void hold(struct pair *p, bool swapped)
{
    job_join_free(p->join);
    ck_ok(job_join_new(swapped ? p->theirs : p->mine, swapped ? p->mine : p->theirs, &p->join, why));
}

/* The difference NAME; fails the test when there is none. */
static struct job_joined named(struct pair *p, const char *name)
{
    struct base_text all = {0};
    for (int i = 0; i < job_join_count(p->join); i++) {
        struct job_joined x = job_join_at(p->join, i);
        if (strcmp(x.name, name) == 0) {
            base_text_done(&all);
            return x;
        }
        base_text_addf(&all, "%s, ", x.name);
    }
    ck_abort_msg("%s does not differ: %s", name, base_text_get(&all));
}

static int take(struct pair *p)
{
    int taken;
    ck_ok(job_join_take(p->join, &taken, why));
    return taken;
}

#define did(j, call)   \
    do {               \
        ck_ok(call);   \
        bench_take(j); \
    } while (0)

/* What each does, in the order in which both would have done it in one file. */
static void mine_does(struct job *j)
{
    bench_set(j, "die_plate.thickness", "36 mm");
    bench_set(j, "posts.diameter", "40 mm");
    did(j, job_rename(j, "die_plate", "matrix", why));
    did(j, job_rename(j, "first_grind", "grind_of_march", why));
    did(j, job_reason(j, "posts.lay.side", "as drawn", why));
    did(j, job_outline_insert(j, "cover", 0, "line by 0 mm, 0.5 mm", why));
}

static void theirs_does(struct job *j, const char *die_plate)
{
    char *path = base_format("%s.width", die_plate);
    bench_set(j, "posts.diameter", "25 mm");
    bench_set(j, "heights.twice", "heights.half * 3");
    bench_set(j, path, "usual + 30 mm");
    did(j, job_add(j, "sharpening", "third_grind", -1, why));
    bench_set(j, "third_grind.off_die", "0.2 mm");
    did(j, job_add_like(j, "die_screws", "more_screws", why));
    bench_set(j, "more_screws.lay.end", "60 mm");
    bench_set(j, "more_screws.size", "\"M6\"");
    bench_set(j, "die_screws.right_back.x", "usual - 7 mm");
    did(j, job_rename(j, "die_screws", "lower_screws", why));
    did(j, job_rename(j, "hole_pair", "pilot_pair", why));
    did(j, job_move(j, "lower_shoe", dieset_find_item(job_dieset(j), "stripper"), why));
    free(path);
}

START_TEST(what_each_did_stands_in_the_end_as_if_both_had_worked_in_one_file)
{
    struct pair p;
    const struct typed_event *e;
    struct job *one = bench_file(JOB);
    part(&p);
    mine_does(p.mine);
    theirs_does(p.theirs, "die_plate");
    char *before = job_dump(p.theirs);
    long events = job_history(p.theirs, &e, 1000);
    hold(&p, false);
    struct job_joined x = named(&p, "posts.diameter");
    ck_assert(x.clash && x.side < 0);
    ck_assert_str_eq(x.was, "32 mm; reason four posts");
    ck_assert_str_eq(x.is[JOB_MINE], "40 mm; reason four posts");
    ck_assert_str_eq(x.is[JOB_THEIRS], "25 mm; reason four posts");
    ck_assert_str_eq(x.who[JOB_MINE], "ann@ws1");
    ck_assert_str_eq(x.who[JOB_THEIRS], "eva@ws2");
    ck_assert_int_eq(job_join_open(p.join), 1);
    ck_assert_int_eq(named(&p, "matrix.width").side, JOB_THEIRS);
    ck_assert_int_eq(named(&p, "matrix.thickness").side, JOB_MINE);
    ck_assert_str_eq(named(&p, "name of die_screws").is[JOB_THEIRS], "lower_screws");
    ck_ok(job_join_choose(p.join, "posts.diameter", JOB_THEIRS, why));
    ck_assert_int_gt(take(&p), 5);
    mine_does(one);
    theirs_does(one, "matrix");
    char *is = dieset_text_write_set(job_dieset(p.mine)), *wanted = dieset_text_write_set(job_dieset(one));
    ck_assert_msg(strcmp(is, wanted) == 0, "%.3000s", is);
    bench_same_when_fresh(p.mine);
    char *after = job_dump(p.theirs); /* the other file is only read */
    ck_assert_str_eq(before, after);
    ck_assert_int_eq(job_history(p.theirs, &e, 1000), events);
    free(before);
    free(after);
    free(is);
    free(wanted);
    job_close(one);
    close_pair(&p);
}
END_TEST

START_TEST(each_edit_that_is_joined_tells_who_made_it_and_is_taken_back_alone)
{
    struct pair p;
    const struct typed_event *e;
    part(&p);
    bench_set(p.theirs, "die_plate.thickness", "34 mm");
    bench_set(p.theirs, "punch_plate.thickness", "24 mm");
    for (int i = 35; i < 39; i++) { /* steps are one */
        char *text = base_format("%d mm", i);
        bench_set(p.theirs, "die_plate.thickness", text);
        free(text);
    }
    hold(&p, false);
    ck_assert_int_eq(job_join_count(p.join), 2);
    ck_assert_int_eq(take(&p), 2);
    ck_assert_int_eq(job_history(p.mine, &e, 3), 3);
    ck_assert_str_eq(e[0].title, "joined with mail up to its edit 7");
    ck_assert_str_eq(e[1].who, "ann@ws1");
    ck_assert_ptr_nonnull(strstr(e[1].title, "joined, eva@ws2 20"));
    ck_assert_ptr_nonnull(strstr(e[1].title, ": die_plate.thickness 32 mm -> 38 mm"));
    ck_ok(job_undo(p.mine, why));
    ck_assert_str_eq(bench_print(p.mine, "die_plate.thickness"), "32.0 mm");
    ck_assert_str_eq(bench_print(p.mine, "punch_plate.thickness"), "24.0 mm");
    close_pair(&p);
}
END_TEST

/* What was settled is not asked again, from either side; what is new since is. */
START_TEST(joined_again_only_what_is_new_is_asked)
{
    struct pair p;
    part(&p);
    did(p.mine, job_rename(p.mine, "posts", "guides", why));
    bench_set(p.mine, "die_plate.thickness", "36 mm");
    bench_set(p.theirs, "die_plate.thickness", "40 mm");
    bench_set(p.theirs, "punch_plate.thickness", "24 mm");
    hold(&p, false);
    ck_ok(job_join_choose(p.join, "all", JOB_MINE, why));
    take(&p);
    bench_set(p.mine, "punch_plate.thickness", "26 mm");
    hold(&p, false);
    ck_assert_int_eq(job_join_open(p.join), 0);
    ck_assert_int_eq(job_join_taken(p.join), 0);
    hold(&p, true); /* into the other one: all that differs comes from here */
    ck_assert_int_eq(job_join_open(p.join), 0);
    ck_assert_int_eq(job_join_taken(p.join), job_join_count(p.join));
    ck_assert_str_eq(named(&p, "name of posts").is[JOB_THEIRS], "guides");
    take(&p);
    char *a = dieset_text_write_set(job_dieset(p.mine)), *b = dieset_text_write_set(job_dieset(p.theirs));
    ck_assert_str_eq(a, b);
    hold(&p, false);
    ck_assert_int_eq(job_join_count(p.join), 0);
    hold(&p, true);
    ck_assert_int_eq(job_join_count(p.join), 0);
    free(a);
    free(b);
    close_pair(&p);
}
END_TEST

START_TEST(what_both_said_stands_side_by_side)
{
    struct pair p;
    struct review_remark r[8];
    const struct finding *list;
    part(&p);
    did(p.mine, job_remark(p.mine, "die_plate", "in stock at 36", why));
    did(p.theirs, job_remark(p.theirs, "posts", "longer is safer", why));
    did(p.theirs, job_remark(p.theirs, "remark_1", "or wider", why));
    ck_assert_int_gt(findings_list(job_findings(p.mine), &list), 0);
    char *key = base_copy(list[0].key);
    did(p.mine, job_waive(p.mine, key, "as on the last set", why));
    did(p.theirs, job_waive(p.theirs, key, "the customer knows", why));
    hold(&p, false);
    struct job_joined x = named(&p, "waiver_1");
    ck_assert(x.clash);
    ck_assert_ptr_nonnull(strstr(x.is[JOB_THEIRS], ": the customer knows"));
    ck_ok(job_join_choose(p.join, "waiver_1", JOB_THEIRS, why));
    take(&p);
    ck_assert_int_eq(review_remarks(job_dieset(p.mine), r, 8), 3);
    for (int i = 0; i < 3; i++) {
        if (strcmp(r[i].says, "or wider") != 0)
            continue;
        int answered = dieset_find_item(job_dieset(p.mine), r[i].answers);
        ck_assert_str_eq(r[i].by, "eva@ws2");
        ck_assert_str_eq(dieset_entry(job_dieset(p.mine), answered, "says"), "longer is safer");
        ck_assert_str_eq(dieset_entry(job_dieset(p.mine), answered, "item"), "posts");
    }
    struct review_waiver w[4];
    ck_assert_int_eq(review_waivers(job_findings(p.mine), w, 4), 1);
    ck_assert_str_eq(w[0].says, "the customer knows");
    ck_assert_str_eq(w[0].by, "eva@ws2");
    did(p.theirs, job_remark_done(p.theirs, "remark_1", true, why));
    hold(&p, false);
    ck_assert_int_eq(job_join_taken(p.join), 1);
    take(&p);
    ck_assert_int_eq(review_open_remarks(job_dieset(p.mine), NULL, "posts"), 0);
    free(key);
    close_pair(&p);
}
END_TEST

/* Taken out there, and worked on here. */
START_TEST(what_one_took_out_and_the_other_changed_is_asked)
{
    struct pair p;
    struct base_diag no = {0};
    part(&p);
    did(p.theirs, job_remove(p.theirs, "punch_backing", why));
    did(p.theirs, job_remove(p.theirs, "second_grind", why));
    bench_set(p.mine, "punch_backing.thickness", "12 mm");
    bench_set(p.mine, "heights.half", "second_grind.off_die * 100");
    hold(&p, false);
    struct job_joined x = named(&p, "punch_backing");
    ck_assert(x.clash && !x.stuck);
    ck_assert_ptr_null(x.is[JOB_THEIRS]);
    x = named(&p, "second_grind"); /* a formula here reads it */
    ck_assert(x.clash && x.stuck);
    ck_assert_ptr_nonnull(strstr(x.stuck, "second_grind"));
    ck_assert_int_ne(job_join_choose(p.join, "second_grind", JOB_THEIRS, &no), BASE_OK);
    ck_assert_int_eq(named(&p, "second_grind").side, -1);
    ck_ok(job_join_choose(p.join, "punch_backing", JOB_THEIRS, why));
    take(&p);
    ck_assert_int_lt(dieset_find_item(job_dieset(p.mine), "punch_backing"), 0);
    ck_assert_int_ge(dieset_find_item(job_dieset(p.mine), "second_grind"), 0);
    hold(&p, false); /* it was not chosen: it stands there still */
    ck_assert_int_eq(job_join_open(p.join), 1);
    close_pair(&p);
}
END_TEST

START_TEST(a_clash_tells_what_each_brings)
{
    struct pair p;
    struct base_text brings[JOB_SIDES] = {{0}, {0}};
    part(&p);
    bench_set(p.mine, "die_screws.size", "\"M8\"");
    bench_set(p.mine, "die_plate.thickness", "34 mm");
    bench_set(p.theirs, "die_plate.thickness", "8 mm");
    hold(&p, false);
    ck_assert_str_eq(job_join_at(p.join, 0).name, "die_plate.thickness");
    job_join_brings(p.join, 0, brings);
    ck_assert_msg(strstr(base_text_get(&brings[JOB_THEIRS]), "fault "), "%s | %s",
                  base_text_get(&brings[JOB_MINE]), base_text_get(&brings[JOB_THEIRS]));
    ck_assert_ptr_null(strstr(base_text_get(&brings[JOB_MINE]), "fault "));
    ck_assert(!job_trying(p.mine));
    for (int s = 0; s < JOB_SIDES; s++)
        base_text_done(&brings[s]);
    close_pair(&p);
}
END_TEST

static struct job *sound(const char *folder, const char *name, char **path)
{
    return bench_disk(folder, name, "data/demo/cover-plate.txt", path);
}

/* The demo job has no fault: it can be issued. */
static void part_sound(struct pair *p)
{
    char *path, *folder = base_copy(fresh_folder()), *other = base_format("%s/mail.diejob", folder);
    *p = (struct pair){0};
    p->theirs = sound(folder, "bench", &path);
    ck_ok(job_save_as(p->theirs, other, why));
    ck_ok(job_open(bench_handbook, path, false, &p->mine, why));
    job_set_who(p->mine, "ann@ws1");
    job_set_who(p->theirs, "eva@ws2");
    free(other);
    free(folder);
    free(path);
}

START_TEST(a_revision_of_the_other_copy_stands_as_it_was_issued)
{
    struct pair p;
    struct job *was;
    part_sound(&p);
    bench_set(p.theirs, "die_backing.thickness", "16 mm");
    did(p.theirs, job_rename(p.theirs, "posts", "guides", why));
    did(p.theirs, job_issue(p.theirs, NULL, "to be built", why));
    bench_set(p.theirs, "upper_shoe.thickness", "56 mm");
    did(p.mine, job_remark(p.mine, "posts", "are they in stock?", why));
    hold(&p, false);
    take(&p);
    struct review_revision r;
    ck_assert(review_latest(job_dieset(p.mine), &r));
    ck_assert_str_eq(r.letter, "A");
    ck_assert_str_eq(r.by, "eva@ws2");
    ck_assert_str_eq(bench_print(p.mine, "upper_shoe.thickness"), "56.0 mm");
    ck_ok(job_revision(p.mine, "A", &was, why));
    ck_assert_str_eq(bench_print(was, "upper_shoe.thickness"), "50.0 mm");
    ck_assert_int_eq(job_edits_since(p.mine, "A"), 1);
    job_close(was);
    hold(&p, false);
    ck_assert_int_eq(job_join_taken(p.join), 0);
    close_pair(&p);
}
END_TEST

START_TEST(what_was_issued_is_not_mixed)
{
    struct pair p;
    struct base_diag no = {0};
    part_sound(&p);
    bench_set(p.theirs, "die_backing.thickness", "16 mm");
    did(p.theirs, job_issue(p.theirs, NULL, "", why));
    bench_set(p.mine, "lower_shoe.thickness", "52 mm");
    ck_assert_int_eq(job_join_new(p.mine, p.theirs, &p.join, &no), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(no.message, "Revision A was issued in the other copy (eva@ws2, "));
    ck_assert_ptr_nonnull(strstr(no.message, "so join this one into it"));
    did(p.mine, job_issue(p.mine, NULL, "", why));
    ck_assert_int_eq(job_join_new(p.mine, p.theirs, &p.join, &no), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(no.message, "Both copies were issued since they parted: A here (ann@ws1, "));
    did(p.mine, job_withdraw(p.mine, "A", "not built", why));
    hold(&p, true); /* mine into the one that was issued */
    take(&p);
    ck_assert_str_eq(bench_print(p.theirs, "lower_shoe.thickness"), "52.0 mm");
    ck_assert_int_eq(job_edits_since(p.theirs, "A"), 1);
    close_pair(&p);
}
END_TEST

START_TEST(jobs_that_are_no_copies_are_not_joined)
{
    struct pair p;
    struct base_diag no = {0};
    part(&p);
    struct job *other = bench_file("data/demo/cover-plate.txt");
    ck_assert_int_eq(job_join_new(p.mine, other, &p.join, &no), BASE_REFUSED);
    ck_assert_ptr_nonnull(strstr(no.message, "no copies of one job"));
    job_close(other);
    bench_set(p.theirs, "die_plate.thickness", "36 mm");
    hold(&p, false);
    ck_assert_int_eq(job_join_choose(p.join, "die_plate.thicknes", JOB_MINE, &no), BASE_UNKNOWN);
    ck_assert_ptr_nonnull(strstr(no.message, "near it: die_plate.thickness"));
    bench_set(p.mine, "punch_plate.thickness", "24 mm"); /* since it was looked at */
    int taken;
    ck_assert_int_eq(job_join_take(p.join, &taken, &no), BASE_CONFLICT);
    ck_assert_str_eq(bench_print(p.mine, "die_plate.thickness"), "32.0 mm");
    close_pair(&p);
}
END_TEST

TCase *join_tests(void)
{
    TCase *t = tcase_create("join");
    tcase_add_unchecked_fixture(t, bench_open_handbook, bench_close_handbook);
    tcase_add_test(t, what_each_did_stands_in_the_end_as_if_both_had_worked_in_one_file);
    tcase_add_test(t, each_edit_that_is_joined_tells_who_made_it_and_is_taken_back_alone);
    tcase_add_test(t, joined_again_only_what_is_new_is_asked);
    tcase_add_test(t, what_both_said_stands_side_by_side);
    tcase_add_test(t, what_one_took_out_and_the_other_changed_is_asked);
    tcase_add_test(t, a_clash_tells_what_each_brings);
    tcase_add_test(t, a_revision_of_the_other_copy_stands_as_it_was_issued);
    tcase_add_test(t, what_was_issued_is_not_mixed);
    tcase_add_test(t, jobs_that_are_no_copies_are_not_joined);
    return t;
}
