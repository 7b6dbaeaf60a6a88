#include "scan.h"

#include <ctype.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/language.h"
#include "ampsum/words.h"

enum { EXPONENT_MOST = 400, DIGITS_MOST = 400, RANGE_EXPONENT = 12 };

void circuit_number_init(struct circuit_number *number)
{
    mpq_init(number->value);
    mpq_init(number->half);
}

void circuit_number_done(struct circuit_number *number)
{
    mpq_clear(number->value);
    mpq_clear(number->half);
}

bool circuit_about(struct circuit_fault *fault, enum circuit_about about, bool good)
{
    if (!good && fault->about == CIRCUIT_ABOUT_ANY) {
        fault->about = about;
    }
    return good;
}

const char *circuit_about_word(enum circuit_about about)
{
    static const char *const words[] = {
        [CIRCUIT_ABOUT_SOURCE] = "source", [CIRCUIT_ABOUT_CIRCUIT] = "circuit", [CIRCUIT_ABOUT_KNOWN] = "know",
        [CIRCUIT_ABOUT_OPEN] = "open",     [CIRCUIT_ABOUT_SHORT] = "short",     [CIRCUIT_ABOUT_BREAKER] = "breaker"};
    return words[about];
}

const char *circuit_fault_said(const struct circuit_fault *fault)
{
    const char *message = text_string(&fault->message);
    const char *behind = strncmp(message, "--", 2) == 0 ? strchr(message, ' ') : NULL;
    return behind == NULL ? message : behind + 1;
}

bool circuit_fail(struct circuit_fault *fault, enum circuit_status status, const char *key, ...)
{
    if (fault->status == CIRCUIT_SOLVED) {
        fault->status = status;
        va_list places;
        va_start(places, key);
        say_list(&fault->message, fault->language, key, places);
        va_end(places);
    }
    return false;
}

bool scan_fail_most(struct scan *scan, const char *place, const char *key, int most)
{
    struct text number = {0};
    text_printf(&number, "%d", most);
    scan_fail(scan, place, key, "most", text_string(&number), (const char *)NULL);
    text_done(&number);
    return false;
}

bool scan_fail(struct scan *scan, const char *place, const char *key, ...)
{
    struct circuit_fault *fault = scan->fault;
    if (fault->status != CIRCUIT_SOLVED) {
        return false;
    }
    fault->status = CIRCUIT_INPUT;
    va_list places;
    va_start(places, key);
    say_list(&fault->message, fault->language, key, places);
    va_end(places);
    struct text before = {0};
    text_add_length(&before, scan->line, (size_t)(place - scan->line));
    text_printf(&fault->message, "\n  %s\n  %*s^", scan->line, (int)words_columns(text_string(&before)), "");
    text_done(&before);
    return false;
}

void scan_blanks(struct scan *scan)
{
    static const char hard[] = "\xC2\xA0";
    while (isspace((unsigned char)*scan->at) || strncmp(scan->at, hard, 2) == 0) {
        scan->at += *scan->at == hard[0] ? 2 : 1;
    }
}

bool scan_take(struct scan *scan, const char *string)
{
    const size_t length = strlen(string);
    const bool found = strncmp(scan->at, string, length) == 0;
    scan->at += found ? length : 0;
    return found;
}

bool scan_word(struct scan *scan, const char *word)
{
    const size_t length = strlen(word);
    const bool found = strncasecmp(scan->at, word, length) == 0 && scan_letter_bytes(scan->at + length) == 0 &&
                       !isdigit((unsigned char)scan->at[length]);
    scan->at += found ? length : 0;
    return found;
}

/* Bytes of the first of the spellings that stands at `at`. */
static size_t one_of(const char *at, const char *const *spellings)
{
    for (size_t i = 0; spellings[i] != NULL; i++) {
        if (strncmp(at, spellings[i], strlen(spellings[i])) == 0) {
            return strlen(spellings[i]);
        }
    }
    return 0;
}

size_t scan_bar_bytes(const char *at)
{
    static const char *const bars[] = {"||", "|", "//", "\xE2\x80\x96", "\xE2\x88\xA5", NULL};
    return one_of(at, bars);
}

size_t scan_minus_bytes(const char *at)
{
    static const char *const signs[] = {"--", "-", "\xE2\x88\x92", "\xE2\x80\x93", "\xE2\x80\x94", NULL};
    return one_of(at, signs);
}

size_t scan_letter_bytes(const char *at)
{
    if (isalpha((unsigned char)*at)) {
        return 1;
    }
    /* Letters of western languages, U+00C0 to U+017F, but the signs of multiplying and dividing. */
    const unsigned char lead = (unsigned char)at[0];
    const bool latin = lead >= 0xC3 && lead <= 0xC5;
    return latin && strncmp(at, "\xC3\x97", 2) != 0 && strncmp(at, "\xC3\xB7", 2) != 0 ? 2 : 0;
}

