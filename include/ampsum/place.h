/*
 * Putting a finished file in its place.
 *
 * Checked: tests/limits/run (a file system without hard links), tests/unit/test_store.c.
 */
#ifndef AMPSUM_PLACE_H
#define AMPSUM_PLACE_H

#include <stdbool.h>

/*
 * Renames `beside` to `path` in one step, so that `path` is the old file or the new one at every moment. Without
 * `replace` a file that has appeared there meanwhile stays (errno EEXIST). False with errno set, and `beside` is still
 * there. Where a file system knows neither a rename that replaces nothing nor a second name for a file (FAT, some
 * network shares), the name is first taken by an empty file.
 */
bool file_put_in_place(const char *beside, const char *path, bool replace);

#endif
