/* check, review, stroke, order, sharpening, holes, plan, section, strip: what the die set says of itself. */

#include "cli/cli.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static enum dieset_state state_of(const struct cli_call *c) { return c->ground ? DIESET_GROUND : DIESET_NEW; }

/* What stands above a picture: the job, its revision, what is open. */
static void head_picture(struct cli_call *c, struct job *j, struct base_text *out)
{
    char *job = shop_head(j), *open = shop_open_words(j);
    cli_wrap(out, "", job, 0, c->options->width);
    if (open)
        cli_wrap(out, "", open, 0, c->options->width);
    base_text_add(out, "\n");
    free(open);
    free(job);
}

/* What the command asks for; false: it names a plate that is none, and that is said. */
static bool asked(struct cli_call *c, struct job *j, int word, struct shop_ask *out)
{
    *out = (struct shop_ask){
        .job = j, .plate = -1, .state = state_of(c), .datum = c->datum, .since = c->since ? c->since : ""};
    if (c->n_words > word)
        out->plate = cli_plate(j, c->words[word]);
    return c->n_words <= word || out->plate >= 0;
}

static int print(struct cli_call *c, const struct shop_ask *ask, const char *name)
{
    struct report_paper p;
    struct base_diag why = {0};
    if (shop_make(ask, name, &p, &why) != BASE_OK)
        return *why.message ? cli_usage(c, "%s", why.message) : CLI_REFUSED;
    cli_print(&p, c->format);
    return CLI_DONE;
}

/* The list that the command is named after. */
static int list(struct cli_call *c, struct job *j)
{
    struct shop_ask ask;
    return asked(c, j, 1, &ask) ? print(c, &ask, c->command->name) : CLI_REFUSED;
}

/* What has changed says so by the exit status, too. */
static int recheck(struct cli_call *c, struct job *j)
{
    struct shop_ask ask = {.job = j, .plate = -1, .since = c->n_words > 1 ? c->words[1] : ""};
    struct report_paper p;
    struct base_diag why = {0};
    if (shop_make(&ask, SHOP_RECHECK, &p, &why) != BASE_OK)
        return cli_complain(&why);
    int changed = report_rows(&p);
    cli_print(&p, c->format);
    return changed ? CLI_OPEN : CLI_DONE;
}

int cli_recheck(struct cli_call *c) { return cli_with_job(c, true, recheck); }

/* "paper JOB": which there are. */
static int list_papers(struct cli_call *c, struct job *j)
{
    static const struct report_column columns[] = {{"paper", "paper", false}, {"title", "title", false}};
    struct report_paper p;
    const char *name, *title;
    report_begin(&p, columns, COUNT_OF(columns));
    for (int i = 0; shop_paper(j, i, &name, &title); i++) {
        report_text(&p, name);
        report_text(&p, title);
    }
    cli_print(&p, c->format);
    return CLI_DONE;
}

static int paper(struct cli_call *c, struct job *j)
{
    struct shop_ask ask;
    if (c->n_words < 2)
        return list_papers(c, j);
    return asked(c, j, 2, &ask) ? print(c, &ask, c->words[1]) : CLI_REFUSED;
}

static int papers(struct cli_call *c, struct job *j)
{
    struct shop_ask ask = {.job = j, .plate = -1, .datum = c->datum, .since = ""};
    struct base_text told = {0};
    struct base_diag why = {0};
    enum base_err err = shop_folder(&ask, c->words[1], c->solids, &told, &why);
    if (!err)
        cli_out(&told);
    base_text_done(&told);
    return err ? cli_complain(&why) : CLI_DONE;
}

/* The findings' exit status tells whether any is open. */
static int check(struct cli_call *c, struct job *j)
{
    int counts[3], status = list(c, j);
    findings_counts(job_findings(j), counts);
    return status == CLI_DONE && counts[HANDBOOK_FAULT] + counts[HANDBOOK_CAUTION] ? CLI_OPEN : status;
}

/* Below a picture: what can hurt there (ITEM, DRILLED as dieset_cautions() has them), each on lines of its
   own. */
