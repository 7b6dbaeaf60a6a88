#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "settle_state.h"

/*
 * For each part of the house that shares no reach with the rest: the number of moves grows from the lower bound until a
 * plan is found. A node takes the branch that is too full and has the fewest loads to part with; one of them must go
 * (or the branch stays too full), so its largest free load goes to each place that it reaches, or else is settled where
 * it is. Every plan is met so, once.
 */

/*
 * An answer within about a second, whatever the house: a node looks at each branch of its part, so that work is counted
 * in nodes by branches (and some for what a node costs anyway). No clock: the same house gives the same answer
 * everywhere.
 */
#define NODES_MOST 5000000
#define WORK_OF_NODE 4
#define WORK_MOST 40000000       /* for all of it */
#define WORK_FOR_FEWEST 24000000 /* until the fewest can't be proved any more */
#define WORK_FOR_ANY 1200000     /* to find some plan of a given number of moves then */
#define WORK_FOR_WORST 4000000   /* to balance a plan of as few moves */

struct search {
    struct state state;
    uint64_t nodes;
    uint64_t node_limit;
    uint64_t work;
    uint64_t work_limit;
    bool cut_short; /* by one of the limits */
    bool cut_moves; /* something was left out only because it takes more moves */
};

/* Leaves so much work from here on, as far as there is any left. */
static void allow(struct search *search, uint64_t work)
{
    search->work_limit = search->work + work < WORK_MOST ? search->work + work : WORK_MOST;
}

struct target {
    size_t option;
    double room_a;
};

/* The branch to relieve, or NEVER where none is too full. */
static size_t pick_branch(const struct search *search)
{
    const struct state *state = &search->state;
    size_t best = NEVER;
    size_t best_free = NEVER;
    for (size_t i = 0; i < state->part_count; i++) {
        size_t branch = state->part[i];
        if (state->need[branch] == 0) {
            continue;
        }
        size_t free_count = 0;
        for (size_t k = 0; k < state->member_count[branch]; k++) {
            size_t load = state->members[branch][k];
            free_count += !state->settled[load] && state_on(state, load, state->fullest[branch]);
        }
        if (free_count < best_free) {
            best = branch;
            best_free = free_count;
        }
    }
    return best;
}

static size_t largest_free(const struct state *state, size_t branch)
{
    for (size_t i = 0; i < state->member_count[branch]; i++) {
        size_t load = state->members[branch][i];
        if (!state->settled[load] && state_on(state, load, state->fullest[branch])) {
            return load;
        }
    }
    return NEVER;
}

/* Where the load can go, the roomiest first. */
static size_t find_targets(const struct state *state, size_t load, struct target *targets)
{
    const struct settle_load *what = &state->problem->loads[load];
    size_t moment = state->fullest[state_branch(state, load)];
    size_t count = 0;
    for (size_t k = 0; k < what->option_count; k++) {
        if (k == state->option[load]) {
            continue;
        }
        struct target target = {k, state_room_a(state, what->options[k].branch, moment)};
        target.room_a -= state->places[load][k].least_a;
        size_t i = count++;
        for (; i > 0 && targets[i - 1].room_a < target.room_a; i--) {
            targets[i] = targets[i - 1];
        }
        targets[i] = target;
    }
    return count;
}

/* True where a plan with at most `moves` further moves is found; the state then holds it. */
static bool search_moves(struct search *search, size_t moves)
{
    struct state *state = &search->state;
    search->work += state->part_count + WORK_OF_NODE;
    if (++search->nodes > search->node_limit || search->work > search->work_limit) {
        search->cut_short = true;
        return false;
    }
    size_t bound = state_bound(state, moves);
    if (bound > moves) {
        search->cut_moves = search->cut_moves || bound != NEVER;
        return false;
    }
    size_t branch = pick_branch(search);
    if (branch == NEVER) {
        return true;
    }
    size_t load = largest_free(state, branch);
    size_t from = state->option[load];
    struct target *targets = memory_resize(NULL, state->problem->loads[load].option_count, sizeof *targets);
    size_t target_count = find_targets(state, load, targets);
    bool found = false;
    state_settle(state, load, true);
    for (size_t i = 0; i < target_count && !found && !search->cut_short; i++) {
        state_move(state, load, targets[i].option);
        found = search_moves(search, moves - 1);
        if (!found) {
            state_move(state, load, from);
        }
    }
    free(targets);
    found = found || (!search->cut_short && search_moves(search, moves));
    if (!found) {
        state_settle(state, load, false);
    }
    return found;
}

