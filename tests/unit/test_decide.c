/* From the house to the decision engines: their planning currents are those of check, on the houses of the tests. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/decide.h"
#include "ampsum/housefile.h"
#include "rule_sets.h"
#include "runner.h"

static const struct {
    const char *folder; /* environment variable */
    const char *file;
} house_files[] = {
    {"AMPSUM_TESTS", "housefiles/us-split-phase.ini"},
    {"AMPSUM_TESTS", "housefiles/us-three-phase.ini"},
    {"AMPSUM_TESTS", "housefiles/uk-ring.ini"},
    {"AMPSUM_TESTS", "housefiles/iec-three-phase.ini"},
    {"AMPSUM_DEMO", "us.ini"},
    {"AMPSUM_DEMO", "uk.ini"},
    {"AMPSUM_DEMO", "iec.ini"},
};
enum { HOUSES = 7 };

static struct house *test_house(size_t number)
{
    struct text path = {0};
    struct house *house = NULL;
    struct error error = {0};
    text_printf(&path, "%s/%s", getenv(house_files[number].folder), house_files[number].file);
    bool read = housefile_read(text_string(&path), &house, &error);
    ck_assert_msg(read, "%s", error_message(&error));
    text_done(&path);
    return house;
}

/* The published factors of the us rules, or none: contract, engineering.md, section 2. */
static struct planning_factors factors_of(const struct house *house)
{
    return house->rules == RULES_US ? (struct planning_factors){1.25, 1.25} : (struct planning_factors){1, 1};
}

/* Sets without two of a group: combos_planning_a must give what branch_total gives. */
START_TEST(sets_plan_as_branches_do)
{
    size_t compared = 0;
    for (size_t h = 0; h < HOUSES; h++) {
        struct house *house = test_house(h);
        struct arena *arena = arena_new();
        unsigned *units = arena_array(arena, house->appliance_count, sizeof *units);
        for (size_t b = 0; b < house->branch_count; b++) {
            struct combos_problem problem = decide_combos(house, b, factors_of(house), arena);
            ck_assert_double_eq(problem.limit_a, house->branches[b].breaker_a);
            struct combos_list list;
            problem.limit_a /= 3; /* so that there are sets */
            combos_first(&problem, 50, &list);
            for (size_t i = 0; i < list.set_count; i++) {
                const struct combos_set *set = &list.sets[i];
                struct branch_figures figures =
                    decide_set_figures(house, b, factors_of(house), set->parts, set->part_count, units);
                ck_assert_double_eq_tol(figures.planning_a, set->planning_a, 1e-9 * set->planning_a);
                ck_assert_double_le(figures.current_a, set->planning_a * (1 + 1e-12));
                compared++;
            }
            combos_list_done(&list);
        }
        for (size_t i = 0; i < house->appliance_count; i++) {
            ck_assert_uint_eq(units[i], 0);
        }
        arena_free(arena);
        house_free(house);
    }
    ck_assert_uint_gt(compared, 50);
}
END_TEST

/* Everything at home: the fullest moment of each branch is its busiest minute, and everything on is `all`. */
START_TEST(homes_are_as_full_as_check_says)
{
    for (size_t h = 0; h < HOUSES; h++) {
        struct house *house = test_house(h);
        struct arena *arena = arena_new();
        size_t *home = arena_array(arena, house->appliance_count, sizeof *home);
        struct decide_settle all = decide_settle(house, REACH_HOUSE, true, factors_of(house), NULL, arena);
        struct decide_settle busiest = decide_settle(house, REACH_ROOM, false, factors_of(house), NULL, arena);
        ck_assert(busiest.whole_moments);
        for (size_t b = 0; b < house->branch_count; b++) {
            struct branch_figures figures;
            struct moment at;
            double voltage_v = house->branches[b].voltage_v;
            branch_total(house, b, NULL, voltage_v, factors_of(house), NULL, &figures);
            ck_assert_double_eq_tol(settle_branch_a(&all.problem, home, b, 0), figures.planning_a, 1e-9);
            branch_busiest(house, b, voltage_v, factors_of(house), NULL, &at, &figures);
            double most_a = 0;
            for (size_t m = 0; m < busiest.problem.moment_count; m++) {
                most_a = fmax(most_a, settle_branch_a(&busiest.problem, home, b, m));
            }
            ck_assert_double_eq_tol(most_a, figures.planning_a, 1e-8);
        }
        arena_free(arena);
        house_free(house);
    }
}
END_TEST

