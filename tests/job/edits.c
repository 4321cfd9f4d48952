/* The edit commands: what each does to the text, what it refuses, and that a dropped try leaves no trace. */

#include "bench.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define JOB "tests/job/all-sorts.txt"

/* TEXT's lines, parted by ";". */
static enum base_err whole_outline(struct job *j, const char *item, const char *text, struct base_diag *why)
{
    const char *lines[20];
    char *copy = base_copy(text), *rest = NULL;
    int n = 0;
    for (char *line = strtok_r(copy, ";", &rest); line && n < 20; line = strtok_r(NULL, ";", &rest))
        lines[n++] = line + strspn(line, " ");
    enum base_err err = job_outline(j, item, lines, n, why);
    free(copy);
    return err;
}

/* One command in words: "set die_plate.thickness 36 mm". */
static enum base_err command(struct job *j, const char *words, struct base_diag *why)
{
    char verb[40], a[80], b[80], c[80];
    const char *after_verb = record_word(words, verb, sizeof verb);
    const char *after_a = record_word(after_verb, a, sizeof a);
    const char *after_b = record_word(after_a, b, sizeof b);
    const char *after_c = record_word(after_b, c, sizeof c);
    if (strcmp(verb, "set") == 0)
        return job_set(j, a, after_a, why);
    if (strcmp(verb, "unset") == 0)
        return job_unset(j, a, why);
    if (strcmp(verb, "reason") == 0)
        return job_reason(j, a, *after_a ? after_a : NULL, why);
    if (strcmp(verb, "entry") == 0)
        return job_entry(j, a, b, *after_b ? after_b : NULL, why);
    if (strcmp(verb, "add") == 0)
        return job_add(j, a, b, *after_b ? atoi(after_b) : -1, why);
    if (strcmp(verb, "like") == 0)
        return job_add_like(j, a, b, why);
    if (strcmp(verb, "remove") == 0)
        return job_remove(j, a, why);
    if (strcmp(verb, "rename") == 0)
        return job_rename(j, a, b, why);
    if (strcmp(verb, "remark") == 0)
        return job_remark(j, a, after_a, why);
    if (strcmp(verb, "unremark") == 0)
        return job_unremark(j, a, why);
    if (strcmp(verb, "waive") == 0) { /* the rule and its item, then the reason */
        char finding[200];
        bool alone = !*b || strcmp(b, "-") == 0;
        snprintf(finding, sizeof finding, "%s%s%s", a, alone ? "" : " ", alone ? "" : b);
        return job_waive(j, finding, after_b, why);
    }
    if (strcmp(verb, "unwaive") == 0)
        return job_unwaive(j, after_verb, false, why);
    if (strcmp(verb, "issue") == 0)
        return job_issue(j, a, *after_a ? after_a : NULL, why);
    if (strcmp(verb, "move") == 0)
        return job_move(j, a, atoi(b), why);
    if (strcmp(verb, "lay") == 0)
        return job_lay(j, a, after_a, why);
    if (strcmp(verb, "value") == 0)
        return job_value_add(j, a, b, c, after_c, why);
    if (strcmp(verb, "value-rename") == 0)
        return job_value_rename(j, a, b, c, why);
    if (strcmp(verb, "insert") == 0)
        return job_outline_insert(j, a, atoi(b), after_b, why);
    if (strcmp(verb, "outline") == 0)
        return whole_outline(j, a, after_a, why);
    ck_assert_msg(strcmp(verb, "value-remove") == 0, "no command %s", verb);
    return job_value_remove(j, a, b, why);
}

/* ---- what is done --------------------------------------------------------------------------------- */

