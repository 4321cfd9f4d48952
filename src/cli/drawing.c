/* drawing: a plate, the set or the strip on sheets. */

#include "cli/cli.h"

#include <string.h>
#include <unistd.h>

static int drawing(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    struct base_text out = {0};
    bool strip = c->n_words > 1 && strcmp(c->words[1], "strip") == 0 &&
                 dieset_item_of_kind(job_dieset(j), DIESET_STRIP) >= 0;
    int plate = c->n_words > 1 && !strip ? cli_plate(j, c->words[1]) : -1;
    if (c->n_words > 1 && plate < 0 && !strip)
        return CLI_REFUSED;
    const struct shop_ask ask = {j, plate, c->ground ? DIESET_GROUND : DIESET_NEW, c->datum, NULL, strip};
    if (plate < 0 && c->datum)
        return cli_usage(c,
                         "The drawings of set and strip have no datum to choose; name a plate for --datum.");
    if (isatty(STDOUT_FILENO))
        return cli_usage(c,
                         "A drawing is no text for a terminal: send it to a file, such as "
                         "\"diewright drawing %s%s%s >drawing.%s\".",
                         c->words[0], c->n_words > 1 ? " " : "", c->n_words > 1 ? c->words[1] : "",
                         c->svg ? "svg" : "pdf");
    enum base_err err = shop_drawing(&ask, c->svg, &out, &why);
    if (!err)
        cli_out(&out);
    base_text_done(&out);
    return err ? cli_complain(&why) : CLI_DONE;
}

int cli_drawing(struct cli_call *c) { return cli_with_job(c, true, drawing); }
