#include "ampsum/show_wire.h"
#include "cli.h"

static const char *const examples[] = {"ampsum wire demo-house/uk.ini",
                                       "ampsum wire demo-house/uk.ini ring-down --break all",
                                       "ampsum wire demo-house/us.ini bedroom --size", NULL};

/* What is asked for. */
struct wanted {
    struct wire_question question;
    struct look look;
    bool working;
};

static const struct option_spec options[] = {
    OPTIONS_BASIS(struct wanted, look),
    OPTION_SUPPLY(struct wanted, look),
    {"break", '\0', "OUTLET|panel|all", "a ring with the piece broken that ends at this outlet (panel: the way back)",
     TO_WORD(struct wanted, question.broken)},
    {"start", '\0', "APPLIANCE", "voltages while this motor starts, beside the running ones",
     TO_ROW(struct wanted, question.starting, KIND_APPLIANCE)},
    {"size", '\0', NULL, "drop, loss and ampacity with each listed size of this metal",
     TO_FLAG(struct wanted, question.sizes)},
    {"longest", '\0', NULL, "the run at which each size reaches the advisory drop",
     TO_FLAG(struct wanted, question.longest)},
    {"working", '\0', NULL, "residuals of the solution, and the drop in two ways", TO_FLAG(struct wanted, working)},
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

static void write_answer(struct invocation *invocation, const struct wire_answer *answer, const struct wanted *wanted)
{
    const bool of_one = wanted->question.only != NO_INDEX;
    if (!INVOCATION_TABLE(invocation, show_wire_json(answer), show_wire_csv(answer, of_one))) {
        show_wire_text(answer, of_one, wanted->working, &invocation->page, &invocation->out);
        write_next(invocation, answer);
    }
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {
        .question = {.choice = {.wires = true, .loads = true}, .only = NO_INDEX, .starting = NO_INDEX}};
    struct wire_question *question = &wanted.question;
    int status = 2;
    if (!invocation_begin(invocation, 0, 1, &wanted) ||
        !wire_find_branch(invocation->house, invocation_operand(invocation), wanted.working, question,
                          &invocation->error)) {
        return 2;
    }
    if (!invocation_look_or_band(invocation, &wanted.look, question->only, &question->choice, &status)) {
        return error_is_set(&invocation->error) ? status : 0; /* a wire's answer says of no branch that it is over */
    }
    struct wire_answer answer;
    const bool good = answer_wire(invocation->house, question, &answer, &invocation->error);
    if (good) {
        write_answer(invocation, &answer, &wanted);
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
