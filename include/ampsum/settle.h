/*
 * Fewest moves of loads between branches so that none is overloaded, and the assignment of branches to legs that
 * balances best. Both exact, both over plain arrays; they know no house, no clock and no limit of any code.
 */
#ifndef AMPSUM_SETTLE_H
#define AMPSUM_SETTLE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#define SETTLE_NO_GROUP ((size_t)-1)

/* A branch on which a load may be. */
struct settle_option {
    size_t branch;
    double planning_a; /* there, of all its units, after the continuous factor, ampere, >= 0 */
    double unit_a;     /* there, of one unit, without factors; motors only */
};

/* One load with the branches that it can reach. It moves as a whole; a move is one load that ends elsewhere. */
struct settle_load {
    const struct settle_option *options; /* option_count >= 1 entries, each branch once; one option: it stays */
    size_t option_count;
    size_t home;  /* the option where it is now */
    size_t group; /* of which one on a branch counts; SETTLE_NO_GROUP without */
    bool motor;
};

/*
 * The planning current of a branch at a moment: of the loads on it that are on then, one of each group counts; the sum
 * of what counts, and (largest_motor - 1) * unit_a for the counted motor of largest unit_a; of all choices the one that
 * makes this largest. Contract, engineering.md, section 2. A branch is too full when
 * that exceeds its limit at any moment, beyond a relative 1e-9.
 */
struct settle_problem {
    const struct settle_load *loads; /* load_count entries, in file order */
    size_t load_count;
    const double *limit_a; /* branch_count entries, > 0 */
    size_t branch_count;
    size_t moment_count;  /* >= 1 */
    const bool *is_on;    /* load_count rows of moment_count; NULL: every load is on at every moment */
    double largest_motor; /* factor, 1 .. 2 */
    uint64_t node_limit;  /* nodes of the search; 0: 5,000,000, about a second at most */
    bool any_of_fewest;   /* true: do not look for the least worst load among plans of as few moves */
};

struct settle_plan {
    bool found;          /* a plan is in `option` */
    bool impossible;     /* proved: no plan exists with these options */
    bool proved;         /* moves is the fewest possible, or impossible is proved */
    bool worst_proved;   /* no plan with as few moves has a smaller worst_ratio */
    size_t moves;        /* of the plan; 0 without one */
    size_t moves_most;   /* proved lower bound: no plan has fewer moves (equals moves where proved) */
    double worst_ratio;  /* largest planning current over limit after the plan, of all branches and moments */
    uint64_t node_count; /* visited */
};

/*
 * Finds the fewest moves such that no branch is too full; among plans of that many the one with the least worst ratio
 * of planning current to limit. Depth-first search with a growing number of moves, from a lower bound; parts of the
 * house that share no reach are settled one by one. `ret_option`: load_count entries, the option of each load
 * afterwards (home everywhere where no plan was found).
 *
 * A branch is never relieved by putting a load onto it, since a further load only adds to the choices that the planning
 * current is the largest of; that is what the proofs stand on. Checked: tests/unit/test_settle.c, against all
 * assignments and against a linear programming solver.
 */
void settle_moves(const struct settle_problem *problem, size_t *ret_option, struct settle_plan *ret_plan);

/* Planning current of branch `branch` at a moment where load i is at option[i]. As defined above. */
double settle_branch_a(const struct settle_problem *problem, const size_t *option, size_t branch, size_t moment);

/* Result of a leg assignment. */
struct legs_plan {
    double largest_a; /* load of the fullest leg */
    double ideal_a;   /* no assignment gets below: the mean, the largest branch, or what a leg carries already */
    bool proved;      /* no assignment has a largest leg that is smaller by more than resolution_a */
    uint64_t node_count;
};

/*
 * Assigns single-pole branches to 2 or 3 legs so that the fullest leg carries least.
 *
 *   branch_a   branch_count entries, ampere, >= 0
 *   carried_a  leg_count entries: what each leg carries besides (2- and 3-pole branches), >= 0; NULL: nothing
 *   leg_count  1 .. 3
 *   resolution_a  differences up to it do not matter, ampere, >= 0
 *   ret_leg    branch_count entries, 0 .. leg_count - 1, filled
 *
 * Complete greedy search: the largest branch first, onto the emptiest leg first, until the ideal is reached (within
 * resolution_a), nothing is left to try, or node_limit nodes (0: 3,000,000) are visited.
 */
void legs_assign(const double *branch_a, size_t branch_count, const double *carried_a, size_t leg_count,
                 double resolution_a, uint64_t node_limit, size_t *ret_leg, struct legs_plan *ret_plan);

#endif
