/* What the commands that decide share of an invocation; their words: ampsum/show_combos.h. */
#ifndef AMPSUM_CLI_DECIDE_VIEW_H
#define AMPSUM_CLI_DECIDE_VIEW_H

#include "ampsum/decide.h"
#include "ampsum/show_combos.h"
#include "cli.h"

/* Appends `string` to the invocation's output, wrapped and indented, the first line by `first` blanks. */
void decide_line(struct invocation *invocation, int first, size_t indent, const char *string);

/* An option's whole number from `least` to `most`, `otherwise` where it is not given; false with the error set. */
bool decide_whole(struct invocation *invocation, const char *option, long least, long most, long otherwise,
                  long *ret_value);

#endif
