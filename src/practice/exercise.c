/* The tries of the worked examples as exercises: givens, the answer judged, the working shown.
 *
 * A try that is one call of a handbook function asks for that function's value, its arguments being the
 * givens. Any other expression is given as it stands. A try on a whole set asks for a value of that set; its
 * givens are what the formula reads.
 */

#include "practice/practice.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

enum { WHY_LINES = 60 };

struct exercise { const struct handbook_example *example; const struct handbook_try *try; int part, parts; };

struct practice_exercises {
    const struct handbook *h;
    char *data;
    BASE_VEC(struct exercise) at;
    struct base_arena memory;
    const struct handbook_example *opened; /* whose set JOB is */
    struct job *job;
};

/* ---- which there are ------------------------------------------------------------------- */

/* TREE as a number; false when it is none or has none. TYPE may be asked for by WANT. */
static bool number_of(const struct handbook *h, const struct formula_tree *tree,
                      const struct formula_type *want, double *number, struct formula_type *type)
{
    struct formula_value v;
    if (!tree || handbook_eval_tree(h, tree, want, &v, type, NULL) != BASE_OK || v.error ||
        type->sort != FORMULA_NUMBER)
        return false;
    *number = v.number;
    return true;
}

static bool names_function(const char *text, const char *name)
{
    size_t n = strlen(name);
    for (const char *at = text; (at = strstr(at, name)); at += n)
        if (at[n] == '(' && (at == text || (!isalnum((unsigned char)at[-1]) && at[-1] != '_')))
            return true;
    return false;
}

static bool asks_handbook(const struct handbook *h, const char *text)
{
    for (int i = 0; i < handbook_function_count(h); i++)
        if (names_function(text, handbook_function(h, i)->f.name))
            return true;
    return false;
}

/* Sums of bare figures, which the handbook keeps beside its functions, ask for nothing of the trade. */
static bool is_exercise(const struct handbook *h, const struct handbook_example *e,
                        const struct handbook_try *t)
{
    double number;
    struct formula_type type;
    return !t->disagrees && (e->like || asks_handbook(h, formula_text(t->tree))) &&
           number_of(h, t->expect, NULL, &number, &type);
}

static void gather(struct practice_exercises *x, const struct handbook_example *e)
{
    int parts = 0, part = 0;
    for (int k = 0; k < e->n_tries; k++)
        parts += is_exercise(x->h, e, &e->tries[k]);
    for (int k = 0; k < e->n_tries; k++)
        if (is_exercise(x->h, e, &e->tries[k]))
            base_vec_push(&x->at, ((struct exercise){e, &e->tries[k], ++part, parts}));
}

struct practice_exercises *practice_exercises_new(const struct handbook *h, const char *data)
{
    struct practice_exercises *x = base_alloc(sizeof *x);
    x->h = h;
    x->data = base_copy(data);
    for (int i = 0; i < handbook_example_count(h); i++)
        gather(x, handbook_example(h, i));
    return x;
}

void practice_exercises_free(struct practice_exercises *x)
{
    if (!x)
        return;
    job_close(x->job);
    base_vec_done(&x->at);
    base_arena_done(&x->memory);
    free(x->data);
    free(x);
}

int practice_exercise_count(const struct practice_exercises *x) { return (int)x->at.count; }

static const char *title_of(const struct handbook_example *e) { return e->title ? e->title : e->name; }

const char *practice_exercise_title(const struct practice_exercises *x, int i)
{
    const struct exercise *e = &x->at.at[i];
    struct base_arena *m = &((struct practice_exercises *)(uintptr_t)x)->memory;
    return e->parts == 1 ? title_of(e->example)
                         : base_arena_format(m, "%s, %d of %d", title_of(e->example), e->part, e->parts);
}

/* ---- the question --------------------------------------------------------------------------- */

static void kind_of_answer(struct unit_dim dim, struct base_text *out)
{
    enum { NAMED = 4 };
    char buf[80];
    struct unit_dim d;
    double factor;
    const char *unit;
    int n = 0;
    if (unit_same(dim, UNIT_NUMBER)) {
        base_text_add(out, "a plain number, or percent");
        return;
    }
    base_text_add(out, unit_dim_name(dim, buf, sizeof buf));
    for (int i = 0; n < NAMED && (unit = unit_at(i, &d, &factor)); i++)
        if (unit_same(d, dim))
            base_text_addf(out, "%s%s", n++ ? ", " : ", with its unit: ", unit);
    if (n)
        base_text_add(out, " ...");
}

