/* PDF 1.4 (ISO 32000-1), plain ASCII, uncompressed: what is drawn can be read in the file.
 *
 * The letters are one Type 3 font of strokes. Printable ASCII has its own codes; what else the sheets use
 * gets codes from 161 on, in the order in which it comes; a ToUnicode map tells viewers what each code is.
 */

#include "draw/letters.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { FIRST = 32, LAST = 126, OTHERS = 161, CODES = 256 };
enum { CATALOG = 1, PAGES, INFO, FONT, UNICODE, GLYPHS };

static const double POINTS = 72 / 25.4; /* of a millimetre */
static const struct { double width; const char *dashes;
} pens[DRAW_PENS] = {
    [DRAW_WIDE] = {0.5, "[]"},          [DRAW_NARROW] = {0.25, "[]"},
    [DRAW_FINE] = {0.18, "[]"},         [DRAW_FRAME] = {0.7, "[]"},
    [DRAW_HIDDEN] = {0.25, "[3 0.75]"}, [DRAW_CENTRE] = {0.18, "[6 0.75 0.5 0.75]"},
};

struct pdf {
    struct base_text *out;
    size_t base; /* bytes of OUT before the file */
    BASE_VEC(size_t) starts;
    uint32_t codes[CODES]; /* the character of each, 0: none */
};

/* ---- numbers and codes ----------------------------------------------------------------- */

static void number(struct base_text *out, double v)
{
    draw_number(out, v);
    base_text_add(out, " ");
}

static void numbers(struct base_text *out, const double *v, int n, const char *operator)
{
    for (int i = 0; i < n; i++)
        number(out, v[i]);
    base_text_addf(out, "%s\n", operator);
}

static int code_of(struct pdf *p, uint32_t ch)
{
    if (ch >= FIRST && ch <= LAST)
        return (int)ch;
    int code = OTHERS;
    while (code < CODES && p->codes[code] && p->codes[code] != ch)
        code++;
    if (code == CODES)
        return '?';
    p->codes[code] = ch;
    return code;
}

static void begin_object(struct pdf *p, int number_of)
{
    while (p->starts.count <= (size_t)number_of)
        base_vec_push(&p->starts, 0);
    p->starts.at[number_of] = p->out->length - p->base;
    base_text_addf(p->out, "%d 0 obj\n", number_of);
}

static void stream(struct pdf *p, int number_of, struct base_text *body)
{
    begin_object(p, number_of);
    base_text_addf(p->out, "<</Length %zu>>\nstream\n", body->length);
    base_text_add_n(p->out, base_text_get(body), body->length);
    base_text_add(p->out, "\nendstream\nendobj\n");
    base_text_done(body);
}

/* ---- marks ---------------------------------------------------------------------------------- */

/* Pieces of at most an eighth of a turn; a cubic curve of such a piece is off by 4e-6 of the radius. */
static void arc(struct base_text *out, const struct draw_mark *m)
{
    int n = (int)ceil(fabs(m->sweep) / (3.14159265358979323846 / 4) - 1e-9);
    double step = m->sweep / (n > 0 ? n : 1), k = 4.0 / 3 * tan(step / 4) * m->radius, a = m->from;
    double x = m->x + m->radius * cos(a), y = m->y + m->radius * sin(a);
    numbers(out, (double[]){x, y}, 2, "m");
    for (int i = 0; i < n; i++, a += step) {
        double b = a + step, x1 = m->x + m->radius * cos(b), y1 = m->y + m->radius * sin(b);
        numbers(out,
                (double[]){x - k * sin(a), y + k * cos(a), x1 + k * sin(b), y1 - k * cos(b), x1, y1}, 6, "c");
        x = x1;
        y = y1;
    }
    base_text_add(out, fabs(m->sweep) > 6.2831 ? "s\n" : "S\n");
}

