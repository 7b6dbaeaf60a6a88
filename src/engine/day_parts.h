/* What day.c, day_odds.c and day_model.c share. */
#ifndef AMPSUM_ENGINE_DAY_PARTS_H
#define AMPSUM_ENGINE_DAY_PARTS_H

#include "ampsum/day.h"

/* The parts of the appliance's window that fall on the day: from the day before, from the day itself. At most two. */
bool day_window_part(const struct appliance *appliance, struct day day, size_t window, struct window *ret_parts,
                     int *ret_count);

/* True where the panel, or one that it feeds, carries the branch. */
bool day_panel_feeds(const struct house *house, size_t panel, size_t branch);

/* The appliances of the scope; the list may be made in `arena`. */
struct index_list day_scope_appliances(const struct house *house, struct day_scope scope, struct arena *arena);

double day_scope_rating_a(const struct house *house, struct day_scope scope);

/* Share of its windows (or of 24 hours, without windows) in which the appliance is on, 0..1. Duty apart. */
double day_on_share(const struct appliance *appliance);

#endif
