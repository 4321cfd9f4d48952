/* compare: two jobs side by side. */

#include "cli/cli.h"

#include "diewright/compare.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- as data: what,name,state,first,second,unit ---- */

static void put_side(const struct compare_row *r, enum compare_side s, struct unit_display u,
                     struct report_paper *p)
{
    if (r->is_number && !isnan(r->number[s]))
        report_number(p, r->number[s] / u.factor, -1);
    else
        report_text(p, r->text[s]);
}

static void print_data(struct cli_call *c, const struct compare *diff, struct unit_system system)
{
    static const struct report_column columns[] = {
        {"what", "what", false},   {"name", "name", false},     {"state", "state", false},
        {"first", "first", false}, {"second", "second", false}, {"unit", "unit", false},
    };
    struct report_paper p;
    report_begin(&p, columns, COUNT_OF(columns));
    for (size_t i = 0; i < diff->rows.count; i++) {
        const struct compare_row *r = &diff->rows.at[i];
        struct unit_display u = unit_display(r->dim, system);
        report_text(&p, compare_what_text(r->what));
        report_text(&p, r->name);
        report_text(&p, !r->stateful ? "" : r->state == DIESET_NEW ? "new" : "ground");
        put_side(r, COMPARE_FIRST, u, &p);
        put_side(r, COMPARE_SECOND, u, &p);
        report_text(&p, r->is_number ? u.name : NULL);
    }
    cli_print(&p, c->format);
}

/* ---- for people ---- */

static void print_line(void *out, const char *line, const char *path)
{
    (void)path;
    base_text_addf(out, "%s\n", line);
}

/* A job's file without folders and suffix, cut to what stands over a column. Yours to free(). */
static char *short_name(const char *path, int room)
{
    const char *slash = strrchr(path, '/'), *name = slash ? slash + 1 : path, *dot = strrchr(name, '.');
    size_t n = dot && strcmp(dot, ".diejob") == 0 ? (size_t)(dot - name) : strlen(name);
    return base_copy_n(name, n < (size_t)room ? n : (size_t)room);
}

static void print_lines(struct cli_call *c, const struct compare *diff)
{
    struct base_text out = {0};
    int width = c->options->width < 60 ? 60 : c->options->width;
    char *names[COMPARE_SIDES];
    for (int s = 0; s < COMPARE_SIDES; s++)
        names[s] = short_name(c->words[s], width / 4 - 2);
    if (strcmp(names[COMPARE_FIRST], names[COMPARE_SECOND]) == 0) /* of one name in two folders */
        for (int s = 0; s < COMPARE_SIDES; s++) {
            free(names[s]);
            names[s] = base_copy(s == COMPARE_FIRST ? "first" : "second");
        }
    compare_lines(diff, (const char *const *)names, width, print_line, &out);
    for (int s = 0; s < COMPARE_SIDES; s++)
        free(names[s]);
    cli_out(&out);
}

/* ---- the command ---- */

static void print(struct cli_call *c, struct job *first, struct job *second)
{
    struct compare diff;
    compare_sets(job_findings(first), job_findings(second), &diff);
    if (c->format == REPORT_TEXT)
        print_lines(c, &diff);
    else
        print_data(c, &diff, dieset_system(job_dieset(first)));
    compare_done(&diff);
}

/* The job as issued under LETTER; NULL with the reason printed. */
static struct job *revision(struct job *j, const char *letter, int *status)
{
    struct job *was;
    struct base_diag why = {0};
    if (job_revision_as_now(j, letter, &was, &why))
        *status = cli_complain(&why);
    return was;
}

/* A revision beside another, or beside the job as it is now. */
static int compare_revisions(struct cli_call *c, struct job *j)
{
    int status = CLI_DONE;
    struct job *first = revision(j, c->words[1], &status),
               *second = first && c->n_words > 2 ? revision(j, c->words[2], &status) : NULL;
    char *names[2] = {base_format("revision %s", c->words[1]),
                      c->n_words > 2 ? base_format("revision %s", c->words[2]) : base_copy("now")};
    c->words[0] = names[0];
    c->words[1] = names[1];
    if (status == CLI_DONE)
        print(c, first, second ? second : j);
    free(names[0]);
    free(names[1]);
    job_close(second);
    job_close(first);
    return status;
}

int cli_compare(struct cli_call *c)
{
    int status;
    struct review_revision r;
    struct handbook *h = cli_handbook(c, &status);
    struct job *first = h ? cli_open(c, h, c->words[0], true, &status) : NULL, *second = NULL;
    if (first && (c->n_words > 2 || review_find(job_dieset(first), c->words[1], &r)))
        status = compare_revisions(c, first);
    else if (first)
        second = cli_open(c, h, c->words[1], true, &status);
    if (second)
        print(c, first, second);
    job_close(second);
    job_close(first);
    handbook_free(h);
    return status;
}
