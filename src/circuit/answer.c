/* What is unknown from what is known, and the figures that follow. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/exact.h"
#include "equation.h"
#include "refuse.h"

enum { NO_KNOWN = -1 };

/* Which knowns the answer is found from: of x, and of the source's voltage. */
struct basis {
    size_t first;
    size_t second; /* CIRCUIT_NONE: one known is enough */
};

static bool is_resistance(const struct circuit_known *known)
{
    return known->quantity == CIRCUIT_R;
}

/* The source's voltage is to be found, not given. */
static bool wants_voltage(const struct circuit *circuit)
{
    bool wanted = circuit->asks_voltage;
    for (size_t i = 0; i < circuit->known_count; i++) {
        wanted = wanted || !is_resistance(&circuit->knowns[i]);
    }
    return wanted && !circuit->has_source_v;
}

/* ------------------------------------------------------------------ which knowns -------------------------- */

static bool find_single(const struct equations *equations, struct basis *ret_basis)
{
    const struct circuit *circuit = equations->circuit;
    for (size_t i = 0; i < circuit->known_count; i++) {
        const struct circuit_known *known = &circuit->knowns[i];
        const bool usable = circuit->has_source_v || is_resistance(known);
        if (usable && equations_tell(equations, known, NULL)) {
            *ret_basis = (struct basis){i, CIRCUIT_NONE};
            return true;
        }
    }
    return false;
}

static bool find_pair(const struct equations *equations, struct basis *ret_basis)
{
    const struct circuit *circuit = equations->circuit;
    for (size_t i = 0; i < circuit->known_count; i++) {
        for (size_t j = i + 1; j < circuit->known_count; j++) {
            const bool resistances = is_resistance(&circuit->knowns[i]) || is_resistance(&circuit->knowns[j]);
            if (!resistances && equations_tell(equations, &circuit->knowns[i], &circuit->knowns[j])) {
                *ret_basis = (struct basis){i, j};
                return true;
            }
        }
    }
    return false;
}

/* ------------------------------------------------------------------ one solution -------------------------- */

static void solution_init(struct circuit_solution *solution, const struct circuit *circuit, mpq_srcptr x)
{
    *solution = (struct circuit_solution){0};
    mpq_init(solution->voltage);
    solution->ohm = memory_resize(NULL, circuit->node_count, sizeof *solution->ohm);
    for (size_t i = 0; i < circuit->node_count; i++) {
        mpq_init(solution->ohm[i]);
        mpq_set(solution->ohm[i], circuit->nodes[i].ohm);
    }
    if (x != NULL) {
        mpq_set(solution->ohm[circuit->unknown], x);
    }
}

static void solution_done(struct circuit_solution *solution)
{
    for (size_t i = 0; i < solution->figures.node_count; i++) {
        mpq_clear(solution->ohm[i]);
    }
    mpq_clear(solution->voltage);
    free(solution->ohm);
    circuit_figures_done(&solution->figures);
}

void circuit_answer_done(struct circuit_answer *answer)
{
    for (size_t i = 0; i < answer->count; i++) {
        solution_done(&answer->solutions[i]);
    }
    free(answer->solutions);
    *answer = (struct circuit_answer){0};
}

static const struct circuit_figure *known_figure(const struct circuit *circuit, const struct circuit_figures *figures,
                                                 const struct circuit_known *known)
{
    const size_t node = known->part == CIRCUIT_NONE ? circuit->root : known->part;
    return &figures->node[node].cell[known->quantity];
}

/* Voltage from a known V, I or P: what is known over what 1 V would give, or the root of that. */
static void find_voltage(const struct circuit *circuit, const struct circuit_known *known,
                         struct circuit_solution *solution)
{
    struct circuit_figures unit;
    mpq_t volt;
    mpq_init(volt);
    mpq_set_ui(volt, 1, 1);
    circuit_solve(circuit, volt, solution->ohm, NULL, &unit);
    mpq_div(solution->voltage, known->number.value, known_figure(circuit, &unit, known)->value);
    if (known->quantity == CIRCUIT_P) {
        mpq_set(volt, solution->voltage);
        solution->voltage_irrational = !exact_root(solution->voltage, volt);
    }
    solution->voltage_irrational = solution->voltage_irrational || solution->irrational;
    circuit_figures_done(&unit);
    mpq_clear(volt);
}

/* The known that gives the voltage: a V or an I before a P, so that it stays a fraction. */
static const struct circuit_known *voltage_known(const struct circuit *circuit)
{
    const struct circuit_known *found = NULL;
    for (size_t i = 0; i < circuit->known_count; i++) {
        const struct circuit_known *known = &circuit->knowns[i];
        const bool better = found == NULL || (found->quantity == CIRCUIT_P && known->quantity != CIRCUIT_P);
        if (!is_resistance(known) && better) {
            found = known;
        }
    }
    return found;
}

/* What depends on a root is no exact fraction; what was given is. */
static void mark_irrational(const struct circuit *circuit, struct circuit_solution *solution)
{
    for (size_t i = 0; i < circuit->node_count; i++) {
        struct circuit_figure *cell = solution->figures.node[i].cell;
        const bool given = circuit->nodes[i].kind == CIRCUIT_PART && i != circuit->unknown;
        const bool any = solution->irrational || solution->voltage_irrational;
        cell[CIRCUIT_R].irrational = solution->irrational && !given && circuit_is_within(circuit, circuit->unknown, i);
        cell[CIRCUIT_V].irrational = any && (i != circuit->root || solution->voltage_irrational);
        cell[CIRCUIT_I].irrational = any;
        cell[CIRCUIT_P].irrational = any;
    }
}

