/* join: two copies of a job that were edited apart. */

#include "cli/cli.h"

#include <stdlib.h>
#include <string.h>

/* NAMES, parted by commas, as SIDE has them. Returns the exit status. */
static int choose(struct job_join *jj, const char *names, enum job_side side)
{
    struct base_diag why = {0};
    int status = CLI_DONE;
    for (const char *at = names ? names : ""; *at && status == CLI_DONE;) {
        size_t n = strcspn(at, ",");
        char *name = base_copy_n(at, n);
        if (job_join_choose(jj, name, side, &why))
            status = cli_complain(&why);
        free(name);
        at += n + (at[n] == ',');
    }
    return status;
}

/* What was taken, edit by edit, and what it brings in all. */
static int take(struct cli_call *c, struct job_join *jj, struct job *mine)
{
    struct base_diag why = {0};
    const struct typed_event *e;
    int taken, open = job_join_open(jj), status = CLI_DONE;
    if (job_join_take(jj, &taken, &why))
        status = cli_complain(&why);
    int n = job_history(mine, &e, taken);
    for (int i = n; c->format == REPORT_TEXT && i-- > 0;)
        cli_say(stdout, "Taken: %s\n", e[i].title);
    if (status == CLI_DONE && !taken)
        cli_say(stdout, "Nothing is to be taken of the other copy.\n");
    if (status == CLI_DONE && open)
        cli_say(
            stderr,
            "diewright: %d changed by both stay%s as this copy has them, and stand%s there again when the "
            "two are joined again: --mine or --theirs chooses.\n",
            open, open == 1 ? "s" : "", open == 1 ? "s" : "");
    return status ? status : open ? CLI_OPEN : CLI_DONE;
}

int cli_join(struct cli_call *c)
{
    int status;
    struct base_diag why = {0};
    struct job_join *jj = NULL;
    struct handbook *h = cli_handbook(c, &status);
    struct job *mine = h ? cli_open(c, h, c->words[0], !c->take, &status) : NULL,
               *theirs = mine ? cli_open(c, h, c->words[1], true, &status) : NULL;
    if (theirs && job_join_new(mine, theirs, &jj, &why))
        status = cli_complain(&why);
    if (jj)
        status = choose(jj, c->mine, JOB_MINE);
    if (jj && status == CLI_DONE)
        status = choose(jj, c->theirs, JOB_THEIRS);
    if (jj && status == CLI_DONE && c->take)
        status = take(c, jj, mine);
    else if (jj && status == CLI_DONE) {
        struct report_paper p;
        shop_join(jj, &p);
        cli_print(&p, c->format);
        status = job_join_open(jj) ? CLI_OPEN : CLI_DONE;
    }
    job_join_free(jj);
    job_close(theirs);
    cli_close(c, mine);
    handbook_free(h);
    return status;
}
