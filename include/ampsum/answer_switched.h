/*
 * A branch with some of its loads opened, beside the same with all of them closed: which currents change, and which
 * stay as they were. The class view asks it.
 *
 * Checked: tests/unit/test_answer_switched.c; tests/page/class.mjs.
 */
#ifndef AMPSUM_ANSWER_SWITCHED_H
#define AMPSUM_ANSWER_SWITCHED_H

#include "ampsum/answer_branch.h"
#include "ampsum/steps.h"

/* How a load's current stands against what it was before anything was opened. */
enum switched { SWITCHED_OPEN, SWITCHED_UNITS, SWITCHED_UNCHANGED, SWITCHED_CHANGED };

struct switched_load {
    const struct appliance *appliance;
    const struct load *before; /* all closed */
    const struct load *now;
    enum switched change;
    bool opened;   /* fewer of its units are on than before */
    unsigned on;   /* units that are on */
    double line_a; /* in the line towards its junction, for it and all behind it */
};

struct switched_answer {
    const struct branch *branch;
    const struct branch_assessment *before;
    const struct branch_assessment *now;
    struct switched_load *loads; /* of each of branch->appliances */
    size_t count;
    size_t opened_count;
    size_t unchanged_count;
    bool takes_plugs; /* a plug-in load may be asked for: not kept for one appliance or for lights, a single pole */
    struct steps steps;
    struct assessment *assessment; /* now */
    struct assessment *closed;
    struct arena *arena;
};

/* `on`: what is on now, with its loads and wires worked out. `language`: of the steps' sentences. Never fails; free
 * with switched_answer_done. */
void answer_switched(const struct house *house, size_t branch, const struct assess_options *on, int language,
                     struct switched_answer *ret_answer);
void switched_answer_done(struct switched_answer *answer);

#endif
