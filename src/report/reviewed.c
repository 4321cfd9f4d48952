/* The paper of the review: what is open, what was let stand by whom and why, remarks, edits since the last
 * issue, what is typed over.
 *
 * One table. A row is of one part, and parts stand in the order in which they are looked at; in the text form
 * each begins with its heading and a row has two columns, what is longer stands below them.
 */

#include "report/words.h"

#include "diewright/compare.h"
#include "diewright/review.h"

#include <stdlib.h>
#include <string.h>

/* NULL: empty. HEAD is the text form's first column; BELOW stands under the row, where it is not what data
   tells as SAYS. */
struct row { const char *part, *head, *grade, *name, *state, *value, *usual, *by, *when, *says, *below; };

static void put_row(struct report_paper *p, const struct row *r)
{
    const char *const texts[] = {r->part,
                                 r->head,
                                 r->grade,
                                 r->name,
                                 r->state,
                                 r->value,
                                 r->usual,
                                 r->by,
                                 r->when,
                                 r->says,
                                 r->below ? r->below : r->says};
    for (size_t i = 0; i < COUNT_OF(texts); i++)
        report_text(p, texts[i]);
}

static void begin(struct report_paper *p)
{
    static const struct report_column columns[] = {
        {"part", NULL, false},  {NULL, "", false},      {"grade", NULL, false}, {"name", "", false},
        {"state", NULL, false}, {"value", NULL, false}, {"usual", NULL, false}, {"by", NULL, false},
        {"when", NULL, false},  {"says", NULL, false},  {NULL, "", false},
    };
    report_begin(p, columns, COUNT_OF(columns));
    report_fold(p, COUNT_OF(columns) - 1);
}

static const char *plural(int n) { return n == 1 ? "" : "s"; }

/* ---- findings ---- */

static void put_open(const struct findings *f, struct report_paper *p)
{
    const struct finding *list;
    int counts[3], n = findings_list(f, &list), told = 0;
    findings_counts(f, counts);
    for (int i = 0; i < n; i++) {
        if (list[i].waiver)
            continue;
        if (!told++)
            report_line_within(p, "Open: %d fault%s, %d caution%s, %d note%s", counts[HANDBOOK_FAULT],
                               plural(counts[HANDBOOK_FAULT]), counts[HANDBOOK_CAUTION],
                               plural(counts[HANDBOOK_CAUTION]), counts[HANDBOOK_NOTE],
                               plural(counts[HANDBOOK_NOTE]));
        struct base_text lapsed = {0};
        review_lapsed(f, &list[i], &lapsed);
        char *below = base_format("%s%s%s", list[i].message, lapsed.length ? " " : "",
                                  base_text_get(&lapsed));
        base_text_done(&lapsed);
        put_row(p, &(struct row){.part = "open",
                                 .head = words_grade(list[i].grade),
                                 .grade = handbook_grade_text(list[i].grade),
                                 .name = list[i].key,
                                 .state = findings_states_word(list[i].states),
                                 .says = list[i].message,
                                 .below = below});
        free(below);
    }
    if (!told)
        report_line_above(p, "Nothing is open.");
}

static void put_waived(const struct findings *f, struct report_paper *p)
{
    int n = review_waivers(f, NULL, 0);
    struct review_waiver *list = base_alloc((size_t)(n + 1) * sizeof *list);
    review_waivers(f, list, n);
    for (int i = 0; i < n; i++) {
        const struct review_waiver *w = &list[i];
        char margin[60];
        const char *stands = w->holds ? "waived" : w->stands ? "open again" : "waives nothing";
        char *below = base_format("%s%sA %s%s%s, let stand by %s on %.10s%s%s",
                                  w->stands ? w->stands->message : "", w->stands ? " " : "", w->grade,
                                  *w->margin ? " at a margin of " : "",
                                  review_margin(w, margin, sizeof margin),
                                  *w->by ? w->by : "somebody", w->when,
                                  *w->says ? ": " : ", no reason given.", w->says);
        if (i == 0)
            report_line_within(p, "Waived: %d", n);
        put_row(p, &(struct row){.part = stands,
                                 .head = w->holds ? " ~ waived" : stands,
                                 .grade = w->grade,
                                 .name = w->finding,
                                 .state = w->states,
                                 .value = margin,
                                 .by = w->by,
                                 .when = w->when,
                                 .says = w->says,
                                 .below = below});
        free(below);
    }
    free(list);
}

