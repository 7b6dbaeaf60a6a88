/* The year's energy and money against a walk over all 525,600 minutes with exact fractions. */
#include <gmp.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/energy.h"
#include "energy_house.h"
#include "fixture.h"
#include "runner.h"

enum { YEAR_DAYS = 365, YEAR_MINUTES = YEAR_DAYS * MINUTES_IN_DAY };

static const int days_of_month[MONTHS_IN_YEAR] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

/* ------------------------------------------------------------------ the walk over every minute ------------ */

/* One byte a minute of the year: is a window open that started on one of the days, in one of the months? */
static void mark_year(const struct window_list *windows, unsigned days, unsigned months, unsigned char mark,
                      unsigned char *year)
{
    int date = -1; /* Sunday 31 December of the year before */
    for (int at = -1; at < MONTHS_IN_YEAR; at++) {
        int month = at < 0 ? 11 : at;
        for (int i = 0; i < (at < 0 ? 1 : days_of_month[month]); i++, date++) {
            if ((months >> month & 1U) == 0 || (days >> (date + 7) % 7 & 1U) == 0) {
                continue;
            }
            for (size_t k = 0; k < windows->count; k++) {
                int length = windows->window[k].end_min - windows->window[k].start_min;
                length += length <= 0 ? MINUTES_IN_DAY : 0;
                for (int minute = 0; minute < length; minute++) {
                    int place = date * MINUTES_IN_DAY + windows->window[k].start_min + minute;
                    if (place >= 0 && place < YEAR_MINUTES) {
                        year[place] = mark;
                    }
                }
            }
        }
    }
}

/* The decimal a double was written as; the tests use at most six places. */
static void decimal(mpq_t ret_value, double value)
{
    mpq_set_ui(ret_value, (unsigned long)llround(value * 1e6), 1000000);
    mpq_canonicalize(ret_value);
}

static void decimal_text(mpq_t ret_value, const char *text)
{
    decimal(ret_value, text == NULL ? 0.0 : strtod(text, NULL));
}

/* Half-up to `places`, as text. */
static const char *money(const mpq_t value, int places, struct arena *arena)
{
    mpz_t whole;
    mpz_init(whole);
    mpz_ui_pow_ui(whole, 10, (unsigned long)places);
    mpz_mul(whole, whole, mpq_numref(value));
    mpz_mul_ui(whole, whole, 2);
    mpz_add(whole, whole, mpq_denref(value));
    mpz_t bottom;
    mpz_init_set(bottom, mpq_denref(value));
    mpz_mul_ui(bottom, bottom, 2);
    mpz_fdiv_q(whole, whole, bottom);
    char *digits = arena_take(arena, mpz_sizeinbase(whole, 10) + 8);
    gmp_snprintf(digits, mpz_sizeinbase(whole, 10) + 8, "%0*Zd", places + 1, whole);
    mpz_clears(whole, bottom, NULL);
    if (places == 0) {
        return digits;
    }
    size_t length = strlen(digits);
    memmove(digits + length - (size_t)places + 1, digits + length - (size_t)places, (size_t)places + 1);
    digits[length - (size_t)places] = '.';
    return digits;
}

/* Minutes of each load, on and off, by month and price. */
struct walk {
    unsigned long on_min[LOADS_MOST][MONTHS_IN_YEAR][PERIODS_MOST + 1];
    unsigned long off_min[LOADS_MOST][MONTHS_IN_YEAR][PERIODS_MOST + 1];
};

