/* What each kind of step works out, in exact fractions. The formulas stand beside their wording in steps.c. */
#include <assert.h>

#include "ampsum/lesson.h"
#include "ampsum/stock.h"

typedef const mpq_srcptr *operand_list;

static void sum(operand_list operands, size_t count, bool minus, mpq_t ret)
{
    mpq_set(ret, operands[0]);
    for (size_t i = 1; i < count; i++) {
        if (minus) {
            mpq_sub(ret, ret, operands[i]);
        } else {
            mpq_add(ret, ret, operands[i]);
        }
    }
}

static bool quotient(const mpq_t numerator, const mpq_t denominator, mpq_t ret)
{
    if (mpq_sgn(denominator) == 0) {
        return false;
    }
    mpq_div(ret, numerator, denominator);
    return true;
}

/* a * a op b */
static bool square_over(const mpq_t a, const mpq_t b, mpq_t ret)
{
    mpq_t square;
    mpq_init(square);
    mpq_mul(square, a, a);
    bool ok = quotient(square, b, ret);
    mpq_clear(square);
    return ok;
}

/* 1 / (sum of reciprocals), the first one plus or all others minus. */
static bool reciprocals(operand_list operands, size_t count, bool minus, mpq_t ret)
{
    mpq_t total;
    mpq_t one;
    mpq_init(total);
    mpq_init(one);
    bool ok = true;
    for (size_t i = 0; i < count && ok; i++) {
        ok = mpq_sgn(operands[i]) != 0;
        if (ok) {
            mpq_inv(one, operands[i]);
            (minus && i > 0 ? mpq_sub : mpq_add)(total, total, one);
        }
    }
    ok = ok && mpq_sgn(total) != 0;
    if (ok) {
        mpq_inv(ret, total);
    }
    mpq_clear(total);
    mpq_clear(one);
    return ok;
}

static bool root_of_squares(const mpq_t a, const mpq_t b, mpq_t ret)
{
    mpq_t square;
    mpq_t other;
    mpq_init(square);
    mpq_init(other);
    mpq_mul(square, a, a);
    mpq_mul(other, b, b);
    mpq_add(square, square, other);
    exact_root(ret, square);
    mpq_clear(square);
    mpq_clear(other);
    return true;
}

static bool product(const mpq_t a, const mpq_t b, unsigned long divisor, mpq_t ret)
{
    mpq_mul(ret, a, b);
    if (divisor > 1) {
        mpz_mul_ui(mpq_denref(ret), mpq_denref(ret), divisor);
        mpq_canonicalize(ret);
    }
    return true;
}

static bool share(operand_list operands, mpq_t ret)
{
    mpq_mul(ret, operands[0], operands[1]);
    return quotient(ret, operands[2], ret);
}

static bool squared_times(const mpq_t a, const mpq_t b, mpq_t ret)
{
    mpq_t square;
    mpq_init(square);
    mpq_mul(square, a, a);
    mpq_mul(ret, square, b);
    mpq_clear(square);
    return true;
}

bool lesson_step_value(enum step_kind kind, const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    assert(count >= 1 && count <= LESSON_OPERANDS_MOST);
    switch (kind) {
    case STEP_RESISTANCE_FROM_POWER:
    case STEP_POWER_FROM_RESISTANCE:
        return square_over(operands[0], operands[1], ret);
    case STEP_RESISTANCE_FROM_CURRENT:
    case STEP_CURRENT_FROM_POWER:
    case STEP_CURRENT_FROM_APPARENT:
    case STEP_CURRENT_FROM_RESISTANCE:
    case STEP_RESISTANCE_EQUAL:
    case STEP_IMPEDANCE:
    case STEP_POWER_FACTOR:
    case STEP_PERCENT:
        return quotient(operands[0], operands[1], ret);
    case STEP_POWER_FROM_CURRENT:
    case STEP_APPARENT_FROM_CURRENT:
    case STEP_VOLTAGE:
    case STEP_UNITS_POWER:
    case STEP_ACTIVE_FROM_POWER_FACTOR:
    case STEP_COST:
        return product(operands[0], operands[1], 1, ret);
    case STEP_ENERGY:
        return product(operands[0], operands[1], 1000, ret); /* W h to kWh */
    case STEP_POWER_IN_RESISTANCE:
        return squared_times(operands[0], operands[1], ret);
    case STEP_CURRENT_SUM:
    case STEP_POWER_SUM:
    case STEP_REACTIVE_SUM:
    case STEP_RESISTANCE_SERIES:
    case STEP_ENERGY_SUM:
        sum(operands, count, false, ret);
        return true;
    case STEP_CURRENT_DIFFERENCE:
    case STEP_VOLTAGE_DIFFERENCE:
    case STEP_POWER_DIFFERENCE:
    case STEP_HEADROOM:
        sum(operands, count, true, ret);
        return true;
    case STEP_RESISTANCE_PARALLEL:
        return reciprocals(operands, count, false, ret);
    case STEP_RESISTANCE_MISSING:
        return reciprocals(operands, count, true, ret);
    case STEP_CURRENT_SHARE:
        return share(operands, ret);
    case STEP_WIRE_BOTH_WAYS:
        mpq_add(ret, operands[0], operands[0]);
        return true;
    case STEP_NEUTRAL:
        mpq_sub(ret, operands[0], operands[1]);
        mpq_abs(ret, ret);
        return true;
    case STEP_APPARENT_FROM_POWERS:
        return root_of_squares(operands[0], operands[1], ret);
    case STEP_IS_OVER:
        mpq_set_ui(ret, mpq_cmp(operands[0], operands[1]) > 0 ? 1 : 0, 1);
        return true;
    case STEP_UNCHANGED:
        mpq_set(ret, operands[0]);
        return true;
    case STEP_OPENED:
        mpq_set_ui(ret, 0, 1);
        return true;
    case STEP_FEWEST_PARTS:
        return stock_alike_count(operands[0], operands[1], ret);
    default:
        return false;
    }
}
