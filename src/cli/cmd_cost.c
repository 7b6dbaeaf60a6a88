#include <string.h>

#include "ampsum/show_cost.h"
#include "cli.h"

static const char *const examples[] = {"ampsum cost demo-house/us.ini", NULL};

/* What is asked for. */
struct wanted {
    int by; /* enum cost_by, in the order of its words */
    const size_t *tariffs;
    size_t tariff_count;
    struct cost_change change;
    bool all;
};

static const struct option_spec options[] = {
    {"by", '\0', "appliance|room|branch", "what a row is (default appliance)", TO_CHOICE(struct wanted, by)},
    {"tariff", '\0', "ID", "price with another tariff of the house; repeated: side by side",
     TO_ROWS(struct wanted, tariffs, tariff_count, KIND_TARIFF)},
    {"all", '\0', NULL, "every row, also those that use nothing", TO_FLAG(struct wanted, all)},
    {"shift", '\0', "A=HH:MM", "what the year costs when appliance A's windows start at HH:MM; may be repeated",
     TO_WORDS(struct wanted, change.shifts, change.shift_count)},
    {"standby", '\0', NULL, "what standby costs: the year without it beside the year as it is",
     TO_FLAG(struct wanted, change.no_standby)},
    {"loss", '\0', NULL, "what the wires lose, where they are known", TO_FLAG(struct wanted, change.loss)},
    {NULL, '\0', NULL, NULL},
};

/* A database without a tariff gets one by a command, a house file by an editor. */
static bool lacks_tariff_command(const struct invocation *invocation)
{
    return invocation->house->tariff_count == 0 && store_is_database(invocation->house_path);
}

static void write_next(struct invocation *invocation, enum cost_by by)
{
    if (lacks_tariff_command(invocation)) {
        invocation_next(invocation, "ampsum add HOUSE tariff flat price=0.30");
    }
    invocation_next(invocation, "ampsum cost HOUSE --by %s", by == COST_BY_ROOM ? "branch" : "room");
    invocation_next(invocation, "ampsum check HOUSE");
}

/* Several tariffs side by side: a row for each. */
static int compare_tariffs(struct invocation *invocation, const size_t *tariffs, size_t count)
{
    struct cost_tariffs answer;
    answer_cost_tariffs(invocation->house, tariffs, count, &answer);
    if (!INVOCATION_DATA(invocation, show_tariffs_json(&answer), &show_tariff_rows, &answer, count)) {
        show_table_text(&show_tariff_rows, &answer, count, &invocation->page, &invocation->out);
    }
    cost_tariffs_done(&answer);
    return 0;
}

static int show_change(struct invocation *invocation, const struct cost_change *question)
{
    struct cost_changed answer;
    if (!answer_cost_change(invocation->house, question, &answer, &invocation->error)) {
        return 2;
    }
    if (!INVOCATION_DATA(invocation, show_change_json(&answer), &show_change_rows, &answer, answer.count)) {
        show_table_text(&show_change_rows, &answer, answer.count, &invocation->page, &invocation->out);
        text_add_char(&invocation->out, '\n');
        show_cautions_text(&invocation->page, NULL, &invocation->out);
        invocation_next(invocation, "ampsum cost HOUSE");
        invocation_next(invocation, "ampsum check HOUSE");
    }
    return 0;
}

static int show_year(struct invocation *invocation, const struct wanted *wanted)
{
    const enum cost_by by = (enum cost_by)wanted->by;
    struct cost_answer answer;
    answer_cost(invocation->house, wanted->change.tariff, NULL, &answer);
    if (!INVOCATION_DATA(invocation, show_cost_json(&answer), &show_cost_rows, &answer.by[by], answer.by[by].count)) {
        show_cost_text(&answer, by, wanted->all, lacks_tariff_command(invocation), &invocation->page, &invocation->out);
        write_next(invocation, by);
    }
    cost_answer_done(&answer);
    return 0;
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {.by = COST_BY_APPLIANCE};
    if (!invocation_begin(invocation, 0, 0, &wanted)) {
        return 2;
    }
    struct cost_change *change = &wanted.change;
    if (wanted.tariff_count > 1) {
        return compare_tariffs(invocation, wanted.tariffs, wanted.tariff_count);
    }
    change->tariff = wanted.tariff_count == 1 ? wanted.tariffs[0] : invocation->house->tariff;
    return change->shift_count > 0 || change->no_standby || change->loss ? show_change(invocation, change)
                                                                         : show_year(invocation, &wanted);
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
