#include "ampsum/show_typical.h"
#include "cli.h"

static const char *const examples[] = {"ampsum typical kettle", "ampsum typical heater --rules us", NULL};

/* What is asked for. */
struct wanted {
    const char *rules;
};

static const struct option_spec options[] = {
    OPTION_RULES("ratings usual there only", struct wanted, rules),
    {NULL, '\0', NULL, NULL},
};

/* The first of them as a question that needs no house. */
static void write_next(struct invocation *invocation, const struct typical_answer *answer)
{
    struct text load = {0};
    show_typical_load(answer, &load);
    invocation_next(invocation, "ampsum estimate %s", invocation_word(invocation, text_string(&load)));
    text_done(&load);
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {0};
    struct typical_answer answer;
    if (!invocation_operands(invocation, 1, 1) || !invocation_options(invocation, &wanted) ||
        !answer_typical(invocation->operands[0], wanted.rules, invocation->arena, &answer, &invocation->error)) {
        return 2;
    }
    if (!INVOCATION_DATA(invocation, show_typical_json(&answer), &show_typical_rows, &answer, answer.count)) {
        show_typical_text(&answer, &invocation->page, &invocation->out);
        write_next(invocation, &answer);
    }
    return 0;
}

const struct command command_typical = {
    .name = "typical",
    .operands = "WORD",
    .summary = "typical ratings with their source, to use until the nameplate is read",
    .examples = examples,
    .options = options,
    .rows = true,
    .run = run,
};
