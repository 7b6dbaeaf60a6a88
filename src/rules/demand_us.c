/* The standard method of the us rules: National Electrical Code article 220, part III, and 220.61 for the neutral. */
#include <math.h>
#include <string.h>

#include "demand_parts.h"

#define M2_PER_FT2 0.09290304 /* exact, by definition of the foot */

/* ------------------------------------------------------------------ which line ---------------------------- */

enum {
    COVERED = -1, /* by floor area, small-appliance and laundry circuits */
    NO_LOAD = -2  /* what feeds the house */
};

static int kind_of(const struct demand_work *work, const struct branch *branch, const struct appliance *appliance,
                   double unit_va)
{
    bool between_legs = branch->poles > 1 && work->house->system != SYSTEM_SINGLE_PHASE;
    bool own_place = appliance->fixed != 0 || branch->purpose == PURPOSE_DEDICATED || between_legs;
    bool in_range_table = unit_va > work->range_smallest_va;
    int own_kind = appliance->fixed != 0 ? US_FIXED : US_OWN_BRANCH;
    switch (appliance->category) {
    case CATEGORY_LIGHTING:
        return COVERED;
    case CATEGORY_RANGE:
        return in_range_table ? (int)US_COOKING : own_place ? own_kind : (int)COVERED;
    case CATEGORY_COOKING:
        return !own_place ? (int)COVERED : in_range_table ? (int)US_COOKING : own_kind;
    case CATEGORY_DRYER:
        return own_place ? (int)US_DRYER : (int)COVERED;
    case CATEGORY_VEHICLE:
        return US_VEHICLE;
    case CATEGORY_AIR_CONDITIONING:
        return US_COOLING;
    case CATEGORY_HEAT_PUMP:
        return US_HEAT_PUMP;
    case CATEGORY_GENERATOR:
        return NO_LOAD;
    case CATEGORY_SPACE_HEATING:
        return !own_place                                ? (int)COVERED
               : appliance->behaviour == BEHAVIOUR_MOTOR ? (int)US_HEAT_PUMP
                                                         : (int)US_HEATING;
    case CATEGORY_REFRIGERATION:
        return appliance->fixed != 0 || between_legs ? own_kind : (int)COVERED;
    default:
        return own_place ? own_kind : (int)COVERED;
    }
}

/* A sub-panel's lighting and plug-in load, as it is connected. What hangs on a 1500 VA circuit is in that figure. */
static void add_connected(struct demand_work *work, const struct branch *branch, double va, double current_a)
{
    if (branch->purpose == PURPOSE_SMALL_APPLIANCE || branch->purpose == PURPOSE_LAUNDRY) {
        return;
    }
    work->connected_va += va;
    work->connected_neutral_va += branch->poles == 1 ? va : 0;
    for (unsigned leg = 0; leg < LEG_COUNT; leg++) {
        work->connected_line_a[leg] += (branch->legs >> leg & 1U) != 0 ? current_a : 0;
    }
}

static int slot_of(int kind)
{
    return kind == US_COOLING ? 1 : kind == US_HEATING || kind == US_HEAT_PUMP ? 2 : 0;
}

static void gather_appliance(struct demand_work *work, size_t branch_index, size_t index)
{
    const struct appliance *appliance = &work->house->appliances[index];
    const struct branch *branch = &work->house->branches[branch_index];
    struct demand_item item = demand_item_of(work, index, branch_index);
    item.kind = kind_of(work, branch, appliance, item.unit_va);
    if (item.kind >= 0) {
        demand_item_add(work, item);
    } else if (item.kind == COVERED && work->options.panel != 0) {
        add_connected(work, branch, demand_item_va(&item), item.unit_current_a * item.units);
    }
}

double us_larger(double a, double b)
{
    return a > b ? a : b;
}

/* ------------------------------------------------------------------ motors -------------------------------- */

bool us_on_neutral(const struct demand_work *work, const struct demand_item *item)
{
    return work->house->branches[item->branch].poles == 1;
}

/* Whether an item counts in the service load: of heating and cooling only the larger. */
bool us_item_counts(const struct demand_item *item, bool cool)
{
    bool other = cool ? item->kind == US_HEATING || item->kind == US_HEAT_PUMP : item->kind == US_COOLING;
    return !item->dropped && !other;
}

