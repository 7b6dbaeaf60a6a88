/* Currents of branches and panels, and the busiest minute, against figures of others and against plain definitions. */
#include <complex.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/engine.h"
#include "fixture.h"
#include "runner.h"

enum { LOADS_MOST = 64, WEEK_MINUTES = 7 * MINUTES_IN_DAY };

static const struct planning_factors plain = {1.0, 1.0};
static const struct planning_factors us = {1.25, 1.25};

static void assert_near(double got, double want, double relative)
{
    ck_assert_msg(fabs(got - want) <= relative * fmax(fabs(want), 1.0), "got %.15g, want %.15g", got, want);
}

/* ------------------------------------------------------------------ outside values ------------------------ */

static unsigned legs_of_word(const char *word)
{
    return (strchr(word, 'A') != NULL ? LEG_A : 0U) | (strchr(word, 'B') != NULL ? LEG_B : 0U) |
           (strchr(word, 'C') != NULL ? LEG_C : 0U);
}

/* The branch on those legs, made when first met. */
static size_t branch_on(struct house *house, const char *legs, double breaker_a)
{
    for (size_t i = 0; i < house->branch_count; i++) {
        if (house->branches[i].legs == legs_of_word(legs)) {
            return i;
        }
    }
    fixture_branch(house, legs_of_word(legs), breaker_a);
    return house->branch_count - 1;
}

static void set_rating(struct appliance *appliance, const char *rating)
{
    char *unit = NULL;
    double value = strtod(rating, &unit);
    if (strcmp(unit, "W") == 0) {
        appliance->power_w = value;
    } else if (strcmp(unit, "VA") == 0) {
        appliance->rating = RATING_APPARENT;
        appliance->apparent_va = value;
    } else if (strcmp(unit, "A") == 0) {
        appliance->rating = RATING_CURRENT;
        appliance->current_a = value;
    } else {
        ck_assert_str_eq(unit, "ohm");
        appliance->rating = RATING_RESISTANCE;
        appliance->resistance_ohm = value;
    }
}

/* `1800W,pf=0.8,count=2,legs=AB,motor,continuous,rated=230` */
static void add_load(struct house *house, double breaker_a, char *spec)
{
    char *parts[8];
    int count = fixture_split(spec, ',', parts, 8);
    const char *legs = "A";
    for (int i = 1; i < count; i++) {
        legs = strncmp(parts[i], "legs=", 5) == 0 ? parts[i] + 5 : legs;
    }
    struct appliance *appliance = fixture_appliance(house, branch_on(house, legs, breaker_a), 0.0);
    set_rating(appliance, parts[0]);
    for (int i = 1; i < count; i++) {
        if (strncmp(parts[i], "pf=", 3) == 0) {
            appliance->power_factor = strtod(parts[i] + 3, NULL);
        } else if (strncmp(parts[i], "count=", 6) == 0) {
            appliance->count = (unsigned)strtoul(parts[i] + 6, NULL, 10);
        } else if (strncmp(parts[i], "rated=", 6) == 0) {
            appliance->rated_voltage_v = strtod(parts[i] + 6, NULL);
        } else if (strcmp(parts[i], "motor") == 0) {
            appliance->behaviour = BEHAVIOUR_MOTOR;
        } else if (strcmp(parts[i], "continuous") == 0) {
            appliance->continuous = 1;
        } else {
            ck_assert_msg(strncmp(parts[i], "legs=", 5) == 0, "unknown: %s", parts[i]);
        }
    }
}

static double ask_load(const struct load *load, double voltage_v, const char *ask)
{
    if (strncmp(ask, "load_a_", 7) == 0) {
        return load->current_a;
    }
    if (strncmp(ask, "load_w_", 7) == 0) {
        return load->draw.power_w;
    }
    if (strncmp(ask, "load_percent_", 13) == 0) {
        return 100.0 * load->share;
    }
    ck_assert_msg(strncmp(ask, "load_ohm_", 9) == 0, "unknown: %s", ask);
    return voltage_v * voltage_v / load->draw.power_w;
}

