#include "slips.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "fault.h"

/* Their sentences are rows of [slip] and [slip-name]. */
static const char *const slip_words[SLIP_COUNT] = {
    [SLIP_NONE] = "",
    [SLIP_ADDED] = "parallel-added",
    [SLIP_NOT_INVERTED] = "not-inverted",
    [SLIP_HALVED] = "halved",
    [SLIP_PREFIX] = "prefix",
    [SLIP_TOTAL_VOLTAGE] = "total-voltage",
    [SLIP_ONE_WAY] = "one-way",
    [SLIP_NOT_SQUARED] = "not-squared",
    [SLIP_SERIES_AS_PARALLEL] = "series-as-parallel",
    [SLIP_PRODUCT_ONLY] = "product-only",
    [SLIP_SUM_OVER_PRODUCT] = "sum-over-product",
    [SLIP_TOTAL_CURRENT] = "total-current",
    [SLIP_TOTAL_FOR_PART] = "total-for-part",
    [SLIP_WRONG_PATH] = "wrong-path",
    [SLIP_SWAPPED] = "swapped",
    [SLIP_MULTIPLIED] = "multiplied",
    [SLIP_OPEN_CARRIES] = "open-carries",
    [SLIP_ALL_CHANGE] = "all-change",
    [SLIP_OPEN_FOR_SHORT] = "open-for-short",
    [SLIP_ALL_ADDED] = "all-added",
    [SLIP_SIGN] = "sign",
    [SLIP_R_LEFT_OUT] = "r-left-out",
    [SLIP_DROP_FOR_TERMINAL] = "drop-for-terminal",
    [SLIP_HOURS_LEFT_OUT] = "hours-left-out",
    [SLIP_WATTS_FOR_KILOWATTS] = "watts-for-kilowatts",
    [SLIP_PRICE_LEFT_OUT] = "price-left-out",
    [SLIP_FACTOR_ON_ALL] = "factor-on-all",
    [SLIP_FACTOR_LEFT_OUT] = "factor-left-out",
    [SLIP_ENDS_SWAPPED] = "ends-swapped",
    [SLIP_DOUBLED] = "doubled",
    [SLIP_SWAPPED_BASE] = "swapped-base",
    [SLIP_ROUNDED_UP] = "rounded-up",
    [SLIP_CUT] = "cut",
};

const char *slip_word(enum slip slip)
{
    return slip_words[slip];
}

static const char *row_of(int language, const char *section, enum slip slip)
{
    struct text key = {0};
    text_printf(&key, "%s.%s", section, slip_word(slip));
    const char *row = slip == SLIP_NONE ? "" : say_plain(language, text_string(&key));
    text_done(&key);
    return row;
}

const char *slip_about(int language, enum slip slip)
{
    return row_of(language, "slip", slip);
}

const char *slip_name(int language, enum slip slip)
{
    return row_of(language, "slip-name", slip);
}

/* What each kind of step becomes with a slip. */
typedef bool (*slip_step)(const mpq_srcptr *operands, size_t count, mpq_t ret);

static bool as_step(enum step_kind kind, const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return lesson_step_value(kind, operands, count, ret);
}

static bool added(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return as_step(STEP_RESISTANCE_SERIES, operands, count, ret);
}

static bool multiplied(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return as_step(STEP_VOLTAGE, operands, count, ret); /* a b; n times one */
}

static bool in_parallel(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return as_step(STEP_RESISTANCE_PARALLEL, operands, count, ret);
}

/* Total and part taken as if in series: the difference. */
static bool taken_away(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    bool ok = as_step(STEP_VOLTAGE_DIFFERENCE, operands, count, ret);
    mpq_abs(ret, ret);
    return ok;
}

static bool inverted(enum step_kind kind, const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    bool ok = as_step(kind, operands, count, ret) && mpq_sgn(ret) != 0;
    if (ok) {
        mpq_inv(ret, ret);
    }
    return ok;
}

static bool not_inverted(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return inverted(STEP_RESISTANCE_PARALLEL, operands, count, ret);
}

static bool not_inverted_missing(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return inverted(STEP_RESISTANCE_MISSING, operands, count, ret);
}

/* b / a for a / b. */
static bool upside_down(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return inverted(STEP_CURRENT_FROM_RESISTANCE, operands, count, ret);
}

/* I R1 / R for I R / R1. */
static bool share_upside_down(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    const mpq_srcptr turned[] = {operands[0], operands[2], operands[1]};
    return as_step(STEP_CURRENT_SHARE, turned, count, ret);
}

