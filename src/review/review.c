/* Reading remarks, waivers and revisions out of a die set, and what may be done with them. */

#include "diewright/review.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

static const char *line(const struct dieset *d, int item, const char *path)
{
    const char *text = dieset_entry(d, item, path);
    return text ? text : "";
}

static int of_kind(const struct dieset *d, const char *kind, const int **items)
{
    return dieset_items_of_kind(d, handbook_find_kind(dieset_handbook(d), kind), items);
}

/* ---- lists ---- */

static struct review_remark remark_at(const struct dieset *d, int i)
{
    const char *answers = line(d, i, "answers");
    bool stands = *answers && dieset_find_item(d, answers) >= 0;
    return (struct review_remark){
        i, dieset_item_name(d, i), line(d, i, "item"), line(d, i, "finding"), stands ? answers : "",
        line(d, i, "by"), line(d, i, "on"), line(d, i, "says"), line(d, i, "done"), line(d, i, "done_by")};
}

int review_remarks(const struct dieset *d, struct review_remark *out, int room)
{
    const int *items;
    int n = of_kind(d, DIESET_REMARK, &items);
    for (int i = 0; i < n && i < room; i++)
        out[i] = remark_at(d, items[i]);
    return n;
}

static const struct finding *standing(const struct findings *f, const char *key)
{
    const struct finding *list;
    int n = findings_list(f, &list);
    for (int i = 0; i < n; i++)
        if (strcmp(list[i].key, key) == 0)
            return &list[i];
    return NULL;
}

static struct review_waiver waiver_at(const struct findings *f, int i)
{
    const struct dieset *d = findings_dieset(f);
    struct review_waiver w = {i,
                              dieset_item_name(d, i),
                              line(d, i, "finding"),
                              line(d, i, "grade"),
                              line(d, i, "states"),
                              line(d, i, "margin"),
                              line(d, i, "by"),
                              line(d, i, "on"),
                              line(d, i, "says"),
                              NULL,
                              false};
    w.stands = standing(f, w.finding);
    w.holds = w.stands && w.stands->waiver != NULL;
    return w;
}

int review_waivers(const struct findings *f, struct review_waiver *out, int room)
{
    const struct dieset *d = findings_dieset(f);
    const int *items;
    int n = of_kind(d, DIESET_WAIVER, &items);
    for (int i = 0; i < n && i < room; i++)
        out[i] = waiver_at(f, items[i]);
    return n;
}

static struct review_revision revision_at(const struct dieset *d, int i)
{
    return (struct review_revision){i,
                                    dieset_item_name(d, i),
                                    line(d, i, "letter"),
                                    line(d, i, "by"),
                                    line(d, i, "on"),
                                    line(d, i, "says"),
                                    line(d, i, "sum"),
                                    line(d, i, "handbook"),
                                    {line(d, i, review_verdict_lines[0]), line(d, i, review_verdict_lines[1]),
                                     line(d, i, review_verdict_lines[2])},
                                    line(d, i, "withdrawn"),
                                    line(d, i, "withdrawn_by"),
                                    line(d, i, "because"),
                                    line(d, i, "made_by"),
                                    line(d, i, "ordered"),
                                    line(d, i, "ordered_by")};
}

int review_revisions(const struct dieset *d, struct review_revision *out, int room)
{
    const int *items;
    int n = of_kind(d, DIESET_REVISION, &items);
    for (int i = 0; i < n && i < room; i++)
        out[i] = revision_at(d, items[i]);
    return n;
}

/* "die_plate" and "die_plate.thickness" speak of the item die_plate. */
static bool speaks_of(const char *subject, const char *item)
{
    size_t n = strlen(item);
    return strncmp(subject, item, n) == 0 && (subject[n] == '\0' || subject[n] == '.');
}

int review_remarks_of(const struct dieset *d, const char *key, int item)
{
    const int *items;
    int n = 0, remarks = of_kind(d, DIESET_REMARK, &items);
    for (int i = 0; i < remarks; i++)
        n += key ? strcmp(line(d, items[i], "finding"), key) == 0
                 : speaks_of(line(d, items[i], "item"), dieset_item_name(d, item));
    return n;
}

int review_open_remarks(const struct dieset *d, const char *key, const char *item)
{
    const int *items;
    int n = 0, remarks = of_kind(d, DIESET_REMARK, &items);
    for (int i = 0; i < remarks; i++) {
        struct review_remark r = remark_at(d, items[i]);
        if (*r.answers || *r.done)
            continue;
        n += key ? strcmp(r.finding, key) == 0 : !item || speaks_of(r.on_item, item);
    }
    return n;
}

void review_open_words(const struct dieset *d, struct base_text *out)
{
    const int *items;
    int remarks = of_kind(d, DIESET_REMARK, &items), open = review_open_remarks(d, NULL, NULL), told = 0;
    if (open)
        base_text_addf(out, "%d remark%s open: ", open, open == 1 ? " is" : "s are");
    for (int i = 0; i < remarks; i++) {
        struct review_remark r = remark_at(d, items[i]);
        if (!*r.answers && !*r.done)
            base_text_addf(out, "%s%s on %s", told++ ? ", " : "", r.name, *r.finding ? r.finding : r.on_item);
    }
    if (open)
        base_text_add(out, ".");
}

