/* What is said to an answer: found, close, or which rule holds of the value that was pointed at.
 *
 * A rule speaks of a value when its own value hangs on it, or when the rule names it as a cure. Of those that
 * hold, the one nearest to failing is told, rules over the value's own item before others.
 */

#include "practice/practice.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>
struct stood { char *key; enum handbook_grade grade; };

struct practice_run {
    const struct practice_job *about;
    struct job *job;
    BASE_VEC(struct stood) sound; /* findings of the sound job */
    struct practice_kept kept;    /* the planted job as it was put */
};

static void keep_sound(struct practice_run *r, struct job *sound)
{
    const struct finding *list;
    int n = findings_judge(job_findings(sound), &list);
    for (int i = 0; i < n; i++)
        base_vec_push(&r->sound, ((struct stood){base_copy(list[i].key), list[i].grade}));
}

enum base_err practice_begin(const struct practice_book *b, const struct handbook *h, int i,
                             struct practice_run **out, struct base_diag *why)
{
    struct job *sound = NULL;
    struct practice_run *r = base_alloc(sizeof *r);
    r->about = practice_job(b, i);
    enum base_err err = practice_open(b, h, i, false, &sound, why);
    if (!err)
        keep_sound(r, sound);
    if (!err)
        err = practice_open(b, h, i, true, &r->job, why);
    job_close(sound);
    if (err) {
        practice_end(r);
        r = NULL;
    } else {
        findings_judge(job_findings(r->job), NULL);
        practice_keep(&r->kept, r->job);
    }
    *out = r;
    return err;
}

void practice_end(struct practice_run *r)
{
    if (!r)
        return;
    for (size_t i = 0; i < r->sound.count; i++)
        free(r->sound.at[i].key);
    base_vec_done(&r->sound);
    practice_kept_done(&r->kept);
    job_close(r->job);
    free(r);
}

struct job *practice_run_job(struct practice_run *r) { return r->job; }
const struct practice_job *practice_run_about(const struct practice_run *r) { return r->about; }

/* ---- what hangs on what ---------------------------------------------------------------- */

void practice_hanging(struct job *j, int q, struct base_map *out)
{
    struct dieset *d = job_dieset(j);
    int room = dieset_quantity_count(d), *reached = base_alloc((size_t)(room + 1) * sizeof *reached);
    int n = job_reaches(j, q, reached, room);
    base_map_put(out, dieset_quantity(d, q)->path, q);
    for (int i = 0; i < n; i++)
        base_map_put(out, dieset_quantity(d, reached[i])->path, reached[i]);
    free(reached);
}
struct reads { struct dieset *d; const struct base_map *hanging; int item; bool any; };

static bool hangs(const struct reads *r, int item, const char *property)
{
    char *path = base_format("%s.%s", dieset_item_name(r->d, item), property);
    bool yes = base_map_get(r->hanging, path, NULL);
    free(path);
    return yes;
}

/* REST of what FIRST names: an item, a reference of ITEM to one ("head_in"), or each item of a kind
   ("total(springs.force)"). */
static bool hangs_behind(const struct reads *r, int item, const char *first, const char *rest)
{
    int named = dieset_find_item(r->d, first),
        kind = named < 0 ? handbook_find_kind(dieset_handbook(r->d), first) : -1;
    const char *dot = strchr(rest, '.');
    if (item >= 0 && dieset_reference(r->d, item, first) >= 0)
        named = dieset_reference(r->d, item, first);
    if (named >= 0 && dot) { /* stack.die_plate.thickness */
        char *second = base_copy_n(rest, (size_t)(dot - rest));
        bool yes = hangs_behind(r, named, second, dot + 1);
        free(second);
        if (yes)
            return true;
    }
    if (named >= 0)
        return hangs(r, named, rest);
    for (int i = 0; kind >= 0 && i < dieset_item_count(r->d); i++)
        if (dieset_item_kind(r->d, i) == kind && hangs(r, i, rest))
            return true;
    return false;
}

/* A name of a rule's formula: the item's own property, a path, or what stands behind a reference or a
   kind. */
