#include "../draw/lesson_document.h"
#include "ampsum/show_lesson.h"
#include "cli.h"
#include "lesson_scheme.h"
#include "second.h"

static const char *const examples[] = {"ampsum lesson demo-house/us.ini -o sheets --level 2 --students 24 --seed 7",
                                       "ampsum lesson demo-house/us.ini -o sheets --kind unequal,wire,trip --force",
                                       "ampsum lesson demo-house/us.ini --live bedroom -o bedroom.html",
                                       "ampsum lesson --stock '56 ohm, 68 ohm' --want '90 ohm'",
                                       "ampsum lesson --series E12 --want '137 ohm' --voltage '9 V'",
                                       NULL};

/* What is asked for. */
struct wanted {
    const char *output;
    const char *live;
    struct plan_question plan;
    struct shelf_question shelf;
    int paper;
    bool pdf;
    bool together;
    bool force;
};

static const struct option_spec options[] = {
    {"output", 'o', "FOLDER", "where worksheets, answer rows, key and marks table go", TO_WORD(struct wanted, output)},
    {"kind", '\0', "KIND,KIND", "kinds of questions, or all (all)",
     TO_WORDS(struct wanted, plan.kinds, plan.kind_count)},
    {"level", '\0', "1..4", "how hard (1)", TO_WORD(struct wanted, plan.level)},
    {"students", '\0', "N", "one sheet for each (1)", TO_WORD(struct wanted, plan.students)},
    {"questions", '\0', "N", "questions on a sheet, going through the kinds in turn (one of each)",
     TO_WORD(struct wanted, plan.questions)},
    {"seed", '\0', "S", "a whole number: the same seed makes the same sheets (1)", TO_WORD(struct wanted, plan.seed)},
    {"pdf", '\0', NULL, "worksheets and key as PDF too, with the circuits drawn", TO_FLAG(struct wanted, pdf)},
    {"together", '\0', NULL, "all worksheets in one PDF for the printer, beside the key's",
     TO_FLAG(struct wanted, together)},
    LESSON_PAPER_OPTION(struct wanted, paper),
    {"names", '\0', "FILE", "the class: a name a line, or CSV with name, class, number; sets --students",
     TO_WORD(struct wanted, plan.names)},
    {"title", '\0', "TEXT", "in the head of each sheet", TO_WORD(struct wanted, plan.title)},
    {"class", '\0', "TEXT", "the same", TO_WORD(struct wanted, plan.class_name)},
    {"date", '\0', "TEXT", "the same", TO_WORD(struct wanted, plan.date)},
    {"own", '\0', "P%", "of the questions that name loads take them from the house, at every level (50%)",
     TO_WORD(struct wanted, plan.own)},
    {"versions", '\0', "1..26", "so many different sheets, dealt in turn (each student has an own one)",
     TO_WORD(struct wanted, plan.versions)},
    {"units", '\0', "printed", "units stand beside the blanks and have no point", TO_WORD(struct wanted, plan.units)},
    {"room", '\0', "LINES", "space to work under each question (5)", TO_WORD(struct wanted, plan.room)},
    {"large", '\0', NULL, "large print: text of 18 points, 16 in figures, strokes of 2",
     TO_FLAG(struct wanted, plan.large)},
    {"font", '\0', "NAME", "family of the PDF's and the HTML's letters (DejaVu Sans)",
     TO_WORD(struct wanted, plan.font)},
    {"symbols", '\0', "us|iec", "the sign of a resistor: zigzag or rectangle (by the house's rules)",
     TO_WORD(struct wanted, plan.symbols)},
    {"decimal", '\0', "point|comma", "the sign of a decimal (by the language)", TO_WORD(struct wanted, plan.decimal)},
    {"voltage-letter", '\0', "V|U", "the letter of a voltage (by the language)",
     TO_WORD(struct wanted, plan.voltage_letter)},
    LESSON_SCHEME_OPTIONS(struct wanted, plan.scheme),
    {"force", '\0', NULL, "write over the files of an earlier lesson", TO_FLAG(struct wanted, force)},
    {"live", '\0', "BRANCH", "that branch as one page to practise with, which works without ampsum: -o FILE.html",
     TO_WORD(struct wanted, live)},
    {"stock", '\0', "PARTS", "parts on the shelf: '56 ohm' (any number), '56 ohm*2, 68 ohm*1'",
     TO_WORD(struct wanted, shelf.stock)},
    {"series", '\0', "E6|E12|E24", "preferred values instead of a stock", TO_WORD(struct wanted, shelf.series)},
    {"want", '\0', "R", "the resistance to make from them", TO_WORD(struct wanted, shelf.want)},
    {"parts", '\0', "N", "at most so many parts (12 alike, all of a counted stock, else 5, of a series 3)",
     TO_WORD(struct wanted, shelf.parts)},
    {"voltage", '\0', "V", "across the network: what each part must stand", TO_WORD(struct wanted, shelf.voltage)},
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Kinds: unequal, equal, find-one, divide, table, change, open, trip, two-ways, energy, wire, "
    "power-factor, stock, one-reading, product-sum, bounds, conductance, internal, tolerance, junction, arrows, "
    "within, ladder, prefixes, grid, why, impossible, fault, lab. Only where the house is so: neutral (two legs), "
    "three-neutral (three phases), continuous (rules that count long use for more), loop-impedance and longest-run "
    "(rules that hold the loop of a fault against the device).",
    "Without a HOUSE the loads are made up, on 120 V. Where the house's own loads give short numbers they are used.",
    "mark reads the answers: hand out worksheet-NN.txt, have answers.csv or answers-wide.csv filled in, keep key.txt.",
    "--points, --tolerance and --figures are kept with the sheets. --tolerance beside --stock or --series is that of "
    "the "
    "parts.",
    NULL};

