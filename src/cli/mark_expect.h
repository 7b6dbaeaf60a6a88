/* `mark --expect`: how single answers would be marked. */
#ifndef AMPSUM_CLI_MARK_EXPECT_H
#define AMPSUM_CLI_MARK_EXPECT_H

#include "ampsum/lesson.h"
#include "cli.h"

int mark_expect_run(struct invocation *invocation, const struct lesson_scheme *scheme);

#endif
