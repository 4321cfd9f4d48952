/* drawing: a plate or the set on sheets. */

#include "cli/cli.h"

#include "diewright/sheet.h"

#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* The name of the job's file without its folder and suffix. Yours to free(). */
static char *stem_of(struct job *j)
{
    const char *file = job_file(j), *slash = strrchr(file, '/');
    const char *name = slash ? slash + 1 : file, *dot = strrchr(name, '.');
    return base_copy_n(name, dot && dot != name ? (size_t)(dot - name) : strlen(name));
}

void cli_title(struct job *j, struct cli_title *out)
{
    struct dieset *d = job_dieset(j);
    int counts[3], job = dieset_item_of_kind(d, DIESET_JOB);
    struct review_revision r;
    struct base_text standing = {0}, sums = {0};
    bool issued = review_latest(d, &r) && job_is_issued(j);
    findings_counts(job_findings(j), counts);
    job_issued_words(j, &standing);
    job_sums(j, &sums);
    *out = (struct cli_title){.standing = base_text_take(&standing), .sums = base_text_take(&sums)};
    const char *number = job < 0 ? "" : dieset_text(d, job, "set_number");
    out->number = *number ? base_copy(number) : stem_of(j);
    out->date = base_copy_n(issued ? r.when : "", issued ? strnlen(r.when, 10) : 0);
    out->title = (struct sheet_title){.job = job_title(j), .number = out->number, .standing = out->standing,
                                      .revision = issued ? r.letter : "", .date = out->date,
                                      .issued_by = issued ? r.by : "", .sums = out->sums,
                                      .faults = counts[HANDBOOK_FAULT], .cautions = counts[HANDBOOK_CAUTION]};
}

void cli_title_done(struct cli_title *t)
{
    free(t->number);
    free(t->standing);
    free(t->sums);
    free(t->date);
}

static int drawing(struct cli_call *c, struct job *j)
{
    struct cli_title title;
    struct sheet_book book;
    struct base_diag why = {0};
    struct base_text out = {0};
    enum dieset_state state = c->ground ? DIESET_GROUND : DIESET_NEW;
    int plate = c->n_words > 1 ? cli_plate(j, c->words[1]) : -1;
    if (c->n_words > 1 && plate < 0)
        return CLI_REFUSED;
    if (plate < 0 && c->datum)
        return cli_usage(c, "The set's drawing has no datum to choose; name a plate for --datum.");
    if (isatty(STDOUT_FILENO))
        return cli_usage(c, "A drawing is no text for a terminal: send it to a file, such as "
                         "\"diewright drawing %s%s%s >drawing.%s\".", c->words[0], plate < 0 ? "" : " ",
                         plate < 0 ? "" : c->words[1], c->svg ? "svg" : "pdf");
    cli_title(j, &title);
    enum base_err err = plate < 0
                            ? sheet_set(job_dieset(j), state, &title.title, &book, &why)
                            : sheet_plate(job_dieset(j), plate, state, c->datum, &title.title, &book, &why);
    if (!err) {
        (c->svg ? draw_svg : draw_pdf)(book.at.at, (int)book.at.count, book.title, &out);
        sheet_done(&book);
        cli_out(&out);
    }
    cli_title_done(&title);
    return err ? cli_complain(&why) : CLI_DONE;
}

int cli_drawing(struct cli_call *c) { return cli_with_job(c, true, drawing); }
