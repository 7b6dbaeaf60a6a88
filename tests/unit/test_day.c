#include "runner.h"

#include <math.h>
#include <stdlib.h>

#include "ampsum/arena.h"
#include "ampsum/day.h"
#include "ampsum/energy.h"
#include "fixture.h"

static const struct planning_factors plain = {1, 1};
static const struct planning_factors with_motor = {1.25, 1.25};

static struct day_scope branch_scope(size_t branch)
{
    return (struct day_scope){.branch = branch, .panel = NO_INDEX};
}

/* Some appliances with windows, days, months, groups, motors and hours, the same in every run of a seed. */
static struct house *random_house(uint64_t seed, unsigned appliances)
{
    uint64_t state = seed * 2862933555777941757ULL + 3037000493ULL;
    struct house *house = fixture_new(SYSTEM_SPLIT_PHASE, 120, 2, appliances);
    fixture_branch(house, LEG_A, 20);
    fixture_branch(house, LEG_A | LEG_B, 30);
    house->panels[0].breaker_a = 100;
    for (unsigned i = 0; i < appliances; i++) {
        struct appliance *appliance = fixture_appliance(house, i % 2, 60 + fixture_random(&state, 1500));
        if (fixture_random(&state, 4) > 0) {
            appliance->use = fixture_random_windows(house, &state);
        }
        appliance->days = 1 + fixture_random(&state, 127);
        appliance->months = fixture_random(&state, 3) == 0 ? 1 + fixture_random(&state, 4095) : MONTHS_ALL;
        appliance->behaviour = fixture_random(&state, 3) == 0 ? BEHAVIOUR_MOTOR : BEHAVIOUR_RESISTIVE;
        appliance->count = 1 + fixture_random(&state, 3);
        appliance->continuous = fixture_random(&state, 5) == 0;
        appliance->group_index = fixture_random(&state, 3) == 0 ? fixture_random(&state, 2) : NO_INDEX;
        appliance->duty_percent = 25 + fixture_random(&state, 76);
        appliance->standby_w = fixture_random(&state, 5);
        double window_s = 0;
        for (size_t j = 0; j < appliance->use.count; j++) {
            int minutes = appliance->use.window[j].end_min - appliance->use.window[j].start_min;
            window_s += 60.0 * (minutes > 0 ? minutes : minutes + MINUTES_IN_DAY);
        }
        double most_s = appliance->use.count > 0 ? window_s : 86400;
        appliance->on_time_s = floor(most_s * (double)fixture_random(&state, 101) / 100 / 60) * 60;
    }
    fixture_finish(house);
    return house;
}

/* Every minute of every day of two months against the branch totalled with what the engine's own schedule has on. */
START_TEST(course_equals_totals_minute_by_minute)
{
    struct house *house = random_house((uint64_t)_i + 1, 9);
    unsigned *on = arena_array(house->arena, house->appliance_count, sizeof *on);
    for (int weekday = 0; weekday < 7; weekday++) {
        struct arena *arena = arena_new();
        int month = (_i * 5 + weekday) % MONTHS_IN_YEAR;
        struct day day = {weekday, month, month};
        struct day_series series;
        day_course(house, branch_scope(0), day, with_motor, 0.8, arena, &series);
        ck_assert_int_eq(series.stretches[0].start_min, 0);
        ck_assert_int_eq(series.stretches[series.stretch_count - 1].end_min, MINUTES_IN_DAY);
        int over_min = 0;
        double peak_a = 0;
        size_t at = 0;
        for (int minute = 0; minute < MINUTES_IN_DAY; minute++) {
            at += minute >= series.stretches[at].end_min;
            struct moment moment = {month, weekday * MINUTES_IN_DAY + minute};
            for (size_t i = 0; i < house->appliance_count; i++) {
                on[i] = appliance_is_on(&house->appliances[i], moment) ? house->appliances[i].count : 0;
                ck_assert_int_eq(day_appliance_is_on(&house->appliances[i], day, minute), on[i] > 0);
            }
            struct branch_figures want;
            branch_total(house, 0, on, 120, with_motor, NULL, &want);
            ck_assert_double_eq_tol(series.stretches[at].planning_a, want.planning_a, 1e-9);
            ck_assert_double_eq_tol(series.stretches[at].current_a, want.current_a, 1e-9);
            over_min += want.planning_a > 20;
            peak_a = fmax(peak_a, want.planning_a);
        }
        ck_assert_int_eq(series.over_rating_min, over_min);
        ck_assert_double_eq_tol(series.stretches[series.busiest].planning_a, peak_a, 1e-9 * (1 + peak_a));
        arena_free(arena);
    }
    house_free(house);
}
END_TEST

