/*
 * Marking of students' answers against keys that are worked out anew. Value, unit and significant figures are judged
 * apart; an answer that follows rightly from the student's own earlier wrong one gets credit; a slip is named where
 * just one fits; what cannot be read goes to a list that a person decides. Students' files are read, never written.
 * Contract, circuits.md, part C. Checked: tests/unit/test_mark.c, test_expect.c, test_mark_files.c.
 */
#ifndef AMPSUM_MARK_H
#define AMPSUM_MARK_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/lesson.h"

enum mark_verdict {
    MARK_RIGHT,
    MARK_CARRIED, /* wrong, but right from the student's own earlier answer: the value counts */
    MARK_WRONG,
    MARK_EMPTY,  /* nothing written, or no row */
    MARK_DECIDE, /* cannot be read as one answer, or only in a doubtful way: a person decides */
    MARK_COUNT
};

/* "right", "carried", "wrong", "empty", "decide" */
const char *mark_verdict_word(enum mark_verdict verdict);

/* The name of a slip for programs: "parallel-added"; "" for SLIP_NONE. */
const char *slip_word(enum slip slip);

/* What was done, and the slip's name, as people of that language read it; "" of none. */
const char *slip_about(int language, enum slip slip);
const char *slip_name(int language, enum slip slip);

/* How one answer is judged. The texts belong to the judgement; `(struct judgement){0}` is empty. */
struct judgement {
    enum mark_verdict verdict;
    bool value_right; /* each: the points for it are earned */
    bool unit_right;
    bool figures_right;
    enum slip slip;
    unsigned points;
    unsigned points_most;
    struct text read_as;  /* "12.5 A"; "" where nothing was read */
    struct text from_own; /* what follows from the student's own earlier wrong numbers; "" where none does */
    struct text remark;   /* why it is not full, with what would be right */
};
void judgement_done(struct judgement *judgement);

/*
 * Judges a student's answers to one question. `answers`: question->count strings, NULL where there is none, only looked
 * at where the quantity is asked. `ret_judgements`: question->count entries, initialised, filled for what is asked.
 */
void mark_question(const struct lesson_plan *plan, const struct lesson_question *question, const char *const *answers,
                   struct judgement *ret_judgements);

/*
 * How one answer would be marked. `expect`: "12.5 A", "2/3 A", "0.54 USD", "yes", "rises", "falls", "stays", "in",
 * "out", "choice b". `figures`: as many as are asked for. False, with a word in `fault`, where `expect` is none of
 * these. `language`: of the remarks; the decimal sign is the scheme's.
 */
bool mark_expect(const struct lesson_scheme *scheme, int language, const char *expect, unsigned figures,
                 const char *answer, struct judgement *ret_judgement, struct text *fault);

/* A judged answer. Strings belong to the marks. */
struct mark_row {
    unsigned student;
    size_t question; /* from 1 */
    char *part;
    char *asked;
    char *answer;   /* as written; "" where there is none */
    char *expected; /* "12.5 A" */
    char *exact;    /* "25/2" where the decimal was rounded, else "" */
    char *decided;  /* what the instructor wrote in decide.csv; "" where nothing */
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
    char sheet[LESSON_CODE_SIZE];
    unsigned points; /* at least: rows to decide count none */
    unsigned points_most;
    unsigned to_decide;        /* rows */
    unsigned to_decide_points; /* that these may still bring */
    unsigned points_possible;  /* with these */
    double share_percent;      /* of points_most, the points at least; 0 where nothing has a point */
    size_t first_row;
    size_t row_count;
};

/* What the class made of one part of one question. Rows to decide are left out of the points. */
struct mark_summary {
    size_t question; /* from 1 */
    char *part;
    char *asked;
    size_t count[MARK_COUNT];
    size_t points;
    size_t points_most;
    double points_percent; /* NAN where all are to be decided */
    enum slip slip;        /* the most frequent one */
    size_t slip_count;
};

/* A slip and how many students made it, the most frequent first. */
struct mark_slip {
    enum slip slip;
    size_t students;
};

/* A row of decide.csv. Strings belong to the marks. */
struct mark_decision {
    char *sheet;
    char *student; /* as it stands there; where several students have one sheet */
    char *part;    /* "2b" */
    char *written;
    char *decision; /* "right", "wrong", "read as 12.5 A", or "" */
    char *points;
    size_t row;
};

struct marks {
    int language;          /* of the words on the files: the class's */
    struct mark_row *rows; /* by student, question and part */
    size_t row_count;
    struct mark_student *students; /* who handed something in */
    size_t student_count;
    struct mark_summary *summaries; /* by question and part */
    size_t summary_count;
    struct mark_slip *slips;
    size_t slip_count;
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
    struct mark_decision *decisions;
    size_t decision_count;
    size_t decision_capacity;
    char decide_separator; /* of the columns of decide.csv; 0 where there is none */
};

/* `(struct marks){0}` is empty. */
void marks_done(struct marks *marks);

/*
 * Takes the answers of one file: comma, semicolon or tab between columns, with or without a byte-order mark, columns
 * known by their heading; a row for each part, or a row for each student with a column for each part (1a, 1b, ...).
 * Whatever is wrong with a row becomes a notice, and the other rows count.
 */
void marks_take(struct marks *marks, const struct lesson_plan *plan, const char *file, const char *bytes,
                size_t length);

/* Reads a file and takes it. A file that cannot be read becomes a notice. */
void marks_take_file(struct marks *marks, const struct lesson_plan *plan, const char *path);

/* Takes what the instructor decided, from the bytes of decide.csv or from the lesson's folder, where there is one. */
void marks_take_decisions(struct marks *marks, const char *file, const char *bytes, size_t length);
void marks_take_folder_decisions(struct marks *marks, const char *folder);

/* Judges all that was taken and sums it up. */
void marks_finish(struct marks *marks, const struct lesson_plan *plan);

/*
 * Adds the rows that a person has to decide to decide.csv in the lesson's folder, behind those that stand there; makes
 * it where there are any. `ret_added`: how many. False with the error set where it cannot be written.
 */
bool marks_write_decisions(const struct marks *marks, const struct lesson_plan *plan, const char *folder,
                           size_t *ret_added, struct error *error);

#endif
