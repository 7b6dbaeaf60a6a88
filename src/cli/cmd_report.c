#include "ampsum/answer_report.h"
#include "ampsum/print.h"
#include "cli.h"
#include "print_output.h"

static const char *const examples[] = {"ampsum report demo-house/us.ini -o report.html --force",
                                       "ampsum report demo-house/us.ini -o report.pdf --force", NULL};

/* What is asked for. */
struct wanted {
    long pictures_most;
};

static const struct option_spec options[] = {
    OPTIONS_PRINT,
    {"pictures", '\0', "N",
     "draw circuit, day and wire of at most N branches, the worst first (usual: the worst circuit and wire, and the "
     "days "
     "of those over or at risk)",
     TO_WHOLE(struct wanted, pictures_most, 0, 10000)},
    OPTIONS_BASIS,
    OPTION_SUPPLY,
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Verdict, bars, what to do and the bill on the first page; behind it cautions, what exceeds what, branches, loads, "
    "findings with sources, demand, cost, pictures, assumptions, lines for the electrician's notes. HTML is one file "
    "without scripts, light or dark as the reader's screen, what is behind folded until it is opened or printed; SVG "
    "and PNG hold the pages below one another.",
    "The date is today's, or that of SOURCE_DATE_EPOCH in the environment, so that a report can be made again.", NULL};

static int write_report(struct invocation *invocation, const struct output *output, const struct assess_options *choice,
                        size_t pictures_most)
{
    struct report_answer answer;
    answer_report(invocation->house, choice, &answer);
    struct print_document *document =
        print_report(&answer.check, answer.has_demand ? &answer.demand : NULL, pictures_most, &output->head);
    const bool written = print_output_write(invocation, output, document);
    print_free(document);
    report_answer_done(&answer);
    return written ? 0 : 2;
}

static int run(struct invocation *invocation)
{
    struct assess_options choice = {.wires = true, .loads = true};
    struct output output;
    struct wanted wanted = {.pictures_most = PICTURES_USUAL};
    int status = 2;
    if (!print_output_init(invocation, &output) || !print_output_here(invocation, &output, &status)) {
        return status;
    }
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0) ||
        !invocation_basis(invocation, &choice) || !invocation_supply(invocation, &choice.supply_ratio) ||
        !invocation_options(invocation, &wanted) || !print_output_head(invocation, &output)) {
        return 2;
    }
    return write_report(invocation, &output, &choice, (size_t)wanted.pictures_most);
}

const struct command command_report = {
    .name = "report",
    .operands = "[HOUSE] -o FILE",
    .summary = "the whole house on paper: PDF, HTML, SVG or PNG by FILE's ending",
    .examples = examples,
    .options = options,
    .details = details,
    .run = run,
};
