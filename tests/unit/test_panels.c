/* Legs, neutral and feeders: against nodes summed by hand in complex numbers, and against Kirchhoff's current law. */
#include <complex.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/engine.h"
#include "fixture.h"
#include "runner.h"

enum { BRANCHES_MOST = 12, LOADS_MOST = 40, PANELS_MOST = 4 };

static const struct planning_factors plain = {1.0, 1.0};
static const struct planning_factors us = {1.25, 1.25};

static void assert_near(double got, double want)
{
    ck_assert_msg(fabs(got - want) <= 1e-9 * fmax(fabs(want), 1.0), "got %.15g, want %.15g", got, want);
}

/* Voltage to neutral of a leg, as a phasor. */
static double complex leg_v(const struct house *house, int leg)
{
    double angle = house->system == SYSTEM_SPLIT_PHASE ? leg * 180.0 : leg * -120.0;
    return house->voltage_v * cexp(I * angle * acos(-1.0) / 180.0);
}

/* Current out of each leg and into the neutral of one load: conj(S / V) across the poles that it stands between. */
static void load_currents(const struct house *house, const struct branch *branch, double complex va,
                          double complex *leg_a, double complex *neutral_a)
{
    int legs[3];
    int count = 0;
    for (int leg = 0; leg < 3; leg++) {
        if ((branch->legs >> leg & 1U) != 0) {
            legs[count++] = leg;
        }
    }
    if (count == 1) {
        double complex current_a = conj(va / leg_v(house, legs[0]));
        leg_a[legs[0]] += current_a;
        *neutral_a += current_a;
    } else if (count == 2) {
        double complex current_a = conj(va / (leg_v(house, legs[0]) - leg_v(house, legs[1])));
        leg_a[legs[0]] += current_a;
        leg_a[legs[1]] -= current_a;
    } else {
        for (int i = 0; i < 3; i++) {
            leg_a[i] += conj(va / 3.0 / leg_v(house, i));
        }
    }
}

static bool feeds(const struct house *house, size_t panel, size_t branch)
{
    for (size_t at = house->branches[branch].panel; at != NO_INDEX; at = house->panels[at].from) {
        if (at == panel) {
            return true;
        }
    }
    return false;
}

static unsigned random_legs(int system, uint64_t *state)
{
    static const unsigned split[] = {LEG_A, LEG_B, LEG_A | LEG_B};
    static const unsigned three[] = {LEG_A, LEG_B, LEG_C, LEG_A | LEG_B, LEG_B | LEG_C, LEG_A | LEG_C, 7};
    if (system == SYSTEM_SINGLE_PHASE) {
        return LEG_A;
    }
    return system == SYSTEM_SPLIT_PHASE ? split[fixture_random(state, 3)] : three[fixture_random(state, 7)];
}

static struct house *random_house(uint64_t *state)
{
    int system = (int)fixture_random(state, 3);
    struct house *house = fixture_new(system, 120.0, BRANCHES_MOST, LOADS_MOST);
    for (size_t i = 0; i < fixture_random(state, PANELS_MOST); i++) {
        fixture_panel(house, fixture_random(state, (unsigned)house->panel_count), house_system_legs(house));
    }
    unsigned branches = 1 + fixture_random(state, BRANCHES_MOST);
    for (unsigned i = 0; i < branches; i++) {
        fixture_branch(house, random_legs(system, state), 20.0)->panel =
            fixture_random(state, (unsigned)house->panel_count);
    }
    unsigned loads = fixture_random(state, LOADS_MOST);
    for (unsigned i = 0; i < loads; i++) {
        size_t branch = fixture_random(state, branches);
        struct appliance *load = fixture_appliance(house, branch, 100.0 + fixture_random(state, 2000));
        load->power_factor = fixture_random(state, 2) == 0 ? 1.0 : 0.7;
        load->behaviour = (int)fixture_random(state, 3);
        load->continuous = fixture_random(state, 3) == 0;
        load->count = 1 + fixture_random(state, 2);
        load->group_index = fixture_random(state, 3) == 0 ? fixture_random(state, 3) : NO_INDEX;
    }
    fixture_finish(house);
    return house;
}

enum { GROUPS = 3 };

struct plain_load {
    double planning_a;
    double extra_a; /* as the largest motor */
    size_t group;
};

