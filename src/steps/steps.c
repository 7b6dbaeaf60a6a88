#include "ampsum/steps.h"

#include <assert.h>
#include <ctype.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/language.h"

/*
 * How each kind reads. A formula calls nothing R1 or I2 that is not that one: a worksheet has its own R1. In `numbers`:
 * {0} {1} {2} operands; {+} all, joined by plus; {-} all, joined by minus; {/} the reciprocals of all, joined by plus;
 * {~} the reciprocals of all but the first, each after a minus; {>} all but the first, joined by plus.
 */
static const struct step_row {
    const char *formula; /* "" for a step in words */
    const char *numbers;
    const char *law; /* with R1 and R2 for any two, where a board says it in words; NULL: the formula */
} step_rows[STEP_KIND_COUNT] = {
    [STEP_RESISTANCE_FROM_POWER] = {"R = V² / P", "({0})² / {1}"},
    [STEP_RESISTANCE_FROM_CURRENT] = {"R = V / I", "{0} / {1}"},
    [STEP_CURRENT_FROM_POWER] = {"I = P / V", "{0} / {1}"},
    [STEP_CURRENT_FROM_APPARENT] = {"I = S / V", "{0} / {1}"},
    [STEP_CURRENT_FROM_APPARENT_3] = {"I = S / (√3 × V)", "{0} / (1.732 × {1})"},
    [STEP_CURRENT_FROM_RESISTANCE] = {"I = V / R", "{0} / {1}"},
    [STEP_POWER_FROM_CURRENT] = {"P = V × I", "{0} × {1}"},
    [STEP_APPARENT_FROM_CURRENT] = {"S = V × I", "{0} × {1}"},
    [STEP_POWER_FROM_RESISTANCE] = {"P = V² / R", "({0})² / {1}"},
    [STEP_POWER_AT_LOADS] = {"step.p-v-at-the-loads-2-r", "({0})² / {1}"},
    [STEP_POWER_IN_RESISTANCE] = {"P = I² × R", "({0})² × {1}"},
    [STEP_VOLTAGE] = {"V = I × R", "{0} × {1}"},
    [STEP_UNITS_POWER] = {"step.p-n-x-p-of-one", "{0} × {1}"},
    [STEP_CURRENT_SUM] = {"I = I1 + I2 + …", "{+}"},
    [STEP_CURRENT_ADDED] = {"more.i-after-i-before-i-of-that-one", "{+}"},
    [STEP_POWER_SUM] = {"P = P1 + P2 + …", "{+}"},
    [STEP_POWER_OF_LEG] = {"step.p-of-the-leg-sum-of-its-loads", "{+}"},
    [STEP_REACTIVE_SUM] = {"Q = Q1 + Q2 + …", "{+}"},
    [STEP_RESISTANCE_SERIES] = {"step.r-r-wire-r-loads", "{+}"},
    [STEP_RESISTANCE_PARALLEL] = {"R = 1 / (1/R1 + 1/R2 + …)", "1 / ({/})"},
    [STEP_RESISTANCE_EQUAL] = {"R = R1 / n", "{0} / {1}"},
    [STEP_RESISTANCE_MISSING] = {"step.r-wanted-1-1-r-together-1-r-of-each-known-one", "1 / (1/{0}{~})"},
    [STEP_CURRENT_SHARE] = {"step.i-of-one-i-x-r-together-r-of-one", "{0} × {1} / {2}"},
    [STEP_CURRENT_DIFFERENCE] = {"more.i-after-i-before-i-of-that-one-2", "{-}"},
    [STEP_VOLTAGE_DIFFERENCE] = {"step.v-at-the-loads-v-v-in-the-wire", "{-}"},
    [STEP_POWER_DIFFERENCE] = {"P = P1 − P2 − …", "{-}"},
    [STEP_WIRE_BOTH_WAYS] = {"step.r-2-x-r-one-way", "2 × {0}"},
    [STEP_NEUTRAL] = {"step.i-in-the-neutral-i-on-leg-a-i-on-leg-b", "|{0} − {1}|"},
    [STEP_APPARENT_FROM_POWERS] = {"S = √(P² + Q²)", "√(({0})² + ({1})²)"},
    [STEP_IMPEDANCE] = {"Z = V / I", "{0} / {1}"},
    [STEP_IMPEDANCE_3] = {"step.z-v2-s-star-equivalent", "({0})² / {1}"},
    [STEP_POWER_FACTOR] = {"step.power-factor-p-s", "{0} / {1}"},
    [STEP_ACTIVE_FROM_POWER_FACTOR] = {"step.p-s-x-power-factor", "{0} × {1}"},
    [STEP_PERCENT] = {"working.share", "100 % × {0} / {1}"},
    [STEP_ENERGY] = {"E = P × t", "{0} × {1}"},
    [STEP_ENERGY_SUM] = {"E = E1 + E2 + …", "{+}"},
    [STEP_COST] = {"step.cost-e-x-price", "{0} × {1}"},
    [STEP_PLANNING_CONTINUOUS] = {"working.continuous", "{0} × {1}"},
    [STEP_PLANNING_COOKING] = {"working.cooking", "{0} × {1}"},
    [STEP_PLANNING_PLATE] = {"working.plate", "{0} × {1}"},
    [STEP_PLANNING_PLAIN] = {"working.plain", "{0}"},
    [STEP_PLANNING_MOTOR] = {"working.motor", "{0} + ({1} − 1) × {2}"},
    [STEP_PLANNING_SUM] = {"working.sum", "{+}"},
    [STEP_HEADROOM] = {"more.headroom-breaker-planning-current", "{0} − {1}"},
    [STEP_IS_OVER] = {"", "step.is-0-more-than-the-breaker-s-1"},
    [STEP_UNCHANGED] = {"", "step.in-parallel-each-load-keeps-the-full-voltage-so"},
    [STEP_OPENED] = {"", "step.an-open-path-carries-no-current-while-the-others"},
    [STEP_NOT_COUNTED] = {"", "more.not-counted-since-only-one-of-its-group-is-ever"},
    [STEP_AGREE] = {"", "step.the-two-ways-agree-0-and-1"},
    [STEP_DIFFER] = {"", "step.the-two-ways-differ-0-and-1-look-for-a-slip"},
    [STEP_TWO_ANGLES] = {"working.two-angles", "√(({0})² + ({1})² + 2 × {0} × {1} × cos {2})"},
    [STEP_OUT_OF_STEP] = {"", "working.out-of-step"},
    [STEP_PRODUCT_BY_SUM] = {"step.r-product-sum", "{0} × {1} / ({+})"},
    [STEP_RESISTANCE_ROW] = {"step.r-sum-of-those-in-series", "{+}"},
    [STEP_SMALLEST] = {"", "step.in-parallel-the-whole-is-below-its-smallest-part"},
    [STEP_BOUND_BELOW] = {"step.bound-below-smallest-n-as-if-all-were-that-small", "{0} / {1}"},
    [STEP_LEAST] = {"step.least-r-r-x-tolerance", "{0} − {0} × {1}"},
    [STEP_GREATEST] = {"step.greatest-r-r-x-tolerance", "{0} + {0} × {1}"},
    [STEP_TREND] = {"", "step.0-before-1-afterwards"},
    [STEP_FLOWS_IN] = {"step.in-sum-of-what-is-known-to-flow-in", "{+}"},
    [STEP_FLOWS_OUT] = {"step.out-sum-of-what-is-known-to-flow-out", "{+}"},
    [STEP_CURRENT_MISSING] = {"step.i-in-out", "|{0} − {1}|"},
    [STEP_WAY_MISSING] = {"", "step.in-0-out-1-the-missing-current-flows"},
    [STEP_CONDUCTANCE] = {"G = 1 / R", "1 / {0}"},
    [STEP_CONDUCTANCE_TOTAL] = {"step.g-sum-of-all", "{+}"},
    [STEP_CONDUCTANCE_SHARE] = {"step.i-of-one-i-x-g-of-one-g", "{0} × {1} / {2}"},
    [STEP_INTERNAL] = {"step.r-v-v-at-the-terminals-i", "({0} − {1}) / {2}"},
    [STEP_GROUP_PARALLEL] = {"step.r-of-the-group-1-sum-of-1-r-of-each", "1 / ({/})"},
    [STEP_TERMINAL_VOLTAGE] = {"step.v-at-the-terminals-v-v-inside", "{-}"},
    [STEP_UNITS_CURRENT] = {"step.i-n-x-i-of-one", "{0} × {1}"},
    [STEP_CURRENT_LEFT] = {"step.left-rating-i", "{0} − {1}"},
    [STEP_GROUP_VOLTAGE] = {"step.v-of-the-group-v-v-in-front-of-it", "{-}"},
    [STEP_LOADS_WITHIN] = {"step.n-whole-part-of-breaker-i-of-one", "{0} / {1}"},
    [STEP_CONDUCTOR] = {"R = r × L", "{0} × {1}"},
    [STEP_LOOP_CONDUCTORS] = {"step.r-line-protective-conductor", "{+}"},
    [STEP_HOT] = {"step.r-hot-ct-x-r", "{0} × {1}"},
    [STEP_LOOP] = {"step.zs-ze-r-hot", "{+}"},
    [STEP_FAULT_CURRENT] = {"more.i-cmin-x-u0-zs", "{0} × {1} / {2}"},
    [STEP_OPENING_CURRENT] = {"Ia = k × In", "{0} × {1}"},
    [STEP_LARGEST_LOOP] = {"step.zs-at-most-cmin-x-u0-ia", "{0} × {1} / {2}"},
    [STEP_OPENS] = {"", "step.is-the-loop-of-0-at-most-1"},
    [STEP_COLD_LIMIT] = {"step.reading-at-most-share-x-zs-at-most", "{0} × {1}"},
    [STEP_TOUCH_VOLTAGE] = {"step.v-i-x-r-of-the-protective-conductor-hot", "{0} × {1}"},
    [STEP_LOOP_LEFT] = {"step.left-for-the-cable-zs-at-most-ze", "{-}"},
    [STEP_PAIR_PER_LENGTH] = {"step.r-of-both-hot-ct-x-r-of-the-line-r-of-the", "{0} × ({1} + {2})"},
    [STEP_LONGEST_RUN] = {"step.l-whole-metres-of-r-left-r-of-both-hot", "{0} / {1}"},
    [STEP_RING_RUN] = {"step.l-of-a-ring-4-x-l-since-its-far-point-has-a", "4 × {0}"},
    [STEP_PLANNED] = {"step.planning-current-factor-x-i-of-what-is-on-for-3-h", "{0} × {1} + {2}"},
    [STEP_GROUP_NOW] = {"more.r-of-the-group-1-sum-of-1-r-of-each-0-with-a", "1 / ({/})"},
    [STEP_NEAREST_E12] = {"", "more.nearest-to-0-in-the-series-e12"},
    [STEP_CURRENT_OF_SOME] = {"step.i-sum-of-theirs", "{+}"},
    [STEP_NEUTRAL_3] = {"step.i-in-the-neutral-root-sum-of-the-squares-sum-of",
                        "√(({0})² + ({1})² + ({2})² − {0} × {1} − {1} × {2} − {0} × {2})"},
    [STEP_REASON] = {"", "language.reason"},
    [STEP_KEEPS_WITHIN] = {"", "step.it-cannot-pass"},
    [STEP_LARGEST] = {"", "step.in-series-the-whole-is-above-its-largest-part"},
    [STEP_SAME_VOLTAGE] = {"", "step.in-parallel-the-voltage-is-the-same-across-each"},
    [STEP_SAME_FIGURE] = {"", "step.0-is"},
    [STEP_FAULT_PART] = {"", "step.the-readings-of-this-part-alone-do-not-go"},
    [STEP_FAULT_KIND] = {"", "step.no-current-open-current-without-voltage-a-short"},
    [STEP_READING] = {"", "step.as-read-for-example"},
    [STEP_DIFFERENCE_SHARE] = {"step.difference-read-computed-computed", "({0} − {1}) / {1}"},
    [STEP_FEWEST_PARTS] = {"", "step.0-from-parts-of-1-2-and-no-fewer-parts-make-it"},
    [STEP_NOTHING_ON] = {"", "more.nothing-is-on-no-current-flows-and-there-is-no"},
    [STEP_RESISTANCE_SUM] = {"step.r-sum", "{+}", "R = R1 + R2 + …"},
    [STEP_RESISTANCE_LESS] = {"step.r-wanted-r-together-r-of-each-known-one", "{-}"},
    [STEP_PRODUCT_OVER_SUM] = {"step.product-over-sum", "{0} × {1} / ({0} + {1})", "R = R1 R2 / (R1 + R2)"},
    [STEP_CONDUCTANCE_SUM] = {"step.r-1-sum-of-the-conductances", "1 / ({+})", "R = 1 / (G1 + G2 + …)"},
    [STEP_RESISTANCE_INVERSE] = {"R = 1 / G", "1 / {0}"},
    [STEP_VOLTAGE_FROM_POWER] = {"V = √(P × R)", "√({0} × {1})"},
    [STEP_CURRENT_IN_RESISTANCE] = {"I = √(P / R)", "√({0} / {1})"},
    [STEP_VOLTAGE_SHARE] = {"step.v-of-one-v-x-r-of-one-r-together", "{0} × {1} / {2}"},
    [STEP_JUNCTION] = {"", "step.in-0-out"},
    [STEP_PUT_BACK] = {"", "step.0-put-back-gives-1"},
    [STEP_NEAREST_PART] = {"", "step.0-is-not-on-sale-the-nearest-part-is-1"},
};

