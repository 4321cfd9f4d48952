/* Papers as files: all of them are there, the same each time, and an issued revision's are not written
 * over. */

#include "suites.h"

#include <stdlib.h>
#include <string.h>

static struct bench bench;

static void open_job(void)
{
    bench_open(&bench, "cover-plate");
    bench_do(&bench, "d papers cp draft", 0);
    bench_do(&bench, "d issue cp", 0);
}

static const char *const written[] = {
    "cp-00-set-draft.pdf",         "cp-01-upper_shoe-draft.pdf", "cp-02-punch_backing-draft.pdf",
    "cp-03-punch_plate-draft.pdf", "cp-04-stripper-draft.pdf",   "cp-05-die_plate-draft.pdf",
    "cp-06-die_backing-draft.pdf", "cp-07-lower_shoe-draft.pdf", "cp-order-draft.pdf",
    "cp-order-draft.csv",          "cp-order-draft.txt",         "cp-holes-draft.pdf",
    "cp-check-draft.pdf",          "cp-papers-draft.html",
};

START_TEST(each_paper_is_a_file_and_says_how_the_job_stands)
{
    char *line = base_format("test -s draft/%s && test ! -e draft/%s.part", written[_i], written[_i]);
    bench_do(&bench, line, 0);
    free(line);
    line = base_format("grep -q '%s' draft/%s", strstr(written[_i], ".csv") ? "," : "not issued",
                       written[_i]);
    if (!strstr(written[_i], ".pdf"))
        bench_do(&bench, line, 0);
    free(line);
}
END_TEST

/* The names of the files, and how to print them: drawings on their own sheets. */
START_TEST(what_was_written_is_told)
{
    struct said s = bench_want(&bench, "d papers cp told", 0);
    ck_assert_ptr_nonnull(strstr(s.out, "told/cp-05-die_plate-A.pdf\n"));
    ck_assert_ptr_nonnull(
        strstr(s.out, "lp -o media=A2 -o print-scaling=none 'told/cp-05-die_plate-A.pdf'\n"));
    ck_assert_ptr_nonnull(strstr(s.out, "lp -o media=A4 -o print-scaling=none 'told/cp-order-A.pdf'\n"));
    said_done(&s);
    s = bench_want(&bench, "ls told | wc -l; d papers cp told | grep -c ^told/", 0);
    ck_assert_int_eq(strtol(s.out, NULL, 10), strtol(strchr(s.out, '\n'), NULL, 10));
    said_done(&s);
}
END_TEST

START_TEST(the_same_job_gives_the_same_bytes)
{
    bench_do(&bench, "d papers cp one >/dev/null && d papers cp two >/dev/null && diff -r one two", 0);
    bench_do(&bench, "d papers cp one >/dev/null && diff -r one two", 0);
    bench_do(&bench, "d drawing cp die_plate >x.pdf && cmp x.pdf one/cp-05-die_plate-A.pdf", 0);
    bench_do(&bench, "d order cp --format csv >x.csv && cmp x.csv one/cp-order-A.csv", 0);
}
END_TEST

/* A day that is not that of the revision would be the clock's. */
START_TEST(the_date_is_the_revisions)
{
    struct said s = bench_want(&bench, "d dump cp | sed -n 's/^  on \\(..........\\).*/\\1/p' | tail -1", 0);
    s.out[strcspn(s.out, "\n")] = '\0';
    ck_assert(base_is_date(s.out));
    char *line = base_format("d drawing cp die_plate --svg | grep -q '>%s<'", s.out);
    bench_do(&bench, line, 0);
    free(line);
    said_done(&s);
}
END_TEST

