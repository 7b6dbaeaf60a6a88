/* Every slip is recognised from an answer that was made up by making it; worked out here in doubles from the sheet. */
#include "runner.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/mark.h"
#include "mark_plan.h"
#include "said.h"

/* `=`: what stays, whatever it is called there. */
static const struct lesson_quantity *named(const struct lesson_question *question, const char *symbol)
{
    for (size_t i = 0; i < question->count; i++) {
        const bool stays =
            symbol[0] == '=' && question->quantities[i].kind == STEP_UNCHANGED && !question->quantities[i].given;
        if (stays || is_said(question->quantities[i].symbol, symbol)) {
            return &question->quantities[i];
        }
    }
    ck_abort_msg("no %s in %s", symbol, lesson_kind_word(question->kind));
    return NULL;
}

static double v(const struct lesson_question *question, const char *symbol)
{
    return mpq_get_d(named(question, symbol)->value);
}

typedef double (*made)(const struct lesson_question *question);

static double sum_of_two(const struct lesson_question *q)
{
    return v(q, "R1") + v(q, "R2");
}

static double product_of_two(const struct lesson_question *q)
{
    return v(q, "R1") * v(q, "R2");
}

static double half_mean(const struct lesson_question *q)
{
    return (v(q, "R1") + v(q, "R2")) / 4;
}

static double reciprocal_sum(const struct lesson_question *q)
{
    return 1 / v(q, "R1") + 1 / v(q, "R2");
}

static double volts_times_ohms(const struct lesson_question *q)
{
    return v(q, "V") * v(q, "R");
}

static double all_alike_added(const struct lesson_question *q)
{
    return v(q, "n") * v(q, "R1");
}

static double alike_upside_down(const struct lesson_question *q)
{
    return v(q, "n") / v(q, "R1");
}

static double missing_upside_down(const struct lesson_question *q)
{
    return 1 / v(q, "R1");
}

static double volts_times_first(const struct lesson_question *q)
{
    return v(q, "V") * v(q, "R1");
}

static double first_in_milli(const struct lesson_question *q)
{
    return v(q, "I1") / 1000;
}

static double missing_turned(const struct lesson_question *q)
{
    return -v(q, "I missing");
}

static double half_of_one(const struct lesson_question *q)
{
    return v(q, "R1") / 2;
}

static double difference(const struct lesson_question *q)
{
    return fabs(v(q, "R") - v(q, "R2"));
}

static double share_turned(const struct lesson_question *q)
{
    return v(q, "I") * v(q, "R1") / v(q, "R");
}

static double current_2(const struct lesson_question *q)
{
    return v(q, "I2");
}

static double total_current(const struct lesson_question *q)
{
    return v(q, "I");
}

static double opened_current(const struct lesson_question *q)
{
    return mpq_get_d(q->quantities[named(q, "I open")->operands[0]].value);
}

static double power_times_ohms(const struct lesson_question *q)
{
    return v(q, "P1") * v(q, "R1");
}

static double before(const struct lesson_question *q)
{
    return v(q, "I before");
}

static double any_other(const struct lesson_question *q)
{
    return v(q, "I1") * 1.37;
}

static double legs_added(const struct lesson_question *q)
{
    return v(q, "I A") + v(q, "I B");
}

static double kilowatts(const struct lesson_question *q)
{
    return v(q, "P1") / 1000;
}

static double watt_hours(const struct lesson_question *q)
{
    return v(q, "P1") * v(q, "t1");
}

static double energy(const struct lesson_question *q)
{
    return v(q, "E1");
}

static double powers_added(const struct lesson_question *q)
{
    return v(q, "P1") + v(q, "Q1");
}

static double root_of_powers(const struct lesson_question *q)
{
    return sqrt(v(q, "P1") + v(q, "Q1"));
}

static double watts_times_volts(const struct lesson_question *q)
{
    return v(q, "P1") * v(q, "V");
}

static double loads_in_parallel(const struct lesson_question *q)
{
    return 1 / (1 / v(q, "R wire") + 1 / v(q, "R loads"));
}

static double one_way(const struct lesson_question *q)
{
    return v(q, "R one way");
}

static double volts_over_ohms(const struct lesson_question *q)
{
    return v(q, "V loads") / v(q, "R1");
}

static double at_full_voltage(const struct lesson_question *q)
{
    return v(q, "V") * v(q, "V") / v(q, "R1");
}

static double negative(const struct lesson_question *q)
{
    return -v(q, "I");
}

