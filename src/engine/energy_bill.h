/*
 * Money: what a month costs, and what a minute in a cell costs an appliance. Inside the engine only.
 */
#ifndef AMPSUM_ENGINE_ENERGY_BILL_H
#define AMPSUM_ENGINE_ENERGY_BILL_H

#include "ampsum/energy.h"

#include "energy_tally.h"

/* Exact money of the house. */
struct money {
    const struct tariff *tariff;  /* NULL: no money, and nothing below is set */
    mpq_t charge[MONTHS_IN_YEAR]; /* energy charge of each month, before tax */
    mpq_t standing;               /* a day */
    mpq_t with_tax;               /* 1 + tax */

    /* Energy charge with its tax of one microwatt minute in each cell of a row: weight / weight_bottom. */
    mpz_t *weight;
    size_t weight_count;
    mpz_t weight_bottom;
};

/* From the settled tally of the house, by month. Free with money_done. */
void money_init(struct money *money, const struct house *house, const struct tariff *tariff, const struct tally *tally);
void money_done(struct money *money);

/* Fills the house's energy and money from the same. */
void money_bill(const struct money *money, const struct tally *tally, int minor_units, struct arena *arena,
                struct energy_bill *ret_bill);

#endif
