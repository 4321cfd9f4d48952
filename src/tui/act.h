/* tui/act.h - what keys do: one function a thing, named in the key table */
#ifndef DIEWRIGHT_TUI_ACT_H
#define DIEWRIGHT_TUI_ACT_H

#include <stdbool.h>
#include <stddef.h>

struct tui;

void act_up(struct tui *t);
void act_down(struct tui *t);
void act_left(struct tui *t);
void act_right(struct tui *t);
void act_page_up(struct tui *t);
void act_page_down(struct tui *t);
void act_first(struct tui *t);
void act_last(struct tui *t);
void act_enter(struct tui *t);
void act_leave(struct tui *t);
void act_narrow(struct tui *t);
void act_next(struct tui *t);
void act_previous(struct tui *t);
void act_show_form(struct tui *t);
void act_show_plan(struct tui *t);
void act_show_section(struct tui *t);
void act_zoom(struct tui *t);
void act_state(struct tui *t);
void act_all(struct tui *t);
void act_stroke(struct tui *t);
void act_compare(struct tui *t);
void act_review(struct tui *t);
void act_review_next(struct tui *t);
void act_differences(struct tui *t);
void act_remark(struct tui *t);
void act_waive(struct tui *t);
void act_issue(struct tui *t);
void act_take_back(struct tui *t);
void act_vary(struct tui *t);
void act_finer(struct tui *t);
void act_wider(struct tui *t);
void act_listed(struct tui *t);
void act_beside(struct tui *t);
void act_glide(struct tui *t);
void act_why(struct tui *t);
void act_sizes(struct tui *t);
void act_detail(struct tui *t);
void act_hint(struct tui *t);
void act_try(struct tui *t);
void act_mend(struct tui *t);
void act_moves(struct tui *t);
void act_moved(struct tui *t);
void act_cautions(struct tui *t);
void act_search(struct tui *t);
void act_search_next(struct tui *t);
void act_search_last(struct tui *t);
void act_command(struct tui *t);
void act_help(struct tui *t);
void act_small_help(struct tui *t);
/* Take back (BACK) or make again the edit EDIT, 0: one's own last; somebody else's once its writer and hour
   were told and y was typed. */
void act_step(struct tui *t, bool back, long edit);
void act_undo(struct tui *t);
void act_redo(struct tui *t);
void act_back(struct tui *t);
void act_forward(struct tui *t);
void act_unset(struct tui *t);
void act_keep(struct tui *t);
void act_formula(struct tui *t);
void act_type_here(struct tui *t);
void act_add(struct tui *t);
void act_like(struct tui *t);
void act_remove(struct tui *t);
void act_larger(struct tui *t);
void act_smaller(struct tui *t);
void act_fit(struct tui *t);
void act_far_left(struct tui *t);
void act_far_right(struct tui *t);
void act_far_up(struct tui *t);
void act_far_down(struct tui *t);
void act_place(struct tui *t);
void act_free(struct tui *t);
void act_turn(struct tui *t);
void act_exact(struct tui *t);
void act_new_group(struct tui *t);
void act_below(struct tui *t);
void act_turn_over(struct tui *t);
void act_click(struct tui *t);
void act_wheel_up(struct tui *t);
void act_wheel_down(struct tui *t);
void act_mouse(struct tui *t);
void act_repaint(struct tui *t);
void act_suspend(struct tui *t);
void act_quit(struct tui *t);

/* "screws", then "screws_2" ... */
void tui_free_name(const struct tui *t, const char *stem, char *buf, size_t size);
/* Where a new item of KIND goes: below the one at the cursor where that is of the same kind, else -1 (last of
   its kind). */
int tui_place_of_new(const struct tui *t, const char *kind);

#endif
