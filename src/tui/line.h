/* tui/line.h - a level that is one line in the message row: ":" and "/" rows, names, reasons */
#ifndef DIEWRIGHT_TUI_LINE_H
#define DIEWRIGHT_TUI_LINE_H

#include "tui/tui.h"

/* A line is asked for; DONE gets it when Enter was pressed. Title is shown before the field. */
typedef void ask_fn(struct tui *t, const char *subject, const char *text);
void ask_open(struct tui *t, const char *title, const char *subject, const char *text, ask_fn *done);

/* Commands typed before, oldest first. */
struct typed {
    char **lines; int n;
    char paper[164]; /* the one that was opened last, and its plate behind a blank; "": none */
};

struct line {
    struct level level;
    char *title, *subject;
    struct field *field;
    ask_fn *done;
    void (*changed)(struct tui *t, struct line *l);       /* after every change of the text; may be NULL */
    void (*complete)(struct tui *t, struct line *l);      /* Tab; may be NULL */
    bool remembers;                                       /* Up and Down bring back what was typed before */
    int past;                                             /* where in t->typed; its count: the new line */
    struct base_text above;                               /* what the row above shows */
    struct base_diag why;                                 /* and the place to mark, message "" when fine */
};

struct line *line_open(struct tui *t, const char *title, const char *subject, const char *text, ask_fn *done);

#endif
