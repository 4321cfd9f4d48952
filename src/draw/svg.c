/* SVG 1.1: circles, paths and letters as strokes that stand once each and are used by name. With every line
 * of words goes an invisible text, so that it can be searched and copied. */

#include "draw/letters.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const double SHEETS_APART = 10; /* mm, where several stand below one another */

static const char *const pens[DRAW_PENS] = {"wide", "narrow", "fine", "frame", "hidden", "centre"};

struct svg {
    struct base_text *out;
    double top; /* y of the sheet's upper edge less its height: y is counted down here */
    BASE_VEC(uint32_t) used;
};

static void attribute(struct base_text *out, const char *name, double v)
{
    base_text_addf(out, " %s=\"", name);
    draw_number(out, v);
    base_text_add(out, "\"");
}

static void escaped(struct base_text *out, const char *text)
{
    for (const char *at = text; *at;) {
        uint32_t ch = base_next_char(&at);
        if (ch == '<' || ch == '>' || ch == '&' || ch == '"' || ch > 126)
            base_text_addf(out, "&#%u;", (unsigned)ch);
        else
            base_text_addf(out, "%c", (int)ch);
    }
}

/* ---- marks ------------------------------------------------------------------------------- */

static bool round_about(const struct draw_mark *m) { return fabs(m->sweep) > 6.2831; }

static void circle(struct svg *s, const struct draw_mark *m)
{
    base_text_addf(s->out, "<circle class=\"%s\"", pens[m->pen]);
    attribute(s->out, "cx", m->x);
    attribute(s->out, "cy", s->top - m->y);
    attribute(s->out, "r", m->radius);
    base_text_add(s->out, "/>\n");
}

static void arc(struct svg *s, const struct draw_mark *m)
{
    double end = m->from + m->sweep;
    const double at[] = {m->x + m->radius * cos(m->from), s->top - m->y - m->radius * sin(m->from), m->radius,
                         m->x + m->radius * cos(end), s->top - m->y - m->radius * sin(end)};
    base_text_addf(s->out, "<path class=\"%s\" d=\"M", pens[m->pen]);
    draw_number(s->out, at[0]);
    base_text_add(s->out, " ");
    draw_number(s->out, at[1]);
    base_text_add(s->out, " A");
    draw_number(s->out, at[2]);
    base_text_add(s->out, " ");
    draw_number(s->out, at[2]);
    base_text_addf(s->out, " 0 %d %d ", fabs(m->sweep) > 3.14159265358979323846, m->sweep < 0);
    draw_number(s->out, at[3]);
    base_text_add(s->out, " ");
    draw_number(s->out, at[4]);
    base_text_add(s->out, "\"/>\n");
}

static void line(struct svg *s, const struct draw_mark *m)
{
    base_text_addf(s->out, "<line class=\"%s\"", pens[m->pen]);
    attribute(s->out, "x1", m->x);
    attribute(s->out, "y1", s->top - m->y);
    attribute(s->out, "x2", m->x1);
    attribute(s->out, "y2", s->top - m->y1);
    base_text_add(s->out, "/>\n");
}

static void blank(struct svg *s, const struct draw_mark *m)
{
    base_text_add(s->out, "<rect class=\"blank\"");
    attribute(s->out, "x", m->x);
    attribute(s->out, "y", s->top - m->y1);
    attribute(s->out, "width", m->x1 - m->x);
    attribute(s->out, "height", m->y1 - m->y);
    base_text_add(s->out, "/>\n");
}

static void words(struct svg *s, const struct draw_mark *m)
{
    struct draw_box box = draw_words_box(m);
    base_text_add(s->out, "<g transform=\"translate(");
    draw_number(s->out, m->x);
    base_text_add(s->out, " ");
    draw_number(s->out, s->top - m->y);
    base_text_addf(s->out, ")%s\"><text", m->up ? " rotate(-90)" : "");
    attribute(s->out, "font-size", m->height);
    attribute(s->out, "textLength", m->up ? box.back - box.front : box.right - box.left);
    base_text_add(s->out, ">");
    escaped(s->out, m->text);
    base_text_add(s->out, "</text><g transform=\"scale(");
    draw_number(s->out, m->height / 10 * m->squeeze);
    base_text_add(s->out, " ");
    draw_number(s->out, -m->height / 10);
    base_text_add(s->out, ")\">");
    double x = 0;
    for (const char *at = m->text; *at;) {
        uint32_t ch = base_next_char(&at);
        if (ch != ' ') {
            base_text_addf(s->out, "<use href=\"#l%u\"", (unsigned)ch);
            attribute(s->out, "x", x);
            base_text_add(s->out, "/>");
        }
        x += letter_advance(ch);
    }
    base_text_add(s->out, "</g></g>\n");
}

