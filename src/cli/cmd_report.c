#include "ampsum/answer_report.h"
#include "ampsum/print.h"
#include "cli.h"
#include "print_output.h"

static const char *const examples[] = {"ampsum report demo-house/us.ini -o report.html --force",
                                       "ampsum report demo-house/us.ini -o report.pdf --force", NULL};

/* What is asked for. */
struct wanted {
    struct output output;
    struct look look;
    long pictures_most;
};

static const struct option_spec options[] = {
    OPTIONS_PRINT(struct wanted, output),
    {"pictures", '\0', "N",
     "draw circuit, day and wire of at most N branches, the worst first (usual: the worst circuit and wire, and the "
     "days "
     "of those over or at risk)",
     TO_WHOLE(struct wanted, pictures_most, 0, 10000)},
    OPTIONS_BASIS(struct wanted, look),
    OPTION_SUPPLY(struct wanted, look),
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Verdict, bars, what to do and the bill on the first page; behind it cautions, what exceeds what, branches, loads, "
    "findings with sources, demand, cost, pictures, assumptions, lines for the electrician's notes. HTML is one file "
    "without scripts, light or dark as the reader's screen, what is behind folded until it is opened or printed; SVG "
    "and PNG hold the pages below one another.",
    "The date is today's, or that of SOURCE_DATE_EPOCH in the environment, so that a report can be made again.", NULL};

static int run(struct invocation *invocation)
{
    struct assess_options choice = {.wires = true, .loads = true};
    struct wanted wanted = {.output.paper = PAPER_UNSAID, .pictures_most = PICTURES_USUAL};
    struct report_answer answer;
    int status = 2;
    if (!print_output_house(invocation, &wanted.output, &wanted, &status)) {
        return status;
    }
    if (!invocation_look(invocation, &wanted.look, &choice)) {
        return 2;
    }
    answer_report(invocation->house, &choice, &answer);
    status = print_output_write(invocation, &wanted.output,
                                print_report(&answer.check, answer.has_demand ? &answer.demand : NULL,
                                             (size_t)wanted.pictures_most, &wanted.output.head));
    report_answer_done(&answer);
    return status;
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
