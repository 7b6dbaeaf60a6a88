/* Findings 11 and 15: what the branch is used for. */
#include <math.h>
#include <string.h>

#include "findings.h"
#include "planning.h"

/* The motor whose start draws most, of one unit; NULL where there is none. */
static const struct load *largest_start(const struct branch_case *branch_case, double *ret_starting_a)
{
    const struct load *largest = NULL;
    double largest_a = 0;
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const struct load *load = &branch_case->loads[i];
        const struct appliance *appliance = load_appliance(branch_case, load);
        const double starting_a = appliance->start_factor * load->unit_current_a;
        if (appliance->behaviour == BEHAVIOUR_MOTOR && exceeds(starting_a, largest_a)) {
            largest = load;
            largest_a = starting_a;
        }
    }
    *ret_starting_a = largest_a;
    return largest;
}

/* 11: a motor's starting current reaches the device's band of instantaneous tripping. */
void check_starting(struct branch_case *branch_case)
{
    const struct branch *branch = branch_case->branch;
    const struct ref_instantaneous *band = reference_instantaneous(branch_case->rules, trip_word(branch->trip));
    if (band == NULL) {
        return;
    }
    const struct finder *finder = &branch_case->finder;
    const double limit_a = band->lower_multiple * branch->breaker_a;
    double starting_a = 0;
    const struct load *load = largest_start(branch_case, &starting_a);
    if (load != NULL && !exceeds(limit_a, starting_a)) {
        finding_add(finder, "11", "", about_branch(branch_case),
                    FIGURES(NUMBER("current_a", starting_a), NUMBER("limit_a", limit_a)),
                    "%s draws about %s A while it starts; a type %s device of %s A may open at once from %s A",
                    load_appliance(branch_case, load)->name, figure(finder, starting_a), trip_word(branch->trip),
                    figure(finder, branch->breaker_a), figure(finder, limit_a));
    }
}

/* Smallest breaker that a row asks for, ampere. */
static double minimum_breaker_a(const struct ref_minimum_branch *row, const struct load *load)
{
    return isnan(row->breaker_a) ? row->factor * load->unit_current_a : row->breaker_a;
}

/* The word of an appliance's name for what a rule calls it; "" where none tells. */
static const char *thing_of(const char *rules, const struct appliance *appliance)
{
    const struct ref_word *word = reference_word(rules, appliance->name, REFERENCE_WORD_THING);
    return word == NULL ? "" : word->thing;
}

/* What the table of smallest breakers calls an appliance: a heater that stores no water is none of its heaters. */
static const char *minimum_what(const char *rules, const struct appliance *appliance)
{
    const char *category = load_category(appliance);
    const char *thing = thing_of(rules, appliance);
    if (strcmp(category, "cooking") == 0 && strcmp(thing, "range") == 0) {
        return "range";
    }
    const double instant_w = reference_rule_value("instantaneous-water-heater", rules);
    const bool instant = strcmp(thing, "instant-heater") == 0 || exceeds(appliance->power_w, instant_w);
    return strcmp(category, "water-heating") == 0 && instant ? "instant-heater" : category;
}

static const char *clause_text(const struct finder *finder, const char *clause)
{
    struct text text = {0};
    reference_clause(&text, finder->rules, clause, finder->edition);
    return finder_keep(finder, &text);
}

static void check_minimum_row(struct branch_case *branch_case, const struct ref_minimum_branch *row,
                              const struct load *load, struct subject subject, const char *what)
{
    const struct finder *finder = &branch_case->finder;
    const double breaker_a = branch_case->branch->breaker_a;
    const double least_a = minimum_breaker_a(row, load);
    if (exceeds(least_a, breaker_a)) {
        const bool by_plate = isnan(row->breaker_a);
        const double hidden =
            by_plate ? plate_rounding(branch_case->limits->rounding_most, load_appliance(branch_case, load)) : 0;
        const double rounded_a = least_a * (1 - hidden);
        const bool hair = !exceeds(rounded_a, breaker_a);
        finding_add(finder, "15", hair ? "rounding" : "", subject,
                    FIGURES(NUMBER("breaker_a", breaker_a), NUMBER("limit_a", least_a), NUMBER("rounded_a", rounded_a)),
                    "the breaker is rated %s A; for %s the rules ask for at least %s A (%s)%s",
                    figure(finder, breaker_a), what, figure_beside(finder, least_a, breaker_a),
                    clause_text(finder, row->clause), rounding_text(finder, hair));
    }
}

/* 15: a branch for one appliance, or for one purpose, whose breaker is below the rules' minimum for it. */
void check_minimum(struct branch_case *branch_case)
{
    const struct branch *branch = branch_case->branch;
    static const struct load nothing = {0};
    const char *purpose = purpose_word(branch->purpose);
    const struct ref_minimum_branch *row = reference_minimum_branch(branch_case->rules, purpose, 0);
    if (row != NULL) {
        check_minimum_row(branch_case, row, &nothing, about_branch(branch_case), purpose);
    }
    if (branch->appliances.count != 1) {
        return;
    }
    const struct load *load = &branch_case->loads[0];
    const struct appliance *appliance = load_appliance(branch_case, load);
    if (appliance->count != 1) {
        return;
    }
    row = reference_minimum_branch(branch_case->rules, minimum_what(branch_case->rules, appliance),
                                   load->draw.apparent_va);
    if (row != NULL && (row->fixed == 0 || appliance->fixed)) {
        check_minimum_row(branch_case, row, load, about_appliance(appliance), appliance->name);
    }
}