struct factors { const struct handbook *h; struct base_map seen; struct base_text *out; };

/* A factor of the handbook that a formula reads is given too. */
static void ask_factor(const char *path, int start, void *arg)
{
    struct factors *a = arg;
    int i = handbook_find_factor(a->h, path);
    (void)start;
    if (i < 0 || base_map_get(&a->seen, path, NULL))
        return;
    const struct handbook_factor *f = handbook_factor(a->h, i);
    base_map_put(&a->seen, path, i);
    base_text_addf(a->out, "  %-16s = %s, a factor   %s\n", path, formula_text(f->tree),
                   f->title ? f->title : "");
}

/* Those of function F, of its usual arguments only where none is given (C NULL: all given). */
static void ask_factors(struct factors *a, const struct formula_function *f, const struct handbook_call *c)
{
    for (int i = 0; c && i < f->n_parameters && i < HANDBOOK_ARGUMENTS; i++)
        if (!c->arguments[i] && f->parameters[i].usual)
            formula_names(f->parameters[i].usual, ask_factor, a);
    for (int i = 0; i < f->n_lets; i++)
        formula_names(f->lets[i].tree, ask_factor, a);
    if (f->gives)
        formula_names(f->gives, ask_factor, a);
}

/* The functions that TEXT calls, but for OWN, with what they take and what they are. */
static void ask_functions(struct factors *a, const char *text, const struct handbook_function *own,
                          struct base_text *out)
{
    const struct handbook *h = a->h;
    for (int i = 0; i < handbook_function_count(h); i++) {
        const struct handbook_function *f = handbook_function(h, i);
        if (f == own || !f->help || !names_function(text, f->f.name))
            continue;
        base_text_addf(out, "  %s(", f->f.name);
        for (int k = 0; k < f->f.n_parameters; k++)
            base_text_addf(out, "%s%s", k ? ", " : "", f->f.parameters[k].name);
        base_text_addf(out, "): %s\n", f->help);
        ask_factors(a, &f->f, NULL);
    }
}

static void ask_call(const struct handbook *h, const char *text, const struct handbook_call *c,
                     struct base_text *out)
{
    const struct formula_function *f = &c->function->f;
    if (c->function->help)
        base_text_addf(out, "%s\n", c->function->help);
    for (int i = 0; i < f->n_parameters && i < HANDBOOK_ARGUMENTS; i++) {
        const char *help = c->function->parameter_help ? c->function->parameter_help[i] : NULL;
        const char *given = c->arguments[i]          ? c->arguments[i]
                            : f->parameters[i].usual ? formula_text(f->parameters[i].usual)
                                                     : "";
        base_text_addf(out, "  %-16s = %s%s%s%s\n", f->parameters[i].name, given,
                       c->arguments[i] ? "" : ", the usual", help ? "   " : "", help ? help : "");
    }
    struct factors a = {.h = h, .out = out};
    ask_factors(&a, f, c);
    ask_functions(&a, text, c->function, out);
    base_map_done(&a.seen);
    base_text_addf(out, "asked: %s, ", f->name);
}

static void ask_expression(const struct handbook *h, const char *text, struct base_text *out)
{
    base_text_addf(out, "  %s\n", text);
    struct factors a = {.h = h, .out = out};
    ask_functions(&a, text, NULL, out);
    base_map_done(&a.seen);
    base_text_add(out, "asked: the value of that, ");
}

/* The set of a whole-set example, opened once. */
static enum base_err open_set(struct practice_exercises *x, const struct handbook_example *e,
                              struct base_diag *why)
{
    if (x->opened == e)
        return BASE_OK;
    job_close(x->job);
    x->job = NULL;
    x->opened = NULL;
    enum base_err err = practice_open_like(x->h, x->data, e->like, &x->job, why);
    const char **paths = base_alloc((size_t)(e->n_settings + 1) * sizeof *paths),
               **texts = base_alloc((size_t)(e->n_settings + 1) * sizeof *texts);
    for (int i = 0; i < e->n_settings; i++) {
        paths[i] = e->settings[i].path;
        texts[i] = formula_text(e->settings[i].tree);
    }
    if (!err && e->n_settings)
        err = job_set_many(x->job, paths, texts, e->n_settings, why);
    if (!err && e->n_settings)
        err = job_take(x->job, why);
    free(paths);
    free(texts);
    x->opened = err ? NULL : e;
    return err;
}

