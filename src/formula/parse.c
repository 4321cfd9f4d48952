/* Text to tree, by the grammar of the manual (diewright-formula), loosest rule last.
 *
 * One function a rule; each returns NULL when it has put the reason into p->why. Depth is counted, so that a
 * text of a thousand parentheses is refused and not the stack's end found.
 */

#include "formula/tree.h"

#include <ctype.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { DEEPEST = 200, LONGEST = 1000 };

struct parser {
    struct formula_tree *tree;
    const char *text;
    int at;     /* next byte */
    int depth;
    struct base_diag *why;
};

static struct node *parse_choice(struct parser *p);

static struct node *refuse(struct parser *p, int start, int length, const char *fmt, ...) PRINTF_LIKE(4, 5);

static struct node *refuse(struct parser *p, int start, int length, const char *fmt, ...)
{
    va_list args;
    va_start(args, fmt);
    base_fail_args(p->why, BASE_REFUSED, fmt, args);
    va_end(args);
    base_diag_mark(p->why, p->text, start, length > 0 ? length : 1);
    return NULL;
}

static struct node *too_deep(struct parser *p)
{
    return refuse(p, p->at, 1, "This formula is nested too deep; give parts of it names.");
}

static struct node *new_node(struct parser *p, enum node_what what, int start)
{
    struct node *n = base_arena_alloc(&p->tree->memory, sizeof *n);
    n->what = what;
    n->start = start;
    return n;
}

static struct node *close_node(struct parser *p, struct node *n)
{
    int end = p->at;
    while (end > n->start && p->text[end - 1] == ' ')
        end--;
    n->length = end - n->start;
    return n;
}

static void skip(struct parser *p)
{
    while (p->text[p->at] == ' ')
        p->at++;
}

static bool letter(char c) { return isalpha((unsigned char)c) || c == '_'; }
static bool digit(char c) { return c >= '0' && c <= '9'; }

static int word_length(const char *t)
{
    int n = 0;
    if (letter(*t))
        while (letter(t[n]) || digit(t[n]))
            n++;
    return n;
}

static bool is_word(const char *t, int n, const char *word)
{
    return n == (int)strlen(word) && strncmp(t, word, (size_t)n) == 0;
}

/* The word WORD stands next (and ends there); moves behind it. */
static bool take_word(struct parser *p, const char *word)
{
    skip(p);
    int n = word_length(p->text + p->at);
    if (!is_word(p->text + p->at, n, word))
        return false;
    p->at += n;
    return true;
}

static bool take(struct parser *p, const char *sign)
{
    skip(p);
    size_t n = strlen(sign);
    if (strncmp(p->text + p->at, sign, n) != 0)
        return false;
    p->at += (int)n;
    return true;
}

/* ---- quantities ------------------------------------------------------------- */

static int digits_at(const char *t)
{
    int n = 0;
    while (digit(t[n]))
        n++;
    return n;
}

/* "3/8": bytes it takes, 0 when it is none. */
static int simple_fraction(const char *t, double *value)
{
    int top = digits_at(t), below = top && t[top] == '/' ? digits_at(t + top + 1) : 0;
    double under = below ? strtod(t + top + 1, NULL) : 0;
    if (under == 0)
        return 0;
    *value = strtod(t, NULL) / under;
    return top + 1 + below;
}

/* "3/8" or "1 1/4": bytes it takes, 0 when it is none. */
static int mixed_fraction(const char *t, double *value)
{
    int n = simple_fraction(t, value), digits = digits_at(t), start = digits + (int)strspn(t + digits, " ");
    if (n || !digits || start == digits || !(n = simple_fraction(t + start, value)))
        return n;
    *value += strtod(t, NULL);
    return start + n;
}

