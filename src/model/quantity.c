/* Numbers with units. */
#include "ampsum/quantity.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/reference.h"
#include "number.h"

/* One accepted unit: a number in it times factor * 10^power is in the dimension's inner unit. */
struct unit {
    const char *word;
    enum dimension dimension;
    bool has_prefix; /* begins with a prefix m or M: the one place where case tells units apart */
    unsigned factor;
    int power;
};

/* Contract, house-file.md, "Quantities". Factors are exact: 1 ft = 0.3048 m, 1 mi = 5280 ft. */
static const struct unit units[] = {
    {"kVA", DIMENSION_TRANSFORMER, false, 1, 0}, /* ahead of apparent power, by which a message names them */
    {"VA", DIMENSION_TRANSFORMER, false, 1, -3},
    {"A", DIMENSION_CURRENT, false, 1, 0},
    {"mA", DIMENSION_CURRENT, true, 1, -3},
    {"kA", DIMENSION_CURRENT, false, 1, 3},
    {"V", DIMENSION_VOLTAGE, false, 1, 0},
    {"kV", DIMENSION_VOLTAGE, false, 1, 3},
    {"W", DIMENSION_POWER, false, 1, 0},
    {"kW", DIMENSION_POWER, false, 1, 3},
    {"MW", DIMENSION_POWER, true, 1, 6},
    {"VA", DIMENSION_APPARENT, false, 1, 0},
    {"kVA", DIMENSION_APPARENT, false, 1, 3},
    {"ohm", DIMENSION_RESISTANCE, false, 1, 0},
    {"\u03a9", DIMENSION_RESISTANCE, false, 1, 0},
    {"\u2126", DIMENSION_RESISTANCE, false, 1, 0},
    {"kohm", DIMENSION_RESISTANCE, false, 1, 3},
    {"mohm", DIMENSION_RESISTANCE, true, 1, -3},
    {"m", DIMENSION_LENGTH, false, 1, 0},
    {"ft", DIMENSION_LENGTH, false, 3048, -4},
    {"cm", DIMENSION_LENGTH, false, 1, -2},
    {"km", DIMENSION_LENGTH, false, 1, 3},
    {"mi", DIMENSION_LENGTH, false, 1609344, -3},
    {"m2", DIMENSION_FLOOR_AREA, false, 1, 0},
    {"ft2", DIMENSION_FLOOR_AREA, false, 9290304, -8},
    {"h", DIMENSION_TIME, false, 3600, 0},
    {"min", DIMENSION_TIME, false, 60, 0},
    {"s", DIMENSION_TIME, false, 1, 0},
    {"%", DIMENSION_PERCENT, false, 1, 0},
    {"C", DIMENSION_TEMPERATURE, false, 1, 0},
    {"\u00b0C", DIMENSION_TEMPERATURE, false, 1, 0},
    {"Hz", DIMENSION_FREQUENCY, false, 1, 0},
    {"kWh", DIMENSION_ENERGY, false, 1, 0},
    {"Wh", DIMENSION_ENERGY, false, 1, -3},
    /* known, but no key's own quantity: named in messages */
    {"hp", DIMENSION_NONE, false, 1, 0},
    {"mm2", DIMENSION_NONE, true, 1, 0},
    {"mm\u00b2", DIMENSION_NONE, true, 1, 0},
    {"kcmil", DIMENSION_NONE, false, 1, 0},
    {"AWG", DIMENSION_NONE, false, 1, 0},
};

/* What people write for a unit, in any case of letters: for messages, never read. */
static const struct {
    const char *said;
    const char *word;
} said_units[] = {
    {"amp", "A"},           {"amps", "A"},     {"ampere", "A"},
    {"amperes", "A"},       {"volt", "V"},     {"volts", "V"},
    {"watt", "W"},          {"watts", "W"},    {"kilowatt", "kW"},
    {"kilowatts", "kW"},    {"ohms", "ohm"},   {"feet", "ft"},
    {"foot", "ft"},         {"'", "ft"},       {"meter", "m"},
    {"meters", "m"},        {"metre", "m"},    {"metres", "m"},
    {"hour", "h"},          {"hours", "h"},    {"hr", "h"},
    {"hrs", "h"},           {"minute", "min"}, {"minutes", "min"},
    {"mins", "min"},        {"second", "s"},   {"seconds", "s"},
    {"sec", "s"},           {"percent", "%"},  {"per cent", "%"},
    {"sqft", "ft2"},        {"sq ft", "ft2"},  {"sq. ft", "ft2"},
    {"square feet", "ft2"}, {"sqm", "m2"},     {"ft\u00b2", "ft2"},
    {"m\u00b2", "m2"},      {"hertz", "Hz"},   {"horsepower", "hp"},
    {"celsius", "C"},
};

