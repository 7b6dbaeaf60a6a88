/* What the first house guide asks, kind by kind: a new field is one row. */
#include <string.h>

#include "ampsum/reference.h"
#include "guide.h"

static const char *const ratings[] = {"power", "apparent", "current", "resistance", "horsepower", NULL};
static const char *const places[] = {"outlet", "branch", NULL};

const struct guide_field guide_fields[] = {
    /* ---- the house */
    {KIND_HOUSE, "name", "What do you call it?", "Our house", .ask = "What do you call this house?",
     .hint = "Any name that you like: our house, the flat upstairs."},
    {KIND_HOUSE, "rules", "Published rules", .help = "Which set of limits the figures are held against.",
     .ask = "Whose electrical rules hold where it stands?",
     .hint = "The limits of that place are what the house is held against."},
    {KIND_HOUSE, "main_breaker", "Main breaker or supply fuse", "100",
     .help = "The number on the main switch of the panel, or in the supply contract.",
     .ask = "Which number stands on the main switch?",
     .hint = "In amperes, on its handle or beside it: 100, or 100 amps. Where a fuse of the supplier stands there: its "
             "number."},
    {KIND_HOUSE, "system", "Supply", .help = "Leave it as usual if in doubt."},
    {KIND_HOUSE, "voltage", "Voltage to neutral, if unusual", "230", "120"},
    {KIND_HOUSE, "floor_area", "Floor area", "110", "1800", .help = "For the demand of the whole dwelling.",
     .place = FIELD_MORE, .ask = "How large is the home?",
     .hint = "Its floor, as you know it: 1200 sq ft, or 90 m\u00b2. Leave it empty if you do not know."},
    {KIND_HOUSE, "currency", "Money, three letters", "EUR", "USD", .help = "For what the energy costs.",
     .ask = "In which money do you pay for electricity?",
     .hint = "Three letters, such as USD, GBP or EUR. Left empty, that of the place is taken."},
    {KIND_HOUSE, "frequency", "Frequency, Hz", .place = FIELD_MORE},
    {KIND_HOUSE, "ambient", "Warmest air around the cables", "30",
     .help = "Cables carry less where it is hot, in an attic say.", .place = FIELD_MORE},
    {KIND_HOUSE, "billing_days", "Days in a billing month", "30", .place = FIELD_MORE},
    {KIND_HOUSE, "supply_fuse", "Supplier's fuse", "80",
     .help = "Its rating, or unknown. The smaller of the two counts.", .place = FIELD_CORRECT},
    {KIND_HOUSE, "service_rating", "Rating of the service", "60", "100",
     .help = "The lowest of main breaker, meter socket, wires from the street and supply fuse.",
     .place = FIELD_CORRECT},
    {KIND_HOUSE, "generation", "Solar panels, battery or peak shaving", .place = FIELD_CORRECT},
    {KIND_HOUSE, "built", "Year it was built or last rewired", "1974", .place = FIELD_CORRECT},
    {KIND_HOUSE, "code_edition", "Edition of the code", .place = FIELD_CORRECT},
    {KIND_HOUSE, "earthing", "Earthing of the supply", .place = FIELD_CORRECT},
    {KIND_HOUSE, "ground", "Warmest ground around buried cable", "20", .place = FIELD_DEEP},
    {KIND_HOUSE, "soil", "Soil around buried cable, K\u00b7m/W", "2.5", .place = FIELD_DEEP},
    {KIND_HOUSE, "ze", "Loop impedance outside the house, ohm", "0.35",
     .help = "As the supplier declares it or an electrician measured it.", .place = FIELD_DEEP},
    {KIND_HOUSE, "pscc", "Prospective fault current at the supply", "16000", .help = "As the supplier declares it.",
     .place = FIELD_DEEP},
    {KIND_HOUSE, "electrode", "Resistance of the earth electrode, ohm", "70", .place = FIELD_DEEP},
    {KIND_HOUSE, "transformer", "Supplier's transformer, kVA", "50", "25", .help = "Together with the next.",
     .place = FIELD_DEEP},
    {KIND_HOUSE, "transformer_z", "Its impedance", "4", "2", .place = FIELD_DEEP},
    {KIND_HOUSE, "service_wire", "Wires from the street", "25 mm2 copper", "2/0 AWG copper", .place = FIELD_DEEP},
    {KIND_HOUSE, "service_run", "Their length", "15", "50", .place = FIELD_DEEP},
    {KIND_HOUSE, "tariff", "Tariff that prices the energy", .place = FIELD_CORRECT, .not_where = FIELD_ONE_OF_SEVERAL},

    /* ---- panels and branches */
    {KIND_PANEL, "name", "What do you call it?", "Garage panel"},
    {KIND_PANEL, "from", "Fed from", .help = "The panel that holds the breaker of its feeder."},
    {KIND_PANEL, "breaker", "Breaker of its feeder", "40", "60"},
    {KIND_PANEL, "poles", "Poles"},
    {KIND_PANEL, "legs", "Legs", .not_where = FIELD_NOT_SINGLE_PHASE},
    {KIND_PANEL, "wire", "Wire of its feeder", "10 mm2 copper", "6 AWG copper", .place = FIELD_MORE},
    {KIND_PANEL, "length", "Length of its feeder", "20", "60", .place = FIELD_MORE},
    {KIND_PANEL, "method", "How the feeder is laid", .place = FIELD_MORE, .not_where = FIELD_NO_CHOICE},
    {KIND_PANEL, "cable", "Kind of cable", .help = "Printed on it.", .place = FIELD_MORE},
    {KIND_PANEL, "terminals", "Both ends marked for, °C", .place = FIELD_MORE},
    {KIND_PANEL, "insulation", "Insulation of its conductors", .place = FIELD_MORE},
    {KIND_PANEL, "ambient", "Warmest air around this run", "30", .place = FIELD_MORE},
    {KIND_PANEL, "grouped", "Circuits lying together", "3", .help = "Itself included.", .place = FIELD_MORE},
    {KIND_PANEL, "in_insulation", "Length inside thermal insulation", "0.5", .place = FIELD_MORE},
    {KIND_PANEL, "breaking", "Fault current that its device can break", "6000", "10000",
     .help = "Printed on it, often in a frame.", .place = FIELD_DEEP},
    {KIND_PANEL, "cpc", "Protective conductor of its feeder", "same", .place = FIELD_DEEP},

    {KIND_BRANCH, "label", "What the door says", "Kitchen outlets",
     .ask = "What does the next line of the panel's door say?",
     .hint = "One line, as it stands there. Look at the door only: never take a cover off."},
    {KIND_BRANCH, "breaker", "Breaker", "16", "20", .help = "The number on its handle.",
     .ask = "Which number stands on the handle of that breaker?", .hint = "In amperes: 15, or 15 amp."},
    {KIND_BRANCH, "poles", "Poles"},
    {KIND_BRANCH, "position", "Space in the panel", "3 or 5,7", .ask = "Which space of the panel is it in?",
     .hint = "Spaces are counted as the door numbers them. A breaker that takes two: 1 and 3.", .said = "space "},
    {KIND_BRANCH, "legs", "Legs", .not_where = FIELD_NOT_SINGLE_PHASE},
    {KIND_BRANCH, "purpose", "Kept for"},
    {KIND_BRANCH, "panel", "Panel", .place = FIELD_CORRECT},
    {KIND_BRANCH, "wire", "Wire", "2.5 mm2 copper", "12 AWG copper",
     .help = "Printed on the cable. Tells whether the breaker protects it.", .place = FIELD_MORE},
    {KIND_BRANCH, "length", "Cable to the far end", "12", "40", .help = "One way. Tells how far the voltage drops.",
     .place = FIELD_MORE},
    {KIND_BRANCH, "protection", "Protection beside the breaker", .place = FIELD_MORE},
    {KIND_BRANCH, "serves", "Rooms it serves", .help = "None ticked: the rooms of its outlets and appliances.",
     .place = FIELD_MORE},
    {KIND_BRANCH, "trip", "Tripping characteristic", .help = "The letter before the number: B16, C20.",
     .place = FIELD_MORE, .not_where = FIELD_NO_CHOICE},
    {KIND_BRANCH, "method", "How the cable is laid", .place = FIELD_MORE, .not_where = FIELD_NO_CHOICE},
    {KIND_BRANCH, "cable", "Kind of cable", .help = "Printed on it. Tells how much it may carry.", .place = FIELD_MORE},
    {KIND_BRANCH, "terminals", "Both ends marked for, °C", .place = FIELD_MORE},
    {KIND_BRANCH, "insulation", "Insulation of its conductors", .place = FIELD_MORE},
    {KIND_BRANCH, "ambient", "Warmest air around this run", "30", .place = FIELD_MORE},
    {KIND_BRANCH, "grouped", "Circuits lying together", "3", .help = "Itself included.", .place = FIELD_MORE},
    {KIND_BRANCH, "in_insulation", "Length inside thermal insulation", "0.5", .place = FIELD_MORE},
    {KIND_BRANCH, "shared_neutral", "Shares its neutral with", .place = FIELD_MORE},
    {KIND_BRANCH, "tied", "Handles of the shared neutral's breakers tied", .place = FIELD_MORE},
    {KIND_BRANCH, "cooker_socket", "Socket in the cooker's switch", .place = FIELD_MORE},
    {KIND_BRANCH, "layout", "Layout", .help = "A ring needs its outlets and the cable back to the panel.",
     .place = FIELD_MORE},
    {KIND_BRANCH, "return", "Ring: cable from the last outlet back", "8", "25", .place = FIELD_MORE},
    {KIND_BRANCH, "rcd_ma", "RCD: rated residual current, mA", .help = "Printed on it: 30 mA, say.",
     .place = FIELD_DEEP},
    {KIND_BRANCH, "rcd_type", "RCD: general, or selective (S)", .place = FIELD_DEEP},
    {KIND_BRANCH, "breaking", "Fault current that the device can break", "6000", "10000",
     .help = "Printed on it, often in a frame.", .place = FIELD_DEEP},
    {KIND_BRANCH, "cpc", "Protective conductor", "1.5 mm2", "same", .place = FIELD_DEEP},
    {KIND_BRANCH, "instantaneous", "Maker's magnetic trip, from", "120", .place = FIELD_DEEP},
    {KIND_BRANCH, "zs_measured", "Loop impedance read at the far end, ohm", "0.8", .place = FIELD_DEEP},
    {KIND_BRANCH, "measured_at", "Temperature of the cable then", "20", .place = FIELD_DEEP},
    {KIND_BRANCH, "third_harmonic", "Third harmonic of the line current", "20",
     .help = "Of a branch with three poles; electronics have much of it.", .place = FIELD_DEEP,
     .not_where = FIELD_NOT_SINGLE_PHASE},

    /* ---- rooms and outlets */
    {KIND_ROOM, "name", "Name of the room", "Kitchen", .ask = "Which room is next?",
     .hint = "The name that you use at home. Gardens and sheds count, too."},
    {KIND_ROOM, "room-kind", "Kind of room", .help = "Left as usual, by its name. Tells which protection is usual."},
    {KIND_ROOM, "floor", "Floor, if you like", "ground"},
    {KIND_ROOM, "area", "Its area, if you like", "14", "150"},

    {KIND_OUTLET, "branch", "Branch", .place = FIELD_CORRECT},
    {KIND_OUTLET, "name", "What do you call it?", "left of the sink"},
    {KIND_OUTLET, "room", "Room"},
    {KIND_OUTLET, "from", "Its cable comes from"},
    {KIND_OUTLET, "run", "Cable from there", "3", "10", .help = "Up, along and down: the cable, not the distance."},
    {KIND_OUTLET, "rating", "Rating of the outlet, if you know it", "16", "15"},
    {KIND_OUTLET, "contacts", "Places for plugs", "2", .place = FIELD_MORE},
    {KIND_OUTLET, "spur", "On a spur of its ring", .place = FIELD_MORE},
    {KIND_OUTLET, "fuse", "Fuse of a fused connection unit", "13", .place = FIELD_MORE},
    {KIND_OUTLET, "zs_measured", "Loop impedance read here, ohm", "0.8", .place = FIELD_DEEP},
    {KIND_OUTLET, "measured_at", "Temperature of the cable then", "20", .place = FIELD_DEEP},

    /* ---- appliances and scenes */
    {KIND_APPLIANCE, "name", "Appliance", "Kettle", .ask = "What is plugged in or wired?",
     .hint = "One thing at a time: kettle, refrigerator, lamp.", .load = LOAD_LINE, .load_name = "what",
     .load_label = "What is it?"},
    {KIND_APPLIANCE, "rating", "Rating on its nameplate", "2000", "1500",
     .help = "The nameplate is better than any typical figure. Left empty, a typical one is taken and marked.",
     .also = ratings, .ask = "What does its nameplate say?",
     .hint = "At the back, at the bottom or on the plug: 1500 W, 12 amps. Left empty, a typical figure is taken and "
             "marked.",
     .load = LOAD_LINE | LOAD_HELP, .own = OWN_RATING,
     .load_more = " inputmode=\"decimal\" aria-describedby=\"rating-help\""},
    {KIND_APPLIANCE, "at", "Outlet or branch", .also = places, .ask = "Which line of the door feeds it?",
     .hint = "The breaker that would switch it off. If you do not know, choose the likely one: it can be corrected.",
     .said = "on ", .own = OWN_PLACE},
    {KIND_APPLIANCE, "room", "Room", .help = "An outlet has its own.", .place = FIELD_CORRECT,
     .ask = "In which room is it?", .hint = "Where it stands most of the time.", .said = "in ",
     .load = LOAD_LINE | LOAD_STAYS},
    {KIND_APPLIANCE, "use", "When is it used?", "06:30-07:10, 17:00-18:00",
     .help = "From when to when it may be on. Left empty: at any moment.", .ask = "When is it used?",
     .hint = "From when to when it may be on: 7am-8am, 17:00-22:30, evening. Left empty: at any moment.",
     .said = "used ", .load = LOAD_LINE | LOAD_STAYS | LOAD_SAID | LOAD_HELP,
     .load_more = " aria-describedby=\"use-help\""},
    {KIND_APPLIANCE, "hours", "About how long a day?", "30 minutes, 2 hours",
     .help =
         "Altogether: 30 minutes, 2 hours. Left empty, all of those times count, or what is typical, which is said.",
     .ask = "About how long is it on in a day?",
     .hint = "Altogether: 30 minutes, or 2 hours. Left empty, what is typical of it, or else all of those times.",
     .said = "on for about ", .load = LOAD_LINE | LOAD_STAYS | LOAD_SAID},
    {KIND_APPLIANCE, "count", "How many alike", "1", .place = FIELD_MORE, .load = LOAD_LINE | LOAD_STAYS,
     .load_more = " type=\"number\" min=\"1\" max=\"10000\""},
    {KIND_APPLIANCE, "days", "On which days", "weekdays, or mon,wed,fri", .place = FIELD_MORE, .said = "on ",
     .load = LOAD_MORE | LOAD_STAYS | LOAD_SAID},
    {KIND_APPLIANCE, "months", "In which months", "nov-mar", .place = FIELD_MORE, .said = "in ",
     .load = LOAD_MORE | LOAD_STAYS | LOAD_SAID},
    {KIND_APPLIANCE, "category", "Kind of appliance", .place = FIELD_MORE, .said = "category ",
     .load = LOAD_MORE | LOAD_SAID},
    {KIND_APPLIANCE, "rating_from", "Where the rating is from", .place = FIELD_MORE},
    {KIND_APPLIANCE, "fixed", "Fastened in place or wired in", .place = FIELD_MORE,
     .said = "fixed: ", .load = LOAD_MORE | LOAD_STAYS | LOAD_SAID},
    {KIND_APPLIANCE, "continuous", "May run {continuous-hours} hours or more at a stretch", .place = FIELD_MORE,
     .said = "{continuous-hours} h or more: ", .load = LOAD_MORE | LOAD_SAID},
    {KIND_APPLIANCE, "typical_hours", "Typical of such a thing", "0.5",
     .help = "How long a day. For its energy alone, where it is not said above.", .place = FIELD_MORE},
    {KIND_APPLIANCE, "duty", "Share of its on-time that it draws", "40", .help = "For what a thermostat switches.",
     .place = FIELD_MORE, .said = "duty ", .load = LOAD_MORE | LOAD_STAYS | LOAD_SAID},
    {KIND_APPLIANCE, "standby", "Drawn while it is not on", "0.5", .place = FIELD_MORE, .said = "standby ",
     .load = LOAD_MORE | LOAD_SAID},
    {KIND_APPLIANCE, "group", "One of a set, never on at once", "heating or cooling",
     .help = "The same word for each of the set.", .place = FIELD_MORE, .said = "group ",
     .load = LOAD_MORE | LOAD_STAYS | LOAD_SAID},
    {KIND_APPLIANCE, "behaviour", "How it draws", .place = FIELD_MORE, .said = "", .load = LOAD_MORE | LOAD_SAID},
    {KIND_APPLIANCE, "rated_voltage", "Voltage on its nameplate", "230", "120", .place = FIELD_MORE, .said = "",
     .load = LOAD_MORE | LOAD_SAID, .load_name = "volt", .load_label = "Made for another voltage, V",
     .load_more = " inputmode=\"decimal\""},
    {KIND_APPLIANCE, "power_factor", "Power factor", "0.9", .place = FIELD_MORE, .said = "power factor ",
     .load = LOAD_MORE | LOAD_SAID},
    {KIND_APPLIANCE, "start_factor", "Motor: starting over running current", "6", .place = FIELD_MORE,
     .said = "starting factor ", .load = LOAD_MORE | LOAD_SAID},
    {KIND_APPLIANCE, "minimum_ampacity", "Plate: minimum circuit ampacity", "27.7", .place = FIELD_MORE},
    {KIND_APPLIANCE, "maximum_breaker", "Plate: largest breaker or fuse", "45", .place = FIELD_MORE},
    {KIND_APPLIANCE, "connection", "Between which conductors", .place = FIELD_MORE,
     .not_where = FIELD_NOT_SINGLE_PHASE},
    {KIND_APPLIANCE, "control", "Gives way when the house is busy", .place = FIELD_MORE},

    {KIND_SCENE, "name", "What do you call it?", "Breakfast"},
    {KIND_SCENE, "on", "What is on then"},

    /* ---- what energy costs */
    {KIND_TARIFF, "name", "What do you call it?", "Flat rate"},
    {KIND_TARIFF, "price", "Price of a kWh", "0.30", "0.15", .ask = "What does a kWh cost?",
     .hint = "It stands on the bill: $0.16, or 16 cents."},
    {KIND_TARIFF, "standing", "Standing charge a day", "0.40"},
    {KIND_TARIFF, "tax", "Tax on both", "20", "6"},
    {KIND_TARIFF, "blocks", "Price in blocks, in place of one price", "350: 0.14, rest: 0.19",
     .help = "Up to how many kWh in a billing month, and at which price.", .place = FIELD_MORE},
    {KIND_PERIOD, "tariff", "Tariff"},
    {KIND_PERIOD, "price", "Price of a kWh", "0.22", "0.09"},
    {KIND_PERIOD, "hours", "Hours", "21:00-07:00", .help = "Left empty: all day."},
    {KIND_PERIOD, "days", "On which days", "all, weekdays, sat,sun"},
    {KIND_PERIOD, "months", "In which months", "all, nov-mar"},
};

