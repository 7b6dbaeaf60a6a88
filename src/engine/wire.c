/*
 * A branch as a network: sweeps backward (currents) and forward (voltages) over the tree, Newton's method where they
 * are slow, and the residuals of whatever was found. One round of sweeps is a few operations for each node, see
 * tests/bench/bench_wire.c.
 */
#include "ampsum/wire.h"
#include "wire_parts.h"

#include <assert.h>

enum { SWEEP_ROUNDS = 20 }; /* a drop of 30 % needs about that many; from there Newton is quicker */

static const double settled_share = 1e-12; /* of the source voltage, change of a round */

static bool network_is_valid(const struct wire_network *network, bool *ret_has_impedance);
static bool wire_sweep(const struct wire_network *network, struct wire_solution *solution);
static bool finish(const struct wire_network *network, double *scratch, struct wire_solution *solution);
static void clear_solution(const struct wire_network *network, struct wire_solution *solution);

size_t wire_scratch_count(size_t node_count)
{
    return NEWTON_DOUBLES * node_count;
}

void wire_solve(const struct wire_network *network, double *scratch, struct wire_solution *solution)
{
    bool has_impedance;
    const bool valid = network_is_valid(network, &has_impedance);
    assert(valid);
    solution->iterations = 0;
    solution->ring_current_re = 0;
    solution->ring_current_im = 0;
    solution->solved = (!has_impedance && wire_sweep(network, solution) && finish(network, scratch, solution)) ||
                       (wire_newton(network, scratch, solution) && finish(network, scratch, solution));
    if (!solution->solved) {
        clear_solution(network, solution);
    }
}

double wire_drop_v(double current_a, double length_m, double resistance_ohm_per_km)
{
    return 2 * current_a * length_m * resistance_ohm_per_km / 1000;
}

/* Also tells whether any load is a constant impedance: the one walk over the arguments. */
static bool network_is_valid(const struct wire_network *network, bool *ret_has_impedance)
{
    const double closing_ohm = network_is_ring(network) ? network->ring_resistance_ohm : 1;
    bool valid = network->node_count > 0 && network->source_v > 0 && isfinite(network->source_v) && closing_ohm > 0;
    bool has_impedance = false;
    for (size_t k = 1; k < network->node_count; k++) {
        const double ohm = network->resistance_ohm[k];
        const double g = network->conductance_s[k];
        const double b = network->susceptance_s[k];
        const double p = network->constant_w[k];
        const double q = network->constant_var[k];
        valid &= (network->parent[k] < k) & (ohm >= 0) & (g >= 0) & (b >= 0) & (p >= 0) & (q >= 0) &
                 (ohm + g + b + p + q < INFINITY);
        has_impedance |= g + b > 0;
    }
    *ret_has_impedance = has_impedance;
    return valid;
}

void wire_start_flat(const struct wire_network *network, struct wire_solution *solution)
{
    for (size_t k = 0; k < network->node_count; k++) {
        solution->voltage_re[k] = network->source_v;
        solution->voltage_im[k] = 0;
    }
}

static void sweep_loads(const struct wire_network *network, struct wire_solution *solution)
{
    const size_t count = network->node_count;
    const double *restrict p = network->constant_w;
    const double *restrict q = network->constant_var;
    const double *restrict v_re = solution->voltage_re;
    const double *restrict v_im = solution->voltage_im;
    double *restrict i_re = solution->current_re;
    double *restrict i_im = solution->current_im;
    i_re[0] = 0;
    i_im[0] = 0;
    for (size_t k = 1; k < count; k++) {
        const double per_square = 1 / (v_re[k] * v_re[k] + v_im[k] * v_im[k]);
        i_re[k] = (p[k] * v_re[k] + q[k] * v_im[k]) * per_square;
        i_im[k] = (p[k] * v_im[k] - q[k] * v_re[k]) * per_square;
    }
}

/*
 * Adds each current to its parent's. Along a chain, parent[k] == k - 1, the sum stays in a register: through memory
 * each node would wait for the store of the one before it.
 */
