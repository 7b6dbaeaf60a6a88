/* The questions of `lesson` and `mark`: words read into a plan, parts from a shelf, a class marked in memory. */
#include <string.h>

#include "ampsum/answer_mark.h"
#include "runner.h"

static struct lesson_plan plan_of(struct plan_question question)
{
    struct lesson_plan plan;
    struct error error = {0};
    question.dash = "--";
    ck_assert_msg(answer_plan(&question, &plan, &error), "%s", error_message(&error));
    return plan;
}

START_TEST(nothing_said_is_a_plan)
{
    struct lesson_plan plan = plan_of((struct plan_question){0});
    ck_assert_uint_eq(plan.level, 1);
    ck_assert_uint_eq(plan.students, 1);
    ck_assert_uint_eq(plan.seed, 1);
    ck_assert_uint_eq(plan.room, LESSON_ROOM_USUAL);
    ck_assert_uint_eq(plan.own_percent, LESSON_OWN_USUAL);
    for (size_t i = 0; i < plan.question_count; i++) {
        ck_assert_ptr_null(lesson_kind_fits(&plan, plan.kinds[i]));
    }
    ck_assert_uint_gt(plan.question_count, 20);
    lesson_plan_done(&plan);
}
END_TEST

/* Five questions of two kinds go through them in turn. */
START_TEST(questions_go_through_the_kinds_in_turn)
{
    static const char *const kinds[] = {"wire , trip"};
    struct lesson_plan plan = plan_of((struct plan_question){.kinds = kinds, .kind_count = 1, .questions = "5"});
    static const enum lesson_kind wanted[] = {LESSON_WIRE, LESSON_TRIP, LESSON_WIRE, LESSON_TRIP, LESSON_WIRE};
    ck_assert_uint_eq(plan.question_count, 5);
    for (size_t i = 0; i < 5; i++) {
        ck_assert_int_eq(plan.kinds[i], wanted[i]);
    }
    lesson_plan_done(&plan);
}
END_TEST

