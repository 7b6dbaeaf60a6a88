#include "runner.h"

#include <limits.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/decimal.h"
#include "ampsum/error.h"
#include "ampsum/text.h"
#include "ampsum/words.h"

static const struct {
    double value;
    int decimals;
    const char *want;
} fixed_rows[] = {
    {7.25, 1, "7.3"}, {2.675, 2, "2.68"}, {-0.0001, 2, "0.00"}, {1.005, 2, "1.01"},
    {12.0, 0, "12"},  {-1.5, 0, "-2"},    {0.5, 0, "1"},
};

START_TEST(fixed_rounds_half_up)
{
    struct text text = {0};
    text_add_fixed(&text, fixed_rows[_i].value, fixed_rows[_i].decimals);
    ck_assert_str_eq(text_string(&text), fixed_rows[_i].want);
    text_done(&text);
}
END_TEST

START_TEST(printf_adds_to_the_end_and_cuts_nothing)
{
    char name[2000];
    memset(name, 'n', sizeof name - 1);
    name[sizeof name - 1] = '\0';
    struct text text = {0};
    text_add(&text, "on ");
    text_printf(&text, "%s:%d", name, 41);
    text_printf(&text, "%s", "");
    ck_assert_uint_eq(text.length, strlen("on ") + strlen(name) + strlen(":41"));
    ck_assert_str_eq(text_string(&text) + 3 + strlen(name), ":41");
    ck_assert_int_eq(strncmp(text_string(&text), "on nnn", 6), 0);
    text_done(&text);
}
END_TEST

/* Formats of strings and whole numbers alone are added without printf: the same comes out. */
START_TEST(simple_formats_are_what_printf_makes)
{
    static const int wholes[] = {0, 7, -7, 1000000, INT_MAX, INT_MIN};
    for (size_t i = 0; i < sizeof wholes / sizeof wholes[0]; i++) {
        char want[200];
        struct text text = {0};
        snprintf(want, sizeof want, "<%s>%d%% of %s|%s", "", wholes[i], "a%sb", "\u00b0");
        text_printf(&text, "<%s>%d%% of %s|%s", "", wholes[i], "a%sb", "\u00b0");
        ck_assert_str_eq(text_string(&text), want);
        text_clear(&text);
        snprintf(want, sizeof want, "%s %d %5.2f %-4s|%d", "x", wholes[i], 1.5, "ab", 3);
        text_printf(&text, "%s %d %5.2f %-4s|%d", "x", wholes[i], 1.5, "ab", 3);
        ck_assert_str_eq(text_string(&text), want);
        ck_assert_uint_eq(text.length, strlen(want));
        text_done(&text);
    }
}
END_TEST

START_TEST(rounded_drops_trailing_zeros)
{
    struct text text = {0};
    text_add_rounded(&text, 12.5, 3);
    text_add(&text, " ");
    text_add_rounded(&text, 300, 2);
    text_add(&text, " ");
    text_add_rounded(&text, 100, 0);
    text_rounded(&text, "; ", 7.250, 3, " A, ");
    text_fixed(&text, "", 7.25, 1, " A");
    ck_assert_str_eq(text_string(&text), "12.5 300 100; 7.25 A, 7.3 A");
    text_done(&text);
}
END_TEST

START_TEST(a_sentence_has_its_figures)
{
    struct text text = {0};
    const char *const none = text_string(&text)[0] == '\0' ? NULL : "some";
    text_say(&text, "%s%s: %zu of %d, %u%%, %.1f A and %.2g V, %g, %.1f", "kettle", none, (size_t)3, -2, 7U, 12.0,
             230.0, 0.12345, (double)NAN);
    ck_assert_str_eq(text_string(&text), "kettle: 3 of -2, 7%, 12.0 A and 230 V, 0.123, -");
    text_done(&text);
}
END_TEST

START_TEST(number_reads_back_exactly)
{
    unsigned long long state = 88172645463325252ULL;
    for (int i = 0; i < 20000; i++) {
        state ^= state << 13;
        state ^= state >> 7;
        state ^= state << 17;
        double value = ldexp((double)(state >> 11), (int)(state % 200) - 150);
        struct text text = {0};
        text_add_number(&text, value);
        ck_assert_double_eq(strtod(text_string(&text), NULL), value);
        text_done(&text);
    }
}
END_TEST

START_TEST(number_is_as_short_as_written)
{
    struct text text = {0};
    text_add_number(&text, 0.1);
    text_add(&text, " ");
    text_add_number(&text, 1500);
    text_add(&text, " ");
    text_add_number(&text, 33.3);
    ck_assert_str_eq(text_string(&text), "0.1 1500 33.3");
    text_done(&text);
}
END_TEST

/* A number that people might write, or what a calculation makes of one: few digits, all sizes, a hair beside. */
static double written_number(uint64_t *state)
{
    *state ^= *state << 13;
    *state ^= *state >> 7;
    *state ^= *state << 17;
    const double digits = (double)(*state >> 20 & 0xfffffff) / (*state % 3 == 0 ? 2 : 1);
    const double value = digits / pow(10, (double)(*state >> 50 & 7));
    return *state % 5 == 0 ? nextafter(value, INFINITY) : *state % 7 == 0 ? value / 3 : value;
}

