/*
 * The question of `combos`: the smallest sets of loads that together overload a branch, and their number; or what may
 * run beside one load.
 *
 * Checked: tests/unit/test_answer_combos.c; tests/golden/combos-demo, combos-sets.
 */
#ifndef AMPSUM_ANSWER_COMBOS_H
#define AMPSUM_ANSWER_COMBOS_H

#include "ampsum/combos.h"
#include "ampsum/engine.h"
#include "ampsum/error.h"

struct combos_question {
    size_t branch;
    const char *with; /* `kettle`, `lamp*2`: what may run beside it; NULL: what overloads the branch */
    size_t most;      /* sets listed, at most a million */
};

/* One set; its parts number the branch's appliances. */
struct combos_row {
    const struct combos_set *set;
    double planning_a; /* the load of `with` included, as in current_a */
    double current_a;
    double left_a; /* of the breaker's rating; 0 where it is less than what a tenth shows */
};

struct combos_answer {
    const struct house *house;
    const struct branch *branch;
    size_t index;
    const struct appliance *with; /* NULL: not asked */
    unsigned with_units;
    struct combos_row *rows;
    size_t count;
    bool in_order;
    struct combos_number number; /* of all sets; not where `with` was asked */
    double all_planning_a;       /* everything on */
    struct combos_list list;
    struct arena *arena;
};

/*
 * Answers for a house, which must outlive the answer; free with combos_answer_done in any case. False with the error
 * set where `with` is no load of the branch.
 */
bool answer_combos(const struct house *house, const struct combos_question *question, struct combos_answer *ret_answer,
                   struct error *error);

/* The first load of the first set, of which one asks what may run beside it; NULL: no set, or that was asked. */
const struct appliance *combos_first_load(const struct combos_answer *answer);
void combos_answer_done(struct combos_answer *answer);

#endif
