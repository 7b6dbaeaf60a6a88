/*
 * What comes back after marking: a page for each student with each part, the own answer, what is right, why, and the
 * points; and the class at a glance with its commonest slips. Described once here; writers walk it: as text below, as
 * HTML and on paper in src/draw/lesson_feedback.c. Contract, circuits.md, C4. Checked: tests/unit/test_mark_class.c,
 * tests/golden/lesson-feedback.
 *
 * Strings are in the class's language and writing, and belong to the arena, the marks or the plan. `signs`: units by
 * their signs, as on the sheets (lesson_writing).
 */
#ifndef AMPSUM_FEEDBACK_H
#define AMPSUM_FEEDBACK_H

#include "ampsum/arena.h"
#include "ampsum/mark.h"

/* A part of a question. */
struct feedback_part {
    const char *head;    /* "(a) total current: 3 of 4 points" */
    const char *answers; /* the own answer and what is right, as a line */
    const char *name;    /* "(a) total current" */
    const char *own;     /* as it was written, or the word for none */
    const char *right;
    const char *points; /* "3 of 4" */
    const char *why[3]; /* what was carried, what is to be said; NULL behind the last */
};

struct feedback_question {
    const char *name; /* "Question 1" */
    const struct feedback_part *parts;
    size_t count;
};

struct feedback {
    const char *title; /* "Feedback for Ada   (sheet xnllw)", behind that of the lesson */
    const char *known; /* of name, class and date; "" where nothing is */
    const char *points;
    struct feedback_question *questions;
    size_t count;
};

/* A row of cells, or a line over all columns that heads the rows after it. */
struct feedback_row {
    const char *line;         /* NULL: a row of cells */
    const char *const *cells; /* `columns` of them */
};

enum { FEEDBACK_WORDS = 2 }; /* columns of words, before those of figures */

struct feedback_table {
    const char *heading;
    const char *const *heads;
    size_t columns;
    struct feedback_row *rows;
    size_t count;
};

/* The class: slips by number of students, each part with the most missed question first, each student's points. */
struct feedback_class {
    const char *title;
    const char *slips_heading;
    const char **slips; /* a line each; where there is none a line that says so */
    size_t slip_count;
    struct feedback_table parts; /* part, what is asked, how many of each verdict, share of the points */
    struct feedback_table students;
};

struct feedback feedback_of(const struct marks *marks, const struct lesson_plan *plan,
                            const struct mark_student *student, bool signs, struct arena *arena);
struct feedback_class feedback_of_class(const struct marks *marks, const struct lesson_plan *plan, bool signs,
                                        struct arena *arena);

/* Appends a student's page, or the class, as plain text. */
void feedback_text(const struct feedback *feedback, struct text *text);
void feedback_class_text(const struct feedback_class *class, struct text *text);

#endif