static void words(struct pdf *p, const struct draw_mark *m, struct base_text *out)
{
    base_text_add(out, "BT /F ");
    numbers(out, (double[]){m->height}, 1, "Tf");
    numbers(out, (double[]){100 * m->squeeze}, 1, "Tz");
    numbers(out, (double[]){!m->up, m->up, -m->up, !m->up, m->x, m->y}, 6, "Tm");
    base_text_add(out, "<");
    for (const char *at = m->text; *at;) {
        uint32_t ch;
        at += base_char(at, strlen(at), &ch);
        base_text_addf(out, "%02X", (unsigned)code_of(p, ch));
    }
    base_text_add(out, "> Tj ET\n");
}

static void mark(struct pdf *p, const struct draw_mark *m, enum draw_pen *pen, struct base_text *out)
{
    if (m->sort == DRAW_WORDS) {
        words(p, m, out);
        return;
    }
    if (m->sort == DRAW_BLANK) {
        base_text_add(out, "1 g ");
        numbers(out, (double[]){m->x, m->y, m->x1 - m->x, m->y1 - m->y}, 4, "re f 0 g");
        return;
    }
    if (m->pen != *pen) {
        numbers(out, (double[]){pens[m->pen].width}, 1, "w");
        base_text_addf(out, "%s 0 d\n", pens[m->pen].dashes);
        *pen = m->pen;
    }
    if (m->sort == DRAW_ARC) {
        arc(out, m);
        return;
    }
    numbers(out, (double[]){m->x, m->y}, 2, "m");
    numbers(out, (double[]){m->x1, m->y1}, 2, "l S");
}

static void page(struct pdf *p, const struct draw_sheet *s, int number_of)
{
    struct base_text body = {0};
    enum draw_pen pen = DRAW_PENS;
    numbers(&body, (double[]){POINTS, 0, 0, POINTS, 0, 0}, 6, "cm 1 J 1 j");
    for (size_t i = 0; i < s->marks.count; i++)
        mark(p, &s->marks.at[i], &pen, &body);
    begin_object(p, number_of);
    base_text_addf(p->out, "<</Type /Page /Parent %d 0 R /MediaBox [0 0 %.4f %.4f] /Contents %d 0 R ", PAGES,
                   s->width * POINTS, s->height * POINTS, number_of + 1);
    base_text_addf(p->out, "/Resources <</Font <</F %d 0 R>>>>>>\nendobj\n", FONT);
    stream(p, number_of + 1, &body);
}

/* ---- the font -------------------------------------------------------------------------------- */

struct pen_at { struct base_text *out; double x, y; bool drew; };

static void step(void *arg, enum letter_step how, double cx, double cy, double x, double y)
{
    struct pen_at *at = arg;
    if (how == LETTER_CURVE) /* a quadratic curve as a cubic one */
        numbers(at->out,
                (double[]){at->x + (cx - at->x) * 2 / 3, at->y + (cy - at->y) * 2 / 3, x + (cx - x) * 2 / 3,
                           y + (cy - y) * 2 / 3, x, y},
                6, "c");
    else
        numbers(at->out, (double[]){x, y}, 2, how == LETTER_MOVE ? "m" : "l");
    at->x = x;
    at->y = y;
    at->drew = true;
}

static void glyph(struct pdf *p, int number_of, uint32_t ch)
{
    struct base_text body = {0};
    struct pen_at at = {.out = &body};
    numbers(&body, (double[]){letter_advance(ch), 0}, 2, "d0 1 w 1 J 1 j");
    letter_draw(ch, step, &at);
    base_text_add(&body, at.drew ? "S" : "");
    stream(p, number_of, &body);
}

