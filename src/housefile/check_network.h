/* Rules on what feeds what: panels, outlets, rings. */
#ifndef AMPSUM_CHECK_NETWORK_H
#define AMPSUM_CHECK_NETWORK_H

#include "build.h"

void check_panel_loops(struct build *build, size_t row);
void check_outlet_loops(struct build *build, size_t row);
void check_layout(struct build *build, size_t row);
void check_outlet(struct build *build, size_t row);

#endif