static void find_motors(struct demand_work *work)
{
    bool cool =
        demand_sum_of(work, US_COOLING).va > demand_sum_of(work, US_HEATING).va + demand_sum_of(work, US_HEAT_PUMP).va;
    for (size_t i = 0; i < work->item_count; i++) {
        const struct demand_item *item = &work->items[i];
        if (work->house->appliances[item->appliance].behaviour != BEHAVIOUR_MOTOR || !us_item_counts(item, cool) ||
            item->kind == US_COOKING || item->kind == US_DRYER || item->kind == US_VEHICLE) {
            continue;
        }
        if (work->motor == NULL || item->unit_va > work->motor->unit_va * (1 + 1e-9)) {
            work->motor = item;
        }
        if (us_on_neutral(work, item) &&
            (work->neutral_motor == NULL || item->unit_va > work->neutral_motor->unit_va * (1 + 1e-9))) {
            work->neutral_motor = item;
        }
        unsigned legs = work->house->branches[item->branch].legs;
        for (unsigned leg = 0; leg < LEG_COUNT; leg++) {
            work->motor_a[leg] =
                (legs >> leg & 1U) != 0 ? us_larger(work->motor_a[leg], item->unit_current_a) : work->motor_a[leg];
        }
    }
}

/* 220.53: from so many fixed appliances on they are reduced. */
static double several_factor(const struct demand_work *work)
{
    double count = 0;
    for (size_t i = 0; i < work->item_count; i++) {
        const struct demand_item *item = &work->items[i];
        bool counts = item->kind == US_FIXED && !item->dropped && item->unit_va >= work->fixed_least_va * (1 - 1e-9);
        count += counts ? item->units : 0;
    }
    bool several = count >= demand_rule(work, "fixed-appliance-count");
    return several ? demand_rule(work, "fixed-appliance-demand") / 100 : 1;
}

void demand_us_gather(struct demand_work *work)
{
    work->range_smallest_va = demand_rule(work, "range-smallest");
    work->fixed_least_va = demand_rule(work, "fixed-appliance-minimum");
    for (size_t i = 0; i < work->branch_count; i++) {
        const struct branch *branch = &work->house->branches[work->branches[i]];
        house_fetch_ahead(work->house, i + 1 < work->branch_count ? work->branches[i + 1] : NO_INDEX);
        work->small_appliance_count += branch->purpose == PURPOSE_SMALL_APPLIANCE;
        work->laundry_count += branch->purpose == PURPOSE_LAUNDRY;
        for (size_t k = 0; k < branch->appliances.count; k++) {
            gather_appliance(work, work->branches[i], branch->appliances.index[k]);
        }
    }
    demand_drop_groups(work, slot_of);
    demand_sum_items(work);
    work->several_factor = several_factor(work);
    find_motors(work);
}

/* ------------------------------------------------------------------ general load -------------------------- */

static void gather_line(struct demand_work *work, struct demand_list *list, const char *what, const char *how,
                        double load_va, const char *rule)
{
    if (list != NULL) {
        demand_add(work, list, DEMAND_GATHERED, what, how, load_va, 0, demand_rule_source(work, rule));
    }
}

/* Floor area in the feet of the house file: what 1500 ft2 lost on its way through square metres is put back. */
static double house_area_ft2(const struct house *house)
{
    double area_ft2 = house->floor_area_m2 / M2_PER_FT2;
    double whole_ft2 = round(area_ft2 * 1e3) / 1e3;
    return fabs(area_ft2 - whole_ft2) <= 1e-12 * area_ft2 ? whole_ft2 : area_ft2;
}

static double lighting_va(struct demand_work *work, struct demand_list *list)
{
    const struct house *house = work->house;
    if (!isfinite(house->floor_area_m2)) {
        gather_line(work, list, "General lighting and receptacles: left out, the house gives no floor_area", "", 0,
                    "dwelling-load");
        if (list != NULL) {
            demand_note(work,
                        "The house gives no floor_area, so the general lighting load is left out and the demand is "
                        "too small by it.");
        }
        return 0;
    }
    double area_ft2 = house_area_ft2(house);
    double density = demand_rule(work, "dwelling-load");
    gather_line(work, list, "General lighting and receptacles",
                demand_text(work, "%s ft2 x %s VA/ft2", demand_figure(work, area_ft2), demand_figure(work, density)),
                area_ft2 * density, "dwelling-load");
    return area_ft2 * density;
}

/* 1500 VA for each circuit, for the service no fewer than the rules ask for. */
static double circuits_va(struct demand_work *work, struct demand_list *list, const char *what, size_t count,
                          const char *count_rule, const char *load_rule)
{
    double least = demand_rule(work, count_rule);
    bool at_least = work->options.panel == 0 && (double)count < least;
    double circuits = at_least ? least : (double)count;
    double each_va = demand_rule(work, load_rule);
    if (circuits > 0) {
        const char *how = demand_text(work, "%s x %s VA", demand_figure(work, circuits), demand_figure(work, each_va));
        how = at_least ? demand_text(work, "the rules ask for no fewer than %s: %s", demand_figure(work, least), how)
                       : how;
        gather_line(work, list, what, how, circuits * each_va, load_rule);
    }
    return circuits * each_va;
}

