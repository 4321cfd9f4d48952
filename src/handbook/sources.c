/* Sources: of which class each is, whether its text was read, and what leans on it.
 *
 *     source CLASS, SEEN: TEXT        a print that is cited here alone
 *     source WORK, SEEN: PLACE        a place in a work that a record "work" describes
 *     source own derivation: TEXT     the text may be left out; likewise common practice
 *     source TEXT                     of no class: old lines of a shop's own data
 *
 * Several lines are several sources. What is shown of one says class and SEEN in front of its text.
 */

#include "handbook/book.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const char *const classes[HANDBOOK_CLASSES] = {
    "of no class", "standard", "regulation",     "book",
    "article",     "lecture",  "own derivation", "common practice",
};
static const char *const readings[HANDBOOK_READINGS] = {"", "seen", "answer seen", "seen quoted", "memory"};

const char *handbook_class_text(enum handbook_class c) { return classes[c]; }
const char *handbook_seen_text(enum handbook_seen s) { return readings[s]; }
bool handbook_is_print(enum handbook_class c) { return c >= HANDBOOK_STANDARD && c <= HANDBOOK_LECTURE; }

/* TEXT, LENGTH of it, among N words from the second on; 0 (the word for "none") when it is none of them. */
static int word_of(const char *const *words, int n, const char *text, size_t length)
{
    for (int i = 1; i < n; i++)
        if (strlen(words[i]) == length && strncmp(words[i], text, length) == 0)
            return i;
    return 0;
}

static const struct handbook_work *find_work(const struct handbook *h, const char *name)
{
    for (size_t i = 0; i < h->works.count; i++)
        if (strcmp(h->works.at[i].name, name) == 0)
            return &h->works.at[i];
    return NULL;
}

static const struct book_word work_words[] = {{.word = "class"}, {.word = "title"}};
const struct book_vocabulary book_work_words = BOOK_VOCABULARY("work", work_words);

void book_read_work(struct book_reader *r, const struct record *at)
{
    const char *class = record_text(at, "class", "");
    struct handbook_work w = {at->rest, record_text(at, "title", NULL),
                              word_of(classes, HANDBOOK_CLASSES, class, strlen(class))};
    book_lines(r, at, &book_work_words, NULL);
    if (!*w.name || strpbrk(w.name, " ,:"))
        book_refuse(r, at, "A work has a name of one word, by which sources call it.");
    else if (find_work(r->h, w.name))
        book_refuse(r, at, "There is a work \"%s\" already.", w.name);
    else if (word_of(classes, HANDBOOK_CLASSES, w.name, strlen(w.name)))
        book_refuse(r, at, "A work cannot be called \"%s\": that is a class of sources.", w.name);
    else if (!handbook_is_print(w.class))
        book_refuse(r, at, "A work is of the class standard, regulation, book, article or lecture.");
    else if (!w.title || !*w.title)
        book_refuse(r, at, "A work has a title: who wrote it, its name, its edition and year.");
    base_vec_push(&r->h->works, w);
}

/* A print: HEAD (class or work), how it was read, and where in it. */
static void read_print(struct book_reader *r, const struct record *at, const char *head, const char *text,
                       struct handbook_source *s)
{
    s->class = word_of(classes, HANDBOOK_CLASSES, head, strlen(head));
    const struct handbook_work *w = s->class ? NULL : find_work(r->h, head);
    if (s->class && (!handbook_is_print(s->class) || !*text)) {
        book_refuse(
            r, at,
            handbook_is_print(s->class)
                ? "Behind \"%s\" stands which one it is, after a colon."
                : "\"%s\" has no print that could be seen: write it alone, or with words behind a colon.",
            head);
        return;
    }
    if (!s->class && !w) {
        const char **names = base_alloc((r->h->works.count + 1) * sizeof *names);
        struct base_text near = {0};
        for (size_t i = 0; i < r->h->works.count; i++)
            names[i] = r->h->works.at[i].name;
        base_nearest(&near, head, names, r->h->works.count);
        book_refuse_word(r, at, head,
                         "\"%s\" is neither a class of sources (standard, regulation, book, article, "
                         "lecture) nor a record \"work\"%s%s.",
                         head, near.length ? "; near it: " : "", base_text_get(&near));
        base_text_done(&near);
        free(names);
        return;
    }
    if (w) {
        s->class = w->class;
        s->work = w->title;
    }
    s->text = w ? base_arena_format(&r->h->memory, "%s%s%s", w->title, *text ? ", " : "", text) : text;
    if (!w)
        s->work = s->text;
}