static bool product_only(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return count == 2 && multiplied(operands, count, ret);
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

static bool divided(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return as_step(STEP_CURRENT_FROM_RESISTANCE, operands, count, ret); /* a / b for a^2 / b */
}

static bool first_operand(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return as_step(STEP_UNCHANGED, operands, count, ret);
}

static bool last_operand(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return as_step(STEP_UNCHANGED, operands + count - 1, 1, ret);
}

/* P / 1000: the energy of one hour. */
static bool without_hours(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_set_ui(ret, 1, 1000);
    mpq_mul(ret, ret, operands[0]);
    return true;
}

/* The tolerance taken twice: a - 2 a b, a + 2 a b. */
static bool doubled(enum step_kind kind, const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    mpq_t twice;
    mpq_init(twice);
    mpq_mul_2exp(twice, operands[1], 1);
    const mpq_srcptr taken[] = {operands[0], twice};
    bool ok = as_step(kind, taken, count, ret);
    mpq_clear(twice);
    return ok;
}

static bool least_doubled(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return doubled(STEP_LEAST, operands, count, ret);
}

static bool greatest_doubled(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    return doubled(STEP_GREATEST, operands, count, ret);
}

/* One load more than the breaker carries. */
static bool rounded_up(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    mpq_t one;
    mpq_init(one);
    mpq_set_ui(one, 1, 1);
    bool ok = as_step(STEP_LOADS_WITHIN, operands, count, ret);
    mpq_add(ret, ret, one);
    mpq_clear(one);
    return ok;
}

static bool root_of_sum(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    mpq_t sum;
    mpq_init(sum);
    bool ok = added(operands, count, sum) && mpq_sgn(sum) >= 0;
    if (ok) {
        exact_root(ret, sum);
    }
    mpq_clear(sum);
    return ok;
}

/* f (a + b) for f a + b; and a + b. */
static bool factor_on_all(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_add(ret, operands[1], operands[2]);
    mpq_mul(ret, ret, operands[0]);
    return true;
}

static bool without_factor(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    (void)count;
    mpq_add(ret, operands[1], operands[2]);
    return true;
}

/* (a - b) / a and (b - a) / b for (a - b) / b. */
static bool share_of_reading(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    const mpq_srcptr turned[] = {operands[1], operands[0]};
    const bool ok = as_step(STEP_DIFFERENCE_SHARE, turned, count, ret);
    mpq_neg(ret, ret);
    return ok;
}

static bool share_turned(const mpq_srcptr *operands, size_t count, mpq_t ret)
{
    const bool ok = as_step(STEP_DIFFERENCE_SHARE, operands, count, ret);
    mpq_neg(ret, ret);
    return ok;
}

static const struct {
    enum step_kind kind;
    enum slip slip;
    slip_step step;
} slip_rows[] = {
    {STEP_PLANNED, SLIP_FACTOR_ON_ALL, factor_on_all},
    {STEP_VOLTAGE_FROM_POWER, SLIP_NOT_SQUARED, multiplied},
    {STEP_CURRENT_IN_RESISTANCE, SLIP_NOT_SQUARED, divided},
    {STEP_PLANNED, SLIP_FACTOR_LEFT_OUT, without_factor},
    {STEP_NEUTRAL_3, SLIP_ALL_ADDED, added},
    {STEP_DIFFERENCE_SHARE, SLIP_SWAPPED_BASE, share_of_reading},
    {STEP_DIFFERENCE_SHARE, SLIP_SIGN, share_turned},
    {STEP_RESISTANCE_PARALLEL, SLIP_ADDED, added},
    {STEP_RESISTANCE_PARALLEL, SLIP_NOT_INVERTED, not_inverted},
    {STEP_RESISTANCE_PARALLEL, SLIP_HALVED, halved_mean},
    {STEP_RESISTANCE_PARALLEL, SLIP_PRODUCT_ONLY, product_only},
    {STEP_PRODUCT_BY_SUM, SLIP_ADDED, added},
    {STEP_PRODUCT_BY_SUM, SLIP_PRODUCT_ONLY, product_only},
    {STEP_PRODUCT_BY_SUM, SLIP_SUM_OVER_PRODUCT, not_inverted},
    {STEP_RESISTANCE_ROW, SLIP_SERIES_AS_PARALLEL, in_parallel},
    {STEP_RESISTANCE_INVERSE, SLIP_NOT_INVERTED, first_operand},
    {STEP_CURRENT_MISSING, SLIP_ALL_ADDED, added},
    {STEP_LEAST, SLIP_DOUBLED, least_doubled},
    {STEP_GREATEST, SLIP_DOUBLED, greatest_doubled},
    {STEP_LOADS_WITHIN, SLIP_ROUNDED_UP, rounded_up},
    {STEP_GROUP_PARALLEL, SLIP_ADDED, added},
    {STEP_GROUP_PARALLEL, SLIP_NOT_INVERTED, not_inverted},
    {STEP_RESISTANCE_EQUAL, SLIP_ADDED, multiplied},
    {STEP_RESISTANCE_EQUAL, SLIP_NOT_INVERTED, upside_down},
    {STEP_RESISTANCE_EQUAL, SLIP_HALVED, halved},
    {STEP_RESISTANCE_MISSING, SLIP_SERIES_AS_PARALLEL, taken_away},
    {STEP_RESISTANCE_MISSING, SLIP_NOT_INVERTED, not_inverted_missing},
    {STEP_RESISTANCE_SERIES, SLIP_SERIES_AS_PARALLEL, in_parallel},
    {STEP_POWER_FROM_RESISTANCE, SLIP_NOT_SQUARED, divided},
    {STEP_POWER_AT_LOADS, SLIP_NOT_SQUARED, divided},
    {STEP_RESISTANCE_FROM_POWER, SLIP_NOT_SQUARED, divided},
    {STEP_POWER_IN_RESISTANCE, SLIP_NOT_SQUARED, multiplied},
    {STEP_CURRENT_FROM_RESISTANCE, SLIP_MULTIPLIED, multiplied},
    {STEP_CURRENT_FROM_RESISTANCE, SLIP_SWAPPED, upside_down},
    {STEP_CURRENT_FROM_POWER, SLIP_MULTIPLIED, multiplied},
    {STEP_CURRENT_FROM_POWER, SLIP_SWAPPED, upside_down},
    {STEP_CURRENT_FROM_APPARENT, SLIP_MULTIPLIED, multiplied},
    {STEP_RESISTANCE_FROM_CURRENT, SLIP_MULTIPLIED, multiplied},
    {STEP_RESISTANCE_FROM_CURRENT, SLIP_SWAPPED, upside_down},
    {STEP_CURRENT_SHARE, SLIP_SWAPPED, share_upside_down},
    {STEP_POWER_FACTOR, SLIP_SWAPPED, upside_down},
    {STEP_APPARENT_FROM_POWERS, SLIP_ALL_ADDED, added},
    {STEP_APPARENT_FROM_POWERS, SLIP_NOT_SQUARED, root_of_sum},
    {STEP_NEUTRAL, SLIP_ALL_ADDED, added},
    {STEP_OPENED, SLIP_OPEN_CARRIES, first_operand},
    {STEP_CURRENT_DIFFERENCE, SLIP_OPEN_CARRIES, first_operand},
    {STEP_CURRENT_DIFFERENCE, SLIP_WRONG_PATH, last_operand},
    {STEP_ENERGY, SLIP_HOURS_LEFT_OUT, without_hours},
    {STEP_ENERGY, SLIP_WATTS_FOR_KILOWATTS, multiplied},
    {STEP_COST, SLIP_PRICE_LEFT_OUT, first_operand},
};

/* The slips that fit so far: one bit each. */
typedef uint64_t slip_set;
_Static_assert(SLIP_COUNT <= 64, "a set of slips is one word");

static void note(slip_set *fits, enum slip slip, bool agrees)
{
    *fits |= agrees ? (slip_set)1 << slip : 0;
}

/* The one slip of the set; SLIP_NONE where it has none, or more than one. */
static enum slip only(slip_set fits)
{
    for (int slip = SLIP_NONE + 1; slip < SLIP_COUNT; slip++) {
        if (fits == (slip_set)1 << slip) {
            return (enum slip)slip;
        }
    }
    return SLIP_NONE;
}

/* Slips of the step itself, from the true operands and from the student's own. */
static slip_set try_step(const struct lesson_question *question, size_t index, const mpq_srcptr *own,
                         const struct written_way *way, const mpq_t written)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    mpq_srcptr operands[LESSON_OPERANDS_MOST];
    slip_set fits = 0;
    mpq_t value;
    mpq_init(value);
    for (int whose = 0; whose < 2; whose++) {
        for (size_t i = 0; i < quantity->operand_count; i++) {
            size_t operand = quantity->operands[i];
            operands[i] = whose == 0 ? question->quantities[operand].value : own[operand];
        }
        for (size_t i = 0; i < sizeof slip_rows / sizeof slip_rows[0]; i++) {
            if (slip_rows[i].kind == quantity->kind && slip_rows[i].step(operands, quantity->operand_count, value)) {
                note(&fits, slip_rows[i].slip, written_agrees(way, written, value));
            }
        }
    }
    mpq_clear(value);
    return fits;
}

