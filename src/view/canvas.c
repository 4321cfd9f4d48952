/* A canvas: cells in rows, top left first, each one character wide.
 *
 * Whatever is put outside falls away, so that no picture has to clip. A text is cut into code points; what has
 * no width of one cell (control characters, combining marks, wide letters) never gets into a cell.
 */

#include "diewright/view.h"

#include <assert.h>
#include <stdlib.h>

enum { MOST = 4096 }; /* cells along one side */

static int clamped(int n) { return n < 0 ? 0 : n > MOST ? MOST : n; }

void view_canvas_init(struct view_canvas *c, int width, int height)
{
    c->width = clamped(width);
    c->height = clamped(height);
    size_t n = (size_t)c->width * (size_t)c->height;
    c->cells = base_alloc(n * sizeof *c->cells);
    for (size_t i = 0; i < n; i++)
        c->cells[i] = (struct view_cell){.ch = ' ', .role = VIEW_PLAIN, .item = -1};
}

void view_canvas_done(struct view_canvas *c)
{
    free(c->cells);
    *c = (struct view_canvas){0};
}

/* ---- characters ------------------------------------------------------------ */

struct range { uint32_t first, last; };

static bool within(uint32_t ch, const struct range *ranges, size_t n)
{
    for (size_t i = 0; i < n; i++)
        if (ch >= ranges[i].first && ch <= ranges[i].last)
            return true;
    return false;
}

/* Take no cell of their own: combining marks, zero width and direction marks. */
static bool is_mark(uint32_t ch)
{
    static const struct range marks[] = {
        {0x300, 0x36f}, {0x1ab0, 0x1aff}, {0x1dc0, 0x1dff}, {0x200b, 0x200f}, {0x202a, 0x202e},
        {0x2060, 0x206f}, {0x20d0, 0x20ff}, {0xfe00, 0xfe0f}, {0xfe20, 0xfe2f}, {0xfeff, 0xfeff},
    };
    return within(ch, marks, COUNT_OF(marks));
}

/* What a cell shows for CH: itself, or "?" when it would not fill exactly one cell. */
static uint32_t shown(uint32_t ch)
{
    static const struct range not_one[] = {
        {0, 0x1f}, {0x7f, 0x9f}, {0x1100, 0x115f}, {0x2e80, 0x303e}, {0x3041, 0xa4cf}, {0xac00, 0xd7a3},
        {0xd800, 0xdfff}, {0xf900, 0xfaff}, {0xfe30, 0xfe6f}, {0xff00, 0xff60}, {0xffe0, 0xffe6},
        {0x1f000, 0x1faff}, {0x20000, 0x3fffd}, {0x110000, 0xffffffff},
    };
    return within(ch, not_one, COUNT_OF(not_one)) ? '?' : ch;
}

/* The next code point of TEXT, moved on; a byte that is not UTF-8 stands for itself as "?". */
static uint32_t next_char(const char **text)
{
    const unsigned char *t = (const unsigned char *)*text;
    int more = t[0] < 0x80 ? 0 : (t[0] & 0xe0) == 0xc0 ? 1 : (t[0] & 0xf0) == 0xe0 ? 2 : (t[0] & 0xf8) == 0xf0 ? 3 : -1;
    static const uint32_t least[] = {0, 0x80, 0x800, 0x10000};
    uint32_t ch = more <= 0 ? t[0] : t[0] & (0x3fu >> more);
    for (int i = 1; i <= more; i++) {
        if ((t[i] & 0xc0) != 0x80) {
            more = -1;
            break;
        }
        ch = ch << 6 | (t[i] & 0x3fu);
    }
    if (more < 0 || ch < least[more]) {
        (*text)++;
        return '?';
    }
    *text += more + 1;
    return ch;
}

static void add_utf8(struct base_text *out, uint32_t ch)
{
    char b[4];
    size_t n = 0;
    if (ch < 0x80) {
        b[n++] = (char)ch;
    } else if (ch < 0x800) {
        b[n++] = (char)(0xc0 | ch >> 6);
        b[n++] = (char)(0x80 | (ch & 0x3f));
    } else if (ch < 0x10000) {
        b[n++] = (char)(0xe0 | ch >> 12);
        b[n++] = (char)(0x80 | (ch >> 6 & 0x3f));
        b[n++] = (char)(0x80 | (ch & 0x3f));
    } else {
        b[n++] = (char)(0xf0 | ch >> 18);
        b[n++] = (char)(0x80 | (ch >> 12 & 0x3f));
        b[n++] = (char)(0x80 | (ch >> 6 & 0x3f));
        b[n++] = (char)(0x80 | (ch & 0x3f));
    }
    base_text_add_n(out, b, n);
}

/* ---- putting and printing --------------------------------------------------- */

void view_put(struct view_canvas *c, int x, int y, uint32_t ch, enum view_role role)
{
    if (x < 0 || y < 0 || x >= c->width || y >= c->height)
        return;
    c->cells[(size_t)y * (size_t)c->width + (size_t)x] =
        (struct view_cell){.ch = shown(ch), .role = (unsigned char)role, .item = -1};
}

void view_text(struct view_canvas *c, int x, int y, const char *utf8, enum view_role role)
{
    while (*utf8 && x < c->width) {
        uint32_t ch = next_char(&utf8);
        if (!is_mark(ch))
            view_put(c, x++, y, ch, role);
    }
}

/* The rows up to the last one that shows something. */
static int used_rows(const struct view_canvas *c)
{
    size_t n = (size_t)c->width * (size_t)c->height;
    while (n > 0 && c->cells[n - 1].ch == ' ')
        n--;
    return n == 0 ? 0 : (int)((n - 1) / (size_t)c->width) + 1;
}

void view_print(const struct view_canvas *c, struct base_text *out)
{
    for (int y = 0, rows = used_rows(c); y < rows; y++) {
        const struct view_cell *row = c->cells + (size_t)y * (size_t)c->width;
        int end = c->width;
        while (end > 0 && row[end - 1].ch == ' ')
            end--;
        for (int x = 0; x < end; x++)
            add_utf8(out, row[x].ch);
        base_text_add(out, "\n");
    }
}
