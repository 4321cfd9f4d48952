/* solid: plates and the set as files of solids, a plate's outlines as curves. */

#include "cli/cli.h"

#include <stdio.h>
#include <stdlib.h>

/* The day of the revision that the job stands as, "" where it is not issued as it stands. */
static char *issued_on(struct job *j)
{
    struct review_revision r;
    bool issued = review_latest(job_dieset(j), &r) && job_is_issued(j);
    return base_format("%.10s", issued ? r.when : "");
}

static enum base_err file_of(struct cli_call *c, struct job *j, int plate, double ram,
                           const struct solid_head *head, struct base_text *out, struct base_diag *why)
{
    enum dieset_state s = c->ground ? DIESET_GROUND : DIESET_NEW;
    return c->curves ? solid_curves(job_dieset(j), plate, s, head, out, why)
           : plate >= 0 ? solid_plate(job_dieset(j), plate, s, head, out, why)
                      : solid_set(job_dieset(j), s, ram, head, out, why);
}

/* The file, or why there is none. */
static int print(struct cli_call *c, struct job *j, int plate, double ram)
{
    struct base_text issued = {0}, out = {0};
    struct base_diag why = {0};
    job_issued_words(j, &issued);
    char *open = cli_open_words(j), *date = issued_on(j);
    struct solid_head head = {job_title(j), base_text_get(&issued), open, date};
    enum base_err err = file_of(c, j, plate, ram, &head, &out, &why);
    base_text_done(&issued);
    free(open);
    free(date);
    if (!err)
        cli_out(&out);
    base_text_done(&out);
    return err ? cli_complain(&why) : CLI_DONE;
}

static int solid(struct cli_call *c, struct job *j)
{
    double ram = 0;
    int plate = c->n_words > 1 ? cli_plate(j, c->words[1]) : -1;
    if (c->n_words > 1 && plate < 0)
        return CLI_REFUSED;
    if (plate >= 0 && c->ram)
        return cli_usage(c, "One plate is the same wherever the ram stands: --ram goes with the whole set.");
    if (plate < 0 && c->curves)
        return cli_usage(c, "Curves are of one plate: name it for --curves.");
    int status = c->ram ? cli_ram_height(c, job_dieset(j), &ram) : CLI_DONE;
    return status == CLI_DONE ? print(c, j, plate, ram) : status;
}

int cli_solid(struct cli_call *c) { return cli_with_job(c, true, solid); }
