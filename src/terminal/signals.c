/* terminal/signals.c - see terminal/signals.h
 *
 * `kept` is the only state at file level: a handler has no other place to look.
 *
 * Who sent it: the terminal's own signals (Ctrl-C where the shell's modes hold) carry a si_code above 0,
 * those of other processes 0 or less (POSIX, <signal.h>). So a Ctrl-C is a key whenever it is pressed, and
 * `kill -INT` is an end.
 */

#include "terminal/signals.h"

#include "diewright/base.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <string.h>
#include <unistd.h>

enum { LATE_S = 1, LAST_MS = 300 };

static const char mouse_off[] = "\033[?1006l\033[?1000l";

static struct {
    int wake; /* write end of the pipe */
    volatile sig_atomic_t open, away; /* taken; given back for a while, to the shell */
    volatile sig_atomic_t sending, ending, continued, mouse;
    struct termios before;
    char reset[300];
    size_t n_reset;
    struct sigaction curses_resize;
} kept = {.wake = -1};

static char crash_stack[65536];

static const int told[] = {SIGTERM, SIGHUP, SIGINT, SIGTSTP, SIGCONT};
/* All that would end the program where it stands. */
static const int crashes[] = {SIGSEGV, SIGBUS,  SIGFPE,  SIGILL,  SIGABRT,   SIGQUIT, SIGTRAP,
                              SIGSYS,  SIGUSR1, SIGUSR2, SIGXCPU, SIGVTALRM, SIGPROF};
/* A file that has become too large, or a pipe that nobody reads, is told by the call that met it. */
static const int told_by_calls[] = {SIGPIPE, SIGXFSZ};

/* ---- what a handler may call ---- */

bool signals_in_front(void)
{
    pid_t front = tcgetpgrp(STDIN_FILENO);
    return front < 0 || front == getpgrp(); /* without a terminal that controls it there is no background */
}

/* Flow control taken off starts what it has stopped. In the background that is not ours to do, and would stop
   us. */
void signals_let_flow(void)
{
    struct termios modes;
    if (!signals_in_front() || tcgetattr(STDIN_FILENO, &modes) != 0 || !(modes.c_iflag & IXON))
        return;
    modes.c_iflag &= ~(tcflag_t)IXON;
    tcsetattr(STDIN_FILENO, TCSANOW, &modes);
}

void signals_write(const char *text, size_t n)
{
    while (n > 0) {
        ssize_t w = write(STDOUT_FILENO, text, n);
        if (w < 0 && errno == EINTR)
            continue;
        if (w < 0 && errno == EAGAIN &&
            poll(&(struct pollfd){.fd = STDOUT_FILENO, .events = POLLOUT}, 1, LAST_MS) > 0)
            continue;
        if (w <= 0)
            return;
        text += w;
        n -= (size_t)w;
    }
}

/* Fixed bytes out, as far as the terminal takes them; modes back. */
static void give_back_at_once(void)
{
    sigset_t quiet;
    if (!kept.open || kept.away)
        return;
    sigemptyset(&quiet);
    sigaddset(&quiet, SIGTTOU); /* in the background it must not stop us now */
    sigprocmask(SIG_BLOCK, &quiet, NULL);
    signals_let_flow();
    int flags = fcntl(STDOUT_FILENO, F_GETFL);
    fcntl(STDOUT_FILENO, F_SETFL, flags | O_NONBLOCK);
    if (kept.mouse)
        signals_write(mouse_off, sizeof mouse_off - 1);
    signals_write(kept.reset, kept.n_reset);
    fcntl(STDOUT_FILENO, F_SETFL, flags);
    if (signals_in_front())
        tcsetattr(STDIN_FILENO, TCSANOW, &kept.before);
}

static void on_crash(int number)
{
    give_back_at_once();
    raise(number); /* SA_RESETHAND: the default action now; runs when this handler returns */
}

static void ask_for_end(int number)
{
    kept.ending = number;
    if (!kept.away)
        signals_let_flow();
    alarm(LATE_S);
}

static void on_signal(int number, siginfo_t *info, void *context)
{
    int keep = errno;
    unsigned char byte = (unsigned char)number;
    (void)context;
    if (number == SIGINT && info->si_code > 0)
        byte = SIGNALS_TYPED_INTERRUPT;
    else if (number == SIGTERM || number == SIGHUP || number == SIGINT)
        ask_for_end(number);
    else if (number == SIGCONT)
        kept.continued++;
    else if (number == SIGWINCH && kept.curses_resize.sa_handler != SIG_DFL &&
             kept.curses_resize.sa_handler != SIG_IGN)
        kept.curses_resize.sa_handler(number);
    ssize_t n = write(kept.wake, &byte, 1);
    (void)n; /* a full pipe has woken the loop already */
    errno = keep;
}

