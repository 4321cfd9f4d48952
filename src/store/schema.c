/* What stands in a job file, form by form.
 *
 * The remarks stand inside the statements, so that `.schema` of the sqlite3 tool shows them. A
 * published form is never edited: a new one gets the next number and a step from the last.
 * No index but the primary keys: the tables are small, and an index may lie where a table
 * does not.
 */

#include "store/inside.h"

#include <stdio.h>
#include <string.h>

static const char newest[] =
    "CREATE TABLE item (\n"
    "    name TEXT NOT NULL PRIMARY KEY, -- as formulas call it: die_plate\n"
    "    kind TEXT NOT NULL,             -- the handbook's word: plate, screws, values, factor\n"
    "    place INTEGER NOT NULL          -- its order in the job from 0; plates stand in the order of the "
    "stack\n"
    ") STRICT, WITHOUT ROWID;\n"
    "CREATE TABLE entry (\n"
    "    item TEXT NOT NULL REFERENCES item (name),\n"
    "    path TEXT NOT NULL,     -- property, or what hangs on it: thickness, thickness/reason, lay/end\n"
    "    place INTEGER NOT NULL, -- its order in the item from 0\n"
    "    text TEXT NOT NULL,     -- as typed: 32 mm, 1.5 * posts.diameter\n"
    "    PRIMARY KEY (item, path)\n"
    ") STRICT, WITHOUT ROWID;\n"
    "CREATE TABLE event (\n"
    "    seq INTEGER NOT NULL PRIMARY KEY, -- 1, 2, 3 without a gap; rows are only ever added\n"
    "    role TEXT NOT NULL,               -- edit, undo or redo\n"
    "    edit INTEGER,                     -- the edit that was undone or redone\n"
    "    title TEXT NOT NULL,              -- die_plate.thickness 32 mm -> 36 mm\n"
    "    who TEXT NOT NULL,\n"
    "    at TEXT NOT NULL,                 -- local time and its distance from UTC, ISO 8601\n"
    "    sum INTEGER NOT NULL              -- check sum over the event before, this one and its changes\n"
    ") STRICT;\n"
    "CREATE TABLE change (\n"
    "    seq INTEGER NOT NULL REFERENCES event (seq),\n"
    "    n INTEGER NOT NULL,   -- its order in the event from 0\n"
    "    what TEXT NOT NULL,   -- entry, item (its kind), name, place (of the item), order (of the entry)\n"
    "    item TEXT NOT NULL,   -- by the name it had before\n"
    "    path TEXT NOT NULL,   -- of the entry, else empty\n"
    "    before TEXT,          -- NULL: was not there\n"
    "    after TEXT,           -- NULL: taken out\n"
    "    PRIMARY KEY (seq, n)\n"
    ") STRICT, WITHOUT ROWID;\n"
    "CREATE TABLE part_table (\n"
    "    file TEXT NOT NULL PRIMARY KEY, -- screws-iso4762.csv\n"
    "    checksum TEXT NOT NULL,         -- of the text, 16 hexadecimal digits\n"
    "    shipped INTEGER NOT NULL,       -- 1: as it came with the program, 0: the shop's own\n"
    "    csv TEXT NOT NULL               -- the whole text, which is what the program reads\n"
    ") STRICT, WITHOUT ROWID;\n"
    "CREATE TABLE part_row (\n"
    "    file TEXT NOT NULL REFERENCES part_table (file),\n"
    "    line INTEGER NOT NULL, -- where the row begins in the text\n"
    "    cells TEXT NOT NULL,   -- JSON, column by column: cells ->> 'size'\n"
    "    PRIMARY KEY (file, line)\n"
    ") STRICT, WITHOUT ROWID;\n"
    "CREATE TABLE seal (\n"
    "    part TEXT NOT NULL PRIMARY KEY, -- state (items and entries), log (the last event), parts\n"
    "    sum INTEGER NOT NULL            -- check sum of what the part holds\n"
    ") STRICT, WITHOUT ROWID;\n"
    "INSERT INTO seal VALUES ('state', 0), ('log', 0), ('parts', 0);\n"
    "PRAGMA application_id = 1146571330;\n" /* "DWJB", as file.c looks for it */
    "PRAGMA user_version = 2;\n";

/* Form 2 has the tables of form 1. Its log may take an edit back from among others; a program of form 1 knows
   the last one alone. */
static const struct schema_step steps[] = {{.from = 1, .sql = ""}};

const struct schema store_schema = {.form = 2, .sql = newest, .steps = steps, .n_steps = COUNT_OF(steps)};

static bool run(struct store *s, const char *sql)
{
    if (s->rc == SQLITE_OK)
        s->rc = sqlite3_exec(s->db, sql, NULL, NULL, NULL);
    return s->rc == SQLITE_OK;
}

bool schema_write(struct store *s, const struct schema *schema)
{
    run(s, schema->sql);
    seal_put(s, "state", seal_of_state(s));
    seal_put(s, "parts", seal_of_parts(s));
    return s->rc == SQLITE_OK;
}

static void list_schema(struct store *s, struct base_text *out)
{
    sqlite3_stmt *st = sql_get(s, SQL_SCHEMA, "");
    while (sql_row(s, st))
        seal_row(out, st, 4);
}

bool schema_matches(struct store *s, const struct schema *schema)
{
    struct store fresh = {.path = s->path};
    struct base_text have = {0}, want = {0};
    list_schema(s, &have);
    fresh.rc = sqlite3_open_v2(":memory:", &fresh.db, SQLITE_OPEN_READWRITE, NULL);
    run(&fresh, schema->sql);
    list_schema(&fresh, &want);
    bool same = fresh.rc == SQLITE_OK && strcmp(base_text_get(&have), base_text_get(&want)) == 0;
    sql_finish(&fresh);
    sqlite3_close(fresh.db);
    base_text_done(&have);
    base_text_done(&want);
    return same;
}

bool schema_reads(const struct schema *schema, int form)
{
    for (int i = 0; i < schema->n_steps; i++)
        if (schema->steps[i].from == form && !*schema->steps[i].sql)
            form++;
    return form == schema->form;
}

static bool take_step(struct store *s, const struct schema_step *step, bool last)
{
    char number[64];
    snprintf(number, sizeof number, "PRAGMA user_version = %d", step->from + 1);
    run(s, "BEGIN IMMEDIATE");
    run(s, step->sql);
    run(s, number);
    if (last) { /* the newest form's sums can only be made over the newest form */
        seal_put(s, "state", seal_of_state(s));
        seal_put(s, "parts", seal_of_parts(s));
    }
    if (run(s, "COMMIT"))
        return true;
    store_rollback(s);
    return false;
}

enum base_err schema_upgrade(struct store *s, const struct schema *schema, int form, struct base_diag *why)
{
    for (int i = 0; i < schema->n_steps; i++) {
        if (schema->steps[i].from != form)
            continue;
        form++;
        if (!take_step(s, &schema->steps[i], form == schema->form))
            return base_fail(why, BASE_UNREADABLE, "%s cannot be brought from form %d to form %d (%s).",
                             s->path, form - 1, form, sqlite3_errmsg(s->db));
    }
    if (form == schema->form)
        return BASE_OK;
    return base_fail(why, BASE_UNREADABLE, "%s has form %d, and no way leads from there to form %d.", s->path,
                     form, schema->form);
}