static void add_cautions(struct cli_call *c, struct dieset *d, int item, bool drilled, struct base_text *out)
{
    const struct handbook_caution **list;
    int n = dieset_cautions(d, item, drilled, &list);
    for (int i = 0; i < n; i++)
        cli_wrap(out, "", list[i]->text, 2, c->options->width);
    free(list);
}

static int plan(struct cli_call *c, struct job *j)
{
    enum { TALLEST = 44 };
    int plate = cli_plate(j, c->words[1]);
    if (plate < 0)
        return CLI_REFUSED;
    struct dieset *d = job_dieset(j);
    struct view_options o = {
        .ascii = c->options->ascii, .state = state_of(c), .item = -1, .point = -1, .from_below = c->below};
    struct view_canvas canvas;
    char length[40], width[40], scale[40];
    struct unit_system system = dieset_system(d);
    view_canvas_init(&canvas, c->options->width, TALLEST);
    double step = view_plan(d, plate, &o, &canvas);
    if (step <= 0) {
        cli_put(stderr, "diewright: The plan cannot be drawn while the plate's length or width is unknown; "
                        "check tells why.\n");
        view_canvas_done(&canvas);
        return CLI_REFUSED;
    }
    struct base_text out = {0}, legend = {0};
    head_picture(c, j, &out);
    base_text_addf(
        &out, "%s %s x %s, from %s, %s a column\n", dieset_item_title(d, plate),
        unit_print(dieset_number(d, plate, "length", o.state), UNIT_LENGTH, system, length, sizeof length),
        unit_print(dieset_number(d, plate, "width", o.state), UNIT_LENGTH, system, width, sizeof width),
        c->below ? "below" : "above", unit_print(step, UNIT_LENGTH, system, scale, sizeof scale));
    view_print(&canvas, &out);
    view_legend(d, plate, &legend);
    cli_wrap(&out, "", base_text_get(&legend), 0, c->options->width);
    add_cautions(c, d, plate, true, &out);
    base_text_done(&legend);
    view_canvas_done(&canvas);
    cli_out(&out);
    return CLI_DONE;
}

int cli_ram_height(struct cli_call *c, struct dieset *d, double *out)
{
    struct formula_value v;
    struct formula_type type;
    struct base_diag why = {0};
    char *text = dieset_complete(d, "stack.entry", c->ram);
    enum base_err err = handbook_eval(dieset_handbook(d), text, &v, &type, &why);
    free(text);
    if (err)
        return cli_complain(&why);
    if (v.error || type.sort != FORMULA_NUMBER || !unit_same(type.dim, UNIT_LENGTH) || v.number < 0)
        return cli_usage(
            c, "\"%s\" is no height of the ram above shut: write a length of 0 or more, such as 12mm.",
            c->ram);
    *out = v.number;
    return CLI_DONE;
}

static int section(struct cli_call *c, struct job *j)
{
    enum { TALLEST = 46 };
    struct dieset *d = job_dieset(j);
    double ram = 0;
    int status = c->ram ? cli_ram_height(c, d, &ram) : CLI_DONE;
    if (status != CLI_DONE)
        return status;
    struct view_options o = {.ascii = c->options->ascii, .state = state_of(c), .item = -1, .point = -1};
    struct view_canvas canvas;
    char height[40], scale[40];
    view_canvas_init(&canvas, c->options->width, TALLEST);
    double step = view_section(d, ram, &o, &canvas);
    if (step <= 0) {
        cli_put(stderr, "diewright: The section cannot be drawn while a height of the stack is unknown; "
                        "check tells which.\n");
        view_canvas_done(&canvas);
        return CLI_REFUSED;
    }
    struct base_text out = {0};
    head_picture(c, j, &out);
    base_text_addf(&out, "section, %s, ram %s above shut, %s a row\n", c->ground ? "ground" : "new",
                   unit_print(ram, UNIT_LENGTH, dieset_system(d), height, sizeof height),
                   unit_print(step, UNIT_LENGTH, dieset_system(d), scale, sizeof scale));
    view_print(&canvas, &out);
    add_cautions(c, d, -1, false, &out);
    view_canvas_done(&canvas);
    cli_out(&out);
    return CLI_DONE;
}

