/* tui/command.c - the ":" row: words with arguments, in one table; words without are those of the key table
 *
 * Each edit goes through the job's commands; `set` shows its outcome while it is typed.
 */

#include "tui/command.h"

#include "tui/act.h"
#include "tui/complete.h"
#include "tui/edits.h"
#include "tui/form.h"
#include "tui/go.h"
#include "tui/items.h"
#include "tui/lesson.h"
#include "tui/line.h"
#include "tui/lines.h"
#include "tui/outcome.h"
#include "tui/outline.h"
#include "tui/papers.h"
#include "tui/undo.h"
#include "tui/views.h"

#include "diewright/report.h"
#include "diewright/start.h"
#include "diewright/view.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { WORD = 200, REMEMBERED = 50 };

/* The last word of a command that NAME takes no more behind; false, and said so, when there is more. */
static bool last_word(struct tui *t, const char *name, const char *text, char *buf, size_t size)
{
    const char *more = record_word(text, buf, size);
    if (*more)
        tui_complain(t, "%s has no use for \"%s\"", name, more);
    return !*more;
}

static void taken_or_why(struct tui *t, enum base_err err, const struct base_diag *why)
{
    if (err)
        tui_complain(t, "%s", why->message);
    else
        edit_take(t);
    tui_changed(t);
}

/* ---- values ---- */

struct sets { BASE_VEC(char *) paths, formulas; };

/* "path=formula path=formula": a name and "=" after a blank begin the next one. */
static bool next_set(const char *text, size_t *name, size_t *end)
{
    *name = strcspn(text, "= ");
    size_t equals = *name + strspn(text + *name, " ");
    if (text[equals] != '=' || *name == 0)
        return false;
    bool quoted = false;
    for (size_t i = equals + 1;; i++) {
        if (text[i] == '"')
            quoted = !quoted;
        if (text[i] == '\0') {
            *end = i;
            return true;
        }
        if (quoted || text[i] != ' ')
            continue;
        size_t w = strspn(text + i, " "), n = strcspn(text + i + w, "= \"<>()+*/-");
        if (n > 0 && text[i + w + n] == '=' && strchr("<>!", text[i + w + n - 1]) == NULL) {
            *end = i;
            return true;
        }
    }
}

static bool read_sets(const char *text, struct sets *s)
{
    while (*text) {
        size_t name, end;
        if (!next_set(text, &name, &end))
            return false;
        size_t from = name + strcspn(text + name, "=") + 1;
        from += strspn(text + from, " ");
        base_vec_push(&s->paths, base_copy_n(text, name));
        base_vec_push(&s->formulas, base_copy_n(text + from, end > from ? end - from : 0));
        text += end + strspn(text + end, " ");
    }
    return s->paths.count > 0;
}

static void sets_done(struct sets *s)
{
    for (size_t i = 0; i < s->paths.count; i++) {
        free(s->paths.at[i]);
        free(s->formulas.at[i]);
    }
    base_vec_done(&s->paths);
    base_vec_done(&s->formulas);
}

static enum base_err try_sets(struct tui *t, const char *rest, struct base_diag *why)
{
    struct sets s = {0};
    enum base_err err = read_sets(rest, &s)
                            ? job_set_many(t->job, (const char *const *)s.paths.at,
                                           (const char *const *)s.formulas.at, (int)s.paths.count, why)
                            : base_fail(why, BASE_REFUSED,
                                        "set wants NAME=FORMULA, such as set die_plate.thickness=36");
    sets_done(&s);
    tui_changed(t);
    return err;
}

static void run_set(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    taken_or_why(t, try_sets(t, rest, &why), &why);
}

static void run_unset(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    char path[WORD];
    if (!last_word(t, "unset", rest, path, sizeof path))
        return;
    taken_or_why(t, job_unset(t->job, path, &why), &why);
}

static void run_reason(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    char path[WORD];
    rest = record_word(rest, path, sizeof path);
    taken_or_why(t, job_reason(t->job, path, rest, &why), &why);
}

