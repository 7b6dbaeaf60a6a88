#include "energy_exact.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/text.h"

enum { PLACES_FAST = 6 };

/* From the spelling: [digits][.digits][e-NN]. */
static struct decimal decimal_of_spelling(const char *spelling)
{
    struct decimal decimal = {0};
    int after_point = 0;
    const char *at = spelling;
    for (; *at != '\0' && *at != 'e'; at++) {
        if (*at == '.') {
            after_point = 1;
        } else {
            decimal.digits = decimal.digits * 10 + (*at - '0');
            decimal.places += after_point;
        }
    }
    decimal.places -= *at == 'e' ? (int)strtol(at + 1, NULL, 10) : 0;
    return decimal;
}

struct decimal decimal_of(double value)
{
    assert(value >= 0.0 && isfinite(value));
    if (value < 1e15 && (double)(int64_t)value == value) {
        return (struct decimal){.digits = (int64_t)value};
    }
    double power = 10.0;
    for (int places = 1; places <= PLACES_FAST && value * power < 1e15; places++) {
        /* Exact test: digits and power are both whole doubles, so that their quotient is rounded once, as reading is.
         */
        int64_t digits = (int64_t)(value * power + 0.5);
        if ((double)digits / power == value) {
            return (struct decimal){.digits = digits, .places = places};
        }
        power *= 10.0;
    }
    struct text text = {0};
    text_add_number(&text, value);
    struct decimal decimal = decimal_of_spelling(text_string(&text));
    text_done(&text);
    return decimal;
}

void whole_of_decimal(mpz_t ret_whole, struct decimal value, int places)
{
    mpz_t power;
    mpz_init(power);
    mpz_set_ui(ret_whole, (unsigned long)value.digits);
    if (value.places <= places) {
        power_of_ten(power, places - value.places);
        mpz_mul(ret_whole, ret_whole, power);
    } else {
        power_of_ten(power, value.places - places);
        mpz_mul_2exp(ret_whole, ret_whole, 1);
        mpz_add(ret_whole, ret_whole, power);
        mpz_mul_2exp(power, power, 1);
        mpz_fdiv_q(ret_whole, ret_whole, power);
    }
    mpz_clear(power);
}

void power_of_ten(mpz_t ret_power, int places)
{
    mpz_ui_pow_ui(ret_power, 10, (unsigned long)places);
}

void rational_of_text(mpq_t ret_value, const char *text)
{
    mpq_set_ui(ret_value, 0, 1);
    int places = 0;
    int after_point = 0;
    for (const char *at = text != NULL ? text : ""; *at != '\0'; at++) {
        if (*at == '.') {
            after_point = 1;
        } else {
            mpz_mul_ui(mpq_numref(ret_value), mpq_numref(ret_value), 10);
            mpz_add_ui(mpq_numref(ret_value), mpq_numref(ret_value), (unsigned long)(*at - '0'));
            places += after_point;
        }
    }
    power_of_ten(mpq_denref(ret_value), places);
    mpq_canonicalize(ret_value);
}

void whole_set_wide(mpz_t ret_whole, wide value)
{
    const wide magnitude = value < 0 ? -value : value;
    const uint64_t high = (uint64_t)(magnitude >> 64);
    mpz_set_ui(ret_whole, (unsigned long)high);
    if (high != 0) {
        mpz_mul_2exp(ret_whole, ret_whole, 64);
    }
    mpz_add_ui(ret_whole, ret_whole, (unsigned long)(uint64_t)magnitude);
    if (value < 0) {
        mpz_neg(ret_whole, ret_whole);
    }
}

double ratio_double(const mpz_t top, const mpz_t bottom)
{
    if (mpz_sgn(top) == 0) {
        return 0.0;
    }
    /* 61 to 63 bits of quotient and one bit for the rest: turning that into a double rounds once, to the nearest. */
    long shift = 62 - (long)mpz_sizeinbase(top, 2) + (long)mpz_sizeinbase(bottom, 2);
    mpz_t scaled, rest;
    mpz_init(scaled);
    mpz_init(rest);
    if (shift >= 0) {
        mpz_mul_2exp(scaled, top, (mp_bitcnt_t)shift);
        mpz_tdiv_qr(scaled, rest, scaled, bottom);
    } else {
        mpz_mul_2exp(rest, bottom, (mp_bitcnt_t)-shift);
        mpz_tdiv_qr(scaled, rest, top, rest);
    }
    uint64_t bits = 0;
    mpz_export(&bits, NULL, -1, sizeof bits, 0, 0, scaled);
    bits |= mpz_sgn(rest) != 0;
    mpz_clear(scaled);
    mpz_clear(rest);
    return ldexp((double)bits, (int)-shift);
}

const char *ratio_money(const mpz_t top, const mpz_t bottom, int minor_units, struct arena *arena)
{
    mpz_t units, twice;
    mpz_init(units);
    mpz_init(twice);
    power_of_ten(units, minor_units);
    mpz_mul(units, units, top);
    mpz_mul_2exp(units, units, 1);
    mpz_add(units, units, bottom);
    mpz_mul_2exp(twice, bottom, 1);
    mpz_fdiv_q(units, units, twice);
    size_t room = mpz_sizeinbase(units, 10) + (size_t)minor_units + 3;
    char *digits = arena_take(arena, room);
    mpz_get_str(digits, 10, units);
    mpz_clear(units);
    mpz_clear(twice);
    size_t length = strlen(digits);
    size_t decimals = (size_t)minor_units;
    if (decimals == 0) {
        return digits;
    }
    size_t zeros = length > decimals ? 0 : decimals + 1 - length;
    memmove(digits + zeros, digits, length + 1);
    memset(digits, '0', zeros);
    length += zeros;
    memmove(digits + length - decimals + 1, digits + length - decimals, decimals + 1);
    digits[length - decimals] = '.';
    return digits;
}
