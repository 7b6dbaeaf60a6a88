#include "energy_tally.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/engine.h"

#include "terms.h"

/* Up to WIDE_MOST_W a double holds whole microwatts. */
enum { PERCENT = 100, PLACES_MOST_WIDE = 12, MICRO_PLACES = 6, WIDE_MOST_W = 1000000000 };

/* What goes into one appliance's rate. */
struct parts {
    struct window_list windows;
    double power_w; /* of one unit while on */
    double standby_w;
    struct decimal duty;    /* percent */
    struct decimal on_time; /* seconds; of no meaning in class 0 */
    unsigned window_class;
    unsigned count;
};

bool is_spread_over_day(const struct appliance *appliance)
{
    return appliance->use.count == 0 && appliance_energy_time_s(appliance) > 0.0;
}

/* Whole microwatts, half-up, up to WIDE_MOST_W. What falls short of a half by the last bit alone is that half. */
static int64_t whole_microwatts(double power_w)
{
    double power_uw = power_w * 1e6;
    return (int64_t)(power_uw + power_uw * 4e-16 + 0.5);
}

/* The windows on which the on-time falls: none, those given, or the whole day. */
static struct window_list on_windows(const struct appliance *appliance, double on_time_s)
{
    static struct window all_day = {0, MINUTES_IN_DAY};
    if (!(on_time_s > 0.0)) {
        return (struct window_list){NULL, 0};
    }
    return appliance->use.count > 0 ? appliance->use : (struct window_list){&all_day, 1};
}

static struct parts parts_of(const struct house *house, const struct appliance *appliance)
{
    const double on_time_s = appliance_energy_time_s(appliance);
    struct window_list windows = on_windows(appliance, on_time_s);
    int length_min = windows_length_min(&windows);
    assert(length_min <= MINUTES_IN_DAY);
    bool whole = on_time_s == length_min * 60.0;
    double voltage_v = house->branches[appliance->branch].voltage_v;
    return (struct parts){
        .windows = windows,
        .power_w = appliance_power_w(house, appliance, voltage_v),
        .standby_w = appliance_is_load(appliance) ? appliance->standby_w : 0,
        .duty = decimal_of(appliance->duty_percent),
        .on_time = decimal_of(whole ? 0.0 : on_time_s),
        .window_class = whole ? 0 : (unsigned)length_min,
        .count = appliance->count,
    };
}

/* ------------------------------------------------------------------ set up -------------------------------- */

static int bits_of(uint64_t value)
{
    return value == 0 ? 0 : 64 - __builtin_clzll(value);
}

/* The most decimals of duties and on-times; most appliances say what the one before them said. */
static void find_places(struct tally *tally)
{
    double duty_percent = PERCENT;
    double on_time_s = 0;
    for (size_t i = 0; i < tally->house->appliance_count; i++) {
        const struct appliance *appliance = &tally->house->appliances[i];
        if (appliance->duty_percent != duty_percent) {
            duty_percent = appliance->duty_percent;
            const int places = decimal_of(duty_percent).places;
            tally->duty_places = places > tally->duty_places ? places : tally->duty_places;
        }
        const double time_s = appliance_energy_time_s(appliance);
        if (time_s != on_time_s) {
            on_time_s = time_s;
            const int places = decimal_of(on_time_s).places;
            tally->time_places = places > tally->time_places ? places : tally->time_places;
        }
    }
}

/* Denominator of a class: windows in seconds times the decimals of the on-time, and the hundred of the duty. */
static void class_bottom(const struct tally *tally, unsigned window_class, mpz_t ret_bottom)
{
    int places = tally->duty_places + (window_class == 0 ? 0 : tally->time_places);
    power_of_ten(ret_bottom, places);
    mpz_mul_ui(ret_bottom, ret_bottom, PERCENT);
    if (window_class != 0) {
        mpz_mul_ui(ret_bottom, ret_bottom, 60UL * window_class);
    }
}

