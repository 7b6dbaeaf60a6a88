#include "ampsum/answer_open.h"
#include "ampsum/appliance_csv.h"
#include "edit_common.h"
#include "meter_common.h"

static const char *const examples[] = {"ampsum import demo-house/us.ini -o house.db",
                                       "ampsum import --meter demo-house/meter.csv house.db", NULL};

/* What is asked for. */
struct wanted {
    const char *output;
    bool force;
    const char *appliances; /* a list */
    const char *readings;   /* a meter file */
    struct meter_wanted meter;
};

static const struct option_spec options[] = {
    {"output", 'o', "HOUSE", "the house database to make (house.db)", TO_WORD(struct wanted, output)},
    OPTION_FORCE(struct wanted, force),
    {"appliances", '\0', "FILE",
     "add the appliances of a CSV list (columns named as keys) to the house database HOUSE instead",
     TO_WORD(struct wanted, appliances)},
    {"meter", '\0', "FILE", "store meter readings (CSV or ESPI XML) in the house database HOUSE instead",
     TO_WORD(struct wanted, readings)},
    OPTIONS_METER(struct wanted, meter),
    {NULL, '\0', NULL, NULL},
};

static bool add_list(struct invocation *invocation, struct document *document, struct text *ret_what)
{
    const struct wanted *wanted = invocation->wanted;
    size_t count = 0;
    if (!list_read_appliances(wanted->appliances, document, &count, &invocation->error)) {
        return false;
    }
    text_printf(ret_what, "%zu %s added\n", count, count == 1 ? "appliance" : "appliances");
    return true;
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {.output = "house.db"};
    if (!invocation_options(invocation, &wanted)) {
        return 2;
    }
    if (wanted.appliances != NULL) {
        invocation_house_path(invocation, 0);
        return invocation_operands(invocation, 0, 0) ? edit_run(invocation, add_list) : 2;
    }
    if (!meter_options_apply(invocation, &wanted.meter, wanted.readings != NULL, "--meter FILE")) {
        return 2;
    }
    if (wanted.readings != NULL) {
        return meter_import(invocation, &wanted.meter, wanted.readings);
    }
    if (!invocation_operands(invocation, 1, 1)) {
        return 2;
    }
    invocation->house_path = wanted.output;
    if (!house_open(invocation->operands[0], &invocation->house, &invocation->error) ||
        !store_create(invocation->house_path, invocation->house, wanted.force, &invocation->error)) {
        return 2;
    }
    text_add_harmless(&invocation->out, invocation->house_path);
    text_add(&invocation->out, ": ");
    show_house_counts(invocation->house, &invocation->out);
    text_add(&invocation->out, " stored\n");
    invocation_next(invocation, "ampsum check HOUSE");
    invocation_next(invocation, "ampsum export HOUSE -o FILE.ini");
    return 0;
}

const struct command command_import = {
    .name = "import",
    .operands = "FILE | --appliances FILE [HOUSE] | --meter FILE [HOUSE]",
    .summary = "house file to database, all of it or nothing",
    .examples = examples,
    .options = options,
    .run = run,
};
