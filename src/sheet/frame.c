/* The sheet itself: its size, frame and title block. */

#include "sheet/inside.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* Upright A4 is left to lists; a title block is as wide as its frame. */
static const struct sheet_size metric[] = {
    {"A3", 420, 297}, {"A2", 594, 420}, {"A1", 841, 594}, {"A0", 1189, 841}};
static const struct sheet_size inch[] = {
    {"B", 431.8, 279.4}, {"C", 558.8, 431.8}, {"D", 863.6, 558.8}, {"E", 1117.6, 863.6}};
static const double metric_scales[] = {1, 0.5, 0.2, 0.1}, inch_scales[] = {1, 0.5, 0.25, 0.125};

bool sheet_inch_paper(const struct dieset *d)
{
    int job = dieset_item_of_kind(d, DIESET_JOB);
    const char *asked = job < 0 ? "" : dieset_text(d, job, "sheets");
    return strcmp(asked, "ASME Y14.1") == 0 ||
           (strcmp(asked, "ISO 216") != 0 && unit_is_inch(dieset_system(d)));
}

bool sheet_choose(const struct dieset *d, int largest, double wide, double high, double fixed_wide,
                  double fixed_high, const struct sheet_size **size, double *scale)
{
    const struct sheet_size *sizes = sheet_inch_paper(d) ? inch : metric;
    const double *scales = unit_is_inch(dieset_system(d)) ? inch_scales : metric_scales;
    for (size_t k = 0; k < COUNT_OF(metric_scales); k++)
        for (int i = 0; i < largest; i++)
            if (wide * scales[k] + fixed_wide + SHEET_LEFT + SHEET_EDGE <= sizes[i].width &&
                high * scales[k] + fixed_high + 2 * SHEET_EDGE <= sizes[i].height) {
                *size = &sizes[i];
                *scale = scales[k];
                return true;
            }
    return false;
}

const char *sheet_paper_name(const struct draw_sheet *s)
{
    static const struct sheet_size upright[] = {{"A4", 210, 297}, {"letter", 215.9, 279.4}};
    for (size_t i = 0; i < COUNT_OF(metric); i++)
        if (fabs(metric[i].width - s->width) < 0.5 && fabs(metric[i].height - s->height) < 0.5)
            return metric[i].name;
    for (size_t i = 0; i < COUNT_OF(inch); i++)
        if (fabs(inch[i].width - s->width) < 0.5)
            return inch[i].name;
    return upright[fabs(s->width - upright[0].width) > 1].name;
}

const char *sheet_scale_text(double scale, char *buf, size_t size)
{
    snprintf(buf, size, "1:%.0f", 1 / scale);
    return buf;
}

/* ---- frame -------------------------------------------------------------------------------- */

/* Fields of 50 mm from the middle: letters down, figures across; their borders, their names in the rim. What
 * is left beside the outermost ones is theirs, where it is less than half of one. */
static void field_names(const struct sheet_page *p, bool across)
{
    double whole = across ? p->size->width : p->size->height, from = across ? SHEET_LEFT : SHEET_EDGE,
           to = whole - SHEET_EDGE;
    int half = (int)lround((whole / 2 - SHEET_EDGE) / 50), n = 2 * half;
    for (int i = 0; i < n; i++) {
        double a = i ? whole / 2 + (i - half) * 50 : from,
               b = i < n - 1 ? whole / 2 + (i - half + 1) * 50 : to;
        char name[16];
        if (across)
            snprintf(name, sizeof name, "%d", i + 1);
        else
            report_letter(n - 1 - i, name, sizeof name);
        for (int side = 0; side < 2; side++) {
            double rim = side ? (across ? p->size->height : p->size->width) - SHEET_EDGE
                              : (across ? SHEET_EDGE : SHEET_LEFT) - 5;
            if (across)
                draw_words(p->s, (a + b) / 2, rim + 1.25, SHEET_LETTERS, DRAW_MIDDLE, 0, name);
            else
                draw_words(p->s, rim + 2.5, (a + b) / 2 - 1.25, SHEET_LETTERS, DRAW_MIDDLE, 0, name);
            if (b < to - 1e-6 && across)
                draw_line(p->s, DRAW_NARROW, b, rim, b, rim + 5);
            else if (b < to - 1e-6)
                draw_line(p->s, DRAW_NARROW, rim, b, rim + 5, b);
        }
    }
}

/* From five outside to five inside of the frame, in the middle of each side. */
static void centring_marks(const struct sheet_page *p)
{
    double w = p->size->width, h = p->size->height;
    draw_line(p->s, DRAW_FRAME, w / 2, SHEET_EDGE - 5, w / 2, SHEET_EDGE);
    draw_line(p->s, DRAW_FRAME, w / 2, h - SHEET_EDGE, w / 2, h - SHEET_EDGE + 5);
    draw_line(p->s, DRAW_FRAME, SHEET_LEFT - 5, h / 2, SHEET_LEFT + 5, h / 2);
    draw_line(p->s, DRAW_FRAME, w - SHEET_EDGE, h / 2, w - SHEET_EDGE + 5, h / 2);
}

void sheet_frame(struct sheet_page *p)
{
    double w = p->size->width, h = p->size->height;
    draw_rectangle(p->s, DRAW_NARROW, SHEET_LEFT - 5, SHEET_EDGE - 5, w - SHEET_EDGE + 5, h - SHEET_EDGE + 5);
    draw_rectangle(p->s, DRAW_FRAME, SHEET_LEFT, SHEET_EDGE, w - SHEET_EDGE, h - SHEET_EDGE);
    field_names(p, true);
    field_names(p, false);
    centring_marks(p);
}

