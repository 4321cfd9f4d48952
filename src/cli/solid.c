/* solid: plates and the set as files of solids, a plate's outlines as curves. */

#include "cli/cli.h"

/* The file, or why there is none. */
static int print(struct cli_call *c, struct job *j, int plate, double ram)
{
    const struct shop_ask ask = {j, plate, c->ground ? DIESET_GROUND : DIESET_NEW, NULL, NULL, false};
    struct base_text out = {0};
    struct base_diag why = {0};
    enum base_err err = shop_solid(&ask, ram, c->curves, &out, &why);
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
