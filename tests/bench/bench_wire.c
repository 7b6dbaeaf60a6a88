/*
 * How long a solve of the wire takes: a ladder of outlets, one constant-power load each, drop of about 2 %. Beside it
 * the same ladder by dense complex LU of the node-admittance matrix (GSL), same loads, same iteration.
 *
 *   bench_wire          the ladder, a random tree, the collapse verdict
 *
 * Not part of the test run. Build with: ninja tests/bench/bench_wire
 */
#include "ampsum/wire.h"

#include <gsl/gsl_complex.h>
#include <gsl/gsl_complex_math.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

struct bench {
    struct wire_network network;
    struct wire_solution solution;
    size_t *parent;
    double *numbers; /* all the arrays of doubles, one after the other */
    double *resistance_ohm, *power_w, *reactive_var, *scratch;
};

static double now_s(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec + 1e-9 * (double)time.tv_nsec;
}

static double draw_share(unsigned long long *state)
{
    *state = *state * 6364136223846793005ULL + 1442695040888963407ULL;
    return (double)(*state >> 11) / 9007199254740992.0;
}

/* `load` 1: the whole run loses about 2 % however many outlets it has. */
static struct bench bench_new(size_t outlets, bool tree, double load)
{
    const size_t n = outlets + 1;
    struct bench b = {.parent = calloc(n, sizeof(size_t)), .numbers = calloc(15 * n + wire_scratch_count(n), 8)};
    if (b.parent == NULL || b.numbers == NULL) {
        abort();
    }
    double *next = b.numbers;
    b.resistance_ohm = next;
    b.power_w = next + n;
    b.reactive_var = next + 2 * n;
    b.solution.voltage_re = next + 3 * n;
    b.solution.voltage_im = next + 4 * n;
    b.solution.current_re = next + 5 * n;
    b.solution.current_im = next + 6 * n;
    b.scratch = next + 8 * n;
    unsigned long long state = 12345;
    for (size_t k = 1; k < n; k++) {
        b.parent[k] = tree ? (size_t)(draw_share(&state) * (double)k) : k - 1;
        b.resistance_ohm[k] = 0.3 * (0.5 + draw_share(&state)) / (double)outlets;
        b.power_w[k] = load * 3600 * (0.5 + draw_share(&state)) / (double)outlets;
        b.reactive_var[k] = b.power_w[k] * 0.3 * draw_share(&state);
    }
    b.network = (struct wire_network){n,         b.parent,      b.resistance_ohm, 230, NAN, next + 7 * n, next + 7 * n,
                                      b.power_w, b.reactive_var};
    return b;
}

static void bench_free(struct bench *b)
{
    free(b->parent);
    free(b->numbers);
}

static double solve_s(struct bench *b)
{
    const size_t rounds = 1 + 200000 / b->network.node_count;
    double best_s = INFINITY;
    for (int batch = 0; batch < 40; batch++) {
        const double start_s = now_s();
        for (size_t round = 0; round < rounds; round++) {
            wire_solve(&b->network, b->scratch, &b->solution);
        }
        best_s = fmin(best_s, (now_s() - start_s) / (double)rounds);
    }
    return best_s;
}

