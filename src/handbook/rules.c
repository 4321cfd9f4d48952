/* Rules and worked examples. */

#include "handbook/book.h"

#include <string.h>

/* ---- rules ------------------------------------------------------------------------------------- */

static void read_over(struct book_reader *r, const struct record *c, struct handbook_rule *rule)
{
    static const struct { const char *words; enum handbook_over over;
    } overs[] = {
        {"hole", HANDBOOK_EACH_HOLE},         {"two holes", HANDBOOK_EACH_PAIR},
        {"two bodies", HANDBOOK_EACH_BODIES}, {"typed_over", HANDBOOK_EACH_TYPED},
        {"weak_table", HANDBOOK_EACH_WEAK},   {"weak_tables", HANDBOOK_ALL_WEAK},
        {"guess", HANDBOOK_EACH_GUESS},
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
    book_only(r, c, "says");
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

static void read_mends(struct book_reader *r, const struct record *c, struct handbook_rule *rule)
{
    enum { MOST = 8 };
    const char **mends = base_arena_alloc(&r->h->memory, (MOST + 1) * sizeof *mends);
    rule->n_mends = book_split(r, c->rest, mends, MOST + 1);
    if (rule->n_mends > MOST)
        book_refuse(r, c, "More than %d quantities to mend cannot stand here.", MOST);
    rule->mends = mends;
}

void book_read_rule(struct book_reader *r, const struct record *at)
{
    enum { MOST = 8 };
    struct handbook_rule rule = {.name = at->rest,
                                 .over = HANDBOOK_ONCE,
                                 .kind = -1,
                                 .states = HANDBOOK_BOTH,
                                 .place = book_place(r, at)};
    struct handbook_rung *rungs = base_arena_alloc(&r->h->memory, MOST * sizeof *rungs);
    bool over = false;
    book_only(r, at,
              "title help once first each when state value within fault caution note says tells mend source");
    rule.title = book_title(r, at, at->rest);
    rule.help = book_help(r, at);
    rule.source = book_sources(r, at, rule.name, &rule.seen);
    rule.source = rule.source ? rule.source : "";
    for (const struct record *c = at->child; c && !r->failed; c = c->next) {
        enum handbook_grade grade;
        if (strcmp(c->key, "once") == 0 || strcmp(c->key, "each") == 0) {
            if (over)
                book_refuse(r, c, "What the rule is tried on is said twice.");
            if (c->key[0] == 'e')
                read_over(r, c, &rule);
            over = true;
        } else if (strcmp(c->key, "first") == 0)
            rule.first = true;
        else if (strcmp(c->key, "when") == 0)
            rule.when = book_tree(r, c, c->rest);
        else if (strcmp(c->key, "state") == 0) {
            rule.states = strcmp(c->rest, "new") == 0 ? HANDBOOK_NEW : HANDBOOK_GROUND;
            if (strcmp(c->rest, "new") != 0 && strcmp(c->rest, "ground") != 0)
                book_refuse(r, c, "A state is \"new\" or \"ground\".");
        } else if (strcmp(c->key, "value") == 0)
            rule.value = book_tree(r, c, c->rest);
        else if (strcmp(c->key, "within") == 0)
            rule.within = book_tree(r, c, c->rest);
        else if (strcmp(c->key, "mend") == 0)
            read_mends(r, c, &rule);
        else if (read_grade(c->key, &grade) && book_room(r, c, rule.n_rungs, MOST)) {
            if (rule.n_rungs && grade > rungs[rule.n_rungs - 1].grade)
                book_refuse(r, c, "Rungs stand gravest first: this %s would never speak behind a milder one.",
                            c->key);
            read_rung(r, c, grade, &rungs[rule.n_rungs++]);
        }
    }
    rule.says = book_joined(r, at, "says");
    rule.tells = book_joined(r, at, "tells");
    if (!r->failed && !over)
        book_refuse(r, at, "A rule says what it is tried on: \"once\" or \"each KIND\".");
    if (!r->failed && !rule.n_rungs)
        book_refuse(r, at, "A rule has at least one rung: \"fault unless ...\".");
    for (int i = 0; i < rule.n_rungs && !r->failed; i++)
        if (!rule.says.text && !rungs[i].says.text)
            book_refuse(r, at, "This rule says nothing when it fails: a line \"says\" is missing.");
    if (!r->failed && base_map_get(&r->h->rule_names, rule.name, NULL))
        book_refuse(r, at, "There is a rule \"%s\" already.", rule.name);
    if (!*rule.name || strchr(rule.name, ' '))
        book_refuse(r, at, "A rule has a name of one word.");
    if (rule.first && (rule.over != HANDBOOK_ONCE || !rule.value))
        book_refuse(r, at, "A rule that is looked at first is tried once and has a value.");
    if ((rule.over == HANDBOOK_EACH_PAIR || rule.over == HANDBOOK_EACH_BODIES) != (rule.within != NULL))
        book_refuse(r, at,
                    "A rule over each two holes or two bodies, and no other, says \"within\" which distance "
                    "to look.");
    rule.rungs = rungs;
    base_map_put(&r->h->rule_names, rule.name, (int)r->h->rules.count);
    base_vec_push(&r->h->rules, rule);
}

/* ---- worked examples ------------------------------------------------------------------------------- */

/* "7078 lbf within 1 lbf" */
static void read_expect(struct book_reader *r, const struct record *at, struct handbook_try *t)
{
    const struct record *c = record_find(at, "expect");
    book_only(r, at, "expect disagrees printed");
    if (!c) {
        book_refuse(r, at, "A try says what is expected.");
        return;
    }
    const char *within = strstr(c->rest, " within ");
    char *expect = base_arena_copy_n(&r->h->memory, c->rest,
                                     within ? (size_t)(within - c->rest) : strlen(c->rest));
    t->expect = book_tree(r, c, expect);
    t->within = within ? book_tree(r, c, within + strlen(" within ")) : NULL;
    t->disagrees = record_find(at, "disagrees") != NULL;
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

void book_read_example(struct book_reader *r, const struct record *at)
{
    enum { MOST = 40 };
    struct base_arena *m = &r->h->memory;
    struct handbook_example e = {.name = at->rest, .place = book_place(r, at), .help = book_help(r, at)};
    struct handbook_try *tries = base_arena_alloc(m, MOST * sizeof *tries);
    struct handbook_setting *settings = base_arena_alloc(m, MOST * sizeof *settings);
    book_only(r, at, "title help try printed source like with");
    e.title = book_title(r, at, at->rest);
    e.printed = record_joined(at, "printed", m);
    e.source = book_sources(r, at, e.name, &e.seen);
    e.source = e.source ? e.source : "";
    e.like = record_text(at, "like", NULL);
    for (const struct record *c = at->child; c && !r->failed; c = c->next) {
        if (strcmp(c->key, "try") == 0 && book_room(r, c, e.n_tries, MOST))
            read_try(r, c, &tries[e.n_tries++]);
        else if (strcmp(c->key, "with") == 0 && book_room(r, c, e.n_settings, MOST)) {
            char path[160];
            const char *rest = record_word(c->rest, path, sizeof path);
            if (*rest != '=')
                book_refuse(r, c, "A change to the template is written \"with path = formula\".");
            else
                settings[e.n_settings++] = (struct handbook_setting){base_arena_copy(m, path),
                                                                     book_tree(r, c, rest + 1)};
        }
    }
    if (!r->failed && !e.n_tries)
        book_refuse(r, at, "A worked example tries something.");
    for (int i = 0; i < e.n_tries; i++)
        if (!e.like && (tries[i].ground || e.n_settings))
            book_refuse(r, at,
                        "\"with\" and \"in ground\" need a whole set: a line \"like\" names its template.");
    if (!*e.name || strchr(e.name, ' '))
        book_refuse(r, at, "An example has a name of one word.");
    if (!r->failed && base_map_get(&r->h->example_names, e.name, NULL))
        book_refuse(r, at, "There is an example \"%s\" already.", e.name);
    e.tries = tries;
    e.settings = settings;
    base_map_put(&r->h->example_names, e.name, (int)r->h->examples.count);
    base_vec_push(&r->h->examples, e);
}
