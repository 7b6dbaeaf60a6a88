#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/decide.h"
#include "moments.h"
#include "on_sets.h"

/* Beyond these a house has too many moments to tell apart: minutes of work, not seconds. */
#define LOOKS_MOST 2e8
enum { MOMENTS_MOST = 2000, WORD_BITS = 64 };

/* Rooms as bits: which rooms a branch serves, or an appliance can be carried to. */
struct rooms {
    uint64_t *served; /* branch_count rows of `words` */
    size_t words;
};

static struct rooms rooms_served(const struct house *house, struct arena *arena)
{
    struct rooms rooms = {.words = house->room_count / WORD_BITS + 1};
    rooms.served = arena_array(arena, house->branch_count * rooms.words, sizeof *rooms.served);
    for (size_t i = 0; i < house->branch_count; i++) {
        struct index_list list = house_branch_serves(house, i, arena);
        for (size_t k = 0; k < list.count; k++) {
            rooms.served[i * rooms.words + list.index[k] / WORD_BITS] |= UINT64_C(1) << (list.index[k] % WORD_BITS);
        }
    }
    return rooms;
}

/* Adds all rooms of the floors on which the rooms in `reach` are. */
static void widen_to_floor(const struct house *house, uint64_t *reach)
{
    for (size_t i = 0; i < house->room_count; i++) {
        const char *floor = house->rooms[i].floor;
        bool in = (reach[i / WORD_BITS] >> (i % WORD_BITS) & 1U) != 0;
        for (size_t k = 0; in && floor != NULL && k < house->room_count; k++) {
            if (house->rooms[k].floor != NULL && strcmp(house->rooms[k].floor, floor) == 0) {
                reach[k / WORD_BITS] |= UINT64_C(1) << (k % WORD_BITS);
            }
        }
    }
}

static bool rooms_meet(const uint64_t *a, const uint64_t *b, size_t words)
{
    for (size_t i = 0; i < words; i++) {
        if ((a[i] & b[i]) != 0) {
            return true;
        }
    }
    return false;
}

/* Every room that the branch serves has water in it or lies outdoors: nothing is carried there. */
static bool is_by_water(const struct house *house, const struct rooms *rooms, size_t branch)
{
    bool any = false;
    bool dry = false;
    for (size_t i = 0; i < house->room_count; i++) {
        bool in = (rooms->served[branch * rooms->words + i / WORD_BITS] >> (i % WORD_BITS) & 1U) != 0;
        int kind = house->rooms[i].kind;
        any = any || in;
        dry = dry || (in && kind != ROOM_BATH && kind != ROOM_OUTDOORS && kind != ROOM_POOL);
    }
    return any && !dry;
}

static struct settle_option option_on(const struct house *house, size_t index, size_t branch,
                                      struct planning_factors factors)
{
    const struct appliance *appliance = &house->appliances[index];
    const struct branch *what = &house->branches[branch];
    struct draw draw = appliance_draw(house, appliance, what->voltage_v);
    double unit_current_a = appliance_line_a(house, appliance, draw.apparent_va, what->voltage_v);
    double planned_a = appliance_planned_a(index, unit_current_a, factors);
    /* A share that cooking has on its own branch is not taken along to another. */
    double unit_a = branch == appliance->branch ? planned_a : fmax(planned_a, unit_current_a);
    double planning_a = appliance->count * unit_a * appliance_continuous_factor(house, index, factors);
    return (struct settle_option){branch, planning_a, unit_a};
}

