/* tests/screen/fuzz.c - random keys through the whole program, and what must hold whatever was pressed
 *
 * Keys, names of actions and ":" commands come from the program's own list (--keys), paths from its own job,
 * so that new ones are pressed without a change here. Between them: formulas, pastes, new sizes, stops, bytes
 * of any kind. After every burst the program lives and a fresh picture equals the one on the screen. In the
 * end all edits are undone: the job's text is the first one again; redone: it is the last one, which also
 * reads in as it was written out.
 *
 * DIEWRIGHT_KEYS says how many keys in all, DIEWRIGHT_SEED where the dice begin; both are printed with a
 * failure.
 */

#include "screen.h"

#include <ctype.h>
#include <glob.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>

#include "../common.h"

enum { RUNS = 3, KEYS = 5000, BURST = 100, LONG_BURST = 600, LONG = 20000, RESTED_MS = 120 };

typedef BASE_VEC(char *) words;

struct storm {
    struct dice dice;
    unsigned seed;
    int keys;       /* pressed so far */
    char *program, *folder, *job;
    struct bed *bed;
    words labels, names, usages; /* "PgUp", "undo", "set NAME=FORMULA ..." */
    words paths, items;          /* of the job as it began */
};

/* ---- words of the program's own ---- */

static void add_words(words *to, const char *text, size_t n, const char *parted_by)
{
    for (const char *end = text + n; text < end;) {
        size_t w = strcspn(text, parted_by);
        w = w < (size_t)(end - text) ? w : (size_t)(end - text);
        if (w)
            base_vec_push(to, base_copy_n(text, w));
        text += w + 1;
    }
}

static void words_done(words *w)
{
    for (size_t i = 0; i < w->count; i++)
        free(w->at[i]);
    base_vec_done(w);
}

static const char *next_line(const char *line)
{
    line += strcspn(line, "\n");
    return line + (*line == '\n');
}

/* Lines "keys TAB places TAB name TAB help"; a usage has ":" before it and its words behind it. */
static void learn_keys(struct storm *s)
{
    char command[900];
    snprintf(command, sizeof command, "%s --keys", s->program);
    for (const char *line = output_of(command, NULL); *line; line = next_line(line)) {
        size_t keys = strcspn(line, "\t"), places = strcspn(line + keys + 1, "\t");
        const char *name = line + keys + places + 2;
        if (line[0] == ':' && keys > 1) {
            base_vec_push(&s->usages, base_copy_n(line + 1, keys - 1));
        } else {
            add_words(&s->labels, line, keys, " ");
            add_words(&s->names, name, strcspn(name, "\t"), "\t");
        }
    }
    ck_assert_uint_gt(s->labels.count, 50);
    ck_assert_uint_gt(s->names.count, 40);
    ck_assert_uint_gt(s->usages.count, 10);
}

static void learn_paths(struct storm *s)
{
    char command[900];
    snprintf(command, sizeof command, "%s show %s --format csv", s->program, s->job);
    for (const char *line = output_of(command, NULL); *line; line = next_line(line)) {
        size_t n = strcspn(line, ",\n"), item = strcspn(line, ".,\n");
        base_vec_push(&s->paths, base_copy_n(line, n));
        base_vec_push(&s->items, base_copy_n(line, item));
    }
    ck_assert_uint_gt(s->paths.count, 100);
}

static const char *one_of(struct storm *s, const words *w)
{
    return w->at[roll(&s->dice, (uint32_t)w->count)];
}
#define ONE_OF(s, list) (list)[roll(&(s)->dice, (uint32_t)COUNT_OF(list))]

/* ---- typing ---- */

static void type(struct storm *s, const char *text)
{
    bed_type(s->bed, text);
    s->keys += (int)strlen(text);
}

