/*
 * A house database of sound pages with any values in it: bytes say which cell of which row becomes what, which row goes
 * and which comes twice. An error or a house, never a crash. Types and conditions that the tables ask for are not held
 * while the cells are written, so that the reader meets what no database of ours holds; a file made longer than
 * the size up to which pages are looked through meets the reader's own checks alone.
 */
#include <fcntl.h>
#include <sqlite3.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "ampsum/housefile.h"
#include "ampsum/store.h"
#include "read_store.h"

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size);

enum {
    CELLS_MOST = 400,
    EDITS_MOST = 12,
    PAGE_BYTES = 512,
    HEADER_BYTES = 100,
    LONG_BYTES = 5 * 1024 * 1024,
    SQL_ROOM = 600
};

/* Every table has a row or two, so that each column can be spoilt. */
static const char whole_house[] =
    "[house]\nname = H\nrules = us\nmain_breaker = 100\ntariff = t\n\n"
    "[panel sub]\nbreaker = 40\npoles = 2\nlegs = AB\nwire = 8 AWG copper\nlength = 10 m\n\n"
    "[room r]\nname = R\narea = 10\n\n[room s]\nname = S\n\n"
    "[branch b]\nlabel = B\nbreaker = 20\nlegs = A\nserves = r, s\nwire = 12 AWG copper\nlength = 10 m\nprotection = "
    "gfci\n\n"
    "[branch c]\nlabel = C\npanel = sub\nbreaker = 15\nlegs = B\n\n"
    "[outlet o]\nbranch = b\nrun = 5 m\nroom = r\n\n[outlet p]\nbranch = b\nfrom = o\nrun = 2 m\n\n"
    "[appliance a]\nname = A\noutlet = p\npower = 100\nuse = 07:00-08:00\n\n"
    "[appliance m]\nname = M\nbranch = c\nhorsepower = 0.5\ngroup = g\ncategory = motor\n\n"
    "[scene e]\nname = E\non = a, m\n\n"
    "[tariff t]\nname = T\nprice = 0.2\n\n[period w]\ntariff = t\nhours = 07:00-09:00\nprice = 0.3\n";

struct cell {
    char table[64];
    char column[64];
    char row[160]; /* an SQL expression that tells one row from another */
};

static struct cell cells[CELLS_MOST];
static size_t cell_count;
static char folder[64];
static char path[80];
static uint8_t *database; /* as ampsum made it */
static uint8_t *relaxed;  /* the same without types and conditions, each at its place */
static size_t database_bytes;

static void run(sqlite3 *db, const char *sql)
{
    if (sqlite3_exec(db, sql, NULL, NULL, NULL) != SQLITE_OK) {
        fprintf(stderr, "%s: %s\n", sql, sqlite3_errmsg(db));
        abort();
    }
}

static void remove_all(void)
{
    unlink(path);
    rmdir(folder);
    free(database);
    free(relaxed);
}

static sqlite3 *open_raw(void)
{
    sqlite3 *db = NULL;
    if (sqlite3_open(path, &db) != SQLITE_OK) {
        abort();
    }
    run(db, "PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF; PRAGMA ignore_check_constraints = ON; "
            "PRAGMA foreign_keys = OFF; PRAGMA writable_schema = ON");
    return db;
}

static int add_cell(void *context, int count, char **values, char **names)
{
    (void)context;
    (void)names;
    if (count == 3 && cell_count < CELLS_MOST) {
        struct cell *cell = &cells[cell_count++];
        snprintf(cell->table, sizeof cell->table, "%s", values[0]);
        snprintf(cell->column, sizeof cell->column, "%s", values[1]);
        snprintf(cell->row, sizeof cell->row, "%s", values[2]);
    }
    return 0;
}

