/* tui/keys.c - see keys.h
 *
 * Order matters in two places: the hint row takes rows from the top, and so does the help screen.
 */

#include "tui/keys.h"

#include "diewright/terminal.h"
#include "diewright/tui.h"
#include "tui/act.h"
#include "tui/command.h"

#include <stdio.h>
#include <string.h>

#define CONTROL(c) ((c) & 31)

enum { ESCAPE = 27, TAB = 9, RETURN = 13, NEWLINE = 10 };

static const struct key_row table[] = {
    {PLACE_STACK, {RETURN, NEWLINE, TERMINAL_ENTER}, "enter", "form", "open the form", act_enter, false},
    {PLACE_FORM, {RETURN, NEWLINE, TERMINAL_ENTER}, "change", "change", "change the value at the cursor", act_enter, true},
    {PLACE_FINDINGS, {RETURN, NEWLINE, TERMINAL_ENTER}, "cause", "cause", "go to the value that this finding hangs on most",
     act_enter, false},
    {PLACE_PLAN | PLACE_SECTION, {RETURN, NEWLINE, TERMINAL_ENTER}, "form", "form", "open the form of the group at the cursor", act_enter, false},
    {PLACE_FIELD | PLACE_PICK, {RETURN, NEWLINE, TERMINAL_ENTER}, "take", "take", "take it", act_enter, false},
    {PLACE_REVIEW, {RETURN, NEWLINE, TERMINAL_ENTER}, "look", "go there", "the finding in full, or the item or value at the cursor", act_enter, false},
    {PLACE_REVIEW, {'n'}, "next-part", "next", "the next part of the review", act_review_next, false},
    {PLACE_REVIEW, {'d'}, "differences", "differences", "the latest revision beside the job as it is now", act_differences, false},
    {PLACE_REVIEW, {'E'}, "issue", "issue", "freeze the job under a revision letter, asked for", act_issue, true},
    {PLACE_REVIEW, {'D'}, "take-back", NULL, "take out the remark or waiver at the cursor, take the edit back, withdraw the revision", act_take_back, true},
    {PLACE_REVIEW | PLACE_FINDING | PLACE_FINDINGS, {'W'}, "waive", "waive", "let this finding stand: asks the reason", act_waive, true},
    {PLACE_REVIEW | PLACE_FINDING, {'R'}, "remark", "remark", "a remark on the finding, value or item at the cursor", act_remark, true},
    {PLACE_STACK | PLACE_FORM | PLACE_FINDINGS, {'R'}, "remark-here", NULL, "a remark on the finding, value or item at the cursor", act_remark, true},
    {PLACE_WHY | PLACE_LINES, {RETURN, NEWLINE, TERMINAL_ENTER}, "go", "go there", "go to the value at the cursor", act_enter, false},
    {PLACE_FINDING, {RETURN, NEWLINE, TERMINAL_ENTER}, "go-cause", "take, or cause", "take what is tried; else go to the value that this finding hangs on most",
     act_enter, false},
    {PLACE_COMMAND | PLACE_HELP, {RETURN, NEWLINE, TERMINAL_ENTER}, "do", "do it", "do it", act_enter, false},
    {PLACE_PLACING, {RETURN, NEWLINE, TERMINAL_ENTER}, "put", "place", "take the line offered, else open the exact values", act_enter, false},
    {PLACE_EXACT, {RETURN, NEWLINE, TERMINAL_ENTER}, "take-place", "take", "take the place, all values at once", act_enter, false},
    {PLACE_PLACING, {TERMINAL_LEFT, 'h'}, "step-left", "step", "left by a step", act_left, false},
    {PLACE_PLACING, {TERMINAL_RIGHT, 'l'}, "step-right", NULL, "right by a step", act_right, false},
    {PLACE_PLACING, {TERMINAL_UP, 'k'}, "step-up", NULL, "up by a step", act_up, false},
    {PLACE_PLACING, {TERMINAL_DOWN, 'j'}, "step-down", NULL, "down by a step", act_down, false},
    {PLACE_PLACING, {'H'}, "stride-left", "large step", "left by a large step", act_far_left, false},
    {PLACE_PLACING, {'L'}, "stride-right", NULL, "right by a large step", act_far_right, false},
    {PLACE_PLACING, {'K'}, "stride-up", NULL, "up by a large step", act_far_up, false},
    {PLACE_PLACING, {'J'}, "stride-down", NULL, "down by a large step", act_far_down, false},
    {PLACE_PLACING, {'e'}, "exact", "exact", "type exact values, whatever line is offered", act_exact, false},
    {PLACE_PLACING, {'p'}, "pattern", "pattern", "choose another pattern, shown as the cursor moves", act_place, false},
    {PLACE_PLAN, {'p'}, "place", "place", "place or move the group, or the freed point, at the cursor", act_place, true},
    {PLACE_PLAN | PLACE_PLACING, {'f'}, "free", "free one", "free one point of the group, or give it back", act_free, true},
    {PLACE_PLAN | PLACE_PLACING, {'t'}, "turn", "turn", "turn what is not round by a quarter", act_turn, true},
    {PLACE_PLAN, {'a'}, "new-group", "add", "add screws, dowels, posts ... on this plate, and place them", act_new_group, true},
    {PLACE_PLACING, {TAB}, "next-point", "next point", "take hold of the next point of the group", act_next, false},
    {PLACE_PLACING, {TERMINAL_BACK_TAB}, "point-before", NULL, "take hold of the point before", act_previous, false},
    {PLACE_EXACT, {TAB}, "next-edge", "other edge", "measure from another edge, or the centre line", act_next, false},
    {PLACE_EXACT, {TERMINAL_BACK_TAB}, "edge-before", NULL, "measure from the edge before", act_previous, false},
    {PLACE_EXACT, {TERMINAL_DOWN}, "next-value", "next value", "the next value", act_down, false},
    {PLACE_EXACT, {TERMINAL_UP}, "value-before", NULL, "the value before", act_up, false},
    {PLACE_PRACTICE, {RETURN, NEWLINE, TERMINAL_ENTER}, "go-on", "go on", "answer the exercise; go on to the next one", act_enter, false},
    {PLACE_ALL & ~PLACE_MAIN, {ESCAPE, CONTROL('C')}, "leave", "leave", "leave this, nothing taken", act_leave, false},
    {PLACE_MAIN, {ESCAPE, CONTROL('C')}, "clear", NULL, "clear the message; leave a pane that fills the screen", act_leave, false},
    {PLACE_PICK, {KEY_LETTERS}, "narrow", "narrow", "what is typed leaves only what holds it; Backspace widens the list again", act_narrow, false},
    {PLACE_READ | PLACE_VARY, {'w'}, "why", "why", "why this value, or this finding", act_why, false},
    {PLACE_FORM, {'s'}, "sizes", "sizes", "pick from the standard sizes of this value", act_sizes, true},
    {PLACE_FINDINGS, {'i'}, "finding", "in full", "the finding at the cursor in full: figures, source, what would clear it", act_detail, false},
    {PLACE_REVIEW, {'i', 'm'}, "look-into", NULL, "the finding at the cursor in full, and what would clear it", act_enter, false},
    {PLACE_MAIN & ~PLACE_FINDINGS, {'i'}, "hint", NULL, "in practice: a hint", act_hint, false},
    {PLACE_FINDING, {'a', 'b', 'c', 'd', 'e'}, "try", "try one", "try a proposal, not yet taken: Enter takes it, Esc leaves it", act_try, true},
    {PLACE_MAIN, {TAB}, "next", "pane", "next pane", act_next, false},
    {PLACE_MAIN, {TERMINAL_BACK_TAB}, "previous", NULL, "pane before", act_previous, false},
    {PLACE_FIELD | PLACE_COMMAND, {TAB}, "complete", "name", "complete a name", act_next, false},
    {PLACE_HELP, {TAB}, "all", "all screens, words", "the keys of all screens, then words, then those of this screen again", act_next, false},
    {PLACE_PRACTICE, {TAB}, "more", "more", "the formula of the exercise, then its working; the list of practice jobs", act_next, false},
    {PLACE_WHY, {TAB}, "reaches", "reaches", "what the value reaches, and back to what it comes from", act_next, false},
    {PLACE_FIELD | PLACE_PLACING | PLACE_EXACT, {CONTROL('T')}, "moves", "all that moves", "list all that would move", act_moves, false},
    {PLACE_FORM, {KEY_FIGURES}, "type-here", NULL, "a digit, a quote, + - . or ( begins a new value there", act_type_here, true},
    {PLACE_MAIN, {'F'}, "show-form", NULL, "the form beside the stack", act_show_form, false},
    {PLACE_MAIN, {'P'}, "show-plan", "plan", "a larger plan beside the stack", act_show_plan, false},
    {PLACE_MAIN, {'S'}, "show-section", "section", "the section, to scale, beside the stack", act_show_section, false},
    {PLACE_STACK | PLACE_FORM, {'p'}, "place-here", "place", "place or move the group on its plan; of a plate: its plan", act_place, true},
    {PLACE_STACK | PLACE_FORM, {'f'}, "free-here", NULL, "free one point of the group on its plan, or give it back", act_free, true},
    {PLACE_STACK | PLACE_FORM, {'t'}, "turn-here", NULL, "turn the group by a quarter on its plan", act_turn, true},
    {PLACE_MAIN, {'T'}, "stroke", "stroke", "the stroke: what happens as the ram comes down", act_stroke, false},
    {PLACE_MAIN, {'V'}, "vary-value", "vary", "the value at hand over a range: what it would move, where findings begin", act_vary, false},
    {PLACE_VARY, {TERMINAL_RIGHT, 'l'}, "point-right", "along", "the next point of the range", act_right, false},
    {PLACE_VARY, {TERMINAL_LEFT, 'h'}, "point-left", NULL, "the point before", act_left, false},
    {PLACE_VARY, {RETURN, NEWLINE, TERMINAL_ENTER}, "try-point", "try it", "the point's value into the form's field, not yet taken", act_enter, true},
    {PLACE_VARY, {TAB}, "shown-next", "other value", "the next of the values that move is drawn", act_next, false},
    {PLACE_VARY, {'+'}, "finer", "finer", "a finer step about this point", act_finer, false},
    {PLACE_VARY, {'-'}, "wider", "wider", "a coarser step about this point", act_wider, false},
    {PLACE_VARY, {'t'}, "listed", "listed", "the listed sizes alone, and back to the range", act_listed, false},
    {PLACE_VARY, {'c'}, "beside", "beside", "mark this point; at another one: both side by side", act_beside, false},
    {PLACE_MAIN, {'c'}, "compare-before", NULL, "the job beside itself as it was before an edit", act_compare, false},
    {PLACE_STROKE, {TERMINAL_RIGHT, 'l'}, "ram-down", "step", "the ram down by a step, a finer one near what happens", act_right, false},
    {PLACE_STROKE, {TERMINAL_LEFT, 'h'}, "ram-up", NULL, "the ram up by a step", act_left, false},
    {PLACE_STROKE, {TERMINAL_PAGE_DOWN}, "event-next", "event", "the ram down to what happens next", act_page_down, false},
    {PLACE_STROKE, {TERMINAL_PAGE_UP}, "event-before", NULL, "the ram up to what happened before", act_page_up, false},
    {PLACE_STROKE, {'o'}, "glide", "glide", "the ram comes down by itself as far as what happens next; any key stops it", act_glide, false},
    {PLACE_MAIN | PLACE_STROKE | PLACE_PLACING, {'x'}, "ground", "ground", "new or fully ground", act_state, false},
    {PLACE_STROKE, {TERMINAL_HOME, 'g'}, "open", "open", "the ram to the top of its stroke", act_first, false},
    {PLACE_STROKE, {TERMINAL_END, 'G'}, "shut", "shut", "the ram all the way down", act_last, false},
    {PLACE_WHY, {'x'}, "why-ground", "ground", "new or fully ground", act_state, false},
    {PLACE_FINDINGS, {'m'}, "mend", "mend", "what would clear this finding, each to be tried by its letter", act_mend, false},
    {PLACE_READ, {'M'}, "moved", NULL, "what the last change moved", act_moved, false},
    {PLACE_READ | PLACE_RUNS | PLACE_PLACING, {'!'}, "cautions", NULL, "cautions whole, with their sources: what can hurt", act_cautions, false},
    {PLACE_READ & ~PLACE_REVIEW, {'r'}, "review", NULL, "the review: what is open, edited, typed over; press and load", act_review, false},
    {PLACE_MAIN, {'z'}, "zoom", "whole screen", "the pane at the cursor takes the screen; again: back", act_zoom, false},
    {PLACE_READ, {'/'}, "find", "find", "search items, values and findings", act_search, false},
    {PLACE_READ & ~PLACE_REVIEW, {'n'}, "find-next", NULL, "next place found", act_search_next, false},
    {PLACE_READ, {'N'}, "find-last", NULL, "place found before", act_search_last, false},
    {PLACE_READ | PLACE_RUNS, {':'}, "command", "do", "do something by its name", act_command, false},
    {PLACE_READ | PLACE_PICK | PLACE_RUNS | PLACE_PLACING, {'?', TERMINAL_F1}, "help", "help", "this help", act_help, false},
    {PLACE_FIELD | PLACE_EXACT | PLACE_PRACTICE, {TERMINAL_F1}, "field-help", "help", "this help", act_help, false},
    {PLACE_READ, {'u'}, "undo-last", NULL, "take your last edit back", act_undo, true},
    {PLACE_READ, {CONTROL('R')}, "redo-last", NULL, "make it again, what you took back last", act_redo, true},
    {PLACE_READ, {'<'}, "back", NULL, "back through the places visited", act_back, false},
    {PLACE_READ, {'>'}, "forward", NULL, "forward again", act_forward, false},
    {PLACE_FORM, {'v'}, "details", NULL, "all values of the form, or the plain ones", act_all, false},
    {PLACE_FORM, {TERMINAL_DELETE}, "usual", NULL, "take away what was typed: the usual formula holds again; a line of an outline is taken out", act_unset, true},
    {PLACE_FORM, {'^'}, "keep", NULL, "keep what was typed over its formula: give the reason", act_keep, true},
    {PLACE_FORM, {'='}, "formula", NULL, "type a formula, even where a list would open", act_formula, true},
    {PLACE_STACK | PLACE_FORM, {'a'}, "new-item", NULL, "add an item: its kind, then its name; at a line of an outline: a line after it", act_add, true},
    {PLACE_STACK | PLACE_FORM, {'y'}, "add-like", NULL, "add an item like the one at the cursor", act_like, true},
    {PLACE_STACK | PLACE_FORM, {'D'}, "take-out", NULL, "take the item at the cursor out; undo brings it back", act_remove, true},
    {PLACE_PLAN | PLACE_SECTION | PLACE_PLACING, {'+'}, "larger", "larger", "larger scale; in the section: the ram up", act_larger, false},
    {PLACE_PLAN | PLACE_SECTION | PLACE_PLACING, {'-'}, "smaller", "smaller", "smaller scale; in the section: the ram down", act_smaller, false},
    {PLACE_PLAN | PLACE_SECTION | PLACE_PLACING, {'0'}, "fit", "fit", "all of it; in the section: the ram shut", act_fit, false},
    {PLACE_PLAN, {'H'}, "far-left", NULL, "pan left", act_far_left, false},
    {PLACE_PLAN, {'L'}, "far-right", NULL, "pan right", act_far_right, false},
    {PLACE_PLAN, {'K'}, "far-up", NULL, "pan up", act_far_up, false},
    {PLACE_PLAN, {'J'}, "far-down", NULL, "pan down", act_far_down, false},
    {PLACE_PLAN | PLACE_PLACING, {'b'}, "below", NULL, "the plates below shown through", act_below, false},
    {PLACE_PLAN | PLACE_PLACING, {'o'}, "turn-over", NULL, "seen from below, turned over; and back", act_turn_over, false},
    {PLACE_LISTS, {TERMINAL_UP, 'k'}, "up", NULL, "one up", act_up, false},
    {PLACE_LISTS, {TERMINAL_DOWN, 'j'}, "down", NULL, "one down", act_down, false},
    {PLACE_LISTS & ~PLACE_RUNS, {TERMINAL_LEFT, 'h'}, "left", NULL, "left: a group's column, fold, the next point", act_left, false},
    {PLACE_LISTS & ~PLACE_RUNS, {TERMINAL_RIGHT, 'l'}, "right", NULL, "right: a group's column, unfold, the next point", act_right, false},
    {(PLACE_LISTS & ~PLACE_STROKE) | PLACE_PICK | PLACE_HELP | PLACE_PRACTICE, {TERMINAL_PAGE_UP}, "page-up", NULL, "a page up", act_page_up, false},
    {(PLACE_LISTS & ~PLACE_STROKE) | PLACE_PICK | PLACE_HELP | PLACE_PRACTICE, {TERMINAL_PAGE_DOWN}, "page-down", NULL, "a page down", act_page_down, false},
    {PLACE_LISTS & ~PLACE_STROKE, {TERMINAL_HOME, 'g'}, "first", NULL, "the first", act_first, false},
    {PLACE_LISTS & ~PLACE_STROKE, {TERMINAL_END, 'G'}, "last", NULL, "the last", act_last, false},
    {PLACE_FIELD, {TERMINAL_UP}, "larger-size", "stock size", "the next larger stock size", act_up, false},
    {PLACE_FIELD, {TERMINAL_DOWN}, "smaller-size", NULL, "the next smaller stock size", act_down, false},
    {PLACE_COMMAND | PLACE_HELP | PLACE_PICK, {TERMINAL_UP}, "line-up", NULL, "up: the line before", act_up, false},
    {PLACE_COMMAND | PLACE_HELP | PLACE_PICK, {TERMINAL_DOWN}, "line-down", NULL, "down: the line after", act_down, false},
    {PLACE_PICK, {TERMINAL_HOME}, "first-line", NULL, "the first of the list", act_first, false},
    {PLACE_PICK, {TERMINAL_END}, "last-line", NULL, "the last of the list", act_last, false},
    {PLACE_ALL, {KEY_CLICK}, "click", NULL, "mouse on: the cursor goes there; there already: Enter", act_click, false},
    {PLACE_MAIN | PLACE_PICK | PLACE_WHY | PLACE_REVIEW | PLACE_LINES | PLACE_HELP, {KEY_WHEEL_UP}, "wheel-up", NULL, "mouse on: the list below it up by three", act_wheel_up, false},
    {PLACE_MAIN | PLACE_PICK | PLACE_WHY | PLACE_REVIEW | PLACE_LINES | PLACE_HELP, {KEY_WHEEL_DOWN}, "wheel-down", NULL, "mouse on: the list below it down by three", act_wheel_down, false},
    {PLACE_READ, {'C'}, "mouse", NULL, "the mouse (clicks) on, and off again", act_mouse, false},
    {PLACE_ALL, {CONTROL('L')}, "repaint", NULL, "draw the screen again", act_repaint, false},
    {PLACE_ALL | PLACE_SMALL, {CONTROL('Z')}, "suspend", NULL, "stop for a while and give the shell back", act_suspend, false},
    {PLACE_MAIN | PLACE_SMALL, {'q'}, "quit", "quit", "quit; every change is saved already", act_quit, false},
    {PLACE_WHY | PLACE_REVIEW | PLACE_FINDING | PLACE_LINES | PLACE_RUNS | PLACE_PRACTICE, {'q'}, "close", NULL, "leave this, nothing taken", act_leave, false},
    {PLACE_SMALL, {'?'}, "small-help", NULL, "help, once the terminal is larger", act_small_help, false},
};

