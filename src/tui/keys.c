/* tui/keys.c - see keys.h
 *
 * Order matters in two places: the hint row takes rows from the top, and so does the help screen.
 */

#include "tui/keys.h"

#include "diewright/record.h"
#include "diewright/terminal.h"

#include <stdio.h>
#include <string.h>

#define CONTROL(c) ((c) & 31)

enum { ESCAPE = 27, TAB = 9, RETURN = 13, NEWLINE = 10 };

#define ENTER RETURN, NEWLINE, TERMINAL_ENTER

static struct key_row table[] = {
    {AT_STACK, {ENTER}, "enter", "form", "enter", false, "open the form"},
    {AT_FORM, {ENTER}, "change", "change", "enter", true, "change the value at the cursor"},
    {AT_FINDINGS, {ENTER}, "cause", "cause", "enter", false,
     "go to the value that this finding hangs on most"},
    {AT_PLAN | AT_SECTION, {ENTER}, "form", "form", "enter", false,
     "open the form of the group at the cursor"},
    {AT_FIELD | AT_PICK, {ENTER}, "take", "take", "enter", false, "take it"},
    {AT_REVIEW, {ENTER}, "look", "go there", "enter", false,
     "the finding in full, or the item or value at the cursor"},
    {AT_JOIN, {ENTER}, "take-in", "take in", "enter", true, "take what is chosen of theirs into the job"},
    {AT_JOIN, {'m'}, "mine", "mine", "mine", false, "this stays as the job has it"},
    {AT_JOIN, {'t'}, "theirs", "theirs", "theirs", false, "this becomes as the other copy has it"},
    {AT_REVIEW, {'n'}, "next-part", "next", "review-next", false, "the next part of the review"},
    {AT_REVIEW, {'d'}, "differences", "differences", "differences", false,
     "the latest revision beside the job as it is now"},
    {AT_REVIEW, {'E'}, "issue", "issue", "issue", true, "freeze the job under a revision letter, asked for"},
    {AT_REVIEW, {'D'}, "take-back", NULL, "take-back", true,
     "take out the remark or waiver at the cursor, take the edit back, withdraw the revision"},
    {AT_REVIEW | AT_FINDING | AT_FINDINGS, {'W'}, "waive", "waive", "waive", true,
     "let this finding stand: asks the reason"},
    {AT_REVIEW | AT_FINDING, {'R'}, "remark-on", "remark", "remark", false,
     "a remark on the finding, value or item at the cursor; on a remark: an answer to it"},
    {AT_REVIEW, {'o'}, "done", NULL, "done", true,
     "what the remark at the cursor asked for is done, or it is open again"},
    {AT_MAIN, {'R'}, "remark-here", NULL, "remark", false,
     "a remark on the finding, value or item at the cursor"},
    {AT_WHY | AT_LINES, {ENTER}, "go", "go there", "enter", false, "go to the value at the cursor"},
    {AT_FINDING, {ENTER}, "go-cause", "take, or cause", "enter", false,
     "take what is tried; else go to the value that this finding hangs on most"},
    {AT_COMMAND | AT_HELP, {ENTER}, "do", "do it", "enter", false, "do it"},
    {AT_PLACING, {ENTER}, "put", "place", "enter", false,
     "take the line offered, else open the exact values"},
    {AT_EXACT, {ENTER}, "take-place", "take", "enter", false, "take the place, all values at once"},
    {AT_PLACING, {TERMINAL_LEFT, 'h'}, "step-left", "step", "left", false, "left by a step"},
    {AT_PLACING, {TERMINAL_RIGHT, 'l'}, "step-right", NULL, "right", false, "right by a step"},
    {AT_PLACING, {TERMINAL_UP, 'k'}, "step-up", NULL, "up", false, "up by a step"},
    {AT_PLACING, {TERMINAL_DOWN, 'j'}, "step-down", NULL, "down", false, "down by a step"},
    {AT_PLACING, {'H'}, "stride-left", "large step", "far-left", false, "left by a large step"},
    {AT_PLACING, {'L'}, "stride-right", NULL, "far-right", false, "right by a large step"},
    {AT_PLACING, {'K'}, "stride-up", NULL, "far-up", false, "up by a large step"},
    {AT_PLACING, {'J'}, "stride-down", NULL, "far-down", false, "down by a large step"},
    {AT_PLACING, {'e'}, "exact", "exact", "exact", false, "type exact values, whatever line is offered"},
    {AT_PLACING, {'p'}, "pattern", "pattern", "place", false,
     "choose another pattern, shown as the cursor moves"},
    {AT_PLAN, {'p'}, "place", "place", "place", true,
     "place or move the group, or the freed point, at the cursor"},
    {AT_PLAN | AT_PLACING, {'f'}, "free", "free one", "free", true,
     "free one point of the group, or give it back"},
    {AT_PLAN | AT_PLACING, {'t'}, "turn", "turn", "turn", true, "turn what is not round by a quarter"},
    {AT_PLACING, {','}, "turn-15", NULL, "turn-15", true, "turn what is not round by 15 degrees"},
    {AT_PLACING, {';'}, "turn-45", NULL, "turn-45", true, "turn it by 45 degrees"},
    {AT_PLAN, {'a'}, "new-group", "add", "new-group", true,
     "add screws, dowels, posts ... on this plate, and place them"},
    {AT_PLACING, {TAB}, "next-point", "next point", "next", false,
     "take hold of the next point of the group"},
    {AT_PLACING, {TERMINAL_BACK_TAB}, "point-before", NULL, "previous", false,
     "take hold of the point before"},
    {AT_EXACT, {TAB}, "next-edge", "other edge", "next", false,
     "measure from another edge, or the centre line"},
    {AT_EXACT, {TERMINAL_BACK_TAB}, "edge-before", NULL, "previous", false, "measure from the edge before"},
    {AT_EXACT, {TERMINAL_DOWN}, "next-value", "next value", "down", false, "the next value"},
    {AT_EXACT, {TERMINAL_UP}, "value-before", NULL, "up", false, "the value before"},
    {AT_PRACTICE, {ENTER}, "go-on", "go on", "enter", false, "answer the exercise; go on to the next one"},
    {AT_ALL & ~AT_MAIN, {ESCAPE, CONTROL('C')}, "leave", "leave", "leave", false,
     "leave this, nothing taken"},
    {AT_MAIN, {ESCAPE, CONTROL('C')}, "clear", NULL, "leave", false,
     "clear the message; leave a pane that fills the screen"},
    {AT_PICK, {KEY_LETTERS}, "narrow", "narrow", "narrow", false,
     "what is typed leaves only what holds it; Backspace widens the list again"},
    {AT_READ | AT_VARY, {'w'}, "why", "why", "why", false, "why this value, or this finding"},
    {AT_FORM, {'s'}, "sizes", "sizes", "sizes", true, "pick from the standard sizes of this value"},
    {AT_FINDINGS, {'i'}, "finding", "in full", "detail", false,
     "the finding at the cursor in full: figures, source, what would clear it"},
    {AT_REVIEW, {'i', 'm'}, "look-into", NULL, "enter", false,
     "the finding at the cursor in full, and what would clear it"},
    {AT_MAIN & ~AT_FINDINGS, {'i'}, "hint", NULL, "hint", false, "in practice: a hint"},
    {AT_FINDING, {'a', 'b', 'c', 'd', 'e'}, "try", "try one", "try", true,
     "try a proposal, not yet taken: Enter takes it, Esc leaves it"},
    {AT_MAIN, {TAB}, "next", "pane", "next", false, "next pane"},
    {AT_MAIN, {TERMINAL_BACK_TAB}, "previous", NULL, "previous", false, "pane before"},
    {AT_FIELD | AT_COMMAND, {TAB}, "complete", "name", "next", false, "complete a name"},
    {AT_HELP, {TAB}, "all", "all screens, words", "next", false,
     "the keys of all screens, then words, then those of this screen again"},
    {AT_PRACTICE, {TAB}, "more", "more", "next", false,
     "the formula of the exercise, then its working; the list of practice jobs"},
    {AT_WHY, {TAB}, "reaches", "reaches", "next", false,
     "what the value reaches, and back to what it comes from"},
    {AT_FIELD | AT_PLACING | AT_EXACT, {CONTROL('T')}, "moves", "all that moves", "moves", false,
     "list all that would move"},
    {AT_FORM, {KEY_FIGURES}, "type-here", NULL, "type-here", true,
     "a digit, a quote, + - . or ( begins a new value there"},
    {AT_MAIN, {'F'}, "show-form", NULL, "show-form", false, "the form beside the stack"},
    {AT_MAIN, {'P'}, "show-plan", "plan", "show-plan", false, "a larger plan beside the stack"},
    {AT_MAIN, {'S'}, "show-section", "section", "show-section", false,
     "the section, to scale, beside the stack"},
    {AT_STACK | AT_FORM, {'p'}, "place-here", "place", "place", true,
     "place or move the group on its plan; of a plate: its plan"},
    {AT_STACK | AT_FORM, {'f'}, "free-here", NULL, "free", true,
     "free one point of the group on its plan, or give it back"},
    {AT_STACK | AT_FORM, {'t'}, "turn-here", NULL, "turn", true, "turn the group by a quarter on its plan"},
    {AT_MAIN, {'T'}, "stroke", "stroke", "stroke", false, "the stroke: what happens as the ram comes down"},
    {AT_MAIN, {'V'}, "vary-value", "vary", "vary", false,
     "the value at hand over a range: what it would move, where findings begin"},
    {AT_VARY, {TERMINAL_RIGHT, 'l'}, "point-right", "along", "right", false, "the next point of the range"},
    {AT_VARY, {TERMINAL_LEFT, 'h'}, "point-left", NULL, "left", false, "the point before"},
    {AT_VARY, {ENTER}, "try-point", "try it", "enter", true,
     "the point's value into the form's field, not yet taken"},
    {AT_VARY, {TAB}, "shown-next", "other value", "next", false, "the next of the values that move is drawn"},
    {AT_VARY, {'+'}, "finer", "finer", "finer", false, "a finer step about this point"},
    {AT_VARY, {'-'}, "wider", "wider", "wider", false, "a coarser step about this point"},
    {AT_VARY, {'t'}, "listed", "listed", "listed", false, "the listed sizes alone, and back to the range"},
    {AT_VARY, {'c'}, "beside", "beside", "beside", false,
     "mark this point; at another one: both side by side"},
    {AT_MAIN, {'c'}, "compare-before", NULL, "compare", false,
     "the job beside itself as it was before an edit"},
    {AT_STROKE, {TERMINAL_RIGHT, 'l'}, "ram-down", "step", "right", false,
     "the ram down by a step, a finer one near what happens"},
    {AT_STROKE, {TERMINAL_LEFT, 'h'}, "ram-up", NULL, "left", false, "the ram up by a step"},
    {AT_STROKE, {TERMINAL_PAGE_DOWN}, "event-next", "event", "page-down", false,
     "the ram down to what happens next"},
    {AT_STROKE, {TERMINAL_PAGE_UP}, "event-before", NULL, "page-up", false,
     "the ram up to what happened before"},
    {AT_STROKE, {'o'}, "glide", "glide", "glide", false,
     "the ram comes down by itself as far as what happens next; any key stops it"},
    {AT_MAIN | AT_STROKE | AT_PLACING, {'x'}, "ground", "ground", "state", false, "new or fully ground"},
    {AT_STROKE, {TERMINAL_HOME, 'g'}, "open", "open", "first", false, "the ram to the top of its stroke"},
    {AT_STROKE, {TERMINAL_END, 'G'}, "shut", "shut", "last", false, "the ram all the way down"},
    {AT_WHY, {'x'}, "why-ground", "ground", "state", false, "new or fully ground"},
    {AT_FINDINGS, {'m'}, "mend", "mend", "mend", false,
     "what would clear this finding, each to be tried by its letter"},
    {AT_READ, {'M'}, "moved", NULL, "moved", false, "what the last change moved"},
    {AT_READ | AT_RUNS | AT_PLACING, {'!'}, "cautions", NULL, "cautions", false,
     "cautions whole, with their sources: what can hurt"},
    {AT_READ, {'U'}, "unjudged", NULL, "unjudged", false, "what no verdict covers, however sound the set"},
    {AT_READ & ~AT_REVIEW, {'r'}, "review", NULL, "review", false,
     "the review: what is open, edited, typed over; press and load"},
    {AT_MAIN, {'z'}, "zoom", "whole screen", "zoom", false,
     "the pane at the cursor takes the screen; again: back"},
    {AT_READ, {'/'}, "find", "find", "search", false,
     "search items and values, and what remarks say of them"},
    {AT_READ & ~AT_REVIEW, {'n'}, "find-next", NULL, "search-next", false, "next place found"},
    {AT_READ, {'N'}, "find-last", NULL, "search-last", false, "place found before"},
    {AT_READ | AT_RUNS, {':'}, "command", "do", "command", false, "do something by its name"},
    {AT_READ | AT_PICK | AT_RUNS | AT_PLACING, {'?', TERMINAL_F1}, "help", "help", "help", false,
     "this help"},
    {AT_FIELD | AT_EXACT | AT_PRACTICE, {TERMINAL_F1}, "field-help", "help", "help", false, "this help"},
    {AT_READ, {'u'}, "undo-last", NULL, "undo", true, "take your last edit back"},
    {AT_READ, {CONTROL('R')}, "redo-last", NULL, "redo", true, "make it again, what you took back last"},
    {AT_READ, {'<'}, "back", NULL, "back", false, "back through the places visited"},
    {AT_READ, {'>'}, "forward", NULL, "forward", false, "forward again"},
    {AT_FORM, {'v'}, "details", NULL, "all", false, "all values of the form, or the plain ones"},
    {AT_FORM, {TERMINAL_DELETE}, "usual", NULL, "unset", true,
     "take away what was typed: the usual formula holds again; a line of an outline is taken out"},
    {AT_FORM, {'^'}, "keep", NULL, "keep", true, "keep what was typed over its formula: give the reason"},
    {AT_STACK | AT_FORM, {' '}, "mark", "mark", "mark", false,
     "mark the item at the cursor, or no longer: a value typed in one that is marked is meant for all"},
    {AT_STACK | AT_FORM, {';'}, "again", "again", "repeat", true,
     "type the value typed last once more: here, or the same value of the item at the cursor"},
    {AT_STACK | AT_FORM, {'m'}, "station", NULL, "station", true,
     "the station at the cursor to another number, swapped with one, or copied to one"},
    {AT_FORM, {'='}, "formula", NULL, "formula", true, "type a formula, even where a list would open"},
    {AT_STACK | AT_FORM, {'a'}, "new-item", NULL, "add", true,
     "add an item: its kind, then its name; on a plate what it gets, such as screws; at an outline: a line "
     "after it"},
    {AT_STACK | AT_FORM, {'y'}, "add-like", NULL, "like", true, "add an item like the one at the cursor"},
    {AT_STACK | AT_FORM, {'D'}, "take-out", NULL, "remove", true,
     "take the item at the cursor out; undo brings it back"},
    {AT_PLAN | AT_SECTION | AT_PLACING, {'+'}, "larger", "larger", "larger", false,
     "larger scale; in the section: the ram up"},
    {AT_PLAN | AT_SECTION | AT_PLACING, {'-'}, "smaller", "smaller", "smaller", false,
     "smaller scale; in the section: the ram down"},
    {AT_PLAN | AT_SECTION | AT_PLACING, {'0'}, "fit", "fit", "fit", false,
     "all of it; in the section: the ram shut"},
    {AT_PLAN, {'H'}, "far-left", NULL, "far-left", false, "pan left"},
    {AT_PLAN, {'L'}, "far-right", NULL, "far-right", false, "pan right"},
    {AT_PLAN, {'K'}, "far-up", NULL, "far-up", false, "pan up"},
    {AT_PLAN, {'J'}, "far-down", NULL, "far-down", false, "pan down"},
    {AT_PLAN | AT_PLACING, {'b'}, "below", NULL, "below", false, "the plates below shown through"},
    {AT_PLAN | AT_PLACING, {'o'}, "turn-over", NULL, "turn-over", false,
     "seen from below, turned over; and back"},
    {AT_LISTS, {TERMINAL_UP, 'k'}, "up", NULL, "up", false, "one up"},
    {AT_LISTS, {TERMINAL_DOWN, 'j'}, "down", NULL, "down", false, "one down"},
    {AT_READ, {TERMINAL_LEFT, 'h'}, "left", NULL, "left", false,
     "left: a group's column, fold, the next point"},
    {AT_READ, {TERMINAL_RIGHT, 'l'}, "right", NULL, "right", false,
     "right: a group's column, unfold, the next point"},
    {AT_PAGED, {TERMINAL_PAGE_UP}, "page-up", NULL, "page-up", false, "a page up"},
    {AT_PAGED, {TERMINAL_PAGE_DOWN}, "page-down", NULL, "page-down", false, "a page down"},
    {AT_LISTS & ~AT_STROKE, {TERMINAL_HOME, 'g'}, "first", NULL, "first", false, "the first"},
    {AT_LISTS & ~AT_STROKE, {TERMINAL_END, 'G'}, "last", NULL, "last", false, "the last"},
    {AT_FIELD, {TERMINAL_UP}, "larger-size", "stock size", "up", false, "the next larger stock size"},
    {AT_FIELD, {TERMINAL_DOWN}, "smaller-size", NULL, "down", false, "the next smaller stock size"},
    {AT_COMMAND | AT_HELP | AT_PICK, {TERMINAL_UP}, "line-up", NULL, "up", false, "up: the line before"},
    {AT_COMMAND | AT_HELP | AT_PICK, {TERMINAL_DOWN}, "line-down", NULL, "down", false,
     "down: the line after"},
    {AT_PICK, {TERMINAL_HOME}, "first-line", NULL, "first", false, "the first of the list"},
    {AT_PICK, {TERMINAL_END}, "last-line", NULL, "last", false, "the last of the list"},
    {AT_ALL, {KEY_CLICK}, "click", NULL, "click", false,
     "mouse on: the cursor goes there; there already: Enter"},
    {AT_WHEELED, {KEY_WHEEL_UP}, "wheel-up", NULL, "wheel-up", false,
     "mouse on: the list below it up by three"},
    {AT_WHEELED, {KEY_WHEEL_DOWN}, "wheel-down", NULL, "wheel-down", false,
     "mouse on: the list below it down by three"},
    {AT_MAIN, {'Y'}, "clip", NULL, "clip", false,
     "the value at the cursor to the clipboard of the terminal, where that has one"},
    {AT_READ, {'C'}, "mouse", NULL, "mouse", false, "the mouse (clicks) on, and off again"},
    {AT_ALL, {CONTROL('L')}, "repaint", NULL, "repaint", false, "draw the screen again"},
    {AT_ALL | AT_SMALL, {CONTROL('Z')}, "suspend", NULL, "suspend", false,
     "stop for a while and give the shell back"},
    {AT_MAIN | AT_SMALL, {'q'}, "quit", "quit", "quit", false, "quit; every change is saved already"},
    {AT_WHY | AT_REVIEW | AT_FINDING | AT_LINES | AT_RUNS | AT_JOIN | AT_PRACTICE, {'q'}, "close", NULL,
     "leave", false,
     "leave this, nothing taken"},
    {AT_SMALL, {'?'}, "small-help", NULL, "small-help", false, "help, once the terminal is larger"},
};

