/* What follows from what was given: defaults, voltages, ratings, the lists of each branch and tariff, the groups. */
#include <math.h>
#include <stddef.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/keys.h"
#include "ampsum/model.h"
#include "ampsum/reference.h"
#include "choices.h"
#include "finish_parts.h"

/* Contract, house-file.md, [house]. */
enum { BILLING_DAYS_USUAL = 30, AMBIENT_USUAL_C = 30 };

/* Looked up once for all appliances. */
struct usual {
    double motor_power_factor;
    double start_factor;
    double continuous_s;
    uint64_t behaviour_bit;
    uint64_t continuous_bit;
    uint64_t category_bit;
    double shower_w; /* from this power on a fixed water heater's plate is for shower_v; NAN: not under these rules */
    double shower_v;
    bool knows_connection;
};

static void finish_service(struct house *house);

static void finish_supply(struct house *house);
static void finish_panels(struct house *house);
static void finish_names(struct house *house);
static void finish_branches(struct house *house);
static void finish_appliances(struct house *house, size_t *ret_grouped);
static void finish_lists(struct house *house);
static void finish_groups(struct house *house, size_t member_count);

void house_finish(struct house *house)
{
    finish_supply(house);
    finish_service(house);
    finish_panels(house);
    finish_names(house);
    finish_rooms(house);
    finish_branches(house);
    size_t grouped_count = 0;
    finish_appliances(house, &grouped_count);
    finish_lists(house);
    finish_outlets(house);
    finish_neutrals(house);
    finish_groups(house, grouped_count);
}

static bool is_given(enum kind kind, const char *name, const void *row)
{
    return key_is_given(&sections[kind], section_key(&sections[kind], name), row);
}

static uint64_t given_bit(enum kind kind, const char *name)
{
    return key_bit(&sections[kind], section_key(&sections[kind], name));
}

/* What a key of choices is where it is not given. */
static int usual_choice(const struct house *house, enum kind kind, const char *name)
{
    return key_usual_choice(section_key(&sections[kind], name), house->rules);
}

/* A choice as given, else as the rule set takes it, else `otherwise`. */
static int choice_or_usual(const struct house *house, enum kind kind, const char *name, const void *row, int value,
                           int otherwise)
{
    if (is_given(kind, name, row)) {
        return value;
    }
    int usual = usual_choice(house, kind, name);
    return usual >= 0 ? usual : otherwise;
}

static void finish_supply(struct house *house)
{
    const struct ref_rule_set *set = reference_rule_set_at(house->rules);
    if (!is_given(KIND_HOUSE, "system", house)) {
        house->system = usual_choice(house, KIND_HOUSE, "system");
    }
    if (isnan(house->voltage_v)) {
        house->voltage_v = reference_usual_voltage_v(rules_word(house->rules), system_word(house->system));
    }
    if (house->frequency_hz == 0) {
        house->frequency_hz = set->frequency_hz;
    }
    if (house->currency == NULL) {
        house->currency = set->currency;
    }
    if (house->tariff == NO_INDEX && house->tariff_count == 1) {
        house->tariff = 0;
    }
    if (house->billing_days == 0) {
        house->billing_days = BILLING_DAYS_USUAL;
    }
    if (isnan(house->ambient_c)) {
        house->ambient_c = AMBIENT_USUAL_C;
    }
    const char *rules = rules_word(house->rules);
    house->ground_c = isnan(house->ground_c) ? reference_rule_value("usual-ground", rules) : house->ground_c;
    house->soil_km_per_w =
        isnan(house->soil_km_per_w) ? reference_rule_value("usual-soil", rules) : house->soil_km_per_w;
    house->code_edition = choice_or_usual(house, KIND_HOUSE, "code_edition", house, house->code_edition, 0);
    house->earthing = choice_or_usual(house, KIND_HOUSE, "earthing", house, house->earthing, EARTHING_NOT_SAID);
}

/* The smaller of two, of which either may be missing. */
static double smaller(double a, double b)
{
    return isnan(a) || b < a ? b : a;
}