/* ---- items ---- */

/* "under ITEM" -> the place below it; nothing -> USUAL. False when something else stands there, which is
   said. */
static bool place_under(struct tui *t, const char *rest, const char *what, int usual, int *place)
{
    char under[WORD], item[WORD], more[WORD];
    record_word(record_word(record_word(rest, under, sizeof under), item, sizeof item), more, sizeof more);
    *place = usual;
    if (!*under && usual >= -1)
        return true;
    int above = dieset_find_item(t->d, item);
    if (strcmp(under, "under") != 0 || *more || above < 0) {
        tui_complain(t, "%s ends in \"under ITEM\", and ITEM stands in the job", what);
        return false;
    }
    *place = above + 1;
    return true;
}

static void run_add(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    char kind[WORD], name[WORD];
    int place;
    rest = record_word(record_word(rest, kind, sizeof kind), name, sizeof name);
    char added[80];
    snprintf(added, sizeof added, "%.79s", name);
    if (!place_under(t, rest, "add", item_place_of_new(t, kind), &place))
        return;
    enum base_err err = job_add(t->job, kind, name, place, &why);
    taken_or_why(t, err, &why);
    tui_settle(t);
    if (!err && dieset_find_item(t->d, added) >= 0)
        go_to_form(t, added);
}

static void run_copy(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    char item[WORD], name[WORD];
    if (!last_word(t, "copy", record_word(rest, item, sizeof item), name, sizeof name))
        return;
    enum base_err err = job_add_like(t->job, item, name, &why);
    taken_or_why(t, err, &why);
    tui_settle(t);
    if (!err && dieset_find_item(t->d, name) >= 0)
        go_to_form(t, name);
}

static void run_remove(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    char item[WORD];
    if (!last_word(t, "remove", rest, item, sizeof item))
        return;
    taken_or_why(t, job_remove(t->job, item, &why), &why);
}

static void run_rename(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    char item[WORD], name[WORD];
    if (!last_word(t, "rename", record_word(rest, item, sizeof item), name, sizeof name))
        return;
    taken_or_why(t, job_rename(t->job, item, name, &why), &why);
}

static void run_move(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    char item[WORD];
    int place;
    rest = record_word(rest, item, sizeof item);
    int from = dieset_find_item(t->d, item);
    if (!place_under(t, rest, "move", -2, &place))
        return;
    /* taken out above the place it goes to, everything below moves up by one */
    taken_or_why(t, job_move(t->job, item, from >= 0 && from < place ? place - 1 : place, &why), &why);
}

static void run_lay(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    char item[WORD];
    rest = record_word(rest, item, sizeof item);
    taken_or_why(t, job_lay(t->job, item, rest, &why), &why);
}

static void run_outline(struct tui *t, const char *rest)
{
    char item[WORD];
    rest = record_word(rest, item, sizeof item);
    outline_run(t, item, rest);
}

/* "ITEM FILE [unit mm] [scale 2] [within 0.02] [path 1]" */
static void run_outline_from(struct tui *t, const char *rest)
{
    char item[WORD], file[WORD], what[WORD], text[WORD];
    struct start_outline_wish wish = {0};
    struct start_outline taken;
    struct base_diag why = {0};
    rest = record_word(record_word(rest, item, sizeof item), file, sizeof file);
    enum base_err err = *file ? BASE_OK
                              : base_fail(&why, BASE_REFUSED, "outline-from wants ITEM FILE, such as "
                                                              "outline-from blank part.svg unit mm");
    while (!err && *rest) {
        rest = record_word(record_word(rest, what, sizeof what), text, sizeof text);
        bool known = strcmp(what, "unit") == 0 || strcmp(what, "scale") == 0 || strcmp(what, "within") == 0 ||
                     strcmp(what, "path") == 0;
        err = known ? start_outline_wish_set(&wish, what, text, &why)
                    : base_fail(&why, BASE_REFUSED,
                                "behind the file stand unit, scale, within or path with a value, not \"%s\"",
                                what);
    }
    if (err) {
        tui_complain(t, "%s", why.message);
        return;
    }
    struct base_text said = {0};
    err = start_outline_take(t->job, item, file, &wish, &taken, &why);
    start_outline_words(&taken, &said);
    start_outline_done(&taken);
    tui_changed(t);
    if (err)
        tui_complain(t, "%s", why.message);
    else
        tui_say(t, "%s: %s", item, base_text_get(&said));
    base_text_done(&said);
}