static void walk_year(const struct house *house, struct walk *walk)
{
    static unsigned char open[YEAR_MINUTES];
    static unsigned char price[YEAR_MINUTES];
    static struct window all_day = {0, MINUTES_IN_DAY};
    memset(walk, 0, sizeof *walk);
    memset(price, 0, sizeof price);
    for (size_t i = 0; i < house->period_count; i++) {
        const struct period *period = &house->periods[i];
        mark_year(&period->hours, period->days, period->months, (unsigned char)(i + 1), price);
    }
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *load = &house->appliances[i];
        struct window_list whole = {&all_day, 1};
        bool spread = load->use.count == 0 && load->on_time_s > 0.0;
        memset(open, 0, sizeof open);
        mark_year(spread ? &whole : &load->use, load->days, load->months, 1, open);
        int minute = 0;
        for (int month = 0; month < MONTHS_IN_YEAR; month++) {
            for (int k = 0; k < days_of_month[month] * MINUTES_IN_DAY; k++, minute++) {
                (open[minute] ? walk->on_min : walk->off_min)[i][month][price[minute]]++;
            }
        }
    }
}

/* kWh of one minute on, and of one minute off, of all units, as exact fractions. */
static void rates(const struct appliance *load, mpq_t ret_on, mpq_t ret_off)
{
    mpq_t power, part, length;
    mpq_inits(power, part, length, NULL);
    /* resistive at another voltage: P times the square of V over Vr, in whole microwatts, half-up */
    decimal(part, 230.0);
    decimal(power, load->rated_voltage_v);
    mpq_div(part, part, power);
    mpq_mul(part, part, part);
    decimal(power, load->power_w);
    mpq_mul(power, power, part);
    mpq_set_ui(part, 1000000, 1);
    mpq_mul(power, power, part);
    mpq_set_ui(part, 1, 2);
    mpq_add(power, power, part);
    mpz_fdiv_q(mpq_numref(power), mpq_numref(power), mpq_denref(power));
    mpz_set_ui(mpq_denref(power), 1000000);
    mpq_canonicalize(power);
    decimal(part, load->duty_percent / 100.0);
    mpq_mul(power, power, part);
    decimal(ret_off, load->standby_w);
    int window_min = load->use.count == 0 && load->on_time_s > 0.0 ? MINUTES_IN_DAY : 0;
    for (size_t i = 0; i < load->use.count; i++) {
        int one = load->use.window[i].end_min - load->use.window[i].start_min;
        window_min += one <= 0 ? one + MINUTES_IN_DAY : one;
    }
    decimal(part, load->on_time_s);
    mpq_set_ui(length, window_min == 0 ? 1UL : 60UL * (unsigned long)window_min, 1);
    mpq_div(part, part, length); /* f */
    mpq_sub(power, power, ret_off);
    mpq_mul(power, power, part);
    mpq_add(ret_on, power, ret_off); /* f P duty + (1 - f) standby */
    mpq_set_ui(part, load->count, 60000);
    mpq_canonicalize(part);
    mpq_mul(ret_on, ret_on, part);
    mpq_mul(ret_off, ret_off, part);
    mpq_clears(power, part, length, NULL);
}

/* Energies of the walk, and what they cost: of each load by month, of the house by month. */
struct sums {
    mpq_t kwh[LOADS_MOST][MONTHS_IN_YEAR];
    mpq_t charge[LOADS_MOST][MONTHS_IN_YEAR]; /* by the price of each minute */
    mpq_t month_kwh[MONTHS_IN_YEAR];
    mpq_t month_charge[MONTHS_IN_YEAR];
};

static void each_sum(struct sums *sums, void (*call)(mpq_t))
{
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        for (int i = 0; i < LOADS_MOST; i++) {
            call(sums->kwh[i][month]);
            call(sums->charge[i][month]);
        }
        call(sums->month_kwh[month]);
        call(sums->month_charge[month]);
    }
}

static void add_minutes(mpq_t sum, const mpq_t rate, unsigned long minutes, const mpq_t price)
{
    mpq_t part;
    mpq_init(part);
    mpq_set_ui(part, minutes, 1);
    mpq_mul(part, part, rate);
    mpq_mul(part, part, price);
    mpq_add(sum, sum, part);
    mpq_clear(part);
}