/* What the service is held against, and the device of the main panel. */
static void finish_service(struct house *house)
{
    double fuse_a = house->supply_fuse_a > 0 ? house->supply_fuse_a : (double)NAN;
    double device_a = smaller(house->main_breaker_a, fuse_a);
    house->service_from = fuse_a <= device_a ? SERVICE_FROM_SUPPLY_FUSE : SERVICE_FROM_MAIN_BREAKER;
    if (isnan(device_a)) {
        device_a = reference_rule_value("supply-fuse-unknown", rules_word(house->rules));
        house->service_from = SERVICE_ASSUMED;
    }
    bool rated = !isnan(house->service_rating_a);
    house->service_a = rated ? house->service_rating_a : device_a;
    house->service_from = rated ? (int)SERVICE_FROM_RATING : house->service_from;
    house->panels[0].breaker_a = device_a;
}

/* Legs of a circuit that names none: on a single-phase system the only one; elsewhere they are required. */
static unsigned usual_legs(const struct house *house)
{
    return house->system == SYSTEM_SINGLE_PHASE ? LEG_A : 0;
}

/* How the wire of a branch or feeder lies, where that was not said. Looked up once for all of a kind. */
struct usual_lay {
    uint64_t terminals_bit;
    uint64_t insulation_bit;
    int terminals_c;
    int insulation;
};

static struct usual_lay usual_lay(const struct house *house, enum kind kind)
{
    int terminals_c = usual_choice(house, kind, "terminals");
    int insulation = usual_choice(house, kind, "insulation");
    return (struct usual_lay){.terminals_bit = given_bit(kind, "terminals"),
                              .insulation_bit = given_bit(kind, "insulation"),
                              .terminals_c = terminals_c > 0 ? terminals_c : 0,
                              .insulation = insulation > 0 ? insulation : (int)INSULATION_PVC};
}

static void finish_panel_lay(const struct house *house, const struct usual_lay *usual, struct panel *panel)
{
    panel->terminals_c = (panel->given & usual->terminals_bit) != 0 ? panel->terminals_c : usual->terminals_c;
    panel->insulation = (panel->given & usual->insulation_bit) != 0 ? panel->insulation : usual->insulation;
    panel->ambient_c = isnan(panel->ambient_c) ? house->ambient_c : panel->ambient_c;
    panel->grouped = panel->grouped == 0 ? 1 : panel->grouped;
    panel->in_insulation_m = isnan(panel->in_insulation_m) ? 0 : panel->in_insulation_m;
}

static void finish_branch_lay(const struct house *house, const struct usual_lay *usual, struct branch *branch)
{
    branch->terminals_c = (branch->given & usual->terminals_bit) != 0 ? branch->terminals_c : usual->terminals_c;
    branch->insulation = (branch->given & usual->insulation_bit) != 0 ? branch->insulation : usual->insulation;
    branch->ambient_c = isnan(branch->ambient_c) ? house->ambient_c : branch->ambient_c;
    branch->grouped = branch->grouped == 0 ? 1 : branch->grouped;
    branch->in_insulation_m = isnan(branch->in_insulation_m) ? 0 : branch->in_insulation_m;
}

static void finish_panels(struct house *house)
{
    struct usual_lay lay = usual_lay(house, KIND_PANEL);
    uint64_t method_bit = given_bit(KIND_PANEL, "method");
    int usual_method = usual_choice(house, KIND_PANEL, "method");
    struct panel *main_panel = &house->panels[0];
    main_panel->legs = house_system_legs(house);
    main_panel->poles = house->system == SYSTEM_THREE_PHASE ? 3 : house->system == SYSTEM_SPLIT_PHASE ? 2 : 1;
    for (size_t i = 0; i < house->panel_count; i++) {
        struct panel *panel = &house->panels[i];
        panel->name = panel->name != NULL ? panel->name : panel->id;
        panel->from = i > 0 && panel->from == NO_INDEX ? 0 : panel->from;
        panel->poles = panel->poles == 0 ? 1 : panel->poles;
        panel->legs = panel->legs == 0 ? usual_legs(house) : panel->legs;
        panel->method = (panel->given & method_bit) != 0 ? panel->method : usual_method;
        panel->voltage_v = house_circuit_voltage_v(house, panel->poles);
        finish_panel_lay(house, &lay, panel);
    }
}