static void run_entry(struct tui *t, const char *rest, const char *entry)
{
    struct base_diag why = {0};
    char item[WORD];
    rest = record_word(rest, item, sizeof item);
    taken_or_why(t, job_entry(t->job, item, entry, rest, &why), &why);
}

static void run_title(struct tui *t, const char *rest) { run_entry(t, rest, "title"); }
static void run_note(struct tui *t, const char *rest) { run_entry(t, rest, "note"); }

/* ---- own sizes ---- */

static void run_import(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    char table[WORD], *csv = NULL;
    size_t length;
    const char *file = record_word(rest, table, sizeof table);
    if (!*file) {
        tui_complain(t, "import wants TABLE FILE, such as import press_size our-press.csv");
        return;
    }
    enum base_err err = base_read_file(file, &csv, &length, &why);
    if (!err)
        err = job_import(t->job, table, file, csv, length, &why);
    free(csv);
    if (err && why.line)
        tui_complain(t, "%s:%d: %s", why.file, why.line, why.message);
    else
        taken_or_why(t, err, &why);
}

/* ---- own values ---- */

static void run_value(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    char group[WORD], name[WORD];
    rest = record_word(record_word(rest, group, sizeof group), name, sizeof name);
    const char *equals = strchr(rest, '=');
    if (!equals) {
        tui_complain(t, "value wants GROUP NAME TYPE = FORMULA, such as value margins edge length = 12 mm");
        return;
    }
    size_t n = (size_t)(equals - rest);
    while (n > 0 && rest[n - 1] == ' ')
        n--;
    char *type = base_copy_n(rest, n);
    taken_or_why(t, job_value_add(t->job, group, name, type, equals + 1 + strspn(equals + 1, " "), &why),
                 &why);
    free(type);
}

static void run_value_rename(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    char group[WORD], name[WORD], now[WORD];
    if (!last_word(t, "value-rename", record_word(record_word(rest, group, sizeof group), name, sizeof name),
                   now, sizeof now))
        return;
    taken_or_why(t, job_value_rename(t->job, group, name, now, &why), &why);
}

static void run_value_remove(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    char group[WORD], name[WORD];
    if (!last_word(t, "value-remove", record_word(rest, group, sizeof group), name, sizeof name))
        return;
    taken_or_why(t, job_value_remove(t->job, group, name, &why), &why);
}

/* ---- undo and redo ---- */

static void run_step(struct tui *t, const char *name, const char *rest, bool back)
{
    char text[WORD], *end;
    if (!last_word(t, name, rest, text, sizeof text))
        return;
    long edit = strtol(text, &end, 10);
    if (*text && (*end || edit < 1))
        tui_complain(t, "\"%s\" is no number of an edit; :history tells them", text);
    else
        undo_step(t, back, edit);
}

static void run_undo(struct tui *t, const char *rest) { run_step(t, "undo", rest, true); }
static void run_redo(struct tui *t, const char *rest) { run_step(t, "redo", rest, false); }

/* ---- looking ---- */

static void run_go(struct tui *t, const char *rest)
{
    char path[WORD];
    if (!last_word(t, "go-to", rest, path, sizeof path))
        return;
    int q = dieset_find(t->d, path);
    struct base_diag why = {0};
    if (q >= 0 && !dieset_shown(t->d, q) && dieset_named(t->d, path, &q, &why)) {
        tui_complain(t, "%s", why.message);
    } else if (q >= 0) {
        if (!go_to_quantity(t, q) && dieset_quantity(t->d, q)->item >= 0)
            tui_complain(t, "%s has no row in the form; :set %s=... changes it", path, path);
    } else if (!go_to_form(t, path)) {
        struct base_text near = {0};
        dieset_nearest(t->d, path, &near);
        tui_complain(t, "the job has no \"%s\"%s%s", path, near.length ? "; near it: " : "",
                     base_text_get(&near));
        base_text_done(&near);
    }
}

