/* tests/pages/check_pages.c - README.md and the manual as printed: each block is run, loaded or looked up
 *
 * tests/pages/pages.txt tells for each block, in the order of the pages, what is done with it:
 *
 *     page README.md                 the blocks below are those of this page; they share a folder
 *     block WORDS                    the next one; WORDS stand in its first line
 *       none REASON                  nothing can be done with it
 *       do COMMAND                   run by the shell there, `diewright` on its path, this tree in $TREE;
 *                                    ends with 0
 *       exit N COMMAND               ... with N
 *       holds TEXT                   what it printed, errors too, has TEXT in it
 *       lacks TEXT                   ... has not
 *       commands                     the block is commands: run in order, each prints what stands under it
 *       each COMMAND                 run for each thing of the block, which stands for {}: two blanks or a
 *                                    line's end part them
 *       output                       the block is what the last command printed
 *       heading                      ... its first line
 *       text LINE                    a line for a file
 *       given [N]                    the block for a file, N blanks before each line, without remarks in
 *       brackets
 *       but WORDS                    (before given) without its lines that begin so; several add up
 *       write FILE                   the file
 *       open [--ascii] JOB           the screens of a job, 80 x 24
 *       keys KEYS                    to where the page begins; keys as in tests/screen/cases.c
 *       told KEYS                    ... that the page names above the block
 *       rows A-B C ...               the block is these rows of the screen, from 1
 *
 * In what a command prints a line "..." stands for any lines. Days of today stand as 2026-01-02, times of day
 * on screens as 12:34.
 * KEEP=1 (make goldens) writes what the program prints and shows now into the pages.
 */

#include "pages.h"

#include <ctype.h>
#include <glob.h>
#include <locale.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <time.h>
#include <unistd.h>

#include "../screen/play.h"

static const struct entry *entries;
static int n_entries;
static char top[300]; /* a folder for each page below it */
static char built[300];

/* One block at work. */
struct work {
    const struct entry *entry;
    struct block block;
    char folder[400];
    char *said;            /* what the last command printed */
    struct base_text text, but;
    struct bed *bed;
    bool compared;         /* something was done with the block itself */
};

#define FAIL(w, ...)                                                                                         \
    do {                                                                                                     \
        char *fail_ = base_format(__VA_ARGS__);                                                              \
        ck_abort_msg("%s, block \"%s\" (tests/pages/pages.txt:%d): %s", (w)->entry->page, (w)->entry->first, \
                     (w)->entry->line, fail_);                                                               \
    } while (0)

static void open_folders(void)
{
    const char *b = getenv("B");
    char *real = realpath(fresh_folder(), NULL), *folder = realpath(b ? b : "build", NULL);
    ck_assert(real && folder);
    snprintf(top, sizeof top, "%s", real);
    setenv("XDG_CONFIG_HOME", top, 1);
    setenv("XDG_STATE_HOME", top, 1); /* what is done in practice is not kept with what its tester did */
    snprintf(built, sizeof built, "%s/diewright-test", folder);
    ck_assert_msg(access(built, X_OK) == 0, "%s is not built", built);
    free(real);
    free(folder);
}

/* ---- comparing ---- */

static char *next_line(const char **at)
{
    size_t n = strcspn(*at, "\n");
    char *line = base_copy_n(*at, n);
    *at += n + ((*at)[n] == '\n');
    return line;
}

/* TEXT with today as 2026-01-02. */
static char *dateless(const char *text)
{
    char today[20], *out = base_copy(text);
    time_t now = time(NULL);
    strftime(today, sizeof today, "%Y-%m-%d", localtime(&now));
    for (char *at = out; (at = strstr(at, today));)
        memcpy(at, "2026-01-02", 10);
    return out;
}

static bool is_more(const char *at) { return strncmp(at, "...\n", 4) == 0; }

static size_t lines_until_more(const char *at)
{
    size_t n = 0;
    for (; *at && !is_more(at); at = strchr(at, '\n') + 1)
        n++;
    return n;
}

static const char *behind(const char *at, size_t lines)
{
    for (; lines && *at; lines--) {
        at += strcspn(at, "\n");
        at += *at == '\n';
    }
    return at;
}

