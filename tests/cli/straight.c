/* Calls of the program without a shell and without a start: in a child of this process. A start costs more
 * than most commands do, and a test is to know what they say.
 *
 * With the sanitizers all go to the shell: what a call has not given back is found as its process ends.
 */

#include "suites.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "diewright/handbook.h"
#include "diewright/job.h"

enum { MOST_WORDS = 40 };

int program_main(int argc, char **argv); /* main() of src/main.c, by another name */

/* ---- one handbook for all of them -------------------------------------------------------------- */

static struct { char *folder; struct handbook *handbook; } shared;

enum base_err __real_job_open_handbook(const char *folder, struct handbook **out, struct base_diag *why);
enum base_err __wrap_job_open_handbook(const char *folder, struct handbook **out, struct base_diag *why);
void __real_handbook_free(struct handbook *h);
void __wrap_handbook_free(struct handbook *h);

enum base_err __wrap_job_open_handbook(const char *folder, struct handbook **out, struct base_diag *why)
{
    if (!shared.folder || strcmp(folder, shared.folder) != 0)
        return __real_job_open_handbook(folder, out, why);
    *out = shared.handbook;
    return BASE_OK;
}

void __wrap_handbook_free(struct handbook *h)
{
    if (h != shared.handbook)
        __real_handbook_free(h);
}

static void share_handbook(const char *folder)
{
    if (shared.folder)
        return;
    ck_ok(__real_job_open_handbook(folder, &shared.handbook, why));
    shared.folder = base_copy(folder);
}

/* ---- a line ------------------------------------------------------------------------------------ */

/* What stands behind a call. PIPE: a filter, the shell's with all behind it. NONE: the line wants a shell. */
enum next { END, AND, THEN, PIPE, NONE };

/* A call's words, in TEXT one behind the other, behind what it sets in the environment; where what it prints
   goes, if that is said: ERR "out" is 2>&1. COPIES: it is `cp FROM TO`. */
struct call {
    char text[4000], *words[MOST_WORDS + 1], *sets[4];
    int n, n_sets;
    bool copies;
    const char *out, *err;
};

/* One word from *AT into TO, its quotation marks taken off; false: a shell would do more with it. */
static bool take_word(const char **at, char **to)
{
    const char *p = *at;
    char *out = *to;
    while (*p && *p != ' ' && *p != ';' && strncmp(p, "&&", 2) != 0) {
        char quote = *p == '\'' || *p == '"' ? *p++ : '\0';
        if (!quote && strchr("|&<>()$`\\*?[]#~!{}\n", *p))
            return false;
        if (!quote) {
            *out++ = *p++;
            continue;
        }
        for (; *p && *p != quote; p++) {
            if (quote == '"' && strchr("$`\\!", *p))
                return false;
            *out++ = *p;
        }
        if (*p++ != quote)
            return false;
    }
    *out++ = '\0';
    *at = p;
    *to = out;
    return true;
}

/* "2>&1", "2>/dev/null" or ">file" at *AT; *BAD when it is another one. */
static bool take_direction(const char **at, char **to, struct call *c, bool *bad)
{
    static const struct { const char *text, *err; } known[] = {{"2>&1", "out"}, {"2>/dev/null", "/dev/null"}};
    for (size_t i = 0; i < COUNT_OF(known); i++) {
        size_t n = strlen(known[i].text);
        if (strncmp(*at, known[i].text, n) != 0 || !strchr(" ;|&", (*at)[n]))
            continue;
        c->err = known[i].err;
        *at += n;
        return true;
    }
    if (**at != '>' || c->err) /* where a fault goes depends on which of the two comes first */
        return false;
    (*at)++;
    c->out = *to;
    *bad = !take_word(at, to) || !*c->out;
    return true;
}

/* NAME=VALUE in front of a call, its name in capitals. */
static bool sets_something(const char *word)
{
    size_t n = strspn(word, "ABCDEFGHIJKLMNOPQRSTUVWXYZ_");
    return n && word[n] == '=';
}

static enum next take_call(const char **at, struct call *c)
{
    char *to = c->text;
    bool bad = false;
    c->n = c->n_sets = 0;
    c->out = c->err = NULL;
    if (strlen(*at) >= sizeof c->text)
        return NONE;
    for (;;) {
        *at += strspn(*at, " ");
        if (!**at || **at == ';' || **at == '|' || strncmp(*at, "&&", 2) == 0)
            break;
        if (c->n && take_direction(at, &to, c, &bad)) {
            if (bad)
                return NONE;
            continue;
        }
        if (c->n == MOST_WORDS || c->out || c->err)
            return NONE;
        c->words[c->n++] = to;
        if (!take_word(at, &to))
            return NONE;
        if (c->n == 1 && c->n_sets < (int)COUNT_OF(c->sets) && sets_something(c->words[0]))
            c->sets[c->n_sets++] = c->words[--c->n];
    }
    c->words[c->n] = NULL;
    c->copies = c->n == 3 && strcmp(c->words[0], "cp") == 0 && c->words[1][0] != '-' && !c->out && !c->err;
    if (!c->n || (strcmp(c->words[0], "d") != 0 && !c->copies) || strncmp(*at, "||", 2) == 0 ||
        (**at == '|' && c->out))
        return NONE;
    enum next next = !**at ? END : **at == ';' ? THEN : **at == '|' ? PIPE : AND;
    *at += next == END ? 0 : next == AND ? 2 : 1;
    *at += strspn(*at, " ");
    return next == THEN && !**at ? END : next;
}

/* It is calls of the program, the last of them perhaps with a filter behind it. */
static bool only_calls(const char *line)
{
    struct call c;
    enum next next;
    do
        next = take_call(&line, &c);
    while (next != END && next != PIPE && next != NONE);
    return next != NONE;
}

