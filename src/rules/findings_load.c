/* Findings 1 to 4, 8, 9 and 10: what the loads themselves say. */
#include <math.h>

#include "ampsum/keys.h"
#include "findings.h"
#include "planning.h"

/* When the busiest minute is, or what was chosen in its place. */
static const char *when_text(const struct branch_case *branch_case, bool timed)
{
    static const char *const chosen[] = {
        [BASIS_BUSIEST] = "at any time", [BASIS_SCENE] = "this scene", [BASIS_SET] = "this set"};
    if (!timed || branch_case->finder.no_texts) {
        return chosen[branch_case->assessment->options.basis];
    }
    struct text text = {0};
    moment_say(&text, branch_case->result->at);
    return finder_keep(&branch_case->finder, &text);
}

/* What is planned for the branch's cooking beside what its plates draw; "" where it counts in full. */
static const char *cooking_text(const struct branch_case *branch_case)
{
    const struct finder *finder = &branch_case->finder;
    struct cooking cooking;
    if (finder->no_texts || !branch_cooking(branch_case->house, branch_case->index, &cooking)) {
        return "";
    }
    struct text text = {0};
    text_printf(&text, "; cooking counts with %s A, its plates draw %s A", figure(finder, cooking.planned_a),
                figure(finder, cooking.plates_a));
    return finder_keep(finder, &text);
}

/* The branch would be within its breaker if its cooking were planned by an allowance that other rules publish. */
static bool cooking_might_fit(const struct branch_case *branch_case, double *ret_allowance_a)
{
    double plates_a = 0;
    *ret_allowance_a = cooking_allowance_a(branch_case->house, branch_case->index, &plates_a);
    return reference_finding_variant("1", branch_case->rules, "cooking") != NULL && isfinite(*ret_allowance_a) &&
           !exceeds(branch_case->result->other.planning_a - plates_a + *ret_allowance_a,
                    branch_case->branch->breaker_a);
}

/* 1: planning current at the busiest minute (or of the scene) over the breaker. */
void check_busiest_over(struct branch_case *branch_case)
{
    const struct finder *finder = &branch_case->finder;
    const struct branch_assessment *result = branch_case->result;
    const double planning_a = result->other.planning_a;
    const double breaker_a = branch_case->branch->breaker_a;
    if (!exceeds(planning_a, breaker_a)) {
        return;
    }
    const double rounded_a = rounded_planning_a(branch_case, branch_case->other);
    const bool hair = !exceeds(rounded_a, breaker_a);
    double allowance_a = NAN;
    const bool might_fit = cooking_might_fit(branch_case, &allowance_a) && !hair;
    const bool busiest = branch_case->assessment->options.basis == BASIS_BUSIEST;
    const bool timed = busiest && branch_has_times(branch_case->house, branch_case->index);
    const bool told = busiest && !branch_case->assessment->options.no_notes;
    struct text at = {0};
    if (told) {
        moment_add(&at, result->at);
    }
    finding_add(finder, "1",
                hair        ? "rounding"
                : might_fit ? "cooking"
                            : "",
                about_branch(branch_case),
                FIGURES(NUMBER("current_a", planning_a), NUMBER("limit_a", breaker_a), NUMBER("rounded_a", rounded_a),
                        WORD("reading", NULL), WORD("at", told ? text_string(&at) : NULL),
                        WORD("month", told ? month_word(result->at.month) : NULL)),
                "planning current %s A (%s) is %s A over the %s A %s%s%s%s%s%s",
                figure_beside(finder, planning_a, breaker_a), when_text(branch_case, timed),
                figure_beside(finder, planning_a - breaker_a, 0), figure(finder, breaker_a),
                device_word(branch_case->branch->trip), cooking_text(branch_case),
                might_fit ? "; for this cooking the British household allowance would be " : "",
                might_fit ? figure(finder, allowance_a) : "", might_fit ? " A, these rules publish none" : "",
                rounding_text(finder, hair));
    text_done(&at);
}

