/* tui/kept.c - see kept.h */

#include "tui/kept.h"

#include "tui/command.h"
#include "tui/form.h"
#include "tui/go.h"
#include "tui/lesson.h"
#include "tui/line.h"
#include "tui/tui.h"

#include <fcntl.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

enum { PLACES = 60 };

static char *file_of(const struct tui *t) { return base_format("%s/diewright/screens", t->o.state); }

/* The whole name of the job's file, by which it is known again; NULL: it has none. Yours to free(). */
static char *job_name(const struct tui *t)
{
    return t->job && *job_file(t->job) && !lesson_runs(t) ? realpath(job_file(t->job), NULL) : NULL;
}

/* Is LINE the place in the job FILE? */
static bool is_place_of(const char *line, const char *file)
{
    size_t n = file ? strlen(file) : 0;
    return n && strncmp(line, "place ", 6) == 0 && strncmp(line + 6, file, n) == 0 && line[6 + n] == '\t';
}

static void go_back(struct tui *t, const char *line)
{
    char *copy = base_copy(line), *item = strchr(copy, '\t'), *path = item ? strchr(item + 1, '\t') : NULL,
         *seen = path ? strchr(path + 1, '\t') : NULL;
    if (seen)
        *seen++ = '\0';
    if (path) {
        *path++ = '\0';
        tui_settle(t);
        if (dieset_find_item(t->d, item + 1) >= 0) {
            go_to(t, item + 1, *path && dieset_find(t->d, path) >= 0 ? path : NULL);
            go_reset(t);
        }
    }
    t->visits->seen = seen ? strtol(seen, NULL, 10) : -1;
    free(copy);
}

static void take_line(struct tui *t, const char *line, const char *file)
{
    struct visits *v = t->visits;
    if (strncmp(line, "command ", 8) == 0)
        command_remember(t, line + 8);
    else if (strncmp(line, "search ", 7) == 0 && line[7])
        go_keep_search(t, line + 7);
    else if (is_place_of(line, file) && v->spot < 0)
        go_back(t, line);
}

void kept_read(struct tui *t)
{
    char *text = NULL, *path = t->o.state ? file_of(t) : NULL, *file = job_name(t);
    size_t length;
    if (path && base_read_file(path, &text, &length, NULL) == BASE_OK)
        for (char *rest = NULL, *line = strtok_r(text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest))
            take_line(t, line, file);
    free(text);
    free(path);
    free(file);
}

/* The places in other jobs, as they were kept, the latest PLACES of them. */
static void other_places(const char *path, const char *file, struct base_text *out)
{
    char *text = NULL, *lines[PLACES];
    size_t length;
    int n = 0;
    if (base_read_file(path, &text, &length, NULL) != BASE_OK)
        return;
    for (char *rest = NULL, *line = strtok_r(text, "\n", &rest); line; line = strtok_r(NULL, "\n", &rest))
        if (strncmp(line, "place ", 6) == 0 && !is_place_of(line, file))
            lines[n++ % PLACES] = line;
    for (int i = n > PLACES ? n - PLACES : 0; i < n; i++)
        base_text_addf(out, "%s\n", lines[i % PLACES]);
    free(text);
}

static long last_event(const struct tui *t)
{
    const struct typed_event *e;
    return job_history(t->job, &e, 1) ? e->seq : 0;
}

static void whole(struct tui *t, const char *path, const char *file, struct base_text *out)
{
    for (int i = 0; i < t->typed->n; i++)
        base_text_addf(out, "command %s\n", t->typed->lines[i]);
    for (int i = t->visits->n_past; i > 0; i--)
        base_text_addf(out, "search %s\n", t->visits->past[i - 1]);
    other_places(path, file, out);
    if (file && *t->item && !strpbrk(file, "\n\t"))
        base_text_addf(out, "place %s\t%s\t%s\t%ld\n", file, t->item, t->focus == PANE_STACK ? "" : t->path,
                       last_event(t));
}

/* Written beside it and put in its place: a reader finds the old one or the new one. */
static void put(const char *path, const struct base_text *text)
{
    char *fresh = base_format("%s.%ld", path, (long)getpid());
    int f = open(fresh, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
    bool good = f >= 0 && write(f, text->data, text->length) == (ssize_t)text->length;
    if (f >= 0)
        good = close(f) == 0 && good;
    if (!good || rename(fresh, path) != 0)
        unlink(fresh);
    free(fresh);
}

void kept_write(struct tui *t)
{
    struct base_text text = {0};
    if (!t->o.state)
        return;
    char *folder = base_format("%s/diewright", t->o.state), *path = file_of(t), *file = job_name(t);
    for (char *slash = strchr(folder + 1, '/'); slash; slash = strchr(slash + 1, '/')) {
        *slash = '\0';
        mkdir(folder, 0700); /* the folders above it as well: a new account may have none of them */
        *slash = '/';
    }
    mkdir(folder, 0700);
    whole(t, path, file, &text);
    if (text.length)
        put(path, &text);
    base_text_done(&text);
    free(folder);
    free(path);
    free(file);
}
