/* new, page, start, dump, load: jobs as files and as texts, and what they begin from. */

#include "cli/cli.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* ---- starts ----------------------------------------------------------------------------- */

static const char *const shelves[START_SHELVES] = {"own", "shipped", "demo job"};

static const struct report_column start_columns[] = {{"start", "name", false},
                                                     {"whose", "whose", false},
                                                     {"line", "what it is", false}};

static void list_starts(struct base_text *out, const struct start_list *l, int width)
{
    enum { INDENT = 24 };
    for (size_t i = 0; i < l->at.count; i++) {
        const struct start *s = &l->at.at[i];
        char *first = base_format("%-*s", INDENT, s->name),
             *line = base_format("%s%s%s", s->shelf == START_SHIPPED ? "" : shelves[s->shelf],
                                 s->shelf == START_SHIPPED ? "" : ": ", s->line);
        cli_wrap(out, first, line, INDENT, width);
        free(first);
        free(line);
    }
}

static int no_starts(const struct cli_call *c)
{
    cli_say(stderr, "diewright: There are no starts in %s; say where they are with --data FOLDER.\n",
            c->options->data);
    return CLI_REFUSED;
}

static int tell_starts(struct cli_call *c, const struct start_list *l)
{
    if (!l->at.count)
        return no_starts(c);
    struct base_text out = {0};
    struct report_paper p;
    if (c->format == REPORT_TEXT) {
        list_starts(&out, l, c->options->width);
        base_text_add(&out, "diewright new --like NAME tells when to take one, diewright new JOB --like NAME "
                            "begins a job.\n");
        cli_out(&out);
        return CLI_DONE;
    }
    report_begin(&p, start_columns, COUNT_OF(start_columns));
    for (size_t i = 0; i < l->at.count; i++) {
        report_text(&p, l->at.at[i].name);
        report_text(&p, shelves[l->at.at[i].shelf]);
        report_text(&p, l->at.at[i].line);
    }
    cli_print(&p, c->format);
    return CLI_DONE;
}

static int no_template(const struct cli_call *c, const struct start_list *l, const char *name)
{
    struct base_text out = {0};
    if (!l->at.count)
        return no_starts(c);
    cli_say(stderr, "diewright: There is no start \"%s\". These are there:\n", name);
    list_starts(&out, l, c->options->width);
    cli_put(stderr, base_text_get(&out));
    base_text_done(&out);
    return CLI_REFUSED;
}

/* The starts had longer names; they still answer. */
static const struct {
    const char *was, *is;
} renamed[] = {
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
    struct start_list all;
    start_list_read(c->options->data, c->options->own, &all);
    const struct start *s = start_find(&all, todays_name(name));
    char *path = s ? base_copy(s->path) : NULL;
    start_list_done(&all);
    return path;
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
    char *text = j ? start_text_like(j) : NULL;
    cli_close(c, j);
    return text;
}

/* ---- new ------------------------------------------------------------------------------------- */

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

static int print_page(struct cli_call *c, struct job *j);

static bool has_page(struct job *j)
{
    struct start_page page;
    start_page(j, &page);
    return page.n_asks || page.n_tells;
}

/* "NAME=FORMULA" words from FROM on, parted in place. */
struct typed_words {
    const char **paths, **formulas;
    int n;
};

static int part_words(struct cli_call *c, int from, struct typed_words *out)
{
    out->n = c->n_words - from;
    out->paths = base_alloc((size_t)(out->n + 1) * sizeof *out->paths);
    out->formulas = base_alloc((size_t)(out->n + 1) * sizeof *out->formulas);
    for (int i = 0; i < out->n; i++)
        if (!cli_part_change(c->words[from + i], &out->paths[i], &out->formulas[i]))
            return cli_usage(c, "What is typed is written NAME=FORMULA, not \"%s\".", c->words[from + i]);
    return CLI_DONE;
}

static void typed_done(struct typed_words *w)
{
    free(w->paths);
    free(w->formulas);
}

/* The job of the first word begun from TEXT, with what is TYPED over; where that is anything its page is
   told. */
static int begin(struct cli_call *c, struct handbook *h, const char *text, const char *name,
                 const struct typed_words *typed)
{
    struct job *j = NULL;
    struct base_diag why = {0};
    char *path = job_path(c->words[0]);
    int status = CLI_DONE;
    if (start_begin(h, path, text, name, typed->paths, typed->formulas, typed->n, &j, &why))
        status = cli_complain(&why);
    int taken = 0;
    if (j && c->options->shop &&
        (start_shop_try(j, c->options->shop, &taken, NULL, &why) || (taken && job_take(j, &why))))
        status = cli_complain(&why); /* the job stands, without them */
    if (j) {
        cli_say(stderr, "%s begun from %s%s%s.\n", path, name, taken ? ", with the settings of " : "",
                taken ? c->options->shop : "");
        tell_left_over(path);
        cli_warn(j);
        if (typed->n && has_page(j))
            print_page(c, j);
        c->saved = true;
    }
    job_close(j);
    free(path);
    return status;
}

