/*
 * The question of `check`: is any branch overloaded, how near is each, what does a day cost.
 *
 * Checked: tests/unit/test_answer.c; tests/golden/check-us, check-iec, check-uk, check-rows.
 */
#ifndef AMPSUM_ANSWER_CHECK_H
#define AMPSUM_ANSWER_CHECK_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/assess.h"
#include "ampsum/energy.h"

struct check_question {
    struct assess_options choice; /* what is on beside everything; what is worked out */
    bool no_bill;                 /* no energy and no cost: check_answer.bill is NULL */
    unsigned bill_rows;           /* ENERGY_ bits beside the branches' */
};

/* The service's demand by one of the methods: what `demand` holds against the service, of its heaviest line or spread.
 */
struct check_demand {
    const char *name;   /* what people call the method; NULL: there is none */
    const char *clause; /* where it stands */
    double current_a;
};

struct check_answer {
    const struct house *house;
    const struct assessment *assessment;
    const struct energy_bill *bill;
    size_t verdicts[VERDICT_OVER + 1]; /* how many branches have each */
    size_t worst;                      /* the branch that leads check_worst_first; NO_INDEX: no branch */
    double power_w;                    /* of all branches, at the busiest minute of each, or of the scene or set */
    const struct assessment *now;      /* the page: what is switched on now, beside the week's figures; else NULL */
    struct check_demand demand;        /* by the rule set's usual method */
    struct check_demand existing;      /* of a house that stands (`built`) by the method for such, where there is one */
    const size_t *order;               /* faces that show the worst first: check_worst_first; NULL: as in the file */
    struct arena *arena;               /* of the bill */
    struct assessment *owned;          /* freed by check_answer_done, with the arena */
};

/* Answers for a house, which must outlive the answer. Never fails; free with check_answer_done. */
void answer_check(const struct house *house, const struct check_question *question, struct check_answer *ret_answer);
void check_answer_done(struct check_answer *answer);

/*
 * Every branch, the worst first: by verdict, then by the share of its rating with everything on, then as in the file.
 * branch_count entries in `arena`.
 */
const size_t *check_worst_first(const struct check_answer *answer, struct arena *arena);

/* How many branches are over, at risk or near: these begin that order. */
size_t check_without_room(const struct check_answer *answer);

/*
 * What of a branch's rating is left beside its planning current with everything on, A; 0 where it is less than what a
 * tenth shows.
 */
double check_left_a(const struct check_answer *answer, size_t branch);

/* The share of its rating, 0 to 1, above which a branch is near, by the row of the rule set. */
double check_near_share(const struct check_answer *answer);

/* Why a branch is over or at risk, and so what helps. */
enum check_cause {
    CHECK_TOGETHER, /* its loads together are too much for its breaker (1, 2) */
    CHECK_ALONE,    /* likewise, though a single load hangs there */
    CHECK_OTHERWISE /* something that no load switched off would end: wire, contact, voltage, neutral ... */
};

enum check_cause check_cause_of(const struct check_answer *answer, size_t branch);

/* True where a danger stands that is not one of loads on together: less load does not end it. */
bool check_danger_besides(const struct check_answer *answer, size_t branch);

/* True where something can still be plugged in: what is left is then for plugs, else for an electrician alone. */
bool check_takes_plugs(const struct check_answer *answer, size_t branch);

/* True where a branch is over or at risk by its loads, and one of them is not fastened: it may be used elsewhere. */
bool check_may_move(const struct check_answer *answer);

/* What a panel asks for, the gravest first. */
enum check_panel_need {
    CHECK_PANEL_NOTHING,
    CHECK_PANEL_LOOK, /* a warning or danger about its feeder's wire or device */
    CHECK_PANEL_OVER /* more at once than its breaker or, for the main panel, than the service carries (a warning 13) */
};

enum check_panel_need check_panel_need(const struct assessment *assessment, size_t panel);

/* The first panel, from this branch's own up to the main one, that is CHECK_PANEL_OVER; NO_INDEX: none. */
size_t check_full_panel(const struct assessment *assessment, size_t branch);

/* What is said of a branch beside its verdict. */
enum check_advice {
    CHECK_LEFT,   /* what is left of its breaker */
    CHECK_SETS,   /* over or at risk: the smallest set of its loads that may not run together */
    CHECK_NOTHING /* likewise, but it has too many loads, or is one of too many: that is worked out on its own page */
};

/* The advice of each of these branches: sets take long, so that the first of them alone have one. In `arena`. */
const enum check_advice *check_advise(const struct check_answer *answer, const size_t *branches, size_t count,
                                      struct arena *arena);

/*
 * The ID of the finding that is told first: of the gravest no note (of notes, where `notes` says and nothing is
 * graver), branches before panels, the worst branch first; NULL: none.
 */
const char *check_first_finding(const struct check_answer *answer, bool notes);

/* Every branch of the house by panel, then by the first of its spaces, those without one behind; in the arena. */
const size_t *branches_by_space(const struct house *house, struct arena *arena);

/*
 * Those of `order` (branch_count entries) whose name or ID, or the name of one of their appliances, holds what is
 * looked for, whatever its capitals; in that order, in `arena`.
 */
const size_t *branches_found(const struct house *house, const size_t *order, const char *find, struct arena *arena,
                             size_t *ret_count);

#endif
