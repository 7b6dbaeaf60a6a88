/* What a student wrote in a cell: a number with or without a unit, a fraction, or yes and no. Nothing is evaluated. */
#include <string.h>

#include "ampsum/written.h"

enum { DIGITS_READ_MOST = 40, EXPONENT_MOST = 30 };

/* Units as people write them. Those of one letter tell m from M; words do not mind case. */
static const struct unit_word {
    const char *word;
    enum exact_quantity quantity;
    unsigned long numerator; /* factor to the quantity's own unit */
    unsigned long denominator;
} unit_words[] = {
    {"A", EXACT_CURRENT, 1, 1},
    {"a", EXACT_CURRENT, 1, 1},
    {"mA", EXACT_CURRENT, 1, 1000},
    {"ma", EXACT_CURRENT, 1, 1000},
    {"uA", EXACT_CURRENT, 1, 1000000},
    {"µA", EXACT_CURRENT, 1, 1000000},
    {"μA", EXACT_CURRENT, 1, 1000000},
    {"kA", EXACT_CURRENT, 1000, 1},
    {"MA", EXACT_CURRENT, 1000000, 1},
    {"amp", EXACT_CURRENT, 1, 1},
    {"amps", EXACT_CURRENT, 1, 1},
    {"ampere", EXACT_CURRENT, 1, 1},
    {"amperes", EXACT_CURRENT, 1, 1},
    {"V", EXACT_VOLTAGE, 1, 1},
    {"v", EXACT_VOLTAGE, 1, 1},
    {"mV", EXACT_VOLTAGE, 1, 1000},
    {"kV", EXACT_VOLTAGE, 1000, 1},
    {"MV", EXACT_VOLTAGE, 1000000, 1},
    {"volt", EXACT_VOLTAGE, 1, 1},
    {"volts", EXACT_VOLTAGE, 1, 1},
    {"W", EXACT_POWER, 1, 1},
    {"w", EXACT_POWER, 1, 1},
    {"mW", EXACT_POWER, 1, 1000},
    {"kW", EXACT_POWER, 1000, 1},
    {"KW", EXACT_POWER, 1000, 1},
    {"kw", EXACT_POWER, 1000, 1},
    {"MW", EXACT_POWER, 1000000, 1},
    {"watt", EXACT_POWER, 1, 1},
    {"watts", EXACT_POWER, 1, 1},
    {"VA", EXACT_APPARENT, 1, 1},
    {"va", EXACT_APPARENT, 1, 1},
    {"mVA", EXACT_APPARENT, 1, 1000},
    {"kVA", EXACT_APPARENT, 1000, 1},
    {"MVA", EXACT_APPARENT, 1000000, 1},
    {"var", EXACT_REACTIVE, 1, 1},
    {"VAR", EXACT_REACTIVE, 1, 1},
    {"VAr", EXACT_REACTIVE, 1, 1},
    {"mvar", EXACT_REACTIVE, 1, 1000},
    {"kvar", EXACT_REACTIVE, 1000, 1},
    {"kVAR", EXACT_REACTIVE, 1000, 1},
    {"Mvar", EXACT_REACTIVE, 1000000, 1},
    {"ohm", EXACT_RESISTANCE, 1, 1},
    {"ohms", EXACT_RESISTANCE, 1, 1},
    {"Ω", EXACT_RESISTANCE, 1, 1},
    {"\xE2\x84\xA6", EXACT_RESISTANCE, 1, 1},
    {"mohm", EXACT_RESISTANCE, 1, 1000},
    {"mΩ", EXACT_RESISTANCE, 1, 1000},
    {"m\xE2\x84\xA6", EXACT_RESISTANCE, 1, 1000},
    {"kohm", EXACT_RESISTANCE, 1000, 1},
    {"kohms", EXACT_RESISTANCE, 1000, 1},
    {"kΩ", EXACT_RESISTANCE, 1000, 1},
    {"k\xE2\x84\xA6", EXACT_RESISTANCE, 1000, 1},
    {"Mohm", EXACT_RESISTANCE, 1000000, 1},
    {"MΩ", EXACT_RESISTANCE, 1000000, 1},
    {"M\xE2\x84\xA6", EXACT_RESISTANCE, 1000000, 1},
    {"kWh", EXACT_ENERGY, 1, 1},
    {"KWh", EXACT_ENERGY, 1, 1},
    {"kwh", EXACT_ENERGY, 1, 1},
    {"Wh", EXACT_ENERGY, 1, 1000},
    {"mWh", EXACT_ENERGY, 1, 1000000},
    {"MWh", EXACT_ENERGY, 1000, 1},
    {"J", EXACT_ENERGY, 1, 3600000},
    {"kJ", EXACT_ENERGY, 1, 3600},
    {"MJ", EXACT_ENERGY, 10, 36},
    {"h", EXACT_TIME, 1, 1},
    {"min", EXACT_TIME, 1, 60},
    {"s", EXACT_TIME, 1, 3600},
    {"%", EXACT_RATIO, 1, 100},
    {"$", EXACT_MONEY, 1, 1},
    {"€", EXACT_MONEY, 1, 1},
    {"£", EXACT_MONEY, 1, 1},
};

