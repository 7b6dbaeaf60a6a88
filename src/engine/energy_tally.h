/*
 * Exact sums of energy over appliances, by cell of price and, where wanted, by month. Inside the engine only.
 *
 * One unit draws, in each minute of its windows, f P duty + (1 - f) standby, and its standby in every other minute.
 * That is standby all year and (P duty - standby) f more while in its windows. f is hours over windows. Sums are kept
 * by window length wherever f is not 1, because that is what their denominators differ by.
 */
#ifndef AMPSUM_ENGINE_ENERGY_TALLY_H
#define AMPSUM_ENGINE_ENERGY_TALLY_H

#include <stdbool.h>

#include "energy_exact.h"
#include "energy_gather.h"
#include "energy_prices.h"

/* Microwatt minutes in a kilowatt hour. */
#define MICROWATT_MIN_PER_KWH 60000000000UL

struct tally {
    const struct house *house;
    struct prices *prices;
    bool by_month;     /* cells are price cells of each month, else of the year */
    size_t cell_count; /* 12 * prices cells, or prices cells */
    int duty_places;   /* decimals of duties and of on-times in this house, at most */
    int time_places;
    int most_bits; /* of a rate that may go into `wide` */
    struct class_sum *classes[MINUTES_IN_DAY + 1];
    uint16_t made[MINUTES_IN_DAY + 1]; /* the classes that have sums */
    size_t made_count;
    uint16_t used[MINUTES_IN_DAY + 1]; /* those of them in use */
    size_t used_count;
    struct gather gather; /* what is not in the sums yet */
    wide standby;         /* count standby, microwatt */
    mpz_t big_standby;
    uint32_t *minutes;  /* scratch: 12 * prices cells */
    uint32_t *cell_min; /* scratch: cell_count */
    mpz_t duty_bottom;  /* denominator of class 0: the duty's */
    mpz_t rate[3];      /* scratch of the large */
    mpz_t work;

    /* Set by tally_settle: microwatt minutes, over `bottom`. */
    mpz_t *cell;
    mpz_t standby_energy;
    mpz_t bottom;
};

void tally_init(struct tally *tally, const struct house *house, struct prices *prices, bool by_month);
void tally_done(struct tally *tally);

/* Back to an empty sum. */
void tally_clear(struct tally *tally);

void tally_add(struct tally *tally, const struct appliance *appliance);

/* Turns what was added into energies over one denominator. */
void tally_settle(struct tally *tally);

/* True where `hours` stands without windows, so that it is spread over the day. */
bool is_spread_over_day(const struct appliance *appliance);

#endif
