/* tui/views/cautions.c - the cautions whole, in a list that scrolls, and what no finding covers: each with
 * where it is from
 */

#include "tui/act.h"
#include "tui/form.h"
#include "tui/lines.h"

#include <stdlib.h>
#include <string.h>

/* What the list tells, each with where it has it from; NULL: from the job. */
struct told { BASE_VEC(char *) texts, sources; };

static void tell(struct told *all, const char *text, const char *source)
{
    for (size_t i = 0; i < all->texts.count; i++)
        if (strcmp(all->texts.at[i], text) == 0)
            return;
    base_vec_push(&all->texts, base_copy(text));
    base_vec_push(&all->sources, source ? base_copy(source) : NULL);
}

static void tell_cautions(struct tui *t, struct told *all, int item)
{
    const struct handbook_caution **list;
    int n = dieset_cautions(t->d, item, false, &list);
    for (int i = 0; i < n; i++)
        tell(all, list[i]->text, list[i]->source);
    free(list);
}

static void tell_stamps(struct tui *t, struct told *all)
{
    for (int i = 0; i < dieset_item_count(t->d); i++) {
        struct base_text stamp = {0};
        if (dieset_stamp(t->d, i, &stamp))
            tell(all, base_text_get(&stamp), NULL);
        base_text_done(&stamp);
    }
}

static void tell_wrapped(const char *text, int width, const char *in, lines_tell_fn *to, void *arg)
{
    size_t n, skip;
    for (const char *p = text; *p; p += n + skip) {
        n = paint_wrap(p, width - (int)strlen(in), &skip);
        char *line = base_format("%s%.*s", p == text ? in : in[0] ? in : "   ", (int)n, p);
        to(arg, line, NULL);
        free(line);
    }
}

static void make(const void *source, int width, lines_tell_fn *to, void *arg)
{
    const struct told *all = source;
    int room = width < LAYOUT_READ ? width : LAYOUT_READ;
    for (size_t i = 0; i < all->texts.count; i++) {
        tell_wrapped(all->texts.at[i], room - 3, "", to, arg);
        if (all->sources.at[i])
            tell_wrapped(all->sources.at[i], room, "      ", to, arg);
    }
}

static void drop(void *source)
{
    struct told *all = source;
    for (size_t i = 0; i < all->texts.count; i++) {
        free(all->texts.at[i]);
        free(all->sources.at[i]);
    }
    base_vec_done(&all->texts);
    base_vec_done(&all->sources);
    free(all);
}

/* Those of the item at the cursor stand before those of the rest of the job. */
void act_cautions(struct tui *t)
{
    struct told *all = base_alloc(sizeof *all);
    int item = *t->form->item ? dieset_find_item(t->d, t->form->item) : -1;
    if (item >= 0)
        tell_cautions(t, all, item);
    tell_cautions(t, all, -1);
    tell_stamps(t, all);
    lines_open_made(t, "cautions: what can hurt", all, make, drop);
}

/* What a verdict without a fault does not cover. */
void act_unjudged(struct tui *t)
{
    struct told *all = base_alloc(sizeof *all);
    struct dieset_unjudged list;
    dieset_unjudged(t->d, &list);
    for (int i = 0; i < list.count; i++)
        tell(all, list.at[i].text, list.at[i].source);
    dieset_unjudged_free(&list);
    lines_open_made(t, "unjudged: what no verdict covers", all, make, drop);
}
