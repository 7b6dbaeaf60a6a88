#include "ampsum/chance.h"

#include <assert.h>
#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>

#include "ampsum/arena.h"
#include "chance_items.h"
#include "chance_sum.h"

/*
 * One walk over the stretches of the day. The stretches are the leaves of a binary tree; an item stands at the nodes
 * that together cover its stretches, so it is added once a node and not once a stretch.
 */
struct walk {
    const struct items *items;
    size_t limit;
    bool upper;        /* which rounding of the currents */
    size_t *node_head; /* first entry of each node in `entries`, 1-based; 0: none */
    struct entry {
        size_t item;
        size_t next;
    } * entries;
    size_t entry_count;
    size_t entry_capacity;
    struct sum *levels; /* three for each level of the tree: the walk's buffers */
    struct sum motors[5];
    const struct item **motor_path;  /* on the way from the root to this node */
    const struct item **motor_items; /* the same at a leaf, in the leaf's own order */
    size_t motor_count;
    struct sum mean; /* over the time */
    double *over;    /* chance of each stretch */
};

/* What one rounding of the currents gives. */
struct pass {
    double *over; /* chance of each stretch; the caller frees */
    double time;
    double current_95_a;
    double current_99_a;
};

static void items_into_tree(struct walk *walk);
static void walk_node(struct walk *walk, size_t node, size_t first, size_t end, size_t level, const struct sum *sum);
static void walk_init(struct walk *walk, const struct items *items, size_t limit, bool upper);
static void walk_done(struct walk *walk);

enum { STEPS_MOST = 4000000, LIMITS_MOST = 64 }; /* of a quantile; further up it is reported as unbounded */

static double steps_to_current_a(size_t steps, size_t cut, double grid_a)
{
    return steps > cut ? INFINITY : (double)steps * grid_a;
}

/* One walk with the sums cut at `cut`. True where the 99 % current lies below the cut. */
static bool day_pass(const struct items *items, size_t cut, double grid_a, bool upper, struct pass *ret_pass)
{
    struct walk walk;
    walk_init(&walk, items, cut, upper);
    items_into_tree(&walk);
    struct sum start = walk.levels[0];
    chance_sum_start(&start);
    walk_node(&walk, 1, 0, items->stretch_count, 1, &start);
    ret_pass->time = walk.mean.over;
    size_t steps_95 = chance_sum_quantile(&walk.mean, 0.95, cut);
    size_t steps_99 = chance_sum_quantile(&walk.mean, 0.99, cut);
    ret_pass->current_95_a = steps_to_current_a(steps_95, cut, grid_a);
    ret_pass->current_99_a = steps_to_current_a(steps_99, cut, grid_a);
    free(ret_pass->over);
    ret_pass->over = walk.over;
    walk.over = NULL;
    walk_done(&walk);
    return steps_99 <= cut;
}

/* One rounding of the day. The chances come from the walk cut at the limit, the currents from one far enough up. */
static struct pass day_passes(const struct items *items, size_t limit, double grid_a, bool upper)
{
    struct pass pass = {0};
    bool enough = day_pass(items, limit, grid_a, upper, &pass);
    struct pass further = {0};
    size_t cut = limit * 2 + 1;
    while (cut < chance_items_mean_steps(items)) {
        cut *= 2; /* a cut below the mean of the fullest stretch is seldom enough */
    }
    for (; !enough && cut <= STEPS_MOST && cut <= (limit + 1) * LIMITS_MOST; cut *= 2) {
        enough = day_pass(items, cut, grid_a, upper, &further);
        pass.current_95_a = further.current_95_a;
        pass.current_99_a = further.current_99_a;
    }
    free(further.over);
    return pass;
}

static void figures_from_passes(const struct items *items, const double *lower, const double *upper,
                                struct chance_bounds *ret_minutes, struct chance_figures *ret_figures)
{
    double sum_upper = 0;
    for (size_t i = 0; i < items->stretch_count; i++) {
        if (upper[i] > ret_figures->worst.upper) {
            ret_figures->worst.upper = upper[i];
            ret_figures->worst_min = items->edges[i];
        }
        ret_figures->worst.lower = fmax(ret_figures->worst.lower, lower[i]);
        sum_upper += upper[i];
        for (int minute = items->edges[i]; ret_minutes != NULL && minute < items->edges[i + 1]; minute++) {
            ret_minutes[minute] = (struct chance_bounds){lower[i], upper[i]};
        }
    }
    ret_figures->some_time_most = fmin(1, sum_upper);
    ret_figures->stretches = items->stretch_count;
}

