/* Factors, functions, patterns, tables, words, cautions and what sources differ about. */

#include "handbook/book.h"

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

void book_read_factor(struct book_reader *r, const struct record *at)
{
    struct handbook_factor f = {.place = book_place(r, at)};
    book_only(r, at, "title help range formerly source");
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

static void read_takes(struct book_reader *r, const struct record *c, struct function_parts *parts)
{
    struct formula_parameter p = {0};
    struct handbook_type type;
    book_only(r, c, "help");
    book_room(r, c, (int)parts->parameters.count, MOST_PARTS);
    if (parts->lets.count || parts->f.f.gives)
        book_refuse(r, c, "What a function takes stands before what it works out.");
    if (!book_declaration(r, c, &p.name, &type, &p.usual) || !new_name(r, c, &parts->names, p.name, 0))
        return;
    p.type = type.type;
    base_vec_push(&parts->parameters, p);
    base_vec_push(&parts->helps, book_help(r, c));
}

static void read_let(struct book_reader *r, const struct record *c, struct function_parts *parts)
{
    char word[80];
    const char *rest = record_word(c->rest, word, sizeof word);
    book_only(r, c, "");
    book_room(r, c, (int)parts->lets.count, MOST_PARTS);
    if (*rest != '=') {
        book_refuse(r, c, "A part of a function is written \"let name = formula\".");
        return;
    }
    if (book_name(r, c, word) && new_name(r, c, &parts->names, word, 0))
        base_vec_push(&parts->lets, ((struct formula_let){base_arena_copy(&r->h->memory, word),
                                                          book_tree(r, c, rest + 1)}));
}

static void read_gives(struct book_reader *r, const struct record *c, struct function_parts *parts)
{
    const char *equals = strchr(c->rest, '=');
    struct handbook_type type;
    book_only(r, c, "");
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

void book_read_function(struct book_reader *r, const struct record *at)
{
    struct function_parts parts = {.f = {.place = book_place(r, at), .help = book_help(r, at)}};
    struct formula_function *f = &parts.f.f;
    book_only(r, at, "help takes let gives source");
    f->name = name_of(r, at);
    parts.f.source = book_sources(r, at, f->name, &parts.f.seen);
    for (const struct record *c = at->child; c && !r->failed; c = c->next) {
        if (strcmp(c->key, "takes") == 0)
            read_takes(r, c, &parts);
        else if (strcmp(c->key, "let") == 0)
            read_let(r, c, &parts);
        else if (strcmp(c->key, "gives") == 0)
            read_gives(r, c, &parts);
    }
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

static struct handbook_point read_point(struct book_reader *r, const struct record *at, const char *name)
{
    struct handbook_point p = {.name = name};
    book_only(r, at, "x y turn");
    const struct record *x = record_find(at, "x"), *y = record_find(at, "y"), *turn = record_find(at, "turn");
    if (!x || !y)
        book_refuse(r, at, "A point has an x and a y.");
    p.x = x && !r->failed ? book_equals(r, x) : NULL;
    p.y = y && !r->failed ? book_equals(r, y) : NULL;
    p.turn = turn && !r->failed ? book_equals(r, turn) : NULL;
    return p;
}

void book_read_pattern(struct book_reader *r, const struct record *at)
{
    enum { MOST = 64 };
    struct base_arena *m = &r->h->memory;
    struct handbook_pattern p = {.place = book_place(r, at),
                                 .name = name_of(r, at),
                                 .help = book_help(r, at)};
    struct handbook_take *takes = base_arena_alloc(m, MOST * sizeof *takes);
    struct handbook_point *points = base_arena_alloc(m, MOST * sizeof *points);
    struct base_map names = {0}, point_names = {0};
    book_only(r, at, "title help free takes point repeat");
    p.title = book_title(r, at, p.name);
    p.free = record_find(at, "free") != NULL;
    for (const struct record *c = at->child; c && !r->failed; c = c->next) {
        if (strcmp(c->key, "takes") == 0 && book_room(r, c, p.n_takes, MOST)) {
            struct handbook_take *t = &takes[p.n_takes];
            book_only(r, c, "title help start");
            if (!book_declaration(r, c, &t->name, &t->type, &t->usual) || !new_name(r, c, &names, t->name, 0))
                break;
            t->title = book_title(r, c, t->name);
            t->help = book_help(r, c);
            const struct record *start = record_find(c, "start");
            t->start = start ? book_equals(r, start) : NULL;
            p.n_takes++;
        } else if (strcmp(c->key, "point") == 0 && book_room(r, c, p.n_points, MOST)) {
            points[p.n_points++] = read_point(r, c, name_of(r, c));
            if (!r->failed)
                new_name(r, c, &point_names, c->rest, 0);
        } else if (strcmp(c->key, "repeat") == 0 && book_room(r, c, p.n_points, MOST)) {
            p.repeat = book_tree(r, c, c->rest);
            points[p.n_points++] = read_point(r, c, NULL);
        }
    }
    base_map_done(&names);
    base_map_done(&point_names);
    if (!r->failed && (!p.n_points || (p.repeat && p.n_points > 1)))
        book_refuse(r, at, "A pattern has points, or one \"repeat\".");
    p.takes = takes;
    p.points = points;
    if (!r->failed && new_name(r, at, &r->h->pattern_names, p.name, r->h->patterns.count))
        base_vec_push(&r->h->patterns, p);
}

/* ---- tables ---------------------------------------------------------------------------------- */

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

/* "size : text from size" or "length : length from each lengths_mm, lengths_in" */
static void read_column(struct book_reader *r, const struct record *at, struct table_column_spec *out)
{
    enum { MOST = 8 };
    char name[80];
    const char *rest = record_word(at->rest, name, sizeof name), *from = strstr(at->rest, " from ");
    book_only(r, at, "");
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
    const char **names = base_arena_alloc(m, MOST * sizeof *names);
    out->n_from = book_split(r, from, names, MOST);
    out->from = names;
}

/* A line of a drawing keeps the blanks in front, which the record's rest has lost. */
static void add_figure(struct book_reader *r, const struct record *at, struct base_text *out)
{
    size_t length;
    const char *line = book_line(r->h, r->file, at->line, &length);
    size_t skip = strspn(line, " ") + strlen(at->key) + 1;
    base_text_addf(out, "%.*s\n", (int)(length > skip ? length - skip : 0), line + skip);
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

void book_read_table(struct book_reader *r, const struct record *at)
{
    enum { MOST = 40 };
    struct base_arena *m = &r->h->memory;
    const char **files = base_arena_alloc(m, MOST * sizeof *files);
    struct table_column_spec *columns = base_arena_alloc(m, MOST * sizeof *columns);
    struct table_spec *spec = base_arena_alloc(m, sizeof *spec);
    struct base_text figure = {0};
    const struct record *keys_at = NULL;
    *spec = (struct table_spec){
        .name = name_of(r, at), .help = book_help(r, at), .files = files, .columns = columns};
    book_only(r, at, "help file column keys figure source");
    for (const struct record *c = at->child; c && !r->failed; c = c->next) {
        if (strcmp(c->key, "file") == 0 && book_room(r, c, spec->n_files, MOST)) {
            files[spec->n_files++] = c->rest;
            if (r->h->folder)
                give_file(r, c, c->rest);
        } else if (strcmp(c->key, "column") == 0 && book_room(r, c, spec->n_columns, MOST))
            read_column(r, c, &columns[spec->n_columns++]);
        else if (strcmp(c->key, "keys") == 0) {
            const char **keys = base_arena_alloc(m, MOST * sizeof *keys);
            spec->n_keys = book_split(r, c->rest, keys, MOST);
            spec->keys = keys;
            keys_at = c;
        } else if (strcmp(c->key, "figure") == 0)
            add_figure(r, c, &figure);
    }
    spec->figure = figure.length ? base_arena_copy(m, base_text_get(&figure)) : NULL;
    base_text_done(&figure);
    check_keys(r, keys_at, spec);
    int number;
    if (!r->failed && table_set_declare(r->h->tables, spec, &number, r->why) != BASE_OK)
        book_failed(r, at);
}

void book_read_word(struct book_reader *r, const struct record *at)
{
    book_only(r, at, "also help source");
    struct handbook_word w = {at->rest, record_text(at, "also", NULL), book_help(r, at), NULL, NULL};
    w.source = book_sources(r, at, w.name, &w.seen);
    if (!w.help)
        book_refuse(r, at, "A word needs its help: what is meant by it.");
    base_vec_push(&r->h->words, w);
}

void book_read_differ(struct book_reader *r, const struct record *at)
{
    enum { MOST = 12 };
    const char **chosen = base_arena_alloc(&r->h->memory, MOST * sizeof *chosen);
    struct handbook_difference w = {.name = at->rest,
                                    .help = book_help(r, at),
                                    .taken = record_text(at, "taken", NULL),
                                    .chosen_by = chosen,
                                    .place = book_place(r, at)};
    book_only(r, at, "help taken choose source");
    w.source = book_sources(r, at, w.name, &w.seen);
    const char *choose = record_text(at, "choose", NULL);
    if (!w.help || !w.taken || !w.source)
        book_refuse(
            r, at,
            "Where sources differ, help says how, taken what is taken here, and source whose they are.");
    w.n_chosen_by = choose ? book_split(r, choose, chosen, MOST) : 0;
    base_vec_push(&r->h->differences, w);
}

struct handbook_caution book_caution(struct book_reader *r, const struct record *at, const char *name)
{
    struct handbook_caution c = {.text = at->rest};
    book_only(r, at, "source");
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
