/* Jobs whose stations stand at places that were typed: told by station numbers, with nothing moved.
 *
 * * Station 1 is where the foremost cut is. Each group's number is the nearest to its middle, half a pitch
 * on where it lies just between two; what is left is its place from there. Pilots find the station that
 * pierces their holes. Where a hole or a plate would move after all, the job stays as it was typed.
 */

#include "job/job.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = DIESET_MOST_STATIONS };
static const double NEAR = 1e-6; /* mm: one place */

struct telling {
    struct job *j;
    struct dieset *d;
    struct job_changes c;
    int *numbers;        /* of each item, 0: none yet */
    double first, pitch;
    int last;
};

/* ---- what stands -------------------------------------------------------------------------------- */

static double value(const struct telling *t, int item, const char *name)
{
    char *path = base_format("%s.%s", dieset_item_name(t->d, item), name);
    struct formula_value v = dieset_get(t->d, path, DIESET_NEW);
    free(path);
    return v.error ? NAN : v.number;
}

static const struct handbook_pattern *pattern_of(const struct telling *t, int item)
{
    struct typed_lay lay;
    typed_lay_read(dieset_entry(t->d, item, "lay"), &lay);
    int p = handbook_find_pattern(t->j->handbook, lay.pattern);
    return p < 0 ? NULL : handbook_pattern(t->j->handbook, p);
}

/* The station that ITEM is laid with, -1. */
static int laid_with(const struct telling *t, int item)
{
    struct typed_lay lay;
    bool with = typed_lay_read(dieset_entry(t->d, item, "lay"), &lay) && lay.with;
    int other = with ? dieset_find_item(t->d, lay.on) : -1;
    return other >= 0 && dieset_has_number(t->d, other) ? other : -1;
}

static bool is_old(const struct telling *t)
{
    int numbered = 0, placed = 0;
    for (int i = 0; i < dieset_item_count(t->d); i++)
        if (dieset_has_number(t->d, i))
            *(dieset_station_number(t->d, i) ? &numbered : &placed) += 1;
    return placed && !numbered;
}

/* ---- texts ------------------------------------------------------------------------------------------ */

static char *length_text(const struct telling *t, double mm)
{
    return unit_typed(UNIT_LENGTH, dieset_system(t->d), fabs(mm) < NEAR ? 0 : mm);
}

static void change(struct telling *t, int item, const char *entry, const char *text)
{
    job_change_entry(t->j, &t->c, dieset_item_name(t->d, item), entry, text);
}

static void take_away(struct telling *t, int item, const char *entry)
{
    char *reason = typed_of_reason(entry);
    change(t, item, reason, NULL);
    change(t, item, entry, NULL);
    free(reason);
}

static void change_number(struct telling *t, int item, int number)
{
    char text[16];
    snprintf(text, sizeof text, "%d", number);
    change(t, item, DIESET_STATION_NUMBER, text);
    t->numbers[item] = number;
    t->last = number > t->last ? number : t->last;
}

static void change_list(struct telling *t, int item, const int *list, int n)
{
    struct base_text text = {0};
    base_text_add(&text, "\"");
    formula_numbers_text(list, n, &text);
    base_text_add(&text, "\"");
    change(t, item, DIESET_STATION_LIST, base_text_get(&text));
    base_text_done(&text);
    for (int i = 0; i < n; i++)
        t->last = list[i] > t->last && dieset_has_number(t->d, item) ? list[i] : t->last;
}

/* ---- places ------------------------------------------------------------------------------------------ */

/* The station whose place is nearest to X; *HALF: X lies just half a pitch on. */
static int number_at(const struct telling *t, double x, bool *half)
{
    double k = (x - t->first) / t->pitch, low = floor(k + 1e-9);
    *half = fabs(k - low - 0.5) * t->pitch < NEAR;
    double n = *half ? low : floor(k + 0.5);
    return n < 0 ? 1 : (int)n + 1;
}