START_TEST(busiest_day_holds_the_busiest_minute)
{
    struct house *house = random_house((uint64_t)_i + 50, 8);
    struct moment moment;
    struct branch_figures figures;
    branch_busiest(house, 0, 120, with_motor, NULL, &moment, &figures);
    struct day day = day_busiest(house, branch_scope(0), DAYS_ALL, MONTHS_ALL, with_motor);
    struct arena *arena = arena_new();
    struct day_series series;
    day_course(house, branch_scope(0), day, with_motor, 0.8, arena, &series);
    ck_assert_int_eq(day.month, moment.month);
    ck_assert_int_eq(day.weekday, moment.minute / MINUTES_IN_DAY);
    ck_assert_int_eq(series.stretches[series.busiest].start_min, moment.minute % MINUTES_IN_DAY);
    ck_assert_double_eq_tol(series.stretches[series.busiest].planning_a, figures.planning_a, 1e-9);
    arena_free(arena);
    house_free(house);
}
END_TEST

/* The search by bounds against totalling every stretch of every day, on a leg with groups and motors. */
START_TEST(busiest_day_of_a_panel_is_that_of_all_days)
{
    struct house *house = random_house((uint64_t)_i + 300, 10);
    struct day_scope scope = {NO_INDEX, 0, _i % 2};
    struct day best = {0};
    double best_a = -1;
    for (int i = 0; i < 7 * MONTHS_IN_YEAR; i++) {
        struct arena *arena = arena_new();
        struct day day = {i % 7, i / 7, i / 7};
        struct day_series series;
        day_course(house, scope, day, with_motor, 0.8, arena, &series);
        double peak_a = series.stretches[series.busiest].planning_a;
        if (best_a < 0 || peak_a > best_a * (1 + 1e-9)) {
            best_a = peak_a;
            best = day;
        }
        arena_free(arena);
    }
    struct day got = day_busiest(house, scope, DAYS_ALL, MONTHS_ALL, with_motor);
    ck_assert_int_eq(got.month, best.month);
    ck_assert_int_eq(got.weekday, best.weekday);
    house_free(house);
}
END_TEST

/* A window of Sunday night in January runs into the first of February, a Monday, and not into other Mondays. */
START_TEST(window_belongs_to_the_month_it_starts_in)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 230, 1, 1);
    fixture_branch(house, LEG_A, 16);
    struct appliance *appliance = fixture_appliance(house, 0, 2300);
    appliance->use = fixture_windows(house, "22:00-02:00");
    appliance->days = fixture_days("sun");
    appliance->months = fixture_months("jan");
    fixture_finish(house);
    ck_assert(day_appliance_is_on(appliance, (struct day){0, 1, 0}, 119));
    ck_assert(!day_appliance_is_on(appliance, (struct day){0, 1, 0}, 120));
    ck_assert(!day_appliance_is_on(appliance, (struct day){0, 1, 1}, 60));
    ck_assert(!day_appliance_is_on(appliance, (struct day){6, 1, 0}, 1380));
    ck_assert(day_appliance_is_on(appliance, (struct day){6, 0, 0}, 1380));
    house_free(house);
}
END_TEST

/* 12 A on 20 A: 16 A is 80 %. By hand: 12 A all day, and 4.5 A more 06:00-07:00, 9 A more 07:00-07:30. */
START_TEST(minutes_above_are_counted)
{
    struct house *house = fixture_new(SYSTEM_SPLIT_PHASE, 120, 1, 3);
    fixture_branch(house, LEG_A, 20);
    fixture_appliance(house, 0, 1440);
    fixture_appliance(house, 0, 540)->use = fixture_windows(house, "06:00-07:00");
    fixture_appliance(house, 0, 1080)->use = fixture_windows(house, "07:00-07:30");
    fixture_finish(house);
    struct arena *arena = arena_new();
    struct day_series series;
    day_course(house, branch_scope(0), (struct day){2, 5, 5}, plain, 0.8, arena, &series);
    ck_assert_uint_eq(series.stretch_count, 4);
    ck_assert_int_eq(series.over_share_min, 90);
    ck_assert_int_eq(series.over_rating_min, 30);
    ck_assert_uint_eq(series.busiest, 2);
    ck_assert_double_eq_tol(series.stretches[2].current_a, 21, 1e-9);
    arena_free(arena);
    house_free(house);
}
END_TEST

