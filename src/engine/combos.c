#include "combos_best.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

/*
 * The first sets in order: one number of units after another; within it depth first with the largest items first, cut
 * by what the best `most` sets found so far have left over. Bounds for a prefix of sum s that wants r units more from
 * item i on: it can't overload unless s and the r largest do; the set's sum is at most (limit, or s and the r - 1
 * largest) and the r-th largest; s and the r - 1 smallest but one must not overload.
 */

#define NODES_MOST 10000000 /* over all sizes; about half a second */

struct search {
    const struct plan *plan;
    const struct system *system;
    struct best best;
    struct combos_part *chosen; /* of the system, in its order; the lead is not in */
    size_t chosen_count;
    struct combos_part *scratch;
    bool *group_used;
    uint64_t nodes_left;
};

static void offer(struct search *search, uint64_t sum, const struct combos_part *last)
{
    size_t count = search->chosen_count;
    if (last != NULL) {
        search->chosen[count++] = *last;
    }
    best_offer(&search->best, plan_key(search->plan, sum), search->chosen, count, search->system->lead);
}

/* Upper bound on the sum of a set made of the prefix and r units from the unit `unit` of the system on. */
static uint64_t sum_at_most(const struct search *search, uint64_t sum, size_t unit, uint64_t r)
{
    const uint64_t *before = search->system->before;
    uint64_t without_last = sum + (before[unit + r - 1] - before[unit]);
    uint64_t limit = search->plan->limit;
    uint64_t most = (without_last < limit ? without_last : limit) + (before[unit + r] - before[unit + r - 1]);
    return search->system->lead != NO_LEAD && most > limit + search->system->head ? limit + search->system->head : most;
}

/* True where nothing from item i on can bring a set that is still wanted; *ret_stop where that holds for later items.
 */
static bool hopeless(const struct search *search, size_t i, uint64_t sum, uint64_t r, bool *ret_stop)
{
    const struct system *system = search->system;
    size_t unit = system->first[i];
    *ret_stop = true;
    if (unit + r > system->first[system->item_count] ||
        sum + (system->before[unit + r] - system->before[unit]) <= search->plan->limit) {
        return true;
    }
    if (!search->best.full) {
        return false;
    }
    uint64_t key = plan_key(search->plan, sum_at_most(search, sum, unit, r));
    if (key != search->best.worst_key) {
        return key < search->best.worst_key;
    }
    *ret_stop = false; /* later items may stand earlier in the file */
    return best_too_late(&search->best, system, search->chosen, search->chosen_count, i, r, search->scratch);
}

static void search_from(struct search *search, size_t start, uint64_t sum, uint64_t r);

/* Sets that have some units of item i, then items behind it; r units are wanted. */
static void search_item(struct search *search, size_t i, uint64_t sum, uint64_t r)
{
    const struct system *system = search->system;
    const struct item *item = &system->items[i];
    const uint64_t limit = search->plan->limit;
    uint64_t to_over = item->count == 1 ? 1 + (sum + item->step <= limit) : (limit - sum) / item->step + 1;
    uint64_t units = item->count < r ? item->count : r;
    if (units >= to_over) {
        uint64_t total = sum + to_over * item->step;
        if (to_over == r && (system->lead == NO_LEAD || total - system->head <= limit)) {
            offer(search, total, &(struct combos_part){item->load, (unsigned)to_over});
        }
        units = to_over - 1;
    }
    units = units < r ? units : r - 1; /* r units that do not overload are no set */
    for (; units > 0; units--) {
        search->chosen[search->chosen_count++] = (struct combos_part){item->load, (unsigned)units};
        search_from(search, i + 1, sum + units * item->step, r - units);
        search->chosen_count--;
    }
}

static void search_from(struct search *search, size_t start, uint64_t sum, uint64_t r)
{
    const struct system *system = search->system;
    size_t unit_count = system->first[system->item_count];
    if (search->nodes_left == 0 || r > unit_count ||
        sum + (system->before[unit_count - 1] - system->before[unit_count - r]) > search->plan->limit) {
        return; /* even the smallest r - 1 of all overload before the last is in */
    }
    search->nodes_left--;
    bool stop = false;
    for (size_t i = start; i < system->item_count; i++) {
        uint32_t group = system->items[i].group;
        if (hopeless(search, i, sum, r, &stop)) {
            if (stop) {
                return;
            }
        } else if (group == NO_GROUP) {
            search_item(search, i, sum, r);
        } else if (!search->group_used[group]) {
            search->group_used[group] = true;
            search_item(search, i, sum, r);
            search->group_used[group] = false;
        }
    }
}

