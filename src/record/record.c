/* Indented record text, read into a tree and written line by line.
 *
 * Reading keeps, for each level, the last record seen there: a line's parent is the last record one level up.
 * A line that stands deeper than a child of the line above could goes on with that line's record.
 */

#include "diewright/record.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

enum { LEVELS = 5, LONGEST_LINE = 1000 };

struct reading {
    struct record_document *doc;
    struct record *last[LEVELS];
    int level; /* of the line before, -1 at the top */
    int line;
    struct base_diag *why;
};

/* A reason has room for a part of a long line only: then it is shown from a little before the fault. */
static enum base_err refuse(struct reading *r, const char *text, size_t length, int at, const char *sentence)
{
    enum { SHOWN = 300, BEFORE = 100 };
    int skip = at < SHOWN ? 0 : at - BEFORE;
    if (skip > 0)
        skip = (int)base_char_start(text, (size_t)skip + 1);
    size_t left = length - (size_t)skip;
    char *source = base_copy_n(text + skip, left < SHOWN ? left : SHOWN);
    enum base_err err = base_fail(r->why, BASE_REFUSED, "%s", sentence);
    base_diag_mark(r->why, source, at - skip, 1);
    base_diag_place(r->why, r->doc->name, r->line);
    free(source);
    return err;
}

static enum base_err check_bytes(struct reading *r, const char *text, size_t length)
{
    if (length > LONGEST_LINE)
        return refuse(r, text, length, 0,
                      "This line is longer than 1000 bytes: give a part of it a name of its own.");
    for (size_t i = 0; i < length;) {
        i += base_plain(text + i, length - i);
        if (i == length)
            break;
        if (text[i] == '\t')
            return refuse(r, text, length, (int)i, "There is a tab here; two blanks make a level.");
        uint32_t ch;
        size_t n = base_char(text + i, length - i, &ch);
        if (!n)
            return refuse(r, text, length, (int)i, "These bytes are no UTF-8 text.");
        if (ch < 0x20 || (ch >= 0x7f && ch < 0xa0)) /* U+0080 to U+009F: some terminals obey them */
            return refuse(r, text, length, (int)i, "There is a control character here.");
        if (base_char_hidden(ch))
            return refuse(r, text, length, (int)i, "There is a character here that is not seen.");
        i += n;
    }
    return BASE_OK;
}

static size_t key_length(const char *text, size_t length)
{
    if (!length || !isalpha((unsigned char)text[0]))
        return 0;
    size_t n = 1;
    while (n < length && (isalnum((unsigned char)text[n]) || text[n] == '_' || text[n] == '-'))
        n++;
    return n;
}

static void hang_on(struct reading *r, int level, struct record *record)
{
    struct record *before = level <= r->level ? r->last[level] : NULL;
    if (before)
        before->next = record;
    else if (level > 0)
        r->last[level - 1]->child = record;
    else
        r->doc->first = record;
    r->last[level] = record;
    r->level = level;
}

/* The text from START on goes on with the record of the line above, behind a blank. */
static enum base_err go_on(struct reading *r, const char *text, size_t start, size_t length)
{
    struct record *record = r->last[r->level];
    size_t end = length;
    while (text[end - 1] == ' ')
        end--;
    if (strlen(record->rest) + 1 + end - start > LONGEST_LINE)
        return refuse(
            r, text, length, (int)start,
            "With the lines that this one goes on with it is longer than 1000 bytes: give a part of "
            "it a name of its own.");
    struct record_more *more = base_arena_alloc(&r->doc->memory, sizeof *more);
    *more = (struct record_more){.at = *record->rest ? (int)strlen(record->rest) + 1 : 0, .line = r->line};
    record->rest = base_arena_format(&r->doc->memory, "%s%s%.*s", record->rest, more->at ? " " : "",
                                     (int)(end - start), text + start);
    struct record_more **last = &record->more;
    while (*last)
        last = &(*last)->next;
    *last = more;
    return BASE_OK;
}

