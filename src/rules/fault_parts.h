/* Inside rules_lib: the parts of a fault study. */
#ifndef AMPSUM_RULES_FAULT_PARTS_H
#define AMPSUM_RULES_FAULT_PARTS_H

#include "ampsum/fault_assess.h"
#include "ampsum/reference_fault.h"
#include "ampsum/wiring.h"

/* One branch under study, with the cable that its points hang on. */
struct fault_case {
    struct fault_study *study;
    const struct house *house;
    size_t index;
    const struct branch *branch;
    struct fault_branch *result;
    const struct wiring *wiring; /* NULL: wire or length is not known */
};

/* A rule's number under the study's rule set. */
double fault_rule(const struct fault_study *study, const char *id);

/* The study under rules that hold a loop impedance against a table (fault.md 3). */
void fault_loop_origin(struct fault_study *study, double at_panel_a);
void fault_loop_panel(struct fault_study *study, size_t panel);
void fault_loop_branch(struct fault_case *fault_case);

/* The study under rules that know the current available at the panel (fault.md 4). */
void fault_available_origin(struct fault_study *study, double at_panel_a);
void fault_available_panel(struct fault_study *study, size_t panel);
void fault_available_branch(struct fault_case *fault_case);

/* Resistance of one conductor over a length, ohm; NAN where either is not known. */
double fault_conductor_ohm(const struct ref_conductor *conductor, double length_m, double temp_c);

/* A stretch after another. */
struct fault_stretch fault_stretch_add(struct fault_stretch a, struct fault_stretch b);

/* Rated residual current of a branch's device, A; NAN where it has none. */
double fault_residual_a(const struct branch *branch);

/* Raises all findings, once all figures stand. */
void fault_find(struct fault_study *study, bool no_texts);

#endif