/* Minute by minute over a week of each month, against the marks. */
START_TEST(times_that_do_not_fit_are_found_minute_by_minute)
{
    for (size_t h = 0; h < HOUSES; h++) {
        struct house *house = test_house(h);
        unsigned *units = calloc(house->appliance_count, sizeof *units);
        ck_assert_ptr_nonnull(units);
        for (size_t b = 0; b < house->branch_count; b++) {
            struct branch *branch = &house->branches[b];
            if (branch->appliances.count == 0) {
                continue;
            }
            branch->breaker_a *= 0.4;
            size_t added = branch->appliances.index[0];
            bool over[MINUTES_IN_DAY];
            bool want[MINUTES_IN_DAY] = {false};
            decide_not_at(house, b, added, factors_of(house), over);
            for (int month = 0; month < MONTHS_IN_YEAR; month += 4) {
                for (int minute = 0; minute < 7 * MINUTES_IN_DAY; minute += 5) {
                    if (!appliance_is_on(&house->appliances[added], (struct moment){month, minute})) {
                        continue;
                    }
                    for (size_t i = 0; i < branch->appliances.count; i++) {
                        size_t index = branch->appliances.index[i];
                        bool on = index == added ||
                                  appliance_is_on(&house->appliances[index], (struct moment){month, minute});
                        units[index] = on ? house->appliances[index].count : 0;
                    }
                    struct branch_figures figures;
                    branch_total(house, b, units, branch->voltage_v, factors_of(house), NULL, &figures);
                    want[minute % MINUTES_IN_DAY] =
                        want[minute % MINUTES_IN_DAY] || combos_overloads(figures.planning_a, branch->breaker_a);
                }
            }
            for (int minute = 0; minute < MINUTES_IN_DAY; minute += 5) {
                ck_assert_msg(over[minute] || !want[minute], "%s, branch %s, minute %d: over, and not said",
                              house_files[h].file, branch->id, minute);
            }
        }
        free(units);
        house_free(house);
    }
}
END_TEST

/* Whether the branch is within its breaker at every moment when `added` runs, with those of `off` (bits) off. */
static bool holds(const struct house *house, size_t added, unsigned off, bool everything)
{
    const struct branch *branch = &house->branches[0];
    unsigned units[16] = {0};
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        for (int minute = 0; minute < 7 * MINUTES_IN_DAY; minute += 60) {
            struct moment at = {month, minute};
            if (!everything && !appliance_is_on(&house->appliances[added], at)) {
                continue;
            }
            for (size_t i = 0; i < branch->appliances.count; i++) {
                const struct appliance *load = &house->appliances[i];
                bool on = everything || i == added || appliance_is_on(load, at);
                units[i] = on && (off >> i & 1U) == 0 ? load->count : 0;
            }
            struct branch_figures figures;
            branch_total(house, 0, units, branch->voltage_v, (struct planning_factors){1.25, 1.25}, NULL, &figures);
            if (combos_overloads(figures.planning_a, branch->breaker_a)) {
                return false;
            }
        }
        if (everything) {
            break;
        }
    }
    return true;
}

static unsigned count_bits(unsigned bits)
{
    unsigned count = 0;
    for (; bits != 0; bits &= bits - 1) {
        count++;
    }
    return count;
}

/* The fewest that do it, of the loads in `may`; 99 where none do. */
static unsigned plain_fewest(const struct house *house, size_t added, unsigned may, bool everything)
{
    unsigned best = 99;
    for (unsigned off = 0; off < 1U << house->branches[0].appliances.count; off++) {
        if ((off & ~may) == 0 && count_bits(off) < best && holds(house, added, off, everything)) {
            best = count_bits(off);
        }
    }
    return best;
}

