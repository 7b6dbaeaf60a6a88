#include "runner.h"

#include <math.h>
#include <stdbool.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/chance.h"

/* xorshift64*: seeded, so that every run sees the same cases. */
struct random {
    uint64_t state;
};

static double random_unit(struct random *random)
{
    random->state ^= random->state >> 12;
    random->state ^= random->state << 25;
    random->state ^= random->state >> 27;
    return (double)((random->state * 2685821657736338717ULL) >> 11) * 0x1p-53;
}

static size_t random_below(struct random *random, size_t bound)
{
    return (size_t)(random_unit(random) * (double)bound);
}

enum { LOADS_MOST = 20, MINUTES = 60 };

struct house_case {
    struct chance_load loads[LOADS_MOST];
    struct chance_span spans[LOADS_MOST * 2];
    size_t load_count;
    size_t span_count;
    double probability[MINUTES][LOADS_MOST]; /* the spans minute by minute, groups scaled: for the reference */
};

static void scale_groups(struct house_case *one)
{
    for (int minute = 0; minute < MINUTES; minute++) {
        for (size_t group = 0; group < 3; group++) {
            double sum = 0;
            for (size_t i = 0; i < one->load_count; i++) {
                sum += one->loads[i].group == group ? one->probability[minute][i] : 0;
            }
            for (size_t i = 0; i < one->load_count && sum > 1; i++) {
                one->probability[minute][i] /= one->loads[i].group == group ? sum : 1;
            }
        }
    }
}

static void add_span(struct house_case *one, size_t load, int start_min, int end_min, double probability)
{
    one->spans[one->span_count++] = (struct chance_span){load, start_min, end_min, probability};
    for (int minute = start_min; minute < end_min; minute++) {
        one->probability[minute][load] = probability;
    }
}

/* Loads on the 0.01 A grid; `motors` and `groups` mix those in. */
static void make_case(struct house_case *one, struct random *random, size_t load_count, bool motors, bool groups)
{
    memset(one, 0, sizeof *one);
    one->load_count = load_count;
    for (size_t i = 0; i < load_count; i++) {
        struct chance_load *load = &one->loads[i];
        load->planning_a = (double)(10 + random_below(random, 900)) / 100;
        load->group = groups && random_unit(random) < 0.5 ? random_below(random, 3) : CHANCE_NO_GROUP;
        if (motors && random_unit(random) < 0.5) {
            load->motor_unit_a = load->planning_a;
            bool continuous = random_unit(random) < 0.2;
            load->motor_extra_a = continuous ? 0 : round(load->planning_a * 25) / 100;
        }
        int middle = 10 + (int)random_below(random, 40);
        add_span(one, i, (int)random_below(random, 10), middle, random_unit(random));
        if (random_unit(random) < 0.5) {
            add_span(one, i, middle, MINUTES, random_unit(random) < 0.2 ? 1 : random_unit(random));
        }
    }
    scale_groups(one);
}

/* Every state of the loads in turn, by the definition; nothing shared with the engine. */
struct enumeration {
    const struct house_case *one;
    int minute;
    long limit; /* in hundredths of an ampere */
    bool on[LOADS_MOST];
    long double over;
};

static void count_state(struct enumeration *all, long double probability)
{
    long sum = 0;
    size_t largest = LOADS_MOST;
    for (size_t i = 0; i < all->one->load_count; i++) {
        const struct chance_load *load = &all->one->loads[i];
        if (!all->on[i]) {
            continue;
        }
        sum += lround(load->planning_a * 100);
        if (load->motor_unit_a > 0 &&
            (largest == LOADS_MOST || load->motor_unit_a > all->one->loads[largest].motor_unit_a)) {
            largest = i;
        }
    }
    sum += largest == LOADS_MOST ? 0 : lround(all->one->loads[largest].motor_extra_a * 100);
    all->over += sum > all->limit ? probability : 0;
}

static void enumerate_loads(struct enumeration *all, size_t load, long double probability);

