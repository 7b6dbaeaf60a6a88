/* The largest load that still fits, found in the method's own demand, so that put back it gives the rating. */
#include <math.h>

#include "service_parts.h"

enum { TRIES_MOST = 200 };

struct search {
    const struct service_work *work;
    bool by_lines;
    struct service_probe probe;
    struct demand_options options;
    double rating_va;
};

/* Demand beyond the rating with the probe at so many volt-amperes; above zero: too much. */
static double beyond_va(struct search *search, double va)
{
    search->probe.load->apparent_va = va;
    const double current_a = service_current_a(search->work, search->by_lines, search->probe.house, &search->options);
    return current_a * search->work->service->divisor_v - search->rating_va;
}

/* False position between two ends, one too small and one too large; an end kept twice has its value halved. */
static double between_va(struct search *search, double low, double low_beyond, double high, double high_beyond)
{
    int side = 0;
    for (int i = 0; i < TRIES_MOST; i++) {
        const double at = low - low_beyond * (high - low) / (high_beyond - low_beyond);
        const double beyond = beyond_va(search, at);
        if (fabs(beyond) <= 1e-12 * search->rating_va || !(high - low > 1e-12 * high)) {
            return at;
        }
        if (beyond > 0) {
            high = at;
            high_beyond = beyond;
            low_beyond *= side > 0 ? 0.5 : 1;
            side = 1;
        } else {
            low = at;
            low_beyond = beyond;
            high_beyond *= side < 0 ? 0.5 : 1;
            side = -1;
        }
    }
    return low;
}

/* The demand rises with the load in straight pieces. */
static double fitting_va(struct search *search)
{
    const double none_beyond = beyond_va(search, 0);
    if (service_over(none_beyond + search->rating_va, search->rating_va)) {
        return 0;
    }
    double high = search->rating_va;
    double high_beyond = beyond_va(search, high);
    for (int i = 0; i < TRIES_MOST && high_beyond <= 0; i++) {
        high *= 2;
        high_beyond = beyond_va(search, high);
    }
    return high_beyond > 0 ? fmax(between_va(search, 0, none_beyond, high, high_beyond), 0) : high;
}

static double search_va(const struct service_work *work, const struct service_method *method,
                        struct service_probe probe)
{
    struct search search = {
        .work = work,
        .by_lines = method->by_lines,
        .probe = probe,
        .options = service_options(work, method->method),
        .rating_va = work->service->rating_va,
    };
    search.options.added_from = probe.house->appliance_count - 1;
    search.options.added_times = 0;
    search.options.plates = true;
    return fitting_va(&search);
}

/* The largest whole-ampere setting of a vehicle within so many volt-amperes. */
static double setting_of(const struct service_work *work, double va, double va_per_a)
{
    const double setting_a = floor(va / va_per_a * (1 + 1e-12));
    const bool least = reference_has_section(work->rules, "vehicle-demand", work->question->house->code_edition);
    const double least_va = least ? reference_rule_value("vehicle-minimum", work->rules) : NAN;
    const bool low = setting_a < reference_rule_value("vehicle-setting-least", work->rules) ||
                     setting_a * va_per_a < least_va * (1 - 1e-9);
    return low ? (double)NAN : setting_a;
}

/* The line of three that carries least by the method before anything is added, of equals the first; 0: not three. */
static unsigned least_line(const struct service_work *work, const struct service_method *method)
{
    if (!method->by_lines) {
        return 0;
    }
    const struct demand_options options = service_options(work, method->method);
    struct demand *demand = demand_of(work->before, &options);
    unsigned least = 0;
    for (unsigned leg = 1; leg < 3; leg++) {
        least = demand->leg_current_a[leg] < demand->leg_current_a[least] * (1 - 1e-9) ? leg : least;
    }
    demand_free(demand);
    return 1U << least;
}

struct service_largest service_largest(const struct service_work *work, const struct service_method *method)
{
    const struct house *house = work->question->house;
    const size_t added = work->service->added_count > 0 ? work->service->added[0].appliance : NO_INDEX;
    const bool vehicle = added == NO_INDEX || house->appliances[added].category == CATEGORY_VEHICLE;
    const struct service_probe probe = service_probe(work, added, least_line(work, method));
    const double va = search_va(work, method, probe);
    const struct service_probe car = vehicle ? probe : service_probe(work, NO_INDEX, least_line(work, method));
    const double car_va = vehicle ? va : search_va(work, method, car);
    return (struct service_largest){
        .va = va,
        .current_a = va / probe.va_per_a,
        .voltage_v = probe.voltage_v,
        .setting_a = setting_of(work, car_va, car.va_per_a),
    };
}