static enum base_err read_line(struct reading *r, const char *text, size_t length)
{
    enum base_err err = check_bytes(r, text, length);
    if (err)
        return err;
    size_t blanks = 0;
    while (blanks < length && text[blanks] == ' ')
        blanks++;
    if (blanks == length || text[blanks] == '#')
        return BASE_OK;
    if (blanks % 2)
        return refuse(r, text, length, (int)blanks,
                      "An odd number of blanks begins this line; two blanks make a level.");
    int level = (int)(blanks / 2);
    if (level > r->level + 1 && r->level >= 0)
        return go_on(r, text, blanks, length);
    if (level > r->level + 1)
        return refuse(r, text, length, (int)blanks, "The first line begins with no blanks.");
    if (level >= LEVELS)
        return refuse(r, text, length, (int)blanks, "This line stands too deep: there are five levels.");
    size_t n = key_length(text + blanks, length - blanks);
    if (!n || (blanks + n < length && text[blanks + n] != ' '))
        return refuse(
            r, text, length, (int)(blanks + n),
            "A line begins with a key: a letter, then letters, digits, \"_\" or \"-\", then a blank.");
    size_t start = blanks + n, end = length;
    while (start < length && text[start] == ' ')
        start++;
    while (end > start && text[end - 1] == ' ')
        end--;
    struct record *record = base_arena_alloc(&r->doc->memory, sizeof *record);
    record->key = base_arena_copy_n(&r->doc->memory, text + blanks, n);
    record->rest = base_arena_copy_n(&r->doc->memory, text + start, end > start ? end - start : 0);
    record->line = r->line;
    hang_on(r, level, record);
    return BASE_OK;
}

enum base_err record_read(const char *text, size_t length, const char *name, struct record_document *out,
                          struct base_diag *why)
{
    *out = (struct record_document){0};
    out->name = base_arena_copy(&out->memory, name);
    struct reading r = {.doc = out, .level = -1, .why = why};
    const char *end = text + length;
    enum base_err err = BASE_OK;
    while (text < end && !err) {
        const char *stop = memchr(text, '\n', (size_t)(end - text));
        if (!stop)
            stop = end;
        size_t n = (size_t)(stop - text);
        if (n && text[n - 1] == '\r')
            n--;
        r.line++;
        err = read_line(&r, text, n);
        text = stop + 1;
    }
    if (err)
        record_done(out);
    return err;
}

void record_done(struct record_document *d)
{
    base_arena_done(&d->memory);
    *d = (struct record_document){0};
}

const struct record *record_find(const struct record *r, const char *key)
{
    for (const struct record *c = r->child; c; c = c->next)
        if (strcmp(c->key, key) == 0)
            return c;
    return NULL;
}

const char *record_text(const struct record *r, const char *key, const char *fallback)
{
    const struct record *c = record_find(r, key);
    return c ? c->rest : fallback;
}

const char *record_joined(const struct record *r, const char *key, struct base_arena *arena)
{
    struct base_text t = {0};
    bool any = false;
    for (const struct record *c = r->child; c; c = c->next)
        if (strcmp(c->key, key) == 0) {
            base_text_add(&t, any ? " " : "");
            base_text_add(&t, c->rest);
            any = true;
        }
    char *out = any ? base_arena_copy(arena, base_text_get(&t)) : NULL;
    base_text_done(&t);
    return out;
}

int record_place(const struct record *r, size_t offset, size_t *start)
{
    int line = r->line;
    *start = 0;
    for (const struct record_more *m = r->more; m && (size_t)m->at <= offset; m = m->next) {
        line = m->line;
        *start = (size_t)m->at;
    }
    return line;
}

const char *record_word(const char *text, char *buf, size_t size)
{
    while (*text == ' ')
        text++;
    size_t n = strcspn(text, " ");
    size_t kept = n < size ? n : size - 1;
    memcpy(buf, text, kept);
    buf[kept] = '\0';
    text += n;
    while (*text == ' ')
        text++;
    return text;
}

void record_write(struct base_text *out, int level, const char *key, bool equals, const char *value)
{
    base_text_addf(out, "%*s%s", 2 * level, "", key);
    if (value && (*value || equals))
        base_text_addf(out, "%s%s", equals ? " = " : " ", value);
    base_text_add(out, "\n");
}

bool record_is_name(const char *text)
{
    if (!(text[0] >= 'a' && text[0] <= 'z'))
        return false;
    for (const char *p = text; *p; p++)
        if (!((*p >= 'a' && *p <= 'z') || (*p >= '0' && *p <= '9') || *p == '_'))
            return false;
    return true;
}