static void write_plan(struct invocation *invocation, const struct lesson_plan *plan, const char *folder)
{
    const char *house = invocation->house == NULL ? NULL : invocation->house->name;
    if (!INVOCATION_DATA(invocation, show_plan_json(plan, house, folder), &show_plan_rows, plan,
                         plan->question_count)) {
        show_plan_text(plan, folder, &invocation->page, &invocation->out);
        const char *answers = arena_printf(invocation->arena, "%s/answers.csv", folder);
        invocation_next(invocation, "ampsum mark %s %s   (when it is filled in)", invocation_word(invocation, folder),
                        invocation_word(invocation, answers));
    }
}

/* The folder; worksheets and keys as PDF by the second program, which alone loads what drawing needs. */
static int write_sheets(struct invocation *invocation, const struct lesson_plan *plan, const struct wanted *wanted)
{
    const enum print_paper paper = lesson_paper_given(wanted->paper, plan);
    const char *const words[] = {"ampsum-draw",
                                 "lesson-paper",
                                 wanted->output,
                                 paper == PRINT_LETTER ? "letter" : "a4",
                                 wanted->together ? "together" : NULL,
                                 NULL};
    if (!lesson_folder_write(plan, wanted->output, wanted->force, paper, &invocation->error)) {
        return 2;
    }
    write_plan(invocation, plan, wanted->output);
    return wanted->pdf || wanted->together ? call_second_program("ampsum-draw", words) : 0;
}

/* The house is optional: without one the loads are made up. */
static int run_sheets(struct invocation *invocation, struct wanted *wanted)
{
    struct lesson_plan plan = {0};
    int status = 2;
    if (wanted->output == NULL) {
        error_set(&invocation->error, ERROR_INPUT, "lesson: expected -o FOLDER for the sheets");
        return 2;
    }
    if (!invocation_house_if_any(invocation) || !invocation_operands(invocation, 0, 0)) {
        return 2;
    }
    wanted->plan.house = invocation->house;
    if (answer_plan(&wanted->plan, &plan, &invocation->error)) {
        status = write_sheets(invocation, &plan, wanted);
    }
    lesson_plan_done(&plan);
    return status;
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {.plan.dash = "--", .paper = PAPER_UNSAID};
    struct shelf_question *shelf = &wanted.shelf;
    if (!invocation_options(invocation, &wanted)) {
        return 2;
    }
    shelf->tolerance = wanted.plan.scheme.tolerance;
    if (wanted.live != NULL) {
        return lesson_live(invocation, wanted.live, wanted.output, wanted.plan.scheme.language, wanted.force);
    }
    const bool parts = shelf->stock != NULL || shelf->series != NULL || shelf->want != NULL;
    return parts ? lesson_shelf(invocation, shelf) : run_sheets(invocation, &wanted);
}

const struct command command_lesson = {
    .name = "lesson",
    .operands = "[HOUSE] -o FOLDER",
    .summary = "worksheets with answer keys, from the house's own branches",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
