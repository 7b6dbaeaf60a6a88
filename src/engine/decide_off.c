/* Which loads of a branch must stay off while another runs: the fewest. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/decide.h"
#include "moments.h"
#include "on_sets.h"

/*
 * Iterative deepening. A node takes the moment that needs most loads off and tries each load that is on then, the
 * largest first; one that was tried may not be switched off deeper down, so that every set is met once. What a moment
 * needs at least: the largest of its loads, one after the other, until their currents make up the excess.
 */

#define NODES_MOST 20000   /* beyond them: a set that does it, perhaps not the smallest */
#define LOOKS_MOST 2000000 /* at one load at one moment, 50 to 150 ns each; beyond them the same */
#define TABLE_MOST 200000  /* loads times moments; beyond them everything counts as on, which is at least as much */
#define IMPOSSIBLE SIZE_MAX

struct search {
    const struct house *house;
    const struct index_list *loads;
    size_t branch;
    struct planning_factors factors;
    double limit_a;
    struct on_sets sets;
    unsigned *units; /* by appliance of the house, of one moment; those of the branch alone are set */
    bool *off;       /* by place in `loads` */
    bool *stays;     /* must be on, or was tried */
    double *most_a;  /* the most that switching it off takes away */
    size_t *order;   /* places, largest most_a first */
    size_t nodes;
    size_t looks;
};

static bool is_spent(const struct search *search)
{
    return search->nodes > NODES_MOST || search->looks > LOOKS_MOST;
}

static const struct appliance *load_at(const struct search *search, size_t place)
{
    return &search->house->appliances[search->loads->index[place]];
}

/* Planning current of a moment above the limit, 0 where it is not. */
static double excess_a(const struct search *search, size_t row)
{
    const struct branch *branch = &search->house->branches[search->branch];
    for (size_t i = 0; i < search->loads->count; i++) {
        bool on = on_sets_has(&search->sets, row, i) && !search->off[i];
        search->units[search->loads->index[i]] = on ? load_at(search, i)->count : 0;
    }
    struct branch_figures figures;
    branch_total(search->house, search->branch, search->units, branch->voltage_v, search->factors, NULL, &figures);
    return combos_overloads(figures.planning_a, search->limit_a) ? figures.planning_a - search->limit_a : 0;
}

static bool may_go(const struct search *search, size_t row, size_t place)
{
    return on_sets_has(&search->sets, row, place) && !search->off[place] && !search->stays[place];
}

/* How many loads a moment needs off at least. */
static size_t need_of(const struct search *search, size_t row)
{
    double left_a = excess_a(search, row);
    size_t need = 0;
    for (size_t i = 0; i < search->loads->count && left_a > 0; i++) {
        if (may_go(search, row, search->order[i])) {
            left_a -= search->most_a[search->order[i]] * (1 + 1e-9);
            need++;
        }
    }
    return left_a > 0 ? IMPOSSIBLE : need;
}

/* The moment that needs most loads off, and how many; 0 where nothing is too much. */
static size_t worst_row(const struct search *search, size_t *ret_row)
{
    size_t most = 0;
    for (size_t row = 0; row < search->sets.count; row++) {
        size_t need = need_of(search, row);
        if (need > most) {
            most = need;
            *ret_row = row;
        }
    }
    return most;
}

static bool switch_off(struct search *search, size_t most)
{
    size_t row = 0;
    size_t need = worst_row(search, &row);
    search->looks += search->sets.count * search->loads->count;
    search->nodes++;
    if (need == 0) {
        return true;
    }
    if (need > most || is_spent(search)) {
        return false;
    }
    bool found = false;
    bool *stays = memory_resize(NULL, search->loads->count, sizeof *stays);
    memcpy(stays, search->stays, search->loads->count * sizeof *stays);
    for (size_t i = 0; i < search->loads->count && !found && !is_spent(search); i++) {
        size_t place = search->order[i];
        if (may_go(search, row, place)) {
            search->off[place] = true;
            found = switch_off(search, most - 1);
            search->off[place] = found;
            search->stays[place] = !found;
        }
    }
    memcpy(search->stays, stays, search->loads->count * sizeof *stays);
    free(stays);
    return found;
}

/* After the limit: the largest loads of the worst moment until it is none, again and again. */
static void switch_off_greedily(struct search *search)
{
    size_t row = 0;
    while (worst_row(search, &row) > 0) {
        for (size_t i = 0; excess_a(search, row) > 0; i++) {
            while (!may_go(search, row, search->order[i])) {
                i++;
            }
            search->off[search->order[i]] = true;
        }
    }
}

