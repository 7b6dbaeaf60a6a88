#include <stdlib.h>

#include "ampsum/show.h"
#include "ampsum/steps.h"

void show_branch_steps(const struct assessment *assessment, size_t index, struct steps *ret_steps)
{
    const struct house *house = assessment->house;
    const struct branch *branch = &house->branches[index];
    const struct branch_assessment *result = &assessment->branches[index];
    struct steps_load *loads = memory_resize(NULL, branch->appliances.count + 1, sizeof *loads);
    size_t count = 0;
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const struct load *load = &result->loads[i];
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
                .planning_a = load->planning_a,
                .hours_day = appliance->on_time_s / 3600,
                .continuous = appliance_continuous_factor(appliance, assessment->factors) > 1,
                .counted = load->counted,
                .largest_motor = load->largest_motor,
            };
        }
    }
    const struct steps_branch_input input = {.voltage_v = result->voltage_v,
                                             .poles = branch->poles,
                                             .breaker_a = branch->breaker_a,
                                             .continuous_factor = assessment->factors.continuous,
                                             .largest_motor_factor = assessment->factors.largest_motor,
                                             .loads = loads,
                                             .load_count = count};
    *ret_steps = (struct steps){0};
    steps_branch(&input, ret_steps);
    free(loads);
}
