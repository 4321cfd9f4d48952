/* place: a group, or one point of it, measured from an edge, freed, turned, laid out in a pattern, or added;
   alone: where it stands. */

#include "cli/cli.h"

#include "diewright/place.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- where it stands ---- */

static void put_length(const struct place *p, double mm, struct report_paper *paper)
{
    struct unit_system s = dieset_system(p->d);
    double number = mm / unit_display(UNIT_LENGTH, s).factor;
    report_number(paper, number, isnan(mm) ? 0 : unit_places(number, UNIT_LENGTH, s, -1, NAN));
}

/* Every point of the group, from the plan's zero. */
static int print_points(struct cli_call *c, struct place *p)
{
    static const struct report_column columns[] = {
        {"point", "point", false}, {"x", "along", true},     {"y", "across", true},
        {"turn", "turn", true},    {"freed", "freed", false}, {"unit", "unit", false},
    };
    struct report_paper paper;
    struct unit_display u = unit_display(UNIT_LENGTH, dieset_system(p->d)),
                        degree = unit_display(UNIT_ANGLE, dieset_system(p->d));
    int item = place_item(p), n = dieset_point_count(p->d, item), plate = place_plate(p);
    report_begin(&paper, columns, COUNT_OF(columns));
    for (int i = 0; i < n; i++) {
        struct dieset_point at;
        dieset_point(p->d, item, i, &at);
        report_text(&paper, at.name);
        put_length(p, at.broken ? NAN : at.x, &paper);
        put_length(p, at.broken ? NAN : at.y, &paper);
        report_number(&paper, at.broken ? NAN : at.turn / degree.factor, degree.decimals);
        report_text(&paper, at.freed ? "yes" : "no");
        report_text(&paper, u.name);
    }
    const struct handbook_pattern *has = place_has(p);
    if (has && plate >= 0)
        report_line_first(&paper, "%s: %s on %s", dieset_item_title(p->d, item), has->title,
                          dieset_item_title(p->d, plate));
    cli_print(&paper, c->format);
    return CLI_DONE;
}

static void put_measured(const struct place *p, int axis, enum place_from from, struct report_paper *paper)
{
    char words[120];
    struct unit_display u = unit_display(UNIT_LENGTH, dieset_system(p->d));
    const struct place_way *w = &p->ways[axis];
    bool own = from == PLACE_FROM_OWN;
    if (own && !w->moves)
        return;
    place_from_words(p, axis, from, words, sizeof words);
    report_text(paper, place_from_name(axis, from));
    report_text(paper, words);
    put_length(p, place_measured(p, axis, from), paper);
    report_text(paper, u.name);
    report_text(paper, place_may(p, axis, from) ? "yes" : "no");
}

/* One point, from every edge, and the walls about it. */
static int print_place(struct cli_call *c, struct place *p)
{
    static const struct report_column columns[] = {
        {"name", "name", false}, {"from", "from", false},   {"measured", "measured", true},
        {"unit", "unit", false}, {"typed", "may be typed", false},
    };
    struct report_paper paper;
    struct place_near near;
    struct dieset_point at = {0};
    report_begin(&paper, columns, COUNT_OF(columns));
    for (int axis = PLACE_ALONG; axis < PLACE_AXES; axis++)
        for (int from = PLACE_FROM_OWN; from < PLACE_FROMS; from++)
            put_measured(p, axis, (enum place_from)from, &paper);
    place_near(p, place_plate(p), DIESET_NEW, (const double[PLACE_AXES]){0}, &near);
    for (int i = 0; i < near.n_walls; i++) {
        char wall[60];
        unit_print(near.walls[i].wall, UNIT_LENGTH, dieset_system(p->d), wall, sizeof wall);
        report_line_below(&paper, "wall to %s: %s", dieset_item_title(p->d, near.walls[i].item), wall);
    }
    place_point(p, &at, NULL);
    report_line_first(&paper, "%s, %s: %s", dieset_item_title(p->d, place_item(p)), p->point,
                      at.freed   ? "freed, its place is its own"
                      : p->alone ? "with its group; no measure of the pattern moves it, so it is moved alone"
                                 : "with its group");
    cli_print(&paper, c->format);
    return CLI_DONE;
}