const struct key_row *keys_table(int *count)
{
    *count = (int)COUNT_OF(table);
    return table;
}

bool keys_begins_value(int key)
{
    return key > 0 && key < 127 && strchr("0123456789\"+-.(", key);
}

static bool bound_to(const struct key_row *r, int key)
{
    for (int i = 0; i < KEYS_EACH && r->keys[i]; i++)
        if (r->keys[i] == key || (r->keys[i] == KEY_FIGURES && keys_begins_value(key)))
            return true;
    return false;
}

const struct key_row *keys_find(unsigned place, int key)
{
    for (size_t i = 0; i < COUNT_OF(table); i++)
        if ((table[i].places & place) && bound_to(&table[i], key))
            return &table[i];
    return NULL;
}

const struct key_row *keys_named(const char *name)
{
    for (size_t i = 0; i < COUNT_OF(table); i++)
        if (strcmp(table[i].name, name) == 0)
            return &table[i];
    return NULL;
}

/* ---- words ---- */

static const struct { int key; const char *label; } labels[] = {
    {RETURN, "Enter"}, {ESCAPE, "Esc"}, {TAB, "Tab"}, {TERMINAL_BACK_TAB, "Shift-Tab"}, {TERMINAL_UP, "Up"},
    {TERMINAL_DOWN, "Down"}, {TERMINAL_LEFT, "Left"}, {TERMINAL_RIGHT, "Right"}, {TERMINAL_PAGE_UP, "PgUp"},
    {TERMINAL_PAGE_DOWN, "PgDn"}, {TERMINAL_HOME, "Home"}, {TERMINAL_END, "End"}, {TERMINAL_DELETE, "Del"},
    {TERMINAL_F1, "F1"}, {NEWLINE, ""}, {TERMINAL_ENTER, ""}, {KEY_LETTERS, "letters"}, {KEY_FIGURES, "figures"},
    {KEY_CLICK, "click"}, {KEY_WHEEL_UP, "wheel-up"}, {KEY_WHEEL_DOWN, "wheel-down"},
};

