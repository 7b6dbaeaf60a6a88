/*
 * Which loads together overload a branch: the minimal sets, their number, the first of them in order, and the largest
 * sets that may run beside a load. Plain arrays in; knows no house and no limit of any code.
 *
 * A set is a multiset: units of one load are alike and not told apart. Two loads of one group never stand in one set.
 * Planning current of a set, with the factors as they apply to that set alone (contract, engineering.md, section 2):
 * each unit counts unit_a, times `continuous` for a continuous load; one unit of the motor with the largest unit_a in
 * the set (ties: the first) counts (largest_motor - 1) * unit_a more, unless that motor is continuous, in which case no
 * motor does. A set overloads when that exceeds limit_a, beyond a relative 1e-9.
 *
 * Adding a unit never lowers the planning current: a continuous motor M that takes the extra from a motor m <= M brings
 * continuous * M, which is more than (largest_motor - 1) * m. So a set is minimal (no proper sub-multiset overloads)
 * exactly when it overloads and no set with one unit less does. Checked: tests/unit/test_combos.c, against all
 * sub-multisets of 2,000 random branches.
 *
 * Inside, currents are whole steps: exact ones where all of them are multiples of a common part of the limit, else
 * 2^-46 of the limit, so that no sum depends on its order (off by less than 1e-9 of the limit up to 100,000 units).
 */
#ifndef AMPSUM_COMBOS_H
#define AMPSUM_COMBOS_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "ampsum/arena.h"
#include "ampsum/text.h"

#define COMBOS_NO_GROUP ((size_t)-1)

/* One load (an appliance of the house), in file order. */
struct combos_load {
    double unit_a;  /* current of one unit, ampere, > 0, finite */
    unsigned count; /* how many alike, >= 1 */
    size_t group;   /* equal for loads of which only one is ever on; COMBOS_NO_GROUP without */
    bool continuous;
    bool motor;
};

/* Both factors are 1 to 2; `largest_motor` is 1 (none) or the same as `continuous`, as in every published rule set. */
struct combos_problem {
    const struct combos_load *loads; /* load_count entries, in file order */
    size_t load_count;               /* at most 32,768 */
    double limit_a;                  /* the breaker's rating, ampere, > 0 */
    double continuous;
    double largest_motor;
};

/* Some units of one load. */
struct combos_part {
    size_t load;
    unsigned units;
};

/* One set: its parts in file order. */
struct combos_set {
    const struct combos_part *parts;
    size_t part_count;
    uint64_t units; /* of all parts together */
    double planning_a;
};

enum { COMBOS_LIMBS = 4 };

/* How many sets: a number of up to 255 bits, least significant limb first. */
struct combos_number {
    uint64_t limb[COMBOS_LIMBS];
    bool exact; /* false: the number is a lower bound */
};

struct combos_list {
    struct combos_set *sets; /* set_count entries, in order; freed, parts too, by combos_list_done */
    size_t set_count;
    size_t capacity;
    bool in_order; /* false: the search was cut short; sets of the last size may stand out of order, or be missing */
    struct arena *arena;
};

/* Planning current of a set in ampere; parts in any order, each load once. 0 for none. Cannot fail. */
double combos_planning_a(const struct combos_problem *problem, const struct combos_part *parts, size_t part_count);

/* True where that planning current overloads: more than limit_a beyond a relative 1e-9. */
bool combos_overloads(double planning_a, double limit_a);

/*
 * The first `most` (at most a million) minimal overloading sets: fewest units first, then largest planning_a (equal
 * within about 1e-10 of the limit), then file order (the units' positions compared one by one). Searches one size after
 * another, with bounds; never all 2^n. The caller frees with combos_list_done, whatever came out.
 */
void combos_first(const struct combos_problem *problem, size_t most, struct combos_list *ret_list);

void combos_list_done(struct combos_list *list);

/*
 * The number of minimal overloading sets. Exact for every branch of up to 40 units, and above that wherever listing, a
 * table over the sums or two sorted half lists end within about two seconds of work (counted in steps, no clock).
 */
struct combos_number combos_count(const struct combos_problem *problem);

/* Adds the number in decimal, exactly. */
void combos_number_text(const struct combos_number *number, struct text *text);

/* The number as a double (rounded beyond 2^53); true in ret_fits (NULL allowed) where it fits an int64_t. */
double combos_number_value(const struct combos_number *number, bool *ret_fits);

/* Called with one set, its parts in no order, valid during the call only; false ends the walk. */
typedef bool combos_visit(void *context, const struct combos_part *parts, size_t part_count);

/* Visits every minimal overloading set once, in no order. Time goes with their number. False: a visit ended it. */
bool combos_each(const struct combos_problem *problem, combos_visit *visit, void *context);

/*
 * The first `most` sets that may run together with `fixed` (units of one load, at least one) without overloading, each
 * as large as can be: no further unit of any load fits (units of the fixed load itself are not added, nor members of
 * its group). The parts leave the fixed one out; planning_a includes it. Most units first, then largest planning_a,
 * then file order. No set at all where the fixed load overloads alone; one empty set where nothing fits beside it.
 */
void combos_beside(const struct combos_problem *problem, struct combos_part fixed, size_t most,
                   struct combos_list *ret_list);

#endif
