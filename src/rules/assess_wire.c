#include "assess_wire.h"

#include <math.h>
#include <stdlib.h>

#include "ampsum/reference.h"
#include "ampsum/wiring.h"

double wire_ohm_per_km(const struct house *house, struct wire wire)
{
    if (wire.conductor == NULL) {
        return NAN;
    }
    return reference_resistance_ohm_per_km(wire.conductor, reference_operating_temp_c(rules_word(house->rules)));
}

static void nothing_known(struct branch_assessment *result)
{
    result->wire_known = false;
    result->wire_solved = false;
    result->drop_percent = NAN;
    result->loss_w = NAN;
    result->segment_current_a = NAN;
}

/* Everything on, or the loads of the scene or set. */
static void put_loads(struct assessment *assessment, size_t index, const struct load *loads, struct wiring *wiring)
{
    if (assessment->options.basis == BASIS_BUSIEST) {
        wiring_load_counted(wiring, loads);
        return;
    }
    size_t count = assessment->house->branches[index].appliances.count;
    struct load *chosen = memory_resize(NULL, count, sizeof *chosen);
    struct branch_figures unused;
    branch_total(assessment->house, index, assessment->options.on, assessment->branches[index].voltage_v,
                 assessment->factors, chosen, &unused);
    wiring_load_counted(wiring, chosen);
    free(chosen);
}

void assess_branch_wire(struct assessment *assessment, size_t index, const struct load *loads)
{
    const struct house *house = assessment->house;
    struct branch_assessment *result = &assessment->branches[index];
    nothing_known(result);
    struct wiring wiring = {0};
    double ohm_per_km = wire_ohm_per_km(house, house->branches[index].wire);
    if (!assessment->options.wires || isnan(ohm_per_km) || !wiring_init(&wiring, house, index, ohm_per_km)) {
        return;
    }
    put_loads(assessment, index, loads, &wiring);
    result->wire_known = true;
    result->wire_solved = wiring_solve(&wiring, assessment->options.supply_ratio);
    if (result->wire_solved) {
        result->drop_percent = wiring_worst_drop_percent(&wiring);
        result->loss_w = wiring_loss_w(&wiring);
        result->segment_current_a = wiring_largest_current_a(&wiring);
    }
    wiring_done(&wiring);
}

void assess_feeder_wire(struct assessment *assessment, size_t index)
{
    const struct house *house = assessment->house;
    struct panel_assessment *result = &assessment->panels[index];
    result->feeder_drop_percent =
        feeder_drop_percent(house, index, &result->all, wire_ohm_per_km(house, house->panels[index].wire));
}

bool branch_is_lighting(const struct house *house, size_t branch_index)
{
    const struct branch *branch = &house->branches[branch_index];
    if (branch->purpose == PURPOSE_LIGHTING) {
        return true;
    }
    for (size_t i = 0; i < branch->appliances.count; i++) {
        if (house->appliances[branch->appliances.index[i]].category != CATEGORY_LIGHTING) {
            return false;
        }
    }
    return branch->appliances.count > 0;
}

double feeders_drop_percent(const struct assessment *assessment, size_t panel)
{
    double sum_percent = 0;
    for (; panel != 0 && panel != NO_INDEX; panel = assessment->house->panels[panel].from) {
        const double drop_percent = assessment->panels[panel].feeder_drop_percent;
        sum_percent += isnan(drop_percent) ? 0 : drop_percent;
    }
    return sum_percent;
}

double branch_drop_allowed_percent(const struct assessment *assessment, size_t branch)
{
    const struct house *house = assessment->house;
    const char *rules = rules_word(house->rules);
    const double before_percent = feeders_drop_percent(assessment, house->branches[branch].panel);
    if (reference_finds(house_rule_set(house)->drop_limit, "branch-and-total")) {
        return fmax(0, fmin(reference_rule_value("voltage-drop-branch", rules),
                            reference_rule_value("voltage-drop-total", rules) - before_percent));
    }
    if (house_rule_set(house)->drop_limit == NULL) {
        return NAN;
    }
    const char *limit = branch_is_lighting(house, branch) ? "voltage-drop-lighting" : "voltage-drop-other";
    return fmax(0, reference_rule_value(limit, rules) - before_percent);
}
