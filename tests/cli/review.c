/* remark, waive, issue, history: what check counts, what stands in the dump, what is refused and when. */

#include "suites.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static char *cell(struct bench *b, const char *line, int status, const char *first, int column)
{
    struct said s = bench_want(b, line, status);
    char *text = rows_find(s.out, first, NULL, column);
    said_done(&s);
    return text;
}

static void expect(struct bench *b, const char *line, int status, const char *says)
{
    struct said s = bench_run(b, line);
    ck_assert_msg(s.status == status && (strstr(s.out, says) || strstr(s.err, says)),
                  "%s: %d, %.1500s%.1500s", line, s.status, s.out, s.err);
    said_done(&s);
}

static char *csv_of(struct bench *b, const char *line)
{
    struct said s = bench_want(b, line, 0);
    char *text = base_copy(s.out);
    said_done(&s);
    return text;
}

START_TEST(what_is_waived_is_not_open_and_opens_when_the_margin_shrinks)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    bench_do(&b, "d check cp", 1);
    expect(&b, "d check cp cq", 3, "There is no job file cq.diejob.");
    expect(&b, "USER=mh d waive cp opening-wall-straight used so for years", 0,
           "Taken: waived opening-wall-straight blank: used so for years\n- caution: From the opening");
    bench_do(&b, "d check cp", 1);
    expect(&b, "USER=mh d waive cp 'turn-proof die_plate' 'front is \"marked\"'", 0, "Taken: ");
    expect(&b, "d check cp", 0, "0 faults, 0 cautions, ");
    expect(&b, "d check cp", 0, ", 2 waived\n");
    expect(&b, "d check cp", 0, " ~ waived  turn-proof ");
    expect(&b, "d check cp", 0, "    waived: a caution, by mh on 2");
    free(cell(&b, "d check cp --format csv", 0, "waived", 0));
    /* exact but for the time */
    char *csv = csv_of(&b, "d waive cp --format csv | sed 's/20[0-9-]*T[0-9:+-]*/WHEN/'");
    ck_assert_str_eq(
        csv, "waiver,finding,stands,grade,states,margin,by,when,says\r\n"
             "waiver_1,opening-wall-straight blank,holds,caution,new,'-9.5 mm,mh,WHEN,used so for years\r\n"
             "waiver_2,turn-proof die_plate,holds,caution,new,'-1 mm,mh,WHEN,"
             "\"front is \"\"marked\"\"\"\r\n");
    free(csv);
    /* the wall shrinks below what was waived */
    expect(&b, "d set cp 'die_plate.length=262 mm'", 0, "+ caution: From the opening of blank");
    expect(&b, "d check cp", 1, "1 caution");
    expect(&b, "d waive cp", 0, "open again");
    bench_do(&b, "d set cp 'die_plate.length=283 mm' 'die_backing.length=283 mm'", 0);
    expect(&b, "d waive cp --format csv", 0, ",waives nothing,");
    expect(&b, "d check cp", 0, "Waives nothing any more: opening-wall-straight blank, by mh on 2");
    expect(&b, "d waive cp 'opening-wall-straight blank' --back --others", 0, "waiver_1 taken out");
    expect(&b, "d waive cp turn-proof --back --others", 0, "+ caution: die plate also goes on turned");
    expect(&b, "d waive cp", 0, "Nothing is waived.");
}
END_TEST

