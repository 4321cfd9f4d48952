/* The options of commands: one table, one reader. */

#include "cli/cli.h"

#include <stddef.h>
#include <string.h>

#define AT(field) offsetof(struct cli_call, field)

/* Options of commands; a value is told in the words of the usage line. */
static const struct cli_option options[] = {
    {"format", "text, csv or json", "how the list is printed", AT(format_text)},
    {"all", NULL, "all that moved, not the first lines of it alone", AT(all_moves)},
    {"why", NULL, "how the values come about: formulas, what they hang on, sources", AT(why)},
    {"ground", NULL, "when punches and die plate have been sharpened as far as they go", AT(ground)},
    {"datum", "a corner, \"centre lines\" or a group with a hole in the plate",
     "where x and y of charts and drawings begin", AT(datum)},
    {"svg", NULL, "the drawing as SVG instead of PDF", AT(svg)},
    {"examples", NULL, "works the handbook's examples through", AT(examples)},
    {"sources", NULL, "every source of the handbook with what leans on it, and how many rest on memory",
     AT(sources)},
    {"words", NULL, "only the words of the trade: here, and in other shops", AT(only_words)},
    {"exercise", NULL, "the worked examples of the handbook, asked one by one", AT(exercise)},
    {"hint", "how many hints, 1 to 3", "what to look at", AT(hint)},
    {"below", NULL, "the plate seen from below, turned over", AT(below)},
    {"part", NULL, "the part alone: flat, and in section where it is bent or formed", AT(part)},
    {"curves", NULL, "what goes right through the plate, as curves for wire and laser, in SVG", AT(curves)},
    {"solids", NULL, "with the plates and the set as solids, and the plates' outlines as curves", AT(solids)},
    {"ram", "a height above shut, such as 12mm", "where the ram stands", AT(ram)},
    {"like", "the name of a template, or a job", "what the job begins from", AT(like)},
    {"job", "a job", "whose tables are meant", AT(job)},
    {"import", "a file of comma-separated values", "rows of the job's own into the table", AT(import)},
    {"refresh", NULL, "puts the tables of this version in place of those that the job carries", AT(refresh)},
    {"try", NULL, "tells what would come of it, and keeps nothing", AT(try)},
    {"show", "names of values", "what else is told at each point", AT(show)},
    {"from", "a file: SVG, path data, or lines of an outline", "where the outline comes from", AT(from)},
    {"unit", "mm, cm or in", "how long a unit of that drawing is, where it does not say", AT(unit)},
    {"scale", "a number", "the drawing so many times as large", AT(scale)},
    {"within", "a length such as 0.02mm", "how far the straight sides of a curve may be off", AT(within)},
    {"path", "a number", "which outline of the drawing, where it has several", AT(path)},
    {"add", "a kind, such as screws", "the group is new", AT(add)},
    {"pattern", "the name of a pattern", "how the group is laid out", AT(pattern)},
    {"on", "the name of a plate", "on which it is laid out", AT(on)},
    {"turn", NULL, "a quarter turn more", AT(turn)},
    {"free", NULL, "the point alone: its place is its own from now on", AT(free)},
    {"group", NULL, "the point back to its place in the group", AT(group)},
    {"reason", "a text", "why the point stands off its group", AT(reason)},
    {"back", NULL, "takes the remark or waiver back", AT(back)},
    {"done", NULL, "what the remark asked for is done", AT(done)},
    {"open", NULL, "the remark is open again", AT(open)},
    {"others", NULL, "also what somebody else made or said", AT(others)},
    {"mine", "names parted by commas, or all", "what stays as this copy has it", AT(mine)},
    {"theirs", "names parted by commas, or all", "what becomes as the other copy has it", AT(theirs)},
    {"take", NULL, "takes it into the job; without it all is only told", AT(take)},
    {"note", "a text", "what is said with the issue", AT(note)},
    {"across", "NAME FROM TO STEP, NAME listed, or NAME and values",
     "a second value, each with each of the first", AT(across)},
    {"rows", "a file of comma-separated values", "variants: a column for each value, a row for each set",
     AT(rows)},
    {"save", "a folder", "each variant as a job of its own there, by its name", AT(save)},
    {"sort", "the name of a value that is shown", "the points by it, the least first", AT(sort)},
    {"worst", NULL, "the rules, with each size at the worse of its limits", AT(worst)},
    {"seed", "a whole number", "which row of samples; the same seed, the same figures", AT(seed)},
    {"samples", "how many, 0 to 1000000", "how many sets are sampled", AT(samples)},
    {"since", "the letter of a revision", "only what came after it", AT(since)},
};

const struct cli_option *cli_option_table(int *count)
{
    *count = (int)COUNT_OF(options);
    return options;
}

/* A switch is a bool of the call, a value a text. */
static int keep_option(struct cli_call *c, const struct cli_option *o, const char *value)
{
    char *field = (char *)c + o->at;
    if (o->value)
        *(const char **)(void *)field = value;
    else
        *(bool *)field = true;
    if (value && o->at == AT(format_text) && !report_format_named(value, &c->format))
        return cli_usage(c, "There is no format \"%s\": it is text, csv or json.", value);
    return CLI_DONE;
}

/* ARGV[*I] is "--name", "--name=value" or "--name value". */
int cli_read_option(struct cli_call *c, int argc, char **argv, int *i)
{
    const char *text = argv[*i] + 2, *equals = strchr(text, '=');
    size_t n = equals ? (size_t)(equals - text) : strlen(text);
    for (size_t k = 0; k < COUNT_OF(options); k++) {
        if (strlen(options[k].name) != n || strncmp(options[k].name, text, n) != 0 ||
            !cli_takes(c->command, options[k].name))
            continue;
        if (!options[k].value)
            return equals ? cli_usage(c, "The option --%s takes no value.", options[k].name)
                          : keep_option(c, &options[k], NULL);
        if (!equals && *i + 1 == argc)
            return cli_usage(c, "The option --%s needs a value behind it: %s.", options[k].name,
                             options[k].value);
        return keep_option(c, &options[k], equals ? equals + 1 : argv[++*i]);
    }
    return cli_usage(c, "The command %s has no option %s.", c->command->name, argv[*i]);
}
