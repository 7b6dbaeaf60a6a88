/* Findings 5 and 20 on British rings and spurs, and the way of lying that was assumed. Limits 5 of the contract. */
#include <math.h>

#include "findings.h"

bool ring_is_ruled(const struct branch_case *branch_case)
{
    return branch_case->branch->layout == LAYOUT_RING &&
           !isnan(reference_rule_value("ring-device", branch_case->rules));
}

static const char carries_less[] = "the cable carries less";

/* What of the ring's rule does not hold; NULL: all of it holds. */
static const char *ring_fault(const struct branch_case *branch_case, const struct wire_run *run,
                              const struct wire_reading *reading)
{
    const char *rules = branch_case->rules;
    const bool copper = branch_case->branch->wire.conductor->metal[0] == 'c';
    if (exceeds(run->breaker_a, reference_rule_value("ring-device", rules))) {
        return "the device is larger";
    }
    if (!copper || exceeds(reference_rule_value("ring-size", rules), run->wire.conductor->area_mm2)) {
        return "the cable is thinner";
    }
    return exceeds(reference_rule_value("ring-ampacity", rules), reading->ampacity_a) ? carries_less : NULL;
}

void check_ring_wire(struct branch_case *branch_case, const struct wire_run *run, const struct wire_reading *reading,
                     const char *wire_text)
{
    const struct finder *finder = &branch_case->finder;
    const char *fault = ring_fault(branch_case, run, reading);
    if (fault == NULL || !exceeds(run->breaker_a, reading->largest_a)) {
        return; /* as a radial, or by the ring's own rule */
    }
    const double device_a = reference_rule_value("ring-device", finder->rules);
    struct text text = {0};
    text_printf(
        &text,
        "ring on a %s A device (%s): %s than the rule for rings asks for: device at most %s A, copper of %s mm2 "
        "or more, cable of %s A or more as it lies",
        figure(finder, run->breaker_a), wire_text, fault, figure(finder, device_a),
        figure(finder, reference_rule_value("ring-size", finder->rules)),
        figure(finder, reference_rule_value("ring-ampacity", finder->rules)));
    const bool unsure =
        fault == carries_less && !exceeds(reference_rule_value("ring-ampacity", finder->rules), reading->sure_a);
    text_add(&text, unsure ? "; one of the figures behind this limit was not found in print: have it looked up" : "");
    const char *line = finder_keep(finder, &text);
    add_breaker_wire(finder, about_branch(branch_case), unsure ? "memory" : "ring", run->breaker_a, reading, device_a,
                     NULL, line);
}

void note_assumed_method(struct branch_case *branch_case, const struct wire_run *run,
                         const struct wire_reading *reading)
{
    const struct finder *finder = &branch_case->finder;
    const double needed_a =
        ring_is_ruled(branch_case) ? reference_rule_value("ring-ampacity", branch_case->rules) : run->breaker_a;
    if (run->method_given || !reading->flat_twin || branch_case->assessment->method_assumed ||
        exceeds(needed_a, reading->ampacity_a)) {
        return;
    }
    struct wire_run covered = *run;
    covered.method = METHOD_101;
    const struct wire_reading in_loft = wire_limit_of(branch_case->house, &covered).strict;
    if (!exceeds(needed_a, in_loft.ampacity_a)) {
        return;
    }
    branch_case->assessment->method_assumed = true;
    finding_add(finder, "5", "assumed", about_branch(branch_case),
                FIGURES(NUMBER("breaker_a", run->breaker_a), NUMBER("ampacity_a", reading->ampacity_a),
                        NUMBER("limit_a", in_loft.ampacity_a), WORD("reading", NULL)),
                "clipped direct (method C) is assumed, the best case: %s A; under a thick layer of loft insulation "
                "(method 101) this cable carries %s A, less than %s A; `method` settles it, here and on every branch "
                "without one",
                figure(finder, reading->ampacity_a), figure(finder, in_loft.ampacity_a), figure(finder, needed_a));
}

/* ------------------------------------------------------------------ spurs --------------------------------- */

static const struct outlet *outlet_at(const struct branch_case *branch_case, size_t place)
{
    return &branch_case->house->outlets[branch_case->branch->outlets.index[place]];
}

