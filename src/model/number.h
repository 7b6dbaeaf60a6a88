/*
 * A decimal as it is written: digits and a power of ten, kept exactly, whatever its length.
 */
#ifndef AMPSUM_NUMBER_H
#define AMPSUM_NUMBER_H

#include <stdbool.h>

#include "ampsum/text.h"

/* value = (-1)^negative * digits * 10^exponent; digits without leading zeros ("" for zero). */
struct number {
    bool negative;
    struct text digits;
    long exponent;
};

void number_done(struct number *number);

/*
 * Reads a number at the start of `string`: digits, an optional `.digits`, an optional exponent (contract,
 * house-file.md, "Quantities"); a leading minus where `is_signed`. Returns where it ends, or NULL with the reason
 * appended to `fault`. Free number with number_done in either case.
 */
const char *number_scan(const char *string, bool is_signed, struct number *number, struct text *fault);

/* Multiplies by factor * 10^power, exactly. */
void number_multiply(struct number *number, unsigned factor, int power);

/* The nearest double; false where it is too large or, though not 0, too small for one. */
bool number_double(const struct number *number, double *ret_value);

/*
 * Appends the number in plain digits and a point, without needless zeros; false where it takes more than `digits_most`
 * digits before or after the point.
 */
bool number_plain(const struct number *number, long digits_most, struct text *text);

/* Equal but for the case of A to Z, in every locale. */
bool number_same_letters(const char *a, const char *b);

#endif
