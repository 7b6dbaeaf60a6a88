/* The year's energy and money: published bills, and the rules one by one. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/energy.h"
#include "energy_house.h"
#include "fixture.h"
#include "runner.h"

/* ------------------------------------------------------------------ outside values ------------------------ */

/* `cost_apr`, `kwh_jan,feb`: months together; `cost_1`: an appliance's year; else a figure of the house. */
static double answer(const struct energy_bill *bill, const char *ask)
{
    const struct {
        const char *name;
        double value;
    } answers[] = {
        {"kwh_year", bill->kwh_year},
        {"kwh_day", bill->kwh_day},
        {"kwh_month", bill->kwh_year / 12.0},
        {"cost_year", strtod(bill->cost_year, NULL)},
        {"cost_day", strtod(bill->cost_day, NULL)},
        {"cost_month", strtod(bill->cost_month, NULL)},
        {"tax", strtod(bill->tax, NULL)},
        {"cost_1", strtod(bill->appliances[0].cost_year, NULL)},
    };
    for (size_t i = 0; i < sizeof answers / sizeof answers[0]; i++) {
        if (strcmp(answers[i].name, ask) == 0) {
            return answers[i].value;
        }
    }
    bool cost = strncmp(ask, "cost_", 5) == 0;
    ck_assert_msg(cost || strncmp(ask, "kwh_", 4) == 0, "unknown: %s", ask);
    unsigned months = fixture_months(strchr(ask, '_') + 1);
    double sum = 0.0;
    for (unsigned month = 0; month < MONTHS_IN_YEAR; month++) {
        double value = cost ? strtod(bill->months[month].cost, NULL) : bill->months[month].kwh;
        sum += (months >> month & 1U) != 0 ? value : 0.0;
    }
    return sum;
}

static void test_outside_row(const struct outside *row)
{
    char inputs[TEXT_ROOM];
    char *parts[32];
    ck_assert_uint_lt(strlen(row->inputs), sizeof inputs);
    memcpy(inputs, row->inputs, strlen(row->inputs) + 1);
    int count = fixture_split(inputs, ' ', parts, 32);
    ck_assert_msg(strncmp(parts[0], "ask=", 4) == 0, "%s: what is asked comes first", row->id);
    struct house *house = house_of_words(parts + 1, count - 1);
    const char *minor = value_in(house, parts, count, "decimals=");
    struct energy_bill bill;
    energy_year_rows(house, 0, minor == NULL ? 6 : (int)strtol(minor, NULL, 10), ENERGY_ALL, house->arena, &bill);
    fixture_check(row, answer(&bill, parts[0] + 4));
    house_free(house);
}

START_TEST(outside_values_of_bills)
{
    fixture_outside("energy.tsv", 90, test_outside_row);
}
END_TEST

/* ------------------------------------------------------------------ edges --------------------------------- */

START_TEST(rows_as_each_rule_says)
{
    const struct {
        const char *words;
        double kwh_year;
        double standby_kwh_year;
        bool spread;
    } cases[] = {
        {"price=0 load=1000W;use=06:00-07:00", 365.0, 0.0, false},
        {"price=0 load=1000W", 0.0, 0.0, false},                         /* neither windows nor hours */
        {"price=0 load=1000W;standby=10", 87.6, 87.6, false},            /* standby alone */
        {"price=0 load=1000W;h=12;standby=10", 4380 + 43.8, 43.8, true}, /* spread over the day */
        {"price=0 load=1000W;h=24;standby=10", 8760.0, 0.0, true},       /* never off */
        {"price=0 load=1000W;h=1;use=00:00-04:00", 365.0, 0.0, false},   /* spread over its windows */
        {"price=0 load=1000W;h=0;use=00:00-04:00;standby=10", 87.6, 87.6, false},
        {"price=0 load=1000W;use=06:00-07:00;duty=25;count=3", 273.75, 0.0, false},
        {"price=0 load=1000W;duty=0;h=24", 0.0, 0.0, true},
        {"price=0 load=1000W;use=06:00-07:00;days=sat,sun", 104.0, 0.0, false}, /* 52 of each */
        {"price=0 load=1000W;use=06:00-07:00;days=mon", 53.0, 0.0, false},      /* from Monday 1 January */
        {"price=0 load=1000W;use=22:00-02:00;months=dec;days=sun", 5 * 4.0 + 2.0, 0.0,
         false}, /* and from 31 December before */
        {"price=0 load=1000W;use=22:00-02:00;months=dec", 31 * 4.0 - 2.0 + 2.0, 0.0, false},
        {"price=0 load=1000W;use=22:00-02:00;months=jan", 31 * 4.0, 0.0, false}, /* its last night ends in February */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct house *house = house_of(cases[i].words);
        struct energy_bill bill;
        energy_year_rows(house, 0, 2, ENERGY_ALL, house->arena, &bill);
        const struct energy_row *row = &bill.appliances[0];
        ck_assert_msg(row->kwh_year == cases[i].kwh_year && row->standby_kwh_year == cases[i].standby_kwh_year,
                      "%s: got %.17g kWh, standby %.17g", cases[i].words, row->kwh_year, row->standby_kwh_year);
        ck_assert(row->spread_over_day == cases[i].spread);
        house_free(house);
    }
}
END_TEST

