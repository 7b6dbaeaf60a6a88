#include "ampsum/stock.h"

#include <assert.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "values.h"

enum { VALUES_MOST = 2000000, STATES_MOST = 4096 };

/*
 * What has been used so far. With as many of each kind as needed a state is the number of parts; with counted parts it
 * is how many of each kind, written as one number in mixed radix (radix of a kind: its count + 1).
 */
struct search {
    const struct stock *stock;
    struct fraction *part; /* the stock's values, scaled by one factor to fit whole fractions */
    struct fraction wanted;
    bool counted;            /* states are vectors */
    bool inverse_closed;     /* one kind, as many as needed: in units of it the values come in reciprocal pairs, and
                                the states hold the one that is at least 1 */
    struct value_set *state; /* state_count entries */
    size_t *parts_of;        /* number of parts of each state */
    size_t state_count;
    size_t values;
    bool complete;
};

/* Two states that together make a third. */
struct split {
    size_t first;
    size_t second;
};

static void search_done(struct search *search)
{
    for (size_t i = 0; i < search->state_count; i++) {
        value_set_done(&search->state[i]);
    }
    free(search->state);
    free(search->parts_of);
    free(search->part);
}

static bool to_fraction(const mpq_t value, const mpq_t scale, struct fraction *ret)
{
    mpq_t scaled;
    mpq_init(scaled);
    mpq_div(scaled, value, scale);
    bool fits = mpz_fits_ulong_p(mpq_numref(scaled)) && mpz_fits_ulong_p(mpq_denref(scaled));
    if (fits) {
        *ret = (struct fraction){mpz_get_ui(mpq_numref(scaled)), mpz_get_ui(mpq_denref(scaled))};
    }
    mpq_clear(scaled);
    return fits;
}

/* Sizes the states. False where the stock is too large for vectors, or a value does not fit. */
static bool search_init(struct search *search, const struct stock *stock, const mpq_t wanted, unsigned parts_most)
{
    *search = (struct search){.stock = stock, .complete = true};
    search->part = memory_resize(NULL, stock->count, sizeof *search->part);
    bool fits = to_fraction(wanted, stock->parts[0].ohm, &search->wanted);
    size_t states = 1;
    for (size_t i = 0; i < stock->count; i++) {
        fits = fits && to_fraction(stock->parts[i].ohm, stock->parts[0].ohm, &search->part[i]);
        search->counted = search->counted || stock->parts[i].most > 0;
    }
    for (size_t i = 0; i < stock->count && search->counted; i++) {
        unsigned most = stock->parts[i].most;
        most = most == 0 || most > parts_most ? parts_most : most;
        states = states > STATES_MOST ? states : states * (most + 1);
    }
    search->inverse_closed = !search->counted && stock->count == 1;
    search->state_count = search->counted ? states : parts_most + 1;
    if (!fits || search->state_count > STATES_MOST) {
        search->state_count = 0;
        search->complete = false;
        return false;
    }
    search->state = memory_resize(NULL, search->state_count, sizeof *search->state);
    memset(search->state, 0, search->state_count * sizeof *search->state);
    search->parts_of = memory_resize(NULL, search->state_count, sizeof *search->parts_of);
    return true;
}

static unsigned kind_most(const struct search *search, size_t kind, unsigned parts_most)
{
    unsigned most = search->stock->parts[kind].most;
    return most == 0 || most > parts_most ? parts_most : most;
}

/* Counts the parts of each state and puts the single parts in place. */
static void search_start(struct search *search, unsigned parts_most)
{
    size_t radix = 1;
    memset(search->parts_of, 0, search->state_count * sizeof *search->parts_of);
    for (size_t kind = 0; kind < search->stock->count; kind++) {
        if (!search->counted) {
            value_set_add(&search->state[1], search->part[kind]);
            continue;
        }
        size_t radix_above = radix * (kind_most(search, kind, parts_most) + 1);
        for (size_t state = 0; state < search->state_count; state++) {
            search->parts_of[state] += state % radix_above / radix;
        }
        value_set_add(&search->state[radix], search->part[kind]);
        radix = radix_above;
    }
    for (size_t state = 0; state < search->state_count && !search->counted; state++) {
        search->parts_of[state] = state;
    }
}

