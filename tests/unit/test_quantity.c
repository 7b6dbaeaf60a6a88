#include "rule_sets.h"
#include "runner.h"

#include <math.h>
#include <string.h>

#include "ampsum/quantity.h"

/* ------------------------------------------------------------------ accepted ------------------------------------- */

/* Contract, house-file.md, "Quantities"; factors are those of the SI and of the foot (0.3048 m exactly). */
static const struct {
    const char *string;
    enum dimension dimension;
    int rules;
    unsigned flags;
    double want;
} good_rows[] = {
    {"20", DIMENSION_CURRENT, RULES_US, 0, 20},
    {"20 A", DIMENSION_CURRENT, RULES_US, 0, 20},
    {"20A", DIMENSION_CURRENT, RULES_US, 0, 20},
    {"20a", DIMENSION_CURRENT, RULES_US, 0, 20},
    {"250 mA", DIMENSION_CURRENT, RULES_US, 0, 0.25},
    {"250ma", DIMENSION_CURRENT, RULES_US, 0, 0.25},
    {"0", DIMENSION_CURRENT, RULES_US, 0, 0},
    {"230 V", DIMENSION_VOLTAGE, RULES_IEC, 0, 230},
    {"0.23 kV", DIMENSION_VOLTAGE, RULES_IEC, 0, 230},
    {"1.5 kW", DIMENSION_POWER, RULES_US, KEY_ABOVE_ZERO, 1500},
    {"1.5 kw", DIMENSION_POWER, RULES_US, 0, 1500},
    {"1.5KW", DIMENSION_POWER, RULES_US, 0, 1500},
    {"1.5e3", DIMENSION_POWER, RULES_US, 0, 1500},
    {"1.5E+3 W", DIMENSION_POWER, RULES_US, 0, 1500},
    {"15e-1 kW", DIMENSION_POWER, RULES_US, 0, 1500},
    {"0.002 MW", DIMENSION_POWER, RULES_US, 0, 2000},
    {"0.002 Mw", DIMENSION_POWER, RULES_US, 0, 2000},
    {"007 W", DIMENSION_POWER, RULES_US, 0, 7},
    {"3 kVA", DIMENSION_APPARENT, RULES_US, 0, 3000},
    {"800 va", DIMENSION_APPARENT, RULES_US, 0, 800},
    {"14.4 ohm", DIMENSION_RESISTANCE, RULES_US, 0, 14.4},
    {"14.4 \u03a9", DIMENSION_RESISTANCE, RULES_US, 0, 14.4},
    {"14.4\u2126", DIMENSION_RESISTANCE, RULES_US, 0, 14.4},
    {"1.2 kohm", DIMENSION_RESISTANCE, RULES_US, 0, 1200},
    {"1.2 KOHM", DIMENSION_RESISTANCE, RULES_US, 0, 1200},
    {"500 mohm", DIMENSION_RESISTANCE, RULES_US, 0, 0.5},
    {"50", DIMENSION_LENGTH, RULES_US, 0, 15.24},
    {"50", DIMENSION_LENGTH, RULES_IEC, 0, 50},
    {"50", DIMENSION_LENGTH, RULES_UK, 0, 50},
    {"50 ft", DIMENSION_LENGTH, RULES_IEC, 0, 15.24},
    {"50 m", DIMENSION_LENGTH, RULES_US, 0, 50},
    {"50 M", DIMENSION_LENGTH, RULES_US, 0, 50},
    {"250 cm", DIMENSION_LENGTH, RULES_US, 0, 2.5},
    {"0.1 km", DIMENSION_LENGTH, RULES_US, 0, 100},
    {"1 mi", DIMENSION_LENGTH, RULES_US, 0, 1609.344},
    {"100", DIMENSION_FLOOR_AREA, RULES_US, 0, 9.290304},
    {"100", DIMENSION_FLOOR_AREA, RULES_UK, 0, 100},
    {"100 ft2", DIMENSION_FLOOR_AREA, RULES_UK, 0, 9.290304},
    {"100 m2", DIMENSION_FLOOR_AREA, RULES_US, 0, 100},
    {"0.7 h", DIMENSION_TIME, RULES_US, 0, 2520},
    {"0.7", DIMENSION_TIME, RULES_US, 0, 2520},
    {"42 min", DIMENSION_TIME, RULES_US, 0, 2520},
    {"42 MIN", DIMENSION_TIME, RULES_US, 0, 2520},
    {"2520 s", DIMENSION_TIME, RULES_US, 0, 2520},
    {"30", DIMENSION_PERCENT, RULES_US, 0, 30},
    {"30 %", DIMENSION_PERCENT, RULES_US, 0, 30},
    {"30%", DIMENSION_PERCENT, RULES_US, 0, 30},
    {"30 C", DIMENSION_TEMPERATURE, RULES_US, KEY_SIGNED, 30},
    {"-5 C", DIMENSION_TEMPERATURE, RULES_US, KEY_SIGNED, -5},
    {"-5.5", DIMENSION_TEMPERATURE, RULES_US, KEY_SIGNED, -5.5},
    {"30 \u00b0C", DIMENSION_TEMPERATURE, RULES_US, KEY_SIGNED, 30},
    {"60 Hz", DIMENSION_FREQUENCY, RULES_US, 0, 60},
    {"60 hz", DIMENSION_FREQUENCY, RULES_US, 0, 60},
    {"350 kWh", DIMENSION_ENERGY, RULES_US, 0, 350},
    {"500 Wh", DIMENSION_ENERGY, RULES_US, 0, 0.5},
    /* longer than a double holds: rounded once, correctly (the nearest double is the literal's, by the compiler) */
    {"0.1000000000000000055511151231257827", DIMENSION_POWER, RULES_US, 0, 0.1},
    {"123456789012345678901234567890e-20 W", DIMENSION_POWER, RULES_US, 0, 1234567890.1234567890123456789},
    {"0.3333333333333333333333333 ft", DIMENSION_LENGTH, RULES_US, 0, 0.10159999999999999999999999},
};