/* Such before a unit. Without a unit a stroke divides. */
static int fraction_at(const char *t, double *value)
{
    struct unit_dim dim;
    double factor;
    int n = mixed_fraction(t, value);
    const char *after = t + n + strspn(t + n, " ");
    return n && *after != '/' && *after != '%' && unit_scan(after, &dim, &factor) ? n : 0;
}

/* Bytes of a decimal, 0 when there is none: digits, point, exponent. */
static int decimal_at(const char *t)
{
    int n = digits_at(t);
    if (t[n] == '.') {
        int m = digits_at(t + n + 1);
        if (n || m)
            n += 1 + m;
    }
    if (n && (t[n] == 'e' || t[n] == 'E')) {
        int sign = t[n + 1] == '+' || t[n + 1] == '-', m = digits_at(t + n + 1 + sign);
        if (m)
            n += 1 + sign + m;
    }
    return n;
}

char *formula_number_alone(const char *text, bool fraction, bool *bare)
{
    const char *t = text + strspn(text, " ");
    bool minus = *t == '-';
    t += minus ? 1 + strspn(t + 1, " ") : 0;
    double ignored;
    struct unit_dim dim;
    int n = mixed_fraction(t, &ignored), comma = n ? 0 : digits_at(t);
    if (n && !fraction && !t[n + (int)strspn(t + n, " ")])
        return NULL; /* a quotient */
    if (!n) {
        bool has_comma = comma && t[comma] == ',' && digits_at(t + comma + 1);
        n = has_comma ? comma + 1 + digits_at(t + comma + 1) : decimal_at(t);
        comma = has_comma ? comma : 0;
    }
    if (!n || !isfinite(strtod(t, NULL)))
        return NULL;
    const char *behind = t + n + strspn(t + n, " ");
    size_t unit = unit_scan(behind, &dim, &ignored);
    if (behind[unit + strspn(behind + unit, " ")])
        return NULL;
    *bare = !unit;
    char *out = base_format("%s%s", minus ? "-" : "", t);
    if (comma)
        out[minus + comma] = '.';
    out[strlen(out) - strspn(behind + unit, " ")] = '\0';
    return out;
}

/* Behind a number without unit only an operator may stand. */
static struct node *end_of_bare(struct parser *p, struct node *n)
{
    int blanks = (int)strspn(p->text + p->at, " ");
    const char *w = p->text + p->at + blanks;
    int word = word_length(w);
    if (word && !is_word(w, word, "and") && !is_word(w, word, "or"))
        return refuse(p, p->at + blanks, word,
                      "\"%.*s\" is no unit; behind a number stands a unit or an operator.", word, w);
    n->bare = true;
    return close_node(p, n);
}

/* LENGTH bytes of a number at START, a comma and a digit behind them. */
static struct node *refuse_comma(struct parser *p, int start, int length)
{
    const char *t = p->text + start;
    int more = digits_at(t + length + 1), whole = length + 1 + more;
    if (memchr(t, '.', (size_t)length) || strchr(".,", t[whole] ? t[whole] : ' '))
        return refuse(p, start, whole,
                      "A number has one point, no comma, and no marks between its thousands.");
    return refuse(p, start, whole,
                  "A comma here could part two values or stand for a point: write %.*s.%.*s, or %.*s, %.*s.",
                  length, t, more, t + length + 1, length, t, more, t + length + 1);
}

static struct node *parse_quantity(struct parser *p)
{
    int start = p->at;
    const char *t = p->text + start;
    struct node *n = new_node(p, NODE_NUMBER, start);
    int length = fraction_at(t, &n->number);
    if (!length) {
        length = decimal_at(t);
        n->number = strtod(t, NULL);
    }
    if (!isfinite(n->number))
        return refuse(p, start, length, "This number is too large.");
    if (t[length] == ',' && digit(t[length + 1]))
        return refuse_comma(p, start, length);
    p->at += length;
    int blanks = (int)strspn(p->text + p->at, " ");
    double factor;
    const char *behind = p->text + p->at + blanks;
    struct unit_dim dim;
    size_t unit = unit_scan(behind, &dim, &factor);
    if (!unit || (behind[0] == '/' && behind[unit] == '(')) /* "10 /min(2, 4)" divides */
        return end_of_bare(p, n);
    n->dim = dim;
    n->number *= factor;
    start = p->at + blanks;
    p->at += blanks + (int)unit;
    skip(p);
    if (p->text[p->at] == '^')
        return refuse(p, start, p->at + 2 - start,
                      "A power behind a unit could be meant in two ways: write 2 mm2, or (2 mm)^2.");
    return close_node(p, n);
}

