/* terminal/terminal.c - see diewright/terminal.h
 *
 * Signals come through a pipe (signals.c); terminal_wait() polls keys and that pipe together, so no signal is
 * lost between looking and sleeping. SIGWINCH is left to curses, whose handler ours calls before it writes
 * its own byte. Modes: cbreak without the interrupt and suspend characters, so that Ctrl-C and Ctrl-Z arrive
 * as keys while the line's flow control stays as the person has it.
 */

#include "diewright/terminal.h"

#include "terminal/curses.h"
#include "terminal/signals.h"

#include <assert.h>
#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <poll.h>
#include <signal.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <term.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

enum {
    AHEAD = 64,
    PASTE_ROOM = 4000,
    KEY_PASTE_BEGIN = 1001,
    KEY_PASTE_END = 1002,
    KEY_REPORT_LONG = 1003,
    KEY_REPORT_SHORT = 1004,
    CONTROL_C = 3,
    ESCAPE = 27
};

static const char paste_on[] = "\033[?2004h";
static const char paste_off[] = "\033[?2004l";
static const char mouse_long[] = "\033[?1006h"; /* reports without a last column */
static const char mouse_off[] = "\033[?1006l\033[?1000l";

struct terminal {
    SCREEN *screen;
    WINDOW *keys; /* a pad: reading from it refreshes nothing */
    int pipe[2];
    bool colour, gone, mouse;
    struct termios before; /* the modes to give back */
    char paste[PASTE_ROOM + 1];
    struct terminal_event ahead[AHEAD]; /* read while something long was at work, not yet handed out */
    int n_ahead;
};

static_assert(TERMINAL_DOWN == KEY_CODE + KEY_DOWN && TERMINAL_UP == KEY_CODE + KEY_UP &&
                  TERMINAL_LEFT == KEY_CODE + KEY_LEFT && TERMINAL_RIGHT == KEY_CODE + KEY_RIGHT &&
                  TERMINAL_HOME == KEY_CODE + KEY_HOME && TERMINAL_BACKSPACE == KEY_CODE + KEY_BACKSPACE &&
                  TERMINAL_END == KEY_CODE + KEY_END && TERMINAL_F1 == KEY_CODE + KEY_F(1) &&
                  TERMINAL_DELETE == KEY_CODE + KEY_DC && TERMINAL_ENTER == KEY_CODE + KEY_ENTER &&
                  TERMINAL_PAGE_DOWN == KEY_CODE + KEY_NPAGE && TERMINAL_PAGE_UP == KEY_CODE + KEY_PPAGE &&
                  TERMINAL_BACK_TAB == KEY_CODE + KEY_BTAB,
              "the numbers of terminal.h are those of curses");

/* ---- open ---- */

/* Append a capability to the reset string, its padding times left out. */
static void add_reset(struct base_text *reset, const char *name)
{
    const char *text = tigetstr(name);
    if (!text || text == (char *)-1)
        return;
    for (; *text; text++) {
        if (text[0] == '$' && text[1] == '<') {
            while (*text && *text != '>')
                text++;
            if (!*text)
                return;
            continue;
        }
        base_text_addf(reset, "%c", *text);
    }
}

static void make_reset(void)
{
    static const char *const names[] = {"sgr0", "op", "rmkx", "cnorm", "rmcup"};
    struct base_text reset = {0};
    base_text_add(&reset, paste_off);
    for (size_t i = 0; i < COUNT_OF(names); i++)
        add_reset(&reset, names[i]);
    base_text_add(&reset, "\r\n");
    signals_ready(base_text_get(&reset), reset.length);
    base_text_done(&reset);
}

/* Take the N bytes at AT out of the text they stand in. */
static void take_out(char *at, size_t n)
{
    memmove(at, at + n, strlen(at + n) + 1);
}

