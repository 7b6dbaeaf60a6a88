/*
 * Chance of exceeding the rating, minute by minute of a day: the tree walk beside a Monte Carlo.
 *
 * Prints the best of several runs. The Monte Carlo row times 1,000,000 draws of the worst minute; a whole day of equal
 * effort a minute is that times 1,440. Aims: 40 loads under 0.5 ms, 200 loads under 6 ms for the day, 10,000 times
 * faster than the draws.
 */
#include <malloc.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <time.h>

#include "ampsum/chance.h"

static uint64_t state = 88172645463325252ULL;

static double random_unit(void)
{
    state ^= state >> 12;
    state ^= state << 25;
    state ^= state >> 27;
    return (double)((state * 2685821657736338717ULL) >> 11) * 0x1p-53;
}

static double now_ms(void)
{
    struct timespec time;
    clock_gettime(CLOCK_MONOTONIC, &time);
    return (double)time.tv_sec * 1e3 + (double)time.tv_nsec / 1e6;
}

enum { LOADS_MOST = 200, MINUTES = 1440, RUNS = 20 };

static struct chance_load loads[LOADS_MOST];
static struct chance_span spans[LOADS_MOST * 3];
static size_t span_count;

/* Household mixture: one to three windows a load at 15-minute edges, mostly small currents. */
static void make_loads(size_t load_count, double off_grid_a)
{
    span_count = 0;
    for (size_t i = 0; i < load_count; i++) {
        double current_a = random_unit() < 0.7 ? 0.1 + 1.4 * random_unit() : 2 + 10 * random_unit();
        loads[i] =
            (struct chance_load){.planning_a = round(current_a * 100) / 100 + off_grid_a, .group = CHANCE_NO_GROUP};
        int start_min = (int)(random_unit() * 32) * 15;
        for (int window = 0; window < 1 + (int)(random_unit() * 3); window++) {
            int end_min = start_min + 15 + (int)(random_unit() * 16) * 15;
            if (end_min <= MINUTES) {
                spans[span_count++] = (struct chance_span){i, start_min, end_min, 0.02 + 0.2 * random_unit()};
                start_min = end_min + 15 * (int)(random_unit() * 16);
            }
            start_min = start_min >= MINUTES ? 0 : start_min;
            if (start_min < end_min) {
                break;
            }
        }
    }
}

static double day_ms(size_t load_count, double limit_a, struct chance_figures *ret_figures)
{
    static struct chance_bounds minutes[MINUTES];
    double best = INFINITY;
    for (int run = 0; run < RUNS; run++) {
        double start = now_ms();
        chance_day(loads, load_count, spans, span_count, MINUTES, limit_a, CHANCE_GRID_A, minutes, ret_figures);
        best = fmin(best, now_ms() - start);
    }
    return best;
}

static double draws_ms(double limit_a, int minute, double *ret_share)
{
    const int draws = 1000000;
    int over = 0;
    double start = now_ms();
    for (int draw = 0; draw < draws; draw++) {
        double sum_a = 0;
        for (size_t i = 0; i < span_count; i++) {
            if (spans[i].start_min <= minute && minute < spans[i].end_min && random_unit() < spans[i].probability) {
                sum_a += loads[spans[i].load].planning_a;
            }
        }
        over += sum_a > limit_a;
    }
    *ret_share = over / (double)draws;
    return now_ms() - start;
}

int main(void)
{
    mallopt(M_TRIM_THRESHOLD, 16 << 20); /* as ampsum does: else each round fetches its memory from the system anew */
    const struct {
        size_t load_count;
        double limit_a;
    } rows[] = {{10, 16}, {40, 32}, {200, 100}};
    printf(
        "loads  rating  stretches  day ms  day ms off grid  P worst       draws P   1e6 draws ms  day by draws/day\n");
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct chance_figures figures;
        struct chance_figures bounds;
        double share = 0;
        uint64_t seed = state;
        make_loads(rows[i].load_count, 0.003);
        double off_ms = day_ms(rows[i].load_count, rows[i].limit_a, &bounds);
        state = seed;
        make_loads(rows[i].load_count, 0);
        double on_ms = day_ms(rows[i].load_count, rows[i].limit_a, &figures);
        double monte_carlo_ms = draws_ms(rows[i].limit_a, figures.worst_min, &share);
        printf("%5zu  %4g A  %9zu  %6.3f  %15.3f  %.6e  %.6f  %12.1f  %16.0f\n", rows[i].load_count, rows[i].limit_a,
               figures.stretches, on_ms, off_ms, figures.worst.upper, share, monte_carlo_ms,
               monte_carlo_ms * MINUTES / on_ms);
    }
    return 0;
}
