/* The working of a circuit, step by step, as on a board. */
#include <stdlib.h>

#include "ampsum/arena.h"
#include "ampsum/language.h"
#include "working.h"

const struct circuit_figure *working_cell(const struct working *working, size_t node, enum circuit_quantity quantity)
{
    return &working->solution->figures.node[node].cell[quantity];
}

/* ------------------------------------------------------------------ one step ------------------------------ */

void working_add_operand(struct working *working, struct text *text)
{
    working->operand =
        memory_grow(working->operand, working->operand_count, &working->operand_capacity, sizeof *working->operand);
    working->operand[working->operand_count++] = text->bytes;
    *text = (struct text){0};
}

void working_operand_value(struct working *working, const mpq_t value, enum circuit_quantity quantity)
{
    struct text text = {0};
    circuit_write_value(&text, value, quantity, working->style);
    working_add_operand(working, &text);
}

void working_operand_cell(struct working *working, size_t node, enum circuit_quantity quantity)
{
    working_operand_value(working, working_cell(working, node, quantity)->value, quantity);
}

void working_operand_siemens(struct working *working, const mpq_t ohm)
{
    struct text text = {0};
    mpq_t conductance;
    mpq_init(conductance);
    mpq_inv(conductance, ohm);
    circuit_write_siemens(&text, conductance, working->style);
    working_add_operand(working, &text);
    mpq_clear(conductance);
}

static void working_operand_count(struct working *working, size_t count)
{
    struct text text = {0};
    text_printf(&text, "%zu", count);
    working_add_operand(working, &text);
}

/* Ends the step: subject and result are texts, which are emptied. */
void working_end_step(struct working *working, enum step_kind kind, struct text *subject, struct text *result,
                      bool rounded)
{
    steps_add(working->steps, kind, text_string(subject), (const char *const *)working->operand, working->operand_count,
              result == NULL ? NULL : text_string(result), rounded);
    for (size_t i = 0; i < working->operand_count; i++) {
        free(working->operand[i]);
    }
    working->operand_count = 0;
    text_done(subject);
    if (result != NULL) {
        text_done(result);
    }
}

void working_end_value(struct working *working, enum step_kind kind, struct text *subject, const mpq_t value,
                       enum circuit_quantity quantity, bool irrational)
{
    struct text result = {0};
    const bool rounded = circuit_write_value(&result, value, quantity, working->style);
    working_end_step(working, kind, subject, &result, rounded || irrational);
}

/* Ends it with a figure of the node as its result, the node as its subject. */
void working_end_node(struct working *working, enum step_kind kind, size_t node, enum circuit_quantity quantity)
{
    struct text subject = {0};
    const struct circuit_figure *figure = working_cell(working, node, quantity);
    if (node == working->circuit->root && working->circuit->nodes[node].kind != CIRCUIT_PART) {
        text_add(&subject, say_plain(working->style->language, "solve.total"));
    } else {
        circuit_label(working->circuit, node, &subject);
    }
    working_end_value(working, kind, &subject, figure->value, quantity, figure->irrational);
}

/* ------------------------------------------------------------------ groups made one ----------------------- */

static size_t member_count(const struct circuit *circuit, size_t group)
{
    size_t count = 0;
    for (size_t i = circuit->nodes[group].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        count++;
    }
    return count;
}

static bool are_equal(const struct working *working, size_t group)
{
    const struct circuit *circuit = working->circuit;
    const size_t first = circuit->nodes[group].first;
    for (size_t i = first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        if (!mpq_equal(working_cell(working, i, CIRCUIT_R)->value, working_cell(working, first, CIRCUIT_R)->value)) {
            return false;
        }
    }
    return true;
}

static enum circuit_method method_of(const struct working *working, size_t group)
{
    if (working->style->method != CIRCUIT_BY_SIZE) {
        return working->style->method;
    }
    return member_count(working->circuit, group) == 2 ? CIRCUIT_BY_PRODUCT : CIRCUIT_BY_RECIPROCAL;
}

static void label_group(const struct working *working, size_t group, struct text *subject)
{
    circuit_label(working->circuit, group, subject);
}

