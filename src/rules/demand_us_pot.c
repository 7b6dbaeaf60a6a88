/* us: the optional method (220.82), an existing dwelling (220.83), and a measured demand (220.87). */
#include <math.h>

#include "demand_parts.h"

static bool is_climate(int kind)
{
    return kind == US_HEATING || kind == US_HEAT_PUMP || kind == US_COOLING;
}

static bool is_added(const struct demand_work *work, const struct demand_item *item)
{
    return work->options.added_from != NO_INDEX && item->appliance >= work->options.added_from;
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
        demand_add(work, &work->demand->lines, DEMAND_GATHERED, demand_item_name(work, item),
                   demand_item_how(work, item), demand_item_va(item), 0, demand_rule_source(work, rule));
        pot_va += demand_item_va(item);
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
        if (is_climate(work->items[i].kind) && is_added(work, &work->items[i])) {
            return true;
        }
    }
    return false;
}

/*
 * 220.83: (A) everything in one sum; (B) where heating or cooling is added, the larger of heating and cooling stands
 * beside it in full.
 */
void demand_existing(struct demand_work *work)
{
    demand_us_gather(work);
    struct us_general general = us_general_load(work, &work->demand->lines, false);
    double pot_va = gather_pot(work, &general, "existing-first");
    bool beside = adds_climate(work);
    double share = demand_rule(work, "existing-added-heat") / 100;
    const struct candidate candidates[] = {
        {"Air conditioning", demand_sum_of(work, US_COOLING), share, "existing-added-heat"},
        {"Heat pump", demand_sum_of(work, US_HEAT_PUMP), share, "existing-added-heat"},
        {"Space heating", demand_sum_of(work, US_HEATING), share, "existing-added-heat"},
    };
    bool cool = candidates[0].sum.va > candidates[1].sum.va + candidates[2].sum.va;
    for (size_t i = 0; i < 3; i++) {
        const struct candidate *candidate = &candidates[i];
        bool larger = (i == 0) == cool;
        if (larger && !beside && candidate->sum.units > 0) {
            demand_add(work, &work->demand->lines, DEMAND_GATHERED, candidate->what, candidate->sum.how,
                       candidate->sum.va, 0, demand_rule_source(work, "existing-first"));
            pot_va += candidate->sum.va;
        } else {
            candidate_line(work, candidate, larger);
        }
    }
    count_pot(work, pot_va, "existing-first", "existing-rest");
    us_neutral(work, &general);
}

void demand_measured(struct demand_work *work)
{
    double factor = demand_rule(work, "measured-factor");
    demand_add(work, &work->demand->lines, DEMAND_COUNTED, "Maximum demand that was metered", "",
               work->options.measured_va, factor, demand_rule_source(work, "measured-factor"));
    for (size_t i = work->options.added_from; i < work->house->appliance_count; i++) {
        struct demand_item item = {
            .appliance = i, .branch = work->house->appliances[i].branch, .units = work->house->appliances[i].count};
        demand_nameplate(work->house, &work->house->appliances[i], &item.unit_va, &item.unit_current_a);
        demand_add(work, &work->demand->lines, DEMAND_COUNTED,
                   demand_text(work, "Added: %s", demand_item_name(work, &item)), demand_item_how(work, &item),
                   demand_item_va(&item), 1, demand_rule_source(work, "measured-factor"));
    }
    const struct ref_rule *row = reference_rule("measured-factor", work->rules);
    demand_note(work, demand_text(work, "The metered figure must be %s.", row->note));
}