/* The total of one choice: member[g] counts for group g. */
static double plain_choice(const struct plain_load *loads, const bool *in_scope, size_t count, const size_t *member,
                           size_t *ret_motor)
{
    double sum_a = 0.0;
    double extra_a = 0.0;
    *ret_motor = NO_INDEX;
    for (size_t i = 0; i < count; i++) {
        if (!in_scope[i] || (loads[i].group != NO_INDEX && member[loads[i].group] != i)) {
            continue;
        }
        sum_a += loads[i].planning_a;
        if (loads[i].extra_a > extra_a * (1 + 1e-9)) {
            extra_a = loads[i].extra_a;
            *ret_motor = i;
        }
    }
    return sum_a + extra_a;
}

/* Every choice of one member a group is tried; the first of those that make the total largest. */
static void plain_members(const struct plain_load *loads, const bool *in_scope, size_t count, size_t *ret_member,
                          size_t *ret_motor)
{
    size_t member[GROUPS + 1] = {0};
    double best_a = -1.0;
    for (; count > 0 && member[GROUPS] == 0;) {
        bool allowed = true;
        for (size_t i = 0; i < count; i++) {
            size_t group = loads[i].group;
            allowed = allowed && (group == NO_INDEX || !in_scope[i] ||
                                  (in_scope[member[group]] && loads[member[group]].group == group));
        }
        size_t motor = NO_INDEX;
        double sum_a = plain_choice(loads, in_scope, count, member, &motor);
        if (allowed && sum_a > best_a * (1 + 1e-9)) {
            best_a = sum_a;
            memcpy(ret_member, member, GROUPS * sizeof *member);
            *ret_motor = motor;
        }
        size_t at = 0;
        while (at < GROUPS && ++member[at] == count) {
            member[at++] = 0;
        }
        member[GROUPS] += at == GROUPS;
    }
}

/* What counts in a panel's scope, written down as plainly as it reads. */
static void plain_panel(const struct house *house, size_t panel, double complex *leg_a, double complex *neutral_a,
                        double *planning_a)
{
    struct plain_load loads[LOADS_MOST];
    bool in_scope[LOADS_MOST];
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *load = &house->appliances[i];
        const struct branch *branch = &house->branches[load->branch];
        double wide_v = branch->voltage_v * (branch->poles == 3 ? sqrt(3.0) : 1.0);
        double unit_a = load->power_w / load->power_factor / wide_v;
        bool motor = load->behaviour == BEHAVIOUR_MOTOR;
        loads[i] = (struct plain_load){.planning_a = unit_a * load->count * (load->continuous && !motor ? 1.25 : 1.0),
                                       .extra_a = motor ? 0.25 * unit_a : 0.0,
                                       .group = load->group_index};
        in_scope[i] = feeds(house, panel, load->branch);
    }
    size_t member[GROUPS] = {0};
    size_t motor = NO_INDEX;
    plain_members(loads, in_scope, house->appliance_count, member, &motor);
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *load = &house->appliances[i];
        const struct branch *branch = &house->branches[load->branch];
        if (!in_scope[i] || (loads[i].group != NO_INDEX && member[loads[i].group] != i)) {
            continue;
        }
        double va = load->power_w / load->power_factor;
        double complex power = load->count * (load->power_w + I * sqrt(va * va - load->power_w * load->power_w));
        load_currents(house, branch, power, leg_a, neutral_a);
        for (int leg = 0; leg < 3; leg++) {
            planning_a[leg] +=
                (branch->legs >> leg & 1U) != 0 ? loads[i].planning_a + (i == motor ? loads[i].extra_a : 0.0) : 0.0;
        }
    }
}

START_TEST(panels_follow_the_definition)
{
    uint64_t state = 21;
    for (int round = 0; round < DRAWS(1500); round++) {
        struct house *house = random_house(&state);
        struct panel_figures panels[PANELS_MOST];
        panels_total(house, NULL, us, panels);
        for (size_t i = 0; i < house->panel_count; i++) {
            double complex leg_a[3] = {0};
            double complex neutral_a = 0;
            double planning_a[3] = {0};
            plain_panel(house, i, leg_a, &neutral_a, planning_a);
            for (int leg = 0; leg < 3; leg++) {
                assert_near(panels[i].leg_current_a[leg], cabs(leg_a[leg]));
                assert_near(panels[i].leg_planning_a[leg], planning_a[leg]);
            }
            assert_near(panels[i].neutral_a, cabs(neutral_a));
            /* Kirchhoff: what goes out on the legs comes back on the neutral. */
            assert_near(cabs(leg_a[0] + leg_a[1] + leg_a[2] - neutral_a), 0.0);
        }
        house_free(house);
    }
}
END_TEST

