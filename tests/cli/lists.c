/* Every list in every format: headings that never change, names in JSON as in CSV, exit statuses. */

#include "suites.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct bench bench;

static void open_job(void)
{
    bench_open(&bench, "cover-plate");
    bench_do(&bench, "cp cp.diejob begun", 0);
}

/* What design, manual and other programs hold us to: not one of these headings may change. */
static const struct { const char *line; int status; const char *headings; int least_rows;
} lists[] = {
    {"show cp", 0, "name,state,value,unit,formula", 500},
    {"show cp die_plate", 0, "name,state,value,unit,formula", 10},
    {"show cp die_plate.thickness posts.length", 0, "name,state,value,unit,formula", 2},
    {"show cp posts.length --why", 0, "of,depth,name,value,formula,source,pick,read", 10},
    {"show cp posts.entry --why --ground", 0, "of,depth,name,value,formula,source,pick,read", 10},
    {"kinds", 0, "kind,help", 20},
    {"kinds screws", 0, "name,type,usual,choices,when,help", 8},
    {"check cp", 1, "grade,rule,item,state,value,limit,margin,message,source,read", 3},
    {"review cp", 0, "part,grade,name,state,value,usual,by,when,says", 10},
    {"mend cp", 0, "finding,name,was,is,typed,listed,tried,moved,against,comes,goes,sizes", 2},
    {"remark cp", 0, "remark,item,finding,by,when,answers,done,done_by,says", 0},
    {"waive cp", 0, "waiver,finding,stands,grade,states,margin,by,when,says", 0},
    {"history cp", 0, "number,when,who,undone,what", 1},
    {"stroke cp", 0, "state,height,event,item,what,value,unit", 10},
    {"sharpening cp", 0,
     "part,page,date,strokes,off_punches,under_punches,punches_left,off_die,under_die,die_left,shut_height,"
     "note",
     0},
    {"order cp", 0, 
     "line,quantity,designation,size,material,mass,item,hardness,finish,raw,spares,used_in,price,price_all,"
     "wanted_by,remark,change",
     15},
    {"holes cp", 0,
     "plate,hole,group,x,y,face,operation,diameter,depth,fit,thread,mark,lower,upper,goes_on,together,"
     "hardening,length,width,corner,turn,land,relief,thread_depth",
     90},
    {"holes cp die_plate", 0,
     "plate,hole,group,x,y,face,operation,diameter,depth,fit,thread,mark,lower,upper,goes_on,together,"
     "hardening,length,width,corner,turn,land,relief,thread_depth",
     20},
    {"holes cp die_plate --datum 'right back'", 0,
     "plate,hole,group,x,y,face,operation,diameter,depth,fit,thread,mark,lower,upper,goes_on,together,"
     "hardening,length,width,corner,turn,land,relief,thread_depth",
     20},
    {"holes cp die_plate --ground", 0,
     "plate,hole,group,x,y,face,operation,diameter,depth,fit,thread,mark,lower,upper,goes_on,together,"
     "hardening,length,width,corner,turn,land,relief,thread_depth",
     20},
    {"stack cp", 0, "part,plate,thickness,lower,upper,bottom,top,measured", 7},
    {"inspection cp", 0, "plate,mark,what,nominal,lower,upper,measured,remark", 300},
    {"inspection cp die_plate", 0, "plate,mark,what,nominal,lower,upper,measured,remark", 90},
    {"paper cp", 0, "paper,title", 10},
    {"paper cp setting", 0, "part,what,value,set", 30},
    {"paper cp assembly", 0, "part,step,what,how,done", 25},
    {"paper cp holes die_plate", 0,
     "plate,hole,group,x,y,face,operation,diameter,depth,fit,thread,mark,lower,upper,goes_on,together,"
     "hardening,length,width,corner,turn,land,relief,thread_depth",
     20},
    {"stations cp", 0, "station,x,item,does,points,size,cut,force,stagger,stand", 7},
    {"stations cp swap 2 3 --try", 0, "name,state,was,is,unit", 20},
    {"set cp 'strip.width=64 mm'", 0, "name,state,was,is,unit", 0},
    {"set cp 'strip.low_use_reason=\"carrier wanted\"'", 0, "name,state,was,is,unit", 0},
    {"vary cp die_plate.thickness 20 40 1", 0, "at,state,name,value,unit,findings", 21},
    {"vary cp risers.height 0 160 0.5 --show stack.height_on_bolster stack.shut_height", 0,
     "at,state,name,value,unit,findings", 1284},
    {"vary cp dimples.lay.columns 1 2 0.5", 0, "at,state,name,value,unit,findings", 3},
    {"tolerance cp", 0, "chain,item,drawn,worst_lower,worst_upper,root_lower,root_upper,unit,most", 10},
    {"tolerance cp stack-height", 0, "of,what,drawn,lower,upper,unit,by,share,squares,limits", 10},
    {"tolerance cp --worst", 0, "grade,rule,item,state,drawn,worst,unit,takes", 1},
    {"vary cp posts.length 180,200,224 --across 'die_plate.thickness 30 40 2' --show stack.shut_height", 0,
     "across,at,state,name,value,unit,findings", 36},
    {"vary cp press.size listed --show press.rated --sort press.rated", 0,
     "at,state,name,value,unit,findings", 5},
    {"compare cp cp", 0, "what,name,state,first,second,unit", 0},
    {"join cp cp", 0,
     "name,common,mine,theirs,stays,mine_by,theirs_by,mine_brings,theirs_brings,stuck", 0},
    {"eval '2 mm * 3'", 0, "value,unit,text", 1},
    {"handbook 'shut height'", 0, "what,name,text,help,source,read", 1},
    {"handbook", 0, "what,name,text,help,source,read", 150},
    {"handbook --examples", 0, "example,tried,computed,printed,within,agrees,source,read", 150},
    {"handbook --sources", 0, "class,source,cited,memory,leans", 60},
    {"parts", 0, "table,rows,standard,confidence,help", 15},
    {"parts --job cp", 0, "table,rows,standard,confidence,help", 15},
    {"parts preferred_length", 0, "series,length_mm,confidence,standard,source", 100},
    {"parts guide_post", 0,
     "series,form,diameter_mm,paired_diameter_mm,length_mm,seat_least_mm,seat_hole_fit,confidence,standard,"
     "source",
     50},
};

