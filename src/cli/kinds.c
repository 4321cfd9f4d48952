/* kinds: what can be added to a job, and what can be typed of it before there is one. */

#include "cli/cli.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void list_kinds(const struct handbook *h, struct report_paper *p)
{
    static const struct report_column columns[] = {{"kind", "kind", false}, {"help", "help", false}};
    report_begin(p, columns, COUNT_OF(columns));
    for (int i = 0; i < handbook_kind_count(h); i++) {
        report_text(p, handbook_kind(h, i)->name);
        report_text(p, handbook_kind(h, i)->help);
    }
}

/* "round, obround", "those of cap_screw.size", "" where anything of its type goes. */
static void put_choices(struct report_paper *p, const struct handbook_property *q)
{
    struct base_text out = {0};
    for (int i = 0; i < q->n_choices; i++)
        base_text_addf(&out, "%s%s", i ? ", " : "", q->choices[i]);
    if (q->from_table)
        base_text_addf(&out, "those of %s.%s", q->from_table, q->from_column);
    report_text(p, base_text_get(&out));
    base_text_done(&out);
}

static void list_fields(const struct handbook *h, const struct handbook_kind *k, struct report_paper *p)
{
    static const struct report_column columns[] = {{"name", "name", false},    {"type", "type", false},
                                                   {"usual", "usual", false},  {"choices", "choices", false},
                                                   {"when", "used when", false}, {"help", "", false}};
    char type[80];
    report_begin(p, columns, COUNT_OF(columns));
    report_fold(p, (int)COUNT_OF(columns) - 1);
    for (int i = 0; i < k->n_properties; i++) {
        const struct handbook_property *q = &k->properties[i];
        if (q->how != HANDBOOK_ASKED && q->how != HANDBOOK_USUAL)
            continue;
        report_text(p, q->name);
        report_text(p, handbook_type_name(h, q->type, type, sizeof type));
        report_text(p, q->tree ? formula_text(q->tree) : NULL);
        put_choices(p, q);
        report_text(p, q->when ? formula_text(q->when) : NULL);
        report_text(p, q->help);
    }
    report_line_above(p, "%s: %s", k->name, k->help ? k->help : "");
}

static int no_kind(const struct handbook *h, const char *name)
{
    struct base_text near = {0};
    const char **names = base_alloc((size_t)(handbook_kind_count(h) + 1) * sizeof *names);
    for (int i = 0; i < handbook_kind_count(h); i++)
        names[i] = handbook_kind(h, i)->name;
    base_nearest(&near, name, names, (size_t)handbook_kind_count(h));
    cli_say(stderr, "diewright: The handbook has no kind \"%s\"%s%s. To see them all: diewright kinds\n",
            name, near.length ? "; near it: " : "", base_text_get(&near));
    free(names);
    base_text_done(&near);
    return CLI_REFUSED;
}

int cli_kinds(struct cli_call *c)
{
    int status;
    struct handbook *h = cli_handbook(c, &status);
    int kind = h && c->n_words ? handbook_find_kind(h, c->words[0]) : -1;
    if (h && c->n_words && kind < 0)
        status = no_kind(h, c->words[0]);
    if (h && status == CLI_DONE) {
        struct report_paper p;
        if (kind < 0)
            list_kinds(h, &p);
        else
            list_fields(h, handbook_kind(h, kind), &p);
        cli_print(&p, c->format);
    }
    handbook_free(h);
    return status;
}
