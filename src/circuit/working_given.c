/* What was given, turned into resistances and the source's voltage; how the unknown part is found. */
#include "ampsum/language.h"
#include "working.h"

void working_rating(struct working *working, size_t node)
{
    const struct circuit_node *row = &working->circuit->nodes[node];
    if (row->given == CIRCUIT_WATTS || row->given == CIRCUIT_AMPERES) {
        working_operand_value(working, row->rating_v, CIRCUIT_V);
        working_operand_value(working, row->rating, row->given == CIRCUIT_WATTS ? CIRCUIT_P : CIRCUIT_I);
        working_end_node(working,
                         row->given == CIRCUIT_WATTS ? STEP_RESISTANCE_FROM_POWER : STEP_RESISTANCE_FROM_CURRENT, node,
                         CIRCUIT_R);
    } else if (row->given == CIRCUIT_SIEMENS) {
        working_operand_siemens(working, row->ohm);
        working_end_node(working, STEP_RESISTANCE_INVERSE, node, CIRCUIT_R);
    }
}

/* The whole resistance where a known gives it: I or P at the source's voltage. */
static void step_whole(struct working *working, const struct circuit_known *known)
{
    if (known->quantity == CIRCUIT_R) {
        return;
    }
    working_operand_value(working, working->solution->voltage, CIRCUIT_V);
    working_operand_value(working, known->number.value, known->quantity);
    struct text subject = {0};
    text_add(&subject, say_plain(working->style->language, "solve.total"));
    const struct circuit_figure *whole = working_cell(working, working->circuit->root, CIRCUIT_R);
    working_end_value(working, known->quantity == CIRCUIT_I ? STEP_RESISTANCE_FROM_CURRENT : STEP_RESISTANCE_FROM_POWER,
                      &subject, whole->value, CIRCUIT_R, whole->irrational);
}

static size_t towards(const struct circuit *circuit, size_t group, size_t node)
{
    while (circuit->nodes[node].parent != group) {
        node = circuit->nodes[node].parent;
    }
    return node;
}

/* From the whole inwards: what is known is taken away, until the unknown part is left. */
static void step_taken_away(struct working *working)
{
    const struct circuit *circuit = working->circuit;
    for (size_t group = circuit->root; circuit->nodes[group].kind != CIRCUIT_PART;) {
        const size_t node = towards(circuit, group, circuit->unknown);
        working_operand_cell(working, group, CIRCUIT_R);
        for (size_t i = circuit->nodes[group].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
            if (i != node) {
                working_operand_cell(working, i, CIRCUIT_R);
            }
        }
        working_end_node(working,
                         circuit->nodes[group].kind == CIRCUIT_SERIES ? STEP_RESISTANCE_LESS : STEP_RESISTANCE_MISSING,
                         node, CIRCUIT_R);
        group = node;
    }
}

/* V and I of the known's part, then group by group up to the source. */
void working_climb(struct working *working, const struct circuit_known *known)
{
    const struct circuit *circuit = working->circuit;
    size_t node = known->part == CIRCUIT_NONE ? circuit->root : known->part;
    if (known->quantity == CIRCUIT_P) {
        working_operand_value(working, known->number.value, CIRCUIT_P);
        working_operand_cell(working, node, CIRCUIT_R);
        working_end_node(working, STEP_VOLTAGE_FROM_POWER, node, CIRCUIT_V);
    } else if (known->quantity == CIRCUIT_I) {
        working_operand_value(working, known->number.value, CIRCUIT_I);
        working_operand_cell(working, node, CIRCUIT_R);
        working_end_node(working, STEP_VOLTAGE, node, CIRCUIT_V);
    }
    for (; circuit->nodes[node].parent != CIRCUIT_NONE; node = circuit->nodes[node].parent) {
        const size_t group = circuit->nodes[node].parent;
        if (circuit->nodes[group].kind == CIRCUIT_SERIES) {
            working_operand_cell(working, node, CIRCUIT_V);
            working_operand_cell(working, node, CIRCUIT_R);
            working_end_node(working, STEP_CURRENT_FROM_RESISTANCE, node, CIRCUIT_I);
            working_operand_cell(working, node, CIRCUIT_I);
            working_operand_cell(working, group, CIRCUIT_R);
            working_end_node(working, STEP_VOLTAGE, group, CIRCUIT_V);
        }
    }
}

/* The unknown part put back gives what is known. */
static void step_put_back(struct working *working, const struct circuit_known *known)
{
    const size_t node = known->part == CIRCUIT_NONE ? working->circuit->root : known->part;
    const struct circuit_figure *figure = working_cell(working, node, known->quantity);
    struct text shown = {0};
    struct text subject = {0};
    struct text result = {0};
    const size_t unknown = working->circuit->unknown;
    text_add(&shown, circuit_letter(known->quantity));
    if (known->part != CIRCUIT_NONE) {
        text_printf(&shown, "(%s)", working->circuit->nodes[node].name);
    }
    text_add(&shown, " = ");
    circuit_write_value(&shown, figure->value, known->quantity, working->style);
    text_add(&subject, working->circuit->nodes[unknown].name);
    working_operand_cell(working, unknown, CIRCUIT_R);
    working_add_operand(working, &shown);
    working_end_step(working, STEP_PUT_BACK, &subject, &result, false);
}

static bool gives_whole(const struct working *working, const struct circuit_known *known)
{
    return known->part == CIRCUIT_NONE && known->quantity != CIRCUIT_V &&
           (known->quantity == CIRCUIT_R || working->circuit->has_source_v);
}

void working_unknown(struct working *working)
{
    const struct circuit *circuit = working->circuit;
    for (size_t i = 0; i < circuit->known_count; i++) {
        if (gives_whole(working, &circuit->knowns[i])) {
            step_whole(working, &circuit->knowns[i]);
            step_taken_away(working);
            return;
        }
    }
    for (size_t i = 0; i < circuit->known_count; i++) {
        step_put_back(working, &circuit->knowns[i]);
    }
}
