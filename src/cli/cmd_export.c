#include <string.h>

#include "ampsum/housefile.h"
#include "cli.h"

static const char *const examples[] = {"ampsum export house.db -o house.ini", "ampsum export demo-house/us.ini", NULL};

static const struct option_spec options[] = {
    {"output", 'o', "FILE", "the house file to write (standard output)"},
    OPTION_FORCE,
    {NULL, '\0', NULL, NULL},
};

static int run(struct invocation *invocation)
{
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0)) {
        return 2;
    }
    struct document *document = house_document(invocation->house, invocation->house_path);
    const char *path = option_value(invocation, "output");
    if (path == NULL || path[0] == '\0' || strcmp(path, "-") == 0) {
        document_write(document, &invocation->out);
    } else {
        struct text text = {0};
        document_write(document, &text);
        if (file_write_whole(path, text_string(&text), text.length, option_given(invocation, "force"),
                             &invocation->error)) {
            text_add_harmless(&invocation->out, path);
            text_add(&invocation->out, ": written\n");
        }
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