START_TEST(words_that_are_none_are_refused)
{
    static const char *const wir[] = {"wir"};
    static const char *const longest[] = {"longest-run"};
    static const struct {
        struct plan_question question;
        const char *want;
    } rows[] = {
        {{.level = "5"}, "--level '5': expected a whole number from 1 to 4"},
        {{.students = "2x"}, "--students '2x': expected a whole number from 1 to 10000"},
        {{.seed = "99999999999999999999"}, "--seed '99999999999999999999': expected a whole number from 0"},
        {{.own = "101%"}, "--own '101%': expected 0% to 100%"},
        {{.title = "a\tb"}, "--title: expected one line"},
        {{.symbols = "din"}, "--symbols din: expected us or iec"},
        {{.units = "often"}, "--units often: expected printed"},
        {{.kinds = wir, .kind_count = 1}, "--kind: 'wir' is no kind of question; the nearest is wire"},
        {{.kinds = longest, .kind_count = 1}, "--kind longest-run: "},
        {{.scheme = {.tolerance = "30%"}}, "--tolerance '30%': expected 0% to 20%"},
        {{.scheme = {.language = "xx"}}, "--language xx: expected en"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct plan_question question = rows[i].question;
        struct lesson_plan plan;
        struct error error = {0};
        question.dash = "--";
        ck_assert(!answer_plan(&question, &plan, &error));
        ck_assert_msg(strncmp(error_message(&error), rows[i].want, strlen(rows[i].want)) == 0, "%s",
                      error_message(&error));
        error_done(&error);
        lesson_plan_done(&plan);
    }
}
END_TEST

/* 34 ohm from 68 ohm: two side by side, each with all of 12 V across it; 5 % either way is 32.3 and 35.7 ohm. */
START_TEST(a_shelf_gives_a_network)
{
    const struct shelf_question question = {.stock = "68 ohm", .want = "34 ohm", .voltage = "12 V", .tolerance = "5%"};
    struct shelf_answer answer;
    struct error error = {0};
    ck_assert_msg(answer_shelf(&question, &answer, &error), "%s", error_message(&error));
    ck_assert(answer.found.exact);
    ck_assert_uint_eq(answer.part_count, 2);
    for (size_t i = 0; i < 2; i++) {
        ck_assert_double_eq_tol(answer.parts[i].ohm, 68, 1e-12);
        ck_assert_double_eq_tol(answer.parts[i].voltage_v, 12, 1e-12);
        ck_assert_double_eq_tol(answer.parts[i].power_w, 144.0 / 68, 1e-12);
    }
    ck_assert_double_eq_tol(mpq_get_d(answer.low), 34 * 0.95, 1e-12);
    ck_assert_double_eq_tol(mpq_get_d(answer.high), 34 * 1.05, 1e-12);
    ck_assert_int_eq(mpq_sgn(answer.error_percent), 0);
    shelf_answer_done(&answer);
}
END_TEST

/* One 68 ohm part beside 60 ohm wanted: 100 (68 - 60) / 60 = 13.3 % too much. */
START_TEST(the_nearest_says_how_far_off_it_is)
{
    const struct shelf_question question = {.stock = "68 ohm*1", .want = "60 ohm"};
    struct shelf_answer answer;
    struct error error = {0};
    ck_assert_msg(answer_shelf(&question, &answer, &error), "%s", error_message(&error));
    ck_assert(!answer.found.exact && !answer.has_tolerance && !answer.has_voltage);
    ck_assert_double_eq_tol(mpq_get_d(answer.error_percent), 800.0 / 60, 1e-12);
    shelf_answer_done(&answer);
}
END_TEST

START_TEST(a_shelf_that_is_none_is_refused)
{
    static const struct {
        struct shelf_question question;
        const char *want;
    } rows[] = {
        {{.want = "34 ohm"}, "lesson: expected --want R beside --stock"},
        {{.stock = "5", .series = "E6", .want = "3"}, "lesson: expected --want R beside --stock"},
        {{.stock = "5", .want = "3 V"}, "--want '3 V': expected a value above 0 with its unit"},
        {{.series = "E7", .want = "3"}, "--series E7: expected E6, E12 or E24"},
        {{.stock = "5 x", .want = "3"}, "--stock: "},
        {{.stock = "5", .want = "3", .parts = "17"}, "--parts '17': expected 1 to 16"},
        {{.stock = "5", .want = "3", .tolerance = "100%"}, "--tolerance '100%': expected a percentage below 100"},
    };
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        struct shelf_answer answer;
        struct error error = {0};
        ck_assert(!answer_shelf(&rows[i].question, &answer, &error));
        ck_assert_msg(strncmp(error_message(&error), rows[i].want, strlen(rows[i].want)) == 0, "%s",
                      error_message(&error));
        error_done(&error);
        shelf_answer_done(&answer);
    }
}
END_TEST