static const char *const formulas[] = {
    "36",
    "36 mm",
    "25 mm + 3",
    "usual",
    "usual + 2 mm",
    "die_plate.thickness",
    "12.5",
    "0",
    "-3",
    "1e9",
    "1/0",
    "(",
    "\"no\"",
    "yes",
    "no",
    "8 kN",
    "if(ground, 3 mm, 4 mm)",
    "size_over(stock, 20 mm)",
    "1,5",
    "\xc3\xb8 20",
    "stack.shut_height",
    "4",
    "16 mm",
};
static const char *const kinds[] = {"plate",  "screws",  "dowels",      "springs",
                                    "values", "punches", "no_such_kind"};
static const char *const lays[] = {"six", "corners", "rows", "one", "with posts", "circle"};
static const char *const types[] = {"length", "force", "number", "yesno", "nonsense"};
static const char *const fresh[] = {"alpha", "beta", "gamma", "mm", "die_plate", "Die"};

/* What may stand for a word of a usage in capitals; another word than those known: any of all. */
static const char *filled_in(struct storm *s, const char *word)
{
    if (strncmp(word, "ITEM", 4) == 0 || strncmp(word, "PLATE", 5) == 0 || strncmp(word, "GROUP", 5) == 0)
        return one_of(s, &s->items);
    if (strncmp(word, "KIND", 4) == 0)
        return ONE_OF(s, kinds);
    if (strncmp(word, "PATTERN", 7) == 0)
        return ONE_OF(s, lays);
    if (strncmp(word, "TYPE", 4) == 0)
        return ONE_OF(s, types);
    if (strncmp(word, "NEW", 3) == 0)
        return ONE_OF(s, fresh);
    if (strncmp(word, "FORMULA", 7) == 0 || strncmp(word, "EXPRESSION", 10) == 0)
        return ONE_OF(s, formulas);
    switch (roll(&s->dice, 4)) {
    case 0: return ONE_OF(s, fresh);
    case 1: return ONE_OF(s, formulas);
    default: return one_of(s, &s->paths);
    }
}

static void type_command(struct storm *s)
{
    const char *usage = one_of(s, &s->usages);
    type(s, ":");
    for (const char *at = usage; *at; at += strspn(at, " ")) {
        size_t n = strcspn(at, " ");
        char word[80];
        snprintf(word, sizeof word, "%.*s", (int)n, at + (*at == '['));
        char *equals = strchr(word, '=');
        if (equals && equals[1])
            *equals = '\0';
        type(s, isupper((unsigned char)word[0]) ? filled_in(s, word) : word);
        if (equals) {
            type(s, "=");
            type(s, ONE_OF(s, formulas));
        }
        type(s, " ");
        at += n;
    }
    if (roll(&s->dice, 4))
        type(s, "\r");
}

static void type_value(struct storm *s)
{
    if (roll(&s->dice, 2))
        type(s, "\r\025");
    type(s, ONE_OF(s, formulas));
    if (roll(&s->dice, 3))
        type(s, "\r");
}

static void any_bytes(struct storm *s)
{
    unsigned char raw[6];
    size_t n = 1 + roll(&s->dice, sizeof raw);
    for (size_t i = 0; i < n; i++) {
        raw[i] = (unsigned char)roll(&s->dice, 256);
        if (strchr("\021\023\034\003q", raw[i])) /* flow control, and what ends programs */
            raw[i] = 'x';
    }
    bed_raw(s->bed, raw, n);
}

static void paste(struct storm *s)
{
    static const char *const pastes[] = {
        "25 mm + 3", "die_plate.thickness", "\xc3\xb8 \xe6\xbf\x80", "a\nb\tc\033[A", "", "\xff\xfe",
        "q\rq\r"};
    bed_paste(s->bed, ONE_OF(s, pastes));
}

/* Unasked for they are bytes of any kind. */
static void any_click(struct storm *s)
{
    int row = (int)roll(&s->dice, 64), column = (int)roll(&s->dice, 220), n = 1 + (int)roll(&s->dice, 2);
    for (int i = 0; i < n; i++) /* twice on one cell: Enter */
        if (roll(&s->dice, 4))
            bed_click(s->bed, row % 30, column % 90);
        else
            bed_wheel(s->bed, row, column, roll(&s->dice, 2) ? 1 : -1);
}

