/* Moves and legs, by hand: 230 V, loads of 10 A and 5 A on breakers of 16 A. */
#include <string.h>

#include "ampsum/answer_settle.h"
#include "ampsum/housefile.h"
#include "ampsum/text.h"
#include "runner.h"

static const char text[] =
    "[house]\nname = Test\nrules = iec\nsystem = three-phase\nmain_breaker = 63 A\n[room hall]\n"
    "[branch full]\nlabel = full\nbreaker = 16 A\nlegs = A\nserves = hall\n"
    "[branch free]\nlabel = free\nbreaker = 16 A\nlegs = A\nserves = hall\n"
    "[branch third]\nlabel = third\nbreaker = 16 A\nlegs = B\n"
    "[appliance pot]\nname = Pot\nbranch = full\nroom = hall\npower = 1150 W\n"
    "[appliance oven]\nname = Oven\nbranch = full\nroom = hall\npower = 2300 W\nuse = 07:00-08:00\n"
    "[appliance heater]\nname = Heater\nbranch = full\nroom = hall\npower = 1150 W\nuse = 07:00-08:00\n";

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

/* 5 + 10 + 5 = 20 A; any one of them away leaves at most 15 A; the oven's going leaves both branches at 10 A. */
START_TEST(one_move_is_enough_for_both_aims)
{
    const struct settle_question question = {REACH_ROOM};
    struct settle_answer answer;
    struct error error = {0};
    ck_assert_msg(answer_settle(house, &question, &answer, &error), "%s", error_message(&error));
    ck_assert(answer.same);
    ck_assert_int_eq(answer.last, SETTLE_NONE_AT_RISK);
    ck_assert_ptr_eq(settle_best(&answer), &answer.found[SETTLE_NONE_AT_RISK]);
    ck_assert(!settle_may_reach_further(&answer));
    ck_assert_uint_eq(answer.move_count, 2); /* the same one for each aim */
    for (size_t aim = 0; aim < SETTLE_AIMS; aim++) {
        ck_assert_uint_eq(answer.found[aim].move_count, 1);
        ck_assert_str_eq(answer.found[aim].moves[0].appliance->id, "oven");
        ck_assert_str_eq(answer.found[aim].moves[0].to->id, "free");
        ck_assert_double_eq_tol(answer.found[aim].worst_percent / 100, 10.0 / 16, 1e-9);
    }
    ck_assert_uint_eq(answer.stays_count, 0);
    ck_assert(!answer.other_dangers);
    settle_answer_done(&answer);
}
END_TEST

/* 7.4 kW at 230 V are 32.17 A on 32 A: within the plate's rounding, which is no overload to settle; 7.6 kW are one. */
START_TEST(what_a_plates_rounding_may_hide_is_no_overload)
{
    static const struct {
        const char *power;
        bool found;
        double ratio; /* by the plate as it is written */
    } rows[] = {{"7.4 kW", true, 7400 / 230.0 / 32}, {"7.6 kW", false, 0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        const struct settle_question question = {REACH_ROOM};
        struct settle_answer answer;
        struct error error = {0};
        struct text file = {0};
        struct house *home = NULL;
        text_printf(&file,
                    "[house]\nname = x\nrules = uk\nmain_breaker = 100 A\n[branch b]\nlabel = b\nbreaker = 32 A\n"
                    "[appliance a]\nname = Box\nbranch = b\nfixed = yes\npower = %s\n",
                    rows[i].power);
        ck_assert_msg(housefile_read_house_bytes("test", text_string(&file), file.length, &home, &error), "%s",
                      error_message(&error));
        text_done(&file);
        ck_assert_msg(answer_settle(home, &question, &answer, &error), "%s", error_message(&error));
        ck_assert_int_eq(answer.found[SETTLE_NONE_AT_RISK].plan.found, rows[i].found);
        if (rows[i].found) {
            ck_assert_double_eq_tol(answer.found[SETTLE_NONE_AT_RISK].worst_percent / 100, rows[i].ratio, 1e-9);
        }
        settle_answer_done(&answer);
        house_free(home);
    }
}
END_TEST

/* All 20 A hang on one branch of leg A: no other leg for it makes the fullest emptier. */
START_TEST(one_loaded_branch_can_stay_on_its_leg)
{
    struct legs_answer answer;
    answer_settle_legs(house, &answer);
    ck_assert_uint_eq(answer.panel_count, 1);
    ck_assert_uint_eq(answer.change_count, 0);
    ck_assert_double_eq_tol(answer.panels[0].all.before_a[0], 20, 1e-9);
    ck_assert(answer.panels[0].all.plan.proved);
    legs_answer_done(&answer);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("answer_settle");
    TCase *moves = tcase_create("moves");
    tcase_add_checked_fixture(moves, setup, teardown);
    tcase_add_test(moves, one_move_is_enough_for_both_aims);
    tcase_add_test(moves, what_a_plates_rounding_may_hide_is_no_overload);
    tcase_add_test(moves, one_loaded_branch_can_stay_on_its_leg);
    suite_add_tcase(suite, moves);
    return suite;
}
