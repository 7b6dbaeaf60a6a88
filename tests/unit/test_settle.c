/* Fewest moves against all assignments and against a linear programming solver (GLPK); legs against all assignments. */
#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/settle.h"
#include "runner.h"
#include "settle_glpk.h"

enum { LOADS_MOST = 200, BRANCHES_MOST = 40, OPTIONS_MOST = 5, MOMENTS_MOST = 4, GROUPS = 2 };

struct house_case {
    struct settle_option options[LOADS_MOST][OPTIONS_MOST];
    struct settle_load loads[LOADS_MOST];
    double limit_a[BRANCHES_MOST];
    bool is_on[LOADS_MOST * MOMENTS_MOST];
    struct settle_problem problem;
};

static uint64_t random_state = 2463534242u;

static uint64_t random_bits(void)
{
    random_state ^= random_state << 13;
    random_state ^= random_state >> 7;
    random_state ^= random_state << 17;
    return random_state;
}

static size_t random_below(size_t bound)
{
    return (size_t)(random_bits() >> 20) % bound;
}

static double random_a(double most_a)
{
    return (double)(1 + random_below((size_t)(most_a * 100))) / 100;
}

static void add_options(struct house_case *house, size_t load, size_t branch, size_t reach, double planning_a)
{
    size_t branches = house->problem.branch_count;
    struct settle_load *what = &house->loads[load];
    what->options = house->options[load];
    for (size_t k = 0; k < reach && k < branches && k < OPTIONS_MOST; k++) {
        house->options[load][k] = (struct settle_option){(branch + k) % branches, planning_a, planning_a};
        what->option_count = k + 1;
    }
}

/* Branches in a ring; each load reaches its own and up to three next ones; about `tightness` of the limits in all. */
static void random_house(struct house_case *house, size_t branches, size_t loads, size_t fixed, double tightness)
{
    *house = (struct house_case){.problem = {.branch_count = branches, .moment_count = 1, .largest_motor = 1}};
    double sum_a = 0;
    for (size_t i = 0; i < loads; i++) {
        double planning_a = random_below(4) == 0 ? random_a(12) : random_a(5);
        sum_a += planning_a;
        size_t reach = i < fixed ? 1 : 2 + random_below(3);
        add_options(house, i, i % branches, reach, planning_a);
        house->loads[i].group = SETTLE_NO_GROUP;
    }
    for (size_t i = 0; i < branches; i++) {
        house->limit_a[i] = sum_a / tightness / (double)branches;
    }
    house->problem.loads = house->loads;
    house->problem.load_count = loads;
    house->problem.limit_a = house->limit_a;
}

/* Adds what makes branches more than sums: motors, groups, moments, a second voltage. */
static void make_hard(struct house_case *house)
{
    struct settle_problem *problem = &house->problem;
    problem->largest_motor = random_below(2) == 0 ? 1.25 : 1;
    problem->moment_count = 1 + random_below(MOMENTS_MOST);
    problem->is_on = random_below(4) == 0 ? NULL : house->is_on;
    for (size_t i = 0; i < problem->load_count; i++) {
        struct settle_load *load = &house->loads[i];
        load->motor = random_below(3) == 0;
        load->group = random_below(4) == 0 ? random_below(GROUPS) : SETTLE_NO_GROUP;
        for (size_t k = 0; k < load->option_count; k++) {
            struct settle_option *option = &house->options[i][k];
            double voltage = option->branch % 3 == 2 ? 2 : 1;
            option->unit_a /= voltage * (double)(1 + i % 2); /* of one unit, or of two */
            option->planning_a /= voltage;
        }
        for (size_t m = 0; m < problem->moment_count; m++) {
            house->is_on[i * problem->moment_count + m] = random_below(3) > 0;
        }
    }
    for (size_t i = 0; i < problem->branch_count; i++) {
        house->limit_a[i] *= 0.6 + 0.1 * (double)random_below(5);
    }
}

