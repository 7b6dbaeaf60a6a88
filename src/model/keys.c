#include "ampsum/keys.h"

#include <string.h>

#include "ampsum/reference.h"
#include "ampsum/values.h"
#include "choices.h"

/* Rows of a table: NAME, COLUMN, TYPE, struct, field, then what differs by name. */
#define ROW(key_name, key_column, key_type_, row, field)                                                               \
    .name = key_name, .column = key_column, .type = key_type_, .offset = offsetof(struct row, field)
#define AMOUNT(key_name, key_column, row, field, dimension_)                                                           \
    ROW(key_name, key_column, KEY_QUANTITY, row, field), .dimension = dimension_
#define CHOICE(key_name, row, field, choices_) ROW(key_name, key_name, KEY_CHOICE, row, field), .choices = choices_

static const struct key house_keys[] = {
    {ROW("name", "name", KEY_TEXT, house, name), .flags = KEY_REQUIRED, .meaning = "what people call it"},
    {CHOICE("rules", house, rules, NULL), .flags = KEY_REQUIRED, /* the words are the IDs of the rule sets */
     .meaning = "which set of published limits applies"},
    {CHOICE("system", house, system, system_choices), .flags = KEY_RULE_WORDS, .meaning = "supply system"},
    {AMOUNT("voltage", "voltage_v", house, voltage_v, DIMENSION_VOLTAGE), .flags = KEY_ABOVE_ZERO,
     .fallback = "{by-voltage}", .meaning = "nominal voltage, line to neutral"},
    {CHOICE("frequency", house, frequency_hz, frequency_choices), .dimension = DIMENSION_FREQUENCY,
     .fallback = "{by-frequency}", .meaning = "frequency"},
    {AMOUNT("main_breaker", "main_breaker_a", house, main_breaker_a, DIMENSION_CURRENT), .flags = KEY_ABOVE_ZERO,
     .meaning = "rating of the service main; required unless supply_fuse is given"},
    {AMOUNT("floor_area", "floor_area_m2", house, floor_area_m2, DIMENSION_FLOOR_AREA), .flags = KEY_ABOVE_ZERO,
     .meaning = "floor area, for the dwelling demand"},
    {ROW("currency", "currency", KEY_CURRENCY, house, currency), .fallback = "{by-currency}",
     .meaning = "ISO 4217 code of the money"},
    {ROW("tariff", "tariff_n", KEY_REFERENCE, house, tariff), .target = KIND_TARIFF, .fallback = "the only one, if one",
     .meaning = "the tariff that prices the energy"},
    {ROW("billing_days", "billing_days", KEY_WHOLE, house, billing_days), .least = 1, .most = 366, .fallback = "30",
     .meaning = "days in a billing month"},
    {AMOUNT("ambient", "ambient_c", house, ambient_c, DIMENSION_TEMPERATURE), .flags = KEY_SIGNED, .least = -273.15,
     .most = VALUE_MOST, .fallback = "30 C", .meaning = "air temperature around the conductors, for their ampacity"},
    {AMOUNT("supply_fuse", "supply_fuse_a", house, supply_fuse_a, DIMENSION_CURRENT),
     .flags = KEY_ABOVE_ZERO | KEY_OR_UNKNOWN,
     .meaning = "rating of the supplier's fuse, or unknown; with main_breaker the smaller counts"},
    {AMOUNT("service_rating", "service_rating_a", house, service_rating_a, DIMENSION_CURRENT), .flags = KEY_ABOVE_ZERO,
     .fallback = "the smaller of main_breaker and supply_fuse",
     .meaning = "lowest rating of main breaker, meter socket, service conductors and supply fuse"},
    {ROW("service_wire", "service_wire", KEY_WIRE, house, service_wire),
     .meaning = "size and metal of the conductors from the street"},
    {AMOUNT("service_run", "service_run_m", house, service_run_m, DIMENSION_LENGTH),
     .meaning = "their length, one way"},
    {CHOICE("generation", house, generation, yesno_choices), .fallback = "no",
     .meaning = "whether solar panels, a battery or peak shaving stand behind the meter"},
    {CHOICE("code_edition", house, code_edition, edition_choices), .flags = KEY_RULE_WORDS,
     .meaning = "edition of the code whose numbers and rules hold"},
    {ROW("built", "built_year", KEY_WHOLE, house, built_year), .least = 1850, .most = 2100,
     .meaning = "year in which the house was built or last rewired"},
    {AMOUNT("ground", "ground_c", house, ground_c, DIMENSION_TEMPERATURE), .flags = KEY_SIGNED, .least = -273.15,
     .most = VALUE_MOST, .fallback = "20 C", .meaning = "temperature of the ground around buried cable"},
    {ROW("soil", "soil_km_per_w", KEY_RATIO, house, soil_km_per_w), .flags = KEY_ABOVE_ZERO, .unit = "K\u00b7m/W",
     .fallback = "2.5", .meaning = "thermal resistivity of the soil around buried cable, a bare number in K m/W"},
    {CHOICE("earthing", house, earthing, earthing_choices), .flags = KEY_RULE_WORDS, .fallback = "not known",
     .meaning = "earthing of the supply"},
    {AMOUNT("ze", "ze_ohm", house, ze_ohm, DIMENSION_RESISTANCE), .flags = KEY_ABOVE_ZERO,
     .meaning = "external earth-fault loop impedance, measured or declared"},
    {AMOUNT("electrode", "electrode_ohm", house, electrode_ohm, DIMENSION_RESISTANCE), .flags = KEY_ABOVE_ZERO,
     .meaning = "resistance of the earth electrode"},
    {AMOUNT("pscc", "pscc_a", house, pscc_a, DIMENSION_CURRENT), .flags = KEY_ABOVE_ZERO,
     .meaning = "prospective short-circuit current at the origin, measured or declared"},
    {AMOUNT("transformer", "transformer_kva", house, transformer_kva, DIMENSION_TRANSFORMER), .flags = KEY_ABOVE_ZERO,
     .meaning = "rating of the supplier's transformer, together with transformer_z"},
    {AMOUNT("transformer_z", "transformer_z_percent", house, transformer_z_percent, DIMENSION_PERCENT), .least = 0.5,
     .most = 20, .meaning = "its impedance, 0.5 to 20 %"},
};

