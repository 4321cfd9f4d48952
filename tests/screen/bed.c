/* tests/screen/bed.c - see bed.h
 *
 * Everything that arrives goes through pump(): counted, fed to the emulator, and what the emulator answers
 * (cursor reports, keys) is written back. Before and after a run the terminal's modes are read from our end.
 */

#include "bed.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <pty.h>
#include <signal.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/stat.h>
#include <sys/syscall.h>
#include <sys/wait.h>
#include <termios.h>
#include <time.h>
#include <unistd.h>

#include "../common.h"

enum { PATIENCE = 120000 }; /* ms, before what hangs is ended: no verdict on what is slow */

struct bed {
    int fd; /* -1 after a hang-up */
    pid_t pid;
    bool ended;
    int status;
    struct termios before;
    VTerm *vt;
    VTermScreen *screen;
    bool alternate, cursor, paste, mouse;
    int told_of_mouse;
    char request[40]; /* the begun "\033[?..." of a request that the emulator keeps to itself */
    size_t n_request;
    long bytes;     /* since the last bed_quiet() */
    char sent[3000]; /* the last bytes of the program: a sanitizer's report too */
    size_t n_sent;
    bool escaped; /* Esc was the last key: what comes too soon behind it is taken as Alt with that */
};

static long now_ms(void)
{
    struct timespec t;
    clock_gettime(CLOCK_MONOTONIC, &t);
    return t.tv_sec * 1000L + t.tv_nsec / 1000000L;
}

static int on_property(VTermProp property, VTermValue *value, void *user)
{
    struct bed *b = user;
    if (property == VTERM_PROP_ALTSCREEN)
        b->alternate = value->boolean;
    else if (property == VTERM_PROP_CURSORVISIBLE)
        b->cursor = value->boolean;
    return 1;
}

static const VTermScreenCallbacks callbacks = {.settermprop = on_property};

/* ---- start ---- */

static void make_environment(const struct bed_start *s, const char *folder, char env[][512], char **list)
{
    int n = 0;
    char *whole = realpath(folder, NULL); /* what the program keeps is told from the root */
    const char *term = s->term ? s->term : "xterm-256color";
    ck_assert_ptr_nonnull(whole);
    folder = whole;
    for (const char *const *m = s->more; m && *m && n < 16; m++) /* the first of a name holds */
        snprintf(env[n++], 512, "%s", *m);
    if (*term)
        snprintf(env[n++], 512, "TERM=%s", term);
    snprintf(env[n++], 512, "LC_ALL=%s", s->locale ? s->locale : "C.UTF-8");
    snprintf(env[n++], 512, "PATH=/usr/local/bin:/usr/bin:/bin");
    snprintf(env[n++], 512, "HOME=%s", folder);
    snprintf(env[n++], 512, "XDG_CONFIG_HOME=%s", folder);
    snprintf(env[n++], 512, "XDG_STATE_HOME=%s", folder);
    snprintf(env[n++], 512, "XDG_DATA_HOME=%s", folder);
    snprintf(env[n++], 512, "SOURCE_DATE_EPOCH=1700000000");
    /* a crash must reach the program's own handler as a signal; a leak ends it with 23 */
    char *curses = realpath("tests/screen/curses.supp", NULL);
    ck_assert_ptr_nonnull(curses);
    snprintf(env[n++], 512, "ASAN_OPTIONS=abort_on_error=1:handle_abort=0:log_path=%s/asan", folder);
    snprintf(env[n++], 512, "LSAN_OPTIONS=exitcode=23:print_suppressions=0:suppressions=%s", curses);
    free(curses);
    snprintf(env[n++], 512, "UBSAN_OPTIONS=abort_on_error=1:print_stacktrace=1:log_path=%s/ubsan", folder);
    free(whole);
    for (int i = 0; i < n; i++)
        list[i] = env[i];
    list[n] = NULL;
}

