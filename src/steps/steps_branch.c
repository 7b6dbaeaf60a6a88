/* The working of one branch, put together from the steps of steps.c. */
#include <math.h>
#include <stdlib.h>

#include "ampsum/arena.h"
#include "ampsum/language.h"
#include "ampsum/steps.h"

/* Figures as texts, so that a step can name several. */
struct figures {
    struct text *text;
    const char **string;
    bool rounded; /* the last one added */
    size_t count;
    size_t capacity;
};

/* The sums that both ways lead to. */
struct totals {
    double power_w;
    double reactive_var;
    double apparent_va; /* from the two sums */
    double current_a;   /* from the apparent power */
    double plain_sum_a; /* of the currents */
    double reciprocal_ohm;
    double planning_a;
    size_t counted;
};

static const double agree_relative = 1e-9; /* rounding of doubles stays far below */

static void figures_done(struct figures *figures)
{
    for (size_t i = 0; i < figures->count; i++) {
        text_done(&figures->text[i]);
    }
    free(figures->text);
    free((void *)figures->string);
    *figures = (struct figures){0};
}

static void figures_add(struct figures *figures, double value, const char *unit)
{
    figures->text = memory_grow(figures->text, figures->count, &figures->capacity, sizeof *figures->text);
    figures->text[figures->count] = (struct text){0};
    figures->rounded = steps_figure(&figures->text[figures->count], value, unit);
    figures->count++;
}

/* Adds the step whose operands were collected and whose last figure is the result; empties the figures. */
static void figures_step(struct figures *figures, struct steps *steps, enum step_kind kind, const char *subject,
                         bool has_result)
{
    figures->string = memory_resize((void *)figures->string, figures->count + 1, sizeof *figures->string);
    for (size_t i = 0; i < figures->count; i++) {
        figures->string[i] = text_string(&figures->text[i]);
    }
    size_t operands = figures->count - (has_result ? 1 : 0);
    steps_add(steps, kind, subject, figures->string, operands, has_result ? figures->string[operands] : NULL,
              figures->rounded);
    figures_done(figures);
}

static void two_operands(struct steps *steps, enum step_kind kind, const char *subject, double first,
                         const char *first_unit, double second, const char *second_unit, double result,
                         const char *unit)
{
    struct figures figures = {0};
    figures_add(&figures, first, first_unit);
    figures_add(&figures, second, second_unit);
    figures_add(&figures, result, unit);
    figures_step(&figures, steps, kind, subject, true);
}

static void compare(struct steps *steps, double first, double other, const char *unit)
{
    struct figures figures = {0};
    figures_add(&figures, first, unit);
    figures_add(&figures, other, unit);
    bool agree = fabs(first - other) <= agree_relative * fmax(fabs(first), fabs(other));
    figures_step(&figures, steps, agree ? STEP_AGREE : STEP_DIFFER, say_plain(steps->language, "word.check"), false);
}

static double line_factor(int poles)
{
    return poles == 3 ? sqrt(3) : 1;
}

static bool has_reactive(const struct totals *totals)
{
    return totals->reactive_var > agree_relative * totals->apparent_va;
}

static struct totals totals_of(const struct steps_branch_input *input)
{
    struct totals totals = {0};
    double siemens = 0;
    for (size_t i = 0; i < input->load_count; i++) {
        const struct steps_load *load = &input->loads[i];
        if (!load->counted || !(load->apparent_va > 0)) {
            continue;
        }
        totals.counted++;
        totals.power_w += load->power_w;
        totals.reactive_var += load->reactive_var;
        totals.plain_sum_a += load->current_a;
        totals.planning_a += load->planning_a;
        siemens += load->power_w / (input->voltage_v * input->voltage_v);
    }
    totals.apparent_va = hypot(totals.power_w, totals.reactive_var);
    totals.current_a = totals.apparent_va / (line_factor(input->poles) * input->voltage_v);
    totals.reciprocal_ohm = 1 / siemens;
    return totals;
}