static const struct key panel_keys[] = {
    {ROW("name", "name", KEY_TEXT, panel, name), .flags = KEY_OF_MAIN, .fallback = "the ID",
     .meaning = "what people call it"},
    {ROW("from", "from_n", KEY_REFERENCE, panel, from), .target = KIND_PANEL, .fallback = "main",
     .meaning = "the panel that feeds it"},
    {AMOUNT("breaker", "breaker_a", panel, breaker_a, DIMENSION_CURRENT), .flags = KEY_REQUIRED | KEY_ABOVE_ZERO,
     .meaning = "rating of its feeder's breaker"},
    {CHOICE("poles", panel, poles, poles_choices), .fallback = "1", .meaning = "poles of its feeder"},
    {ROW("legs", "legs", KEY_LEGS, panel, legs), .fallback = "single-phase: A; else required",
     .meaning = "which legs its feeder takes"},
    {ROW("wire", "wire", KEY_WIRE, panel, wire), .meaning = "size and metal of its feeder's conductors"},
    {CHOICE("method", panel, method, method_choices), .flags = KEY_RULE_WORDS,
     .meaning = "installation method, where the ampacity goes by it (D is D1)"},
    {AMOUNT("length", "length_m", panel, length_m, DIMENSION_LENGTH), .meaning = "length of its feeder, one way"},
    {CHOICE("cable", panel, cable, cable_choices), .flags = KEY_RULE_WORDS,
     .fallback = "two readings, one strict, one lenient", .meaning = "kind of cable or wire of its feeder"},
    {ROW("terminals", "terminals_c", KEY_CHOICE, panel, terminals_c), .choices = terminals_choices,
     .flags = KEY_RULE_WORDS, .fallback = "two readings",
     .meaning = "degrees Celsius for which both ends are marked, a bare number"},
    {CHOICE("insulation", panel, insulation, insulation_choices), .flags = KEY_RULE_WORDS,
     .meaning = "insulation of the conductors"},
    {AMOUNT("ambient", "ambient_c", panel, ambient_c, DIMENSION_TEMPERATURE), .flags = KEY_SIGNED, .least = -273.15,
     .most = VALUE_MOST, .fallback = "the house's", .meaning = "air temperature around this run"},
    {ROW("grouped", "grouped", KEY_WHOLE, panel, grouped), .least = 1, .most = 20, .fallback = "1",
     .meaning = "circuits lying together, itself included, 1 to 20"},
    {AMOUNT("in_insulation", "in_insulation_m", panel, in_insulation_m, DIMENSION_LENGTH), .fallback = "0 m",
     .meaning = "length that lies wholly inside thermal insulation"},
    {AMOUNT("breaking", "breaking_a", panel, breaking_a, DIMENSION_CURRENT), .flags = KEY_ABOVE_ZERO | KEY_OF_MAIN,
     .meaning = "interrupting rating of its feeder's device; of the main device for the main panel"},
    {ROW("cpc", "cpc", KEY_PROTECTIVE, panel, cpc), .fallback = "by the table that goes with the cable, else same",
     .meaning = "protective conductor: size and metal (copper where none is named), or same for as large as the wire"},
};