const char *step_law(enum step_kind kind)
{
    return step_rows[kind].law != NULL ? step_rows[kind].law : step_rows[kind].formula;
}

/* The signs of the board and how plain ASCII writes them. */
static const struct {
    const char *sign;
    const char *ascii;
} plain_signs[] = {
    {"²", "^2"}, {"Ω", "ohm"}, {"×", "x"}, {"√", "sqrt "}, {"…", "..."}, {"−", "-"}, {"≈", "~="}, {"°", " deg "},
};

void steps_done(struct steps *steps)
{
    for (size_t i = 0; i < steps->count; i++) {
        free(steps->step[i].subject);
        free(steps->step[i].formula);
        free(steps->step[i].numbers);
        free(steps->step[i].result);
    }
    free(steps->step);
    *steps = (struct steps){0};
}

static char *copy_string(const char *string)
{
    size_t size = strlen(string) + 1;
    char *copy = memory_new(size);
    memcpy(copy, string, size);
    return copy;
}

static bool is_fraction(const char *operand)
{
    const char *slash = strchr(operand, '/');
    return slash != NULL && slash > operand && isdigit((unsigned char)slash[-1]) && isdigit((unsigned char)slash[1]);
}

/* A fraction below the line stands in brackets: 20 A / (25/12 A). */
static void add_operand(struct text *text, const char *operand)
{
    size_t end = text->length;
    while (end > 0 && text->bytes[end - 1] == ' ') {
        end--;
    }
    const bool below = end > 0 && text->bytes[end - 1] == '/' && is_fraction(operand);
    text_printf(text, "%s%s%s", below ? "(" : "", operand, below ? ")" : "");
}

