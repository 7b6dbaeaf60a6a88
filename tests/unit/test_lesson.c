/* Questions, solved again by node equations; published problems, worked by the keys' own steps. */
#include "runner.h"

#include <gsl/gsl_linalg.h>
#include <math.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "../../src/lesson/question.h"
#include "ampsum/housefile.h"
#include "ampsum/stock.h"
#include "ampsum/written.h"
#include "said.h"

enum { SEEDS = DRAWS(1000), SEEDS_OF_OTHER_VOLTAGE = DRAWS(200) };

static enum lesson_kind all_kinds[LESSON_KIND_COUNT];

static struct lesson_plan make_plan(uint64_t seed, unsigned level, unsigned students, unsigned voltage_v)
{
    struct lesson_plan plan = {.seed = seed, .level = level, .students = students, .question_count = LESSON_KIND_COUNT};
    for (int kind = 0; kind < LESSON_KIND_COUNT; kind++) {
        all_kinds[kind] = (enum lesson_kind)kind;
    }
    plan.kinds = all_kinds;
    lesson_plan_plain(&plan);
    plan.voltage_v = voltage_v;
    return plan;
}

static void free_plan(struct lesson_plan *plan)
{
    plan->kinds = NULL;
    lesson_plan_done(plan);
}

static double value_of(const struct lesson_question *question, size_t index)
{
    return mpq_get_d(question->quantities[index].value);
}

/* Voltages of the nodes and currents through the elements, by modified nodal analysis: LU of GSL. */
struct solution {
    double current_a[64];
    double voltage_v[64];
};

static void solve(const struct lesson_question *question, const struct lesson_circuit *circuit, struct solution *ret)
{
    size_t nodes = 0;
    size_t sources = 0;
    for (size_t i = 0; i < circuit->count; i++) {
        const struct lesson_element *it = &circuit->elements[i];
        nodes = it->from > nodes ? it->from : nodes;
        nodes = it->to > nodes ? it->to : nodes;
        sources += it->kind == ELEMENT_SOURCE || it->kind == ELEMENT_WIRE;
    }
    size_t size = nodes + sources;
    gsl_matrix *matrix = gsl_matrix_calloc(size, size);
    gsl_vector *right = gsl_vector_calloc(size);
    gsl_vector *solved = gsl_vector_alloc(size);
    double supply_v = value_of(question, circuit->elements[0].quantity);
    double ohm[64] = {0};
    size_t row[64] = {0};
    size_t source = 0;
    for (size_t i = 0; i < circuit->count; i++) {
        const struct lesson_element *it = &circuit->elements[i];
        double value = value_of(question, it->quantity);
        size_t ends[2] = {it->from, it->to};
        if (it->kind == ELEMENT_SOURCE || it->kind == ELEMENT_WIRE) {
            row[i] = nodes + source++;
            for (int end = 0; end < 2; end++) {
                if (ends[end] > 0) {
                    double sign = end == 0 ? 1 : -1;
                    gsl_matrix_set(matrix, row[i], ends[end] - 1, sign);
                    gsl_matrix_set(matrix, ends[end] - 1, row[i], sign);
                }
            }
            gsl_vector_set(right, row[i], it->kind == ELEMENT_SOURCE ? value : 0);
            continue;
        }
        ohm[i] = it->kind == ELEMENT_POWER ? supply_v * supply_v / value : value;
        for (int a = 0; a < 2; a++) {
            for (int b = 0; b < 2; b++) {
                if (ends[a] > 0 && ends[b] > 0) {
                    double sum = gsl_matrix_get(matrix, ends[a] - 1, ends[b] - 1) + (a == b ? 1 : -1) / ohm[i];
                    gsl_matrix_set(matrix, ends[a] - 1, ends[b] - 1, sum);
                }
            }
        }
    }
    int sign = 0;
    gsl_permutation *order = gsl_permutation_alloc(size);
    gsl_linalg_LU_decomp(matrix, order, &sign);
    gsl_linalg_LU_solve(matrix, order, right, solved);
    for (size_t i = 0; i < circuit->count; i++) {
        const struct lesson_element *it = &circuit->elements[i];
        double from_v = it->from == 0 ? 0 : gsl_vector_get(solved, it->from - 1);
        double to_v = it->to == 0 ? 0 : gsl_vector_get(solved, it->to - 1);
        ret->voltage_v[i] = fabs(from_v - to_v);
        ret->current_a[i] = row[i] > 0 ? fabs(gsl_vector_get(solved, row[i])) : ret->voltage_v[i] / ohm[i];
    }
    gsl_permutation_free(order);
    gsl_matrix_free(matrix);
    gsl_vector_free(right);
    gsl_vector_free(solved);
}

static double measured(const struct solution *solution, const struct lesson_quantity *quantity)
{
    double current_a = solution->current_a[quantity->element];
    double voltage_v = solution->voltage_v[quantity->element];
    switch (quantity->probe) {
    case PROBE_CURRENT:
    case PROBE_SOURCE_CURRENT:
        return current_a;
    case PROBE_VOLTAGE:
        return voltage_v;
    case PROBE_POWER:
    case PROBE_SOURCE_POWER:
        return voltage_v * current_a;
    case PROBE_SEEN:
        return voltage_v / current_a;
    case PROBE_BEHIND:
        return voltage_v / solution->current_a[0];
    default:
        return NAN;
    }
}

static size_t by_symbol(const struct lesson_question *question, const char *symbol)
{
    for (size_t i = 0; i < question->count; i++) {
        if (is_said(question->quantities[i].symbol, symbol)) {
            return i;
        }
    }
    ck_abort_msg("no %s in a question of kind %s", symbol, lesson_kind_word(question->kind));
    return 0;
}

static double sum_given(const struct lesson_question *question, enum exact_quantity measure)
{
    double sum = 0;
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        sum += quantity->given && quantity->measure == measure ? mpq_get_d(quantity->value) : 0;
    }
    return sum;
}

/* Resistances R1, R2 ... of the sheet. */
static size_t resistors(const struct lesson_question *question, double ohm[8])
{
    size_t count = 0;
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        if (quantity->given && quantity->measure == EXACT_RESISTANCE && quantity->symbol[0] == 'R') {
            ohm[count++] = mpq_get_d(quantity->value);
        }
    }
    return count;
}

static double side_by_side_ohm(const double *ohm, size_t count)
{
    double siemens = 0;
    for (size_t i = 0; i < count; i++) {
        siemens += 1 / ohm[i];
    }
    return 1 / siemens;
}

/* Currents of the sheet that flow in, less those that flow out. */
static double left_over_a(const struct lesson_question *question)
{
    double sum = 0;
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        if (quantity->given) {
            sum += (is_said(quantity->subject, "flows in:") ? 1 : -1) * mpq_get_d(quantity->value);
        }
    }
    return sum;
}

