/* What the program reads of a handbook by name: one list, held against the handbook when it is loaded.
 *
 * All else that is looked at, drawn, ordered and printed is told by the handbook's own records. */

#include "dieset/build.h"

#include <stdarg.h>
#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define AT(field) (offsetof(struct contract, field) + 1)
#define AT_OUTLINE(field) (offsetof(struct outline_contract, field) + 1)

enum sort {
    KIND, LENGTH, AREA, ANGLE, MASS, FORCE, NUMBER, COUNT, CHOICE, UNIT, TEXT, FIGURES, YESNO, PLATE
};
static const struct { enum handbook_sort sort; const struct unit_dim *dim; const char *word; } sorts[] = {
    [LENGTH] = {HANDBOOK_NUMBER, &UNIT_LENGTH, "length"},
    [AREA] = {HANDBOOK_NUMBER, &UNIT_AREA, "area"},
    [ANGLE] = {HANDBOOK_NUMBER, &UNIT_ANGLE, "angle"},
    [MASS] = {HANDBOOK_NUMBER, &UNIT_MASS, "mass"},
    [FORCE] = {HANDBOOK_NUMBER, &UNIT_FORCE, "force"},
    [NUMBER] = {HANDBOOK_NUMBER, &UNIT_NUMBER, "number"},
    [COUNT] = {HANDBOOK_COUNT, NULL, "count"},
    [CHOICE] = {HANDBOOK_CHOICE, NULL, "choice"},
    [UNIT] = {HANDBOOK_CHOICE, NULL, "choice"}, /* of units that values can be shown in */
    [TEXT] = {HANDBOOK_TEXT, NULL, "text"},
    [FIGURES] = {HANDBOOK_FIGURES, NULL, "figures"},
    [YESNO] = {HANDBOOK_YESNO, NULL, "yesno"},
    [PLATE] = {HANDBOOK_ITEM, NULL, DIESET_PLATE},
};

struct term {
    const char *kind;     /* NULL: every kind that has outlines */
    const char *property; /* NULL: the kind itself */
    enum sort sort;
    /* its number goes there in struct contract, of outlines in theirs, 1 more; 0: nowhere */
    size_t at;
    bool optional;     /* a handbook may do without; what it is for is not there then */
    const char *words; /* that must be among its choices, or among the kind's lines: "mm|in"; NULL: none */
    const char *what_for;
};

