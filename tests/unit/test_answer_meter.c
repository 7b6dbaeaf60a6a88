/* What a meter saw of a day, by hand: 100 Wh an hour, 1,100 Wh from 18:00; a lamp of 100 W all day, off in one hour. */
#include <string.h>

#include "ampsum/answer_meter.h"
#include "ampsum/housefile.h"
#include "runner.h"

static const char text[] = "[house]\nname = Test\nrules = iec\nsystem = single-phase\nmain_breaker = 63 A\n"
                           "[branch a]\nlabel = a\nbreaker = 16 A\n"
                           "[appliance lamp]\nname = Lamp\nbranch = a\npower = 100 W\nuse = 00:00-24:00\n";

enum { HOUR_S = 3600, EMPTY_HOUR = 3, FULL_HOUR = 18 };

/* 22 x 0.1 + 1.1 = 3.3 kWh metered, 2.4 listed: 72.7 %; 1,000 W lack from 18:00, 100 W too much from 03:00. */
START_TEST(the_list_is_held_against_each_hour)
{
    const int64_t monday_s = 1767571200; /* 2026-01-05T00:00Z */
    struct meter_reading readings[METER_HOURS];
    struct house *house = NULL;
    struct error error = {0};
    struct meter_answer answer;
    for (int hour = 0; hour < METER_HOURS; hour++) {
        const int64_t wh = hour == FULL_HOUR ? 1100 : hour == EMPTY_HOUR ? 0 : 100;
        readings[hour] = (struct meter_reading){monday_s + hour * HOUR_S, wh * METER_UWH_PER_WH, HOUR_S, 0};
    }
    ck_assert_msg(housefile_read_house_bytes("test", text, strlen(text), &house, &error), "%s", error_message(&error));
    answer_meter(house, readings, METER_HOURS, &answer);
    ck_assert_double_eq_tol(answer.all.metered_kwh, 3.3, 1e-9);
    ck_assert_double_eq_tol(answer.all.explained_percent, 100 * 2.4 / 3.3, 1e-9);
    ck_assert_int_eq(answer.lack, FULL_HOUR);
    ck_assert_double_eq_tol(answer.hours[answer.lack].to_add_w, 1000, 1e-6);
    ck_assert_int_eq(answer.excess, EMPTY_HOUR);
    ck_assert_double_eq_tol(answer.hours[answer.excess].to_add_w, -100, 1e-6);
    ck_assert_uint_eq(answer.day_count, 1);
    ck_assert_uint_eq(answer.month_count, 1);
    ck_assert_int_eq(answer.end_s, monday_s + METER_HOURS * HOUR_S);
    meter_answer_done(&answer);
    house_free(house);
}
END_TEST

/* A maximum over a quarter of an hour is told by readings of that length, not by those of an hour. */
START_TEST(short_readings_tell_a_demand)
{
    static const char home[] = "[house]\nname = Test\nrules = us\nmain_breaker = 100 A\n"
                               "[branch a]\nlabel = a\nbreaker = 20 A\nlegs = A\n";
    struct house *house = NULL;
    struct error error = {0};
    ck_assert_msg(housefile_read_house_bytes("test", home, strlen(home), &house, &error), "%s", error_message(&error));
    for (int quarters = 1; quarters <= 4; quarters += 3) {
        const int length_s = HOUR_S / 4 * quarters;
        struct meter_reading readings[METER_HOURS];
        struct meter_answer answer;
        for (int i = 0; i < METER_HOURS; i++) {
            readings[i] = (struct meter_reading){1767571200 + i * length_s, METER_UWH_PER_WH, length_s, 0};
        }
        answer_meter(house, readings, METER_HOURS, &answer);
        ck_assert_int_eq(meter_tells_demand(&answer), quarters == 1);
        meter_answer_done(&answer);
    }
    house_free(house);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("answer_meter");
    TCase *meter = tcase_create("meter");
    tcase_add_test(meter, the_list_is_held_against_each_hour);
    tcase_add_test(meter, short_readings_tell_a_demand);
    suite_add_tcase(suite, meter);
    return suite;
}
