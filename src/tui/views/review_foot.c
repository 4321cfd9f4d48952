/* tui/views/review_foot.c - at the foot of the review: how the rules hold that are looked at first, press and
   load */

#include "tui/views/review_lines.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { RULES = 6 };

/* What stands at the end of a limited value: at least LOW, at most HIGH; NaN: none. */
static void limits_of(struct tui *t, int q, double *low, double *high)
{
    enum { ROOM = 12 };
    struct findings_limit limits[ROOM];
    int n = findings_limits(job_findings(t->job), q, DIESET_NEW, limits, ROOM);
    *low = *high = NAN;
    for (int i = 0; i < n; i++) {
        enum formula_relation relation = limits[i].rule->rungs[limits[i].rung].relation;
        if (relation == FORMULA_AT_LEAST || relation == FORMULA_MORE)
            *low = isnan(*low) ? limits[i].limit : fmax(*low, limits[i].limit);
        else if (relation == FORMULA_AT_MOST || relation == FORMULA_LESS)
            *high = isnan(*high) ? limits[i].limit : fmin(*high, limits[i].limit);
    }
}

/* "|240.0 ---n----g---- 290.0|": where the value stands between its limits, new and ground. */
static void bar(struct tui *t, int q, int width, struct base_text *out)
{
    char low_text[40], high_text[40];
    double low, high;
    struct unit_dim dim = dieset_quantity(t->d, q)->type.type.dim;
    limits_of(t, q, &low, &high);
    if (isnan(low) || isnan(high) || high <= low || width < 16)
        return;
    unit_print_number(low, dim, dieset_system(t->d), low_text, sizeof low_text);
    unit_print_number(high, dim, dieset_system(t->d), high_text, sizeof high_text);
    int room = width - (int)strlen(low_text) - (int)strlen(high_text) - 4;
    char *cells = base_alloc((size_t)(room > 0 ? room : 0) + 1);
    memset(cells, '=', (size_t)(room > 0 ? room : 0));
    for (int s = DIESET_STATES - 1; s >= 0 && room > 0; s--) {
        struct formula_value v = dieset_value(t->d, q, (enum dieset_state)s);
        double part = (v.number - low) / (high - low);
        if (!v.error && part >= 0 && part <= 1)
            cells[(int)fmin(part * room, room - 1)] = s == DIESET_NEW ? 'N' : 'G';
    }
    base_text_addf(out, "  |%s %s %s|", low_text, cells, high_text);
    free(cells);
}

/* One blank between words, for a line that has no room for more. */
static void squeeze(struct base_text *line)
{
    struct base_text out = {0};
    for (const char *p = base_text_get(line); *p; p++)
        if (*p != ' ' || p[1] != ' ')
            base_text_addf(&out, "%c", *p);
    base_text_clear(line);
    base_text_add(line, base_text_get(&out));
    base_text_done(&out);
}

static void draw_rule(struct tui *t, struct area a, int y, const struct handbook_rule *rule)
{
    enum { WIDEST = 60 };
    struct base_text line = {0};
    bool fails = false;
    base_text_addf(&line, "%-7s", rule->title);
    bool any = review_stands(job_findings(t->job), rule, &fails, &line);
    int q = rule->value ? dieset_find(t->d, formula_text(rule->value)) : -1,
        room = a.w - (int)line.length - 4;
    if (any && q >= 0)
        bar(t, q, room < WIDEST ? room : WIDEST, &line);
    if (!any)
        base_text_add(&line, " does not apply, or cannot be judged");
    if (paint_width(base_text_get(&line)) > a.w - 2)
        squeeze(&line);
    paint_text(&t->p, a, y, 1, fails ? INK_TROUBLE : INK_PLAIN, base_text_get(&line));
    base_text_done(&line);
}

static int first_rules(const struct handbook *h, const struct handbook_rule **out, int room)
{
    int n = 0;
    for (int i = 0; i < handbook_rule_count(h) && n < room; i++)
        if (handbook_rule(h, i)->first)
            out[n++] = handbook_rule(h, i);
    return n;
}

int review_foot_rows(const struct tui *t)
{
    const struct handbook_rule *rules[RULES];
    return first_rules(dieset_handbook(t->d), rules, RULES);
}

void review_foot_draw(struct tui *t, struct area a, int y)
{
    const struct handbook_rule *rules[RULES];
    int n = first_rules(dieset_handbook(t->d), rules, RULES);
    for (int i = 0; i < n; i++)
        draw_rule(t, a, y + i, rules[i]);
}
