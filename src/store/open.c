#include <errno.h>
#include <fcntl.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "internal.h"
#include "schema_steps.h"

/*
 * Up to this size a file is looked through page by page before anything is read from it (a third of a millisecond for
 * an ordinary house). A larger one is not: damage still shows as damage where it is read, since every row, value and
 * order is checked on the way in.
 */
enum { LOOK_THROUGH_BYTES_MOST = 4 * 1024 * 1024 };

static bool path_is_file(const char *path, off_t *ret_bytes, struct error *error)
{
    struct stat status;
    if (stat(path, &status) != 0 && errno == ENOENT) {
        error_set(error, ERROR_INPUT,
                  "%s: No such file, expected a house database; `ampsum serve FILE.db` begins one on a page, `ampsum "
                  "import HOUSE.ini -o FILE.db` makes one from a house file",
                  path);
        return false;
    }
    if (stat(path, &status) != 0) {
        enum error_code code = errno == ENOENT || errno == ENOTDIR ? ERROR_INPUT : ERROR_STORE;
        error_set(error, code, "%s: %s, expected a house database", path, strerror(errno));
        return false;
    }
    if (!S_ISREG(status.st_mode)) {
        error_set(error, ERROR_INPUT, "%s: %s, expected a house database", path,
                  S_ISDIR(status.st_mode) ? "a folder" : "not an ordinary file");
        return false;
    }
    *ret_bytes = status.st_size;
    return true;
}

/* Application ID and version stand in the file's first page: nothing of the file's own SQL is run for them. */
static bool read_version(struct store *store, int64_t *ret_version, struct error *error)
{
    int64_t application_id = 0;
    if (!store_number(store, "PRAGMA application_id", &application_id, error)) {
        return false;
    }
    if (application_id != STORE_APPLICATION_ID) {
        error_set(error, ERROR_STORE, "%s: not a house database, expected a file made by ampsum import", store->path);
        return false;
    }
    return store_number(store, "PRAGMA user_version", ret_version, error);
}

static bool version_fits(struct store *store, int64_t version, struct error *error)
{
    if (version > schema_step_count) {
        error_set(
            error, ERROR_STORE,
            "%s: made by a newer ampsum (version %lld of the house database, this one knows up to %d), use that one",
            store->path, (long long)version, schema_step_count);
    } else if (version < 1) {
        store_damaged(store, "it has no version", error);
    } else if (version < schema_step_count && store->access == STORE_READ) {
        error_set(error, ERROR_STORE,
                  "%s: made by an older ampsum (version %lld of the house database, now %d), "
                  "it is upgraded when it is first edited: ampsum add, set or remove",
                  store->path, (long long)version, schema_step_count);
    }
    return !error_is_set(error);
}

static bool object_is_ours(sqlite3_stmt *statement, const struct schema_object *object)
{
    const char *want[] = {object->type, object->name, object->table, object->sql};
    for (int i = 0; i < 4; i++) {
        const char *text = (const char *)sqlite3_column_text(statement, i);
        if (text == NULL || strcmp(text, want[i]) != 0) {
            return false;
        }
    }
    return true;
}

static bool objects_are_ours(struct store *store, const struct schema_step *step, sqlite3_stmt *statement,
                             bool *ret_ours, struct error *error)
{
    bool row = false;
    size_t seen = 0;
    while (statement_row(store, statement, &row, error)) {
        if (!row || seen == step->object_count || !object_is_ours(statement, &step->objects[seen])) {
            *ret_ours = !row && seen == step->object_count;
            return true;
        }
        seen++;
    }
    return false;
}

/* The tables, indices and so on are those of the steps, to the letter, and no others. */
static bool schema_is_ours(struct store *store, int version, struct error *error)
{
    /* What another tool's ANALYZE leaves says nothing of the house. */
    static const char sql[] = "SELECT type, name, tbl_name, coalesce(sql, '') FROM sqlite_schema "
                              "WHERE tbl_name NOT IN ('sqlite_stat1', 'sqlite_stat4') ORDER BY type, name";
    sqlite3_stmt *statement = statement_open(store, sql, error);
    bool ours = false;
    bool ok = statement != NULL && objects_are_ours(store, &schema_steps[version - 1], statement, &ours, error);
    sqlite3_finalize(statement);
    if (ok && !ours) {
        error_set(error, ERROR_STORE,
                  "%s: changed by another program (its tables are not those that ampsum makes), "
                  "take a copy of it, or import its house file anew",
                  store->path);
    }
    return ok && ours;
}

