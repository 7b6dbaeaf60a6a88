#include "runner.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/exact.h"
#include "ampsum/written.h"

static uint64_t next(uint64_t *state)
{
    *state = *state * 6364136223846793005U + 1442695040888963407U;
    return *state >> 33;
}

static void read_ratio(mpq_t value, const char *string)
{
    ck_assert_int_eq(mpq_set_str(value, string, 10), 0);
    mpq_canonicalize(value);
}

/* Rounding half to even, by hand. */
static const struct {
    const char *value;
    unsigned figures;
    const char *want;
} rounding_rows[] = {
    {"5/2", 1, "2"},          {"7/2", 1, "4"},          {"25/3", 3, "8.33"},      {"2345/1000", 3, "2.34"},
    {"2355/1000", 3, "2.36"}, {"9995/1000", 3, "10.0"}, {"12", 3, "12"},          {"3/2000", 3, "0.0015"},
    {"100/3", 2, "33"},       {"200000/3", 3, "66700"}, {"1/3000", 2, "0.00033"}, {"0", 3, "0"},
    {"-25/3", 3, "-8.33"},    {"5999/2500", 3, "2.40"}, {"1/8", 3, "0.125"},      {"99999/100", 3, "1000"},
    {"1/7", 5, "0.14286"},
};

START_TEST(decimals_round_half_to_even)
{
    mpq_t value;
    struct text text = {0};
    mpq_init(value);
    read_ratio(value, rounding_rows[_i].value);
    exact_write_decimal(&text, value, rounding_rows[_i].figures);
    ck_assert_str_eq(text_string(&text), rounding_rows[_i].want);
    text_done(&text);
    mpq_clear(value);
}
END_TEST

/* Against the C library: printf rounds the double half to even where the double is exact (small binary fractions). */
START_TEST(decimals_agree_with_printf)
{
    uint64_t state = 11;
    mpq_t value;
    mpq_init(value);
    for (int i = 0; i < 20000; i++) {
        unsigned long over = next(&state) % 1000000 + 1;
        unsigned shift = (unsigned)(next(&state) % 12);
        unsigned figures = 1 + (unsigned)(next(&state) % 8);
        mpq_set_ui(value, over, 1UL << shift);
        mpq_canonicalize(value);
        struct text ours = {0};
        char theirs[64];
        exact_write_decimal(&ours, value, figures);
        snprintf(theirs, sizeof theirs, "%.*e", (int)figures - 1, mpq_get_d(value));
        double got = strtod(text_string(&ours), NULL);
        bool exact = exact_digits(value) > 0 && exact_digits(value) <= figures;
        double want = exact ? mpq_get_d(value) : strtod(theirs, NULL);
        ck_assert_msg(got == want, "%lu / 2^%u to %u: %s, printf %s", over, shift, figures, text_string(&ours), theirs);
        text_done(&ours);
    }
    mpq_clear(value);
}
END_TEST

START_TEST(parallel_agrees_with_doubles)
{
    uint64_t state = 5;
    for (int i = 0; i < 5000; i++) {
        size_t count = 1 + next(&state) % 8;
        mpq_t ohm[8];
        mpq_srcptr list[8];
        mpq_t together;
        mpq_init(together);
        double siemens = 0;
        for (size_t k = 0; k < count; k++) {
            mpq_init(ohm[k]);
            mpq_set_ui(ohm[k], 1 + next(&state) % 100000, 1 + next(&state) % 1000);
            mpq_canonicalize(ohm[k]);
            list[k] = ohm[k];
            siemens += 1 / mpq_get_d(ohm[k]);
        }
        exact_parallel(together, list, count);
        ck_assert_double_eq_tol(mpq_get_d(together) * siemens, 1, 1e-12);
        for (size_t k = 0; k < count; k++) {
            mpq_clear(ohm[k]);
        }
        mpq_clear(together);
    }
}
END_TEST

