/* A job as record text.
 *
 *     kind name                    items in the job's order; a single kind stands without a name
 *       title words                free words: title, note
 *       property = formula
 *         reason words
 *       own : dimension = formula  in a group of the job's own values
 *         help words
 *       outline
 *         at 0 mm, 0 mm
 *         line to 30 mm, 0 mm
 *           reason words
 *       table press_size           in a list of the job's own sizes: rows of a parts table as CSV, line by
 *       line
 *       line key,frame,rated_kn
 *       lay six on die_plate
 *         end = 25 mm
 *         point right_front
 *           x = usual - 6 mm
 *             reason words
 *     factor name = formula        a factor of the handbook typed over
 *
 * Between lines and entries only the shape changes: an entry's path is the keys above it
 * joined by "/", a `point NAME` line counting as NAME, and a line of an outline as its number.
 */

#include "diewright/dieset.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const free_words[] = {"title", "note", "help", "reason", "choices", "from", "type"};

static bool is_free_words(const char *key)
{
    for (size_t i = 0; i < COUNT_OF(free_words); i++)
        if (strcmp(free_words[i], key) == 0)
            return true;
    return false;
}

/* ---- reading -------------------------------------------------------------- */

struct reader {
    const struct handbook *h;
    struct dieset_text *out;
    const char *item;
    const struct handbook_kind *words; /* the item is of a kind of words, else NULL */
    bool own_values, rows; /* of the kind of the item being read */
    int lines;             /* of its rows so far */
    struct base_map seen; /* "item/path" of every entry, "item" of every item */
    bool twice;           /* something was said twice; the reason stands */
    struct base_diag *why;
};

static enum base_err refuse(struct reader *r, const struct record *line, const char *sentence)
{
    enum base_err err = base_fail(r->why, BASE_REFUSED, "%s", sentence);
    base_diag_place(r->why, r->out->name, line->line);
    return err;
}

/* What is said once must not be said again: which of the two would hold? */
static void once(struct reader *r, const struct record *line, const char *path)
{
    char *key = base_format("%s/%s", r->item, path);
    if (base_map_get(&r->seen, key, NULL) && !r->twice) {
        r->twice = true;
        refuse(r, line,
               *path ? "This is said twice of the same item: take one of the two out."
                     : "There is an item of this name already.");
    }
    base_map_put(&r->seen, key, 1);
    free(key);
}

static void add(struct reader *r, const struct record *line, const char *path, const char *text)
{
    struct base_arena *m = &r->out->memory;
    once(r, line, path);
    struct typed_entry e = {r->item, base_arena_copy(m, path), base_arena_copy(m, text)};
    base_vec_push(&r->out->entries, e);
    base_vec_push(&r->out->lines, line->line);
}

/* "= formula" -> formula; NULL when the rest does not begin with "=". */
static const char *after_equals(const char *rest)
{
    if (rest[0] != '=')
        return NULL;
    rest++;
    while (*rest == ' ')
        rest++;
    return rest;
}

/* Words may stand in double quotes or bare; a job keeps them bare. */
static const char *bare_words(struct reader *r, const char *rest)
{
    size_t n = strlen(rest);
    if (n >= 2 && rest[0] == '"' && rest[n - 1] == '"')
        return base_arena_copy_n(&r->out->memory, rest + 1, n - 2);
    return rest;
}

static enum base_err read_lines(struct reader *r, const struct record *line, const char *prefix, bool in_lay);

/* "reach : length = 1.5 * x" of a group of own values: type and formula are entries of their own. */
static enum base_err read_own_value(struct reader *r, const struct record *line)
{
    const char *equals = strchr(line->rest, '=');
    if (line->rest[0] != ':' || !equals)
        return refuse(r, line, "A value of the job's own is written \"name : dimension = formula\".");
    const char *from = line->rest + 1, *end = equals;
    while (*from == ' ')
        from++;
    while (end > from && end[-1] == ' ')
        end--;
    add(r, line, line->key, after_equals(equals));
    char *path = typed_of_detail(line->key, TYPED_TYPE);
    add(r, line, path, base_arena_copy_n(&r->out->memory, from, (size_t)(end - from)));
    free(path);
    return read_lines(r, line->child, base_arena_format(&r->out->memory, "%s/", line->key), false);
}

