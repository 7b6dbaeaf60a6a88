/* From the house to the network: where loads hang, what a ring is when it breaks, the year's loss, published values. */
#include "ampsum/wiring.h"

#include <complex.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/reference.h"
#include "fixture.h"
#include "runner.h"

enum { OUTLETS_MOST = 40, PARTS_MOST = 12 };

static const struct planning_factors no_factors = {1, 1};

/* A house of one branch; outlets and appliances are added by the next two. */
static struct house *house_of(double voltage_v, unsigned legs, double length_m)
{
    struct house *house = fixture_new(legs == 7 ? SYSTEM_THREE_PHASE : SYSTEM_SINGLE_PHASE, voltage_v, 1, 64);
    struct branch *branch = fixture_branch(house, legs, 20);
    branch->length_m = length_m;
    branch->return_m = (double)NAN;
    branch->outlets.index = arena_array(house->arena, OUTLETS_MOST, sizeof(size_t));
    house->outlets = arena_array(house->arena, OUTLETS_MOST, sizeof *house->outlets);
    return house;
}

static size_t add_outlet(struct house *house, size_t from, double run_m)
{
    struct branch *branch = &house->branches[0];
    const size_t index = house->outlet_count++;
    house->outlets[index] = (struct outlet){.id = "o", .room = NO_INDEX, .from = from, .run_m = run_m};
    branch->outlets.index[branch->outlets.count++] = index;
    return index;
}

static struct appliance *add_load(struct house *house, size_t outlet, double power_w, int behaviour)
{
    struct appliance *appliance = fixture_appliance(house, 0, power_w);
    appliance->outlet = outlet;
    appliance->behaviour = behaviour;
    appliance->start_factor = 6;
    return appliance;
}

/* Everything on, solved at nominal. */
static struct wiring wired(const struct house *house, double ohm_per_km)
{
    struct wiring wiring;
    struct load loads[64];
    struct branch_figures figures;
    ck_assert(wiring_init(&wiring, house, 0, ohm_per_km));
    branch_total(house, 0, NULL, house->branches[0].voltage_v, no_factors, loads, &figures);
    wiring_load_counted(&wiring, loads);
    ck_assert(wiring_solve(&wiring, 1));
    return wiring;
}

START_TEST(end_of_a_run_is_the_divider)
{
    struct house *house = house_of(120, LEG_A, 50);
    add_load(house, NO_INDEX, 1440, BEHAVIOUR_RESISTIVE); /* 10 ohm */
    fixture_finish(house);
    struct wiring wiring = wired(house, 5); /* 0.25 ohm out, as much back */
    ck_assert_uint_eq(wiring.node_count, 2);
    ck_assert_double_eq_tol(wiring_voltage_v(&wiring, 1), 120 * 10 / 10.5, 1e-12);
    ck_assert_double_eq_tol(wiring_drop_percent(&wiring, 1), 100 * 0.5 / 10.5, 1e-12);
    ck_assert_double_eq_tol(wiring_drop_by_segments_percent(&wiring, 1), 100 * 0.5 / 10.5, 1e-12);
    ck_assert_double_eq_tol(wiring_current_a(&wiring, 1), 120 / 10.5, 1e-12);
    ck_assert_double_eq_tol(wiring_loss_w(&wiring), 0.5 * pow(120 / 10.5, 2), 1e-10);
    ck_assert_uint_eq(wiring_node(&wiring, NO_INDEX), 1);
    ck_assert(wiring_solve(&wiring, 1.1));
    ck_assert_double_eq_tol(wiring_drop_percent(&wiring, 1), 110 * 0.5 / 10.5, 1e-12);
    wiring_done(&wiring);
    house_free(house);
}
END_TEST

START_TEST(two_poles_count_two_conductors)
{
    struct house *house = house_of(230, LEG_A | LEG_B, 50);
    add_load(house, NO_INDEX, 5290, BEHAVIOUR_RESISTIVE); /* 10 ohm at 230 V */
    fixture_finish(house);
    struct wiring wiring = wired(house, 5);
    ck_assert_double_eq_tol(wiring_voltage_v(&wiring, 1), 230 * 10 / 10.5, 1e-12);
    wiring_done(&wiring);
    house_free(house);
}
END_TEST

/* 3 phases: each line 0.25 ohm into a star of R = V^2 / P, whatever the behaviour draws in balance. */
START_TEST(three_poles_are_solved_line_to_neutral)
{
    struct house *house = house_of(230, LEG_A | LEG_B | LEG_C, 50);
    const double line_v = 230 * sqrt(3);
    const double star_ohm = 20;
    add_load(house, NO_INDEX, line_v * line_v / star_ohm, BEHAVIOUR_RESISTIVE);
    fixture_finish(house);
    struct wiring wiring = wired(house, 5);
    const double line_a = 230 / (star_ohm + 0.25);
    ck_assert_double_eq_tol(wiring_current_a(&wiring, 1), line_a, 1e-12);
    ck_assert_double_eq_tol(wiring_voltage_v(&wiring, 1), line_v * star_ohm / (star_ohm + 0.25), 1e-10);
    ck_assert_double_eq_tol(wiring_drop_percent(&wiring, 1), 100 * 0.25 / (star_ohm + 0.25), 1e-12);
    ck_assert_double_eq_tol(wiring_loss_w(&wiring), 3 * 0.25 * line_a * line_a, 1e-9);
    ck_assert_double_eq_tol(wiring_segment_loss_w(&wiring, 1), 3 * 0.25 * line_a * line_a, 1e-9);
    house->appliances[0].behaviour = BEHAVIOUR_ELECTRONIC;
    wiring_done(&wiring);
    wiring = wired(house, 5);
    const double v = wiring_voltage_v(&wiring, 1) / sqrt(3);
    ck_assert_double_eq_tol(3 * v * wiring_current_a(&wiring, 1), house->appliances[0].power_w, 1e-7);
    wiring_done(&wiring);
    house_free(house);
}
END_TEST