/* ---- running ------------------------------------------------------------------------------------ */

static bool open_as(const char *path, int flags, int as)
{
    int fd = open(path, O_CREAT | flags, 0666);
    return fd >= 0 && dup2(fd, as) >= 0 && close(fd) == 0;
}

static void child(const char *folder, const char *data, struct call *c)
{
    char dashes[] = "--data", *in = base_copy(data), *words[MOST_WORDS + 3] = {c->words[0], dashes, in};
    memcpy(words + 3, c->words + 1, (size_t)(c->n - 1) * sizeof *words);
    for (int i = 0; i < c->n_sets; i++)
        putenv(c->sets[i]);
    bool good = chdir(folder) == 0 && open_as("out", O_WRONLY | O_APPEND, STDOUT_FILENO) &&
                open_as("err", O_WRONLY | O_APPEND, STDERR_FILENO) &&
                (!c->out || open_as(c->out, O_WRONLY | O_TRUNC, STDOUT_FILENO)) &&
                (!c->err || (strcmp(c->err, "out") == 0 ? dup2(STDOUT_FILENO, STDERR_FILENO) >= 0
                                                       : open_as(c->err, O_WRONLY, STDERR_FILENO))) &&
                open_as("/dev/null", O_RDONLY, STDIN_FILENO);
    if (!good)
        _exit(126);
    int status = program_main(c->n + 2, words);
    fflush(NULL);
    _exit(status);
}

/* BYTES written to a file of FOLDER. */
static bool put(const char *folder, const char *name, const char *bytes, size_t n)
{
    char *path = base_format("%s/%s", folder, name);
    FILE *f = fopen(path, "wb");
    bool good = f && fwrite(bytes, 1, n, f) == n;
    good = f && fclose(f) == 0 && good;
    free(path);
    return good;
}

static bool copy(const char *folder, const char *from, const char *to)
{
    char *path = base_format("%s/%s", folder, from), *bytes = NULL;
    size_t n;
    struct base_diag why = {0};
    bool good = base_read_file(path, &bytes, &n, &why) == BASE_OK && put(folder, to, bytes, n);
    free(bytes);
    free(path);
    return good;
}

static int run_call(const char *folder, const char *data, struct call *c)
{
    int status;
    if (c->copies)
        return !copy(folder, c->words[1], c->words[2]);
    fflush(NULL);
    pid_t pid = fork();
    ck_assert_int_ge(pid, 0);
    if (pid == 0)
        child(folder, data, c);
    ck_assert_int_eq(waitpid(pid, &status, 0), pid);
    return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

int straight_run(const char *folder, const char *line, const char *data, const char *shell)
{
#ifdef __SANITIZE_ADDRESS__
    return -1;
#endif
    if (!only_calls(line) || getenv("DATA"))
        return -1;
    share_handbook(data);
    int status = 0;
    enum next next = THEN;
    ck_assert(put(folder, "out", "", 0) && put(folder, "err", "", 0));
    while (next != END) {
        struct call c;
        bool skipped = next == AND && status != 0;
        next = take_call(&line, &c);
        if (next == PIPE)
            c.out = "piped";
        if (!skipped)
            status = run_call(folder, data, &c);
        if (next != PIPE)
            continue;
        char *rest = skipped ? base_format("%s { (exit %d) && : | %s\n} >>out 2>>err", shell, status, line)
                             : base_format("%s { %s\n} >>out 2>>err <piped", shell, line);
        status = system(rest);
        free(rest);
        return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    }
    return status;
}

/* ---- the same either way ------------------------------------------------------------------------ */

static const struct { const char *line; bool straight; } both[] = {
    {"d show cp die_plate.thickness 'press.size' --format csv", true},
    {"d check cp && d show cp press; d shwo cp", true}, /* what stands behind a failure is left out */
    {"d set cp \"strip.width = 1 furlong\"; d eval '2 in' && d eval \"1 in\"' + 1 mm'", true},
    {"d set cp 'cover title=", false},
    {"d check cp && d show cp press; d shwo cp 2>&1 | sed s/shwo/words/ && d eval 2", true},
    {"d shwo cp && d show cp | cat; d eval 3", true}, /* nothing for the filter */
    {"d dump cp >x && d shwo cp 2>/dev/null; d load y x", true},
    {"d dump cp 2>&1 >x", false},
    {"d dump cp || d eval 1", false},
    {"COLUMNS=40 d handbook die_button; COLUMNS=80 USER=ann d handbook die_button", true},
    {"cp cp.diejob two.diejob && d show two press && d shwo two; cp cp.diejob two.diejob; d check two", true},
    {"a=1 d check cp", false},
    {"d eval \"$HOME\"", false},
    {"cp -p cp.diejob two.diejob", false},
};

START_TEST(a_line_without_a_shell_says_the_same)
{
    struct bench b;
    const char *line = both[_i].line;
    ck_assert_int_eq(only_calls(line), both[_i].straight);
    if (!both[_i].straight)
        return;
    bench_open(&b, "cover-plate");
    char *for_shell = base_format("rm -f y.diejob; %s", line);
    struct said here = bench_run(&b, line), there = bench_run(&b, for_shell);
    ck_assert_int_eq(here.status, there.status);
    ck_assert_str_eq(here.out, there.out);
    ck_assert_str_eq(here.err, there.err);
    ck_assert_uint_gt(strlen(here.out) + strlen(here.err), 0);
    said_done(&here);
    said_done(&there);
    free(for_shell);
}
END_TEST

TCase *straight_tests(void)
{
    TCase *t = tcase_create("straight");
    tcase_add_loop_test(t, a_line_without_a_shell_says_the_same, 0, COUNT_OF(both));
    return t;
}
