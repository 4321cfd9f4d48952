/* tui/views/help.c - help that runs what it lists
 *
 * The keys of the screen below first, from the key table, by what they are for; then commands, then the
 * handbook's words and what its sources differ about. Typing narrows the list by key, name and meaning. Tab
 * turns the page: this screen, all screens, words; what the line at the cursor means stands whole below.
 */

#include "tui/act.h"
#include "tui/command.h"
#include "tui/edits.h"
#include "tui/find.h"
#include "tui/tui.h"
#include "tui/views.h"

#include <stdlib.h>
#include <string.h>

/* A heading has a title alone; the cursor passes it by. */
struct entry {
    const char *title;
    const struct key_row *key;
    const struct command *command;
    const struct handbook_word *word;
    const struct handbook_difference *differ;
};

enum page { PAGE_HERE, PAGE_ALL, PAGE_WORDS, PAGES };

struct help {
    struct level level;
    unsigned place; /* of the screen below */
    enum page page;
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

static void gather_commands(struct help *h, const char *filter)
{
    int n;
    const struct command *commands = command_table(&n);
    for (int i = 0; i < n; i++)
        if (fits(filter, commands[i].name) || fits(filter, commands[i].help))
            base_vec_push(&h->entries, ((struct entry){.command = &commands[i]}));
}

static void gather_use(struct help *h, enum key_use use, const char *filter)
{
    int n;
    const struct key_row *rows = keys_table(&n);
    for (int i = 0; i < n; i++)
        if ((h->page == PAGE_ALL || (rows[i].places & h->place)) && keys_use(&rows[i]) == use &&
            key_fits(&rows[i], filter))
            base_vec_push(&h->entries, ((struct entry){.key = &rows[i]}));
}

/* Each part under its title, if anything of it is left. */
static void gather_keys(struct help *h, const char *filter)
{
    static const char *const titles[] = {"here",        "to change",  "to look at",
                                         "to go about", "the screen", "by name, after :"};
    for (int part = 0; part < (int)COUNT_OF(titles); part++) {
        size_t before = h->entries.count;
        base_vec_push(&h->entries, ((struct entry){.title = titles[part]}));
        if (part < KEY_USES)
            gather_use(h, (enum key_use)part, filter);
        else
            gather_commands(h, filter);
        if (h->entries.count == before + 1)
            h->entries.count = before;
    }
}

static int by_name(const void *a, const void *b)
{
    return strcasecmp((*(const struct handbook_word *const *)a)->name,
                      (*(const struct handbook_word *const *)b)->name);
}

/* The word itself, then those that begin so or are called so elsewhere, then those that only speak of it;
 * each in the order of the alphabet. */
static void gather_words(struct tui *t, struct help *h, const char *filter)
{
    enum { MEANT = 9, NOT = 10 };
    const struct handbook *book = dieset_handbook(t->d);
    int n = handbook_word_count(book);
    const struct handbook_word **words = base_alloc((size_t)(n + 1) * sizeof *words);
    for (int i = 0; i < n; i++)
        words[i] = handbook_word(book, i);
    qsort(words, (size_t)n, sizeof *words, by_name);
    for (int round = 0; round <= MEANT; round++)
        for (int i = 0; i < n; i++) {
            int rank = *filter ? find_rank(words[i]->name, words[i]->also, filter) : 0;
            bool named = fits(filter, words[i]->name) || fits(filter, words[i]->also);
            rank = named && rank >= 0 ? rank : fits(filter, words[i]->help) ? MEANT : NOT;
            if (rank == round)
                base_vec_push(&h->entries, ((struct entry){.word = words[i]}));
        }
    free(words);
}

/* What the sources differ about, behind the words. */
static void gather_differences(struct tui *t, struct help *h, const char *filter)
{
    const struct handbook *book = dieset_handbook(t->d);
    for (int i = 0; i < handbook_difference_count(book); i++) {
        const struct handbook_difference *d = handbook_difference(book, i);
        if (fits(filter, "sources differ") || fits(filter, d->name) || fits(filter, d->help))
            base_vec_push(&h->entries, ((struct entry){.differ = d}));
    }
}

/* The cursor off a title: on in the way that it came, down from the first. */
static void pass_titles(struct help *h, enum move way)
{
    if (!h->list.n || !h->entries.at[h->list.at].title)
        return;
    list_move(&h->list, way == MOVE_UP && h->list.at ? MOVE_UP : MOVE_DOWN, 0);
}

static void gather(struct tui *t, struct help *h)
{
    const char *filter = field_text(h->field);
    filter += *filter == '/' && filter[1]; /* as a search is begun elsewhere */
    h->entries.count = 0;
    if (h->page != PAGE_WORDS)
        gather_keys(h, filter);
    if (h->page == PAGE_WORDS || *filter) {
        gather_words(t, h, filter);
        gather_differences(t, h, filter);
    }
    h->list.n = (int)h->entries.count;
    list_move(&h->list, MOVE_LEFT, 0);
    pass_titles(h, MOVE_DOWN);
}

/* ---- drawing ---- */

static void draw_entry(struct tui *t, struct area a, int y, const struct entry *e, bool here, bool places)
{
    struct base_text text = {0}, right = {0};
    enum ink ink = here ? INK_STRONG : INK_PLAIN;
    int from = 23;
    const char *says = NULL;
    if (e->title) {
        paint_text(&t->p, a, y, 1, INK_DIM, e->title);
        return;
    }
    if (e->key) {
        keys_labels(e->key, &text);
        says = e->key->help;
        if (places)
            keys_places(e->key->places, &right);
        else
            base_text_addf(&right, ":%s", e->key->name);
    } else if (e->command) {
        base_text_addf(&text, ":%s %s", e->command->name, e->command->usage);
        says = e->command->help;
        from = 40;
    } else if (e->word) {
        base_text_add(&text, e->word->name);
        says = e->word->also ? e->word->also : "";
    } else {
        base_text_add(&text, e->differ->name);
        base_text_addf(&text, "  sources differ; taken: %s", e->differ->taken);
    }
    int x = paint_cut(&t->p, a, y, 3, says && !e->command ? from - 1 : a.w - 1, ink, base_text_get(&text));
    if (says)
        x = paint_cut(&t->p, a, y, x + 2 > from ? x + 2 : from, a.w - 1, ink, says);
    if (*base_text_get(&right) && x + 2 + paint_width(base_text_get(&right)) < a.w)
        paint_right(&t->p, a, y, a.w - 1, INK_DIM, base_text_get(&right));
    base_text_done(&text);
    base_text_done(&right);
}

/* What the line at the cursor means, whole, below the list. */
static void draw_meaning(struct tui *t, struct area a, const struct entry *e)
{
    struct base_text title = {0}, text = {0}, foot = {0};
    struct area text_area = layout_read(a);
    text_area.w--;
    if (e->key) {
        keys_labels(e->key, &title);
        base_text_addf(&text, "%s", e->key->help);
        base_text_addf(&foot, ":%s   works in: ", e->key->name);
        keys_places(e->key->places, &foot);
    } else if (e->command) {
        base_text_addf(&title, ":%s", e->command->name);
        base_text_addf(&text, ":%s %s  %s", e->command->name, e->command->usage, e->command->help);
    } else {
        const char *source = e->word ? e->word->source : e->differ->source;
        base_text_add(&title, e->word ? e->word->name : e->differ->name);
        if (e->word)
            base_text_add(&text, e->word->help);
        else
            handbook_difference_text(e->differ, &text);
        base_text_addf(&foot, "source: %s", source ? source : "none given");
    }
    paint_row(&t->p, a, 0, INK_DIM);
    paint_format(&t->p, a, 0, 1, INK_STRONG, " %s ", base_text_get(&title));
    int y = tui_paragraph(t, text_area, 1, 3, INK_PLAIN, base_text_get(&text));
    tui_paragraph(t, text_area, y, 3, INK_DIM, base_text_get(&foot));
    base_text_done(&title);
    base_text_done(&text);
    base_text_done(&foot);
}

static void draw_head(struct tui *t, struct help *h, struct area a)
{
    struct base_text place = {0};
    keys_places(h->place, &place);
    const char *title = h->page == PAGE_WORDS ? "words: here, and in other shops"
                        : h->page == PAGE_ALL ? "help: all screens"
                                              : NULL;
    int x = title ? paint_text(&t->p, a, 0, 1, INK_STRONG, title)
                  : paint_format(&t->p, a, 0, 1, INK_STRONG, "help: %s", base_text_get(&place));
    base_text_done(&place);
    x = paint_text(&t->p, a, 0, x + 3, INK_PLAIN, "type to search: ");
    field_place(h->field, a.y, a.x + x, a.w - x - 12 < 24 ? a.w - x - 12 : 24, 1);
}

static void draw(struct tui *t, struct level *level)
{
    enum {
        MEANING = 7,
        SHORT = 4,
        WIDE = LAYOUT_READ + 12
    }; /* rows; columns that the longest command fills */
    struct help *h = (struct help *)level;
    struct area a = t->at.body, body;
    a.w = a.w < WIDE ? a.w : WIDE;
    body = (struct area){a.y + 2, a.x, a.h - 2, a.w};
    list_move(&h->list, MOVE_LEFT, 0);
    const struct entry *at = h->list.n ? &h->entries.at[h->list.at] : NULL;
    int meaning = h->page == PAGE_WORDS || (at && (at->word || at->differ)) ? MEANING : SHORT;
    body.h -= meaning;
    draw_head(t, h, a);
    level->listed = body;
    list_fit(&h->list, body.h);
    if (h->list.top > 0 && h->entries.at[h->list.top - 1].title && h->list.at < h->list.top + body.h - 1)
        h->list.top--; /* a title that has just gone out of sight stays over its lines */
    for (int y = 0; y < body.h && h->list.top + y < h->list.n; y++) {
        int i = h->list.top + y;
        draw_entry(t, body, y, &h->entries.at[i], i == h->list.at, h->page != PAGE_HERE);
        if (i == h->list.at)
            paint_text(&t->p, body, y, 1, INK_STRONG, ">");
    }
    if (h->list.n == 0)
        paint_text(&t->p, body, 0, 3, INK_DIM, "nothing has that in its key, its name or its meaning");
    else if (h->list.top + body.h < h->list.n)
        paint_format(&t->p, a, 0, a.w - 10, INK_DIM, "%d more", h->list.n - h->list.top - body.h);
    if (at && !at->title)
        draw_meaning(t, (struct area){body.y + body.h, a.x, meaning, a.w}, at);
    tui_live(t, h->field);
}

/* ---- keys ---- */

static bool event(struct tui *t, struct level *level, const struct terminal_event *e)
{
    struct help *h = (struct help *)level;
    enum field_did did = e->what == TERMINAL_PASTE ? field_paste(h->field, e->text)
                                                   : field_key(h->field, e->key);
    if (did == FIELD_CHANGED) {
        h->list = (struct list){0};
        gather(t, h);
    }
    return did != FIELD_NOTHING || e->what == TERMINAL_PASTE;
}

static void step(struct tui *t, struct level *level, enum move m)
{
    (void)t;
    struct help *h = (struct help *)level;
    list_move(&h->list, m, level->listed.h);
    pass_titles(h, m);
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
        tui_do(t, r->action);
    }
}

