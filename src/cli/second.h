/* Commands that need heavy libraries live in a second program, so that the others do not pay for loading them. */
#ifndef AMPSUM_CLI_SECOND_H
#define AMPSUM_CLI_SECOND_H

/*
 * Replaces this program by `program` (found beside this one, else in the library folder it was installed with),
 * arguments unchanged. Returns only where that failed: prints why, gives 3.
 */
int run_second_program(const char *program, const char *const *argv);

/* Runs `program` beside this one and waits for it. Its exit status; 3 where it could not run. */
int call_second_program(const char *program, const char *const *argv);

#endif
