/*
 * Exact fractions for circuits and the classroom (GMP rationals): printing fractions and decimals rounded half to even
 * once at the end. Contract, engineering.md, section 9.
 * Checked: tests/unit/test_exact.c.
 */
#ifndef AMPSUM_EXACT_H
#define AMPSUM_EXACT_H

#include <stdbool.h>
#include <stddef.h>

#include <gmp.h>

#include "ampsum/text.h"

/* What a number measures, with the unit in which its value is kept. */
enum exact_quantity {
    EXACT_RATIO,       /* 1; power factors, percentages as 1/100 */
    EXACT_CURRENT,     /* A */
    EXACT_VOLTAGE,     /* V */
    EXACT_POWER,       /* W */
    EXACT_APPARENT,    /* VA */
    EXACT_REACTIVE,    /* var */
    EXACT_RESISTANCE,  /* ohm */
    EXACT_ENERGY,      /* kWh */
    EXACT_TIME,        /* h */
    EXACT_PRICE,       /* money per kWh */
    EXACT_MONEY,       /* the currency's unit */
    EXACT_COUNT,       /* a number of things */
    EXACT_YES_NO,      /* 1 yes, 0 no */
    EXACT_CONDUCTANCE, /* S */
    EXACT_LENGTH,      /* m */
    EXACT_PER_LENGTH,  /* milliohm per metre */
    EXACT_ARROW,       /* 1 rises, -1 falls, 0 stays */
    EXACT_DIRECTION,   /* 1 in, 0 out */
    EXACT_CHOICE,      /* 1 is a, 2 is b ... */
    EXACT_PART,        /* 2 is R2 */
    EXACT_QUANTITY_COUNT
};

/* The unit in which a sheet asks for the quantity: "A", "ohm", "" for ratios, counts and words. */
const char *exact_unit(enum exact_quantity quantity);

/* 1 / (1/r[0] + 1/r[1] + ...) of `count` > 0 resistances above 0. */
void exact_parallel(mpq_t ret_together, const mpq_srcptr *resistance, size_t count);

/*
 * `value` rounded to `figures` (1..30) significant digits, half to even. 0 stays 0. Returns true where that moved it.
 */
bool exact_round(mpq_t ret_rounded, const mpq_t value, unsigned figures);

/* Sets a plain decimal of digits with at most one point, "0.16"; anything else is the caller's fault (asserts). */
void exact_set_decimal(mpq_t ret_value, const char *decimal);

/* Appends the decimal rounded half to even to that many places, zeros kept: money. */
void exact_write_places(struct text *text, const mpq_t value, unsigned places);

/* The double nearest to the value. */
double exact_double(const mpq_t value);

/* Largest e with 10^e <= |value|; 0 for 0. */
long exact_exponent(const mpq_t value);

/*
 * Quickly, for whoever has many figures to write: that e, and |value| / 10^e to some nine digits. False where the value
 * is 0, out of a double's range, or so near a power of ten that only exact_exponent can tell.
 */
bool exact_scale(const mpq_t value, long *ret_exponent, double *ret_leading);

/* Square root of value >= 0: exact where it is rational, else correct to 40 significant digits. True where exact. */
bool exact_root(mpq_t ret_root, const mpq_t value);

/*
 * Significant digits that the exact decimal of `value` needs (12.5 -> 3, 1500 -> 2, 0 -> 1); 0 where the decimal does
 * not end or needs more than 18.
 */
unsigned exact_digits(const mpq_t value);

/* Appends "25/2", or "12" for a whole number. */
void exact_write_fraction(struct text *text, const mpq_t value);

/*
 * Appends the decimal: all its digits where it ends within `figures` significant digits ("12.5", "1500"), else rounded
 * to exactly so many ("8.33", "2.40"). Returns true where it is rounded.
 */
bool exact_write_decimal(struct text *text, const mpq_t value, unsigned figures);

/* As exact_write_decimal, with the unit: "12.5 A"; words for what is answered in words: "yes", "rises", "b", "R2". */
bool exact_figure(struct text *text, const mpq_t value, enum exact_quantity quantity, unsigned figures);

#endif
