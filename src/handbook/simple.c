/* Factors, functions, patterns, tables, words, cautions and what sources differ about. */

#include "handbook/book.h"

#include <stddef.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* NAME once only among MAP's. */
static bool new_name(struct book_reader *r, const struct record *at, struct base_map *map, const char *name,
                     size_t number)
{
    if (base_map_get(map, name, NULL)) {
        bool within = strcmp(at->key, "takes") == 0 || strcmp(at->key, "let") == 0;
        book_refuse_word(r, at, name, "There is a %s\"%s\" already.",
                         within ? "" : base_arena_format(&r->h->memory, "%s ", at->key), name);
        return false;
    }
    base_map_put(map, name, (int)number);
    return true;
}

static const char *name_of(struct book_reader *r, const struct record *at)
{
    book_name(r, at, at->rest);
    return at->rest;
}

static const struct book_word factor_words[] = {
    {.word = "title"},
    {.word = "help", .several = true},
    {.word = "range"},
    {.word = "formerly"},
    {.word = "source", .several = true},
};
const struct book_vocabulary book_factor_words = BOOK_VOCABULARY("factor", factor_words);

void book_read_factor(struct book_reader *r, const struct record *at)
{
    struct handbook_factor f = {.place = book_place(r, at)};
    book_lines(r, at, &book_factor_words, &f);
    if (!book_declaration(r, at, &f.name, &f.type, &f.tree) ||
        !new_name(r, at, &r->h->factor_names, f.name, r->h->factors.count))
        return;
    if (!f.tree)
        book_refuse(r, at, "A factor has a value: \"factor %s : type = value\".", f.name);
    f.title = book_title(r, at, f.name);
    f.help = book_help(r, at);
    const struct record *before = record_find(at, "formerly");
    if (before && new_name(r, before, &r->h->factor_names, name_of(r, before), r->h->factors.count)) {
        f.formerly = before->rest;
        f.help = base_arena_format(&r->h->memory, "%s%sFormerly %s.", f.help ? f.help : "",
                                   f.help && *f.help ? " " : "", f.formerly);
    }
    f.source = book_sources(r, at, f.name, &f.seen);
    book_range(r, at, &f.low, &f.high);
    base_vec_push(&r->h->factors, f);
}

/* ---- functions --------------------------------------------------------------------------- */

enum { MOST_PARTS = 24 }; /* arguments, and parts behind "let"; check.c has room for them as names */

struct function_parts {
    struct handbook_function f;
    BASE_VEC(struct formula_parameter) parameters;
    BASE_VEC(const char *) helps;
    BASE_VEC(struct formula_let) lets;
    struct base_map names;
};

static const struct book_word takes_words[] = {{.word = "help", .several = true}};
const struct book_vocabulary book_takes_words = BOOK_VOCABULARY("takes of a function", takes_words);

static void read_takes(struct book_reader *r, const struct record *c, const struct book_word *word,
                       void *into)
{
    struct function_parts *parts = into;
    (void)word;
    struct formula_parameter p = {0};
    struct handbook_type type;
    book_lines(r, c, &book_takes_words, NULL);
    book_room(r, c, (int)parts->parameters.count, MOST_PARTS);
    if (parts->lets.count || parts->f.f.gives)
        book_refuse(r, c, "What a function takes stands before what it works out.");
    if (!book_declaration(r, c, &p.name, &type, &p.usual) || !new_name(r, c, &parts->names, p.name, 0))
        return;
    p.type = type.type;
    base_vec_push(&parts->parameters, p);
    base_vec_push(&parts->helps, book_help(r, c));
}

static void read_let(struct book_reader *r, const struct record *c, const struct book_word *word, void *into)
{
    struct function_parts *parts = into;
    struct formula_let let;
    (void)word;
    book_room(r, c, (int)parts->lets.count, MOST_PARTS);
    if (book_let(r, c, &let.name, &let.tree) && new_name(r, c, &parts->names, let.name, 0))
        base_vec_push(&parts->lets, let);
}

