/* A line of an outline, parted into its words and its formulas. Nothing is computed here.
 *
 *     at X, Y
 *     line to|by X, Y [no cut]
 *     arc to|by X, Y radius R left|right [long] [no cut]
 *
 * What follows the formulas is read from the end, what parts them is a comma and the word "radius" outside of
 * brackets; so a formula may hold any name.
 */

#include "diewright/dieset.h"

#include <string.h>

struct span { const char *text; int start, end; };

static enum base_err refuse(const struct span *s, const char *sentence, struct base_diag *why)
{
    enum base_err err = base_fail(why, BASE_REFUSED, "%s", sentence);
    base_diag_mark(why, s->text, s->start, s->end > s->start ? s->end - s->start : 1);
    return err;
}

static void trim(struct span *s)
{
    while (s->start < s->end && s->text[s->start] == ' ')
        s->start++;
    while (s->end > s->start && s->text[s->end - 1] == ' ')
        s->end--;
}

/* Take WORD from the front; it ends at a blank or at the end. */
static bool front_word(struct span *s, const char *word)
{
    int n = (int)strlen(word);
    if (s->end - s->start < n || strncmp(s->text + s->start, word, (size_t)n) != 0 ||
        (s->end - s->start > n && s->text[s->start + n] != ' '))
        return false;
    s->start += n;
    trim(s);
    return true;
}

static bool back_word(struct span *s, const char *word)
{
    int n = (int)strlen(word), at = s->end - n;
    if (at < s->start || strncmp(s->text + at, word, (size_t)n) != 0 ||
        (at > s->start && s->text[at - 1] != ' '))
        return false;
    s->end = at;
    trim(s);
    return true;
}

/* Where WORD stands outside of brackets, -1: nowhere. */
static int find_outside(const struct span *s, const char *word)
{
    int depth = 0, n = (int)strlen(word);
    for (int i = s->start; i + n <= s->end; i++) {
        depth += (s->text[i] == '(') - (s->text[i] == ')');
        if (depth == 0 && strncmp(s->text + i, word, (size_t)n) == 0)
            return i;
    }
    return -1;
}

static enum base_err put_part(struct span s, const char *missing, struct dieset_line *out,
                              enum dieset_line_part part, struct base_diag *why)
{
    trim(&s);
    if (s.start >= s.end)
        return refuse(&s, missing, why);
    out->parts[part].start = s.start;
    out->parts[part].length = s.end - s.start;
    return BASE_OK;
}

static enum base_err read_pair(const struct span *s, struct dieset_line *out, struct base_diag *why)
{
    int comma = find_outside(s, ",");
    if (comma < 0)
        return refuse(s, "Two coordinates are wanted, parted by a comma: along the feed, across it.", why);
    enum base_err err = put_part((struct span){s->text, s->start, comma},
                                 "The coordinate along the feed is missing.", out, DIESET_PART_X, why);
    return err ? err
               : put_part((struct span){s->text, comma + 1, s->end},
                          "The coordinate across the feed is missing.", out, DIESET_PART_Y, why);
}

/* What stands behind an arc's radius, from the end. */
static enum base_err read_turn(struct span *s, struct dieset_line *out, struct base_diag *why)
{
    out->long_way = back_word(s, "long");
    out->left = back_word(s, "left");
    if (out->left || back_word(s, "right"))
        return BASE_OK;
    return refuse(s,
                  "An arc says to which side it turns, seen along it: \"left\" or \"right\", then \"long\" "
                  "when it is more than half a circle.",
                  why);
}

static enum base_err read_arc(struct span *s, struct dieset_line *out, struct base_diag *why)
{
    enum base_err err = read_turn(s, out, why);
    int radius = find_outside(s, " radius ");
    if (!err && radius < 0)
        return refuse(s, "An arc has a radius: \"arc to X, Y radius R left\".", why);
    if (!err)
        err = put_part((struct span){s->text, radius + (int)strlen(" radius "), s->end},
                       "The radius is missing.", out, DIESET_PART_RADIUS, why);
    if (err)
        return err;
    s->end = radius;
    trim(s);
    return BASE_OK;
}

enum base_err dieset_read_line(const char *text, struct dieset_line *out, struct base_diag *why)
{
    struct span s = {text, 0, (int)strlen(text)};
    *out = (struct dieset_line){.cuts = true};
    trim(&s);
    struct span all = s;
    if (front_word(&s, "at"))
        return read_pair(&s, out, why);
    bool arc = front_word(&s, "arc");
    if (!arc && !front_word(&s, "line"))
        return refuse(&all, "A line of an outline begins with \"at\", \"line\" or \"arc\".", why);
    out->sort = arc ? DIESET_ARC : DIESET_STRAIGHT;
    out->by = front_word(&s, "by");
    if (!out->by && !front_word(&s, "to"))
        return refuse(
            &all,
            "Say where it goes: \"to X, Y\" from the outline's origin, or \"by X, Y\" from the line before.",
            why);
    out->cuts = !back_word(&s, "no cut");
    enum base_err err = arc ? read_arc(&s, out, why) : BASE_OK;
    return err ? err : read_pair(&s, out, why);
}
