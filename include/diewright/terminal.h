/* diewright/terminal.h - the terminal: taken, listened to, painted on, given back
 *
 * The only room with curses, and it shows none: above it are keys, rows and columns, inks, and lines being
 * typed. Knows nothing of jobs; draws what the room view has put on its canvas.
 *
 * One terminal at a time. Everything that can end or change it (keys, pastes, sizes, signals, hang-up)
 * arrives as one stream of events; nothing runs inside a signal handler but a write into a pipe. A crash
 * writes one prepared string and sets the modes back.
 */
#ifndef DIEWRIGHT_TERMINAL_H
#define DIEWRIGHT_TERMINAL_H

#include "diewright/view.h"

struct field;

struct terminal_wish {
    const char *term;  /* NULL or "": not set */
    bool utf8;         /* the locale can show lines and blocks */
    bool colour;
    int escape_ms;
};

struct terminal;

/* Take the terminal. False: *WHY says in one sentence why the screens cannot be shown; nothing was
   written. */
bool terminal_open(const struct terminal_wish *wish, struct terminal **out, struct base_diag *why);
/* Give it back as it was. NULL is fine. */
void terminal_close(struct terminal *t);

void terminal_size(const struct terminal *t, int *high, int *wide); /* rows, columns */
bool terminal_has_colour(const struct terminal *t);
/* Height of a character cell over its width, 2.0 when the terminal does not tell. */
double terminal_cell_ratio(const struct terminal *t);

enum terminal_what {
    TERMINAL_KEY,     /* .key */
    TERMINAL_PASTE,   /* .text: cleaned, on one line; borrowed until the next wait */
    TERMINAL_RESIZED, /* terminal_size() is new */
    TERMINAL_REDRAW,  /* back from a stop: draw all */
    TERMINAL_SIGNAL,  /* .signal: HUP, INT or TERM came, or the line is gone (HUP) */
    TERMINAL_WAITED,  /* nothing within the time asked for */
};
/* A key: a character, or KEY_CODE + a number of its own, two spaces that must not be mixed. */
enum {
    KEY_CODE = 0x200000, /* the numbers are those of curses; terminal.c holds the two together */
    TERMINAL_DOWN = KEY_CODE + 0402,
    TERMINAL_UP,
    TERMINAL_LEFT,
    TERMINAL_RIGHT,
    TERMINAL_HOME,
    TERMINAL_BACKSPACE,
    TERMINAL_F1 = KEY_CODE + 0411,
    TERMINAL_DELETE = KEY_CODE + 0512,
    TERMINAL_PAGE_DOWN = KEY_CODE + 0522,
    TERMINAL_PAGE_UP,
    TERMINAL_ENTER = KEY_CODE + 0527,
    TERMINAL_BACK_TAB = KEY_CODE + 0541,
    TERMINAL_END = KEY_CODE + 0550,
};
/* No keys, but what is done by hand all the same, so that the key table tells of it: beyond all codes of
 * curses. The mouse's come with their cell; "letters" and "figures" are never sent. */
enum { KEY_LETTERS = 0x400000, KEY_FIGURES, KEY_CLICK, KEY_WHEEL_UP, KEY_WHEEL_DOWN };
/* KEY_ALT + a character: Alt was held, or Esc came right before it, which is the same on the line. */
enum { KEY_ALT = 0x800000 };
struct terminal_event {
    enum terminal_what what;
    int key;
    int y, x; /* of a click or the wheel, from 0 */
    int signal;
    const char *text;
    bool cut; /* a paste that was too long and lost its end */
};
/* Next event; MS -1: wait for ever. Sends nothing, wakes for nothing. */
void terminal_wait(struct terminal *t, int ms, struct terminal_event *out);
/* Is another key waiting already? Then a costly picture may wait. */
bool terminal_key_waits(struct terminal *t);

/* Looked at between two steps of something long: does a key wait that gives it up (Esc, Ctrl-C), or the end
 * of the program? What waits is kept for terminal_wait(), in order; but for the key that gives up, and all
 * before it, once terminal_forget_typed() is called. */
