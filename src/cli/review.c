/* mend, remark, waive, issue, withdraw, undo, redo, history: what would clear a finding, what is said of a
   job, what was done to it. */

#include "cli/cli.h"

#include "diewright/explore.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* The words from FROM on as one text: quotes round a sentence may be left out. Yours to free(). */
static char *sentence(const struct cli_call *c, int from)
{
    struct base_text out = {0};
    for (int i = from; i < c->n_words; i++)
        base_text_addf(&out, "%s%s", i > from ? " " : "", c->words[i]);
    return base_text_take(&out);
}

/* "... --others takes it all the same." behind what is refused as somebody else's. */
static int refuse_others(const struct base_diag *why)
{
    struct base_diag whole = {.code = why->code};
    snprintf(whole.message, sizeof whole.message, "%.500s With --others it is done all the same.",
             why->message);
    return cli_complain(&whole);
}

/* Take the open try, or say why not; then what was said. */
static int take(struct job *j, enum base_err err, struct base_diag *why)
{
    if (err || job_take(j, why))
        return cli_complain(why);
    const struct job_outcome *o = job_outcome(j);
    cli_say(stdout, "Taken: %s\n", o->title);
    cli_tell_findings(stdout, "+", o->came, o->n_came);
    cli_tell_findings(stdout, "-", o->went, o->n_went);
    return CLI_DONE;
}

/* ---- mend ---- */

/* All values tried for finding KEY, onto the paper; the work that it took, by base_steps(). */
static long mend_one(struct job *j, const char *key, struct report_paper *p)
{
    long steps = 0;
    struct explore_mend *m = explore_mend_new(job_findings(j), key);
    while (m && !base_given_up() && explore_mend_more(job_findings(j), m))
        ;
    if (m) {
        report_mend(m, p);
        steps = m->steps;
    }
    explore_mend_free(m);
    return steps;
}

/* One finding after the other until they took MOST steps, some seconds of work; what is left is told. */
static void mend_all(struct job *j, char *const *keys, int n, struct report_paper *p)
{
    enum { MOST = 1500000 };
    long steps = 0;
    int done = 0;
    while (done < n && steps < MOST && !base_given_up())
        steps += mend_one(j, keys[done++], p);
    if (done < n)
        report_line_below(p,
                          "%d more %s open and %s not searched for: with its name behind the job one is, "
                          "such as \"%s\".",
                          n - done, n - done == 1 ? "is" : "are", n - done == 1 ? "was" : "were", keys[done]);
}

/* The keys of open findings above note; yours to free(), one by one. */
static int open_keys(struct job *j, char ***out)
{
    const struct finding *list;
    int n = findings_list(job_findings(j), &list), count = 0;
    *out = base_alloc((size_t)(n + 1) * sizeof **out);
    for (int i = 0; i < n; i++)
        if (!list[i].waiver && list[i].grade > HANDBOOK_NOTE)
            (*out)[count++] = base_copy(list[i].key);
    return count;
}

static int mend(struct cli_call *c, struct job *j)
{
    struct report_paper p;
    struct base_diag why = {0};
    const struct finding *x;
    char **keys = NULL, *name = sentence(c, 1);
    int n = 0;
    if (c->n_words == 1) {
        n = open_keys(j, &keys);
    } else if (findings_named(job_findings(j), name, &x, &why) == BASE_OK) {
        keys = base_alloc(sizeof *keys);
        keys[n++] = base_copy(x->key);
    }
    free(name);
    if (why.code)
        return cli_complain(&why);
    report_mend_begin(&p);
    mend_all(j, keys, n, &p);
    for (int i = 0; i < n; i++)
        free(keys[i]);
    free(keys);
    if (!n)
        report_line_above(&p, "Nothing above a note is open.");
    cli_print(&p, c->format);
    return CLI_DONE;
}

int cli_mend(struct cli_call *c) { return cli_with_job(c, true, mend); }

/* ---- remark ---- */

static int list_remarks(struct cli_call *c, struct job *j)
{
    struct report_paper p;
    report_remarks(job_dieset(j), &p);
    if (!report_rows(&p))
        report_line_above(&p, "No remarks.");
    struct base_text waiting = {0};
    if (job_take_in(j, &waiting), waiting.length) /* the job is only read: they are told */
        report_line_below(&p, "%s", base_text_get(&waiting));
    base_text_done(&waiting);
    cli_print(&p, c->format);
    return CLI_DONE;
}

/* Said by one who may not write. */
static int beside(struct job *j, const char *subject, const char *text)
{
    struct base_diag why = {0};
    struct base_text told = {0};
    int status = job_remark_beside(j, subject, text, &told, &why) ? cli_complain(&why) : CLI_DONE;
    if (told.length)
        cli_say(stdout, "%s\n", base_text_get(&told));
    base_text_done(&told);
    return status;
}

