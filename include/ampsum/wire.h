/*
 * A branch as the network it is wired as: complex voltages at its outlets, currents in its cable. Works on plain
 * arrays; knows neither house nor tables. Definitions: contract, engineering.md section 5.
 */
#ifndef AMPSUM_WIRE_H
#define AMPSUM_WIRE_H

#include <stdbool.h>
#include <stddef.h>

/*
 * A tree of cable from node 0 (the panel), or that tree closed to a ring by one more segment from the last node back to
 * the panel. Node k (1..node_count-1) hangs on parent[k] < k through impedance ohm[k] (out and back: loop resistance of
 * a single-phase pair; one conductor for three-phase line to neutral). All arrays have node_count entries; those of
 * node 0 are not read.
 */
struct wire_network {
    size_t node_count;
    const size_t *parent;
    const double *resistance_ohm; /* >= 0 */
    double source_v;              /* at node 0, > 0, angle 0 */
    double ring_resistance_ohm;   /* of the closing segment; NAN: a tree */
    /* Loads at each node. */
    const double *conductance_s; /* constant impedance: admittance G - jB at any voltage */
    const double *susceptance_s; /* B >= 0, lagging */
    const double *constant_w;    /* constant power P + jQ */
    const double *constant_var;
};

struct wire_solution {
    bool solved;        /* false: no operating point exists (or none was found within the bound) */
    int iterations;     /* of the method that found it */
    double *voltage_re; /* node_count entries each, caller's */
    double *voltage_im;
    double *current_re; /* in the segment that ends at node k, from parent to k */
    double *current_im;
    double ring_current_re; /* in the closing segment, from the last node to the panel */
    double ring_current_im;
    double kcl_residual_a; /* largest over the nodes */
    double power_residual; /* |source power - loads - losses| / |source power| */
    double loss_w;         /* sum of I^2 R as given */
};

/* Doubles of scratch space that wire_solve needs for a network. */
size_t wire_scratch_count(size_t node_count);

/*
 * Solves the network to a relative 1e-10 of the source: sweeps, then Newton with tree elimination where sweeps are
 * slow; solved false where the load is past what the wire can feed. Allocates nothing. No recursion: a chain of 100,000
 * nodes is fine. Time linear in the nodes for each iteration.
 */
void wire_solve(const struct wire_network *network, double *scratch, struct wire_solution *solution);

/* Voltage lost along a two-wire run, out and back, that carries one current. current_a * 2 * length * resistance. */
double wire_drop_v(double current_a, double length_m, double resistance_ohm_per_km);

#endif
