/* Picks the face: a command, or the screens of a job. Reads the environment and passes it down. */

#include "diewright/cli.h"
#include "diewright/start.h"
#include "diewright/tui.h"

#include <errno.h>
#include <langinfo.h>
#include <locale.h>
#include <malloc.h>
#include <pwd.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/ioctl.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <unistd.h>

struct asked {
    const char *data, *shop;
    bool ascii, no_colour, look, mouse, help, version, keys, data_missing, shop_missing;
};

/* Where all that is read stands, yours to free(); NULL: there is none. */
struct places { char *data, *own, *state, *shop, *settings; };

static bool is_folder(const char *path)
{
    struct stat s;
    return stat(path, &s) == 0 && S_ISDIR(s.st_mode);
}

/* --data, else the data beside the program in its build tree, which is what it was built and is tested with,
   else the compiled-in folder. Yours to free(). */
static char *find_data(const char *asked)
{
    if (asked)
        return base_copy(asked);
    char self[4000];
    ssize_t n = readlink("/proc/self/exe", self, sizeof self - 1);
    if (n > 0) {
        self[n] = '\0';
        char *slash = strrchr(self, '/');
        if (slash)
            *slash = '\0';
        char *path = base_format("%s/../data", self), *handbook = base_format("%s/handbook", path);
        bool there = is_folder(handbook);
        free(handbook);
        if (there)
            return path;
        free(path);
    }
    return base_copy(DIEWRIGHT_DATA);
}

/* Where a shop keeps starts of its own (XDG base directories); NULL: there is no such place. Yours to
   free(). */
static char *find_own(void)
{
    const char *data = getenv("XDG_DATA_HOME"), *home = getenv("HOME");
    if (data && *data == '/')
        return base_format("%s/diewright/starts", data);
    return home && *home == '/' ? base_format("%s/.local/share/diewright/starts", home) : NULL;
}

/* What is asked for, else the file NAME of a shop's or one person's settings where they are kept (XDG base
   directories); NULL: there are none. Yours to free(). */
static char *find_config(const char *asked, const char *name)
{
    const char *config = getenv("XDG_CONFIG_HOME"), *home = getenv("HOME");
    if (asked)
        return base_copy(asked);
    char *path = config && *config == '/' ? base_format("%s/diewright/%s", config, name)
                 : home && *home == '/'   ? base_format("%s/.config/diewright/%s", home, name)
                                          : NULL;
    if (path && access(path, F_OK) == 0)
        return path;
    free(path);
    return NULL;
}

/* Where programs keep what they were at for this person (XDG base directories); NULL: nowhere. Yours to
   free(). */
static char *find_state(void)
{
    const char *state = getenv("XDG_STATE_HOME"), *home = getenv("HOME");
    if (state && *state == '/')
        return base_copy(state);
    return home && *home == '/' ? base_format("%s/.local/state", home) : NULL;
}

/* "mh@ws1": the account of the real user id, whatever the environment says, and the machine. */
static const char *who_is_it(void)
{
    static char who[100];
    char host[60] = "";
    const struct passwd *p = getpwuid(getuid());
    if (gethostname(host, sizeof host - 1) != 0)
        host[0] = '\0';
    if (p && p->pw_name)
        snprintf(who, sizeof who, "%.32s%s%s", p->pw_name, *host ? "@" : "", host);
    else
        snprintf(who, sizeof who, "%lu%s%s", (unsigned long)getuid(), *host ? "@" : "", host);
    return who;
}

static int terminal_width(void)
{
    struct winsize w;
    if (isatty(STDOUT_FILENO) && ioctl(STDOUT_FILENO, TIOCGWINSZ, &w) == 0 && w.ws_col >= 40)
        return w.ws_col;
    return 80;
}

/* Options that any call may carry stand anywhere before "--"; they are taken out of ARGV. */
static int take_options(int argc, char **argv, struct asked *a)
{
    int kept = 0;
    for (int i = 0; i < argc; i++) {
        if (strcmp(argv[i], "--") == 0) {
            while (i < argc)
                argv[kept++] = argv[i++];
            break;
        }
        if (strcmp(argv[i], "--data") == 0 && i + 1 < argc)
            a->data = argv[++i];
        else if (strcmp(argv[i], "--data") == 0)
            a->data_missing = true;
        else if (strncmp(argv[i], "--data=", 7) == 0)
            a->data = argv[i] + 7;
        else if (strcmp(argv[i], "--shop") == 0 && i + 1 < argc)
            a->shop = argv[++i];
        else if (strcmp(argv[i], "--shop") == 0)
            a->shop_missing = true;
        else if (strncmp(argv[i], "--shop=", 7) == 0)
            a->shop = argv[i] + 7;
        else if (strcmp(argv[i], "--ascii") == 0)
            a->ascii = true;
        else if (strcmp(argv[i], "--color=never") == 0 || strcmp(argv[i], "--colour=never") == 0)
            a->no_colour = true;
        else if (strcmp(argv[i], "--look") == 0)
            a->look = true;
        else if (strcmp(argv[i], "--mouse") == 0)
            a->mouse = true;
        else if (strcmp(argv[i], "--help") == 0 || strcmp(argv[i], "-h") == 0)
            a->help = true;
        else if (strcmp(argv[i], "--version") == 0)
            a->version = true;
        else if (strcmp(argv[i], "--keys") == 0)
            a->keys = true;
        else
            argv[kept++] = argv[i];
    }
    return kept;
}

