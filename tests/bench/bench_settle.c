/*
 * Fewest moves for 40 branches, 150 movable and 50 fixed loads, beside GLPK with all its cuts on the same instances;
 * and legs of 40 branches. Prints milliseconds; not part of `meson test`. Run: bench_settle [INSTANCES [TIGHTNESS]].
 */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "ampsum/settle.h"
#include "settle_glpk.h"

enum { BRANCHES = 40, LOADS = 200, FIXED = 50, INSTANCES_MOST = 100, GLPK_MOST_MS = 20000 };

struct instance {
    struct settle_option options[LOADS][4];
    struct settle_load loads[LOADS];
    double limit_a[BRANCHES];
    struct settle_problem problem;
};

static uint64_t random_state = 88172645463325252u;

static size_t random_below(size_t bound)
{
    random_state ^= random_state << 13;
    random_state ^= random_state >> 7;
    random_state ^= random_state << 17;
    return (size_t)(random_state >> 20) % bound;
}

static double now_ms(void)
{
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time); /* one thread: what others run does not count */
    return (double)time.tv_sec * 1e3 + (double)time.tv_nsec * 1e-6;
}

static void make_instance(struct instance *instance, double tightness)
{
    double sum_a = 0;
    for (size_t i = 0; i < LOADS; i++) {
        double planning_a = 0.01 * (double)(30 + random_below(570)); /* 0.3 to 6 A */
        size_t branch = i % BRANCHES; /* five loads on each; what they draw makes the difference */
        size_t reach = i < FIXED ? 1 : 2 + random_below(3);
        sum_a += planning_a;
        for (size_t k = 0; k < reach; k++) {
            static const size_t step[] = {0, 1, BRANCHES - 1, 2};
            instance->options[i][k] = (struct settle_option){(branch + step[k]) % BRANCHES, planning_a, 0};
        }
        instance->loads[i] = (struct settle_load){instance->options[i], reach, 0, SETTLE_NO_GROUP, false, false};
    }
    for (size_t i = 0; i < BRANCHES; i++) {
        instance->limit_a[i] = sum_a / tightness / BRANCHES;
    }
    instance->problem = (struct settle_problem){.loads = instance->loads,
                                                .load_count = LOADS,
                                                .limit_a = instance->limit_a,
                                                .branch_count = BRANCHES,
                                                .moment_count = 1,
                                                .largest_motor = 1,
                                                .any_of_fewest = true};
}

static int by_value(const void *left, const void *right)
{
    double a = *(const double *)left;
    double b = *(const double *)right;
    return a < b ? -1 : a > b;
}

static void bench_moves(double tightness, size_t instances)
{
    double own_ms[INSTANCES_MOST];
    double glpk_ms[INSTANCES_MOST];
    size_t proved = 0;
    size_t differ = 0;
    size_t least = SIZE_MAX;
    size_t most = 0;
    for (size_t i = 0; i < instances; i++) {
        static struct instance instance;
        size_t option[LOADS];
        struct settle_plan plan;
        make_instance(&instance, tightness);
        double start = now_ms();
        settle_moves(&instance.problem, option, &plan);
        own_ms[i] = now_ms() - start;
        start = now_ms();
        int want = glpk_moves(&instance.problem, GLPK_MOST_MS);
        glpk_ms[i] = now_ms() - start;
        proved += plan.proved;
        differ += plan.proved && want != -2 && (plan.found ? (int)plan.moves : -1) != want;
        least = plan.found && plan.moves < least ? plan.moves : least;
        most = plan.found && plan.moves > most ? plan.moves : most;
    }
    qsort(own_ms, instances, sizeof *own_ms, by_value);
    qsort(glpk_ms, instances, sizeof *glpk_ms, by_value);
    printf("%.2f | %zu-%zu | %.3f / %.3f / %.3f | %.2f / %.2f / %.2f | %zu of %zu | %zu\n", tightness, least, most,
           own_ms[instances / 2], own_ms[instances * 9 / 10], own_ms[instances - 1], glpk_ms[instances / 2],
           glpk_ms[instances * 9 / 10], glpk_ms[instances - 1], proved, instances, differ);
}

static void bench_legs(size_t leg_count)
{
    double slowest_ms = 0;
    size_t proved = 0;
    for (int i = 0; i < 200; i++) {
        double branch_a[BRANCHES];
        size_t leg[BRANCHES];
        for (size_t k = 0; k < BRANCHES; k++) {
            branch_a[k] = 0.01 * (double)(10 + random_below(2000));
        }
        struct legs_plan plan;
        double start = now_ms();
        legs_assign(branch_a, BRANCHES, NULL, leg_count, 0.01, 0, leg, &plan);
        slowest_ms = fmax(slowest_ms, now_ms() - start);
        proved += plan.proved;
    }
    printf("legs, 40 branches on %zu: slowest of 200 %.3f ms, %zu proved\n", leg_count, slowest_ms, proved);
}

int main(int argc, char **argv)
{
    static const double tightness[] = {0.6, 0.7, 0.8, 0.85, 0.9, 0.93};
    size_t instances = argc > 1 ? strtoul(argv[1], NULL, 10) : 20;
    setvbuf(stdout, NULL, _IOLBF, 0);
    instances = instances < 1 ? 1 : instances > INSTANCES_MOST ? INSTANCES_MOST : instances;
    printf("load over limit | moves | own ms: median / p90 / max | GLPK ms: median / p90 / max | proved | differ\n");
    for (size_t i = 0; i < sizeof tightness / sizeof *tightness; i++) {
        if (argc < 3 || fabs(strtod(argv[2], NULL) - tightness[i]) < 1e-9) {
            bench_moves(tightness[i], instances);
        }
    }
    bench_legs(2);
    bench_legs(3);
    return 0;
}
