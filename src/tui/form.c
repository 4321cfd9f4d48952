/* tui/form.c - the rows of the form: values of the item at the cursor, and which of them it is on */

#include "tui/form.h"

#include "tui/tui.h"

#include "diewright/start.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* What is typed is always shown, so that nothing counts unseen. */
static bool is_shown(const struct tui *t, int quantity)
{
    const struct dieset_quantity *q = dieset_quantity(t->d, quantity);
    return dieset_shown(t->d, quantity) && (t->form->all || !q->property || q->typed || q->property->plain);
}

static void make_rows(struct tui *t, int item)
{
    int first, n = item < 0 ? 0 : dieset_item_quantities(t->d, item, &first);
    const char *group = NULL;
    t->form->rows.count = 0;
    for (int i = 0; i < n; i++) {
        const struct dieset_quantity *q = dieset_quantity(t->d, first + i);
        if (!is_shown(t, first + i))
            continue;
        const char *entry = q->entry ? q->entry : "";
        const char *own = q->property                                     ? q->property->group
                          : typed_path_read(entry).place == TYPED_AT_LINE ? "Outline"
                          : typed_is_laid(entry)                          ? "Layout"
                                                                          : NULL;
        if (own && (!group || strcmp(own, group) != 0)) {
            base_vec_push(&t->form->rows, ((struct form_row){-1, own}));
            group = own;
        }
        base_vec_push(&t->form->rows, ((struct form_row){first + i, NULL}));
    }
    if (n && dieset_outlined(t->d, item) && !dieset_outline_lines(t->d, item))
        base_vec_push(&t->form->rows, ((struct form_row){-1, "Outline: a begins it"}));
}

/* Without a page of its own no rows. */
static void make_page(struct tui *t)
{
    struct start_page page;
    start_page(t->job, &page);
    t->form->rows.count = 0;
    if (page.n_asks)
        base_vec_push(&t->form->rows, ((struct form_row){-1, "Strip, part and press"}));
    for (int i = 0; i < page.n_asks; i++)
        base_vec_push(&t->form->rows, ((struct form_row){page.asks[i], NULL}));
    if (page.n_tells)
        base_vec_push(&t->form->rows, ((struct form_row){-1, "What comes of it, an estimate"}));
    for (int i = 0; i < page.n_tells; i++)
        base_vec_push(&t->form->rows, ((struct form_row){page.tells[i], NULL}));
}

const char *form_label(const struct tui *t, int quantity, char *buf, size_t size)
{
    const struct dieset_quantity *q = dieset_quantity(t->d, quantity);
    if (t->form->page && q->item >= 0)
        snprintf(buf, size, "%s: %s", dieset_item_title(t->d, q->item), q->title);
    else
        snprintf(buf, size, "%s", q->title);
    return buf;
}

/* One number for what stands at the left of all rows. */
static uint64_t labels_of(const struct tui *t)
{
    struct base_text all = {0};
    char label[200];
    for (int i = 0; i < t->form->list.n; i++) {
        const struct form_row *r = &t->form->rows.at[i];
        base_text_addf(&all, "%s\n",
                       r->quantity < 0 ? r->heading : form_label(t, r->quantity, label, sizeof label));
    }
    uint64_t number = base_hash(base_text_get(&all), all.length);
    base_text_done(&all);
    return number;
}

/* The job's own figures over the handbook's stand with the job; a factor typed over is an item with one
   value. */
void form_settle(struct tui *t)
{
    int item = *t->item ? dieset_find_item(t->d, t->item) : -1;
    bool other = strcmp(t->form->item, t->item) != 0;
    if (other) {
        snprintf(t->form->item, sizeof t->form->item, "%s", t->item);
        t->path[0] = '\0';
        t->form->list = (struct list){0};
        t->form->page = false;
    }
    if (t->form->page)
        make_page(t);
    else
        make_rows(t, item);
    t->form->list.n = (int)t->form->rows.count;
    t->form->labels = labels_of(t);
    list_move(&t->form->list, MOVE_LEFT, 0);
    for (int i = 0; *t->path && i < t->form->list.n; i++) {
        int q = t->form->rows.at[i].quantity;
        if (q >= 0 && strcmp(dieset_quantity(t->d, q)->path, t->path) == 0)
            t->form->list.at = i;
    }
    while (t->form->list.at + 1 < t->form->list.n && t->form->rows.at[t->form->list.at].quantity < 0)
        t->form->list.at++;
    int q = form_quantity(t);
    snprintf(t->path, sizeof t->path, "%s", q >= 0 ? dieset_quantity(t->d, q)->path : "");
}

int form_quantity(const struct tui *t)
{
    return t->form->list.at < t->form->list.n ? t->form->rows.at[t->form->list.at].quantity : -1;
}

/* On the page the values of several items stand together. */
const char *form_item(const struct tui *t)
{
    int q = t->form->page && t->focus != PANE_STACK ? form_quantity(t) : -1;
    return q < 0                                ? t->item
           : dieset_quantity(t->d, q)->item < 0 ? ""
                                                : dieset_item_name(t->d, dieset_quantity(t->d, q)->item);
}

void form_go_down(struct tui *t)
{
    for (int i = t->form->list.at + 1; i < t->form->list.n; i++) {
        int q = t->form->rows.at[i].quantity;
        if (q < 0 || !dieset_quantity(t->d, q)->can_type)
            continue;
        t->form->list.at = i;
        snprintf(t->path, sizeof t->path, "%s", dieset_quantity(t->d, q)->path);
        return;
    }
}

void form_split(struct tui *t, int q, char *number, size_t n_number, char *unit, size_t n_unit)
{
    char text[200];
    unit[0] = '\0';
    dieset_print(t->d, q, t->state, text, sizeof text);
    char *blank = strchr(text, ' ');
    bool is_number = dieset_quantity(t->d, q)->type.type.sort == FORMULA_NUMBER &&
                     !dieset_value(t->d, q, t->state).error;
    if (is_number && blank) {
        *blank = '\0';
        snprintf(unit, n_unit, "%s", blank + 1);
    }
    snprintf(number, n_number, "%s", text);
}

bool form_show_page(struct tui *t)
{
    struct start_page page;
    start_page(t->job, &page);
    if (!page.n_asks && !page.n_tells)
        return false;
    tui_clear(t);
    form_take_keys(t);
    t->form->page = true;
    t->form->list = (struct list){0};
    t->path[0] = '\0';
    form_settle(t);
    return true;
}

void form_reset(struct tui *t)
{
    t->form->page = false;
    t->form->all = false;
    t->form->list = (struct list){0};
    t->form->item[0] = '\0';
}

void form_take_keys(struct tui *t)
{
    t->zoomed = false;
    t->focus = t->swap == SWAP_PLAN ? PANE_PLAN : PANE_SWAP;
    if (t->swap == SWAP_SECTION)
        t->swap = SWAP_FORM;
}
