/* completion: what a shell completes, printed from the tables of commands and options */

#include "cli/cli.h"

#include <string.h>

/* The words of a command's options, "--format --ground". */
static void add_options(struct base_text *out, const char *options)
{
    for (const char *at = options; *at; at += strspn(at, " ")) {
        size_t n = strcspn(at, " ");
        base_text_addf(out, " --%.*s", (int)n, at);
        at += n;
    }
}

/* Then its first word is a job, and names of that job follow. */
static bool takes_a_job(const struct cli_command *k) { return strncmp(k->usage, "JOB", 3) == 0; }

static void add_commands(struct base_text *out, const struct cli_commands *all)
{
    base_text_add(out, "  case $command in\n");
    for (int i = 0; i < all->n; i++) {
        base_text_addf(out, "  %s) words='", all->at[i].name);
        add_options(out, all->at[i].options);
        base_text_addf(out, "' ; job=%s ;;\n", takes_a_job(&all->at[i]) ? "yes" : "");
    }
    base_text_add(out, "  esac\n");
}

static void add_names(struct base_text *out, const struct cli_commands *all)
{
    for (int i = 0; i < all->n; i++)
        base_text_addf(out, " %s", all->at[i].name);
}

/* A function of the shell: commands, then jobs, then the names that the program tells of the job there. */
static void add_function(struct base_text *out, const struct cli_commands *all)
{
    base_text_add(out, "_diewright_files() { # a line each, for names with blanks\n"
                       "  local IFS=$'\\n'\n"
                       "  COMPREPLY+=($(compgen \"$@\" -- \"$now\"))\n"
                       "}\n"
                       "_diewright() {\n"
                       "  local now=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]}\n"
                       "  local command=${COMP_WORDS[1]} words= job=\n"
                       "  COMPREPLY=()\n"
                       "  if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
                       "    words='");
    add_names(out, all);
    base_text_add(out, "'; job=yes\n"
                       "  else\n");
    add_commands(out, all);
    base_text_add(out, "  fi\n"
                       "  if [ \"$before\" = --format ]; then\n"
                       "    COMPREPLY=($(compgen -W 'text csv json' -- \"$now\"))\n"
                       "    return\n"
                       "  fi\n"
                       "  case $now in\n"
                       "  -*) COMPREPLY=($(compgen -W \"$words\" -- \"$now\")); return ;;\n"
                       "  esac\n"
                       "  if [ \"$COMP_CWORD\" -eq 1 ]; then\n"
                       "    COMPREPLY=($(compgen -W \"$words\" -- \"$now\"))\n"
                       "  fi\n"
                       "  if [ -n \"$job\" ] && [ \"$COMP_CWORD\" -le 2 ]; then\n"
                       "    _diewright_files -f -X '!*.diejob'\n"
                       "    _diewright_files -d\n"
                       "  elif [ -n \"$job\" ] && [ -r \"${COMP_WORDS[2]%.diejob}.diejob\" ]; then\n"
                       "    words=$(diewright show \"${COMP_WORDS[2]}\" --format csv 2>/dev/null |\n"
                       "      sed -n '2,$s/,.*//p')\n"
                       "    words=\"$words $(printf '%s\\n' $words | sed 's/\\..*//' | sort -u)\"\n"
                       "    COMPREPLY=($(compgen -W \"$words\" -- \"$now\"))\n"
                       "  else\n"
                       "    _diewright_files -f\n"
                       "  fi\n"
                       "}\n"
                       "complete -o filenames -F _diewright diewright\n");
}

int cli_completion(struct cli_call *c)
{
    struct base_text out = {0};
    bool zsh = strcmp(c->words[0], "zsh") == 0;
    if (!zsh && strcmp(c->words[0], "bash") != 0)
        return cli_usage(c, "There is completion for bash and zsh, not for \"%s\".", c->words[0]);
    if (zsh)
        base_text_add(&out, "#compdef diewright\nautoload -U +X bashcompinit && bashcompinit\n");
    add_function(&out, c->all);
    cli_out(&out);
    return CLI_DONE;
}
