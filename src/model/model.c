/* The model: slots, their order, recalculation, previews and why. */

#include "model/model.h"

#include <stdlib.h>
#include <string.h>

struct model *model_new(formula_lookup_fn *lookup, void *lookup_arg)
{
    struct model *m = base_alloc(sizeof *m);
    m->lookup = lookup;
    m->lookup_arg = lookup_arg;
    m->tick = 1;
    return m;
}

void model_free(struct model *m)
{
    if (!m)
        return;
    for (size_t i = 0; i < m->slots.count; i++) {
        formula_code_free(m->slots.at[i].code);
        base_vec_done(&m->slots.at[i].readers);
    }
    for (size_t i = 0; i < m->old_codes.count; i++)
        formula_code_free(m->old_codes.at[i].code);
    base_vec_done(&m->slots);
    base_vec_done(&m->journal);
    base_vec_done(&m->old_codes);
    free(m->value);
    free(m->error);
    free(m->origin);
    free(m->stamp);
    free(m->rank);
    free(m->slot_at);
    free(m->queue);
    free(m->changes);
    free(m->registers);
    free(m->register_errors);
    free(m->register_origins);
    free(m);
}

static void make_room(struct model *m)
{
    if (m->slots.count < m->room)
        return;
    m->room = m->room ? m->room * 2 : 64;
    m->value = base_grow(m->value, m->room * sizeof *m->value);
    m->error = base_grow(m->error, m->room * sizeof *m->error);
    m->origin = base_grow(m->origin, m->room * sizeof *m->origin);
    m->stamp = base_grow(m->stamp, m->room * sizeof *m->stamp);
    m->rank = base_grow(m->rank, m->room * sizeof *m->rank);
    m->slot_at = base_grow(m->slot_at, m->room * sizeof *m->slot_at);
    m->queue = base_grow(m->queue, m->room * sizeof *m->queue);
    m->changes = base_grow(m->changes, m->room * sizeof *m->changes);
}

int model_add(struct model *m, const char *name, struct formula_type type)
{
    make_room(m);
    int slot = (int)m->slots.count;
    base_vec_push(&m->slots, ((struct slot){.name = name, .type = type}));
    m->value[slot] = 0;
    m->error[slot] = FORMULA_EMPTY;
    m->origin[slot] = slot;
    m->stamp[slot] = m->tick;
    m->rank[slot] = slot;
    m->slot_at[slot] = slot;
    return slot;
}

int model_count(const struct model *m) { return (int)m->slots.count; }
const char *model_name(const struct model *m, int slot) { return m->slots.at[slot].name; }
const struct formula_code *model_code(const struct model *m, int slot) { return m->slots.at[slot].code; }
long model_evaluations(const struct model *m) { return m->evaluations; }

struct formula_value model_value(const struct model *m, int slot)
{
    return (struct formula_value){m->value[slot], m->error[slot], m->origin[slot]};
}

const int *model_reads(const struct model *m, int slot, int *count)
{
    *count = 0;
    return m->slots.at[slot].code ? formula_code_reads(m->slots.at[slot].code, count) : NULL;
}

const int *model_readers(const struct model *m, int slot, int *count)
{
    *count = (int)m->slots.at[slot].readers.count;
    return m->slots.at[slot].readers.at;
}

/* ---- edges and ranks ------------------------------------------------------------------ */

static void add_edges(struct model *m, int slot)
{
    int n;
    const int *reads = model_reads(m, slot, &n);
    for (int i = 0; i < n; i++)
        base_vec_push(&m->slots.at[reads[i]].readers, slot);
}

static void remove_edges(struct model *m, int slot)
{
    int n;
    const int *reads = model_reads(m, slot, &n);
    for (int i = 0; i < n; i++) {
        struct slot *r = &m->slots.at[reads[i]];
        size_t k = 0;
        while (r->readers.at[k] != slot)
            k++;
        memmove(&r->readers.at[k], &r->readers.at[k + 1], (r->readers.count - k - 1) * sizeof *r->readers.at);
        r->readers.count--;
    }
}

static bool ranks_hold(const struct model *m, int slot)
{
    int n;
    const int *reads = model_reads(m, slot, &n);
    for (int i = 0; i < n; i++)
        if (m->rank[reads[i]] >= m->rank[slot])
            return false;
    return true;
}

/* Order all slots: those that wait for nothing first (in slot order, so that the order is always the same).
 * False: the slots left over, with *LEFT unordered reads each, hold a circle. */
