/* terminal/paint.c - see diewright/terminal.h */

#include "diewright/terminal.h"

#include "terminal/curses.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <wchar.h>

enum { PAIR_TROUBLE = 1, PAIR_STOCK, PAIR_GRAVE };

static void start_pair(short pair, short own, short shipped, short back)
{
    if (own == PAINT_SHIPPED || own >= COLORS)
        own = shipped;
    init_pair(pair, own == PAINT_PLAIN && back != -1 ? COLOR_WHITE : own, back);
}

void paint_start(struct paint *p, bool utf8, bool colour, const short own[PAINT_OWN])
{
    p->window = stdscr;
    p->utf8 = utf8;
    p->colour = colour;
    p->dim = termattrs() & A_DIM;
    if (!colour)
        return;
    short back = use_default_colors() == OK ? -1 : COLOR_BLACK;
    /* of 256, such as are read on a light ground as well, and differ in lightness for those to whom red and
       green are one */
    bool many = COLORS >= 256;
    start_pair(PAIR_TROUBLE, own[PAINT_OWN_CAUTION], many ? 172 : COLOR_YELLOW, back);
    start_pair(PAIR_STOCK, own[PAINT_OWN_LISTED], many ? 38 : COLOR_CYAN, back);
    start_pair(PAIR_GRAVE, own[PAINT_OWN_FAULT], many ? 197 : COLOR_RED, back);
}

void paint_end(struct paint *p)
{
    if (p->kept)
        delwin(p->kept);
    p->kept = NULL;
}

static attr_t attributes_of(const struct paint *p, enum ink ink)
{
    switch (ink) {
    case INK_STRONG: return A_BOLD;
    case INK_DIM: return p->dim ? A_DIM : A_NORMAL;
    case INK_TYPED: return A_REVERSE;
    case INK_TROUBLE: return p->colour ? (attr_t)COLOR_PAIR(PAIR_TROUBLE) : A_BOLD;
    case INK_GRAVE: return (p->colour ? (attr_t)COLOR_PAIR(PAIR_GRAVE) : A_NORMAL) | A_BOLD | A_REVERSE;
    case INK_HERE: return A_REVERSE;
    case INK_STOCK: return p->colour ? (attr_t)COLOR_PAIR(PAIR_STOCK) : A_NORMAL;
    case INK_LINK: return A_UNDERLINE;
    default: return A_NORMAL;
    }
}

/* ---- characters ---- */

/* What a terminal without UTF-8 shows in place of CH. */
static uint32_t plain(uint32_t ch)
{
    static const struct { uint32_t from, to;
    } fellows[] = {
        {0x2500, '-'}, {0x2502, '|'}, {0x2591, '.'}, {0x2592, ':'}, {0x2593, '#'}, {0x2588, '#'},
        {0x2580, '#'}, {0x2584, '#'}, {0xb0, 'o'},   {0xd7, 'x'},   {0x2013, '-'}, {0x2026, '.'},
        {0x2260, '#'}, {0xd8, 'O'},   {0xf8, 'o'},   {0x2300, 'd'},
    };
    if (ch < 0x7f)
        return ch;
    for (size_t i = 0; i < COUNT_OF(fellows); i++)
        if (fellows[i].from == ch)
            return fellows[i].to;
    return ch >= 0x250c && ch <= 0x254b ? '+' : '?';
}

/* ---- drawing ---- */

static void put(const struct paint *p, int y, int x, attr_t attributes, uint32_t ch)
{
    cchar_t cell;
    wchar_t text[2] = {(wchar_t)(p->utf8 ? ch : plain(ch)), 0};
    if (wcwidth(text[0]) < 0)
        text[0] = L'?';
    setcchar(&cell, text, attributes & ~A_COLOR, (short)PAIR_NUMBER(attributes), NULL);
    mvwadd_wch(p->window, y, x, &cell);
}

int paint_text(const struct paint *p, struct area a, int y, int x, enum ink ink, const char *text)
{
    attr_t attributes = attributes_of(p, ink);
    if (y < 0 || y >= a.h)
        return x;
    while (*text) {
        uint32_t ch = base_next_char(&text);
        int w = base_char_columns(ch);
        if (x + w > a.w)
            break;
        if (x >= 0 && w > 0)
            put(p, a.y + y, a.x + x, attributes, ch);
        x += w;
    }
    return x;
}

int paint_cut(const struct paint *p, struct area a, int y, int x, int end, enum ink ink, const char *text)
{
    int width = end - x;
    if (paint_width(text) <= width)
        return paint_text(p, a, y, x, ink, text);
    return width > 3 ? paint_format(p, a, y, x, ink, "%.*s ..", (int)paint_fit(text, width - 3), text) : x;
}

int paint_format(const struct paint *p, struct area a, int y, int x, enum ink ink, const char *fmt, ...)
{
    char text[1200];
    va_list args;
    va_start(args, fmt);
    vsnprintf(text, sizeof text, fmt, args);
    va_end(args);
    return paint_text(p, a, y, x, ink, text);
}

void paint_right(const struct paint *p, struct area a, int y, int end, enum ink ink, const char *text)
{
    paint_text(p, a, y, end - paint_width(text), ink, text);
}

void paint_char(const struct paint *p, struct area a, int y, int x, enum ink ink, uint32_t ch)
{
    if (y >= 0 && y < a.h && x >= 0 && x < a.w)
        put(p, a.y + y, a.x + x, attributes_of(p, ink), ch);
}