static void read_name(const char *path, int start, void *arg)
{
    struct reads *r = arg;
    const char *dot = strchr(path, '.');
    (void)start;
    r->any = r->any || base_map_get(r->hanging, path, NULL) || (r->item >= 0 && hangs(r, r->item, path));
    if (r->any || !dot)
        return;
    char *first = base_copy_n(path, (size_t)(dot - path));
    r->any = hangs_behind(r, r->item, first, dot + 1);
    free(first);
}

static void read_tree(struct reads *r, const struct formula_tree *tree)
{
    formula_names(tree, read_name, r);
    formula_columns(tree, read_name, r);
}

/* Does RULE over ITEM (-1: once) hang on what is in HANGING? By its value, or yes and no; by its LIMITS too
   where that is asked. */
static bool rule_hangs(struct dieset *d, const struct handbook_rule *rule, int item,
                       const struct base_map *hanging, bool limits)
{
    struct reads r = {d, hanging, item, false};
    if (rule->value)
        read_tree(&r, rule->value);
    for (int i = 0; i < rule->n_rungs; i++)
        if ((limits || rule->rungs[i].yesno) && rule->rungs[i].tree)
            read_tree(&r, rule->rungs[i].tree);
    return r.any;
}

/* ---- what holds ------------------------------------------------------------------------- */

struct standing {
    const struct handbook_rule *rule;
    struct finding f;
    enum dieset_state state;
    int weight;   /* names the value as a cure; is over its own item */
    double share; /* margin over what is compared */
};

/* Worse of the two states; false where the rule does not apply or does not hold. */
static bool stand(struct findings *f, const struct handbook_rule *rule, int item, struct standing *out)
{
    bool any = false;
    for (int s = 0; s < DIESET_STATES; s++) {
        struct finding g;
        if (!(rule->states & (s ? HANDBOOK_GROUND : HANDBOOK_NEW)) ||
            !findings_standing(f, rule->name, item, (enum dieset_state)s, &g) || !g.measured)
            continue;
        if (g.margin < 0)
            return false;
        double size = fmax(fabs(g.limit), fabs(g.value)), share = size > 0 ? g.margin / size : 0;
        if (any && share >= out->share)
            continue;
        *out = (struct standing){.rule = rule, .f = g, .state = (enum dieset_state)s, .share = share};
        any = true;
    }
    return any;
}

static bool better(const struct standing *a, const struct standing *b)
{
    return !b->rule || a->weight > b->weight || (a->weight == b->weight && a->share < b->share);
}

/* A cure as a rule writes it, "length", "stack.risers" or "stack.die_plate.thickness", is value Q? */
static bool is_cure(struct dieset *d, const char *cure, int item, const struct dieset_quantity *q)
{
    const char *last = strrchr(cure, '.');
    if (!last)
        return q->item == item && strcmp(q->name, cure) == 0;
    if (strcmp(cure, q->path) == 0)
        return true;
    char *before = base_copy_n(cure, (size_t)(last - cure)), *dot = strchr(before, '.');
    if (dot) {
        *dot = '\0';
        item = dieset_find_item(d, before);
    }
    int named = item >= 0 ? dieset_reference(d, item, dot ? dot + 1 : before) : -1;
    free(before);
    return named >= 0 && q->item == named && strcmp(q->name, last + 1) == 0;
}

static int weight_of(struct dieset *d, const struct handbook_rule *rule, int item, int q)
{
    const struct dieset_quantity *quantity = dieset_quantity(d, q);
    int weight = item >= 0 && item == quantity->item;
    for (int i = 0; i < rule->n_mends; i++)
        if (is_cure(d, rule->mends[i], item, quantity))
            return weight + 2;
    return weight;
}

/* Of the rules that speak of quantity Q the one that holds by the least; where none does, of those over its
 * item. HANGING: what hangs on Q. rule NULL: there is none. */
