/* formula/tree.h - a parsed formula
 *
 * Nodes live in one arena with the text they came from; each knows the span of text it stands for, so
 * that every later complaint can mark its place.
 */
#ifndef DIEWRIGHT_FORMULA_TREE_H
#define DIEWRIGHT_FORMULA_TREE_H

#include "diewright/formula.h"

enum node_what {
    NODE_NUMBER, /* number in base units, dim; bare: no unit behind it */
    NODE_TEXT,
    NODE_YESNO,
    NODE_PATH,   /* name { "." name } */
    NODE_CALL,   /* name and arguments */
    NODE_MINUS,  /* a */
    NODE_NOT,    /* a */
    NODE_ADD, NODE_SUBTRACT, NODE_MULTIPLY, NODE_DIVIDE, NODE_POWER,
    /* as enum formula_relation */
    NODE_EQUAL, NODE_UNEQUAL, NODE_LESS, NODE_AT_MOST, NODE_MORE, NODE_AT_LEAST,
    NODE_AND, NODE_OR,
};

struct node {
    enum node_what what;
    int start, length;       /* span in the text */
    double number;           /* also yes (1) and no (0) */
    struct unit_dim dim;
    bool bare;
    const char *name;        /* text; the whole path; the called name */
    const char *const *parts; int n_parts; /* of a path */
    struct node *a, *b;
    struct argument *arguments; /* of a call */
};

struct argument {
    const char *name;        /* NULL: positional */
    int start;               /* of the name or the value */
    struct node *value;
    struct argument *next;
};

struct formula_tree {
    const char *text;
    struct node *root; /* NULL: not parsed yet (formula_parse_later); tree_root() then does it */
    struct base_arena memory;
};

const struct node *tree_root(const struct formula_tree *t);

#endif
