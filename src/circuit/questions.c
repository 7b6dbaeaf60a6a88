/* Questions on a solved circuit: groups, trends, tolerance, stock. */
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/exact.h"
#include "ampsum/language.h"
#include "parts.h"

/* ------------------------------------------------------------------ groups -------------------------------- */

static size_t add_groups(const struct circuit *circuit, size_t node, enum circuit_kind kind, bool inwards,
                         size_t *groups, size_t count)
{
    const struct circuit_node *row = &circuit->nodes[node];
    const bool taken = row->kind != CIRCUIT_PART && (kind == CIRCUIT_PART || row->kind == kind);
    if (taken && !inwards) {
        groups[count++] = node;
    }
    for (size_t i = row->first; i != CIRCUIT_NONE; i = circuit->nodes[i].next) {
        count = add_groups(circuit, i, kind, inwards, groups, count);
    }
    if (taken && inwards) {
        groups[count++] = node;
    }
    return count;
}

size_t circuit_groups(const struct circuit *circuit, enum circuit_kind kind, bool inwards, size_t *ret_group)
{
    return add_groups(circuit, circuit->root, kind, inwards, ret_group, 0);
}

/* The member before the node in its row; CIRCUIT_NONE for the first. */
static size_t before(const struct circuit *circuit, size_t node)
{
    size_t found = CIRCUIT_NONE;
    for (size_t i = circuit->nodes[circuit->nodes[node].parent].first; i != node; i = circuit->nodes[i].next) {
        found = i;
    }
    return found;
}

static void say_place(const struct circuit *circuit, int language, const char *key, size_t node, struct text *text)
{
    struct text part = {0};
    circuit_label(circuit, node, &part);
    say(text, language, key, "part", text_string(&part), (const char *)NULL);
    text_done(&part);
}

void circuit_junction_label(const struct circuit *circuit, int language, size_t group, struct text *text)
{
    const size_t parent = circuit->nodes[group].parent;
    const size_t ahead = parent == CIRCUIT_NONE ? CIRCUIT_NONE : before(circuit, group);
    if (ahead != CIRCUIT_NONE) {
        say_place(circuit, language, "solve.after", ahead, text);
    } else if (parent == CIRCUIT_NONE || parent == circuit->root) {
        text_add(text, say_plain(language, "solve.at-source"));
    } else {
        say_place(circuit, language, "solve.before", circuit->nodes[group].next, text);
    }
}

bool circuit_parts_power(const struct circuit *circuit, const struct circuit_figures *figures, mpq_t ret_power)
{
    mpq_set_ui(ret_power, 0, 1);
    bool any = true;
    for (size_t i = 0; i < circuit->part_count; i++) {
        const struct circuit_figure *power = &figures->node[circuit->parts[i]].cell[CIRCUIT_P];
        any = any && power->state == CIRCUIT_FINITE;
        mpq_add(ret_power, ret_power, power->value);
    }
    return any;
}

/* ------------------------------------------------------------------ trends -------------------------------- */

const char *circuit_trend_word(enum circuit_trend trend)
{
    static const char *const words[] = {NULL, "rises", "falls", "same"};
    return words[trend];
}

enum circuit_trend circuit_trend(const struct circuit_figure *before_it, const struct circuit_figure *after)
{
    if (before_it->state == CIRCUIT_NO_FIGURE || after->state == CIRCUIT_NO_FIGURE) {
        return CIRCUIT_NO_TREND;
    }
    int order = 0;
    if (before_it->state == CIRCUIT_INFINITE || after->state == CIRCUIT_INFINITE) {
        order = (after->state == CIRCUIT_INFINITE) - (before_it->state == CIRCUIT_INFINITE);
    } else {
        order = mpq_cmp(after->value, before_it->value);
    }
    return order > 0 ? CIRCUIT_RISES : order < 0 ? CIRCUIT_FALLS : CIRCUIT_SAME;
}

