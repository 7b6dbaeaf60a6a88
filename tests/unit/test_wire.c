/* The network of a branch: laws that every solution keeps, closed forms, the end of what a wire can feed. */
#include "ampsum/wire.h"
#include "runner.h"

#include <complex.h>
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

struct net {
    size_t count;
    size_t *parent;
    double *ohm, *g, *b, *p, *q, *scratch;
    double source_v, ring_ohm;
    struct wire_solution is;
};

static struct net net_new(size_t count, double source_v)
{
    struct net net = {.count = count, .source_v = source_v, .ring_ohm = (double)NAN};
    double *next = calloc(9 * count + wire_scratch_count(count), sizeof(double));
    ck_assert_ptr_nonnull(next);
    net.parent = calloc(count, sizeof(size_t));
    ck_assert_ptr_nonnull(net.parent);
    double **arrays[] = {&net.ohm,
                         &net.g,
                         &net.b,
                         &net.p,
                         &net.q,
                         &net.is.voltage_re,
                         &net.is.voltage_im,
                         &net.is.current_re,
                         &net.is.current_im,
                         &net.scratch};
    for (size_t i = 0; i < sizeof arrays / sizeof *arrays; i++) {
        *arrays[i] = next;
        next += count;
    }
    return net;
}

static void net_free(struct net *net)
{
    free(net->ohm);
    free(net->parent);
}

static bool solve(struct net *net)
{
    const struct wire_network network = {net->count, net->parent, net->ohm, net->source_v, net->ring_ohm,
                                         net->g,     net->b,      net->p,   net->q};
    wire_solve(&network, net->scratch, &net->is);
    return net->is.solved;
}

/* Not CMPLX: not every C library has it for every compiler. */
static double complex complex_of(double re, double im)
{
    return re + im * I;
}

static double complex volts(const struct net *net, size_t k)
{
    return complex_of(net->is.voltage_re[k], net->is.voltage_im[k]);
}

static double complex amps(const struct net *net, size_t k)
{
    return complex_of(net->is.current_re[k], net->is.current_im[k]);
}

static double complex load_amps(const struct net *net, size_t k)
{
    const double complex v = volts(net, k);
    return complex_of(net->g[k], -net->b[k]) * v + conj(complex_of(net->p[k], net->q[k]) / v);
}

static uint64_t random_state = 20240;

static double share(void)
{
    random_state = random_state * 6364136223846793005U + 1442695040888963407U;
    return (double)(random_state >> 11) / 9007199254740992.0;
}

/* A tree or ring of 1 to `most` outlets with loads of both kinds; `weight` 1: a drop of some percent. */
static struct net net_random(size_t most, double weight, bool impedances)
{
    const size_t outlets = 1 + (size_t)(share() * (double)most);
    struct net net = net_new(outlets + 1, 120 + 280 * share());
    const bool chain = share() < 0.4;
    for (size_t k = 1; k <= outlets; k++) {
        net.parent[k] = chain || share() < 0.5 ? k - 1 : (size_t)(share() * (double)k);
        net.ohm[k] = 0.001 + 0.3 * share() / (double)outlets;
        net.p[k] = share() < 0.3 ? 0 : weight * 4000 * share() / (double)outlets;
        net.q[k] = share() < 0.4 ? 0 : net.p[k] * 2 * share();
        net.g[k] = !impedances || share() < 0.4 ? 0 : weight * share() / (double)outlets / 10;
        net.b[k] = share() < 0.6 ? 0 : net.g[k] * 2 * share();
    }
    net.ring_ohm = share() < 0.4 ? 0.001 + 0.3 * share() : (double)NAN;
    return net;
}

