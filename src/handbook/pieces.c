/* Pieces that several records share: declarations, formulas, templates, ranges, types. */

#include "handbook/book.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct handbook_place book_place(const struct book_reader *r, const struct record *at)
{
    return (struct handbook_place){r->file, at->line};
}

const struct formula_tree *book_tree(struct book_reader *r, const struct record *at, const char *text)
{
    struct formula_tree *t = NULL;
    if (r->failed)
        return NULL;
    while (*text == ' ')
        text++;
    size_t n = strlen(text);
    while (n && text[n - 1] == ' ')
        n--;
    if (!n) {
        book_refuse(r, at, "A formula is wanted here.");
        return NULL;
    }
    char *trimmed = base_copy_n(text, n);
    enum base_err err = BASE_OK;
    if (r->checked)
        t = formula_parse_later(trimmed);
    else
        err = formula_parse(trimmed, &t, r->why);
    free(trimmed);
    if (err) {
        book_failed(r, at);
        return NULL;
    }
    base_vec_push(&r->h->spots, ((struct book_spot){t, r->file, at->line}));
    return t;
}

static const char *skip(const char *t)
{
    while (*t == ' ')
        t++;
    return t;
}

const struct formula_tree *book_equals(struct book_reader *r, const struct record *at)
{
    if (at->rest[0] == '=')
        return book_tree(r, at, at->rest + 1);
    book_refuse(r, at, "\"%s\" is written \"%s = formula\".", at->key, at->key);
    return NULL;
}

bool book_type(struct book_reader *r, const struct record *at, const char *text, struct handbook_type *out)
{
    if (r->failed)
        return false;
    if (handbook_parse_type(r->h, text, out, r->why) == BASE_OK)
        return true;
    base_diag_mark(r->why, text, 0, (int)strlen(text));
    book_failed(r, at);
    return false;
}

bool book_name(struct book_reader *r, const struct record *at, const char *name)
{
    if (!record_is_name(name))
        book_refuse_word(r, at, name,
                         "\"%s\" cannot be a name: small letters, digits and \"_\", beginning with a letter.",
                         name);
    else if (unit_is_word(name))
        book_refuse_word(r, at, name, "\"%s\" is a unit and cannot be a name.", name);
    else if (formula_is_reserved(name))
        book_refuse_word(r, at, name, "\"%s\" is a word of the language and cannot be a name.", name);
    return !r->failed;
}

bool book_room(struct book_reader *r, const struct record *at, int count, int room)
{
    if (count >= room)
        book_refuse(r, at, "More than %d lines \"%s\" cannot stand here.", room, at->key);
    return !r->failed;
}

bool book_declaration(struct book_reader *r, const struct record *at, const char **name,
                      struct handbook_type *type, const struct formula_tree **tree)
{
    char word[80];
    const char *rest = record_word(at->rest, word, sizeof word);
    *tree = NULL;
    if (*rest != ':') {
        book_refuse(r, at, "This is written \"%s name : type\", and \"= formula\" where there is one.",
                    at->key);
        return false;
    }
    if (!book_name(r, at, word))
        return false;
    *name = base_arena_copy(&r->h->memory, word);
    rest = skip(rest + 1);
    const char *equals = strchr(rest, '=');
    size_t n = equals ? (size_t)(equals - rest) : strlen(rest);
    while (n && rest[n - 1] == ' ')
        n--;
    if (book_type(r, at, base_arena_copy_n(&r->h->memory, rest, n), type) && equals)
        *tree = book_tree(r, at, equals + 1);
    return !r->failed;
}

bool book_let(struct book_reader *r, const struct record *at, const char **name,
              const struct formula_tree **tree)
{
    char word[80];
    const char *rest = record_word(at->rest, word, sizeof word);
    book_no_lines(r, at);
    if (*rest != '=')
        book_refuse(r, at, "A part of formulas is written \"let name = formula\".");
    if (r->failed || !book_name(r, at, word))
        return false;
    *name = base_arena_copy(&r->h->memory, word);
    *tree = book_tree(r, at, rest + 1);
    return !r->failed;
}

const char *book_help(struct book_reader *r, const struct record *at)
{
    return record_joined(at, "help", &r->h->memory);
}

