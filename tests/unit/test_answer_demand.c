/* The question of `demand`. Links no writer: an answer knows none. */
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/answer_demand.h"
#include "ampsum/housefile.h"
#include "runner.h"

static const char text[] = "[house]\nname = Old house\nrules = us\nmain_breaker = 100\nfloor_area = 1500\n"
                           "[branch a]\nlabel = Kitchen\nbreaker = 20\nlegs = A\n"
                           "[branch added-load]\nlabel = A name that is taken\nbreaker = 20\nlegs = B\n"
                           "[appliance lamp]\nname = lamp\nbranch = a\npower = 60\n";

static struct house *house;
static struct demand_answer answer;
static struct error error;

static void setup(void)
{
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &house, &error), "%s", error_message(&error));
}

static void teardown(void)
{
    demand_answer_done(&answer);
    house_free(house);
    error_done(&error);
}

static void ask(const char *const *added, size_t count)
{
    struct demand_question question = DEMAND_QUESTION;
    question.added = added;
    question.added_count = count;
    ck_assert_msg(answer_demand(house, &question, &answer, &error), "%s", error_message(&error));
}

/* Nothing added: the method of new houses; something added: that of existing ones, the load on a branch of its own. */
START_TEST(what_is_asked_decides_the_method)
{
    static const char *const added[] = {"Heater, 6 kW, 240 V", "Lamp, 60 W"};
    ask(NULL, 0);
    ck_assert_int_eq(answer.demand->method, DEMAND_STANDARD);
    ck_assert_ptr_null(answer.with_added);
    demand_answer_done(&answer);
    ask(added, 2);
    ck_assert_int_eq(answer.demand->method, DEMAND_EXISTING);
    const struct appliance *heater = &answer.with_added->appliances[house->appliance_count];
    const struct branch *branch = &answer.with_added->branches[heater->branch];
    ck_assert_str_eq(branch->id, "added-load-2"); /* the first name is the house's own */
    ck_assert_int_eq(branch->poles, 2);
    ck_assert_int_eq(answer.with_added->branches[heater[1].branch].poles, 1);
    ck_assert_ptr_eq(answer.house, house);
}
END_TEST

START_TEST(a_kind_that_was_not_said_is_taken_from_the_typical_row)
{
    static const char *const added[] = {"EV charger, 9600 W, 240 V", "EV charger, 9600 W, 240 V, category=other"};
    ask(added, 2);
    const struct appliance *chargers = &answer.with_added->appliances[house->appliance_count];
    ck_assert_int_eq(chargers[0].category, CATEGORY_VEHICLE);
    ck_assert_ptr_nonnull(strstr(answer.taken[0].note, "category=vehicle")); /* and it is said */
    ck_assert_int_eq(chargers[1].category, CATEGORY_OTHER);
    ck_assert_ptr_null(answer.taken[1].category);
}
END_TEST

START_TEST(a_measured_figure_needs_its_unit)
{
    static const struct {
        const char *string;
        double va; /* 0: none */
    } rows[] = {{"11.2 kW", 11200}, {"80 A", 19200}, {"9 kVA", 9000}, {"80", 0}, {"0 A", 0}, {"-3 kW", 0}, {"", 0}};
    for (size_t i = 0; i < sizeof rows / sizeof *rows; i++) {
        double va = NAN;
        ck_assert_int_eq(demand_read_measured(house, 0, rows[i].string, &va), rows[i].va > 0);
        if (rows[i].va > 0) {
            ck_assert_double_eq_tol(va, rows[i].va, 1e-9);
        }
    }
}
END_TEST

/* Quarters of 2 kW from 2023-11-14 22:13:20 UTC on, one of 10 kW. */
static struct meter_reading *quarters(size_t count)
{
    struct meter_reading *readings = calloc(count, sizeof *readings);
    ck_assert_ptr_nonnull(readings);
    for (size_t i = 0; i < count; i++) {
        const int64_t wh = i == 40 ? 2500 : 500;
        readings[i] = (struct meter_reading){
            .start_s = 1700000000 + 900 * (int64_t)i, .duration_s = 900, .energy_uwh = wh * METER_UWH_PER_WH};
    }
    return readings;
}

static void ask_meter(const struct meter_reading *readings, size_t count, bool fed_back)
{
    struct demand_question question = DEMAND_QUESTION;
    question.readings = readings;
    question.reading_count = count;
    question.fed_back = fed_back;
    ck_assert_msg(answer_demand(house, &question, &answer, &error), "%s", error_message(&error));
    ck_assert_int_eq(answer.chosen->method, DEMAND_MEASURED);
    ck_assert_int_eq(answer.metered.minutes, 15);
    ck_assert_double_eq_tol(answer.metered.largest_w, 10000, 1e-9);
}

