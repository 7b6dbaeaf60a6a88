/* Files for the tests of the store: a folder of their own, and files that were spoiled in one way or another. */
#ifndef AMPSUM_TEST_STORE_FILES_H
#define AMPSUM_TEST_STORE_FILES_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/store.h"

/* Makes a new folder and the path of a file in it; files_done removes both and all that is in it. */
void files_init(void);
void files_done(void);
const char *files_folder(void);
const char *files_path(void);

/* Number of names in the folder. */
size_t files_count(void);

/* Runs SQL on a file with SQLite itself, all of its guards off. */
void files_sql(const char *path, const char *sql);

/* The whole number that a query gives. */
long files_number(const char *path, const char *sql);

/* Writes `length` bytes at `offset` of the file; the whole file where offset is negative. */
void files_write(const char *path, long offset, const void *bytes, size_t length);

/* store_open + store_read_house + store_close; NULL on failure. */
struct house *files_read(const char *path, struct error *error);

#endif