static void sum_walk(const struct house *house, const struct walk *walk, struct sums *sums)
{
    mpq_t on, off, one, price;
    mpq_inits(on, off, one, price, NULL);
    mpq_set_ui(one, 1, 1);
    for (size_t i = 0; i < house->appliance_count; i++) {
        rates(&house->appliances[i], on, off);
        for (int month = 0; month < MONTHS_IN_YEAR; month++) {
            for (size_t p = 0; p <= house->period_count; p++) {
                decimal_text(price, p == 0 ? house->tariffs[0].price : house->periods[p - 1].price);
                add_minutes(sums->kwh[i][month], on, walk->on_min[i][month][p], one);
                add_minutes(sums->kwh[i][month], off, walk->off_min[i][month][p], one);
                add_minutes(sums->charge[i][month], on, walk->on_min[i][month][p], price);
                add_minutes(sums->charge[i][month], off, walk->off_min[i][month][p], price);
            }
            mpq_add(sums->month_kwh[month], sums->month_kwh[month], sums->kwh[i][month]);
            mpq_add(sums->month_charge[month], sums->month_charge[month], sums->charge[i][month]);
        }
    }
    mpq_clears(on, off, one, price, NULL);
}

/* Under blocks: the month's charge from its kWh, and each load's part of it by kWh. */
static void apply_blocks(const struct house *house, struct sums *sums)
{
    const struct block_list *blocks = &house->tariffs[0].blocks;
    mpq_t rest, step, price;
    mpq_inits(rest, step, price, NULL);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        mpq_set_ui(sums->month_charge[month], 0, 1);
        mpq_t used;
        mpq_init(used);
        for (size_t i = 0; i < blocks->count; i++) {
            mpq_sub(rest, sums->month_kwh[month], used);
            if (blocks->block[i].upper_kwh != NULL) {
                decimal_text(step, blocks->block[i].upper_kwh);
                mpq_set_ui(price, (unsigned long)days_of_month[month], (unsigned long)house->billing_days);
                mpq_canonicalize(price);
                mpq_mul(step, step, price);
                mpq_sub(step, step, used);
                if (mpq_cmp(step, rest) < 0) {
                    mpq_set(rest, step);
                }
            }
            decimal_text(price, blocks->block[i].price);
            mpq_mul(price, price, rest);
            mpq_add(sums->month_charge[month], sums->month_charge[month], price);
            mpq_add(used, used, rest);
        }
        mpq_clear(used);
        for (size_t i = 0; i < house->appliance_count && mpq_sgn(sums->month_kwh[month]) > 0; i++) {
            mpq_mul(sums->charge[i][month], sums->month_charge[month], sums->kwh[i][month]);
            mpq_div(sums->charge[i][month], sums->charge[i][month], sums->month_kwh[month]);
        }
    }
    mpq_clears(rest, step, price, NULL);
}

static void add_year(mpq_t *months, mpq_t ret_sum)
{
    mpq_set_ui(ret_sum, 0, 1);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        mpq_add(ret_sum, ret_sum, months[month]);
    }
}

static void assert_same_energy(const mpq_t want, double got, int round, const char *what)
{
    double want_kwh = mpq_get_d(want);
    ck_assert_msg(fabs(got - want_kwh) <= 4e-16 * want_kwh, "round %d, %s: got %.17g, want %.17g", round, what, got,
                  want_kwh);
}

static void check_loads(const struct house *house, struct sums *sums, const mpq_t with_tax,
                        const struct energy_bill *bill, int round)
{
    mpq_t sum, day;
    mpq_inits(sum, day, NULL);
    for (size_t i = 0; i < house->appliance_count; i++) {
        add_year(sums->kwh[i], sum);
        assert_same_energy(sum, bill->appliances[i].kwh_year, round, "a load");
        add_year(sums->charge[i], sum);
        mpq_mul(sum, sum, with_tax);
        ck_assert_str_eq(bill->appliances[i].cost_year, money(sum, 2, house->arena));
        mpq_set_ui(day, 1, YEAR_DAYS);
        mpq_mul(sum, sum, day);
        ck_assert_str_eq(bill->appliances[i].cost_day, money(sum, 2, house->arena));
    }
    mpq_clears(sum, day, NULL);
}

