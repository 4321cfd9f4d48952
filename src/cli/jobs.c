/* new, dump, load: jobs as files and as texts. */

#include "cli/cli.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char usual_template[] = "spring-stripper";

/* On a disk that knows no files without a name, a run that was killed leaves what it had written. */
static void tell_left_over(const char *path)
{
    char *part = base_format("%s.part", path);
    if (access(part, F_OK) == 0)
        cli_say(stderr,
                "%s was left behind by a run that was stopped half way; nothing needs it: delete it.\n",
                part);
    free(part);
}

static int begin(struct cli_call *c, struct handbook *h, const char *text, const char *name)
{
    struct job *j = NULL;
    struct base_diag why = {0};
    char *path = job_path(c->words[0]);
    int status = job_create(h, path, text, name, &j, &why) ? cli_complain(&why) : CLI_DONE;
    if (j) {
        cli_say(stderr, "%s begun from %s.\n", path, name);
        tell_left_over(path);
        cli_warn(j);
    }
    job_close(j);
    free(path);
    return status;
}

/* Templates and the demo jobs are looked for by name; a path with a slash is a file. */
static const struct {
    const char *folder, *what;
} shelves[] = {{"templates", "templates"}, {"demo", "demo jobs"}};

static void name_those_in(const char *folder)
{
    struct dirent **found = NULL;
    int n = scandir(folder, &found, NULL, alphasort);
    for (int i = 0; i < n; i++) {
        size_t length = strlen(found[i]->d_name);
        if (length > 4 && strcmp(found[i]->d_name + length - 4, ".txt") == 0)
            cli_say(stderr, "  %.*s\n", (int)length - 4, found[i]->d_name);
        free(found[i]);
    }
    free(found);
}

static int no_template(const struct cli_call *c, const char *name)
{
    cli_say(stderr, "diewright: There is no template \"%s\".\n", name);
    for (size_t i = 0; i < COUNT_OF(shelves); i++) {
        char *folder = base_format("%s/%s", c->options->data, shelves[i].folder);
        cli_say(stderr, "These are the %s:\n", shelves[i].what);
        name_those_in(folder);
        free(folder);
    }
    return CLI_REFUSED;
}

/* The starts had longer names; they still answer. */
static const struct { const char *was, *is; } renamed[] = {
    {"four-posts-seven-plates-spring-stripper", "spring-stripper"},
    {"four-posts-seven-plates-fixed-stripper", "fixed-stripper"},
    {"four-posts-seven-plates-inch", "spring-stripper-inch"},
};

static const char *todays_name(const char *name)
{
    for (size_t i = 0; i < COUNT_OF(renamed); i++)
        if (strcmp(name, renamed[i].was) == 0)
            return renamed[i].is;
    return name;
}

char *cli_template(const struct cli_call *c, const char *name)
{
    if (strchr(name, '/'))
        return base_copy(name);
    name = todays_name(name);
    for (size_t i = 0; i < COUNT_OF(shelves); i++) {
        char *path = base_format("%s/%s/%s.txt", c->options->data, shelves[i].folder, name);
        if (access(path, R_OK) == 0)
            return path;
        free(path);
    }
    return NULL;
}

static bool is_there(const char *path) { return access(path, F_OK) == 0; }

/* The job file that NAME means, where it is no template; NULL: none. A path without its suffix may also be a
   text. */
static char *like_job(const struct cli_call *c, const char *name)
{
    char *job = job_path(name), *template = strcmp(job, name) == 0 ? NULL : cli_template(c, name);
    bool other = template && is_there(template), meant = !other && (is_there(job) || strcmp(job, name) == 0);
    free(template);
    if (meant)
        return job;
    free(job);
    return NULL;
}

/* The die set of the job at PATH as text, without what was said of it: a new job is looked at anew. */
static char *text_like(struct cli_call *c, struct handbook *h, const char *path, int *status)
{
    struct job *j = cli_open(c, h, path, true, status);
    char *text = j ? dieset_text_write_set(job_dieset(j)) : NULL;
    cli_close(c, j);
    return text;
}

int cli_new(struct cli_call *c)
{
    const char *name = c->like ? c->like : usual_template;
    char *job = c->like ? like_job(c, name) : NULL, *path = job ? NULL : cli_template(c, name), *text = NULL;
    if (!job && !path)
        return no_template(c, name);
    int status;
    struct base_diag why = {0};
    struct handbook *h = cli_handbook(c, &status);
    if (h && job)
        text = text_like(c, h, job, &status);
    else if (h && base_read_file(path, &text, NULL, &why))
        status = cli_complain(&why);
    const char *is = job ? job : todays_name(name);
    if (text)
        status = begin(c, h, text, is);
    if (text && status == CLI_DONE && !job && strcmp(is, name) != 0)
        cli_say(stderr, "%s is called %s now.\n", name, is);
    handbook_free(h);
    free(text);
    free(path);
    free(job);
    return status;
}

int cli_load(struct cli_call *c)
{
    char *text = NULL;
    struct base_diag why = {0};
    if (base_read_file(c->words[1], &text, NULL, &why))
        return cli_complain(&why);
    int status;
    if (text[strspn(text, " \t\r\n")] == '\0') {
        cli_say(stderr,
                "diewright: %s is empty. The text of a job begins with the record job; dump writes one.\n",
                c->words[1]);
        free(text);
        return CLI_REFUSED;
    }
    struct handbook *h = cli_handbook(c, &status);
    if (h)
        status = begin(c, h, text, c->words[1]);
    handbook_free(h);
    free(text);
    return status;
}

static int dump(struct cli_call *c, struct job *j)
{
    (void)c;
    char *text = job_dump(j);
    cli_put(stdout, text);
    free(text);
    return CLI_DONE;
}

int cli_dump(struct cli_call *c) { return cli_with_job(c, true, dump); }
