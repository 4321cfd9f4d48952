/* outcome.c - findings that only one side has, order lines that differ */

#include "compare/compare.h"

#include <stdlib.h>
#include <string.h>

/* ---- findings ----------------------------------------------------------------------- */

static const struct finding *find_key(const struct finding *list, int n, const char *key)
{
    for (int i = 0; i < n; i++)
        if (strcmp(list[i].key, key) == 0)
            return &list[i];
    return NULL;
}

static char *finding_text(const struct finding *f)
{
    return base_format("%s%s: %s", f->waiver ? "waived " : "", handbook_grade_text(f->grade), f->message);
}

/* A finding that both have is told when its grade differs, or one side waives it: what it measures stands
   among the values. */
void comparing_findings(struct comparing *c)
{
    const struct finding *list[COMPARE_SIDES];
    int n[COMPARE_SIDES];
    for (enum compare_side s = COMPARE_FIRST; s < COMPARE_SIDES; s++)
        n[s] = findings_list(c->f[s], &list[s]);
    for (enum compare_side s = COMPARE_FIRST; s < COMPARE_SIDES; s++)
        for (int i = 0; i < n[s]; i++) {
            enum compare_side o = s == COMPARE_FIRST ? COMPARE_SECOND : COMPARE_FIRST;
            const struct finding *mine = &list[s][i], *there = find_key(list[o], n[o], mine->key);
            if (there &&
                (s == COMPARE_SECOND || (there->grade == mine->grade && !there->waiver == !mine->waiver)))
                continue;
            char *text = finding_text(mine), *its = there ? finding_text(there) : NULL;
            if (its)
                comparing_add(c, COMPARE_FINDING, mine->key, text, its);
            else
                comparing_add_only(c, COMPARE_FINDING, mine->key, s, text);
            free(text);
            free(its);
        }
}

/* ---- order lines ------------------------------------------------------------------------- */

/* "posts: Guide post, plain"; a second line of the same name is another part. */
static char *order_name(const struct dieset *d, const struct dieset_order *o)
{
    return base_format("%s: %s", o->item < 0 ? "" : dieset_item_name(d, o->item), o->designation);
}

static char *order_text(const struct dieset_order *o)
{
    return base_format("%g x %s%s%s%s", o->pieces, *o->size ? o->size : o->designation,
                       *o->material ? ", " : "", o->material,
                       o->broken ? " (not all can be worked out)" : "");
}

/* The line of D named NAME that is the Nth of that name, NULL: none. */
static const struct dieset_order *find_order(const struct dieset *d, const struct dieset_orders *o,
                                             const char *name, int nth)
{
    for (int i = 0; i < o->count; i++) {
        char *mine = order_name(d, &o->at[i]);
        bool same = strcmp(mine, name) == 0;
        free(mine);
        if (same && nth-- == 0)
            return &o->at[i];
    }
    return NULL;
}

static int nth_of_name(const struct dieset *d, const struct dieset_orders *o, int line, const char *name)
{
    int n = 0;
    for (int i = 0; i < line; i++) {
        char *mine = order_name(d, &o->at[i]);
        n += strcmp(mine, name) == 0;
        free(mine);
    }
    return n;
}

void comparing_orders(struct comparing *c)
{
    struct dieset_orders orders[COMPARE_SIDES];
    for (enum compare_side s = COMPARE_FIRST; s < COMPARE_SIDES; s++)
        dieset_orders(c->d[s], &orders[s]);
    for (enum compare_side s = COMPARE_FIRST; s < COMPARE_SIDES; s++)
        for (int i = 0; i < orders[s].count; i++) {
            enum compare_side o = s == COMPARE_FIRST ? COMPARE_SECOND : COMPARE_FIRST;
            char *name = order_name(c->d[s], &orders[s].at[i]), *mine = order_text(&orders[s].at[i]);
            const struct dieset_order *there = find_order(c->d[o], &orders[o], name,
                                                          nth_of_name(c->d[s], &orders[s], i, name));
            char *its = there ? order_text(there) : NULL;
            if (!its)
                comparing_add_only(c, COMPARE_ORDER, name, s, mine);
            else if (s == COMPARE_FIRST && strcmp(mine, its) != 0)
                comparing_add(c, COMPARE_ORDER, name, mine, its);
            free(name);
            free(mine);
            free(its);
        }
    for (enum compare_side s = COMPARE_FIRST; s < COMPARE_SIDES; s++)
        dieset_orders_free(&orders[s]);
}