START_TEST(remarks_are_kept_listed_and_taken_back)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    expect(&b, "d remark cp", 0, "No remarks.");
    bench_do(&b, "USER=lead d remark cp die_plate.thickness why not 36, as last time", 0);
    bench_do(&b, "USER=lead d remark cp turn-proof 'move one dowel'", 0);
    char *csv = csv_of(&b, "d remark cp --format csv | sed 's/20[0-9-]*T[0-9:+-]*/WHEN/'");
    ck_assert_str_eq(csv, "remark,item,finding,by,when,answers,done,done_by,says\r\n"
                          "remark_1,die_plate.thickness,,lead,WHEN,,,,\"why not 36, as last time\"\r\n"
                          "remark_2,,turn-proof die_plate,lead,WHEN,,,,move one dowel\r\n");
    free(csv);
    bench_do(&b, "d dump cp >a.txt && d load again a.txt && d dump again | cmp - a.txt", 0);
    expect(&b, "USER=lead d remark cp remark_1 --back", 0, "Taken: remark_1 taken out");
    expect(&b, "d remark cp", 0, "remark_2");
    expect(&b, "d remark cp remark_2 which way", 0, "Taken: answer to remark_2: which way");
    expect(&b, "d remark cp remark_2 --done", 0, "Taken: remark_2 done: move one dowel");
    expect(&b, "d remark cp remark_2 --done", 2, "remark_2 is done already.");
    expect(&b, "d remark cp remark_2 --done --back", 2, "One remark is taken back, done or open again");
}
END_TEST

START_TEST(a_release_is_refused_while_faults_are_open_and_history_tells_what_came_since)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    bench_do(&b, "d set cp 'die_plate.thickness=40 mm'", 0);
    expect(
        &b, "d issue cp", 2,
        "Not issued: 1 fault is open, first post-end: posts: the posts' ends stand 3.3 mm out of upper shoe");
    expect(&b, "d waive cp post-end", 2, "post-end posts is a fault: it is waived only with a reason.");
    bench_do(&b, "d waive cp post-end the slide is cut away there", 0);
    expect(&b, "USER=mh d issue cp --note 'first issue'", 0, "Taken: revision A issued: first issue");
    expect(&b, "d issue cp A", 2, "Revision A was issued on 2");
    expect(&b, "d history cp --since a", 0, "Nothing was changed since revision a.");
    bench_do(&b, "USER=jo d set cp 'strip.width=60.5 mm'", 0);
    char *csv = csv_of(&b, "d history cp --since A --format csv | sed 's/20[0-9-]*T[0-9:+-]*/WHEN/'");
    ck_assert_str_eq(csv, "number,when,who,undone,what\r\n5,WHEN,jo,no,strip.width 60 mm -> 60.5 mm\r\n");
    free(csv);
    expect(&b, "d issue cp c", 0, "revision C issued\n");
    expect(&b, "d dump cp", 0, "\nrevision revision_1\n  letter A\n  by mh\n  on 2");
    bench_do(&b, "d dump cp >a.txt && d load again a.txt && d dump again | cmp - a.txt", 0);
}
END_TEST

#define SMALL \
    "printf 'job\n\nvalues own\n  a : number = 1\n  b : number = 1\n' >small.txt && d load s small.txt"
#define ANN "USER=ann DIEWRIGHT_HOST=ws1 d "
#define BEA "USER=bea DIEWRIGHT_HOST=ws2 d "

START_TEST(undo_is_ones_own_and_somebody_elses_is_named)
{
    struct bench b;
    bench_open(&b, NULL);
    bench_do(&b, SMALL, 0);
    expect(&b, ANN "undo s", 2, "This is where the job began: there is nothing before it.");
    bench_do(&b, ANN "set s own.a=2", 0);
    bench_do(&b, BEA "set s own.b=2", 0);
    expect(&b, ANN "undo s", 0, "undone: own.a 1 -> 2\n");
    expect(&b, "d dump s", 0, "  a : number = 1\n  b : number = 2\n");
    expect(&b, ANN "redo s", 0, "done again: own.a 1 -> 2\n");
    expect(&b, BEA "undo s 2", 2, "own.a 1 -> 2 is no edit of yours: ann@ws1 made it at 2");
    expect(&b, BEA "undo s 2", 2, "With --others it is done all the same.");
    expect(&b, "d dump s", 0, "  a : number = 2\n  b : number = 2\n");
    expect(&b, BEA "undo s 2 --others", 0, "undone: own.a 1 -> 2\n");
    expect(&b, ANN "redo s", 2, "own.a 1 -> 2 is no edit of yours: bea@ws2 took it back at 2");
    bench_do(&b, BEA "redo s", 0);
    bench_do(&b, BEA "set s own.a=3", 0);
    expect(&b, ANN "undo s", 2, "own.a 1 -> 2 cannot be taken back: bea@ws2's edit of 2");
    expect(&b, ANN "undo s 77", 2, "The history has no edit 77.");
    expect(&b, ANN "undo s x", 2, "\"x\" is no number of an edit: history tells them.");
    /* the same name elsewhere is somebody else */
    expect(&b, "USER=ann DIEWRIGHT_HOST=ws3 d undo s 2", 2, "ann@ws1 made it at 2");
    expect(&b, "d history s", 0, " bea@ws2 ");
}
END_TEST