static double total_power(const struct lesson_question *q)
{
    return v(q, "P");
}

static double in_milli(const struct lesson_question *q)
{
    return v(q, "I") / 1000;
}

static double conductance(const struct lesson_question *q)
{
    return v(q, "G");
}

static double load_alone(const struct lesson_question *q)
{
    return v(q, "V") / v(q, "R");
}

static double lost_inside(const struct lesson_question *q)
{
    return v(q, "V inside");
}

static double greatest(const struct lesson_question *q)
{
    return v(q, "R greatest");
}

static double least_twice(const struct lesson_question *q)
{
    return v(q, "R") * (1 - 2 * v(q, "tolerance"));
}

static double all_currents(const struct lesson_question *q)
{
    return v(q, "I1") + v(q, "I2");
}

static double one_more(const struct lesson_question *q)
{
    return v(q, "n") + 1;
}

static double source_voltage(const struct lesson_question *q)
{
    return v(q, "V");
}

static double front_in_parallel(const struct lesson_question *q)
{
    return 1 / (1 / v(q, "R1") + 1 / v(q, "R group"));
}

static double rest_a(const struct lesson_question *q)
{
    return v(q, "planning") - v(q, "factor") * v(q, "I long");
}

static double factor_on_everything(const struct lesson_question *q)
{
    return v(q, "factor") * (v(q, "I long") + rest_a(q));
}

static double no_factor(const struct lesson_question *q)
{
    return v(q, "I long") + rest_a(q);
}

static double phases_added(const struct lesson_question *q)
{
    return v(q, "I L1") + v(q, "I L2") + v(q, "I L3");
}

