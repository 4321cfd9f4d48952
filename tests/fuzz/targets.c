/* What each reader is asked to do with bytes from outside. */

#include "targets.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "diewright/job.h"
#include "diewright/report.h"

const struct handbook *fuzz_handbook(void)
{
    static struct handbook *h;
    struct base_diag why = {0};
    if (!h && job_open_handbook("data", &h, &why)) {
        fprintf(stderr, "%s\n", why.message);
        abort();
    }
    return h;
}

/* Nothing of TEXT, which goes out as it is, would be obeyed by a terminal. */
static void visible(const char *text)
{
    for (const unsigned char *p = (const unsigned char *)text; *p; p++)
        if ((*p < ' ' && *p != '\n' && !(*p == '\r' && p[1] == '\n')) || *p == 0x7f)
            abort();
}

long fuzz_taken;

/* What is refused is refused in a sentence. What cannot be seen of it is shown by the terminal's door. */
static void refused(enum base_err err, const struct base_diag *why)
{
    size_t n = strlen(why->message);
    fuzz_taken += !err;
    if (err && (n < 8 || !strchr(".)\"", why->message[n - 1])) && n < sizeof why->message - 8) {
        fprintf(stderr, "no sentence: %s\n", why->message);
        abort();
    }
}

static char *text_of(const unsigned char *bytes, size_t length)
{
    char *text = base_alloc(length + 1);
    if (length)
        memcpy(text, bytes, length);
    text[length] = '\0';
    return text;
}

void fuzz_formula(const unsigned char *bytes, size_t length)
{
    char *text = text_of(bytes, length), shown[300];
    struct base_diag why = {0};
    struct formula_tree *tree;
    enum base_err err = formula_parse(text, &tree, &why);
    if (!err) {
        free(formula_renamed(tree, "die_plate", "thickness", "x"));
        formula_tree_free(tree);
        struct formula_value value = {0};
        struct formula_type type = {0};
        why = (struct base_diag){0};
        err = handbook_eval(fuzz_handbook(), text, &value, &type, &why);
        if (!err)
            handbook_print(fuzz_handbook(), value, type, UNIT_METRIC, shown, sizeof shown);
    }
    refused(err, &why);
    free(text);
}

void fuzz_record(const unsigned char *bytes, size_t length)
{
    char *text = text_of(bytes, length);
    struct base_diag why = {0};
    struct record_document document;
    enum base_err err = record_read(text, length, "text", &document, &why);
    if (!err)
        record_done(&document);
    refused(err, &why);
    free(text);
}

/* A job with one plate, begun once; each import is tried and dropped. */
static struct job *small_job(void)
{
    static struct job *j;
    struct base_diag why = {0};
    if (!j && job_from_text(fuzz_handbook(), "job\n  unit = \"mm\"\n", "small", &j, &why))
        abort();
    return j;
}

void fuzz_csv(const unsigned char *bytes, size_t length)
{
    char *text = text_of(bytes, length);
    struct base_diag why = {0};
    enum base_err err = job_import(small_job(), "press_size", "rows.csv", text, length, &why);
    if (!err)
        job_drop(small_job());
    refused(err, &why);
    free(text);
}

/* What is shown of a job has no byte that a terminal obeys, its CSV no cell that a spreadsheet works out. */
static void shown_quietly(struct job *j)
{
    struct dieset *d = job_dieset(j);
    struct report_paper p;
    struct base_text out = {0};
    int n = dieset_quantity_count(d);
    int *all = base_alloc((size_t)(n + 1) * sizeof *all);
    for (int i = 0; i < n; i++)
        all[i] = i;
    report_show(d, all, n, &p);
    report_write(&p, REPORT_CSV, &out);
    report_done(&p);
    report_check(job_findings(j), &p);
    report_write(&p, REPORT_CSV, &out);
    report_done(&p);
    visible(base_text_get(&out));
    visible(job_title(j));
    bool quoted = false, begins = true;
    for (const char *c = base_text_get(&out); *c; c++) {
        bool number = (*c == '-' || *c == '+') && c[1] >= '0' && c[1] <= '9';
        if (begins && *c != '"' && strchr("=+-@", *c) && !number)
            abort();
        if (*c == '"')
            quoted = !quoted;
        else
            begins = false;
        if (!quoted && (*c == ',' || *c == '\n'))
            begins = true;
    }
    base_text_done(&out);
    free(all);
}

void fuzz_job(const unsigned char *bytes, size_t length)
{
    char *text = text_of(bytes, length);
    struct base_diag why = {0};
    struct job *j, *again;
    enum base_err err = job_from_text(fuzz_handbook(), text, "text", &j, &why);
    if (!err) {
        char *written = dieset_text_write(job_dieset(j));
        if (job_from_text(fuzz_handbook(), written, "written", &again, &why))
            abort();
        char *twice = dieset_text_write(job_dieset(again));
        if (strcmp(written, twice) != 0)
            abort();
        visible(written);
        shown_quietly(j);
        free(twice);
        free(written);
        job_close(again);
        job_close(j);
    }
    refused(err, &why);
    free(text);
}

static const char *file;
void fuzz_file_at(const char *path) { file = path; }

void fuzz_file(const unsigned char *bytes, size_t length)
{
    struct base_diag why = {0};
    struct job *j;
    FILE *f = fopen(file, "wb");
    if (!f || fwrite(bytes, 1, length, f) != length || fclose(f) != 0)
        abort();
    enum base_err err = job_open(fuzz_handbook(), file, length % 2, &j, &why);
    refused(err, &why);
    if (err == BASE_OK) {
        char *written = job_dump(j);
        visible(written);
        free(written);
        shown_quietly(j);
        job_close(j);
        return;
    }
    char *now;
    size_t n;
    if (base_read_file(file, &now, &n, &why) || n != length || memcmp(now, bytes, n) != 0)
        abort();
    free(now);
}