static void say_amount(struct dieset *d, const char *property, struct unit_dim dim, const char *words,
                       struct base_text *out)
{
    char amount[40];
    double value = dieset_number(d, dieset_item_of_kind(d, DIESET_STRIP), property, DIESET_NEW);
    if (!isnan(value))
        base_text_addf(out, "%-22s %s\n", words,
                       unit_print(value, dim, dieset_system(d), amount, sizeof amount));
}

/* What cuts for the first time at each stroke, until the strip has filled the tool. */
static void say_first_strokes(struct dieset *d, struct base_text *out)
{
    char end[40];
    int strip = dieset_item_of_kind(d, DIESET_STRIP);
    double start = dieset_number(d, strip, "start_at", DIESET_NEW),
           last = dieset_number(d, strip, "stations", DIESET_NEW);
    if (isnan(start))
        return;
    base_text_addf(out, "\nfirst strokes, the strip's end %s beyond station 1\n",
                   unit_print(start, UNIT_LENGTH, dieset_system(d), end, sizeof end));
    for (int stroke = 1; stroke <= last; stroke++) {
        struct base_text names = {0};
        for (int i = 0; i < dieset_item_count(d); i++)
            if (dieset_cuts_strip(d, i) && dieset_number(d, i, "first_stroke", DIESET_NEW) == stroke)
                base_text_addf(&names, "%s%s%s", names.length ? ", " : "", dieset_item_name(d, i),
                               dieset_number(d, i, "half_stroke", DIESET_NEW) == stroke ? " on one side only"
                                                                                        : "");
        if (names.length)
            base_text_addf(out, "  %2d  %s\n", stroke, base_text_get(&names));
        base_text_done(&names);
    }
}

static int strip(struct cli_call *c, struct job *j)
{
    struct dieset *d = job_dieset(j);
    int item = dieset_item_of_kind(d, DIESET_STRIP);
    double last = dieset_number(d, item, "stations", DIESET_NEW),
           use = dieset_number(d, item, "use", DIESET_NEW);
    if (!(dieset_number(d, item, "pitch", DIESET_NEW) > 0) ||
        !(dieset_number(d, item, "width", DIESET_NEW) > 0) || !(last >= 1)) {
        cli_put(stderr, "diewright: The strip cannot be drawn while its width, its pitch or its stations are "
                        "unknown; check tells why.\n");
        return CLI_REFUSED;
    }
    struct view_options o = {.ascii = c->options->ascii, .item = -1, .point = -1};
    struct base_text out = {0};
    head_picture(c, j, &out);
    if (!c->part)
        view_strip_bands(d, &o, c->options->width, &out);
    else if (!view_part(d, &o, c->options->width, &out))
        base_text_add(&out, "No part comes of the strip: no station blanks one, and none parts it off.\n");
    base_text_add(&out, "\n");
    say_amount(d, "part_metal", UNIT_AREA, "metal of the parts", &out);
    say_amount(d, "part_mass", UNIT_MASS, "mass of the parts", &out);
    say_amount(d, "scrap_mass", UNIT_MASS, "scrap of one stroke", &out);
    say_amount(d, "thousand_mass", UNIT_MASS, "strip for 1,000 parts", &out);
    if (!isnan(use))
        base_text_addf(&out, "%-22s %.1f %%\n", "use of the strip", 100 * use);
    say_amount(d, "side_force", UNIT_FORCE, "side force of the cuts", &out);
    say_first_strokes(d, &out);
    add_cautions(c, d, item, false, &out);
    cli_out(&out);
    return CLI_DONE;
}

int cli_check(struct cli_call *c) { return cli_each_job(c, check); }
int cli_paper(struct cli_call *c) { return cli_with_job(c, true, paper); }
int cli_papers(struct cli_call *c) { return cli_with_job(c, true, papers); }
int cli_list(struct cli_call *c) { return cli_with_job(c, true, list); }
int cli_plan(struct cli_call *c) { return cli_with_job(c, true, plan); }
int cli_section(struct cli_call *c) { return cli_with_job(c, true, section); }
int cli_strip(struct cli_call *c) { return cli_with_job(c, true, strip); }
