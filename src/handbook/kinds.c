/* Kinds: properties, holes, bodies, order lines, events. */

#include "handbook/book.h"

#include <stdlib.h>
#include <string.h>

static bool is_choice(const struct handbook_property *p, int n, const char *text)
{
    for (int i = 0; i < n; i++)
        if (strcmp(p->choices[i], text) == 0)
            return true;
    return false;
}

static void read_choices(struct book_reader *r, const struct record *at, struct handbook_property *p)
{
    enum { MOST = 24 };
    const struct record *line = record_find(at, "choices");
    if (!line)
        return;
    const char *parts[MOST + 1];
    int n = book_split(r, line->rest, parts, MOST + 1);
    const char **choices = base_arena_alloc(&r->h->memory, (size_t)(n + 1) * sizeof *choices);
    p->choices = choices;
    if (n > MOST)
        book_refuse(r, line, "More than %d choices cannot stand here.", MOST);
    for (int i = 0; i < n && !r->failed; i++) {
        size_t length = strlen(parts[i]);
        bool quoted = length >= 2 && parts[i][0] == '"' && strchr(parts[i] + 1, '"') == parts[i] + length - 1;
        choices[i] = quoted ? base_arena_copy_n(&r->h->memory, parts[i] + 1, length - 2) : "";
        if (!quoted)
            book_refuse_word(r, line, parts[i], "Choices are texts in double quotes, parted by commas.");
        else if (is_choice(p, i, choices[i]))
            book_refuse_word(r, line, parts[i], "The choice %s stands here twice.", parts[i]);
    }
    p->n_choices = n;
    book_only(r, line, "");
}

static void read_from(struct book_reader *r, const struct record *at, struct handbook_property *p)
{
    const struct record *line = record_find(at, "from");
    if (!line)
        return;
    const char *dot = strchr(line->rest, '.');
    if (!dot) {
        book_refuse(r, line, "Where sizes are picked from is written \"from table.column\".");
        return;
    }
    p->from_table = base_arena_copy_n(&r->h->memory, line->rest, (size_t)(dot - line->rest));
    p->from_column = dot + 1;
    int table = table_find(r->h->tables, p->from_table);
    int column = table < 0 ? -1 : table_column(r->h->tables, table, p->from_column);
    if (column < 0) {
        if (r->h->folder)
            book_refuse(r, line, "There is no column %s in a table %s.", p->from_column, p->from_table);
        return;
    }
    const struct table_column_spec *c = &table_spec(r->h->tables, table)->columns[column];
    bool text = p->type.type.sort == FORMULA_TEXT, number = p->type.type.sort == FORMULA_NUMBER;
    if (!(c->is_text ? text : number && unit_same(c->dim, p->type.type.dim)))
        book_refuse(r, line, "%s and the column %s are not of one dimension.", p->name, line->rest);
}

static void read_decimals(struct book_reader *r, const struct record *at, struct handbook_property *p)
{
    const struct record *line = record_find(at, "decimals");
    if (!line)
        return;
    if (line->rest[0] < '0' || line->rest[0] > '6' || line->rest[1])
        book_refuse(r, line, "Decimals are a whole number from 0 to 6.");
    p->decimals = line->rest[0] - '0';
}

/* What type, formula and choices of one property say of each other. */
static void check_property(struct book_reader *r, const struct record *at, const struct handbook_property *p)
{
    bool choice = p->type.sort == HANDBOOK_CHOICE, measure = p->how == HANDBOOK_MEASURE;
    const char *text;
    if (choice && !p->n_choices)
        book_refuse(r, at, "A choice needs its line of choices.");
    if (!choice && p->n_choices)
        book_refuse(r, at, "%s has choices: its type is choice.", p->name);
    if (choice && p->tree && formula_is_text(p->tree, &text) && !is_choice(p, p->n_choices, text))
        book_refuse_word(r, at, text, "\"%s\" is not among the choices.", text);
    if ((p->how == HANDBOOK_USUAL || p->how == HANDBOOK_FOLLOWS) && !p->tree)
        book_refuse(r, at, "\"%s\" has a formula: \"%s %s : type = formula\".", at->key, at->key, p->name);
    if (measure && p->tree)
        book_refuse(r, at, "A measure is worked out by geometry and has no formula.");
}