/* Of the series E12 (IEC 60063), typed in here. */
static double nearest_of_e12(double ohm)
{
    static const double series[] = {1, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2};
    double nearest = 0;
    for (double decade = 0.1; decade < 1e6; decade *= 10) {
        for (size_t i = 0; i < sizeof series / sizeof series[0]; i++) {
            const double part = decade * series[i];
            nearest = fabs(part - ohm) < fabs(nearest - ohm) * (1 - 1e-12) ? part : nearest;
        }
    }
    return nearest;
}

/* Which way a figure goes, by what a meter shows in the two circuits; what is not measured is given. */
static double trend_of(const struct lesson_question *question, const struct lesson_quantity *trend,
                       const struct solution *solutions)
{
    double shown[2];
    for (size_t i = 0; i < 2; i++) {
        const struct lesson_quantity *quantity = &question->quantities[trend->operands[i]];
        shown[i] = quantity->probe == PROBE_NONE ? mpq_get_d(quantity->value)
                                                 : measured(&solutions[quantity->state], quantity);
    }
    const double off = shown[1] - shown[0];
    return fabs(off) <= 1e-9 * fmax(fabs(shown[0]), fabs(shown[1])) ? 0 : off > 0 ? 1 : -1;
}

static double defined_newly(const struct lesson_question *question, size_t index, double voltage_v)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    double ohm[8];
    const size_t count = resistors(question, ohm);
    double least = INFINITY;
    for (size_t i = 0; i < count; i++) {
        least = fmin(least, ohm[i]);
    }
    switch (question->kind) {
    case LESSON_BOUNDS:
        return is_said(quantity->symbol, "R most") ? least : least / (double)count;
    case LESSON_CONDUCTANCE:
        return quantity->symbol[1] == '\0' ? 1 / side_by_side_ohm(ohm, count) : 1 / ohm[quantity->symbol[1] - '1'];
    case LESSON_PRODUCT_SUM:
        return side_by_side_ohm(ohm, 2);
    case LESSON_TOLERANCE: {
        /* the least one, and the current with it: each part at its end */
        const double share = value_of(question, by_symbol(question, "tolerance"));
        double row = 0;
        for (size_t i = 0; i < count; i++) {
            ohm[i] *= 1 - share;
            row += ohm[i];
        }
        const double least_ohm = question->level % 2 == 0 ? row : side_by_side_ohm(ohm, count);
        return quantity->measure == EXACT_CURRENT ? voltage_v / least_ohm : least_ohm;
    }
    case LESSON_LADDER: /* two in a row */
        return question->level == 3 ? ohm[2] + ohm[3] : ohm[4] + ohm[5];
    case LESSON_JUNCTION:
        return is_said(quantity->symbol, "I missing") ? fabs(left_over_a(question))
               : is_said(quantity->symbol, "way")     ? (left_over_a(question) < 0 ? 1 : 0)
                                                      : NAN;
    default: { /* LESSON_WITHIN */
        const bool with_part = question->level > 2;
        const double wanted_v = with_part ? value_of(question, by_symbol(question, "V2")) : 0;
        if (with_part && is_said(quantity->symbol, "R2")) {
            return wanted_v / value_of(question, by_symbol(question, "I2"));
        }
        if (is_said(quantity->symbol, "R part")) {
            return nearest_of_e12(wanted_v / value_of(question, by_symbol(question, "I2")));
        }
        if (is_said(quantity->symbol, "I part")) {
            return wanted_v / nearest_of_e12(wanted_v / value_of(question, by_symbol(question, "I2")));
        }
        const double one_a = sum_given(question, EXACT_POWER) / voltage_v;
        const double number = floor(value_of(question, by_symbol(question, "breaker")) / one_a + 1e-9);
        return quantity->measure == EXACT_COUNT   ? number
               : quantity->measure == EXACT_POWER ? number * one_a * voltage_v
               : is_said(quantity->symbol, "I1")  ? one_a
               : is_said(quantity->symbol, "I left")
                   ? value_of(question, by_symbol(question, "breaker")) - number * one_a
                   : number * one_a;
    }
    }
}

/* The loop of a fault, all from the resistances of the conductors: hot, at the lowest voltage. */
static double defined_loop(const struct lesson_question *question, size_t index)
{
    static const char *const names[] = {"Ia", "Zs most", "R left", "L",       "L ring",  "R",
                                        "Zs", "I",       "opens",  "reading", "V touch", NULL};
    const double least_v = 0.95 * value_of(question, by_symbol(question, "U0"));
    const double ze = value_of(question, by_symbol(question, "Ze"));
    const double r1 = value_of(question, by_symbol(question, "r1")) / 1000;
    const double r2 = value_of(question, by_symbol(question, "r2")) / 1000;
    const bool with_device = question->kind == LESSON_LONGEST_RUN || question->level > 1;
    const double opening_a =
        with_device ? value_of(question, by_symbol(question, "k")) * value_of(question, by_symbol(question, "In")) : 0;
    const double most_ohm = least_v / opening_a;
    const double metres = question->kind == LESSON_LONGEST_RUN ? floor((most_ohm - ze) / (1.2 * (r1 + r2)))
                                                               : value_of(question, by_symbol(question, "L"));
    const double loop_ohm = ze + 1.2 * (r1 + r2) * metres;
    const double values[] = {opening_a,
                             most_ohm,
                             most_ohm - ze,
                             metres,
                             4 * metres,
                             (r1 + r2) * metres,
                             loop_ohm,
                             least_v / loop_ohm,
                             loop_ohm <= most_ohm ? 1 : 0,
                             0.8 * most_ohm,
                             least_v / loop_ohm * 1.2 * r2 * metres};
    for (size_t i = 0; names[i] != NULL; i++) {
        if (is_said(question->quantities[index].symbol, names[i])) {
            return values[i];
        }
    }
    return NAN;
}

static bool is_symbol(const struct lesson_quantity *quantity, const char *symbol)
{
    return is_said(quantity->symbol, symbol);
}

/* Sum of the first or last of the given powers over the voltage. */
static double currents_a(const struct lesson_question *question, size_t from, size_t to, double voltage_v)
{
    double sum_w = 0;
    size_t at = 0;
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        if (quantity->given && quantity->measure == EXACT_POWER) {
            sum_w += at >= from && at < to ? value_of(question, i) : 0;
            at++;
        }
    }
    return sum_w / voltage_v;
}

static double defined_continuous(const struct lesson_question *question, const struct lesson_quantity *quantity,
                                 double voltage_v)
{
    const size_t on_long = question->level % 2 == 0 ? 2 : 1;
    const double long_a = currents_a(question, 0, on_long, voltage_v);
    const double rest_a = currents_a(question, on_long, 99, voltage_v);
    const double planned_a = 1.25 * long_a + rest_a;
    return is_symbol(quantity, "I long")     ? long_a
           : is_symbol(quantity, "I rest")   ? rest_a
           : is_symbol(quantity, "planning") ? planned_a
           : is_symbol(quantity, "over")     ? (planned_a > value_of(question, by_symbol(question, "breaker")) ? 1 : 0)
                                             : NAN;
}