/* Ohm's law along each segment, Kirchhoff's current law at each node, power kept: told from the figures alone. */
static void check_laws(const struct net *net)
{
    const bool ring = !isnan(net->ring_ohm);
    const size_t last = net->count - 1;
    const double complex ring_a = complex_of(net->is.ring_current_re, net->is.ring_current_im);
    double complex *left = calloc(net->count, sizeof *left);
    ck_assert_ptr_nonnull(left);
    double complex taken_va = 0;
    double loss_w = 0;
    ck_assert_double_eq(net->is.voltage_re[0], net->source_v);
    left[last] -= ring_a;
    for (size_t k = 1; k <= last; k++) {
        ck_assert_double_le(cabs(volts(net, net->parent[k]) - net->ohm[k] * amps(net, k) - volts(net, k)), 1e-9);
        left[k] += amps(net, k) - load_amps(net, k);
        left[net->parent[k]] -= amps(net, k);
        taken_va += volts(net, k) * conj(load_amps(net, k));
        loss_w += net->ohm[k] * pow(cabs(amps(net, k)), 2);
    }
    for (size_t k = 1; k <= last; k++) {
        ck_assert_double_le(cabs(left[k]), 1e-9);
    }
    if (ring) {
        ck_assert_double_le(cabs(volts(net, last) - net->ring_ohm * ring_a - net->source_v), 1e-9);
        loss_w += net->ring_ohm * pow(cabs(ring_a), 2);
    } else {
        ck_assert_double_eq(cabs(ring_a), 0);
    }
    const double complex source_va = net->source_v * conj(-left[0] - ring_a);
    ck_assert_double_le(cabs(source_va - taken_va - loss_w), 1e-9 * cabs(source_va) + 1e-12);
    ck_assert_double_le(fabs(net->is.loss_w - loss_w), 1e-9 * loss_w + 1e-12);
    ck_assert_double_le(cabs(amps(net, 0) - conj(source_va) / net->source_v), 1e-9);
    ck_assert_double_le(net->is.kcl_residual_a, 1e-9);
    ck_assert_double_le(net->is.power_residual, 1e-9);
    free(left);
}

START_TEST(laws_hold_in_random_networks)
{
    int solved = 0;
    for (int round = 0; round < 3000; round++) {
        struct net net = net_random(_i == 0 ? 12 : 60, 0.2 + 6 * share(), _i != 2);
        if (solve(&net)) {
            check_laws(&net);
            solved++;
        }
        net_free(&net);
    }
    ck_assert_int_gt(solved, 2000);
}
END_TEST

START_TEST(impedance_alone_is_a_divider)
{
    struct net net = net_new(2, 12);
    net.ohm[1] = 1;
    net.g[1] = 1 / 6.0 + 1 / 13.0;
    ck_assert(solve(&net));
    ck_assert_double_eq_tol(net.is.voltage_re[1], 12 / (1 + net.g[1]), 1e-14);
    ck_assert_double_eq_tol(net.is.current_re[1], 12 / (1 + 1 / net.g[1]), 1e-14);
    net_free(&net);
}
END_TEST

/* V0^2 = |V|^2 + 2 P R + R^2 |S|^2 / |V|^2: the larger root. */
static double one_load_v(double source_v, double ohm, double power_w, double reactive_var)
{
    const double half = (source_v * source_v - 2 * power_w * ohm) / 2;
    const double part = ohm * hypot(power_w, reactive_var);
    return sqrt(half + sqrt((half - part) * (half + part)));
}

static const double power_factors[] = {1, 0.9, 0.7, 0.3, 0};

START_TEST(one_constant_power_load_is_the_closed_form)
{
    static const double loadings[] = {1e-6, 0.01, 0.1, 0.5, 0.9, 0.99, 0.9999, 0.999999, 1 - 1e-9};
    const double pf = power_factors[_i];
    struct net net = net_new(2, 230);
    net.ohm[1] = 0.7;
    for (size_t i = 0; i < sizeof loadings / sizeof *loadings; i++) {
        const double largest_va = 230 * 230 / (2 * 0.7 * (1 + pf));
        net.p[1] = loadings[i] * largest_va * pf;
        net.q[1] = loadings[i] * largest_va * sqrt(1 - pf * pf);
        ck_assert_msg(solve(&net), "pf %g, loading %g", pf, loadings[i]);
        const double want_v = one_load_v(230, 0.7, net.p[1], net.q[1]);
        ck_assert_double_eq_tol(cabs(volts(&net, 1)), want_v, loadings[i] > 0.9999 ? 1e-7 : 1e-10);
        check_laws(&net);
    }
    net_free(&net);
}
END_TEST