static void finish_names(struct house *house)
{
    for (size_t i = 0; i < house->room_count; i++) {
        house->rooms[i].name = house->rooms[i].name != NULL ? house->rooms[i].name : house->rooms[i].id;
    }
    for (size_t i = 0; i < house->outlet_count; i++) {
        house->outlets[i].name = house->outlets[i].name != NULL ? house->outlets[i].name : house->outlets[i].id;
    }
    for (size_t i = 0; i < house->scene_count; i++) {
        house->scenes[i].name = house->scenes[i].name != NULL ? house->scenes[i].name : house->scenes[i].id;
    }
    for (size_t i = 0; i < house->tariff_count; i++) {
        house->tariffs[i].name = house->tariffs[i].name != NULL ? house->tariffs[i].name : house->tariffs[i].id;
    }
    struct window *all_day = arena_take(house->arena, sizeof *all_day);
    *all_day = (struct window){0, MINUTES_IN_DAY};
    for (size_t i = 0; i < house->period_count; i++) {
        struct period *period = &house->periods[i];
        period->hours = period->hours.count > 0 ? period->hours : (struct window_list){all_day, 1};
        period->days = period->days != 0 ? period->days : DAYS_ALL;
        period->months = period->months != 0 ? period->months : MONTHS_ALL;
    }
}

/* Residual current protection: said, or of the usual kind where `protection` names one. */
static void finish_residual(bool known, struct branch *branch)
{
    enum { USUAL_MA = 30 }; /* contract, fault.md, section 2 */
    bool has = known && (branch->protection & PROTECTION_RCD) != 0;
    branch->rcd_ma = branch->rcd_ma == 0 && (has || branch->rcd_type != RCD_NONE) ? USUAL_MA : branch->rcd_ma;
    branch->rcd_type = branch->rcd_type == RCD_NONE && branch->rcd_ma > 0 ? (int)RCD_GENERAL : branch->rcd_type;
    branch->measured_at_c = isnan(branch->measured_at_c) ? MEASURED_AT_USUAL_C : branch->measured_at_c;
    branch->third_harmonic_percent = isnan(branch->third_harmonic_percent) ? 0 : branch->third_harmonic_percent;
}

static void finish_branches(struct house *house)
{
    struct usual_lay lay = usual_lay(house, KIND_BRANCH);
    bool knows_rcd = reference_key_known(rules_word(house->rules), "rcd_ma");
    uint64_t tied_bit = given_bit(KIND_BRANCH, "tied");
    uint64_t trip_bit = given_bit(KIND_BRANCH, "trip");
    uint64_t method_bit = given_bit(KIND_BRANCH, "method");
    int usual_trip = usual_choice(house, KIND_BRANCH, "trip");
    int usual_method = usual_choice(house, KIND_BRANCH, "method");
    for (size_t i = 0; i < house->branch_count; i++) {
        struct branch *branch = &house->branches[i];
        branch->panel = branch->panel == NO_INDEX ? 0 : branch->panel;
        branch->poles = branch->poles == 0 ? 1 : branch->poles;
        branch->legs = branch->legs == 0 ? usual_legs(house) : branch->legs;
        if ((branch->given & trip_bit) == 0) {
            branch->trip = usual_trip;
        }
        branch->method = (branch->given & method_bit) != 0 ? branch->method : usual_method;
        branch->voltage_v = house_circuit_voltage_v(house, branch->poles);
        branch->tied = (branch->given & tied_bit) != 0 ? branch->tied : (int)TIED_NOT_SAID;
        finish_branch_lay(house, &lay, branch);
        finish_residual(knows_rcd, branch);
    }
}

static int window_minutes(const struct window *window)
{
    int minutes = window->end_min - window->start_min;
    return minutes > 0 ? minutes : minutes + MINUTES_IN_DAY;
}

static int rating_of(const struct appliance *appliance)
{
    return !isnan(appliance->power_w)          ? RATING_POWER
           : !isnan(appliance->apparent_va)    ? RATING_APPARENT
           : !isnan(appliance->current_a)      ? RATING_CURRENT
           : !isnan(appliance->resistance_ohm) ? RATING_RESISTANCE
                                               : RATING_HORSEPOWER;
}