static void run_why(struct tui *t, const char *rest)
{
    char path[WORD];
    if (!last_word(t, "why-of", rest, path, sizeof path))
        return;
    if (dieset_find(t->d, path) >= 0)
        tui_open(t, "why", path);
    else
        tui_complain(t, "the job has no value \"%s\"", path);
}

static void run_eval(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    struct formula_value v;
    struct formula_type type;
    char buf[200];
    if (handbook_eval(dieset_handbook(t->d), rest, &v, &type, &why) != BASE_OK)
        tui_complain(t, "%s", why.message);
    else
        tui_say(t, "%s = %s", rest,
                handbook_print(dieset_handbook(t->d), v, type, dieset_system(t->d), buf, sizeof buf));
}

static void run_save(struct tui *t, const char *rest)
{
    (void)rest;
    if (lesson_runs(t) && !*job_file(t->job))
        tui_complain(t, "a practice copy is not saved, it stands in memory only; :save-as FILE keeps it "
                        "under a name of its own");
    else
        tui_say(t, job_saved(t->job) ? "every change is saved already"
                                     : "an edit is not saved; :save-as FILE keeps it");
}

/* The paper's own text, line by line. */
static void run_sources(struct tui *t, const char *rest)
{
    struct report_paper p;
    struct base_text text = {0};
    (void)rest;
    report_sources(dieset_handbook(t->d), &p);
    report_write(&p, REPORT_TEXT, &text);
    report_done(&p);
    lines_open_text(t, "sources of the handbook, and what leans on each", &text);
    base_text_done(&text);
}

/* Each row leads to its group. */
static char *station_of(const void *source, const char *line)
{
    char name[WORD] = "";
    bool row = sscanf(line, "%*d %*s %199s", name) == 1 && dieset_find_item(source, name) >= 0;
    return row ? base_format("%s." DIESET_STATION_NUMBER, name) : NULL;
}

static void tell_stations(const void *source, int width, lines_tell_fn *tell, void *arg)
{
    struct dieset *d = ((const struct tui *)source)->d;
    struct report_paper p;
    struct base_text text = {0};
    report_stations(d, &p);
    p.width = width;
    report_write(&p, REPORT_TEXT, &text);
    report_done(&p);
    lines_tell_text(&text, station_of, d, tell, arg);
    base_text_done(&text);
}

static void tell_strip(const void *source, int width, lines_tell_fn *tell, void *arg)
{
    const struct tui *t = source;
    const struct view_options o = {.ascii = t->ascii, .item = dieset_find_item(t->d, t->item), .point = -1};
    struct base_text text = {0};
    view_strip_bands(t->d, &o, width, &text);
    base_text_add(&text, "\n");
    view_part(t->d, &o, width, &text);
    lines_tell_text(&text, NULL, NULL, tell, arg);
    base_text_done(&text);
}

static void run_strip(struct tui *t, const char *rest)
{
    (void)rest;
    lines_open_live(t, "the strip, station by station", t, tell_strip, NULL);
}

static void run_stations(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    if (!*rest)
        lines_open_live(t, "stations; :stations move, swap, insert, close, copy", t, tell_stations, NULL);
    else if (edit_allowed(t))
        taken_or_why(t, edit_try_stations(t, rest, &why), &why);
}

static char *event_line(const struct typed_event *e)
{
    return base_format("%4ld  %s  %-8s %s%s", e->seq, e->when ? e->when : "", e->who ? e->who : "", e->title,
                       e->undone ? "   (taken back)" : "");
}

/* The value or item that an event is about, as it is called now; NULL: nothing that is there. Yours to
   free(). */
