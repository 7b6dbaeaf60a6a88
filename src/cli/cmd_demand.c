#include <math.h>

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

static void write_answer(struct invocation *invocation, const struct demand_answer *answer, bool working)
{
    const struct show_demand_lines lines = show_demand_lines(answer->chosen);
    if (!INVOCATION_DATA(invocation, show_demand_json(answer, working), &show_demand_line_rows, &lines,
                         lines.list->count)) {
        show_demand_text(answer, working, &invocation->page, &invocation->out);
        invocation_next(invocation, "%s", working ? "ampsum check HOUSE" : "ampsum demand HOUSE --working");
    }
}

static int answer_question(struct invocation *invocation, struct wanted *wanted)
{
    struct demand_answer answer;
    const bool good = answer_demand(invocation->house, &wanted->question, &answer, &invocation->error);
    int status = good ? 0 : 2;
    if (good && wanted->output.path != NULL) {
        status = print_output_write(invocation, &wanted->output, print_service(&answer, &wanted->output.head));
    } else if (good) {
        write_answer(invocation, &answer, wanted->working);
    }
    demand_answer_done(&answer);
    return status;
}

/* Options and house, for the terminal or for a sheet; false with the exit status. */
static bool begin(struct invocation *invocation, struct wanted *wanted, int *ret_status)
{
    *ret_status = 2;
    return invocation_options(invocation, wanted) &&
           (wanted->output.path == NULL ? invocation_begin(invocation, 0, 0, wanted)
                                        : print_output_house(invocation, &wanted->output, wanted, ret_status)) &&
           meter_options_apply(invocation, &wanted->meter, wanted->measured != NULL, "--measured FILE");
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {.question = DEMAND_QUESTION, .output.paper = PAPER_UNSAID};
    struct demand_question *question = &wanted.question;
    struct meter_set set = {0};
    int status = 2;
    if (!begin(invocation, &wanted, &status) ||
        !demand_read_method(invocation->house, wanted.method, wanted.measured != NULL, &question->method,
                            &invocation->error)) {
        return status;
    }
    if (demand_open_measured(invocation->house, invocation->house_path, wanted.measured, &wanted.meter.options,
                             question, &set, &invocation->error)) {
        status = answer_question(invocation, &wanted);
    }
    meter_set_done(&set);
    return status;
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