static const struct {
    enum lesson_kind kind;
    unsigned level;
    const char *symbol; /* of what is answered */
    made make;
    enum slip slip;
} rows[] = {
    {LESSON_UNEQUAL, 1, "R", sum_of_two, SLIP_ADDED},
    {LESSON_UNEQUAL, 1, "R", product_of_two, SLIP_PRODUCT_ONLY},
    {LESSON_UNEQUAL, 1, "R", half_mean, SLIP_HALVED},
    {LESSON_UNEQUAL, 1, "R", reciprocal_sum, SLIP_NOT_INVERTED},
    {LESSON_UNEQUAL, 1, "I", volts_times_ohms, SLIP_MULTIPLIED},
    {LESSON_UNEQUAL, 1, "I", negative, SLIP_SIGN},
    {LESSON_UNEQUAL, 1, "I", in_milli, SLIP_PREFIX},
    {LESSON_EQUAL, 1, "R", half_of_one, SLIP_HALVED},
    {LESSON_EQUAL, 1, "R", all_alike_added, SLIP_ADDED},
    {LESSON_EQUAL, 1, "R", alike_upside_down, SLIP_NOT_INVERTED},
    {LESSON_EQUAL, 1, "I", volts_times_ohms, SLIP_MULTIPLIED},
    {LESSON_TWO_WAYS, 1, "R", sum_of_two, SLIP_ADDED},
    {LESSON_TWO_WAYS, 1, "R", reciprocal_sum, SLIP_NOT_INVERTED},
    {LESSON_TWO_WAYS, 1, "R", half_mean, SLIP_HALVED},
    {LESSON_TWO_WAYS, 1, "I1", volts_times_first, SLIP_MULTIPLIED},
    {LESSON_FIND_ONE, 1, "R1", difference, SLIP_SERIES_AS_PARALLEL},
    {LESSON_FIND_ONE, 1, "R1", missing_upside_down, SLIP_NOT_INVERTED},
    {LESSON_DIVIDE, 1, "I1", current_2, SLIP_WRONG_PATH},
    {LESSON_DIVIDE, 2, "I1", share_turned, SLIP_SWAPPED},
    {LESSON_DIVIDE, 2, "I2", total_current, SLIP_TOTAL_CURRENT},
    {LESSON_TABLE, 3, "P2", total_power, SLIP_TOTAL_FOR_PART},
    {LESSON_OPEN, 1, "I open", opened_current, SLIP_OPEN_CARRIES},
    {LESSON_OPEN, 1, "I after", before, SLIP_OPEN_CARRIES},
    {LESSON_OPEN, 1, "=", any_other, SLIP_ALL_CHANGE},
    {LESSON_CHANGE, 2, "I after", before, SLIP_OPEN_CARRIES},
    {LESSON_CHANGE, 1, "=", any_other, SLIP_ALL_CHANGE},
    {LESSON_NEUTRAL, 1, "I N", legs_added, SLIP_ALL_ADDED},
    {LESSON_ENERGY, 1, "E1", kilowatts, SLIP_HOURS_LEFT_OUT},
    {LESSON_ENERGY, 1, "E1", watt_hours, SLIP_WATTS_FOR_KILOWATTS},
    {LESSON_ENERGY, 1, "cost", energy, SLIP_PRICE_LEFT_OUT},
    {LESSON_POWER_FACTOR, 1, "S", powers_added, SLIP_ALL_ADDED},
    {LESSON_POWER_FACTOR, 1, "S", root_of_powers, SLIP_NOT_SQUARED},
    {LESSON_TRIP, 1, "I1", watts_times_volts, SLIP_MULTIPLIED},
    {LESSON_WIRE, 1, "R", loads_in_parallel, SLIP_SERIES_AS_PARALLEL},
    {LESSON_WIRE, 1, "R wire", one_way, SLIP_ONE_WAY},
    {LESSON_WIRE, 1, "P1", volts_over_ohms, SLIP_NOT_SQUARED},
    {LESSON_WIRE, 1, "P1", at_full_voltage, SLIP_TOTAL_VOLTAGE},
    {LESSON_PRODUCT_SUM, 1, "R12", product_of_two, SLIP_PRODUCT_ONLY},
    {LESSON_PRODUCT_SUM, 1, "R12", reciprocal_sum, SLIP_SUM_OVER_PRODUCT},
    {LESSON_CONDUCTANCE, 1, "R", conductance, SLIP_NOT_INVERTED},
    {LESSON_INTERNAL, 1, "I", load_alone, SLIP_R_LEFT_OUT},
    {LESSON_INTERNAL, 1, "V loaded", lost_inside, SLIP_DROP_FOR_TERMINAL},
    {LESSON_TOLERANCE, 1, "R least", greatest, SLIP_ENDS_SWAPPED},
    {LESSON_TOLERANCE, 1, "R least", least_twice, SLIP_DOUBLED},
    {LESSON_JUNCTION, 1, "I missing", all_currents, SLIP_ALL_ADDED},
    {LESSON_JUNCTION, 1, "I missing", missing_turned, SLIP_SIGN},
    {LESSON_BOUNDS, 1, "R", sum_of_two, SLIP_ADDED},
    {LESSON_PREFIXES, 1, "I1", first_in_milli, SLIP_PREFIX},
    {LESSON_WITHIN, 1, "n", one_more, SLIP_ROUNDED_UP},
    {LESSON_LADDER, 1, "V group", source_voltage, SLIP_TOTAL_VOLTAGE},
    {LESSON_LADDER, 1, "R", front_in_parallel, SLIP_SERIES_AS_PARALLEL},
    {LESSON_LADDER, 2, "R first", sum_of_two, SLIP_ADDED},
    {LESSON_LADDER, 3, "V group", source_voltage, SLIP_TOTAL_VOLTAGE},
    {LESSON_LADDER, 2, "I3", total_current, SLIP_TOTAL_CURRENT},
    {LESSON_ONE_READING, 2, "V", power_times_ohms, SLIP_NOT_SQUARED},
    {LESSON_CONTINUOUS, 2, "planning", factor_on_everything, SLIP_FACTOR_ON_ALL},
    {LESSON_CONTINUOUS, 2, "planning", no_factor, SLIP_FACTOR_LEFT_OUT},
    {LESSON_THREE_NEUTRAL, 1, "I N", phases_added, SLIP_ALL_ADDED},
};

/* Several seeds: where chance makes two slips meet in one number none is named, but mostly one stands alone. */
START_TEST(each_slip_is_named_from_its_number)
{
    enum { SEEDS = 12, NAMED_LEAST = 9 };
    unsigned found = 0;
    for (uint64_t seed = 1; seed <= SEEDS; seed++) {
        struct lesson_plan plan = make_plan(seed, rows[_i].level, 1);
        struct lesson_question question;
        lesson_question_init(&question);
        lesson_question_make(&plan, 1, rows[_i].kind, &question);
        const size_t index = (size_t)(named(&question, rows[_i].symbol) - question.quantities);
        const char **answers = calloc(question.count, sizeof *answers);
        struct judgement *judgements = calloc(question.count, sizeof *judgements);
        struct text answer = {0};
        text_printf(&answer, "%.6g", rows[_i].make(&question));
        answers[index] = text_string(&answer);
        mark_question(&plan, &question, answers, judgements);
        found += judgements[index].slip == rows[_i].slip;
        ck_assert_msg(judgements[index].points < judgements[index].points_most, "%s: \"%s\" is full",
                      lesson_kind_word(question.kind), answers[index]);
        for (size_t i = 0; i < question.count; i++) {
            judgement_done(&judgements[i]);
        }
        free((void *)answers);
        free(judgements);
        text_done(&answer);
        lesson_question_done(&question);
        lesson_plan_done(&plan);
    }
    ck_assert_msg(found >= NAMED_LEAST, "%s %s: %s named %u times of %d", lesson_kind_word(rows[_i].kind),
                  rows[_i].symbol, slip_word(rows[_i].slip), found, SEEDS);
}
END_TEST