/* ---- a group that is added ---- */

static int no_kind(struct cli_call *c, const struct handbook *h)
{
    struct base_text kinds = {0};
    for (int i = 0; i < handbook_kind_count(h); i++)
        if (handbook_kind(h, i)->lays && !handbook_kind(h, i)->single)
            base_text_addf(&kinds, "%s%s", kinds.length ? ", " : "", handbook_kind(h, i)->name);
    int status = cli_usage(c, "No kind \"%s\" is laid out at points. These are: %s.", c->add,
                           base_text_get(&kinds));
    base_text_done(&kinds);
    return status;
}

/* What the kind asks for and no word names: as the groups beside it have it. */
static void put_likely(struct place *p, const struct handbook_kind *k, int plate)
{
    for (int i = 0; i < k->n_properties; i++) {
        const struct handbook_property *q = &k->properties[i];
        int item = place_asks_item(q) && !place_typed(p, q->name)
                       ? place_likely_item(p, q, plate, DIESET_NEW)
                       : -1;
        if (item >= 0 && dieset_item_kind(p->d, item) == q->type.type.kind)
            place_put(p, q->name, dieset_item_name(p->d, item));
    }
}

static bool is_property(const struct handbook_kind *k, const char *name)
{
    for (int i = 0; k && i < k->n_properties; i++)
        if (strcmp(k->properties[i].name, name) == 0)
            return true;
    return false;
}

/* ---- words and options ---- */

struct change { const char *name, *text; };
struct asked {
    char group[80], point[48];
    const struct handbook_kind *kind; /* of a group that is added, NULL: it stands */
    BASE_VEC(struct change) changes;
};

static int read_words(struct cli_call *c, struct asked *a)
{
    const char *dot = strchr(c->words[1], '.');
    snprintf(a->group, sizeof a->group, "%.*s", (int)strcspn(c->words[1], "."), c->words[1]);
    snprintf(a->point, sizeof a->point, "%s", dot ? dot + 1 : "");
    for (int i = 2; i < c->n_words; i++) {
        struct change ch;
        if (!cli_part_change(c->words[i], &ch.name, &ch.text))
            return cli_usage(c, "\"%s\" is no place: write NAME=LENGTH, such as left=45mm.", c->words[i]);
        for (size_t k = 0; k < a->changes.count; k++)
            if (strcmp(a->changes.at[k].name, ch.name) == 0)
                return cli_usage(c, "\"%s\" is given twice: once is enough.", ch.name);
        base_vec_push(&a->changes, ch);
    }
    return CLI_DONE;
}

/* The group as it stands, or the beginning of one that is added. */
static int begin(struct cli_call *c, struct job *j, struct asked *a, struct place *p)
{
    struct dieset *d = job_dieset(j);
    const struct handbook *h = dieset_handbook(d);
    int item = dieset_find_item(d, a->group);
    place_init(p, j, a->group);
    if (c->add) {
        int kind = handbook_find_kind(h, c->add);
        a->kind = kind < 0 ? NULL : handbook_kind(h, kind);
        if (!a->kind || !a->kind->lays || a->kind->single)
            return no_kind(c, h);
        snprintf(p->kind, sizeof p->kind, "%s", c->add);
        return CLI_DONE;
    }
    int owner = item < 0 ? -1 : place_owner(d, item);
    int kind = owner < 0 ? -1 : dieset_item_kind(d, owner);
    if (kind < 0 || !handbook_kind(h, kind)->lays) {
        struct base_text near = {0};
        dieset_nearest(d, a->group, &near);
        int status = item < 0 ? cli_usage(c, "The job has no group \"%s\"%s%s.", a->group,
                                          near.length ? "; near it: " : "", base_text_get(&near))
                              : cli_usage(c, "%s stands at no points: it is not laid out.", a->group);
        base_text_done(&near);
        return status;
    }
    if (owner != item)
        cli_say(stderr, "%s stands with %s: both move.\n", a->group, dieset_item_name(d, owner));
    place_init(p, j, dieset_item_name(d, owner));
    return CLI_DONE;
}

