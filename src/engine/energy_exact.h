/*
 * Numbers without binary fractions: decimals of the house file as they were written, whole numbers of any size, money
 * rounded once. Inside the engine only.
 */
#ifndef AMPSUM_ENGINE_ENERGY_EXACT_H
#define AMPSUM_ENGINE_ENERGY_EXACT_H

#include <gmp.h>
#include <stdint.h>

#include "ampsum/arena.h"

_Static_assert(sizeof(unsigned long) == sizeof(uint64_t), "whole numbers are handed to GMP as unsigned long");

/* A whole number of up to 126 bits, for sums that are known to fit. */
__extension__ typedef __int128 wide;

/* digits / 10^places; places is below 0 only for values above 1e15. */
struct decimal {
    int64_t digits;
    int places;
};

/* The shortest decimal that reads back as `value`, >= 0: what the person wrote. */
struct decimal decimal_of(double value);

/* value * 10^places, rounded half-up to a whole number. */
void whole_of_decimal(mpz_t ret_whole, struct decimal value, int places);

/* 10^places. */
void power_of_ten(mpz_t ret_power, int places);

/* The value of a decimal text, digits and a point only; NULL is 0. `ret_value` comes out in lowest terms. */
void rational_of_text(mpq_t ret_value, const char *text);

void whole_set_wide(mpz_t ret_whole, wide value);

/* The double nearest to top / bottom, top >= 0, bottom > 0. */
double ratio_double(const mpz_t top, const mpz_t bottom);

/* top / bottom, both >= 0, rounded half-up to `minor_units` decimals, as a decimal text in `arena`. */
const char *ratio_money(const mpz_t top, const mpz_t bottom, int minor_units, struct arena *arena);

#endif
