/* One file for a browser: papers as tables, drawings as they are, nothing fetched from anywhere. */

#include "report/words.h"

#include <stdlib.h>
#include <string.h>

static void escaped(struct base_text *out, const char *text)
{
    struct base_text seen = {0};
    base_text_add_visible(&seen, text, strlen(text), false);
    for (const char *at = base_text_get(&seen); *at; at++)
        if (*at == '<' || *at == '>' || *at == '&' || *at == '"')
            base_text_addf(out, "&#%d;", *at);
        else
            base_text_add_n(out, at, 1);
    base_text_done(&seen);
}

static void tagged(struct base_text *out, const char *tag, const char *text)
{
    base_text_addf(out, "<%s>", tag);
    escaped(out, text);
    base_text_addf(out, "</%s>\n", tag);
}

void report_html_begin(const char *title, const char *const *lines, int n, bool inches, struct base_text *out)
{
    base_text_add(out, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
                       "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; "
                       "style-src 'unsafe-inline'\">\n");
    tagged(out, "title", title);
    base_text_add(
        out, "<style>\nbody{font-family:sans-serif;margin:1em}\ntable{border-collapse:collapse}\n"
             "td,th{padding:.1em .6em;border-top:1px solid #999;text-align:left;vertical-align:top}\n"
             ".n{text-align:right}\n.w td{border:0;padding-top:.6em;font-weight:bold}\n.f "
             "td{border:0;padding-left:2em}\n.h{display:none}\n"
             "thead{display:table-header-group}\ntr{break-inside:avoid}\nsvg{max-width:100%;height:auto}\n"
             "section{break-before:page}\n.wide{page:wide}\n");
    /* a larger sheet is shrunk to the page: its line of 100 mm tells how far */
    base_text_addf(
        out,
        "@page{size:%s;margin:15mm 10mm 15mm 20mm}\n@page wide{size:%s;margin:0}\n"
        "@media print{body{font-size:9pt;margin:0}h1,h2{font-size:13pt}p{margin:.3em 0}td,th{padding:0 .5em}"
        ".h{display:table-row}.w{break-after:avoid}.wide svg{display:block;max-width:none;width:%s}nav,.wide "
        "h2{display:none}}\n"
        "</style>\n</head>\n<body>\n",
        inches ? "letter" : "A4", inches ? "17in 11in" : "A3 landscape",
        inches ? "17in;height:10.9in" : "420mm;height:296mm");
    tagged(out, "h1", title);
    for (int i = 0; i < n; i++)
        if (*lines[i])
            tagged(out, "p", lines[i]);
}

void report_html_contents(const char *const *ids, const char *const *titles, int n, struct base_text *out)
{
    base_text_add(out, "<nav><ul>\n");
    for (int i = 0; i < n; i++) {
        base_text_addf(out, "<li><a href=\"#%s\">", ids[i]);
        escaped(out, titles[i]);
        base_text_add(out, "</a></li>\n");
    }
    base_text_add(out, "</ul></nav>\n");
}

static int shown(const struct report_paper *p)
{
    int n = 0;
    for (int c = 0; c < p->n_columns; c++)
        n += p->columns[c].heading && !p->folded[c];
    return n;
}

static void spanning(const struct report_paper *p, const char *class, const char *heading, const char *text,
                     struct base_text *out)
{
    base_text_addf(out, "<tr class=\"%s\"><td colspan=\"%d\">", class, shown(p));
    escaped(out, heading);
    escaped(out, text);
    base_text_add(out, "</td></tr>\n");
}

