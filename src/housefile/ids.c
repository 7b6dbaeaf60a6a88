#include "ids.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

void ids_init(struct ids *ids, size_t count)
{
    assert(count < UINT32_MAX);
    size_t capacity = 16;
    while (capacity < 2 * count) {
        capacity *= 2;
    }
    ids->mask = capacity - 1;
    ids->slots = memory_new(capacity * sizeof ids->slots[0]);
    memset(ids->slots, 0, capacity * sizeof ids->slots[0]);
    ids->id = memory_resize(NULL, count, sizeof ids->id[0]);
}

void ids_done(struct ids *ids)
{
    free(ids->slots);
    free(ids->id);
}

static size_t hash_id(const char *id)
{
    uint64_t hash = UINT64_C(14695981039346656037); /* FNV-1a, then mixed so that the low bits hold all of it */
    for (; *id != '\0'; id++) {
        hash = (hash ^ (unsigned char)*id) * UINT64_C(1099511628211);
    }
    hash ^= hash >> 32;
    return (size_t)(hash * UINT64_C(0x9E3779B97F4A7C15) >> 20);
}

/* The slot that holds the ID, or the free one where it belongs. */
static uint32_t *slot_of(const struct ids *ids, const char *id)
{
    size_t at = hash_id(id) & ids->mask;
    while (ids->slots[at] != 0 && strcmp(ids->id[ids->slots[at] - 1], id) != 0) {
        at = (at + 1) & ids->mask;
    }
    return &ids->slots[at];
}

size_t ids_add(struct ids *ids, const char *id, size_t row)
{
    ids->id[row] = id;
    uint32_t *slot = slot_of(ids, id);
    if (*slot != 0) {
        return *slot - 1;
    }
    *slot = (uint32_t)row + 1;
    return NO_INDEX;
}

size_t ids_find(const struct ids *ids, const char *id)
{
    uint32_t slot = *slot_of(ids, id);
    return slot == 0 ? NO_INDEX : slot - 1;
}