static double place_of(const struct telling *t, int number, bool half)
{
    return t->first + (number - 1 + (half ? 0.5 : 0)) * t->pitch;
}

static void drop_take(struct telling *t, int item, const char *take)
{
    char *entry = typed_of_take(take);
    take_away(t, item, entry);
    free(entry);
}

/* ENTRY of the pattern, `along`, was a place in the plan, and is one from the station's from now on. */
static void change_along(struct telling *t, int item, const char *entry, double from, bool half)
{
    const char *text = dieset_entry(t->d, item, entry);
    double along = value(t, item, "lay.along"), left = (isnan(along) ? 0 : along) - from;
    struct formula_tree *tree = NULL;
    if (fabs(left) < NEAR) {
        take_away(t, item, entry);
        return;
    }
    bool literal = !text || (formula_parse(text, &tree, NULL) == BASE_OK && formula_is_literal(tree));
    formula_tree_free(tree);
    /* a formula stays where it puts the points, also when the pitch is another one */
    int number = (int)lround((from - t->first) / t->pitch - (half ? 0.5 : 0)) + 1;
    char *now = literal ? length_text(t, left)
                        : base_format("(%s) - station_place(strip.first, strip.way, %d, strip.pitch)%s", text,
                                      number, half ? " - strip.pitch / 2" : "");
    change(t, item, entry, now);
    free(now);
}

/* A freed point's place was one in the plan; it is told from where its pattern has it, so that it follows. */
static void change_freed(struct telling *t, int item, const struct handbook_pattern *p, const char *entry,
                         const char *text, double from)
{
    char *path = typed_known(dieset_item_name(t->d, item), entry);
    int q = dieset_find(t->d, path);
    free(path);
    if (q < 0 || (strstr(text, "usual") && !p->free))
        return;
    int usual = dieset_quantity(t->d, q)->usual_slot;
    struct formula_value stands = dieset_value(t->d, q, DIESET_NEW);
    double base = p->free || usual < 0 ? from : model_value(dieset_model(t->d), usual).number;
    if (stands.error)
        return;
    double off = stands.number - base;
    char *length = length_text(t, fabs(off)), *now = base_format("usual %c %s", off < 0 ? '-' : '+', length);
    change(t, item, entry, now);
    free(now);
    free(length);
}

static void change_places(struct telling *t, int item, const struct handbook_pattern *p, double from,
                          bool half)
{
    const struct typed_entry *entries;
    int n = dieset_entries(t->d, item, &entries);
    char *along = typed_of_take("along");
    for (int i = 0; i < p->n_takes; i++)
        if (strcmp(p->takes[i].name, "along") == 0)
            change_along(t, item, along, from, half);
    free(along);
    for (int e = 0; e < n; e++) {
        struct typed_path at = typed_path_read(entries[e].path);
        if (at.place == TYPED_AT_POINT && at.axis == TYPED_X && at.detail == TYPED_ITSELF)
            change_freed(t, item, p, entries[e].path, entries[e].text, from);
    }
}

static void tell_station(struct telling *t, int item)
{
    const struct handbook_pattern *p = pattern_of(t, item);
    bool half = false;
    double x = value(t, item, "mean_x");
    if (isnan(x))
        x = t->first;
    int number = number_at(t, x, &half);
    change_number(t, item, number);
    if (!p || !p->framed)
        return; /* it stands in its plate, or with another item */
    if (half)
        change(t, item, "half_pitch", "yes");
    change_places(t, item, p, place_of(t, number, half), half);
}

/* ---- pilots and lifters -------------------------------------------------------------------------- */

