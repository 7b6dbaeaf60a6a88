#include <assert.h>
#include <float.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/settle.h"

enum { LEGS_MOST = 3, NODES_MOST = 3000000 };

struct legs {
    const double *branch_a;
    const size_t *order; /* branches, the largest first */
    size_t branch_count;
    size_t leg_count;
    double leg_a[LEGS_MOST];
    double total_a;    /* of what is carried and all branches */
    double smallest_a; /* the branch that comes last */
    double aim_a;      /* at or below it nothing better can be hoped for */
    double best_a;
    size_t *leg;      /* of order[i], in work */
    size_t *best_leg; /* of order[i] */
    uint64_t nodes;
    uint64_t node_limit;
};

static double fullest_a(const struct legs *legs)
{
    double most = 0;
    for (size_t i = 0; i < legs->leg_count; i++) {
        most = fmax(most, legs->leg_a[i]);
    }
    return most;
}

/* Legs by what they carry, the emptiest first. */
static void sort_legs(const struct legs *legs, size_t *by_load)
{
    for (size_t i = 0; i < legs->leg_count; i++) {
        size_t j = i;
        for (; j > 0 && legs->leg_a[by_load[j - 1]] > legs->leg_a[i]; j--) {
            by_load[j] = by_load[j - 1];
        }
        by_load[j] = i;
    }
}

/*
 * What a leg has left below the best is lost where not even the smallest branch fits. True where the legs lose more
 * than they have together beyond what is to be carried: nothing better comes of it.
 */
static bool too_much_lost(const struct legs *legs)
{
    double lost_a = 0;
    for (size_t i = 0; i < legs->leg_count; i++) {
        double room_a = legs->best_a - legs->leg_a[i];
        lost_a += room_a < legs->smallest_a ? room_a : 0;
    }
    return lost_a > (double)legs->leg_count * legs->best_a - legs->total_a + 1e-9 * legs->total_a;
}

/* True when the search is over: the aim is reached, or the nodes are spent. */
static bool assign_from(struct legs *legs, size_t i)
{
    if (++legs->nodes > legs->node_limit) {
        return true;
    }
    if (i == legs->branch_count) {
        legs->best_a = fullest_a(legs); /* it was below the best, or the search would not be here */
        memcpy(legs->best_leg, legs->leg, legs->branch_count * sizeof *legs->leg);
        return legs->best_a <= legs->aim_a;
    }
    if (too_much_lost(legs)) {
        return false;
    }
    size_t by_load[LEGS_MOST] = {0};
    sort_legs(legs, by_load);
    double own_a = legs->branch_a[legs->order[i]];
    for (size_t k = 0; k < legs->leg_count; k++) {
        size_t leg = by_load[k];
        double before_a = legs->leg_a[leg];
        if (before_a + own_a >= legs->best_a * (1 - 1e-12)) {
            return false; /* fuller legs the more so */
        }
        if (k > 0 && before_a == legs->leg_a[by_load[k - 1]]) {
            continue; /* the same again with two legs swapped */
        }
        legs->leg_a[leg] = before_a + own_a;
        legs->leg[i] = leg;
        bool over = assign_from(legs, i + 1);
        legs->leg_a[leg] = before_a;
        if (over) {
            return true;
        }
    }
    return false;
}

struct sized_branch {
    double a;
    size_t index;
};

static int larger_first(const void *left, const void *right)
{
    const struct sized_branch *a = left;
    const struct sized_branch *b = right;
    if (a->a != b->a) {
        return a->a > b->a ? -1 : 1;
    }
    return a->index < b->index ? -1 : 1;
}

static size_t *sort_branches(const double *branch_a, size_t count)
{
    struct sized_branch *sized = memory_resize(NULL, count + 1, sizeof *sized);
    size_t *order = memory_resize(NULL, count + 1, sizeof *order);
    for (size_t i = 0; i < count; i++) {
        assert(isfinite(branch_a[i]) && branch_a[i] >= 0);
        sized[i] = (struct sized_branch){branch_a[i], i};
    }
    qsort(sized, count, sizeof *sized, larger_first);
    for (size_t i = 0; i < count; i++) {
        order[i] = sized[i].index;
    }
    free(sized);
    return order;
}

static double find_total_a(const struct legs *legs)
{
    double total_a = 0;
    for (size_t i = 0; i < legs->leg_count; i++) {
        total_a += legs->leg_a[i];
    }
    for (size_t i = 0; i < legs->branch_count; i++) {
        total_a += legs->branch_a[i];
    }
    return total_a;
}

/* No assignment gets below the mean, the largest branch on the emptiest leg, or what a leg carries already. */
static double find_ideal_a(const struct legs *legs)
{
    double emptiest_a = legs->leg_a[0];
    for (size_t i = 0; i < legs->leg_count; i++) {
        emptiest_a = fmin(emptiest_a, legs->leg_a[i]);
    }
    double ideal_a = fmax(legs->total_a / (double)legs->leg_count, fullest_a(legs));
    return legs->branch_count > 0 ? fmax(ideal_a, emptiest_a + legs->branch_a[legs->order[0]]) : ideal_a;
}

void legs_assign(const double *branch_a, size_t branch_count, const double *carried_a, size_t leg_count,
                 double resolution_a, uint64_t node_limit, size_t *ret_leg, struct legs_plan *ret_plan)
{
    assert(leg_count >= 1 && leg_count <= LEGS_MOST && resolution_a >= 0);
    size_t *order = sort_branches(branch_a, branch_count);
    struct legs legs = {.branch_a = branch_a, .order = order, .branch_count = branch_count, .leg_count = leg_count};
    for (size_t i = 0; i < leg_count && carried_a != NULL; i++) {
        legs.leg_a[i] = carried_a[i];
    }
    legs.total_a = find_total_a(&legs);
    legs.smallest_a = branch_count > 0 ? branch_a[order[branch_count - 1]] : 0;
    double ideal_a = find_ideal_a(&legs);
    legs.aim_a = ideal_a * (1 + 1e-9) + resolution_a;
    legs.leg = memory_resize(NULL, branch_count + 1, sizeof *legs.leg);
    legs.best_leg = memory_resize(NULL, branch_count + 1, sizeof *legs.best_leg);
    legs.node_limit = node_limit > 0 ? node_limit : NODES_MOST;
    /* First for the aim alone, where every fuller leg is cut off at once; then for the best that there is. */
    legs.best_a = legs.aim_a * (1 + 1e-11) + DBL_MIN;
    bool reached = assign_from(&legs, 0) && legs.nodes <= legs.node_limit;
    if (!reached) {
        legs.best_a = INFINITY;
        legs.node_limit += legs.nodes;
        assign_from(&legs, 0);
    }
    for (size_t i = 0; i < branch_count; i++) {
        ret_leg[order[i]] = legs.best_leg[i];
    }
    *ret_plan = (struct legs_plan){legs.best_a, ideal_a, legs.nodes <= legs.node_limit || legs.best_a <= legs.aim_a,
                                   legs.nodes};
    free(order);
    free(legs.leg);
    free(legs.best_leg);
}
