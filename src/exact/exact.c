#include "ampsum/exact.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"

enum { DIGITS_MOST = 18, ROOT_DIGITS = 40 };

static const char *const quantity_units[EXACT_QUANTITY_COUNT] = {
    [EXACT_RATIO] = "",      [EXACT_CURRENT] = "A",     [EXACT_VOLTAGE] = "V",      [EXACT_POWER] = "W",
    [EXACT_APPARENT] = "VA", [EXACT_REACTIVE] = "var",  [EXACT_RESISTANCE] = "ohm", [EXACT_ENERGY] = "kWh",
    [EXACT_TIME] = "h",      [EXACT_PRICE] = "per kWh", [EXACT_MONEY] = "",         [EXACT_COUNT] = "",
    [EXACT_YES_NO] = "",     [EXACT_CONDUCTANCE] = "S", [EXACT_LENGTH] = "m",       [EXACT_PER_LENGTH] = "mohm/m",
    [EXACT_ARROW] = "",      [EXACT_DIRECTION] = "",    [EXACT_CHOICE] = "",        [EXACT_PART] = "",
};

const char *exact_unit(enum exact_quantity quantity)
{
    return quantity_units[quantity];
}

void exact_parallel(mpq_t ret_together, const mpq_srcptr *resistance, size_t count)
{
    mpq_t sum;
    mpq_t one;
    mpq_init(sum);
    mpq_init(one);
    for (size_t i = 0; i < count; i++) {
        mpq_inv(one, resistance[i]);
        mpq_add(sum, sum, one);
    }
    mpq_inv(ret_together, sum);
    mpq_clear(sum);
    mpq_clear(one);
}

/* 10^exponent as a rational. */
static void power_of_ten(mpq_t ret_power, long exponent)
{
    unsigned long size = (unsigned long)labs(exponent);
    mpq_set_ui(ret_power, 1, 1);
    mpz_ui_pow_ui(exponent < 0 ? mpq_denref(ret_power) : mpq_numref(ret_power), 10, size);
}

bool exact_scale(const mpq_t value, long *ret_exponent, double *ret_leading)
{
    const double size = fabs(mpq_get_d(value));
    if (!(size > 1e-300 && size < 1e300)) {
        return false;
    }
    const double exponent = floor(log10(size));
    *ret_leading = size / pow(10, exponent);
    *ret_exponent = (long)exponent;
    return *ret_leading > 1 + 1e-9 && *ret_leading < 10 - 1e-9;
}

long exact_exponent(const mpq_t value)
{
    long near = 0;
    double leading = 0;
    if (mpq_sgn(value) == 0) {
        return 0;
    }
    if (exact_scale(value, &near, &leading)) {
        return near;
    }
    long guess = (long)mpz_sizeinbase(mpq_numref(value), 10) - (long)mpz_sizeinbase(mpq_denref(value), 10) + 1;
    mpq_t size;
    mpq_t power;
    mpq_init(size);
    mpq_init(power);
    mpq_abs(size, value);
    power_of_ten(power, guess);
    while (mpq_cmp(power, size) > 0) {
        power_of_ten(power, --guess);
    }
    mpq_clear(size);
    mpq_clear(power);
    return guess;
}

/* ret_whole = |value| * 10^shift to the nearest whole number, ties to even. Returns true where that was inexact. */
static bool scaled_whole(mpz_t ret_whole, const mpq_t value, long shift)
{
    mpq_t scaled;
    mpz_t rest;
    mpq_init(scaled);
    mpz_init(rest);
    power_of_ten(scaled, shift);
    mpq_mul(scaled, scaled, value);
    mpq_abs(scaled, scaled);
    mpz_fdiv_qr(ret_whole, rest, mpq_numref(scaled), mpq_denref(scaled));
    bool inexact = mpz_sgn(rest) != 0;
    mpz_mul_2exp(rest, rest, 1);
    int half = mpz_cmp(rest, mpq_denref(scaled));
    if (half > 0 || (half == 0 && mpz_odd_p(ret_whole))) {
        mpz_add_ui(ret_whole, ret_whole, 1);
    }
    mpq_clear(scaled);
    mpz_clear(rest);
    return inexact;
}

