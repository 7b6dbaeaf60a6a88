#include <ctype.h>
#include <math.h>
#include <string.h>
#include <sys/stat.h>

#include "ampsum/demand.h"
#include "ampsum/freetext.h"
#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "cli.h"
#include "demand_view.h"
#include "meter_common.h"

static const char *const examples[] = {
    "ampsum demand demo-house/us.ini",
    "ampsum demand demo-house/us.ini --method optional --working",
    "ampsum demand demo-house/us.ini --add 'Heater, 1500 W'",
    "ampsum demand demo-house/us.ini --measured '11.2 kW' --add 'Hot tub, 6 kW, 240 V'",
    "ampsum demand demo-house/us.ini --panel workshop",
    NULL,
};

static const struct option_spec options[] = {
    {"method", '\0', "standard|optional|existing|measured|diversity", "us: standard, optional, existing or measured; iec, uk: diversity"},
    {"add", '\0', "LOAD", "with this load besides (us: as for an existing dwelling); repeated: with each of them"},
    {"measured", '\0', "FIGURE|FILE|meter",
     "from a metered maximum demand: a figure in W, VA or A, a meter file, or the readings in the house database"},
    {"panel", '\0', "ID", "the feeder of this sub-panel instead of the service"},
    {"working", '\0', NULL, "each line with its arithmetic and its source"},
    OPTIONS_METER,
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "us: floor_area counts for all lighting and whatever is plugged in on common branches; branches of purpose "
    "small-appliance and laundry count by their number. Counted by themselves are appliances with fixed = yes, on a "
    "branch of purpose dedicated, or between two legs: category range and cooking by the range table, dryer by the "
    "dryer table, the larger of space-heating and air-conditioning, vehicle, and the rest as fixed appliances. Space "
    "heating with behaviour = motor is a heat pump, the other space heating then its supplementary heat.",
    "A sub-panel has no floor area: its lighting and plug-in loads count as they are connected.",
    "iec, uk: a ring, or a branch with outlets or plug-in loads, counts by its breaker; lighting, cooking, range, "
    "water-heating, space-heating and vehicle by their category; other fixed loads as heating and power.",
    "Of a group only the largest counts. Amperes and horsepower of a nameplate count at the nominal voltage.", NULL};

/* ---- what is asked for */

static bool read_method(struct invocation *invocation, const struct house *house, enum demand_method *ret_method)
{
    const char *word = option_value(invocation, "method");
    if (demand_default_method(house->rules) == DEMAND_METHOD_COUNT) {
        error_set(&invocation->error, ERROR_INPUT, "the %s rules have no rows for a demand of the dwelling",
                  rules_word(house->rules));
        return false;
    }
    if (word == NULL) {
        const bool adds = option_given(invocation, "add") && demand_method_exists(house->rules, DEMAND_EXISTING);
        *ret_method = option_given(invocation, "measured") ? DEMAND_MEASURED
                      : adds                               ? DEMAND_EXISTING
                                                           : demand_default_method(house->rules);
    } else {
        int method = 0;
        while (method < DEMAND_METHOD_COUNT && strcmp(word, demand_method_word((enum demand_method)method)) != 0) {
            method++;
        }
        if (method == DEMAND_METHOD_COUNT) {
            error_set(&invocation->error, ERROR_INPUT,
                      "--method %s: expected standard, optional, existing, measured or diversity", word);
            return false;
        }
        *ret_method = (enum demand_method)method;
    }
    if (!demand_method_exists(house->rules, *ret_method)) {
        struct text known = {0};
        reference_choice_list(&known, rules_word(house->rules), "demand");
        error_set(&invocation->error, ERROR_INPUT, "--%s: no method of %s rules, expected --method %s",
                  word == NULL ? "measured" : "method", rules_word(house->rules), text_string(&known));
        text_done(&known);
        return false;
    }
    return true;
}

/* A figure with its unit, W, VA or A, as volt-amperes. */
static bool measured_figure(const struct house *house, const char *string, struct demand_options *wanted)
{
    struct text unused = {0};
    size_t length = strlen(string);
    bool has_unit = length > 0 && isalpha((unsigned char)string[length - 1]) != 0;
    bool good = has_unit;
    if (has_unit &&
        quantity_read(string, DIMENSION_CURRENT, house->rules, KEY_ABOVE_ZERO, &wanted->measured_va, &unused)) {
        wanted->measured_va *= demand_divisor_v(house, wanted->panel);
    } else {
        good = has_unit &&
               (quantity_read(string, DIMENSION_POWER, house->rules, KEY_ABOVE_ZERO, &wanted->measured_va, &unused) ||
                quantity_read(string, DIMENSION_APPARENT, house->rules, KEY_ABOVE_ZERO, &wanted->measured_va, &unused));
    }
    text_done(&unused);
    return good;
}