void answer_init(struct answer *answer)
{
    *answer = (struct answer){.form = ANSWER_EMPTY};
    mpq_init(answer->number);
    mpq_init(answer->factor);
}

void answer_done(struct answer *answer)
{
    mpq_clear(answer->number);
    mpq_clear(answer->factor);
}

static bool is_digit(char c)
{
    return c >= '0' && c <= '9';
}

static const char *skip_blanks(const char *at)
{
    while (*at == ' ' || *at == '\t' || *at == '\r' || *at == '\n' || strncmp(at, "\xC2\xA0", 2) == 0) {
        at += *at == '\xC2' ? 2 : 1;
    }
    return at;
}

/* Significant digits of a run of digits with an optional point. Trailing zeros of a whole number may or may not count.
 */
static void count_figures(const char *start, const char *end, struct answer *answer)
{
    unsigned all = 0;
    unsigned zeros_at_end = 0;
    bool point = false;
    for (const char *c = start; c < end; c++) {
        if (*c == '.') {
            point = true;
        } else if (all > 0 || *c != '0') {
            all++;
            zeros_at_end = *c == '0' ? zeros_at_end + 1 : 0;
        }
    }
    answer->figures_most = all;
    answer->figures_least = point ? all : all - zeros_at_end;
}

static void set_digits(mpz_t whole, const char *start, const char *end)
{
    mpz_set_ui(whole, 0);
    for (const char *c = start; c < end; c++) {
        if (is_digit(*c)) {
            mpz_mul_ui(whole, whole, 10);
            mpz_add_ui(whole, whole, (unsigned long)(*c - '0'));
        }
    }
}

/* Exponent at `*at`, if one stands there. False where it is too large to be meant. */
static bool read_exponent(const char **at, long *ret_exponent)
{
    const char *c = *at;
    *ret_exponent = 0;
    if (*c != 'e' && *c != 'E') {
        return true;
    }
    c++;
    bool minus = *c == '-';
    c += *c == '-' || *c == '+' ? 1 : 0;
    if (!is_digit(*c)) {
        return true; /* no exponent: whatever it is, the unit's reader refuses it */
    }
    long exponent = 0;
    for (; is_digit(*c); c++) {
        exponent = exponent <= EXPONENT_MOST ? exponent * 10 + (*c - '0') : exponent;
    }
    *ret_exponent = minus ? -exponent : exponent;
    *at = c;
    return exponent <= EXPONENT_MOST;
}

/* A decimal; leaves `*at` behind it. */
static bool read_decimal(const char **at, struct answer *answer, bool *ret_whole)
{
    const char *start = *at;
    const char *c = start;
    const char *point = NULL;
    while (is_digit(*c) || (*c == '.' && point == NULL)) {
        point = *c == '.' ? c : point;
        c++;
    }
    size_t digits = (size_t)(c - start) - (point != NULL ? 1 : 0);
    if (digits == 0 || digits > DIGITS_READ_MOST) {
        return false;
    }
    count_figures(start, c, answer);
    long decimals = point == NULL ? 0 : (long)(c - point - 1);
    mpq_set_ui(answer->number, 0, 1);
    set_digits(mpq_numref(answer->number), start, c);
    *ret_whole = point == NULL;
    *at = c;
    long exponent;
    if (!read_exponent(at, &exponent)) {
        return false;
    }
    *ret_whole = *ret_whole && *at == c;
    mpz_t power;
    mpz_init(power);
    long shift = exponent - decimals;
    mpz_ui_pow_ui(power, 10, (unsigned long)(shift < 0 ? -shift : shift));
    if (shift < 0) {
        mpz_set(mpq_denref(answer->number), power);
    } else {
        mpz_mul(mpq_numref(answer->number), mpq_numref(answer->number), power);
    }
    mpq_canonicalize(answer->number);
    mpz_clear(power);
    return true;
}

