/* The lists of a job by their names. */

#include "shop/inside.h"

#include <limits.h>
#include <stdlib.h>
#include <string.h>

typedef enum base_err make_fn(const struct shop_ask *ask, struct report_paper *p, struct base_diag *why);

/* The edits since the latest revision, or all that stand, without those that only say something: yours to
   free(). */
static struct typed_event *edits_since(struct job *j, int *count)
{
    const struct typed_event *events;
    struct review_revision latest;
    int n = review_latest(job_dieset(j), &latest) ? job_since(j, latest.letter, &events, NULL)
                                                  : job_standing(j, &events, INT_MAX);
    struct typed_event *out = base_alloc((size_t)(n > 0 ? n : 0) * sizeof *out + 1);
    *count = 0;
    for (int i = 0; i < n; i++)
        if (!job_only_said(j, &events[i]))
            out[(*count)++] = events[i];
    return out;
}

static enum base_err make_check(const struct shop_ask *ask, struct report_paper *p, struct base_diag *why)
{
    (void)why;
    report_check(job_findings(ask->job), p);
    return BASE_OK;
}

static enum base_err make_review(const struct shop_ask *ask, struct report_paper *p, struct base_diag *why)
{
    int n;
    struct review_revision latest;
    struct job *was = NULL;
    struct base_diag ignored = {0}; /* a file that was begun from a text does not hold it */
    if (review_latest(job_dieset(ask->job), &latest))
        (void)!job_revision_as_now(ask->job, latest.letter, &was, &ignored);
    struct typed_event *events = edits_since(ask->job, &n);
    (void)why;
    report_review(job_findings(ask->job), was ? job_findings(was) : NULL, events, n, p);
    free(events);
    job_close(was);
    return BASE_OK;
}

static enum base_err make_inspection(const struct shop_ask *ask, struct report_paper *p,
                                     struct base_diag *why)
{
    (void)why;
    report_inspection(job_dieset(ask->job), ask->plate, p);
    return BASE_OK;
}

static enum base_err make_holes(const struct shop_ask *ask, struct report_paper *p, struct base_diag *why)
{
    return report_holes(job_dieset(ask->job), ask->plate, ask->state, ask->datum, p, why);
}

#define MAKE(name, report)                                                               \
    static enum base_err make_##name(const struct shop_ask *ask, struct report_paper *p, \
                                     struct base_diag *why)                              \
    {                                                                                    \
        (void)why;                                                                       \
        report(job_dieset(ask->job), p);                                                 \
        return BASE_OK;                                                                  \
    }
MAKE(stroke, report_stroke)

/* Against what was ordered, where the job differs from that revision. */
static enum base_err make_order(const struct shop_ask *ask, struct report_paper *p, struct base_diag *why)
{
    struct dieset *d = job_dieset(ask->job);
    struct review_revision latest = {0};
    bool named = ask->since && *ask->since, ordered = !named && ask->since && review_ordered(d, &latest) &&
                                                      job_edits_since(ask->job, latest.letter);
    const char *letter = named ? ask->since
                         : ordered || (ask->since && review_latest(d, &latest) && !job_is_issued(ask->job))
                             ? latest.letter
                             : NULL;
    struct job *was = NULL;
    struct dieset_orders before = {0};
    struct base_diag own = {0};
    if (letter && job_revision_as_now(ask->job, letter, &was, named ? why : &own) != BASE_OK && named)
        return BASE_REFUSED;
    if (was)
        dieset_orders(job_dieset(was), &before);
    report_order(d, was ? &before : NULL, letter, p);
    if (review_ordered(d, &latest))
        report_line_above(p, "Ordered by revision %s on %.10s by %s%s.", latest.letter, latest.ordered,
                          *latest.ordered_by ? latest.ordered_by : "somebody",
                          *latest.withdrawn ? "; it was withdrawn since" : "");
    if (letter && !was)
        report_line_below(p, "What changed since revision %s cannot be told: %s", letter, own.message);
    if (was) {
        dieset_orders_free(&before);
        job_close(was);
    }
    return BASE_OK;
}

struct changes {
    struct report_paper *p;
    int line;
};

static void put_change(void *arg, const char *what, const char *was, const char *now)
{
    static const char *const words[REVIEW_VERDICT_LINES][3] = {{"came", "went", "graded"},
                                                               {"told", "not told", "moved"},
                                                               {"there", "gone", "otherwise"}};
    struct changes *c = arg;
    bool sums = c->line == 2;
    report_text(c->p, words[c->line][!was ? 0 : !now ? 1 : 2]);
    char *name = base_format("%s%s", c->line == 1 ? DIESET_STACK "." : "", what);
    report_text(c->p, name);
    free(name);
    report_text(c->p, sums ? NULL : was);
    report_text(c->p, sums ? NULL : now);
}

