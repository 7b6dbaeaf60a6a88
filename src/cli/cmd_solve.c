#include <stdlib.h>
#include <string.h>

#include "ampsum/housefile.h"
#include "ampsum/language.h"
#include "ampsum/print_network.h"
#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "ampsum/show_circuit.h"
#include "cli.h"
#include "print_output.h"

static const char *const examples[] = {"ampsum solve '60 V' '8 + (20 | 30)'",
                                       "ampsum solve '12 V' '4 | ?' --know 'I = 4.5 A'",
                                       "ampsum solve '24 V' '100 | lamp=250' --open lamp", NULL};

static const struct option_spec options[] = {
    {"know", '\0', "'P3 = 360 W'", "a figure that is known: R, V, I or P, of the total, of R3, or of (a name)"},
    {"open", '\0', "NAME", "that part opens: before and after, and what rises or falls"},
    {"short", '\0', "NAME", "that part is shorted"},
    {"wire", '\0', "OHMS", "resistance of the wire out and back, in series in front; '0.1 ohm each way' doubles"},
    {"internal", '\0', "OHMS", "resistance of the source itself, a part named r"},
    {"breaker", '\0', "A", "the total current beside that rating"},
    {"tolerance", '\0', "P%", "every part off by as much as P: least and greatest figures"},
    {"series", '\0', "E6|E12|E24", "the series of which the nearest part is named (E24)"},
    {"method", '\0', "product|reciprocal|conductance", "that way for every parallel group"},
    {"figures", '\0', "N", "significant figures shown, 2 to 10 (4)"},
    {"brief", '\0', NULL, "the table of figures alone"},
    {"output", 'o', "FILE", "write to a file whose name ends in .pdf, .html, .svg, .png or .txt"},
    {"sheet", '\0', NULL, "with -o: cells and steps are left empty, to be filled in"},
    {"paper", '\0', "a4|letter", "size of the pages (a4)"},
    {"symbols", '\0', "us|iec", "the sign of a resistor: zigzag or rectangle (us)"},
    {"language", '\0', "en|de|es|fr", "of what people read; what is typed and what a program reads stay (en)"},
    {"decimal", '\0', "point|comma", "the sign of a decimal in what people read (by the language)"},
    OPTION_FORCE,
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "+ joins in series, | in parallel (as do || and //) and binds tighter; brackets group. A part is 20, 4.7k, 4k7, "
    "0.1 S, 1500 W at 120 V, 2 A at 12 V or ?, with a name before it where you like: lamp=240. A count stands before "
    "it: 3 x 10, 6 x 1.6k in parallel. Parts without a name are R1, R2, R3 in reading order.",
    "SOURCE is 12 V, or the total as 2 A or 180 W, or ? V where the voltage is asked; without it the resistances alone "
    "are worked out.",
    "Everything is worked in fractions and rounded once, for showing.", NULL};

static bool read_series(struct invocation *invocation, struct circuit_task *task)
{
    const char *given = option_value(invocation, "series");
    task->series = given == NULL ? "E24" : given;
    task->preferred = reference_preferred(task->series, invocation->arena, &task->preferred_count);
    if (task->preferred_count == 0) {
        error_set(&invocation->error, ERROR_INPUT, "--series %s: expected E6, E12 or E24", given);
    }
    return task->preferred_count > 0;
}

static bool read_method(struct invocation *invocation, enum circuit_method *ret_method)
{
    static const char *const words[] = {"product", "reciprocal", "conductance", NULL};
    static const enum circuit_method methods[] = {CIRCUIT_BY_PRODUCT, CIRCUIT_BY_RECIPROCAL, CIRCUIT_BY_CONDUCTANCE,
                                                  CIRCUIT_BY_SIZE};
    const int method = invocation_choice(invocation, "method", words, 3 /* without it */);
    *ret_method = method < 0 ? CIRCUIT_BY_SIZE : methods[method];
    return method >= 0;
}

/* The language, and with it the sign of a decimal where none is asked for. */
static bool read_language(struct invocation *invocation, struct circuit_style *style)
{
    const char *given = option_value(invocation, "language");
    style->language = given == NULL ? LANGUAGE_ENGLISH : language_find(given);
    if (style->language < 0) {
        error_set(&invocation->error, ERROR_INPUT, "--language %s: expected en, de, es or fr", given);
        return false;
    }
    if (invocation->format != FORMAT_TABLE) {
        style->language = LANGUAGE_ENGLISH; /* notes and steps, as a program knows them */
    }
    static const char *const signs[] = {"point", "comma", NULL};
    const int decimal =
        invocation_choice(invocation, "decimal", signs, language_writing(style->language).decimal == ',');
    style->comma = decimal == 1;
    return decimal >= 0;
}

/* 1 where a resistor is drawn as a rectangle; -1 with the error set. */
static int symbols_given(struct invocation *invocation)
{
    return invocation_choice(invocation, "symbols", (const char *const[]){"us", "iec", NULL}, 0);
}

