/* Whole classes: perfect ones that write in every way, lazy ones that write one number everywhere, decisions by hand.
 */
#include "runner.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "ampsum/mark.h"
#include "mark_plan.h"

enum { WAYS = 24 };

/* Units in words, one letter wrong in the second. */
static const struct {
    enum exact_quantity measure;
    const char *symbol;
    const char *word;
    const char *misspelt;
    bool prefix;
} unit_rows[] = {
    {EXACT_CURRENT, "A", "amperes", "ampers", true},
    {EXACT_VOLTAGE, "V", "volts", "vollts", true},
    {EXACT_POWER, "W", "watts", "wats", true},
    {EXACT_APPARENT, "VA", "volt-amperes", "voltampere", true},
    {EXACT_REACTIVE, "var", "vars", "var", true},
    {EXACT_RESISTANCE, "ohm", "Ohms", "omh", true},
    {EXACT_ENERGY, "kWh", "kilowatt-hours", "Kwh", false},
    {EXACT_MONEY, "USD", "dollars", "$", false},
    {EXACT_CONDUCTANCE, "S", "siemens", "siemns", true},
    {EXACT_LENGTH, "m", "metres", "metrs", false},
    {EXACT_RATIO, "", "", "", false},
    {EXACT_COUNT, "", "", "", false},
};

static size_t unit_row(enum exact_quantity measure)
{
    for (size_t i = 0; i < sizeof unit_rows / sizeof unit_rows[0]; i++) {
        if (unit_rows[i].measure == measure) {
            return i;
        }
    }
    ck_abort_msg("a measure without words");
    return 0;
}

static void scaled(struct text *text, const struct lesson_question *question, const mpq_t value, unsigned long over,
                   unsigned long under)
{
    mpq_t number;
    mpq_init(number);
    mpq_set_ui(number, over, under);
    mpq_canonicalize(number);
    mpq_mul(number, number, value);
    exact_write_decimal(text, number, question->figures);
    mpq_clear(number);
}

/* The whole part and the rest as a fraction; a plain fraction below 1. */
static void mixed(struct text *text, const mpq_t value)
{
    mpz_t whole;
    mpq_t rest;
    mpz_init(whole);
    mpq_init(rest);
    mpz_fdiv_q(whole, mpq_numref(value), mpq_denref(value));
    mpq_set_z(rest, whole);
    mpq_sub(rest, value, rest);
    if (mpz_sgn(whole) > 0 && mpq_sgn(rest) > 0) {
        text_printf(text, "%lu ", mpz_get_ui(whole));
        exact_write_fraction(text, rest);
    } else {
        exact_write_fraction(text, value);
    }
    mpz_clear(whole);
    mpq_clear(rest);
}

static void full_width(struct text *text, const char *plain)
{
    for (; *plain != '\0'; plain++) {
        const char wide[] = {'\xEF', '\xBC', (char)(0x90 + (*plain - '0')), '\0'};
        if (*plain >= '0' && *plain <= '9') {
            text_add(text, wide);
        } else {
            text_add_char(text, *plain);
        }
    }
}

static void with_comma(struct text *text, const char *plain)
{
    for (; *plain != '\0'; plain++) {
        text_add_char(text, *plain == '.' ? ',' : *plain);
    }
}

/* 2,880: groups of three in front of the point. */
static void grouped(struct text *text, const char *plain, char between)
{
    const size_t digits = strspn(plain, "0123456789");
    for (size_t i = 0; plain[i] != '\0'; i++) {
        if (i > 0 && i < digits && (digits - i) % 3 == 0) {
            text_add_char(text, between);
        }
        text_add_char(text, plain[i]);
    }
}