/* Each list is asked for once in each format, of the job as it was begun; the tests below look at the same
   answers. */
enum format { CSV, JSON, TEXT, FORMATS };
static struct said answers[COUNT_OF(lists)][FORMATS];

static const struct said *list_as(int i, enum format format)
{
    static const char *const names[] = {"csv", "json", "text"};
    struct said *s = &answers[i][format];
    if (s->out)
        return s;
    char *line = base_format("cp begun cp.diejob && d %s --format %s", lists[i].line, names[format]);
    *s = bench_want(&bench, line, lists[i].status);
    free(line);
    return s;
}

static void drop_answers(void)
{
    for (size_t i = 0; i < COUNT_OF(lists) * FORMATS; i++)
        if (answers[i / FORMATS][i % FORMATS].out)
            said_done(&answers[i / FORMATS][i % FORMATS]);
}

START_TEST(a_list_has_its_fixed_headings_in_csv_and_a_cell_under_each)
{
    const char *csv = list_as(_i, CSV)->out;
    size_t n = strlen(lists[_i].headings);
    ck_assert_msg(strncmp(csv, lists[_i].headings, n) == 0 && csv[n] == '\r', "%s: %.*s", lists[_i].line,
                  (int)strcspn(csv, "\r"), csv);
    ck_assert_msg(rows_count(csv) >= lists[_i].least_rows, "%s: %d rows", lists[_i].line, rows_count(csv));
    int columns = rows_columns(csv), k = 0;
    for (const char *at = csv; *at; k++) {
        int cells = 0;
        for (bool more = true; more; cells++)
            free(rows_cell(&at, &more));
        ck_assert_msg(cells == columns, "%s: row %d has %d cells, not %d", lists[_i].line, k, cells, columns);
        rows_next(&at);
    }
}
END_TEST

