/* Remarks, waivers and issued revisions as edits: items of kinds of words, added and changed like any
   others. */

#include "job/job.h"

#include <limits.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

void job_free_name(struct job *j, const char *kind, char *buf, size_t size)
{
    int n = 1;
    do
        snprintf(buf, size, "%s_%d", kind, n++);
    while (dieset_find_item(j->dieset, buf) >= 0);
}

enum { TITLE_MOST = 120 }; /* bytes of a text in the title of its edit; all of it stands in the item */

/* The title of an edit: what was DONE and how the text begins, cut between two words and said to be cut. */
static char *titled(const char *done, const char *text)
{
    size_t n = strlen(text);
    if (n <= TITLE_MOST)
        return base_format("%s%s%s", done, *text ? ": " : "", text);
    for (n = TITLE_MOST; n > 0 && text[n] != ' ';)
        n--;
    if (n == 0) /* one long word: between two characters */
        n = base_char_fit(text, TITLE_MOST);
    return base_format("%s: %.*s ..", done, (int)n, text);
}

static void say(struct job_changes *c, const char *item, const char *line, const char *text)
{
    if (text && *text)
        job_changes_add(c, TYPED_ENTRY, item, line, NULL, text);
}

/* The text of LINE becomes TEXT, NULL or "": none. */
static void resay(struct job *j, struct job_changes *c, int item, const char *line, const char *text)
{
    const char *before = dieset_entry(j->dieset, item, line), *after = text && *text ? text : NULL;
    if (before || after)
        job_changes_add(c, TYPED_ENTRY, dieset_item_name(j->dieset, item), line, before, after);
}

/* Who says it, and when. */
static void sign(struct job *j, struct job_changes *c, const char *item)
{
    char now[40];
    say(c, item, "by", j->who);
    say(c, item, "on", store_now(now, sizeof now));
}

/* All words are said of the job as it is now. */
static enum base_err begin(struct job *j, const char *kind, struct base_diag *why)
{
    job_drop(j);
    if (handbook_find_kind(j->handbook, kind) < 0)
        return base_fail(why, BASE_REFUSED, "The handbook has no kind \"%s\", so none can be kept.", kind);
    if (!job_readonly(j))
        job_refresh(j);
    return BASE_OK;
}

/* ---- remarks ---- */

/* The item of the remark NAME; -1: there is none. */
static int remark_named(const struct job *j, const char *name)
{
    int item = dieset_find_item(j->dieset, name), kind = handbook_find_kind(j->handbook, DIESET_REMARK);
    return item >= 0 && kind >= 0 && dieset_item_kind(j->dieset, item) == kind ? item : -1;
}

static enum base_err no_remark(const char *name, struct base_diag *why)
{
    return base_fail(why, BASE_UNKNOWN,
                     "The job has no remark \"%s\": they are called remark_1, remark_2 and so on.", name);
}

/* The remark that ITEM answers, else itself: answers stand side by side under what they answer. */
static const char *first_of(const struct job *j, int item)
{
    const char *answers = dieset_entry(j->dieset, item, "answers");
    return answers && remark_named(j, answers) >= 0 ? answers : dieset_item_name(j->dieset, item);
}

enum base_err job_spoken_of(struct job *j, const char *subject, const char *text, struct job_spoken *out,
                            struct base_diag *why)
{
    const struct finding *x = NULL;
    enum base_err err = begin(j, DIESET_REMARK, why);
    bool is_item = dieset_find_item(j->dieset, subject) >= 0 || dieset_find(j->dieset, subject) >= 0;
    if (!err && !*text)
        err = base_fail(why, BASE_REFUSED, "A remark says something: its text is missing.");
    if (!err && !is_item && findings_named(j->findings, subject, &x, why)) {
        if (why && why->code == BASE_REFUSED)
            return why->code; /* several findings of the name */
        struct base_text near = {0};
        dieset_nearest(j->dieset, subject, &near);
        err = base_fail(why, BASE_UNKNOWN, "The job has no item, value or open finding \"%s\"%s%s.", subject,
                        near.length ? "; near it: " : "", base_text_get(&near));
        base_text_done(&near);
    }
    if (err)
        return err;
    int answered = remark_named(j, subject);
    out->key = x ? x->key : answered >= 0 ? dieset_entry(j->dieset, answered, "finding") : NULL;
    out->item = answered >= 0 ? dieset_entry(j->dieset, answered, "item") : subject;
    out->answers = answered >= 0 ? first_of(j, answered) : NULL;
    return BASE_OK;
}

