/* Judging of answers: right ones in any spelling, wrong ones, each slip, what is carried forward. */
#include "runner.h"

#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/mark.h"
#include "mark_plan.h"
#include "said.h"

/* A question with answers that the test writes. */
struct desk {
    struct lesson_plan plan;
    struct lesson_question question;
    const char **answers;
    struct text *texts;
    struct judgement *judgements;
    size_t count;
};

static void desk_open(struct desk *desk, enum lesson_kind kind, unsigned level, uint64_t seed)
{
    *desk = (struct desk){.plan = make_plan(seed, level, 1)};
    lesson_question_init(&desk->question);
    lesson_question_make(&desk->plan, 1, kind, &desk->question);
    desk->count = desk->question.count;
    desk->answers = calloc(desk->count, sizeof *desk->answers);
    desk->texts = calloc(desk->count, sizeof *desk->texts);
    desk->judgements = calloc(desk->count, sizeof *desk->judgements);
}

static void desk_mark(struct desk *desk)
{
    mark_question(&desk->plan, &desk->question, desk->answers, desk->judgements);
}

static void desk_close(struct desk *desk)
{
    for (size_t i = 0; i < desk->count; i++) {
        text_done(&desk->texts[i]);
        judgement_done(&desk->judgements[i]);
    }
    free((void *)desk->answers);
    free(desk->texts);
    free(desk->judgements);
    lesson_question_done(&desk->question);
    lesson_plan_done(&desk->plan);
}

static size_t asked_as(const struct desk *desk, const char *asked)
{
    for (size_t i = 0; i < desk->count; i++) {
        if (desk->question.quantities[i].asked != NULL && is_said(desk->question.quantities[i].asked, asked)) {
            return i;
        }
    }
    ck_abort_msg("nothing asks for %s", asked);
    return 0;
}

static size_t symbol_of(const struct desk *desk, const char *symbol)
{
    for (size_t i = 0; i < desk->count; i++) {
        if (is_said(desk->question.quantities[i].symbol, symbol)) {
            return i;
        }
    }
    ck_abort_msg("no %s", symbol);
    return 0;
}

static double value_at(const struct desk *desk, size_t index)
{
    return mpq_get_d(desk->question.quantities[index].value);
}

/* Prefixes whose factor the writer below puts in front of the unit. */
static const struct {
    const char *word;
    unsigned long over; /* written number = value * over / under */
    unsigned long under;
} prefixes[] = {{"", 1, 1}, {"m", 1000, 1}, {"k", 1, 1000}};

static bool takes_prefix(enum exact_quantity measure)
{
    return measure == EXACT_CURRENT || measure == EXACT_VOLTAGE || measure == EXACT_POWER ||
           measure == EXACT_RESISTANCE || measure == EXACT_APPARENT || measure == EXACT_REACTIVE;
}

/* One of the ways to write a right answer: fraction or decimal, with any prefix. */
static void write_right(struct text *text, const struct lesson_question *question,
                        const struct lesson_quantity *quantity, uint64_t *state)
{
    if (quantity->measure == EXACT_YES_NO || quantity->measure >= EXACT_ARROW) {
        exact_figure(text, quantity->value, quantity->measure, question->figures);
        return;
    }
    mpq_t written;
    mpq_init(written);
    const char *unit = exact_unit(quantity->measure);
    size_t prefix = takes_prefix(quantity->measure) ? mark_chance(state) % 3 : 0;
    mpq_set_ui(written, prefixes[prefix].over, prefixes[prefix].under);
    mpq_canonicalize(written);
    mpq_mul(written, written, quantity->value);
    if (mark_chance(state) % 3 == 0) {
        exact_write_fraction(text, written);
    } else {
        exact_write_decimal(text, written, question->figures);
    }
    if (quantity->measure == EXACT_MONEY) {
        text_add(text, " USD");
    } else if (unit[0] != '\0') {
        text_printf(text, "%s%s%s", mark_chance(state) % 2 == 0 ? " " : "", prefixes[prefix].word, unit);
    }
    mpq_clear(written);
}

