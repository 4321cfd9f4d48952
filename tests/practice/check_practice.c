/* Every guide walked, every practice job held to its record, every exercise asked, answered and worked. */

#include "diewright/practice.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "common.h"

enum { GUIDES = 2 };
enum { MOST_JOBS = 40 }; /* loops run to here; those behind the last job have nothing to do */

static struct handbook *h;
static struct practice_book *book;
static struct practice_run *run;

static void open_books(void)
{
    ck_ok(job_open_handbook("data", &h, why));
    ck_ok(practice_load("data", &book, why));
}

static void close_books(void)
{
    practice_free(book);
    handbook_free(h);
}

static void end_run(void)
{
    practice_end(run);
    run = NULL;
}

static const struct practice_job *begin(int i)
{
    if (i >= practice_count(book))
        return NULL;
    ck_ok(practice_begin(book, h, i, &run, why));
    return practice_run_about(run);
}

/* ---- the records ---- */

static bool is_told(struct job *j, const struct practice_job *p, const struct finding *f)
{
    for (int i = 0; i < p->n_findings; i++) {
        const char *item = p->findings[i].item;
        bool same = item ? f->item >= 0 && strcmp(item, dieset_item_name(job_dieset(j), f->item)) == 0 : true;
        if (same && strcmp(p->findings[i].rule, f->rule) == 0)
            return true;
    }
    return false;
}

static bool among(const struct finding *list, int n, const char *rule, const char *item, struct dieset *d)
{
    for (int i = 0; i < n; i++)
        if (strcmp(list[i].rule, rule) == 0 &&
            (!item || (list[i].item >= 0 && strcmp(item, dieset_item_name(d, list[i].item)) == 0)))
            return true;
    return false;
}

START_TEST(there_are_enough_and_each_has_a_name_of_its_own)
{
    ck_assert_int_ge(practice_count(book), 24);
    ck_assert_int_le(practice_count(book), MOST_JOBS);
    for (int i = 0; i < practice_count(book); i++)
        ck_assert_int_eq(practice_find(book, practice_job(book, i)->name, NULL), i);
    ck_assert_int_eq(practice_find(book, "3", NULL), 2);
    struct base_diag why = {0};
    for (int i = 1; i < practice_count(book); i++)
        ck_assert_int_le(practice_job(book, i - 1)->level, practice_job(book, i)->level);
    ck_assert_int_eq(practice_find(book, "0", NULL), -1);
    ck_assert_int_eq(practice_find(book, "tuned", &why), -1);
    ck_assert_msg(strstr(why.message, "near it: turned") != NULL, "%s", why.message);
}
END_TEST

/* Above a note stands what the record names and nothing else. */
static void exactly_the_planted_findings_stand(const struct practice_job *p)
{
    struct job *planted = practice_run_job(run);
    const struct finding *list;
    int n = findings_judge(job_findings(planted), &list);
    for (int i = 0; i < n; i++)
        ck_assert_msg(list[i].grade == HANDBOOK_NOTE || is_told(planted, p, &list[i]),
                      "%s: not named: %s: %s", p->name, list[i].rule, list[i].message);
    for (int i = 0; i < p->n_findings; i++)
        ck_assert_msg(among(list, n, p->findings[i].rule, p->findings[i].item, job_dieset(planted)),
                      "%s: %s does not stand", p->name, p->findings[i].rule);
}

/* Nothing stands above a note then: so the job under the mistake is sound. */
static void the_mend_clears_it_with_nothing_else_coming(const struct practice_job *p)
{
    struct base_text says = {0};
    struct job *j = practice_run_job(run);
    ck_assert_int_eq(practice_look(run, &says), PRACTICE_STANDS);
    ck_assert_msg(strncmp(base_text_get(&says), "not mended yet", 14) == 0, "%s: %s", p->name,
                  base_text_get(&says));
    for (int i = 0; i < p->mends.n; i++) {
        ck_ok(job_set(j, p->mends.at[i].path, p->mends.at[i].formula, why));
        ck_ok(job_take(j, why));
    }
    base_text_clear(&says);
    enum practice_state state = practice_look(run, &says);
    ck_assert_msg(state == PRACTICE_MENDED, "%s: %s", p->name, base_text_get(&says));
    base_text_done(&says);
    const struct finding *list;
    int n = findings_judge(job_findings(j), &list);
    for (int i = 0; i < n; i++)
        ck_assert_msg(list[i].grade == HANDBOOK_NOTE, "%s, mended: %s", p->name, list[i].message);
}

/* ---- answers and hints ---- */