static void write_number(struct text *text, const struct lesson_question *question,
                         const struct lesson_quantity *quantity, unsigned way)
{
    const size_t row = unit_row(quantity->measure);
    const char *unit = unit_rows[row].symbol;
    const bool prefix = unit_rows[row].prefix;
    struct text plain = {0};
    exact_write_decimal(&plain, quantity->value, question->figures);
    const char *number = text_string(&plain);
    switch (way) {
    case 0:
        text_printf(text, "%s%s", number, unit);
        break;
    case 1:
        with_comma(text, number);
        text_printf(text, " %s", unit);
        break;
    case 2:
        text_printf(text, "%s %s", number, unit_rows[row].word);
        break;
    case 3:
        text_printf(text, "%s = %s %s", quantity->symbol, number, unit);
        break;
    case 4:
        text_printf(text, "≈ %s %s", number, unit);
        break;
    case 5:
        scaled(text, question, quantity->value, prefix ? 1000 : 1, 1);
        text_printf(text, " %s%s", prefix ? "m" : "", unit);
        break;
    case 6:
        scaled(text, question, quantity->value, 1, prefix ? 1000 : 1);
        text_printf(text, " %s%s", prefix ? "k" : "", unit);
        break;
    case 7:
        exact_write_fraction(text, quantity->value);
        text_printf(text, " %s", unit);
        break;
    case 8:
        mixed(text, quantity->value);
        text_printf(text, " %s", unit);
        break;
    case 9:
        scaled(text, question, quantity->value, 1, 10);
        text_printf(text, "e1 %s", unit);
        break;
    case 10:
        scaled(text, question, quantity->value, 1, 10);
        text_printf(text, " x 10^1 %s", unit);
        break;
    case 11:
        text_printf(text, unit[0] == '\0' ? "%s%s" : "%s [%s]", number, unit);
        break;
    case 12:
        text_printf(text, "%s %s.", number, unit);
        break;
    case 13:
        text_printf(text, "%s %s ?", number, unit);
        break;
    case 14:
        full_width(text, number);
        text_printf(text, " %s", unit);
        break;
    case 15:
        text_printf(text, "%s %s", unit, number);
        break;
    case 16:
        text_printf(text, "ca. %s %s", number, unit);
        break;
    case 17:
        text_printf(text, "%s %s (total)", number, unit);
        break;
    case 18:
        text_printf(text, "%s\xC2\xA0%s", number, unit);
        break;
    case 19:
        text_printf(text, "= %s %s", number, unit);
        break;
    case 20:
        grouped(text, number, ',');
        text_printf(text, " %s", unit);
        break;
    case 21:
        text_printf(text, "%s %s", number, unit_rows[row].misspelt);
        break;
    case 22:
        text_printf(text, "60/4.8 = %s %s", number, unit);
        break;
    default:
        grouped(text, number, ' ');
        text_printf(text, " %s", unit);
    }
    text_done(&plain);
}

static void write_right(struct text *text, const struct lesson_question *question,
                        const struct lesson_quantity *quantity, unsigned way)
{
    static const char *const yes[] = {"yes", "Yes!", "y", "true", "yes, it trips", "ja", "sí", "oui"};
    static const char *const no[] = {"no", "No.", "n", "false", "No, it holds", "nein", "no", "non"};
    static const char *const trends[][6] = {{"falls", "↓", "decreases", "drops", "sinkt", "diminue"},
                                            {"stays", "=", "same", "unchanged", "bleibt gleich", "no cambia"},
                                            {"rises", "↑", "up", "increases", "steigt", "augmente"}};
    static const char *const ways[][6] = {{"out", "leaving", "hinaus", "sale", "sort", "outward"},
                                          {"in", "entering", "hinein", "entra", "entre", "into"}};
    if (quantity->measure == EXACT_YES_NO) {
        text_add(text, mpq_sgn(quantity->value) > 0 ? yes[way % 8] : no[way % 8]);
    } else if (quantity->measure == EXACT_ARROW) {
        text_add(text, trends[mpq_sgn(quantity->value) + 1][way % 6]);
    } else if (quantity->measure >= EXACT_CHOICE) {
        exact_figure(text, quantity->value, quantity->measure, 1);
    } else if (quantity->measure == EXACT_DIRECTION) {
        text_add(text, ways[mpq_sgn(quantity->value)][way % 6]);
    } else {
        write_number(text, question, quantity, way);
    }
}

typedef void (*writer)(struct text *text, const struct lesson_question *question,
                       const struct lesson_quantity *quantity, unsigned way);

