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

/* What stands between two calls. */
enum next { END, AND, THEN, NONE };

/* A call's words, in TEXT one behind the other; what stands behind it, NONE: the line wants a shell. */
struct call { char text[4000], *words[MOST_WORDS + 1]; int n; };

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

static enum next take_call(const char **at, struct call *c)
{
    char *to = c->text;
    c->n = 0;
    if (strlen(*at) >= sizeof c->text)
        return NONE;
    for (;;) {
        *at += strspn(*at, " ");
        if (!**at || **at == ';' || strncmp(*at, "&&", 2) == 0)
            break;
        if (c->n == MOST_WORDS)
            return NONE;
        c->words[c->n++] = to;
        if (!take_word(at, &to))
            return NONE;
    }
    c->words[c->n] = NULL;
    if (!c->n || strcmp(c->words[0], "d") != 0)
        return NONE;
    enum next next = !**at ? END : **at == ';' ? THEN : AND;
    *at += next == END ? 0 : next == THEN ? 1 : 2;
    *at += strspn(*at, " ");
    return next == THEN && !**at ? END : next;
}

static bool only_calls(const char *line)
{
    struct call c;
    enum next next;
    do
        next = take_call(&line, &c);
    while (next != END && next != NONE);
    return next == END;
}

/* ---- running ------------------------------------------------------------------------------------ */

static void child(const char *folder, const char *data, struct call *c, bool first)
{
    static const struct { const char *name; int as; } files[] = {
        {"out", STDOUT_FILENO}, {"err", STDERR_FILENO}};
    char dashes[] = "--data", *in = base_copy(data), *words[MOST_WORDS + 3] = {c->words[0], dashes, in};
    memcpy(words + 3, c->words + 1, (size_t)(c->n - 1) * sizeof *words);
    bool good = chdir(folder) == 0;
    for (int i = 0; i < 2 && good; i++) {
        int fd = open(files[i].name, O_WRONLY | O_CREAT | O_APPEND | (first ? O_TRUNC : 0), 0666);
        good = fd >= 0 && dup2(fd, files[i].as) >= 0 && close(fd) == 0;
    }
    int nothing = open("/dev/null", O_RDONLY);
    if (!good || dup2(nothing, STDIN_FILENO) < 0)
        _exit(126);
    close(nothing);
    int status = program_main(c->n + 2, words);
    fflush(NULL);
    _exit(status);
}

int straight_run(const char *folder, const char *line, const char *data)
{
#ifdef __SANITIZE_ADDRESS__
    return -1;
#endif
    if (!only_calls(line) || getenv("DATA"))
        return -1;
    share_handbook(data);
    int status = 0;
    enum next next = THEN;
    for (bool first = true; next != END; first = false) {
        struct call c;
        bool skipped = next == AND && status != 0;
        next = take_call(&line, &c);
        if (skipped)
            continue;
        fflush(NULL);
        pid_t pid = fork();
        ck_assert_int_ge(pid, 0);
        if (pid == 0)
            child(folder, data, &c, first);
        ck_assert_int_eq(waitpid(pid, &status, 0), pid);
        status = WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
    }
    return status;
}

/* ---- the same either way ------------------------------------------------------------------------ */

static const struct { const char *line; bool straight; } both[] = {
    {"d show cp die_plate.thickness 'press.size' --format csv", true},
    {"d check cp && d show cp press; d shwo cp", true}, /* what stands behind a failure is left out */
    {"d set cp \"strip.width = 1 furlong\"; d eval '2 in' && d eval \"1 in\"' + 1 mm'", true},
    {"d set cp 'cover title=", false},
    {"d show cp | cat", false},
    {"d dump cp >x", false},
    {"USER=ann d check cp", false},
    {"d eval \"$HOME\"", false},
    {"cp cp.diejob two.diejob", false},
};

START_TEST(a_line_without_a_shell_says_the_same)
{
    struct bench b;
    const char *line = both[_i].line;
    ck_assert_int_eq(only_calls(line), both[_i].straight);
    if (!both[_i].straight)
        return;
    bench_open(&b, "cover-plate");
    char *for_shell = base_format("true; %s", line);
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
