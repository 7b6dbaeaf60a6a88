/* Both ends of the published supply band side by side, and the worse of them for each branch. */
#ifndef AMPSUM_CLI_SUPPLY_BAND_H
#define AMPSUM_CLI_SUPPLY_BAND_H

#include "cli.h"

/* True where --supply band was given. */
bool supply_band_given(const struct invocation *invocation);

/* Answers `check --supply band` or `wire --supply band` for the house or one branch (NO_INDEX: all); the exit status. */
int supply_band(struct invocation *invocation, const struct assess_options *choice, size_t branch);

#endif
