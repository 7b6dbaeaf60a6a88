/*
 * Which members of groups count and which motor takes the extra, chosen together so that the planning current becomes
 * largest (contract, engineering.md, section 2). Inside the engine only.
 *
 * Let the member that plans for most stand for each group. A motor that counts then raises the sum by its extra; one
 * that would have to take its group's place raises it by its extra less what the group loses. At most one motor takes
 * an extra, and every group but its own is best served by its largest member, so the motor that raises the sum most
 * gives the best choice: one look at each motor is enough. More loads only add choices, so the sum never falls.
 */
#ifndef AMPSUM_ENGINE_LEAD_H
#define AMPSUM_ENGINE_LEAD_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define NO_LEADER SIZE_MAX

/* A motor that may take the extra. */
struct leader {
    size_t load;    /* its place in the file; NO_LEADER: none */
    size_t instead; /* place of the member that stands for its group; its own where it counts anyway */
    double gain_a;  /* what the sum rises by where it leads */
};

static const struct leader no_leader = {NO_LEADER, NO_LEADER, 0.0};

/* True where a is larger than b by more than a relative 1e-9: less than that is a tie. */
static inline bool is_larger(double a, double b)
{
    return a > b + 1e-9 * b;
}

/* The motor where it counts: `extra_a` of one of its units. In a group `own_a` and the most that a member plans for. */
static inline struct leader leader_of(size_t load, double extra_a, double own_a, size_t instead, double most_a)
{
    return (struct leader){load, instead, instead == load ? extra_a : extra_a - (most_a - own_a)};
}

/* Of two choices as good: the one whose members come first in the file. */
static inline bool leader_is_first(struct leader a, struct leader b)
{
    bool a_swaps = a.load != a.instead;
    bool b_swaps = b.load != b.instead;
    if (a_swaps == b_swaps && (!a_swaps || a.instead == b.instead)) {
        return a.load < b.load;
    }
    size_t a_loads[] = {a_swaps ? a.load : NO_LEADER, b_swaps ? b.instead : NO_LEADER};
    size_t b_loads[] = {b_swaps ? b.load : NO_LEADER, a_swaps ? a.instead : NO_LEADER};
    size_t a_first = a_loads[0] < a_loads[1] ? a_loads[0] : a_loads[1];
    size_t b_first = b_loads[0] < b_loads[1] ? b_loads[0] : b_loads[1];
    return a_first < b_first;
}

/* Keeps the better of two: the larger total over `sum_a`, of ties the first in the file. */
static inline void leader_offer(struct leader *best, struct leader other, double sum_a)
{
    double best_a = sum_a + best->gain_a;
    double other_a = sum_a + other.gain_a;
    if (is_larger(other_a, best_a) || (!is_larger(best_a, other_a) && leader_is_first(other, *best))) {
        *best = other;
    }
}

#endif