enum base_err job_remark_as(struct job *j, const char *subject, const char *text, const char *by,
                            const char *when, const char *note, struct base_diag *why)
{
    char name[40];
    struct job_spoken on;
    enum base_err err = job_spoken_of(j, subject, text, &on, why);
    if (err)
        return err;
    struct job_changes c = {0};
    job_free_name(j, DIESET_REMARK, name, sizeof name);
    job_changes_add(&c, TYPED_ITEM, name, "", NULL, DIESET_REMARK);
    say(&c, name, on.key ? "finding" : "item", on.key ? on.key : on.item);
    say(&c, name, "answers", on.answers);
    say(&c, name, "by", by);
    say(&c, name, "on", when);
    say(&c, name, "says", text);
    say(&c, name, "note", note);
    char *of = note ? base_format(" of %s", by) : base_copy(""),
         *done = base_format(on.answers ? "answer%s to %s" : "remark%s on %s", of,
                             !on.answers && on.key ? on.key : subject),
         *title = titled(done, text);
    free(of);
    free(done);
    return job_try(j, &c, title, why);
}

enum base_err job_remark(struct job *j, const char *subject, const char *text, struct base_diag *why)
{
    char now[40];
    return job_remark_as(j, subject, text, j->who, store_now(now, sizeof now), NULL, why);
}

enum base_err job_remark_done(struct job *j, const char *remark, bool done, struct base_diag *why)
{
    char now[40], *title;
    struct job_changes c = {0};
    enum base_err err = begin(j, DIESET_REMARK, why);
    int item = remark_named(j, remark);
    if (!err && item < 0)
        err = no_remark(remark, why);
    if (err)
        return err;
    char *name = base_copy(first_of(j, item)); /* of an answer, what it answers */
    item = dieset_find_item(j->dieset, name);
    bool is = dieset_entry(j->dieset, item, "done") != NULL;
    if (is == done) {
        err = base_fail(why, BASE_REFUSED, "%s is %s already.", name, done ? "done" : "open");
        free(name);
        return err;
    }
    resay(j, &c, item, "done", done ? store_now(now, sizeof now) : NULL);
    resay(j, &c, item, "done_by", done ? j->who : NULL);
    const char *says = dieset_entry(j->dieset, item, "says");
    char *what = base_format("%s %s", name, done ? "done" : "open again");
    title = titled(what, says ? says : "");
    free(what);
    free(name);
    return job_try(j, &c, title, why);
}

static enum base_err unsay(struct job *j, int item, bool others, struct base_diag *why)
{
    const char *by = dieset_entry(j->dieset, item, "by"), *on = dieset_entry(j->dieset, item, "on");
    bool remark = remark_named(j, dieset_item_name(j->dieset, item)) >= 0;
    if ((!others || remark) && !job_same_person(by ? by : "", j->who))
        return base_fail(why, BASE_REFUSED, "%s is not yours: %s said it at %.10s %.5s.%s",
                         dieset_item_name(j->dieset, item), by ? by : "somebody", on ? on : "",
                         on && strlen(on) > 11 ? on + 11 : "",
                         remark ? " Only who said it takes it out; it can be answered, or be done." : "");
    char *name = base_copy(dieset_item_name(j->dieset, item));
    enum base_err err = job_take_out(j, name, why);
    free(name);
    return err;
}

enum base_err job_unsay(struct job *j, const char *record, bool others, struct base_diag *why)
{
    int item = dieset_find_item(j->dieset, record);
    if (item < 0 || !dieset_item_words(j->dieset, item))
        return base_fail(why, BASE_UNKNOWN, "The job has no remark and no waiver \"%s\".", record);
    return unsay(j, item, others, why);
}

enum base_err job_unremark(struct job *j, const char *remark, struct base_diag *why)
{
    int item = remark_named(j, remark);
    return item < 0 ? no_remark(remark, why) : unsay(j, item, false, why);
}

/* ---- waivers ---- */

static void waive_anew(struct job *j, struct job_changes *c, int item, const struct finding *x,
                       const char *margin, const char *reason)
{
    char now[40];
    const struct {
        const char *line, *text;
    } lines[] = {
        {"grade", handbook_grade_text(x->grade)},
        {"states", findings_states_word(x->states)},
        {"margin", margin},
        {"by", j->who},
        {"on", store_now(now, sizeof now)},
        {"says", reason},
    };
    for (size_t i = 0; i < COUNT_OF(lines); i++)
        resay(j, c, item, lines[i].line, lines[i].text);
}

