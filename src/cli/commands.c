/* The table of commands, and running one of them. */

#include "cli/cli.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const struct cli_command commands[] = {
    {"new", "[JOB [NAME=FORMULA...]] [--like NAME]",
     "begin a job from a start, with what its page asks; alone: the starts there are; --like alone: its page",
     0, -1, "format like", cli_new},
    {"page", "JOB [NAME=FORMULA...]",
     "strip, part and press on one page, and the first set that comes of them, an estimate", 1, -1, "format",
     cli_page},
    {"start", "JOB NAME LINE [--note TEXT]", "keep a job as a start of the shop's own, which LINE tells",
     3, -1, "note", cli_start},
    {"shop", "JOB", "take the settings of the shop, for what the job has not typed for itself", 1, 1, "all",
     cli_shop},
    {"show", "JOB [NAME...] [--why [--ground]]", "values, or with --why how they come about", 1, -1,
     "format why ground", cli_show},
    {"set", "JOB NAME=FORMULA...", "change values; say what moved and which findings came or went", 2, -1,
     "format all", cli_set},
    {"add", "JOB KIND NAME [NAME=FORMULA...]", "add an item, with what is typed of it", 3, -1, "format all",
     cli_add},
    {"kinds", "[KIND]", "what can be added; of a kind, what can be typed of it", 0, 1, "format", cli_kinds},
    {"remove", "JOB ITEM", "take an item out with all that is typed in it", 2, 2, "format all", cli_remove},
    {"rename", "JOB ITEM NAME", "give an item another name; formulas follow", 3, 3, "format all",
     cli_rename},
    {"place", "JOB GROUP[.POINT] [NAME=LENGTH...] [--free | --group] [--turn] [--pattern NAME] [--on PLATE] "
              "[--add KIND] [--reason TEXT] [--try]",
     "a group or a point of it laid out: from an edge, turned, freed, added; alone: where it stands", 2, -1,
     "format all free group turn pattern on add reason try", cli_place},
    {"outline",
     "JOB ITEM [LINE... | --from FILE [--unit UNIT] [--scale N] [--within LENGTH] [--path N]]",
     "the outline of a station: print its lines, or take these instead, or those of a drawing", 2, -1,
     "format all from unit scale within path", cli_outline},
    {"stations",
     "JOB [move ITEM|NUMBER TO | swap A B | insert NUMBER | close NUMBER | copy ITEM TO [NAME] | number] "
     "[--try]",
     "the station table; or stations moved, swapped, put in, taken out, copied, each as one edit",
     1, 5, "format all try", cli_stations},
    {"check", "JOB...", "findings, of one job or several; exit status 1 while a caution or fault is open", 1,
     -1, "format", cli_check},
    {"jobs", "[FOLDER [TEXT]]",
     "the jobs of a folder: title, revision, open findings, press, last edit; or those that hold TEXT", 0, 2,
     "format", cli_jobs},
    {"review", "JOB",
     "the paper of the review: what is open, waived, remarked, edited since the last issue, typed over", 1, 1,
     "format", cli_list},
    {"plan", "JOB PLATE [--below] [--ground]", "a plate from above or below, to scale", 2, 2, "below ground",
     cli_plan},
    {"section", "JOB [--ram HEIGHT] [--ground]", "the stack in elevation, the ram so far above shut", 1, 1,
     "ram ground", cli_section},
    {"strip", "JOB [--part]",
     "the strip station by station: what is gone, cut there and left, and what it weighs; or its part, flat "
     "and in section", 1, 1, "part", cli_strip},
    {"stroke", "JOB", "what enters and touches as the ram comes down, in order", 1, 1, "format", cli_list},
    {"order", "JOB [--since REV]",
     "order list: parts, sizes, raw sizes, how many, masses, prices, and what changed since it was ordered",
     1, 1, "format since", cli_list},
    {"holes", "JOB [PLATE] [--datum CORNER] [--ground]", "hole chart of one plate or of all", 1, 2,
     "format datum ground", cli_list},
    {"stack", "JOB", "the stack sheet: thicknesses with their limits and heights, to be measured against", 1,
     1, "format", cli_list},
    {"inspection", "JOB [PLATE]", "what is measured of one plate or of all, with nominal sizes and limits", 1,
     2, "format", cli_list},
    {"drawing", "JOB [PLATE|strip] [--datum CORNER] [--ground] [--svg]",
     "a plate at true scale with lettered holes, the set, or the strip and its part, as PDF or SVG, to a "
     "file or a pipe",
     1, 2, "datum ground svg", cli_drawing},
    {"solid", "JOB [PLATE] [--ram HEIGHT] [--ground] [--curves]",
     "a plate with its holes as a solid, or the set in two halves, the ram so far above shut: a file of ISO "
     "10303-21",
     1, 2, "ram ground curves", cli_solid},
    {"paper", "JOB [NAME [PLATE]]",
     "a paper by its name, such as setting or assembly; alone: which there are", 1, 3, "format datum ground",
     cli_paper},
    {"papers", "JOB FOLDER [--datum CORNER] [--solids]",
     "all drawings and lists of the job as files: PDF, CSV, text, and one HTML file of all; with solids and "
     "outlines",
     2, 2, "datum solids", cli_papers},
    {"sharpening", "JOB", "the sharpening card: what was ground off, what is left", 1, 1, "format", cli_list},
    {"eval", "EXPRESSION", "calculator with units and the handbook's functions", 1, -1, "format", cli_eval},
    {"handbook", "[WORD] [--words] [--sources] [--examples]",
     "look a word up, or read it all; --words: what shops call things; --sources: what leans on which; "
     "--examples works the examples through",
     0, 1, "format words sources examples", cli_handbook_look},
    {"parts", "[TABLE] [--job JOB] [--import FILE] [--refresh] [--try]",
     "parts tables, one table's rows, or rows of a job's own", 0, 1, "format job import refresh try",
     cli_parts},
    {"vary",
     "JOB NAME FROM TO STEP|listed|VALUES [--across RANGE] [--rows FILE] [--save FOLDER] [--show NAME...] "
     "[--sort NAME]",
     "a value over a range, listed sizes or a list, two at once as a map, or variants by the rows of a file: "
     "what moves, where findings begin",
     1, -1, "format show across rows save sort", cli_vary},
    {"tolerance", "JOB [NAME [ITEM]] [--worst] [--ground] [--seed N] [--samples N]",
     "a value or a chain as it is made: its limits, what moves it; alone: all chains; --worst: the rules",
     1, 3, "format worst ground seed samples", cli_tolerance},
    {"compare", "JOB OTHER|REV [REV]",
     "two jobs, or revisions of one, side by side: what is typed, worked out, found and ordered differently",
     2, 3, "format", cli_compare},
    {"join", "JOB OTHER [--mine NAMES] [--theirs NAMES] [--take]",
     "two copies of a job that were edited apart: what each changed, side by side; with --take brought "
     "together in JOB",
     2, 2, "format mine theirs take", cli_join},
    {"mend", "JOB [FINDING]",
     "what would clear a finding: for each value the nearest that does, and what it brings", 1, -1, "format",
     cli_mend},
    {"remark", "JOB [ITEM TEXT | REMARK [TEXT | --done | --open | --back]]",
     "a remark on an item, a value or a finding, an answer to one; alone: the remarks", 1, -1,
     "format back done open", cli_remark},
    {"waive", "JOB [FINDING REASON] [--back [--others]]",
     "let a finding stand, with the reason; alone: the waivers", 1, -1, "format back others", cli_waive},
    {"issue", "JOB [REV] [--note TEXT]", "freeze the job under a revision letter", 1, 2, "note", cli_issue},
    {"recheck", "JOB [REV]",
     "a revision, the latest or REV, under the handbook of today: what has changed since it was issued", 1, 2,
     "format", cli_recheck},
    {"ordered", "JOB [REV] [--back]", "parts were ordered by the revision; --back: they were not after all",
     1, 2, "back", cli_ordered},
    {"withdraw", "JOB REV REASON",
     "a revision is no longer in force; it stays on record, and its letter is not given again", 3, -1, "",
     cli_withdraw},
    {"undo", "JOB [NUMBER] [--others]", "take your last edit back, or that of a number of the history", 1, 2,
     "format all others", cli_undo},
    {"redo", "JOB [NUMBER] [--others]", "make again what you took back last", 1, 2, "format all others",
     cli_redo},
    {"history", "JOB [--since REV]", "every change: when, who, what", 1, 1, "format since", cli_history},
    {"dump", "JOB", "the whole job as text", 1, 1, "", cli_dump},
    {"load", "JOB FILE", "a new job from such a text", 2, 2, "", cli_load},
    {"practice", "[NAME [VALUE | VALUE=FORMULA...]] [--hint N] | --exercise [N [ANSWER...]]",
     "a guide in steps; find and mend a planted mistake; or work the handbook's examples", 0, -1,
     "format hint exercise",
     cli_practice},
    {"completion", "bash|zsh", "what the shell completes: source <(diewright completion bash)", 1, 1,
     "", cli_completion},
    {"help", "[WORD]",
     "how a command is written; what an option, a key or a word of the trade means; alone: this", 0, -1, "",
     cli_help_on},
};

