#include "ampsum/show_wire.h"
#include "cli.h"

static const char *const examples[] = {"ampsum wire demo-house/uk.ini",
                                       "ampsum wire demo-house/uk.ini ring-down --break all",
                                       "ampsum wire demo-house/us.ini bedroom --size", NULL};

static const struct option_spec options[] = {
    OPTIONS_BASIS,
    OPTION_SUPPLY,
    {"break", '\0', "OUTLET|panel|all", "a ring with the piece broken that ends at this outlet (panel: the way back)",
     TO_WORD(struct wire_question, broken)},
    {"start", '\0', "APPLIANCE", "voltages while this motor starts, beside the running ones",
     TO_ROW(struct wire_question, starting, KIND_APPLIANCE)},
    {"size", '\0', NULL, "drop, loss and ampacity with each listed size of this metal",
     TO_FLAG(struct wire_question, sizes)},
    {"longest", '\0', NULL, "the run at which each size reaches the advisory drop",
     TO_FLAG(struct wire_question, longest)},
    {"working", '\0', NULL, "residuals of the solution, and the drop in two ways"},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Everything is on, of each group the largest, unless --scene or --on says otherwise. Drop counts from the panel, "
    "in percent of nominal. The loss of a year follows `use` and `hours`: an appliance draws its mean, and what cycles "
    "is taken as cycling independently. Its money is at the branch's own mean price per kWh.",
    NULL};

static void write_next(struct invocation *invocation, const struct wire_answer *answer)
{
    if (answer->known != NO_INDEX && answer->sizes == NULL) {
        invocation_next(invocation, "ampsum wire HOUSE %s --size", answer->house->branches[answer->known].id);
    }
    invocation_next(invocation, "ampsum check HOUSE");
}

static void write_answer(struct invocation *invocation, const struct wire_answer *answer, bool of_one)
{
    if (invocation->format == FORMAT_JSON) {
        json_write(show_wire_json(answer), &invocation->out);
    } else if (invocation->format == FORMAT_CSV) {
        struct table *table = show_wire_csv(answer, of_one);
        invocation_table(invocation, table);
        table_free(table);
    } else {
        show_wire_text(answer, of_one, option_given(invocation, "working"), &invocation->page, &invocation->out);
        write_next(invocation, answer);
    }
}

/* Which branch, and which appliance starts. False with the error set. */
static bool read_question(struct invocation *invocation, struct wire_question *question)
{
    static const char *const of_one[] = {"break", "size", "longest", "working"};
    size_t *ret_branch = &question->only;
    if (invocation->operand_count > 0 &&
        (*ret_branch = find_id(invocation, KIND_BRANCH, invocation->operands[0])) == NO_INDEX) {
        return false;
    }
    if (!invocation_options(invocation, question)) {
        return false;
    }
    if (question->starting != NO_INDEX && *ret_branch == NO_INDEX) {
        *ret_branch = invocation->house->appliances[question->starting].branch;
    }
    for (size_t i = 0; i < sizeof of_one / sizeof *of_one && *ret_branch == NO_INDEX; i++) {
        if (option_given(invocation, of_one[i])) {
            error_set(&invocation->error, ERROR_INPUT, "--%s: of which branch? expected: ampsum wire HOUSE ID --%s",
                      of_one[i], of_one[i]);
            return false;
        }
    }
    return true;
}

static int run(struct invocation *invocation)
{
    struct wire_question question = {.choice = {.wires = true, .loads = true}, .only = NO_INDEX, .starting = NO_INDEX};
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 1) ||
        !invocation_basis(invocation, &question.choice) || !read_question(invocation, &question)) {
        return 2;
    }
    if (invocation_asks_band(invocation)) {
        return invocation_answer_band(invocation, &question.choice, question.only) == 2 ? 2 : 0;
    }
    if (!invocation_supply(invocation, &question.choice.supply_ratio)) {
        return 2;
    }
    struct wire_answer answer;
    const bool good = answer_wire(invocation->house, &question, &answer, &invocation->error);
    if (good) {
        write_answer(invocation, &answer, question.only != NO_INDEX);
    }
    wire_answer_done(&answer);
    return good ? 0 : 2;
}

const struct command command_wire = {
    .name = "wire",
    .operands = "[HOUSE] [ID]",
    .summary = "voltage at each outlet, drop and loss along the cable",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
