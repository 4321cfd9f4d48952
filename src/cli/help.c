/* help: how a command is written, and what an option, a key of the screens or a word of the handbook means */

#include "cli/cli.h"

#include <stdlib.h>
#include <string.h>

/* Options that any call may carry. */
static const struct cli_option common[] = {
    {"format", "text|csv|json", "how data is printed", 0},
    {"data", "DIR", "the folder with handbook and parts", 0},
    {"shop", "FILE", "the settings of the shop, instead of those of the home folder", 0},
    {"ascii", NULL, "no box characters", 0},
    {"color=never", NULL, "no colour", 0},
    {"look", NULL, "with a job alone: its screens, for looking only", 0},
    {"mouse", NULL, "with a job alone: its screens, with clicks and the wheel", 0},
    {"keys", NULL, "the keys of the screens", 0},
    {"help", NULL, "what you read now; with a command: how it is written", 0},
    {"version", NULL, "which version this is", 0},
};

enum { OPTION_AT = 26, WIDTH = 80 };

static void put_option(struct base_text *out, const struct cli_option *o, bool described)
{
    char *left = base_format("  --%s%s%s", o->name, o->value && !described ? " " : "",
                             o->value && !described ? o->value : "");
    char *first = base_format("%-*s ", OPTION_AT, left),
         *help = base_format("%s%s%s", o->help, o->value && described ? ": " : "",
                             o->value && described ? o->value : "");
    cli_wrap(out, first, help, OPTION_AT + 1, WIDTH);
    free(left);
    free(first);
    free(help);
}

void cli_help_all(const struct cli_commands *all, struct base_text *out)
{
    const struct cli_command *commands = all->at;
    base_text_add(out,
                  "diewright - a workbench for press-tool die sets\n\n"
                  "  diewright JOB [--look] [--mouse]       the screens of a job (--look: looking only)\n");
    for (int i = 0; i < all->n; i++) {
        char *left = base_format("diewright %s %s", commands[i].name, commands[i].usage);
        base_text_addf(out, strlen(left) <= 38 ? "  %-38s %s\n" : "  %s\n%41s%s\n", left,
                       strlen(left) <= 38 ? commands[i].help : "", commands[i].help);
        free(left);
    }
    base_text_add(out, "\n");
    for (size_t i = 0; i < COUNT_OF(common); i++)
        put_option(out, &common[i], false);
    base_text_add(out,
                  "\nTo begin: diewright new try --like cover-plate; diewright try; q leaves, ? helps. To "
                  "learn: diewright practice\n"
                  "A job is one file, NAME.diejob. Exit status: 0 done; 1 cautions or faults open (check);\n"
                  "2 refused input; 3 unreadable file; 4 not saved. Manual: man diewright\n");
}

/* ---- one word ---- */

static bool put_command(const struct cli_commands *all, struct base_text *out, const char *word)
{
    const struct cli_command *c = cli_find(all, word);
    int n;
    const struct cli_option *options = cli_option_table(&n);
    if (!c)
        return false;
    base_text_addf(out, "diewright %s%s%s\n", c->name, *c->usage ? " " : "", c->usage);
    cli_wrap(out, "  ", c->help, 2, WIDTH);
    for (int i = 0; i < n; i++)
        if (cli_takes(c, options[i].name))
            put_option(out, &options[i], true);
    return true;
}

/* "  goes with: show, plan" */
static void put_takers(const struct cli_commands *all, struct base_text *out, const char *option)
{
    int named = 0;
    struct base_text names = {0};
    for (int i = 0; i < all->n; i++)
        if (cli_takes(&all->at[i], option))
            base_text_addf(&names, "%s%s", named++ ? ", " : "", all->at[i].name);
    cli_wrap(out, "  goes with: ", base_text_get(&names), 4, WIDTH);
    base_text_done(&names);
}

/* With or without its dashes; "color" is the one that is written "--color=never". */
static bool is_option(const struct cli_option *o, const char *word)
{
    size_t dashes = strspn(word, "-"), n = strcspn(word + dashes, "=");
    return n > 0 && strcspn(o->name, "=") == n && strncmp(o->name, word + dashes, n) == 0;
}

static void put_options(const struct cli_commands *all, struct base_text *out, const char *word)
{
    int n;
    const struct cli_option *options = cli_option_table(&n);
    for (int i = 0; i < n; i++)
        if (is_option(&options[i], word)) {
            put_option(out, &options[i], true);
            put_takers(all, out, options[i].name);
            return;
        }
    for (size_t i = 0; i < COUNT_OF(common); i++)
        if (is_option(&common[i], word))
            put_option(out, &common[i], false);
}

/* A line of the screens' keys and commands: "keys TAB where TAB name TAB what it does". */
struct screen_word { char *keys, *where, *name, *help; };