/* The demand table on the general load, band by band. */
static double bands_va(struct demand_work *work, struct demand_list *list, double gross_va)
{
    double net_va = 0;
    for (size_t i = 0; i < ref_demand_band_count; i++) {
        const struct ref_demand_band *row = &ref_demand_band_rows[i];
        double to_va = isfinite(row->to_va) && row->to_va < gross_va ? row->to_va : gross_va;
        double part_va = to_va - row->over_va;
        if (strcmp(row->rules, work->rules) != 0 || strcmp(row->what, "lighting") != 0 || !(part_va > 0)) {
            continue;
        }
        net_va += part_va * row->percent / 100;
        if (list != NULL) {
            const char *over = demand_figure(work, row->over_va);
            demand_add(work, list, DEMAND_COUNTED,
                       row->over_va > 0 ? demand_text(work, "General load above %s VA", over)
                                        : demand_text(work, "General load, first %s VA", demand_figure(work, to_va)),
                       row->over_va > 0 ? demand_text(work, "%s - %s VA", demand_figure(work, to_va), over) : "",
                       part_va, row->percent / 100, demand_source(work, row->clause, row->edition, row->source));
        }
    }
    return net_va;
}

struct us_general us_general_load(struct demand_work *work, struct demand_list *list, bool table)
{
    struct us_general general = {0};
    if (work->options.panel == 0) {
        general.gross_va += lighting_va(work, list);
    }
    general.gross_va += circuits_va(work, list, "Small-appliance branch circuits", work->small_appliance_count,
                                    "small-appliance-count", "small-appliance-load");
    general.gross_va +=
        circuits_va(work, list, "Laundry branch circuits", work->laundry_count, "laundry-count", "laundry-load");
    general.net_va = bands_va(work, table ? list : NULL, general.gross_va);
    return general;
}

/* ------------------------------------------------------------------ appliances ---------------------------- */

/* 220.53 counts appliances from a smallest size on; those below it stay at 100 %. */
double us_fixed_factor(const struct demand_work *work, const struct demand_item *item)
{
    bool counts = item->kind == US_FIXED && item->unit_va >= work->fixed_least_va * (1 - 1e-9);
    return counts ? work->several_factor : 1;
}

static void add_items(struct demand_work *work, int kind, const char *rule)
{
    for (size_t i = 0; work->sums[kind].units > 0 && i < work->item_count; i++) {
        struct demand_item *item = &work->items[i];
        if (item->kind != kind || item->dropped) {
            continue;
        }
        double factor = us_fixed_factor(work, item);
        demand_item_lines(work, item, factor);
        demand_add(work, &work->demand->lines, DEMAND_COUNTED, demand_item_name(work, item),
                   demand_item_how(work, item), demand_item_va(item), factor, demand_rule_source(work, rule));
    }
}

/* 220.54: each dryer by its nameplate, no less than the smallest load; their number decides the factor. */
double us_dryers(struct demand_work *work, struct demand_list *list)
{
    double least_va = demand_rule(work, "dryer-minimum");
    double load_va = 0;
    unsigned count = work->sums[US_DRYER].units;
    for (size_t i = 0; count > 0 && i < work->item_count; i++) {
        const struct demand_item *item = &work->items[i];
        if (item->kind == US_DRYER && !item->dropped) {
            load_va += us_larger(item->unit_va, least_va) * item->units;
        }
    }
    if (count == 0) {
        return 0;
    }
    const struct ref_demand_dryer *row = NULL;
    double percent = reference_demand_dryer_percent(work->rules, (int)count, &row);
    if (list != NULL) {
        demand_add(work, list, DEMAND_COUNTED,
                   count > 1 ? demand_text(work, "Clothes dryers, %u of them", count) : "Clothes dryer",
                   demand_text(work, "nameplate, each at least %s VA", demand_figure(work, least_va)), load_va,
                   percent / 100, demand_source(work, "", row->edition, row->source));
    }
    return load_va * percent / 100;
}

/* Editions before the rule on vehicles count them by their nameplate. */
double us_vehicle_least_va(const struct demand_work *work, const struct demand_item *item)
{
    const bool by_plate = work->options.plates && demand_is_added(work, item);
    const bool published = reference_has_section(work->rules, "vehicle-demand", work->house->code_edition);
    return published && !by_plate ? demand_rule(work, "vehicle-minimum") : 0;
}

