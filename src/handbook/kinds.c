/* Kinds: properties, holes, bodies, order lines, events. */

#include "handbook/book.h"

#include <stddef.h>
#include <stdlib.h>
#include <string.h>

static bool is_choice(const struct handbook_property *p, int n, const char *text)
{
    for (int i = 0; i < n; i++)
        if (strcmp(p->choices[i], text) == 0)
            return true;
    return false;
}

static void read_choices(struct book_reader *r, const struct record *line, const struct book_word *word,
                         void *into)
{
    enum { MOST = 24 };
    struct handbook_property *p = into;
    (void)word;
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
    p->n_choices = r->failed ? 0 : n; /* not all of them are there */
    book_no_lines(r, line);
}

static void read_from(struct book_reader *r, const struct record *line, const struct book_word *word,
                      void *into)
{
    struct handbook_property *p = into;
    (void)word;
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

static void read_decimals(struct book_reader *r, const struct record *line, const struct book_word *word,
                          void *into)
{
    struct handbook_property *p = into;
    (void)word;
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
    if (p->first && !measure)
        book_refuse(r, at, "Only a measure is worked out first.");
    if (p->limits.high && (measure || p->type.type.sort != FORMULA_NUMBER))
        book_refuse(r, at, "Limits are told of a number, and not of a measure.");
    if (p->drawn && p->how != HANDBOOK_FOLLOWS)
        book_refuse(r, at, "Only what follows is said to be drawn: all that is typed is.");
    if (measure && p->tree)
        book_refuse(r, at, "A measure is worked out by geometry and has no formula.");
}

static const struct book_word property_words[] = {
    {.word = "title"},
    {.word = "help", .several = true},
    {.word = "when", .read = book_formula, .at = offsetof(struct handbook_property, when)},
    {.word = "choices", .read = read_choices},
    {.word = "from", .read = read_from},
    {.word = "range"},
    {.word = "source", .several = true},
    {.word = "decimals", .read = read_decimals},
    {.word = "detail"},
    {.word = "given", .read = book_flag, .at = offsetof(struct handbook_property, given)},
    {.word = "first", .read = book_flag, .at = offsetof(struct handbook_property, first)},
    {.word = "limits", .read = book_limits, .at = offsetof(struct handbook_property, limits)},
    {.word = "drawn", .read = book_flag, .at = offsetof(struct handbook_property, drawn)},
};
const struct book_vocabulary book_property_words = BOOK_VOCABULARY("asked, usual, follows, measure",
                                                                   property_words);

static struct handbook_property read_property(struct book_reader *r, const struct record *at,
                                              enum handbook_how how, const char *group)
{
    struct handbook_property p = {.how = how, .group = group, .place = book_place(r, at), .decimals = -1};
    if (!book_declaration(r, at, &p.name, &p.type, &p.tree))
        return p;
    book_lines(r, at, &book_property_words, &p);
    p.title = book_title(r, at, p.name);
    p.help = book_help(r, at);
    p.source = book_sources(r, at, p.name, &p.seen);
    p.plain = !record_find(at, "detail");
    book_range(r, at, &p.low, &p.high);
    check_property(r, at, &p);
    return p;
}

/* Its type is told by the check, from its formula. */
static struct handbook_property read_let(struct book_reader *r, const struct record *at, const char *group)
{
    struct handbook_property p = {.how = HANDBOOK_LET,
                                  .group = group,
                                  .place = book_place(r, at),
                                  .decimals = -1,
                                  .type = {.type = {.kind = BOOK_UNTOLD}}};
    if (book_let(r, at, &p.name, &p.tree))
        p.title = book_title(r, at, p.name);
    p.seen = "";
    return p;
}

/* ---- holes ---------------------------------------------------------------------------------- */

/* "in head_in" or "in each plate, order > head_in.order, moves = ..." */
static void read_in(struct book_reader *r, const struct record *at, const struct book_word *word, void *into)
{
    enum { MOST = 8 };
    struct handbook_hole *h = into;
    (void)word;
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

#define HOLE_VALUE(name) {.word = #name, .read = book_value, .at = offsetof(struct handbook_hole, name)}
#define HOLE_FORMULA(name) {.word = #name, .read = book_formula, .at = offsetof(struct handbook_hole, name)}
/* Where it is and what it looks like from above. */
#define HOLE_SHAPE \
    HOLE_VALUE(x), HOLE_VALUE(y), HOLE_VALUE(diameter), HOLE_VALUE(length), HOLE_VALUE(width), \
        HOLE_VALUE(corner), HOLE_VALUE(turn)
#define HOLE_LETTER {.word = "letter", .read = book_one_letter, .at = offsetof(struct handbook_hole, letter)}

static const struct book_word hole_words[] = {
    {.word = "title"},
    {.word = "in", .read = read_in},
    {.word = "fastens", .read = book_flag, .at = offsetof(struct handbook_hole, fastens)},
    {.word = "after_hardening",
     .read = book_flag,
     .at = offsetof(struct handbook_hole, after_hardening)},
    {.word = "together", .read = book_flag, .at = offsetof(struct handbook_hole, together)},
    {.word = "note", .read = book_sentence, .at = offsetof(struct handbook_hole, note)},
    HOLE_LETTER,
    HOLE_FORMULA(when),
    HOLE_FORMULA(repeat),
    HOLE_SHAPE,
    HOLE_VALUE(outline),
    HOLE_VALUE(from_top),
    HOLE_VALUE(start),
    HOLE_VALUE(depth),
    HOLE_VALUE(thread_depth),
    HOLE_VALUE(fit),
    HOLE_VALUE(thread),
    HOLE_VALUE(nominal),
    HOLE_VALUE(room),
    HOLE_VALUE(tip),
    HOLE_VALUE(land),
    HOLE_VALUE(relief),
    {.word = "open", .read = book_flag, .at = offsetof(struct handbook_hole, open)},
};
const struct book_vocabulary book_hole_words = BOOK_VOCABULARY("hole", hole_words);

static const struct book_word body_words[] = {
    {.word = "title"},
    {.word = "on", .read = book_formula, .at = offsetof(struct handbook_hole, in)},
    HOLE_FORMULA(end_on),
    HOLE_LETTER,
    HOLE_FORMULA(when),
    HOLE_FORMULA(repeat),
    HOLE_SHAPE,
    HOLE_VALUE(outline),
    HOLE_VALUE(from),
    HOLE_VALUE(to),
    HOLE_VALUE(bore),
};
const struct book_vocabulary book_body_words = BOOK_VOCABULARY("body", body_words);

static const struct book_word cut_words[] = {
    {.word = "on", .read = book_formula, .at = offsetof(struct handbook_hole, in)},
    HOLE_FORMULA(when),
    HOLE_SHAPE,
    HOLE_VALUE(outline),
};
const struct book_vocabulary book_cut_words = BOOK_VOCABULARY("cut", cut_words);

static const struct book_word fold_words[] = {
    {.word = "on", .read = book_formula, .at = offsetof(struct handbook_hole, in)},
    HOLE_FORMULA(when),
    HOLE_FORMULA(repeat),
    HOLE_SHAPE,
};
const struct book_vocabulary book_fold_words = BOOK_VOCABULARY("fold", fold_words);

static struct handbook_hole read_shape(struct book_reader *r, const struct record *at,
                                       const struct book_vocabulary *words)
{
    struct handbook_hole h = {.operation = at->rest, .place = book_place(r, at)};
    h.title = book_title(r, at, at->rest);
    book_lines(r, at, words, &h);
    if (!h.length != !h.width || !!h.length + !!h.diameter + !!h.outline != 1)
        book_refuse(r, at, "A %s has a diameter, or a length and a width, or an outline.", at->key);
    if (h.corner && !h.length)
        book_refuse(r, at, "Only a %s with length and width has corners.", at->key);
    if (h.turn && h.diameter)
        book_refuse(r, at, "A round %s is not turned.", at->key);
    return h;
}

static const struct book_word order_words[] = {
    {.word = "when", .read = book_formula, .at = offsetof(struct handbook_order, when)},
    {.word = "size", .read = book_sentence, .at = offsetof(struct handbook_order, size)},
    {.word = "material", .read = book_sentence, .at = offsetof(struct handbook_order, material)},
    {.word = "pieces", .read = book_formula, .at = offsetof(struct handbook_order, pieces)},
    {.word = "mass", .read = book_formula, .at = offsetof(struct handbook_order, mass)},
    {.word = "table", .read = book_text, .at = offsetof(struct handbook_order, table)},
    {.word = "note", .read = book_sentence, .at = offsetof(struct handbook_order, note)},
    {.word = "raw", .read = book_sentence, .at = offsetof(struct handbook_order, raw)},
    {.word = "finish", .read = book_sentence, .at = offsetof(struct handbook_order, finish)},
    {.word = "hardness", .read = book_sentence, .at = offsetof(struct handbook_order, hardness)},
    {.word = "spares", .read = book_formula, .at = offsetof(struct handbook_order, spares)},
    {.word = "price", .read = book_formula, .at = offsetof(struct handbook_order, price)},
    {.word = "wanted", .read = book_sentence, .at = offsetof(struct handbook_order, wanted)},
    {.word = "remark", .read = book_sentence, .at = offsetof(struct handbook_order, remark)},
    {.word = "prices", .read = book_sentence, .at = offsetof(struct handbook_order, prices)},
};
const struct book_vocabulary book_order_words = BOOK_VOCABULARY("order", order_words);

static const struct book_word event_words[] = {
    {.word = "when", .read = book_formula, .at = offsetof(struct handbook_event, when)},
    {.word = "at", .read = book_formula, .at = offsetof(struct handbook_event, at)},
};
const struct book_vocabulary book_event_words = BOOK_VOCABULARY("event", event_words);

static const struct book_word unjudged_words[] = {
    {.word = "when", .read = book_formula, .at = offsetof(struct handbook_unjudged, when)},
    {.word = "source", .several = true},
};
const struct book_vocabulary book_unjudged_words = BOOK_VOCABULARY("unjudged", unjudged_words);

#define MOTION_FORMULA(name)                                                              \
    {                                                                                     \
        .word = #name, .read = book_formula, .at = offsetof(struct handbook_motion, name) \
    }

static const struct book_word motion_words[] = {
    {.word = "title"},
    {.word = "help", .several = true},
    MOTION_FORMULA(when),
    MOTION_FORMULA(least),
    MOTION_FORMULA(most),
    MOTION_FORMULA(judged),
    MOTION_FORMULA(whole),
    {.word = "note", .read = book_sentence, .at = offsetof(struct handbook_motion, note)},
};
const struct book_vocabulary book_motion_words = BOOK_VOCABULARY("motion", motion_words);

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
    for (const struct record *c = at->child; c && !r->failed; c = c->next) {
        char *take = typed_of_take(c->key);
        add_begun(r, c, take, NULL, book_equals(r, c), out);
        free(take);
    }
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
static void read_words(struct book_reader *r, const struct record *at, const struct book_word *which,
                       void *into)
{
    enum { MOST = 16 };
    struct handbook_kind *k = into;
    (void)which;
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

/* ---- the kind ------------------------------------------------------------------------------------ */

struct kind_parts {
    struct handbook_kind k; /* first: fields of a kind are read into it by their place */
    const char *group;      /* heading of the properties that follow */
    BASE_VEC(struct handbook_property) properties;
    BASE_VEC(struct handbook_caution) cautions;
    BASE_VEC(struct handbook_hole) holes, bodies, cuts, folds;
    BASE_VEC(struct handbook_order) orders;
    BASE_VEC(struct handbook_event) events;
    BASE_VEC(struct handbook_unjudged) unjudged;
    BASE_VEC(struct handbook_motion) motions;
    begun_list begun;
    struct base_map names;
};

static void read_kind_property(struct book_reader *r, const struct record *c, const struct book_word *word,
                               void *into)
{
    static const struct { const char *key; enum handbook_how how; } hows[] = {
        {"asked", HANDBOOK_ASKED},
        {"usual", HANDBOOK_USUAL},
        {"follows", HANDBOOK_FOLLOWS},
        {"measure", HANDBOOK_MEASURE},
    };
    struct kind_parts *parts = into;
    size_t i = 0;
    while (i < COUNT_OF(hows) && strcmp(hows[i].key, word->word) != 0)
        i++;
    struct handbook_property p = i < COUNT_OF(hows) ? read_property(r, c, hows[i].how, parts->group)
                                                    : read_let(r, c, parts->group);
    if (r->failed)
        return;
    if (base_map_get(&parts->names, p.name, NULL))
        book_refuse(r, c, "This kind has a \"%s\" already.", p.name);
    base_map_put(&parts->names, p.name, 1);
    base_vec_push(&parts->properties, p);
}

static void read_outline(struct book_reader *r, const struct record *at, const struct book_word *word,
                         void *into)
{
    (void)word;
    ((struct handbook_kind *)into)->outlines = true;
    book_lines(r, at, &book_outline_words, into);
}

static void read_frame(struct book_reader *r, const struct record *at, const struct book_word *word,
                       void *into)
{
    struct handbook_frame *frame = &((struct kind_parts *)into)->k.frame;
    (void)word;
    *frame = (struct handbook_frame){.place = book_place(r, at)};
    book_lines(r, at, &book_frame_words, frame);
    if (!r->failed && (!frame->x || !frame->y))
        book_refuse(r, at, "A frame says where it lies: \"x = formula\" and \"y = formula\".");
}

static void read_kind_begins(struct book_reader *r, const struct record *c, const struct book_word *word,
                             void *into)
{
    (void)word;
    read_begun(r, c, &((struct kind_parts *)into)->begun);
}

static void read_kind_caution(struct book_reader *r, const struct record *c, const struct book_word *word,
                              void *into)
{
    struct kind_parts *parts = into;
    (void)word;
    struct handbook_caution caution = book_caution(r, c, parts->k.name);
    base_vec_push(&parts->cautions, caution);
}

static void read_hole(struct book_reader *r, const struct record *at, const struct book_word *word,
                      void *into)
{
    struct kind_parts *parts = into;
    (void)word;
    struct handbook_hole h = read_shape(r, at, &book_hole_words);
    if (!*at->rest)
        book_refuse(r, at, "The operation that makes the hole stands behind \"hole\".");
    if (!record_find(at, "in"))
        book_refuse(r, at, "A hole says which plate it is in.");
    base_vec_push(&parts->holes, h);
}

static void read_body(struct book_reader *r, const struct record *at, const struct book_word *word,
                      void *into)
{
    struct kind_parts *parts = into;
    (void)word;
    struct handbook_hole h = read_shape(r, at, &book_body_words);
    if (!*at->rest)
        book_refuse(r, at, "The name of the body stands behind \"body\".");
    if (!record_find(at, "on") || !record_find(at, "from") || !record_find(at, "to"))
        book_refuse(r, at, "A body says which plate it stands on, and its heights \"from\" and \"to\".");
    base_vec_push(&parts->bodies, h);
}

static void read_cut(struct book_reader *r, const struct record *at, const struct book_word *word,
                     void *into)
{
    struct kind_parts *parts = into;
    (void)word;
    struct handbook_hole h = read_shape(r, at, &book_cut_words);
    h.cuts = true;
    if (!*at->rest)
        book_refuse(r, at, "The name of what is cut stands behind \"cut\".");
    if (!record_find(at, "on"))
        book_refuse(r, at, "A cut says on which plate the strip lies.");
    base_vec_push(&parts->cuts, h);
}

static void read_fold(struct book_reader *r, const struct record *at, const struct book_word *word,
                      void *into)
{
    struct kind_parts *parts = into;
    (void)word;
    struct handbook_hole h = read_shape(r, at, &book_fold_words);
    h.folds = true;
    static const char *const folds[] = {HANDBOOK_FOLD_BEND, HANDBOOK_FOLD_LEG, HANDBOOK_FOLD_FORM,
                                        HANDBOOK_FOLD_COLLAR, HANDBOOK_FOLD_BOTTOM};
    bool known = false;
    for (size_t i = 0; i < COUNT_OF(folds); i++)
        known = known || strcmp(at->rest, folds[i]) == 0;
    if (!known)
        book_refuse(r, at,
                    "What is formed is a \"" HANDBOOK_FOLD_BEND "\", a \"" HANDBOOK_FOLD_LEG
                    "\", a \"" HANDBOOK_FOLD_FORM "\", a \"" HANDBOOK_FOLD_COLLAR
                    "\" or the \"" HANDBOOK_FOLD_BOTTOM "\" of a form: one of these stands behind \"fold\".");
    if (!record_find(at, "on"))
        book_refuse(r, at, "A fold says on which plate the strip lies.");
    base_vec_push(&parts->folds, h);
}

static void read_order(struct book_reader *r, const struct record *at, const struct book_word *word,
                       void *into)
{
    struct kind_parts *parts = into;
    (void)word;
    struct handbook_order o = {.designation = book_template(r, at, at->rest)};
    book_lines(r, at, &book_order_words, &o);
    base_vec_push(&parts->orders, o);
}

static void read_event(struct book_reader *r, const struct record *at, const struct book_word *word,
                       void *into)
{
    struct kind_parts *parts = into;
    (void)word;
    struct handbook_event e = {.title = book_template(r, at, at->rest)};
    book_lines(r, at, &book_event_words, &e);
    if (!r->failed && !e.at)
        book_refuse(r, at, "An event has a ram height: a line \"at formula\".");
    base_vec_push(&parts->events, e);
}

static void read_unjudged(struct book_reader *r, const struct record *at, const struct book_word *word,
                          void *into)
{
    struct kind_parts *parts = into;
    (void)word;
    struct handbook_unjudged u = {.says = book_template(r, at, at->rest)};
    book_lines(r, at, &book_unjudged_words, &u);
    u.source = book_sources(r, at, parts->k.name, &u.seen);
    if (!r->failed && !*at->rest)
        book_refuse(r, at, "What is not judged stands behind \"unjudged\".");
    base_vec_push(&parts->unjudged, u);
}

static void read_motion(struct book_reader *r, const struct record *at, const struct book_word *word,
                        void *into)
{
    struct kind_parts *parts = into;
    (void)word;
    struct handbook_motion m = {.place = book_place(r, at)};
    if (!book_declaration(r, at, &m.name, &m.type, &m.tree))
        return;
    if (!m.tree)
        book_refuse(r, at, "A motion has a formula: \"motion %s : type = formula\".", m.name);
    book_lines(r, at, &book_motion_words, &m);
    m.title = book_title(r, at, m.name);
    m.help = book_help(r, at);
    base_vec_push(&parts->motions, m);
}

#define KIND_FIELD(name, reader)                                                    \
    {                                                                               \
        .word = #name, .read = reader,                                              \
        .at = offsetof(struct kind_parts, k) + offsetof(struct handbook_kind, name) \
    }

static const struct book_word outline_words[] = {
    {.word = "when", .read = book_formula, .at = offsetof(struct handbook_kind, outlines_when)},
};
const struct book_vocabulary book_outline_words = BOOK_VOCABULARY("outline", outline_words);

static const struct book_word frame_words[] = {
    {.word = "repeat", .read = book_formula, .at = offsetof(struct handbook_frame, repeat)},
    {.word = "x", .read = book_value, .at = offsetof(struct handbook_frame, x)},
    {.word = "y", .read = book_value, .at = offsetof(struct handbook_frame, y)},
    {.word = "turn", .read = book_value, .at = offsetof(struct handbook_frame, turn)},
};
const struct book_vocabulary book_frame_words = BOOK_VOCABULARY("frame", frame_words);

static const struct book_word kind_words[] = {
    {.word = "title"},
    KIND_FIELD(plural, book_text),
    KIND_FIELD(letter, book_one_letter),
    {.word = "help", .several = true},
    {.word = "caution", .several = true, .read = read_kind_caution},
    KIND_FIELD(stamp, book_sentence),
    KIND_FIELD(single, book_flag),
    KIND_FIELD(given, book_flag),
    KIND_FIELD(values, book_flag),
    {.word = "words", .read = read_words},
    KIND_FIELD(rows, book_flag),
    {.word = "lay", .read = book_flag, .at = offsetof(struct handbook_kind, lays)},
    {.word = "frame", .read = read_frame},
    {.word = "outline", .read = read_outline},
    {.word = "group", .several = true, .read = book_text, .at = offsetof(struct kind_parts, group)},
    {.word = "asked", .several = true, .read = read_kind_property},
    {.word = "usual", .several = true, .read = read_kind_property},
    {.word = "follows", .several = true, .read = read_kind_property},
    {.word = "measure", .several = true, .read = read_kind_property},
    {.word = "let", .several = true, .read = read_kind_property},
    {.word = "hole", .several = true, .read = read_hole},
    {.word = "body", .several = true, .read = read_body},
    {.word = "cut", .several = true, .read = read_cut},
    {.word = "fold", .several = true, .read = read_fold},
    {.word = "order", .several = true, .read = read_order},
    {.word = "event", .several = true, .read = read_event},
    {.word = "unjudged", .several = true, .read = read_unjudged},
    {.word = "motion", .several = true, .read = read_motion},
    {.word = "begins", .read = read_kind_begins},
};
const struct book_vocabulary book_kind_words = BOOK_VOCABULARY("kind", kind_words);

/* What the parts of a kind say of each other. */
static void check_parts(struct book_reader *r, const struct record *at, const struct kind_parts *parts)
{
    const struct handbook_kind *k = &parts->k;
    if (k->frame.x && !k->lays && !r->failed)
        book_refuse(r, at, "Only a kind with a line \"lay\" has frames for its points.");
    for (size_t i = 0; i < parts->holes.count && !r->failed; i++)
        if (parts->holes.at[i].outline && !k->outlines)
            book_refuse(r, at, "A hole by its outline needs a kind with a line \"outline\".");
    for (size_t i = 0; i < parts->bodies.count && !r->failed; i++)
        if (parts->bodies.at[i].outline && !k->outlines)
            book_refuse(r, at, "A body by its outline needs a kind with a line \"outline\".");
    for (size_t i = 0; i < parts->cuts.count && !r->failed; i++)
        if (parts->cuts.at[i].outline && !k->outlines)
            book_refuse(r, at, "A cut by its outline needs a kind with a line \"outline\".");
    if (k->n_words && !r->failed &&
        (parts->properties.count || parts->holes.count || parts->bodies.count || parts->cuts.count ||
         parts->folds.count || k->lays || k->values || k->single))
        book_refuse(r, at, "A kind of words has no properties and no holes, and stands nowhere.");
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
    struct kind_parts parts = {.k = r->h->kinds.at[number]};
    struct handbook_kind *k = &parts.k;
    k->place = book_place(r, at);
    k->single = strcmp(rest, "single") == 0;
    k->title = book_title(r, at, k->name);
    k->plural = k->title;
    k->help = book_help(r, at);
    book_lines(r, at, &book_kind_words, &parts);
    check_parts(r, at, &parts);
    BOOK_TAKE_OVER(r->h, k->properties, k->n_properties, parts.properties);
    BOOK_TAKE_OVER(r->h, k->cautions, k->n_cautions, parts.cautions);
    BOOK_TAKE_OVER(r->h, k->holes, k->n_holes, parts.holes);
    BOOK_TAKE_OVER(r->h, k->bodies, k->n_bodies, parts.bodies);
    BOOK_TAKE_OVER(r->h, k->cuts, k->n_cuts, parts.cuts);
    BOOK_TAKE_OVER(r->h, k->folds, k->n_folds, parts.folds);
    BOOK_TAKE_OVER(r->h, k->orders, k->n_orders, parts.orders);
    BOOK_TAKE_OVER(r->h, k->events, k->n_events, parts.events);
    BOOK_TAKE_OVER(r->h, k->unjudged, k->n_unjudged, parts.unjudged);
    BOOK_TAKE_OVER(r->h, k->motions, k->n_motions, parts.motions);
    BOOK_TAKE_OVER(r->h, k->begun, k->n_begun, parts.begun);
    base_map_done(&parts.names);
    r->h->kinds.at[number] = *k;
}