/* ------------------------------------------------------------------ tolerance ----------------------------- */

struct corner {
    const struct circuit *circuit;
    const struct circuit_solution *solution;
    mpq_t low; /* 1 - percent / 100 */
    mpq_t high;
    mpq_t *ohm;
    struct circuit_figures figures; /* of the corner at work */
};

static bool is_exempt(const struct corner *corner, size_t node)
{
    return corner->circuit->nodes[node].exempt || node == corner->circuit->unknown;
}

static void set_corner(struct corner *corner, size_t node, bool high)
{
    if (is_exempt(corner, node)) {
        mpq_set(corner->ohm[node], corner->solution->ohm[node]);
    } else {
        mpq_mul(corner->ohm[node], corner->solution->ohm[node], high ? corner->high : corner->low);
    }
}

/* The kind of the smallest group that both are in. */
static enum circuit_kind common_kind(const struct circuit *circuit, size_t first, size_t second)
{
    size_t group = circuit->nodes[first].parent;
    while (!circuit_is_within(circuit, second, group)) {
        group = circuit->nodes[group].parent;
    }
    return circuit->nodes[group].kind;
}

/* Every part where it brings the quantity of `part` furthest in that direction; the whole where part is none. */
static void choose_corner(struct corner *corner, size_t part, enum circuit_quantity quantity, bool greatest)
{
    const struct circuit *circuit = corner->circuit;
    for (size_t i = 0; i < circuit->part_count; i++) {
        const size_t node = circuit->parts[i];
        bool raises = false;
        if (part == CIRCUIT_NONE) {
            raises = quantity == CIRCUIT_R;
        } else if (node == part) {
            raises = quantity == CIRCUIT_V;
        } else {
            raises = common_kind(circuit, node, part) == CIRCUIT_PARALLEL;
        }
        set_corner(corner, node, raises == greatest);
    }
}

/* Takes one figure of one corner into the bounds. */
static void take_figure(struct corner *corner, size_t part, enum circuit_quantity quantity, bool greatest,
                        struct circuit_figures *bound)
{
    const struct circuit_solution *solution = corner->solution;
    const size_t node = part == CIRCUIT_NONE ? corner->circuit->root : part;
    choose_corner(corner, part, quantity, greatest);
    circuit_solve_for(corner->circuit, solution->has_voltage ? solution->voltage : NULL, corner->ohm, node,
                      &corner->figures);
    const struct circuit_figure *from = &corner->figures.node[node].cell[quantity];
    struct circuit_figure *to = &bound->node[node].cell[quantity];
    to->state = from->state;
    mpq_set(to->value, from->value);
}

static void take_bounds(struct corner *corner, bool greatest, struct circuit_figures *bound)
{
    static const enum circuit_quantity whole[] = {CIRCUIT_R, CIRCUIT_I, CIRCUIT_P};
    const struct circuit *circuit = corner->circuit;
    circuit_figures_init(bound, circuit->node_count);
    for (size_t i = 0; i < sizeof whole / sizeof whole[0]; i++) {
        take_figure(corner, CIRCUIT_NONE, whole[i], greatest, bound);
    }
    for (size_t i = 0; i < circuit->part_count && corner->solution->has_voltage && circuit->part_count > 1; i++) {
        take_figure(corner, circuit->parts[i], CIRCUIT_V, greatest, bound);
        take_figure(corner, circuit->parts[i], CIRCUIT_I, greatest, bound);
    }
}

/* Of a circuit of one part V is the source's, and its I that of the whole. */
static void take_single(const struct corner *corner, struct circuit_figures *bound)
{
    struct circuit_figure *voltage = &bound->node[corner->circuit->root].cell[CIRCUIT_V];
    if (corner->circuit->part_count == 1 && corner->solution->has_voltage) {
        voltage->state = CIRCUIT_FINITE;
        mpq_set(voltage->value, corner->solution->voltage);
    }
}

