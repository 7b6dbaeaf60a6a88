/*
 * The year's energy and cost of 200 scheduled appliances on a time-of-use tariff; for scale a plain walk over all
 * 525,600 minutes for 20 of them, in floating point and without blocks or tax; and the busiest minute of a branch.
 */
#include <stdio.h>
#include <stdlib.h>
#include <time.h>

#include "ampsum/energy.h"
#include "ampsum/engine.h"
#include "ampsum/keys.h"
#include "ampsum/reference.h"

enum { APPLIANCES = 200, BRANCHES = 20, WALKED = 20, ROUNDS = 2001, YEAR_DAYS = 365, DAYS_IN_WEEK = 7 };

static unsigned long long state = 88172645463325252ULL;

static unsigned pick(unsigned below)
{
    state ^= state << 13;
    state ^= state >> 7;
    state ^= state << 17;
    return (unsigned)((state >> 33) % below);
}

static double now_us(void)
{
    struct timespec time;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &time); /* processor time: the machine may have other work */
    return (double)time.tv_sec * 1e6 + (double)time.tv_nsec / 1e3;
}

static int by_size(const void *a, const void *b)
{
    double x = *(const double *)a;
    double y = *(const double *)b;
    return (x > y) - (x < y);
}

static double median(double *values, size_t count)
{
    qsort(values, count, sizeof *values, by_size);
    return values[count / 2];
}

static uint64_t bit(enum kind kind, const char *name)
{
    return key_bit(&sections[kind], section_key(&sections[kind], name));
}

static void add_appliances(struct house *house)
{
    static const unsigned days[] = {DAYS_ALL, DAYS_ALL, DAYS_WEEKDAYS, DAYS_WEEKEND};
    struct appliance *rows = house_add_rows(house, KIND_APPLIANCE, APPLIANCES);
    for (unsigned i = 0; i < APPLIANCES; i++) {
        rows[i].given = bit(KIND_APPLIANCE, "power") | bit(KIND_APPLIANCE, "use");
        rows[i].id = rows[i].name = "a";
        rows[i].branch = i % BRANCHES;
        rows[i].power_w = 5 + pick(2000);
        rows[i].use = (struct window_list){arena_array(house->arena, 2, sizeof(struct window)), 2};
        rows[i].use.window[0] = (struct window){(int)(300 + pick(180)), (int)(540 + pick(180))};
        rows[i].use.window[1] = (struct window){(int)(1260 + pick(170)), (int)(pick(240))}; /* past midnight */
        rows[i].days = days[pick(4)];
        rows[i].months = pick(4) == 0 ? 0x03F : MONTHS_ALL;
    }
}

/* Summer and winter, workdays and weekend, two bands by day: the rest at the tariff's own price. */
static void add_tariff(struct house *house)
{
    static const unsigned months[] = {0x1E0, 0xE1F};
    struct tariff *tariff = house_add_rows(house, KIND_TARIFF, 1);
    tariff->id = "t";
    tariff->price = "0.11";
    tariff->standing = "0.35";
    tariff->tax_percent = "7.5";
    struct period *rows = house_add_rows(house, KIND_PERIOD, 4);
    static const char *const prices[] = {"0.41", "0.29", "0.33", "0.24"};
    for (size_t i = 0; i < 4; i++) {
        rows[i].id = "p";
        rows[i].tariff = 0;
        rows[i].price = prices[i];
        rows[i].days = DAYS_WEEKDAYS;
        rows[i].months = months[i / 2];
        rows[i].hours = (struct window_list){arena_array(house->arena, 1, sizeof(struct window)), 1};
        rows[i].hours.window[0] = i % 2 == 0 ? (struct window){960, 1260} : (struct window){420, 600};
    }
}

static struct house *make_house(void)
{
    struct house *house = house_new();
    house->name = "Bench";
    house->rules = reference_rule_set_index("us");
    house->main_breaker_a = 200;
    struct branch *branches = house_add_rows(house, KIND_BRANCH, BRANCHES);
    for (unsigned i = 0; i < BRANCHES; i++) {
        branches[i].id = branches[i].label = "b";
        branches[i].breaker_a = 20;
        branches[i].legs = i % 2 == 0 ? LEG_A : LEG_B;
    }
    add_appliances(house);
    add_tariff(house);
    house_finish(house);
    return house;
}

static void bench_year(const struct house *house, double *times)
{
    struct energy_bill bill = {0};
    for (size_t i = 0; i < ROUNDS; i++) {
        struct arena *arena = arena_new();
        double start_us = now_us();
        energy_year_rows(house, house->tariff, 2, 0, arena, &bill);
        times[i] = now_us() - start_us;
        if (i + 1 == ROUNDS) {
            printf("year of %d appliances: %.1f us   (%.3f kWh, %s)\n", APPLIANCES, median(times, ROUNDS),
                   bill.kwh_year, bill.cost_year);
        }
        arena_free(arena);
    }
}

/* The 1st of January is a Monday. */
static void walk_minutes(const struct house *house)
{
    static const int lengths[] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    double start_us = now_us();
    double energy_wmin = 0;
    int day = 0;
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        for (int date = 0; date < lengths[month]; date++, day++) {
            for (int minute = 0; minute < MINUTES_IN_DAY; minute++) {
                struct moment at = {month, day % DAYS_IN_WEEK * MINUTES_IN_DAY + minute};
                for (size_t i = 0; i < WALKED; i++) {
                    energy_wmin += appliance_is_on(&house->appliances[i], at) ? house->appliances[i].power_w : 0;
                }
            }
        }
    }
    printf("walk over %d minutes for %d appliances, energy alone: %.0f us   (%.3f kWh)\n", YEAR_DAYS * MINUTES_IN_DAY,
           WALKED, now_us() - start_us, energy_wmin / 60000);
}

static void bench_busiest(const struct house *house, double *times)
{
    struct planning_factors factors = {1.25, 1.25};
    double sum_a = 0;
    for (size_t i = 0; i < ROUNDS; i++) {
        double start_us = now_us();
        for (size_t branch = 0; branch < house->branch_count; branch++) {
            struct moment at;
            struct branch_figures figures;
            branch_busiest(house, branch, house->branches[branch].voltage_v, factors, NULL, &at, &figures);
            sum_a += figures.planning_a;
        }
        times[i] = (now_us() - start_us) / (double)house->branch_count;
    }
    printf("busiest minute of a branch of %d appliances: %.2f us   (%.2f A on average)\n", APPLIANCES / BRANCHES,
           median(times, ROUNDS), sum_a / ROUNDS / BRANCHES);
}

int main(void)
{
    double *times = malloc(ROUNDS * sizeof *times);
    if (times == NULL) {
        return 1;
    }
    struct house *house = make_house();
    bench_year(house, times);
    bench_busiest(house, times);
    walk_minutes(house);
    house_free(house);
    free(times);
    return 0;
}
