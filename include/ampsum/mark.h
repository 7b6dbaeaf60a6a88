/*
 * Marking of students' answers against keys that are worked out anew. Value, unit and significant figures are judged
 * apart; an answer that follows rightly from the student's own earlier wrong one gets credit; a slip is named where
 * just one fits. Students' files are read, never written. Checked: tests/unit/test_mark.c.
 */
#ifndef AMPSUM_MARK_H
#define AMPSUM_MARK_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/lesson.h"

enum { MARK_VALUE_POINTS = 2, MARK_UNIT_POINTS = 1, MARK_FIGURES_POINTS = 1 };

enum mark_verdict {
    MARK_RIGHT,
    MARK_CARRIED, /* wrong, but right from the student's own earlier answer: the value counts */
    MARK_WRONG,
    MARK_EMPTY,   /* nothing written, or no row */
    MARK_REFUSED, /* cannot be read as one answer; the word says why */
    MARK_COUNT
};

/* "right", "carried forward", "wrong", "empty", "not read" */
const char *mark_verdict_word(enum mark_verdict verdict);

/* What a slip is called; "" for SLIP_NONE. */
const char *slip_word(enum slip slip);

/* How one answer is judged. */
struct judgement {
    enum mark_verdict verdict; /* of the value */
    bool unit_right;
    bool figures_right;
    enum slip slip;
    unsigned points;
    unsigned points_most;
};

/*
 * Judges a student's answers to one question. `answers`: question->count strings, NULL where there is none, only looked
 * at where the quantity is asked. `ret_judgements`: question->count entries, filled for what is asked.
 * `ret_words`: question->count texts, initialised; each gets why an answer could not be read.
 */
void mark_question(const struct lesson_plan *plan, const struct lesson_question *question, const char *const *answers,
                   struct judgement *ret_judgements, struct text *ret_words);

/* A judged answer. Strings belong to the marks. */
struct mark_row {
    unsigned student;
    size_t question; /* from 1 */
    char *part;
    char *asked;
    char *answer; /* "" where there is none */
    char *word;   /* why it was not read; "" */
    struct judgement judgement;
};

/* A word on a row, or a file, that is not as it should be. Row 0: the whole file. */
struct mark_notice {
    char *file;
    size_t row; /* line of the file, from 1 */
    char *word;
};

struct mark_student {
    unsigned student;
    unsigned points;
    unsigned points_most;
    size_t first_row;
    size_t row_count;
};

/* What the class made of one part of one question. */
struct mark_summary {
    size_t question; /* from 1 */
    char *part;
    char *asked;
    size_t count[MARK_COUNT];
    size_t points;
    size_t points_most;
    enum slip slip; /* the most frequent one */
    size_t slip_count;
};

struct marks {
    struct mark_row *rows; /* by student, question and part */
    size_t row_count;
    struct mark_student *students; /* who handed something in */
    size_t student_count;
    struct mark_summary *summaries; /* by question and part */
    size_t summary_count;
    struct mark_notice *notices; /* by file and line, in the order of reading */
    size_t notice_count;
    /* for the reader */
    size_t row_capacity;
    size_t student_capacity;
    size_t summary_capacity;
    size_t notice_capacity;
    struct mark_cell *cells;
    size_t cell_count;
    size_t cell_capacity;
};

/* `(struct marks){0}` is empty. */
void marks_done(struct marks *marks);

/*
 * Takes the answers of one file: comma, semicolon or tab between columns, with or without a byte-order mark, columns
 * known by their heading. Whatever is wrong with a row becomes a notice, and the other rows count.
 */
void marks_take(struct marks *marks, const struct lesson_plan *plan, const char *file, const char *bytes,
                size_t length);

/* Reads a file and takes it. A file that cannot be read becomes a notice. */
void marks_take_file(struct marks *marks, const struct lesson_plan *plan, const char *path);

/* Judges all that was taken and sums it up. */
void marks_finish(struct marks *marks, const struct lesson_plan *plan);

#endif