/* True where state `part` takes no more of any kind than state `whole` has. */
static bool is_within(const struct search *search, size_t part, size_t whole, unsigned parts_most)
{
    for (size_t kind = 0; kind < search->stock->count; kind++) {
        size_t radix = kind_most(search, kind, parts_most) + 1;
        if (part % radix > whole % radix) {
            return false;
        }
        part /= radix;
        whole /= radix;
    }
    return true;
}

/* The next way to split `whole` after split->first; false after the last. */
static bool next_split(const struct search *search, size_t whole, unsigned parts_most, struct split *split)
{
    for (size_t first = split->first + 1; first * 2 <= whole; first++) {
        if (!search->counted || is_within(search, first, whole, parts_most)) {
            *split = (struct split){first, whole - first};
            return true;
        }
    }
    return false;
}

static bool parallel_of(struct fraction a, struct fraction b, struct fraction *ret)
{
    bool ok = fraction_add(fraction_inverse(a), fraction_inverse(b), ret);
    *ret = ok ? fraction_inverse(*ret) : *ret;
    return ok;
}

/* How a value stands in the states. */
static struct fraction kept(const struct search *search, struct fraction value)
{
    return search->inverse_closed && value.over < value.under ? fraction_inverse(value) : value;
}

/* Values of a state, and one of them; where only one of each pair is kept, the other follows it. */
static size_t state_size(const struct search *search, const struct value_set *set)
{
    return search->inverse_closed ? 2 * set->count : set->count;
}

static struct fraction state_value(const struct search *search, const struct value_set *set, size_t index)
{
    if (!search->inverse_closed) {
        return set->value[index];
    }
    struct fraction value = set->value[index / 2];
    return index % 2 == 0 ? value : fraction_inverse(value);
}

static bool state_has(const struct search *search, const struct value_set *set, struct fraction value)
{
    return value_set_has(set, kept(search, value));
}

/* One pair of values, in series and, where that does not follow by symmetry, in parallel. */
static void join_values(struct search *search, struct fraction a, struct fraction b, struct value_set *into)
{
    struct fraction value;
    bool fits = fraction_add(a, b, &value);
    if (fits) {
        value_set_add(into, kept(search, value));
    }
    if (!search->inverse_closed) {
        bool parallel_fits = parallel_of(a, b, &value);
        if (parallel_fits) {
            value_set_add(into, value);
        }
        fits = fits && parallel_fits;
    }
    search->complete = search->complete && fits;
}

/* Joins every value of one state with every value of the other. */
static void join_states(struct search *search, struct split split, struct value_set *into)
{
    const struct value_set *first = &search->state[split.first];
    const struct value_set *second = &search->state[split.second];
    size_t first_size = state_size(search, first);
    size_t second_size = state_size(search, second);
    for (size_t i = 0; i < first_size && search->values + into->count < VALUES_MOST; i++) {
        struct fraction value = state_value(search, first, i);
        for (size_t j = split.first == split.second ? i : 0; j < second_size; j++) {
            join_values(search, value, state_value(search, second, j), into);
        }
    }
}

/*
 * F(1) = F(2) = 1. With n equal parts of 1 no numerator or denominator exceeds F(n + 1): S. A. Khan, The bounds of the
 * set of equivalent resistances of n equal resistors combined in series and in parallel (2010).
 */
static uint64_t fibonacci(size_t index)
{
    uint64_t before = 0;
    uint64_t value = 1;
    for (size_t i = 1; i < index; i++) {
        uint64_t sum = before + value;
        before = value;
        value = sum;
    }
    return value;
}

static void build_state(struct search *search, size_t whole, unsigned parts_most)
{
    struct split split = {0};
    if (search->inverse_closed && whole > 1) {
        value_set_bound(&search->state[whole], fibonacci(whole + 1));
    }
    while (search->parts_of[whole] > 1 && next_split(search, whole, parts_most, &split)) {
        join_states(search, split, &search->state[whole]);
    }
    search->values += search->state[whole].count;
    if (search->values >= VALUES_MOST) {
        search->complete = false;
    }
}

/* What `value` lacks beside a in series, or in parallel. */
static bool rest_of(struct fraction value, struct fraction a, bool parallel, struct fraction *ret)
{
    if (!parallel) {
        return fraction_subtract(value, a, ret);
    }
    bool ok = fraction_subtract(fraction_inverse(value), fraction_inverse(a), ret);
    *ret = ok ? fraction_inverse(*ret) : *ret;
    return ok;
}