static void add_options(const struct house *house, size_t index, enum decide_reach reach, const bool *takes_plugs,
                        struct planning_factors factors, const struct rooms *rooms, struct arena *arena,
                        struct settle_load *load)
{
    const struct appliance *appliance = &house->appliances[index];
    const struct branch *home = &house->branches[appliance->branch];
    uint64_t *within = arena_array(arena, rooms->words, sizeof *within);
    if (appliance->room == NO_INDEX) {
        memcpy(within, rooms->served + appliance->branch * rooms->words, rooms->words * sizeof *within);
    } else {
        within[appliance->room / WORD_BITS] |= UINT64_C(1) << (appliance->room % WORD_BITS);
    }
    if (reach == REACH_FLOOR) {
        widen_to_floor(house, within);
    }
    struct settle_option *options = memory_resize(NULL, house->branch_count + 1, sizeof *options);
    options[0] = option_on(house, index, appliance->branch, factors);
    size_t count = 1;
    for (size_t i = 0; i < house->branch_count && !appliance->fixed; i++) {
        const struct branch *branch = &house->branches[i];
        bool near = reach == REACH_HOUSE || rooms_meet(within, rooms->served + i * rooms->words, rooms->words);
        if (i != appliance->branch && near && takes_plugs[i] && branch->poles == home->poles &&
            branch->voltage_v == home->voltage_v) {
            options[count++] = option_on(house, index, i, factors);
        }
    }
    struct settle_option *kept = arena_array(arena, count, sizeof *kept);
    memcpy(kept, options, count * sizeof *kept);
    free(options);
    load->options = kept;
    load->option_count = count;
    /* Where motors are alone and nothing can be plugged in beside them, none of them takes an extra. */
    bool stays_alone = branch_motors_alone(appliance->branch, factors) && !takes_plugs[appliance->branch];
    load->motor = appliance->behaviour == BEHAVIOUR_MOTOR && !stays_alone;
    load->group = appliance->group_index == NO_INDEX ? SETTLE_NO_GROUP : appliance->group_index;
}

/* False where there are too many. */
static bool find_sets(const struct house *house, struct on_sets *sets)
{
    size_t *index = memory_resize(NULL, house->appliance_count, sizeof *index);
    for (size_t i = 0; i < house->appliance_count; i++) {
        index[i] = i;
    }
    on_sets_init(sets, house->appliance_count);
    uint64_t *set = memory_resize(NULL, sets->words, sizeof *set);
    struct moments moments;
    moments_init(&moments, house, index, house->appliance_count);
    bool whole = (double)moments_count(&moments) * (double)house->appliance_count <= LOOKS_MOST;
    struct moment at;
    int end_min = 0;
    while (whole && moments_next(&moments, &at, &end_min)) {
        memset(set, 0, sets->words * sizeof *set);
        for (size_t i = 0; i < house->appliance_count; i++) {
            set[i / WORD_BITS] |= (uint64_t)appliance_is_on(&house->appliances[i], at) << (i % WORD_BITS);
        }
        on_sets_add(sets, set);
        whole = sets->count <= MOMENTS_MOST;
    }
    moments_done(&moments);
    free(set);
    free(index);
    return whole;
}

/* The moments of the problem; one with everything on where there are too many. */
static bool add_moments(const struct house *house, struct arena *arena, struct settle_problem *problem)
{
    struct on_sets sets = {0};
    bool whole = find_sets(house, &sets);
    if (whole && sets.count > 0) {
        bool *is_on = arena_array(arena, house->appliance_count * sets.count, sizeof *is_on);
        for (size_t i = 0; i < house->appliance_count; i++) {
            for (size_t k = 0; k < sets.count; k++) {
                is_on[i * sets.count + k] = on_sets_has(&sets, k, i);
            }
        }
        problem->is_on = is_on;
        problem->moment_count = sets.count;
    }
    on_sets_done(&sets);
    return whole;
}

struct decide_settle decide_settle(const struct house *house, enum decide_reach reach, bool everything_on,
                                   struct planning_factors factors, struct arena *arena)
{
    struct settle_load *loads = arena_array(arena, house->appliance_count, sizeof *loads);
    double *limit_a = arena_array(arena, house->branch_count, sizeof *limit_a);
    struct rooms rooms = rooms_served(house, arena);
    bool *takes_plugs = arena_array(arena, house->branch_count, sizeof *takes_plugs);
    for (size_t i = 0; i < house->branch_count; i++) {
        takes_plugs[i] = decide_takes_plugs(house, i, NO_INDEX) && !is_by_water(house, &rooms, i);
    }
    for (size_t i = 0; i < house->appliance_count; i++) {
        add_options(house, i, reach, takes_plugs, factors, &rooms, arena, &loads[i]);
    }
    for (size_t i = 0; i < house->branch_count; i++) {
        limit_a[i] = house->branches[i].breaker_a;
    }
    struct decide_settle settle = {.problem = {.loads = loads,
                                               .load_count = house->appliance_count,
                                               .limit_a = limit_a,
                                               .branch_count = house->branch_count,
                                               .moment_count = 1,
                                               .largest_motor = factors.largest_motor},
                                   .whole_moments = true};
    if (!everything_on) {
        settle.whole_moments = add_moments(house, arena, &settle.problem);
    }
    return settle;
}