static void waive_first(struct job *j, struct job_changes *c, const struct finding *x, const char *margin,
                        const char *reason)
{
    char name[40];
    job_free_name(j, DIESET_WAIVER, name, sizeof name);
    job_changes_add(c, TYPED_ITEM, name, "", NULL, DIESET_WAIVER);
    say(c, name, "finding", x->key);
    say(c, name, "grade", handbook_grade_text(x->grade));
    say(c, name, "states", findings_states_word(x->states));
    say(c, name, "margin", margin);
    sign(j, c, name);
    say(c, name, "says", reason);
}

enum base_err job_waive(struct job *j, const char *finding, const char *reason, struct base_diag *why)
{
    const struct finding *x;
    enum base_err err = begin(j, DIESET_WAIVER, why);
    if (!err)
        err = findings_named(j->findings, finding, &x, why);
    if (!err)
        err = review_may_waive(x, reason, why);
    if (err)
        return err;
    struct job_changes c = {0};
    char *margin = findings_margin_text(x, dieset_system(j->dieset));
    int old = review_waiver_of(j->dieset, x->key);
    if (old >= 0)
        waive_anew(j, &c, old, x, margin, reason);
    else
        waive_first(j, &c, x, margin, reason);
    free(margin);
    char *done = base_format("waived %s", x->key), *title = titled(done, reason);
    free(done);
    return job_try(j, &c, title, why);
}

enum base_err job_unwaive(struct job *j, const char *finding, bool others, struct base_diag *why)
{
    const struct finding *x;
    enum base_err err = begin(j, DIESET_WAIVER, why);
    if (err)
        return err;
    int item = review_waiver_of(j->dieset, finding); /* also of a finding that has gone */
    if (item < 0) {
        err = findings_named(j->findings, finding, &x, why);
        if (err)
            return err;
        item = review_waiver_of(j->dieset, x->key);
    }
    if (item < 0)
        return base_fail(why, BASE_REFUSED, "%s is not waived.", finding);
    return unsay(j, item, others, why);
}

/* ---- revisions ---- */

/* The latest letter that the history tells of, "": none. A revision that is not in the job any more was taken
   out by a program that did so. */
static const char *letter_given(struct job *j, char buf[REVIEW_LETTER])
{
    const struct typed_event *e;
    int n = store_history(j->store, &e, INT_MAX);
    buf[0] = '\0';
    for (int i = 0; i < n; i++)
        for (int c = 0; c < e[i].n_changes; c++) {
            const struct typed_change *x = &e[i].changes[c];
            bool letter = x->what == TYPED_ENTRY && x->after && strcmp(x->path, "letter") == 0 &&
                          strlen(x->after) < REVIEW_LETTER;
            if (letter && job_says(j, &e[i], x) && (!*buf || review_compare_letters(x->after, buf) > 0))
                snprintf(buf, REVIEW_LETTER, "%s", x->after);
        }
    return buf;
}

const char *job_next_letter(struct job *j, char buf[REVIEW_LETTER])
{
    char given[REVIEW_LETTER];
    return review_next_letter(j->dieset, letter_given(j, given), buf);
}

enum base_err job_letter(struct job *j, const char *letter, char out[REVIEW_LETTER], struct base_diag *why)
{
    char given[REVIEW_LETTER];
    return review_letter(j->dieset, letter_given(j, given), letter, out, why);
}

static const char *sum_of(struct job *j, char buf[20])
{
    char *text = dieset_text_write_set(j->dieset);
    snprintf(buf, 20, "%016llx", (unsigned long long)base_hash(text, strlen(text)));
    free(text);
    return buf;
}

/* In the lines that the handbook's kind has for it. */
static void keep_verdict(struct job *j, struct job_changes *c, const char *revision)
{
    const struct handbook_kind *k = handbook_kind(j->handbook,
                                                  handbook_find_kind(j->handbook, DIESET_REVISION));
    for (int i = 0; i < k->n_words; i++) {
        struct base_text text = {0};
        for (int n = 0; n < REVIEW_VERDICT_LINES; n++)
            if (strcmp(k->words[i], review_verdict_lines[n]) == 0)
                review_verdict(j->findings, n, &text);
        if (strcmp(k->words[i], "handbook") == 0)
            base_text_addf(&text, "%016llx", (unsigned long long)handbook_own_sum(j->handbook));
        say(c, revision, k->words[i], base_text_get(&text));
        base_text_done(&text);
    }
}

