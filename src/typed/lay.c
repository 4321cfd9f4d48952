/* How a group stands: the text at "lay". */

#include "diewright/record.h"
#include "diewright/typed.h"

#include <stdio.h>
#include <string.h>

bool typed_lay_read(const char *text, struct typed_lay *out)
{
    char second[TYPED_LAY_WORD], third[TYPED_LAY_WORD];
    *out = (struct typed_lay){.with = false};
    const char *rest = record_word(text ? text : "", out->pattern, sizeof out->pattern);
    rest = record_word(record_word(rest, second, sizeof second), third, sizeof third);
    out->with = strcmp(out->pattern, "with") == 0 && *second && !*third;
    bool on = strcmp(second, "on") == 0 && *third && !*rest;
    if (out->with)
        out->pattern[0] = '\0';
    if (out->with || on)
        snprintf(out->on, sizeof out->on, "%s", out->with ? second : third);
    return out->with || on;
}

char *typed_lay_on(const char *pattern, const char *plate) { return base_format("%s on %s", pattern, plate); }

char *typed_lay_with(const char *item) { return base_format("with %s", item); }
