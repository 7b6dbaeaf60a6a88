/* iec, uk: diversity allowances of a household by kind of load, ref_diversity. */
#include <math.h>
#include <string.h>

#include "demand_parts.h"

/* In the order of the lines. */
enum diversity_kind {
    LOAD_LIGHTING,
    LOAD_POWER,
    LOAD_COOKING,
    LOAD_INSTANT_WATER,
    LOAD_STORED_WATER,
    LOAD_STORED_HEAT,
    LOAD_VEHICLE,
    LOAD_STANDARD_CIRCUIT,
    LOAD_OWN_OUTLET,
    DIVERSITY_KIND_COUNT
};

static const char *const kind_ids[DIVERSITY_KIND_COUNT] = {
    "lighting",        "power",   "cooking",          "shower", "water-heating",
    "storage-heating", "vehicle", "standard-circuit", "socket",
};

/* ------------------------------------------------------------------ which line ---------------------------- */

static int kind_of(const struct demand_work *work, const struct appliance *appliance, double unit_va)
{
    switch (appliance->category) {
    case CATEGORY_LIGHTING:
        return LOAD_LIGHTING;
    case CATEGORY_COOKING:
    case CATEGORY_RANGE:
        return LOAD_COOKING;
    case CATEGORY_WATER_HEATING:
        return unit_va >= work->instant_least_va * (1 - 1e-9) ? LOAD_INSTANT_WATER : LOAD_STORED_WATER;
    case CATEGORY_VEHICLE:
        return LOAD_VEHICLE;
    case CATEGORY_SPACE_HEATING:
        return appliance->continuous != 0 ? LOAD_STORED_HEAT : LOAD_POWER;
    default:
        return appliance->fixed != 0 ? LOAD_POWER : LOAD_OWN_OUTLET;
    }
}

/* A circuit of outlets for whatever is plugged in, which the allowances count by its device. */
static bool is_standard_circuit(const struct house *house, const struct branch *branch)
{
    if (branch->purpose == PURPOSE_DEDICATED || branch->purpose == PURPOSE_LIGHTING) {
        return false;
    }
    if (branch->layout == LAYOUT_RING || branch->outlets.count > 0) {
        return true;
    }
    for (size_t i = 0; i < branch->appliances.count; i++) {
        if (house->appliances[branch->appliances.index[i]].fixed == 0) {
            return true;
        }
    }
    return false;
}

static bool by_load(const struct demand_work *work)
{
    return work->options.method == DEMAND_BY_LOAD;
}

/* Amperes in a line of all that is connected to a circuit, as its plates say. */
static double connected_current_a(const struct demand_work *work, const struct branch *branch)
{
    double sum_a = 0;
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const struct appliance *load = &work->house->appliances[branch->appliances.index[i]];
        const struct demand_item item = demand_item_of(work, branch->appliances.index[i], load->branch);
        sum_a += load->category == CATEGORY_GENERATOR ? 0 : item.unit_current_a * item.units;
    }
    return sum_a;
}

static void gather_circuit(struct demand_work *work, size_t index)
{
    const struct branch *branch = &work->house->branches[index];
    const double phases = branch->poles == 3 ? sqrt(3.0) : 1;
    const double connected_a = by_load(work) ? connected_current_a(work, branch) : INFINITY;
    const double current_a = fmin(connected_a, branch->breaker_a);
    demand_item_add(work, (struct demand_item){.kind = LOAD_STANDARD_CIRCUIT,
                                               .appliance = NO_INDEX,
                                               .branch = index,
                                               .units = 1,
                                               .unit_va = phases * branch->voltage_v * current_a,
                                               .unit_current_a = current_a});
}

static void gather_loads(struct demand_work *work, size_t index)
{
    const struct branch *branch = &work->house->branches[index];
    for (size_t i = 0; i < branch->appliances.count; i++) {
        const struct appliance *appliance = &work->house->appliances[branch->appliances.index[i]];
        struct demand_item item = demand_item_of(work, branch->appliances.index[i], index);
        item.kind = kind_of(work, appliance, item.unit_va);
        if (appliance->category != CATEGORY_GENERATOR) {
            demand_item_add(work, item);
        }
    }
}

static void gather(struct demand_work *work)
{
    work->instant_least_va = demand_rule(work, "instantaneous-water-heater");
    for (size_t i = 0; i < work->branch_count; i++) {
        if (is_standard_circuit(work->house, &work->house->branches[work->branches[i]])) {
            gather_circuit(work, work->branches[i]);
        } else {
            gather_loads(work, work->branches[i]);
        }
    }
    demand_drop_groups(work, demand_one_slot);
}

/* ------------------------------------------------------------------ the allowance ------------------------- */

/* The units of a kind: their sum, the two largest. Amperes are line to neutral, three times over for a 3-pole load. */
struct kind_sum {
    double all_a;
    double largest_a;
    double second_a;
    unsigned units;
    bool three_pole;
};

static void offer(struct kind_sum *sum, double unit_a, unsigned units)
{
    sum->all_a += unit_a * units;
    sum->units += units;
    for (unsigned i = 0; i < units && i < 2; i++) {
        if (unit_a > sum->largest_a) {
            sum->second_a = sum->largest_a;
            sum->largest_a = unit_a;
        } else if (unit_a > sum->second_a) {
            sum->second_a = unit_a;
        }
    }
}