/* The lines of an outline, counted from 1, each kept whole. */
static enum base_err read_outline(struct reader *r, const struct record *line)
{
    struct base_arena *m = &r->out->memory;
    enum base_err err = *line->rest
                            ? refuse(r, line,
                                     "Nothing can stand behind \"outline\"; its lines stand below it.")
                            : BASE_OK;
    int n = 0;
    once(r, line, "outline");
    for (const struct record *l = line->child; l && !err; l = l->next) {
        char *path = typed_of_line(++n);
        add(r, l, path, base_arena_format(m, "%s %s", l->key, l->rest));
        err = read_lines(r, l->child, base_arena_format(m, "%s/", path), false);
        free(path);
    }
    return err;
}

static enum base_err read_line(struct reader *r, const struct record *line, const char *prefix, bool in_lay)
{
    struct base_arena *m = &r->out->memory;
    char *path = base_arena_format(m, "%s%s", prefix, line->key);
    const char *formula = after_equals(line->rest);
    if (strcmp(line->key, "point") == 0 && in_lay) {
        if (!record_is_name(line->rest))
            return refuse(r, line, "A freed point is written \"point NAME\".");
        return read_lines(r, line->child, base_arena_format(m, "%s%s/", prefix, line->rest), false);
    }
    if (strcmp(line->key, "lay") == 0 && !*prefix) {
        add(r, line, "lay", line->rest);
        return read_lines(r, line->child, "lay/", true);
    }
    if (strcmp(line->key, "outline") == 0 && !*prefix && !formula && !r->own_values)
        return read_outline(r, line);
    if (formula) {
        add(r, line, path, formula);
        return read_lines(r, line->child, base_arena_format(m, "%s/", path), false);
    }
    if (r->rows && !*prefix && strcmp(line->key, "line") == 0) {
        char *row = typed_of_row(++r->lines);
        path = base_arena_copy(m, row);
        free(row);
    }
    if (is_free_words(line->key) ||
        (r->rows && !*prefix && (strcmp(line->key, "table") == 0 || strcmp(line->key, "line") == 0))) {
        add(r, line, path, bare_words(r, line->rest));
        return line->child ? refuse(r, line->child, "Nothing can stand under this line.") : BASE_OK;
    }
    if (r->own_values && !*prefix)
        return read_own_value(r, line);
    return refuse(r, line, "A property is written \"name = formula\".");
}

/* A kind of words has its own lines, each a text as it stands. */
static enum base_err read_words(struct reader *r, const struct record *line)
{
    if (handbook_word_line(r->words, line->key) < 0) {
        struct base_text near = {0};
        base_nearest(&near, line->key, r->words->words, (size_t)r->words->n_words);
        char *sentence = base_format("%s have no line \"%s\"%s%s.", r->words->plural, line->key,
                                     near.length ? "; near it: " : "", base_text_get(&near));
        enum base_err err = refuse(r, line, sentence);
        free(sentence);
        base_text_done(&near);
        return err;
    }
    add(r, line, line->key, bare_words(r, line->rest));
    return line->child ? refuse(r, line->child, "Nothing can stand under this line.") : BASE_OK;
}

static enum base_err read_lines(struct reader *r, const struct record *line, const char *prefix, bool in_lay)
{
    for (; line; line = line->next) {
        enum base_err err = r->words ? read_words(r, line) : read_line(r, line, prefix, in_lay);
        if (err)
            return err;
    }
    return BASE_OK;
}

