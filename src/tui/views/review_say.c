/* tui/views/review_say.c - the lead's words: remarks, waivers, issuing, and taking them back */

#include "tui/views/review_lines.h"

#include "diewright/record.h"
#include "tui/act.h"
#include "tui/edits.h"
#include "tui/form.h"
#include "tui/found.h"
#include "tui/line.h"
#include "tui/lines.h"
#include "tui/undo.h"
#include "tui/views.h"

#include <stdlib.h>
#include <string.h>

/* What R and W speak of: the finding, value or item where the keys go. */
static const char *subject(struct tui *t, bool *finding)
{
    struct level *l = tui_top(t);
    const struct review_line *line = review_at_cursor(t);
    const char *key = l && l->ops->finding ? l->ops->finding(t, l) : NULL;
    *finding = key || (line && line->what == LINE_FINDING) || (!l && t->focus == PANE_FINDINGS);
    if (key || line)
        return key ? key : line->go;
    if (*finding)
        return found_here(t) ? found_here(t)->key : NULL;
    bool value = tui_pane_place(t, t->focus) == AT_FORM && form_quantity(t) >= 0;
    return value ? t->path : *t->item ? t->item : NULL;
}

static void tried(struct tui *t, enum base_err err, const struct base_diag *why)
{
    if (err)
        tui_complain(t, "%s", why->message);
    else
        edit_take(t);
    tui_changed(t);
}

static void remark_given(struct tui *t, const char *on, const char *text)
{
    struct base_diag why = {0};
    struct base_text told = {0};
    if (!*text)
        tui_say(t, "nothing remarked");
    else if (!t->o.look && !job_readonly(t->job))
        tried(t, job_remark(t->job, on, text, &why), &why);
    else if (job_remark_beside(t->job, on, text, &told, &why))
        tui_complain(t, "%s", why.message);
    else if (strchr(base_text_get(&told), '\n'))
        lines_open_text(t, "a remark to be sent", &told);
    else
        tui_say(t, "%s", base_text_get(&told));
    base_text_done(&told);
}

/* Words are asked for on the finding, item or value ON; TITLE holds a %s for what it is called. */
static void ask_about(struct tui *t, const char *title, const char *on, ask_fn *given)
{
    char words[120];
    char *called = base_format("%.40s", review_finding_words(t, on, words, sizeof words)),
         *whole = base_format(title, called), *held = base_copy(on);
    ask_open(t, whole, held, "", given);
    free(called);
    free(whole);
    free(held);
}

/* A waiver that waives nothing any more stands among the remarks, and is none. */
static bool on_remark(const struct review_line *line)
{
    return line && line->what == LINE_REMARK && strncmp(line->id, "remark ", 7) == 0;
}

/* What the remark at the cursor asked for is done, or it is open again. */
void act_done(struct tui *t)
{
    struct base_diag why = {0};
    const struct review_line *line = review_at_cursor(t);
    if (!on_remark(line)) {
        tui_say(t, "it is a remark that is done: put the cursor on one");
        return;
    }
    enum base_err err = job_remark_done(t->job, line->record, true, &why);
    if (err == BASE_REFUSED)
        err = job_remark_done(t->job, line->record, false, &why);
    tried(t, err, &why);
}

void act_remark(struct tui *t)
{
    if (!t->o.look && !edit_allowed(t))
        return;
    const struct review_line *line = review_at_cursor(t);
    if (on_remark(line)) {
        char *title = base_format("answer to %s: ", line->record);
        ask_open(t, title, line->record, "", remark_given);
        free(title);
        return;
    }
    bool finding;
    const char *on = subject(t, &finding);
    if (!on) {
        tui_say(t, "a remark speaks of an item, a value or a finding: put the cursor on it");
        return;
    }
    ask_about(t, "remark on %s: ", on, remark_given);
}