static size_t index_of(const struct lesson_question *question, const char *symbol)
{
    return (size_t)(named(question, symbol) - question->quantities);
}

/* Marks answers of which all but one or two are NULL; the slip that is named of the one at `index`. */
static enum slip slip_at(const struct lesson_plan *plan, const struct lesson_question *question, size_t index,
                         const char *const *answers, unsigned *ret_points)
{
    struct judgement *judgements = calloc(question->count, sizeof *judgements);
    mark_question(plan, question, answers, judgements);
    const enum slip slip = judgements[index].slip;
    *ret_points = judgements[index].points;
    for (size_t i = 0; i < question->count; i++) {
        judgement_done(&judgements[i]);
    }
    free(judgements);
    return slip;
}

/* Marks one answer, with a reading beside it where `reading` is not NULL; the slip that was named. */
static enum slip slip_with(const struct lesson_plan *plan, const struct lesson_question *question, const char *symbol,
                           const char *answer, const char *reading, const char *read, unsigned *ret_points)
{
    const char **answers = calloc(question->count, sizeof *answers);
    const size_t index = index_of(question, symbol);
    answers[index] = answer;
    if (reading != NULL) {
        /* the example has the same symbol; the reading follows it */
        answers[index_of(question, reading) + 1] = read;
    }
    const enum slip slip = slip_at(plan, question, index, answers, ret_points);
    free((void *)answers);
    return slip;
}

/* The difference follows from what the student read, not from the key's example: 5 % above what was computed. */
START_TEST(a_difference_follows_from_the_own_reading)
{
    enum { SEEDS = 12 };
    for (uint64_t seed = 1; seed <= SEEDS; seed++) {
        struct lesson_plan plan = make_plan(seed, 1, 1);
        struct lesson_question question;
        struct text read = {0};
        unsigned points;
        lesson_question_init(&question);
        lesson_question_make(&plan, 1, LESSON_LAB, &question);
        text_printf(&read, "%.10g A", 1.25 * v(&question, "I"));
        ck_assert_int_eq(slip_with(&plan, &question, "difference", "25 %", "I read", text_string(&read), &points),
                         SLIP_NONE);
        ck_assert_uint_eq(points, 3);
        ck_assert_int_eq(slip_with(&plan, &question, "difference", "20 %", "I read", text_string(&read), &points),
                         SLIP_SWAPPED_BASE);
        ck_assert_uint_eq(points, 0);
        ck_assert_int_eq(slip_with(&plan, &question, "difference", "-25 %", "I read", text_string(&read), &points),
                         SLIP_SIGN);
        slip_with(&plan, &question, "difference", "25 %", NULL, NULL, &points);
        ck_assert_uint_eq(points, 0); /* nothing was read that it could follow from */
        text_done(&read);
        lesson_question_done(&question);
        lesson_plan_done(&plan);
    }
}
END_TEST

START_TEST(open_and_short_are_told_apart)
{
    enum { SEEDS = 12 };
    for (uint64_t seed = 1; seed <= SEEDS; seed++) {
        struct lesson_plan plan = make_plan(seed, 1, 1);
        struct lesson_question question;
        unsigned points;
        lesson_question_init(&question);
        lesson_question_make(&plan, 1, LESSON_FAULT, &question);
        const bool open = v(&question, "fault") == 1;
        ck_assert_int_eq(slip_with(&plan, &question, "fault", open ? "b" : "a", NULL, NULL, &points),
                         SLIP_OPEN_FOR_SHORT);
        ck_assert_uint_eq(points, 0);
        ck_assert_int_eq(slip_with(&plan, &question, "fault", open ? "a" : "b", NULL, NULL, &points), SLIP_NONE);
        ck_assert_uint_eq(points, 2);
        ck_assert_int_eq(slip_with(&plan, &question, "fault", "c", NULL, NULL, &points), SLIP_NONE);
        lesson_question_done(&question);
        lesson_plan_done(&plan);
    }
}
END_TEST

