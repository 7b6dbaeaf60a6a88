#include <errno.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "cli.h"
#include "second.h"

static const char *const examples[] = {"ampsum serve demo-house/us.ini --open", "ampsum serve house.db", NULL};

/* What is asked for. */
struct wanted {
    long port;
    bool read_only;
    bool open;
    bool fresh;
};

static const struct option_spec options[] = {
    {"port", '\0', "N", "listen on this port of 127.0.0.1 (default: as last time, else any free one)",
     TO_WHOLE(struct wanted, port, 0, 65535)},
    {"read-only", '\0', NULL, "nothing can be changed from the page", TO_FLAG(struct wanted, read_only)},
    {"open", '\0', NULL, "open the page in the browser", TO_FLAG(struct wanted, open)},
    {"fresh", '\0', NULL, "a new address; the earlier one and its bookmarks let nobody in any more",
     TO_FLAG(struct wanted, fresh)},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Prints the page's address, which is for you alone: only this computer can reach it, and only with the key in it. "
    "Address and key are kept in a file that only you can read ($XDG_STATE_HOME/ampsum, ~/.local/state/ampsum) for 90 "
    "days after the last start, so that a bookmark lives. "
    "Ctrl-C stops it. A house file is served for reading; a database that does not exist yet is begun on the page. "
    "Without HOUSE, and where there is no house.db, the page begins with a circuit or loads typed in.",
    NULL};

/* Where this program is, so that the page can ask it. */
static const char *own_path(struct invocation *invocation)
{
    char path[4096];
    const ssize_t length = readlink("/proc/self/exe", path, sizeof path);
    return length > 0 ? arena_copy_length(invocation->arena, path, (size_t)length) : NULL;
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {0};
    const char *house = getenv("AMPSUM_HOUSE");
    const bool unasked = invocation->operand_count == 0 && (house == NULL || house[0] == '\0');
    const char *path = invocation_house_path(invocation, 0);
    if (!invocation_operands(invocation, 0, 0) || !invocation_options(invocation, &wanted)) {
        return 2;
    }
    if (strcmp(path, "-") == 0) {
        error_set(&invocation->error, ERROR_INPUT,
                  "serve: a file that can be read again is needed, not standard input");
        return 2;
    }
    const char *program = own_path(invocation);
    if (program == NULL) {
        error_set(&invocation->error, ERROR_STORE, "serve: this program's own place can't be told: %s",
                  strerror(errno));
        return 3;
    }
    const char *flags = arena_printf(invocation->arena, "-%s%s%s%s", wanted.fresh ? "f" : "",
                                     wanted.read_only ? "r" : "", wanted.open ? "o" : "", unasked ? "n" : "");
    const char *const words[] = {"ampsum-serve", path,  arena_printf(invocation->arena, "%ld", wanted.port),
                                 program,        flags, NULL};
    return run_second_program("ampsum-serve", words);
}

const struct command command_serve = {
    .name = "serve",
    .operands = "[HOUSE]",
    .summary = "the house as a page in a browser on this computer",
    .examples = examples,
    .options = options,
    .details = details,
    .run = run,
};
