/*
 * Whether a branch can take a load: room for it whatever else is on, only if others stay off while it runs, or not at
 * all. From the assessments of the house without and with the load; contract, limits.md, section 10.
 *
 * Checked: tests/golden/place-class; the fewest loads off in tests/unit/test_decide.c.
 */
#ifndef AMPSUM_FIT_H
#define AMPSUM_FIT_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/arena.h"
#include "ampsum/assess.h"

enum fit_class { FIT_ROOM, FIT_ONLY_IF, FIT_NO };

/* `room`, `only-if`, `no`. */
const char *fit_class_word(enum fit_class class);

/* One load on one branch. The first three are given; the rest is the answer. */
struct fit {
    size_t branch_before; /* in the house without it; NO_INDEX: a new branch */
    size_t branch;        /* in the house with it */
    size_t appliance;     /* the load, there */
    enum fit_class class;
    const char *reason; /* why there is no room; NULL where there is */
    bool other_voltage; /* made for another voltage: no figure of the branch means anything then */
    bool no_plug;       /* nothing there to plug into: the figures say what would be, were it wired there */
    bool *off;          /* only-if: by place among the branch's appliances, what must stay off while the load runs */
    struct finding_list new_findings; /* of the branch, that the load brings */
};

/*
 * Judges `count` loads, each on a branch of its own in the house of `after` (branches do not change each other's
 * figures). What feeds (a generator) has room nowhere. The voltage comes first; then a plug-in load needs a place to
 * plug into; then room: nothing that warns is new, and the branch carries everything on. Else the fewest loads that
 * must stay off (never refrigeration, medical equipment, pumps of a sump or of heating), where nothing else warns anew;
 * a medical load is never told to wait for others. Lists and reasons live in `arena` and the assessments. Both
 * assessments need their wires and texts.
 */
void fits_judge(const struct assessment *before, const struct assessment *after, struct arena *arena, struct fit *fits,
                size_t count);

#endif
