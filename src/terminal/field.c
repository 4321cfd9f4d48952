/* terminal/field.c - see diewright/terminal.h
 *
 * `text` is the truth between two keys: it is read back from the form's buffer after every key. The library
 * pads buffers with blanks; typed blanks at the end are known from where the cursor stands.
 */

#include "diewright/terminal.h"

#include "terminal/curses.h"

#include <form.h>
#include <panel.h>
#include <stdlib.h>
#include <string.h>

struct field {
    char *text;
    int cursor; /* byte offset */
    bool offered;
    int y, x, w, h;
    int fault, faulty; /* byte offset and bytes that are marked */
    WINDOW *window;
    WINDOW *line; /* where the form stands: the window, or with several rows a pad that nobody sees */
    PANEL *panel;
    FIELD *fields[2];
    FORM *form;
};

struct field *field_new(const char *text)
{
    struct field *f = base_alloc(sizeof *f);
    f->text = base_copy(text);
    f->cursor = (int)strlen(text);
    return f;
}

void field_offer(struct field *f)
{
    f->offered = f->text[0] != '\0';
}

bool field_offered(const struct field *f) { return f->offered; }

static void take_down(struct field *f)
{
    if (f->panel)
        del_panel(f->panel);
    if (f->line && f->line != f->window)
        delwin(f->line);
    if (f->window)
        delwin(f->window);
    f->form = NULL;
    f->panel = NULL;
    f->line = f->window = NULL;
}

static void pull_down(struct field *f)
{
    if (!f->form)
        return;
    unpost_form(f->form);
    free_form(f->form);
    free_field(f->fields[0]);
    take_down(f);
}

/* On the screen as it was built. After a new size of the screen the library has cut or widened the windows,
   while the form's buffer is as long as before: what it then reads and writes lies beside it (in ncurses
   6.4). */
static bool stands(const struct field *f)
{
    return f->form && getmaxx(f->line) == f->w &&
           terminal_stands(f->window, (struct area){f->y, f->x, f->h, f->w});
}

/* Asked before the form is. The text outlives the form. */
static bool posted(struct field *f)
{
    if (!stands(f))
        pull_down(f);
    return f->form != NULL;
}

void field_free(struct field *f)
{
    if (!f)
        return;
    pull_down(f);
    free(f->text);
    free(f);
}

/* Columns of the text before a byte offset. */
static int columns_before(const struct field *f, int offset)
{
    char *head = base_copy_n(f->text, (size_t)offset);
    int n = paint_width(head);
    free(head);
    return n;
}

/* The form's buffer and cursor as our text and cursor say. */
static void push(struct field *f)
{
    if (!posted(f))
        return;
    set_field_buffer(f->fields[0], 0, f->text);
    form_driver(f->form, REQ_BEG_FIELD);
    for (int n = columns_before(f, f->cursor); n > 0; n--)
        form_driver(f->form, REQ_NEXT_CHAR);
}

static void build(struct field *f)
{
    f->window = newwin(f->h, f->w, f->y, f->x);
    f->line = f->window && f->h > 1 ? newpad(1, f->w) : f->window;
    if (!f->line) {
        take_down(f);
        return;
    }
    f->panel = new_panel(f->window);
    f->fields[0] = new_field(1, f->w, 0, 0, 0, 0);
    f->fields[1] = NULL;
    field_opts_off(f->fields[0], O_STATIC | O_AUTOSKIP | O_BLANK | O_WRAP);
    set_max_field(f->fields[0], FIELD_MOST);
    set_field_back(f->fields[0], f->offered ? A_REVERSE | A_UNDERLINE : A_REVERSE);
    f->form = new_form(f->fields);
    set_form_win(f->form, f->line);
    set_form_sub(f->form, f->line); /* else it is posted on the whole screen */
    if (post_form(f->form) != E_OK) {
        free_form(f->form);
        free_field(f->fields[0]);
        take_down(f);
        return;
    }
    push(f);
}

void field_place(struct field *f, int y, int x, int w, int h)
{
    if (y < 0 || x < 0 || w < 1 || h < 1 || y + h > LINES || x + w > COLS) {
        pull_down(f);
        return;
    }
    if (posted(f) && f->y == y && f->x == x && f->w == w && f->h == h)
        return;
    pull_down(f);
    f->y = y;
    f->x = x;
    f->w = w;
    f->h = h;
    build(f);
}

void field_hide(struct field *f)
{
    pull_down(f);
}

/* ---- several rows ---- */