/*
 * By hand: 10 A with 1 h in a window of 4 h: 0.25; 15 A with 6 h of 24 and duty 50 %: 0.125. Both at once 25 A over
 * 20 A: 0.03125 for 4 of 24 hours. The third has neither windows nor hours and is left out.
 */
START_TEST(odds_by_hand)
{
    struct house *house = fixture_new(SYSTEM_SPLIT_PHASE, 120, 1, 3);
    fixture_branch(house, LEG_A, 20);
    struct appliance *first = fixture_appliance(house, 0, 1200);
    first->use = fixture_windows(house, "18:00-22:00");
    first->on_time_s = 3600;
    struct appliance *second = fixture_appliance(house, 0, 1800);
    second->on_time_s = 6 * 3600;
    second->duty_percent = 50;
    fixture_appliance(house, 0, 9999);
    fixture_finish(house);
    struct arena *arena = arena_new();
    struct chance_bounds minutes[MINUTES_IN_DAY];
    struct chance_figures figures;
    struct index_list left_out;
    day_odds(house, branch_scope(0), (struct day){0, 0, 0}, plain, arena, minutes, &figures, &left_out);
    ck_assert_double_eq_tol(figures.worst.upper, 0.03125, 1e-15);
    ck_assert_double_eq_tol(figures.time.lower, 0.03125 / 6, 1e-15);
    ck_assert_int_eq(figures.worst_min, 18 * 60);
    ck_assert_double_eq(minutes[18 * 60 - 1].upper, 0);
    ck_assert_double_eq_tol(minutes[22 * 60 - 1].upper, 0.03125, 1e-15);
    ck_assert_uint_eq(left_out.count, 1);
    ck_assert_uint_eq(left_out.index[0], 2);
    arena_free(arena);
    house_free(house);
}
END_TEST

/* us factors by hand: a motor of 10 A and a continuous heater of 6 A: 10 * 1.25 + 6 * 1.25 = 20 A, not over 20 A. */
START_TEST(odds_take_the_planning_factors)
{
    struct house *house = fixture_new(SYSTEM_SPLIT_PHASE, 120, 1, 2);
    struct branch *branch = fixture_branch(house, LEG_A, 20);
    struct appliance *motor = fixture_appliance(house, 0, 1200);
    motor->behaviour = BEHAVIOUR_MOTOR;
    motor->on_time_s = 12 * 3600;
    struct appliance *heater = fixture_appliance(house, 0, 720);
    heater->continuous = true;
    heater->on_time_s = 12 * 3600;
    fixture_finish(house);
    struct arena *arena = arena_new();
    struct chance_figures figures;
    struct index_list left_out;
    day_odds(house, branch_scope(0), (struct day){0, 0, 0}, with_motor, arena, NULL, &figures, &left_out);
    ck_assert_double_eq(figures.worst.upper, 0);
    branch->breaker_a = 19.99;
    day_odds(house, branch_scope(0), (struct day){0, 0, 0}, with_motor, arena, NULL, &figures, &left_out);
    ck_assert_double_eq_tol(figures.worst.upper, 0.25, 1e-15);
    arena_free(arena);
    house_free(house);
}
END_TEST

/*
 * Thirty motors, two of them in one group, are too many to try each as the largest: the bounds then are wider than the
 * exact distribution, and hold it.
 */