/* Takes one quantity for another and works out all that follows, up to `index`. */
static bool try_swap(const struct lesson_question *question, size_t index, const struct lesson_swap *swap,
                     const struct written_way *way, const mpq_t written)
{
    if (index < swap->meant) {
        return false;
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
    bool agrees = ok && differs && written_agrees(way, written, value[index]);
    for (size_t i = 0; i < question->count; i++) {
        mpq_clear(value[i]);
    }
    free(value);
    free(values);
    return agrees;
}

/* The name for taking quantity `other` where another one of its measure was asked for. */
static enum slip slip_of_other(const struct lesson_question *question, size_t other)
{
    const struct lesson_quantity *quantity = &question->quantities[other];
    const bool total = strcmp(quantity->subject, "subject.all-together") == 0 ||
                       (quantity->given && quantity->measure == EXACT_VOLTAGE && quantity->subject[0] == '\0');
    switch (total ? quantity->measure : EXACT_RATIO) {
    case EXACT_VOLTAGE:
        return SLIP_TOTAL_VOLTAGE;
    case EXACT_CURRENT:
        return SLIP_TOTAL_CURRENT;
    case EXACT_POWER:
        return SLIP_TOTAL_FOR_PART;
    default:
        return SLIP_WRONG_PATH;
    }
}

/* The figure of another part of the same question. */
static slip_set try_others(const struct lesson_question *question, size_t index, const struct written_way *way,
                           const mpq_t written)
{
    slip_set fits = 0;
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *other = &question->quantities[i];
        bool alike = i != index && other->measure == question->quantities[index].measure;
        if (alike && written_agrees(way, written, other->value)) {
            note(&fits, slip_of_other(question, i), true);
        }
    }
    return fits;
}