/* What quick_check found. It also lists a page that could not be fetched, with the code why: that is no damage. */
static void report_pages(struct store *store, const char *found, struct error *error)
{
    static const char code_words[] = "error code=";
    const char *second = strchr(found, '\n'); /* behind the name of the database */
    const char *words = second == NULL ? found : second + 1;
    const char *code = strstr(words, code_words);
    const long why = code == NULL ? SQLITE_CORRUPT : strtol(code + strlen(code_words), NULL, 10);
    if ((why & 0xFF) == SQLITE_NOMEM || (why & 0xFF) == SQLITE_IOERR) {
        store_fault(store, (int)why, error);
    } else {
        store_damaged(store, words, error);
    }
}

static bool pages_are_whole(struct store *store, struct error *error)
{
    sqlite3_stmt *statement = statement_open(store, "PRAGMA quick_check(1)", error);
    bool row = false;
    bool ok = statement != NULL && statement_row(store, statement, &row, error);
    if (ok) {
        const char *text = row ? (const char *)sqlite3_column_text(statement, 0) : NULL;
        ok = text != NULL && strcmp(text, "ok") == 0;
        if (!ok) {
            report_pages(store, text == NULL ? "it can't be checked" : text, error);
        }
    }
    sqlite3_finalize(statement);
    return ok;
}

static bool look_at(struct store *store, off_t bytes, int64_t *ret_version, struct error *error)
{
    return read_version(store, ret_version, error) && version_fits(store, *ret_version, error) &&
           schema_is_ours(store, (int)*ret_version, error) &&
           (bytes > LOOK_THROUGH_BYTES_MOST || pages_are_whole(store, error));
}

/* In one transaction, so that all of it is about one state of the file. */
static bool check_content(struct store *store, off_t bytes, struct error *error)
{
    int64_t version = 0;
    if (!store_execute(store, "BEGIN", error)) {
        return false;
    }
    bool ok = look_at(store, bytes, &version, error);
    sqlite3_exec(store->db, "ROLLBACK", NULL, NULL, NULL); /* nothing was written */
    return ok && (version == schema_step_count || store_upgrade(store, (int)version, error));
}

/*
 * A program that died while it changed the file has left its rollback journal beside it. Reading means to roll that
 * back first, which a read-only connection can't: then connect for writing, but let nobody write.
 */
static bool connect_to_read(struct store *store, const char *path, struct error *error)
{
    if (!store_connect(store, path, SQLITE_OPEN_READONLY, error)) {
        return false;
    }
    if (sqlite3_exec(store->db, "PRAGMA application_id", NULL, NULL, NULL) == SQLITE_OK) {
        return true;
    }
    int code = sqlite3_extended_errcode(store->db);
    if (code != SQLITE_READONLY_ROLLBACK && code != SQLITE_READONLY_RECOVERY && code != SQLITE_READONLY_CANTLOCK) {
        return true; /* the checks that follow say what is wrong */
    }
    sqlite3_close(store->db);
    store->db = NULL;
    return store_connect(store, path, SQLITE_OPEN_READWRITE, error) &&
           store_execute(store, "PRAGMA query_only = ON", error);
}

static bool connect_to_write(struct store *store, const char *path, struct error *error)
{
    if (!store_connect(store, path, SQLITE_OPEN_READWRITE, error)) {
        return false;
    }
    if (sqlite3_db_readonly(store->db, "main") != 0) {
        store_fault(store, SQLITE_READONLY, error);
        return false;
    }
    return true;
}

bool store_open(const char *path, enum store_access access, struct store **ret_store, struct error *error)
{
    struct error fault = {0};
    off_t bytes = 0;
    struct store *store = store_new(path, access);
    bool ok = path_is_file(path, &bytes, &fault) && store_is_harmless(store, path, &fault) &&
              (access == STORE_WRITE ? connect_to_write : connect_to_read)(store, path, &fault) &&
              check_content(store, bytes, &fault);
    if (ok) {
        *ret_store = store;
    } else {
        error_set(error, fault.code, "%s", error_message(&fault));
        store_close(store);
    }
    error_done(&fault);
    return ok;
}

bool store_is_database(const char *path)
{
    static const char header[] = "SQLite format 3";
    char bytes[sizeof header];
    struct stat status;
    if (stat(path, &status) != 0 || !S_ISREG(status.st_mode)) {
        return false;
    }
    int file = open(path, O_RDONLY | O_CLOEXEC);
    if (file < 0) {
        return false;
    }
    ssize_t length = read(file, bytes, sizeof bytes);
    close(file);
    return length == (ssize_t)sizeof bytes && memcmp(bytes, header, sizeof bytes) == 0;
}
