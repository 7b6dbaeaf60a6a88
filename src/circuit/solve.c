/* Figures of a circuit whose resistances are all known, faults included, in exact fractions. */
#include <stdlib.h>

#include "ampsum/arena.h"
#include "parts.h"

struct solver {
    const struct circuit *circuit;
    mpq_t *ohm;
    const enum circuit_break *broken;
    struct circuit_figures *figures;
    size_t target; /* outwards to this node alone; CIRCUIT_NONE: to all */
};

void circuit_figures_init(struct circuit_figures *figures, size_t count)
{
    *figures = (struct circuit_figures){.node_count = count};
    figures->node = memory_resize(NULL, count, sizeof *figures->node);
    for (size_t i = 0; i < count; i++) {
        for (size_t q = 0; q < CIRCUIT_QUANTITIES; q++) {
            figures->node[i].cell[q] = (struct circuit_figure){0};
            mpq_init(figures->node[i].cell[q].value);
        }
    }
}

void circuit_figures_done(struct circuit_figures *figures)
{
    for (size_t i = 0; i < figures->node_count; i++) {
        for (size_t q = 0; q < CIRCUIT_QUANTITIES; q++) {
            mpq_clear(figures->node[i].cell[q].value);
        }
    }
    free(figures->node);
    *figures = (struct circuit_figures){0};
}

static struct circuit_figure *cell(const struct solver *solver, size_t node, enum circuit_quantity quantity)
{
    return &solver->figures->node[node].cell[quantity];
}

static void set_finite(struct circuit_figure *figure, mpq_srcptr value)
{
    figure->state = CIRCUIT_FINITE;
    mpq_set(figure->value, value);
}

static void set_zero(struct circuit_figure *figure)
{
    figure->state = CIRCUIT_FINITE;
    mpq_set_ui(figure->value, 0, 1);
}

static void take(struct circuit_figure *figure, const struct circuit_figure *from)
{
    figure->state = from->state;
    mpq_set(figure->value, from->value);
}

/* ------------------------------------------------------------------ inwards: resistances ------------------ */

static void part_resistance(const struct solver *solver, size_t node)
{
    struct circuit_figure *figure = cell(solver, node, CIRCUIT_R);
    const enum circuit_break broken = solver->broken == NULL ? CIRCUIT_WHOLE : solver->broken[node];
    if (broken == CIRCUIT_OPENED) {
        figure->state = CIRCUIT_INFINITE;
    } else if (broken == CIRCUIT_SHORTED) {
        set_zero(figure);
    } else {
        set_finite(figure, solver->ohm == NULL ? solver->circuit->nodes[node].ohm : solver->ohm[node]);
    }
}

static void resistance(const struct solver *solver, size_t node);

static void series_resistance(const struct solver *solver, size_t node)
{
    struct circuit_figure *sum = cell(solver, node, CIRCUIT_R);
    set_zero(sum);
    for (size_t i = solver->circuit->nodes[node].first; i != CIRCUIT_NONE; i = solver->circuit->nodes[i].next) {
        resistance(solver, i);
        const struct circuit_figure *one = cell(solver, i, CIRCUIT_R);
        if (one->state == CIRCUIT_INFINITE) {
            sum->state = CIRCUIT_INFINITE;
        } else {
            mpq_add(sum->value, sum->value, one->value);
        }
    }
}

static void parallel_resistance(const struct solver *solver, size_t node)
{
    struct circuit_figure *together = cell(solver, node, CIRCUIT_R);
    bool shorted = false;
    mpq_t conductance;
    mpq_t one;
    mpq_init(conductance);
    mpq_init(one);
    for (size_t i = solver->circuit->nodes[node].first; i != CIRCUIT_NONE; i = solver->circuit->nodes[i].next) {
        resistance(solver, i);
        const struct circuit_figure *figure = cell(solver, i, CIRCUIT_R);
        shorted = shorted || (figure->state == CIRCUIT_FINITE && mpq_sgn(figure->value) == 0);
        if (figure->state == CIRCUIT_FINITE && mpq_sgn(figure->value) > 0) {
            mpq_inv(one, figure->value);
            mpq_add(conductance, conductance, one);
        }
    }
    if (shorted) {
        set_zero(together);
    } else if (mpq_sgn(conductance) == 0) {
        together->state = CIRCUIT_INFINITE;
    } else {
        mpq_inv(one, conductance);
        set_finite(together, one);
    }
    mpq_clear(conductance);
    mpq_clear(one);
}

/* Depth: the brackets' own. */
static void resistance(const struct solver *solver, size_t node)
{
    switch (solver->circuit->nodes[node].kind) {
    case CIRCUIT_PART:
        part_resistance(solver, node);
        break;
    case CIRCUIT_SERIES:
        series_resistance(solver, node);
        break;
    case CIRCUIT_PARALLEL:
        parallel_resistance(solver, node);
        break;
    }
}

/* ------------------------------------------------------------------ outwards: voltages, currents ---------- */

static size_t count_children(const struct solver *solver, size_t node, enum circuit_state state, bool zero)
{
    size_t count = 0;
    for (size_t i = solver->circuit->nodes[node].first; i != CIRCUIT_NONE; i = solver->circuit->nodes[i].next) {
        const struct circuit_figure *figure = cell(solver, i, CIRCUIT_R);
        count += figure->state == state && (!zero || mpq_sgn(figure->value) == 0);
    }
    return count;
}

