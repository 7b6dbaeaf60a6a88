#include "runner.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
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

START_TEST(rounded_drops_trailing_zeros)
{
    struct text text = {0};
    text_add_rounded(&text, 12.5, 3);
    text_add(&text, " ");
    text_add_rounded(&text, 300, 2);
    text_add(&text, " ");
    text_add_rounded(&text, 100, 0);
    ck_assert_str_eq(text_string(&text), "12.5 300 100");
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
    tcase_add_test(tcase, rounded_drops_trailing_zeros);
    tcase_add_test(tcase, number_reads_back_exactly);
    tcase_add_test(tcase, number_is_as_short_as_written);
    tcase_add_loop_test(tcase, distance_counts_edits, 0, ROWS(distance_rows));
    tcase_add_test(tcase, nearest_names_the_near_and_refuses_the_far);
    tcase_add_loop_test(tcase, utf8_is_checked, 0, ROWS(utf8_rows));
    tcase_add_test(tcase, ids_are_lower_case_digits_and_hyphens);
    tcase_add_test(tcase, arena_memory_is_zeroed_aligned_and_apart);
    tcase_add_test(tcase, a_word_for_the_shell_is_read_back_by_one);
    tcase_add_test(tcase, first_error_wins);
    suite_add_tcase(suite, tcase);
    return suite;
}
