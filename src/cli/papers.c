/* check, review, stroke, order, sharpening, holes, plan, section, strip: what the die set says of itself. */

#include "cli/cli.h"

#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static enum dieset_state state_of(const struct cli_call *c) { return c->ground ? DIESET_GROUND : DIESET_NEW; }

/* What a paper is of: the job and its revision. Yours to free(). */
static char *head_job(struct job *j)
{
    struct base_text issued = {0};
    job_issued_words(j, &issued);
    char *line = base_format("%s, %s", job_title(j), base_text_get(&issued));
    base_text_done(&issued);
    return line;
}

char *cli_open_words(struct job *j)
{
    int counts[3];
    findings_counts(job_findings(j), counts);
    int faults = counts[HANDBOOK_FAULT], cautions = counts[HANDBOOK_CAUTION];
    if (!faults && !cautions)
        return NULL;
    return base_format("%d fault%s and %d caution%s are open: diewright check lists them.", faults,
                       faults == 1 ? "" : "s", cautions, cautions == 1 ? "" : "s");
}

static void head(struct job *j, struct report_paper *p)
{
    char *job = head_job(j), *open = cli_open_words(j);
    if (open)
        report_line_first(p, "%s", open);
    report_line_first(p, "%s", job);
    free(open);
    free(job);
}

/* The same above a picture. */
static void head_picture(struct cli_call *c, struct job *j, struct base_text *out)
{
    char *job = head_job(j), *open = cli_open_words(j);
    cli_wrap(out, "", job, 0, c->options->width);
    if (open)
        cli_wrap(out, "", open, 0, c->options->width);
    base_text_add(out, "\n");
    free(open);
    free(job);
}

/* What is open is the paper itself, so it is not told above. */
static enum base_err make_check(struct cli_call *c, struct job *j, struct report_paper *p,
                                struct base_diag *why)
{
    (void)c;
    (void)why;
    report_check(job_findings(j), p);
    char *job = head_job(j);
    report_line_first(p, "%s", job);
    free(job);
    return BASE_OK;
}

/* The edits since the latest revision, or all that stand, without those that only say something: yours to
   free(). */
static struct typed_event *edits_since(struct job *j, int *count)
{
    const struct typed_event *events;
    struct review_revision latest;
    int n = review_latest(job_dieset(j), &latest) ? job_since(j, latest.letter, &events, NULL)
                                                  : job_standing(j, &events, INT_MAX);
    struct typed_event *out = base_alloc((size_t)(n > 0 ? n : 0) * sizeof *out + 1);
    *count = 0;
    for (int i = 0; i < n; i++)
        if (!job_only_said(j, &events[i]))
            out[(*count)++] = events[i];
    return out;
}

static enum base_err make_review(struct cli_call *c, struct job *j, struct report_paper *p,
                                 struct base_diag *why)
{
    int n;
    struct typed_event *events = edits_since(j, &n);
    (void)c;
    (void)why;
    report_review(job_findings(j), events, n, p);
    head(j, p);
    free(events);
    return BASE_OK;
}

#define MAKE(name, report)                                                                                   \
    static enum base_err make_##name(struct cli_call *c, struct job *j, struct report_paper *p,              \
                                     struct base_diag *why)                                                  \
    {                                                                                                        \
        (void)c;                                                                                             \
        (void)why;                                                                                           \
        report(job_dieset(j), p);                                                                            \
        head(j, p);                                                                                          \
        return BASE_OK;                                                                                      \
    }
MAKE(stroke, report_stroke)
MAKE(order, report_order)
MAKE(sharpening, report_card)
MAKE(stack, report_stack)

/* The plate that the command names, -1: all; false: there is none of that name, and that is said. */
static bool named_plate(struct cli_call *c, struct job *j, const char *command, int *plate)
{
    bool one = strcmp(c->command->name, command) == 0 && c->n_words > 1;
    *plate = one ? cli_plate(j, c->words[1]) : -1;
    return !one || *plate >= 0;
}

static enum base_err make_inspection(struct cli_call *c, struct job *j, struct report_paper *p,
                                     struct base_diag *why)
{
    int plate;
    (void)why;
    if (!named_plate(c, j, "inspection", &plate))
        return BASE_REFUSED;
    report_inspection(job_dieset(j), plate, p);
    head(j, p);
    return BASE_OK;
}

static enum base_err make_holes(struct cli_call *c, struct job *j, struct report_paper *p,
                                struct base_diag *why)
{
    int plate;
    if (!named_plate(c, j, "holes", &plate))
        return BASE_REFUSED;
    enum base_err err = report_holes(job_dieset(j), plate, state_of(c), c->datum, p, why);
    if (!err)
        head(j, p);
    return err;
}

/* In the order in which a shop asks for them; each is a command of its name. */
static const struct cli_list lists[] = {
    {"order", "Order list", make_order},
    {"holes", "Hole charts", make_holes},
    {"stack", "Stack sheet", make_stack},
    {"inspection", "Inspection list", make_inspection},
    {"stroke", "The stroke", make_stroke},
    {"sharpening", "Sharpening card", make_sharpening},
    {"check", "Findings", make_check},
    {"review", "Review", make_review},
};

const struct cli_list *cli_lists(int *count)
{
    *count = (int)COUNT_OF(lists);
    return lists;
}

/* The list that the command is named after. */
static int list(struct cli_call *c, struct job *j)
{
    struct report_paper p;
    struct base_diag why = {0};
    size_t i = 0;
    while (strcmp(lists[i].name, c->command->name) != 0)
        i++;
    if (lists[i].make(c, j, &p, &why) != BASE_OK)
        return *why.message ? cli_usage(c, "%s", why.message) : CLI_REFUSED;
    cli_print(&p, c->format);
    return CLI_DONE;
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
    view_strip_bands(d, &o, c->options->width, &out);
    base_text_add(&out, "\n");
    say_amount(d, "part_metal", UNIT_AREA, "metal of the parts", &out);
    say_amount(d, "part_mass", UNIT_MASS, "mass of the parts", &out);
    say_amount(d, "scrap_mass", UNIT_MASS, "scrap of one stroke", &out);
    say_amount(d, "thousand_mass", UNIT_MASS, "strip for 1,000 parts", &out);
    if (!isnan(use))
        base_text_addf(&out, "%-22s %.1f %%\n", "use of the strip", 100 * use);
    add_cautions(c, d, item, false, &out);
    cli_out(&out);
    return CLI_DONE;
}

int cli_check(struct cli_call *c) { return cli_with_job(c, true, check); }
int cli_list(struct cli_call *c) { return cli_with_job(c, true, list); }
int cli_plan(struct cli_call *c) { return cli_with_job(c, true, plan); }
int cli_section(struct cli_call *c) { return cli_with_job(c, true, section); }
int cli_strip(struct cli_call *c) { return cli_with_job(c, true, strip); }