static bool order(struct model *m, int *left)
{
    size_t n = m->slots.count;
    int head = 0, tail = 0;
    int *line = base_alloc((n + 1) * sizeof *line);
    for (size_t s = 0; s < n; s++) {
        model_reads(m, (int)s, &left[s]);
        if (left[s] == 0)
            line[tail++] = (int)s;
    }
    while (head < tail) {
        int s = line[head++];
        const struct slot *slot = &m->slots.at[s];
        for (size_t i = 0; i < slot->readers.count; i++)
            if (--left[slot->readers.at[i]] == 0)
                line[tail++] = slot->readers.at[i];
    }
    for (int i = 0; i < tail && (size_t)tail == n; i++) {
        m->slot_at[i] = line[i];
        m->rank[line[i]] = i;
    }
    free(line);
    return (size_t)tail == n;
}

/* Among slots that still wait, reads are followed until one is met again: that is the circle, told as it is
   read. */
static enum base_err refuse_circle(struct model *m, const int *left, struct base_diag *why)
{
    size_t n = m->slots.count;
    int start = 0;
    while (left[start] == 0)
        start++;
    bool *seen = base_alloc(n);
    int s = start;
    while (!seen[s]) {
        seen[s] = true;
        int count, i = 0;
        const int *reads = model_reads(m, s, &count);
        while (left[reads[i]] == 0)
            i++;
        s = reads[i];
    }
    struct base_text loop = {0};
    base_text_add(&loop, m->slots.at[s].name);
    for (int at = s;;) {
        int count, i = 0;
        const int *reads = model_reads(m, at, &count);
        while (left[reads[i]] == 0)
            i++;
        at = reads[i];
        base_text_addf(&loop, " -> %s", m->slots.at[at].name);
        if (at == s)
            break;
    }
    free(seen);
    enum base_err err = base_fail(why, BASE_REFUSED, "This would go in a circle: %s.", base_text_get(&loop));
    base_text_done(&loop);
    return err;
}

/* ---- the queue: a heap of ranks ---------------------------------------------------------- */

static void mark(struct model *m, int slot)
{
    struct slot *s = &m->slots.at[slot];
    if (s->marked)
        return;
    s->marked = true;
    int i = m->queued++;
    while (i > 0 && m->queue[(i - 1) / 2] > m->rank[slot]) {
        m->queue[i] = m->queue[(i - 1) / 2];
        i = (i - 1) / 2;
    }
    m->queue[i] = m->rank[slot];
}

static int take(struct model *m)
{
    int first = m->queue[0], last = m->queue[--m->queued], i = 0;
    for (;;) {
        int child = 2 * i + 1;
        if (child >= m->queued)
            break;
        if (child + 1 < m->queued && m->queue[child + 1] < m->queue[child])
            child++;
        if (m->queue[child] >= last)
            break;
        m->queue[i] = m->queue[child];
        i = child;
    }
    m->queue[i] = last;
    int slot = m->slot_at[first];
    m->slots.at[slot].marked = false;
    return slot;
}

/* Ranks anew; what waits in the queue goes on waiting, by the new ranks. Refused: all stays as it was. */
static enum base_err order_all(struct model *m, struct base_diag *why)
{
    int *left = base_alloc((m->slots.count + 1) * sizeof *left);
    enum base_err err = order(m, left) ? BASE_OK : refuse_circle(m, left, why);
    free(left);
    if (err)
        return err;
    m->queued = 0;
    for (size_t s = 0; s < m->slots.count; s++)
        if (m->slots.at[s].marked) {
            m->slots.at[s].marked = false;
            mark(m, (int)s);
        }
    return BASE_OK;
}

/* ---- values --------------------------------------------------------------------------------- */

static struct formula_memory memory_of(struct model *m)
{
    return (struct formula_memory){
        .lanes = 1,
        .values = m->value,
        .errors = m->error,
        .origins = m->origin,
        .lookup = m->lookup,
        .lookup_arg = m->lookup_arg,
        .registers = m->registers,
        .register_errors = m->register_errors,
        .register_origins = m->register_origins,
    };
}

static void scratch_for(struct model *m, const struct formula_code *code)
{
    int n = code ? formula_code_registers(code) : 0;
    if (n <= m->n_registers)
        return;
    m->n_registers = n * 2;
    m->registers = base_grow(m->registers, (size_t)m->n_registers * sizeof *m->registers);
    m->register_errors = base_grow(m->register_errors, (size_t)m->n_registers);
    m->register_origins = base_grow(m->register_origins,
                                    (size_t)m->n_registers * sizeof *m->register_origins);
}

