/* handbook/book.h - what the loader's files share
 *
 * Records stay in memory as long as the handbook: names, helps and sources point into them. Trees are kept in
 * one list, each with the line it stands in, and freed at the end. Loading goes in passes: names of kinds,
 * then all records, then the check of names and of every formula. A fault is shown in its line of the file,
 * with the mark under its place there.
 */
#ifndef DIEWRIGHT_HANDBOOK_BOOK_H
#define DIEWRIGHT_HANDBOOK_BOOK_H

#include "diewright/handbook.h"
#include "diewright/typed.h"

struct book_spot { struct formula_tree *tree; const char *file; int line; };

/* The match that sizes of a table are picked by where a formula has none of its column. */
struct apart { int table; const struct formula_tree *match; };

struct handbook {
    struct base_arena memory;
    struct base_pool *pool;
    struct table_set *tables;
    const char *folder; /* NULL: no files for tables */
    uint64_t sum;       /* of its texts */
    BASE_VEC(struct record_document) documents;
    BASE_VEC(const char *) texts; /* of the documents, whole, while they are read and checked */
    BASE_VEC(struct book_spot) spots;
    BASE_VEC(struct handbook_factor) factors;
    BASE_VEC(struct handbook_function) functions;
    BASE_VEC(struct handbook_pattern) patterns;
    BASE_VEC(struct handbook_kind) kinds;
    BASE_VEC(struct handbook_paper) papers;
    BASE_VEC(struct handbook_chain) chains;
    BASE_VEC(struct handbook_rule) rules;
    BASE_VEC(struct handbook_example) examples;
    BASE_VEC(struct handbook_work) works;
    BASE_VEC(struct handbook_source) sources;
    BASE_VEC(struct handbook_cited) cited;
    BASE_VEC(struct handbook_caution) cautions; /* of no kind */
    BASE_VEC(struct handbook_word) words;
    BASE_VEC(struct handbook_difference) differences;
    BASE_VEC(struct apart) aparts;
    struct base_map factor_names, function_names, pattern_names, kind_names, rule_names, example_names;
};

/* The record being read, for reasons. */
struct book_reader {
    struct handbook *h;
    const char *file;
    bool checked; /* the build has checked these very texts: their formulas are parsed when they are used */
    struct base_diag *why;
    bool failed;
};

/* fault.c: reasons with their place in a file */
void book_refuse(struct book_reader *r, const struct record *at, const char *fmt, ...) PRINTF_LIKE(3, 4);
/* The same with the mark under WORD, a part of the line. */
void book_refuse_word(struct book_reader *r, const struct record *at, const char *word, const char *fmt, ...)
    PRINTF_LIKE(4, 5);
/* The reason stands already (of a formula, a type): show it in the line AT. */
void book_failed(struct book_reader *r, const struct record *at);
/* Show a reason that marks a part of a line's text, or nothing yet, in the whole line. */
void book_show(const struct handbook *h, const char *file, int line, struct base_diag *why);

/* lines.c: what may stand below a record. One table for each record tells its words, in the order in which
 * the manual has them, who reads such a line and whether several may stand. Complaints about other words, and
 * what handbook_vocabulary() tells (vocabulary.c), come from it. */
struct book_word;
typedef void book_line_fn(struct book_reader *r, const struct record *line, const struct book_word *word,
                          void *into);
struct book_word {
    const char *word;
    bool several;
    book_line_fn *read; /* NULL: the record's own reader looks for it by its name (title, help, source ...) */
    size_t at;          /* for the readers below: the field of INTO that the line fills */
};
struct book_vocabulary {
    const char *record; /* "hole", "column of a paper" */
    const struct book_word *words; int n;
};
#define BOOK_VOCABULARY(record, words) {record, words, COUNT_OF(words)}
/* Refuse lines below AT that are none of V's words, and one that stands twice where one is meant; then hand
   each to its reader, in their order. */
void book_lines(struct book_reader *r, const struct record *at, const struct book_vocabulary *v, void *into);
/* Nothing may stand below AT. */
void book_no_lines(struct book_reader *r, const struct record *at);
/* fields.c */
book_line_fn book_flag;      /* bool: the line stands */
book_line_fn book_text;      /* const char *: its rest */
book_line_fn book_formula;   /* const struct formula_tree *: its rest */
book_line_fn book_value;     /* const struct formula_tree *: behind "=" */
book_line_fn book_limits;    /* struct handbook_limits: "LOW .. HIGH", or "FORMULA" each way */
book_line_fn book_sentence;  /* struct handbook_template */
book_line_fn book_one_letter; /* char */

