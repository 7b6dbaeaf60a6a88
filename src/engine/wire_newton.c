/*
 * Newton's method on a tree of cable, as a correction to the voltages at hand. Near a voltage v a constant-power load
 * changes its current by -(i / conj(v)) conj(dV) with i = conj(S/v), so that each part of the tree, seen from above,
 * changes what it draws by a dV + b conj(dV) + c. Children are folded into their parents from the last node to the
 * first (every parent has a smaller number): no fill-in. What is left of Ohm's law along a segment is its `error`,
 * which the correction takes away; so rounding stays that of the error, also where the equations are nearly singular.
 * The closing segment of a ring ends at the panel, whose voltage is known: seen from its node it is a load.
 */
#include "wire_parts.h"

enum { NEWTON_ROUNDS = 80 };

static const double settled_share = 1e-12; /* of the source voltage, change of a round */
static const double noise_share = 1e-9;    /* below it a change that no longer shrinks is rounding */

/* How the tree below (and at) a node draws more when its voltage changes: a dV + b conj(dV) + c. */
struct drawn {
    struct phasor a;
    struct phasor b;
    struct phasor c;     /* once the node's change is known: that change */
    struct phasor error; /* of Ohm's law along the segment that ends here: V_parent - R I - V */
};

_Static_assert(sizeof(struct drawn) == NEWTON_DOUBLES * sizeof(double), "wire_scratch_count counts on it");

static bool newton_round(const struct wire_network *network, struct drawn *drawn, struct wire_solution *solution,
                         double *ret_change_v);
static void linearise(const struct wire_network *network, struct wire_solution *solution, struct drawn *drawn);
static bool fold(const struct wire_network *network, struct wire_solution *solution, struct drawn *drawn);
static double unfold(const struct wire_network *network, struct wire_solution *solution, struct drawn *drawn);

bool wire_newton(const struct wire_network *network, double *scratch, struct wire_solution *solution)
{
    struct drawn *drawn = (struct drawn *)scratch;
    double last_change_v = INFINITY;
    wire_start_flat(network, solution);
    for (int round = 0; round < NEWTON_ROUNDS; round++) {
        double change_v;
        solution->iterations++;
        if (!newton_round(network, drawn, solution, &change_v)) {
            return false;
        }
        const double share = change_v / network->source_v;
        if (share <= settled_share || (share <= noise_share && change_v >= last_change_v)) {
            return true;
        }
        last_change_v = change_v;
    }
    return false;
}

static bool newton_round(const struct wire_network *network, struct drawn *drawn, struct wire_solution *solution,
                         double *ret_change_v)
{
    linearise(network, solution, drawn);
    if (!fold(network, solution, drawn)) {
        return false;
    }
    *ret_change_v = unfold(network, solution, drawn);
    return isfinite(*ret_change_v);
}

/* The loads at each node and how they change; their currents go into the segments' for fold to add up. */
static void linearise(const struct wire_network *network, struct wire_solution *solution, struct drawn *drawn)
{
    const struct phasor none = {0, 0};
    drawn[0] = (struct drawn){none, none, none, none};
    for (size_t k = 1; k < network->node_count; k++) {
        const struct phasor v = node_voltage(solution, k);
        const struct phasor i = constant_power_current(network, k, v);
        const struct phasor whole = phasor_add(phasor_multiply(admittance(network, k), v), i);
        drawn[k].a = admittance(network, k);
        drawn[k].b = phasor_square(i) > 0 ? phasor_scale(phasor_multiply(i, v), -1 / phasor_square(v)) : none;
        drawn[k].c = none;
        solution->current_re[k] = whole.re;
        solution->current_im[k] = whole.im;
    }
    if (network_is_ring(network)) {
        const size_t last = network_ring_node(network);
        const double siemens = 1 / network->ring_resistance_ohm;
        drawn[last].a.re += siemens;
        solution->current_re[last] += (solution->voltage_re[last] - network->source_v) * siemens;
        solution->current_im[last] += solution->voltage_im[last] * siemens;
    }
}

/* conj(m) x - n conj(y), over the determinant: one half of a pair taken through the inverse of (m, n). */
static struct phasor through(struct phasor m_conjugate, struct phasor n, double inverse, struct phasor x)
{
    return phasor_scale(phasor_subtract(phasor_multiply(m_conjugate, x), phasor_multiply(n, phasor_conjugate(x))),
                        inverse);
}

static struct phasor apply(struct phasor a, struct phasor b, struct phasor v)
{
    return phasor_add(phasor_multiply(a, v), phasor_multiply(b, phasor_conjugate(v)));
}

/* Takes what a part draws through its segment: see fold. False where the determinant is not positive. */
static bool fold_segment(struct drawn *part, double ohm)
{
    const struct phasor m_conjugate = {1 + ohm * part->a.re, -ohm * part->a.im};
    const struct phasor n = phasor_scale(part->b, ohm);
    const double determinant = phasor_square(m_conjugate) - phasor_square(n);
    if (!(determinant > 0)) {
        return false;
    }
    const double inverse = 1 / determinant;
    part->c = through(m_conjugate, n, inverse, part->c);
    part->a.re = (part->a.re + ohm * (phasor_square(part->a) - phasor_square(part->b))) * inverse;
    part->a.im *= inverse;
    part->b = phasor_scale(part->b, inverse);
    part->c = phasor_add(part->c, apply(part->a, part->b, part->error));
    return true;
}

/*
 * Through a segment of R ohm, dV = dV_parent + error - R dI, what a part draws becomes (E + R A)^-1 (A (dV_parent +
 * error) + c). The pair (m, n), W = m V + n conj(V), has the inverse (conj(m), -n) / (|m|^2 - |n|^2); that determinant
 * is positive at every voltage above an operating point of the high-voltage side, so that one which is not shows that
 * there is none.
 */
static bool fold(const struct wire_network *network, struct wire_solution *solution, struct drawn *drawn)
{
    for (size_t k = network->node_count - 1; k > 0; k--) {
        const size_t up = network->parent[k];
        const struct phasor i = segment_current(solution, k);
        struct drawn part = drawn[k];
        part.error = phasor_subtract(phasor_subtract(node_voltage(solution, up), node_voltage(solution, k)),
                                     phasor_scale(i, network->resistance_ohm[k]));
        if (!fold_segment(&part, network->resistance_ohm[k])) {
            return false;
        }
        drawn[k] = part;
        drawn[up].a = phasor_add(drawn[up].a, part.a);
        drawn[up].b = phasor_add(drawn[up].b, part.b);
        drawn[up].c = phasor_add(drawn[up].c, part.c);
        solution->current_re[up] += i.re;
        solution->current_im[up] += i.im;
    }
    return true;
}

/* From the panel outward; returns the largest change of a voltage, or error that called for it. */
static double unfold(const struct wire_network *network, struct wire_solution *solution, struct drawn *drawn)
{
    double change_square = 0;
    drawn[0].c = (struct phasor){0, 0};
    for (size_t k = 1; k < network->node_count; k++) {
        const struct phasor above = drawn[network->parent[k]].c;
        const struct phasor current = phasor_add(apply(drawn[k].a, drawn[k].b, above), drawn[k].c);
        const struct phasor change =
            phasor_subtract(phasor_add(above, drawn[k].error), phasor_scale(current, network->resistance_ohm[k]));
        const double square = fmax(phasor_square(change), phasor_square(drawn[k].error));
        change_square = square <= change_square ? change_square : square;
        solution->voltage_re[k] += change.re;
        solution->voltage_im[k] += change.im;
        drawn[k].c = change;
    }
    return sqrt(change_square);
}