static struct formula_value evaluate(struct model *m, int slot)
{
    struct formula_value v = {.error = FORMULA_EMPTY, .origin = slot};
    const struct formula_code *code = m->slots.at[slot].code;
    if (code) {
        struct formula_memory memory = memory_of(m);
        formula_run(code, &memory, &v);
    }
    if (v.error && v.origin < 0)
        v.origin = slot;
    if (!v.error)
        v.origin = -1;
    return v;
}

bool model_put(struct model *m, int slot, struct formula_value v)
{
    struct formula_value old = model_value(m, slot);
    if (memcmp(&old.number, &v.number, sizeof v.number) == 0 && old.error == v.error &&
        old.origin == v.origin)
        return false;
    struct slot *s = &m->slots.at[slot];
    if (m->previewing && !s->kept) {
        s->kept = true;
        base_vec_push(&m->journal, ((struct old_value){slot, old}));
    }
    m->value[slot] = v.number;
    m->error[slot] = v.error;
    m->origin[slot] = v.origin;
    m->stamp[slot] = m->put = m->tick;
    return true;
}

long model_now(struct model *m) { return m->tick++; }
bool model_moved(const struct model *m, int slot, long since) { return m->stamp[slot] > since; }
bool model_any_moved(const struct model *m, long since) { return m->put > since; }
bool model_codes_moved(const struct model *m, long since) { return m->codes > since; }

bool model_code_moved(const struct model *m, const struct formula_code *c, long since)
{
    int n = 0;
    const int *reads = c ? formula_code_reads(c, &n) : NULL;
    for (int i = 0; i < n; i++)
        if (m->stamp[reads[i]] > since)
            return true;
    return false;
}

int model_recalculate(struct model *m)
{
    int count = 0;
    while (m->queued && !base_give_up()) {
        int slot = take(m);
        count++;
        if (!model_put(m, slot, evaluate(m, slot)))
            continue;
        const struct slot *s = &m->slots.at[slot];
        for (size_t i = 0; i < s->readers.count; i++)
            mark(m, s->readers.at[i]);
    }
    m->evaluations += count;
    return count;
}

enum base_err model_settle(struct model *m, struct base_diag *why)
{
    enum base_err err = order_all(m, why);
    if (err)
        return err;
    m->settled = true;
    m->queued = 0;
    for (size_t i = 0; i < m->slots.count; i++) {
        int slot = m->slot_at[i];
        if (base_give_up())
            return base_fail_given_up(why);
        m->slots.at[slot].marked = false;
        model_put(m, slot, evaluate(m, slot));
    }
    m->evaluations += (long)m->slots.count;
    return BASE_OK;
}

/* ---- edits ------------------------------------------------------------------------------------ */

static void swap_code(struct model *m, int slot, struct formula_code *code)
{
    remove_edges(m, slot);
    int before, now;
    model_reads(m, slot, &before);
    m->slots.at[slot].code = code;
    model_reads(m, slot, &now);
    if (before || now)
        m->codes = m->tick;
    add_edges(m, slot);
    scratch_for(m, code);
}

static void keep_old_code(struct model *m, int slot, struct formula_code *old)
{
    if (m->previewing)
        base_vec_push(&m->old_codes, ((struct old_code){slot, old}));
    else
        formula_code_free(old);
}

enum base_err model_set_code(struct model *m, int slot, struct formula_code *code, struct base_diag *why)
{
    struct formula_code *old = m->slots.at[slot].code;
    swap_code(m, slot, code);
    if (m->settled && !ranks_hold(m, slot)) {
        enum base_err err = order_all(m, why);
        if (err) {
            swap_code(m, slot, old);
            formula_code_free(code);
            return err;
        }
    }
    keep_old_code(m, slot, old);
    if (m->settled)
        mark(m, slot);
    return BASE_OK;
}

void model_set_constant(struct model *m, int slot, double number)
{
    struct formula_code *code = formula_code_of_constant(m->slots.at[slot].type, number);
    if (model_set_code(m, slot, code, NULL) != BASE_OK)
        abort(); /* a constant reads nothing: no circle */
}

/* ---- previews ------------------------------------------------------------------------------------ */

void model_preview_begin(struct model *m)
{
    m->previewing = true;
    m->journal.count = m->old_codes.count = 0;
}

