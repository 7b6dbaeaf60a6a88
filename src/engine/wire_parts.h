/* Inside wire_lib: what the two methods of wire_solve share. */
#ifndef AMPSUM_WIRE_PARTS_H
#define AMPSUM_WIRE_PARTS_H

#include "ampsum/wire.h"

#include <math.h>

/* A complex number. C's own type calls a library function for each product, to sort out infinities. */
struct phasor {
    double re;
    double im;
};

static inline struct phasor phasor_add(struct phasor x, struct phasor y)
{
    return (struct phasor){x.re + y.re, x.im + y.im};
}

static inline struct phasor phasor_subtract(struct phasor x, struct phasor y)
{
    return (struct phasor){x.re - y.re, x.im - y.im};
}

static inline struct phasor phasor_multiply(struct phasor x, struct phasor y)
{
    return (struct phasor){x.re * y.re - x.im * y.im, x.re * y.im + x.im * y.re};
}

static inline struct phasor phasor_scale(struct phasor x, double factor)
{
    return (struct phasor){x.re * factor, x.im * factor};
}

static inline struct phasor phasor_conjugate(struct phasor x)
{
    return (struct phasor){x.re, -x.im};
}

static inline double phasor_square(struct phasor x)
{
    return x.re * x.re + x.im * x.im;
}

/* The node from which a ring's closing segment runs back to the panel. */
static inline size_t network_ring_node(const struct wire_network *network)
{
    return network->ring_node > 0 ? network->ring_node : network->node_count - 1;
}

/* Current of the constant-power load of node k at voltage v: conj(S / v). */
static inline struct phasor constant_power_current(const struct wire_network *network, size_t k, struct phasor v)
{
    const struct phasor s = {network->constant_w[k], -network->constant_var[k]};
    if (phasor_square(s) <= 0) {
        return (struct phasor){0, 0}; /* also at no voltage, behind a short circuit */
    }
    return phasor_scale(phasor_multiply(s, v), 1 / phasor_square(v));
}

static inline struct phasor admittance(const struct wire_network *network, size_t k)
{
    return (struct phasor){network->conductance_s[k], -network->susceptance_s[k]};
}

static inline struct phasor load_current(const struct wire_network *network, size_t k, struct phasor v)
{
    return phasor_add(phasor_multiply(admittance(network, k), v), constant_power_current(network, k, v));
}

static inline struct phasor node_voltage(const struct wire_solution *solution, size_t k)
{
    return (struct phasor){solution->voltage_re[k], solution->voltage_im[k]};
}

static inline struct phasor segment_current(const struct wire_solution *solution, size_t k)
{
    return (struct phasor){solution->current_re[k], solution->current_im[k]};
}

static inline bool network_is_ring(const struct wire_network *network)
{
    return !isnan(network->ring_resistance_ohm);
}

/* Every node at the panel's voltage, no current anywhere: the state without load. */
void wire_start_flat(const struct wire_network *network, struct wire_solution *solution);

/* Doubles of scratch for each node that wire_newton needs. */
enum { NEWTON_DOUBLES = 8 };

/*
 * Newton's method from the state without load. True where it settled at an operating point of the high-voltage side;
 * the voltages are then set, the currents are not. Adds its rounds to solution->iterations.
 */
bool wire_newton(const struct wire_network *network, double *scratch, struct wire_solution *solution);

#endif
