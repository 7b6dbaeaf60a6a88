/* What each kind of step works out, in exact fractions. The formulas stand beside their wording in steps.c. */
#include <assert.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/lesson.h"
#include "ampsum/reference.h"
#include "ampsum/stock.h"
#include "fault.h"

/* Works a step out from its operands; false where it has no value. */
typedef bool (*step_function)(const mpq_srcptr *operands, size_t count, mpq_t ret);

/* a / b */
static bool quotient(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    if (mpq_sgn(operands[1]) == 0) {
        return false;
    }
    mpq_div(ret, operands[0], operands[1]);
    return true;
}

/* a b */
static bool product(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_mul(ret, operands[0], operands[1]);
    return true;
}

/* a b / 1000: W and h to kWh, mohm/m and m to ohm */
static bool product_in_thousands(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    product(operands, count, ret);
    mpz_mul_ui(mpq_denref(ret), mpq_denref(ret), 1000);
    mpq_canonicalize(ret);
    return true;
}

/* a a / b */
static bool square_over(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    if (mpq_sgn(operands[1]) == 0) {
        return false;
    }
    mpq_mul(ret, operands[0], operands[0]);
    mpq_div(ret, ret, operands[1]);
    return true;
}

/* a a b */
static bool square_times(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_mul(ret, operands[0], operands[0]);
    mpq_mul(ret, ret, operands[1]);
    return true;
}

/* a b / c */
static bool share(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    if (mpq_sgn(operands[2]) == 0) {
        return false;
    }
    mpq_mul(ret, operands[0], operands[1]);
    mpq_div(ret, ret, operands[2]);
    return true;
}

static bool sum(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    mpq_set(ret, operands[0]);
    for (size_t i = 1; i < count; i++) {
        mpq_add(ret, ret, operands[i]);
    }
    return true;
}

/* a - b - c ... */
static bool difference(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    mpq_set(ret, operands[0]);
    for (size_t i = 1; i < count; i++) {
        mpq_sub(ret, ret, operands[i]);
    }
    return true;
}

/* |a - b| */
static bool distance(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_sub(ret, operands[0], operands[1]);
    mpq_abs(ret, ret);
    return true;
}

/* 1 / (1/a + 1/b ...), or 1 / (1/a - 1/b ...) */
static bool reciprocals(const mpq_srcptr *operands, size_t count, bool minus, mpq_t ret)
{
    mpq_t total;
    mpq_t one;
    mpq_inits(total, one, NULL);
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
    mpq_clears(total, one, NULL);
    return ok;
}

static bool parallel(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return reciprocals(operands, count, false, ret);
}

static bool missing(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return reciprocals(operands, count, true, ret);
}

static bool twice(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_add(ret, operands[0], operands[0]);
    return true;
}

/* sqrt(a a + b b) */
static bool root_of_squares(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_t square;
    mpq_t other;
    mpq_inits(square, other, NULL);
    mpq_mul(square, operands[0], operands[0]);
    mpq_mul(other, operands[1], operands[1]);
    mpq_add(square, square, other);
    exact_root(ret, square);
    mpq_clears(square, other, NULL);
    return true;
}

/* 1 where a is more than b, else 0 */
static bool is_more(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_set_ui(ret, mpq_cmp(operands[0], operands[1]) > 0 ? 1 : 0, 1);
    return true;
}

static bool the_same(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_set(ret, operands[0]);
    return true;
}

static bool nothing(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)operands;
    (void)count;
    mpq_set_ui(ret, 0, 1);
    return true;
}

static bool fewest_parts(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    return stock_alike_count(operands[0], operands[1], ret);
}

static bool product_by_sum(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return count == 2 && parallel(operands, count, ret);
}

static bool smallest(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    mpq_set(ret, operands[0]);
    for (size_t i = 1; i < count; i++) {
        if (mpq_cmp(operands[i], ret) < 0) {
            mpq_set(ret, operands[i]);
        }
    }
    return true;
}

/* a - a b */
static bool less_a_share(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_mul(ret, operands[0], operands[1]);
    mpq_sub(ret, operands[0], ret);
    return true;
}

/* a + a b */
static bool more_a_share(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_mul(ret, operands[0], operands[1]);
    mpq_add(ret, operands[0], ret);
    return true;
}

/* 1, 0 or -1: b is more than a, the same, less. */
static bool trend(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    const int order = mpq_cmp(operands[1], operands[0]);
    mpq_set_si(ret, order > 0 ? 1 : order < 0 ? -1 : 0, 1);
    return true;
}

/* 1, in, where more is known to flow out; else 0. */
static bool way_missing(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_set_ui(ret, mpq_cmp(operands[1], operands[0]) > 0 ? 1 : 0, 1);
    return true;
}

static bool inverse(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    if (mpq_sgn(operands[0]) == 0) {
        return false;
    }
    mpq_inv(ret, operands[0]);
    return true;
}

/* (a - b) / c */
static bool difference_over(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    if (mpq_sgn(operands[2]) == 0) {
        return false;
    }
    mpq_sub(ret, operands[0], operands[1]);
    mpq_div(ret, ret, operands[2]);
    return true;
}

