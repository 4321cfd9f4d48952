/* cli/folder.c - the jobs of a folder at a glance; several jobs checked one after the other */

#include "cli/cli.h"

#include <dirent.h>
#include <stdlib.h>
#include <string.h>

static const struct report_column columns[] = {
    {"job", "job", false},         {"title", "title", false}, {"revision", "rev", false},
    {"faults", "faults", true},    {"cautions", "cautions", true},
    {"press", "press", false},     {"edited", "last edit", false}, {"by", "by", false},
};

static int is_job(const struct dirent *e)
{
    size_t n = strlen(e->d_name), suffix = strlen(".diejob");
    return n > suffix && strcmp(e->d_name + n - suffix, ".diejob") == 0;
}

static bool says(const char *text, const char *wanted) { return text && strcasestr(text, wanted); }

/* Has J the words in its title, in the title or name of an item, in a remark, or a value that reads so? */
static bool holds(struct job *j, const char *wanted)
{
    struct dieset *d = job_dieset(j);
    char value[200];
    bool any = says(job_title(j), wanted);
    for (int i = 0; i < dieset_item_count(d) && !any; i++)
        any = says(dieset_item_title(d, i), wanted) || says(dieset_item_name(d, i), wanted);
    int n = review_remarks(d, NULL, 0);
    struct review_remark *remarks = base_alloc((size_t)(n + 1) * sizeof *remarks);
    review_remarks(d, remarks, n);
    for (int i = 0; i < n && !any; i++)
        any = says(remarks[i].says, wanted);
    free(remarks);
    for (int q = 0; q < dieset_quantity_count(d) && !any; q++)
        any = dieset_shown(d, q) &&
              strcasecmp(dieset_print(d, q, DIESET_NEW, value, sizeof value), wanted) == 0;
    return any;
}

static void add_row(struct report_paper *p, const char *name, struct job *j)
{
    struct dieset *d = job_dieset(j);
    struct review_revision rev;
    const struct typed_event *last;
    int counts[3], q = dieset_find(d, "press.size");
    char press[200] = "";
    bool edited = job_history(j, &last, 1) > 0;
    findings_counts(job_findings(j), counts);
    report_text(p, name);
    report_text(p, job_title(j));
    report_text(p, review_latest(d, &rev) ? rev.letter : "");
    report_number(p, counts[HANDBOOK_FAULT], 0);
    report_number(p, counts[HANDBOOK_CAUTION], 0);
    report_text(p, q < 0 ? "" : dieset_print(d, q, DIESET_NEW, press, sizeof press));
    char *when = base_format("%.16s", edited && last->when ? last->when : "");
    report_text(p, when);
    free(when);
    report_text(p, edited && last->who ? last->who : "");
}

/* A job that cannot be read is told on the standard error, and the others follow. */
static int tell_jobs(struct cli_call *c, struct handbook *h, const char *folder, struct dirent **files, int n)
{
    struct report_paper p;
    int status = CLI_DONE;
    report_begin(&p, columns, COUNT_OF(columns));
    for (int i = 0; i < n; i++) {
        int own = CLI_DONE;
        char *path = base_format("%s/%s", folder, files[i]->d_name);
        struct job *j = cli_open(c, h, path, true, &own);
        if (j && (c->n_words < 2 || holds(j, c->words[1])))
            add_row(&p, files[i]->d_name, j);
        status = j ? status : own;
        cli_close(c, j);
        free(path);
    }
    if (!report_rows(&p))
        report_line_below(&p, "no job of %s%s%s", folder, c->n_words < 2 ? " is here" : " has ",
                          c->n_words < 2 ? "" : c->words[1]);
    cli_print(&p, c->format);
    return status;
}

int cli_jobs(struct cli_call *c)
{
    const char *folder = c->n_words ? c->words[0] : ".";
    struct dirent **files;
    int status, n = scandir(folder, &files, is_job, alphasort);
    if (n < 0) {
        cli_say(stderr, "diewright: The folder %s cannot be read.\n", folder);
        return CLI_REFUSED;
    }
    struct handbook *h = cli_handbook(c, &status);
    if (h)
        status = tell_jobs(c, h, folder, files, n);
    for (int i = 0; i < n; i++)
        free(files[i]);
    free(files);
    handbook_free(h);
    return status;
}

int cli_each_job(struct cli_call *c, cli_act *act)
{
    int worst = CLI_DONE, n = c->n_words;
    char **words = c->words;
    if (n > 1 && c->format != REPORT_TEXT)
        return cli_usage(c, "Several jobs are told as text; in another format one at a time.");
    for (int i = 0; i < n; i++) {
        c->words = words + i;
        c->n_words = 1;
        if (n > 1)
            cli_say(stdout, "%s%s:\n", i ? "\n" : "", words[i]);
        int status = cli_with_job(c, true, act);
        worst = status > worst ? status : worst;
    }
    c->words = words;
    c->n_words = n;
    return worst;
}
