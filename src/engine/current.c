#include "ampsum/engine.h"

#include <math.h>

#include "terms.h"

/* What the counted loads draw together, and the arithmetic sum of their currents. */
static struct draw counted_draw(const struct terms *terms, double *ret_current_a)
{
    struct draw sum = {0};
    *ret_current_a = 0.0;
    for (size_t i = 0; i < terms->count; i++) {
        if (terms->term[i].counted) {
            *ret_current_a += terms->term[i].current_a;
            sum.power_w += terms->term[i].draw.power_w;
            sum.reactive_var += terms->term[i].draw.reactive_var;
        }
    }
    sum.apparent_va = hypot(sum.power_w, sum.reactive_var);
    return sum;
}

static struct branch_figures figures_of(const struct branch *branch, struct draw sum, double most_a, double voltage_v)
{
    /* |sum| <= sum of magnitudes; rounding must not turn that round. */
    double current_a = fmin(draw_current_a(sum.apparent_va, voltage_v, branch->poles), most_a);
    bool nothing = !(current_a > 0.0);
    double ohm = branch->poles == 3 ? voltage_v * voltage_v / sum.apparent_va : voltage_v / current_a;
    return (struct branch_figures){
        .current_a = current_a,
        .power_w = sum.power_w,
        .reactive_var = sum.reactive_var,
        .apparent_va = sum.apparent_va,
        .power_factor = nothing ? (double)NAN : fmin(sum.power_w / sum.apparent_va, 1.0),
        .equivalent_ohm = nothing ? (double)NAN : ohm,
    };
}

/* Shares of the arithmetic sum of the counted currents. */
static void share_out(struct load *loads, size_t count)
{
    double sum_a = 0.0;
    for (size_t i = 0; i < count; i++) {
        sum_a += loads[i].counted ? loads[i].current_a : 0.0;
    }
    for (size_t i = 0; i < count; i++) {
        loads[i].share = loads[i].counted && sum_a > 0.0 ? loads[i].current_a / sum_a : 0.0;
    }
}

static void fill_loads(const struct index_list *appliances, const struct terms *terms, struct load *loads)
{
    for (size_t i = 0; i < terms->count; i++) {
        const struct term *term = &terms->term[i];
        loads[i] = (struct load){
            .appliance = appliances->index[i],
            .units = term->units,
            .draw = term->draw,
            .unit_current_a = term->unit_current_a,
            .planned_a = term->planned_a,
            .current_a = term->current_a,
            .planning_a = term->planning_a,
            .counted = term->counted,
        };
    }
    share_out(loads, terms->count);
}

struct branch_figures terms_figures(struct terms *terms, const struct branch *branch, double voltage_v,
                                    struct planning_factors factors, size_t *ret_motor)
{
    double wire_a = terms->motors_alone ? terms_wire_a(terms, factors) : 0.0;
    double planning_a = terms_planning_a(terms, factors, ret_motor);
    double sum_a = 0.0;
    struct draw draw = counted_draw(terms, &sum_a);
    struct branch_figures figures = figures_of(branch, draw, sum_a, voltage_v);
    figures.planning_a = planning_a;
    figures.wire_a = terms->motors_alone ? wire_a : planning_a;
    figures.headroom_a = branch->breaker_a - planning_a;
    return figures;
}

void branch_total(const struct house *house, size_t branch, units_on on, double voltage_v,
                  struct planning_factors factors, struct load *loads, struct branch_figures *ret_figures)
{
    struct terms terms;
    terms_init(&terms, house, branch, on, voltage_v, factors);
    size_t motor = NO_INDEX;
    *ret_figures = terms_figures(&terms, &house->branches[branch], voltage_v, factors, &motor);
    if (loads != NULL) {
        fill_loads(&house->branches[branch].appliances, &terms, loads);
        if (motor != NO_INDEX) {
            loads[motor].largest_motor = true;
            loads[motor].planning_a += (factors.largest_motor - 1.0) * loads[motor].planned_a;
        }
    }
    terms_done(&terms);
}

void scene_units_on(const struct house *house, const struct scene *scene, unsigned *units)
{
    for (size_t i = 0; i < house->appliance_count; i++) {
        units[i] = 0;
    }
    for (size_t i = 0; i < scene->on.count; i++) {
        const struct scene_member *member = &scene->on.member[i];
        unsigned count = house->appliances[member->appliance].count;
        units[member->appliance] = member->units == 0 || member->units > count ? count : member->units;
    }
}
