/* A branch with one load opened, by hand: 230 V; pot 5 A, oven 10 A, two lamps of 1 A together. */
#include <string.h>

#include "ampsum/answer_switched.h"
#include "ampsum/housefile.h"
#include "runner.h"

static const char text[] = "[house]\nname = Test\nrules = iec\nsystem = single-phase\nmain_breaker = 63 A\n"
                           "[branch a]\nlabel = a\nbreaker = 16 A\n"
                           "[appliance pot]\nname = Pot\nbranch = a\npower = 1150 W\n"
                           "[appliance oven]\nname = Oven\nbranch = a\npower = 2300 W\n"
                           "[appliance lamps]\nname = Lamp\nbranch = a\npower = 115 W\ncount = 2\n";

START_TEST(what_stays_closed_keeps_its_current)
{
    static const enum switched want[] = {SWITCHED_UNCHANGED, SWITCHED_OPEN, SWITCHED_UNITS};
    struct house *house = NULL;
    struct error error = {0};
    struct switched_answer answer;
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &house, &error), "%s", error_message(&error));
    const unsigned on[] = {1, 0, 1};
    const struct assess_options choice = {.basis = BASIS_SET, .on = on, .wires = true, .loads = true};
    answer_switched(house, 0, &choice, 0, &answer);
    ck_assert_uint_eq(answer.count, 3);
    for (size_t i = 0; i < answer.count; i++) {
        ck_assert_int_eq(answer.loads[i].change, want[i]);
    }
    ck_assert_uint_eq(answer.opened_count, 2); /* the oven, and one of the lamps */
    ck_assert_uint_eq(answer.unchanged_count, 1);
    ck_assert_double_eq_tol(answer.before->other.current_a, 16, 1e-9);
    ck_assert_double_eq_tol(answer.now->other.current_a, 5.5, 1e-9);
    ck_assert_double_eq_tol(answer.loads[0].line_a, 5.5, 1e-9); /* the first junction carries all behind it */
    ck_assert_uint_gt(answer.steps.count, 0);
    switched_answer_done(&answer);
    house_free(house);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("answer_switched");
    TCase *switched = tcase_create("switched");
    tcase_add_test(switched, what_stays_closed_keeps_its_current);
    suite_add_tcase(suite, switched);
    return suite;
}
