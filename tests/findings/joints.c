/* The same set typed in one group or in several is the same set: findings, figures, papers and holes agree.
 *
 * Each group that joins plates is laid out point by point, whole and shared out at random over up to three
 * groups. What is told of the one set and of the other is compared as sorted lines, in which a group's name
 * is that of the group it was parted from.
 */

#include "bench.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { GROUPS = 3, MOST_POINTS = 40 };

struct parting {
    struct bench *b;
    BASE_VEC(struct typed_change) at;
    struct base_arena memory;
};

static void change(struct parting *p, enum typed_what what, const char *item, const char *path,
                   const char *after)
{
    struct base_arena *m = &p->memory;
    struct typed_change c = {what, base_arena_copy(m, item), base_arena_copy(m, path), NULL,
                             after ? base_arena_copy(m, after) : NULL};
    base_vec_push(&p->at, c);
}

static void type_length(struct parting *p, const char *item, int point, const char *what, double v,
                        const char *unit)
{
    char path[40], text[60];
    snprintf(path, sizeof path, "lay/p%d/%s", point + 1, what);
    snprintf(text, sizeof text, "%.17g %s", v, unit);
    change(p, TYPED_ENTRY, item, path, text);
}

/* Points of ITEM, as they stand, that SHARES gives to group G, as points of the item NAME. */
static void lay_loose(struct parting *p, int item, const char *name, const char *plate, const int *shares,
                      int g)
{
    char text[120];
    int n = 0;
    for (int i = 0; i < dieset_point_count(p->b->d, item); i++) {
        struct dieset_point at;
        if (shares[i] != g)
            continue;
        dieset_point(p->b->d, item, i, &at);
        type_length(p, name, n, "x", at.x, "mm");
        type_length(p, name, n, "y", at.y, "mm");
        type_length(p, name, n++, "turn", at.turn, "rad");
    }
    snprintf(text, sizeof text, "loose on %s", plate);
    change(p, TYPED_ENTRY, name, "lay", text);
    snprintf(text, sizeof text, "%d", n);
    change(p, TYPED_ENTRY, name, "lay/many", text);
}

/* A second item like ITEM, all but where it stands; OF stands for the posts that bushings belong to. */
static void add_like(struct parting *p, int item, const char *name, const char *of)
{
    const struct typed_entry *e;
    int n = dieset_entries(p->b->d, item, &e);
    change(p, TYPED_ITEM, name, "", handbook_kind(p->b->h, dieset_item_kind(p->b->d, item))->name);
    for (int i = 0; i < n; i++)
        if (strncmp(e[i].path, "lay", 3) != 0)
            change(p, TYPED_ENTRY, name, e[i].path, of && strcmp(e[i].path, "of") == 0 ? of : e[i].text);
}

static int bushings_of(const struct bench *b, int posts)
{
    for (int i = 0; i < dieset_item_count(b->d); i++)
        if (dieset_points_owner(b->d, i) == posts && i != posts)
            return i;
    return -1;
}

static void part(struct parting *p, int item, const int *shares)
{
    const struct typed_entry *e;
    const char *name = dieset_item_name(p->b->d, item), *plate = NULL;
    int n = dieset_entries(p->b->d, item, &e), with = bushings_of(p->b, item);
    for (int i = 0; i < n; i++) {
        if (strcmp(e[i].path, "lay") == 0)
            plate = strstr(e[i].text, " on ") + 4;
        if (strncmp(e[i].path, "lay/", 4) == 0)
            change(p, TYPED_ENTRY, name, e[i].path, NULL);
    }
    for (int g = 0; g < GROUPS; g++) {
        char group[80], other[80], lay[120];
        bool any = g == 0;
        for (int i = 0; i < dieset_point_count(p->b->d, item); i++)
            any = any || shares[i] == g;
        snprintf(group, sizeof group, "%s%.*s", name, g, "zz");
        if (!any)
            continue;
        if (g > 0)
            add_like(p, item, group, NULL);
        lay_loose(p, item, group, plate, shares, g);
        if (g == 0 || with < 0)
            continue;
        snprintf(other, sizeof other, "%s%.*s", dieset_item_name(p->b->d, with), g, "zz");
        snprintf(lay, sizeof lay, "with %s", group);
        add_like(p, with, other, group);
        change(p, TYPED_ENTRY, other, "lay", lay);
    }
}

