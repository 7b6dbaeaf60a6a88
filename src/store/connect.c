#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "internal.h"

enum { WAIT_MS = 5000 };

static const struct {
    int option;
    int on;
} settings[] = {
    {SQLITE_DBCONFIG_DEFENSIVE, 1},   {SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0},        {SQLITE_DBCONFIG_DQS_DML, 0},
    {SQLITE_DBCONFIG_DQS_DDL, 0},     {SQLITE_DBCONFIG_ENABLE_FKEY, 1},           {SQLITE_DBCONFIG_ENABLE_TRIGGER, 0},
    {SQLITE_DBCONFIG_ENABLE_VIEW, 0}, {SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0},
};

/* What a hostile file could at most ask for. A changeset of a large change is the largest value that we store. */
static const struct {
    int limit;
    int most;
} limits[] = {
    {SQLITE_LIMIT_LENGTH, VALUE_BYTES_MOST}, {SQLITE_LIMIT_SQL_LENGTH, 100000}, {SQLITE_LIMIT_COLUMN, 100},
    {SQLITE_LIMIT_EXPR_DEPTH, 100},          {SQLITE_LIMIT_ATTACHED, 0},        {SQLITE_LIMIT_TRIGGER_DEPTH, 1},
};

struct store *store_new(const char *path, enum store_access access)
{
    struct store *store = memory_new(sizeof *store);
    *store = (struct store){.access = access, .own = own_files_new()};
    store->path = memory_new(strlen(path) + 1);
    memcpy(store->path, path, strlen(path) + 1);
    return store;
}

static int configure(sqlite3 *db)
{
    int code = sqlite3_busy_timeout(db, WAIT_MS);
    for (size_t i = 0; code == SQLITE_OK && i < sizeof settings / sizeof settings[0]; i++) {
        code = sqlite3_db_config(db, settings[i].option, settings[i].on, (int *)NULL);
    }
    for (size_t i = 0; i < sizeof limits / sizeof limits[0]; i++) {
        sqlite3_limit(db, limits[i].limit, limits[i].most);
    }
    return code;
}

bool store_connect(struct store *store, const char *file, int flags, struct error *error)
{
    /* Debian's SQLite takes a name that begins with `file:` for a URI; a leading ./ makes every name a plain one. */
    struct text name = {0};
    text_printf(&name, "%s%s", file[0] == '/' ? "" : "./", file);
    int code = sqlite3_open_v2(text_string(&name), &store->db, flags | SQLITE_OPEN_EXRESCODE | SQLITE_OPEN_NOMUTEX,
                               own_files_name(store->own));
    text_done(&name);
    if (code == SQLITE_OK) {
        code = configure(store->db);
    }
    if (code == SQLITE_OK) {
        code = reading_register(store);
    }
    if (code != SQLITE_OK) {
        store_fault(store, code, error);
        return false;
    }
    return store_execute(store, "PRAGMA cell_size_check = ON", error);
}

void store_close(struct store *store)
{
    if (store == NULL) {
        return;
    }
    store_rollback(store);
    sqlite3_close(store->db);
    own_files_free(store->own);
    free(store->path);
    free(store);
}

bool store_begin(struct store *store, struct error *error)
{
    store->in_transaction = store_execute(store, "BEGIN IMMEDIATE", error);
    return store->in_transaction;
}

bool store_commit(struct store *store, struct error *error)
{
    if (!store_execute(store, "COMMIT", error)) {
        store_rollback(store);
        return false;
    }
    store->in_transaction = false;
    return true;
}

void store_rollback(struct store *store)
{
    if (store->in_transaction && sqlite3_get_autocommit(store->db) == 0) {
        sqlite3_exec(store->db, "ROLLBACK", NULL, NULL, NULL);
    }
    store->in_transaction = false;
}
