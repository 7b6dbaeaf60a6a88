#include "ampsum/answer_live.h"

#include "ampsum/arena.h"
#include "ampsum/reference.h"

/* One branch in one state. */
struct trial {
    const struct house *house;
    size_t branch;
    struct planning_factors factors;
    unsigned *on; /* by appliance */
    struct load *loads;
    double *line_a;
    struct branch_figures figures;
};

static void total(struct trial *trial)
{
    const double voltage_v = trial->house->branches[trial->branch].voltage_v;
    branch_total(trial->house, trial->branch, trial->on, voltage_v, trial->factors, trial->loads, &trial->figures);
}

/* Takes the load with the smallest current off the list. */
static void leave_smallest(struct live_answer *answer, const double *current_a, size_t *taken, size_t *count)
{
    size_t smallest = 0;
    for (size_t i = 1; i < *count; i++) {
        smallest = current_a[taken[i]] < current_a[taken[smallest]] ? i : smallest;
    }
    for (size_t i = smallest; i + 1 < *count; i++) {
        taken[i] = taken[i + 1];
    }
    (*count)--;
    answer->left_count++;
}

static void choose_loads(struct trial *trial, struct arena *arena, struct live_answer *answer)
{
    const struct index_list *list = &answer->branch->appliances;
    double *current_a = arena_array(arena, list->count, sizeof *current_a);
    size_t *taken = arena_array(arena, list->count, sizeof *taken);
    size_t count = 0;
    total(trial);
    for (size_t i = 0; i < list->count; i++) {
        current_a[i] = trial->loads[i].current_a;
        if (current_a[i] > 0) {
            taken[count++] = i;
        }
    }
    while (count > LIVE_LOADS_MOST) {
        leave_smallest(answer, current_a, taken, &count);
    }
    answer->load_count = count;
    for (size_t i = 0; i < count; i++) {
        answer->place[i] = taken[i];
        answer->loads[i] = list->index[taken[i]];
    }
}

static void set_state(struct trial *trial, const struct live_answer *answer, size_t state)
{
    for (size_t i = 0; i < answer->branch->appliances.count; i++) {
        trial->on[answer->branch->appliances.index[i]] = 0;
    }
    for (size_t i = 0; i < answer->load_count; i++) {
        const struct appliance *appliance = &answer->house->appliances[answer->loads[i]];
        trial->on[answer->loads[i]] = (state >> i & 1) != 0 ? appliance->count : 0;
    }
    total(trial);
}

static enum verdict verdict_of(const struct live_answer *answer, const struct branch_figures *figures)
{
    const double near = reference_rule_value("near-share", rules_word(answer->house->rules)) / 100;
    if (exceeds(figures->planning_a, answer->branch->breaker_a)) {
        return VERDICT_OVER;
    }
    if (exceeds(figures->planning_a, near * answer->branch->breaker_a)) {
        return VERDICT_NEAR;
    }
    return figures->current_a > 0 ? VERDICT_OK : VERDICT_EMPTY;
}

static void keep_state(struct trial *trial, struct live_answer *answer, size_t state)
{
    answer->planning_a[state] = trial->figures.planning_a;
    answer->verdict[state] = verdict_of(answer, &trial->figures);
    answer->in_step &= branch_junctions(answer->house, trial->branch, trial->loads, answer->voltage_v, trial->line_a);
    for (size_t i = 0; i < answer->load_count; i++) {
        const struct load *load = &trial->loads[answer->place[i]];
        answer->line_a[i][state] = trial->line_a[answer->place[i]];
        answer->counted[state] |= load->units > 0 && load->counted ? (size_t)1 << i : 0;
        answer->load[i] = state == (size_t)1 << i ? *load : answer->load[i];
    }
    answer->groups |= answer->counted[state] != state;
}

static void work_out(struct trial *trial, struct live_answer *answer)
{
    for (size_t state = 0; state < answer->state_count; state++) {
        set_state(trial, answer, state);
        keep_state(trial, answer, state);
    }
}

void answer_live(const struct house *house, size_t branch, struct arena *arena, struct live_answer *ret_answer)
{
    const size_t count = house->branches[branch].appliances.count;
    struct trial trial = {.house = house, .branch = branch, .factors = rules_factors(house, arena)};
    trial.loads = arena_array(arena, count + 1, sizeof *trial.loads);
    trial.line_a = arena_array(arena, count + 1, sizeof *trial.line_a);
    *ret_answer = (struct live_answer){.house = house, .branch = &house->branches[branch], .in_step = true};
    ret_answer->voltage_v = house->branches[branch].voltage_v;
    choose_loads(&trial, arena, ret_answer);
    trial.on = arena_array(arena, house->appliance_count + 1, sizeof *trial.on);
    ret_answer->state_count = (size_t)1 << ret_answer->load_count;
    ret_answer->load = arena_array(arena, ret_answer->load_count + 1, sizeof *ret_answer->load);
    ret_answer->planning_a = arena_array(arena, ret_answer->state_count, sizeof *ret_answer->planning_a);
    ret_answer->counted = arena_array(arena, ret_answer->state_count, sizeof *ret_answer->counted);
    ret_answer->verdict = arena_array(arena, ret_answer->state_count, sizeof *ret_answer->verdict);
    for (size_t i = 0; i < ret_answer->load_count; i++) {
        ret_answer->line_a[i] = arena_array(arena, ret_answer->state_count, sizeof(double));
    }
    work_out(&trial, ret_answer);
}