static double ask_branch(const struct house *house, double voltage_v, struct planning_factors factors, const char *ask)
{
    struct load loads[LOADS_MOST];
    struct branch_figures figures;
    branch_total(house, 0, NULL, voltage_v, factors, loads, &figures);
    const struct {
        const char *name;
        double value;
    } answers[] = {
        {"current_a", figures.current_a},
        {"planning_a", figures.planning_a},
        {"power_w", figures.power_w},
        {"reactive_var", figures.reactive_var},
        {"apparent_va", figures.apparent_va},
        {"power_factor", figures.power_factor},
        {"equivalent_ohm", figures.equivalent_ohm},
        {"headroom_a", figures.headroom_a},
    };
    for (size_t i = 0; i < sizeof answers / sizeof answers[0]; i++) {
        if (strcmp(answers[i].name, ask) == 0) {
            return answers[i].value;
        }
    }
    return ask_load(&loads[strtoul(strrchr(ask, '_') + 1, NULL, 10) - 1], voltage_v, ask);
}

static double ask_panel(const struct house *house, struct planning_factors factors, const char *ask)
{
    struct panel_figures panel;
    panels_total(house, NULL, factors, &panel);
    return strcmp(ask, "neutral_a") == 0 ? panel.neutral_a : panel.leg_current_a[ask[strlen("leg_a_")] - 'A'];
}

static double value_of(char *const *parts, int count, const char *key, double usual)
{
    for (int i = 0; i < count; i++) {
        if (strncmp(parts[i], key, strlen(key)) == 0) {
            return strtod(parts[i] + strlen(key), NULL);
        }
    }
    return usual;
}

static int system_of(char *const *parts, int count)
{
    for (int i = 0; i < count; i++) {
        if (strcmp(parts[i], "system=split-phase") == 0) {
            return SYSTEM_SPLIT_PHASE;
        }
        if (strcmp(parts[i], "system=three-phase") == 0) {
            return SYSTEM_THREE_PHASE;
        }
    }
    return SYSTEM_SINGLE_PHASE;
}

static void test_outside_row(const struct outside *row)
{
    char inputs[1024];
    char *parts[LOADS_MOST];
    ck_assert_uint_lt(strlen(row->inputs), sizeof inputs);
    memcpy(inputs, row->inputs, strlen(row->inputs) + 1);
    int count = fixture_split(inputs, ' ', parts, LOADS_MOST);
    ck_assert_msg(strncmp(parts[0], "ask=", 4) == 0, "%s: what is asked comes first", row->id);
    const char *ask = parts[0] + 4;
    double voltage_v = value_of(parts, count, "volts=", NAN);
    struct house *house = fixture_new(system_of(parts, count), voltage_v, LOADS_MOST, LOADS_MOST);
    struct planning_factors factors = {value_of(parts, count, "continuous=", 1.0),
                                       value_of(parts, count, "motor=", 1.0)};
    for (int i = 1; i < count; i++) {
        if (strncmp(parts[i], "load=", 5) == 0) {
            add_load(house, value_of(parts, count, "breaker=", 15.0), parts[i] + 5);
        }
    }
    fixture_finish(house);
    double at_v = value_of(parts, count, "at=", house->branches[0].voltage_v);
    bool panel = strcmp(ask, "neutral_a") == 0 || strncmp(ask, "leg_a_", 6) == 0;
    fixture_check(row, panel ? ask_panel(house, factors, ask) : ask_branch(house, at_v, factors, ask));
    house_free(house);
}

START_TEST(outside_values_of_currents)
{
    fixture_outside("current.tsv", 90, test_outside_row);
}
END_TEST

/* ------------------------------------------------------------------ a plain second way -------------------- */

enum { GROUPS = 3 };