/* `/ 3` behind a whole number, or ` 1/2` behind the whole part of a mixed number. */
static bool read_fraction(const char **at, struct answer *answer)
{
    const char *c = skip_blanks(*at);
    mpq_t part;
    mpq_init(part);
    const char *start = c;
    while (is_digit(*c)) {
        c++;
    }
    bool mixed = c > start;
    set_digits(mpq_numref(part), start, c);
    size_t length = (size_t)(c - start);
    c = skip_blanks(c);
    bool ok = *c == '/' && length <= DIGITS_READ_MOST;
    start = skip_blanks(c + (ok ? 1 : 0));
    for (c = start; is_digit(*c); c++) {
    }
    ok = ok && c > start && (size_t)(c - start) <= DIGITS_READ_MOST && *c != '.';
    if (ok) {
        set_digits(mpq_denref(part), start, c);
        ok = mpz_sgn(mpq_denref(part)) != 0;
    }
    if (ok && !mixed) {
        mpz_set(mpq_numref(part), mpq_numref(answer->number));
        mpq_set_ui(answer->number, 0, 1);
    }
    if (ok) {
        mpq_canonicalize(part);
        mpq_add(answer->number, answer->number, part);
        answer->fraction = true;
        *at = c;
    }
    mpq_clear(part);
    return ok;
}

static bool same_word(const char *word, const char *string, size_t length)
{
    if (strlen(word) != length) {
        return false;
    }
    bool fold = length > 3 && (unsigned char)word[0] < 128; /* watt, volts, ampere: written with any capitals */
    for (size_t i = 0; i < length; i++) {
        char c = string[i];
        c = fold && i > 0 && c >= 'A' && c <= 'Z' ? (char)(c - 'A' + 'a') : c;
        if (c != word[i] && !(fold && i == 0 && c + ('a' - 'A') == word[i] && strchr("mM", word[0]) == NULL)) {
            return false;
        }
    }
    return true;
}

static bool is_currency_code(const char *string, size_t length)
{
    return length == 3 && strspn(string, "ABCDEFGHIJKLMNOPQRSTUVWXYZ") >= 3;
}

static bool set_unit(const char *string, size_t length, struct answer *answer)
{
    for (size_t i = 0; i < sizeof unit_words / sizeof unit_words[0]; i++) {
        const struct unit_word *row = &unit_words[i];
        if (same_word(row->word, string, length)) {
            answer->quantity = row->quantity;
            mpq_set_ui(answer->factor, row->numerator, row->denominator);
            mpq_canonicalize(answer->factor);
            answer->has_unit = true;
            return true;
        }
    }
    if (is_currency_code(string, length)) {
        memcpy(answer->currency, string, length);
        answer->quantity = EXACT_MONEY;
        answer->has_unit = true;
        return true;
    }
    return false;
}

static const char *refuse(struct answer *answer, struct text *fault, const char *why)
{
    answer->form = ANSWER_REFUSED;
    text_add(fault, why);
    return NULL;
}

/* A comma between digits is never guessed at. */
static bool refuse_comma(const char *string, struct answer *answer, struct text *fault)
{
    const char *comma = strchr(string, ',');
    if (comma == NULL) {
        return false;
    }
    if (comma > string && is_digit(comma[-1]) && is_digit(comma[1]) && strchr(comma + 1, ',') == NULL) {
        const char *start = comma;
        while (start > string && is_digit(start[-1])) {
            start--;
        }
        const char *end = comma + 1;
        while (is_digit(*end)) {
            end++;
        }
        refuse(answer, fault, "a comma in a number is not read: write ");
        text_add_length(fault, start, (size_t)(comma - start));
        text_add_char(fault, '.');
        text_add_length(fault, comma + 1, (size_t)(end - comma - 1));
        if (end - comma == 4) {
            text_add(fault, ", or leave the comma out where thousands are meant");
        }
    } else {
        refuse(answer, fault, "a comma is not read: write one number with a point and its unit");
    }
    return true;
}

