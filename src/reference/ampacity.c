/* What current a conductor may carry: ampacity tables, ambient factors, small-conductor limits. */
#include <math.h>

#include "ampsum/reference.h"
#include "ordered.h"
#include "same.h"

/* The size as the tables write it, where it is a conductor at all; else as it came. */
static const char *listed_size(const char *size, const char *metal)
{
    const struct ref_conductor *row = reference_conductor(size, metal);
    return row != NULL ? row->size : size;
}

/* The rule set whose rows of the ampacity tables a set takes. */
static const char *owner(const struct ref_rule_set *set)
{
    return set->ampacity_from != NULL ? set->ampacity_from : set->id;
}

double reference_ampacity_us_a(const char *rules, const char *size, const char *metal, int insulation_temp_c,
                               const struct ref_ampacity_us **ret_row)
{
    const struct ref_ampacity_us *found = NULL;
    const struct ref_rule_set *set = reference_rule_set(rules);
    const char *of = set != NULL && reference_finds(set->ampacity, "terminal-column") ? owner(set) : "";
    const char *listed = listed_size(size, metal);
    const struct ordered order = ORDERED(ref_ampacity_us, size);
    for (size_t at = ordered_from(&order, listed); ordered_is(&order, at, listed); at++) {
        const struct ref_ampacity_us *row = &ref_ampacity_us_rows[order.rows[at]];
        if (row->insulation_temp_c == insulation_temp_c && same(row->metal, metal) && same(row->rules, of)) {
            found = row;
        }
    }
    if (ret_row != NULL) {
        *ret_row = found;
    }
    return found != NULL ? found->ampacity_a : NAN;
}

const struct ref_cable *reference_cable(const char *rules, const char *cable)
{
    for (size_t i = 0; i < ref_cable_count; i++) {
        if (same(ref_cable_rows[i].rules, rules) && same(ref_cable_rows[i].cable, cable)) {
            return &ref_cable_rows[i];
        }
    }
    return NULL;
}

static const struct ref_ampacity_uk_flat_twin *flat_twin(const char *rules, const char *size, const char *method)
{
    for (size_t i = 0; i < ref_ampacity_uk_flat_twin_count; i++) {
        const struct ref_ampacity_uk_flat_twin *row = &ref_ampacity_uk_flat_twin_rows[i];
        if (same(row->method, method) && same(row->size, size) && same(row->rules, rules)) {
            return row;
        }
    }
    return NULL;
}

/* Whether the rule set has a table of flat cable with methods of its own. */
static bool has_flat_twin(const struct ref_rule_set *set)
{
    return set != NULL && reference_finds(set->cable_table, "flat-twin");
}

/* The IEC method that a method is where the cable is no flat twin. */
static const char *iec_method(const struct ref_rule_set *set, const char *method)
{
    if (same(method, "D")) {
        return "D1";
    }
    if (!has_flat_twin(set)) {
        return method;
    }
    if (same(method, "A")) {
        return "A2";
    }
    return same(method, "B") ? "B2" : method;
}

static const struct ref_ampacity_iec *iec_row(const char *rules, const char *size, const char *metal,
                                              const char *insulation, const char *method, int loaded)
{
    for (size_t i = 0; i < ref_ampacity_iec_count; i++) {
        const struct ref_ampacity_iec *row = &ref_ampacity_iec_rows[i];
        if (row->loaded == loaded && same(row->size, size) && same(row->method, method) && same(row->metal, metal) &&
            same(row->insulation, insulation) && same(row->rules, rules)) {
            return row;
        }
    }
    return NULL;
}

struct reference_ampacity reference_ampacity_iec(const char *rules, const char *size, const char *metal,
                                                 const char *insulation, const char *method, int loaded)
{
    const char *listed = listed_size(size, metal);
    const struct ref_rule_set *set = reference_rule_set(rules);
    bool flat = has_flat_twin(set) && loaded == 2 && same(metal, "copper");
    const struct ref_ampacity_uk_flat_twin *twin = flat ? flat_twin(rules, listed, method) : NULL;
    if (twin != NULL) {
        return (struct reference_ampacity){twin->ampacity_a, 70,          true, "flat twin-and-earth, by method",
                                           twin->edition,    twin->source};
    }
    bool by_method = set != NULL && reference_finds(set->ampacity, "installation-method");
    const struct ref_ampacity_iec *row =
        by_method ? iec_row(owner(set), listed, metal, insulation, iec_method(set, method), loaded) : NULL;
    if (row == NULL) {
        return (struct reference_ampacity){NAN, 0, false, NULL, NULL, NULL};
    }
    bool pvc = same(insulation, "pvc");
    return (struct reference_ampacity){
        row->ampacity_a, pvc ? 70 : 90, false, pvc ? "PVC 70 \u00b0C, by method" : "XLPE 90 \u00b0C, by method",
        row->edition,    row->source};
}

static double temperature_factor(const char *rules, const char *medium, int insulation_temp_c, double temp_c,
                                 const struct ref_ambient **ret_row)
{
    const struct ref_ambient *found = NULL;
    for (size_t i = 0; i < ref_ambient_count; i++) {
        const struct ref_ambient *row = &ref_ambient_rows[i];
        bool in_band = (isnan(row->over_c) || temp_c > row->over_c) && temp_c <= row->to_c;
        if (in_band && row->insulation_temp_c == insulation_temp_c && same(row->rules, rules) &&
            same(row->medium, medium)) {
            found = row;
        }
    }
    if (ret_row != NULL) {
        *ret_row = found;
    }
    return found != NULL ? found->factor : NAN;
}

double reference_ambient_factor(const char *rules, int insulation_temp_c, double ambient_c,
                                const struct ref_ambient **ret_row)
{
    return temperature_factor(rules, "air", insulation_temp_c, ambient_c, ret_row);
}

double reference_ground_factor(const char *rules, int insulation_temp_c, double ground_c,
                               const struct ref_ambient **ret_row)
{
    return temperature_factor(rules, "ground", insulation_temp_c, ground_c, ret_row);
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