START_TEST(a_revision_is_withdrawn_with_a_reason_and_never_undone)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    expect(&b, ANN "issue cp --note first", 0, "Taken: revision A issued: first");
    expect(&b, ANN "undo cp", 2, "There is nothing to undo: ");
    expect(&b, ANN "undo cp 2", 2, "2 is no step of undo: revision A issued: first.");
    expect(&b, "d order cp", 0, ", revision A, sum ");
    expect(&b, "d stroke cp", 0, ", revision A, sum ");
    expect(&b, BEA "withdraw cp A", 2, "The command withdraw needs more than stands here.");
    expect(&b, BEA "withdraw cp b a wrong steel", 2, "The job has no revision \"b\".");
    expect(&b, BEA "withdraw cp a a wrong steel", 0, "Taken: revision A withdrawn: a wrong steel");
    expect(&b, "d order cp | tr -s '\\n ' ' '", 0, ", not issued; revision A was withdrawn on 2");
    expect(&b, "d review cp", 0, " by bea@ws2: a wrong steel");
    expect(&b, "d issue cp A", 2, " and withdrawn on 2");
    bench_do(&b, "d dump cp >a.txt && d load again a.txt", 0);
    expect(&b, "d issue again", 0, "Taken: revision B issued");
    expect(&b, "d review again", 0, "withdrawn 2");
}
END_TEST

START_TEST(what_somebody_else_said_is_taken_out_only_when_named)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    bench_do(&b, ANN "remark cp die_plate why so", 0);
    bench_do(&b, ANN "waive cp turn-proof marked", 0);
    expect(&b, BEA "remark cp remark_1 --back", 2, "remark_1 is not yours: ann@ws1 said it at 2");
    expect(&b, BEA "waive cp turn-proof --back", 2, "waiver_1 is not yours: ann@ws1 said it at 2");
    expect(&b, BEA "waive cp turn-proof --back --others", 0, "Taken: waiver_1 taken out");
    expect(&b, ANN "remark cp remark_1 --back", 0, "Taken: remark_1 taken out");
}
END_TEST

START_TEST(a_waiver_that_lapsed_says_whose_it_was_and_at_which_margin)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    bench_do(&b, "d set cp 'die_plate.thickness=42 mm'", 0);
    bench_do(&b, ANN "waive cp post-end cut away there", 0);
    bench_do(&b, "d set cp 'die_plate.thickness=44 mm'", 0);
    expect(&b, "d check cp | tr -s '\\n ' ' '", 0, "open again: waived by ann@ws1 on 2");
    expect(&b, "d review cp | tr -s '\\n ' ' '", 0, "open again: waived by ann@ws1 on 2");
    char *margin = csv_of(&b, "d waive cp --format csv | grep -o -- '-[0-9.]* mm'"),
         *says = base_format(" at a margin of %.*s", (int)strcspn(margin, "\n"), margin);
    expect(&b, "d check cp | tr -s '\\n ' ' '", 0, says);
    free(margin);
    free(says);
}
END_TEST

/* The account that runs the tests and its machine, as other programs tell them; nobody is who the environment
   says. */
START_TEST(who_is_the_account_whatever_the_environment_says)
{
    struct bench b;
    bench_open(&b, NULL);
    bench_do(&b, SMALL, 0);
    bench_do(&b,
             "real=${P%-test}; [ \"$real\" != \"$P\" ] && USER=boss LOGNAME=boss DIEWRIGHT_HOST=elsewhere "
             "\"$real\" --data \"$DATA\" set s own.a=2",
             0);
    bench_do(&b, "d history s --format csv | grep \",$(id -un)@$(uname -n),no,own.a\"", 0);
}
END_TEST

