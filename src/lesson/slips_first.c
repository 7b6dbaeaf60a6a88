#include "slips_first.h"

#include <stdint.h>
#include <stdlib.h>

#include "ampsum/arena.h"

/* What each kind of step becomes with a slip. */
typedef bool (*slip_step)(const mpq_srcptr *operands, size_t count, mpq_t ret);

static bool added(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return lesson_step_value(STEP_RESISTANCE_SERIES, operands, count, ret);
}

static bool added_alike(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return lesson_step_value(STEP_UNITS_POWER, operands, count, ret); /* n times one */
}

/* Total and part taken as if in series: the difference. */
static bool taken_away(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    bool ok = lesson_step_value(STEP_VOLTAGE_DIFFERENCE, operands, count, ret);
    mpq_abs(ret, ret);
    return ok;
}

static bool inverted(enum step_kind kind, const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    bool ok = lesson_step_value(kind, operands, count, ret) && mpq_sgn(ret) != 0;
    if (ok) {
        mpq_inv(ret, ret);
    }
    return ok;
}

static bool not_inverted(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return inverted(STEP_RESISTANCE_PARALLEL, operands, count, ret);
}

static bool not_inverted_alike(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return inverted(STEP_RESISTANCE_EQUAL, operands, count, ret);
}

static bool not_inverted_missing(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return inverted(STEP_RESISTANCE_MISSING, operands, count, ret);
}

static bool halved(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_div_2exp(ret, operands[0], 1);
    return true;
}

/* Half the mean: the rule for two alike, put on several that are not. */
static bool halved_mean(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    mpq_t number;
    mpq_init(number);
    bool ok = added(operands, count, ret);
    mpq_set_ui(number, 2 * count, 1);
    mpq_div(ret, ret, number);
    mpq_clear(number);
    return ok;
}

static bool not_squared_over(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return lesson_step_value(STEP_CURRENT_FROM_RESISTANCE, operands, count, ret); /* a / b for a^2 / b */
}

static bool not_squared_times(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return lesson_step_value(STEP_VOLTAGE, operands, count, ret); /* a b for a^2 b */
}

static const struct {
    enum step_kind kind;
    enum slip slip;
    slip_step step;
} slip_rows[] = {
    {STEP_RESISTANCE_PARALLEL, SLIP_ADDED, added},
    {STEP_RESISTANCE_PARALLEL, SLIP_NOT_INVERTED, not_inverted},
    {STEP_RESISTANCE_PARALLEL, SLIP_HALVED, halved_mean},
    {STEP_RESISTANCE_EQUAL, SLIP_ADDED, added_alike},
    {STEP_RESISTANCE_EQUAL, SLIP_NOT_INVERTED, not_inverted_alike},
    {STEP_RESISTANCE_EQUAL, SLIP_HALVED, halved},
    {STEP_RESISTANCE_MISSING, SLIP_ADDED, taken_away},
    {STEP_RESISTANCE_MISSING, SLIP_NOT_INVERTED, not_inverted_missing},
    {STEP_POWER_FROM_RESISTANCE, SLIP_NOT_SQUARED, not_squared_over},
    {STEP_POWER_AT_LOADS, SLIP_NOT_SQUARED, not_squared_over},
    {STEP_RESISTANCE_FROM_POWER, SLIP_NOT_SQUARED, not_squared_over},
    {STEP_POWER_IN_RESISTANCE, SLIP_NOT_SQUARED, not_squared_times},
};

/* The slips that fit so far: one bit each. */
static void note(uint64_t *fits, enum slip slip, bool agrees)
{
    *fits |= agrees ? UINT64_C(1) << slip : 0;
}

static bool is_power_of_thousand_off(const struct answer *answer, const mpq_t written, const mpq_t value,
                                     unsigned figures)
{
    bool off = false;
    mpq_t scaled;
    mpq_init(scaled);
    for (long power = -9; power <= 9 && !off; power += 3) {
        mpq_set_ui(scaled, 1, 1);
        mpz_ui_pow_ui(power < 0 ? mpq_denref(scaled) : mpq_numref(scaled), 10, (unsigned long)labs(power));
        mpq_mul(scaled, scaled, value);
        off = power != 0 && mpq_sgn(value) != 0 && first_agrees(answer, written, scaled, figures);
    }
    mpq_clear(scaled);
    return off;
}

/* Slips of the step itself, from the true operands and from the student's own. */
static void try_step(const struct lesson_question *question, size_t index, const mpq_srcptr *own,
                     const struct answer *answer, const mpq_t written, uint64_t *fits)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    mpq_srcptr operands[LESSON_OPERANDS_MOST];
    mpq_t value;
    mpq_init(value);
    for (int whose = 0; whose < 2; whose++) {
        for (size_t i = 0; i < quantity->operand_count; i++) {
            size_t operand = quantity->operands[i];
            operands[i] = whose == 0 ? question->quantities[operand].value : own[operand];
        }
        for (size_t i = 0; i < sizeof slip_rows / sizeof slip_rows[0]; i++) {
            if (slip_rows[i].kind == quantity->kind && slip_rows[i].step(operands, quantity->operand_count, value)) {
                note(fits, slip_rows[i].slip, first_agrees(answer, written, value, question->figures));
            }
        }
    }
    mpq_clear(value);
}

/* Takes one quantity for another and works out all that follows, up to `index`. */
static void try_swap(const struct lesson_question *question, size_t index, const struct lesson_swap *swap,
                     const struct answer *answer, const mpq_t written, uint64_t *fits)
{
    if (index < swap->meant) {
        return;
    }
    mpq_t *value = memory_resize(NULL, question->count, sizeof *value);
    mpq_srcptr *values = memory_resize(NULL, question->count, sizeof *values);
    bool ok = true;
    for (size_t i = 0; i < question->count; i++) {
        mpq_init(value[i]);
        mpq_set(value[i], question->quantities[i].value);
        values[i] = value[i];
    }
    mpq_set(value[swap->meant], question->quantities[swap->taken].value);
    for (size_t i = swap->meant + 1; i <= index && ok; i++) {
        ok = question->quantities[i].given || lesson_find(question, i, false, values, value[i]);
    }
    bool differs = !mpq_equal(value[index], question->quantities[index].value);
    note(fits, swap->slip, ok && differs && first_agrees(answer, written, value[index], question->figures));
    for (size_t i = 0; i < question->count; i++) {
        mpq_clear(value[i]);
    }
    free(value);
    free(values);
}

enum slip first_slip_of(const struct lesson_question *question, size_t index, const mpq_srcptr *own,
                        const struct answer *answer, const mpq_t written)
{
    uint64_t fits = 0;
    if (question->quantities[index].measure == EXACT_YES_NO) {
        return SLIP_NONE;
    }
    note(&fits, SLIP_PREFIX,
         is_power_of_thousand_off(answer, written, question->quantities[index].value, question->figures));
    try_step(question, index, own, answer, written, &fits);
    for (size_t i = 0; i < question->swap_count; i++) {
        try_swap(question, index, &question->swaps[i], answer, written, &fits);
    }
    for (int slip = SLIP_NONE + 1; slip < SLIP_COUNT; slip++) {
        if (fits == UINT64_C(1) << slip) {
            return (enum slip)slip;
        }
    }
    return SLIP_NONE;
}