static const struct key room_keys[] = {
    {ROW("name", "name", KEY_TEXT, room, name), .fallback = "the ID", .meaning = "what people call it"},
    {ROW("floor", "floor", KEY_TEXT, room, floor), .meaning = "which floor it is on"},
    {AMOUNT("area", "area_m2", room, area_m2, DIMENSION_FLOOR_AREA), .flags = KEY_ABOVE_ZERO, .meaning = "floor area"},
    {CHOICE("kind", room, kind, room_kind_choices), .fallback = "by the words of ID and name, else other",
     .meaning = "what kind of room it is"},
};

static const struct key branch_keys[] = {
    {ROW("label", "label", KEY_TEXT, branch, label), .flags = KEY_REQUIRED, .meaning = "what the panel's door says"},
    {ROW("panel", "panel_n", KEY_REFERENCE, branch, panel), .target = KIND_PANEL, .fallback = "main",
     .meaning = "the panel it starts from"},
    {ROW("position", "position", KEY_POSITION, branch, position), .meaning = "space or spaces in the panel"},
    {AMOUNT("breaker", "breaker_a", branch, breaker_a, DIMENSION_CURRENT),
     .flags = KEY_REQUIRED | KEY_ABOVE_ZERO | KEY_WITH_TRIP,
     .meaning = "rating of the breaker or fuse; B16 where its letter is a way to trip: rating and trip in one"},
    {CHOICE("trip", branch, trip, trip_choices), .flags = KEY_RULE_WORDS, .meaning = "how it trips"},
    {CHOICE("poles", branch, poles, poles_choices), .fallback = "1", .meaning = "poles of the breaker"},
    {ROW("legs", "legs", KEY_LEGS, branch, legs), .fallback = "single-phase: A; else required",
     .meaning = "which legs it takes"},
    {ROW("wire", "wire", KEY_WIRE, branch, wire), .meaning = "size and metal of the conductors"},
    {CHOICE("method", branch, method, method_choices), .flags = KEY_RULE_WORDS,
     .meaning = "installation method, where the ampacity goes by it (D is D1)"},
    {AMOUNT("length", "length_m", branch, length_m, DIMENSION_LENGTH),
     .meaning = "one-way run from the panel to the far end, where no outlets are given"},
    {CHOICE("layout", branch, layout, layout_choices), .fallback = "radial", .meaning = "radial or ring"},
    {AMOUNT("return", "return_m", branch, return_m, DIMENSION_LENGTH),
     .meaning = "ring only: length of cable from the last outlet back to the panel"},
    {ROW("serves", NULL, KEY_REFERENCE_LIST, branch, serves), .target = KIND_ROOM,
     .fallback = "rooms of its outlets and appliances", .meaning = "rooms it serves"},
    {CHOICE("purpose", branch, purpose, purpose_choices), .fallback = "general", .meaning = "what it is meant for"},
    {ROW("protection", "protection", KEY_PROTECTION, branch, protection), .meaning = "any of gfci, afci, rcd"},
    {CHOICE("cable", branch, cable, cable_choices), .flags = KEY_RULE_WORDS,
     .fallback = "two readings, one strict, one lenient", .meaning = "kind of cable or wire"},
    {ROW("terminals", "terminals_c", KEY_CHOICE, branch, terminals_c), .choices = terminals_choices,
     .flags = KEY_RULE_WORDS, .fallback = "two readings",
     .meaning = "degrees Celsius for which both ends are marked, a bare number"},
    {CHOICE("insulation", branch, insulation, insulation_choices), .flags = KEY_RULE_WORDS,
     .meaning = "insulation of the conductors"},
    {AMOUNT("ambient", "ambient_c", branch, ambient_c, DIMENSION_TEMPERATURE), .flags = KEY_SIGNED, .least = -273.15,
     .most = VALUE_MOST, .fallback = "the house's", .meaning = "air temperature around this run"},
    {ROW("grouped", "grouped", KEY_WHOLE, branch, grouped), .least = 1, .most = 20, .fallback = "1",
     .meaning = "circuits lying together, itself included, 1 to 20"},
    {AMOUNT("in_insulation", "in_insulation_m", branch, in_insulation_m, DIMENSION_LENGTH), .fallback = "0 m",
     .meaning = "length that lies wholly inside thermal insulation"},
    {ROW("shared_neutral", "shared_neutral_n", KEY_REFERENCE, branch, shared_neutral), .target = KIND_BRANCH,
     .fallback = "a neutral of its own",
     .meaning = "another branch with which it shares one neutral; either names the other"},
    {CHOICE("tied", branch, tied, yesno_choices), .fallback = "not known",
     .meaning = "whether the handles of the breakers of a shared neutral are tied, or are one breaker"},
    {AMOUNT("third_harmonic", "third_harmonic_percent", branch, third_harmonic_percent, DIMENSION_PERCENT), .most = 100,
     .fallback = "0 %", .meaning = "3 poles: share of the third harmonic in the line current"},
    {CHOICE("cooker_socket", branch, cooker_socket, yesno_choices), .fallback = "no",
     .meaning = "whether the cooker's switch has a socket in it"},
    {AMOUNT("breaking", "breaking_a", branch, breaking_a, DIMENSION_CURRENT), .flags = KEY_ABOVE_ZERO,
     .meaning = "interrupting rating of its breaker or fuse, not below its rating"},
    {ROW("cpc", "cpc", KEY_PROTECTIVE, branch, cpc), .fallback = "by the table that goes with the cable, else same",
     .meaning = "protective conductor: size and metal (copper where none is named), or same for as large as the wire"},
    {CHOICE("rcd_ma", branch, rcd_ma, rcd_ma_choices), .flags = KEY_RULE_WORDS,
     .fallback = "30 where protection names rcd", .meaning = "rated residual current, mA, a bare number"},
    {CHOICE("rcd_type", branch, rcd_type, rcd_type_choices), .flags = KEY_RULE_WORDS,
     .fallback = "general where there is one", .meaning = "general, or selective (with a time delay)"},
    {AMOUNT("instantaneous", "instantaneous_a", branch, instantaneous_a, DIMENSION_CURRENT), .flags = KEY_ABOVE_ZERO,
     .meaning = "current of the maker's magnetic trip of this breaker"},
    {AMOUNT("zs_measured", "zs_measured_ohm", branch, zs_measured_ohm, DIMENSION_RESISTANCE), .flags = KEY_ABOVE_ZERO,
     .meaning = "earth-fault loop impedance read at the far end"},
    {AMOUNT("measured_at", "measured_at_c", branch, measured_at_c, DIMENSION_TEMPERATURE), .flags = KEY_SIGNED,
     .least = -273.15, .most = VALUE_MOST, .fallback = "20 C",
     .meaning = "temperature of the conductors at that reading"},
};

