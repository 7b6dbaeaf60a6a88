/* Findings 1 to 4, 8, 9 and 10: what the loads themselves say. */
#include <math.h>
#include <string.h>

#include "findings.h"

static const char *moment_text(struct assessment *assessment, struct moment at)
{
    struct text text = {0};
    int minute = at.minute % MINUTES_IN_DAY;
    const char *day = day_word(at.minute / MINUTES_IN_DAY);
    text_printf(&text, "%c%s %02d:%02d in %s", day[0] - 'a' + 'A', day + 1, minute / 60, minute % 60,
                month_word(at.month));
    const char *copy = arena_copy(assessment->arena, text_string(&text));
    text_done(&text);
    return copy;
}

/* 1: planning current at the busiest minute (or of the scene) over the breaker. */
void check_busiest_over(struct branch_case *branch_case)
{
    struct assessment *assessment = branch_case->assessment;
    double planning_a = branch_case->result->other.planning_a;
    double breaker_a = branch_case->branch->breaker_a;
    if (!exceeds(planning_a, breaker_a)) {
        return;
    }
    const char *when = "the busiest minute";
    if (assessment->options.basis == BASIS_BUSIEST) {
        const bool timed = branch_has_times(branch_case->house, branch_case->index);
        when = timed ? moment_text(assessment, branch_case->result->at) : "at any time";
    } else if (assessment->options.basis == BASIS_SCENE) {
        when = "this scene";
    } else {
        when = "this set";
    }
    finding_add(assessment, &branch_case->result->findings, branch_case->rules, 1, "",
                "planning current %s A (%s) is %s A over the %s A breaker", figure(assessment, planning_a), when,
                figure(assessment, planning_a - breaker_a), figure(assessment, breaker_a));
}

/* 2: planning current with everything on over the breaker. */
void check_all_over(struct branch_case *branch_case)
{
    struct assessment *assessment = branch_case->assessment;
    double planning_a = branch_case->result->all.planning_a;
    double breaker_a = branch_case->branch->breaker_a;
    if (exceeds(planning_a, breaker_a)) {
        finding_add(assessment, &branch_case->result->findings, branch_case->rules, 2, "",
                    "with everything on the planning current is %s A, %s A over the %s A breaker",
                    figure(assessment, planning_a), figure(assessment, planning_a - breaker_a),
                    figure(assessment, breaker_a));
    }
}

/* Largest current that one plug-in appliance may take of a multi-outlet branch, ampere; NAN: no such rule. */
static double plug_in_limit_a(const struct branch_case *branch_case, const struct appliance *appliance)
{
    double share = branch_case->limits->plug_in_share;
    if (isnan(share)) {
        return NAN;
    }
    double breaker_a = branch_case->branch->breaker_a;
    double limit_a = share / 100 * breaker_a;
    double rating_a = 0;
    if (appliance->outlet != NO_INDEX && isfinite(branch_case->house->outlets[appliance->outlet].rating_a)) {
        rating_a = branch_case->house->outlets[appliance->outlet].rating_a;
    }
    const struct ref_receptacle *row = reference_receptacle(branch_case->rules, breaker_a, rating_a);
    return row != NULL && row->max_load_a < limit_a ? row->max_load_a : limit_a;
}

/* 3: one plug-in appliance over its share of a multi-outlet branch. */
void check_plug_in_share(struct branch_case *branch_case)
{
    if (branch_is_individual(branch_case)) {
        return;
    }
    struct assessment *assessment = branch_case->assessment;
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const struct load *load = &branch_case->loads[i];
        const struct appliance *appliance = load_appliance(branch_case, load);
        double limit_a = appliance->fixed ? NAN : plug_in_limit_a(branch_case, appliance);
        if (exceeds(load->unit_current_a, limit_a)) {
            finding_add(assessment, &branch_case->result->findings, branch_case->rules, 3, "",
                        "%s draws %s A; one plug-in appliance on a shared %s A branch: at most %s A", appliance->name,
                        figure(assessment, load->unit_current_a), figure(assessment, branch_case->branch->breaker_a),
                        figure(assessment, limit_a));
        }
    }
}

/* 4: fixed equipment over its share of a branch that also serves lights or plug-in loads. */
void check_fixed_share(struct branch_case *branch_case)
{
    double fixed_a = 0;
    bool shared = false;
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const struct load *load = &branch_case->loads[i];
        const struct appliance *appliance = load_appliance(branch_case, load);
        bool equipment = appliance->fixed && appliance->category != CATEGORY_LIGHTING;
        shared = shared || !equipment;
        fixed_a += equipment && load->counted ? load->current_a : 0;
    }
    struct assessment *assessment = branch_case->assessment;
    double limit_a = branch_case->limits->fixed_share / 100 * branch_case->branch->breaker_a;
    if (shared && exceeds(fixed_a, limit_a)) {
        finding_add(assessment, &branch_case->result->findings, branch_case->rules, 4, "",
                    "fixed equipment draws %s A; where lights or plugs share a %s A branch: at most %s A",
                    figure(assessment, fixed_a), figure(assessment, branch_case->branch->breaker_a),
                    figure(assessment, limit_a));
    }
}