static struct standing nearest_rule(struct job *j, int q, const struct base_map *hanging)
{
    struct dieset *d = job_dieset(j);
    const struct handbook *h = dieset_handbook(d);
    struct standing best = {0};
    for (int i = 0; i < handbook_rule_count(h); i++) {
        const struct handbook_rule *rule = handbook_rule(h, i);
        bool once = rule->over == HANDBOOK_ONCE;
        if (!once && rule->over != HANDBOOK_EACH_KIND)
            continue;
        for (int item = once ? -1 : 0; item < (once ? 0 : dieset_item_count(d)); item++) {
            struct standing s;
            if (!once && dieset_item_kind(d, item) != rule->kind)
                continue;
            int weight = weight_of(d, rule, item, q);
            bool speaks = weight >= 2 || rule_hangs(d, rule, item, hanging, false);
            if ((!speaks && !weight) || !stand(job_findings(j), rule, item, &s))
                continue;
            s.weight = weight + 4 * speaks;
            if (better(&s, &best))
                best = s;
        }
    }
    return best;
}

/* Of a rule that holds: on which side of its limit the value lies; on the limit, as the rule asks first. */
static const char *relation(const struct standing *s)
{
    bool most = s->rule->n_rungs &&
                (s->rule->rungs[0].relation == FORMULA_AT_MOST || s->rule->rungs[0].relation == FORMULA_LESS);
    return s->f.value < s->f.limit || (s->f.value <= s->f.limit && most) ? "at most" : "at least";
}

static void say_standing(struct job *j, const struct standing *s, struct base_text *says)
{
    struct dieset *d = job_dieset(j);
    const struct handbook *h = dieset_handbook(d);
    char value[60], limit[60], margin[60];
    const struct finding *f = &s->f;
    handbook_print(h, (struct formula_value){.number = f->value, .origin = -1}, f->type, dieset_system(d),
                   value, sizeof value);
    handbook_print(h, (struct formula_value){.number = f->limit, .origin = -1}, f->type, dieset_system(d),
                   limit, sizeof limit);
    handbook_print(h, (struct formula_value){.number = f->margin, .origin = -1}, f->type, dieset_system(d),
                   margin, sizeof margin);
    base_text_addf(says, "not that: \"%s\"%s%s holds%s with %s to spare (%s; %s %s).", f->title,
                   f->item >= 0 ? " of " : "", f->item >= 0 ? dieset_item_title(d, f->item) : "",
                   s->state == DIESET_GROUND ? ", ground," : "", margin, value, relation(s), limit);
}

static void say_value(struct job *j, int q, struct base_text *says)
{
    struct dieset *d = job_dieset(j);
    const struct dieset_quantity *quantity = dieset_quantity(d, q);
    char value[200];
    dieset_print(d, q, DIESET_NEW, value, sizeof value);
    base_text_addf(says, "not that: %s is %s%s, and no rule that asks for a figure hangs on it.",
                   quantity->path, value,
                   quantity->typed  ? " as typed"
                   : quantity->text ? " by its usual formula"
                                    : "");
}

/* ---- answers ------------------------------------------------------------------------------- */

/* Does a planted finding, or the formula that tells the mistake, hang on it? */
static bool bears(const struct practice_run *r, const struct base_map *hanging)
{
    struct dieset *d = job_dieset(r->job);
    const struct handbook *h = dieset_handbook(d);
    for (int i = 0; i < r->about->n_findings; i++) {
        const struct practice_finding *p = &r->about->findings[i];
        int rule = handbook_find_rule(h, p->rule), item = p->item ? dieset_find_item(d, p->item) : -1;
        if (rule >= 0 && rule_hangs(d, handbook_rule(h, rule), item, hanging, true))
            return true;
    }
    struct reads wrong = {d, hanging, -1, false};
    struct formula_tree *tree = NULL;
    if (r->about->wrong && formula_parse(r->about->wrong, &tree, NULL) == BASE_OK)
        read_tree(&wrong, tree);
    formula_tree_free(tree);
    return wrong.any;
}

/* Does PATH follow from what counts as found? */
static bool follows(struct practice_run *r, int q)
{
    struct dieset *d = job_dieset(r->job);
    for (int i = 0; i < r->about->n_found; i++) {
        int from = dieset_find(d, r->about->found[i]);
        struct base_map hanging = {0};
        if (from >= 0)
            practice_hanging(r->job, from, &hanging);
        bool yes = base_map_get(&hanging, dieset_quantity(d, q)->path, NULL);
        base_map_done(&hanging);
        if (yes)
            return true;
    }
    return false;
}

