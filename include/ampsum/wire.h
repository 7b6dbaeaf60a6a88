/*
 * A branch as the network it is wired as: complex voltages at its outlets, currents in its cable. Works on plain
 * arrays; knows neither house nor tables. Definitions: contract, engineering.md section 5.
 *
 * Checked: tests/unit/test_wire.c (properties, closed forms), tests/unit/test_wire_gsl.c (dense complex LU of the
 * node-admittance matrix), tests/outside/wire.tsv (published values).
 */
#ifndef AMPSUM_WIRE_H
#define AMPSUM_WIRE_H

#include <stdbool.h>
#include <stddef.h>

/*
 * A tree of cable from node 0 (the panel), or that tree closed to a ring by one more segment from one node back to the
 * panel; what hangs beside the cable between the two is a spur. Node k (1..node_count-1) hangs on parent[k] < k through
 * resistance_ohm[k] (out and back: loop resistance of a single-phase pair; one conductor for three-phase line to
 * neutral). All arrays have node_count entries; those of node 0 are not read. Reactance is left out: below 50 mm2 it is
 * under a tenth of the resistance.
 */
struct wire_network {
    size_t node_count;
    const size_t *parent;
    const double *resistance_ohm; /* >= 0 */
    double source_v;              /* at node 0, > 0, angle 0 */
    double ring_resistance_ohm;   /* of the closing segment, > 0; NAN: a tree */
    /* Loads at each node. */
    const double *conductance_s; /* constant impedance: admittance G - jB at any voltage, G >= 0 */
    const double *susceptance_s; /* B >= 0, lagging */
    const double *constant_w;    /* constant power P + jQ, P >= 0 */
    const double *constant_var;  /* Q >= 0, lagging */
    size_t ring_node;            /* where a ring's closing segment starts; 0: at the last node */
};

struct wire_solution {
    bool solved;        /* false: no operating point exists; every figure below is then NAN */
    int iterations;     /* sweeps and Newton rounds together */
    double *voltage_re; /* node_count entries each, caller's */
    double *voltage_im;
    double *current_re; /* in the segment that ends at node k, from parent to k; entry 0: what leaves the panel */
    double *current_im;
    double ring_current_re; /* in the closing segment, from its node to the panel; 0 in a tree */
    double ring_current_im;
    double kcl_residual_a; /* largest over the nodes */
    double power_residual; /* |source power - loads - losses| / |source power|; 0 with nothing on */
    double loss_w;         /* sum of |I|^2 R over the segments as given */
};

/* Doubles of scratch space that wire_solve needs for a network of that many nodes. */
size_t wire_scratch_count(size_t node_count);

/*
 * Solves the network: V[k] = V[parent] - R I[k], I[k] = load(V[k]) + the currents that go on from k, with
 * load(V) = (G - jB) V + conj((P + jQ) / V).
 *
 * Only the operating point on the high-voltage side is ever given, the one that a branch reaches when its loads are
 * raised from nothing. Constant power alone is swept backward and forward; where sweeps are slow, and wherever there is
 * a constant impedance, Newton's method eliminates the tree node by node (no fill-in), so that constant impedances
 * alone are exact. Voltages to a relative 1e-12 of the source, Kirchhoff's current law to 1e-9 A at each node.
 *
 *   scratch   wire_scratch_count(node_count) doubles, contents without meaning before and after
 *   solution  its arrays are the caller's; all of it is written
 *
 * Allocates nothing, keeps nothing, no recursion: a chain of 100,000 nodes is fine. Time linear in the nodes for each
 * round. Arguments out of range are a fault of the caller and assert.
 * Source of the method: backward/forward sweep and Newton on a tree as in any textbook of distribution networks; that
 * Newton falls monotonously to the high-voltage point, or meets a pivot <= 0 where there is none, is the monotone
 * Newton theorem (Ortega and Rheinboldt, Iterative Solution of Nonlinear Equations, 13.3), from memory.
 */
void wire_solve(const struct wire_network *network, double *scratch, struct wire_solution *solution);

/*
 * Voltage lost along a two-wire run, out and back, that carries one current; wire taken as purely resistive.
 *
 *   current_a              ampere, >= 0
 *   length_m               metre, one way, >= 0 (the way back is added here)
 *   resistance_ohm_per_km  ohm per kilometre of ONE conductor at its working temperature, >= 0
 *
 * Returns volt. Cannot fail. V = 2 I length r, Ohm's law for the loop. Checked: tests/outside/wire.tsv.
 */
double wire_drop_v(double current_a, double length_m, double resistance_ohm_per_km);

#endif