static struct house *random_loads(uint64_t *state)
{
    static const char *const uses[] = {"",
                                       "use = 06:00-09:00\n",
                                       "use = 08:00-18:00\n",
                                       "use = 20:00-02:00\n",
                                       "use = 17:00-19:00\ndays = weekend\n",
                                       "use = 18:00-20:00\nmonths = jan\n"};
    struct text text = {0};
    text_add(&text, "[house]\nname = H\nrules = us\nmain_breaker = 100\n[branch b]\nlabel = B\nbreaker = 15\n"
                    "legs = A\n");
    for (int i = 0; i < 6; i++) {
        *state = *state * UINT64_C(6364136223846793005) + 1442695040888963407;
        unsigned roll = (unsigned)(*state >> 33);
        text_printf(&text, "[appliance a%d]\nname = A\nbranch = b\npower = %u\ncount = %u\n%s%s%s", i,
                    100 + 100 * (roll % 10), 1 + roll / 16 % 2, uses[roll / 64 % 6],
                    roll / 512 % 3 == 0 ? "behaviour = motor\n" : "", roll / 2048 % 4 == 0 ? "group = g\n" : "");
    }
    struct house *house = NULL;
    struct error error = {0};
    bool good = housefile_read_house_bytes("h.ini", text_string(&text), text.length, &house, &error);
    ck_assert_msg(good, "%s", error_message(&error));
    text_done(&text);
    return house;
}

START_TEST(fewest_loads_off_are_found)
{
    uint64_t state = 7;
    unsigned asked = 0;
    for (int round = 0; round < 60; round++) {
        struct house *house = random_loads(&state);
        bool stays[6] = {false};
        stays[1 + round % 5] = round % 3 == 0;
        unsigned may = 0x3E & ~(round % 3 == 0 ? 1U << (1 + round % 5) : 0U);
        bool off[6];
        bool found = decide_off(house, 0, 0, (struct planning_factors){1.25, 1.25}, 15, stays, off);
        unsigned bits = 0;
        for (unsigned i = 0; found && i < 6; i++) {
            bits |= off[i] ? 1U << i : 0;
        }
        unsigned want = plain_fewest(house, 0, may, false);
        bool everything = want == 0; /* nothing in the way when it runs: everything on is what is asked */
        want = everything ? plain_fewest(house, 0, may, true) : want;
        ck_assert_msg(found == (want < 99), "round %d", round);
        ck_assert(!found || (count_bits(bits) == want && (bits & ~may) == 0 && holds(house, 0, bits, everything)));
        asked += found && want > 0;
        house_free(house);
    }
    ck_assert_uint_gt(asked, 15);
}
END_TEST

/* Contract, engineering.md, section 11, and limits.md, section 4. */
START_TEST(plugs_need_a_place)
{
    static const struct {
        const char *string; /* behind the branch's header, label, breaker and legs */
        bool takes;
    } rows[] = {
        {"", true},
        {"purpose = dedicated\n", false},
        {"purpose = lighting\n", false},
        {"purpose = bathroom\n", true},
        {"[appliance a]\nname = A\nbranch = b\npower = 9\nfixed = yes\n", false},
        {"[appliance a]\nname = A\nbranch = b\npower = 9\nfixed = yes\n"
         "[appliance c]\nname = C\nbranch = b\npower = 9\n",
         true},
        {"[outlet o]\nbranch = b\n", true},
        {"purpose = dedicated\n[outlet o]\nbranch = b\n", false},
        {"purpose = lighting\n[outlet o]\nbranch = b\n", false},
        {"purpose = lighting\n[outlet o]\nbranch = b\n[appliance a]\nname = A\noutlet = o\npower = 9\n", true},
        {"[outlet o]\nbranch = b\n[appliance a]\nname = A\noutlet = o\npower = 9\nfixed = yes\n", false},
        {"[outlet o]\nbranch = b\ncontacts = 1\n[appliance a]\nname = Fridge\noutlet = o\npower = 9\n", false},
        {"[outlet o]\nbranch = b\ncontacts = 2\n[appliance a]\nname = Fridge\noutlet = o\npower = 9\n", true},
        {"[outlet o]\nbranch = b\ncontacts = 1\n[appliance a]\nname = Box\ncategory = refrigeration\nbranch = b\n"
         "power = 9\n",
         false},
        {"[outlet o]\nbranch = b\ncontacts = 1\n[appliance a]\nname = Lamp\noutlet = o\npower = 9\n", true},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        text_printf(&text,
                    "[house]\nname = H\nrules = us\nmain_breaker = 100\n[branch b]\nlabel = B\nbreaker = 15\n"
                    "legs = A\n%s",
                    rows[i].string);
        struct house *house = NULL;
        struct error error = {0};
        bool good = housefile_read_house_bytes("h.ini", text_string(&text), text.length, &house, &error);
        ck_assert_msg(good, "%s", error_message(&error));
        ck_assert_msg(decide_takes_plugs(house, 0, NO_INDEX) == rows[i].takes, "row %zu", i);
        text_done(&text);
        house_free(house);
    }
}
END_TEST

