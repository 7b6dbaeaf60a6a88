#include "ampsum/show_settle.h"
#include "cli.h"

static const char *const examples[] = {"ampsum settle demo-house/us.ini",
                                       "ampsum settle demo-house/us.ini --reach floor",
                                       "ampsum settle demo-house/us.ini --legs", NULL};

/* What is asked for. */
struct wanted {
    int reach; /* enum decide_reach, in the order of its words */
    bool legs;
};

static const struct option_spec options[] = {
    {"reach", '\0', "room|floor|house",
     "how far an appliance may be carried: branches of its room (the default), its "
     "floor, the house",
     TO_CHOICE(struct wanted, reach)},
    {"legs", '\0', NULL, "instead: single-pole branches on legs so that the fullest carries least, for an electrician",
     TO_FLAG(struct wanted, legs)},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Only appliances that are not `fixed` move, to branches of the same voltage that take plugs. The moves are the "
    "fewest there are; among as few, those that leave the fullest branch least full.",
    NULL};

static void write_next(struct invocation *invocation, const struct settle_answer *answer)
{
    const struct settle_found *found = settle_best(answer);
    struct text moves = {0};
    for (size_t i = 0; i < found->move_count; i++) {
        text_printf(&moves, " --move %s=%s", found->moves[i].appliance->id, found->moves[i].to->id);
    }
    if (found->move_count > 0) {
        invocation_next(invocation, "ampsum try HOUSE%s", text_string(&moves));
    } else {
        invocation_next(invocation,
                        settle_may_reach_further(answer) ? "ampsum settle HOUSE --reach house" : "ampsum check HOUSE");
    }
    invocation_next(invocation, "ampsum settle HOUSE --legs");
    text_done(&moves);
}

static void write_answer(struct invocation *invocation, const struct settle_answer *answer)
{
    if (!INVOCATION_DATA(invocation, show_settle_json(answer), &show_settle_rows, answer, answer->move_count)) {
        show_settle_text(answer, &invocation->page, &invocation->out);
        write_next(invocation, answer);
    }
}

static int balance_legs(struct invocation *invocation)
{
    struct legs_answer answer;
    answer_settle_legs(invocation->house, &answer);
    if (!INVOCATION_DATA(invocation, show_settle_legs_json(&answer), &show_legs_rows, &answer, answer.change_count)) {
        show_settle_legs_text(&answer, &invocation->page, &invocation->out);
        invocation_next(invocation, "ampsum check HOUSE");
        invocation_next(invocation, "ampsum demand HOUSE");
    }
    legs_answer_done(&answer);
    return 0;
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {.reach = REACH_ROOM};
    if (!invocation_begin(invocation, 0, 0, &wanted)) {
        return 2;
    }
    const struct settle_question question = {.reach = (enum decide_reach)wanted.reach};
    if (wanted.legs) {
        return balance_legs(invocation);
    }
    struct settle_answer answer;
    const bool good = answer_settle(invocation->house, &question, &answer, &invocation->error);
    if (good) {
        write_answer(invocation, &answer);
    }
    settle_answer_done(&answer);
    return good ? 0 : 2;
}

const struct command command_settle = {
    .name = "settle",
    .operands = "[HOUSE]",
    .summary = "the fewest moves of plug-in appliances that leave no branch over or at risk",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
