#include "ampsum/answer_branch.h"

#include <stdlib.h>

#include "ampsum/arena.h"
#include "ampsum/steps.h"

struct branch_answer branch_answer_of(const struct check_answer *check, size_t branch)
{
    const bool chosen = check->assessment->options.basis != BASIS_BUSIEST;
    const struct branch_assessment *result = &check->assessment->branches[branch];
    return (struct branch_answer){
        .check = {.house = check->house, .assessment = check->assessment, .bill = check->bill},
        .index = branch,
        .branch = &check->house->branches[branch],
        .result = result,
        .chosen = chosen,
        .shown = chosen ? &result->other : &result->all,
    };
}

void answer_branch(const struct house *house, const struct branch_question *question, struct branch_answer *ret_answer)
{
    const struct check_question all = {.choice = question->choice, .no_bill = !question->bill};
    struct check_answer check;
    answer_check(house, &all, &check);
    *ret_answer = branch_answer_of(&check, question->branch);
    ret_answer->check = check;
}

void branch_answer_done(struct branch_answer *answer)
{
    check_answer_done(&answer->check);
    *answer = (struct branch_answer){0};
}

void branch_answer_steps(const struct branch_answer *answer, struct steps *ret_steps)
{
    const struct house *house = answer->check.house;
    const struct branch *branch = answer->branch;
    const struct planning_factors *factors = &answer->check.assessment->factors;
    struct steps_load *loads = memory_resize(NULL, branch->appliances.count + 1, sizeof *loads);
    size_t count = 0;
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const struct load *load = &answer->result->loads[i];
        const struct appliance *appliance = &house->appliances[load->appliance];
        if (load->units > 0) {
            loads[count++] = (struct steps_load){
                .name = appliance->name,
                .units = load->units,
                .power_w = load->draw.power_w,
                .reactive_var = load->draw.reactive_var,
                .apparent_va = load->draw.apparent_va,
                .current_a = load->current_a,
                .unit_current_a = load->unit_current_a,
                .planned_a = load->planned_a,
                .planning_a = load->planning_a,
                .hours_day = appliance->on_time_s / 3600,
                .continuous = appliance_continuous_factor(house, load->appliance, *factors) > 1,
                .counted = load->counted,
                .largest_motor = load->largest_motor,
            };
        }
    }
    const struct steps_branch_input input = {.voltage_v = answer->result->voltage_v,
                                             .poles = branch->poles,
                                             .breaker_a = branch->breaker_a,
                                             .continuous_factor = factors->continuous,
                                             .largest_motor_factor = factors->largest_motor,
                                             .loads = loads,
                                             .load_count = count};
    *ret_steps = (struct steps){0};
    steps_branch(&input, ret_steps);
    free(loads);
}