static void sort_by_current(struct search *search)
{
    for (size_t i = 0; i < search->loads->count; i++) {
        size_t at = i;
        for (; at > 0 && search->most_a[search->order[at - 1]] < search->most_a[i]; at--) {
            search->order[at] = search->order[at - 1];
        }
        search->order[at] = i;
    }
}

static void add_row(struct search *search, const struct moment *at, size_t added, uint64_t *set)
{
    memset(set, 0, search->sets.words * sizeof *set);
    for (size_t i = 0; i < search->loads->count; i++) {
        bool on = at == NULL || search->loads->index[i] == added || appliance_is_on(load_at(search, i), *at);
        set[i / ON_SET_BITS] |= (uint64_t)on << (i % ON_SET_BITS);
    }
    on_sets_add(&search->sets, set);
}

/* The sets that are on when `added` runs; all of them at once where `everything`. */
static void find_rows(struct search *search, size_t added, bool everything)
{
    on_sets_init(&search->sets, search->loads->count);
    uint64_t *set = memory_resize(NULL, search->sets.words, sizeof *set);
    if (everything) {
        add_row(search, NULL, added, set);
        free(set);
        return;
    }
    struct moments moments;
    moments_init(&moments, search->house, search->loads->index, search->loads->count);
    struct moment at;
    int end_min = 0;
    bool fits = moments_count(&moments) * search->loads->count <= LOOKS_MOST;
    while (fits && moments_next(&moments, &at, &end_min)) {
        if (appliance_is_on(&search->house->appliances[added], at)) {
            add_row(search, &at, added, set);
            fits = search->sets.count * search->loads->count <= TABLE_MOST;
        }
    }
    if (!fits) {
        on_sets_done(&search->sets);
        on_sets_init(&search->sets, search->loads->count);
        add_row(search, NULL, added, set);
    }
    moments_done(&moments);
    free(set);
}

static bool search_all(struct search *search)
{
    size_t row = 0;
    size_t most = worst_row(search, &row);
    bool found = false;
    for (; most != IMPOSSIBLE && !found && !is_spent(search) && most <= search->loads->count; most++) {
        found = switch_off(search, most);
    }
    if (most == IMPOSSIBLE || (!found && !is_spent(search))) {
        return false;
    }
    if (!found) {
        memset(search->off, 0, search->loads->count * sizeof *search->off);
        switch_off_greedily(search);
    }
    return true;
}

static void search_init(struct search *search, size_t added, const bool *stays, struct arena *arena)
{
    size_t count = search->loads->count;
    search->off = arena_array(arena, count, sizeof *search->off);
    search->stays = arena_array(arena, count, sizeof *search->stays);
    search->most_a = arena_array(arena, count, sizeof *search->most_a);
    search->order = arena_array(arena, count, sizeof *search->order);
    const struct branch *branch = &search->house->branches[search->branch];
    for (size_t i = 0; i < count; i++) {
        const struct appliance *load = load_at(search, i);
        struct draw draw = appliance_draw(search->house, load, branch->voltage_v);
        double current_a = appliance_line_a(search->house, load, draw.apparent_va, branch->voltage_v);
        double unit_a = appliance_planned_a(search->loads->index[i], current_a, search->factors);
        double extra_a = load->behaviour == BEHAVIOUR_MOTOR ? (search->factors.largest_motor - 1) * unit_a : 0;
        search->most_a[i] = load->count * unit_a *
                                appliance_continuous_factor(search->house, search->loads->index[i], search->factors) +
                            extra_a;
        search->stays[i] = stays[i] || search->loads->index[i] == added;
    }
    sort_by_current(search);
}

bool decide_off(const struct house *house, size_t branch, size_t added, struct planning_factors factors, double limit_a,
                const bool *stays, bool *ret_off)
{
    struct arena *arena = arena_new();
    struct search search = {.house = house,
                            .loads = &house->branches[branch].appliances,
                            .branch = branch,
                            .factors = factors,
                            .limit_a = limit_a,
                            .units = memory_resize(NULL, house->appliance_count, sizeof *search.units)};
    search_init(&search, added, stays, arena);
    bool found = false;
    bool any = false;
    for (int everything = 0; everything < 2 && !any; everything++) {
        find_rows(&search, added, everything != 0);
        search.nodes = 0;
        search.looks = 0;
        found = search_all(&search);
        on_sets_done(&search.sets);
        any = !found;
        for (size_t i = 0; found && i < search.loads->count; i++) {
            any = any || search.off[i];
        }
    }
    memcpy(ret_off, search.off, search.loads->count * sizeof *ret_off);
    free(search.units);
    arena_free(arena);
    return found;
}