double us_vehicle_va(struct demand_work *work, const struct demand_item *item, const char **ret_how,
                     const char **ret_rule)
{
    const double least_va = us_vehicle_least_va(work, item);
    const double unit_va = us_larger(item->unit_va, least_va);
    const char *plate = demand_figure(work, item->unit_va);
    *ret_how = least_va > 0 ? demand_text(work, "nameplate %s VA, at least %s VA", plate, demand_figure(work, least_va))
                            : demand_text(work, "nameplate %s VA", plate);
    *ret_rule = least_va > 0 ? "vehicle-minimum" : "appliance-load";
    return unit_va * item->units;
}

static void add_vehicles(struct demand_work *work)
{
    for (size_t i = 0; work->sums[US_VEHICLE].units > 0 && i < work->item_count; i++) {
        struct demand_item *item = &work->items[i];
        if (item->kind != US_VEHICLE || item->dropped) {
            continue;
        }
        const char *how = "";
        const char *rule = "";
        const double va = us_vehicle_va(work, item, &how, &rule);
        demand_item_lines(work, item, item->unit_va > 0 ? va / demand_item_va(item) : 1);
        demand_add(work, &work->demand->lines, DEMAND_COUNTED, demand_item_name(work, item), how, va, 1,
                   demand_rule_source(work, rule));
    }
}

/* ------------------------------------------------------------------ heating or cooling -------------------- */

static void kind_lines(struct demand_work *work, int kind)
{
    for (size_t i = 0; work->sums[kind].units > 0 && i < work->item_count; i++) {
        if (work->items[i].kind == kind && !work->items[i].dropped) {
            demand_item_lines(work, &work->items[i], 1);
        }
    }
}

static void climate_line(struct demand_work *work, const char *what, const struct demand_sum *sum, bool counted,
                         const char *rule)
{
    if (sum->units > 0) {
        demand_add(work, &work->demand->lines, counted ? DEMAND_COUNTED : DEMAND_LEFT_OUT,
                   counted ? what : demand_text(work, "%s: left out, the other is larger", what), sum->how, sum->va,
                   counted ? 1 : 0, demand_rule_source(work, counted ? rule : "noncoincident-share"));
    }
}

/* 220.51, 220.60. Marks what does not count as dropped, for the motor factor and the neutral. */
static void add_climate(struct demand_work *work)
{
    struct demand_sum heating = demand_sum_of(work, US_HEATING);
    struct demand_sum pump = demand_sum_of(work, US_HEAT_PUMP);
    struct demand_sum cooling = demand_sum_of(work, US_COOLING);
    bool cool = cooling.va > heating.va + pump.va;
    climate_line(work, "Space heating", &heating, !cool, "space-heating-demand");
    climate_line(work, "Heat pump", &pump, !cool, "space-heating-demand");
    climate_line(work, "Air conditioning", &cooling, cool, "noncoincident-share");
    if (cool) {
        kind_lines(work, US_COOLING);
    } else {
        kind_lines(work, US_HEATING);
        kind_lines(work, US_HEAT_PUMP);
    }
}

void us_motor_line(struct demand_work *work, struct demand_list *list, const struct demand_item *motor)
{
    if (motor != NULL) {
        double share = demand_rule(work, "motor-demand-factor") - 1;
        demand_add(work, list, DEMAND_COUNTED,
                   demand_text(work, "Largest motor, %s: %s %% more", work->house->appliances[motor->appliance].name,
                               demand_figure(work, 100 * share)),
                   "", motor->unit_va, share, demand_rule_source(work, "motor-demand-factor"));
    }
}

/* ------------------------------------------------------------------ the method ---------------------------- */

static void add_sub_panel_loads(struct demand_work *work)
{
    if (work->connected_va <= 0) {
        return;
    }
    demand_add(work, &work->demand->lines, DEMAND_COUNTED, "Lighting and plug-in loads as connected", "",
               work->connected_va, 1, demand_rule_source(work, "connected-load"));
    for (unsigned leg = 0; leg < LEG_COUNT; leg++) {
        work->line_a[leg] += work->connected_line_a[leg];
    }
}

void demand_standard(struct demand_work *work)
{
    struct demand_list *lines = &work->demand->lines;
    demand_us_gather(work);
    struct us_general general = us_general_load(work, lines, true);
    work->balanced_va = general.net_va;
    add_sub_panel_loads(work);
    add_items(work, US_FIXED, "fixed-appliance-demand");
    add_items(work, US_OWN_BRANCH, "appliance-load");
    work->balanced_va += us_cooking(work, lines);
    work->balanced_va += us_dryers(work, lines);
    add_climate(work);
    add_vehicles(work);
    us_motor_line(work, lines, work->motor);
    us_neutral(work, &general);
}
