/*
 * The answers of `mark` as rows and sentences (ampsum/answer_mark.h). Computes nothing.
 *
 * Checked: tests/golden/lesson-mark, lesson-class.
 */
#ifndef AMPSUM_SHOW_MARK_H
#define AMPSUM_SHOW_MARK_H

#include "ampsum/answer_mark.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* Of a mark_answer: a row for each student, each part, each slip; of its mark_lines: a row for each answer. */
extern const struct show_rows show_students_rows;
extern const struct show_rows show_parts_rows;
extern const struct show_rows show_slips_rows;
extern const struct show_rows show_marked_rows;

/* Of the mark_lines of an expect_answer. */
extern const struct show_rows show_expect_rows;

/* What is looked at; none of them: points and class for people, every answer as CSV. */
struct mark_view {
    bool summary;
    bool students;
    bool answers;
};

json_t *show_mark_json(const struct mark_answer *answer);
struct table *show_mark_csv(const struct mark_answer *answer, const struct mark_view *view);
void show_mark_text(const struct mark_answer *answer, const struct mark_view *view, const struct page *page,
                    struct text *text);

json_t *show_expect_json(const struct expect_answer *answer);

#endif
