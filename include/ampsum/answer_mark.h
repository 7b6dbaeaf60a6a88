/*
 * The question of `mark`: what a class wrote on the sheets of a folder, or how single answers would be marked.
 *
 * Contract: circuits.md, part C. Checked: tests/unit/test_answer_lesson.c; tests/golden/lesson-mark, lesson-refused.
 */
#ifndef AMPSUM_ANSWER_MARK_H
#define AMPSUM_ANSWER_MARK_H

#include "ampsum/answer_lesson.h"
#include "ampsum/mark.h"

/* A judged answer; what it does not have is NULL. */
struct mark_line {
    const struct mark_student *student;
    const struct mark_row *row;
    const struct judgement *judgement;
    const char *written;
    const char *name; /* of the student; "" where none is known */
};

struct mark_lines {
    struct mark_line *line;
    size_t count;
    int language;           /* of the class, and */
    struct writing writing; /* how it writes, for what people read; data keep the point */
};

struct mark_answer {
    struct lesson_plan plan;
    struct marks marks;
    struct mark_lines lines; /* every row of the marks */
    const char *folder;
    bool key_changed;   /* key.txt is not what was written with the sheets */
    bool own_scheme;    /* points, tolerance or figures were said to be others than the sheets' */
    unsigned to_decide; /* rows that a person has to decide */
};

/* Answers in memory. */
struct mark_source {
    const char *name;
    const char *bytes;
    size_t length;
};

/* Appends what could not be read of the files, a line each, with the changed key first. */
void mark_notices(const struct mark_answer *answer, struct text *text);

/*
 * Marks what is in the files of those names against the sheets of a folder, and adds what a person has to decide to
 * decide.csv there. `ret_answer` holds `folder`; free with mark_answer_done in any case. False with the error set.
 */
bool answer_mark(const char *folder, const struct scheme_question *scheme, const char *const *files, size_t count,
                 struct mark_answer *ret_answer, struct error *error);

/* The same for a plan, which the answer takes over, and what is in memory; nothing is read or written. */
bool answer_mark_plan(struct lesson_plan *plan, const struct mark_source *source, struct mark_answer *ret_answer,
                      struct error *error);
void mark_answer_done(struct mark_answer *answer);

/* How single answers would be marked where `expect` is right. */
struct expect_answer {
    const char *expect;
    unsigned figures;
    struct mark_lines lines;
    struct judgement *judgements; /* one for each line */
};

/* `written`: count strings that outlive the answer; free with expect_answer_done in any case. */
bool answer_expect(const struct scheme_question *scheme, const char *expect, const char *const *written, size_t count,
                   struct expect_answer *ret_answer, struct error *error);
void expect_answer_done(struct expect_answer *answer);

#endif
