/*
 * Judging as the first generator's sheets were judged when they were handed out, so that their marks stay: an answer in
 * the strict form alone, a unit's point for any right unit, no tolerance. Only what was not read then goes to the list
 * that a person decides. Checked: tests/unit/test_lesson_versions.c.
 */
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "judge.h"
#include "slips_first.h"

enum { FIGURES_SHOWN = 12 };

/* What the student's sheet holds so far: own answers where given, what follows from them elsewhere. */
struct own {
    mpq_t *value;      /* question->count entries */
    mpq_srcptr *given; /* the same, as lesson_find takes them */
    bool *known;
    bool *wrong; /* a wrong answer stands somewhere behind it */
};

static void own_init(struct own *own, const struct lesson_question *question)
{
    size_t count = question->count;
    own->value = memory_resize(NULL, count, sizeof *own->value);
    own->given = memory_resize(NULL, count, sizeof *own->given);
    own->known = memory_resize(NULL, count, sizeof *own->known);
    own->wrong = memory_resize(NULL, count, sizeof *own->wrong);
    for (size_t i = 0; i < count; i++) {
        mpq_init(own->value[i]);
        mpq_set(own->value[i], question->quantities[i].value);
        own->given[i] = own->value[i];
        own->known[i] = true;
        own->wrong[i] = false;
    }
}

static void own_done(struct own *own, size_t count)
{
    for (size_t i = 0; i < count; i++) {
        mpq_clear(own->value[i]);
    }
    free(own->value);
    free(own->given);
    free(own->known);
    free(own->wrong);
}

/* Half a unit in the last of `figures` places of `value`; 0 for 0. */
static void half_place(mpq_t ret_half, const mpq_t value, unsigned figures)
{
    long exponent = exact_exponent(value) - (long)figures + 1;
    mpq_set_ui(ret_half, 1, 1);
    mpz_ui_pow_ui(exponent < 0 ? mpq_denref(ret_half) : mpq_numref(ret_half), 10, (unsigned long)labs(exponent));
    mpq_div_2exp(ret_half, ret_half, 1);
}

bool first_agrees(const struct answer *answer, const mpq_t written, const mpq_t value, unsigned figures)
{
    if (mpq_equal(written, value)) {
        return true;
    }
    if (answer->fraction || mpq_sgn(value) == 0) {
        return false;
    }
    unsigned own = answer->figures_least > figures ? answer->figures_least : figures;
    mpq_t half;
    mpq_t difference;
    mpq_init(half);
    mpq_init(difference);
    half_place(half, value, own);
    mpq_sub(difference, written, value);
    mpq_abs(difference, difference);
    bool agrees = mpq_cmp(difference, half) <= 0;
    mpq_clear(half);
    mpq_clear(difference);
    return agrees;
}

/* Places beyond those asked for are a fault, unless the exact value itself needs them: 15.0000 is not 15. */
static bool figures_are_right(const struct answer *answer, const mpq_t written, const mpq_t value, unsigned figures)
{
    if (answer->fraction) {
        return true;
    }
    if (mpq_equal(written, value)) {
        return answer->figures_least <= figures || answer->figures_least <= exact_digits(answer->number);
    }
    return answer->figures_least <= figures && figures <= answer->figures_most;
}

/* The written number in the quantity's own unit. A unit of another quantity leaves the number as it stands. */
static void written_value(mpq_t ret_written, const struct answer *answer, enum exact_quantity measure)
{
    mpq_set(ret_written, answer->number);
    if (answer->has_unit && answer->quantity == measure) {
        mpq_mul(ret_written, ret_written, answer->factor);
    }
}

static bool unit_is_right(const struct lesson_plan *plan, const struct answer *answer, enum exact_quantity measure)
{
    if (!answer->has_unit) {
        return true; /* the sheet names the unit, and a bare number is in that */
    }
    bool other_money = answer->currency[0] != '\0' && strcmp(answer->currency, plan->currency) != 0;
    return answer->quantity == measure && !other_money;
}

static bool operands_wrong(const struct own *own, const size_t *operands, size_t count)
{
    bool wrong = false;
    for (size_t i = 0; i < count; i++) {
        wrong = wrong || own->wrong[operands[i]];
    }
    return wrong;
}

static bool operands_known(const struct own *own, const size_t *operands, size_t count)
{
    bool known = true;
    for (size_t i = 0; i < count; i++) {
        known = known && own->known[operands[i]];
    }
    return known;
}

/* What follows from the student's own earlier numbers, in one of the two ways. */
static bool follows(const struct lesson_question *question, size_t index, bool other, const struct own *own, mpq_t ret,
                    bool *ret_wrong)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    const size_t *operands = other ? quantity->other_operands : quantity->operands;
    size_t count = other ? quantity->other_count : quantity->operand_count;
    if (!operands_known(own, operands, count) || !lesson_find(question, index, other, own->given, ret)) {
        return false;
    }
    *ret_wrong = operands_wrong(own, operands, count);
    return true;
}

/* True where the answer follows from own earlier numbers; ret_wrong: a wrong one is among those. */
static bool agrees_with_own(const struct lesson_question *question, size_t index, const struct own *own,
                            const struct answer *answer, const mpq_t written, mpq_t ret_expected, bool *ret_wrong)
{
    for (int other = 0; other < 2; other++) {
        if (follows(question, index, other == 1, own, ret_expected, ret_wrong) &&
            first_agrees(answer, written, ret_expected, question->figures)) {
            return true;
        }
    }
    return false;
}