/* Do the points of station S, moved along by whole pitches, stand where those of ITEM's first column do? */
static bool same_rows(const struct telling *t, int s, const struct dieset_point *at, int rows)
{
    double off = NAN;
    int n = dieset_point_count(t->d, s);
    for (int i = 0; i < rows; i++) {
        bool met = false;
        for (int k = 0; k < n && !met; k++) {
            struct dieset_point p;
            dieset_point(t->d, s, k, &p);
            double steps = (at[i].x - p.x) / t->pitch;
            met = fabs(at[i].y - p.y) < NEAR && fabs(steps - round(steps)) * t->pitch < NEAR &&
                  (isnan(off) || fabs(at[i].x - p.x - off) < NEAR);
            off = met ? at[i].x - p.x : off;
        }
        if (!met)
            return false;
    }
    return n == rows;
}

static int pierced_by(const struct telling *t, const struct dieset_point *at, int rows)
{
    for (int s = 0; s < dieset_item_count(t->d); s++)
        if (dieset_has_number(t->d, s) && strcmp(dieset_text(t->d, s, "does"), "pierce") == 0 &&
            pattern_of(t, s) && pattern_of(t, s)->framed && same_rows(t, s, at, rows))
            return s;
    return -1;
}

/* Columns a pitch apart, each with the same rows: the x of each into X, those of the first into AT. */
static int columns_of(const struct telling *t, int item, double *x, struct dieset_point *at, int *rows)
{
    int n = dieset_point_count(t->d, item), columns = 0;
    *rows = 0;
    for (int i = 0; i < n; i++) {
        struct dieset_point p;
        dieset_point(t->d, item, i, &p);
        bool known = false;
        for (int k = 0; k < columns; k++)
            known = known || fabs(x[k] - p.x) < NEAR;
        if (!known && columns < MOST)
            x[columns++] = p.x;
        if (fabs(x[0] - p.x) < NEAR && *rows < MOST)
            at[(*rows)++] = p;
    }
    for (int k = 1; k < columns; k++)
        if (fabs(fabs(x[k] - x[k - 1]) - t->pitch) > NEAR)
            return 0;
    return n == columns * *rows ? columns : 0;
}

static void tell_pilots(struct telling *t, int item, int station, const int *list, int n)
{
    const struct typed_entry *entries;
    int n_entries = dieset_entries(t->d, item, &entries);
    for (int e = 0; e < n_entries; e++)
        if (typed_is_laid(entries[e].path))
            change(t, item, entries[e].path, NULL);
    char *lay = typed_lay_with(dieset_item_name(t->d, station));
    change(t, item, "lay", lay);
    free(lay);
    if (!dieset_entry(t->d, item, "of"))
        change(t, item, "of", dieset_item_name(t->d, station));
    if (fabs(value(t, item, "strip_hole") - value(t, station, "size")) < NEAR)
        take_away(t, item, "strip_hole");
    change_list(t, item, list, n);
}

/* Rows of one column: what the pattern is called that has one column only. */
static void lay_one_column(struct telling *t, int item, int rows)
{
    static const char *const takes[] = {"columns", "pitch", "rows", "apart"};
    struct typed_lay lay;
    int gone = rows > 2 ? 1 : rows == 2 ? 3 : 4;
    for (int i = 0; i < gone; i++)
        drop_take(t, item, takes[i]);
    if (rows > 2 || !typed_lay_read(dieset_entry(t->d, item, "lay"), &lay))
        return;
    char *now = typed_lay_on(rows == 1 ? "one" : "pair", lay.on);
    change(t, item, "lay", now);
    free(now);
}

static bool has_property(const struct telling *t, int item, const char *name)
{
    return handbook_find_property(handbook_kind(t->j->handbook, dieset_item_kind(t->d, item)), name) >= 0;
}

/* What may stand between stations (lifters) does, unless it is said. */
static void stand_at_station(struct telling *t, int item)
{
    if (has_property(t, item, "stand"))
        change(t, item, "stand", "\"at the station\"");
}

static void tell_grid(struct telling *t, int item, const struct handbook_pattern *p, const double *x,
                      int columns, int rows)
{
    bool half = false;
    int list[MOST];
    for (int i = 0; i < columns; i++)
        list[i] = number_at(t, x[i], &half);
    bool between = has_property(t, item, "stand") && half;
    if (!between)
        stand_at_station(t, item);
    change_list(t, item, list, columns);
    if (strcmp(p->name, "places") == 0)
        lay_one_column(t, item, rows);
    change_places(t, item, p, place_of(t, list[0], between), between);
}