START_TEST(roots_are_exact_where_rational)
{
    mpq_t value;
    mpq_t root;
    mpq_inits(value, root, NULL);
    read_ratio(value, "49/400");
    ck_assert(exact_root(root, value));
    ck_assert_int_eq(mpq_cmp_ui(root, 7, 20), 0);
    read_ratio(value, "2");
    ck_assert(!exact_root(root, value));
    struct text text = {0};
    exact_write_decimal(&text, root, 30);
    /* OEIS A002193, digits of the square root of 2 */
    ck_assert_str_eq(text_string(&text), "1.41421356237309504880168872421");
    text_done(&text);
    /* Cut at the 40th decimal, below 1 at the 41st, on every machine alike. OEIS A002193, A010503 */
    read_ratio(value, "14142135623730950488016887242096980785696/10000000000000000000000000000000000000000");
    ck_assert_int_eq(mpq_cmp(root, value), 0);
    read_ratio(value, "1/2");
    ck_assert(!exact_root(root, value));
    read_ratio(value, "70710678118654752440084436210484903928483/100000000000000000000000000000000000000000");
    ck_assert_int_eq(mpq_cmp(root, value), 0);
    read_ratio(value, "1/5000000000000");
    exact_root(root, value);
    ck_assert_double_eq_tol(mpq_get_d(root), sqrt(2e-13), 1e-21);
    mpq_clears(value, root, NULL);
}
END_TEST

static const struct {
    const char *string;
    const char *value; /* number times factor */
    bool has_unit;
    enum exact_quantity quantity;
    unsigned least;
    unsigned most;
} read_rows[] = {
    {"2.5 A", "5/2", true, EXACT_CURRENT, 2, 2},      {"2500 mA", "5/2", true, EXACT_CURRENT, 2, 4},
    {"2500mA", "5/2", true, EXACT_CURRENT, 2, 4},     {"5/2", "5/2", false, EXACT_RATIO, 1, 1},
    {" 5 / 2 A ", "5/2", true, EXACT_CURRENT, 1, 1},  {"2 1/2 A", "5/2", true, EXACT_CURRENT, 1, 1},
    {"2.50e0", "5/2", false, EXACT_RATIO, 3, 3},      {"0.0025 kA", "5/2", true, EXACT_CURRENT, 2, 2},
    {"+2.5 A", "5/2", true, EXACT_CURRENT, 2, 2},     {"-2.5 A", "-5/2", true, EXACT_CURRENT, 2, 2},
    {"'2.5 A", "5/2", true, EXACT_CURRENT, 2, 2},     {"4.7 kohm", "4700", true, EXACT_RESISTANCE, 2, 2},
    {"4.7 kΩ", "4700", true, EXACT_RESISTANCE, 2, 2}, {"47 \xE2\x84\xA6", "47", true, EXACT_RESISTANCE, 2, 2},
    {"12 Ohms", "12", true, EXACT_RESISTANCE, 2, 2},  {"1.5 kW", "1500", true, EXACT_POWER, 2, 2},
    {"3.6 MJ", "1", true, EXACT_ENERGY, 2, 2},        {"500 Wh", "1/2", true, EXACT_ENERGY, 1, 3},
    {"2 MA", "2000000", true, EXACT_CURRENT, 1, 1},   {"$1.62", "81/50", true, EXACT_MONEY, 3, 3},
    {"1.62 USD", "81/50", true, EXACT_MONEY, 3, 3},   {"80 %", "4/5", true, EXACT_RATIO, 1, 2},
    {"2 volts", "2", true, EXACT_VOLTAGE, 1, 1},      {"5 kVA", "5000", true, EXACT_APPARENT, 1, 1},
    {"5 kvar", "5000", true, EXACT_REACTIVE, 1, 1},   {".5 A", "1/2", true, EXACT_CURRENT, 1, 1},
};

START_TEST(answers_are_read_in_any_unit)
{
    struct answer answer;
    struct text fault = {0};
    mpq_t want;
    mpq_init(want);
    answer_init(&answer);
    read_ratio(want, read_rows[_i].value);
    answer_read(read_rows[_i].string, &answer, &fault);
    ck_assert_msg(answer.form == ANSWER_NUMBER, "%s: %s", read_rows[_i].string, text_string(&fault));
    mpq_mul(answer.number, answer.number, answer.factor);
    ck_assert_msg(mpq_equal(answer.number, want), "%s", read_rows[_i].string);
    ck_assert_int_eq(answer.has_unit, read_rows[_i].has_unit);
    ck_assert_int_eq(answer.quantity, read_rows[_i].quantity);
    ck_assert_uint_eq(answer.figures_least, read_rows[_i].least);
    ck_assert_uint_eq(answer.figures_most, read_rows[_i].most);
    answer_done(&answer);
    text_done(&fault);
    mpq_clear(want);
}
END_TEST

