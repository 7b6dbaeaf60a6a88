#include "ampsum/show_try.h"
#include "edit_common.h"

static const char *const examples[] = {
    "ampsum try demo-house/us.ini --add 'Heater, 1500 W' --room study",
    "ampsum try demo-house/us.ini --add 'kettle in the kitchen tonight'",
    "ampsum try demo-house/us.ini --move bedroom-heater=study",
    "ampsum try demo-house/us.ini --set kettle.power=1200W --remove toaster",
    NULL,
};

/* What is asked for. */
struct wanted {
    const struct choice_said *said; /* the changes, each with its places behind it */
    size_t said_count;
    struct try_question question;
    bool keep;
};

#define TO_CHANGE TO_STEPS(struct wanted, said, said_count)

static const struct option_spec options[] = {
    {"add", '\0', "LOAD",
     "a load as you would say it: 'Heater, 1500 W', '3x LED lamp 9 W', 'pump 1/2 hp'; with its room and time behind "
     "it, "
     "if you like: 'kettle in the kitchen tonight'",
     TO_CHANGE},
    {"branch", '\0', "ID", "where the load before it goes: a branch", TO_CHANGE},
    {"outlet", '\0', "ID", "where the load before it goes: an outlet", TO_CHANGE},
    {"room", '\0', "ID", "where the load before it goes: a room (the branch there with the most headroom)", TO_CHANGE},
    {"remove", '\0', "A", "without this appliance", TO_CHANGE},
    {"move", '\0', "A=B", "appliance A on branch or outlet B", TO_CHANGE},
    {"set", '\0', "A.key=value", "appliance A with another value", TO_CHANGE},
    OPTION_SCENE(struct wanted, question.scene),
    {"on", '\0', "A,B*2", "judge these on (added to the scene where one is named)",
     TO_WORD(struct wanted, question.on)},
    {"off", '\0', "A,B", "judge these off (out of the scene, or out of everything)",
     TO_WORD(struct wanted, question.off)},
    {"keep", '\0', NULL, "store the change in the house database", TO_FLAG(struct wanted, keep)},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Changes are made in the order given. Nothing is stored without --keep; "
    "`ampsum undo` takes a kept change back. Exit status 1: a branch is over after it.",
    NULL};

/* Gives the exit status: 1 where a branch of the house after it is over. */
static int write_answer(struct invocation *invocation, const struct try_answer *answer, const char *what, bool kept)
{
    if (!INVOCATION_DATA(invocation, show_try_json(answer, kept), &show_try_rows, answer, answer->row_count)) {
        show_try_text(answer, what, &invocation->page, &invocation->out);
        invocation_next(invocation, kept ? "ampsum check HOUSE" : "the same with --keep stores it in a house database");
        invocation_next(invocation, kept ? "ampsum undo HOUSE" : "ampsum settle HOUSE");
    }
    return answer->status == VERDICT_OVER ? 1 : 0;
}

static bool change(struct invocation *invocation, struct document *document, struct text *ret_what)
{
    const struct try_question *question = &((const struct wanted *)invocation->wanted)->question;
    struct try_done *done = arena_array(invocation->arena, question->change_count, sizeof *done);
    const bool good = try_apply(document, question, invocation->arena, done, &invocation->error);
    show_try_done(done, good ? question->change_count : 0, &invocation->page, ret_what);
    return good;
}

/* Stores the change; `before` is the house as it was. */
static bool keep(struct invocation *invocation, const struct house *before, const struct try_question *question,
                 struct text *ret_what, struct try_answer *ret_answer)
{
    invocation->house = NULL;
    if (!edit_database(invocation, change, ret_what)) {
        return false;
    }
    text_add(ret_what, "Stored; `ampsum undo` takes it back.\n");
    try_compare(before, invocation->house, question, ret_answer);
    return true;
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {0};
    struct try_question *question = &wanted.question;
    struct try_answer answer = {0};
    struct text what = {0};
    if (!invocation_begin(invocation, 0, 0, &wanted) ||
        !try_read(invocation->house, wanted.said, wanted.said_count, invocation->arena, question, &invocation->error)) {
        return 2;
    }
    struct house *before = invocation->house;
    const bool good = wanted.keep ? keep(invocation, before, question, &what, &answer)
                                  : answer_try(before, question, &answer, &invocation->error);
    show_try_done(answer.done, good ? answer.done_count : 0, &invocation->page, &what);
    const int status = good ? write_answer(invocation, &answer, text_string(&what), wanted.keep) : 2;
    text_done(&what);
    try_answer_done(&answer);
    if (wanted.keep) {
        house_free(before);
    }
    return status;
}

const struct command command_try = {
    .name = "try",
    .operands = "[HOUSE]",
    .summary = "what if a load is added, removed, moved or changed: before and after, nothing stored",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
