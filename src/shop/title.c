/* What stands on each sheet and above each list: the job, its revision, what is open, the sums. */

#include "shop/inside.h"

#include <stdlib.h>
#include <string.h>

char *shop_head(struct job *j)
{
    struct base_text issued = {0};
    job_issued_words(j, &issued);
    char *line = base_format("%s, %s", job_title(j), base_text_get(&issued));
    base_text_done(&issued);
    return line;
}

char *shop_open_words(struct job *j)
{
    int counts[3];
    findings_counts(job_findings(j), counts);
    int faults = counts[HANDBOOK_FAULT], cautions = counts[HANDBOOK_CAUTION];
    if (!faults && !cautions)
        return NULL;
    return base_format("%d fault%s and %d caution%s are open: the list of findings tells each.", faults,
                       faults == 1 ? "" : "s", cautions, cautions == 1 ? "" : "s");
}

/* The name of the job's file without its folder and suffix. Yours to free(). */
static char *stem_of(struct job *j)
{
    const char *file = job_file(j), *slash = strrchr(file, '/');
    const char *name = slash ? slash + 1 : file, *dot = strrchr(name, '.');
    return base_copy_n(name, dot && dot != name ? (size_t)(dot - name) : strlen(name));
}

void shop_title(struct job *j, struct shop_title *out)
{
    struct dieset *d = job_dieset(j);
    int counts[3], job = dieset_item_of_kind(d, DIESET_JOB);
    struct review_revision r;
    struct base_text standing = {0}, sums = {0};
    bool issued = review_latest(d, &r) && job_is_issued(j);
    findings_counts(job_findings(j), counts);
    job_issued_words(j, &standing);
    job_sums(j, &sums);
    *out = (struct shop_title){.standing = base_text_take(&standing), .sums = base_text_take(&sums)};
    const char *number = job < 0 ? "" : dieset_text(d, job, "set_number");
    out->number = *number ? base_copy(number) : stem_of(j);
    out->date = base_copy_n(issued ? r.when : "", issued ? strnlen(r.when, 10) : 0);
    out->title = (struct sheet_title){.job = job_title(j),
                                      .number = out->number,
                                      .standing = out->standing,
                                      .revision = issued ? r.letter : "",
                                      .date = out->date,
                                      .made_by = !issued      ? ""
                                                 : *r.made_by ? r.made_by
                                                              : r.by,
                                      .checked_by = issued && *r.made_by && strcmp(r.made_by, r.by) != 0
                                                        ? r.by
                                                        : "",
                                      .sums = out->sums,
                                      .faults = counts[HANDBOOK_FAULT],
                                      .cautions = counts[HANDBOOK_CAUTION]};
}

void shop_title_done(struct shop_title *t)
{
    free(t->number);
    free(t->standing);
    free(t->sums);
    free(t->date);
}