START_TEST(odds_of_many_motors_are_bounds)
{
    enum { MOTORS = 30 };
    struct house *house = fixture_new(SYSTEM_SPLIT_PHASE, 120, 1, MOTORS);
    fixture_branch(house, LEG_A, 20);
    struct chance_load loads[MOTORS];
    struct chance_span spans[MOTORS];
    for (size_t i = 0; i < MOTORS; i++) {
        struct appliance *motor = fixture_appliance(house, 0, 120 + 14.4 * (double)i);
        motor->behaviour = BEHAVIOUR_MOTOR;
        motor->on_time_s = 6 * 3600;
        motor->group_index = i < 2 ? 0 : NO_INDEX;
        const double unit_a = 1 + 0.12 * (double)i; /* it and a quarter of it lie on the grid */
        loads[i] = (struct chance_load){unit_a, unit_a, 0.25 * unit_a, i < 2 ? 0 : CHANCE_NO_GROUP};
        spans[i] = (struct chance_span){i, 0, MINUTES_IN_DAY, 0.25};
    }
    fixture_finish(house);
    struct arena *arena = arena_new();
    struct chance_bounds minutes[MINUTES_IN_DAY];
    struct chance_figures rough;
    struct chance_figures exact;
    struct index_list left_out;
    day_odds(house, branch_scope(0), (struct day){0, 0, 0}, with_motor, arena, minutes, &rough, &left_out);
    chance_day(loads, MOTORS, spans, MOTORS, MINUTES_IN_DAY, 20, CHANCE_GRID_A, NULL, &exact);
    const struct chance_bounds pairs[][2] = {{rough.worst, exact.worst},
                                             {rough.time, exact.time},
                                             {minutes[0], exact.worst},
                                             {rough.current_95_a, exact.current_95_a},
                                             {rough.current_99_a, exact.current_99_a}};
    for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
        ck_assert_msg(pairs[i][0].lower <= pairs[i][1].lower + 1e-12, "row %zu: %g, exactly %g", i, pairs[i][0].lower,
                      pairs[i][1].lower);
        ck_assert_msg(pairs[i][0].upper >= pairs[i][1].upper - 1e-12, "row %zu: %g, exactly %g", i, pairs[i][0].upper,
                      pairs[i][1].upper);
        ck_assert_double_gt(pairs[i][0].upper - pairs[i][0].lower, pairs[i][1].upper - pairs[i][1].lower);
    }
    ck_assert_double_ge(rough.some_time_most, exact.some_time_most - 1e-12);
    arena_free(arena);
    house_free(house);
}
END_TEST

/* A sub-panel's leg carries its own branches of that leg alone, and the main panel's leg both. */
START_TEST(panel_legs_carry_their_branches)
{
    struct house *house = fixture_new(SYSTEM_SPLIT_PHASE, 120, 3, 3);
    house->panels[0].breaker_a = 100;
    size_t garage = fixture_panel(house, 0, LEG_A | LEG_B);
    house->panels[garage].breaker_a = 40;
    fixture_branch(house, LEG_A, 20);
    fixture_branch(house, LEG_B, 20)->panel = garage;
    fixture_branch(house, LEG_A | LEG_B, 30)->panel = garage;
    fixture_appliance(house, 0, 1200);
    fixture_appliance(house, 1, 600);
    fixture_appliance(house, 2, 4800);
    fixture_finish(house);
    struct {
        size_t panel;
        int leg;
        double want_a;
    } rows[] = {{0, 0, 30}, {0, 1, 25}, {garage, 0, 20}, {garage, 1, 25}};
    for (size_t i = 0; i < 4; i++) {
        struct arena *arena = arena_new();
        struct day_series series;
        struct day_scope scope = {NO_INDEX, rows[i].panel, rows[i].leg};
        day_course(house, scope, (struct day){0, 0, 0}, plain, 0.8, arena, &series);
        ck_assert_double_eq_tol(series.stretches[0].planning_a, rows[i].want_a, 1e-9);
        ck_assert_double_eq(series.rating_a, rows[i].panel == 0 ? 100 : 40);
        arena_free(arena);
    }
    house_free(house);
}
END_TEST

/* The hours of 365 days, summed, are the year's energy as energy_year_rows counts it by another way. */
START_TEST(model_sums_to_the_year)
{
    static const int month_days[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    struct house *house = random_house((uint64_t)_i + 900, 7);
    double sum_kwh = 0;
    double branch_kwh[2] = {0};
    double legs_kwh = 0;
    int date = 0;
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        for (int i = 0; i < month_days[month]; i++, date++) {
            double hour_w[24];
            const struct day day = {date % 7, month, i == 0 ? (month + 11) % 12 : month};
            day_model_w(house, day, hour_w);
            for (int part = 0; part < 2; part++) {
                branch_kwh[part] += day_energy_kwh(house, branch_scope((size_t)part), day);
                legs_kwh += day_energy_kwh(house, (struct day_scope){NO_INDEX, 0, part}, day);
            }
            for (int hour = 0; hour < 24; hour++) {
                sum_kwh += hour_w[hour] / 1000;
            }
        }
    }
    struct energy_bill bill;
    energy_year_rows(house, NO_INDEX, 2, ENERGY_ALL, house->arena, &bill);
    ck_assert_double_gt(sum_kwh, 0);
    ck_assert_double_eq_tol(sum_kwh, bill.kwh_year, 1e-9 * bill.kwh_year + 1e-6);
    ck_assert_double_eq_tol(legs_kwh, bill.kwh_year, 1e-9 * bill.kwh_year + 1e-6);
    for (int part = 0; part < 2; part++) {
        ck_assert_double_eq_tol(branch_kwh[part], bill.branches[part].kwh_year, 1e-9 * bill.kwh_year + 1e-6);
    }
    house_free(house);
}
END_TEST

