/* Limits, findings, dwelling demand, currencies: rows found by their key. */
#include <math.h>

#include "ampsum/reference.h"
#include "ordered.h"
#include "same.h"

/* How well a row's rule set fits the one asked for: 2 its own, 1 for every rule set, 0 not at all. */
static int fit(const char *row_rules, const char *rules)
{
    if (same(row_rules, rules)) {
        return 2;
    }
    return same(row_rules, "*");
}

const struct ref_rule *reference_rule(const char *id, const char *rules)
{
    const struct ordered order = ORDERED(ref_rule, id);
    const struct ref_rule *found = NULL;
    int best = 0;
    for (size_t at = ordered_from(&order, id); best < 2 && ordered_is(&order, at, id); at++) {
        const struct ref_rule *row = &ref_rule_rows[order.rows[at]];
        int now = fit(row->rules, rules);
        if (now > best) {
            best = now;
            found = row;
        }
    }
    return found;
}

double reference_rule_value(const char *id, const char *rules)
{
    const struct ref_rule *row = reference_rule(id, rules);
    return row != NULL ? row->value : NAN;
}

double reference_usual_voltage_v(const char *rules, const char *system)
{
    for (size_t i = 0; i < ref_nominal_voltage_count; i++) {
        const struct ref_nominal_voltage *row = &ref_nominal_voltage_rows[i];
        if (row->usual != 0 && same(row->rules, rules) && same(row->system, system)) {
            return row->line_to_neutral_v;
        }
    }
    return NAN;
}

double reference_line_to_line_v(const char *rules, const char *system, double line_to_neutral_v)
{
    for (size_t i = 0; i < ref_nominal_voltage_count; i++) {
        const struct ref_nominal_voltage *row = &ref_nominal_voltage_rows[i];
        if (same(row->rules, rules) && same(row->system, system) &&
            !(row->line_to_neutral_v < line_to_neutral_v || row->line_to_neutral_v > line_to_neutral_v)) {
            return row->line_to_line_v;
        }
    }
    return NAN;
}

const struct ref_finding *reference_finding_variant(const char *id, const char *rules, const char *variant)
{
    const struct ordered order = ORDERED(ref_finding, id);
    const struct ref_finding *found = NULL;
    int best = 0;
    for (size_t at = ordered_from(&order, id); best < 2 && ordered_is(&order, at, id); at++) {
        const struct ref_finding *row = &ref_finding_rows[order.rows[at]];
        int now = same(row->variant, variant) ? fit(row->rules, rules) : 0;
        if (now > best) {
            best = now;
            found = row;
        }
    }
    return found;
}

const struct ref_finding *reference_finding(const char *id, const char *rules)
{
    return reference_finding_variant(id, rules, "");
}

const struct ref_protection *reference_protection(const char *rules, const char *purpose, const char *kind,
                                                  double voltage_v, double breaker_a)
{
    for (size_t i = 0; i < ref_protection_count; i++) {
        const struct ref_protection *row = &ref_protection_rows[i];
        const bool within =
            (isnan(row->most_v) || voltage_v <= row->most_v) && (isnan(row->most_a) || breaker_a <= row->most_a);
        if (within && same(row->rules, rules) && same(row->purpose, purpose) && same(row->kind, kind)) {
            return row;
        }
    }
    return NULL;
}

const struct ref_minimum_branch *reference_minimum_branch(const char *rules, const char *what, double rated_va)
{
    const struct ref_minimum_branch *found = NULL;
    for (size_t i = 0; i < ref_minimum_branch_count; i++) {
        const struct ref_minimum_branch *row = &ref_minimum_branch_rows[i];
        if (same(row->rules, rules) && same(row->what, what) && rated_va >= row->least_va &&
            (found == NULL || row->least_va > found->least_va)) {
            found = row;
        }
    }
    return found;
}

const struct ref_demand_range *reference_demand_range(const char *rules, int count)
{
    const struct ref_demand_range *found = NULL;
    for (size_t i = 0; i < ref_demand_range_count; i++) {
        const struct ref_demand_range *row = &ref_demand_range_rows[i];
        if (same(row->rules, rules) && row->from_count <= count &&
            (found == NULL || row->from_count > found->from_count)) {
            found = row;
        }
    }
    return found;
}

double reference_demand_range_kw(const struct ref_demand_range *row, int count)
{
    return row->c_kw + row->c_each_kw * count;
}

double reference_demand_dryer_percent(const char *rules, int count, const struct ref_demand_dryer **ret_row)
{
    const struct ref_demand_dryer *found = NULL;
    int dryers = count < 1 ? 1 : count;
    for (size_t i = 0; i < ref_demand_dryer_count; i++) {
        const struct ref_demand_dryer *row = &ref_demand_dryer_rows[i];
        if (same(row->rules, rules) && row->from_count <= dryers &&
            (found == NULL || row->from_count > found->from_count)) {
            found = row;
        }
    }
    if (ret_row != NULL) {
        *ret_row = found;
    }
    return found != NULL ? found->percent - found->less_percent * (dryers - found->beyond) : NAN;
}

const struct ref_diversity *reference_diversity(const char *rules, const char *kind)
{
    for (size_t i = 0; i < ref_diversity_count; i++) {
        const struct ref_diversity *row = &ref_diversity_rows[i];
        if (same(row->rules, rules) && same(row->kind, kind)) {
            return row;
        }
    }
    return NULL;
}

const struct ref_currency *reference_currency(const char *code)
{
    const struct ordered order = ORDERED(ref_currency, code);
    const size_t at = ordered_from(&order, code);
    return ordered_is(&order, at, code) ? &ref_currency_rows[order.rows[at]] : NULL;
}
