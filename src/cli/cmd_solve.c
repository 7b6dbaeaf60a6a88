#include "ampsum/language.h"
#include "ampsum/reference.h"
#include "ampsum/show_circuit.h"
#include "circuit_output.h"
#include "cli.h"

static const char *const examples[] = {"ampsum solve '60 V' '8 + (20 | 30)'",
                                       "ampsum solve '12 V' '4 | ?' --know 'I = 4.5 A'",
                                       "ampsum solve '24 V' '100 | lamp=250' --open lamp", NULL};

/* What is asked for. */
struct wanted {
    struct circuit_task task;
    struct solve_look look;
    struct output output;
    int language;
    long figures;
    int method;
    int decimal;
};

static const struct option_spec options[] = {
    {"know", '\0', "'P3 = 360 W'", "a figure that is known: R, V, I or P, of the total, of R3, or of (a name)",
     TO_WORDS(struct wanted, task.input.knowns, task.input.known_count)},
    {"open", '\0', "NAME", "that part opens: before and after, and what rises or falls",
     TO_WORDS(struct wanted, task.opened, task.opened_count)},
    {"short", '\0', "NAME", "that part is shorted", TO_WORDS(struct wanted, task.shorted, task.shorted_count)},
    {"wire", '\0', "OHMS", "resistance of the wire out and back, in series in front; '0.1 ohm each way' doubles",
     TO_WORD(struct wanted, task.input.wire)},
    {"internal", '\0', "OHMS", "resistance of the source itself, a part named r",
     TO_WORD(struct wanted, task.input.internal)},
    {"breaker", '\0', "A", "the total current beside that rating", TO_WORD(struct wanted, task.breaker)},
    {"tolerance", '\0', "P%", "every part off by as much as P: least and greatest figures",
     TO_WORD(struct wanted, task.tolerance)},
    {"series", '\0', "E6|E12|E24", "the series of which the nearest part is named (E24)",
     TO_ONE_OF(struct wanted, task.series)},
    {"method", '\0', "product|reciprocal|conductance", "that way for every parallel group",
     TO_CHOICE(struct wanted, method)},
    {"figures", '\0', "N", "significant figures shown, 2 to 10 (4)", TO_WHOLE(struct wanted, figures, 2, 10)},
    {"brief", '\0', NULL, "the table of figures alone", TO_FLAG(struct wanted, look.brief)},
    {"output", 'o', "FILE", "write to a file whose name ends in .pdf, .html, .svg, .png or .txt",
     TO_WORD(struct wanted, output.path)},
    {"sheet", '\0', NULL, "with -o: cells and steps are left empty, to be filled in",
     TO_FLAG(struct wanted, look.sheet)},
    {"paper", '\0', "a4|letter", "size of the pages (a4)", TO_CHOICE(struct wanted, output.paper)},
    {"symbols", '\0', "us|iec", "the sign of a resistor: zigzag or rectangle (us)",
     TO_CHOICE(struct wanted, look.symbols)},
    {"language", '\0', "en|de|es|fr", "of what people read; what is typed and what a program reads stay (en)",
     TO_CHOICE(struct wanted, language)},
    {"decimal", '\0', "point|comma", "the sign of a decimal in what people read (by the language)",
     TO_CHOICE(struct wanted, decimal)},
    OPTION_FORCE(struct wanted, output.force),
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "+ joins in series, | in parallel (as do || and //) and binds tighter; brackets group. A part is 20, 4.7k, 4k7, "
    "0.1 S, 1500 W at 120 V, 2 A at 12 V or ?, with a name before it where you like: lamp=240. A count stands before "
    "it: 3 x 10, 6 x 1.6k in parallel. Parts without a name are R1, R2, R3 in reading order.",
    "SOURCE is 12 V, or the total as 2 A or 180 W, or ? V where the voltage is asked; without it the resistances alone "
    "are worked out.",
    "Everything is worked in fractions and rounded once, for showing.", NULL};

static bool read_task(struct invocation *invocation, struct wanted *wanted)
{
    struct circuit_task *task = &wanted->task;
    if (!invocation_operands(invocation, 1, 2) || !invocation_options(invocation, wanted)) {
        return false;
    }
    if (wanted->look.sheet && wanted->output.path == NULL) {
        error_set(&invocation->error, ERROR_INPUT, "--sheet is a file to be filled in, expected -o FILE with it");
        return false;
    }
    const bool sourced = invocation->operand_count == 2;
    task->input.source = wanted->look.source = sourced ? invocation->operands[0] : NULL;
    task->input.circuit = invocation->operands[sourced ? 1 : 0];
    task->preferred = reference_preferred(task->series, invocation->arena, &task->preferred_count);
    task->style.method = (enum circuit_method)(wanted->method + 1); /* the words are those behind CIRCUIT_BY_SIZE */
    task->style.figures = (unsigned)wanted->figures;
    /* what a program reads is in English: notes and steps as it knows them */
    circuit_task_write(task, invocation->format == FORMAT_TABLE ? wanted->language : LANGUAGE_ENGLISH, wanted->decimal);
    return true;
}

/* What is wrong goes to standard error as ever; a program finds status and message in the JSON too. */
static int refuse(struct invocation *invocation, struct circuit_fault *fault)
{
    if (error_is_set(&invocation->error)) {
        fault->status = CIRCUIT_INPUT;
        text_add(&fault->message, error_message(&invocation->error));
    } else {
        error_set(&invocation->error, ERROR_INPUT, "%s", text_string(&fault->message));
    }
    if (invocation->format == FORMAT_JSON) {
        json_write(show_circuit_fault_json(fault), &invocation->out);
    }
    text_done(&fault->message);
    return 2;
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {.task.series = "E24",
                            .output.paper = PAPER_UNSAID,
                            .figures = CIRCUIT_FIGURES_DEFAULT,
                            .method = -1 /* by size */,
                            .decimal = -1};
    struct circuit_work work;
    struct circuit_fault fault = {0};
    if (!read_task(invocation, &wanted)) {
        return refuse(invocation, &fault);
    }
    const bool solved = circuit_work(&wanted.task, &work, &fault);
    const int status =
        solved ? circuit_output(invocation, &work, &wanted.look, &wanted.output) : refuse(invocation, &fault);
    circuit_work_done(&work);
    return status;
}

const struct command command_solve = {
    .name = "solve",
    .operands = "[SOURCE] CIRCUIT",
    .summary = "a circuit typed in, solved step by step: resistances in series and in parallel",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .minus = true,
    .run = run,
};
