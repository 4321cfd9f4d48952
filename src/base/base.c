/* Memory, arenas and growing text. */

#include "diewright/base.h"

#include <errno.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

static struct { base_no_memory_fn *hook; void *arg; } no_memory;

static struct { base_give_up_fn *hook; void *arg; long first, every, steps, next; bool given_up; } work;

void base_on_long_work(base_give_up_fn *hook, void *arg, long first, long every)
{
    work.hook = hook;
    work.arg = arg;
    work.first = first;
    work.every = every;
    base_go_on();
}

void base_go_on(void)
{
    work.steps = 0;
    work.next = work.first;
    work.given_up = false;
}

bool base_give_up(void)
{
    if (++work.steps < work.next || !work.hook || work.given_up)
        return work.given_up;
    work.next = work.steps + work.every;
    work.given_up = work.hook(work.arg);
    return work.given_up;
}

bool base_given_up(void) { return work.given_up; }
long base_steps(void) { return work.steps; }

void base_on_no_memory(base_no_memory_fn *hook, void *arg)
{
    no_memory.hook = hook;
    no_memory.arg = arg;
}

static void *checked(void *p)
{
    if (p)
        return p;
    if (no_memory.hook)
        no_memory.hook(no_memory.arg);
    abort();
}

void *base_alloc(size_t size) { return checked(calloc(1, size ? size : 1)); }
void *base_grow(void *old, size_t size) { return checked(realloc(old, size ? size : 1)); }

char *base_copy_n(const char *text, size_t n)
{
    char *copy = checked(malloc(n + 1));
    memcpy(copy, text, n);
    copy[n] = '\0';
    return copy;
}

char *base_copy(const char *text) { return text ? base_copy_n(text, strlen(text)) : NULL; }

char *base_format_args(const char *fmt, va_list args)
{
    char *out = NULL;
    int n = vasprintf(&out, fmt, args);
    return checked(n < 0 ? NULL : out);
}

char *base_format(const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    char *out = base_format_args(fmt, args);
    va_end(args);
    return out;
}

/* ---- arenas: a chain of blocks, each filled from the front --------------- */

struct base_arena_block {
    struct base_arena_block *next;
    size_t used, room;
    max_align_t bytes[];
};

/* A handbook has thousands of arenas of a few hundred bytes and a few of megabytes: start small, then
   double. */
static size_t next_room(const struct base_arena_block *last)
{
    enum { FIRST = 240, MOST = 32000 };
    if (!last)
        return FIRST;
    return last->room < MOST / 2 ? 2 * last->room : MOST;
}

void *base_arena_alloc(struct base_arena *a, size_t size)
{
    size_t step = _Alignof(max_align_t);
    size = (size + step - 1) / step * step;
    struct base_arena_block *b = a->blocks;
    if (!b || b->room - b->used < size) {
        size_t room = next_room(b);
        room = (size > room ? size : room) / step * step;
        b = base_alloc(sizeof *b + room);
        b->room = room;
        b->next = a->blocks;
        a->blocks = b;
    }
    void *p = (char *)b->bytes + b->used;
    b->used += size;
    a->bytes += size;
    return p;
}

void base_arena_done(struct base_arena *a)
{
    while (a->blocks) {
        struct base_arena_block *next = a->blocks->next;
        free(a->blocks);
        a->blocks = next;
    }
    a->bytes = 0;
}

char *base_arena_copy_n(struct base_arena *a, const char *text, size_t n)
{
    char *copy = base_arena_alloc(a, n + 1);
    memcpy(copy, text, n);
    return copy;
}

char *base_arena_copy(struct base_arena *a, const char *text)
{
    return text ? base_arena_copy_n(a, text, strlen(text)) : NULL;
}

char *base_arena_format(struct base_arena *a, const char *fmt, ...)
{
    char here[200]; /* what fits is written once */
    va_list args, again;
    va_start(args, fmt);
    va_copy(again, args);
    int n = vsnprintf(here, sizeof here, fmt, args);
    va_end(args);
    size_t size = (size_t)(n < 0 ? 0 : n) + 1;
    char *out = base_arena_alloc(a, size);
    if (size <= sizeof here)
        memcpy(out, here, size);
    else
        vsnprintf(out, size, fmt, again);
    va_end(again);
    return out;
}

/* ---- vectors and growing text ------------------------------------------- */

void *base_vec_room(void *at, size_t *room, size_t size)
{
    *room = *room ? *room * 2 : 8;
    return base_grow(at, *room * size);
}

void base_text_add_n(struct base_text *t, const char *text, size_t n)
{
    if (t->length + n + 1 > t->room) {
        t->room = (t->length + n + 1) * 2;
        t->data = base_grow(t->data, t->room);
    }
    memcpy(t->data + t->length, text, n);
    t->length += n;
    t->data[t->length] = '\0';
}

void base_text_add(struct base_text *t, const char *text) { base_text_add_n(t, text, strlen(text)); }

void base_text_addf(struct base_text *t, const char *fmt, ...)
{
    char here[200]; /* most of what is added is short */
    va_list args, again;
    va_start(args, fmt);
    va_copy(again, args);
    int n = vsnprintf(here, sizeof here, fmt, args);
    va_end(args);
    if (n >= 0 && (size_t)n < sizeof here) {
        base_text_add_n(t, here, (size_t)n);
    } else {
        char *out = base_format_args(fmt, again);
        base_text_add(t, out);
        free(out);
    }
    va_end(again);
}

void base_text_clear(struct base_text *t)
{
    t->length = 0;
    if (t->data)
        t->data[0] = '\0';
}

void base_text_done(struct base_text *t)
{
    free(t->data);
    *t = (struct base_text){0};
}

const char *base_text_get(const struct base_text *t) { return t->data ? t->data : ""; }

char *base_text_take(struct base_text *t)
{
    char *out = t->data ? t->data : base_copy("");
    *t = (struct base_text){0};
    return out;
}
