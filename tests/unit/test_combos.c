/* Minimal overloading sets against all sub-multisets, and counts by independent routes. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/combos.h"
#include "runner.h"

enum { LOADS_MOST = 16, RANDOM_BRANCHES = DRAWS(2000) };

struct branch_case {
    struct combos_load loads[256];
    struct combos_problem problem;
};

static uint64_t random_state = 88172645463325252u;

static uint64_t random_bits(void)
{
    random_state ^= random_state << 13;
    random_state ^= random_state >> 7;
    random_state ^= random_state << 17;
    return random_state;
}

static unsigned random_below(unsigned bound)
{
    return (unsigned)((random_bits() >> 20) % bound);
}

static double random_unit(void)
{
    return (double)(random_bits() >> 11) * 0x1p-53;
}

/* A branch of up to `units_most` units: power over voltage, power factors, motors, continuous loads, counts, groups. */
static void random_branch(struct branch_case *branch, unsigned units_most)
{
    static const double factors[] = {1, 1, 1, 0.8, 0.9, 0.85, 0.97, 0.63};
    static const double limits[] = {10, 13, 15, 16, 20, 32};
    unsigned units = 0;
    size_t count = 0;
    bool us = random_below(2) == 0;
    bool decimal = random_below(3) > 0;
    double voltage_v = us ? 120 : 230;
    unsigned groups = random_below(3) == 0 ? 1 + random_below(3) : 0;
    double largest_w = random_below(2) == 0 ? 1500 : 3000;
    while (units < units_most && count < LOADS_MOST) {
        struct combos_load *load = &branch->loads[count++];
        load->count = random_below(4) == 0 ? 1 + random_below(4) : 1;
        load->count = load->count < units_most - units ? load->count : units_most - units;
        units += load->count;
        double power_w = decimal ? 50 * (1 + random_below((unsigned)largest_w / 50)) : 5 + largest_w * random_unit();
        load->unit_a = power_w / factors[random_below(8)] / voltage_v;
        load->continuous = random_below(4) == 0;
        load->motor = random_below(3) == 0;
        load->group = groups > 0 && random_below(2) == 0 ? random_below(groups) : COMBOS_NO_GROUP;
    }
    branch->problem =
        (struct combos_problem){branch->loads, count, limits[random_below(6)], us ? 1.25 : 1, us ? 1.25 : 1};
}

/* Section 2 of the contract, written again: units[i] of load i are on. */
static double plain_planning_a(const struct combos_problem *problem, const unsigned *units)
{
    double planning_a = 0;
    const struct combos_load *largest = NULL;
    for (size_t i = 0; i < problem->load_count; i++) {
        const struct combos_load *load = &problem->loads[i];
        planning_a += units[i] * load->unit_a * (load->continuous ? problem->continuous : 1);
        if (units[i] > 0 && load->motor && (largest == NULL || load->unit_a > largest->unit_a)) {
            largest = load;
        }
    }
    if (largest != NULL && !largest->continuous) {
        planning_a += (problem->largest_motor - 1) * largest->unit_a;
    }
    return planning_a;
}

static bool groups_allow(const struct combos_problem *problem, const unsigned *units)
{
    for (size_t i = 0; i < problem->load_count; i++) {
        for (size_t j = 0; j < i; j++) {
            if (units[i] > 0 && units[j] > 0 && problem->loads[i].group != COMBOS_NO_GROUP &&
                problem->loads[i].group == problem->loads[j].group) {
                return false;
            }
        }
    }
    return true;
}

struct plain_set {
    unsigned units[LOADS_MOST];
    unsigned size;
    double planning_a;
    size_t load_count;
};

struct plain_sets {
    struct plain_set *set;
    size_t count;
};

