#include <math.h>
#include <string.h>
#include <sys/stat.h>

#include "ampsum/answer_open.h"
#include "ampsum/print.h"
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

/* What is asked for. */
struct wanted {
    struct demand_question question;
    const char *method;
    const char *measured;
    struct meter_wanted meter;
    struct output output;
    bool working;
};

static const struct option_spec options[] = {
    {"method", '\0', "standard|optional|existing|measured|by-device|diversity|by-load",
     "whose working comes first: {by-methods}; by-device is diversity too", TO_WORD(struct wanted, method)},
    {"add", '\0', "LOAD",
     "with this load besides (as for an existing dwelling, where the rules have that); repeated: with each of them",
     TO_WORDS(struct wanted, question.added, question.added_count)},
    {"remove", '\0', "ID", "without this appliance; repeated",
     TO_ROWS(struct wanted, question.removed, question.removed_count, KIND_APPLIANCE)},
    {"setpoint", '\0', "A", "a control system keeps the service at this; an added vehicle gives way to the house",
     TO_WORD(struct wanted, question.setpoint)},
    {"kwh", '\0', "E", "energy that the vehicle is to get a day; without it as much as its times hold",
     TO_WORD(struct wanted, question.kwh)},
    {"measured", '\0', "FIGURE|FILE|meter",
     "from a metered maximum demand: a figure in W, kW, VA, kVA or A, a meter file, or the readings in the house "
     "database",
     TO_WORD(struct wanted, measured)},
    {"panel", '\0', "ID", "the feeder of this sub-panel instead of the service",
     TO_ROW(struct wanted, question.panel, KIND_PANEL)},
    {"working", '\0', NULL, "each line with its arithmetic and its source", TO_FLAG(struct wanted, working)},
    {"output", 'o', "FILE",
     "a sheet for the electrician's folder instead: a name that ends in .pdf, .html, .svg or .png",
     TO_WORD(struct wanted, output.path)},
    {"paper", '\0', "a4|letter", "size of that page ({by-paper})", TO_CHOICE(struct wanted, output.paper)},
    OPTION_FORCE(struct wanted, output.force),
    OPTIONS_METER(struct wanted, meter),
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

/* Readings of a meter file, or those that the house database holds. */
static bool read_meter(struct invocation *invocation, const struct wanted *wanted, struct meter_set *ret_set)
{
    const char *string = wanted->measured;
    if (strcmp(string, "meter") != 0) {
        return meter_from_file(invocation, &wanted->meter, string, true, ret_set);
    }
    if (!store_is_database(invocation->house_path)) {
        error_set(&invocation->error, ERROR_INPUT,
                  "--measured meter: a house file holds no meter readings, expected a house database or a meter file");
        return false;
    }
    return house_readings(invocation->house_path, &ret_set->readings, &ret_set->count, &invocation->error);
}

static bool read_measured(struct invocation *invocation, struct wanted *wanted, struct meter_set *ret_set)
{
    static const struct meter_reading nothing = {0};
    struct demand_question *question = &wanted->question;
    const char *string = wanted->measured;
    struct stat status;
    if (string == NULL || demand_read_measured(invocation->house, question->panel, string, &question->measured_va)) {
        return true;
    }
    if (strcmp(string, "meter") == 0 || stat(string, &status) == 0) {
        const bool good = read_meter(invocation, wanted, ret_set);
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

/* ---- the run */

static void write_answer(struct invocation *invocation, const struct demand_answer *answer, bool working)
{
    const struct show_demand_lines lines = show_demand_lines(answer->chosen);
    if (!INVOCATION_DATA(invocation, show_demand_json(answer, working), &show_demand_line_rows, &lines,
                         lines.list->count)) {
        show_demand_text(answer, working, &invocation->page, &invocation->out);
        invocation_next(invocation, "%s", working ? "ampsum check HOUSE" : "ampsum demand HOUSE --working");
    }
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

static bool answer_question(struct invocation *invocation, struct wanted *wanted)
{
    struct demand_answer answer;
    bool good = answer_demand(invocation->house, &wanted->question, &answer, &invocation->error);
    if (good && wanted->output.path != NULL) {
        good = print_answer(invocation, &wanted->output, &answer);
    } else if (good) {
        write_answer(invocation, &answer, wanted->working);
    }
    demand_answer_done(&answer);
    return good;
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {.question = DEMAND_QUESTION, .output.paper = PAPER_UNSAID};
    struct meter_set set = {0};
    int status = 2;
    if (!invocation_options(invocation, &wanted) ||
        (wanted.output.path != NULL && !print_output_begin(invocation, &wanted.output, &status)) ||
        !invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0) ||
        !invocation_house_options(invocation, &wanted)) {
        return status;
    }
    const bool good = demand_read_method(invocation->house, wanted.method, wanted.measured != NULL,
                                         &wanted.question.method, &invocation->error) &&
                      read_measured(invocation, &wanted, &set) && answer_question(invocation, &wanted);
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