START_TEST(right_answers_get_full_marks_in_any_spelling)
{
    uint64_t state = 1;
    for (unsigned turn = 0; turn < 1500; turn++) {
        struct desk desk;
        desk_open(&desk, (enum lesson_kind)(turn % LESSON_KIND_COUNT), 1 + turn % LESSON_LEVEL_MOST, turn);
        for (size_t i = 0; i < desk.count; i++) {
            if (desk.question.quantities[i].asked != NULL) {
                write_right(&desk.texts[i], &desk.question, &desk.question.quantities[i], &state);
                desk.answers[i] = text_string(&desk.texts[i]);
            }
        }
        desk_mark(&desk);
        for (size_t i = 0; i < desk.count; i++) {
            const struct judgement *judgement = &desk.judgements[i];
            ck_assert_msg(desk.answers[i] == NULL || judgement->points == judgement->points_most,
                          "%s level %u: %s = \"%s\" got %u of %u (%s)", lesson_kind_word(desk.question.kind),
                          desk.question.level, desk.question.quantities[i].symbol, desk.answers[i], judgement->points,
                          judgement->points_most, text_string(&judgement->remark));
        }
        desk_close(&desk);
    }
}
END_TEST

/* Off by a unit of the last place asked for, by a share, by the sign, by another unit. */
static void write_wrong(struct text *text, const struct lesson_question *question,
                        const struct lesson_quantity *quantity, unsigned way)
{
    mpq_t wrong;
    mpq_t shift;
    mpq_inits(wrong, shift, NULL);
    long place = exact_exponent(quantity->value) - (long)question->figures + 1;
    mpq_set_ui(shift, 1, 1);
    mpz_ui_pow_ui(place < 0 ? mpq_denref(shift) : mpq_numref(shift), 10, (unsigned long)labs(place));
    if (way == 0 || way == 1) {
        exact_round(wrong, quantity->value, question->figures);
        (way == 0 ? mpq_add : mpq_sub)(wrong, wrong, shift);
        exact_write_decimal(text, wrong, question->figures);
    } else if (way == 2) {
        mpq_set_ui(wrong, 11, 10);
        mpq_mul(wrong, wrong, quantity->value);
        exact_write_fraction(text, wrong);
    } else if (way == 3) {
        mpq_neg(wrong, quantity->value);
        exact_write_decimal(text, wrong, question->figures);
    } else {
        exact_write_decimal(text, quantity->value, question->figures);
        text_add(text, quantity->measure == EXACT_VOLTAGE ? " A" : " V");
    }
    mpq_clears(wrong, shift, NULL);
}

START_TEST(wrong_answers_never_get_full_marks)
{
    for (unsigned turn = 0; turn < 1500; turn++) {
        struct desk desk;
        desk_open(&desk, (enum lesson_kind)(turn % LESSON_KIND_COUNT), 1 + turn % LESSON_LEVEL_MOST, turn);
        for (size_t i = 0; i < desk.count; i++) {
            const struct lesson_quantity *quantity = &desk.question.quantities[i];
            if (quantity->asked == NULL || quantity->measured || lesson_rests_on_reading(&desk.question, i)) {
                continue;
            }
            if (quantity->measure == EXACT_YES_NO) {
                text_add(&desk.texts[i], mpq_sgn(quantity->value) == 0 ? "yes" : "no");
            } else if (quantity->measure >= EXACT_ARROW) {
                const bool arrow = quantity->measure == EXACT_ARROW;
                text_add(&desk.texts[i],
                         mpq_sgn(quantity->value) > 0 ? (arrow ? "falls" : "out") : (arrow ? "rises" : "in"));
            } else if (mpq_sgn(quantity->value) == 0) {
                text_add(&desk.texts[i], "0.001");
            } else {
                /* A ratio and a count have no unit to be wrong in. */
                const unsigned ways = exact_unit(quantity->measure)[0] == '\0' ? 4 : 5;
                write_wrong(&desk.texts[i], &desk.question, quantity, (turn / 3) % ways);
            }
            desk.answers[i] = text_string(&desk.texts[i]); /* this one alone: nothing to follow from */
            desk_mark(&desk);
            ck_assert_msg(desk.judgements[i].points < desk.judgements[i].points_most, "%s: %s = \"%s\" got full marks",
                          lesson_kind_word(desk.question.kind), quantity->symbol, desk.answers[i]);
            desk.answers[i] = NULL;
        }
        desk_close(&desk);
    }
}
END_TEST