START_TEST(quantity_is_read)
{
    double value = NAN;
    struct text fault = {0};
    bool good = quantity_read(good_rows[_i].string, good_rows[_i].dimension, good_rows[_i].rules, good_rows[_i].flags,
                              &value, &fault);
    ck_assert_msg(good, "%s: %s", good_rows[_i].string, text_string(&fault));
    ck_assert_msg(value == good_rows[_i].want, "%s: got %.17g, want %.17g", good_rows[_i].string, value,
                  good_rows[_i].want);
    text_done(&fault);
}
END_TEST

/* ------------------------------------------------------------------ refused -------------------------------------- */

static const struct {
    const char *string;
    enum dimension dimension;
    unsigned flags;
    const char *says; /* part of the message */
} bad_rows[] = {
    {"1,5", DIMENSION_POWER, 0, "decimal comma"},
    {"1,5 kW", DIMENSION_POWER, 0, "decimal comma"},
    {"1,500", DIMENSION_POWER, 0, "thousands separator"},
    {"1,500,000", DIMENSION_POWER, 0, "thousands separator"},
    {"1 500 W", DIMENSION_POWER, 0, "thousands separator"},
    {"1'500", DIMENSION_POWER, 0, "thousands separator"},
    {"1_500", DIMENSION_POWER, 0, "thousands separator"},
    {"1\u00a0500", DIMENSION_POWER, 0, "thousands separator"},
    {"0x10", DIMENSION_POWER, 0, "hexadecimal"},
    {"0X1F W", DIMENSION_POWER, 0, "hexadecimal"},
    {"+5", DIMENSION_POWER, 0, "leading +"},
    {"-5", DIMENSION_POWER, 0, "negative"},
    {"-0", DIMENSION_POWER, 0, "negative"},
    {"nan", DIMENSION_POWER, 0, "not a finite number"},
    {"NaN W", DIMENSION_POWER, 0, "not a finite number"},
    {"inf", DIMENSION_POWER, 0, "not a finite number"},
    {"Infinity", DIMENSION_POWER, 0, "not a finite number"},
    {"1e400", DIMENSION_POWER, 0, "too large"},
    {"1e999999999999999999999", DIMENSION_POWER, 0, "too large"},
    {"1e-400", DIMENSION_POWER, 0, "too small"},
    {".5", DIMENSION_POWER, 0, "before the point, expected 0.5"},
    {"5.", DIMENSION_POWER, 0, "after the point"},
    {"5. W", DIMENSION_POWER, 0, "after the point"},
    {"1.2.3", DIMENSION_POWER, 0, "more than one point"},
    {"1e", DIMENSION_POWER, 0, "exponent without digits"},
    {"1e+ W", DIMENSION_POWER, 0, "exponent without digits"},
    {"", DIMENSION_POWER, 0, "not a number"},
    {"W", DIMENSION_POWER, 0, "not a number"},
    {"- 5", DIMENSION_TEMPERATURE, KEY_SIGNED, "not a number"},
    {"lots", DIMENSION_POWER, 0, "not a number"},
    {"5 lots", DIMENSION_POWER, 0, "unknown unit `lots`, expected power in W, kW, MW"},
    {"5 A", DIMENSION_POWER, 0, "wrong unit `A` (current), expected power"},
    {"5 VA", DIMENSION_POWER, 0, "wrong unit `VA` (apparent power)"},
    {"5 kWh", DIMENSION_POWER, 0, "wrong unit `kWh` (energy)"},
    {"5 hp", DIMENSION_POWER, 0, "wrong unit `hp`"},
    {"5 mW", DIMENSION_POWER, 0, "m is milli, M is mega"},
    {"5 mw", DIMENSION_POWER, 0, "m is milli, M is mega"},
    {"5 MA", DIMENSION_CURRENT, 0, "m is milli, M is mega"},
    {"5 Mohm", DIMENSION_RESISTANCE, 0, "m is milli, M is mega"},
    {"5 kohms", DIMENSION_RESISTANCE, 0, "unknown unit"},
    {"5 m2", DIMENSION_LENGTH, 0, "wrong unit `m2` (area)"},
    {"5 in", DIMENSION_LENGTH, 0, "unknown unit"},
    {"5 W W", DIMENSION_POWER, 0, "unknown unit `W W`"},
    {"5\tW", DIMENSION_POWER, 0, "unknown unit"},
    {"5 %", DIMENSION_POWER, 0, "wrong unit `%`"},
    {"5 W", DIMENSION_NONE, 0, "expected a number without a unit"},
    {"0", DIMENSION_POWER, KEY_ABOVE_ZERO, "may not be 0"},
    {"0.000 W", DIMENSION_POWER, KEY_ABOVE_ZERO, "may not be 0"},
    {"5 \x1b[31m", DIMENSION_POWER, 0, "\\x1B"},
};