const char *book_title(struct book_reader *r, const struct record *at, const char *name)
{
    const char *given = record_text(at, "title", NULL);
    if (given)
        return given;
    char *title = base_arena_copy(&r->h->memory, name);
    for (char *p = title; *p; p++)
        if (*p == '_')
            *p = ' ';
    return title;
}

void book_range(struct book_reader *r, const struct record *at, const struct formula_tree **low,
                const struct formula_tree **high)
{
    const struct record *range = record_find(at, "range");
    *low = *high = NULL;
    if (!range)
        return;
    const char *dots = strstr(range->rest, "..");
    if (!dots) {
        book_refuse(r, range, "A range is written \"low .. high\".");
        return;
    }
    *low = book_tree(r, range, base_arena_copy_n(&r->h->memory, range->rest, (size_t)(dots - range->rest)));
    *high = book_tree(r, range, dots + 2);
}

int book_split(struct book_reader *r, const char *text, const char **out, int room)
{
    int count = 0, depth = 0;
    bool quoted = false;
    const char *start = text;
    for (const char *p = text;; p++) {
        if (*p == '"')
            quoted = !quoted;
        if (!quoted && (*p == '(' || *p == ')'))
            depth += *p == '(' ? 1 : -1;
        if (*p && (*p != ',' || quoted || depth))
            continue;
        start = skip(start);
        size_t n = p > start ? (size_t)(p - start) : 0;
        while (n && start[n - 1] == ' ')
            n--;
        if (count < room)
            out[count++] = base_arena_copy_n(&r->h->memory, start, n);
        start = p + 1;
        if (!*p)
            return count;
    }
}

/* ---- templates ------------------------------------------------------------------------------ */

/* "length as mm": the unit behind the last " as ", which is cut off; NULL when none stands there. */
static const char *split_as(struct book_reader *r, char *inside)
{
    struct unit_dim dim;
    struct unit_display display;
    char *last = NULL;
    for (char *p = inside; (p = strstr(p, " as ")); p += 4)
        last = p;
    if (!last || !unit_display_named(skip(last + 4), &dim, &display))
        return NULL;
    *last = '\0';
    return base_arena_copy(&r->h->memory, skip(last + 4));
}

typedef BASE_VEC(struct handbook_piece) piece_list;

/* The brace "when known(x)" or "end", its words INSIDE; *OPEN: the condition that is not ended yet, -1: none.
 * False: a brace of neither. */
static bool read_condition(struct book_reader *r, const struct record *at, const char *inside,
                           piece_list *pieces, int *open)
{
    bool when = strncmp(inside, "when ", 5) == 0, end = strcmp(inside, "end") == 0;
    if ((when && *open >= 0) || (end && *open < 0))
        book_refuse_word(r, at, inside, "A {when} is ended by {end} before the next one begins.");
    if (r->failed)
        return true;
    if (when) {
        *open = (int)pieces->count;
        base_vec_push(pieces,
                      ((struct handbook_piece){.text = inside, .tree = book_tree(r, at, inside + 5)}));
    } else if (end) {
        pieces->at[*open].only = (int)pieces->count - *open - 1;
        *open = -1;
    }
    return when || end;
}

struct handbook_template book_template(struct book_reader *r, const struct record *at, const char *text)
{
    struct base_arena *m = &r->h->memory;
    piece_list pieces = {0};
    int condition = -1;
    const char *p = text;
    while (*p && !r->failed) {
        const char *open = strchr(p, '{'), *stray = strchr(p, '}');
        if (stray && (!open || stray < open)) {
            book_refuse_word(r, at, stray, "This brace closes nothing.");
            break;
        }
        size_t plain = open ? (size_t)(open - p) : strlen(p);
        if (plain)
            base_vec_push(&pieces, ((struct handbook_piece){.text = base_arena_copy_n(m, p, plain)}));
        if (!open)
            break;
        const char *close = strchr(open, '}');
        if (!close || memchr(open + 1, '{', (size_t)(close - open - 1))) {
            book_refuse_word(r, at, open, "The brace of \"%.40s\" is not closed.", open);
            break;
        }
        char *inside = base_arena_copy_n(m, open + 1, (size_t)(close - open - 1));
        p = close + 1;
        if (read_condition(r, at, inside, &pieces, &condition))
            continue;
        const char *as = split_as(r, inside);
        base_vec_push(&pieces,
                      ((struct handbook_piece){.text = inside, .tree = book_tree(r, at, inside), .as = as}));
    }
    if (condition >= 0)
        book_refuse_word(r, at, strstr(text, "{when"), "This {when} has no {end}.");
    struct handbook_template out = {.text = text};
    BOOK_TAKE_OVER(r->h, out.pieces, out.n_pieces, pieces);
    return out;
}