/* A file of the class's answers, quoted. */
static void fill_in(struct text *bytes, const struct lesson_plan *plan, writer write)
{
    struct lesson_question question;
    lesson_question_init(&question);
    text_add(bytes, "student,question,part,answer\n");
    for (unsigned student = 1; student <= plan->students; student++) {
        for (size_t index = 0; index < plan->question_count; index++) {
            lesson_question_make(plan, student, index, &question);
            for (size_t i = 0; i < question.count; i++) {
                struct text part = {0};
                struct text answer = {0};
                if (question.quantities[i].asked != NULL) {
                    lesson_part(&question, i, &part, NULL);
                    write(&answer, &question, &question.quantities[i], (student - 1) % WAYS);
                    text_printf(bytes, "%u,%zu,%s,\"%s\"\n", student, index + 1, text_string(&part),
                                text_string(&answer));
                }
                text_done(&part);
                text_done(&answer);
            }
        }
    }
    lesson_question_done(&question);
}

static void mark_class(struct marks *marks, const struct lesson_plan *plan, writer write)
{
    struct text bytes = {0};
    *marks = (struct marks){0};
    fill_in(&bytes, plan, write);
    marks_take(marks, plan, "answers.csv", text_string(&bytes), bytes.length);
    marks_finish(marks, plan);
    ck_assert_uint_eq(marks->student_count, plan->students);
    text_done(&bytes);
}

START_TEST(perfect_students_who_each_write_otherwise_get_everything)
{
    struct lesson_plan plan = make_plan(40 + (uint64_t)_i, (unsigned)_i, WAYS);
    struct marks marks;
    mark_class(&marks, &plan, write_right);
    for (size_t i = 0; i < marks.row_count; i++) {
        const struct mark_row *row = &marks.rows[i];
        ck_assert_msg(row->judgement.points == row->judgement.points_most,
                      "way %u: %zu%s \"%s\" for %s has %u of %u (%s)", row->student - 1, row->question, row->part,
                      row->answer, row->expected, row->judgement.points, row->judgement.points_most,
                      text_string(&row->judgement.remark));
    }
    marks_done(&marks);
    lesson_plan_done(&plan);
}
END_TEST

/* A reading has no points and no right value; what follows from it is held against it alone. */
START_TEST(readings_are_the_students_own)
{
    struct lesson_plan plan = make_plan(8, 1, 2);
    struct marks marks;
    size_t readings = 0;
    mark_class(&marks, &plan, write_right);
    for (size_t i = 0; i < marks.row_count; i++) {
        const struct mark_row *row = &marks.rows[i];
        if (strstr(row->asked, "your reading") != NULL) {
            ck_assert_str_eq(row->expected, "as read");
            ck_assert_uint_eq(row->judgement.points_most, 0);
            ck_assert_str_eq(marks.rows[i + 1].expected, "by the reading");
            ck_assert_uint_eq(marks.rows[i + 1].judgement.points, 3);
            readings++;
        }
    }
    ck_assert_uint_eq(readings, plan.students);
    marks_done(&marks);
    lesson_plan_done(&plan);
}
END_TEST

static void write_without_unit(struct text *text, const struct lesson_question *question,
                               const struct lesson_quantity *quantity, unsigned way)
{
    (void)way;
    exact_figure(text, quantity->value, quantity->measure, question->figures);
    const char *unit = exact_unit(quantity->measure);
    text->length -= unit[0] == '\0' ? 0 : strlen(unit);
    text->bytes[text->length] = '\0';
}

START_TEST(units_left_out_cost_their_quarter)
{
    struct lesson_plan plan = make_plan(50 + (uint64_t)_i, (unsigned)_i, 3);
    struct marks marks;
    mark_class(&marks, &plan, write_without_unit);
    for (size_t i = 0; i < marks.row_count; i++) {
        const struct judgement *judgement = &marks.rows[i].judgement;
        ck_assert_msg(judgement->points == (judgement->points_most == 4 ? 3 : judgement->points_most),
                      "%zu%s \"%s\": %u", marks.rows[i].question, marks.rows[i].part, marks.rows[i].answer,
                      judgement->points);
    }
    marks_done(&marks);
    lesson_plan_done(&plan);
}
END_TEST

static void write_constant(struct text *text, const struct lesson_question *question,
                           const struct lesson_quantity *quantity, unsigned way)
{
    static const char *const words[] = {"0", "0 A", "1", "1 A", "7", "7 V"};
    (void)question;
    (void)quantity;
    text_add(text, words[way % 6]);
}

