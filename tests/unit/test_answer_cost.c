/* What a year costs, by hand: 365 days at 0.20 a kWh, no tax. */
#include <string.h>

#include "ampsum/answer_cost.h"
#include "ampsum/housefile.h"
#include "runner.h"

static const char text[] =
    "[house]\nname = Test\nrules = iec\nsystem = single-phase\nmain_breaker = 63 A\ntariff = flat\n"
    "[branch a]\nlabel = a\nbreaker = 16 A\n"
    "[tariff flat]\nname = Flat\nprice = 0.20\n"
    "[tariff dear]\nname = Dear\nprice = 0.50\n"
    "[appliance lamp]\nname = Lamp\nbranch = a\npower = 100 W\nuse = 18:00-19:00\n"
    "[appliance idle]\nname = Idle\nbranch = a\npower = 50 W\n"
    "[appliance oven]\nname = Oven\nbranch = a\npower = 1000 W\nuse = 18:00-19:00\nstandby = 1\n";

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

static size_t tariff_of(const char *id)
{
    return house_find(house, KIND_TARIFF, id);
}

/* Oven: 1 kWh and 23 h of 1 W a day; lamp: 0.1 kWh; together 1.123 kWh. */
START_TEST(rows_stand_by_energy)
{
    static const char *const want[] = {"oven", "lamp", "idle"};
    struct cost_answer answer;
    answer_cost(house, house->tariff, NULL, &answer);
    const struct cost_rows *rows = &answer.by[COST_BY_APPLIANCE];
    ck_assert_uint_eq(rows->count, 3);
    ck_assert_uint_eq(rows->used, 2);
    for (size_t i = 0; i < rows->count; i++) {
        ck_assert_str_eq(house->appliances[rows->order[i]].id, want[i]);
    }
    const struct energy_row rest = cost_rest(rows, 1); /* lamp alone; of all three the bill, 23 h of 1 W standing by */
    ck_assert_double_eq_tol(rest.kwh_year, 0.1 * 365, 1e-9);
    ck_assert_double_eq_tol(cost_rest(rows, 0).kwh_year, answer.bill->kwh_year, 1e-9);
    ck_assert_double_eq_tol(cost_rest(rows, 0).standby_kwh_year, 0.023 * 365, 1e-9);
    ck_assert_ptr_null(rest.cost_year);
    ck_assert_double_eq_tol(answer.bill->kwh_day, 1.123, 1e-9);
    ck_assert_str_eq(answer.bill->cost_year, "81.98"); /* 1.123 x 365 x 0.20 = 81.979 */
    cost_answer_done(&answer);
}
END_TEST

/* Oven and lamp run alike every day: January has 31 days and is the first of the longest, February the shortest. */
START_TEST(the_longest_and_shortest_month_and_what_is_left_out_are_told)
{
    struct cost_answer answer;
    answer_cost(house, house->tariff, NULL, &answer);
    ck_assert_int_eq(answer.most_month, 0);
    ck_assert_int_eq(answer.least_month, 1);
    ck_assert(!cost_is_left_out(&answer, 0));
    ck_assert(cost_is_left_out(&answer, 1)); /* neither use nor hours */
    ck_assert(!cost_is_left_out(&answer, 2));
    cost_answer_done(&answer);
}
END_TEST

START_TEST(tariffs_stand_side_by_side)
{
    const size_t tariffs[] = {tariff_of("dear"), tariff_of("flat")};
    struct cost_tariffs answer;
    answer_cost_tariffs(house, tariffs, 2, &answer);
    ck_assert_str_eq(answer.rows[0].tariff->id, "dear");
    ck_assert_str_eq(answer.rows[0].bill.cost_year, "204.95"); /* 1.123 x 365 x 0.50 = 204.9475 */
    ck_assert_str_eq(answer.rows[1].bill.cost_year, "81.98");
    cost_tariffs_done(&answer);
}
END_TEST

/* Without standby 1.1 kWh x 365 x 0.20 = 80.30, which is 1.68 less than as printed. */
START_TEST(a_change_is_the_difference_of_two_bills)
{
    struct cost_changed answer;
    struct error error = {0};
    const struct cost_change change = {.tariff = house->tariff, .no_standby = true, .loss = true};
    ck_assert(answer_cost_change(house, &change, &answer, &error));
    ck_assert_uint_eq(answer.count, 2);
    ck_assert_int_eq(answer.rows[0].what, COST_NO_STANDBY);
    ck_assert_double_eq_tol(answer.rows[0].kwh_then, 401.5, 1e-9);
    ck_assert_double_eq_tol(answer.rows[0].difference, -1.68, 1e-9);
    ck_assert_int_eq(answer.rows[1].what, COST_LOSS);
    ck_assert_uint_eq(answer.rows[1].unknown_wires, 1);
    ck_assert_uint_eq(cost_change_count(&answer), 1);
    ck_assert_ptr_eq(cost_loss_row(&answer), &answer.rows[1]);
}
END_TEST

/* Two tariffs are laid beside each other, one alone prices the year, whatever the house's own is; a change goes first.
 */