/* The total of one choice: what is marked counts, the motor with the largest unit current takes the extra. */
static double plain_choice(const struct house *house, const bool *counted, struct planning_factors factors)
{
    double sum_a = 0.0;
    double largest_a = 0.0;
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *load = &house->appliances[i];
        bool motor = load->behaviour == BEHAVIOUR_MOTOR;
        double unit_a = load->power_w / load->power_factor / house->branches[0].voltage_v;
        double factor = load->continuous != 0 && !motor ? factors.continuous : 1.0;
        sum_a += counted[i] ? unit_a * load->count * factor : 0.0;
        largest_a = counted[i] && motor ? fmax(largest_a, unit_a) : largest_a;
    }
    return sum_a + (factors.largest_motor - 1.0) * largest_a;
}

/* True where of two choices that are as good this one has the load that comes first in the file. */
static bool plain_first(const bool *counted, const bool *other, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        if (counted[i] != other[i]) {
            return counted[i];
        }
    }
    return false;
}

/* Section 2 written down as plainly as it reads, for a set of loads that are on: every choice is tried. */
static double plain_planning(const struct house *house, const bool *on, struct planning_factors factors,
                             bool *ret_counted)
{
    size_t count = house->appliance_count;
    size_t member[GROUPS + 1] = {0};
    double best_a = -1.0;
    while (member[GROUPS] == 0) {
        bool counted[LOADS_MOST];
        bool allowed = true;
        for (size_t i = 0; i < count; i++) {
            size_t group = house->appliances[i].group_index;
            counted[i] = on[i] && (group == NO_INDEX || member[group] == i);
            /* a group with a member on counts one */
            allowed = allowed && (group == NO_INDEX || !on[i] ||
                                  (on[member[group]] && house->appliances[member[group]].group_index == group));
        }
        double sum_a = allowed ? plain_choice(house, counted, factors) : -1.0;
        bool tie = fabs(sum_a - best_a) <= 1e-9 * best_a;
        if (allowed && (tie ? plain_first(counted, ret_counted, count) : sum_a > best_a)) {
            best_a = sum_a;
            memcpy(ret_counted, counted, count * sizeof *counted);
        }
        size_t at = 0;
        while (at < GROUPS && ++member[at] == count) {
            member[at++] = 0;
        }
        member[GROUPS] += at == GROUPS;
    }
    return best_a;
}

/* A branch of random loads: few sizes, so that ties are common; groups, motors, continuous, counts, schedules. */
static struct house *random_branch(uint64_t *state, unsigned loads_most, bool scheduled, bool groups)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 120.0, 1, loads_most);
    fixture_branch(house, LEG_A, 20.0);
    unsigned count = 1 + fixture_random(state, loads_most);
    for (unsigned i = 0; i < count; i++) {
        struct appliance *load = fixture_appliance(house, 0, 120.0 * (1 + fixture_random(state, 5)));
        load->count = 1 + fixture_random(state, 3);
        load->continuous = fixture_random(state, 3) == 0;
        load->behaviour = (int)fixture_random(state, 3);
        load->power_factor = fixture_random(state, 2) == 0 ? 1.0 : 0.8;
        load->group_index = groups && fixture_random(state, 2) == 0 ? fixture_random(state, 3) : NO_INDEX;
        if (scheduled) {
            load->use = fixture_random_windows(house, state);
            load->days = fixture_random(state, 2) == 0 ? DAYS_ALL : 1 + fixture_random(state, DAYS_ALL);
            load->months = fixture_random(state, 2) == 0 ? MONTHS_ALL : 1 + fixture_random(state, MONTHS_ALL);
        }
    }
    fixture_finish(house);
    return house;
}

