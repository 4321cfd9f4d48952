/* The verdict on a set as a text that is kept with a revision, and what two of them have otherwise. */

#include "diewright/review.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Entries "KEY = VALUE", parted by this; neither stands in a name, a figure or an order line. */
static const char PARTS[] = " | ", IS[] = " = ";

enum { LINE = 880 }; /* bytes that a text of a job may have, less some */

static void entry(struct base_text *out, const char *key, const char *value)
{
    base_text_addf(out, "%s%s%s%s", out->length ? PARTS : "", key, IS, value);
}

static void entry_sum(struct base_text *out, const char *key, const struct base_text *of)
{
    char sum[20];
    snprintf(sum, sizeof sum, "%016llx", (unsigned long long)base_hash(base_text_get(of), of->length));
    entry(out, key, sum);
}

/* By name; where these are too many notes go into a sum, then all do. */
static void found(struct findings *f, struct base_text *out)
{
    const struct finding *list;
    int n = findings_list(f, &list);
    for (int round = 0; round < 3; round++) {
        struct base_text rest = {0};
        base_text_clear(out);
        for (int i = 0; i < n; i++)
            entry(round > (list[i].grade != HANDBOOK_NOTE) ? &rest : out, list[i].key,
                  handbook_grade_text(list[i].grade));
        if (rest.length)
            entry_sum(out, round == 1 ? "notes" : "findings", &rest);
        base_text_done(&rest);
        if (out->length <= LINE)
            return;
    }
}

/* What follows for the stack and stands in its form at first, new and ground, as far as a line goes, forces
   and masses first; what is typed stands in the job. */
static void figures(struct dieset *d, struct base_text *out)
{
    int stack = dieset_item_of_kind(d, DIESET_STACK);
    for (int lengths = 0; lengths < 2; lengths++)
        for (int q = 0; q < dieset_quantity_count(d); q++) {
            const struct dieset_quantity *v = dieset_quantity(d, q);
            int states = v->slot[DIESET_NEW] != v->slot[DIESET_GROUND] ? 2 : 1;
            bool plain = v->property && v->property->plain && v->property->how == HANDBOOK_FOLLOWS;
            if (v->item != stack || !plain || v->type.type.sort != FORMULA_NUMBER || !dieset_applies(d, q) ||
                unit_same(v->type.type.dim, UNIT_LENGTH) != (lengths == 1))
                continue;
            for (int s = 0; s < states; s++) {
                char value[120], *key = base_format("%s%s", strchr(v->path, '.') + 1, s ? " ground" : "");
                dieset_print(d, q, (enum dieset_state)s, value, sizeof value);
                if (out->length + strlen(key) + strlen(value) < LINE)
                    entry(out, key, value);
                free(key);
            }
        }
}

/* The order list as a sum, and all that is machined in a plate. */
static void made(struct dieset *d, struct base_text *out)
{
    struct dieset_layer layers[64];
    struct dieset_orders orders;
    struct base_text all = {0};
    int n = dieset_stack(d, DIESET_NEW, layers, COUNT_OF(layers));
    dieset_orders(d, &orders);
    for (int i = 0; i < orders.count; i++)
        base_text_addf(&all, "%g %s, %s, %s\n", orders.at[i].pieces + orders.at[i].spares,
                       orders.at[i].designation, orders.at[i].size, orders.at[i].material);
    entry_sum(out, "order list", &all);
    dieset_orders_free(&orders);
    for (int i = 0; i < n; i++) {
        char *key = base_format("holes of %s", dieset_item_name(d, layers[i].plate));
        int first, count = dieset_plate_holes(d, layers[i].plate, &first);
        base_text_clear(&all);
        for (int k = first; k < first + count; k++) {
            struct dieset_hole h;
            dieset_hole(d, k, DIESET_NEW, &h);
            base_text_addf(&all, "%s %.3f %.3f %.3f %.3f %.3f %.3f %.3f %.3f %s %s\n", h.operation, h.x, h.y,
                           h.diameter, h.length, h.width, h.corner, h.low, h.high, h.fit, h.thread);
        }
        if (out->length + strlen(key) < LINE - 30)
            entry_sum(out, key, &all);
        free(key);
    }
    base_text_done(&all);
}

const char *const review_verdict_lines[REVIEW_VERDICT_LINES] = {"found", "figures", "made"};

void review_verdict(struct findings *f, int line, struct base_text *out)
{
    struct dieset *d = (struct dieset *)findings_dieset(f);
    if (line == 0)
        found(f, out);
    else
        (line == 1 ? figures : made)(d, out);
}

/* The next entry of *AT: its length; 0: there is none. */
static size_t next(const char **at, const char **entry)
{
    *entry = *at;
    const char *end = strstr(*at, PARTS);
    size_t n = end ? (size_t)(end - *at) : strlen(*at);
    *at += n + (end ? strlen(PARTS) : 0);
    return n;
}

static size_t key_of(const char *entry, size_t n)
{
    for (size_t i = n; i-- > 0;)
        if (i + strlen(IS) <= n && strncmp(entry + i, IS, strlen(IS)) == 0)
            return i;
    return n;
}

/* The value that TEXT has for the key of N bytes, yours to free(); NULL: none. */
static char *value_of(const char *text, const char *key, size_t n)
{
    const char *entry;
    for (size_t length; (length = next(&text, &entry)) > 0;)
        if (key_of(entry, length) == n && n < length && strncmp(entry, key, n) == 0)
            return base_copy_n(entry + n + strlen(IS), length - n - strlen(IS));
    return NULL;
}

int review_verdicts_differ(const char *was, const char *now, review_change_fn *tell, void *arg)
{
    int differ = 0;
    const char *entry;
    for (int side = 0; side < 2; side++)
        for (const char *at = side ? now : was; *at;) {
            size_t length = next(&at, &entry), n = key_of(entry, length);
            char *old = value_of(was, entry, n), *is = value_of(now, entry, n), *key = base_copy_n(entry, n);
            /* what both have is told by the first round */
            bool told = side ? !old : !old || !is || strcmp(old, is) != 0;
            if (told)
                tell(arg, key, old, is);
            differ += told;
            free(key);
            free(is);
            free(old);
        }
    return differ;
}