/*
 * Two halves of R ohm each from a line to the neutral over three conductors of r ohm: node voltages solved by hand.
 * With V = 1 at lines A and B, a third of a turn apart, and g = 1 / (r + R): the neutral's end stands at
 * U = g (Va + Vb) / (2 g + 1 / r), the halves at Va' = U + R g (Va - U).
 */
START_TEST(two_lines_and_the_neutral_are_one_loop)
{
    struct house *house = house_of(230, LEG_A | LEG_B | LEG_C, 20);
    house->branches[0].legs = LEG_A | LEG_B;
    house->branches[0].poles = 2;
    add_load(house, NO_INDEX, 7200, BEHAVIOUR_RESISTIVE)->connected = CONNECTION_2L_N;
    fixture_finish(house);
    const double ohm_per_km = 8.0;
    struct wiring wiring = wired(house, ohm_per_km);
    const double line_ohm = ohm_per_km * 0.02;
    const double half_ohm = 230.0 * 230.0 / 3600;
    const double complex a = 230;
    const double complex b = 230 * cexp(-I * 2 * acos(-1.0) / 3);
    const double g = 1 / (line_ohm + half_ohm);
    const double complex u = g * (a + b) / (2 * g + 1 / line_ohm);
    const double complex line_a = g * (a - u);
    const double drop_percent = 100 * (230 - cabs(half_ohm * line_a)) / 230;
    const double loss_w = line_ohm * (2 * cabs(line_a) * cabs(line_a) + cabs(u / line_ohm) * cabs(u / line_ohm));
    /* what the neutral shifts out of step is left out: a hair more drop, never less */
    ck_assert_double_ge(wiring_drop_percent(&wiring, 1), drop_percent);
    ck_assert_double_le(wiring_drop_percent(&wiring, 1), 1.01 * drop_percent);
    ck_assert_double_eq_tol(wiring_current_a(&wiring, 1), cabs(line_a), 0.01 * cabs(line_a));
    ck_assert_double_ge(wiring_loss_w(&wiring), loss_w);
    ck_assert_double_le(wiring_loss_w(&wiring), 1.015 * loss_w);
    wiring_done(&wiring);
    house_free(house);
}
END_TEST

/* The same tree with its outlets in two orders of the file, children before parents in one of them. */
START_TEST(order_of_the_file_does_not_matter)
{
    static const size_t from[] = {NO_INDEX, 0, 0, 1, 3, 2, NO_INDEX};
    enum { COUNT = 7 };
    struct house *one = house_of(230, LEG_A, (double)NAN);
    struct house *other = house_of(230, LEG_A, (double)NAN);
    for (size_t i = 0; i < COUNT; i++) {
        add_outlet(one, from[i], 3.5 + (double)i);
        add_load(one, i, 100.0 + 40 * (double)i, i % 2 == 0 ? BEHAVIOUR_RESISTIVE : BEHAVIOUR_ELECTRONIC);
    }
    for (size_t i = 0; i < COUNT; i++) {
        const size_t was = COUNT - 1 - i;
        add_outlet(other, from[was] == NO_INDEX ? NO_INDEX : COUNT - 1 - from[was], 3.5 + (double)was);
        add_load(other, i, one->appliances[was].power_w, one->appliances[was].behaviour);
    }
    fixture_finish(one);
    fixture_finish(other);
    struct wiring a = wired(one, 10);
    struct wiring b = wired(other, 10);
    for (size_t i = 0; i < COUNT; i++) {
        const size_t node = wiring_node(&a, i);
        const size_t other_node = wiring_node(&b, COUNT - 1 - i);
        ck_assert_uint_lt(a.parent[node], node);
        ck_assert_uint_lt(b.parent[other_node], other_node);
        ck_assert_double_eq_tol(wiring_voltage_v(&a, node), wiring_voltage_v(&b, other_node), 1e-10);
        ck_assert_double_eq_tol(wiring_current_a(&a, node), wiring_current_a(&b, other_node), 1e-10);
        ck_assert_double_eq_tol(wiring_drop_by_segments_percent(&a, node), wiring_drop_percent(&a, node), 1e-10);
    }
    wiring_done(&a);
    wiring_done(&b);
    house_free(one);
    house_free(other);
}
END_TEST