static const struct term terms[] = {
    {DIESET_JOB, NULL, KIND, AT(job), false, NULL, "what is said of the job as a whole"},
    {DIESET_JOB, "unit", UNIT, AT(units.length), false, "mm|in", "how lengths are shown"},
    {DIESET_JOB, "shown", UNIT, AT(units.shown), true, "mm|in", "lengths shown in another unit"},
    {DIESET_JOB, "force_unit", UNIT, AT(units.force), true, "kN", "how forces are shown"},
    {DIESET_JOB, "pressure_unit", UNIT, AT(units.pressure), true, "MPa", "how pressures are shown"},
    {DIESET_JOB, "mass_unit", UNIT, AT(units.mass), true, "kg", "how masses are shown"},
    {DIESET_JOB, "torque_unit", UNIT, AT(units.work), true, "N m", "how torque and work are shown"},
    {DIESET_JOB, "series", CHOICE, 0, true, "metric|inch", "which listed sizes are offered"},
    {DIESET_JOB, "plan_step", LENGTH, 0, true, NULL, "an arrow key on the plan"},
    {DIESET_JOB, "plan_stride", LENGTH, 0, true, NULL, "a large step on the plan"},
    {DIESET_JOB, "ram_step", LENGTH, 0, true, NULL, "a step of the ram on the screens"},
    {DIESET_JOB, "ram_fine", LENGTH, 0, true, NULL, "a step of the ram near shut"},
    {DIESET_JOB, "customer", TEXT, 0, true, NULL, "title blocks"},
    {DIESET_JOB, "owner", TEXT, 0, true, NULL, "title blocks"},
    {DIESET_JOB, "department", TEXT, 0, true, NULL, "title blocks"},
    {DIESET_JOB, "sheets", CHOICE, 0, true, "ISO 216|ASME Y14.1", "what papers are printed on"},
    {DIESET_JOB, "part", TEXT, 0, true, NULL, "title blocks"},
    {DIESET_JOB, "made_by", TEXT, 0, true, NULL, "title blocks"},
    {DIESET_JOB, "checked_by", TEXT, 0, true, NULL, "title blocks"},
    {DIESET_JOB, "second_person", YESNO, 0, true, NULL, "who may issue it"},
    {DIESET_JOB, "set_number", TEXT, 0, true, NULL, "what papers are called"},
    {DIESET_JOB, "tolerances", CHOICE, 0, true, NULL, "sizes without limits"},
    {DIESET_JOB, "surface_ground", TEXT, 0, true, NULL, "notes of a drawing"},
    {DIESET_JOB, "surface_else", TEXT, 0, true, NULL, "notes of a drawing"},
    {DIESET_JOB, "edges", TEXT, 0, true, NULL, "notes of a drawing"},
    {DIESET_STRIP, NULL, KIND, AT(strip), false, NULL, "the strip between the plates"},
    {DIESET_STRIP, "thickness", LENGTH, AT(strip_thickness), false, NULL, "the strip in the section"},
    {DIESET_STRIP, "width", LENGTH, AT(strip_width), true,
     NULL, "the strip on the plan, and what is cut of it"},
    {DIESET_STRIP, "lift", LENGTH, AT(strip_lift), true, NULL, "the strip lifted off the die face"},
    {DIESET_STRIP, "pitch", LENGTH, AT(strip_pitch), true,
     NULL, "stations by number, and the holes that pilots find"},
    {DIESET_STRIP, "first", LENGTH, AT(strip_first), true, NULL, "where station 1 is"},
    {DIESET_STRIP, "start", LENGTH, AT(strip_start), true, NULL, "what is cut at the first strokes"},
    {DIESET_STRIP, "start_at", LENGTH, 0, true, NULL, "the first strokes"},
    {DIESET_STRIP, "way", NUMBER, AT(strip_way), true, NULL, "which way the strip is fed"},
    {DIESET_STRIP, "stations", NUMBER, 0, true, NULL, "idle stations"},
    {DIESET_STRIP, "use", NUMBER, 0, true, NULL, "how much of the strip becomes parts"},
    {DIESET_STRIP, "part_metal", AREA, 0, true, NULL, "how much of the strip becomes parts"},
    {DIESET_STRIP, "part_mass", MASS, 0, true, NULL, "how much of the strip becomes parts"},
    {DIESET_STRIP, "scrap_mass", MASS, 0, true, NULL, "how much of the strip becomes parts"},
    {DIESET_STRIP, "thousand_mass", MASS, 0, true, NULL, "how much strip is wanted"},
    {DIESET_STRIP, "side_force", FORCE, 0, true, NULL, "the strip in figures"},
    {DIESET_STATION, NULL, KIND, 0, true, NULL, "stations by number"},
    {DIESET_STATION, DIESET_STATION_NUMBER, COUNT, 0, true, NULL, "stations by number"},
    {DIESET_STATION, "does", CHOICE, 0, true, "pierce|blank|form|idle",
     "stations that are put in, pilots' holes, and the strip's picture"},
    {DIESET_STATION, "shape", CHOICE, 0, true, "round", "the station table"},
    {DIESET_STATION, "size_along", LENGTH, 0, true, NULL, "the station table"},
    {DIESET_STATION, "size_across", LENGTH, 0, true, NULL, "the station table"},
    {DIESET_STATION, "first_stroke", NUMBER, 0, true, NULL, "the first strokes"},
    {DIESET_STATION, "half_stroke", NUMBER, 0, true, NULL, "the first strokes"},
    {DIESET_STATION, "cut", LENGTH, 0, true, NULL, "the station table"},
    {DIESET_STATION, "force", FORCE, 0, true, NULL, "the station table"},
    {DIESET_STATION, "stagger", LENGTH, 0, true, NULL, "the station table"},
    {DIESET_STATION, "x", LENGTH, 0, true, NULL, "jobs told before stations had numbers"},
    {DIESET_STACK, NULL, KIND, AT(stack), false, NULL, "heights of the whole set"},
    {DIESET_STACK, "die_plate", PLATE, AT(die_plate), false, NULL, "the plate that the strip lies on"},
    {DIESET_STACK, "blank_die", PLATE, AT(blank_die), true,
     NULL, "a compound set, whose stripper moves with the lower half"},
    {DIESET_STACK, "shut_height", LENGTH, AT(shut_height), false, NULL, "the section and the stroke"},
    {DIESET_STACK, "travel", LENGTH, AT(travel), true, NULL, "how far a stripper moves by itself"},
    {DIESET_STACK, "whole_mass", MASS, 0, true, NULL, "which masses count"},
    {DIESET_STACK, "deviation_relief", ANGLE, 0, true, NULL, "limits on inspection lists"},
    {DIESET_STACK, "margin_out", LENGTH, 0, true, NULL, "jobs told before stations had numbers"},
    {"press", NULL, KIND, AT(press), true, NULL, "how far the ram goes"},
    {"press", "stroke", LENGTH, AT(stroke), true, NULL, "how far the ram goes"},
    {"press", "size", TEXT, 0, true, NULL, "the press in a list of jobs"},
    {DIESET_PLATE, NULL, KIND, AT(plate), false, NULL, "plates, and the holes in them"},
    {DIESET_PLATE, "length", LENGTH, AT(length), false, NULL, "its size"},
    {DIESET_PLATE, "width", LENGTH, AT(width), false, NULL, "its size"},
    {DIESET_PLATE, "thickness", LENGTH, AT(thickness), false, NULL, "its size"},
    {DIESET_PLATE, "thickness_now", LENGTH, AT(thickness_now), false, NULL, "its size, new or ground"},
    {DIESET_PLATE, "top", LENGTH, AT(top), false, NULL, "its height in the stack"},
    {DIESET_PLATE, "bottom", LENGTH, AT(bottom), false, NULL, "its height in the stack"},
    {DIESET_PLATE, "left", LENGTH, AT(left), false, NULL, "its edge on the plan"},
    {DIESET_PLATE, "right", LENGTH, AT(right), false, NULL, "its edge on the plan"},
    {DIESET_PLATE, "front", LENGTH, AT(front), false, NULL, "its edge on the plan"},
    {DIESET_PLATE, "back", LENGTH, AT(back), false, NULL, "its edge on the plan"},
    {DIESET_PLATE, "middle_x", LENGTH, AT(middle_x), false, NULL, "its middle on the plan"},
    {DIESET_PLATE, "middle_y", LENGTH, AT(middle_y), false, NULL, "its middle on the plan"},
    {DIESET_PLATE, "moves", CHOICE, AT(moves), false,
     DIESET_ON_BED "|" DIESET_ON_SLIDE "|" DIESET_ON_STRIPPER, "what it moves with"},
    {DIESET_PLATE, "material", TEXT, 0, true, NULL, "papers"},
    {DIESET_PLATE, "hardness", FIGURES, 0, true, NULL, "papers"},
    {DIESET_PLATE, "hardness_least", NUMBER, 0, true, NULL, "the inspection list"},
    {DIESET_PLATE, "hardness_most", NUMBER, 0, true, NULL, "the inspection list"},
    {DIESET_PLATE, "deviation_thickness", LENGTH, 0, true, NULL, "limits on drawings and inspection lists"},
    {DIESET_PLATE, "deviation_places", LENGTH, 0, true, NULL, "limits on drawings and inspection lists"},
    {DIESET_PLATE, "deviation_openings", LENGTH, 0, true, NULL, "limits on drawings and inspection lists"},
    {DIESET_PLATE, "parallel", LENGTH, 0, true, NULL, "limits on drawings and inspection lists"},
    {DIESET_FORMING, "goes", CHOICE, 0, true, "down|up", "which way the strip is formed, in its picture"},
    {DIESET_FORMING, "angle", ANGLE, 0, true, NULL, "what is formed, in section"},
    {DIESET_FORMING, "radius", LENGTH, 0, true, NULL, "what is formed, in section"},
    {DIESET_FORMING, "height", LENGTH, 0, true, NULL, "what is formed, in section"},
    {DIESET_FORMING, "touch", LENGTH, 0, true, NULL, "how far it is formed as the ram comes down"},
    {NULL, "outline_turn", ANGLE, 0, false, NULL, "how the outline lies"},
    {NULL, "outline_mirrored", YESNO, 0, false, NULL, "how the outline lies"},
    {NULL, "opening_grow", LENGTH, AT_OUTLINE(opening_grow), false, NULL, "the opening in the die plate"},
    {NULL, "punch_grow", LENGTH, AT_OUTLINE(punch_grow), false, NULL, "the punch"},
    {DIESET_LIMITS, NULL, KIND, 0, true, NULL, "limits of the job's own"},
    {DIESET_LIMITS, "of", TEXT, 0, true, NULL, "limits of the job's own"},
    {DIESET_LIMITS, "lower", LENGTH, 0, true, NULL, "limits of the job's own"},
    {DIESET_LIMITS, "upper", LENGTH, 0, true, NULL, "limits of the job's own"},
    {DIESET_LIMITS, "share", NUMBER, 0, true, NULL, "limits of the job's own"},
    {DIESET_REMARK, NULL, KIND, 0, true, "item|finding|by|on|says", "remarks"},
    {DIESET_WAIVER, NULL, KIND, 0, true,
     "finding|grade|states|margin|by|on|says", "findings that are let stand"},
    {DIESET_REVISION, NULL, KIND, 0, true,
     "letter|by|on|says|sum|withdrawn|withdrawn_by|because", "what was issued"},
    {DIESET_JOINED, NULL, KIND, 0, true, "copy|by|on|says", "which copies the job was joined with"},
    {DIESET_START, NULL, KIND, 0, true, "line|take|leave|first|asks|tells", "starts and their pages"},
};