/* 100 W around the clock by the list, 150 W by the meter: two thirds explained, in each hour. Half an hour is missing.
 */
START_TEST(meter_is_explained_hour_by_hour)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 230, 1, 1);
    fixture_branch(house, LEG_A, 16);
    struct appliance *appliance = fixture_appliance(house, 0, 400);
    appliance->on_time_s = 6 * 3600;
    fixture_finish(house);
    struct meter_hour hours[48];
    for (int i = 0; i < 48; i++) {
        struct meter_date date = {2026, 3, 30 + i / 24, i / 24, i % 24 * 3600};
        int64_t covered_s = i == 30 ? 1800 : 3600;
        hours[i] = (struct meter_hour){date, 150 * covered_s / 3600 * METER_UWH_PER_WH, covered_s};
    }
    struct day_explained explained[24];
    struct day_explained all;
    day_explain(house, hours, 48, explained, &all);
    ck_assert_double_eq_tol(all.explained_percent, 200.0 / 3, 1e-9);
    ck_assert_double_eq_tol(all.to_add_w, 50, 1e-9);
    ck_assert_double_eq_tol(all.covered_h, 47.5, 1e-12);
    for (int hour = 0; hour < 24; hour++) {
        double covered_h = hour == 6 ? 1.5 : 2;
        ck_assert_double_eq_tol(explained[hour].covered_h, covered_h, 1e-12);
        ck_assert_double_eq_tol(explained[hour].metered_kwh, 0.15 * covered_h, 1e-12);
        ck_assert_double_eq_tol(explained[hour].modelled_kwh, 0.1 * covered_h, 1e-12);
        ck_assert_double_eq_tol(explained[hour].to_add_w, 50, 1e-9);
    }
    house_free(house);
}
END_TEST

/* 2026-11-25 is a Wednesday, 2024-02-29 a Thursday, 2000-01-01 a Saturday (calendar). 01-01 is a Monday by the
 * contract. */
static const struct {
    const char *string;
    int weekday; /* -1: refused */
    int month;
    int month_before;
} date_rows[] = {
    {"2026-11-25", 2, 10, 10}, {"2024-02-29", 3, 1, 1}, {"2000-01-01", 5, 0, 11}, {"01-01", 0, 0, 11},
    {"12-31", 0, 11, 11},      {"03-01", 3, 2, 1},      {"02-29", -1, 0, 0},      {"2026-02-29", -1, 0, 0},
    {"13-01", -1, 0, 0},       {"00-10", -1, 0, 0},     {"1-1", -1, 0, 0},        {"01/01", -1, 0, 0},
    {"2026-1-01", -1, 0, 0},   {"", -1, 0, 0},          {"01-00", -1, 0, 0},      {"2x26-11-25", -1, 0, 0},
};

START_TEST(dates_are_read)
{
    struct day day = {0};
    bool read = day_from_text(date_rows[_i].string, &day);
    ck_assert_int_eq(read, date_rows[_i].weekday >= 0);
    if (read) {
        ck_assert_int_eq(day.weekday, date_rows[_i].weekday);
        ck_assert_int_eq(day.month, date_rows[_i].month);
        ck_assert_int_eq(day.month_before, date_rows[_i].month_before);
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("day");
    TCase *tcase = tcase_create("day");
    tcase_set_timeout(tcase, 60);
    tcase_add_loop_test(tcase, course_equals_totals_minute_by_minute, 0, 8);
    tcase_add_loop_test(tcase, busiest_day_holds_the_busiest_minute, 0, 20);
    tcase_add_loop_test(tcase, busiest_day_of_a_panel_is_that_of_all_days, 0, 12);
    tcase_add_test(tcase, window_belongs_to_the_month_it_starts_in);
    tcase_add_test(tcase, minutes_above_are_counted);
    tcase_add_test(tcase, odds_by_hand);
    tcase_add_test(tcase, odds_of_many_motors_are_bounds);
    tcase_add_test(tcase, odds_take_the_planning_factors);
    tcase_add_test(tcase, panel_legs_carry_their_branches);
    tcase_add_loop_test(tcase, model_sums_to_the_year, 0, 6);
    tcase_add_test(tcase, meter_is_explained_hour_by_hour);
    tcase_add_loop_test(tcase, dates_are_read, 0, (int)(sizeof date_rows / sizeof date_rows[0]));
    suite_add_tcase(suite, tcase);
    return suite;
}
