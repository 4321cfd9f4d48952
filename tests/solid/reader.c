/* Reading ISO 10303-21, record by record. */

#include "solid.h"

#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static void wrong(struct step_file *f, const char *fmt, const char *at)
{
    char near[40];
    snprintf(near, sizeof near, "%.30s", at);
    if (!f->wrong)
        f->wrong = base_arena_format(&f->memory, fmt, near);
}

/* One part at T, the text behind it is returned. */
static const char *read_part(struct step_file *f, const char *t, struct part *out)
{
    const char *end = t + 1;
    *out = (struct part){.kind = PART_OTHER};
    if (*t == '(' || *t == ')') {
        out->kind = *t == '(' ? PART_OPEN : PART_CLOSE;
    } else if (*t == '#') {
        out->kind = PART_REFERENCE;
        out->number = (double)strtol(t + 1, (char **)&end, 10);
    } else if (*t == '\'') {
        out->kind = PART_TEXT;
        while (*end && (*end != '\'' || end[1] == '\''))
            end += *end == '\'' ? 2 : 1;
        out->text = base_arena_copy_n(&f->memory, t + 1, (size_t)(end - t - 1));
        end += *end == '\'';
    } else if (*t == '.') {
        out->kind = PART_ENUM;
        end += strcspn(end, ".");
        out->text = base_arena_copy_n(&f->memory, t + 1, (size_t)(end - t - 1));
        end++;
    } else if (isdigit((unsigned char)*t) || *t == '-') {
        out->kind = PART_NUMBER;
        out->number = strtod(t, (char **)&end);
        if (!memchr(t, '.', (size_t)(end - t)) && memchr(t, 'E', (size_t)(end - t)))
            wrong(f, "a real number without a point: %s", t);
    } else if (isupper((unsigned char)*t)) {
        out->kind = PART_WORD;
        end = t + strspn(t, "ABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_");
        out->text = base_arena_copy_n(&f->memory, t, (size_t)(end - t));
    } else if (!strchr("$*,", *t)) {
        wrong(f, "what is no part of a record: %s", t);
    }
    return end;
}

static const char *read_record(struct step_file *f, const char *t)
{
    struct step_record r = {.first = (int)f->parts.count};
    char *end;
    r.number = (int)strtol(t + 1, &end, 10);
    if (*t != '#' || *end != '=') {
        wrong(f, "no record: %s", t);
        return t + strlen(t);
    }
    int deep = 0;
    for (t = end + 1; *t && *t != ';';) {
        struct part p;
        t = read_part(f, t, &p);
        deep += p.kind == PART_OPEN ? 1 : p.kind == PART_CLOSE ? -1 : 0;
        base_vec_push(&f->parts, p);
    }
    if (deep || !*t)
        wrong(f, "a record that does not close: %s", t);
    r.count = (int)f->parts.count - r.first;
    while (f->by_number.count <= (size_t)r.number)
        base_vec_push(&f->by_number, -1);
    if (f->by_number.at[r.number] >= 0)
        wrong(f, "a number twice: %s", t);
    f->by_number.at[r.number] = (int)f->records.count;
    base_vec_push(&f->records, r);
    t += *t == ';';
    return t + strspn(t, "\n");
}

static void check_references(struct step_file *f)
{
    for (size_t i = 0; i < f->parts.count; i++) {
        const struct part *p = &f->parts.at[i];
        if (p->kind == PART_REFERENCE && (p->number >= (double)f->by_number.count ||
                                          f->by_number.at[(int)p->number] < 0))
            wrong(f, "a reference to nothing%s", "");
    }
}

void step_read(struct step_file *f, const char *text)
{
    *f = (struct step_file){0};
    const char *data = strstr(text, "DATA;\n"), *end = strstr(text, "ENDSEC;\nEND-ISO-10303-21;\n");
    for (const char *t = text; *t; t++)
        if ((*t < ' ' && *t != '\n') || *t > '~')
            wrong(f, "what is not ASCII: %s", t);
    if (strncmp(text, "ISO-10303-21;\nHEADER;\n", 22) != 0 || !data || !end || end[26] != 0) {
        wrong(f, "no exchange structure: %s", text);
        return;
    }
    f->header = base_arena_copy_n(&f->memory, text, (size_t)(data - text));
    char *body = base_arena_copy_n(&f->memory, data + 6, (size_t)(end - data - 6));
    for (const char *t = body; *t && !f->wrong;)
        t = read_record(f, t);
    check_references(f);
}

void step_done(struct step_file *f)
{
    base_vec_done(&f->parts);
    base_vec_done(&f->records);
    base_vec_done(&f->by_number);
    base_arena_done(&f->memory);
}

static const struct step_record *record_of(const struct step_file *f, int number)
{
    ck_assert_msg(number > 0 && (size_t)number < f->by_number.count && f->by_number.at[number] >= 0,
                  "there is no record #%d", number);
    return &f->records.at[f->by_number.at[number]];
}

bool step_is(const struct step_file *f, int number, const char *name)
{
    const struct part *p = &f->parts.at[record_of(f, number)->first];
    return p->kind == PART_WORD && strcmp(p->text, name) == 0;
}

static const struct part *nth(const struct step_file *f, int number, enum part_kind kind, int i)
{
    const struct step_record *r = record_of(f, number);
    for (int k = 0; k < r->count; k++)
        if (f->parts.at[r->first + k].kind == kind && i-- == 0)
            return &f->parts.at[r->first + k];
    return NULL;
}

int step_references(const struct step_file *f, int number)
{
    const struct step_record *r = record_of(f, number);
    int n = 0;
    for (int i = 0; i < r->count; i++)
        n += f->parts.at[r->first + i].kind == PART_REFERENCE;
    return n;
}

int step_reference(const struct step_file *f, int number, int i)
{
    const struct part *p = nth(f, number, PART_REFERENCE, i);
    ck_assert_msg(p != NULL, "record #%d has no reference %d", number, i);
    return (int)p->number;
}

double step_number(const struct step_file *f, int number, int i)
{
    const struct part *p = nth(f, number, PART_NUMBER, i);
    ck_assert_msg(p != NULL, "record #%d has no number %d", number, i);
    return p->number;
}

const char *step_text_at(const struct step_file *f, int number, int i)
{
    const struct part *p = nth(f, number, PART_TEXT, i);
    ck_assert_msg(p != NULL, "record #%d has no text %d", number, i);
    return p->text;
}

bool step_true(const struct step_file *f, int number)
{
    const struct step_record *r = record_of(f, number);
    const struct part *p = &f->parts.at[r->first + r->count - 2];
    ck_assert_msg(p->kind == PART_ENUM, "record #%d does not end in a yes or no", number);
    return strcmp(p->text, "T") == 0;
}

int step_next(const struct step_file *f, const char *name, int at)
{
    for (int i = at + 1; i < (int)f->by_number.count; i++)
        if (f->by_number.at[i] >= 0 && step_is(f, i, name))
            return i;
    return 0;
}