static void read_gives(struct book_reader *r, const struct record *c, const struct book_word *word,
                       void *into)
{
    struct function_parts *parts = into;
    (void)word;
    const char *equals = strchr(c->rest, '=');
    struct handbook_type type;
    book_no_lines(r, c);
    if (!equals) {
        book_refuse(r, c, "The result is written \"gives type = formula\".");
        return;
    }
    size_t n = (size_t)(equals - c->rest);
    while (n && c->rest[n - 1] == ' ')
        n--;
    if (!book_type(r, c, base_arena_copy_n(&r->h->memory, c->rest, n), &type))
        return;
    parts->f.f.type = type.type;
    parts->f.f.gives = book_tree(r, c, equals + 1);
}

static const struct book_word function_words[] = {
    {.word = "help", .several = true},
    {.word = "takes", .several = true, .read = read_takes},
    {.word = "let", .several = true, .read = read_let},
    {.word = "gives", .read = read_gives},
    {.word = "source", .several = true},
};
const struct book_vocabulary book_function_words = BOOK_VOCABULARY("function", function_words);

void book_read_function(struct book_reader *r, const struct record *at)
{
    struct function_parts parts = {.f = {.place = book_place(r, at), .help = book_help(r, at)}};
    struct formula_function *f = &parts.f.f;
    f->name = name_of(r, at);
    book_lines(r, at, &book_function_words, &parts);
    parts.f.source = book_sources(r, at, f->name, &parts.f.seen);
    if (!r->failed && !f->gives)
        book_refuse(r, at, "The function %s gives nothing: a line \"gives type = formula\" is missing.",
                    f->name);
    int helps;
    BOOK_TAKE_OVER(r->h, f->parameters, f->n_parameters, parts.parameters);
    BOOK_TAKE_OVER(r->h, f->lets, f->n_lets, parts.lets);
    BOOK_TAKE_OVER(r->h, parts.f.parameter_help, helps, parts.helps);
    (void)helps; /* as many as parameters */
    base_map_done(&parts.names);
    if (!r->failed && new_name(r, at, &r->h->function_names, f->name, r->h->functions.count))
        base_vec_push(&r->h->functions, parts.f);
}

/* ---- patterns ---------------------------------------------------------------------------- */

enum { MOST_TAKES = 64 }; /* of a pattern; and points */

struct pattern_parts {
    struct handbook_pattern p;
    struct handbook_take *takes;
    struct handbook_point *points;
    struct base_map names, point_names;
};

static const struct book_word pattern_takes_words[] = {
    {.word = "title"},
    {.word = "help", .several = true},
    {.word = "start", .read = book_value, .at = offsetof(struct handbook_take, start)},
    {.word = "range"},
};
const struct book_vocabulary book_pattern_takes_words = BOOK_VOCABULARY("takes of a pattern",
                                                                        pattern_takes_words);

static void read_take(struct book_reader *r, const struct record *c, const struct book_word *word, void *into)
{
    struct pattern_parts *parts = into;
    (void)word;
    if (!book_room(r, c, parts->p.n_takes, MOST_TAKES))
        return;
    struct handbook_take *t = &parts->takes[parts->p.n_takes];
    if (!book_declaration(r, c, &t->name, &t->type, &t->usual) ||
        !new_name(r, c, &parts->names, t->name, 0))
        return;
    book_lines(r, c, &book_pattern_takes_words, t);
    t->title = book_title(r, c, t->name);
    t->help = book_help(r, c);
    book_range(r, c, &t->low, &t->high);
    parts->p.n_takes++;
}

static const struct book_word point_words[] = {
    {.word = "x", .read = book_value, .at = offsetof(struct handbook_point, x)},
    {.word = "y", .read = book_value, .at = offsetof(struct handbook_point, y)},
    {.word = "turn", .read = book_value, .at = offsetof(struct handbook_point, turn)},
};
const struct book_vocabulary book_point_words = BOOK_VOCABULARY("point", point_words);

