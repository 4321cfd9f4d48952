/* Rules and worked examples. */

#include "handbook/book.h"

#include <stddef.h>
#include <string.h>

/* ---- rules ------------------------------------------------------------------------------------- */

static void read_over(struct book_reader *r, const struct record *c, struct handbook_rule *rule)
{
    static const struct { const char *words; enum handbook_over over;
    } overs[] = {
        {"joint", HANDBOOK_EACH_JOINT},      {"hole", HANDBOOK_EACH_HOLE},
        {"two holes", HANDBOOK_EACH_PAIR},   {"two bodies", HANDBOOK_EACH_BODIES},
        {"typed_over", HANDBOOK_EACH_TYPED}, {"weak_table", HANDBOOK_EACH_WEAK},
        {"weak_tables", HANDBOOK_ALL_WEAK},  {"guess", HANDBOOK_EACH_GUESS},
    };
    for (size_t i = 0; i < COUNT_OF(overs); i++)
        if (strcmp(c->rest, overs[i].words) == 0) {
            rule->over = overs[i].over;
            return;
        }
    rule->over = HANDBOOK_EACH_KIND;
    if (!base_map_get(&r->h->kind_names, c->rest, &rule->kind))
        book_refuse(r, c, "There is no kind \"%s\" for this rule.", c->rest);
}

static bool read_grade(const char *word, enum handbook_grade *out)
{
    for (int g = HANDBOOK_NOTE; g <= HANDBOOK_FAULT; g++)
        if (strcmp(handbook_grade_text((enum handbook_grade)g), word) == 0) {
            *out = (enum handbook_grade)g;
            return true;
        }
    return false;
}

static const struct book_word rung_words[] = {{.word = "says", .several = true}};
const struct book_vocabulary book_rung_words = BOOK_VOCABULARY("fault, caution, note", rung_words);

/* "unless at least FORMULA" or "unless FORMULA" */
static void read_rung(struct book_reader *r, const struct record *c, enum handbook_grade grade,
                      struct handbook_rung *g)
{
    static const struct { const char *words; enum formula_relation relation;
    } relations[] = {
        {"at least ", FORMULA_AT_LEAST},
        {"at most ", FORMULA_AT_MOST},
        {"more than ", FORMULA_MORE},
        {"less than ", FORMULA_LESS},
    };
    *g = (struct handbook_rung){.grade = grade, .yesno = true};
    book_lines(r, c, &book_rung_words, NULL);
    if (strncmp(c->rest, "unless ", 7) != 0) {
        book_refuse(r, c, "A rung is written \"%s unless at least FORMULA\", or \"%s unless FORMULA\".",
                    c->key, c->key);
        return;
    }
    const char *rest = c->rest + 7;
    for (size_t i = 0; i < COUNT_OF(relations); i++)
        if (strncmp(rest, relations[i].words, strlen(relations[i].words)) == 0) {
            rest += strlen(relations[i].words);
            g->relation = relations[i].relation;
            g->yesno = false;
            break;
        }
    g->tree = book_tree(r, c, rest);
    g->says = book_joined(r, c, "says");
}

enum { MOST_RUNGS = 8, MOST_MENDS = 8 };

struct rule_parts {
    struct handbook_rule rule;
    struct handbook_rung *rungs;
    bool over; /* what it is tried on is said */
};

static void read_mends(struct book_reader *r, const struct record *c, const struct book_word *word,
                       void *into)
{
    struct rule_parts *parts = into;
    (void)word;
    const char **mends = base_arena_alloc(&r->h->memory, (MOST_MENDS + 1) * sizeof *mends);
    parts->rule.n_mends = book_split(r, c->rest, mends, MOST_MENDS + 1);
    if (parts->rule.n_mends > MOST_MENDS)
        book_refuse(r, c, "More than %d quantities to mend cannot stand here.", MOST_MENDS);
    parts->rule.mends = mends;
}

/* "once", or "each" and what */
static void read_tried_on(struct book_reader *r, const struct record *c, const struct book_word *word,
                          void *into)
{
    struct rule_parts *parts = into;
    if (parts->over)
        book_refuse(r, c, "What the rule is tried on is said twice.");
    if (strcmp(word->word, "each") == 0)
        read_over(r, c, &parts->rule);
    parts->over = true;
}

static void read_state(struct book_reader *r, const struct record *c, const struct book_word *word,
                       void *into)
{
    struct rule_parts *parts = into;
    (void)word;
    parts->rule.states = strcmp(c->rest, "new") == 0 ? HANDBOOK_NEW : HANDBOOK_GROUND;
    if (strcmp(c->rest, "new") != 0 && strcmp(c->rest, "ground") != 0)
        book_refuse(r, c, "A state is \"new\" or \"ground\".");
}