static bool read_word(const char *string, struct answer *answer)
{
    static const struct {
        const char *word;
        unsigned long value;
    } words[] = {{"yes", 1}, {"Yes", 1}, {"YES", 1}, {"y", 1}, {"Y", 1},
                 {"no", 0},  {"No", 0},  {"NO", 0},  {"n", 0}, {"N", 0}};
    size_t length = strcspn(string, " \t\r\n.");
    if (string[length] == '.') {
        length = skip_blanks(string + length + 1)[0] == '\0' ? length : 0;
    } else if (skip_blanks(string + length)[0] != '\0') {
        return false;
    }
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strlen(words[i].word) == length && strncmp(words[i].word, string, length) == 0) {
            answer->form = ANSWER_WORD;
            answer->quantity = EXACT_YES_NO;
            mpq_set_ui(answer->number, words[i].value, 1);
            return true;
        }
    }
    return false;
}

/* The number at `at`; NULL after a refusal, else what stands behind it. */
static const char *read_number(const char *at, struct answer *answer, struct text *fault)
{
    bool minus = *at == '-' || strncmp(at, "−", strlen("−")) == 0;
    at += *at == '-' || *at == '+' ? 1 : minus ? strlen("−") : 0;
    bool whole = false;
    at = skip_blanks(at);
    if (!read_decimal(&at, answer, &whole)) {
        return refuse(answer, fault, "no number: write a number and its unit, such as 2.5 A");
    }
    const char *next = skip_blanks(at);
    if (*next == '/' || is_digit(*next)) {
        if (!whole || !read_fraction(&at, answer)) {
            return refuse(answer, fault,
                          *next == '/' ? "a fraction is two whole numbers, such as 5/2; nothing is worked out"
                                       : "more than one number: write one answer");
        }
    }
    if (minus) {
        mpq_neg(answer->number, answer->number);
    }
    return skip_blanks(at);
}

static bool read_currency_sign(const char **at, struct answer *answer)
{
    static const char *const signs[] = {"$", "€", "£"};
    for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++) {
        size_t length = strlen(signs[i]);
        if (strncmp(*at, signs[i], length) == 0) {
            set_unit(signs[i], length, answer);
            *at = skip_blanks(*at + length);
            return true;
        }
    }
    return false;
}

static void read_unit(const char *at, struct answer *answer, struct text *fault)
{
    size_t length = strlen(at);
    while (length > 0 && skip_blanks(at + length - 1)[0] == '\0') {
        length--;
    }
    if (answer->has_unit && length > 0) {
        refuse(answer, fault, "text behind the number: write the number alone behind a currency sign");
    } else if (length > 0 && !set_unit(at, length, answer)) {
        bool digits = strpbrk(at, "0123456789") != NULL;
        refuse(answer, fault,
               digits ? "more than one answer, or a sum: write one number and its unit" : "unknown unit ");
        if (!digits) {
            text_add_length(fault, at, length);
        }
    }
}

void answer_read(const char *string, struct answer *ret_answer, struct text *fault)
{
    mpq_set_ui(ret_answer->number, 0, 1);
    mpq_set_ui(ret_answer->factor, 1, 1);
    ret_answer->has_unit = ret_answer->fraction = false;
    ret_answer->quantity = EXACT_RATIO;
    memset(ret_answer->currency, 0, sizeof ret_answer->currency);
    ret_answer->figures_least = ret_answer->figures_most = 0;
    const char *at = skip_blanks(string);
    at =
        skip_blanks(*at == '\'' ? at + 1 : at); /* the mark that keeps a spreadsheet from reading a cell as a formula */
    ret_answer->form = *at == '\0' ? ANSWER_EMPTY : ANSWER_NUMBER;
    if (*at == '\0') {
        return;
    }
    if (*at == '=' || *at == '@') {
        refuse(ret_answer, fault, "a formula is read as text and never worked out: write the number");
        return;
    }
    if (refuse_comma(at, ret_answer, fault) || read_word(at, ret_answer)) {
        return;
    }
    read_currency_sign(&at, ret_answer);
    at = read_number(at, ret_answer, fault);
    if (at != NULL) {
        read_unit(at, ret_answer, fault);
    }
}

bool exact_read(mpq_t ret_value, const char *string)
{
    struct answer answer;
    struct text fault = {0};
    answer_init(&answer);
    answer_read(string, &answer, &fault);
    bool ok = answer.form == ANSWER_NUMBER && !answer.has_unit;
    if (ok) {
        mpq_set(ret_value, answer.number);
    }
    answer_done(&answer);
    text_done(&fault);
    return ok;
}
