#include <string.h>

#include "ampsum/show_settle.h"
#include "cli.h"

static const char *const examples[] = {"ampsum settle demo-house/us.ini",
                                       "ampsum settle demo-house/us.ini --reach floor",
                                       "ampsum settle demo-house/us.ini --legs", NULL};

static const struct option_spec options[] = {
    {"reach", '\0', "room|floor|house",
     "how far an appliance may be carried: branches of its room (the default), its "
     "floor, the house"},
    {"legs", '\0', NULL, "instead: single-pole branches on legs so that the fullest carries least, for an electrician"},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Only appliances that are not `fixed` move, to branches of the same voltage that take plugs. The moves are the "
    "fewest there are; among as few, those that leave the fullest branch least full.",
    NULL};

static bool read_reach(struct invocation *invocation, enum decide_reach *ret_reach)
{
    const char *value = option_value(invocation, "reach");
    *ret_reach = REACH_ROOM;
    for (int i = REACH_ROOM; value != NULL && i <= REACH_HOUSE; i++) {
        if (strcmp(value, show_reach_word((enum decide_reach)i)) == 0) {
            *ret_reach = (enum decide_reach)i;
            return true;
        }
    }
    if (value != NULL) {
        error_set(&invocation->error, ERROR_INPUT, "--reach %s: expected room, floor or house", value);
    }
    return value == NULL;
}

static void write_next(struct invocation *invocation, const struct settle_answer *answer)
{
    const struct settle_found *found = &answer->found[answer->last];
    struct text next = {0};
    text_add(&next, "ampsum try HOUSE");
    for (size_t i = 0; i < found->move_count; i++) {
        text_printf(&next, " --move %s=%s", found->moves[i].appliance->id, found->moves[i].to->id);
    }
    if (found->move_count == 0) {
        text_clear(&next);
        text_add(&next, answer->reach == REACH_HOUSE ? "ampsum check HOUSE" : "ampsum settle HOUSE --reach house");
    }
    const char *lines[] = {text_string(&next), "ampsum settle HOUSE --legs", NULL};
    invocation_next(invocation, lines);
    text_done(&next);
}

static void write_answer(struct invocation *invocation, const struct settle_answer *answer)
{
    if (invocation->format == FORMAT_JSON) {
        json_write(show_settle_json(answer), &invocation->out);
    } else if (invocation->format == FORMAT_CSV) {
        invocation_csv(invocation, &show_settle_rows, answer, answer->move_count);
    } else {
        show_settle_text(answer, &invocation->page, &invocation->out);
        write_next(invocation, answer);
    }
}

static int balance_legs(struct invocation *invocation)
{
    static const char *const next[] = {"ampsum check HOUSE", "ampsum demand HOUSE", NULL};
    struct legs_answer answer;
    answer_settle_legs(invocation->house, &answer);
    if (invocation->format == FORMAT_JSON) {
        json_write(show_settle_legs_json(&answer), &invocation->out);
    } else if (invocation->format == FORMAT_CSV) {
        invocation_csv(invocation, &show_legs_rows, &answer, answer.change_count);
    } else {
        show_settle_legs_text(&answer, &invocation->page, &invocation->out);
        invocation_next(invocation, next);
    }
    legs_answer_done(&answer);
    return 0;
}

static int run(struct invocation *invocation)
{
    struct settle_question question;
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0) ||
        !read_reach(invocation, &question.reach)) {
        return 2;
    }
    if (option_given(invocation, "legs")) {
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
