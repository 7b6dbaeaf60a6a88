/* Earthing, disconnection, protective conductors, what a conductor endures: rows found by their key. */
#include <math.h>
#include <stddef.h>

#include "ampsum/reference_fault.h"
#include "same.h"

static const double edge = 1e-9; /* relative: a limit counts as reached within it */

const struct ref_earthing *reference_earthing(const char *rules, const char *earthing)
{
    for (size_t i = 0; i < ref_earthing_count; i++) {
        const struct ref_earthing *row = &ref_earthing_rows[i];
        if (same(row->rules, rules) && same(row->earthing, earthing)) {
            return row;
        }
    }
    return NULL;
}

const struct ref_disconnection *reference_disconnection(const char *rules, const char *family, double voltage_v)
{
    for (size_t i = 0; i < ref_disconnection_count; i++) {
        const struct ref_disconnection *row = &ref_disconnection_rows[i];
        if (same(row->rules, rules) && same(row->family, family) && voltage_v > row->voltage_over_v * (1 + edge) &&
            voltage_v <= row->voltage_to_v * (1 + edge)) {
            return row;
        }
    }
    return NULL;
}

bool reference_has_disconnection(const char *rules)
{
    for (size_t i = 0; i < ref_disconnection_count; i++) {
        if (same(ref_disconnection_rows[i].rules, rules)) {
            return true;
        }
    }
    return false;
}

double reference_residual_time_s(const char *kind, double multiple, const struct ref_residual_time **ret_row)
{
    const struct ref_residual_time *found = NULL;
    for (size_t i = 0; i < ref_residual_time_count; i++) {
        const struct ref_residual_time *row = &ref_residual_time_rows[i];
        if (same(row->kind, kind) && multiple >= row->multiple * (1 - edge) &&
            (found == NULL || row->multiple > found->multiple)) {
            found = row;
        }
    }
    if (ret_row != NULL) {
        *ret_row = found;
    }
    return found != NULL ? found->most_s : NAN;
}

const struct ref_protective_conductor *reference_protective_conductor(const char *rules, const char *line_size,
                                                                      const char *metal, double breaker_a)
{
    const struct ref_protective_conductor *by_breaker = NULL;
    for (size_t i = 0; i < ref_protective_conductor_count; i++) {
        const struct ref_protective_conductor *row = &ref_protective_conductor_rows[i];
        if (!same(row->rules, rules) || !same(row->metal, metal)) {
            continue;
        }
        if (same(row->line_size, line_size)) {
            return row;
        }
        const bool large_enough = row->breaker_to_a >= breaker_a * (1 - edge);
        if (large_enough && (by_breaker == NULL || row->breaker_to_a < by_breaker->breaker_to_a)) {
            by_breaker = row;
        }
    }
    return by_breaker;
}

const struct ref_adiabatic *reference_adiabatic(const char *metal, bool american)
{
    for (size_t i = 0; i < ref_adiabatic_count; i++) {
        const struct ref_adiabatic *row = &ref_adiabatic_rows[i];
        if (same(row->metal, metal) && same(row->equation, american ? "circular mil" : "mm2")) {
            return row;
        }
    }
    return NULL;
}

double reference_point_to_point_c(const char *size, const char *metal, const struct ref_point_to_point **ret_row)
{
    const struct ref_point_to_point *found = NULL;
    for (size_t i = 0; i < ref_point_to_point_count && found == NULL; i++) {
        const struct ref_point_to_point *row = &ref_point_to_point_rows[i];
        found = same(row->size, size) && same(row->metal, metal) ? row : NULL;
    }
    if (ret_row != NULL) {
        *ret_row = found;
    }
    return found != NULL ? found->c : NAN;
}