static void enumerate_groups(struct enumeration *all, size_t group, long double probability)
{
    if (group == 3) {
        enumerate_loads(all, 0, probability);
        return;
    }
    long double off = 1;
    for (size_t i = 0; i < all->one->load_count; i++) {
        if (all->one->loads[i].group == group) {
            long double p = all->one->probability[all->minute][i];
            off -= p;
            if (p > 0) {
                all->on[i] = true;
                enumerate_groups(all, group + 1, probability * p);
                all->on[i] = false;
            }
        }
    }
    enumerate_groups(all, group + 1, probability * (off > 0 ? off : 0));
}

static void enumerate_loads(struct enumeration *all, size_t load, long double probability)
{
    if (load == all->one->load_count) {
        count_state(all, probability);
        return;
    }
    if (all->one->loads[load].group != CHANCE_NO_GROUP) {
        enumerate_loads(all, load + 1, probability);
        return;
    }
    long double p = all->one->probability[all->minute][load];
    if (p < 1) {
        enumerate_loads(all, load + 1, probability * (1 - p));
    }
    if (p > 0) {
        all->on[load] = true;
        enumerate_loads(all, load + 1, probability * p);
        all->on[load] = false;
    }
}

static double enumerated(const struct house_case *one, int minute, double limit_a)
{
    struct enumeration all = {.one = one, .minute = minute, .limit = lround(limit_a * 100)};
    enumerate_groups(&all, 0, 1);
    return (double)all.over;
}

static void compare_minutes(const struct house_case *one, double limit_a, int step_min)
{
    struct chance_bounds minutes[MINUTES];
    struct chance_figures figures;
    chance_day(one->loads, one->load_count, one->spans, one->span_count, MINUTES, limit_a, CHANCE_GRID_A, minutes,
               &figures);
    for (int minute = 0; minute < MINUTES; minute += step_min) {
        double want = enumerated(one, minute, limit_a);
        ck_assert_double_eq(minutes[minute].lower, minutes[minute].upper);
        ck_assert_msg(fabs(minutes[minute].lower - want) <= 1e-12 * want, "minute %d: %.17g, enumerated %.17g", minute,
                      minutes[minute].lower, want);
    }
}

/* _i: bit 0 motors, bit 1 groups. Ten houses each, from rarely to usually over the limit. */
START_TEST(chances_equal_full_enumeration)
{
    struct random random = {0x9E3779B97F4A7C15ULL + (unsigned)_i};
    for (int i = 0; i < 10; i++) {
        struct house_case one;
        make_case(&one, &random, 4 + random_below(&random, 7), (_i & 1) != 0, (_i & 2) != 0);
        compare_minutes(&one, 5 + 4 * i, 1);
    }
}
END_TEST

START_TEST(twenty_loads_equal_full_enumeration)
{
    struct random random = {77};
    struct house_case one;
    make_case(&one, &random, 20, false, false);
    compare_minutes(&one, 70, 29);
}
END_TEST

/* By hand: P(both) = 0.5 * 0.25 = 0.125; 6 + 9 = 15 A is not over 15 A, and is over 14.99 A. */
static const struct {
    double limit_a;
    double want;
} two_rows[] = {{15, 0}, {14.99, 0.125}, {9, 0.125}, {8.99, 0.25}, {6, 0.25}, {5.99, 0.625}, {0.01, 0.625}};

START_TEST(two_loads_by_hand)
{
    const struct chance_load loads[] = {{.planning_a = 6, .group = CHANCE_NO_GROUP},
                                        {.planning_a = 9, .group = CHANCE_NO_GROUP}};
    const struct chance_span spans[] = {{0, 0, 60, 0.5}, {1, 0, 60, 0.25}};
    struct chance_figures figures;
    chance_day(loads, 2, spans, 2, 60, two_rows[_i].limit_a, CHANCE_GRID_A, NULL, &figures);
    ck_assert_double_eq_tol(figures.worst.lower, two_rows[_i].want, 1e-15);
    ck_assert_double_eq_tol(figures.time.upper, two_rows[_i].want, 1e-15);
    ck_assert_double_eq_tol(figures.some_time_most, two_rows[_i].want, 1e-15);
    ck_assert_uint_eq(figures.stretches, 1);
}
END_TEST