static struct kind_sum sum_kind(const struct demand_work *work, int kind)
{
    struct kind_sum sum = {0};
    for (size_t i = 0; i < work->item_count; i++) {
        const struct demand_item *item = &work->items[i];
        if (item->kind == kind && !item->dropped) {
            offer(&sum, item->unit_va / work->house->voltage_v, item->units);
            sum.three_pole = sum.three_pole || work->house->branches[item->branch].poles == 3;
        }
    }
    return sum;
}

/* The first amperes in full, a share of the balance; on three lines where a three-pole load is among them. */
static double by_first_a(struct demand_work *work, const struct ref_diversity *row, const struct kind_sum *sum,
                         const char **ret_how)
{
    double first_a = row->first_a * (sum->three_pole ? 3 : 1);
    double in_full_a = sum->all_a < first_a ? sum->all_a : first_a;
    double counted_a = in_full_a + (sum->all_a - in_full_a) * row->balance_percent / 100;
    if (row->first_a > 0) {
        *ret_how = demand_text(work, "%s A: %s A + %s %% x %s A = %s A", demand_figure(work, sum->all_a),
                               demand_figure(work, in_full_a), demand_figure(work, row->balance_percent),
                               demand_figure(work, sum->all_a - in_full_a), demand_figure(work, counted_a));
    } else {
        *ret_how = demand_text(work, "%s %% x %s A = %s A", demand_figure(work, row->balance_percent),
                               demand_figure(work, sum->all_a), demand_figure(work, counted_a));
    }
    return counted_a;
}

/* Shares by rank: the largest, the second, the rest. */
static double by_rank(struct demand_work *work, const struct ref_diversity *row, const struct kind_sum *sum,
                      const char **ret_how)
{
    double rest_a = sum->all_a - sum->largest_a - sum->second_a;
    rest_a = sum->units > 2 ? rest_a : 0;
    double counted_a =
        (row->largest_percent * sum->largest_a + row->second_percent * sum->second_a + row->rest_percent * rest_a) /
        100;
    if (sum->units == 1) {
        *ret_how = demand_text(work, "%s %% x %s A", demand_figure(work, row->largest_percent),
                               demand_figure(work, sum->largest_a));
        return counted_a;
    }
    *ret_how = demand_text(work, "%s %% x %s A + %s %% x %s A", demand_figure(work, row->largest_percent),
                           demand_figure(work, sum->largest_a), demand_figure(work, row->second_percent),
                           demand_figure(work, sum->second_a));
    if (sum->units > 2) {
        *ret_how = demand_text(work, "%s + %s %% x %s A", *ret_how, demand_figure(work, row->rest_percent),
                               demand_figure(work, rest_a));
    }
    *ret_how = demand_text(work, "%s = %s A", *ret_how, demand_figure(work, counted_a));
    return counted_a;
}

static const char *line_name(struct demand_work *work, const struct ref_diversity *row, const struct kind_sum *sum)
{
    if (work->quiet) {
        return "";
    }
    char *name = arena_copy(work->demand->arena, row->name);
    name[0] = (char)(name[0] >= 'a' && name[0] <= 'z' ? name[0] - 'a' + 'A' : name[0]);
    return sum->units > 1 ? demand_text(work, "%s, %u of them", name, sum->units) : name;
}

/* Circuits of cooking appliances whose switch has a socket. */
static double cooker_sockets(const struct demand_work *work, int kind)
{
    double count = 0;
    for (size_t i = 0; kind == LOAD_COOKING && i < work->branch_count; i++) {
        const struct branch *branch = &work->house->branches[work->branches[i]];
        bool cooks = false;
        for (size_t k = 0; branch->cooker_socket > 0 && k < work->item_count && !cooks; k++) {
            cooks = work->items[k].kind == kind && work->items[k].branch == work->branches[i];
        }
        count += cooks;
    }
    return count;
}

static void add_kind(struct demand_work *work, int kind)
{
    struct kind_sum sum = sum_kind(work, kind);
    const struct ref_diversity *row = reference_diversity(work->rules, kind_ids[kind]);
    if (!(sum.all_a > 0) || row == NULL) {
        return;
    }
    const char *how = "";
    double counted_a = isfinite(row->first_a) ? by_first_a(work, row, &sum, &how) : by_rank(work, row, &sum, &how);
    const double plus_a = row->plus_a * cooker_sockets(work, kind);
    if (plus_a > 0) {
        how = demand_text(work, "%s, + %s A for the socket on the cooker's switch", how, demand_figure(work, plus_a));
        counted_a += plus_a;
    }
    double factor = counted_a / sum.all_a;
    for (size_t i = 0; i < work->item_count; i++) {
        if (work->items[i].kind == kind && !work->items[i].dropped) {
            demand_item_lines(work, &work->items[i], factor);
        }
    }
    demand_add(work, &work->demand->lines, DEMAND_COUNTED, line_name(work, row, &sum), how,
               sum.all_a * work->house->voltage_v, factor, demand_source(work, "", row->edition, row->source));
}

void demand_diversity(struct demand_work *work)
{
    gather(work);
    for (int kind = 0; kind < DIVERSITY_KIND_COUNT; kind++) {
        add_kind(work, kind);
    }
    demand_note(work, work->house->rules == RULES_NONE || !reference_key_known(work->rules, "cooker_socket")
                          ? "The allowances are for one household."
                          : "The allowances are for one household. A socket on a cooker's switch counts where "
                            "cooker_socket = yes.");
    if (house_rule_set(work->house)->demand_note != NULL) {
        demand_note(work, house_rule_set(work->house)->demand_note);
    }
}

void demand_by_load(struct demand_work *work)
{
    demand_diversity(work);
}