static void add_rung(struct book_reader *r, const struct record *c, const struct book_word *word, void *into)
{
    struct rule_parts *parts = into;
    struct handbook_rule *rule = &parts->rule;
    enum handbook_grade grade = HANDBOOK_NOTE;
    if (!read_grade(word->word, &grade) || !book_room(r, c, rule->n_rungs, MOST_RUNGS))
        return;
    if (rule->n_rungs && grade > parts->rungs[rule->n_rungs - 1].grade)
        book_refuse(r, c, "Rungs stand gravest first: this %s would never speak behind a milder one.",
                    c->key);
    read_rung(r, c, grade, &parts->rungs[rule->n_rungs++]);
}

#define RULE_FIELD(name, reader)                                                       \
    {                                                                                  \
        .word = #name, .read = reader,                                                 \
        .at = offsetof(struct rule_parts, rule) + offsetof(struct handbook_rule, name) \
    }

static const struct book_word rule_words[] = {
    {.word = "title"},
    {.word = "help", .several = true},
    RULE_FIELD(first, book_flag),
    {.word = "once", .read = read_tried_on},
    {.word = "each", .several = true, .read = read_tried_on}, /* a second is refused for what it says */
    RULE_FIELD(told_with, book_text),
    RULE_FIELD(when, book_formula),
    {.word = "state", .read = read_state},
    RULE_FIELD(value, book_formula),
    RULE_FIELD(within, book_formula),
    {.word = "fault", .several = true, .read = add_rung},
    {.word = "caution", .several = true, .read = add_rung},
    {.word = "note", .several = true, .read = add_rung},
    {.word = "says", .several = true},
    {.word = "tells"},
    {.word = "mend", .read = read_mends},
    {.word = "source", .several = true},
};
const struct book_vocabulary book_rule_words = BOOK_VOCABULARY("rule", rule_words);

/* What the parts of a rule say of each other. */
static void check_rule(struct book_reader *r, const struct record *at, const struct rule_parts *parts)
{
    const struct handbook_rule *rule = &parts->rule;
    if (!r->failed && !parts->over)
        book_refuse(r, at, "A rule says what it is tried on: \"once\" or \"each KIND\".");
    if (!r->failed && !rule->n_rungs)
        book_refuse(r, at, "A rule has at least one rung: \"fault unless ...\".");
    for (int i = 0; i < rule->n_rungs && !r->failed; i++)
        if (!rule->says.text && !parts->rungs[i].says.text)
            book_refuse(r, at, "This rule says nothing when it fails: a line \"says\" is missing.");
    if (!r->failed && base_map_get(&r->h->rule_names, rule->name, NULL))
        book_refuse(r, at, "There is a rule \"%s\" already.", rule->name);
    if (!*rule->name || strchr(rule->name, ' '))
        book_refuse(r, at, "A rule has a name of one word.");
    if (rule->first && (rule->over != HANDBOOK_ONCE || !rule->value))
        book_refuse(r, at, "A rule that is looked at first is tried once and has a value.");
    int with;
    if (rule->told_with && (!base_map_get(&r->h->rule_names, rule->told_with, &with) ||
                            !r->h->rules.at[with].within || !rule->within))
        book_refuse(r, at,
                    "A rule is told with one over two holes or two bodies that stands before it, and is over "
                    "two of them itself.");
    if ((rule->over == HANDBOOK_EACH_PAIR || rule->over == HANDBOOK_EACH_BODIES) != (rule->within != NULL))
        book_refuse(r, at,
                    "A rule over each two holes or two bodies, and no other, says \"within\" which distance "
                    "to look.");
}

void book_read_rule(struct book_reader *r, const struct record *at)
{
    struct rule_parts parts = {.rule = {.name = at->rest,
                                        .over = HANDBOOK_ONCE,
                                        .kind = -1,
                                        .states = HANDBOOK_BOTH,
                                        .place = book_place(r, at)},
                               .rungs = base_arena_alloc(&r->h->memory, MOST_RUNGS * sizeof *parts.rungs)};
    struct handbook_rule *rule = &parts.rule;
    rule->title = book_title(r, at, at->rest);
    rule->help = book_help(r, at);
    book_lines(r, at, &book_rule_words, &parts);
    rule->source = book_sources(r, at, rule->name, &rule->seen);
    rule->source = rule->source ? rule->source : "";
    rule->says = book_joined(r, at, "says");
    rule->tells = book_joined(r, at, "tells");
    rule->rungs = parts.rungs;
    check_rule(r, at, &parts);
    base_map_put(&r->h->rule_names, rule->name, (int)r->h->rules.count);
    base_vec_push(&r->h->rules, *rule);
}

