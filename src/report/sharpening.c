/* The sharpening card: page by page what was ground off and shimmed, and how the set stands with it. */

#include "report/words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Columns of a page and the properties they show. */
static const struct { const char *column, *heading, *property; } figures[] = {
    {"strokes", "strokes", "strokes"},
    {"off_punches", "punches -", "off_punches"},
    {"under_punches", "+", "under_punches"},
    {"punches_left", "left", "punches_left"},
    {"off_die", "die -", "off_die"},
    {"under_die", "+", "under_die"},
    {"die_left", "left", "die_left"},
    {"shut_height", "shut", "shut_after"},
};

static void put_value(struct dieset *d, struct report_paper *p, const char *path)
{
    int q = dieset_find(d, path);
    if (q < 0) {
        report_text(p, NULL);
        report_text(p, NULL);
        return;
    }
    const struct dieset_quantity *x = dieset_quantity(d, q);
    words_value(p, d, dieset_value(d, q, DIESET_NEW), x->type.type, x->property ? x->property->decimals : -1);
}

static void page_row(struct dieset *d, int item, struct report_paper *p)
{
    const char *name = dieset_item_name(d, item);
    report_text(p, name);
    char *date = base_format("%s.date", name);
    put_value(d, p, date);
    free(date);
    for (size_t i = 0; i < COUNT_OF(figures); i++) {
        char *path = base_format("%s.%s", name, figures[i].property);
        put_value(d, p, path);
        free(path);
    }
    report_text(p, dieset_entry(d, item, "note"));
}

/* A value of the job in words, "?" when it has none. */
static const char *words(struct dieset *d, const char *path, char *buf, size_t size)
{
    int q = dieset_find(d, path);
    if (q < 0 || dieset_value(d, q, DIESET_NEW).error)
        return "?";
    return dieset_print(d, q, DIESET_NEW, buf, size);
}

static void spring_lines(struct dieset *d, struct report_paper *p)
{
    int kind = handbook_find_kind(dieset_handbook(d), "springs");
    for (int i = 0; i < dieset_item_count(d); i++) {
        if (dieset_item_kind(d, i) != kind)
            continue;
        double share = dieset_number(d, i, "now_share", DIESET_NEW), life = dieset_number(d, i, "life_share", DIESET_NEW);
        char *path = base_format("%s.now_pressed", dieset_item_name(d, i)), pressed[60];
        report_line_below(p, "%s: pressed by %s at shut, %.1f percent of their length; long life ends at %.1f percent.", dieset_item_title(d, i),
                          words(d, path, pressed, sizeof pressed), share * 100, life * 100);
        free(path);
    }
}

static void now_lines(struct dieset *d, struct report_paper *p)
{
    char a[60], b[60], c[60], e[60];
#define WORDS(path, buf) words(d, path, buf, sizeof buf)
    report_line_below(p, "Now: shut height %s, %s on the bolster; the press takes %s to %s.", WORDS("stack.now_shut", a),
                      WORDS("stack.now_height", b), WORDS("press.least", c), WORDS("press.most", e));
    report_line_below(p, "Off the punches %s in all, %s left; off the die plate %s, %s left.", WORDS("stack.off_punches", a),
                      WORDS("stack.punches_left", b), WORDS("stack.off_die", c), WORDS("stack.die_left", e));
    report_line_below(p, "Longest punch %s, land %s, between the shoes %s at shut.", WORDS("stack.now_punch", a), WORDS("stack.now_land", b),
                      WORDS("stack.now_open", c));
    report_line_below(p, "Strokes counted %s, %s to a grind.", WORDS("stack.strokes", a), WORDS("stack.strokes_per_grind", b));
#undef WORDS
    spring_lines(d, p);
}

static void begin(struct dieset *d, struct report_paper *p)
{
    enum { FIRST = 3, EACH = 2 };
    struct report_column columns[FIRST + EACH * COUNT_OF(figures) + 1] = {
        {"page", "page", false}, {"date", NULL, false}, {NULL, "date", false},
    };
    for (size_t i = 0; i < COUNT_OF(figures); i++) {
        columns[FIRST + EACH * i] = (struct report_column){figures[i].column, NULL, true};
        columns[FIRST + EACH * i + 1] = (struct report_column){NULL, figures[i].heading, true};
    }
    columns[COUNT_OF(columns) - 1] = (struct report_column){"note", "", false};
    report_begin(p, columns, COUNT_OF(columns));
    report_fold(p, COUNT_OF(columns) - 1);
    int stack = dieset_item_of_kind(d, "stack"), die = stack < 0 ? -1 : dieset_reference(d, stack, "die_plate");
    char *regrind = base_format("%s.regrind", die < 0 ? "" : dieset_item_name(d, die)), a[60], b[60], c[60];
    report_line_above(p, "New: shut height %s; %s may be ground off the punches, %s off the die plate.",
                      words(d, "stack.shut_height", a, sizeof a), words(d, "stack.punch_regrind", b, sizeof b), words(d, regrind, c, sizeof c));
    report_line_above(p, "- is what was ground off, + are shims; left is what of it may still be ground off.");
    free(regrind);
}

void report_sharpening(struct dieset *d, struct report_paper *p)
{
    int kind = handbook_find_kind(dieset_handbook(d), "sharpening"), pages = 0;
    begin(d, p);
    for (int i = 0; i < dieset_item_count(d); i++)
        if (kind >= 0 && dieset_item_kind(d, i) == kind) {
            page_row(d, i, p);
            pages++;
        }
    if (pages)
        now_lines(d, p);
    else
        report_line_below(p, "The book has no page yet: the set stands as new.");
    words_cautions(p, d);
}
