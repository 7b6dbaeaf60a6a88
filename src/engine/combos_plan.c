#include "combos_plan.h"

#include <assert.h>
#include <float.h>
#include <math.h>
#include <stdlib.h>

enum { LOADS_MOST = 32768, OFF_GRID_BITS = 46, KEY_SHIFT = 13 };

#define OVER_RELATIVE 1e-9
#define GRID_STEPS_MOST 4194304.0 /* 2^22 steps to the limit: a finer grid is no help to any table */
#define ENTRIES_MOST 8388608.0    /* over all systems: some hundred megabytes */
#define FRACTION_ULPS (8 * DBL_EPSILON)

bool combos_overloads(double planning_a, double limit_a)
{
    return planning_a > limit_a * (1 + OVER_RELATIVE);
}

static double load_planning_a(const struct combos_problem *problem, const struct combos_load *load)
{
    return load->continuous ? load->unit_a * problem->continuous : load->unit_a;
}

/* What the load's unit brings more as the leading motor of a set. */
static double lead_extra_a(const struct combos_problem *problem, const struct combos_load *load)
{
    return load->motor && !load->continuous ? load->unit_a * (problem->largest_motor - 1) : 0;
}

/* True where motor `a` leads before motor `b`. */
static bool leads_before(const struct combos_problem *problem, size_t a, size_t b)
{
    double a_a = problem->loads[a].unit_a;
    double b_a = problem->loads[b].unit_a;
    return a_a > b_a || (a_a == b_a && a < b);
}

double combos_planning_a(const struct combos_problem *problem, const struct combos_part *parts, size_t part_count)
{
    double planning_a = 0;
    size_t lead = SIZE_MAX;
    for (size_t i = 0; i < part_count; i++) {
        const struct combos_load *load = &problem->loads[parts[i].load];
        if (parts[i].units == 0) {
            continue;
        }
        planning_a += parts[i].units * load_planning_a(problem, load);
        if (load->motor && (lead == SIZE_MAX || leads_before(problem, parts[i].load, lead))) {
            lead = parts[i].load;
        }
    }
    return lead == SIZE_MAX ? planning_a : planning_a + lead_extra_a(problem, &problem->loads[lead]);
}

/*
 * Denominator of the simplest fraction that equals `value` (>= 0) to the last digits of a double; 0 where none up to
 * `most` does. Continued fraction.
 */
static double fraction_denominator(double value, double most)
{
    double rest = value;
    double previous = 0;
    double denominator = 1;
    for (int i = 0; i < 40; i++) {
        double numerator = nearbyint(value * denominator);
        if (fabs(value - numerator / denominator) <= FRACTION_ULPS * value) {
            return denominator;
        }
        double part = rest - floor(rest);
        if (part <= 0) {
            return 0;
        }
        rest = 1 / part;
        double next = floor(rest) * denominator + previous;
        previous = denominator;
        denominator = next;
        if (denominator > most) {
            return 0;
        }
    }
    return 0;
}

/* Refines the grid so that value_a is a whole number of steps; false where that takes too many. */
static bool grid_take(double value_a, double limit_a, double *steps)
{
    double value = value_a / limit_a;
    double scaled = value * *steps;
    if (fabs(scaled - nearbyint(scaled)) <= FRACTION_ULPS * scaled) {
        return true;
    }
    double denominator = fraction_denominator(value, GRID_STEPS_MOST);
    if (denominator == 0) {
        return false;
    }
    double a = *steps;
    double b = denominator;
    while (b > 0) {
        double c = fmod(a, b);
        a = b;
        b = c;
    }
    double wanted = *steps / a * denominator;
    *steps = wanted;
    return wanted <= GRID_STEPS_MOST;
}

/* Steps to the limit such that every current is a whole number of them; 0 where there is no such grid. */
static double grid_steps(const struct combos_problem *problem, const bool *is_single)
{
    double steps = 1;
    for (size_t i = 0; i < problem->load_count; i++) {
        const struct combos_load *load = &problem->loads[i];
        double extra_a = lead_extra_a(problem, load);
        if (is_single[i]) {
            continue;
        }
        if (!grid_take(load_planning_a(problem, load), problem->limit_a, &steps) ||
            (extra_a > 0 && !grid_take(extra_a, problem->limit_a, &steps))) {
            return 0;
        }
    }
    return steps;
}

/*
 * Units that can matter. On a grid each step is off by a few ulps of its own current, so that a sum of up to twice the
 * limit is off by some 1e-15 of the limit, far inside the 1e-9 that parts "at the limit" from "over".
 */
