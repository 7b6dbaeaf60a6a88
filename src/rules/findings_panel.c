/* Findings 13 and 14, and 5 for a feeder: what a panel says. */
#include <math.h>

#include "ampsum/arena.h"
#include "ampsum/day.h"
#include "ampsum/demand.h"
#include "ampsum/service.h"
#include "findings.h"

static const char leg_letters[] = "ABC";

/* The busiest minute of the week on one leg of a feeder. */
struct leg_peak {
    double planning_a; /* 0: no leg comes near the breaker */
    size_t leg;
    struct moment at;
};

static void look_at_leg(const struct panel_case *panel_case, size_t leg, struct leg_peak *peak)
{
    const struct house *house = panel_case->house;
    const struct planning_factors factors = panel_case->assessment->factors;
    const struct day_scope scope = {.branch = NO_INDEX, .panel = panel_case->index, .leg = (int)leg};
    const struct day day = day_busiest(house, scope, DAYS_ALL, MONTHS_ALL, factors);
    struct arena *arena = arena_new();
    struct day_series series;
    day_course(house, scope, day, factors, 1, arena, &series);
    const struct day_stretch *busiest = &series.stretches[series.busiest];
    if (busiest->planning_a > peak->planning_a) {
        peak->planning_a = busiest->planning_a;
        peak->leg = leg;
        peak->at = (struct moment){.month = day.month, .minute = day.weekday * MINUTES_IN_DAY + busiest->start_min};
    }
    arena_free(arena);
}

/* Of the legs on which everything together is more than the breaker; a sub-panel's alone: engineering.md, section 11.
 */
static struct leg_peak find_leg_peak(const struct panel_case *panel_case)
{
    struct leg_peak peak = {0};
    for (size_t leg = 0; leg < 3 && panel_case->index > 0; leg++) {
        const bool has = (panel_case->panel->legs & (1u << leg)) != 0;
        if (has && exceeds(panel_case->result->all.leg_planning_a[leg], panel_case->panel->breaker_a)) {
            look_at_leg(panel_case, leg, &peak);
        }
    }
    return peak;
}

/* As for a branch: `any time` where nothing that hangs on the leg has times. */
static void add_when(const struct panel_case *panel_case, const struct leg_peak *peak, struct text *when)
{
    const struct house *house = panel_case->house;
    const struct day_scope scope = {.branch = NO_INDEX, .panel = panel_case->index, .leg = (int)peak->leg};
    size_t at = 0;
    for (size_t i; (i = day_scope_next(house, scope, &at)) != NO_INDEX;) {
        if (appliance_has_times(&house->appliances[i])) {
            moment_say(when, peak->at);
            return;
        }
    }
    text_add(when, "any time");
}

static void add_busiest_leg(struct panel_case *panel_case, const struct leg_peak *peak)
{
    const struct finder *finder = &panel_case->finder;
    const double breaker_a = panel_case->panel->breaker_a;
    struct text when = {0};
    add_when(panel_case, peak, &when);
    finding_add(finder, "13", "", about_panel(panel_case),
                FIGURES(NUMBER("current_a", peak->planning_a), NUMBER("limit_a", breaker_a)),
                "at the busiest minute (%s) leg %c of the feeder is planned for %s A, %s A over its %s A breaker",
                text_string(&when), leg_letters[peak->leg], figure_beside(finder, peak->planning_a, breaker_a),
                figure_beside(finder, peak->planning_a - breaker_a, 0), figure(finder, breaker_a));
    text_done(&when);
}

/* What the other methods that apply say of the service, each by its name. True where one of them carries it. */
static bool add_other_methods(const struct panel_case *panel_case, struct text *text)
{
    const struct house *house = panel_case->house;
    struct service_brief briefs[DEMAND_METHOD_COUNT];
    const size_t count = service_briefs(house, 0, briefs);
    bool carries = false;
    for (size_t i = 0; i < count; i++) {
        if (briefs[i].applies && briefs[i].method != demand_default_method(house->rules)) {
            text_printf(text, "; counted by %s up to %s A, %s", briefs[i].name,
                        figure_beside(&panel_case->finder, briefs[i].current_a, house->service_a),
                        briefs[i].fits ? "within it" : "over it too");
            carries = carries || briefs[i].fits;
        }
    }
    return carries;
}

