/* The state of a search for moves: where each load is, how full each branch is, and the bounds. Inside settle only. */
#ifndef AMPSUM_SETTLE_STATE_H
#define AMPSUM_SETTLE_STATE_H

#include "ampsum/arena.h"
#include "ampsum/settle.h"

#define NEVER SIZE_MAX /* more removals than any plan has */

/* What a load is on one of its branches. */
struct place {
    double most_a;  /* its leaving lowers the branch by at most that */
    double least_a; /* its coming raises the branch by at least that */
};

struct state {
    const struct settle_problem *problem;
    struct arena *arena;
    double *cap_a;         /* of each branch: its limit, or less while the worst load is being lowered */
    size_t *option;        /* where each load is */
    bool *settled;         /* loads that may not move any more */
    struct place **places; /* of each load, by option */
    double *value_a;       /* branch_count rows of moment_count */
    size_t **members;      /* loads on each branch, the one with the largest most_a first */
    size_t *member_count;
    size_t *fullest; /* the moment with the largest value, of each branch */
    size_t *need;    /* removals that the branch needs at least at that moment, NEVER where it can't be relieved */
    size_t *mark;    /* scratch of the bound */
    size_t mark_now;
    size_t *claimed;
    size_t claim_now;
    const size_t *part; /* the branches that are being settled */
    size_t part_count;
};

void state_init(struct state *state, const struct settle_problem *problem);
void state_done(struct state *state);

/* Moves a load to another of its options; settles or unsettles it; keeps values and needs. */
void state_move(struct state *state, size_t load, size_t option);
void state_settle(struct state *state, size_t load, bool settled);

/* Recomputes what depends on cap_a and `settled`, of the part's branches. */
void state_refresh_part(struct state *state);

/* At most that much can come to a branch at a moment when it loses no more loads than it needs to; may be < 0. */
double state_room_a(const struct state *state, size_t branch, size_t moment);

/* No plan for the part has fewer further moves; NEVER where there is none at all. Stops looking beyond `most`. */
size_t state_bound(struct state *state, size_t most);

/* Whether a load is on at a moment. */
static inline bool state_on(const struct state *state, size_t load, size_t moment)
{
    const struct settle_problem *problem = state->problem;
    return problem->is_on == NULL || problem->is_on[load * problem->moment_count + moment];
}

static inline size_t state_branch(const struct state *state, size_t load)
{
    return state->problem->loads[load].options[state->option[load]].branch;
}

static inline double state_most_a(const struct state *state, size_t load)
{
    return state->places[load][state->option[load]].most_a;
}

#endif