static void add_joined(struct text *text, const char *const *operands, size_t first, size_t count, const char *between,
                       const char *before)
{
    for (size_t i = first; i < count; i++) {
        if (i > first) {
            text_add(text, between);
        }
        text_add(text, before);
        add_operand(text, operands[i]);
    }
}

static void add_slot(struct text *text, char slot, const char *const *operands, size_t count)
{
    switch (slot) {
    case '+':
        add_joined(text, operands, 0, count, " + ", "");
        break;
    case '-':
        add_joined(text, operands, 0, count, " − ", "");
        break;
    case '/':
        add_joined(text, operands, 0, count, " + ", "1/");
        break;
    case '~':
        add_joined(text, operands, 1, count, "", " − 1/");
        break;
    case '>':
        add_joined(text, operands, 1, count, " + ", "");
        break;
    default:
        assert(isdigit((unsigned char)slot) && (size_t)(slot - '0') < count);
        add_operand(text, operands[slot - '0']);
    }
}

static void add_numbers(struct text *text, const char *row, const char *const *operands, size_t count)
{
    while (*row != '\0') {
        if (row[0] == '{') {
            add_slot(text, row[1], operands, count);
            row += 3; /* the slot is one character between braces */
        } else {
            text_add_char(text, *row++);
        }
    }
}

