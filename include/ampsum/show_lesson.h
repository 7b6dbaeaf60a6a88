/*
 * The answers of `lesson` as rows and sentences (ampsum/answer_lesson.h). Computes nothing.
 *
 * Checked: tests/golden/lesson-house, lesson-class, lesson-stock.
 */
#ifndef AMPSUM_SHOW_LESSON_H
#define AMPSUM_SHOW_LESSON_H

#include "ampsum/answer_lesson.h"
#include "ampsum/show.h"
#include "ampsum/show_rows.h"

/* Of a lesson_plan: a row for each question; of a shelf_answer: a row for each part. */
extern const struct show_rows show_plan_rows;
extern const struct show_rows show_shelf_rows;

/* Sheets that were written into a folder. `house`: its name, NULL for none. */
json_t *show_plan_json(const struct lesson_plan *plan, const char *house, const char *folder);
void show_plan_text(const struct lesson_plan *plan, const char *folder, const struct page *page, struct text *text);

json_t *show_shelf_json(const struct shelf_answer *answer);
void show_shelf_text(const struct shelf_answer *answer, const struct page *page, struct text *text);

#endif
