/* cli/cli.h - what the commands share */
#ifndef DIEWRIGHT_CLI_CLI_H
#define DIEWRIGHT_CLI_CLI_H

#include "diewright/cli.h"
#include "diewright/shop.h"
#include "diewright/start.h"
#include "diewright/view.h"

#include <stdio.h>

/* One call of a command. */
struct cli_call {
    const struct cli_options *options;
    const struct cli_commands *all;
    const struct cli_command *command;
    char **words;             /* arguments that are no options */
    int n_words;
    enum report_format format;
    bool why, ground, examples, sources, below, only_words, exercise, back, done, open, others, try, refresh;
    bool take;
    bool all_moves, free, group, turn, svg, curves, solids, worst, part;
    bool saved;               /* something was: an edit taken, a job begun */
    const char *format_text, *ram, *like, *job, *show, *hint, *note, *since, *import, *datum;
    const char *add, *pattern, *on, *reason;
    const char *mine, *theirs;
    const char *from, *unit, *scale, *within, *path;
    const char *seed, *samples, *across, *sort, *rows, *save;
};

struct cli_command {
    const char *name, *usage, *help;
    int least, most;          /* words, most -1: any number */
    const char *options;      /* of the table in options.c, those it takes */
    int (*run)(struct cli_call *c);
};

struct cli_commands { const struct cli_command *at; int n; };

/* value NULL: takes none; at: where its bool or text stands in struct cli_call */
struct cli_option { const char *name, *value, *help; size_t at; };

/* ---- options.c ---- */
const struct cli_option *cli_option_table(int *count);
/* ARGV[*I] is "--name", "--name=value" or "--name value". Returns the exit status, 0: go on. */
int cli_read_option(struct cli_call *c, int argc, char **argv, int *i);

/* ---- common.c ---- */
bool cli_takes(const struct cli_command *command, const char *option);
const struct cli_command *cli_find(const struct cli_commands *all, const char *word); /* NULL: none */
void cli_nearest(const struct cli_commands *all, const char *word, struct base_text *out);
int cli_no_file(const struct cli_commands *all, const char *path, const char *name);
/* Refuse: one sentence, then how the command is written. Returns CLI_REFUSED. */
int cli_usage(const struct cli_call *c, const char *fmt, ...) PRINTF_LIKE(2, 3);
struct handbook *cli_handbook(struct cli_call *c, int *status);
/* Open the job NAME. NULL: *STATUS says the exit status, and the reason is printed. */
struct job *cli_open(struct cli_call *c, struct handbook *h, const char *name, bool readonly, int *status);
/* Tell what is to be known of the job's file, if there is anything new. */
void cli_warn(struct job *j);
/* Close it, and keep in mind whether anything in it was changed. */
void cli_close(struct cli_call *c, struct job *j);
/* What is done with an open job; gives the exit status. */
typedef int cli_act(struct cli_call *c, struct job *j);
/* Open the job that the first word names, ACT, close it. */
int cli_with_job(struct cli_call *c, bool readonly, cli_act *act);
/* folder.c: the same read-only for each of the words, each told under its name; the worst status. */
int cli_each_job(struct cli_call *c, cli_act *act);
/* An item of kind plate by name; -1 with the reason printed. */
int cli_plate(struct job *j, const char *name);
void cli_print(struct report_paper *p, enum report_format f); /* and end it */
/* FIRST and TEXT, broken at blanks (at two rather than at one) to fit WIDTH columns; further lines are
   indented. */
void cli_wrap(struct base_text *out, const char *first, const char *text, int indent, int width);
void cli_out(struct base_text *t);                            /* print and end it */

/* ---- tell.c ---- */
/* What moved, and the findings that came and went. */
void cli_tell_outcome(struct cli_call *c, struct job *j);
void cli_tell_findings(FILE *where, const char *word, const struct finding *list, int n);
/* Take the open try and tell it; what changes nothing is dropped, and that is said. Returns the status. */
int cli_take(struct cli_call *c, struct job *j);
/* "NAME = FORMULA" parted in place; false when there is no "=". */
bool cli_part_change(char *change, const char **path, const char **formula);

/* The file of a template or demo job, NULL: there is none of that name. Yours to free(). */
char *cli_template(const struct cli_call *c, const char *name);
/* Add the worked examples that stand on a whole set to the paper of report_examples(). A template that does
 * not load is a reason; *TRIED and *FAILED count up. */
NODISCARD enum base_err cli_set_examples(struct cli_call *c, struct handbook *h, struct report_paper *p,
                                         int *tried, int *failed, struct base_diag *why);

/* library.c: print what the handbook says about the first word; how many entries that were. */
int cli_look_up(struct cli_call *c, struct handbook *h);

/* help.c: the --help text. */
void cli_help_all(const struct cli_commands *all, struct base_text *out);

/* ---- the commands ---- */
int cli_new(struct cli_call *c);
int cli_start(struct cli_call *c);
int cli_shop(struct cli_call *c);
int cli_recheck(struct cli_call *c);
int cli_page(struct cli_call *c);
int cli_show(struct cli_call *c);
int cli_set(struct cli_call *c);
int cli_outline(struct cli_call *c);
int cli_add(struct cli_call *c);
int cli_remove(struct cli_call *c);
int cli_kinds(struct cli_call *c); /* kinds.c */
int cli_rename(struct cli_call *c);
int cli_place(struct cli_call *c);
int cli_stations(struct cli_call *c);
int cli_check(struct cli_call *c);
int cli_jobs(struct cli_call *c); /* folder.c */
int cli_list(struct cli_call *c); /* the paper that the command is named after */
int cli_plan(struct cli_call *c);
int cli_section(struct cli_call *c);
int cli_strip(struct cli_call *c);
/* The height that --ram asks for, in the job's unit where none is written. Returns the exit status. */
int cli_ram_height(struct cli_call *c, struct dieset *d, double *out);
/* ---- solid.c ---- */
int cli_solid(struct cli_call *c);
int cli_drawing(struct cli_call *c);
int cli_paper(struct cli_call *c);
int cli_papers(struct cli_call *c);
int cli_completion(struct cli_call *c);
int cli_eval(struct cli_call *c);
int cli_handbook_look(struct cli_call *c);
int cli_parts(struct cli_call *c);
int cli_vary(struct cli_call *c);
int cli_tolerance(struct cli_call *c);
int cli_compare(struct cli_call *c);
int cli_join(struct cli_call *c);
int cli_mend(struct cli_call *c);
int cli_remark(struct cli_call *c);
int cli_waive(struct cli_call *c);
int cli_issue(struct cli_call *c);
int cli_withdraw(struct cli_call *c);
int cli_ordered(struct cli_call *c);
int cli_undo(struct cli_call *c);
int cli_redo(struct cli_call *c);
int cli_history(struct cli_call *c);
int cli_dump(struct cli_call *c);
int cli_load(struct cli_call *c);
int cli_practice(struct cli_call *c);
int cli_help_on(struct cli_call *c);

#endif