/* Three currents a third of a turn apart, added as arrows. */
static double defined_phases(const struct lesson_question *question, const struct lesson_quantity *quantity,
                             double voltage_v)
{
    static const char *const lines[] = {"I L1", "I L2", "I L3"};
    static const char *const loads[] = {"P1", "P2", "P3"};
    double x = 0;
    double y = 0;
    for (size_t i = 0; i < 3; i++) {
        const double current_a = value_of(question, by_symbol(question, loads[i])) / voltage_v;
        const double turn = 2 * acos(-1) * (double)i / 3;
        x += current_a * cos(turn);
        y += current_a * sin(turn);
        if (is_symbol(quantity, lines[i])) {
            return current_a;
        }
    }
    return is_symbol(quantity, "I")     ? value_of(question, by_symbol(question, "P")) / voltage_v
           : is_symbol(quantity, "I N") ? hypot(x, y)
                                        : 0;
}

/* The part whose element is not as marked in the circuit as it is: gone, without resistance, or of another value. */
static size_t faulty_part(const struct lesson_question *question, size_t *ret_fault)
{
    const struct lesson_circuit *marked = &question->circuit[0];
    const struct lesson_circuit *real = &question->circuit[1];
    static const char *const names[] = {"r1", "r2", "r3", "r4"};
    if (value_of(question, by_symbol(question, "joint")) > 0) {
        *ret_fault = 4;
        return 1;
    }
    for (size_t i = 1; i < marked->count; i++) {
        const size_t ohm = by_symbol(question, names[i - 1]);
        size_t at = 0;
        while (at < real->count && real->elements[at].quantity != ohm) {
            at++;
        }
        *ret_fault = at == real->count                                                             ? 1
                     : real->elements[at].kind == ELEMENT_WIRE                                     ? 2
                     : value_of(question, ohm) != value_of(question, marked->elements[i].quantity) ? 3
                                                                                                   : 0;
        if (*ret_fault > 0) {
            return i;
        }
    }
    return 0;
}

static double defined_choice(const struct lesson_question *question, size_t index, double voltage_v)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    double ohm[8];
    size_t fault = 0;
    switch (question->kind) {
    case LESSON_FAULT: {
        const size_t part = faulty_part(question, &fault);
        return is_symbol(quantity, "part") ? (double)part : is_symbol(quantity, "fault") ? (double)fault : NAN;
    }
    case LESSON_WHY:
        for (size_t i = 0; i < question->choice_count; i++) {
            if (strcmp(text_string(&question->choices[i]), text_string(&question->reason)) == 0) {
                return quantity->measure == EXACT_CHOICE ? (double)i + 1 : NAN;
            }
        }
        return -1;
    default: { /* LESSON_IMPOSSIBLE */
        const size_t count = resistors(question, ohm);
        double least = INFINITY;
        double most = 0;
        for (size_t i = 0; i < count; i++) {
            least = fmin(least, ohm[i]);
            most = fmax(most, ohm[i]);
        }
        const double bounds[] = {least, voltage_v / side_by_side_ohm(ohm, count), voltage_v, most};
        return is_symbol(quantity, "bound")     ? bounds[question->level - 1]
               : is_symbol(quantity, "R most")  ? least
               : is_symbol(quantity, "R least") ? most
                                                : NAN;
    }
    }
}

/* Kinds of the later generators. */
static double defined_later(const struct lesson_question *question, size_t index, double voltage_v)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    switch (question->kind) {
    case LESSON_CONTINUOUS:
        return defined_continuous(question, quantity, voltage_v);
    case LESSON_THREE_NEUTRAL:
        return defined_phases(question, quantity, voltage_v);
    case LESSON_PREFIXES:
        return is_symbol(quantity, "I in A") ? value_of(question, by_symbol(question, question->level < 2 ? "I1" : "I"))
                                             : value_of(question, by_symbol(question, "P"));
    case LESSON_LAB: {
        const double computed = value_of(question, quantity->operands[1]);
        return is_symbol(quantity, "difference") ? (value_of(question, quantity->operands[0]) - computed) / computed
                                                 : NAN;
    }
    default:
        return defined_choice(question, index, voltage_v);
    }
}

/* Quantities that no meter in the circuit shows, by their definitions in doubles. */
static double defined(const struct lesson_question *question, size_t index)
{
    const struct lesson_quantity *quantity = &question->quantities[index];
    const bool unsourced = question->kind == LESSON_ENERGY || question->kind == LESSON_JUNCTION ||
                           question->kind == LESSON_LOOP_IMPEDANCE || question->kind == LESSON_LONGEST_RUN;
    double voltage_v = unsourced ? NAN : value_of(question, by_symbol(question, "V"));
    double power_w = sum_given(question, EXACT_POWER);
    double angle = atan2(sum_given(question, EXACT_REACTIVE), power_w);
    switch (question->kind) {
    case LESSON_ENERGY:
        if (quantity->measure == EXACT_ENERGY && quantity->symbol[1] != '\0') {
            return value_of(question, index - 1) * value_of(question, index - 2) / 1000;
        } else {
            double kwh = 0;
            for (size_t i = 0; i + 1 < question->count; i++) {
                bool own = question->quantities[i].given && question->quantities[i].measure == EXACT_POWER;
                kwh += own ? value_of(question, i) * value_of(question, i + 1) / 1000 : 0;
            }
            return quantity->measure == EXACT_MONEY ? kwh * value_of(question, by_symbol(question, "price")) : kwh;
        }
    case LESSON_POWER_FACTOR:
        return quantity->measure == EXACT_POWER      ? power_w
               : quantity->measure == EXACT_REACTIVE ? power_w * tan(angle)
               : quantity->measure == EXACT_APPARENT ? power_w / cos(angle)
               : quantity->measure == EXACT_RATIO    ? cos(angle)
                                                     : power_w / cos(angle) / voltage_v;
    case LESSON_STOCK:
        return quantity->measure == EXACT_CURRENT ? voltage_v / value_of(question, by_symbol(question, "R"))
               : quantity->measure == EXACT_POWER ? voltage_v * voltage_v / value_of(question, by_symbol(question, "R"))
                                                  : NAN;
    case LESSON_TRIP:
        return power_w / voltage_v > value_of(question, by_symbol(question, "breaker")) ? 1 : 0;
    case LESSON_BOUNDS:
    case LESSON_CONDUCTANCE:
    case LESSON_TOLERANCE:
    case LESSON_JUNCTION:
    case LESSON_LADDER:
    case LESSON_WITHIN:
    case LESSON_PRODUCT_SUM:
        return defined_newly(question, index, voltage_v);
    case LESSON_LOOP_IMPEDANCE:
    case LESSON_LONGEST_RUN:
        return defined_loop(question, index);
    case LESSON_CONTINUOUS:
    case LESSON_THREE_NEUTRAL:
    case LESSON_PREFIXES:
    case LESSON_LAB:
    case LESSON_FAULT:
    case LESSON_WHY:
    case LESSON_IMPOSSIBLE:
        return defined_later(question, index, voltage_v);
    case LESSON_WIRE:
        return 2 * value_of(question, by_symbol(question, "R one way"));
    default:
        return NAN;
    }
}