/* Modes as a login shell's terminal has them, the same on every machine. */
static void plain_modes(struct termios *t)
{
    memset(t, 0, sizeof *t);
    t->c_iflag = ICRNL | IXON | IUTF8;
    t->c_oflag = OPOST | ONLCR;
    t->c_cflag = CS8 | CREAD;
    t->c_lflag = ISIG | ICANON | ECHO | ECHOE | ECHOK | IEXTEN;
    t->c_cc[VINTR] = 3;
    t->c_cc[VQUIT] = 28;
    t->c_cc[VERASE] = 127;
    t->c_cc[VKILL] = 21;
    t->c_cc[VEOF] = 4;
    t->c_cc[VSUSP] = 26;
    t->c_cc[VSTART] = 17;
    t->c_cc[VSTOP] = 19;
    t->c_cc[VMIN] = 1;
    cfsetspeed(t, B38400);
}

struct bed *bed_open(const struct bed_start *s)
{
    struct bed *b = base_alloc(sizeof *b);
    int rows = s->rows ? s->rows : 24, columns = s->columns ? s->columns : 80;
    struct winsize size = {.ws_row = (unsigned short)rows, .ws_col = (unsigned short)columns};
    char env[26][512], *list[27];
    const char *folder = s->folder ? s->folder : fresh_folder();
    make_environment(s, folder, env, list);
    plain_modes(&b->before);
    b->vt = vterm_new(rows, columns);
    ck_assert_ptr_nonnull(b->vt);
    vterm_set_utf8(b->vt, 1);
    b->screen = vterm_obtain_screen(b->vt);
    vterm_screen_set_callbacks(b->screen, &callbacks, b);
    vterm_screen_enable_altscreen(b->screen, 1);
    vterm_screen_reset(b->screen, 1);
    b->cursor = true;
    b->pid = forkpty(&b->fd, NULL, &b->before, &size);
    ck_assert_msg(b->pid >= 0, "no terminal could be opened (is /dev/pts there?): %s", strerror(errno));
    if (b->pid == 0) {
        if (s->where && chdir(s->where) != 0)
            _exit(126);
        execvpe(s->argv[0], (char *const *)s->argv, list);
        _exit(127);
    }
    ck_assert_int_eq(tcgetattr(b->fd, &b->before), 0);
    fcntl(b->fd, F_SETFL, O_NONBLOCK);
    return b;
}

void bed_close(struct bed *b)
{
    if (!b->ended) {
        kill(b->pid, SIGKILL);
        waitpid(b->pid, NULL, 0);
    }
    if (b->fd >= 0)
        close(b->fd);
    vterm_free(b->vt);
    free(b);
}

/* ---- bytes ---- */

void bed_raw(struct bed *b, const void *bytes, size_t n)
{
    const char *at = bytes;
    long end = now_ms() + PATIENCE;
    while (n > 0 && b->fd >= 0 && now_ms() < end) {
        ssize_t w = write(b->fd, at, n);
        if (w > 0) {
            at += w;
            n -= (size_t)w;
        } else if (w < 0 && errno == EAGAIN) {
            poll(&(struct pollfd){.fd = b->fd, .events = POLLOUT}, 1, 20);
        } else {
            return;
        }
    }
}

static void answer(struct bed *b)
{
    char out[512];
    size_t n;
    while ((n = vterm_output_read(b->vt, out, sizeof out)) > 0)
        bed_raw(b, out, n);
}

/* "\033[?1006;1000h": what concerns pastes and the mouse. */
static void take_request(struct bed *b, bool on)
{
    b->request[b->n_request] = '\0';
    for (char *rest = NULL, *n = strtok_r(b->request + 3, ";", &rest); n; n = strtok_r(NULL, ";", &rest)) {
        int mode = atoi(n);
        if (mode == 2004)
            b->paste = on;
        else if (mode == 1000)
            b->mouse = on;
        b->told_of_mouse += mode >= 1000 && mode <= 1016;
    }
}

/* The emulator keeps some modes to itself, and knows only the first of several in one request: look for them
   in the stream. */
static void watch_requests(struct bed *b, const char *bytes, size_t n)
{
    static const char begin[] = "\033[?";
    for (size_t i = 0; i < n; i++) {
        char c = bytes[i];
        bool fits = b->n_request < sizeof begin - 1 ? c == begin[b->n_request]
                                                    : c == ';' || (c >= '0' && c <= '9');
        if (b->n_request >= sizeof begin && (c == 'h' || c == 'l'))
            take_request(b, c == 'h');
        if (!fits)
            b->n_request = 0;
        if ((fits || c == begin[0]) && b->n_request < sizeof b->request - 1)
            b->request[b->n_request++] = c;
    }
}

