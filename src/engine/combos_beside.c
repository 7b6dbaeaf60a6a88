#include "combos_best.h"

#include <assert.h>
#include <string.h>

/*
 * What may run beside a load: sets that do not overload and to which nothing can be added. One number of units after
 * another, the largest first; within it depth first, the largest items first. Whoever passes over a unit must end so
 * near the limit that this unit would not fit: with the sum that can still be reached, that cuts nearly all.
 */

#define NODES_MOST 5000000 /* over all sizes; some half a second */

struct companions {
    const struct plan *plan;
    const struct system *system;
    struct combos_part fixed;
    struct best best;
    struct combos_part *chosen; /* beside the fixed load and a lead that is not the fixed load */
    size_t chosen_count;
    struct combos_part *scratch;
    bool *group_used;
    bool lead_is_companion;
    struct system own; /* the system without what can't stand beside the fixed load */
    uint64_t nodes_left;
};

/* The set with the fixed load, parts in no order; room for the chosen ones and two more. */
static size_t whole_set(const struct companions *run, struct combos_part *parts)
{
    size_t count = run->chosen_count;
    memcpy(parts, run->chosen, count * sizeof *parts);
    if (run->lead_is_companion) {
        size_t i = 0;
        while (i < count && parts[i].load != run->system->lead) {
            i++;
        }
        if (i == count) {
            parts[count++] = (struct combos_part){run->system->lead, 0};
        }
        parts[i].units++;
    }
    parts[count++] = run->fixed;
    return count;
}

static bool group_taken(const struct combos_problem *problem, const struct combos_part *parts, size_t count,
                        size_t load)
{
    for (size_t i = 0; i < count && problem->loads[load].group != COMBOS_NO_GROUP; i++) {
        if (parts[i].load != load && problem->loads[parts[i].load].group == problem->loads[load].group) {
            return true;
        }
    }
    return false;
}

/* True where one more unit of some load would still run. */
static bool can_grow(const struct companions *run)
{
    const struct combos_problem *problem = run->plan->problem;
    struct combos_part *parts = run->scratch;
    size_t count = whole_set(run, parts);
    for (size_t load = 0; load < problem->load_count; load++) {
        size_t i = 0;
        while (i < count && parts[i].load != load) {
            i++;
        }
        if (load == run->fixed.load || group_taken(problem, parts, count, load) ||
            (i < count && parts[i].units >= problem->loads[load].count)) {
            continue;
        }
        unsigned before = i < count ? parts[i].units : 0;
        parts[i] = (struct combos_part){load, before + 1};
        bool grows =
            !combos_overloads(combos_planning_a(problem, parts, i < count ? count : count + 1), problem->limit_a);
        parts[i].units = before;
        if (grows) {
            return true;
        }
    }
    return false;
}

/* `passed`: the smallest step of a unit that was passed over and has no group, UINT64_MAX for none. */
static void companions_from(struct companions *run, size_t start, uint64_t sum, uint64_t r, uint64_t passed)
{
    const struct system *system = &run->own;
    const uint64_t limit = run->plan->limit;
    if (run->nodes_left == 0) {
        return;
    }
    run->nodes_left--;
    if (r == 0) {
        uint64_t work = run->plan->problem->load_count; /* the look below tries every load */
        run->nodes_left -= run->nodes_left < work ? run->nodes_left : work;
        if (!can_grow(run)) {
            best_offer(&run->best, plan_key(run->plan, sum), run->chosen, run->chosen_count,
                       run->lead_is_companion ? system->lead : NO_LEAD);
        }
        return;
    }
    size_t unit_count = system->first[system->item_count];
    if (r > unit_count || sum + (system->before[unit_count] - system->before[unit_count - r]) > limit) {
        return; /* not even the r smallest fit */
    }
    for (size_t i = start; i < system->item_count; i++) {
        const struct item *item = &system->items[i];
        size_t unit = system->first[i];
        if (unit + r > unit_count) {
            return;
        }
        uint64_t most = sum + (system->before[unit + r] - system->before[unit]);
        most = most < limit ? most : limit;
        uint64_t key = plan_key(run->plan, most);
        if ((passed <= limit && most + passed <= limit) || (run->best.full && key < run->best.worst_key)) {
            return;
        }
        bool grouped = item->group != NO_GROUP;
        bool late = run->best.full && key == run->best.worst_key &&
                    best_too_late(&run->best, system, run->chosen, run->chosen_count, i, r, run->scratch);
        if (!late && !(grouped && run->group_used[item->group])) {
            uint64_t units = (limit - sum) / item->step;
            units = units < item->count ? units : item->count;
            for (units = units < r ? units : r; units > 0; units--) {
                uint64_t left = !grouped && units < item->count ? item->step : passed;
                run->chosen[run->chosen_count++] = (struct combos_part){item->load, (unsigned)units};
                if (grouped) {
                    run->group_used[item->group] = true;
                }
                companions_from(run, i + 1, sum + units * item->step, r - units, left < passed ? left : passed);
                if (grouped) {
                    run->group_used[item->group] = false;
                }
                run->chosen_count--;
            }
        }
        if (!grouped && item->step < passed) {
            passed = item->step;
        }
    }
}

/*
 * The system without the fixed load and its group: `own`, with `base` the sum of lead and fixed units. False where the
 * fixed load can't stand in the system.
 */
