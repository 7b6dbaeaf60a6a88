#include "ampsum/show_log.h"
#include "cli.h"

static const char *const examples[] = {"ampsum log house.db", NULL};

static int run(struct invocation *invocation)
{
    const char *path = invocation_house_path(invocation, 0);
    struct store *store = NULL;
    struct log_answer answer = {0};
    if (!invocation_operands(invocation, 0, 0) || !invocation_is_database(invocation) ||
        !store_open(path, STORE_READ, &store, &invocation->error)) {
        return 2;
    }
    const bool read = store_journal(store, invocation->arena, &answer.entries, &answer.count, &invocation->error);
    store_close(store);
    if (!read) {
        return 3;
    }
    if (!INVOCATION_DATA(invocation, show_log_json(&answer), &show_log_rows, &answer, answer.count)) {
        show_log_text(&answer, &invocation->out);
    }
    return 0;
}

const struct command command_log = {
    .name = "log",
    .operands = "[HOUSE]",
    .summary = "what was changed, when and by which command",
    .examples = examples,
    .rows = true,
    .run = run,
};
