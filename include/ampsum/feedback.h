/*
 * What comes back after marking: a page for each student with each part, the own answer, what is right, why, and the
 * points; and the class at a glance with its commonest slips. Contract, circuits.md, C4. Checked:
 * tests/unit/test_mark_class.c, tests/golden/lesson-feedback.
 */
#ifndef AMPSUM_FEEDBACK_H
#define AMPSUM_FEEDBACK_H

#include "ampsum/mark.h"

/* Appends a student's page as plain text, or as one HTML document. */
void feedback_text(const struct marks *marks, const struct lesson_plan *plan, const struct mark_student *student,
                   struct text *text);
void feedback_html(const struct marks *marks, const struct lesson_plan *plan, const struct mark_student *student,
                   struct text *html);

/* Appends the class: slips by number of students, each part, each student's points. */
void feedback_class_text(const struct marks *marks, const struct lesson_plan *plan, struct text *text);

/*
 * Writes the text and the HTML of each student who handed in, and feedback-class.txt, over those of an earlier marking.
 * The folder is made where it is missing. False with the error set.
 */
bool feedback_write(const struct marks *marks, const struct lesson_plan *plan, const char *folder, struct error *error);

#endif