/* Zeros, ones, sevens in every box; what such a box may still be worth when a person has decided counts too. */
START_TEST(one_number_in_every_box_gets_next_to_nothing)
{
    struct lesson_plan plan = make_plan(60 + (uint64_t)_i, (unsigned)_i, WAYS);
    struct marks marks;
    mark_class(&marks, &plan, write_constant);
    for (size_t i = 0; i < marks.student_count; i++) {
        const struct mark_student *student = &marks.students[i];
        ck_assert_msg(100 * student->points <= 2 * student->points_most, "student %u: %u of %u", student->student,
                      student->points, student->points_most);
    }
    marks_done(&marks);
    lesson_plan_done(&plan);
}
END_TEST

static const struct mark_row *first_row(const struct marks *marks)
{
    ck_assert_uint_ge(marks->row_count, 1);
    return &marks->rows[0];
}

static void take_and_finish(struct marks *marks, const struct lesson_plan *plan, const char *answer,
                            const char *decisions)
{
    struct text bytes = {0};
    *marks = (struct marks){0};
    text_printf(&bytes, "student,question,part,answer\n1,1,a,\"%s\"\n", answer);
    marks_take(marks, plan, "answers.csv", text_string(&bytes), bytes.length);
    marks_take_decisions(marks, "decide.csv", decisions, strlen(decisions));
    marks_finish(marks, plan);
    text_done(&bytes);
}

/* Each: what stands in decision and points, and what becomes of an answer that cannot be read. */
static const struct {
    const char *written;
    const char *decision;
    const char *points;
    enum mark_verdict verdict;
    unsigned given;
    const char *notice; /* NULL: none */
} decision_rows[] = {
    {"twelve", "right", "", MARK_RIGHT, 4, NULL},
    {"twelve", "Wrong", "", MARK_WRONG, 0, NULL},
    {"twelve", "", "3", MARK_RIGHT, 3, NULL},
    {"twelve", "", "99", MARK_RIGHT, 4, "99 points, where that part has 4"},
    {"twelve", "read as 1e9 ohm", "", MARK_WRONG, 0, NULL},
    {"twelve", "", "", MARK_DECIDE, 0, NULL},
    {"twelve", "perhaps", "", MARK_DECIDE, 0, "expected right"},
    {"another", "right", "", MARK_DECIDE, 0, "decided of"},
};

START_TEST(decisions_are_obeyed_where_the_text_is_the_same)
{
    struct lesson_plan plan = make_plan(5, 1, 2);
    struct marks marks;
    struct text list = {0};
    char code[LESSON_CODE_SIZE];
    lesson_sheet_code(&plan, 1, code);
    text_printf(&list,
                "sheet,student,name,part,asked,written,why,proposed,expected,decision,points,note\n%s,1,,1a,x,%s,y,,z,%"
                "s,%s,n\n",
                code, decision_rows[_i].written, decision_rows[_i].decision, decision_rows[_i].points);
    take_and_finish(&marks, &plan, "twelve", text_string(&list));
    const struct mark_row *row = first_row(&marks);
    ck_assert_int_eq(row->judgement.verdict, decision_rows[_i].verdict);
    ck_assert_uint_eq(row->judgement.points, decision_rows[_i].given);
    if (decision_rows[_i].verdict != MARK_DECIDE && decision_rows[_i].given < row->judgement.points_most) {
        ck_assert_ptr_nonnull(strstr(text_string(&row->judgement.remark), " = "));  /* how it is found */
        ck_assert_ptr_null(strstr(text_string(&row->judgement.remark), "right: ")); /* which stands beside it */
    }
    bool told = decision_rows[_i].notice == NULL;
    for (size_t i = 0; i < marks.notice_count && !told; i++) {
        told = strstr(marks.notices[i].word, decision_rows[_i].notice) != NULL;
    }
    ck_assert(told);
    text_done(&list);
    marks_done(&marks);
    lesson_plan_done(&plan);
}
END_TEST

static void read_file(const char *path, struct text *content)
{
    FILE *file = fopen(path, "r");
    ck_assert_ptr_nonnull(file);
    int c;
    while ((c = fgetc(file)) != EOF) {
        text_add_char(content, (char)c);
    }
    fclose(file);
}