static uint32_t useful_count(const struct combos_load *load, uint64_t step, uint64_t limit)
{
    uint64_t most = limit / step + 1;
    return load->count < most ? load->count : (uint32_t)most;
}

static uint64_t to_steps(const struct plan *plan, double steps, double value_a)
{
    return (uint64_t)llround(value_a / plan->problem->limit_a * steps);
}

static int item_order(const void *left, const void *right)
{
    const struct item *a = left;
    const struct item *b = right;
    if (a->step != b->step) {
        return a->step > b->step ? -1 : 1;
    }
    return a->load < b->load ? -1 : a->load > b->load;
}

/* Which loads may stand beside the lead: no larger motor, no other member of its group, nothing that overloads alone.
 */
static bool may_stand(const struct plan *plan, uint32_t lead, size_t load, const bool *is_single)
{
    const struct combos_load *loads = plan->problem->loads;
    bool leads_matter = plan->problem->largest_motor > 1;
    if (is_single[load]) {
        return false;
    }
    if (lead == NO_LEAD) {
        return !(leads_matter && loads[load].motor);
    }
    if (load == lead) {
        return loads[load].count > 1;
    }
    if (loads[load].motor && leads_before(plan->problem, load, lead)) {
        return false;
    }
    return loads[load].group == COMBOS_NO_GROUP || loads[load].group != loads[lead].group;
}

static void system_items(struct plan *plan, struct system *system, double steps, const bool *is_single)
{
    const struct combos_problem *problem = plan->problem;
    system->items = arena_array(plan->arena, problem->load_count, sizeof *system->items);
    for (size_t i = 0; i < problem->load_count; i++) {
        const struct combos_load *load = &problem->loads[i];
        uint64_t step = to_steps(plan, steps, load_planning_a(problem, load));
        if (step == 0 || !may_stand(plan, system->lead, i, is_single)) {
            continue;
        }
        struct item *item = &system->items[system->item_count++];
        *item = (struct item){step, useful_count(load, step, plan->limit), (uint32_t)i, NO_GROUP};
        if (i == system->lead && item->count > 1) {
            item->count--;
        }
    }
    qsort(system->items, system->item_count, sizeof *system->items, item_order);
}

/* Numbers the groups of which two members or more may stand in the system. */
static void system_groups(struct plan *plan, struct system *system)
{
    const struct combos_load *loads = plan->problem->loads;
    for (size_t i = 0; i < system->item_count; i++) {
        size_t group = loads[system->items[i].load].group;
        if (group == COMBOS_NO_GROUP || system->items[i].group != NO_GROUP || system->items[i].load == system->lead) {
            continue;
        }
        bool found = false;
        for (size_t j = i + 1; j < system->item_count; j++) {
            if (loads[system->items[j].load].group == group) {
                system->items[j].group = system->group_count;
                found = true;
            }
        }
        if (found) {
            system->items[i].group = system->group_count++;
        }
    }
}

static void system_rest(struct plan *plan, struct system *system)
{
    uint64_t *group_most = arena_array(plan->arena, system->group_count, sizeof *group_most);
    system->rest = arena_array(plan->arena, system->item_count + 1, sizeof *system->rest);
    for (size_t i = system->item_count; i-- > 0;) {
        const struct item *item = &system->items[i];
        uint64_t all = item->step * item->count;
        system->rest[i] = system->rest[i + 1] + all;
        if (item->group != NO_GROUP) {
            uint64_t most = group_most[item->group];
            system->rest[i] = system->rest[i + 1] + (all > most ? all - most : 0);
            group_most[item->group] = all > most ? all : most;
        }
    }
}

static void system_sums(struct plan *plan, struct system *system)
{
    size_t n = system->item_count;
    size_t *by_file = arena_array(plan->arena, n, sizeof *by_file);
    size_t *place = arena_array(plan->arena, plan->problem->load_count, sizeof *place);
    system->first = arena_array(plan->arena, n + 1, sizeof *system->first);
    for (size_t i = 0; i < n; i++) {
        system->first[i + 1] = system->first[i] + system->items[i].count;
        system->head_place += system->lead != NO_LEAD && system->items[i].step > system->head;
        place[system->items[i].load] = i + 1;
    }
    system->before = arena_array(plan->arena, system->first[n] + 1, sizeof *system->before);
    size_t unit = 0;
    for (size_t i = 0; i < n; i++) {
        for (uint32_t k = 0; k < system->items[i].count; k++, unit++) {
            system->before[unit + 1] = system->before[unit] + system->items[i].step;
        }
    }
    size_t used = 0;
    for (size_t load = 0; load < plan->problem->load_count; load++) {
        if (place[load] > 0) {
            by_file[used++] = place[load] - 1;
        }
    }
    system->by_file = by_file;
}