/* A week is no month: the method does not apply, and there is no total. What was fed back rules it out as well. */
START_TEST(a_meter_counts_where_its_readings_are_enough)
{
    enum { WEEK = 7 * 96, MONTH = 32 * 96 };
    struct meter_reading *readings = quarters(MONTH);
    ask_meter(readings, WEEK, false);
    ck_assert(!answer.chosen->applies);
    ck_assert_int_eq(answer.chosen->reason, SERVICE_READINGS_SHORT);
    ck_assert_ptr_null(answer.demand);
    demand_answer_done(&answer);
    ask_meter(readings, MONTH, true);
    ck_assert_int_eq(answer.chosen->reason, SERVICE_GENERATION);
    demand_answer_done(&answer);
    ask_meter(readings, MONTH, false);
    ck_assert(answer.chosen->applies);
    ck_assert_double_eq_tol(answer.demand->total_va, 12500, 1e-9); /* 220.87: 125 % of it */
    ck_assert_int_eq(answer.metered.when.day, 15);                 /* the 41st quarter begins 10 h later */
    free(readings);
}
END_TEST

/* 60 kVA on a service of 100 A: 24 kVA. */
START_TEST(a_demand_above_the_service_says_so)
{
    static const char *const added[] = {"Kiln, 60 kW, 240 V"};
    ask(NULL, 0);
    ck_assert_ptr_nonnull(answer.fits);
    ck_assert_ptr_null(answer.over);
    ck_assert(!answer.assumed.area && answer.assumed.rating && answer.assumed.wire);
    ck_assert_double_eq(answer.service->rating_a, 100);
    demand_answer_done(&answer);
    ask(added, 1);
    ck_assert_ptr_null(answer.fits);
    ck_assert_ptr_eq(answer.over, answer.chosen);
    ck_assert(isnan(answer.control_a)); /* a kiln does not give way */
}
END_TEST

/* A car that would be too much by every method fits where it gives way; the first that fits is that of old houses. */
START_TEST(a_car_may_give_way)
{
    static const char *const added[] = {"EV charger, 80 A, 240 V", "Kiln, 20 kW, 240 V"};
    ask(added, 1);
    ck_assert_ptr_nonnull(answer.over);
    ck_assert(answer.assumed.control);
    demand_answer_done(&answer);
    ask(added, 2);
    ck_assert_ptr_null(answer.fits);
    ck_assert_double_eq(answer.control_a, 80); /* 100 A over 1.25 */
}
END_TEST

START_TEST(what_is_taken_away_is_not_counted)
{
    static const size_t lamp[] = {0};
    struct demand_question question = DEMAND_QUESTION;
    question.removed = lamp;
    question.removed_count = 1;
    ck_assert_msg(answer_demand(house, &question, &answer, &error), "%s", error_message(&error));
    ck_assert_str_eq(answer.removed[0], "lamp");
}
END_TEST

START_TEST(a_set_point_is_read_with_its_unit)
{
    static const char *const wrong[] = {"0", "-3", "101", "80 kWh", "x"};
    struct demand_question question = DEMAND_QUESTION;
    for (size_t i = 0; i < sizeof wrong / sizeof *wrong; i++) {
        question.setpoint = wrong[i];
        ck_assert_msg(!answer_demand(house, &question, &answer, &error), "%s", wrong[i]);
        ck_assert_ptr_nonnull(strstr(error_message(&error), "setpoint"));
        error_done(&error);
        demand_answer_done(&answer);
    }
    question.setpoint = "80 A";
    question.kwh = "20 A";
    ck_assert(!answer_demand(house, &question, &answer, &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "kwh 20 A"));
    error_done(&error);
    demand_answer_done(&answer);
    question.kwh = "20";
    ck_assert_msg(answer_demand(house, &question, &answer, &error), "%s", error_message(&error));
    ck_assert_double_eq(answer.service->setpoint.setpoint_a, 80);
}
END_TEST

/*
 * An 11 kW charger of a 230/400 V house: on one line 11000 W / 230 V = 47.8 A, on three 11000 W / (3 x 230 V) = 15.9 A.
 * Where `connection` is not said and it draws more than a plug carries, it is told on how many lines it was taken.
 */
START_TEST(a_connection_says_over_how_many_lines)
{
    static const struct {
        const char *load;
        int poles;
        unsigned legs; /* told */
        bool may_have_three;
        double current_a;
    } rows[] = {
        {"Wallbox, 11 kW", 1, LEG_A, true, 11000 / 230.0},
        {"Wallbox, 11 kW, connection=3L+N", 3, 0, false, 11000 / 690.0},
        {"Wallbox, 11 kW, connection=line-line", 2, LEG_A | LEG_B, false, 11000 / 398.371685740842},
        {"Wallbox, 11 kW, 400 V", 2, LEG_A | LEG_B, true, 11000 / 398.371685740842},
        {"Wallbox, 7.2 kW, connection=2L+N", 2, LEG_A | LEG_B, false, 7200 / 460.0},
        {"Kettle, 2 kW", 1, LEG_A, false, 2000 / 230.0},
    };
    static const char three[] = "[house]\nname = Three\nrules = iec\nsystem = three-phase\nmain_breaker = 63\n";
    house_free(house);
    ck_assert_msg(housefile_read_house_bytes("test", three, strlen(three), &house, &error), "%s",
                  error_message(&error));
    ask(&rows[_i].load, 1);
    const struct appliance *added = &answer.with_added->appliances[0];
    const struct branch *branch = &answer.with_added->branches[added->branch];
    ck_assert_int_eq(branch->poles, rows[_i].poles);
    ck_assert_uint_eq(answer.taken[0].legs, rows[_i].legs);
    ck_assert_int_eq(answer.taken[0].may_have_three, rows[_i].may_have_three);
    const struct service_method *method = &answer.service->methods[0];
    ck_assert_double_eq_tol(method->current_a, rows[_i].current_a, 1e-6);
}
END_TEST

