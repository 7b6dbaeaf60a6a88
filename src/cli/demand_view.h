/* What the `demand` command shows: the lines of the method, their working, the result in words. */
#ifndef AMPSUM_CLI_DEMAND_VIEW_H
#define AMPSUM_CLI_DEMAND_VIEW_H

#include "ampsum/demand.h"
#include "cli.h"

/* `notes`: what was assumed, a sentence each, NULL-ended; --working adds the arithmetic. */
void demand_view_json(struct invocation *invocation, const struct demand *demand, const char *const *notes);
void demand_view_csv(struct invocation *invocation, const struct demand *demand);
void demand_view_text(struct invocation *invocation, const struct demand *demand, const char *const *notes);

#endif
