#include "settle_state.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define OVER_RELATIVE 1e-9

static const struct settle_option *option_of(const struct settle_problem *problem, const size_t *option, size_t load)
{
    return &problem->loads[load].options[option[load]];
}

/* The members of a branch, of which some are on at a moment. */
struct moment_members {
    const struct settle_problem *problem;
    const size_t *option;
    const size_t *members;
    size_t count;
    size_t moment;
};

static bool member_on(const struct moment_members *here, size_t load)
{
    const struct settle_problem *problem = here->problem;
    return problem->is_on == NULL || problem->is_on[load * problem->moment_count + here->moment];
}

/* What stands for the group of members[place]: the most that one of those on plans for; *ret_first: it is the first. */
static double group_most_a(const struct moment_members *here, size_t place, bool *ret_first)
{
    const struct settle_load *loads = here->problem->loads;
    size_t group = loads[here->members[place]].group;
    double most_a = option_of(here->problem, here->option, here->members[place])->planning_a;
    *ret_first = true;
    for (size_t i = 0; group != SETTLE_NO_GROUP && i < here->count; i++) {
        size_t other = here->members[i];
        if (i != place && loads[other].group == group && member_on(here, other)) {
            most_a = fmax(most_a, option_of(here->problem, here->option, other)->planning_a);
            *ret_first = *ret_first && i > place;
        }
    }
    return most_a;
}

/* The largest member stands for each group; then the motor that raises the sum most takes the extra (lead.h). */
static double members_a(const struct moment_members *here)
{
    double planning_a = 0;
    double gain_a = 0;
    for (size_t i = 0; i < here->count; i++) {
        size_t load = here->members[i];
        if (!member_on(here, load)) {
            continue;
        }
        const struct settle_option *option = option_of(here->problem, here->option, load);
        bool first = false;
        double most_a = group_most_a(here, i, &first);
        planning_a += first ? most_a : 0;
        if (here->problem->loads[load].motor) {
            double extra_a = (here->problem->largest_motor - 1) * option->unit_a;
            gain_a = fmax(gain_a, extra_a - (most_a - option->planning_a));
        }
    }
    return planning_a + gain_a;
}

double settle_branch_a(const struct settle_problem *problem, const size_t *option, size_t branch, size_t moment)
{
    size_t *members = memory_resize(NULL, problem->load_count, sizeof *members);
    size_t count = 0;
    for (size_t i = 0; i < problem->load_count; i++) {
        if (option_of(problem, option, i)->branch == branch) {
            members[count++] = i;
        }
    }
    struct moment_members here = {problem, option, members, count, moment};
    double planning_a = members_a(&here);
    free(members);
    return planning_a;
}

/*
 * Bounds on what one load changes. Leaving, it takes at most its planning current and the extra that it may have had as
 * the largest motor. Coming, it brings at least its planning current; perhaps nothing where its group has another.
 */
static struct place place_of(const struct settle_problem *problem, const struct settle_load *load,
                             const struct settle_option *option)
{
    double extra_a = load->motor ? (problem->largest_motor - 1) * option->unit_a : 0;
    return (struct place){.most_a = option->planning_a + extra_a,
                          .least_a = load->group == SETTLE_NO_GROUP ? option->planning_a : 0};
}

/* Ampere above the cap at the fullest moment; <= 0 where the branch is not too full. */
static double state_excess_a(const struct state *state, size_t branch)
{
    size_t moments = state->problem->moment_count;
    double over_a = state->value_a[branch * moments + state->fullest[branch]] - state->cap_a[branch];
    return over_a > OVER_RELATIVE * state->cap_a[branch] ? over_a : 0;
}

/* Fewest members that must leave for the fullest moment: the largest that are still free to move. */
static void find_need(struct state *state, size_t branch)
{
    size_t moments = state->problem->moment_count;
    const double *value_a = state->value_a + branch * moments;
    size_t fullest = 0;
    for (size_t i = 1; i < moments; i++) {
        fullest = value_a[i] > value_a[fullest] ? i : fullest;
    }
    state->fullest[branch] = fullest;
    double left_a = state_excess_a(state, branch);
    size_t need = 0;
    /* rounding of a sum must never make a removal look too small: half of the tolerance is given back */
    left_a -= 0.5 * OVER_RELATIVE * state->cap_a[branch];
    for (size_t i = 0; i < state->member_count[branch] && left_a > 0; i++) {
        size_t load = state->members[branch][i];
        if (!state->settled[load] && state_on(state, load, fullest)) {
            left_a -= state_most_a(state, load);
            need++;
        }
    }
    state->need[branch] = left_a > 0 ? NEVER : need;
}

