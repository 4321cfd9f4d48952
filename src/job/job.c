/* Opening, taking, undoing: the file, the die set and the findings kept in step.
 *
 * Invariants: outside a try the die set shows what the store holds, plus `unsaved` when a
 * transaction failed. `before` holds the findings as they stood before the latest try or edit.
 */

#include "job/job.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

/* ---- changes ----------------------------------------------------------------- */

static void append(struct job_changes *to, const struct job_changes *from)
{
    for (size_t i = 0; i < from->at.count; i++) {
        const struct typed_change *c = &from->at.at[i];
        job_changes_add(to, c->what, c->item, c->path, c->before, c->after);
    }
}

/* ---- opening ------------------------------------------------------------------ */

enum base_err job_open_handbook(const char *data, struct handbook **out, struct base_diag *why)
{
    enum base_err err = handbook_load(data, out, why);
    if (!err)
        err = dieset_check_handbook(*out, why);
    if (err && *out) {
        if (why && !why->file[0]) {
            char *says = base_copy(why->message);
            base_fail(why, err, "%s The files read are those of %s/handbook.", says, data);
            free(says);
        }
        handbook_free(*out);
        *out = NULL;
    }
    return err;
}

char *job_path(const char *name)
{
    static const char suffix[] = ".diejob";
    size_t n = strlen(name), m = strlen(suffix);
    bool there = n >= m && strcmp(name + n - m, suffix) == 0;
    return base_format("%s%s", name, there ? "" : suffix);
}

enum base_err job_load_into(struct job *j, struct dieset *d, struct base_diag *why)
{
    struct store_state is;
    enum base_err err = store_read(j->store, &is, why);
    return err ? err : dieset_load(d, is.items, is.n_items, is.entries, is.n_entries, why);
}

enum base_err job_load(struct job *j, struct base_diag *why)
{
    enum base_err err = job_load_into(j, j->dieset, why);
    if (!err)
        findings_judge(j->findings, NULL);
    return err;
}

static void name_after_file(struct job *j)
{
    static const char suffix[] = ".diejob";
    const char *path = store_path(j->store), *slash = strrchr(path, '/'), *base = slash ? slash + 1 : path;
    size_t n = strlen(base), s = sizeof suffix - 1;
    free(j->name);
    j->name = base_copy_n(base, n > s && strcmp(base + n - s, suffix) == 0 ? n - s : n);
}

enum base_err job_adopt(const struct handbook *h, struct store *store, struct job **out,
                        struct base_diag *why)
{
    struct job *j = base_alloc(sizeof *j);
    j->handbook = h;
    j->store = store;
    name_after_file(j);
    j->who = base_copy("");
    enum base_err err = job_copied_tables(j, why);
    if (!err)
        err = dieset_new(h, j->tables, &j->dieset, why);
    if (!err)
        j->findings = findings_new(j->dieset);
    if (err) {
        job_close(j);
        return err;
    }
    *out = j;
    return BASE_OK;
}

/* Everything of TEXT as one event, and the shipped tables. */
enum base_err job_fill(struct job *j, const struct dieset_text *text, struct base_diag *why)
{
    struct job_changes c = {0};
    for (size_t i = 0; i < text->items.count; i++)
        job_changes_add(&c, TYPED_ITEM, text->items.at[i].name, "", NULL, text->items.at[i].kind);
    for (size_t i = 0; i < text->entries.count; i++)
        job_changes_add(&c, TYPED_ENTRY, text->entries.at[i].item, text->entries.at[i].path, NULL,
                        text->entries.at[i].text);
    char *title = base_format("%s%s", job_begun, text->name);
    enum base_err err = store_take(j->store, title, j->who, c.at.at, (int)c.at.count, why);
    free(title);
    job_changes_done(&c);
    if (!err)
        err = job_put_shipped(j, why);
    j->tables_sum = store_tables_sum(j->store);
    return err;
}

/* A date is a day of the calendar wherever it is typed or read in; a job that was saved with another opens
   all the same. */
