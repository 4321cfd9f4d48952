/* What each reader is asked to do with bytes from outside. */

#include "targets.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "diewright/job.h"

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

void fuzz_visible(const char *sentence)
{
    for (const unsigned char *p = (const unsigned char *)sentence; *p; p++)
        if ((*p < ' ' && *p != '\n') || *p == 0x7f)
            abort();
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
    if (formula_parse(text, &tree, &why) == BASE_OK) {
        free(formula_renamed(tree, "die_plate", "thickness", "x"));
        formula_tree_free(tree);
        struct formula_value value = {0};
        struct formula_type type = {0};
        why = (struct base_diag){0};
        if (handbook_eval(fuzz_handbook(), text, &value, &type, &why) == BASE_OK)
            handbook_print(fuzz_handbook(), value, type, UNIT_METRIC, shown, sizeof shown);
    }
    fuzz_visible(why.message);
    free(text);
}

void fuzz_record(const unsigned char *bytes, size_t length)
{
    char *text = text_of(bytes, length);
    struct base_diag why = {0};
    struct record_document document;
    if (record_read(text, length, "text", &document, &why) == BASE_OK)
        record_done(&document);
    fuzz_visible(why.message);
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
    if (job_import(small_job(), "press_size", "rows.csv", text, length, &why) == BASE_OK)
        job_drop(small_job());
    fuzz_visible(why.message);
    free(text);
}

void fuzz_job(const unsigned char *bytes, size_t length)
{
    char *text = text_of(bytes, length);
    struct base_diag why = {0};
    struct job *j, *again;
    if (job_from_text(fuzz_handbook(), text, "text", &j, &why) == BASE_OK) {
        char *written = dieset_text_write(job_dieset(j));
        if (job_from_text(fuzz_handbook(), written, "written", &again, &why))
            abort();
        char *twice = dieset_text_write(job_dieset(again));
        if (strcmp(written, twice) != 0)
            abort();
        free(twice);
        free(written);
        job_close(again);
        job_close(j);
    }
    fuzz_visible(why.message);
    free(text);
}