START_TEST(the_night_belongs_to_the_month_in_which_it_is_drawn)
{
    struct house *house = house_of("price=1 load=1000W;use=22:00-02:00;months=jan");
    struct energy_bill bill;
    energy_year_rows(house, 0, 2, ENERGY_ALL, house->arena, &bill);
    ck_assert(bill.months[0].kwh == 31 * 4.0 - 2.0 && bill.months[1].kwh == 2.0 && bill.months[2].kwh == 0.0);
    ck_assert_str_eq(bill.months[1].cost, "2.00");
    house_free(house);
}
END_TEST

START_TEST(money_is_rounded_half_up_once)
{
    const struct {
        const char *words;
        int minor_units;
        const char *cost_year;
        const char *cost_day;
    } cases[] = {
        {"price=0.135 load=1000W;h=1", 2, "49.28", "0.14"}, /* 49.275 and 0.135 */
        {"price=0.135 load=1000W;h=1", 0, "49", "0"},
        {"price=0.5 load=1000W;h=1", 0, "183", "1"}, /* 182.5 and 0.5 */
        {"price=0.004 load=1000W;h=1", 2, "1.46", "0.00"},
        {"price=0.005 load=1000W;h=1", 2, "1.83", "0.01"}, /* 1.825 and 0.005 */
        {"price=0.0049999 load=1000W;h=1", 2, "1.82", "0.00"},
        {"price=0.1 load=1000W;h=1", 3, "36.500", "0.100"},
        {"price=0 load=1000W;h=1", 2, "0.00", "0.00"},
        {"price=0 standing=0.01 tax=50 load=1000W;h=1", 3, "5.475", "0.015"},
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct house *house = house_of(cases[i].words);
        struct energy_bill bill;
        energy_year_rows(house, 0, cases[i].minor_units, ENERGY_ALL, house->arena, &bill);
        ck_assert_str_eq(bill.cost_year, cases[i].cost_year);
        ck_assert_str_eq(bill.cost_day, cases[i].cost_day);
        house_free(house);
    }
}
END_TEST

START_TEST(no_tariff_no_money)
{
    struct house *house = house_of("price=1 load=1000W;h=1");
    struct energy_bill bill;
    energy_year_rows(house, NO_INDEX, 2, ENERGY_ALL, house->arena, &bill);
    ck_assert(bill.kwh_year == 365.0 && bill.kwh_day == 1.0);
    ck_assert(bill.cost_year == NULL && bill.tax == NULL && bill.months[3].cost == NULL);
    ck_assert(bill.appliances[0].cost_year == NULL && bill.branches[0].cost_day == NULL);
    ck_assert(bill.branches[0].kwh_year == 365.0);
    energy_year_rows(house, NO_INDEX, 2, ENERGY_BRANCHES, house->arena, &bill);
    ck_assert(bill.appliances == NULL && bill.rooms == NULL && bill.branches[0].kwh_year == 365.0);
    house_free(house);
}
END_TEST