START_TEST(loads_that_stay_on)
{
    static const struct {
        const char *name;
        const char *category;
        bool stays;
        bool medical;
    } rows[] = {{"Sump pump", "motor", true, false},
                {"Freezer in the garage", "other", true, false},
                {"Box", "refrigeration", true, false},
                {"Oxygen concentrator", "other", true, true},
                {"Bed", "medical", true, true},
                {"Heating pump", "other", true, false},
                {"Heat lamp", "space-heating", false, false},
                {"Heat pump", "heat-pump", false, false}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        text_printf(&text,
                    "[house]\nname = H\nrules = us\nmain_breaker = 100\n[branch b]\nlabel = B\nbreaker = 15\n"
                    "legs = A\n[appliance a]\nname = %s\nbranch = b\npower = 9\ncategory = %s\n",
                    rows[i].name, rows[i].category);
        struct house *house = NULL;
        struct error error = {0};
        bool good = housefile_read_house_bytes("h.ini", text_string(&text), text.length, &house, &error);
        ck_assert_msg(good, "%s", error_message(&error));
        ck_assert_msg(decide_stays_on(house, &house->appliances[0]) == rows[i].stays, "%s", rows[i].name);
        ck_assert_msg(decide_is_medical(house, &house->appliances[0]) == rows[i].medical, "%s", rows[i].name);
        text_done(&text);
        house_free(house);
    }
}
END_TEST

START_TEST(legs_carry_what_the_branches_plan)
{
    for (size_t h = 0; h < HOUSES; h++) {
        struct house *house = test_house(h);
        struct arena *arena = arena_new();
        struct panel_figures *figures = arena_array(arena, house->panel_count, sizeof *figures);
        panels_total(house, NULL, factors_of(house), figures);
        bool grouped = house->group_count > 0; /* groups are reduced over the panel there, over the branch here */
        for (size_t p = 0; p < house->panel_count; p++) {
            struct decide_legs legs = decide_legs(house, p, false, factors_of(house), arena);
            double leg_a[3] = {legs.carried_a[0], legs.carried_a[1], legs.carried_a[2]};
            double largest_a = 0;
            double most_a = 0;
            for (size_t i = 0; i < legs.branch_count; i++) {
                leg_a[legs.leg[i]] += legs.branch_a[i];
                ck_assert_int_eq(house->branches[legs.branches[i]].poles, 1);
            }
            for (size_t k = 0; k < legs.leg_count; k++) {
                size_t leg = legs.leg_bit[k] == LEG_A ? 0 : legs.leg_bit[k] == LEG_B ? 1 : 2;
                largest_a = fmax(largest_a, figures[p].leg_planning_a[leg]);
                most_a = fmax(most_a, leg_a[k]);
            }
            /* a branch's largest motor counts there, the panel's once: no leg carries less here */
            ck_assert(grouped || most_a >= largest_a * (1 - 1e-9));
        }
        arena_free(arena);
        house_free(house);
    }
}
END_TEST

Suite *make_suite(void)
{
    const TTest *const tests[] = {sets_plan_as_branches_do,
                                  homes_are_as_full_as_check_says,
                                  times_that_do_not_fit_are_found_minute_by_minute,
                                  fewest_loads_off_are_found,
                                  plugs_need_a_place,
                                  loads_that_stay_on,
                                  legs_carry_what_the_branches_plan};
    Suite *suite = suite_create("decide");
    for (size_t i = 0; i < sizeof tests / sizeof *tests; i++) {
        TCase *tcase = tcase_create(tests[i]->name);
        tcase_set_timeout(tcase, 120);
        tcase_add_test(tcase, tests[i]);
        suite_add_tcase(suite, tcase);
    }
    return suite;
}
