/* Findings 17 and 21: receptacles that do not go with their branch, breakers of no standard size. Limits 4. */
#include <math.h>

#include "assess_wire.h"
#include "contacts.h"
#include "findings.h"
#include "planning.h"

static void add_receptacle(const struct branch_case *branch_case, const struct outlet *outlet, const char *variant,
                           const char *says)
{
    const struct finder *finder = &branch_case->finder;
    const double breaker_a = branch_case->branch->breaker_a;
    finding_add(finder, "17", variant, (struct subject){KIND_OUTLET, outlet->id},
                FIGURES(NUMBER("rating_a", outlet->rating_a), NUMBER("breaker_a", breaker_a)),
                "outlet %s is rated %s A on a branch of %s A: %s", outlet->name, figure(finder, outlet->rating_a),
                figure(finder, breaker_a), says);
}

/* Two places for plugs or more: the table of ratings. */
static void check_several(const struct branch_case *branch_case, const struct outlet *outlet,
                          const struct ref_receptacle_rating *row)
{
    enum { OLDEST_EDITION = 2017 };
    if (exceeds(row->least_a, outlet->rating_a)) {
        add_receptacle(branch_case, outlet, "", "the table asks for a larger one");
        return;
    }
    /* The newer table has no upper end; what the older ones had is still worth a note. */
    const struct ref_receptacle_rating *old =
        reference_receptacle_rating(branch_case->rules, branch_case->branch->breaker_a, OLDEST_EDITION);
    const double most_a = isnan(row->most_a) && old != NULL ? old->most_a : row->most_a;
    if (exceeds(outlet->rating_a, most_a)) {
        const bool mild =
            reference_has_section(branch_case->rules, "receptacle-above", branch_case->house->code_edition);
        add_receptacle(branch_case, outlet, mild ? "note" : "above",
                       "a plug made for it may draw more than the branch carries");
    }
}

/* One place alone: its rating at least the branch's; the table's smaller one is a milder matter. */
static void check_single(const struct branch_case *branch_case, const struct outlet *outlet,
                         const struct ref_receptacle_rating *row)
{
    if (exceeds(branch_case->branch->breaker_a, outlet->rating_a)) {
        const bool in_table = row != NULL && !exceeds(row->least_a, outlet->rating_a);
        add_receptacle(branch_case, outlet, in_table ? "above" : "",
                       "a receptacle alone on its branch is rated no less than the branch");
    }
}

static void add_branch_note(const struct branch_case *branch_case, const char *variant, const char *says)
{
    const struct finder *finder = &branch_case->finder;
    const double breaker_a = branch_case->branch->breaker_a;
    finding_add(finder, "17", variant, about_branch(branch_case),
                FIGURES(NUMBER("rating_a", (double)NAN), NUMBER("breaker_a", breaker_a)), "%s on a branch of %s A",
                says, figure(finder, breaker_a));
}

/* Ranges and ovens alone hang there, which plan by their table: finding 9 holds the receptacle against that. */
static bool feeds_ranges(const struct house *house, size_t outlet)
{
    const struct branch *branch = &house->branches[house->outlets[outlet].branch];
    bool any = false;
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const struct appliance *appliance = &house->appliances[branch->appliances.index[i]];
        if (appliance->outlet == outlet && !load_is_cooking(house, appliance)) {
            return false;
        }
        any = any || appliance->outlet == outlet;
    }
    return any;
}

/* 17: receptacle rating and branch do not go together; lighting on a large branch. */
void check_receptacles(struct branch_case *branch_case)
{
    if (reference_finding("17", branch_case->rules) == NULL) {
        return;
    }
    const struct house *house = branch_case->house;
    const struct branch *branch = branch_case->branch;
    const int contacts = branch_contacts(house, branch_case->index);
    const struct ref_receptacle_rating *row =
        reference_receptacle_rating(branch_case->rules, branch->breaker_a, house->code_edition);
    for (size_t i = 0; i < branch->outlets.count; i++) {
        const size_t index = branch->outlets.index[i];
        const struct outlet *outlet = &house->outlets[index];
        if (isnan(outlet->rating_a) || outlet_contacts(house, index) == 0) {
            continue;
        }
        if (contacts == 1 && feeds_ranges(house, index)) {
            continue;
        }
        if (contacts == 1) {
            check_single(branch_case, outlet, row);
        } else if (row != NULL) {
            check_several(branch_case, outlet, row);
        }
    }
    const double lighting_a = reference_rule_value("lighting-branch-most", branch_case->rules);
    if (branch_is_lighting(house, branch_case->index) && exceeds(branch->breaker_a, lighting_a)) {
        add_branch_note(branch_case, "above", "lighting of a dwelling");
    } else if (contacts > 1 && row == NULL) {
        add_branch_note(branch_case, "note", "several places for plugs");
    }
}

/* True where devices of that rating are made under the rules and the edition. */
static bool is_standard(const struct house *house, double breaker_a)
{
    const double next_a = next_standard_size_a(house, breaker_a);
    return isnan(next_a) || !exceeds(next_a, breaker_a);
}

static void add_odd_size(const struct finder *finder, const struct house *house, struct subject subject,
                         double breaker_a)
{
    if (isfinite(breaker_a) && reference_finding("21", finder->rules) != NULL && !is_standard(house, breaker_a)) {
        finding_add(finder, "21", "", subject, FIGURES(NUMBER("breaker_a", breaker_a)),
                    "%s A is no standard size of a breaker or fuse", figure(finder, breaker_a));
    }
}

/* 21: breaker of no standard size. */
void check_odd_size(struct branch_case *branch_case)
{
    add_odd_size(&branch_case->finder, branch_case->house, about_branch(branch_case), branch_case->branch->breaker_a);
}

/* 21 for a panel's own breaker. */
void check_panel_odd_size(struct panel_case *panel_case)
{
    add_odd_size(&panel_case->finder, panel_case->house, about_panel(panel_case), panel_case->panel->breaker_a);
}