void sheet_begin(struct sheet_book *b, struct sheet_page *p)
{
    struct draw_sheet s;
    draw_begin(&s, p->size->width, p->size->height);
    base_vec_push(&b->at, s);
    p->s = &b->at.at[b->at.count - 1];
    sheet_frame(p);
}

void sheet_done(struct sheet_book *b)
{
    for (size_t i = 0; i < b->at.count; i++)
        draw_done(&b->at.at[i]);
    base_vec_done(&b->at);
    free(b->title);
    *b = (struct sheet_book){0};
}

/* ---- title block ------------------------------------------------------------------------------ */

struct cell { const char *caption, *text; double wide; };

static void cells(struct draw_sheet *s, const struct cell *c, int n, double x, double y, double high)
{
    for (int i = 0; i < n; i++) {
        if (i)
            draw_line(s, DRAW_NARROW, x, y, x, y + high);
        draw_words(s, x + 1, y + high - 3, SHEET_CAPTION, DRAW_LEFT, c[i].wide - 2, c[i].caption);
        draw_words(s, x + 1, y + 2.2, SHEET_HEADING, DRAW_LEFT, c[i].wide - 2, c[i].text ? c[i].text : "");
        x += c[i].wide;
    }
}

static char *open_words(const struct sheet_title *t)
{
    if (!t->faults && !t->cautions)
        return base_format("%s", t->standing);
    return base_format("%s; OPEN: %d fault%s, %d caution%s", t->standing, t->faults,
                       t->faults == 1 ? "" : "s", t->cautions, t->cautions == 1 ? "" : "s");
}

static const char *or_job(struct dieset *d, const char *property, const char *other)
{
    int job = dieset_item_of_kind(d, DIESET_JOB);
    const char *text = job < 0 ? "" : dieset_text(d, job, property);
    return *text ? text : other ? other : "";
}

static void title_block(struct draw_sheet *s, const struct sheet_page *p, struct dieset *d,
                        const struct sheet_title *t, int sheet, int sheets)
{
    double x = s->width - SHEET_EDGE - SHEET_BLOCK_WIDE, y = SHEET_EDGE, row = SHEET_BLOCK_HIGH / 3.0;
    char scale[16], count[24];
    bool inches = unit_is_inch(dieset_system(d));
    char *kind = base_format("%s, %s, %s, %s", p->kind, p->size->name,
                             sheet_scale_text(p->scale, scale, sizeof scale), inches ? "in" : "mm");
    char *status = open_words(t), *title = base_format("%s, set \"%s\"", p->title, t->job);
    snprintf(count, sizeof count, "%d/%d", sheet, sheets);
    draw_blank(s, x, y, x + SHEET_BLOCK_WIDE, y + SHEET_BLOCK_HIGH);
    const char *department = or_job(d, "department", NULL), *owner = or_job(d, "owner", NULL);
    char *whose = base_format("%s%s%s", owner, *owner && *department ? ", " : "", department);
    const struct cell top[] = {{"Legal owner, department", whose, 50},
                               {"Customer", or_job(d, "customer", NULL), 50},
                               {"Created by", or_job(d, "made_by", t->made_by), 40},
                               {"Checked by", or_job(d, "checked_by", t->checked_by), 40}};
    const struct cell middle[] = {{"Part made by the set, its drawing", or_job(d, "part", NULL), 50},
                                  {"Document type, sheet, scale, unit", kind, 50},
                                  {"Document status", status, 80}};
    const struct cell foot[] = {{"Title, supplementary title", title, 72},
                                {"Identification number", p->number, 44},
                                {"Rev.", *t->revision ? t->revision : "\u2013", 12},
                                {"Date of issue", *t->date ? t->date : "not issued", 32},
                                {"Sheet", count, 20}};
    cells(s, top, COUNT_OF(top), x, y + 2 * row, row);
    cells(s, middle, COUNT_OF(middle), x, y + row, row);
    cells(s, foot, COUNT_OF(foot), x, y, row);
    for (int i = 1; i < 3; i++)
        draw_line(s, DRAW_NARROW, x, y + i * row, x + SHEET_BLOCK_WIDE, y + i * row);
    draw_rectangle(s, DRAW_FRAME, x, y, x + SHEET_BLOCK_WIDE, y + SHEET_BLOCK_HIGH);
    free(whose);
    free(kind);
    free(status);
    free(title);
}

char *sheet_open_words(const struct sheet_title *t)
{
    return t->faults ? base_format("NOT TO BE MADE BY: %d FAULT%s OPEN", t->faults, t->faults == 1 ? "" : "S")
           : t->cautions ? base_format("%d caution%s open", t->cautions, t->cautions == 1 ? "" : "s")
                         : base_copy("");
}

/* Above everything, so that nobody makes by a sheet whose job has a fault. */
static void warning(struct draw_sheet *s, const struct sheet_title *t)
{
    if (!t->faults)
        return;
    char *words = sheet_open_words(t);
    double wide = draw_width(words, 5), x = s->width - SHEET_EDGE - SHEET_BLOCK_WIDE + 2,
           y = SHEET_EDGE + SHEET_BLOCK_HIGH + 3;
    draw_blank(s, x, y - 2, x + wide + 4, y + 7);
    draw_rectangle(s, DRAW_FRAME, x, y - 2, x + wide + 4, y + 7);
    draw_words(s, x + 2, y, 5, DRAW_LEFT, 0, words);
    free(words);
}

void sheet_title_blocks(struct sheet_book *b, const struct sheet_page *p, struct dieset *d,
                        const struct sheet_title *t)
{
    for (size_t i = 0; i < b->at.count; i++) {
        title_block(&b->at.at[i], p, d, t, (int)i + 1, (int)b->at.count);
        warning(&b->at.at[i], t);
    }
    b->title = base_format("%s %s, %s", p->number, p->title, t->job);
}