static bool joins(const struct bench *b, int item)
{
    static const char *const kinds[] = {"posts", "screws", "dowels", "springs", "shoulder_screws"};
    int kind = dieset_item_kind(b->d, item);
    for (size_t k = 0; k < COUNT_OF(kinds); k++)
        if (kind == handbook_find_kind(b->h, kinds[k]))
            return dieset_points_owner(b->d, item) == item && dieset_point_count(b->d, item) > 0;
    return false;
}

/* Parts all groups, each over up to MOST of them; 1: only lays them out point by point. The first point stays
   in the group that has the name. */
static void part_all(struct bench *b, int most)
{
    struct parting p = {.b = b};
    for (int i = 0; i < dieset_item_count(b->d); i++) {
        int shares[MOST_POINTS] = {0};
        if (!joins(b, i))
            continue;
        ck_assert_int_le(dieset_point_count(b->d, i), MOST_POINTS);
        for (int k = 1; k < dieset_point_count(b->d, i); k++)
            shares[k] = rand() % most;
        part(&p, i, shares);
    }
    ck_ok(dieset_try(b->d, p.at.at, (int)p.at.count, why));
    base_vec_done(&p.at);
    base_arena_done(&p.memory);
}

/* ---- what is told, as lines ---------------------------------------------------------------------------- */

struct lines {
    BASE_VEC(char *) at;
};

static void say(struct lines *l, const char *fmt, ...) PRINTF_LIKE(2, 3);
static void say(struct lines *l, const char *fmt, ...)
{
    char line[2000], *to = line;
    va_list args;
    va_start(args, fmt);
    vsnprintf(line, sizeof line, fmt, args);
    va_end(args);
    for (const char *from = line; *from; from++) /* names of groups that were parted off, and a zero's sign */
        if (strncmp(from, "z", 1) != 0 && !(from[0] == '-' && from[1] == '0' && from[2] == ' '))
            *to++ = *from;
    *to = '\0';
    base_vec_push(&l->at, base_copy(line));
}

static int by_text(const void *a, const void *b) { return strcmp(*(char *const *)a, *(char *const *)b); }

/* Sorted, each once where ONCE. Yours to free(). */
static char *told(struct lines *l, bool once)
{
    struct base_text out = {0};
    qsort(l->at.at, l->at.count, sizeof *l->at.at, by_text);
    for (size_t i = 0; i < l->at.count; i++)
        if (!once || i == 0 || strcmp(l->at.at[i], l->at.at[i - 1]) != 0)
            base_text_addf(&out, "%s\n", l->at.at[i]);
    for (size_t i = 0; i < l->at.count; i++)
        free(l->at.at[i]);
    base_vec_done(&l->at);
    return base_text_take(&out);
}

/* Is it of holes, of which the first of those that are as bad is told of, or of pairs of them? */
static bool is_pair(const struct bench *b, const char *rule)
{
    for (int i = 0; i < handbook_rule_count(b->h); i++)
        if (strcmp(handbook_rule(b->h, i)->name, rule) == 0)
            return handbook_rule(b->h, i)->over == HANDBOOK_EACH_PAIR ||
                   handbook_rule(b->h, i)->over == HANDBOOK_EACH_HOLE;
    return false;
}

/* Not compared: which formula was typed over, which tables are read, and by how much a guess decides. */
static char *findings_told(struct bench *b)
{
    static const char *const of_typing[] = {"unreasoned", "weak-source", "guess-decides"};
    const struct finding *list;
    struct lines l = {0};
    int n = findings_judge(b->f, &list);
    for (int i = 0; i < n; i++) {
        bool skip = false;
        for (size_t k = 0; k < COUNT_OF(of_typing); k++)
            skip = skip || strcmp(list[i].rule, of_typing[k]) == 0;
        if (is_pair(b, list[i].rule)) /* which of the two is named first, and which pair is the narrowest */
            say(&l, "%s %s", handbook_grade_text(list[i].grade), list[i].rule);
        else if (!skip)
            say(&l, "%s %s %d %.5f %.5f %s", handbook_grade_text(list[i].grade), list[i].key,
                (int)list[i].states, isnan(list[i].value) ? 0 : list[i].value + 1e-7,
                isnan(list[i].limit) ? 0 : list[i].limit + 1e-7, list[i].message);
    }
    return told(&l, true);
}