/* Is SAID what is KEPT, a line "..." any lines? Lines behind "..." stand together, wherever. */
static bool alike(const char *kept, const char *said)
{
    for (bool anywhere = false;; anywhere = true) {
        size_t n = (size_t)(behind(kept, lines_until_more(kept)) - kept);
        bool last = kept[n] == '\0';
        while (strncmp(kept, said, n) != 0 || (last && said[n] != '\0' && n > 0)) {
            if (!anywhere || !*said)
                return false;
            said = behind(said, 1);
        }
        if (last)
            return n == 0 ? anywhere || !*said : true;
        said += n;
        kept = behind(kept + n, 1);
    }
}

/* SAID without what KEPT leaves out: as many lines before "...", and behind it from the line that begins with
 * the same word. */
static char *like(const char *kept, const char *said)
{
    struct base_text out = {0};
    size_t n = lines_until_more(kept);
    if (!*behind(kept, n))
        return base_copy(said);
    base_text_add_n(&out, said, (size_t)(behind(said, n) - said));
    said = behind(said, n);
    base_text_add(&out, "...\n");
    kept = behind(kept, n + 1);
    n = strcspn(kept, " \n") + 1;
    if (*kept) {
        while (*said && strncmp(said, kept, n) != 0)
            said = behind(said, 1);
        char *rest = like(kept, said);
        base_text_add(&out, rest);
        free(rest);
    }
    return base_text_take(&out);
}

/* Adds to ANEW what now stands there; fails where that is not what is kept, unless it is to be kept. */
static void compare(struct work *w, const char *kept, const char *said, struct base_text *anew)
{
    char *a = dateless(kept), *b = dateless(said);
    if (alike(a, b)) {
        base_text_add(anew, kept);
    } else {
        if (!getenv("KEEP"))
            FAIL(w, "the program says (KEEP=1 keeps that):\n%s--- and the page\n%s", said, kept);
        char *now = like(kept, b);
        base_text_add(anew, now);
        free(now);
    }
    free(a);
    free(b);
    w->compared = true;
}

static void keep(struct work *w, struct base_text *anew)
{
    if (getenv("KEEP") && strcmp(w->block.text, base_text_get(anew)) != 0)
        block_keep(w->entry->page, &w->block, base_text_get(anew));
    base_text_done(anew);
}

/* ---- running ---- */

static int run(struct work *w, const char *command)
{
    char *line = base_format("export TREE=\"$PWD\" PATH='%s/bin':$PATH USER=mh LC_ALL=C.UTF-8; cd '%s' && { "
                             "%s\n} >../said 2>&1 </dev/null",
                             top, w->folder, command),
         *said = base_format("%s/said", top);
    int code = system(line);
    free(w->said);
    w->said = read_text(said);
    free(line);
    free(said);
    return WIFEXITED(code) ? WEXITSTATUS(code) : -1;
}

static void want(struct work *w, const char *command, int status)
{
    int is = run(w, command);
    if (is != status)
        FAIL(w, "%s\nends with %d, not %d: %s", command, is, status, w->said);
}

static struct bed *open_screens(struct work *w, const char *option, const char *job)
{
    const char *argv[] = {built, job, option, NULL}, *more[] = {"USER=mh", NULL};
    struct bed *b = bed_open(&(struct bed_start){.argv = argv, .more = more, .where = w->folder});
    bed_wait(b, "? help");
    bed_settle(b, PLAY_RESTED_MS);
    return b;
}

/* "diewright JOB" opens the screens, and q leaves them. */
static bool opens_screens(struct work *w, const char *command)
{
    char job[100], rest[2] = "";
    if (sscanf(command, "diewright %90s %1s", job, rest) < 1 || (*rest && *rest != '#'))
        return false;
    char *file = base_format("%s/%s.diejob", w->folder, job);
    bool is_job = access(file, R_OK) == 0;
    free(file);
    if (is_job) {
        struct bed *b = open_screens(w, NULL, job);
        bed_type(b, "q");
        ck_assert_int_eq(bed_wait_end(b), 0);
        bed_close(b);
    }
    return is_job;
}

static void write_file(struct work *w, const char *name, const char *text)
{
    char *path = base_format("%s/%s", w->folder, name);
    for (char *p = path + strlen(w->folder) + 1; (p = strchr(p, '/')); *p++ = '/') {
        *p = '\0';
        mkdir(path, 0777);
    }
    FILE *f = fopen(path, "w");
    if (!f)
        FAIL(w, "%s cannot be written", path);
    fputs(text, f);
    ck_assert_int_eq(fclose(f), 0);
    free(path);
}