/* The largest mean power over the shortest of the usual intervals that the readings allow. */
static bool measured_readings(struct invocation *invocation, const struct meter_reading *readings, size_t count,
                              struct demand_options *wanted, struct text *ret_what)
{
    struct meter_figures figures;
    meter_figures(readings, count, &figures);
    size_t at = 0;
    while (at < METER_DEMANDS && !isfinite(figures.demand_w[at])) {
        at++;
    }
    if (at == METER_DEMANDS || !(figures.demand_w[at] > 0)) {
        error_set(&invocation->error, ERROR_INPUT,
                  "--measured: the meter readings give no demand over 15, 30 or 60 minutes");
        return false;
    }
    wanted->measured_va = figures.demand_w[at];
    double covered_h = (double)figures.covered_s / 3600;
    double wanted_h = reference_rule_value("measured-hours", rules_word(invocation->house->rules));
    text_printf(ret_what, "The meter's largest mean over %d minutes is ", meter_demand_minutes[at]);
    text_add_rounded(ret_what, figures.demand_w[at] / 1000, 3);
    text_add(ret_what, " kW, of readings that cover ");
    text_add_rounded(ret_what, covered_h / 24, 1);
    text_printf(ret_what, " days%s; it is taken at power factor 1.\n",
                covered_h < wanted_h ? ", fewer than the method asks for" : "");
    return true;
}

/* Readings of a meter file, or those that the house database holds. */
static bool measured_meter(struct invocation *invocation, const char *string, struct demand_options *wanted,
                           struct text *ret_what)
{
    struct meter_set set = {0};
    struct store *store = NULL;
    bool good = false;
    if (strcmp(string, "meter") != 0) {
        good = meter_from_file(invocation, string, &set);
    } else if (!store_is_database(invocation->house_path)) {
        error_set(&invocation->error, ERROR_INPUT,
                  "--measured meter: a house file holds no meter readings, expected a house database or a meter file");
    } else {
        good = store_open(invocation->house_path, STORE_READ, &store, &invocation->error) &&
               store_meter_read(store, &set.readings, &set.count, &invocation->error);
        store_close(store);
    }
    good = good && measured_readings(invocation, set.readings, set.count, wanted, ret_what);
    meter_set_done(&set);
    return good;
}

static bool read_measured(struct invocation *invocation, const struct house *house, struct demand_options *wanted,
                          struct text *ret_what)
{
    const char *string = option_value(invocation, "measured");
    if ((string == NULL) != (wanted->method != DEMAND_MEASURED)) {
        error_set(&invocation->error, ERROR_INPUT, "--measured and --method measured go together");
        return false;
    }
    if (string == NULL || measured_figure(house, string, wanted)) {
        return true;
    }
    struct stat status;
    if (strcmp(string, "meter") == 0 || stat(string, &status) == 0) {
        return measured_meter(invocation, string, wanted, ret_what);
    }
    struct text shown = {0};
    text_add_shown(&shown, string);
    error_set(&invocation->error, ERROR_INPUT,
              "--measured %s: expected a figure above zero in W, VA or A, such as '11.2 kW', a meter file, or the word "
              "meter for what the house database holds",
              text_string(&shown));
    text_done(&shown);
    return false;
}

static bool read_panel(struct invocation *invocation, size_t *ret_panel)
{
    const char *id = option_value(invocation, "panel");
    *ret_panel = id == NULL ? 0 : find_id(invocation, KIND_PANEL, id);
    return *ret_panel != NO_INDEX;
}

/* ---- the added load */

/* A branch of its own for an added load, between two legs where its rated voltage asks for that. */
static const char *add_branch(struct invocation *invocation, struct document *document,
                              const struct document_section *appliance, size_t panel)
{
    const struct house *house = invocation->house;
    struct text id = {0};
    struct text breaker = {0};
    text_add(&id, "added-load");
    for (int number = 2; document_find(document, "branch", text_string(&id)) != NULL; number++) {
        text_clear(&id);
        text_printf(&id, "added-load-%d", number);
    }
    const char *rated = document_value(appliance, "rated_voltage");
    double rated_v = house->voltage_v;
    struct text unused = {0};
    if (rated != NULL) {
        (void)quantity_read(rated, DIMENSION_VOLTAGE, house->rules, 0, &rated_v, &unused); /* house_build says it */
    }
    text_done(&unused);
    unsigned legs = panel == 0 ? house_system_legs(house) : house->panels[panel].legs;
    unsigned first = legs & (~legs + 1); /* the lowest leg */
    unsigned rest = legs & ~first;
    unsigned second = rest & (~rest + 1);
    bool two = second != 0 && house_circuit_voltage_v(house, 2) - rated_v < rated_v - house->voltage_v;
    text_add_number(&breaker, house->service_a);
    struct document_section *branch = document_add(document, "branch", text_string(&id));
    document_set(document, branch, "label", "Added load");
    document_set(document, branch, "panel", house->panels[panel].id);
    document_set(document, branch, "breaker", text_string(&breaker));
    document_set(document, branch, "poles", two ? "2" : "1");
    document_set(document, branch, "legs", legs_word(two ? first | second : first));
    document_set(document, branch, "purpose", "dedicated");
    const char *copy = arena_copy(invocation->arena, text_string(&id));
    text_done(&id);
    text_done(&breaker);
    return copy;
}

