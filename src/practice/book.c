/* Reading DATA/practice: bases first, then the jobs that stand on them.
 *
 *     base NAME / title / like NAME / set PATH = FORMULA ... / given NAME ...
 *     practice NAME / title question theme level from first plant finding wrong found near hint mend learnt
 *         source
 *     guide NAME / title question from source / step / says until looks do hint learnt
 */

#include "practice/practice.h"

#include <dirent.h>
#include <errno.h>
#include <stdlib.h>
#include <string.h>
struct reader { struct practice_book *book; const char *file; struct base_diag *why; bool failed; };

static void refuse(struct reader *r, const struct record *at, const char *fmt, const char *word)
{
    if (r->failed)
        return;
    r->failed = true;
    base_fail(r->why, BASE_UNREADABLE, fmt, word);
    base_diag_place(r->why, r->file, at->line);
}

static int count(const struct record *at, const char *key)
{
    int n = 0;
    for (const struct record *c = at->child; c; c = c->next)
        n += strcmp(c->key, key) == 0;
    return n;
}

/* "path = formula" with perhaps a reason below. */
static struct practice_change read_change(struct reader *r, const struct record *c)
{
    struct base_arena *m = &r->book->memory;
    const char *equals = strchr(c->rest, '=');
    if (!equals) {
        refuse(r, c, "\"%s\" is no change: it is NAME = FORMULA.", c->rest);
        return (struct practice_change){0};
    }
    size_t n = (size_t)(equals - c->rest);
    while (n && c->rest[n - 1] == ' ')
        n--;
    return (struct practice_change){base_arena_copy_n(m, c->rest, n), equals + 1 + strspn(equals + 1, " "),
                                    record_text(c, "reason", NULL)};
}

static struct practice_changes read_changes(struct reader *r, const struct record *at, const char *key)
{
    int n = count(at, key), i = 0;
    struct practice_change *list = base_arena_alloc(&r->book->memory, (size_t)(n + 1) * sizeof *list);
    for (const struct record *c = at->child; c; c = c->next)
        if (strcmp(c->key, key) == 0)
            list[i++] = read_change(r, c);
    return (struct practice_changes){list, n};
}

static void only(struct reader *r, const struct record *at, const char *const *keys, size_t n)
{
    for (const struct record *c = at->child; c; c = c->next) {
        bool known = false;
        for (size_t i = 0; i < n; i++)
            known = known || strcmp(keys[i], c->key) == 0;
        if (!known)
            refuse(r, c, "\"%s\" means nothing here.", c->key);
    }
}

static const char *need(struct reader *r, const struct record *at, const char *key)
{
    const char *text = record_joined(at, key, &r->book->memory);
    if (!text || !*text)
        refuse(r, at, "There is no \"%s\" here.", key);
    return text;
}

static const char *const *read_texts(struct reader *r, const struct record *at, const char *key, int *n)
{
    int i = 0;
    *n = count(at, key);
    const char **list = base_arena_alloc(&r->book->memory, (size_t)(*n + 1) * sizeof *list);
    for (const struct record *c = at->child; c; c = c->next)
        if (strcmp(c->key, key) == 0)
            list[i++] = c->rest;
    return list;
}

static void read_base(struct reader *r, const struct record *at)
{
    static const char *const keys[] = {"title", "like", "set", "given"};
    only(r, at, keys, COUNT_OF(keys));
    struct practice_base *b = base_arena_alloc(&r->book->memory, sizeof *b);
    *b = (struct practice_base){
        at->rest, need(r, at, "title"), need(r, at, "like"), read_changes(r, at, "set"), NULL, 0};
    b->given = read_texts(r, at, "given", &b->n_given);
    base_vec_push(&r->book->bases, b);
}

static const struct practice_base *find_base(struct reader *r, const struct record *at, const char *name)
{
    for (size_t i = 0; i < r->book->bases.count; i++)
        if (name && strcmp(r->book->bases.at[i]->name, name) == 0)
            return r->book->bases.at[i];
    refuse(r, at, "There is no base \"%s\" before this.", name ? name : "");
    return NULL;
}

/* "rule item", or "rule" alone. */
static void read_findings(struct reader *r, const struct record *at, struct practice_job *p)
{
    int n = count(at, "finding"), i = 0;
    struct practice_finding *list = base_arena_alloc(&r->book->memory, (size_t)(n + 1) * sizeof *list);
    for (const struct record *c = at->child; c; c = c->next) {
        if (strcmp(c->key, "finding") != 0)
            continue;
        char rule[80];
        const char *item = record_word(c->rest, rule, sizeof rule);
        list[i++] = (struct practice_finding){base_arena_copy(&r->book->memory, rule), *item ? item : NULL};
    }
    p->findings = list;
    p->n_findings = n;
}

