#include "ampsum/show_check.h"
#include "ampsum/show_wire.h"
#include "cli.h"

static const char *const examples[] = {"ampsum branch demo-house/us.ini bedroom --working", NULL};

/* What is asked for. */
struct wanted {
    struct look look;
    bool working;
};

static const struct option_spec options[] = {
    {"working", '\0', NULL, "each step in words and figures, and both ways of finding a total",
     TO_FLAG(struct wanted, working)},
    OPTIONS_BASIS(struct wanted, look),
    OPTION_SUPPLY(struct wanted, look),
    {NULL, '\0', NULL, NULL},
};

static void write_text(struct invocation *invocation, const struct branch_answer *answer, bool working)
{
    struct wire_branch wire = {0};
    if (working) {
        wire_branch_init(&wire, answer->check.assessment, answer->index, invocation->arena);
    }
    show_branch_text(answer, working ? &wire : NULL, &invocation->page, &invocation->out);
    wire_branch_done(&wire);
    invocation_next(invocation, "ampsum combos HOUSE %s", answer->branch->id);
    invocation_next(invocation, "ampsum check HOUSE");
}

static void write_answer(struct invocation *invocation, const struct branch_answer *answer, bool working)
{
    if (!INVOCATION_DATA(invocation, show_branch_json(answer), &show_load_rows, answer, show_load_count(answer))) {
        write_text(invocation, answer, working);
    }
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {0};
    struct branch_question question = {.choice = {.wires = true, .loads = true},
                                       .bill = invocation->format == FORMAT_JSON};
    if (!invocation_begin(invocation, 1, 1, &wanted) || !invocation_look(invocation, &wanted.look, &question.choice) ||
        !invocation_branch(invocation, &question.branch)) {
        return 2;
    }
    struct branch_answer answer;
    answer_branch(invocation->house, &question, &answer);
    write_answer(invocation, &answer, wanted.working);
    const int status = answer.result->verdict == VERDICT_OVER ? 1 : 0;
    branch_answer_done(&answer);
    return status;
}

const struct command command_branch = {
    .name = "branch",
    .operands = "[HOUSE] ID",
    .summary = "one branch's loads: resistance, voltage, current, power of each and the total",
    .examples = examples,
    .options = options,
    .rows = true,
    .run = run,
};