static void names_exist(const struct practice_job *p, const char *text, int *named)
{
    struct dieset *d = job_dieset(practice_run_job(run));
    for (const char *at = text; *at;) {
        size_t n = 0, dots = 0;
        while (isalnum((unsigned char)at[n]) || at[n] == '_' ||
               (at[n] == '.' && isalnum((unsigned char)at[n + 1])))
            dots += at[n++] == '.';
        char *word = base_copy_n(at, n);
        if (dots && !isdigit((unsigned char)*word)) {
            ck_assert_msg(dieset_find(d, word) >= 0, "%s: \"%s\" speaks of %s, which is no value", p->name,
                          text, word);
            ++*named;
        }
        free(word);
        at += n ? n : 1;
    }
}

static void hints_name_values_that_are_there(const struct practice_job *p)
{
    int named = 0;
    for (int i = 0; i < PRACTICE_HINTS; i++)
        names_exist(p, p->hints[i], &named);
    ck_assert_msg(named > 0, "%s: no hint names a value", p->name);
    ck_assert(*p->learnt && *p->source && *p->question);
}

/* An item, or a group of an item's values such as a point or a layout. */
static bool names_any(struct dieset *d, const char *name)
{
    size_t n = strlen(name);
    for (int q = 0; q < dieset_quantity_count(d); q++)
        if (strncmp(dieset_quantity(d, q)->path, name, n) == 0 && dieset_quantity(d, q)->path[n] == '.')
            return true;
    return false;
}

static void what_is_given_is_there(const struct practice_job *p)
{
    struct dieset *d = job_dieset(practice_run_job(run));
    for (int i = 0; i < p->base->n_given; i++)
        ck_assert_msg(dieset_find(d, p->base->given[i]) >= 0 || names_any(d, p->base->given[i]),
                      "%s: nothing is called %s", p->base->name, p->base->given[i]);
}

/* What is planted counts as found; values of other items never do, and each is told what holds of it. */
static void only_what_is_wrong_counts_as_found(const struct practice_job *p)
{
    struct dieset *d = job_dieset(practice_run_job(run));
    int found = 0, answers = 0;
    for (int q = 0; q < dieset_quantity_count(d); q += 53) {
        struct base_text says = {0};
        const char *path = dieset_quantity(d, q)->path;
        enum practice_answer a = practice_answer(run, path, &says);
        const char *word = a == PRACTICE_FOUND ? "found: " : a == PRACTICE_CLOSE ? "close: " : "not that: ";
        ck_assert_msg(strncmp(base_text_get(&says), word, strlen(word)) == 0 &&
                          strlen(base_text_get(&says)) < 240,
                      "%s: %s", path, base_text_get(&says));
        found += a == PRACTICE_FOUND;
        answers++;
        base_text_done(&says);
    }
    ck_assert_msg(found * 20 < answers, "%s: %d of %d count", p->name, found, answers);
    bool planted = false;
    for (int i = 0; i < p->n_found; i++) {
        size_t n = strlen(p->found[i]);
        struct base_text says = {0};
        if (dieset_find(d, p->found[i]) >= 0)
            ck_assert_int_eq(practice_answer(run, p->found[i], &says), PRACTICE_FOUND);
        else
            ck_assert_msg(names_any(d, p->found[i]), "%s: nothing is called %s", p->name, p->found[i]);
        for (int k = 0; k < p->plants.n; k++)
            planted = planted || strncmp(p->plants.at[k].path, p->found[i], n) == 0;
        base_text_done(&says);
    }
    ck_assert_msg(planted, "%s: what is planted does not count as found", p->name);
}