START_TEST(loads_without_outlet_hang_at_the_longest_path)
{
    struct house *house = house_of(230, LEG_A, (double)NAN);
    add_outlet(house, NO_INDEX, 10);
    add_outlet(house, 0, 8);         /* 18 m */
    add_outlet(house, NO_INDEX, 18); /* 18 m too, later in the file */
    add_outlet(house, 1, 0);         /* 18 m again */
    add_load(house, NO_INDEX, 2300, BEHAVIOUR_RESISTIVE);
    fixture_finish(house);
    struct wiring wiring = wired(house, 10);
    ck_assert_double_gt(wiring_current_a(&wiring, wiring_node(&wiring, 1)), 1);
    ck_assert_double_eq(wiring_current_a(&wiring, wiring_node(&wiring, 2)), 0);
    ck_assert_double_eq(wiring_current_a(&wiring, wiring_node(&wiring, 3)), 0);
    wiring_done(&wiring);
    house_free(house);
}
END_TEST

START_TEST(without_wire_or_length_nothing_is_solved)
{
    struct wiring wiring;
    struct house *house = house_of(230, LEG_A, (double)NAN);
    fixture_finish(house);
    ck_assert(!wiring_init(&wiring, house, 0, 10));
    house->branches[0].length_m = 20;
    ck_assert(!wiring_init(&wiring, house, 0, (double)NAN));
    ck_assert(wiring_init(&wiring, house, 0, 10));
    wiring_done(&wiring);
    house->branches[0].layout = LAYOUT_RING;
    ck_assert(!wiring_init(&wiring, house, 0, 10));
    add_outlet(house, NO_INDEX, (double)NAN);
    house->branches[0].layout = LAYOUT_RADIAL;
    ck_assert(!wiring_init(&wiring, house, 0, 10));
    house_free(house);
}
END_TEST

START_TEST(groups_and_units_reach_the_network)
{
    struct house *house = house_of(230, LEG_A, 30);
    add_load(house, NO_INDEX, 1000, BEHAVIOUR_RESISTIVE)->group_index = 0;
    add_load(house, NO_INDEX, 700, BEHAVIOUR_RESISTIVE)->group_index = 0;
    add_load(house, NO_INDEX, 200, BEHAVIOUR_ELECTRONIC)->count = 3;
    fixture_finish(house);
    struct wiring wiring = wired(house, 5);
    const double v = wiring_voltage_v(&wiring, 1);
    ck_assert_double_eq_tol(wiring_current_a(&wiring, 1), 1000 * v / 230 / 230 + 600 / v, 1e-9);
    wiring_done(&wiring);
    house_free(house);
}
END_TEST

static struct house *ring_house(void)
{
    struct house *house = house_of(230, LEG_A, (double)NAN);
    for (size_t i = 0; i < 5; i++) {
        add_outlet(house, i == 0 ? NO_INDEX : i - 1, 5 + 3 * (double)i);
        add_load(house, i, 500 + 300 * (double)i, i % 2 == 0 ? BEHAVIOUR_RESISTIVE : BEHAVIOUR_ELECTRONIC);
    }
    house->branches[0].layout = LAYOUT_RING;
    house->branches[0].return_m = 12;
    fixture_finish(house);
    return house;
}

/* Broken anywhere, a ring is two chains: nothing flows in the broken segment, and the worst drop grows. */
START_TEST(broken_ring_is_two_chains)
{
    struct house *house = ring_house();
    struct wiring ring = wired(house, 9);
    const double drop_percent = wiring_worst_drop_percent(&ring);
    double worst_percent = 0;
    for (size_t segment = 1; segment <= ring.node_count; segment++) {
        struct wiring open;
        wiring_break(&ring, segment, &open);
        ck_assert(wiring_solve(&open, 1));
        size_t at_panel = 0;
        double cable_m = 0;
        for (size_t k = 1; k < open.node_count; k++) {
            at_panel += open.parent[k] == 0;
            cable_m += open.length_m[k];
        }
        const double broken_m = segment == ring.node_count ? 12 : ring.length_m[segment];
        ck_assert_double_eq_tol(cable_m, 5 + 8 + 11 + 14 + 17 + 12 - broken_m, 1e-12);
        ck_assert_uint_eq(at_panel, segment == 1 || segment == ring.node_count ? 1 : 2);
        if (segment < ring.node_count) {
            /* the outlet beyond the break is now fed from the other side */
            ck_assert_uint_ne(open.outlet[wiring_from(&open, wiring_node(&open, segment - 1))], segment - 2);
        }
        worst_percent = fmax(worst_percent, wiring_worst_drop_percent(&open));
        ck_assert_double_ge(wiring_largest_current_a(&open), wiring_largest_current_a(&ring) - 1e-9);
        wiring_done(&open);
    }
    ck_assert_double_gt(worst_percent, 2 * drop_percent);
    wiring_done(&ring);
    house_free(house);
}
END_TEST

START_TEST(scaling_lengths_and_wire_leaves_results)
{
    struct house *house = ring_house();
    struct wiring before = wired(house, 9);
    for (size_t i = 0; i < house->outlet_count; i++) {
        house->outlets[i].run_m /= 4;
    }
    house->branches[0].return_m /= 4;
    struct wiring after = wired(house, 36);
    for (size_t k = 1; k < before.node_count; k++) {
        ck_assert_double_eq_tol(wiring_voltage_v(&before, k), wiring_voltage_v(&after, k), 1e-10);
    }
    ck_assert_double_eq_tol(wiring_loss_w(&before), wiring_loss_w(&after), 1e-9);
    wiring_done(&before);
    wiring_done(&after);
    house_free(house);
}
END_TEST

