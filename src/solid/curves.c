/* Outlines of a plate as curves for wire, laser and plasma: SVG, in mm.
 *
 * What goes right through is cut, so that alone is drawn: the rim of the plate and the narrowest section of
 * each opening, one closed path each. Paths are of lines and true arcs of circles; no path is drawn twice.
 */

#include "solid/shell.h"

#include "diewright/solid.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

static const double near = 1e-6; /* mm */
static const double pi = 3.14159265358979323846;

/* Nine places after the point are a millionth of a thousandth; no "-0". */
static void add_number(struct base_text *t, double v)
{
    char buf[40];
    int n = snprintf(buf, sizeof buf, "%.9f", fabs(v) < 5e-10 ? 0 : v);
    while (buf[n - 1] == '0')
        n--;
    n -= buf[n - 1] == '.';
    base_text_add_n(t, buf, (size_t)n);
}

static void add_place(struct base_text *t, const char *before, double x, double y)
{
    base_text_add(t, before);
    add_number(t, x);
    base_text_add(t, " ");
    add_number(t, y);
}

/* Y counts downwards in SVG: from the plate's back edge, and what turns left turns right. */
static void add_arc(struct base_text *t, const struct shape_side *s, double back)
{
    add_place(t, "A", s->radius, s->radius);
    base_text_addf(t, " 0 %d %d", s->sweep > pi * (1 + 1e-9), s->way < 0);
    add_place(t, " ", s->x1, back - s->y1);
}

static void add_path(struct base_text *t, const struct shape_side *s, int n, double back)
{
    add_place(t, "M", s[0].x0, back - s[0].y0);
    for (int i = 0; i < n; i++)
        if (s[i].radius > 0)
            add_arc(t, &s[i], back);
        else if (i + 1 < n)
            add_place(t, "L", s[i].x1, back - s[i].y1);
    base_text_add(t, "Z");
}

static void add_escaped(struct base_text *t, const char *text)
{
    while (*text) {
        char ch[5];
        uint32_t c = base_next_char(&text);
        base_char_write(ch, c);
        base_text_add(t, c == '<' ? "&lt;" : c == '>' ? "&gt;" : c == '&' ? "&amp;" : ch);
    }
}

static void add_curve(struct base_text *t, const char *name, const struct shape_side *s, int n, double back)
{
    base_text_add(t, "<path d=\"");
    add_path(t, s, n, back);
    base_text_add(t, "\"><title>");
    add_escaped(t, name);
    base_text_add(t, "</title></path>\n");
}

/* ---- which -------------------------------------------------------------------------------- */

static bool goes_through(const struct openings *o, const struct opening *w)
{
    return !w->open && w->hole.low < near && w->hole.high > o->thickness - near;
}

/* The piece of an opening where it is narrowest: its land, or all of it. */
static int narrowest(const struct openings *o, int opening)
{
    int best = -1;
    for (int i = 0; i < (int)o->pieces.count; i++) {
        const struct piece *p = &o->pieces.at[i];
        if (p->opening != opening)
            continue;
        double size = fmin(p->size_low, p->size_high);
        if (best < 0 || size < fmin(o->pieces.at[best].size_low, o->pieces.at[best].size_high))
            best = i;
    }
    return best;
}

static double narrow_end(const struct openings *o, int piece)
{
    const struct piece *p = &o->pieces.at[piece];
    return p->size_low <= p->size_high ? p->low : p->high;
}

/* Does it lie in another that goes through as well? */
static bool held(const struct openings *o, int opening, int piece)
{
    for (int i = 0; i < (int)o->at.count; i++) {
        if (i == opening || !goes_through(o, &o->at.at[i]))
            continue;
        enum relation r = section_relation(o, narrowest(o, i), piece, narrow_end(o, piece));
        if (r == HOLDS || (r == SAME && i < opening))
            return true;
    }
    return false;
}

static void add_openings(struct base_text *t, const struct openings *o)
{
    for (int i = 0; i < (int)o->at.count; i++) {
        int piece = narrowest(o, i), n;
        if (!goes_through(o, &o->at.at[i]) || piece < 0 || held(o, i, piece))
            continue;
        struct shape_side *s = section_sides(o, piece, narrow_end(o, piece), &n);
        if (s)
            add_curve(t, o->at.at[i].name, s, n, o->width);
        free(s);
    }
}

/* ---- the file ----------------------------------------------------------------------------- */

static void add_head(struct base_text *t, const struct openings *o, const struct solid_head *head)
{
    base_text_add(t, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
                     "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"");
    add_number(t, o->length);
    base_text_add(t, "mm\" height=\"");
    add_number(t, o->width);
    add_place(t, "mm\" viewBox=\"0 0 ", o->length, o->width);
    base_text_add(t, "\">\n<title>");
    add_escaped(t, dieset_item_title(o->d, o->plate));
    base_text_add(t, "</title>\n<desc>");
    const char *open = head->open ? head->open : "";
    const char *words[] = {head->job, ", ", head->issued, *open ? ". " : "", open};
    for (size_t i = 0; i < COUNT_OF(words); i++)
        add_escaped(t, words[i]);
    base_text_add(t, "</desc>\n<g fill=\"none\" stroke=\"black\" stroke-width=\"0.1\">\n");
}

enum base_err solid_curves(struct dieset *d, int plate, enum dieset_state s, const struct solid_head *head,
                           struct base_text *out, struct base_diag *why)
{
    struct openings o;
    struct shape_side *rim;
    int n;
    enum base_err err = openings_read(d, plate, s, &o, why);
    if (err)
        return err;
    err = rim_outline(&o, &rim, &n, why);
    if (!err) {
        add_head(out, &o, head);
        add_curve(out, dieset_item_name(d, plate), rim, n, o.width);
        add_openings(out, &o);
        base_text_add(out, "</g>\n</svg>\n");
        free(rim);
    }
    openings_done(&o);
    return err;
}