/* How a value comes about in a state. */
struct joint {
    struct split split;
    struct fraction first;
    struct fraction second;
    bool parallel;
};

static bool find_joint_in(const struct search *search, struct split split, struct fraction value, struct joint *ret)
{
    const struct value_set *first = &search->state[split.first];
    const struct value_set *second = &search->state[split.second];
    bool swap = first->count > second->count; /* walk through the smaller set, look up in the larger */
    const struct value_set *walked = swap ? second : first;
    const struct value_set *looked = swap ? first : second;
    for (size_t i = 0; i < state_size(search, walked); i++) {
        struct fraction value_here = state_value(search, walked, i);
        for (int parallel = 0; parallel < 2; parallel++) {
            struct fraction rest;
            if (rest_of(value, value_here, parallel == 1, &rest) && state_has(search, looked, rest)) {
                struct split found = swap ? (struct split){split.second, split.first} : split;
                *ret = (struct joint){found, value_here, rest, parallel == 1};
                return true;
            }
        }
    }
    return false;
}

/* A joint that makes `value` from the parts of state `whole`; the state itself need not be built. */
static bool find_joint(const struct search *search, size_t whole, unsigned parts_most, struct fraction value,
                       struct joint *ret)
{
    struct split split = {0};
    while (next_split(search, whole, parts_most, &split)) {
        if (find_joint_in(search, split, value, ret)) {
            return true;
        }
    }
    return false;
}

static bool same_fraction(struct fraction a, struct fraction b)
{
    return a.over == b.over && a.under == b.under;
}

static bool state_makes(const struct search *search, size_t state, unsigned parts_most, struct fraction value)
{
    struct joint joint;
    return state_has(search, &search->state[state], value) ||
           (search->parts_of[state] > 1 && find_joint(search, state, parts_most, value, &joint));
}

static size_t add_node(struct stock_answer *answer, enum network_kind kind, size_t part, size_t left, size_t right)
{
    answer->nodes = memory_grow(answer->nodes, answer->count, &answer->capacity, sizeof *answer->nodes);
    struct network_node *node = &answer->nodes[answer->count];
    *node = (struct network_node){.kind = kind, .part = part, .left = left, .right = right};
    mpq_init(node->ohm);
    return answer->count++;
}

static void join_ohm(struct stock_answer *answer, size_t index)
{
    struct network_node *node = &answer->nodes[index];
    mpq_srcptr left = answer->nodes[node->left].ohm;
    mpq_srcptr right = answer->nodes[node->right].ohm;
    mpq_add(node->ohm, left, right);
    if (node->kind == NETWORK_PARALLEL) {
        mpq_inv(node->ohm, node->ohm);
        mpq_mul(node->ohm, node->ohm, left);
        mpq_mul(node->ohm, node->ohm, right);
    }
}

/* Which part of the stock a single-part state is. */
static size_t part_of(const struct search *search, size_t state, unsigned parts_most, struct fraction value)
{
    size_t radix = 1;
    for (size_t kind = 0; kind < search->stock->count; kind++) {
        if (search->counted ? state == radix : same_fraction(search->part[kind], value)) {
            return kind;
        }
        radix *= kind_most(search, kind, parts_most) + 1;
    }
    return 0;
}

/* Takes a value apart down to the parts; depth at most the number of parts. */
static size_t take_apart(const struct search *search, size_t state, unsigned parts_most, struct fraction value,
                         struct stock_answer *answer)
{
    struct joint joint;
    if (search->parts_of[state] == 1) {
        size_t part = part_of(search, state, parts_most, value);
        size_t node = add_node(answer, NETWORK_PART, part, 0, 0);
        mpq_set(answer->nodes[node].ohm, search->stock->parts[part].ohm);
        return node;
    }
    bool found = find_joint(search, state, parts_most, value, &joint);
    assert(found);
    size_t left = take_apart(search, joint.split.first, parts_most, joint.first, answer);
    size_t right = take_apart(search, joint.split.second, parts_most, joint.second, answer);
    size_t node = add_node(answer, joint.parallel ? NETWORK_PARALLEL : NETWORK_SERIES, 0, left, right);
    join_ohm(answer, node);
    return node;
}