/* 2: planning current with everything on over the breaker. */
void check_all_over(struct branch_case *branch_case)
{
    const struct finder *finder = &branch_case->finder;
    const double planning_a = branch_case->result->all.planning_a;
    const double breaker_a = branch_case->branch->breaker_a;
    if (exceeds(planning_a, breaker_a)) {
        const double rounded_a = rounded_planning_a(branch_case, branch_case->loads);
        const bool hair = !exceeds(rounded_a, breaker_a);
        finding_add(finder, "2", hair ? "rounding" : "", about_branch(branch_case),
                    FIGURES(NUMBER("current_a", planning_a), NUMBER("limit_a", breaker_a),
                            NUMBER("rounded_a", rounded_a), WORD("reading", NULL)),
                    "with everything on the planning current is %s A, %s A over the %s A %s%s%s",
                    figure_beside(finder, planning_a, breaker_a), figure_beside(finder, planning_a - breaker_a, 0),
                    figure(finder, breaker_a), device_word(branch_case->branch->trip), cooking_text(branch_case),
                    rounding_text(finder, hair));
    }
}

/* What one plug-in appliance may take of a branch of several places, ampere; NAN: no such rule. */
struct plug_in_limit {
    double branch_a;  /* the share of the branch */
    double contact_a; /* what the table allows on a contact of its rating, or on the smallest it might have */
    double rating_a;  /* that contact's */
    bool given;       /* the rating is */
};

/* `rating_a`: of the contact that it is on; NAN: not given. */
static struct plug_in_limit plug_in_limit_of(const struct branch_case *branch_case, double rating_a)
{
    const double breaker_a = branch_case->branch->breaker_a;
    const bool shares = !exceeds(breaker_a, branch_case->limits->shared_to_a);
    struct plug_in_limit limit = {.branch_a =
                                      shares ? branch_case->limits->plug_in_share / 100 * breaker_a : (double)NAN,
                                  .contact_a = (double)NAN,
                                  .rating_a = rating_a,
                                  .given = isfinite(rating_a)};
    const struct ref_receptacle_rating *smallest =
        reference_receptacle_rating(branch_case->rules, breaker_a, branch_case->house->code_edition);
    if (!limit.given && smallest != NULL) {
        limit.rating_a = smallest->least_a;
    }
    const struct ref_receptacle *row = reference_receptacle(branch_case->rules, breaker_a, limit.rating_a);
    if (row != NULL && isfinite(limit.rating_a)) {
        limit.contact_a = row->max_load_a;
    }
    return limit;
}

/* `unrated`: what holds on a contact whose rating is not given, as most are. */
static void check_plug_in_load(const struct branch_case *branch_case, const struct load *load,
                               const struct plug_in_limit *unrated)
{
    const struct finder *finder = &branch_case->finder;
    const struct appliance *appliance = load_appliance(branch_case, load);
    const double rating_a =
        appliance->outlet == NO_INDEX ? (double)NAN : branch_case->house->outlets[appliance->outlet].rating_a;
    const struct plug_in_limit limit = isnan(rating_a) ? *unrated : plug_in_limit_of(branch_case, rating_a);
    const double current_a = load->unit_current_a;
    const bool over_branch = exceeds(current_a, limit.branch_a);
    const bool over_contact = exceeds(current_a, limit.contact_a);
    if (!over_branch && !over_contact) {
        return;
    }
    /* The contact is named where it is given and says less than the branch, or where only it might be passed. */
    const bool if_small = !over_branch && !limit.given;
    const bool by_contact = if_small || (over_contact && limit.given && exceeds(limit.branch_a, limit.contact_a));
    const double limit_a = by_contact ? limit.contact_a : limit.branch_a;
    const double rounded_a = current_a * (1 - plate_rounding(branch_case->limits->rounding_most, appliance));
    const bool hair = !exceeds(rounded_a, limit_a);
    struct text text = {0};
    text_printf(&text, "%s draws %s A; ", appliance->name, figure_beside(finder, current_a, limit_a));
    if (by_contact) {
        text_printf(&text, "%s rated %s A, of several on the branch: at most %s A",
                    if_small ? "if its contact is" : "its contact is", figure(finder, limit.rating_a),
                    figure(finder, limit_a));
    } else {
        text_printf(&text, "one plug-in appliance on a shared %s A branch: at most %s A",
                    figure(finder, branch_case->branch->breaker_a), figure(finder, limit_a));
    }
    text_add(&text, rounding_text(finder, hair));
    const char *line = finder_keep(finder, &text);
    finding_add(finder, "3",
                hair       ? "rounding"
                : if_small ? "contact"
                           : "",
                about_appliance(appliance),
                FIGURES(NUMBER("current_a", current_a), NUMBER("limit_a", limit_a), NUMBER("rounded_a", rounded_a)),
                "%s", line);
}