static void enter(struct tui *t, struct level *level)
{
    struct help *h = (struct help *)level;
    if (h->list.at >= h->list.n)
        return;
    struct entry e = h->entries.at[h->list.at];
    if (e.title || e.word || e.differ) /* its meaning stands below already */
        return;
    tui_pop(t);
    if (e.key) {
        run_key(t, e.key);
    } else {
        char *text = base_format("%s%s", e.command->name, *e.command->usage ? " " : "");
        tui_open(t, "command", text);
        free(text);
    }
}

static void tab(struct tui *t, struct level *level, int by)
{
    struct help *h = (struct help *)level;
    (void)by;
    h->page = (h->page + 1) % PAGES;
    h->list = (struct list){0};
    gather(t, h);
}

static enum hit at(struct tui *t, struct level *level, int y, int x)
{
    (void)t;
    return list_hit(&((struct help *)level)->list, level->listed, y, x);
}

static void done(struct level *level)
{
    struct help *h = (struct help *)level;
    field_free(h->field);
    base_vec_done(&h->entries);
    free(h);
}

static const struct level_ops ops = {.place = AT_HELP,
                                     .full = true,
                                     .draw = draw,
                                     .event = event,
                                     .move = step,
                                     .enter = enter,
                                     .tab = tab,
                                     .at = at,
                                     .done = done};

static void open_page(struct tui *t, enum page page, const char *filter)
{
    struct help *h = base_alloc(sizeof *h);
    h->level.ops = &ops;
    h->place = tui_place(t);
    h->page = page;
    h->field = field_new(filter);
    gather(t, h);
    tui_push(t, &h->level);
}

void words_open(struct tui *t, const char *filter) { open_page(t, PAGE_WORDS, filter); }

void act_help(struct tui *t) { open_page(t, PAGE_HERE, ""); }

void act_small_help(struct tui *t)
{
    tui_say(t, "make the terminal larger, or quit with q; every change is saved");
}
