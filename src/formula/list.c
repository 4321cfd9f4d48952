/* Numbers that stand in texts: lists, as people type them, "2, 3, 5 to 8", and figures among words. */

#include "diewright/formula.h"

#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

enum { LARGEST = 9999 };

static const char *skip(const char *p)
{
    while (*p == ' ')
        p++;
    return p;
}

/* One number at *P, which is moved behind it; -1: none stands there. */
static int number(const char **p)
{
    char *end;
    const char *at = skip(*p);
    if (*at < '0' || *at > '9')
        return -1;
    long n = strtol(at, &end, 10);
    *p = skip(end);
    return n >= 1 && n <= LARGEST ? (int)n : -1;
}

int formula_numbers(const char *text, int *out, int room)
{
    int count = 0, before = 0;
    const char *p = skip(text);
    while (*p) {
        int first = number(&p), last = first;
        if (first < 0)
            return -1;
        if (strncmp(p, "to ", 3) == 0) {
            p += 3;
            last = number(&p);
        }
        if (last < first || count + (last - first) >= LARGEST)
            return -1;
        if (first <= before)
            return -1;
        before = last;
        for (int n = first; n <= last; n++, count++)
            if (count < room)
                out[count] = n;
        if (*p && (*p != ',' || !*(p = skip(p + 1))))
            return -1;
    }
    return count;
}

void formula_numbers_text(const int *numbers, int n, struct base_text *out)
{
    for (int i = 0, last; i < n; i = last + 1) {
        last = i;
        while (last + 1 < n && numbers[last + 1] == numbers[last] + 1)
            last++;
        last = last - i < 2 ? i : last; /* two neighbours stand as two numbers */
        base_text_addf(out, i ? ", %d" : "%d", numbers[i]);
        if (last > i)
            base_text_addf(out, " to %d", numbers[last]);
    }
}

/* A number without a sign at *AT, which is moved behind it; ".." parts two numbers. */
static double figure(const char **at)
{
    const char *c = *at;
    double value = 0, part = 1;
    while (isdigit((unsigned char)*c))
        value = 10 * value + (*c++ - '0');
    if ((*c == '.' || *c == ',') && isdigit((unsigned char)c[1]))
        for (c++; isdigit((unsigned char)*c); c++)
            value += (*c - '0') * (part /= 10);
    *at = c;
    return value;
}

bool formula_figures(const char *text, double *least, double *most)
{
    bool any = false, about = false;
    for (const char *c = text; *c;) {
        if (!isdigit((unsigned char)*c)) {
            about = about || strncmp(c, "+-", 2) == 0 || strncmp(c, "+/-", 3) == 0 ||
                    strncmp(c, "±", 2) == 0;
            c++;
            continue;
        }
        double value = figure(&c);
        if (any && about) {
            *least -= value;
            *most += value;
            return true;
        }
        *least = any ? fmin(*least, value) : value;
        *most = any ? fmax(*most, value) : value;
        any = true;
    }
    return any;
}
