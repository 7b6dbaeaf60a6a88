/*
 * The question of `settle`: the fewest moves of plug-in appliances after which no branch is over, and how single-pole
 * branches sit on legs so that the fullest carries least.
 *
 * Checked: tests/unit/test_answer_settle.c; tests/golden/settle-demo, place-and-settle.
 */
#ifndef AMPSUM_ANSWER_SETTLE_H
#define AMPSUM_ANSWER_SETTLE_H

#include "ampsum/assess.h"
#include "ampsum/decide.h"
#include "ampsum/error.h"
#include "ampsum/settle.h"

/* At the busiest minute of each branch; with everything on. */
enum settle_aim { SETTLE_NONE_OVER, SETTLE_NONE_AT_RISK, SETTLE_AIMS };

struct settle_question {
    enum decide_reach reach;
};

struct settle_move {
    enum settle_aim aim;
    const struct appliance *appliance;
    const struct branch *from;
    const struct branch *to;
};

/* What was found for an aim. */
struct settle_found {
    struct settle_plan plan;
    double needed;             /* moves; NAN where no plan was found */
    double needed_at_least;    /* proved; NAN where it can't be done */
    double worst_percent;      /* how full the fullest branch is then, by the plates as written; NAN likewise */
    bool whole_moments;        /* false: too many moments, every load counted as on all the time */
    struct settle_move *moves; /* in file order */
    size_t move_count;
};

/* A danger of a branch that is over all the same after the moves. */
struct settle_stays {
    const struct branch *branch;
    const struct finding *finding;
    bool by_current; /* the branch carries too much at its busiest minute; else another danger makes it over */
};

struct settle_answer {
    const struct house *house;
    enum decide_reach reach;
    struct settle_found found[SETTLE_AIMS];
    struct settle_move *moves; /* those of both aims, one after the other */
    size_t move_count;
    enum settle_aim last;       /* the further aim that was reached; the first where none was */
    bool same;                  /* both aims are reached by the same moves */
    bool other_dangers;         /* some branch is over for another reason than its current */
    struct settle_stays *stays; /* after the moves of `last` */
    size_t stays_count;
    struct house *after;
    struct assessment *assessment; /* of it */
    struct arena *arena;
};

/* Answers for a house, which must outlive the answer; free with settle_answer_done in any case. */
bool answer_settle(const struct house *house, const struct settle_question *question, struct settle_answer *ret_answer,
                   struct error *error);

/* The moves to be tried: of the further aim that was reached. Whether none was found that a further reach may bring. */
const struct settle_found *settle_best(const struct settle_answer *answer);
bool settle_may_reach_further(const struct settle_answer *answer);
void settle_answer_done(struct settle_answer *answer);

/* ---- legs */

/* A panel on one basis: what its legs carry now, and after. */
struct legs_balance {
    struct decide_legs legs;
    size_t *leg; /* of each of legs.branches afterwards */
    struct legs_plan plan;
    double before_a[3];
    double after_a[3];
    size_t changes;
    struct legs_change *changed; /* `changes` of them */
};

struct legs_panel {
    const struct panel *panel;
    struct legs_balance all;     /* everything on */
    struct legs_balance busiest; /* each branch at its busiest minute */
};

/* A branch that changes its leg. */
struct legs_change {
    const struct panel *panel;
    bool busiest; /* the basis */
    const struct branch *branch;
    unsigned from; /* LEG_ bits */
    unsigned to;
};

struct legs_answer {
    const struct house *house;
    struct legs_panel *panels; /* those with more than one leg */
    size_t panel_count;
    struct legs_change *changes; /* by panel, everything on first */
    size_t change_count;
    struct arena *arena;
};

/* Never fails; free with legs_answer_done. */
void answer_settle_legs(const struct house *house, struct legs_answer *ret_answer);
void legs_answer_done(struct legs_answer *answer);

#endif