static void solve(const struct circuit *circuit, struct circuit_solution *solution)
{
    if (circuit->has_source_v) {
        solution->has_voltage = true;
        mpq_set(solution->voltage, circuit->source_v);
    } else if (wants_voltage(circuit)) {
        solution->has_voltage = true;
        find_voltage(circuit, voltage_known(circuit), solution);
    }
    circuit_solve(circuit, solution->has_voltage ? solution->voltage : NULL, solution->ohm, NULL, &solution->figures);
    mark_irrational(circuit, solution);
}

/* Is the computed value within what is written, half a unit of its last place to either side? */
static bool fits(const struct circuit_known *known, const struct circuit_figure *figure)
{
    mpq_t off;
    mpq_init(off);
    mpq_sub(off, figure->value, known->number.value);
    mpq_abs(off, off);
    if (figure->irrational) { /* what the root is carried to */
        mpq_t margin;
        mpq_init(margin);
        mpq_set_ui(margin, 1, 1);
        mpz_ui_pow_ui(mpq_denref(margin), 10, 30);
        mpq_mul(margin, margin, known->number.value);
        mpq_sub(off, off, margin);
        mpq_clear(margin);
    }
    const bool good = figure->state == CIRCUIT_FINITE && mpq_cmp(off, known->number.half) <= 0;
    mpq_clear(off);
    return good;
}

/* The first known that does not fit, or NO_KNOWN. */
static long misfit(const struct circuit *circuit, const struct circuit_solution *solution)
{
    for (size_t i = 0; i < circuit->known_count; i++) {
        if (!fits(&circuit->knowns[i], known_figure(circuit, &solution->figures, &circuit->knowns[i]))) {
            return (long)i;
        }
    }
    return NO_KNOWN;
}

/* Solves with that x (NULL: nothing is unknown) and keeps the solution where every known fits. */
static void offer(const struct circuit *circuit, mpq_srcptr x, bool irrational, struct circuit_answer *answer,
                  struct circuit_fault *misfits)
{
    struct circuit_solution solution;
    solution_init(&solution, circuit, x);
    solution.irrational = irrational;
    solve(circuit, &solution);
    const long wrong = misfit(circuit, &solution);
    if (wrong == NO_KNOWN) {
        answer->solutions = memory_resize(answer->solutions, answer->count + 1, sizeof *answer->solutions);
        answer->solutions[answer->count++] = solution;
        return;
    }
    const struct circuit_known *known = &circuit->knowns[wrong];
    refuse_misfit(circuit, known, known_figure(circuit, &solution.figures, known), misfits);
    solution_done(&solution);
}

/* ------------------------------------------------------------------ all ----------------------------------- */

static void write_equation(const struct equations *equations, const struct basis *basis, struct polynomial *ret)
{
    const struct circuit *circuit = equations->circuit;
    const struct circuit_known *first = &circuit->knowns[basis->first];
    if (basis->second == CIRCUIT_NONE) {
        equations_at(equations, first, circuit->source_v, ret);
    } else {
        equations_both(equations, first, &circuit->knowns[basis->second], ret);
    }
}

/* From the roots of the equation; false with the fault where none is above 0. */
static bool solve_unknown(const struct equations *equations, const struct basis *basis, struct circuit_answer *answer,
                          struct circuit_fault *fault, struct circuit_fault *misfits)
{
    struct polynomial polynomial;
    mpq_t root[2];
    bool irrational = false;
    bool any = false;
    polynomial_init(&polynomial);
    mpq_init(root[0]);
    mpq_init(root[1]);
    write_equation(equations, basis, &polynomial);
    const size_t count = polynomial_roots(&polynomial, root, &irrational);
    for (size_t i = 0; i < count; i++) {
        if (mpq_sgn(root[i]) > 0) {
            any = true;
            offer(equations->circuit, root[i], irrational, answer, misfits);
        }
    }
    if (!any) {
        refuse_roots(equations, &equations->circuit->knowns[basis->first], basis->second == CIRCUIT_NONE,
                     count == 0 ? NULL : root[count - 1], fault);
    }
    mpq_clear(root[0]);
    mpq_clear(root[1]);
    polynomial_done(&polynomial);
    return any;
}

/* The unknown part's resistance, from the first known, or pair of knowns, that says anything of it. */
static bool find(const struct circuit *circuit, struct circuit_answer *answer, struct circuit_fault *fault,
                 struct circuit_fault *misfits)
{
    struct equations equations;
    struct basis basis = {0};
    equations_init(&equations, circuit);
    const bool found = find_single(&equations, &basis) || (!circuit->has_source_v && find_pair(&equations, &basis));
    const bool good = found ? solve_unknown(&equations, &basis, answer, fault, misfits) : refuse_silent(circuit, fault);
    equations_done(&equations);
    return good;
}

bool circuit_answer(const struct circuit *circuit, struct circuit_answer *ret_answer, struct circuit_fault *fault)
{
    *ret_answer = (struct circuit_answer){0};
    const bool voltage = wants_voltage(circuit);
    const size_t wanted = (circuit->unknown != CIRCUIT_NONE) + (voltage ? 1U : 0U);
    if (circuit->known_count < wanted || (voltage && voltage_known(circuit) == NULL)) {
        const size_t missing = circuit->known_count < wanted ? wanted - circuit->known_count : 1;
        return refuse_missing(circuit, voltage, missing, fault);
    }
    struct circuit_fault misfits = {.language = fault->language};
    bool good = true;
    if (circuit->unknown == CIRCUIT_NONE) {
        offer(circuit, NULL, false, ret_answer, &misfits);
    } else {
        good = find(circuit, ret_answer, fault, &misfits);
    }
    if (good && ret_answer->count == 0) {
        *fault = misfits;
        return false;
    }
    text_done(&misfits.message);
    return good;
}
