/* Papers of the review: what would clear a finding; remarks, waivers, revisions and the history. */

#include "report/words.h"

#include "diewright/review.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* "2026-11-24 14:02" of "2026-11-24T14:02:11+01:00" */
static void put_when(struct report_paper *p, const char *when)
{
    char shown[24];
    snprintf(shown, sizeof shown, "%.10s %.5s", when, strlen(when) > 11 ? when + 11 : "");
    report_text(p, when);
    report_text(p, shown);
}

/* ---- what would clear a finding ---- */

void report_mend_begin(struct report_paper *p)
{
    enum { FOLDED = 5 };
    static const struct report_column columns[] = {
        {"finding", NULL, false},       {"name", "value", false},
        {"was", "now", true},           {"is", NULL, true},
        {NULL, "clears at", true},      {"typed", NULL, false},
        {"listed", NULL, false},        {"tried", NULL, false},
        {NULL, "", false},
        {"moved", "moves", true},       {NULL, "", false},
        {"against", "but: ", false},    {"comes", "comes: ", false},
        {"goes", "also goes: ", false}, {"sizes", "sizes: ", false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    for (int i = 1; i <= FOLDED; i++)
        report_fold(p, (int)COUNT_OF(columns) - i);
}

static const char *some_text(const char *text) { return *text ? text : NULL; }

static void without_proposal(struct report_paper *p, const char *key, const char *path, bool tried)
{
    const char *const texts[] = {key, path, NULL, NULL, NULL, NULL, NULL, tried ? "yes" : "no", NULL};
    for (size_t k = 0; k < COUNT_OF(texts); k++)
        report_text(p, texts[k]);
    report_number(p, NAN, 0);
    report_text(p, tried ? "alone does not clear it" : "not tried to the end");
    for (int k = 0; k < 4; k++)
        report_text(p, NULL);
}

void report_mend(const struct explore_mend *m, struct report_paper *p)
{
    if (!m->at.count && !m->hopeless.count && !m->untried.count) {
        report_line_below(p, "%s: its rule names no value that could be typed.", m->key);
        return;
    }
    report_line_within(p, "%s", m->key);
    for (size_t i = 0; i < m->at.count; i++) {
        const struct explore_proposal *x = &m->at.at[i];
        const char *const texts[] = {m->key,
                                     x->path,
                                     x->was,
                                     x->is,
                                     x->shown,
                                     x->text,
                                     x->listed ? "yes" : "no",
                                     "yes",
                                     x->listed ? "listed" : NULL};
        for (size_t k = 0; k < COUNT_OF(texts); k++)
            report_text(p, texts[k]);
        report_number(p, x->moved, 0);
        report_text(p, NULL);
        report_text(p, some_text(x->against));
        report_text(p, some_text(x->comes));
        report_text(p, some_text(x->goes));
        report_text(p, some_text(x->sizes));
    }
    for (size_t i = 0; i < m->hopeless.count; i++)
        without_proposal(p, m->key, m->hopeless.at[i], true);
    for (size_t i = 0; i < m->untried.count; i++)
        without_proposal(p, m->key, m->untried.at[i], false);
    if (m->untried.count)
        report_line_below(p, "%s: the search ended after %d tries; what it did not come to is marked.",
                          m->key, m->tries);
}

/* ---- what is said ---- */

void report_remarks(const struct dieset *d, struct report_paper *p)
{
    static const struct report_column columns[] = {
        {"remark", "remark", false}, {"item", NULL, false},    {"finding", NULL, false},
        {NULL, "on", false},         {"by", "by", false},      {"when", NULL, false},
        {NULL, "when", false},       {"answers", NULL, false}, {"done", NULL, false},
        {"done_by", NULL, false},    {NULL, "", false},        {"says", "", false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    report_fold(p, COUNT_OF(columns) - 1);
    int n = review_remarks(d, NULL, 0);
    struct review_remark *list = base_alloc((size_t)(n + 1) * sizeof *list);
    review_remarks(d, list, n);
    for (int i = 0; i < n; i++) {
        const struct review_remark *r = &list[i];
        report_text(p, r->name);
        report_text(p, r->on_item);
        report_text(p, r->finding);
        report_text(p, *r->on_item ? r->on_item : r->finding);
        report_text(p, r->by);
        put_when(p, r->when);
        report_text(p, r->answers);
        report_text(p, r->done);
        report_text(p, r->done_by);
        char *stands = *r->answers ? base_format("answers %s", r->answers)
                       : *r->done  ? base_format("done %.10s %s", r->done, r->done_by)
                                   : base_copy("open");
        report_text(p, stands);
        free(stands);
        report_text(p, r->says);
    }
    free(list);
}

/* A waiver holds, its finding is open again, or nothing of the sort stands. */
static const char *how_it_stands(const struct review_waiver *w)
{
    return w->holds ? "holds" : w->stands ? "open again" : "waives nothing";
}

void report_waivers(const struct findings *f, struct report_paper *p)
{
    static const struct report_column columns[] = {
        {"waiver", "waiver", false}, {"finding", "finding", false}, {"stands", "stands", false},
        {"grade", "grade", false},   {"states", "state", false},    {"margin", "margin", true},
        {"by", "by", false},         {"when", NULL, false},         {NULL, "when", false},
        {"says", "", false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    report_fold(p, COUNT_OF(columns) - 1);
    int n = review_waivers(f, NULL, 0);
    struct review_waiver *list = base_alloc((size_t)(n + 1) * sizeof *list);
    review_waivers(f, list, n);
    for (int i = 0; i < n; i++) {
        const struct review_waiver *w = &list[i];
        char margin[60];
        const char *const texts[] = {w->name,  w->finding, how_it_stands(w),
                                     w->grade, w->states,  review_margin(w, margin, sizeof margin),
                                     w->by};
        for (size_t k = 0; k < COUNT_OF(texts); k++)
            report_text(p, texts[k]);
        put_when(p, w->when);
        report_text(p, w->says);
    }
    free(list);
}

void report_history(const struct typed_event *events, int n, struct report_paper *p)
{
    static const struct report_column columns[] = {
        {"number", "no", true},  {"when", NULL, false}, {NULL, "when", false},   {"who", "who", false},
        {"undone", NULL, false}, {NULL, "", false},     {"what", "what", false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    report_cut(p);
    for (int i = 0; i < n; i++) {
        report_number(p, (double)events[i].seq, 0);
        put_when(p, events[i].when ? events[i].when : "");
        report_text(p, events[i].who);
        report_text(p, events[i].undone ? "yes" : "no");
        report_text(p, events[i].undone ? "x" : NULL);
        report_text(p, events[i].title);
    }
}