static void row(const struct report_paper *p, int r, struct base_text *out)
{
    char buf[400];
    base_text_add(out, "<tr>");
    for (int c = 0; c < p->n_columns; c++) {
        if (!p->columns[c].heading || p->folded[c])
            continue;
        base_text_add(out, p->columns[c].right ? "<td class=\"n\">" : "<td>");
        escaped(out, report_cell_words(p, r, c, buf, sizeof buf));
        base_text_add(out, "</td>");
    }
    base_text_add(out, "</tr>\n");
    for (int c = 0; c < p->n_columns; c++) {
        const char *words = p->folded[c] ? report_cell_words(p, r, c, buf, sizeof buf) : "";
        if (*words)
            spanning(p, "f", p->columns[c].heading ? p->columns[c].heading : "", words, out);
    }
}

static void table(const struct report_paper *p, const char *head, struct base_text *out)
{
    size_t within = 0;
    base_text_add(out, "<table>\n<thead>");
    spanning(p, "h", "", head, out);
    base_text_add(out, "<tr>");
    for (int c = 0; c < p->n_columns; c++)
        if (p->columns[c].heading && !p->folded[c]) {
            base_text_add(out, p->columns[c].right ? "<th class=\"n\">" : "<th>");
            escaped(out, p->columns[c].heading);
            base_text_add(out, "</th>");
        }
    base_text_add(out, "</tr></thead>\n<tbody>\n");
    for (int r = 0; r < report_rows(p); r++) {
        for (; within < p->within.count && p->within.at[within].row <= r; within++)
            spanning(p, "w", "", p->within.at[within].text, out);
        row(p, r, out);
    }
    base_text_add(out, "</tbody>\n</table>\n");
}

void report_html(const struct report_paper *p, const char *head, const char *id, const char *title,
                 struct base_text *out)
{
    base_text_addf(out, "<section id=\"%s\">\n", id);
    tagged(out, "h2", title);
    for (size_t i = 0; i < p->above.count; i++)
        tagged(out, "p", p->above.at[i]);
    if (report_rows(p))
        table(p, head, out);
    for (size_t i = 0; i < p->below.count; i++)
        tagged(out, "p", p->below.at[i]);
    base_text_add(out, "</section>\n");
}

void report_html_drawing(const char *svg, const char *id, const char *title, struct base_text *out)
{
    if (*id)
        base_text_addf(out, "<section class=\"wide\" id=\"%s\">\n", id);
    else
        base_text_add(out, "<section class=\"wide\">\n");
    tagged(out, "h2", title);
    base_text_add(out, svg);
    base_text_add(out, "</section>\n");
}

void report_html_end(struct base_text *out) { base_text_add(out, "</body>\n</html>\n"); }

/* ---- pages of text ------------------------------------------------------------------------- */

/* Where each page begins: after as many lines as have ROOM, or at the last place before that where one may
   end. */
static void page_starts(const char *text, const struct words_breaks *breaks, int room,
                        struct words_breaks *starts)
{
    size_t at = 0, next = 0, last = 0;
    base_vec_push(starts, 0);
    for (int lines = 0; text[at]; lines++) {
        for (; next < breaks->count && breaks->at[next] <= at; next++)
            last = breaks->at[next];
        if (lines == room) {
            at = last > starts->at[starts->count - 1] ? last : at;
            base_vec_push(starts, at);
            lines = 0;
        }
        at += strcspn(text + at, "\n") + 1;
    }
}

void report_paged(const struct report_paper *p, const char *head, int lines, struct base_text *out)
{
    struct base_text whole = {0};
    struct words_breaks breaks = {0}, starts = {0};
    words_text(p, &whole, &breaks);
    page_starts(base_text_get(&whole), &breaks, lines - 3, &starts);
    base_vec_push(&starts, whole.length);
    for (size_t i = 0; i + 1 < starts.count; i++) {
        size_t from = starts.at[i];
        from += i && whole.data[from] == '\n'; /* what parts a heading from the row before it */
        base_text_addf(out, "%s%s, page %zu of %zu\n\n", i ? "\f" : "", head, i + 1, starts.count - 1);
        base_text_add_n(out, base_text_get(&whole) + from, starts.at[i + 1] - from);
    }
    base_vec_done(&breaks);
    base_vec_done(&starts);
    base_text_done(&whole);
}