static const struct done {
    const char *words, *title;
    const char *now, *never; /* lines of the dump afterwards; NULL: not looked at */
} all_done[] = {
    {"set die_plate.thickness 36 mm", "die_plate.thickness 32 mm -> 36 mm", "  thickness = 36 mm\n",
     "  thickness = 32 mm\n"},
    /* the job's unit behind a bare number */
    {"set die_plate.thickness 36", "die_plate.thickness 32 mm -> 36 mm", "  thickness = 36 mm\n", NULL},
    {"set die_plate.thickness 1 1/4 in", "die_plate.thickness 32 mm -> 1 1/4 in", "  thickness = 1 1/4 in\n",
     NULL},
    {"set die_plate.thickness lower_shoe.thickness - 18 mm", NULL,
     "  thickness = lower_shoe.thickness - 18 mm\n", NULL},
    {"set die_plate.material \"1.2379\"", NULL, "  material = \"1.2379\"\n", NULL},
    {"set die_screws.middle_back.x usual + 3 mm", "die_screws.middle_back.x usual -> usual + 3 mm",
     "    point middle_back\n      x = usual + 3 mm\n", NULL},
    {"set die_screws.lay.side 22", "die_screws.lay.side 20 mm -> 22 mm", "    side = 22 mm\n", NULL},
    {"set stack.punch_plate punch_backing", NULL, "  punch_plate = punch_backing\n", NULL},
    {"set penetration 0.35", "penetration usual -> 0.35", "factor penetration = 0.35\n", NULL},
    {"set stripping_share 9 %", "stripping_share 8 % -> 9 %", "factor stripping_share = 9 %\n", "8 %"},
    {"set heights.free 50", NULL, "  free : length = 50 mm\n    help What stands out of the punch plate.\n",
     NULL},
    {"unset die_plate.width", NULL, "  title Die plate, hard\n", "room for clamps"},
    {"unset die_screws.right_back.x", NULL, "    point right_back\n      turn = 30 deg\n", "room for a pin"},
    {"unset stripping_share", NULL, NULL, "factor"},
    {"reason die_plate.width for the clamps of the shelf", NULL, "    reason for the clamps of the shelf\n",
     "room for clamps"},
    {"reason die_plate.width", NULL, NULL, "room for clamps"},
    {"reason stripping_share said the foreman", NULL, "  reason said the foreman\n", "well oiled"},
    {"entry die_plate title Die", "die_plate: title Die", "  title Die\n", "Die plate, hard"},
    {"entry die_plate note", NULL, NULL, "Cut from the bar"},
    {"add plate rails 10", NULL, "plate rails\n\nplate die_plate\n", NULL},
    /* last of its kind */
    {"add plate rails", NULL,
     "plate lower_shoe\n  thickness = 50 mm\n  moves = \"with the bed\"\n\nplate rails\n", NULL},
    {"add springs springs", NULL, "springs springs\n", NULL},
    {"add screws more", NULL,
     "screws more\n  head_in = lower_shoe\n  thread_in = die_plate\n  lay corners on die_plate\n    end = 20 "
     "mm\n",
     NULL},
    {"add station last", NULL, "station last\n  number = 3\n  lay one on die_plate\n", NULL},
    {"like die_screws more_screws", "more_screws added, like die_screws",
     "screws more_screws\n  head_in = lower_shoe\n", NULL},
    {"remove bushings", "bushings taken out", NULL, "bushings"},
    {"remove stripping_share", NULL, NULL, "factor"},
    {"rename die_plate cutting_plate", "die_plate renamed cutting_plate", "  die_plate = cutting_plate\n",
     "plate die_plate"},
    {"rename die_plate cutting_plate", NULL, "  lay six on cutting_plate\n", "on die_plate"},
    {"rename die_plate cutting_plate", NULL, "  thread_in = cutting_plate\n", "thread_in = die_plate"},
    {"rename posts pillars", NULL, "  of = pillars\n", "of = posts"},
    {"rename posts pillars", NULL, "  lay with pillars\n", "with posts"},
    /* the stack's own reference */
    {"rename punch_plate holder", NULL, "  punch_length = punch_plate.thickness + heights.free\n",
     "plate punch_plate"},
    {"rename heights tall", NULL, "  punch_length = punch_plate.thickness + tall.free\n", "heights"},
    {"rename heights tall", NULL, "    end = tall.half - 5 mm\n", NULL},
    {"move lower_shoe 6", "lower_shoe put below heights",
     "plate lower_shoe\n  thickness = 50 mm\n  moves = \"with the bed\"\n\nplate upper_shoe\n", NULL},
    {"lay die_screws corners on stripper", "die_screws laid corners on stripper",
     "  lay corners on stripper\n    end = heights.half - 5 mm\n", "  lay six"},
    {"lay die_screws corners on die_plate", NULL,
     "    point right_back\n      x = usual - 6 mm\n        reason room for a pin\n", "  lay six"},
    {"lay die_screws six on lower_shoe", NULL,
     "  lay six on lower_shoe\n    end = heights.half - 5 mm\n      reason follows", NULL},
    {"lay die_screws one on die_plate", NULL, "  lay one on die_plate\n    turn = 0 deg\n", "heights.half"},
    {"lay die_screws with posts", NULL, "  lay with posts\n", "point right_back"},
    {"set cover.outline.2 line by 22, 0", "cover.outline.2 line by 20 mm, 0 mm -> line by 22 mm, 0 mm",
     "    line by 22 mm, 0 mm\n", "line by 20 mm"},
    {"set cover.outline.5 line to -11 mm, 0", "cover.outline.5 not filled in -> line to -11 mm, 0 mm",
     "    line to -10 mm, 6 mm\n    line to -11 mm, 0 mm\n", NULL},
    {"unset cover.outline.2", "cover.outline.2 taken out",
     "free / 20\n    arc to 10 mm, 6 mm radius 5 mm left no cut\n      reason left by the blank\n    line to",
     "line by"},
    {"set cover.outline.4", "cover.outline.4 taken out", "      reason left by the blank\n  lay one",
     "line to -10 mm"},
    {"insert cover 3 arc by 0, 1 radius 4 right",
     "cover.outline.3 put in: arc by 0 mm, 1 mm radius 4 mm right",
     "    line by 20 mm, 0 mm\n    arc by 0 mm, 1 mm radius 4 mm right\n    arc to 10 mm, 6 mm radius 5 mm "
     "left no cut\n      reason left by the blank\n",
     NULL},
    {"insert cover 0 line to -12, 2", "cover.outline.5 put in: line to -12 mm, 2 mm",
     "    line to -12 mm, 2 mm\n  lay", NULL},
    {"reason cover.outline.2 as drawn", NULL, "    line by 20 mm, 0 mm\n      reason as drawn\n", NULL},
    {"outline cover at 0, 0; line to 8, 0; line to 0, 8", "outline of cover, 3 lines",
     "  outline\n    at 0 mm, 0 mm\n    line to 8 mm, 0 mm\n    line to 0 mm, 8 mm\n  lay", "by the blank"},
    {"outline cover", "outline of cover taken out", "  outline_turn = 90 deg\n  lay", "arc"},
    {"like cover second", NULL,
     "station second\n  number = 2\n  does = \"trim\"\n  shape = \"outline\"\n"
     "  outline_turn = 90 deg\n  outline\n    at -10 mm",
     NULL},
    {"rename heights tall", NULL, "    at -10 mm, -tall.free / 20\n", NULL},
    {"value-rename heights free clear", NULL, "    at -10 mm, -heights.clear / 20\n", NULL},
    {"value heights spare length 3 mm", "heights.spare added", "  spare : length = 3 mm\n", NULL},
    {"value heights factor_of number 3", NULL, "  factor_of : number = 3\n", NULL},
    {"value-rename heights free clear", "heights.free renamed clear",
     "  clear : length = 3 * strip.thickness + 46.5 mm\n    help What stands", "free"},
    {"value-rename heights free clear", NULL, "  half : length = clear / 2\n", NULL},
    {"value-rename heights free clear", NULL, "  punch_length = punch_plate.thickness + heights.clear\n",
     NULL},
    {"value-rename heights half middle", NULL, "  twice : length = this.middle * 4\n", NULL},
    {"value-remove heights words", "heights.words taken out", NULL, "as drawn"},
    {"remark die_plate turn one dowel", "remark on die_plate: turn one dowel",
     "remark remark_1\n  item die_plate\n", NULL},
    /* words that look like a formula stay words */
    {"remark die_plate.thickness = 36 \"would\" do", NULL, "  says \"= 36 \"would\" do\"\n", NULL},
    {"remark press-window ask for risers", NULL, "  finding press-window\n", "  item press-window"},
    {"waive post-turn posts one shoe is marked", "waived post-turn posts: one shoe is marked",
     "  finding post-turn posts\n  grade caution\n  states new\n  margin -3 mm\n", NULL},
    {"waive press-window - another press", NULL,
     "  finding press-window\n  grade fault\n  states both\n  margin -46 mm\n", NULL},
    {"waive turn-proof upper_shoe", "waived turn-proof upper_shoe", "waiver waiver_1\n", "  says "},
};