static const struct key outlet_keys[] = {
    {ROW("branch", "branch_n", KEY_REFERENCE, outlet, branch), .target = KIND_BRANCH, .flags = KEY_REQUIRED,
     .meaning = "the branch it is on"},
    {ROW("room", "room_n", KEY_REFERENCE, outlet, room), .target = KIND_ROOM, .meaning = "the room it is in"},
    {ROW("name", "name", KEY_TEXT, outlet, name), .fallback = "the ID", .meaning = "what people call it"},
    {ROW("from", "from_n", KEY_REFERENCE, outlet, from), .target = KIND_OUTLET, .flags = KEY_OR_PANEL,
     .fallback = "panel", .meaning = "where its cable comes from: another outlet of the branch, or panel"},
    {AMOUNT("run", "run_m", outlet, run_m, DIMENSION_LENGTH), .meaning = "length of cable from there, one way"},
    {AMOUNT("rating", "rating_a", outlet, rating_a, DIMENSION_CURRENT), .flags = KEY_ABOVE_ZERO,
     .meaning = "rating of the outlet"},
    {ROW("contacts", "contacts", KEY_WHOLE, outlet, contacts), .least = 1, .most = 2, .fallback = "{by-contacts}",
     .meaning = "places for plugs, 1 or 2"},
    {CHOICE("spur", outlet, spur, yesno_choices), .fallback = "no",
     .meaning = "yes where it is no part of its ring's chain"},
    {AMOUNT("fuse", "fuse_a", outlet, fuse_a, DIMENSION_CURRENT), .least = 1, .most = 13,
     .meaning = "fuse of a fused connection unit here, itself a spur, 1 to 13 A"},
    {AMOUNT("zs_measured", "zs_measured_ohm", outlet, zs_measured_ohm, DIMENSION_RESISTANCE), .flags = KEY_ABOVE_ZERO,
     .meaning = "earth-fault loop impedance read here"},
    {AMOUNT("measured_at", "measured_at_c", outlet, measured_at_c, DIMENSION_TEMPERATURE), .flags = KEY_SIGNED,
     .least = -273.15, .most = VALUE_MOST, .fallback = "20 C",
     .meaning = "temperature of the conductors at that reading"},
};

