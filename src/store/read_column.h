/* Reading a house from a database: what the reader keeps, and how one column becomes a field. */
#ifndef AMPSUM_STORE_READ_COLUMN_H
#define AMPSUM_STORE_READ_COLUMN_H

#include "internal.h"

enum { KEPT = 256, TEXT_BYTES_MOST = 4096 /* as the longest line of a house file */ };

/*
 * The rows of one kind that were read: rising n, by index. Where nothing was ever removed n counts up by one, and no
 * list of them is kept.
 */
struct numbered {
    int64_t first;
    int64_t last;
    int64_t *n; /* NULL as long as there is no gap; then `room` entries */
    size_t count;
    size_t room;
};

/*
 * A value that takes a while to read, and its text: houses have few kinds of wire and few ways to spend a day. Equal
 * texts share one list, as nobody writes to a list of a house.
 */
struct kept {
    const struct key *key; /* NULL: nothing is kept */
    struct text text;
    union {
        struct wire wire;
        struct protective protective;
        struct window_list windows;
        struct position_list position;
        struct block_list blocks;
        unsigned bits;
        const char *decimal;
    } value;
};

struct reader {
    struct store *store;
    struct house *house;
    struct numbered rows[KIND_COUNT];
    struct kept kept[KEPT];
    char *pool; /* the rest of a piece of the arena, for strings */
    size_t pool_left;
    struct text fault; /* what was wrong in the column just read */
};

/* The index of the row with that n; NO_INDEX where none has it. */
size_t index_of(const struct numbered *rows, int64_t n);

/* A text of the file as a string in the arena; NULL where it is empty, broken or holds what can't be printed. */
char *take_string(struct reader *reader, sqlite3_value *value);

/*
 * Takes a column that is not NULL, of that SQLite type, into its field of the row. False where it is of the wrong type,
 * out of range, or refers to no row; `fault` may say more. A reference to a row of the section's own kind keeps that
 * row's n, since the kind is not read to its end yet.
 */
bool take_column(struct reader *reader, const struct section *section, const struct key *key, int type,
                 sqlite3_value *value, char *row);

#endif
