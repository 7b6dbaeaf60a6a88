#include <assert.h>
#include <stdlib.h>

#include "internal.h"

sqlite3_stmt *statement_open(struct store *store, const char *sql, struct error *error)
{
    sqlite3_stmt *statement = NULL;
    int code = sqlite3_prepare_v2(store->db, sql, -1, &statement, NULL);
    if (code != SQLITE_OK) {
        store_fault(store, code, error);
        return NULL;
    }
    return statement;
}

bool statement_row(struct store *store, sqlite3_stmt *statement, bool *ret_row, struct error *error)
{
    int code = sqlite3_step(statement);
    if (code != SQLITE_ROW && code != SQLITE_DONE) {
        store_fault(store, code, error);
        return false;
    }
    *ret_row = code == SQLITE_ROW;
    return true;
}

bool statement_run(struct store *store, sqlite3_stmt *statement, struct error *error)
{
    int code = sqlite3_step(statement);
    while (code == SQLITE_ROW) {
        code = sqlite3_step(statement);
    }
    if (code == SQLITE_DONE) {
        code = sqlite3_reset(statement);
    }
    if (code != SQLITE_OK) {
        store_fault(store, code, error);
        sqlite3_reset(statement);
        return false;
    }
    return true;
}

bool store_execute(struct store *store, const char *sql, struct error *error)
{
    int code = sqlite3_exec(store->db, sql, NULL, NULL, NULL);
    if (code != SQLITE_OK) {
        store_fault(store, code, error);
        return false;
    }
    return true;
}

bool store_number(struct store *store, const char *sql, int64_t *ret_number, struct error *error)
{
    sqlite3_stmt *statement = statement_open(store, sql, error);
    bool row = false;
    bool ok = statement != NULL && statement_row(store, statement, &row, error);
    if (ok) {
        *ret_number = row ? sqlite3_column_int64(statement, 0) : 0;
    }
    sqlite3_finalize(statement);
    return ok;
}

void store_damaged(struct store *store, const char *what, struct error *error)
{
    error_set(error, ERROR_STORE,
              "%s: the house database is damaged (%s), take a copy of it, or import its house file anew", store->path,
              what);
}

/* The sentences, by primary result code. %s: the path. */
static const struct {
    int code;
    const char *sentence;
} sentences[] = {
    {SQLITE_BUSY, "locked by another program, try again when that has finished"},
    {SQLITE_LOCKED, "locked by another program, try again when that has finished"},
    {SQLITE_NOTADB, "not a house database (or its beginning is damaged), expected a file made by ampsum import"},
    {SQLITE_READONLY, "can't be written (read-only), nothing was changed: copy it to where you may write"},
    {SQLITE_PERM, "may not be opened, its owner must allow that"},
    {SQLITE_AUTH, "may not be opened, its owner must allow that"},
    {SQLITE_CANTOPEN, "can't be opened, its owner must allow that (and writing in its folder, to change it)"},
    {SQLITE_FULL, "the disk is full, nothing was changed: make room and try again"},
    {SQLITE_NOMEM, "out of memory; a damaged database may ask for more than there is"},
    {SQLITE_TOOBIG, "the change is too large for one entry of the journal, make it in several parts"},
};

void store_fault(struct store *store, int code, struct error *error)
{
    int primary = code & 0xFF;
    if (primary == SQLITE_TOOBIG && sqlite3_limit(store->db, SQLITE_LIMIT_LENGTH, -1) < VALUE_BYTES_MOST) {
        store_damaged(store, "a value is longer than any that a house file holds", error);
        return;
    }
    for (size_t i = 0; i < sizeof sentences / sizeof sentences[0]; i++) {
        if (sentences[i].code == primary) {
            error_set(error, ERROR_STORE, "%s: %s", store->path, sentences[i].sentence);
            return;
        }
    }
    const char *detail = store->db == NULL ? sqlite3_errstr(code) : sqlite3_errmsg(store->db);
    if (primary == SQLITE_IOERR) {
        error_set(error, ERROR_STORE, "%s: can't be read or written (%s), nothing was changed", store->path, detail);
    } else if (primary == SQLITE_CONSTRAINT) {
        error_set(error, ERROR_STORE, "%s: a value is outside of what a house database holds (%s), nothing was changed",
                  store->path, detail);
    } else {
        store_damaged(store, detail, error);
    }
}