static struct handbook_property read_property(struct book_reader *r, const struct record *at,
                                              enum handbook_how how, const char *group)
{
    struct handbook_property p = {.how = how, .group = group, .place = book_place(r, at), .decimals = -1};
    book_only(r, at, "title help choices from range source decimals detail given when");
    if (!book_declaration(r, at, &p.name, &p.type, &p.tree))
        return p;
    p.title = book_title(r, at, p.name);
    p.help = book_help(r, at);
    p.source = book_sources(r, at, p.name, &p.seen);
    p.plain = !record_find(at, "detail");
    p.given = record_find(at, "given") != NULL;
    const struct record *when = record_find(at, "when");
    p.when = when && !r->failed ? book_tree(r, when, when->rest) : NULL;
    read_decimals(r, at, &p);
    read_choices(r, at, &p);
    read_from(r, at, &p);
    book_range(r, at, &p.low, &p.high);
    check_property(r, at, &p);
    return p;
}

/* ---- holes ---------------------------------------------------------------------------------- */

/* "in head_in" or "in each plate, order > head_in.order, moves = ..." */
static void read_in(struct book_reader *r, const struct record *at, struct handbook_hole *h)
{
    enum { MOST = 8 };
    static const struct { const char *sign; enum formula_relation relation; } signs[] = {
        {"<=", FORMULA_AT_MOST}, {">=", FORMULA_AT_LEAST}, {"!=", FORMULA_UNEQUAL},
        {"<", FORMULA_LESS}, {">", FORMULA_MORE}, {"=", FORMULA_EQUAL},
    };
    if (strncmp(at->rest, "each ", 5) != 0) {
        h->in = book_tree(r, at, at->rest);
        return;
    }
    const char *parts[MOST + 1];
    int n = book_split(r, at->rest + 5, parts, MOST + 1);
    struct handbook_match *matches = base_arena_alloc(&r->h->memory, MOST * sizeof *matches);
    h->each = parts[0];
    if (strcmp(h->each, "plate") != 0 || !base_map_get(&r->h->kind_names, "plate", NULL))
        book_refuse_word(r, at, h->each, "Holes go into plates: \"in each plate\", then matches.");
    if (n > MOST)
        book_refuse(r, at, "More than %d matches cannot stand here.", MOST);
    for (int i = 1; i < n && !r->failed; i++) {
        char column[80];
        const char *rest = record_word(parts[i], column, sizeof column);
        size_t s = 0;
        while (s < COUNT_OF(signs) && strncmp(rest, signs[s].sign, strlen(signs[s].sign)) != 0)
            s++;
        if (s == COUNT_OF(signs)) {
            book_refuse_word(r, at, parts[i], "\"%s\" is no match: property, relation, formula.", parts[i]);
            return;
        }
        matches[h->n_matches++] = (struct handbook_match){base_arena_copy(&r->h->memory, column),
                                                          signs[s].relation,
                                                          book_tree(r, at, rest + strlen(signs[s].sign))};
    }
    h->matches = matches;
}

/* What a hole and a body say alike. */
static void read_shape(struct book_reader *r, const struct record *at, struct handbook_hole *h)
{
    const struct { const char *key; const struct formula_tree **tree;
    } fields[] = {
        {"x", &h->x},
        {"y", &h->y},
        {"diameter", &h->diameter},
        {"length", &h->length},
        {"width", &h->width},
        {"corner", &h->corner},
        {"from_top", &h->from_top},
        {"start", &h->start},
        {"depth", &h->depth},
        {"outline", &h->outline},
        {"thread_depth", &h->thread_depth},
        {"fit", &h->fit},
        {"thread", &h->thread},
        {"nominal", &h->nominal},
        {"room", &h->room},
        {"turn", &h->turn},
        {"from", &h->from},
        {"to", &h->to},
        {"bore", &h->bore},
    };
    h->title = book_title(r, at, at->rest);
    for (const struct record *c = at->child; c && !r->failed; c = c->next) {
        if (strcmp(c->key, "in") == 0)
            read_in(r, c, h);
        else if (strcmp(c->key, "on") == 0)
            h->in = book_tree(r, c, c->rest);
        else if (strcmp(c->key, "fastens") == 0)
            h->fastens = true;
        else if (strcmp(c->key, "letter") == 0)
            h->letter = book_letter(r, c);
        else if (strcmp(c->key, "when") == 0)
            h->when = book_tree(r, c, c->rest);
        else if (strcmp(c->key, "repeat") == 0)
            h->repeat = book_tree(r, c, c->rest);
        for (size_t i = 0; i < COUNT_OF(fields); i++)
            if (strcmp(c->key, fields[i].key) == 0)
                *fields[i].tree = book_equals(r, c);
    }
    if (!h->length != !h->width || !!h->length + !!h->diameter + !!h->outline != 1)
        book_refuse(r, at, "A %s has a diameter, or a length and a width, or an outline.", at->key);
    if (h->corner && !h->length)
        book_refuse(r, at, "Only a %s with length and width has corners.", at->key);
    if (h->turn && h->diameter)
        book_refuse(r, at, "A round %s is not turned.", at->key);
}