/* Vr / (k I) at the stated power factor, in parallel with the lamp, behind the wire. */
START_TEST(starting_motor_is_its_locked_rotor_impedance)
{
    struct house *house = house_of(120, LEG_A, 25);
    add_load(house, NO_INDEX, 60, BEHAVIOUR_RESISTIVE);
    struct appliance *motor = add_load(house, NO_INDEX, 800, BEHAVIOUR_MOTOR);
    motor->power_factor = 0.8;
    motor->start_factor = 5;
    fixture_finish(house);
    struct wiring wiring = wired(house, 5); /* 0.25 ohm */
    const double running_v = wiring_voltage_v(&wiring, 1);
    const double units[] = {1, 0};
    wiring_load(&wiring, units);
    wiring_start(&wiring, 1, 0.3);
    ck_assert(wiring_solve(&wiring, 1));
    const double siemens = 5 * (800 / 0.8) / 120 / 120;
    const double re = 1 + 0.25 * (60.0 / 120 / 120 + siemens * 0.3);
    const double im = 0.25 * siemens * sqrt(1 - 0.09);
    ck_assert_double_eq_tol(wiring_voltage_v(&wiring, 1), 120 / hypot(re, im), 1e-10);
    ck_assert_double_lt(wiring_voltage_v(&wiring, 1), running_v);
    wiring_done(&wiring);
    house_free(house);
}
END_TEST

START_TEST(load_that_cannot_be_fed_has_no_figures)
{
    struct house *house = house_of(120, LEG_A, 100);
    add_load(house, NO_INDEX, 5000, BEHAVIOUR_ELECTRONIC); /* 1 ohm feeds 3,600 W at most */
    fixture_finish(house);
    struct wiring wiring;
    struct load loads[1];
    struct branch_figures figures;
    ck_assert(wiring_init(&wiring, house, 0, 5));
    branch_total(house, 0, NULL, 120, no_factors, loads, &figures);
    wiring_load_counted(&wiring, loads);
    ck_assert(!wiring_solve(&wiring, 1));
    ck_assert(!isfinite(wiring_voltage_v(&wiring, 1)) && !isfinite(wiring_loss_w(&wiring)));
    wiring_done(&wiring);
    house_free(house);
}
END_TEST

/* One resistive load: drop d of nominal is reached at R = Rload d / (1 - d). */
START_TEST(longest_run_is_the_closed_form)
{
    struct house *house = house_of(230, LEG_A, 20);
    add_load(house, NO_INDEX, 2300, BEHAVIOUR_RESISTIVE); /* 23 ohm */
    fixture_finish(house);
    struct wiring wiring = wired(house, 5);
    const double loop_ohm = 23 * 0.03 / 0.97;
    ck_assert_double_eq_tol(wiring_longest_m(&wiring, 7.5, 3), loop_ohm / 2 / 7.5 * 1000, 1e-8);
    const double none[] = {0};
    wiring_load(&wiring, none);
    ck_assert(isnan(wiring_longest_m(&wiring, 7.5, 3)));
    wiring_done(&wiring);
    house_free(house);
}
END_TEST

START_TEST(year_of_one_appliance_is_its_hours)
{
    struct house *house = house_of(230, LEG_A, 40);
    struct appliance *heater = add_load(house, NO_INDEX, 2300, BEHAVIOUR_RESISTIVE);
    heater->use = fixture_windows(house, "22:00-02:00,06:30-07:30");
    heater->on_time_s = 5 * 3600;
    fixture_finish(house);
    struct wiring wiring = wired(house, 5);
    /* 365 days of 5 h; what runs past 31 December is not counted, what runs in before 1 January is */
    const double loss_kwh = wiring_loss_w(&wiring) * 365 * 5 / 1000;
    ck_assert_double_eq_tol(wiring_loss_kwh_year(&wiring), loss_kwh, 1e-9 * loss_kwh);
    wiring_done(&wiring);
    house->appliances[0].days = DAYS_WEEKEND;
    house->appliances[0].months = 1; /* January: Saturdays 6, 13, 20, 27, Sundays 7, 14, 21, 28; none before the 1st */
    wiring = wired(house, 5);
    const double january_kwh = wiring_loss_w(&wiring) * 8 * 5 / 1000;
    ck_assert_double_eq_tol(wiring_loss_kwh_year(&wiring), january_kwh, 1e-9 * january_kwh);
    wiring_done(&wiring);
    house_free(house);
}
END_TEST

/* Half its time, or half its windows: the mean current squared and what cycling adds make half the full loss again. */
START_TEST(cycling_loses_its_share_of_the_full_loss)
{
    struct house *house = house_of(230, LEG_A, 1); /* so short that the loss is a square to 1e-3 */
    struct appliance *heater = add_load(house, NO_INDEX, 2300, BEHAVIOUR_RESISTIVE);
    heater->on_time_s = 6 * 3600; /* of the 24 hours of its days */
    heater->duty_percent = _i == 0 ? 100 : 40;
    fixture_finish(house);
    struct wiring wiring = wired(house, 5);
    const double share = 0.25 * heater->duty_percent / 100;
    const double loss_kwh = wiring_loss_w(&wiring) * 365 * 24 * share / 1000;
    ck_assert_double_eq_tol(wiring_loss_kwh_year(&wiring), loss_kwh, 1e-3 * loss_kwh);
    wiring_done(&wiring);
    house_free(house);
}
END_TEST