START_TEST(a_practice_job_is_as_its_record_says)
{
    const struct practice_job *p = begin(_i);
    if (!p)
        return;
    exactly_the_planted_findings_stand(p);
    hints_name_values_that_are_there(p);
    only_what_is_wrong_counts_as_found(p);
    what_is_given_is_there(p);
    the_mend_clears_it_with_nothing_else_coming(p);
}
END_TEST
static const struct { const char *job, *path; enum practice_answer answer; const char *says;
} answered[] = {
    /* the demo's posts: 200 long; 123.2 open, 11.5 to the first touch, less 40 of bushing, 48 and 3 in it, 49
       of seat: 194.7 needed */
    {"turned", "posts.length", PRACTICE_NOT_THAT,
     "\"short\" of posts holds with 5.3 mm to spare (200.0 mm; at least 194.7 mm)"},
    {"bottom", "press.size", PRACTICE_NOT_THAT, "holds"},
    {"turned", "no.such", PRACTICE_NOT_THAT, "no value"},
    {"member", "small_holes.opening", PRACTICE_CLOSE, "w shows what it comes from"},
    {"window", "die_plate.thickness", PRACTICE_CLOSE, "stands as it should"},
    {"window", "stack.height_on_bolster", PRACTICE_CLOSE, "follows from what is wrong"},
    {"long-post", "posts.length", PRACTICE_FOUND, "224.0 mm"},
    {"turned", "punch_dowels.length", PRACTICE_NOT_THAT, ""},
    /* the rule sums over all springs */
    {"weak", "stripper_springs.force_leave", PRACTICE_CLOSE, "shows what is wrong"},
    /* by the load class, its usual formula */
    {"weak", "stripper_springs.rate", PRACTICE_CLOSE, "shows what is wrong"},
    {"weak", "stripper_springs.pocket_depth", PRACTICE_CLOSE, "stands as it should"},
    /* the other side of the comparison */
    {"weak", "stack.stripping", PRACTICE_CLOSE, "shows what is wrong"},
    /* the record says so: no formula tells */
    {"turned", "die_screws.left_back.y", PRACTICE_CLOSE, "stands as it should"},
    {"turned", "die_dowels.lay.end", PRACTICE_FOUND, ""},
    {"halves", "posts.left_back.turn", PRACTICE_FOUND, ""},
    {"halves", "posts.lay.side", PRACTICE_CLOSE, ""},
    {"weak", "posts.length", PRACTICE_NOT_THAT, "holds"},
    {"room", "stack.punch_length", PRACTICE_CLOSE, "stands as it should"},
    {"ledge", "risers.width", PRACTICE_NOT_THAT, ""},
    {"nearest", "lower_shoe.thickness", PRACTICE_CLOSE, "stands as it should"},
};

START_TEST(answers_say_what_holds)
{
    struct base_text says = {0};
    begin(practice_find(book, answered[_i].job, NULL));
    ck_assert_int_eq(practice_answer(run, answered[_i].path, &says), answered[_i].answer);
    ck_assert_msg(strstr(base_text_get(&says), answered[_i].says) != NULL, "%s", base_text_get(&says));
    base_text_done(&says);
}
END_TEST

/* "path = formula; path = formula", all as one edit. */
static void change_all(const char *edits)
{
    enum { MOST = 8 };
    char *copy = base_copy(edits), *rest = copy;
    const char *paths[MOST], *formulas[MOST];
    int n = 0;
    for (char *one; n < MOST && (one = strtok_r(rest, ";", &rest)); n++) {
        char *equals = strstr(one, " = ");
        ck_assert_msg(equals != NULL, "%s", one);
        *equals = '\0';
        paths[n] = one + strspn(one, " ");
        formulas[n] = equals + 3;
    }
    ck_ok(job_set_many(practice_run_job(run), paths, formulas, n, why));
    ck_ok(job_take(practice_run_job(run), why));
    free(copy);
}