/* Attributes in few bytes. Most descriptions choose the plain character set anew with every change of
 * attributes, and write the 0 that ECMA-48 lets one leave out; on xterm bold is then 9 bytes where 5 will do,
 * "off" 6 where it is 3. No other set is ever chosen here, so those parts are taken out of this process's
 * copy of the description, in place: curses has no call for it. */
static void spare_attributes(void)
{
    static const char choice[] = "%?%p9%t", begin[] = "\033[0%?";
    char *set = tigetstr("sgr"), *off = tigetstr("sgr0"), *plain = tigetstr("rmacs"), *at;
    if (!set || !off || !plain || set == (char *)-1 || off == (char *)-1 || plain == (char *)-1)
        return;
    if ((at = strstr(set, choice)) && strstr(at, "%;"))
        take_out(at, (size_t)(strstr(at, "%;") + 2 - at));
    if (strncmp(set, begin, sizeof begin - 1) == 0)
        take_out(set + 2, 1);
    if (*plain && (at = strstr(off, plain)) && strlen(off) > strlen(plain))
        take_out(at, strlen(plain));
}

/* Can this terminal be drawn on? Asked of its description, before anything is written. */
static bool fit(const struct terminal_wish *wish, struct base_diag *why)
{
    int error = 0;
    if (!isatty(STDIN_FILENO) || !isatty(STDOUT_FILENO)) {
        base_fail(why, BASE_REFUSED, "The screens need a terminal for input and output; "
                                     "the commands (diewright --help) do without one.");
        return false;
    }
    if (!wish->term || !*wish->term) {
        base_fail(why, BASE_REFUSED, "TERM is not set, so nothing is known about this terminal.");
        return false;
    }
    if (setupterm(wish->term, STDOUT_FILENO, &error) != OK) {
        if (error == 1)
            base_fail(why, BASE_REFUSED,
                      "The terminal type \"%.60s\" prints on paper; the screens cannot be shown.",
                      wish->term);
        else
            base_fail(why, BASE_REFUSED,
                      "The terminal type \"%.60s\" is not known here; set TERM to one that is.", wish->term);
        return false;
    }
    const char *cup = tigetstr("cup");
    bool good = cup && cup != (char *)-1;
    del_curterm(cur_term);
    if (!good)
        base_fail(why, BASE_REFUSED,
                  "The terminal type \"%.60s\" cannot move its cursor; the screens cannot be shown.",
                  wish->term);
    return good;
}

/* cbreak, with Ctrl-C and Ctrl-Z as keys; curses keeps these modes as the ones to come back to. */
static void set_modes(void)
{
    struct termios modes;
    cbreak();
    noecho();
    nonl();
    if (tcgetattr(STDIN_FILENO, &modes) == 0) {
        modes.c_cc[VINTR] = _POSIX_VDISABLE;
        modes.c_cc[VSUSP] = _POSIX_VDISABLE;
        tcsetattr(STDIN_FILENO, TCSADRAIN, &modes);
    }
    def_prog_mode();
}

static bool start_colours(bool wanted)
{
    if (!wanted || !has_colors() || start_color() != OK)
        return false;
    return COLOR_PAIRS > 2;
}

static void make_pipe(struct terminal *t)
{
    if (pipe2(t->pipe, O_CLOEXEC | O_NONBLOCK) != 0)
        abort();
}