/* By hand: 10 A on for 36 of 60 minutes with chance 1, 5 A for 2 of 60 more: 10 A during 60 % of the time. */
START_TEST(currents_not_exceeded_by_hand)
{
    const struct chance_load loads[] = {{.planning_a = 10, .group = CHANCE_NO_GROUP},
                                        {.planning_a = 5, .group = CHANCE_NO_GROUP}};
    const struct chance_span spans[] = {{0, 0, 36, 1}, {1, 10, 12, 1}};
    for (double limit_a = 2; limit_a <= 16; limit_a += 7) {
        struct chance_figures figures;
        chance_day(loads, 2, spans, 2, 60, limit_a, CHANCE_GRID_A, NULL, &figures);
        ck_assert_double_eq_tol(figures.current_95_a.lower, 10, 1e-9);
        ck_assert_double_eq_tol(figures.current_99_a.upper, 15, 1e-9);
        ck_assert_double_eq_tol(figures.time.lower, limit_a < 10 ? 36.0 / 60 : limit_a < 15 ? 2.0 / 60 : 0, 1e-15);
        ck_assert_uint_eq(figures.stretches, 4);
        ck_assert_int_eq(figures.worst_min, limit_a < 10 || limit_a > 15 ? 0 : 10);
    }
}
END_TEST

/* Two in a group, each half the time, never together: 8 A half, 7 A half, nothing left. */
START_TEST(group_members_exclude_one_another)
{
    const struct chance_load loads[] = {{.planning_a = 8, .group = 4}, {.planning_a = 7, .group = 4}};
    const struct chance_span spans[] = {{0, 0, 60, 0.5}, {1, 0, 60, 0.5}};
    struct chance_figures figures;
    chance_day(loads, 2, spans, 2, 60, 8, CHANCE_GRID_A, NULL, &figures);
    ck_assert_double_eq(figures.worst.upper, 0);
    chance_day(loads, 2, spans, 2, 60, 7, CHANCE_GRID_A, NULL, &figures);
    ck_assert_double_eq_tol(figures.worst.upper, 0.5, 1e-15);
    chance_day(loads, 2, spans, 2, 60, 6, CHANCE_GRID_A, NULL, &figures);
    ck_assert_double_eq_tol(figures.worst.upper, 1, 1e-15);
}
END_TEST

/* Off the grid the true chance lies between the bounds: enumeration in real currents. */
START_TEST(bounds_hold_off_the_grid)
{
    struct random random = {4242};
    for (int run = 0; run < 40; run++) {
        struct chance_load loads[12];
        struct chance_span spans[12];
        for (size_t i = 0; i < 12; i++) {
            loads[i] = (struct chance_load){.planning_a = 9 * random_unit(&random), .group = CHANCE_NO_GROUP};
            spans[i] = (struct chance_span){i, 0, 60, random_unit(&random)};
        }
        double limit_a = 15 + random_unit(&random) * 20;
        double want = 0;
        for (unsigned state = 0; state < 1U << 12; state++) {
            double sum_a = 0;
            double probability = 1;
            for (size_t i = 0; i < 12; i++) {
                bool on = (state >> i & 1) != 0;
                sum_a += on ? loads[i].planning_a : 0;
                probability *= on ? spans[i].probability : 1 - spans[i].probability;
            }
            want += sum_a > limit_a ? probability : 0;
        }
        struct chance_figures figures;
        chance_day(loads, 12, spans, 12, 60, limit_a, 0.1, NULL, &figures);
        ck_assert_double_le(figures.worst.lower, want * (1 + 1e-12));
        ck_assert_double_ge(figures.worst.upper, want * (1 - 1e-12));
        ck_assert_double_lt(figures.worst.lower, figures.worst.upper);
    }
}
END_TEST

