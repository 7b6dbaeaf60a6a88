#include "ampsum/show_fault.h"
#include "cli.h"

static const char *const examples[] = {"ampsum fault demo-house/uk.ini",
                                       "ampsum fault demo-house/uk.ini ring-down --working",
                                       "ampsum fault demo-house/us.ini workshop --fault-at-panel 10000", NULL};

/* What is asked for. */
struct wanted {
    struct fault_question question;
    bool longest;
    bool working;
};

static const struct option_spec options[] = {
    {"fault-at-panel", '\0', "A", "current available at the main panel, as the utility says",
     TO_CURRENT(struct wanted, question.options.at_panel_a)},
    {"longest", '\0', NULL, "the run at which each device would still open at once", TO_FLAG(struct wanted, longest)},
    {"working", '\0', NULL, "each loop and current, line by line", TO_FLAG(struct wanted, working)},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "ID is a branch or a panel. Two worst cases are never mixed: the least current (hot wire, weakest supply, far end) "
    "says whether the device opens, the largest (cold wire, strongest supply, at the device) whether it can break it. "
    "What is not given is not asserted; exit status 1: a danger stands.",
    NULL};

static void write_answer(struct invocation *invocation, const struct fault_answer *answer, const struct wanted *wanted)
{
    const bool longest = wanted->longest;
    if (INVOCATION_DATA(invocation, show_fault_json(answer), longest ? &show_fault_longest_rows : &show_fault_rows,
                        answer, longest ? answer->branch_count : answer->row_count)) {
        return;
    }
    show_fault_text(answer, longest, &invocation->page, &invocation->out);
    if (wanted->working) {
        show_fault_working(answer, &invocation->page, &invocation->out);
    }
    text_add_char(&invocation->out, '\n');
    show_cautions_text(&invocation->page, show_fault_notes(answer), &invocation->out);
    invocation_next(invocation, fault_is_known(answer) ? "ampsum fault HOUSE --longest"
                                                       : "ampsum help house   (what [house] takes)");
    invocation_next(invocation, "ampsum wire HOUSE");
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {0};
    if (!invocation_begin(invocation, 0, 1, &wanted) ||
        !fault_find_place(invocation->house, invocation_operand(invocation), &wanted.question, &invocation->error)) {
        return 2;
    }
    struct fault_answer answer;
    answer_fault(invocation->house, &wanted.question, &answer);
    write_answer(invocation, &answer, &wanted);
    const int status = answer.danger_count > 0 ? 1 : 0;
    fault_answer_done(&answer);
    return status;
}

const struct command command_fault = {
    .name = "fault",
    .operands = "[HOUSE] [ID]",
    .summary = "if a wire touches metal: fault current, loop impedance, disconnection at each outlet",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