/* Bought beside what the set brings, priced by hand: 48.5 once and 6 x 12.25 come to 122.00. */
START_TEST(a_buyer_reads_prices_and_what_changed_since_it_was_ordered)
{
    struct said s;
    bench_do(
        &bench,
        "d new buy --like cover-plate && d add buy own_line sensor 'what=\"Sensor, pilot\"' price=48.5 "
        "'remark=\"by hand\"' && d add buy own_line spring_price 'prices=\"Die spring, heavy, 32 x 102\"' "
        "price=12.25 'wanted_by=\"2031-01-15\"' && d issue buy",
        0);
    s = bench_want(&bench, "d order buy", 0);
    ck_assert_ptr_nonnull(
        strstr(s.out, "total of the 2 lines with a price: 122.00; the others are not in it"));
    ck_assert_ptr_nonnull(strstr(s.out, "wanted by: 2031-01-15"));
    ck_assert_ptr_nonnull(strstr(s.out, "raw: 269 x 175 x 35 mm")); /* 264 x 170 x 34 and 5, 5, 1 */
    ck_assert_ptr_null(strstr(s.out, "since A"));
    said_done(&s);
    bench_do(&bench, "d set buy 'die_plate.thickness=36 mm'; d remove buy sensor", 0);
    s = bench_want(&bench, "d order buy --format csv", 0);
    ck_assert_ptr_nonnull(strstr(s.out, "die_plate,,,,,new\r\n"));
    ck_assert_ptr_nonnull(strstr(s.out, "\"gone, was 1\"\r\n"));
    ck_assert_ptr_nonnull(strstr(s.out, ",0,\"Sensor, pilot\","));
    said_done(&s);
    s = bench_want(&bench, "d order buy --since Z", 2);
    said_done(&s);
    /* issued anew: what is on its way is A's still */
    bench_do(&bench, "d ordered buy && d issue buy --note again", 0);
    s = bench_want(&bench, "d order buy", 0);
    ck_assert_ptr_nonnull(strstr(s.out, ", revision B, sum "));
    ck_assert_ptr_nonnull(strstr(s.out, "\nOrdered by revision A on 20"));
    ck_assert_ptr_nonnull(strstr(s.out, "since A"));
    ck_assert_ptr_nonnull(strstr(s.out, "gone, was 1"));
    said_done(&s);
    bench_do(&bench, "d ordered buy A --back && ! d order buy | grep -q 'since A'", 0);
}
END_TEST

/* From the charts and lists alone a script makes every plate again and finds the solids' holes; one figure
 * that is spoilt, and it says so. */
static const char *const remade[] = {"cover-plate", "spring-stripper-inch"};

START_TEST(every_plate_can_be_made_from_its_papers)
{
    char *script = realpath("tests/shop/remake.py", NULL);
    char *line = base_format("d new set --like %s >/dev/null && d papers set made --solids >/dev/null && "
                             "python3 %s made",
                             remade[_i], script);
    struct said s = bench_want(&bench, line, 0);
    ck_assert_ptr_nonnull(strstr(s.out, "7 plates, "));
    ck_assert_ptr_nonnull(strstr(s.out, ", 0 differ\n"));
    said_done(&s);
    free(line);
    line = base_format(
        "sed -i '/^die_plate,1,/s/,\\([0-9.]*\\),\\(top\\|bottom\\),/,7\\1,\\2,/; s/,0[.]5,/,0.7,/' "
        "made/*holes*.csv && "
        "python3 %s made",
        script);
    s = bench_want(&bench, line, 1);
    ck_assert_ptr_nonnull(strstr(s.out, "die_plate A1: no wall of diameter"));
    ck_assert_ptr_nonnull(strstr(s.out, " with a relief of 0.7"));
    said_done(&s);
    bench_do(&bench, "rm -rf made set.diejob", 0);
    free(line);
    free(script);
}
END_TEST

START_TEST(papers_of_a_revision_are_not_written_over)
{
    bench_do(&bench, "d papers cp kept && cp -r kept was", 0);
    bench_do(&bench, "d new other --like cp && mkdir sub && mv other.diejob sub/cp.diejob", 0);
    bench_do(&bench, "d set sub/cp 'die_backing.thickness=16 mm'", 0);
    bench_do(&bench, "d issue sub/cp", 0);
    struct said s = bench_want(&bench, "d papers sub/cp kept", 2);
    ck_assert_ptr_nonnull(strstr(s.err, "stands there and says something else"));
    ck_assert_ptr_nonnull(strstr(s.err, "Nothing was written"));
    ck_assert_str_eq(s.out, "");
    said_done(&s);
    bench_do(&bench, "diff -r kept was", 0);
    bench_do(&bench, "d set cp 'die_plate.thickness=36 mm'; d papers cp kept && ls kept | grep -q draft", 0);
    bench_do(&bench, "for f in was/*; do cmp $f kept/${f#was/} || exit 1; done", 0);
}
END_TEST

START_TEST(a_folder_that_cannot_be_made_is_told)
{
    struct said s = bench_want(&bench, "d papers cp no/such/place", 4);
    ck_assert_ptr_nonnull(strstr(s.err, "The folder no/such/place cannot be made"));
    said_done(&s);
}
END_TEST