START_TEST(a_decimal_is_what_printf_writes)
{
    uint64_t state = 88172645463325252U;
    size_t written = 0;
    for (int i = 0; i < 200000; i++) {
        const double value = written_number(&state);
        const int decimals = (int)(state % 7);
        struct decimal decimal;
        char want[64];
        snprintf(want, sizeof want, "-%.*f", decimals, value);
        if (decimal_rounded(value, decimals, &decimal)) {
            struct text text = {0};
            text_add_decimal(&text, true, decimal);
            ck_assert_str_eq(text_string(&text), want);
            text_done(&text);
            written++;
        }
    }
    ck_assert_uint_eq(written, 200000);
}
END_TEST

/* What text_add_number says of itself, by printf alone. */
static void shortest(double value, char ret[40])
{
    for (int precision = 15; precision <= 17; precision++) {
        snprintf(ret, 40, "%.*g", precision, value);
        if (strtod(ret, NULL) == value) {
            return;
        }
    }
}

START_TEST(a_number_is_what_printf_writes)
{
    uint64_t state = 2463534242U;
    size_t fast = 0;
    for (int i = 0; i < 200000; i++) {
        const double value = written_number(&state) * ((state >> 9 & 1) != 0 ? 1 : -1);
        struct decimal decimal;
        char want[40];
        shortest(value, want);
        struct text text = {0};
        text_add_number(&text, value);
        ck_assert_str_eq(text_string(&text), strcmp(want, "-0") == 0 ? "0" : want);
        text_done(&text);
        fast += decimal_short(fabs(value), &decimal);
    }
    ck_assert_uint_gt(fast, 50000);
    ck_assert_uint_lt(fast, 190000);
}
END_TEST

START_TEST(what_is_no_short_decimal_is_told)
{
    struct decimal decimal = {7, 7};
    ck_assert(!decimal_short(-1, &decimal) && !decimal_short(NAN, &decimal) && !decimal_short(INFINITY, &decimal));
    ck_assert(!decimal_short(1e15, &decimal) && !decimal_short(1.0 / 3, &decimal) && !decimal_short(1e-7, &decimal));
    ck_assert(!decimal_rounded(-1, 2, &decimal) && !decimal_rounded(NAN, 2, &decimal));
    ck_assert(!decimal_rounded(INFINITY, 2, &decimal) && !decimal_rounded(1e13, 2, &decimal));
    ck_assert(decimal.digits == 7 && decimal.decimals == 7);
    ck_assert(decimal_short(0.05, &decimal) && decimal.digits == 5 && decimal.decimals == 2);
    ck_assert(decimal_short(1500, &decimal) && decimal.digits == 1500 && decimal.decimals == 0);
    ck_assert(decimal_rounded(2.5, 0, &decimal) && decimal.digits == 2); /* printf's: the even one */
}
END_TEST

static const struct {
    const char *a;
    const char *b;
    size_t want;
} distance_rows[] = {
    {"check", "check", 0}, {"chekc", "check", 1},   {"brach", "branch", 1},
    {"", "abc", 3},        {"kitten", "sitten", 1}, {"flaw", "lawn", 2},
};

START_TEST(distance_counts_edits)
{
    ck_assert_uint_eq(words_distance(distance_rows[_i].a, distance_rows[_i].b), distance_rows[_i].want);
    ck_assert_uint_eq(words_distance(distance_rows[_i].b, distance_rows[_i].a), distance_rows[_i].want);
}
END_TEST

START_TEST(nearest_names_the_near_and_refuses_the_far)
{
    struct words_nearest nearest;
    words_nearest_init(&nearest, "brekaer");
    words_nearest_offer(&nearest, "branch");
    words_nearest_offer(&nearest, "breaker");
    ck_assert_str_eq(nearest.best, "breaker");
    words_nearest_init(&nearest, "foo");
    words_nearest_offer(&nearest, "breaker");
    ck_assert_ptr_null(nearest.best);
}
END_TEST

static const struct {
    const char *bytes;
    bool well_formed;
} utf8_rows[] = {
    {"kitchen", true},
    {"K\xC3\xBC"
     "che",
     true},
    {"\xE2\x84\xA6", true},
    {"\xF0\x9F\x94\x8C", true},
    {"\xC0\x80", false},
    {"\xED\xA0\x80", false},
    {"\xF4\x90\x80\x80", false},
    {"\xE2\x84", false},
    {"\x80", false},
    {"\xFF", false},
};

START_TEST(utf8_is_checked)
{
    ck_assert_int_eq(words_is_utf8(utf8_rows[_i].bytes, strlen(utf8_rows[_i].bytes)), utf8_rows[_i].well_formed);
}
END_TEST

START_TEST(ids_are_lower_case_digits_and_hyphens)
{
    ck_assert(words_is_id("bed-2"));
    ck_assert(words_is_id("1234567890123456789012345678901234567890"));
    ck_assert(!words_is_id("12345678901234567890123456789012345678901"));
    ck_assert(!words_is_id(""));
    ck_assert(!words_is_id("Bed"));
    ck_assert(!words_is_id("a b"));
}
END_TEST