/* What the papers of JOB say to be open is as many findings as check lists: no less than LEAST. */
static void same_count(struct bench *b, const char *job, int least)
{
    static const char *const grades[] = {"fault", "caution"};
    int n[COUNT_OF(grades)];
    for (size_t i = 0; i < COUNT_OF(grades); i++) {
        char *line = base_format("d check %s --format csv | grep -c '^%s,'; true", job, grades[i]),
             *text = csv_of(b, line);
        n[i] = atoi(text);
        free(line);
        free(text);
    }
    ck_assert_int_ge(n[0] + n[1], least);
    char *line = base_format("d order %s", job),
         *says = base_format("\n%d fault%s and %d caution%s are open: the list of findings tells each.\n",
                             n[0], n[0] == 1 ? "" : "s", n[1], n[1] == 1 ? "" : "s");
    expect(b, line, 0, says);
    free(says);
    free(line);
}

START_TEST(papers_say_what_is_open)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    bench_do(&b, SMALL, 0);
    same_count(&b, "s", 4);
    bench_do(&b, "d set cp die_plate.thickness=40", 0);
    same_count(&b, "cp", 3);
    bench_do(&b, "d waive cp turn-proof 'front is marked'", 0);
    same_count(&b, "cp", 2);
}
END_TEST

static const char *const papers[] = {"check",      "review", "stroke", "order",
                                     "sharpening", "holes",  "plan",   "section"};

START_TEST(papers_say_of_which_revision_they_are)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    char *paper = base_format("d %s cp%s | tr -s '\n ' ' '; true", papers[_i],
                              strcmp(papers[_i], "plan") == 0 ? " die_plate" : "");
    bench_do(&b, "d dump cp | sed '2s/.*/  title Own job/' >own.txt && rm cp.diejob && d load cp own.txt", 0);
    expect(&b, paper, 0, "Own job, not issued ");
    /* the word that it had before */
    expect(&b, "d release cp 2>&1", 0, "diewright: release is called issue now.\nTaken: revision A issued\n");
    bench_do(&b, "d remark cp die_plate hello", 0); /* changes no paper */
    char *sum = csv_of(&b, "d dump cp | sed -n 's/^  sum //p'"),
         *says = base_format("Own job, revision A, sum %.16s ", sum);
    ck_assert_uint_eq(strlen(sum), 17);
    expect(&b, paper, 0, says);
    bench_do(&b, "d set cp 'die_plate.thickness=40 mm'", 0);
    expect(&b, paper, 0, "Own job, revision A with 1 edit since, not issued ");
    /* the edits stand in the file that it came from */
    bench_do(&b, "d dump cp >a.txt && d load again a.txt && mv again.diejob cp.diejob", 0);
    expect(&b, paper, 0, "Own job, revision A edited since, not issued ");
    bench_do(&b, "d set cp 'die_plate.thickness=34 mm'", 0);
    expect(&b, paper, 0, says);
    free(says);
    free(sum);
    free(paper);
}
END_TEST