/* 8: appliance rated for another voltage than the branch has. */
void check_rated_voltage(struct branch_case *branch_case)
{
    struct assessment *assessment = branch_case->assessment;
    const char *rules = branch_case->rules;
    double danger = branch_case->limits->voltage_danger_over;
    double over = branch_case->limits->voltage_warning_over;
    double under = branch_case->limits->voltage_warning_under;
    double voltage_v = branch_case->branch->voltage_v;
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const struct appliance *appliance = load_appliance(branch_case, &branch_case->loads[i]);
        double rated_v = appliance->rated_voltage_v;
        const char *variant = NULL;
        if (!exceeds(danger * rated_v, voltage_v)) {
            variant = "";
        } else if (exceeds(voltage_v, over * rated_v) || exceeds(under * rated_v, voltage_v)) {
            variant = "mild";
        }
        if (variant != NULL) {
            finding_add(assessment, &branch_case->result->findings, rules, 8, variant,
                        "%s is rated for %s V; the branch has %s V (%s %% of it)", appliance->name,
                        figure(assessment, rated_v), figure(assessment, voltage_v),
                        figure(assessment, 100 * voltage_v / rated_v));
        }
    }
}

/* Sum of the counted currents at one outlet. */
static double outlet_current_a(const struct branch_case *branch_case, size_t outlet)
{
    double current_a = 0;
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const struct load *load = &branch_case->loads[i];
        bool here = load_appliance(branch_case, load)->outlet == outlet;
        current_a += here && load->counted ? load->current_a : 0;
    }
    return current_a;
}

static void check_outlet_ratings(struct branch_case *branch_case)
{
    struct assessment *assessment = branch_case->assessment;
    for (size_t i = 0; i < branch_case->branch->outlets.count; i++) {
        const struct outlet *outlet = &branch_case->house->outlets[branch_case->branch->outlets.index[i]];
        if (isnan(outlet->rating_a)) {
            continue;
        }
        double current_a = outlet_current_a(branch_case, branch_case->branch->outlets.index[i]);
        if (exceeds(current_a, outlet->rating_a)) {
            finding_add(assessment, &branch_case->result->findings, branch_case->rules, 9, "",
                        "outlet %s carries %s A with everything on; it is rated %s A", outlet->name,
                        figure(assessment, current_a), figure(assessment, outlet->rating_a));
        }
    }
}

/* 9: plug, receptacle or outlet rating exceeded. */
void check_plug_rating(struct branch_case *branch_case)
{
    struct assessment *assessment = branch_case->assessment;
    const struct ref_plug *plug = reference_plug(branch_case->rules, branch_case->branch->breaker_a);
    if (plug != NULL && branch_case->branch->poles < 3) {
        for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
            const struct load *load = &branch_case->loads[i];
            const struct appliance *appliance = load_appliance(branch_case, load);
            if (!appliance->fixed && exceeds(load->unit_current_a, plug->rating_a)) {
                finding_add(assessment, &branch_case->result->findings, branch_case->rules, 9, "",
                            "%s draws %s A; its %s is rated %s A", appliance->name,
                            figure(assessment, load->unit_current_a), plug->name, figure(assessment, plug->rating_a));
            }
        }
    }
    check_outlet_ratings(branch_case);
}

/* 10: long-running high load on a plug-in outlet. */
void check_long_running(struct branch_case *branch_case)
{
    struct assessment *assessment = branch_case->assessment;
    double limit_a = NAN; /* looked up at the first load that it is about: few branches have one */
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const struct load *load = &branch_case->loads[i];
        const struct appliance *appliance = load_appliance(branch_case, load);
        if (appliance->fixed || !appliance->continuous) {
            continue;
        }
        if (isnan(limit_a)) {
            limit_a = reference_long_running_a(branch_case->rules, branch_case->branch->breaker_a);
        }
        if (exceeds(load->unit_current_a, limit_a)) {
            finding_add(assessment, &branch_case->result->findings, branch_case->rules, 10, "",
                        "%s may draw %s A for hours from a plug-in outlet; advice is at most %s A for so long",
                        appliance->name, figure(assessment, load->unit_current_a), figure(assessment, limit_a));
        }
    }
}