/* No lamp of 0.0003 ohm, no 40 kA: what a sheet may show, asked or given. */
static void check_bounds(const struct lesson_question *question, const struct lesson_quantity *quantity)
{
    static const struct {
        enum exact_quantity measure;
        double least;
        double most;
    } rows[] = {{EXACT_CURRENT, 0.01, 100},    {EXACT_VOLTAGE, 0.01, 480},   {EXACT_POWER, 0.01, 25000},
                {EXACT_RESISTANCE, 0.05, 1e4}, {EXACT_ENERGY, 0.01, 1000},   {EXACT_RATIO, 0.001, 1},
                {EXACT_APPARENT, 0.1, 25000},  {EXACT_REACTIVE, 0.1, 25000}, {EXACT_COUNT, 1, 100}};
    double value = mpq_get_d(quantity->value);
    for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
        bool opened = quantity->kind == STEP_OPENED && !quantity->given;
        /* a fault draws more than any load */
        const double wide = question->prefixed ? 1000 : 1;
        const double most = question->published ? 100 * rows[i].most : wide * rows[i].most;
        const bool may_be_0 = question->zeros || quantity->kind == STEP_NEUTRAL_3;
        opened = opened || quantity->kind == STEP_DIFFERENCE_SHARE || (may_be_0 && value == 0) ||
                 is_symbol(quantity, "factor");
        if (rows[i].measure == quantity->measure && !opened) {
            ck_assert_msg(value >= rows[i].least / wide * (1 - 1e-12) && value <= most * (1 + 1e-12), "%s %s = %g",
                          lesson_kind_word(question->kind), quantity->symbol, value);
        }
    }
    if (question->level < LESSON_LEVEL_MOST && (!question->published || quantity->given)) {
        unsigned digits = exact_digits(quantity->value);
        ck_assert_msg(digits >= 1 && digits <= 5, "%s %s = %g is not short", lesson_kind_word(question->kind),
                      quantity->symbol, value);
    }
}

static void check_question(const struct lesson_question *question)
{
    struct solution solution[2] = {0};
    ck_assert_msg(!question->relaxed, "%s: no presentable numbers", lesson_kind_word(question->kind));
    for (int state = 0; state < 2; state++) {
        if (question->circuit[state].count > 0) {
            solve(question, &question->circuit[state], &solution[state]);
        }
    }
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        double value = mpq_get_d(quantity->value);
        double want = quantity->kind == STEP_TREND && !quantity->given ? trend_of(question, quantity, solution)
                      : quantity->probe != PROBE_NONE                  ? measured(&solution[quantity->state], quantity)
                      : quantity->given                                ? value
                                                                       : defined(question, i);
        check_bounds(question, quantity);
        if (quantity->kind == STEP_OPENED && !quantity->given) {
            want = 0; /* the element is not in the circuit any more */
        }
        if (isnan(want)) {
            continue;
        }
        ck_assert_msg(fabs(value - want) <= 1e-9 * fmax(1, fabs(want)), "%s level %u: %s %s = %.12g, not %.12g",
                      lesson_kind_word(question->kind), question->level, quantity->subject, quantity->symbol, want,
                      value);
    }
}

/* What no probe and no definition covers must be covered by a check of its own: the number of such, by kind. */
START_TEST(every_asked_quantity_has_an_independent_route)
{
    for (unsigned level = 1; level <= LESSON_LEVEL_MOST; level++) {
        struct lesson_plan plan = make_plan(1, level, 1, 120);
        struct lesson_question question;
        lesson_question_init(&question);
        for (size_t kind = 0; kind < LESSON_KIND_COUNT; kind++) {
            lesson_question_make(&plan, 1, kind, &question);
            for (size_t i = 0; i < question.count; i++) {
                const struct lesson_quantity *quantity = &question.quantities[i];
                bool covered = quantity->probe != PROBE_NONE || quantity->kind == STEP_OPENED ||
                               kind == LESSON_ENERGY || kind == LESSON_POWER_FACTOR || kind == LESSON_STOCK ||
                               kind == LESSON_TRIP || kind == LESSON_WIRE || kind == LESSON_BOUNDS ||
                               kind == LESSON_CONDUCTANCE || kind == LESSON_TOLERANCE || kind == LESSON_JUNCTION ||
                               kind == LESSON_ARROWS || kind == LESSON_WITHIN || kind == LESSON_PRODUCT_SUM ||
                               kind == LESSON_LOOP_IMPEDANCE || kind == LESSON_LONGEST_RUN ||
                               kind == LESSON_CONTINUOUS || kind == LESSON_THREE_NEUTRAL || kind == LESSON_PREFIXES ||
                               kind == LESSON_LAB || kind == LESSON_FAULT || kind == LESSON_WHY ||
                               kind == LESSON_IMPOSSIBLE || kind == LESSON_LADDER;
                bool element = false; /* a wrong resistance shows in the currents that are measured */
                for (size_t k = 0; k < question.circuit[0].count; k++) {
                    element = element || question.circuit[0].elements[k].quantity == i;
                }
                ck_assert_msg(quantity->asked == NULL || covered || element, "%s: %s", lesson_kind_word(question.kind),
                              quantity->symbol);
            }
        }
        lesson_question_done(&question);
        free_plan(&plan);
    }
}
END_TEST

/* One loop for each level and voltage: 1,000 seeds of every kind at 120 V, fewer at 230 V. */
START_TEST(questions_agree_with_node_equations)
{
    static const unsigned voltages[] = {120, 230};
    unsigned level = (unsigned)_i % LESSON_LEVEL_MOST + 1;
    unsigned voltage_v = voltages[_i / LESSON_LEVEL_MOST];
    struct lesson_question question;
    lesson_question_init(&question);
    uint64_t seeds = _i < LESSON_LEVEL_MOST ? SEEDS : SEEDS_OF_OTHER_VOLTAGE;
    struct lesson_plan plan = make_plan(1, level, 1, voltage_v);
    for (uint64_t seed = 1; seed <= seeds; seed++) {
        plan.seed = seed;
        for (size_t kind = 0; kind < LESSON_KIND_COUNT; kind++) {
            lesson_question_make(&plan, 1, kind, &question);
            check_question(&question);
        }
    }
    free_plan(&plan);
    lesson_question_done(&question);
}
END_TEST

