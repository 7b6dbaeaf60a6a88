/* The fewest moves by a general solver (GLPK), beside `settle`: for its test and its benchmark. */
#ifndef AMPSUM_TEST_SETTLE_GLPK_H
#define AMPSUM_TEST_SETTLE_GLPK_H

#include "ampsum/settle.h"

/*
 * As an integer program: x = 1 where load i is at option k, each load once, no branch over its limit, moves counted.
 * Gives the moves; -1 where there is no plan; -2 where GLPK did not end in `most_ms` (0: as long as it takes).
 */
int glpk_moves(const struct settle_problem *problem, int most_ms);

#endif
