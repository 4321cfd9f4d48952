/* terminal/pick.c - see diewright/terminal.h
 *
 * A menu of the curses menu library; like the field it is built anew when its place or its lines are others.
 */

#include "diewright/terminal.h"

#include "terminal/curses.h"

#include <menu.h>
#include <panel.h>
#include <stdlib.h>
#include <string.h>

struct pick {
    WINDOW *window, *inner;
    PANEL *panel;
    ITEM **items;
    MENU *menu; /* NULL: it is not shown */
    struct base_arena words; /* of the items, which only point at them */
};

/* curses writes an item as it stands, so nothing hidden gets into it. */
static const char *visible(struct pick *p, const char *text)
{
    struct base_text t = {0};
    base_text_add_visible(&t, text ? text : "", text ? strlen(text) : 0, false);
    const char *out = base_arena_copy(&p->words, base_text_get(&t));
    base_text_done(&t);
    return out;
}

struct pick *pick_new(void)
{
    return base_alloc(sizeof(struct pick));
}

static void pull_down(struct pick *p)
{
    if (p->menu) {
        unpost_menu(p->menu);
        free_menu(p->menu);
    }
    for (int i = 0; p->items && p->items[i]; i++)
        free_item(p->items[i]);
    free(p->items);
    if (p->panel)
        del_panel(p->panel);
    if (p->inner)
        delwin(p->inner);
    if (p->window)
        delwin(p->window);
    base_arena_done(&p->words);
    memset(p, 0, sizeof *p);
}

void pick_free(struct pick *p)
{
    if (!p)
        return;
    pull_down(p);
    free(p);
}

static void build(struct pick *p, struct area a, const char *const *labels, const char *const *notes, int n)
{
    pull_down(p);
    p->window = newwin(a.h, a.w, a.y, a.x);
    if (!p->window)
        return;
    p->panel = new_panel(p->window);
    p->inner = derwin(p->window, a.h - 2, a.w - 2, 1, 1);
    p->items = base_alloc((size_t)(n + 1) * sizeof *p->items);
    for (int i = 0; i < n; i++)
        p->items[i] = new_item(visible(p, labels[i]), visible(p, notes[i]));
    p->menu = new_menu(p->items);
    if (!p->menu || !p->inner) {
        pull_down(p);
        return;
    }
    set_menu_win(p->menu, p->window);
    set_menu_sub(p->menu, p->inner);
    set_menu_format(p->menu, a.h - 2, 1);
    set_menu_mark(p->menu, ">");
    set_menu_fore(p->menu, A_REVERSE);
    set_menu_grey(p->menu, A_DIM);
    if (post_menu(p->menu) != E_OK)
        pull_down(p);
}

bool pick_show(struct pick *p, struct area a, const char *const *labels, const char *const *notes, int n,
               int at, bool others)
{
    if (!p->menu || others || !terminal_stands(p->window, a))
        build(p, a, labels, notes, n);
    pick_go(p, at);
    return p->menu != NULL;
}

void pick_go(struct pick *p, int at)
{
    if (p->menu && at >= 0 && at < item_count(p->menu) && item_index(current_item(p->menu)) != at)
        set_current_item(p->menu, p->items[at]);
}

int pick_top(const struct pick *p)
{
    return p->menu ? top_row(p->menu) : -1;
}

struct paint pick_paint(const struct pick *p, const struct paint *screen)
{
    struct paint own = *screen;
    own.window = p->window;
    return own;
}

void pick_raise(struct pick *p)
{
    if (!p->menu)
        return;
    top_panel(p->panel);
    pos_menu_cursor(p->menu);
}
