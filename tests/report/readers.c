/* The other side of the writers: a reader of CSV and a judge of JSON, each after its standard. */

#include "report.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>

/* ---- RFC 4180 ---------------------------------------------------------------------
 * file = record *(CRLF record) [CRLF]; field = (DQUOTE *(TEXTDATA / COMMA / CR / LF / 2DQUOTE) DQUOTE) /
 * *TEXTDATA */

static const char *read_field(struct csv *c, const char *t)
{
    struct base_text f = {0};
    if (*t == '"') {
        for (t++; *t != '"' || t[1] == '"'; t++) {
            ck_assert_msg(*t, "a quoted field does not end");
            base_text_add_n(&f, t, 1);
            t += *t == '"';
        }
        t++;
    } else {
        for (; *t && *t != ',' && *t != '\r'; t++) {
            ck_assert_msg(*t != '"' && *t != '\n', "a field should have been quoted");
            base_text_add_n(&f, t, 1);
        }
    }
    base_vec_push(&c->fields, base_copy(base_text_get(&f)));
    base_text_done(&f);
    return t;
}

void parse_csv(struct csv *c, const char *text)
{
    *c = (struct csv){0};
    int columns = 0;
    for (const char *t = text; *t;) {
        t = read_field(c, t);
        columns++;
        if (*t == ',') {
            t++;
            continue;
        }
        ck_assert_msg(t[0] == '\r' && t[1] == '\n', "a record does not end in CR LF");
        t += 2;
        if (c->records++ == 0)
            c->columns = columns;
        ck_assert_int_eq(columns, c->columns);
        columns = 0;
    }
    ck_assert_int_eq(columns, 0);
}

const char *csv_at(const struct csv *c, int record, int column)
{
    ck_assert(record >= 0 && record < c->records && column >= 0 && column < c->columns);
    return c->fields.at[record * c->columns + column];
}

int parsed_column(const struct csv *c, const char *name)
{
    for (int i = 0; i < c->columns; i++)
        if (strcmp(csv_at(c, 0, i), name) == 0)
            return i;
    ck_abort_msg("no column %s", name);
    return -1;
}

void parsed_done(struct csv *c)
{
    for (size_t i = 0; i < c->fields.count; i++)
        free(c->fields.at[i]);
    base_vec_done(&c->fields);
}

/* ---- RFC 8259 ----------------------------------------------------------------------- */

static size_t blanks(const char *t) { return strspn(t, " \t\r\n"); }

static size_t string_length(const char *t)
{
    size_t n = 1;
    if (*t != '"')
        return 0;
    for (; t[n] != '"'; n++) {
        if ((unsigned char)t[n] < 0x20)
            return 0;
        if (t[n] != '\\')
            continue;
        n++;
        if (t[n] == 'u') {
            for (int i = 1; i <= 4; i++)
                if (!isxdigit((unsigned char)t[n + (size_t)i]))
                    return 0;
            n += 4;
        } else if (!t[n] || !strchr("\"\\/bfnrt", t[n])) {
            return 0;
        }
    }
    return n + 1;
}

static size_t digits(const char *t) { return strspn(t, "0123456789"); }

static size_t number_length(const char *t)
{
    size_t n = *t == '-', whole = digits(t + n);
    if (whole == 0 || (whole > 1 && t[n] == '0'))
        return 0;
    n += whole;
    if (t[n] == '.') {
        size_t part = digits(t + n + 1);
        if (part == 0)
            return 0;
        n += 1 + part;
    }
    if (t[n] == 'e' || t[n] == 'E') {
        size_t sign = t[n + 1] == '+' || t[n + 1] == '-', power = digits(t + n + 1 + sign);
        if (power == 0)
            return 0;
        n += 1 + sign + power;
    }
    return n;
}

/* Members of an object or an array, parted by commas. */
static size_t list_length(const char *t, char end, bool named)
{
    size_t n = 1;
    n += blanks(t + n);
    if (t[n] == end)
        return n + 1;
    for (;;) {
        n += blanks(t + n);
        if (named) {
            size_t name = string_length(t + n);
            n += name;
            n += blanks(t + n);
            if (name == 0 || t[n++] != ':')
                return 0;
            n += blanks(t + n);
        }
        size_t value = json_value_length(t + n);
        if (value == 0)
            return 0;
        n += value;
        n += blanks(t + n);
        if (t[n] == end)
            return n + 1;
        if (t[n++] != ',')
            return 0;
    }
}

size_t json_value_length(const char *t)
{
    static const char *const words[] = {"null", "true", "false"};
    for (size_t i = 0; i < COUNT_OF(words); i++)
        if (strncmp(t, words[i], strlen(words[i])) == 0)
            return strlen(words[i]);
    switch (*t) {
    case '"': return string_length(t);
    case '[': return list_length(t, ']', false);
    case '{': return list_length(t, '}', true);
    default: return number_length(t);
    }
}

void json_check(const char *text)
{
    size_t n = blanks(text), value = json_value_length(text + n);
    ck_assert_msg(value > 0, "not JSON: %s", text);
    n += value;
    n += blanks(text + n);
    ck_assert_msg(text[n] == '\0', "more behind the JSON value: %s", text + n);
}