static const struct key appliance_keys[] = {
    {ROW("name", "name", KEY_TEXT, appliance, name), .flags = KEY_REQUIRED, .meaning = "what people call it"},
    {ROW("outlet", "outlet_n", KEY_REFERENCE, appliance, outlet), .target = KIND_OUTLET,
     .meaning = "the outlet it is on; implies branch and room"},
    {ROW("branch", "branch_n", KEY_REFERENCE, appliance, branch), .target = KIND_BRANCH,
     .meaning = "the branch it is on, where no outlet is named"},
    {ROW("room", "room_n", KEY_REFERENCE, appliance, room), .target = KIND_ROOM, .meaning = "the room it is in"},
    {AMOUNT("power", "power_w", appliance, power_w, DIMENSION_POWER), .flags = KEY_ABOVE_ZERO,
     .meaning = "rating: power (exactly one rating is given)"},
    {AMOUNT("apparent", "apparent_va", appliance, apparent_va, DIMENSION_APPARENT), .flags = KEY_ABOVE_ZERO,
     .meaning = "rating: apparent power"},
    {AMOUNT("current", "current_a", appliance, current_a, DIMENSION_CURRENT), .flags = KEY_ABOVE_ZERO,
     .meaning = "rating: current"},
    {AMOUNT("resistance", "resistance_ohm", appliance, resistance_ohm, DIMENSION_RESISTANCE), .flags = KEY_ABOVE_ZERO,
     .meaning = "rating: resistance"},
    {ROW("horsepower", "horsepower_hp", KEY_HORSEPOWER, appliance, horsepower_hp), .flags = KEY_ABOVE_ZERO,
     .meaning = "rating: a size in the motor table"},
    {AMOUNT("rated_voltage", "rated_voltage_v", appliance, rated_voltage_v, DIMENSION_VOLTAGE), .flags = KEY_ABOVE_ZERO,
     .fallback = "the branch's nominal", .meaning = "voltage for which the rating is stated"},
    {ROW("power_factor", "power_factor", KEY_RATIO, appliance, power_factor), .flags = KEY_ABOVE_ZERO, .most = 1,
     .fallback = "1; motor 0.8 (common practice)", .meaning = "power factor, lagging, above 0 to 1"},
    {CHOICE("behaviour", appliance, behaviour, behaviour_choices), .fallback = "resistive; motor with horsepower",
     .meaning = "resistive (constant impedance), electronic (constant power), motor"},
    {ROW("start_factor", "start_factor", KEY_RATIO, appliance, start_factor), .least = 1, .most = VALUE_MOST,
     .fallback = "6 (common practice)", .meaning = "starting current over running current, for motors"},
    {ROW("count", "count", KEY_WHOLE, appliance, count), .least = 1, .most = 10000, .fallback = "1",
     .meaning = "how many alike, 1 to 10000"},
    {CHOICE("fixed", appliance, fixed, yesno_choices), .fallback = "no", .meaning = "fastened in place or hard-wired"},
    {CHOICE("continuous", appliance, continuous, yesno_choices),
     .fallback =
         "yes for a vehicle, and if one use window, or hours without windows, is {continuous-hours} h or more; else no",
     .meaning = "may run {continuous-hours} h or more at a stretch"},
    {ROW("use", "use", KEY_WINDOWS, appliance, use), .fallback = "may be on at any moment of its days and months",
     .meaning = "daily windows, 06:30-07:10, 17:00-22:30"},
    {AMOUNT("hours", "hours_s", appliance, on_time_s, DIMENSION_TIME), .most = 86400,
     .fallback = "sum of the windows; else 0", .meaning = "on-time on a day, where it is not all of its windows"},
    {AMOUNT("typical_hours", "typical_hours_s", appliance, typical_hours_s, DIMENSION_TIME), .most = 86400,
     .fallback = "none", .meaning = "on-time on a day as is typical of such a thing: for its energy alone, where hours is not given"},
    {ROW("days", "days", KEY_DAYS, appliance, days), .fallback = "all", .meaning = "days of the week"},
    {ROW("months", "months", KEY_MONTHS, appliance, months), .fallback = "all", .meaning = "months of the year"},
    {AMOUNT("duty", "duty_percent", appliance, duty_percent, DIMENSION_PERCENT), .most = 100, .fallback = "100 %",
     .meaning = "share of its on-time that it really draws"},
    {AMOUNT("standby", "standby_w", appliance, standby_w, DIMENSION_POWER), .fallback = "0 W",
     .meaning = "drawn by each unit whenever it is not on; energy only"},
    {ROW("group", "group_name", KEY_TEXT, appliance, group), .meaning = "set of which only one is ever on at once"},
    {CHOICE("category", appliance, category, category_choices), .fallback = "other", .meaning = "kind of load"},
    {CHOICE("rating_from", appliance, rating_from, rating_from_choices), .fallback = "not said",
     .meaning = "where its rating was taken from: its plate, a typical value, a guess"},
    {AMOUNT("minimum_ampacity", "minimum_ampacity_a", appliance, minimum_ampacity_a, DIMENSION_CURRENT),
     .flags = KEY_ABOVE_ZERO, .meaning = "minimum circuit ampacity on the plate of one unit"},
    {AMOUNT("maximum_breaker", "maximum_breaker_a", appliance, maximum_breaker_a, DIMENSION_CURRENT),
     .flags = KEY_ABOVE_ZERO, .meaning = "maximum overcurrent device on the plate of one unit"},
    {CHOICE("connection", appliance, connection, connection_choices), .flags = KEY_RULE_WORDS,
     .fallback = "by its kind", .meaning = "on three phases: line-line; 2L+N on 2 poles; 3L+N on 3 poles"},
    {CHOICE("control", appliance, control, control_choices), .fallback = "none",
     .meaning = "how it gives way when the house is busy: not at all, by a setpoint, by switching off"},
};

