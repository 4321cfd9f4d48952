/* The stack as a matrix of plates and groups.
 *
 * Which plates an item concerns follows from its holes and from the plates that it names (head in, thread in,
 * seat in, runs in): between the topmost and the lowest of them it passes. A hole with a capital letter is a
 * head's or a seat's.
 */

#include "view/matrix.h"

#include "view/frame.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct span { int top, bottom; }; /* layers, counted from the top; top > bottom: none */

struct sheet {
    struct dieset *d;
    enum dieset_state state;
    struct dieset_layer layers[VIEW_ROWS / 2];
    int n_layers;
    int narrowest; /* plate, -1 */
};

/* ---- rows ---------------------------------------------------------------------- */

/* As much of TEXT as SIZE holds, never half a character. */
static void copy_title(char *buf, size_t size, const char *text)
{
    size_t n = base_char_fit(text, size - 1);
    memcpy(buf, text, n);
    buf[n] = '\0';
}

static void add_row(struct view_matrix *m, enum view_row_what what, int plate, const char *title,
                    double height, double top)
{
    if (m->n_rows == VIEW_ROWS)
        return;
    struct view_row *r = &m->rows[m->n_rows++];
    *r = (struct view_row){.what = what, .plate = plate, .height = height, .top = top};
    copy_title(r->title, sizeof r->title, title);
}

/* What stands between two layers: the room, and on the die plate the strip. */
static void add_between(const struct sheet *sh, struct view_matrix *m, const struct dieset_layer *over,
                        const struct dieset_layer *under)
{
    struct dieset_strip strip = dieset_strip(sh->d, sh->state, 0);
    bool on_die = under->plate == dieset_die_plate(sh->d) && strip.thickness > 0;
    double floor = under->top + (on_die ? strip.thickness : 0);
    if (over->bottom - floor > 1e-6)
        add_row(m, VIEW_ROW_GAP, -1, "gap", over->bottom - floor, over->bottom);
    if (on_die)
        add_row(m, VIEW_ROW_STRIP, -1, "strip", strip.thickness, floor);
}

static void add_rows(const struct sheet *sh, struct view_matrix *m)
{
    for (int i = 0; i < sh->n_layers; i++) {
        const struct dieset_layer *l = &sh->layers[i];
        if (i > 0)
            add_between(sh, m, l - 1, l);
        add_row(m, VIEW_ROW_PLATE, l->plate, dieset_item_title(sh->d, l->plate), l->thickness, l->top);
    }
}

/* ---- which plates an item concerns ------------------------------------------------ */

static int layer_of(const struct sheet *sh, int plate)
{
    for (int i = 0; i < sh->n_layers; i++)
        if (sh->layers[i].plate == plate)
            return i;
    return -1;
}

static void widen(struct span *s, int layer)
{
    if (layer < 0)
        return;
    if (s->top > s->bottom)
        *s = (struct span){layer, layer};
    s->top = layer < s->top ? layer : s->top;
    s->bottom = layer > s->bottom ? layer : s->bottom;
}

/* Calls VISIT with the layer of every plate that ITEM names. */
typedef void layer_fn(void *arg, int layer);
static void each_named(const struct sheet *sh, int item, layer_fn *visit, void *arg)
{
    int first = 0, n = dieset_item_quantities(sh->d, item, &first);
    for (int q = first; q < first + n; q++) {
        if (dieset_quantity(sh->d, q)->type.sort != HANDBOOK_ITEM)
            continue;
        struct formula_value v = dieset_value(sh->d, q, sh->state);
        if (!v.error)
            visit(arg, layer_of(sh, (int)v.number));
    }
}

static void widen_visit(void *arg, int layer) { widen(arg, layer); }

static struct span span_of(const struct sheet *sh, int item)
{
    struct span s = {0, -1};
    each_named(sh, item, widen_visit, &s);
    for (int l = 0; l < sh->n_layers; l++) {
        int first;
        if (dieset_item_holes(sh->d, sh->layers[l].plate, item, &first))
            widen(&s, l);
    }
    return s;
}

struct named_search { int layer; bool found; };
static void named_visit(void *arg, int layer)
{
    struct named_search *n = arg;
    n->found = n->found || layer == n->layer;
}