static void load_steps(const struct steps_branch_input *input, const struct steps_load *load, struct steps *steps)
{
    double voltage_v = load->to_neutral ? input->neutral_v : input->voltage_v;
    if (load->units > 1) {
        two_operands(steps, STEP_UNITS_POWER, load->name, load->units, "", load->power_w / load->units, "W",
                     load->power_w, "W");
    }
    if (load->power_w > 0) {
        two_operands(steps, STEP_RESISTANCE_FROM_POWER, load->name, voltage_v, "V", load->power_w, "W",
                     voltage_v * voltage_v / load->power_w, "Ω");
    }
    bool reactive = load->reactive_var > agree_relative * load->apparent_va;
    if (input->poles == 3) {
        two_operands(steps, STEP_CURRENT_FROM_APPARENT_3, load->name, load->apparent_va, "VA", voltage_v, "V",
                     load->current_a, "A");
    } else if (reactive) {
        two_operands(steps, STEP_CURRENT_FROM_APPARENT, load->name, load->apparent_va, "VA", voltage_v, "V",
                     load->current_a, "A");
    } else {
        two_operands(steps, STEP_CURRENT_FROM_POWER, load->name, load->power_w, "W", voltage_v, "V", load->current_a,
                     "A");
    }
    if (!load->counted) {
        steps_add(steps, STEP_NOT_COUNTED, load->name, NULL, 0, NULL, false);
    }
}

enum addend { ADD_CURRENT, ADD_POWER, ADD_REACTIVE, ADD_RESISTANCE, ADD_PLANNING };

static double addend_of(const struct steps_branch_input *input, const struct steps_load *load, enum addend addend)
{
    switch (addend) {
    case ADD_CURRENT:
        return load->current_a;
    case ADD_POWER:
        return load->power_w;
    case ADD_REACTIVE:
        return load->reactive_var;
    case ADD_RESISTANCE:
        return input->voltage_v * input->voltage_v / load->power_w;
    default:
        return load->planning_a;
    }
}

/* A step over all counted loads. */
static void sum_step(const struct steps_branch_input *input, struct steps *steps, enum step_kind kind,
                     enum addend addend, const char *unit, double result)
{
    struct figures figures = {0};
    for (size_t i = 0; i < input->load_count; i++) {
        const struct steps_load *load = &input->loads[i];
        if (load->counted && load->apparent_va > 0 && (addend != ADD_REACTIVE || load->reactive_var > 0)) {
            figures_add(&figures, addend_of(input, load, addend), unit);
        }
    }
    figures_add(&figures, result, unit);
    figures_step(&figures, steps, kind, say_plain(steps->language, "working.all-together"), true);
}

/* Loads without reactive power: everything can be found in two ways. */
static void resistive_totals(const struct steps_branch_input *input, const struct totals *totals, struct steps *steps)
{
    double voltage_v = input->voltage_v;
    double other_current_a = totals->power_w / voltage_v;
    double other_ohm = voltage_v / totals->plain_sum_a;
    double other_w = voltage_v * totals->plain_sum_a;
    sum_step(input, steps, STEP_CURRENT_SUM, ADD_CURRENT, "A", totals->plain_sum_a);
    sum_step(input, steps, STEP_POWER_SUM, ADD_POWER, "W", totals->power_w);
    two_operands(steps, STEP_CURRENT_FROM_POWER, say_plain(steps->language, "working.other-way"), totals->power_w, "W",
                 voltage_v, "V", other_current_a, "A");
    compare(steps, totals->plain_sum_a, other_current_a, "A");
    sum_step(input, steps, STEP_RESISTANCE_PARALLEL, ADD_RESISTANCE, "Ω", totals->reciprocal_ohm);
    two_operands(steps, STEP_RESISTANCE_FROM_CURRENT, say_plain(steps->language, "working.other-way"), voltage_v, "V",
                 totals->plain_sum_a, "A", other_ohm, "Ω");
    compare(steps, totals->reciprocal_ohm, other_ohm, "Ω");
    two_operands(steps, STEP_POWER_FROM_CURRENT, say_plain(steps->language, "working.power-other-way"), voltage_v, "V",
                 totals->plain_sum_a, "A", other_w, "W");
    compare(steps, totals->power_w, other_w, "W");
}

