#include "ampsum/arena.h"

#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

struct block {
    struct block *next;
    size_t used;
    size_t size;
    max_align_t bytes[];
};

struct arena {
    struct block *block;
    size_t next_size; /* of the next block: doubles up to a few megabytes, so that a small house stays small */
};

enum { BLOCK_BYTES_FIRST = 16384, BLOCK_BYTES_MOST = 8 << 20, HUGE_PAGE_BYTES = 2 << 20 };

_Noreturn void memory_fail(void)
{
    fputs("ampsum: out of memory\n", stderr);
    exit(3);
}

void *memory_new(size_t bytes)
{
    void *block = malloc(bytes > 0 ? bytes : 1);
    if (block == NULL) {
        memory_fail();
    }
    return block;
}

void *memory_resize(void *block, size_t count, size_t size)
{
    if (size > 0 && count > SIZE_MAX / size) {
        memory_fail();
    }
    size_t bytes = count * size;
    void *moved = realloc(block, bytes > 0 ? bytes : 1);
    if (moved == NULL) {
        memory_fail();
    }
    return moved;
}

void *memory_grow(void *array, size_t count, size_t *capacity, size_t size)
{
    if (count < *capacity) {
        return array;
    }
    size_t wanted = *capacity < 8 ? 8 : *capacity * 2;
    if (wanted <= *capacity) {
        memory_fail();
    }
    array = memory_resize(array, wanted, size);
    *capacity = wanted;
    return array;
}

struct arena *arena_new(void)
{
    struct arena *arena = memory_new(sizeof *arena);
    arena->block = NULL;
    arena->next_size = BLOCK_BYTES_FIRST;
    return arena;
}

void arena_free(struct arena *arena)
{
    if (arena == NULL) {
        return;
    }
    struct block *block = arena->block;
    while (block != NULL) {
        struct block *next = block->next;
        free(block);
        block = next;
    }
    free(arena);
}

/* Large blocks ask for huge pages: a million rows would else cost more in page faults than in reading. */
static struct block *block_new(size_t bytes)
{
    if (bytes < 2 * HUGE_PAGE_BYTES) {
        return memory_new(bytes);
    }
    void *block = NULL;
    if (posix_memalign(&block, HUGE_PAGE_BYTES, bytes) != 0) {
        memory_fail();
    }
    madvise(block, bytes, MADV_HUGEPAGE); /* a wish: nothing to be done where it is not granted */
    return block;
}

static void arena_add_block(struct arena *arena, size_t bytes)
{
    size_t size = bytes > arena->next_size ? bytes : arena->next_size;
    if (size > SIZE_MAX - sizeof(struct block)) {
        memory_fail();
    }
    struct block *block = block_new(sizeof *block + size);
    block->next = arena->block;
    block->used = 0;
    block->size = size;
    arena->block = block;
    if (arena->next_size < BLOCK_BYTES_MOST) {
        arena->next_size *= 2;
    }
}

void *arena_take(struct arena *arena, size_t bytes)
{
    const size_t align = sizeof(max_align_t);
    if (bytes > SIZE_MAX - align) {
        memory_fail();
    }
    size_t rounded = bytes == 0 ? align : (bytes + align - 1) / align * align;
    if (arena->block == NULL || arena->block->size - arena->block->used < rounded) {
        arena_add_block(arena, rounded);
    }
    char *place = (char *)arena->block->bytes + arena->block->used;
    arena->block->used += rounded;
    memset(place, 0, bytes);
    return place;
}

void *arena_array(struct arena *arena, size_t count, size_t size)
{
    if (size > 0 && count > SIZE_MAX / size) {
        memory_fail();
    }
    return arena_take(arena, count * size);
}

char *arena_copy_length(struct arena *arena, const char *bytes, size_t length)
{
    if (length == SIZE_MAX) {
        memory_fail();
    }
    char *copy = arena_take(arena, length + 1);
    memcpy(copy, bytes, length);
    return copy;
}

char *arena_copy(struct arena *arena, const char *string)
{
    return string == NULL ? NULL : arena_copy_length(arena, string, strlen(string));
}
