#include "combos_plan.h"

#include <math.h>
#include <stdlib.h>

/*
 * Listing: depth first over the items, largest first. A prefix never overloads; the unit that brings it over the limit
 * is the smallest of its set, so each set comes once (and is minimal, the lead's head apart). The work goes with the
 * number of sets: a prefix is visited only where the items behind it can still overload.
 */
struct walk {
    const struct plan *plan;
    const struct system *system;
    combos_visit *visit;
    void *context;
    struct combos_part *chosen;
    size_t chosen_count;
    bool *group_used;
};

static bool walk_leaf(struct walk *walk, const struct item *item, unsigned units)
{
    walk->chosen[walk->chosen_count] = (struct combos_part){item->load, units};
    size_t count = walk->chosen_count + 1;
    const struct system *system = walk->system;
    if (system->lead != NO_LEAD && item->load == system->lead) {
        walk->chosen[walk->chosen_count].units++;
    } else if (system->lead != NO_LEAD) {
        bool more = false; /* the lead's further units stand in the set already: one more of them */
        for (size_t i = 0; i < walk->chosen_count && !more; i++) {
            more = walk->chosen[i].load == system->lead;
        }
        if (!more) {
            walk->chosen[count++] = (struct combos_part){system->lead, 1};
        }
    }
    return walk->visit(walk->context, walk->chosen, count);
}

static bool walk_from(struct walk *walk, size_t start, uint64_t sum)
{
    const struct system *system = walk->system;
    const uint64_t limit = walk->plan->limit;
    for (size_t i = start; i < system->item_count && sum + system->rest[i] > limit; i++) {
        const struct item *item = &system->items[i];
        bool grouped = item->group != NO_GROUP;
        if (grouped && walk->group_used[item->group]) {
            continue;
        }
        uint64_t next = sum;
        for (unsigned units = 1; units <= item->count; units++) {
            next += item->step;
            if (next > limit) {
                if ((system->lead == NO_LEAD || next - system->head <= limit) && !walk_leaf(walk, item, units)) {
                    return false;
                }
                break;
            }
            if (next + system->rest[i + 1] <= limit) {
                continue;
            }
            /* the lead's first unit is in every set: count it with its further units */
            unsigned shown = item->load == system->lead ? units + 1 : units;
            walk->chosen[walk->chosen_count++] = (struct combos_part){item->load, shown};
            if (grouped) {
                walk->group_used[item->group] = true;
            }
            bool go_on = walk_from(walk, i + 1, next);
            if (grouped) {
                walk->group_used[item->group] = false;
            }
            walk->chosen_count--;
            if (!go_on) {
                return false;
            }
        }
    }
    return true;
}

static bool walk_system(struct walk *walk)
{
    const struct system *system = walk->system;
    walk->chosen = memory_resize(NULL, system->item_count + 2, sizeof *walk->chosen);
    walk->group_used = memory_resize(NULL, (size_t)system->group_count + 1, sizeof *walk->group_used);
    for (uint32_t i = 0; i <= system->group_count; i++) {
        walk->group_used[i] = false;
    }
    walk->chosen_count = 0;
    bool ok = true;
    if (system->base > walk->plan->limit) {
        struct combos_part alone = {system->lead, 1};
        ok = walk->visit(walk->context, &alone, 1);
    } else {
        ok = walk_from(walk, 0, system->base);
    }
    free(walk->chosen);
    free(walk->group_used);
    return ok;
}

bool combos_each(const struct combos_problem *problem, combos_visit *visit, void *context)
{
    struct plan plan;
    plan_init(&plan, problem);
    bool ok = true;
    for (size_t i = 0; i < plan.single_count && ok; i++) {
        struct combos_part alone = {plan.singles[i], 1};
        ok = visit(context, &alone, 1);
    }
    for (size_t i = 0; i < plan.system_count && ok; i++) {
        struct walk walk = {.plan = &plan, .system = &plan.systems[i], .visit = visit, .context = context};
        ok = walk_system(&walk);
    }
    plan_done(&plan);
    return ok;
}

/* The same walk, counting: a run of last units is counted in one step. */
struct count_walk {
    const struct system *system;
    uint64_t limit;
    uint64_t nodes_left;
    uint64_t found;
    bool *group_used;
};

/* First item from `start` whose step is at most `most`. */
static size_t first_at_most(const struct system *system, size_t start, uint64_t most)
{
    size_t low = start;
    size_t high = system->item_count;
    while (low < high) {
        size_t middle = low + (high - low) / 2;
        if (system->items[middle].step > most) {
            low = middle + 1;
        } else {
            high = middle;
        }
    }
    return low;
}

/* Sets that one more unit closes, of the items from `start` on; returns where the items begin that may go on. */
static size_t count_run(struct count_walk *walk, size_t start, uint64_t sum)
{
    const struct system *system = walk->system;
    uint64_t room = walk->limit - sum;
    size_t end = first_at_most(system, start, room);
    size_t begin = start;
    if (system->lead != NO_LEAD && start < system->head_place) {
        begin = first_at_most(system, start, room + system->head);
        begin = begin < end ? begin : end;
    }
    if (system->group_count == 0) {
        walk->found += end - begin;
        return end;
    }
    for (size_t i = begin; i < end; i++) {
        uint32_t group = system->items[i].group;
        walk->found += group == NO_GROUP || !walk->group_used[group];
    }
    return end;
}

static bool count_from(struct count_walk *walk, size_t start, uint64_t sum);

/* One unit or more of item `i`, and what may follow. */
static bool count_item(struct count_walk *walk, size_t i, uint64_t sum)
{
    const struct system *system = walk->system;
    const struct item *item = &system->items[i];
    uint64_t next = sum;
    for (uint32_t units = 1; units <= item->count; units++) {
        next += item->step;
        walk->nodes_left -= walk->nodes_left > 0;
        if (next > walk->limit) {
            walk->found += system->lead == NO_LEAD || next - system->head <= walk->limit;
            break;
        }
        if (next + system->rest[i + 1] > walk->limit && !count_from(walk, i + 1, next)) {
            return false;
        }
    }
    return true;
}

static bool count_from(struct count_walk *walk, size_t start, uint64_t sum)
{
    const struct system *system = walk->system;
    if (walk->nodes_left == 0) {
        return false;
    }
    walk->nodes_left--;
    for (size_t i = count_run(walk, start, sum); i < system->item_count && sum + system->rest[i] > walk->limit; i++) {
        uint32_t group = system->items[i].group;
        if (group == NO_GROUP) {
            if (!count_item(walk, i, sum)) {
                return false;
            }
        } else if (!walk->group_used[group]) {
            walk->group_used[group] = true;
            bool go_on = count_item(walk, i, sum);
            walk->group_used[group] = false;
            if (!go_on) {
                return false;
            }
        }
    }
    return true;
}

bool list_count(const struct plan *plan, const struct system *system, uint64_t *budget, struct combos_number *number)
{
    if (system->base > plan->limit) {
        number_add_small(number, 1);
        return true;
    }
    struct count_walk walk = {.system = system, .limit = plan->limit, .nodes_left = *budget};
    walk.group_used = memory_resize(NULL, (size_t)system->group_count + 1, sizeof *walk.group_used);
    for (uint32_t i = 0; i <= system->group_count; i++) {
        walk.group_used[i] = false;
    }
    bool whole = count_from(&walk, 0, system->base);
    free(walk.group_used);
    number_add_small(number, walk.found);
    *budget = walk.nodes_left;
    return whole;
}