static void read_hole(struct book_reader *r, const struct record *at, struct handbook_hole *h)
{
    *h = (struct handbook_hole){.operation = at->rest, .place = book_place(r, at)};
    book_only(r, at,
              "title in fastens letter when repeat x y diameter length width corner outline turn from_top "
              "start depth thread_depth fit thread nominal room");
    if (!*at->rest)
        book_refuse(r, at, "The operation that makes the hole stands behind \"hole\".");
    if (!record_find(at, "in"))
        book_refuse(r, at, "A hole says which plate it is in.");
    read_shape(r, at, h);
}

static void read_body(struct book_reader *r, const struct record *at, struct handbook_hole *h)
{
    *h = (struct handbook_hole){.operation = at->rest, .place = book_place(r, at)};
    book_only(r, at,
              "title on letter when repeat x y diameter length width corner outline turn from to bore");
    if (!*at->rest)
        book_refuse(r, at, "The name of the body stands behind \"body\".");
    if (!record_find(at, "on") || !record_find(at, "from") || !record_find(at, "to"))
        book_refuse(r, at, "A body says which plate it stands on, and its heights \"from\" and \"to\".");
    read_shape(r, at, h);
}

static void read_order(struct book_reader *r, const struct record *at, struct handbook_order *o)
{
    *o = (struct handbook_order){.designation = book_template(r, at, at->rest),
                                 .table = record_text(at, "table", NULL)};
    book_only(r, at, "when size material pieces mass table note");
    for (const struct record *c = at->child; c && !r->failed; c = c->next) {
        if (strcmp(c->key, "when") == 0)
            o->when = book_tree(r, c, c->rest);
        else if (strcmp(c->key, "pieces") == 0)
            o->pieces = book_tree(r, c, c->rest);
        else if (strcmp(c->key, "mass") == 0)
            o->mass = book_tree(r, c, c->rest);
        else if (strcmp(c->key, "size") == 0)
            o->size = book_template(r, c, c->rest);
        else if (strcmp(c->key, "material") == 0)
            o->material = book_template(r, c, c->rest);
        else if (strcmp(c->key, "note") == 0)
            o->note = book_template(r, c, c->rest);
    }
}

static void read_event(struct book_reader *r, const struct record *at, struct handbook_event *e)
{
    *e = (struct handbook_event){.title = book_template(r, at, at->rest)};
    book_only(r, at, "when at");
    const struct record *where = record_find(at, "at"), *when = record_find(at, "when");
    if (!where)
        book_refuse(r, at, "An event has a ram height: a line \"at formula\".");
    e->at = where && !r->failed ? book_tree(r, where, where->rest) : NULL;
    e->when = when && !r->failed ? book_tree(r, when, when->rest) : NULL;
}

