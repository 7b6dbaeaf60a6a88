/* Tells whether a house's file is still the one that was read, so that it need not be read for every request. */
#ifndef AMPSUM_SERVE_STAMP_H
#define AMPSUM_SERVE_STAMP_H

#include <stdbool.h>
#include <stdint.h>
#include <time.h>

struct stamp {
    bool holds; /* false: nothing may be kept by it */
    uint64_t device;
    uint64_t inode;
    int64_t size;
    struct timespec changed;
    uint32_t counter; /* SQLite's own, which every transaction moves; 0 for a house file */
};

/*
 * The stamp of a file now; take it before reading. It does not hold where the file can't be looked at, is a database in
 * write-ahead mode (whose changes stand in another file), or is no database and was changed within the last two seconds
 * (a second change might leave the same time).
 */
struct stamp stamp_take(const char *path);

/* True where both hold and are of one state of one file. */
bool stamp_same(const struct stamp *a, const struct stamp *b);

#endif
