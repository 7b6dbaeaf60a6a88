#include <stdlib.h>
#include <unistd.h>

#include "../draw/lesson_document.h"
#include "ampsum/housefile.h"
#include "ampsum/picture_live.h"
#include "ampsum/show_lesson.h"
#include "ampsum/words.h"
#include "cli.h"
#include "lesson_scheme.h"

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

/* ---- sheets */

static void write_next(struct invocation *invocation, const char *folder)
{
    struct text answers = {0};
    struct text line = {0};
    text_printf(&answers, "%s/answers.csv", folder);
    add_shell_path(&line, folder);
    text_add_char(&line, ' ');
    add_shell_path(&line, text_string(&answers));
    invocation_next(invocation, "ampsum mark %s   (when it is filled in)", text_string(&line));
    text_done(&answers);
    text_done(&line);
}

static void write_plan(struct invocation *invocation, const struct lesson_plan *plan, const char *folder)
{
    const char *house = invocation->house == NULL ? NULL : invocation->house->name;
    if (!INVOCATION_DATA(invocation, show_plan_json(plan, house, folder), &show_plan_rows, plan,
                         plan->question_count)) {
        show_plan_text(plan, folder, &invocation->page, &invocation->out);
        write_next(invocation, folder);
    }
}

/* The house is optional: without one the loads are made up. */
static bool read_house(struct invocation *invocation)
{
    const char *environment = getenv("AMPSUM_HOUSE");
    const bool none = invocation->operand_count == 0 && (environment == NULL || environment[0] == '\0') &&
                      access("house.db", F_OK) != 0;
    return none || (invocation_house(invocation, 0) && invocation_operands(invocation, 0, 0));
}

static int run_sheets(struct invocation *invocation, struct wanted *wanted)
{
    const char *folder = wanted->output;
    struct lesson_plan plan = {0};
    int status = 2;
    if (folder == NULL) {
        error_set(&invocation->error, ERROR_INPUT, "lesson: expected -o FOLDER for the sheets");
        return 2;
    }
    if (!read_house(invocation)) {
        return 2;
    }
    wanted->plan.house = invocation->house;
    if (answer_plan(&wanted->plan, &plan, &invocation->error) &&
        lesson_write(&plan, folder, wanted->force, &invocation->error) &&
        lesson_html_write(&plan, folder, lesson_paper_given(wanted->paper, &plan), &invocation->error)) {
        write_plan(invocation, &plan, folder);
        status = wanted->pdf || wanted->together
                     ? lesson_draw_papers(invocation, "lesson-paper", lesson_paper_given(wanted->paper, &plan), folder,
                                          wanted->together ? "together" : NULL)
                     : 0;
    }
    lesson_plan_done(&plan);
    return status;
}

/* ---- one branch to practise with */

static bool write_live(struct invocation *invocation, size_t branch, int language, const struct wanted *wanted)
{
    struct text html = {0};
    const size_t loads = live_page(invocation->house, branch, language, invocation->arena, &html);
    if (loads == 0) {
        error_set(&invocation->error, ERROR_INPUT, "--live %s: nothing on this branch draws a current", wanted->live);
    }
    const bool written = loads > 0 && file_write_whole(wanted->output, text_string(&html), html.length, wanted->force,
                                                       &invocation->error);
    if (written) {
        text_add_harmless(&invocation->out, wanted->output);
        text_printf(&invocation->out, ": written; %zu loads, works in any browser without a network\n\n", loads);
        show_cautions_text(&invocation->page, NULL, &invocation->out);
    }
    text_done(&html);
    return written;
}

static int run_live(struct invocation *invocation, const struct wanted *wanted)
{
    const char *path = wanted->output;
    int language = LANGUAGE_ENGLISH;
    if (path == NULL || !(words_end_with(path, ".html") || words_end_with(path, ".htm"))) {
        error_set(&invocation->error, ERROR_INPUT, "lesson: --live expects -o FILE.html, one page");
        return 2;
    }
    if (!invocation_house(invocation, 0) || !invocation_operands(invocation, 0, 0) ||
        !answer_language(wanted->plan.scheme.language, &language, &invocation->error)) {
        return 2;
    }
    const size_t branch = find_id(invocation, KIND_BRANCH, wanted->live);
    return branch != NO_INDEX && write_live(invocation, branch, language, wanted) ? 0 : 2;
}

/* ---- parts from a shelf */

static int run_shelf(struct invocation *invocation, const struct shelf_question *question)
{
    struct shelf_answer answer;
    if (!invocation_operands(invocation, 0, 0)) {
        return 2;
    }
    const bool good = answer_shelf(question, &answer, &invocation->error);
    if (good && !INVOCATION_DATA(invocation, show_shelf_json(&answer), &show_shelf_rows, &answer, answer.part_count)) {
        show_shelf_text(&answer, &invocation->page, &invocation->out);
        invocation_next(invocation, "ampsum lesson -o FOLDER --kind stock   (worksheets that ask for it)");
    }
    shelf_answer_done(&answer);
    return good ? 0 : 2;
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {.plan.dash = "--", .paper = PAPER_UNSAID};
    if (!invocation_options(invocation, &wanted)) {
        return 2;
    }
    struct shelf_question *shelf = &wanted.shelf;
    shelf->tolerance = wanted.plan.scheme.tolerance;
    return wanted.live != NULL                                                    ? run_live(invocation, &wanted)
           : shelf->stock != NULL || shelf->series != NULL || shelf->want != NULL ? run_shelf(invocation, shelf)
                                                                                  : run_sheets(invocation, &wanted);
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
