/* tui/views/stroke.c - the ram along its stroke: steps, events, gliding */

#include "tui/views/stroke.h"

#include "tui/act.h"
#include "tui/caution.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- what happens ------------------------------------------------------------------ */

static struct happening *happening_of(struct stroke *k, const struct dieset_event *e)
{
    for (int i = 0; i < k->n_happen; i++)
        if (k->happen[i].item == e->item && strcmp(k->happen[i].title, e->title) == 0)
            return &k->happen[i];
    if (k->n_happen == STROKE_EVENTS)
        return NULL;
    struct happening *h = &k->happen[k->n_happen++];
    *h = (struct happening){.item = e->item, .at = {NAN, NAN}};
    snprintf(h->title, sizeof h->title, "%.*s", (int)sizeof h->title - 1, e->title);
    return h;
}

/* Highest first; what has no height in this state last. */
static void sort(struct stroke *k, enum dieset_state s)
{
    for (int i = 1; i < k->n_happen; i++) {
        struct happening h = k->happen[i];
        int at = i;
        while (at > 0 && (k->happen[at - 1].at[s] < h.at[s] - DIESET_SAME_HEIGHT ||
                          (isnan(k->happen[at - 1].at[s]) && !isnan(h.at[s])))) {
            k->happen[at] = k->happen[at - 1];
            at--;
        }
        k->happen[at] = h;
    }
}

static void settle(struct tui *t, struct level *level)
{
    struct stroke *k = (struct stroke *)level;
    struct dieset_event events[STROKE_EVENTS];
    k->n_happen = 0;
    k->top = 0;
    for (int s = 0; s < DIESET_STATES; s++) {
        int n = dieset_events(t->d, (enum dieset_state)s, events, STROKE_EVENTS);
        for (int i = 0; i < n; i++) {
            struct happening *h = happening_of(k, &events[i]);
            if (!h)
                continue;
            h->broken = h->broken || events[i].broken;
            h->at[s] = events[i].broken ? NAN : events[i].at;
            k->top = events[i].broken ? k->top : fmax(k->top, events[i].at);
        }
    }
    sort(k, t->state);
}

int stroke_next(const struct stroke *k, enum dieset_state s, int by)
{
    int best = -1;
    for (int i = 0; i < k->n_happen; i++) {
        double ahead = by * (k->happen[i].at[s] - k->ram);
        if (ahead >= DIESET_SAME_HEIGHT && (best < 0 || ahead < by * (k->happen[best].at[s] - k->ram)))
            best = i;
    }
    return best;
}

/* ---- steps ------------------------------------------------------------------------------ */

/* The job's step of the ram, the fine one where something happens within such a step; never past what
   happens. */
static void step(struct tui *t, struct stroke *k, int by)
{
    double coarse = tui_step(t, "ram_step");
    int next = stroke_next(k, t->state, by);
    bool soon = next >= 0 && fabs(k->happen[next].at[t->state] - k->ram) < coarse - DIESET_SAME_HEIGHT;
    double size = soon ? tui_step(t, "ram_fine") : coarse;
    if (size <= 0)
        return;
    double to = round((k->ram + by * size) / size) * size; /* on the steps, wherever the last event was */
    if (by * (to - k->ram) < size / 2)
        to += by * size;
    if (next >= 0 && by * (to - k->happen[next].at[t->state]) > 0)
        to = k->happen[next].at[t->state];
    k->ram = fmax(0, fmin(to, k->top));
}

static void to_event(const struct tui *t, struct stroke *k, int by)
{
    int next = stroke_next(k, t->state, by);
    k->ram = next >= 0 ? k->happen[next].at[t->state] : by > 0 ? k->top : 0;
}

static void ram_move(struct tui *t, struct level *level, enum move m)
{
    struct stroke *k = (struct stroke *)level;
    switch (m) {
    case MOVE_LEFT: step(t, k, 1); break;
    case MOVE_RIGHT: step(t, k, -1); break;
    case MOVE_PAGE_UP: to_event(t, k, 1); break;
    case MOVE_PAGE_DOWN: to_event(t, k, -1); break;
    case MOVE_FIRST: k->ram = k->top; break;
    case MOVE_LAST: k->ram = 0; break;
    case MOVE_UP: k->first_bar--; break;
    case MOVE_DOWN: k->first_bar++; break;
    }
}

/* ---- gliding ------------------------------------------------------------------------------- */

static void idle(struct tui *t, struct level *level)
{
    struct stroke *k = (struct stroke *)level;
    step(t, k, -1);
    level->pending = k->ram > 0;
    for (int i = 0; i < k->n_happen; i++)
        if (stroke_is_at(k, &k->happen[i], t->state))
            level->pending = false;
}

/* Any key stops it; those that only stop do nothing else. */
static bool event(struct tui *t, struct level *level, const struct terminal_event *e)
{
    (void)t;
    bool glides = level->pending;
    if (e->what != TERMINAL_KEY || !glides)
        return false;
    level->pending = false;
    return e->key == 'o' || e->key == ' ' || e->key == 27 || e->key == ('C' & 31);
}

void act_glide(struct tui *t)
{
    struct stroke *k = (struct stroke *)tui_top(t);
    if (k->ram <= 0)
        k->ram = k->top;
    k->level.pending = k->ram > 0;
}

/* ---- the level -------------------------------------------------------------------------------- */

static void draw(struct tui *t, struct level *level)
{
    struct stroke *k = (struct stroke *)level;
    /* and the row of messages, while there is none */
    struct area a = {t->at.body.y, t->at.body.x, t->at.body.h + 1, t->at.body.w};
    struct area left = caution_below(t, a, -1, false, 1);
    stroke_draw(t, k, left);
}

static void done(struct level *level)
{
    free(level);
}

void act_stroke(struct tui *t)
{
    enum { PACE_MS = 80 };
    static const struct level_ops ops = {.place = AT_STROKE,
                                         .full = true,
                                         .draw = draw,
                                         .event = event,
                                         .move = ram_move,
                                         .settle = settle,
                                         .idle = idle,
                                         .done = done};
    struct stroke *k = base_alloc(sizeof *k);
    k->level.ops = &ops;
    k->level.pace_ms = PACE_MS;
    settle(t, &k->level);
    k->ram = k->top;
    tui_push(t, &k->level);
    tui_hush(t);
}