static const struct {
    const char *string;
    const char *hint; /* a word of the refusal */
} refused_rows[] = {
    {"2,5", "write 2.5"},
    {"2,5 A", "write 2.5"},
    {"1,500 W", "thousands"},
    {"=5/2", "formula"},
    {"'=5/2", "formula"},
    {"@SUM(1)", "formula"},
    {"2.5 A or 3 A", "more than one"},
    {"2.5 3", "more than one"},
    {"2.5; 3", "more than one"},
    {"5/0", "fraction"},
    {"5/2.5", "fraction"},
    {"5/-2", "fraction"},
    {"2*3", "more than one"},
    {"2+3", "more than one"},
    {"2.5 furlongs", "unknown unit"},
    {"I = 2.5 A", "no number"},
    {"nan", "no number"},
    {"inf", "no number"},
    {"0x10", "more than one"},
    {"1e999", "no number"},
    {"2.5.5", "more than one"},
    {"about 3", "no number"},
    {"1111111111111111111111111111111111111111111111", "no number"},
    {"$5 A", "currency sign"},
};

START_TEST(other_answers_are_refused_with_a_hint)
{
    struct answer answer;
    struct text fault = {0};
    answer_init(&answer);
    answer_read(refused_rows[_i].string, &answer, &fault);
    ck_assert_msg(answer.form == ANSWER_REFUSED, "%s was read", refused_rows[_i].string);
    ck_assert_msg(strstr(text_string(&fault), refused_rows[_i].hint) != NULL, "%s: %s", refused_rows[_i].string,
                  text_string(&fault));
    answer_done(&answer);
    text_done(&fault);
}
END_TEST

START_TEST(words_and_nothing)
{
    static const struct {
        const char *string;
        enum answer_form form;
        unsigned long value;
    } rows[] = {{"yes", ANSWER_WORD, 1},      {" No ", ANSWER_WORD, 0}, {"", ANSWER_EMPTY, 0},
                {"  ", ANSWER_EMPTY, 0},      {"'", ANSWER_EMPTY, 0},   {"YES.", ANSWER_WORD, 1},
                {"\xC2\xA0", ANSWER_EMPTY, 0}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct answer answer;
        struct text fault = {0};
        answer_init(&answer);
        answer_read(rows[i].string, &answer, &fault);
        ck_assert_int_eq(answer.form, rows[i].form);
        ck_assert_int_eq(mpq_cmp_ui(answer.number, rows[i].value, 1), 0);
        answer_done(&answer);
        text_done(&fault);
    }
}
END_TEST

/* Any bytes: one of the forms, with a word where refused, and no crash. */
START_TEST(any_bytes_are_an_answer_or_refused)
{
    static const char letters[] = "0123456789.,/ eE+-=@AmkMVWohmkWh%$\xE2\x84\xA6\xC2\xB5'\"\t";
    uint64_t state = 77;
    struct answer answer;
    answer_init(&answer);
    for (int i = 0; i < 100000; i++) {
        char string[16];
        size_t length = next(&state) % (sizeof string - 1);
        for (size_t k = 0; k < length; k++) {
            string[k] = letters[next(&state) % (sizeof letters - 1)];
        }
        string[length] = '\0';
        struct text fault = {0};
        answer_read(string, &answer, &fault);
        ck_assert_msg((answer.form == ANSWER_REFUSED) == (fault.length > 0), "\"%s\"", string);
        text_done(&fault);
    }
    answer_done(&answer);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("exact");
    TCase *tests = tcase_create("exact");
    tcase_add_loop_test(tests, decimals_round_half_to_even, 0, sizeof rounding_rows / sizeof rounding_rows[0]);
    tcase_add_test(tests, decimals_agree_with_printf);
    tcase_add_test(tests, parallel_agrees_with_doubles);
    tcase_add_test(tests, roots_are_exact_where_rational);
    tcase_add_loop_test(tests, answers_are_read_in_any_unit, 0, sizeof read_rows / sizeof read_rows[0]);
    tcase_add_loop_test(tests, other_answers_are_refused_with_a_hint, 0, sizeof refused_rows / sizeof refused_rows[0]);
    tcase_add_test(tests, words_and_nothing);
    tcase_add_test(tests, any_bytes_are_an_answer_or_refused);
    suite_add_tcase(suite, tests);
    return suite;
}