/* Factors that geometry goes by. Without one nothing is told by it: no place is seen, nothing is alike. */
static const struct {
    const char *name;
    enum sort sort;
    size_t at;
    const char *what_for;
} factors[] = {
    {"seen_off", NUMBER, AT(seen_off), "what is seen to lie beside its place"},
    {"square_within", LENGTH, AT(square_within), "plates that are square"},
    {"one_size_within", LENGTH, AT(one_size_within), "posts of one size"},
};

/* ---- one of them held against a handbook ------------------------------------------------------------- */

static enum base_err lacks_kind(const struct term *t, struct base_diag *why)
{
    return base_fail(why, BASE_REFUSED,
                     "The handbook lacks the kind %s, which the program reads for %s. Write a record \"kind "
                     "%s\", or take the shipped one.",
                     t->kind, t->what_for, t->kind);
}

static enum base_err refuse(const struct handbook_kind *k, const struct handbook_place *place,
                            struct base_diag *why, const char *fmt, ...) PRINTF_LIKE(4, 5);
static enum base_err refuse(const struct handbook_kind *k, const struct handbook_place *place,
                            struct base_diag *why, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    base_fail_args(why, BASE_REFUSED, fmt, args);
    va_end(args);
    if (!place->file)
        place = &k->place;
    base_diag_place(why, place->file, place->line);
    return BASE_REFUSED;
}

