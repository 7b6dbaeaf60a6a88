#include "equation.h"

#include <stdlib.h>

#include "ampsum/arena.h"
#include "ampsum/exact.h"

void line_init(struct line *line)
{
    mpq_init(line->slope);
    mpq_init(line->base);
}

void line_done(struct line *line)
{
    mpq_clear(line->slope);
    mpq_clear(line->base);
}

void polynomial_init(struct polynomial *polynomial)
{
    for (size_t i = 0; i < 3; i++) {
        mpq_init(polynomial->coefficient[i]);
    }
}

void polynomial_done(struct polynomial *polynomial)
{
    for (size_t i = 0; i < 3; i++) {
        mpq_clear(polynomial->coefficient[i]);
    }
}

/* line += factor * other */
static void add_times(struct line *line, const mpq_t factor, const struct line *other)
{
    mpq_t product;
    mpq_init(product);
    mpq_mul(product, factor, other->slope);
    mpq_add(line->slope, line->slope, product);
    mpq_mul(product, factor, other->base);
    mpq_add(line->base, line->base, product);
    mpq_clear(product);
}

/* polynomial += factor * first * second */
static void add_product(struct polynomial *polynomial, const mpq_t factor, const struct line *first,
                        const struct line *second)
{
    const mpq_srcptr one[] = {first->base, first->slope};
    const mpq_srcptr two[] = {second->base, second->slope};
    mpq_t product;
    mpq_init(product);
    for (size_t i = 0; i < 2; i++) {
        for (size_t j = 0; j < 2; j++) {
            mpq_mul(product, one[i], two[j]);
            mpq_mul(product, product, factor);
            mpq_add(polynomial->coefficient[i + j], polynomial->coefficient[i + j], product);
        }
    }
    mpq_clear(product);
}

static void set_line(struct line *line, unsigned slope, unsigned base)
{
    mpq_set_ui(line->slope, slope, 1);
    mpq_set_ui(line->base, base, 1);
}

/* ------------------------------------------------------------------ the lines ----------------------------- */

/* A and C grow from the unknown part outwards: what stands in a row adds R C to A, what stands beside adds G A to C. */
static void grow(struct equations *equations, const struct circuit_figures *figures)
{
    const struct circuit *circuit = equations->circuit;
    mpq_t other;
    mpq_init(other);
    for (size_t node = circuit->unknown; circuit->nodes[node].parent != CIRCUIT_NONE;
         node = circuit->nodes[node].parent) {
        const size_t group = circuit->nodes[node].parent;
        for (size_t i = circuit->nodes[group].first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
            const mpq_srcptr ohm = figures->node[i].cell[CIRCUIT_R].value;
            if (i != node && circuit->nodes[group].kind == CIRCUIT_SERIES) {
                add_times(&equations->over, ohm, &equations->under);
            } else if (i != node) {
                mpq_inv(other, ohm);
                add_times(&equations->under, other, &equations->over);
            }
        }
    }
    mpq_clear(other);
}

static void solve_at(struct equations *equations, unsigned x, struct circuit_figures *ret_figures)
{
    const struct circuit *circuit = equations->circuit;
    mpq_t *ohm = memory_resize(NULL, circuit->node_count, sizeof *ohm);
    mpq_t volt;
    mpq_init(volt);
    mpq_set_ui(volt, 1, 1);
    for (size_t i = 0; i < circuit->node_count; i++) {
        mpq_init(ohm[i]);
        mpq_set(ohm[i], circuit->nodes[i].ohm);
    }
    mpq_set_ui(ohm[circuit->unknown], x, 1);
    circuit_solve(circuit, volt, ohm, NULL, ret_figures);
    for (size_t i = 0; i < circuit->node_count; i++) {
        mpq_clear(ohm[i]);
    }
    mpq_clear(volt);
    free(ohm);
}

void equations_init(struct equations *equations, const struct circuit *circuit)
{
    *equations = (struct equations){.circuit = circuit};
    line_init(&equations->over);
    line_init(&equations->under);
    solve_at(equations, 1, &equations->at[0]);
    solve_at(equations, 2, &equations->at[1]);
    set_line(&equations->over, 1, 0);
    set_line(&equations->under, 0, 1);
    grow(equations, &equations->at[0]);
}

void equations_done(struct equations *equations)
{
    line_done(&equations->over);
    line_done(&equations->under);
    circuit_figures_done(&equations->at[0]);
    circuit_figures_done(&equations->at[1]);
}