static void answer_number(struct desk *desk, size_t index, double value)
{
    text_clear(&desk->texts[index]);
    text_printf(&desk->texts[index], "%.9g", value); /* mpq_get_d cuts, so the last digits are noise */
    desk->answers[index] = text_string(&desk->texts[index]);
}

/* A slip of each kind, worked out here in doubles from the given numbers. */
static void expect_slip(struct desk *desk, size_t index, enum slip slip)
{
    desk_mark(desk);
    ck_assert_msg(desk->judgements[index].slip == slip, "%s: \"%s\" named \"%s\", not \"%s\"",
                  lesson_kind_word(desk->question.kind), desk->answers[index], slip_word(desk->judgements[index].slip),
                  slip_word(slip));
    ck_assert_uint_lt(desk->judgements[index].points, desk->judgements[index].points_most);
    desk_close(desk);
}

START_TEST(slip_added_in_parallel)
{
    struct desk desk;
    desk_open(&desk, LESSON_UNEQUAL, 2, 21);
    size_t index = asked_as(&desk, "resistance of all together");
    double sum = value_at(&desk, symbol_of(&desk, "R1")) + value_at(&desk, symbol_of(&desk, "R2")) +
                 value_at(&desk, symbol_of(&desk, "R3"));
    answer_number(&desk, index, sum);
    expect_slip(&desk, index, SLIP_ADDED);
}
END_TEST

START_TEST(slip_not_inverted)
{
    struct desk desk;
    desk_open(&desk, LESSON_UNEQUAL, 1, 5);
    size_t index = asked_as(&desk, "resistance of all together");
    text_printf(&desk.texts[index], "%.6f",
                1 / value_at(&desk, symbol_of(&desk, "R1")) + 1 / value_at(&desk, symbol_of(&desk, "R2")));
    desk.answers[index] = text_string(&desk.texts[index]);
    expect_slip(&desk, index, SLIP_NOT_INVERTED);
}
END_TEST

START_TEST(slip_halved)
{
    struct desk desk;
    desk_open(&desk, LESSON_EQUAL, 1, 2);
    size_t index = asked_as(&desk, "resistance of all together");
    answer_number(&desk, index, value_at(&desk, symbol_of(&desk, "R1")) / 2);
    expect_slip(&desk, index, SLIP_HALVED);
}
END_TEST

START_TEST(slip_prefix)
{
    struct desk desk;
    desk_open(&desk, LESSON_TRIP, 1, 3);
    size_t index = asked_as(&desk, "total current");
    text_printf(&desk.texts[index], "%.9g", value_at(&desk, index));
    text_add(&desk.texts[index], " mA");
    desk.answers[index] = text_string(&desk.texts[index]);
    desk_mark(&desk);
    ck_assert_int_eq(desk.judgements[index].verdict, MARK_WRONG);
    ck_assert_uint_eq(desk.judgements[index].points, 1);
    expect_slip(&desk, index, SLIP_PREFIX);
}
END_TEST

START_TEST(slip_total_voltage)
{
    struct desk desk;
    desk_open(&desk, LESSON_WIRE, 2, 4);
    size_t index = asked_as(&desk, "power of R1");
    double voltage_v = value_at(&desk, symbol_of(&desk, "V"));
    text_printf(&desk.texts[index], "%.9g", voltage_v * voltage_v / value_at(&desk, symbol_of(&desk, "R1")));
    desk.answers[index] = text_string(&desk.texts[index]);
    expect_slip(&desk, index, SLIP_TOTAL_VOLTAGE);
}
END_TEST