static enum base_err refuse_kind(struct reader *r, const struct record *line)
{
    struct base_text near = {0};
    int n = handbook_kind_count(r->h);
    const char **names = base_alloc((size_t)n * sizeof *names);
    for (int i = 0; i < n; i++)
        names[i] = handbook_kind(r->h, i)->name;
    base_nearest(&near, line->key, names, (size_t)n);
    free(names);
    const char *words = base_text_get(&near);
    enum base_err err = base_fail(r->why, BASE_UNKNOWN, "The handbook has no kind \"%s\"%s%s.", line->key,
                                  *words ? "; near it: " : "", words);
    base_diag_place(r->why, r->out->name, line->line);
    base_text_done(&near);
    return err;
}

static enum base_err read_item(struct reader *r, const struct record *line)
{
    struct base_arena *m = &r->out->memory;
    bool factor = strcmp(line->key, "factor") == 0;
    int kind = factor ? -1 : handbook_find_kind(r->h, line->key);
    if (!factor && kind < 0)
        return refuse_kind(r, line);
    char name[200]; /* longer ones are refused for their length all the same */
    const char *rest = record_word(line->rest, name, sizeof name);
    const struct handbook_kind *k = kind >= 0 ? handbook_kind(r->h, kind) : NULL;
    if (k && k->single && !*name)
        snprintf(name, sizeof name, "%s", k->name);
    if (!record_is_name(name))
        return refuse(r, line,
                      "An item is written \"kind name\"; a name has small letters, digits and \"_\" and "
                      "begins with a letter.");
    if (k && k->single && strcmp(name, k->name) != 0)
        return refuse(
            r, line,
            "There is one of this kind in a job, and it is named after its kind: leave the name out.");
    /* by a former name, too: it is written by today's */
    int known = factor ? handbook_find_factor(r->h, name) : -1;
    struct typed_item item = {base_arena_copy(m, line->key),
                              base_arena_copy(m, known < 0 ? name : handbook_factor(r->h, known)->name)};
    base_vec_push(&r->out->items, item);
    base_vec_push(&r->out->item_lines, line->line);
    r->item = item.name;
    once(r, line, "");
    r->own_values = k && k->values;
    r->words = k && k->n_words ? k : NULL;
    r->rows = k && k->rows;
    r->lines = 0;
    if (factor) {
        const char *formula = after_equals(rest);
        if (!formula)
            return refuse(r, line, "A factor typed over is written \"factor NAME = formula\".");
        add(r, line, "value", formula);
        return read_lines(r, line->child, "value/", false);
    }
    if (*rest) { /* mostly a property that stands four blanks deeper, and so goes on with the item's line */
        size_t start;
        enum base_err err = base_fail(
            r->why, BASE_REFUSED,
            "Nothing can stand behind the item's name; its properties stand below it, "
            "two blanks deeper.");
        base_diag_place(r->why, r->out->name, record_place(line, (size_t)(rest - line->rest), &start));
        return err;
    }
    return read_lines(r, line->child, "", false);
}

enum base_err dieset_text_read(const struct handbook *h, const char *text, const char *name,
                               struct dieset_text *out, struct base_diag *why)
{
    struct record_document doc;
    *out = (struct dieset_text){0};
    out->name = base_arena_copy(&out->memory, name);
    enum base_err err = record_read(text, strlen(text), name, &doc, why);
    if (err) {
        dieset_text_done(out);
        return err;
    }
    struct reader r = {.h = h, .out = out, .why = why};
    for (const struct record *line = doc.first; line && !err && !r.twice; line = line->next)
        err = read_item(&r, line);
    if (!err && r.twice)
        err = BASE_REFUSED;
    base_map_done(&r.seen);
    record_done(&doc);
    if (err)
        dieset_text_done(out);
    return err;
}

void dieset_text_done(struct dieset_text *t)
{
    base_vec_done(&t->items);
    base_vec_done(&t->entries);
    base_vec_done(&t->lines);
    base_vec_done(&t->item_lines);
    base_arena_done(&t->memory);
}