/* Worked out by its own formula: what is typed, or is asked for, stands behind it. */
static bool is_worked_out(const struct dieset_quantity *q) { return !q->can_type || (!q->typed && q->usual); }

enum practice_answer practice_answer(struct practice_run *r, const char *path, struct base_text *says)
{
    struct dieset *d = job_dieset(r->job);
    int q = dieset_find(d, path);
    enum practice_answer answer = PRACTICE_NOT_THAT;
    bool near = practice_among(r->about->near, r->about->n_near, path);
    struct base_map hanging = {0};
    if (q < 0) {
        base_text_addf(says, "not that: the job has no value \"%s\".", path);
        return answer;
    }
    practice_hanging(r->job, q, &hanging);
    if (practice_among(r->about->found, r->about->n_found, path)) {
        answer = PRACTICE_FOUND;
        char value[200];
        base_text_addf(says, "found: %s, %s.", path, dieset_print(d, q, DIESET_NEW, value, sizeof value));
    } else if (is_worked_out(dieset_quantity(d, q)) && follows(r, q)) {
        answer = PRACTICE_CLOSE;
        base_text_addf(says, "close: %s follows from what is wrong; w shows what it comes from.", path);
    } else if (near || bears(r, &hanging)) {
        answer = PRACTICE_CLOSE;
        base_text_addf(says,
                       !near && is_worked_out(dieset_quantity(d, q))
                           ? "close: %s shows what is wrong; w shows what it comes from."
                           : "close: %s bears on what is wrong, but it stands as it should.",
                       path);
    } else {
        struct standing s = nearest_rule(r->job, q, &hanging);
        if (s.rule)
            say_standing(r->job, &s, says);
        else
            say_value(r->job, q, says);
    }
    base_map_done(&hanging);
    return answer;
}

/* ---- mended? ----------------------------------------------------------------------------- */

/* A planted finding; of an item that has another name by now, of any. */
static bool is_planted(struct dieset *d, const struct practice_job *p, const struct finding *f)
{
    for (int i = 0; i < p->n_findings; i++) {
        const char *item = p->findings[i].item;
        bool same = !item || dieset_find_item(d, item) < 0 ||
                    (f->item >= 0 && strcmp(dieset_item_name(d, f->item), item) == 0);
        if (same && strcmp(p->findings[i].rule, f->rule) == 0)
            return true;
    }
    return false;
}

static bool was_sound(const struct practice_run *r, const struct finding *f)
{
    for (size_t i = 0; i < r->sound.count; i++)
        if (strcmp(r->sound.at[i].key, f->key) == 0 && f->grade <= r->sound.at[i].grade)
            return true;
    return false;
}

bool practice_holds(struct dieset *d, const char *formula)
{
    struct formula_tree *tree = NULL;
    struct formula_type type = {0};
    struct formula_value v = {.error = 1};
    if (formula && formula_parse(formula, &tree, NULL) == BASE_OK)
        v = dieset_run(d, tree, -1, DIESET_NEW, &type);
    formula_tree_free(tree);
    return !v.error && type.sort == FORMULA_YESNO && v.number != 0;
}

enum practice_state practice_look(struct practice_run *r, struct base_text *says)
{
    struct dieset *d = job_dieset(r->job);
    const struct finding *list, *other = NULL;
    int n = findings_judge(job_findings(r->job), &list);
    for (int i = 0; i < n; i++) {
        if (is_planted(d, r->about, &list[i])) {
            base_text_addf(says, "not mended yet%s: %s", list[i].waiver ? ", to waive it mends nothing" : "",
                           list[i].message);
            return PRACTICE_STANDS;
        }
        if (!other && list[i].grade > HANDBOOK_NOTE && !was_sound(r, &list[i]))
            other = &list[i];
    }
    if (practice_talked_away(&r->kept, r->about, r->job, says))
        return PRACTICE_STANDS;
    if (practice_holds(d, r->about->wrong)) {
        base_text_add(says, "not mended yet.");
        return PRACTICE_STANDS;
    }
    if (other) {
        base_text_addf(says, "that is mended, but something else has come: %s", other->message);
        return PRACTICE_OTHER;
    }
    base_text_add(says, "mended, and nothing else has come.");
    return PRACTICE_MENDED;
}