/* Readings of R1 in front of a group, with one fault: V1, V of the group, total, each path. */
static void read_bench(const double *ohm, size_t parts, double source_v, size_t part, size_t fault, double with,
                       double ret_reading[8])
{
    const bool open_front = part == 0 && fault == 1;
    const double front_ohm = part != 0 || fault == 4 ? ohm[0] : fault == 2 ? 0 : fault == 3 ? with * ohm[0] : ohm[0];
    double siemens = 0;
    double path_siemens[8] = {0};
    for (size_t i = 1; i < parts; i++) {
        const double own = part == i && fault == 3 ? with * ohm[i] : ohm[i];
        path_siemens[i] = part == i && fault == 1 ? 0 : part == i && fault == 2 ? 1e12 : 1 / own;
        siemens += path_siemens[i];
    }
    const double joint_ohm = fault == 4 ? with : 0;
    const double total_a = open_front ? 0 : source_v / (front_ohm + joint_ohm + 1 / siemens);
    ret_reading[0] = open_front ? source_v : total_a * front_ohm;
    ret_reading[1] = total_a / siemens;
    ret_reading[2] = total_a;
    for (size_t i = 1; i < parts; i++) {
        ret_reading[2 + i] = ret_reading[1] * path_siemens[i];
    }
}

static double furthest(const double *a, const double *b, size_t count)
{
    double far = 0;
    for (size_t i = 0; i < count; i++) {
        const double size = fmax(fabs(a[i]), fabs(b[i]));
        far = size < 1e-9 ? far : fmax(far, fabs(a[i] - b[i]) / size);
    }
    return far;
}

/* Contract, circuits.md B1: any other single fault differs by more than 2 % in some reading. */
START_TEST(no_other_fault_gives_the_same_readings)
{
    static const double factors[] = {0.5, 0.6, 0.667, 0.75, 0.85, 1.2, 1.333, 1.5, 1.75, 2};
    enum { FACTORS = sizeof factors / sizeof factors[0] };
    struct lesson_question question;
    lesson_question_init(&question);
    struct lesson_plan plan = make_plan(1, (unsigned)_i, 200, 120);
    for (unsigned student = 1; student <= plan.students; student++) {
        double ohm[8] = {0};
        double read[8] = {0};
        double other[8] = {0};
        size_t fault = 0;
        lesson_question_make(&plan, student, LESSON_FAULT, &question);
        const size_t parts = question.circuit[0].count - 1;
        const size_t part = faulty_part(&question, &fault);
        for (size_t i = 0; i < parts; i++) {
            ohm[i] = value_of(&question, question.circuit[0].elements[1 + i].quantity);
        }
        const double source_v = value_of(&question, by_symbol(&question, "V"));
        read[0] = value_of(&question, by_symbol(&question, "V1"));
        read[1] = value_of(&question, by_symbol(&question, "V2"));
        read[2] = value_of(&question, by_symbol(&question, "I"));
        for (size_t i = 1; i < parts; i++) {
            read[2 + i] = value_of(&question, by_symbol(&question, i == 1 ? "I2" : i == 2 ? "I3" : "I4"));
        }
        for (size_t p = 0; p < parts; p++) {
            for (size_t f = 1; f <= 4; f++) {
                for (size_t k = 0; k < FACTORS && (p + 1 != part || f != fault) && (f < 4 || p == 0); k++) {
                    const double with = f == 4 ? factors[k] * ohm[0] * 2 : factors[k];
                    read_bench(ohm, parts, source_v, p, f, with, other);
                    ck_assert_msg(furthest(read, other, 2 + parts) > 0.02,
                                  "student %u: R%zu fault %zu as R%zu fault %zu", student, part, fault, p + 1, f);
                }
            }
        }
    }
    lesson_question_done(&question);
    free_plan(&plan);
}
END_TEST

/* The figure that cannot be is the one at the letter, and it breaks its bound; the other four are those of the circuit.
 */
START_TEST(the_impossible_figure_breaks_its_bound)
{
    struct lesson_question question;
    lesson_question_init(&question);
    struct lesson_plan plan = make_plan(2, (unsigned)_i, 100, 120);
    for (unsigned student = 1; student <= plan.students; student++) {
        struct text figure = {0};
        lesson_question_make(&plan, student, LESSON_IMPOSSIBLE, &question);
        const struct lesson_quantity *wrong = &question.quantities[by_symbol(&question, "false")];
        const double bound = value_of(&question, by_symbol(&question, "bound"));
        const size_t letter = (size_t)value_of(&question, by_symbol(&question, "letter"));
        exact_figure(&figure, wrong->value, wrong->measure, 6);
        for (size_t i = 0; i < question.choice_count; i++) {
            const char *value = strstr(text_string(&question.choices[i]), ": ");
            ck_assert_ptr_nonnull(value);
            ck_assert_int_eq(strcmp(value + 2, text_string(&figure)) == 0, i + 1 == letter);
        }
        ck_assert(plan.level == 4 ? mpq_get_d(wrong->value) < bound : mpq_get_d(wrong->value) > bound);
        text_done(&figure);
    }
    lesson_question_done(&question);
    free_plan(&plan);
}
END_TEST

/* Contract, circuits.md B1: kilohms, milliamperes, kilowatts in a third of the questions that ask for numbers. */
START_TEST(a_third_of_the_questions_has_prefixes)
{
    enum { STUDENTS = 20 };
    struct lesson_question question;
    lesson_question_init(&question);
    struct lesson_plan plan = make_plan(4, (unsigned)_i, STUDENTS, 120);
    size_t numbers = 0;
    size_t prefixed = 0;
    for (size_t at = 0; at < (size_t)STUDENTS * LESSON_KIND_COUNT; at++) {
        lesson_question_make(&plan, 1 + (unsigned)(at / LESSON_KIND_COUNT), at % LESSON_KIND_COUNT, &question);
        bool asks = false;
        bool has = false;
        for (size_t i = 0; i < question.count; i++) {
            const struct lesson_quantity *quantity = &question.quantities[i];
            const bool shown = quantity->asked != NULL || (quantity->given && !quantity->hidden);
            asks = asks || (quantity->asked != NULL && exact_unit(quantity->measure)[0] != '\0');
            has = has ||
                  (shown && (quantity->power == 3 || quantity->power == -3) && quantity->measure != EXACT_CONDUCTANCE);
        }
        numbers += asks;
        prefixed += asks && has;
    }
    ck_assert_msg(3 * prefixed >= numbers, "%zu of %zu", prefixed, numbers);
    lesson_question_done(&question);
    free_plan(&plan);
}
END_TEST

/* So many cells of the table are empty, and each follows from what stands there. */
START_TEST(the_grid_has_its_empty_cells)
{
    static const size_t empty[] = {2, 4, 6, 9};
    struct lesson_question question;
    lesson_question_init(&question);
    struct lesson_plan plan = make_plan(2, (unsigned)_i, 1, 120);
    lesson_question_make(&plan, 1, LESSON_GRID, &question);
    size_t asked = 0;
    for (size_t i = 0; i < question.count; i++) {
        asked += question.quantities[i].asked != NULL;
    }
    ck_assert_uint_eq(asked, empty[_i - 1]);
    ck_assert_uint_eq(question.count, LESSON_GRID_SIDE * LESSON_GRID_SIDE);
    lesson_question_done(&question);
    free_plan(&plan);
}
END_TEST