START_TEST(the_question_tells_which_answer_it_has)
{
    const size_t tariffs[] = {tariff_of("dear"), tariff_of("flat")};
    struct cost_question question = {.tariffs = tariffs, .tariff_count = 2};
    struct cost_asked answer;
    struct error error = {0};
    ck_assert(answer_cost_asked(house, &question, &answer, &error));
    ck_assert_int_eq(answer.kind, COST_OF_TARIFFS);
    ck_assert_uint_eq(answer.tariffs.count, 2);
    cost_asked_done(&answer);
    question.tariff_count = 1;
    ck_assert(answer_cost_asked(house, &question, &answer, &error));
    ck_assert_int_eq(answer.kind, COST_OF_YEAR);
    ck_assert_str_eq(answer.year.bill->cost_year, "204.95"); /* 1.123 x 365 x 0.50 = 204.9475 */
    cost_asked_done(&answer);
    question = (struct cost_question){.change.no_standby = true};
    ck_assert(answer_cost_asked(house, &question, &answer, &error));
    ck_assert_int_eq(answer.kind, COST_OF_CHANGE);
    ck_assert_double_eq_tol(answer.changed.rows[0].difference, -1.68, 1e-9);
    ck_assert_ptr_null(cost_loss_row(&answer.changed));
    cost_asked_done(&answer);
}
END_TEST

START_TEST(a_shift_that_is_none_is_refused)
{
    static const struct {
        const char *shift;
        const char *want;
    } rows[] = {
        {"oven=25:00", "HH:MM"}, {"oven", "HH:MM"}, {"ovn=10:00", "nearest is oven"}, {"idle=10:00", "no `use`"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct cost_changed answer;
        struct error error = {0};
        const struct cost_change change = {.tariff = house->tariff, .shifts = &rows[i].shift, .shift_count = 1};
        ck_assert(!answer_cost_change(house, &change, &answer, &error));
        ck_assert_msg(strstr(error_message(&error), rows[i].want) != NULL, "%s", error_message(&error));
        error_done(&error);
    }
}
END_TEST

/*
 * Typical hours count for the energy alone: 8 h x 0.1 kW = 0.8 kWh a day, though 8 h would make it continuous. Windows
 * of one hour bound them (1 kWh); hours that are given go first (2 h x 1 kW); without either it is left out.
 */
static const char typical_text[] =
    "[house]\nname = Test\nrules = us\nmain_breaker = 100 A\n"
    "[room den]\nname = Den\n"
    "[branch a]\nlabel = a\nbreaker = 20 A\nlegs = A\n"
    "[appliance fridge]\nname = Fridge\nbranch = a\nroom = den\npower = 100 W\ntypical_hours = 8 h\n"
    "[appliance heater]\nname = Heater\nbranch = a\npower = 1 kW\ntypical_hours = 5 h\nuse = 18:00-19:00\n"
    "[appliance kettle]\nname = Kettle\nbranch = a\npower = 1 kW\ntypical_hours = 5 h\nhours = 2 h\n"
    "[appliance radio]\nname = Radio\nbranch = a\npower = 10 W\n";

START_TEST(typical_hours_are_for_the_energy_alone)
{
    static const double want_kwh[] = {0.8, 1, 2, 0};
    struct error error = {0};
    struct house *typical = NULL;
    struct cost_answer answer;
    ck_assert_msg(housefile_read_house_bytes("test", typical_text, strlen(typical_text), &typical, &error), "%s",
                  error_message(&error));
    answer_cost(typical, NO_INDEX, NULL, &answer);
    for (size_t i = 0; i < typical->appliance_count; i++) {
        ck_assert_double_eq_tol(answer.bill->appliances[i].kwh_day, want_kwh[i], 1e-9);
        ck_assert_int_eq(typical->appliances[i].continuous, 0);
        ck_assert(typical->appliances[i].typical_time_s > 0 ? i < 2 : i >= 2);
    }
    ck_assert(typical->appliances[0].on_time_s == 0); /* what plans and odds go by */
    cost_answer_done(&answer);
    house_free(typical);
}
END_TEST

/* Den: 0.8 kWh; what has no room: 3 kWh; together the whole. */
START_TEST(rooms_add_up_to_the_whole)
{
    struct error error = {0};
    struct house *typical = NULL;
    struct cost_answer answer;
    double sum_kwh = 0;
    ck_assert(housefile_read_house_bytes("test", typical_text, strlen(typical_text), &typical, &error));
    answer_cost(typical, NO_INDEX, NULL, &answer);
    const struct cost_rows *rooms = &answer.by[COST_BY_ROOM];
    ck_assert_uint_eq(rooms->count, 2);
    for (size_t i = 0; i < rooms->count; i++) {
        sum_kwh += rooms->rows[rooms->order[i]].kwh_day;
    }
    ck_assert_uint_eq(rooms->order[0], typical->room_count);
    ck_assert_double_eq_tol(sum_kwh, answer.bill->kwh_day, 1e-9);
    ck_assert_double_eq_tol(sum_kwh, 3.8, 1e-9);
    cost_answer_done(&answer);
    house_free(typical);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("answer_cost");
    TCase *cost = tcase_create("cost");
    tcase_add_checked_fixture(cost, setup, teardown);
    tcase_add_test(cost, rows_stand_by_energy);
    tcase_add_test(cost, the_longest_and_shortest_month_and_what_is_left_out_are_told);
    tcase_add_test(cost, tariffs_stand_side_by_side);
    tcase_add_test(cost, a_change_is_the_difference_of_two_bills);
    tcase_add_test(cost, the_question_tells_which_answer_it_has);
    tcase_add_test(cost, a_shift_that_is_none_is_refused);
    tcase_add_test(cost, typical_hours_are_for_the_energy_alone);
    tcase_add_test(cost, rooms_add_up_to_the_whole);
    suite_add_tcase(suite, cost);
    return suite;
}