/* Whatever a toolmaker would do mends it; what only talks the fault away, or moves it, does not. */
static const struct { const char *job, *edits; enum practice_state state; const char *says; } cures[] = {
    {"window", "risers.height = 33.3 mm", PRACTICE_MENDED, ""}, /* 224.2 - 7.5 + 33.3 = 250 */
    {"window", "risers.height = 33.2 mm", PRACTICE_STANDS, "not mended yet"},
    {"window", "stack.punch_length = 77 mm; posts.sunk = 0 mm", PRACTICE_MENDED, ""},
    {"window", "die_backing.thickness = 15.5 mm", PRACTICE_MENDED, ""},
    {"window", "lower_shoe.thickness = 55 mm", PRACTICE_OTHER, "lifting holes"},
    {"window", "press.adjustment = 100 mm", PRACTICE_STANDS, "press.adjustment is given in this job"},
    {"window", "press.most_height = 290 mm", PRACTICE_STANDS, "given"},
    {"window", "stack.punch_regrind = 0 mm", PRACTICE_STANDS, "given"},
    {"window", "die_plate.regrind = 0 mm", PRACTICE_STANDS, "given"},
    {"window", "stripper.moves = \"with the slide\"", PRACTICE_OTHER, "strips nothing"},
    {"centre", "stack.set_along = 20 mm", PRACTICE_MENDED, ""},
    {"centre", "press.bolster_length = 1600 mm", PRACTICE_STANDS, "given"},
    {"ledge", "risers.apart = 210 mm", PRACTICE_MENDED, ""},
    {"ledge", "risers.run = \"along the feed\"; risers.apart = 120 mm", PRACTICE_MENDED, ""},
    {"ledge", "blank.lay.along = 15 mm", PRACTICE_STANDS, ""},
    {"member", "small_holes.does = \"notch\"", PRACTICE_STANDS, "not mended yet"},
    {"member", "small_holes.does = \"idle\"", PRACTICE_STANDS, "not mended yet"},
    {"member", "strip.clearance_share = 0", PRACTICE_STANDS, ""},
    {"bottom", "stack.die_regrind = 0 mm", PRACTICE_STANDS, "given"},
    {"bottom", "die_backing.thickness = 15 mm", PRACTICE_MENDED, ""},
    {"nearest", "die_screws.length = 70 mm", PRACTICE_MENDED, ""},
    {"nearest", "die_screws.head_depth = 11.3 mm", PRACTICE_MENDED, ""}, /* 65 = 66.25 - 1.25, and some */
    {"nearest", "die_screws.head_depth = 46 mm", PRACTICE_OTHER, ""},
    {"nearest", "engagement_wanted = 0.5", PRACTICE_STANDS, "engagement_wanted is a factor"},
    {"proud", "die_screws.head_depth = 8 mm", PRACTICE_MENDED, ""},
    {"proud", "die_screws.head_depth = 7.9 mm", PRACTICE_STANDS, "not mended yet"},
    {"proud", "die_screws.size = \"M10\"", PRACTICE_STANDS, "proud"}, /* its head is 10 high */
    /* the stiffer stripper kept */
    {"room", "stack.punch_length = 88 mm; risers.height = 40 mm", PRACTICE_MENDED, ""},
    {"drift", "die_dowels.way_out = \"pull thread\"", PRACTICE_MENDED, ""},
    /* one screw out of the pattern: the pins let it on, and seven screws hold it there */
    {"turned", "die_screws.left_back.x = -95 mm", PRACTICE_STANDS, "not mended yet"},
    {"turned", "die_dowels.lay.left_across = -3 mm", PRACTICE_MENDED, ""},
    /* by less than the clear holes give away */
    {"turned", "die_dowels.lay.right_across = 11.1 mm", PRACTICE_STANDS, "not mended yet"},
    {"bolts", "stripper_bolts.sunk = 5 mm", PRACTICE_MENDED, ""},
    {"bolts", "stack.after_grinding = \"stripper set up again\"", PRACTICE_MENDED, ""},
    /* the seat would be deeper than the shoe */
    {"bolts", "stripper_bolts.length = 50 mm", PRACTICE_OTHER, "head"},
    {"short-post", "bushings.form = \"shouldered\"", PRACTICE_MENDED, ""},
    {"short-post", "punch_plate.moves = \"with the bed\"", PRACTICE_OTHER, "the press closes"},
    {"short-post", "posts.length = 260 mm", PRACTICE_OTHER, "something else has come: "}, /* now it strikes */
    {"long-post", "posts.length = 200 mm", PRACTICE_MENDED, ""},
    {"long-post", "posts.bore_depth = 70 mm", PRACTICE_STANDS, "not mended yet"},
    {"halves", "posts.left_front.y = usual - 8 mm", PRACTICE_MENDED, ""},
    {"weak", "stripper_springs.load = \"heavy\"", PRACTICE_MENDED, ""},
    {"weak", "stripper_springs.rate = 400 N/mm", PRACTICE_STANDS, "stripper_springs.rate"},
    {"weak", "strip.thickness = 0.5 mm", PRACTICE_STANDS, "given"},
    {"weak", "stripping_share = 2 %", PRACTICE_STANDS, "stripping_share is a factor"},
    /* 1.8 of strip and half as much again: 2.7 */
    {"channel", "rails.thickness = 2.7 mm", PRACTICE_MENDED, ""},
    {"channel", "rails.thickness = 2.6 mm", PRACTICE_STANDS, "not mended yet"},
    {"lift", "legs.leg = 3 mm", PRACTICE_STANDS, "legs.leg is given"},
};

START_TEST(a_cure_is_judged_by_what_it_does)
{
    struct base_text says = {0};
    begin(practice_find(book, cures[_i].job, NULL));
    change_all(cures[_i].edits);
    enum practice_state state = practice_look(run, &says);
    ck_assert_msg(state == cures[_i].state && strstr(base_text_get(&says), cures[_i].says), "%s, %s: %d, %s",
                  cures[_i].job, cures[_i].edits, state, base_text_get(&says));
    base_text_done(&says);
}
END_TEST