/* ---- atoms -------------------------------------------------------------------- */

static struct node *parse_text(struct parser *p)
{
    struct node *n = new_node(p, NODE_TEXT, p->at);
    const char *open = p->text + p->at + 1, *close = strchr(open, '"');
    if (!close)
        return refuse(p, p->at, (int)strlen(p->text) - p->at,
                      "The text that begins here has no closing quote.");
    n->name = base_arena_copy_n(&p->tree->memory, open, (size_t)(close - open));
    p->at = (int)(close + 1 - p->text);
    return close_node(p, n);
}

/* "name:" is an argument by name. */
static const char *argument_name(struct parser *p)
{
    skip(p);
    int n = word_length(p->text + p->at), blanks = (int)strspn(p->text + p->at + n, " ");
    if (!n || p->text[p->at + n + blanks] != ':')
        return NULL;
    const char *name = base_arena_copy_n(&p->tree->memory, p->text + p->at, (size_t)n);
    p->at += n + blanks + 1;
    return name;
}

static struct node *unclosed_call(struct parser *p, const struct node *call)
{
    skip(p);
    if (p->text[p->at])
        return refuse(p, p->at, 1, "A comma or \")\" is wanted here.");
    return refuse(p, call->start, (int)strlen(call->name) + 1, "The parenthesis of %s( is not closed.",
                  call->name);
}

static struct node *parse_arguments(struct parser *p, struct node *call)
{
    struct argument **next = &call->arguments;
    bool named = false;
    if (take(p, ")"))
        return close_node(p, call);
    do {
        struct argument *a = base_arena_alloc(&p->tree->memory, sizeof *a);
        skip(p);
        a->start = p->at;
        a->name = argument_name(p);
        if (!a->name && named)
            return refuse(p, a->start, 1,
                          "Arguments without a name come first; this one needs its name and a colon.");
        named = named || a->name;
        a->value = parse_choice(p);
        if (!a->value)
            return NULL;
        *next = a;
        next = &a->next;
    } while (take(p, ","));
    return take(p, ")") ? close_node(p, call) : unclosed_call(p, call);
}

static struct node *parse_path(struct parser *p, int start, const char *const *parts, int count)
{
    struct node *path = new_node(p, NODE_PATH, start);
    const char **copy = base_arena_alloc(&p->tree->memory, (size_t)count * sizeof *copy);
    memcpy(copy, parts, (size_t)count * sizeof *copy);
    path->parts = copy;
    path->n_parts = count;
    close_node(p, path); /* blanks behind the name were passed already */
    path->name = base_arena_copy_n(&p->tree->memory, p->text + start, (size_t)path->length);
    return path;
}

static struct node *parse_yesno(struct parser *p)
{
    int start = p->at, n = word_length(p->text + start);
    bool yes = is_word(p->text + start, n, "yes");
    if ((!yes && !is_word(p->text + start, n, "no")) || p->text[start + n] == '.' ||
        p->text[start + n] == '(')
        return NULL;
    p->at += n;
    struct node *y = new_node(p, NODE_YESNO, start);
    y->number = yes;
    return close_node(p, y);
}

