/* A branch as a circuit and as working, for the views that show one branch. */
#ifndef AMPSUM_SERVE_CIRCUIT_H
#define AMPSUM_SERVE_CIRCUIT_H

#include "ampsum/steps.h"
#include "site.h"

/*
 * Draws the branch as a parallel circuit with the loads that are on: breaker, two rails, a rung for each load; lines as
 * wide as their current, the current in the rail behind each junction written on it. The assessment holds `loads`, on a
 * chosen set or scene.
 */
void circuit_svg(struct text *html, const struct assessment *assessment, size_t branch);

/* The same for a class that is to find the currents: none is written, and no line's width tells one. */
void circuit_svg_covered(struct text *html, const struct assessment *assessment, size_t branch);

/* Voltage, drop and current of each outlet with those loads, as a table; a sentence where the wire is not known. */
void circuit_wire(struct visit *visit, const struct assessment *assessment, size_t branch);

/* True where the load is in the sum and draws a current. */
bool circuit_is_on(const struct load *load);

#endif