int review_waiver_of(const struct dieset *d, const char *key)
{
    const int *items;
    int n = of_kind(d, DIESET_WAIVER, &items);
    for (int i = 0; i < n; i++)
        if (strcmp(line(d, items[i], "finding"), key) == 0)
            return items[i];
    return -1;
}

const char *review_margin(const struct review_waiver *w, char *buf, size_t size)
{
    char *unit;
    double margin = strtod(w->margin, &unit);
    *buf = '\0';
    if (unit != w->margin)
        snprintf(buf, size, "%.4g%s", margin, unit);
    return buf;
}

bool review_lapsed(const struct findings *f, const struct finding *x, struct base_text *out)
{
    const struct dieset *d = findings_dieset(f);
    int item = x->waiver ? -1 : review_waiver_of(d, x->key);
    char margin[60];
    if (item < 0)
        return false;
    const struct review_waiver w = waiver_at(f, item);
    base_text_addf(out, "open again: waived by %s on %.10s", *w.by ? w.by : "somebody", w.when);
    if (*w.margin)
        base_text_addf(out, " at a margin of %s", review_margin(&w, margin, sizeof margin));
    else
        base_text_addf(out, " as a %s, %s", w.grade, w.states);
    if (*w.says)
        base_text_addf(out, " (%s)", w.says);
    return true;
}

/* ---- letters ---- */

int review_compare_letters(const char *a, const char *b)
{
    size_t n = strlen(a), m = strlen(b);
    return n != m ? (n > m) - (n < m) : strcmp(a, b);
}

enum which { IN_FORCE, ORDERED, WITHDRAWN, ALL };

static bool latest_of(const struct dieset *d, enum which which, struct review_revision *out)
{
    const int *items;
    int n = of_kind(d, DIESET_REVISION, &items);
    bool any = false;
    for (int i = 0; i < n; i++) {
        struct review_revision r = revision_at(d, items[i]);
        bool withdrawn = *r.withdrawn != '\0', ordered = *r.ordered != '\0';
        if (which == ORDERED ? !ordered : which != ALL && (which == WITHDRAWN) != withdrawn)
            continue;
        if (!any || review_compare_letters(r.letter, out->letter) > 0)
            *out = r;
        any = true;
    }
    return any;
}

bool review_latest(const struct dieset *d, struct review_revision *out)
{
    return latest_of(d, IN_FORCE, out);
}

bool review_ordered(const struct dieset *d, struct review_revision *out)
{
    return latest_of(d, ORDERED, out);
}

bool review_withdrawn(const struct dieset *d, struct review_revision *out)
{
    struct review_revision latest;
    return latest_of(d, WITHDRAWN, out) &&
           (!review_latest(d, &latest) || review_compare_letters(out->letter, latest.letter) > 0);
}

bool review_find(const struct dieset *d, const char *letter, struct review_revision *out)
{
    const int *items;
    int n = of_kind(d, DIESET_REVISION, &items);
    for (int i = 0; i < n; i++) {
        *out = revision_at(d, items[i]);
        if (strcasecmp(out->letter, letter) == 0)
            return true;
    }
    return false;
}

/* Letters that are easily read as figures or as crosses are passed over. */
static const char letters[] = "ABCDEFGHJKLMNPRTUVWY";

/* The latest letter that was ever given; "": none. */
static const char *last_given(const struct dieset *d, const char *given, char buf[REVIEW_LETTER])
{
    struct review_revision latest;
    bool known = latest_of(d, ALL, &latest) && (!*given || review_compare_letters(latest.letter, given) > 0);
    snprintf(buf, REVIEW_LETTER, "%s", known ? latest.letter : given);
    return buf;
}

const char *review_next_letter(const struct dieset *d, const char *given, char buf[REVIEW_LETTER])
{
    if (!*last_given(d, given, buf))
        return strcpy(buf, "A");
    for (size_t at = strlen(buf); at-- > 0;) {
        const char *next = letters;
        while (*next && *next <= buf[at])
            next++;
        buf[at] = *next ? *next : 'A';
        if (*next)
            return buf;
    }
    size_t n = strlen(buf); /* Y -> AA */
    if (n + 1 < REVIEW_LETTER)
        memset(buf, 'A', n + 1);
    return buf;
}

static enum base_err refuse_given(const struct dieset *d, const char *given, const char *last,
                                  struct base_diag *why)
{
    char next[REVIEW_LETTER];
    struct review_revision r;
    review_next_letter(d, given, next);
    if (!review_find(d, last, &r))
        return base_fail(
            why, BASE_REFUSED,
            "Revision %s was given once in this file: no letter is given again, the next is one such as %s.",
            last, next);
    return base_fail(why, BASE_REFUSED,
                     "Revision %s was issued on %.10s%s%.10s: the next comes after it, such as %s.", last,
                     r.when, *r.withdrawn ? " and withdrawn on " : "", r.withdrawn, next);
}

