#include <math.h>
#include <string.h>
#include <sys/stat.h>

#include "ampsum/print.h"
#include "ampsum/reference.h"
#include "ampsum/show_demand.h"
#include "cli.h"
#include "meter_common.h"
#include "print_output.h"

static const char *const examples[] = {
    "ampsum demand demo-house/us.ini",
    "ampsum demand demo-house/us.ini --method optional --working",
    "ampsum demand demo-house/us.ini --add 'Car charger, 48 A, 240 V' --remove vehicle-charger",
    "ampsum demand demo-house/us.ini --measured '11.2 kW' --add 'Hot tub, 6 kW, 240 V'",
    "ampsum demand demo-house/uk.ini --add 'Car charger, 32 A' --setpoint 60 --kwh 20",
    "ampsum demand demo-house/us.ini --add 'Car charger, 48 A, 240 V' -o service.pdf --force",
    "ampsum demand demo-house/us.ini --panel workshop",
    NULL,
};

static const struct option_spec options[] = {
    {"method", '\0', "standard|optional|existing|measured|by-device|diversity|by-load",
     "whose working comes first: {by-methods}; by-device is diversity too"},
    {"add", '\0', "LOAD",
     "with this load besides (as for an existing dwelling, where the rules have that); repeated: with each of them"},
    {"remove", '\0', "ID", "without this appliance; repeated"},
    {"setpoint", '\0', "A", "a control system keeps the service at this; an added vehicle gives way to the house"},
    {"kwh", '\0', "E", "energy that the vehicle is to get a day; without it as much as its times hold"},
    {"measured", '\0', "FIGURE|FILE|meter",
     "from a metered maximum demand: a figure in W, kW, VA, kVA or A, a meter file, or the readings in the house "
     "database"},
    {"panel", '\0', "ID", "the feeder of this sub-panel instead of the service"},
    {"working", '\0', NULL, "each line with its arithmetic and its source"},
    {"output", 'o', "FILE",
     "a sheet for the electrician's folder instead: a name that ends in .pdf, .html, .svg or .png"},
    {"paper", '\0', "a4|letter", "size of that page ({by-paper})"},
    OPTION_FORCE,
    OPTIONS_METER,
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "{by-demand}", "A sub-panel has no floor area: its lighting and plug-in loads count as they are connected.",
    "Of a group only the largest counts. Amperes and horsepower of a nameplate count at the nominal voltage.",
    "All methods of the rule set stand side by side after the working of one: which apply, why one does not, what each "
    "comes to on this service, and the largest load that still fits. They differ by a factor of two and all are "
    "published: the inspector decides which may be used. A meter's maximum asks for a year, or 30 days of short "
    "averages "
    "({by-interval}), of a house without its own generation.",
    NULL};

/* ---- what is asked for */

static bool method_from_word(struct invocation *invocation, const char *word, enum demand_method *ret_method)
{
    *ret_method = service_method_from_word(word);
    if (*ret_method == DEMAND_METHOD_COUNT) {
        error_set(&invocation->error, ERROR_INPUT,
                  "--method %s: expected standard, optional, existing, measured, by-device (diversity) or by-load",
                  word);
        return false;
    }
    return true;
}

/* That the rule set has the method asked for, by --method or by what --measured asks for; each has a row or none. */
static bool has_method(struct invocation *invocation, enum demand_method method, const char *option)
{
    const int rules = invocation->house->rules;
    if (demand_default_method(rules) == DEMAND_METHOD_COUNT || demand_method_exists(rules, method)) {
        return true;
    }
    struct text known = {0};
    reference_choice_list(&known, rules_word(rules), "demand");
    error_set(&invocation->error, ERROR_INPUT, "--%s: no method of %s rules, expected --method %s", option,
              rules_word(rules), text_string(&known));
    text_done(&known);
    return false;
}

static bool read_method(struct invocation *invocation, enum demand_method *ret_method)
{
    const char *word = option_value(invocation, "method");
    const bool measured = option_given(invocation, "measured");
    *ret_method = DEMAND_METHOD_COUNT;
    if (word == NULL) {
        return !measured || has_method(invocation, DEMAND_MEASURED, "measured");
    }
    if (!method_from_word(invocation, word, ret_method) || !has_method(invocation, *ret_method, "method")) {
        return false;
    }
    if (measured != (*ret_method == DEMAND_MEASURED)) {
        error_set(&invocation->error, ERROR_INPUT, "--measured and --method measured go together");
        return false;
    }
    return true;
}

