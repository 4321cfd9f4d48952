/* Maps from text to number, pools of texts, and nearness of words.
 *
 * A map is an open-addressed table with linear probing, at most two thirds
 * full; removing a key closes the gap behind it, so no graves are kept.
 */

#include "diewright/base.h"

#include <stdlib.h>
#include <string.h>

struct base_map_cell { char *key; int value; uint32_t hash; };

uint64_t base_hash(const void *bytes, size_t length)
{
    const unsigned char *p = bytes;
    uint64_t h = 14695981039346656037u;
    for (size_t i = 0; i < length; i++)
        h = (h ^ p[i]) * 1099511628211u;
    return h;
}

/* Eight bytes at a time, for names are looked up wherever a formula is read; what is kept in files has the
   sum above. */
static uint32_t hash_of(const char *key)
{
    const uint64_t odd = 0x9e3779b97f4a7c15u;
    uint64_t h = 0, eight;
    size_t n = strlen(key);
    for (; n >= sizeof eight; n -= sizeof eight, key += sizeof eight) {
        memcpy(&eight, key, sizeof eight);
        h = (h ^ eight) * odd;
        h ^= h >> 32;
    }
    eight = n;
    for (size_t i = 0; i < n; i++)
        eight = eight << 8 | (unsigned char)key[i];
    h = (h ^ eight) * odd;
    return (uint32_t)(h >> 32);
}

/* The cell of KEY, or the empty cell where it would go. Room must not be 0. */
static size_t seek(const struct base_map *m, const char *key, uint32_t hash)
{
    size_t i = hash & (m->room - 1);
    while (m->cells[i].key && (m->cells[i].hash != hash || strcmp(m->cells[i].key, key) != 0))
        i = (i + 1) & (m->room - 1);
    return i;
}

static void widen(struct base_map *m)
{
    struct base_map old = *m;
    m->room = old.room ? old.room * 2 : 16;
    m->cells = base_alloc(m->room * sizeof *m->cells);
    for (size_t i = 0; i < old.room; i++)
        if (old.cells[i].key)
            m->cells[seek(m, old.cells[i].key, old.cells[i].hash)] = old.cells[i];
    free(old.cells);
}

void base_map_put(struct base_map *m, const char *key, int value)
{
    if ((m->count + 1) * 3 > m->room * 2)
        widen(m);
    uint32_t hash = hash_of(key);
    size_t i = seek(m, key, hash);
    if (!m->cells[i].key) {
        m->cells[i].key = base_copy(key);
        m->cells[i].hash = hash;
        m->count++;
    }
    m->cells[i].value = value;
}

bool base_map_get(const struct base_map *m, const char *key, int *value)
{
    if (!m->room)
        return false;
    size_t i = seek(m, key, hash_of(key));
    if (!m->cells[i].key)
        return false;
    if (value)
        *value = m->cells[i].value;
    return true;
}

void base_map_done(struct base_map *m)
{
    for (size_t i = 0; i < m->room; i++)
        free(m->cells[i].key);
    free(m->cells);
    *m = (struct base_map){0};
}

/* ---- pools --------------------------------------------------------------- */

struct base_pool { struct base_map numbers; BASE_VEC(char *) texts; };

struct base_pool *base_pool_new(void)
{
    struct base_pool *p = base_alloc(sizeof *p);
    base_pool_put(p, "");
    return p;
}

void base_pool_free(struct base_pool *p)
{
    if (!p)
        return;
    for (size_t i = 0; i < p->texts.count; i++)
        free(p->texts.at[i]);
    base_vec_done(&p->texts);
    base_map_done(&p->numbers);
    free(p);
}

int base_pool_find(const struct base_pool *p, const char *text)
{
    int n;
    return base_map_get(&p->numbers, text, &n) ? n : -1;
}

int base_pool_put(struct base_pool *p, const char *text)
{
    int n = base_pool_find(p, text);
    if (n >= 0)
        return n;
    n = (int)p->texts.count;
    base_vec_push(&p->texts, base_copy(text));
    base_map_put(&p->numbers, text, n);
    return n;
}

const char *base_pool_text(const struct base_pool *p, int number)
{
    return number >= 0 && (size_t)number < p->texts.count ? p->texts.at[number] : "";
}

/* ---- nearness ------------------------------------------------------------ */

enum { LONGEST_WORD = 64 };

int base_distance(const char *word, const char *other)
{
    size_t n = strlen(word), m = strlen(other);
    if (n >= LONGEST_WORD || m >= LONGEST_WORD)
        return LONGEST_WORD;
    int row[LONGEST_WORD];
    for (size_t j = 0; j <= m; j++)
        row[j] = (int)j;
    for (size_t i = 1; i <= n; i++) {
        int corner = row[0];
        row[0] = (int)i;
        for (size_t j = 1; j <= m; j++) {
            int best = corner + (word[i - 1] != other[j - 1]);
            corner = row[j];
            if (row[j] + 1 < best)
                best = row[j] + 1;
            if (row[j - 1] + 1 < best)
                best = row[j - 1] + 1;
            row[j] = best;
        }
    }
    return row[m];
}

void base_nearest(struct base_text *out, const char *word, const char *const *names, size_t count)
{
    enum { WANTED = 3 };
    const char *best[WANTED];
    int far[WANTED], found = 0;
    int reach = (int)strlen(word) / 2 + 1;
    for (size_t i = 0; i < count; i++) {
        int d = base_distance(word, names[i]);
        bool inside = strstr(names[i], word) != NULL && strlen(word) > 2;
        if (d > reach && !inside)
            continue;
        int at = found < WANTED ? found++ : WANTED;
        while (at > 0 && far[at - 1] > d) {
            if (at < WANTED)
                best[at] = best[at - 1], far[at] = far[at - 1];
            at--;
        }
        if (at < WANTED)
            best[at] = names[i], far[at] = d;
    }
    for (int i = 0; i < found; i++)
        base_text_addf(out, "%s%s", i == 0 ? "" : i == found - 1 ? " or " : ", ", best[i]);
}

/* ---- days ---- */

bool base_is_date(const char *text)
{
    static const int days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    static const char form[] = "dddd-dd-dd";
    for (size_t i = 0; i < sizeof form; i++)
        if (form[i] == 'd' ? text[i] < '0' || text[i] > '9' : text[i] != form[i])
            return false;
    int year = atoi(text), month = atoi(text + 5), day = atoi(text + 8);
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    return month >= 1 && month <= 12 && day >= 1 && day <= days[month - 1] + (leap && month == 2);
}