/* The nearest value so far, and where. */
struct nearest {
    bool any;
    double error;
    size_t state;
    struct fraction value;
};

static void note_nearest(const struct search *search, size_t state, struct nearest *nearest)
{
    double wanted = (double)search->wanted.over / (double)search->wanted.under;
    const struct value_set *set = &search->state[state];
    for (size_t i = 0; i < state_size(search, set); i++) {
        struct fraction value = state_value(search, set, i);
        double error = fabs((double)value.over / (double)value.under - wanted);
        if (!nearest->any || error < nearest->error * (1 - 1e-12)) {
            *nearest = (struct nearest){true, error, state, value};
        }
    }
}

/* States of so many parts: looks for the wanted value first, builds them only where it is not there. */
static bool search_parts(struct search *search, unsigned parts, unsigned parts_most, struct nearest *nearest)
{
    for (size_t state = 1; state < search->state_count; state++) {
        if (search->parts_of[state] == parts && state_makes(search, state, parts_most, search->wanted)) {
            *nearest = (struct nearest){true, 0, state, search->wanted};
            return true;
        }
    }
    for (size_t state = 1; state < search->state_count && search->complete; state++) {
        if (search->parts_of[state] == parts) {
            build_state(search, state, parts_most);
            note_nearest(search, state, nearest);
        }
    }
    return false;
}

void stock_find(const struct stock *stock, const mpq_t wanted, unsigned parts_most, struct stock_answer *ret_answer)
{
    assert(parts_most >= 1 && parts_most <= STOCK_PARTS_MOST && mpq_sgn(wanted) > 0);
    *ret_answer = (struct stock_answer){0};
    if (stock->count == 0) {
        return;
    }
    struct search search;
    struct nearest nearest = {0};
    if (search_init(&search, stock, wanted, parts_most)) {
        search_start(&search, parts_most);
        for (unsigned parts = 1; parts <= parts_most && !ret_answer->exact && search.complete; parts++) {
            ret_answer->exact = search_parts(&search, parts, parts_most, &nearest);
            ret_answer->searched = parts;
        }
    }
    ret_answer->complete = search.complete || ret_answer->exact;
    if (nearest.any) {
        ret_answer->parts = (unsigned)search.parts_of[nearest.state];
        ret_answer->root = take_apart(&search, nearest.state, parts_most, nearest.value, ret_answer);
    }
    search_done(&search);
}

/* Builds everything up to parts_most parts, for the counts. */
static void search_all(struct search *search, const struct stock *stock, unsigned parts_most)
{
    if (search_init(search, stock, stock->parts[0].ohm, parts_most)) {
        search_start(search, parts_most);
        for (unsigned parts = 2; parts <= parts_most; parts++) {
            for (size_t state = 1; state < search->state_count; state++) {
                if (search->parts_of[state] == parts) {
                    build_state(search, state, parts_most);
                }
            }
        }
    }
}

/* 1 is its own reciprocal. */
static size_t distinct_values(const struct search *search, size_t state)
{
    const struct value_set *set = &search->state[state];
    return state_size(search, set) - (search->inverse_closed && value_set_has(set, (struct fraction){1, 1}) ? 1 : 0);
}

size_t stock_count_alike(unsigned parts, size_t *ret_all)
{
    assert(parts >= 1 && parts <= STOCK_PARTS_MOST);
    struct stock stock = {0};
    struct search search;
    mpq_t one;
    mpq_init(one);
    mpq_set_ui(one, 1, 1);
    stock_add(&stock, one, 0);
    search_all(&search, &stock, parts);
    size_t count = distinct_values(&search, parts);
    for (unsigned i = 0; ret_all != NULL && i <= parts; i++) {
        ret_all[i] = distinct_values(&search, i);
    }
    search_done(&search);
    stock_done(&stock);
    mpq_clear(one);
    return count;
}

size_t stock_count_different(const struct stock *stock)
{
    struct search search;
    search_all(&search, stock, (unsigned)stock->count);
    size_t count = search.state_count == 0 ? 0 : search.state[search.state_count - 1].count;
    search_done(&search);
    return count;
}

void stock_answer_done(struct stock_answer *answer)
{
    for (size_t i = 0; i < answer->count; i++) {
        mpq_clear(answer->nodes[i].ohm);
    }
    free(answer->nodes);
    *answer = (struct stock_answer){0};
}
