/* What every room's test program shares. */

#include "common.h"

#include <dirent.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

bool test_marks;

__attribute__((constructor)) static void marks(void)
{
    const char *forks = getenv("CK_FORK");
    test_marks = !forks || strcmp(forks, "no") != 0;
}

/* How long a test may take says nothing about it: the bounds end what hangs, on a machine however busy. Set
   before any case is made. */
__attribute__((constructor)) static void bounds_on_time(void)
{
    setenv("CK_DEFAULT_TIMEOUT", "120", 0);
    setenv("CK_TIMEOUT_MULTIPLIER", "20", 0);
}

int run_suite(Suite *suite)
{
    SRunner *runner = srunner_create(suite);
    srunner_run_all(runner, CK_ENV);
    int failed = srunner_ntests_failed(runner);
    srunner_free(runner);
    return failed == 0 ? EXIT_SUCCESS : EXIT_FAILURE;
}

char *read_text(const char *path)
{
    char *text = NULL;
    struct base_diag why;
    ck_assert_msg(base_read_file(path, &text, NULL, &why) == BASE_OK, "%s", why.message);
    return text;
}

const char *fresh_folder(void)
{
    static char path[256];
    const char *b = getenv("B"), *run = getenv("DIEWRIGHT_TMP"); /* of one run of tests/run.sh */
    char top[200];
    snprintf(top, sizeof top, "%s", b ? b : "build");
    mkdir(top, 0777);
    snprintf(path, sizeof path, "%s/tmp", top);
    mkdir(path, 0777);
    snprintf(path, sizeof path, "%s%s/XXXXXX", run ? run : top, run ? "" : "/tmp");
    ck_assert_ptr_nonnull(mkdtemp(path));
    return path;
}

const char *output_of(const char *command, int *status)
{
    static char out[65536];
    FILE *p = popen(command, "r");
    ck_assert_ptr_nonnull(p);
    size_t n = fread(out, 1, sizeof out - 1, p);
    out[n] = '\0';
    int code = pclose(p);
    if (status)
        *status = WIFEXITED(code) ? WEXITSTATUS(code) : -1;
    return out;
}

static int cautions_of(const char *file, struct shipped_caution *out, int room)
{
    char *path = base_format("data/handbook/%s", file), *text = read_text(path), *rest = NULL, kind[40] = "";
    int n = 0;
    for (char *line = strtok_r(text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        if (*line != ' ')
            kind[0] = '\0';
        sscanf(line, "kind %39s", kind);
        const char *words = strncmp(line, "caution ", 8) == 0               ? line + 8
                            : *kind && strncmp(line, "  caution ", 10) == 0 ? line + 10
                                                                            : NULL;
        if (!words)
            continue;
        ck_assert_int_lt(n, room);
        snprintf(out[n].kind, sizeof out[n].kind, "%s", kind);
        ck_assert_uint_lt(strlen(words), sizeof out[n].text);
        snprintf(out[n++].text, sizeof out->text, "%s", words);
    }
    free(text);
    free(path);
    return n;
}

int shipped_cautions(struct shipped_caution *out, int room)
{
    struct dirent **files;
    int n = 0, count = scandir("data/handbook", &files, NULL, alphasort);
    ck_assert_int_gt(count, 0);
    for (int i = 0; i < count; i++) {
        if (files[i]->d_name[0] != '.')
            n += cautions_of(files[i]->d_name, out + n, room - n);
        free(files[i]);
    }
    free(files);
    return n;
}

char *on_one_line(const char *text)
{
    struct base_text out = {0};
    while (*(text += strspn(text, " \n\r"))) {
        size_t n = strcspn(text, " \n\r");
        base_text_addf(&out, "%s%.*s", out.length ? " " : "", (int)n, text);
        text += n;
    }
    return base_text_take(&out);
}

int times_in(const char *text, const char *words)
{
    int n = 0;
    for (; (text = strstr(text, words)); text++)
        n++;
    return n;
}

bool has_hidden(const char *text, size_t n)
{
    struct base_text seen = {0};
    base_text_add_visible(&seen, text, n, false);
    bool hidden = seen.length != n || memcmp(base_text_get(&seen), text, n) != 0;
    base_text_done(&seen);
    return hidden;
}
