/*
 * A second opinion on the network: the node-admittance matrix as a dense complex matrix, GSL's LU decomposition, the
 * constant-power loads by fixed-point iteration around it. Nothing but the input is shared with the solver.
 */
#include "ampsum/wire.h"
#include "runner.h"

#include <gsl/gsl_complex.h>
#include <gsl/gsl_complex_math.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdint.h>

enum { NODES_MOST = 41, DOUBLES = 9 };

struct net {
    size_t count;
    size_t parent[NODES_MOST];
    double ohm[NODES_MOST], g[NODES_MOST], b[NODES_MOST], p[NODES_MOST], q[NODES_MOST];
    double source_v, ring_ohm;
};

static double share(uint64_t *state)
{
    *state = *state * 6364136223846793005U + 1442695040888963407U;
    return (double)(*state >> 11) / 9007199254740992.0;
}

/* Kinds: 0 constant power, 1 constant impedance, 2 both. */
static struct net random_net(uint64_t *state, int kind, bool ring)
{
    struct net net = {.count = 2 + (size_t)(share(state) * (NODES_MOST - 2)), .source_v = 100 + 300 * share(state)};
    const double outlets = (double)net.count - 1;
    const double weight = 3 * share(state);
    const bool chain = share(state) < 0.4;
    for (size_t k = 1; k < net.count; k++) {
        const double power_w = weight * 3000 * share(state) / outlets;
        const double siemens = weight * 0.2 * share(state) / outlets;
        net.parent[k] = chain ? k - 1 : (size_t)(share(state) * (double)k);
        net.ohm[k] = (0.05 + 0.5 * share(state)) / outlets;
        net.p[k] = kind == 1 ? 0 : power_w;
        net.q[k] = kind == 1 || share(state) < 0.4 ? 0 : power_w * 2 * share(state);
        net.g[k] = kind == 0 ? 0 : siemens;
        net.b[k] = kind == 0 || share(state) < 0.4 ? 0 : siemens * 2 * share(state);
    }
    net.ring_ohm = ring ? 0.05 + 0.4 * share(state) : (double)NAN;
    return net;
}

static void add(gsl_matrix_complex *y, size_t row, size_t column, double re, double im)
{
    const gsl_complex sum = gsl_complex_add(gsl_matrix_complex_get(y, row, column), gsl_complex_rect(re, im));
    gsl_matrix_complex_set(y, row, column, sum);
}

/* Rows and columns are nodes 1 to the last; the panel's voltage feeds the right-hand side `fed`. */
static void fill(const struct net *net, gsl_matrix_complex *y, gsl_vector_complex *fed)
{
    for (size_t k = 1; k < net->count; k++) {
        const double siemens = 1 / net->ohm[k];
        const size_t up = net->parent[k];
        add(y, k - 1, k - 1, siemens + net->g[k], -net->b[k]);
        if (up > 0) {
            add(y, up - 1, up - 1, siemens, 0);
            add(y, k - 1, up - 1, -siemens, 0);
            add(y, up - 1, k - 1, -siemens, 0);
        } else {
            gsl_vector_complex_set(fed, k - 1, gsl_complex_rect(net->source_v * siemens, 0));
        }
    }
    if (!isnan(net->ring_ohm)) {
        const size_t last = net->count - 2;
        const gsl_complex so_far = gsl_vector_complex_get(fed, last);
        add(y, last, last, 1 / net->ring_ohm, 0);
        gsl_vector_complex_set(fed, last, gsl_complex_add_real(so_far, net->source_v / net->ring_ohm));
    }
}

