/* tui/narrow.c - see narrow.h */

#include "tui/narrow.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void narrow_init(struct narrow *n, int all, int at)
{
    n->text[0] = '\0';
    n->all = all;
    n->shown = base_alloc((size_t)(all + 1) * sizeof *n->shown);
    for (int i = 0; i < all; i++)
        n->shown[i] = i;
    n->list = (struct list){.at = at, .n = all};
}

void narrow_done(struct narrow *n)
{
    free(n->shown);
    n->shown = NULL;
}

int narrow_at(const struct narrow *n)
{
    return n->list.at >= 0 && n->list.at < n->list.n ? n->shown[n->list.at] : -1;
}

enum fit narrow_fit(const char *label, const char *text)
{
    if (strncasecmp(label, text, strlen(text)) == 0)
        return FIT_BEGINS;
    return strcasestr(label, text) ? FIT_HOLDS : FIT_NONE;
}

/* ---- what is typed ---- */

static enum fit fit_of(const struct narrow *n, int i, narrow_fn *fit, const void *whose)
{
    return *n->text ? fit(whose, i, n->text) : FIT_HOLDS;
}

static enum fit best_fit(const struct narrow *n, narrow_fn *fit, const void *whose)
{
    enum fit best = FIT_NONE;
    for (int i = 0; i < n->all; i++) {
        enum fit f = fit_of(n, i, fit, whose);
        best = f > best ? f : best;
    }
    return best;
}

/* Shows what fits. The cursor stays where it begins so; else it goes to the first that does, else it stays
   where it fits. */
static void gather(struct narrow *n, narrow_fn *fit, const void *whose)
{
    int was = narrow_at(n), at = -1, left = 0;
    enum fit best = best_fit(n, fit, whose), least = best > FIT_BESIDE ? FIT_HOLDS : FIT_BESIDE;
    for (int i = 0; i < n->all; i++) {
        enum fit f = fit_of(n, i, fit, whose);
        if (f < least)
            continue;
        if (f == best && (at < 0 || i == was))
            at = left;
        n->shown[left++] = i;
    }
    n->list = (struct list){.at = at < 0 ? 0 : at, .n = left};
}

/* TEXT behind what is typed, up to the first character that would leave none; a blank does not begin. False:
   nothing of it. */
static bool add(struct narrow *n, const char *text, narrow_fn *fit, const void *whose)
{
    size_t before = strlen(n->text), length = before;
    for (const char *p = before ? text : text + strspn(text, " "); *p;) {
        int columns = 0;
        size_t bytes = base_step(p, strnlen(p, 4), &columns);
        if (length + bytes >= sizeof n->text)
            break;
        memcpy(n->text + length, p, bytes);
        n->text[length + bytes] = '\0';
        if (best_fit(n, fit, whose) == FIT_NONE) {
            n->text[length] = '\0';
            break;
        }
        length += bytes;
        p += bytes;
    }
    return length > before;
}

static void take_last(struct narrow *n)
{
    n->text[base_char_start(n->text, strlen(n->text))] = '\0';
}

/* The character of KEY as UTF-8; "": it is none, or one that the key table has a use for in every list. */
static void character_of(int key, char out[5])
{
    bool typed = key >= ' ' && key < 0x110000 && key != '?' && !base_char_hidden((uint32_t)key);
    out[typed ? base_char_write(out, (uint32_t)key) : 0] = '\0';
}

static bool is_widening(int key) { return key == TERMINAL_BACKSPACE || key == 127 || key == 8; }
static bool is_clearing(int key) { return key == ('U' & 31) || key == ('W' & 31); }

bool narrow_event(struct tui *t, struct narrow *n, const struct terminal_event *e, narrow_fn *fit,
                  const void *whose)
{
    char typed[5] = "";
    const char *text = e->what == TERMINAL_PASTE ? e->text : typed;
    if (e->what == TERMINAL_KEY && is_widening(e->key))
        take_last(n);
    else if (e->what == TERMINAL_KEY && is_clearing(e->key))
        n->text[0] = '\0';
    else {
        if (e->what == TERMINAL_KEY)
            character_of(e->key, typed);
        if (!*text)
            return e->what == TERMINAL_PASTE;
        if (!add(n, text, fit, whose)) {
            if (*text != ' ' || *n->text)
                tui_say(t, "none has \"%s%.40s\"; Backspace widens the list, F1 helps", n->text, text);
            return true;
        }
    }
    tui_hush(t);
    gather(n, fit, whose);
    return true;
}

/* ---- drawing ---- */

int narrow_draw(const struct paint *p, struct area a, int y, int end, const struct narrow *n)
{
    char words[120];
    if (!*n->text)
        return end;
    snprintf(words, sizeof words, " with \"%s\": %d of %d ", n->text, n->list.n, n->all);
    int x = end - paint_width(words);
    paint_text(p, a, y, x, INK_STRONG, words);
    return x;
}