static enum base_err check_date(struct job *j, int q, struct base_diag *why)
{
    char text[100];
    const struct dieset_quantity *x = dieset_quantity(j->dieset, q);
    if (x->type.sort != HANDBOOK_DATE || dieset_value(j->dieset, q, DIESET_NEW).error)
        return BASE_OK;
    dieset_print(j->dieset, q, DIESET_NEW, text, sizeof text);
    if (!*text || base_is_date(text))
        return BASE_OK;
    return base_fail(why, BASE_REFUSED,
                     "%s: \"%s\" is no day of the calendar: a date is written as year-month-day, 2026-11-24.",
                     x->path, text);
}

static enum base_err check_dates(struct job *j, const struct job_changes *c, struct base_diag *why)
{
    enum base_err err = BASE_OK;
    for (size_t i = 0; i < c->at.count && !err; i++) {
        const struct typed_change *x = &c->at.at[i];
        char *path = base_format("%s.%s", x->item, x->path);
        int q = x->what == TYPED_ENTRY && x->after ? dieset_find(j->dieset, path) : -1;
        free(path);
        if (q >= 0)
            err = check_date(j, q, why);
    }
    return err;
}

enum base_err job_check_all_dates(struct job *j, struct base_diag *why)
{
    enum base_err err = BASE_OK;
    for (int q = 0; q < dieset_quantity_count(j->dieset) && !err; q++)
        err = check_date(j, q, why);
    return err;
}

static void forget_try(struct job *j)
{
    job_changes_done(&j->tried);
    free(j->title);
    j->title = NULL;
    j->trying = j->renewing = j->seen_only = false;
}

static void forget_unsaved(struct job *j)
{
    job_changes_done(&j->unsaved);
    free(j->unsaved_title);
    j->unsaved_title = NULL;
}

void job_close(struct job *j)
{
    if (!j)
        return;
    forget_try(j);
    forget_unsaved(j);
    findings_kept_free(j->before);
    base_vec_done(&j->moves);
    base_vec_done(&j->came);
    base_vec_done(&j->went);
    base_arena_done(&j->outcome_memory);
    findings_free(j->findings);
    dieset_free(j->dieset);
    table_set_free(j->tables);
    store_close(j->store);
    free(j->name);
    free(j->who);
    free(j->warned);
    free(j);
}

struct dieset *job_dieset(struct job *j) { return j->dieset; }
struct findings *job_findings(struct job *j) { return j->findings; }
const char *job_file(const struct job *j) { return store_path(j->store); }
bool job_readonly(const struct job *j) { return store_readonly(j->store); }

const char *job_warning(struct job *j)
{
    const char *all = store_warning(j->store);
    size_t told = j->warned && strncmp(all, j->warned, strlen(j->warned)) == 0 ? strlen(j->warned) : 0;
    free(j->warned);
    j->warned = base_copy(all);
    return j->warned + told + strspn(j->warned + told, " ");
}

bool job_saved(const struct job *j) { return j->unsaved.at.count == 0; }
bool job_edited(const struct job *j) { return j->edited; }
bool job_trying(const struct job *j) { return j->trying; }

const char *job_title(const struct job *j)
{
    int item = dieset_item_of_kind(j->dieset, DIESET_JOB);
    const char *title = item >= 0 ? dieset_entry(j->dieset, item, "title") : NULL;
    return title && *title ? title : j->name;
}

void job_set_who(struct job *j, const char *who)
{
    enum { LONGEST = 80 };
    struct base_text visible = {0};
    base_text_add_visible(&visible, who, strlen(who), false);
    free(j->who);
    j->who = base_copy_n(base_text_get(&visible), base_char_fit(base_text_get(&visible), LONGEST));
    base_text_done(&visible);
}

/* ---- tries ----------------------------------------------------------------------- */

static void forget_outcome(struct job *j)
{
    j->moves.count = j->came.count = j->went.count = 0;
    base_arena_done(&j->outcome_memory);
    j->outcome = (struct job_outcome){0};
    j->judged = false;
}