const struct key_row *keys_table(int *count)
{
    *count = (int)COUNT_OF(table);
    return table;
}

/* By what they do; what edits changes, and all else belongs to its place alone. */
static const struct { enum key_use use; const char *action;
} uses[] = {
    {KEY_CHANGES, "remark"},
    {KEY_SHOWS, "why"}, {KEY_SHOWS, "detail"}, {KEY_SHOWS, "mend"}, {KEY_SHOWS, "hint"},
    {KEY_SHOWS, "moves"}, {KEY_SHOWS, "moved"}, {KEY_SHOWS, "show-form"}, {KEY_SHOWS, "show-plan"},
    {KEY_SHOWS, "show-section"}, {KEY_SHOWS, "stroke"}, {KEY_SHOWS, "vary"}, {KEY_SHOWS, "compare"},
    {KEY_SHOWS, "state"}, {KEY_SHOWS, "cautions"}, {KEY_SHOWS, "unjudged"}, {KEY_SHOWS, "review"},
    {KEY_SHOWS, "differences"}, {KEY_SHOWS, "all"}, {KEY_SHOWS, "below"}, {KEY_SHOWS, "turn-over"},
    {KEY_GOES, "up"}, {KEY_GOES, "down"}, {KEY_GOES, "left"}, {KEY_GOES, "right"},
    {KEY_GOES, "far-up"}, {KEY_GOES, "far-down"}, {KEY_GOES, "far-left"}, {KEY_GOES, "far-right"},
    {KEY_GOES, "page-up"}, {KEY_GOES, "page-down"}, {KEY_GOES, "first"}, {KEY_GOES, "last"},
    {KEY_GOES, "next"}, {KEY_GOES, "previous"}, {KEY_GOES, "search"}, {KEY_GOES, "search-next"},
    {KEY_GOES, "search-last"}, {KEY_GOES, "back"}, {KEY_GOES, "forward"}, {KEY_GOES, "click"},
    {KEY_GOES, "wheel-up"}, {KEY_GOES, "wheel-down"}, {KEY_SCREEN, "zoom"}, {KEY_SCREEN, "command"},
    {KEY_SCREEN, "help"}, {KEY_SCREEN, "leave"}, {KEY_SCREEN, "clip"}, {KEY_SCREEN, "mouse"},
    {KEY_SCREEN, "repaint"}, {KEY_SCREEN, "suspend"}, {KEY_SCREEN, "quit"},
};