/* Taken away, given another name, or with parts that nobody makes. */
static enum practice_state look_after(enum base_err err, const char *says)
{
    struct base_text told = {0};
    ck_assert_int_eq(err, BASE_OK);
    ck_ok(job_take(practice_run_job(run), why));
    enum practice_state state = practice_look(run, &told);
    ck_assert_msg(strstr(base_text_get(&told), says) != NULL, "%s", base_text_get(&told));
    base_text_done(&told);
    return state;
}

START_TEST(taking_the_thing_away_mends_nothing)
{
    begin(practice_find(book, "bolts", NULL));
    ck_assert_int_eq(look_after(job_remove(practice_run_job(run), "stripper_bolts", NULL),
                                "stripper_bolts is gone"),
                     PRACTICE_STANDS);
    end_run();
    begin(practice_find(book, "weak", NULL));
    ck_assert_int_eq(look_after(job_remove(practice_run_job(run), "notches", NULL), ""), PRACTICE_STANDS);
}
END_TEST

START_TEST(another_name_neither_mends_nor_spoils)
{
    begin(practice_find(book, "drift", NULL));
    ck_assert_int_eq(look_after(job_rename(practice_run_job(run), "die_dowels", "pins", NULL),
                                "not mended yet"),
                     PRACTICE_STANDS);
    ck_assert_int_eq(look_after(job_set(practice_run_job(run), "pins.way_out", "\"driven out\"", NULL),
                                "mended"),
                     PRACTICE_MENDED);
}
END_TEST

START_TEST(parts_of_ones_own_mend_nothing)
{
    static const char rows[] = "# source: wished for\n# confidence: "
                               "invented\nkey,frame,rated_kN,most_height_mm,adjustment_mm,stroke_mm\nlong "
                               "reach,open front,630,305,200,100\n";
    begin(practice_find(book, "window", NULL));
    struct job *j = practice_run_job(run);
    look_after(job_import(j, "press_size", "wish.csv", rows, strlen(rows), NULL), "not mended yet");
    ck_assert_int_eq(look_after(job_set(j, "risers.height", "60 mm", NULL), "of your own"), PRACTICE_STANDS);
}
END_TEST

START_TEST(waiving_mends_nothing)
{
    struct base_text says = {0};
    begin(practice_find(book, "window", NULL));
    const struct finding *list;
    int n = findings_judge(job_findings(practice_run_job(run)), &list);
    ck_assert(n > 0 && strcmp(list[0].rule, "press-window") == 0);
    char *key = base_copy(list[0].key);
    ck_ok(job_waive(practice_run_job(run), key, "nobody will see", why));
    ck_ok(job_take(practice_run_job(run), why));
    ck_assert_int_eq(practice_look(run, &says), PRACTICE_STANDS);
    ck_assert_msg(strstr(base_text_get(&says), "to waive it mends nothing") != NULL, "%s",
                  base_text_get(&says));
    base_text_done(&says);
    free(key);
}
END_TEST

START_TEST(undo_does_not_tell_the_mistake)
{
    struct base_diag why = {0};
    begin(0);
    ck_assert_int_ne(job_step_take(practice_run_job(run), true, 0, &why), BASE_OK);
    ck_assert_str_eq(job_file(practice_run_job(run)), "");
}
END_TEST

/* ---- refusals of records ---- */
static const struct { const char *text, *says; int line;
} refused[] = {
    {"practise x\n", "\"practise\" is no record of practice; there are base, practice and guide.", 1},
    {"base b\n  title t\n", "There is no \"like\" here.", 1},
    {"practice p\n  title t\n  question q\n  theme strip\n  level 1\n  learnt l\n  source s\n",
     "There is no base \"\" before this.", 1},
    {"base b\n  title t\n  like cover-plate\n  set thick\n", "\"thick\" is no change: it is NAME = FORMULA.",
     4},
    {"base b\n  title t\n  like cover-plate\npractice p\n  title t\n  question q\n  theme strip\n  "
     "level 1\n  learnt l\n  source s\n  from b\n",
     "p wants three hints.", 4},
    {"base b\n  title t\n  like cover-plate\n  colour red\n", "\"colour\" means nothing here.", 4},
    {"practice p\n  title t\n  question q\n  theme hats\n",
     "\"hats\" is no theme; there are plates, fasteners, guides, "
     "springs, strip, forming.",
     1},
    {"practice p\n  title t\n  question q\n  theme strip\n  level 4\n", "\"4\" is no level; they are 1 to 3.",
     1},
    {"base b\n  title t\n  like cover-plate\nguide g\n  title t\n  question q\n  from b\n  source s\n",
     "g wants steps.", 4},
    {"guide g\n  title t\n  question q\n  from b\n", "There is no base \"b\" before this.", 1},
    {"base b\n  title t\n  like cover-plate\nguide g\n  title t\n  question q\n  from b\n  source s\n  step\n"
     "    says x\n    learnt y\n",
     "A step says either \"until\", a formula, or what it \"looks\" at.", 9},
    {"base b\n  title t\n  like cover-plate\nguide g\n  title t\n  question q\n  from b\n  source s\n  step\n"
     "    says x\n    learnt y\n    until strip.pitch > 1 mm\n",
     "A step until strip.pitch > 1 mm says what to \"do\".", 9},
};

