/* The table of commands, their options, and what all commands share. */

#include "cli/cli.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

static const struct cli_command commands[] = {
    {"new", "JOB [--like NAME]", "begin a job from a template", 1, 1, "like", cli_new},
    {"show", "JOB [NAME...] [--why [--ground]]", "values, or with --why how they come about", 1, -1,
     "format why ground", cli_show},
    {"set", "JOB NAME=FORMULA...", "change values; say what moved and which findings came or went", 2, -1,
     "format", cli_set},
    {"add", "JOB KIND NAME [NAME=FORMULA...]", "add an item, with what is typed of it", 3, -1, "format",
     cli_add},
    {"outline", "JOB ITEM [LINE...]", "the outline of a station: print its lines, or take these instead", 2,
     -1, "format", cli_outline},
    {"check", "JOB", "findings; exit status 1 while a caution or fault is open", 1, 1, "format", cli_check},
    {"review", "JOB",
     "the paper of the review: what is open, waived, remarked, edited since the last issue, typed over", 1, 1,
     "format", cli_review},
    {"plan", "JOB PLATE [--below] [--ground]", "a plate from above or below, to scale", 2, 2, "below ground",
     cli_plan},
    {"section", "JOB [--ram HEIGHT] [--ground]", "the stack in elevation, the ram so far above shut", 1, 1,
     "ram ground", cli_section},
    {"stroke", "JOB", "what enters and touches as the ram comes down, in order", 1, 1, "format", cli_stroke},
    {"order", "JOB", "order list: parts, sizes, how many, masses", 1, 1, "format", cli_order},
    {"holes", "JOB [PLATE] [--datum CORNER] [--ground]", "hole chart of one plate or of all", 1, 2,
     "format datum ground", cli_holes},
    {"sharpening", "JOB", "the sharpening card: what was ground off, what is left", 1, 1, "format",
     cli_sharpening},
    {"eval", "EXPRESSION", "calculator with units and the handbook's functions", 1, -1, "format", cli_eval},
    {"handbook", "[WORD] [--words] [--sources] [--examples]",
     "look a word up, or read it all; --words: what shops call things; --sources: what leans on which; "
     "--examples works the examples through",
     0, 1, "format words sources examples", cli_handbook_look},
    {"parts", "[TABLE] [--job JOB] [--import FILE] [--refresh] [--try]",
     "parts tables, one table's rows, or rows of a job's own", 0, 1, "format job import refresh try",
     cli_parts},
    {"vary", "JOB NAME FROM TO STEP [--show NAME...]",
     "a value over a range: what moves, and where findings begin", 5, -1, "format show", cli_vary},
    {"compare", "JOB OTHER|REV [REV]",
     "two jobs, or revisions of one, side by side: what is typed, worked out, found and ordered differently",
     2, 3, "format", cli_compare},
    {"mend", "JOB [FINDING]",
     "what would clear a finding: for each value the nearest that does, and what it brings", 1, -1, "format",
     cli_mend},
    {"remark", "JOB [ITEM TEXT] [--back [--others]]",
     "a remark on an item, a value or a finding; alone: the remarks", 1, -1, "format back others",
     cli_remark},
    {"waive", "JOB [FINDING REASON] [--back [--others]]",
     "let a finding stand, with the reason; alone: the waivers", 1, -1, "format back others", cli_waive},
    {"issue", "JOB [REV] [--note TEXT]", "freeze the job under a revision letter", 1, 2, "note", cli_issue},
    {"withdraw", "JOB REV REASON",
     "a revision is no longer in force; it stays on record, and its letter is not given again", 3, -1, "",
     cli_withdraw},
    {"undo", "JOB [NUMBER] [--others]", "take your last edit back, or that of a number of the history", 1, 2,
     "format others", cli_undo},
    {"redo", "JOB [NUMBER] [--others]", "make again what you took back last", 1, 2, "format others",
     cli_redo},
    {"history", "JOB [--since REV]", "every change: when, who, what", 1, 1, "format since", cli_history},
    {"dump", "JOB", "the whole job as text", 1, 1, "", cli_dump},
    {"load", "JOB FILE", "a new job from such a text", 2, 2, "", cli_load},
    {"practice", "[NAME [VALUE | VALUE=FORMULA...]] [--hint N] | --exercise [N [ANSWER...]]",
     "find and mend a planted mistake; or work the handbook's examples", 0, -1, "format hint exercise",
     cli_practice},
    {"help", "[WORD]",
     "how a command is written; what an option, a key or a word of the trade means; alone: this", 0, -1, "",
     cli_help_on},
};