/* Nothing hangs below line I, as far as they are unfolded. */
static bool is_leaf(const struct job_why_line *lines, int n, int i)
{
    return i > 0 && (i + 1 == n || lines[i + 1].depth <= lines[i].depth);
}

static int count_leaves(const struct job_why_line *lines, int n)
{
    int leaves = 0;
    for (int i = 0; i < n; i++)
        leaves += is_leaf(lines, n, i);
    return leaves;
}

/* The formula of the value asked for, then what it comes from, unfolded until there is more than one given;
   how many lines. */
static int lines_of(struct practice_exercises *x, const struct exercise *e, struct job_why_line *lines,
                    struct base_diag *why)
{
    const char *path = formula_text(e->try->tree);
    int q = dieset_find(job_dieset(x->job), path);
    if (q < 0) {
        base_fail(why, BASE_UNKNOWN, "The set of the example %s has no value \"%s\".", e->example->name,
                  path);
        return -1;
    }
    enum { DEEPEST = 6 };
    int n = 0;
    for (int depth = 1; depth <= DEEPEST && count_leaves(lines, n) < 2; depth++)
        n = job_why(x->job, q, e->try->ground ? DIESET_GROUND : DIESET_NEW, depth, lines, WHY_LINES);
    return n;
}

static enum base_err ask_set(struct practice_exercises *x, const struct exercise *e, struct base_text *out,
                             struct base_diag *why)
{
    struct job_why_line *lines = base_alloc(WHY_LINES * sizeof *lines);
    enum base_err err = open_set(x, e->example, why);
    int n = err ? 0 : lines_of(x, e, lines, why);
    err = n < 0 ? BASE_UNKNOWN : err;
    base_text_addf(out, "In a set like %s", e->example->like);
    for (int i = 0; !err && i < e->example->n_settings; i++)
        base_text_addf(out, "%s%s = %s", i ? ", " : " with ", e->example->settings[i].path,
                       formula_text(e->example->settings[i].tree));
    if (!err)
        base_text_add(out, ":\n");
    for (int i = 1; i < n; i++)
        if (is_leaf(lines, n, i) && !lines[i].seen && !lines[i].folded)
            base_text_addf(out, "  %-28s = %s\n", lines[i].label, lines[i].value);
    base_text_addf(out, "asked: %s%s, ", formula_text(e->try->tree), e->try->ground ? " when ground" : "");
    free(lines);
    return err;
}

enum base_err practice_exercise_ask(struct practice_exercises *x, int i, struct base_text *out,
                                    struct base_diag *why)
{
    const struct exercise *e = &x->at.at[i];
    const char *text = formula_text(e->try->tree);
    struct formula_type type = {0};
    double expected = 0;
    enum base_err err = BASE_OK;
    base_text_addf(out, "%s\n", practice_exercise_title(x, i));
    if (e->example->help)
        base_text_addf(out, "%s\n", e->example->help);
    if (e->example->like) {
        err = ask_set(x, e, out, why);
    } else {
        struct handbook_call c;
        if (handbook_call(x->h, e->try->tree, &c))
            ask_call(x->h, text, &c, out);
        else
            ask_expression(x->h, text, out);
        handbook_call_done(&c);
    }
    number_of(x->h, e->try->expect, NULL, &expected, &type);
    kind_of_answer(type.dim, out);
    base_text_add(out, "\n");
    return err;
}

/* ---- the answer ------------------------------------------------------------------------------ */

/* An answer that is given in fewer places agrees when the right one, so rounded, is the same; but not too
   coarsely. */
static bool agrees(double got, double expected, double within, double last_place)
{
    const double coarse = 0.005;
    double off = fabs(got - expected), size = fabs(expected);
    double exact = 1e-9 * size;
    return off <= within + exact || (off <= last_place / 2 + exact && off <= coarse * size);
}