/* Another pattern, or that of a new group: on the plate named, else the one that it is on. */
static int lay_out(struct cli_call *c, struct job *j, struct asked *a, struct place *p)
{
    int plate = c->on ? cli_plate(j, c->on) : place_plate(p);
    const char *pattern = c->pattern ? c->pattern : a->kind ? place_first_pattern(p) : NULL;
    if (!pattern && !c->on)
        return CLI_DONE;
    if (c->on && plate < 0)
        return CLI_REFUSED; /* which plates there are is told */
    if (plate < 0)
        return cli_usage(c, "On which plate? Name it: --on PLATE.");
    char name[100], has[100], on[80];
    record_word(pattern ? pattern : place_has(p) ? place_has(p)->name : "", name, sizeof name);
    snprintf(has, sizeof has, "%s", name);
    snprintf(on, sizeof on, "%s", dieset_item_name(p->d, plate));
    for (size_t i = 0; a->kind && i < a->changes.count; i++)
        if (is_property(a->kind, a->changes.at[i].name))
            place_put(p, a->changes.at[i].name, a->changes.at[i].text);
    if (a->kind)
        put_likely(p, a->kind, plate);
    if (handbook_find_pattern(dieset_handbook(p->d), has) < 0) {
        const struct handbook *h = dieset_handbook(p->d);
        struct base_text all = {0};
        for (int i = 0; i < handbook_pattern_count(h); i++)
            base_text_addf(&all, "%s%s", i ? ", " : "", handbook_pattern(h, i)->name);
        int status = cli_usage(c, "There is no pattern \"%s\": it is %s.", has, base_text_get(&all));
        base_text_done(&all);
        return status;
    }
    return place_pattern(p, has, on) ? CLI_DONE : cli_complain(&p->why);
}

static int unknown_name(struct cli_call *c, const struct place *p, const char *name)
{
    struct base_text all = {0};
    const struct handbook_pattern *has = place_has(p);
    for (int k = 0; has && k < has->n_takes; k++)
        base_text_addf(&all, ", %s", has->takes[k].name);
    int status = cli_usage(c,
                           "\"%s\" is no measure of %s. From an edge: left, right, front, back, middle_x, "
                           "middle_y; from the plan's zero: x, y; as the pattern has it: along, across%s.",
                           name, p->item, base_text_get(&all));
    base_text_done(&all);
    return status;
}

static bool is_take(const struct place *p, const char *name)
{
    const struct handbook_pattern *has = place_has(p);
    for (int k = 0; has && k < has->n_takes; k++)
        if (strcmp(has->takes[k].name, name) == 0)
            return true;
    return false;
}

static int measure(struct cli_call *c, const struct asked *a, struct place *p)
{
    struct base_diag why = {0};
    const char *said[PLACE_AXES] = {NULL};
    for (size_t i = 0; i < a->changes.count; i++) {
        const struct change *ch = &a->changes.at[i];
        int axis;
        enum place_from from;
        if (is_property(a->kind, ch->name))
            continue; /* told with the pattern */
        if (is_take(p, ch->name)) {
            place_take(p, ch->name, ch->text);
            continue;
        }
        if (!place_from_named(ch->name, &axis, &from))
            return unknown_name(c, p, ch->name);
        if (said[axis])
            return cli_usage(c, "%s and %s say the same of one place: one of them is enough.", said[axis],
                             ch->name);
        said[axis] = ch->name;
        if (place_measure(p, axis, from, ch->text, &why))
            return cli_complain(&why);
    }
    return CLI_DONE;
}

