/* tui/views/tolerance.c - a value as it is made, all chains, rules at the worst case: the papers as lines */

#include "tui/form.h"
#include "tui/lines.h"
#include "tui/views.h"

#include <stdlib.h>
#include <string.h>

struct shown {
    struct tui *t;
    char *name, *item;
};

static void drop(void *source)
{
    struct shown *s = source;
    free(s->name);
    free(s->item);
    free(s);
}

/* A line that begins with the title of a size leads to that size. */
static char *path_of(const void *source, const char *line)
{
    const struct shown *s = source;
    struct dieset *d = s->t->d;
    const char *gap = strstr(line, "  ");
    size_t n = gap ? (size_t)(gap - line) : strlen(line);
    for (int q = 0; q < dieset_quantity_count(d) && n > 0; q++) {
        const struct dieset_quantity *v = dieset_quantity(d, q);
        if (!v->property || v->item < 0 || !v->property->limits.high)
            continue;
        char *title = base_format("%s of %s", v->property->title, dieset_item_title(d, v->item));
        bool same = strlen(title) == n && strncmp(title, line, n) == 0;
        free(title);
        if (same)
            return base_copy(v->path);
    }
    return NULL;
}

static void tell(const void *source, int width, lines_tell_fn *tell_line, void *arg)
{
    const struct shown *s = source;
    const struct tolerance_ask how = {.seed = 1, .samples = TOLERANCE_SAMPLES};
    struct base_diag why = {0};
    struct report_paper p;
    bool rules = strcmp(s->name, "worst") == 0;
    enum base_err err = rules ? report_worst(job_findings(s->t->job), &p, &why)
                              : report_tolerance(s->t->d, s->name, s->item, &how, &p, &why);
    lines_tell_paper(err, &p, &why, width, path_of, s, tell_line, arg);
}

void tolerance_open(struct tui *t, const char *words)
{
    enum { WORD = 200 };
    char name[WORD], item[WORD];
    const char *rest = record_word(words, name, sizeof name);
    int q = form_quantity(t);
    record_word(rest, item, sizeof item);
    struct shown *s = base_alloc(sizeof *s);
    /* an expression may have blanks: it is all of the words, where they name no chain */
    bool chain = handbook_find_chain(dieset_handbook(t->d), name) >= 0;
    s->t = t;
    s->name = base_copy(strcmp(name, "chains") == 0 ? ""
                        : *name                     ? (chain ? name : words)
                        : q >= 0                    ? dieset_quantity(t->d, q)->path
                                                    : "");
    s->item = base_copy(chain ? item : "");
    lines_open_live(t, "as it is made; also :tolerance chains, :tolerance worst", s, tell, drop);
}
