#include <stdio.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/feedback.h"
#include "ampsum/mark.h"
#include "cli.h"
#include "lesson_scheme.h"
#include "mark_expect.h"
#include "mark_view.h"
#include "second.h"

static const char *const examples[] = {"ampsum mark sheets sheets/answers.csv",
                                       "ampsum mark sheets sheets/answers.csv --summary --format csv",
                                       "ampsum mark sheets sheets/answers.csv --feedback -o back",
                                       "ampsum mark --expect '12.5 A' '12,5 A' '12.5' '12500 mA'", NULL};

static const struct option_spec options[] = {
    {"summary", '\0', NULL, "the class by question, without each student's answers"},
    {"students", '\0', NULL, "each student's points alone"},
    {"answers", '\0', NULL, "every answer with its judgement (what --format csv gives without a choice)"},
    {"expect", '\0', "VALUE", "how single answers would be marked where VALUE is right; no folder is read"},
    {"feedback", '\0', NULL, "a page for each student (text, HTML, PDF) and one for the class, over earlier ones"},
    {"output", 'o', "FOLDER", "where these pages go (the lesson's folder)"},
    {"paper", '\0', "a4|letter", "for the PDF (letter where the currency is USD, else a4)"},
    LESSON_SCHEME_OPTIONS,
    {NULL, '\0', NULL, NULL},
};

static const char *const details[] = {
    "Each answer: 2 points for the value, 1 for the unit, 1 for the significant figures; yes or no 2; --points changes "
    "that.",
    "A number is right where it is rounded rightly to two figures or more, or off by 1 % at most (--tolerance).",
    "An answer that follows rightly from the student's own earlier wrong one keeps its points (carried).",
    "An answer without its unit loses the unit's point, one that is a thousand times off has 1 point.",
    "Figures: as many as the sheet asks for. An exact value may stand as a fraction or written out, in fewer or more "
    "figures, but not with zeros beyond those asked for.",
    "What cannot be read is never 0: it goes to decide.csv in the folder. Write right, wrong, read as 12.5 A, or "
    "points "
    "there, and mark again.",
    "The key is worked out anew; key.txt is never read. Answer files are never changed.",
    NULL};

static void add_notices(const struct marks *marks, const char *folder, bool key_changed, struct text *text)
{
    if (key_changed) {
        text_printf(text, "%s/key.txt: changed or gone since the sheets were written; marking does not use it\n",
                    folder);
    }
    for (size_t i = 0; i < marks->notice_count; i++) {
        const struct mark_notice *notice = &marks->notices[i];
        text_add(text, notice->file);
        if (notice->row > 0) {
            text_printf(text, ":%zu", notice->row);
        }
        text_printf(text, ": %s\n", notice->word);
    }
}

/* What could not be read is told apart from the marks: beneath them for people, on standard error beside CSV. */
static void write_notices(struct invocation *invocation, const struct marks *marks, const char *folder,
                          bool key_changed)
{
    struct text notices = {0};
    add_notices(marks, folder, key_changed, &notices);
    if (invocation->format == FORMAT_CSV) {
        fputs(text_string(&notices), stderr);
    } else if (notices.length > 0) {
        text_printf(&invocation->out, "\nWords on the files\n%s", text_string(&notices));
    }
    text_done(&notices);
}

static void write_table(struct invocation *invocation, struct table *table)
{
    if (invocation->out.length > 0) {
        text_add_char(&invocation->out, '\n');
    }
    invocation_table(invocation, table);
    table_free(table);
}

/* The class: each part, then the commonest slips over all. */
static void write_summary(struct invocation *invocation, const struct marks *marks)
{
    write_table(invocation, mark_summary_table(marks));
    if (marks->slip_count > 0) {
        write_table(invocation, mark_slips_table(marks));
    }
}

/* Without a choice: points and class for people, every answer for CSV, which is one table. */
static void write_tables(struct invocation *invocation, const struct marks *marks, const struct lesson_plan *plan)
{
    bool summary = option_given(invocation, "summary");
    bool students = option_given(invocation, "students");
    bool answers = option_given(invocation, "answers");
    bool none = !summary && !students && !answers;
    if (invocation->format == FORMAT_CSV) {
        write_table(invocation, summary    ? mark_summary_table(marks)
                                : students ? mark_students_table(marks, plan)
                                           : mark_answers_table(marks, plan));
        return;
    }
    if (answers) {
        write_table(invocation, mark_answers_table(marks, plan));
    }
    if (students || answers || none) {
        write_table(invocation, mark_students_table(marks, plan));
    }
    if (summary || answers || none) {
        write_summary(invocation, marks);
    }
}

/* The other half of the answer: each answer after the totals, the totals for a table program after the answers. */
static void write_next(struct invocation *invocation)
{
    struct text line = {0};
    text_add(&line, "ampsum mark");
    for (size_t i = 0; i < invocation->operand_count; i++) {
        text_add_char(&line, ' ');
        add_shell_path(&line, invocation->operands[i]);
    }
    text_add(&line, option_given(invocation, "answers") ? " --format csv" : " --answers");
    const char *const next[] = {text_string(&line), NULL};
    invocation_next(invocation, next);
    text_done(&line);
}

