/*
 * The house database: one SQLite file, a document with application_id and user_version.
 *
 * Open refuses, each with its own sentence (ERROR_STORE): not a file, not a database, not ours, newer than us, older
 * than us (read-only), locked, read-only where writing was asked, damaged. Nothing in the file is trusted.
 *
 * Checked: tests/unit/test_store.c, test_store_change.c, test_store_meter.c; tests/fuzz/fuzz_store.c; tests/limits/run.
 */
#ifndef AMPSUM_STORE_H
#define AMPSUM_STORE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "ampsum/error.h"
#include "ampsum/model.h"
#include "ampsum/text.h"

struct store;

enum store_access { STORE_READ, STORE_WRITE };

/* Opens an existing house database. An older one is upgraded step by step when opened for writing. */
bool store_open(const char *path, enum store_access access, struct store **ret_store, struct error *error);

/* Closes; NULL allowed. An open transaction is rolled back. */
void store_close(struct store *store);

/* Reads the whole house; the caller frees it with house_free. Linear; one scan a table. */
bool store_read_house(struct store *store, struct house **ret_house, struct error *error);

/*
 * Writes a new database that holds `house` at `path`: built beside it, synced, then renamed over it, so that a kill at
 * any moment leaves the old file or the new one. An existing file is refused unless `replace`.
 */
bool store_create(const char *path, const struct house *house, bool replace, struct error *error);

/* True where the file begins with SQLite's header; false also where it can't be read. Never opens SQLite on it. */
bool store_is_database(const char *path);

/*
 * Takes the house from `before` (as read from this store in this transaction) to `after`: only rows that differ are
 * written, and the change is journalled under `command` in the same transaction (SQLite changeset), so that it can be
 * undone. Rows are matched by ID.
 */
bool store_change(struct store *store, const struct house *before, const struct house *after, const char *command,
                  struct error *error);

/* One transaction around read and change: begin immediate (waits up to 5 s for another program), commit, roll back. */
bool store_begin(struct store *store, struct error *error);
bool store_commit(struct store *store, struct error *error);
void store_rollback(struct store *store);

/* Undoes the last change not yet undone, or does the last undone one again. *ret_what: what it was, "" when none. */
bool store_undo(struct store *store, struct text *ret_what, struct error *error);
bool store_redo(struct store *store, struct text *ret_what, struct error *error);

/* A number drawn when the file was made: two files of one house differ in it. */
bool store_origin(struct store *store, uint64_t *ret_origin, struct error *error);

/* One line of the journal. */
struct journal_entry {
    long number;
    const char *time;    /* ISO 8601, UTC */
    const char *command; /* as the person wrote it */
    const char *changes; /* what changed, one `kind id: key old -> new` a line */
    bool undone;
};

/* The journal, newest last, in `arena`. */
bool store_journal(struct store *store, struct arena *arena, struct journal_entry **ret_entries, size_t *ret_count,
                   struct error *error);

/* What undoing and doing again would turn; NULL where there is nothing. */
struct journal_ways {
    const struct journal_entry *undo;
    const struct journal_entry *redo;
};

struct journal_ways journal_ways(const struct journal_entry *entries, size_t count);

/* The state of a house, for a form that is sent later: how many changes stand, and hashes by which it is told. */
bool store_seen(struct store *store, struct arena *arena, const char **ret_seen, struct error *error);

/* What was done to a house since a state of it was seen. */
struct journal_since {
    bool known;                       /* false: too much was changed to tell, and all that stands is in `made` */
    const struct journal_entry *made; /* oldest first */
    size_t made_count;
    const struct journal_entry *gone; /* seen and taken back since; NULL where the journal names them no more */
    size_t gone_count;
};

/* `seen` as store_seen gave it; strings in `arena`. */
bool store_since(struct store *store, const char *seen, struct arena *arena, struct journal_since *ret_since,
                 struct error *error);

struct meter_reading; /* ampsum/meter.h */

/* What an import of meter readings did. */
struct meter_stored {
    size_t added;
    size_t changed; /* held already with another energy, length or offset */
    size_t same;    /* held already, left alone: a repeated import changes nothing */
};

/*
 * Stores meter readings, each found by its start, in one transaction: all or none. Readings are no part of the house:
 * they stand in no journal entry and in no exported house file. `progress` (NULL: none) is called now and then.
 */
bool store_meter_write(struct store *store, const struct meter_reading *readings, size_t count,
                       void (*progress)(void *context, uint64_t done, uint64_t all), void *context,
                       struct meter_stored *ret_stored, struct error *error);

/* All meter readings by start; the caller frees with free(). */
bool store_meter_read(struct store *store, struct meter_reading **ret_readings, size_t *ret_count, struct error *error);

#endif