static void find_values(struct state *state, size_t branch)
{
    size_t moments = state->problem->moment_count;
    for (size_t i = 0; i < moments; i++) {
        struct moment_members here = {state->problem, state->option, state->members[branch],
                                      state->member_count[branch], i};
        state->value_a[branch * moments + i] = members_a(&here);
    }
}

static void add_member(struct state *state, size_t branch, size_t load)
{
    size_t *members = state->members[branch];
    size_t i = state->member_count[branch]++;
    double own_a = state_most_a(state, load);
    for (; i > 0; i--) {
        double other_a = state_most_a(state, members[i - 1]);
        if (other_a > own_a || (other_a == own_a && members[i - 1] < load)) {
            break;
        }
        members[i] = members[i - 1];
    }
    members[i] = load;
}

static void drop_member(struct state *state, size_t branch, size_t load)
{
    size_t *members = state->members[branch];
    size_t i = 0;
    while (members[i] != load) {
        i++;
    }
    state->member_count[branch]--;
    memmove(members + i, members + i + 1, (state->member_count[branch] - i) * sizeof *members);
}

void state_move(struct state *state, size_t load, size_t option)
{
    size_t branch = state_branch(state, load);
    drop_member(state, branch, load);
    state->option[load] = option;
    add_member(state, state_branch(state, load), load);
    find_values(state, branch); /* anew, so that no rounding piles up over a search */
    find_need(state, branch);
    branch = state_branch(state, load);
    find_values(state, branch);
    find_need(state, branch);
}

void state_settle(struct state *state, size_t load, bool settled)
{
    state->settled[load] = settled;
    find_need(state, state_branch(state, load));
}

void state_refresh_part(struct state *state)
{
    for (size_t i = 0; i < state->part_count; i++) {
        find_values(state, state->part[i]);
        find_need(state, state->part[i]);
    }
}

static void check_problem(const struct settle_problem *problem)
{
    assert(problem->moment_count >= 1 && problem->largest_motor >= 1 && problem->largest_motor <= 2);
    for (size_t i = 0; i < problem->load_count; i++) {
        const struct settle_load *load = &problem->loads[i];
        assert(load->option_count >= 1 && load->home < load->option_count);
        for (size_t k = 0; k < load->option_count; k++) {
            assert(load->options[k].branch < problem->branch_count && isfinite(load->options[k].planning_a));
        }
    }
}

static void take_loads(struct state *state)
{
    const struct settle_problem *problem = state->problem;
    size_t *room = arena_array(state->arena, problem->branch_count, sizeof *room);
    for (size_t i = 0; i < problem->load_count; i++) {
        const struct settle_load *load = &problem->loads[i];
        state->places[i] = arena_array(state->arena, load->option_count, sizeof **state->places);
        for (size_t k = 0; k < load->option_count; k++) {
            state->places[i][k] = place_of(problem, load, &load->options[k]);
            room[load->options[k].branch]++;
        }
        state->option[i] = load->home;
        state->settled[i] = load->option_count == 1;
    }
    for (size_t i = 0; i < problem->branch_count; i++) {
        state->members[i] = arena_array(state->arena, room[i], sizeof **state->members);
        state->cap_a[i] = problem->limit_a[i];
    }
    for (size_t i = 0; i < problem->load_count; i++) {
        add_member(state, state_branch(state, i), i);
    }
}

void state_init(struct state *state, const struct settle_problem *problem)
{
    check_problem(problem);
    struct arena *arena = arena_new();
    size_t loads = problem->load_count;
    size_t branches = problem->branch_count;
    *state = (struct state){.problem = problem, .arena = arena};
    state->cap_a = arena_array(arena, branches, sizeof *state->cap_a);
    state->option = arena_array(arena, loads, sizeof *state->option);
    state->settled = arena_array(arena, loads, sizeof *state->settled);
    state->places = arena_array(arena, loads, sizeof *state->places);
    state->value_a = arena_array(arena, branches * problem->moment_count, sizeof *state->value_a);
    state->members = arena_array(arena, branches, sizeof *state->members);
    state->member_count = arena_array(arena, branches, sizeof *state->member_count);
    state->fullest = arena_array(arena, branches, sizeof *state->fullest);
    state->need = arena_array(arena, branches, sizeof *state->need);
    state->mark = arena_array(arena, branches, sizeof *state->mark);
    state->claimed = arena_array(arena, branches, sizeof *state->claimed);
    take_loads(state);
    for (size_t i = 0; i < branches; i++) {
        find_values(state, i);
        find_need(state, i);
    }
}