/* "own derivation: words", "common practice, words" ... */
static bool read_printless(const char *line, struct handbook_source *s)
{
    static const enum handbook_class such[] = {HANDBOOK_OWN_DERIVATION, HANDBOOK_COMMON_PRACTICE};
    for (size_t i = 0; i < COUNT_OF(such); i++) {
        size_t n = strlen(classes[such[i]]);
        if (strncmp(line, classes[such[i]], n) != 0 || (line[n] && !strchr(",:;", line[n])))
            continue;
        *s = (struct handbook_source){.class = such[i],
                                      .work = classes[such[i]],
                                      .text = line + n + (line[n] ? 1 : 0)};
        s->text += strspn(s->text, " ");
        return true;
    }
    return false;
}

/* A line that names class or work and how it was read: HEAD gets the first, REST what stands behind the
   colon. */
static enum handbook_seen parted(const char *line, char *head, size_t size, const char **rest)
{
    const char *comma = strchr(line, ',');
    if (!comma || (size_t)(comma - line) >= size)
        return HANDBOOK_NO_PRINT;
    const char *seen = comma + 1 + strspn(comma + 1, " "), *colon = seen + strcspn(seen, ":");
    snprintf(head, size, "%.*s", (int)(comma - line), line);
    *rest = *colon ? colon + 1 + strspn(colon + 1, " ") : "";
    return (enum handbook_seen)word_of(readings, HANDBOOK_READINGS, seen, (size_t)(colon - seen));
}

static void read_source(struct book_reader *r, const struct record *at, struct handbook_source *s)
{
    const char *line = at->rest, *rest;
    char head[80];
    if (read_printless(line, s))
        return;
    *s = (struct handbook_source){.class = HANDBOOK_UNSORTED, .text = line, .work = line};
    s->seen = parted(line, head, sizeof head, &rest);
    if (s->seen) /* else a shop's own words */
        read_print(r, at, head, rest, s);
}

static void show(struct base_text *out, const struct handbook_source *s)
{
    const char *class = s->class == HANDBOOK_UNSORTED ? "" : classes[s->class];
    base_text_addf(out, "%s%s%s%s%s%s", out->length ? "; " : "", class, s->seen ? ", " : "",
                   readings[s->seen], *class && *s->text ? ": " : "", s->text);
}

const char *book_sources(struct book_reader *r, const struct record *at, const char *name, const char **seen)
{
    struct base_text text = {0};
    int ways[HANDBOOK_READINGS] = {0}, n = 0;
    enum handbook_seen last = HANDBOOK_NO_PRINT;
    for (const struct record *c = at->child; c && !r->failed; c = c->next) {
        if (strcmp(c->key, "source") != 0)
            continue;
        struct handbook_source s;
        read_source(r, c, &s);
        if (r->failed)
            break;
        s.what = at->key;
        s.name = name;
        s.place = book_place(r, c);
        base_vec_push(&r->h->sources, s);
        show(&text, &s);
        if (s.seen) {
            n += ways[s.seen]++ == 0;
            last = s.seen;
        }
    }
    *seen = n > 1 ? "in part" : readings[last];
    const char *out = text.length ? base_arena_copy(&r->h->memory, base_text_get(&text)) : NULL;
    base_text_done(&text);
    return out;
}

/* What stands on top of a parts table's file, source by source, as records would have it. There is no work to
 * call, and what is of no class is taken as it is: a job's own table may be anybody's words. */
static void table_source(struct handbook *h, const char *table, const char *text)
{
    while (*text) {
        size_t n = strcspn(text, ";");
        char head[80];
        const char *line = base_arena_copy_n(&h->memory, text, n), *rest;
        struct handbook_source s = {.class = HANDBOOK_UNSORTED, .text = line, .work = line};
        enum handbook_seen seen = HANDBOOK_NO_PRINT;
        if (!read_printless(line, &s) &&
            (seen = parted(line, head, sizeof head, &rest)) != HANDBOOK_NO_PRINT) {
            s.class = (enum handbook_class)word_of(classes, HANDBOOK_CLASSES, head, strlen(head));
            if (handbook_is_print(s.class)) {
                s.seen = seen;
                s.text = s.work = rest;
            } else
                s.class = HANDBOOK_UNSORTED;
        }
        s.what = "table";
        s.name = table;
        base_vec_push(&h->sources, s);
        text += n + (text[n] == ';');
        text += strspn(text, " ");
    }
}