void chance_day(const struct chance_load *loads, size_t load_count, const struct chance_span *spans, size_t span_count,
                int minutes, double limit_a, double grid_a, struct chance_bounds *ret_minutes,
                struct chance_figures *ret_figures)
{
    assert(minutes >= 1 && minutes <= 10080 && limit_a > 0 && grid_a > 0);
    struct items items;
    chance_items_init(&items, loads, load_count, spans, span_count, minutes, grid_a);
    size_t limit = (size_t)floor(limit_a * (1 + 1e-9) / grid_a);
    struct pass lower = day_passes(&items, limit, grid_a, false);
    struct pass upper = items.on_grid ? lower : day_passes(&items, limit, grid_a, true);
    *ret_figures = (struct chance_figures){
        .grid_a = grid_a,
        .time = {lower.time, upper.time},
        .current_95_a = {lower.current_95_a, upper.current_95_a},
        .current_99_a = {lower.current_99_a, upper.current_99_a},
    };
    figures_from_passes(&items, lower.over, upper.over, ret_minutes, ret_figures);
    if (!items.on_grid) {
        free(upper.over);
    }
    free(lower.over);
    chance_items_done(&items);
}

static struct sum sum_new(size_t limit)
{
    return (struct sum){.mass = memory_resize(NULL, limit + 1, sizeof(double))};
}

static size_t level_count(size_t stretch_count)
{
    size_t levels = 2;
    for (size_t leaves = 1; leaves < stretch_count; leaves *= 2) {
        levels++;
    }
    return levels;
}

static void walk_init(struct walk *walk, const struct items *items, size_t limit, bool upper)
{
    *walk = (struct walk){.items = items, .limit = limit, .upper = upper};
    walk->node_head = memory_resize(NULL, items->stretch_count * 4, sizeof *walk->node_head);
    for (size_t i = 0; i < items->stretch_count * 4; i++) {
        walk->node_head[i] = 0;
    }
    size_t levels = level_count(items->stretch_count);
    walk->levels = memory_resize(NULL, levels * 2, sizeof *walk->levels);
    for (size_t i = 0; i < levels * 2; i++) {
        walk->levels[i] = sum_new(limit);
    }
    for (size_t i = 0; i < 5; i++) {
        walk->motors[i] = items->motor_items > 0 ? sum_new(limit) : (struct sum){0};
    }
    walk->motor_path = memory_resize(NULL, items->motor_items, sizeof *walk->motor_path);
    walk->motor_items = memory_resize(NULL, items->motor_items, sizeof *walk->motor_items);
    walk->mean = sum_new(limit);
    chance_sum_clear(&walk->mean);
    walk->over = memory_resize(NULL, items->stretch_count, sizeof *walk->over);
}

static void walk_done(struct walk *walk)
{
    for (size_t i = 0; i < level_count(walk->items->stretch_count) * 2; i++) {
        free(walk->levels[i].mass);
    }
    for (size_t i = 0; i < 5; i++) {
        free(walk->motors[i].mass);
    }
    free(walk->levels);
    free(walk->mean.mass);
    free(walk->over);
    free(walk->node_head);
    free(walk->entries);
    free(walk->motor_path);
    free(walk->motor_items);
}

/* Puts the item on the topmost nodes that lie wholly inside it. */
static void item_into_tree(struct walk *walk, size_t item, size_t node, size_t first, size_t end)
{
    const struct item *row = &walk->items->rows[item];
    if (row->end <= first || end <= row->first) {
        return;
    }
    if (row->first <= first && end <= row->end) {
        walk->entries = memory_grow(walk->entries, walk->entry_count, &walk->entry_capacity, sizeof *walk->entries);
        walk->entries[walk->entry_count] = (struct entry){.item = item, .next = walk->node_head[node]};
        walk->node_head[node] = ++walk->entry_count;
        return;
    }
    size_t middle = first + (end - first) / 2;
    item_into_tree(walk, item, node * 2, first, middle);
    item_into_tree(walk, item, node * 2 + 1, middle, end);
}

