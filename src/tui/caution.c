/* tui/caution.c - see caution.h */

#include "tui/caution.h"

#include "tui/tui.h"

#include <stdlib.h>
#include <string.h>

static void add_text(struct base_text *out, const char *text)
{
    base_text_addf(out, "%s%s", out->length ? " " : "", text);
}

void caution_words(const struct tui *t, int item, bool drilled, struct base_text *out)
{
    const struct handbook_caution **list;
    int n = dieset_cautions(t->d, item, drilled, &list);
    for (int i = 0; i < n; i++)
        add_text(out, list[i]->text);
    free(list);
}

bool caution_any(const struct tui *t, int item)
{
    const struct handbook_caution **list;
    int n = item < 0 ? 0 : dieset_cautions(t->d, item, false, &list);
    if (item >= 0)
        free(list);
    return n > handbook_caution_count(dieset_handbook(t->d));
}

static int rows_of(const char *text, int width)
{
    size_t skip;
    int n = 0;
    for (; *text; n++)
        text += paint_wrap(text, width, &skip) + skip;
    return n;
}

/* Bytes of TEXT to the end of its first sentence. */
static size_t sentence(const char *text)
{
    const char *end = strstr(text, ". ");
    return end ? (size_t)(end - text) + 1 : strlen(text);
}

/* Names the key of the list; its blank is put in when it is drawn, so that no line ends there. */
#define MORE "!_more"

/* What is shown of WORDS in MOST rows of WIDTH; yours to free(). */
static char *fitted(const char *words, int width, int most)
{
    size_t n = sentence(words);
    if (!words[n] || rows_of(words, width) <= most)
        return base_copy(words);
    char *best = base_format("%.*s " MORE, (int)n, words);
    while (words[n]) {
        n += strspn(words + n, " ");
        n += sentence(words + n);
        char *longer = base_format("%.*s " MORE, (int)n, words);
        bool fits = words[n] && rows_of(longer, width) <= most;
        free(fits ? best : longer);
        if (!fits)
            break;
        best = longer;
    }
    return best;
}

int caution_foot(struct tui *t, struct area a, const char *words, int most, bool draw)
{
    int width = a.w - 2;
    char *text = fitted(words, width, most);
    int rows = rows_of(text, width), y = a.h - rows;
    size_t n, skip;
    for (const char *p = text; draw && *p; p += n + skip) {
        n = paint_wrap(p, width, &skip);
        char *line = base_copy_n(p, n), *more = strstr(line, MORE);
        if (more)
            more[1] = ' ';
        paint_text(&t->p, a, y++, 1, INK_DIM, line);
        free(line);
    }
    free(text);
    return rows;
}

struct area caution_below(struct tui *t, struct area a, int item, bool drilled, int most)
{
    struct base_text words = {0};
    caution_words(t, item, drilled, &words);
    a.h -= caution_foot(t, a, base_text_get(&words), most, true);
    base_text_done(&words);
    return a;
}