START_TEST(the_review_is_a_paper_of_what_stands_and_was_said_and_done)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    bench_do(&b, "USER=mh d waive cp turn-proof front is marked", 0);
    bench_do(&b, "USER=mh d waive cp opening-wall-straight soft strip", 0);
    bench_do(&b, "USER=kl d issue cp --note 'first issue'", 0);
    bench_do(&b, "USER=kl d set cp 'die_plate.length=262 mm' 'posts.length=250 mm'", 0);
    bench_do(&b, "USER=kl d remark cp die_plate ask for the steel", 0);
    /* exact but for the time and the notes */
    char *csv = csv_of(&b,
                       "d review cp --format csv | grep -v '^open,note\\|^open,fault\\|^order\\|^moved' | "
                       "sed "
                       "'s/20[0-9-]*T[0-9:+-]*/WHEN/; s/,[0-9a-f]\\{16\\},/,SUM,/' | cut -c1-68 | head -16");
    ck_assert_str_eq(csv, "part,grade,name,state,value,usual,by,when,says\r\n"
                          "open,caution,opening-wall-straight blank,new,,,,,\"From the opening o\n"
                          "waived,caution,turn-proof die_plate,new,'-1 mm,,mh,WHEN,front is mar\n"
                          "open again,caution,opening-wall-straight blank,new,'-9.5 mm,,mh,WHEN\n"
                          "remark,,die_plate,,,,kl,WHEN,ask for the steel\r\n"
                          "revision,,A,,SUM,,kl,WHEN,first issue\r\n"
                          "edit,,\"die_plate.length usual -> 262 mm, posts.length usual -> 250 m\n"
                          "changed,,die_plate.length,,262 mm,,,,\r\n"
                          "changed,,posts.length,,250 mm,,,,\r\n"
                          "went,,guard-note posts,,,note: posts leave their bushings by 32.2 mm\n"
                          "went,,guess-decides press.slide_length,,,\"note: slide length of pres\n"
                          "graded,,opening-wall-straight blank,,\"caution: From the opening of b\n"
                          "came,,post-end posts,,fault: posts: the posts' ends stand 35.3 mm ou\n"
                          "came,,unreasoned die_plate.length,,\"note: die_plate.length is typed \n"
                          "came,,unreasoned posts.length,,\"note: posts.length is typed over its\n"
                          "typed over,,die_plate.length,,262.0 mm,264.0 mm,,,\r\n");
    free(csv);
    static const char *const says[] = {
        "\nSince revision A: 1 edit\n",
        "\nWhat came of the edits\n",
        " die_plate.length\n    262 mm\n",
        " posts: Guide post, straight",
        "\n ~ waived", "\nopen again",
        "without a reason\n",
        "The formula gives 200.0 mm. NO REASON GIVEN",
        "\n  when it was issued: new ",
        "\ncentre: new ", " % to spare  ",
        "a check, not a permit to run",
    };
    char *text = csv_of(&b, "d review cp");
    for (size_t i = 0; i < COUNT_OF(says); i++)
        ck_assert_msg(strstr(text, says[i]), "\"%s\" is not there", says[i]);
    free(text);
}
END_TEST

/* The third change of the demo: the post is 4.0 mm too long. 1.5 mm deeper in its seat its need is 200.0, a
   length that is listed. */
START_TEST(mend_prints_the_nearest_values_that_clear_a_finding)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    bench_do(&b, "d set cp 'die_plate.thickness=40 mm'", 0);
    struct said s = bench_want(&b, "d mend cp post-end posts --format csv", 0);
    char *is = rows_find(s.out, "post-end posts", "posts.sunk", 4),
         *sizes = rows_find(s.out, "post-end posts", "posts.sunk", 11);
    ck_assert_str_eq(is, "2.7 mm");
    ck_assert_str_eq(sizes, "posts.length 224.0 mm -> 200.0 mm");
    free(is);
    free(sizes);
    is = rows_find(s.out, "post-end posts", "posts.length", 4);
    ck_assert_str_eq(is, "200 mm");
    free(is);
    said_done(&s);
    bench_do(&b, "d set cp 'posts.sunk=2.7 mm'", 0);
    expect(&b, "d mend cp post-end", 2, "No finding \"post-end\" stands");
    bench_do(&b, "d waive cp turn-proof x && d waive cp opening-wall-straight x",
             0);
    expect(&b, "d check cp", 0, "2 waived");
    expect(&b, "d mend cp", 0, "Nothing above a note is open.");
    expect(&b, "d mend cp weak-source", 0, "its rule names no value that could be typed");
}
END_TEST