void tally_init(struct tally *tally, const struct house *house, struct prices *prices, bool by_month)
{
    *tally = (struct tally){
        .house = house, .prices = prices, .by_month = by_month, .gather = {.prices = prices, .by_month = by_month}};
    tally->cell_count = prices->cell_count * (by_month ? MONTHS_IN_YEAR : 1);
    /* 126 bits hold the sum over all appliances of rate times the minutes of a year, which take 20. */
    tally->most_bits = 126 - 20 - bits_of(house->appliance_count);
    find_places(tally);
    tally->minutes = memory_resize(NULL, MONTHS_IN_YEAR * prices->cell_count, sizeof *tally->minutes);
    tally->cell_min = memory_resize(NULL, tally->cell_count, sizeof *tally->cell_min);
    tally->cell = memory_resize(NULL, tally->cell_count, sizeof *tally->cell);
    for (size_t i = 0; i < tally->cell_count; i++) {
        mpz_init(tally->cell[i]);
    }
    for (size_t i = 0; i < 3; i++) {
        mpz_init(tally->rate[i]);
    }
    mpz_init(tally->work);
    mpz_init(tally->big_standby);
    mpz_init(tally->standby_energy);
    mpz_init(tally->bottom);
    mpz_init(tally->duty_bottom);
    class_bottom(tally, 0, tally->duty_bottom);
}

static void class_free(struct class_sum *sum, size_t cell_count)
{
    for (size_t i = 0; i < cell_count; i++) {
        mpz_clear(sum->big_on[i]);
    }
    mpz_clear(sum->big_off);
    mpz_clear(sum->bottom);
    free(sum->big_on);
    free(sum->on);
    free(sum);
}

void tally_done(struct tally *tally)
{
    for (size_t i = 0; i < tally->made_count; i++) {
        class_free(tally->classes[tally->made[i]], tally->cell_count);
    }
    for (size_t i = 0; i < tally->cell_count; i++) {
        mpz_clear(tally->cell[i]);
    }
    for (size_t i = 0; i < 3; i++) {
        mpz_clear(tally->rate[i]);
    }
    mpz_clear(tally->work);
    mpz_clear(tally->big_standby);
    mpz_clear(tally->standby_energy);
    mpz_clear(tally->bottom);
    mpz_clear(tally->duty_bottom);
    free(tally->minutes);
    free(tally->cell_min);
    free(tally->cell);
}

static struct class_sum *class_new(size_t cell_count)
{
    struct class_sum *sum = memory_new(sizeof *sum);
    sum->in_use = false;
    sum->off = 0;
    sum->on = memory_resize(NULL, cell_count, sizeof *sum->on);
    sum->big_on = memory_resize(NULL, cell_count, sizeof *sum->big_on);
    for (size_t i = 0; i < cell_count; i++) {
        sum->on[i] = 0;
        mpz_init(sum->big_on[i]);
    }
    mpz_init(sum->big_off);
    mpz_init(sum->bottom);
    return sum;
}

void tally_clear(struct tally *tally)
{
    for (size_t i = 0; i < tally->used_count; i++) {
        struct class_sum *sum = tally->classes[tally->used[i]];
        for (size_t cell = 0; cell < tally->cell_count; cell++) {
            sum->on[cell] = 0;
            mpz_set_ui(sum->big_on[cell], 0);
        }
        sum->in_use = false;
        sum->off = 0;
        mpz_set_ui(sum->big_off, 0);
    }
    tally->used_count = 0;
    tally->standby = 0;
    mpz_set_ui(tally->big_standby, 0);
}

/* ------------------------------------------------------------------ adding -------------------------------- */

/* The sums of a class, made once and used again after tally_clear. */
static struct class_sum *class_of(struct tally *tally, unsigned window_class)
{
    if (tally->classes[window_class] == NULL) {
        tally->classes[window_class] = class_new(tally->cell_count);
        tally->made[tally->made_count++] = (uint16_t)window_class;
        class_bottom(tally, window_class, tally->classes[window_class]->bottom);
    }
    struct class_sum *sum = tally->classes[window_class];
    if (!sum->in_use) {
        sum->in_use = true;
        tally->used[tally->used_count++] = (uint16_t)window_class;
    }
    return sum;
}

