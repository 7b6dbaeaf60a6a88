/* Findings 13 and 14, and 5 for a feeder: what a panel says. */
#include <math.h>

#include "ampsum/demand.h"
#include "findings.h"

static const char leg_letters[] = "ABC";

/* 13: the demand of the service, or of a sub-panel's feeder, above its breaker. */
void check_panel_demand(struct panel_case *panel_case)
{
    const struct finder *finder = &panel_case->finder;
    const struct house *house = panel_case->house;
    bool is_main = panel_case->index == 0;
    double breaker_a = is_main ? house->service_a : panel_case->panel->breaker_a;
    double demand_a = panel_case->result->demand_a;
    if (!exceeds(demand_a, breaker_a)) {
        return;
    }
    bool no_area = is_main && demand_takes_area(house) && !isfinite(house->floor_area_m2);
    finding_add(finder, "13", "", about_panel(panel_case),
                FIGURES(NUMBER("current_a", demand_a), NUMBER("limit_a", breaker_a)),
                "the demand of the %s by the %s method is %s A, %s A over the %s A breaker%s",
                is_main ? "service" : "feeder", demand_method_word(demand_default_method(house->rules)),
                figure(finder, demand_a), figure(finder, demand_a - breaker_a), figure(finder, breaker_a),
                no_area ? "; without floor_area the general lighting load is not even in it" : "");
}

/* 14: legs out of balance by more than the usual share of the larger. */
void check_leg_balance(struct panel_case *panel_case)
{
    double largest_a = 0;
    double smallest_a = INFINITY;
    size_t largest = 0;
    size_t smallest = 0;
    size_t leg_count = 0;
    for (size_t leg = 0; leg < 3; leg++) {
        if ((panel_case->panel->legs & (1u << leg)) == 0) {
            continue;
        }
        leg_count++;
        double current_a = panel_case->result->all.leg_current_a[leg];
        if (current_a > largest_a) {
            largest_a = current_a;
            largest = leg;
        }
        if (current_a < smallest_a) {
            smallest_a = current_a;
            smallest = leg;
        }
    }
    double share = reference_rule_value("leg-imbalance", panel_case->rules);
    const struct finder *finder = &panel_case->finder;
    if (leg_count > 1 && exceeds(largest_a - smallest_a, share / 100 * largest_a)) {
        finding_add(finder, "14", "", about_panel(panel_case),
                    FIGURES(NUMBER("current_a", largest_a - smallest_a), NUMBER("limit_a", share / 100 * largest_a),
                            LEGS("leg_current_a", panel_case->panel->legs, panel_case->result->all.leg_current_a)),
                    "with everything on leg %c carries %s A and leg %c %s A: they differ by %s %% of the larger",
                    leg_letters[largest], figure(finder, largest_a), leg_letters[smallest], figure(finder, smallest_a),
                    figure(finder, 100 * (largest_a - smallest_a) / largest_a));
    }
}
