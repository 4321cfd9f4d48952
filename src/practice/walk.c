/* A guide walked through: which step is at hand, and what a step says with the job's values in it. */

#include "practice/practice.h"

#include <stdlib.h>
#include <string.h>

struct practice_walk {
    const struct practice_guide *about;
    struct job *job;
    int at;
};

enum base_err practice_walk_begin(const struct practice_book *b, const struct handbook *h, int i,
                                  struct practice_walk **out, struct base_diag *why)
{
    const struct practice_guide *g = practice_guide(b, i);
    struct job *like, *j = NULL;
    *out = NULL;
    enum base_err err = practice_open_like(h, b->data, g->base->like, &like, why);
    if (!err)
        err = practice_type(like, g->base->sets, why);
    if (err)
        job_close(like);
    else
        err = practice_afresh(h, like, g->title, g->name, &j, why);
    if (err) {
        base_diag_place(why, g->place.file, g->place.line);
        return err;
    }
    struct practice_walk *w = base_alloc(sizeof *w);
    *w = (struct practice_walk){.about = g, .job = j};
    practice_walk_look(w, NULL);
    *out = w;
    return BASE_OK;
}

void practice_walk_end(struct practice_walk *w)
{
    if (!w)
        return;
    job_close(w->job);
    free(w);
}

struct job *practice_walk_job(struct practice_walk *w) { return w->job; }
const struct practice_guide *practice_walk_about(const struct practice_walk *w) { return w->about; }
int practice_walk_at(const struct practice_walk *w) { return w->at; }

/* Is WORD one of the words of LIST? */
static bool is_word_of(const char *list, const char *word)
{
    char one[80];
    for (const char *rest = list; *rest;) {
        rest = record_word(rest, one, sizeof one);
        if (strcmp(one, word) == 0)
            return true;
    }
    return false;
}

int practice_walk_look(struct practice_walk *w, const char *seen)
{
    int before = w->at;
    for (; w->at < w->about->n_steps; w->at++) {
        const struct practice_step *s = &w->about->steps[w->at];
        bool looked = s->looks && seen && (!*seen || is_word_of(s->looks, seen));
        if (s->until ? !practice_holds(job_dieset(w->job), s->until) : !looked)
            break;
        if (looked && *seen)
            seen = NULL; /* looked at once, for one step */
    }
    return w->at - before;
}

void practice_walk_say(struct practice_walk *w, const char *text, struct base_text *out)
{
    struct dieset *d = job_dieset(w->job);
    for (const char *brace; (brace = strchr(text, '{')) && strchr(brace, '}');
         text = strchr(brace, '}') + 1) {
        char *formula = base_copy_n(brace + 1, strcspn(brace + 1, "}")), print[200] = "?";
        struct formula_tree *tree = NULL;
        struct formula_type type = {0};
        base_text_addf(out, "%.*s", (int)(brace - text), text);
        if (formula_parse(formula, &tree, NULL) == BASE_OK) {
            struct formula_value v = dieset_run(d, tree, -1, DIESET_NEW, &type);
            if (!v.error)
                handbook_print(dieset_handbook(d), v, type, dieset_system(d), print, sizeof print);
        }
        base_text_add(out, print);
        formula_tree_free(tree);
        free(formula);
    }
    base_text_add(out, text);
}

enum base_err practice_walk_do(struct practice_walk *w, const char *does, struct base_diag *why)
{
    static const char stations[] = "stations ";
    char *copy = base_copy(does), *equals = strchr(copy, '=');
    enum base_err err;
    if (strncmp(copy, stations, strlen(stations)) == 0) {
        err = job_station_line(w->job, copy + strlen(stations), why);
    } else if (!equals) {
        err = base_fail(why, BASE_REFUSED, "\"%s\" is no change: write NAME=FORMULA, or stations WORDS.",
                        does);
    } else {
        const char *formula = equals + 1 + strspn(equals + 1, " ");
        while (equals > copy && equals[-1] == ' ')
            equals--;
        *equals = '\0';
        err = *formula ? job_set(w->job, copy, formula, why) : job_unset(w->job, copy, why);
    }
    if (!err)
        err = job_take(w->job, why);
    free(copy);
    return err;
}