/* Keys by what terminals really send: many differ here from their own description. */
static void name_keys(void)
{
    static const struct { const char *sent; int key; } others[] = {
        {"\033[1~", KEY_HOME}, {"\033[7~", KEY_HOME}, {"\033[H", KEY_HOME}, {"\033OH", KEY_HOME},
        {"\033[4~", KEY_END}, {"\033[8~", KEY_END}, {"\033[F", KEY_END}, {"\033OF", KEY_END},
        {"\033[A", KEY_UP}, {"\033[B", KEY_DOWN}, {"\033[C", KEY_RIGHT}, {"\033[D", KEY_LEFT},
        {"\033[11~", KEY_F(1)}, {"\033OP", KEY_F(1)}, {"\033[[A", KEY_F(1)},
        {"\033[3~", KEY_DC}, {"\033[5~", KEY_PPAGE}, {"\033[6~", KEY_NPAGE}, {"\033[Z", KEY_BTAB},
    };
    for (size_t i = 0; i < COUNT_OF(others); i++)
        if (key_defined(others[i].sent) == 0)
            define_key(others[i].sent, others[i].key);
    const int mouse = key_defined("\033[M");
    if (mouse == 0 || mouse == KEY_MOUSE) /* else it is a key there */
        define_key("\033[M", KEY_REPORT_SHORT);
    define_key("\033[<", KEY_REPORT_LONG);
    define_key("\033[200~", KEY_PASTE_BEGIN);
    define_key("\033[201~", KEY_PASTE_END);
}

bool terminal_open(const struct terminal_wish *wish, struct terminal **out, struct base_diag *why)
{
    *out = NULL;
    if (!fit(wish, why))
        return false;
    struct terminal *t = base_alloc(sizeof *t);
    make_pipe(t);
    signals_wait_for_turn(&t->before);
    signals_begin(t->pipe[1], &t->before);
    t->screen = newterm(wish->term, stdout, stdin);
    if (!t->screen) {
        signals_end();
        close(t->pipe[0]);
        close(t->pipe[1]);
        free(t);
        base_fail(why, BASE_REFUSED, "The terminal type \"%.60s\" cannot be used for the screens",
                  wish->term);
        return false;
    }
    make_reset();
    spare_attributes();
    set_modes();
    set_escdelay(wish->escape_ms > 0 ? wish->escape_ms : 25);
    t->colour = start_colours(wish->colour);
    t->keys = newpad(1, 1);
    keypad(t->keys, TRUE);
    nodelay(t->keys, TRUE);
    name_keys();
    signals_write(paste_on, sizeof paste_on - 1);
    *out = t;
    return true;
}

/* In the background the modes are the shell's by now: what is ours of the picture is taken back, they
   stay. */
static void give_back(struct terminal *t)
{
    sigset_t quiet;
    struct termios modes = t->before;
    sigemptyset(&quiet);
    sigaddset(&quiet, SIGTTOU);
    sigprocmask(SIG_BLOCK, &quiet, NULL);
    if (!signals_in_front())
        tcgetattr(STDIN_FILENO, &modes);
    signals_sending(true);
    signals_let_flow();
    if (t->mouse)
        terminal_mouse(t, false);
    signals_write(paste_off, sizeof paste_off - 1);
    endwin();
    tcsetattr(STDIN_FILENO, TCSANOW, &modes);
    signals_sending(false);
}

void terminal_close(struct terminal *t)
{
    if (!t)
        return;
    if (!signals_away())
        give_back(t);
    signals_end();
    delwin(t->keys);
    delscreen(t->screen);
    close(t->pipe[0]);
    close(t->pipe[1]);
    free(t);
}

/* Curses asks as the terminal's description has it, and gives back and asks anew around a stop; the long form
   is asked for besides. */
bool terminal_mouse(struct terminal *t, bool on)
{
    if (t->mouse && !on)
        signals_write(mouse_off, sizeof mouse_off - 1);
    t->mouse = mousemask(on ? BUTTON1_PRESSED | BUTTON4_PRESSED | BUTTON5_PRESSED : 0, NULL) != 0;
    signals_mouse(t->mouse);
    if (t->mouse)
        signals_write(mouse_long, sizeof mouse_long - 1);
    return t->mouse;
}

void terminal_send_picture(void)
{
    if (signals_away())
        return;
    signals_sending(true);
    doupdate();
    signals_sending(false);
}

bool terminal_stands(const WINDOW *w, struct area a)
{
    return getbegy(w) == a.y && getbegx(w) == a.x && getmaxy(w) == a.h && getmaxx(w) == a.w;
}