void state_done(struct state *state)
{
    arena_free(state->arena);
}

/* At most that much can come to the branch at the moment when it loses no more than it needs to. */
double state_room_a(const struct state *state, size_t branch, size_t moment)
{
    double room =
        state->cap_a[branch] * (1 + OVER_RELATIVE) - state->value_a[branch * state->problem->moment_count + moment];
    size_t leaving = state->need[branch];
    for (size_t i = 0; i < state->member_count[branch] && leaving > 0; i++) {
        size_t load = state->members[branch][i];
        if (!state->settled[load] && state_on(state, load, moment)) {
            room += state_most_a(state, load);
            leaving--;
        }
    }
    return room;
}

/* What the branch's own removals can carry away at most, each to a place that has room, and the rooms together. */
struct carry {
    double carried_a; /* the `need` largest that fit */
    double rooms_a;
    double least_ratio; /* of what comes to what goes, over all that fit */
};

static struct carry find_carry(struct state *state, size_t branch)
{
    struct carry carry = {0, 0, INFINITY};
    size_t moment = state->fullest[branch];
    size_t left = state->need[branch];
    state->mark_now++;
    for (size_t i = 0; i < state->member_count[branch]; i++) {
        size_t load = state->members[branch][i];
        if (state->settled[load] || !state_on(state, load, moment)) {
            continue;
        }
        const struct settle_load *what = &state->problem->loads[load];
        double most_a = state_most_a(state, load);
        bool fits = false;
        for (size_t k = 0; k < what->option_count; k++) {
            size_t target = what->options[k].branch;
            double room = target == branch ? -1 : state_room_a(state, target, moment);
            if (room < state->places[load][k].least_a) {
                continue;
            }
            fits = true;
            carry.least_ratio = fmin(carry.least_ratio, most_a > 0 ? state->places[load][k].least_a / most_a : 1);
            if (state->mark[target] != state->mark_now) {
                state->mark[target] = state->mark_now;
                carry.rooms_a += room;
            }
        }
        if (fits && left > 0) {
            carry.carried_a += most_a;
            left--;
        }
    }
    return carry;
}

/* True where the branch and those it can reach need one removal more than their needs say. */
static bool needs_one_more(struct state *state, size_t branch)
{
    double excess_a = state_excess_a(state, branch) - 0.5 * OVER_RELATIVE * state->cap_a[branch];
    struct carry carry = find_carry(state, branch);
    return carry.carried_a < excess_a || carry.rooms_a < carry.least_ratio * excess_a;
}

/* Goes through the branch and all that its free loads reach: claims them, or tells whether one is claimed already. */
static bool near_claimed(struct state *state, size_t branch, bool claim)
{
    size_t *claimed = state->claimed;
    bool any = claimed[branch] == state->claim_now;
    claimed[branch] = claim ? state->claim_now : claimed[branch];
    for (size_t i = 0; i < state->member_count[branch]; i++) {
        size_t load = state->members[branch][i];
        const struct settle_load *what = &state->problem->loads[load];
        for (size_t k = 0; k < what->option_count && !state->settled[load]; k++) {
            size_t target = what->options[k].branch;
            any = any || claimed[target] == state->claim_now;
            claimed[target] = claim ? state->claim_now : claimed[target];
        }
    }
    return any;
}

size_t state_bound(struct state *state, size_t most)
{
    size_t bound = 0;
    for (size_t i = 0; i < state->part_count; i++) {
        size_t need = state->need[state->part[i]];
        if (need == NEVER) {
            return NEVER;
        }
        bound += need;
    }
    if (bound == 0 || bound > most) {
        return bound;
    }
    /* One more for each branch whose own removals find no room: it is made there or at a branch that it reaches, so
     * such branches count together where these neighbourhoods do not meet. */
    state->claim_now++;
    for (size_t i = 0; i < state->part_count && bound <= most; i++) {
        size_t branch = state->part[i];
        if (state->need[branch] > 0 && needs_one_more(state, branch) && !near_claimed(state, branch, false)) {
            near_claimed(state, branch, true);
            bound++;
        }
    }
    return bound;
}
