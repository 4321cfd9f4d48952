#include "bench.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/wait.h>

/* ---- running --------------------------------------------------------------------- */

static char *absolute(const char *path)
{
    char *real = realpath(path, NULL);
    ck_assert_msg(real != NULL, "%s is not there: build it first", path);
    return real;
}

static char *program(void)
{
    const char *named = getenv("DIEWRIGHT"), *b = getenv("B");
    char *built = base_format("%s/diewright-test", b ? b : "build"), *real = absolute(named ? named : built);
    free(built);
    return real;
}

static char *data(void)
{
    const char *named = getenv("DATA");
    return absolute(named ? named : "data");
}

struct said bench_run(const struct bench *b, const char *line)
{
    char *p = program(), *d = data();
    char *shell = base_format("cd '%s' && d() { '%s' --data '%s' \"$@\"; } && P='%s' DATA='%s' &&", b->folder,
                              p, d, p, d),
         *command = base_format("%s { %s\n} >out 2>err </dev/null", shell, line);
    int code = straight_run(b->folder, line, d, shell);
    code = code >= 0 ? code << 8 : system(command);
    char *out = base_format("%s/out", b->folder), *err = base_format("%s/err", b->folder);
    struct said s = {WIFEXITED(code) ? WEXITSTATUS(code) : -1, read_text(out), read_text(err)};
    free(p);
    free(d);
    free(shell);
    free(command);
    free(out);
    free(err);
    return s;
}

void said_done(struct said *s)
{
    free(s->out);
    free(s->err);
}

struct said bench_want(const struct bench *b, const char *line, int status)
{
    struct said s = bench_run(b, line);
    ck_assert_msg(s.status == status, "%s\nexit status %d, not %d; it said:\n%.2000s%.2000s", line, s.status,
                  status, s.out, s.err);
    return s;
}

void bench_do(const struct bench *b, const char *line, int status)
{
    struct said s = bench_want(b, line, status);
    said_done(&s);
}

/* A job's file as it was first begun; later ones are that file copied. */
struct begun { const char *job; char *bytes; size_t length; };

static struct begun *begun_of(const char *job)
{
    static struct begun all[8];
    size_t i = 0;
    while (i < COUNT_OF(all) && all[i].job && strcmp(all[i].job, job) != 0)
        i++;
    ck_assert_uint_lt(i, COUNT_OF(all));
    all[i].job = job;
    return &all[i];
}

static void begin(const struct bench *b, const char *job)
{
    struct begun *known = begun_of(job);
    char *path = base_format("%s/cp.diejob", b->folder);
    if (known->bytes) {
        FILE *f = fopen(path, "wb");
        ck_assert(f && fwrite(known->bytes, 1, known->length, f) == known->length && fclose(f) == 0);
    } else {
        char *line = base_format("d new cp --like %s", job);
        bench_do(b, line, 0);
        free(line);
        ck_ok(base_read_file(path, &known->bytes, &known->length, why));
    }
    free(path);
}

void bench_open(struct bench *b, const char *job)
{
    char *real = absolute(fresh_folder());
    snprintf(b->folder, sizeof b->folder, "%s", real);
    free(real);
    setenv("XDG_STATE_HOME", b->folder, 1);
    setenv("XDG_CONFIG_HOME", b->folder, 1);
    if (job)
        begin(b, job);
}

/* ---- CSV --------------------------------------------------------------------------- */

char *rows_cell(const char **at, bool *more)
{
    struct base_text cell = {0};
    const char *p = *at;
    if (*p == '"') {
        for (p++; *p && (*p != '"' || p[1] == '"'); p++) {
            p += *p == '"';
            base_text_add_n(&cell, p, 1);
        }
        p += *p == '"';
    } else {
        size_t n = strcspn(p, ",\r\n");
        base_text_add_n(&cell, p, n);
        p += n;
    }
    *more = *p == ',';
    *at = p + *more;
    char *text = base_copy(base_text_get(&cell));
    base_text_done(&cell);
    return text;
}

void rows_next(const char **at) { *at += strspn(*at, "\r\n"); }

/* Cells of the row at *AT, which then stands on the next row. */
static int row(const char **at, char *cells[], int room)
{
    int n = 0;
    bool more = true;
    while (more && n < room)
        cells[n++] = rows_cell(at, &more);
    rows_next(at);
    return n;
}

enum { MOST = 40 };

char *rows_find(const char *csv, const char *first, const char *second, int column)
{
    const char *at = csv;
    char *cells[MOST], *found = NULL;
    while (*at && !found) {
        int n = row(&at, cells, MOST);
        if (n > column && strcmp(cells[0], first) == 0 && (!second || strcmp(cells[1], second) == 0))
            found = base_copy(cells[column]);
        for (int i = 0; i < n; i++)
            free(cells[i]);
    }
    return found;
}

int rows_columns(const char *csv)
{
    char *cells[MOST];
    int n = row(&csv, cells, MOST);
    for (int i = 0; i < n; i++)
        free(cells[i]);
    return n;
}

int rows_count(const char *csv)
{
    int rows = -1;
    char *cells[MOST];
    while (*csv) {
        int n = row(&csv, cells, MOST);
        for (int i = 0; i < n; i++)
            free(cells[i]);
        rows++;
    }
    return rows;
}

/* ---- JSON (RFC 8259) ------------------------------------------------------------------ */

static const char *value(const char *p);

static const char *blank(const char *p) { return p + strspn(p, " \t\r\n"); }

/* Behind a string, NULL when it is none. */
static const char *string(const char *p)
{
    if (*p++ != '"')
        return NULL;
    for (; *p && *p != '"'; p++) {
        if ((unsigned char)*p < ' ')
            return NULL;
        if (*p == '\\' && !strchr("\"\\/bfnrtu", *++p))
            return NULL;
    }
    return *p ? p + 1 : NULL;
}

static const char *number(const char *p)
{
    p += *p == '-';
    size_t whole = strspn(p, "0123456789");
    if (whole == 0 || (whole > 1 && *p == '0'))
        return NULL;
    p += whole;
    if (*p == '.') {
        size_t part = strspn(++p, "0123456789");
        if (part == 0)
            return NULL;
        p += part;
    }
    if (*p == 'e' || *p == 'E') {
        p += 1 + (p[1] == '+' || p[1] == '-');
        if (!isdigit((unsigned char)*p))
            return NULL;
        p += strspn(p, "0123456789");
    }
    return p;
}

static const char *list(const char *p, char end, bool named)
{
    p = blank(p + 1);
    for (bool any = false; p && *p != end; any = true) {
        if (any && *p++ != ',')
            return NULL;
        p = blank(p);
        if (named) {
            p = string(p);
            if (!p || *(p = blank(p)) != ':')
                return NULL;
            p = blank(p + 1);
        }
        p = value(p);
        if (p)
            p = blank(p);
    }
    return p ? p + 1 : NULL;
}

static const char *value(const char *p)
{
    static const char *const words[] = {"true", "false", "null"};
    if (*p == '[' || *p == '{')
        return list(p, *p == '[' ? ']' : '}', *p == '{');
    if (*p == '"')
        return string(p);
    for (size_t i = 0; i < COUNT_OF(words); i++)
        if (strncmp(p, words[i], strlen(words[i])) == 0)
            return p + strlen(words[i]);
    return number(p);
}

bool json_valid(const char *text)
{
    const char *end = value(blank(text));
    return end && *blank(end) == '\0';
}
