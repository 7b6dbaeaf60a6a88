#include "ampsum/show_check.h"
#include "cli.h"

static const char *const examples[] = {"ampsum check demo-house/us.ini",
                                       "ampsum check demo-house/us.ini --scene cold-evening", NULL};

/* What is asked for. */
struct wanted {
    struct look look;
    bool notes;
    bool summary;
};

static const struct option_spec options[] = {
    OPTIONS_BASIS(struct wanted, look),
    OPTION_SUPPLY(struct wanted, look),
    {"notes", '\0', NULL, "list notes too, beside dangers and warnings", TO_FLAG(struct wanted, notes)},
    {"summary", '\0', NULL, "panels and number of verdicts alone: no line for each branch, no energy",
     TO_FLAG(struct wanted, summary)},
    {NULL, '\0', NULL, NULL},
};

static void write_next(struct invocation *invocation, const struct check_answer *answer, bool notes)
{
    const char *id = check_first_finding(answer, notes);
    if (answer->worst != NO_INDEX) {
        invocation_next(invocation, "ampsum branch HOUSE %s --working", answer->house->branches[answer->worst].id);
    } else {
        invocation_next(invocation, "ampsum check --help");
    }
    if (id != NULL) {
        invocation_next(invocation, "ampsum rules HOUSE %s   (the source of the number in brackets)", id);
    }
}

static void write_answer(struct invocation *invocation, const struct check_answer *answer, const struct wanted *wanted)
{
    if (!INVOCATION_DATA(invocation, show_check_json(answer), &show_check_rows, answer, answer->house->branch_count)) {
        show_check_text(answer, &invocation->page, wanted->summary, wanted->notes, &invocation->out);
        write_next(invocation, answer, wanted->notes);
    }
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {0};
    struct check_question question = {.choice = {.wires = true, .loads = invocation->format == FORMAT_JSON}};
    int status = 2;
    if (!invocation_begin(invocation, 0, 0, &wanted) ||
        !invocation_look_or_band(invocation, &wanted.look, NO_INDEX, &question.choice, &status)) {
        return status;
    }
    question.no_bill = wanted.summary && invocation->format == FORMAT_TABLE;
    question.choice.no_texts = question.no_bill;
    question.choice.no_notes = question.no_bill && !wanted.notes;
    struct check_answer answer;
    answer_check(invocation->house, &question, &answer);
    write_answer(invocation, &answer, &wanted);
    status = answer.assessment->status == VERDICT_OVER ? 1 : 0;
    check_answer_done(&answer);
    return status;
}

const struct command command_check = {
    .name = "check",
    .operands = "[HOUSE]",
    .summary = "is any branch overloaded, how near is each, what does a day cost",
    .examples = examples,
    .options = options,
    .rows = true,
    .run = run,
};