enum { UNIT_COUNT = sizeof units / sizeof units[0] };

static const char *dimension_word(enum dimension dimension)
{
    static const char *const words[] = {
        [DIMENSION_NONE] = "something else",
        [DIMENSION_CURRENT] = "current",
        [DIMENSION_VOLTAGE] = "voltage",
        [DIMENSION_POWER] = "power",
        [DIMENSION_APPARENT] = "apparent power",
        [DIMENSION_RESISTANCE] = "resistance",
        [DIMENSION_LENGTH] = "length",
        [DIMENSION_FLOOR_AREA] = "area",
        [DIMENSION_TIME] = "time",
        [DIMENSION_PERCENT] = "a share",
        [DIMENSION_TEMPERATURE] = "temperature",
        [DIMENSION_FREQUENCY] = "frequency",
        [DIMENSION_ENERGY] = "energy",
        [DIMENSION_TRANSFORMER] = "a transformer's rating",
    };
    return words[dimension];
}

static bool unit_matches(const struct unit *unit, const char *word)
{
    return number_same_letters(unit->word, word) && (!unit->has_prefix || unit->word[0] == word[0]);
}

static void add_unit_words(enum dimension dimension, struct text *fault)
{
    const char *between = "";
    for (size_t i = 0; i < UNIT_COUNT; i++) {
        if (units[i].dimension == dimension) {
            text_printf(fault, "%s%s", between, units[i].word);
            between = ", ";
        }
    }
}

/* The unit as written here that the word is or says; NULL where it is none. */
static const struct unit *unit_meant(const char *word)
{
    for (size_t i = 0; i < sizeof said_units / sizeof said_units[0]; i++) {
        if (number_same_letters(said_units[i].said, word)) {
            word = said_units[i].word;
            break;
        }
    }
    for (size_t i = 0; i < UNIT_COUNT; i++) {
        if (unit_matches(&units[i], word)) {
            return &units[i];
        }
    }
    return NULL;
}

const char *quantity_unit(const char *string)
{
    const char *word = string + strspn(string, "0123456789./eE ");
    const struct unit *unit = *word == '\0' ? NULL : unit_meant(word);
    return unit == NULL ? NULL : unit->word;
}

bool quantity_has_unit(enum dimension dimension, const char *unit)
{
    const struct unit *meant = unit_meant(unit);
    return meant != NULL && meant->dimension == dimension;
}

/* What stands behind the number is no word at all: says what it may be. False where it may be a unit. */
static bool explain_rest(const char *rest, enum dimension dimension, struct text *fault)
{
    static const char dash[] = "\u2013";
    const size_t signs = rest[0] == '-' ? 1 : strncmp(rest, dash, strlen(dash)) == 0 ? strlen(dash) : 0;
    const char *behind = rest + signs + strspn(rest + signs, " ");
    if (rest[0] == '#') {
        text_add(fault, "`#` begins no comment behind a value, expected a blank and `;`");
    } else if (signs > 0 && *behind >= '0' && *behind <= '9') {
        text_add(fault, "a range is not accepted, expected its highest number alone");
    } else if (rest[0] == ':' && dimension == DIMENSION_TIME) {
        text_add(fault, "a time of day is not accepted, expected a length of time such as 2.5 h or 150 min");
    } else {
        return false;
    }
    return true;
}