static char *event_goal(const struct tui *t, const struct typed_event *e)
{
    for (int i = 0; i < e->n_changes; i++) {
        const struct typed_change *c = &e->changes[i];
        int item = dieset_find_item(t->d, c->item);
        if (item >= 0 && dieset_item_words(t->d, item)) {
            const char *on = dieset_entry(t->d, item, "finding");
            on = on ? on : dieset_entry(t->d, item, "item");
            return on ? base_copy(on) : NULL;
        }
        char *path = item >= 0 && c->what == TYPED_ENTRY ? typed_known(c->item, c->path) : NULL;
        if (path && dieset_find(t->d, path) >= 0)
            return path;
        free(path);
        if (item >= 0)
            return base_copy(c->item);
    }
    return NULL;
}

static void run_new(struct tui *t, const char *rest)
{
    const struct typed_event *events;
    BASE_VEC(char *) lines = {0}, paths = {0};
    (void)rest;
    if (lesson_holds_back(t, "the history"))
        return;
    if (t->visits->seen < 0) {
        tui_say(t, "you have not been in this job before: :history has all of it");
        return;
    }
    int n = job_new_since(t->job, t->visits->seen, &events);
    for (int i = 0; i < n; i++) {
        base_vec_push(&lines, event_line(&events[i]));
        base_vec_push(&paths, event_goal(t, &events[i]));
    }
    lines_open(t, "new since you were here last, newest first", lines.at, paths.at, n);
}

/* "B", or "" */
static void run_ordered(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    enum base_err err = job_ordered(t->job, *rest ? rest : NULL, false, &why);
    taken_or_why(t, err, &why);
}

static void run_history(struct tui *t, const char *rest)
{
    enum { MOST = 500 };
    const struct typed_event *events;
    if (lesson_holds_back(t, "the history"))
        return;
    int n = job_history(t->job, &events, MOST);
    char **lines = base_alloc((size_t)(n + 1) * sizeof *lines);
    (void)rest;
    for (int i = 0; i < n; i++)
        lines[i] = event_line(&events[i]);
    lines_open(t, "history, newest first", lines, NULL, n);
}

static void run_page(struct tui *t, const char *rest)
{
    (void)rest;
    if (!form_show_page(t))
        tui_complain(t, "the job was begun from no start that has a page");
}

static void run_shop(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    int n;
    (void)rest;
    if (!t->o.shop)
        tui_complain(t, "there are no settings of the shop; man diewright, FILES, tells where they are kept");
    else if (start_shop_try(t->job, t->o.shop, &n, NULL, &why) || n)
        taken_or_why(t, why.code, &why);
    else
        tui_say(t, "the job has all settings of %s, or its own", t->o.shop);
}

/* "NAME LINE" */
static void run_start(struct tui *t, const char *rest)
{
    char name[WORD], *path;
    struct base_diag why = {0};
    const char *line = record_word(rest, name, sizeof name);
    if (lesson_holds_back(t, "a start of it"))
        return;
    if (start_keep(t->job, t->o.data, t->o.own, name, line, "", &path, &why)) {
        tui_complain(t, "%s", why.message);
        return;
    }
    tui_say(t, "kept as the start %s in %s", name, path);
    free(path);
}

static void run_save_as(struct tui *t, const char *rest)
{
    struct base_diag why = {0};
    if (!*rest) {
        tui_complain(t, "save-as wants a file name");
        return;
    }
    if (lesson_holds_back(t, "a copy of it"))
        return;
    char *path = job_path(rest);
    if (job_save_as(t->job, path, &why) == BASE_OK)
        tui_say(t, "saved as %s, and at work in that file from now on", path);
    else
        tui_complain(t, "%s", why.message);
    free(path);
    tui_changed(t);
}

