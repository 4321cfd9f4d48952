/* What went wrong, as one plain sentence with its place. */

#include "diewright/base.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum base_err base_fail(struct base_diag *why, enum base_err code, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    base_fail_args(why, code, fmt, args);
    va_end(args);
    return code;
}

enum base_err base_fail_args(struct base_diag *why, enum base_err code, const char *fmt, va_list args)
{
    if (!why)
        return code;
    *why = (struct base_diag){.code = code};
    int n = vsnprintf(why->message, sizeof why->message, fmt, args);
    if (n >= (int)sizeof why->message) /* cut, between two characters, and that is seen */
        memcpy(why->message + base_char_fit(why->message, sizeof why->message - 5), " ...", 5);
    return code;
}

enum base_err base_fail_given_up(struct base_diag *why)
{
    return base_fail(why, BASE_REFUSED, "Given up before it was worked out: all stands as it stood before.");
}

void base_diag_mark(struct base_diag *why, const char *source, int start, int length)
{
    if (!why)
        return;
    size_t n = base_char_fit(source, sizeof why->source - 1);
    memcpy(why->source, source, n);
    why->source[n] = '\0';
    why->start = start;
    why->length = length;
}

void base_diag_place(struct base_diag *why, const char *file, int line)
{
    if (!why || why->file[0])
        return;
    snprintf(why->file, sizeof why->file, "%s", file);
    why->line = line;
}

enum base_err base_read_file(const char *path, char **out, size_t *length, struct base_diag *why)
{
    *out = NULL;
    FILE *f = fopen(path, "rb");
    if (!f)
        return base_fail(why, BASE_UNREADABLE, "%s cannot be read: %s.", path, strerror(errno));
    struct base_text t = {0};
    char chunk[8192];
    size_t n;
    while ((n = fread(chunk, 1, sizeof chunk, f)) > 0)
        base_text_add_n(&t, chunk, n);
    bool bad = ferror(f) != 0;
    int cause = errno;
    fclose(f);
    if (bad) {
        base_text_done(&t);
        return base_fail(why, BASE_UNREADABLE, "%s cannot be read: %s.", path, strerror(cause));
    }
    if (length)
        *length = t.length;
    *out = base_text_take(&t);
    return BASE_OK;
}
