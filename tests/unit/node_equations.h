/*
 * Random series-parallel networks and their figures by node equations (Kirchhoff's current law at every node, solved by
 * elimination in exact fractions): knows nothing of reductions, for holding the circuit solver against.
 */
#ifndef AMPSUM_TEST_NODE_EQUATIONS_H
#define AMPSUM_TEST_NODE_EQUATIONS_H

#include <gmp.h>
#include <stddef.h>
#include <stdint.h>

#include "ampsum/text.h"

enum { NETWORK_PARTS_MOST = 16 };

struct network_part {
    size_t from; /* nodes of the net: 0 is the source's far end, 1 the near one */
    size_t to;
    mpq_t ohm;
    mpq_t volt;
    mpq_t ampere;
};

struct network {
    struct text circuit; /* as it is typed */
    struct network_part part[NETWORK_PARTS_MOST];
    size_t count;
    size_t node_count;
    mpq_t ampere; /* of the source */
};

/* A number 0 to below - 1. */
size_t network_pick(uint64_t *state, size_t below);

/* A network of 1 to `most` parts, and its text. */
void network_random(uint64_t *state, size_t most, struct network *ret_network);

/* Voltages and currents at 60 V. */
void network_solve(struct network *network);

/* Writes the text anew with that part as `?`. */
void network_hide(struct network *network, size_t part);

void network_done(struct network *network);

#endif
