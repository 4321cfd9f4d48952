/* The places of a plate: counted from a datum, numbered, lettered.
 *
 * Holes of one group on one axis (counterbore and clear hole of a screw) are one place. Places are ordered
 * by x, then y; a letter goes to each machining in the order in which it is met first.
 */

#include "report/words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- datum ------------------------------------------------------------------------- */

static const char *const corners[] = {"left front", "right front", "left back", "right back"};

/* The number of the corner that TEXT names, "right back" or "right-back"; -1: none. */
static int corner_named(const char *text)
{
    size_t n = strcspn(text, " -");
    for (size_t i = 0; i < COUNT_OF(corners); i++)
        if (strncmp(corners[i], text, n) == 0 && corners[i][n] == ' ' && text[n] &&
            strcmp(corners[i] + n + 1, text + n + 1) == 0)
            return (int)i;
    return -1;
}

static void from_corner(const struct dieset_plate *p, int which, struct report_datum *out)
{
    bool right = which % 2, back = which / 2;
    *out = (struct report_datum){.x = right ? p->right : p->left, .way_x = right ? -1 : 1,
                                 .y = back ? p->back : p->front, .way_y = back ? -1 : 1};
    snprintf(out->name, sizeof out->name, "the plate's %s corner", corners[which]);
}

static bool point_is(const struct dieset *d, const struct dieset_hole *h, const char *point)
{
    struct dieset_point at;
    if (h->point < 0 || h->point >= dieset_point_count(d, h->item))
        return false;
    dieset_point(d, h->item, h->point, &at);
    return at.name && strcmp(at.name, point) == 0;
}

/* The hole of a group, or of one point of it, in PLATE. */
static bool hole_named(struct dieset *d, int plate, enum dieset_state s, const char *text,
                       struct dieset_hole *out)
{
    size_t n = strcspn(text, ".");
    char *group = base_copy_n(text, n);
    int item = dieset_find_item(d, group), first, count = dieset_plate_holes(d, plate, &first);
    bool found = false;
    for (int i = first; i < first + count && item >= 0 && !found; i++) {
        dieset_hole(d, i, s, out);
        found = out->item == item && !out->nowhere && (!text[n] || point_is(d, out, text + n + 1));
    }
    free(group);
    return found;
}

enum base_err report_datum_named(struct dieset *d, int plate, enum dieset_state s, const char *text,
                                 struct report_datum *out, struct base_diag *why)
{
    struct dieset_plate p = dieset_plate(d, plate, s);
    struct dieset_hole h;
    int corner = text ? corner_named(text) : 0;
    if (corner >= 0) {
        from_corner(&p, corner, out);
        return BASE_OK;
    }
    *out = (struct report_datum){.x = p.middle_x, .y = p.middle_y, .way_x = 1, .way_y = 1};
    if (strcmp(text, "centre lines") == 0 || strcmp(text, "centre-lines") == 0) {
        snprintf(out->name, sizeof out->name, "the plate's centre lines");
        return BASE_OK;
    }
    if (hole_named(d, plate, s, text, &h)) {
        out->x = h.x;
        out->y = h.y;
        snprintf(out->name, sizeof out->name, "the axis of %.60s", text);
        return BASE_OK;
    }
    return base_fail(
        why, BASE_REFUSED,
        "Places of %s cannot be counted from \"%s\": it takes a corner (\"left front\", \"right front\", "
        "\"left back\", \"right back\"), \"centre lines\", or a group or point with a hole in the plate, "
        "such as a dowel's.",
        dieset_item_name(d, plate), text);
}

/* ---- places -------------------------------------------------------------------------- */

static int compare(double a, double b) { return a < b - 1e-6 ? -1 : a > b + 1e-6 ? 1 : 0; }

static int by_place(const void *a, const void *b)
{
    const struct report_place *p = a, *q = b;
    int x = compare(p->x, q->x), y = compare(p->y, q->y);
    if (x || y)
        return x ? x : y;
    if (p->hole.item != q->hole.item)
        return p->hole.item < q->hole.item ? -1 : 1;
    if (p->hole.through != q->hole.through)
        return p->hole.through ? 1 : -1; /* the head's place before the hole under it */
    return compare(q->hole.diameter, p->hole.diameter);
}

static bool one_place(const struct report_place *a, const struct report_place *b)
{
    return a->hole.item == b->hole.item && !compare(a->x, b->x) && !compare(a->y, b->y);
}

static void number(struct report_chart *c)
{
    for (int i = 0; i < c->n; i++) {
        struct report_place *p = &c->at[i];
        p->first = i == 0 || !one_place(p, &c->at[i - 1]);
        p->number = i == 0 ? 1 : c->at[i - 1].number + p->first;
    }
}

/* Rows of the place that begins with row I. */
static int rows_of(const struct report_chart *c, int i)
{
    int n = 1;
    while (i + n < c->n && !c->at[i + n].first)
        n++;
    return n;
}

/* ---- letters --------------------------------------------------------------------------- */

const char *report_letter(int letter, char *buf, size_t size)
{
    static const char names[] = "ABCDEFGHJKLMNPRSTUVWXYZ";
    enum { NAMES = sizeof names - 1 };
    if (letter < NAMES)
        snprintf(buf, size, "%c", names[letter]);
    else
        snprintf(buf, size, "%c%c", names[(letter / NAMES - 1) % NAMES], names[letter % NAMES]);
    return buf;
}

