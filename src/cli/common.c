/* What all commands share: reasons, jobs opened and closed, lines wrapped, papers printed. */

#include "cli/cli.h"

#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static int status_of(enum base_err code)
{
    switch (code) {
    case BASE_OK:
        return CLI_DONE;
    case BASE_REFUSED:
    case BASE_UNKNOWN:
        return CLI_REFUSED;
    case BASE_UNREADABLE:
        return CLI_UNREADABLE;
    case BASE_NOT_SAVED:
    case BASE_CONFLICT:
        return CLI_NOT_SAVED;
    }
    return CLI_REFUSED;
}

static void mark_under(const struct base_diag *why)
{
    size_t n = strlen(why->source), start = why->start > 0 ? (size_t)why->start : 0;
    start = start < n ? start : n;
    size_t length = why->length > 0 && (size_t)why->length <= n - start ? (size_t)why->length
                    : n - start                                         ? 1
                                                                        : 0;
    int before = base_columns(why->source, start), marked = base_columns(why->source + start, length);
    cli_say(stderr, "  %s\n  %*s", why->source, before, "");
    for (int i = 0; i < (marked > 0 ? marked : 1) && i < 80; i++)
        cli_put(stderr, "^");
    cli_put(stderr, "\n");
}

int cli_complain(const struct base_diag *why)
{
    if (why->file[0] && why->line)
        cli_say(stderr, "diewright: %s:%d: %s\n", why->file, why->line, why->message);
    else
        cli_say(stderr, "diewright: %s\n", why->message);
    if (why->source[0])
        mark_under(why);
    return status_of(why->code);
}

bool cli_takes(const struct cli_command *command, const char *option)
{
    size_t n = strlen(option);
    for (const char *at = command->options; (at = strstr(at, option)); at += n)
        if ((at == command->options || at[-1] == ' ') && (at[n] == ' ' || at[n] == '\0'))
            return true;
    return false;
}

int cli_usage(const struct cli_call *c, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    cli_put(stderr, "diewright: ");
    cli_say_args(stderr, fmt, args);
    va_end(args);
    cli_say(stderr, "\nUsage: diewright %s %s\n", c->command->name, c->command->usage);
    if (cli_takes(c->command, "format") && !strstr(c->command->usage, "--format"))
        cli_put(stderr, "       --format text|csv|json goes with it.\n");
    return CLI_REFUSED;
}

/* Words that commands had before: they answer still, and the new one is told. */
static const struct { const char *old, *now; } renamed[] = {{"release", "issue"}};

const struct cli_command *cli_find(const struct cli_commands *all, const char *word)
{
    for (size_t i = 0; i < COUNT_OF(renamed); i++)
        if (strcmp(renamed[i].old, word) == 0)
            word = renamed[i].now;
    for (int i = 0; i < all->n; i++)
        if (strcmp(all->at[i].name, word) == 0)
            return &all->at[i];
    return NULL;
}

void cli_nearest(const struct cli_commands *all, const char *word, struct base_text *out)
{
    const char **names = base_alloc((size_t)(all->n + 1) * sizeof *names);
    for (int i = 0; i < all->n; i++)
        names[i] = all->at[i].name;
    base_nearest(out, word, names, (size_t)all->n);
    free(names);
}

int cli_no_file(const struct cli_commands *all, const char *path, const char *name)
{
    struct base_text near = {0};
    cli_nearest(all, name, &near);
    cli_say(stderr, "diewright: There is no job file %s. To begin one: diewright new %s.", path, name);
    if (near.length)
        cli_say(stderr, " Or is the command %s meant?", base_text_get(&near));
    cli_put(stderr, "\n");
    base_text_done(&near);
    return CLI_UNREADABLE;
}

struct handbook *cli_handbook(struct cli_call *c, int *status)
{
    struct handbook *h = NULL;
    struct base_diag why = {0};
    *status = job_open_handbook(c->options->data, &h, &why) ? cli_complain(&why) : CLI_DONE;
    return h;
}

void cli_warn(struct job *j)
{
    const char *warning = job_warning(j);
    if (*warning)
        cli_say(stderr, "diewright: %s\n", warning);
}

struct job *cli_open(struct cli_call *c, struct handbook *h, const char *name, bool readonly, int *status)
{
    struct job *j = NULL;
    struct base_diag why = {0};
    char *path = job_path(name);
    if (access(path, F_OK) != 0 && errno == ENOENT)
        *status = cli_no_file(c->all, path, name);
    else
        *status = job_open(h, path, readonly, &j, &why) ? cli_complain(&why) : CLI_DONE;
    free(path);
    if (j) {
        struct base_text told = {0};
        job_set_who(j, c->options->who);
        cli_warn(j);
        if (!readonly && (job_take_in(j, &told), told.length))
            cli_say(stderr, "diewright: %s\n", base_text_get(&told));
        base_text_done(&told);
    }
    return j;
}

void cli_close(struct cli_call *c, struct job *j)
{
    if (!j)
        return;
    cli_warn(j);
    c->saved = c->saved || job_edited(j);
    job_close(j);
}

int cli_with_job(struct cli_call *c, bool readonly, cli_act *act)
{
    int status;
    struct handbook *h = cli_handbook(c, &status);
    struct job *j = h ? cli_open(c, h, c->words[0], readonly, &status) : NULL;
    if (j)
        status = act(c, j);
    cli_close(c, j);
    handbook_free(h);
    return status;
}

int cli_plate(struct job *j, const char *name)
{
    struct dieset *d = job_dieset(j);
    int item = dieset_find_item(d, name), kind = handbook_find_kind(dieset_handbook(d), DIESET_PLATE);
    if (item >= 0 && dieset_item_kind(d, item) == kind)
        return item;
    cli_say(stderr, "diewright: The job has no plate \"%s\"; its plates:", name);
    for (int i = 0; i < dieset_item_count(d); i++)
        if (dieset_item_kind(d, i) == kind)
            cli_say(stderr, " %s", dieset_item_name(d, i));
    cli_put(stderr, ".\n");
    return -1;
}

/* Bytes of TEXT for a line of at most ROOM columns. */
static size_t line_bytes(const char *text, int room)
{
    size_t n = 0, blank = 0, gap = 0, step;
    for (int columns = 0; text[n] && text[n] != '\n'; n += step) {
        step = base_step(text + n, strnlen(text + n, 4), &columns);
        if (columns > room)
            return gap ? gap : blank ? blank : n ? n : step;
        if (text[n] == ' ') {
            blank = n;
            gap = text[n + 1] == ' ' ? n : gap;
        }
    }
    return n;
}

void cli_wrap(struct base_text *out, const char *first, const char *text, int indent, int width)
{
    int room = width - (int)strlen(first);
    base_text_add(out, first);
    do {
        size_t n = line_bytes(text, room > 20 ? room : 20);
        base_text_add_n(out, text, n);
        base_text_add(out, "\n");
        text += n + strspn(text + n, " \n");
        if (*text)
            base_text_addf(out, "%*s", indent, "");
        room = width - indent;
    } while (*text);
}

void cli_out(struct base_text *t)
{
    cli_put(stdout, base_text_get(t));
    base_text_done(t);
}

void cli_print(struct report_paper *p, enum report_format f)
{
    struct base_text out = {0};
    report_write(p, f, &out);
    report_done(p);
    cli_out(&out);
}
