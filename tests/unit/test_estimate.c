/* Loads in words on one branch: the contract's own checks (circuits.md, A6) and a published problem. */
#include "rule_sets.h"
#include "runner.h"

#include <math.h>
#include <string.h>

#include "ampsum/answer_estimate.h"

static void estimate(const struct estimate_question *question, struct estimate_answer *answer)
{
    struct error error = {0};
    ck_assert_msg(answer_estimate(question, answer, &error), "%s", error_message(&error));
    error_done(&error);
}

static void check_near(double got, double want, double half)
{
    ck_assert_msg(fabs(got - want) <= half * (1 + 1e-9), "%.9g, expected %.9g", got, want);
}

/* 1500 W and three lamps of 60 W at 120 V: (1500 + 180) / 120 = 14 A; 3.07 ohm per 1000 ft (NEC chapter 9, table 8). */
START_TEST(heater_and_lamps_on_fifteen_ampere)
{
    static const char *const loads[] = {"Heater, 1500 W", "3 x lamp 60 W"};
    const struct estimate_question question = {.loads = loads,
                                               .load_count = 2,
                                               .rules = RULES_US,
                                               .breaker = "15",
                                               .wire = "14 AWG",
                                               .run = "60 ft",
                                               .price = "0.16"};
    struct estimate_answer answer;
    estimate(&question, &answer);
    const struct branch_assessment *result = answer.branch.result;
    check_near(result->all.current_a, 14, 0.0005);
    check_near(result->all.headroom_a, 1, 0.0005);
    check_near(result->all.power_w, 1680, 0.5);
    check_near(result->drop_percent, 4.12, 0.005);
    check_near(answer.drop_v, 4.12 * 1.2, 0.006);
    check_near(answer.energy_kwh_hour, 1.68, 1e-9);
    ck_assert_str_eq(answer.cost_hour, "0.27");
    ck_assert_uint_eq(answer.sets.set_count, 0);
    ck_assert_int_eq(result->verdict, VERDICT_NEAR);
    estimate_answer_done(&answer);
}
END_TEST

START_TEST(a_heater_for_hours_is_over)
{
    static const char *const loads[] = {"Heater, 1500 W, continuous=yes"};
    const struct estimate_question question = {.loads = loads, .load_count = 1, .rules = RULES_US, .breaker = "15"};
    struct estimate_answer answer;
    estimate(&question, &answer);
    check_near(answer.branch.result->all.planning_a, 15.625, 0.0005);
    ck_assert_int_eq(answer.branch.result->verdict, VERDICT_OVER);
    ck_assert(isnan(answer.drop_v));
    ck_assert_ptr_null(answer.cost_hour);
    estimate_answer_done(&answer);
}
END_TEST

START_TEST(a_heater_at_sixty_feet_of_thin_wire)
{
    static const char *const loads[] = {"Heater, 1500 W"};
    const struct estimate_question question = {
        .loads = loads, .load_count = 1, .rules = RULES_US, .breaker = "15", .wire = "14 AWG", .run = "60 ft"};
    struct estimate_answer answer;
    estimate(&question, &answer);
    check_near(answer.branch.result->drop_percent, 3.70, 0.005);
    ck_assert(finding_find(&answer.findings, &(struct finding){.id = "7", .subject = {KIND_BRANCH, "branch"}}) != NULL);
    estimate_answer_done(&answer);
}
END_TEST

/* What is typed with another voltage is worked out at it: at 120 V a 240 V dryer would seem to draw half. 115 V is 120
 * V. */
START_TEST(a_load_for_another_voltage_is_worked_out_at_it)
{
    static const struct {
        const char *loads[2];
        size_t count;
        const char *volts;
        double voltage_v;
        double current_a;
    } cases[] = {{{"Dryer 30A 240V"}, 1, NULL, 240, 30},
                 {{"Dryer, 30 A, 240 V", "Oven, 2.4 kW, 240V"}, 2, NULL, 240, 40},
                 {{"Dryer, 30 A, 240 V"}, 1, "120", 120, 15},
                 {{"Dryer, 30 A, 240 V", "Lamp, 60 W"}, 2, NULL, 120, 15.5},
                 {{"Widget, 230 W, 115 V, behaviour=electronic"}, 1, NULL, 120, 230.0 / 120}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const struct estimate_question question = {.loads = cases[i].loads,
                                                   .load_count = cases[i].count,
                                                   .rules = RULES_US,
                                                   .breaker = "30",
                                                   .volts = cases[i].volts};
        struct estimate_answer answer;
        estimate(&question, &answer);
        check_near(answer.branch.result->voltage_v, cases[i].voltage_v, 1e-9);
        check_near(answer.branch.result->all.current_a, cases[i].current_a, 1e-6);
        estimate_answer_done(&answer);
    }
}
END_TEST