const size_t guide_field_count = sizeof guide_fields / sizeof guide_fields[0];

const char *guide_key(const char *key)
{
    return strcmp(key, "room-kind") == 0 ? "kind" : key;
}

static bool stands_for(const struct guide_field *field, const char *key)
{
    for (const char *const *also = field->also; also != NULL && *also != NULL; also++) {
        if (strcmp(*also, key) == 0) {
            return true;
        }
    }
    return strcmp(field->key, key) == 0 || strcmp(guide_key(field->key), key) == 0;
}

const struct guide_field *guide_load_field(const char *name)
{
    const struct guide_field *found = NULL;
    for (size_t i = 0; i < guide_field_count && found == NULL; i++) {
        const struct guide_field *field = &guide_fields[i];
        const char *own = field->load_name == NULL ? field->key : field->load_name;
        found = field->load != 0 && strcmp(own, name) == 0 ? field : NULL;
    }
    return found;
}

const struct guide_field *guide_field_of(enum kind kind, const char *key)
{
    for (size_t i = 0; i < guide_field_count; i++) {
        if (guide_fields[i].kind == kind && stands_for(&guide_fields[i], key)) {
            return &guide_fields[i];
        }
    }
    return NULL;
}

bool guide_field_holds(const struct guide_field *field, const struct house *house)
{
    if (house == NULL) {
        return field->place != FIELD_CORRECT;
    }
    const char *rules = rules_word(house->rules);
    const bool no_choice =
        reference_choice(rules, field->key, 1) == NULL || reference_choice_usual(rules, field->key) == NULL;
    const bool single_phase = house->system == SYSTEM_SINGLE_PHASE;
    const bool lacks_choice = (field->not_where & FIELD_ONE_OF_SEVERAL) != 0 && house->tariff_count == 0;
    return reference_key_known(rules, field->key) && !((field->not_where & FIELD_NO_CHOICE) != 0 && no_choice) &&
           !((field->not_where & FIELD_NOT_SINGLE_PHASE) != 0 && single_phase) && !lacks_choice;
}