/* What people wait for before there are screens to say it on: told once, where reading takes long. */
static bool still_reading(void *path)
{
    base_on_long_work(NULL, NULL, 0, 0);
    cli_say(stderr, "diewright: Reading %s takes a while; Ctrl-C ends it.\n", (const char *)path);
    return false;
}

static enum base_err read_job(const struct handbook *h, char *path, bool look, struct job **out,
                              struct base_diag *why)
{
    enum { LONG = 400000 }; /* steps, some half a second; a job of the demo takes a tenth of them */
    base_on_long_work(still_reading, path, LONG, LONG);
    enum base_err err = job_open(h, path, look, out, why);
    base_on_long_work(NULL, NULL, 0, 0);
    return err;
}

/* A job in memory, to be shown while the start of a file that is not there yet is chosen. */
static enum base_err read_usual(const struct handbook *h, const char *data, struct job **out,
                                struct base_diag *why)
{
    char *path = base_format("%s/templates/%s.txt", data, start_usual), *text = NULL;
    enum base_err err = base_read_file(path, &text, NULL, why);
    if (!err)
        err = job_from_text(h, text, start_usual, out, why);
    free(text);
    free(path);
    return err;
}

/* The screens of job NAME, or of guide or practice job PRACTICE, then without one. */
static int screens(const struct asked *a, const struct places *at, const char *name, const char *practice)
{
    struct handbook *h = NULL;
    struct job *j = NULL;
    struct base_diag why = {0};
    char *path = practice ? NULL : job_path(name);
    bool begins = path && access(path, F_OK) != 0 && errno == ENOENT;
    if (begins && (a->look || !isatty(STDIN_FILENO) || !isatty(STDOUT_FILENO))) {
        int missing = cli_no_job(path, name);
        free(path);
        return missing;
    }
    int status = 0;
    if (job_open_handbook(at->data, &h, &why) || (begins ? read_usual(h, at->data, &j, &why)
         : path ? read_job(h, path, a->look, &j, &why)
                : 0))
        status = cli_complain(&why);
    const char *no_color = getenv("NO_COLOR"), *delay = getenv("ESCDELAY");
    if (!status) {
        if (j)
            job_set_who(j, who_is_it());
        unsetenv("LINES"); /* else resizes are not seen */
        unsetenv("COLUMNS");
        struct tui_options o = {
            .handbook = h,
            .job = j,
            .data = at->data,
            .own = at->own,
            .shop = at->shop,
            .who = who_is_it(),
            .begin = begins ? path : NULL,
            .practice = practice,
            .look = a->look,
            .mouse = a->mouse,
            .ascii = a->ascii,
            .colour = a->no_colour || (no_color && *no_color) ? TUI_COLOUR_NEVER : TUI_COLOUR_AUTO,
            .term = getenv("TERM"),
            .codeset = nl_langinfo(CODESET),
            .settings = at->settings,
            .state = at->state,
            .escape_ms = delay ? atoi(delay) : 0,
        };
        why = (struct base_diag){0};
        status = tui_run(&o, &why);
        if (why.code)
            cli_complain(&why);
        else if (begins && status == 0 && access(path, F_OK) != 0)
            status = cli_no_job(path, name); /* left without choosing a start */
    }
    job_close(j);
    handbook_free(h);
    free(path);
    return status;
}

static int refuse(const char *fmt, const char *word)
{
    struct base_text near = {0};
    cli_nearest_command(word, &near);
    cli_put(stderr, "diewright: ");
    cli_say(stderr, fmt, word);
    if (near.length)
        cli_say(stderr, " Near it: %s.", base_text_get(&near));
    cli_put(stderr, " To see them all: diewright --help\n");
    base_text_done(&near);
    return CLI_REFUSED;
}

/* Print what FILL writes; the text is ended here. */
static int tell(void fill(struct base_text *out), FILE *where, int status)
{
    struct base_text text = {0};
    fill(&text);
    cli_put_cells(where, base_text_get(&text));
    base_text_done(&text);
    return fflush(where) == 0 && !ferror(where) ? status : CLI_NOT_SAVED;
}

