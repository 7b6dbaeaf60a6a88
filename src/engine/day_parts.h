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

/* What each appliance of the scope adds while it is on, in the order of day_scope_appliances, for as many entries. */
void day_scope_loads(const struct house *house, struct day_scope scope, struct planning_factors factors,
                     struct arena *arena, struct chance_load *ret_loads);

/* Minutes at which an appliance of the list may come on or go off, and both ends of the day, are set in is_edge (1,441
 * entries); gives the number of stretches between them. */
size_t day_edges(const struct house *house, const struct index_list *list, struct day day, bool *is_edge);

/* Figures of the scope with what may be on at that minute. `on`: house->appliance_count zeros at first; `panels`:
 * house->panel_count entries; both may be used again. start_min and end_min are not set. */
struct day_stretch day_look_at(const struct house *house, struct day_scope scope, const struct index_list *list,
                               struct day day, int minute, struct planning_factors factors, unsigned *on,
                               struct panel_figures *panels);

/* True where the appliance's days and months hold that day. */
bool day_starts_on(const struct appliance *appliance, int weekday, int month);

double day_scope_rating_a(const struct house *house, struct day_scope scope);

/* Share of its windows (or of 24 hours, without windows) in which the appliance is on, 0..1. Duty apart. */
double day_on_share(const struct appliance *appliance);

#endif