START_TEST(a_faulty_record_is_refused_in_its_line)
{
    char *folder = base_format("%s/practice", fresh_folder()), *path = base_format("%s/10-x.txt", folder),
         *line = base_format("mkdir %s", folder);
    struct practice_book *b;
    struct base_diag why = {0};
    ck_assert_int_eq(system(line), 0);
    FILE *f = fopen(path, "w");
    fputs(refused[_i].text, f);
    fclose(f);
    folder[strlen(folder) - strlen("/practice")] = '\0';
    ck_assert_int_eq(practice_load(folder, &b, &why), BASE_UNREADABLE);
    ck_assert_str_eq(why.message, refused[_i].says);
    ck_assert_int_eq(why.line, refused[_i].line);
    free(folder);
    free(path);
    free(line);
}
END_TEST

/* ---- guides ---- */

/* As many columns as two message rows of 80 columns have; and so few that findings stay in sight. */
enum { MOST_LEARNT = 156, MOST_SAYS = 140 };

static void is_short_and_whole(struct practice_walk *w, const char *text, size_t most)
{
    struct base_text said = {0};
    practice_walk_say(w, text, &said);
    ck_assert_msg(!strpbrk(base_text_get(&said), "?{}") || (strchr(text, '?') && !strchr(text, '{')), "%s",
                  base_text_get(&said));
    ck_assert_msg(said.length <= most, "%zu are more than %zu: %s", said.length, most, base_text_get(&said));
    base_text_done(&said);
}

/* Not done before what it asks for, done behind it, and none but that one. */
static void walk_step(struct practice_walk *w, int i)
{
    const struct practice_guide *g = practice_walk_about(w);
    const struct practice_step *s = &g->steps[i];
    ck_assert_int_eq(practice_walk_look(w, NULL), 0);
    ck_assert_msg(practice_walk_at(w) == i, "%s: step %d is at hand, not %d", g->name,
                  practice_walk_at(w) + 1, i + 1);
    is_short_and_whole(w, s->says, MOST_SAYS);
    if (s->looks) {
        ck_assert_int_eq(practice_walk_look(w, "no such word"), 0);
        char first[80];
        record_word(s->looks, first, sizeof first);
        ck_assert_int_eq(practice_walk_look(w, first), 1);
    }
    for (int k = 0; k < s->n_does; k++) {
        ck_assert_msg(practice_walk_look(w, NULL) == 0, "%s: step %d is done before its %s", g->name, i + 1,
                      s->does[k]);
        ck_ok(practice_walk_do(w, s->does[k], why));
    }
    if (s->until)
        ck_assert_msg(practice_walk_look(w, NULL) == 1, "%s: step %d is not done: %s", g->name, i + 1,
                      s->until);
    is_short_and_whole(w, s->learnt, MOST_LEARNT);
}

START_TEST(a_guide_goes_step_by_step_and_ends_sound)
{
    struct practice_walk *w;
    const struct finding *list;
    ck_ok(practice_walk_begin(book, h, _i, &w, why));
    const struct practice_guide *g = practice_walk_about(w);
    ck_assert_int_eq(practice_find_guide(book, g->name), _i);
    for (int i = 0; i < g->n_steps; i++)
        walk_step(w, i);
    ck_assert_int_eq(practice_walk_at(w), g->n_steps);
    int n = findings_judge(job_findings(practice_walk_job(w)), &list);
    for (int i = 0; i < n; i++)
        ck_assert_msg(list[i].grade == HANDBOOK_NOTE, "%s, at its end: %s", g->name, list[i].message);
    practice_walk_end(w);
}
END_TEST

START_TEST(a_step_once_done_stays_done)
{
    struct practice_walk *w;
    ck_ok(practice_walk_begin(book, h, practice_find_guide(book, "first-set"), &w, why));
    ck_ok(practice_walk_do(w, "strip.thickness=2 mm", why));
    ck_assert_int_eq(practice_walk_look(w, ""), 2); /* with no screens a step that only looks is passed by */
    ck_ok(job_step_take(practice_walk_job(w), true, 0, why));
    ck_assert_int_eq(practice_walk_look(w, NULL), 1); /* thin again, the springs are enough */
    ck_assert_int_eq(practice_walk_do(w, "stations", NULL), BASE_REFUSED);
    ck_assert_int_eq(practice_walk_do(w, "stations turn 3", NULL), BASE_REFUSED);
    practice_walk_end(w);
}
END_TEST