bool terminal_has_colour(const struct terminal *t)
{
    return t->colour;
}

void terminal_size(const struct terminal *t, int *high, int *wide)
{
    (void)t;
    *high = LINES;
    *wide = COLS;
}

/* In base 64 (RFC 4648), as terminals want it. */
static void add_base64(struct base_text *out, const char *text)
{
    static const char digits[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
    size_t n = strlen(text);
    for (size_t i = 0; i < n; i += 3) {
        unsigned bits = 0;
        for (size_t k = 0; k < 3; k++)
            bits = bits << 8 | (i + k < n ? (unsigned char)text[i + k] : 0);
        for (size_t k = 0; k < 4; k++)
            base_text_addf(out, "%c", i + k <= n ? digits[bits >> (18 - 6 * k) & 63] : '=');
    }
}

void terminal_clip(struct terminal *t, const char *text)
{
    struct base_text all = {0};
    (void)t;
    base_text_add(&all, "\033]52;c;");
    add_base64(&all, text);
    base_text_add(&all, "\033\\");
    signals_write(all.data, all.length);
    base_text_done(&all);
}

void terminal_repaint(struct terminal *t)
{
    (void)t;
    clearok(curscr, TRUE);
}

double terminal_cell_ratio(const struct terminal *t)
{
    struct winsize w;
    (void)t;
    if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &w) != 0 || !w.ws_xpixel || !w.ws_ypixel || !w.ws_row || !w.ws_col)
        return 2.0;
    double ratio = (double)w.ws_ypixel / w.ws_row / ((double)w.ws_xpixel / w.ws_col);
    return ratio >= 1.2 && ratio <= 3.5 ? ratio : 2.0;
}

/* ---- stop and go on ---- */

/* Ours again: the window may have another size, and the shell has turned pastes to its own use. */
static void come_back(struct terminal *t)
{
    struct winsize w;
    signals_back(&t->before);
    reset_prog_mode();
    if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &w) == 0 && w.ws_row && w.ws_col &&
        is_term_resized(w.ws_row, w.ws_col))
        resizeterm(w.ws_row, w.ws_col);
    clearok(curscr, TRUE);
    signals_write(paste_on, sizeof paste_on - 1);
    if (t->mouse)
        terminal_mouse(t, true);
}

/* What the person has set meanwhile is what the end gives back; not so the modes of a shell that is at its
   own line. */
static void learn_modes(struct terminal *t)
{
    struct termios now;
    if (!signals_in_front() || tcgetattr(STDIN_FILENO, &now) != 0 || !(now.c_lflag & ICANON))
        return;
    t->before = now;
    def_shell_mode();
}

/* Signals of stopping and going on that came while it was stopped are no reason to stop again. */
static void forget_stops(struct terminal *t)
{
    unsigned char bytes[PIPE_BUF];
    ssize_t n = read(t->pipe[0], bytes, sizeof bytes), stays = 0;
    for (ssize_t i = 0; i < n; i++)
        if (bytes[i] != SIGTSTP && bytes[i] != SIGCONT)
            bytes[stays++] = bytes[i];
    if (stays > 0 && write(t->pipe[1], bytes, (size_t)stays) < 0)
        return; /* a full pipe wakes the loop all the same */
}

static void stop(struct terminal *t, bool whole_group)
{
    bool mouse = t->mouse;
    signals_sending(true);
    signals_let_flow();
    if (mouse)
        terminal_mouse(t, false);
    signals_write(paste_off, sizeof paste_off - 1);
    endwin();
    signals_sending(false);
    t->mouse = mouse; /* asked for again on the way back */
    signals_stop(whole_group);
    forget_stops(t);
    if (signals_ending())
        return; /* the terminal is the shell's, and stays so */
    learn_modes(t);
    come_back(t);
}

