/*
 * What the files of src/store share. `struct store` is one connection to one house database.
 */
#ifndef AMPSUM_STORE_INTERNAL_H
#define AMPSUM_STORE_INTERNAL_H

#include <stdint.h>

#include <sqlite3.h>

#include "ampsum/keys.h"
#include "ampsum/store.h"

struct own_files;

struct store {
    sqlite3 *db;
    struct own_files *own; /* what SQLite may open and delete for it */
    char *path;            /* as the person named it, for messages */
    enum store_access access;
    bool in_transaction;
    struct taking *taking; /* read.c: what the function over a table fills; NULL: no table is read */
};

/* "ampS": tells a house database from other SQLite files. First byte below 0x80, so that it is above zero. */
enum { STORE_APPLICATION_ID = 0x616D7053 };

/* The longest value that we store: the changeset of a large change. */
enum { VALUE_BYTES_MOST = 256 * 1024 * 1024 };

/* ---- connect.c: a connection with everything off that a house database does not need ---- */

struct store *store_new(const char *path, enum store_access access);

/* Connects to `file` with SQLITE_OPEN_READONLY or _READWRITE in `flags`. */
bool store_connect(struct store *store, const char *file, int flags, struct error *error);

/* ---- beside.c: a file that is no house, and files beside a house that nobody should trust ---- */

/*
 * False, with the file's name and what is wrong with it, where `path` does not begin as a house database does, or a
 * journal (-journal, -wal, -shm) beside it is another user's, is no ordinary file, or names a file to be deleted.
 * Opens no SQLite. Waits up to a second for another user's change to end.
 */
bool store_is_harmless(struct store *store, const char *path, struct error *error);

/* False where a journal stands beside a new or empty database: it would be played back into the new one. */
bool store_place_is_free(const char *path, struct error *error);

/* A VFS that opens and deletes nothing but one database and its own journals. One for each connection. */
struct own_files *own_files_new(void);
const char *own_files_name(const struct own_files *own);
void own_files_free(struct own_files *own);

/* ---- statement.c: the only place that prepares SQL ---- */

/* NULL on failure. The caller finalizes. */
sqlite3_stmt *statement_open(struct store *store, const char *sql, struct error *error);

/* Steps once: *ret_row tells a row from the end. */
bool statement_row(struct store *store, sqlite3_stmt *statement, bool *ret_row, struct error *error);

/* Steps to the end and resets, for a statement that gives no rows. */
bool statement_run(struct store *store, sqlite3_stmt *statement, struct error *error);

/* Runs SQL of ours that takes no values. */
bool store_execute(struct store *store, const char *sql, struct error *error);

/* The whole number that a query gives, 0 where it gives no row or NULL. */
bool store_number(struct store *store, const char *sql, int64_t *ret_number, struct error *error);

/* Turns an SQLite result code into a sentence that says what to do. */
void store_fault(struct store *store, int code, struct error *error);

/* The sentence of a damaged file; `what` says where it was seen. */
void store_damaged(struct store *store, const char *what, struct error *error);

/* ---- upgrade.c ---- */

/* Runs the steps after version `from`, each in one transaction together with its version. */
bool store_upgrade(struct store *store, int from, struct error *error);

/* ---- read.c ---- */

/* Makes the function known to the connection that takes the rows of a table; an SQLite result code. */
int reading_register(struct store *store);

/* ---- columns.c: SQL text from the key tables, and fields to columns ---- */

/* Appends `n, id, "column", ...` of a section (the house has no id). */
void columns_list(const struct section *section, struct text *sql);

/* Number of columns that are not keys: n and id; n alone for the house. */
int columns_before_keys(const struct section *section);

/* The value of n by index of row, for each kind. */
struct row_numbers {
    int64_t *n[KIND_COUNT];
};

void row_numbers_done(struct row_numbers *numbers);

/* One column of one row, ready to be bound or compared. */
struct cell {
    int type; /* SQLITE_NULL, SQLITE_INTEGER, SQLITE_FLOAT, SQLITE_TEXT */
    int64_t integer;
    double real;
    const char *text; /* in the row, or in `written` */
    struct text written;
};

/* Fills the cell with the column of `key`, NULL where it was not given. Reuses cell->written. */
void cell_fill(struct cell *cell, const struct house *house, const struct row_numbers *numbers,
               const struct section *section, const struct key *key, const void *row);

bool cell_equal(const struct cell *a, const struct cell *b);

/* Binds to parameter `index`; an SQLite result code. */
int cell_bind(const struct cell *cell, sqlite3_stmt *statement, int index);

/* ---- write.c ---- */

/* Statements that insert one row of a section, and one row of its child table where it has one. */
struct inserter {
    const struct section *section;
    sqlite3_stmt *row;
    sqlite3_stmt *child; /* NULL: no child table */
    struct cell cell;
};

bool inserter_open(struct inserter *inserter, struct store *store, enum kind kind, struct error *error);
void inserter_close(struct inserter *inserter);

/* Inserts row `index` of the house with its list in the child table. */
bool inserter_put(struct inserter *inserter, struct store *store, const struct house *house,
                  const struct row_numbers *numbers, size_t index, struct error *error);

/* The list alone. */
bool inserter_put_list(struct inserter *inserter, struct store *store, const struct house *house,
                       const struct row_numbers *numbers, size_t index, struct error *error);

/* ---- check.c: what must hold in a house before other code may work on it ---- */

/* Before house_finish: chains end, references fit. Appends to `fault` and gives false where not. Linear. */
bool stored_structure_holds(const struct house *house, struct text *fault);

/* After house_finish: the rules across keys. */
bool stored_values_hold(const struct house *house, struct text *fault);

/* ---- journal.c ---- */

/* Puts a change at the end of the journal; the undone ones are dropped. */
bool journal_add(struct store *store, const char *command, const char *changes, const void *changeset, int bytes,
                 struct error *error);

/* Table filter of the session extension: the tables of the house and no others. */
int journal_records_table(void *context, const char *table);

#endif
