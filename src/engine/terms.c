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
    for (size_t i = 0; i < list->count; i++) {
        const struct appliance *appliance = &house->appliances[list->index[i]];
        unsigned units = on == NULL ? appliance->count : on[list->index[i]];
        terms->term[i] = term_of(house, appliance, units, voltage_v, factors);
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

struct term term_of(const struct house *house, const struct appliance *appliance, unsigned units, double voltage_v,
                    struct planning_factors factors)
{
    struct draw draw = appliance_draw(house, appliance, voltage_v);
    double unit_current_a = draw_current_a(draw.apparent_va, voltage_v, house->branches[appliance->branch].poles);
    double current_a = units * unit_current_a;
    return (struct term){
        .draw = {units * draw.power_w, units * draw.reactive_var, units * draw.apparent_va},
        .units = units,
        .unit_current_a = unit_current_a,
        .current_a = current_a,
        .planning_a = appliance->continuous ? factors.continuous * current_a : current_a,
        .group = appliance->group_index,
        .motor = appliance->behaviour == BEHAVIOUR_MOTOR,
        .continuous = appliance->continuous != 0,
        .on = units > 0,
    };
}

/* Step 2: of each group the largest planning current that is on, the first in the file where equal. */
static void reduce_groups(struct terms *terms)
{
    for (size_t first = 0; first < terms->grouped_count;) {
        struct term *best = NULL;
        size_t i = first;
        for (; i < terms->grouped_count && terms->grouped[i].group == terms->grouped[first].group; i++) {
            struct term *term = &terms->term[terms->grouped[i].term];
            term->counted = false;
            if (term->on && (best == NULL || is_larger(term->planning_a, best->planning_a))) {
                best = term;
            }
        }
        if (best != NULL) {
            best->counted = true;
        }
        first = i;
    }
}

double terms_planning_a(struct terms *terms, struct planning_factors factors, size_t *ret_motor)
{
    for (size_t i = 0; i < terms->count; i++) {
        terms->term[i].counted = terms->term[i].on;
    }
    reduce_groups(terms);
    double planning_a = 0.0;
    size_t motor = NO_INDEX;
    for (size_t i = 0; i < terms->count; i++) {
        const struct term *term = &terms->term[i];
        if (!term->counted) {
            continue;
        }
        planning_a += term->planning_a;
        if (term->motor && (motor == NO_INDEX || is_larger(term->unit_current_a, terms->term[motor].unit_current_a))) {
            motor = i;
        }
    }
    /* Step 3: a continuous largest motor has had its factor, and no other motor takes its place. */
    bool extra = motor != NO_INDEX && !terms->term[motor].continuous;
    if (extra) {
        planning_a += (factors.largest_motor - 1.0) * terms->term[motor].unit_current_a;
    }
    if (ret_motor != NULL) {
        *ret_motor = extra ? motor : NO_INDEX;
    }
    return planning_a;
}