/* Two loads that overlap: (a + b)^2 while both are on, minute by minute. */
START_TEST(year_of_two_appliances_is_the_sum_over_minutes)
{
    struct house *house = house_of(230, LEG_A, 30);
    uint64_t state = 9;
    for (int i = 0; i < 4; i++) {
        struct appliance *appliance = add_load(house, NO_INDEX, 300 + 400.0 * i, BEHAVIOUR_ELECTRONIC);
        appliance->use = fixture_windows(house, i % 2 == 0 ? "07:00-09:30,18:00-23:15" : "08:10-08:50,19:00-01:30");
        appliance->on_time_s = i % 2 == 0 ? 7.75 * 3600 : (40 + 390) * 60.0;
        appliance->days = fixture_random(&state, 127) + 1;
        appliance->months = fixture_random(&state, 4095) + 1;
    }
    fixture_finish(house);
    struct wiring wiring = wired(house, 5);
    const double year_kwh = wiring_loss_kwh_year(&wiring);
    double sum_kwh = 0;
    double units[4];
    static const int days[MONTHS_IN_YEAR] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    double known[16] = {0};
    int month = 0, day_of_month = 0;
    for (int day = 0; day < 365; day++) {
        const int before = day_of_month > 0 ? month : (month + 11) % 12;
        for (int minute = 0; minute < MINUTES_IN_DAY; minute++) {
            unsigned set = 0;
            for (unsigned i = 0; i < 4; i++) {
                const struct appliance *appliance = &house->appliances[i];
                const bool today = (appliance->months >> month & 1U) != 0 && (appliance->days >> day % 7 & 1U) != 0;
                const bool ran_in = (appliance->months >> before & 1U) != 0 &&
                                    (appliance->days >> (day + 6) % 7 & 1U) != 0 && i % 2 == 1 && minute < 90;
                const bool on = i % 2 == 0 ? (minute >= 420 && minute < 570) || (minute >= 1080 && minute < 1395)
                                           : (minute >= 490 && minute < 530) || minute >= 1140;
                set |= (today && on) || ran_in ? 1U << i : 0;
                units[i] = (set >> i & 1U) != 0 ? 1 : 0;
            }
            if (set != 0 && !(known[set] > 0)) {
                wiring_load(&wiring, units);
                ck_assert(wiring_solve(&wiring, 1));
                known[set] = wiring_loss_w(&wiring);
            }
            sum_kwh += known[set] / 60000;
        }
        day_of_month = (day_of_month + 1) % days[month];
        month += day_of_month == 0;
    }
    ck_assert_double_gt(sum_kwh, 0);
    ck_assert_double_eq_tol(year_kwh, sum_kwh, 1e-9 * sum_kwh);
    wiring_done(&wiring);
    house_free(house);
}
END_TEST

START_TEST(feeder_adds_the_neutral_to_its_worst_leg)
{
    struct house *house = fixture_new(SYSTEM_SPLIT_PHASE, 120, 1, 1);
    const size_t panel = fixture_panel(house, 0, LEG_A | LEG_B);
    house->panels[panel].length_m = 30;
    const struct panel_figures figures = {.leg_current_a = {40, 25, 0}, .neutral_a = 15};
    ck_assert_double_eq(feeder_current_a(&figures), 40);
    ck_assert_double_eq_tol(feeder_drop_percent(house, panel, &figures, 2), 100 * (40 + 15) * 0.06 / 120, 1e-12);
    ck_assert(isnan(feeder_drop_percent(house, panel, &figures, (double)NAN)));
    ck_assert(isnan(feeder_drop_percent(house, 0, &figures, 2)));
    house->panels[panel].length_m = (double)NAN;
    ck_assert(isnan(feeder_drop_percent(house, panel, &figures, 2)));
    house_free(house);
}
END_TEST

START_TEST(chain_of_many_outlets_is_numbered_without_recursion)
{
    enum { MANY = 100000 };
    struct house *house = house_of(230, LEG_A, (double)NAN);
    house->outlets = arena_array(house->arena, MANY, sizeof *house->outlets);
    house->branches[0].outlets.index = arena_array(house->arena, MANY, sizeof(size_t));
    for (size_t i = 0; i < MANY; i++) {
        add_outlet(house, i == MANY - 1 ? NO_INDEX : i + 1, 0.0005); /* each hangs on the next of the file */
    }
    add_load(house, 0, 2300, BEHAVIOUR_RESISTIVE);
    fixture_finish(house);
    struct wiring wiring = wired(house, 10);
    ck_assert_uint_eq(wiring_node(&wiring, 0), MANY);
    ck_assert_double_eq_tol(wiring_voltage_v(&wiring, MANY), 230 * 23.0 / 24, 1e-8);
    wiring_done(&wiring);
    house_free(house);
}
END_TEST

/* ------------------------------------------------------------------ published values ---------------------- */

static double value_of(char *const *parts, int count, const char *key)
{
    for (int i = 0; i < count; i++) {
        const size_t length = strlen(key);
        if (strncmp(parts[i], key, length) == 0 && parts[i][length] == '=') {
            return strtod(parts[i] + length + 1, NULL);
        }
    }
    return (double)NAN;
}