/* The most that one load can take through R ohm is V^2 / (2 R (1 + pf)) VA; V^2 / (4 R) at pf 1. */
START_TEST(collapse_is_told_at_the_analytic_maximum)
{
    const double pf = power_factors[_i];
    struct net net = net_new(2, 120);
    for (double ohm = 0.01; ohm < 50; ohm *= 3) {
        const double largest_va = 120 * 120 / (2 * ohm * (1 + pf));
        static const double beyond[] = {1 + 1e-9, 1.000001, 1.01, 1.5, 10, 1e4};
        net.ohm[1] = ohm;
        for (size_t i = 0; i < sizeof beyond / sizeof *beyond; i++) {
            net.p[1] = beyond[i] * largest_va * pf;
            net.q[1] = beyond[i] * largest_va * sqrt(1 - pf * pf);
            ck_assert_msg(!solve(&net), "pf %g, %g ohm, %g times the most", pf, ohm, beyond[i]);
            ck_assert(isnan(net.is.voltage_re[1]) && isnan(net.is.current_re[1]) && isnan(net.is.loss_w));
            ck_assert(isnan(net.is.kcl_residual_a) && isnan(net.is.power_residual));
            ck_assert_int_le(net.is.iterations, 100);
        }
        net.p[1] = (1 - 1e-9) * largest_va * pf;
        net.q[1] = (1 - 1e-9) * largest_va * sqrt(1 - pf * pf);
        ck_assert(solve(&net));
    }
    net_free(&net);
}
END_TEST

static double lowest_v(const struct net *net)
{
    double lowest = INFINITY;
    for (size_t k = 0; k < net->count; k++) {
        lowest = fmin(lowest, cabs(volts(net, k)));
    }
    return lowest;
}

/* Loads raised from nothing in small steps: solved up to a point and never after, and no step to a lower voltage. */
START_TEST(loads_raised_from_nothing_stay_on_the_high_side)
{
    for (int round = 0; round < 150; round++) {
        struct net net = net_random(12, 0.05, _i == 1);
        double before_v = net.source_v;
        bool solved = true;
        for (int step = 0; step < 150; step++) {
            const bool now = solve(&net);
            ck_assert_msg(solved || !now, "solved again beyond the collapse");
            if (now) {
                ck_assert_double_le(lowest_v(&net), before_v + 1e-9);
                ck_assert_double_ge(lowest_v(&net), 0.55 * before_v);
                before_v = lowest_v(&net);
            }
            solved = now;
            for (size_t k = 1; k < net.count; k++) {
                net.p[k] *= 1.06;
                net.q[k] *= 1.06;
            }
        }
        net_free(&net);
    }
}
END_TEST

/* Where every load has power factor 1, some node of a ring is fed from both sides. Cutting it there changes nothing. */
START_TEST(ring_is_the_tree_cut_at_its_null_point)
{
    for (int round = 0; round < 200; round++) {
        struct net ring = net_random(15, 1, false);
        const size_t count = ring.count;
        ring.ring_ohm = 0.05 + share();
        for (size_t k = 1; k < count; k++) {
            ring.parent[k] = k - 1;
            ring.q[k] = 0;
            ring.p[k] += 10;
        }
        ck_assert(solve(&ring));
        check_laws(&ring);
        size_t null = count - 1;
        while (null > 1 && ring.is.current_re[null] < 0) {
            null--;
        }
        /* 1..null from the panel outward, then the others and a second half of the null node back from the end. */
        struct net tree = net_new(count + 1, ring.source_v);
        const double from_left_w = ring.is.voltage_re[null] * ring.is.current_re[null];
        for (size_t k = 1; k <= null; k++) {
            tree.parent[k] = k - 1;
            tree.ohm[k] = ring.ohm[k];
            tree.p[k] = k == null ? fmin(from_left_w, ring.p[k]) : ring.p[k];
        }
        for (size_t k = count - 1; k >= null; k--) {
            const size_t at = null + count - k;
            tree.parent[at] = k == count - 1 ? 0 : at - 1;
            tree.ohm[at] = k == count - 1 ? ring.ring_ohm : ring.ohm[k + 1];
            tree.p[at] = k == null ? ring.p[k] - tree.p[null] : ring.p[k];
        }
        ck_assert(solve(&tree));
        for (size_t k = 1; k <= null; k++) {
            ck_assert_double_eq_tol(tree.is.voltage_re[k], ring.is.voltage_re[k], 1e-9);
        }
        for (size_t k = null; k < count; k++) {
            ck_assert_double_eq_tol(tree.is.voltage_re[null + count - k], ring.is.voltage_re[k], 1e-9);
        }
        ck_assert_double_eq_tol(tree.is.loss_w, ring.is.loss_w, 1e-9 * ring.is.loss_w);
        net_free(&ring);
        net_free(&tree);
    }
}
END_TEST

