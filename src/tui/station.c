/* tui/station.c - a station moved, swapped or copied from a list that shows the outcome */

#include "tui/act.h"
#include "tui/choice.h"
#include "tui/edits.h"
#include "tui/form.h"
#include "tui/go.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { MOST = 60 };

static void tried(struct tui *t, const char *item, const struct choice *c)
{
    struct base_diag why = {0};
    (void)item;
    edit_drop(t);
    if (*c->value && edit_try_stations(t, c->value, &why) != BASE_OK)
        tui_complain(t, "%s", why.message);
    tui_changed(t);
}

static void taken(struct tui *t, const char *item, const struct choice *c)
{
    struct base_diag why = {0};
    edit_drop(t);
    if (*c->value && edit_try_stations(t, c->value, &why) != BASE_OK)
        tui_complain(t, "%s", why.message);
    else if (*c->value)
        edit_take(t);
    else
        tui_say(t, "%s stays where it is", item);
    tui_changed(t);
}

static void dropped(struct tui *t, const char *item, const struct choice *c)
{
    (void)item;
    (void)c;
    edit_drop(t);
    tui_say(t, "left as it was");
}

/* Who works in station NUMBER, "pilot holes, notches". */
static void who(const struct tui *t, const struct dieset_station *all, int n, int number,
                struct base_text *out)
{
    for (int i = 0; i < n; i++)
        if (all[i].number == number && all[i].item >= 0)
            base_text_addf(out, "%s%s", out->length ? ", " : "", dieset_item_title(t->d, all[i].item));
}

void act_station(struct tui *t)
{
    struct dieset_station all[MOST];
    const char *name = form_item(t);
    int item = *name ? dieset_find_item(t->d, name) : -1;
    int n = dieset_stations(t->d, all, MOST), last = 0;
    int own = item < 0 || !dieset_has_number(t->d, item) ? 0 : dieset_station_number(t->d, item);
    if (!own) {
        tui_say(t, "%s works in no station; this moves a station that has a number",
                item < 0 ? "what is chosen" : dieset_item_title(t->d, item));
        return;
    }
    n = n > MOST ? MOST : n;
    for (int i = 0; i < n; i++)
        last = all[i].number > last ? all[i].number : last;
    struct choice *choices = base_alloc((size_t)(3 * last + 4) * sizeof *choices);
    static const char *const does[] = {"%d", "swap %d", "copy %d"};
    int k = 0;
    for (int what = 0; what < (int)COUNT_OF(does); what++)
        for (int s = 1; s <= last + (what != 1); s++) {
            struct base_text there = {0};
            who(t, all, n, s, &there);
            char *value = what == 1   ? s == own ? NULL : base_format("swap %d %d", own, s)
                          : what == 2 ? base_format("copy %s %d", name, s)
                          : s == own  ? base_copy("")
                                      : base_format("move %s %d", name, s);
            if (value)
                choices[k++] = (struct choice){base_format(does[what], s), value,
                                               base_copy(s == own && what == 0 ? "where it is"
                                                         : there.length       ? base_text_get(&there)
                                                                              : "nothing yet")};
            base_text_done(&there);
        }
    char *title = base_format("%s: station %d, to", dieset_item_title(t->d, item), own);
    choice_open(t, title, name, choices, k, own - 1, tried, taken, dropped);
    free(title);
}