/* Puts the part's loads back to `option`, all free that can move. */
static void reset_part(struct search *search, const size_t *option, const size_t *loads, size_t load_count)
{
    struct state *state = &search->state;
    for (size_t i = 0; i < load_count; i++) {
        size_t load = loads[i];
        state->settled[load] = state->problem->loads[load].option_count == 1;
        if (state->option[load] != option[load]) {
            state_move(state, load, option[load]);
        }
    }
    state_refresh_part(state);
}

static size_t count_moves(const struct settle_problem *problem, const size_t *option)
{
    size_t moves = 0;
    for (size_t i = 0; i < problem->load_count; i++) {
        moves += option[i] != problem->loads[i].home;
    }
    return moves;
}

/* Largest ratio of value to limit among the part's branches. */
static double worst_ratio(const struct state *state, const size_t *branches, size_t branch_count)
{
    size_t moments = state->problem->moment_count;
    double worst = 0;
    for (size_t i = 0; i < branch_count; i++) {
        size_t branch = branches[i];
        double value_a = state->value_a[branch * moments + state->fullest[branch]];
        worst = fmax(worst, value_a / state->problem->limit_a[branch]);
    }
    return worst;
}

struct part {
    size_t *branches;
    size_t branch_count;
    size_t *loads; /* those that can move within it */
    size_t load_count;
};

/* Lowers the caps below the worst ratio of the plan held until no plan of as few moves is left. */
static bool lower_worst(struct search *search, const struct part *part, const size_t *home, size_t moves, size_t *plan)
{
    struct state *state = &search->state;
    const double *limit_a = state->problem->limit_a;
    allow(search, WORK_FOR_WORST);
    bool proved = false;
    while (!proved && !search->cut_short) {
        double worst = worst_ratio(state, part->branches, part->branch_count);
        for (size_t i = 0; i < part->branch_count; i++) {
            size_t branch = part->branches[i];
            /* a hair below, so that the tolerance of "too full" does not let the same plan through again */
            state->cap_a[branch] = fmin(limit_a[branch], worst * (1 - 4e-9) * limit_a[branch]);
        }
        reset_part(search, home, part->loads, part->load_count);
        if (search_moves(search, moves)) {
            memcpy(plan, state->option, state->problem->load_count * sizeof *plan);
        } else {
            proved = !search->cut_short;
        }
    }
    for (size_t i = 0; i < part->branch_count; i++) {
        state->cap_a[part->branches[i]] = limit_a[part->branches[i]];
    }
    reset_part(search, plan, part->loads, part->load_count);
    search->cut_short = false;
    return proved;
}

/* After the node limit: any plan, with a growing number of moves and few nodes for each. */
static bool find_any(struct search *search, const struct part *part, const size_t *home, size_t moves)
{
    for (size_t most = moves; most <= part->load_count && search->work < WORK_MOST; most += 1 + most / 8) {
        reset_part(search, home, part->loads, part->load_count);
        search->cut_short = false;
        search->node_limit = UINT64_MAX;
        allow(search, WORK_FOR_ANY);
        if (search_moves(search, most)) {
            return true;
        }
    }
    return false;
}

/* The state holds the part's plan afterwards; false where there is none. */
static bool settle_part(struct search *search, const struct part *part, const size_t *home, struct settle_plan *plan,
                        size_t *scratch)
{
    struct state *state = &search->state;
    state->part = part->branches;
    state->part_count = part->branch_count;
    size_t moves = state_bound(state, NEVER - 1);
    if (moves == 0) {
        return true;
    }
    bool found = false;
    allow(search, WORK_FOR_FEWEST);
    while (moves != NEVER && !found && !search->cut_short) {
        search->cut_moves = false;
        found = search_moves(search, moves);
        if (!found && !search->cut_short) {
            moves = search->cut_moves ? moves + 1 : NEVER;
            reset_part(search, home, part->loads, part->load_count);
        }
    }
    if (moves == NEVER) {
        plan->impossible = true;
        return false;
    }
    plan->moves_most += moves;
    if (!found) {
        plan->proved = plan->worst_proved = false;
        return find_any(search, part, home, moves);
    }
    if (!state->problem->any_of_fewest) {
        memcpy(scratch, state->option, state->problem->load_count * sizeof *scratch);
        plan->worst_proved = lower_worst(search, part, home, moves, scratch) && plan->worst_proved;
    }
    return true;
}