/* In the order in which jobs of one level stand. */
static const char *const themes[] = {"plates", "fasteners", "guides", "springs", "strip", "forming"};

static int theme_number(const char *name)
{
    for (size_t i = 0; i < COUNT_OF(themes); i++)
        if (strcmp(themes[i], name) == 0)
            return (int)i;
    return -1;
}

static int read_theme(struct reader *r, const struct record *at)
{
    int i = theme_number(need(r, at, "theme"));
    if (i < 0)
        refuse(r, at, "\"%s\" is no theme; there are plates, fasteners, guides, springs, strip, forming.",
               record_text(at, "theme", ""));
    return i < 0 ? 0 : i;
}

static int read_level(struct reader *r, const struct record *at)
{
    const char *text = need(r, at, "level");
    int level = text && text[0] && !text[1] ? text[0] - '0' : 0;
    if (level < 1 || level > PRACTICE_LEVELS)
        refuse(r, at, "\"%s\" is no level; they are 1 to 3.", text ? text : "");
    return level;
}

static void read_job(struct reader *r, const struct record *at)
{
    static const char *const keys[] = {"title", "question", "theme",   "level",  "from",
                                       "first", "plant",    "finding", "wrong",  "found",
                                       "near",  "hint",     "mend",    "learnt", "source"};
    struct practice_job p = {.name = at->rest,
                             .theme = themes[read_theme(r, at)],
                             .level = read_level(r, at),
                             .title = need(r, at, "title"),
                             .question = need(r, at, "question"),
                             .base = find_base(r, at, record_text(at, "from", NULL)),
                             .learnt = need(r, at, "learnt"),
                             .source = need(r, at, "source"),
                             .wrong = record_text(at, "wrong", NULL),
                             .first = read_changes(r, at, "first"),
                             .plants = read_changes(r, at, "plant"),
                             .mends = read_changes(r, at, "mend"),
                             .place = {r->file, at->line}};
    int n;
    only(r, at, keys, COUNT_OF(keys));
    read_findings(r, at, &p);
    p.found = read_texts(r, at, "found", &p.n_found);
    p.near = read_texts(r, at, "near", &p.n_near);
    const char *const *hints = read_texts(r, at, "hint", &n);
    for (int i = 0; i < PRACTICE_HINTS && i < n; i++)
        p.hints[i] = hints[i];
    if (n != PRACTICE_HINTS)
        refuse(r, at, "%s wants three hints.", p.name);
    if (!p.plants.n || !p.mends.n || !p.n_found || (!p.n_findings && !p.wrong))
        refuse(r, at, "%s wants a plant, a mend, what counts as found, and a finding or what is wrong.",
               p.name);
    base_vec_push(&r->book->jobs, p);
}

static struct practice_step read_step(struct reader *r, const struct record *at)
{
    static const char *const keys[] = {"says", "until", "looks", "do", "hint", "learnt"};
    struct practice_step s = {.says = need(r, at, "says"),
                              .until = record_joined(at, "until", &r->book->memory),
                              .looks = record_text(at, "looks", NULL),
                              .hint = record_text(at, "hint", NULL),
                              .learnt = need(r, at, "learnt")};
    only(r, at, keys, COUNT_OF(keys));
    s.does = read_texts(r, at, "do", &s.n_does);
    if (!s.until == !s.looks)
        refuse(r, at, "A step says either \"until\", a formula, or what it \"looks\" at%s.", "");
    if (s.until && !s.n_does)
        refuse(r, at, "A step until %s says what to \"do\".", s.until);
    struct base_diag why = {0};
    struct formula_tree *tree = NULL;
    if (s.until && formula_parse(s.until, &tree, &why) != BASE_OK)
        refuse(r, at, "%s", why.message);
    formula_tree_free(tree);
    return s;
}

static void read_guide(struct reader *r, const struct record *at)
{
    static const char *const keys[] = {"title", "question", "from", "step", "source"};
    struct practice_guide g = {.name = at->rest,
                               .title = need(r, at, "title"),
                               .question = need(r, at, "question"),
                               .base = find_base(r, at, record_text(at, "from", NULL)),
                               .source = need(r, at, "source"),
                               .n_steps = count(at, "step"),
                               .place = {r->file, at->line}};
    struct practice_step *steps = base_arena_alloc(&r->book->memory, (size_t)(g.n_steps + 1) * sizeof *steps);
    int n = 0;
    only(r, at, keys, COUNT_OF(keys));
    for (const struct record *c = at->child; c; c = c->next)
        if (strcmp(c->key, "step") == 0)
            steps[n++] = read_step(r, c);
    g.steps = steps;
    if (!n)
        refuse(r, at, "%s wants steps.", g.name);
    base_vec_push(&r->book->guides, g);
}

