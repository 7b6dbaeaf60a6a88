/*
 * Demand of a dwelling as other countries count it, and what their network operators ask: functions that step through
 * the rows of schema/reference/370 to 382. No rule set of a house file uses them and no command offers them, until a
 * set of their own does. Definitions: contract, service.md sections 3 (M4), 4, 5 and 6; what is from memory says so in
 * its row.
 *
 * Plain numbers in, plain numbers out. Nothing here allocates or fails; what has no row is NAN.
 *
 * Checked: tests/unit/test_service_steps.c, tests/outside/service-steps.tsv.
 */
#ifndef AMPSUM_SERVICE_STEPS_H
#define AMPSUM_SERVICE_STEPS_H

#include <stdbool.h>
#include <stddef.h>

/*
 * Demand by steps: the first so many count a figure, each further so many, or part of them, another. 0 for none.
 *
 *   country   "ca" (area in m2, watts), "au" (points, amperes)
 *   what      "area"; "lighting", "outlet-10", "outlet-15", "outlet-20"
 *   quantity  >= 0
 */
double service_step(const char *country, const char *what, double quantity);

/* Demand by shares, in the unit of `load` (ca: W, au: A): "heating", "range" ...; "cooking", "climate" ... */
double service_share(const char *country, const char *what, double load);

/* Canada, a single dwelling: CEC part I, rule 8-200. Powers in watts, >= 0. */
struct service_canada {
    double above_m2;    /* ground floor and above */
    double basement_m2; /* where it is higher than 1.8 m */
    double heating_w;
    double cooling_w;
    bool interlocked;      /* heating and cooling are never on together: the larger counts */
    double range_w;        /* 0: none, and then `other_w` must be empty: what counts then is not in the rows */
    double full_w;         /* hot tubs, tankless water heaters, vehicles */
    const double *other_w; /* every other load, one by one; other_count of them */
    size_t other_count;
};

/* Demand, W, no less than the least service of the area. NAN where there are other loads and no range. */
double service_canada_w(const struct service_canada *house);

/* Australia and New Zealand, a single dwelling on one phase: AS/NZS 3000 table C1, column 2. */
struct service_australia {
    double lighting_points;
    double outlet_10_points; /* each place for a plug; so the next two */
    double outlet_15_points;
    double outlet_20_points;
    double cooking_a; /* cooking, laundry, heaters above 10 A; these are connected loads, ampere */
    double climate_a;
    double instantaneous_a;
    double storage_a;
    double vehicle_a;
};

/* Maximum demand, A. */
double service_australia_a(const struct service_australia *house);

/* us, M4: a building of alike dwellings by the optional method, Table 220.84. */
struct service_multifamily {
    double units;
    double unit_va;  /* connected load of one dwelling */
    double house_va; /* what serves all of them, by the standard method */
};

/* Demand, VA. NAN below the smallest number of dwellings. */
double service_multifamily_va(const char *rules, const struct service_multifamily *building);

/* General lighting and receptacles of so many alike dwellings, VA, before any factor. */
double service_general_va(const char *rules, double units, double unit_ft2);

/* es, fr: the current that goes with a contracted power, A; NAN: no such step. */
double service_supply_a(const char *country, double power_va);

/* es, fr: the smallest step that carries a load, VA; NAN above the largest. */
double service_supply_step_va(const char *country, double load_va);

/* de: demand of a building, VA; and its current on three phases, A. NAN for a number without a row. */
double service_building_va(const char *country, bool electric_water, int dwellings);
double service_building_a(double demand_va, double line_to_line_v);

/* Whether the network operator asks that of a load: `tell`, `ask`, `controllable`, `unbalance`, `subscribe`. */
bool service_notice(const char *country, const char *what, const char *load, double load_va);

#endif