/* Options of commands; a value is told in the words of the usage line. */
static const struct cli_option options[] = {
    {"format", "text, csv or json", "how the list is printed"},
    {"why", NULL, "how the values come about: formulas, what they hang on, sources"},
    {"ground", NULL, "when punches and die plate have been sharpened as far as they go"},
    {"datum", "a plate's corner, such as \"right back\"", "where x and y of hole charts begin"},
    {"examples", NULL, "works the handbook's examples through"},
    {"sources", NULL, "every source of the handbook with what leans on it, and how many rest on memory"},
    {"words", NULL, "only the words of the trade: here, and in other shops"},
    {"exercise", NULL, "the worked examples of the handbook, asked one by one"},
    {"hint", "how many hints, 1 to 3", "what to look at"},
    {"below", NULL, "the plate seen from below, turned over"},
    {"ram", "a height above shut, such as 12mm", "where the ram stands"},
    {"like", "the name of a template, or a job", "what the job begins from"},
    {"job", "a job", "whose tables are meant"},
    {"import", "a file of comma-separated values", "rows of the job's own into the table"},
    {"refresh", NULL, "puts the tables of this version in place of those that the job carries"},
    {"try", NULL, "tells what would come of it, and keeps nothing"},
    {"show", "names of values", "what else is told at each point"},
    {"back", NULL, "takes the remark or waiver back"},
    {"others", NULL, "also what somebody else made or said"},
    {"note", "a text", "what is said with the issue"},
    {"since", "the letter of a revision", "only what came after it"},
};

const struct cli_command *cli_command_table(int *count)
{
    *count = (int)COUNT_OF(commands);
    return commands;
}

const struct cli_option *cli_option_table(int *count)
{
    *count = (int)COUNT_OF(options);
    return options;
}

/* Words that commands had before: they answer still, and the new one is told. */
static const struct { const char *old, *now; } renamed[] = {{"release", "issue"}};

const struct cli_command *cli_find_command(const char *word)
{
    for (size_t i = 0; i < COUNT_OF(renamed); i++)
        if (strcmp(renamed[i].old, word) == 0)
            word = renamed[i].now;
    for (size_t i = 0; i < COUNT_OF(commands); i++)
        if (strcmp(commands[i].name, word) == 0)
            return &commands[i];
    return NULL;
}

bool cli_is_command(const char *word) { return cli_find_command(word) != NULL; }

void cli_commands(struct base_text *out)
{
    for (size_t i = 0; i < COUNT_OF(commands); i++)
        base_text_addf(out, "%s\t%s\t%s\n", commands[i].name, commands[i].usage, commands[i].help);
}

void cli_nearest_command(const char *word, struct base_text *out)
{
    const char *names[COUNT_OF(commands)];
    for (size_t i = 0; i < COUNT_OF(commands); i++)
        names[i] = commands[i].name;
    base_nearest(out, word, names, COUNT_OF(commands));
}

/* ---- reasons ------------------------------------------------------------------------ */

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

int cli_no_job(const char *path, const char *name)
{
    struct base_text near = {0};
    cli_nearest_command(name, &near);
    cli_say(stderr, "diewright: There is no job file %s. To begin one: diewright new %s.", path, name);
    if (near.length)
        cli_say(stderr, " Or is the command %s meant?", base_text_get(&near));
    cli_put(stderr, "\n");
    base_text_done(&near);
    return CLI_UNREADABLE;
}