/* "cat FILE" shows a file that the reader is to write: it is written. */
static void take_file(struct work *w, const char *command, const char *shown)
{
    char name[100];
    struct stat at;
    if (sscanf(command, "cat %99s", name) != 1)
        return;
    char *path = base_format("%s/%s", w->folder, name);
    if (stat(path, &at) != 0)
        write_file(w, name, shown);
    free(path);
}

/* A command of the block with the lines that go on behind "\"; added to PRINTED as it stands there. */
static char *take_command(const char **at, struct base_text *printed)
{
    struct base_text command = {0};
    const char *start = *at;
    *at += strncmp(*at, "$ ", 2) == 0 ? 2 : 0;
    for (bool more = true; more;) {
        char *line = next_line(at);
        size_t n = strlen(line);
        more = n && line[n - 1] == '\\';
        base_text_addf(&command, "%s%s", line, more ? "\n" : "");
        free(line);
    }
    base_text_add_n(printed, start, (size_t)(*at - start));
    return base_text_take(&command);
}

/* Findings that are open, and an answer that is not right, are no failure. */
static bool may_end_with_1(const char *command)
{
    return strncmp(command, "diewright check ", 16) == 0 || strncmp(command, "diewright practice ", 19) == 0;
}

static void do_commands(struct work *w)
{
    struct base_text anew = {0};
    bool signs = strncmp(w->block.text, "$ ", 2) == 0;
    for (const char *at = w->block.text; *at;) {
        char *command = take_command(&at, &anew);
        const char *under = at;
        while (*at && (signs ? strncmp(at, "$ ", 2) != 0 : strncmp(at, "diewright ", 10) != 0))
            at = behind(at, 1);
        char *kept = base_copy_n(under, (size_t)(at - under));
        take_file(w, command, kept);
        int status = opens_screens(w, command) ? 0 : run(w, command);
        if (status != 0 && !(status == 1 && may_end_with_1(command)))
            FAIL(w, "%s\nends with %d: %s", command, status, w->said);
        if (*kept)
            compare(w, kept, w->said, &anew);
        free(kept);
        free(command);
    }
    w->compared = true;
    keep(w, &anew);
}

static void do_each(struct work *w, const char *command)
{
    const char *hole = strstr(command, "{}");
    if (!hole)
        FAIL(w, "each: %s has no {}", command);
    for (const char *at = w->block.text; *at;) {
        const char *end = strstr(at, "  "), *line_end = strchr(at, '\n');
        size_t n = (size_t)((end && end < line_end ? end : line_end) - at);
        char *line = base_format("%.*s%.*s%s", (int)(hole - command), command, (int)n, at, hole + 2);
        want(w, line, 0);
        free(line);
        at += n;
        at += strspn(at, " \n");
    }
    w->compared = true;
}

static void do_output(struct work *w, bool heading)
{
    struct base_text anew = {0};
    char *said = heading ? base_format("%.*s\n", (int)strcspn(w->said, "\r\n"), w->said) : base_copy(w->said);
    compare(w, w->block.text, said, &anew);
    keep(w, &anew);
    free(said);
}

/* ---- files ---- */

static int depth_of(const char *line)
{
    int depth = 0;
    for (; *line; line++)
        depth += (*line == '(') - (*line == ')');
    return depth;
}

/* The next line as it is loaded: a remark in brackets, two blanks before it, is left out, on to the line that
 * closes it. */
static char *take_unremarked(const char **at)
{
    char *line = next_line(at), *open = strstr(line, "  (");
    if (!open)
        return line;
    for (int depth = depth_of(open); depth > 0 && **at;) {
        char *rest = next_line(at);
        depth += depth_of(rest);
        free(rest);
    }
    while (open > line && open[-1] == ' ')
        open--;
    *open = '\0';
    return line;
}

static bool left_out(struct work *w, const char *line)
{
    line += strspn(line, " ");
    for (const char *at = base_text_get(&w->but); *at;) {
        char *words = next_line(&at);
        bool so = strncmp(line, words, strlen(words)) == 0;
        free(words);
        if (so)
            return true;
    }
    return false;
}