/* Motors and the like: active and reactive powers add up apart, and the current follows from both. */
static void complex_totals(const struct steps_branch_input *input, const struct totals *totals, struct steps *steps)
{
    double voltage_v = input->voltage_v;
    sum_step(input, steps, STEP_POWER_SUM, ADD_POWER, "W", totals->power_w);
    if (has_reactive(totals)) {
        sum_step(input, steps, STEP_REACTIVE_SUM, ADD_REACTIVE, "var", totals->reactive_var);
    }
    two_operands(steps, STEP_APPARENT_FROM_POWERS, say_plain(steps->language, "working.all-together"), totals->power_w,
                 "W", totals->reactive_var, "var", totals->apparent_va, "VA");
    two_operands(steps, STEP_POWER_FACTOR, say_plain(steps->language, "working.all-together"), totals->power_w, "W",
                 totals->apparent_va, "VA", totals->power_w / totals->apparent_va, "");
    bool three_pole = input->poles == 3;
    two_operands(steps, three_pole ? STEP_CURRENT_FROM_APPARENT_3 : STEP_CURRENT_FROM_APPARENT,
                 say_plain(steps->language, "working.all-together"), totals->apparent_va, "VA", voltage_v, "V",
                 totals->current_a, "A");
    if (totals->plain_sum_a > totals->current_a * (1 + agree_relative)) {
        struct figures figures = {0};
        figures_add(&figures, totals->plain_sum_a, "A");
        figures_add(&figures, totals->current_a, "A");
        figures_step(&figures, steps, STEP_OUT_OF_STEP, say_plain(steps->language, "word.check"), false);
    } else {
        sum_step(input, steps, STEP_CURRENT_SUM, ADD_CURRENT, "A", totals->plain_sum_a);
        compare(steps, totals->current_a, totals->plain_sum_a, "A");
    }
    if (three_pole) {
        two_operands(steps, STEP_IMPEDANCE_3, say_plain(steps->language, "working.all-together"), voltage_v, "V",
                     totals->apparent_va, "VA", voltage_v * voltage_v / totals->apparent_va, "Ω");
    } else {
        two_operands(steps, STEP_IMPEDANCE, say_plain(steps->language, "working.all-together"), voltage_v, "V",
                     totals->current_a, "A", voltage_v / totals->current_a, "Ω");
    }
}

/* Those to the neutral, or those between the lines: one sum, and how far its current lags its own voltage. */
struct side {
    double power_w;
    double reactive_var;
    double voltage_v;
    size_t counted;
};

static struct side side_of(const struct steps_branch_input *input, bool to_neutral)
{
    struct side side = {.voltage_v = to_neutral ? input->neutral_v : input->voltage_v};
    for (size_t i = 0; i < input->load_count; i++) {
        const struct steps_load *load = &input->loads[i];
        if (load->counted && load->apparent_va > 0 && load->to_neutral == to_neutral) {
            side.power_w += load->power_w;
            side.reactive_var += load->reactive_var;
            side.counted++;
        }
    }
    return side;
}

static double side_steps(const struct side *side, const char *name, struct steps *steps)
{
    const double apparent_va = hypot(side->power_w, side->reactive_var);
    if (side->reactive_var > agree_relative * apparent_va) {
        two_operands(steps, STEP_APPARENT_FROM_POWERS, name, side->power_w, "W", side->reactive_var, "var", apparent_va,
                     "VA");
        two_operands(steps, STEP_CURRENT_FROM_APPARENT, name, apparent_va, "VA", side->voltage_v, "V",
                     apparent_va / side->voltage_v, "A");
    } else {
        two_operands(steps, STEP_CURRENT_FROM_POWER, name, side->power_w, "W", side->voltage_v, "V",
                     apparent_va / side->voltage_v, "A");
    }
    return apparent_va / side->voltage_v;
}

/*
 * Halves to the neutral beside loads between the lines: what flows between the lines leads one line's voltage by 30
 * degree and lags the other's by as much; the line on which the two currents come nearer to each other is the heavier.
 */
