/* The answer of `settle --legs`. */
#ifndef AMPSUM_CLI_SETTLE_LEGS_H
#define AMPSUM_CLI_SETTLE_LEGS_H

#include "decide_view.h"

void settle_legs_answer(struct invocation *invocation, struct planning_factors factors);

#endif