START_TEST(totals_follow_the_definition)
{
    uint64_t state = 1;
    for (int round = 0; round < 3000; round++) {
        struct house *house = random_branch(&state, 12, false, true);
        bool on[LOADS_MOST];
        bool counted[LOADS_MOST];
        unsigned units[LOADS_MOST];
        for (size_t i = 0; i < house->appliance_count; i++) {
            on[i] = fixture_random(&state, 4) != 0;
            units[i] = on[i] ? house->appliances[i].count : 0;
        }
        double want_a = plain_planning(house, on, us, counted);
        struct load loads[LOADS_MOST];
        struct branch_figures figures;
        branch_total(house, 0, units, 120.0, us, loads, &figures);
        assert_near(figures.planning_a, want_a, 1e-12);
        ck_assert(figures.current_a <= figures.planning_a);
        double complex sum_va = 0.0;
        double share = 0.0;
        double rows_a = 0.0;
        for (size_t i = 0; i < house->appliance_count; i++) {
            ck_assert_msg(loads[i].counted == counted[i], "round %d load %zu", round, i);
            share += loads[i].share;
            rows_a += loads[i].counted ? loads[i].planning_a : 0.0;
            double complex va = loads[i].draw.power_w + loads[i].draw.reactive_var * I;
            sum_va += loads[i].counted ? va : 0.0;
        }
        assert_near(figures.current_a, cabs(sum_va) / 120.0, 1e-12);
        assert_near(rows_a, want_a, 1e-12);
        assert_near(share, want_a > 0.0 ? 1.0 : 0.0, 1e-12);
        house_free(house);
    }
}
END_TEST

START_TEST(order_of_loads_does_not_matter)
{
    uint64_t state = 2;
    for (int round = 0; round < 500; round++) {
        bool grouped = round % 2 == 0; /* of choices as good the first in the file counts: other watts, same plan */
        struct house *house = random_branch(&state, 10, false, grouped);
        struct branch_figures before;
        branch_total(house, 0, NULL, 120.0, us, NULL, &before);
        for (size_t i = 0; i < house->appliance_count / 2; i++) {
            struct appliance held = house->appliances[i];
            house->appliances[i] = house->appliances[house->appliance_count - 1 - i];
            house->appliances[house->appliance_count - 1 - i] = held;
        }
        struct branch_figures after;
        branch_total(house, 0, NULL, 120.0, us, NULL, &after);
        ck_assert(grouped || fabs(after.current_a - before.current_a) <= 1e-12 * before.current_a);
        ck_assert(grouped || fabs(after.power_w - before.power_w) <= 1e-12 * before.power_w);
        assert_near(after.planning_a, before.planning_a, 1e-12);
        house_free(house);
    }
}
END_TEST

START_TEST(one_load_more_never_lowers_the_planning_current)
{
    uint64_t state = 3;
    for (int round = 0; round < 2000; round++) {
        bool grouped = round % 2 == 0;
        struct house *house = random_branch(&state, 10, false, grouped);
        unsigned units[LOADS_MOST] = {0};
        struct branch_figures before = {0};
        for (size_t i = 0; i < house->appliance_count; i++) {
            units[i] = house->appliances[i].count;
            struct branch_figures after;
            branch_total(house, 0, units, 120.0, us, NULL, &after);
            ck_assert(grouped || after.current_a >= before.current_a);
            ck_assert(after.planning_a >= before.planning_a * (1 - 1e-12));
            before = after;
        }
        house_free(house);
    }
}
END_TEST

START_TEST(equal_loads_share_equally)
{
    for (unsigned count = 1; count <= 40; count++) {
        struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 230.0, 1, count);
        fixture_branch(house, LEG_A, 16.0);
        for (unsigned i = 0; i < count; i++) {
            fixture_appliance(house, 0, 137.0);
        }
        fixture_finish(house);
        struct load loads[LOADS_MOST];
        struct branch_figures figures;
        branch_total(house, 0, NULL, 230.0, plain, loads, &figures);
        for (unsigned i = 0; i < count; i++) {
            assert_near(loads[i].share, 1.0 / count, 1e-14);
        }
        assert_near(figures.equivalent_ohm, 230.0 * 230.0 / 137.0 / count, 1e-12);
        house_free(house);
    }
}
END_TEST

START_TEST(nothing_on_is_zero_and_unknown)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 120.0, 1, 1);
    fixture_branch(house, LEG_A, 20.0);
    fixture_finish(house);
    struct branch_figures figures;
    branch_total(house, 0, NULL, 120.0, us, NULL, &figures);
    ck_assert(figures.current_a == 0.0 && figures.planning_a == 0.0 && figures.headroom_a == 20.0);
    ck_assert(isnan(figures.power_factor) && isnan(figures.equivalent_ohm));
    struct moment moment;
    branch_busiest(house, 0, 120.0, us, NULL, &moment, &figures);
    ck_assert_int_eq(moment.month, -1);
    house_free(house);
}
END_TEST