/* The dump without the seconds at which something was said: they go on between a try and its taking. */
static char *timeless_dump(struct job *j)
{
    char *text = job_dump(j);
    for (char *on = strstr(text, "\n  on "); on; on = strstr(on + 1, "\n  on "))
        for (char *c = on + 6; *c && *c != '\n'; c++)
            *c = *c >= '0' && *c <= '9' ? '0' : *c;
    return text;
}

/* An edit is undone; what is said is no step of that and is taken out. */
static void take_back(struct job *j, bool said)
{
    struct base_diag none;
    if (!said) {
        ck_ok(job_undo(j, why));
        return;
    }
    ck_assert_int_eq(job_undo(j, &none), BASE_UNKNOWN);
    ck_ok(
        job_unsay(j, dieset_find_item(job_dieset(j), "remark_1") >= 0 ? "remark_1" : "waiver_1", false, why));
    bench_take(j);
}

START_TEST(a_command_does_its_work_and_can_be_taken_back)
{
    const struct done *d = &all_done[_i];
    struct job *j = bench_file(JOB);
    char *before = timeless_dump(j), *values = bench_values(j);
    ck_ok(command(j, d->words, why));
    ck_assert(job_trying(j));
    const struct job_outcome *o = job_outcome(j);
    if (d->title)
        ck_assert_str_eq(o->title, d->title);
    char *tried = timeless_dump(j);
    ck_assert_msg(!d->now || strstr(tried, d->now), "after '%s' no '%s' stands in\n%s", d->words, d->now,
                  tried);
    ck_assert_msg(!d->never || !strstr(tried, d->never), "after '%s' still '%s' in\n%s", d->words, d->never,
                  tried);
    /* dropped */
    job_drop(j);
    char *dropped = timeless_dump(j), *dropped_values = bench_values(j);
    ck_assert_str_eq(before, dropped);
    ck_assert_str_eq(values, dropped_values);
    /* taken */
    ck_ok(command(j, d->words, why));
    bool said = job_trying_words(j);
    bench_take(j);
    char *taken = timeless_dump(j);
    ck_assert_str_eq(tried, taken);
    bench_same_when_fresh(j);
    /* undone, and done again */
    take_back(j, said);
    char *undone = timeless_dump(j), *undone_values = bench_values(j);
    ck_assert_str_eq(before, undone);
    ck_assert_str_eq(values, undone_values);
    if (!said)
        ck_ok(job_redo(j, why));
    char *again = timeless_dump(j);
    ck_assert_str_eq(said ? before : tried, again);
    job_close(j);
    char *const all[] = {before, values, tried, dropped, dropped_values, taken, undone, undone_values, again};
    for (size_t i = 0; i < COUNT_OF(all); i++)
        free(all[i]);
}
END_TEST

/* ---- what a new item begins with ------------------------------------------------------------------- */

static const char *const starts[] = {"data/templates/spring-stripper.txt",
                                     "data/templates/fixed-stripper.txt",
                                     "data/templates/spring-stripper-inch.txt",
                                     "data/templates/one-station.txt", "data/templates/notch-and-part.txt",
                                     "data/templates/first-estimate.txt",
                                     "data/templates/bend-and-part.txt", "data/templates/draw-and-part.txt",
                                     "data/templates/compound.txt"};

START_TEST(a_start_holds_together)
{
    struct job *j = bench_file(starts[_i]);
    const struct finding *list;
    int n = findings_judge(job_findings(j), &list);
    for (int i = 0; i < n; i++)
        ck_assert_msg(list[i].grade == HANDBOOK_NOTE, "%s: %s", starts[_i], list[i].message);
    job_close(j);
}
END_TEST

/* What is added stands somewhere at once, and no rule comes to want something that is not filled in. */
START_TEST(what_is_added_can_be_judged)
{
    struct job *j = bench_file(starts[_i]);
    for (int k = 0; k < handbook_kind_count(bench_handbook); k++) {
        const struct handbook_kind *kind = handbook_kind(bench_handbook, k);
        if (!kind->n_begun)
            continue;
        ck_ok(job_add(j, kind->name, "added", -1, why));
        struct dieset *d = job_dieset(j);
        int item = dieset_find_item(d, "added");
        ck_assert_msg(!dieset_entry(d, item, "lay") || dieset_point_count(d, item) > 0, "%s stands nowhere",
                      kind->name);
        const struct job_outcome *o = job_outcome(j);
        for (int i = 0; i < o->n_came; i++)
            ck_assert_msg(strcmp(o->came[i].rule, "cannot-judge") != 0, "%s: %s", kind->name,
                          o->came[i].message);
        job_drop(j);
    }
    job_close(j);
}
END_TEST

/* A hard plate behind the stripper goes up and down with it: it takes its thickness from the room above, and
   nothing else moves. */
START_TEST(two_stripper_plates_are_one_stripper)
{
    struct job *j = bench_file(starts[0]);
    struct dieset *d = job_dieset(j);
    int first;
    double room = number(j, "stack.stripper_room"), shut = number(j, "stack.shut_height"),
           touch = number(j, "stack.stripper_touch");
    ck_ok(job_add(j, "plate", "second", dieset_find_item(d, "stripper"), why));
    bench_take(j);
    bench_set(j, "second.thickness", "8 mm");
    bench_set(j, "second.moves", "\"stripper\"");
    ck_assert_double_eq_tol(number(j, "stack.stripper_height"), number(j, "stripper.thickness") + 8, 1e-9);
    ck_assert_double_eq_tol(number(j, "stack.stripper_room"), room - 8, 1e-9);
    ck_assert_double_eq_tol(number(j, "stack.shut_height"), shut, 1e-9);
    ck_assert_double_eq_tol(number(j, "stack.stripper_touch"), touch, 1e-9);
    ck_assert_double_eq_tol(number(j, "second.bottom"), number(j, "stripper.top"), 1e-9);
    /* punches go through, screws too */
    ck_assert_int_gt(dieset_plate_holes(d, dieset_find_item(d, "second"), &first), 2);
    job_close(j);
}
END_TEST

