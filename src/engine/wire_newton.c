/*
 * Newton's method on a tree of cable. Near a voltage v a constant-power load draws conj(S/V) = 2 i - (i v / |v|^2)
 * conj(V) with i = conj(S/v), so that each part of the tree, seen from above, draws a V + b conj(V) + c. Children are
 * folded into their parents from the last node to the first (every parent has a smaller number): no fill-in.
 * The closing segment of a ring ends at the panel, whose voltage is known: seen from the last node it is a load.
 */
#include "wire_parts.h"

enum { NEWTON_ROUNDS = 80 };

static const double settled_share = 1e-12; /* of the source voltage, change of a round */
static const double noise_share = 1e-9;    /* below it a change that no longer shrinks is rounding */

/* What the tree below (and at) a node draws: a V + b conj(V) + c. */
struct drawn {
    struct phasor a;
    struct phasor b;
    struct phasor c;
};

_Static_assert(sizeof(struct drawn) == NEWTON_DOUBLES * sizeof(double), "wire_scratch_count counts on it");

static bool newton_round(const struct wire_network *network, struct drawn *drawn, struct wire_solution *solution,
                         double *ret_change_v);
static void linearise(const struct wire_network *network, const struct wire_solution *solution, struct drawn *drawn);
static bool fold(const struct wire_network *network, struct drawn *drawn);
static double unfold(const struct wire_network *network, const struct drawn *drawn, struct wire_solution *solution);

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
    if (!fold(network, drawn)) {
        return false;
    }
    *ret_change_v = unfold(network, drawn, solution);
    return isfinite(*ret_change_v);
}

static void linearise(const struct wire_network *network, const struct wire_solution *solution, struct drawn *drawn)
{
    const struct phasor none = {0, 0};
    drawn[0] = (struct drawn){none, none, none};
    for (size_t k = 1; k < network->node_count; k++) {
        const struct phasor v = node_voltage(solution, k);
        const double per_square = 1 / phasor_square(v);
        const struct phasor s = {network->constant_w[k], -network->constant_var[k]};
        const struct phasor i = phasor_scale(phasor_multiply(s, v), per_square);
        drawn[k].a = admittance(network, k);
        drawn[k].b = phasor_scale(phasor_multiply(i, v), -per_square);
        drawn[k].c = phasor_scale(i, 2);
    }
    if (network_is_ring(network)) {
        drawn[network->node_count - 1].a.re += 1 / network->ring_resistance_ohm;
        drawn[network->node_count - 1].c.re -= network->source_v / network->ring_resistance_ohm;
    }
}

/* conj(m) x - n conj(y), over the determinant: one half of a pair taken through the inverse of (m, n). */
static struct phasor through(struct phasor m_conjugate, struct phasor n, double inverse, struct phasor x,
                             struct phasor y)
{
    return phasor_scale(phasor_subtract(phasor_multiply(m_conjugate, x), phasor_multiply(n, phasor_conjugate(y))),
                        inverse);
}

/*
 * Through a segment of R ohm, V = V_parent - R I, what a part draws becomes (E + R A)^-1 (A V_parent + c). The pair
 * (m, n), W = m V + n conj(V), has the inverse (conj(m), -n) / (|m|^2 - |n|^2); that determinant is positive at every
 * voltage above an operating point of the high-voltage side, so that one which is not shows that there is none.
 */
static bool fold(const struct wire_network *network, struct drawn *drawn)
{
    for (size_t k = network->node_count - 1; k > 0; k--) {
        struct drawn part = drawn[k];
        struct drawn *above = &drawn[network->parent[k]];
        const double ohm = network->resistance_ohm[k];
        const struct phasor m_conjugate = {1 + ohm * part.a.re, -ohm * part.a.im};
        const struct phasor n = phasor_scale(part.b, ohm);
        const double determinant = phasor_square(m_conjugate) - phasor_square(n);
        if (!(determinant > 0)) {
            return false;
        }
        const double inverse = 1 / determinant;
        part.c = through(m_conjugate, n, inverse, part.c, part.c);
        part.a.re = (part.a.re + ohm * (phasor_square(part.a) - phasor_square(part.b))) * inverse;
        part.a.im *= inverse;
        part.b = phasor_scale(part.b, inverse);
        drawn[k] = part;
        above->a = phasor_add(above->a, part.a);
        above->b = phasor_add(above->b, part.b);
        above->c = phasor_add(above->c, part.c);
    }
    return true;
}

static struct phasor apply(struct phasor a, struct phasor b, struct phasor v)
{
    return phasor_add(phasor_multiply(a, v), phasor_multiply(b, phasor_conjugate(v)));
}

/* From the panel outward; returns the largest change of a voltage. */
static double unfold(const struct wire_network *network, const struct drawn *drawn, struct wire_solution *solution)
{
    double change_square = 0;
    for (size_t k = 1; k < network->node_count; k++) {
        const struct phasor above = node_voltage(solution, network->parent[k]);
        const struct phasor i = phasor_add(apply(drawn[k].a, drawn[k].b, above), drawn[k].c);
        const struct phasor v = phasor_subtract(above, phasor_scale(i, network->resistance_ohm[k]));
        const double square = phasor_square(phasor_subtract(v, node_voltage(solution, k)));
        change_square = square > change_square || isnan(square) ? square : change_square;
        solution->voltage_re[k] = v.re;
        solution->voltage_im[k] = v.im;
        solution->current_re[k] = i.re;
        solution->current_im[k] = i.im;
    }
    return sqrt(change_square);
}
