#include "ampsum/show_combos.h"
#include "cli.h"

static const char *const examples[] = {"ampsum combos demo-house/us.ini bedroom",
                                       "ampsum combos demo-house/us.ini bedroom --with bedroom-heater", NULL};

enum { MOST_LISTED = 1000000, MOST_DEFAULT = 20 };

/* What is asked for. */
struct wanted {
    struct combos_question question;
    long most;
};

static const struct option_spec options[] = {
    {"most", '\0', "K", "list at most K sets (20); their number is counted all the same",
     TO_WHOLE(struct wanted, most, 1, MOST_LISTED)},
    {"with", '\0', "APPLIANCE", "what may run beside this appliance of the branch (`lamps*2`: beside two of them)",
     TO_WORD(struct wanted, question.with)},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "A set is listed when its loads together plan for more than the breaker's rating and would not without any one of "
    "them. Fewest loads first, then the largest planning current.",
    NULL};

static void write_next(struct invocation *invocation, const struct combos_answer *answer)
{
    const struct appliance *first = combos_first_load(answer);
    if (first != NULL) {
        invocation_next(invocation, "ampsum combos HOUSE %s --with %s", answer->branch->id, first->id);
    } else {
        invocation_next(invocation, "ampsum branch HOUSE %s", answer->branch->id);
    }
    invocation_next(invocation, "ampsum settle HOUSE");
}

static void write_answer(struct invocation *invocation, const struct combos_answer *answer)
{
    if (invocation->format == FORMAT_JSON) {
        show_combos_json(answer, &invocation->out);
    } else if (invocation->format == FORMAT_CSV) {
        invocation_csv(invocation, show_table(&show_combos_rows, SHOW_CSV, answer, answer->count));
    } else {
        show_combos_text(answer, &invocation->page, &invocation->out);
        write_next(invocation, answer);
    }
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {.most = MOST_DEFAULT};
    struct combos_question *question = &wanted.question;
    if (!invocation_begin(invocation, 1, 1, &wanted) || !invocation_branch(invocation, &question->branch)) {
        return 2;
    }
    question->most = (size_t)wanted.most;
    struct combos_answer answer;
    const bool good = answer_combos(invocation->house, question, &answer, &invocation->error);
    if (good) {
        write_answer(invocation, &answer);
    }
    combos_answer_done(&answer);
    return good ? 0 : 2;
}

const struct command command_combos = {
    .name = "combos",
    .operands = "[HOUSE] ID",
    .summary = "the smallest sets of loads that together overload a branch, and their number",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