static const struct key scene_keys[] = {
    {ROW("name", "name", KEY_TEXT, scene, name), .fallback = "the ID", .meaning = "what people call it"},
    {ROW("on", NULL, KEY_SCENE, scene, on), .flags = KEY_REQUIRED,
     .meaning = "appliances that are on; kettle*2 for two of a count"},
};

static const struct key tariff_keys[] = {
    {ROW("name", "name", KEY_TEXT, tariff, name), .fallback = "the ID", .meaning = "what people call it"},
    {ROW("price", "price", KEY_DECIMAL, tariff, price), .meaning = "money per kWh where no period or block applies"},
    {ROW("standing", "standing", KEY_DECIMAL, tariff, standing), .fallback = "0", .meaning = "money per day"},
    {ROW("tax", "tax_percent", KEY_DECIMAL, tariff, tax_percent), .dimension = DIMENSION_PERCENT, .fallback = "0 %",
     .meaning = "tax on energy and standing charge"},
    {ROW("blocks", "blocks", KEY_BLOCKS, tariff, blocks),
     .meaning = "upper bound in kWh per billing month and price, 350: 0.14, rest: 0.24"},
};

static const struct key period_keys[] = {
    {ROW("tariff", "tariff_n", KEY_REFERENCE, period, tariff), .target = KIND_TARIFF, .flags = KEY_REQUIRED,
     .meaning = "the tariff it belongs to"},
    {ROW("price", "price", KEY_DECIMAL, period, price), .flags = KEY_REQUIRED, .meaning = "money per kWh"},
    {ROW("hours", "hours", KEY_WINDOWS, period, hours), .fallback = "all day", .meaning = "daily windows"},
    {ROW("days", "days", KEY_DAYS, period, days), .fallback = "all", .meaning = "days of the week"},
    {ROW("months", "months", KEY_MONTHS, period, months), .fallback = "all", .meaning = "months of the year"},
};

