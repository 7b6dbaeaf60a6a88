#include "number.h"

#include <math.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

enum { EXPONENT_MOST = 100000, MANTISSA_DIGITS_MOST = 15, EXACT_POWER_MOST = 22 };

void number_done(struct number *number)
{
    text_done(&number->digits);
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static size_t count_digits(const char *string)
{
    size_t count = 0;
    while (is_digit(string[count])) {
        count++;
    }
    return count;
}

static char lower(char c)
{
    return c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
}

bool number_same_letters(const char *a, const char *b)
{
    for (; lower(*a) == lower(*b); a++, b++) {
        if (*a == '\0') {
            return true;
        }
    }
    return false;
}

static bool begins_like(const char *string, const char *word)
{
    for (; *word != '\0'; word++, string++) {
        if (lower(*string) != *word) {
            return false;
        }
    }
    return true;
}

/* Why `string` does not begin with a digit. */
static void explain_start(const char *string, struct text *fault)
{
    if (string[0] == '+') {
        text_add(fault, "a leading + is not accepted, expected a number such as 1.5");
    } else if (string[0] == '-') {
        text_add(fault, "may not be negative, expected a number without a minus");
    } else if (string[0] == '.' && is_digit(string[1])) {
        text_printf(fault, "a digit is missing before the point, expected 0.%.*s", (int)count_digits(string + 1),
                    string + 1);
    } else if (begins_like(string, "nan") || begins_like(string, "inf")) {
        text_add(fault, "not a finite number, expected a number such as 1.5");
    } else {
        const bool quoted = string[0] == '"' || string[0] == '\'';
        const bool money = string[0] == '$' || strncmp(string, "\u20ac", strlen("\u20ac")) == 0 ||
                           strncmp(string, "\u00a3", strlen("\u00a3")) == 0;
        text_printf(fault, "not a number, expected digits such as 1.5%s",
                    quoted  ? ", without quotes"
                    : money ? ", without the sign of the currency"
                            : "");
    }
}

/* Refuses what looks like the rest of a number in another country's or a program's spelling. */
static bool refuse_rest(const char *string, const char *end, struct text *fault)
{
    const char *next = end + strspn(end, " ");
    if (string[0] == '0' && (string[1] == 'x' || string[1] == 'X')) {
        text_add(fault, "hexadecimal is not accepted, expected a decimal number");
    } else if (end[0] == ',' && is_digit(end[1])) {
        bool thousands = count_digits(end + 1) == 3;
        text_add(fault, thousands ? "a thousands separator (or decimal comma) is not accepted, expected plain digits "
                                    "with a decimal point, such as 1500 or 1.5"
                                  : "a decimal comma is not accepted, expected a decimal point, such as 1.5");
    } else if (end[0] == ',') {
        text_add(fault, "a comma is not accepted here, expected one number");
    } else if ((next > end && is_digit(next[0])) || ((end[0] == '\'' || end[0] == '_') && is_digit(end[1])) ||
               strncmp(end, "\u00a0", 2) == 0 || strncmp(end, "\u202f", 3) == 0 || strncmp(end, "\u2009", 3) == 0) {
        text_add(fault, "a thousands separator is not accepted, expected plain digits, such as 1500");
    } else if (end[0] == '.') {
        text_add(fault, is_digit(end[1]) ? "more than one point in a number, expected a number such as 1.5"
                                         : "a digit is missing after the point, expected a number such as 5 or 5.0");
    } else {
        return true;
    }
    return false;
}

/* Reads `e+12`; the exponent is held to EXPONENT_MOST either way, which no double reaches. */
static const char *scan_exponent(const char *at, long *exponent, struct text *fault)
{
    bool negative = at[1] == '-';
    const char *digits = at + 1 + (at[1] == '-' || at[1] == '+');
    size_t count = count_digits(digits);
    if (count == 0) {
        text_add(fault, "an exponent without digits, expected such as 1e3");
        return NULL;
    }
    long value = 0;
    for (size_t i = 0; i < count && value < EXPONENT_MOST; i++) {
        value = value * 10 + (digits[i] - '0');
    }
    value = value > EXPONENT_MOST ? EXPONENT_MOST : value;
    *exponent += negative ? -value : value;
    return digits + count;
}

static void drop_leading_zeros(struct text *digits)
{
    size_t zeros = strspn(text_string(digits), "0");
    if (zeros > 0) {
        memmove(digits->bytes, digits->bytes + zeros, digits->length - zeros + 1);
        digits->length -= zeros;
    }
}

const char *number_scan(const char *string, bool is_signed, struct number *number, struct text *fault)
{
    *number = (struct number){0};
    const char *at = string;
    if (is_signed && at[0] == '-') {
        number->negative = true;
        at++;
    }
    const char *start = at;
    size_t whole = count_digits(at);
    if (whole == 0) {
        explain_start(at, fault);
        return NULL;
    }
    text_add_length(&number->digits, at, whole);
    at += whole;
    size_t decimals = at[0] == '.' ? count_digits(at + 1) : 0;
    if (decimals > 0) {
        text_add_length(&number->digits, at + 1, decimals);
        number->exponent = -(long)decimals;
        at += 1 + decimals;
    }
    if (at[0] == 'e' || at[0] == 'E') {
        at = scan_exponent(at, &number->exponent, fault);
    }
    if (at == NULL || !refuse_rest(start, at, fault)) {
        return NULL;
    }
    drop_leading_zeros(&number->digits);
    return at;
}

void number_multiply(struct number *number, unsigned factor, int power)
{
    number->exponent += power;
    uint64_t carry = 0;
    for (size_t i = number->digits.length; factor != 1 && i > 0; i--) {
        uint64_t product = (uint64_t)(number->digits.bytes[i - 1] - '0') * factor + carry;
        number->digits.bytes[i - 1] = (char)('0' + product % 10);
        carry = product / 10;
    }
    if (carry > 0) {
        struct text longer = {0};
        text_printf(&longer, "%llu%s", (unsigned long long)carry, text_string(&number->digits));
        text_done(&number->digits);
        number->digits = longer;
    }
    drop_leading_zeros(&number->digits);
}

/* Exact where digits and power of ten are both doubles: one rounding. */
static bool short_double(const struct number *number, double *ret_value)
{
    static const double powers[EXACT_POWER_MOST + 1] = {1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,
                                                        1e8,  1e9,  1e10, 1e11, 1e12, 1e13, 1e14, 1e15,
                                                        1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22};
    if (number->digits.length > MANTISSA_DIGITS_MOST || labs(number->exponent) > EXACT_POWER_MOST) {
        return false;
    }
    double mantissa = 0;
    for (size_t i = 0; i < number->digits.length; i++) {
        mantissa = mantissa * 10 + (number->digits.bytes[i] - '0');
    }
    *ret_value = number->exponent < 0 ? mantissa / powers[-number->exponent] : mantissa * powers[number->exponent];
    return true;
}

bool number_double(const struct number *number, double *ret_value)
{
    double value = 0;
    if (number->digits.length > 0 && !short_double(number, &value)) {
        struct text spelled = {0};
        text_printf(&spelled, "%se%ld", text_string(&number->digits), number->exponent);
        value = strtod(text_string(&spelled), NULL); /* no point in it: the same in every locale */
        text_done(&spelled);
        if (!isfinite(value) || value == 0) {
            return false;
        }
    }
    *ret_value = number->negative && value != 0 ? -value : value;
    return true;
}

bool number_plain(const struct number *number, long digits_most, struct text *text)
{
    const char *digits = text_string(&number->digits);
    long length = (long)number->digits.length;
    long exponent = number->exponent;
    while (length > 0 && digits[length - 1] == '0') {
        length--;
        exponent++;
    }
    if (length == 0) {
        text_add(text, "0");
        return true;
    }
    long whole = length + exponent; /* digits before the point; 0 or less: none */
    if (whole > digits_most || -exponent > digits_most) {
        return false;
    }
    text_add(text, number->negative ? "-" : "");
    text_add(text, whole <= 0 ? "0" : "");
    text_add_length(text, digits, whole <= 0 ? 0 : (size_t)(whole < length ? whole : length));
    for (long i = length; i < whole; i++) {
        text_add_char(text, '0');
    }
    if (exponent < 0) {
        text_add_char(text, '.');
        for (long i = whole; i < 0; i++) {
            text_add_char(text, '0');
        }
        long from = whole > 0 ? whole : 0;
        text_add_length(text, digits + from, (size_t)(length - from));
    }
    return true;
}
