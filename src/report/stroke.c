/* The stroke sheet: what happens as the ram comes down, and how everything stands at that height.
 *
 * Events at one height stand together, in the order of the job's items, and what stands then is told once for
 * all of them. In CSV and JSON every row tells its state and height; the text form tells them where they
 * begin.
 */

#include "report/words.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>

enum { MOST_EVENTS = 64, MOST_MOTIONS = 64 };

/* State and height, each for data and for the text form, where they stand only when they begin. */
struct place { enum dieset_state state; double height; bool new_state, new_height; };

static void put_place(struct report_paper *p, struct dieset *d, struct place at)
{
    report_text(p, words_state(at.state, true));
    report_text(p, at.new_state ? words_state(at.state, true) : NULL);
    words_length(p, d, at.height);
    words_length(p, d, at.new_height ? at.height : NAN);
}

static void event_row(struct dieset *d, struct report_paper *p, struct place at, const struct dieset_event *e)
{
    put_place(p, d, at);
    report_text(p, e->title);
    report_text(p, dieset_item_name(d, e->item));
    report_text(p, NULL); /* what */
    report_text(p, NULL);
    report_text(p, NULL);
    report_text(p, NULL); /* unit */
    report_text(p, e->title);
    if (e->broken)
        report_line_below(p, "%s: %s, at a height that cannot be worked out.",
                          at.state == DIESET_NEW ? "New" : "Ground", e->title);
}

/* "push (stripper springs)"; what is of a thing there is one of needs no name. */
static void put_words(struct dieset *d, struct report_paper *p, const struct dieset_motion *m)
{
    const struct handbook_kind *k = handbook_kind(dieset_handbook(d), dieset_item_kind(d, m->item));
    char *words = k->single ? base_format("  %s", m->motion->title)
                            : base_format("  %s (%s)", m->motion->title, dieset_item_title(d, m->item));
    report_text(p, words);
    free(words);
}

static void motion_row(struct dieset *d, struct report_paper *p, struct place at,
                       const struct dieset_motion *m)
{
    put_place(p, d, at);
    report_text(p, NULL); /* event */
    report_text(p, dieset_item_name(d, m->item));
    report_text(p, m->motion->title);
    struct unit_display u = words_display(d, m->motion->type.type, m->value, m->value);
    words_value(p, d, m->value, m->motion->type.type, -1, u);
    report_text(p, m->value.error ? NULL : u.name);
    put_words(d, p, m);
}

static bool together(const struct dieset_event *a, const struct dieset_event *b)
{
    return a->broken == b->broken && (a->broken || fabs(a->at - b->at) < DIESET_SAME_HEIGHT);
}

static void put_state(struct dieset *d, struct report_paper *p, enum dieset_state s)
{
    struct dieset_event events[MOST_EVENTS];
    struct dieset_motion motions[MOST_MOTIONS];
    int n = dieset_events(d, s, events, MOST_EVENTS);
    for (int i = 0, next; i < n; i = next) {
        double height = events[i].broken ? NAN : events[i].at;
        for (next = i; next < n && together(&events[i], &events[next]); next++)
            event_row(d, p, (struct place){s, height, next == 0, next == i}, &events[next]);
        int m = events[i].broken ? 0 : dieset_motions(d, s, height, motions, MOST_MOTIONS);
        for (int k = 0; k < m; k++)
            motion_row(d, p, (struct place){.state = s, .height = height}, &motions[k]);
    }
}

void report_stroke(struct dieset *d, struct report_paper *p)
{
    char height[40];
    const struct report_column columns[] = {
        {"state", NULL, false},
        {NULL, "state", false},
        {"height", NULL, true},
        {NULL, height, true},
        {"event", NULL, false},
        {"item", NULL, false},
        {"what", NULL, false},
        {"value", NULL, true},
        {NULL, "value", true},
        {"unit", "", false},
        {NULL, "what happens, and how things stand then", false},
    };
    snprintf(height, sizeof height, "%s above shut", unit_display(UNIT_LENGTH, dieset_system(d)).name);
    report_begin(p, columns, COUNT_OF(columns));
    report_line_above(p, "As the ram comes down:");
    for (int s = 0; s < DIESET_STATES; s++)
        put_state(d, p, (enum dieset_state)s);
    words_elsewhere(p, d);
}
