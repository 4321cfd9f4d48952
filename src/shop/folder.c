/* Everything that a shop works from, as files in a folder. */

#include "shop/inside.h"

#include <stdlib.h>
#include <string.h>

struct shop {
    const struct shop_ask *ask;
    struct job *j;
    struct shop_title title;
    struct shop_files files;
    const char *folder;
    struct base_text html; /* what stands behind the contents */
    BASE_VEC(char *) ids, titles;
    BASE_VEC(char *) sizes; /* the paper that each PDF is printed on, with the file's path */
};

/* "FOLDER/TEST-05-die_plate-A.pdf"; a job that is not issued as it stands is a draft. */
static char *path_of(const struct shop *s, const char *name, const char *suffix)
{
    const char *revision = s->title.title.revision;
    char *path = base_format("%s/%s-%s-%s.%s", s->folder, s->title.number, name,
                             *revision ? revision : "draft", suffix);
    for (char *at = path + strlen(s->folder) + 1; *at; at++) /* a number such as 4711/2 is no folder */
        if (*at == '/')
            *at = '-';
    return path;
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
    draw_pdf(b->at.at, (int)b->at.count, b->title, shop_file(&s->files, path));
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
    put_book(s, b, name);
    put_contents(s, b->title);
    for (size_t i = 0; i < b->at.count; i++) { /* each on a page of its own */
        struct base_text svg = {0};
        draw_svg(&b->at.at[i], 1, b->title, &svg);
        report_html_drawing(base_text_get(&svg), i ? "" : s->ids.at[s->ids.count - 1], b->title, &s->html);
        base_text_done(&svg);
    }
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
    /* a set whose stations bear no numbers has no strip that could be drawn */
    if (!err && sheet_strip(d, &s->title.title, &b, NULL) == BASE_OK)
        put_drawing(s, &b, "00-strip");
    for (int i = 0; i < n && !err; i++) {
        err = sheet_plate(d, layers[i].plate, DIESET_NEW, s->ask->datum, &s->title.title, &b, why);
        char *name = base_format("%02d-%s", i + 1, dieset_item_name(d, layers[i].plate));
        if (!err)
            put_drawing(s, &b, name);
        free(name);
    }
    return err;
}

/* ---- lists ------------------------------------------------------------------------------ */

static enum base_err put_list(struct shop *s, const char *name, const char *title, struct base_diag *why)
{
    struct report_paper p;
    struct sheet_book b;
    struct shop_ask all = *s->ask;
    all.plate = -1;
    if (shop_make(&all, name, &p, why) != BASE_OK)
        return BASE_REFUSED;
    sheet_pages(&p, sheet_inch_paper(job_dieset(s->j)), name, title, &s->title.title, &b);
    put_book(s, &b, name);
    sheet_done(&b);
    char *open = sheet_open_words(&s->title.title);
    char *head = base_format("%s-%s, %s, %s%s%s", s->title.number, name, s->title.title.job,
                             s->title.standing, *open ? ", " : "", open);
    report_paged(&p, head, 66, shop_file(&s->files, path_of(s, name, "txt")));
    report_write(&p, REPORT_CSV, shop_file(&s->files, path_of(s, name, "csv")));
    put_contents(s, title);
    report_html(&p, head, s->ids.at[s->ids.count - 1], title, &s->html);
    free(open);
    free(head);
    report_done(&p);
    return BASE_OK;
}

/* ---- solids ------------------------------------------------------------------------------ */

static enum base_err put_solid(struct shop *s, int plate, const char *name, bool curves,
                               struct base_diag *why)
{
    struct shop_ask ask = *s->ask;
    struct base_text text = {0};
    ask.plate = plate;
    enum base_err err = shop_solid(&ask, 0, curves, &text, why);
    if (!err)
        *shop_file(&s->files, path_of(s, name, curves ? "svg" : "step")) = text;
    else
        base_text_done(&text);
    return err;
}

static enum base_err put_solids(struct shop *s, struct base_diag *why)
{
    struct dieset *d = job_dieset(s->j);
    struct dieset_layer layers[64];
    int n = dieset_stack(d, DIESET_NEW, layers, COUNT_OF(layers));
    enum base_err err = put_solid(s, -1, "00-set", false, why);
    for (int i = 0; i < n && !err; i++) {
        char *name = base_format("%02d-%s", i + 1, dieset_item_name(d, layers[i].plate));
        err = put_solid(s, layers[i].plate, name, false, why);
        err = err ? err : put_solid(s, layers[i].plate, name, true, why);
        free(name);
    }
    return err;
}

static void put_html(struct shop *s)
{
    struct base_text *out = shop_file(&s->files, path_of(s, "papers", "html"));
    const struct sheet_title *t = &s->title.title;
    char *open = sheet_open_words(t);
    const char *const lines[] = {t->standing, t->date, open, t->sums};
    char *title = base_format("%s: %s", t->number, t->job);
    report_html_begin(title, lines, COUNT_OF(lines), sheet_inch_paper(job_dieset(s->j)), out);
    report_html_contents((const char *const *)s->ids.at, (const char *const *)s->titles.at, (int)s->ids.count,
                         out);
    base_text_add(out, base_text_get(&s->html));
    report_html_end(out);
    free(title);
    free(open);
}

static void tell(const struct shop *s, struct base_text *told)
{
    for (size_t i = 0; i < s->files.at.count; i++)
        base_text_addf(told, "%s\n", s->files.at.at[i].path);
    base_text_add(told, "\nTo print them, without scaling:\n");
    for (size_t i = 0; i < s->sizes.count; i++)
        base_text_addf(told, "%s\n", s->sizes.at[i]);
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
    shop_files_done(&s->files);
    shop_title_done(&s->title);
}

/* What an issued revision's papers say is not changed under its letter; a draft's are made anew. */
static enum base_err may_write(const struct shop *s, struct base_diag *why)
{
    const char *other = *s->title.title.revision ? shop_files_differ(&s->files) : NULL;
    if (!other)
        return BASE_OK;
    return base_fail(
        why, BASE_REFUSED,
        "%s stands there and says something else: papers of another job, or made by another handbook. "
        "Nothing was written; choose another folder.",
        other);
}

enum base_err shop_folder(const struct shop_ask *ask, const char *folder, bool solids, struct base_text *told,
                          struct base_diag *why)
{
    struct shop s = {.ask = ask, .j = ask->job, .folder = folder};
    shop_title(ask->job, &s.title);
    enum base_err err = drawings(&s, why);
    const char *name, *title;
    for (int i = 0; !err && shop_paper(ask->job, i, &name, &title); i++)
        if (strcmp(name, SHOP_RECHECK) != 0) /* is of a day, not of the set */
            err = put_list(&s, name, title, why);
    if (!err && solids)
        err = put_solids(&s, why);
    if (!err)
        put_html(&s);
    err = err ? err : may_write(&s, why);
    err = err ? err : shop_files_write(&s.files, s.folder, why);
    if (!err)
        tell(&s, told);
    shop_done(&s);
    return err;
}
