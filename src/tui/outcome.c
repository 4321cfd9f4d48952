/* tui/outcome.c - what an edit moves, brings and clears, in lines */

#include "tui/outcome.h"

#include "tui/tui.h"

#include <string.h>

void edit_moves(struct tui *t, const struct dieset_move *m, struct base_text *out)
{
    char was[80], is[80];
    const struct handbook *h = dieset_handbook(t->d);
    handbook_print(h, m->was, m->type, dieset_system(t->d), was, sizeof was);
    handbook_print(h, m->is, m->type, dieset_system(t->d), is, sizeof is);
    base_text_addf(out, "%s  %s -> %s%s", m->path, was, is,
                   m->stateful ? m->state == DIESET_GROUND ? "  (ground)" : "  (new)" : "");
}

bool edit_seen(const struct tui *t, const struct dieset_move *m)
{
    char was[80], is[80];
    const struct handbook *h = dieset_handbook(t->d);
    handbook_print(h, m->was, m->type, dieset_system(t->d), was, sizeof was);
    handbook_print(h, m->is, m->type, dieset_system(t->d), is, sizeof is);
    return strcmp(was, is) != 0;
}

/* What one looks for comes first: stock sizes that step, then what the whole set is measured by, then the
 * rest that forms show, then points and details. 0 is first. */
enum { WEIGHTS = 4 };

int edit_weight(const struct tui *t, const struct dieset_move *m)
{
    int q = dieset_find(t->d, m->path);
    if (q < 0)
        return WEIGHTS - 1;
    const struct dieset_quantity *v = dieset_quantity(t->d, q);
    int kind = v->item < 0 ? -1 : dieset_item_kind(t->d, v->item);
    if (dieset_mark(t->d, q) == DIESET_PICKED)
        return 0;
    if (!v->property || !v->property->plain)
        return WEIGHTS - 1;
    return kind >= 0 && handbook_kind(dieset_handbook(t->d), kind)->single ? 1 : 2;
}

char **edit_move_lines(struct tui *t, const struct job_outcome *o)
{
    char **lines = base_alloc((size_t)(o->n_moves + 1) * sizeof *lines);
    int n = 0;
    for (int w = 0; w < WEIGHTS; w++)
        for (int i = 0; i < o->n_moves; i++) {
            if (edit_weight(t, &o->moves[i]) != w)
                continue;
            struct base_text line = {0};
            edit_moves(t, &o->moves[i], &line);
            lines[n++] = base_text_take(&line);
        }
    return lines;
}

void edit_counts_line(const struct job_outcome *o, struct base_text *out)
{
    base_text_addf(out, "%d moved", o->n_moves);
    if (o->n_came)
        base_text_addf(out, ", %d finding%s came", o->n_came, o->n_came == 1 ? "" : "s");
    if (o->n_went)
        base_text_addf(out, ", %d went", o->n_went);
}

void edit_outcome_line(struct tui *t, struct base_text *out)
{
    const struct job_outcome *o = job_outcome(t->job);
    size_t typed = strcspn(o->title, " ");
    bool any = false;
    base_text_addf(out, "would move %d", o->n_moves);
    if (o->n_came)
        base_text_addf(out, ", bring %d finding%s", o->n_came, o->n_came == 1 ? "" : "s");
    if (o->n_went)
        base_text_addf(out, ", clear %d", o->n_went);
    for (int w = 0; w < WEIGHTS; w++)
        for (int i = 0; i < o->n_moves && out->length < 300; i++) {
            const struct dieset_move *m = &o->moves[i];
            bool itself = strlen(m->path) == typed && strncmp(m->path, o->title, typed) == 0;
            if (itself || edit_weight(t, m) != w)
                continue;
            base_text_add(out, any ? "   " : ":  ");
            edit_moves(t, m, out);
            any = true;
        }
}
