#include "ampsum/print.h"
#include "cli.h"
#include "print_output.h"

static const char *const examples[] = {"ampsum directory demo-house/us.ini -o panel.pdf --force", NULL};

static const struct option_spec options[] = {
    OPTIONS_PRINT,
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {"A page for each panel: by position ({by-spaces}), with "
                                      "label, rooms served and rating, and empty lines for entries by hand.",
                                      NULL};

static int run(struct invocation *invocation)
{
    struct output output;
    int status = 2;
    if (!print_output_init(invocation, &output) || !print_output_here(invocation, &output, &status)) {
        return status;
    }
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0) ||
        !print_output_head(invocation, &output)) {
        return 2;
    }
    struct print_document *document = print_directory(invocation->house, &output.head);
    const bool written = print_output_write(invocation, &output, document);
    print_free(document);
    return written ? 0 : 2;
}

const struct command command_directory = {
    .name = "directory",
    .operands = "[HOUSE] -o FILE",
    .summary = "the list for the panel's door",
    .examples = examples,
    .options = options,
    .details = details,
    .run = run,
};