/* Gives a reason that begins with "item.entry:" or the item's name the line in which that stands. */
static void place(const struct dieset_text *t, struct base_diag *why)
{
    if (!why)
        return;
    for (size_t i = 0; i < t->entries.count; i++) {
        const struct typed_entry *e = &t->entries.at[i];
        struct typed_path at = typed_path_read(e->path);
        char *known = typed_known(e->item, e->path);
        size_t n = strlen(known);
        /* what is computed from a line of an outline is named behind it */
        bool here = strncmp(why->message, known, n) == 0 &&
                    (why->message[n] == ':' || (why->message[n] == '.' && at.place == TYPED_AT_LINE));
        free(known);
        if (here) {
            base_diag_place(why, t->name, t->lines.at[i]);
            return;
        }
    }
    const char *said = why->message + (why->message[0] == '"');
    for (size_t i = t->items.count; i-- > 0;) { /* of two alike the second is the one too many */
        size_t n = strlen(t->items.at[i].name);
        if (strncmp(said, t->items.at[i].name, n) == 0 && strchr(": .\"", said[n])) {
            base_diag_place(why, t->name, t->item_lines.at[i]);
            return;
        }
    }
}

enum base_err dieset_text_load(const struct dieset_text *t, struct dieset *d, struct base_diag *why)
{
    enum base_err err = dieset_load(d, t->items.at, (int)t->items.count, t->entries.at, (int)t->entries.count,
                                    why);
    if (err)
        place(t, why);
    return err;
}

/* ---- writing -------------------------------------------------------------- */

struct writer {
    const struct dieset *d;
    const struct handbook_kind *kind; /* NULL: a factor */
    const struct typed_entry *entries;
    int n;
    struct base_text out;
};

static const char *entry_text(const struct writer *w, const char *path)
{
    for (int i = 0; i < w->n; i++)
        if (strcmp(w->entries[i].path, path) == 0)
            return w->entries[i].text;
    return NULL;
}

/* Words that would be read as something else, or lose a blank at an end, stand in quotes. */
static void write_words(struct writer *w, int level, const char *key, const char *text)
{
    struct base_text held = {0};
    size_t n = strlen(text);
    bool quoted = n == 0 || text[0] == '=' || text[0] == ' ' || text[n - 1] == ' ' ||
                  (n >= 2 && text[0] == '"' && text[n - 1] == '"');
    base_text_add(&held, quoted ? "\"" : "");
    base_text_add_visible(&held, text, n, false);
    base_text_add(&held, quoted ? "\"" : "");
    record_write(&w->out, level, key, false, base_text_get(&held));
    base_text_done(&held);
}

static void write_words_below(struct writer *w, int level, const char *path)
{
    for (size_t i = 0; i < COUNT_OF(free_words); i++) {
        char *below = base_format("%s/%s", path, free_words[i]);
        const char *text = entry_text(w, below);
        if (text && strcmp(free_words[i], "type") != 0)
            write_words(w, level, free_words[i], text);
        free(below);
    }
}

static void write_formula(struct writer *w, int level, const char *key, const char *path)
{
    const char *text = entry_text(w, path);
    if (!text)
        return;
    record_write(&w->out, level, key, true, text);
    write_words_below(w, level + 1, path);
}

static void write_own_value(struct writer *w, const struct typed_entry *e)
{
    char *type_path = typed_of_detail(e->path, TYPED_TYPE);
    const char *type = entry_text(w, type_path);
    char *line = base_format(": %s = %s", type ? type : "number", e->text);
    record_write(&w->out, 1, e->path, false, line);
    write_words_below(w, 2, e->path);
    free(line);
    free(type_path);
}

static bool is_of_point(const struct typed_path *at, const struct typed_path *same)
{
    return at->place == TYPED_AT_POINT && at->axis >= 0 &&
           (!same || (at->length == same->length && strncmp(at->name, same->name, at->length) == 0));
}

static bool has_point_before(const struct writer *w, int upto, const struct typed_path *point)
{
    for (int i = 0; i < upto; i++) {
        struct typed_path at = typed_path_read(w->entries[i].path);
        if (is_of_point(&at, point))
            return true;
    }
    return false;
}