START_TEST(a_guide_and_what_is_near_it_are_found_by_name)
{
    struct base_diag why = {0};
    ck_assert_int_eq(practice_guide_count(book), GUIDES);
    ck_assert_int_eq(practice_find_guide(book, "window"), -1);
    ck_assert_int_eq(practice_find(book, "first-sets", &why), -1);
    ck_assert_msg(strstr(why.message, "near it: first-set") != NULL, "%s", why.message);
}
END_TEST

/* ---- what is done ---- */

START_TEST(what_is_done_is_kept_once_and_nowhere_else)
{
    const char *state = fresh_folder();
    struct base_map done = {0};
    practice_done_read(NULL, &done);
    practice_done_add(NULL, "window");
    practice_done_read(state, &done);
    ck_assert_int_eq((int)done.count, 0);
    practice_done_add(state, "window");
    practice_done_add(state, "first-set");
    practice_done_add(state, "window");
    char *path = base_format("%s/diewright/practice", state), *text;
    size_t length;
    ck_ok(base_read_file(path, &text, &length, why));
    ck_assert_str_eq(text, "done window\ndone first-set\n");
    practice_done_read(state, &done);
    ck_assert(base_map_get(&done, "window", NULL) && base_map_get(&done, "first-set", NULL));
    ck_assert(!base_map_get(&done, "room", NULL));
    base_map_done(&done);
    free(path);
    free(text);
}
END_TEST

/* ---- exercises ---- */

/* The printed figure answers each of them; twice, ten times as much, no unit and another kind of unit never
   do. */
START_TEST(every_exercise_takes_its_own_answer_and_no_other)
{
    struct practice_exercises *x = practice_exercises_new(h, "data");
    int n = practice_exercise_count(x);
    ck_assert_int_ge(n, 150);
    for (int i = 0; i < n; i++) {
        struct base_text ask = {0}, hint = {0}, work = {0}, says = {0};
        ck_ok(practice_exercise_ask(x, i, &ask, why));
        ck_assert_msg(strstr(base_text_get(&ask), "\nasked: ") != NULL, "%s", base_text_get(&ask));
        ck_ok(practice_exercise_hint(x, i, &hint, why));
        ck_assert_msg(strstr(base_text_get(&hint), " = ") != NULL, "%d: no formula in %s", i + 1,
                      base_text_get(&hint));
        ck_ok(practice_exercise_solve(x, i, &work, why));
        const char *right = strstr(base_text_get(&work), "the number: ");
        ck_assert_msg(right && strstr(right, "\nsource: "), "%s", base_text_get(&work));
        right += strlen("the number: ");
        char *answer = base_copy_n(right, strcspn(right, "\n")),
             *more = base_format("3 * (%s) + 0.0 * (%s)", answer, answer),
             *kind = base_format("(%s) * (1 kN)^3", answer);
        ck_assert_msg(practice_exercise_answer(x, i, answer, &says), "%d: %s: %s", i + 1, answer,
                      base_text_get(&says));
        if (strtod(answer, NULL) != 0) { /* three times nothing is nothing, also in another unit */
            ck_assert_msg(!practice_exercise_answer(x, i, more, &says), "%d: %s", i + 1, more);
            ck_assert_msg(!practice_exercise_answer(x, i, kind, &says), "%d: %s", i + 1, kind);
        }
        free(answer);
        free(more);
        free(kind);
        base_text_done(&ask);
        base_text_done(&hint);
        base_text_done(&work);
        base_text_done(&says);
    }
    practice_exercises_free(x);
}
END_TEST

/* HB-01: pi * 100 mm * 2 mm * 280 MPa = 175 929.19 N, and by definition of the units 175.929 kN, 39 550.5
   lbf. */
