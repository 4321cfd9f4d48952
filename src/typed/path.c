/* The paths of entries: read, and written. See typed.h. */

#include "diewright/typed.h"

#include <string.h>

static const char *const axes[TYPED_AXES] = {[TYPED_X] = "x", [TYPED_Y] = "y", [TYPED_TURN] = "turn"};
static const char *const details[TYPED_DETAILS] = {
    [TYPED_ITSELF] = "",         [TYPED_TYPE] = "type", [TYPED_HELP] = "help",
    [TYPED_CHOICES] = "choices", [TYPED_FROM] = "from", [TYPED_REASON] = "reason"};

static bool is(const char *text, size_t length, const char *word)
{
    return strlen(word) == length && strncmp(text, word, length) == 0;
}

/* "1", "20", never "007"; 0: it is none. */
static int number_of(const char *text, size_t length)
{
    int n = 0;
    if (length < 1 || length > 6 || text[0] == '0')
        return 0;
    for (size_t i = 0; i < length; i++) {
        if (text[i] < '0' || text[i] > '9')
            return 0;
        n = 10 * n + (text[i] - '0');
    }
    return n;
}

/* What is told of something stands behind the last "/": a reason of anything, all else of a value alone.
 * Takes it off *LENGTH. */
static enum typed_detail take_detail(const char *text, size_t *length)
{
    const char *slash = strrchr(text, '/');
    size_t before = slash ? (size_t)(slash - text) : 0;
    bool of_value = memchr(text, '/', before) == NULL && !is(text, before, "lay");
    for (int d = TYPED_TYPE; before && d < TYPED_DETAILS; d++)
        if (strcmp(slash + 1, details[d]) == 0 && (d == TYPED_REASON || of_value)) {
            *length = before;
            return (enum typed_detail)d;
        }
    return TYPED_ITSELF;
}

/* Behind "lay/": a measure of the pattern, or a point and its axis. */
static void read_laid(const char *text, size_t length, struct typed_path *p)
{
    const char *slash = memchr(text, '/', length);
    p->name = text;
    p->length = slash ? (size_t)(slash - text) : length;
    p->place = slash ? TYPED_AT_POINT : TYPED_AT_TAKE;
    for (int a = 0; slash && a < TYPED_AXES; a++)
        if (is(slash + 1, length - p->length - 1, axes[a]))
            p->axis = a;
}

struct typed_path typed_path_read(const char *text)
{
    size_t length = strlen(text);
    struct typed_path p = {.place = TYPED_AT_NAME, .axis = -1};
    p.detail = take_detail(text, &length);
    const char *slash = memchr(text, '/', length), *rest = slash ? slash + 1 : text + length;
    size_t first = slash ? (size_t)(slash - text) : length, left = (size_t)(text + length - rest);
    p.name = text;
    p.length = p.base = length;
    if (is(text, first, "lay") && slash)
        read_laid(rest, left, &p);
    else if (is(text, length, "lay"))
        p.place = TYPED_AT_LAY;
    else if (slash && is(text, first, "outline"))
        p.place = TYPED_AT_LINE;
    else if (slash && is(text, first, "line"))
        p.place = TYPED_AT_ROW;
    if (p.place == TYPED_AT_LINE || p.place == TYPED_AT_ROW)
        p.number = number_of(rest, left);
    return p;
}

bool typed_path_names(const struct typed_path *p, const char *name) { return is(p->name, p->length, name); }

bool typed_is_reason(const char *path) { return typed_path_read(path).detail == TYPED_REASON; }

bool typed_is_laid(const char *path)
{
    enum typed_place place = typed_path_read(path).place;
    return place == TYPED_AT_TAKE || place == TYPED_AT_POINT;
}

bool typed_belongs(const char *path, const char *base)
{
    size_t n = strlen(base);
    return strncmp(path, base, n) == 0 && (path[n] == '\0' || path[n] == '/');
}

char *typed_known(const char *item, const char *path)
{
    struct typed_path p = typed_path_read(path);
    if (!*path)
        return base_copy(item);
    char *known = base_format("%s.%s", item, p.place == TYPED_AT_POINT ? p.name : path);
    for (char *c = known; *c; c++)
        if (*c == '/')
            *c = '.';
    return known;
}

char *typed_of_take(const char *take) { return base_format("lay/%s", take); }

char *typed_of_point(const char *point, enum typed_axis axis)
{
    return base_format("lay/%s/%s", point, axes[axis]);
}

char *typed_of_line(int number) { return base_format("outline/%d", number); }

char *typed_of_row(int number) { return base_format("line/%d", number); }

char *typed_of_detail(const char *path, enum typed_detail detail)
{
    return base_format("%s/%s", path, details[detail]);
}

char *typed_of_reason(const char *path) { return typed_of_detail(path, TYPED_REASON); }

const char *typed_axis_name(enum typed_axis axis) { return axes[axis]; }