static int plain_order(const void *left, const void *right)
{
    const struct plain_set *a = left;
    const struct plain_set *b = right;
    if (a->size != b->size) {
        return a->size < b->size ? -1 : 1;
    }
    if (fabs(a->planning_a - b->planning_a) > 1e-9 * a->planning_a) {
        return a->planning_a > b->planning_a ? -1 : 1;
    }
    for (size_t i = 0; i < a->load_count; i++) {
        if (a->units[i] != b->units[i]) {
            return a->units[i] > b->units[i] ? -1 : 1;
        }
    }
    return 0;
}

static void to_units(const struct combos_problem *problem, size_t number, unsigned *units)
{
    for (size_t i = 0; i < problem->load_count; i++) {
        units[i] = (unsigned)(number % (problem->loads[i].count + 1));
        number /= problem->loads[i].count + 1;
    }
}

/*
 * All minimal sets by definition: `bad` marks what overloads or has a sub-multiset that does; no monotony is assumed.
 */
static struct plain_sets plain_minimal_sets(const struct combos_problem *problem)
{
    size_t total = 1;
    for (size_t i = 0; i < problem->load_count; i++) {
        total *= problem->loads[i].count + 1;
    }
    bool *bad = calloc(total, 1);
    struct plain_sets sets = {.set = calloc(total, sizeof *sets.set)};
    ck_assert(bad != NULL && sets.set != NULL);
    for (size_t number = 0; number < total; number++) {
        unsigned units[LOADS_MOST];
        to_units(problem, number, units);
        bool below = false;
        size_t weight = 1;
        for (size_t i = 0; i < problem->load_count; i++) {
            below = below || (units[i] > 0 && bad[number - weight]);
            weight *= problem->loads[i].count + 1;
        }
        double planning_a = plain_planning_a(problem, units);
        bool over = groups_allow(problem, units) && planning_a > problem->limit_a * (1 + 1e-9);
        bad[number] = below || over;
        if (over && !below) {
            struct plain_set *set = &sets.set[sets.count++];
            memcpy(set->units, units, sizeof units);
            set->planning_a = planning_a;
            set->load_count = problem->load_count;
            set->size = 0;
            for (size_t i = 0; i < problem->load_count; i++) {
                set->size += units[i];
            }
        }
    }
    free(bad);
    qsort(sets.set, sets.count, sizeof *sets.set, plain_order);
    return sets;
}

static void check_list(const struct branch_case *branch, const struct plain_sets *want, size_t most, unsigned number)
{
    struct combos_list list;
    combos_first(&branch->problem, most, &list);
    ck_assert_msg(list.in_order, "branch %u: not in order", number);
    size_t expected = want->count < most ? want->count : most;
    ck_assert_msg(list.set_count == expected, "branch %u: %zu sets listed, want %zu", number, list.set_count, expected);
    for (size_t i = 0; i < expected; i++) {
        const struct combos_set *set = &list.sets[i];
        const struct plain_set *plain = &want->set[i];
        ck_assert_msg(set->units == plain->size && fabs(set->planning_a - plain->planning_a) < 1e-9 * plain->planning_a,
                      "branch %u set %zu: %.12g A of %u units, want %.12g A of %u", number, i, set->planning_a,
                      (unsigned)set->units, plain->planning_a, plain->size);
        size_t parts = 0;
        for (size_t load = 0; load < plain->load_count; load++) {
            if (plain->units[load] > 0) {
                ck_assert_msg(parts < set->part_count && set->parts[parts].load == load &&
                                  set->parts[parts].units == plain->units[load],
                              "branch %u set %zu: another set with the same current", number, i);
                parts++;
            }
        }
        ck_assert_uint_eq(parts, set->part_count);
    }
    combos_list_done(&list);
}

static bool count_visit(void *context, const struct combos_part *parts, size_t part_count)
{
    (void)parts;
    ++*(uint64_t *)context;
    return part_count > 0;
}