/* "point NAME", or "repeat COUNT" for points that have no name of their own. */
static void read_point(struct book_reader *r, const struct record *c, const struct book_word *word,
                       void *into)
{
    struct pattern_parts *parts = into;
    (void)word;
    if (!book_room(r, c, parts->p.n_points, MOST_TAKES))
        return;
    struct handbook_point *p = &parts->points[parts->p.n_points++];
    bool named = strcmp(c->key, "point") == 0;
    if (named) {
        p->name = name_of(r, c);
        new_name(r, c, &parts->point_names, c->rest, 0);
    } else
        parts->p.repeat = book_tree(r, c, c->rest);
    book_lines(r, c, &book_point_words, p);
    if (!r->failed && (!p->x || !p->y))
        book_refuse(r, c, "A point has an x and a y.");
}

static const struct book_word pattern_words[] = {
    {.word = "title"},
    {.word = "help", .several = true},
    {.word = "free", .read = book_flag, .at = offsetof(struct pattern_parts, p.free)},
    {.word = "framed", .read = book_flag, .at = offsetof(struct pattern_parts, p.framed)},
    {.word = "takes", .several = true, .read = read_take},
    {.word = "point", .several = true, .read = read_point},
    {.word = "repeat", .read = read_point},
};
const struct book_vocabulary book_pattern_words = BOOK_VOCABULARY("pattern", pattern_words);

void book_read_pattern(struct book_reader *r, const struct record *at)
{
    struct base_arena *m = &r->h->memory;
    struct pattern_parts parts = {.takes = base_arena_alloc(m, MOST_TAKES * sizeof *parts.takes),
                                  .points = base_arena_alloc(m, MOST_TAKES * sizeof *parts.points)};
    struct handbook_pattern *p = &parts.p;
    p->place = book_place(r, at);
    p->name = name_of(r, at);
    p->help = book_help(r, at);
    p->title = book_title(r, at, p->name);
    book_lines(r, at, &book_pattern_words, &parts);
    base_map_done(&parts.names);
    base_map_done(&parts.point_names);
    if (!r->failed && (!p->n_points || (p->repeat && p->n_points > 1)))
        book_refuse(r, at, "A pattern has points, or one \"repeat\".");
    p->takes = parts.takes;
    p->points = parts.points;
    if (!r->failed && new_name(r, at, &r->h->pattern_names, p->name, r->h->patterns.count))
        base_vec_push(&r->h->patterns, *p);
}

/* ---- tables ---------------------------------------------------------------------------------- */

enum { MOST_IN_TABLE = 40 }; /* files, and columns */

struct table_parts {
    struct table_spec *spec;
    const char **files;
    struct table_column_spec *columns;
    const struct record *keys_at;
    const struct formula_tree *apart;
    struct base_text figure;
};

static void give_file(struct book_reader *r, const struct record *at, const char *file)
{
    for (int i = 0; i < table_file_count(r->h->tables); i++) {
        const char *name;
        table_file(r->h->tables, i, &name, NULL, NULL, NULL);
        if (strcmp(name, file) == 0)
            return;
    }
    char *csv = NULL;
    size_t length;
    if (!*file || file[0] == '.' || strchr(file, '/')) {
        book_refuse(r, at, "The name of a file of parts stands here, without a folder.");
        return;
    }
    char *path = base_format("%s/parts/%s", r->h->folder, file);
    if (base_read_file(path, &csv, &length, r->why) != BASE_OK ||
        table_set_file(r->h->tables, file, csv, length, r->why) != BASE_OK) {
        book_failed(r, at);
    }
    free(csv);
    free(path);
}

/* "size : text from size", "length : length from each lengths_mm, lengths_in" or "series : text from series
   else metric" */