/* What a vector holds moves into the arena; the vector is empty afterwards. */
#define BOOK_TAKE_OVER(h, to, n_to, from)                                                       \
    do {                                                                                        \
        void *copy_ = base_arena_alloc(&(h)->memory, ((from).count + 1) * sizeof *(from).at);  \
        if ((from).count)                                                                       \
            memcpy(copy_, (from).at, (from).count * sizeof *(from).at);                         \
        (to) = copy_;                                                                           \
        (n_to) = (int)(from).count;                                                            \
        base_vec_done(&(from));                                                                 \
    } while (0)

/* pieces.c: small helpers; all note a failure in r->failed with the reason placed */
const struct formula_tree *book_tree(struct book_reader *r, const struct record *at, const char *text);
/* "= formula" behind a key's rest; NULL (and a refusal) when there is none. */
const struct formula_tree *book_equals(struct book_reader *r, const struct record *at);
bool book_type(struct book_reader *r, const struct record *at, const char *text, struct handbook_type *out);
/* "name : type [= formula]" */
bool book_declaration(struct book_reader *r, const struct record *at, const char **name,
                      struct handbook_type *type, const struct formula_tree **tree);
/* The kind of a let's type until its formula is checked. */
enum { BOOK_UNTOLD = -2 };
/* "let name = formula": nothing may stand below it. */
bool book_let(struct book_reader *r, const struct record *at, const char **name,
              const struct formula_tree **tree);
struct handbook_template book_template(struct book_reader *r, const struct record *at, const char *text);
/* All lines KEY below AT as one text, joined by blanks; empty when there is none. */
struct handbook_template book_joined(struct book_reader *r, const struct record *at, const char *key);
const char *book_help(struct book_reader *r, const struct record *at);
const char *book_title(struct book_reader *r, const struct record *at, const char *name);
void book_range(struct book_reader *r, const struct record *at, const struct formula_tree **low,
                const struct formula_tree **high);
/* A name by the grammar that is no unit and no word of the language. */
bool book_name(struct book_reader *r, const struct record *at, const char *name);
/* Refuse one more than ROOM of what stands at AT. */
bool book_room(struct book_reader *r, const struct record *at, int count, int room);
/* The raw text of line LINE (1..) of a document; its length in *LENGTH. */
const char *book_line(const struct handbook *h, const char *file, int line, size_t *length);
/* Parts of TEXT between commas outside quotes and parentheses. */
int book_split(struct book_reader *r, const char *text, const char **out, int room);
struct handbook_place book_place(const struct book_reader *r, const struct record *at);

/* simple.c, kinds.c, papers.c, rules.c: one record each, and the words that may stand below it */
extern const struct book_vocabulary book_unjudged_words;
extern const struct book_vocabulary book_work_words, book_factor_words, book_function_words, book_takes_words,
    book_pattern_words, book_pattern_takes_words, book_point_words, book_table_words, book_word_words,
    book_differ_words, book_caution_words, book_kind_words, book_property_words, book_outline_words,
    book_frame_words, book_hole_words, book_body_words, book_cut_words, book_fold_words,
    book_order_words, book_event_words, book_motion_words, book_rule_words, book_rung_words,
    book_example_words, book_try_words, book_paper_words, book_paper_column_words, book_paper_row_words,
    book_chain_words, book_link_words;
void book_read_factor(struct book_reader *r, const struct record *at);
void book_read_function(struct book_reader *r, const struct record *at);
void book_read_pattern(struct book_reader *r, const struct record *at);
void book_read_table(struct book_reader *r, const struct record *at);
void book_read_word(struct book_reader *r, const struct record *at);
void book_read_differ(struct book_reader *r, const struct record *at);
void book_read_caution(struct book_reader *r, const struct record *at);
/* A line "caution" with its sources, of what is called NAME among those that lean on them. */
struct handbook_caution book_caution(struct book_reader *r, const struct record *at, const char *name);
void book_read_kind(struct book_reader *r, const struct record *at);
void book_read_paper(struct book_reader *r, const struct record *at);
void book_read_chain(struct book_reader *r, const struct record *at);
void book_read_rule(struct book_reader *r, const struct record *at);
void book_read_example(struct book_reader *r, const struct record *at);

/* sources.c: a work, and all lines "source" below AT as one text, NULL when there is none. They are kept
 * under NAME; *SEEN becomes how their prints were read. */
void book_read_work(struct book_reader *r, const struct record *at);
const char *book_sources(struct book_reader *r, const struct record *at, const char *name, const char **seen);
/* Those of the parts tables beside them; then each print once, class by class. */
void book_table_sources(struct handbook *h);
void book_gather_cited(struct handbook *h);

/* names.c: names against each other, and what records say of other records */
void book_check_names(struct book_reader *r);
/* check.c: every formula against declared types */
enum base_err book_check(struct handbook *h, struct base_diag *why);

/* Of all that book_check() does only what others rely on: the types of the kinds' lets. For texts that were
 * checked before. */
enum base_err book_tell_lets(struct handbook *h, struct base_diag *why);

#endif
