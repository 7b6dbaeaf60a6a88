/* us: the optional method (220.82), an existing dwelling (220.83), and a measured demand (220.87). */
#include <math.h>

#include "demand_parts.h"

static bool is_climate(int kind)
{
    return kind == US_HEATING || kind == US_HEAT_PUMP || kind == US_COOLING;
}

/* Gathers every load by its nameplate but heating and cooling; the sum with the general load. */
static double gather_pot(struct demand_work *work, const struct us_general *general, const char *rule)
{
    double pot_va = general->gross_va + work->connected_va;
    if (work->connected_va > 0) {
        demand_add(work, &work->demand->lines, DEMAND_GATHERED, "Lighting and plug-in loads as connected", "",
                   work->connected_va, 0, demand_rule_source(work, "connected-load"));
    }
    for (size_t i = 0; i < work->item_count; i++) {
        const struct demand_item *item = &work->items[i];
        if (item->dropped || is_climate(item->kind)) {
            continue;
        }
        const char *how = demand_item_how(work, item);
        const char *why = rule;
        double va = demand_item_va(item);
        if (item->kind == US_VEHICLE && item->unit_va < us_vehicle_least_va(work, item)) {
            va = us_vehicle_va(work, item, &how, &why);
        }
        demand_add(work, &work->demand->lines, DEMAND_GATHERED, demand_item_name(work, item), how, va, 0,
                   demand_rule_source(work, why));
        pot_va += va;
    }
    return pot_va;
}

/* The first so many volt-amperes at 100 %, the rest at a share. */
static void count_pot(struct demand_work *work, double pot_va, const char *first_rule, const char *rest_rule)
{
    double first_va = demand_rule(work, first_rule);
    double in_full_va = pot_va < first_va ? pot_va : first_va;
    demand_add(work, &work->demand->lines, DEMAND_COUNTED,
               demand_text(work, "Sum, first %s VA", demand_figure(work, first_va)),
               demand_text(work, "of %s VA", demand_figure(work, pot_va)), in_full_va, 1,
               demand_rule_source(work, first_rule));
    if (pot_va > first_va) {
        demand_add(work, &work->demand->lines, DEMAND_COUNTED, "Sum, the rest",
                   demand_text(work, "%s - %s VA", demand_figure(work, pot_va), demand_figure(work, first_va)),
                   pot_va - first_va, demand_rule(work, rest_rule) / 100, demand_rule_source(work, rest_rule));
    }
}

/* A candidate for the heating or cooling load. */
struct candidate {
    const char *what;
    struct demand_sum sum;
    double share;
    const char *rule;
};

static double candidate_va(const struct candidate *candidate)
{
    return candidate->sum.va * candidate->share;
}

static void candidate_line(struct demand_work *work, const struct candidate *candidate, bool counted)
{
    if (candidate->sum.units == 0) {
        return;
    }
    if (counted) {
        demand_add(work, &work->demand->lines, DEMAND_COUNTED, candidate->what, candidate->sum.how, candidate->sum.va,
                   candidate->share, demand_rule_source(work, candidate->rule));
        return;
    }
    demand_add(work, &work->demand->lines, DEMAND_LEFT_OUT,
               demand_text(work, "%s: left out, the other is larger", candidate->what),
               demand_text(work, "%s VA x %s %% = %s VA", demand_figure(work, candidate->sum.va),
                           demand_figure(work, 100 * candidate->share), demand_figure(work, candidate_va(candidate))),
               candidate->sum.va, 0, demand_rule_source(work, "noncoincident-share"));
}

/* Candidates of 220.82(C): cooling; a heat pump with its supplementary heat; other space heating by its units. */
static void find_candidates(struct demand_work *work, struct candidate *cooling, struct candidate *pump,
                            struct candidate *heating)
{
    double cool_share = demand_rule(work, "cooling-demand") / 100;
    *cooling = (struct candidate){"Air conditioning", demand_sum_of(work, US_COOLING), cool_share, "cooling-demand"};
    *pump = (struct candidate){"Heat pump", demand_sum_of(work, US_HEAT_PUMP), cool_share, "cooling-demand"};
    *heating = (struct candidate){"Space heating", demand_sum_of(work, US_HEATING), 1, "heating-demand"};
    if (pump->sum.units > 0) {
        heating->what = "Supplementary heat of the heat pump";
        heating->rule = "strip-heat-demand";
    } else if (heating->sum.units >= demand_rule(work, "heating-many-count")) {
        heating->rule = "heating-demand-many";
    }
    heating->share = demand_rule(work, heating->rule) / 100;
}

void demand_optional(struct demand_work *work)
{
    demand_us_gather(work);
    struct us_general general = us_general_load(work, &work->demand->lines, false);
    double pot_va = gather_pot(work, &general, "optional-first");
    count_pot(work, pot_va, "optional-first", "optional-rest");
    struct candidate cooling, pump, heating;
    find_candidates(work, &cooling, &pump, &heating);
    bool cool = candidate_va(&cooling) > candidate_va(&pump) + candidate_va(&heating);
    candidate_line(work, &cooling, cool);
    candidate_line(work, &pump, !cool);
    candidate_line(work, &heating, !cool);
    demand_note(work,
                demand_text(work,
                            "The optional method is for one dwelling whose own service or feeder is rated %s A or "
                            "more, with two legs or more and a neutral.",
                            demand_figure(work, demand_rule(work, "service-minimum"))));
    us_neutral(work, &general);
}

