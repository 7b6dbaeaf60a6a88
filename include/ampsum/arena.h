/*
 * One arena holds everything that lives as long as a house does: rows, names, index lists. It is freed once.
 */
#ifndef AMPSUM_ARENA_H
#define AMPSUM_ARENA_H

#include <stddef.h>

struct arena;

/* A new, empty arena. Never NULL: out of memory ends the program with a message (memory_fail). Free with arena_free. */
struct arena *arena_new(void);

/* Frees the arena and all that was taken from it. NULL is allowed. */
void arena_free(struct arena *arena);

/* `bytes` zeroed bytes, aligned for any type, valid until arena_free. bytes 0 gives a valid pointer. */
void *arena_take(struct arena *arena, size_t bytes);

/* `count` zeroed entries of `size` bytes each; the product is checked for overflow. */
void *arena_array(struct arena *arena, size_t count, size_t size);

/* A copy of the string; NULL gives NULL. */
char *arena_copy(struct arena *arena, const char *string);

/* A copy of the first `length` bytes, ended with a NUL byte. */
char *arena_copy_length(struct arena *arena, const char *bytes, size_t length);

/* Ends the program with exit status 3 and one line on standard error: memory is exhausted. */
_Noreturn void memory_fail(void);

/* malloc, realloc that never return NULL (memory_fail). The caller frees with free(). */
void *memory_new(size_t bytes);
void *memory_resize(void *block, size_t count, size_t size);

/*
 * Room for one more entry in a growing array of `size`-byte entries: returns the array, moved if need be, and keeps
 * *capacity. Amortised constant time; the caller frees the array with free().
 */
void *memory_grow(void *array, size_t count, size_t *capacity, size_t size);

#endif