/* The first of WORDS, parted by "|", that is none of the N there are; "" when all are there. */
static const char *lacking(const char *words, const char *const *there, int n, char *buf, size_t size)
{
    for (*buf = '\0'; words && *words; words += *words == '|') {
        size_t length = strcspn(words, "|");
        int i = 0;
        while (i < n && (strlen(there[i]) != length || strncmp(there[i], words, length) != 0))
            i++;
        if (i == n) {
            snprintf(buf, size, "%.*s", (int)length, words);
            return buf;
        }
        words += length;
    }
    return buf;
}

static enum base_err check_lines(const struct term *t, const struct handbook_kind *k, struct base_diag *why)
{
    char word[40];
    if (!*lacking(t->words, k->words, k->n_words, word, sizeof word))
        return BASE_OK;
    return refuse(k, &k->place, why,
                  "The handbook's kind %s lacks the line %s, which the program reads for %s: write it behind "
                  "\"words\".",
                  k->name, word, t->what_for);
}

/* The first choice that values cannot be shown in, NULL: none. */
static const char *no_unit(const struct handbook_property *p)
{
    struct unit_system shown = UNIT_METRIC;
    for (int i = 0; i < p->n_choices; i++)
        if (!unit_choose(&shown, p->choices[i]))
            return p->choices[i];
    return NULL;
}

static enum base_err check_property(const struct term *t, const struct handbook_kind *k, int p,
                                    struct base_diag *why)
{
    const struct handbook_property *property = &k->properties[p];
    struct handbook_type type = property->type;
    char word[40];
    if (type.sort != sorts[t->sort].sort ||
        (sorts[t->sort].dim && !unit_same(type.type.dim, *sorts[t->sort].dim)))
        return refuse(k, &property->place, why,
                      "The handbook's %s.%s is of another type than the program reads for %s: write it as "
                      "%s.",
                      k->name, t->property, t->what_for, sorts[t->sort].word);
    if (t->sort == UNIT && no_unit(property))
        return refuse(k, &property->place, why,
                      "The handbook's %s.%s has the choice \"%s\", which values cannot be shown in: take it "
                      "out.",
                      k->name, t->property, no_unit(property));
    if (!*lacking(t->words, property->choices, property->n_choices, word, sizeof word))
        return BASE_OK;
    return refuse(k, &property->place, why,
                  "The handbook's %s.%s has no choice \"%s\", which the program reads for %s: write it "
                  "there.",
                  k->name, t->property, word, t->what_for);
}

