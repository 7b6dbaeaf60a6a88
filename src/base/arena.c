#include "ampsum/arena.h"

#include <stdbool.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

struct block {
    struct block *next;
    size_t used;
    size_t size;
    bool mapped; /* from the system, not malloc: all its bytes are zero before they are taken */
    max_align_t bytes[];
};

struct arena {
    struct block *block;
    size_t next_size; /* of the next block: doubles at first, so that a small house stays small */
};

enum { BLOCK_BYTES_FIRST = 16384, BLOCK_BYTES_MAPPED = 512 << 10, HUGE_PAGE_BYTES = 2 << 20 };

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
        if (block->mapped) {
            munmap(block, sizeof *block + block->size);
        } else {
            free(block);
        }
        block = next;
    }
    free(arena);
}

/*
 * Whole huge pages, at a huge page's edge, and a wish for them: a million rows would else cost more in page faults than
 * in reading. What the system gives is zero, and costs nothing until it is used.
 */
static struct block *block_mapped(size_t *bytes)
{
    if (*bytes > SIZE_MAX / 2) {
        memory_fail();
    }
    *bytes = (*bytes + HUGE_PAGE_BYTES - 1) / HUGE_PAGE_BYTES * HUGE_PAGE_BYTES;
    char *at = mmap(NULL, *bytes + HUGE_PAGE_BYTES, PROT_READ | PROT_WRITE, MAP_PRIVATE | MAP_ANONYMOUS, -1, 0);
    if (at == MAP_FAILED) {
        memory_fail();
    }
    size_t before = (HUGE_PAGE_BYTES - (uintptr_t)at % HUGE_PAGE_BYTES) % HUGE_PAGE_BYTES;
    if (before > 0) {
        munmap(at, before);
    }
    munmap(at + before + *bytes, HUGE_PAGE_BYTES - before); /* never nothing: before is less than a huge page */
    struct block *block = (struct block *)(void *)(at + before);
    madvise(block, *bytes, MADV_HUGEPAGE); /* nothing to be done where it is not granted */
    block->mapped = true;
    return block;
}

static void arena_add_block(struct arena *arena, size_t bytes)
{
    size_t size = bytes > arena->next_size ? bytes : arena->next_size;
    if (size > SIZE_MAX - sizeof(struct block)) {
        memory_fail();
    }
    size_t whole = sizeof(struct block) + size;
    struct block *block = NULL;
    if (whole > BLOCK_BYTES_MAPPED) {
        block = block_mapped(&whole);
    } else {
        block = memory_new(whole);
        block->mapped = false;
        arena->next_size *= 2;
    }
    block->next = arena->block;
    block->used = 0;
    block->size = whole - sizeof *block;
    arena->block = block;
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
    if (!arena->block->mapped) {
        memset(place, 0, bytes);
    }
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