void book_table_sources(struct handbook *h)
{
    for (int t = 0; t < table_count(h->tables); t++) {
        const char *last = NULL;
        for (int row = 0; row < table_rows(h->tables, t); row++) {
            const char *source = table_row_source(h->tables, t, row);
            if (last && strcmp(source, last) == 0)
                continue;
            table_source(h, table_spec(h->tables, t)->name, source);
            last = source;
        }
    }
}

/* Sources of one class and one print are one, wherever they are cited. */
void book_gather_cited(struct handbook *h)
{
    for (int c = 1; c <= HANDBOOK_CLASSES; c++)
        for (size_t i = 0; i < h->sources.count; i++) {
            const struct handbook_source *s = &h->sources.at[i];
            size_t at = 0;
            if (s->class != (enum handbook_class)(c % HANDBOOK_CLASSES)) /* of no class: last */
                continue;
            while (at < h->cited.count &&
                   (h->cited.at[at].class != s->class || strcmp(h->cited.at[at].work, s->work) != 0))
                at++;
            if (at == h->cited.count)
                base_vec_push(&h->cited, ((struct handbook_cited){.class = s->class, .work = s->work}));
            h->cited.at[at].times++;
            h->cited.at[at].memory += s->seen == HANDBOOK_MEMORY;
        }
}

int handbook_cited_count(const struct handbook *h) { return (int)h->cited.count; }
const struct handbook_cited *handbook_cited(const struct handbook *h, int i) { return &h->cited.at[i]; }

void handbook_cited_leans(const struct handbook *h, const struct handbook_cited *c, struct base_text *out)
{
    const char *what = "";
    for (size_t i = 0; i < h->sources.count; i++) {
        const struct handbook_source *s = &h->sources.at[i];
        if (s->class != c->class || strcmp(s->work, c->work) != 0)
            continue;
        const char *place = strncmp(s->text, s->work, strlen(s->work)) == 0 ? s->text + strlen(s->work)
                                                                            : s->text;
        place += strspn(place, ", ");
        base_text_addf(out, "%s%s%s%s", out->length ? ", " : "", strcmp(what, s->what) != 0 ? s->what : "",
                       strcmp(what, s->what) != 0 ? " " : "", s->name);
        if (*place || s->seen)
            base_text_addf(out, " (%s%s%s)", handbook_seen_text(s->seen), s->seen && *place ? ": " : "",
                           place);
        what = s->what;
    }
}

void handbook_sources_sum(const struct handbook *h, struct base_text *out)
{
    int of[HANDBOOK_CLASSES] = {0}, read[HANDBOOK_READINGS] = {0}, prints = 0;
    for (size_t i = 0; i < h->sources.count; i++) {
        of[h->sources.at[i].class]++;
        read[h->sources.at[i].seen]++;
        prints += handbook_is_print(h->sources.at[i].class);
    }
    base_text_addf(out, "%d times a source is cited:", (int)h->sources.count);
    for (int c = 1; c <= HANDBOOK_CLASSES; c++)
        if (of[c % HANDBOOK_CLASSES])
            base_text_addf(out, "%s %s %d", c > 1 ? "," : "", classes[c % HANDBOOK_CLASSES],
                           of[c % HANDBOOK_CLASSES]);
    base_text_addf(out, ". Of %d prints %d were seen, of %d the answer, %d quoted; %d rest on memory.",
                   prints, read[HANDBOOK_SEEN], read[HANDBOOK_ANSWER_SEEN], read[HANDBOOK_SEEN_QUOTED],
                   read[HANDBOOK_MEMORY]);
}

int handbook_source_count(const struct handbook *h) { return (int)h->sources.count; }
const struct handbook_source *handbook_source(const struct handbook *h, int i) { return &h->sources.at[i]; }
