/* Every way of writing in tests/lessons/spellings.tsv gets its points, exactly. */
#include "runner.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/mark.h"

enum { FIELDS = 5, SPELLINGS_LEAST = 190 };

/* The five fields of a line; the last one runs to its end. */
static void split(char *line, char *ret_field[FIELDS])
{
    line[strcspn(line, "\n")] = '\0';
    for (size_t i = 0; i < FIELDS; i++) {
        ret_field[i] = line;
        char *tab = i + 1 < FIELDS ? strchr(line, '\t') : NULL;
        ck_assert_msg(tab != NULL || i + 1 == FIELDS, "a field is missing: %s", line);
        if (tab != NULL) {
            *tab = '\0';
            line = tab + 1;
        }
    }
}

static void check_spelling(const struct lesson_scheme *usual, char *const *field)
{
    struct lesson_scheme scheme = *usual;
    struct judgement judgement = {0};
    struct text fault = {0};
    const int language = language_find(field[0]);
    scheme.decimal_sign = language_writing(language).decimal;
    ck_assert_msg(mark_expect(&scheme, language, field[1], 3, field[4], &judgement, &fault), "%s", text_string(&fault));
    ck_assert_msg(judgement.points == strtoul(field[2], NULL, 10) &&
                      strcmp(mark_verdict_word(judgement.verdict), field[3]) == 0,
                  "%s, \"%s\" for %s: %u points, %s (%s; read as %s), where %s and %s were expected", field[0],
                  field[4], field[1], judgement.points, mark_verdict_word(judgement.verdict),
                  text_string(&judgement.remark), text_string(&judgement.read_as), field[2], field[3]);
    ck_assert_msg(judgement.points == judgement.points_most || judgement.remark.length > 0, "no word on \"%s\"",
                  field[4]);
    judgement_done(&judgement);
    text_done(&fault);
}

START_TEST(every_spelling_gets_its_points)
{
    struct text path = {0};
    struct lesson_scheme scheme;
    lesson_scheme_usual(&scheme);
    text_printf(&path, "%s/lessons/spellings.tsv", getenv("AMPSUM_TESTS") == NULL ? "tests" : getenv("AMPSUM_TESTS"));
    FILE *file = fopen(text_string(&path), "r");
    ck_assert_ptr_nonnull(file);
    char *line = NULL;
    size_t capacity = 0;
    size_t count = 0;
    while (getline(&line, &capacity, file) > 0) {
        char *field[FIELDS];
        if (line[0] != '#') {
            split(line, field);
            check_spelling(&scheme, field);
            count++;
        }
    }
    ck_assert_uint_ge(count, SPELLINGS_LEAST);
    free(line);
    fclose(file);
    text_done(&path);
}
END_TEST

START_TEST(points_and_tolerance_can_be_set)
{
    struct lesson_scheme scheme;
    struct text text = {0};
    lesson_scheme_usual(&scheme);
    lesson_scheme_show(&scheme, &text);
    ck_assert_str_eq(text_string(&text), "value=2,unit=1,figures=1,prefix=1,yesno=2,choice=2,arrow=1,way=1,part=1");
    text_clear(&text);
    ck_assert(lesson_scheme_points("value=5, unit=0", &scheme, &text));
    ck_assert(lesson_scheme_tolerance("5%", &scheme));
    const struct {
        const char *written;
        unsigned points;
    } rows[] = {{"12.5 A", 6}, {"12.5", 6}, {"13.1 A", 5}, {"13.2 A", 0}, {"11.875 A", 5}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct judgement judgement = {0};
        ck_assert(mark_expect(&scheme, LANGUAGE_ENGLISH, "12.5 A", 3, rows[i].written, &judgement, &text));
        ck_assert_msg(judgement.points == rows[i].points, "%s: %u", rows[i].written, judgement.points);
        judgement_done(&judgement);
    }
    static const char *const bad[] = {"value", "value=", "value=2.5", "volts=1", "value=0", "value=999", ""};
    for (size_t i = 0; i < sizeof bad / sizeof bad[0]; i++) {
        text_clear(&text);
        ck_assert_msg(!lesson_scheme_points(bad[i], &scheme, &text), "\"%s\"", bad[i]);
        ck_assert_uint_gt(text.length, 0);
    }
    ck_assert(!lesson_scheme_tolerance("-1%", &scheme));
    ck_assert(!lesson_scheme_tolerance("50%", &scheme));
    text_done(&text);
}
END_TEST

START_TEST(what_cannot_be_expected_is_refused)
{
    static const char *const expects[] = {"", "twelve", "12.5 bananas", "perhaps", "54 cents"};
    struct lesson_scheme scheme;
    lesson_scheme_usual(&scheme);
    for (size_t i = 0; i < sizeof expects / sizeof expects[0]; i++) {
        struct judgement judgement = {0};
        struct text fault = {0};
        ck_assert_msg(!mark_expect(&scheme, LANGUAGE_ENGLISH, expects[i], 3, "1", &judgement, &fault), "\"%s\"",
                      expects[i]);
        ck_assert_uint_gt(fault.length, 0);
        judgement_done(&judgement);
        text_done(&fault);
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("expect");
    TCase *tests = tcase_create("expect");
    tcase_add_test(tests, every_spelling_gets_its_points);
    tcase_add_test(tests, points_and_tolerance_can_be_set);
    tcase_add_test(tests, what_cannot_be_expected_is_refused);
    suite_add_tcase(suite, tests);
    return suite;
}