/* Which row of the text, cut every W columns, is shown in ROW, N being all it has and AT the cursor's. */
static int text_row(const struct field *f, int row, int n, int at)
{
    if (n <= f->h || row == 0)
        return row;
    if (row == f->h - 1)
        return n - 1;
    int first = at - f->h / 2;
    first = first < 0 ? 0 : first > n - f->h ? n - f->h : first;
    return first + row;
}

static void show_rows(struct field *f)
{
    int columns = paint_width(f->text), cursor = columns_before(f, f->cursor);
    int n = (columns + f->w) / f->w, at = cursor / f->w; /* the cursor may stand behind the last */
    int fault = columns_before(f, f->fault), faulty = columns_before(f, f->fault + f->faulty) - fault;
    struct paint p = {.window = f->window, .utf8 = MB_CUR_MAX > 1};
    struct area all = {0, 0, f->h, f->w};
    int cy = 0, cx = 0;
    werase(f->window);
    for (int y = 0; y < f->h; y++) {
        int row = text_row(f, y, n, at), next = y + 1 < f->h ? text_row(f, y + 1, n, at) : row + 1;
        size_t from = paint_fit(f->text, row * f->w), length = paint_fit(f->text + from, f->w);
        char *part = base_copy_n(f->text + from, row < n ? length : 0);
        int x = paint_text(&p, all, y, 0, INK_TYPED, part);
        free(part);
        for (; x < f->w; x++)
            paint_char(&p, all, y, x, INK_TYPED, ' ');
        for (int c = fault; c < fault + faulty; c++)
            if (c / f->w == row)
                paint_over(&p, all, y, c % f->w, 1, INK_STRONG);
        if (next > row + 1 && f->w > 4 && row != at)
            paint_text(&p, all, y, f->w - 3, INK_TYPED, " ..");
        if (row == at) {
            cy = y;
            cx = cursor % f->w;
        }
    }
    wmove(f->window, cy, cx);
}

void field_mark(struct field *f, int start, int length)
{
    int n = (int)strlen(f->text);
    f->fault = start < 0 || start > n ? n : start;
    f->faulty = length < 0 || length > n - f->fault ? n - f->fault : length;
}

void field_show(struct field *f)
{
    if (!posted(f))
        return;
    top_panel(f->panel);
    if (f->h > 1)
        show_rows(f);
    else
        pos_form_cursor(f->form);
}

const char *field_text(const struct field *f)
{
    return f->text;
}

int field_cursor(const struct field *f)
{
    return f->cursor;
}

/* The text is no longer one that typing replaces. */
static void take_offer(struct field *f)
{
    if (f->offered && posted(f))
        set_field_back(f->fields[0], A_REVERSE);
    f->offered = false;
}

void field_set(struct field *f, const char *text, int cursor)
{
    take_offer(f);
    struct base_text now = {0}; /* curses writes the form as it stands, so nothing hidden gets into it */
    size_t length = strlen(text), before = cursor < 0 || (size_t)cursor > length ? length : (size_t)cursor;
    base_text_add_visible(&now, text, before, false);
    size_t at = now.length;
    base_text_add_visible(&now, text + before, length - before, false);
    size_t n = base_char_fit(base_text_get(&now), FIELD_MOST);
    free(f->text);
    f->text = base_copy_n(base_text_get(&now), n);
    f->cursor = (int)(at < n ? at : n);
    field_mark(f, 0, 0);
    base_text_done(&now);
    push(f);
}

void field_replace(struct field *f, int from, int to, const char *text)
{
    char *now = base_format("%.*s%s%s", from, f->text, text, f->text + to);
    field_set(f, now, from + (int)strlen(text));
    free(now);
}

static int before(const struct field *f, int at)
{
    return (int)base_char_start(f->text, (size_t)at);
}

/* Read the form back after the library has worked on it. */
static void pull(struct field *f)
{
    form_driver(f->form, REQ_VALIDATION);
    const char *buffer = field_buffer(f->fields[0], 0);
    size_t end = strlen(buffer);
    size_t at = paint_fit(buffer, f->form->curcol);
    while (end > at && buffer[end - 1] == ' ')
        end--;
    char *now = base_copy_n(buffer, end < FIELD_MOST ? end : FIELD_MOST);
    free(f->text);
    f->text = now;
    f->cursor = (int)(at < strlen(now) ? at : strlen(now));
    field_mark(f, 0, 0);
}