/* Resistances up and loads down by one factor: the same voltages. */
START_TEST(scaling_leaves_the_voltages)
{
    for (int round = 0; round < 300; round++) {
        struct net net = net_random(30, 2, true);
        const double times = exp(6 * share() - 3);
        if (solve(&net)) {
            double complex *was = calloc(net.count, sizeof *was);
            ck_assert_ptr_nonnull(was);
            for (size_t k = 0; k < net.count; k++) {
                was[k] = volts(&net, k);
                net.ohm[k] *= times;
                net.p[k] /= times;
                net.q[k] /= times;
                net.g[k] /= times;
                net.b[k] /= times;
            }
            net.ring_ohm *= times;
            ck_assert(solve(&net));
            for (size_t k = 0; k < net.count; k++) {
                ck_assert_double_le(cabs(volts(&net, k) - was[k]), 1e-10 * net.source_v);
            }
            free(was);
        }
        net_free(&net);
    }
}
END_TEST

/* Another order of the same tree: each node waits until its parent has a number. */
START_TEST(order_of_the_nodes_does_not_matter)
{
    for (int round = 0; round < 300; round++) {
        struct net net = net_random(30, 2, true);
        net.ring_ohm = (double)NAN;
        size_t *name = calloc(net.count, sizeof *name);
        ck_assert_ptr_nonnull(name);
        struct net other = net_new(net.count, net.source_v);
        for (size_t next = 1; next < net.count;) {
            const size_t k = 1 + (size_t)(share() * (double)(net.count - 1));
            if (name[k] == 0 && (net.parent[k] == 0 || name[net.parent[k]] != 0)) {
                name[k] = next;
                other.parent[next] = name[net.parent[k]];
                other.ohm[next] = net.ohm[k];
                other.p[next] = net.p[k];
                other.q[next] = net.q[k];
                other.g[next] = net.g[k];
                other.b[next] = net.b[k];
                next++;
            }
        }
        ck_assert_int_eq(solve(&net), solve(&other));
        for (size_t k = 1; k < net.count && net.is.solved; k++) {
            ck_assert_double_le(cabs(volts(&net, k) - volts(&other, name[k])), 1e-10 * net.source_v);
        }
        free(name);
        net_free(&net);
        net_free(&other);
    }
}
END_TEST

/* A ladder of equal sections r, g: V[k] = A cosh((n + 1/2 - k) t) with cosh t = 1 + r g / 2. */
START_TEST(deep_chain_of_impedances_is_the_line_formula)
{
    const size_t outlets = 100000;
    struct net net = net_new(outlets + 1, 230);
    const double r = 2e-6, g = 2e-6;
    for (size_t k = 1; k <= outlets; k++) {
        net.parent[k] = k - 1;
        net.ohm[k] = r;
        net.g[k] = g;
    }
    ck_assert(solve(&net));
    const double t = 2 * asinh(sqrt(r * g) / 2);
    const double n = (double)outlets + 0.5;
    for (size_t k = 0; k <= outlets; k += 5000) {
        const double want_v = 230 * cosh((n - (double)k) * t) / cosh(n * t);
        ck_assert_double_eq_tol(net.is.voltage_re[k], want_v, 1e-9);
    }
    net_free(&net);
}
END_TEST

START_TEST(deep_chains_and_rings_are_solved)
{
    const size_t outlets = 100000;
    struct net net = net_new(outlets + 1, 230);
    for (size_t k = 1; k <= outlets; k++) {
        net.parent[k] = k - 1;
        net.ohm[k] = 5e-6;
        net.p[k] = 0.03 + (double)(k % 7) / 1000;
        net.q[k] = 0.01;
        net.g[k] = _i >= 2 ? 1e-7 : 0;
    }
    net.ring_ohm = _i % 2 == 1 ? 0.01 : (double)NAN;
    ck_assert(solve(&net));
    ck_assert_double_le(net.is.kcl_residual_a, 1e-9);
    ck_assert_double_le(net.is.power_residual, 1e-9);
    ck_assert_double_lt(net.is.voltage_re[outlets / 2], 229.5);
    for (size_t k = 1; k <= outlets; k++) {
        net.p[k] *= 1000;
    }
    ck_assert(!solve(&net));
    net_free(&net);
}
END_TEST