/* A load whose kind was not said takes that of the typical loads of its name. */
static void guess_category(struct invocation *invocation, struct document *document, const char *id, const char *name,
                           struct text *ret_what)
{
    struct document_section *section = document_find(document, "appliance", id);
    const struct ref_typical *row = NULL;
    bool near = false;
    if (document_value(section, "category") != NULL ||
        reference_typical_find(name, rules_word(invocation->house->rules), &row, 1, &near) == 0 || near ||
        strcmp(row->category, "other") == 0) {
        return;
    }
    document_set(document, section, "category", row->category);
    text_printf(ret_what, "%s is taken for %s, as %s is; category=... in the load says otherwise.\n", name,
                row->category, row->name);
}

static bool add_load(struct invocation *invocation, struct document *document, const char *string, size_t panel,
                     struct text *ret_what)
{
    struct freetext load;
    const char *id = NULL;
    if (!freetext_read(invocation->arena, string, invocation->house->rules, &load, &invocation->error) ||
        !freetext_add(document, &load, "added-load", NULL, NULL, &id, &invocation->error)) {
        return false;
    }
    guess_category(invocation, document, id, load.name, ret_what);
    const char *branch = add_branch(invocation, document, document_find(document, "appliance", id), panel);
    document_set(document, document_find(document, "appliance", id), "branch", branch);
    if (load.note != NULL) {
        text_printf(ret_what, "%s.\n", load.note);
    }
    return true;
}

/* The house with the added loads, each on a branch of its own; *ret_house NULL: none is added. */
static bool add_loads(struct invocation *invocation, size_t panel, struct house **ret_house, struct text *ret_what)
{
    size_t count = option_count(invocation, "add");
    *ret_house = NULL;
    if (count == 0) {
        return true;
    }
    struct document *document = house_document(invocation->house, "demand --add");
    bool good = true;
    for (size_t i = 0; good && i < count; i++) {
        good = add_load(invocation, document, option_value_at(invocation, "add", i), panel, ret_what);
    }
    good = good && house_build(document, ret_house, &invocation->error);
    document_free(document);
    return good;
}

/* ---- the run */

/* What was assumed of the added loads, one sentence a line, and the demand's own notes. */
static const char *const *all_notes(struct invocation *invocation, const struct demand *demand, const struct text *what)
{
    size_t count = 0;
    while (demand->notes[count] != NULL) {
        count++;
    }
    const char **notes = arena_array(invocation->arena, count + what->length + 1, sizeof *notes);
    size_t at = 0;
    for (char *next = arena_copy(invocation->arena, text_string(what)); *next != '\0'; at++) {
        notes[at] = next;
        next += strcspn(next, "\n");
        if (*next != '\0') {
            *next++ = '\0';
        }
    }
    memcpy(notes + at, demand->notes, count * sizeof *notes);
    return notes;
}

static void answer(struct invocation *invocation, const struct demand *demand, const struct text *what)
{
    const char *const *notes = all_notes(invocation, demand, what);
    if (invocation->format == FORMAT_JSON) {
        demand_view_json(invocation, demand, notes);
    } else if (invocation->format == FORMAT_CSV) {
        demand_view_csv(invocation, demand);
    } else {
        demand_view_text(invocation, demand, notes);
    }
}

static int run(struct invocation *invocation)
{
    struct demand_options wanted = {.measured_va = NAN, .added_from = NO_INDEX};
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0) ||
        !read_method(invocation, invocation->house, &wanted.method) || !read_panel(invocation, &wanted.panel)) {
        return 2;
    }
    struct house *with_added = NULL;
    struct text what = {0};
    if (!read_measured(invocation, invocation->house, &wanted, &what) ||
        !add_loads(invocation, wanted.panel, &with_added, &what)) {
        text_done(&what);
        return 2;
    }
    if (with_added != NULL) {
        wanted.added_from = invocation->house->appliance_count;
    }
    struct demand *demand = demand_of(with_added != NULL ? with_added : invocation->house, &wanted);
    answer(invocation, demand, &what);
    demand_free(demand);
    house_free(with_added);
    text_done(&what);
    return 0;
}

const struct command command_demand = {
    .name = "demand",
    .operands = "[HOUSE]",
    .summary = "the dwelling's demand by the published method, line by line with its sources",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