static void system_init(struct plan *plan, struct system *system, uint32_t lead, double steps, const bool *is_single)
{
    system->lead = lead;
    system->head = UINT64_MAX;
    if (lead != NO_LEAD) {
        const struct combos_load *load = &plan->problem->loads[lead];
        system->head = to_steps(plan, steps, load_planning_a(plan->problem, load)) +
                       to_steps(plan, steps, lead_extra_a(plan->problem, load));
        system->base = system->head;
    }
    system_items(plan, system, steps, is_single);
    system_groups(plan, system);
    system_rest(plan, system);
    system_sums(plan, system);
}

/* Loads that overload alone; they are in no other minimal set. */
static void find_singles(struct plan *plan, bool *is_single)
{
    const struct combos_problem *problem = plan->problem;
    plan->singles = arena_array(plan->arena, problem->load_count, sizeof *plan->singles);
    for (size_t i = 0; i < problem->load_count; i++) {
        assert(isfinite(problem->loads[i].unit_a) && problem->loads[i].unit_a >= 0 && problem->loads[i].count >= 1);
        struct combos_part one = {i, 1};
        if (combos_overloads(combos_planning_a(problem, &one, 1), problem->limit_a)) {
            is_single[i] = true;
            plan->singles[plan->single_count++] = (uint32_t)i;
        }
    }
}

/* Whether the systems stay in memory: their number times what one of them holds. */
static bool fits(const struct plan *plan, const bool *is_single, size_t lead_count)
{
    double entries = 0;
    for (size_t i = 0; i < plan->problem->load_count; i++) {
        const struct combos_load *load = &plan->problem->loads[i];
        double most = plan->problem->limit_a / load_planning_a(plan->problem, load) + 1;
        entries += is_single[i] ? 0 : 4 + (load->count < most ? load->count : most);
    }
    return entries * (double)(lead_count + 1) <= ENTRIES_MOST;
}

static size_t count_leads(const struct combos_problem *problem, const bool *is_single)
{
    size_t leads = 0;
    for (size_t i = 0; problem->largest_motor > 1 && i < problem->load_count; i++) {
        leads += problem->loads[i].motor && !is_single[i];
    }
    return leads;
}

void plan_init(struct plan *plan, const struct combos_problem *problem)
{
    assert(problem->limit_a > 0 && problem->continuous >= 1 && problem->continuous <= 2);
    assert(problem->largest_motor == 1 || problem->largest_motor == problem->continuous);
    *plan = (struct plan){.arena = arena_new(), .problem = problem, .shift = KEY_SHIFT};
    bool *is_single = arena_array(plan->arena, problem->load_count, sizeof *is_single);
    find_singles(plan, is_single);
    size_t lead_count = count_leads(problem, is_single);
    plan->too_big = problem->load_count > LOADS_MOST || !fits(plan, is_single, lead_count);
    if (plan->too_big) {
        return;
    }
    double steps = grid_steps(problem, is_single);
    plan->on_grid = steps > 0;
    steps = plan->on_grid ? steps : ldexp(1, OFF_GRID_BITS);
    plan->limit = plan->on_grid ? (uint64_t)steps : (uint64_t)(steps * (1 + OVER_RELATIVE));
    plan->systems = arena_array(plan->arena, lead_count + 1, sizeof *plan->systems);
    system_init(plan, &plan->systems[plan->system_count++], NO_LEAD, steps, is_single);
    for (size_t i = 0; lead_count > 0 && i < problem->load_count; i++) {
        if (problem->loads[i].motor && !is_single[i]) {
            system_init(plan, &plan->systems[plan->system_count++], (uint32_t)i, steps, is_single);
        }
    }
}

void plan_done(struct plan *plan)
{
    arena_free(plan->arena);
    plan->arena = NULL;
}

void parts_sort(struct combos_part *parts, size_t part_count)
{
    for (size_t i = 1; i < part_count; i++) {
        struct combos_part part = parts[i];
        size_t j = i;
        for (; j > 0 && parts[j - 1].load > part.load; j--) {
            parts[j] = parts[j - 1];
        }
        parts[j] = part;
    }
}

int parts_compare(const struct combos_part *a, size_t a_count, const struct combos_part *b, size_t b_count)
{
    for (size_t i = 0; i < a_count && i < b_count; i++) {
        if (a[i].load != b[i].load) {
            return a[i].load < b[i].load ? -1 : 1;
        }
        if (a[i].units != b[i].units) {
            /* the one with more of this load still shows it where the other has gone on to a later load */
            return a[i].units > b[i].units ? -1 : 1;
        }
    }
    return 0;
}