static int by_rank(const void *a, const void *b, void *arg)
{
    const struct model *m = arg;
    return m->rank[*(const int *)a] - m->rank[*(const int *)b];
}

int model_preview_changes(const struct model *m, const int **slots)
{
    int n = 0;
    for (size_t i = 0; i < m->journal.count; i++) {
        const struct old_value *o = &m->journal.at[i];
        struct formula_value now = model_value(m, o->slot);
        if (memcmp(&now.number, &o->value.number, sizeof now.number) != 0 || now.error != o->value.error ||
            now.origin != o->value.origin)
            m->changes[n++] = o->slot;
    }
    qsort_r(m->changes, (size_t)n, sizeof *m->changes, by_rank, (void *)(uintptr_t)m);
    *slots = m->changes;
    return n;
}

struct formula_value model_preview_old(const struct model *m, int slot)
{
    if (m->slots.at[slot].kept)
        for (size_t i = 0; i < m->journal.count; i++)
            if (m->journal.at[i].slot == slot)
                return m->journal.at[i].value;
    return model_value(m, slot);
}

static void end_preview(struct model *m)
{
    for (size_t i = 0; i < m->journal.count; i++)
        m->slots.at[m->journal.at[i].slot].kept = false;
    m->journal.count = m->old_codes.count = 0;
    m->previewing = false;
}

static void forget_queue(struct model *m)
{
    while (m->queued)
        take(m);
}

void model_preview_drop(struct model *m)
{
    forget_queue(m);
    for (size_t i = 0; i < m->journal.count; i++) {
        const struct old_value *o = &m->journal.at[i];
        m->value[o->slot] = o->value.number;
        m->error[o->slot] = o->value.error;
        m->origin[o->slot] = o->value.origin;
        m->stamp[o->slot] = m->put = m->tick;
    }
    bool hold = true;
    for (size_t i = m->old_codes.count; i > 0; i--) {
        const struct old_code *o = &m->old_codes.at[i - 1];
        struct formula_code *tried = m->slots.at[o->slot].code;
        swap_code(m, o->slot, o->code);
        formula_code_free(tried);
        hold = hold && ranks_hold(m, o->slot);
    }
    if (!hold && order_all(m, NULL) != BASE_OK)
        abort(); /* the graph before the preview had no circle */
    end_preview(m);
}

void model_preview_keep(struct model *m)
{
    for (size_t i = 0; i < m->old_codes.count; i++)
        formula_code_free(m->old_codes.at[i].code);
    end_preview(m);
}

/* ---- why ---------------------------------------------------------------------------------------------- */

int model_reach(const struct model *m, int slot, int *slots)
{
    bool *seen = base_alloc(m->slots.count);
    int head = 0, tail = 0;
    seen[slot] = true;
    for (int at = slot;; at = slots[head++]) {
        const struct slot *s = &m->slots.at[at];
        for (size_t i = 0; i < s->readers.count; i++)
            if (!seen[s->readers.at[i]]) {
                seen[s->readers.at[i]] = true;
                slots[tail++] = s->readers.at[i];
            }
        if (head == tail)
            break;
    }
    free(seen);
    model_rank(m, slots, tail);
    return tail;
}

void model_rank(const struct model *m, int *slots, int n)
{
    qsort_r(slots, (size_t)n, sizeof *slots, by_rank, (void *)(uintptr_t)m);
}

bool model_need(struct model *m, int slot, double *need)
{
    const struct formula_code *code = m->slots.at[slot].code;
    if (!code)
        return false;
    struct formula_memory memory = memory_of(m);
    struct formula_value v;
    formula_run(code, &memory, &v);
    return formula_code_need(code, &memory, need);
}

const struct formula_pick *model_pick(struct model *m, int slot, double *values)
{
    const struct formula_code *code = m->slots.at[slot].code;
    if (!code)
        return NULL;
    struct formula_memory memory = memory_of(m);
    struct formula_value v;
    formula_run(code, &memory, &v);
    return formula_code_pick(code, &memory, values);
}

struct formula_value model_run(struct model *m, const struct formula_code *code, const double *arguments,
                               const unsigned char *argument_errors)
{
    scratch_for(m, code);
    struct formula_memory memory = memory_of(m);
    memory.arguments = arguments;
    memory.argument_errors = argument_errors;
    struct formula_value v;
    formula_run(code, &memory, &v);
    return v;
}