START_TEST(revisions_are_compared_with_each_other_and_with_now)
{
    struct bench b;
    bench_open(&b, "cover-plate");
    bench_do(&b,
             "d issue cp && d set cp 'risers.height=70 mm' && d remark cp risers higher && d waive cp "
             "turn-proof marked && d issue cp && "
             "d set cp 'risers.height=80 mm'",
             0);
    char *typed = cell(&b, "d compare cp a b --format csv", 0, "typed", 4),
         *found = cell(&b, "d compare cp a b --format csv", 0, "finding", 4);
    ck_assert_str_eq(typed, "70 mm");
    ck_assert_msg(strncmp(found, "waived caution: die plate also goes on turned", 44) == 0, "%s", found);
    free(typed);
    free(found);
    /* what is said is no difference of the set */
    ck_assert_ptr_null(cell(&b, "d compare cp A B --format csv", 0, "item", 0));
    typed = cell(&b, "d compare cp B --format csv", 0, "typed", 4);
    ck_assert_str_eq(typed, "80 mm");
    free(typed);
    typed = cell(&b, "d compare cp B A --format csv", 0, "typed", 4);
    ck_assert_str_eq(typed, "55 mm");
    free(typed);
    expect(&b, "d compare cp A", 0, "revision A");
    /* a rename is one, and blanks are none */
    bench_do(&b, "d rename cp risers feet && d set cp 'die_plate.thickness=34mm' 'feet.height=55  mm'", 0);
    expect(&b, "d compare cp A", 0, "findings graded or waived differently");
    ck_assert_ptr_null(cell(&b, "d compare cp A --format csv", 0, "item", 0));
    ck_assert_ptr_null(cell(&b, "d compare cp A --format csv", 0, "typed", 0));
    expect(&b, "d compare cp C", 3, "There is no job file C.diejob");
    expect(&b, "d compare cp A C", 2, "The job has no revision \"C\"; the latest is B.");
}
END_TEST

/* What a dump may not hold: the words have lines of their own, and nothing under them. */
static const struct { const char *lines, *says; } refused[] = {
    {"remark remark_1\n  say hello\n", "x.txt:3: remarks have no line \"say\"; near it: says"},
    {"remark remark_1\n  says hello\n    reason none\n", "x.txt:4: Nothing can stand under this line."},
    {"remark\n  says hello\n", "x.txt:2: An item is written"},
    {"waiver waiver_1\n  finding a\n  finding b\n", "x.txt:4: This is said twice"},
};

START_TEST(words_that_are_none_are_refused_in_a_text)
{
    struct bench b;
    bench_open(&b, NULL);
    char *path = base_format("%s/x.txt", b.folder);
    FILE *f = fopen(path, "w");
    ck_assert_ptr_nonnull(f);
    fprintf(f, "job\n%s", refused[_i].lines);
    ck_assert_int_eq(fclose(f), 0);
    expect(&b, "d load x x.txt", 2, refused[_i].says);
    free(path);
}
END_TEST

TCase *review_tests(void)
{
    TCase *t = tcase_create("review");
    tcase_set_timeout(t, 60);
    tcase_add_test(t, what_is_waived_is_not_open_and_opens_when_the_margin_shrinks);
    tcase_add_test(t, remarks_are_kept_listed_and_taken_back);
    tcase_add_test(t, a_release_is_refused_while_faults_are_open_and_history_tells_what_came_since);
    tcase_add_test(t, papers_say_what_is_open);
    tcase_add_loop_test(t, papers_say_of_which_revision_they_are, 0, COUNT_OF(papers));
    tcase_add_test(t, the_review_is_a_paper_of_what_stands_and_was_said_and_done);
    tcase_add_test(t, mend_prints_the_nearest_values_that_clear_a_finding);
    tcase_add_test(t, revisions_are_compared_with_each_other_and_with_now);
    tcase_add_loop_test(t, words_that_are_none_are_refused_in_a_text, 0, COUNT_OF(refused));
    tcase_add_test(t, undo_is_ones_own_and_somebody_elses_is_named);
    tcase_add_test(t, a_revision_is_withdrawn_with_a_reason_and_never_undone);
    tcase_add_test(t, what_somebody_else_said_is_taken_out_only_when_named);
    tcase_add_test(t, a_waiver_that_lapsed_says_whose_it_was_and_at_which_margin);
    tcase_add_test(t, who_is_the_account_whatever_the_environment_says);
    return t;
}