static void read_motion(struct book_reader *r, const struct record *at, struct handbook_motion *m)
{
    *m = (struct handbook_motion){.place = book_place(r, at)};
    book_only(r, at, "title help when least most whole judged note");
    if (!book_declaration(r, at, &m->name, &m->type, &m->tree))
        return;
    if (!m->tree)
        book_refuse(r, at, "A motion has a formula: \"motion %s : type = formula\".", m->name);
    const struct { const char *key; const struct formula_tree **tree;
    } lines[] = {
        {"when", &m->when},   {"least", &m->least},   {"most", &m->most},
        {"whole", &m->whole}, {"judged", &m->judged},
    };
    for (size_t i = 0; i < COUNT_OF(lines); i++) {
        const struct record *line = record_find(at, lines[i].key);
        *lines[i].tree = line && !r->failed ? book_tree(r, line, line->rest) : NULL;
    }
    const struct record *note = record_find(at, "note");
    if (note && !r->failed)
        m->note = book_template(r, note, note->rest);
    m->title = book_title(r, at, m->name);
    m->help = book_help(r, at);
}

/* ---- what a new item begins with ---------------------------------------------------------------- */

typedef BASE_VEC(struct handbook_begun) begun_list;

static void add_begun(struct book_reader *r, const struct record *at, const char *entry, const char *pattern,
                      const struct formula_tree *tree, begun_list *out)
{
    struct handbook_begun b = {base_arena_copy(&r->h->memory, entry), pattern, tree, book_place(r, at)};
    if (!r->failed)
        base_vec_push(out, b);
}

/* "lay PATTERN on FORMULA", below it what the pattern takes */
static void read_begun_lay(struct book_reader *r, const struct record *at, begun_list *out)
{
    char pattern[64], on[8];
    const char *plate = record_word(record_word(at->rest, pattern, sizeof pattern), on, sizeof on);
    if (strcmp(on, "on") != 0 || !*plate) {
        book_refuse(r, at, "How a new item is laid is written \"lay PATTERN on PLATE\".");
        return;
    }
    add_begun(r, at, "lay", base_arena_copy(&r->h->memory, pattern), book_tree(r, at, plate), out);
    for (const struct record *c = at->child; c && !r->failed; c = c->next)
        add_begun(r, c, base_arena_format(&r->h->memory, "lay/%s", c->key), NULL, book_equals(r, c), out);
}

static void read_begun(struct book_reader *r, const struct record *at, begun_list *out)
{
    for (const struct record *c = at->child; c && !r->failed; c = c->next)
        if (strcmp(c->key, "lay") == 0)
            read_begun_lay(r, c, out);
        else
            add_begun(r, c, c->key, NULL, book_equals(r, c), out);
}

/* "words by on says": the kind's lines, each a text as it stands. */
static void read_words(struct book_reader *r, const struct record *at, struct handbook_kind *k)
{
    enum { MOST = 12 };
    const char **words = base_arena_alloc(&r->h->memory, MOST * sizeof *words);
    char word[80];
    for (const char *rest = record_word(at->rest, word, sizeof word); *word;
         rest = record_word(rest, word, sizeof word)) {
        if (!record_is_name(word) || k->n_words == MOST) {
            book_refuse_word(r, at, word,
                             "The lines of a kind of words are up to %d names, parted by blanks.", MOST);
            return;
        }
        words[k->n_words++] = base_arena_copy(&r->h->memory, word);
    }
    k->words = words;
    if (!k->n_words)
        book_refuse(r, at, "The names of the lines stand behind \"words\".");
}

/* ---- cards ---- */

static struct handbook_card_column read_card_column(struct book_reader *r, const struct record *at)
{
    book_only(r, at, "name heading");
    const char *name = record_text(at, "name", at->rest);
    return (struct handbook_card_column){name, record_text(at, "heading", name), at->rest};
}

/* "each KIND sentence": the kind may stand further down in the book, its name is known. */
static struct handbook_card_each read_card_each(struct book_reader *r, const struct record *at)
{
    char kind[80];
    const char *says = record_word(at->rest, kind, sizeof kind);
    struct handbook_card_each e = {.kind = -1};
    if (!base_map_get(&r->h->kind_names, kind, &e.kind) || !*says)
        book_refuse(r, at, "A sentence for each item is written \"each KIND sentence\".");
    else
        e.says = book_template(r, at, says);
    return e;
}

static void read_outline(struct book_reader *r, const struct record *at, struct handbook_kind *k)
{
    book_only(r, at, "when");
    const struct record *when = record_find(at, "when");
    k->outlines = true;
    k->outlines_when = when && !r->failed ? book_tree(r, when, when->rest) : NULL;
}

