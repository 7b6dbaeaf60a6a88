#include "cli.h"

static const char *const examples[] = {"ampsum undo house.db", "ampsum undo house.db --redo", NULL};

/* What is asked for. */
struct wanted {
    bool redo;
};

static const struct option_spec options[] = {
    {"redo", '\0', NULL, "do the last undone change again", TO_FLAG(struct wanted, redo)},
    {NULL, '\0', NULL, NULL},
};

static int run(struct invocation *invocation)
{
    const char *path = invocation_house_path(invocation, 0);
    struct wanted wanted = {0};
    struct store *store = NULL;
    if (!invocation_options(invocation, &wanted) || !invocation_operands(invocation, 0, 0) ||
        !invocation_is_database(invocation) || !store_open(path, STORE_WRITE, &store, &invocation->error)) {
        return 2;
    }
    struct text what = {0};
    const bool redo = wanted.redo;
    bool done = redo ? store_redo(store, &what, &invocation->error) : store_undo(store, &what, &invocation->error);
    store_close(store);
    if (done && what.length == 0) {
        text_printf(&invocation->out, "nothing to %s\n", redo ? "do again" : "undo");
    } else if (done) {
        text_printf(&invocation->out, "%s: %s\n", redo ? "done again" : "undone", text_string(&what));
        invocation_next(invocation, "%s", redo ? "ampsum undo HOUSE" : "ampsum undo HOUSE --redo");
        invocation_next(invocation, "ampsum log HOUSE");
    }
    text_done(&what);
    return 0;
}

const struct command command_undo = {
    .name = "undo",
    .operands = "[HOUSE]",
    .summary = "take back the last change of a house database, or do it again",
    .examples = examples,
    .options = options,
    .run = run,
};