START_TEST(what_means_nothing_as_the_job_stands_does_not_apply)
{
    struct job *j = bench_file(starts[0]);
    struct dieset *d = job_dieset(j);
    ck_assert(!dieset_applies(d, dieset_find(d, "bushings.cage")));
    ck_assert(dieset_applies(d, dieset_find(d, "bushings.length")));
    ck_ok(job_set(j, "bushings.guide", "\"ball cage\"", why));
    ck_assert(dieset_applies(d, dieset_find(d, "bushings.cage")));
    job_drop(j);
    ck_assert(!dieset_applies(d, dieset_find(d, "bushings.cage")));
    job_close(j);
}
END_TEST

/* Nothing of it is taken, and one sentence tells what would use it. */
static const struct { const char *path, *text, *says;
} all_unused[] = {
    {"blank.along", "30 mm",
     "blank.shape is round: blank.along is used with rectangle, obround or outline. Set blank.shape first, "
     "or both at once."},
    {"blank.corner", "2 mm",
     "blank.shape is round: blank.corner is used with rectangle or outline. Set blank.shape first, or both "
     "at once."},
    {"blank.depth", "2 mm",
     "blank.does is blank: blank.depth is used with form or bend. Set blank.does first, or both at once."},
    {"blank.outline.1", "at 0 mm, 0 mm",
     "blank.shape is round: blank.outline.1 is used with outline. Set blank.shape first, or both at once."},
    {"bushings.cage", "30 mm",
     "bushings.guide is gliding: bushings.cage is used with ball cage. Set bushings.guide first, or both at "
     "once."},
    {"blank.size", "12 mm", NULL},
};

START_TEST(what_is_not_used_is_not_typed)
{
    struct job *j = bench_file(starts[0]);
    char *before = job_dump(j);
    struct base_diag says = {0};
    enum base_err err = job_set(j, all_unused[_i].path, all_unused[_i].text, &says);
    ck_assert_int_eq(err, all_unused[_i].says ? BASE_REFUSED : BASE_OK);
    if (all_unused[_i].says)
        ck_assert_str_eq(says.message, all_unused[_i].says);
    ck_assert_int_eq(job_trying(j), !all_unused[_i].says);
    job_drop(j);
    /* nor by the roads of the plan and of an entry as it stands in the file */
    char *item = base_copy(all_unused[_i].path), *entry = strchr(item, '.') + 1;
    entry[-1] = '\0';
    for (char *p = entry; *p; p++)
        *p = *p == '.' ? '/' : *p;
    says = (struct base_diag){0};
    ck_assert_int_eq(job_entry(j, item, entry, all_unused[_i].text, &says), err);
    ck_assert_str_eq(says.message, all_unused[_i].says ? all_unused[_i].says : "");
    ck_assert_int_eq(job_trying(j), !all_unused[_i].says);
    job_drop(j);
    const struct job_typed typed = {entry, all_unused[_i].text};
    says = (struct base_diag){0};
    struct job_laying laying = {.item = item, .entries = &typed, .n = 1};
    ck_assert_int_eq(job_lay_out(j, &laying, &says), err);
    ck_assert_str_eq(says.message, all_unused[_i].says ? all_unused[_i].says : "");
    ck_assert_int_eq(job_trying(j), !all_unused[_i].says);
    job_drop(j);
    free(item);
    char *after = job_dump(j);
    ck_assert_str_eq(before, after);
    free(before);
    free(after);
    job_close(j);
}
END_TEST

START_TEST(a_shape_and_its_figure_are_typed_together)
{
    struct job *j = bench_file(starts[0]);
    struct dieset *d = job_dieset(j);
    ck_ok(job_set_many(j, (const char *[]){"blank.along", "blank.shape"},
                       (const char *[]){"30 mm", "\"rectangle\""}, 2, why));
    const struct job_outcome *o = job_outcome(j);
    for (int i = 0; i < o->n_moves; i++)
        ck_assert_msg(dieset_applies(d, dieset_find(d, o->moves[i].path)), "%s is told as moved",
                      o->moves[i].path);
    bench_take(j);
    struct base_diag says = {0};
    ck_assert_int_eq(job_set_many(j, (const char *[]){"blank.shape", "blank.across"},
                                  (const char *[]){"\"round\"", "5 mm"}, 2, &says),
                     BASE_REFUSED);
    ck_assert_str_eq(says.message, "blank.shape is round: blank.across is used with rectangle, obround or "
                                   "outline. Set blank.shape first, or both at once.");
    ck_assert(!job_trying(j));
    job_close(j);
}
END_TEST

/* Typed while it was used: it stays in the job, is marked, moves nothing, and counts again when the shape
   comes back. */
START_TEST(what_was_typed_is_kept_while_it_is_not_used)
{
    struct job *j = bench_file(starts[0]);
    struct dieset *d = job_dieset(j);
    bench_set(j, "blank.shape", "\"rectangle\"");
    bench_set(j, "blank.along", "33 mm");
    double cut = number(j, "blank.cut");
    bench_set(j, "blank.shape", "\"round\"");
    int q = dieset_find(d, "blank.along"), never = dieset_find(d, "blank.corner");
    ck_assert_int_eq(dieset_mark(d, q), DIESET_UNUSED);
    ck_assert(dieset_shown(d, q) && !dieset_shown(d, never));
    char *dump = job_dump(j);
    ck_assert_ptr_nonnull(strstr(dump, "  along = 33 mm\n"));
    free(dump);
    bench_set(j, "blank.shape", "\"rectangle\"");
    ck_assert_int_eq(dieset_mark(d, dieset_find(d, "blank.along")), DIESET_TYPED);
    ck_assert_double_eq_tol(number(j, "blank.cut"), cut, 1e-9);
    bench_set(j, "blank.shape", "\"round\"");
    ck_ok(job_unset(j, "blank.along", why));
    bench_take(j);
    ck_assert(!dieset_shown(d, dieset_find(d, "blank.along")));
    job_close(j);
}
END_TEST