/* Two students: one writes what the key says, the other nothing but a word nobody can read. */
START_TEST(a_class_is_marked_in_memory)
{
    static const char *const kinds[] = {"trip"};
    struct lesson_plan plan =
        plan_of((struct plan_question){.kinds = kinds, .kind_count = 1, .students = "2", .seed = "5"});
    struct text csv = {0};
    struct text right = {0};
    struct lesson_question question;
    struct mark_answer answer;
    struct error error = {0};
    lesson_question_init(&question);
    lesson_question_make(&plan, 1, 0, &question);
    text_add(&csv, "student,question,part,answer\n");
    size_t asked = 0;
    for (size_t i = 0; i < question.count; i++) {
        if (question.quantities[i].asked == NULL) {
            continue;
        }
        struct text part = {0};
        lesson_part(&question, i, &part, NULL);
        text_clear(&right);
        lesson_answer(&plan, &question, i, &right);
        text_printf(&csv, "1,1,%s,%s\n", text_string(&part), text_string(&right));
        text_printf(&csv, asked == 0 ? "2,1,%s,twelvish\n" : "2,1,%s,\n", text_string(&part));
        text_done(&part);
        asked++;
    }
    const struct mark_source source = {"answers", text_string(&csv), csv.length};
    ck_assert_msg(answer_mark_plan(&plan, &source, &answer, &error), "%s", error_message(&error));
    ck_assert_uint_eq(answer.marks.student_count, 2);
    ck_assert_uint_eq(answer.lines.count, 2 * asked);
    ck_assert_uint_eq(answer.to_decide, 1);
    ck_assert_double_eq_tol(answer.marks.students[0].share_percent, 100, 1e-12);
    ck_assert_double_eq_tol(answer.marks.students[1].share_percent, 0, 1e-12);
    ck_assert_uint_eq(answer.marks.students[1].points_possible, answer.marks.students[1].to_decide_points);
    ck_assert_double_eq_tol(answer.marks.summaries[0].points_percent, 100,
                            1e-12); /* what is to be decided is left out */
    for (size_t i = 0; i < answer.lines.count; i++) {
        ck_assert_uint_eq(answer.lines.line[i].student->student, i < asked ? 1 : 2);
        ck_assert_uint_eq(answer.lines.line[i].row->student, i < asked ? 1 : 2);
    }
    mark_answer_done(&answer);
    lesson_question_done(&question);
    text_done(&csv);
    text_done(&right);
}
END_TEST

START_TEST(nothing_to_mark_is_refused)
{
    struct lesson_plan plan = plan_of((struct plan_question){0});
    const struct mark_source source = {"answers", "student,question,part,answer\n", 29};
    struct mark_answer answer;
    struct error error = {0};
    ck_assert(!answer_mark_plan(&plan, &source, &answer, &error));
    ck_assert_ptr_nonnull(strstr(error_message(&error), "mark: no answer could be placed"));
    error_done(&error);
    mark_answer_done(&answer);
}
END_TEST

START_TEST(single_answers_are_judged)
{
    static const char *const written[] = {"12.5 A", "12.5", "14 A", "12-13 A"};
    static const enum mark_verdict wanted[] = {MARK_RIGHT, MARK_RIGHT, MARK_WRONG, MARK_DECIDE};
    const struct scheme_question scheme = {.figures = "3"};
    struct expect_answer answer;
    struct error error = {0};
    ck_assert(answer_expect(&scheme, "12.5 A", written, 4, &answer, &error));
    ck_assert_uint_eq(answer.lines.count, 4);
    for (size_t i = 0; i < 4; i++) {
        ck_assert_str_eq(answer.lines.line[i].written, written[i]);
        ck_assert_msg(answer.lines.line[i].judgement->verdict == wanted[i], "%s", written[i]);
    }
    ck_assert_uint_lt(answer.judgements[1].points, answer.judgements[0].points); /* the unit is missing */
    expect_answer_done(&answer);
    ck_assert(!answer_expect(&scheme, "12.5 zz", written, 4, &answer, &error));
    ck_assert_int_eq(strncmp(error_message(&error), "--expect ", 9), 0);
    error_done(&error);
    expect_answer_done(&answer);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("answer_lesson");
    TCase *cases = tcase_create("answer_lesson");
    tcase_add_test(cases, nothing_said_is_a_plan);
    tcase_add_test(cases, questions_go_through_the_kinds_in_turn);
    tcase_add_test(cases, words_that_are_none_are_refused);
    tcase_add_test(cases, a_shelf_gives_a_network);
    tcase_add_test(cases, the_nearest_says_how_far_off_it_is);
    tcase_add_test(cases, a_shelf_that_is_none_is_refused);
    tcase_add_test(cases, a_class_is_marked_in_memory);
    tcase_add_test(cases, nothing_to_mark_is_refused);
    tcase_add_test(cases, single_answers_are_judged);
    suite_add_tcase(suite, cases);
    return suite;
}