static bool has_wrong_sign(const struct written_way *way, const mpq_t written, const mpq_t value)
{
    mpq_t turned;
    mpq_init(turned);
    mpq_neg(turned, written);
    bool wrong = mpq_sgn(written) != 0 && written_agrees(way, turned, value);
    mpq_clear(turned);
    return wrong;
}

void slip_of(const struct lesson_question *question, size_t index, const mpq_srcptr *own, const struct written_way *way,
             const mpq_t written, struct slip_finding *ret)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    slip_set swaps = 0;
    for (size_t i = 0; i < question->swap_count; i++) {
        note(&swaps, question->swaps[i].slip, try_swap(question, index, &question->swaps[i], way, written));
    }
    slip_set fits = swaps | try_step(question, index, own, way, written);
    note(&fits, SLIP_SIGN, has_wrong_sign(way, written, quantity->value));
    fits = fits == 0 ? try_others(question, index, way, written) : fits;
    *ret = (struct slip_finding){.slip = only(fits), .by_swap = fits == swaps};
    if (fits == 0 && quantity->kind == STEP_UNCHANGED && mpq_sgn(written) > 0) {
        ret->slip = SLIP_ALL_CHANGE;
    }
}

enum slip slip_of_word(const struct lesson_question *question, size_t index, int written)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    if (quantity->measure == EXACT_ARROW && mpq_sgn(quantity->value) == 0 && written != 0) {
        return SLIP_ALL_CHANGE;
    }
    if (quantity->kind == STEP_FAULT_KIND) {
        const int right = (int)mpz_get_si(mpq_numref(quantity->value));
        const bool confused = (right == LESSON_FAULT_OPEN && written == LESSON_FAULT_SHORT) ||
                              (right == LESSON_FAULT_SHORT && written == LESSON_FAULT_OPEN);
        return confused ? SLIP_OPEN_FOR_SHORT : SLIP_NONE;
    }
    return quantity->measure == EXACT_DIRECTION ? SLIP_SIGN : SLIP_NONE;
}

bool slip_is_cut(const struct written_way *way, const mpq_t written, const mpq_t value, unsigned figures)
{
    mpq_t rounded;
    mpq_t place;
    mpq_inits(rounded, place, NULL);
    bool cut = !way->fraction && way->figures_least <= figures && figures <= way->figures_most && mpq_sgn(value) > 0 &&
               mpq_cmp(written, value) < 0;
    if (cut) {
        long exponent = exact_exponent(value) - (long)figures + 1;
        mpq_set_ui(place, 1, 1);
        mpz_ui_pow_ui(exponent < 0 ? mpq_denref(place) : mpq_numref(place), 10, (unsigned long)labs(exponent));
        mpq_add(rounded, written, place);
        cut = mpq_cmp(rounded, value) > 0; /* less than a place below it: what is left of cutting */
    }
    mpq_clears(rounded, place, NULL);
    return cut;
}