const char *keys_label(int key, char *buf, size_t size)
{
    for (size_t i = 0; i < COUNT_OF(labels); i++)
        if (labels[i].key == key) {
            snprintf(buf, size, "%s", labels[i].label);
            return buf;
        }
    if (key > 0 && key < ' ')
        snprintf(buf, size, "Ctrl-%c", key + 64);
    else if (key < 127)
        snprintf(buf, size, "%c", key);
    else
        snprintf(buf, size, "this key");
    return buf;
}

void keys_labels(const struct key_row *r, struct base_text *out)
{
    char buf[20];
    for (int i = 0; i < KEYS_EACH && r->keys[i]; i++) {
        const char *label = keys_label(r->keys[i], buf, sizeof buf);
        if (*label)
            base_text_addf(out, "%s%s", i ? " " : "", label);
    }
}

static const struct { unsigned place; const char *word; } places_words[] = {
    {PLACE_STACK, "stack"}, {PLACE_FORM, "form"}, {PLACE_PLAN, "plan"}, {PLACE_SECTION, "section"},
    {PLACE_FINDINGS, "findings"}, {PLACE_FIELD, "typing"}, {PLACE_CHOICE, "choice"}, {PLACE_SIZES, "sizes"},
    {PLACE_WHY, "why"}, {PLACE_REVIEW, "review"}, {PLACE_STROKE, "stroke"}, {PLACE_VARY, "vary"}, {PLACE_FINDING, "finding"}, {PLACE_LINES, "lists"}, {PLACE_HELP, "help"}, {PLACE_COMMAND, "command row"},
    {PLACE_PLACING, "placing"}, {PLACE_EXACT, "exact values"}, {PLACE_PRACTICE, "practice"},
};