/* The last edit that is more than words; NULL: none since the job was begun. Borrowed until the next call. */
static const struct typed_event *last_edit(struct job *j)
{
    const struct typed_event *e;
    int n = store_history(j->store, &e, INT_MAX);
    for (int i = 0; i < n; i++)
        if (!job_only_said(j, &e[i]) && !job_is_beginning(&e[i]))
            return &e[i];
    return NULL;
}

/* The event that let the second person go whom somebody else had asked for, where the last word on it was
   that; NULL: there is none. Borrowed until the next call. */
static const struct typed_event *let_go(struct job *j)
{
    const struct typed_event *e, *gone = NULL;
    int n = store_history(j->store, &e, INT_MAX);
    for (int i = 0; i < n; i++)
        for (int k = 0; k < e[i].n_changes; k++) {
            const struct typed_change *c = &e[i].changes[k];
            if (c->what != TYPED_ENTRY || strcmp(c->item, DIESET_JOB) != 0 ||
                strcmp(c->path, "second_person") != 0)
                continue;
            if (gone)
                return job_same_person(gone->who, e[i].who) ? NULL : gone;
            if (!c->before || strcmp(c->before, "yes") != 0)
                return NULL;
            gone = &e[i];
        }
    return gone;
}

/* Where the job asks for a second person, who edited it last does not issue it; nor does who let go the
   second person whom another asked for, or the question would be none. */
static enum base_err check_second(struct job *j, const struct typed_event *last, struct base_diag *why)
{
    struct formula_value asks = dieset_get(j->dieset, "job.second_person", DIESET_NEW);
    bool asked = !asks.error && asks.number != 0;
    const struct typed_event *e = asked ? last : let_go(j);
    if (!e || !job_same_person(e->who, j->who))
        return BASE_OK;
    const char *hour = strlen(e->when) > 11 ? e->when + 11 : "";
    if (!asked)
        return base_fail(why, BASE_REFUSED,
                         "Not issued: you said yourself, at %.10s %.5s, that no second person is asked for "
                         "(job.second_person). Somebody else looks it over and issues it.",
                         e->when, hour);
    return base_fail(why, BASE_REFUSED,
                     "Not issued: the job asks for a second person (job.second_person), and you edited it "
                     "last, at %.10s %.5s: %.200s. Somebody else looks it over and issues it.",
                     e->when, hour, e->title);
}

/* A shop's own handbook of before may not know LINE of a revision. */
static bool knows(const struct job *j, const char *line)
{
    int k = handbook_find_kind(j->handbook, DIESET_REVISION);
    return k >= 0 && handbook_word_line(handbook_kind(j->handbook, k), line) >= 0;
}

enum base_err job_issue(struct job *j, const char *letter, const char *note, struct base_diag *why)
{
    char name[40], sum[20], next[REVIEW_LETTER], said[REVIEW_LETTER];
    job_drop(j);
    if (handbook_find_kind(j->handbook, DIESET_REVISION) < 0)
        return base_fail(why, BASE_REFUSED, "The handbook has no kind \"revision\", so none can be kept.");
    if (!job_saved(j))
        return base_fail(why, BASE_NOT_SAVED,
                         "Some edits are not saved yet: save them to another place first, then issue.");
    if (job_refresh(j))
        return base_fail(why, BASE_CONFLICT,
                         "Somebody has edited the job meanwhile: it is shown as it is now. Look at that "
                         "first, then issue.");
    enum base_err err = job_letter(j, letter && *letter ? letter : job_next_letter(j, next), said, why);
    if (!err)
        err = review_may_issue(j->findings, why);
    if (!err)
        err = check_second(j, last_edit(j), why);
    const struct typed_event *last = err ? NULL : last_edit(j);
    if (err)
        return err;
    sum_of(j, sum);
    struct job_changes c = {0};
    job_free_name(j, DIESET_REVISION, name, sizeof name);
    job_changes_add(&c, TYPED_ITEM, name, "", NULL, DIESET_REVISION);
    say(&c, name, "letter", said);
    sign(j, &c, name);
    say(&c, name, "says", note);
    say(&c, name, "sum", sum);
    keep_verdict(j, &c, name);
    if (last && knows(j, "made_by"))
        say(&c, name, "made_by", last->who);
    char *done = base_format("revision %s issued", said), *title = titled(done, note ? note : "");
    free(done);
    err = job_try(j, &c, title, why);
    j->seen_only = !err; /* the sum is of what was looked at */
    return err;
}

