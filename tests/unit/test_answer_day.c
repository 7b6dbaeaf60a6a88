/* A day, by hand: 230 V; pot 5 A from 07:00 to 08:00, oven 10 A from 07:30 to 08:30 on weekends. */
#include <string.h>

#include "ampsum/answer_day.h"
#include "ampsum/housefile.h"
#include "runner.h"

static const char text[] =
    "[house]\nname = Test\nrules = iec\nsystem = single-phase\nmain_breaker = 63 A\n"
    "[panel shed]\nname = Shed\nfrom = main\nbreaker = 32 A\n"
    "[branch shed]\nlabel = Sockets\nbreaker = 10 A\n"
    "[branch idle]\nlabel = Idle\nbreaker = 10 A\n"
    "[appliance pot]\nname = Pot\nbranch = shed\npower = 1150 W\nuse = 07:00-08:00\n"
    "[appliance oven]\nname = Oven\nbranch = shed\npower = 2300 W\nuse = 07:30-08:30\ndays = weekend\n"
    "[appliance fan]\nname = Fan\nbranch = idle\npower = 23 W\n";

static struct house *house;
static struct day_answer answer;

static void setup(void)
{
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &house, &error), "%s", error_message(&error));
    answer = (struct day_answer){0};
}

static void teardown(void)
{
    day_answer_done(&answer);
    house_free(house);
}

static void ask(const struct day_question *question)
{
    struct error error = {0};
    ck_assert_msg(answer_day(house, question, &answer, &error), "%s", error_message(&error));
}

/* 0 A to 07:00, 5 A, 15 A from 07:30, 10 A from 08:00, 0 A from 08:30: over for half an hour. */
START_TEST(the_busiest_day_is_one_of_the_weekend)
{
    const struct day_question question = {.id = "shed", .dash = "--"};
    ask(&question);
    ck_assert_uint_eq(answer.count, 1);
    ck_assert_uint_eq(answer.row_count, 5);
    const struct day_view *view = &answer.views[0];
    ck_assert_int_ge(view->series.day.weekday, 5);
    ck_assert_double_eq_tol(answer.rows[2].stretch->planning_a, 15, 1e-9);
    ck_assert_int_eq(answer.rows[2].stretch->start_min, 7 * 60 + 30);
    ck_assert_int_eq(view->series.over_rating_min, 30);
    ck_assert_uint_eq(view->on.count, 2);
    ck_assert(view->timed && !answer.fixed);
    ck_assert_ptr_eq(answer.rows[2].view, view);
}
END_TEST

/* Half an hour a column; eight rows of 1.25 A up to the breaker's 10 A, twelve up to 15 A. */
START_TEST(a_plot_has_the_rating_at_the_edge_of_a_row)
{
    const struct day_question question = {.id = "shed", .dash = "--"};
    struct day_plot plot;
    ask(&question);
    day_plot(&answer.views[0].series, 48, &plot);
    ck_assert_double_eq_tol(plot.row_a, 1.25, 1e-12);
    ck_assert_int_eq(plot.rating_row, 8);
    ck_assert_int_eq(plot.rows, 12);
    static const double want_a[] = {0, 5, 15, 10, 0};
    for (size_t i = 0; i < sizeof want_a / sizeof want_a[0]; i++) {
        ck_assert_double_eq_tol(plot.columns_a[13 + i], want_a[i], 1e-9);
    }
}
END_TEST

START_TEST(a_panel_may_have_the_id_of_a_branch)
{
    const struct day_question question = {.id = "shed", .dash = "", .panel = true, .no_odds = true};
    ask(&question);
    ck_assert_uint_eq(answer.count, 1);
    ck_assert_str_eq(answer.views[0].leg, "A");
    ck_assert_str_eq(answer.views[0].label, "Shed");
}
END_TEST

/* Two branches, and the one leg of each of two panels. */
START_TEST(without_an_id_all_are_asked)
{
    const struct day_question question = {.day = "mon", .month = "jan", .dash = "--"};
    ask(&question);
    ck_assert_uint_eq(answer.count, 4);
    ck_assert_double_eq_tol(answer.views[0].series.stretches[answer.views[0].series.busiest].planning_a, 5, 1e-9);
    ck_assert(!answer.views[1].timed);
}
END_TEST

START_TEST(words_that_are_none_are_refused)
{
    static const struct {
        struct day_question question;
        const char *want;
        bool unknown_id;
    } rows[] = {
        {{.id = "shd", .dash = "--"}, "nearest is shed", true},
        {{.day = "friday", .dash = "--"}, "--day friday: expected weekday", false},
        {{.month = "13", .dash = ""}, "month 13: expected jan", false},
        {{.date = "02-30", .dash = ""}, "MM-DD", false},
        {{.date = "01-01", .day = "mon", .dash = ""}, "stands alone", false},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct error error = {0};
        ck_assert(!answer_day(house, &rows[i].question, &answer, &error));
        ck_assert_msg(strstr(error_message(&error), rows[i].want) != NULL, "%s", error_message(&error));
        ck_assert(answer.unknown_id == rows[i].unknown_id);
        error_done(&error);
        day_answer_done(&answer);
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("answer_day");
    TCase *days = tcase_create("days");
    tcase_add_checked_fixture(days, setup, teardown);
    tcase_add_test(days, the_busiest_day_is_one_of_the_weekend);
    tcase_add_test(days, a_plot_has_the_rating_at_the_edge_of_a_row);
    tcase_add_test(days, a_panel_may_have_the_id_of_a_branch);
    tcase_add_test(days, without_an_id_all_are_asked);
    tcase_add_test(days, words_that_are_none_are_refused);
    suite_add_tcase(suite, days);
    return suite;
}