static void keep_sent(struct bed *b, const char *in, size_t n)
{
    size_t room = sizeof b->sent;
    in += n > room ? n - room : 0;
    n = n > room ? room : n;
    size_t stay = b->n_sent + n > room ? room - n : b->n_sent;
    memmove(b->sent, b->sent + b->n_sent - stay, stay);
    memcpy(b->sent + stay, in, n);
    b->n_sent = stay + n;
}

/* Take what arrives within MS; false when nothing did. */
static bool pump(struct bed *b, int ms)
{
    char in[16384];
    if (b->fd < 0)
        return false;
    if (poll(&(struct pollfd){.fd = b->fd, .events = POLLIN}, 1, ms) <= 0)
        return false;
    ssize_t n = read(b->fd, in, sizeof in);
    if (n <= 0) {
        struct timespec t = {.tv_nsec = 2000000}; /* the other side is closed: do not spin */
        nanosleep(&t, NULL);
        return false;
    }
    b->bytes += n;
    watch_requests(b, in, (size_t)n);
    keep_sent(b, in, (size_t)n);
    vterm_input_write(b->vt, in, (size_t)n);
    vterm_screen_flush_damage(b->screen);
    answer(b);
    return true;
}

/* Its state as the system tells it: R runs, S sleeps, T is stopped, Z has ended. */
static char state(const struct bed *b)
{
    char path[40], line[300] = "";
    snprintf(path, sizeof path, "/proc/%d/stat", (int)b->pid);
    FILE *f = fopen(path, "r");
    if (f) {
        (void)!fgets(line, sizeof line, f);
        fclose(f);
    }
    const char *end = strrchr(line, ')');
    return end ? end[2] : 'Z';
}

/* Something that was typed has not been read by it. Asking its side of the line hands over what the system
 * has not yet passed on, which on a busy machine can lie for longer than any pause. */
static bool unread(const struct bed *b)
{
    int side = b->fd < 0 ? -1 : open(ptsname(b->fd), O_RDONLY | O_NOCTTY | O_NONBLOCK | O_CLOEXEC);
    if (side < 0)
        return false;
    bool waits = poll(&(struct pollfd){.fd = side, .events = POLLIN}, 1, 0) > 0;
    close(side);
    return waits;
}

/* It waits for a key, and has been given all that were typed; or it will never ask. */
static bool at_rest(const struct bed *b)
{
    char now = state(b);
    return strchr("TZX", now) || (now == 'S' && !unread(b));
}

void bed_settle(struct bed *b, int ms)
{
    enum { ESCAPE_MS = 40 }; /* more than the program waits for what may come behind it */
    long end = now_ms() + PATIENCE;
    bool rests = false;
    while (!rests && now_ms() < end) {
        while (now_ms() < end && pump(b, ms))
            ;
        rests = at_rest(b) && !pump(b, b->escaped ? ESCAPE_MS : 0); /* what it wrote before it slept counts */
        if (b->escaped && rests)
            b->escaped = rests = false;
    }
}

long bed_quiet(struct bed *b, int ms)
{
    bed_settle(b, ms);
    long bytes = b->bytes;
    b->bytes = 0;
    return bytes;
}

/* ---- keys ---- */

static void behind_escape(struct bed *b)
{
    if (b->escaped)
        bed_settle(b, 5);
}

void bed_type(struct bed *b, const char *text)
{
    behind_escape(b);
    for (const char *p = text; *p; p++) {
        bed_raw(b, p, 1);
        b->escaped = *p == '\033' && !p[1];
    }
    pump(b, 0);
}

void bed_key(struct bed *b, VTermKey key)
{
    if (key != VTERM_KEY_ESCAPE)
        behind_escape(b);
    b->escaped = key == VTERM_KEY_ESCAPE;
    vterm_keyboard_key(b->vt, key, VTERM_MOD_NONE);
    answer(b);
    pump(b, 0);
}

void bed_click(struct bed *b, int row, int column)
{
    char report[60];
    snprintf(report, sizeof report, "\033[<0;%d;%dM\033[<0;%d;%dm", column + 1, row + 1, column + 1, row + 1);
    bed_raw(b, report, strlen(report));
    pump(b, 0);
}