/* ---- words and edits ---- */

/* "2026-11-24 mh" */
static char *day_of(const char *when, const char *by)
{
    return base_format("%.10s %s", when ? when : "", by && *by ? by : "somebody");
}

static void put_remark(const struct review_remark *r, struct report_paper *p)
{
    char *head = day_of(r->when, r->by);
    char *done = *r->done ? base_format(" (done on %.10s by %s)", r->done, r->done_by) : base_copy("");
    char *below = base_format("%s%s%s", *r->answers ? "Answer: " : "", r->says, done);
    put_row(p, &(struct row){.part = *r->answers ? "answer" : *r->done ? "remark done" : "remark",
                             .head = head,
                             .name = *r->on_item ? r->on_item : r->finding,
                             .by = r->by,
                             .when = r->when,
                             .says = r->says,
                             .below = below});
    free(head);
    free(done);
    free(below);
}

/* Each with its answers behind it. */
static void put_remarks(const struct dieset *d, struct report_paper *p)
{
    int n = review_remarks(d, NULL, 0);
    struct review_remark *list = base_alloc((size_t)(n + 1) * sizeof *list);
    review_remarks(d, list, n);
    if (n)
        report_line_within(p, "Remarks: %d, %d open", n, review_open_remarks(d, NULL, NULL));
    for (int i = 0; i < n; i++) {
        if (*list[i].answers)
            continue;
        put_remark(&list[i], p);
        for (int k = 0; k < n; k++)
            if (strcmp(list[k].answers, list[i].name) == 0)
                put_remark(&list[k], p);
    }
    free(list);
}

static void put_revisions(const struct dieset *d, struct report_paper *p)
{
    int n = review_revisions(d, NULL, 0);
    struct review_revision *list = base_alloc((size_t)(n + 1) * sizeof *list);
    review_revisions(d, list, n);
    for (int i = 0; i < n; i++) {
        const struct review_revision *r = &list[i];
        char *head = day_of(r->when, r->by);
        char *below = base_format("%s%ssum %s%s%s%s%.10s%s%s%s%.10s%s%s%s%s", r->says,
                                  *r->says ? ", " : "", r->sum, *r->made_by ? "; edited last by " : "",
                                  r->made_by, *r->ordered ? "; ordered " : "", r->ordered,
                                  *r->ordered ? " by " : "", r->ordered_by,
                                  *r->withdrawn ? "; withdrawn " : "", r->withdrawn,
                                  *r->withdrawn ? " by " : "", r->withdrawn_by, *r->withdrawn ? ": " : "",
                                  r->because);
        if (i == 0)
            report_line_within(p, "Revisions: %d", n);
        put_row(p, &(struct row){.part = *r->withdrawn ? "withdrawn" : "revision",
                                 .head = head,
                                 .name = r->letter,
                                 .value = r->sum,
                                 .by = r->by,
                                 .when = r->when,
                                 .says = *r->withdrawn ? r->because : r->says,
                                 .below = below});
        free(head);
        free(below);
    }
    free(list);
}

static void put_edits(const struct dieset *d, const struct typed_event *events, int n, struct report_paper *p)
{
    struct review_revision latest;
    bool any = review_latest(d, &latest);
    for (int i = 0; i < n; i++) {
        char *head = day_of(events[i].when, events[i].who);
        if (i == 0)
            report_line_within(p, "Since %s%s: %d edit%s", any ? "revision " : "the beginning",
                               any ? latest.letter : "", n, plural(n));
        put_row(p, &(struct row){.part = "edit",
                                 .head = head,
                                 .name = events[i].title,
                                 .by = events[i].who,
                                 .when = events[i].when});
        free(head);
    }
}

/* Figures of the set as a whole: what its form shows at first, of the stack. */
static bool is_of_all(const struct dieset *d, const struct compare_row *r)
{
    int q = r->what == COMPARE_VALUE ? dieset_find(d, r->name) : -1;
    const struct dieset_quantity *v = q < 0 ? NULL : dieset_quantity(d, q);
    return v && v->property && v->property->plain && v->item == dieset_item_of_kind(d, DIESET_STACK);
}

