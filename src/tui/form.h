/* tui/form.h - the form: rows of the item at the cursor */
#ifndef DIEWRIGHT_TUI_FORM_H
#define DIEWRIGHT_TUI_FORM_H

#include "tui/list.h"

struct tui;

struct form_row { int quantity; const char *heading; };
struct form {
    BASE_VEC(struct form_row) rows;
    struct list list;
    char item[80];          /* whose rows they are */
    bool all;               /* details as well */
    bool page;              /* the job's page in place of an item's values, till another item is chosen */
    struct area body;       /* where the rows stood in the last picture */
    /* one number for all titles of the rows; of those drawn last */
    uint64_t labels, labels_drawn;
};

void form_settle(struct tui *t);
void form_reset(struct tui *t); /* another job */
int form_quantity(const struct tui *t); /* at the cursor, -1 */
/* The item that is meant at the cursor, of the page as well; "": none. */
const char *form_item(const struct tui *t);
/* The cursor to the next value that can be typed; where there is none it stays. */
void form_go_down(struct tui *t);
/* A value split for columns that stand on the decimal point. */
void form_split(struct tui *t, int quantity, char *number, size_t n_number, char *unit, size_t n_unit);
/* What stands at the left of its row: its title, on the page behind its item's. Returns BUF. */
const char *form_label(const struct tui *t, int quantity, char *buf, size_t size);
/* The page of the job, where it has one, with the keys in it; false: it has none. */
bool form_show_page(struct tui *t);
/* The keys go to the form, wherever it stands. */
void form_take_keys(struct tui *t);

#endif
