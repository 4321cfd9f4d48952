/* Stations by number: moved, swapped, put in, closed up, copied; and jobs of before told by them. */

#include "job/job.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = DIESET_MOST_STATIONS };

/* The number that TEXT is, 0: none that a station could have. */
static int whole(const char *text)
{
    char *end;
    long n = strtol(text, &end, 10);
    return *text && !*end && n >= 0 && n <= MOST ? (int)n : 0;
}

static enum base_err check_number(int number, struct base_diag *why)
{
    return number >= 1 && number <= MOST
               ? BASE_OK
               : base_fail(why, BASE_REFUSED, "A station's number is a whole one from 1 to %d.", MOST);
}

static enum base_err no_number(struct job *j, int item, struct base_diag *why)
{
    return base_fail(
        why, BASE_REFUSED,
        "%s has no station number: its places are counted from the plan's origin. Type one, or tell "
        "all stations by number first.",
        dieset_item_name(j->dieset, item));
}

/* All that work in stations have numbers: else what moves up would leave some behind. */
static enum base_err all_numbered(struct job *j, struct base_diag *why)
{
    for (int i = 0; i < dieset_item_count(j->dieset); i++)
        if (dieset_has_number(j->dieset, i) && !dieset_station_number(j->dieset, i))
            return no_number(j, i, why);
    return BASE_OK;
}

static void set_number(struct job *j, struct job_changes *c, int item, int number)
{
    char text[16];
    snprintf(text, sizeof text, "%d", number);
    job_change_entry(j, c, dieset_item_name(j->dieset, item), DIESET_STATION_NUMBER, text);
}

static void set_list(struct job *j, struct job_changes *c, int item, const int *numbers, int n)
{
    struct base_text list = {0};
    base_text_add(&list, "\"");
    formula_numbers_text(numbers, n, &list);
    base_text_add(&list, "\"");
    job_change_entry(j, c, dieset_item_name(j->dieset, item), DIESET_STATION_LIST, base_text_get(&list));
    base_text_done(&list);
}

/* ---- one operation, or all of a station ------------------------------------------------------- */

static int works_at(struct job *j, int number)
{
    int count = 0;
    for (int i = 0; i < dieset_item_count(j->dieset); i++)
        count += dieset_has_number(j->dieset, i) && dieset_station_number(j->dieset, i) == number;
    return count;
}

static void renumber(struct job *j, struct job_changes *c, int from, int to)
{
    for (int i = 0; i < dieset_item_count(j->dieset); i++)
        if (dieset_has_number(j->dieset, i) && dieset_station_number(j->dieset, i) == from)
            set_number(j, c, i, to);
}

static enum base_err find_worker(struct job *j, const char *name, int *item, struct base_diag *why)
{
    enum base_err err = job_find_item(j, name, item, why);
    if (err || dieset_has_number(j->dieset, *item))
        return err;
    if (dieset_station_list(j->dieset, *item, NULL, 0) >= 0)
        return base_fail(why, BASE_REFUSED, "%s names the stations that it stands in: type %s.%s.", name,
                         name, DIESET_STATION_LIST);
    return base_fail(why, BASE_REFUSED, "%s works in no station.", name);
}

enum base_err job_station_move(struct job *j, const char *what, int to, struct base_diag *why)
{
    job_drop(j);
    int from = whole(what), item = -1;
    struct job_changes c = {0};
    enum base_err err = check_number(to, why);
    bool all = *what && what[strspn(what, "0123456789")] == '\0';
    if (!err && all)
        err = works_at(j, from) ? BASE_OK
                                : base_fail(why, BASE_REFUSED, "Nothing works in station %.20s.", what);
    else if (!err)
        err = find_worker(j, what, &item, why);
    if (err)
        return err;
    if (all)
        renumber(j, &c, from, to);
    else
        set_number(j, &c, item, to);
    return job_try(j, &c, base_format("%s%s moved to station %d", all ? "station " : "", what, to), why);
}