/* 3: one plug-in appliance over its share of a branch of several contacts, or over its contact's. */
void check_plug_in_share(struct branch_case *branch_case)
{
    if (isnan(branch_case->limits->plug_in_share) || branch_is_individual(branch_case)) {
        return;
    }
    const struct plug_in_limit unrated = plug_in_limit_of(branch_case, (double)NAN);
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        if (!load_appliance(branch_case, &branch_case->loads[i])->fixed) {
            check_plug_in_load(branch_case, &branch_case->loads[i], &unrated);
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
    const struct finder *finder = &branch_case->finder;
    double limit_a = branch_case->limits->fixed_share / 100 * branch_case->branch->breaker_a;
    if (shared && exceeds(fixed_a, limit_a)) {
        finding_add(finder, "4", "", about_branch(branch_case),
                    FIGURES(NUMBER("current_a", fixed_a), NUMBER("limit_a", limit_a)),
                    "fixed equipment draws %s A; where lights or plugs share a %s A branch: at most %s A",
                    figure_beside(finder, fixed_a, limit_a), figure(finder, branch_case->branch->breaker_a),
                    figure(finder, limit_a));
    }
}

/* 8: appliance rated for another voltage than the branch has. */
void check_rated_voltage(struct branch_case *branch_case)
{
    const struct finder *finder = &branch_case->finder;
    double danger = branch_case->limits->voltage_danger_over;
    double over = branch_case->limits->voltage_warning_over;
    double under = branch_case->limits->voltage_warning_under;
    double voltage_v = branch_case->branch->voltage_v;
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const struct appliance *appliance = load_appliance(branch_case, &branch_case->loads[i]);
        const double rated_v = appliance->plate_v;
        const char *variant = NULL;
        if (!exceeds(danger * rated_v, voltage_v)) {
            variant = "";
        } else if (exceeds(voltage_v, over * rated_v) || exceeds(under * rated_v, voltage_v)) {
            variant = "mild";
        }
        if (variant != NULL && appliance_is_load(appliance)) {
            finding_add(finder, "8", variant, about_appliance(appliance),
                        FIGURES(NUMBER("voltage_v", voltage_v), NUMBER("rated_v", rated_v)),
                        "%s is rated for %s V; the branch has %s V (%s %% of it)", appliance->name,
                        figure(finder, rated_v), figure(finder, voltage_v), figure(finder, 100 * voltage_v / rated_v));
        }
    }
}

/* Sum of the counted currents at one outlet; the appliance with the largest of them goes to ret_largest. */
static double outlet_current_a(const struct branch_case *branch_case, size_t outlet, double *ret_rounded_a,
                               const struct appliance **ret_largest)
{
    double current_a = 0;
    *ret_rounded_a = 0;
    double largest_a = 0;
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const struct load *load = &branch_case->loads[i];
        const struct appliance *appliance = load_appliance(branch_case, load);
        if (appliance->outlet != outlet || !load->counted) {
            continue;
        }
        const double drawn_a = fmin(load->current_a, load->units * load->planned_a); /* cooking by its table */
        current_a += drawn_a;
        *ret_rounded_a += drawn_a * (1 - plate_rounding(branch_case->limits->rounding_most, appliance));
        if (exceeds(load->current_a, largest_a)) {
            largest_a = load->current_a;
            *ret_largest = appliance;
        }
    }
    return current_a;
}

/*
 * An outlet's own rating. The finding is about the appliance that draws most there, and says which outlet; where that
 * one's plug has a finding already there is no second.
 */