/* Nothing in it fetches or runs, each link has its place, and no paper is missing. */
START_TEST(the_html_file_stands_alone)
{
    bench_do(&bench, "! grep -Eq '<script|<link|<img|src=|url\\(' draft/cp-papers-draft.html", 0);
    bench_do(&bench, "! grep -o 'https*://[a-z.0-9]*' draft/cp-papers-draft.html | grep -v www.w3.org", 0);
    struct said s = bench_want(
        &bench,
        "for i in $(grep -o 'href=\"#p[0-9]*' draft/cp-papers-draft.html | "
        "sed 's/.*#//'); do grep -q \"id=\\\"$i\\\"\" draft/cp-papers-draft.html || echo $i; done",
        0);
    ck_assert_str_eq(s.out, "");
    said_done(&s);
    s = bench_want(&bench, "grep -c '<section' draft/cp-papers-draft.html; ls draft/*.pdf | wc -l", 0);
    ck_assert_int_eq(strtol(s.out, NULL, 10), strtol(strchr(s.out, '\n'), NULL, 10));
    said_done(&s);
    /* each printed page of a list tells whose it is, and what is open */
    s = bench_want(&bench,
                   "grep -c '<tr class=.h.*2 cautions open' draft/cp-papers-draft.html; "
                   "ls draft/*.csv | wc -l",
                   0);
    ck_assert_int_ge(strtol(s.out, NULL, 10) + 1, strtol(strchr(s.out, '\n'), NULL, 10));
    said_done(&s);
    bench_do(&bench, "grep -q 'width:420mm;height:296mm' draft/cp-papers-draft.html", 0);
    bench_do(&bench, "grep -q 'content=\"default-src .none.' draft/cp-papers-draft.html", 0);
}
END_TEST

/* Pages of 66 lines, each with its head. */
START_TEST(text_is_in_pages)
{
    struct said s = bench_want(&bench, "tr '\\f' '\\n' <draft/cp-holes-draft.txt | grep -c 'page [0-9]* of'",
                               0);
    int pages = (int)strtol(s.out, NULL, 10);
    said_done(&s);
    ck_assert_int_gt(pages, 2);
    s = bench_want(&bench,
                   "awk 'BEGIN{RS=\"\\f\"} {n=gsub(/\\n/,\"\"); if (n>66) print n}' draft/cp-holes-draft.txt",
                   0);
    ck_assert_str_eq(s.out, "");
    said_done(&s);
    s = bench_want(&bench, "tr -cd '\\f' <draft/cp-holes-draft.txt | wc -c", 0);
    ck_assert_int_eq(strtol(s.out, NULL, 10), pages - 1);
    said_done(&s);
}
END_TEST

/* The same handbook finds what it found; one with another rule, another press factor and other drift holes
 * says what each of them changes, and by its exit status that something has. */
START_TEST(a_revision_is_checked_again_under_another_handbook)
{
    static const char *const says[] = {"came,own-floor,,note\r\n", "moved,stack.need,",
                                       "otherwise,holes of lower_shoe,,\r\n"};
    bench_do(&bench, "d new r1 --like cover-plate && d recheck r1", 2);
    bench_do(&bench, "d issue r1 && d recheck r1", 0);
    struct said s = bench_want(
        &bench,
        "mkdir other; cp -r \"$DATA\"/handbook \"$DATA\"/parts other; "
        "sed -i '/^factor press_reserve/s/= .*/= 1.5/; /^factor drift_step/s/= .*/= 2 mm/' "
        "other/handbook/20-factors.txt; printf 'rule own-floor\\n  title low\\n  once\\n"
        "  state new\\n  value stack.shut_height\\n  note unless more than 1000 mm\\n  says low\\n"
        "  source common practice\\n' >other/handbook/99.txt; "
        "d recheck r1 A --data other --format csv",
        1);
    for (size_t i = 0; i < COUNT_OF(says); i++)
        ck_assert_msg(strstr(s.out, says[i]), "%s\n%s%s", says[i], s.out, s.err);
    ck_assert_ptr_null(strstr(s.out, "punch_backing"));
    said_done(&s);
}
END_TEST

/* A job that is begun takes what the shop keeps once, one that there is takes it by a command; what it has
 * typed for itself stays and is told. What is no such text is refused whole, and the job is begun all the
 * same. */
