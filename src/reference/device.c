/* Breakers, plugs, receptacles and motors. */
#include <math.h>

#include "ampsum/reference.h"
#include "same.h"

static const double edge = 1e-9; /* relative: an edge counts as reached within it, engineering notes section 10 */

double reference_next_standard_size_a(const char *rules, double current_a, const struct ref_standard_size **ret_row)
{
    const struct ref_standard_size *next = NULL;
    for (size_t i = 0; i < ref_standard_size_count; i++) {
        const struct ref_standard_size *row = &ref_standard_size_rows[i];
        bool nearer = row->rating_a >= current_a * (1 - edge) && (next == NULL || row->rating_a < next->rating_a);
        if (nearer && same(row->rules, rules)) {
            next = row;
        }
    }
    if (ret_row != NULL) {
        *ret_row = next;
    }
    return next != NULL ? next->rating_a : NAN;
}

double reference_standard_size_at_most_a(const char *rules, double limit_a)
{
    double most_a = isnan(limit_a) ? (double)NAN : 0;
    for (size_t i = 0; i < ref_standard_size_count; i++) {
        const struct ref_standard_size *row = &ref_standard_size_rows[i];
        if (row->rating_a <= limit_a * (1 + edge) && row->rating_a > most_a && same(row->rules, rules)) {
            most_a = row->rating_a;
        }
    }
    return most_a;
}

static bool band_fits(const struct ref_trip_band *row, const char *rules, const char *trip, double rating_a)
{
    const bool of_rating = rating_a > row->rating_over_a && (isnan(row->rating_to_a) || rating_a <= row->rating_to_a);
    /* a fuse has rows of its own: `*` stands for the circuit-breakers */
    return of_rating && same(row->rules, rules) &&
           (same(row->trip, trip) || (same(row->trip, "*") && reference_fuse(rules, trip) == NULL));
}

static bool band_reached(const struct ref_trip_band *row, double multiple)
{
    return row->above_edge ? multiple > row->multiple_from * (1 + edge) : multiple >= row->multiple_from * (1 - edge);
}

const char *reference_trip_text(const char *rules, const char *trip, double rating_a, double multiple,
                                const struct ref_trip_band **ret_row)
{
    const struct ref_trip_band *found = NULL;
    for (size_t i = 0; i < ref_trip_band_count; i++) {
        const struct ref_trip_band *row = &ref_trip_band_rows[i];
        if (band_reached(row, multiple) && band_fits(row, rules, trip, rating_a) && /* numbers are told apart soonest */
            (found == NULL || row->multiple_from > found->multiple_from)) {
            found = row;
        }
    }
    if (ret_row != NULL) {
        *ret_row = found;
    }
    return found != NULL ? found->outcome : "none expected";
}

const struct ref_instantaneous *reference_instantaneous(const char *rules, const char *trip)
{
    for (size_t i = 0; i < ref_instantaneous_count; i++) {
        const struct ref_instantaneous *row = &ref_instantaneous_rows[i];
        if (same(row->rules, rules) && same(row->trip, trip)) {
            return row;
        }
    }
    return NULL;
}

const struct ref_receptacle *reference_receptacle(const char *rules, double circuit_a, double receptacle_a)
{
    const struct ref_receptacle *found = NULL;
    for (size_t i = 0; i < ref_receptacle_count; i++) {
        const struct ref_receptacle *row = &ref_receptacle_rows[i];
        bool asked_for = receptacle_a <= 0 || row->receptacle_a == receptacle_a;
        if (asked_for && row->circuit_a == circuit_a && same(row->rules, rules) &&
            (found == NULL || row->receptacle_a > found->receptacle_a)) {
            found = row;
        }
    }
    return found;
}

double reference_receptacle_load_to_a(const char *rules)
{
    double most_a = NAN;
    for (size_t i = 0; i < ref_receptacle_count; i++) {
        const struct ref_receptacle *row = &ref_receptacle_rows[i];
        if (!isnan(row->max_load_a) && same(row->rules, rules)) {
            most_a = fmax(most_a, row->circuit_a); /* fmax leaves out a NAN */
        }
    }
    return most_a;
}

