/* A branch as a circuit and as working, for the views that show one branch. */
#ifndef AMPSUM_SERVE_CIRCUIT_H
#define AMPSUM_SERVE_CIRCUIT_H

#include "ampsum/pictures.h"
#include "ampsum/steps.h"
#include "site.h"

/* The branch as a parallel circuit (pictures_circuit). The assessment holds `loads`, on a chosen set or scene. */
void circuit_svg(struct visit *visit, const struct assessment *assessment, size_t branch, enum circuit_look look);

/* For a class: in two drawings, of which the screen's width shows one. `covered`: no current is written. */
void circuit_board(struct visit *visit, const struct assessment *assessment, size_t branch, bool covered);

/* Voltage, drop and current of each outlet with those loads, as a table; a sentence where the wire is not known. */
void circuit_wire(struct visit *visit, const struct assessment *assessment, size_t branch);

/* True where the load is in the sum and draws a current. */
bool circuit_is_on(const struct load *load);

#endif