/* `"name": ` of each heading in order, in the first object. */
static void names_stand_in_order(const char *json, const char *headings)
{
    char *words = base_copy(headings), *rest = NULL;
    const char *at = json;
    for (char *word = strtok_r(words, ",", &rest); word; word = strtok_r(NULL, ",", &rest)) {
        char *name = base_format("\"%s\": ", word);
        at = strstr(at, name);
        ck_assert_msg(at != NULL, "%s is not where it should be in %.300s", name, json);
        free(name);
    }
    free(words);
}

START_TEST(a_list_in_json_is_valid_and_bears_the_names_of_the_csv)
{
    const char *json = list_as(_i, JSON)->out;
    ck_assert_msg(json_valid(json), "%s: %.300s", lists[_i].line, json);
    int objects = 0;
    for (const char *at = json; (at = strstr(at, "\n {\"")); at++)
        objects++;
    ck_assert_int_eq(objects, rows_count(list_as(_i, CSV)->out));
    if (objects)
        names_stand_in_order(json, lists[_i].headings);
}
END_TEST

START_TEST(python_reads_the_json_of_each_list)
{
    if (system("python3 -c 'import json' 2>/dev/null") != 0)
        return; /* a smaller Python; json_valid() has read it */
    for (size_t i = 0; i < COUNT_OF(lists); i++) {
        char *path = base_format("%s/list-%zu.json", bench.folder, i);
        FILE *f = fopen(path, "w");
        ck_assert_ptr_nonnull(f);
        ck_assert_int_ge(fputs(list_as((int)i, JSON)->out, f), 0);
        ck_assert_int_eq(fclose(f), 0);
        free(path);
    }
    bench_do(&bench, "python3 -c 'import json, sys; [json.load(open(f)) for f in sys.argv[1:]]' list-*.json",
             0);
}
END_TEST

/* People get the same rows, and no data mark of the other formats. */
START_TEST(a_list_for_people_is_not_empty)
{
    const struct said *s = list_as(_i, TEXT);
    char *line = base_format("cp begun cp.diejob && d %s", lists[_i].line);
    ck_assert_int_gt((int)strlen(s->out), 2);
    struct said usual = bench_want(&bench, line, lists[_i].status);
    ck_assert_str_eq(s->out, usual.out);
    ck_assert_str_eq(s->err, "");
    free(line);
    said_done(&usual);
}
END_TEST

/* Three risers for two: nothing else hangs on how many. */
static const char comparison[] =
    "what,name,state,first,second,unit\r\n"
    "typed,risers.pieces,,,3,\r\n"
    "value,risers.pieces,,2,3,\r\n"
    "order,risers: Riser,,\"2 x 306 x 50 x 55 mm, 1.0577\",\"3 x 306 x 50 x 55 mm, 1.0577\",\r\n";

/* Risers 55 -> 70 under a set of 224.2, ground 216.7. */
static const char *const raised[] = {
    "typed,risers.height,,55 mm,70 mm,\r\n",
    "value,risers.height,,55,70,mm\r\n",
    "value,stack.height_on_bolster,new,279.2,294.2,mm\r\n",
    "value,stack.height_on_bolster,ground,271.7,286.7,mm\r\n",
    "order,risers: Riser,,\"2 x 306 x 50 x 55 mm, 1.0577\",\"2 x 306 x 50 x 70 mm, 1.0577\",\r\n",
};

