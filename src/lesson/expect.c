/* How one answer would be marked: a question of one part, whose value is told. */
#include <stdlib.h>
#include <string.h>

#include "judge.h"
#include "question.h"

static const struct {
    const char *word;
    enum exact_quantity measure;
    int value;
} expect_words[] = {
    {"yes", EXACT_YES_NO, 1},      {"no", EXACT_YES_NO, 0},       {"rises", EXACT_ARROW, 1},
    {"falls", EXACT_ARROW, -1},    {"stays", EXACT_ARROW, 0},     {"in", EXACT_DIRECTION, 1},
    {"out", EXACT_DIRECTION, 0},   {"choice a", EXACT_CHOICE, 1}, {"choice b", EXACT_CHOICE, 2},
    {"choice c", EXACT_CHOICE, 3}, {"choice d", EXACT_CHOICE, 4}, {"choice e", EXACT_CHOICE, 5},
};

static bool expect_word(const char *expect, struct lesson_quantity *quantity)
{
    for (size_t i = 0; i < sizeof expect_words / sizeof expect_words[0]; i++) {
        if (strcmp(expect, expect_words[i].word) == 0) {
            quantity->measure = expect_words[i].measure;
            mpq_set_si(quantity->value, expect_words[i].value, 1);
            return true;
        }
    }
    if ((expect[0] == 'R' || strncmp(expect, "part ", 5) == 0) && strpbrk(expect, "123456789") != NULL) {
        quantity->measure = EXACT_PART;
        mpq_set_si(quantity->value, (int)strtol(strpbrk(expect, "123456789"), NULL, 10), 1);
        return true;
    }
    return false;
}

/* The power of ten of a prefix, or of per cent; 0 for any other factor. */
static int power_of(mpq_srcptr factor)
{
    const long exponent = exact_exponent(factor);
    mpq_t whole;
    mpq_init(whole);
    mpq_set_ui(whole, 1, 1);
    mpz_ui_pow_ui(exponent < 0 ? mpq_denref(whole) : mpq_numref(whole), 10, (unsigned long)labs(exponent));
    const bool power = mpq_equal(factor, whole) != 0;
    mpq_clear(whole);
    return power ? (int)exponent : 0;
}

/* The measure follows from the unit; a bare number is a ratio. `ret_currency` of money. */
static bool expect_number(const char *expect, struct lesson_quantity *quantity, char ret_currency[4])
{
    const struct written_context context = {EXACT_RATIO, '.'};
    struct written written;
    written_init(&written);
    written_read(expect, &context, &written);
    bool ok = written.form == ANSWER_NUMBER && !(written.quantity == EXACT_MONEY && written.currencies == NULL);
    if (ok) {
        quantity->measure = written.has_unit ? written.quantity : EXACT_RATIO;
        mpq_mul(quantity->value, written.way[0].number, written.factor);
        /* the unit that is asked for */
        quantity->power = written.has_unit && written.quantity != EXACT_MONEY ? power_of(written.factor) : 0;
    }
    if (ok && quantity->measure == EXACT_MONEY) {
        memcpy(ret_currency, written.currencies, 3);
    }
    written_done(&written);
    return ok;
}

bool mark_expect(const struct lesson_scheme *scheme, int language, const char *expect, unsigned figures,
                 const char *answer, struct judgement *ret_judgement, struct text *fault)
{
    char currency[4] = "";
    struct lesson_plan plan = {
        .generator = LESSON_GENERATOR_NEXT, .scheme = *scheme, .language = language, .currency = currency};
    struct lesson_quantity quantity = {
        .symbol = "", .subject = "", .given = true, .asked = "", .kind = STEP_NOT_COUNTED};
    struct lesson_question question = {.language = language, .figures = figures, .quantities = &quantity, .count = 1};
    mpq_init(quantity.value);
    bool ok = expect_word(expect, &quantity) || expect_number(expect, &quantity, currency);
    if (ok) {
        judge_alone(&plan, &question, answer, ret_judgement);
    } else {
        text_printf(fault,
                    "\"%s\": expected a number with its unit, such as 12.5 A, or yes, no, rises, falls, stays, "
                    "in, out, choice b",
                    expect);
    }
    mpq_clear(quantity.value);
    return ok;
}