/* Says why `word` is no unit of the dimension. */
static void explain_unit(const char *word, enum dimension dimension, struct text *fault)
{
    const struct unit *other = NULL;
    const struct unit *other_case = NULL;
    for (size_t i = 0; i < UNIT_COUNT; i++) {
        if (unit_matches(&units[i], word)) {
            other = &units[i];
        } else if (number_same_letters(units[i].word, word)) {
            other_case = &units[i];
        }
    }
    const struct unit *meant = other == NULL ? unit_meant(word) : NULL;
    text_add(fault, other == NULL ? "unknown unit `" : "wrong unit `");
    text_add_shown(fault, word);
    text_add(fault, "`");
    if (other != NULL && other->dimension != DIMENSION_NONE) {
        text_printf(fault, " (%s)", dimension_word(other->dimension));
    } else if (meant != NULL && meant->dimension == dimension) {
        text_printf(fault, " (write %s)", meant->word);
    } else if (meant != NULL && meant->dimension != DIMENSION_NONE) {
        text_printf(fault, " (%s, %s)", meant->word, dimension_word(meant->dimension));
    } else if (other_case != NULL) {
        text_add(fault, " (m is milli, M is mega)");
    }
    if (dimension == DIMENSION_NONE) {
        text_add(fault, ", expected a number without a unit");
    } else {
        text_printf(fault, ", expected %s in ", dimension_word(dimension));
        add_unit_words(dimension, fault);
    }
}

static const struct unit *unit_named(const char *word, enum dimension dimension)
{
    for (size_t i = 0; i < UNIT_COUNT; i++) {
        if (units[i].dimension == dimension && dimension != DIMENSION_NONE && unit_matches(&units[i], word)) {
            return &units[i];
        }
    }
    return NULL;
}

/* The word of the unit that a bare number of the dimension is in. */
static const char *own_unit(enum dimension dimension, int rules)
{
    const struct ref_rule_set *set = reference_rule_set_at(rules);
    switch (dimension) {
    case DIMENSION_NONE:
        return "";
    case DIMENSION_LENGTH:
        return set != NULL ? set->length_unit : "m";
    case DIMENSION_FLOOR_AREA:
        return set != NULL ? set->area_unit : "m2";
    case DIMENSION_TIME:
        return "h";
    case DIMENSION_ENERGY:
        return "kWh";
    default:
        for (size_t i = 0; i < UNIT_COUNT; i++) {
            if (units[i].dimension == dimension && units[i].factor == 1 && units[i].power == 0) {
                return units[i].word;
            }
        }
        return "";
    }
}

/* Number and unit into the inner unit, exactly. */
static bool scan_quantity(const char *string, enum dimension dimension, int rules, bool is_signed,
                          struct number *number, struct text *fault)
{
    const char *end = number_scan(string, is_signed, number, fault);
    if (end == NULL) {
        return false;
    }
    const char *word = end + strspn(end, " ");
    if (word[0] == '\0') {
        word = own_unit(dimension, rules);
    }
    const struct unit *unit = unit_named(word, dimension);
    if (unit == NULL && word[0] != '\0') {
        if (!explain_rest(word, dimension, fault)) {
            explain_unit(word, dimension, fault);
        }
        return false;
    }
    if (unit != NULL) {
        number_multiply(number, unit->factor, unit->power);
    }
    return true;
}

static bool finish_double(const struct number *number, enum dimension dimension, int rules, unsigned flags,
                          double *ret_value, struct text *fault)
{
    double value = 0;
    if (!number_double(number, &value)) {
        text_add(fault, number->exponent > 0 ? "too large a number, expected a smaller one"
                                             : "too small a number to tell from 0, expected 0 or a larger one");
        return false;
    }
    if ((flags & KEY_ABOVE_ZERO) != 0 && value <= 0) {
        const char *unit = own_unit(dimension, rules);
        text_printf(fault, "may not be 0, expected a number above 0%s%s", unit[0] == '\0' ? "" : " in ", unit);
        return false;
    }
    *ret_value = value;
    return true;
}

bool quantity_read(const char *string, enum dimension dimension, int rules, unsigned flags, double *ret_value,
                   struct text *fault)
{
    struct number number;
    bool good = scan_quantity(string, dimension, rules, (flags & KEY_SIGNED) != 0, &number, fault) &&
                finish_double(&number, dimension, rules, flags, ret_value, fault);
    number_done(&number);
    return good;
}

bool quantity_read_decimal(const char *string, enum dimension dimension, struct text *ret_decimal, struct text *fault)
{
    struct number number;
    bool good = scan_quantity(string, dimension, RULES_NONE, false, &number, fault);
    if (good && !number_plain(&number, DECIMAL_DIGITS_MOST, ret_decimal)) {
        text_printf(fault, "too many digits, expected at most %d before and after the point", DECIMAL_DIGITS_MOST);
        good = false;
    }
    number_done(&number);
    return good;
}