/* The total where member[g] counts for group g; -1 where a group with loads there has none that counts. */
static double plain_choice(const struct settle_problem *problem, const size_t *option, size_t branch, size_t moment,
                           const size_t *member)
{
    double sum_a = 0;
    double unit_a = 0;
    bool has[GROUPS] = {false};
    bool counts[GROUPS] = {false};
    for (size_t i = 0; i < problem->load_count; i++) {
        const struct settle_load *load = &problem->loads[i];
        const struct settle_option *here = &load->options[option[i]];
        bool on = problem->is_on == NULL || problem->is_on[i * problem->moment_count + moment];
        if (!on || here->branch != branch) {
            continue;
        }
        if (load->group != SETTLE_NO_GROUP) {
            has[load->group] = true;
            counts[load->group] = counts[load->group] || member[load->group] == i;
        }
        if (load->group == SETTLE_NO_GROUP || member[load->group] == i) {
            sum_a += here->planning_a;
            unit_a = load->motor ? fmax(unit_a, here->unit_a) : unit_a;
        }
    }
    bool allowed = has[0] == counts[0] && has[1] == counts[1];
    return allowed ? sum_a + (problem->largest_motor - 1) * unit_a : -1;
}

/* The planning current by its definition: every choice of one member a group is tried. */
static double plain_branch_a(const struct settle_problem *problem, const size_t *option, size_t branch, size_t moment)
{
    double most_a = 0;
    for (size_t i = 0; i < problem->load_count * problem->load_count; i++) {
        size_t member[GROUPS] = {i % problem->load_count, i / problem->load_count};
        most_a = fmax(most_a, plain_choice(problem, option, branch, moment, member));
    }
    return most_a;
}

static double plain_ratio(const struct settle_problem *problem, const size_t *option)
{
    double worst = 0;
    for (size_t b = 0; b < problem->branch_count; b++) {
        for (size_t m = 0; m < problem->moment_count; m++) {
            worst = fmax(worst, settle_branch_a(problem, option, b, m) / problem->limit_a[b]);
        }
    }
    return worst;
}

struct plain_best {
    size_t moves;
    double ratio;
    bool found;
};

static struct plain_best plain_search(const struct settle_problem *problem)
{
    struct plain_best best = {SIZE_MAX, INFINITY, false};
    size_t option[LOADS_MOST] = {0};
    bool more = true;
    while (more) {
        size_t moves = 0;
        for (size_t i = 0; i < problem->load_count; i++) {
            moves += option[i] != problem->loads[i].home;
        }
        double ratio = moves <= best.moves ? plain_ratio(problem, option) : INFINITY;
        if (ratio <= 1 + 1e-9 && (moves < best.moves || ratio < best.ratio)) {
            best = (struct plain_best){moves, ratio, true};
        }
        more = false;
        for (size_t i = 0; i < problem->load_count && !more; i++) {
            more = ++option[i] < problem->loads[i].option_count;
            option[i] = more ? option[i] : 0;
        }
    }
    return best;
}

START_TEST(small_houses_match_all_assignments)
{
    size_t with_moves = 0;
    size_t impossible = 0;
    for (int i = 0; i < DRAWS(600); i++) {
        struct house_case house;
        random_house(&house, 2 + random_below(4), 4 + random_below(6), random_below(3),
                     0.5 + 0.1 * (double)random_below(5));
        if (i % 3 > 0) {
            make_hard(&house);
        }
        struct plain_best want = plain_search(&house.problem);
        size_t option[LOADS_MOST];
        struct settle_plan plan;
        settle_moves(&house.problem, option, &plan);
        ck_assert_msg(plan.proved && plan.found == want.found && plan.impossible == !want.found,
                      "house %d: found %d impossible %d proved %d, want found %d", i, plan.found, plan.impossible,
                      plan.proved, want.found);
        if (want.found) {
            ck_assert_msg(plan.moves == want.moves, "house %d: %zu moves, want %zu", i, plan.moves, want.moves);
            ck_assert_double_eq_tol(plain_ratio(&house.problem, option), plan.worst_ratio, 1e-9);
            with_moves += want.moves > 0;
            if (want.moves > 0) {
                ck_assert(plan.worst_proved);
                ck_assert_msg(fabs(plan.worst_ratio - want.ratio) < 2e-8, "house %d: worst %.12g, want %.12g", i,
                              plan.worst_ratio, want.ratio);
            }
        }
        impossible += !want.found;
    }
    ck_assert_uint_gt(with_moves, DRAWS(100));
    ck_assert_uint_gt(impossible, DRAWS(20));
}
END_TEST