/* *OUT: its number; -1: the handbook does without. */
static enum base_err find_term(const struct handbook *h, const struct term *t, int kind, int *out,
                               struct base_diag *why)
{
    const struct handbook_kind *k = kind < 0 ? NULL : handbook_kind(h, kind);
    *out = t->property && k ? handbook_find_property(k, t->property) : t->property ? -1 : kind;
    if (*out >= 0)
        return t->property ? check_property(t, k, *out, why) : check_lines(t, k, why);
    if (t->optional)
        return BASE_OK;
    if (!k)
        return lacks_kind(t, why);
    return refuse(k, &k->place, why,
                  "The handbook's kind %s lacks %s, which the program reads for %s: write it there.", k->name,
                  t->property, t->what_for);
}

static void put(void *into, const struct term *t, int number)
{
    if (t->at)
        *(int *)(void *)((char *)into + t->at - 1) = number;
}

static enum base_err find_in_outlines(const struct handbook *h, const struct term *t, struct contract *c,
                                      struct base_diag *why)
{
    enum base_err err = BASE_OK;
    for (int k = 0, n; k < handbook_kind_count(h) && !err; k++) {
        if (!handbook_kind(h, k)->outlines)
            continue;
        err = find_term(h, t, k, &n, why);
        put(&c->outlines[k], t, n);
    }
    return err;
}

static enum base_err find_factors(const struct handbook *h, struct contract *c, struct base_diag *why)
{
    for (size_t i = 0; i < COUNT_OF(factors); i++) {
        int n = handbook_find_factor(h, factors[i].name);
        *(int *)(void *)((char *)c + factors[i].at - 1) = n;
        if (n < 0)
            continue;
        const struct handbook_factor *f = handbook_factor(h, n);
        if (unit_same(f->type.type.dim, *sorts[factors[i].sort].dim))
            continue;
        base_fail(why, BASE_REFUSED,
                  "The handbook's factor %s is of another type than the program reads for %s: write it as "
                  "%s.",
                  f->name, factors[i].what_for, sorts[factors[i].sort].word);
        base_diag_place(why, f->place.file, f->place.line);
        return BASE_REFUSED;
    }
    return BASE_OK;
}

/* ---- measures ------------------------------------------------------------------------------------------ */

static enum base_err check_measures(const struct handbook_kind *k, struct base_diag *why)
{
    for (int i = 0; i < k->n_properties; i++) {
        const struct handbook_property *p = &k->properties[i];
        if (p->how == HANDBOOK_MEASURE && !measure_known(p->name))
            return refuse(k, &p->place, why, "The handbook's %s.%s is no measure that the program works out.",
                          k->name, p->name);
        if (p->first && !measure_is_first(p->name))
            return refuse(k, &p->place, why, "The handbook's %s.%s is no measure that comes first.", k->name,
                          p->name);
    }
    return BASE_OK;
}

/* ---- all of it ----------------------------------------------------------------------------------------- */

enum base_err contract_find(const struct handbook *h, struct contract *c, struct base_diag *why)
{
    enum base_err err = find_factors(h, c, why);
    c->outlines = base_alloc((size_t)(handbook_kind_count(h) + 1) * sizeof *c->outlines);
    for (size_t i = 0; i < COUNT_OF(terms) && !err; i++) {
        const struct term *t = &terms[i];
        int n;
        if (!t->kind) {
            err = find_in_outlines(h, t, c, why);
            continue;
        }
        err = find_term(h, t, handbook_find_kind(h, t->kind), &n, why);
        put(c, t, n);
    }
    for (int k = 0; k < handbook_kind_count(h) && !err; k++)
        err = check_measures(handbook_kind(h, k), why);
    return err;
}

enum base_err dieset_check_handbook(const struct handbook *h, struct base_diag *why)
{
    struct contract c = {0};
    enum base_err err = contract_find(h, &c, why);
    free(c.outlines);
    return err;
}
