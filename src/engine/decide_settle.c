#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/decide.h"
#include "moments.h"
#include "on_sets.h"

/* Beyond these a house has too many moments to tell apart, or loads to carry about: minutes of work, not seconds. */
#define LOOKS_MOST 2e8
enum { MOMENTS_MOST = 2000, WORD_BITS = 64, OPTIONS_MOST = 4000000 };

/* Rooms as bits: which rooms a branch serves, or an appliance can be carried to. */
struct rooms {
    uint64_t *served; /* branch_count rows of `words` */
    size_t words;
    struct index_list *by_room; /* of each room the branches that serve it and take plugs */
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

static bool has_room(const uint64_t *rooms, size_t room)
{
    return (rooms[room / WORD_BITS] >> (room % WORD_BITS) & 1U) != 0;
}

/* Adds all rooms of the floors on which the rooms in `reach` are. */
static void widen_to_floor(const struct house *house, uint64_t *reach)
{
    for (size_t i = 0; i < house->room_count; i++) {
        const char *floor = house->rooms[i].floor;
        const bool in = has_room(reach, i);
        for (size_t k = 0; in && floor != NULL && k < house->room_count; k++) {
            if (house->rooms[k].floor != NULL && strcmp(house->rooms[k].floor, floor) == 0) {
                reach[k / WORD_BITS] |= UINT64_C(1) << (k % WORD_BITS);
            }
        }
    }
}

/* The branches that take plugs by the rooms that they serve. */
static void list_by_room(const struct house *house, const bool *takes_plugs, struct arena *arena, struct rooms *rooms)
{
    rooms->by_room = arena_array(arena, house->room_count, sizeof *rooms->by_room);
    size_t *all = arena_array(arena, house->branch_count, sizeof *all);
    for (size_t room = 0; room < house->room_count; room++) {
        size_t count = 0;
        for (size_t i = 0; i < house->branch_count; i++) {
            if (takes_plugs[i] && has_room(rooms->served + i * rooms->words, room)) {
                all[count++] = i;
            }
        }
        struct index_list *list = &rooms->by_room[room];
        *list = (struct index_list){.index = arena_array(arena, count, sizeof *list->index), .count = count};
        memcpy(list->index, all, count * sizeof *all);
    }
}

/* Every room that the branch serves has water in it or lies outdoors: nothing is carried there. */
static bool is_by_water(const struct house *house, const struct rooms *rooms, size_t branch)
{
    bool any = false;
    bool dry = false;
    for (size_t i = 0; i < house->room_count; i++) {
        const bool in = has_room(rooms->served + branch * rooms->words, i);
        int kind = house->rooms[i].kind;
        any = any || in;
        dry = dry || (in && kind != ROOM_BATH && kind != ROOM_OUTDOORS && kind != ROOM_POOL);
    }
    return any && !dry;
}

static struct settle_option option_on(const struct house *house, size_t index, size_t branch,
                                      struct planning_factors factors, double share)
{
    const struct appliance *appliance = &house->appliances[index];
    const struct branch *what = &house->branches[branch];
    struct draw draw = appliance_draw(house, appliance, what->voltage_v);
    double unit_current_a = appliance_line_a(house, appliance, draw.apparent_va, what->voltage_v);
    double planned_a = appliance_planned_a(index, unit_current_a, factors);
    /* A share that cooking has on its own branch is not taken along to another. */
    double unit_a = branch == appliance->branch ? planned_a : fmax(planned_a, unit_current_a);
    double planning_a = appliance->count * unit_a * appliance_continuous_factor(house, index, factors);
    return (struct settle_option){branch, share * planning_a, share * unit_a};
}

/* Where the appliance can be carried: rooms as bits. */
static uint64_t *rooms_within(const struct house *house, const struct appliance *appliance, enum decide_reach reach,
                              const struct rooms *rooms, struct arena *arena)
{
    uint64_t *within = arena_array(arena, rooms->words, sizeof *within);
    if (appliance->room == NO_INDEX) {
        memcpy(within, rooms->served + appliance->branch * rooms->words, rooms->words * sizeof *within);
    } else {
        within[appliance->room / WORD_BITS] |= UINT64_C(1) << (appliance->room % WORD_BITS);
    }
    if (reach == REACH_FLOOR) {
        widen_to_floor(house, within);
    }
    return within;
}

/* What the search for the places of one load works with. */
struct places {
    const struct house *house;
    enum decide_reach reach;
    const bool *takes_plugs;
    struct planning_factors factors;
    const double *shares; /* of each load, NULL: all of it */
    struct rooms rooms;
    bool *is_near;      /* branch_count entries, false between two loads */
    size_t *near;       /* the branches within reach, in order */
    size_t options_all; /* of all loads together */
    struct arena *arena;
};

static int index_order(const void *left, const void *right)
{
    const size_t *a = left;
    const size_t *b = right;
    return *a < *b ? -1 : *a > *b;
}

static size_t list_near(struct places *places, const struct appliance *appliance)
{
    const struct house *house = places->house;
    size_t count = 0;
    if (places->reach == REACH_HOUSE) {
        for (size_t i = 0; i < house->branch_count; i++) {
            places->near[count] = i;
            count += places->takes_plugs[i];
        }
        return count;
    }
    const uint64_t *within = rooms_within(house, appliance, places->reach, &places->rooms, places->arena);
    for (size_t room = 0; room < house->room_count; room++) {
        const struct index_list *list = &places->rooms.by_room[room];
        for (size_t i = 0; has_room(within, room) && i < list->count; i++) {
            if (!places->is_near[list->index[i]]) {
                places->is_near[list->index[i]] = true;
                places->near[count++] = list->index[i];
            }
        }
    }
    for (size_t i = 0; i < count; i++) {
        places->is_near[places->near[i]] = false;
    }
    qsort(places->near, count, sizeof *places->near, index_order);
    return count;
}

static void add_options(struct places *places, size_t index, struct settle_load *load)
{
    const struct house *house = places->house;
    const struct appliance *appliance = &house->appliances[index];
    const struct branch *home = &house->branches[appliance->branch];
    const size_t near_count = appliance->fixed || places->options_all > OPTIONS_MOST ? 0 : list_near(places, appliance);
    struct settle_option *options = arena_array(places->arena, near_count + 1, sizeof *options);
    const double share = places->shares == NULL ? 1 : places->shares[index];
    options[0] = option_on(house, index, appliance->branch, places->factors, share);
    size_t count = 1;
    for (size_t k = 0; k < near_count; k++) {
        const struct branch *branch = &house->branches[places->near[k]];
        if (branch != home && branch->poles == home->poles && branch->voltage_v == home->voltage_v) {
            options[count++] = option_on(house, index, places->near[k], places->factors, share);
        }
    }
    places->options_all += count;
    load->options = options;
    load->option_count = count;
    /* Where motors are alone and nothing can be plugged in beside them, none of them takes an extra. */
    bool stays_alone =
        branch_motors_alone(appliance->branch, places->factors) && !places->takes_plugs[appliance->branch];
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

/* The options of every load; false where there are too many to look at. */
static bool add_loads(const struct house *house, enum decide_reach reach, struct planning_factors factors,
                      const double *shares, struct arena *arena, struct settle_load *loads)
{
    bool *takes_plugs = arena_array(arena, house->branch_count, sizeof *takes_plugs);
    struct places places = {.house = house,
                            .reach = reach,
                            .takes_plugs = takes_plugs,
                            .factors = factors,
                            .shares = shares,
                            .rooms = rooms_served(house, arena),
                            .is_near = arena_array(arena, house->branch_count, sizeof *places.is_near),
                            .near = arena_array(arena, house->branch_count + 1, sizeof *places.near),
                            .arena = arena};
    for (size_t i = 0; i < house->branch_count; i++) {
        takes_plugs[i] = decide_takes_plugs(house, i, NO_INDEX) && !is_by_water(house, &places.rooms, i);
    }
    list_by_room(house, takes_plugs, arena, &places.rooms);
    for (size_t i = 0; i < house->appliance_count; i++) {
        add_options(&places, i, &loads[i]);
    }
    return places.options_all <= OPTIONS_MOST;
}

struct decide_settle decide_settle(const struct house *house, enum decide_reach reach, bool everything_on,
                                   struct planning_factors factors, const double *shares, struct arena *arena)
{
    struct settle_load *loads = arena_array(arena, house->appliance_count, sizeof *loads);
    double *limit_a = arena_array(arena, house->branch_count, sizeof *limit_a);
    const bool too_many = !add_loads(house, reach, factors, shares, arena, loads);
    for (size_t i = 0; i < house->branch_count; i++) {
        limit_a[i] = house->branches[i].breaker_a;
    }
    struct decide_settle settle = {.problem = {.loads = loads,
                                               .load_count = house->appliance_count,
                                               .limit_a = limit_a,
                                               .branch_count = house->branch_count,
                                               .moment_count = 1,
                                               .largest_motor = factors.largest_motor},
                                   .whole_moments = true,
                                   .too_many = too_many};
    if (!everything_on && !too_many) {
        settle.whole_moments = add_moments(house, arena, &settle.problem);
    }
    return settle;
}