static int remark(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    if (c->back)
        return take(j, job_unremark(j, c->words[1], &why), &why);
    if (c->done || c->open)
        return take(j, job_remark_done(j, c->words[1], c->done, &why), &why);
    char *text = sentence(c, 2);
    int status = job_readonly(j) ? beside(j, c->words[1], text)
                                 : take(j, job_remark(j, c->words[1], text, &why), &why);
    free(text);
    return status;
}

int cli_remark(struct cli_call *c)
{
    bool of_one = c->back || c->done || c->open;
    if (c->n_words == 1 && !of_one)
        return cli_with_job(c, true, list_remarks);
    if (c->back + c->done + c->open > 1 || (of_one && c->n_words != 2))
        return cli_usage(c, "One remark is taken back, done or open again; it is named as remark_1.");
    if (!of_one && c->n_words < 3)
        return cli_usage(c, "What does the remark say? Its text stands behind the item.");
    return cli_with_job(c, false, remark);
}

/* ---- waive ---- */

static int list_waivers(struct cli_call *c, struct job *j)
{
    struct report_paper p;
    report_waivers(job_findings(j), &p);
    if (!report_rows(&p))
        report_line_above(&p, "Nothing is waived.");
    cli_print(&p, c->format);
    return CLI_DONE;
}

static int waive(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    if (c->back)
        return take(j, job_unwaive(j, c->words[1], c->others, &why), &why);
    char *reason = sentence(c, 2);
    int status = take(j, job_waive(j, c->words[1], reason, &why), &why);
    free(reason);
    return status;
}

int cli_waive(struct cli_call *c)
{
    if (c->n_words == 1 && !c->back)
        return cli_with_job(c, true, list_waivers);
    if (c->n_words == 1)
        return cli_usage(c, "Which finding is to be open again?");
    return cli_with_job(c, false, waive);
}

/* ---- issue ---- */

static int issue(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    struct base_text open = {0};
    review_open_words(job_dieset(j), &open);
    if (open.length)
        cli_say(stdout, "%s\n", base_text_get(&open));
    base_text_done(&open);
    return take(j, job_issue(j, c->n_words > 1 ? c->words[1] : NULL, c->note, &why), &why);
}

int cli_issue(struct cli_call *c) { return cli_with_job(c, false, issue); }

static int ordered(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    return take(j, job_ordered(j, c->n_words > 1 ? c->words[1] : NULL, c->back, &why), &why);
}

int cli_ordered(struct cli_call *c) { return cli_with_job(c, false, ordered); }

static int withdraw(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    char *reason = sentence(c, 2);
    int status = take(j, job_withdraw(j, c->words[1], reason, &why), &why);
    free(reason);
    return status;
}

int cli_withdraw(struct cli_call *c) { return cli_with_job(c, false, withdraw); }

/* ---- undo and redo ---- */

static int step(struct cli_call *c, struct job *j, bool back)
{
    struct base_diag why = {0};
    struct job_step s;
    char *end = NULL;
    long edit = c->n_words > 1 ? strtol(c->words[1], &end, 10) : 0;
    if (end && (*end || edit < 1 || edit == LONG_MAX))
        return cli_usage(c, "\"%s\" is no number of an edit: history tells them.", c->words[1]);
    if (!c->others && job_step_next(j, back, edit, &s) && !s.own) {
        job_step_refuse(&s, back, &why);
        return refuse_others(&why);
    }
    if (job_step_take(j, back, edit, &why))
        return cli_complain(&why);
    if (c->format == REPORT_TEXT)
        cli_say(stdout, "%s\n", job_outcome(j)->title);
    cli_tell_outcome(c, j);
    return CLI_DONE;
}

static int undo(struct cli_call *c, struct job *j) { return step(c, j, true); }
static int redo(struct cli_call *c, struct job *j) { return step(c, j, false); }

int cli_undo(struct cli_call *c) { return cli_with_job(c, false, undo); }
int cli_redo(struct cli_call *c) { return cli_with_job(c, false, redo); }

/* ---- history ---- */

static int history(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    const struct typed_event *events;
    int n = c->since ? job_since(j, c->since, &events, &why) : job_history(j, &events, INT_MAX);
    if (n < 0)
        return cli_complain(&why);
    struct report_paper p;
    report_history(events, n, &p);
    if (!n && c->since)
        report_line_above(&p, "Nothing was changed since revision %s.", c->since);
    else if (!n)
        report_line_above(&p, "Nothing was changed yet.");
    cli_print(&p, c->format);
    return CLI_DONE;
}

int cli_history(struct cli_call *c) { return cli_with_job(c, true, history); }
