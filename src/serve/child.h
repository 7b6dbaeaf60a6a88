/* Another program that is started, with nothing of ours open in it. */
#ifndef AMPSUM_SERVE_CHILD_H
#define AMPSUM_SERVE_CHILD_H

#include <stdbool.h>
#include <sys/types.h>

/*
 * Starts `words` (NULL-ended, the program first, sought in PATH where it has no slash) in a group of its own, so that
 * what it starts in turn ends with it and Ctrl-C is not for it. It reads nothing; what it says goes nowhere, its errors
 * to `err` (-1: nowhere). False where it can't be started.
 */
bool child_start(const char *const *words, int err, pid_t *ret_pid);

#endif