/* The end was asked for a while ago. A loop that is at work will see that; one that waits for the terminal to
 * take its bytes, which nobody reads, never will. */
static void on_late(int number)
{
    (void)number;
    if (!kept.sending) {
        alarm(LATE_S);
        return;
    }
    int ending = kept.ending;
    give_back_at_once();
    signal(ending, SIG_DFL);
    raise(ending);
}

/* ---- installing ---- */

static void install(int number, void (*handler)(int), int flags)
{
    struct sigaction action = {.sa_handler = handler, .sa_flags = flags};
    sigemptyset(&action.sa_mask);
    sigaction(number, &action, NULL);
}

static void install_told(int number, int flags, struct sigaction *old)
{
    struct sigaction action = {.sa_sigaction = on_signal, .sa_flags = SA_SIGINFO | flags};
    sigemptyset(&action.sa_mask);
    sigaction(number, &action, old);
}

void signals_begin(int wake, const struct termios *before)
{
    stack_t stack = {.ss_sp = crash_stack, .ss_size = sizeof crash_stack};
    kept.wake = wake;
    kept.before = *before;
    kept.n_reset = 0;
    kept.away = kept.ending = kept.mouse = 0;
    kept.open = 1;
    sigaltstack(&stack, NULL);
    for (size_t i = 0; i < COUNT_OF(told); i++)
        install_told(told[i], SA_RESTART, NULL);
    for (size_t i = 0; i < COUNT_OF(crashes); i++)
        install(crashes[i], on_crash, (int)(SA_RESETHAND | SA_ONSTACK | SA_NODEFER));
    for (size_t i = 0; i < COUNT_OF(told_by_calls); i++)
        install(told_by_calls[i], SIG_IGN, 0);
    install(SIGALRM, on_late, SA_RESTART);
}

void signals_ready(const char *reset, size_t n)
{
    kept.n_reset = n < sizeof kept.reset ? n : sizeof kept.reset;
    memcpy(kept.reset, reset, kept.n_reset);
    install_told(SIGWINCH, 0, &kept.curses_resize);
}

void signals_end(void)
{
    alarm(0);
    for (size_t i = 0; i < COUNT_OF(told); i++)
        install(told[i], told[i] == SIGINT ? SIG_IGN : SIG_DFL, 0);
    for (size_t i = 0; i < COUNT_OF(crashes); i++)
        install(crashes[i], SIG_DFL, 0);
    for (size_t i = 0; i < COUNT_OF(told_by_calls); i++)
        install(told_by_calls[i], SIG_DFL, 0);
    install(SIGWINCH, SIG_DFL, 0);
    install(SIGALRM, SIG_DFL, 0);
    kept.open = kept.mouse = 0;
    kept.wake = -1;
}

void signals_mouse(bool asked)
{
    kept.mouse = asked;
}

void signals_sending(bool now)
{
    kept.sending = now;
}

bool signals_ending(void)
{
    return kept.ending != 0;
}

bool signals_away(void)
{
    return kept.away;
}

/* ---- stop and go on ---- */

/* Before there are handlers: a call that stops whoever makes it in the background, and changes nothing. */
void signals_wait_for_turn(struct termios *modes)
{
    tcflow(STDIN_FILENO, TCOON);
    tcgetattr(STDIN_FILENO, modes);
}

void signals_wait_in_front(void)
{
    while (!kept.ending && !signals_in_front()) {
        sig_atomic_t before = kept.continued;
        kill(0, SIGTTIN);
        if (kept.continued == before)
            return; /* it did not stop, since nobody could continue it */
    }
}

void signals_stop(bool whole_group)
{
    kept.away = 1;
    install(SIGTSTP, SIG_DFL, 0);
    if (whole_group)
        kill(0, SIGTSTP); /* whoever started us waits in the same group */
    else
        raise(SIGTSTP);
    signals_wait_in_front();
    install_told(SIGTSTP, SA_RESTART, NULL);
}

void signals_back(const struct termios *before)
{
    kept.before = *before;
    kept.away = 0;
}