static void mark(struct svg *s, const struct draw_mark *m)
{
    switch (m->sort) {
    case DRAW_LINE: line(s, m); break;
    case DRAW_ARC: (round_about(m) ? circle : arc)(s, m); break;
    case DRAW_BLANK: blank(s, m); break;
    case DRAW_WORDS: words(s, m); break;
    }
}

/* ---- letters and the file ------------------------------------------------------------------- */

static void step(void *arg, enum letter_step how, double cx, double cy, double x, double y)
{
    struct base_text *out = arg;
    base_text_add(out, how == LETTER_MOVE ? "M" : how == LETTER_CURVE ? "Q" : "L");
    if (how == LETTER_CURVE) {
        draw_number(out, cx);
        base_text_add(out, " ");
        draw_number(out, cy);
        base_text_add(out, " ");
    }
    draw_number(out, x);
    base_text_add(out, " ");
    draw_number(out, y);
}

static void use(struct svg *s, uint32_t ch)
{
    for (size_t i = 0; i < s->used.count; i++)
        if (s->used.at[i] == ch)
            return;
    base_vec_push(&s->used, ch);
    base_text_addf(s->out, "<path id=\"l%u\" d=\"", (unsigned)ch);
    letter_draw(ch, step, s->out);
    base_text_add(s->out, "\"/>\n");
}

static void alphabet(struct svg *s, const struct draw_sheet *sheets, int n)
{
    base_text_add(s->out, "<defs>\n");
    for (int i = 0; i < n; i++)
        for (size_t k = 0; k < sheets[i].marks.count; k++)
            for (const char *at = sheets[i].marks.at[k].text; at && *at;) {
                uint32_t ch = base_next_char(&at);
                if (ch != ' ')
                    use(s, ch);
            }
    base_text_add(s->out, "</defs>\n");
}

static void head(struct svg *s, double width, double height, const char *title)
{
    base_text_add(s->out, "<svg xmlns=\"http://www.w3.org/2000/svg\"");
    base_text_addf(s->out, " width=\"%gmm\" height=\"%gmm\" viewBox=\"0 0 %g %g\">\n<title>", width, height,
                   width, height);
    escaped(s->out, title);
    base_text_add(s->out, "</title>\n<style>line,path,circle{fill:none;stroke:#000;stroke-linecap:round;"
                          "stroke-linejoin:round}.wide{stroke-width:.5}.narrow{stroke-width:.25}"
                          ".fine{stroke-width:.18}.frame{stroke-width:.7}.hidden{stroke-width:.25;"
                          "stroke-dasharray:3 .75}.centre{stroke-width:.18;stroke-dasharray:6 .75 .5 .75}"
                          ".blank{fill:#fff}text{fill-opacity:0}</style>\n");
}

void draw_svg(const struct draw_sheet *sheets, int n, const char *title, struct base_text *out)
{
    struct svg s = {.out = out};
    double width = 0, height = 0;
    for (int i = 0; i < n; i++) {
        width = fmax(width, sheets[i].width);
        height += sheets[i].height + (i ? SHEETS_APART : 0);
    }
    head(&s, width, height, title);
    alphabet(&s, sheets, n);
    base_text_addf(out, "<rect class=\"blank\" width=\"%g\" height=\"%g\"/>\n", width, height);
    double down = 0;
    for (int i = 0; i < n; i++) {
        s.top = down + sheets[i].height;
        for (size_t k = 0; k < sheets[i].marks.count; k++)
            mark(&s, &sheets[i].marks.at[k]);
        down = s.top + SHEETS_APART;
    }
    base_text_add(out, "</svg>\n");
    base_vec_done(&s.used);
}
