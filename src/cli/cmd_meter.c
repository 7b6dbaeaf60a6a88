#include "ampsum/answer_open.h"
#include "ampsum/show_meter.h"
#include "meter_common.h"

static const char *const examples[] = {"ampsum meter demo-house/us.ini --file demo-house/meter.csv",
                                       "ampsum meter demo-house/us.ini --file demo-house/meter.csv --by day", NULL};

/* What is asked for. */
struct wanted {
    const char *file;
    int by; /* enum meter_by, in the order of its words */
    struct meter_wanted meter;
};

static const struct option_spec options[] = {
    {"file", '\0', "FILE", "look at this file of readings (CSV or ESPI XML) instead of those stored",
     TO_WORD(struct wanted, file)},
    {"by", '\0', "hour|day|month", "what a row is (default hour: hour of the day)", TO_CHOICE(struct wanted, by)},
    OPTIONS_METER(struct wanted, meter),
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Readings are stored with: ampsum import --meter FILE HOUSE",
    "Base load: median of the mean powers of the readings that start from 02:00 to 04:00.",
    "Maximum demand: the largest mean power over whole readings without a gap, from any reading's start.",
    NULL,
};

static void write_next(struct invocation *invocation, const struct meter_answer *answer, const char *file)
{
    const char *word = file == NULL ? NULL : invocation_word(invocation, file);
    invocation_next(invocation, "ampsum meter HOUSE%s%s --by day", file == NULL ? "" : " --file ",
                    file == NULL ? "" : word);
    if (meter_tells_demand(answer)) {
        invocation_next(invocation, "ampsum demand HOUSE --measured %s", file == NULL ? "meter" : word);
    } else {
        invocation_next(invocation, "ampsum cost HOUSE");
    }
}

static void write_answer(struct invocation *invocation, const struct meter_answer *answer, const char *notes,
                         const struct wanted *wanted)
{
    const enum meter_by by = (enum meter_by)wanted->by;
    size_t count = 0;
    const struct show_rows *rows = show_meter_rows(answer, by, &count);
    if (!INVOCATION_DATA(invocation, show_meter_json(answer), rows, answer, count)) {
        show_meter_text(answer, notes, by, &invocation->page, &invocation->out);
        write_next(invocation, answer, wanted->file);
    }
}

static int run(struct invocation *invocation)
{
    struct meter_set set = {0};
    struct wanted wanted = {.by = METER_BY_HOUR};
    const bool good =
        invocation_begin(invocation, 0, 0, &wanted) &&
        meter_options_apply(invocation, &wanted.meter, wanted.file != NULL, "--file FILE") &&
        readings_open(invocation->house_path, wanted.file, &wanted.meter.options, &set, &invocation->error);
    if (good) {
        struct meter_answer answer;
        answer_meter(invocation->house, set.readings, set.count, &answer);
        write_answer(invocation, &answer, text_string(&set.notes), &wanted);
        meter_answer_done(&answer);
    }
    meter_set_done(&set);
    return good ? 0 : error_exit_status(&invocation->error);
}

const struct command command_meter = {
    .name = "meter",
    .operands = "[HOUSE]",
    .summary = "what the meter says, beside what the listed appliances explain",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