static const struct command table[] = {
    {"set", "NAME=FORMULA ...", "change values; shown while typed", true, NULL, run_set},
    {"unset", "NAME", "back to the usual formula, or blank", true, NULL, run_unset},
    {"reason", "NAME TEXT", "why a value is typed over its formula", true, NULL, run_reason},
    {"add", "KIND NAME [under ITEM]", "add an item, below the one at the cursor where the kind is the same",
     true, NULL, run_add},
    {"import", "TABLE FILE", "rows of your own for a parts table, from a file of comma-separated values",
     true, NULL, run_import},
    {"copy", "ITEM NAME", "add an item like another", true, NULL, run_copy},
    {"remove", "ITEM", "take an item out", true, NULL, run_remove},
    {"rename", "ITEM NAME", "rename an item; formulas follow", true, NULL, run_rename},
    {"move", "ITEM under ITEM", "put an item below another in the job's order", true, NULL, run_move},
    {"lay", "ITEM PATTERN on PLATE", "lay a group out in a pattern", true, NULL, run_lay},
    {"outline", "ITEM LINE; LINE; ...", "the outline of a station, all lines anew; none: it is taken out",
     true, NULL, run_outline},
    {"outline-from", "ITEM FILE [unit U] [scale N] [within LENGTH] [path N]",
     "the outline of a station from an SVG drawing, path data, or lines", true, NULL, run_outline_from},
    {"title", "ITEM TEXT", "an item's title", true, NULL, run_title},
    {"note", "ITEM TEXT", "a note beside an item", true, NULL, run_note},
    {"value", "GROUP NAME TYPE = FORMULA", "add a value of the job's own", true, NULL, run_value},
    {"value-rename", "GROUP NAME NEW", "rename a value of the job's own", true, NULL, run_value_rename},
    {"value-remove", "GROUP NAME", "take a value of the job's own out", true, NULL, run_value_remove},
    {"undo", "[NUMBER]", "take your last edit back, or that of a number of the history",
     true, NULL, run_undo},
    {"redo", "[NUMBER]", "make again what you took back last, or the edit of a number", true, NULL, run_redo},
    {"go-to", "NAME", "go to an item or a value", false, NULL, run_go},
    {"why-of", "NAME", "why a value is what it is", false, NULL, run_why},
    {"stations", "[move ITEM|NUMBER TO|swap A B|insert NUMBER|close NUMBER|copy ITEM TO]",
     "the station table, or stations moved, swapped, put in, taken out, copied", false, NULL, run_stations},
    {"strip", "", "the strip station by station: what is gone, cut there and left", false, NULL, run_strip},
    {"eval", "EXPRESSION", "work something out, with units", false, NULL, run_eval},
    {"words", "[WORD]", "what is meant by a word here, and what other shops call it", false, "words", NULL},
    {"sources", "", "every source of the handbook, what leans on it, and how many rest on memory",
     false, NULL, run_sources},
    {"history", "", "every change: its number, when, who, what", false, NULL, run_history},
    {"ordered", "[REV]", "parts were ordered by the revision, else the latest", true, NULL, run_ordered},
    {"new", "", "what others did and said since you were here last", false, NULL, run_new},
    {"remark", "[[NAME] TEXT]",
     "a remark on an item, a value or a finding, or on what is at the cursor; on a remark: an answer", false,
     NULL, review_remark},
    {"vary", "NAME [FROM TO STEP [across NAME FROM TO STEP]]",
     "a value over a range: what it would move, where findings begin",
     false, "vary", NULL},
    {"tolerance", "[NAME|CHAIN [ITEM]|chains|worst]",
     "a value as it is made: its limits, what moves it; all chains; rules that turn at the worst case", false,
     "tolerance", NULL},
    {"compare", "EDITS|REV|FILE",
     "the job beside itself so many edits ago, or as issued, or beside another job", false, "compare", NULL},
    {"join", "FILE", "another copy of the job, edited apart: what each changed, to be chosen and taken in",
     false, "join", NULL},
    {"practice", "[NAME]", "a guide in steps, or a mistake to find and mend; without a name, their list",
     false, "practice", NULL},
    {"exercise", "[N]", "the worked examples of the handbook as exercises", false, "exercise", NULL},
    {"paper", "[NAME [PLATE]]",
     "a paper by its name, such as order, holes, setting; also :order alone; without a name, their list",
     false, NULL, papers_run},
    {"write", "FILE", "the paper that was opened last, into a file: .csv, .json, or text", false, NULL,
     papers_write},
    {"papers", "FOLDER [solids]", "all drawings and lists of the job into a folder", false, NULL,
     papers_folder},
    {"drawing", "[PLATE|strip] FILE",
     "a plate's drawing, the strip's, or the set's, into a file: .svg, or PDF", false, NULL, papers_drawing},
    {"solid", "[PLATE] FILE",
     "a plate or the set as a solid into a file; a plate's outlines where it ends in .svg", false, NULL,
     papers_solid},
    {"save", "", "says whether all is saved; every change is, at once", false, NULL, run_save},
    {"page", "", "strip, part and press on one page, with the first set that comes of them", false, NULL,
     run_page},
    {"start", "NAME LINE", "keep the set as a start of the shop's own, which LINE tells", false, NULL,
     run_start},
    {"shop", "", "take the settings of the shop, for what the job has not typed for itself", true, NULL,
     run_shop},
    {"save-as", "FILE", "a whole copy under another name, which is worked in from then on", false, NULL,
     run_save_as},
};