/* Of a tally that is not by month: the minutes of the year in each cell. */
static void sum_months(struct tally *tally, const uint32_t *minutes)
{
    size_t cells = tally->prices->cell_count;
    for (size_t cell = 0; cell < cells; cell++) {
        tally->cell_min[cell] = 0;
        for (size_t month = 0; month < MONTHS_IN_YEAR; month++) {
            tally->cell_min[cell] += minutes[month * cells + cell];
        }
    }
}

/* Minutes in the windows, by cell of the tally. */
static void find_minutes(struct tally *tally, const struct appliance *appliance, const struct window_list *windows)
{
    uint32_t *minutes = tally->by_month ? tally->cell_min : tally->minutes;
    prices_minutes(tally->prices, windows, appliance->days, appliance->months, minutes);
    if (!tally->by_month) {
        sum_months(tally, minutes);
    }
}

static int64_t scaled(int64_t value, int places)
{
    for (; places > 0; places--) {
        value *= 10;
    }
    return value;
}

/* The rate in whole numbers of up to most_bits bits; false where it may not fit. */
static bool rate_wide(const struct tally *tally, const struct parts *parts, wide ret_rate[3])
{
    if (tally->duty_places > PLACES_MOST_WIDE || tally->time_places > PLACES_MOST_WIDE ||
        parts->power_w > WIDE_MOST_W || parts->standby_w > WIDE_MOST_W) {
        return false;
    }
    int64_t power_uw = whole_microwatts(parts->power_w);
    int64_t standby_uw = whole_microwatts(parts->standby_w);
    int64_t duty = scaled(parts->duty.digits, tally->duty_places - parts->duty.places);
    int64_t duty_whole = scaled(PERCENT, tally->duty_places);
    int64_t on_time =
        parts->window_class == 0 ? 1 : scaled(parts->on_time.digits, tally->time_places - parts->on_time.places);
    int power_bits = bits_of((uint64_t)(power_uw | standby_uw)) + bits_of((uint64_t)(duty | duty_whole)) + 1;
    if (power_bits + bits_of((uint64_t)on_time) + bits_of(parts->count) > tally->most_bits) {
        return false;
    }
    wide times = (wide)parts->count * on_time;
    ret_rate[0] = ((wide)power_uw * duty - (wide)standby_uw * duty_whole) * times;
    ret_rate[1] = standby_uw * times;
    ret_rate[2] = (wide)standby_uw * parts->count;
    return true;
}

static void scale_big(mpz_t value, const struct decimal *decimal, int places, mpz_t work)
{
    power_of_ten(work, places - decimal->places);
    mpz_mul_ui(work, work, (unsigned long)decimal->digits);
    mpz_mul(value, value, work);
}

/* The same three in whole numbers of any size. */
static void rate_big(struct tally *tally, const struct parts *parts)
{
    mpz_t *rate = tally->rate;
    struct decimal whole = {.digits = PERCENT, .places = 0};
    whole_of_decimal(rate[0], decimal_of(parts->power_w), MICRO_PLACES);
    scale_big(rate[0], &parts->duty, tally->duty_places, tally->work);
    whole_of_decimal(rate[1], decimal_of(parts->standby_w), MICRO_PLACES);
    mpz_mul_ui(rate[1], rate[1], parts->count);
    mpz_set(rate[2], rate[1]);
    mpz_mul_ui(rate[0], rate[0], parts->count);
    scale_big(rate[1], &whole, tally->duty_places, tally->work);
    mpz_sub(rate[0], rate[0], rate[1]);
    mpz_set(rate[1], rate[2]);
    if (parts->window_class != 0) {
        scale_big(rate[0], &parts->on_time, tally->time_places, tally->work);
        scale_big(rate[1], &parts->on_time, tally->time_places, tally->work);
    }
}