/* One step of the last place that is typed, in base units: "12.50 kN" is 10 N. 0 when that cannot be told. */
static double last_place(const char *answer, double got)
{
    char *end;
    double typed = strtod(answer, &end);
    const char *point = strchr(answer, '.');
    if (end == answer || typed == 0 || memchr(answer, 'e', (size_t)(end - answer)))
        return 0;
    int decimals = point && point < end ? (int)(end - point) - 1 : 0;
    return fabs(got / typed) * pow(10, -decimals);
}

/* The unit in which the number typed would be right; NULL: none. */
static const char *right_unit(const char *answer, double got, double expected, double within,
                              struct unit_dim dim)
{
    char *end;
    double typed = strtod(answer, &end), place = got != 0 ? last_place(answer, got) * typed / got : 0;
    struct unit_dim d;
    double factor;
    const char *unit;
    for (int i = 0; typed != 0 && (unit = unit_at(i, &d, &factor)); i++)
        if (unit_same(d, dim) && agrees(typed * factor, expected, within, fabs(place) * factor))
            return unit;
    return NULL;
}

static bool near(double ratio, double to) { return fabs(ratio / to - 1) < 0.005; }

static void say_slip(const char *answer, double got, double expected, double within, struct unit_dim dim,
                     struct base_text *says)
{
    const char *unit = right_unit(answer, got, expected, within, dim);
    double ratio = expected != 0 ? got / expected : 0, tens = ratio > 0 ? round(log10(ratio)) : 0;
    if (unit)
        base_text_addf(says, "the number is right in %s; look at the unit.", unit);
    else if (ratio > 0 && tens != 0 && near(ratio, pow(10, tens)))
        base_text_addf(says, "off by a factor of %g: a decimal point, or kilo and mega.",
                       ratio > 1 ? round(ratio) : round(1 / ratio));
    else if (near(ratio, 2) || near(ratio, 0.5))
        base_text_addf(says, "that is %s: one side or both, radius or diameter, one or all?",
                       ratio > 1 ? "twice as much" : "half as much");
    else if (near(ratio, -1))
        base_text_add(says, "the sign is the other way round.");
    else
        base_text_addf(says, "not that: it is %s.", got > expected ? "less" : "more");
}

/* As people write a number: "= 176 kN." Yours to free(). */
static char *tidied(const char *answer)
{
    answer += strspn(answer, " =");
    size_t n = strlen(answer);
    while (n && (answer[n - 1] == ' ' ||
                 (answer[n - 1] == '.' && !isdigit((unsigned char)answer[n > 1 ? n - 2 : 0]))))
        n--;
    return base_copy_n(answer, n);
}

/* A unit of this table that is ANSWER's but for small and large letters, "KN"; NULL: none. */
static const char *unit_in_other_letters(const char *answer)
{
    struct unit_dim d;
    double factor;
    const char *unit, *end = answer + strlen(answer), *word = end;
    while (word > answer && isalpha((unsigned char)word[-1]))
        word--;
    for (int i = 0; *word && (unit = unit_at(i, &d, &factor)); i++)
        if (strcasecmp(unit, word) == 0 && strcmp(unit, word) != 0)
            return unit;
    return NULL;
}

/* Why ANSWER is not even looked at: it asks the handbook, or has a decimal comma. */
static bool is_no_answer(const struct handbook *h, const char *answer, struct base_text *says)
{
    if (asks_handbook(h, answer)) {
        base_text_add(says,
                      "that asks the handbook; work it out yourself, plain arithmetic with units will do.");
        return true;
    }
    const char *comma = strchr(answer, ',');
    if (!comma || comma == answer || !isdigit((unsigned char)comma[-1]) ||
        !isdigit((unsigned char)comma[1]) || strchr(answer, '('))
        return false;
    base_text_addf(says,
                   "a comma is not read, it may part thousands or decimals: write %.*s.%s, or leave it out.",
                   (int)(comma - answer), answer, comma + 1);
    return true;
}

static void say_unread(const char *answer, struct unit_dim dim, const struct base_diag *why,
                       struct base_text *says)
{
    const char *unit = unit_in_other_letters(answer);
    if (unit) {
        base_text_addf(
            says,
            "that cannot be read as a number with its unit: is %s meant? Small and large letters differ.",
            unit);
        return;
    }
    base_text_addf(says, "that cannot be read as a number with its unit%s%s The answer is ",
                   why->message[0] ? ": " : ".", why->message);
    kind_of_answer(dim, says);
}

