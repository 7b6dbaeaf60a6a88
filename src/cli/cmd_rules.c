#include "ampsum/show_rules.h"
#include "cli.h"

static const char *const examples[] = {"ampsum rules 5", "ampsum rules --rules uk", "ampsum rules continuous-factor",
                                       NULL};

static const struct option_spec options[] = {
    {"rules", '\0', "us|iec|uk", "one rule set only (else all of them)"},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "ID is the number in brackets behind a finding (5), the name of a finding (voltage-drop), of a rule "
    "(continuous-factor), of a table (conductor) or of a rule set: its own rows and those for every one.",
    NULL};

static int run(struct invocation *invocation)
{
    static const char *const of_list[] = {"ampsum rules 1   (one of them with all its words)", NULL};
    static const char *const of_one[] = {"ampsum rules   (the whole list)", NULL};
    struct rules_question question = {0};
    struct rules_answer answer;
    if (!invocation_operands(invocation, 0, 1) || !invocation_rule_set(invocation, &question.rules)) {
        return 2;
    }
    question.id = invocation->operand_count > 0 ? invocation->operands[0] : NULL;
    if (!answer_rules(&question, invocation->arena, &answer, &invocation->error)) {
        return 2;
    }
    if (invocation->format == FORMAT_JSON) {
        json_write(show_rules_json(&answer), &invocation->out);
    } else if (invocation->format == FORMAT_CSV) {
        invocation_csv(invocation, &show_rules_rows, &answer, answer.count);
    } else {
        show_rules_text(&answer, &invocation->page, &invocation->out);
        invocation_next(invocation, answer.one ? of_one : of_list);
    }
    return 0;
}

const struct command command_rules = {
    .name = "rules",
    .operands = "[ID]",
    .summary = "the limits in force with their published source",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
