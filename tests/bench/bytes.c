/* Bytes sent to the terminal a key, beside other programs of a Debian box on a screen of the same size.
 *
 * Each walk is one program, some keys that lead there, then one key again and again. Told are the middle and
 * the most of what a key sends at once, and of all that it sends until the screen has been quiet for longer
 * than the program lets panes wait that follow the cursor. What is not installed is left out with a word.
 */

#include "bytes.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "../screen/bed.h"

enum { TIMES = 12, AT_ONCE_MS = 40, RESTED_MS = 140, BEGUN_MS = 400, WORDS = 9 };

struct walk {
    const char *what;
    const char *argv[WORDS];   /* "JOB" stands for a fresh demo job */
    /* to the place; then one of these after another, parted by blanks ("\033OB": down) */
    const char *there, *keys;
};

static const char DOWN[] = "\033OB", PAGE[] = "\033[6~ \033[5~";

enum { DOWN_THE_STACK, DOWN_THE_FORM };
static const struct walk ours[] = {
    {"down the stack", {"build/diewright", "JOB"}, "", DOWN},
    {"down the form", {"build/diewright", "JOB"}, "\t", DOWN},
    {"over the plan", {"build/diewright", "JOB"}, "\t\t", "\033OC \033OC \033OB \033OD \033OD \033OA"},
    {"down the findings", {"build/diewright", "JOB"}, "\t\t\t", DOWN},
    {"a page of findings", {"build/diewright", "JOB"}, "\t\t\tz", PAGE},
    {"a form opened and left", {"build/diewright", "JOB"}, "", "\r \t\t\t"},
    {"a value typed",
     {"build/diewright", "JOB"},
     ":go-to die_plate.thickness\r\r\025",
     "3 2 . 5 \177 \177 6 \177 4 . 2 \177"},
    {"why unfolded", {"build/diewright", "JOB"}, ":go-to stack.shut_height\rw", DOWN},
};

static const struct walk others[] = {
    {"less, a line down", {"less", "README.md"}, "", "j"},
    {"less, a page", {"less", "README.md"}, "", "f b"},
    {"vim, down with a cursor line",
     {"vim", "-n", "-u", "NONE", "-c", "set cursorline number ruler", "README.md"},
     "",
     "j"},
    {"vim, a letter typed",
     {"vim", "-n", "-u", "NONE", "-c", "set ruler showmatch", "README.md"},
     "A",
     "3 ( ) 4"},
    {"nano, down", {"nano", "-c", "-v", "README.md"}, "", DOWN},
    {"mc, down", {"mc", "-u", "src", "tests"}, "", DOWN},
    {"htop, down", {"htop", "-d", "100"}, "", DOWN},
};

static int compare(const void *a, const void *b)
{
    return (*(const long *)a > *(const long *)b) - (*(const long *)a < *(const long *)b);
}

static bool installed(const char *name)
{
    static const char *const folders[] = {"/usr/bin", "/bin", "/usr/local/bin"};
    for (size_t i = 0; i < COUNT_OF(folders); i++) {
        char *path = base_format("%s/%s", folders[i], name);
        bool there = access(path, X_OK) == 0;
        free(path);
        if (there)
            return true;
    }
    return strchr(name, '/') && access(name, X_OK) == 0;
}

static char *fresh_job(void)
{
    char *path = base_format("%s/cover.diejob", fresh_folder());
    char *command = base_format("build/diewright load %s data/demo/cover-plate.txt >/dev/null 2>&1", path);
    if (system(command) != 0) {
        fprintf(stderr, "bench: build/diewright makes no job\n");
        exit(1);
    }
    free(command);
    return path;
}

struct sent { long middle, most; };
struct walked { struct sent at_once, all; };

static struct sent sent_of(long *bytes)
{
    qsort(bytes, TIMES, sizeof *bytes, compare);
    return (struct sent){bytes[TIMES / 2], bytes[TIMES - 1]};
}