enum key_use keys_use(const struct key_row *r)
{
    for (size_t i = 0; i < COUNT_OF(uses); i++)
        if (strcmp(uses[i].action, r->action) == 0)
            return uses[i].use;
    return r->edits ? KEY_CHANGES : KEY_HERE;
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

static const struct { int key; const char *label;
} labels[] = {
    {RETURN, "Enter"},
    {ESCAPE, "Esc"},
    {TAB, "Tab"},
    {TERMINAL_BACK_TAB, "Shift-Tab"},
    {TERMINAL_UP, "Up"},
    {TERMINAL_DOWN, "Down"},
    {TERMINAL_LEFT, "Left"},
    {TERMINAL_RIGHT, "Right"},
    {TERMINAL_PAGE_UP, "PgUp"},
    {TERMINAL_PAGE_DOWN, "PgDn"},
    {TERMINAL_HOME, "Home"},
    {TERMINAL_END, "End"},
    {TERMINAL_DELETE, "Del"},
    {' ', "Space"},
    {TERMINAL_F1, "F1"},
    {NEWLINE, ""},
    {TERMINAL_ENTER, ""},
    {KEY_LETTERS, "letters"},
    {KEY_FIGURES, "figures"},
    {KEY_CLICK, "click"},
    {KEY_WHEEL_UP, "wheel-up"},
    {KEY_WHEEL_DOWN, "wheel-down"},
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

static const struct { unsigned place; const char *word;
} places_words[] = {
    {AT_STACK, "stack"},         {AT_FORM, "form"},         {AT_PLAN, "plan"},
    {AT_SECTION, "section"},     {AT_FINDINGS, "findings"}, {AT_FIELD, "typing"},
    {AT_CHOICE, "choice"},       {AT_SIZES, "sizes"},       {AT_WHY, "why"},
    {AT_REVIEW, "review"},       {AT_STROKE, "stroke"},     {AT_VARY, "vary"},
    {AT_FINDING, "finding"},     {AT_LINES, "lists"},       {AT_HELP, "help"},
    {AT_COMMAND, "command row"}, {AT_PLACING, "placing"},   {AT_EXACT, "exact values"},
    {AT_PRACTICE, "practice"},   {AT_JOIN, "join"},
};

/* ---- own keys ---- */

/* Of each row, where it has keys of its own: the shipped ones, and the line that told. */
static struct own { int shipped[KEYS_EACH], line; bool is; } own[COUNT_OF(table)];

static void give_back(size_t row)
{
    if (own[row].is)
        memcpy(table[row].keys, own[row].shipped, sizeof table[row].keys);
    own[row].is = false;
}

void keys_shipped(void)
{
    for (size_t i = 0; i < COUNT_OF(table); i++)
        give_back(i);
}

/* 0: there is no such key, or none that can be given away. */
static int key_of(const char *label)
{
    for (size_t i = 0; i < COUNT_OF(labels) && *label; i++)
        if (labels[i].key < KEY_LETTERS && strcmp(labels[i].label, label) == 0)
            return labels[i].key;
    if (strncmp(label, "Ctrl-", 5) == 0 && label[5] >= 'A' && label[5] <= '_' && !label[6])
        return CONTROL(label[5]);
    return label[0] > ' ' && label[0] < 127 && !label[1] ? label[0] : 0;
}

static enum base_err no_row(const char *name, struct base_diag *why)
{
    const char *names[COUNT_OF(table)];
    struct base_text near = {0};
    for (size_t i = 0; i < COUNT_OF(table); i++)
        names[i] = table[i].name;
    base_nearest(&near, name, names, COUNT_OF(table));
    base_fail(why, BASE_UNKNOWN,
              "Nothing that keys do is called \"%s\"%s%s. To see them all: diewright --keys", name,
              near.length ? "; near it: " : "", base_text_get(&near));
    base_text_done(&near);
    return BASE_UNKNOWN;
}

enum base_err keys_take(const char *name, const char *text, int line, struct base_diag *why)
{
    const struct key_row *named = keys_named(name);
    int keys[KEYS_EACH] = {0}, n = 0;
    char label[20];
    if (!named)
        return no_row(name, why);
    while (*text) {
        text = record_word(text, label, sizeof label);
        if (n == KEYS_EACH)
            return base_fail(why, BASE_REFUSED, "%s has more than %d keys.", name, (int)KEYS_EACH);
        if (!(keys[n++] = key_of(label)))
            return base_fail(why, BASE_REFUSED, "\"%s\" is no key: write it as u, Ctrl-U, PgUp, Space.",
                             label);
    }
    if (!n)
        return base_fail(why, BASE_REFUSED, "%s would have no key.", name);
    size_t row = (size_t)(named - table);
    if (!own[row].is)
        memcpy(own[row].shipped, table[row].keys, sizeof own[row].shipped);
    own[row].is = true, own[row].line = line;
    memcpy(table[row].keys, keys, sizeof table[row].keys);
    return BASE_OK;
}

/* Another row that has KEY where ROW has it, or takes it as text; NULL: none. A shipped key stays. */
static const struct key_row *other_of(size_t row, int key)
{
    for (int i = 0; i < KEYS_EACH; i++)
        if (own[row].shipped[i] == key)
            return NULL;
    for (size_t i = 0; i < COUNT_OF(table); i++)
        if (i != row && (table[i].places & table[row].places) &&
            (bound_to(&table[i], key) || (key >= ' ' && key < 127 && bound_to(&table[i], KEY_LETTERS))))
            return &table[i];
    return NULL;
}

bool keys_clash(int *line, struct base_diag *why)
{
    char label[20];
    for (size_t row = 0; row < COUNT_OF(table); row++)
        for (int i = 0; own[row].is && i < KEYS_EACH && table[row].keys[i]; i++) {
            const struct key_row *other = other_of(row, table[row].keys[i]);
            struct base_text where = {0};
            if (!other)
                continue;
            keys_places(table[row].places & other->places, &where);
            *line = own[row].line;
            base_fail(why, BASE_REFUSED, "%s cannot have %s: that is %s in %s.", table[row].name,
                      keys_label(table[row].keys[i], label, sizeof label), other->name,
                      base_text_get(&where));
            base_text_done(&where);
            give_back(row);
            return true;
        }
    return false;
}

/* ---- places ---- */

void keys_places(unsigned places, struct base_text *out)
{
    bool any = false;
    if ((places & AT_ALL) == AT_ALL) {
        base_text_add(out, "everywhere");
        return;
    }
    if ((places & AT_MAIN) == AT_MAIN) {
        base_text_add(out, "main screen");
        places &= ~(unsigned)AT_MAIN;
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