START_TEST(two_jobs_side_by_side_differ_in_these_rows)
{
    bench_do(&bench, "cp cp.diejob other.diejob && d set other risers.pieces=3", 0);
    struct said s = bench_want(&bench, "d compare cp other --format csv", 0);
    ck_assert_str_eq(s.out, comparison);
    said_done(&s);
    bench_do(&bench, "cp cp.diejob raised.diejob && d set raised risers.height=70", 0);
    s = bench_want(&bench, "d compare cp raised --format csv", 0);
    for (size_t i = 0; i < COUNT_OF(raised); i++)
        ck_assert_msg(strstr(s.out, raised[i]) != NULL, "no %s in %s", raised[i], s.out);
    said_done(&s);
    s = bench_want(&bench, "d compare cp raised", 0);
    ck_assert_ptr_nonnull(
        strstr(s.out, "typed differently: 1                                      cp              raised\n"));
    ck_assert_ptr_nonnull(
        strstr(s.out, "  stack.height_on_bolster, ground                   271.7 mm            286.7 mm\n"));
    said_done(&s);
    s = bench_want(&bench, "d compare cp ./cp.diejob", 0);
    ck_assert_str_eq(s.out, "nothing differs\n");
    said_done(&s);
}
END_TEST

static const char *const drawings[] = {
    "plan cp die_plate", "plan cp upper_shoe --below", "plan cp lower_shoe --ground",
    "strip cp",          "section cp",  "section cp --ram 12mm",      "section cp --ram=12 --ground",
};

START_TEST(a_drawing_is_within_80_columns_and_says_its_scale)
{
    char *line = base_format("d --ascii %s", drawings[_i]);
    struct said s = bench_want(&bench, line, 0);
    int lines = 0;
    for (const char *at = s.out; *at; at += strcspn(at, "\n"), at += *at == '\n', lines++) {
        ck_assert_msg(strcspn(at, "\n") <= 80, "%s: %.*s", drawings[_i], (int)strcspn(at, "\n"), at);
        for (const char *p = at; *p && *p != '\n'; p++)
            ck_assert_msg(*p >= ' ' && *p <= '~', "%s: no plain character in %.*s", drawings[_i],
                          (int)strcspn(at, "\n"), at);
    }
    ck_assert_int_gt(lines, 15);
    /* nothing is measured in the strip: it is as large as there is room */
    ck_assert_msg(strstr(s.out, " mm a column") || strstr(s.out, " mm a row") || strstr(s.out, "\nfeed >"),
                  "%.200s", s.out);
    free(line);
    said_done(&s);
}
END_TEST

/* Only check speaks through its exit status. The last: a die plate that its walls suffice for, and one screw
 * moved, until notes alone are left. */
static const struct { const char *change; int status; const char *grade; } verdicts[] = {
    {"strip.width=64 mm", 1, "\ncaution,"},
    {"die_plate.thickness=40 mm", 1, "\nfault,"},
    {"die_plate.thickness=26.3 mm' 'stripper_bolts.left_front.x=usual + 3 mm' "
     "'die_dowels.lay.left_across=-13 mm", 0, "\nnote,"},
};

START_TEST(check_exits_1_while_a_caution_or_fault_is_open_and_0_when_notes_alone_are)
{
    struct bench own;
    bench_open(&own, "cover-plate");
    char *line = base_format("d set cp '%s'", verdicts[_i].change);
    bench_do(&own, line, 0);
    struct said s = bench_want(&own, "d check cp --format csv", verdicts[_i].status);
    bool open = strstr(s.out, "\ncaution,") || strstr(s.out, "\nfault,");
    ck_assert_int_eq(open, verdicts[_i].status == 1);
    ck_assert_ptr_nonnull(strstr(s.out, verdicts[_i].grade));
    free(line);
    said_done(&s);
}
END_TEST

START_TEST(options_may_stand_anywhere_and_take_their_value_either_way)
{
    static const char *const ways[] = {
        "d show cp die_plate.thickness --format csv",
        "d show --format csv cp die_plate.thickness",
        "d show --format=csv cp die_plate.thickness",
        "d show cp.diejob -- die_plate.thickness >/dev/null && d show cp die_plate.thickness --format csv",
        "$P show cp die_plate.thickness --format csv --data $DATA",
        "$P --data=$DATA show cp die_plate.thickness --format csv",
    };
    struct said first = bench_want(&bench, ways[0], 0);
    for (size_t i = 1; i < COUNT_OF(ways); i++) {
        struct said s = bench_want(&bench, ways[i], 0);
        ck_assert_str_eq(s.out, first.out);
        said_done(&s);
    }
    said_done(&first);
}
END_TEST