START_TEST(nothing_on_is_the_panel_voltage_everywhere)
{
    struct net net = net_random(20, 1, true);
    for (size_t k = 0; k < net.count; k++) {
        net.p[k] = net.q[k] = net.g[k] = net.b[k] = 0;
    }
    for (int ring = 0; ring < 2; ring++) {
        net.ring_ohm = ring == 1 ? 0.3 : (double)NAN;
        ck_assert(solve(&net));
        for (size_t k = 0; k < net.count; k++) {
            ck_assert_double_eq(net.is.voltage_re[k], net.source_v);
            ck_assert_double_eq(cabs(amps(&net, k)), 0);
        }
        ck_assert_double_eq(net.is.loss_w, 0);
        ck_assert_double_eq(net.is.power_residual, 0);
    }
    net_free(&net);
}
END_TEST

START_TEST(panel_alone_is_solved)
{
    struct net net = net_new(1, 120);
    ck_assert(solve(&net));
    ck_assert_double_eq(net.is.voltage_re[0], 120);
    ck_assert_double_eq(net.is.loss_w, 0);
    net_free(&net);
}
END_TEST

START_TEST(segment_without_length_loses_nothing)
{
    struct net net = net_new(4, 120);
    net.parent[2] = 1;
    net.parent[3] = 2;
    net.ohm[1] = 0.2;
    net.p[1] = 500;
    net.p[3] = 700;
    net.g[2] = _i == 1 ? 0.05 : 0;
    ck_assert(solve(&net));
    check_laws(&net);
    ck_assert_double_eq(net.is.voltage_re[2], net.is.voltage_re[1]);
    ck_assert_double_eq(net.is.voltage_re[3], net.is.voltage_re[1]);
    net_free(&net);
}
END_TEST

START_TEST(short_circuit_is_limited_by_the_wire)
{
    struct net net = net_new(2, 230);
    net.ohm[1] = 11.301;
    net.g[1] = 1e9;
    ck_assert(solve(&net));
    ck_assert_double_eq_tol(net.is.current_re[1], 230 / 11.301, 1e-6);
    net_free(&net);
}
END_TEST

START_TEST(drop_counts_the_way_back)
{
    ck_assert_double_eq_tol(wire_drop_v(10, 100, 1), 2, 1e-15);
    ck_assert_double_eq(wire_drop_v(0, 100, 1), 0);
    ck_assert_double_eq(wire_drop_v(10, 0, 1), 0);
}
END_TEST

Suite *make_suite(void)
{
    const int pf_count = (int)(sizeof power_factors / sizeof *power_factors);
    Suite *suite = suite_create("wire");
    TCase *laws = tcase_create("laws");
    tcase_set_timeout(laws, 60);
    tcase_add_loop_test(laws, laws_hold_in_random_networks, 0, 3);
    tcase_add_test(laws, ring_is_the_tree_cut_at_its_null_point);
    tcase_add_test(laws, scaling_leaves_the_voltages);
    tcase_add_test(laws, order_of_the_nodes_does_not_matter);
    suite_add_tcase(suite, laws);
    TCase *forms = tcase_create("closed forms");
    tcase_add_test(forms, impedance_alone_is_a_divider);
    tcase_add_loop_test(forms, one_constant_power_load_is_the_closed_form, 0, pf_count);
    tcase_add_test(forms, deep_chain_of_impedances_is_the_line_formula);
    tcase_add_test(forms, drop_counts_the_way_back);
    suite_add_tcase(suite, forms);
    TCase *ends = tcase_create("ends");
    tcase_set_timeout(ends, 60);
    tcase_add_loop_test(ends, collapse_is_told_at_the_analytic_maximum, 0, pf_count);
    tcase_add_loop_test(ends, loads_raised_from_nothing_stay_on_the_high_side, 0, 2);
    tcase_add_loop_test(ends, deep_chains_and_rings_are_solved, 0, 4);
    tcase_add_test(ends, nothing_on_is_the_panel_voltage_everywhere);
    tcase_add_test(ends, panel_alone_is_solved);
    tcase_add_loop_test(ends, segment_without_length_loses_nothing, 0, 2);
    tcase_add_test(ends, short_circuit_is_limited_by_the_wire);
    suite_add_tcase(suite, ends);
    return suite;
}
