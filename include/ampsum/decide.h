/*
 * From the house to the decision engines and back: the loads of a branch for combos.h, the movable appliances for
 * settle.h, the legs of a panel, and the minutes at which a load would not fit. Works on structs; factors come in.
 *
 * Checked: tests/unit/test_decide.c, against the assessment of the same house.
 */
#ifndef AMPSUM_DECIDE_H
#define AMPSUM_DECIDE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "ampsum/combos.h"
#include "ampsum/engine.h"
#include "ampsum/settle.h"

/*
 * The loads of a branch at its nominal voltage; load i is the branch's appliances.index[i], the limit its breaker's
 * rating. The array is made in `arena`.
 */
struct combos_problem decide_combos(const struct house *house, size_t branch, struct planning_factors factors,
                                    struct arena *arena);

/*
 * The figures of a set of those loads: `parts` as in combos.h. `units`: house->appliance_count zeroed entries, zeroed
 * again afterwards.
 */
struct branch_figures decide_set_figures(const struct house *house, size_t branch, struct planning_factors factors,
                                         const struct combos_part *parts, size_t part_count, unsigned *units);

/*
 * True where a plug-in load can be plugged in beside all loads but `but` (NO_INDEX: all). A branch with outlets: one of
 * them has a place for a plug that no load keeps for good; places of fixed loads, of lights and of loads that must stay
 * on are none. Without outlets: its purpose has some, and not all its loads are fixed. Never a `dedicated` branch.
 * Contract, engineering.md, section 11; limits.md, section 4.
 */
bool decide_takes_plugs(const struct house *house, size_t branch, size_t but);

/*
 * Loads that nobody is told to switch off or unplug: refrigeration, medical equipment, pumps of a sump or of heating;
 * by category, or by the words of the name (ref_word). And which of them are medical.
 */
bool decide_stays_on(const struct house *house, const struct appliance *appliance);
bool decide_is_medical(const struct house *house, const struct appliance *appliance);

/*
 * The fewest loads of a branch that must be off at the moments when `added` (one of them) runs, so that it never plans
 * for more than `limit_a` then, all others as their windows say; where none has to be, the fewest for everything on.
 * `stays` and `ret_off`: an entry for each of branch.appliances; `stays` are not switched off. False where no set does.
 * Fewest is proved but for branches where that takes more than some ten thousand steps.
 * Checked: tests/unit/test_decide.c, against all sets.
 */
bool decide_off(const struct house *house, size_t branch, size_t added, struct planning_factors factors, double limit_a,
                const bool *stays, bool *ret_off);

/* How far an appliance may be carried: to branches of its room, of its floor, of the whole house. */
enum decide_reach { REACH_ROOM, REACH_FLOOR, REACH_HOUSE };

struct decide_settle {
    struct settle_problem problem; /* load i is appliance i of the house */
    bool whole_moments; /* false: too many different moments in this house; every load counts as on at every moment */
    bool too_many;      /* more than 4,000,000 places of loads: not all of them are there, nothing can be settled */
};

/*
 * The movable appliances (those not `fixed`) with the branches within reach that take plugs and have the same voltage
 * and poles; none whose rooms all have water in them or lie outdoors. An appliance whose room is not known has the
 * rooms that its branch serves. `everything_on`: one moment with all on, else each different set of appliances that the
 * year of windows, days and months brings (one that is part of another is left out). Arrays are made in `arena`.
 * `shares`: of each appliance the part of its planning current that counts, 0 to 1 (what its plate's rounding leaves);
 * NULL: all of it.
 */
struct decide_settle decide_settle(const struct house *house, enum decide_reach reach, bool everything_on,
                                   struct planning_factors factors, const double *shares, struct arena *arena);

/* The single-pole branches of a panel on its legs, and what the legs carry besides. */
struct decide_legs {
    size_t *branches; /* branch_count single-pole branches of the panel, in file order */
    size_t branch_count;
    double *branch_a;    /* their planning currents */
    size_t *leg;         /* where they are, an index into leg_bit */
    unsigned leg_bit[3]; /* LEG_ bits of the panel's legs */
    size_t leg_count;
    double carried_a[3]; /* by 2- and 3-pole branches and by the panels that it feeds */
};

/* `busiest`: each branch at its own busiest minute, else with everything on; panels fed count with everything on. */
struct decide_legs decide_legs(const struct house *house, size_t panel, bool busiest, struct planning_factors factors,
                               struct arena *arena);

/*
 * Marks the minutes of a day at which, on some day of the year, `added` (an appliance of the branch) runs and the
 * branch plans for more than its breaker, all others as their windows say.
 */
void decide_not_at(const struct house *house, size_t branch, size_t added, struct planning_factors factors,
                   bool ret_over[MINUTES_IN_DAY]);

#endif