/* Seats by the tables of posts (h3) and bushings (js5), ISO 9182-2 and ISO 9448, from memory; dowels by H7,
   common practice. */
START_TEST(the_hole_chart_names_the_bore_that_a_part_asks_for)
{
    static const struct {
        const char *plate, *fit;
    } rows[] = {{"lower_shoe", ",32,,P6,"}, {"upper_shoe", ",48,,H6,"}, {"die_plate", ",H7,"}};
    for (size_t i = 0; i < COUNT_OF(rows); i++) {
        char *line = base_format("d holes cp %s --format csv", rows[i].plate);
        struct said s = bench_want(&bench, line, 0);
        ck_assert_msg(strstr(s.out, rows[i].fit), "%s has no %s in\n%s", rows[i].plate, rows[i].fit, s.out);
        said_done(&s);
        free(line);
    }
}
END_TEST

START_TEST(no_cell_of_a_list_begins_or_ends_in_a_blank)
{
    for (const char *at = list_as(_i, CSV)->out; *at; rows_next(&at))
        for (bool more = true; more;) {
            char *cell = rows_cell(&at, &more);
            size_t n = strlen(cell);
            ck_assert_msg(n == 0 || (cell[0] != ' ' && cell[n - 1] != ' '), "%s: \"%s\"", lists[_i].line,
                          cell);
            free(cell);
        }
}
END_TEST

START_TEST(output_does_not_hang_on_the_locale)
{
    struct said c = bench_want(&bench, "LC_ALL=C d show cp --format csv", 0),
                own = bench_want(&bench, "LC_ALL=de_DE.UTF-8 LANG=de_DE.UTF-8 d show cp --format csv", 0);
    ck_assert_str_eq(c.out, own.out);
    said_done(&c);
    said_done(&own);
}
END_TEST

/* What a paper costs, counted (tests/counts.c): bound once beside the empty job, judged once. */
START_TEST(a_paper_of_findings_judges_them_once)
{
    static const char *const lines[] = {"check cp >paper || true", "review cp >paper", "show cp >paper"};
    char *line = base_format("export DIEWRIGHT_COUNTS=counts; d %s; cut -d ' ' -f 2- counts", lines[_i]);
    struct said s = bench_want(&bench, line, 0);
    ck_assert_str_eq(s.out, "0 2 1\n"); /* tried, bound, judged */
    said_done(&s);
    free(line);
}
END_TEST

TCase *list_tests(void)
{
    TCase *t = tcase_create("lists");
    tcase_set_timeout(t, 60);
    tcase_add_unchecked_fixture(t, open_job, drop_answers);
    tcase_add_loop_test(t, a_list_has_its_fixed_headings_in_csv_and_a_cell_under_each, 0, COUNT_OF(lists));
    tcase_add_loop_test(t, a_list_in_json_is_valid_and_bears_the_names_of_the_csv, 0, COUNT_OF(lists));
    tcase_add_loop_test(t, no_cell_of_a_list_begins_or_ends_in_a_blank, 0, COUNT_OF(lists));
    tcase_add_test(t, python_reads_the_json_of_each_list);
    tcase_add_loop_test(t, a_list_for_people_is_not_empty, 0, COUNT_OF(lists));
    tcase_add_test(t, two_jobs_side_by_side_differ_in_these_rows);
    tcase_add_loop_test(t, a_drawing_is_within_80_columns_and_says_its_scale, 0, COUNT_OF(drawings));
    tcase_add_loop_test(t, check_exits_1_while_a_caution_or_fault_is_open_and_0_when_notes_alone_are, 0,
                        COUNT_OF(verdicts));
    tcase_add_test(t, options_may_stand_anywhere_and_take_their_value_either_way);
    tcase_add_test(t, the_hole_chart_names_the_bore_that_a_part_asks_for);
    tcase_add_test(t, output_does_not_hang_on_the_locale);
    tcase_add_loop_test(t, a_paper_of_findings_judges_them_once, 0, 3);
    return t;
}
