/* Distribution of a sum on the grid, cut at a limit: the arithmetic under chance.c. */
#ifndef AMPSUM_ENGINE_CHANCE_SUM_H
#define AMPSUM_ENGINE_CHANCE_SUM_H

#include <stddef.h>

/* Chance of 0, 1, .. limit steps, and of all above together. mass[support ..] is not set. */
struct sum {
    double *mass; /* room for limit + 1 entries */
    size_t support;
    double over;
};

/* Certainty of nothing. */
void chance_sum_start(struct sum *sum);

/* No mass at all, to gather into. */
void chance_sum_clear(struct sum *sum);

void chance_sum_copy(struct sum *sum, const struct sum *from);

/* sum += weight * (from, `steps` further up), cut at `limit`. The two may not be the same. */
void chance_sum_gather(struct sum *sum, const struct sum *from, double weight, size_t steps, size_t limit);

/* sum = from with one load more that is on with `probability` and adds `steps`. The two may not be the same. */
void chance_sum_add_load(struct sum *sum, const struct sum *from, double probability, size_t steps, size_t limit);

/* The number of steps not exceeded with a chance of at least `share`; limit + 1 where it lies above the limit. */
size_t chance_sum_quantile(const struct sum *sum, double share, size_t limit);

#endif