static bool judge_answer(struct practice_exercises *x, int i, const char *answer, struct base_text *says)
{
    const struct exercise *e = &x->at.at[i];
    struct formula_type want = {0}, type = {0}, same;
    struct formula_value v;
    struct base_diag why = {0};
    double expected = 0, within = 0;
    char buf[80];
    number_of(x->h, e->try->expect, NULL, &expected, &want);
    number_of(x->h, e->try->within, &want, &within, &same);
    if (is_no_answer(x->h, answer, says))
        return false;
    if (handbook_eval(x->h, answer, &v, &type, &why) != BASE_OK || v.error) {
        say_unread(answer, want.dim, &why, says);
        return false;
    }
    bool number = type.sort == FORMULA_NUMBER;
    if (!number || !unit_same(type.dim, want.dim)) {
        if (number && unit_same(type.dim, UNIT_NUMBER))
            base_text_addf(says, "%s of what? The answer is ", answer);
        else
            base_text_addf(says, "that is %s; the answer is ",
                           number ? unit_dim_name(type.dim, buf, sizeof buf) : "no number");
        kind_of_answer(want.dim, says);
        return false;
    }
    if (!agrees(v.number, expected, within, last_place(answer, v.number))) {
        say_slip(answer, v.number, expected, within, want.dim, says);
        return false;
    }
    base_text_addf(says, "right: %s.", formula_text(e->try->expect));
    return true;
}

bool practice_exercise_answer(struct practice_exercises *x, int i, const char *answer, struct base_text *says)
{
    char *plain = tidied(answer);
    bool right = judge_answer(x, i, plain, says);
    free(plain);
    return right;
}

/* ---- the formula, as a hint ---------------------------------------------------------------------- */

struct hinted { const struct handbook *h; struct base_map seen; struct base_text *out; };

/* The functions that TEXT calls, those that they call first. */
static void hint_called(struct hinted *a, const char *text, int depth)
{
    for (int i = 0; depth > 0 && i < handbook_function_count(a->h); i++) {
        const struct formula_function *f = &handbook_function(a->h, i)->f;
        if (!names_function(text, f->name) || base_map_get(&a->seen, f->name, NULL))
            continue;
        base_map_put(&a->seen, f->name, i);
        for (int k = 0; k < f->n_lets; k++)
            hint_called(a, formula_text(f->lets[k].tree), depth - 1);
        if (f->gives)
            hint_called(a, formula_text(f->gives), depth - 1);
        for (int k = 0; k < f->n_lets; k++)
            base_text_addf(a->out, "  %s = %s\n", f->lets[k].name, formula_text(f->lets[k].tree));
        if (f->gives)
            base_text_addf(a->out, "  %s = %s\n", f->name, formula_text(f->gives));
    }
}

enum { CALLED = 3 }; /* levels of functions that a hint goes down */

static enum base_err hint_set(struct practice_exercises *x, const struct exercise *e, struct base_text *out,
                              struct base_diag *why)
{
    struct job_why_line *lines = base_alloc(WHY_LINES * sizeof *lines);
    enum base_err err = open_set(x, e->example, why);
    int n = err ? 0 : lines_of(x, e, lines, why);
    for (int i = 0; i < n; i++)
        if (!is_leaf(lines, n, i))
            base_text_addf(out, "  %s = %s\n", lines[i].label, lines[i].formula);
    struct hinted a = {.h = x->h, .out = out};
    if (n > 0)
        hint_called(&a, lines[0].formula, CALLED);
    base_map_done(&a.seen);
    free(lines);
    return n < 0 ? BASE_UNKNOWN : err;
}

enum base_err practice_exercise_hint(struct practice_exercises *x, int i, struct base_text *out,
                                     struct base_diag *why)
{
    const struct exercise *e = &x->at.at[i];
    base_text_add(out, "the formula:\n");
    if (e->example->like)
        return hint_set(x, e, out, why);
    struct hinted a = {.h = x->h, .out = out};
    hint_called(&a, formula_text(e->try->tree), CALLED);
    base_map_done(&a.seen);
    return BASE_OK;
}

/* ---- the working ------------------------------------------------------------------------------- */

struct filled { const struct handbook *h; const struct handbook_call *call; };

