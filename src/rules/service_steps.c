/* Demand as other countries count it, row by row. */
#include "ampsum/service_steps.h"

#include <math.h>
#include <string.h>

#include "ampsum/reference.h"

#define VA_PER_KVA 1000.0 /* exact */

static const struct ref_load_step *step_row(const char *country, const char *what)
{
    for (size_t i = 0; i < ref_load_step_count; i++) {
        const struct ref_load_step *row = &ref_load_step_rows[i];
        if (strcmp(row->country, country) == 0 && strcmp(row->what, what) == 0) {
            return row;
        }
    }
    return NULL;
}

static const struct ref_load_share *share_row(const char *country, const char *what)
{
    for (size_t i = 0; i < ref_load_share_count; i++) {
        const struct ref_load_share *row = &ref_load_share_rows[i];
        if (strcmp(row->country, country) == 0 && strcmp(row->what, what) == 0) {
            return row;
        }
    }
    return NULL;
}

double service_step(const char *country, const char *what, double quantity)
{
    const struct ref_load_step *row = step_row(country, what);
    if (row == NULL) {
        return NAN;
    }
    if (!(quantity > 0)) {
        return 0;
    }
    const double beyond = quantity - row->first_to;
    const bool more = isfinite(row->each_to) && beyond > 1e-9 * quantity;
    return row->first_value + (more ? ceil(beyond / row->each_to * (1 - 1e-12)) * row->each_value : 0);
}

double service_share(const char *country, const char *what, double load)
{
    const struct ref_load_share *row = share_row(country, what);
    if (row == NULL) {
        return NAN;
    }
    if (!(load > row->from_load)) {
        return 0;
    }
    const double below = isfinite(row->over) ? fmin(load, row->over) : load;
    const double first = isfinite(row->flat) ? row->flat : below * row->percent / 100;
    return first + (load > below ? (load - below) * row->over_percent / 100 : 0);
}

/* ------------------------------------------------------------------ Canada -------------------------------- */

static double least_w(const char *country, double area_m2)
{
    double least = 0;
    for (size_t i = 0; i < ref_load_least_count; i++) {
        const struct ref_load_least *row = &ref_load_least_rows[i];
        const bool holds = strcmp(row->country, country) == 0 && area_m2 >= row->from_m2 * (1 - 1e-9);
        least = holds ? row->least_w : least;
    }
    return least;
}

double service_canada_w(const struct service_canada *house)
{
    const double area_m2 = house->above_m2 + service_share("ca", "basement", house->basement_m2);
    const double heating_w = service_share("ca", "heating", house->heating_w);
    const double cooling_w = service_share("ca", "cooling", house->cooling_w);
    double sum_w = service_step("ca", "area", area_m2) +
                   (house->interlocked ? fmax(heating_w, cooling_w) : heating_w + cooling_w) +
                   service_share("ca", "range", house->range_w) + service_share("ca", "full", house->full_w);
    for (size_t i = 0; i < house->other_count; i++) {
        sum_w += house->range_w > 0 ? service_share("ca", "other", house->other_w[i]) : (double)NAN;
    }
    return isnan(sum_w) ? sum_w : fmax(sum_w, least_w("ca", area_m2));
}

/* ------------------------------------------------------------------ Australia, New Zealand ---------------- */

double service_australia_a(const struct service_australia *house)
{
    return service_step("au", "lighting", house->lighting_points) +
           service_step("au", "outlet-10", house->outlet_10_points) +
           service_step("au", "outlet-15", house->outlet_15_points) +
           service_step("au", "outlet-20", house->outlet_20_points) + service_share("au", "cooking", house->cooking_a) +
           service_share("au", "climate", house->climate_a) +
           service_share("au", "instantaneous", house->instantaneous_a) +
           service_share("au", "storage", house->storage_a) + service_share("au", "vehicle", house->vehicle_a);
}

/* ------------------------------------------------------------------ several dwellings --------------------- */

double service_multifamily_va(const char *rules, const struct service_multifamily *building)
{
    double percent = NAN;
    for (size_t i = 0; i < ref_multifamily_count; i++) {
        const struct ref_multifamily *row = &ref_multifamily_rows[i];
        percent = strcmp(row->rules, rules) == 0 && building->units >= row->from_units ? row->percent : percent;
    }
    return percent / 100 * building->units * building->unit_va + building->house_va;
}

double service_general_va(const char *rules, double units, double unit_ft2)
{
    return reference_rule_value("dwelling-load", rules) * units * unit_ft2;
}

double service_building_va(const char *country, bool electric_water, int dwellings)
{
    for (size_t i = 0; i < ref_building_demand_count; i++) {
        const struct ref_building_demand *row = &ref_building_demand_rows[i];
        if (strcmp(row->country, country) == 0 && row->electric_water == electric_water &&
            row->dwellings == dwellings) {
            return row->demand_kva * VA_PER_KVA;
        }
    }
    return NAN;
}

double service_building_a(double demand_va, double line_to_line_v)
{
    return demand_va / (sqrt(3.0) * line_to_line_v);
}

/* ------------------------------------------------------------------ contracted steps, notices ------------- */

double service_supply_a(const char *country, double power_va)
{
    for (size_t i = 0; i < ref_supply_step_count; i++) {
        const struct ref_supply_step *row = &ref_supply_step_rows[i];
        if (strcmp(row->country, country) == 0 && fabs(row->power_va - power_va) <= 1e-9 * power_va) {
            return row->current_a;
        }
    }
    return NAN;
}

double service_supply_step_va(const char *country, double load_va)
{
    for (size_t i = 0; i < ref_supply_step_count; i++) {
        const struct ref_supply_step *row = &ref_supply_step_rows[i];
        if (strcmp(row->country, country) == 0 && load_va <= row->power_va * (1 + 1e-9)) {
            return row->power_va;
        }
    }
    return NAN;
}

bool service_notice(const char *country, const char *what, const char *load, double load_va)
{
    for (size_t i = 0; i < ref_supply_notice_count; i++) {
        const struct ref_supply_notice *row = &ref_supply_notice_rows[i];
        const bool is_row =
            strcmp(row->country, country) == 0 && strcmp(row->what, what) == 0 && strcmp(row->load, load) == 0;
        const bool reaches =
            isfinite(row->least_va) ? load_va >= row->over_va * (1 - 1e-9) : load_va > row->over_va * (1 + 1e-9);
        if (is_row && reaches && !(load_va > row->to_va * (1 + 1e-9))) {
            return true;
        }
    }
    return false;
}