START_TEST(loads_between_legs_leave_the_neutral_alone)
{
    struct house *house = fixture_new(SYSTEM_SPLIT_PHASE, 120.0, 3, 3);
    fixture_branch(house, LEG_A | LEG_B, 30.0);
    fixture_branch(house, LEG_A, 20.0);
    fixture_branch(house, LEG_B, 20.0);
    fixture_appliance(house, 0, 4800.0);
    fixture_appliance(house, 1, 1800.0);
    fixture_appliance(house, 2, 600.0);
    fixture_finish(house);
    struct panel_figures panel;
    panels_total(house, NULL, plain, &panel);
    assert_near(panel.leg_current_a[0], 20.0 + 15.0);
    assert_near(panel.leg_current_a[1], 20.0 + 5.0);
    assert_near(panel.leg_current_a[2], 0.0);
    assert_near(panel.neutral_a, 10.0);
    house_free(house);
}
END_TEST

START_TEST(a_single_phase_neutral_is_its_leg)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 230.0, 2, 2);
    fixture_branch(house, LEG_A, 16.0);
    fixture_branch(house, LEG_A, 16.0)->poles = 2; /* switches line and neutral */
    fixture_appliance(house, 0, 1150.0);
    fixture_appliance(house, 1, 2300.0);
    fixture_finish(house);
    struct panel_figures panel;
    panels_total(house, NULL, plain, &panel);
    assert_near(panel.leg_current_a[0], 15.0);
    assert_near(panel.neutral_a, 15.0);
    house_free(house);
}
END_TEST

START_TEST(a_group_counts_once_in_each_scope)
{
    struct house *house = fixture_new(SYSTEM_SPLIT_PHASE, 120.0, 2, 2);
    size_t sub = fixture_panel(house, 0, LEG_A | LEG_B);
    fixture_branch(house, LEG_A, 20.0);
    fixture_branch(house, LEG_A, 20.0)->panel = sub;
    fixture_appliance(house, 0, 1200.0)->group_index = 0;
    fixture_appliance(house, 1, 600.0)->group_index = 0;
    fixture_finish(house);
    struct panel_figures panels[2];
    panels_total(house, NULL, plain, panels);
    assert_near(panels[0].leg_current_a[0], 10.0); /* the larger of the two */
    assert_near(panels[1].leg_current_a[0], 5.0);  /* alone in the sub-panel */
    unsigned units[2] = {0, 1};
    panels_total(house, units, plain, panels);
    assert_near(panels[0].leg_current_a[0], 5.0); /* only it is on */
    house_free(house);
}
END_TEST

/* With resistive loads the neutral never carries more than the largest leg. */
START_TEST(a_resistive_neutral_stays_below_the_largest_leg)
{
    uint64_t state = 22;
    for (int round = 0; round < DRAWS(500); round++) {
        struct house *house = fixture_new(SYSTEM_THREE_PHASE, 230.0, 3, 3);
        for (unsigned leg = 0; leg < 3; leg++) {
            fixture_branch(house, 1U << leg, 16.0);
            fixture_appliance(house, leg, fixture_random(&state, 3680));
        }
        fixture_finish(house);
        struct panel_figures panel;
        panels_total(house, NULL, plain, &panel);
        double most_a = fmax(panel.leg_current_a[0], fmax(panel.leg_current_a[1], panel.leg_current_a[2]));
        ck_assert(panel.neutral_a <= most_a * (1 + 1e-12));
        house_free(house);
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("panels");
    TCase *tests = tcase_create("panels");
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, panels_follow_the_definition);
    tcase_add_test(tests, loads_between_legs_leave_the_neutral_alone);
    tcase_add_test(tests, a_single_phase_neutral_is_its_leg);
    tcase_add_test(tests, a_group_counts_once_in_each_scope);
    tcase_add_test(tests, a_resistive_neutral_stays_below_the_largest_leg);
    suite_add_tcase(suite, tests);
    return suite;
}
