#include "ampsum/engine.h"

#include <math.h>

#include "terms.h"

/* What the counted loads draw together. */
struct counted {
    struct draw draw;
    struct draw star; /* of it, what is connected to two lines and the neutral of a three-phase supply */
    double current_a; /* arithmetic sum */
};

static struct counted counted_draw(const struct terms *terms)
{
    struct counted sum = {0};
    for (size_t i = 0; i < terms->count; i++) {
        const struct term *term = &terms->term[i];
        if (term->counted) {
            sum.current_a += term->current_a;
            draw_add(&sum.draw, term->draw);
            if (term->star) {
                draw_add(&sum.star, term->draw);
            }
        }
    }
    sum.draw.apparent_va = hypot(sum.draw.power_w, sum.draw.reactive_var);
    sum.star.apparent_va = hypot(sum.star.power_w, sum.star.reactive_var);
    return sum;
}

/* |sum| <= sum of magnitudes; rounding must not turn that round. */
static double line_current_a(const struct branch *branch, const struct counted *sum, double voltage_v)
{
    return fmin(line_a(sum->draw, sum->star, voltage_v, branch->poles), sum->current_a);
}

static struct branch_figures figures_of(const struct branch *branch, const struct counted *counted, double voltage_v)
{
    const struct draw sum = counted->draw;
    double current_a = line_current_a(branch, counted, voltage_v);
    bool nothing = !(current_a > 0.0);
    /* Of two halves to the neutral, one half: its voltage is that over sqrt 3. */
    double half_v = counted->star.apparent_va > 0 ? voltage_v / SQRT_3 : voltage_v;
    double ohm = branch->poles == 3 ? voltage_v * voltage_v / sum.apparent_va : half_v / current_a;
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

void terms_loads(const struct terms *terms, const struct index_list *appliances, size_t motor,
                 struct planning_factors factors, struct load *loads)
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
    if (motor != NO_INDEX) {
        loads[motor].largest_motor = true;
        loads[motor].planning_a += (factors.largest_motor - 1.0) * loads[motor].planned_a;
    }
}

struct branch_figures terms_figures(struct terms *terms, const struct branch *branch, double voltage_v,
                                    struct planning_factors factors, size_t *ret_motor)
{
    double wire_a = terms->motors_alone ? terms_wire_a(terms, factors) : 0.0;
    double planning_a = terms_planning_a(terms, factors, ret_motor);
    const struct counted counted = counted_draw(terms);
    struct branch_figures figures = figures_of(branch, &counted, voltage_v);
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
        terms_loads(&terms, &house->branches[branch].appliances, motor, factors, loads);
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