static void add_given(struct work *w, int blanks)
{
    for (const char *at = w->block.text; *at;) {
        bool is_blank = *at == '\n';
        char *line = take_unremarked(&at);
        if (is_blank || (line[strspn(line, " ")] && !left_out(w, line)))
            base_text_addf(&w->text, "%*s%s\n", is_blank ? 0 : blanks, "", line);
        free(line);
    }
    w->compared = true;
}

/* ---- screens ---- */

static bool is_word(char c) { return isalnum((unsigned char)c) || c == '_'; }

/* The page's words above the block name each key that is told. */
static void hold_told(struct work *w, const char *keys)
{
    for (const char *at = keys; *at; at += strspn(at, " ")) {
        bool quoted = *at == '"', found = false;
        size_t n = strcspn(at + quoted, quoted ? "\"" : " ");
        char *key = base_copy_n(at + quoted, n);
        for (const char *p = w->block.prose; !found && (p = strstr(p, key)); p++)
            found = !(is_word(key[0]) && p > w->block.prose && is_word(p[-1])) &&
                    !(is_word(key[n - 1]) && is_word(p[n]));
        if (!found)
            FAIL(w, "the page does not tell the key %s", key);
        free(key);
        at += n + 2 * (size_t)quoted;
    }
}

static char *rows_of(struct work *w, const char *ranges)
{
    struct base_text out = {0};
    const char *at = ranges;
    for (int from, to, n; sscanf(at, "%d%n", &from, &n) == 1; ) {
        at += n;
        to = from;
        if (*at == '-' && sscanf(at, "-%d%n", &to, &n) == 1)
            at += n;
        for (int y = from; y <= to; y++)
            base_text_addf(&out, "%s\n", play_row(w->bed, y - 1));
    }
    return base_text_take(&out);
}

static void do_rows(struct work *w, const char *ranges)
{
    enum { TRIES = 6, MORE_MS = 250 }; /* on a busy machine what should be there may take a while yet */
    struct base_text anew = {0};
    char *now = rows_of(w, ranges);
    for (int i = 0; i < TRIES && !getenv("KEEP") && strcmp(now, w->block.text) != 0; i++) {
        free(now);
        bed_settle(w->bed, MORE_MS);
        now = rows_of(w, ranges);
    }
    if (!getenv("KEEP") && strcmp(now, w->block.text) != 0)
        FAIL(w, "the program shows (KEEP=1 keeps that):\n%s--- and the page\n%s--- of\n%s", now,
             w->block.text, bed_screen(w->bed));
    base_text_add(&anew, now);
    keep(w, &anew);
    free(now);
    w->compared = true;
}

/* ---- a block ---- */

static const char *told(const char *act, const char *word)
{
    size_t n = strlen(word);
    return strncmp(act, word, n) == 0 && (act[n] == ' ' || !act[n]) ? act + n + (act[n] == ' ') : NULL;
}

static void do_act(struct work *w, const char *act)
{
    const char *v;
    int n = 0, k;
    if ((v = told(act, "none")))
        w->compared = *v;
    else if ((v = told(act, "do")))
        want(w, v, 0);
    else if ((v = told(act, "exit")) && sscanf(v, "%d %n", &n, &k) == 1)
        want(w, v + k, n);
    else if ((v = told(act, "holds"))) {
        if (!strstr(w->said, v))
            FAIL(w, "\"%s\" was to be said:\n%s", v, w->said);
    } else if ((v = told(act, "lacks"))) {
        if (strstr(w->said, v))
            FAIL(w, "\"%s\" was not to be said:\n%s", v, w->said);
    } else if (told(act, "commands"))
        do_commands(w);
    else if ((v = told(act, "each")))
        do_each(w, v);
    else if (told(act, "output") || told(act, "heading"))
        do_output(w, *act == 'h');
    else if ((v = told(act, "text")))
        base_text_addf(&w->text, "%s\n", v);
    else if ((v = told(act, "but")))
        base_text_addf(&w->but, "%s\n", v);
    else if ((v = told(act, "given")))
        add_given(w, atoi(v));
    else if ((v = told(act, "write"))) {
        write_file(w, v, base_text_get(&w->text));
        base_text_clear(&w->text);
    } else if ((v = told(act, "open"))) {
        bool ascii = strncmp(v, "--ascii ", 8) == 0;
        w->bed = open_screens(w, ascii ? "--ascii" : NULL, v + (ascii ? 8 : 0));
    } else if ((v = told(act, "keys")))
        play_keys(w->bed, v);
    else if ((v = told(act, "told"))) {
        hold_told(w, v);
        play_keys(w->bed, v);
    } else if ((v = told(act, "rows")))
        do_rows(w, v);
    else
        FAIL(w, "\"%s\" is nothing to do", act);
}