static bool names_layer(const struct sheet *sh, int item, int layer)
{
    struct named_search n = {layer, false};
    each_named(sh, item, named_visit, &n);
    return n.found;
}

/* ---- columns ------------------------------------------------------------------------ */

static int kind_letter(const struct handbook_kind *k)
{
    for (int i = 0; i < k->n_holes && !k->letter; i++)
        if (k->holes[i].letter)
            return letter_small(k->holes[i].letter);
    return letter_small(k->letter);
}

static bool kind_fastens(const struct handbook_kind *k)
{
    for (int i = 0; i < k->n_holes; i++)
        if (k->holes[i].fastens)
            return true;
    return false;
}

static const struct handbook_kind *item_kind(const struct dieset *d, int item)
{
    int kind = dieset_item_kind(d, item);
    return kind < 0 ? NULL : handbook_kind(dieset_handbook(d), kind);
}

/* Two fastening groups of one kind have business in the same plate; KNOWN: of the kinds asked for before, 1
   or, they do not, -1. */
static bool kind_meets(const struct sheet *sh, int kind, signed char *known)
{
    int taken[VIEW_ROWS / 2] = {0};
    if (known[kind])
        return known[kind] > 0;
    known[kind] = 1;
    for (int i = 0; i < dieset_item_count(sh->d); i++) {
        if (dieset_item_kind(sh->d, i) != kind)
            continue;
        struct span s = span_of(sh, i);
        for (int l = s.top; l <= s.bottom; l++)
            if (taken[l]++)
                return true;
    }
    known[kind] = -1;
    return false;
}

/* All its holes lie off the narrowest plate, as guide posts do. */
static bool item_outer(const struct sheet *sh, int item)
{
    if (sh->narrowest < 0)
        return false;
    struct dieset_plate p = dieset_plate(sh->d, sh->narrowest, sh->state);
    bool any = false;
    for (int l = 0; l < sh->n_layers; l++) {
        int first, n = dieset_item_holes(sh->d, sh->layers[l].plate, item, &first);
        for (int i = first; i < first + n; i++) {
            struct dieset_hole h;
            dieset_hole(sh->d, i, sh->state, &h);
            any = true;
            if (h.x > p.left && h.x < p.right && h.y > p.front && h.y < p.back)
                return false;
        }
    }
    return any;
}

static void add_columns(const struct sheet *sh, struct view_matrix *m)
{
    signed char *meets = base_alloc((size_t)handbook_kind_count(dieset_handbook(sh->d)) + 1);
    for (int i = 0; i < dieset_item_count(sh->d) && m->n_columns < VIEW_COLUMNS; i++) {
        const struct handbook_kind *k = item_kind(sh->d, i);
        if (!k || k->n_holes == 0 || !kind_letter(k))
            continue;
        int kind = dieset_item_kind(sh->d, i);
        bool there = false;
        for (int c = 0; c < m->n_columns; c++)
            there = there || dieset_item_kind(sh->d, m->columns[c].item) == kind;
        if (there && !(kind_fastens(k) && kind_meets(sh, kind, meets)))
            continue;
        m->columns[m->n_columns++] = (struct view_column){(char)kind_letter(k), i, item_outer(sh, i)};
    }
    free(meets);
}

static bool column_has(const struct sheet *sh, const struct view_matrix *m, int column, int item)
{
    int kind = dieset_item_kind(sh->d, m->columns[column].item), columns = 0;
    for (int c = 0; c < m->n_columns; c++)
        columns += dieset_item_kind(sh->d, m->columns[c].item) == kind;
    return columns == 1 ? dieset_item_kind(sh->d, item) == kind : item == m->columns[column].item;
}

/* ---- cells -------------------------------------------------------------------------- */

enum { PASSES, HOLDS, HEAD };

/* Between its ends a group passes through plain holes; those that fasten, and those with a letter of their
   own, show. */
static int hole_class(const struct dieset_hole *h, char letter, bool between)
{
    if (letter_is_caps(h->letter))
        return HEAD;
    if (between && h->through && h->letter == letter && !(h->spec && h->spec->fastens))
        return PASSES;
    return strncmp(h->operation, "clear", 5) == 0 ? PASSES : HOLDS;
}