#define KEYS(table) .keys = (table), .key_count = sizeof(table) / sizeof(table)[0]

const struct section sections[KIND_COUNT] = {
    [KIND_HOUSE] = {KIND_HOUSE, "house", "the supply and what applies to all of it", false, KEYS(house_keys)},
    [KIND_PANEL] = {KIND_PANEL, "panel", "a sub-panel and its feeder", true, KEYS(panel_keys)},
    [KIND_ROOM] = {KIND_ROOM, "room", "a room", true, KEYS(room_keys)},
    [KIND_BRANCH] = {KIND_BRANCH, "branch", "one branch circuit", true, KEYS(branch_keys)},
    [KIND_OUTLET] = {KIND_OUTLET, "outlet", "a point on a branch", true, KEYS(outlet_keys)},
    [KIND_APPLIANCE] = {KIND_APPLIANCE, "appliance", "a load, or several alike", true, KEYS(appliance_keys)},
    [KIND_SCENE] = {KIND_SCENE, "scene", "a moment a person wants to look at", true, KEYS(scene_keys)},
    [KIND_TARIFF] = {KIND_TARIFF, "tariff", "what energy costs", true, KEYS(tariff_keys)},
    [KIND_PERIOD] = {KIND_PERIOD, "period", "a time-of-use period of a tariff", true, KEYS(period_keys)},
};

const struct key *section_key(const struct section *section, const char *name)
{
    for (size_t i = 0; i < section->key_count; i++) {
        if (section->keys[i].name == name) { /* a name that this table gave out: the usual case of a house file */
            return &section->keys[i];
        }
    }
    for (size_t i = 0; i < section->key_count; i++) {
        if (section->keys[i].name[0] == name[0] && strcmp(section->keys[i].name, name) == 0) {
            return &section->keys[i];
        }
    }
    return NULL;
}

const struct section *section_named(const char *word)
{
    for (size_t i = 0; i < KIND_COUNT; i++) {
        if (sections[i].word == word || strcmp(sections[i].word, word) == 0) {
            return &sections[i];
        }
    }
    return NULL;
}

uint64_t key_bit(const struct section *section, const struct key *key)
{
    return UINT64_C(1) << (size_t)(key - section->keys);
}

bool key_is_given(const struct section *section, const struct key *key, const void *row)
{
    uint64_t given = 0;
    size_t offset = section->kind == KIND_HOUSE ? offsetof(struct house, given) : 0;
    memcpy(&given, (const char *)row + offset, sizeof given);
    return (given & key_bit(section, key)) != 0;
}