static void tell_list(struct telling *t, int item)
{
    const struct handbook_pattern *p = pattern_of(t, item);
    int with = laid_with(t, item), rows, list[MOST];
    double x[MOST];
    bool finds = has_property(t, item, "of");
    if (with >= 0) {
        change_list(t, item, &t->numbers[with], 1);
        if (finds && !dieset_entry(t->d, item, "of"))
            change(t, item, "of", dieset_item_name(t->d, with));
        stand_at_station(t, item);
    }
    if (!p || !p->framed || p->free)
        return;
    struct dieset_point *at = base_alloc(MOST * sizeof *at);
    int columns = columns_of(t, item, x, at, &rows);
    int station = finds && columns ? pierced_by(t, at, rows) : -1;
    for (int i = 0; i < columns && station >= 0; i++) {
        struct dieset_point first;
        dieset_point(t->d, station, 0, &first);
        list[i] = t->numbers[station] + (int)lround((x[i] - first.x) / t->pitch);
        if (list[i] < 1 || list[i] > MOST)
            station = -1;
    }
    if (station >= 0)
        tell_pilots(t, item, station, list, columns);
    else if (columns)
        tell_grid(t, item, p, x, columns, rows);
    free(at);
}

/* ---- nothing may have moved ------------------------------------------------------------------------ */

struct spot { int plate; double x, y, diameter; };

static int by_place(const void *a, const void *b)
{
    const struct spot *p = a, *q = b;
    const double u[] = {p->plate, p->x, p->y, p->diameter}, v[] = {q->plate, q->x, q->y, q->diameter};
    for (size_t i = 0; i < COUNT_OF(u); i++)
        if (fabs(u[i] - v[i]) > NEAR)
            return u[i] < v[i] ? -1 : 1;
    return 0;
}

static struct spot *all_holes(const struct dieset *d, int *n)
{
    *n = dieset_hole_count(d);
    struct spot *at = base_alloc((size_t)(*n + 1) * sizeof *at);
    for (int i = 0; i < *n; i++) {
        struct dieset_hole h;
        dieset_hole(d, i, DIESET_NEW, &h);
        at[i] = (struct spot){h.plate, h.nowhere ? 0 : h.x, h.nowhere ? 0 : h.y, h.nowhere ? 0 : h.diameter};
    }
    qsort(at, (size_t)*n, sizeof *at, by_place);
    return at;
}

static bool plates_moved(struct dieset *d)
{
    const struct dieset_move *moves;
    int n = dieset_moves(d, &moves), kind = handbook_find_kind(dieset_handbook(d), DIESET_PLATE);
    for (int i = 0; i < n; i++) {
        int q = dieset_find(d, moves[i].path);
        const struct dieset_quantity *x = q < 0 ? NULL : dieset_quantity(d, q);
        if (x && x->item >= 0 && dieset_item_kind(d, x->item) == kind && !moves[i].was.error &&
            moves[i].was.error == moves[i].is.error && fabs(moves[i].was.number - moves[i].is.number) > NEAR)
            return true;
    }
    return false;
}

static bool stands_still(struct dieset *d, const struct spot *before, int n)
{
    int now;
    struct spot *at = all_holes(d, &now);
    bool same = now == n && !plates_moved(d);
    for (int i = 0; i < n && same; i++)
        same = by_place(&at[i], &before[i]) == 0;
    free(at);
    return same;
}

/* ---- all of it ---------------------------------------------------------------------- */

static void tell_first(struct telling *t)
{
    int strip = dieset_item_of_kind(t->d, DIESET_STRIP);
    if (fabs(t->first + (t->last - 1) * t->pitch / 2) < NEAR)
        return;
    char *text = length_text(t, t->first);
    change(t, strip, "first", text);
    change(t, strip, "first/reason", "as its places were typed");
    free(text);
}