static void judge_number(const struct lesson_plan *plan, const struct lesson_question *question, size_t index,
                         const struct own *own, const struct answer *answer, const mpq_t written, struct judgement *ret)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    mpq_t expected;
    mpq_init(expected);
    bool wrong_before = false;
    ret->verdict = MARK_WRONG;
    ret->unit_right = unit_is_right(plan, answer, quantity->measure);
    ret->figures_right = figures_are_right(answer, written, quantity->value, question->figures);
    if (first_agrees(answer, written, quantity->value, question->figures)) {
        ret->verdict = MARK_RIGHT;
    } else if (agrees_with_own(question, index, own, answer, written, expected, &wrong_before)) {
        ret->verdict = wrong_before ? MARK_CARRIED : MARK_RIGHT; /* own rounding on the way is no fault */
        ret->figures_right = figures_are_right(answer, written, expected, question->figures);
    } else {
        ret->slip = first_slip_of(question, index, own->given, answer, written);
        if (ret->slip == SLIP_PREFIX) {
            ret->verdict = MARK_RIGHT; /* the digits are right; the unit's mark is lost instead */
            ret->unit_right = false;
            ret->figures_right = answer->fraction || (answer->figures_least <= question->figures);
        }
    }
    ret->value_right = ret->verdict != MARK_WRONG;
    mpq_clear(expected);
}

enum { VALUE_POINTS = 2, UNIT_POINTS = 1, FIGURES_POINTS = 1 };

static unsigned points_most(const struct lesson_quantity *quantity)
{
    bool number = quantity->measure != EXACT_YES_NO;
    return VALUE_POINTS + (number ? UNIT_POINTS + FIGURES_POINTS : 0);
}

/* Unit and figures only count for a number that is right, or follows rightly. */
static void give_points(const struct lesson_quantity *quantity, struct judgement *judgement)
{
    judgement->points_most = points_most(quantity);
    bool value = judgement->verdict == MARK_RIGHT || judgement->verdict == MARK_CARRIED;
    bool number = quantity->measure != EXACT_YES_NO;
    judgement->points = value ? VALUE_POINTS : 0;
    judgement->points +=
        number && judgement->unit_right && judgement->verdict != MARK_EMPTY && judgement->verdict != MARK_DECIDE
            ? UNIT_POINTS
            : 0;
    judgement->points += number && value && judgement->figures_right ? FIGURES_POINTS : 0;
}

/* The part without an answer: what follows from own numbers stands in for it. */
static void fill_in(const struct lesson_question *question, size_t index, struct own *own)
{
    mpq_t value;
    bool wrong = false;
    mpq_init(value);
    own->known[index] = follows(question, index, false, own, value, &wrong);
    if (own->known[index]) {
        mpq_set(own->value[index], value);
        own->wrong[index] = wrong;
    }
    mpq_clear(value);
}

/* What was read, and what follows from own numbers, for the row. */
static void show(const struct lesson_question *question, size_t index, const struct own *own, const mpq_t written,
                 struct judgement *ret)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    bool wrong = false;
    mpq_t value;
    mpq_init(value);
    exact_figure(&ret->read_as, written, quantity->measure, FIGURES_SHOWN);
    if (follows(question, index, false, own, value, &wrong) && wrong) {
        exact_figure(&ret->from_own, value, quantity->measure, question->figures);
    }
    mpq_clear(value);
}

static void judge(const struct lesson_plan *plan, const struct lesson_question *question, size_t index,
                  const struct answer *answer, struct own *own, struct judgement *ret)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    bool yes_no = quantity->measure == EXACT_YES_NO;
    enum answer_form wanted = yes_no ? ANSWER_WORD : ANSWER_NUMBER;
    ret->verdict = MARK_EMPTY;
    if (answer->form == ANSWER_REFUSED || (answer->form != ANSWER_EMPTY && answer->form != wanted)) {
        ret->verdict = MARK_DECIDE;
        if (answer->form != ANSWER_REFUSED) {
            text_add(&ret->remark, yes_no ? "doubt.yes-or-no" : "doubt.number");
        }
    } else if (answer->form != ANSWER_EMPTY) {
        mpq_t written;
        mpq_init(written);
        written_value(written, answer, quantity->measure);
        show(question, index, own, written, ret);
        judge_number(plan, question, index, own, answer, written, ret);
        mpq_set(own->value[index], written);
        own->known[index] = true;
        own->wrong[index] = !first_agrees(answer, written, quantity->value, question->figures) &&
                            (ret->verdict != MARK_RIGHT || ret->slip != SLIP_NONE);
        mpq_clear(written);
    }
    if (ret->verdict == MARK_EMPTY || ret->verdict == MARK_DECIDE) {
        fill_in(question, index, own);
    }
    give_points(quantity, ret);
}

void mark_question_first(const struct lesson_plan *plan, const struct lesson_question *question,
                         const char *const *answers, struct judgement *ret_judgements)
{
    struct own own;
    struct answer answer;
    own_init(&own, question);
    answer_init(&answer);
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        if (quantity->given) {
            continue;
        }
        if (quantity->asked == NULL) {
            fill_in(question, i, &own);
            continue;
        }
        judgement_clear(&ret_judgements[i]);
        answer_read(answers[i] == NULL ? "" : answers[i], &answer, &ret_judgements[i].remark);
        judge(plan, question, i, &answer, &own, &ret_judgements[i]);
        judge_remark(plan, question, i, NULL, &ret_judgements[i]);
    }
    answer_done(&answer);
    own_done(&own, question->count);
}
