/* tui/views/compare.c - the job beside itself as it was, or beside another job: a list of what differs */

#include "tui/act.h"
#include "tui/choice.h"
#include "tui/edits.h"
#include "tui/lesson.h"
#include "tui/lines.h"
#include "tui/views.h"

#include "diewright/compare.h"
#include "diewright/review.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

struct beside { struct compare diff; const char *names[COMPARE_SIDES]; };

static void make(const void *source, int width, lines_tell_fn *tell, void *arg)
{
    const struct beside *b = source;
    compare_lines(&b->diff, b->names, width, tell, arg);
}

static void drop(void *source)
{
    compare_done(&((struct beside *)source)->diff);
    free(source);
}

/* OTHER is closed here. What it was stands first, what the job is now second. */
static void show(struct tui *t, struct job *other, const char *title, const char *const names[COMPARE_SIDES])
{
    struct beside *b = base_alloc(sizeof *b);
    compare_sets(job_findings(other), job_findings(t->job), &b->diff);
    memcpy(b->names, names, sizeof b->names);
    job_close(other);
    lines_open_made(t, title, b, make, drop);
}

static void with_before(struct tui *t, int edits)
{
    struct base_diag why = {0};
    struct job *before;
    const struct typed_event *events;
    if (lesson_holds_back(t, "a comparison"))
        return;
    edit_drop(t);
    tui_settle(t);
    if (edits < 1 || job_before(t->job, edits, &before, &why) != BASE_OK) {
        if (edits < 1)
            tui_complain(t, "compare with how many edits ago? 1 is before the last one");
        else
            tui_complain(t, "%s", why.message);
        return;
    }
    int n = job_standing(t->job, &events, edits);
    char *title = base_format("the job beside itself before: %s", n ? events[n - 1].title : "");
    show(t, before, title, (const char *const[]){"as it was", "as it is"});
    free(title);
}

/* The other job and the names over the two columns; false with the reason said. */
static bool open_other(struct tui *t, const char *text, struct job **other, char *title, size_t size,
                       const char *names[COMPARE_SIDES])
{
    struct base_diag why = {0};
    struct review_revision r;
    bool revision = review_find(t->d, text, &r);
    char *path = job_path(text);
    enum base_err err = revision ? job_revision_as_now(t->job, text, other, &why)
                                 : job_open(dieset_handbook(t->d), path, true, other, &why);
    snprintf(title, size, revision ? "revision %s beside the job as it is" : "%s beside this job",
             revision ? r.letter : path);
    names[COMPARE_FIRST] = revision ? "as issued" : "the other";
    names[COMPARE_SECOND] = revision ? "as it is" : "this job";
    free(path);
    if (err)
        tui_complain(t, "%s", why.message);
    return !err;
}

static void with(struct tui *t, const char *text)
{
    struct job *other;
    const char *names[COMPARE_SIDES];
    char title[300];
    if (lesson_holds_back(t, "a comparison"))
        return;
    edit_drop(t);
    tui_settle(t);
    if (open_other(t, text, &other, title, sizeof title, names))
        show(t, other, title, names);
}

static void chosen(struct tui *t, const char *subject, const struct choice *c)
{
    (void)subject;
    with_before(t, atoi(c->value));
}

/* "2024-05-01 10:20" of "2024-05-01T10:20:30+02:00". Yours to free(). */
static char *minute_of(const struct typed_event *e)
{
    const char *when = e->when ? e->when : "", *clock = strchr(when, 'T');
    return clock ? base_format("%.*s %.5s", (int)(clock - when), when, clock + 1) : base_copy(when);
}

static void ask_which(struct tui *t)
{
    enum { MOST = 200 };
    const struct typed_event *events;
    if (lesson_holds_back(t, "a comparison"))
        return;
    int n = job_standing(t->job, &events, MOST);
    if (n == 0) {
        tui_say(t, "nothing has been edited yet; :compare FILE puts another job beside this one");
        return;
    }
    struct choice *choices = base_alloc((size_t)n * sizeof *choices);
    for (int i = 0; i < n; i++)
        choices[i] = (struct choice){base_copy(events[i].title), base_format("%d", i + 1),
                                     minute_of(&events[i])};
    choice_open(t, "beside the job as it was before", "", choices, n, 0, NULL, chosen, NULL);
}

void compare_open(struct tui *t, const char *text)
{
    size_t digits = strspn(text, "0123456789");
    if (!*text)
        ask_which(t);
    else if (text[digits] == '\0' && digits < 6)
        with_before(t, atoi(text));
    else
        with(t, text);
}

void act_compare(struct tui *t) { ask_which(t); }
