/* A combos problem made ready for the searches: whole steps of current, sorted, one additive system for each motor that
 * may lead a set. Inside the combos library only. */
#ifndef AMPSUM_COMBOS_PLAN_H
#define AMPSUM_COMBOS_PLAN_H

#include "ampsum/arena.h"
#include "ampsum/combos.h"

#define NO_GROUP UINT32_MAX
#define NO_LEAD UINT32_MAX

/* Units that may stand in a set besides the lead. */
struct item {
    uint64_t step; /* planning current of one unit, in steps, 1 .. limit */
    uint32_t count;
    uint32_t load;
    uint32_t group; /* NO_GROUP where no other item of the system is of the group */
};

/*
 * The sets that `lead` leads: it is the largest motor in them. One unit of it is in every set and weighs `head`, extra
 * and all; what else may be in weighs what its item says, so that the sum is additive. Minimal: the sum is over the
 * limit, and the sum less the smallest of head and steps is not. (The lead's own drop is smaller than head when another
 * motor is in the set, but never smaller than that motor's step.) Without a lead: the sets that no motor factor
 * touches.
 */
struct system {
    uint32_t lead;      /* load, NO_LEAD without */
    uint64_t head;      /* UINT64_MAX without a lead */
    uint64_t base;      /* head, or 0 without a lead: what every set starts from */
    struct item *items; /* step descending, ties in file order */
    size_t item_count;
    size_t head_place;     /* items before it weigh more than head; 0 without a lead */
    const size_t *by_file; /* item indices in file order */
    size_t *first;         /* number of units in the items before; item_count + 1 entries */
    uint64_t *before;      /* sum of the first i units' steps; first[item_count] + 1 entries */
    uint64_t *rest;        /* the most that the items from i on can add, groups reduced; item_count + 1 entries */
    uint32_t group_count;  /* groups that the items name: 0 .. group_count - 1 */
};

struct plan {
    struct arena *arena;
    const struct combos_problem *problem;
    bool on_grid;      /* steps are exact */
    uint64_t limit;    /* a sum of steps above it overloads */
    unsigned shift;    /* sums that agree above these bits are equal in the order */
    uint32_t *singles; /* loads that overload alone, in file order; they stand in no system */
    size_t single_count;
    struct system *systems;
    size_t system_count;
    bool too_big; /* more than the searches take: no systems */
};

void plan_init(struct plan *plan, const struct combos_problem *problem);
void plan_done(struct plan *plan);

/* What of the order is the planning current: larger first. */
static inline uint64_t plan_key(const struct plan *plan, uint64_t sum)
{
    return plan->on_grid ? sum : (sum + 3037) >> plan->shift; /* odd offset: round values sit inside a class */
}

/* Adds to a number, and tells whether it still fits. */
void number_add_small(struct combos_number *number, uint64_t value);

/* Counts a system by listing its sets; false when more than *budget nodes would be visited (then a lower bound). */
bool list_count(const struct plan *plan, const struct system *system, uint64_t *budget, struct combos_number *number);

/* Parts of a set in file order; and the order of two sets with equal units and key: < 0 where `a` comes first. */
void parts_sort(struct combos_part *parts, size_t part_count);
int parts_compare(const struct combos_part *a, size_t a_count, const struct combos_part *b, size_t b_count);

#endif
