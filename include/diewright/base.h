/* diewright/base.h - strings, vectors, maps, arenas and reasons
 *
 * The ground floor: no units, no trade, no files but whole-file reading.
 * Ownership: _init/_done for embedded things, _new/_free for the heap.
 * Errors: a call that may fail returns enum base_err and puts one plain
 * sentence into *why. Lack of memory ends the program through one hook.
 */
#ifndef DIEWRIGHT_BASE_H
#define DIEWRIGHT_BASE_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define NODISCARD __attribute__((warn_unused_result))
#define PRINTF_LIKE(f, a) __attribute__((format(printf, f, a)))
#define COUNT_OF(a) (sizeof(a) / sizeof((a)[0]))

enum base_err {
    BASE_OK = 0,
    BASE_REFUSED,    /* wrong input: unknown name, wrong unit, cycle */
    BASE_UNKNOWN,    /* a name that is not there (a kind of refusal) */
    BASE_UNREADABLE, /* a file that cannot be read, is damaged or foreign */
    BASE_NOT_SAVED,  /* the edit stands in memory only */
    BASE_CONFLICT,   /* the value typed over has changed meanwhile */
};

/* The reason of a failure: one plain sentence and, where it applies, the place. */
struct base_diag {
    enum base_err code;
    char message[600]; /* a whole sentence without the place */
    char file[200];    /* "" when not about a file */
    int line;          /* 1.. in file, 0 when not about a line */
    char source[400];  /* the text that was being read, "" if none */
    int start;         /* byte offset of the fault in source */
    int length;        /* bytes to mark, 0: no mark */
};

/* Fill *WHY (may be NULL) and return CODE. Leaves file, line, source empty. */
enum base_err base_fail(struct base_diag *why, enum base_err code, const char *fmt, ...)
    PRINTF_LIKE(3, 4);
enum base_err base_fail_args(struct base_diag *why, enum base_err code, const char *fmt, va_list args)
    PRINTF_LIKE(3, 0);

/* Add the source text and the marked span to a reason; WHY may be NULL. */
void base_diag_mark(struct base_diag *why, const char *source, int start, int length);

/* Add the file and line to a reason that has none yet; WHY may be NULL. */
void base_diag_place(struct base_diag *why, const char *file, int line);

/* ---- memory ------------------------------------------------------------- */

typedef void base_no_memory_fn(void *arg);

/* Called once before the program aborts for lack of memory (a screen leaves curses). */
void base_on_no_memory(base_no_memory_fn *hook, void *arg);

void *base_alloc(size_t size);             /* zeroed, never NULL; free() it */
void *base_grow(void *old, size_t size);   /* realloc that never returns NULL */
char *base_copy(const char *text);         /* NULL stays NULL */
char *base_copy_n(const char *text, size_t n);
char *base_format(const char *fmt, ...) PRINTF_LIKE(1, 2); /* yours to free() */

char *base_format_args(const char *fmt, va_list args) PRINTF_LIKE(1, 0);

/* ---- long work ----------------------------------------------------------
 *
 * What may take seconds tells each of its steps (a formula bound or worked out, a rule tried), and ends early
 * once it is to be given up. Whoever asked for it then drops what was begun, whole. Whether to give up is
 * asked of a face's hook: after FIRST steps, then after each EVERY more. Steps are counted, not timed, so
 * that the same work is asked about at the same place on every machine. Without a hook nothing is given up.
*/
typedef bool base_give_up_fn(void *arg);
/* NULL: no hook; counts from nothing */
void base_on_long_work(base_give_up_fn *hook, void *arg, long first, long every);
bool base_give_up(void);         /* before one step more; true from then on, once it is to be given up */
bool base_given_up(void);
void base_go_on(void);           /* a face, before the next thing: counts from nothing, nothing is given up */
long base_steps(void);           /* told since */
/* "Given up ..."; BASE_REFUSED. */
enum base_err base_fail_given_up(struct base_diag *why);



/* Many small things with one end. */
struct base_arena { struct base_arena_block *blocks; size_t bytes; };
void base_arena_done(struct base_arena *a);
void *base_arena_alloc(struct base_arena *a, size_t size); /* zeroed, aligned */
char *base_arena_copy(struct base_arena *a, const char *text);
char *base_arena_copy_n(struct base_arena *a, const char *text, size_t n);
char *base_arena_format(struct base_arena *a, const char *fmt, ...) PRINTF_LIKE(2, 3);

/* ---- vectors ------------------------------------------------------------ */