START_TEST(voltage_moves_impedance_and_leaves_power)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 230.0, 1, 2);
    fixture_branch(house, LEG_A, 16.0);
    fixture_appliance(house, 0, 3000.0);
    fixture_appliance(house, 0, 3000.0)->behaviour = BEHAVIOUR_ELECTRONIC;
    fixture_finish(house);
    struct load loads[2];
    struct branch_figures figures;
    branch_total(house, 0, NULL, 207.0, plain, loads, &figures);
    assert_near(loads[0].draw.power_w, 3000.0 * 0.81, 1e-12);
    assert_near(loads[0].current_a, 3000.0 / 230.0 * 0.9, 1e-12);
    assert_near(loads[1].draw.power_w, 3000.0, 1e-12);
    assert_near(loads[1].current_a, 3000.0 / 207.0, 1e-12);
    house_free(house);
}
END_TEST

START_TEST(three_poles_use_line_voltage)
{
    struct house *house = fixture_new(SYSTEM_THREE_PHASE, 230.0, 1, 3);
    fixture_branch(house, LEG_A | LEG_B | LEG_C, 16.0);
    fixture_appliance(house, 0, 6000.0);
    struct appliance *given = fixture_appliance(house, 0, 0.0);
    given->rating = RATING_CURRENT;
    given->current_a = 7.0;
    fixture_finish(house);
    struct load loads[3];
    struct branch_figures figures;
    branch_total(house, 0, NULL, house->branches[0].voltage_v, plain, loads, &figures);
    assert_near(loads[0].current_a, 6000.0 / 3.0 / 230.0, 1e-12);
    assert_near(loads[1].current_a, 7.0, 1e-12);
    assert_near(loads[1].draw.apparent_va, 3.0 * 230.0 * 7.0, 1e-12);
    assert_near(figures.equivalent_ohm, 3.0 * 230.0 * 230.0 / (6000.0 + 3.0 * 230.0 * 7.0), 1e-12);
    house_free(house);
}
END_TEST

/* Two motors and a group, so that each step's place in the order shows. */
START_TEST(steps_come_in_their_order)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 100.0, 1, 3);
    fixture_branch(house, LEG_A, 20.0);
    struct appliance *heat = fixture_appliance(house, 0, 1000.0); /* continuous: plans 12.5 A, 10 A on the meter */
    struct appliance *cool = fixture_appliance(house, 0, 1010.0);
    struct appliance *fan = fixture_appliance(house, 0, 300.0);
    heat->group_index = cool->group_index = 0;
    heat->continuous = 1;
    cool->behaviour = fan->behaviour = BEHAVIOUR_MOTOR;
    fixture_finish(house);
    struct load loads[3];
    struct branch_figures figures;
    branch_total(house, 0, NULL, 100.0, us, loads, &figures);
    ck_assert(loads[0].counted && !loads[1].counted && loads[2].counted);
    assert_near(figures.current_a, 13.0, 1e-12);
    assert_near(figures.planning_a, 12.5 + 3.0 * 1.25, 1e-12);
    assert_near(loads[1].planning_a, 10.1, 1e-12); /* as step 1 leaves it */
    ck_assert(loads[1].share == 0.0 && loads[2].largest_motor);
    fan->continuous = 1; /* no continuous factor on a motor */
    branch_total(house, 0, NULL, 100.0, us, loads, &figures);
    assert_near(figures.planning_a, 12.5 + 3.0 * 1.25, 1e-12);
    heat->power_w = 900.0; /* 11.25 A, and 12.625 A with the cooler's own extra: the fan goes without */
    branch_total(house, 0, NULL, 100.0, us, loads, &figures);
    ck_assert(!loads[0].counted && loads[1].counted && loads[1].largest_motor && !loads[2].largest_motor);
    assert_near(figures.planning_a, 10.1 * 1.25 + 3.0, 1e-12);
    house_free(house);
}
END_TEST

