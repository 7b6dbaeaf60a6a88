#include "ampsum/answer_supply.h"

/* Larger is worse: the verdict first, then the planning current, then the drop. */
static bool is_worse(const struct branch_assessment *a, const struct branch_assessment *b)
{
    if (a->verdict != b->verdict) {
        return a->verdict > b->verdict;
    }
    if (exceeds(a->all.planning_a, b->all.planning_a) || exceeds(b->all.planning_a, a->all.planning_a)) {
        return a->all.planning_a > b->all.planning_a;
    }
    return exceeds(a->drop_percent, b->drop_percent);
}

static struct supply_branch branch_of(const struct supply_answer *answer, size_t branch)
{
    const struct branch_assessment *low = &answer->assessments[SUPPLY_LOW]->branches[branch];
    const struct branch_assessment *high = &answer->assessments[SUPPLY_HIGH]->branches[branch];
    const bool high_worse = is_worse(high, low);
    return (struct supply_branch){
        .branch = branch,
        .ends = {low, &answer->assessments[SUPPLY_NOMINAL]->branches[branch], high},
        .worst = high_worse ? high : low,
        .worse = high_worse            ? "high"
                 : is_worse(low, high) ? "low"
                                       : "the same",
    };
}

void answer_supply(const struct house *house, const struct assess_options *choice, size_t only,
                   struct supply_answer *ret_answer)
{
    const double ratios[SUPPLY_ENDS] = {supply_low_ratio(house), 1, supply_high_ratio(house)};
    struct supply_answer *answer = ret_answer;
    *answer = (struct supply_answer){.house = house, .arena = arena_new()};
    for (int end = SUPPLY_LOW; end < SUPPLY_ENDS; end++) {
        struct assess_options options = *choice;
        options.supply_ratio = ratios[end];
        options.loads = false;
        answer->voltage_v[end] = house->voltage_v * ratios[end];
        answer->assessments[end] = assess_house(house, &options);
    }
    answer->over = answer->assessments[SUPPLY_LOW]->status == VERDICT_OVER ||
                   answer->assessments[SUPPLY_HIGH]->status == VERDICT_OVER;
    answer->branches = arena_array(answer->arena, house->branch_count, sizeof *answer->branches);
    for (size_t i = 0; i < house->branch_count; i++) {
        if (only == NO_INDEX || only == i) {
            answer->branches[answer->count++] = branch_of(answer, i);
        }
    }
}

void supply_answer_done(struct supply_answer *answer)
{
    for (int end = SUPPLY_LOW; end < SUPPLY_ENDS; end++) {
        assess_free(answer->assessments[end]);
    }
    arena_free(answer->arena);
    *answer = (struct supply_answer){0};
}