/* What stands for a name of the formula: the argument given for it, a factor's figure, else the name. */
static void print_argument(void *arg, const char *path, struct base_text *out)
{
    const struct filled *a = arg;
    const struct handbook_call *c = a->call;
    const struct formula_function *f = &c->function->f;
    int factor = handbook_find_factor(a->h, path);
    for (int i = 0; i < f->n_parameters && i < HANDBOOK_ARGUMENTS; i++) {
        if (strcmp(f->parameters[i].name, path) != 0)
            continue;
        const char *given = c->arguments[i]          ? c->arguments[i]
                            : f->parameters[i].usual ? formula_text(f->parameters[i].usual)
                                                     : path;
        base_text_addf(out, strpbrk(given, "+-*/^ ") && given[0] != '"' ? "(%s)" : "%s", given);
        return;
    }
    base_text_add(out, factor >= 0 ? formula_text(handbook_factor(a->h, factor)->tree) : path);
}

static void solve_call(const struct handbook *h, const struct handbook_call *c, struct base_text *out)
{
    struct filled a = {h, c};
    const struct formula_function *f = &c->function->f;
    for (int i = 0; i < f->n_lets; i++) {
        base_text_addf(out, "  %s = %s = ", f->lets[i].name, formula_text(f->lets[i].tree));
        formula_filled(f->lets[i].tree, print_argument, &a, out);
        base_text_add(out, "\n");
    }
    if (f->gives) {
        base_text_addf(out, "  %s = %s\n    = ", f->name, formula_text(f->gives));
        formula_filled(f->gives, print_argument, &a, out);
        base_text_add(out, "\n");
    }
}

static enum base_err solve_set(struct practice_exercises *x, const struct exercise *e, struct base_text *out,
                               struct base_diag *why)
{
    struct job_why_line *lines = base_alloc(WHY_LINES * sizeof *lines);
    enum base_err err = open_set(x, e->example, why);
    int n = err ? 0 : lines_of(x, e, lines, why);
    for (int i = 0; i < n; i++)
        if (!is_leaf(lines, n, i))
            base_text_addf(out, "  %s = %s\n    = %s\n    = %s\n", lines[i].label, lines[i].formula,
                           lines[i].filled[0] ? lines[i].filled : lines[i].formula, lines[i].value);
    free(lines);
    return n < 0 ? BASE_UNKNOWN : err;
}

static void solve_plain(struct practice_exercises *x, const struct exercise *e, struct base_text *out)
{
    struct formula_value v;
    struct formula_type type;
    struct handbook_call c;
    char buf[80];
    if (handbook_call(x->h, e->try->tree, &c))
        solve_call(x->h, &c, out);
    else
        base_text_addf(out, "  %s\n", formula_text(e->try->tree));
    if (handbook_eval_tree(x->h, e->try->tree, NULL, &v, &type, NULL) == BASE_OK)
        base_text_addf(out, "    = %s\n", handbook_print(x->h, v, type, UNIT_METRIC, buf, sizeof buf));
    if (c.function && c.function->source)
        base_text_addf(out, "formula: %s\n", c.function->source);
    handbook_call_done(&c);
}

/* As the example has it; where that asks the handbook, what it comes to. */
static void put_number(struct practice_exercises *x, const struct exercise *e, struct base_text *out)
{
    char buf[100];
    struct formula_value v;
    struct formula_type type;
    const char *text = formula_text(e->try->expect);
    if (asks_handbook(x->h, text) &&
        handbook_eval_tree(x->h, e->try->expect, NULL, &v, &type, NULL) == BASE_OK)
        text = handbook_print(x->h, v, type, UNIT_METRIC, buf, sizeof buf);
    base_text_addf(out, "the number: %s\n", text);
}

enum base_err practice_exercise_solve(struct practice_exercises *x, int i, struct base_text *out,
                                      struct base_diag *why)
{
    const struct exercise *e = &x->at.at[i];
    enum base_err err = BASE_OK;
    put_number(x, e, out);
    if (e->example->like)
        err = solve_set(x, e, out, why);
    else
        solve_plain(x, e, out);
    if (e->example->printed)
        base_text_addf(out, "printed: %s\n", e->example->printed);
    base_text_addf(out, "source: %s\n", e->example->source ? e->example->source : "none given");
    return err;
}