static void version(struct base_text *out) { base_text_add(out, "diewright " DIEWRIGHT_VERSION "\n"); }

/* "help ..." as it stands, "COMMAND ... --help" as help on that command. */
static int help(struct cli_options *o, const struct asked *a, const char *settings, int argc, char **argv)
{
    struct base_text screens_words = {0}, complaints = {0};
    char word[] = "help", *on_command[] = {word, argv[0]};
    tui_keys(settings, &screens_words, &complaints);
    base_text_done(&complaints);
    o->screens = base_text_get(&screens_words);
    int status = a->help ? cli_run(o, 2, on_command) : cli_run(o, argc, argv);
    base_text_done(&screens_words);
    return status;
}

/* All keys, with those that are this person's own. */
static int tell_keys(const char *settings)
{
    struct base_text out = {0}, complaints = {0};
    tui_keys(settings, &out, &complaints);
    cli_put_cells(stdout, base_text_get(&out));
    if (complaints.length)
        cli_say(stderr, "diewright: %s", base_text_get(&complaints));
    int status = complaints.length ? CLI_REFUSED : CLI_DONE;
    base_text_done(&out);
    base_text_done(&complaints);
    return fflush(stdout) == 0 && !ferror(stdout) ? status : CLI_NOT_SAVED;
}

static int choose(const struct asked *a, int argc, char **argv, const struct places *at)
{
    const char *codeset = nl_langinfo(CODESET);
    struct cli_options o = {.data = at->data,
                            .own = at->own,
                            .shop = at->shop,
                            .state = at->state,
                            .who = who_is_it(),
                            .width = terminal_width(),
                            .ascii = a->ascii || strcmp(codeset, "UTF-8") != 0};
    if (a->data_missing) {
        cli_put(stderr, "diewright: The option --data needs a folder behind it.\n");
        return CLI_REFUSED;
    }
    if (a->shop_missing) {
        cli_put(stderr, "diewright: The option --shop needs a file behind it.\n");
        return CLI_REFUSED;
    }
    if (argc > 0 && (a->help || strcmp(argv[0], "help") == 0))
        return help(&o, a, at->settings, argc, argv);
    if (argc > 0 && strcmp(argv[0], "--") == 0)
        argv++, argc--;
    else if (argc == 2 && strcmp(argv[0], "practice") == 0 && argv[1][0] != '-' && isatty(STDIN_FILENO) &&
             isatty(STDOUT_FILENO))
        return screens(a, at, NULL, argv[1]);
    else if (argc > 0 && cli_is_command(argv[0]))
        return cli_run(&o, argc, argv);
    else if (argc > 0 && strncmp(argv[0], "--", 2) == 0)
        return refuse("There is no option %s.", argv[0]);
    if (argc > 1)
        return refuse("There is no command \"%s\".", argv[0]);
    return argc == 0 ? tell(cli_help, stderr, CLI_REFUSED)
                     : screens(a, at, argv[0], NULL);
}

/* A third of what a short command takes is the machine handing out memory page by page: it is asked for large
   pages, and for many at once. Where it has none nothing changes. */
static void take_large_pages(void)
{
#ifdef __GLIBC__
    enum { MOST = 32 << 20, PAGE = 2 << 20, BEGIN = 100000 /* less than malloc() maps by itself */ };
    char *start = sbrk(0);
    mallopt(M_TOP_PAD, MOST);
    mallopt(M_TRIM_THRESHOLD, 2 * MOST);
    void *volatile begun = malloc(BEGIN);
    free(begun);
    char *end = sbrk(0), *first = start - (uintptr_t)start % PAGE;
    first += first < start ? PAGE : 0;
    if (end > first)
        madvise(first, (size_t)(end - first), MADV_HUGEPAGE);
#endif
}

int main(int argc, char **argv)
{
    take_large_pages();
    setlocale(LC_CTYPE, ""); /* no other: numbers are read and written with a point everywhere */
    struct asked a = {0};
    int n = take_options(argc - 1, argv + 1, &a);
    if (a.version)
        return tell(version, stdout, CLI_DONE);
    if (a.help && (n == 0 || !cli_is_command(argv[1])))
        return tell(cli_help, stdout, CLI_DONE);
    struct places at = {.data = find_data(a.data),
                        .own = find_own(),
                        .state = find_state(),
                        .shop = find_config(a.shop, "shop.txt"),
                        .settings = find_config(NULL, "screens.txt")};
    int status = a.keys ? tell_keys(at.settings) : choose(&a, n, argv + 1, &at);
    free(at.data);
    free(at.own);
    free(at.state);
    free(at.shop);
    free(at.settings);
    return status;
}