START_TEST(branches_plan_as_defined)
{
    size_t with_motors = 0;
    for (int i = 0; i < DRAWS(400); i++) {
        struct house_case house;
        random_house(&house, 2, 4 + random_below(6), 0, 1);
        make_hard(&house);
        size_t option[LOADS_MOST] = {0};
        for (size_t m = 0; m < house.problem.moment_count; m++) {
            for (size_t b = 0; b < 2; b++) {
                double want_a = plain_branch_a(&house.problem, option, b, m);
                ck_assert_double_eq_tol(settle_branch_a(&house.problem, option, b, m), want_a, 1e-9);
            }
        }
        with_motors += house.problem.largest_motor > 1;
    }
    ck_assert_uint_gt(with_motors, DRAWS(100));
}
END_TEST

START_TEST(random_houses_match_a_general_solver)
{
    for (int i = 0; i < DRAWS(200); i++) {
        struct house_case house;
        size_t branches = 6 + random_below(9);
        random_house(&house, branches, branches * 5, branches, 0.6 + 0.05 * (double)random_below(5));
        house.problem.any_of_fewest = true;
        size_t option[LOADS_MOST];
        struct settle_plan plan;
        settle_moves(&house.problem, option, &plan);
        int want = glpk_moves(&house.problem, 0);
        ck_assert_msg(plan.proved, "house %d: not proved", i);
        ck_assert_msg(plan.found ? (int)plan.moves == want : want == -1, "house %d: %d moves, GLPK %d", i,
                      plan.found ? (int)plan.moves : -1, want);
        ck_assert(!plan.found || plain_ratio(&house.problem, option) <= 1 + 2e-9);
    }
}
END_TEST

START_TEST(stopped_search_says_what_is_proved)
{
    struct house_case house;
    size_t unproved = 0;
    for (int i = 0; i < 20; i++) {
        random_house(&house, 20, 100, 20, 0.9);
        house.problem.any_of_fewest = true;
        size_t option[LOADS_MOST];
        struct settle_plan whole;
        struct settle_plan plan;
        settle_moves(&house.problem, option, &whole);
        house.problem.node_limit = 20;
        settle_moves(&house.problem, option, &plan);
        if (whole.proved && whole.found) {
            ck_assert_uint_le(plan.moves_most, whole.moves);
        }
        if (plan.found) {
            ck_assert(plain_ratio(&house.problem, option) <= 1 + 2e-9);
            ck_assert(!whole.proved || plan.moves >= whole.moves);
        }
        unproved += !plan.proved;
    }
    ck_assert_uint_gt(unproved, 5);
}
END_TEST

START_TEST(nothing_to_do_moves_nothing)
{
    struct settle_option options[] = {{0, 10, 0}, {1, 10, 0}};
    struct settle_load load = {options, 2, 0, SETTLE_NO_GROUP, false};
    double limit_a[] = {10, 10};
    struct settle_problem problem = {&load, 1, limit_a, 2, 1, NULL, 1.25, 0, false};
    size_t option = 9;
    struct settle_plan plan;
    settle_moves(&problem, &option, &plan); /* at the limit is not too full */
    ck_assert(plan.found && plan.proved && plan.moves == 0 && option == 0);
    limit_a[0] = 9.999;
    settle_moves(&problem, &option, &plan);
    ck_assert(plan.found && plan.proved && plan.moves == 1 && option == 1);
    limit_a[1] = 9;
    settle_moves(&problem, &option, &plan);
    ck_assert(!plan.found && plan.impossible && plan.proved && option == 0);
    problem.load_count = 0;
    settle_moves(&problem, &option, &plan);
    ck_assert(plan.found && plan.proved && plan.moves == 0);
}
END_TEST

