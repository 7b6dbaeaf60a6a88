/*
 * How likely a current is: the exact distribution of the sum of loads that come and go, on a stated grid. Works on
 * plain arrays; knows no house, no file, no clock and no limit of any code.
 *
 * The model. Each load is on at a minute with a chance of its own, whatever the others do (independence ignores that
 * people cook and heat together: cold evenings, meals). Loads of one group exclude one another: at most one of them is
 * on, each keeps its own chance, and where the chances of a group add up to more than 1 they are scaled to add up to
 * 1. One motor among those on, the one with the largest unit current (ties: the lower index), brings `motor_extra_a`
 * on top. All of this is followed exactly; nothing is sampled.
 *
 * The grid. A load's current is rounded down to a whole number of grid steps for the lower bound and up for the upper
 * bound (a current within a relative 1e-9 of a step counts as on it), so that the true figure is never outside the two.
 * With every current on the grid both are the same. All terms are positive, so no digits cancel: the relative error of
 * a chance is below 1e-12.
 */
#ifndef AMPSUM_CHANCE_H
#define AMPSUM_CHANCE_H

#include <stddef.h>

#define CHANCE_GRID_A 0.01 /* ampere, a display digit; the choice only widens or narrows the bounds */
#define CHANCE_NO_GROUP ((size_t)-1)

/* One load: what it adds while it is on. */
struct chance_load {
    double planning_a;    /* >= 0, all its units together, after the continuous factor */
    double motor_unit_a;  /* > 0 for a motor: current of one unit, by which the largest is found; else 0 */
    double motor_extra_a; /* >= 0, what it adds on top where it is the largest motor on */
    size_t group;         /* any number shared by the members; CHANCE_NO_GROUP: none */
};

/* From start_min to end_min (the end off) the load is on with that chance. Spans of one load may not overlap. */
struct chance_span {
    size_t load;
    int start_min;
    int end_min;
    double probability; /* 0..1 */
};

/* Lower and upper bound of a figure; equal where every current lies on the grid. */
struct chance_bounds {
    double lower;
    double upper;
};

struct chance_figures {
    struct chance_bounds worst; /* chance that the limit is exceeded in the worst minute */
    int worst_min;              /* the first such minute; 0 where the chance is nil all day */
    struct chance_bounds time;  /* expected share of the time above the limit, 0..1; needs no independence in time */
    /*
     * Chance that the limit is exceeded at some time: at least the worst minute's (`worst`), at most this sum over the
     * stretches, which holds where what is on stays on for a whole stretch, however the stretches hang together.
     */
    double some_time_most;
    struct chance_bounds current_95_a; /* not exceeded during 95 % of the time; INFINITY beyond 60 times the limit */
    struct chance_bounds current_99_a;
    size_t stretches; /* in which all chances stay equal; together they make up the time */
    double grid_a;
};

/*
 * Distribution of the summed current over `minutes` minutes (1..10080), against limit_a (> 0, up to 4,000,000 steps of
 * the grid; exceeded means above it by more than a relative 1e-9).
 *
 *   loads, spans   load_count and span_count entries, any order; spans outside 0..minutes assert
 *   grid_a         ampere, > 0
 *   ret_minutes    room for `minutes` entries: the chance of each minute; or NULL
 *
 * Never fails (memory_fail when memory is exhausted). Keeps nothing between calls. Time: a segment tree over the
 * stretches, each load added to O(log) nodes, the distribution cut at the limit with the mass above it kept as one
 * number. Checked: tests/unit/test_chance.c, against full enumeration and a seeded Monte Carlo.
 */
void chance_day(const struct chance_load *loads, size_t load_count, const struct chance_span *spans, size_t span_count,
                int minutes, double limit_a, double grid_a, struct chance_bounds *ret_minutes,
                struct chance_figures *ret_figures);

#endif