void circuit_tolerance(const struct circuit *circuit, const struct circuit_solution *solution, const mpq_t percent,
                       struct circuit_bounds *ret_bounds)
{
    struct corner corner = {.circuit = circuit, .solution = solution};
    mpq_t share;
    mpq_init(share);
    mpq_init(corner.low);
    mpq_init(corner.high);
    mpq_set_ui(share, 1, 100);
    mpq_mul(share, share, percent);
    mpq_set_ui(corner.high, 1, 1);
    mpq_sub(corner.low, corner.high, share);
    mpq_add(corner.high, corner.high, share);
    corner.ohm = memory_resize(NULL, circuit->node_count, sizeof *corner.ohm);
    for (size_t i = 0; i < circuit->node_count; i++) {
        mpq_init(corner.ohm[i]);
    }
    circuit_figures_init(&corner.figures, circuit->node_count);
    take_bounds(&corner, false, &ret_bounds->least);
    take_bounds(&corner, true, &ret_bounds->greatest);
    take_single(&corner, &ret_bounds->least);
    take_single(&corner, &ret_bounds->greatest);
    for (size_t i = 0; i < circuit->node_count; i++) {
        mpq_clear(corner.ohm[i]);
    }
    circuit_figures_done(&corner.figures);
    free(corner.ohm);
    mpq_clear(share);
    mpq_clear(corner.low);
    mpq_clear(corner.high);
}

void circuit_bounds_done(struct circuit_bounds *bounds)
{
    circuit_figures_done(&bounds->least);
    circuit_figures_done(&bounds->greatest);
}

/* ------------------------------------------------------------------ junctions ----------------------------- */

bool circuit_behind(const struct circuit *circuit, const struct circuit_figures *figures, size_t member,
                    mpq_t ret_current)
{
    mpq_set_ui(ret_current, 0, 1);
    for (; member != CIRCUIT_NONE; member = circuit->nodes[member].next) {
        const struct circuit_figure *current = &figures->node[member].cell[CIRCUIT_I];
        if (current->state != CIRCUIT_FINITE) {
            return false;
        }
        mpq_add(ret_current, ret_current, current->value);
    }
    return true;
}

/* ------------------------------------------------------------------ stock --------------------------------- */

/* Takes `candidate` where it is nearer than what is there (0: nothing). */
static void offer_stock(const mpq_t wanted, const mpq_t candidate, mpq_t stock)
{
    mpq_t off;
    mpq_t best;
    mpq_init(off);
    mpq_init(best);
    mpq_sub(off, candidate, wanted);
    mpq_abs(off, off);
    mpq_sub(best, stock, wanted);
    mpq_abs(best, best);
    const int order = mpq_cmp(off, best);
    if (mpq_sgn(stock) == 0 || order < 0 || (order == 0 && mpq_cmp(candidate, stock) < 0)) {
        mpq_set(stock, candidate);
    }
    mpq_clear(off);
    mpq_clear(best);
}

void circuit_stock(const mpq_t wanted, const char *const *preferred, size_t count, mpq_t ret_stock)
{
    const long exponent = exact_exponent(wanted);
    mpq_t candidate;
    mpq_init(candidate);
    mpq_set_ui(ret_stock, 0, 1);
    for (long decade = exponent; decade <= exponent + 1; decade++) {
        for (size_t i = 0; i < count; i++) {
            const char *value = preferred[i]; /* "4.7" */
            mpq_set_ui(candidate, 1, 1);
            const long tenths = decade - 1;
            mpz_ui_pow_ui(tenths < 0 ? mpq_denref(candidate) : mpq_numref(candidate), 10, (unsigned long)labs(tenths));
            mpz_mul_ui(mpq_numref(candidate), mpq_numref(candidate),
                       (unsigned long)((value[0] - '0') * 10 + (value[2] - '0')));
            mpq_canonicalize(candidate);
            offer_stock(wanted, candidate, ret_stock);
        }
    }
    mpq_clear(candidate);
}