static size_t root_of(size_t *parent, size_t branch)
{
    while (parent[branch] != branch) {
        parent[branch] = parent[parent[branch]];
        branch = parent[branch];
    }
    return branch;
}

/* Parts of the house: branches that the movable loads join, and the loads that can move among them. */
static struct part *find_parts(const struct settle_problem *problem, struct arena *arena, size_t *ret_count)
{
    size_t *parent = arena_array(arena, problem->branch_count, sizeof *parent);
    size_t *number = arena_array(arena, problem->branch_count, sizeof *number);
    for (size_t i = 0; i < problem->branch_count; i++) {
        parent[i] = i;
    }
    for (size_t i = 0; i < problem->load_count; i++) {
        const struct settle_load *load = &problem->loads[i];
        for (size_t k = 1; k < load->option_count; k++) {
            parent[root_of(parent, load->options[k].branch)] = root_of(parent, load->options[0].branch);
        }
    }
    struct part *parts = arena_array(arena, problem->branch_count, sizeof *parts);
    size_t count = 0;
    for (size_t i = 0; i < problem->branch_count; i++) {
        if (root_of(parent, i) == i) {
            number[i] = count++;
        }
    }
    for (size_t i = 0; i < problem->branch_count; i++) {
        parts[number[root_of(parent, i)]].branch_count++;
    }
    for (size_t i = 0; i < problem->load_count; i++) {
        size_t root = root_of(parent, problem->loads[i].options[0].branch);
        parts[number[root]].load_count += problem->loads[i].option_count > 1;
    }
    for (size_t i = 0; i < count; i++) {
        parts[i].branches = arena_array(arena, parts[i].branch_count, sizeof *parts[i].branches);
        parts[i].loads = arena_array(arena, parts[i].load_count, sizeof *parts[i].loads);
        parts[i].branch_count = parts[i].load_count = 0;
    }
    for (size_t i = 0; i < problem->branch_count; i++) {
        struct part *part = &parts[number[root_of(parent, i)]];
        part->branches[part->branch_count++] = i;
    }
    for (size_t i = 0; i < problem->load_count; i++) {
        struct part *part = &parts[number[root_of(parent, problem->loads[i].options[0].branch)]];
        if (problem->loads[i].option_count > 1) {
            part->loads[part->load_count++] = i;
        }
    }
    *ret_count = count;
    return parts;
}

static void settle_parts(struct search *search, struct settle_plan *plan)
{
    struct state *state = &search->state;
    const struct settle_problem *problem = state->problem;
    size_t part_count = 0;
    const struct part *parts = find_parts(problem, state->arena, &part_count);
    size_t *home = arena_array(state->arena, problem->load_count, sizeof *home);
    size_t *scratch = arena_array(state->arena, problem->load_count, sizeof *scratch);
    memcpy(home, state->option, problem->load_count * sizeof *home);
    for (size_t i = 0; i < part_count; i++) {
        if (!settle_part(search, &parts[i], home, plan, scratch)) {
            plan->found = false;
        }
        search->cut_short = false;
    }
}

void settle_moves(const struct settle_problem *problem, size_t *ret_option, struct settle_plan *ret_plan)
{
    struct search search = {.node_limit = problem->node_limit > 0 ? problem->node_limit : NODES_MOST};
    struct settle_plan plan = {.found = true, .proved = true, .worst_proved = !problem->any_of_fewest};
    state_init(&search.state, problem);
    settle_parts(&search, &plan);
    for (size_t i = 0; i < problem->load_count; i++) {
        ret_option[i] = plan.found ? search.state.option[i] : problem->loads[i].home;
    }
    if (plan.impossible) {
        plan.proved = true;
        plan.moves_most = 0;
    }
    if (plan.found) {
        plan.moves = count_moves(problem, ret_option);
        plan.proved = plan.moves == plan.moves_most;
        for (size_t i = 0; i < problem->branch_count; i++) {
            plan.worst_ratio = fmax(plan.worst_ratio, worst_ratio(&search.state, &i, 1));
        }
    }
    plan.node_count = search.nodes;
    state_done(&search.state);
    *ret_plan = plan;
}
