#include "ampsum/show_place.h"

#include <string.h>

#include "ampsum/asked.h"
#include "cli.h"

static const char *const examples[] = {"ampsum place demo-house/us.ini 'Heater, 1500 W' --room bedroom",
                                       "ampsum place demo-house/uk.ini kettle",
                                       "ampsum place demo-house/us.ini 'space heater in the bedroom tonight'", NULL};

static const struct option_spec options[] = {
    {"room", '\0', "ID", "only branches that have an outlet in this room or serve it",
     TO_ROW(struct place_question, room, KIND_ROOM)},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "LOAD is written as you would say it: 'Heater, 1500 W', '3x LED lamp 9 W', 'pump 1/2 hp', 'kettle'; with the room "
    "and "
    "the time behind it, if you like: 'kettle in the kitchen', 'heater, 1500 W, 7-10pm'. Branches that have room for "
    "it whatever else is on come first, then those that take it only if other loads stay off while it "
    "runs "
    "(never a refrigerator, medical equipment, a pump of a sump or of heating); among them by verdict, then headroom "
    "with "
    "everything on, then voltage drop.",
    NULL};

static void write_next(struct invocation *invocation, const struct asked *asked, const struct place_answer *answer)
{
    /* a quote in the load would end the quotes of the shell */
    const char *load = strchr(asked->load, '\'') == NULL ? asked->load : answer->load.name;
    const struct place_row *best = place_best(answer);
    if (best != NULL) {
        invocation_next(invocation, "ampsum try HOUSE --add '%s' --%s %s", load,
                        best->outlet != NULL ? "outlet" : "branch",
                        best->outlet != NULL ? best->outlet : best->branch->id);
    } else if (answer->room != NO_INDEX) {
        invocation_next(invocation, "ampsum place HOUSE '%s'   (the whole house)", load);
    } else {
        invocation_next(invocation, "ampsum check HOUSE");
    }
    invocation_next(invocation, "ampsum settle HOUSE");
}

/* For people; where the room has none, the whole house is asked for a branch that has room. */
static void write_text(struct invocation *invocation, const struct asked *asked, const struct place_answer *answer)
{
    const struct place_question question = {asked->load, NO_INDEX};
    struct place_answer everywhere;
    const bool elsewhere = answer_place_elsewhere(invocation->house, &question, answer, &everywhere);
    show_place_text(answer, elsewhere ? &everywhere : NULL, asked, &invocation->page, &invocation->out);
    place_answer_done(&everywhere);
    write_next(invocation, asked, answer);
}

static void write_answer(struct invocation *invocation, const struct asked *asked, const struct place_answer *answer)
{
    if (!INVOCATION_DATA(invocation, show_place_json(answer), &show_place_rows, answer, answer->count)) {
        write_text(invocation, asked, answer);
    }
}

static int run(struct invocation *invocation)
{
    struct place_question question = {.room = NO_INDEX};
    struct place_answer answer;
    if (!invocation_begin(invocation, 1, 1, &question)) {
        return 2;
    }
    struct asked asked;
    if (!asked_read(invocation->house, invocation->operands[0], invocation->arena, &asked, &invocation->error)) {
        return 2;
    }
    question.load = asked.load;
    question.room = question.room == NO_INDEX ? asked.room : question.room;
    const bool good = answer_place(invocation->house, &question, &answer, &invocation->error);
    if (good) {
        write_answer(invocation, &asked, &answer);
    }
    place_answer_done(&answer);
    return good ? 0 : 2;
}

const struct command command_place = {
    .name = "place",
    .operands = "[HOUSE] LOAD",
    .summary = "every branch that could take a load, best first, and why the others can't",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