static void read_card(struct book_reader *r, const struct record *at, struct handbook_card *card)
{
    BASE_VEC(struct handbook_card_column) columns = {0};
    BASE_VEC(struct handbook_template) above = {0}, below = {0};
    BASE_VEC(struct handbook_card_each) each = {0};
    *card = (struct handbook_card){.none = record_text(at, "none", ""), .place = book_place(r, at)};
    book_only(r, at, "none above below column each");
    for (const struct record *c = at->child; c && !r->failed; c = c->next) {
        if (strcmp(c->key, "column") == 0)
            base_vec_push(&columns, read_card_column(r, c));
        else if (strcmp(c->key, "above") == 0)
            base_vec_push(&above, book_template(r, c, c->rest));
        else if (strcmp(c->key, "below") == 0)
            base_vec_push(&below, book_template(r, c, c->rest));
        else if (strcmp(c->key, "each") == 0)
            base_vec_push(&each, read_card_each(r, c));
    }
    if (!r->failed && !columns.count)
        book_refuse(r, at, "A card has columns: \"column PROPERTY\".");
    BOOK_TAKE_OVER(r->h, card->columns, card->n_columns, columns);
    BOOK_TAKE_OVER(r->h, card->above, card->n_above, above);
    BOOK_TAKE_OVER(r->h, card->below, card->n_below, below);
    BOOK_TAKE_OVER(r->h, card->each, card->n_each, each);
}

/* The columns of a card are properties of its kind, which stand below it. */
static void check_card(struct book_reader *r, const struct record *at, const struct handbook_kind *k)
{
    for (int i = 0; i < k->card.n_columns && !r->failed; i++)
        if (handbook_find_property(k, k->card.columns[i].property) < 0)
            book_refuse_word(r, record_find(at, "card"), k->card.columns[i].property,
                             "The card has a column %s, and the kind has no such property.",
                             k->card.columns[i].property);
}

/* ---- the kind ------------------------------------------------------------------------------------ */

struct kind_parts {
    BASE_VEC(struct handbook_property) properties;
    BASE_VEC(struct handbook_caution) cautions;
    BASE_VEC(struct handbook_hole) holes, bodies;
    BASE_VEC(struct handbook_order) orders;
    BASE_VEC(struct handbook_event) events;
    BASE_VEC(struct handbook_motion) motions;
    begun_list begun;
    struct base_map names;
};

static void add_property(struct book_reader *r, const struct record *c, enum handbook_how how,
                         const char *group, struct kind_parts *parts)
{
    struct handbook_property p = read_property(r, c, how, group);
    if (r->failed)
        return;
    if (base_map_get(&parts->names, p.name, NULL))
        book_refuse(r, c, "This kind has a \"%s\" already.", p.name);
    base_map_put(&parts->names, p.name, 1);
    base_vec_push(&parts->properties, p);
}