/* The plates went to half a pitch behind the last cut: where that lies off its station's place, the margin
 * takes what is left. */
static void tell_margin(struct telling *t)
{
    int stack = dieset_item_of_kind(t->d, DIESET_STACK);
    double last = t->first, margin = stack < 0 ? NAN : dieset_number(t->d, stack, "margin_out", DIESET_NEW);
    for (int i = 0; i < dieset_item_count(t->d); i++)
        if (dieset_has_number(t->d, i))
            last = fmax(last, dieset_number(t->d, i, "x", DIESET_NEW));
    double left = last - place_of(t, t->last, false);
    if (isnan(margin) || fabs(left) < NEAR)
        return;
    char *text = length_text(t, margin + left);
    change(t, stack, "margin_out", text);
    free(text);
}

static bool begin(struct telling *t)
{
    int strip = dieset_item_of_kind(t->d, DIESET_STRIP);
    t->pitch = strip < 0 ? NAN : dieset_number(t->d, strip, "pitch", DIESET_NEW);
    t->first = NAN;
    for (int i = 0; i < dieset_item_count(t->d); i++)
        if (dieset_has_number(t->d, i)) {
            double x = dieset_number(t->d, i, "x", DIESET_NEW);
            t->first = isnan(t->first) || x < t->first ? x : t->first;
        }
    return t->pitch > 0 && !isnan(t->first);
}

enum base_err job_station_changes(struct job *j, struct job_changes *out, struct base_diag *why)
{
    struct telling t = {.j = j, .d = j->dieset};
    *out = (struct job_changes){0};
    if (!is_old(&t))
        return base_fail(why, BASE_UNKNOWN, "The stations have their numbers.");
    if (!begin(&t))
        return base_fail(why, BASE_REFUSED,
                         "Without the pitch and the places of all stations their numbers cannot be told.");
    int n = dieset_item_count(t.d), listed;
    t.numbers = base_alloc((size_t)(n + 1) * sizeof *t.numbers);
    for (int i = 0; i < n; i++)
        if (dieset_has_number(t.d, i))
            tell_station(&t, i);
    for (int i = 0; i < n; i++)
        if (dieset_station_list(t.d, i, &listed, 1) == 0)
            tell_list(&t, i);
    tell_first(&t);
    tell_margin(&t);
    free(t.numbers);
    *out = t.c;
    return BASE_OK;
}

bool job_try_still(struct job *j, const struct job_changes *c)
{
    int n;
    struct spot *before = all_holes(j->dieset, &n);
    bool same = dieset_try(j->dieset, c->at.at, (int)c->at.count, NULL) == BASE_OK &&
                stands_still(j->dieset, before, n);
    if (!same && dieset_trying(j->dieset))
        dieset_drop(j->dieset);
    free(before);
    return same;
}

static bool stands_as_it_was(struct job *j, const struct job_changes *c)
{
    bool same = job_try_still(j, c);
    if (same)
        dieset_drop(j->dieset);
    return same;
}

static enum base_err would_move(struct base_diag *why)
{
    return base_fail(
        why, BASE_REFUSED,
        "Told by station numbers something would move: the places do not lie on the pitch. They stay "
        "as they were typed; give each station its number and place.");
}

enum base_err job_station_tell(struct job *j, struct base_diag *why)
{
    struct job_changes c;
    job_drop(j);
    enum base_err err = job_station_changes(j, &c, why);
    if (!err && !stands_as_it_was(j, &c))
        err = would_move(why);
    if (!err)
        return job_try(j, &c, base_copy("stations told by their numbers"), why);
    job_changes_done(&c);
    return err;
}

void job_read_told(struct job *j)
{
    struct job_changes c;
    if (job_station_changes(j, &c, NULL) == BASE_OK && job_try_still(j, &c))
        dieset_keep(j->dieset);
    job_changes_done(&c);
}