/* Parts LINE in place; false: there is none. */
static bool part(char *line, struct screen_word *out)
{
    char *rest = NULL;
    out->keys = line ? strtok_r(line, "\t", &rest) : NULL;
    out->where = out->keys ? strtok_r(NULL, "\t", &rest) : NULL;
    out->name = out->where ? strtok_r(NULL, "\t", &rest) : NULL;
    out->help = out->name ? strtok_r(NULL, "\t", &rest) : NULL;
    return out->help != NULL;
}

static bool is_key(const char *keys, const char *word)
{
    size_t n = strlen(word);
    for (const char *at = keys; *at; at += strcspn(at, " "), at += strspn(at, " "))
        if (strncmp(at, word, n) == 0 && (at[n] == ' ' || !at[n]))
            return true;
    return false;
}

typedef void screen_fn(const struct screen_word *s, const char *word, void *arg);

static void each_screen_word(const struct cli_call *c, const char *word, screen_fn *visit, void *arg)
{
    char *all = base_copy(c->options->screens ? c->options->screens : ""), *rest = NULL;
    for (char *line = strtok_r(all, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest)) {
        struct screen_word s;
        if (part(line, &s))
            visit(&s, word, arg);
    }
    free(all);
}

struct put { struct base_text *out; int n; };

static void put_screen_word(const struct screen_word *s, const char *word, void *arg)
{
    struct put *p = arg;
    bool command = s->keys[0] == ':' && s->keys[1];
    if (strcmp(s->name, word + (*word == ':' && word[1])) != 0 && (command || !is_key(s->keys, word)))
        return;
    if (p->n++ == 0)
        base_text_addf(p->out, "%sOn the screens:\n", p->out->length ? "\n" : "");
    char *first = command ? base_format("  %s  ", s->keys) : base_format("  %-12s :%s  ", s->keys, s->name);
    char *text = command ? base_copy(s->help) : base_format("%s (%s)", s->help, s->where);
    cli_wrap(p->out, first, text, 4, WIDTH);
    free(first);
    free(text);
}

/* ---- nothing of that name ---- */

struct names { BASE_VEC(char *) at; };

static void add_name(struct names *n, const char *name)
{
    base_vec_push(&n->at, base_copy(name));
}

static void add_screen_name(const struct screen_word *s, const char *word, void *arg)
{
    (void)word;
    add_name(arg, s->name);
}

static int unknown(struct cli_call *c, const struct handbook *h, const char *word)
{
    int n;
    struct names all = {0};
    struct base_text near = {0};
    for (int i = 0; i < c->all->n; i++)
        add_name(&all, c->all->at[i].name);
    const struct cli_option *options = cli_option_table(&n);
    for (int i = 0; i < n; i++)
        add_name(&all, options[i].name);
    each_screen_word(c, word, add_screen_name, &all);
    for (int i = 0; i < handbook_word_count(h); i++)
        add_name(&all, handbook_word(h, i)->name);
    for (int i = 0; i < handbook_function_count(h); i++)
        add_name(&all, handbook_function(h, i)->f.name);
    for (int i = 0; i < handbook_factor_count(h); i++)
        add_name(&all, handbook_factor(h, i)->name);
    base_nearest(&near, word + strspn(word, "-:"), (const char *const *)all.at.at, all.at.count);
    cli_say(
        stderr,
        "diewright: No command, option or key is called \"%s\", and the handbook does not speak of it%s%s.\n",
        word, near.length ? "; near it: " : "", base_text_get(&near));
    for (size_t i = 0; i < all.at.count; i++)
        free(all.at.at[i]);
    base_vec_done(&all.at);
    base_text_done(&near);
    return CLI_REFUSED;
}

static int look_in_the_handbook(struct cli_call *c, char *word)
{
    int status;
    struct handbook *h = cli_handbook(c, &status);
    char *words[] = {word};
    struct cli_call own = *c;
    own.words = words;
    own.n_words = 1;
    if (h && cli_look_up(&own, h) == 0)
        status = unknown(c, h, word);
    handbook_free(h);
    return status;
}

int cli_help_on(struct cli_call *c)
{
    struct base_text out = {0}, word = {0};
    for (int i = 0; i < c->n_words; i++)
        base_text_addf(&word, "%s%s", i ? " " : "", c->words[i]);
    struct put p = {.out = &out};
    char *asked = base_text_take(&word);
    if (c->n_words == 0) {
        cli_help_all(c->all, &out);
    } else {
        if (!put_command(c->all, &out, asked))
            put_options(c->all, &out, asked);
        each_screen_word(c, asked, put_screen_word, &p);
    }
    int status = out.length ? CLI_DONE : look_in_the_handbook(c, asked);
    cli_out(&out);
    free(asked);
    return status;
}