static void finish_place(const struct house *house, struct appliance *appliance)
{
    if (appliance->outlet == NO_INDEX) {
        return;
    }
    const struct outlet *outlet = &house->outlets[appliance->outlet];
    appliance->branch = outlet->branch != NO_INDEX ? outlet->branch : appliance->branch;
    appliance->room = outlet->room != NO_INDEX ? outlet->room : appliance->room;
}

/* The category that its key gives, else what the words of its name say. */
static int read_category(const char *rules, const struct appliance *appliance)
{
    if (appliance->category != CATEGORY_OTHER || !appliance->name_tells) {
        return appliance->category;
    }
    const struct ref_word *word = reference_word(rules, appliance->name, REFERENCE_WORD_CATEGORY);
    return word == NULL ? (int)CATEGORY_OTHER : choice_value(category_choices, word->category, CATEGORY_OTHER);
}

/* Cooking between two lines of a three-phase house is two halves to the neutral where nothing else is said: limits 11.
 */
static int connected_as(const struct house *house, const struct usual *usual, const struct appliance *appliance)
{
    if (!usual->knows_connection || house->system != SYSTEM_THREE_PHASE || appliance->branch == NO_INDEX ||
        appliance->connection != CONNECTION_NOT_SAID) {
        return appliance->connection;
    }
    const bool cooks = appliance->read_category == CATEGORY_COOKING || appliance->read_category == CATEGORY_RANGE;
    return cooks && house->branches[appliance->branch].poles == 2 ? CONNECTION_2L_N : CONNECTION_NOT_SAID;
}

/* A plate of what is connected to the neutral may name either voltage. */
static double plate_v(const struct house *house, const struct appliance *appliance)
{
    const double rated_v = appliance->rated_voltage_v;
    const bool star = appliance->connected == CONNECTION_2L_N || appliance->connected == CONNECTION_3L_N;
    if (!star || appliance->branch == NO_INDEX) {
        return rated_v;
    }
    const double between_v = house->branches[appliance->branch].voltage_v;
    const bool to_neutral = fabs(rated_v - house->voltage_v) < fabs(rated_v - between_v);
    return to_neutral ? rated_v * between_v / house->voltage_v : rated_v;
}

/* A fixed water heater, by its key or by words that say one without a store, whose plate is for another voltage. */
static bool is_shower(const struct house *house, const struct usual *usual, const struct appliance *appliance)
{
    if (appliance->fixed == 0 || !(appliance->power_w >= usual->shower_w) ||
        house->branches[appliance->branch].poles != 1) {
        return false;
    }
    if (appliance->category != CATEGORY_OTHER || appliance->name == NULL) {
        return appliance->category == CATEGORY_WATER_HEATING;
    }
    const struct ref_word *word = reference_word(rules_word(house->rules), appliance->name, REFERENCE_WORD_THING);
    return word != NULL && strcmp(word->thing, "instant-heater") == 0;
}

static void finish_rating(const struct house *house, const struct usual *usual, struct appliance *appliance)
{
    appliance->rating = rating_of(appliance);
    if ((appliance->given & usual->behaviour_bit) == 0) {
        appliance->behaviour = appliance->rating == RATING_HORSEPOWER ? BEHAVIOUR_MOTOR : BEHAVIOUR_RESISTIVE;
    }
    if (isnan(appliance->rated_voltage_v) && appliance->branch != NO_INDEX) {
        const double branch_v = house->branches[appliance->branch].voltage_v;
        appliance->rated_voltage_v = is_shower(house, usual, appliance) ? usual->shower_v : branch_v;
    }
    appliance->connected = connected_as(house, usual, appliance);
    appliance->plate_v = plate_v(house, appliance);
    if (isnan(appliance->power_factor)) {
        bool motor = appliance->behaviour == BEHAVIOUR_MOTOR && appliance->rating != RATING_RESISTANCE;
        appliance->power_factor = motor ? usual->motor_power_factor : 1;
    }
    appliance->start_factor = isnan(appliance->start_factor) ? usual->start_factor : appliance->start_factor;
    appliance->motor_current_a = NAN;
    if (appliance->rating == RATING_HORSEPOWER && isfinite(appliance->horsepower_hp)) {
        appliance->motor_current_a = reference_motor_current_a(rules_word(house->rules), appliance->horsepower_hp,
                                                               appliance->rated_voltage_v, NULL);
    }
}