/* limits.md 5: a 9.5 kW shower plans 39.6 A (240 V); no such thing hangs on a 13 A plug. A us plate is for 240 V. */
START_TEST(what_no_plug_carries_is_wired_in)
{
    static const struct {
        const char *load;
        int rules;
        const char *breaker;
        double planning_a;
        const char *note; /* part of a note; NULL: no word of plugs */
        bool plug;        /* finding 9 */
    } cases[] = {{"shower 9.5kW", RULES_UK, "40", 9500 / 240.0, "taken as wired in, for no 13 A plug", false},
                 {"shower 9.5kW, fixed=no", RULES_UK, "45", 9500 / 230.0, NULL, true},
                 {"cooker 10 kW", RULES_UK, "32", 10 + 0.3 * (10000 / 230.0 - 10), "taken as wired in", false},
                 {"heater 4 kW", RULES_UK, "32", 4000 / 230.0, NULL, true},
                 {"kettle 3 kW", RULES_UK, "16", 3000 / 230.0, NULL, true},
                 {"immersion heater 3 kW", RULES_UK, "16", 3000 / 230.0, NULL, true},
                 {"hob 7 kW", RULES_UK, "32", 7000 / 230.0, NULL, true},
                 {"kettle 2.2 kW", RULES_UK, "32", 2200 / 230.0, NULL, false},
                 {"water heater 4500W", RULES_US, "30", 4500 / 240.0, NULL, false},
                 {"thing 4500W", RULES_US, "30", 37.5, "37.5 A at 120 V, more than a 30 A receptacle", true},
                 {"thing 1500W", RULES_US, "30", 12.5, NULL, false}};
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        const struct estimate_question question = {
            .loads = &cases[i].load, .load_count = 1, .rules = cases[i].rules, .breaker = cases[i].breaker};
        struct estimate_answer answer;
        estimate(&question, &answer);
        check_near(answer.branch.result->all.planning_a, cases[i].planning_a, 1e-6);
        bool told = false;
        for (size_t k = 0; k < answer.note_count; k++) {
            told = told || strstr(answer.notes[k], cases[i].note == NULL ? "wired in" : cases[i].note) != NULL;
        }
        ck_assert_msg(told == (cases[i].note != NULL), "%s", cases[i].load);
        bool plug = false;
        for (size_t k = 0; k < answer.findings.count; k++) {
            plug = plug || strcmp(answer.findings.finding[k].id, "9") == 0;
        }
        ck_assert_msg(plug == cases[i].plug, "%s", cases[i].load);
        estimate_answer_done(&answer);
    }
}
END_TEST

/* OpenStax, College Physics 2e, section 21.1, problem 4: toaster, frying pan and lamp on a 15 A outlet. */
START_TEST(toaster_pan_and_lamp_are_over_in_two_ways)
{
    static const char *const loads[] = {"toaster 1800 W", "pan 1400 W", "lamp 75 W"};
    const struct estimate_question question = {.loads = loads, .load_count = 3, .rules = RULES_US, .breaker = "15 A"};
    struct estimate_answer answer;
    estimate(&question, &answer);
    check_near(answer.branch.result->all.current_a, 27.29, 0.005);
    ck_assert_int_eq(answer.branch.result->verdict, VERDICT_OVER);
    ck_assert_uint_eq(answer.sets.set_count, 2);
    check_near(combos_number_value(&answer.set_count, NULL), 2, 0);
    estimate_answer_done(&answer);
}
END_TEST

