/* A paper of columns and rows on upright pages, its head on each, its foot telling what it was made from. */

#include "sheet/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static const double TOP = 16, FOOT = 17, GAP = 3, LINE = 3.9, LEAST = 14, FOLD = 6, BY_HAND = 22;

struct column { bool shown, right; double width, x; };

struct pages {
    const struct report_paper *paper;
    struct sheet_book *book;
    const char *title;
    bool inches;
    struct column *columns;
    double width, y; /* of a line; its upper edge */
    struct draw_sheet *s;
};

/* ---- columns --------------------------------------------------------------------------- */

static const char *words_at(const struct pages *w, int row, int column, char *buf, size_t size)
{
    return report_cell_words(w->paper, row, column, buf, size);
}

/* A column that no row fills is written in by hand. */
static double natural(const struct pages *w, int column)
{
    char buf[400];
    double heading = draw_width(w->paper->columns[column].heading, SHEET_LETTERS), most = 0;
    for (int r = 0; r < report_rows(w->paper); r++)
        most = fmax(most, draw_width(words_at(w, r, column, buf, sizeof buf), SHEET_LETTERS));
    return fmax(heading, most > 0 ? most : BY_HAND);
}

/* The widest columns of words give until all go in; what is left over is theirs again. */
static void lay_out(struct pages *w)
{
    double used = -GAP;
    for (int c = 0; c < w->paper->n_columns; c++) {
        struct column *at = &w->columns[c];
        at->shown = w->paper->columns[c].heading && !w->paper->folded[c];
        at->right = w->paper->columns[c].right;
        at->width = at->shown ? natural(w, c) : 0;
        used += at->shown ? at->width + GAP : 0;
    }
    while (used > w->width) {
        struct column *widest = NULL;
        for (int c = 0; c < w->paper->n_columns; c++)
            if (w->columns[c].shown && !w->columns[c].right && w->columns[c].width > LEAST &&
                (!widest || w->columns[c].width > widest->width))
                widest = &w->columns[c];
        if (!widest)
            break;
        widest->width -= 1;
        used -= 1;
    }
    double x = SHEET_LEFT;
    for (int c = 0; c < w->paper->n_columns; c++) {
        w->columns[c].x = x;
        x += w->columns[c].shown ? w->columns[c].width + GAP : 0;
    }
}

/* ---- pages ------------------------------------------------------------------------------- */

static void headings(struct pages *w)
{
    w->y -= LINE;
    for (int c = 0; c < w->paper->n_columns; c++) {
        const struct column *at = &w->columns[c];
        if (at->shown)
            draw_words(w->s, at->right ? at->x + at->width : at->x, w->y + 1, SHEET_LETTERS,
                       at->right ? DRAW_RIGHT : DRAW_LEFT, at->width, w->paper->columns[c].heading);
    }
    draw_line(w->s, DRAW_NARROW, SHEET_LEFT, w->y, SHEET_LEFT + w->width, w->y);
    w->y -= 0.6;
}

static void next_page(struct pages *w, bool in_table)
{
    struct draw_sheet s;
    draw_begin(&s, w->inches ? 215.9 : 210, w->inches ? 279.4 : 297);
    base_vec_push(&w->book->at, s);
    w->s = &w->book->at.at[w->book->at.count - 1];
    draw_words(w->s, SHEET_LEFT, s.height - SHEET_EDGE - 5, 5, DRAW_LEFT, w->width, w->title);
    w->y = s.height - SHEET_EDGE - TOP + 6;
    if (in_table)
        headings(w);
}

static void room(struct pages *w, double need, bool in_table)
{
    if (w->y - need < SHEET_EDGE + FOOT)
        next_page(w, in_table);
}

static void words(struct pages *w, double indent, double letters, const char *text, bool in_table)
{
    double in = 0;
    do {
        size_t n = draw_fit(text, letters, w->width - indent - in);
        char *part = base_copy_n(text, n);
        room(w, LINE, in_table);
        w->y -= LINE;
        draw_words(w->s, SHEET_LEFT + indent + in, w->y + 1, letters, DRAW_LEFT, w->width - indent - in,
                   part);
        free(part);
        text += n + strspn(text + n, " \n");
        in = 3;
    } while (*text);
}

static void line(struct pages *w, double indent, const char *text, bool in_table)
{
    words(w, indent, SHEET_LETTERS, text, in_table);
}

/* A heading within the rows. */
static void heading(struct pages *w, const char *text)
{
    w->y -= 1.5;
    words(w, 0, SHEET_HEADING, text, true);
    w->y -= 0.6;
}

/* ---- rows ----------------------------------------------------------------------------------- */

static int lines_of(const char *text, double width)
{
    int n = 0;
    for (; *text; n++) {
        text += draw_fit(text, SHEET_LETTERS, width);
        text += strspn(text, " \n");
    }
    return n;
}