double appliance_energy_time_s(const struct appliance *appliance)
{
    return appliance->typical_time_s > 0 ? appliance->typical_time_s : appliance->on_time_s;
}

static void finish_time(const struct usual *usual, struct appliance *appliance)
{
    int sum_min = 0;
    int longest_min = 0;
    for (size_t i = 0; i < appliance->use.count; i++) {
        int minutes = window_minutes(&appliance->use.window[i]);
        sum_min += minutes;
        longest_min = minutes > longest_min ? minutes : longest_min;
    }
    const bool lacks_hours = isnan(appliance->on_time_s);
    appliance->on_time_s = lacks_hours ? 60.0 * sum_min : appliance->on_time_s;
    appliance->typical_hours_s = isnan(appliance->typical_hours_s) ? 0 : appliance->typical_hours_s;
    const double most_s = appliance->use.count > 0 ? 60.0 * sum_min : appliance->typical_hours_s;
    appliance->typical_time_s = lacks_hours ? fmin(appliance->typical_hours_s, most_s) : 0;
    appliance->days = appliance->days != 0 ? appliance->days : DAYS_ALL;
    appliance->months = appliance->months != 0 ? appliance->months : MONTHS_ALL;
    appliance->count = appliance->count != 0 ? appliance->count : 1;
    appliance->duty_percent = isnan(appliance->duty_percent) ? 100 : appliance->duty_percent;
    appliance->standby_w = isnan(appliance->standby_w) ? 0 : appliance->standby_w;
    if ((appliance->given & usual->continuous_bit) == 0) {
        double stretch_s = appliance->use.count > 0 ? 60.0 * longest_min : appliance->on_time_s;
        appliance->continuous = stretch_s >= usual->continuous_s || appliance->category == CATEGORY_VEHICLE;
    }
}

/* Counts those with a group on the way. */
static void finish_appliances(struct house *house, size_t *ret_grouped)
{
    *ret_grouped = 0;
    const char *rules = rules_word(house->rules);
    const struct usual usual = {
        .motor_power_factor = reference_rule_value("motor-power-factor", rules),
        .start_factor = reference_rule_value("motor-start-factor", rules),
        .continuous_s = reference_rule_value("continuous-hours", rules) * 3600,
        .behaviour_bit = given_bit(KIND_APPLIANCE, "behaviour"),
        .continuous_bit = given_bit(KIND_APPLIANCE, "continuous"),
        .category_bit = given_bit(KIND_APPLIANCE, "category"),
        .shower_w = reference_rule_value("shower-power", rules),
        .shower_v = reference_rule_value("shower-voltage", rules),
        .knows_connection = reference_key_known(rules, "connection"),
    };
    for (size_t i = 0; i < house->appliance_count; i++) {
        struct appliance *appliance = &house->appliances[i];
        finish_place(house, appliance);
        appliance->category = (appliance->given & usual.category_bit) != 0 ? appliance->category : (int)CATEGORY_OTHER;
        appliance->name_tells = appliance->name != NULL && reference_word_any(appliance->name);
        appliance->read_category = read_category(rules, appliance);
        finish_rating(house, &usual, appliance);
        finish_time(&usual, appliance);
        appliance->group_index = NO_INDEX;
        *ret_grouped += appliance->group != NULL;
    }
}

/*
 * Sorts the rows of `count` things by the owner that each names (NO_INDEX: none), keeping file order: one counting
 * sort. `owner_of` is the owner's index in row i; owner j's rows become lists[j], all in one array of the arena.
 */
struct sorting {
    const char *rows; /* field that holds the owner, of row 0 */
    size_t row_size;
    size_t count;
    char *lists; /* struct index_list of owner 0 */
    size_t list_step;
    size_t owner_count;
};

