/*
 * The journal of changes: each one's changeset (SQLite's session extension) stands beside what people read of it.
 * Undoing applies the inverted changeset. A changeset out of a foreign file is as little trusted as the rest: it may
 * only touch the house's tables, any conflict stops it, and the house that comes out is read and checked before it is
 * kept.
 */
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/words.h"
#include "internal.h"

int journal_records_table(void *context, const char *table)
{
    (void)context;
    return section_named(table) != NULL || strcmp(table, "branch_serves") == 0 || strcmp(table, "scene_on") == 0;
}

bool journal_add(struct store *store, const char *command, const char *changes, const void *changeset, int bytes,
                 struct error *error)
{
    static const char sql[] = "INSERT INTO journal(time, command, changes, changeset, undone) "
                              "VALUES(strftime('%Y-%m-%dT%H:%M:%SZ', 'now'), ?1, ?2, ?3, 0)";
    if (!store_execute(store, "DELETE FROM journal WHERE undone = 1", error)) {
        return false;
    }
    sqlite3_stmt *statement = statement_open(store, sql, error);
    if (statement == NULL) {
        return false;
    }
    int code = sqlite3_bind_text(statement, 1, command, -1, SQLITE_STATIC);
    code = code == SQLITE_OK ? sqlite3_bind_text(statement, 2, changes, -1, SQLITE_STATIC) : code;
    code = code == SQLITE_OK ? sqlite3_bind_blob(statement, 3, changeset, bytes, SQLITE_STATIC) : code;
    bool ok = code == SQLITE_OK;
    if (!ok) {
        store_fault(store, code, error);
    }
    ok = ok && statement_run(store, statement, error);
    sqlite3_finalize(statement);
    return ok;
}

/* ------------------------------------------------------------------ undo and redo ------------------------- */

static int stop_at_conflict(void *context, int kind, sqlite3_changeset_iter *iterator)
{
    (void)context;
    (void)kind;
    (void)iterator;
    return SQLITE_CHANGESET_ABORT;
}

static int apply(sqlite3 *db, int bytes, void *changeset)
{
    return sqlite3changeset_apply_v2(db, bytes, changeset, journal_records_table, stop_at_conflict, NULL, NULL, NULL,
                                     0);
}

/* Applies the changeset in column 2 of the row, inverted to undo. */
static bool apply_entry(struct store *store, sqlite3_stmt *entry, bool undo, struct error *error)
{
    int bytes = sqlite3_column_bytes(entry, 2);
    const void *blob = sqlite3_column_blob(entry, 2);
    int inverse_bytes = 0;
    void *inverse = NULL;
    int code = SQLITE_CORRUPT;
    if (blob != NULL && undo) {
        code = sqlite3changeset_invert(bytes, blob, &inverse_bytes, &inverse);
        code = code == SQLITE_OK ? apply(store->db, inverse_bytes, inverse) : code;
        sqlite3_free(inverse);
    } else if (blob != NULL) {
        void *copy = memory_new((size_t)bytes); /* the parameter of apply is not const */
        memcpy(copy, blob, (size_t)bytes);
        code = apply(store->db, bytes, copy);
        free(copy);
    }
    if (code == SQLITE_ABORT || (code & 0xFF) == SQLITE_CONSTRAINT) {
        error_set(
            error, ERROR_STORE,
            "%s: changed since by something else than ampsum, so that this change can't be %s, nothing was changed",
            store->path, undo ? "undone" : "done again");
    } else if (code != SQLITE_OK) {
        store_fault(store, code, error);
    }
    return code == SQLITE_OK;
}

static bool mark_entry(struct store *store, int64_t n, bool undone, struct error *error)
{
    sqlite3_stmt *statement = statement_open(store, "UPDATE journal SET undone = ?1 WHERE n = ?2", error);
    if (statement == NULL) {
        return false;
    }
    int code = sqlite3_bind_int(statement, 1, undone);
    code = code == SQLITE_OK ? sqlite3_bind_int64(statement, 2, n) : code;
    if (code != SQLITE_OK) {
        store_fault(store, code, error);
    }
    bool ok = code == SQLITE_OK && statement_run(store, statement, error);
    sqlite3_finalize(statement);
    return ok;
}

static bool house_still_holds(struct store *store, struct error *error)
{
    struct house *house = NULL;
    bool ok = store_read_house(store, &house, error);
    if (ok) {
        house_free(house);
    }
    return ok;
}

/* A text of the journal that may be shown: lines of printable UTF-8. */
static bool text_is_shown(const char *text, size_t length)
{
    bool good = text != NULL && strlen(text) == length && words_is_utf8(text, length);
    for (size_t i = 0; good && i < length; i++) {
        unsigned char byte = (unsigned char)text[i];
        good = (byte >= ' ' && byte != 0x7F) || byte == '\n';
    }
    return good;
}