START_TEST(quantity_is_refused)
{
    double value = 7;
    struct text fault = {0};
    ck_assert(
        !quantity_read(bad_rows[_i].string, bad_rows[_i].dimension, RULES_US, bad_rows[_i].flags, &value, &fault));
    ck_assert_msg(strstr(text_string(&fault), bad_rows[_i].says) != NULL, "%s: says `%s`, not `%s`",
                  bad_rows[_i].string, text_string(&fault), bad_rows[_i].says);
    ck_assert_msg(strstr(text_string(&fault), "expected") != NULL, "%s", text_string(&fault));
    ck_assert(value == 7);
    text_done(&fault);
}
END_TEST

/* ------------------------------------------------------------------ whole numbers, horsepower, money -------------- */

static const struct {
    const char *string;
    bool good;
    long want;
} whole_rows[] = {{"1", true, 1},     {"10000", true, 10000},
                  {"2.0", true, 2},   {"1e2", true, 100},
                  {"0", false, 0},    {"10001", false, 0},
                  {"1.5", false, 0},  {"-1", false, 0},
                  {"1e30", false, 0}, {"1e400", false, 0},
                  {"two", false, 0},  {"", false, 0},
                  {"2 A", false, 0},  {"18446744073709551617", false, 0}};

START_TEST(whole_number_is_read)
{
    long value = -7;
    struct text fault = {0};
    ck_assert(quantity_read_whole(whole_rows[_i].string, 1, 10000, &value, &fault) == whole_rows[_i].good);
    ck_assert_int_eq(value, whole_rows[_i].good ? whole_rows[_i].want : -7);
    ck_assert((fault.length == 0) == whole_rows[_i].good);
    text_done(&fault);
}
END_TEST

static const struct {
    const char *string;
    bool good;
    double want_hp;
} horsepower_rows[] = {{"1/3 hp", true, 1.0 / 3}, {"1/3", true, 1.0 / 3}, {"0.5 HP", true, 0.5}, {"2hp", true, 2},
                       {"7.5", true, 7.5},        {"1/0", false, 0},      {"0/2", false, 0},     {"1 / 3", false, 0},
                       {"1/3/4", false, 0},       {"/3", false, 0},       {"0", false, 0},       {"hp", false, 0},
                       {"-1/3", false, 0},        {"1/3 W", false, 0},    {"2 kW", false, 0}};

START_TEST(horsepower_is_read)
{
    double value_hp = -7;
    struct text fault = {0};
    ck_assert(quantity_read_horsepower(horsepower_rows[_i].string, &value_hp, &fault) == horsepower_rows[_i].good);
    ck_assert(value_hp == (horsepower_rows[_i].good ? horsepower_rows[_i].want_hp : -7));
    ck_assert((fault.length == 0) == horsepower_rows[_i].good);
    text_done(&fault);
}
END_TEST

