/* tui/views/vary_draw.c - the picture of a run: plot and bands as explore draws them, the cursor's column,
 * what stands at the point
 *
 * The row of the cursor comes behind the last band; what the plot says in sentences follows it.
 */

#include "tui/views/vary.h"

#include <stdlib.h>
#include <string.h>

enum { MARGIN = 1, LEAST_POINT = 4, MOST_POINT = 9, LEAST_PLOT = 4, BOTH_FROM = 150 };

struct picture { struct base_text text; int lines, height, width; };

static int count_lines(const char *text)
{
    int n = 0;
    for (; *text; text++)
        n += *text == '\n';
    return n;
}

/* As tall as the room allows; a plot that is low already stays so, and is scrolled. */
static void make_picture(const struct vary *v, int width, int room, struct picture *out)
{
    *out = (struct picture){.width = width, .height = room > LEAST_PLOT ? room : LEAST_PLOT};
    for (;;) {
        base_text_clear(&out->text);
        explore_plot(v->run, v->shown, width, out->height, &out->text);
        out->lines = count_lines(base_text_get(&out->text)) + 1; /* and the cursor's */
        if (out->lines <= room || out->height == LEAST_PLOT)
            return;
        out->height -= out->lines - room;
        out->height = out->height < LEAST_PLOT ? LEAST_PLOT : out->height;
    }
}

static void draw_line(struct tui *t, struct area a, int y, enum ink ink, const char *line, size_t n)
{
    char *text = base_copy_n(line, n);
    paint_text(&t->p, a, y, MARGIN, ink, text);
    free(text);
}

/* The cursor's column stands out in points and bands. */
static void draw_column(struct tui *t, struct area a, int y, const char *line, size_t n, int column)
{
    paint_char(&t->p, a, y, MARGIN + column, INK_TYPED,
               (size_t)column < n ? (unsigned char)line[column] : ' ');
}

static void draw_cursor(struct tui *t, const struct vary *v, struct area a, int y, const struct picture *p)
{
    int at = MARGIN + explore_plot_column(v->run, v->shown, p->width, p->height, v->at);
    if (v->mark >= 0)
        paint_char(&t->p, a, y, MARGIN + explore_plot_column(v->run, v->shown, p->width, p->height, v->mark),
                   INK_PLAIN, 'c');
    paint_char(&t->p, a, y, at, INK_STRONG, '^');
    tui_cursor(t, a, y, at);
}

/* Does the row of the marks "all" begin here? It is the last of those that have columns for points. */
static bool is_all(const char *line, int gutter)
{
    return gutter >= 3 && strspn(line, " ") == (size_t)gutter - 3 &&
           strncmp(line + gutter - 3, "all ", 4) == 0;
}

static void draw_picture(struct tui *t, struct vary *v, struct area a, const struct picture *p)
{
    v->level.listed = a;
    v->plot_width = p->width;
    v->plot_height = p->height;
    int column = explore_plot_column(v->run, v->shown, p->width, p->height, v->at);
    int gutter = explore_plot_column(v->run, v->shown, p->width, p->height, 0) - 2, y = -v->top;
    bool points = false, over = false;
    for (const char *line = base_text_get(&p->text); *line; line += *line == '\n', y++) {
        size_t n = strcspn(line, "\n");
        points = points || ((int)n > gutter + 1 && line[gutter + 1] == '|');
        draw_line(t, a, y, y == -v->top ? INK_STRONG : INK_PLAIN, line, n);
        if (points && !over)
            draw_column(t, a, y, line, n, column);
        if (!over && is_all(line, gutter)) {
            over = true;
            draw_cursor(t, v, a, ++y, p);
        }
        line += n;
    }
}

int vary_point_at(const struct vary *v, int x)
{
    enum { NEAR = 2 };
    int best = -1, off = NEAR + 1;
    for (int i = 0; v->run && i < v->run->n; i++) {
        int away = abs(v->level.listed.x + MARGIN +
                       explore_plot_column(v->run, v->shown, v->plot_width, v->plot_height, i) - x);
        if (away < off || (away == off && i == v->at)) { /* several share a column where there are many */
            best = i;
            off = away;
        }
    }
    return best;
}

/* Paragraphs into A, at most A.h rows; returns the rows used. */
static int draw_words(struct tui *t, struct area a, const char *text, bool draws)
{
    int y = 0;
    while (*text && y < a.h) {
        size_t end = strcspn(text, "\n"), skip, n;
        char *line = base_copy_n(text, end);
        for (const char *rest = line; y < a.h; rest += n + skip) {
            bool first = rest == line;
            n = paint_wrap(rest, a.w - 2 * MARGIN - 2 * !first, &skip);
            if (draws)
                paint_format(&t->p, a, y, MARGIN + 2 * !first, INK_PLAIN, "%.*s", (int)n, rest);
            y++;
            if (!rest[n])
                break;
        }
        free(line);
        text += end + (text[end] == '\n');
    }
    return y;
}

bool vary_both_fit(struct area a)
{
    return a.w >= BOTH_FROM;
}

static void draw_both(struct tui *t, const struct vary *v, struct area a)
{
    struct base_text both = {0};
    explore_beside(v->run, v->mark, v->at, a.w - 2 * MARGIN, &both);
    paint_text(&t->p, a, 0, MARGIN, INK_STRONG, "side by side");
    struct area body = {a.y + 2, a.x, a.h - 2, a.w};
    draw_words(t, body, base_text_get(&both), true);
    base_text_done(&both);
}

static void draw_run(struct tui *t, struct vary *v, struct area a)
{
    struct base_text point = {0};
    struct picture p;
    explore_point(v->run, v->shown, v->at, &point);
    struct area words = {a.y, a.x, a.h > 40 ? MOST_POINT : LEAST_POINT, a.w};
    words.h = draw_words(t, words, base_text_get(&point), false);
    words.y = a.y + a.h - words.h;
    struct area plot = {a.y, a.x, a.h - words.h, v->mark >= 0 && vary_both_fit(a) ? a.w / 2 : a.w};
    make_picture(v, plot.w - 2 * MARGIN, plot.h, &p);
    int most = p.lines > plot.h ? p.lines - plot.h : 0;
    v->top = v->top > most ? most : v->top < 0 ? 0 : v->top;
    draw_picture(t, v, plot, &p);
    draw_words(t, words, base_text_get(&point), true);
    struct area side = {a.y, a.x + plot.w, plot.h, a.w - plot.w};
    if (side.w > 0)
        draw_both(t, v, side);
    base_text_done(&point);
    base_text_done(&p.text);
}

void vary_draw(struct tui *t, struct vary *v, struct area a)
{
    if (v->refused[0] && !v->level.pending)
        draw_words(t, a, v->refused, true);
    else if (v->run)
        draw_run(t, v, a);
    else
        paint_format(&t->p, a, 0, MARGIN, INK_STRONG, "vary   %s", v->path);
    if (v->level.pending)
        tui_message_row(t, INK_DIM, "running; any key breaks in");
}