const struct command *command_table(int *count)
{
    *count = (int)COUNT_OF(table);
    return table;
}

static const struct command *find(const char *name)
{
    for (size_t i = 0; i < COUNT_OF(table); i++)
        if (strcmp(table[i].name, name) == 0)
            return &table[i];
    return NULL;
}

/* ---- running ---- */

static void unknown(struct tui *t, const char *name)
{
    int n;
    const struct key_row *rows = keys_table(&n);
    const char *names[COUNT_OF(table) + 200];
    size_t count = 0;
    struct base_text near = {0};
    for (size_t i = 0; i < COUNT_OF(table); i++)
        names[count++] = table[i].name;
    for (int i = 0; i < n && count < COUNT_OF(names); i++)
        names[count++] = rows[i].name;
    base_nearest(&near, name, names, count);
    tui_complain(t, "there is no \"%s\" to do%s%s; ? lists what there is", name,
                 near.length ? "; near it: " : "", base_text_get(&near));
    base_text_done(&near);
}

static void run_named(struct tui *t, const struct key_row *r)
{
    struct base_text places = {0};
    keys_places(r->places, &places);
    if (!(r->places & tui_place(t)))
        tui_complain(t, "%s works in: %s", r->name, base_text_get(&places));
    else if (!r->edits || edit_allowed(t)) {
        t->key = r->keys[0];
        tui_do(t, r->action);
        lesson_seen(t, r->action);
    }
    base_text_done(&places);
}

/* Run LINE as it was typed. */
static void command_run(struct tui *t, const char *line)
{
    char name[WORD];
    const char *rest = record_word(line, name, sizeof name);
    if (!*name)
        return;
    if (strcmp(name, "release") == 0) { /* the word that it had before */
        snprintf(name, sizeof name, "issue");
        tui_say(t, "release is called issue now");
    }
    const struct command *c = find(name);
    const struct key_row *r = keys_named(name);
    if (*rest && (c ? !*c->usage : r != NULL))
        tui_complain(t, "%s takes no words; \"%s\" says nothing to it", name, rest);
    else if (c && c->opens)
        tui_open(t, c->opens, rest);
    else if (c && (!c->edits || edit_allowed(t)))
        c->run(t, rest);
    else if (!c && r)
        run_named(t, r);
    else if (!c && !papers_open(t, name, rest))
        unknown(t, name);
    if (!r)
        lesson_seen(t, name);
}

/* ---- the row ---- */

void command_remember(struct tui *t, const char *line)
{
    if (!*line || (t->typed->n && strcmp(t->typed->lines[t->typed->n - 1], line) == 0))
        return;
    if (t->typed->n == REMEMBERED) {
        free(t->typed->lines[0]);
        memmove(t->typed->lines, t->typed->lines + 1, (REMEMBERED - 1) * sizeof *t->typed->lines);
        t->typed->n--;
    }
    t->typed->lines = base_grow(t->typed->lines, (size_t)(t->typed->n + 1) * sizeof *t->typed->lines);
    t->typed->lines[t->typed->n++] = base_copy(line);
}