/* What all loads are made for is what the branch has, unless --volts or a load that is made for less says otherwise. */
START_TEST(a_charger_is_worked_out_at_its_own_voltage)
{
    static const char *const loads[] = {"EV charger", "EV charger, 40 A", "Heater, 1500 W"};
    static const struct {
        size_t first;
        size_t count;
        const char *volts;
        double voltage_v;
        double planning_a; /* continuous: 7680 W / 240 V, or 40 A, x 1.25 */
    } rows[] = {{0, 1, NULL, 240, 40},
                {1, 1, NULL, 240, 50},
                {0, 1, "240", 240, 40},
                {0, 1, "120", 120, 80},
                {1, 2, NULL, 120, 0}};
    const struct estimate_question question = {
        .loads = loads + rows[_i].first, .load_count = rows[_i].count, .rules = RULES_US, .volts = rows[_i].volts};
    struct estimate_answer answer;
    estimate(&question, &answer);
    check_near(answer.branch.result->voltage_v, rows[_i].voltage_v, 1e-9);
    if (rows[_i].planning_a > 0) {
        check_near(answer.branch.result->all.planning_a, rows[_i].planning_a, 1e-9);
    }
    bool said = false;
    for (size_t i = 0; i < answer.note_count; i++) {
        said = said || strstr(answer.notes[i], "Worked out at 240 V") != NULL;
    }
    ck_assert(said == (rows[_i].volts == NULL && rows[_i].count == 1));
    estimate_answer_done(&answer);
}
END_TEST

START_TEST(without_a_breaker_nothing_is_judged)
{
    static const char *const loads[] = {"Heater, 5 kW", "kettle"};
    const struct estimate_question question = {.loads = loads, .load_count = 2, .rules = RULES_UK, .volts = "240"};
    struct estimate_answer answer;
    estimate(&question, &answer);
    ck_assert(!answer.judged);
    ck_assert_uint_eq(answer.sets.set_count, 0);
    for (size_t i = 0; i < answer.findings.count; i++) {
        ck_assert_str_ne(answer.findings.finding[i].id, "1");
        ck_assert_str_ne(answer.findings.finding[i].id, "15");
    }
    check_near(answer.branch.result->voltage_v, 240, 1e-9);
    ck_assert_uint_ge(answer.note_count, 1); /* the kettle's rating is a typical one */
    estimate_answer_done(&answer);
}
END_TEST

START_TEST(what_is_typed_wrong_is_told)
{
    static const char *const good[] = {"Heater, 1500 W"};
    static const char *const bad[] = {"Heater, 1,500 W"};
    static const struct {
        struct estimate_question question;
        const char *holds;
        const char *part; /* which member of the question it is about */
    } rows[] = {
        {{.loads = bad, .load_count = 1}, "1500", "load"},
        {{.loads = good, .load_count = 1, .breaker = "15 V"}, "breaker", "breaker"},
        {{.loads = good, .load_count = 1, .wire = "14 furlong"}, "wire", "wire"},
        {{.loads = good, .load_count = 1, .wire = "14 AWG", .run = "60 kg"}, "length", "run"},
        {{.loads = good, .load_count = 1, .price = "cheap"}, "--price cheap", "price"},
        {{.loads = good, .load_count = 1, .volts = "-5"}, "volt", "volts"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct estimate_answer answer;
        struct error error = {0};
        ck_assert_msg(!answer_estimate(&rows[i].question, &answer, &error), "row %zu is taken", i);
        ck_assert_msg(strstr(error_message(&error), rows[i].holds) != NULL, "%s", error_message(&error));
        ck_assert_int_eq(error.code, ERROR_INPUT);
        ck_assert_pstr_eq(error.part, rows[i].part);
        error_done(&error);
        estimate_answer_done(&answer);
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("estimate");
    TCase *tests = tcase_create("estimate");
    tcase_add_test(tests, heater_and_lamps_on_fifteen_ampere);
    tcase_add_test(tests, a_heater_for_hours_is_over);
    tcase_add_test(tests, a_heater_at_sixty_feet_of_thin_wire);
    tcase_add_test(tests, a_load_for_another_voltage_is_worked_out_at_it);
    tcase_add_test(tests, what_no_plug_carries_is_wired_in);
    tcase_add_test(tests, toaster_pan_and_lamp_are_over_in_two_ways);
    tcase_add_test(tests, without_a_breaker_nothing_is_judged);
    tcase_add_test(tests, what_is_typed_wrong_is_told);
    tcase_add_loop_test(tests, a_charger_is_worked_out_at_its_own_voltage, 0, 5);
    suite_add_tcase(suite, tests);
    return suite;
}