enum terminal_asks { TERMINAL_ASKS_NOTHING, TERMINAL_ASKS_GIVE_UP, TERMINAL_ASKS_END };
enum terminal_asks terminal_asks(struct terminal *t);
void terminal_forget_typed(struct terminal *t);

/* Ask for reports of the mouse, or no longer. Returns whether they come now: not every terminal has them.
 * Until they are asked for nothing is sent, and the terminal's own selecting works as everywhere. */
bool terminal_mouse(struct terminal *t, bool on);

/* Ask the terminal to put TEXT on its clipboard (OSC 52); many do, none says whether it did. */
void terminal_clip(struct terminal *t, const char *text);

/* Forget what the terminal shows: the next picture is sent whole. */
void terminal_repaint(struct terminal *t);

/* Leave the terminal and stop this program's process group, as Ctrl-Z asks; returns when continued. */
void terminal_suspend(struct terminal *t);

/* ---- painting -------------------------------------------------------------------
 *
 * All drawing goes through here: cut by columns as wcwidth counts them, never by bytes; characters that the
 * locale cannot show are drawn as their plain fellows. Attributes by role; nothing is told by colour alone.
 */

struct area { int y, x, h, w; };

/* HERE: the line at the cursor, the title of the pane that has the keys. TROUBLE and GRAVE tell cautions and
 * faults apart without colour too. */
enum ink { INK_PLAIN, INK_STRONG, INK_DIM, INK_TYPED, INK_TROUBLE, INK_GRAVE, INK_STOCK, INK_LINK, INK_HERE };

struct paint {
    void *window; /* of curses */
    void *kept; /* NULL, or the panes as they were painted last, without what lies over them */
    bool utf8, colour, dim;
};

/* Colours of one's own, of inks that have one: 0 .. 255, or one of these two. */
enum paint_own { PAINT_OWN_CAUTION, PAINT_OWN_FAULT, PAINT_OWN_LISTED, PAINT_OWN };
enum { PAINT_PLAIN = -1, PAINT_SHIPPED = -2 };

/* Once the terminal is open. A colour that the terminal does not have stays as shipped. */
void paint_start(struct paint *p, bool utf8, bool colour, const short own[PAINT_OWN]);
void paint_end(struct paint *p);

/* TEXT at row Y and column X of A, cut at its edges. Returns the column after it. */
int paint_text(const struct paint *p, struct area a, int y, int x, enum ink ink, const char *text);
/* The same ending before column END; " .." stands for what has no room. */
int paint_cut(const struct paint *p, struct area a, int y, int x, int end, enum ink ink, const char *text);
int paint_format(const struct paint *p, struct area a, int y, int x, enum ink ink, const char *fmt, ...)
    PRINTF_LIKE(6, 7);
/* So that it ends before column END. */
void paint_right(const struct paint *p, struct area a, int y, int end, enum ink ink, const char *text);
void paint_char(const struct paint *p, struct area a, int y, int x, enum ink ink, uint32_t ch);
void paint_row(const struct paint *p, struct area a, int y, enum ink ink);      /* horizontal line */
void paint_box(const struct paint *p, struct area a, enum ink ink);             /* a whole border */
/* What stands in row Y, columns X .. X + W - 1, now in INK. */
void paint_over(const struct paint *p, struct area a, int y, int x, int w, enum ink ink);
void paint_bar(const struct paint *p, int x, int y, int h, enum ink ink);       /* vertical line */
/* Rows FIRST.. of a canvas into A; TRIED as bold, letters of freed points underlined. */
void paint_canvas(const struct paint *p, struct area a, const struct view_canvas *c, int first);
/* A is left as it was kept; and all that is painted by now is kept. */
void paint_again(const struct paint *p, struct area a);
void paint_keep(struct paint *p);
/* Last of all: blanks between two alike take the weight and colour of these, which nobody sees, and the
 * terminal need not be told of a change there and back. */
