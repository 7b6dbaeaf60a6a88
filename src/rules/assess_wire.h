/* The part of the assessment that solves the wire. */
#ifndef AMPSUM_RULES_ASSESS_WIRE_H
#define AMPSUM_RULES_ASSESS_WIRE_H

#include "ampsum/assess.h"

/* Fills drop, loss and the solved flags of a branch; `loads` are those of everything on. */
void assess_branch_wire(struct assessment *assessment, size_t index, const struct load *loads);

/* Fills the drop of a panel's feeder. */
void assess_feeder_wire(struct assessment *assessment, size_t index);

/* What the feeders between the service and a panel drop together, percent; one that is not known counts as none. */
double feeders_drop_percent(const struct assessment *assessment, size_t panel);

#endif