static const struct {
    const char *string;
    enum dimension dimension;
    const char *want; /* NULL: refused */
} decimal_rows[] = {
    {"0.30", DIMENSION_NONE, "0.3"},
    {"3e-1", DIMENSION_NONE, "0.3"},
    {"00.1200", DIMENSION_NONE, "0.12"},
    {"0", DIMENSION_NONE, "0"},
    {"0.000", DIMENSION_NONE, "0"},
    {"12", DIMENSION_NONE, "12"},
    {"120e1", DIMENSION_NONE, "1200"},
    {"0.1000000000000000000000000000000000000001", DIMENSION_NONE, "0.1000000000000000000000000000000000000001"},
    {"8.25 %", DIMENSION_PERCENT, "8.25"},
    {"350", DIMENSION_ENERGY, "350"},
    {"350 kWh", DIMENSION_ENERGY, "350"},
    {"1234 Wh", DIMENSION_ENERGY, "1.234"},
    {"1e-41", DIMENSION_NONE, NULL},
    {"1e40", DIMENSION_NONE, NULL},
    {"1e999999", DIMENSION_NONE, NULL},
    {"-0.1", DIMENSION_NONE, NULL},
    {"0,30", DIMENSION_NONE, NULL},
    {"0.30 EUR", DIMENSION_NONE, NULL},
};

START_TEST(decimal_is_exact)
{
    struct text decimal = {0};
    struct text fault = {0};
    bool good = quantity_read_decimal(decimal_rows[_i].string, decimal_rows[_i].dimension, &decimal, &fault);
    ck_assert(good == (decimal_rows[_i].want != NULL));
    ck_assert_str_eq(text_string(&decimal), good ? decimal_rows[_i].want : "");
    text_done(&decimal);
    text_done(&fault);
}
END_TEST

/* ------------------------------------------------------------------ written --------------------------------------- */

static const struct {
    double value;
    enum dimension dimension;
    int rules;
    const char *want;
} written_rows[] = {
    {15.24, DIMENSION_LENGTH, RULES_US, "50 ft"},
    {15.24, DIMENSION_LENGTH, RULES_IEC, "15.24 m"},
    {2, DIMENSION_LENGTH, RULES_US, "2 m"},
    {9.290304, DIMENSION_FLOOR_AREA, RULES_US, "100 ft2"},
    {2520, DIMENSION_TIME, RULES_US, "0.7 h"},
    {2521, DIMENSION_TIME, RULES_US, "2521 s"},
    {1500, DIMENSION_POWER, RULES_US, "1500 W"},
    {30, DIMENSION_PERCENT, RULES_US, "30%"},
    {-5, DIMENSION_TEMPERATURE, RULES_US, "-5 C"},
    {0.8, DIMENSION_NONE, RULES_US, "0.8"},
    {14.4, DIMENSION_RESISTANCE, RULES_US, "14.4 ohm"},
    {0, DIMENSION_LENGTH, RULES_US, "0 ft"},
};

START_TEST(quantity_is_written)
{
    struct text text = {0};
    quantity_write(&text, written_rows[_i].value, written_rows[_i].dimension, written_rows[_i].rules);
    ck_assert_str_eq(text_string(&text), written_rows[_i].want);
    text_done(&text);
}
END_TEST

/* Any double that a house may hold comes back to the last bit. */
START_TEST(written_reads_back)
{
    static const enum dimension dimensions[] = {DIMENSION_CURRENT, DIMENSION_LENGTH,  DIMENSION_FLOOR_AREA,
                                                DIMENSION_TIME,    DIMENSION_PERCENT, DIMENSION_NONE};
    uint64_t state = 88172645463325252u + (uint64_t)_i;
    for (int i = 0; i < 5000; i++) {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        double value = (double)(state >> 11) * pow(10, (int)(state % 19) - 22);
        for (size_t d = 0; d < sizeof dimensions / sizeof dimensions[0]; d++) {
            struct text text = {0};
            struct text fault = {0};
            double again = NAN;
            quantity_write(&text, value, dimensions[d], RULES_US);
            bool good = quantity_read(text_string(&text), dimensions[d], RULES_US, 0, &again, &fault);
            ck_assert_msg(good && again == value, "%.17g written as `%s` read as %.17g %s", value, text_string(&text),
                          again, text_string(&fault));
            text_done(&text);
            text_done(&fault);
        }
    }
}
END_TEST

#define ROWS(table) (int)(sizeof(table) / sizeof(table)[0])

Suite *make_suite(void)
{
    Suite *suite = suite_create("quantity");
    TCase *tcase = tcase_create("quantity");
    tcase_set_timeout(tcase, 60);
    tcase_add_loop_test(tcase, quantity_is_read, 0, ROWS(good_rows));
    tcase_add_loop_test(tcase, quantity_is_refused, 0, ROWS(bad_rows));
    tcase_add_loop_test(tcase, whole_number_is_read, 0, ROWS(whole_rows));
    tcase_add_loop_test(tcase, horsepower_is_read, 0, ROWS(horsepower_rows));
    tcase_add_loop_test(tcase, decimal_is_exact, 0, ROWS(decimal_rows));
    tcase_add_loop_test(tcase, quantity_is_written, 0, ROWS(written_rows));
    tcase_add_loop_test(tcase, written_reads_back, 0, 4);
    suite_add_tcase(suite, tcase);
    return suite;
}