static bool adds_climate(const struct demand_work *work)
{
    for (size_t i = 0; i < work->item_count; i++) {
        if (is_climate(work->items[i].kind) && demand_is_added(work, &work->items[i])) {
            return true;
        }
    }
    return false;
}

/* The first so many volt-amperes in full and a share of the rest. */
static double counted_pot_va(const struct demand_work *work, double pot_va, const char *first_rule,
                             const char *rest_rule)
{
    const double first_va = demand_rule(work, first_rule);
    return pot_va <= first_va ? pot_va : first_va + (pot_va - first_va) * demand_rule(work, rest_rule) / 100;
}

/* So many heaters of their own switches count in the sum, not beside it. */
static bool in_sum(const struct demand_work *work, const struct candidate *candidates)
{
    return candidates[1].sum.units == 0 && candidates[2].sum.units >= demand_rule(work, "heating-many-count");
}

/* Heating or cooling that is there counts in the sum; added, the larger of both stands beside it. Returns the former.
 */
static double existing_climate(struct demand_work *work, bool beside)
{
    const double share = demand_rule(work, "existing-added-heat") / 100;
    const struct candidate candidates[] = {
        {"Air conditioning", demand_sum_of(work, US_COOLING), share, "existing-added-heat"},
        {"Heat pump", demand_sum_of(work, US_HEAT_PUMP), share, "existing-added-heat"},
        {"Space heating", demand_sum_of(work, US_HEATING), share, "existing-added-heat"},
    };
    const bool cool = candidates[0].sum.va > candidates[1].sum.va + candidates[2].sum.va;
    double gathered_va = 0;
    for (size_t i = 0; i < 3; i++) {
        const struct candidate *candidate = &candidates[i];
        const bool larger = (i == 0) == cool;
        const bool gathered = larger && (!beside || (i == 2 && in_sum(work, candidates)));
        if (!gathered) {
            candidate_line(work, candidate, larger);
        } else if (candidate->sum.units > 0) {
            const char *rule = beside ? "existing-many" : "existing-first";
            demand_add(work, &work->demand->lines, DEMAND_GATHERED, candidate->what, candidate->sum.how,
                       candidate->sum.va, 0, demand_rule_source(work, rule));
            gathered_va += candidate->sum.va;
        }
    }
    return gathered_va;
}

/*
 * 220.83: (A) everything in one sum; (B) where heating or cooling is added, the larger of heating and cooling stands
 * beside it in full.
 */
void demand_existing(struct demand_work *work)
{
    demand_us_gather(work);
    struct us_general general = us_general_load(work, &work->demand->lines, false);
    const double pot_va = gather_pot(work, &general, "existing-first");
    const bool beside = adds_climate(work);
    const double climate_va = existing_climate(work, beside);
    work->demand->climate_beside = beside;
    if (!beside && climate_va > 0) {
        work->demand->other_va = counted_pot_va(work, pot_va, "existing-first", "existing-rest");
    }
    count_pot(work, pot_va + climate_va, "existing-first", "existing-rest");
    us_neutral(work, &general);
}

/* ------------------------------------------------------------------ measured ------------------------------ */

/* The added loads; of a group of them the largest. */
static void gather_added(struct demand_work *work)
{
    for (size_t i = 0; i < work->branch_count; i++) {
        const struct branch *branch = &work->house->branches[work->branches[i]];
        for (size_t k = 0; k < branch->appliances.count; k++) {
            const size_t index = branch->appliances.index[k];
            struct demand_item item = demand_item_of(work, index, work->branches[i]);
            if (demand_is_added(work, &item) && work->house->appliances[index].category != CATEGORY_GENERATOR) {
                demand_item_add(work, item);
            }
        }
    }
    demand_drop_groups(work, demand_one_slot);
}

static void measured_item(struct demand_work *work, const struct demand_item *item)
{
    const char *how = demand_item_how(work, item);
    const char *rule = "measured-factor";
    double va = demand_item_va(item);
    if (work->house->appliances[item->appliance].category == CATEGORY_VEHICLE &&
        item->unit_va < us_vehicle_least_va(work, item)) {
        va = us_vehicle_va(work, item, &how, &rule);
    }
    demand_item_lines(work, item, item->unit_va > 0 ? va / demand_item_va(item) : 1);
    demand_add(work, &work->demand->lines, DEMAND_COUNTED, demand_text(work, "Added: %s", demand_item_name(work, item)),
               how, va, 1, demand_rule_source(work, rule));
}

void demand_measured(struct demand_work *work)
{
    double factor = demand_rule(work, "measured-factor");
    demand_add(work, &work->demand->lines, DEMAND_COUNTED, "Maximum demand that was metered", "",
               work->options.measured_va, factor, demand_rule_source(work, "measured-factor"));
    if (work->options.season_va > 0) {
        demand_add(work, &work->demand->lines, DEMAND_COUNTED, "Heating or cooling that the readings do not hold", "",
                   work->options.season_va, factor, demand_rule_source(work, "measured-factor"));
    }
    /* The meter saw all lines together: that spreads; what is added is on its own. */
    work->balanced_va = work->demand->total_va;
    gather_added(work);
    for (size_t i = 0; i < work->item_count; i++) {
        if (!work->items[i].dropped) {
            measured_item(work, &work->items[i]);
        }
    }
    const struct ref_rule *row = reference_rule("measured-factor", work->rules);
    demand_note(work, demand_text(work, "The metered figure must be %s.", row->note));
}