/* Readings of a meter file, or those that the house database holds. */
static bool read_meter(struct invocation *invocation, const char *string, struct meter_set *ret_set)
{
    struct store *store = NULL;
    if (strcmp(string, "meter") != 0) {
        return meter_from_file(invocation, string, true, ret_set);
    }
    if (!store_is_database(invocation->house_path)) {
        error_set(&invocation->error, ERROR_INPUT,
                  "--measured meter: a house file holds no meter readings, expected a house database or a meter file");
        return false;
    }
    const bool good = store_open(invocation->house_path, STORE_READ, &store, &invocation->error) &&
                      store_meter_read(store, &ret_set->readings, &ret_set->count, &invocation->error);
    store_close(store);
    return good;
}

static bool read_measured(struct invocation *invocation, struct demand_question *question, struct meter_set *ret_set)
{
    static const struct meter_reading nothing = {0};
    const char *string = option_value(invocation, "measured");
    struct stat status;
    if (string == NULL || demand_read_measured(invocation->house, question->panel, string, &question->measured_va)) {
        return true;
    }
    if (strcmp(string, "meter") == 0 || stat(string, &status) == 0) {
        const bool good = read_meter(invocation, string, ret_set);
        question->readings = ret_set->count > 0 ? ret_set->readings : &nothing;
        question->reading_count = ret_set->count;
        question->fed_back = ret_set->net_count > 0 || ret_set->reverse_count > 0;
        return good;
    }
    struct text shown = {0};
    text_add_shown(&shown, string);
    error_set(&invocation->error, ERROR_INPUT,
              "--measured %s: expected a figure above zero in W, kW, VA, kVA or A, such as '11.2 kW', a meter file, or "
              "the word meter for what the house database holds",
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

static bool read_removed(struct invocation *invocation, struct demand_question *question)
{
    const size_t count = option_count(invocation, "remove");
    size_t *removed = arena_array(invocation->arena, count + 1, sizeof *removed);
    for (size_t i = 0; i < count; i++) {
        removed[i] = find_id(invocation, KIND_APPLIANCE, option_value_at(invocation, "remove", i));
        if (removed[i] == NO_INDEX) {
            return false;
        }
    }
    question->removed = removed;
    question->removed_count = count;
    return true;
}

/* ---- the run */

static void write_answer(struct invocation *invocation, const struct demand_answer *answer)
{
    const bool working = option_given(invocation, "working");
    const struct show_demand_lines lines = show_demand_lines(answer->chosen);
    if (!INVOCATION_DATA(invocation, show_demand_json(answer, working), &show_demand_line_rows, &lines,
                         lines.list->count)) {
        show_demand_text(answer, working, &invocation->page, &invocation->out);
        invocation_next(invocation, "%s", working ? "ampsum check HOUSE" : "ampsum demand HOUSE --working");
    }
}

static bool read_question(struct invocation *invocation, struct demand_question *question, struct meter_set *ret_set)
{
    if (!read_method(invocation, &question->method) || !read_panel(invocation, &question->panel) ||
        !read_removed(invocation, question)) {
        return false;
    }
    question->added = option_values(invocation, "add", &question->added_count);
    question->setpoint = option_value(invocation, "setpoint");
    question->kwh = option_value(invocation, "kwh");
    return read_measured(invocation, question, ret_set);
}

/* The sheet for the electrician's folder. */
static bool print_answer(struct invocation *invocation, struct output *output, const struct demand_answer *answer)
{
    if (!print_output_head(invocation, output)) {
        return false;
    }
    struct print_document *document = print_service(answer, &output->head);
    const bool written = print_output_write(invocation, output, document);
    print_free(document);
    return written;
}

static bool answer_question(struct invocation *invocation, const struct demand_question *question,
                            struct output *output)
{
    struct demand_answer answer;
    bool good = answer_demand(invocation->house, question, &answer, &invocation->error);
    if (good && output->path != NULL) {
        good = print_answer(invocation, output, &answer);
    } else if (good) {
        write_answer(invocation, &answer);
    }
    demand_answer_done(&answer);
    return good;
}

static int run(struct invocation *invocation)
{
    struct demand_question question = DEMAND_QUESTION;
    struct output output = {0};
    struct meter_set set = {0};
    int status = 2;
    if (option_given(invocation, "output") &&
        (!print_output_init(invocation, &output) || !print_output_here(invocation, &output, &status))) {
        return status;
    }
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0)) {
        return 2;
    }
    const bool good = read_question(invocation, &question, &set) && answer_question(invocation, &question, &output);
    meter_set_done(&set);
    return good ? 0 : 2;
}

const struct command command_demand = {
    .name = "demand",
    .operands = "[HOUSE]",
    .summary =
        "the dwelling's demand by the published methods side by side, and whether the service carries one more load",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