enum base_err job_station_swap(struct job *j, int a, int b, struct base_diag *why)
{
    job_drop(j);
    struct job_changes c = {0};
    enum base_err err = check_number(a, why);
    err = err ? err : check_number(b, why);
    err = err ? err : all_numbered(j, why);
    if (!err && !works_at(j, a) && !works_at(j, b))
        err = base_fail(why, BASE_REFUSED, "Nothing works in station %d, nor in %d.", a, b);
    if (err)
        return err;
    renumber(j, &c, a, b);
    renumber(j, &c, b, a);
    return job_try(j, &c, base_format("stations %d and %d swapped", a, b), why);
}

/* ---- put in, closed up -------------------------------------------------------------------------- */

/* All from station FROM on get a number that is larger by BY; a list loses GONE. */
static void shift(struct job *j, struct job_changes *c, int from, int by, int gone)
{
    for (int i = 0; i < dieset_item_count(j->dieset); i++) {
        int list[MOST], n = dieset_station_list(j->dieset, i, list, MOST), kept = 0;
        int number = dieset_has_number(j->dieset, i) ? dieset_station_number(j->dieset, i) : 0;
        bool other = false;
        if (number >= from)
            set_number(j, c, i, number + by);
        for (int k = 0; k < n; k++) {
            other = other || list[k] >= from || list[k] == gone;
            if (list[k] != gone)
                list[kept++] = list[k] >= from ? list[k] + by : list[k];
        }
        if (other)
            set_list(j, c, i, list, kept);
    }
}

/* "idle", or with a number that is free. */
static char *free_name(struct job *j, const char *stem)
{
    char *name = base_copy(stem);
    for (int n = 2; dieset_find_item(j->dieset, name) >= 0; n++) {
        free(name);
        name = base_format("%s_%d", stem, n);
    }
    return name;
}

enum base_err job_station_insert(struct job *j, int number, struct base_diag *why)
{
    job_drop(j);
    enum base_err err = check_number(number, why);
    err = err ? err : all_numbered(j, why);
    int kind = handbook_find_kind(j->handbook, DIESET_STATION);
    if (!err && kind < 0)
        err = base_fail(why, BASE_UNKNOWN, "The handbook has no kind \"%s\".", DIESET_STATION);
    if (err)
        return err;
    struct job_changes c = {0}, begun = {0};
    char *name = free_name(j, "idle"), text[16];
    int last = job_last_of_kind(j, DIESET_STATION), count = dieset_item_count(j->dieset);
    snprintf(text, sizeof text, "%d", number);
    shift(j, &c, number, 1, -1);
    job_changes_add(&c, TYPED_ITEM, name, "", NULL, DIESET_STATION);
    job_begin_item(j, handbook_kind(j->handbook, kind), name, &begun);
    for (size_t i = 0; i < begun.at.count; i++)
        if (strcmp(begun.at.at[i].path, DIESET_STATION_NUMBER) != 0)
            job_changes_add(&c, TYPED_ENTRY, name, begun.at.at[i].path, NULL, begun.at.at[i].after);
    job_changes_done(&begun);
    job_changes_add(&c, TYPED_ENTRY, name, DIESET_STATION_NUMBER, NULL, text);
    job_changes_add(&c, TYPED_ENTRY, name, "does", NULL, "\"idle\"");
    job_place_at(j, &c, name, count, last < 0 ? count : last + 1);
    free(name);
    return job_try(j, &c, base_format("an idle station put in as number %d", number), why);
}

static bool is_idle(struct job *j, int item)
{
    return strcmp(dieset_text(j->dieset, item, "does"), "idle") == 0;
}

enum base_err job_station_close(struct job *j, int number, struct base_diag *why)
{
    job_drop(j);
    struct job_changes c = {0};
    enum base_err err = check_number(number, why);
    err = err ? err : all_numbered(j, why);
    for (int i = 0; i < dieset_item_count(j->dieset) && !err; i++)
        if (dieset_has_number(j->dieset, i) && dieset_station_number(j->dieset, i) == number &&
            !is_idle(j, i))
            err = base_fail(why, BASE_REFUSED, "%s works in station %d: only an idle one is taken out.",
                            dieset_item_name(j->dieset, i), number);
    if (err)
        return err;
    shift(j, &c, number + 1, -1, number);
    for (int i = 0; i < dieset_item_count(j->dieset) && !err; i++)
        if (dieset_has_number(j->dieset, i) && dieset_station_number(j->dieset, i) == number)
            err = job_take_out_with(j, &c, i, why);
    if (!err && !c.at.count)
        err = base_fail(why, BASE_REFUSED, "There is no station %d.", number);
    if (!err)
        return job_try(j, &c, base_format("station %d closed up", number), why);
    job_changes_done(&c);
    return err;
}

