#include "ampsum/answer_branch.h"

#include <math.h>
#include <stdlib.h>

#include "ampsum/arena.h"
#include "ampsum/reference.h"
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

static bool is_halves(const struct house *house, const struct load *load)
{
    return house->appliances[load->appliance].connected == CONNECTION_2L_N;
}

enum branch_halves branch_answer_halves(const struct house *house, const struct branch *branch,
                                        const struct branch_assessment *result)
{
    size_t on = 0;
    size_t halves = 0;
    for (size_t i = 0; i < branch->appliances.count; i++) {
        on += result->loads[i].units > 0;
        halves += result->loads[i].units > 0 && is_halves(house, &result->loads[i]);
    }
    return halves == 0 ? HALVES_NONE : halves == on ? HALVES_ALL : HALVES_MIXED;
}

double branch_load_ohm(const struct house *house, const struct branch_assessment *result, size_t load)
{
    const struct load *it = &result->loads[load];
    const double square = result->voltage_v * result->voltage_v * (is_halves(house, it) ? 2.0 / 3 : 1);
    return it->draw.power_w > 0 ? square / it->draw.power_w : (double)NAN;
}

void branch_answer_steps(const struct branch_answer *answer, int language, struct steps *ret_steps)
{
    const struct house *house = answer->check.house;
    const struct branch *branch = answer->branch;
    const struct planning_factors *factors = &answer->check.assessment->factors;
    const enum branch_halves halves = branch_answer_halves(house, branch, answer->result);
    struct steps_load *loads = memory_resize(NULL, branch->appliances.count + 1, sizeof *loads);
    size_t count = 0;
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const struct load *load = &answer->result->loads[i];
        const struct appliance *appliance = &house->appliances[load->appliance];
        const bool to_neutral = appliance->connected == CONNECTION_2L_N;
        const double part = to_neutral ? 0.5 : 1;
        if (load->units > 0 && appliance_is_load(appliance)) {
            loads[count++] = (struct steps_load){
                .name = appliance->name,
                .units = load->units,
                .power_w = part * load->draw.power_w,
                .whole_w = load->draw.power_w,
                .reactive_var = part * load->draw.reactive_var,
                .apparent_va = part * load->draw.apparent_va,
                .current_a = load->current_a,
                .unit_current_a = load->unit_current_a,
                .planned_a = load->planned_a,
                .planning_a = load->planning_a,
                .hours_day = appliance_energy_time_s(appliance) / 3600,
                .continuous = appliance_continuous_factor(house, load->appliance, *factors) > 1,
                .counted = load->counted,
                .largest_motor = load->largest_motor,
                .to_neutral = to_neutral && halves == HALVES_MIXED,
            };
        }
    }
    const bool half = halves == HALVES_ALL;
    const double ratio = answer->result->voltage_v / branch->voltage_v;
    const struct steps_branch_input input = {.voltage_v = half ? house->voltage_v * ratio : answer->result->voltage_v,
                                             .neutral_v = house->voltage_v * ratio,
                                             .poles = half ? 1 : branch->poles,
                                             .breaker_a = branch->breaker_a,
                                             .continuous_factor = factors->continuous,
                                             .continuous_hours =
                                                 reference_rule_value("continuous-hours", rules_word(house->rules)),
                                             .largest_motor_factor = factors->largest_motor,
                                             .loads = loads,
                                             .load_count = count};
    *ret_steps = (struct steps){.language = language};
    steps_branch(&input, ret_steps);
    free(loads);
}

bool branch_answer_exceeds(const struct branch_answer *answer)
{
    return exceeds(answer->result->other.planning_a, answer->branch->breaker_a);
}
