/* Sentences of languages, and how numbers and letters are written. */
#include "runner.h"

#include <string.h>

#include "../../src/language/rows.h"
#include "ampsum/language.h"

static const struct {
    struct writing writing;
    const char *made;
    const char *written;
} lines[] = {
    {{'.', false, 'V', false}, "R1 = 12.5 ohm; V = 12000.25 V", "R1 = 12.5 ohm; V = 12000.25 V"},
    {{',', true, 'U', false}, "I = V / R = 12.5 V / 4 ohm", "I = U / R = 12,5 V / 4 ohm"},
    {{',', true, 'U', false},
     "V\xC2\xA0=\xC2\xA0"
     "9.25\xC2\xA0V; P = V² / R = (120 V)² / 40 W",
     "U\xC2\xA0=\xC2\xA0"
     "9,25\xC2\xA0V; P = U² / R = (120 V)² / 40 W"},
    {{',', true, 'U', false}, "voltage lost in the wire, in V: ", "voltage lost in the wire, in V: "},
    {{',', true, 'V', false},
     "9999 W and 12345.678 W",
     "9999 W and 12\xE2\x80\xAF"
     "345,678 W"},
    {{',', true, 'V', false},
     "1234567 1/3",
     "1\xE2\x80\xAF"
     "234\xE2\x80\xAF"
     "567 1/3"},
    {{'.', false, 'V', true},
     "R = 4.7 kohm, 3 ohm, r1 = 7.41 mohm/m of 2.5 mm2",
     "R = 4.7\xC2\xA0kΩ, 3\xC2\xA0Ω, r1 = 7.41\xC2\xA0mΩ/m of 2.5 mm²"},
    {{',', false, 'U', true},
     "R1 = 60 kohm\xC2\xA0; R2 = 3 ohm\xE2\x80\xAF;",
     "R1 = 60\xC2\xA0kΩ\xC2\xA0; R2 = 3\xC2\xA0Ω\xE2\x80\xAF;"},
    {{',', false, 'U', false}, "VA, var, R12.5", "VA, var, R12.5"},
};

START_TEST(lines_are_written_as_taught)
{
    struct text text = {0};
    language_write(&text, &lines[_i].writing, lines[_i].made);
    ck_assert_str_eq(text_string(&text), lines[_i].written);
    text_done(&text);
}
END_TEST

START_TEST(a_sentence_is_filled_at_its_places)
{
    struct text text = {0};
    say(&text, LANGUAGE_ENGLISH, "figure.beside", "source", "12 V", "parts", "R1 and R2", (const char *)NULL);
    ck_assert_str_eq(text_string(&text), "R1 and R2 side by side across 12 V");
    text_done(&text);
}
END_TEST

/* By the grammar of Spanish: "e" before the sound of an i, but "y" before "hie". */
static const struct {
    const char *code;
    const char *message;
    const char *said;
} joints[] = {
    {"es", "subject.1-and-2 I1 I3", "I1 e I3"},           {"es", "subject.1-and-2 R1 R3", "R1 y R3"},
    {"es", "subject.1-and-2 cable hilo", "cable e hilo"}, {"es", "subject.1-and-2 agua hielo", "agua y hielo"},
    {"en", "subject.1-and-2 I1 I3", "I1 and I3"},         {"fr", "subject.1-and-2 I1 I3", "I1 et I3"},
};

START_TEST(what_joins_two_names_goes_with_the_second)
{
    struct text text = {0};
    ck_assert(say_message(&text, language_find(joints[_i].code), joints[_i].message));
    ck_assert_str_eq(text_string(&text), joints[_i].said);
    text_clear(&text);
    say(&text, language_find("es"), "figure.and", "before", "horno", "last", "impresora", (const char *)NULL);
    ck_assert_str_eq(text_string(&text), "horno e impresora");
    text_done(&text);
}
END_TEST

START_TEST(a_message_is_a_key_with_names)
{
    struct text text = {0};
    ck_assert(say_message(&text, LANGUAGE_ENGLISH, "subject.1-and-2 R12 R3"));
    ck_assert_str_eq(text_string(&text), "R12 and R3");
    text_clear(&text);
    ck_assert(!say_message(&text, language_find("de"), "kettle {1} total"));
    ck_assert_str_eq(text_string(&text), "kettle {1} total");
    ck_assert_str_eq(say_form(LANGUAGE_ENGLISH, "R = V / I"), "R = V / I");
    ck_assert_str_eq(say_form(LANGUAGE_ENGLISH, "step.0-put-back-gives-1"), "{0} put back gives {1}");
    ck_assert_int_eq(language_find("en"), LANGUAGE_ENGLISH);
    ck_assert_int_eq(language_find("xx"), -1);
    text_done(&text);
}
END_TEST

/* Rows that are the same in English and there, because they are that language too. */
static const char *const shared[] = {"de sheet.name",
                                     "de refuse.then",
                                     "es refuse.then",
                                     "de sheet.in-unit",
                                     "de more.cmin",
                                     "de more.i-cmin-x-u0-zs",
                                     "es word.no",
                                     "es subject.motor",
                                     "es subject.metal",
                                     "es more.factor",
                                     "es more.cmin",
                                     "es more.i-cmin-x-u0-zs",
                                     "fr sheet.version",
                                     "fr sheet.story-one",
                                     "fr sheet.story",
                                     "fr sheet.page",
                                     "fr sheet.by-version",
                                     "fr figure.title",
                                     "fr asked.conductance-1",
                                     "fr subject.source",
                                     "fr subject.place",
                                     "fr feedback.question",
                                     "fr feedback.head-points",
                                     "fr column.question",
                                     "es solve.total",
                                     "fr solve.total",
                                     "fr solve.source",
                                     "fr solve.circuit",
                                     "fr more.cmin",
                                     "fr more.i-cmin-x-u0-zs",
                                     "de marks.name",
                                     "fr marks.points",
                                     "fr marks.verdict",
                                     "fr marks.question",
                                     "es page.error"};

static bool is_shared(const char *row)
{
    bool found = false;
    for (size_t i = 0; i < sizeof shared / sizeof shared[0]; i++) {
        found = found || strcmp(shared[i], row) == 0;
    }
    return found;
}

START_TEST(no_row_is_left_in_english)
{
    for (int language = 1; language < (int)language_count(); language++) {
        for (size_t row = 0; row < language_key_count; row++) {
            struct text name = {0};
            text_printf(&name, "%s %s", language_code(language), language_keys[row]);
            const bool same = strcmp(language_sentences[language][row], language_sentences[0][row]) == 0;
            ck_assert_msg(!same || strncmp(language_keys[row], "language.", 9) == 0 || is_shared(text_string(&name)),
                          "%s is in English", text_string(&name));
            text_done(&name);
        }
    }
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("language");
    TCase *tests = tcase_create("language");
    tcase_add_loop_test(tests, lines_are_written_as_taught, 0, sizeof lines / sizeof lines[0]);
    tcase_add_test(tests, a_sentence_is_filled_at_its_places);
    tcase_add_loop_test(tests, what_joins_two_names_goes_with_the_second, 0, sizeof joints / sizeof joints[0]);
    tcase_add_test(tests, a_message_is_a_key_with_names);
    tcase_add_test(tests, no_row_is_left_in_english);
    suite_add_tcase(suite, tests);
    return suite;
}