/* Takes types, conditions and "not null" out of the tables' words: blanks, so that each word stays where it is. */
static void relax(sqlite3 *db)
{
    if (sqlite3_exec(db,
                     "SELECT s.name, c.name, coalesce((SELECT group_concat('\"' || k.name || '\"', '||''/''||') "
                     "FROM pragma_table_info(s.name) k WHERE k.pk > 0), 'rowid') "
                     "FROM sqlite_schema s, pragma_table_info(s.name) c WHERE s.type = 'table'",
                     add_cell, NULL, NULL) != SQLITE_OK) {
        abort();
    }
    run(db, "UPDATE sqlite_schema SET sql = replace(replace(replace(replace(replace(sql, ') STRICT, WITHOUT', "
            "')         WITHOUT'), ') STRICT', ')       '), 'TEXT NOT NULL', 'TEXT         '), 'REAL NOT NULL', "
            "'REAL         '), 'INTEGER NOT NULL', 'INTEGER         ') WHERE type = 'table'");
}

static uint8_t *read_database(void)
{
    struct stat status;
    int file = open(path, O_RDONLY | O_CLOEXEC);
    if (file < 0 || fstat(file, &status) != 0) {
        abort();
    }
    database_bytes = (size_t)status.st_size;
    uint8_t *bytes = malloc(database_bytes);
    if (bytes == NULL || read(file, bytes, database_bytes) != (ssize_t)database_bytes) {
        abort();
    }
    close(file);
    return bytes;
}

/* Puts the tables' own words back: the pages that hold them, less the file's head in the first. */
static void restore_words(void)
{
    int file = open(path, O_WRONLY | O_CLOEXEC);
    for (size_t at = 0; at < database_bytes; at += PAGE_BYTES) {
        const size_t from = at == 0 ? HEADER_BYTES : 0;
        const size_t count = PAGE_BYTES - from;
        if (memcmp(database + at + from, relaxed + at + from, count) != 0 &&
            pwrite(file, database + at + from, count, (off_t)(at + from)) != (ssize_t)count) {
            abort();
        }
    }
    close(file);
}

static void start(void)
{
    struct document *document = NULL;
    struct house *house = NULL;
    struct error error = {0};
    sqlite3_config(SQLITE_CONFIG_LOOKASIDE, 1200, 2000); /* what SQLite allocates is not looked at: spare it the way */
    snprintf(folder, sizeof folder, "%s/ampsum-fuzz-XXXXXX", access("/dev/shm", W_OK) == 0 ? "/dev/shm" : "/tmp");
    if (mkdtemp(folder) == NULL) {
        abort();
    }
    snprintf(path, sizeof path, "%s/h.db", folder);
    atexit(remove_all);
    if (!housefile_read_bytes("fuzz", whole_house, strlen(whole_house), &document, &error) ||
        !house_build(document, &house, &error) || !store_create(path, house, false, &error)) {
        fprintf(stderr, "%s\n", error_message(&error));
        abort();
    }
    house_free(house);
    document_free(document);
    sqlite3 *db = open_raw();
    run(db, "PRAGMA page_size = 512; VACUUM");
    sqlite3_close(db);
    database = read_database();
    const size_t bytes = database_bytes;
    db = open_raw();
    relax(db);
    sqlite3_close(db);
    relaxed = read_database();
    if (database_bytes != bytes) {
        abort();
    }
}

/* ------------------------------------------------------------------ bytes as edits ------------------------ */

struct bytes {
    const uint8_t *at;
    size_t left;
};

static uint8_t take(struct bytes *bytes)
{
    if (bytes->left == 0) {
        return 0;
    }
    bytes->left--;
    return *bytes->at++;
}

static const uint8_t *take_many(struct bytes *bytes, size_t *count)
{
    const uint8_t *first = bytes->at;
    *count = *count < bytes->left ? *count : bytes->left;
    bytes->at += *count;
    bytes->left -= *count;
    return first;
}