enum base_err job_withdraw(struct job *j, const char *letter, const char *reason, struct base_diag *why)
{
    struct review_revision r;
    char now[40];
    enum base_err err = begin(j, DIESET_REVISION, why);
    if (!err && !review_find(j->dieset, letter, &r))
        err = base_fail(why, BASE_UNKNOWN, "The job has no revision \"%s\".", letter);
    if (!err && *r.withdrawn)
        err = base_fail(why, BASE_REFUSED, "Revision %s was withdrawn on %.10s by %s already.", r.letter,
                        r.withdrawn, r.withdrawn_by);
    if (!err && !*reason)
        err = base_fail(why, BASE_REFUSED, "Revision %s is withdrawn only with a reason.", r.letter);
    if (err)
        return err;
    struct job_changes c = {0};
    say(&c, r.name, "withdrawn", store_now(now, sizeof now));
    say(&c, r.name, "withdrawn_by", j->who);
    say(&c, r.name, "because", reason);
    char *done = base_format("revision %s withdrawn", r.letter), *title = titled(done, reason);
    free(done);
    return job_try(j, &c, title, why);
}

/* The revision LETTER, NULL: the latest in force. */
static enum base_err find_revision(struct job *j, const char *letter, struct review_revision *r,
                                   struct base_diag *why)
{
    bool found = letter ? review_find(j->dieset, letter, r) : review_latest(j->dieset, r);
    if (!found && letter)
        return base_fail(why, BASE_UNKNOWN, "The job has no revision \"%s\".", letter);
    return found ? BASE_OK
                 : base_fail(why, BASE_REFUSED, "The job is not issued: parts are ordered by a revision.");
}

enum base_err job_ordered(struct job *j, const char *letter, bool back, struct base_diag *why)
{
    struct review_revision r;
    char now[40];
    enum base_err err = begin(j, DIESET_REVISION, why);
    err = err ? err : find_revision(j, letter, &r, why);
    if (!err && *r.withdrawn && !back)
        err = base_fail(why, BASE_REFUSED,
                        "Revision %s was withdrawn on %.10s by %s: nothing is ordered by it.", r.letter,
                        r.withdrawn, r.withdrawn_by);
    if (!err && !knows(j, "ordered"))
        err = base_fail(why, BASE_REFUSED,
                        "The handbook's kind \"revision\" has no line \"ordered\": write "
                        "\"ordered ordered_by\" behind its words.");
    if (!err && (*r.ordered != '\0') != back)
        err = back ? base_fail(why, BASE_REFUSED, "Nothing was ordered by revision %s.", r.letter)
                   : base_fail(why, BASE_REFUSED, "It was ordered by revision %s on %.10s, by %s, already.",
                               r.letter, r.ordered, *r.ordered_by ? r.ordered_by : "somebody");
    if (err)
        return err;
    struct job_changes c = {0};
    resay(j, &c, r.item, "ordered", back ? NULL : store_now(now, sizeof now));
    resay(j, &c, r.item, "ordered_by", back ? NULL : j->who);
    return job_try(j, &c, base_format("%sordered by revision %s", back ? "not " : "", r.letter), why);
}

void job_issued_words(struct job *j, struct base_text *out)
{
    struct review_revision r, gone;
    bool any = review_latest(j->dieset, &r);
    int since = any ? job_edits_since(j, r.letter) : 0;
    if (!any)
        base_text_add(out, "not issued");
    else if (job_is_issued(j))
        base_text_addf(out, "revision %s, sum %s", r.letter, r.sum);
    else if (since)
        base_text_addf(out, "revision %s with %d edit%s since, not issued", r.letter, since,
                       since == 1 ? "" : "s");
    else
        base_text_addf(out, "revision %s edited since, not issued", r.letter);
    if (review_withdrawn(j->dieset, &gone))
        base_text_addf(out, "; revision %s was withdrawn on %.10s by %s: %s", gone.letter, gone.withdrawn,
                       *gone.withdrawn_by ? gone.withdrawn_by : "somebody", gone.because);
}

void job_sums(struct job *j, struct base_text *out)
{
    char sum[20];
    base_text_addf(out, "job %s, handbook %016llx", sum_of(j, sum),
                   (unsigned long long)handbook_own_sum(j->handbook));
}

enum base_err job_remove(struct job *j, const char *item, struct base_diag *why)
{
    int i = dieset_find_item(j->dieset, item);
    const struct handbook_kind *k = i < 0 ? NULL : job_kind_of(j, i);
    if (k && k->n_words && !job_is_revision(j, i))
        return job_unsay(j, item, false, why);
    return job_take_out(j, item, why);
}
