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
#include "energy_prices.h"

/* Microwatt minutes in a kilowatt hour. */
#define MICROWATT_MIN_PER_KWH 60000000000UL

/* Sums of the appliances with one window length (0: f is 1). */
struct class_sum {
    bool in_use;   /* listed in `used` */
    wide *on;      /* cell_count: count (P duty - standby) F minutes, over the class's denominator */
    wide off;      /* count standby F minutes: the standby that is not drawn; over that without the duty's part */
    mpz_t *big_on; /* the same of appliances too large for `wide` */
    mpz_t big_off;
    mpz_t bottom; /* the class's denominator */
};

struct tally {
    const struct house *house;
    struct prices *prices;
    bool by_month;     /* cells are price cells of each month, else of the year */
    size_t cell_count; /* 12 * prices cells, or prices cells */
    int duty_places;   /* decimals of duties and of on-times in this house, at most */
    int time_places;
    int most_bits; /* of a rate that may go into `wide` */
    struct class_sum *classes[MINUTES_IN_DAY + 1];
    unsigned used[MINUTES_IN_DAY + 1];
    size_t used_count;
    wide standby; /* count standby, microwatt */
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