static const char *word_of(char *const *parts, int count, const char *key)
{
    for (int i = 0; i < count; i++) {
        const size_t length = strlen(key);
        if (strncmp(parts[i], key, length) == 0 && parts[i][length] == '=') {
            return parts[i] + length + 1;
        }
    }
    return "";
}

static double run_ohm_per_km(char **parts, int count)
{
    char size[32] = {0};
    const double rho = value_of(parts, count, "rho");
    if (!isnan(rho)) {
        return 1000 * rho / value_of(parts, count, "mm2");
    }
    strncpy(size, word_of(parts, count, "size"), sizeof size - 1);
    if (size[0] == '\0') {
        return value_of(parts, count, "ohm_per_km");
    }
    *strchr(size, '_') = ' ';
    const struct ref_conductor *conductor = reference_conductor(size, "copper");
    ck_assert_ptr_nonnull(conductor);
    return reference_resistance_ohm_per_km(conductor, value_of(parts, count, "temp"));
}

static void check_run(const struct outside *row, char **parts, int count)
{
    const double drop_v =
        wire_drop_v(value_of(parts, count, "amps"), value_of(parts, count, "metres"), run_ohm_per_km(parts, count));
    const bool percent = strcmp(word_of(parts, count, "ask"), "drop_percent") == 0;
    fixture_check(row, percent ? 100 * drop_v / value_of(parts, count, "volts") : drop_v);
}

/* One segment; loads at its end. */
static void check_circuit(const struct outside *row, char **parts, int count)
{
    const double volts = value_of(parts, count, "volts");
    double wire_ohm = value_of(parts, count, "wire");
    const double alpha = value_of(parts, count, "alpha");
    const double total_a = value_of(parts, count, "total");
    const char *ask = word_of(parts, count, "ask");
    double siemens[PARTS_MOST], sum_s = 0;
    int loads = 0;
    if (!isnan(alpha)) {
        const struct ref_conductor wire = {
            .resistance_ohm_per_km = wire_ohm, .reference_temp_c = 20, .alpha_per_k = alpha};
        wire_ohm = reference_resistance_ohm_per_km(&wire, value_of(parts, count, "temp"));
    }
    for (int i = 0; i < count; i++) {
        if (strncmp(parts[i], "load=", 5) == 0) {
            char *unit = NULL;
            const double amount = strtod(parts[i] + 5, &unit);
            siemens[loads] = strcmp(unit, "ohm") == 0 ? 1 / amount : amount / volts / volts;
            sum_s += siemens[loads++];
        }
    }
    /* what all draw together is known: the rest is a load of that much power */
    const double end_v = volts - wire_ohm * total_a;
    const double rest_w = isnan(total_a) ? 0 : end_v * (total_a - sum_s * end_v);
    const size_t parent[2] = {0, 0};
    const double ohm[2] = {0, wire_ohm}, g[2] = {0, sum_s}, none[2] = {0, 0}, p[2] = {0, rest_w};
    double re[2], im[2], current_re[2], current_im[2], scratch[64];
    ck_assert_uint_le(wire_scratch_count(2), 64);
    const struct wire_network network = {2, parent, ohm, volts, (double)NAN, g, none, p, none};
    struct wire_solution solution = {
        .voltage_re = re, .voltage_im = im, .current_re = current_re, .current_im = current_im};
    wire_solve(&network, scratch, &solution);
    ck_assert_msg(solution.solved, "%s", row->id);
    const int number = ask[strlen(ask) - 1] - '0'; /* of load_a_1, load_w_2 */
    if (strcmp(ask, "wire_v") == 0 || strcmp(ask, "half_wire_v") == 0) {
        fixture_check(row, (volts - re[1]) / (ask[0] == 'h' ? 2 : 1));
    } else if (strcmp(ask, "load_v") == 0) {
        fixture_check(row, re[1]);
    } else if (strcmp(ask, "source_a") == 0) {
        fixture_check(row, current_re[1]);
    } else if (strcmp(ask, "total_ohm") == 0) {
        fixture_check(row, volts / current_re[1]);
    } else if (strcmp(ask, "loss_w") == 0) {
        fixture_check(row, solution.loss_w);
    } else if (strcmp(ask, "rest_w") == 0) {
        fixture_check(row, re[1] * current_re[1] - sum_s * re[1] * re[1]);
    } else if (strncmp(ask, "load_a_", 7) == 0) {
        fixture_check(row, siemens[number - 1] * re[1]);
    } else {
        ck_assert_msg(strncmp(ask, "load_w_", 7) == 0, "%s: %s", row->id, ask);
        fixture_check(row, siemens[number - 1] * re[1] * re[1]);
    }
}

/* A load that draws just these amperes once the limit is reached. */
static void check_longest(const struct outside *row, char **parts, int count)
{
    const double volts = value_of(parts, count, "volts");
    const double percent = value_of(parts, count, "percent");
    const double pf = value_of(parts, count, "pf");
    struct house *house = house_of(volts, LEG_A, 10);
    struct appliance *load = add_load(house, NO_INDEX, 0, BEHAVIOUR_ELECTRONIC);
    load->power_w = value_of(parts, count, "amps") * volts * (1 - percent / 100) * pf;
    load->power_factor = pf;
    fixture_finish(house);
    const double ohm_per_km = run_ohm_per_km(parts, count);
    struct wiring wiring = wired(house, ohm_per_km);
    fixture_check(row, wiring_longest_m(&wiring, ohm_per_km, percent));
    wiring_done(&wiring);
    house_free(house);
}

