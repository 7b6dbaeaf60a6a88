/* Finding 19: the breaker of a branch of fastened motors and cooling alone. Limits 3. */
#include <math.h>

#include "contacts.h"
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

/* No limit asks for a breaker smaller than the small ones that raise nothing. 0, NAN: none is known. */
static double not_below(double limit_a, double small_a)
{
    return isnan(limit_a) || isnan(small_a) ? limit_a : fmax(limit_a, small_a);
}

static struct device_limits limits_of_unit(const struct house *house, const struct appliance *appliance,
                                           const char *device, double unit_a, double small_a)
{
    const char *rules = rules_word(house->rules);
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
        .note_a = not_below(standard_size_at_most_a(house, row->note_times * unit_a), small_a),
        .warning_a = not_below(row->next_size != 0 ? next_standard_size_a(house, usual_a)
                                                   : standard_size_at_most_a(house, usual_a),
                               small_a),
        .danger_a = times * unit_a,
    };
}

/* The limit that a unit mostly has: the plate's, else that of a warning. */
static double usual_limit_a(const struct device_limits *limits)
{
    return isnan(limits->warning_a) ? limits->danger_a : limits->warning_a;
}

/* A breaker up to this one raises nothing, whatever the motors on its branch, ampere. */
static double small_device_a(const struct branch_case *branch_case)
{
    const char *rules = branch_case->rules;
    const bool low = !exceeds(branch_case->branch->voltage_v, reference_rule_value("small-motor-voltage", rules));
    return reference_rule_value(low ? "small-motor-device" : "small-motor-device-high", rules);
}

/* The unit that sets the largest limit; its current to ret_rest_a comes off the sum of all. */
static struct device_limits largest_limits(const struct branch_case *branch_case, const char *device,
                                           double *ret_rest_a, const struct appliance **ret_largest)
{
    struct device_limits largest = {0, NAN, NAN, NAN, false};
    const double small_a = small_device_a(branch_case);
    double sum_a = 0;
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const struct load *load = &branch_case->loads[i];
        const struct appliance *appliance = load_appliance(branch_case, load);
        const struct device_limits limits =
            limits_of_unit(branch_case->house, appliance, device, load->planned_a, small_a);
        sum_a += load->units * load->planned_a;
        if (*ret_largest == NULL || usual_limit_a(&limits) > usual_limit_a(&largest)) {
            largest = limits;
            *ret_largest = appliance;
        }
    }
    *ret_rest_a = sum_a - largest.unit_a;
    return largest;
}

/* What the limits are, in words: a plate's, the usual one, or beside it the one that no table passes. */
static const char *limits_text(const struct finder *finder, const struct device_limits *limits, double rest_a,
                               double limit_a)
{
    struct text text = {0};
    const double usual_a = limits->warning_a + rest_a;
    const bool most = limit_a >= limits->danger_a + rest_a;
    if (limits->plate) {
        text_printf(&text, "it is at most %s A by its plate", figure(finder, limit_a));
    } else if (most && limit_a > usual_a) {
        text_printf(&text, "it is mostly at most %s A and never above %s A", figure(finder, usual_a),
                    figure(finder, limit_a));
    } else {
        text_printf(&text, "it is at most %s A unless the plate says otherwise",
                    figure(finder, most ? usual_a : limit_a));
    }
    return finder_keep(finder, &text);
}

static void add_motor_breaker(const struct branch_case *branch_case, const char *variant,
                              const struct appliance *largest, const struct device_limits *limits, double rest_a,
                              double limit_a)
{
    const struct finder *finder = &branch_case->finder;
    const double breaker_a = branch_case->branch->breaker_a;
    finding_add(
        finder, "19", variant, about_branch(branch_case),
        FIGURES(NUMBER("breaker_a", breaker_a), NUMBER("current_a", limits->unit_a), NUMBER("limit_a", limit_a)),
        "the %s is rated %s A; for %s, which draws %s A, %s: compare with the plate",
        device_word(branch_case->branch->trip), figure(finder, breaker_a), largest->name,
        figure(finder, limits->unit_a), limits_text(finder, limits, rest_a, limit_a));
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
    if (!limits.plate && !exceeds(branch_case->branch->breaker_a, small_device_a(branch_case))) {
        return;
    }
    const double breaker_a = branch_case->branch->breaker_a;
    if (exceeds(breaker_a, limits.danger_a + rest_a)) {
        add_motor_breaker(branch_case, limits.plate ? "plate" : "danger", largest, &limits, rest_a,
                          limits.danger_a + rest_a);
    } else if (exceeds(breaker_a, limits.warning_a + rest_a)) {
        add_motor_breaker(branch_case, "", largest, &limits, rest_a, limits.warning_a + rest_a);
    } else if (exceeds(breaker_a, limits.note_a + rest_a)) {
        add_motor_breaker(branch_case, "note", largest, &limits, rest_a, limits.note_a + rest_a);
    }
}