static double plain_legs(const double *branch_a, size_t count, const double *carried_a, size_t leg_count)
{
    double best_a = INFINITY;
    size_t total = 1;
    for (size_t i = 0; i < count; i++) {
        total *= leg_count;
    }
    for (size_t number = 0; number < total; number++) {
        double leg_a[3] = {carried_a[0], carried_a[1], leg_count > 2 ? carried_a[2] : 0};
        size_t rest = number;
        for (size_t i = 0; i < count; i++, rest /= leg_count) {
            leg_a[rest % leg_count] += branch_a[i];
        }
        best_a = fmin(best_a, fmax(leg_a[0], fmax(leg_a[1], leg_a[2])));
    }
    return best_a;
}

START_TEST(legs_match_all_assignments)
{
    for (int i = 0; i < DRAWS(300); i++) {
        size_t leg_count = 2 + random_below(2);
        size_t count = random_below(leg_count == 2 ? 13 : 9);
        double branch_a[16];
        double carried_a[3] = {0, random_below(2) == 0 ? 0 : random_a(20), random_a(9)};
        for (size_t k = 0; k < count; k++) {
            branch_a[k] = random_below(6) == 0 ? 0 : random_a(20);
        }
        size_t leg[16];
        struct legs_plan plan;
        legs_assign(branch_a, count, carried_a, leg_count, 0, 0, leg, &plan);
        double leg_a[3] = {carried_a[0], carried_a[1], leg_count > 2 ? carried_a[2] : 0};
        for (size_t k = 0; k < count; k++) {
            ck_assert_uint_lt(leg[k], leg_count);
            leg_a[leg[k]] += branch_a[k];
        }
        ck_assert(plan.proved);
        ck_assert_double_eq_tol(plan.largest_a, fmax(leg_a[0], fmax(leg_a[1], leg_a[2])), 1e-9);
        ck_assert_double_eq_tol(plan.largest_a, plain_legs(branch_a, count, carried_a, leg_count), 1e-7);
    }
}
END_TEST

START_TEST(forty_branches_balance_perfectly)
{
    for (size_t leg_count = 2; leg_count <= 3; leg_count++) {
        for (int i = 0; i < 50; i++) {
            double branch_a[40];
            for (size_t k = 0; k < 40; k++) {
                branch_a[k] = random_a(20);
            }
            size_t leg[40];
            struct legs_plan plan;
            legs_assign(branch_a, 40, NULL, leg_count, 0.01, 0, leg, &plan);
            ck_assert(plan.proved);
            /* currents on 0.01 A: the mean, rounded up to that, is reached */
            ck_assert_double_le(plan.largest_a, plan.ideal_a + 0.01 + 1e-9);
        }
    }
}
END_TEST

Suite *make_suite(void)
{
    const TTest *const tests[] = {
        branches_plan_as_defined,           small_houses_match_all_assignments, random_houses_match_a_general_solver,
        stopped_search_says_what_is_proved, nothing_to_do_moves_nothing,        legs_match_all_assignments,
        forty_branches_balance_perfectly,
    };
    Suite *suite = suite_create("settle");
    for (size_t i = 0; i < sizeof tests / sizeof *tests; i++) {
        TCase *tcase = tcase_create(tests[i]->name);
        tcase_set_timeout(tcase, 120);
        tcase_add_test(tcase, tests[i]);
        suite_add_tcase(suite, tcase);
    }
    return suite;
}