static void read_column(struct book_reader *r, const struct record *at, struct table_column_spec *out)
{
    enum { MOST = 8 };
    char name[80];
    const char *rest = record_word(at->rest, name, sizeof name), *from = strstr(at->rest, " from ");
    book_no_lines(r, at);
    if (*rest != ':' || !from) {
        book_refuse(r, at, "A column is written \"column name : type from names in the files\".");
        return;
    }
    if (!book_name(r, at, name))
        return;
    struct base_arena *m = &r->h->memory;
    out->name = base_arena_copy(m, name);
    rest++;
    while (*rest == ' ')
        rest++;
    struct handbook_type type;
    if (!book_type(r, at, base_arena_copy_n(m, rest, (size_t)(from - rest)), &type))
        return;
    if (type.sort != HANDBOOK_TEXT && type.sort != HANDBOOK_NUMBER) {
        book_refuse(r, at, "A column holds texts or numbers.");
        return;
    }
    out->is_text = type.sort == HANDBOOK_TEXT;
    out->dim = type.type.dim;
    from += strlen(" from ");
    if (strncmp(from, "each ", 5) == 0) {
        out->each = true;
        from += 5;
    }
    const char **names = base_arena_alloc(m, MOST * sizeof *names), *otherwise = strstr(from, " else ");
    if (otherwise && !out->is_text)
        book_refuse(r, at, "Only a text stands behind \"else\".");
    if (otherwise) {
        from = base_arena_copy_n(m, from, (size_t)(otherwise - from));
        out->otherwise = base_arena_copy(m, otherwise + strlen(" else "));
    }
    out->n_from = book_split(r, from, names, MOST);
    out->from = names;
}

/* A line of a drawing keeps the blanks in front, which the record's rest has lost. */
static void add_figure(struct book_reader *r, const struct record *at, const struct book_word *word,
                       void *into)
{
    struct table_parts *parts = into;
    (void)word;
    size_t length;
    const char *line = book_line(r->h, r->file, at->line, &length);
    size_t skip = strspn(line, " ") + strlen(at->key) + 1;
    base_text_addf(&parts->figure, "%.*s\n", (int)(length > skip ? length - skip : 0), line + skip);
}

static void add_file(struct book_reader *r, const struct record *c, const struct book_word *word, void *into)
{
    struct table_parts *parts = into;
    (void)word;
    if (!book_room(r, c, parts->spec->n_files, MOST_IN_TABLE))
        return;
    parts->files[parts->spec->n_files++] = c->rest;
    if (r->h->folder)
        give_file(r, c, c->rest);
}

static void add_column(struct book_reader *r, const struct record *c, const struct book_word *word,
                       void *into)
{
    struct table_parts *parts = into;
    (void)word;
    if (book_room(r, c, parts->spec->n_columns, MOST_IN_TABLE))
        read_column(r, c, &parts->columns[parts->spec->n_columns++]);
}

static void add_keys(struct book_reader *r, const struct record *c, const struct book_word *word, void *into)
{
    struct table_parts *parts = into;
    (void)word;
    const char **keys = base_arena_alloc(&r->h->memory, MOST_IN_TABLE * sizeof *keys);
    parts->spec->n_keys = book_split(r, c->rest, keys, MOST_IN_TABLE);
    parts->spec->keys = keys;
    parts->keys_at = c;
}

/* Keys are columns of the table. */
static void check_keys(struct book_reader *r, const struct record *at, const struct table_spec *spec)
{
    for (int i = 0; i < spec->n_keys && !r->failed; i++) {
        bool there = false;
        for (int c = 0; c < spec->n_columns; c++)
            there = there || strcmp(spec->columns[c].name, spec->keys[i]) == 0;
        if (!there)
            book_refuse(r, at, "Keys are names of the table's columns.");
    }
}

static const struct book_word table_words[] = {
    {.word = "help", .several = true},
    {.word = "file", .several = true, .read = add_file},
    {.word = "column", .several = true, .read = add_column},
    {.word = "keys", .read = add_keys},
    {.word = "apart", .read = book_formula, .at = offsetof(struct table_parts, apart)},
    {.word = "figure", .several = true, .read = add_figure},
    {.word = "source", .several = true},
};
const struct book_vocabulary book_table_words = BOOK_VOCABULARY("table", table_words);