struct handbook_template book_joined(struct book_reader *r, const struct record *at, const char *key)
{
    static const struct handbook_piece blank = {.text = " "};
    BASE_VEC(struct handbook_piece) pieces = {0};
    struct handbook_template out = {.text = record_joined(at, key, &r->h->memory)};
    for (const struct record *c = at->child; c; c = c->next) {
        if (strcmp(c->key, key) != 0)
            continue;
        struct handbook_template line = book_template(r, c, c->rest);
        if (pieces.count)
            base_vec_push(&pieces, blank);
        for (int i = 0; i < line.n_pieces; i++)
            base_vec_push(&pieces, line.pieces[i]);
    }
    BOOK_TAKE_OVER(r->h, out.pieces, out.n_pieces, pieces);
    return out;
}

/* ---- types -------------------------------------------------------------------------------------- */

bool handbook_settled(struct handbook_type t)
{
    return t.sort == HANDBOOK_CHOICE || t.sort == HANDBOOK_COUNT || t.sort == HANDBOOK_NUMBERS ||
           t.sort == HANDBOOK_FIGURES || t.sort == HANDBOOK_ITEM;
}

static const struct { const char *name; struct handbook_type type; } plain_types[] = {
    {"text", {HANDBOOK_TEXT, {.sort = FORMULA_TEXT}}},
    {"date", {HANDBOOK_DATE, {.sort = FORMULA_TEXT}}},
    {"yesno", {HANDBOOK_YESNO, {.sort = FORMULA_YESNO}}},
    {"choice", {HANDBOOK_CHOICE, {.sort = FORMULA_TEXT}}},
    {"count", {HANDBOOK_COUNT, {.sort = FORMULA_NUMBER}}},
    {"numbers", {HANDBOOK_NUMBERS, {.sort = FORMULA_TEXT}}},
    {"figures", {HANDBOOK_FIGURES, {.sort = FORMULA_TEXT}}},
};

enum base_err handbook_parse_type(const struct handbook *h, const char *text, struct handbook_type *out,
                                  struct base_diag *why)
{
    int kind;
    for (size_t i = 0; i < COUNT_OF(plain_types); i++)
        if (strcmp(plain_types[i].name, text) == 0) {
            *out = plain_types[i].type;
            return BASE_OK;
        }
    if (base_map_get(&h->kind_names, text, &kind)) {
        *out = (struct handbook_type){HANDBOOK_ITEM, {.sort = FORMULA_ITEM, .kind = kind}};
        return BASE_OK;
    }
    *out = (struct handbook_type){HANDBOOK_NUMBER, {.sort = FORMULA_NUMBER}};
    return unit_parse_dim(text, &out->type.dim, why);
}

const char *handbook_type_name(const struct handbook *h, struct handbook_type t, char *buf, size_t size)
{
    for (size_t i = 0; i < COUNT_OF(plain_types); i++)
        if (plain_types[i].type.sort == t.sort)
            return plain_types[i].name;
    if (t.sort == HANDBOOK_ITEM)
        return t.type.kind >= 0 ? h->kinds.at[t.type.kind].name : "item";
    const char *name = unit_dim_name(t.type.dim, buf, size);
    return strncmp(name, "a ", 2) == 0 ? name + 2 : strncmp(name, "an ", 3) == 0 ? name + 3 : name;
}

const char *handbook_grade_text(enum handbook_grade g)
{
    return g == HANDBOOK_FAULT ? "fault" : g == HANDBOOK_CAUTION ? "caution" : "note";
}