/* New doubtful answers are added to the list, what stands there stays, and nothing stands there twice. */
START_TEST(the_list_grows_and_loses_nothing)
{
    char folder[] = "lesson-000000";
    memset(folder + strlen(folder) - 6, 'X', 6); /* as mkdtemp wants it */
    ck_assert_ptr_nonnull(mkdtemp(folder));
    struct lesson_plan plan = make_plan(5, 1, 2);
    struct text path = {0};
    struct error error = {0};
    size_t added[3] = {0};
    static const char *const answers[] = {"twelve", "twelve", "about a dozen"};
    text_printf(&path, "%s/decide.csv", folder);
    for (size_t turn = 0; turn < 3; turn++) {
        struct marks marks = {0};
        struct text bytes = {0};
        text_printf(&bytes, "student,question,part,answer\n1,1,a,\"%s\"\n", answers[turn]);
        marks_take(&marks, &plan, "answers.csv", text_string(&bytes), bytes.length);
        marks_take_folder_decisions(&marks, folder);
        marks_finish(&marks, &plan);
        ck_assert(marks_write_decisions(&marks, &plan, folder, &added[turn], &error));
        ck_assert_uint_eq(marks.students[0].to_decide, 1);
        ck_assert_uint_eq(marks.students[0].points, 0);
        ck_assert_uint_eq(marks.students[0].to_decide_points, 4);
        text_done(&bytes);
        marks_done(&marks);
    }
    ck_assert_uint_eq(added[0], 1);
    ck_assert_uint_eq(added[1], 0);
    ck_assert_uint_eq(added[2], 1);
    struct text list = {0};
    read_file(text_string(&path), &list);
    ck_assert_ptr_nonnull(strstr(text_string(&list), ",1a,resistance of all together,twelve,"));
    ck_assert_ptr_nonnull(strstr(text_string(&list), "about a dozen"));
    unlink(text_string(&path));
    ck_assert_int_eq(rmdir(folder), 0);
    text_done(&list);
    text_done(&path);
    error_done(&error);
    lesson_plan_done(&plan);
}
END_TEST

/* One row a student, in any order of columns; the code alone may tell whose it is. */
START_TEST(wide_answers_are_read_by_their_headings)
{
    struct lesson_plan plan = make_plan(5, 1, 3);
    struct marks marks = {0};
    struct text bytes = {0};
    char code[LESSON_CODE_SIZE];
    lesson_sheet_code(&plan, 3, code);
    text_printf(&bytes, "Sheet,student,name,1a,1b,2a\n,1,Ada,1e9 ohm,2 A,\n%s,,,3 ohm,,\"1,5\"\nzzzzz,2,,1,1,1\n",
                code);
    marks_take(&marks, &plan, "wide.csv", text_string(&bytes), bytes.length);
    marks_finish(&marks, &plan);
    ck_assert_uint_eq(marks.student_count, 2);
    ck_assert_uint_eq(marks.students[0].student, 1);
    ck_assert_uint_eq(marks.students[1].student, 3);
    ck_assert_str_eq(marks.rows[0].answer, "1e9 ohm");
    ck_assert_str_eq(marks.rows[1].answer, "2 A");
    ck_assert_str_eq(marks.rows[marks.students[1].first_row + 2].answer, "1,5");
    text_done(&bytes);
    marks_done(&marks);
    lesson_plan_done(&plan);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("mark_class");
    TCase *tests = tcase_create("mark_class");
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, readings_are_the_students_own);
    tcase_add_loop_test(tests, perfect_students_who_each_write_otherwise_get_everything, 1, LESSON_LEVEL_MOST + 1);
    tcase_add_loop_test(tests, units_left_out_cost_their_quarter, 1, LESSON_LEVEL_MOST + 1);
    tcase_add_loop_test(tests, one_number_in_every_box_gets_next_to_nothing, 1, LESSON_LEVEL_MOST + 1);
    tcase_add_loop_test(tests, decisions_are_obeyed_where_the_text_is_the_same, 0,
                        sizeof decision_rows / sizeof decision_rows[0]);
    tcase_add_test(tests, the_list_grows_and_loses_nothing);
    tcase_add_test(tests, wide_answers_are_read_by_their_headings);
    suite_add_tcase(suite, tests);
    return suite;
}