static enum base_err read_file(struct practice_book *b, const char *path, const char *name,
                               struct base_diag *why)
{
    char *text;
    size_t length;
    struct record_document doc;
    enum base_err err = base_read_file(path, &text, &length, why);
    if (err)
        return err;
    struct reader r = {.book = b, .file = base_arena_format(&b->memory, "practice/%s", name), .why = why};
    err = record_read(text, length, r.file, &doc, why);
    free(text);
    if (err)
        return err;
    base_vec_push(&b->documents, doc);
    for (const struct record *at = doc.first; at && !r.failed; at = at->next) {
        if (strcmp(at->key, "base") == 0)
            read_base(&r, at);
        else if (strcmp(at->key, "practice") == 0)
            read_job(&r, at);
        else if (strcmp(at->key, "guide") == 0)
            read_guide(&r, at);
        else
            refuse(&r, at, "\"%s\" is no record of practice; there are base, practice and guide.", at->key);
    }
    return r.failed ? BASE_UNREADABLE : BASE_OK;
}

static int is_text(const struct dirent *e)
{
    size_t n = strlen(e->d_name);
    return n > 4 && strcmp(e->d_name + n - 4, ".txt") == 0;
}

static int by_bytes(const struct dirent **a, const struct dirent **b)
{
    return strcmp((*a)->d_name, (*b)->d_name);
}

/* By level, then by theme; those of the same as they stand in the files. */
static void sort_jobs(struct practice_book *b)
{
    for (size_t i = 1; i < b->jobs.count; i++) {
        struct practice_job p = b->jobs.at[i];
        size_t k = i;
        for (; k > 0; k--) {
            const struct practice_job *before = &b->jobs.at[k - 1];
            if (before->level < p.level ||
                (before->level == p.level && theme_number(before->theme) <= theme_number(p.theme)))
                break;
            b->jobs.at[k] = *before;
        }
        b->jobs.at[k] = p;
    }
}

enum base_err practice_load(const char *data, struct practice_book **out, struct base_diag *why)
{
    struct dirent **files;
    char *folder = base_format("%s/practice", data);
    int n = scandir(folder, &files, is_text, by_bytes);
    enum base_err err = n > 0 ? BASE_OK
                              : base_fail(why, BASE_UNREADABLE, "There are no practice jobs in %s%s%s.",
                                          folder, n < 0 ? ": " : "", n < 0 ? strerror(errno) : "");
    struct practice_book *b = base_alloc(sizeof *b);
    b->data = base_copy(data);
    for (int i = 0; i < n; i++) {
        char *path = base_format("%s/%s", folder, files[i]->d_name);
        if (!err)
            err = read_file(b, path, files[i]->d_name, why);
        free(path);
        free(files[i]);
    }
    if (n >= 0)
        free(files);
    free(folder);
    if (err) {
        practice_free(b);
        b = NULL;
    } else {
        sort_jobs(b);
    }
    *out = b;
    return err;
}

void practice_free(struct practice_book *b)
{
    if (!b)
        return;
    for (size_t i = 0; i < b->documents.count; i++)
        record_done(&b->documents.at[i]);
    base_vec_done(&b->documents);
    base_vec_done(&b->bases);
    base_vec_done(&b->jobs);
    base_vec_done(&b->guides);
    base_arena_done(&b->memory);
    free(b->data);
    free(b);
}

int practice_count(const struct practice_book *b) { return (int)b->jobs.count; }
const struct practice_job *practice_job(const struct practice_book *b, int i) { return &b->jobs.at[i]; }

int practice_guide_count(const struct practice_book *b) { return (int)b->guides.count; }
const struct practice_guide *practice_guide(const struct practice_book *b, int i) { return &b->guides.at[i]; }

int practice_find_guide(const struct practice_book *b, const char *name)
{
    for (size_t i = 0; i < b->guides.count; i++)
        if (strcmp(b->guides.at[i].name, name) == 0)
            return (int)i;
    return -1;
}

int practice_find(const struct practice_book *b, const char *name, struct base_diag *why)
{
    int n = practice_count(b), guides = practice_guide_count(b);
    char *end;
    long number = strtol(name, &end, 10);
    if (*name && !*end && number >= 1 && number <= n)
        return (int)number - 1;
    for (int i = 0; i < n; i++)
        if (strcmp(b->jobs.at[i].name, name) == 0)
            return i;
    const char **names = base_alloc((size_t)(n + guides + 1) * sizeof *names);
    for (int i = 0; i < n + guides; i++)
        names[i] = i < n ? b->jobs.at[i].name : b->guides.at[i - n].name;
    struct base_text near = {0};
    base_nearest(&near, name, names, (size_t)(n + guides));
    base_fail(why, BASE_UNKNOWN,
              "There is no practice job \"%s\"%s%s; there are %d, listed by: diewright practice", name,
              near.length ? ", near it: " : "", base_text_get(&near), n);
    base_text_done(&near);
    free(names);
    return -1;
}
