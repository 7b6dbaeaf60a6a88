/*
 * A sign of life for long work: one line on standard error, written over each second from the first second on, and
 * wiped at the end. On a terminal only, never in a pipe. `ampsum import: storing 45 %, 3 s`
 */
#ifndef AMPSUM_CLI_PROGRESS_H
#define AMPSUM_CLI_PROGRESS_H

#include <stdint.h>

/* Starts watching; does nothing where standard error is no terminal. */
void progress_start(const char *command);

/* How far the work is, where that is known: `what` is a string that stays ("storing"). */
void progress_share(const char *what, uint64_t done, uint64_t all);

/* Stops, and wipes the line where there is one. */
void progress_stop(void);

#endif