static void check_outlet_rating(struct branch_case *branch_case, size_t index)
{
    const struct finder *finder = &branch_case->finder;
    const struct outlet *outlet = &branch_case->house->outlets[index];
    const struct appliance *largest = NULL;
    double rounded_a = 0;
    const double current_a = outlet_current_a(branch_case, index, &rounded_a, &largest);
    if (exceeds(current_a, outlet->rating_a) && !finding_about(finder->list, "9", about_appliance(largest))) {
        const bool hair = !exceeds(rounded_a, outlet->rating_a);
        finding_add(finder, "9", hair ? "rounding" : "", about_appliance(largest),
                    FIGURES(NUMBER("current_a", current_a), NUMBER("limit_a", outlet->rating_a),
                            NUMBER("rounded_a", rounded_a)),
                    "outlet %s carries %s A with everything on; it is rated %s A%s", outlet->name,
                    figure_beside(finder, current_a, outlet->rating_a), figure(finder, outlet->rating_a),
                    rounding_text(finder, hair));
    }
}

bool load_may_be_wired(const struct house *house, const struct appliance *appliance)
{
    const struct section *section = &sections[KIND_APPLIANCE];
    const struct ref_plug *plug =
        reference_plug(rules_word(house->rules), house->branches[appliance->branch].breaker_a);
    return plug != NULL && isnan(plug->circuit_to_a) && appliance->outlet == NO_INDEX &&
           !key_is_given(section, section_key(section, "fixed"), appliance);
}

static void check_plug(struct branch_case *branch_case, const struct ref_plug *plug, const struct load *load)
{
    const struct finder *finder = &branch_case->finder;
    const struct appliance *appliance = load_appliance(branch_case, load);
    const double drawn_a = fmin(load->unit_current_a, load->planned_a); /* cooking by its table */
    if (appliance->fixed || !exceeds(drawn_a, plug->rating_a)) {
        return;
    }
    const double rounded_a = drawn_a * (1 - plate_rounding(branch_case->limits->rounding_most, appliance));
    const bool hair = !exceeds(rounded_a, plug->rating_a);
    const bool wired = !hair && load_may_be_wired(branch_case->house, appliance);
    finding_add(
        finder, "9", hair ? "rounding" : "", about_appliance(appliance),
        FIGURES(NUMBER("current_a", drawn_a), NUMBER("limit_a", plug->rating_a), NUMBER("rounded_a", rounded_a)),
        wired ? "%s draws %s A; a %s carries %s A%s; if it is wired in, the key `fixed` says so"
              : "%s draws %s A; its %s is rated %s A%s",
        appliance->name, figure_beside(finder, drawn_a, plug->rating_a), plug->name, figure(finder, plug->rating_a),
        rounding_text(finder, hair));
}

/* 9: plug, receptacle or outlet rating exceeded. */
void check_plug_rating(struct branch_case *branch_case)
{
    const struct branch *branch = branch_case->branch;
    const struct ref_plug *plug = reference_plug(branch_case->rules, branch->breaker_a);
    for (size_t i = 0; plug != NULL && branch->poles < 3 && i < branch->appliances.count; i++) {
        check_plug(branch_case, plug, &branch_case->loads[i]);
    }
    for (size_t i = 0; i < branch->outlets.count; i++) {
        check_outlet_rating(branch_case, branch->outlets.index[i]);
    }
}

/* 10: long-running high load on a plug-in outlet. */
void check_long_running(struct branch_case *branch_case)
{
    const struct finder *finder = &branch_case->finder;
    double limit_a = NAN; /* looked up at the first load that it is about: few branches have one */
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const struct load *load = &branch_case->loads[i];
        const struct appliance *appliance = load_appliance(branch_case, load);
        const bool for_hours = appliance->continuous || appliance->read_category == CATEGORY_VEHICLE;
        if (appliance->fixed || !for_hours) {
            continue;
        }
        if (isnan(limit_a)) {
            limit_a = reference_long_running_a(branch_case->rules, branch_case->branch->breaker_a);
        }
        if (exceeds(load->unit_current_a, limit_a)) {
            finding_add(finder, "10", "", about_appliance(appliance),
                        FIGURES(NUMBER("current_a", load->unit_current_a), NUMBER("limit_a", limit_a)),
                        "%s may draw %s A for hours from a plug-in outlet; advice is at most %s A for so long",
                        appliance->name, figure_beside(finder, load->unit_current_a, limit_a), figure(finder, limit_a));
        }
    }
}