enum base_err review_letter(const struct dieset *d, const char *given, const char *letter,
                            char out[REVIEW_LETTER], struct base_diag *why)
{
    size_t n = strlen(letter);
    char next[REVIEW_LETTER], last[REVIEW_LETTER];
    for (size_t i = 0; i < n; i++)
        if (!isalpha((unsigned char)letter[i]) || n >= REVIEW_LETTER)
            return base_fail(why, BASE_REFUSED,
                             "\"%.40s\" is no revision: it is one or two letters, such as %s.", letter,
                             review_next_letter(d, given, next));
    if (!n)
        return base_fail(why, BASE_REFUSED, "A revision has a letter, such as %s.",
                         review_next_letter(d, given, next));
    for (size_t i = 0; i <= n; i++)
        out[i] = (char)toupper((unsigned char)letter[i]);
    if (*last_given(d, given, last) && review_compare_letters(out, last) <= 0)
        return refuse_given(d, given, last, why);
    return BASE_OK;
}

/* ---- what may be done ---- */

enum base_err review_may_issue(const struct findings *f, struct base_diag *why)
{
    const struct finding *list;
    int counts[3], n = findings_list(f, &list);
    findings_counts(f, counts);
    if (!counts[HANDBOOK_FAULT])
        return BASE_OK;
    int first = 0;
    while (first < n && (list[first].waiver || list[first].grade != HANDBOOK_FAULT))
        first++;
    return base_fail(why, BASE_REFUSED,
                     "Not issued: %d fault%s open, first %s: %.300s Mend %s, or waive with a reason.",
                     counts[HANDBOOK_FAULT], counts[HANDBOOK_FAULT] == 1 ? " is" : "s are", list[first].rule,
                     list[first].message, counts[HANDBOOK_FAULT] == 1 ? "it" : "them");
}

enum base_err review_may_waive(const struct finding *x, const char *reason, struct base_diag *why)
{
    if (strcmp(x->rule, FINDINGS_UNJUDGED) == 0)
        return base_fail(
            why, BASE_REFUSED,
            "What cannot be judged cannot be waived: nobody knows what that would let pass. %.300s",
            x->message);
    if (x->grade == HANDBOOK_FAULT && !*reason)
        return base_fail(why, BASE_REFUSED, "%s is a fault: it is waived only with a reason.", x->key);
    return BASE_OK;
}

/* ---- rules that are looked at first ---- */

bool review_stands(struct findings *f, const struct handbook_rule *rule, bool *fails, struct base_text *out)
{
    const struct dieset *d = findings_dieset(f);
    struct finding worst = {.margin = NAN};
    double told = NAN;
    char buf[60];
    for (int s = 0; s < DIESET_STATES; s++) {
        struct finding x;
        if (!findings_standing(f, rule->name, -1, (enum dieset_state)s, &x) || !x.measured)
            continue;
        if (x.value != told)
            base_text_addf(out, " %s %s ", s == DIESET_NEW ? "new" : "ground",
                           findings_print(d, &x, x.value, buf, sizeof buf));
        told = x.value;
        if (isnan(worst.margin) || x.margin < worst.margin)
            worst = x;
    }
    if (isnan(worst.margin))
        return false;
    *fails = worst.margin < 0;
    /* a window has two: which of them is nearer is said, or 279 with a limit of 250 reads as too much */
    bool least = (worst.value > worst.limit) != *fails;
    base_text_addf(out, " %s %s ", least ? "least" : "most",
                   findings_print(d, &worst, worst.limit, buf, sizeof buf));
    base_text_addf(out, " %s %s", findings_print(d, &worst, fabs(worst.margin), buf, sizeof buf),
                   *fails ? "SHORT" : "to spare");
    base_text_addf(out, "%s%s", *worst.message ? "  " : "", worst.message);
    return true;
}

/* ---- typed over ---- */

static bool is_typed_over(const struct dieset_quantity *q)
{
    bool measure = typed_path_read(q->entry).place == TYPED_AT_TAKE;
    /* a value to begin with is there to be typed */
    bool started = q->property && q->property->how != HANDBOOK_USUAL;
    return q->typed && q->usual && q->text && !measure && !started;
}

/* As it is shown: what the formula gives by a hair has not been typed over it. */
static bool as_usual(struct dieset *d, int q)
{
    char value[120], usual[120];
    dieset_print(d, q, DIESET_NEW, value, sizeof value);
    return strcmp(value, review_usual(d, q, usual, sizeof usual)) == 0;
}

int review_typed_over(struct dieset *d, int *out, int room)
{
    int n = 0;
    for (int q = 0; q < dieset_quantity_count(d); q++)
        if (is_typed_over(dieset_quantity(d, q)) && dieset_applies(d, q) && !as_usual(d, q)) {
            if (n < room)
                out[n] = q;
            n++;
        }
    return n;
}

const char *review_usual(struct dieset *d, int q, char *buf, size_t size)
{
    const struct dieset_quantity *v = dieset_quantity(d, q);
    buf[0] = '\0';
    if (v->usual_slot >= 0)
        handbook_print(dieset_handbook(d), model_value(dieset_model(d), v->usual_slot), v->type.type,
                       dieset_system(d), buf, size);
    return buf;
}