const struct ref_plug *reference_plug(const char *rules, double breaker_a)
{
    for (size_t i = 0; i < ref_plug_count; i++) {
        const struct ref_plug *row = &ref_plug_rows[i];
        if (row->usual && same(row->rules, rules) && breaker_a > row->circuit_over_a &&
            (isnan(row->circuit_to_a) || breaker_a <= row->circuit_to_a)) {
            return row;
        }
    }
    return NULL;
}

double reference_long_running_a(const char *rules, double breaker_a)
{
    double current_a = reference_rule_value("long-running-current", rules);
    const struct ref_plug *plug = reference_plug(rules, breaker_a);
    if (!isnan(current_a) || plug == NULL) {
        return current_a;
    }
    return plug->rating_a * reference_rule_value("long-running-share", rules) / 100;
}

double reference_motor_current_a(const char *rules, double power_hp, double voltage_v,
                                 const struct ref_motor_fla **ret_row)
{
    const struct ref_motor_fla *nearest = NULL;
    for (size_t i = 0; i < ref_motor_fla_count; i++) {
        const struct ref_motor_fla *row = &ref_motor_fla_rows[i];
        if (!same(row->rules, rules) || fabs(row->power_hp - power_hp) > 1e-6 * row->power_hp) {
            continue;
        }
        /* columns rise, so only a strictly nearer one takes over: a tie goes to the lower */
        if (nearest == NULL || fabs(row->voltage_v - voltage_v) < fabs(nearest->voltage_v - voltage_v)) {
            nearest = row;
        }
    }
    if (ret_row != NULL) {
        *ret_row = nearest;
    }
    return nearest != NULL ? nearest->current_a : NAN;
}

const char *reference_motor_size(const char *rules, size_t index)
{
    const char *last = "";
    for (size_t i = 0; i < ref_motor_fla_count; i++) {
        const struct ref_motor_fla *row = &ref_motor_fla_rows[i];
        if (!same(row->rules, rules) || same(row->hp_text, last)) {
            continue; /* rows stand by power, then by voltage */
        }
        last = row->hp_text;
        if (index-- == 0) {
            return last;
        }
    }
    return NULL;
}

const struct ref_fuse *reference_fuse(const char *rules, const char *trip)
{
    for (size_t i = 0; i < ref_fuse_count; i++) {
        if (same(ref_fuse_rows[i].trip, trip) && same(ref_fuse_rows[i].rules, rules)) {
            return &ref_fuse_rows[i];
        }
    }
    return NULL;
}

const struct ref_motor_breaker *reference_motor_breaker(const char *rules, const char *what, const char *device)
{
    for (size_t i = 0; i < ref_motor_breaker_count; i++) {
        const struct ref_motor_breaker *row = &ref_motor_breaker_rows[i];
        if (same(row->what, what) && same(row->device, device) && same(row->rules, rules)) {
            return row;
        }
    }
    return NULL;
}

const struct ref_receptacle_rating *reference_receptacle_rating(const char *rules, double circuit_a, int edition)
{
    const struct ref_receptacle_rating *found = NULL;
    for (size_t i = 0; i < ref_receptacle_rating_count; i++) {
        const struct ref_receptacle_rating *row = &ref_receptacle_rating_rows[i];
        if (row->circuit_a == circuit_a && row->from_edition <= edition && same(row->rules, rules) &&
            (found == NULL || row->from_edition > found->from_edition)) {
            found = row;
        }
    }
    return found;
}

const struct ref_harmonic *reference_harmonic(const char *rules, double third_percent)
{
    for (size_t i = 0; i < ref_harmonic_count; i++) {
        const struct ref_harmonic *row = &ref_harmonic_rows[i];
        bool above = row->over_percent <= 0 || third_percent > row->over_percent;
        if (above && (isnan(row->to_percent) || third_percent <= row->to_percent) && same(row->rules, rules)) {
            return row;
        }
    }
    return NULL;
}
