/* The one door to standard output and standard error: what a job, a table, a file name or a stranger's
 * handbook brings along may not steer the terminal, nor hide in a file. tests/door.sh finds what prints
 * beside it. */

#include "cli/cli.h"

#include <stdlib.h>
#include <string.h>

static void print(FILE *where, struct base_text *out)
{
    fwrite(base_text_get(out), 1, out->length, where);
    base_text_done(out);
}

void cli_put(FILE *where, const char *text)
{
    struct base_text out = {0};
    base_text_add_visible(&out, text, strlen(text), true);
    print(where, &out);
}

void cli_put_cells(FILE *where, const char *text)
{
    struct base_text out = {0};
    for (size_t n; *text; text += n + (text[n] == '\t')) {
        n = strcspn(text, "\t");
        base_text_add_visible(&out, text, n, true);
        base_text_add(&out, text[n] ? "\t" : "");
    }
    print(where, &out);
}

void cli_say(FILE *where, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    cli_say_args(where, fmt, args);
    va_end(args);
}

void cli_say_args(FILE *where, const char *fmt, va_list args)
{
    char *text = base_format_args(fmt, args);
    cli_put(where, text);
    free(text);
}
