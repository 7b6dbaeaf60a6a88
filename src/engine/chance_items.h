/* Loads and spans turned into items with constant chances over runs of stretches, on the grid. */
#ifndef AMPSUM_ENGINE_CHANCE_ITEMS_H
#define AMPSUM_ENGINE_CHANCE_ITEMS_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/chance.h"

#define NO_RANK ((size_t)-1)

/* One thing that an item may be: a load that is on. */
struct outcome {
    double probability;
    size_t steps_down;
    size_t steps_up;
    size_t largest_steps_down; /* with the extra of the largest motor */
    size_t largest_steps_up;
    size_t rank; /* among the motors, 0 the largest; NO_RANK: no motor, or the extra is nil for all */
};

/* A load, or a group of which at most one is on, over the stretches first .. end - 1. */
struct item {
    size_t first;
    size_t end;
    size_t first_outcome;
    size_t outcome_count;
    double off; /* chance that none of its outcomes is */
    bool motor; /* one of its outcomes has a rank */
};

struct items {
    int *edges; /* stretch_count + 1 minutes */
    size_t stretch_count;
    int minutes;
    struct item *rows; /* by steps of their largest outcome, ascending */
    size_t row_count;
    size_t row_capacity;
    struct outcome *outcomes;
    size_t outcome_count;
    size_t outcome_capacity;
    size_t motor_items;
    bool on_grid; /* both roundings agree everywhere */
};

void chance_items_init(struct items *items, const struct chance_load *loads, size_t load_count,
                       const struct chance_span *spans, size_t span_count, int minutes, double grid_a);
/* Mean of the summed current in the stretch where it is largest, in steps, without the largest motor's extra. */
size_t chance_items_mean_steps(const struct items *items);

void chance_items_done(struct items *items);

#endif