static char class_char(int class, char letter)
{
    return class == HEAD ? (char)letter_caps(letter) : class == HOLDS ? (char)letter_small(letter) : '|';
}

/* The lines of a plate N lines high that a hole reaches the middle of; the line of its own middle when
   none. */
static void hole_lines(const struct dieset_hole *h, double thickness, int n, int *first, int *last)
{
    double line = thickness / n;
    double from = (thickness - h->high) / line, to = (thickness - h->low) / line;
    if (!isfinite(from) || !isfinite(to)) { /* unknown depth: right through */
        from = 0;
        to = n;
    }
    *first = (int)ceil(fmin(fmax(from, 0), n) - 0.5);
    *last = (int)ceil(fmin(fmax(to, 0), n) - 0.5) - 1;
    if (*last < *first)
        *first = *last = (int)fmin(fmax((from + to) / 2, 0), n - 1);
}

bool matrix_lines(struct dieset *d, enum dieset_state s, const struct view_row *row, int item, char letter,
                  bool between, int n, char *out)
{
    bool any = false;
    int first_hole, many = dieset_item_holes(d, row->plate, item, &first_hole);
    for (int class = PASSES; class <= HEAD; class++) {
        for (int i = first_hole; i < first_hole + many; i++) {
            struct dieset_hole h;
            dieset_hole(d, i, s, &h);
            if (hole_class(&h, letter, between) != class)
                continue;
            int first, last;
            hole_lines(&h, row->height, n, &first, &last);
            char ch = class_char(class, h.letter ? h.letter : letter);
            for (int line = first; line <= last; line++)
                out[line] = ch;
            any = true;
        }
    }
    return any;
}

static int weight(char ch) { return ch == 0 ? 0 : ch == '|' ? 1 : letter_is_caps(ch) ? 3 : 2; }

static void offer(struct view_matrix *m, int row, int column, char ch, int item)
{
    if (weight(ch) <= weight(m->cells[row][column]))
        return;
    m->cells[row][column] = ch;
    m->items[row][column] = (short)item;
}

static void fill_item(const struct sheet *sh, struct view_matrix *m, int column, int item)
{
    struct span s = span_of(sh, item);
    char letter = m->columns[column].letter;
    int layer = -1; /* of the plate row last passed */
    for (int r = 0; r < m->n_rows; r++) {
        const struct view_row *row = &m->rows[r];
        char ch = 0;
        if (row->what == VIEW_ROW_PLATE) {
            layer++;
            bool between = layer > s.top && layer < s.bottom;
            if (!matrix_lines(sh->d, sh->state, row, item, letter, between, 1, &ch) &&
                names_layer(sh, item, layer))
                ch = letter;
            else if (!ch && between)
                ch = '|';
        } else if (layer >= s.top && layer < s.bottom) {
            ch = '|';
        }
        offer(m, r, column, ch, item);
    }
}

/* ---- the public calls ------------------------------------------------------------------ */

static void find_narrowest(struct sheet *sh)
{
    double least = INFINITY, most = 0;
    sh->narrowest = -1;
    for (int i = 0; i < sh->n_layers; i++) {
        double length = dieset_plate(sh->d, sh->layers[i].plate, sh->state).length;
        if (length < least) {
            least = length;
            sh->narrowest = sh->layers[i].plate;
        }
        most = fmax(most, length);
    }
    if (!(least < most))
        sh->narrowest = -1;
}

void view_matrix(struct dieset *d, enum dieset_state s, struct view_matrix *out)
{
    *out = (struct view_matrix){0};
    memset(out->items, 0xff, sizeof out->items);
    struct sheet sh = {.d = d, .state = s};
    sh.n_layers = dieset_stack(d, s, sh.layers, COUNT_OF(sh.layers));
    find_narrowest(&sh);
    add_rows(&sh, out);
    add_columns(&sh, out);
    for (int c = 0; c < out->n_columns; c++)
        for (int i = 0; i < dieset_item_count(d); i++)
            if (column_has(&sh, out, c, i))
                fill_item(&sh, out, c, i);
}
