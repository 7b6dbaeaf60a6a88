/*
 * What the rules make of single loads: cooking on its own branch, motors and cooling, plates of another voltage, loads
 * that are continuous by what they are. Limits 1, 3 and 7 of the contract.
 */
#include "planning.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/reference.h"

const char *load_category(const struct appliance *appliance)
{
    return category_word(appliance->read_category);
}

bool load_is_cooling(const struct appliance *appliance)
{
    return appliance->read_category == CATEGORY_AIR_CONDITIONING || appliance->read_category == CATEGORY_HEAT_PUMP;
}

/* What is planned, in the making. */
struct work {
    const struct house *house;
    const char *rules;
    struct arena *arena;
    double continuous;
    double
        plate_least; /* the branch's voltage over the plate's, between which the plate's own current is planned for */
    double plate_most;
    struct load_plan *loads; /* NULL as long as no load has a plan of its own */
    unsigned char *motors;   /* NULL as long as no branch has motors alone */
    unsigned char *found;    /* by branch: FOUND_ bits */
};

enum { FOUND_FASTENED_MOTOR = 1, FOUND_OTHER = 2, FOUND_COOKING = 4 };

static struct load_plan *plan_of(struct work *work, size_t appliance)
{
    if (work->loads == NULL) {
        work->loads = arena_array(work->arena, work->house->appliance_count, sizeof *work->loads);
        for (size_t i = 0; i < work->house->appliance_count; i++) {
            work->loads[i] = (struct load_plan){.factor = 1};
        }
    }
    return &work->loads[appliance];
}

/* One unit's current at its own voltage. */
static double plate_current_a(const struct house *house, const struct appliance *appliance)
{
    const double plate_v = appliance->plate_v;
    return appliance_line_a(house, appliance, appliance_draw(house, appliance, plate_v).apparent_va, plate_v);
}

bool appliance_is_shower(const struct house *house, size_t index)
{
    const struct appliance *appliance = &house->appliances[index];
    const struct section *section = &sections[KIND_APPLIANCE];
    return !key_is_given(section, section_key(section, "rated_voltage"), appliance) &&
           appliance->rated_voltage_v > house->branches[appliance->branch].voltage_v &&
           !isnan(reference_rule_value("shower-voltage", rules_word(house->rules)));
}

/*
 * A motor of the published table plans for the table's current; a plate of nearly the branch's voltage for its own
 * current, if that is more.
 */
static void plan_plate(struct work *work, size_t index)
{
    const struct appliance *appliance = &work->house->appliances[index];
    if (appliance_is_shower(work->house, index)) {
        plan_of(work, index)->least_a = plate_current_a(work->house, appliance);
        return;
    }
    if (isnan(work->plate_least)) {
        return;
    }
    if (appliance->rating == RATING_HORSEPOWER) {
        *plan_of(work, index) = (struct load_plan){.factor = 0, .least_a = appliance->motor_current_a};
        return;
    }
    const double over = work->house->branches[appliance->branch].voltage_v / appliance->rated_voltage_v;
    const bool plate_is_more = appliance->behaviour == BEHAVIOUR_RESISTIVE ? over < 1 : over > 1;
    if (plate_is_more && !exceeds(work->plate_least, over) && !exceeds(over, work->plate_most)) {
        plan_of(work, index)->least_a = plate_current_a(work->house, appliance);
    }
}

static void note_load(struct work *work, size_t index)
{
    const struct appliance *appliance = &work->house->appliances[index];
    if (!appliance_is_load(appliance)) {
        return;
    }
    const bool cooking = load_is_cooking(work->house, appliance);
    const bool motor = appliance->behaviour == BEHAVIOUR_MOTOR || load_is_cooling(appliance);
    work->found[appliance->branch] |= motor && appliance->fixed ? FOUND_FASTENED_MOTOR : FOUND_OTHER;
    work->found[appliance->branch] |= cooking ? FOUND_COOKING : 0;
    if (appliance->read_category == CATEGORY_VEHICLE && work->continuous > 1) {
        plan_of(work, index)->continuous = CONTINUOUS_ALWAYS;
    }
    plan_plate(work, index);
}

static void plan_motors(struct work *work, size_t branch)
{
    if (work->motors == NULL) {
        work->motors = arena_array(work->arena, work->house->branch_count, sizeof *work->motors);
    }
    work->motors[branch] = MOTORS_ALONE;
}

/* ------------------------------------------------------------------ cooking ------------------------------- */

bool load_is_cooking(const struct house *house, const struct appliance *appliance)
{
    const int category = appliance->read_category;
    const bool dedicated = house->branches[appliance->branch].purpose == PURPOSE_DEDICATED;
    return category == CATEGORY_RANGE || (category == CATEGORY_COOKING && (appliance->fixed || dedicated));
}

/* The cooking units of a branch, and what their words call them. */
struct units {
    unsigned count;
    unsigned ranges;
    unsigned cooktops;
    unsigned ovens;
    double plates_va;
};

static void add_unit(const struct house *house, const struct appliance *appliance, double unit_va, struct units *units)
{
    const char *rules = rules_word(house->rules);
    const struct ref_word *word = reference_word(rules, appliance->name, REFERENCE_WORD_THING);
    const char *thing = word == NULL ? "" : word->thing;
    const bool range = strcmp(load_category(appliance), "range") == 0 || strcmp(thing, "range") == 0;
    units->count += appliance->count;
    units->ranges += range ? appliance->count : 0;
    units->cooktops += !range && strcmp(thing, "cooktop") == 0 ? appliance->count : 0;
    units->ovens += !range && strcmp(thing, "oven") == 0 ? appliance->count : 0;
    units->plates_va += appliance->count * unit_va;
}

