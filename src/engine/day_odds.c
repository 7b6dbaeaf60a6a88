#include <math.h>

#include "ampsum/arena.h"
#include "day_parts.h"

/* Motors tried as the largest, times the others beside them, times amperes: a second of work and less. */
#define MOTOR_WORK_MOST 200000.0

static size_t add_spans(const struct appliance *appliance, struct day day, size_t load, struct chance_span *ret_spans);
static double grid_for(double rating_a, size_t load_count);

double day_on_share(const struct appliance *appliance)
{
    double window_s = 0;
    for (size_t i = 0; i < appliance->use.count; i++) {
        const struct window *window = &appliance->use.window[i];
        int minutes = window->end_min - window->start_min;
        window_s += 60.0 * (minutes > 0 ? minutes : minutes + MINUTES_IN_DAY);
    }
    double whole_s = appliance->use.count > 0 ? window_s : 60.0 * MINUTES_IN_DAY;
    return fmin(1, appliance->on_time_s / whole_s);
}

/* Branches of the scope, one after another, so that their loads are totalled once each. */
static bool scope_has_branch(const struct house *house, struct day_scope scope, size_t branch)
{
    if (scope.branch != NO_INDEX) {
        return scope.branch == branch;
    }
    return (house->branches[branch].legs >> scope.leg & 1U) != 0 && day_panel_feeds(house, scope.panel, branch);
}

static size_t add_branch_loads(const struct house *house, size_t branch, bool scope_is_branch,
                               struct planning_factors factors, struct arena *arena, struct chance_load *ret_loads)
{
    const struct index_list *list = &house->branches[branch].appliances;
    struct load *loads = arena_array(arena, list->count, sizeof *loads);
    struct branch_figures figures;
    struct planning_factors without_motor = factors;
    without_motor.largest_motor = 1;
    const bool alone = scope_is_branch && branch_motors_alone(branch, factors);
    branch_total(house, branch, NULL, house->branches[branch].voltage_v, without_motor, loads, &figures);
    for (size_t i = 0; i < list->count; i++) {
        const struct appliance *appliance = &house->appliances[list->index[i]];
        bool motor = appliance->behaviour == BEHAVIOUR_MOTOR && !alone;
        double extra_a = motor ? (factors.largest_motor - 1) * loads[i].planned_a : 0;
        ret_loads[i] = (struct chance_load){
            .planning_a = loads[i].planning_a,
            .motor_unit_a = motor ? loads[i].planned_a : 0,
            .motor_extra_a = extra_a,
            .group = appliance->group_index == NO_INDEX ? CHANCE_NO_GROUP : appliance->group_index,
        };
    }
    return list->count;
}

void day_scope_loads(const struct house *house, struct day_scope scope, struct planning_factors factors,
                     struct arena *arena, struct chance_load *ret_loads)
{
    size_t first = scope.branch != NO_INDEX ? scope.branch : 0;
    size_t end = scope.branch != NO_INDEX ? scope.branch + 1 : house->branch_count;
    size_t count = 0;
    for (size_t i = first; i < end; i++) {
        if (scope_has_branch(house, scope, i)) {
            count += add_branch_loads(house, i, scope.branch != NO_INDEX, factors, arena, ret_loads + count);
        }
    }
}

/* What is asked of the odds: a scope's loads and when they may be on. */
struct odds_question {
    struct chance_load *loads;
    size_t load_count;
    struct chance_span *spans;
    size_t span_count;
    double rating_a;
};

/* Two motors in one group: then no order of the motors says which is the largest, and each is tried in turn. */
static bool group_has_motors(const struct odds_question *question)
{
    const struct chance_load *loads = question->loads;
    for (size_t i = 0; i < question->load_count; i++) {
        for (size_t k = 0; loads[i].motor_unit_a > 0 && loads[i].group != CHANCE_NO_GROUP && k < i; k++) {
            if (loads[k].motor_unit_a > 0 && loads[k].group == loads[i].group) {
                return true;
            }
        }
    }
    return false;
}

/* How often a sum is gone through for the motors that may be on at once, each tried as the largest beside the others.
 */
static double motor_work(const struct odds_question *question)
{
    double work = 0;
    for (size_t i = 0; i < question->span_count && work < MOTOR_WORK_MOST; i++) {
        double beside = 0;
        for (size_t k = 0; question->loads[question->spans[i].load].motor_unit_a > 0 && k < question->span_count; k++) {
            const struct chance_span *other = &question->spans[k];
            beside += question->loads[other->load].motor_unit_a > 0 &&
                      other->start_min <= question->spans[i].start_min && question->spans[i].start_min < other->end_min;
        }
        work += beside * beside;
    }
    return work * question->rating_a;
}

