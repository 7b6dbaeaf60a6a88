/* What a choice costs: windows moved, standby, what the wire loses. Each is the bill of the house beside another one. */
#ifndef AMPSUM_CLI_COST_CHOICE_H
#define AMPSUM_CLI_COST_CHOICE_H

#include "cli.h"

/* True where --shift, --standby or --loss was given. */
bool cost_choice_given(const struct invocation *invocation);

/* Answers them for a tariff; the exit status. */
int cost_choice(struct invocation *invocation, size_t tariff);

#endif