/* Whatever the station does and whatever its shape: a figure that is not used moves none that is. */
START_TEST(what_is_not_used_moves_nothing)
{
    static const char *const shapes[] = {"round", "rectangle", "obround", "outline"},
                             *const works[] = {"pierce", "blank", "notch", "trim", "form", "bend", "idle"};
    struct job *j = bench_file(starts[0]);
    struct dieset *d = job_dieset(j);
    char *shape = base_format("\"%s\"", shapes[_i % 4]), *does = base_format("\"%s\"", works[_i / 4]);
    ck_ok(job_set_many(j, (const char *[]){"blank.shape", "blank.does"}, (const char *[]){shape, does}, 2,
                       why));
    bench_take(j);
    int tried = 0;
    for (int q = 0; q < dieset_quantity_count(d); q++) {
        const struct dieset_quantity *v = dieset_quantity(d, q);
        struct formula_value is = dieset_value(d, q, DIESET_NEW);
        if (!v->can_type || v->item < 0 || v->type.sort != HANDBOOK_NUMBER || dieset_applies(d, q))
            continue;
        char *path = base_copy(v->path),
             *text = unit_typed(v->type.type.dim, dieset_system(d), is.error ? 7 : is.number * 0.9 + 1);
        struct typed_change c = {TYPED_ENTRY, dieset_item_name(d, v->item), v->entry, NULL, text};
        const struct dieset_move *moves;
        ck_ok(dieset_try(d, &c, 1, why));
        int n = dieset_moves(d, &moves);
        ck_assert_msg(n == 0, "%s, not used by %s %s, moves %s", path, shape, does, n ? moves[0].path : "");
        dieset_drop(d);
        free(path);
        free(text);
        tried++;
    }
    ck_assert_int_gt(tried, 3);
    free(shape);
    free(does);
    job_close(j);
}
END_TEST

START_TEST(a_new_station_stands_one_pitch_behind_the_last)
{
    struct job *j = bench_file(starts[0]);
    ck_ok(job_add(j, "station", "added", -1, why));
    bench_take(j);
    ck_assert_double_eq_tol(number(j, "added.x"), number(j, "blank.x") + number(j, "strip.pitch"), 1e-9);
    bench_set(j, "strip.pitch", "27.4321 mm");
    ck_ok(job_add(j, "station", "another", -1, why));
    bench_take(j);
    ck_assert_double_eq_tol(number(j, "another.x"), number(j, "added.x") + 27.4321, 1e-6);
    job_close(j);
}
END_TEST

/* ---- what is refused --------------------------------------------------------------------------------- */

static const struct refused { const char *words, *says;
} all_refused[] = {
    {"set die_plate.thicknes 36 mm", "The job has no \"die_plate.thicknes\"; near it: die_plate.thickness"},
    {"set die_screws.end 36 mm", "The job has no \"die_screws.end\"; near it: die_screws.lay.end"},
    {"set die_plate.thickness 36 kN", "length"},
    /* unset would be meant: thickness has a starting value, so this is taken below */
    {"set die_plate.thickness", "die_plate"},
    {"set die_plate.top 36 mm", "die_plate.top follows from other values"},
    {"set die_plate.length die_plate.right", "itself"},
    {"set die_plate.thickness stack.gap", "at_new()"},
    {"set die_plate.moves \"up\"", "with the slide"},
    {"set die_plate.thickness 36 mm +", ""},
    {"set stack.die_plate posts", "plate"},
    {"outline cover at 0, 0; line to 8, 0", "cover.outline: it encloses nothing"},
    {"outline cover at 0, 0; arc to 8, 0 radius 3.9 left", "cover.outline: the arc of line 2 cannot reach"},
    {"outline cover at 0, 0; line to 8, 8; line to 8, 0; line to 0, 6",
     "cover.outline: it crosses or touches itself at -3.429 mm, 3.429 mm"},
    {"outline cover at 0, 0; line to 8; line to 0, 8", "cover.outline.2: Two coordinates are wanted"},
    {"outline die_plate at 0, 0", "die_plate has no outline"},
    {"insert nobody 1 at 0, 0", "The job has no item \"nobody\""},
    {"unset cover.outline.9", "The outline of cover has no line 9"},
    {"set cover.outline.7 line to 0, 0",
     "cover.outline: its lines are counted from 1 without a gap; line 5 is missing"},
    {"set cover.outline.2 line by 2 kN, 0", "cover.outline.2.by_x: "},
    {"set die_plate.outline.1 at 0, 0", "The job has no \"die_plate.outline.1\""},
    {"unset cover.outline.1", "cover.outline.1: an outline begins with the place where it starts"},
    {"value-remove heights free", "cover.outline.1"},
    {"unset die_plate.length", "die_plate.length has nothing typed over it"},
    {"unset heights.words", "heights.words is a value of the job's own"},
    {"set heights.words", "heights.words is a value of the job's own"},
    {"unset nothing", "The job has no \"nothing\""},
    {"reason die_plate.length long enough", "not typed over"},
    {"entry die_plate colour red", "colour"},
    {"add plates rails", "no kind \"plates\""},
    {"add plate die_plate", "There is a \"die_plate\" already"},
    {"add plate Rails", "cannot be a name"},
    {"add plate mm", "unit"},
    {"add plate usual", ""},
    {"add plate press_reserve", "factor of the handbook"},
    {"add stack second", "one stack"},
    {"like strip second", "only one"},
    {"like nothing second", "The job has no \"nothing\""},
    {"remove posts", "bushings.of"},
    {"remove die_plate", "die_plate cannot be taken out: stack.die_plate, hole_pair.lay, cover.lay and "
                         "others name it. Change those first."},
    {"remove heights", "heights cannot be taken out: stack.punch_length, cover.outline.1, die_screws.lay.end "
                       "name it. Change those first."},
    {"remove strip", ""},
    {"rename strip band", "keeps that name"},
    {"rename posts bushings", "There is a \"bushings\" already"},
    {"rename posts 2posts", "cannot be a name"},
    {"move posts 99", "places 0 to"},
    {"move posts -1", "places 0 to"},
    {"lay die_plate six on stripper", "does not stand at points"},
    {"lay die_screws sevens on die_plate", "no pattern sevens"},
    {"lay die_screws six on posts", "plate"},
    {"value heights free length 3 mm", "has a value \"free\" already"},
    {"value posts free length 3 mm", "no group of the job's own values"},
    {"value heights mm length 3 mm", "cannot be a name"},
    {"value heights spare lenght 3 mm", "lenght"},
    {"value heights spare length 3 kN", "length"},
    {"value-rename heights nothing clear", "has no value \"nothing\""},
    {"value-rename heights free half", "taken"},
    {"value-remove heights free", "heights.free cannot be taken out: stack.punch_length, heights.half, "
                                  "cover.outline.1 name it. Change those first."},
    {"value-remove heights nothing", "has no value \"nothing\""},
    {"remark die_plat hello", "The job has no item, value or open finding \"die_plat\"; near it: die_plate"},
    {"remark die_plate", "its text is missing"},
    {"remark lift-hole hello", "findings are called \"lift-hole\": say which, \"lift-hole "},
    {"unremark remark_1", "The job has no remark \"remark_1\""},
    {"unremark die_plate", "The job has no remark \"die_plate\""},
    {"waive press-window", "press-window is a fault: it is waived only with a reason."},
    {"waive edge-distance die_plate no", "No finding \"edge-distance die_plate\" stands"},
    {"unwaive press-window", "press-window is not waived"},
    {"issue A", "are open, first press-window: "},
    {"add remark remark_1", "remark, waive and issue write them"},
};