START_TEST(arena_memory_is_zeroed_aligned_and_apart)
{
    struct arena *arena = arena_new();
    unsigned char *before = NULL;
    for (size_t bytes = 0; bytes < 3000; bytes += 7) {
        unsigned char *place = arena_take(arena, bytes);
        ck_assert_uint_eq((size_t)place % sizeof(void *), 0);
        size_t dirty = 0; /* counted first: an assertion for each byte would take seconds */
        for (size_t i = 0; i < bytes; i++) {
            dirty += place[i] != 0;
        }
        ck_assert_uint_eq(dirty, 0);
        memset(place, 0xAA, bytes);
        ck_assert_ptr_ne(place, before);
        before = place;
    }
    char *copy = arena_copy_length(arena, "kitchen", 4);
    ck_assert_str_eq(copy, "kitc");
    arena_free(arena);
}
END_TEST

/* S6: what a line of the journal or a next step shows can be given to a shell again. */
START_TEST(a_text_goes_into_the_arena_whole_and_is_empty_then)
{
    struct arena *arena = arena_new();
    struct text text = {0};
    text_printf(&text, "%s:%d", "kettle", 41);
    const char *kept = arena_text(arena, &text);
    ck_assert_str_eq(kept, "kettle:41");
    ck_assert(text.bytes == NULL && text.length == 0);
    ck_assert_str_eq(arena_text(arena, &text), "");
    ck_assert_str_eq(arena_printf(arena, "%s %.1f %%", kept, 2.5), "kettle:41 2.5 %");
    const char *lines = "one\n\nthree\n";
    ck_assert_str_eq(arena_line(arena, &lines), "one");
    ck_assert_str_eq(arena_line(arena, &lines), "");
    ck_assert_str_eq(arena_line(arena, &lines), "three");
    ck_assert_ptr_null(arena_line(arena, &lines));
    arena_free(arena);
}
END_TEST

START_TEST(a_word_for_the_shell_is_read_back_by_one)
{
    static const char *const words[] = {"name=Ada's room",    "power=1400 W", "kettle", "", "=a", "a\tb",
                                        "$HOME `id` \"x\" \\"};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        struct text command = {0};
        char read[64] = {0};
        text_add(&command, "printf %s ");
        text_add_shell(&command, words[i]);
        FILE *shell = popen(text_string(&command), "r");
        ck_assert_ptr_nonnull(shell);
        const size_t length = fread(read, 1, sizeof read - 1, shell);
        pclose(shell);
        ck_assert_msg(length == strlen(words[i]) && strcmp(read, words[i]) == 0, "%s", text_string(&command));
        text_done(&command);
    }
    struct text plain = {0};
    text_add_shell(&plain, "power=1400");
    ck_assert_str_eq(text_string(&plain), "power=1400");
    text_done(&plain);
}
END_TEST

START_TEST(first_error_wins)
{
    struct error error = {0};
    ck_assert_int_eq(error_exit_status(&error), 0);
    error_set(&error, ERROR_INPUT, "line %d", 4);
    error_set(&error, ERROR_STORE, "later");
    ck_assert_str_eq(error_message(&error), "line 4");
    ck_assert_int_eq(error_exit_status(&error), 2);
    error_done(&error);
}
END_TEST

#define ROWS(table) ((int)(sizeof(table) / sizeof(table)[0]))

Suite *make_suite(void)
{
    Suite *suite = suite_create("base");
    TCase *tcase = tcase_create("base");
    tcase_add_loop_test(tcase, fixed_rounds_half_up, 0, ROWS(fixed_rows));
    tcase_add_test(tcase, printf_adds_to_the_end_and_cuts_nothing);
    tcase_add_test(tcase, simple_formats_are_what_printf_makes);
    tcase_add_test(tcase, rounded_drops_trailing_zeros);
    tcase_add_test(tcase, a_sentence_has_its_figures);
    tcase_add_test(tcase, number_reads_back_exactly);
    tcase_add_test(tcase, number_is_as_short_as_written);
    tcase_add_test(tcase, a_decimal_is_what_printf_writes);
    tcase_add_test(tcase, a_number_is_what_printf_writes);
    tcase_add_test(tcase, what_is_no_short_decimal_is_told);
    tcase_add_loop_test(tcase, distance_counts_edits, 0, ROWS(distance_rows));
    tcase_add_test(tcase, nearest_names_the_near_and_refuses_the_far);
    tcase_add_loop_test(tcase, utf8_is_checked, 0, ROWS(utf8_rows));
    tcase_add_test(tcase, ids_are_lower_case_digits_and_hyphens);
    tcase_add_test(tcase, arena_memory_is_zeroed_aligned_and_apart);
    tcase_add_test(tcase, a_text_goes_into_the_arena_whole_and_is_empty_then);
    tcase_add_test(tcase, a_word_for_the_shell_is_read_back_by_one);
    tcase_add_test(tcase, first_error_wins);
    suite_add_tcase(suite, tcase);
    return suite;
}
