/*
 * Libraries that have no way to say that memory ran out stop the program in their own way: GMP aborts, popt ends with
 * status 1 or leaves an operand out, smartcols goes on with NULL. So a request that can't be met ends the program here,
 * as one of our own does (memory_fail). SQLite can say it, and a change that it gave up is taken back: it keeps its
 * NULL.
 *
 * Part of the programs alone, never of libampsum: another program's memory is its own matter. With a sanitizer, or
 * another C library than glibc, this file is left out.
 */
#include <errno.h>
#include <malloc.h>
#include <stdlib.h>

#include <sqlite3.h>

#include "ampsum/arena.h"
#include "last_memory.h"

extern void *__libc_malloc(size_t bytes);
extern void *__libc_calloc(size_t count, size_t size);
extern void *__libc_realloc(void *block, size_t bytes);

/* Seen by the shared libraries, which call it in place of the C library's. */
#define SHARED __attribute__((visibility("default")))

SHARED void *malloc(size_t bytes)
{
    void *block = __libc_malloc(bytes);
    if (block == NULL) {
        memory_fail();
    }
    return block;
}

SHARED void *calloc(size_t count, size_t size)
{
    void *block = __libc_calloc(count, size);
    if (block == NULL) {
        memory_fail();
    }
    return block;
}

SHARED void *realloc(void *block, size_t bytes)
{
    void *moved = __libc_realloc(block, bytes);
    if (moved == NULL && bytes > 0) {
        memory_fail();
    }
    return moved;
}

static void *database_new(int bytes)
{
    return __libc_malloc((size_t)bytes);
}

static void *database_resize(void *block, int bytes)
{
    return __libc_realloc(block, (size_t)bytes);
}

static int database_size(void *block)
{
    return (int)malloc_usable_size(block);
}

static int database_round(int bytes)
{
    return (bytes + 7) & ~7;
}

static int database_start(void *context)
{
    (void)context;
    return SQLITE_OK;
}

static void database_stop(void *context)
{
    (void)context;
}

void last_memory_start(void)
{
    static const sqlite3_mem_methods methods = {database_new,   free,           database_resize, database_size,
                                                database_round, database_start, database_stop,   NULL};
    sqlite3_config(SQLITE_CONFIG_MALLOC, &methods);
    sqlite3_config(SQLITE_CONFIG_MEMSTATUS, 0); /* nobody asks how much is taken: no lock and no count at each piece */
}
