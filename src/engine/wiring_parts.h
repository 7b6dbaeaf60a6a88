/* Inside wiring_lib. */
#ifndef AMPSUM_WIRING_PARTS_H
#define AMPSUM_WIRING_PARTS_H

#include "ampsum/wiring.h"

/* Takes the memory of a wiring of that many nodes, zeroed, and points its arrays and its network into it. */
void wiring_take(struct wiring *wiring, const struct house *house, size_t branch, size_t node_count);

/* The node of a ring from which the closing segment runs back to the panel. */
static inline size_t wiring_ring_end(const struct wiring *wiring)
{
    return wiring->network.ring_node;
}

static inline bool wiring_is_three_phase(const struct wiring *wiring)
{
    return wiring->house->branches[wiring->branch].poles == 3;
}

#endif