/* One range; or one cooktop with one or two ovens, as far as words tell. */
static bool is_like_one_range(const struct units *units)
{
    if (units->count == 1) {
        return units->ranges == 1;
    }
    const bool few = units->count >= 2 && units->count <= 3;
    return few && units->ranges == 0 && units->cooktops <= 1 && units->ovens <= 2 && units->ovens < units->count;
}

/* By the table of ranges: the units above the size from which the table is asked. */
static bool cooking_by_table(const struct house *house, size_t branch, struct cooking *ret)
{
    const struct branch *what = &house->branches[branch];
    const char *rules = rules_word(house->rules);
    const double smallest_va = reference_rule_value("range-smallest", rules);
    struct units units = {0};
    for (size_t i = 0; i < what->appliances.count; i++) {
        const struct appliance *appliance = &house->appliances[what->appliances.index[i]];
        const double unit_va = appliance_draw(house, appliance, what->voltage_v).apparent_va;
        if (load_is_cooking(house, appliance) && exceeds(unit_va, smallest_va)) {
            add_unit(house, appliance, unit_va, &units);
        }
    }
    const double demand_va = reference_range_demand_va(rules, units.plates_va);
    if (isnan(demand_va) || units.count == 0 || !is_like_one_range(&units)) {
        return false;
    }
    *ret = (struct cooking){.least_va = smallest_va,
                            .share = demand_va / units.plates_va,
                            .plates_a = draw_current_a(units.plates_va, what->voltage_v, what->poles),
                            .planned_a = draw_current_a(demand_va, what->voltage_v, what->poles),
                            .words_tell = units.count == 1 || units.cooktops + units.ovens == units.count};
    return true;
}

double cooking_allowance_a(const struct house *house, size_t branch, double *ret_plates_a)
{
    const struct branch *what = &house->branches[branch];
    double plates_a = 0;
    for (size_t i = 0; i < what->appliances.count; i++) {
        const struct appliance *appliance = &house->appliances[what->appliances.index[i]];
        plates_a += load_is_cooking(house, appliance) ? appliance->count * plate_current_a(house, appliance) : 0;
    }
    *ret_plates_a = plates_a;
    const bool meant = plates_a > 0 && what->layout != LAYOUT_RING;
    return meant ? reference_cooker_allowance_a(rules_word(house->rules), plates_a, what->cooker_socket != 0) : NAN;
}

static bool cooking_by_allowance(const struct house *house, size_t branch, struct cooking *ret)
{
    double plates_a = 0;
    const double allowance_a = cooking_allowance_a(house, branch, &plates_a);
    if (!(reference_rule_value("cooking-by-allowance", rules_word(house->rules)) > 0) || isnan(allowance_a)) {
        return false;
    }
    *ret = (struct cooking){.by_plate = true,
                            .share = allowance_a / plates_a,
                            .plates_a = plates_a,
                            .planned_a = allowance_a,
                            .words_tell = true};
    return true;
}

static bool holds_cooking(const struct house *house, const struct branch *branch)
{
    for (size_t i = 0; i < branch->appliances.count; i++) {
        if (load_is_cooking(house, &house->appliances[branch->appliances.index[i]])) {
            return true;
        }
    }
    return false;
}

bool branch_cooking(const struct house *house, size_t branch, struct cooking *ret)
{
    return holds_cooking(house, &house->branches[branch]) &&
           (cooking_by_table(house, branch, ret) || cooking_by_allowance(house, branch, ret));
}

static void plan_cooking(struct work *work, size_t branch)
{
    struct cooking cooking;
    if (!branch_cooking(work->house, branch, &cooking)) {
        return;
    }
    const struct branch *what = &work->house->branches[branch];
    for (size_t i = 0; i < what->appliances.count; i++) {
        const size_t index = what->appliances.index[i];
        const struct appliance *appliance = &work->house->appliances[index];
        const double unit_va = appliance_draw(work->house, appliance, what->voltage_v).apparent_va;
        if (!load_is_cooking(work->house, appliance) || (!cooking.by_plate && !exceeds(unit_va, cooking.least_va))) {
            continue;
        }
        struct load_plan *plan = plan_of(work, index);
        *plan = (struct load_plan){.factor = cooking.share, .continuous = CONTINUOUS_NEVER};
        if (cooking.by_plate) {
            plan->factor = 0;
            plan->least_a = cooking.share * plate_current_a(work->house, appliance);
        }
    }
}

/* ------------------------------------------------------------------ all of a house ------------------------ */

struct planning_factors rules_factors(const struct house *house, struct arena *arena)
{
    const char *rules = rules_word(house->rules);
    struct planning_factors factors = {
        .continuous = reference_rule_value("continuous-factor", rules),
        .largest_motor = reference_rule_value("largest-motor-factor", rules),
    };
    struct work work = {.house = house,
                        .rules = rules,
                        .arena = arena,
                        .continuous = factors.continuous,
                        .plate_least = reference_rule_value("plate-voltage-least", rules),
                        .plate_most = reference_rule_value("plate-voltage-most", rules),
                        .found = memory_resize(NULL, house->branch_count, sizeof *work.found)};
    memset(work.found, 0, house->branch_count);
    for (size_t i = 0; i < house->appliance_count; i++) {
        note_load(&work, i);
    }
    for (size_t i = 0; i < house->branch_count; i++) {
        if (work.found[i] == FOUND_FASTENED_MOTOR && factors.largest_motor > 1) {
            plan_motors(&work, i);
        }
        if ((work.found[i] & FOUND_COOKING) != 0) {
            plan_cooking(&work, i);
        }
    }
    free(work.found);
    factors.loads = work.loads;
    factors.motors = work.motors;
    return factors;
}