/* The stock question's answer against the search, which test_stock holds against exhaustion. */
START_TEST(stock_questions_ask_for_the_fewest)
{
    for (unsigned level = 1; level <= LESSON_LEVEL_MOST; level++) {
        struct lesson_plan plan = make_plan(9, level, 1, 120);
        struct lesson_question question;
        lesson_question_init(&question);
        for (unsigned student = 1; student <= 50; student++) {
            lesson_question_make(&plan, student, LESSON_STOCK, &question);
            double number = value_of(&question, by_symbol(&question, "n"));
            ck_assert_msg(number == level + 1, "level %u asks for %g parts", level, number);
        }
        lesson_question_done(&question);
        free_plan(&plan);
    }
}
END_TEST

/* The published first outputs of splitmix64 for the seed 1234567 (Rosetta Code, Pseudo-random numbers/Splitmix64). */
START_TEST(numbers_are_the_same_on_every_machine)
{
    uint64_t state = 1234567;
    ck_assert_uint_eq(next_number(&state), 6457827717110365317U);
    ck_assert_uint_eq(next_number(&state), 3203168211198807973U);
    ck_assert_uint_eq(next_number(&state), 9817491932198370423U);
}
END_TEST

static uint64_t text_code(const struct text *text)
{
    uint64_t code = 0xCBF29CE484222325U;
    for (size_t i = 0; i < text->length; i++) {
        code = (code ^ (unsigned char)text->bytes[i]) * 0x100000001B3U;
    }
    return code;
}

START_TEST(same_seed_same_sheet_other_seed_other_numbers)
{
    uint64_t codes[4];
    static const struct {
        uint64_t seed;
        unsigned student;
    } rows[] = {{7, 1}, {7, 1}, {8, 1}, {7, 2}};
    for (size_t i = 0; i < 4; i++) {
        struct lesson_plan plan = make_plan(rows[i].seed, 3, 5, 120);
        struct text key = {0};
        lesson_key(&key, &plan, rows[i].student);
        codes[i] = text_code(&key);
        text_done(&key);
        free_plan(&plan);
    }
    ck_assert_uint_eq(codes[0], codes[1]);
    ck_assert_uint_ne(codes[0], codes[2]);
    ck_assert_uint_ne(codes[0], codes[3]);
}
END_TEST

/* Alike in difficulty: the same steps, only the numbers differ. */
START_TEST(students_get_the_same_steps)
{
    for (unsigned level = 1; level <= LESSON_LEVEL_MOST; level++) {
        struct lesson_plan plan = make_plan(4, level, 60, 230);
        struct lesson_question first;
        struct lesson_question other;
        lesson_question_init(&first);
        lesson_question_init(&other);
        for (size_t kind = 0; kind < LESSON_KIND_COUNT; kind++) {
            lesson_question_make(&plan, 1, kind, &first);
            for (unsigned student = 2; student <= plan.students; student++) {
                lesson_question_make(&plan, student, kind, &other);
                ck_assert_uint_eq(first.count, other.count);
                for (size_t i = 0; i < first.count; i++) {
                    ck_assert_int_eq(first.quantities[i].kind, other.quantities[i].kind);
                    ck_assert_int_eq(first.quantities[i].asked == NULL, other.quantities[i].asked == NULL);
                }
            }
        }
        lesson_question_done(&first);
        lesson_question_done(&other);
        free_plan(&plan);
    }
}
END_TEST

START_TEST(harder_levels_have_more_steps)
{
    for (size_t kind = 0; kind < LESSON_KIND_COUNT; kind++) {
        size_t counts[LESSON_LEVEL_MOST + 1] = {0};
        for (unsigned level = 1; level <= LESSON_LEVEL_MOST; level++) {
            struct lesson_plan plan = make_plan(4, level, 1, 120);
            struct lesson_question question;
            lesson_question_init(&question);
            lesson_question_make(&plan, 1, kind, &question);
            counts[level] = question.count;
            lesson_question_done(&question);
            free_plan(&plan);
        }
        ck_assert_uint_ge(counts[4], counts[1]);
    }
}
END_TEST

/* Words of tests/outside/lesson.tsv for the steps. */
static const struct {
    const char *word;
    enum step_kind kind;
} step_words[] = {
    {"resistance-series", STEP_RESISTANCE_SERIES},
    {"resistance-parallel", STEP_RESISTANCE_PARALLEL},
    {"resistance-equal", STEP_RESISTANCE_EQUAL},
    {"resistance-of-power", STEP_RESISTANCE_FROM_POWER},
    {"resistance-of-current", STEP_RESISTANCE_FROM_CURRENT},
    {"current-of-resistance", STEP_CURRENT_FROM_RESISTANCE},
    {"current-of-power", STEP_CURRENT_FROM_POWER},
    {"current-sum", STEP_CURRENT_SUM},
    {"current-difference", STEP_CURRENT_DIFFERENCE},
    {"current-share", STEP_CURRENT_SHARE},
    {"voltage", STEP_VOLTAGE},
    {"voltage-difference", STEP_VOLTAGE_DIFFERENCE},
    {"power-of-current", STEP_POWER_FROM_CURRENT},
    {"power-of-resistance", STEP_POWER_FROM_RESISTANCE},
    {"power-in-resistance", STEP_POWER_IN_RESISTANCE},
    {"power-sum", STEP_POWER_SUM},
    {"is-over", STEP_IS_OVER},
    {"neutral", STEP_NEUTRAL},
    {"percent", STEP_PERCENT},
    {"energy", STEP_ENERGY},
    {"energy-sum", STEP_ENERGY_SUM},
    {"units-power", STEP_UNITS_POWER},
    {"cost", STEP_COST},
    {"apparent-of-powers", STEP_APPARENT_FROM_POWERS},
};

struct named {
    char name[16];
    mpq_t value;
};

struct named_list {
    struct named row[64];
    size_t count;
};

static struct named *named_find(struct named_list *list, const char *name, const char *id)
{
    for (size_t i = 0; i < list->count; i++) {
        if (strcmp(list->row[i].name, name) == 0) {
            return &list->row[i];
        }
    }
    ck_abort_msg("%s: no %s", id, name);
    return NULL;
}

static struct named *named_add(struct named_list *list, const char *name)
{
    ck_assert_uint_lt(list->count, 64);
    struct named *row = &list->row[list->count++];
    snprintf(row->name, sizeof row->name, "%s", name);
    mpq_init(row->value);
    return row;
}

static void take_given(struct named_list *list, char *given, const char *id)
{
    char *save = NULL;
    for (char *word = strtok_r(given, " ", &save); word != NULL; word = strtok_r(NULL, " ", &save)) {
        char *equals = strchr(word, '=');
        ck_assert_ptr_nonnull(equals);
        *equals = '\0';
        ck_assert_msg(exact_read(named_add(list, word)->value, equals + 1), "%s: %s", id, equals + 1);
    }
}

