/* Generated expressions, worked out here and by `bc -l` (POSIX, Debian's package bc) to 40 places.
 *
 * One seed, one run of bc. Expressions are built so that no step is near a division by zero or a
 * comparison near equality: the two ways of counting must agree then to 1e-9 of the value. */

#include "formula.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

enum { EXPRESSIONS = 1500 };

static unsigned long long seed = 1871;

static int random_below(int n)
{
    seed = seed * 6364136223846793005ULL + 1442695040888963407ULL;
    return (int)((seed >> 33) % (unsigned)n);
}

/* The same expression twice: OURS in our words, THEIRS in those of bc. Its value is a plain number. */
struct pair { struct base_text ours, theirs; };

static void both(struct pair *p, const char *ours, const char *theirs)
{
    base_text_add(&p->ours, ours);
    base_text_add(&p->theirs, theirs);
}

static void expression(struct pair *p, int depth);

static void number(struct pair *p)
{
    char text[40];
    snprintf(text, sizeof text, "%d.%03d", random_below(50), 1 + random_below(999));
    both(p, text, text);
}

static void binary(struct pair *p, int depth)
{
    static const char *const signs[] = {" + ", " - ", " * "};
    const char *sign = signs[random_below(3)];
    both(p, "(", "(");
    expression(p, depth - 1);
    both(p, sign, sign);
    expression(p, depth - 1);
    both(p, ")", ")");
}

/* No brackets: precedence is put to the test. (A minus sign before one value alone binds tighter than ^ in
 * bc, looser here; so it is bracketed everywhere, and tested by rows of its own.) */
static void chain(struct pair *p)
{
    static const char *const signs[] = {" + ", " - ", " * ", " / "};
    both(p, "(", "(");
    for (int i = 0, n = 3 + random_below(4); i < n; i++) {
        if (i) {
            const char *sign = signs[random_below(4)];
            both(p, sign, sign);
        }
        number(p);
        if (random_below(4) == 0)
            both(p, "^2", "^2");
    }
    both(p, ")", ")");
}

/* A quotient whose divisor is at least one: x / (1 + y^2). */
static void quotient(struct pair *p, int depth)
{
    both(p, "(", "(");
    expression(p, depth - 1);
    both(p, " / (1 + ", " / (1 + ");
    number(p);
    both(p, "^2))", "^2))");
}

static void power(struct pair *p)
{
    char text[20];
    snprintf(text, sizeof text, "^%d", random_below(6));
    both(p, "(", "(");
    number(p);
    both(p, " - ", " - ");
    number(p);
    both(p, ")", ")");
    both(p, text, text);
}

/* Comparisons of values that differ: `if` here, a factor of 1 or 0 there. */
static void choice(struct pair *p, int depth)
{
    static const char *const signs[][2] = {{" < ", " < "},   {" > ", " > "},  {" <= ", " <= "},
                                           {" >= ", " >= "}, {" = ", " == "}, {" != ", " != "}};
    const char *const *sign = signs[random_below(6)];
    struct pair a = {0}, b = {0}, x = {0}, y = {0};
    number(&a);
    number(&b);
    expression(&x, depth - 1);
    expression(&y, depth - 1);
    base_text_addf(&p->ours, "if(%s%s%s, %s, %s)", a.ours.data, sign[0], b.ours.data, x.ours.data,
                   y.ours.data);
    base_text_addf(&p->theirs, "((%s%s%s) * %s + (1 - (%s%s%s)) * %s)", a.theirs.data, sign[1], b.theirs.data,
                   x.theirs.data, a.theirs.data, sign[1], b.theirs.data, y.theirs.data);
    struct pair *all[] = {&a, &b, &x, &y};
    for (size_t i = 0; i < COUNT_OF(all); i++) {
        base_text_done(&all[i]->ours);
        base_text_done(&all[i]->theirs);
    }
}

static void function(struct pair *p)
{
    static const char *const calls[][3] = {
        {"sqrt(", "sqrt(", ")"},
        {"sin(1 rad * ", "s(", ")"},
        {"cos(1 rad * ", "c(", ")"},
        {"atan2(", "a(", ", 1) / 1 rad"},
    };
    int i = random_below(4);
    both(p, calls[i][0], calls[i][1]);
    number(p);
    both(p, calls[i][2], ")");
}

static void expression(struct pair *p, int depth)
{
    if (depth == 0) {
        number(p);
        return;
    }
    switch (random_below(8)) {
    case 0: quotient(p, depth); break;
    case 1: power(p); break;
    case 2: choice(p, depth); break;
    case 3: function(p); break;
    case 4: both(p, "(-(", "(-("); expression(p, depth - 1); both(p, "))", "))"); break;
    case 5: chain(p); break;
    default: binary(p, depth);
    }
}

/* Runs bc on all of TEXT; its lines come back, one number each. */
static char *run_bc(const char *text)
{
    static char answers[EXPRESSIONS * 400];
    char path[300], command[400];
    snprintf(path, sizeof path, "%s/expressions", fresh_folder());
    FILE *f = fopen(path, "w");
    ck_assert_ptr_nonnull(f);
    fputs(text, f);
    ck_assert_int_eq(fclose(f), 0);
    snprintf(command, sizeof command, "BC_LINE_LENGTH=0 bc -l %s 2>&1", path);
    FILE *p = popen(command, "r");
    ck_assert_ptr_nonnull(p);
    size_t n = fread(answers, 1, sizeof answers - 1, p);
    answers[n] = '\0';
    ck_assert_int_eq(pclose(p), 0);
    return answers;
}

START_TEST(generated_expressions_agree_with_bc)
{
    static char *ours[EXPRESSIONS];
    struct base_text all = {0};
    base_text_add(&all, "scale = 40\n");
    printf("bc: seed %llu, %d expressions\n", seed, EXPRESSIONS);
    for (int i = 0; i < EXPRESSIONS; i++) {
        struct pair p = {0};
        do {
            base_text_clear(&p.ours);
            base_text_clear(&p.theirs);
            expression(&p, 1 + random_below(4));
        } while (p.ours.length > 900);
        base_text_addf(&all, "%s\n", p.theirs.data);
        base_text_done(&p.theirs);
        ours[i] = base_text_take(&p.ours);
    }
    base_text_add(&all, "quit\n");
    char *rest = run_bc(base_text_get(&all));
    for (int i = 0; i < EXPRESSIONS; i++) {
        char *end, *line = strtok_r(rest, "\n", &rest);
        ck_assert_msg(line, "bc stopped before %s", ours[i]);
        double want = strtod(line, &end);
        ck_assert_msg(end != line && *end == '\0', "bc says %s to %s", line, ours[i]);
        struct formula_value v = value_of(ours[i]);
        ck_assert_int_eq(v.error, FORMULA_FINE);
        ck_assert_msg(fabs(v.number - want) <= 1e-9 * fmax(fabs(want), 1e-3), "%s gives %.17g, bc %s",
                      ours[i], v.number, line);
        free(ours[i]);
    }
    base_text_done(&all);
}
END_TEST

TCase *outside_cases(void)
{
    TCase *t = tcase_create("bc");
    tcase_add_test(t, generated_expressions_agree_with_bc);
    return t;
}