void book_read_table(struct book_reader *r, const struct record *at)
{
    struct base_arena *m = &r->h->memory;
    struct table_parts parts = {.spec = base_arena_alloc(m, sizeof *parts.spec),
                                .files = base_arena_alloc(m, MOST_IN_TABLE * sizeof *parts.files),
                                .columns = base_arena_alloc(m, MOST_IN_TABLE * sizeof *parts.columns)};
    struct table_spec *spec = parts.spec;
    *spec = (struct table_spec){.name = name_of(r, at),
                                .help = book_help(r, at),
                                .files = parts.files,
                                .columns = parts.columns};
    book_lines(r, at, &book_table_words, &parts);
    spec->figure = parts.figure.length ? base_arena_copy(m, base_text_get(&parts.figure)) : NULL;
    base_text_done(&parts.figure);
    check_keys(r, parts.keys_at, spec);
    int number;
    if (!r->failed && table_set_declare(r->h->tables, spec, &number, r->why) != BASE_OK)
        book_failed(r, at);
    if (!r->failed && parts.apart)
        base_vec_push(&r->h->aparts, ((struct apart){number, parts.apart}));
}

static const struct book_word word_words[] = {
    {.word = "also", .read = book_text, .at = offsetof(struct handbook_word, also)},
    {.word = "help", .several = true},
    {.word = "source", .several = true},
};
const struct book_vocabulary book_word_words = BOOK_VOCABULARY("word", word_words);

void book_read_word(struct book_reader *r, const struct record *at)
{
    struct handbook_word w = {.name = at->rest, .help = book_help(r, at)};
    book_lines(r, at, &book_word_words, &w);
    w.source = book_sources(r, at, w.name, &w.seen);
    if (!w.help)
        book_refuse(r, at, "A word needs its help: what is meant by it.");
    base_vec_push(&r->h->words, w);
}

static void read_choose(struct book_reader *r, const struct record *c, const struct book_word *word,
                        void *into)
{
    enum { MOST = 12 };
    struct handbook_difference *w = into;
    (void)word;
    const char **chosen = base_arena_alloc(&r->h->memory, MOST * sizeof *chosen);
    w->n_chosen_by = book_split(r, c->rest, chosen, MOST);
    w->chosen_by = chosen;
}

static const struct book_word differ_words[] = {
    {.word = "help", .several = true},
    {.word = "taken", .read = book_text, .at = offsetof(struct handbook_difference, taken)},
    {.word = "choose", .read = read_choose},
    {.word = "source", .several = true},
};
const struct book_vocabulary book_differ_words = BOOK_VOCABULARY("differ", differ_words);

void book_read_differ(struct book_reader *r, const struct record *at)
{
    struct handbook_difference w = {.name = at->rest, .help = book_help(r, at), .place = book_place(r, at)};
    book_lines(r, at, &book_differ_words, &w);
    w.source = book_sources(r, at, w.name, &w.seen);
    if (!w.help || !w.taken || !w.source)
        book_refuse(
            r, at,
            "Where sources differ, help says how, taken what is taken here, and source whose they are.");
    base_vec_push(&r->h->differences, w);
}

static const struct book_word caution_words[] = {{.word = "on"}, {.word = "source", .several = true}};
const struct book_vocabulary book_caution_words = BOOK_VOCABULARY("caution", caution_words);

struct handbook_caution book_caution(struct book_reader *r, const struct record *at, const char *name)
{
    struct handbook_caution c = {.text = at->rest, .on = record_text(at, "on", NULL)};
    book_lines(r, at, &book_caution_words, NULL);
    c.source = book_sources(r, at, name, &c.seen);
    if (!*c.text)
        book_refuse(r, at, "A caution needs its words: what can hurt, and what keeps it from doing so.");
    return c;
}

void book_read_caution(struct book_reader *r, const struct record *at)
{
    struct handbook_caution c = book_caution(r, at, "wherever work can hurt");
    base_vec_push(&r->h->cautions, c);
}