/* A at x = 1 or 2. */
static void over_at(const struct equations *equations, unsigned x, mpq_t ret)
{
    mpq_set_ui(ret, x, 1);
    mpq_mul(ret, ret, equations->over.slope);
    mpq_add(ret, ret, equations->over.base);
}

void equations_line(const struct equations *equations, size_t node, enum circuit_quantity quantity,
                    struct line *ret_line)
{
    mpq_t second;
    mpq_init(second);
    over_at(equations, 1, ret_line->base);
    mpq_mul(ret_line->base, ret_line->base, equations->at[0].node[node].cell[quantity].value);
    over_at(equations, 2, second);
    mpq_mul(second, second, equations->at[1].node[node].cell[quantity].value);
    mpq_sub(ret_line->slope, second, ret_line->base);
    mpq_sub(ret_line->base, ret_line->base, ret_line->slope);
    mpq_clear(second);
}

/* ------------------------------------------------------------------ knowns -------------------------------- */

/* The power of s in the known: 0 for a resistance, 1, or 2 for a power. */
static unsigned equations_degree(const struct circuit_known *known)
{
    return known->quantity == CIRCUIT_R ? 0 : known->quantity == CIRCUIT_P ? 2 : 1;
}

static size_t node_of(const struct equations *equations, const struct circuit_known *known)
{
    return known->part == CIRCUIT_NONE ? equations->circuit->root : known->part;
}

/* value^power of the known at x = 1 (which 0) or 2 (which 1), multiplied into ret. */
static void multiply_value(const struct equations *equations, const struct circuit_known *known, size_t which,
                           unsigned power, mpq_t ret)
{
    for (unsigned i = 0; i < power; i++) {
        mpq_mul(ret, ret, equations->at[which].node[node_of(equations, known)].cell[known->quantity].value);
    }
}

bool equations_tell(const struct equations *equations, const struct circuit_known *known,
                    const struct circuit_known *other)
{
    mpq_t side[2];
    for (size_t which = 0; which < 2; which++) {
        mpq_init(side[which]);
        mpq_set_ui(side[which], 1, 1);
        if (other == NULL) {
            multiply_value(equations, known, which, 1, side[which]);
        } else { /* is f1^n2 / f2^n1 the same at both places? */
            multiply_value(equations, known, which, equations_degree(other), side[which]);
            multiply_value(equations, other, 1 - which, equations_degree(known), side[which]);
        }
    }
    const bool tells = !mpq_equal(side[0], side[1]);
    mpq_clear(side[0]);
    mpq_clear(side[1]);
    return tells;
}

/* Q of a known, so that it is s^n Q / A^n: L, or the product of two. */
static void add_known(const struct equations *equations, const struct circuit_known *known, const mpq_t factor,
                      struct polynomial *polynomial)
{
    struct line one;
    struct line first;
    struct line second;
    line_init(&one);
    line_init(&first);
    line_init(&second);
    set_line(&one, 0, 1);
    if (known->quantity == CIRCUIT_P) {
        equations_line(equations, node_of(equations, known), CIRCUIT_V, &first);
        equations_line(equations, node_of(equations, known), CIRCUIT_I, &second);
        add_product(polynomial, factor, &first, &second);
    } else {
        equations_line(equations, node_of(equations, known), known->quantity, &first);
        add_product(polynomial, factor, &first, &one);
    }
    line_done(&one);
    line_done(&first);
    line_done(&second);
}

/* A whole resistance, or one that the whole's voltage and power give: value C = A. */
static void whole_at(const struct equations *equations, const mpq_t ohm, struct polynomial *ret)
{
    struct line one;
    mpq_t minus;
    line_init(&one);
    set_line(&one, 0, 1);
    mpq_init(minus);
    mpq_set_si(minus, -1, 1);
    add_product(ret, ohm, &equations->under, &one);
    add_product(ret, minus, &equations->over, &one);
    mpq_clear(minus);
    line_done(&one);
}

static void part_at(const struct equations *equations, const struct circuit_known *known, const mpq_t voltage,
                    struct polynomial *ret)
{
    struct line one;
    mpq_t factor;
    line_init(&one);
    set_line(&one, 0, 1);
    mpq_init(factor);
    mpq_neg(factor, voltage);
    if (known->quantity == CIRCUIT_P) {
        mpq_mul(factor, factor, voltage);
        add_product(ret, known->number.value, &equations->over, &equations->over);
    } else {
        add_product(ret, known->number.value, &equations->over, &one);
    }
    add_known(equations, known, factor, ret);
    mpq_clear(factor);
    line_done(&one);
}