/* The branch holds every load, the room every second one. */
static void check_sums_of_loads(const struct house *house, struct sums *sums, const mpq_t with_tax,
                                const struct energy_bill *bill, int round)
{
    mpq_t branch[2], room[2], sum;
    mpq_inits(branch[0], branch[1], room[0], room[1], sum, NULL);
    for (size_t i = 0; i < house->appliance_count; i++) {
        for (int k = 0; k < 2; k++) {
            add_year(k == 0 ? sums->kwh[i] : sums->charge[i], sum);
            mpq_add(branch[k], branch[k], sum);
            if (house->appliances[i].room == 0) {
                mpq_add(room[k], room[k], sum);
            }
        }
    }
    mpq_mul(branch[1], branch[1], with_tax);
    mpq_mul(room[1], room[1], with_tax);
    assert_same_energy(branch[0], bill->branches[0].kwh_year, round, "the branch");
    assert_same_energy(room[0], bill->rooms[0].kwh_year, round, "the room");
    ck_assert_str_eq(bill->branches[0].cost_year, money(branch[1], 2, house->arena));
    ck_assert_str_eq(bill->rooms[0].cost_year, money(room[1], 2, house->arena));
    mpq_clears(branch[0], branch[1], room[0], room[1], sum, NULL);
}

static void check_house(const struct house *house, struct sums *sums, const mpq_t with_tax,
                        const struct energy_bill *bill, int round)
{
    mpq_t sum, standing, days;
    mpq_inits(sum, standing, days, NULL);
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        assert_same_energy(sums->month_kwh[month], bill->months[month].kwh, round, "a month");
        decimal_text(standing, house->tariffs[0].standing);
        mpq_set_ui(days, (unsigned long)days_of_month[month], 1);
        mpq_mul(standing, standing, days);
        mpq_add(sum, sums->month_charge[month], standing);
        mpq_mul(sum, sum, with_tax);
        ck_assert_str_eq(bill->months[month].cost, money(sum, 2, house->arena));
    }
    add_year(sums->month_kwh, sum);
    assert_same_energy(sum, bill->kwh_year, round, "the year");
    add_year(sums->month_charge, sum);
    ck_assert_str_eq(bill->energy_cost, money(sum, 2, house->arena));
    decimal_text(standing, house->tariffs[0].standing);
    mpq_set_ui(days, YEAR_DAYS, 1);
    mpq_mul(standing, standing, days);
    ck_assert_str_eq(bill->standing_cost, money(standing, 2, house->arena));
    mpq_add(standing, standing, sum);
    mpq_mul(sum, standing, with_tax);
    ck_assert_str_eq(bill->cost_year, money(sum, 2, house->arena));
    mpq_sub(standing, sum, standing);
    ck_assert_str_eq(bill->tax, money(standing, 2, house->arena));
    mpq_div(days, sum, days);
    ck_assert_str_eq(bill->cost_day, money(days, 2, house->arena));
    mpq_set_ui(days, 12, 1);
    mpq_div(days, sum, days);
    ck_assert_str_eq(bill->cost_month, money(days, 2, house->arena));
    mpq_clears(sum, standing, days, NULL);
}

/* ------------------------------------------------------------------ random houses ------------------------- */

static const char *random_price(struct house *house, uint64_t *state)
{
    char text[16];
    unsigned value = fixture_random(state, 50000);
    int length = snprintf(text, sizeof text, "0.%05u", value);
    return arena_copy_length(house->arena, text, (size_t)length);
}

static void random_periods(struct house *house, uint64_t *state)
{
    struct window_list windows = fixture_random_windows(house, state);
    for (size_t i = 0; i < windows.count; i++) {
        struct period *period = add_period(house, random_price(house, state));
        period->hours = (struct window_list){.window = &windows.window[i], .count = 1};
        period->days = fixture_random(state, 2) == 0 ? DAYS_WEEKDAYS : 1 + fixture_random(state, DAYS_ALL);
        period->months = fixture_random(state, 2) == 0 ? MONTHS_ALL : 1 + fixture_random(state, MONTHS_ALL);
    }
}