/* Millivolts that an ampere drops along a metre of a branch, line to line on three poles. */
static void check_millivolts(const struct outside *row, char **parts, int count)
{
    const bool three = value_of(parts, count, "poles") > 2;
    struct house *house = house_of(230, three ? LEG_A | LEG_B | LEG_C : LEG_A, 30);
    add_load(house, NO_INDEX, 3000, BEHAVIOUR_RESISTIVE);
    fixture_finish(house);
    struct wiring wiring = wired(house, run_ohm_per_km(parts, count));
    const double drop_v = house->branches[0].voltage_v - wiring_voltage_v(&wiring, 1);
    fixture_check(row, 1000 * drop_v / wiring_current_a(&wiring, 1) / 30);
    wiring_done(&wiring);
    house_free(house);
}

/* A ring of that much cable, its load at the middle. */
static void check_ring(const struct outside *row, char **parts, int count)
{
    const double volts = value_of(parts, count, "volts");
    const double half_m = value_of(parts, count, "metres") / 2;
    struct house *house = house_of(volts, LEG_A, (double)NAN);
    add_outlet(house, NO_INDEX, half_m);
    house->branches[0].layout = LAYOUT_RING;
    house->branches[0].return_m = half_m;
    struct appliance *load = add_load(house, 0, 0, BEHAVIOUR_ELECTRONIC);
    load->power_w = value_of(parts, count, "amps") * (volts - row->want);
    fixture_finish(house);
    struct wiring wiring = wired(house, value_of(parts, count, "ohm_per_km"));
    fixture_check(row, volts - wiring_voltage_v(&wiring, 1));
    ck_assert_double_eq_tol(wiring_current_a(&wiring, 1), value_of(parts, count, "amps") / 2, 1e-3);
    wiring_done(&wiring);
    house_free(house);
}

static void check_feeder(const struct outside *row, char **parts, int count)
{
    const double volts = value_of(parts, count, "volts");
    const double amps = value_of(parts, count, "amps");
    struct house *house = fixture_new(SYSTEM_SPLIT_PHASE, volts, 1, 1);
    const size_t panel = fixture_panel(house, 0, LEG_A | LEG_B);
    house->panels[panel].length_m = 1000;
    const struct panel_figures figures = {.leg_current_a = {amps, amps, 0},
                                          .neutral_a = value_of(parts, count, "neutral")};
    const double drop_percent = feeder_drop_percent(house, panel, &figures, value_of(parts, count, "ohm"));
    fixture_check(row, volts * (1 - drop_percent / 100));
    house_free(house);
}

/* A ring of four points: the joined length is the resistance that the solver finds between the panel and a point. */
START_TEST(joined_length_is_what_the_solver_finds)
{
    static const double run_m[] = {7, 12, 3, 9};
    enum { POINTS = 4 };
    const double ohm_per_km = 7.41;
    for (size_t point = 0; point < POINTS; point++) {
        struct house *house = house_of(230, LEG_A, (double)NAN);
        for (size_t i = 0; i < POINTS; i++) {
            add_outlet(house, i == 0 ? NO_INDEX : i - 1, run_m[i]);
        }
        house->branches[0].layout = LAYOUT_RING;
        house->branches[0].return_m = 14;
        add_load(house, point, 2300, BEHAVIOUR_RESISTIVE); /* 23 ohm */
        fixture_finish(house);
        struct wiring ring = wired(house, ohm_per_km);
        const size_t node = wiring_node(&ring, point);
        const double loop_ohm = 23 * (230 / wiring_voltage_v(&ring, node) - 1);
        ck_assert_double_eq_tol(2 * ohm_per_km / 1000 * wiring_joined_m(&ring, node), loop_ohm, 1e-9);
        ck_assert_double_lt(wiring_joined_m(&ring, node), ring.path_m[node]);
        struct wiring open;
        wiring_break(&ring, 1, &open);
        ck_assert_double_lt(wiring_joined_m(&ring, node), wiring_joined_m(&open, wiring_node(&open, point)));
        ck_assert_double_eq(wiring_joined_m(&open, 1), open.path_m[1]);
        wiring_done(&open);
        wiring_done(&ring);
        house_free(house);
    }
}
END_TEST

static const struct {
    const char *word;
    void (*check)(const struct outside *row, char **parts, int count);
} checks[] = {
    {"run", check_run},   {"circuit", check_circuit},       {"longest", check_longest},
    {"ring", check_ring}, {"mv_per_a_m", check_millivolts}, {"feeder", check_feeder},
};

static void check_row(const struct outside *row)
{
    char inputs[512] = {0};
    char *parts[PARTS_MOST];
    ck_assert_uint_lt(strlen(row->inputs), sizeof inputs);
    memcpy(inputs, row->inputs, strlen(row->inputs));
    const int count = fixture_split(inputs, ' ', parts, PARTS_MOST);
    for (size_t i = 0; i < sizeof checks / sizeof *checks; i++) {
        if (strcmp(parts[0], checks[i].word) == 0) {
            checks[i].check(row, parts, count);
            return;
        }
    }
    ck_abort_msg("%s: unknown %s", row->id, parts[0]);
}