START_TEST(random_branches_match_all_subsets)
{
    size_t largest = 0;
    for (unsigned i = 0; i < RANDOM_BRANCHES; i++) {
        struct branch_case branch;
        random_branch(&branch, 1 + random_below(16));
        struct plain_sets want = plain_minimal_sets(&branch.problem);
        struct combos_number number = combos_count(&branch.problem);
        ck_assert_msg(number.exact && number.limb[0] == want.count && number.limb[1] == 0,
                      "branch %u: count %llu, want %zu", i, (unsigned long long)number.limb[0], want.count);
        uint64_t visited = 0;
        ck_assert(combos_each(&branch.problem, count_visit, &visited));
        ck_assert_uint_eq(visited, want.count);
        check_list(&branch, &want, 1 + random_below(30), i);
        check_list(&branch, &want, 100000, i);
        largest = want.count > largest ? want.count : largest;
        free(want.set);
    }
    ck_assert_uint_gt(largest, 500); /* the branches are not all trivial */
}
END_TEST

/* Some forty loads of few kinds, so that many sets weigh the same; of one unit each. */
static void crowded_branch(struct branch_case *branch)
{
    static const double typical_a[] = {0.3, 0.6, 1.1, 1.5, 2.2, 3.75, 4.3, 5.2, 7.1, 8.3, 10.0, 12.5};
    const size_t count = 30 + random_below(30);
    for (size_t i = 0; i < count; i++) {
        const size_t group = random_below(5) == 0 ? random_below(3) : COMBOS_NO_GROUP;
        branch->loads[i] =
            (struct combos_load){typical_a[random_below(12)], 1, group, random_below(4) == 0, random_below(6) == 0};
    }
    branch->problem = (struct combos_problem){branch->loads, count, 20, 1.25, 1.25};
}

static void ck_assert_same_set(const struct combos_set *a, const struct combos_set *b, unsigned number, size_t place)
{
    bool same = a->part_count == b->part_count;
    for (size_t i = 0; same && i < a->part_count; i++) {
        same = a->parts[i].load == b->parts[i].load && a->parts[i].units == b->parts[i].units;
    }
    ck_assert_msg(same, "branch %u: other sets at place %zu", number, place);
}

/* Few loads of one unit are kept as bits, others as parts: a load that overloads alone, twice, makes the others parts.
 */
START_TEST(bits_and_parts_list_the_same)
{
    size_t compared = 0;
    for (unsigned number = 0; number < DRAWS(200); number++) {
        struct branch_case branch;
        crowded_branch(&branch);
        const size_t most = 1 + random_below(1500);
        struct combos_list bits, parts;
        combos_first(&branch.problem, most, &bits);
        branch.loads[branch.problem.load_count++] = (struct combos_load){25, 2, COMBOS_NO_GROUP, false, false};
        combos_first(&branch.problem, most + 1, &parts);
        ck_assert_uint_eq(parts.sets[0].parts[0].load, branch.problem.load_count - 1);
        ck_assert_uint_eq(bits.set_count + 1, parts.set_count);
        for (size_t i = 0; i < bits.set_count; i++, compared++) {
            ck_assert_same_set(&bits.sets[i], &parts.sets[i + 1], number, i);
        }
        combos_list_done(&bits);
        combos_list_done(&parts);
    }
    ck_assert_uint_gt(compared, DRAWS(200) * 50);
}
END_TEST