static bool is_subject(struct tui *t, const char *name)
{
    const struct finding *f;
    return dieset_find_item(t->d, name) >= 0 || dieset_find(t->d, name) >= 0 ||
           findings_named(job_findings(t->job), name, &f, NULL) == BASE_OK;
}

void review_remark(struct tui *t, const char *words)
{
    enum { NAME = 200 };
    char name[NAME];
    bool finding;
    const char *text = record_word(words, name, sizeof name), *on;
    if (!*words)
        act_remark(t);
    else if (!t->o.look && !edit_allowed(t))
        return;
    else if (is_subject(t, name) && !*text)
        tui_complain(t, "what does the remark on %s say? its words stand behind the name", name);
    else if (is_subject(t, name))
        remark_given(t, name, text);
    else if ((on = subject(t, &finding)))
        remark_given(t, on, words);
    else
        tui_complain(t, "there is no item, value or finding \"%s\", and none at the cursor", name);
}

static void reason_given(struct tui *t, const char *key, const char *text)
{
    struct base_diag why = {0};
    tried(t, job_waive(t->job, key, text, &why), &why);
}

void act_waive(struct tui *t)
{
    bool finding;
    const char *key = subject(t, &finding);
    if (!finding || !key) {
        tui_say(t, "it is a finding that is waived: put the cursor on one");
        return;
    }
    ask_about(t, "waive %s, because: ", key, reason_given);
}

static void note_given(struct tui *t, const char *letter, const char *text)
{
    struct base_diag why = {0};
    tried(t, job_issue(t->job, letter, text, &why), &why);
}

static void letter_given(struct tui *t, const char *unused, const char *text)
{
    struct base_diag why = {0};
    char letter[REVIEW_LETTER];
    (void)unused;
    if (!*text) {
        tui_say(t, "not issued");
    } else if (job_letter(t->job, text, letter, &why)) {
        tui_complain(t, "%s", why.message);
    } else {
        char *title = base_format("issue as %s, with the note: ", letter);
        ask_open(t, title, letter, "", note_given);
        free(title);
    }
}

void act_issue(struct tui *t)
{
    struct base_diag why = {0};
    char next[REVIEW_LETTER];
    if (review_may_issue(job_findings(t->job), &why)) {
        tui_complain(t, "%s", why.message);
        return;
    }
    struct base_text open = {0};
    struct line *l = line_open(t, "issue as revision: ", "", job_next_letter(t->job, next), letter_given);
    review_open_words(t->d, &open);
    base_text_add(&l->above, base_text_get(&open));
    base_text_done(&open);
}

static void unsaid(struct tui *t, const char *record, const char *text)
{
    struct base_diag why = {0};
    if (strcmp(text, "y") == 0)
        tried(t, job_unsay(t->job, record, true, &why), &why);
    else
        tui_say(t, "nothing taken out");
}

/* What somebody else let stand is taken out once its writer and hour were told; a remark by its writer
   alone. */
static void unsay(struct tui *t, const char *record, bool remark)
{
    struct base_diag why = {0};
    if (job_unsay(t->job, record, false, &why) == BASE_REFUSED && !remark) {
        struct line *l = line_open(t, "y takes it out: ", record, "", unsaid);
        base_text_add(&l->above, why.message);
        return;
    }
    tried(t, why.code, &why);
}

static void because(struct tui *t, const char *letter, const char *text)
{
    struct base_diag why = {0};
    tried(t, job_withdraw(t->job, letter, text, &why), &why);
}

void act_take_back(struct tui *t)
{
    const struct review_line *line = review_at_cursor(t);
    if (line && line->edit > 0) {
        undo_step(t, true, line->edit);
    } else if (line && line->what == LINE_REVISION) {
        char *title = base_format("withdraw revision %s, because: ", line->record);
        ask_open(t, title, line->record, "", because);
        free(title);
    } else if (line && line->record) {
        unsay(t, line->record, on_remark(line));
    } else {
        tui_say(t, "put the cursor on a remark, a waiver, an edit or a revision");
    }
}