static size_t owner_of(const struct sorting *sorting, size_t row)
{
    size_t owner = NO_INDEX;
    memcpy(&owner, sorting->rows + row * sorting->row_size, sizeof owner);
    return owner;
}

static struct index_list *list_of(const struct sorting *sorting, size_t owner)
{
    return (struct index_list *)(void *)(sorting->lists + owner * sorting->list_step);
}

static void sort_rows(struct arena *arena, const struct sorting *sorting)
{
    for (size_t owner = 0; owner < sorting->owner_count; owner++) {
        *list_of(sorting, owner) = (struct index_list){NULL, 0};
    }
    for (size_t row = 0; row < sorting->count; row++) {
        size_t owner = owner_of(sorting, row);
        if (owner != NO_INDEX) {
            list_of(sorting, owner)->count++;
        }
    }
    size_t *next = arena_array(arena, sorting->count, sizeof *next);
    for (size_t owner = 0; owner < sorting->owner_count; owner++) {
        struct index_list *list = list_of(sorting, owner);
        list->index = next;
        next += list->count;
        list->count = 0;
    }
    for (size_t row = 0; row < sorting->count; row++) {
        size_t owner = owner_of(sorting, row);
        if (owner != NO_INDEX) {
            struct index_list *list = list_of(sorting, owner);
            list->index[list->count++] = row;
        }
    }
}

/* The field at `offset` of row 0; a kind without rows has none. */
static char *field_of(void *rows, size_t offset)
{
    return rows == NULL ? NULL : (char *)rows + offset;
}

static void finish_lists(struct house *house)
{
    const struct sorting sortings[] = {
        {field_of(house->outlets, offsetof(struct outlet, branch)), sizeof(struct outlet), house->outlet_count,
         field_of(house->branches, offsetof(struct branch, outlets)), sizeof(struct branch), house->branch_count},
        {field_of(house->appliances, offsetof(struct appliance, branch)), sizeof(struct appliance),
         house->appliance_count, field_of(house->branches, offsetof(struct branch, appliances)), sizeof(struct branch),
         house->branch_count},
        {field_of(house->periods, offsetof(struct period, tariff)), sizeof(struct period), house->period_count,
         field_of(house->tariffs, offsetof(struct tariff, periods)), sizeof(struct tariff), house->tariff_count},
    };
    for (size_t i = 0; i < sizeof sortings / sizeof sortings[0]; i++) {
        if (sortings[i].owner_count > 0) {
            sort_rows(house->arena, &sortings[i]);
        }
    }
}

static size_t hash_string(const char *string)
{
    uint64_t hash = UINT64_C(14695981039346656037); /* FNV-1a */
    for (; *string != '\0'; string++) {
        hash = (hash ^ (unsigned char)*string) * UINT64_C(1099511628211);
    }
    return (size_t)(hash ^ (hash >> 32));
}

/* Slot of the group in the table (power of two), either one of the same name or a free one. */
static size_t group_slot(const struct house *house, const size_t *slots, size_t mask, const char *group)
{
    size_t at = hash_string(group) & mask;
    while (slots[at] != NO_INDEX && strcmp(house->appliances[slots[at]].group, group) != 0) {
        at = (at + 1) & mask;
    }
    return at;
}

static void finish_groups(struct house *house, size_t member_count)
{
    house->group_count = 0;
    size_t capacity = 16;
    while (capacity < 2 * member_count) {
        capacity *= 2;
    }
    size_t *slots = memory_new(capacity * sizeof *slots); /* the first appliance of each group */
    memset(slots, 0xFF, capacity * sizeof *slots);
    for (size_t i = 0; i < house->appliance_count && member_count > 0; i++) {
        struct appliance *appliance = &house->appliances[i];
        if (appliance->group == NULL) {
            continue;
        }
        size_t at = group_slot(house, slots, capacity - 1, appliance->group);
        if (slots[at] == NO_INDEX) {
            slots[at] = i;
            appliance->group_index = house->group_count++;
        } else {
            appliance->group_index = house->appliances[slots[at]].group_index;
        }
    }
    free(slots);
}