bool exact_round(mpq_t ret_rounded, const mpq_t value, unsigned figures)
{
    if (mpq_sgn(value) == 0) {
        mpq_set_ui(ret_rounded, 0, 1);
        return false;
    }
    int sign = mpq_sgn(value);
    long shift = (long)figures - 1 - exact_exponent(value);
    mpz_t whole;
    mpz_init(whole);
    bool moved = scaled_whole(whole, value, shift);
    power_of_ten(ret_rounded, -shift);
    mpz_mul(mpq_numref(ret_rounded), mpq_numref(ret_rounded), whole);
    mpq_canonicalize(ret_rounded);
    if (sign < 0) {
        mpq_neg(ret_rounded, ret_rounded);
    }
    mpz_clear(whole);
    return moved;
}

bool exact_root(mpq_t ret_root, const mpq_t value)
{
    assert(mpq_sgn(value) >= 0);
    bool exact = mpz_perfect_square_p(mpq_numref(value)) && mpz_perfect_square_p(mpq_denref(value));
    if (exact) {
        mpz_sqrt(mpq_numref(ret_root), mpq_numref(value));
        mpz_sqrt(mpq_denref(ret_root), mpq_denref(value));
        return true;
    }
    /* The root of value * 100^k as a whole number, over 10^k. */
    long exponent = exact_exponent(value);
    long k = ROOT_DIGITS - (exponent < 0 ? exponent / 2 - 1 : 0);
    mpz_t whole;
    mpz_init(whole);
    scaled_whole(whole, value, 2 * k);
    mpz_sqrt(whole, whole);
    power_of_ten(ret_root, -k);
    mpz_mul(mpq_numref(ret_root), mpq_numref(ret_root), whole);
    mpq_canonicalize(ret_root);
    mpz_clear(whole);
    return false;
}

/* Number of decimals that the exact value needs; -1 where they do not end within DIGITS_MOST. */
static int decimals_needed(const mpq_t value)
{
    mpz_t rest;
    mpz_init_set(rest, mpq_denref(value));
    int twos = (int)mpz_scan1(rest, 0);
    mpz_tdiv_q_2exp(rest, rest, (mp_bitcnt_t)twos);
    int fives = 0;
    while (fives <= DIGITS_MOST && mpz_divisible_ui_p(rest, 5)) {
        mpz_divexact_ui(rest, rest, 5);
        fives++;
    }
    bool ends = mpz_cmp_ui(rest, 1) == 0;
    mpz_clear(rest);
    int needed = twos > fives ? twos : fives;
    return ends && needed <= DIGITS_MOST ? needed : -1;
}

unsigned exact_digits(const mpq_t value)
{
    if (mpq_sgn(value) == 0) {
        return 1;
    }
    int decimals = decimals_needed(value);
    if (decimals < 0) {
        return 0;
    }
    mpz_t whole;
    mpz_init(whole);
    scaled_whole(whole, value, decimals);
    while (mpz_divisible_ui_p(whole, 10)) {
        mpz_divexact_ui(whole, whole, 10);
    }
    size_t digits = mpz_sizeinbase(whole, 10);
    mpz_t power; /* sizeinbase may be one too many */
    mpz_init(power);
    mpz_ui_pow_ui(power, 10, digits - 1);
    if (mpz_cmp(power, whole) > 0) {
        digits--;
    }
    mpz_clear(power);
    mpz_clear(whole);
    return digits <= DIGITS_MOST ? (unsigned)digits : 0;
}

static void add_whole(struct text *text, const mpz_t whole)
{
    char *digits = memory_new(mpz_sizeinbase(whole, 10) + 2);
    mpz_get_str(digits, 10, whole);
    text_add(text, digits);
    free(digits);
}

void exact_write_fraction(struct text *text, const mpq_t value)
{
    add_whole(text, mpq_numref(value));
    if (mpz_cmp_ui(mpq_denref(value), 1) != 0) {
        text_add_char(text, '/');
        add_whole(text, mpq_denref(value));
    }
}