static const struct { const char *answer; bool right; const char *says; } judged[] = {
    {"175929 N", true, "right: 175929 N."},
    {"175.9 kN", true, "right"},
    {"176 kN", true, "right"},
    {"180 kN", false, "it is less"},
    {"170 kN", false, "it is more"},
    {"39550 lbf", true, "right"},
    {"175929", false, "175929 of what? The answer is a force"},
    {"175929 lbf", false, "the number is right in N; look at the unit."},
    {"175.9 N", false, "the number is right in kN; look at the unit."},
    {"351858 N", false, "twice as much"},
    {"88 kN", false, "half as much"},
    {"1759 kN", false, "a factor of 10"},
    {"-175.929 kN", false, "the sign"},
    {"12 mm", false, "that is a length; the answer is a force"},
    {"yes", false, "that is no number"},
    {"", false, "cannot be read"},
    {"12 furlong", false, "cannot be read"},
    {"12 furlong", false, "The answer is a force, with its unit: N, kN"},
    {" = 176 kN.", true, "right"},
    {"pi * 100 mm * 2 mm * 280 MPa", true, "right"},
    {"cutting_force(pi * 100 mm, 2 mm, 280 MPa)", false, "work it out yourself"},
    {"175,9 kN", false, "write 175.9 kN, or leave it out"},
    {"176 KN", false, "is kN meant?"},
};

START_TEST(an_answer_is_told_right_or_in_what_it_slips)
{
    struct practice_exercises *x = practice_exercises_new(h, "data");
    struct base_text says = {0};
    ck_assert_str_eq(practice_exercise_title(x, 0), "force to blank a disc");
    ck_assert_int_eq(practice_exercise_answer(x, 0, judged[_i].answer, &says), judged[_i].right);
    ck_assert_msg(strstr(base_text_get(&says), judged[_i].says) != NULL, "%s: %s", judged[_i].answer,
                  base_text_get(&says));
    base_text_done(&says);
    practice_exercises_free(x);
}
END_TEST

START_TEST(the_working_shows_formula_numbers_and_source)
{
    struct practice_exercises *x = practice_exercises_new(h, "data");
    struct base_text out = {0};
    ck_ok(practice_exercise_ask(x, 0, &out, why));
    ck_ok(practice_exercise_solve(x, 0, &out, why));
    static const char *const parts[] = {"cut              = pi * 100 mm",
                                        "dull_edge        = 1, a factor",
                                        "asked: cutting_force, a force",
                                        "cutting_force = dull_edge * cut * strip * shear",
                                        "= 1 * (pi * 100 mm) * (2 mm) * (280 MPa)",
                                        "= 175.9 kN",
                                        "printed: 175 840 N",
                                        "source: own derivation: arithmetic"};
    for (size_t i = 0; i < COUNT_OF(parts); i++)
        ck_assert_msg(strstr(base_text_get(&out), parts[i]) != NULL, "no \"%s\" in\n%s", parts[i],
                      base_text_get(&out));
    base_text_done(&out);
    practice_exercises_free(x);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("practice");
    TCase *t = tcase_create("jobs"), *x = tcase_create("exercises"), *g = tcase_create("guides");
    tcase_add_unchecked_fixture(t, open_books, close_books);
    tcase_add_unchecked_fixture(g, open_books, close_books);
    tcase_add_unchecked_fixture(x, open_books, close_books);
    tcase_add_checked_fixture(t, NULL, end_run);
    tcase_set_timeout(t, 60);
    tcase_set_timeout(x, 120);
    tcase_add_loop_test(g, a_guide_goes_step_by_step_and_ends_sound, 0, GUIDES);
    tcase_add_test(g, a_step_once_done_stays_done);
    tcase_add_test(g, a_guide_and_what_is_near_it_are_found_by_name);
    tcase_add_test(g, what_is_done_is_kept_once_and_nowhere_else);
    tcase_add_test(t, there_are_enough_and_each_has_a_name_of_its_own);
    tcase_add_loop_test(t, a_practice_job_is_as_its_record_says, 0, MOST_JOBS);
    tcase_add_loop_test(t, answers_say_what_holds, 0, COUNT_OF(answered));
    tcase_add_loop_test(t, a_cure_is_judged_by_what_it_does, 0, COUNT_OF(cures));
    tcase_add_test(t, another_name_neither_mends_nor_spoils);
    tcase_add_test(t, parts_of_ones_own_mend_nothing);
    tcase_add_test(t, taking_the_thing_away_mends_nothing);
    tcase_add_test(t, waiving_mends_nothing);
    tcase_add_test(t, undo_does_not_tell_the_mistake);
    tcase_add_loop_test(t, a_faulty_record_is_refused_in_its_line, 0, COUNT_OF(refused));
    tcase_add_test(x, every_exercise_takes_its_own_answer_and_no_other);
    tcase_add_loop_test(x, an_answer_is_told_right_or_in_what_it_slips, 0, COUNT_OF(judged));
    tcase_add_test(x, the_working_shows_formula_numbers_and_source);
    suite_add_tcase(s, g);
    suite_add_tcase(s, t);
    suite_add_tcase(s, x);
    return run_suite(s);
}