/* struct { int *at; size_t count, room; } for any element type. Start zeroed. */
#define BASE_VEC(type) struct { type *at; size_t count, room; }
#define base_vec_push(v, x)                                                          \
    ((v)->count == (v)->room                                                         \
         ? (void)((v)->at = base_vec_room((v)->at, &(v)->room, sizeof *(v)->at))     \
         : (void)0,                                                                  \
     (v)->at[(v)->count++] = (x))
#define base_vec_done(v) (free((v)->at), (v)->at = NULL, (v)->count = (v)->room = 0)
void *base_vec_room(void *at, size_t *room, size_t size); /* for the macro */

/* ---- growing text ------------------------------------------------------- */

struct base_text { char *data; size_t length, room; }; /* data is "" -terminated or NULL when empty */
void base_text_add(struct base_text *t, const char *text);
void base_text_add_n(struct base_text *t, const char *text, size_t n);
void base_text_addf(struct base_text *t, const char *fmt, ...) PRINTF_LIKE(2, 3);
void base_text_clear(struct base_text *t);
void base_text_done(struct base_text *t);
const char *base_text_get(const struct base_text *t); /* "" when empty */
char *base_text_take(struct base_text *t);            /* yours to free(); t is empty after */

/* ---- characters ----------------------------------------------------------

   * All texts are UTF-8. A *hidden* character is one that a reader does not see, or that steers what shows
   it: controls, * direction marks, other format characters. It never leaves the program as it is: its
   *visible form* is "<U+202E>", that of a * byte which is no UTF-8 "<9B>". What prints goes through
   base_text_add_visible(), what draws cells through base_next_char(). */

/* The character at TEXT, of which LEFT bytes are there, into *CH; its bytes, 0 where there is none. */
size_t base_char(const char *text, size_t left, uint32_t *ch);
bool base_char_hidden(uint32_t ch);
int base_char_columns(uint32_t ch); /* of one that is not hidden: 0 (a combining mark), 1 or 2 */
/* The next character of a text that is not at its end, moved on; '?' for one that is hidden and for a stray
   byte. */
uint32_t base_next_char(const char **text);
/* Where the character that ends before AT begins. */
size_t base_char_start(const char *text, size_t at);
/* As many bytes of TEXT, MOST at most, as end between two characters. */
size_t base_char_fit(const char *text, size_t most);
/* Bytes of the character or stray byte at TEXT; the columns of its visible form are added to *COLUMNS. */
size_t base_step(const char *text, size_t left, int *columns);
/* How many of the first N bytes are blanks and what ASCII prints, up to the first other. */
size_t base_plain(const char *text, size_t n);
int base_columns(const char *text, size_t n); /* of the visible form of N bytes */
/* The visible form of N bytes; with LINES the ends of lines, "\n" and "\r\n", stay what they are. */
void base_text_add_visible(struct base_text *t, const char *text, size_t n, bool lines);
size_t base_char_write(char out[5], uint32_t ch); /* ended with "\0"; its bytes without that */

/* ---- maps and names ----------------------------------------------------- */

/* Text to whole number. Keys are copied. No order: nothing walks a map. */
struct base_map { struct base_map_cell *cells; size_t count, room; };
void base_map_put(struct base_map *m, const char *key, int value); /* replaces */
bool base_map_get(const struct base_map *m, const char *key, int *value); /* value may be NULL */
void base_map_done(struct base_map *m);

/* Texts as small whole numbers, so that a text can travel where a number does.
 * The same text has the same number for the life of the pool. "" is 0. */
struct base_pool;
struct base_pool *base_pool_new(void);
void base_pool_free(struct base_pool *p);
int base_pool_put(struct base_pool *p, const char *text);
int base_pool_find(const struct base_pool *p, const char *text); /* -1 when never put */
const char *base_pool_text(const struct base_pool *p, int number);

/* ---- odds and ends ------------------------------------------------------ */

/* A whole file as text; *OUT is yours to free(), "\0"-terminated, *LENGTH may be NULL. */
NODISCARD enum base_err base_read_file(const char *path, char **out, size_t *length,
                                       struct base_diag *why);

/* How far WORD is from OTHER in single-letter edits; for "did you mean". */
int base_distance(const char *word, const char *other);

/* Append up to three of NAMES nearest to WORD, as "a, b or c"; nothing when none is near. */
void base_nearest(struct base_text *out, const char *word, const char *const *names, size_t count);

/* Is TEXT a day of the calendar, as "2026-11-24" (ISO 8601)? */
bool base_is_date(const char *text);

/* A hash of bytes that is the same on every machine (FNV-1a, 64 bits). */
uint64_t base_hash(const void *bytes, size_t length);

#endif
