#include "ampsum/decide.h"
#include "ampsum/reference.h"

#include <stdlib.h>
#include <string.h>

#include "moments.h"

struct combos_problem decide_combos(const struct house *house, size_t branch, struct planning_factors factors,
                                    struct arena *arena)
{
    const struct branch *what = &house->branches[branch];
    struct combos_load *loads = arena_array(arena, what->appliances.count, sizeof *loads);
    for (size_t i = 0; i < what->appliances.count; i++) {
        const size_t index = what->appliances.index[i];
        const struct appliance *appliance = &house->appliances[index];
        struct draw draw = appliance_draw(house, appliance, what->voltage_v);
        double unit_current_a = appliance_line_a(house, appliance, draw.apparent_va, what->voltage_v);
        loads[i] = (struct combos_load){
            .unit_a = appliance_planned_a(index, unit_current_a, factors),
            .count = appliance->count,
            .group = appliance->group_index == NO_INDEX ? COMBOS_NO_GROUP : appliance->group_index,
            .continuous = appliance_continuous_factor(house, index, factors) > 1,
            .motor = appliance->behaviour == BEHAVIOUR_MOTOR,
        };
    }
    return (struct combos_problem){.loads = loads,
                                   .load_count = what->appliances.count,
                                   .limit_a = what->breaker_a,
                                   .continuous = factors.continuous,
                                   .largest_motor = branch_motors_alone(branch, factors) ? 1 : factors.largest_motor};
}

struct branch_figures decide_set_figures(const struct house *house, size_t branch, struct planning_factors factors,
                                         const struct combos_part *parts, size_t part_count, unsigned *units)
{
    const struct branch *what = &house->branches[branch];
    for (size_t i = 0; i < part_count; i++) {
        units[what->appliances.index[parts[i].load]] = parts[i].units;
    }
    struct branch_figures figures;
    branch_total(house, branch, units, what->voltage_v, factors, NULL, &figures);
    for (size_t i = 0; i < part_count; i++) {
        units[what->appliances.index[parts[i].load]] = 0;
    }
    return figures;
}

bool decide_stays_on(const struct house *house, const struct appliance *appliance)
{
    if (appliance->category == CATEGORY_REFRIGERATION || decide_is_medical(house, appliance)) {
        return true;
    }
    static const char *const things[] = {"sump-pump", "heating-pump", "refrigerator"};
    const struct ref_word *word = reference_word(rules_word(house->rules), appliance->name, REFERENCE_WORD_THING);
    for (size_t i = 0; word != NULL && i < sizeof things / sizeof things[0]; i++) {
        if (strcmp(word->thing, things[i]) == 0) {
            return true;
        }
    }
    return false;
}

bool decide_is_medical(const struct house *house, const struct appliance *appliance)
{
    return appliance->category == CATEGORY_MEDICAL ||
           reference_word_caution(rules_word(house->rules), appliance->name, "medical") != NULL;
}

/* Places for plugs of an outlet that no load keeps for good. */
static size_t free_contacts(const struct house *house, const struct branch *branch, size_t outlet, size_t but)
{
    size_t loads = 0;
    size_t fixed = 0;
    size_t kept = 0;
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const struct appliance *appliance = &house->appliances[branch->appliances.index[i]];
        if (appliance->outlet != outlet || branch->appliances.index[i] == but) {
            continue;
        }
        loads++;
        fixed += appliance->fixed != 0;
        kept += appliance->fixed == 0 && decide_stays_on(house, appliance) ? appliance->count : 0;
    }
    bool wired = loads > 0 ? fixed == loads : branch->purpose == PURPOSE_LIGHTING;
    size_t contacts = (size_t)house->outlets[outlet].contacts;
    return wired || kept >= contacts ? 0 : contacts - kept;
}

/* Loads that stay and whose outlet is not named: each keeps one of the branch's places. */
static size_t kept_somewhere(const struct house *house, const struct branch *branch, size_t but)
{
    size_t kept = 0;
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const struct appliance *appliance = &house->appliances[branch->appliances.index[i]];
        bool counts = branch->appliances.index[i] != but && appliance->outlet == NO_INDEX && appliance->fixed == 0;
        kept += counts && decide_stays_on(house, appliance) ? appliance->count : 0;
    }
    return kept;
}

bool decide_takes_plugs(const struct house *house, size_t branch, size_t but)
{
    const struct branch *what = &house->branches[branch];
    if (what->purpose == PURPOSE_DEDICATED) {
        return false;
    }
    size_t places = 0;
    for (size_t i = 0; i < what->outlets.count; i++) {
        places += free_contacts(house, what, what->outlets.index[i], but);
    }
    if (what->outlets.count > 0) {
        return places > kept_somewhere(house, what, but);
    }
    size_t loads = 0;
    size_t fixed = 0;
    for (size_t i = 0; i < what->appliances.count; i++) {
        bool other = what->appliances.index[i] != but;
        loads += other;
        fixed += other && house->appliances[what->appliances.index[i]].fixed != 0;
    }
    return what->purpose != PURPOSE_LIGHTING && (loads == 0 || fixed < loads);
}