static void bind(sqlite3_stmt *statement, struct bytes *bytes)
{
    const uint8_t kind = take(bytes);
    size_t length = kind % 6 == 1 ? 1 : kind % 6 < 4 ? 8 : kind / 6;
    const uint8_t *first = kind % 6 == 0 ? NULL : take_many(bytes, &length);
    int64_t whole = 0;
    double real = 0;
    switch (kind % 6) {
    case 0:
        sqlite3_bind_null(statement, 1);
        break;
    case 1:
        sqlite3_bind_int(statement, 1, length > 0 ? (int8_t)first[0] : 0);
        break;
    case 2:
        memcpy(&whole, first, length);
        sqlite3_bind_int64(statement, 1, whole);
        break;
    case 3:
        memcpy(&real, first, length);
        sqlite3_bind_double(statement, 1, real);
        break;
    case 4:
        sqlite3_bind_text(statement, 1, (const char *)first, (int)length, SQLITE_TRANSIENT);
        break;
    default:
        sqlite3_bind_blob(statement, 1, first, (int)length, SQLITE_TRANSIENT);
    }
}

/* One edit; what the database refuses (a key twice) is left. */
static void edit(sqlite3 *db, struct bytes *bytes)
{
    static const char *const shapes[] = {
        "UPDATE OR IGNORE \"%w\" SET \"%w\" = ?1 WHERE %s = (SELECT %s FROM \"%w\" LIMIT 1 OFFSET %d)",
        "DELETE FROM \"%w\" WHERE \"%w\" IS NOT ?1 AND %s = (SELECT %s FROM \"%w\" LIMIT 1 OFFSET %d)",
        "INSERT OR IGNORE INTO \"%w\"(\"%w\") SELECT ?1 WHERE (SELECT %s != %s FROM \"%w\") IS NOT %d",
    };
    const struct cell *cell = &cells[(size_t)(take(bytes) * 256 + take(bytes)) % cell_count];
    const uint8_t how = take(bytes);
    const char *shape = shapes[how < 224 ? 0 : how < 240 ? 1 : 2];
    char *sql = sqlite3_mprintf(shape, cell->table, cell->column, cell->row, cell->row, cell->table, how % 4);
    sqlite3_stmt *statement = NULL;
    if (sql != NULL && sqlite3_prepare_v2(db, sql, -1, &statement, NULL) == SQLITE_OK) {
        bind(statement, bytes);
        sqlite3_step(statement);
    }
    sqlite3_finalize(statement);
    sqlite3_free(sql);
}

static void write_database(struct bytes *bytes)
{
    int file = open(path, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
    if (file < 0 || write(file, relaxed, database_bytes) != (ssize_t)database_bytes || close(file) != 0) {
        abort();
    }
    sqlite3 *db = open_raw();
    run(db, "BEGIN");
    for (int i = 0; i < EDITS_MOST && bytes->left > 0; i++) {
        edit(db, bytes);
    }
    run(db, "COMMIT");
    sqlite3_close(db);
    restore_words();
}

int LLVMFuzzerTestOneInput(const uint8_t *data, size_t size)
{
    if (folder[0] == '\0') {
        start();
    }
    struct bytes bytes = {data, size};
    const uint8_t mode = take(&bytes);
    write_database(&bytes);
    if (mode % 2 == 1 && truncate(path, LONG_BYTES) != 0) {
        abort();
    }
    struct error error = {0};
    struct store *store = NULL;
    if (store_open(path, mode % 4 < 2 ? STORE_READ : STORE_WRITE, &store, &error)) {
        struct text what = {0};
        read_all(store);
        if (mode % 4 >= 2) {
            store_undo(store, &what, NULL);
            store_redo(store, &what, NULL);
            read_all(store);
        }
        text_done(&what);
        store_close(store);
    } else if (size == 0 || error.code != ERROR_STORE || error.message.length == 0) {
        abort(); /* without an edit it is a house */
    }
    error_done(&error);
    return 0;
}