static void resize(struct storm *s)
{
    bool small = roll(&s->dice, 5) == 0;
    int rows = small ? 1 + (int)roll(&s->dice, 30) : 24 + (int)roll(&s->dice, 40);
    int columns = small ? 1 + (int)roll(&s->dice, 90) : 80 + (int)roll(&s->dice, 140);
    bed_resize(s->bed, rows, columns);
}

/* Out of a hundred. */
static void any_key(struct storm *s)
{
    static const char *const walks[] = {"Up",    "Down",  "Down", "Left", "Right",
                                        "Enter", "Enter", "Tab",  "PgDn", "Esc"};
    uint32_t kind = roll(&s->dice, 100);
    s->keys++;
    if (kind < 50) {
        const char *label = one_of(s, &s->labels);
        bed_named(s->bed, strcmp(label, "q") == 0 && roll(&s->dice, 8) ? "Esc" : label);
    } else if (kind < 78) {
        bed_named(s->bed, ONE_OF(s, walks));
    } else if (kind < 81) {
        const char *name = one_of(s, &s->names);
        type(s, ":");
        type(s, strcmp(name, "quit") == 0 ? "help" : name);
        type(s, "\r");
    } else if (kind < 84) {
        type_command(s);
    } else if (kind < 88 && roll(&s->dice, 2)) {
        any_click(s);
    } else if (kind < 88) {
        type_value(s);
    } else if (kind < 91) {
        paste(s);
    } else if (kind < 94) {
        any_bytes(s);
    } else if (kind < 97) {
        resize(s);
    } else {
        char c[2] = {(char)(' ' + roll(&s->dice, 95)), '\0'};
        bed_type(s->bed, c[0] == 'q' ? "x" : c);
    }
}

/* ---- what must hold ---- */

static void begin(struct storm *s)
{
    const char *argv[] = {s->program, s->job, s->seed % 2 ? "--mouse" : NULL, NULL};
    char options[500]; /* a crash is told by the sanitizer, not caught by the program */
    snprintf(options, sizeof options,
             "ASAN_OPTIONS=handle_segv=2:handle_sigbus=2:handle_sigfpe=2:log_path=%s/asan", s->folder);
    const char *more[] = {options, NULL};
    s->bed = bed_open(
        &(struct bed_start){.argv = argv, .folder = s->folder, .where = s->folder, .more = more});
    bed_wait(s->bed, "? help");
    bed_settle(s->bed, RESTED_MS);
}

/* The job is the file written to last: after a save-as the program goes on with the copy, which holds all
   edits as well. */
static void follow(struct storm *s)
{
    char *pattern = base_format("%s/*.diejob", s->folder);
    struct timespec newest = {0};
    glob_t found;
    ck_assert_int_eq(glob(pattern, 0, NULL, &found), 0);
    for (size_t i = 0; i < found.gl_pathc; i++) {
        struct stat f;
        ck_assert_int_eq(stat(found.gl_pathv[i], &f), 0);
        if (f.st_mtim.tv_sec < newest.tv_sec ||
            (f.st_mtim.tv_sec == newest.tv_sec && f.st_mtim.tv_nsec < newest.tv_nsec))
            continue;
        newest = f.st_mtim;
        free(s->job);
        s->job = base_copy(found.gl_pathv[i]);
    }
    globfree(&found);
    free(pattern);
}

/* What the sanitizers wrote before it died, if they did. */
static const char *last_words(struct storm *s)
{
    char command[900];
    snprintf(command, sizeof command, "cat %s/asan.* %s/ubsan.* 2>/dev/null | head -c 6000", s->folder,
             s->folder);
    return output_of(command, NULL);
}

