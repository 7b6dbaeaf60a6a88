#include "ampsum/print.h"
#include "cli.h"
#include "print_output.h"

static const char *const examples[] = {"ampsum directory demo-house/us.ini -o panel.pdf --force", NULL};

/* What is asked for. */
struct wanted {
    struct output output;
};

static const struct option_spec options[] = {
    OPTIONS_PRINT(struct wanted, output),
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {"A page for each panel: by position ({by-spaces}), with "
                                      "label, rooms served and rating, and empty lines for entries by hand.",
                                      NULL};

static int run(struct invocation *invocation)
{
    struct wanted wanted = {.output.paper = PAPER_UNSAID};
    struct output *output = &wanted.output;
    int status = 2;
    if (!print_output_house(invocation, output, &wanted, &status)) {
        return status;
    }
    return print_output_write(invocation, output, print_directory(invocation->house, &output->head));
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
