/* Sets that overload, and what may run beside a load: by hand on a 20 A branch at 120 V with 10, 8 and two of 5 A. */
#include <string.h>

#include "ampsum/answer_combos.h"
#include "ampsum/housefile.h"
#include "runner.h"

static const char text[] = "[house]\nname = Test\nrules = us\nsystem = single-phase\nmain_breaker = 100 A\n"
                           "[branch a]\nlabel = a\nbreaker = 20 A\n[branch b]\nlabel = b\nbreaker = 20 A\n"
                           "[appliance heater]\nname = Heater\nbranch = a\npower = 1200 W\n"
                           "[appliance iron]\nname = Iron\nbranch = a\npower = 960 W\n"
                           "[appliance lamps]\nname = Lamps\nbranch = a\npower = 600 W\ncount = 2\n"
                           "[appliance fan]\nname = Fan\nbranch = b\npower = 60 W\n";

static struct house *house;

static void setup(void)
{
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &house, &error), "%s", error_message(&error));
}

static void teardown(void)
{
    house_free(house);
}

/* 10 + 8 + 5 = 23 A; 10 + 5 + 5 = 20 A and 8 + 5 + 5 = 18 A do not overload. */
START_TEST(the_only_smallest_set_is_found)
{
    const struct combos_question question = {.branch = 0, .most = 20};
    struct combos_answer answer;
    struct error error = {0};
    ck_assert(answer_combos(house, &question, &answer, &error));
    ck_assert_uint_eq(answer.count, 1);
    ck_assert_uint_eq(answer.rows[0].set->units, 3);
    ck_assert_double_eq_tol(answer.rows[0].planning_a, 23, 1e-9);
    ck_assert_double_eq_tol(answer.rows[0].current_a, 23, 1e-9);
    ck_assert_double_eq_tol(answer.all_planning_a, 28, 1e-9);
    ck_assert_str_eq(combos_first_load(&answer)->id, "heater");
    combos_answer_done(&answer);
}
END_TEST

/* Beside the heater's 10 A: both lamps (20 A, nothing left), or the iron (18 A, 2 A left). */
START_TEST(what_may_run_beside_a_load_has_what_is_left)
{
    const struct combos_question question = {.branch = 0, .with = "heater", .most = 20};
    struct combos_answer answer;
    struct error error = {0};
    ck_assert(answer_combos(house, &question, &answer, &error));
    ck_assert_uint_eq(answer.count, 2);
    ck_assert_double_eq_tol(answer.rows[0].planning_a, 20, 1e-9);
    ck_assert_double_eq_tol(answer.rows[0].left_a, 0, 1e-9);
    ck_assert_double_eq_tol(answer.rows[1].current_a, 18, 1e-9);
    ck_assert_double_eq_tol(answer.rows[1].left_a, 2, 1e-9);
    ck_assert_ptr_null(combos_first_load(&answer)); /* that was asked */
    combos_answer_done(&answer);
}
END_TEST

START_TEST(a_load_that_is_not_there_is_refused)
{
    static const struct {
        const char *with;
        const char *want;
    } rows[] = {{"fan", "on branch b, not on a"}, {"heatr", "the nearest is heater"}, {"lamps*3", "--with lamps*3"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct combos_question question = {.branch = 0, .with = rows[i].with, .most = 20};
        struct combos_answer answer;
        struct error error = {0};
        ck_assert(!answer_combos(house, &question, &answer, &error));
        ck_assert_msg(strstr(error_message(&error), rows[i].want) != NULL, "%s", error_message(&error));
        combos_answer_done(&answer);
        error_done(&error);
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("answer_combos");
    TCase *sets = tcase_create("sets");
    tcase_add_checked_fixture(sets, setup, teardown);
    tcase_add_test(sets, the_only_smallest_set_is_found);
    tcase_add_test(sets, what_may_run_beside_a_load_has_what_is_left);
    tcase_add_test(sets, a_load_that_is_not_there_is_refused);
    suite_add_tcase(suite, sets);
    return suite;
}