static void search_system(struct search *search, const struct system *system, uint64_t size)
{
    search->system = system;
    search->chosen_count = 0;
    if (system->base > search->plan->limit) {
        if (size == 1) {
            offer(search, system->base, NULL);
        }
    } else if (system->lead == NO_LEAD) {
        search_from(search, 0, 0, size);
    } else if (size > 1) {
        search_from(search, 0, system->base, size - 1);
    }
}

/* The number of units beyond which no set of the system is minimal: its smallest units overload without the last. */
static uint64_t size_most(const struct plan *plan, const struct system *system)
{
    size_t units = system->first[system->item_count];
    uint64_t sum = system->base;
    uint64_t size = 0;
    while (size < units && sum <= plan->limit) {
        sum += system->before[units - size] - system->before[units - size - 1];
        size++;
    }
    return size + 1;
}

static int single_order(const void *left, const void *right)
{
    const struct combos_set *a = left;
    const struct combos_set *b = right;
    if (fabs(a->planning_a - b->planning_a) > 1e-10 * fmax(a->planning_a, b->planning_a)) {
        return a->planning_a > b->planning_a ? -1 : 1;
    }
    return a->parts[0].load < b->parts[0].load ? -1 : a->parts[0].load > b->parts[0].load;
}

/* Loads that overload alone: every other set is larger. */
static void add_singles(const struct plan *plan, size_t most, struct combos_list *list)
{
    if (plan->single_count == 0) {
        return;
    }
    struct combos_list all = {.arena = list->arena};
    for (size_t i = 0; i < plan->single_count; i++) {
        struct combos_part alone = {plan->singles[i], 1};
        list_add(&all, plan->problem, &alone, 1);
    }
    qsort(all.sets, all.set_count, sizeof *all.sets, single_order);
    for (size_t i = 0; i < all.set_count && list->set_count < most; i++) {
        list_add(list, plan->problem, all.sets[i].parts, all.sets[i].part_count);
    }
    free(all.sets);
}

/* All sets of `size` units that are still wanted, in order, onto the list. */
static void add_size(struct search *search, uint64_t size, size_t most, struct combos_list *list)
{
    const struct plan *plan = search->plan;
    size_t loads = plan->problem->load_count;
    best_init(&search->best, plan->problem, most - list->set_count, size < loads ? (size_t)size : loads);
    for (size_t i = 0; i < plan->system_count; i++) {
        search_system(search, &plan->systems[i], size);
    }
    const size_t found = best_keep(&search->best);
    for (size_t i = 0; i < found; i++) {
        size_t count;
        const struct combos_part *parts = best_set(&search->best, i, &count);
        list_add(list, plan->problem, parts, count);
    }
    best_done(&search->best);
}

static void add_sizes(const struct plan *plan, size_t most, struct combos_list *list)
{
    uint64_t last = 0;
    uint32_t groups = 0;
    for (size_t i = 0; i < plan->system_count; i++) {
        uint64_t size = size_most(plan, &plan->systems[i]);
        last = size > last ? size : last;
        groups = plan->systems[i].group_count > groups ? plan->systems[i].group_count : groups;
    }
    struct search search = {.plan = plan, .nodes_left = NODES_MOST};
    size_t loads = plan->problem->load_count;
    search.chosen = arena_array(plan->arena, loads + 2, sizeof *search.chosen);
    search.scratch = arena_array(plan->arena, 2 * loads + 4, sizeof *search.scratch);
    search.group_used = arena_array(plan->arena, groups, sizeof *search.group_used);
    for (uint64_t size = 1; size <= last && list->set_count < most && search.nodes_left > 0; size++) {
        add_size(&search, size, most, list);
    }
    list->in_order = list->in_order && search.nodes_left > 0;
}

void combos_first(const struct combos_problem *problem, size_t most, struct combos_list *ret_list)
{
    struct plan plan;
    plan_init(&plan, problem);
    most = most < LIST_MOST ? most : LIST_MOST;
    struct combos_list list = {.in_order = !plan.too_big, .arena = arena_new()};
    add_singles(&plan, most, &list);
    if (!plan.too_big && list.set_count < most) {
        add_sizes(&plan, most, &list);
    }
    plan_done(&plan);
    *ret_list = list;
}