/* number *= 10^exponent */
static void scale(struct circuit_number *number, long exponent)
{
    mpq_t power;
    mpq_init(power);
    mpq_set_ui(power, 1, 1);
    mpz_ui_pow_ui(exponent < 0 ? mpq_denref(power) : mpq_numref(power), 10, (unsigned long)labs(exponent));
    mpq_mul(number->value, number->value, power);
    mpq_mul(number->half, number->half, power);
    mpq_clear(power);
}

static bool set_decimal(struct scan *scan, const char *place, const struct text *digits, long exponent,
                        struct circuit_number *number)
{
    if (digits->length > DIGITS_MOST || labs(exponent) > EXPONENT_MOST) {
        return scan_fail(scan, place, "refuse.digits-range", (const char *)NULL);
    }
    mpz_set_str(mpq_numref(number->value), text_string(digits), 10);
    mpz_set_ui(mpq_denref(number->value), 1);
    mpq_set_ui(number->half, 1, 2);
    scale(number, exponent);
    return true;
}

static size_t take_digits(struct scan *scan, struct text *digits)
{
    const size_t before = digits->length;
    while (isdigit((unsigned char)*scan->at)) {
        text_add_char(digits, *scan->at++);
    }
    return digits->length - before;
}

/* `e-3` behind the digits; a bare e is none. */
static long take_exponent(struct scan *scan)
{
    const char *at = scan->at;
    if (*at != 'e' && *at != 'E') {
        return 0;
    }
    const bool negative = at[1] == '-';
    at += at[1] == '-' || at[1] == '+' ? 2 : 1;
    if (!isdigit((unsigned char)*at)) {
        return 0;
    }
    long exponent = 0;
    for (; isdigit((unsigned char)*at); at++) {
        exponent = exponent > EXPONENT_MOST ? exponent : exponent * 10 + (*at - '0');
    }
    scan->at = at;
    return negative ? -exponent : exponent;
}

/* `/ 3` behind a number; two strokes are a bar. A fraction is exact. */
static bool take_denominator(struct scan *scan, struct circuit_number *number)
{
    struct scan ahead = *scan;
    scan_blanks(&ahead);
    if (*ahead.at != '/' || ahead.at[1] == '/') {
        return true;
    }
    ahead.at++;
    scan_blanks(&ahead);
    struct text digits = {0};
    const char *place = ahead.at;
    mpq_t under;
    mpq_init(under);
    bool good = take_digits(&ahead, &digits) > 0;
    if (!good) {
        scan_fail(scan, place, "refuse.fraction", (const char *)NULL);
    } else if (digits.length > DIGITS_MOST) {
        good = scan_fail(scan, place, "refuse.digits", (const char *)NULL);
    } else {
        mpz_set_str(mpq_numref(under), text_string(&digits), 10);
        good = mpq_sgn(under) > 0 || scan_fail(scan, place, "refuse.over-0", (const char *)NULL);
    }
    if (good) {
        mpq_div(number->value, number->value, under);
        mpq_set_ui(number->half, 0, 1);
        scan->at = ahead.at;
    }
    mpq_clear(under);
    text_done(&digits);
    return good;
}

static bool refuse_comma(struct scan *scan)
{
    const bool comma = *scan->at == ',' && isdigit((unsigned char)scan->at[1]);
    return comma && !scan_fail(scan, scan->at, "refuse.comma", (const char *)NULL);
}

bool scan_number(struct scan *scan, struct circuit_number *ret_number, bool *ret_whole)
{
    const char *place = scan->at;
    struct text digits = {0};
    take_digits(scan, &digits);
    long exponent = 0;
    *ret_whole = true;
    if (*scan->at == '.' && isdigit((unsigned char)scan->at[1])) {
        scan->at++;
        exponent = -(long)take_digits(scan, &digits);
        *ret_whole = false;
    }
    const char *mantissa_end = scan->at;
    exponent += take_exponent(scan);
    *ret_whole = *ret_whole && scan->at == mantissa_end;
    const bool good = !refuse_comma(scan) && set_decimal(scan, place, &digits, exponent, ret_number) &&
                      take_denominator(scan, ret_number);
    *ret_whole = *ret_whole && mpq_sgn(ret_number->half) > 0;
    text_done(&digits);
    return good;
}

static const struct {
    const char *sign;
    int exponent;
} prefixes[] = {{"", 0}, {"u", -6}, {"\xC2\xB5", -6}, {"\xCE\xBC", -6}, {"m", -3}, {"k", 3}, {"K", 3}, {"M", 6}};