void steps_add(struct steps *steps, enum step_kind kind, const char *subject, const char *const *operands,
               size_t operand_count, const char *result, bool rounded)
{
    struct text formula = {0};
    struct text numbers = {0};
    add_numbers(&formula, say_form(steps->language, step_rows[kind].formula), operands, operand_count);
    add_numbers(&numbers, say_form(steps->language, step_rows[kind].numbers), operands, operand_count);
    steps->step = memory_grow(steps->step, steps->count, &steps->capacity, sizeof *steps->step);
    steps->step[steps->count++] = (struct step){
        .kind = kind,
        .subject = copy_string(subject == NULL ? "" : subject),
        .colon = say_plain(steps->language, "language.colon"),
        .formula = copy_string(text_string(&formula)),
        .numbers = copy_string(text_string(&numbers)),
        .result = copy_string(result == NULL ? "" : result),
        .rounded = rounded,
    };
    text_done(&formula);
    text_done(&numbers);
}

static void add_signs(struct text *text, const char *string, bool utf8)
{
    while (!utf8 && *string != '\0') {
        size_t i = 0;
        while (i < sizeof plain_signs / sizeof plain_signs[0] &&
               strncmp(string, plain_signs[i].sign, strlen(plain_signs[i].sign)) != 0) {
            i++;
        }
        if (i < sizeof plain_signs / sizeof plain_signs[0]) {
            text_add(text, plain_signs[i].ascii);
            string += strlen(plain_signs[i].sign);
        } else {
            text_add_char(text, *string++);
        }
    }
    text_add(text, string);
}