static void keep_findings(struct job *j)
{
    findings_kept_free(j->before);
    j->before = findings_keep(j->findings);
}

/* A text stands on one line of the job as text, so what a line cannot hold is no text; blanks round it are
   cut. */
static enum base_err check_line(struct job_changes *c, struct typed_change *change, struct base_diag *why)
{
    enum { LONGEST = 900 }; /* a line of record text holds 1000, key and indent counted */
    const char *text = change->after;
    if (!text || change->what != TYPED_ENTRY)
        return BASE_OK;
    text += strspn(text, " ");
    size_t n = strlen(text);
    while (n && text[n - 1] == ' ')
        n--;
    change->after = base_arena_copy_n(&c->memory, text, n);
    if (n > LONGEST)
        return base_fail(why, BASE_REFUSED,
                         "%s.%s: this text is longer than %d bytes; give a part of it a name of its own.",
                         change->item, change->path, LONGEST);
    if (strpbrk(text, "\n\r"))
        return base_fail(why, BASE_REFUSED,
                         "%s.%s: a text stands on one line; there is a line break in this one.", change->item,
                         change->path);
    struct record_document doc;
    char *line = base_format("text %s", change->after);
    enum base_err err = record_read(line, strlen(line), "", &doc, why);
    free(line);
    if (!err)
        record_done(&doc);
    return err;
}

enum base_err job_renew(struct job *j, struct base_diag *why)
{
    job_drop(j);
    if (!j->tables)
        return base_fail(why, BASE_REFUSED,
                         "The job's parts tables are those that are shipped: there is nothing to take over.");
    if (job_readonly(j))
        return base_fail(why, BASE_REFUSED, "%s is open for looking only: nothing can be changed.",
                         job_file(j));
    keep_findings(j);
    enum base_err err = dieset_try_tables(j->dieset, handbook_tables(j->handbook), why);
    if (err)
        return err;
    forget_outcome(j);
    j->trying = j->renewing = true;
    j->title = base_copy("shipped parts tables taken over");
    return BASE_OK;
}

enum base_err job_try(struct job *j, struct job_changes *changes, char *title, struct base_diag *why)
{
    job_drop(j);
    enum base_err err = job_readonly(j) ? base_fail(why, BASE_REFUSED,
                                                    "%s is open for looking only: nothing can be changed. "
                                                    "Save it under another name to work on it.",
                                                    job_file(j))
                                        : BASE_OK;
    for (size_t i = 0; i < changes->at.count && !err; i++)
        err = check_line(changes, &changes->at.at[i], why);
    if (!err) {
        keep_findings(j);
        err = dieset_try(j->dieset, changes->at.at, (int)changes->at.count, why);
        if (!err && (err = check_dates(j, changes, why)))
            dieset_drop(j->dieset);
    }
    if (err) {
        free(title);
        job_changes_done(changes);
        *changes = (struct job_changes){0};
        return err;
    }
    forget_outcome(j);
    j->trying = true;
    j->tried = *changes;
    j->title = title;
    *changes = (struct job_changes){0};
    return BASE_OK;
}

static struct finding copy_finding(struct base_arena *m, const struct finding *f)
{
    struct finding copy = *f;
    copy.message = base_arena_copy(m, f->message);
    copy.key = base_arena_copy(m, f->key);
    copy.waiver = base_arena_copy(m, f->waiver);
    int *mends = base_arena_alloc(m, (size_t)(f->n_mends ? f->n_mends : 1) * sizeof *mends);
    for (int i = 0; i < f->n_mends; i++)
        mends[i] = f->mends[i];
    copy.mends = mends;
    return copy;
}

/* Float noise, or less than anybody reads: not told as a move. */
static bool same_in_print(const struct job *j, const struct dieset_move *m)
{
    char was[60], is[60];
    if (m->was.error || m->is.error || m->type.sort != FORMULA_NUMBER)
        return false;
    unit_print(m->was.number, m->type.dim, dieset_system(j->dieset), was, sizeof was);
    unit_print(m->is.number, m->type.dim, dieset_system(j->dieset), is, sizeof is);
    return strcmp(was, is) == 0;
}

