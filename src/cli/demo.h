/* The demo houses that the examples of every help name: they are in the program. */
#ifndef AMPSUM_CLI_DEMO_H
#define AMPSUM_CLI_DEMO_H

#include "cli.h"

/* `new --demo [FOLDER]`: writes them into the folder, none over a file that is there but with `force`. Gives the exit
 * status. */
int demo_write(struct invocation *invocation, bool force);

#endif
