/* tui/outline.c - lines of an outline: rows of the form, one added by `a`, all of them by the command row
 *
 * A line is changed in its row as any value is, and taken out by `-`. A new one is typed in the message row
 * and tried at every key; Enter takes it and asks for the next, an empty line ends that.
 */

#include "tui/outline.h"

#include "tui/edits.h"
#include "tui/form.h"
#include "tui/go.h"
#include "tui/line.h"
#include "tui/outcome.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* "blank.outline.3" as its two parts; the subject of the row in which a line is typed. */
static int part_subject(const char *subject, char *item, size_t size)
{
    snprintf(item, size, "%.*s", (int)strcspn(subject, "."), subject);
    const char *number = strrchr(subject, '.');
    return number ? atoi(number + 1) : 0;
}

static void ask_line(struct tui *t, const char *item, int line, const char *text);

static void line_typed(struct tui *t, const char *subject, const char *text)
{
    char item[PATH_MOST];
    struct base_diag why = {0};
    int line = part_subject(subject, item, sizeof item);
    edit_drop(t);
    if (!*text) {
        tui_changed(t);
        tui_say(t, "the outline has %d lines", dieset_outline_lines(t->d, dieset_find_item(t->d, item)));
        return;
    }
    if (job_outline_insert(t->job, item, line, text, &why) != BASE_OK) {
        tui_changed(t);
        ask_line(t, item, line, text);
        return;
    }
    bool taken = edit_take(t);
    tui_settle(t);
    if (!taken)
        return;
    char message[900];
    snprintf(message, sizeof message, "%s", tui_said(t));
    go_to(t, item, subject);
    tui_say(t, "%s", message);
    ask_line(t, item, line + 1, "");
}

/* The sentence without the path that the row's title tells anyway. */
static const char *behind_path(const char *sentence)
{
    const char *at = strstr(sentence, ": ");
    return strstr(sentence, ".outline") && at ? at + 2 : sentence;
}

static void line_changed(struct tui *t, struct line *l)
{
    char item[PATH_MOST];
    int line = part_subject(l->subject, item, sizeof item);
    edit_drop(t);
    if (!*field_text(l->field))
        base_text_add(&l->above, line == 1 ? "at X, Y: where it starts, from the station's point"
                                           : "line to X, Y   arc to X, Y radius R left   by for to: from the "
                                             "line before   no cut   empty: done");
    else if (job_outline_insert(t->job, item, line, field_text(l->field), &l->why) != BASE_OK)
        base_text_add(&l->above, behind_path(l->why.message));
    else {
        struct base_text flaw = {0};
        l->why.message[0] = '\0';
        if (dieset_outline_flaw(t->d, dieset_find_item(t->d, item), &flaw))
            base_text_add(&l->above, behind_path(base_text_get(&flaw)));
        else
            edit_outcome_line(t, &l->above);
        base_text_done(&flaw);
    }
    tui_changed(t);
}

static void ask_line(struct tui *t, const char *item, int line, const char *text)
{
    char *title = base_format("line %d of the outline: ", line),
         *subject = base_format("%s.outline.%d", item, line);
    struct line *l = line_open(t, title, subject, text, line_typed);
    l->changed = line_changed;
    line_changed(t, l);
    free(title);
    free(subject);
}

bool outline_add_here(struct tui *t)
{
    int item = dieset_find_item(t->d, t->item), q = form_quantity(t);
    struct typed_path at = typed_path_read(q >= 0 ? dieset_quantity(t->d, q)->entry : "");
    bool on_line = at.place == TYPED_AT_LINE;
    if (!tui_pane_has_keys(t, AT_FORM) || !dieset_outlined(t->d, item) ||
        (!on_line && dieset_outline_lines(t->d, item) > 0))
        return false;
    ask_line(t, t->item, on_line ? at.number + 1 : 1, on_line ? "" : "at 0, 0");
    return true;
}

void outline_run(struct tui *t, const char *item, const char *text)
{
    struct base_diag why = {0};
    char *copy = base_copy(text), *rest = NULL;
    BASE_VEC(const char *) lines = {0};
    for (char *line = strtok_r(copy, ";\n", &rest); line; line = strtok_r(NULL, ";\n", &rest)) {
        line += strspn(line, " ");
        if (*line)
            base_vec_push(&lines, line);
    }
    if (job_outline(t->job, item, lines.at, (int)lines.count, &why) != BASE_OK)
        tui_complain(t, "%s", why.message);
    else
        edit_take(t);
    tui_changed(t);
    base_vec_done(&lines);
    free(copy);
}