void bed_wheel(struct bed *b, int row, int column, int by)
{
    char report[40];
    snprintf(report, sizeof report, "\033[<%d;%d;%dM", by < 0 ? 64 : 65, column + 1, row + 1);
    bed_raw(b, report, strlen(report));
    pump(b, 0);
}

void bed_control(struct bed *b, char letter)
{
    char c = (char)(letter & 31);
    bed_raw(b, &c, 1);
    pump(b, 0);
}

void bed_paste(struct bed *b, const char *text)
{
    vterm_keyboard_start_paste(b->vt);
    answer(b);
    bed_raw(b, text, strlen(text));
    vterm_keyboard_end_paste(b->vt);
    answer(b);
}

void bed_resize(struct bed *b, int rows, int columns)
{
    struct winsize size = {.ws_row = (unsigned short)rows, .ws_col = (unsigned short)columns};
    pump(b, 0);
    vterm_set_size(b->vt, rows, columns);
    ck_assert_int_eq(ioctl(b->fd, TIOCSWINSZ, &size), 0);
}

void bed_hang_up(struct bed *b)
{
    close(b->fd);
    b->fd = -1;
}

void bed_signal(struct bed *b, int signal) { ck_assert_int_eq(kill(b->pid, signal), 0); }

void bed_typed_signal(struct bed *b, int signal)
{
    (void)!ioctl(b->fd, TIOCSIG, signal); /* nobody may be there any more */
}

bool bed_blocked(const struct bed *b)
{
    char path[40], line[40] = "";
    snprintf(path, sizeof path, "/proc/%d/syscall", (int)b->pid);
    FILE *f = fopen(path, "r");
    if (f) {
        (void)!fgets(line, sizeof line, f);
        fclose(f);
    }
    return line[0] >= '0' && line[0] <= '9' && atoi(line) == SYS_write;
}

/* ---- what is seen ---- */

static size_t put_utf8(char *out, uint32_t c)
{
    if (c < 0x80) {
        out[0] = (char)c;
        return 1;
    }
    if (c < 0x800) {
        out[0] = (char)(0xc0 | c >> 6);
        out[1] = (char)(0x80 | (c & 63));
        return 2;
    }
    if (c < 0x10000) {
        out[0] = (char)(0xe0 | c >> 12);
        out[1] = (char)(0x80 | (c >> 6 & 63));
        out[2] = (char)(0x80 | (c & 63));
        return 3;
    }
    out[0] = (char)(0xf0 | c >> 18);
    out[1] = (char)(0x80 | (c >> 12 & 63));
    out[2] = (char)(0x80 | (c >> 6 & 63));
    out[3] = (char)(0x80 | (c & 63));
    return 4;
}

/* One row as UTF-8 into OUT (room for 4 bytes a column and the end). */
static size_t render_row(struct bed *b, int row, char *out)
{
    int rows, columns;
    size_t n = 0;
    vterm_get_size(b->vt, &rows, &columns);
    for (int x = 0; x < columns; x++) {
        VTermScreenCell cell;
        vterm_screen_get_cell(b->screen, (VTermPos){.row = row, .col = x}, &cell);
        if (cell.chars[0] == (uint32_t)-1)
            continue; /* second half of a wide character */
        n += put_utf8(out + n, cell.chars[0] ? cell.chars[0] : ' ');
    }
    while (n > 0 && out[n - 1] == ' ')
        n--;
    out[n] = '\0';
    return n;
}

const char *bed_row(struct bed *b, int row)
{
    static char text[4 * 500 + 1];
    render_row(b, row, text);
    return text;
}

const char *bed_screen(struct bed *b)
{
    static char text[4 * 260 * 100];
    int rows, columns;
    size_t n = 0;
    vterm_get_size(b->vt, &rows, &columns);
    for (int y = 0; y < rows && n + 4 * (size_t)columns + 2 < sizeof text; y++) {
        n += render_row(b, y, text + n);
        text[n++] = '\n';
    }
    text[n] = '\0';
    return text;
}

bool bed_shows(struct bed *b, const char *text) { return strstr(bed_screen(b), text) != NULL; }