static void items_into_tree(struct walk *walk)
{
    /* A node's list is last in, first out: the largest goes in first, so that sums stay short for long. */
    for (size_t i = walk->items->row_count; i-- > 0;) {
        item_into_tree(walk, i, 1, 0, walk->items->stretch_count);
    }
}

static size_t outcome_steps(const struct walk *walk, const struct outcome *outcome)
{
    return walk->upper ? outcome->steps_up : outcome->steps_down;
}

static size_t outcome_steps_largest(const struct walk *walk, const struct outcome *outcome)
{
    return walk->upper ? outcome->largest_steps_up : outcome->largest_steps_down;
}

static const struct outcome *item_outcomes(const struct walk *walk, const struct item *item)
{
    return walk->items->outcomes + item->first_outcome;
}

static void add_item(const struct walk *walk, struct sum *to, const struct sum *from, const struct item *item)
{
    const struct outcome *outcomes = item_outcomes(walk, item);
    if (item->outcome_count == 1) {
        chance_sum_add_load(to, from, outcomes[0].probability, outcome_steps(walk, &outcomes[0]), walk->limit);
        return;
    }
    chance_sum_clear(to);
    chance_sum_gather(to, from, item->off, 0, walk->limit);
    for (size_t i = 0; i < item->outcome_count; i++) {
        chance_sum_gather(to, from, outcomes[i].probability, outcome_steps(walk, &outcomes[i]), walk->limit);
    }
}

/* As add_item, with only those outcomes that are no motor or a motor of a rank beyond `rank`. */
static void add_item_beyond(const struct walk *walk, struct sum *to, const struct sum *from, const struct item *item,
                            size_t rank)
{
    const struct outcome *outcomes = item_outcomes(walk, item);
    chance_sum_clear(to);
    chance_sum_gather(to, from, item->off, 0, walk->limit);
    for (size_t i = 0; i < item->outcome_count; i++) {
        if (outcomes[i].rank == NO_RANK || outcomes[i].rank > rank) {
            chance_sum_gather(to, from, outcomes[i].probability, outcome_steps(walk, &outcomes[i]), walk->limit);
        }
    }
}

static void sums_swap(struct sum *a, struct sum *b)
{
    struct sum kept = *a;
    *a = *b;
    *b = kept;
}

static size_t motor_outcomes(const struct walk *walk, const struct item *item, size_t *ret_rank)
{
    const struct outcome *outcomes = item_outcomes(walk, item);
    size_t count = 0;
    for (size_t i = 0; i < item->outcome_count; i++) {
        if (outcomes[i].rank != NO_RANK) {
            *ret_rank = outcomes[i].rank;
            count++;
        }
    }
    return count;
}

/*
 * Items with one motor each, largest first: motors[0] is the sum with no motor on so far, motors[1] the sum with one
 * on. The first motor that is on is the largest and brings the extra; later ones do not.
 */
static const struct sum *add_motors_in_order(struct walk *walk, const struct sum *sum)
{
    struct sum *none = &walk->motors[0];
    struct sum *some = &walk->motors[1];
    chance_sum_copy(none, sum);
    chance_sum_clear(some);
    for (size_t i = 0; i < walk->motor_count; i++) {
        const struct item *item = walk->motor_items[i];
        const struct outcome *outcomes = item_outcomes(walk, item);
        add_item(walk, &walk->motors[2], some, item);
        for (size_t j = 0; j < item->outcome_count; j++) {
            if (outcomes[j].rank != NO_RANK) {
                chance_sum_gather(&walk->motors[2], none, outcomes[j].probability,
                                  outcome_steps_largest(walk, &outcomes[j]), walk->limit);
            }
        }
        sums_swap(some, &walk->motors[2]);
        add_item_beyond(walk, &walk->motors[2], none, item, NO_RANK);
        sums_swap(none, &walk->motors[2]);
    }
    chance_sum_gather(some, none, 1, 0, walk->limit);
    return some;
}

