/*
 * The questions of `lesson`: a set of sheets, described in words, and a resistance to be made from parts on a shelf.
 *
 * Checked: tests/unit/test_answer_lesson.c; tests/golden/lesson-class, lesson-refused, lesson-stock.
 */
#ifndef AMPSUM_ANSWER_LESSON_H
#define AMPSUM_ANSWER_LESSON_H

#include "ampsum/lesson.h"
#include "ampsum/stock.h"

/* How answers count, in words; NULL: as it is. */
struct scheme_question {
    const char *points;    /* value=2,unit=1 */
    const char *tolerance; /* 2% */
    const char *figures;   /* 2 to 10 */
    const char *language;  /* of the class: its code */
};

/* Reads what is given into the scheme. `ret_given`: points, tolerance or figures are. False with the error set. */
bool answer_scheme(const struct scheme_question *question, struct lesson_scheme *scheme, bool *ret_given,
                   struct error *error);

/* The language of a code; NULL: English. False with the error set. */
bool answer_language(const char *word, int *ret_language, struct error *error);

/* What the sheets are to be like; NULL: as usual. */
struct plan_question {
    const struct house *house; /* NULL: the loads are made up */
    const char *dash;          /* what stands before an option's name in a message: "--" */
    struct scheme_question scheme;
    const char *level;
    const char *students;
    const char *seed;
    const char *questions;
    const char *const *kinds; /* lists: "unequal,wire", "all" */
    size_t kind_count;        /* 0: all that fit */
    const char *title;
    const char *class_name;
    const char *date;
    const char *names; /* a file */
    const char *versions;
    const char *room;
    const char *own;
    const char *units;
    const char *symbols;
    const char *decimal;
    const char *voltage_letter;
    const char *font;
    bool large;
};

/* The plan of these sheets; free with lesson_plan_done in any case. False with the error set. */
bool answer_plan(const struct plan_question *question, struct lesson_plan *ret_plan, struct error *error);

/* A wanted resistance and what it may be made from, in words; NULL: not given. */
struct shelf_question {
    const char *stock;  /* 56 ohm, 68 ohm*2 */
    const char *series; /* E12, instead */
    const char *want;
    const char *parts; /* at most so many */
    const char *voltage;
    const char *tolerance;
};

/* A part of the network that was found. */
struct shelf_part {
    double ohm;
    double voltage_v; /* NAN where no voltage is given */
    double power_w;
};

struct shelf_answer {
    struct stock stock;
    struct stock_answer found;
    mpq_t wanted;
    mpq_t made;
    mpq_t error_percent; /* 100 (made - wanted) / wanted */
    mpq_t low;           /* every part at one end of its tolerance */
    mpq_t high;
    bool has_voltage;
    bool has_tolerance;
    struct shelf_part *parts;
    size_t part_count;
};

/* Answers; free with shelf_answer_done in any case. False with the error set. */
bool answer_shelf(const struct shelf_question *question, struct shelf_answer *ret_answer, struct error *error);
void shelf_answer_done(struct shelf_answer *answer);

#endif