void paint_blanks(const struct paint *p);

/* A picture: begun empty, painted, sent. Only what differs from the one before goes down the line. */
void paint_begin(const struct paint *p);
/* The cursor at row Y and column X, or in FIELD, or where a list on a panel has put it. */
void paint_send(const struct paint *p, int y, int x, struct field *field, bool on_panel);
/* As painted so far, between two steps of something long. */
void paint_send_now(const struct paint *p);

/* Columns that TEXT takes. */
int paint_width(const char *text);
/* How many bytes of TEXT fit into WIDTH columns. */
size_t paint_fit(const char *text, int width);
/* The same, but ending at a blank where there is one: for lines of a paragraph. At least 1 byte of a
 * text that is not empty. *SKIP: bytes to pass over before the next line. */
size_t paint_wrap(const char *text, int width, size_t *skip);

/* ---- a line being typed -------------------------------------------------------------------
 *
 * The text is ours, whatever the library does: after a new size its form is built anew from it. Used wherever
 * something is typed: values, reasons, commands, searches.
 */

enum { FIELD_MOST = 900, FIELD_ROWS = 3 }; /* bytes; rows of the screen */

struct field *field_new(const char *text); /* the cursor stands at the end */
void field_free(struct field *f);
/* The text is only offered: the first character typed, or what is pasted, takes its place; any other key
   keeps it. */
void field_offer(struct field *f);
bool field_offered(const struct field *f); /* and nothing was pressed since */

/* Show it at rows Y .. Y + H - 1, columns X .. X + W - 1 of the screen; cheap when it is there already.
 * One row scrolls sideways; several show the text row by row, and of one that is longer its begin, the
 * part at the cursor and its end, " .." standing for what is between. */
void field_place(struct field *f, int y, int x, int w, int h);
/* LENGTH bytes from START are at fault: marked where the text takes several rows. 0: nothing is. */
void field_mark(struct field *f, int start, int length);
/* Draw it again over what was drawn below, and put the terminal's cursor into it. */
void field_show(struct field *f);
void field_hide(struct field *f);

const char *field_text(const struct field *f);
int field_cursor(const struct field *f);  /* byte offset */
void field_set(struct field *f, const char *text, int cursor);
/* Replace bytes FROM..TO by TEXT, cursor behind it. */
void field_replace(struct field *f, int from, int to, const char *text);

enum field_did { FIELD_NOTHING, FIELD_MOVED, FIELD_CHANGED };
/* A key as terminal.h gives it: characters, Left Right Home End Backspace Delete, Ctrl-A E W U K; with Alt B
 * F D Backspace: back and forward by a word, a word taken out. */
enum field_did field_key(struct field *f, int key);
/* whole, or nothing of it where it has no room */
enum field_did field_paste(struct field *f, const char *text);
/* A column of the screen for a byte offset of the text, -1 when it is scrolled out or in several rows. */
int field_column(const struct field *f, int offset);

/* ---- a list on a panel ------------------------------------------------------------------- */

struct pick;

struct pick *pick_new(void);
void pick_free(struct pick *p);
/* In A, inside of a border that is the caller's to paint: N lines, a label each and a note beside it, none
 * empty and all as the locale can show them (the texts stay yours and must live while they are shown); the
 * cursor on line AT. Cheap when it stands there already; OTHERS says that the lines are not those of last
 * time. False: there is no room for it. */
bool pick_show(struct pick *p, struct area a, const char *const *labels, const char *const *notes, int n,
               int at, bool others);
void pick_go(struct pick *p, int at); /* the cursor to line AT of those shown */
int pick_top(const struct pick *p);   /* the first line that is seen, -1: none is shown */
/* What its border is painted with: rows and columns are those of A. */
struct paint pick_paint(const struct pick *p, const struct paint *screen);
/* Over what else is drawn, with the terminal's cursor in it: when all is painted. */
void pick_raise(struct pick *p);

#endif
