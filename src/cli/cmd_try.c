#include <string.h>

#include "ampsum/answer_open.h"
#include "ampsum/show_try.h"
#include "edit_common.h"

static const char *const examples[] = {
    "ampsum try demo-house/us.ini --add 'Heater, 1500 W' --room study",
    "ampsum try demo-house/us.ini --move bedroom-heater=study",
    "ampsum try demo-house/us.ini --set kettle.power=1200W --remove toaster",
    NULL,
};

/* What is asked for. */
struct wanted {
    const struct option_step *steps; /* the changes, each with its places behind it */
    size_t step_count;
    const char *scene;
    const char *on;
    const char *off;
    bool keep;
};

#define TO_CHANGE TO_STEPS(struct wanted, steps, step_count)

static const struct option_spec options[] = {
    {"add", '\0', "LOAD", "a load as you would say it: 'Heater, 1500 W', '3x LED lamp 9 W', 'pump 1/2 hp', 'kettle'",
     TO_CHANGE},
    {"branch", '\0', "ID", "where the load before it goes: a branch", TO_CHANGE},
    {"outlet", '\0', "ID", "where the load before it goes: an outlet", TO_CHANGE},
    {"room", '\0', "ID", "where the load before it goes: a room (the branch there with the most headroom)", TO_CHANGE},
    {"remove", '\0', "A", "without this appliance", TO_CHANGE},
    {"move", '\0', "A=B", "appliance A on branch or outlet B", TO_CHANGE},
    {"set", '\0', "A.key=value", "appliance A with another value", TO_CHANGE},
    OPTION_SCENE(struct wanted, scene),
    {"on", '\0', "A,B*2", "judge these on (added to the scene where one is named)", TO_WORD(struct wanted, on)},
    {"off", '\0', "A,B", "judge these off (out of the scene, or out of everything)", TO_WORD(struct wanted, off)},
    {"keep", '\0', NULL, "store the change in the house database", TO_FLAG(struct wanted, keep)},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Changes are made in the order given. Nothing is stored without --keep; "
    "`ampsum undo` takes a kept change back. Exit status 1: a branch is over after it.",
    NULL};

/* A place of the load before it: the last of each option up to the next --add holds. */
static void read_place(const struct option_step *step, struct try_change *load)
{
    const char **place = strcmp(step->name, "branch") == 0   ? &load->branch
                         : strcmp(step->name, "outlet") == 0 ? &load->outlet
                                                             : &load->room;
    *place = step->value;
}

static struct try_question read_question(struct invocation *invocation)
{
    static const char *const names[] = {
        [TRY_ADD] = "add", [TRY_REMOVE] = "remove", [TRY_MOVE] = "move", [TRY_SET] = "set"};
    enum { NAMES = sizeof names / sizeof names[0] };
    const struct wanted *wanted = invocation->wanted;
    struct try_change *changes = arena_array(invocation->arena, wanted->step_count, sizeof *changes);
    struct try_change passed = {0}; /* takes the places before the first load */
    struct try_change *load = &passed;
    size_t count = 0;
    for (const struct option_step *step = wanted->steps; step < wanted->steps + wanted->step_count; step++) {
        size_t kind = 0;
        while (kind < NAMES && strcmp(step->name, names[kind]) != 0) {
            kind++;
        }
        if (kind == NAMES) {
            read_place(step, load);
            continue;
        }
        changes[count] = (struct try_change){.kind = (enum try_change_kind)kind, .value = step->value};
        load = kind == TRY_ADD ? &changes[count] : load;
        count++;
    }
    return (struct try_question){changes, count, wanted->scene, wanted->on, wanted->off};
}

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

/* Everything in memory: the house as read stays, a changed copy stands beside it. */
static int try_only(struct invocation *invocation)
{
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0)) {
        return 2;
    }
    const struct try_question question = read_question(invocation);
    struct try_answer answer;
    struct text what = {0};
    int status = 2;
    if (answer_try(invocation->house, &question, &answer, &invocation->error)) {
        show_try_done(answer.done, answer.done_count, &invocation->page, &what);
        status = write_answer(invocation, &answer, text_string(&what), false);
    }
    text_done(&what);
    try_answer_done(&answer);
    return status;
}

static bool change(struct invocation *invocation, struct document *document, struct text *ret_what)
{
    const struct try_question question = read_question(invocation);
    struct try_done *done = arena_array(invocation->arena, question.change_count, sizeof *done);
    const bool good = try_apply(document, &question, invocation->arena, done, &invocation->error);
    show_try_done(done, good ? question.change_count : 0, &invocation->page, ret_what);
    return good;
}

static int try_and_keep(struct invocation *invocation)
{
    const char *path = invocation_house_path(invocation, 0);
    struct house *before = NULL;
    struct text what = {0};
    int status = 2;
    if (invocation_operands(invocation, 0, 0) && house_open(path, &before, &invocation->error) &&
        edit_database(invocation, change, &what)) {
        const struct try_question question = read_question(invocation);
        struct try_answer answer;
        text_add(&what, "Stored; `ampsum undo` takes it back.\n");
        try_compare(before, invocation->house, &question, &answer);
        status = write_answer(invocation, &answer, text_string(&what), true);
        try_answer_done(&answer);
    }
    text_done(&what);
    house_free(before);
    return status;
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {0};
    if (!invocation_options(invocation, &wanted)) {
        return 2;
    }
    const struct try_question question = read_question(invocation);
    if (question.change_count == 0 && question.scene == NULL && question.on == NULL && question.off == NULL) {
        error_set(&invocation->error, ERROR_INPUT, "try: nothing to try, expected --add, --remove, --move or --set");
        return 2;
    }
    return wanted.keep ? try_and_keep(invocation) : try_only(invocation);
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