/* Product over sum, of two and then of what they make and the next. */
static void step_products(struct working *working, size_t group)
{
    const struct circuit *circuit = working->circuit;
    mpq_t so_far;
    mpq_t sum;
    mpq_init(so_far);
    mpq_init(sum);
    struct text subject = {0};
    for (size_t i = circuit->nodes[group].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        const mpq_srcptr one = working_cell(working, i, CIRCUIT_R)->value;
        struct text shown = {0};
        text_add(&subject, subject.length > 0 ? " | " : "");
        text_add(&subject, circuit->nodes[i].kind != CIRCUIT_PART ? "(" : "");
        circuit_label(circuit, i, &subject);
        text_add(&subject, circuit->nodes[i].kind != CIRCUIT_PART ? ")" : "");
        if (i == circuit->nodes[group].first) {
            mpq_set(so_far, one);
            continue;
        }
        working_operand_value(working, so_far, CIRCUIT_R);
        working_operand_value(working, one, CIRCUIT_R);
        mpq_add(sum, so_far, one);
        mpq_mul(so_far, so_far, one);
        mpq_div(so_far, so_far, sum);
        text_add(&shown, text_string(&subject));
        working_end_value(working, STEP_PRODUCT_OVER_SUM, &shown, so_far, CIRCUIT_R, false);
    }
    text_done(&subject);
    mpq_clear(so_far);
    mpq_clear(sum);
}

/* One sum: of resistances, of their reciprocals, of conductances; or equal parts. */
static void step_sum(struct working *working, size_t group, enum step_kind kind)
{
    const struct circuit *circuit = working->circuit;
    for (size_t i = circuit->nodes[group].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        if (kind == STEP_CONDUCTANCE_SUM) {
            working_operand_siemens(working, working_cell(working, i, CIRCUIT_R)->value);
        } else {
            working_operand_cell(working, i, CIRCUIT_R);
        }
    }
    struct text subject = {0};
    label_group(working, group, &subject);
    const struct circuit_figure *whole = working_cell(working, group, CIRCUIT_R);
    working_end_value(working, kind, &subject, whole->value, CIRCUIT_R, whole->irrational);
}

static void step_equal(struct working *working, size_t group)
{
    struct text subject = {0};
    working_operand_cell(working, working->circuit->nodes[group].first, CIRCUIT_R);
    working_operand_count(working, member_count(working->circuit, group));
    label_group(working, group, &subject);
    const struct circuit_figure *whole = working_cell(working, group, CIRCUIT_R);
    working_end_value(working, STEP_RESISTANCE_EQUAL, &subject, whole->value, CIRCUIT_R, whole->irrational);
}

static void step_parallel(struct working *working, size_t group, enum circuit_method method)
{
    switch (method) {
    case CIRCUIT_BY_PRODUCT:
        step_products(working, group);
        break;
    case CIRCUIT_BY_CONDUCTANCE:
        step_sum(working, group, STEP_CONDUCTANCE_SUM);
        break;
    case CIRCUIT_BY_SIZE:
    case CIRCUIT_BY_RECIPROCAL:
        step_sum(working, group, STEP_RESISTANCE_PARALLEL);
        break;
    }
}

static void step_group(struct working *working, size_t group)
{
    if (working->circuit->nodes[group].kind == CIRCUIT_SERIES) {
        step_sum(working, group, STEP_RESISTANCE_SUM);
    } else if (working->style->method == CIRCUIT_BY_SIZE && are_equal(working, group)) {
        step_equal(working, group);
    } else {
        step_parallel(working, group, method_of(working, group));
    }
}

/* ------------------------------------------------------------------ back outwards ------------------------- */

/* A further one of a count, which has the figures of the one before it. */
bool circuit_is_repeated(const struct circuit *circuit, size_t node)
{
    const struct circuit_node *row = &circuit->nodes[node];
    if (row->run == 0 || row->parent == CIRCUIT_NONE) {
        return false;
    }
    for (size_t i = circuit->nodes[row->parent].first; i != CIRCUIT_NONE && i != node; i = circuit->nodes[i].next) {
        if (circuit->nodes[i].next == node) {
            return circuit->nodes[i].run == row->run;
        }
    }
    return false;
}

static size_t circuit_last_repeated(const struct circuit *circuit, size_t node)
{
    size_t last = node;
    while (circuit->nodes[last].next != CIRCUIT_NONE && circuit_is_repeated(circuit, circuit->nodes[last].next)) {
        last = circuit->nodes[last].next;
    }
    return last;
}

void circuit_row_label(const struct circuit *circuit, int language, size_t node, struct text *text)
{
    const size_t last = circuit_last_repeated(circuit, node);
    struct text first = {0};
    circuit_label(circuit, node, &first);
    if (last == node) {
        text_add(text, text_string(&first));
    } else {
        say(text, language, "solve.each-to", "first", text_string(&first), "last", circuit->nodes[last].name,
            (const char *)NULL);
    }
    text_done(&first);
}