/*
 * One current through all. Where the row is open the whole voltage stands across its one gap; across each of several
 * it is not known.
 */
static void series_child(const struct solver *solver, size_t node, size_t child, size_t gaps)
{
    const struct circuit_figure *resistance_here = cell(solver, child, CIRCUIT_R);
    const struct circuit_figure *current = cell(solver, node, CIRCUIT_I);
    struct circuit_figure *voltage = cell(solver, child, CIRCUIT_V);
    take(cell(solver, child, CIRCUIT_I), current);
    if (resistance_here->state == CIRCUIT_INFINITE) {
        const struct circuit_figure *whole = cell(solver, node, CIRCUIT_V);
        take(voltage, whole);
        voltage->state = gaps == 1 ? whole->state : CIRCUIT_NO_FIGURE;
    } else if (current->state == CIRCUIT_FINITE) {
        voltage->state = CIRCUIT_FINITE;
        mpq_mul(voltage->value, current->value, resistance_here->value);
    }
}

/* One voltage across all. Of several shorts side by side nobody knows how they share the current. */
static void parallel_child(const struct solver *solver, size_t node, size_t child, size_t shorts)
{
    const struct circuit_figure *resistance_here = cell(solver, child, CIRCUIT_R);
    const struct circuit_figure *voltage = cell(solver, node, CIRCUIT_V);
    const struct circuit_figure *whole = cell(solver, node, CIRCUIT_I);
    struct circuit_figure *current = cell(solver, child, CIRCUIT_I);
    take(cell(solver, child, CIRCUIT_V), voltage);
    if (resistance_here->state == CIRCUIT_INFINITE) {
        set_zero(current);
    } else if (mpq_sgn(resistance_here->value) == 0) {
        take(current, whole);
        current->state = shorts == 1 ? whole->state : CIRCUIT_NO_FIGURE;
    } else if (voltage->state == CIRCUIT_FINITE) {
        current->state = CIRCUIT_FINITE;
        mpq_div(current->value, voltage->value, resistance_here->value);
    }
}

static void set_power(const struct solver *solver, size_t node)
{
    const struct circuit_figure *voltage = cell(solver, node, CIRCUIT_V);
    const struct circuit_figure *current = cell(solver, node, CIRCUIT_I);
    struct circuit_figure *power = cell(solver, node, CIRCUIT_P);
    const bool no_current = current->state == CIRCUIT_FINITE && mpq_sgn(current->value) == 0;
    const bool no_voltage = voltage->state == CIRCUIT_FINITE && mpq_sgn(voltage->value) == 0;
    if (no_current || no_voltage) {
        set_zero(power);
    } else if (voltage->state == CIRCUIT_FINITE && current->state == CIRCUIT_FINITE) {
        power->state = CIRCUIT_FINITE;
        mpq_mul(power->value, voltage->value, current->value);
    }
}

/* V and I of the node are known, or not to be known; goes on to what is in it. */
static void spread(const struct solver *solver, size_t node)
{
    const struct circuit_node *row = &solver->circuit->nodes[node];
    set_power(solver, node);
    if (row->kind == CIRCUIT_PART) {
        return;
    }
    const size_t gaps = count_children(solver, node, CIRCUIT_INFINITE, false);
    const size_t shorts = count_children(solver, node, CIRCUIT_FINITE, true);
    for (size_t i = row->first; i != CIRCUIT_NONE; i = solver->circuit->nodes[i].next) {
        if (solver->target != CIRCUIT_NONE && !circuit_is_within(solver->circuit, solver->target, i)) {
            continue;
        }
        if (row->kind == CIRCUIT_SERIES) {
            series_child(solver, node, i, gaps);
        } else {
            parallel_child(solver, node, i, shorts);
        }
        spread(solver, i);
    }
}

static void solve(const struct solver *solver, mpq_srcptr voltage)
{
    const size_t root = solver->circuit->root;
    resistance(solver, root);
    if (voltage == NULL) {
        return;
    }
    const struct circuit_figure *whole = cell(solver, root, CIRCUIT_R);
    struct circuit_figure *current = cell(solver, root, CIRCUIT_I);
    set_finite(cell(solver, root, CIRCUIT_V), voltage);
    if (whole->state == CIRCUIT_INFINITE) {
        set_zero(current);
    } else if (mpq_sgn(whole->value) == 0) {
        solver->figures->source_shorted = true;
        return;
    } else {
        current->state = CIRCUIT_FINITE;
        mpq_div(current->value, voltage, whole->value);
    }
    spread(solver, root);
}

void circuit_solve(const struct circuit *circuit, mpq_srcptr voltage, mpq_t *ohm, const enum circuit_break *broken,
                   struct circuit_figures *ret_figures)
{
    circuit_figures_init(ret_figures, circuit->node_count);
    solve(&(struct solver){circuit, ohm, broken, ret_figures, CIRCUIT_NONE}, voltage);
}

void circuit_solve_for(const struct circuit *circuit, mpq_srcptr voltage, mpq_t *ohm, size_t node,
                       struct circuit_figures *figures)
{
    solve(&(struct solver){circuit, ohm, NULL, figures, node}, voltage);
}