void terminal_suspend(struct terminal *t)
{
    stop(t, true);
}

/* ---- events ---- */

/* Wait until a key or a signal may be there. False: the time is over. */
static bool sleep_for(struct terminal *t, int ms)
{
    struct pollfd watch[2] = {{.fd = STDIN_FILENO, .events = POLLIN}, {.fd = t->pipe[0], .events = POLLIN}};
    int n = poll(watch, 2, ms);
    if (n > 0 && (watch[0].revents & (POLLHUP | POLLERR | POLLNVAL)))
        t->gone = true; /* what came before was drained already; never spin on a dead line */
    return n != 0;
}

static bool paste_char(struct terminal *t, size_t *n, wint_t ch)
{
    char bytes[MB_LEN_MAX];
    mbstate_t state = {0};
    if (ch == '\r' || ch == '\n' || ch == '\t')
        ch = ' ';
    if (base_char_hidden(ch))
        return true;
    size_t length = wcrtomb(bytes, (wchar_t)ch, &state);
    if (length == (size_t)-1)
        return true;
    if (*n + length > PASTE_ROOM)
        return false;
    memcpy(t->paste + *n, bytes, length);
    *n += length;
    return true;
}

/* The next key. Bytes that are no letter also come back as ERR, while keys behind them wait in curses' own
 * buffer, which poll() does not see: only several in a row mean that nothing is there. */
static int next_key(struct terminal *t, wint_t *ch)
{
    enum { BAD_BYTES = 16 };
    int got = ERR;
    for (int i = 0; i < BAD_BYTES && got == ERR; i++)
        got = wget_wch(t->keys, ch);
    return got;
}

/* The end mark may come in pieces on a slow line, and curses then hands its bytes over as letters: they are
 * known by their order. True when CH is the last of them; its printed part then stands at the end of what was
 * pasted. */
static bool ends_in_pieces(size_t *matched, wint_t ch)
{
    static const char mark[] = "\033[201~";
    *matched = ch == (wint_t)mark[*matched] ? *matched + 1 : ch == (wint_t)mark[0];
    return *matched == sizeof mark - 1;
}

/* Everything up to the end mark. A line that stalls for a second ends the paste too. */
static void read_paste(struct terminal *t, struct terminal_event *out)
{
    size_t n = 0, matched = 0;
    *out = (struct terminal_event){.what = TERMINAL_PASTE, .text = t->paste};
    for (;;) {
        wint_t ch;
        int got = next_key(t, &ch);
        if (got == KEY_CODE_YES && ch == KEY_PASTE_END)
            break;
        if (got == OK && !paste_char(t, &n, ch))
            out->cut = true;
        if (got == OK && ends_in_pieces(&matched, ch)) {
            size_t printed = sizeof "[201~" - 1;
            n -= n < printed ? n : printed;
            break;
        }
        if (got == ERR && (!sleep_for(t, 1000) || t->gone))
            break;
    }
    t->paste[n] = '\0';
}

/* What stands behind Esc: nothing; a character, then it is one with Alt; or the rest of a key that nobody
 * here knows, "\033[" up to its letter, "\033O" and one more. Taken apart, its first byte would be Esc and
 * leave what one is at. */
static int behind_escape(struct terminal *t)
{
    wint_t ch;
    int got = wget_wch(t->keys, &ch);
    if (got == KEY_CODE_YES && ch == KEY_BACKSPACE)
        return KEY_ALT + 127;
    if (got == KEY_CODE_YES)
        ungetch((int)ch);
    if (got == OK && ch == '\033')
        unget_wch((wchar_t)ch);
    if (got != OK || ch == '\033')
        return '\033';
    if (ch != '[' && ch != 'O')
        return KEY_ALT + (int)ch;
    bool one = ch == 'O';
    do
        got = wget_wch(t->keys, &ch);
    while (got == OK && !one && ch >= ' ' && ch < '@');
    return KEY_CODE + KEY_MAX;
}

