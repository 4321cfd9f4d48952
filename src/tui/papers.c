/* tui/papers.c - see papers.h */

#include "tui/papers.h"

#include "tui/lesson.h"
#include "tui/line.h"
#include "tui/lines.h"

#include "diewright/shop.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

enum { WORD = 200 };

/* What a view shows: a paper, of a plate by its name, which may come to be called otherwise. */
struct shown {
    const struct tui *t;
    char name[80], plate[80];
};

static struct shop_ask asked(const struct tui *t, const char *plate)
{
    return (struct shop_ask){
        .job = t->job, .plate = *plate ? dieset_find_item(t->d, plate) : -1, .state = t->state};
}

static void tell_paper(const void *source, int width, lines_tell_fn *tell, void *arg)
{
    const struct shown *s = source;
    struct shop_ask ask = asked(s->t, s->plate);
    struct report_paper p;
    struct base_diag why = {0};
    enum base_err err = shop_make(&ask, s->name, &p, &why);
    lines_tell_paper(err, &p, &why, width, NULL, NULL, tell, arg);
}

/* Is WORD a plate, or nothing? Else that is said. */
static bool is_plate(struct tui *t, const char *word)
{
    int item = *word ? dieset_find_item(t->d, word) : -1;
    bool plate = !*word || (item >= 0 && isfinite(dieset_plate(t->d, item, DIESET_NEW).thickness));
    if (!plate)
        tui_complain(t, "the job has no plate \"%s\"", word);
    return plate;
}

bool papers_open(struct tui *t, const char *name, const char *rest)
{
    struct shown *s;
    char plate[80];
    if (!shop_has_paper(t->job, name))
        return false;
    record_word(rest, plate, sizeof plate);
    if (lesson_holds_back(t, "a paper") || !is_plate(t, plate))
        return true;
    s = base_alloc(sizeof *s);
    s->t = t;
    snprintf(s->name, sizeof s->name, "%s", name);
    snprintf(s->plate, sizeof s->plate, "%s", plate);
    snprintf(t->typed->paper, sizeof t->typed->paper, "%s %s", name, plate);
    char *title = base_format("%s%s%s; :write FILE puts it into a file", name, *plate ? " of " : "", plate);
    lines_open_live(t, title, s, tell_paper, free);
    free(title);
    return true;
}

static void list_papers(struct tui *t)
{
    const char *name, *title;
    BASE_VEC(char *) lines = {0};
    for (int i = 0; shop_paper(t->job, i, &name, &title); i++)
        base_vec_push(&lines, base_format(":paper %-12s %s", name, title));
    lines_open(t, "papers of the job", lines.at, NULL, (int)lines.count);
}

void papers_run(struct tui *t, const char *rest)
{
    char name[WORD];
    rest = record_word(rest, name, sizeof name);
    if (!*name)
        list_papers(t);
    else if (!papers_open(t, name, rest))
        tui_complain(t, "there is no paper \"%s\"; :paper lists them", name);
}

/* ---- into files ---- */

static bool ends_in(const char *text, const char *end)
{
    size_t n = strlen(text), k = strlen(end);
    return n >= k && strcmp(text + n - k, end) == 0;
}

static void written(struct tui *t, const char *file, enum base_err err, const struct base_text *text,
                    struct base_diag *why)
{
    struct stat job, other;
    if (!err && *job_file(t->job) && stat(job_file(t->job), &job) == 0 && stat(file, &other) == 0 &&
        job.st_dev == other.st_dev && job.st_ino == other.st_ino)
        err = base_fail(why, BASE_REFUSED, "%s is the job itself; give another name.", file);
    err = err ? err : shop_write(file, text, why);
    if (err)
        tui_complain(t, "%s", why->message);
    else
        tui_say(t, "written: %s", file);
}

void papers_write(struct tui *t, const char *rest)
{
    char name[80], plate[80];
    struct report_paper p;
    struct base_text text = {0};
    struct base_diag why = {0};
    record_word(record_word(t->typed->paper, name, sizeof name), plate, sizeof plate);
    if (!*name || !*rest) {
        tui_complain(t,
                     *name ? "write wants a file name, such as %s.csv"
                           : "open a paper first, such as :order; write then puts it into a file",
                     name);
        return;
    }
    if (lesson_holds_back(t, "a paper") || !is_plate(t, plate))
        return;
    struct shop_ask ask = asked(t, plate);
    enum base_err err = shop_make(&ask, name, &p, &why);
    if (!err) {
        report_write(&p,
                     ends_in(rest, ".csv")    ? REPORT_CSV
                     : ends_in(rest, ".json") ? REPORT_JSON
                                              : REPORT_TEXT,
                     &text);
        report_done(&p);
    }
    written(t, rest, err, &text, &why);
    base_text_done(&text);
}

void papers_folder(struct tui *t, const char *rest)
{
    char folder[WORD], more[WORD];
    struct base_text told = {0};
    struct base_diag why = {0};
    record_word(record_word(rest, folder, sizeof folder), more, sizeof more);
    if (!*folder || (*more && strcmp(more, "solids") != 0)) {
        tui_complain(t, "papers wants a folder, and \"solids\" behind it where these are wanted too");
        return;
    }
    if (lesson_holds_back(t, "a paper"))
        return;
    struct shop_ask ask = asked(t, "");
    ask.state = DIESET_NEW;
    ask.since = "";
    if (shop_folder(&ask, folder, *more, &told, &why) != BASE_OK)
        tui_complain(t, "%s", why.message);
    else
        lines_open_text(t, "papers that were written", &told);
    base_text_done(&told);
}

/* "[PLATE] FILE", the drawing of the strip by its kind's name */
static bool plate_and_file(struct tui *t, const char *what, const char *rest, char *plate, char *file,
                           bool *strip)
{
    const char *more = record_word(record_word(rest, plate, WORD), file, WORD);
    if (!*file) {
        snprintf(file, WORD, "%s", plate);
        *plate = '\0';
    }
    if (!*file || *more)
        tui_complain(t, "%s wants a file name, and before it a plate unless it is of the set", what);
    if (strip && strcmp(plate, DIESET_STRIP) == 0 && dieset_item_of_kind(t->d, DIESET_STRIP) >= 0) {
        *strip = true;
        *plate = '\0';
    }
    return *file && !*more && is_plate(t, plate);
}

void papers_drawing(struct tui *t, const char *rest)
{
    char plate[WORD], file[WORD];
    struct base_text text = {0};
    struct base_diag why = {0};
    bool strip = false;
    if (lesson_holds_back(t, "a paper") || !plate_and_file(t, "drawing", rest, plate, file, &strip))
        return;
    struct shop_ask ask = asked(t, plate);
    ask.strip = strip;
    enum base_err err = shop_drawing(&ask, ends_in(file, ".svg"), &text, &why);
    written(t, file, err, &text, &why);
    base_text_done(&text);
}

void papers_solid(struct tui *t, const char *rest)
{
    char plate[WORD], file[WORD];
    struct base_text text = {0};
    struct base_diag why = {0};
    if (lesson_holds_back(t, "a paper") || !plate_and_file(t, "solid", rest, plate, file, NULL))
        return;
    struct shop_ask ask = asked(t, plate);
    enum base_err err = shop_solid(&ask, 0, ask.plate >= 0 && ends_in(file, ".svg"), &text, &why);
    written(t, file, err, &text, &why);
    base_text_done(&text);
}