const char *report_mark(const struct report_place *p, char *buf, size_t size)
{
    char letter[8];
    snprintf(buf, size, "%s%d", report_letter(p->letter, letter, sizeof letter), p->figure);
    return buf;
}

int report_letter_places(const struct report_chart *c, int letter)
{
    int n = 0;
    for (int i = 0; i < c->n; i++)
        n += c->at[i].first && c->at[i].letter == letter;
    return n;
}

/* What is done at the place of row I: two places of the same words and the same outlines share a letter. */
static char *machining_of(const struct report_chart *c, int i)
{
    struct base_text t = {0};
    for (int k = i; k < i + rows_of(c, i); k++) {
        const struct dieset_hole *h = &c->at[k].hole;
        base_text_add(&t, k > i ? "; " : "");
        words_machining(c, h, &t);
    }
    return base_text_take(&t);
}

static void add_named(struct base_text *out, const char *before, struct base_text *names)
{
    if (names->length)
        base_text_addf(out, "%s%s", before, base_text_get(names));
    base_text_done(names);
}

/* Of the place of row I: before or after hardening, made together with what, and where it goes on. */
static void more_words(const struct report_chart *c, int i, struct base_text *out)
{
    struct base_text on = {0}, with = {0};
    const char *what = "";
    bool hard = false, soft = false;
    for (int k = i; k < i + rows_of(c, i); k++) {
        const char *when = words_hardening(c, &c->at[k].hole);
        hard = hard || strncmp(when, "after", 5) == 0;
        soft = soft || strncmp(when, "before", 6) == 0;
        if (with.length)
            continue;
        words_other_plates(c, &c->at[k].hole, true, &with);
        what = words_title(&c->at[k].hole);
    }
    words_other_plates(c, &c->at[i].hole, false, &on);
    base_text_add(out, hard && soft ? "; fit or opening after hardening, the rest before"
                       : hard       ? "; after hardening"
                       : soft       ? "; before hardening"
                                    : "");
    if (with.length)
        base_text_addf(out, "; %s", what);
    add_named(out, " together with ", &with);
    add_named(out, "; goes on in ", &on);
}

static bool same_sides(const struct dieset_hole *a, const struct dieset_hole *b)
{
    if (a->n_sides != b->n_sides || a->length > 0)
        return a->n_sides == b->n_sides;
    for (int i = 0; i < a->n_sides; i++) {
        const struct shape_side *p = &a->sides[i], *q = &b->sides[i];
        if (compare(p->x1, q->x1) || compare(p->y1, q->y1) || compare(p->radius, q->radius) ||
            p->way != q->way)
            return false;
    }
    return true;
}

/* The first row of a place before row I that is machined alike; -1: none. */
static int met_before(const struct report_chart *c, char *const *words, int i)
{
    for (int k = 0; k < i; k++)
        if (words[k] && strcmp(words[k], words[i]) == 0 && same_sides(&c->at[k].hole, &c->at[i].hole) &&
            c->at[k].figure == 1)
            return k;
    return -1;
}

static void letter_rows(struct report_chart *c)
{
    char **words = base_alloc((size_t)c->n * sizeof *words + 1);
    int *count = base_alloc((size_t)c->n * sizeof *count + 1);
    for (int i = 0; i < c->n; i += rows_of(c, i)) {
        struct base_text all = {0};
        char *made = machining_of(c, i);
        base_text_add(&all, made);
        more_words(c, i, &all); /* what goes on in other plates is not made alike */
        words[i] = base_text_take(&all);
        free(made);
        int k = met_before(c, words, i), letter = k < 0 ? c->letters++ : c->at[k].letter;
        count[letter]++;
        for (int row = i; row < i + rows_of(c, i); row++) {
            c->at[row].letter = letter;
            c->at[row].figure = count[letter];
        }
    }
    for (int i = 0; i < c->n; i++)
        free(words[i]);
    free(words);
    free(count);
}

void report_machining(const struct report_chart *c, int letter, struct base_text *out)
{
    for (int i = 0; i < c->n; i += rows_of(c, i))
        if (c->at[i].letter == letter) {
            char *words = machining_of(c, i);
            base_text_add(out, words);
            free(words);
            more_words(c, i, out);
            return;
        }
}

/* ---- the chart ---------------------------------------------------------------------------- */

void report_chart_make(struct dieset *d, int plate, enum dieset_state s, const struct report_datum *from,
                       struct report_chart *out)
{
    int first = 0;
    *out = (struct report_chart){.d = d, .plate = plate, .state = s, .from = *from,
                                 .thickness = dieset_plate(d, plate, s).thickness_now};
    out->n = dieset_plate_holes(d, plate, &first);
    out->at = base_alloc((size_t)out->n * sizeof *out->at + 1);
    for (int i = 0; i < out->n; i++) {
        struct report_place *p = &out->at[i];
        dieset_hole(d, first + i, s, &p->hole);
        p->x = (p->hole.x - from->x) * from->way_x;
        p->y = (p->hole.y - from->y) * from->way_y;
    }
    qsort(out->at, (size_t)out->n, sizeof *out->at, by_place);
    number(out);
    letter_rows(out);
}

void report_chart_done(struct report_chart *c)
{
    free(c->at);
    *c = (struct report_chart){0};
}
