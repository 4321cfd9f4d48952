/* tolerance: what a set is when it is made. */

#include "cli/cli.h"

#include <stdlib.h>

enum { MOST_SAMPLES = 1000000, MOST_SEED = 2000000000 };

/* A whole number of an option, WHAT it is; what is not typed is USUAL. False: it is none, and that was said.
 * */
static bool whole(const struct cli_call *c, const char *option, const char *text, unsigned most,
                  unsigned usual, unsigned *out)
{
    char *end = NULL;
    unsigned long n = text ? strtoul(text, &end, 10) : usual;
    *out = (unsigned)n;
    if (!text || (*text >= '0' && *text <= '9' && !*end && n <= most))
        return true;
    (void)cli_usage(c, "Behind --%s stands a whole number from 0 to %u, not \"%s\".", option, most, text);
    return false;
}

static int tolerances(struct cli_call *c, struct job *j)
{
    unsigned seed, samples;
    struct base_diag why = {0};
    struct report_paper p;
    if (!whole(c, "seed", c->seed, MOST_SEED, 1, &seed) ||
        !whole(c, "samples", c->samples, MOST_SAMPLES, TOLERANCE_SAMPLES, &samples))
        return CLI_REFUSED;
    const struct tolerance_ask how = {.state = c->ground ? DIESET_GROUND : DIESET_NEW,
                                      .seed = seed,
                                      .samples = (int)samples};
    enum base_err err = c->worst ? report_worst(job_findings(j), &p, &why)
                                 : report_tolerance(job_dieset(j), c->n_words > 1 ? c->words[1] : "",
                                                    c->n_words > 2 ? c->words[2] : "", &how, &p, &why);
    if (err)
        return cli_complain(&why);
    p.width = c->options->width;
    cli_print(&p, c->format);
    return CLI_DONE;
}

int cli_tolerance(struct cli_call *c)
{
    if (c->worst && c->n_words > 1)
        return cli_usage(c, "--worst asks all rules; \"%s\" says nothing to it.", c->words[1]);
    return cli_with_job(c, true, tolerances);
}
