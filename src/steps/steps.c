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
    [STEP_POWER_AT_LOADS] = {"P = (V at the loads)² / R", "({0})² / {1}"},
    [STEP_POWER_IN_RESISTANCE] = {"P = I² × R", "({0})² × {1}"},
    [STEP_VOLTAGE] = {"V = I × R", "{0} × {1}"},
    [STEP_UNITS_POWER] = {"P = n × P of one", "{0} × {1}"},
    [STEP_CURRENT_SUM] = {"I = I1 + I2 + …", "{+}"},
    [STEP_CURRENT_ADDED] = {"I after = I before + I of that one", "{+}"},
    [STEP_POWER_SUM] = {"P = P1 + P2 + …", "{+}"},
    [STEP_POWER_OF_LEG] = {"P of the leg = sum of its loads", "{+}"},
    [STEP_REACTIVE_SUM] = {"Q = Q1 + Q2 + …", "{+}"},
    [STEP_RESISTANCE_SERIES] = {"R = R wire + R loads", "{+}"},
    [STEP_RESISTANCE_PARALLEL] = {"R = 1 / (1/R1 + 1/R2 + …)", "1 / ({/})"},
    [STEP_RESISTANCE_EQUAL] = {"R = R1 / n", "{0} / {1}"},
    [STEP_RESISTANCE_MISSING] = {"R wanted = 1 / (1/R together − 1/R of each known one)", "1 / (1/{0}{~})"},
    [STEP_CURRENT_SHARE] = {"I of one = I × R together / R of one", "{0} × {1} / {2}"},
    [STEP_CURRENT_DIFFERENCE] = {"I after = I before − I of that one", "{-}"},
    [STEP_VOLTAGE_DIFFERENCE] = {"V at the loads = V − V in the wire", "{-}"},
    [STEP_POWER_DIFFERENCE] = {"P = P1 − P2 − …", "{-}"},
    [STEP_WIRE_BOTH_WAYS] = {"R = 2 × R one way", "2 × {0}"},
    [STEP_NEUTRAL] = {"I in the neutral = |I on leg A − I on leg B|", "|{0} − {1}|"},
    [STEP_APPARENT_FROM_POWERS] = {"S = √(P² + Q²)", "√(({0})² + ({1})²)"},
    [STEP_IMPEDANCE] = {"Z = V / I", "{0} / {1}"},
    [STEP_IMPEDANCE_3] = {"Z = V² / S (star equivalent)", "({0})² / {1}"},
    [STEP_POWER_FACTOR] = {"power factor = P / S", "{0} / {1}"},
    [STEP_ACTIVE_FROM_POWER_FACTOR] = {"P = S × power factor", "{0} × {1}"},
    [STEP_PERCENT] = {"share = 100 % × part / whole", "100 % × {0} / {1}"},
    [STEP_ENERGY] = {"E = P × t", "{0} × {1}"},
    [STEP_ENERGY_SUM] = {"E = E1 + E2 + …", "{+}"},
    [STEP_COST] = {"cost = E × price", "{0} × {1}"},
    [STEP_PLANNING_CONTINUOUS] = {"planning current = factor × I, since it may run {2} or more", "{0} × {1}"},
    [STEP_PLANNING_COOKING] = {"planning current of cooking on its own branch = share × I, never all on at once",
                               "{0} × {1}"},
    [STEP_PLANNING_PLATE] = {"planning current, from the motor table or the plate = units × I", "{0} × {1}"},
    [STEP_PLANNING_PLAIN] = {"planning current = I", "{0}"},
    [STEP_PLANNING_MOTOR] = {"planning current, with the factor on one unit of the largest motor = I + (factor − 1) × "
                             "I of one",
                             "{0} + ({1} − 1) × {2}"},
    [STEP_PLANNING_SUM] = {"planning current = sum of the loads", "{+}"},
    [STEP_HEADROOM] = {"headroom = breaker − planning current", "{0} − {1}"},
    [STEP_IS_OVER] = {"", "is {0} more than the breaker's {1}?"},
    [STEP_UNCHANGED] = {"", "in parallel each load keeps the full voltage, so its current stays {0}"},
    [STEP_OPENED] = {"", "an open path carries no current, while the others keep the full voltage:"},
    [STEP_NOT_COUNTED] = {"", "not counted, since only one of its group is ever on and a larger one counts"},
    [STEP_AGREE] = {"", "the two ways agree: {0} and {1}"},
    [STEP_DIFFER] = {"", "the two ways differ: {0} and {1}; look for a slip"},
    [STEP_TWO_ANGLES] = {"I of the heavier line = √(I1² + I2² + 2 × I1 × I2 × cos of the angle between them)",
                         "√(({0})² + ({1})² + 2 × {0} × {1} × cos {2})"},
    [STEP_OUT_OF_STEP] = {"", "loads with a power factor below 1 draw current out of step, so the plain sum {0} is "
                              "more than a clamp meter's {1}"},
    [STEP_PRODUCT_BY_SUM] = {"R = product / sum", "{0} × {1} / ({+})"},
    [STEP_RESISTANCE_ROW] = {"R = sum of those in series", "{+}"},
    [STEP_SMALLEST] = {"", "in parallel the whole is below its smallest part:"},
    [STEP_BOUND_BELOW] = {"bound below = smallest / n, as if all were that small", "{0} / {1}"},
    [STEP_LEAST] = {"least = R − R × tolerance", "{0} − {0} × {1}"},
    [STEP_GREATEST] = {"greatest = R + R × tolerance", "{0} + {0} × {1}"},
    [STEP_TREND] = {"", "{0} before, {1} afterwards:"},
    [STEP_FLOWS_IN] = {"in = sum of what is known to flow in", "{+}"},
    [STEP_FLOWS_OUT] = {"out = sum of what is known to flow out", "{+}"},
    [STEP_CURRENT_MISSING] = {"I = |in − out|", "|{0} − {1}|"},
    [STEP_WAY_MISSING] = {"", "in {0}, out {1}: the missing current flows"},
    [STEP_CONDUCTANCE] = {"G = 1 / R", "1 / {0}"},
    [STEP_CONDUCTANCE_TOTAL] = {"G = sum of all", "{+}"},
    [STEP_CONDUCTANCE_SHARE] = {"I of one = I × G of one / G", "{0} × {1} / {2}"},
    [STEP_INTERNAL] = {"r = (V − V at the terminals) / I", "({0} − {1}) / {2}"},
    [STEP_GROUP_PARALLEL] = {"R of the group = 1 / (sum of 1/R of each)", "1 / ({/})"},
    [STEP_TERMINAL_VOLTAGE] = {"V at the terminals = V − V inside", "{-}"},
    [STEP_UNITS_CURRENT] = {"I = n × I of one", "{0} × {1}"},
    [STEP_CURRENT_LEFT] = {"left = rating − I", "{0} − {1}"},
    [STEP_GROUP_VOLTAGE] = {"V of the group = V − V in front of it", "{-}"},
    [STEP_LOADS_WITHIN] = {"n = whole part of breaker / I of one", "{0} / {1}"},
    [STEP_CONDUCTOR] = {"R = r × L", "{0} × {1}"},
    [STEP_LOOP_CONDUCTORS] = {"R = line + protective conductor", "{+}"},
    [STEP_HOT] = {"R hot = ct × R", "{0} × {1}"},
    [STEP_LOOP] = {"Zs = Ze + R hot", "{+}"},
    [STEP_FAULT_CURRENT] = {"I = Cmin × U0 / Zs", "{0} × {1} / {2}"},
    [STEP_OPENING_CURRENT] = {"Ia = k × In", "{0} × {1}"},
    [STEP_LARGEST_LOOP] = {"Zs at most = Cmin × U0 / Ia", "{0} × {1} / {2}"},
    [STEP_OPENS] = {"", "is the loop of {0} at most {1}?"},
    [STEP_COLD_LIMIT] = {"reading at most = share × Zs at most", "{0} × {1}"},
    [STEP_TOUCH_VOLTAGE] = {"V = I × R of the protective conductor, hot", "{0} × {1}"},
    [STEP_LOOP_LEFT] = {"left for the cable = Zs at most − Ze", "{-}"},
    [STEP_PAIR_PER_LENGTH] = {"r of both, hot = ct × (r of the line + r of the protective conductor)",
                              "{0} × ({1} + {2})"},
    [STEP_LONGEST_RUN] = {"L = whole metres of R left / r of both, hot", "{0} / {1}"},
    [STEP_RING_RUN] = {"L of a ring = 4 × L, since its far point has a quarter of what its cable has", "4 × {0}"},
    [STEP_PLANNED] = {"planning current = factor × I of what is on for long + I of the rest", "{0} × {1} + {2}"},
    [STEP_GROUP_NOW] = {"R of the group = 1 / (sum of 1/R of each), 0 with a short circuit", "1 / ({/})"},
    [STEP_NEAREST_E12] = {"", "nearest to {0} in the series E12:"},
    [STEP_CURRENT_OF_SOME] = {"I = sum of theirs", "{+}"},
    [STEP_NEUTRAL_3] = {"I in the neutral = √(sum of the squares − sum of the products, two by two)",
                        "√(({0})² + ({1})² + ({2})² − {0} × {1} − {1} × {2} − {0} × {2})"},
    [STEP_REASON] = {"", "{1}:"},
    [STEP_KEEPS_WITHIN] = {"", "it cannot pass"},
    [STEP_LARGEST] = {"", "in series the whole is above its largest part:"},
    [STEP_SAME_VOLTAGE] = {"", "in parallel the voltage is the same across each:"},
    [STEP_SAME_FIGURE] = {"", "{0} is"},
    [STEP_FAULT_PART] = {"", "the readings of this part alone do not go together with its marking:"},
    [STEP_FAULT_KIND] = {"",
                         "no current: open; current without voltage: a short circuit; both, but not by its marking: "
                         "another value; voltages that do not add up to the source's: a loose joint:"},
    [STEP_READING] = {"", "as read, for example"},
    [STEP_DIFFERENCE_SHARE] = {"difference = (read − computed) / computed", "({0} − {1}) / {1}"},
    [STEP_FEWEST_PARTS] = {"", "{0} from parts of {1}: {2}, and no fewer parts make it:"},
    [STEP_NOTHING_ON] = {"", "nothing is on: no current flows, and there is no equivalent resistance to speak of"},
    [STEP_RESISTANCE_SUM] = {"R = sum", "{+}", "R = R1 + R2 + …"},
    [STEP_RESISTANCE_LESS] = {"R wanted = R together − R of each known one", "{-}"},
    [STEP_PRODUCT_OVER_SUM] = {"product over sum", "{0} × {1} / ({0} + {1})", "R = R1 R2 / (R1 + R2)"},
    [STEP_CONDUCTANCE_SUM] = {"R = 1 / sum of the conductances", "1 / ({+})", "R = 1 / (G1 + G2 + …)"},
    [STEP_RESISTANCE_INVERSE] = {"R = 1 / G", "1 / {0}"},
    [STEP_VOLTAGE_FROM_POWER] = {"V = √(P × R)", "√({0} × {1})"},
    [STEP_CURRENT_IN_RESISTANCE] = {"I = √(P / R)", "√({0} / {1})"},
    [STEP_VOLTAGE_SHARE] = {"V of one = V × R of one / R together", "{0} × {1} / {2}"},
    [STEP_JUNCTION] = {"", "in {0}; out {>}"},
    [STEP_PUT_BACK] = {"", "{0} put back gives {1}"},
    [STEP_NEAREST_PART] = {"", "{0} is not on sale; the nearest part is {1}"},
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
    add_numbers(&formula, say_template(steps->language, step_rows[kind].formula), operands, operand_count);
    add_numbers(&numbers, say_template(steps->language, step_rows[kind].numbers), operands, operand_count);
    steps->step = memory_grow(steps->step, steps->count, &steps->capacity, sizeof *steps->step);
    steps->step[steps->count++] = (struct step){
        .kind = kind,
        .subject = copy_string(subject == NULL ? "" : subject),
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
        text_add(text, step->subject);
        text_add(text, ": ");
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