START_TEST(a_shop_keeps_its_settings_once)
{
    static const struct { const char *line; int status; const char *says; } calls[] = {
        {"mkdir -p diewright; "
         "printf 'job\n  owner = \"Mill\"\n  tolerances = \"fine\"\n' >diewright/shop.txt; "
         "printf '  sheets = \"ASME Y14.1\"\n' >>diewright/shop.txt; d new s1 --like cover-plate 2>&1",
         0, "begun from cover-plate, with the settings of "},
        {"d show s1 job.owner 2>&1; true", 0, "\"Mill\""},
        {"d drawing s1 die_plate >s1.pdf; pdfinfo s1.pdf | grep size", 0, "1584 x 1224"},
        {"printf 'job\n  owner = \"Other\"\n' >other.txt; d shop s1 --shop other.txt 2>&1", 0,
         "job.owner = \"Mill\" (the shop's: \"Other\")"},
        {"printf 'job\n  department = \"tools\"\n' >more.txt; d shop s1 --shop=more.txt 2>&1", 0,
         "job.department"},
        {"printf 'job\n  ownr = \"M\"\n' >bad.txt; d shop s1 --shop bad.txt 2>&1", 2,
         "bad.txt, the shop's settings: job.ownr: jobs have nothing of this name to type; near it: owner"},
        {"printf 'strip\n  width = 3 mm\n' >bad.txt; d new s2 --like cover-plate --shop bad.txt 2>&1", 2,
         "strip does not belong there"},
        {"d show s2 job.owner >s2.txt; rm diewright/shop.txt; d shop s1 2>&1", 2,
         "There are no settings of the shop"},
        {"d shop s1 --shop 2>&1; false", 1, "The option --shop needs a file behind it."},
    };
    for (size_t i = 0; i < COUNT_OF(calls); i++) {
        struct said s = bench_want(&bench, calls[i].line, calls[i].status);
        ck_assert_msg(strstr(s.out, calls[i].says), "%s: %s", calls[i].line, s.out);
        said_done(&s);
    }
}
END_TEST

/* A place is as exact as the most exact step that is made there, a head's seat before the fit below it; what
 * a screw only goes through is not. For an M8 in a clear hole of 9 each may be off within a circle of
 * (9 - 8) / 2 = 0.5 (ASME Y14.5, fixed fasteners; from memory): 0.17 along each edge, whatever ISO 2768
 * has. */
START_TEST(places_are_held_to_the_most_exact_step)
{
    struct said s = bench_want(&bench,
                               "d inspection cp --format csv | awk -F, '$3==\"x\" {wide[$1 $2]=$6-$5} "
                               "/H7/ {fit[$1 $2]=1} /clear hole|counterbore/ {through[$1 $2]=1} "
                               "/tap, thread M8/ {tap[$1 $2]=1} "
                               "END {for (k in wide) {if (fit[k]) {n++; if (wide[k]>0.05) print \"fit\", k} "
                               "else if (through[k]) {m++; if (wide[k]<0.1) print \"through\", k}} "
                               "for (k in tap) {t++; if (wide[k]>0.341) print \"tap\", k} "
                               "print (n>20) \" \" (m>20) \" \" (t>8)}'",
                               0);
    ck_assert_str_eq(s.out, "1 1 1\n");
    said_done(&s);
}
END_TEST

TCase *paper_tests(void)
{
    TCase *t = tcase_create("papers");
    tcase_set_timeout(t, 120);
    tcase_add_unchecked_fixture(t, open_job, NULL);
    tcase_add_loop_test(t, each_paper_is_a_file_and_says_how_the_job_stands, 0, COUNT_OF(written));
    tcase_add_test(t, what_was_written_is_told);
    tcase_add_test(t, the_same_job_gives_the_same_bytes);
    tcase_add_test(t, the_date_is_the_revisions);
    tcase_add_loop_test(t, every_plate_can_be_made_from_its_papers, 0, COUNT_OF(remade));
    tcase_add_test(t, papers_of_a_revision_are_not_written_over);
    tcase_add_test(t, a_buyer_reads_prices_and_what_changed_since_it_was_ordered);
    tcase_add_test(t, places_are_held_to_the_most_exact_step);
    tcase_add_test(t, a_shop_keeps_its_settings_once);
    tcase_add_test(t, a_revision_is_checked_again_under_another_handbook);
    tcase_add_test(t, a_folder_that_cannot_be_made_is_told);
    tcase_add_test(t, the_html_file_stands_alone);
    tcase_add_test(t, text_is_in_pages);
    return t;
}
