/* remark, waive, release, history: what is said of a job, and what was done to it. */

#include "cli/cli.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

typedef int on_job(struct cli_call *c, struct job *j);

static int with_job(struct cli_call *c, bool readonly, on_job *act)
{
    int status;
    struct handbook *h = cli_handbook(c, &status);
    struct job *j = h ? cli_open(c, h, c->words[0], readonly, &status) : NULL;
    if (j)
        status = act(c, j);
    job_close(j);
    handbook_free(h);
    return status;
}

/* The words from FROM on as one text: quotes round a sentence may be left out. Yours to free(). */
static char *sentence(const struct cli_call *c, int from)
{
    struct base_text out = {0};
    for (int i = from; i < c->n_words; i++)
        base_text_addf(&out, "%s%s", i > from ? " " : "", c->words[i]);
    return base_text_take(&out);
}

/* Take the open try, or say why not; then what was said. */
static int take(struct job *j, enum base_err err, struct base_diag *why)
{
    if (err || job_take(j, why))
        return cli_complain(why);
    const struct job_outcome *o = job_outcome(j);
    printf("Taken: %s\n", o->title);
    cli_tell_findings(stdout, "+", o->came, o->n_came);
    cli_tell_findings(stdout, "-", o->went, o->n_went);
    return CLI_DONE;
}

/* ---- remark ---- */

static int list_remarks(struct cli_call *c, struct job *j)
{
    struct report_paper p;
    report_remarks(job_dieset(j), &p);
    if (!report_rows(&p))
        report_line_above(&p, "No remarks.");
    cli_print(&p, c->format);
    return CLI_DONE;
}

static int remark(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    if (c->back)
        return take(j, job_unremark(j, c->words[1], &why), &why);
    char *text = sentence(c, 2);
    int status = take(j, job_remark(j, c->words[1], text, &why), &why);
    free(text);
    return status;
}

int cli_remark(struct cli_call *c)
{
    if (c->n_words == 1 && !c->back)
        return with_job(c, true, list_remarks);
    if (c->n_words < (c->back ? 2 : 3))
        return cli_usage(c, c->back ? "Which remark is taken back? It is named as remark_1." : "What does the remark say? Its text stands behind the item.");
    return with_job(c, false, remark);
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
        return take(j, job_unwaive(j, c->words[1], &why), &why);
    char *reason = sentence(c, 2);
    int status = take(j, job_waive(j, c->words[1], reason, &why), &why);
    free(reason);
    return status;
}

int cli_waive(struct cli_call *c)
{
    if (c->n_words == 1 && !c->back)
        return with_job(c, true, list_waivers);
    if (c->n_words == 1)
        return cli_usage(c, "Which finding is to be open again?");
    return with_job(c, false, waive);
}

/* ---- release ---- */

static int release(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    return take(j, job_release(j, c->n_words > 1 ? c->words[1] : NULL, c->note, &why), &why);
}

int cli_release(struct cli_call *c) { return with_job(c, false, release); }

/* ---- history ---- */

static int history(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    const struct store_event *events;
    int n = c->since ? job_since(j, c->since, &events, &why) : job_history(j, &events, INT_MAX);
    if (n < 0)
        return cli_complain(&why);
    struct report_paper p;
    report_history(events, n, &p);
    if (!n)
        report_line_above(&p, "Nothing was changed since revision %s.", c->since);
    cli_print(&p, c->format);
    return CLI_DONE;
}

int cli_history(struct cli_call *c) { return with_job(c, true, history); }
