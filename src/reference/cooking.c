/* Cooking on its own branch: what the codes plan of it. */
#include <math.h>

#include "ampsum/reference.h"
#include "same.h"

double reference_range_demand_va(const char *rules, double plates_va)
{
    const struct ref_demand_range *row = reference_demand_range(rules, 1);
    if (row == NULL) {
        return NAN;
    }
    double flat_va = reference_demand_range_kw(row, 1) * 1000;
    if (plates_va <= reference_rule_value("range-column-b", rules)) {
        return plates_va * row->b_percent / 100;
    }
    double over_va = plates_va - reference_rule_value("range-column-c", rules);
    if (plates_va > reference_rule_value("range-largest", rules)) {
        return plates_va;
    }
    /* a major fraction of a kilowatt counts as one; a half too */
    double steps = over_va > 0 ? floor(over_va / 1000 + 0.5) : 0;
    return flat_va * (1 + steps * reference_rule_value("range-increase", rules) / 100);
}

double reference_cooker_allowance_a(const char *rules, double plates_a, bool socket)
{
    const struct ref_diversity *row = reference_diversity(rules, "cooking");
    if (row == NULL) {
        return NAN;
    }
    double over_a = fmax(plates_a - row->first_a, 0);
    return plates_a - over_a + over_a * row->balance_percent / 100 + (socket ? row->plus_a : 0);
}