/* The next picture is drawn whole, even where curses finds the size as it was: it may have gone there and
 * back in a moment, and the terminal has cut off or moved what it showed.
 * Curses tells the terminal which rows may scroll when it begins and after a stop, never after a new size;
 * some terminals then keep the old rows, and take no characters out below them. */
static void take_new_size(void)
{
    clearok(curscr, TRUE);
    if (!change_scroll_region)
        return;
    putp(tparm(change_scroll_region, 0, LINES - 1));
    fflush(stdout);
}

/* ---- the mouse ---- */

/* Curses' own reader of reports waits for the rest of one, and for the next key behind one that the mask
 * leaves out: signals and what is to be drawn would wait with it. So their beginnings are keys here, and the
 * rest is read as a key's rest is. */
static bool next_of_report(struct terminal *t, wint_t *ch)
{
    enum { SLOW_MS = 250 };
    struct pollfd watch = {.fd = STDIN_FILENO, .events = POLLIN};
    int got = next_key(t, ch);
    if (got == ERR && poll(&watch, 1, SLOW_MS) > 0)
        got = next_key(t, ch);
    if (got == KEY_CODE_YES)
        ungetch((int)*ch);
    return got == OK;
}

/* "0;12;7M": button, column, row, and whether it was pressed (M) or let go (m). */
static bool read_long(struct terminal *t, int numbers[3], bool *pressed)
{
    wint_t ch;
    int n = 0;
    while (next_of_report(t, &ch) && n < 3) {
        if (ch >= '0' && ch <= '9')
            /* no terminal is as wide */
            numbers[n] = numbers[n] < 10000 ? 10 * numbers[n] + (int)(ch - '0') : 10000;
        else if (ch == ';')
            n++;
        else {
            *pressed = ch == 'M';
            if (ch != 'M' && ch != 'm')
                unget_wch((wchar_t)ch); /* torn off: something else begins */
            return n == 2 && (ch == 'M' || ch == 'm');
        }
    }
    return false;
}

/* Three characters, each 32 more than it says. */
static bool read_short(struct terminal *t, int numbers[3], bool *pressed)
{
    for (int i = 0; i < 3; i++) {
        wint_t ch;
        if (!next_of_report(t, &ch))
            return false;
        numbers[i] = (int)ch - 32;
    }
    *pressed = (numbers[0] & 3) != 3 || (numbers[0] & 64);
    return true;
}

/* False: it is nothing that anybody asked for. */
static bool read_report(struct terminal *t, bool is_long, struct terminal_event *out)
{
    enum { SHIFTED = 4 | 8 | 16, WHEEL = 64 };
    int numbers[3] = {0};
    bool pressed = false;
    if (!(is_long ? read_long(t, numbers, &pressed) : read_short(t, numbers, &pressed)) || !pressed ||
        !t->mouse)
        return false;
    int button = numbers[0] & ~SHIFTED, key = button == 0           ? KEY_CLICK
                                              : button == WHEEL     ? KEY_WHEEL_UP
                                              : button == WHEEL + 1 ? KEY_WHEEL_DOWN
                                                                    : 0;
    *out = (struct terminal_event){
        .what = TERMINAL_KEY, .key = key, .y = numbers[2] - 1, .x = numbers[1] - 1};
    return key && out->y >= 0 && out->x >= 0;
}