/* The part in which outcome `largest` of item `own` is the largest motor on; own NO_RANK: no motor is on. */
static void gather_largest(struct walk *walk, const struct sum *sum, size_t own, const struct outcome *largest)
{
    struct sum *from = &walk->motors[0];
    struct sum *to = &walk->motors[1];
    size_t rank = largest == NULL ? NO_RANK : largest->rank;
    if (largest == NULL) {
        chance_sum_copy(from, sum);
    } else {
        chance_sum_clear(from);
        chance_sum_gather(from, sum, largest->probability, outcome_steps_largest(walk, largest), walk->limit);
    }
    for (size_t i = 0; i < walk->motor_count; i++) {
        if (i != own) {
            add_item_beyond(walk, to, from, walk->motor_items[i], rank);
            sums_swap(&walk->motors[0], &walk->motors[1]);
        }
    }
    chance_sum_gather(&walk->motors[3], &walk->motors[0], 1, 0, walk->limit);
}

/* Some group holds two motors, so there is no order: each motor in turn is the largest, the larger ones off. */
static const struct sum *add_motors_by_rank(struct walk *walk, const struct sum *sum)
{
    chance_sum_clear(&walk->motors[3]);
    gather_largest(walk, sum, NO_RANK, NULL);
    for (size_t i = 0; i < walk->motor_count; i++) {
        const struct outcome *outcomes = item_outcomes(walk, walk->motor_items[i]);
        for (size_t j = 0; j < walk->motor_items[i]->outcome_count; j++) {
            if (outcomes[j].rank != NO_RANK) {
                gather_largest(walk, sum, i, &outcomes[j]);
            }
        }
    }
    return &walk->motors[3];
}

/* Sorts by rank, largest motor first. False where an item has two motors; motor_items is then in no order. */
static bool motors_in_order(struct walk *walk)
{
    for (size_t i = 0; i < walk->motor_count; i++) {
        walk->motor_items[i] = walk->motor_path[i];
    }
    for (size_t i = 0; i < walk->motor_count; i++) {
        size_t rank = 0;
        if (motor_outcomes(walk, walk->motor_items[i], &rank) > 1) {
            return false;
        }
        const struct item *item = walk->motor_items[i];
        size_t place = i;
        for (size_t before = 0; place > 0; place--) {
            motor_outcomes(walk, walk->motor_items[place - 1], &before);
            if (before <= rank) {
                break;
            }
            walk->motor_items[place] = walk->motor_items[place - 1];
        }
        walk->motor_items[place] = item;
    }
    return true;
}

static void walk_leaf(struct walk *walk, size_t stretch, const struct sum *sum)
{
    if (walk->motor_count > 0) {
        sum = motors_in_order(walk) ? add_motors_in_order(walk, sum) : add_motors_by_rank(walk, sum);
    }
    const int *edges = walk->items->edges;
    double share = (edges[stretch + 1] - edges[stretch]) / (double)walk->items->minutes;
    walk->over[stretch] = sum->over;
    chance_sum_gather(&walk->mean, sum, share, 0, walk->limit);
}

static void walk_node(struct walk *walk, size_t node, size_t first, size_t end, size_t level, const struct sum *sum)
{
    struct sum *spare = &walk->levels[level * 2 - 1];
    struct sum *other = &walk->levels[level * 2];
    size_t motor_count = walk->motor_count;
    for (size_t at = walk->node_head[node]; at != 0; at = walk->entries[at - 1].next) {
        const struct item *item = &walk->items->rows[walk->entries[at - 1].item];
        if (item->motor) {
            walk->motor_path[walk->motor_count++] = item;
            continue;
        }
        add_item(walk, spare, sum, item);
        struct sum *used = spare;
        spare = other;
        other = used;
        sum = used;
    }
    if (end - first == 1) {
        walk_leaf(walk, first, sum);
    } else {
        size_t middle = first + (end - first) / 2;
        walk_node(walk, node * 2, first, middle, level + 1, sum);
        walk_node(walk, node * 2 + 1, middle, end, level + 1, sum);
    }
    walk->motor_count = motor_count;
}