/* What says nothing without a file is asked about, not passed over. */
static bool file_options(struct invocation *invocation)
{
    if (option_given(invocation, "sheet") && !option_given(invocation, "output")) {
        error_set(&invocation->error, ERROR_INPUT, "--sheet is a file to be filled in, expected -o FILE with it");
        return false;
    }
    return symbols_given(invocation) >= 0;
}

static bool read_task(struct invocation *invocation, struct circuit_task *task)
{
    if (!invocation_operands(invocation, 1, 2) || !file_options(invocation)) {
        return false;
    }
    const bool sourced = invocation->operand_count == 2;
    task->input = (struct circuit_input){.source = sourced ? invocation->operands[0] : NULL,
                                         .circuit = invocation->operands[sourced ? 1 : 0],
                                         .wire = option_value(invocation, "wire"),
                                         .internal = option_value(invocation, "internal")};
    task->input.knowns = option_values(invocation, "know", &task->input.known_count);
    task->opened = option_values(invocation, "open", &task->opened_count);
    task->shorted = option_values(invocation, "short", &task->shorted_count);
    task->breaker = option_value(invocation, "breaker");
    task->tolerance = option_value(invocation, "tolerance");
    long figures = 0;
    const bool good = read_series(invocation, task) && read_method(invocation, &task->style.method) &&
                      invocation_whole(invocation, "figures", 2, 10, CIRCUIT_FIGURES_DEFAULT, &figures) &&
                      read_language(invocation, &task->style);
    task->style.figures = (unsigned)figures;
    task->input.language = task->style.language;
    return good;
}

static void write_answer(struct invocation *invocation, const struct circuit_work *work, const char *source)
{
    if (invocation->format == FORMAT_JSON) {
        json_write(show_circuit_json(work), &invocation->out);
    } else if (invocation->format == FORMAT_CSV) {
        struct table *table = show_circuit_table(work);
        table_write_csv(table, &invocation->out);
        table_free(table);
    } else {
        show_circuit_text(work, source, option_given(invocation, "brief"), &invocation->page, &invocation->out);
    }
}

static bool is_text_file(const char *path)
{
    const size_t length = strlen(path);
    return length > 4 && strcmp(path + length - 4, ".txt") == 0;
}

/* The terminal's answer as a file. */
static int write_text_file(struct invocation *invocation, const struct circuit_work *work, const char *source)
{
    const struct page page = {.width = 80, .utf8 = true};
    const char *path = option_value(invocation, "output");
    struct text text = {0};
    if (option_given(invocation, "sheet")) {
        show_circuit_sheet(work, source, &page, &text);
    } else {
        show_circuit_text(work, source, option_given(invocation, "brief"), &page, &text);
    }
    if (file_write_whole(path, text_string(&text), text.length, option_given(invocation, "force"),
                         &invocation->error)) {
        text_printf(&invocation->out, "%s: written\n", path);
    }
    text_done(&text);
    return 0;
}

static int write_file(struct invocation *invocation, const struct circuit_work *work, const char *source)
{
    struct output output;
    int status = 2;
    if (is_text_file(option_value(invocation, "output"))) {
        return write_text_file(invocation, work, source);
    }
    const int symbols = symbols_given(invocation);
    if (symbols < 0 || !print_output_init(invocation, &output) || !print_output_here(invocation, &output, &status) ||
        !print_output_head_of(invocation, &output, PRINT_A4, "solve")) {
        return status;
    }
    struct print_document *document =
        print_network(work, source, symbols == 0, option_given(invocation, "sheet"), &output.head);
    print_output_write(invocation, &output, document);
    print_free(document);
    return 0;
}

/* What is wrong goes to standard error as ever; a program finds status and message in the JSON too. */
static void write_fault(struct invocation *invocation, const struct circuit_fault *fault)
{
    error_set(&invocation->error, ERROR_INPUT, "%s", text_string(&fault->message));
    if (invocation->format == FORMAT_JSON) {
        json_write(show_circuit_fault_json(fault), &invocation->out);
    }
}

static int run(struct invocation *invocation)
{
    struct circuit_task task = {0};
    struct circuit_work work;
    struct circuit_fault fault = {0};
    if (!read_task(invocation, &task)) {
        if (invocation->format == FORMAT_JSON) {
            fault.status = CIRCUIT_INPUT;
            text_add(&fault.message, error_message(&invocation->error));
            json_write(show_circuit_fault_json(&fault), &invocation->out);
        }
        text_done(&fault.message);
        return 2;
    }
    int status = 0;
    if (!circuit_work(&task, &work, &fault)) {
        write_fault(invocation, &fault);
    } else if (option_given(invocation, "output")) {
        status = write_file(invocation, &work, task.input.source);
    } else {
        write_answer(invocation, &work, task.input.source);
    }
    circuit_work_done(&work);
    text_done(&fault.message);
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
