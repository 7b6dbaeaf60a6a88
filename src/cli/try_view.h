/* What the `try` command shows: a house before and after a change. */
#ifndef AMPSUM_CLI_TRY_VIEW_H
#define AMPSUM_CLI_TRY_VIEW_H

#include "cli.h"

/*
 * Writes branches whose figures or verdicts differ, findings that came or went, panels and cost, in the asked format.
 * `what`: what was changed, a line each; `kept`: it is stored. Both houses on the basis of --scene, --on and --off.
 * Gives the exit status: 1 where a branch of the house after it is over.
 */
int try_compare(struct invocation *invocation, const struct house *before_house, const struct house *after_house,
                const struct text *what, bool kept);

#endif