START_TEST(others_print_the_same)
{
    fixture_outside("wire.tsv", 40, check_row);
}
END_TEST

/*
 * A ring of two outlets with a spur on each and one at the panel. By hand: from the closing segment's node every
 * current of the chain follows, and a spur carries its own load alone.
 */
START_TEST(spurs_hang_beside_the_ring)
{
    struct house *house = house_of(230, LEG_A, (double)NAN);
    add_outlet(house, 3, 4);        /* 0: on the spur of 3, named before it */
    add_outlet(house, NO_INDEX, 6); /* 1: the chain */
    add_outlet(house, 1, 7);        /* 2: its last */
    add_outlet(house, 1, 3);        /* 3: a spur */
    add_outlet(house, 2, 2);        /* 4: a spur on the last */
    for (size_t i = 0; i < 5; i++) {
        house->outlets[i].is_spur = i == 0 || i == 3 || i == 4;
        add_load(house, i, 400 + 100 * (double)i, BEHAVIOUR_RESISTIVE);
    }
    house->branches[0].layout = LAYOUT_RING;
    house->branches[0].return_m = 5;
    fixture_finish(house);
    struct wiring ring = wired(house, 9);
    const size_t end = wiring_node(&ring, 2);
    ck_assert_uint_eq(wiring_node(&ring, 1), 1);
    ck_assert_uint_eq(end, 2);
    ck_assert_uint_eq(wiring_from(&ring, ring.node_count), end);
    const struct wire_solution *solution = &ring.solution;
    const double first_a =
        wiring_current_a(&ring, wiring_node(&ring, 3)) + 500 / 230.0 / 230 * wiring_voltage_v(&ring, 1);
    const double last_a =
        wiring_current_a(&ring, wiring_node(&ring, 4)) + 600 / 230.0 / 230 * wiring_voltage_v(&ring, end);
    ck_assert_double_eq_tol(solution->current_re[1], first_a + solution->current_re[end], 1e-9);
    ck_assert_double_eq_tol(solution->current_re[end], last_a + solution->ring_current_re, 1e-9);
    /* around the ring the falls add up to nothing: 6 m, 7 m, and back over 5 m */
    ck_assert_double_eq_tol(6 * solution->current_re[1] + 7 * solution->current_re[end] + 5 * solution->ring_current_re,
                            0, 1e-7);
    for (size_t segment = 1; segment <= ring.node_count; segment++) {
        const bool chain = segment <= end || segment == ring.node_count;
        ck_assert(wiring_is_of_ring(&ring, segment) == chain);
        if (chain) {
            struct wiring open;
            wiring_break(&ring, segment, &open);
            ck_assert(wiring_solve(&open, 1));
            ck_assert_uint_eq(open.outlet[wiring_from(&open, wiring_node(&open, 0))], 3);
            ck_assert_uint_eq(open.outlet[wiring_from(&open, wiring_node(&open, 3))], 1);
            ck_assert_uint_eq(open.outlet[wiring_from(&open, wiring_node(&open, 4))], 2);
            wiring_done(&open);
        }
    }
    wiring_done(&ring);
    house_free(house);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("wiring");
    TCase *network = tcase_create("network");
    tcase_add_test(network, end_of_a_run_is_the_divider);
    tcase_add_test(network, two_poles_count_two_conductors);
    tcase_add_test(network, three_poles_are_solved_line_to_neutral);
    tcase_add_test(network, two_lines_and_the_neutral_are_one_loop);
    tcase_add_test(network, order_of_the_file_does_not_matter);
    tcase_add_test(network, loads_without_outlet_hang_at_the_longest_path);
    tcase_add_test(network, without_wire_or_length_nothing_is_solved);
    tcase_add_test(network, groups_and_units_reach_the_network);
    tcase_add_test(network, joined_length_is_what_the_solver_finds);
    tcase_add_test(network, broken_ring_is_two_chains);
    tcase_add_test(network, spurs_hang_beside_the_ring);
    tcase_add_test(network, scaling_lengths_and_wire_leaves_results);
    tcase_add_test(network, starting_motor_is_its_locked_rotor_impedance);
    tcase_add_test(network, load_that_cannot_be_fed_has_no_figures);
    tcase_add_test(network, longest_run_is_the_closed_form);
    tcase_add_test(network, feeder_adds_the_neutral_to_its_worst_leg);
    tcase_add_test(network, chain_of_many_outlets_is_numbered_without_recursion);
    suite_add_tcase(suite, network);
    TCase *year = tcase_create("year");
    tcase_set_timeout(year, 60);
    tcase_add_test(year, year_of_one_appliance_is_its_hours);
    tcase_add_loop_test(year, cycling_loses_its_share_of_the_full_loss, 0, 2);
    tcase_add_test(year, year_of_two_appliances_is_the_sum_over_minutes);
    suite_add_tcase(suite, year);
    TCase *outside = tcase_create("outside");
    tcase_add_test(outside, others_print_the_same);
    suite_add_tcase(suite, outside);
    return suite;
}
