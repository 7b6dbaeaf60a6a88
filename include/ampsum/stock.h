/*
 * A wanted resistance from the parts on the shelf: the fewest parts whose series-parallel network gives it exactly, or
 * else the nearest. Exact whole-number fractions with overflow tests inside, GMP rationals outside. Checked:
 * tests/unit/test_stock.c (exhaustive search to 6 parts, OEIS A048211).
 */
#ifndef AMPSUM_STOCK_H
#define AMPSUM_STOCK_H

#include <stdbool.h>
#include <stddef.h>

#include <gmp.h>

#include "ampsum/text.h"

enum { STOCK_PARTS_MOST = 16, STOCK_KINDS_MOST = 200 };

/* One kind of part. */
struct stock_part {
    mpq_t ohm;
    unsigned most; /* how many there are; 0: as many as needed */
};

struct stock {
    struct stock_part *parts;
    size_t count;
    size_t capacity;
};

void stock_done(struct stock *stock);

/* Adds one kind of part; equal values stay apart. */
void stock_add(struct stock *stock, const mpq_t ohm, unsigned most);

/*
 * Reads `56 ohm` (as many as needed) or `56 ohm*2, 4.7 kohm*1`. False, with a word in `fault`, where a part cannot be
 * read.
 */
bool stock_read(const char *list, struct stock *stock, struct text *fault);

/*
 * Adds the preferred numbers of a series (E6, E12, E24; reference table ref_preferred_number) over the `decades`
 * (1..3) around `wanted`. False where there is no such series.
 */
bool stock_series(const char *series, unsigned decades, const mpq_t wanted, struct stock *stock,
                  unsigned *ret_tolerance_percent);

enum network_kind { NETWORK_PART, NETWORK_SERIES, NETWORK_PARALLEL };

/* A part, or two networks joined. */
struct network_node {
    enum network_kind kind;
    size_t part; /* of the stock, where it is a part */
    size_t left; /* nodes, where it is a joint */
    size_t right;
    mpq_t ohm;
};

struct stock_answer {
    bool exact;
    bool complete;  /* every network of up to `searched` parts was looked at */
    unsigned parts; /* 0: the stock makes nothing */
    unsigned searched;
    struct network_node *nodes;
    size_t count;
    size_t capacity;
    size_t root;
};

void stock_answer_done(struct stock_answer *answer);

/*
 * The network of the fewest parts, at most parts_most (1..STOCK_PARTS_MOST), that is exactly `wanted` > 0; where there
 * is none, the nearest one (fewest parts among equally near ones). `ret_answer` is emptied first. The search stops
 * adding parts where it would hold more than some two million values, and then says that it is not complete.
 */
void stock_find(const struct stock *stock, const mpq_t wanted, unsigned parts_most, struct stock_answer *ret_answer);

/*
 * Number of distinct values of series-parallel networks of exactly `parts` equal parts; ret_all (parts + 1 entries or
 * NULL) gets the number for each number of parts.
 */
size_t stock_count_alike(unsigned parts, size_t *ret_all);

/* Number of distinct values of networks that use each of the stock's parts just once. */
size_t stock_count_different(const struct stock *stock);

/* Appends "68 ohm || (68 ohm + 68 ohm)": + in series, || in parallel. */
void stock_words(struct text *text, const struct stock *stock, const struct stock_answer *answer);

/* Appends the network, drawn with plain characters, one line for each path. */
void stock_draw(struct text *text, const struct stock *stock, const struct stock_answer *answer);

/* Voltage across and power in each node of the answer (answer->count entries, initialised) at `voltage` across all. */
void stock_powers(const struct stock_answer *answer, const mpq_t voltage, mpq_t *ret_voltage, mpq_t *ret_power);

/*
 * For the questions of the classroom: how many parts of `part` make `wanted` at least (to 6; false beyond), and that
 * network in words.
 */
bool stock_alike_count(const mpq_t wanted, const mpq_t part, mpq_t ret_count);
void stock_alike_words(const mpq_t wanted, const mpq_t part, struct text *text);

#endif
