#include "ampsum/show_cost.h"
#include "cli.h"

static const char *const examples[] = {"ampsum cost demo-house/us.ini", NULL};

/* What is asked for. */
struct wanted {
    struct cost_question question;
    int by; /* enum cost_by, in the order of its words */
    bool all;
};

static const struct option_spec options[] = {
    {"by", '\0', "appliance|room|branch", "what a row is (default appliance)", TO_CHOICE(struct wanted, by)},
    {"tariff", '\0', "ID", "price with another tariff of the house; repeated: side by side",
     TO_ROWS(struct wanted, question.tariffs, question.tariff_count, KIND_TARIFF)},
    {"all", '\0', NULL, "every row, also those that use nothing", TO_FLAG(struct wanted, all)},
    {"shift", '\0', "A=HH:MM", "what the year costs when appliance A's windows start at HH:MM; may be repeated",
     TO_WORDS(struct wanted, question.change.shifts, question.change.shift_count)},
    {"standby", '\0', NULL, "what standby costs: the year without it beside the year as it is",
     TO_FLAG(struct wanted, question.change.no_standby)},
    {"loss", '\0', NULL, "what the wires lose, where they are known", TO_FLAG(struct wanted, question.change.loss)},
    {NULL, '\0', NULL, NULL},
};

/* A database without a tariff gets one by a command, a house file by an editor. */
static bool lacks_tariff_command(const struct invocation *invocation)
{
    return invocation->house->tariff_count == 0 && store_is_database(invocation->house_path);
}

static void write_next(struct invocation *invocation, enum cost_kind kind, enum cost_by by)
{
    if (kind == COST_OF_TARIFFS) {
        return;
    }
    if (kind == COST_OF_YEAR && lacks_tariff_command(invocation)) {
        invocation_next(invocation, "ampsum add HOUSE tariff flat price=0.30");
    }
    if (kind == COST_OF_YEAR) {
        invocation_next(invocation, "ampsum cost HOUSE --by %s", by == COST_BY_ROOM ? "branch" : "room");
    } else {
        invocation_next(invocation, "ampsum cost HOUSE");
    }
    invocation_next(invocation, "ampsum check HOUSE");
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {.by = COST_BY_APPLIANCE};
    struct cost_asked answer;
    if (!invocation_begin(invocation, 0, 0, &wanted)) {
        return 2;
    }
    const enum cost_by by = (enum cost_by)wanted.by;
    const bool good = answer_cost_asked(invocation->house, &wanted.question, &answer, &invocation->error);
    if (good && !INVOCATION_TABLE(invocation, show_cost_json(&answer), show_cost_csv(&answer, by))) {
        show_cost_text(&answer, by, wanted.all, lacks_tariff_command(invocation), &invocation->page, &invocation->out);
        write_next(invocation, answer.kind, by);
    }
    cost_asked_done(&answer);
    return good ? 0 : 2;
}

const struct command command_cost = {
    .name = "cost",
    .operands = "[HOUSE]",
    .summary = "energy and money by appliance, room, branch; day, month, year",
    .examples = examples,
    .options = options,
    .rows = true,
    .run = run,
};
