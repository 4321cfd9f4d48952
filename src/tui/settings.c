/* tui/settings.c - see settings.h */

#include "tui/settings.h"

#include "diewright/record.h"
#include "tui/keys.h"

#include <stdlib.h>
#include <string.h>

static const char *const inks[PAINT_OWN] = {
    [PAINT_OWN_CAUTION] = "caution", [PAINT_OWN_FAULT] = "fault", [PAINT_OWN_LISTED] = "listed"};

/* As ISO 6429 numbers them; "plain" is the terminal's own. */
static const char *const colours[] = {"black", "red", "green", "yellow", "blue", "magenta", "cyan", "white"};

static bool colour_of(const char *text, short *out)
{
    enum { MOST = 255 };
    char *end;
    long number = strtol(text, &end, 10);
    for (size_t i = 0; i < COUNT_OF(colours); i++)
        if (strcmp(text, colours[i]) == 0) {
            *out = (short)i;
            return true;
        }
    *out = strcmp(text, "plain") == 0 ? PAINT_PLAIN : (short)number;
    return *out == PAINT_PLAIN || (*text && !*end && number >= 0 && number <= MOST);
}

static enum base_err take_colour(const struct record *line, short out[PAINT_OWN], struct base_diag *why)
{
    for (int i = 0; i < PAINT_OWN; i++)
        if (strcmp(line->key, inks[i]) == 0) {
            short colour;
            if (!colour_of(line->rest, &colour))
                return base_fail(why, BASE_REFUSED,
                                 "\"%s\" is no colour: one of black, red, green, yellow, blue, "
                                 "magenta, cyan, white, plain, or a number from 0 to 255.",
                                 line->rest);
            out[i] = colour;
            return BASE_OK;
        }
    return base_fail(why, BASE_REFUSED,
                     "\"%s\" has no colour of its own: these have: caution, fault, listed.", line->key);
}

static void complain(struct base_text *out, const char *path, int line, const char *what)
{
    base_text_addf(out, "%s:%d: %s\n", path, line, what);
}

static void take_part(const struct record *part, const char *path, short out[PAINT_OWN],
                      struct base_text *complaints)
{
    bool keys = strcmp(part->key, "keys") == 0;
    if (!keys && strcmp(part->key, "colours") != 0) {
        complain(complaints, path, part->line, "Own settings are of keys or of colours.");
        return;
    }
    for (const struct record *line = part->child; line; line = line->next) {
        struct base_diag why = {0};
        if (keys ? keys_take(line->key, line->rest, line->line, &why) : take_colour(line, out, &why))
            complain(complaints, path, line->line, why.message);
    }
}

void settings_read(const char *path, short out[PAINT_OWN], struct base_text *complaints)
{
    struct record_document document;
    struct base_diag why = {0};
    size_t length;
    char *text = NULL;
    int line;
    for (int i = 0; i < PAINT_OWN; i++)
        out[i] = PAINT_SHIPPED;
    keys_shipped();
    if (!path)
        return;
    if (!base_read_file(path, &text, &length, &why) && !record_read(text, length, path, &document, &why)) {
        for (const struct record *part = document.first; part; part = part->next)
            take_part(part, path, out, complaints);
        while (keys_clash(&line, &why))
            complain(complaints, path, line, why.message);
        record_done(&document);
    } else if (why.line) {
        complain(complaints, path, why.line, why.message);
    } else {
        base_text_addf(complaints, "%s\n", why.message);
    }
    free(text);
}