/* Voltages by LU; false where the iteration does not settle. */
static bool dense_solve(const struct net *net, gsl_vector_complex *v)
{
    const size_t n = net->count - 1;
    gsl_matrix_complex *y = gsl_matrix_complex_calloc(n, n);
    gsl_vector_complex *fed = gsl_vector_complex_calloc(n);
    gsl_vector_complex *next = gsl_vector_complex_alloc(n);
    gsl_permutation *order = gsl_permutation_alloc(n);
    int sign;
    bool settled = false;
    fill(net, y, fed);
    ck_assert_int_eq(gsl_linalg_complex_LU_decomp(y, order, &sign), GSL_SUCCESS);
    gsl_vector_complex_set_all(v, gsl_complex_rect(net->source_v, 0));
    for (int round = 0; round < 3000 && !settled; round++) {
        double change_v = 0;
        for (size_t k = 0; k < n; k++) {
            const gsl_complex s = gsl_complex_rect(net->p[k + 1], net->q[k + 1]);
            const gsl_complex load = gsl_complex_conjugate(gsl_complex_div(s, gsl_vector_complex_get(v, k)));
            gsl_vector_complex_set(next, k, gsl_complex_sub(gsl_vector_complex_get(fed, k), load));
        }
        gsl_linalg_complex_LU_svx(y, order, next);
        for (size_t k = 0; k < n; k++) {
            const gsl_complex step = gsl_complex_sub(gsl_vector_complex_get(next, k), gsl_vector_complex_get(v, k));
            change_v = fmax(change_v, gsl_complex_abs(step));
        }
        gsl_vector_complex_memcpy(v, next);
        settled = change_v < 1e-12 * net->source_v;
    }
    gsl_matrix_complex_free(y);
    gsl_vector_complex_free(fed);
    gsl_vector_complex_free(next);
    gsl_permutation_free(order);
    return settled;
}

static bool own_solve(const struct net *net, struct wire_solution *solution, double numbers[DOUBLES][NODES_MOST])
{
    const struct wire_network network = {net->count, net->parent, net->ohm, net->source_v, net->ring_ohm,
                                         net->g,     net->b,      net->p,   net->q};
    static double scratch[64 * NODES_MOST];
    ck_assert_uint_le(wire_scratch_count(net->count), sizeof scratch / sizeof *scratch);
    *solution = (struct wire_solution){
        .voltage_re = numbers[0], .voltage_im = numbers[1], .current_re = numbers[2], .current_im = numbers[3]};
    wire_solve(&network, scratch, solution);
    return solution->solved;
}

static const struct {
    int kind;
    bool ring;
} kinds[] = {{0, false}, {0, true}, {1, false}, {1, true}, {2, false}, {2, true}};

/* 200 networks of each kind, trees and rings, to 1e-9 of the panel's voltage. */
START_TEST(agrees_with_dense_lu)
{
    uint64_t state = 77 + (uint64_t)_i;
    int compared = 0;
    for (int round = 0; round < 200; round++) {
        const struct net net = random_net(&state, kinds[_i].kind, kinds[_i].ring);
        double numbers[DOUBLES][NODES_MOST];
        struct wire_solution solution;
        gsl_vector_complex *v = gsl_vector_complex_alloc(net.count - 1);
        const bool settled = dense_solve(&net, v);
        ck_assert_msg(own_solve(&net, &solution, numbers) || !settled, "LU found a solution");
        for (size_t k = 1; k < net.count && settled; k++) {
            const gsl_complex own = gsl_complex_rect(solution.voltage_re[k], solution.voltage_im[k]);
            const gsl_complex off = gsl_complex_sub(own, gsl_vector_complex_get(v, k - 1));
            ck_assert_double_le(gsl_complex_abs(off), 1e-9 * net.source_v);
        }
        compared += settled;
        gsl_vector_complex_free(v);
    }
    ck_assert_int_ge(compared, 150);
}
END_TEST

/* Loads far past what the wire can feed: LU's iteration never settles, and the solver says so. */
START_TEST(agrees_that_nothing_settles)
{
    uint64_t state = 5;
    for (int round = 0; round < 20; round++) {
        struct net net = random_net(&state, 0, round % 2 == 1);
        double numbers[DOUBLES][NODES_MOST];
        struct wire_solution solution;
        gsl_vector_complex *v = gsl_vector_complex_alloc(net.count - 1);
        for (size_t k = 1; k < net.count; k++) {
            net.p[k] = 1e6 + net.p[k] * 1e3;
        }
        ck_assert(!dense_solve(&net, v));
        ck_assert(!own_solve(&net, &solution, numbers));
        gsl_vector_complex_free(v);
    }
}
END_TEST

Suite *make_suite(void)
{
    gsl_set_error_handler_off();
    Suite *suite = suite_create("wire against dense LU");
    TCase *tcase = tcase_create("dense LU");
    tcase_set_timeout(tcase, 60);
    tcase_add_loop_test(tcase, agrees_with_dense_lu, 0, (int)(sizeof kinds / sizeof *kinds));
    tcase_add_test(tcase, agrees_that_nothing_settles);
    suite_add_tcase(suite, tcase);
    return suite;
}
