/* Finding 19: the breaker of a branch of fastened motors and cooling alone. Limits 3. */
#include <math.h>

#include "findings.h"
#include "planning.h"

/* What one unit sets the breaker of its branch to, ampere. */
struct device_limits {
    double unit_a;
    double note_a;    /* a note above this; NAN: none */
    double warning_a; /* NAN: none */
    double danger_a;
    bool plate; /* danger_a stands on the plate */
};

static struct device_limits limits_of_unit(const char *rules, const struct appliance *appliance, const char *device,
                                           double unit_a)
{
    if (isfinite(appliance->maximum_breaker_a)) {
        return (struct device_limits){unit_a, NAN, NAN, appliance->maximum_breaker_a, true};
    }
    const char *what = load_is_cooling(appliance) ? "cooling" : "motor";
    const struct ref_motor_breaker *row = reference_motor_breaker(rules, what, device);
    if (row == NULL) {
        return (struct device_limits){unit_a, NAN, NAN, NAN, false};
    }
    const double usual_a = row->warning_times * unit_a;
    const double times = exceeds(unit_a, row->large_a) ? row->danger_times_large : row->danger_times;
    return (struct device_limits){
        .unit_a = unit_a,
        .note_a = reference_standard_size_at_most_a(rules, row->note_times * unit_a),
        .warning_a = row->next_size != 0 ? reference_next_standard_size_a(rules, usual_a, NULL)
                                         : reference_standard_size_at_most_a(rules, usual_a),
        .danger_a = times * unit_a,
    };
}

/* The limit that a unit mostly has: the plate's, else that of a warning. */
static double usual_limit_a(const struct device_limits *limits)
{
    return isnan(limits->warning_a) ? limits->danger_a : limits->warning_a;
}

/* The unit that sets the largest limit; its current to ret_rest_a comes off the sum of all. */
static struct device_limits largest_limits(const struct branch_case *branch_case, const char *device,
                                           double *ret_rest_a, const struct appliance **ret_largest)
{
    struct device_limits largest = {0, NAN, NAN, NAN, false};
    double sum_a = 0;
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const struct load *load = &branch_case->loads[i];
        const struct appliance *appliance = load_appliance(branch_case, load);
        const struct device_limits limits = limits_of_unit(branch_case->rules, appliance, device, load->planned_a);
        sum_a += load->units * load->planned_a;
        if (*ret_largest == NULL || usual_limit_a(&limits) > usual_limit_a(&largest)) {
            largest = limits;
            *ret_largest = appliance;
        }
    }
    *ret_rest_a = sum_a - largest.unit_a;
    return largest;
}

/* A breaker that small raises nothing, whatever the motors on its branch. */
static bool is_small(const struct branch_case *branch_case)
{
    const char *rules = branch_case->rules;
    const bool low = !exceeds(branch_case->branch->voltage_v, reference_rule_value("small-motor-voltage", rules));
    const double small_a = reference_rule_value(low ? "small-motor-device" : "small-motor-device-high", rules);
    return !exceeds(branch_case->branch->breaker_a, small_a);
}

static void add_motor_breaker(const struct branch_case *branch_case, const char *variant,
                              const struct appliance *largest, const struct device_limits *limits, double limit_a)
{
    const struct finder *finder = &branch_case->finder;
    const double breaker_a = branch_case->branch->breaker_a;
    finding_add(
        finder, "19", variant, about_branch(branch_case),
        FIGURES(NUMBER("breaker_a", breaker_a), NUMBER("current_a", limits->unit_a), NUMBER("limit_a", limit_a)),
        "the breaker is rated %s A; for %s, which draws %s A, it is at most %s A%s: compare with the plate",
        figure(finder, breaker_a), largest->name, figure(finder, limits->unit_a), figure(finder, limit_a),
        limits->plate ? " by its plate" : " unless the plate says otherwise");
}

/* 19: breaker above what a motor's or cooling unit's plate or table allows. */
void check_motor_breaker(struct branch_case *branch_case)
{
    if (!branch_motors_alone(branch_case->index, branch_case->assessment->factors)) {
        return;
    }
    const char *device = branch_case->branch->trip == TRIP_FUSE ? "fuse" : "breaker";
    const struct appliance *largest = NULL;
    double rest_a = 0;
    const struct device_limits limits = largest_limits(branch_case, device, &rest_a, &largest);
    if (!limits.plate && is_small(branch_case)) {
        return;
    }
    const double breaker_a = branch_case->branch->breaker_a;
    if (exceeds(breaker_a, limits.danger_a + rest_a)) {
        add_motor_breaker(branch_case, limits.plate ? "plate" : "danger", largest, &limits, limits.danger_a + rest_a);
    } else if (exceeds(breaker_a, limits.warning_a + rest_a)) {
        add_motor_breaker(branch_case, "", largest, &limits, limits.warning_a + rest_a);
    } else if (exceeds(breaker_a, limits.note_a + rest_a)) {
        add_motor_breaker(branch_case, "note", largest, &limits, limits.note_a + rest_a);
    }
}