void paint_row(const struct paint *p, struct area a, int y, enum ink ink)
{
    for (int x = 0; x < a.w; x++)
        paint_char(p, a, y, x, ink, 0x2500);
}

void paint_box(const struct paint *p, struct area a, enum ink ink)
{
    static const uint32_t corners[] = {0x250c, 0x2510, 0x2514, 0x2518};
    for (int i = 0; i < 2; i++) {
        int y = i * (a.h - 1);
        paint_row(p, a, y, ink);
        paint_bar(p, a.x + i * (a.w - 1), a.y, a.h, ink);
    }
    for (int i = 0; i < 4; i++)
        paint_char(p, a, i / 2 * (a.h - 1), i % 2 * (a.w - 1), ink, corners[i]);
}

void paint_over(const struct paint *p, struct area a, int y, int x, int w, enum ink ink)
{
    attr_t attributes = attributes_of(p, ink);
    w = x + w > a.w ? a.w - x : w;
    if (y >= 0 && y < a.h && x >= 0 && w > 0)
        mvwchgat(p->window, a.y + y, a.x + x, w, attributes & ~A_COLOR, (short)PAIR_NUMBER(attributes), NULL);
}

void paint_bar(const struct paint *p, int x, int y, int h, enum ink ink)
{
    struct area a = {y, x, h, 1};
    for (int i = 0; i < h; i++)
        paint_char(p, a, i, 0, ink, 0x2502);
}

static enum ink role_ink(const struct view_cell *c)
{
    switch ((enum view_role)c->role) {
    case VIEW_METAL:
    case VIEW_LINE: return INK_DIM;
    case VIEW_TROUBLE: return INK_TROUBLE;
    case VIEW_STOCK: return INK_STOCK;
    case VIEW_CURSOR:
    case VIEW_TRIED: return INK_STRONG;
    default: return c->strong ? INK_STRONG : INK_PLAIN;
    }
}

static attr_t cell_attributes(const struct paint *p, const struct view_cell *c)
{
    attr_t own = attributes_of(p, c->strong ? INK_STRONG : role_ink(c));
    return c->freed ? own | attributes_of(p, INK_LINK) : own;
}

void paint_canvas(const struct paint *p, struct area a, const struct view_canvas *c, int first)
{
    for (int y = 0; y < a.h && first + y < c->height; y++) {
        const struct view_cell *row = c->cells + (size_t)(first + y) * (size_t)c->width;
        for (int x = 0; x < a.w && x < c->width; x++)
            if (row[x].ch != ' ')
                put(p, a.y + y, a.x + x, cell_attributes(p, &row[x]), row[x].ch);
    }
}

/* ---- what stays ---- */

static bool as_large(const struct paint *p)
{
    return p->kept && getmaxy(p->kept) == getmaxy(p->window) && getmaxx(p->kept) == getmaxx(p->window);
}

void paint_keep(struct paint *p)
{
    if (!as_large(p)) {
        paint_end(p);
        p->kept = newpad(getmaxy(p->window), getmaxx(p->window));
    }
    if (p->kept)
        overwrite(p->window, p->kept);
}

void paint_again(const struct paint *p, struct area a)
{
    if (as_large(p) && a.h > 0 && a.w > 0)
        copywin(p->kept, p->window, a.y, a.x, a.y, a.x, a.y + a.h - 1, a.x + a.w - 1, FALSE);
}

/* ---- blanks ---- */

enum { PAINT_COLUMNS = 500 };

struct look { attr_t attributes; short pair; bool blank; int columns; /* 0: behind the last */ };

static struct look look_of(const cchar_t *cell)
{
    wchar_t text[CCHARW_MAX + 1] = {0};
    struct look l = {0};
    getcchar(cell, text, &l.attributes, &l.pair, NULL);
    l.blank = text[0] == L' ' && l.attributes == A_NORMAL && l.pair == 0;
    l.columns = !text[0] ? 0 : wcwidth(text[0]) == 2 ? 2 : 1;
    return l;
}

/* Nobody sees these on a blank. */
static bool hides(const struct look *l) { return !(l->attributes & (A_REVERSE | A_UNDERLINE | A_STANDOUT)); }

/* The library tells a character of two columns as one cell and ends the row with an empty one. */
static void blanks_in_row(WINDOW *w, int y, int columns)
{
    cchar_t cells[PAINT_COLUMNS + 1];
    struct look left = {.attributes = A_REVERSE}; /* of the last cell that is no blank */
    int n = columns < PAINT_COLUMNS ? columns : PAINT_COLUMNS, from = 0;
    if (mvwin_wchnstr(w, y, 0, cells, n) == ERR)
        return;
    struct look here;
    for (int i = 0, x = 0; (here = look_of(&cells[i])).columns; x += here.columns, i++) {
        if (here.blank)
            continue;
        if (x > from && hides(&left) && left.attributes == here.attributes && left.pair == here.pair)
            mvwchgat(w, y, from, x - from, left.attributes, left.pair, NULL);
        left = here;
        from = x + here.columns;
    }
}

void paint_blanks(const struct paint *p)
{
    int rows, columns;
    getmaxyx(p->window, rows, columns);
    for (int y = 0; y < rows; y++)
        blanks_in_row(p->window, y, columns);
}

/* ---- pictures ---- */

void paint_begin(const struct paint *p)
{
    werase(p->window);
}
