/*
 * The year's energy and its cost, exactly. Definitions: contract, engineering.md section 7.
 *
 * Energy is exact: integers of microwatts times minutes times decimal shares, held as rationals (GMP) inside. Money
 * comes out as decimal text, rounded half-up once, to the currency's minor unit.
 */
#ifndef AMPSUM_ENERGY_H
#define AMPSUM_ENERGY_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/model.h"

/* Energy and money of one appliance, room or branch over the year. Money is NULL without a tariff. */
struct energy_row {
    double kwh_year; /* standby included */
    double kwh_day;  /* kwh_year / 365 */
    double standby_kwh_year;
    const char *cost_year; /* energy charge and its tax, without the standing charge */
    const char *cost_day;  /* cost_year / 365 before rounding */
    bool spread_over_day;  /* `hours` without windows: taken as spread evenly over 24 hours */
};

struct energy_month {
    double kwh;
    const char *cost; /* energy, standing charge and tax */
};

struct energy_bill {
    double kwh_year;
    double kwh_day;
    const char *energy_cost; /* before tax; NULL without a tariff, as all money here */
    const char *standing_cost;
    const char *tax;
    const char *cost_year;  /* all of it */
    const char *cost_day;   /* cost_year / 365 before rounding */
    const char *cost_month; /* cost_year / 12 before rounding */
    struct energy_month months[MONTHS_IN_YEAR];
    struct energy_row *appliances; /* house->appliance_count entries, in file order; NULL where not asked for */
    struct energy_row *rooms;      /* house->room_count entries, and one for what has no room; NULL likewise */
    struct energy_row *branches;   /* house->branch_count entries; NULL likewise */
};

/* Which rows are wanted beside the house's totals, as bits. */
enum { ENERGY_APPLIANCES = 1, ENERGY_ROOMS = 2, ENERGY_BRANCHES = 4, ENERGY_ALL = 7 };

/*
 * Simulates the year of 365 dates from Monday 1 January. `tariff` is an index or NO_INDEX (no money); `minor_units` the
 * decimals of the currency (ISO 4217); `rows` ENERGY_ bits, 0 for the totals alone, which is fastest. Texts and rows
 * are in `arena`. Never fails.
 *
 * Energy is by the date and the minute at which it is drawn: a window that runs past midnight draws its rest on the
 * next date, in that date's month and at the price that holds there. A time-of-use period belongs, as a window does,
 * to the day and month on which it starts.
 *
 * Every money text is rounded on its own from the exact value, so that printed parts may differ from a printed sum by
 * one in the last place.
 *
 * Power of a unit enters in whole microwatts (half-up), and so does its standby; duty, on-time, prices, bounds and tax
 * as the decimals that were written. Linear in the appliances: day classes and sums by price, never a walk over the
 * minutes of the year. Groups do not reduce energy. Checked: tests/outside/energy.tsv, and against a walk over all
 * 525,600 minutes in tests/unit/test_energy_walk.c.
 */
void energy_year_rows(const struct house *house, size_t tariff, int minor_units, unsigned rows, struct arena *arena,
                      struct energy_bill *ret_bill);

/*
 * Money for one hour at `power_w`, at the mean price of a kWh over the year of `bill` (its energy charge by the kWh of
 * the year) with the tariff's tax, without the standing charge; to `minor_units` decimals. An orientation, not exact:
 * bill's money is rounded already. NULL without a tariff or without energy in the year. In `arena`.
 */
const char *energy_hour_cost(const struct house *house, const struct energy_bill *bill, int minor_units, double power_w,
                             struct arena *arena);

#endif
