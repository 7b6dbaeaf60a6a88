/*
 * The question of `--supply band`: every branch at the low end of the published supply band, at nominal voltage and at
 * the high end, and which end is worse.
 *
 * Checked: tests/unit/test_answer.c; tests/golden/check-rows.
 */
#ifndef AMPSUM_ANSWER_SUPPLY_H
#define AMPSUM_ANSWER_SUPPLY_H

#include "ampsum/answer_choice.h"

enum supply_end { SUPPLY_LOW, SUPPLY_NOMINAL, SUPPLY_HIGH, SUPPLY_ENDS };

struct supply_branch {
    size_t branch;
    const struct branch_assessment *ends[SUPPLY_ENDS];
    const struct branch_assessment *worst; /* the low or the high end's */
    const char *worse;                     /* `low`, `high`, `the same` */
};

struct supply_answer {
    const struct house *house;
    double voltage_v[SUPPLY_ENDS];  /* line to neutral */
    struct supply_branch *branches; /* in file order */
    size_t count;
    bool over; /* some branch of the house is, at an end */
    struct assessment *assessments[SUPPLY_ENDS];
    struct arena *arena;
};

/* `only`: one branch, or NO_INDEX for all. The house must outlive the answer; free with supply_answer_done. */
void answer_supply(const struct house *house, const struct assess_options *choice, size_t only,
                   struct supply_answer *ret_answer);
void supply_answer_done(struct supply_answer *answer);

#endif