static size_t count_legs(unsigned legs, unsigned *leg_bit)
{
    size_t count = 0;
    for (unsigned bit = LEG_A; bit <= LEG_C; bit <<= 1) {
        if ((legs & bit) != 0) {
            leg_bit[count++] = bit;
        }
    }
    return count;
}

static double branch_planning_a(const struct house *house, size_t branch, bool busiest, struct planning_factors factors)
{
    struct branch_figures figures;
    double voltage_v = house->branches[branch].voltage_v;
    if (busiest) {
        struct moment at;
        branch_busiest(house, branch, voltage_v, factors, NULL, &at, &figures);
    } else {
        branch_total(house, branch, NULL, voltage_v, factors, NULL, &figures);
    }
    return figures.planning_a;
}

/* Adds what the panels fed from this one put on its legs. */
static void add_fed_panels(const struct house *house, size_t panel, struct planning_factors factors,
                           struct decide_legs *legs)
{
    struct panel_figures *figures = memory_resize(NULL, house->panel_count, sizeof *figures);
    panels_total(house, NULL, factors, figures);
    for (size_t i = 0; i < house->panel_count; i++) {
        for (size_t k = 0; k < legs->leg_count && i != panel && house->panels[i].from == panel; k++) {
            size_t leg = legs->leg_bit[k] == LEG_A ? 0 : legs->leg_bit[k] == LEG_B ? 1 : 2;
            legs->carried_a[k] += figures[i].leg_planning_a[leg];
        }
    }
    free(figures);
}

struct decide_legs decide_legs(const struct house *house, size_t panel, bool busiest, struct planning_factors factors,
                               struct arena *arena)
{
    struct decide_legs legs = {0};
    legs.branches = arena_array(arena, house->branch_count, sizeof *legs.branches);
    legs.branch_a = arena_array(arena, house->branch_count, sizeof *legs.branch_a);
    legs.leg = arena_array(arena, house->branch_count, sizeof *legs.leg);
    legs.leg_count = count_legs(house->panels[panel].legs, legs.leg_bit);
    for (size_t i = 0; i < house->branch_count; i++) {
        const struct branch *branch = &house->branches[i];
        if (branch->panel != panel) {
            continue;
        }
        double planning_a = branch_planning_a(house, i, busiest, factors);
        for (size_t k = 0; k < legs.leg_count; k++) {
            bool on_leg = (branch->legs & legs.leg_bit[k]) != 0;
            if (branch->poles == 1 && on_leg) {
                legs.leg[legs.branch_count] = k;
            }
            legs.carried_a[k] += branch->poles > 1 && on_leg ? planning_a : 0;
        }
        if (branch->poles == 1) {
            legs.branch_a[legs.branch_count] = planning_a;
            legs.branches[legs.branch_count++] = i;
        }
    }
    add_fed_panels(house, panel, factors, &legs);
    return legs;
}

void decide_not_at(const struct house *house, size_t branch, size_t added, struct planning_factors factors,
                   bool ret_over[MINUTES_IN_DAY])
{
    const struct branch *what = &house->branches[branch];
    unsigned *units = memory_resize(NULL, house->appliance_count, sizeof *units); /* set for the branch alone */
    memset(ret_over, 0, MINUTES_IN_DAY * sizeof *ret_over);
    struct moments moments;
    moments_init(&moments, house, what->appliances.index, what->appliances.count);
    struct moment at;
    int end_min = 0;
    while (moments_next(&moments, &at, &end_min)) {
        if (!appliance_is_on(&house->appliances[added], at)) {
            continue;
        }
        for (size_t i = 0; i < what->appliances.count; i++) {
            const struct appliance *appliance = &house->appliances[what->appliances.index[i]];
            bool on = what->appliances.index[i] == added || appliance_is_on(appliance, at);
            units[what->appliances.index[i]] = on ? appliance->count : 0;
        }
        struct branch_figures figures;
        branch_total(house, branch, units, what->voltage_v, factors, NULL, &figures);
        if (combos_overloads(figures.planning_a, what->breaker_a)) {
            int start_min = at.minute % MINUTES_IN_DAY;
            memset(ret_over + start_min, true, (size_t)(end_min - start_min) * sizeof *ret_over);
        }
    }
    moments_done(&moments);
    free(units);
}