void keys_places(unsigned places, struct base_text *out)
{
    bool any = false;
    if ((places & PLACE_ALL) == PLACE_ALL) {
        base_text_add(out, "everywhere");
        return;
    }
    if ((places & PLACE_MAIN) == PLACE_MAIN) {
        base_text_add(out, "main screen");
        places &= ~(unsigned)PLACE_MAIN;
        any = true;
    }
    for (size_t i = 0; i < COUNT_OF(places_words); i++)
        if (places & places_words[i].place) {
            base_text_addf(out, "%s%s", any ? ", " : "", places_words[i].word);
            any = true;
        }
    if (!any)
        base_text_add(out, "small terminal");
}

void tui_keys(struct base_text *out)
{
    for (size_t i = 0; i < COUNT_OF(table); i++) {
        keys_labels(&table[i], out);
        base_text_add(out, "\t");
        keys_places(table[i].places, out);
        base_text_addf(out, "\t%s\t%s\n", table[i].name, table[i].help);
    }
    int n;
    const struct command *commands = command_table(&n);
    for (int i = 0; i < n; i++)
        base_text_addf(out, ":%s%s%s\teverywhere\t%s\t%s\n", commands[i].name, *commands[i].usage ? " " : "",
                       commands[i].usage, commands[i].name, commands[i].help);
}