static const struct {
    const char *sign;
    enum scan_unit unit;
    bool any_case;
} units[] = {{"", SCAN_OHM, false},      {"R", SCAN_OHM, false},        {"ohm", SCAN_OHM, true},
             {"ohms", SCAN_OHM, true},   {"\xCE\xA9", SCAN_OHM, false}, {"\xE2\x84\xA6", SCAN_OHM, false},
             {"S", SCAN_SIEMENS, false}, {"W", SCAN_WATT, false},       {"A", SCAN_AMPERE, false},
             {"V", SCAN_VOLT, false}};

/* Which prefix and unit the word is; false where it is none. */
static bool match_unit(const char *word, int *ret_exponent, enum scan_unit *ret_unit)
{
    for (size_t p = 0; p < sizeof prefixes / sizeof prefixes[0]; p++) {
        const size_t length = strlen(prefixes[p].sign);
        if (strncmp(word, prefixes[p].sign, length) != 0) {
            continue;
        }
        for (size_t u = 0; u < sizeof units / sizeof units[0]; u++) {
            const char *rest = word + length;
            if (units[u].any_case ? strcasecmp(rest, units[u].sign) == 0 : strcmp(rest, units[u].sign) == 0) {
                *ret_exponent = prefixes[p].exponent;
                *ret_unit = units[u].unit;
                return true;
            }
        }
    }
    return false;
}

/* `4k7`, `1R5`: what stands behind the letter are its decimals. */
static bool take_letter_decimals(struct scan *scan, struct circuit_number *number)
{
    const char *const letters = "RkKM";
    static const int exponents[] = {0, 3, 3, 6};
    const char *letter = *scan->at == '\0' ? NULL : strchr(letters, *scan->at);
    if (letter == NULL || !isdigit((unsigned char)scan->at[1])) {
        return false;
    }
    scan->at++;
    struct text digits = {0};
    const size_t count = take_digits(scan, &digits);
    if (count <= DIGITS_MOST) {
        scale(number, (long)count);
        mpq_t more;
        mpq_init(more);
        mpz_set_str(mpq_numref(more), text_string(&digits), 10);
        mpq_add(number->value, number->value, more);
        mpq_set_ui(number->half, 1, 2);
        scale(number, exponents[letter - letters] - (long)count);
        mpq_clear(more);
    } else {
        scan_fail(scan, scan->at, "refuse.digits", (const char *)NULL);
    }
    text_done(&digits);
    return true;
}

/* The run of letters behind a number, Greek ones and the signs of ohm and micro too. */
static size_t unit_bytes(const char *at)
{
    static const char *const signs[] = {"\xC2\xB5", "\xCE\xBC", "\xCE\xA9", "\xE2\x84\xA6", "\xC2\xB2", NULL};
    size_t length = 0;
    for (size_t more = 1; more > 0; length += more) {
        more = one_of(at + length, signs);
        more = more > 0 ? more : scan_letter_bytes(at + length);
    }
    return length;
}

/* Words that go on with the circuit behind a bare number. */
static bool is_joining(const struct scan *scan)
{
    struct scan ahead = *scan;
    return scan_word(&ahead, "in") || scan_word(&ahead, "at") || scan_word(&ahead, "each");
}

bool scan_unit(struct scan *scan, bool whole, struct circuit_number *number, enum scan_unit *ret_unit)
{
    *ret_unit = SCAN_OHM;
    if (whole && take_letter_decimals(scan, number)) {
        return scan->fault->status == CIRCUIT_SOLVED;
    }
    const char *end_of_number = scan->at;
    scan_blanks(scan);
    const size_t length = unit_bytes(scan->at);
    if (length == 0 || is_joining(scan)) {
        *ret_unit = SCAN_BARE;
        scan->at = end_of_number;
        return true;
    }
    struct text word = {0};
    text_add_length(&word, scan->at, length);
    int exponent = 0;
    const bool known = match_unit(text_string(&word), &exponent, ret_unit);
    if (known) {
        scan->at += length;
        scale(number, exponent);
    } else {
        scan_fail(scan, scan->at, "refuse.unit", "word", text_string(&word), (const char *)NULL);
    }
    text_done(&word);
    return known;
}

bool scan_in_range(struct scan *scan, const char *place, const mpq_t value, const char *zero)
{
    if (mpq_sgn(value) == 0) {
        return scan_fail(scan, place, zero, (const char *)NULL);
    }
    struct circuit_number limit;
    circuit_number_init(&limit);
    mpq_set_ui(limit.value, 1, 1);
    scale(&limit, RANGE_EXPONENT);
    const bool large = mpq_cmp(value, limit.value) > 0;
    mpq_inv(limit.value, limit.value);
    const bool small = mpq_cmp(value, limit.value) < 0;
    circuit_number_done(&limit);
    if (large || small) {
        return scan_fail(scan, place, large ? "refuse.too-large" : "refuse.too-small", (const char *)NULL);
    }
    return true;
}