static const char *part_of(const struct dieset *d, const struct compare_row *r)
{
    bool both = r->text[COMPARE_FIRST] && r->text[COMPARE_SECOND];
    return r->what == COMPARE_ITEM || r->what == COMPARE_TYPED ? "changed"
           : r->what == COMPARE_FINDING && both                ? "graded"
           : r->what == COMPARE_FINDING                        ? r->text[COMPARE_SECOND] ? "came" : "went"
           : r->what == COMPARE_ORDER                          ? "order"
           : is_of_all(d, r)                                   ? "moved"
                                                               : NULL;
}

/* All that the edits since the revision come to, each value once, however often it was typed. */
static void put_outcome(struct findings *f, struct findings *was, struct report_paper *p)
{
    struct compare diff;
    struct dieset *d = findings_dieset(f);
    int told = 0;
    compare_sets(was, f, &diff);
    for (size_t i = 0; i < diff.rows.count; i++) {
        const struct compare_row *r = &diff.rows.at[i];
        const char *part = part_of(d, r), *before = r->text[COMPARE_FIRST], *now = r->text[COMPARE_SECOND];
        const char *state = !r->stateful ? "" : r->state == DIESET_NEW ? "new" : "ground";
        char *below = !before || !now ? base_copy(now ? now : before)
                                      : base_format("%s%s%s -> %s", state, *state ? " " : "", before, now);
        if (part && !told++)
            report_line_within(p, "What came of the edits");
        if (part)
            put_row(p, &(struct row){.part = part,
                                     .head = part,
                                     .name = r->name,
                                     .state = state,
                                     .value = now,
                                     .usual = before,
                                     .below = below});
        free(below);
    }
    compare_done(&diff);
}

static void put_typed(struct dieset *d, struct report_paper *p)
{
    int n = review_typed_over(d, NULL, 0), *list = base_alloc((size_t)(n + 1) * sizeof *list), without = 0;
    review_typed_over(d, list, n);
    for (int i = 0; i < n; i++)
        without += !dieset_quantity(d, list[i])->reason;
    for (int i = 0; i < n; i++) {
        char value[80], usual[80];
        const struct dieset_quantity *q = dieset_quantity(d, list[i]);
        dieset_print(d, list[i], DIESET_NEW, value, sizeof value);
        review_usual(d, list[i], usual, sizeof usual);
        char *below = base_format("The formula gives %s. %s", usual,
                                  q->reason ? q->reason : "NO REASON GIVEN");
        if (i == 0)
            report_line_within(p, "Typed over a formula: %d, %d without a reason", n, without);
        put_row(p, &(struct row){.part = "typed over",
                                 .head = value,
                                 .name = q->path,
                                 .value = value,
                                 .usual = usual,
                                 .says = q->reason,
                                 .below = below});
        free(below);
    }
    free(list);
}

/* ---- how the rules hold that are looked at first ---- */

/* WAS, NULL: there is no revision, or nothing was edited since: how it held then is told where it differs. */
static void put_first(struct findings *f, struct findings *was, struct report_paper *p)
{
    const struct handbook *h = dieset_handbook(findings_dieset(f));
    for (int i = 0; i < handbook_rule_count(h); i++) {
        const struct handbook_rule *rule = handbook_rule(h, i);
        struct base_text words = {0};
        bool fails = false;
        if (!rule->first)
            continue;
        if (!review_stands(f, rule, &fails, &words))
            base_text_add(&words, " does not apply, or cannot be judged");
        report_line_below(p, "%s:%s", rule->title, base_text_get(&words));
        struct base_text before = {0};
        if (was && review_stands(was, rule, &fails, &before) &&
            strcmp(base_text_get(&before), base_text_get(&words)) != 0)
            report_line_below(p, "  when it was issued:%s", base_text_get(&before));
        base_text_done(&before);
        base_text_done(&words);
    }
}

void report_review(struct findings *f, struct findings *was, const struct typed_event *events, int n,
                   struct report_paper *p)
{
    struct dieset *d = findings_dieset(f);
    begin(p);
    put_open(f, p);
    put_waived(f, p);
    put_remarks(d, p);
    put_revisions(d, p);
    put_edits(d, events, n, p);
    if (was && n)
        put_outcome(f, was, p);
    put_typed(d, p);
    put_first(f, n ? was : NULL, p);
    words_unjudged(p, d);
    words_elsewhere(p, d);
}