static void font(struct pdf *p, int first_glyph)
{
    struct base_text procs = {0}, names = {0}, widths = {0}, map = {0};
    int number_of = first_glyph, mapped = 0;
    for (int code = FIRST; code < CODES; code++) {
        uint32_t ch = p->codes[code];
        base_text_addf(&widths, "%g ", ch ? letter_advance(ch) : 0);
        if (!ch)
            continue;
        base_text_addf(&procs, "/g%d %d 0 R ", code, number_of);
        base_text_addf(&names, "%d /g%d ", code, code);
        base_text_addf(&map, "<%02X> <%04X>\n", (unsigned)code, (unsigned)ch);
        glyph(p, number_of++, ch);
        mapped++;
    }
    begin_object(p, FONT);
    base_text_addf(
        p->out,
        "<</Type /Font /Subtype /Type3 /Name /F /FontBBox [-1 -5 12 15] /FontMatrix [0.1 0 0 0.1 0 0]"
        "\n/FirstChar %d /LastChar %d /Widths [%s]\n/Encoding <</Type /Encoding /Differences [%s]>>\n"
        "/CharProcs <<%s>>\n/Resources <<>> /ToUnicode %d 0 R>>\nendobj\n",
        FIRST, CODES - 1, base_text_get(&widths), base_text_get(&names), base_text_get(&procs), UNICODE);
    struct base_text cmap = {0};
    base_text_add(&cmap,
                  "/CIDInit /ProcSet findresource begin\n12 dict begin\nbegincmap\n/CMapName /Letters def\n"
                  "/CMapType 2 def\n1 begincodespacerange\n<00> <FF>\nendcodespacerange\n");
    const char *lines = base_text_get(&map);
    for (int left = mapped; left > 0;) { /* at most a hundred in one piece */
        int n = left > 100 ? 100 : left;
        const char *end = lines;
        for (int i = 0; i < n; i++)
            end = strchr(end, '\n') + 1;
        base_text_addf(&cmap, "%d beginbfchar\n%.*sendbfchar\n", n, (int)(end - lines), lines);
        lines = end;
        left -= n;
    }
    base_text_add(&cmap, "endcmap\nCMapName currentdict /CMap defineresource pop\nend\nend");
    stream(p, UNICODE, &cmap);
    base_text_done(&procs);
    base_text_done(&names);
    base_text_done(&widths);
    base_text_done(&map);
}

/* ---- the file ---------------------------------------------------------------------------------- */

static void title_text(struct base_text *out, const char *title)
{
    base_text_add(out, "<FEFF");
    while (*title) {
        uint32_t ch = base_next_char(&title);
        if (ch > 0xffff)
            base_text_addf(out, "%04X%04X", (unsigned)(0xd800 + ((ch - 0x10000) >> 10)),
                           (unsigned)(0xdc00 + (ch & 0x3ff)));
        else
            base_text_addf(out, "%04X", (unsigned)ch);
    }
    base_text_add(out, ">");
}

static void table_of_objects(struct pdf *p)
{
    size_t where = p->out->length - p->base;
    base_text_addf(p->out, "xref\n0 %zu\n0000000000 65535 f \n", p->starts.count);
    for (size_t i = 1; i < p->starts.count; i++)
        base_text_addf(p->out, "%010zu 00000 n \n", p->starts.at[i]);
    base_text_addf(p->out, "trailer\n<</Size %zu /Root %d 0 R /Info %d 0 R>>\nstartxref\n%zu\n%%%%EOF\n",
                   p->starts.count, CATALOG, INFO, where);
}

void draw_pdf(const struct draw_sheet *sheets, int n, const char *title, struct base_text *out)
{
    struct pdf p = {.out = out, .base = out->length};
    for (uint32_t ch = FIRST; ch <= LAST; ch++)
        p.codes[ch] = ch;
    base_text_add(out, "%PDF-1.4\n");
    begin_object(&p, CATALOG);
    base_text_addf(out,
                   "<</Type /Catalog /Pages %d 0 R /ViewerPreferences <</PrintScaling /None>>>>\nendobj\n",
                   PAGES);
    begin_object(&p, PAGES);
    base_text_add(out, "<</Type /Pages /Kids [");
    for (int i = 0; i < n; i++)
        base_text_addf(out, "%d 0 R ", GLYPHS + 2 * i);
    base_text_addf(out, "] /Count %d>>\nendobj\n", n);
    begin_object(&p, INFO);
    base_text_add(out, "<</Title ");
    title_text(out, title);
    base_text_add(out, " /Producer (diewright)>>\nendobj\n");
    for (int i = 0; i < n; i++)
        page(&p, &sheets[i], GLYPHS + 2 * i);
    font(&p, GLYPHS + 2 * n);
    table_of_objects(&p);
    base_vec_done(&p.starts);
}