static void step_member(struct working *working, size_t group, size_t node)
{
    const bool series = working->circuit->nodes[group].kind == CIRCUIT_SERIES;
    const enum circuit_quantity found = series ? CIRCUIT_V : CIRCUIT_I;
    struct text subject = {0};
    working_operand_cell(working, group, series ? CIRCUIT_I : CIRCUIT_V);
    working_operand_cell(working, node, CIRCUIT_R);
    circuit_row_label(working->circuit, working->style->language, node, &subject);
    const struct circuit_figure *figure = working_cell(working, node, found);
    working_end_value(working, series ? STEP_VOLTAGE : STEP_CURRENT_FROM_RESISTANCE, &subject, figure->value, found,
                      figure->irrational);
}

static void step_outwards(struct working *working, size_t node)
{
    const struct circuit *circuit = working->circuit;
    for (size_t i = circuit->nodes[node].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        if (!circuit_is_repeated(circuit, i)) {
            step_member(working, node, i);
        }
    }
    for (size_t i = circuit->nodes[node].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        step_outwards(working, i);
    }
}

static void step_powers(struct working *working)
{
    const struct circuit *circuit = working->circuit;
    for (size_t i = 0; i < circuit->part_count; i++) {
        const size_t node = circuit->parts[i];
        if (circuit_is_repeated(circuit, node)) {
            continue;
        }
        struct text subject = {0};
        working_operand_cell(working, node, CIRCUIT_V);
        working_operand_cell(working, node, CIRCUIT_I);
        circuit_row_label(circuit, working->style->language, node, &subject);
        const struct circuit_figure *power = working_cell(working, node, CIRCUIT_P);
        working_end_value(working, STEP_POWER_FROM_CURRENT, &subject, power->value, CIRCUIT_P, power->irrational);
    }
}

/* ------------------------------------------------------------------ all of it ----------------------------- */

static struct working begin(const struct circuit *circuit, const struct circuit_solution *solution,
                            const struct circuit_style *style, struct steps *steps)
{
    steps->language = style->language;
    return (struct working){.circuit = circuit, .solution = solution, .style = style, .steps = steps};
}

void circuit_steps_found(const struct circuit *circuit, const struct circuit_solution *solution,
                         const struct circuit_style *style, struct steps *steps)
{
    struct working working = begin(circuit, solution, style, steps);
    for (size_t i = 0; i < circuit->part_count; i++) {
        if (!circuit_is_repeated(circuit, circuit->parts[i])) {
            working_rating(&working, circuit->parts[i]);
        }
    }
    if (circuit->unknown != CIRCUIT_NONE) {
        working_unknown(&working);
    }
    free(working.operand);
}

/* The first known that is no resistance, from which the source's voltage follows. */
static const struct circuit_known *reading(const struct circuit *circuit)
{
    for (size_t i = 0; i < circuit->known_count; i++) {
        if (circuit->knowns[i].quantity != CIRCUIT_R) {
            return &circuit->knowns[i];
        }
    }
    return NULL;
}

static void step_source(struct working *working)
{
    const struct circuit *circuit = working->circuit;
    if (!circuit->has_source_v && reading(circuit) != NULL) {
        working_climb(working, reading(circuit));
    }
    working_operand_cell(working, circuit->root, CIRCUIT_V);
    working_operand_cell(working, circuit->root, CIRCUIT_R);
    working_end_node(working, STEP_CURRENT_FROM_RESISTANCE, circuit->root, CIRCUIT_I);
}

void circuit_steps_main(const struct circuit *circuit, const struct circuit_solution *solution,
                        const struct circuit_style *style, struct steps *steps)
{
    struct working working = begin(circuit, solution, style, steps);
    size_t *groups = memory_resize(NULL, circuit->node_count, sizeof *groups);
    const size_t count = circuit_groups(circuit, CIRCUIT_PART, true, groups);
    for (size_t i = 0; i < count; i++) {
        step_group(&working, groups[i]);
    }
    if (solution->has_voltage) {
        step_source(&working);
        step_outwards(&working, circuit->root);
        step_powers(&working);
    }
    free(groups);
    free(working.operand);
}