const char *choice_word(const struct choice *choices, int value)
{
    for (; choices->word != NULL; choices++) {
        if (choices->value == value) {
            return choices->word;
        }
    }
    return "";
}

struct choice key_choice(const struct key *key, size_t index)
{
    if (key->choices != NULL) {
        return key->choices[index];
    }
    return index < ref_rule_set_count ? (struct choice){ref_rule_set_rows[index].id, (int)index}
                                      : (struct choice){NULL, 0};
}

const char *key_choice_word(const struct key *key, int value)
{
    return key->choices != NULL ? choice_word(key->choices, value) : rules_word(value);
}

int key_usual_choice(const struct key *key, int rules)
{
    const char *word = reference_choice_usual(rules_word(rules), key->name);
    for (const struct choice *choice = key->choices; word != NULL && choice->word != NULL; choice++) {
        if (strcmp(choice->word, word) == 0) {
            return choice->value;
        }
    }
    return -1;
}

bool key_known(const struct key *key, int rules)
{
    return reference_key_known(rules_word(rules), key->name);
}

bool key_choice_allowed(const struct key *key, int rules, int value)
{
    return reference_choice_known(rules_word(rules), key->name, key_choice_word(key, value));
}

const char *rules_word(int rules)
{
    const struct ref_rule_set *set = reference_rule_set_at(rules);
    return set == NULL ? "" : set->id;
}

const char *kind_word(enum kind kind)
{
    return sections[kind].word;
}

/* ---- in words */

/* What a set takes where nothing is said. */
static void says_usual(const struct ref_rule_set *set, const void *context, struct text *text)
{
    const char *word = reference_choice_usual(set->id, ((const struct key *)context)->name);
    text_add(text, word == NULL ? "" : word);
}

static bool has_usual(const struct key *key)
{
    bool any = false;
    for (size_t i = 0; (key->flags & KEY_RULE_WORDS) != 0 && i < ref_rule_set_count; i++) {
        any = any || reference_choice_usual(ref_rule_set_rows[i].id, key->name) != NULL;
    }
    return any;
}

/* Sets that do not know the key at all are no part of what is usual. */
static bool is_usual_of_all(const struct key *key, const char **ret_word)
{
    bool same = true;
    *ret_word = NULL;
    for (size_t i = 0; i < ref_rule_set_count; i++) {
        const char *word = reference_choice_usual(ref_rule_set_rows[i].id, key->name);
        if (reference_key_known(ref_rule_set_rows[i].id, key->name)) {
            same = same && word != NULL && (*ret_word == NULL || strcmp(*ret_word, word) == 0);
            *ret_word = word == NULL ? *ret_word : word;
        }
    }
    return same;
}

bool key_fallback(const struct key *key, const char *rules, struct text *text)
{
    const char *word = NULL;
    const char *own = rules == NULL || !has_usual(key) ? NULL : reference_choice_usual(rules, key->name);
    if (own != NULL) {
        text_add(text, own);
    } else if (rules == NULL && has_usual(key) && is_usual_of_all(key, &word)) {
        text_add(text, word);
    } else if (rules == NULL && has_usual(key)) {
        reference_by_set(text, says_usual, key, key->fallback);
    } else if (key->fallback != NULL) {
        reference_fill(text, key->fallback, rules);
    } else {
        return false;
    }
    return true;
}

void key_meaning(const struct key *key, struct text *text)
{
    if (reference_key_is_partial(key->name)) {
        reference_key_knowing(text, key->name, NULL);
        text_add(text, ": ");
    }
    reference_fill(text, key->meaning, NULL);
}

void key_choice_sets(const struct key *key, size_t index, struct text *text)
{
    struct text of_key = {0};
    struct text of_word = {0};
    reference_key_knowing(&of_key, key->name, NULL);
    reference_key_knowing(&of_word, key->name, key_choice(key, index).word);
    if ((key->flags & KEY_RULE_WORDS) != 0 && strcmp(text_string(&of_key), text_string(&of_word)) != 0) {
        text_add(text, text_string(&of_word));
    }
    text_done(&of_key);
    text_done(&of_word);
}
