/* tui/items.c - items added, copied and taken out */

#include "tui/items.h"

#include "tui/act.h"
#include "tui/choice.h"
#include "tui/edits.h"
#include "tui/form.h"
#include "tui/go.h"
#include "tui/line.h"
#include "tui/outline.h"
#include "tui/tui.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void added(struct tui *t, enum base_err err, const struct base_diag *why, const char *name)
{
    if (err) {
        tui_complain(t, "%s", why->message);
        return;
    }
    if (!edit_take(t))
        return;
    tui_settle(t);
    char message[900];
    snprintf(message, sizeof message, "%s", tui_said(t));
    go_to_form(t, name);
    tui_say(t, "%s", message);
}

int item_place_of_new(const struct tui *t, const char *kind)
{
    int here = dieset_find_item(t->d, t->item);
    return here >= 0 && dieset_item_kind(t->d, here) == handbook_find_kind(dieset_handbook(t->d), kind)
               ? here + 1
               : -1;
}

static void named(struct tui *t, const char *kind, const char *name)
{
    struct base_diag why = {0};
    enum base_err err = job_add(t->job, kind, name, item_place_of_new(t, kind), &why);
    tui_changed(t);
    added(t, err, &why, name);
}

/* "plate", then "plate_2" ...: a name that is free. */
void item_free_name(const struct tui *t, const char *stem, char *buf, size_t size)
{
    snprintf(buf, size, "%s", stem);
    for (int n = 2; dieset_find_item(t->d, buf) >= 0 && n < 1000; n++)
        snprintf(buf, size, "%s_%d", stem, n);
}

/* A group of kind K is laid out on the plate at the cursor, and asks for it. */
static bool goes_on_plate(const struct tui *t, const struct handbook_kind *k)
{
    int here = *t->item ? dieset_find_item(t->d, t->item) : -1,
        kind = here < 0 ? -1 : dieset_item_kind(t->d, here);
    if (kind < 0 || strcmp(handbook_kind(dieset_handbook(t->d), kind)->name, DIESET_PLATE) != 0 || !k->lays ||
        k->single)
        return false;
    for (int i = 0; i < k->n_properties; i++)
        if (k->properties[i].how == HANDBOOK_ASKED && k->properties[i].type.sort == HANDBOOK_ITEM &&
            k->properties[i].type.type.kind == kind)
            return true;
    return false;
}

static void kind_chosen(struct tui *t, const char *subject, const struct choice *c)
{
    char name[100];
    (void)subject;
    const struct handbook *h = dieset_handbook(t->d);
    if (goes_on_plate(t, handbook_kind(h, handbook_find_kind(h, c->value)))) {
        tui_open(t, "group", c->value);
        return;
    }
    item_free_name(t, c->value, name, sizeof name);
    if (handbook_kind(dieset_handbook(t->d), handbook_find_kind(dieset_handbook(t->d), c->value))->single) {
        named(t, c->value, name); /* it is named after its kind */
        return;
    }
    char *title = base_format("name of the new %s: ", c->label);
    ask_open(t, title, c->value, name, named);
    free(title);
}

void act_add(struct tui *t)
{
    const struct handbook *h = dieset_handbook(t->d);
    if (outline_add_here(t))
        return;
    int kinds = handbook_kind_count(h), n = 0, at = 0;
    int here = dieset_find_item(t->d, t->item);
    bool found = false; /* what the plate at the cursor most likely gets */
    struct choice *choices = base_alloc((size_t)(kinds + 1) * sizeof *choices);
    for (int i = 0; i < kinds; i++) {
        const struct handbook_kind *k = handbook_kind(h, i);
        if ((k->single && dieset_item_of_kind(t->d, k->name) >= 0) || k->n_words)
            continue;
        bool group = goes_on_plate(t, k);
        if (group ? !found : here >= 0 && dieset_item_kind(t->d, here) == i && !found)
            at = n;
        found = found || group;
        choices[n++] = (struct choice){base_copy(k->title), base_copy(k->name), base_copy(k->help)};
    }
    if (n == 0) {
        free(choices);
        tui_say(t, "the handbook knows no kind of item that could be added");
        return;
    }
    choice_open(t, "add an item", "", choices, n, at, NULL, kind_chosen, NULL);
}

static void named_like(struct tui *t, const char *item, const char *name)
{
    struct base_diag why = {0};
    enum base_err err = job_add_like(t->job, item, name, &why);
    tui_changed(t);
    added(t, err, &why, name);
}

void act_like(struct tui *t)
{
    char name[100];
    const char *item = form_item(t);
    if (!*item)
        return;
    item_free_name(t, item, name, sizeof name);
    char *title = base_format("name of the item like %s: ", item);
    ask_open(t, title, item, name, named_like);
    free(title);
}

static void take_out(struct tui *t, const char *item)
{
    struct base_diag why = {0};
    if (job_remove(t->job, item, &why) != BASE_OK)
        tui_complain(t, "%s", why.message);
    else
        edit_take(t);
    tui_changed(t);
}

static void asked_to_take_out(struct tui *t, const char *item, const char *text)
{
    if (strcmp(text, "y") == 0)
        take_out(t, item);
    else
        tui_say(t, "%s stays", item);
}

/* What there is once only holds what the whole set is told by, and a new one begins blank: that is asked
   first. */
void act_remove(struct tui *t)
{
    char item[80];
    snprintf(item, sizeof item, "%s", form_item(t));
    int i = dieset_find_item(t->d, item);
    if (i < 0)
        return;
    if (!handbook_kind(dieset_handbook(t->d), dieset_item_kind(t->d, i))->single) {
        take_out(t, item);
        return;
    }
    char *title = base_format("take out the %s and all typed in it? y, Enter: ", dieset_item_title(t->d, i));
    ask_open(t, title, item, "", asked_to_take_out);
    free(title);
}