/* All sets that may run beside `fixed`, maximal by definition. */
static struct plain_sets plain_companions(const struct combos_problem *problem, struct combos_part fixed)
{
    size_t total = 1;
    for (size_t i = 0; i < problem->load_count; i++) {
        total *= problem->loads[i].count + 1;
    }
    struct plain_sets sets = {.set = calloc(total, sizeof *sets.set)};
    ck_assert(sets.set != NULL);
    for (size_t number = 0; number < total; number++) {
        unsigned units[LOADS_MOST];
        to_units(problem, number, units);
        if (units[fixed.load] != fixed.units || !groups_allow(problem, units) ||
            plain_planning_a(problem, units) > problem->limit_a * (1 + 1e-9)) {
            continue;
        }
        bool grows = false;
        for (size_t i = 0; i < problem->load_count && !grows; i++) {
            if (i != fixed.load && units[i] < problem->loads[i].count) {
                units[i]++;
                grows =
                    groups_allow(problem, units) && plain_planning_a(problem, units) <= problem->limit_a * (1 + 1e-9);
                units[i]--;
            }
        }
        if (!grows) {
            struct plain_set *set = &sets.set[sets.count++];
            set->planning_a = plain_planning_a(problem, units);
            memcpy(set->units, units, sizeof units);
            set->units[fixed.load] = 0;
            set->load_count = problem->load_count;
            for (size_t i = 0; i < problem->load_count; i++) {
                set->size += set->units[i];
            }
        }
    }
    for (size_t i = 0; i < sets.count; i++) {
        sets.set[i].size = 1000 - sets.set[i].size; /* most units first */
    }
    qsort(sets.set, sets.count, sizeof *sets.set, plain_order);
    return sets;
}

START_TEST(companions_match_all_subsets)
{
    size_t largest = 0;
    for (unsigned i = 0; i < DRAWS(600); i++) {
        struct branch_case branch;
        random_branch(&branch, 1 + random_below(12));
        size_t load = random_below((unsigned)branch.problem.load_count);
        struct combos_part fixed = {load, 1 + random_below(branch.loads[load].count)};
        struct plain_sets want = plain_companions(&branch.problem, fixed);
        size_t most = random_below(2) == 0 ? 100000 : 1 + random_below(8);
        struct combos_list list;
        combos_beside(&branch.problem, fixed, most, &list);
        ck_assert(list.in_order);
        size_t expected = want.count < most ? want.count : most;
        ck_assert_msg(list.set_count == expected, "branch %u: %zu companion sets, want %zu", i, list.set_count,
                      expected);
        for (size_t k = 0; k < expected; k++) {
            const struct combos_set *set = &list.sets[k];
            ck_assert_uint_eq(set->units, 1000 - want.set[k].size);
            ck_assert_double_eq_tol(set->planning_a, want.set[k].planning_a, 1e-8);
            for (size_t part = 0; part < set->part_count; part++) {
                ck_assert_msg(want.set[k].units[set->parts[part].load] == set->parts[part].units,
                              "branch %u companion set %zu: another of the same size", i, k);
            }
        }
        largest = want.count > largest ? want.count : largest;
        combos_list_done(&list);
        free(want.set);
    }
    ck_assert_uint_gt(largest, 20); /* the lists are not all trivial, with a tenth of the draws neither */
}
END_TEST

/* The sums of all T, counted set by set of used groups: a route with nothing in common but the definition. */
static double count_by_listing(const struct combos_problem *problem)
{
    uint64_t visited = 0;
    combos_each(problem, count_visit, &visited);
    return (double)visited;
}

/* Currents of a household on a grid of 0.01 A, or off any grid. */
static void household(struct branch_case *branch, size_t count, double off_grid, bool us)
{
    static const double typical_a[] = {12.5, 10, 8.33, 7.5, 5, 4.17, 3, 1.67, 1.25, 0.83, 0.5, 0.25};
    for (size_t i = 0; i < count; i++) {
        double jitter = off_grid > 0 ? 1 + off_grid * random_unit() : 1;
        branch->loads[i] = (struct combos_load){typical_a[random_below(12)] * jitter, 1, COMBOS_NO_GROUP,
                                                us && random_below(5) == 0, us && random_below(4) == 0};
    }
    branch->problem = (struct combos_problem){branch->loads, count, 20, us ? 1.25 : 1, us ? 1.25 : 1};
}