START_TEST(slip_one_way)
{
    struct desk desk;
    desk_open(&desk, LESSON_WIRE, 2, 4);
    size_t index = asked_as(&desk, "resistance of wire and loads");
    answer_number(&desk, index,
                  value_at(&desk, symbol_of(&desk, "R one way")) + value_at(&desk, symbol_of(&desk, "R loads")));
    expect_slip(&desk, index, SLIP_ONE_WAY);
}
END_TEST

START_TEST(slip_not_squared)
{
    struct desk desk;
    desk_open(&desk, LESSON_WIRE, 3, 9);
    size_t index = asked_as(&desk, "power lost in the wire");
    double current_a = value_at(&desk, asked_as(&desk, "total current"));
    answer_number(&desk, index, current_a * value_at(&desk, symbol_of(&desk, "R wire")));
    expect_slip(&desk, index, SLIP_NOT_SQUARED);
}
END_TEST

START_TEST(no_slip_is_named_where_none_fits)
{
    struct desk desk;
    desk_open(&desk, LESSON_UNEQUAL, 2, 21);
    size_t index = asked_as(&desk, "resistance of all together");
    answer_number(&desk, index, value_at(&desk, index) * 1.37);
    desk_mark(&desk);
    ck_assert_int_eq(desk.judgements[index].slip, SLIP_NONE);
    ck_assert_int_eq(desk.judgements[index].verdict, MARK_WRONG);
    desk_close(&desk);
}
END_TEST

/* The total resistance is wrong; current and power follow rightly from it, in the student's own rounding. */
START_TEST(what_follows_from_a_wrong_answer_is_carried)
{
    struct desk desk;
    desk_open(&desk, LESSON_UNEQUAL, 3, 31);
    size_t together = asked_as(&desk, "resistance of all together");
    size_t current = asked_as(&desk, "total current");
    size_t power = asked_as(&desk, "power of all together");
    double voltage_v = value_at(&desk, symbol_of(&desk, "V"));
    double wrong_ohm = 17;
    text_add(&desk.texts[together], "17 ohm");
    text_printf(&desk.texts[current], "%.4g A", voltage_v / wrong_ohm);
    double own_current_a = strtod(text_string(&desk.texts[current]), NULL);
    text_printf(&desk.texts[power], "%.4g W", voltage_v * own_current_a);
    desk.answers[together] = text_string(&desk.texts[together]);
    desk.answers[current] = text_string(&desk.texts[current]);
    desk.answers[power] = text_string(&desk.texts[power]);
    desk_mark(&desk);
    ck_assert_int_eq(desk.judgements[together].verdict, MARK_WRONG);
    ck_assert_int_eq(desk.judgements[current].verdict, MARK_CARRIED);
    ck_assert_int_eq(desk.judgements[power].verdict, MARK_CARRIED);
    ck_assert_uint_eq(desk.judgements[power].points, desk.judgements[power].points_most);
    desk_close(&desk);
}
END_TEST

START_TEST(yes_or_no_follows_from_own_total)
{
    struct desk desk;
    desk_open(&desk, LESSON_TRIP, 1, 8);
    size_t total = asked_as(&desk, "total current");
    size_t over = asked_as(&desk, "is that more than the breaker's rating? (yes or no)");
    bool truly_over = value_at(&desk, over) > 0;
    desk.answers[total] = truly_over ? "1 A" : "99 A";
    desk.answers[over] = truly_over ? "no" : "yes";
    desk_mark(&desk);
    ck_assert_int_eq(desk.judgements[total].verdict, MARK_WRONG);
    ck_assert_int_eq(desk.judgements[over].verdict, MARK_CARRIED);
    desk.answers[total] = NULL;
    desk_mark(&desk);
    ck_assert_int_eq(desk.judgements[over].verdict, MARK_WRONG);
    desk_close(&desk);
}
END_TEST

