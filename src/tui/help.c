/* tui/help.c - help that runs what it lists
 *
 * The keys of the screen below first, from the key table; then commands, then the handbook's words. Typing
 * narrows the list by key, name and meaning.
 */

#include "tui/tui.h"

#include "tui/act.h"
#include "tui/command.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct entry {
    const struct key_row *key;
    const struct command *command;
    const struct handbook_word *word;
};

struct help {
    struct level level;
    unsigned place; /* of the screen below */
    bool all;
    struct field *field;
    BASE_VEC(struct entry) entries;
    struct list list;
};

/* ---- entries ---- */

static bool fits(const char *filter, const char *text)
{
    return !*filter || (text && strcasestr(text, filter));
}

static bool key_fits(const struct key_row *r, const char *filter)
{
    struct base_text keys = {0};
    keys_labels(r, &keys);
    bool found = fits(filter, base_text_get(&keys)) || fits(filter, r->name) || fits(filter, r->help);
    base_text_done(&keys);
    return found;
}

static void gather(struct tui *t, struct help *h)
{
    int n;
    const char *filter = field_text(h->field);
    h->entries.count = 0;
    const struct key_row *rows = keys_table(&n);
    for (int i = 0; i < n; i++)
        if ((h->all || (rows[i].places & h->place)) && key_fits(&rows[i], filter))
            base_vec_push(&h->entries, ((struct entry){.key = &rows[i]}));
    const struct command *commands = command_table(&n);
    for (int i = 0; i < n; i++)
        if (fits(filter, commands[i].name) || fits(filter, commands[i].help))
            base_vec_push(&h->entries, ((struct entry){.command = &commands[i]}));
    const struct handbook *book = dieset_handbook(t->d);
    for (int i = 0; *filter && i < handbook_word_count(book); i++) {
        const struct handbook_word *w = handbook_word(book, i);
        if (fits(filter, w->name) || fits(filter, w->help))
            base_vec_push(&h->entries, ((struct entry){.word = w}));
    }
    h->list.n = (int)h->entries.count;
    list_move(&h->list, MOVE_LEFT, 0);
}

/* ---- drawing ---- */

static void draw_entry(struct tui *t, struct area a, int y, const struct entry *e, bool here, bool places)
{
    struct base_text text = {0};
    enum ink ink = here ? INK_STRONG : INK_PLAIN;
    struct area keys = {a.y, a.x, a.h, 22};
    if (e->key) {
        keys_labels(e->key, &text);
        paint_text(&t->p, keys, y, 3, ink, base_text_get(&text));
        int x = paint_text(&t->p, a, y, 23, ink, e->key->help);
        base_text_clear(&text);
        base_text_addf(&text, ":%s", e->key->name);
        if (places) {
            base_text_clear(&text);
            keys_places(e->key->places, &text);
        }
        if (x + 2 + paint_width(base_text_get(&text)) < a.w)
            paint_right(&t->p, a, y, a.w - 1, INK_DIM, base_text_get(&text));
    } else if (e->command) {
        base_text_addf(&text, ":%s %s", e->command->name, e->command->usage);
        int x = paint_text(&t->p, a, y, 3, ink, base_text_get(&text));
        paint_text(&t->p, a, y, x + 2 > 40 ? x + 2 : 40, ink, e->command->help);
    } else {
        paint_text(&t->p, keys, y, 3, ink, e->word->name);
        paint_text(&t->p, a, y, 23, ink, e->word->help);
    }
    base_text_done(&text);
}

static void draw(struct tui *t, struct level *level)
{
    struct help *h = (struct help *)level;
    struct area a = t->at.body, body = {a.y + 2, a.x, a.h - 2, a.w};
    struct base_text place = {0};
    keys_places(h->place, &place);
    int x = paint_format(&t->p, a, 0, 1, INK_STRONG, "help: %s", h->all ? "all screens" : base_text_get(&place));
    base_text_done(&place);
    x = paint_text(&t->p, a, 0, x + 3, INK_PLAIN, "type to search: ");
    field_place(h->field, a.y, a.x + x, a.w - x - 12 < 24 ? a.w - x - 12 : 24);
    list_fit(&h->list, body.h);
    for (int y = 0; y < body.h && h->list.top + y < h->list.n; y++) {
        int i = h->list.top + y;
        draw_entry(t, body, y, &h->entries.at[i], i == h->list.at, h->all);
        if (i == h->list.at)
            paint_text(&t->p, body, y, 1, INK_STRONG, ">");
    }
    if (h->list.n == 0)
        paint_text(&t->p, body, 0, 3, INK_DIM, "nothing has that in its key, its name or its meaning");
    else if (h->list.top + body.h < h->list.n)
        paint_format(&t->p, a, 0, a.w - 10, INK_DIM, "%d more", h->list.n - h->list.top - body.h);
    t->live = h->field;
}

/* ---- keys ---- */

static bool event(struct tui *t, struct level *level, const struct terminal_event *e)
{
    struct help *h = (struct help *)level;
    enum field_did did = e->what == TERMINAL_PASTE ? field_paste(h->field, e->text) : field_key(h->field, e->key);
    if (did == FIELD_CHANGED) {
        h->list = (struct list){0};
        gather(t, h);
    }
    return did != FIELD_NOTHING || e->what == TERMINAL_PASTE;
}

static void step(struct tui *t, struct level *level, enum move m)
{
    list_move(&((struct help *)level)->list, m, t->at.body.h - 2);
}

static void run_key(struct tui *t, const struct key_row *r)
{
    if (!(r->places & tui_place(t))) {
        struct base_text places = {0};
        keys_places(r->places, &places);
        tui_say(t, "that works in: %s", base_text_get(&places));
        base_text_done(&places);
    } else if (!r->edits || edit_allowed(t)) {
        t->key = r->keys[0];
        r->run(t);
    }
}

static void enter(struct tui *t, struct level *level)
{
    struct help *h = (struct help *)level;
    if (h->list.at >= h->list.n)
        return;
    struct entry e = h->entries.at[h->list.at];
    if (e.word) {
        char **lines = base_alloc(2 * sizeof *lines);
        lines[0] = base_copy(e.word->help);
        lines[1] = base_format("source: %s", e.word->source ? e.word->source : "none given");
        lines_open(t, e.word->name, lines, NULL, 2);
        return;
    }
    tui_pop(t);
    if (e.key) {
        run_key(t, e.key);
    } else {
        char *text = base_format("%s%s", e.command->name, *e.command->usage ? " " : "");
        command_open(t, text);
        free(text);
    }
}

static void tab(struct tui *t, struct level *level, int by)
{
    struct help *h = (struct help *)level;
    (void)by;
    h->all = !h->all;
    h->list = (struct list){0};
    gather(t, h);
}

static void done(struct level *level)
{
    struct help *h = (struct help *)level;
    field_free(h->field);
    base_vec_done(&h->entries);
    free(h);
}

static const struct level_ops ops = {.place = PLACE_HELP, .full = true, .draw = draw, .event = event, .move = step, .enter = enter,
                                     .tab = tab, .done = done};

void help_open(struct tui *t)
{
    struct help *h = base_alloc(sizeof *h);
    h->level.ops = &ops;
    h->place = tui_place(t);
    h->field = field_new("");
    gather(t, h);
    tui_push(t, &h->level);
}

void act_help(struct tui *t)
{
    help_open(t);
}

void act_small_help(struct tui *t)
{
    tui_say(t, "make the terminal larger, or quit with q; every change is saved");
}
