/* The explore bench. */

#include "explore.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct handbook *shipped;

void bench_open_handbook(void) { ck_ok(handbook_load("data", &shipped, why)); }

void bench_close_handbook(void)
{
    handbook_free(shipped);
    shipped = NULL;
}

void bench_open(struct bench *b, const char *job)
{
    struct dieset_text t;
    char *text = read_text(job);
    b->h = shipped;
    ck_ok(dieset_text_read(b->h, text, job, &t, why));
    ck_ok(dieset_new(b->h, NULL, &b->d, why));
    ck_ok(dieset_text_load(&t, b->d, why));
    b->f = findings_new(b->d);
    dieset_text_done(&t);
    free(text);
}

void bench_close(struct bench *b)
{
    findings_free(b->f);
    dieset_free(b->d);
    *b = (struct bench){0};
}

struct explore *bench_run(struct bench *b, const char *path, const char *from, const char *to,
                          const char *step, const char *show)
{
    enum { ROOM = 20 };
    int shown[ROOM];
    struct explore_ask ask;
    struct explore *x = NULL;
    ck_ok(explore_read(b->d, path, from, to, step, &ask, why));
    char *names = base_copy(show), *place = NULL;
    for (char *name = strtok_r(names, " ", &place); name; name = strtok_r(NULL, " ", &place)) {
        shown[ask.n_show] = dieset_find(b->d, name);
        ck_assert_msg(ask.n_show < ROOM && shown[ask.n_show] >= 0, "there is no %s", name);
        ask.n_show++;
    }
    free(names);
    ask.show = shown;
    ck_ok(explore_run(b->f, &ask, &x, why));
    return x;
}
