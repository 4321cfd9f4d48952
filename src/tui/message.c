/* tui/message.c - what is said in the message row, and at which level */

#include "tui/message.h"

#include "tui/tui.h"

#include <stdio.h>
#include <stdlib.h>

const char tui_too_long[] = "what was pasted is longer than a line takes; nothing of it was taken";

static void put_message(struct tui *t, bool trouble, const char *fmt, va_list args) PRINTF_LIKE(3, 0);
static void put_message(struct tui *t, bool trouble, const char *fmt, va_list args)
{
    char text[900];
    vsnprintf(text, sizeof text, fmt, args);
    tui_hush(t);
    base_text_add(&t->message.text, text);
    t->message.trouble = trouble;
    t->message.level = tui_depth(t);
}

void tui_say(struct tui *t, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    put_message(t, false, fmt, args);
    va_end(args);
}

void tui_complain(struct tui *t, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    put_message(t, true, fmt, args);
    va_end(args);
}

void tui_hush(struct tui *t) { base_text_clear(&t->message.text); }

const char *tui_said(const struct tui *t) { return base_text_get(&t->message.text); }

bool tui_complained(const struct tui *t) { return t->message.trouble; }

bool tui_told(const struct tui *t) { return t->message.text.length && t->message.level >= tui_depth(t); }

void tui_warn(struct tui *t)
{
    const char *warning = job_warning(t->job);
    if (*warning)
        tui_complain(t, "%s", warning);
}

/* In the message row; what is longer takes the row above as well. */
void tui_message_row(struct tui *t, enum ink ink, const char *text)
{
    struct area a = t->at.message;
    size_t skip, n = paint_wrap(text, a.w - 2, &skip);
    bool two = text[n] != '\0';
    struct area rows = {a.y - two, a.x, 1 + two, a.w};
    for (int y = 0; y < rows.h; y++)
        for (int x = 0; x < rows.w; x++)
            paint_char(&t->p, rows, y, x, INK_PLAIN, ' ');
    char *first = base_copy_n(text, n);
    paint_text(&t->p, rows, 0, 1, ink, first);
    free(first);
    if (two)
        paint_text(&t->p, rows, 1, 1, ink, text + n + skip);
}

void tui_progress(struct tui *t, const char *text)
{
    tui_message_row(t, INK_DIM, text);
    paint_send_now(&t->p);
}
