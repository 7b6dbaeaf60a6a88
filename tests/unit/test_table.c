#include "runner.h"

#include <string.h>

#include "ampsum/show.h"
#include "ampsum/table.h"
#include "ampsum/words.h"

/* Two columns of words and three of numbers, as wide as a page and a half. */
static struct table *wide_table(void)
{
    struct table *table = table_new();
    table_column(table, "BRANCH", "branch", TABLE_LEFT, 20);
    table_column(table, "ADVISORY LIMIT %", "limit_percent", TABLE_RIGHT, 0);
    table_column(table, "KWH/YEAR", "kwh_year", TABLE_RIGHT, 0);
    table_column(table, "SOURCE", "source", TABLE_LEFT, 30);
    table_row(table);
    table_text(table, "kitchen");
    table_shown_number(table, 3, 2);
    table_shown_number(table, 12.25, 2);
    table_text(table, "one two three four five six");
    return table;
}

static size_t widest_line(const char *text)
{
    size_t widest = 0;
    while (*text != '\0') {
        const size_t length = strcspn(text, "\n");
        widest = length > widest ? length : widest;
        text += length + (text[length] == '\n');
    }
    return widest;
}

START_TEST(a_table_that_fits_keeps_its_headings)
{
    struct table *table = wide_table();
    struct text text = {0};
    table_write_terminal(table, 80, true, &text);
    ck_assert_str_eq(text_string(&text), "BRANCH  ADVISORY LIMIT % KWH/YEAR SOURCE\n"
                                         "kitchen             3.00    12.25 one two three four five six\n");
    table_free(table);
    text_done(&text);
}
END_TEST

START_TEST(a_wider_one_has_headings_of_two_lines)
{
    struct table *table = wide_table();
    struct text text = {0};
    table_write_terminal(table, 55, true, &text);
    ck_assert_str_eq(text_string(&text), "        ADVISORY  KWH/\n"
                                         "BRANCH   LIMIT %  YEAR SOURCE\n"
                                         "kitchen     3.00 12.25 one two three four five six\n");
    table_free(table);
    text_done(&text);
}
END_TEST

/* At every width from 80 down: nothing is lost, and the page holds as long as words can be broken. */
START_TEST(words_break_before_anything_is_lost)
{
    static const char *const words[] = {"kitchen", "3.00", "12.25", "one", "two", "three", "four", "five", "six"};
    for (size_t width = 80; width >= 32; width--) {
        struct table *table = wide_table();
        struct text text = {0};
        table_write_terminal(table, width, true, &text);
        ck_assert_msg(widest_line(text_string(&text)) <= width, "%zu:\n%s", width, text_string(&text));
        for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
            ck_assert_msg(strstr(text_string(&text), words[i]) != NULL, "%zu: %s", width, words[i]);
        }
        table_free(table);
        text_done(&text);
    }
}
END_TEST

START_TEST(a_long_word_ends_the_narrowing)
{
    struct table *table = table_new();
    struct text text = {0};
    table_column(table, "A", "a", TABLE_LEFT, 20);
    table_row(table);
    table_text(table, "a_word_that_cannot_be_broken_anywhere");
    table_write_terminal(table, 10, true, &text);
    ck_assert_str_eq(text_string(&text), "A\na_word_that_cannot_be_broken_anywhere\n");
    table_free(table);
    text_done(&text);
}
END_TEST

/* What there is not is `-` for people and empty for programs; a name `-` is the name. */
START_TEST(csv_tells_nothing_from_a_name)
{
    struct table *table = table_new();
    struct text text = {0};
    table_column(table, "AT", "at", TABLE_LEFT, 0);
    table_column(table, "NAME", "name", TABLE_LEFT, 0);
    table_row(table);
    table_text(table, NULL);
    table_text(table, "=1+1");
    table_write_csv(table, &text);
    ck_assert_str_eq(text_string(&text), "at,name\n,\"'=1+1\"\n");
    text_clear(&text);
    table_write_terminal(table, 80, true, &text);
    ck_assert_str_eq(text_string(&text), "AT NAME\n-  =1+1\n");
    table_free(table);
    text_done(&text);
}
END_TEST

/* A branch whose appliances may be on at any minute has no busiest minute to name. */
START_TEST(without_times_the_busiest_minute_is_any)
{
    size_t index = 0;
    struct appliance appliance = {.days = DAYS_ALL, .months = MONTHS_ALL};
    struct branch branch = {.appliances = {.index = &index, .count = 1}};
    struct house house = {.branches = &branch, .branch_count = 1, .appliances = &appliance, .appliance_count = 1};
    static const struct {
        unsigned days;
        unsigned months;
        int month;
        const char *want;
    } rows[] = {{DAYS_ALL, MONTHS_ALL, 0, "any time"},
                {DAYS_WEEKDAYS, MONTHS_ALL, 0, "Mon 18:30"},
                {DAYS_ALL, MONTHS_ALL & ~1u, 1, "Mon 18:30"},
                {DAYS_ALL, MONTHS_ALL, -1, "-"}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct text text = {0};
        appliance.days = rows[i].days;
        appliance.months = rows[i].months;
        branch_moment_add(&text, &house, 0, (struct moment){rows[i].month, 18 * 60 + 30});
        ck_assert_str_eq(text_string(&text), rows[i].want);
        text_done(&text);
    }
}
END_TEST

/* 34.8 A on a 32 A ring, 40 A on it: the standard's own words stay in data. */
START_TEST(above_the_rating_nobody_waits_for_nothing)
{
    ck_assert_str_eq(show_trip("none expected", 34.8, 32), "need not open: the overload goes on and heats the wire");
    ck_assert_str_eq(show_trip("may trip", 40, 32), "may carry it up to an hour");
    ck_assert_str_eq(show_trip("none expected", 31, 32), "none expected");
    ck_assert_str_eq(show_trip("within 1 h", 50, 32), "within 1 h");
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("table");
    TCase *tests = tcase_create("table");
    tcase_add_test(tests, a_table_that_fits_keeps_its_headings);
    tcase_add_test(tests, a_wider_one_has_headings_of_two_lines);
    tcase_add_test(tests, words_break_before_anything_is_lost);
    tcase_add_test(tests, a_long_word_ends_the_narrowing);
    tcase_add_test(tests, csv_tells_nothing_from_a_name);
    tcase_add_test(tests, without_times_the_busiest_minute_is_any);
    tcase_add_test(tests, above_the_rating_nobody_waits_for_nothing);
    suite_add_tcase(suite, tests);
    return suite;
}
