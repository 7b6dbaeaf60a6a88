/*
 * Minimal overloading sets: time for each listed set, for the exact count, for the first 1,000 sets; beside the plain
 * loop over all 2^n subsets where that ends. Currents on a grid of 0.01 A and off any grid. Prints a table; not part of
 * `meson test`. All of it within two minutes of processor time.
 */
#include <malloc.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "ampsum/combos.h"

enum { LOADS_MOST = 200, LIMIT_A = 20, PLAIN_MOST = 24, ROUNDS_MOST = 20, ENOUGH_US = 200000 };

enum mixture { UNIFORM, LOG_UNIFORM, HOUSEHOLD, HOUSEHOLD_OFF_GRID, MIXTURES };

static const char *const mixture_names[] = {"uniform", "log-uniform", "household", "household, no grid"};

static uint64_t random_state;

static double random_unit(void)
{
    random_state ^= random_state << 13;
    random_state ^= random_state >> 7;
    random_state ^= random_state << 17;
    return (double)(random_state >> 11) * 0x1p-53;
}

static double now_us(void)
{
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time); /* one thread: what others run does not count */
    return (double)time.tv_sec * 1e6 + (double)time.tv_nsec * 1e-3;
}

/* Many small loads, some middling, a few heaters. */
static double household_a(void)
{
    static const double typical_a[] = {0.05, 0.08, 0.1,  0.2, 0.3, 0.45, 0.6, 0.8,  1.1,
                                       1.5,  2.2,  3.75, 4.3, 5.2, 7.1,  8.3, 10.0, 12.5};
    return typical_a[(int)(random_unit() * 18)];
}

static double load_a(enum mixture mixture)
{
    double value_a = mixture == UNIFORM       ? 0.1 + 12.4 * random_unit()
                     : mixture == LOG_UNIFORM ? 0.1 * pow(125, random_unit())
                                              : household_a() * (0.85 + 0.3 * random_unit());
    return mixture == HOUSEHOLD_OFF_GRID ? value_a : fmax(0.01, nearbyint(value_a * 100) / 100);
}

static bool count_visit(void *context, const struct combos_part *parts, size_t part_count)
{
    *(uint64_t *)context += parts[part_count - 1].units > 0;
    return true;
}

/* The plain way: every subset, its sum, and whether any load of it can be spared. */
static uint64_t plain_count(const struct combos_problem *problem)
{
    uint64_t found = 0;
    for (uint32_t set = 1; set < UINT32_C(1) << problem->load_count; set++) {
        double sum_a = 0;
        double least_a = INFINITY;
        for (size_t i = 0; i < problem->load_count; i++) {
            if ((set >> i & 1U) != 0) {
                sum_a += problem->loads[i].unit_a;
                least_a = fmin(least_a, problem->loads[i].unit_a);
            }
        }
        found += combos_overloads(sum_a, problem->limit_a) && !combos_overloads(sum_a - least_a, problem->limit_a);
    }
    return found;
}

static double time_count_us(const struct combos_problem *problem, struct combos_number *ret_number)
{
    double best_us = INFINITY;
    const double first_us = now_us();
    for (int i = 0; i < ROUNDS_MOST && (i == 0 || now_us() - first_us < ENOUGH_US); i++) {
        double start_us = now_us();
        *ret_number = combos_count(problem);
        best_us = fmin(best_us, now_us() - start_us);
    }
    return best_us;
}

static double time_first_us(const struct combos_problem *problem, size_t most)
{
    double best_us = INFINITY;
    const double first_us = now_us();
    for (int i = 0; i < ROUNDS_MOST && (i == 0 || now_us() - first_us < ENOUGH_US); i++) {
        struct combos_list list;
        double start_us = now_us();
        combos_first(problem, most, &list);
        best_us = fmin(best_us, now_us() - start_us);
        combos_list_done(&list);
    }
    return best_us;
}

static void bench(enum mixture mixture, size_t count)
{
    struct combos_load loads[LOADS_MOST];
    random_state = 88172645463325252u + count;
    for (size_t i = 0; i < count; i++) {
        loads[i] = (struct combos_load){load_a(mixture), 1, COMBOS_NO_GROUP, false, false};
    }
    struct combos_problem problem = {loads, count, LIMIT_A, 1, 1};
    struct combos_number number;
    double count_us = time_count_us(&problem, &number);
    double sets = combos_number_value(&number, NULL);
    printf("%-18s %4zu  %-12.6g%-9s %10.1f", mixture_names[mixture], count, sets, number.exact ? "" : " or more",
           count_us);
    printf(" %8.1f %9.1f", time_first_us(&problem, 20), time_first_us(&problem, 1000));
    if (number.exact && sets < 2e7) {
        uint64_t visited = 0;
        double start_us = now_us();
        combos_each(&problem, count_visit, &visited);
        double list_us = now_us() - start_us;
        printf(" %12.1f %7.1f", list_us, list_us * 1000 / fmax(sets, 1));
        if (count <= PLAIN_MOST) {
            start_us = now_us();
            uint64_t plain = plain_count(&problem);
            double plain_us = now_us() - start_us;
            printf(" %12.0f %9.0fx%s", plain_us, plain_us / list_us, (double)plain == sets ? "" : " DIFFERS");
        }
    }
    printf("\n");
}

int main(void)
{
    mallopt(M_TRIM_THRESHOLD, 16 << 20); /* as ampsum does: else each round fetches its memory from the system anew */
    static const size_t sizes[] = {16, 24, 32, 40, 64, 100, 200};
    setvbuf(stdout, NULL, _IOLBF, 0);
    printf("Each time is the best of %d rounds, or of as many as begin within %.1f s; a count that says 'or more' was "
           "ended by "
           "its own bound.\n",
           ROUNDS_MOST, ENOUGH_US / 1e6);
    printf("mixture           loads  sets                   count us first 20  first 1k      list us  ns/set   "
           "plain 2^n us     ratio\n");
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        for (int mixture = UNIFORM; mixture < MIXTURES; mixture++) {
            bench((enum mixture)mixture, sizes[i]);
        }
    }
    return 0;
}
