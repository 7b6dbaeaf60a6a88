/* The busiest minute: the search by events against a walk over every minute of twelve months' weeks. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/engine.h"
#include "fixture.h"
#include "runner.h"

enum { LOADS_MOST = 16, WEEK_MINUTES = 7 * MINUTES_IN_DAY };

static const struct planning_factors us = {1.25, 1.25};

/* Minutes of the week at which a load is on in a month: each window marked from the day on which it starts. */
static void mark_week(const struct appliance *load, int month, unsigned char *week)
{
    memset(week, 0, WEEK_MINUTES);
    for (int day = 0; (load->months >> month & 1U) != 0 && day < 7; day++) {
        if ((load->days >> day & 1U) == 0) {
            continue;
        }
        for (int minute = 0; load->use.count == 0 && minute < MINUTES_IN_DAY; minute++) {
            week[day * MINUTES_IN_DAY + minute] = 1;
        }
        for (size_t i = 0; i < load->use.count; i++) {
            int at = load->use.window[i].start_min;
            do {
                week[(day * MINUTES_IN_DAY + at) % WEEK_MINUTES] = 1;
                at++;
            } while (at % MINUTES_IN_DAY != load->use.window[i].end_min % MINUTES_IN_DAY);
        }
    }
}

static void walk_month(const struct house *house, int month, struct moment *best, double *best_a)
{
    static unsigned char weeks[LOADS_MOST][WEEK_MINUTES];
    size_t count = house->appliance_count;
    unsigned units[LOADS_MOST];
    unsigned before[LOADS_MOST];
    unsigned wrong = 0; /* one assert for all: each costs more than what it looks at */
    memset(before, 255, sizeof before);
    for (size_t i = 0; i < count; i++) {
        mark_week(&house->appliances[i], month, weeks[i]);
    }
    for (int minute = 0; minute < WEEK_MINUTES; minute++) {
        for (size_t i = 0; i < count; i++) {
            units[i] = weeks[i][minute] ? house->appliances[i].count : 0;
            struct moment now = {.month = month, .minute = minute};
            wrong += appliance_is_on(&house->appliances[i], now) != (weeks[i][minute] != 0);
        }
        if (memcmp(units, before, count * sizeof units[0]) == 0) {
            continue; /* the same loads as a minute ago */
        }
        memcpy(before, units, sizeof before);
        struct branch_figures figures;
        branch_total(house, 0, units, 120.0, us, NULL, &figures);
        if (best->month < 0 || figures.planning_a > *best_a * (1 + 1e-9)) {
            *best = (struct moment){.month = month, .minute = minute};
            *best_a = figures.planning_a;
        }
    }
    ck_assert_uint_eq(wrong, 0);
}

static struct house *random_branch(uint64_t *state)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 120.0, 1, LOADS_MOST);
    fixture_branch(house, LEG_A, 20.0);
    unsigned count = 1 + fixture_random(state, 9);
    bool groups = fixture_random(state, 2) == 0;
    bool same_months = fixture_random(state, 2) == 0;
    for (unsigned i = 0; i < count; i++) {
        struct appliance *load = fixture_appliance(house, 0, 120.0 * (1 + fixture_random(state, 4)));
        load->count = 1 + fixture_random(state, 2);
        load->continuous = fixture_random(state, 3) == 0;
        load->behaviour = (int)fixture_random(state, 3);
        load->group_index = groups && fixture_random(state, 2) == 0 ? fixture_random(state, 2) : NO_INDEX;
        load->use = fixture_random_windows(house, state);
        load->days = fixture_random(state, 2) == 0 ? DAYS_ALL : 1 + fixture_random(state, DAYS_ALL);
        load->months =
            same_months || fixture_random(state, 2) == 0 ? MONTHS_ALL : 1 + fixture_random(state, MONTHS_ALL);
    }
    fixture_finish(house);
    return house;
}

/* The loads at that minute are those that the branch has with the same units on. */
static void check_loads(const struct house *house, const unsigned *on, const struct branch_figures *figures)
{
    struct load want[LOADS_MOST];
    struct load got[LOADS_MOST];
    struct branch_figures again;
    struct moment moment;
    branch_total(house, 0, on, 120.0, us, want, &again);
    branch_busiest_loads(house, 0, 120.0, us, NULL, &moment, &again, got);
    double sum_a = 0;
    for (size_t i = 0; i < house->appliance_count; i++) {
        ck_assert(got[i].appliance == i && got[i].counted == want[i].counted);
        ck_assert(!got[i].counted || (got[i].planning_a == want[i].planning_a && got[i].share == want[i].share &&
                                      got[i].largest_motor == want[i].largest_motor));
        sum_a += got[i].counted ? got[i].planning_a : 0;
    }
    ck_assert(fabs(sum_a - figures->planning_a) <= 1e-9 * sum_a);
}