bool quantity_read_whole(const char *string, long least, long most, long *ret_value, struct text *fault)
{
    struct text plain = {0};
    bool good = quantity_read_decimal(string, DIMENSION_NONE, &plain, fault);
    if (good) {
        long value = strtol(text_string(&plain), NULL, 10);
        good = strchr(text_string(&plain), '.') == NULL && plain.length <= 15 && value >= least && value <= most;
        if (good) {
            *ret_value = value;
        } else {
            text_printf(fault, "out of range, expected a whole number from %ld to %ld", least, most);
        }
    }
    text_done(&plain);
    return good;
}

/* `1/3`: digits on both sides, nothing else. */
static bool read_fraction(const char *string, size_t length, double *ret_value, struct text *fault)
{
    const char *slash = memchr(string, '/', length);
    size_t above = strspn(string, "0123456789");
    size_t below = strspn(slash + 1, "0123456789");
    bool is_plain = string + above == slash && slash + 1 + below == string + length && above > 0 && below > 0;
    if (!is_plain || above > 6 || below > 6) {
        text_add(fault, "not a fraction, expected such as 1/3");
        return false;
    }
    double value = (double)strtol(string, NULL, 10) / (double)strtol(slash + 1, NULL, 10);
    if (!isfinite(value) || value <= 0) {
        text_add(fault, "may not be 0, expected a fraction above 0");
        return false;
    }
    *ret_value = value;
    return true;
}

bool quantity_read_horsepower(const char *string, double *ret_hp, struct text *fault)
{
    size_t length = strlen(string);
    bool has_unit = length >= 2 && number_same_letters(string + length - 2, "hp");
    length -= has_unit ? 2 : 0;
    while (has_unit && length > 0 && string[length - 1] == ' ') {
        length--;
    }
    if (memchr(string, '/', length) != NULL) {
        return read_fraction(string, length, ret_hp, fault);
    }
    struct text bare = {0};
    text_add_length(&bare, string, length);
    bool good = quantity_read(text_string(&bare), DIMENSION_NONE, RULES_NONE, KEY_ABOVE_ZERO, ret_hp, fault);
    text_done(&bare);
    return good;
}

static void add_unit(struct text *text, const struct unit *unit)
{
    text_printf(text, unit->dimension == DIMENSION_PERCENT ? "%s" : " %s", unit->word);
}

/* Appends value / unit with the unit, if a text of that unit reads back to exactly `value`; the shortest such text. */
static bool write_in(struct text *text, double value, const struct unit *unit)
{
    static const int precisions[] = {12, 15, 16, 17};
    double in_unit = value / (unit->factor * pow(10, unit->power));
    size_t before = text->length;
    bool exact = false;
    for (size_t i = 0; i < sizeof precisions / sizeof precisions[0] && !exact; i++) {
        text->length = before;
        text_printf(text, "%.*g", precisions[i], in_unit);
        add_unit(text, unit);
        double again = NAN;
        struct text fault = {0};
        exact = quantity_read(text->bytes + before, unit->dimension, RULES_NONE, KEY_SIGNED, &again, &fault) &&
                again == value;
        text_done(&fault);
    }
    if (!exact) {
        text->length = before;
        text->bytes[before] = '\0';
    }
    return exact;
}

static void write_inner(struct text *text, double value, enum dimension dimension)
{
    text_add_number(text, value);
    for (size_t i = 0; i < UNIT_COUNT; i++) {
        if (units[i].dimension == dimension && dimension != DIMENSION_NONE && units[i].factor == 1 &&
            units[i].power == 0) {
            add_unit(text, &units[i]);
            return;
        }
    }
}

void quantity_write(struct text *text, double value, enum dimension dimension, int rules)
{
    assert(isfinite(value));
    const struct unit *own = unit_named(own_unit(dimension, rules), dimension);
    struct text in_own = {0};
    struct text inner = {0};
    write_inner(&inner, value, dimension);
    bool is_own = own != NULL && write_in(&in_own, value, own) && in_own.length <= inner.length + strlen(" ft");
    text_add(text, text_string(is_own ? &in_own : &inner));
    text_done(&in_own);
    text_done(&inner);
}
