/* axis.c - what runs: a value from here to there by a step, over a list of values, or over the rows of its
 * table */

#include "explore/explore.h"

#include "diewright/record.h"

#include <stdlib.h>
#include <string.h>

/* A value of a list or a row: what is typed, and where it stands along the run. */
static void add_point(struct explore_axis *a, const char *text, double at)
{
    a->texts[a->ask.n_points] = base_arena_copy(&a->memory, text);
    a->points[a->ask.n_points++] = at;
}

static void make_room(struct explore_axis *a, size_t n)
{
    a->texts = base_arena_alloc(&a->memory, (n + 1) * sizeof *a->texts);
    a->points = base_arena_alloc(&a->memory, (n + 1) * sizeof *a->points);
    a->ask.texts = a->texts;
    a->ask.points = a->points;
}

static enum base_err read_rows(struct dieset *d, struct explore_axis *a, const char *path,
                               struct base_diag *why)
{
    struct explore_sizes s;
    if (!explore_sizes(d, a->ask.quantity, DIESET_NEW, &s))
        return base_fail(why, BASE_REFUSED,
                         "No parts table stands behind %s: tell a range, or values parted by commas.", path);
    bool number = dieset_quantity(d, a->ask.quantity)->type.type.sort == FORMULA_NUMBER;
    make_room(a, s.at.count);
    for (size_t i = 0; i < s.at.count && i < EXPLORE_MOST; i++)
        add_point(a, s.at.at[i].text, number ? s.at.at[i].number : (double)i);
    explore_sizes_done(&s);
    return a->ask.n_points ? BASE_OK : base_fail(why, BASE_REFUSED, "No row of the table serves %s.", path);
}

/* Values as people type them, parted by commas; a number stands where it is, anything else in its turn. */
static enum base_err read_list(struct dieset *d, struct explore_axis *a, const char *path, const char *list,
                               struct base_diag *why)
{
    char *text = base_copy(list), *place = NULL;
    enum base_err err = BASE_OK;
    bool number = dieset_quantity(d, a->ask.quantity)->type.type.sort == FORMULA_NUMBER;
    make_room(a, strlen(list));
    for (char *one = strtok_r(text, ",", &place); one && !err; one = strtok_r(NULL, ",", &place)) {
        char *whole = dieset_complete(d, path, one);
        double at = a->ask.n_points;
        err = number ? explore_number(d, a->ask.quantity, "value", one, &at, why) : BASE_OK;
        if (!err && a->ask.n_points && number && at <= a->points[a->ask.n_points - 1])
            err = base_fail(why, BASE_REFUSED, "Values of a list ascend; %s does not.", one);
        add_point(a, whole, at);
        free(whole);
    }
    free(text);
    return !err && !a->ask.n_points ? base_fail(why, BASE_REFUSED, "The list of %s is empty.", path) : err;
}

enum base_err explore_axis_read(struct dieset *d, const char *const *words, int n, struct explore_axis *out,
                                struct base_diag *why)
{
    *out = (struct explore_axis){0};
    if (n == 4)
        return explore_read(d, words[0], words[1], words[2], words[3], &out->ask, why);
    if (n != 2)
        return base_fail(
            why, BASE_REFUSED,
            "What runs is NAME FROM TO STEP, NAME listed, or NAME and values parted by commas.");
    enum base_err err = dieset_named(d, words[0], &out->ask.quantity, why);
    if (!err && !dieset_quantity(d, out->ask.quantity)->can_type)
        err = base_fail(why, BASE_REFUSED, "%s follows from other values and cannot be typed.", words[0]);
    if (err)
        return err;
    return strcmp(words[1], "listed") == 0 ? read_rows(d, out, words[0], why)
                                           : read_list(d, out, words[0], words[1], why);
}

enum base_err explore_axis_text(struct dieset *d, const char *text, struct explore_axis *out,
                                struct base_diag *why)
{
    enum { WORDS = 5, LONG = 200 };
    char words[WORDS][LONG];
    const char *at[WORDS];
    int n = 0;
    for (; *text && n < WORDS; n++) {
        text = record_word(text, words[n], LONG);
        at[n] = words[n];
    }
    return explore_axis_read(d, at, n, out, why);
}

void explore_axis_done(struct explore_axis *a) { base_arena_done(&a->memory); }