/* True where `outlet` hangs on `root`, or is it; with `to_fuse` not beyond a fuse on the way. */
static bool hangs_on(const struct house *house, size_t outlet, size_t root, bool to_fuse)
{
    while (outlet != root && house->outlets[outlet].from != NO_INDEX) {
        outlet = house->outlets[outlet].from;
        if (to_fuse && !isnan(house->outlets[outlet].fuse_a)) {
            return false;
        }
    }
    return outlet == root;
}

/* An outlet that begins a spur: it is of one and hangs on the chain or the panel. */
static bool begins_spur(const struct house *house, const struct outlet *outlet)
{
    return outlet->is_spur && (outlet->from == NO_INDEX || !house->outlets[outlet->from].is_spur);
}

/* Outlets of the branch that hang on `root`, itself included. */
static int outlets_on(const struct branch_case *branch_case, size_t root)
{
    const struct index_list *outlets = &branch_case->branch->outlets;
    int count = 0;
    for (size_t i = 0; i < outlets->count; i++) {
        count += hangs_on(branch_case->house, outlets->index[i], root, true);
    }
    return count;
}

/* Arithmetic sum of what is plugged in or fastened at and beyond an outlet, everything on, ampere. */
static double load_beyond_a(const struct branch_case *branch_case, size_t root)
{
    double sum_a = 0;
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const struct load *load = &branch_case->loads[i];
        const size_t outlet = load_appliance(branch_case, load)->outlet;
        if (load->counted && outlet != NO_INDEX && hangs_on(branch_case->house, outlet, root, false)) {
            sum_a += load->current_a;
        }
    }
    return sum_a;
}

static struct subject about_outlet(const struct outlet *outlet)
{
    return (struct subject){KIND_OUTLET, outlet->id};
}

static void check_fuse(struct branch_case *branch_case, const struct outlet *outlet, size_t index)
{
    const struct finder *finder = &branch_case->finder;
    const double load_a = load_beyond_a(branch_case, index);
    if (!isnan(outlet->fuse_a) && exceeds(load_a, outlet->fuse_a)) {
        finding_add(finder, "20", "fuse", about_outlet(outlet),
                    FIGURES(NUMBER("current_a", load_a), NUMBER("limit_a", outlet->fuse_a),
                            NUMBER("outlets", outlets_on(branch_case, index))),
                    "beyond the fuse of %s %s A are on together, the fuse is rated %s A", outlet->name,
                    figure_beside(finder, load_a, outlet->fuse_a), figure(finder, outlet->fuse_a));
    }
}

static void check_unfused(struct branch_case *branch_case, const struct outlet *outlet, size_t index)
{
    const struct finder *finder = &branch_case->finder;
    const double most = reference_rule_value("spur-outlets", branch_case->rules);
    const int count = outlets_on(branch_case, index);
    if (exceeds(count, most)) {
        finding_add(finder, "20", "", about_outlet(outlet),
                    FIGURES(NUMBER("current_a", (double)NAN), NUMBER("limit_a", (double)NAN), NUMBER("outlets", count)),
                    "the spur to %s feeds %d outlets without a fuse; the rule is %s", outlet->name, count,
                    figure(finder, most));
    }
}

/* More spurs without a fuse than points on the ring. */
static void check_spur_count(struct branch_case *branch_case, int spurs, int points)
{
    if (spurs > points) {
        finding_add(&branch_case->finder, "20", "many", about_branch(branch_case),
                    FIGURES(NUMBER("current_a", (double)NAN), NUMBER("limit_a", (double)NAN), NUMBER("outlets", spurs)),
                    "%d spurs without a fuse hang on a ring of %d points; the custom is no more than its points", spurs,
                    points);
    }
}

void check_spurs(struct branch_case *branch_case)
{
    if (isnan(reference_rule_value("spur-outlets", branch_case->rules))) {
        return;
    }
    const struct branch *branch = branch_case->branch;
    int spurs = 0;
    int points = 0;
    for (size_t i = 0; i < branch->outlets.count; i++) {
        const struct outlet *outlet = outlet_at(branch_case, i);
        check_fuse(branch_case, outlet, branch->outlets.index[i]);
        const bool unfused = begins_spur(branch_case->house, outlet) && isnan(outlet->fuse_a);
        if (branch->layout == LAYOUT_RING && unfused) {
            check_unfused(branch_case, outlet, branch->outlets.index[i]);
        }
        spurs += unfused;
        points += !outlet->is_spur;
    }
    if (branch->layout == LAYOUT_RING) {
        check_spur_count(branch_case, spurs, points);
    }
}
