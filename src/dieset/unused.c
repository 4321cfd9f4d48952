/* The words for what nothing asks for as the job stands: which choice would use it. */

#include "dieset/build.h"

#include <stdlib.h>
#include <string.h>

/* The choices that the condition of a value asks, itself or through what it reads: paths, each once, the
   nearest first. */
struct asked { struct dieset *d; int item; BASE_VEC(char *) paths, seen; };

static bool noted(struct asked *a, const char *path)
{
    for (size_t i = 0; i < a->seen.count; i++)
        if (strcmp(a->seen.at[i], path) == 0)
            return true;
    base_vec_push(&a->seen, base_copy(path));
    return false;
}

/* PATH as read by an item: its own property, that of an item it refers to, or one by its whole name. */
static int read_by(struct dieset *d, int item, const char *path)
{
    char *own = base_format("%s.%s", dieset_item_name(d, item), path);
    int q = dieset_find(d, own);
    free(own);
    const char *dot = strchr(path, '.');
    if (q >= 0 || !dot)
        return q;
    char *first = base_copy_n(path, (size_t)(dot - path));
    int behind = dieset_reference(d, item, first);
    behind = behind >= 0 ? behind : dieset_find_item(d, first);
    q = behind < 0 || behind == item ? -1 : read_by(d, behind, dot + 1);
    free(first);
    return q;
}

static void ask(const char *path, int start, void *arg)
{
    struct asked *a = arg;
    int q = read_by(a->d, a->item, path), item = a->item;
    const struct dieset_quantity *v = q < 0 ? NULL : dieset_quantity(a->d, q);
    (void)start;
    if (!v || !v->property || noted(a, v->path))
        return;
    if (v->can_type && v->property->n_choices) {
        base_vec_push(&a->paths, base_copy(v->path));
    } else if (v->property->tree && !v->typed) {
        a->item = v->item;
        formula_names(v->property->tree, ask, a);
        a->item = item;
    }
}

static void asked_done(struct asked *a)
{
    for (size_t i = 0; i < a->paths.count; i++)
        free(a->paths.at[i]);
    for (size_t i = 0; i < a->seen.count; i++)
        free(a->seen.at[i]);
    base_vec_done(&a->paths);
    base_vec_done(&a->seen);
}

/* Would PATH be used with TEXT chosen at CHOICE, on top of CHANGES? */
static bool used_with(struct dieset *d, const char *path, const struct typed_change *changes, int n,
                      const char *item, const char *entry, const char *text)
{
    struct typed_change *all = base_alloc((size_t)(n + 1) * sizeof *all);
    for (int i = 0; i < n; i++)
        all[i] = changes[i];
    char *quoted = base_format("\"%s\"", text);
    all[n] = (struct typed_change){.what = TYPED_ENTRY, .item = item, .path = entry, .after = quoted};
    int q = dieset_try(d, all, n + 1, NULL) == BASE_OK ? dieset_find(d, path) : -1;
    bool yes = q >= 0 && dieset_applies(d, q);
    dieset_drop(d);
    free(quoted);
    free(all);
    return yes;
}

/* "blank.shape is round: ... is used with rectangle, obround or outline": false when no choice there would
   use it. */
static bool tell_choice(struct dieset *d, const char *path, const char *choice, const char *is,
                        const struct typed_change *changes, int n, struct base_text *out)
{
    const struct dieset_quantity *v = dieset_quantity(d, dieset_find(d, choice));
    const struct handbook_property *p = v->property;
    char *item = base_copy(dieset_item_name(d, v->item)), *entry = base_copy(v->entry);
    const char **with = base_alloc((size_t)p->n_choices * sizeof *with);
    int count = 0;
    for (int i = 0; i < p->n_choices; i++)
        if (strcmp(p->choices[i], is) != 0 && used_with(d, path, changes, n, item, entry, p->choices[i]))
            with[count++] = p->choices[i];
    if (count)
        base_text_addf(out, "%s is %s: %s is used with ", choice, is, path);
    for (int i = 0; i < count; i++)
        base_text_addf(out, "%s%s", i == 0 ? "" : i == count - 1 ? " or " : ", ", with[i]);
    if (count)
        base_text_addf(out, ". Set %s first, or both at once.", choice);
    free(with);
    free(item);
    free(entry);
    return count > 0;
}

void dieset_tell_unused(struct dieset *d, const char *path, const struct typed_change *changes, int n,
                        struct base_text *out)
{
    struct asked a = {.d = d};
    BASE_VEC(char *) are = {0};
    bool tried = n > 0 && dieset_try(d, changes, n, NULL) == BASE_OK;
    int q = dieset_find(d, path);
    const struct formula_tree *when = q < 0 ? NULL : quantity_when(d->now, q);
    a.item = q < 0 ? -1 : dieset_quantity(d, q)->item;
    if (when)
        formula_names(when, ask, &a);
    for (size_t i = 0; i < a.paths.count; i++) {
        int c = dieset_find(d, a.paths.at[i]);
        const char *dot = strrchr(a.paths.at[i], '.');
        base_vec_push(&are, base_copy(dieset_text(d, dieset_quantity(d, c)->item, dot + 1)));
    }
    if (tried)
        dieset_drop(d);
    bool told = false;
    for (size_t i = 0; i < a.paths.count && !told; i++)
        told = dieset_find(d, a.paths.at[i]) >= 0 &&
               tell_choice(d, path, a.paths.at[i], are.at[i], changes, n, out);
    if (!told)
        base_text_addf(out, "%s is not used as the job stands: it is where %s.", path,
                       when ? formula_text(when) : "something asks for it");
    for (size_t i = 0; i < are.count; i++)
        free(are.at[i]);
    base_vec_done(&are);
    asked_done(&a);
}

enum base_err dieset_named(struct dieset *d, const char *path, int *q, struct base_diag *why)
{
    struct base_text says = {0};
    *q = dieset_find(d, path);
    if (*q >= 0 && (dieset_quantity(d, *q)->typed || dieset_applies(d, *q)))
        return BASE_OK;
    enum base_err code = *q < 0 ? BASE_UNKNOWN : BASE_REFUSED;
    if (*q < 0) {
        dieset_nearest(d, path, &says);
        char *near = base_text_take(&says);
        base_text_addf(&says, "The job has no \"%s\"%s%s.", path, near && *near ? "; near it: " : "",
                       near ? near : "");
        free(near);
    } else if (dieset_trying(d)) {
        base_text_addf(&says, "%s is not used as the job stands.", path);
    } else {
        dieset_tell_unused(d, path, NULL, 0, &says);
    }
    enum base_err err = base_fail(why, code, "%s", base_text_get(&says));
    base_text_done(&says);
    *q = -1;
    return err;
}