/* `its 60 A supply fuse`: what the demand of a panel is held against. */
static const char *held_against(const struct panel_case *panel_case, double breaker_a)
{
    const struct house *house = panel_case->house;
    const bool is_main = panel_case->index == 0;
    const bool rated = is_main && house->service_a < house->panels[0].breaker_a;
    struct text text = {0};
    text_printf(&text, "its %s%s A%s%s", rated ? "service rating of " : "", figure(&panel_case->finder, breaker_a),
                rated ? "" : " ",
                rated     ? ""
                : is_main ? main_device_word(house)
                          : "breaker");
    return finder_keep(&panel_case->finder, &text);
}

static void add_demand(struct panel_case *panel_case, double demand_a, double breaker_a)
{
    const struct finder *finder = &panel_case->finder;
    const struct house *house = panel_case->house;
    const bool is_main = panel_case->index == 0;
    const bool no_area = is_main && demand_takes_area(house) && !isfinite(house->floor_area_m2);
    const char *name = service_method_name(panel_case->rules, demand_default_method(house->rules));
    struct text others = {0};
    const bool carries = is_main && add_other_methods(panel_case, &others);
    finding_add(finder, "13", carries ? "other-fits" : "", about_panel(panel_case),
                FIGURES(NUMBER("current_a", demand_a), NUMBER("limit_a", breaker_a)),
                "counted by %s, %s up to %s A at a time, %s A over %s%s%s",
                name == NULL ? "the published method" : name, is_main ? "the house draws" : "this panel draws",
                figure_beside(finder, demand_a, breaker_a), figure_beside(finder, demand_a - breaker_a, 0),
                held_against(panel_case, breaker_a), text_string(&others),
                no_area ? "; without floor_area the general lighting load is not even in it" : "");
    text_done(&others);
}

/* 13: the demand of the service, or of a sub-panel's feeder, above its breaker; or a feeder's busiest leg. */
void check_panel_demand(struct panel_case *panel_case)
{
    const struct leg_peak peak = find_leg_peak(panel_case);
    if (exceeds(peak.planning_a, fmax(panel_case->result->demand_a, panel_case->panel->breaker_a))) {
        add_busiest_leg(panel_case, &peak);
        return;
    }
    const double breaker_a = panel_case->index == 0 ? panel_case->house->service_a : panel_case->panel->breaker_a;
    if (exceeds(panel_case->result->demand_a, breaker_a)) {
        add_demand(panel_case, panel_case->result->demand_a, breaker_a);
    }
}

/* 14: legs out of balance by more than the usual share of the larger. */
void check_leg_balance(struct panel_case *panel_case)
{
    double largest_a = 0;
    double smallest_a = INFINITY;
    size_t largest = 0;
    size_t smallest = 0;
    size_t leg_count = 0;
    for (size_t leg = 0; leg < 3; leg++) {
        if ((panel_case->panel->legs & (1u << leg)) == 0) {
            continue;
        }
        leg_count++;
        double current_a = panel_case->result->all.leg_current_a[leg];
        if (current_a > largest_a) {
            largest_a = current_a;
            largest = leg;
        }
        if (current_a < smallest_a) {
            smallest_a = current_a;
            smallest = leg;
        }
    }
    double share = reference_rule_value("leg-imbalance", panel_case->rules);
    const struct finder *finder = &panel_case->finder;
    if (leg_count > 1 && exceeds(largest_a - smallest_a, share / 100 * largest_a)) {
        finding_add(finder, "14", "", about_panel(panel_case),
                    FIGURES(NUMBER("current_a", largest_a - smallest_a), NUMBER("limit_a", share / 100 * largest_a),
                            LEGS("leg_current_a", panel_case->panel->legs, panel_case->result->all.leg_current_a)),
                    "with everything on leg %c carries %s A and leg %c %s A: they differ by %s %% of the larger",
                    leg_letters[largest], figure(finder, largest_a), leg_letters[smallest], figure(finder, smallest_a),
                    figure(finder, 100 * (largest_a - smallest_a) / largest_a));
    }
}