/* `value`, which ends within `decimals` (>= 0) decimals, with just so many. */
static void write_fixed(struct text *text, const mpq_t value, long decimals)
{
    mpz_t whole;
    mpz_init(whole);
    scaled_whole(whole, value, decimals);
    struct text digits = {0};
    add_whole(&digits, whole);
    size_t places = (size_t)decimals;
    if (mpq_sgn(value) < 0) {
        text_add_char(text, '-');
    }
    if (digits.length <= places) {
        text_add(text, "0");
    } else {
        text_add_length(text, text_string(&digits), digits.length - places);
    }
    if (places > 0) {
        text_add_char(text, '.');
        for (size_t zeros = digits.length; zeros < places; zeros++) {
            text_add_char(text, '0');
        }
        size_t tail = digits.length < places ? digits.length : places;
        text_add_length(text, text_string(&digits) + digits.length - tail, tail);
    }
    text_done(&digits);
    mpz_clear(whole);
}

bool exact_write_decimal(struct text *text, const mpq_t value, unsigned figures)
{
    unsigned digits = exact_digits(value);
    if (digits > 0 && digits <= figures) {
        write_fixed(text, value, decimals_needed(value));
        return false;
    }
    mpq_t rounded;
    mpq_init(rounded);
    exact_round(rounded, value, figures);
    long decimals = (long)figures - 1 - exact_exponent(rounded);
    write_fixed(text, rounded, decimals < 0 ? 0 : decimals);
    mpq_clear(rounded);
    return true;
}

/* False, with nothing added, for what is a number. */
static bool add_word(struct text *text, const mpq_t value, enum exact_quantity quantity)
{
    const int sign = mpq_sgn(value);
    switch (quantity) {
    case EXACT_YES_NO:
        text_add(text, sign == 0 ? "no" : "yes");
        return true;
    case EXACT_ARROW:
        text_add(text, sign > 0 ? "rises" : sign < 0 ? "falls" : "stays");
        return true;
    case EXACT_DIRECTION:
        text_add(text, sign == 0 ? "out" : "in");
        return true;
    case EXACT_CHOICE:
        text_add_char(text, (char)('a' - 1 + (int)mpz_get_ui(mpq_numref(value))));
        return true;
    case EXACT_PART:
        text_printf(text, "R%lu", mpz_get_ui(mpq_numref(value)));
        return true;
    default:
        return false;
    }
}

bool exact_figure(struct text *text, const mpq_t value, enum exact_quantity quantity, unsigned figures)
{
    if (add_word(text, value, quantity)) {
        return false;
    }
    bool rounded = exact_write_decimal(text, value, figures);
    if (exact_unit(quantity)[0] != '\0') {
        text_add_char(text, ' ');
        text_add(text, exact_unit(quantity));
    }
    return rounded;
}

double exact_double(const mpq_t value)
{
    enum { ENOUGH_DIGITS = 25 };
    mpz_t whole;
    struct text text = {0};
    mpz_init(whole);
    /* By way of digits and a power of ten: mpq_get_d cuts instead of rounding. */
    const long shift = ENOUGH_DIGITS - 1 - exact_exponent(value);
    scaled_whole(whole, value, shift);
    text_add(&text, mpq_sgn(value) < 0 ? "-" : "");
    add_whole(&text, whole);
    text_printf(&text, "e%ld", -shift);
    const double nearest = strtod(text_string(&text), NULL);
    text_done(&text);
    mpz_clear(whole);
    return nearest;
}

void exact_set_decimal(mpq_t ret_value, const char *decimal)
{
    const char *point = strchr(decimal, '.');
    struct text digits = {0};
    text_add_length(&digits, decimal, point == NULL ? strlen(decimal) : (size_t)(point - decimal));
    text_add(&digits, point == NULL ? "" : point + 1);
    power_of_ten(ret_value, point == NULL ? 0 : (long)strlen(point + 1));
    mpz_swap(mpq_numref(ret_value), mpq_denref(ret_value));
    const int status = mpz_set_str(mpq_numref(ret_value), text_string(&digits), 10);
    assert(status == 0);
    mpq_canonicalize(ret_value);
    text_done(&digits);
}

void exact_write_places(struct text *text, const mpq_t value, unsigned places)
{
    write_fixed(text, value, (long)places);
}
