/* Values as cells, cautions. */

#include "report/words.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

int words_decimals(double number, struct unit_dim dim, struct unit_display display)
{
    if (unit_same(dim, UNIT_NUMBER) && number == round(number))
        return 0; /* a count */
    if (!unit_same(dim, UNIT_LENGTH))
        return display.decimals;
    double shown = number * pow(10, display.decimals);
    return display.decimals + (fabs(shown - round(shown)) >= 0.05 ? 1 : 0);
}

void words_length(struct report_paper *p, const struct dieset *d, double mm)
{
    struct unit_display u = unit_display(UNIT_LENGTH, dieset_system(d));
    double number = mm / u.factor;
    report_number(p, number, isfinite(number) ? words_decimals(number, UNIT_LENGTH, u) : 0);
}

static void put_number(struct report_paper *p, const struct dieset *d, double value, struct unit_dim dim, int decimals)
{
    struct unit_display u = unit_display(dim, dieset_system(d));
    double number = value / u.factor;
    int shown = decimals >= 0 ? decimals : words_decimals(number, dim, u);
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

void words_value(struct report_paper *p, const struct dieset *d, struct formula_value v, struct formula_type t, int decimals)
{
    if (v.error) {
        report_text(p, NULL);
        report_text(p, formula_error_text((enum formula_error)v.error));
    } else if (t.sort == FORMULA_NUMBER) {
        put_number(p, d, v.number, t.dim, decimals);
    } else {
        const char *words = value_words(d, v, t);
        report_text(p, words);
        report_text(p, words);
    }
}

const char *words_unit(const struct dieset *d, struct formula_type t)
{
    return t.sort == FORMULA_NUMBER ? unit_display(t.dim, dieset_system(d)).name : "";
}

const char *words_state(enum dieset_state s, bool stateful)
{
    return !stateful ? "" : s == DIESET_GROUND ? "ground" : "new";
}

const char *words_grade(enum handbook_grade g)
{
    return g == HANDBOOK_FAULT ? "!! fault" : g == HANDBOOK_CAUTION ? " ! caution" : " . note";
}

const char *report_caution(void)
{
    return "This is a check, not a permit to run. Local codes and the licensed person responsible decide.";
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

void words_cautions(struct report_paper *p, struct dieset *d)
{
    const struct handbook *h = dieset_handbook(d);
    stamps(p, d);
    for (int k = 0; k < handbook_kind_count(h); k++) {
        const struct handbook_kind *kind = handbook_kind(h, k);
        if (kind->caution && dieset_item_of_kind(d, kind->name) >= 0)
            report_line_below(p, "%s", kind->caution);
    }
    report_line_below(p, "%s", report_caution());
}
