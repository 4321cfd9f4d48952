/* new, dump, load: jobs as files and as texts. */

#include "cli/cli.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const char usual_template[] = "four-posts-seven-plates-spring-stripper";

static int begin(struct cli_call *c, struct handbook *h, const char *text, const char *name)
{
    struct job *j = NULL;
    struct base_diag why = {0};
    char *path = job_path(c->words[0]);
    int status = job_create(h, path, text, name, &j, &why) ? cli_complain(&why) : CLI_DONE;
    if (j) {
        cli_say(stderr, "%s begun from %s.\n", path, name);
        cli_warn(j);
    }
    job_close(j);
    free(path);
    return status;
}

/* Templates and the demo jobs are looked for by name; a path with a slash is a file. */
static const struct { const char *folder, *what; } shelves[] = {{"templates", "templates"}, {"demo", "demo jobs"}};

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

char *cli_template(const struct cli_call *c, const char *name)
{
    if (strchr(name, '/'))
        return base_copy(name);
    for (size_t i = 0; i < COUNT_OF(shelves); i++) {
        char *path = base_format("%s/%s/%s.txt", c->options->data, shelves[i].folder, name);
        if (access(path, R_OK) == 0)
            return path;
        free(path);
    }
    return NULL;
}

int cli_new(struct cli_call *c)
{
    const char *name = c->like ? c->like : usual_template;
    char *path = cli_template(c, name), *text = NULL;
    if (!path)
        return no_template(c, name);
    struct base_diag why = {0};
    int status = base_read_file(path, &text, NULL, &why) ? cli_complain(&why) : CLI_DONE;
    struct handbook *h = status == CLI_DONE ? cli_handbook(c, &status) : NULL;
    if (h)
        status = begin(c, h, text, name);
    handbook_free(h);
    free(text);
    free(path);
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
        cli_say(stderr, "diewright: %s is empty. The text of a job begins with the record job; dump writes one.\n", c->words[1]);
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
