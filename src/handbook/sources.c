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

#include <stdlib.h>
#include <string.h>

static const char *const classes[HANDBOOK_CLASSES] = {
    "of no class", "standard", "regulation", "book", "article", "lecture", "own derivation", "common practice",
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

void book_read_work(struct book_reader *r, const struct record *at)
{
    const char *class = record_text(at, "class", "");
    struct handbook_work w = {at->rest, record_text(at, "title", NULL), word_of(classes, HANDBOOK_CLASSES, class, strlen(class))};
    book_only(r, at, "class title");
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
static void read_print(struct book_reader *r, const struct record *at, const char *head, const char *text, struct handbook_source *s)
{
    s->class = word_of(classes, HANDBOOK_CLASSES, head, strlen(head));
    const struct handbook_work *w = s->class ? NULL : find_work(r->h, head);
    if (s->class && (!handbook_is_print(s->class) || !*text)) {
        book_refuse(r, at, handbook_is_print(s->class) ? "Behind \"%s\" stands which one it is, after a colon." :
                    "\"%s\" has no print that could be seen: write it alone, or with words behind a colon.", head);
        return;
    }
    if (!s->class && !w) {
        const char **names = base_alloc((r->h->works.count + 1) * sizeof *names);
        struct base_text near = {0};
        for (size_t i = 0; i < r->h->works.count; i++)
            names[i] = r->h->works.at[i].name;
        base_nearest(&near, head, names, r->h->works.count);
        book_refuse_word(r, at, head, "\"%s\" is neither a class of sources (standard, regulation, book, article, lecture) nor a record \"work\"%s%s.",
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
        *s = (struct handbook_source){.class = such[i], .work = classes[such[i]], .text = line + n + (line[n] ? 1 : 0)};
        s->text += strspn(s->text, " ");
        return true;
    }
    return false;
}

static void read_source(struct book_reader *r, const struct record *at, struct handbook_source *s)
{
    const char *line = at->rest, *comma = strchr(line, ',');
    if (read_printless(line, s))
        return;
    *s = (struct handbook_source){.class = HANDBOOK_UNSORTED, .text = line, .work = line};
    if (!comma)
        return;
    const char *seen = comma + 1 + strspn(comma + 1, " "), *colon = seen + strcspn(seen, ":");
    int way = word_of(readings, HANDBOOK_READINGS, seen, (size_t)(colon - seen));
    if (!way)
        return; /* words of a shop's own */
    char *head = base_copy_n(line, (size_t)(comma - line));
    s->seen = (enum handbook_seen)way;
    read_print(r, at, head, *colon ? colon + 1 + strspn(colon + 1, " ") : "", s);
    free(head);
}

static void show(struct base_text *out, const struct handbook_source *s)
{
    const char *class = s->class == HANDBOOK_UNSORTED ? "" : classes[s->class];
    base_text_addf(out, "%s%s%s%s%s%s", out->length ? "; " : "", class, s->seen ? ", " : "", readings[s->seen],
                   *class && *s->text ? ": " : "", s->text);
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

int handbook_source_count(const struct handbook *h) { return (int)h->sources.count; }
const struct handbook_source *handbook_source(const struct handbook *h, int i) { return &h->sources.at[i]; }