/* The whole part of a / b. */
static bool whole_quotient(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    bool ok = quotient(operands, count, ret);
    if (ok) {
        mpz_fdiv_q(mpq_numref(ret), mpq_numref(ret), mpq_denref(ret));
        mpz_set_ui(mpq_denref(ret), 1);
    }
    return ok;
}

/* 1 where a is at most b, else 0 */
static bool is_within(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_set_ui(ret, mpq_cmp(operands[0], operands[1]) <= 0 ? 1 : 0, 1);
    return true;
}

/* a (b + c) */
static bool product_of_sum(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_add(ret, operands[1], operands[2]);
    mpq_mul(ret, ret, operands[0]);
    return true;
}

/* Whole metres of a ohm at b milliohm per metre. */
static bool whole_metres(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    bool ok = quotient(operands, count, ret);
    mpz_mul_ui(mpq_numref(ret), mpq_numref(ret), 1000);
    mpz_fdiv_q(mpq_numref(ret), mpq_numref(ret), mpq_denref(ret));
    mpz_set_ui(mpq_denref(ret), 1);
    return ok;
}

static bool four_times(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_mul_2exp(ret, operands[0], 2);
    return true;
}

/* a b + c */
static bool product_and_rest(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_mul(ret, operands[0], operands[1]);
    mpq_add(ret, ret, operands[2]);
    return true;
}

/* Three currents a third of a turn apart: sqrt(a a + b b + c c - a b - b c - a c). */
static bool neutral_of_three(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_t square;
    mpq_t one;
    mpq_inits(square, one, NULL);
    for (size_t i = 0; i < 3; i++) {
        mpq_sub(one, operands[i], operands[(i + 1) % 3]);
        mpq_mul(one, one, operands[i]);
        mpq_add(square, square, one); /* a (a - b) + b (b - c) + c (c - a) */
    }
    exact_root(ret, square);
    mpq_clears(square, one, NULL);
    return true;
}

static bool largest(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    mpq_set(ret, operands[0]);
    for (size_t i = 1; i < count; i++) {
        if (mpq_cmp(operands[i], ret) > 0) {
            mpq_set(ret, operands[i]);
        }
    }
    return true;
}

/* (a - b) / b */
static bool difference_share(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    if (mpq_sgn(operands[1]) == 0) {
        return false;
    }
    mpq_sub(ret, operands[0], operands[1]);
    mpq_div(ret, ret, operands[1]);
    return true;
}

static bool group_now(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    for (size_t i = 0; i < count; i++) {
        if (mpq_sgn(operands[i]) == 0) {
            mpq_set_ui(ret, 0, 1);
            return true;
        }
    }
    return parallel(operands, count, ret);
}

/* sqrt(a b) */
static bool root_of_product(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    mpq_t square;
    mpq_init(square);
    product(operands, count, square);
    const bool ok = mpq_sgn(square) >= 0;
    if (ok) {
        exact_root(ret, square);
    }
    mpq_clear(square);
    return ok;
}

/* sqrt(a / b) */
static bool root_of_quotient(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    mpq_t square;
    mpq_init(square);
    const bool ok = quotient(operands, count, square) && mpq_sgn(square) >= 0;
    if (ok) {
        exact_root(ret, square);
    }
    mpq_clear(square);
    return ok;
}

/* The preferred number of the series E12 with the least difference; the smaller of two as near. */
static bool nearest_e12(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    mpq_t part;
    mpq_t off;
    mpq_t least;
    bool found = false;
    (void)count;
    if (mpq_sgn(operands[0]) <= 0) {
        return false;
    }
    mpq_inits(part, off, least, NULL);
    for (long exponent = exact_exponent(operands[0]); exponent <= exact_exponent(operands[0]) + 1; exponent++) {
        for (size_t i = 0; i < ref_preferred_number_count; i++) {
            if (strcmp(ref_preferred_number_rows[i].series, "E12") != 0) {
                continue;
            }
            exact_set_decimal(part, ref_preferred_number_rows[i].value);
            mpz_ui_pow_ui(exponent < 0 ? mpq_denref(off) : mpq_numref(off), 10, (unsigned long)labs(exponent));
            mpz_set_ui(exponent < 0 ? mpq_numref(off) : mpq_denref(off), 1);
            mpq_mul(part, part, off);
            mpq_sub(off, part, operands[0]);
            mpq_abs(off, off);
            if (!found || mpq_cmp(off, least) < 0) {
                mpq_set(least, off);
                mpq_set(ret, part);
                found = true;
            }
        }
    }
    mpq_clears(part, off, least, NULL);
    return found;
}

