#include "on_sets.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"

void on_sets_init(struct on_sets *sets, size_t load_count)
{
    *sets = (struct on_sets){.words = load_count / ON_SET_BITS + 1};
}

void on_sets_done(struct on_sets *sets)
{
    free(sets->row);
    *sets = (struct on_sets){0};
}

static bool is_part(const uint64_t *part, const uint64_t *whole, size_t words)
{
    for (size_t i = 0; i < words; i++) {
        if ((part[i] & ~whole[i]) != 0) {
            return false;
        }
    }
    return true;
}

void on_sets_add(struct on_sets *sets, const uint64_t *set)
{
    size_t kept = 0;
    for (size_t i = 0; i < sets->count; i++) {
        uint64_t *row = sets->row + i * sets->words;
        if (is_part(set, row, sets->words)) {
            return; /* nothing can have been dropped before: that would make it part of a part */
        }
        if (!is_part(row, set, sets->words)) {
            memmove(sets->row + kept++ * sets->words, row, sets->words * sizeof *row);
        }
    }
    sets->count = kept;
    if (sets->count == sets->capacity) {
        sets->capacity = sets->capacity == 0 ? 16 : 2 * sets->capacity;
        sets->row = memory_resize(sets->row, sets->capacity, sets->words * sizeof *sets->row);
    }
    memcpy(sets->row + sets->count++ * sets->words, set, sets->words * sizeof *set);
}
