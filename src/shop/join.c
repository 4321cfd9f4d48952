/* What two copies of a job differ in, as a paper. */

#include "shop/inside.h"

#include <string.h>

static const char *const sides[JOB_SIDES] = {"mine", "theirs"};

const char *shop_joined_stays(const struct job_joined *x) { return x->side < 0 ? "choose" : sides[x->side]; }

static void put_said(struct report_paper *p, const char *who, const char *when)
{
    struct base_text out = {0};
    if (*when)
        base_text_addf(&out, "%s, %.10s %.5s", *who ? who : "somebody", when,
                       strlen(when) > 11 ? when + 11 : "");
    report_text(p, out.length ? base_text_get(&out) : NULL);
    base_text_done(&out);
}

void shop_join(struct job_join *jj, struct report_paper *p)
{
    enum { FOLDED = 5, FIRST_FOLDED = 5 };
    static const struct report_column columns[] = {
        {"name", "value", false},
        {"common", "both had", false},
        {"mine", "mine", false},
        {"theirs", "theirs", false},
        {"stays", "stays", false},
        {"mine_by", "mine by: ", false},
        {"theirs_by", "theirs by: ", false},
        {"mine_brings", "mine brings: ", false},
        {"theirs_brings", "theirs brings: ", false},
        {"stuck", "theirs cannot stand here: ", false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    for (int i = 0; i < FOLDED; i++)
        report_fold(p, FIRST_FOLDED + i);
    report_line_above(p, "%s.", job_join_words(jj));
    for (int i = 0; i < job_join_count(jj); i++) {
        struct job_joined x = job_join_at(jj, i);
        struct base_text brings[JOB_SIDES] = {{0}, {0}};
        report_text(p, x.name);
        report_text(p, x.was);
        for (int s = 0; s < JOB_SIDES; s++)
            report_text(p, x.is[s]);
        report_text(p, shop_joined_stays(&x));
        for (int s = 0; s < JOB_SIDES; s++)
            put_said(p, x.who[s], x.when[s]);
        if (x.clash && !x.stuck)
            job_join_brings(jj, i, brings);
        for (int s = 0; s < JOB_SIDES; s++) {
            report_text(p, brings[s].length ? base_text_get(&brings[s]) : NULL);
            base_text_done(&brings[s]);
        }
        report_text(p, x.stuck);
    }
    if (!job_join_count(jj))
        report_line_below(p, "The two copies say the same.");
    else if (job_join_open(jj))
        report_line_below(p, "%d of %d changed by both, each otherwise: choose each by its name.",
                          job_join_open(jj), job_join_count(jj));
}
