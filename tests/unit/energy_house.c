#include "energy_house.h"

#include <stdlib.h>
#include <string.h>

#include <check.h>

#include "fixture.h"

void add_tariff(struct house *house)
{
    house->tariffs = arena_take(house->arena, sizeof *house->tariffs);
    house->tariffs[0] = (struct tariff){.id = "t"};
    house->tariff_count = 1;
    house->tariff = 0;
    house->periods = arena_array(house->arena, PERIODS_MOST, sizeof *house->periods);
    house->tariffs[0].periods.index = arena_array(house->arena, PERIODS_MOST, sizeof(size_t));
}

struct period *add_period(struct house *house, const char *price)
{
    struct tariff *tariff = &house->tariffs[0];
    size_t place = house->period_count++;
    tariff->periods.index[tariff->periods.count++] = place;
    house->periods[place] = (struct period){.id = "p", .price = price, .days = DAYS_ALL, .months = MONTHS_ALL};
    return &house->periods[place];
}

/* Bounds and prices, `350:0.14,1000:0.19,rest:0.24`. */
void set_blocks(struct house *house, char *text)
{
    char *steps[8];
    int count = fixture_split(text, ',', steps, 8);
    struct block_list *blocks = &house->tariffs[0].blocks;
    blocks->block = arena_array(house->arena, (size_t)count, sizeof *blocks->block);
    for (int i = 0; i < count; i++) {
        char *pair[2];
        ck_assert_int_eq(fixture_split(steps[i], ':', pair, 2), 2);
        blocks->block[blocks->count++] = (struct tariff_block){
            strcmp(pair[0], "rest") == 0 ? NULL : arena_copy(house->arena, pair[0]), arena_copy(house->arena, pair[1])};
    }
}

/* On-time where none was given: all of the windows. */
void resolve_hours(struct appliance *appliance)
{
    for (size_t i = 0; i < appliance->use.count; i++) {
        int length = appliance->use.window[i].end_min - appliance->use.window[i].start_min;
        appliance->on_time_s += 60.0 * (length <= 0 ? length + MINUTES_IN_DAY : length);
    }
}

/* `1500W;h=8;min=5;count=2;duty=15;standby=2;use=06:00-07:00,20:00-22:00;days=fri;months=apr` */
static void add_load(struct house *house, char *text)
{
    char *parts[12];
    int count = fixture_split(text, ';', parts, 12);
    struct appliance *load = fixture_appliance(house, 0, strtod(parts[0], NULL));
    double given_s = -1.0;
    for (int i = 1; i < count; i++) {
        char *value = strchr(parts[i], '=');
        ck_assert_ptr_nonnull(value);
        *value++ = '\0';
        if (strcmp(parts[i], "h") == 0) {
            given_s = 3600.0 * strtod(value, NULL);
        } else if (strcmp(parts[i], "min") == 0) {
            given_s = 60.0 * strtod(value, NULL);
        } else if (strcmp(parts[i], "count") == 0) {
            load->count = (unsigned)strtoul(value, NULL, 10);
        } else if (strcmp(parts[i], "duty") == 0) {
            load->duty_percent = strtod(value, NULL);
        } else if (strcmp(parts[i], "standby") == 0) {
            load->standby_w = strtod(value, NULL);
        } else if (strcmp(parts[i], "use") == 0) {
            load->use = fixture_windows(house, value);
        } else if (strcmp(parts[i], "days") == 0) {
            load->days = fixture_days(value);
        } else {
            ck_assert_str_eq(parts[i], "months");
            load->months = fixture_months(value);
        }
    }
    resolve_hours(load);
    load->on_time_s = given_s >= 0.0 ? given_s : load->on_time_s;
}

/* `0.37;hours=16:00-19:00;days=mon,fri;months=jun` */
static void read_period(struct house *house, char *text)
{
    char *parts[4];
    int count = fixture_split(text, ';', parts, 4);
    struct period *period = add_period(house, arena_copy(house->arena, parts[0]));
    period->hours = fixture_windows(house, "00:00-24:00");
    for (int i = 1; i < count; i++) {
        char *value = strchr(parts[i], '=') + 1;
        if (strncmp(parts[i], "hours=", 6) == 0) {
            period->hours = fixture_windows(house, value);
        } else if (strncmp(parts[i], "days=", 5) == 0) {
            period->days = fixture_days(value);
        } else {
            period->months = fixture_months(value);
        }
    }
}

const char *value_in(struct house *house, char *const *parts, int count, const char *key)
{
    for (int i = 0; i < count; i++) {
        if (strncmp(parts[i], key, strlen(key)) == 0) {
            return arena_copy(house->arena, parts[i] + strlen(key));
        }
    }
    return NULL;
}

struct house *house_of_words(char *const *parts, int count)
{
    struct house *house = fixture_new(SYSTEM_SINGLE_PHASE, 230.0, 1, LOADS_MOST);
    fixture_branch(house, LEG_A, 16.0);
    add_tariff(house);
    struct tariff *tariff = &house->tariffs[0];
    tariff->price = value_in(house, parts, count, "price=");
    tariff->standing = value_in(house, parts, count, "standing=");
    tariff->tax_percent = value_in(house, parts, count, "tax=");
    for (int i = 0; i < count; i++) {
        if (strncmp(parts[i], "load=", 5) == 0) {
            add_load(house, parts[i] + 5);
        } else if (strncmp(parts[i], "period=", 7) == 0) {
            read_period(house, parts[i] + 7);
        } else if (strncmp(parts[i], "blocks=", 7) == 0) {
            set_blocks(house, parts[i] + 7);
        }
    }
    fixture_finish(house);
    return house;
}

struct house *house_of(const char *words)
{
    char text[TEXT_ROOM];
    char *parts[16];
    ck_assert_uint_lt(strlen(words), sizeof text);
    memcpy(text, words, strlen(words) + 1);
    return house_of_words(parts, fixture_split(text, ' ', parts, 16));
}
