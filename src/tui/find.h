/* tui/find.h - what "/" finds while it is typed: items, values, remarks, words of the trade, best first
 *
 * Knows no screen: texts in, hits out.
 */
#ifndef DIEWRIGHT_TUI_FIND_H
#define DIEWRIGHT_TUI_FIND_H

#include "diewright/job.h"

enum find_what { FIND_ITEM, FIND_VALUE, FIND_REMARK, FIND_WORD };

/* number: of the item, the quantity, the item of the remark, the word of the handbook */
struct find_hit { enum find_what what; int number, rank; bool detail; };
typedef BASE_VEC(struct find_hit) find_vec;

/* How well TEXT, as it is typed, fits NAME ("die_plate.thickness") or TITLE ("thickness"): 0 it is one of
 * them, 1 one begins with it, 2 a word of one does, 3 both together hold each of its words, 4 its letters
 * begin words of the name in order ("dt"), 5 one holds it inside of a word, 6 they stand in it in order.
 * -1: not at all. */
int find_rank(const char *name, const char *title, const char *text);

/* All of D that fits TEXT; those of ranks 0 to 3 first, of them items before values, remarks and words,
 * then by rank, then in the job's order. Values are found by what they are now as well ("M8"), in STATE;
 * items by their letter on the plan. Among equals those that the plain form shows come first. Freed by the
 * caller. */
void find_all(struct dieset *d, enum dieset_state state, const char *text, find_vec *out);
/* The same without the words, which are no places of the job; how many. */
int find_places(struct dieset *d, enum dieset_state state, const char *text, find_vec *out);

#endif