/* The first point that is not freed stands for the group; "": all are. */
static void first_with_group(const struct place *p, char *buf, size_t size)
{
    int item = place_item(p), n = item < 0 ? 0 : dieset_point_count(p->d, item);
    buf[0] = '\0';
    for (int i = 0; i < n && !*buf; i++) {
        struct dieset_point at;
        dieset_point(p->d, item, i, &at);
        if (!at.freed)
            snprintf(buf, size, "%s", at.name);
    }
}

/* A named point is held; alone where it is to be freed. */
static int grab(struct cli_call *c, const struct asked *a, struct place *p)
{
    struct dieset_point at;
    struct base_text names = {0};
    char first[48];
    p->alone = c->free;
    first_with_group(p, first, sizeof first);
    place_grab(p, *a->point ? a->point : first);
    if (place_point(p, &at, NULL) && (!*a->point || strcmp(a->point, p->point) == 0))
        return CLI_DONE;
    int item = place_item(p), n = item < 0 ? 0 : dieset_point_count(p->d, item);
    for (int i = 0; i < n; i++) {
        dieset_point(p->d, item, i, &at);
        base_text_addf(&names, "%s%s", i ? ", " : "", at.name);
    }
    int status = cli_usage(c, "%s has no point \"%s\". Its points: %s.", p->item, a->point,
                           names.length ? base_text_get(&names) : "none yet");
    base_text_done(&names);
    return status;
}

static bool changes(const struct cli_call *c, const struct asked *a)
{
    return a->changes.count || c->add || c->pattern || c->on || c->free || c->group || c->turn;
}

static int tried(struct cli_call *c, struct job *j, struct place *p)
{
    if (c->reason)
        place_give_reason(p, c->reason);
    if (!place_try(p))
        return cli_complain(&p->why);
    if (!job_trying(j)) {
        cli_say(stdout, "It stands so already: nothing is taken.\n");
        return CLI_DONE;
    }
    if (!c->try)
        return cli_take(c, j);
    cli_tell_outcome(c, j);
    job_drop(j);
    return CLI_DONE;
}

static int change(struct cli_call *c, struct job *j, struct asked *a, struct place *p)
{
    int status = lay_out(c, j, a, p);
    if (status == CLI_DONE)
        status = grab(c, a, p);
    if (status == CLI_DONE && c->group)
        place_give_back(p);
    if (status == CLI_DONE && c->turn) {
        if (!place_turns(p, DIESET_NEW))
            return cli_usage(c, "Nothing of %s lies beside its axes: a turn would change nothing.", p->item);
        p->alone = p->alone && *a->point; /* else the whole group turns, whatever its pattern holds */
        place_turn(p, 90);
        place_grab(p, p->point);
    }
    if (status == CLI_DONE)
        status = measure(c, a, p);
    return status == CLI_DONE ? tried(c, j, p) : status;
}

static int place(struct cli_call *c, struct job *j)
{
    struct asked a = {0};
    struct place p = {0};
    int status = read_words(c, &a);
    if (status == CLI_DONE)
        status = begin(c, j, &a, &p);
    if (status == CLI_DONE && changes(c, &a))
        status = change(c, j, &a, &p);
    else if (status == CLI_DONE && !*a.point)
        status = print_points(c, &p);
    else if (status == CLI_DONE)
        status = (status = grab(c, &a, &p)) ? status : print_place(c, &p);
    if (job_trying(j))
        job_drop(j);
    if (p.job)
        place_done(&p);
    base_vec_done(&a.changes);
    return status;
}

int cli_place(struct cli_call *c)
{
    bool looks = c->n_words == 2 && !c->add && !c->pattern && !c->on && !c->free && !c->group && !c->turn;
    if (c->group && c->free)
        return cli_usage(c, "--free lets a point stand alone and --group gives it back: one of them.");
    if ((c->group || c->free) && !strchr(c->words[1], '.'))
        return cli_usage(c, "Which point? Name it behind the group: GROUP.POINT.");
    return cli_with_job(c, looks, place);
}
