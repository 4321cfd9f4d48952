/* papers: everything that a shop works from, as files in a folder. */

#include "cli/cli.h"

#include <stdlib.h>
#include <string.h>

struct shop {
    struct cli_call *c;
    struct job *j;
    struct cli_title title;
    struct cli_files files;
    const char *folder;
    struct base_text html; /* what stands behind the contents */
    BASE_VEC(char *) ids, titles;
    BASE_VEC(char *) sizes; /* the paper that each PDF is printed on, with the file's path */
};

/* "FOLDER/TEST-05-die_plate-A.pdf"; a job that is not issued as it stands is a draft. */
static char *path_of(const struct shop *s, const char *name, const char *suffix)
{
    const char *revision = s->title.title.revision;
    return base_format("%s/%s-%s-%s.%s", s->folder, s->title.number, name, *revision ? revision : "draft",
                       suffix);
}

/* PATH as one word of a shell. Yours to free(). */
static char *quoted(const char *path)
{
    struct base_text t = {0};
    base_text_add(&t, "'");
    for (; *path; path++)
        base_text_add_n(&t, *path == '\'' ? "'\\''" : path, *path == '\'' ? 4 : 1);
    base_text_add(&t, "'");
    return base_text_take(&t);
}

static void put_book(struct shop *s, struct sheet_book *b, const char *name)
{
    char *path = path_of(s, name, "pdf"), *word = quoted(path);
    base_vec_push(&s->sizes, base_format("lp -o media=%s -o print-scaling=none %s",
                                         sheet_paper_name(&b->at.at[0]), word));
    free(word);
    draw_pdf(b->at.at, (int)b->at.count, b->title, cli_file(&s->files, path));
}

static void put_contents(struct shop *s, const char *title)
{
    char *id = base_format("p%zu", s->ids.count + 1);
    base_vec_push(&s->ids, id);
    base_vec_push(&s->titles, base_copy(title));
}

/* ---- drawings ------------------------------------------------------------------------ */

static void put_drawing(struct shop *s, struct sheet_book *b, const char *name)
{
    struct base_text svg = {0};
    put_book(s, b, name);
    put_contents(s, b->title);
    draw_svg(b->at.at, (int)b->at.count, b->title, &svg);
    report_html_drawing(base_text_get(&svg), s->ids.at[s->ids.count - 1], b->title, &s->html);
    base_text_done(&svg);
    sheet_done(b);
}

static enum base_err drawings(struct shop *s, struct base_diag *why)
{
    struct dieset *d = job_dieset(s->j);
    struct dieset_layer layers[64];
    struct sheet_book b;
    int n = dieset_stack(d, DIESET_NEW, layers, COUNT_OF(layers));
    enum base_err err = sheet_set(d, DIESET_NEW, &s->title.title, &b, why);
    if (!err)
        put_drawing(s, &b, "00-set");
    for (int i = 0; i < n && !err; i++) {
        err = sheet_plate(d, layers[i].plate, DIESET_NEW, s->c->datum, &s->title.title, &b, why);
        char *name = base_format("%02d-%s", i + 1, dieset_item_name(d, layers[i].plate));
        if (!err)
            put_drawing(s, &b, name);
        free(name);
    }
    return err;
}

/* ---- lists ------------------------------------------------------------------------------ */

static void put_list(struct shop *s, const struct cli_list *list)
{
    struct report_paper p;
    struct sheet_book b;
    struct base_diag why = {0};
    if (list->make(s->c, s->j, &p, &why) != BASE_OK)
        return;
    sheet_pages(&p, dieset_system(job_dieset(s->j)), list->name, list->title, &s->title.title, &b);
    put_book(s, &b, list->name);
    sheet_done(&b);
    char *head = base_format("%s-%s, %s, %s", s->title.number, list->name, s->title.title.job,
                             s->title.standing);
    report_paged(&p, head, 66, cli_file(&s->files, path_of(s, list->name, "txt")));
    report_write(&p, REPORT_CSV, cli_file(&s->files, path_of(s, list->name, "csv")));
    put_contents(s, list->title);
    report_html(&p, s->ids.at[s->ids.count - 1], list->title, &s->html);
    free(head);
    report_done(&p);
}

static void put_html(struct shop *s)
{
    struct base_text *out = cli_file(&s->files, path_of(s, "papers", "html"));
    const struct sheet_title *t = &s->title.title;
    char *open = base_format("Open: %d fault%s, %d caution%s. %s", t->faults, t->faults == 1 ? "" : "s",
                             t->cautions, t->cautions == 1 ? "" : "s", t->faults ? "NOT TO BE MADE BY." : "");
    const char *const lines[] = {t->standing, t->date, open, t->sums};
    char *title = base_format("%s: %s", t->number, t->job);
    report_html_begin(title, lines, COUNT_OF(lines), out);
    report_html_contents((const char *const *)s->ids.at, (const char *const *)s->titles.at, (int)s->ids.count,
                         out);
    base_text_add(out, base_text_get(&s->html));
    report_html_end(out);
    free(title);
    free(open);
}

static void tell(const struct shop *s)
{
    for (size_t i = 0; i < s->files.at.count; i++)
        cli_say(stdout, "%s\n", s->files.at.at[i].path);
    cli_put(stdout, "\nTo print them, without scaling:\n");
    for (size_t i = 0; i < s->sizes.count; i++)
        cli_say(stdout, "%s\n", s->sizes.at[i]);
}

static void shop_done(struct shop *s)
{
    for (size_t i = 0; i < s->ids.count; i++) {
        free(s->ids.at[i]);
        free(s->titles.at[i]);
    }
    for (size_t i = 0; i < s->sizes.count; i++)
        free(s->sizes.at[i]);
    base_vec_done(&s->ids);
    base_vec_done(&s->titles);
    base_vec_done(&s->sizes);
    base_text_done(&s->html);
    cli_files_done(&s->files);
    cli_title_done(&s->title);
}

/* What an issued revision's papers say is not changed under its letter; a draft's are made anew. */
static enum base_err may_write(const struct shop *s, struct base_diag *why)
{
    const char *other = *s->title.title.revision ? cli_files_differ(&s->files) : NULL;
    if (!other)
        return BASE_OK;
    return base_fail(
        why, BASE_REFUSED,
        "%s stands there and says something else: papers of another job, or made by another handbook. "
        "Nothing was written; choose another folder.",
        other);
}

static int papers(struct cli_call *c, struct job *j)
{
    struct shop s = {.c = c, .j = j, .folder = c->words[1]};
    struct base_diag why = {0};
    cli_title(j, &s.title);
    enum base_err err = drawings(&s, &why);
    int n;
    const struct cli_list *lists = cli_lists(&n);
    for (int i = 0; i < n && !err; i++)
        put_list(&s, &lists[i]);
    if (!err)
        put_html(&s);
    err = err ? err : may_write(&s, &why);
    err = err ? err : cli_files_write(&s.files, s.folder, &why);
    if (!err)
        tell(&s);
    shop_done(&s);
    return err ? cli_complain(&why) : CLI_DONE;
}

int cli_papers(struct cli_call *c) { return cli_with_job(c, true, papers); }