static void take_step(struct named_list *list, char *step, const char *id)
{
    char *equals = strchr(step, '=');
    char *open = strchr(step, '(');
    char *close = strchr(step, ')');
    ck_assert_msg(equals != NULL && open != NULL && close != NULL, "%s: %s", id, step);
    *equals = *open = *close = '\0';
    size_t kind = 0;
    while (kind < sizeof step_words / sizeof step_words[0] && strcmp(step_words[kind].word, equals + 1) != 0) {
        kind++;
    }
    ck_assert_msg(kind < sizeof step_words / sizeof step_words[0], "%s: no step %s", id, equals + 1);
    mpq_srcptr operands[LESSON_OPERANDS_MOST];
    size_t count = 0;
    char *save = NULL;
    for (char *name = strtok_r(open + 1, ",", &save); name != NULL; name = strtok_r(NULL, ",", &save)) {
        operands[count++] = named_find(list, name, id)->value;
    }
    struct named *result = named_add(list, step);
    ck_assert(lesson_step_value(step_words[kind].kind, operands, count, result->value));
}

/* Half a unit of the last digit printed; whole numbers as printed are taken to be good to the unit. */
static double half_digit(const char *printed)
{
    const char *point = strchr(printed, '.');
    return 0.5 * pow(10, point == NULL ? 0 : -(double)strlen(point + 1));
}

static double tolerance_of(const char *tolerance, const char *name, const char *printed)
{
    if (strncmp(tolerance, "half digit", 10) != 0) {
        return strtod(tolerance, NULL);
    }
    const char *own = strstr(tolerance, name);
    return own != NULL && tolerance[10] != '\0' ? strtod(own + strlen(name), NULL) : half_digit(printed);
}

static void check_outside(char *line)
{
    char *field[7] = {0};
    for (size_t i = 0; i < 7; i++) {
        field[i] = line;
        line = strchr(line, '\t');
        ck_assert_msg(line != NULL || i == 6, "%s: a field is missing", field[0]);
        if (line != NULL) {
            *line++ = '\0';
        }
    }
    struct named_list list = {0};
    take_given(&list, field[1], field[0]);
    char *save = NULL;
    for (char *step = strtok_r(field[2], " ", &save); step != NULL; step = strtok_r(NULL, " ", &save)) {
        take_step(&list, step, field[0]);
    }
    for (char *want = strtok_r(field[3], " ", &save); want != NULL; want = strtok_r(NULL, " ", &save)) {
        char *equals = strchr(want, '=');
        *equals = '\0';
        double got = mpq_get_d(named_find(&list, want, field[0])->value);
        double tolerance = tolerance_of(field[4], want, equals + 1);
        ck_assert_msg(fabs(got - strtod(equals + 1, NULL)) <= tolerance * (1 + 1e-9), "%s: %s = %.8g, printed %s (%s)",
                      field[0], want, got, equals + 1, field[6]);
    }
    for (size_t i = 0; i < list.count; i++) {
        mpq_clear(list.row[i].value);
    }
}

/* Where a formula says R1, I2 ..., the number that the sheet calls so stands in it. */
static void check_name(const struct lesson_question *question, const struct step *step, const char *symbol)
{
    for (size_t i = 0; i < question->count; i++) {
        const struct lesson_quantity *quantity = &question->quantities[i];
        unsigned digits = exact_digits(quantity->value);
        if (is_said(quantity->symbol, symbol) && digits > 0 && digits <= 6) {
            struct text figure = {0};
            lesson_amount(&figure, LANGUAGE_ENGLISH, quantity->value, quantity, digits);
            ck_assert_msg(strstr(step->numbers, text_string(&figure)) != NULL, "%s level %u: %s = %s is not in %s = %s",
                          lesson_kind_word(question->kind), question->level, symbol, text_string(&figure),
                          step->formula, step->numbers);
            text_done(&figure);
        }
    }
}

START_TEST(formulas_use_the_names_of_the_sheet)
{
    static const char *const symbols[] = {"R1", "R2", "I1", "I2", "P1", "P2", "Q1", "Q2", "E1", "E2", "V1", "V2"};
    struct lesson_plan plan = make_plan(3, (unsigned)_i, 5, 120);
    struct lesson_question question;
    lesson_question_init(&question);
    size_t checked = 0;
    for (size_t at = 0; at < 5 * LESSON_KIND_COUNT; at++) {
        struct steps steps = {0};
        lesson_question_make(&plan, 1 + (unsigned)(at / LESSON_KIND_COUNT), at % LESSON_KIND_COUNT, &question);
        lesson_steps(&plan, &question, &steps);
        for (size_t i = 0; i < steps.count; i++) {
            for (size_t k = 0; k < sizeof symbols / sizeof symbols[0]; k++) {
                if (strstr(steps.step[i].formula, symbols[k]) != NULL) {
                    check_name(&question, &steps.step[i], symbols[k]);
                    checked++;
                }
            }
        }
        steps_done(&steps);
    }
    ck_assert_uint_gt(checked, 0);
    lesson_question_done(&question);
    free_plan(&plan);
}
END_TEST

START_TEST(published_problems_come_out_as_printed)
{
    struct text path = {0};
    text_printf(&path, "%s/outside/lesson.tsv", getenv("AMPSUM_TESTS") == NULL ? "tests" : getenv("AMPSUM_TESTS"));
    FILE *file = fopen(text_string(&path), "r");
    ck_assert_ptr_nonnull(file);
    char *line = NULL;
    size_t capacity = 0;
    int count = 0;
    while (getline(&line, &capacity, file) > 0) {
        line[strcspn(line, "\r\n")] = '\0';
        if (line[0] != '#' && strncmp(line, "id\t", 3) != 0) {
            check_outside(line);
            count++;
        }
    }
    ck_assert_int_ge(count, 39);
    free(line);
    fclose(file);
    text_done(&path);
}
END_TEST

/* Loads of a house are asked for by name where their numbers are short; its price and currency are taken. */
START_TEST(loads_come_from_the_house)
{
    static const char house_text[] = "[house]\nname=Test\nrules=us\nmain_breaker=100\n"
                                     "[branch b]\nlabel=Kitchen\nbreaker=20\nlegs=A\n"
                                     "[appliance one]\nname=Blue oven\nbranch=b\npower=1200\n"
                                     "[appliance two]\nname=Red lamp\nbranch=b\npower=240\n"
                                     "[appliance three]\nname=Green fan\nbranch=b\npower=60\nbehaviour=motor\n"
                                     "[tariff t]\nname=T\nprice=0.25\n";
    struct house *house = NULL;
    struct error error = {0};
    char path[] = "lesson-house-000000";
    memset(path + strlen(path) - 6, 'X', 6); /* as mkstemp wants it */
    int file = mkstemp(path);
    ck_assert_int_ge(file, 0);
    ck_assert_int_eq(write(file, house_text, sizeof house_text - 1), (ssize_t)(sizeof house_text - 1));
    close(file);
    ck_assert_msg(housefile_read(path, &house, &error), "%s", error_message(&error));
    unlink(path);
    struct lesson_plan plan = make_plan(3, 1, 40, 120);
    lesson_plan_house(&plan, house);
    house_free(house);
    ck_assert_uint_eq(plan.branch_count, 1);
    ck_assert_uint_eq(plan.branches[0].load_count, 2); /* the motor is no resistor */
    ck_assert_str_eq(plan.price, "0.25");
    struct text sheet = {0};
    for (unsigned student = 1; student <= plan.students; student++) {
        lesson_worksheet(&sheet, &plan, student);
    }
    ck_assert_ptr_nonnull(strstr(text_string(&sheet), "On the branch \"Kitchen\", these"));
    ck_assert_ptr_nonnull(strstr(text_string(&sheet), "Blue oven"));
    ck_assert_ptr_nonnull(strstr(text_string(&sheet), "Red lamp"));
    ck_assert_ptr_null(strstr(text_string(&sheet), "Green fan"));
    text_done(&sheet);
    error_done(&error);
    free_plan(&plan);
}
END_TEST

