/* Findings 11, 12 and 15: what the branch is used for. */
#include <math.h>

#include "findings.h"

/* 11: a motor's starting current reaches the device's band of instantaneous tripping. */
void check_starting(struct branch_case *branch_case)
{
    const struct ref_instantaneous *band =
        reference_instantaneous(branch_case->rules, trip_word(branch_case->branch->trip));
    if (band == NULL) {
        return;
    }
    struct assessment *assessment = branch_case->assessment;
    double limit_a = band->lower_multiple * branch_case->branch->breaker_a;
    for (size_t i = 0; i < branch_case->branch->appliances.count; i++) {
        const struct load *load = &branch_case->loads[i];
        const struct appliance *appliance = load_appliance(branch_case, load);
        if (appliance->behaviour != BEHAVIOUR_MOTOR) {
            continue;
        }
        double starting_a = appliance->start_factor * load->unit_current_a;
        if (!exceeds(limit_a, starting_a)) {
            finding_add(assessment, &branch_case->result->findings, branch_case->rules, 11, "",
                        "%s draws about %s A while it starts; a type %s device of %s A may open at once from %s A",
                        appliance->name, figure(assessment, starting_a), trip_word(branch_case->branch->trip),
                        figure(assessment, branch_case->branch->breaker_a), figure(assessment, limit_a));
        }
    }
}

/* The first row that calls the protection kind usual for this branch, by purpose or by an appliance's category. */
static const struct ref_protection *usual_protection(const struct branch_case *branch_case, const char *kind,
                                                     const char **ret_what)
{
    *ret_what = purpose_word(branch_case->branch->purpose);
    const struct ref_protection *row = reference_protection(branch_case->rules, *ret_what, kind);
    for (size_t i = 0; row == NULL && i < branch_case->branch->appliances.count; i++) {
        int category = load_appliance(branch_case, &branch_case->loads[i])->category;
        if (category == CATEGORY_VEHICLE) {
            *ret_what = category_word(category);
            row = reference_protection(branch_case->rules, *ret_what, kind);
        }
    }
    return row;
}

/* 12: a protection kind that is usual for the purpose and that the file does not list. */
void check_protection(struct branch_case *branch_case)
{
    static const struct {
        unsigned bit;
        const char *word;
    } kinds[] = {{PROTECTION_GFCI, "gfci"}, {PROTECTION_AFCI, "afci"}, {PROTECTION_RCD, "rcd"}};
    for (size_t i = 0; i < sizeof kinds / sizeof kinds[0]; i++) {
        const char *what = NULL;
        const struct ref_protection *row = usual_protection(branch_case, kinds[i].word, &what);
        if (row != NULL && (branch_case->branch->protection & kinds[i].bit) == 0) {
            finding_add(branch_case->assessment, &branch_case->result->findings, branch_case->rules, 12, "",
                        "%s is usual for a %s branch (%s) and is not listed here: look whether it is there",
                        kinds[i].word, what, row->clause);
        }
    }
}

/* Smallest breaker that a row asks for, ampere. */
static double minimum_breaker_a(const struct ref_minimum_branch *row, const struct load *load)
{
    return isnan(row->breaker_a) ? row->factor * load->unit_current_a : row->breaker_a;
}

static void check_minimum_row(struct branch_case *branch_case, const struct ref_minimum_branch *row,
                              const struct load *load, const char *what)
{
    struct assessment *assessment = branch_case->assessment;
    double least_a = minimum_breaker_a(row, load);
    if (exceeds(least_a, branch_case->branch->breaker_a)) {
        finding_add(assessment, &branch_case->result->findings, branch_case->rules, 15, "",
                    "the breaker is rated %s A; for %s the rules ask for at least %s A (%s)",
                    figure(assessment, branch_case->branch->breaker_a), what, figure(assessment, least_a), row->clause);
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
        check_minimum_row(branch_case, row, &nothing, purpose);
    }
    if (branch->appliances.count != 1) {
        return;
    }
    const struct load *load = &branch_case->loads[0];
    const struct appliance *appliance = load_appliance(branch_case, load);
    if (appliance->count != 1) {
        return;
    }
    row = reference_minimum_branch(branch_case->rules, category_word(appliance->category), load->draw.apparent_va);
    if (row != NULL && (row->fixed == 0 || appliance->fixed)) {
        check_minimum_row(branch_case, row, load, appliance->name);
    }
}
