#include "ampsum/answer_switched.h"

#include <math.h>

static enum switched compare(const struct load *before, const struct load *now)
{
    if (now->units == 0) {
        return SWITCHED_OPEN;
    }
    if (now->units != before->units || now->counted != before->counted) {
        return SWITCHED_UNITS;
    }
    return fabs(before->current_a - now->current_a) <= 1e-9 * fmax(1, before->current_a) ? SWITCHED_UNCHANGED
                                                                                         : SWITCHED_CHANGED;
}

static struct assessment *assess_closed(const struct house *house, struct arena *arena)
{
    unsigned *all = arena_array(arena, house->appliance_count, sizeof *all);
    for (size_t i = 0; i < house->appliance_count; i++) {
        all[i] = house->appliances[i].count;
    }
    const struct assess_options choice = {.basis = BASIS_SET, .on = all, .loads = true};
    return assess_house(house, &choice);
}

static void list_loads(struct switched_answer *answer, const struct house *house, size_t branch)
{
    const struct index_list *list = &answer->branch->appliances;
    double *line_a = arena_array(answer->arena, list->count + 1, sizeof *line_a);
    branch_junctions(house, branch, answer->now->loads, answer->now->voltage_v, line_a);
    answer->count = list->count;
    answer->loads = arena_array(answer->arena, list->count, sizeof *answer->loads);
    for (size_t i = 0; i < list->count; i++) {
        const struct load *before = &answer->before->loads[i];
        const struct load *now = &answer->now->loads[i];
        answer->loads[i] = (struct switched_load){.appliance = &house->appliances[list->index[i]],
                                                  .before = before,
                                                  .now = now,
                                                  .change = compare(before, now),
                                                  .opened = now->units < before->units,
                                                  .on = answer->assessment->options.on[list->index[i]],
                                                  .line_a = line_a[i]};
        answer->opened_count += answer->loads[i].opened;
        answer->unchanged_count += answer->loads[i].change == SWITCHED_UNCHANGED;
    }
}

void answer_switched(const struct house *house, size_t branch, const struct assess_options *on, int language,
                     struct switched_answer *ret_answer)
{
    struct switched_answer *answer = ret_answer;
    *answer = (struct switched_answer){.branch = &house->branches[branch], .arena = arena_new()};
    answer->closed = assess_closed(house, answer->arena);
    answer->assessment = assess_house(house, on);
    answer->before = &answer->closed->branches[branch];
    answer->now = &answer->assessment->branches[branch];
    answer->takes_plugs = answer->branch->purpose != PURPOSE_DEDICATED && answer->branch->purpose != PURPOSE_LIGHTING &&
                          answer->branch->poles == 1;
    list_loads(answer, house, branch);
    const struct check_answer check = {.house = house, .assessment = answer->assessment};
    const struct branch_answer worked = branch_answer_of(&check, branch);
    branch_answer_steps(&worked, language, &answer->steps);
}

void switched_answer_done(struct switched_answer *answer)
{
    steps_done(&answer->steps);
    assess_free(answer->assessment);
    assess_free(answer->closed);
    arena_free(answer->arena);
    *answer = (struct switched_answer){0};
}