static void ask(const struct odds_question *question, double limit_a, struct chance_bounds *ret_minutes,
                struct chance_figures *ret_figures)
{
    chance_day(question->loads, question->load_count, question->spans, question->span_count, MINUTES_IN_DAY, limit_a,
               grid_for(question->rating_a, question->load_count), ret_minutes, ret_figures);
}

/*
 * Too many motors to try each: at every moment the largest adds something between nothing and the most that any of them
 * could. So the lower bound is without it, the upper one with all of it.
 */
static void ask_roughly(struct odds_question *question, struct arena *scratch, struct chance_bounds *ret_minutes,
                        struct chance_figures *ret_figures)
{
    double extra_a = 0;
    for (size_t i = 0; i < question->load_count; i++) {
        extra_a = fmax(extra_a, question->loads[i].motor_extra_a);
        question->loads[i].motor_unit_a = question->loads[i].motor_extra_a = 0;
    }
    struct chance_bounds *upper_minutes =
        ret_minutes == NULL ? NULL : arena_array(scratch, MINUTES_IN_DAY, sizeof *upper_minutes);
    struct chance_figures upper;
    ask(question, question->rating_a, ret_minutes, ret_figures);
    ask(question, fmax(question->rating_a - extra_a, question->rating_a / 1000), upper_minutes, &upper);
    for (int minute = 0; ret_minutes != NULL && minute < MINUTES_IN_DAY; minute++) {
        ret_minutes[minute].upper = upper_minutes[minute].upper;
    }
    ret_figures->time.upper = upper.time.upper;
    ret_figures->current_95_a.upper = upper.current_95_a.upper + extra_a;
    ret_figures->current_99_a.upper = upper.current_99_a.upper + extra_a;
    ret_figures->worst.upper = upper.worst.upper;
    ret_figures->worst_min = upper.worst_min;
    ret_figures->some_time_most = upper.some_time_most;
}

void day_odds(const struct house *house, struct day_scope scope, struct day day, struct planning_factors factors,
              struct arena *arena, struct chance_bounds *ret_minutes, struct chance_figures *ret_figures,
              struct index_list *ret_left_out)
{
    struct arena *scratch = arena_new();
    struct index_list all = day_scope_appliances(house, scope, scratch);
    struct chance_load *loads = arena_array(scratch, all.count, sizeof *loads);
    size_t span_room = 0;
    for (size_t i = 0; i < all.count; i++) {
        span_room += 1 + 2 * house->appliances[all.index[i]].use.count;
    }
    struct chance_span *spans = arena_array(scratch, span_room, sizeof *spans);
    size_t span_count = 0;
    *ret_left_out = (struct index_list){.index = arena_array(arena, all.count, sizeof *ret_left_out->index)};
    day_scope_loads(house, scope, factors, scratch, loads);
    for (size_t i = 0; i < all.count; i++) {
        const struct appliance *appliance = &house->appliances[all.index[i]];
        if (appliance->use.count == 0 && appliance->on_time_s <= 0) {
            ret_left_out->index[ret_left_out->count++] = all.index[i];
        }
        span_count += add_spans(appliance, day, i, spans + span_count);
    }
    struct odds_question question = {loads, all.count, spans, span_count, day_scope_rating_a(house, scope)};
    if (group_has_motors(&question) && motor_work(&question) > MOTOR_WORK_MOST) {
        ask_roughly(&question, scratch, ret_minutes, ret_figures);
    } else {
        ask(&question, question.rating_a, ret_minutes, ret_figures);
    }
    arena_free(scratch);
}

static size_t add_spans(const struct appliance *appliance, struct day day, size_t load, struct chance_span *ret_spans)
{
    double probability = day_on_share(appliance) * appliance->duty_percent / 100;
    size_t count = 0;
    if (probability <= 0) {
        return 0;
    }
    if (appliance->use.count == 0 && day_appliance_is_on(appliance, day, 0)) {
        ret_spans[count++] = (struct chance_span){load, 0, MINUTES_IN_DAY, probability};
    }
    for (size_t i = 0; i < appliance->use.count; i++) {
        struct window parts[2];
        int part_count = 0;
        day_window_part(appliance, day, i, parts, &part_count);
        for (int j = 0; j < part_count; j++) {
            ret_spans[count++] = (struct chance_span){load, parts[j].start_min, parts[j].end_min, probability};
        }
    }
    return count;
}

/* So that the day is worked out in well under a second, however large the house. */
static double grid_for(double rating_a, size_t load_count)
{
    double grid_a = CHANCE_GRID_A;
    while (rating_a > 50000 * grid_a || rating_a / grid_a * (double)load_count > 2e7) {
        grid_a *= 10;
    }
    return grid_a;
}