static char *figures_told(struct bench *b)
{
    struct lines l = {0};
    struct dieset_orders orders;
    for (int q = 0; q < dieset_quantity_count(b->d); q++) {
        const struct dieset_quantity *v = dieset_quantity(b->d, q);
        int k = v->item < 0 ? -1 : dieset_item_kind(b->d, v->item);
        const char *kind = k < 0 ? "" : handbook_kind(b->h, k)->name;
        bool of_set = strcmp(kind, "stack") == 0 || strcmp(kind, "press") == 0 || strcmp(kind, "plate") == 0;
        for (int s = 0; s < DIESET_STATES && of_set; s++) {
            struct formula_value f = dieset_value(b->d, q, (enum dieset_state)s);
            if (!f.error && v->type.type.sort == FORMULA_NUMBER)
                say(&l, "%s %d %.6f ", v->path, s, f.number + 1e-9);
        }
    }
    for (int i = 0; i < dieset_hole_count(b->d); i++) {
        struct dieset_hole h;
        dieset_hole(b->d, i, DIESET_NEW, &h);
        say(&l, "hole %s %s %.6f %.6f %.6f", dieset_item_name(b->d, h.plate), h.operation, h.x + 1e-9,
            h.y + 1e-9, h.diameter);
    }
    dieset_orders(b->d, &orders);
    for (int i = 0; i < orders.count; i++)
        say(&l, "order %s %s %s %g %g", orders.at[i].designation, orders.at[i].size, orders.at[i].material,
            orders.at[i].pieces, orders.at[i].mass);
    dieset_orders_free(&orders);
    return told(&l, false);
}

static const char *const bases[] = {"data/templates/spring-stripper.txt", "data/templates/fixed-stripper.txt",
                                    "data/demo/cover-plate.txt", "tests/findings/base.txt"};
/* Mistakes whose findings have to be the same. */
static const char *const mistakes[][6] = {
    {"", "posts.left_back.y = ", "strip.thickness = 3.5 mm", "stripper_bolts.length = 80 mm",
     "punch_screws.size = \"M6\"; stripper_springs.load = \"light\"", "die_dowels.lay.right_across = 35 mm"},
    {"", "posts.right_front.x = ", "strip.thickness = 4 mm", "stripper_screws.size = \"M6\"",
     "die_dowels.right_back.y = ", "punch_dowels.lay.end = 100 mm"},
    {"", "posts.left_front.y = ", "strip.thickness = 3 mm", "stripper_springs.lay.end = 80 mm",
     "die_dowels.lay.right_across = 11 mm", "stripper_bolts.lay.end = 20 mm"},
    {"", "posts.right_back.x = ", "strip.thickness = 3 mm", "springs.lay.side = 50 mm",
     "die_screws.length = 40 mm", "bolts.lay.side = 30 mm"},
};

static void agree(const char *what, const char *edit, char *whole, char *parted)
{
    const char *a = whole, *b = parted;
    while (*a && *a == *b)
        a++, b++;
    while (a > whole && a[-1] != '\n')
        a--, b--;
    ck_assert_msg(!*a && !*b, "%s differ after '%s':\n%.*s\n%.*s", what, edit, (int)strcspn(a, "\n"), a,
                  (int)strcspn(b, "\n"), b);
    free(whole);
    free(parted);
}

START_TEST(groups_shared_out_at_random_are_the_same_set)
{
    struct bench b = {0};
    srand(7u + (unsigned)_i);
    bench_open_shipped(&b, bases[_i]);
    for (size_t m = 0; m < COUNT_OF(mistakes[_i]); m++) {
        bench_try(&b, mistakes[_i][m]);
        if (*mistakes[_i][m])
            dieset_keep(b.d);
        part_all(&b, 1);
        char *findings = findings_told(&b), *figures = figures_told(&b);
        bench_drop(&b);
        for (int round = 0; round < 2; round++) {
            part_all(&b, 2 + round);
            agree("findings", mistakes[_i][m], base_copy(findings), findings_told(&b));
            agree("figures", mistakes[_i][m], base_copy(figures), figures_told(&b));
            bench_drop(&b);
        }
        free(findings);
        free(figures);
        bench_close(&b);
        bench_open_shipped(&b, bases[_i]);
    }
    bench_close(&b);
}
END_TEST

TCase *joint_tests(void)
{
    TCase *c = tcase_create("joints");
    tcase_set_timeout(c, 60);
    tcase_add_loop_test(c, groups_shared_out_at_random_are_the_same_set, 0, (int)COUNT_OF(bases));
    return c;
}
