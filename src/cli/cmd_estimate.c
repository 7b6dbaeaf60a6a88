#include "ampsum/reference.h"
#include "ampsum/show_estimate.h"
#include "cli.h"

static const char *const examples[] = {
    "ampsum estimate 'Heater, 1500 W' '3 x lamp 60 W' --breaker 15 --wire '14 AWG' --run '60 ft' --price 0.16",
    "ampsum estimate 'Heater, 1500 W, continuous=yes' --breaker 15",
    "ampsum estimate 'Kettle, 3 kW' 'toaster' --rules uk --breaker 32", NULL};

/* What is asked for. */
struct wanted {
    struct estimate_question question;
    const char *rules;
    bool working;
};

static const struct option_spec options[] = {
    OPTION_RULES("whose limits, units and nominal voltage hold ({first-set})", struct wanted, rules),
    {"volts", '\0', "V", "nominal voltage of the branch ({by-voltage})", TO_WORD(struct wanted, question.volts)},
    {"breaker", '\0', "A", "rating of the breaker; without it there is no verdict",
     TO_WORD(struct wanted, question.breaker)},
    {"wire", '\0', "SIZE", "14 AWG, 2.5 mm2; copper unless the metal is said", TO_WORD(struct wanted, question.wire)},
    {"run", '\0', "LENGTH", "length of the wire, one way, all loads at its end: 60 ft, 20 m",
     TO_WORD(struct wanted, question.run)},
    {"price", '\0', "MONEY", "price of a kWh", TO_WORD(struct wanted, question.price)},
    {"working", '\0', NULL, "each step of the working", TO_FLAG(struct wanted, working)},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "A LOAD is what you would say: 'Heater, 1500 W', '3 x lamp 60 W', 'pump 1/2 hp', 'kettle'. Further parts are a "
    "rated "
    "voltage or key=value as in a house file: continuous=yes, power_factor=0.8. A bare name takes the typical rating "
    "and says so.",
    "The loads hang on one branch, all of them on, and are judged as `check` judges a branch of a house. Exit status "
    "1: "
    "it is over.",
    NULL};

static void write_answer(struct invocation *invocation, const struct estimate_answer *answer, bool working)
{
    if (!INVOCATION_TABLE(invocation, show_estimate_json(answer), show_estimate_table(answer))) {
        show_estimate_text(answer, working, &invocation->page, &invocation->out);
    }
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {0};
    struct estimate_answer answer;
    int status = 2;
    if (!invocation_operands(invocation, 1, (size_t)-1) || !invocation_options(invocation, &wanted)) {
        return 2;
    }
    wanted.question.loads = invocation->operands;
    wanted.question.load_count = invocation->operand_count;
    wanted.question.rules = wanted.rules == NULL ? RULES_FIRST : reference_rule_set_index(wanted.rules);
    if (answer_estimate(&wanted.question, &answer, &invocation->error)) {
        write_answer(invocation, &answer, wanted.working);
        status = answer.judged && answer.branch.result->verdict == VERDICT_OVER ? 1 : 0;
    }
    estimate_answer_done(&answer);
    return status;
}

const struct command command_estimate = {
    .name = "estimate",
    .operands = "LOAD ...",
    .summary = "loads in words on one branch, without a house: how near the breaker, what drop, what an hour costs",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
