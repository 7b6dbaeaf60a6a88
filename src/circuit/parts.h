/* What the files of this room share beyond the public header. */
#ifndef AMPSUM_CIRCUIT_PARTS_H
#define AMPSUM_CIRCUIT_PARTS_H

#include "scan.h"

/* Figures without any, for that many nodes. */
void circuit_figures_init(struct circuit_figures *figures, size_t count);

/* As circuit_solve, into figures that are there already: V, I and P of that node and of the groups around it alone. */
void circuit_solve_for(const struct circuit *circuit, mpq_srcptr voltage, mpq_t *ohm, size_t node,
                       struct circuit_figures *figures);

/* Is `node` within `group`, or the group itself? */
bool circuit_is_within(const struct circuit *circuit, size_t node, size_t group);

#endif