/* A seeded Monte Carlo of 200,000 draws: within five of its own standard errors, and the 95 % current by counting. */
START_TEST(monte_carlo_agrees_within_its_error)
{
    struct random random = {20261125};
    struct house_case one;
    make_case(&one, &random, 18, true, false);
    struct chance_bounds minutes[MINUTES];
    struct chance_figures figures;
    const double limit_a = 60;
    chance_day(one.loads, one.load_count, one.spans, one.span_count, MINUTES, limit_a, CHANCE_GRID_A, minutes,
               &figures);
    const int minute = figures.worst_min;
    const int draws = 200000;
    int over = 0;
    for (int draw = 0; draw < draws; draw++) {
        struct enumeration all = {.one = &one, .limit = lround(limit_a * 100)};
        for (size_t i = 0; i < one.load_count; i++) {
            all.on[i] = random_unit(&random) < one.probability[minute][i];
        }
        count_state(&all, 1);
        over += all.over > 0;
    }
    double want = minutes[minute].lower;
    double error = sqrt(want * (1 - want) / draws);
    ck_assert_double_gt(want, 0.001);
    ck_assert_double_eq_tol((double)over / draws, want, 5 * error);
}
END_TEST

START_TEST(nothing_on_gives_zero)
{
    struct chance_bounds minutes[MINUTES];
    struct chance_figures figures;
    chance_day(NULL, 0, NULL, 0, MINUTES, 20, CHANCE_GRID_A, minutes, &figures);
    ck_assert_double_eq(figures.worst.upper, 0);
    ck_assert_double_eq(figures.some_time_most, 0);
    ck_assert_double_eq(figures.current_99_a.upper, 0);
    ck_assert_double_eq(minutes[MINUTES - 1].upper, 0);
}
END_TEST

/* A load above the limit by itself, one exactly at it, one of no current. */
START_TEST(loads_at_and_above_the_limit)
{
    const struct chance_load loads[] = {{.planning_a = 1000, .group = CHANCE_NO_GROUP},
                                        {.planning_a = 20, .group = CHANCE_NO_GROUP},
                                        {.planning_a = 0, .group = CHANCE_NO_GROUP}};
    const struct chance_span spans[] = {{0, 0, 10, 0.5}, {1, 10, 20, 0.5}, {2, 0, 60, 0.5}};
    struct chance_bounds minutes[MINUTES];
    struct chance_figures figures;
    chance_day(loads, 3, spans, 3, MINUTES, 20, CHANCE_GRID_A, minutes, &figures);
    ck_assert_double_eq_tol(minutes[9].upper, 0.5, 1e-15);
    ck_assert_double_eq(minutes[10].upper, 0);
    ck_assert_double_eq_tol(figures.current_99_a.upper, 1000, 1e-9);
    ck_assert_double_eq_tol(figures.current_95_a.lower, 1000, 1e-9);
}
END_TEST

#define ROWS(table) ((int)(sizeof(table) / sizeof(table)[0]))

Suite *make_suite(void)
{
    Suite *suite = suite_create("chance");
    TCase *tcase = tcase_create("chance");
    tcase_set_timeout(tcase, 60);
    tcase_add_loop_test(tcase, chances_equal_full_enumeration, 0, 4);
    tcase_add_test(tcase, twenty_loads_equal_full_enumeration);
    tcase_add_loop_test(tcase, two_loads_by_hand, 0, ROWS(two_rows));
    tcase_add_test(tcase, currents_not_exceeded_by_hand);
    tcase_add_test(tcase, group_members_exclude_one_another);
    tcase_add_test(tcase, bounds_hold_off_the_grid);
    tcase_add_test(tcase, monte_carlo_agrees_within_its_error);
    tcase_add_test(tcase, nothing_on_gives_zero);
    tcase_add_test(tcase, loads_at_and_above_the_limit);
    suite_add_tcase(suite, tcase);
    return suite;
}