enum base_err job_station_copy(struct job *j, const char *item, int to, const char *name,
                               struct base_diag *why)
{
    job_drop(j);
    int i;
    enum base_err err = check_number(to, why);
    err = err ? err : find_worker(j, item, &i, why);
    if (err)
        return err;
    char *stem = base_format("%s_%d", item, to), *called = name ? base_copy(name) : free_name(j, stem),
         text[16];
    free(stem);
    snprintf(text, sizeof text, "%d", to);
    struct job_changes c = {0};
    err = job_check_name(j, called, why);
    if (!err) {
        const struct typed_entry *entries;
        int n = dieset_entries(j->dieset, i, &entries);
        job_changes_add(&c, TYPED_ITEM, called, "", NULL, job_kind_of(j, i)->name);
        for (int e = 0; e < n; e++)
            if (strcmp(entries[e].path, DIESET_STATION_NUMBER) != 0 && strcmp(entries[e].path, "title") != 0)
                job_changes_add(&c, TYPED_ENTRY, called, entries[e].path, NULL, entries[e].text);
        job_changes_add(&c, TYPED_ENTRY, called, DIESET_STATION_NUMBER, NULL, text);
        job_place_at(j, &c, called, dieset_item_count(j->dieset), i + 1);
        err = job_try(j, &c, base_format("%s added in station %d, like %s", called, to, item), why);
    }
    free(called);
    return err;
}

/* ---- by words -------------------------------------------------------------------------------------- */

typedef enum base_err verb(struct job *j, const char *const *w, int n, struct base_diag *why);

static enum base_err say_move(struct job *j, const char *const *w, int n, struct base_diag *why)
{
    (void)n;
    return job_station_move(j, w[0], whole(w[1]), why);
}

static enum base_err say_swap(struct job *j, const char *const *w, int n, struct base_diag *why)
{
    (void)n;
    return job_station_swap(j, whole(w[0]), whole(w[1]), why);
}

static enum base_err say_insert(struct job *j, const char *const *w, int n, struct base_diag *why)
{
    (void)n;
    return job_station_insert(j, whole(w[0]), why);
}

static enum base_err say_close(struct job *j, const char *const *w, int n, struct base_diag *why)
{
    (void)n;
    return job_station_close(j, whole(w[0]), why);
}

static enum base_err say_copy(struct job *j, const char *const *w, int n, struct base_diag *why)
{
    return job_station_copy(j, w[0], whole(w[1]), n > 2 ? w[2] : NULL, why);
}

static enum base_err say_number(struct job *j, const char *const *w, int n, struct base_diag *why)
{
    (void)w, (void)n;
    return job_station_tell(j, why);
}

enum base_err job_station_words(struct job *j, const char *const *words, int n, struct base_diag *why)
{
    static const struct { const char *word; int least, most; verb *say;
    } verbs[] = {
        {"move", 2, 2, say_move},   {"swap", 2, 2, say_swap}, {"insert", 1, 1, say_insert},
        {"close", 1, 1, say_close}, {"copy", 2, 3, say_copy}, {"number", 0, 0, say_number},
    };
    for (size_t i = 0; i < COUNT_OF(verbs); i++)
        if (n && strcmp(verbs[i].word, words[0]) == 0 && n - 1 >= verbs[i].least && n - 1 <= verbs[i].most)
            return verbs[i].say(j, words + 1, n - 1, why);
    job_drop(j);
    return base_fail(
        why, BASE_REFUSED,
        "Stations: move ITEM or NUMBER TO, swap A B, insert NUMBER, close NUMBER, copy ITEM TO [NAME], "
        "or number.");
}

enum base_err job_station_line(struct job *j, const char *line, struct base_diag *why)
{
    const char *words[6]; /* more than any of them takes */
    char *copy = base_copy(line), *rest = copy, *word;
    int n = 0;
    while (n < (int)COUNT_OF(words) && (word = strtok_r(rest, " ", &rest)))
        words[n++] = word;
    enum base_err err = job_station_words(j, words, n, why);
    free(copy);
    return err;
}