static void step_agree(struct working *working, size_t node, enum circuit_quantity quantity,
                       const struct circuit_figures *second)
{
    const struct circuit_figure *first = working_cell(working, node, quantity);
    const struct circuit_figure *other = &second->node[node].cell[quantity];
    struct text subject = {0};
    working_operand_value(working, first->value, quantity);
    working_operand_value(working, other->value, quantity);
    circuit_label(working->circuit, node, &subject);
    working_end_step(working, mpq_equal(first->value, other->value) ? STEP_AGREE : STEP_DIFFER, &subject, NULL, false);
}

/* Currents by division. */
static void step_shares(struct working *working, size_t group)
{
    const struct circuit *circuit = working->circuit;
    for (size_t i = circuit->nodes[group].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        if (circuit_is_repeated(circuit, i)) {
            continue;
        }
        struct text subject = {0};
        working_operand_cell(working, group, CIRCUIT_I);
        working_operand_cell(working, group, CIRCUIT_R);
        working_operand_cell(working, i, CIRCUIT_R);
        circuit_row_label(circuit, working->style->language, i, &subject);
        const struct circuit_figure *current = working_cell(working, i, CIRCUIT_I);
        working_end_value(working, STEP_CURRENT_SHARE, &subject, current->value, CIRCUIT_I, current->irrational);
    }
}

void circuit_steps_second(const struct circuit *circuit, const struct circuit_solution *solution,
                          const struct circuit_style *style, struct steps *steps)
{
    struct working working = begin(circuit, solution, style, steps);
    struct circuit_figures second;
    size_t *groups = memory_resize(NULL, circuit->node_count, sizeof *groups);
    const size_t count = circuit_groups(circuit, CIRCUIT_PARALLEL, true, groups);
    circuit_second_way(circuit, solution, &second);
    for (size_t i = 0; i < count; i++) {
        const bool by_product = method_of(&working, groups[i]) == CIRCUIT_BY_PRODUCT || are_equal(&working, groups[i]);
        step_parallel(&working, groups[i], by_product ? CIRCUIT_BY_RECIPROCAL : CIRCUIT_BY_PRODUCT);
        step_agree(&working, groups[i], CIRCUIT_R, &second);
        if (solution->has_voltage) {
            step_shares(&working, groups[i]);
        }
    }
    circuit_figures_done(&second);
    free(groups);
    free(working.operand);
}

static void step_junction(struct working *working, size_t group)
{
    const struct circuit *circuit = working->circuit;
    struct text subject = {0};
    working_operand_cell(working, group, CIRCUIT_I);
    for (size_t i = circuit->nodes[group].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        working_operand_cell(working, i, CIRCUIT_I);
    }
    circuit_junction_label(circuit, working->style->language, group, &subject);
    working_end_step(working, STEP_JUNCTION, &subject, NULL, false);
}

static void step_balance(struct working *working)
{
    const struct circuit *circuit = working->circuit;
    const struct circuit_figure *source = working_cell(working, circuit->root, CIRCUIT_P);
    struct text subject = {0};
    mpq_t sum;
    mpq_init(sum);
    circuit_parts_power(circuit, &working->solution->figures, sum);
    for (size_t i = 0; i < circuit->part_count; i++) {
        working_operand_cell(working, circuit->parts[i], CIRCUIT_P);
    }
    text_add(&subject, say_plain(working->style->language, "solve.parts"));
    working_end_value(working, STEP_POWER_SUM, &subject, sum, CIRCUIT_P, source->irrational);
    working_operand_cell(working, circuit->root, CIRCUIT_V);
    working_operand_cell(working, circuit->root, CIRCUIT_I);
    text_add(&subject, say_plain(working->style->language, "solve.source"));
    working_end_value(working, STEP_POWER_FROM_CURRENT, &subject, source->value, CIRCUIT_P, source->irrational);
    mpq_clear(sum);
}

void circuit_steps_checks(const struct circuit *circuit, const struct circuit_solution *solution,
                          const struct circuit_style *style, struct steps *steps)
{
    struct working working = begin(circuit, solution, style, steps);
    size_t *groups = memory_resize(NULL, circuit->node_count, sizeof *groups);
    const size_t count = circuit_groups(circuit, CIRCUIT_PARALLEL, false, groups);
    for (size_t i = 0; i < count && solution->has_voltage; i++) {
        step_junction(&working, groups[i]);
    }
    if (solution->has_voltage) {
        step_balance(&working);
    }
    free(groups);
    free(working.operand);
}