static void begin(struct work *w, const struct entry *e)
{
    *w = (struct work){.entry = e, .said = base_copy("")};
    char *bin = base_format("%s/bin", top), *link = base_format("%s/bin/diewright", top),
         *page = base_copy(e->page);
    for (char *p = page; *p; p++)
        if (*p == '/')
            *p = '-';
    snprintf(w->folder, sizeof w->folder, "%s/%s", top, page);
    mkdir(bin, 0777);
    mkdir(w->folder, 0777);
    if (access(link, X_OK) != 0)
        ck_assert_int_eq(symlink(built, link), 0);
    free(bin);
    free(link);
    free(page);
}

START_TEST(a_block_is_what_the_program_does)
{
    const struct entry *e = &entries[_i];
    struct work w;
    begin(&w, e);
    if (!block_read(e->page, e->number, &w.block))
        FAIL(&w, "the page has no such block");
    char *first = base_copy_n(w.block.text, strcspn(w.block.text, "\n"));
    if (!strstr(first, e->first))
        FAIL(&w, "the page has another block there: %s", first);
    for (const char *at = e->acts; *at;) {
        char *act = next_line(&at);
        do_act(&w, act);
        free(act);
    }
    if (!w.compared)
        FAIL(&w, "nothing is done with it");
    if (w.bed)
        bed_close(w.bed);
    block_done(&w.block);
    base_text_done(&w.text);
    base_text_done(&w.but);
    free(w.said);
    free(first);
}
END_TEST

/* A page, or a block of one, that the list does not know is not held by anything. */
START_TEST(each_block_of_each_page_is_in_the_list)
{
    glob_t pages = {0};
    ck_assert_int_eq(glob("README.md", 0, NULL, &pages), 0);
    ck_assert_int_eq(glob("man/*.[157]", GLOB_APPEND, NULL, &pages), 0);
    for (size_t p = 0; p < pages.gl_pathc; p++) {
        const char *page = pages.gl_pathv[p];
        int at = 0;
        struct block b;
        /* Of many that no longer stand where the list has them, the first is told: one block too many
         * moves all below it. */
        for (int i = 0; i < n_entries; i++) {
            if (strcmp(entries[i].page, page) != 0)
                continue;
            if (!block_read(page, at++, &b))
                ck_abort_msg("%s has %d blocks; tests/pages/pages.txt goes on with \"%s\"", page, at - 1,
                             entries[i].first);
            b.text[strcspn(b.text, "\n")] = '\0';
            if (!strstr(b.text, entries[i].first))
                ck_abort_msg("Block %d of %s begins \"%s\"; tests/pages/pages.txt has \"%s\" there", at, page,
                             b.text, entries[i].first);
            block_done(&b);
        }
        if (block_read(page, at, &b))
            ck_abort_msg("%s ends in a block that tests/pages/pages.txt does not know: %s", page, b.text);
    }
    ck_assert_uint_ge(pages.gl_pathc, 6);
    globfree(&pages);
}
END_TEST

int main(void)
{
    Suite *s = suite_create("pages");
    setlocale(LC_CTYPE, "C.UTF-8");
    setenv("CK_MAX_MSG_SIZE", "100000", 0);
    entries = entries_read(&n_entries);
    TCase *list = tcase_create("list");
    tcase_add_test(list, each_block_of_each_page_is_in_the_list);
    suite_add_tcase(s, list);
    for (int from = 0, to; from < n_entries;
         from = to) { /* a case for each page, by its name: CK_RUN_CASE=README */
        char *name = base_copy(strchr(entries[from].page, '/') ? strchr(entries[from].page, '/') + 1
                                                               : entries[from].page);
        name[strcspn(name, ".")] = '\0';
        TCase *t = tcase_create(name); /* keeps the name */
        for (to = from; to < n_entries && strcmp(entries[to].page, entries[from].page) == 0;)
            to++;
        tcase_add_unchecked_fixture(t, open_folders, NULL);
        tcase_add_loop_test(t, a_block_is_what_the_program_does, from, to);
        suite_add_tcase(s, t);
    }
    return run_suite(s);
}
