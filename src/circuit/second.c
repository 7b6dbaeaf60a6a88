/* The same circuit worked another way, to hold against the first. */
#include <stdlib.h>

#include "ampsum/arena.h"
#include "parts.h"

/* R1 R2 / (R1 + R2) */
static void product_over_sum(mpq_t ret, const mpq_t first, const mpq_t second)
{
    mpq_t sum;
    mpq_init(sum);
    mpq_add(sum, first, second);
    mpq_mul(ret, first, second);
    mpq_div(ret, ret, sum);
    mpq_clear(sum);
}

/* Sums in a row; side by side product over sum, one part after the other. */
static void inwards(const struct circuit *circuit, const struct circuit_solution *solution, size_t node,
                    struct circuit_figures *second)
{
    const struct circuit_node *row = &circuit->nodes[node];
    struct circuit_figure *whole = &second->node[node].cell[CIRCUIT_R];
    whole->state = CIRCUIT_FINITE;
    if (row->kind == CIRCUIT_PART) {
        mpq_set(whole->value, solution->ohm[node]);
        return;
    }
    for (size_t i = row->first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        inwards(circuit, solution, i, second);
        const struct circuit_figure *one = &second->node[i].cell[CIRCUIT_R];
        if (i == row->first) {
            mpq_set(whole->value, one->value);
        } else if (row->kind == CIRCUIT_SERIES) {
            mpq_add(whole->value, whole->value, one->value);
        } else {
            product_over_sum(whole->value, whole->value, one->value);
        }
    }
}

/* share of `of`: of * over / under */
static void set_share(struct circuit_figure *figure, const struct circuit_figure *of, const struct circuit_figure *over,
                      const struct circuit_figure *under)
{
    figure->state = CIRCUIT_FINITE;
    mpq_mul(figure->value, of->value, over->value);
    mpq_div(figure->value, figure->value, under->value);
}

/* In a row the voltage divides as the resistances, side by side the current against them. */
static void outwards(const struct circuit *circuit, size_t node, struct circuit_figures *second)
{
    const struct circuit_node *row = &circuit->nodes[node];
    const struct circuit_figure *whole = second->node[node].cell;
    for (size_t i = row->first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        struct circuit_figure *one = second->node[i].cell;
        one[CIRCUIT_V].state = one[CIRCUIT_I].state = CIRCUIT_FINITE;
        if (row->kind == CIRCUIT_SERIES) {
            set_share(&one[CIRCUIT_V], &whole[CIRCUIT_V], &one[CIRCUIT_R], &whole[CIRCUIT_R]);
            mpq_div(one[CIRCUIT_I].value, one[CIRCUIT_V].value, one[CIRCUIT_R].value);
        } else {
            set_share(&one[CIRCUIT_I], &whole[CIRCUIT_I], &whole[CIRCUIT_R], &one[CIRCUIT_R]);
            mpq_mul(one[CIRCUIT_V].value, one[CIRCUIT_I].value, one[CIRCUIT_R].value);
        }
        outwards(circuit, i, second);
    }
}

static bool agree(const struct circuit *circuit, const struct circuit_figures *first,
                  const struct circuit_figures *second)
{
    for (size_t i = 0; i < circuit->node_count; i++) {
        for (size_t q = 0; q <= CIRCUIT_I && !circuit->nodes[i].dead; q++) {
            const struct circuit_figure *one = &first->node[i].cell[q];
            const struct circuit_figure *two = &second->node[i].cell[q];
            if (one->state == CIRCUIT_FINITE && !mpq_equal(one->value, two->value)) {
                return false;
            }
        }
    }
    return true;
}

bool circuit_second_way(const struct circuit *circuit, const struct circuit_solution *solution,
                        struct circuit_figures *ret_second)
{
    circuit_figures_init(ret_second, circuit->node_count);
    inwards(circuit, solution, circuit->root, ret_second);
    struct circuit_figure *whole = ret_second->node[circuit->root].cell;
    if (solution->has_voltage) {
        whole[CIRCUIT_V].state = whole[CIRCUIT_I].state = CIRCUIT_FINITE;
        mpq_set(whole[CIRCUIT_V].value, solution->voltage);
        mpq_div(whole[CIRCUIT_I].value, solution->voltage, whole[CIRCUIT_R].value);
        outwards(circuit, circuit->root, ret_second);
    }
    return agree(circuit, &solution->figures, ret_second);
}
