#include "ampsum/engine.h"

#include <assert.h>
#include <math.h>

#include "terms.h"

/* Line current over S / V: two halves to the neutral of a three-phase supply draw S / (2 V / sqrt 3). Limits 11. */
static double line_share(const struct appliance *appliance)
{
    return appliance->connected == CONNECTION_2L_N ? SQRT_3 / 2 : 1.0;
}

bool appliance_is_load(const struct appliance *appliance)
{
    return appliance->read_category != CATEGORY_GENERATOR;
}

/* Rated apparent power of one unit, at rated voltage. */
static double rated_apparent_va(const struct appliance *appliance, int poles)
{
    const double rated_v = appliance->plate_v;
    switch (appliance->rating) {
    case RATING_POWER:
        return appliance->power_w / appliance->power_factor;
    case RATING_APPARENT:
        return appliance->apparent_va;
    case RATING_CURRENT:
        return (poles == 3 ? SQRT_3 : 1.0) * rated_v * appliance->current_a / line_share(appliance);
    case RATING_RESISTANCE:
        return rated_v * rated_v / appliance->resistance_ohm;
    default:
        return rated_v * appliance->motor_current_a;
    }
}

/* Rated active power: what was given where it was given, so that no digit is lost on the way. */
static double rated_power_w(const struct appliance *appliance, double apparent_va)
{
    if (appliance->rating == RATING_POWER) {
        return appliance->power_w;
    }
    /* A resistance is a resistance, whatever the default power factor of the behaviour. */
    return appliance->rating == RATING_RESISTANCE ? apparent_va : apparent_va * appliance->power_factor;
}

/* What the voltage does to a rating. */
static double voltage_scale(const struct appliance *appliance, double voltage_v)
{
    const double over = voltage_v / appliance->plate_v;
    return appliance->behaviour == BEHAVIOUR_RESISTIVE ? over * over : 1.0;
}

double appliance_power_w(const struct house *house, const struct appliance *appliance, double voltage_v)
{
    assert(voltage_v >= 0.0 && appliance->plate_v > 0.0);
    if (!appliance_is_load(appliance)) {
        return 0.0;
    }
    if (appliance->rating == RATING_POWER) {
        return appliance->power_w * voltage_scale(appliance, voltage_v);
    }
    const double apparent_va = rated_apparent_va(appliance, house->branches[appliance->branch].poles);
    return rated_power_w(appliance, apparent_va) * voltage_scale(appliance, voltage_v);
}

struct draw appliance_draw(const struct house *house, const struct appliance *appliance, double voltage_v)
{
    assert(voltage_v >= 0.0 && appliance->plate_v > 0.0);
    if (!appliance_is_load(appliance)) {
        return (struct draw){0};
    }
    double apparent_va = rated_apparent_va(appliance, house->branches[appliance->branch].poles);
    double power_w = rated_power_w(appliance, apparent_va);
    double scale = voltage_scale(appliance, voltage_v);
    /* (S - P)(S + P) instead of S*S - P*P: no loss of digits where the power factor is near 1. */
    double square = (apparent_va - power_w) * (apparent_va + power_w);
    return (struct draw){
        .power_w = power_w * scale,
        .reactive_var = square > 0.0 ? sqrt(square) * scale : 0.0,
        .apparent_va = apparent_va * scale,
    };
}

double draw_current_a(double apparent_va, double voltage_v, int poles)
{
    assert(voltage_v > 0.0);
    return apparent_va / (poles == 3 ? SQRT_3 * voltage_v : voltage_v);
}

double appliance_line_a(const struct house *house, const struct appliance *appliance, double apparent_va,
                        double voltage_v)
{
    const int poles = house->branches[appliance->branch].poles;
    return draw_current_a(apparent_va, voltage_v, poles) * line_share(appliance);
}

/*
 * The heavier of two lines of a three-phase supply: what lies between them draws along their voltage, 30 degree off
 * either line's own, along which half of the rest draws. Limits 11.
 */
static double heavier_line_a(struct draw all, struct draw star, double voltage_v)
{
    const double star_v = 2 * voltage_v / SQRT_3;
    const double along_a = star.power_w / star_v;
    const double across_a = star.reactive_var / star_v;
    const double between_w = all.power_w - star.power_w;
    const double between_var = all.reactive_var - star.reactive_var;
    double most_a = 0;
    for (int side = -1; side <= 1; side += 2) {
        const double turned_w = between_w * (SQRT_3 / 2) + side * between_var / 2;
        const double turned_var = between_var * (SQRT_3 / 2) - side * between_w / 2;
        most_a = fmax(most_a, hypot(along_a + turned_w / voltage_v, across_a + turned_var / voltage_v));
    }
    return most_a;
}

double line_a(struct draw all, struct draw star, double voltage_v, int poles)
{
    const bool halves = star.power_w > 0 || star.reactive_var > 0;
    return halves ? heavier_line_a(all, star, voltage_v)
                  : draw_current_a(hypot(all.power_w, all.reactive_var), voltage_v, poles);
}

bool branch_motors_alone(size_t branch, struct planning_factors factors)
{
    return factors.motors != NULL && factors.motors[branch] == MOTORS_ALONE;
}

double appliance_continuous_factor(const struct house *house, size_t appliance, struct planning_factors factors)
{
    const struct appliance *load = &house->appliances[appliance];
    enum continuous rule = factors.loads == NULL ? CONTINUOUS_AS_GIVEN : factors.loads[appliance].continuous;
    bool continuous = rule == CONTINUOUS_ALWAYS || (rule == CONTINUOUS_AS_GIVEN && load->continuous != 0);
    bool spared = load->behaviour == BEHAVIOUR_MOTOR || branch_motors_alone(load->branch, factors);
    return continuous && !spared ? factors.continuous : 1.0;
}

double appliance_planned_a(size_t appliance, double unit_current_a, struct planning_factors factors)
{
    if (factors.loads == NULL) {
        return unit_current_a;
    }
    const struct load_plan *plan = &factors.loads[appliance];
    return fmax(plan->factor * unit_current_a, plan->least_a);
}