static int begin_like(struct cli_call *c, const char *name)
{
    char *job = c->like ? like_job(c, name) : NULL, *path = job ? NULL : cli_template(c, name), *text = NULL;
    struct base_diag why = {0};
    int status;
    struct handbook *h = cli_handbook(c, &status);
    if (h && job)
        text = text_like(c, h, job, &status);
    else if (h && base_read_file(path, &text, NULL, &why))
        status = cli_complain(&why);
    const char *is = job ? job : todays_name(name);
    struct typed_words typed = {0};
    if (text)
        status = part_words(c, 1, &typed);
    if (text && status == CLI_DONE)
        status = begin(c, h, text, is, &typed);
    typed_done(&typed);
    if (text && status == CLI_DONE && !job && strcmp(is, name) != 0)
        cli_say(stderr, "%s is called %s now.\n", name, is);
    handbook_free(h);
    free(text);
    free(path);
    free(job);
    return status;
}

/* When to take it, and what is put in first. */
static int tell_start(struct cli_call *c, const struct start *s)
{
    struct base_text out = {0};
    struct start_paragraph paragraphs[START_PARAGRAPHS];
    int n = start_page_text(s, paragraphs);
    base_text_addf(&out, "%s\n%s\n", s->name, s->line);
    for (int i = 0; i < n; i++) {
        base_text_addf(&out, "\n%s\n", paragraphs[i].head);
        cli_wrap(&out, "  ", paragraphs[i].text, 2, c->options->width);
    }
    cli_out(&out);
    return CLI_DONE;
}

int cli_new(struct cli_call *c)
{
    const char *name = c->like ? c->like : start_usual;
    struct start_list all;
    start_list_read(c->options->data, c->options->own, &all);
    const struct start *s = start_find(&all, todays_name(name));
    char *job = c->like && !s ? like_job(c, name) : NULL;
    bool file = strchr(name, '/') != NULL;
    int status;
    if (c->like && !*c->like)
        status = cli_usage(c, "Like what? The name of a start, or a job, stands behind --like.");
    else if (c->n_words == 0 && !c->like)
        status = tell_starts(c, &all);
    else if (!s && !job && !file)
        status = no_template(c, &all, name);
    else if (c->n_words == 0)
        status = s ? tell_start(c, s) : cli_usage(c, "%s is no start: its page cannot be told.", name);
    else
        status = begin_like(c, name);
    start_list_done(&all);
    free(job);
    return status;
}

/* ---- the page, and starts of one's own ---------------------------------------------------------- */

static const struct report_column page_columns[] = {
    {"page", "page", false}, {"name", "name", false}, {"title", "title", false}, {"value", "value", false}};

static void page_rows(struct report_paper *p, struct job *j, const char *part, const int *quantities, int n)
{
    struct dieset *d = job_dieset(j);
    for (int i = 0; i < n; i++) {
        char text[200];
        dieset_print(d, quantities[i], DIESET_NEW, text, sizeof text);
        report_text(p, part);
        report_text(p, dieset_quantity(d, quantities[i])->path);
        report_text(p, dieset_quantity(d, quantities[i])->title);
        report_text(p, text);
    }
}

static int print_page(struct cli_call *c, struct job *j)
{
    struct start_page page;
    struct report_paper p;
    start_page(j, &page);
    report_begin(&p, page_columns, COUNT_OF(page_columns));
    page_rows(&p, j, "asked", page.asks, page.n_asks);
    page_rows(&p, j, "estimate", page.tells, page.n_tells);
    cli_print(&p, c->format);
    return CLI_DONE;
}

static int page(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    struct typed_words typed;
    if (!has_page(j)) {
        cli_say(stderr,
                "diewright: The job was begun from no start that has a page; show tells its values.\n");
        return CLI_REFUSED;
    }
    int status = part_words(c, 1, &typed);
    if (status == CLI_DONE && typed.n) {
        if (job_set_many(j, typed.paths, typed.formulas, typed.n, &why))
            status = cli_complain(&why);
        else if (job_changes_nothing(j))
            job_drop(j);
        else if (job_take(j, &why))
            status = cli_complain(&why);
    }
    typed_done(&typed);
    return status == CLI_DONE ? print_page(c, j) : status;
}

int cli_page(struct cli_call *c) { return cli_with_job(c, c->n_words == 1, page); }

static int take_shop(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    struct base_text own = {0};
    int n;
    if (!c->options->shop)
        return cli_usage(c, "There are no settings of the shop: neither --shop nor a file diewright/shop.txt "
                            "where XDG_CONFIG_HOME or ~/.config is.");
    if (start_shop_try(j, c->options->shop, &n, &own, &why))
        return cli_complain(&why);
    if (own.length)
        cli_say(stderr, "The job has its own:\n%s", base_text_get(&own));
    base_text_done(&own);
    if (n)
        return cli_take(c, j);
    cli_say(stdout, "The job has all settings of %s, or its own.\n", c->options->shop);
    return CLI_DONE;
}

int cli_shop(struct cli_call *c) { return cli_with_job(c, false, take_shop); }

static int keep(struct cli_call *c, struct job *j)
{
    struct base_diag why = {0};
    char *path;
    if (start_keep(j, c->options->data, c->options->own, c->words[1], c->words[2], c->note ? c->note : "",
                   &path, &why))
        return cli_complain(&why);
    cli_say(stdout, "%s is kept as the start %s in %s.\n", job_title(j), c->words[1], path);
    free(path);
    return CLI_DONE;
}

int cli_start(struct cli_call *c) { return cli_with_job(c, true, keep); }

/* ---- dump and load --------------------------------------------------------------------------- */

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
        status = begin(c, h, text, c->words[1], &(struct typed_words){0});
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
