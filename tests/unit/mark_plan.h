/* What the tests of marking share: a plan with one question of each kind, and numbers by chance. */
#ifndef AMPSUM_TEST_MARK_PLAN_H
#define AMPSUM_TEST_MARK_PLAN_H

#include "ampsum/lesson.h"

/* The next of a row of numbers below 2^31, the same on every machine. */
uint64_t mark_chance(uint64_t *state);

/* Made-up loads; lesson_plan_done frees. */
struct lesson_plan make_plan(uint64_t seed, unsigned level, unsigned students);

#endif