static struct node *parse_name(struct parser *p)
{
    int start = p->at, count = 0;
    const char *parts[8];
    struct node *yesno = parse_yesno(p);
    if (yesno)
        return yesno;
    for (;;) {
        int n = word_length(p->text + p->at);
        if (!n)
            return refuse(p, p->at ? p->at - 1 : 0, 1, "A name is wanted behind the point.");
        if (count == (int)COUNT_OF(parts))
            return refuse(p, start, p->at - start, "This name has too many parts.");
        parts[count++] = base_arena_copy_n(&p->tree->memory, p->text + p->at, (size_t)n);
        p->at += n;
        if (p->text[p->at] != '.')
            break;
        p->at++;
    }
    if (count == 1 && take(p, "(")) {
        struct node *call = new_node(p, NODE_CALL, start);
        call->name = parts[0];
        return parse_arguments(p, call);
    }
    return parse_path(p, start, parts, count);
}

static struct node *parse_inside(struct parser *p)
{
    int start = p->at++;
    struct node *inside = parse_choice(p);
    if (!inside || take(p, ")"))
        return inside;
    return p->text[p->at] ? refuse(p, p->at, 1, "\")\" or an operator is wanted here.")
                          : refuse(p, start, 1, "This parenthesis is not closed.");
}

static struct node *parse_atom(struct parser *p)
{
    skip(p);
    int start = p->at;
    char c = p->text[start];
    if (digit(c) || (c == '.' && digit(p->text[start + 1])))
        return parse_quantity(p);
    if (c == '"')
        return parse_text(p);
    if (letter(c))
        return parse_name(p);
    if (c == '(')
        return parse_inside(p);
    if (c == '\0')
        return refuse(p, start ? start - 1 : 0, 1,
                      start ? "A value is wanted behind this."
                            : "There is nothing here: write a value or a formula.");
    int columns = 0, letter_bytes = (int)base_step(p->text + start, strnlen(p->text + start, 4), &columns);
    return refuse(p, start, letter_bytes, "A value is wanted here; \"%.*s\" does not begin one.",
                  letter_bytes, p->text + start);
}

/* ---- operators, tightest first ----------------------------------------------------- */

static struct node *join(struct parser *p, enum node_what what, struct node *a, struct node *b)
{
    if (!b)
        return NULL;
    struct node *n = new_node(p, what, a->start);
    n->a = a;
    n->b = b;
    return close_node(p, n);
}

static struct node *join_one(struct parser *p, enum node_what what, int start, struct node *a)
{
    if (!a)
        return NULL;
    struct node *n = new_node(p, what, start);
    n->a = a;
    return close_node(p, n);
}

static struct node *parse_signed(struct parser *p);

static struct node *parse_power(struct parser *p)
{
    struct node *a = parse_atom(p);
    if (a && take(p, "^"))
        return join(p, NODE_POWER, a, parse_signed(p));
    return a;
}

static struct node *parse_signed(struct parser *p)
{
    skip(p);
    int start = p->at;
    if (++p->depth > DEEPEST)
        return too_deep(p);
    struct node *n = take(p, "-") ? join_one(p, NODE_MINUS, start, parse_signed(p)) : parse_power(p);
    p->depth--;
    return n;
}

static struct node *parse_product(struct parser *p)
{
    struct node *a = parse_signed(p);
    while (a) {
        if (take(p, "*"))
            a = join(p, NODE_MULTIPLY, a, parse_signed(p));
        else if (take(p, "/"))
            a = join(p, NODE_DIVIDE, a, parse_signed(p));
        else
            break;
    }
    return a;
}

static struct node *parse_sum(struct parser *p)
{
    struct node *a = parse_product(p);
    while (a) {
        if (take(p, "+"))
            a = join(p, NODE_ADD, a, parse_product(p));
        else if (take(p, "-"))
            a = join(p, NODE_SUBTRACT, a, parse_product(p));
        else
            break;
    }
    return a;
}