void step_write(struct text *text, const struct step *step, bool utf8)
{
    if (step->subject[0] != '\0') {
        text_printf(text, "%s%s ", step->subject, step->colon);
    }
    if (step->formula[0] != '\0') {
        add_signs(text, step->formula, utf8);
        text_add(text, " = ");
    }
    add_signs(text, step->numbers, utf8);
    /* A sum of one load is that load: no need to say it twice. */
    const bool said = step->formula[0] != '\0' && strcmp(step->numbers, step->result) == 0;
    if (step->result[0] != '\0' && !said) {
        const char *sign = step->formula[0] == '\0' ? " " : step->rounded ? " ≈ " : " = ";
        add_signs(text, sign, utf8);
        add_signs(text, step->result, utf8);
    }
}

void steps_write(struct text *text, const struct steps *steps, const char *indent, bool utf8)
{
    for (size_t i = 0; i < steps->count; i++) {
        text_add(text, indent);
        step_write(text, &steps->step[i], utf8);
        text_add_char(text, '\n');
    }
}

bool steps_figure(struct text *text, double value, const char *unit)
{
    double size = fabs(value);
    int whole_digits = size >= 1 ? (int)floor(log10(size)) + 1 : size > 0 ? (int)floor(log10(size)) + 1 : 1;
    int decimals = whole_digits >= 4 ? 0 : 4 - whole_digits;
    decimals = decimals > 9 ? 9 : decimals;
    size_t before = text->length;
    text_add_rounded(text, value, decimals);
    double shown = strtod(text_string(text) + before, NULL);
    if (unit[0] != '\0') {
        text_add_char(text, ' ');
        text_add(text, unit);
    }
    return fabs(shown - value) > 1e-9 * size;
}