/* It has ended: that may be by its own key and in order only. */
static void ended(struct storm *s)
{
    int status = bed_wait_end(s->bed);
    if (status != 0)
        ck_abort_msg("seed %u: it ended with %d before key %d: %s\nthe last bytes\n%s\nthe screen was\n%s",
                     s->seed, status, s->keys, last_words(s), bed_last_bytes(s->bed), bed_screen(s->bed));
    ck_assert_msg(bed_modes_restored(s->bed) && !bed_alternate(s->bed) && !bed_paste_asked(s->bed) &&
                      !bed_mouse_asked(s->bed),
                  "seed %u: it ended before key %d and kept the terminal: modes %d, alternate %d, "
                  "pastes %d, mouse %d; the last bytes\n%s",
                  s->seed, s->keys, bed_modes_restored(s->bed), bed_alternate(s->bed),
                  bed_paste_asked(s->bed), bed_mouse_asked(s->bed), bed_last_bytes(s->bed));
    bed_close(s->bed);
    follow(s);
}

/* The screen once it stays as it is: on a busy machine half of a picture may wait in the line for a while.
   Yours to free(). */
static char *stable_screen(struct storm *s)
{
    enum { LOOKS = 20 };
    bed_settle(s->bed, RESTED_MS);
    char *seen = base_copy(bed_screen(s->bed));
    for (int i = 0, alike = 0; i < LOOKS && alike < 2; i++) {
        bed_settle(s->bed, RESTED_MS);
        alike = strcmp(seen, bed_screen(s->bed)) == 0 ? alike + 1 : 0;
        free(seen);
        seen = base_copy(bed_screen(s->bed));
    }
    return seen;
}

/* The picture that grew from key to key is the one that is drawn from nothing. */
static void same_when_drawn_anew(struct storm *s)
{
    char *grown = stable_screen(s);
    bed_control(s->bed, 'L');
    char *anew = stable_screen(s);
    if (!bed_ended(s->bed) && strcmp(grown, anew) != 0)
        ck_abort_msg("seed %u: before key %d the screen held\n%s\nand drawn anew\n%s", s->seed, s->keys,
                     grown, anew);
    free(grown);
    free(anew);
}

static void burst(struct storm *s, int upto)
{
    while (s->keys < upto) {
        any_key(s);
        if (s->keys % 8 == 0 && bed_ended(s->bed)) {
            ended(s);
            begin(s);
        }
    }
    bed_settle(s->bed, RESTED_MS);
    if (!bed_ended(s->bed)) {
        same_when_drawn_anew(s);
        return;
    }
    ended(s);
    begin(s);
}

/* Press KEY until the message says WORDS; the program must not have more edits than keys. */
static void until_said(struct storm *s, char key, const char *said)
{
    char keys[21] = "";
    memset(keys, key, sizeof keys - 1);
    for (int i = 0; i < s->keys / 20 + 20; i++) {
        bed_type(s->bed, keys);
        bed_settle(s->bed, RESTED_MS);
        if (bed_shows(s->bed, said))
            return;
    }
    ck_abort_msg("seed %u: never \"%s\"; the screen is\n%s", s->seed, said, bed_screen(s->bed));
}

/* Fails with the first line that differs. */
static void same_text(struct storm *s, const char *got, const char *wanted, const char *what)
{
    size_t line = 0, i = 0;
    for (; got[i] && got[i] == wanted[i]; i++)
        if (got[i] == '\n')
            line = i + 1;
    if (got[i] || wanted[i])
        ck_abort_msg("seed %u: %s:\n%.300s\n--- but\n%.300s", s->seed, what, wanted + line, got + line);
}

/* `load` of the dump and a dump of that: the same text. */
static void reads_in_again(struct storm *s, const char *text)
{
    char command[1800];
    int status;
    snprintf(command, sizeof command,
             "cd %s && mkdir again && %s dump '%s' > again/text && %s load again/job again/text >/dev/null "
             "2>&1 && %s dump again/job",
             s->folder, s->program, s->job, s->program, s->program);
    const char *again = output_of(command, &status);
    ck_assert_msg(status == 0, "seed %u: the last text is not read again", s->seed);
    same_text(s, again, text, "read in again the last text differs");
}

