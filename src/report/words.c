/* Values as cells, cautions. */

#include "report/words.h"

#include "diewright/record.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void words_length(struct report_paper *p, const struct dieset *d, double mm)
{
    double number = mm / unit_display(UNIT_LENGTH, dieset_system(d)).factor;
    report_number(p, number,
                  isfinite(number) ? unit_places(number, UNIT_LENGTH, dieset_system(d), -1, NAN) : 0);
}

static void put_number(struct report_paper *p, const struct dieset *d, double value, struct unit_dim dim,
                       int least, struct unit_display u)
{
    struct unit_system s = dieset_system(d);
    /* an inch is the coarser unit */
    int finer = least >= 0 && unit_is_inch(s) && unit_same(dim, UNIT_LENGTH);
    bool other_unit = strcmp(u.name, unit_display(dim, s).name) != 0; /* N instead of kN */
    double number = value / u.factor;
    int shown = other_unit ? u.decimals : unit_places(number, dim, s, least + finer, NAN);
    report_number(p, number, shown);
    report_number(p, number, shown);
}

static const char *value_words(const struct dieset *d, struct formula_value v, struct formula_type t)
{
    if (t.sort == FORMULA_YESNO)
        return v.number != 0 ? "yes" : "no";
    if (t.sort == FORMULA_TEXT)
        return base_pool_text(handbook_pool(dieset_handbook(d)), (int)v.number);
    return v.number >= 0 && v.number < dieset_item_count(d) ? dieset_item_name(d, (int)v.number) : "";
}

void words_value(struct report_paper *p, const struct dieset *d, struct formula_value v,
                 struct formula_type t, int least, struct unit_display u)
{
    if (v.error) {
        report_text(p, NULL);
        report_text(p, formula_error_text((enum formula_error)v.error));
    } else if (t.sort == FORMULA_NUMBER) {
        put_number(p, d, v.number, t.dim, least, u);
    } else {
        const char *words = value_words(d, v, t);
        report_text(p, words);
        report_text(p, words);
    }
}

struct unit_display words_display(const struct dieset *d, struct formula_type t, struct formula_value a,
                                  struct formula_value b)
{
    double most = fmax(a.error ? 0 : fabs(a.number), b.error ? 0 : fabs(b.number));
    return t.sort == FORMULA_NUMBER ? unit_display_of(most, t.dim, dieset_system(d))
                                    : (struct unit_display){.name = "", .factor = 1};
}

const char *words_state(enum dieset_state s, bool stateful)
{
    return !stateful ? "" : s == DIESET_GROUND ? "ground" : "new";
}

const char *words_grade(enum handbook_grade g)
{
    return g == HANDBOOK_FAULT ? "!! fault" : g == HANDBOOK_CAUTION ? " ! caution" : " . note";
}

/* What is stamped tells masses: with it stands what they leave out. */
static void stamps(struct report_paper *p, struct dieset *d)
{
    struct base_text left_out = {0};
    bool any = false;
    for (int i = 0; i < dieset_item_count(d); i++) {
        struct base_text stamp = {0};
        if (dieset_stamp(d, i, &stamp)) {
            report_line_below(p, "%s", base_text_get(&stamp));
            any = true;
        }
        base_text_done(&stamp);
    }
    if (any && dieset_uncounted(d, &left_out))
        report_line_below(p, "Not counted in these masses: %s.", base_text_get(&left_out));
    base_text_done(&left_out);
}

void words_general(struct report_paper *p, const struct dieset *d)
{
    const struct handbook *h = dieset_handbook(d);
    for (int i = 0; i < handbook_caution_count(h); i++)
        report_line_below(p, "%s", handbook_caution(h, i)->text);
}

void words_elsewhere(struct report_paper *p, struct dieset *d)
{
    const struct handbook *h = dieset_handbook(d);
    struct base_text on = {0};
    for (int i = 0; i < handbook_paper_count(h); i++)
        if (handbook_paper(h, i)->cautions)
            base_text_addf(&on, "%s%s", on.length ? ", " : "", handbook_paper(h, i)->title);
    if (on.length) {
        words_general(p, d);
        report_line_below(p, "What can hurt is told on: %s.", base_text_get(&on));
    } else {
        words_cautions(p, d, NULL);
    }
    base_text_done(&on);
}

void words_unjudged(struct report_paper *p, struct dieset *d)
{
    struct dieset_unjudged list;
    struct base_text text = {0};
    dieset_unjudged(d, &list);
    for (int i = 0; i < list.count; i++)
        base_text_addf(&text, "%s%s", i ? "; " : "", list.at[i].text);
    if (list.count)
        report_line_below(p, "Not covered by this verdict: %s.", base_text_get(&text));
    base_text_done(&text);
    dieset_unjudged_free(&list);
}

static bool is_told_on(const struct handbook_caution *c, const char *paper)
{
    char name[80];
    for (const char *on = paper ? c->on : NULL; on && *on;) {
        on = record_word(on, name, sizeof name);
        if (strcmp(name, paper) == 0)
            return true;
    }
    return !paper || !c->on;
}

void words_cautions(struct report_paper *p, struct dieset *d, const char *paper)
{
    const struct handbook_caution **list;
    int n = dieset_cautions(d, -1, false, &list);
    for (int i = 0; i < n; i++)
        if (is_told_on(list[i], paper))
            report_line_below(p, "%s", list[i]->text);
    free(list);
    stamps(p, d);
}