/* Judge the die set now and note what came and went against `before`; moves as they stand in the open try. */
static void judge(struct job *j)
{
    struct base_arena *m = &j->outcome_memory;
    const struct dieset_move *moves;
    int n = dieset_moves(j->dieset, &moves);
    for (int i = 0; i < n; i++) {
        if (same_in_print(j, &moves[i]))
            continue;
        struct dieset_move copy = moves[i];
        copy.path = base_arena_copy(m, moves[i].path);
        base_vec_push(&j->moves, copy);
    }
    const struct finding *now, *old;
    int n_now = findings_judge(j->findings, &now), n_old = findings_kept_list(j->before, &old);
    bool *came = base_alloc((size_t)n_now + 1), *went = base_alloc((size_t)n_old + 1);
    findings_compare(j->before, j->findings, came, went);
    for (int i = 0; i < n_now; i++)
        if (came[i])
            base_vec_push(&j->came, copy_finding(m, &now[i]));
    for (int i = 0; i < n_old; i++)
        if (went[i])
            base_vec_push(&j->went, copy_finding(m, &old[i]));
    free(came);
    free(went);
    j->outcome = (struct job_outcome){
        .title = j->title ? base_arena_copy(m, j->title) : "",
        .moves = j->moves.at, .n_moves = (int)j->moves.count,
        .came = j->came.at, .n_came = (int)j->came.count,
        .went = j->went.at, .n_went = (int)j->went.count,
    };
    j->judged = true;
}

const struct job_outcome *job_outcome(struct job *j)
{
    if (j->trying && !j->judged)
        judge(j);
    return &j->outcome;
}

void job_drop(struct job *j)
{
    if (!j->trying)
        return;
    dieset_drop(j->dieset);
    forget_try(j);
    forget_outcome(j);
    findings_restore(j->findings, j->before);
}

/* Somebody else's edit came first: show the file as it is now. */
static void reload(struct job *j)
{
    struct base_diag ignored = {0};
    struct table_set *before = j->tables, *shipped = handbook_tables(j->handbook);
    bool renewed = store_tables_sum(j->store) != j->tables_sum;
    if (renewed && job_copied_tables(j, &ignored) == BASE_OK)
        dieset_use_tables(j->dieset, j->tables ? j->tables : shipped);
    /* else the newer file cannot be bound: keep showing what was good */
    bool good = job_load(j, &ignored) == BASE_OK;
    if (good)
        forget_outcome(j);
    else
        dieset_use_tables(j->dieset, before ? before : shipped);
    struct table_set *over = good ? before : j->tables;
    if (before != j->tables) {
        j->tables = good ? j->tables : before;
        table_set_free(over);
    }
    if (!good)
        j->tables_sum = 0; /* to be read again */
}

/* The shipped tables go into the file beside the log: a renewal is no edit, and nothing of it stays when it
   is not saved. */
static enum base_err take_renewal(struct job *j, struct base_diag *why)
{
    enum base_err err = job_put_shipped(j, why);
    if (err) {
        job_drop(j);
        return err;
    }
    dieset_keep(j->dieset);
    forget_try(j);
    job_tables_renewed(j);
    j->edited = true;
    return BASE_OK;
}

bool job_trying_words(const struct job *j)
{
    struct typed_event e = {.changes = j->tried.at.at, .n_changes = (int)j->tried.at.count};
    return j->trying && job_only_said(j, &e);
}

bool job_changes_nothing(const struct job *j)
{
    bool same = j->trying && !j->renewing && j->tried.at.count > 0;
    for (size_t i = 0; i < j->tried.at.count && same; i++) {
        const struct typed_change *c = &j->tried.at.at[i];
        same = c->before && c->after && strcmp(c->before, c->after) == 0;
    }
    return same;
}