/* Numbers beyond what a machine word holds go the slow way and give the same. */
START_TEST(large_and_fine_numbers_stay_exact)
{
    struct house *house = house_of("price=0.1 load=1W;h=1;standby=1 load=1W;h=1 load=1W;h=1");
    house->appliances[0].power_w = 4e15;
    house->appliances[0].count = 10000;
    house->appliances[1].duty_percent = 12.345678901234567;
    house->appliances[2].power_w = 1e24;
    struct energy_bill bill;
    energy_year_rows(house, 0, 2, ENERGY_ALL, house->arena, &bill);
    ck_assert_str_eq(bill.appliances[0].cost_year,
                     "1460000000000008395.00"); /* 10000 times 4e15 W for 1 h and 1 W for 23 h */
    ck_assert_str_eq(bill.appliances[1].cost_year, "0.00");
    ck_assert(bill.appliances[1].kwh_year == 0.365 * 0.12345678901234567);
    ck_assert_str_eq(bill.appliances[2].cost_year, "36500000000000000000000.00");
    house_free(house);
}
END_TEST

/*
 * By hand. 0.30 a kWh and 20 % tax: 1.5 kW for an hour, 1.5 * 0.30 * 1.20 = 0.54, whatever the standing charge. With
 * 730 kWh at 0.20 and 365 kWh at 0.08 the mean is (146.00 + 29.20) / 1095 = 0.16: 0.5 kW for an hour are 0.08.
 */
START_TEST(an_hour_at_the_mean_price_of_the_year)
{
    static const struct {
        const char *words;
        double power_w;
        int minor_units;
        const char *want; /* NULL: no money */
    } cases[] = {
        {"price=0.30 tax=20 standing=1 load=1000W;h=1", 1500, 2, "0.54"},
        {"price=0.30 tax=20 standing=1 load=1000W;h=1", 0, 2, "0.00"},
        {"price=0.30 load=1000W;h=1", 1500, 3, "0.450"},
        {"price=30 load=1000W;h=1", 1500, 0, "45"},
        {"price=0.20 period=0.08;hours=22:00-24:00 load=2000W;use=06:00-07:00 load=1000W;use=22:00-23:00", 500, 2,
         "0.08"},
        {"price=0.30 load=1000W", 1500, 2, NULL}, /* no energy in the year: no mean price */
    };
    for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
        struct house *house = house_of(cases[i].words);
        struct energy_bill bill;
        energy_year_rows(house, 0, cases[i].minor_units, ENERGY_ALL, house->arena, &bill);
        const char *cost = energy_hour_cost(house, &bill, cases[i].minor_units, cases[i].power_w, house->arena);
        ck_assert_msg((cost == NULL) == (cases[i].want == NULL), "%s", cases[i].words);
        if (cost != NULL) {
            ck_assert_str_eq(cost, cases[i].want);
        }
        house_free(house);
    }
}
END_TEST

START_TEST(an_hour_without_a_tariff_has_no_price)
{
    struct house *house = house_of("price=1 load=1000W;h=1");
    struct energy_bill bill;
    energy_year_rows(house, NO_INDEX, 2, ENERGY_ALL, house->arena, &bill);
    ck_assert_ptr_null(energy_hour_cost(house, &bill, 2, 1000, house->arena));
    house_free(house);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("energy");
    TCase *tests = tcase_create("energy");
    tcase_set_timeout(tests, 100);
    tcase_add_test(tests, outside_values_of_bills);
    tcase_add_test(tests, rows_as_each_rule_says);
    tcase_add_test(tests, the_night_belongs_to_the_month_in_which_it_is_drawn);
    tcase_add_test(tests, money_is_rounded_half_up_once);
    tcase_add_test(tests, no_tariff_no_money);
    tcase_add_test(tests, large_and_fine_numbers_stay_exact);
    tcase_add_test(tests, an_hour_at_the_mean_price_of_the_year);
    tcase_add_test(tests, an_hour_without_a_tariff_has_no_price);
    suite_add_tcase(suite, tests);
    return suite;
}