/* ---- worked examples ------------------------------------------------------------------------------- */

static const struct book_word try_words[] = {
    {.word = "expect"},
    {.word = "disagrees", .read = book_flag, .at = offsetof(struct handbook_try, disagrees)},
};
const struct book_vocabulary book_try_words = BOOK_VOCABULARY("try", try_words);

/* "7078 lbf within 1 lbf" */
static void read_expect(struct book_reader *r, const struct record *at, struct handbook_try *t)
{
    const struct record *c = record_find(at, "expect");
    book_lines(r, at, &book_try_words, t);
    if (!c) {
        book_refuse(r, at, "A try says what is expected.");
        return;
    }
    const char *within = strstr(c->rest, " within ");
    char *expect = base_arena_copy_n(&r->h->memory, c->rest,
                                     within ? (size_t)(within - c->rest) : strlen(c->rest));
    t->expect = book_tree(r, c, expect);
    t->within = within ? book_tree(r, c, within + strlen(" within ")) : NULL;
}

static void read_try(struct book_reader *r, const struct record *at, struct handbook_try *t)
{
    static const char in_ground[] = " in ground";
    size_t n = strlen(at->rest), m = strlen(in_ground);
    *t = (struct handbook_try){0};
    if (n > m && strcmp(at->rest + n - m, in_ground) == 0) {
        t->ground = true;
        n -= m;
    }
    t->tree = book_tree(r, at, base_arena_copy_n(&r->h->memory, at->rest, n));
    if (!r->failed)
        read_expect(r, at, t);
}

enum { MOST_TRIES = 40 }; /* and changes */

struct example_parts {
    struct handbook_example e;
    struct handbook_try *tries;
    struct handbook_setting *settings;
};

static void add_try(struct book_reader *r, const struct record *c, const struct book_word *word, void *into)
{
    struct example_parts *parts = into;
    (void)word;
    if (book_room(r, c, parts->e.n_tries, MOST_TRIES))
        read_try(r, c, &parts->tries[parts->e.n_tries++]);
}

static void add_setting(struct book_reader *r, const struct record *c, const struct book_word *word,
                        void *into)
{
    struct example_parts *parts = into;
    (void)word;
    char path[160];
    const char *rest = record_word(c->rest, path, sizeof path);
    if (!book_room(r, c, parts->e.n_settings, MOST_TRIES))
        return;
    if (*rest != '=')
        book_refuse(r, c, "A change to the template is written \"with path = formula\".");
    else
        parts->settings[parts->e.n_settings++] =
            (struct handbook_setting){base_arena_copy(&r->h->memory, path), book_tree(r, c, rest + 1)};
}

static const struct book_word example_words[] = {
    {.word = "title"},
    {.word = "help", .several = true},
    {.word = "like", .read = book_text, .at = offsetof(struct example_parts, e.like)},
    {.word = "with", .several = true, .read = add_setting},
    {.word = "try", .several = true, .read = add_try},
    {.word = "printed", .several = true},
    {.word = "source", .several = true},
};
const struct book_vocabulary book_example_words = BOOK_VOCABULARY("example", example_words);

void book_read_example(struct book_reader *r, const struct record *at)
{
    struct base_arena *m = &r->h->memory;
    struct example_parts parts = {
        .e = {.name = at->rest, .place = book_place(r, at), .help = book_help(r, at)},
        .tries = base_arena_alloc(m, MOST_TRIES * sizeof *parts.tries),
        .settings = base_arena_alloc(m, MOST_TRIES * sizeof *parts.settings)};
    struct handbook_example *e = &parts.e;
    e->title = book_title(r, at, at->rest);
    book_lines(r, at, &book_example_words, &parts);
    e->printed = record_joined(at, "printed", m);
    e->source = book_sources(r, at, e->name, &e->seen);
    e->source = e->source ? e->source : "";
    if (!r->failed && !e->n_tries)
        book_refuse(r, at, "A worked example tries something.");
    for (int i = 0; i < e->n_tries; i++)
        if (!e->like && (parts.tries[i].ground || e->n_settings))
            book_refuse(r, at,
                        "\"with\" and \"in ground\" need a whole set: a line \"like\" names its template.");
    if (!*e->name || strchr(e->name, ' '))
        book_refuse(r, at, "An example has a name of one word.");
    if (!r->failed && base_map_get(&r->h->example_names, e->name, NULL))
        book_refuse(r, at, "There is an example \"%s\" already.", e->name);
    e->tries = parts.tries;
    e->settings = parts.settings;
    base_map_put(&r->h->example_names, e->name, (int)r->h->examples.count);
    base_vec_push(&r->h->examples, *e);
}
