#include <stdio.h>

#include "ampsum/show_mark.h"
#include "cli.h"
#include "lesson_scheme.h"

static const char *const examples[] = {"ampsum mark sheets sheets/answers.csv",
                                       "ampsum mark sheets sheets/answers.csv --summary --format csv",
                                       "ampsum mark sheets sheets/answers.csv --feedback -o back",
                                       "ampsum mark --expect '12.5 A' '12,5 A' '12.5' '12500 mA'", NULL};

/* What is asked for. */
struct wanted {
    struct mark_view view;
    struct scheme_question scheme;
    const char *expect;
    const char *output;
    int paper;
    bool feedback;
};

static const struct option_spec options[] = {
    {"summary", '\0', NULL, "the class by question, without each student's answers",
     TO_FLAG(struct wanted, view.summary)},
    {"students", '\0', NULL, "each student's points alone", TO_FLAG(struct wanted, view.students)},
    {"answers", '\0', NULL, "every answer with its judgement (what --format csv gives without a choice)",
     TO_FLAG(struct wanted, view.answers)},
    {"expect", '\0', "VALUE", "how single answers would be marked where VALUE is right; no folder is read",
     TO_WORD(struct wanted, expect)},
    {"feedback", '\0', NULL, "a page for each student (text, HTML, PDF) and one for the class, over earlier ones",
     TO_FLAG(struct wanted, feedback)},
    {"output", 'o', "FOLDER", "where these pages go (the lesson's folder)", TO_WORD(struct wanted, output)},
    LESSON_PAPER_OPTION(struct wanted, paper),
    LESSON_SCHEME_OPTIONS(struct wanted, scheme),
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

/* The other half of the answer: each answer after the totals, the totals for a table program after the answers. */
static void write_next(struct invocation *invocation, const struct mark_view *view)
{
    struct text words = {0};
    for (size_t i = 0; i < invocation->operand_count; i++) {
        text_printf(&words, " %s", invocation_word(invocation, invocation->operands[i]));
    }
    invocation_next(invocation, "ampsum mark%s%s", text_string(&words), view->answers ? " --format csv" : " --answers");
    text_done(&words);
}

/* With a table for programs what could not be read goes to standard error. */
static void write_answer(struct invocation *invocation, const struct mark_answer *answer, const struct mark_view *view)
{
    struct text notices = {0};
    if (!INVOCATION_TABLE(invocation, show_mark_json(answer), show_mark_csv(answer, view))) {
        show_mark_text(answer, view, &invocation->page, &invocation->out);
        write_next(invocation, view);
    } else if (invocation->format == FORMAT_CSV) {
        mark_notices(answer, &notices);
        fputs(text_string(&notices), stderr);
    }
    text_done(&notices);
}

static int run_expect(struct invocation *invocation, const struct wanted *wanted)
{
    struct expect_answer answer;
    const bool good = answer_expect(&wanted->scheme, wanted->expect, invocation->operands, invocation->operand_count,
                                    &answer, &invocation->error);
    if (good &&
        !INVOCATION_DATA(invocation, show_expect_json(&answer), &show_expect_rows, &answer.lines, answer.lines.count)) {
        show_table_text(&show_expect_rows, &answer.lines, answer.lines.count, &invocation->page, &invocation->out);
    }
    expect_answer_done(&answer);
    return good ? 0 : 2;
}

static int run(struct invocation *invocation)
{
    struct wanted wanted = {.paper = PAPER_UNSAID};
    struct mark_answer answer;
    int status = 2;
    if (!invocation_options(invocation, &wanted) ||
        !invocation_operands(invocation, wanted.expect != NULL ? 1 : 2, SIZE_MAX)) {
        return 2;
    }
    if (wanted.expect != NULL) {
        return run_expect(invocation, &wanted);
    }
    /* the PDFs need the second program: it does all of it; without it there are none */
    const int drawn = wanted.feedback && print_backend == NULL ? print_output_hand_over(invocation) : 0;
    if (answer_mark(invocation->operands[0], &wanted.scheme, invocation->operands + 1, invocation->operand_count - 1,
                    &answer, &invocation->error)) {
        write_answer(invocation, &answer, &wanted.view);
        status = wanted.feedback && !lesson_feedback(invocation, &answer, wanted.output, wanted.paper) ? 2 : 0;
    }
    mark_answer_done(&answer);
    return status == 0 ? drawn : status;
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
