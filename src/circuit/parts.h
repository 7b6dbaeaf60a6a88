/* What the files of this room share beyond the public header. */
#ifndef AMPSUM_CIRCUIT_PARTS_H
#define AMPSUM_CIRCUIT_PARTS_H

#include "scan.h"

/* Figures without any, for that many nodes. */
void circuit_figures_init(struct circuit_figures *figures, size_t count);

/* Is `node` within `group`, or the group itself? */
bool circuit_is_within(const struct circuit *circuit, size_t node, size_t group);

#endif