static void entered(struct tui *t, const char *subject, const char *text)
{
    (void)subject;
    edit_drop(t);
    tui_settle(t);
    command_remember(t, text);
    tui_hush(t); /* what was said before is not of this */
    command_run(t, text);
}

/* Does NAME begin with TYPED; or, in the second round, only hold it? */
static bool fits(const char *name, const char *typed, int round)
{
    const char *at = strstr(name, typed);
    return round == 0 ? at == name : at && at != name;
}

/* Names of commands that begin so, then those that hold it. */
static void show_names(const char *name, struct base_text *out)
{
    int n;
    const struct key_row *rows = keys_table(&n);
    for (int round = 0; round < (*name ? 2 : 1); round++) {
        for (size_t i = 0; i < COUNT_OF(table); i++)
            if (fits(table[i].name, name, round))
                base_text_addf(out, "%s  ", table[i].name);
        for (int i = 0; i < n; i++)
            if (fits(rows[i].name, name, round))
                base_text_addf(out, "%s  ", rows[i].name);
    }
}

static void changed(struct tui *t, struct line *l)
{
    char name[WORD];
    const char *text = field_text(l->field), *rest = record_word(text, name, sizeof name);
    const struct command *c = find(name);
    edit_drop(t);
    if (!strchr(text, ' ')) {
        show_names(name, &l->above);
        return;
    }
    if (!c)
        return;
    bool sets = c->run == run_set && strchr(rest, '='), stations = c->run == run_stations && *rest;
    if ((sets || stations) && !t->o.look && !lesson_hides(t)) {
        if ((sets ? try_sets(t, rest, &l->why) : edit_try_stations(t, rest, &l->why)) == BASE_OK) {
            l->why.message[0] = '\0';
            edit_outcome_line(t, &l->above);
        } else {
            base_text_add(&l->above, l->why.message);
        }
        return;
    }
    base_text_addf(&l->above, "%s %s   %s", c->name, c->usage, c->help);
}

/* The longest beginning that all names beginning with NAME share; how many do. */
static int shared_name(const char *name, char *out, size_t size)
{
    int n, found = 0;
    size_t length = strlen(name), same = 0;
    const struct key_row *rows = keys_table(&n);
    const char *first = NULL;
    for (int i = 0; i < n + (int)COUNT_OF(table); i++) {
        const char *other = i < n ? rows[i].name : table[i - n].name;
        if (strncmp(other, name, length) != 0)
            continue;
        if (!first) {
            first = other;
            same = strlen(other);
        }
        size_t k = 0;
        while (k < same && first[k] == other[k])
            k++;
        same = k;
        found++;
    }
    snprintf(out, size, "%.*s", (int)same, first ? first : name);
    return found;
}

static void complete(struct tui *t, struct line *l)
{
    const char *text = field_text(l->field);
    if (!strchr(text, ' ')) {
        char name[WORD];
        int n = shared_name(text, name, sizeof name);
        if (n == 1)
            strncat(name, " ", sizeof name - strlen(name) - 1);
        if (n > 0)
            field_set(l->field, name, -1);
        base_text_clear(&l->above);
        show_names(name, &l->above);
        return;
    }
    struct base_text words = {0};
    complete_name(t, l->field, NULL, &words);
    changed(t, l);
    if (words.length) {
        base_text_clear(&l->above);
        base_text_add(&l->above, base_text_get(&words));
    }
    base_text_done(&words);
}

void command_open(struct tui *t, const char *text)
{
    struct line *l = line_open(t, ":", NULL, text, entered);
    l->remembers = true;
    l->changed = changed;
    l->complete = complete;
    changed(t, l);
}

void act_command(struct tui *t)
{
    command_open(t, "");
}