static int columns_before(const char *row, const char *at)
{
    int n = 0;
    for (const char *p = row; p < at; p++)
        n += (*p & 0xc0) != 0x80;
    return n;
}

int bed_find(struct bed *b, const char *text, int *column)
{
    int rows, columns;
    vterm_get_size(b->vt, &rows, &columns);
    for (int y = 0; y < rows; y++) {
        const char *row = bed_row(b, y), *at = strstr(row, text);
        if (at) {
            if (column)
                *column = columns_before(row, at);
            return y;
        }
    }
    return -1;
}

void bed_wait_at(struct bed *b, const char *text, bool there, const char *file, int line)
{
    long end = now_ms() + PATIENCE;
    while (bed_shows(b, text) != there) {
        if (now_ms() >= end)
            ck_abort_msg("%s:%d: \"%s\" %s; the screen is\n%s", file, line, text,
                         there ? "never came" : "stayed", bed_screen(b));
        pump(b, 20);
    }
}

struct bed_cell bed_cell(struct bed *b, int row, int column)
{
    VTermScreenCell c;
    vterm_screen_get_cell(b->screen, (VTermPos){.row = row, .col = column}, &c);
    return (struct bed_cell){.ch = c.chars[0],
                             .bold = c.attrs.bold,
                             .reverse = c.attrs.reverse,
                             .underline = c.attrs.underline != 0,
                             .colour = VTERM_COLOR_IS_DEFAULT_FG(&c.fg) ? -1
                                       : VTERM_COLOR_IS_INDEXED(&c.fg)  ? c.fg.indexed.idx
                                                                        : 9,
                             .coloured = !VTERM_COLOR_IS_DEFAULT_FG(&c.fg) ||
                                         !VTERM_COLOR_IS_DEFAULT_BG(&c.bg)};
}

bool bed_any_colour(struct bed *b)
{
    int rows, columns;
    vterm_get_size(b->vt, &rows, &columns);
    for (int y = 0; y < rows; y++)
        for (int x = 0; x < columns; x++)
            if (bed_cell(b, y, x).coloured)
                return true;
    return false;
}

void bed_cursor(struct bed *b, int *row, int *column)
{
    VTermPos at;
    vterm_state_get_cursorpos(vterm_obtain_state(b->vt), &at);
    *row = at.row;
    *column = at.col;
}

bool bed_alternate(const struct bed *b) { return b->alternate; }
bool bed_cursor_visible(const struct bed *b) { return b->cursor; }
bool bed_paste_asked(const struct bed *b) { return b->paste; }

bool bed_mouse_asked(const struct bed *b) { return b->mouse; }

int bed_mouse_told(const struct bed *b) { return b->told_of_mouse; }
pid_t bed_pid(const struct bed *b) { return b->pid; }

/* ---- the end ---- */

bool bed_ended(struct bed *b)
{
    int status;
    if (!b->ended && waitpid(b->pid, &status, WNOHANG) == b->pid) {
        b->ended = true;
        b->status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    }
    return b->ended;
}

static int wait_end(struct bed *b, bool reading)
{
    long end = now_ms() + PATIENCE;
    while (!bed_ended(b)) {
        if (now_ms() >= end) {
            ck_abort_msg("the program does not end; the screen is\n%s", bed_screen(b));
        } else if (!reading || (!pump(b, 5) && b->fd < 0)) {
            struct timespec t = {.tv_nsec = 5000000};
            nanosleep(&t, NULL);
        }
    }
    while (pump(b, 0))
        ;
    return b->status;
}

int bed_wait_end(struct bed *b) { return wait_end(b, true); }
int bed_wait_end_unread(struct bed *b) { return wait_end(b, false); }

bool bed_modes_restored(struct bed *b)
{
    struct termios now;
    return tcgetattr(b->fd, &now) == 0 && now.c_iflag == b->before.c_iflag &&
           now.c_oflag == b->before.c_oflag && now.c_cflag == b->before.c_cflag &&
           now.c_lflag == b->before.c_lflag && memcmp(now.c_cc, b->before.c_cc, sizeof now.c_cc) == 0;
}

char *bed_last_bytes(const struct bed *b)
{
    struct base_text t = {0};
    base_text_add_visible(&t, b->sent, b->n_sent, true);
    return base_text_take(&t);
}
