#include "terms.h"

#include <stdlib.h>

static int compare_grouped(const void *left, const void *right)
{
    const struct grouped *a = left;
    const struct grouped *b = right;
    if (a->group != b->group) {
        return a->group < b->group ? -1 : 1;
    }
    return (a->term > b->term) - (a->term < b->term);
}

static void terms_room(struct terms *terms, size_t count)
{
    bool small = count <= TERMS_ON_STACK;
    terms->count = count;
    terms->grouped_count = 0;
    terms->term = small ? terms->term_here : memory_resize(NULL, count, sizeof *terms->term);
    terms->grouped = small ? terms->grouped_here : memory_resize(NULL, count, sizeof *terms->grouped);
}

void terms_init(struct terms *terms, const struct house *house, size_t branch, units_on on, double voltage_v,
                struct planning_factors factors)
{
    const struct index_list *list = &house->branches[branch].appliances;
    terms_room(terms, list->count);
    terms->motors_alone = branch_motors_alone(branch, factors);
    for (size_t i = 0; i < list->count; i++) {
        const struct appliance *appliance = &house->appliances[list->index[i]];
        unsigned units = on == NULL ? appliance->count : on[list->index[i]];
        terms->term[i] = term_of(house, list->index[i], units, voltage_v, factors);
        if (appliance->group_index != NO_INDEX) {
            terms->grouped[terms->grouped_count++] = (struct grouped){.group = appliance->group_index, .term = i};
        }
    }
    if (terms->grouped_count > 1) {
        qsort(terms->grouped, terms->grouped_count, sizeof *terms->grouped, compare_grouped);
    }
}

void terms_done(struct terms *terms)
{
    if (terms->term != terms->term_here) {
        free(terms->term);
        free(terms->grouped);
    }
}

struct term term_of(const struct house *house, size_t index, unsigned units, double voltage_v,
                    struct planning_factors factors)
{
    const struct appliance *appliance = &house->appliances[index];
    struct draw draw = appliance_draw(house, appliance, voltage_v);
    double unit_current_a = appliance_line_a(house, appliance, draw.apparent_va, voltage_v);
    double planned_a = appliance_planned_a(index, unit_current_a, factors);
    return (struct term){
        .draw = {units * draw.power_w, units * draw.reactive_var, units * draw.apparent_va},
        .units = units,
        .unit_current_a = unit_current_a,
        .planned_a = planned_a,
        .plate_a = appliance->minimum_ampacity_a,
        .star = appliance->connected == CONNECTION_2L_N,
        .current_a = units * unit_current_a,
        .planning_a = units * planned_a * appliance_continuous_factor(house, index, factors),
        .group = appliance->group_index,
        .motor = appliance->behaviour == BEHAVIOUR_MOTOR,
        .on = units > 0 && appliance_is_load(appliance),
    };
}

static double sum_ungrouped(const struct terms *terms)
{
    double sum_a = 0.0;
    for (size_t i = 0; i < terms->count; i++) {
        const struct term *term = &terms->term[i];
        sum_a += term->on && term->group == NO_INDEX ? term->planning_a : 0.0;
    }
    return sum_a;
}

/* Of each group the largest planning current that is on counts at first, the first in the file where equal. */
static double reduce_groups(struct terms *terms)
{
    double sum_a = 0.0;
    for (size_t first = 0; first < terms->grouped_count;) {
        struct term *best = NULL;
        size_t i = first;
        for (; i < terms->grouped_count && terms->grouped[i].group == terms->grouped[first].group; i++) {
            struct term *term = &terms->term[terms->grouped[i].term];
            if (term->on && (best == NULL || is_larger(term->planning_a, best->planning_a))) {
                best = term;
            }
        }
        for (size_t k = first; k < i; k++) {
            terms->grouped[k].best = best == NULL ? NO_LEADER : (size_t)(best - terms->term);
        }
        sum_a += best == NULL ? 0.0 : best->planning_a;
        first = i;
    }
    return sum_a;
}

/* What a term may bring on top: as a motor against the breaker, or on the wire of motors alone. */
static bool may_lead(const struct terms *terms, const struct term *term, bool wire)
{
    return term->on && (terms->motors_alone ? wire : term->motor);
}

static struct leader find_leader(const struct terms *terms, struct planning_factors factors, double sum_a, bool wire)
{
    struct leader leader = no_leader;
    for (size_t i = 0; i < terms->count; i++) {
        const struct term *term = &terms->term[i];
        if (may_lead(terms, term, wire) && term->group == NO_INDEX) {
            double extra_a = wire ? wire_extra_a(term, factors) : motor_extra_a(term, factors);
            leader_offer(&leader, leader_of(i, extra_a, term->planning_a, i, 0.0), sum_a);
        }
    }
    for (size_t k = 0; k < terms->grouped_count; k++) {
        size_t i = terms->grouped[k].term;
        const struct term *term = &terms->term[i];
        if (may_lead(terms, term, wire)) {
            size_t best = terms->grouped[k].best;
            double most_a = terms->term[best].planning_a;
            double extra_a = wire ? wire_extra_a(term, factors) : motor_extra_a(term, factors);
            leader_offer(&leader, leader_of(i, extra_a, term->planning_a, best, most_a), sum_a);
        }
    }
    return leader;
}

static void mark_counted(struct terms *terms, struct leader leader)
{
    for (size_t i = 0; i < terms->count; i++) {
        terms->term[i].counted = terms->term[i].on && terms->term[i].group == NO_INDEX;
    }
    for (size_t k = 0; k < terms->grouped_count; k++) {
        if (terms->grouped[k].best != NO_LEADER) {
            terms->term[terms->grouped[k].best].counted = true;
        }
    }
    if (leader.load != NO_LEADER) {
        terms->term[leader.instead].counted = false;
        terms->term[leader.load].counted = true;
    }
}

static double total_a(struct terms *terms, struct planning_factors factors, bool wire, size_t *ret_motor)
{
    double sum_a = sum_ungrouped(terms) + reduce_groups(terms);
    struct leader leader = find_leader(terms, factors, sum_a, wire);
    mark_counted(terms, leader);
    if (ret_motor != NULL) {
        *ret_motor = leader.load == NO_LEADER ? NO_INDEX : leader.load;
    }
    return sum_a + leader.gain_a;
}

double terms_planning_a(struct terms *terms, struct planning_factors factors, size_t *ret_motor)
{
    return total_a(terms, factors, false, ret_motor);
}

double terms_wire_a(struct terms *terms, struct planning_factors factors)
{
    return total_a(terms, factors, true, NULL);
}
