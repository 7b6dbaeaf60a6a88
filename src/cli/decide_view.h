/* What combos, place and settle say alike: appliances with their units, by ID and by name. */
#ifndef AMPSUM_CLI_DECIDE_VIEW_H
#define AMPSUM_CLI_DECIDE_VIEW_H

#include "ampsum/decide.h"
#include "ampsum/freetext.h"
#include "cli.h"

/* `kettle`; `kettle*2` where there is more than one of it. */
void decide_id(const struct appliance *appliance, unsigned units, struct text *text);

/* `Kettle`; `2 x Kettle` where there is more than one of it. */
void decide_name(const struct appliance *appliance, unsigned units, struct text *text);

/* The parts of a set on a branch: names as `A, B and C`; IDs as a JSON array, or parted by `separator`. */
void decide_names(const struct house *house, size_t branch, const struct combos_set *set, struct text *text);
json_t *decide_ids_json(const struct house *house, size_t branch, const struct combos_set *set);
void decide_ids(const struct house *house, size_t branch, const struct combos_set *set, const char *separator,
                struct text *text);

/* `18.4 A`, rounded to a tenth. */
void decide_ampere(double value_a, struct text *text);

/* Appends `string` to the invocation's output, wrapped and indented, the first line by `first` blanks. */
void decide_line(struct invocation *invocation, int first, size_t indent, const char *string);

/* An option's whole number from `least` to `most`, `otherwise` where it is not given; false with the error set. */
bool decide_whole(struct invocation *invocation, const char *option, long least, long most, long otherwise,
                  long *ret_value);

/* The line that says what was taken where nothing was said of how long a load runs, where that counts. */
void decide_running_time(struct invocation *invocation, const struct freetext *load, int rules, struct text *text);

#endif