enum base_err job_take(struct job *j, struct base_diag *why)
{
    if (!j->trying)
        return base_fail(why, BASE_REFUSED, "There is no change to take.");
    job_outcome(j);
    if (base_given_up()) {
        job_drop(j);
        return base_fail_given_up(why);
    }
    if (j->renewing)
        return take_renewal(j, why);
    append(&j->unsaved, &j->tried);
    const char *title = j->unsaved_title ? j->unsaved_title : j->title;
    enum base_err err = (j->seen_only ? store_take_seen : store_take)(j->store, title, j->who,
                                                                      j->unsaved.at.at,
                                                                      (int)j->unsaved.at.count, why);
    if (err == BASE_CONFLICT || err == BASE_REFUSED) { /* REFUSED: no other place would take it either */
        dieset_drop(j->dieset);
        forget_try(j);
        forget_unsaved(j);
        reload(j);
        return err;
    }
    dieset_keep(j->dieset);
    if (err && !j->unsaved_title)
        j->unsaved_title = base_format("%s and what followed", j->title);
    forget_try(j);
    if (!err) {
        forget_unsaved(j);
        j->edited = true;
    }
    return err;
}

/* ---- undo, redo, history, others ---------------------------------------------------- */

enum base_err job_take_step(struct job *j, bool back, long edit, struct base_diag *why)
{
    job_outcome(j);
    if (base_given_up()) {
        job_drop(j);
        return base_fail_given_up(why);
    }
    enum base_err err = (back ? store_undo : store_redo)(j->store, edit, j->who, j->tried.at.at,
                                                         (int)j->tried.at.count, why);
    if (err) {
        job_drop(j);
        return err;
    }
    j->edited = true;
    dieset_keep(j->dieset);
    forget_try(j);
    return BASE_OK;
}

int job_history(struct job *j, const struct typed_event **events, int room)
{
    return store_history(j->store, events, room);
}

bool job_refresh(struct job *j)
{
    if (j->trying || !job_saved(j) || !store_changed(j->store))
        return false;
    reload(j);
    return true;
}

/* The file's name is the job's, and stands in its papers: on one line. */
static enum base_err check_file_name(const char *path, struct base_diag *why)
{
    for (const char *p = path; *p; p++)
        if ((unsigned char)*p < ' ' || *p == 127)
            return base_fail(why, BASE_REFUSED,
                             "A job's name stands on one line: there is a line break or a control character "
                             "in this one. Choose "
                             "another name.");
    return BASE_OK;
}

enum base_err job_save_as(struct job *j, const char *path, struct base_diag *why)
{
    job_drop(j);
    if (check_file_name(path, why))
        return BASE_REFUSED;
    enum base_err err = store_copy(j->store, path, why);
    if (err)
        return err;
    struct store *copy;
    err = store_open(path, false, &copy, why);
    if (!err && j->unsaved.at.count) {
        err = store_take(copy, j->unsaved_title, j->who, j->unsaved.at.at, (int)j->unsaved.at.count, why);
        if (err)
            store_close(copy);
    }
    if (err)
        return err;
    store_close(j->store);
    j->store = copy;
    name_after_file(j);
    forget_unsaved(j);
    return BASE_OK;
}

char *job_dump(struct job *j) { return dieset_text_write(j->dieset); }

enum base_err job_check_used(struct job *j, const char *path, struct base_diag *why)
{
    int q = dieset_find(j->dieset, path);
    if (q < 0 || dieset_applies(j->dieset, q))
        return BASE_OK;
    struct base_text says = {0};
    struct job_changes c = j->tried;
    char *kept = base_copy(path); /* it may be the try's */
    j->tried = (struct job_changes){0};
    job_drop(j);
    dieset_tell_unused(j->dieset, kept, c.at.at, (int)c.at.count, &says);
    job_changes_done(&c);
    enum base_err err = base_fail(why, BASE_REFUSED, "%s", base_text_get(&says));
    base_text_done(&says);
    free(kept);
    return err;
}
