/* Different sets of loads that are on together, as rows of bits. Inside the engine only. */
#ifndef AMPSUM_ENGINE_ON_SETS_H
#define AMPSUM_ENGINE_ON_SETS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

enum { ON_SET_BITS = 64 };

struct on_sets {
    uint64_t *row; /* count rows of `words`; freed by on_sets_done */
    size_t words;
    size_t count;
    size_t capacity; /* rows */
};

void on_sets_init(struct on_sets *sets, size_t load_count);
void on_sets_done(struct on_sets *sets);

/* Adds a set unless it is part of another (more loads never plan for less); drops those that are part of it. */
void on_sets_add(struct on_sets *sets, const uint64_t *set);

static inline bool on_sets_has(const struct on_sets *sets, size_t row, size_t load)
{
    return (sets->row[row * sets->words + load / ON_SET_BITS] >> (load % ON_SET_BITS) & 1U) != 0;
}

#endif