/* The numbering of names, load by load and each time by all names as they stand: what the quick way must give. */
static void number_slowly(char names[][80], size_t count)
{
    for (size_t i = count; i-- > 0;) {
        char second[90];
        size_t alike = 0;
        size_t before = 0;
        bool has_second = false;
        snprintf(second, sizeof second, "%s 2", names[i]);
        for (size_t k = 0; k < count; k++) {
            alike += strcmp(names[k], names[i]) == 0;
            before += k < i && strcmp(names[k], names[i]) == 0;
            has_second = has_second || strcmp(names[k], second) == 0;
        }
        if (alike > 1 || (before == 0 && has_second)) {
            char numbered[80];
            snprintf(numbered, sizeof numbered, "%.60s %zu", names[i], before + 1);
            memcpy(names[i], numbered, sizeof numbered);
        }
    }
}

START_TEST(loads_of_one_name_get_numbers)
{
    enum { LOADS = 60 };
    static const char *const words[] = {"Lamp", "Lamp 1", "Lamp 2", "Lamp 2 2", "Fan", "Fan 2", "Oven", "Lamp 3"};
    char names[LOADS][80];
    struct text text = {0};
    struct house *house = NULL;
    struct error error = {0};
    uint64_t state = (uint64_t)_i + 1;
    const size_t count = 3 + (size_t)_i * 7 % (LOADS - 3);
    text_add(&text, "[house]\nname=Test\nrules=us\nmain_breaker=100\n[branch b]\nlabel=B\nbreaker=20\nlegs=A\n");
    for (size_t i = 0; i < count; i++) {
        state = state * UINT64_C(6364136223846793005) + 1442695040888963407U;
        snprintf(names[i], sizeof names[i], "%s", words[(state >> 40) % 8]);
        text_printf(&text, "[appliance a%zu]\nname=%s\nbranch=b\npower=100\n", i, names[i]);
    }
    FILE *file = fopen("lesson-alike.ini", "w");
    ck_assert_ptr_nonnull(file);
    fputs(text_string(&text), file);
    ck_assert_int_eq(fclose(file), 0);
    ck_assert_msg(housefile_read("lesson-alike.ini", &house, &error), "%s", error_message(&error));
    unlink("lesson-alike.ini");
    struct lesson_plan plan = {0};
    lesson_plan_house(&plan, house);
    number_slowly(names, count);
    ck_assert_uint_eq(plan.branches[0].load_count, count);
    for (size_t i = 0; i < count; i++) {
        ck_assert_str_eq(plan.branches[0].loads[i].name, names[i]);
    }
    lesson_plan_done(&plan);
    house_free(house);
    text_done(&text);
    error_done(&error);
}
END_TEST

/* Half of a sheet's questions that name loads, at every level, on every demo house; and none of them without numbers.
 */
START_TEST(own_loads_at_every_level)
{
    static const char *const houses[] = {"us.ini", "uk.ini", "iec.ini"};
    static enum lesson_kind kinds[] = {LESSON_WITHIN, LESSON_TABLE,  LESSON_TRIP, LESSON_ENERGY,
                                       LESSON_TABLE,  LESSON_WITHIN, LESSON_TRIP};
    enum { KINDS = sizeof kinds / sizeof kinds[0], OWN = 4 };
    struct text path = {0};
    struct house *house = NULL;
    struct error error = {0};
    text_printf(&path, "%s/%s", getenv("AMPSUM_DEMO"), houses[_i]);
    ck_assert_msg(housefile_read(text_string(&path), &house, &error), "%s", error_message(&error));
    for (unsigned level = 1; level <= LESSON_LEVEL_MOST; level++) {
        struct lesson_plan plan = {.seed = 3, .level = level, .students = 10, .kinds = kinds, .question_count = KINDS};
        struct lesson_question question;
        lesson_plan_house(&plan, house);
        plan.own_percent = LESSON_OWN_USUAL;
        lesson_question_init(&question);
        for (unsigned student = 1; student <= plan.students; student++) {
            unsigned own = 0;
            for (size_t i = 0; i < KINDS; i++) {
                lesson_question_make(&plan, student, i, &question);
                ck_assert(!question.relaxed);
                own += question.own;
            }
            ck_assert_msg(own >= OWN, "%s level %u, student %u: %u own", houses[_i], level, student, own);
        }
        lesson_question_done(&question);
        plan.kinds = NULL;
        lesson_plan_done(&plan);
    }
    house_free(house);
    text_done(&path);
    error_done(&error);
}
END_TEST

Suite *make_suite(void)
{
    Suite *suite = suite_create("lesson");
    TCase *tests = tcase_create("lesson");
    tcase_set_timeout(tests, 110);
    tcase_add_test(tests, every_asked_quantity_has_an_independent_route);
    tcase_add_loop_test(tests, questions_agree_with_node_equations, 0, 2 * LESSON_LEVEL_MOST);
    tcase_add_loop_test(tests, no_other_fault_gives_the_same_readings, 1, LESSON_LEVEL_MOST + 1);
    tcase_add_loop_test(tests, the_impossible_figure_breaks_its_bound, 1, LESSON_LEVEL_MOST + 1);
    tcase_add_loop_test(tests, the_grid_has_its_empty_cells, 1, LESSON_LEVEL_MOST + 1);
    tcase_add_loop_test(tests, a_third_of_the_questions_has_prefixes, 2, LESSON_LEVEL_MOST + 1);
    tcase_add_test(tests, stock_questions_ask_for_the_fewest);
    tcase_add_test(tests, numbers_are_the_same_on_every_machine);
    tcase_add_test(tests, same_seed_same_sheet_other_seed_other_numbers);
    tcase_add_test(tests, students_get_the_same_steps);
    tcase_add_test(tests, harder_levels_have_more_steps);
    tcase_add_loop_test(tests, formulas_use_the_names_of_the_sheet, 1, LESSON_LEVEL_MOST + 1);
    tcase_add_test(tests, published_problems_come_out_as_printed);
    tcase_add_test(tests, loads_come_from_the_house);
    tcase_add_loop_test(tests, loads_of_one_name_get_numbers, 0, 20);
    tcase_add_loop_test(tests, own_loads_at_every_level, 0, 3);
    suite_add_tcase(suite, tests);
    return suite;
}