static const struct cli_commands all = {commands, COUNT_OF(commands)};

bool cli_is_command(const char *word) { return cli_find(&all, word) != NULL; }

void cli_commands(struct base_text *out)
{
    for (size_t i = 0; i < COUNT_OF(commands); i++)
        base_text_addf(out, "%s\t%s\t%s\n", commands[i].name, commands[i].usage, commands[i].help);
}

void cli_nearest_command(const char *word, struct base_text *out) { cli_nearest(&all, word, out); }

int cli_no_job(const char *path, const char *name) { return cli_no_file(&all, path, name); }

void cli_help(struct base_text *out) { cli_help_all(&all, out); }

/* ---- running ---------------------------------------------------------------------------- */

/* Options and words behind the command, which stands first. */
static int read_arguments(struct cli_call *c, int argc, char **argv)
{
    int status = CLI_DONE;
    bool only_words = false;
    for (int i = 1; i < argc && status == CLI_DONE; i++) {
        if (!only_words && strcmp(argv[i], "--") == 0)
            only_words = true;
        /* which may be asked about options */
        else if (!only_words && strncmp(argv[i], "--", 2) == 0 && c->command->run != cli_help_on)
            status = cli_read_option(c, argc, argv, &i);
        else
            c->words[c->n_words++] = argv[i];
    }
    if (status == CLI_DONE && c->n_words < c->command->least)
        return cli_usage(c, "The command %s needs more than stands here.", c->command->name);
    if (status == CLI_DONE && c->command->most >= 0 && c->n_words > c->command->most)
        return cli_usage(c, "The command %s has no use for \"%s\".", c->command->name,
                         c->words[c->command->most]);
    return status;
}

int cli_run(const struct cli_options *o, int argc, char **argv)
{
    struct cli_call c = {.options = o, .all = &all, .command = cli_find(&all, argv[0])};
    c.words = base_alloc((size_t)argc * sizeof *c.words);
    if (strcmp(c.command->name, argv[0]) != 0)
        cli_say(stderr, "diewright: %s is called %s now.\n", argv[0], c.command->name);
    int status = read_arguments(&c, argc, argv);
    if (status == CLI_DONE)
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
