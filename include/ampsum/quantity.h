/*
 * Numbers with units, as the house file and the command line write them. Free of the locale.
 *
 * Checked: tests/unit/test_quantity.c.
 */
#ifndef AMPSUM_QUANTITY_H
#define AMPSUM_QUANTITY_H

#include <stdbool.h>

#include "ampsum/keys.h"
#include "ampsum/text.h"

/* Metre in a foot, for houses whose lengths are shown in feet. */
#define M_PER_FT 0.3048 /* exact, by definition */

/*
 * Reads `string` as a quantity of the dimension into the inner unit (A, V, W, VA, ohm, m, m2, s, %, degree C, Hz, kWh).
 * A bare number is in the key's own unit: ft and ft2 where the rule set `rules` has them, h for time. `flags` are
 * KEY_ABOVE_ZERO and KEY_SIGNED. On success sets *ret_value; on a fault appends to `fault` what is wrong and what was
 * expected (no line end) and leaves *ret_value alone. Grammar and units: contract, house-file.md, "Quantities". The
 * decimal is multiplied by the unit's exact factor before it is rounded to a double.
 */
bool quantity_read(const char *string, enum dimension dimension, int rules, unsigned flags, double *ret_value,
                   struct text *fault);

/*
 * For messages: the unit behind the number of `string` as it is written here ("A" for `0.5 amps`, "hp" for `1/3 hp`);
 * NULL where there is none, or one that nobody here knows. And: is that a unit of the dimension?
 */
const char *quantity_unit(const char *string);
bool quantity_has_unit(enum dimension dimension, const char *unit);

/* Digits that a decimal of money may have on either side of its point. */
enum { DECIMAL_DIGITS_MOST = 40 };

/*
 * A decimal of the dimension (DIMENSION_NONE: no unit) as plain text, exactly: `0.30` and `3e-1` give "0.3". Appends to
 * `ret_decimal`; on a fault appends to `fault` only.
 */
bool quantity_read_decimal(const char *string, enum dimension dimension, struct text *ret_decimal, struct text *fault);

/* A whole number least..most. */
bool quantity_read_whole(const char *string, long least, long most, long *ret_value, struct text *fault);

/* Horsepower: a number or a fraction, with or without `hp`. */
bool quantity_read_horsepower(const char *string, double *ret_hp, struct text *fault);

/*
 * Appends `value` (inner unit) with a unit, so that quantity_read gives back exactly `value`: in ft or ft2 under us
 * rules and h where that is exact and hardly longer, else in the inner unit.
 */
void quantity_write(struct text *text, double value, enum dimension dimension, int rules);

#endif
