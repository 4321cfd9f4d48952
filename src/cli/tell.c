/* What an edit did, told on the command line: moves, and the findings that came and went. */

#include "cli/cli.h"

#include <stdio.h>
#include <string.h>

void cli_tell_findings(FILE *where, const char *word, const struct finding *list, int n)
{
    for (int i = 0; i < n; i++)
        cli_say(where, "%s %s: %s\n", word, handbook_grade_text(list[i].grade), list[i].message);
}

/* Of a large set hundreds of values move: the first of them, and how many more. Programs get all. */
static void tell_moves(struct cli_call *c, struct job *j)
{
    enum { LINES = 20 };
    const struct job_outcome *o = job_outcome(j);
    bool text = c->format == REPORT_TEXT;
    int shown = text && !c->all_moves && o->n_moves > LINES ? LINES : o->n_moves;
    struct report_paper p;
    report_moves(job_dieset(j), o->moves, shown, &p);
    if (shown < o->n_moves)
        report_line_below(&p, "%d more moved: --all lists them.", o->n_moves - shown);
    if (o->n_moves || !text)
        cli_print(&p, c->format);
    else
        report_done(&p);
    if (!o->n_moves && text)
        cli_say(stdout, "%s\n", c->try ? "No value would move." : "Taken; no value moved.");
}

static void tell_both_ways(FILE *where, const struct job_outcome *o)
{
    cli_tell_findings(where, "+", o->came, o->n_came);
    cli_tell_findings(where, "-", o->went, o->n_went);
    fflush(where);
}

/* What moved goes to stdout. Findings matter most and stand before it where people read; where programs do
   they go to the standard error, behind the data. */
void cli_tell_outcome(struct cli_call *c, struct job *j)
{
    bool text = c->format == REPORT_TEXT;
    if (text)
        tell_both_ways(stdout, job_outcome(j));
    tell_moves(c, j);
    fflush(stdout);
    if (!text)
        tell_both_ways(stderr, job_outcome(j));
}

bool cli_part_change(char *change, const char **path, const char **formula)
{
    char *equals = strchr(change, '='), *end = equals;
    if (!equals)
        return false;
    *equals = '\0';
    while (end > change && end[-1] == ' ')
        *--end = '\0';
    *path = change;
    *formula = equals + 1 + strspn(equals + 1, " ");
    return true;
}

int cli_take(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    bool new = !job_changes_nothing(j);
    if (new && job_take(j, &why))
        return cli_complain(&why);
    if (new || c->format != REPORT_TEXT)
        cli_tell_outcome(c, j);
    else
        cli_say(stdout, "%s\n", "It stands so already: nothing is taken.");
    if (!new)
        job_drop(j);
    return CLI_DONE;
}