static void add_big(struct tally *tally, struct class_sum *sum)
{
    for (size_t cell = 0; cell < tally->cell_count; cell++) {
        mpz_addmul_ui(sum->big_on[cell], tally->rate[0], tally->cell_min[cell]);
        mpz_addmul_ui(sum->big_off, tally->rate[1], tally->cell_min[cell]);
    }
    mpz_add(tally->big_standby, tally->big_standby, tally->rate[2]);
}

void tally_add(struct tally *tally, const struct appliance *appliance)
{
    struct parts parts = parts_of(tally->house, appliance);
    struct class_sum *sum = class_of(tally, parts.window_class);
    wide rate[3];
    if (rate_wide(tally, &parts, rate)) {
        gather_add(&tally->gather, appliance, &parts.windows, sum, rate);
        tally->standby += rate[2];
    } else {
        find_minutes(tally, appliance, &parts.windows);
        rate_big(tally, &parts);
        add_big(tally, sum);
    }
}

/* ------------------------------------------------------------------ settling ------------------------------ */

/* ret_sum = large + small. */
static void whole_sum(mpz_t ret_sum, const mpz_t large, wide small)
{
    whole_set_wide(ret_sum, small);
    if (mpz_sgn(large) != 0) {
        mpz_add(ret_sum, ret_sum, large);
    }
}

/* Adds one class's sums, each times `times`, which takes them to the common denominator. */
static void settle_class(struct tally *tally, struct class_sum *sum, const mpz_t times)
{
    for (size_t cell = 0; cell < tally->cell_count; cell++) {
        whole_sum(tally->work, sum->big_on[cell], sum->on[cell]);
        mpz_addmul(tally->cell[cell], tally->work, times);
    }
    whole_sum(tally->work, sum->big_off, sum->off);
    if (mpz_sgn(tally->work) != 0) {
        mpz_mul(tally->work, tally->work, times);
        mpz_submul(tally->standby_energy, tally->work, tally->duty_bottom);
    }
}

/* All minutes of the year, by cell of the tally. */
static void find_all_minutes(struct tally *tally)
{
    if (tally->by_month) {
        memcpy(tally->cell_min, tally->prices->all_min, tally->cell_count * sizeof *tally->cell_min);
    } else {
        sum_months(tally, tally->prices->all_min);
    }
}

static void settle_standby(struct tally *tally)
{
    mpz_t *standby = &tally->rate[0];
    whole_sum(*standby, tally->big_standby, tally->standby);
    mpz_set_ui(tally->standby_energy, 0);
    if (mpz_sgn(*standby) == 0) {
        for (size_t cell = 0; cell < tally->cell_count; cell++) {
            mpz_set_ui(tally->cell[cell], 0);
        }
        return;
    }
    mpz_mul(*standby, *standby, tally->bottom);
    find_all_minutes(tally);
    for (size_t cell = 0; cell < tally->cell_count; cell++) {
        mpz_mul_ui(tally->cell[cell], *standby, tally->cell_min[cell]);
        mpz_add(tally->standby_energy, tally->standby_energy, tally->cell[cell]);
    }
}

void tally_settle(struct tally *tally)
{
    gather_spread(&tally->gather);
    mpz_set(tally->bottom, tally->duty_bottom);
    for (size_t i = 0; i < tally->used_count; i++) {
        struct class_sum *sum = tally->classes[tally->used[i]];
        if (mpz_cmp(tally->bottom, sum->bottom) != 0) {
            mpz_lcm(tally->bottom, tally->bottom, sum->bottom);
        }
    }
    settle_standby(tally);
    for (size_t i = 0; i < tally->used_count; i++) {
        struct class_sum *sum = tally->classes[tally->used[i]];
        mpz_divexact(tally->rate[1], tally->bottom, sum->bottom);
        settle_class(tally, sum, tally->rate[1]);
    }
}
