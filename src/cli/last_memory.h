/* What a program does where memory runs out inside a library. */
#ifndef AMPSUM_CLI_LAST_MEMORY_H
#define AMPSUM_CLI_LAST_MEMORY_H

/* First thing in main of each program: SQLite alone is told where memory runs out. */
#ifdef HAVE_LAST_MEMORY
void last_memory_start(void);
#else
static inline void last_memory_start(void)
{
}
#endif

#endif