/* What stays was changed; in for out. */
START_TEST(slips_in_words_are_named)
{
    static const struct {
        enum lesson_kind kind;
        enum exact_quantity measure;
        long value; /* that the answer has, on the sheets that are looked at */
        const char *answer;
        enum slip slip;
    } words[] = {{LESSON_ARROWS, EXACT_ARROW, 0, "rises", SLIP_ALL_CHANGE},
                 {LESSON_ARROWS, EXACT_ARROW, 0, "falls", SLIP_ALL_CHANGE},
                 {LESSON_ARROWS, EXACT_ARROW, 1, "falls", SLIP_NONE},
                 {LESSON_JUNCTION, EXACT_DIRECTION, 1, "out", SLIP_SIGN},
                 {LESSON_JUNCTION, EXACT_DIRECTION, 0, "in", SLIP_SIGN}};
    enum { SEEDS = 12 };
    unsigned looked_at = 0;
    for (uint64_t seed = 1; seed <= SEEDS; seed++) {
        struct lesson_plan plan = make_plan(seed, 2, 1);
        struct lesson_question question;
        unsigned points = 0;
        lesson_question_init(&question);
        lesson_question_make(&plan, 1, words[_i].kind, &question);
        for (size_t i = 0; i < question.count; i++) {
            const struct lesson_quantity *quantity = &question.quantities[i];
            if (quantity->asked == NULL || quantity->measure != words[_i].measure ||
                mpq_cmp_si(quantity->value, words[_i].value, 1) != 0) {
                continue;
            }
            const char **answers = calloc(question.count, sizeof *answers);
            answers[i] = words[_i].answer;
            ck_assert_int_eq(slip_at(&plan, &question, i, answers, &points), words[_i].slip);
            ck_assert_uint_eq(points, 0);
            free((void *)answers);
            looked_at++;
        }
        lesson_question_done(&question);
        lesson_plan_done(&plan);
    }
    ck_assert_uint_gt(looked_at, 0);
}
END_TEST

/* Every slip has a name and says what was done; no two share a name. */
START_TEST(slips_have_names)
{
    for (int slip = SLIP_NONE + 1; slip < SLIP_COUNT; slip++) {
        ck_assert_uint_gt(strlen(slip_word((enum slip)slip)), 0);
        ck_assert_uint_gt(strlen(slip_about(LANGUAGE_ENGLISH, (enum slip)slip)), 0);
        for (int other = SLIP_NONE; other < slip; other++) {
            ck_assert_str_ne(slip_word((enum slip)slip), slip_word((enum slip)other));
        }
    }
}
END_TEST

START_TEST(a_place_cut_off_is_named)
{
    struct lesson_scheme scheme;
    struct text fault = {0};
    static const struct {
        const char *expect;
        const char *written;
        enum slip slip;
    } cuts[] = {{"2/3 A", "0.666 A", SLIP_CUT},
                {"2/3 A", "0.667 A", SLIP_NONE},
                {"2/3 A", "0.665 A", SLIP_NONE},
                {"12.58 A", "12.5 A", SLIP_CUT}};
    lesson_scheme_usual(&scheme);
    for (size_t i = 0; i < sizeof cuts / sizeof cuts[0]; i++) {
        struct judgement judgement = {0};
        ck_assert(mark_expect(&scheme, LANGUAGE_ENGLISH, cuts[i].expect, 3, cuts[i].written, &judgement, &fault));
        ck_assert_msg(judgement.slip == cuts[i].slip, "%s: %s", cuts[i].written, slip_word(judgement.slip));
        judgement_done(&judgement);
    }
    text_done(&fault);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("slips");
    TCase *tests = tcase_create("slips");
    tcase_add_loop_test(tests, each_slip_is_named_from_its_number, 0, sizeof rows / sizeof rows[0]);
    tcase_add_test(tests, a_difference_follows_from_the_own_reading);
    tcase_add_test(tests, open_and_short_are_told_apart);
    tcase_add_loop_test(tests, slips_in_words_are_named, 0, 5);
    tcase_add_test(tests, slips_have_names);
    tcase_add_test(tests, a_place_cut_off_is_named);
    suite_add_tcase(suite, tests);
    return suite;
}