/* Undo passes by what is said: under the name of an item it would keep that item from coming back. */
START_TEST(what_is_said_keeps_its_name)
{
    struct job *j = bench_file(JOB);
    struct base_diag reason = {0};
    ck_ok(command(j, "remark die_plate hello", why));
    ck_ok(job_take(j, why));
    ck_assert_int_eq(job_rename(j, "remark_1", "spare_screws", &reason), BASE_REFUSED);
    ck_assert_str_eq(reason.message, "remark_1 is a remark and keeps the name that it was given.");
    job_close(j);
}
END_TEST

START_TEST(a_refused_command_says_why_and_changes_nothing)
{
    const struct refused *r = &all_refused[_i];
    struct job *j = bench_file(JOB);
    struct base_diag reason = {0};
    char *before = job_dump(j), *values = bench_values(j);
    if (strcmp(r->words, "set die_plate.thickness") == 0) { /* an empty formula means the usual one */
        ck_ok(command(j, r->words, why));
        job_drop(j);
    } else {
        enum base_err err = command(j, r->words, &reason);
        ck_assert_msg(err == BASE_REFUSED || err == BASE_UNKNOWN, "'%s' was not refused", r->words);
        ck_assert_msg(strstr(reason.message, r->says), "'%s': %s", r->words, reason.message);
        ck_assert_msg(strlen(reason.message) > 15 && reason.message[strlen(reason.message) - 1] == '.',
                      "no sentence: %s", reason.message);
    }
    ck_assert(!job_trying(j));
    char *after = job_dump(j), *values_after = bench_values(j);
    ck_assert_str_eq(before, after);
    ck_assert_str_eq(values, values_after);
    ck_assert_int_ne(job_take(j, &reason), BASE_OK); /* nothing is open */
    free(before);
    free(after);
    free(values);
    free(values_after);
    job_close(j);
}
END_TEST

/* --- the outcome ---------------------------------------------------------------------------------------- */

START_TEST(the_outcome_tells_what_moved_and_which_findings_came_and_went)
{
    struct job *j = bench_file(JOB);
    ck_ok(job_set(j, "die_plate.thickness", "40 mm", why));
    const struct job_outcome *o = job_outcome(j);
    bool typed = false, shut = false;
    for (int i = 0; i < o->n_moves; i++) {
        const struct dieset_move *m = &o->moves[i];
        ck_assert(m->was.error || m->is.error || m->was.number != m->is.number);
        typed = typed ||
                (strcmp(m->path, "die_plate.thickness") == 0 && m->was.number == 32 && m->is.number == 40);
        shut = shut || (strcmp(m->path, "stack.shut_height") == 0 && m->is.number - m->was.number == 8);
    }
    ck_assert(typed && shut);
    job_drop(j);
    ck_ok(job_set(j, "posts.length", "160 mm", why));
    o = job_outcome(j);
    bool came = false;
    for (int i = 0; i < o->n_came; i++)
        came = came || strcmp(o->came[i].key, "unreasoned posts.length") == 0;
    ck_assert(came);
    bench_take(j);
    ck_ok(job_reason(j, "posts.length", "it lies on the shelf", why));
    o = job_outcome(j);
    ck_assert_int_eq(o->n_came, 0);
    ck_assert_int_eq(o->n_went, 1);
    ck_assert_str_eq(o->went[0].key, "unreasoned posts.length");
    ck_assert_int_eq(o->n_moves, 0);
    job_close(j);
}
END_TEST

START_TEST(many_values_are_set_together_or_not_at_all)
{
    struct job *j = bench_file(JOB);
    const char *const paths[] = {"die_plate.thickness", "strip.thickness", "penetration"};
    const char *const good[] = {"36", "2 mm", "0.3"}, *const bad[] = {"36", "2 s", "0.3"};
    struct base_diag reason = {0};
    char *before = job_dump(j);
    ck_assert_int_ne(job_set_many(j, paths, bad, 3, &reason), BASE_OK);
    char *after = job_dump(j);
    ck_assert_str_eq(before, after);
    ck_ok(job_set_many(j, paths, good, 3, why));
    ck_assert_str_eq(
        job_outcome(j)->title,
        "die_plate.thickness 32 mm -> 36 mm, strip.thickness 1.5 mm -> 2 mm, penetration usual -> 0.3");
    bench_take(j);
    ck_assert_str_eq(bench_print(j, "strip.thickness"), "2.0 mm");
    ck_ok(job_undo(j, why)); /* as one */
    char *undone = job_dump(j);
    ck_assert_str_eq(before, undone);
    free(before);
    free(after);
    free(undone);
    job_close(j);
}
END_TEST

START_TEST(a_new_try_replaces_the_open_one)
{
    struct job *j = bench_file(JOB);
    ck_ok(job_set(j, "die_plate.thickness", "36 mm", why));
    ck_ok(job_set(j, "strip.thickness", "2 mm", why));
    ck_assert_str_eq(bench_print(j, "die_plate.thickness"), "32.0 mm");
    struct base_diag reason = {0};
    ck_assert_int_ne(job_set(j, "strip.thickness", "2 s", &reason), BASE_OK);
    ck_assert(!job_trying(j)); /* a refused one closes it too */
    ck_assert_str_eq(bench_print(j, "strip.thickness"), "1.5 mm");
    job_close(j);
}
END_TEST