static void cell(struct pages *w, const struct column *at, const char *text, double y)
{
    for (; *text; y -= LINE) {
        size_t n = at->right ? strlen(text) : draw_fit(text, SHEET_LETTERS, at->width);
        char *part = base_copy_n(text, n);
        draw_words(w->s, at->right ? at->x + at->width : at->x, y - LINE + 1, SHEET_LETTERS,
                   at->right ? DRAW_RIGHT : DRAW_LEFT, at->width, part);
        free(part);
        text += n + strspn(text + n, " \n");
    }
}

static void row(struct pages *w, int r)
{
    char buf[400];
    int most = 1;
    for (int c = 0; c < w->paper->n_columns; c++)
        if (w->columns[c].shown && !w->columns[c].right) {
            int n = lines_of(words_at(w, r, c, buf, sizeof buf), w->columns[c].width);
            most = n > most ? n : most;
        }
    room(w, most * LINE, true);
    for (int c = 0; c < w->paper->n_columns; c++)
        if (w->columns[c].shown)
            cell(w, &w->columns[c], words_at(w, r, c, buf, sizeof buf), w->y);
    w->y -= most * LINE;
    for (int c = 0; c < w->paper->n_columns; c++) {
        const char *words = w->paper->folded[c] ? words_at(w, r, c, buf, sizeof buf) : "";
        if (!*words)
            continue;
        const char *heading = w->paper->columns[c].heading;
        char *told = base_format("%s%s", heading ? heading : "", words);
        line(w, FOLD, told, true);
        free(told);
    }
    draw_line(w->s, DRAW_FINE, SHEET_LEFT, w->y, SHEET_LEFT + w->width, w->y);
    w->y -= 0.5;
}

static void body(struct pages *w)
{
    const struct report_paper *p = w->paper;
    size_t within = 0;
    for (size_t i = 0; i < p->above.count; i++)
        line(w, 0, p->above.at[i], false);
    if (report_rows(p) > 0) {
        w->y -= 2;
        room(w, 4 * LINE, false);
        headings(w);
    }
    for (int r = 0; r < report_rows(p); r++) {
        if (within < p->within.count && p->within.at[within].row <= r)
            room(w, 5 * LINE, true);
        for (; within < p->within.count && p->within.at[within].row <= r; within++)
            heading(w, p->within.at[within].text);
        row(w, r);
    }
    for (; within < p->within.count; within++)
        heading(w, p->within.at[within].text);
    w->y -= 2;
    for (size_t i = 0; i < p->below.count; i++)
        line(w, 0, p->below.at[i], false);
}

static void foot(struct draw_sheet *s, double width, const char *number, const struct sheet_title *t,
                 int page, int pages)
{
    double y = SHEET_EDGE + FOOT - 5;
    char *left = base_format("%s, %s", number, t->job), *count = base_format("page %d of %d", page, pages);
    char *state = base_format("%s%s%s", t->standing, *t->date ? ", " : "", t->date);
    char *open = sheet_open_words(t);
    draw_line(s, DRAW_WIDE, SHEET_LEFT, y + 4, SHEET_LEFT + width, y + 4);
    draw_words(s, SHEET_LEFT, y, SHEET_LETTERS, DRAW_LEFT, width - 30, left);
    draw_words(s, SHEET_LEFT + width, y, SHEET_LETTERS, DRAW_RIGHT, 28, count);
    draw_words(s, SHEET_LEFT, y - 4, SHEET_LETTERS, DRAW_LEFT, width, state);
    draw_words(s, SHEET_LEFT, y - 8, SHEET_LETTERS, DRAW_LEFT, width, t->sums ? t->sums : "");
    draw_words(s, SHEET_LEFT, y - 12.5, SHEET_HEADING, DRAW_LEFT, width, open);
    free(left);
    free(count);
    free(state);
    free(open);
}

void sheet_pages(const struct report_paper *p, bool inches, const char *name, const char *title,
                 const struct sheet_title *t, struct sheet_book *out)
{
    *out = (struct sheet_book){0};
    struct pages w = {.paper = p, .book = out, .title = title, .inches = inches,
                      .columns = base_alloc((size_t)p->n_columns * sizeof *w.columns)};
    w.width = (w.inches ? 215.9 : 210) - SHEET_LEFT - SHEET_EDGE;
    char *number = base_format("%s-%s", t->number, name);
    lay_out(&w);
    next_page(&w, false);
    body(&w);
    for (size_t i = 0; i < out->at.count; i++)
        foot(&out->at.at[i], w.width, number, t, (int)i + 1, (int)out->at.count);
    out->title = base_format("%s %s, %s", number, title, t->job);
    free(number);
    free(w.columns);
}