/* Largest difference of a voltage, and the time, of the dense solve. */
static double dense_s(const struct bench *b, double *ret_difference_v)
{
    const struct wire_network *net = &b->network;
    const size_t n = net->node_count - 1;
    const double start_s = now_s();
    gsl_matrix_complex *y = gsl_matrix_complex_calloc(n, n);
    gsl_vector_complex *i = gsl_vector_complex_alloc(n);
    gsl_vector_complex *v = gsl_vector_complex_alloc(n);
    gsl_permutation *order = gsl_permutation_alloc(n);
    int sign;
    for (size_t k = 1; k <= n; k++) {
        const double s = 1 / net->resistance_ohm[k];
        const size_t up = net->parent[k];
        gsl_matrix_complex_set(y, k - 1, k - 1, gsl_complex_add_real(gsl_matrix_complex_get(y, k - 1, k - 1), s));
        if (up > 0) {
            gsl_matrix_complex_set(y, up - 1, up - 1,
                                   gsl_complex_add_real(gsl_matrix_complex_get(y, up - 1, up - 1), s));
            gsl_matrix_complex_set(y, k - 1, up - 1, gsl_complex_rect(-s, 0));
            gsl_matrix_complex_set(y, up - 1, k - 1, gsl_complex_rect(-s, 0));
        }
        gsl_vector_complex_set(v, k - 1, gsl_complex_rect(net->source_v, 0));
    }
    gsl_linalg_complex_LU_decomp(y, order, &sign);
    for (int round = 0; round < 20; round++) {
        double change_v = 0;
        for (size_t k = 1; k <= n; k++) {
            const gsl_complex s = gsl_complex_rect(net->constant_w[k], net->constant_var[k]);
            const gsl_complex load = gsl_complex_conjugate(gsl_complex_div(s, gsl_vector_complex_get(v, k - 1)));
            const double fed_a = net->parent[k] == 0 ? net->source_v / net->resistance_ohm[k] : 0;
            gsl_vector_complex_set(i, k - 1, gsl_complex_sub(gsl_complex_rect(fed_a, 0), load));
        }
        gsl_linalg_complex_LU_svx(y, order, i);
        for (size_t k = 0; k < n; k++) {
            change_v = fmax(
                change_v, gsl_complex_abs(gsl_complex_sub(gsl_vector_complex_get(i, k), gsl_vector_complex_get(v, k))));
        }
        gsl_vector_complex_memcpy(v, i);
        if (change_v < 1e-10 * net->source_v) {
            break;
        }
    }
    const double taken_s = now_s() - start_s;
    double difference_v = 0;
    for (size_t k = 1; k <= n; k++) {
        const gsl_complex own = gsl_complex_rect(b->solution.voltage_re[k], b->solution.voltage_im[k]);
        difference_v = fmax(difference_v, gsl_complex_abs(gsl_complex_sub(own, gsl_vector_complex_get(v, k - 1))));
    }
    gsl_matrix_complex_free(y);
    gsl_vector_complex_free(i);
    gsl_vector_complex_free(v);
    gsl_permutation_free(order);
    *ret_difference_v = difference_v;
    return taken_s;
}

static void ladder(bool tree)
{
    printf("%-6s %9s %12s %4s %18s %12s %8s %14s\n", tree ? "tree" : "ladder", "outlets", "solve", "it",
           "ns/outlet/round", "dense LU", "times", "differ by");
    for (size_t outlets = 1; outlets <= 100000; outlets *= 10) {
        struct bench b = bench_new(outlets, tree, 1);
        const double own_s = solve_s(&b);
        printf("%-6s %9zu %9.2f us %4d %18.2f", "", outlets, 1e6 * own_s, b.solution.iterations,
               1e9 * own_s / (double)outlets / b.solution.iterations);
        if (outlets <= 1000) {
            double difference_v;
            const double other_s = dense_s(&b, &difference_v);
            printf(" %9.1f us %8.0f %12.1e V", 1e6 * other_s, other_s / own_s, difference_v);
        }
        printf("\n");
        bench_free(&b);
    }
}

int main(void)
{
    gsl_set_error_handler_off();
    ladder(false);
    ladder(true);
    printf("verdict at 10 outlets, load times\n");
    for (double load = 1; load < 100; load *= 1.5) {
        struct bench b = bench_new(10, false, load);
        const double own_s = solve_s(&b);
        printf("%8.2f %9.2f us %4d rounds, %s\n", load, 1e6 * own_s, b.solution.iterations,
               b.solution.solved ? "solved" : "cannot be fed");
        bench_free(&b);
    }
    return 0;
}
