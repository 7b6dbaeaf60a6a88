#include "ampsum/show_day.h"
#include "cli.h"

static const char *const examples[] = {"ampsum day demo-house/us.ini", "ampsum day demo-house/us.ini workshop",
                                       "ampsum day demo-house/us.ini --day weekend --month jan", NULL};

static const struct option_spec options[] = {
    {"day", '\0', "DAY", "weekday, weekend, or mon to sun (default: the busiest day)",
     TO_WORD(struct day_question, day)},
    {"month", '\0', "MONTH", "jan to dec (default: the busiest month)", TO_WORD(struct day_question, month)},
    {"on-date", '\0', "DATE", "MM-DD in a year that begins on a Monday, or YYYY-MM-DD",
     TO_WORD(struct day_question, date)},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "An ID is a branch's or a panel's. Without a day each branch shows its own busiest day.",
    "CSV gives the whole course: one row for each stretch of minutes in which nothing changes.",
    NULL,
};

static void write_next(struct invocation *invocation, const struct day_answer *answer)
{
    const struct day_view *first = &answer->views[0];
    if (answer->question->id == NULL) {
        invocation_next(invocation, "ampsum day HOUSE %s", first->id);
    } else if (first->leg == NULL) {
        invocation_next(invocation, "ampsum branch HOUSE %s --working", first->id);
    } else {
        invocation_next(invocation, "ampsum check HOUSE");
    }
    invocation_next(invocation, "ampsum day HOUSE --day weekend --month jan");
}

static void write_answer(struct invocation *invocation, const struct day_answer *answer)
{
    if (!INVOCATION_DATA(invocation, show_day_json(answer), &show_course_rows, answer->rows, answer->row_count)) {
        show_day_text(answer, &invocation->page, &invocation->out);
        if (answer->count > 0) {
            write_next(invocation, answer);
        }
    }
}

static int run(struct invocation *invocation)
{
    struct day_question question = {.dash = "--"};
    struct day_answer answer;
    if (!invocation_begin(invocation, 0, 1, &question)) {
        return 2;
    }
    question.id = invocation_operand(invocation);
    const bool good = answer_day(invocation->house, &question, &answer, &invocation->error);
    if (good) {
        write_answer(invocation, &answer);
    }
    day_answer_done(&answer);
    return good ? 0 : 2;
}

const struct command command_day = {
    .name = "day",
    .operands = "[HOUSE] [ID]",
    .summary = "current on each branch over a day, busiest minute, chance of overload",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