void equations_at(const struct equations *equations, const struct circuit_known *known, mpq_srcptr voltage,
                  struct polynomial *ret)
{
    mpq_t ohm;
    mpq_init(ohm);
    if (known->quantity == CIRCUIT_R && known->part != CIRCUIT_NONE) { /* of the unknown itself: x = value */
        mpq_neg(ret->coefficient[0], known->number.value);
        mpq_set_ui(ret->coefficient[1], 1, 1);
    } else if (known->quantity == CIRCUIT_R) {
        whole_at(equations, known->number.value, ret);
    } else if (known->quantity == CIRCUIT_P && known->part == CIRCUIT_NONE) {
        mpq_mul(ohm, voltage, voltage);
        mpq_div(ohm, ohm, known->number.value);
        whole_at(equations, ohm, ret);
    } else {
        part_at(equations, known, voltage, ret);
    }
    mpq_clear(ohm);
}

/* polynomial += factor * the known's Q * Q, of a known with n = 1 */
static void add_square(const struct equations *equations, const struct circuit_known *known, const mpq_t factor,
                       struct polynomial *polynomial)
{
    struct line line;
    line_init(&line);
    equations_line(equations, node_of(equations, known), known->quantity, &line);
    add_product(polynomial, factor, &line, &line);
    line_done(&line);
}

void equations_both(const struct equations *equations, const struct circuit_known *first,
                    const struct circuit_known *second, struct polynomial *ret)
{
    if (equations_degree(first) > equations_degree(second)) {
        equations_both(equations, second, first, ret);
        return;
    }
    mpq_t factor;
    mpq_init(factor);
    if (equations_degree(first) == equations_degree(second)) { /* k1 Q2 = k2 Q1 */
        add_known(equations, second, first->number.value, ret);
        mpq_neg(factor, second->number.value);
        add_known(equations, first, factor, ret);
    } else { /* k2 Q1^2 = k1^2 Q2 */
        add_square(equations, first, second->number.value, ret);
        mpq_mul(factor, first->number.value, first->number.value);
        mpq_neg(factor, factor);
        add_known(equations, second, factor, ret);
    }
    mpq_clear(factor);
}

/* ------------------------------------------------------------------ roots --------------------------------- */

/* Both roots without a difference of near numbers: q = -(b + sign(b) sqrt(d)) / 2, then q / a and c / q. */
static size_t quadratic_roots(const struct polynomial *polynomial, const mpq_t discriminant, mpq_t ret_root[2],
                              bool *ret_irrational)
{
    const mpq_t *c = polynomial->coefficient;
    mpq_t q;
    mpq_init(q);
    *ret_irrational = !exact_root(q, discriminant);
    if (mpq_sgn(c[1]) < 0) {
        mpq_neg(q, q);
    }
    mpq_add(q, q, c[1]);
    mpq_neg(q, q);
    mpq_div_2exp(q, q, 1);
    mpq_div(ret_root[0], q, c[2]);
    size_t count = 1;
    if (mpq_sgn(q) != 0 && mpq_sgn(discriminant) != 0) {
        mpq_div(ret_root[1], c[0], q);
        count = 2;
        if (mpq_cmp(ret_root[0], ret_root[1]) > 0) {
            mpq_swap(ret_root[0], ret_root[1]);
        }
    }
    mpq_clear(q);
    return count;
}

size_t polynomial_roots(const struct polynomial *polynomial, mpq_t ret_root[2], bool *ret_irrational)
{
    const mpq_t *c = polynomial->coefficient;
    *ret_irrational = false;
    if (mpq_sgn(c[2]) == 0 && mpq_sgn(c[1]) == 0) {
        return 0;
    }
    if (mpq_sgn(c[2]) == 0) {
        mpq_div(ret_root[0], c[0], c[1]);
        mpq_neg(ret_root[0], ret_root[0]);
        return 1;
    }
    mpq_t discriminant;
    mpq_t product;
    mpq_init(discriminant);
    mpq_init(product);
    mpq_mul(discriminant, c[1], c[1]);
    mpq_mul(product, c[0], c[2]);
    mpq_mul_2exp(product, product, 2);
    mpq_sub(discriminant, discriminant, product);
    const size_t count =
        mpq_sgn(discriminant) < 0 ? 0 : quadratic_roots(polynomial, discriminant, ret_root, ret_irrational);
    mpq_clear(discriminant);
    mpq_clear(product);
    return count;
}