/* A renamed item leaves every value as it was, whatever named it. */
static const char *const renames[][2] = {
    {"upper_shoe", "top"},        {"punch_backing", "behind"}, {"punch_plate", "holder"},
    {"stripper", "guide"},        {"die_plate", "cutting"},    {"lower_shoe", "bottom_plate"},
    {"hole_pair", "first_holes"}, {"die_screws", "bolts"},     {"posts", "pillars"},
    {"bushings", "sleeves"},      {"heights", "tall"},
};

static void expect_renamed(const char *values, const char *old, const char *now, const char *got)
{
    struct base_text wanted = {0};
    size_t n = strlen(old);
    for (const char *p = values; *p;) {
        bool at_name = (p == values || p[-1] == '\n') && strncmp(p, old, n) == 0 && p[n] == '.';
        if (at_name)
            base_text_add(&wanted, now);
        p += at_name ? n : 0;
        const char *end = strchr(p, '\n');
        base_text_add_n(&wanted, p, (size_t)(end - p) + 1);
        p = end + 1;
    }
    ck_assert_str_eq(base_text_get(&wanted), got);
    base_text_done(&wanted);
}

START_TEST(a_renamed_item_leaves_every_value_as_it_was)
{
    struct job *j = bench_file(JOB);
    char *values = bench_values(j);
    ck_ok(job_rename(j, renames[_i][0], renames[_i][1], why));
    bench_take(j);
    char *now = bench_values(j);
    expect_renamed(values, renames[_i][0], renames[_i][1], now);
    bench_same_when_fresh(j);
    ck_ok(job_rename(j, renames[_i][1], renames[_i][0], why)); /* and back */
    bench_take(j);
    char *back = bench_values(j);
    ck_assert_str_eq(values, back);
    free(values);
    free(now);
    free(back);
    job_close(j);
}
END_TEST

/* ---- laying out ----------------------------------------------------------------------------------- */

static const struct laid {
    struct job_laying l;
    struct job_typed typed[4];
    const char *title;
    const char *now[2], *never; /* lines of the dump afterwards; NULL: not looked at */
} all_laid[] = {
    {{.item = "die_screws", .n = 2},
     {{"lay/end", "25 mm"}, {"lay/side", "24 mm"}},
     "die_screws.lay.end 19 mm -> 25 mm, die_screws.lay.side 38 mm -> 24 mm",
     {"    end = 25 mm\n    side = 24 mm\n"},
     NULL},
    {{.item = "posts", .n = 2},
     {{"lay/left_front/y", NULL}, {"lay/end", "50 mm"}},
     "posts.left_front.y usual - 8 mm -> usual, posts.lay.end 42 mm -> 50 mm",
     {"    end = 50 mm\n"},
     "the odd post"}, /* its reason goes along */
    {{.item = "die_screws", .n = 2},
     {{"lay/left_back/x", "usual + 3 mm"}, {"lay/left_back/x/reason", "one way only"}},
     NULL,
     {"    point left_back\n      x = usual + 3 mm\n        reason one way only\n"},
     NULL},
    {{.item = "die_screws", .lay = "rows on die_plate", .n = 1},
     {{"lay/columns", "4"}},
     "die_screws laid rows on die_plate",
     {"  lay rows on die_plate\n    columns = 4\n    end = 19 mm\n    side = 38 mm\n"},
     NULL},
    {{.item = "more", .kind = "screws", .lay = "diagonal on die_plate", .n = 3},
     {{"thread_in", "stripper"}, {"lay/end", "30 mm"}, {"lay/side", "30 mm"}},
     "more added, diagonal on die_plate",
     {"screws more\n  head_in = lower_shoe\n  thread_in = stripper\n",
      "  lay diagonal on die_plate\n    end = 30 mm\n    side = 30 mm\n"},
     NULL},
    {{.item = "more", .kind = "screws", .like = "die_screws", .lay = "one on die_plate", .n = 1},
     {{"lay/along", "30 mm"}},
     "more added, one on die_plate",
     {"screws more\n  head_in = lower_shoe\n  thread_in = die_plate\n  size = \"M8\"\n",
      "  lay one on die_plate\n    along = 30 mm\n"},
     NULL},
};

START_TEST(a_group_is_laid_out_in_one_edit_that_can_be_taken_back)
{
    struct laid c = all_laid[_i];
    struct job *j = bench_file("data/demo/cover-plate.txt");
    char *before = job_dump(j);
    c.l.entries = c.typed;
    ck_ok(job_lay_out(j, &c.l, why));
    if (c.title)
        ck_assert_str_eq(job_outcome(j)->title, c.title);
    bench_take(j);
    char *now = job_dump(j);
    for (int i = 0; i < 2 && c.now[i]; i++)
        ck_assert_msg(strstr(now, c.now[i]) != NULL, "\"%s\" does not stand in\n%s", c.now[i], now);
    ck_assert(!c.never || !strstr(now, c.never));
    bench_same_when_fresh(j);
    ck_ok(job_undo(j, why));
    char *back = job_dump(j);
    ck_assert_str_eq(back, before);
    free(before);
    free(now);
    free(back);
    job_close(j);
}
END_TEST

START_TEST(a_loose_point_is_given_its_place_and_nobody_asks_why)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    const struct job_typed places[] = {{"lay/many", "2"},
                                       {"lay/p1/x", "left + 30 mm"},
                                       {"lay/p2/x", "right - 35 mm"},
                                       {"lay/p2/y", "back - 20 mm"}};
    struct dieset_point at;
    ck_ok(job_lay_out(
        j, &(struct job_laying){.item = "die_screws", .lay = "loose on die_plate", .entries = places, .n = 4},
        why));
    const struct job_outcome *o = job_outcome(j);
    for (int i = 0; i < o->n_came; i++)
        ck_assert_msg(!strstr(o->came[i].message, "without a reason"), "%s", o->came[i].message);
    /* the die plate is 264 x 170 about zero */
    dieset_point(job_dieset(j), dieset_find_item(job_dieset(j), "die_screws"), 1, &at);
    ck_assert(at.x == 97 && at.y == 65 && !at.freed);
    ck_assert_int_eq(dieset_mark(job_dieset(j), dieset_find(job_dieset(j), "die_screws.p2.x")),
                     DIESET_FORMULA);
    bench_take(j);
    bench_same_when_fresh(j);
    bench_set(j, "die_screws.p1.x", "40 mm"); /* typed anew, and taken away: the plate's middle */
    ck_assert(number(j, "die_screws.p1.x") == 40);
    ck_ok(job_unset(j, "die_screws.p1.x", why));
    bench_take(j);
    ck_assert(number(j, "die_screws.p1.x") == 0);
    bench_same_when_fresh(j);
    job_close(j);
}
END_TEST