START_TEST(counts_agree_up_to_64_units)
{
    static const size_t sizes[] = {20, 24, 28, 32, 36, 40, 48, 56, 64};
    for (size_t i = 0; i < sizeof sizes / sizeof *sizes; i++) {
        for (int kind = 0; kind < 4; kind++) {
            struct branch_case branch;
            household(&branch, sizes[i], kind % 2 == 0 ? 0 : 0.05, kind >= 2);
            if (sizes[i] > 36) { /* keep the listing short */
                branch.problem.limit_a = 10.5;
            }
            struct combos_number number = combos_count(&branch.problem);
            ck_assert(number.exact);
            ck_assert_double_eq(combos_number_value(&number, NULL), count_by_listing(&branch.problem));
        }
    }
}
END_TEST

/* Pascal's triangle: of n equal loads, k of which fit, every choice of k + 1 is minimal. */
START_TEST(equal_loads_give_binomials)
{
    static const struct {
        size_t n;
        size_t fit;
        const char *want; /* C(n, fit + 1), published tables of binomial coefficients */
    } rows[] = {
        {10, 4, "252"},
        {40, 19, "137846528820"},
        {64, 31, "1832624140942590534"},
        {20, 19, "1"},
        {20, 20, "0"},
        {100, 49, "100891344545564193334812497256"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        struct branch_case branch;
        for (size_t k = 0; k < rows[i].n; k++) {
            branch.loads[k] = (struct combos_load){0.4, 1, COMBOS_NO_GROUP, false, false};
        }
        branch.problem = (struct combos_problem){branch.loads, rows[i].n, 0.4 * (double)rows[i].fit, 1.25, 1.25};
        struct combos_number number = combos_count(&branch.problem);
        struct text text = {0};
        combos_number_text(&number, &text);
        ck_assert(number.exact);
        ck_assert_str_eq(text_string(&text), rows[i].want);
        text_done(&text);
        struct combos_list list;
        combos_first(&branch.problem, 5, &list);
        ck_assert(list.in_order);
        if (list.set_count == 5) { /* ties in file order: the last unit moves on first */
            ck_assert_uint_eq(list.sets[1].parts[rows[i].fit].load, rows[i].fit + 1);
            ck_assert_uint_eq(list.sets[4].parts[rows[i].fit].load, rows[i].fit + 4);
        }
        combos_list_done(&list);
    }
}
END_TEST

/* 40 units with currents on no grid and far too many sets to list: the half lists against a binomial, as all are so
 * nearly equal that any 20 of them overload and no 19 do. */
START_TEST(forty_units_off_grid)
{
    struct branch_case branch;
    for (size_t k = 0; k < 40; k++) {
        branch.loads[k] = (struct combos_load){1 + 0.01 * random_unit(), 1, COMBOS_NO_GROUP, false, k % 3 == 0};
    }
    branch.problem = (struct combos_problem){branch.loads, 40, 19.5, 1.25, 1.25};
    branch.problem.continuous = branch.problem.largest_motor = 1;
    struct combos_number number = combos_count(&branch.problem);
    ck_assert(number.exact);
    ck_assert_uint_eq(number.limb[0], 137846528820u); /* C(40, 20), published tables */
}
END_TEST

START_TEST(many_alike_are_one_multiset)
{
    struct combos_load loads[] = {{0.05, 10000, COMBOS_NO_GROUP, false, false}, {3, 2, COMBOS_NO_GROUP, false, false}};
    struct combos_problem problem = {loads, 2, 16, 1, 1};
    struct combos_number number = combos_count(&problem);
    ck_assert(number.exact);
    ck_assert_uint_eq(number.limb[0], 3); /* by hand: 0, 1 or 2 of the second, filled up with lamps */
    struct combos_list list;
    combos_first(&problem, 20, &list);
    ck_assert_uint_eq(list.set_count, 3);
    ck_assert_uint_eq(list.sets[0].units, 203); /* 2 * 3 A + 201 * 0.05 A = 16.05 A */
    ck_assert_uint_eq(list.sets[2].parts[0].units, 321);
    combos_list_done(&list);
}
END_TEST

/* Any two overload, none does alone: n (n - 1) / 2 pairs, more than are listed one by one, on no grid for a table and
 * too many loads for half lists. Only whole runs of last units at once can count them. */
START_TEST(pairs_of_many_loads_are_counted_in_runs)
{
    enum { LOADS = 8000 };
    struct combos_load *loads = memory_resize(NULL, LOADS, sizeof *loads);
    for (size_t i = 0; i < LOADS; i++) {
        loads[i] = (struct combos_load){10.1 + random_unit(), 1, COMBOS_NO_GROUP, false, false};
    }
    struct combos_problem problem = {loads, LOADS, 20, 1, 1};
    struct combos_number number = combos_count(&problem);
    ck_assert(number.exact);
    ck_assert_uint_eq(number.limb[0], (uint64_t)LOADS * (LOADS - 1) / 2);
    free(loads);
}
END_TEST

START_TEST(at_the_limit_is_not_over)
{
    struct combos_load loads[] = {{12.5, 1, COMBOS_NO_GROUP, false, false}, {7.5, 1, COMBOS_NO_GROUP, false, false}};
    struct combos_problem problem = {loads, 2, 20, 1.25, 1.25};
    ck_assert_uint_eq(combos_count(&problem).limb[0], 0);
    loads[1].unit_a = 7.50001;
    ck_assert_uint_eq(combos_count(&problem).limb[0], 1);
    loads[1] = (struct combos_load){7.5, 1, COMBOS_NO_GROUP, false, true};
    ck_assert_uint_eq(combos_count(&problem).limb[0], 1); /* the motor's 25 % */
    loads[1].group = loads[0].group = 0;
    ck_assert_uint_eq(combos_count(&problem).limb[0], 0);
    problem.load_count = 0;
    ck_assert_uint_eq(combos_count(&problem).limb[0], 0);
}
END_TEST

/* By hand: the continuous pump is the largest motor, so the fan's extra goes when the pump joins. */
START_TEST(continuous_largest_motor_blocks_the_extra)
{
    struct combos_load loads[] = {{8, 1, COMBOS_NO_GROUP, false, true}, {9, 1, COMBOS_NO_GROUP, true, true}};
    struct combos_problem problem = {loads, 2, 30, 1.25, 1.25};
    struct combos_part both[] = {{0, 1}, {1, 1}};
    ck_assert_double_eq_tol(combos_planning_a(&problem, both, 1), 10, 1e-12);
    ck_assert_double_eq_tol(combos_planning_a(&problem, both, 2), 8 + 11.25, 1e-12);
}
END_TEST

START_TEST(two_hundred_loads_list_their_first_sets)
{
    struct branch_case branch;
    household(&branch, 200, 0.02, false);
    struct combos_list list;
    combos_first(&branch.problem, 1000, &list);
    ck_assert(list.in_order);
    ck_assert_uint_eq(list.set_count, 1000);
    for (size_t i = 1; i < list.set_count; i++) {
        ck_assert_uint_ge(list.sets[i].units, list.sets[i - 1].units);
        ck_assert(list.sets[i].units > list.sets[i - 1].units ||
                  list.sets[i].planning_a <= list.sets[i - 1].planning_a + 1e-8);
    }
    combos_list_done(&list);
}
END_TEST

Suite *make_suite(void)
{
    const TTest *const tests[] = {
        random_branches_match_all_subsets,
        bits_and_parts_list_the_same,
        companions_match_all_subsets,
        counts_agree_up_to_64_units,
        equal_loads_give_binomials,
        forty_units_off_grid,
        many_alike_are_one_multiset,
        pairs_of_many_loads_are_counted_in_runs,
        at_the_limit_is_not_over,
        continuous_largest_motor_blocks_the_extra,
        two_hundred_loads_list_their_first_sets,
    };
    Suite *suite = suite_create("combos");
    for (size_t i = 0; i < sizeof tests / sizeof *tests; i++) {
        TCase *tcase = tcase_create(tests[i]->name);
        tcase_set_timeout(tcase, 120);
        tcase_add_test(tcase, tests[i]);
        suite_add_tcase(suite, tcase);
    }
    return suite;
}