static struct walked walked(const struct walk *w, const char *term)
{
    char *job = NULL, *keys = base_copy(w->keys), *place = NULL;
    const char *argv[WORDS + 1] = {0};
    long at_once[TIMES], all[TIMES];
    for (int i = 0; i < WORDS && w->argv[i]; i++)
        argv[i] = strcmp(w->argv[i], "JOB") == 0 ? (job = fresh_job()) : w->argv[i];
    char *home = realpath(fresh_folder(), NULL); /* mc wants all of the path */
    struct bed *b = bed_open(&(struct bed_start){.argv = argv, .term = term, .folder = home});
    bed_quiet(b, BEGUN_MS);
    for (const char *p = w->there; *p; p++) {
        bed_raw(b, p, 1);
        bed_quiet(b, AT_ONCE_MS);
    }
    bed_quiet(b, BEGUN_MS);
    char *key = NULL;
    for (int i = 0; i < TIMES; i++) {
        key = strtok_r(key ? NULL : keys, " ", &place);
        if (!key) { /* begin again */
            free(keys);
            keys = base_copy(w->keys);
            key = strtok_r(keys, " ", &place);
        }
        bed_raw(b, key, strlen(key));
        at_once[i] = bed_quiet(b, AT_ONCE_MS);
        all[i] = at_once[i] + bed_quiet(b, RESTED_MS);
    }
    if (bed_ended(b)) {
        fprintf(stderr, "bench: %s has ended by itself; the screen is\n%s", argv[0], bed_screen(b));
        memset(all, 0, sizeof all); /* told as nothing */
    }
    bed_close(b);
    free(home);
    free(keys);
    free(job);
    return (struct walked){sent_of(at_once), sent_of(all)};
}

/* What it sends on xterm-256color; nothing where the program is not here. */
static struct walked tell(const struct walk *w)
{
    if (!installed(w->argv[0])) {
        printf("       %-30s not installed\n", w->what);
        return (struct walked){0};
    }
    struct walked x = walked(w, "xterm-256color"), v = walked(w, "vt100");
    printf("       %-30s %6ld %6ld %8ld %6ld %10ld %6ld %8ld %6ld\n", w->what, x.at_once.middle,
           x.at_once.most, x.all.middle, x.all.most, v.at_once.middle, v.at_once.most, v.all.middle,
           v.all.most);
    return x;
}

/* How much of what another program sends for a key ours does for one like it: at once, and all. */
static void tell_ratio(const struct walked *us, const struct walked *them, const char *what)
{
    if (them->all.middle > 0)
        printf("       %-30s %13.2f %15.2f\n", what, (double)us->at_once.middle / (double)them->all.middle,
               (double)us->all.middle / (double)them->all.middle);
}

START_TEST(walks)
{
    struct walked us[COUNT_OF(ours)];
    printf("bytes  a key, on 80x24 %20s %-31s %s\n", "", "xterm-256color", "vt100");
    printf("       %-30s %-13s  %-15s   %-13s   %s\n", "", "at once", "all", "at once", "all");
    printf("       %-30s %6s %6s %8s %6s %10s %6s %8s %6s\n", "", "middle", "most", "middle", "most",
           "middle", "most", "middle", "most");
    for (size_t i = 0; i < COUNT_OF(ours); i++)
        us[i] = tell(&ours[i]);
    for (size_t i = 0; i < COUNT_OF(others); i++) {
        struct walked them = tell(&others[i]);
        tell_ratio(&us[DOWN_THE_FORM], &them, "  of that: down the form");
        tell_ratio(&us[DOWN_THE_STACK], &them, "           down the stack");
    }
}
END_TEST

/* A test only because the bed is made for tests and fails as they do. */
void bench_bytes(void)
{
    Suite *s = suite_create("bytes");
    TCase *c = tcase_create("bytes");
    tcase_add_test(c, walks);
    suite_add_tcase(s, c);
    SRunner *r = srunner_create(s);
    srunner_set_fork_status(r, CK_NOFORK);
    srunner_run_all(r, CK_MINIMAL);
    srunner_free(r);
}