static void sweep_backward(const struct wire_network *network, struct wire_solution *solution)
{
    const size_t *restrict parent = network->parent;
    double *restrict i_re = solution->current_re;
    double *restrict i_im = solution->current_im;
    size_t k = network->node_count - 1;
    while (k > 0) {
        double re = i_re[k];
        double im = i_im[k];
        while (parent[k] == k - 1 && k > 1) {
            k--;
            re += i_re[k];
            im += i_im[k];
            i_re[k] = re;
            i_im[k] = im;
        }
        i_re[parent[k]] += re;
        i_im[parent[k]] += im;
        k--;
    }
}

/* Returns the largest square of a change of a voltage. A NAN may be passed over here; check_solution meets it. */
static double sweep_forward(const struct wire_network *network, struct wire_solution *solution)
{
    const size_t *restrict parent = network->parent;
    const double *restrict ohm = network->resistance_ohm;
    const double *restrict i_re = solution->current_re;
    const double *restrict i_im = solution->current_im;
    double *restrict v_re = solution->voltage_re;
    double *restrict v_im = solution->voltage_im;
    const size_t count = network->node_count;
    double change_square = 0;
    size_t k = 1;
    while (k < count) {
        double re = v_re[parent[k]];
        double im = v_im[parent[k]];
        do {
            re -= ohm[k] * i_re[k];
            im -= ohm[k] * i_im[k];
            const double change_re = re - v_re[k];
            const double change_im = im - v_im[k];
            const double square = change_re * change_re + change_im * change_im;
            change_square = change_square > square ? change_square : square;
            v_re[k] = re;
            v_im[k] = im;
            k++;
        } while (k < count && parent[k] == k - 1);
    }
    return change_square;
}

/*
 * The current of the closing segment by compensation: with the ring open, its node would stand at V; feeding J
 * back from it moves it by J times the resistance of the path, so that J = (V - V_panel) / (R_path + R_ring).
 */
static void sweep_ring(const struct wire_network *network, struct wire_solution *solution)
{
    const size_t last = network_ring_node(network);
    struct phasor fall = {0, 0};
    double loop_ohm = network->ring_resistance_ohm;
    for (size_t k = last; k > 0; k = network->parent[k]) {
        fall = phasor_add(fall, phasor_scale(segment_current(solution, k), network->resistance_ohm[k]));
        loop_ohm += network->resistance_ohm[k];
    }
    const struct phasor current = phasor_scale(fall, -1 / loop_ohm);
    for (size_t k = last; k > 0; k = network->parent[k]) {
        solution->current_re[k] += current.re;
        solution->current_im[k] += current.im;
    }
    solution->ring_current_re = current.re;
    solution->ring_current_im = current.im;
}

static bool wire_sweep(const struct wire_network *network, struct wire_solution *solution)
{
    const double settled_v = settled_share * network->source_v;
    wire_start_flat(network, solution);
    for (int round = 0; round < SWEEP_ROUNDS; round++) {
        solution->iterations++;
        sweep_loads(network, solution);
        sweep_backward(network, solution);
        if (network_is_ring(network)) {
            sweep_ring(network, solution);
        }
        const double change_square = sweep_forward(network, solution);
        if (change_square <= settled_v * settled_v) {
            return true;
        }
        if (!isfinite(change_square)) {
            return false;
        }
    }
    return false;
}

/*
 * The currents that the loads draw at the voltages found. That of a ring's closing segment comes by compensation, not
 * as a small difference of voltages over a small resistance.
 */
static void collect_currents(const struct wire_network *network, struct phasor *load, struct wire_solution *solution)
{
    solution->current_re[0] = 0;
    solution->current_im[0] = 0;
    for (size_t k = 1; k < network->node_count; k++) {
        load[k] = load_current(network, k, node_voltage(solution, k));
        solution->current_re[k] = load[k].re;
        solution->current_im[k] = load[k].im;
    }
    sweep_backward(network, solution);
    if (network_is_ring(network)) {
        sweep_ring(network, solution);
    }
}

/* What the loads take and the cable loses, and the current that leaves the panel. */
struct balance {
    struct phasor taken_va;
    struct phasor source_a;
    double loss_w;
    double astray_a; /* the largest current that goes astray at a node */
    double astray_v; /* the largest voltage that goes astray along a segment */
};

