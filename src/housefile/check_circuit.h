/* Rules on the keys of the supply, of circuits and of appliances; each is a row of the table in check.c. */
#ifndef AMPSUM_CHECK_CIRCUIT_H
#define AMPSUM_CHECK_CIRCUIT_H

#include "build.h"

void check_supply(struct build *build, size_t row);      /* main breaker or supply fuse */
void check_transformer(struct build *build, size_t row); /* rating and impedance go together */
void check_branch_breaking(struct build *build, size_t row);
void check_panel_breaking(struct build *build, size_t row);
void check_third_harmonic(struct build *build, size_t row);
void check_connection(struct build *build, size_t row);
void check_shared_neutral(struct build *build, size_t row);
void check_tied(struct build *build, size_t row);
void check_plate(struct build *build, size_t row);

#endif
