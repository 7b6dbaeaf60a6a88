/*
 * A branch in each state of its switches, for a page that works without the program: what is on was worked out here,
 * so that the page only looks it up.
 *
 * Checked: tests/golden/lesson-live; tests/page/live.mjs holds states against `check --on`.
 */
#ifndef AMPSUM_ANSWER_LIVE_H
#define AMPSUM_ANSWER_LIVE_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/assess.h"
#include "ampsum/engine.h"
#include "ampsum/model.h"

enum { LIVE_LOADS_MOST = 10 };

struct live_answer {
    const struct house *house;
    const struct branch *branch;
    double voltage_v;
    size_t load_count;               /* that can be switched: at most LIVE_LOADS_MOST, those of the largest current */
    size_t loads[LIVE_LOADS_MOST];   /* appliances, in the order of the file */
    size_t place[LIVE_LOADS_MOST];   /* of each in the branch's list */
    struct load *load;               /* each switched on alone: its draw and current */
    size_t left_count;               /* loads that stay off, since there are too many */
    size_t state_count;              /* 2 to the power load_count; bit i of a state: load i is on */
    double *planning_a;              /* by state */
    enum verdict *verdict;           /* by state: OVER, near, ok or empty, by the planning current */
    size_t *counted;                 /* by state: the loads that count, one member of a group; as bits */
    bool groups;                     /* some state has loads on that do not count */
    double *line_a[LIVE_LOADS_MOST]; /* by load, then by state: in the line to its junction, for it and all behind it */
    bool in_step;                    /* in every state the currents add up as plain numbers */
};

/* The answer for a branch of a house that outlives it; all of it in `arena`. Never fails. */
void answer_live(const struct house *house, size_t branch, struct arena *arena, struct live_answer *ret_answer);

#endif