static void mixed_totals(const struct steps_branch_input *input, struct steps *steps)
{
    const double degree = 57.29577951308232;
    const double between_lines = 30;
    const struct side neutral = side_of(input, true);
    const struct side lines = side_of(input, false);
    const double neutral_a = side_steps(&neutral, say_plain(steps->language, "working.to-neutral"), steps);
    const double lines_a = side_steps(&lines, say_plain(steps->language, "working.between-lines"), steps);
    const double lag = atan2(neutral.reactive_var, neutral.power_w) - atan2(lines.reactive_var, lines.power_w);
    const double angle = fabs(between_lines - fabs(lag) * degree);
    struct figures figures = {0};
    figures_add(&figures, neutral_a, "A");
    figures_add(&figures, lines_a, "A");
    figures_add(&figures, angle, "°");
    figures_add(&figures,
                sqrt(neutral_a * neutral_a + lines_a * lines_a + 2 * neutral_a * lines_a * cos(angle / degree)), "A");
    figures_step(&figures, steps, STEP_TWO_ANGLES, say_plain(steps->language, "working.all-together"), true);
}

/* What is planned for before the factors, where that is not the load's own current. */
static void planned_of_load(const struct steps_load *load, double planned_a, struct steps *steps)
{
    if (planned_a < load->current_a * (1 - agree_relative)) {
        two_operands(steps, STEP_PLANNING_COOKING, load->name, planned_a / load->current_a, "", load->current_a, "A",
                     planned_a, "A");
    } else if (planned_a > load->current_a * (1 + agree_relative)) {
        two_operands(steps, STEP_PLANNING_PLATE, load->name, load->units, "", load->planned_a, "A", planned_a, "A");
    }
}

static void planning_of_load(const struct steps_branch_input *input, const struct steps_load *load, struct steps *steps)
{
    struct figures figures = {0};
    const double planned_a = load->units * load->planned_a;
    planned_of_load(load, planned_a, steps);
    if (load->largest_motor && input->largest_motor_factor > 1) {
        figures_add(&figures, planned_a, "A");
        figures_add(&figures, input->largest_motor_factor, "");
        figures_add(&figures, load->planned_a, "A");
        figures_add(&figures, load->planning_a, "A");
        figures_step(&figures, steps, STEP_PLANNING_MOTOR, load->name, true);
    } else if (load->continuous && input->continuous_factor > 1) {
        figures_add(&figures, input->continuous_factor, "");
        figures_add(&figures, planned_a, "A");
        figures_add(&figures, input->continuous_hours, "h");
        figures_add(&figures, load->planning_a, "A");
        figures_step(&figures, steps, STEP_PLANNING_CONTINUOUS, load->name, true);
    }
}

static void planning_steps(const struct steps_branch_input *input, const struct totals *totals, struct steps *steps)
{
    for (size_t i = 0; i < input->load_count; i++) {
        if (input->loads[i].counted) {
            planning_of_load(input, &input->loads[i], steps);
        }
    }
    if (totals->counted > 0) {
        sum_step(input, steps, STEP_PLANNING_SUM, ADD_PLANNING, "A", totals->planning_a);
    }
    two_operands(steps, STEP_HEADROOM, say_plain(steps->language, "working.breaker"), input->breaker_a, "A",
                 totals->planning_a, "A", input->breaker_a - totals->planning_a, "A");
}

static void energy_steps(const struct steps_branch_input *input, struct steps *steps)
{
    for (size_t i = 0; i < input->load_count; i++) {
        const struct steps_load *load = &input->loads[i];
        const double whole_w = load->whole_w > 0 ? load->whole_w : load->power_w;
        if (load->hours_day > 0 && whole_w > 0) {
            two_operands(steps, STEP_ENERGY, load->name, whole_w / 1000, "kW", load->hours_day, "h",
                         whole_w / 1000 * load->hours_day, "kWh");
        }
    }
}

void steps_branch(const struct steps_branch_input *input, struct steps *steps)
{
    struct totals totals = totals_of(input);
    for (size_t i = 0; i < input->load_count; i++) {
        if (input->loads[i].apparent_va > 0) {
            load_steps(input, &input->loads[i], steps);
        }
    }
    if (totals.counted == 0) {
        steps_add(steps, STEP_NOTHING_ON, NULL, NULL, 0, NULL, false);
    } else if (side_of(input, true).counted > 0) {
        mixed_totals(input, steps);
    } else if (has_reactive(&totals) || input->poles == 3) {
        complex_totals(input, &totals, steps);
    } else {
        resistive_totals(input, &totals, steps);
    }
    planning_steps(input, &totals, steps);
    energy_steps(input, steps);
}