/* The contract's own example: a 13 A motor (16.25 A with its extra) counts before a 13.5 A heater of its group. */
START_TEST(a_motor_counts_before_a_larger_heater_of_its_group)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 100.0, 1, 3);
    fixture_branch(house, LEG_A, 15.0);
    fixture_appliance(house, 0, 1350.0)->group_index = 0;
    struct appliance *fan = fixture_appliance(house, 0, 1300.0);
    fan->behaviour = BEHAVIOUR_MOTOR;
    fan->group_index = 0;
    fixture_finish(house);
    struct load loads[3];
    struct branch_figures figures;
    branch_total(house, 0, NULL, 100.0, us, loads, &figures);
    assert_near(figures.planning_a, 16.25, 1e-12);
    assert_near(figures.current_a, 13.0, 1e-12);
    ck_assert(loads[1].counted && !loads[0].counted && loads[0].share == 0.0);
    struct panel_figures panel;
    panels_total(house, NULL, us, &panel);
    assert_near(panel.leg_planning_a[0], 16.25, 1e-12);
    assert_near(panel.leg_current_a[0], 13.0, 1e-12);
    branch_total(house, 0, NULL, 100.0, plain, loads, &figures); /* no such factor: the larger of the two */
    assert_near(figures.planning_a, 13.5, 1e-12);
    house_free(house);
}
END_TEST

START_TEST(one_unit_gets_the_motor_factor)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 100.0, 1, 2);
    fixture_branch(house, LEG_A, 20.0);
    struct appliance *pumps = fixture_appliance(house, 0, 400.0);
    pumps->behaviour = BEHAVIOUR_MOTOR;
    pumps->count = 3;
    fixture_appliance(house, 0, 500.0)->behaviour = BEHAVIOUR_ELECTRONIC;
    fixture_finish(house);
    struct load loads[2];
    struct branch_figures figures;
    branch_total(house, 0, NULL, 100.0, us, loads, &figures);
    assert_near(figures.planning_a, 3 * 4.0 + 0.25 * 4.0 + 5.0, 1e-12);
    unsigned units[2] = {2, 0};
    branch_total(house, 0, units, 100.0, us, loads, &figures);
    assert_near(figures.planning_a, 2 * 4.0 + 0.25 * 4.0, 1e-12);
    ck_assert(loads[1].units == 0 && !loads[1].counted);
    house_free(house);
}
END_TEST

START_TEST(a_scene_names_its_units)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 100.0, 1, 3);
    fixture_branch(house, LEG_A, 20.0);
    for (unsigned i = 0; i < 3; i++) {
        fixture_appliance(house, 0, 100.0)->count = 2 + i;
    }
    fixture_finish(house);
    struct scene_member members[] = {{.appliance = 2, .units = 3}, {.appliance = 0, .units = 0}};
    struct scene scene = {.on = {.member = members, .count = 2}};
    unsigned units[3] = {9, 9, 9};
    scene_units_on(house, &scene, units);
    ck_assert(units[0] == 2 && units[1] == 0 && units[2] == 3);
    house_free(house);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("current");
    TCase *tests = tcase_create("current");
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, outside_values_of_currents);
    tcase_add_test(tests, totals_follow_the_definition);
    tcase_add_test(tests, order_of_loads_does_not_matter);
    tcase_add_test(tests, one_load_more_never_lowers_the_planning_current);
    tcase_add_test(tests, equal_loads_share_equally);
    tcase_add_test(tests, nothing_on_is_zero_and_unknown);
    tcase_add_test(tests, voltage_moves_impedance_and_leaves_power);
    tcase_add_test(tests, three_poles_use_line_voltage);
    tcase_add_test(tests, steps_come_in_their_order);
    tcase_add_test(tests, a_motor_counts_before_a_larger_heater_of_its_group);
    tcase_add_test(tests, one_unit_gets_the_motor_factor);
    tcase_add_test(tests, a_scene_names_its_units);
    suite_add_tcase(suite, tests);
    return suite;
}