START_TEST(a_layout_that_stands_already_opens_no_try_and_a_refused_one_leaves_none)
{
    struct job *j = bench_file("data/demo/cover-plate.txt");
    struct base_diag told = {0};
    const struct job_typed same[] = {{"lay/end", "19 mm"}, {"lay/left_back/x", NULL}},
                           wrong[] = {{"lay/pitch", "20 mm"}};
    ck_ok(job_lay_out(j, &(struct job_laying){.item = "die_screws", .entries = same, .n = 2}, why));
    ck_assert(!job_trying(j));
    ck_assert_int_ne(
        job_lay_out(j, &(struct job_laying){.item = "die_screws", .entries = wrong, .n = 1}, &told), BASE_OK);
    ck_assert_ptr_nonnull(strstr(told.message, "eight does not ask for this"));
    ck_assert_int_ne(
        job_lay_out(j, &(struct job_laying){.item = "more", .kind = "plate", .lay = "one on die_plate"},
                    &told),
        BASE_OK);
    ck_assert_ptr_nonnull(strstr(told.message, "that stands at points"));
    ck_assert_int_ne(
        job_lay_out(j,
                    &(struct job_laying){.item = "die_screws", .kind = "screws", .lay = "one on die_plate"},
                    &told),
        BASE_OK);
    ck_assert_int_ne(job_lay_out(j, &(struct job_laying){.item = "stack", .lay = "one on die_plate"}, &told),
                     BASE_OK);
    ck_assert(!job_trying(j));
    job_close(j);
}
END_TEST

/* ---- given up ------------------------------------------------------------------------------------- */

static bool yes(void *arg)
{
    (void)arg;
    return true;
}

/* The job's text and all its findings. */
static char *all_of(struct job *j)
{
    const struct finding *list;
    struct base_text out = {0};
    char *text = job_dump(j);
    int n = findings_list(job_findings(j), &list);
    base_text_add(&out, text);
    for (int i = 0; i < n; i++)
        base_text_addf(&out, "%d %s: %s (%g)\n", list[i].grade, list[i].key, list[i].message,
                       list[i].measured ? list[i].margin : 0);
    free(text);
    return base_text_take(&out);
}

static const char *const long_ones[] = {"set die_plate.thickness 31 mm", "add plate spare",
                                        "rename die_plate cutting_plate", "undo"};

/* At every step, as far as the first hundred go, then at every seventh part more. */
START_TEST(work_given_up_at_any_step_leaves_the_job_as_it_stood)
{
    struct job *j = bench_file(JOB);
    bool undo = strcmp(long_ones[_i], "undo") == 0, whole = false;
    int given_up = 0;
    ck_ok(command(j, "set die_plate.thickness 29 mm", why));
    bench_take(j);
    char *before = all_of(j);
    for (long at = 1; !whole; at += at < 100 ? 1 : at / 7) {
        struct base_diag why = {0};
        base_on_long_work(yes, NULL, at, 1);
        enum base_err err = undo ? job_undo(j, &why) : command(j, long_ones[_i], &why);
        if (!err && !undo)
            err = job_take(j, &why);
        whole = !base_given_up();
        base_on_long_work(NULL, NULL, 0, 0);
        ck_assert_int_eq(err == BASE_OK, whole);
        if (whole)
            break;
        given_up++;
        ck_assert_ptr_nonnull(
            strstr(why.message, "Given up before it was worked out: all stands as it stood before."));
        job_drop(j);
        char *after = all_of(j);
        ck_assert_str_eq(after, before);
        free(after);
    }
    ck_assert_int_gt(given_up, 50);
    bench_same_when_fresh(j);
    free(before);
    job_close(j);
}
END_TEST

TCase *edit_tests(void)
{
    TCase *c = tcase_create("edits");
    tcase_add_unchecked_fixture(c, bench_open_handbook, bench_close_handbook);
    tcase_add_loop_test(c, a_start_holds_together, 0, (int)COUNT_OF(starts));
    tcase_add_loop_test(c, what_is_added_can_be_judged, 0, (int)COUNT_OF(starts));
    tcase_add_loop_test(c, work_given_up_at_any_step_leaves_the_job_as_it_stood, 0, (int)COUNT_OF(long_ones));
    tcase_add_test(c, two_stripper_plates_are_one_stripper);
    tcase_add_test(c, what_means_nothing_as_the_job_stands_does_not_apply);
    tcase_add_loop_test(c, what_is_not_used_is_not_typed, 0, (int)COUNT_OF(all_unused));
    tcase_add_test(c, a_shape_and_its_figure_are_typed_together);
    tcase_add_test(c, what_was_typed_is_kept_while_it_is_not_used);
    tcase_add_loop_test(c, what_is_not_used_moves_nothing, 0, 4 * 7);
    tcase_add_test(c, a_new_station_stands_one_pitch_behind_the_last);
    tcase_add_loop_test(c, a_command_does_its_work_and_can_be_taken_back, 0, (int)COUNT_OF(all_done));
    tcase_add_loop_test(c, a_refused_command_says_why_and_changes_nothing, 0, (int)COUNT_OF(all_refused));
    tcase_add_test(c, what_is_said_keeps_its_name);
    tcase_add_test(c, the_outcome_tells_what_moved_and_which_findings_came_and_went);
    tcase_add_test(c, many_values_are_set_together_or_not_at_all);
    tcase_add_test(c, a_new_try_replaces_the_open_one);
    tcase_add_loop_test(c, a_group_is_laid_out_in_one_edit_that_can_be_taken_back, 0,
                        (int)COUNT_OF(all_laid));
    tcase_add_test(c, a_loose_point_is_given_its_place_and_nobody_asks_why);
    tcase_add_test(c, a_layout_that_stands_already_opens_no_try_and_a_refused_one_leaves_none);
    tcase_add_loop_test(c, a_renamed_item_leaves_every_value_as_it_was, 0, (int)COUNT_OF(renames));
    return c;
}
