#include <stdlib.h>
#include <unistd.h>

#include "ampsum/show_rules.h"
#include "ampsum/words.h"
#include "cli.h"

static const char *const examples[] = {"ampsum rules 5", "ampsum rules demo-house/uk.ini 5", "ampsum rules --rules uk",
                                       "ampsum rules continuous-factor", NULL};

static const struct option_spec options[] = {
    OPTION_RULES("one rule set only (else the house's, or all of them)", struct rules_question, rules),
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "ID is the number in brackets behind a finding (5), the name of a finding (voltage-drop), of a rule "
    "(continuous-factor), of a table (conductor) or of a rule set: its own rows and those for every one. With HOUSE, "
    "or with "
    "AMPSUM_HOUSE set, only what holds for that house.",
    NULL};

/* The house whose rules are asked for, where one is named; *ret_rules is its set. False where it can't be read. */
static bool read_house(struct invocation *invocation, const char **ret_rules)
{
    const char *environment = getenv("AMPSUM_HOUSE");
    const size_t count = invocation->operand_count;
    const char *first = count > 0 ? invocation->operands[0] : "";
    const bool named = count > 1 || words_end_with(first, ".ini") || words_end_with(first, ".db");
    const bool set = !named && environment != NULL && access(environment, R_OK) == 0;
    if (*ret_rules != NULL ? !named : !named && !set) {
        return true;
    }
    if (!invocation_house(invocation, named ? count - 1 : count)) {
        return false;
    }
    *ret_rules = *ret_rules == NULL ? rules_word(invocation->house->rules) : *ret_rules;
    return true;
}

static int run(struct invocation *invocation)
{
    struct rules_question question = {0};
    struct rules_answer answer;
    if (!invocation_operands(invocation, 0, 2) || !invocation_options(invocation, &question)) {
        return 2;
    }
    if (!read_house(invocation, &question.rules)) {
        return error_exit_status(&invocation->error);
    }
    question.id = invocation->operand_count > 0 ? invocation->operands[0] : NULL;
    if (!answer_rules(&question, invocation->arena, &answer, &invocation->error)) {
        return 2;
    }
    if (!INVOCATION_DATA(invocation, show_rules_json(&answer), &show_rules_rows, &answer, answer.count)) {
        show_rules_text(&answer, &invocation->page, &invocation->out);
        invocation_next(invocation, answer.one ? "ampsum rules   (the whole list)"
                                               : "ampsum rules 1   (one of them with all its words)");
    }
    return 0;
}

const struct command command_rules = {
    .name = "rules",
    .operands = "[HOUSE] [ID]",
    .summary = "the limits in force with their published source",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
