#include <string.h>

#include "ampsum/housefile.h"
#include "cli.h"

static const char *const examples[] = {"ampsum export house.db -o house.ini", "ampsum export demo-house/us.ini", NULL};

/* What is asked for. */
struct wanted {
    const char *output;
    bool force;
};

static const struct option_spec options[] = {
    {"output", 'o', "FILE", "the house file to write (standard output)", TO_WORD(struct wanted, output)},
    OPTION_FORCE(struct wanted, force),
    {NULL, '\0', NULL, NULL},
};

static int run(struct invocation *invocation)
{
    struct wanted wanted = {.output = "-"};
    if (!invocation_begin(invocation, 0, 0, &wanted)) {
        return 2;
    }
    struct document *document = house_document(invocation->house, invocation->house_path);
    if (wanted.output[0] == '\0' || strcmp(wanted.output, "-") == 0) {
        document_write(document, &invocation->out);
    } else {
        struct text text = {0};
        document_write(document, &text);
        invocation_write_file(invocation, wanted.output, &text, wanted.force);
        text_done(&text);
    }
    document_free(document);
    return 0;
}

const struct command command_export = {
    .name = "export",
    .operands = "[HOUSE]",
    .summary = "database (or file) to a house file",
    .examples = examples,
    .options = options,
    .run = run,
};