static void random_load(struct house *house, uint64_t *state)
{
    struct appliance *load = fixture_appliance(house, 0, (1 + fixture_random(state, 30000)) / 10.0);
    load->rated_voltage_v = fixture_random(state, 3) == 0 ? 220.0 + fixture_random(state, 21) : 230.0;
    load->count = 1 + fixture_random(state, 4);
    load->duty_percent = fixture_random(state, 2) == 0 ? 100.0 : fixture_random(state, 1000) / 10.0;
    load->standby_w = fixture_random(state, 2) == 0 ? 0.0 : fixture_random(state, 5000) / 100.0;
    load->days = fixture_random(state, 2) == 0 ? DAYS_ALL : 1 + fixture_random(state, DAYS_ALL);
    load->months = fixture_random(state, 2) == 0 ? MONTHS_ALL : 1 + fixture_random(state, MONTHS_ALL);
    load->room = fixture_random(state, 2) == 0 ? 0 : NO_INDEX;
    load->use = fixture_random_windows(house, state);
    resolve_hours(load);
    if (fixture_random(state, 2) == 0) {
        double most_s = load->use.count == 0 ? 86400.0 : load->on_time_s;
        load->on_time_s = floor(most_s * fixture_random(state, 100)) / 100.0;
    }
}

static struct house *random_house(uint64_t *state)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 230.0, 1, LOADS_MOST);
    fixture_branch(house, LEG_A, 16.0);
    house->room_count = 1;
    house->billing_days = fixture_random(state, 2) == 0 ? 30 : 28 + (int)fixture_random(state, 65);
    add_tariff(house);
    struct tariff *tariff = &house->tariffs[0];
    tariff->standing = fixture_random(state, 2) == 0 ? NULL : random_price(house, state);
    tariff->tax_percent = fixture_random(state, 2) == 0 ? NULL : "8.875";
    unsigned kind = fixture_random(state, 3);
    if (kind == 0) {
        char blocks[] = "20.5:0.14,150:0.19,400:0.07,rest:0.24";
        set_blocks(house, blocks);
    } else {
        tariff->price = random_price(house, state);
        if (kind == 1) {
            random_periods(house, state);
        }
    }
    unsigned count = fixture_random(state, 6);
    for (unsigned i = 0; i < count; i++) {
        random_load(house, state);
    }
    fixture_finish(house);
    return house;
}

static void check_round(const struct house *house, int round)
{
    static struct walk walk;
    static struct sums sums;
    walk_year(house, &walk);
    each_sum(&sums, mpq_init);
    sum_walk(house, &walk, &sums);
    if (house->tariffs[0].blocks.count > 0) {
        apply_blocks(house, &sums);
    }
    mpq_t with_tax, one;
    mpq_inits(with_tax, one, NULL);
    decimal_text(with_tax, house->tariffs[0].tax_percent);
    mpq_set_ui(one, 100, 1);
    mpq_div(with_tax, with_tax, one);
    mpq_set_ui(one, 1, 1);
    mpq_add(with_tax, with_tax, one);
    struct energy_bill bill;
    energy_year_rows(house, 0, 2, ENERGY_ALL, house->arena, &bill);
    check_house(house, &sums, with_tax, &bill, round);
    check_loads(house, &sums, with_tax, &bill, round);
    check_sums_of_loads(house, &sums, with_tax, &bill, round);
    mpq_clears(with_tax, one, NULL);
    each_sum(&sums, mpq_clear);
}

START_TEST(the_bill_is_that_of_a_walk_over_every_minute)
{
    uint64_t state = 5;
    for (int round = 0; round < DRAWS(150); round++) {
        struct house *house = random_house(&state);
        check_round(house, round);
        house_free(house);
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("energy_walk");
    TCase *tests = tcase_create("energy_walk");
    tcase_set_timeout(tests, 100);
    tcase_add_test(tests, the_bill_is_that_of_a_walk_over_every_minute);
    suite_add_tcase(suite, tests);
    return suite;
}
