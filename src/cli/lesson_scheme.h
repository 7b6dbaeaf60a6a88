/* What `lesson` and `mark` have alike: how answers count, and the paper of what is drawn; and what stands beside
 * sheets. */
#ifndef AMPSUM_CLI_LESSON_SCHEME_H
#define AMPSUM_CLI_LESSON_SCHEME_H

#include "ampsum/answer_lesson.h"
#include "ampsum/answer_mark.h"
#include "ampsum/print.h"
#include "cli.h"
#include "print_output.h"

/* Their rows for an option table. */
#define LESSON_SCHEME_OPTIONS(of_, scheme_)                                                                            \
    {"points", '\0', "NAME=N,...", "points for value, unit, figures, prefix, yesno, choice, arrow, way, part",         \
     TO_WORD(of_, scheme_.points)},                                                                                    \
        {"tolerance", '\0', "P%", "so far off a number is still right (1%)", TO_WORD(of_, scheme_.tolerance)},         \
        {"figures", '\0', "2..10", "significant figures asked for (by level; 3)", TO_WORD(of_, scheme_.figures)},      \
    {                                                                                                                  \
        "language", '\0', "en|de|es|fr", "of the class: en writes a decimal point, the others a comma (en)",           \
            TO_WORD(of_, scheme_.language)                                                                             \
    }

/* `paper_`: enum print_paper; begins as PAPER_UNSAID. */
#define LESSON_PAPER_OPTION(of_, paper_)                                                                               \
    {                                                                                                                  \
        "paper", '\0', "a4|letter", "for the PDF (letter where the currency is USD, else a4)", TO_CHOICE(of_, paper_)  \
    }

/* The paper asked for, or that of the plan's currency. */
enum print_paper lesson_paper_given(int paper, const struct lesson_plan *plan);

/* The pages for each student and the class, into that folder (NULL: the lesson's); false with the error set. */
bool lesson_feedback(struct invocation *invocation, const struct mark_answer *answer, const char *output, int paper);

/* Beside sheets (lesson_beside.c): a branch as one page to practise with, and parts from a shelf. Exit statuses. */
int lesson_live(struct invocation *invocation, const char *branch, const char *path, const char *language, bool force);
int lesson_shelf(struct invocation *invocation, const struct shelf_question *question);

#endif