/* One key from curses, if there is one. */
static bool read_key(struct terminal *t, struct terminal_event *out)
{
    wint_t ch;
    int got;
    bool report;
    do {
        got = next_key(t, &ch);
        report = got == KEY_CODE_YES && (ch == KEY_REPORT_LONG || ch == KEY_REPORT_SHORT);
        if (report && read_report(t, ch == KEY_REPORT_LONG, out))
            return true;
    } while (report || (got == KEY_CODE_YES && ch == KEY_PASTE_END)); /* an end without a beginning */
    if (got == ERR)
        return false;
    *out = (struct terminal_event){.what = TERMINAL_KEY, .key = (int)ch};
    if (got == OK && ch == '\033')
        out->key = behind_escape(t);
    if (got != KEY_CODE_YES)
        return true;
    out->key = KEY_CODE + (int)ch;
    if (ch == KEY_RESIZE) {
        out->what = TERMINAL_RESIZED;
        take_new_size();
    } else if (ch == KEY_PASTE_BEGIN) {
        read_paste(t, out);
    }
    return true;
}

/* One signal from the pipe, if it is one for the loop above. */
static bool read_signal(struct terminal *t, struct terminal_event *out)
{
    unsigned char number;
    if (read(t->pipe[0], &number, 1) != 1)
        return false;
    switch (number) {
    case SIGWINCH:
        return false; /* curses gives its own key for it */
    case SIGTSTP:
        stop(t, false);
        *out = (struct terminal_event){.what = TERMINAL_REDRAW};
        return true;
    case SIGNALS_TYPED_INTERRUPT:
        *out = (struct terminal_event){.what = TERMINAL_KEY, .key = CONTROL_C};
        return true;
    case SIGCONT:
        signals_wait_in_front();
        if (signals_ending())
            return read_signal(t, out);
        come_back(t);
        *out = (struct terminal_event){.what = TERMINAL_REDRAW};
        return true;
    default:
        *out = (struct terminal_event){.what = TERMINAL_SIGNAL, .signal = number};
        return true;
    }
}

static void take_ahead(struct terminal *t, int n)
{
    t->n_ahead -= n;
    memmove(t->ahead, t->ahead + n, (size_t)t->n_ahead * sizeof *t->ahead);
}

void terminal_wait(struct terminal *t, int ms, struct terminal_event *out)
{
    if (t->n_ahead) {
        *out = t->ahead[0];
        take_ahead(t, 1);
        return;
    }
    for (;;) {
        if (t->gone) {
            *out = (struct terminal_event){.what = TERMINAL_SIGNAL, .signal = SIGHUP};
            return;
        }
        if (read_signal(t, out) || read_key(t, out))
            return;
        if (!sleep_for(t, ms)) {
            *out = (struct terminal_event){.what = TERMINAL_WAITED};
            return;
        }
    }
}

bool terminal_key_waits(struct terminal *t)
{
    struct pollfd watch = {.fd = STDIN_FILENO, .events = POLLIN};
    return t->n_ahead > 0 || poll(&watch, 1, 0) > 0;
}

/* One past the last key that gives up, 0: there is none. */
static int gives_up(const struct terminal *t)
{
    for (int i = t->n_ahead; i > 0; i--)
        if (t->ahead[i - 1].what == TERMINAL_KEY &&
            (t->ahead[i - 1].key == ESCAPE || t->ahead[i - 1].key == CONTROL_C))
            return i;
    return 0;
}

/* A pasted text has one place, so that nothing is read behind one. */
enum terminal_asks terminal_asks(struct terminal *t)
{
    struct terminal_event e;
    bool room = t->n_ahead < AHEAD && (t->n_ahead == 0 || t->ahead[t->n_ahead - 1].what != TERMINAL_PASTE);
    sleep_for(t, 0);
    while (room && !t->gone && !signals_ending() && (read_signal(t, &e) || read_key(t, &e))) {
        t->ahead[t->n_ahead++] = e;
        room = t->n_ahead < AHEAD && e.what != TERMINAL_PASTE;
    }
    if (t->gone || signals_ending())
        return TERMINAL_ASKS_END;
    return gives_up(t) ? TERMINAL_ASKS_GIVE_UP : TERMINAL_ASKS_NOTHING;
}

void terminal_forget_typed(struct terminal *t)
{
    take_ahead(t, gives_up(t));
}