static bool read_line(struct book_reader *r, const struct record *c, struct handbook_kind *k,
                      struct kind_parts *parts, const char **group)
{
    static const struct { const char *key; enum handbook_how how;
    } hows[] = {
        {"asked", HANDBOOK_ASKED},
        {"usual", HANDBOOK_USUAL},
        {"follows", HANDBOOK_FOLLOWS},
        {"measure", HANDBOOK_MEASURE},
    };
    for (size_t i = 0; i < COUNT_OF(hows); i++)
        if (strcmp(c->key, hows[i].key) == 0) {
            add_property(r, c, hows[i].how, *group, parts);
            return true;
        }
    if (strcmp(c->key, "group") == 0)
        *group = c->rest;
    else if (strcmp(c->key, "single") == 0)
        k->single = true;
    else if (strcmp(c->key, "given") == 0)
        k->given = true;
    else if (strcmp(c->key, "values") == 0)
        k->values = true;
    else if (strcmp(c->key, "words") == 0)
        read_words(r, c, k);
    else if (strcmp(c->key, "rows") == 0)
        k->rows = true;
    else if (strcmp(c->key, "lay") == 0)
        k->lays = true;
    else if (strcmp(c->key, "outline") == 0)
        read_outline(r, c, k);
    else if (strcmp(c->key, "letter") == 0)
        k->letter = book_letter(r, c);
    else if (strcmp(c->key, "plural") == 0)
        k->plural = c->rest;
    else if (strcmp(c->key, "stamp") == 0)
        k->stamp = book_template(r, c, c->rest);
    else if (strcmp(c->key, "card") == 0)
        read_card(r, c, &k->card);
    else if (strcmp(c->key, "begins") == 0)
        read_begun(r, c, &parts->begun);
    else if (strcmp(c->key, "caution") == 0) {
        struct handbook_caution caution = book_caution(r, c, k->name);
        base_vec_push(&parts->cautions, caution);
    } else if (strcmp(c->key, "hole") == 0) {
        struct handbook_hole h;
        read_hole(r, c, &h);
        base_vec_push(&parts->holes, h);
    } else if (strcmp(c->key, "body") == 0) {
        struct handbook_hole h;
        read_body(r, c, &h);
        base_vec_push(&parts->bodies, h);
    } else if (strcmp(c->key, "order") == 0) {
        struct handbook_order o;
        read_order(r, c, &o);
        base_vec_push(&parts->orders, o);
    } else if (strcmp(c->key, "event") == 0) {
        struct handbook_event e;
        read_event(r, c, &e);
        base_vec_push(&parts->events, e);
    } else if (strcmp(c->key, "motion") == 0) {
        struct handbook_motion m;
        read_motion(r, c, &m);
        base_vec_push(&parts->motions, m);
    } else
        return strcmp(c->key, "title") == 0 || strcmp(c->key, "help") == 0;
    return true;
}

/* The kind's name was entered in the first pass; its record fills the place kept for it. */
void book_read_kind(struct book_reader *r, const struct record *at)
{
    int number;
    char name[80];
    const char *rest = record_word(at->rest, name, sizeof name);
    if (!base_map_get(&r->h->kind_names, name, &number) || r->h->kinds.at[number].place.line) {
        book_refuse(r, at, "There is a kind \"%s\" already.", name);
        return;
    }
    struct handbook_kind k = r->h->kinds.at[number];
    struct kind_parts parts = {0};
    const char *group = NULL;
    k.place = book_place(r, at);
    k.single = strcmp(rest, "single") == 0;
    k.title = book_title(r, at, k.name);
    k.plural = k.title;
    k.help = book_help(r, at);
    for (const struct record *c = at->child; c && !r->failed; c = c->next)
        if (!read_line(r, c, &k, &parts, &group))
            book_refuse(r, c, "\"%s\" cannot stand in a kind.", c->key);
    for (size_t i = 0; i < parts.holes.count && !r->failed; i++)
        if (parts.holes.at[i].outline && !k.outlines)
            book_refuse(r, at, "A hole by its outline needs a kind with a line \"outline\".");
    for (size_t i = 0; i < parts.bodies.count && !r->failed; i++)
        if (parts.bodies.at[i].outline && !k.outlines)
            book_refuse(r, at, "A body by its outline needs a kind with a line \"outline\".");
    if (k.n_words && !r->failed &&
        (parts.properties.count || parts.holes.count || parts.bodies.count || k.lays || k.values || k.single))
        book_refuse(r, at, "A kind of words has no properties and no holes, and stands nowhere.");
    BOOK_TAKE_OVER(r->h, k.properties, k.n_properties, parts.properties);
    BOOK_TAKE_OVER(r->h, k.cautions, k.n_cautions, parts.cautions);
    BOOK_TAKE_OVER(r->h, k.holes, k.n_holes, parts.holes);
    BOOK_TAKE_OVER(r->h, k.bodies, k.n_bodies, parts.bodies);
    BOOK_TAKE_OVER(r->h, k.orders, k.n_orders, parts.orders);
    BOOK_TAKE_OVER(r->h, k.events, k.n_events, parts.events);
    BOOK_TAKE_OVER(r->h, k.motions, k.n_motions, parts.motions);
    BOOK_TAKE_OVER(r->h, k.begun, k.n_begun, parts.begun);
    base_map_done(&parts.names);
    if (!r->failed)
        check_card(r, at, &k);
    r->h->kinds.at[number] = k;
}
