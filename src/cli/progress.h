/* A sign of life for long work: dots on standard error, on a terminal only, from the second second on. */
#ifndef AMPSUM_CLI_PROGRESS_H
#define AMPSUM_CLI_PROGRESS_H

/* Starts watching; does nothing where standard error is no terminal. */
void progress_start(void);

/* Stops, and ends the line of dots where there is one. */
void progress_stop(void);

#endif