/* TEXT without what was said, which undo passes by; to be freed. */
static char *unsaid(const char *text)
{
    static const char *const said_kinds[] = {"remark ", "waiver ", "revision ", "joined "};
    struct base_text out = {0};
    bool said = false;
    while (*text) {
        size_t n = strcspn(text, "\n") + 1;
        bool record = *text != ' ' && *text != '\n';
        for (size_t i = 0; i < COUNT_OF(said_kinds) && record; i++)
            said = (i && said) || strncmp(text, said_kinds[i], strlen(said_kinds[i])) == 0;
        if (!said)
            base_text_add_n(&out, text, n);
        text += n;
    }
    while (out.length && out.data[out.length - 1] == '\n')
        out.data[--out.length] = '\0';
    return base_text_take(&out);
}

static void wind_back(struct storm *s, const char *first)
{
    bed_resize(s->bed, 24, 80);
    bed_settle(s->bed, 1100); /* a paste that was torn ends after a second of silence */
    for (int i = 0; i < 14; i++) {
        bed_key(s->bed, VTERM_KEY_ESCAPE);
        bed_settle(s->bed, 30);
    }
    until_said(s, 'R' & 31, "nothing to redo"); /* what the storm itself had undone */
    follow(s);
    char *last = base_copy(dumped(s->job));
    reads_in_again(s, last);
    until_said(s, 'u', "his is where the job began");
    char *now = unsaid(dumped(s->job)), *begun = unsaid(first);
    same_text(s, now, begun, "all undone the job is not what it was");
    until_said(s, 'R' & 31, "nothing to redo");
    same_text(s, dumped(s->job), last, "all redone the job is not what it became");
    free(now);
    free(begun);
    free(last);
}

static int number_of(const char *name, int otherwise)
{
    const char *text = getenv(name);
    return text && atoi(text) > 0 ? atoi(text) : otherwise;
}

START_TEST(whatever_is_pressed_it_lives_and_the_job_is_what_was_taken)
{
    struct storm s = {.seed = (unsigned)number_of("DIEWRIGHT_SEED", 20260117) + (unsigned)_i * 7919u};
    int keys = number_of("DIEWRIGHT_KEYS", KEYS) / RUNS;
    s.dice.state = s.seed;
    s.program = realpath(program(), NULL);
    s.job = realpath(demo_job(), NULL);
    s.folder = base_copy_n(s.job, (size_t)(strrchr(s.job, '/') - s.job));
    printf("seed %u, %d keys\n", s.seed, keys);
    fflush(stdout);
    learn_keys(&s);
    learn_paths(&s);
    char *first = base_copy(dumped(s.job));
    begin(&s);
    while (s.keys < keys)
        burst(&s, s.keys + (keys * RUNS > LONG ? LONG_BURST : BURST));
    wind_back(&s, first);
    bed_type(s.bed, "q");
    ended(&s);
    words *all[] = {&s.labels, &s.names, &s.usages, &s.paths, &s.items};
    for (size_t i = 0; i < COUNT_OF(all); i++)
        words_done(all[i]);
    free(first);
    free(s.program);
    free(s.job);
    free(s.folder);
}
END_TEST

static void add_storm(Suite *s, TCase *c, int number)
{
    tcase_set_timeout(c, 3600);
    tcase_add_loop_test(c, whatever_is_pressed_it_lives_and_the_job_is_what_was_taken, number, number + 1);
    suite_add_tcase(s, c);
}

/* A case for each, for they wait more than they work and go side by side. */
void add_fuzz(Suite *s)
{
    add_storm(s, tcase_create("fuzz"), 0);
    add_storm(s, tcase_create("fuzztwo"), 1);
    add_storm(s, tcase_create("fuzzthree"), 2);
}