/* Keys typed ahead come before the first picture: any place will do until then. */
static bool ready(struct field *f)
{
    if (!posted(f))
        field_place(f, 0, 0, COLS < 20 ? COLS : 20, 1);
    return f->form != NULL;
}

static enum field_did request(struct field *f, int ask)
{
    if (!ready(f))
        return FIELD_NOTHING;
    char *was = base_copy(f->text);
    form_driver(f->form, ask);
    pull(f);
    bool same = strcmp(was, f->text) == 0;
    free(was);
    return same ? FIELD_MOVED : FIELD_CHANGED;
}

static enum field_did cut_out(struct field *f, int from, int to)
{
    if (from == to)
        return FIELD_NOTHING;
    field_replace(f, from, to, "");
    return FIELD_CHANGED;
}

static int word_begin(const struct field *f)
{
    int at = f->cursor;
    while (at > 0 && f->text[at - 1] == ' ')
        at--;
    while (at > 0 && f->text[at - 1] != ' ')
        at--;
    return at;
}

static int word_end(const struct field *f)
{
    int at = f->cursor;
    while (f->text[at] == ' ')
        at++;
    while (f->text[at] && f->text[at] != ' ')
        at++;
    return at;
}

static enum field_did go(struct field *f, int at)
{
    if (at == f->cursor)
        return FIELD_NOTHING;
    field_set(f, f->text, at);
    return FIELD_MOVED;
}

static enum field_did type(struct field *f, int ch)
{
    if (base_char_hidden((uint32_t)ch) || strlen(f->text) + 4 > FIELD_MOST || !ready(f))
        return FIELD_NOTHING;
    if (form_driver_w(f->form, OK, (wchar_t)ch) != E_OK)
        return FIELD_NOTHING;
    pull(f);
    return FIELD_CHANGED;
}

static enum field_did stroke(struct field *f, int key)
{
    switch (key) {
    case KEY_CODE + KEY_LEFT: return f->cursor > 0 ? request(f, REQ_PREV_CHAR) : FIELD_NOTHING;
    case KEY_CODE + KEY_RIGHT: return f->text[f->cursor] ? request(f, REQ_NEXT_CHAR) : FIELD_NOTHING;
    case KEY_CODE + KEY_HOME:
    case 'A' & 31: field_set(f, f->text, 0); return FIELD_MOVED;
    case KEY_CODE + KEY_END:
    case 'E' & 31: field_set(f, f->text, -1); return FIELD_MOVED;
    case KEY_CODE + KEY_BACKSPACE:
    case 127:
    case 8: return cut_out(f, before(f, f->cursor), f->cursor);
    case KEY_CODE + KEY_DC: return f->text[f->cursor] ? request(f, REQ_DEL_CHAR) : FIELD_NOTHING;
    case 'W' & 31: return cut_out(f, word_begin(f), f->cursor);
    case 'U' & 31: return cut_out(f, 0, f->cursor);
    case 'K' & 31: return cut_out(f, f->cursor, (int)strlen(f->text));
    case KEY_ALT + 'b': return go(f, word_begin(f));
    case KEY_ALT + 'f': return go(f, word_end(f));
    case KEY_ALT + 'd': return cut_out(f, f->cursor, word_end(f));
    case KEY_ALT + 127:
    case KEY_ALT + 8: return cut_out(f, word_begin(f), f->cursor);
    default: return key < KEY_CODE ? type(f, key) : FIELD_NOTHING;
    }
}

/* A letter replaces an offered text, a key that goes into it takes it as typed; others leave it offered. */
enum field_did field_key(struct field *f, int key)
{
    bool letter = key >= ' ' && key < KEY_CODE && key != 127;
    if (f->offered && letter)
        field_set(f, "", 0);
    enum field_did did = stroke(f, key);
    if (did != FIELD_NOTHING || key == KEY_CODE + KEY_LEFT || key == KEY_CODE + KEY_RIGHT)
        take_offer(f);
    return did;
}

enum field_did field_paste(struct field *f, const char *text)
{
    if (!*text || strlen(text) + (f->offered ? 0 : strlen(f->text)) > FIELD_MOST)
        return FIELD_NOTHING;
    if (f->offered)
        field_set(f, "", 0);
    field_replace(f, f->cursor, f->cursor, text);
    return FIELD_CHANGED;
}

int field_column(const struct field *f, int offset)
{
    if (!stands(f) || f->h > 1 || offset < 0 || offset > (int)strlen(f->text))
        return -1;
    int x = columns_before(f, offset) - f->form->begincol;
    return x >= 0 && x < f->w ? f->x + x : -1;
}