/*
 * By hand: 20 A on A, 10 A on B, 5 A on C of a 63 A service. A load on one line goes to C, the next beside it to B,
 * where it is 10 A beside 5 + 11; one on two lines to B and C; with A's load taken away the first goes to A. The
 * largest load that fits is that on C: 58 A of it.
 */
START_TEST(an_added_load_goes_on_the_least_loaded_lines)
{
    static const struct {
        const char *loads[2];
        bool removes;
        unsigned legs[2];
    } rows[] = {
        {{"Boiler, 11 A", NULL}, false, {LEG_C, 0}},
        {{"Boiler, 11 A", "Sauna, 4 A"}, false, {LEG_C, LEG_B}},
        {{"Boiler, 4 A", "Sauna, 4 A"}, false, {LEG_C, LEG_C}},
        {{"Boiler, 20 A, 400 V", NULL}, false, {LEG_B | LEG_C, 0}},
        {{"Boiler, 11 A", NULL}, true, {LEG_A, 0}},
    };
    static const char three[] = "[house]\nname = Three\nrules = iec\nsystem = three-phase\nmain_breaker = 63\n"
                                "[branch a]\nlabel = a\nbreaker = 32\nlegs = A\n"
                                "[branch b]\nlabel = b\nbreaker = 32\nlegs = B\n"
                                "[branch c]\nlabel = c\nbreaker = 32\nlegs = C\n"
                                "[appliance a]\nname = a\nbranch = a\ncurrent = 20\nfixed = yes\n"
                                "category = water-heating\n"
                                "[appliance b]\nname = b\nbranch = b\ncurrent = 10\nfixed = yes\n"
                                "category = water-heating\n"
                                "[appliance c]\nname = c\nbranch = c\ncurrent = 5\nfixed = yes\n"
                                "category = water-heating\n";
    static const size_t removed[] = {0};
    house_free(house);
    ck_assert_msg(housefile_read_house_bytes("test", three, strlen(three), &house, &error), "%s",
                  error_message(&error));
    struct demand_question question = DEMAND_QUESTION;
    question.added = rows[_i].loads;
    question.added_count = rows[_i].loads[1] == NULL ? 1 : 2;
    question.removed = removed;
    question.removed_count = rows[_i].removes ? 1 : 0;
    ck_assert_msg(answer_demand(house, &question, &answer, &error), "%s", error_message(&error));
    for (size_t i = 0; i < question.added_count; i++) {
        ck_assert_uint_eq(answer.taken[i].legs, rows[_i].legs[i]);
    }
    demand_answer_done(&answer);
    question = (struct demand_question)DEMAND_QUESTION;
    ck_assert(answer_demand(house, &question, &answer, &error));
    ck_assert_double_eq_tol(answer.service->methods[0].largest.current_a, 58, 1e-6);
    ck_assert_double_eq(answer.service->methods[0].largest.setting_a, 58);
}
END_TEST

START_TEST(a_load_that_cannot_be_read_leaves_no_answer)
{
    static const char *const added[] = {"Heater, 1,500 W"};
    const struct demand_question question = {
        .method = DEMAND_METHOD_COUNT, .measured_va = (double)NAN, .added = added, .added_count = 1};
    ck_assert(!answer_demand(house, &question, &answer, &error));
    ck_assert(error_is_set(&error));
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("answer_demand");
    TCase *tcase = tcase_create("answer_demand");
    tcase_add_checked_fixture(tcase, setup, teardown);
    tcase_add_test(tcase, what_is_asked_decides_the_method);
    tcase_add_test(tcase, a_kind_that_was_not_said_is_taken_from_the_typical_row);
    tcase_add_test(tcase, a_measured_figure_needs_its_unit);
    tcase_add_test(tcase, a_meter_counts_where_its_readings_are_enough);
    tcase_add_test(tcase, a_demand_above_the_service_says_so);
    tcase_add_test(tcase, a_car_may_give_way);
    tcase_add_test(tcase, what_is_taken_away_is_not_counted);
    tcase_add_test(tcase, a_set_point_is_read_with_its_unit);
    tcase_add_loop_test(tcase, a_connection_says_over_how_many_lines, 0, 6);
    tcase_add_loop_test(tcase, an_added_load_goes_on_the_least_loaded_lines, 0, 5);
    tcase_add_test(tcase, a_load_that_cannot_be_read_leaves_no_answer);
    suite_add_tcase(suite, tcase);
    return suite;
}