/* ---- what commands share -------------------------------------------------------------- */

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
        *status = cli_no_job(path, name);
    else
        *status = job_open(h, path, readonly, &j, &why) ? cli_complain(&why) : CLI_DONE;
    free(path);
    if (j) {
        job_set_who(j, c->options->who);
        cli_warn(j);
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

/* ---- arguments ------------------------------------------------------------------------- */

static int keep_option(struct cli_call *c, const char *name, const char *value)
{
    if (strcmp(name, "format") == 0 && !report_format_named(value, &c->format))
        return cli_usage(c, "There is no format \"%s\": it is text, csv or json.", value);
    if (strcmp(name, "why") == 0)
        c->why = true;
    if (strcmp(name, "ground") == 0)
        c->ground = true;
    if (strcmp(name, "examples") == 0)
        c->examples = true;
    if (strcmp(name, "sources") == 0)
        c->sources = true;
    if (strcmp(name, "exercise") == 0)
        c->exercise = true;
    if (strcmp(name, "hint") == 0)
        c->hint = value;
    if (strcmp(name, "words") == 0)
        c->only_words = true;
    if (strcmp(name, "below") == 0)
        c->below = true;
    if (strcmp(name, "back") == 0)
        c->back = true;
    if (strcmp(name, "others") == 0)
        c->others = true;
    if (strcmp(name, "note") == 0)
        c->note = value;
    if (strcmp(name, "datum") == 0)
        c->datum = value;
    if (strcmp(name, "since") == 0)
        c->since = value;
    if (strcmp(name, "ram") == 0)
        c->ram = value;
    if (strcmp(name, "like") == 0)
        c->like = value;
    if (strcmp(name, "job") == 0)
        c->job = value;
    if (strcmp(name, "import") == 0)
        c->import = value;
    if (strcmp(name, "refresh") == 0)
        c->refresh = true;
    if (strcmp(name, "try") == 0)
        c->try = true;
    if (strcmp(name, "show") == 0)
        c->show = value;
    return CLI_DONE;
}

/* ARGV[*I] is "--name", "--name=value" or "--name value". */
static int read_option(struct cli_call *c, int argc, char **argv, int *i)
{
    const char *text = argv[*i] + 2, *equals = strchr(text, '=');
    size_t n = equals ? (size_t)(equals - text) : strlen(text);
    for (size_t k = 0; k < COUNT_OF(options); k++) {
        if (strlen(options[k].name) != n || strncmp(options[k].name, text, n) != 0 ||
            !cli_takes(c->command, options[k].name))
            continue;
        if (!options[k].value)
            return equals ? cli_usage(c, "The option --%s takes no value.", options[k].name)
                          : keep_option(c, options[k].name, NULL);
        if (!equals && *i + 1 == argc)
            return cli_usage(c, "The option --%s needs a value behind it: %s.", options[k].name,
                             options[k].value);
        return keep_option(c, options[k].name, equals ? equals + 1 : argv[++*i]);
    }
    return cli_usage(c, "The command %s has no option %s.", c->command->name, argv[*i]);
}

int cli_run(const struct cli_options *o, int argc, char **argv)
{
    struct cli_call c = {.options = o, .command = cli_find_command(argv[0])};
    c.words = base_alloc((size_t)argc * sizeof *c.words);
    int status = CLI_DONE;
    bool only_words = false;
    if (strcmp(c.command->name, argv[0]) != 0)
        cli_say(stderr, "diewright: %s is called %s now.\n", argv[0], c.command->name);
    for (int i = 1; i < argc && status == CLI_DONE; i++) {
        if (!only_words && strcmp(argv[i], "--") == 0)
            only_words = true;
        /* which may be asked about options */
        else if (!only_words && strncmp(argv[i], "--", 2) == 0 && c.command->run != cli_help_on)
            status = read_option(&c, argc, argv, &i);
        else
            c.words[c.n_words++] = argv[i];
    }
    if (status == CLI_DONE && c.n_words < c.command->least)
        status = cli_usage(&c, "The command %s needs more than stands here.", c.command->name);
    else if (status == CLI_DONE && c.command->most >= 0 && c.n_words > c.command->most)
        status = cli_usage(&c, "The command %s has no use for \"%s\".", c.command->name,
                           c.words[c.command->most]);
    else if (status == CLI_DONE)
        status = c.command->run(&c);
    free(c.words);
    if (fflush(stdout) != 0 || ferror(stdout)) {
        cli_put(stderr,
                "diewright: The output could not be written whole: the place it goes to is full or gone.");
        cli_put(stderr, c.saved ? " What was changed is saved; only the printing failed.\n" : "\n");
        return c.saved ? CLI_NOT_PRINTED : CLI_NOT_SAVED;
    }
    return status;
}