/* Value right, unit wrong; value right, too many figures; too few. */
START_TEST(value_unit_and_figures_are_judged_apart)
{
    struct desk desk;
    uint64_t seed = 1;
    size_t index = 0;
    for (;; seed++) { /* a question whose answer does not end: 8.333... */
        desk_open(&desk, LESSON_TWO_WAYS, 4, seed);
        for (index = 0; index < desk.count; index++) {
            const struct lesson_quantity *quantity = &desk.question.quantities[index];
            if (quantity->asked != NULL && exact_digits(quantity->value) == 0) {
                break;
            }
        }
        if (index < desk.count) {
            break;
        }
        desk_close(&desk);
    }
    static const struct {
        int figures;
        const char *unit;
        enum mark_verdict verdict;
        bool unit_right;
        bool figures_right;
    } rows[] = {{3, " A", MARK_RIGHT, true, true},
                {3, " V", MARK_RIGHT, false, true},
                {5, " A", MARK_RIGHT, true, false},
                {2, " A", MARK_RIGHT, true, false}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        text_clear(&desk.texts[index]);
        exact_write_decimal(&desk.texts[index], desk.question.quantities[index].value, (unsigned)rows[i].figures);
        text_add(&desk.texts[index], rows[i].unit);
        desk.answers[index] = text_string(&desk.texts[index]);
        desk_mark(&desk);
        ck_assert_msg(desk.judgements[index].verdict == rows[i].verdict, "\"%s\"", desk.answers[index]);
        ck_assert_int_eq(desk.judgements[index].unit_right, rows[i].unit_right);
        ck_assert_int_eq(desk.judgements[index].figures_right, rows[i].figures_right);
    }
    desk_close(&desk);
}
END_TEST

/* Exact values: places that the sheet does not ask for are a fault, fewer of them or a fraction are not. */
START_TEST(zeros_beyond_the_figures_asked_for_lose_their_point)
{
    struct desk desk;
    desk_open(&desk, LESSON_TRIP, 1, 3);
    size_t index = asked_as(&desk, "total current");
    ck_assert_uint_eq(desk.question.figures, 3);
    mpq_set_ui(desk.question.quantities[index].value, 15, 1);
    static const struct {
        const char *answer;
        bool figures_right;
    } rows[] = {{"15 A", true},         {"15.0 A", true},   {"15.0000 A", false}, {"15.00 A", false},
                {"30/2 A", true},       {"15000 mA", true}, {"0.015 kA", true},   {"0.01500 kA", false},
                {"15000.00 mA", false}, {"015.0 A", true}};
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        desk.answers[index] = rows[i].answer;
        desk_mark(&desk);
        ck_assert_int_eq(desk.judgements[index].verdict, MARK_RIGHT);
        ck_assert(desk.judgements[index].unit_right);
        ck_assert_msg(desk.judgements[index].figures_right == rows[i].figures_right, "\"%s\"", rows[i].answer);
    }
    mpq_set_ui(desk.question.quantities[index].value, 61, 4); /* 15.25 needs four figures: in full it is no fault */
    desk.answers[index] = "15.25 A";
    desk_mark(&desk);
    ck_assert_uint_eq(desk.judgements[index].points, desk.judgements[index].points_most);
    desk.answers[index] = "15.250 A";
    desk_mark(&desk);
    ck_assert(!desk.judgements[index].figures_right);
    desk_close(&desk);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("mark");
    TCase *tests = tcase_create("mark");
    tcase_set_timeout(tests, 60);
    tcase_add_test(tests, right_answers_get_full_marks_in_any_spelling);
    tcase_add_test(tests, wrong_answers_never_get_full_marks);
    tcase_add_test(tests, slip_added_in_parallel);
    tcase_add_test(tests, slip_not_inverted);
    tcase_add_test(tests, slip_halved);
    tcase_add_test(tests, slip_prefix);
    tcase_add_test(tests, slip_total_voltage);
    tcase_add_test(tests, slip_one_way);
    tcase_add_test(tests, slip_not_squared);
    tcase_add_test(tests, no_slip_is_named_where_none_fits);
    tcase_add_test(tests, what_follows_from_a_wrong_answer_is_carried);
    tcase_add_test(tests, yes_or_no_follows_from_own_total);
    tcase_add_test(tests, zeros_beyond_the_figures_asked_for_lose_their_point);
    tcase_add_test(tests, value_unit_and_figures_are_judged_apart);
    suite_add_tcase(suite, tests);
    return suite;
}
