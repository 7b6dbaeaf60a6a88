#include "node_equations.h"

#include <assert.h>
#include <stdlib.h>
#include <string.h>

enum { SOURCE_V = 60 };

size_t network_pick(uint64_t *state, size_t below)
{
    *state = *state * 6364136223846793005U + 1442695040888963407U;
    return (size_t)(*state >> 33) % below;
}

static void add_part(uint64_t *state, struct network *network, size_t from, size_t to)
{
    struct network_part *part = &network->part[network->count++];
    *part = (struct network_part){.from = from, .to = to};
    mpq_inits(part->ohm, part->volt, part->ampere, NULL);
    const unsigned long over = (unsigned long)network_pick(state, 999) + 1;
    const unsigned long under = network_pick(state, 3) == 0 ? (unsigned long)network_pick(state, 12) + 1 : 1;
    mpq_set_ui(part->ohm, over, under);
    mpq_canonicalize(part->ohm);
    struct text *text = &network->circuit;
    char *shown = mpq_get_str(NULL, 10, part->ohm);
    text_add(text, shown);
    free(shown);
}

/* `parts` parts between two nodes: one, or two groups and more in a row or side by side. */
static void add_group(uint64_t *state, struct network *network, size_t parts, size_t from, size_t to)
{
    if (parts == 1) {
        add_part(state, network, from, to);
        return;
    }
    const int series = network_pick(state, 2) == 0;
    text_add_char(&network->circuit, '(');
    size_t at = from;
    for (size_t left = parts; left > 0;) {
        const size_t most = left == parts ? left - 1 : left;
        const size_t take = 1 + network_pick(state, most);
        const size_t next = !series || take == left ? to : network->node_count++;
        add_group(state, network, take, at, next);
        at = series ? next : from;
        left -= take;
        text_add(&network->circuit, left == 0 ? "" : series ? " + " : " | ");
    }
    text_add_char(&network->circuit, ')');
}

void network_random(uint64_t *state, size_t most, struct network *ret_network)
{
    *ret_network = (struct network){.node_count = 2};
    mpq_init(ret_network->ampere);
    add_group(state, ret_network, 1 + network_pick(state, most), 1, 0);
}

void network_hide(struct network *network, size_t part)
{
    struct text text = {0};
    const char *at = text_string(&network->circuit);
    for (size_t number = 0; *at != '\0';) {
        const size_t length = strspn(at, "0123456789/");
        if (length == 0) {
            text_add_char(&text, *at++);
            continue;
        }
        if (number == part) {
            text_add_char(&text, '?');
        } else {
            text_add_length(&text, at, length);
        }
        number++;
        at += length;
    }
    text_done(&network->circuit);
    network->circuit = text;
}

/* ------------------------------------------------------------------ elimination --------------------------- */

enum { NODES_MOST = NETWORK_PARTS_MOST + 2 };

struct matrix {
    mpq_t row[NODES_MOST][NODES_MOST + 1]; /* the last column is the right side */
    size_t size;
};

/* The sum of currents that leave each inner node is 0; nodes 0 and 1 are held at 0 and 60 V. */
static void fill(const struct network *network, struct matrix *matrix)
{
    mpq_t conductance;
    mpq_init(conductance);
    for (size_t i = 0; i < network->count; i++) {
        const size_t end[] = {network->part[i].from, network->part[i].to};
        mpq_inv(conductance, network->part[i].ohm);
        for (size_t k = 0; k < 2; k++) {
            mpq_t *row = matrix->row[end[k]];
            mpq_add(row[end[k]], row[end[k]], conductance);
            mpq_sub(row[end[1 - k]], row[end[1 - k]], conductance);
        }
    }
    for (size_t held = 0; held < 2; held++) {
        for (size_t j = 0; j <= matrix->size; j++) {
            mpq_set_ui(matrix->row[held][j], j == held ? 1 : 0, 1);
        }
    }
    mpq_set_ui(matrix->row[1][matrix->size], SOURCE_V, 1);
    mpq_clear(conductance);
}

/* Gauss and Jordan; every pivot of a connected net is above 0, since its matrix is diagonally dominant. */
static void eliminate(struct matrix *matrix)
{
    mpq_t factor;
    mpq_t product;
    mpq_inits(factor, product, NULL);
    for (size_t k = 0; k < matrix->size; k++) {
        assert(mpq_sgn(matrix->row[k][k]) != 0);
        for (size_t i = 0; i < matrix->size; i++) {
            if (i == k || mpq_sgn(matrix->row[i][k]) == 0) {
                continue;
            }
            mpq_div(factor, matrix->row[i][k], matrix->row[k][k]);
            for (size_t j = k; j <= matrix->size; j++) {
                mpq_mul(product, factor, matrix->row[k][j]);
                mpq_sub(matrix->row[i][j], matrix->row[i][j], product);
            }
        }
    }
    for (size_t k = 0; k < matrix->size; k++) {
        mpq_div(matrix->row[k][matrix->size], matrix->row[k][matrix->size], matrix->row[k][k]);
    }
    mpq_clears(factor, product, NULL);
}

static void take_figures(struct network *network, const struct matrix *matrix)
{
    for (size_t i = 0; i < network->count; i++) {
        struct network_part *part = &network->part[i];
        mpq_sub(part->volt, matrix->row[part->from][matrix->size], matrix->row[part->to][matrix->size]);
        mpq_div(part->ampere, part->volt, part->ohm);
        if (part->from == 1) {
            mpq_add(network->ampere, network->ampere, part->ampere);
        }
    }
}

void network_solve(struct network *network)
{
    struct matrix *matrix = malloc(sizeof *matrix);
    assert(matrix != NULL);
    matrix->size = network->node_count;
    for (size_t i = 0; i < NODES_MOST; i++) {
        for (size_t j = 0; j <= NODES_MOST; j++) {
            mpq_init(matrix->row[i][j]);
        }
    }
    fill(network, matrix);
    eliminate(matrix);
    take_figures(network, matrix);
    for (size_t i = 0; i < NODES_MOST; i++) {
        for (size_t j = 0; j <= NODES_MOST; j++) {
            mpq_clear(matrix->row[i][j]);
        }
    }
    free(matrix);
}

void network_done(struct network *network)
{
    for (size_t i = 0; i < network->count; i++) {
        mpq_clears(network->part[i].ohm, network->part[i].volt, network->part[i].ampere, NULL);
    }
    mpq_clear(network->ampere);
    text_done(&network->circuit);
}
