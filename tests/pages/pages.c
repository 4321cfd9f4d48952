#include "pages.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char list[] = "tests/pages/pages.txt", indent[] = "    ";

static bool is_manual(const char *path) { return strncmp(path, "man/", 4) == 0; }

static size_t line_length(const char *at)
{
    size_t n = strcspn(at, "\n");
    return n + (at[n] == '\n');
}

static bool begins(const char *at, const char *word) { return strncmp(at, word, strlen(word)) == 0; }

static bool is_empty(const char *at) { return *at == '\n'; }

/* ---- blocks ---- */

/* A line of the page without what sets it off: the indent of a README, the escapes of a manual. */
static void add_plain(struct base_text *out, const char *line, size_t n, bool manual)
{
    if (!manual) {
        bool set_in = begins(line, indent);
        base_text_add_n(out, line + (set_in ? 4 : 0), n - (set_in ? 4 : 0));
        return;
    }
    for (size_t i = 0; i < n; i++) {
        if (line[i] != '\\') {
            base_text_add_n(out, line + i, 1);
            continue;
        }
        i++;
        if (line[i] != '&')
            base_text_add(out, line[i] == 'e' ? "\\" : line[i] == '-' ? "-" : "?");
    }
}

/* The end of the block at START: in a README behind its last indented line; empty ones between belong to
   it. */
static const char *block_end(const char *start, bool manual)
{
    if (manual) {
        const char *end = strstr(start, "\n.Ed\n");
        ck_assert_msg(end != NULL, "a display is not ended");
        return end + 1;
    }
    const char *end = start;
    for (const char *at = start; begins(at, indent) || is_empty(at); at += line_length(at))
        if (!is_empty(at))
            end = at + line_length(at);
    return end;
}

bool block_read(const char *path, int number, struct block *b)
{
    bool manual = is_manual(path), after_empty = false, found = false;
    char *page = read_text(path);
    struct base_text text = {0}, prose = {0};
    int n = 0;
    for (const char *at = page; *at && !found;) {
        const char *start = manual ? at + line_length(at) : at;
        bool is_block = manual ? begins(at, ".Bd -literal") : after_empty && begins(at, indent);
        after_empty = is_empty(at);
        if (!is_block) {
            add_plain(&prose, at, line_length(at), manual);
            at += line_length(at);
            continue;
        }
        const char *end = block_end(start, manual);
        found = n++ == number;
        if (found) {
            for (const char *p = start; p < end; p += line_length(p))
                add_plain(&text, p, line_length(p), manual);
            *b = (struct block){base_text_take(&text), base_text_take(&prose), (size_t)(start - page),
                                (size_t)(end - page)};
        }
        base_text_clear(&prose);
        at = end;
    }
    base_text_done(&text);
    base_text_done(&prose);
    free(page);
    return found;
}

void block_done(struct block *b)
{
    free(b->text);
    free(b->prose);
}

void block_keep(const char *path, const struct block *b, const char *text)
{
    bool manual = is_manual(path);
    char *page = read_text(path);
    struct base_text anew = {0};
    base_text_add_n(&anew, page, b->start);
    for (const char *at = text; *at; at += line_length(at)) {
        if (!manual && !is_empty(at))
            base_text_add(&anew, indent);
        if (manual && (*at == '.' || *at == '\''))
            base_text_add(&anew, "\\&");
        for (const char *p = at; p < at + line_length(at); p++)
            if (manual && (*p == '-' || *p == '\\'))
                base_text_add(&anew, *p == '-' ? "\\-" : "\\e");
            else
                base_text_add_n(&anew, p, 1);
    }
    base_text_add(&anew, page + b->end);
    FILE *f = fopen(path, "w");
    ck_assert_ptr_nonnull(f);
    fputs(base_text_get(&anew), f);
    ck_assert_int_eq(fclose(f), 0);
    base_text_done(&anew);
    free(page);
}

/* ---- the list ---- */

enum { MOST = 200 };

const struct entry *entries_read(int *n)
{
    static struct entry all[MOST];
    char *text = NULL, page[100] = "";
    struct base_diag why;
    *n = 0;
    if (base_read_file(list, &text, NULL, &why) != BASE_OK)
        return NULL; /* a test says so: no block is known */
    struct base_text acts = {0};
    int line = 0, in_page = 0;
    for (const char *at = text; *at; at += line_length(at)) {
        int length = (int)strcspn(at, "\n");
        bool new_page = begins(at, "page "), new_block = begins(at, "block ");
        line++;
        if ((new_page || new_block) && *n)
            all[*n - 1].acts = acts.data ? base_text_take(&acts) : all[*n - 1].acts;
        if (new_page) {
            snprintf(page, sizeof page, "%.*s", length - 5, at + 5);
            in_page = 0;
        } else if (new_block && *n < MOST) {
            all[(*n)++] = (struct entry){base_copy(page), base_copy_n(at + 6, (size_t)length - 6), in_page++,
                                         line, base_copy("")};
        } else if (*at == ' ') {
            const char *act = at + strspn(at, " ");
            base_text_add_n(&acts, act, line_length(at) - (size_t)(act - at));
        }
    }
    if (*n)
        all[*n - 1].acts = base_text_take(&acts);
    free(text);
    return all;
}
