/* place/place.c - see diewright/place.h: the entries, their try, and what is there */

#include "place/own.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- entries ---- */

void place_init(struct place *p, struct job *j, const char *item)
{
    *p = (struct place){.job = j, .d = job_dieset(j)};
    snprintf(p->item, sizeof p->item, "%s", item);
    for (int a = 0; a < PLACE_AXES; a++)
        place_forget_way(&p->ways[a]);
}

void place_forget(struct place *p, const char *path)
{
    for (size_t i = 0; i < p->typed.count; i++)
        if (strcmp(p->typed.at[i].path, path) == 0) {
            free((char *)p->typed.at[i].path);
            free((char *)p->typed.at[i].text);
            p->typed.at[i] = p->typed.at[--p->typed.count];
            return;
        }
}

void place_put(struct place *p, const char *path, const char *text)
{
    char *copy = base_copy(path);
    place_forget(p, path);
    struct job_typed e = {copy, text ? base_copy(text) : NULL};
    base_vec_push(&p->typed, e);
}

const char *place_typed(const struct place *p, const char *path)
{
    for (size_t i = 0; i < p->typed.count; i++)
        if (strcmp(p->typed.at[i].path, path) == 0)
            return p->typed.at[i].text;
    return NULL;
}

void place_forget_way(struct place_way *w)
{
    free(w->held);
    free(w->formula);
    free(w->rest);
    *w = (struct place_way){.take = -1, .per = 1};
}

void place_done(struct place *p)
{
    while (p->typed.count)
        place_forget(p, p->typed.at[0].path);
    base_vec_done(&p->typed);
    for (int a = 0; a < PLACE_AXES; a++)
        place_forget_way(&p->ways[a]);
}

bool place_try(struct place *p)
{
    struct job_laying all = {.item = p->item,
                             .kind = *p->kind ? p->kind : NULL,
                             .like = *p->like ? p->like : NULL,
                             .lay = *p->lay ? p->lay : NULL,
                             .entries = p->typed.at,
                             .n = (int)p->typed.count};
    p->refused = false;
    p->why = (struct base_diag){0};
    if (!all.kind && !all.lay && !all.n) {
        if (job_trying(p->job))
            job_drop(p->job);
        return true;
    }
    if (all.kind && !all.lay)
        return true; /* nothing to show yet */
    p->refused = job_lay_out(p->job, &all, &p->why) != BASE_OK;
    return !p->refused;
}

/* ---- what is there ---- */

int place_item(const struct place *p)
{
    return dieset_find_item(p->d, p->item);
}

/* The layout's words: "six", "on", "die_plate". */
static void lay_words(const struct place *p, char *pattern, char *plate, size_t size)
{
    char on[40];
    int item = place_item(p);
    const char *text = *p->lay ? p->lay : item >= 0 ? dieset_entry(p->d, item, "lay") : NULL;
    record_word(record_word(record_word(text ? text : "", pattern, size), on, sizeof on), plate, size);
}

int place_plate(const struct place *p)
{
    char pattern[100], plate[100];
    lay_words(p, pattern, plate, sizeof plate);
    return dieset_find_item(p->d, plate);
}

const struct handbook_pattern *place_has(const struct place *p)
{
    char pattern[100], plate[100];
    lay_words(p, pattern, plate, sizeof plate);
    int found = handbook_find_pattern(dieset_handbook(p->d), pattern);
    return found < 0 ? NULL : handbook_pattern(dieset_handbook(p->d), found);
}

bool place_point(const struct place *p, struct dieset_point *out, int *number)
{
    int item = place_item(p), n = item < 0 ? 0 : dieset_point_count(p->d, item);
    for (int i = 0; i < n; i++) {
        dieset_point(p->d, item, i, out);
        if (strcmp(out->name, p->point) != 0)
            continue;
        if (number)
            *number = i;
        return true;
    }
    return false;
}

struct formula_value place_value(const struct place *p, const char *name)
{
    char path[PLACE_PATH];
    snprintf(path, sizeof path, "%s.%s", p->item, name);
    return dieset_get(p->d, path, DIESET_NEW);
}

struct formula_value place_take_value(const struct place *p, const struct handbook_take *take)
{
    char name[100];
    snprintf(name, sizeof name, "lay.%s", take->name);
    return place_value(p, name);
}

bool place_is_length(const struct handbook_take *take)
{
    return take->type.sort == HANDBOOK_NUMBER && unit_same(take->type.type.dim, UNIT_LENGTH);
}

char *place_length(const struct place *p, double mm)
{
    struct unit_system s = dieset_system(p->d);
    double factor = unit_display(UNIT_LENGTH, s).factor;
    double rounded = round(mm / factor * 1e6) / 1e6 * factor;
    return unit_typed(UNIT_LENGTH, s, rounded == 0 ? 0 : rounded);
}

int place_owner(const struct dieset *d, int item)
{
    const char *lay;
    for (int n = 0;
         n < 20 && item >= 0 && (lay = dieset_entry(d, item, "lay")) && strncmp(lay, "with ", 5) == 0; n++)
        item = dieset_find_item(d, lay + 5);
    return item;
}

bool place_stands(const struct place *p, const char *path)
{
    int item = *p->kind ? -1 : place_item(p);
    return item >= 0 && dieset_entry(p->d, item, path);
}

void place_take_away(struct place *p, const char *path)
{
    if (place_stands(p, path))
        place_put(p, path, NULL);
    else
        place_forget(p, path);
}

bool place_turns(const struct place *p, enum dieset_state s)
{
    int n = dieset_hole_count(p->d), item = place_item(p);
    for (int i = 0; i < n; i++) {
        struct dieset_hole h;
        struct dieset_point at;
        dieset_hole(p->d, i, s, &h);
        if (h.nowhere || place_owner(p->d, h.item) != item || h.point < 0)
            continue;
        dieset_point(p->d, h.item, h.point, &at);
        if (hypot(h.x - at.x, h.y - at.y) > PLACE_SAME || (h.spec->turn && (h.n_sides || h.length > 0)))
            return true;
    }
    return false;
}