/* The scheme where `mark` was told another one than the sheets hold, and what is left to a person. */
static void write_terms(struct invocation *invocation, const struct marks *marks, const struct lesson_plan *plan,
                        bool own_scheme)
{
    unsigned to_decide = 0;
    for (size_t i = 0; i < marks->student_count; i++) {
        to_decide += marks->students[i].to_decide;
    }
    if (own_scheme) {
        text_add(&invocation->out, "\nPoints: ");
        lesson_scheme_show(&plan->scheme, &invocation->out);
        text_add(&invocation->out, "; off by at most ");
        lesson_scheme_percent(&plan->scheme, &invocation->out);
        text_printf(&invocation->out, " %%; %u significant figures\n", lesson_plan_figures(plan));
    }
    if (to_decide > 0) {
        text_printf(&invocation->out,
                    "\n%u answer%s to decide by hand: fill in decision or points in %s/decide.csv, then mark again\n",
                    to_decide, to_decide == 1 ? "" : "s", invocation->operands[0]);
    }
}

static void write_marks(struct invocation *invocation, const struct marks *marks, const struct lesson_plan *plan,
                        bool key_changed, bool own_scheme)
{
    if (invocation->format == FORMAT_JSON) {
        mark_json(invocation, marks, plan, key_changed);
        return;
    }
    write_tables(invocation, marks, plan);
    if (invocation->format == FORMAT_TABLE) {
        write_terms(invocation, marks, plan, own_scheme);
    }
    write_notices(invocation, marks, invocation->operands[0], key_changed);
    if (invocation->format == FORMAT_TABLE) {
        write_next(invocation);
    }
}

/* The sheets' own scheme, or that of the command line. */
static bool read_scheme(struct invocation *invocation, struct lesson_plan *plan, bool *ret_own)
{
    if (!lesson_scheme_read(invocation, &plan->scheme, ret_own)) {
        return false;
    }
    if (*ret_own && plan->generator == LESSON_GENERATOR_FIRST) {
        error_set(&invocation->error, ERROR_INPUT,
                  "%s: sheets of an earlier program keep the points with which they were handed out; leave --points, "
                  "--tolerance and --figures away",
                  invocation->operands[0]);
        return false;
    }
    return true;
}

/* Drawn by the second program, which alone loads what drawing needs. */
static int draw_feedback(struct invocation *invocation, const struct lesson_plan *plan, const char *folder)
{
    const char *paper = option_value(invocation, "paper");
    char program[] = "ampsum-draw";
    char command[] = "lesson-feedback";
    const char *usual = strcmp(plan->currency, "USD") == 0 ? "letter" : "a4";
    char *words[] = {program, command, arena_copy(invocation->arena, folder),
                     arena_copy(invocation->arena, paper == NULL ? usual : paper), NULL};
    return call_second_program(program, words);
}

static int write_feedback(struct invocation *invocation, const struct marks *marks, const struct lesson_plan *plan)
{
    const char *folder = option_value(invocation, "output");
    folder = folder == NULL ? invocation->operands[0] : folder;
    if (!feedback_write(marks, plan, folder, &invocation->error)) {
        return 2;
    }
    if (invocation->format == FORMAT_TABLE) {
        text_printf(&invocation->out, "\n%s: a page for each of %zu student%s, and feedback-class.txt\n", folder,
                    marks->student_count, marks->student_count == 1 ? "" : "s");
    }
    return draw_feedback(invocation, plan, folder);
}

static int mark(struct invocation *invocation, struct marks *marks, const struct lesson_plan *plan, bool key_changed,
                bool own_scheme)
{
    int status = 0;
    const char *folder = invocation->operands[0];
    size_t added = 0;
    for (size_t i = 1; i < invocation->operand_count; i++) {
        marks_take_file(marks, plan, invocation->operands[i]);
    }
    marks_take_folder_decisions(marks, folder);
    marks_finish(marks, plan);
    if (marks->student_count == 0) {
        struct text notices = {0};
        add_notices(marks, folder, key_changed, &notices);
        error_set(&invocation->error, ERROR_INPUT, "%smark: no answer could be placed", text_string(&notices));
        text_done(&notices);
    } else if (marks_write_decisions(marks, plan, folder, &added, &invocation->error)) {
        write_marks(invocation, marks, plan, key_changed, own_scheme);
        status = option_given(invocation, "feedback") ? write_feedback(invocation, marks, plan) : 0;
    }
    return status;
}

static bool paper_is_known(struct invocation *invocation)
{
    const char *paper = option_value(invocation, "paper");
    bool known = paper == NULL || strcmp(paper, "a4") == 0 || strcmp(paper, "letter") == 0;
    if (!known) {
        error_set(&invocation->error, ERROR_INPUT, "--paper %s: expected a4 or letter", paper);
    }
    return known;
}

static int run(struct invocation *invocation)
{
    struct lesson_plan plan = {0};
    struct marks marks = {0};
    bool key_changed = false;
    bool own_scheme = false;
    if (option_given(invocation, "expect")) {
        lesson_scheme_usual(&plan.scheme);
        return lesson_scheme_read(invocation, &plan.scheme, &own_scheme) ? mark_expect_run(invocation, &plan.scheme)
                                                                         : 2;
    }
    if (!invocation_operands(invocation, 2, SIZE_MAX) ||
        !lesson_read(invocation->operands[0], &plan, &key_changed, &invocation->error)) {
        return 2;
    }
    int status = 0;
    if (paper_is_known(invocation) && read_scheme(invocation, &plan, &own_scheme)) {
        status = mark(invocation, &marks, &plan, key_changed, own_scheme);
    }
    marks_done(&marks);
    lesson_plan_done(&plan);
    return error_is_set(&invocation->error) ? 2 : status;
}

const struct command command_mark = {
    .name = "mark",
    .operands = "FOLDER ANSWERS.csv ...",
    .summary = "marks the answers to a lesson, with credit carried forward and likely slips",
    .examples = examples,
    .options = options,
    .details = details,
    .rows = true,
    .run = run,
};