/* `onward`: room for a current at each node. */
static struct balance balance_of(const struct wire_network *network, const struct phasor *load, struct phasor *onward,
                                 const struct wire_solution *solution)
{
    const size_t last = network->node_count - 1;
    struct balance sum = {{0, 0}, {0, 0}, 0, 0, 0};
    double largest_square = 0;
    double largest_square_v = 0;
    for (size_t k = 0; k <= last; k++) {
        onward[k] = (struct phasor){0, 0};
    }
    onward[network_ring_node(network)] = (struct phasor){solution->ring_current_re, solution->ring_current_im};
    for (size_t k = last; k > 0; k--) {
        const struct phasor v = node_voltage(solution, k);
        const struct phasor i = segment_current(solution, k);
        const struct phasor left = phasor_subtract(phasor_subtract(i, load[k]), onward[k]);
        const double square = phasor_square(left);
        const struct phasor fall = phasor_subtract(node_voltage(solution, network->parent[k]), v);
        const double square_v = phasor_square(phasor_subtract(fall, phasor_scale(i, network->resistance_ohm[k])));
        struct phasor *above = &onward[network->parent[k]];
        largest_square = square <= largest_square ? largest_square : square;
        largest_square_v = square_v <= largest_square_v ? largest_square_v : square_v;
        sum.taken_va = phasor_add(sum.taken_va, phasor_multiply(v, phasor_conjugate(load[k])));
        sum.loss_w += phasor_square(i) * network->resistance_ohm[k];
        *above = phasor_add(*above, i);
    }
    sum.source_a = phasor_subtract(onward[0], (struct phasor){solution->ring_current_re, solution->ring_current_im});
    sum.astray_a = sqrt(largest_square);
    sum.astray_v = sqrt(largest_square_v);
    return sum;
}

/*
 * Measures what was found, from the voltages and currents alone. False where it does not hold: to 1e-9 A at each node
 * (a millionth of a millionth of what leaves the panel, above a thousand ampere), to 1e-10 of the panel's voltage along
 * each segment, and to 1e-9 of the power.
 */
static bool check_solution(const struct wire_network *network, const struct phasor *load, struct phasor *onward,
                           struct wire_solution *solution)
{
    struct balance sum = balance_of(network, load, onward, solution);
    if (network_is_ring(network)) {
        const struct phasor ring = {solution->ring_current_re, solution->ring_current_im};
        sum.loss_w += phasor_square(ring) * network->ring_resistance_ohm;
        const size_t end = network_ring_node(network);
        const struct phasor rise = {solution->voltage_re[end] - network->source_v, solution->voltage_im[end]};
        const struct phasor left = phasor_subtract(rise, phasor_scale(ring, network->ring_resistance_ohm));
        sum.astray_v = fmax(sum.astray_v, sqrt(phasor_square(left)));
    }
    const struct phasor source_va = phasor_scale(phasor_conjugate(sum.source_a), network->source_v);
    const struct phasor missing_va = {source_va.re - sum.taken_va.re - sum.loss_w, source_va.im - sum.taken_va.im};
    const double source_size_va = sqrt(phasor_square(source_va));
    const double missing_size_va = sqrt(phasor_square(missing_va));
    solution->current_re[0] = sum.source_a.re;
    solution->current_im[0] = sum.source_a.im;
    solution->loss_w = sum.loss_w;
    solution->kcl_residual_a = sum.astray_a;
    solution->power_residual = source_size_va > 0 ? missing_size_va / source_size_va : 0;
    const double limit_a = 1e-9 * fmax(1, source_size_va / network->source_v / 1000);
    return sum.astray_a <= limit_a && sum.astray_v <= 1e-10 * network->source_v && solution->power_residual <= 1e-9 &&
           isfinite(sum.loss_w);
}

/* Currents and residuals at the voltages found; false where they do not hold. */
static bool finish(const struct wire_network *network, double *scratch, struct wire_solution *solution)
{
    struct phasor *load = (struct phasor *)scratch;
    collect_currents(network, load, solution);
    return check_solution(network, load, load + network->node_count, solution);
}

static void clear_solution(const struct wire_network *network, struct wire_solution *solution)
{
    for (size_t k = 0; k < network->node_count; k++) {
        solution->voltage_re[k] = NAN;
        solution->voltage_im[k] = NAN;
        solution->current_re[k] = NAN;
        solution->current_im[k] = NAN;
    }
    solution->ring_current_re = NAN;
    solution->ring_current_im = NAN;
    solution->kcl_residual_a = NAN;
    solution->power_residual = NAN;
    solution->loss_w = NAN;
}
