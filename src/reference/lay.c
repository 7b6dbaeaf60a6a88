/* What the way a cable lies takes from its ampacity: soil, bundles, thermal insulation. */
#include <math.h>
#include <string.h>

#include "ampsum/reference.h"
#include "same.h"

/* Where in the ground a method lies; NULL: in air. */
static const char *ground_place(const char *method)
{
    if (method == NULL || method[0] != 'D') {
        return NULL;
    }
    return same(method, "D2") ? "D2" : "D1";
}

double reference_soil_factor(const char *rules, const char *method, double km_per_w)
{
    const char *place = ground_place(method);
    for (size_t i = 0; place != NULL && i < ref_soil_count; i++) {
        const struct ref_soil *row = &ref_soil_rows[i];
        bool in_band = (isnan(row->over_km_per_w) || km_per_w > row->over_km_per_w) && km_per_w <= row->to_km_per_w;
        if (in_band && same(row->method, place) && same(row->rules, rules)) {
            return row->factor;
        }
    }
    return NAN;
}

const struct ref_bundle *reference_bundle(const char *rules, const char *method, int count)
{
    const char *place = ground_place(method);
    for (size_t i = 0; i < ref_bundle_count; i++) {
        const struct ref_bundle *row = &ref_bundle_rows[i];
        bool in_band = count >= row->from_count && (isnan(row->to_count) || count <= row->to_count);
        if (in_band && same(row->place, place != NULL ? place : "air") && same(row->rules, rules)) {
            return row;
        }
    }
    return NULL;
}

bool reference_from_memory(const char *source)
{
    return strstr(source, "from memory") != NULL;
}

double reference_in_insulation_sure(const char *rules, const char *method, double length_m)
{
    double factor = 1;
    for (size_t i = 0; i < ref_in_insulation_count; i++) { /* rows stand by length, and a longer one is stricter */
        const struct ref_in_insulation *row = &ref_in_insulation_rows[i];
        const bool reached = length_m * 1000 > row->over_mm * (1 + 1e-9);
        if (reached && !reference_from_memory(row->source) && same(row->method, method) && same(row->rules, rules)) {
            factor = row->factor;
        }
    }
    return factor;
}

double reference_in_insulation_factor(const char *rules, const char *method, double length_m)
{
    /* a length is a decimal number of metres: a hair over a printed edge is that edge */
    double length_mm = length_m * 1000 * (1 - 1e-9);
    for (size_t i = 0; i < ref_in_insulation_count; i++) {
        const struct ref_in_insulation *row = &ref_in_insulation_rows[i];
        bool in_band = length_mm > row->over_mm && (isnan(row->to_mm) || length_mm <= row->to_mm);
        if (in_band && same(row->method, method) && same(row->rules, rules)) {
            return row->factor;
        }
    }
    return 1;
}
