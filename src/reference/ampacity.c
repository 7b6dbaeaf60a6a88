/* What current a conductor may carry: ampacity tables, ambient factors, small-conductor limits. */
#include <math.h>

#include "ampsum/reference.h"
#include "same.h"

/* The size as the tables write it, where it is a conductor at all; else as it came. */
static const char *listed_size(const char *size, const char *metal)
{
    const struct ref_conductor *row = reference_conductor(size, metal);
    return row != NULL ? row->size : size;
}

double reference_ampacity_us_a(const char *size, const char *metal, int insulation_temp_c,
                               const struct ref_ampacity_us **ret_row)
{
    const struct ref_ampacity_us *found = NULL;
    const char *listed = listed_size(size, metal);
    for (size_t i = 0; i < ref_ampacity_us_count; i++) {
        const struct ref_ampacity_us *row = &ref_ampacity_us_rows[i];
        if (row->insulation_temp_c == insulation_temp_c && same(row->size, listed) && same(row->metal, metal)) {
            found = row;
        }
    }
    if (ret_row != NULL) {
        *ret_row = found;
    }
    return found != NULL ? found->ampacity_a : NAN;
}

static const struct ref_ampacity_uk_flat_twin *flat_twin(const char *size)
{
    for (size_t i = 0; i < ref_ampacity_uk_flat_twin_count; i++) {
        if (same(ref_ampacity_uk_flat_twin_rows[i].size, size)) {
            return &ref_ampacity_uk_flat_twin_rows[i];
        }
    }
    return NULL;
}

static const struct ref_ampacity_iec *iec_row(const char *size, const char *metal, const char *method, int loaded)
{
    for (size_t i = 0; i < ref_ampacity_iec_count; i++) {
        const struct ref_ampacity_iec *row = &ref_ampacity_iec_rows[i];
        if (row->loaded == loaded && same(row->size, size) && same(row->method, method) && same(row->metal, metal)) {
            return row;
        }
    }
    return NULL;
}

struct reference_ampacity reference_ampacity_iec(const char *rules, const char *size, const char *metal,
                                                 const char *method, int loaded)
{
    const char *listed = listed_size(size, metal);
    bool flat = same(rules, "uk") && same(method, "C") && loaded == 2 && same(metal, "copper");
    const struct ref_ampacity_uk_flat_twin *twin = flat ? flat_twin(listed) : NULL;
    if (twin != NULL) {
        return (struct reference_ampacity){twin->ampacity_a, "flat twin-and-earth, method C", twin->edition,
                                           twin->source};
    }
    const struct ref_ampacity_iec *row = !same(rules, "us") ? iec_row(listed, metal, method, loaded) : NULL;
    if (row != NULL) {
        return (struct reference_ampacity){row->ampacity_a, "PVC 70 \u00b0C, by method", row->edition, row->source};
    }
    return (struct reference_ampacity){NAN, NULL, NULL, NULL};
}

double reference_ambient_factor(const char *rules, int insulation_temp_c, double ambient_c,
                                const struct ref_ambient **ret_row)
{
    const struct ref_ambient *found = NULL;
    for (size_t i = 0; i < ref_ambient_count; i++) {
        const struct ref_ambient *row = &ref_ambient_rows[i];
        bool in_band = (isnan(row->over_c) || ambient_c > row->over_c) && ambient_c <= row->to_c;
        if (in_band && row->insulation_temp_c == insulation_temp_c && same(row->rules, rules)) {
            found = row;
        }
    }
    if (ret_row != NULL) {
        *ret_row = found;
    }
    return found != NULL ? found->factor : NAN;
}

const struct ref_small_conductor *reference_small_conductor(const char *rules, const char *size, const char *metal)
{
    const char *listed = listed_size(size, metal);
    for (size_t i = 0; i < ref_small_conductor_count; i++) {
        const struct ref_small_conductor *row = &ref_small_conductor_rows[i];
        if (same(row->rules, rules) && same(row->size, listed) && same(row->metal, metal)) {
            return row;
        }
    }
    return NULL;
}