static bool own_system(struct companions *run, struct arena *arena)
{
    const struct system *from = run->system;
    const struct combos_load *loads = run->plan->problem->loads;
    const struct combos_part fixed = run->fixed;
    bool is_lead = from->lead == fixed.load;
    bool found = is_lead;
    struct system *own = &run->own;
    *own = (struct system){.lead = from->lead, .base = from->base, .group_count = from->group_count};
    own->items = arena_array(arena, from->item_count, sizeof *own->items);
    for (size_t i = 0; i < from->item_count; i++) {
        const struct item *item = &from->items[i];
        if (item->load == fixed.load) {
            found = true;
            own->base += item->step * (is_lead ? fixed.units - 1 : fixed.units);
        } else if (loads[fixed.load].group == COMBOS_NO_GROUP || loads[item->load].group != loads[fixed.load].group) {
            own->items[own->item_count++] = *item;
        }
    }
    run->lead_is_companion = from->lead != NO_LEAD && !is_lead;
    return found && own->base <= run->plan->limit;
}

/* The sums and the file order of `own`. */
static void own_sums(struct companions *run, struct arena *arena)
{
    struct system *own = &run->own;
    const struct system *from = run->system;
    size_t *by_file = arena_array(arena, own->item_count, sizeof *by_file);
    own->first = arena_array(arena, own->item_count + 1, sizeof *own->first);
    for (size_t i = 0; i < own->item_count; i++) {
        own->first[i + 1] = own->first[i] + own->items[i].count;
    }
    own->before = arena_array(arena, own->first[own->item_count] + 1, sizeof *own->before);
    for (size_t i = 0, unit = 0; i < own->item_count; i++) {
        for (uint32_t k = 0; k < own->items[i].count; k++, unit++) {
            own->before[unit + 1] = own->before[unit] + own->items[i].step;
        }
    }
    size_t *place = arena_array(arena, run->plan->problem->load_count, sizeof *place);
    for (size_t i = 0; i < own->item_count; i++) {
        place[own->items[i].load] = i + 1;
    }
    size_t used = 0;
    for (size_t k = 0; k < from->item_count; k++) {
        size_t at = place[from->items[from->by_file[k]].load];
        if (at > 0) {
            by_file[used++] = at - 1;
        }
    }
    own->by_file = by_file;
}

/* The largest number of companions in the system. */
static uint64_t companions_most(const struct companions *run)
{
    const struct system *own = &run->own;
    size_t units = own->first[own->item_count];
    uint64_t sum = own->base;
    uint64_t size = 0;
    while (size < units && sum + (own->before[units - size] - own->before[units - size - 1]) <= run->plan->limit) {
        sum += own->before[units - size] - own->before[units - size - 1];
        size++;
    }
    return size + run->lead_is_companion;
}

static void add_companions(struct companions *run, struct companions *systems, size_t system_count, uint64_t size,
                           size_t most, struct combos_list *list)
{
    size_t loads = run->plan->problem->load_count;
    best_init(&run->best, NULL, most - list->set_count, loads + 2);
    for (size_t i = 0; i < system_count; i++) {
        run->system = systems[i].system;
        run->own = systems[i].own;
        run->lead_is_companion = systems[i].lead_is_companion;
        if (size >= run->lead_is_companion) {
            companions_from(run, 0, run->own.base, size - run->lead_is_companion, UINT64_MAX);
        }
    }
    best_keep(&run->best);
    for (size_t i = 0; i < run->best.found_count; i++) {
        list_add(list, run->plan->problem, run->best.found[i].parts, run->best.found[i].part_count);
        struct combos_part *whole = run->scratch;
        size_t count = run->best.found[i].part_count;
        memcpy(whole, run->best.found[i].parts, count * sizeof *whole);
        whole[count++] = run->fixed;
        list->sets[list->set_count - 1].planning_a = combos_planning_a(run->plan->problem, whole, count);
    }
    best_done(&run->best);
}

static void find_companions(struct plan *plan, struct combos_part fixed, size_t most, struct combos_list *list)
{
    size_t loads = plan->problem->load_count;
    struct companions run = {.plan = plan, .fixed = fixed, .nodes_left = NODES_MOST};
    run.chosen = arena_array(plan->arena, loads + 2, sizeof *run.chosen);
    run.scratch = arena_array(plan->arena, 2 * loads + 4, sizeof *run.scratch);
    run.group_used = arena_array(plan->arena, loads + 1, sizeof *run.group_used);
    struct companions *systems = arena_array(plan->arena, plan->system_count, sizeof *systems);
    size_t system_count = 0;
    uint64_t largest = 0;
    for (size_t i = 0; i < plan->system_count; i++) {
        run.system = &plan->systems[i];
        if (own_system(&run, plan->arena)) {
            own_sums(&run, plan->arena);
            systems[system_count++] = run;
            uint64_t size = companions_most(&run);
            largest = size > largest ? size : largest;
        }
    }
    for (uint64_t size = largest + 1; size-- > 0 && list->set_count < most && run.nodes_left > 0;) {
        add_companions(&run, systems, system_count, size, most, list);
    }
    list->in_order = run.nodes_left > 0;
}

void combos_beside(const struct combos_problem *problem, struct combos_part fixed, size_t most,
                   struct combos_list *ret_list)
{
    assert(fixed.load < problem->load_count && fixed.units >= 1);
    struct plan plan;
    plan_init(&plan, problem);
    struct combos_list list = {.in_order = !plan.too_big, .arena = arena_new()};
    if (!plan.too_big && !combos_overloads(combos_planning_a(problem, &fixed, 1), problem->limit_a)) {
        find_companions(&plan, fixed, most < LIST_MOST ? most : LIST_MOST, &list);
    }
    plan_done(&plan);
    *ret_list = list;
}
