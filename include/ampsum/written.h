/*
 * What a person wrote for an answer, read into exact fractions. Nothing is ever evaluated: `=5/2` is text. Contract,
 * engineering.md, section 9. Checked: tests/unit/test_exact.c.
 */
#ifndef AMPSUM_WRITTEN_H
#define AMPSUM_WRITTEN_H

#include "ampsum/exact.h"

/* Reads a decimal or whole number or a fraction of whole numbers ("0.24", "5/2"); false where it is none. */
bool exact_read(mpq_t ret_value, const char *string);

enum answer_form {
    ANSWER_EMPTY,
    ANSWER_NUMBER,
    ANSWER_WORD,    /* yes or no: value 1 or 0 */
    ANSWER_REFUSED, /* the word of the fault says why */
};

/* What a student wrote. */
struct answer {
    enum answer_form form;
    mpq_t number; /* as written, without the unit */
    mpq_t factor; /* of the unit written, to the unit of its quantity: 1/1000 for mA; 1 without a unit */
    bool has_unit;
    enum exact_quantity quantity; /* of the unit written */
    char currency[4];             /* the ISO 4217 code written, "" for none */
    bool fraction;                /* written as a fraction, so that rounding is no question */
    unsigned figures_least;       /* significant digits written; 1500 may mean 2 to 4 */
    unsigned figures_most;
};

void answer_init(struct answer *answer);
void answer_done(struct answer *answer);

/*
 * Reads `2.5 A`, `2500 mA`, `5/2`, `2 1/2 A`, `2.5e0 A`, `yes`. Refuses, with a word in `fault` on what would be right:
 * a decimal comma, a formula, two answers, an unknown unit, text.
 */
void answer_read(const char *string, struct answer *ret_answer, struct text *fault);

#endif