static bool take_relation(struct parser *p, enum node_what *what)
{
    static const struct { const char *sign; enum node_what what;
    } signs[] = {
        {"<=", NODE_AT_MOST}, {">=", NODE_AT_LEAST}, {"!=", NODE_UNEQUAL},
        {"<", NODE_LESS},     {">", NODE_MORE},      {"=", NODE_EQUAL},
    };
    for (size_t i = 0; i < COUNT_OF(signs); i++)
        if (take(p, signs[i].sign)) {
            *what = signs[i].what;
            return true;
        }
    return false;
}

static struct node *parse_compare(struct parser *p)
{
    enum node_what what;
    struct node *a = parse_sum(p);
    if (!a || !take_relation(p, &what))
        return a;
    if (p->text[p->at] == '=')
        return refuse(p, p->at - 1, 2, "One \"=\" compares.");
    a = join(p, what, a, parse_sum(p));
    skip(p);
    int start = p->at;
    if (a && take_relation(p, &what))
        return refuse(p, start, p->at - start, "Two comparisons in a row: write a < b and b < c.");
    return a;
}

static struct node *parse_denial(struct parser *p)
{
    skip(p);
    int start = p->at;
    if (!take_word(p, "not"))
        return parse_compare(p);
    if (++p->depth > DEEPEST)
        return too_deep(p);
    struct node *n = join_one(p, NODE_NOT, start, parse_denial(p));
    p->depth--;
    return n;
}

static struct node *parse_both(struct parser *p)
{
    struct node *a = parse_denial(p);
    while (a && take_word(p, "and"))
        a = join(p, NODE_AND, a, parse_denial(p));
    return a;
}

static struct node *parse_choice(struct parser *p)
{
    skip(p);
    if (++p->depth > DEEPEST)
        return too_deep(p);
    struct node *a = parse_both(p);
    while (a && take_word(p, "or"))
        a = join(p, NODE_OR, a, parse_both(p));
    p->depth--;
    return a;
}

/* ---- the whole ------------------------------------------------------------------------ */

static struct node *parse_all(struct parser *p)
{
    if (strlen(p->text) > LONGEST)
        return refuse(p, 0, 1, "This formula is longer than 1000 bytes; give parts of it names.");
    struct node *root = parse_choice(p);
    if (!root)
        return NULL;
    skip(p);
    if (p->text[p->at] == '\0')
        return root;
    if (p->text[p->at] == ')')
        return refuse(p, p->at, 1, "This parenthesis closes nothing.");
    int n = word_length(p->text + p->at);
    return refuse(p, p->at, n ? n : 1, "An operator is wanted before this.");
}

struct formula_tree *formula_parse_later(const char *text)
{
    struct formula_tree *t = base_alloc(sizeof *t);
    t->text = base_arena_copy(&t->memory, text);
    return t;
}

enum base_err formula_parse_now(const struct formula_tree *t, struct base_diag *why)
{
    struct formula_tree *made = (struct formula_tree *)t;
    struct base_diag unheard = {0};
    struct parser p = {.tree = made, .text = t->text, .why = why ? why : &unheard};
    if (!t->root)
        made->root = parse_all(&p);
    return t->root ? BASE_OK : BASE_REFUSED;
}

/* What turns out to be none after all is an empty node, which says nothing. */
const struct node *tree_root(const struct formula_tree *t)
{
    static const struct node none = {.what = NODE_NUMBER};
    return formula_parse_now(t, NULL) == BASE_OK ? t->root : &none;
}

enum base_err formula_parse(const char *text, struct formula_tree **out, struct base_diag *why)
{
    struct formula_tree *t = formula_parse_later(text);
    *out = formula_parse_now(t, why) == BASE_OK ? t : NULL;
    if (*out)
        return BASE_OK;
    formula_tree_free(t);
    return BASE_REFUSED;
}

void formula_tree_free(struct formula_tree *t)
{
    if (!t)
        return;
    struct base_arena memory = t->memory;
    free(t);
    base_arena_done(&memory);
}
