#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "ampsum/show_rules.h"
#include "ampsum/words.h"
#include "cli.h"

static const char *const examples[] = {"ampsum rules 5", "ampsum rules demo-house/uk.ini 5", "ampsum rules --rules uk",
                                       "ampsum rules continuous-factor", NULL};

/* What is asked for. */
struct wanted {
    struct rules_question question;
    bool all;
};

static const struct option_spec options[] = {
    OPTION_RULES("one rule set only (else the house's; without a house the list is of all of them)", struct wanted,
                 question.rules),
    {"all", '\0', NULL, "an ID under every rule set", TO_FLAG(struct wanted, all)},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "ID is the number in brackets behind a finding (5), the name of a finding (voltage-drop), of a rule "
    "(continuous-factor), of a table (conductor) or of a rule set: its own rows and those for every one. With HOUSE, "
    "or with AMPSUM_HOUSE set, only what holds for that house; without one an ID is shown for {first-set} and --all "
    "shows it for "
    "each. CSV and JSON hold every rule set unless one is named.",
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

static void write_next(struct invocation *invocation, const struct rules_question *question, bool all)
{
    if (question->id == NULL) {
        invocation_next(invocation, "ampsum rules 1   (one of them with all its words)");
        return;
    }
    if (!all && reference_rule_set(question->id) == NULL) {
        invocation_next(invocation, "ampsum rules --all %s   (under every rule set)", question->id);
    }
    invocation_next(invocation, "ampsum rules   (the whole list)");
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {0};
    struct rules_question *question = &wanted.question;
    struct rules_answer answer;
    if (!invocation_operands(invocation, 0, 2) || !invocation_options(invocation, &wanted)) {
        return 2;
    }
    if (!wanted.all && !read_house(invocation, &question->rules)) {
        return error_exit_status(&invocation->error);
    }
    question->id = invocation_operand(invocation);
    question->one_set = !wanted.all && invocation->format == FORMAT_TABLE;
    if (!answer_rules(question, invocation->arena, &answer, &invocation->error)) {
        return 2;
    }
    if (!INVOCATION_DATA(invocation, show_rules_json(&answer), &show_rules_rows, &answer, answer.count)) {
        show_rules_text(&answer, &invocation->page, &invocation->out);
        write_next(invocation, question, wanted.all);
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