static void write_points(struct writer *w)
{
    for (int i = 0; i < w->n; i++) {
        struct typed_path at = typed_path_read(w->entries[i].path);
        if (!is_of_point(&at, NULL) || has_point_before(w, i, &at))
            continue;
        char *name = base_copy_n(at.name, at.length);
        record_write(&w->out, 2, "point", false, name);
        for (int a = 0; a < TYPED_AXES; a++) {
            char *path = typed_of_point(name, (enum typed_axis)a);
            write_formula(w, 3, typed_axis_name((enum typed_axis)a), path);
            free(path);
        }
        free(name);
    }
}

static void write_outline(struct writer *w)
{
    for (int i = 1;; i++) {
        char *path = typed_of_line(i), key[20];
        const char *text = entry_text(w, path);
        if (text && i == 1)
            record_write(&w->out, 1, "outline", false, NULL);
        if (text) {
            const char *rest = record_word(text, key, sizeof key);
            record_write(&w->out, 2, key, false, rest);
            write_words_below(w, 3, path);
        }
        free(path);
        if (!text)
            return;
    }
}

static void write_lay(struct writer *w)
{
    const char *lay = entry_text(w, "lay");
    if (!lay)
        return;
    record_write(&w->out, 1, "lay", false, lay);
    for (int i = 0; i < w->n; i++) {
        struct typed_path at = typed_path_read(w->entries[i].path);
        if (at.place == TYPED_AT_TAKE && at.detail == TYPED_ITSELF)
            write_formula(w, 2, at.name, w->entries[i].path);
    }
    write_points(w);
}

/* Entries stand in the order of a dump: the table, then its lines. */
static void write_rows(struct writer *w)
{
    for (int i = 0; i < w->n; i++) {
        bool row = typed_path_read(w->entries[i].path).place == TYPED_AT_ROW;
        if (row || strcmp(w->entries[i].path, "table") == 0)
            write_words(w, 1, row ? "line" : "table", w->entries[i].text);
    }
}

static void write_item(struct writer *w, int item)
{
    const char *name = dieset_item_name(w->d, item);
    int kind = dieset_item_kind(w->d, item);
    w->kind = kind >= 0 ? handbook_kind(dieset_handbook(w->d), kind) : NULL;
    w->n = dieset_entries(w->d, item, &w->entries);
    if (!w->kind) {
        const char *value = entry_text(w, "value");
        char *line = base_format("%s = %s", name, value ? value : "");
        record_write(&w->out, 0, "factor", false, line);
        write_words_below(w, 1, "value");
        free(line);
        return;
    }
    record_write(&w->out, 0, w->kind->name, false, w->kind->single ? NULL : name);
    static const char *const words[] = {"title", "note"};
    for (int i = 0; i < w->kind->n_words; i++)
        if (entry_text(w, w->kind->words[i]))
            write_words(w, 1, w->kind->words[i], entry_text(w, w->kind->words[i]));
    for (size_t i = 0; i < COUNT_OF(words) && !w->kind->n_words; i++)
        if (handbook_find_property(w->kind, words[i]) < 0 && entry_text(w, words[i]))
            write_words(w, 1, words[i], entry_text(w, words[i]));
    if (w->kind->rows) {
        write_rows(w);
        return;
    }
    if (w->kind->values) {
        for (int i = 0; i < w->n; i++)
            if (typed_path_read(w->entries[i].path).detail == TYPED_ITSELF &&
                !is_free_words(w->entries[i].path))
                write_own_value(w, &w->entries[i]);
        return;
    }
    for (int i = 0; i < w->kind->n_properties; i++)
        write_formula(w, 1, w->kind->properties[i].name, w->kind->properties[i].name);
    write_outline(w);
    write_lay(w);
}

static char *write_all(const struct dieset *d, bool words)
{
    struct writer w = {.d = d};
    for (int i = 0; i < dieset_item_count(d); i++) {
        if (!words && dieset_item_words(d, i))
            continue;
        if (w.out.length)
            base_text_add(&w.out, "\n");
        write_item(&w, i);
    }
    return base_text_take(&w.out);
}

char *dieset_text_write(const struct dieset *d) { return write_all(d, true); }
char *dieset_text_write_set(const struct dieset *d) { return write_all(d, false); }