/* A revision as it was issued, under the handbook and the program of today. */
static enum base_err make_recheck(const struct shop_ask *ask, struct report_paper *p, struct base_diag *why)
{
    static const struct report_column columns[] = {{"change", "change", false},
                                                   {"what", "what", false},
                                                   {"issued", "issued", false},
                                                   {"now", "now", false}};
    struct dieset *d = job_dieset(ask->job);
    struct review_revision r;
    struct job *was = NULL;
    struct changes c = {.p = p};
    bool named = ask->since && *ask->since;
    if (named ? !review_find(d, ask->since, &r) : !review_latest(d, &r))
        return base_fail(why, BASE_REFUSED,
                         named ? "The job has no revision \"%s\"."
                               : "The job has no revision that could be checked again%s.",
                         named ? ask->since : "");
    if (!*r.handbook)
        return base_fail(why, BASE_REFUSED,
                         "Revision %s keeps no verdict of its day, so nothing can be held against it; check "
                         "tells how the job stands now.",
                         r.letter);
    enum base_err err = job_revision(ask->job, r.letter, &was, why);
    if (err)
        return err;
    report_begin(p, columns, COUNT_OF(columns));
    for (; c.line < REVIEW_VERDICT_LINES; c.line++) {
        struct base_text now = {0};
        review_verdict(job_findings(was), c.line, &now);
        review_verdicts_differ(r.verdict[c.line], base_text_get(&now), put_change, &c);
        base_text_done(&now);
    }
    report_line_above(p, "Revision %s, issued on %.10s by %s under handbook %s; checked again under %016llx.",
                      r.letter, r.when, r.by, r.handbook,
                      (unsigned long long)handbook_own_sum(dieset_handbook(d)));
    report_line_below(p, "%s",
                      report_rows(p)
                          ? "What has changed is looked at before anything is made or run by that revision."
                          : "Findings, figures, order list and holes are as they were.");
    job_close(was);
    return BASE_OK;
}

/* In the order in which a shop asks for them; those of the handbook stand where HANDBOOKS is. */
static const struct {
    const char *name, *title;
    make_fn *make;
} lists[] = {
    {"order", "Order list", make_order},
    {"holes", "Hole charts", make_holes},
    {"inspection", "Inspection list", make_inspection},
    {"stroke", "The stroke", make_stroke},
    {"check", "Findings", make_check},
    {"review", "Review", make_review},
    {SHOP_RECHECK, "A revision checked again", make_recheck},
};
enum { HANDBOOKS = 3 };

/* A paper of the handbook stands for one of the program's that has its name. */
bool shop_paper(struct job *j, int i, const char **name, const char **title)
{
    const struct handbook *h = dieset_handbook(job_dieset(j));
    int told = handbook_paper_count(h), all = (int)COUNT_OF(lists) + told;
    for (int at = 0; i >= 0 && at < all; at++) {
        int in = at - HANDBOOKS, mine = in < told ? at : at - told;
        bool own = in >= 0 && in < told;
        if ((!own && handbook_find_paper(h, lists[mine].name) >= 0) || i-- > 0)
            continue;
        *name = own ? handbook_paper(h, in)->name : lists[mine].name;
        if (title)
            *title = own ? handbook_paper(h, in)->title : lists[mine].title;
        return true;
    }
    return false;
}

bool shop_has_paper(struct job *j, const char *name)
{
    const char *other;
    for (int i = 0; shop_paper(j, i, &other, NULL); i++)
        if (strcmp(other, name) == 0)
            return true;
    return false;
}

static enum base_err none_such(struct job *j, const char *name, struct base_diag *why)
{
    struct base_text all = {0};
    const char *other;
    for (int i = 0; shop_paper(j, i, &other, NULL); i++)
        base_text_addf(&all, "%s%s", i ? ", " : "", other);
    base_fail(why, BASE_REFUSED, "There is no paper \"%s\"; there are %s.", name, base_text_get(&all));
    base_text_done(&all);
    return BASE_REFUSED;
}

static enum base_err make(const struct shop_ask *ask, const char *name, struct report_paper *out,
                          struct base_diag *why)
{
    struct dieset *d = job_dieset(ask->job);
    int told = handbook_find_paper(dieset_handbook(d), name);
    for (size_t i = 0; told < 0 && i < COUNT_OF(lists); i++)
        if (strcmp(lists[i].name, name) == 0)
            return lists[i].make(ask, out, why);
    if (told < 0)
        return none_such(ask->job, name, why);
    report_told(d, handbook_paper(dieset_handbook(d), told), out);
    return BASE_OK;
}

/* What is open is the list of findings itself, so it is not told above that. */
enum base_err shop_make(const struct shop_ask *ask, const char *name, struct report_paper *out,
                        struct base_diag *why)
{
    enum base_err err = make(ask, name, out, why);
    if (err)
        return err;
    char *job = shop_head(ask->job), *open = shop_open_words(ask->job);
    if (open && strcmp(name, "check") != 0)
        report_line_first(out, "%s", open);
    report_line_first(out, "%s", job);
    free(open);
    free(job);
    return BASE_OK;
}
