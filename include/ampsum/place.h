/*
 * Opening a file to read it or to write to it, and putting a finished one in its place.
 *
 * Checked: tests/limits/run (a file system without hard links), tests/unit/test_store.c.
 */
#ifndef AMPSUM_PLACE_H
#define AMPSUM_PLACE_H

#include <stdbool.h>
#include <stdio.h>

/*
 * Renames `beside` to `path` in one step, so that `path` is the old file or the new one at every moment. Without
 * `replace` a file that has appeared there meanwhile stays (errno EEXIST). False with errno set, and `beside` is still
 * there. Where a file system knows neither a rename that replaces nothing nor a second name for a file (FAT, some
 * network shares), the name is first taken by an empty file.
 */
bool file_put_in_place(const char *beside, const char *path, bool replace);

/*
 * Opens a file to read it. -1 with what is wrong in *ret_why (a constant, or the system's own words) and, where the
 * system refused, errno; 0 there where the program does: a pipe with a name of its own would wait for a writer, maybe
 * for ever. Pipes that a shell hands over (/dev/fd, /dev/stdin, /proc/self/fd) have a writer and are read.
 */
int file_open_to_read(const char *path, const char **ret_why);

/* The same as a stream; NULL on failure. */
FILE *file_stream_to_read(const char *path, const char **ret_why);

/*
 * Opens what is there to write to it: a terminal, a device, a pipe. -1 with errno; ENXIO for a pipe that nobody reads,
 * for which it does not wait.
 */
int file_open_to_write(const char *path);

#endif