/* Steps that no lesson takes have no function. */
static const step_function step_functions[STEP_KIND_COUNT] = {
    [STEP_RESISTANCE_FROM_POWER] = square_over,
    [STEP_RESISTANCE_FROM_CURRENT] = quotient,
    [STEP_CURRENT_FROM_POWER] = quotient,
    [STEP_CURRENT_FROM_APPARENT] = quotient,
    [STEP_CURRENT_FROM_RESISTANCE] = quotient,
    [STEP_POWER_FROM_CURRENT] = product,
    [STEP_APPARENT_FROM_CURRENT] = product,
    [STEP_POWER_FROM_RESISTANCE] = square_over,
    [STEP_POWER_AT_LOADS] = square_over,
    [STEP_POWER_IN_RESISTANCE] = square_times,
    [STEP_VOLTAGE] = product,
    [STEP_UNITS_POWER] = product,
    [STEP_CURRENT_SUM] = sum,
    [STEP_CURRENT_ADDED] = sum,
    [STEP_POWER_SUM] = sum,
    [STEP_POWER_OF_LEG] = sum,
    [STEP_REACTIVE_SUM] = sum,
    [STEP_RESISTANCE_SERIES] = sum,
    [STEP_RESISTANCE_PARALLEL] = parallel,
    [STEP_RESISTANCE_EQUAL] = quotient,
    [STEP_RESISTANCE_MISSING] = missing,
    [STEP_CURRENT_SHARE] = share,
    [STEP_CURRENT_DIFFERENCE] = difference,
    [STEP_VOLTAGE_DIFFERENCE] = difference,
    [STEP_POWER_DIFFERENCE] = difference,
    [STEP_WIRE_BOTH_WAYS] = twice,
    [STEP_NEUTRAL] = distance,
    [STEP_APPARENT_FROM_POWERS] = root_of_squares,
    [STEP_IMPEDANCE] = quotient,
    [STEP_POWER_FACTOR] = quotient,
    [STEP_ACTIVE_FROM_POWER_FACTOR] = product,
    [STEP_PERCENT] = quotient,
    [STEP_ENERGY] = product_in_thousands,
    [STEP_ENERGY_SUM] = sum,
    [STEP_COST] = product,
    [STEP_HEADROOM] = difference,
    [STEP_IS_OVER] = is_more,
    [STEP_UNCHANGED] = the_same,
    [STEP_OPENED] = nothing,
    [STEP_FEWEST_PARTS] = fewest_parts,
    [STEP_PRODUCT_BY_SUM] = product_by_sum,
    [STEP_RESISTANCE_ROW] = sum,
    [STEP_SMALLEST] = smallest,
    [STEP_BOUND_BELOW] = quotient,
    [STEP_LEAST] = less_a_share,
    [STEP_GREATEST] = more_a_share,
    [STEP_TREND] = trend,
    [STEP_FLOWS_IN] = sum,
    [STEP_FLOWS_OUT] = sum,
    [STEP_CURRENT_MISSING] = distance,
    [STEP_WAY_MISSING] = way_missing,
    [STEP_CONDUCTANCE] = inverse,
    [STEP_CONDUCTANCE_TOTAL] = sum,
    [STEP_RESISTANCE_INVERSE] = inverse,
    [STEP_CONDUCTANCE_SHARE] = share,
    [STEP_INTERNAL] = difference_over,
    [STEP_GROUP_PARALLEL] = parallel,
    [STEP_TERMINAL_VOLTAGE] = difference,
    [STEP_UNITS_CURRENT] = product,
    [STEP_CURRENT_LEFT] = difference,
    [STEP_GROUP_VOLTAGE] = difference,
    [STEP_LOADS_WITHIN] = whole_quotient,
    [STEP_CONDUCTOR] = product_in_thousands,
    [STEP_LOOP_CONDUCTORS] = sum,
    [STEP_HOT] = product,
    [STEP_LOOP] = sum,
    [STEP_FAULT_CURRENT] = share,
    [STEP_OPENING_CURRENT] = product,
    [STEP_LARGEST_LOOP] = share,
    [STEP_OPENS] = is_within,
    [STEP_COLD_LIMIT] = product,
    [STEP_TOUCH_VOLTAGE] = product,
    [STEP_LOOP_LEFT] = difference,
    [STEP_PAIR_PER_LENGTH] = product_of_sum,
    [STEP_LONGEST_RUN] = whole_metres,
    [STEP_RING_RUN] = four_times,
    [STEP_PLANNED] = product_and_rest,
    [STEP_CURRENT_OF_SOME] = sum,
    [STEP_GROUP_NOW] = group_now,
    [STEP_NEAREST_E12] = nearest_e12,
    [STEP_VOLTAGE_FROM_POWER] = root_of_product,
    [STEP_CURRENT_IN_RESISTANCE] = root_of_quotient,
    [STEP_NEUTRAL_3] = neutral_of_three,
    [STEP_REASON] = the_same,
    [STEP_KEEPS_WITHIN] = the_same,
    [STEP_LARGEST] = largest,
    [STEP_SAME_VOLTAGE] = the_same,
    [STEP_SAME_FIGURE] = the_same,
    [STEP_FAULT_PART] = lesson_fault_part,
    [STEP_FAULT_KIND] = lesson_fault_kind,
    [STEP_READING] = the_same,
    [STEP_DIFFERENCE_SHARE] = difference_share,
};

bool lesson_step_value(enum step_kind kind, const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    assert(count >= 1 && count <= LESSON_OPERANDS_MOST);
    return step_functions[kind] != NULL && step_functions[kind](operands, count, ret);
}
