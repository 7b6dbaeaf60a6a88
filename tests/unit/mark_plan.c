#include "mark_plan.h"

#include <stdlib.h>

uint64_t mark_chance(uint64_t *state)
{
    *state = *state * 6364136223846793005U + 1442695040888963407U;
    return *state >> 33;
}

struct lesson_plan make_plan(uint64_t seed, unsigned level, unsigned students)
{
    struct lesson_plan plan = {.seed = seed, .level = level, .students = students, .question_count = LESSON_KIND_COUNT};
    plan.kinds = malloc(LESSON_KIND_COUNT * sizeof *plan.kinds);
    for (int kind = 0; kind < LESSON_KIND_COUNT; kind++) {
        plan.kinds[kind] = (enum lesson_kind)kind;
    }
    lesson_plan_plain(&plan);
    return plan;
}
