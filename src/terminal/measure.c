/* terminal/measure.c - how wide a text is, and where it is broken: no screen is asked */

#include "diewright/terminal.h"

#include <string.h>

int paint_width(const char *text)
{
    int n = 0;
    while (*text)
        n += base_char_columns(base_next_char(&text));
    return n;
}

size_t paint_fit(const char *text, int width)
{
    const char *at = text;
    while (*at) {
        const char *next = at;
        width -= base_char_columns(base_next_char(&next));
        if (width < 0)
            break;
        at = next;
    }
    return (size_t)(at - text);
}

size_t paint_wrap(const char *text, int width, size_t *skip)
{
    size_t n = paint_fit(text, width);
    *skip = 0;
    if (n == 0 && *text) {
        const char *next = text;
        base_next_char(&next);
        return (size_t)(next - text);
    }
    if (!text[n])
        return n;
    size_t end = n;
    while (end > 0 && text[end] != ' ')
        end--;
    if (end == 0)
        return n;
    *skip = strspn(text + end, " ");
    return end;
}
