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

static const struct option_spec options[] = {
    {"add", '\0', "LOAD", "a load as you would say it: 'Heater, 1500 W', '3x LED lamp 9 W', 'pump 1/2 hp', 'kettle'"},
    {"branch", '\0', "ID", "where the load before it goes: a branch"},
    {"outlet", '\0', "ID", "where the load before it goes: an outlet"},
    {"room", '\0', "ID", "where the load before it goes: a room (the branch there with the most headroom)"},
    {"remove", '\0', "A", "without this appliance"},
    {"move", '\0', "A=B", "appliance A on branch or outlet B"},
    {"set", '\0', "A.key=value", "appliance A with another value"},
    OPTION_SCENE,
    {"on", '\0', "A,B*2", "judge these on (added to the scene where one is named)"},
    {"off", '\0', "A,B", "judge these off (out of the scene, or out of everything)"},
    {"keep", '\0', NULL, "store the change in the house database"},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Changes are made in the order given. Nothing is stored without --keep; "
    "`ampsum undo` takes a kept change back. Exit status 1: a branch is over after it.",
    NULL};

/* A place of the load before it: the last of each option up to the next --add holds. */
static void read_place(const char *name, const char *value, struct try_change *load)
{
    if (strcmp(name, "branch") == 0) {
        load->branch = value;
    } else if (strcmp(name, "outlet") == 0) {
        load->outlet = value;
    } else if (strcmp(name, "room") == 0) {
        load->room = value;
    }
}

static struct try_question read_question(const struct invocation *invocation)
{
    static const char *const names[] = {
        [TRY_ADD] = "add", [TRY_REMOVE] = "remove", [TRY_MOVE] = "move", [TRY_SET] = "set"};
    const char *name = NULL;
    const char *value = NULL;
    size_t most = 0;
    while (option_next(invocation, most, &name, &value)) {
        most++;
    }
    struct try_change *changes = arena_array(invocation->arena, most, sizeof *changes);
    struct try_change passed = {0}; /* takes the places before the first load */
    struct try_change *load = &passed;
    size_t count = 0;
    for (size_t i = 0; option_next(invocation, i, &name, &value); i++) {
        read_place(name, value, load);
        for (size_t kind = 0; kind < sizeof names / sizeof names[0]; kind++) {
            if (strcmp(name, names[kind]) == 0) {
                changes[count++] = (struct try_change){.kind = (enum try_change_kind)kind, .value = value};
                load = kind == TRY_ADD ? &changes[count - 1] : load;
            }
        }
    }
    return (struct try_question){changes, count, option_value(invocation, "scene"), option_value(invocation, "on"),
                                 option_value(invocation, "off")};
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

static bool has_change(struct invocation *invocation)
{
    static const char *const changes[] = {"add", "remove", "move", "set", "on", "off", "scene"};
    for (size_t i = 0; i < sizeof changes / sizeof changes[0]; i++) {
        if (option_given(invocation, changes[i])) {
            return true;
        }
    }
    error_set(&invocation->error, ERROR_INPUT, "try: nothing to try, expected --add, --remove, --move or --set");
    return false;
}

static int run(struct invocation *invocation)
{
    if (!has_change(invocation)) {
        return 2;
    }
    return option_given(invocation, "keep") ? try_and_keep(invocation) : try_only(invocation);
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