static const char *entry_text(struct store *store, sqlite3_stmt *statement, int column, struct error *error)
{
    const char *text = (const char *)sqlite3_column_text(statement, column);
    if (!text_is_shown(text, (size_t)sqlite3_column_bytes(statement, column))) {
        store_damaged(store, "its journal", error);
        return NULL;
    }
    return text;
}

static bool turn_entry(struct store *store, sqlite3_stmt *entry, bool undo, struct text *ret_what, struct error *error)
{
    int64_t n = sqlite3_column_int64(entry, 0);
    const char *command = entry_text(store, entry, 1, error);
    struct text what = {0};
    text_add(&what, command == NULL ? "" : command);
    bool ok = command != NULL && apply_entry(store, entry, undo, error) && mark_entry(store, n, undo, error) &&
              house_still_holds(store, error);
    if (ok) {
        text_add(ret_what, text_string(&what));
    }
    text_done(&what);
    return ok;
}

static bool turn(struct store *store, bool undo, struct text *ret_what, struct error *error)
{
    static const char last[] = "SELECT n, command, changeset FROM journal WHERE undone = 0 ORDER BY n DESC LIMIT 1";
    static const char first[] = "SELECT n, command, changeset FROM journal WHERE undone = 1 ORDER BY n LIMIT 1";
    text_clear(ret_what);
    bool own = !store->in_transaction;
    if (own && !store_begin(store, error)) {
        return false;
    }
    sqlite3_stmt *entry = statement_open(store, undo ? last : first, error);
    bool row = false;
    bool ok = entry != NULL && statement_row(store, entry, &row, error) &&
              (!row || turn_entry(store, entry, undo, ret_what, error));
    sqlite3_finalize(entry);
    if (!ok) {
        store_rollback(store);
        return false;
    }
    return !own || store_commit(store, error);
}

bool store_undo(struct store *store, struct text *ret_what, struct error *error)
{
    return turn(store, true, ret_what, error);
}

bool store_redo(struct store *store, struct text *ret_what, struct error *error)
{
    return turn(store, false, ret_what, error);
}

/* ------------------------------------------------------------------ the list ------------------------------ */

static bool take_entry(struct store *store, sqlite3_stmt *statement, struct arena *arena, struct journal_entry *entry,
                       struct error *error)
{
    const char *texts[3] = {NULL, NULL, NULL};
    for (int i = 0; i < 3; i++) {
        const char *text = entry_text(store, statement, i + 1, error);
        if (text == NULL) {
            return false;
        }
        texts[i] = arena_copy(arena, text);
    }
    *entry = (struct journal_entry){(long)sqlite3_column_int64(statement, 0), texts[0], texts[1], texts[2],
                                    sqlite3_column_int(statement, 4) != 0};
    return true;
}

bool store_journal(struct store *store, struct arena *arena, struct journal_entry **ret_entries, size_t *ret_count,
                   struct error *error)
{
    static const char sql[] = "SELECT n, time, command, changes, undone FROM journal ORDER BY n";
    sqlite3_stmt *statement = statement_open(store, sql, error);
    struct journal_entry *entries = NULL;
    size_t count = 0;
    size_t capacity = 0;
    bool row = false;
    bool ok = statement != NULL;
    while (ok && (ok = statement_row(store, statement, &row, error)) && row) {
        entries = memory_grow(entries, count, &capacity, sizeof *entries);
        ok = take_entry(store, statement, arena, &entries[count], error) &&
             (count == 0 || entries[count - 1].number < entries[count].number);
        count++;
    }
    sqlite3_finalize(statement);
    if (ok) {
        *ret_entries = arena_array(arena, count, sizeof *entries);
        if (count > 0) {
            memcpy(*ret_entries, entries, count * sizeof *entries);
        }
        *ret_count = count;
    } else {
        store_damaged(store, "its journal", error);
    }
    free(entries);
    return ok;
}

struct journal_ways journal_ways(const struct journal_entry *entries, size_t count)
{
    struct journal_ways ways = {0};
    for (size_t i = 0; i < count; i++) {
        if (!entries[i].undone) {
            ways.undo = &entries[i];
        } else if (ways.redo == NULL) {
            ways.redo = &entries[i];
        }
    }
    return ways;
}

bool store_origin(struct store *store, uint64_t *ret_origin, struct error *error)
{
    sqlite3_stmt *statement = statement_open(store, "SELECT random FROM origin", error);
    bool row = false;
    bool ok = statement != NULL && statement_row(store, statement, &row, error);
    if (ok && (!row || sqlite3_column_bytes(statement, 0) < (int)sizeof *ret_origin ||
               sqlite3_column_blob(statement, 0) == NULL)) {
        store_damaged(store, "the number of its making is missing", error);
        ok = false;
    }
    if (ok) {
        memcpy(ret_origin, sqlite3_column_blob(statement, 0), sizeof *ret_origin);
    }
    sqlite3_finalize(statement);
    return ok;
}