START_TEST(the_search_finds_what_a_walk_finds)
{
    uint64_t state = 11;
    for (int round = 0; round < 120; round++) {
        struct house *house = random_branch(&state);
        struct moment want = {.month = -1};
        double want_a = 0.0;
        for (int month = 0; month < MONTHS_IN_YEAR; month++) {
            walk_month(house, month, &want, &want_a);
        }
        struct moment got;
        struct branch_figures figures;
        unsigned on[LOADS_MOST];
        branch_busiest(house, 0, 120.0, us, on, &got, &figures);
        ck_assert_msg(got.month == want.month && got.minute == want.minute, "round %d: got %d/%d, want %d/%d (%g)",
                      round, got.month, got.minute, want.month, want.minute, want_a);
        ck_assert(fabs(figures.planning_a - want_a) <= 1e-9 * want_a);
        struct branch_figures again;
        branch_total(house, 0, on, 120.0, us, NULL, &again);
        ck_assert(again.planning_a == figures.planning_a && again.current_a == figures.current_a);
        check_loads(house, on, &figures);
        house_free(house);
    }
}
END_TEST

START_TEST(no_schedule_is_everything_in_january)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 120.0, 1, 2);
    fixture_branch(house, LEG_A, 20.0);
    fixture_appliance(house, 0, 1200.0);
    fixture_appliance(house, 0, 600.0)->count = 2;
    fixture_finish(house);
    struct moment moment;
    struct branch_figures figures;
    unsigned on[2];
    branch_busiest(house, 0, 120.0, us, on, &moment, &figures);
    ck_assert(moment.month == 0 && moment.minute == 0);
    ck_assert(figures.planning_a == 20.0 && on[0] == 1 && on[1] == 2);
    house_free(house);
}
END_TEST

/* Sunday night runs into Monday of the same month, and belongs to Sunday. */
START_TEST(the_week_wraps_inside_a_month)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 120.0, 1, 2);
    fixture_branch(house, LEG_A, 20.0);
    struct appliance *night = fixture_appliance(house, 0, 1200.0);
    night->use = fixture_windows(house, "22:00-06:00");
    night->days = fixture_days("sun");
    night->months = fixture_months("mar");
    struct appliance *early = fixture_appliance(house, 0, 1200.0);
    early->use = fixture_windows(house, "05:00-07:00");
    early->days = fixture_days("mon");
    fixture_finish(house);
    struct moment moment;
    struct branch_figures figures;
    branch_busiest(house, 0, 120.0, us, NULL, &moment, &figures);
    ck_assert_int_eq(moment.month, 2);
    ck_assert_int_eq(moment.minute, 5 * 60);
    ck_assert(figures.planning_a == 20.0);
    house_free(house);
}
END_TEST

/* A hair more is a tie and keeps the earlier minute; more than 1e-9 is larger. */
START_TEST(ties_go_to_the_earlier_minute)
{
    const struct {
        double later_w;
        int want_minute;
    } cases[] = {{1200.0, 300}, {1200.0 * (1 + 5e-10), 300}, {1200.0 * (1 + 2e-9), 900}, {1199.0, 300}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 120.0, 1, 2);
        fixture_branch(house, LEG_A, 20.0);
        fixture_appliance(house, 0, cases[i].later_w)->use = fixture_windows(house, "15:00-16:00");
        fixture_appliance(house, 0, 1200.0)->use = fixture_windows(house, "05:00-06:00");
        fixture_finish(house);
        struct moment moment;
        struct branch_figures figures;
        branch_busiest(house, 0, 120.0, us, NULL, &moment, &figures);
        ck_assert_int_eq(moment.minute, cases[i].want_minute);
        house_free(house);
    }
}
END_TEST

/* The heater plans for more, the motor for most with its extra: it counts from the minute it comes on. */
START_TEST(of_a_group_the_motor_with_its_extra_counts)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 100.0, 1, 2);
    fixture_branch(house, LEG_A, 20.0);
    struct appliance *motor = fixture_appliance(house, 0, 1000.0);
    struct appliance *heater = fixture_appliance(house, 0, 1100.0);
    motor->behaviour = BEHAVIOUR_MOTOR;
    motor->group_index = heater->group_index = 0;
    motor->use = fixture_windows(house, "07:00-09:00");
    heater->use = fixture_windows(house, "06:00-08:00");
    fixture_finish(house);
    struct moment moment;
    struct branch_figures figures;
    branch_busiest(house, 0, 100.0, us, NULL, &moment, &figures);
    ck_assert_int_eq(moment.minute, 7 * 60);
    ck_assert(figures.planning_a == 12.5);
    house_free(house);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("busiest");
    TCase *tests = tcase_create("busiest");
    tcase_set_timeout(tests, 100);
    tcase_add_test(tests, the_search_finds_what_a_walk_finds);
    tcase_add_test(tests, no_schedule_is_everything_in_january);
    tcase_add_test(tests, the_week_wraps_inside_a_month);
    tcase_add_test(tests, ties_go_to_the_earlier_minute);
    tcase_add_test(tests, of_a_group_the_motor_with_its_extra_counts);
    suite_add_tcase(suite, tests);
    return suite;
}
