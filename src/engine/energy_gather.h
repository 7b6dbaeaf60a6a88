/*
 * Energies of appliances that share days, months and the length of their windows, by stretch of the day: what costs the
 * same all through is one stretch, whatever the date. So the dates of the year are looked at once for all that share
 * them, not for each appliance. Inside the engine only.
 */
#ifndef AMPSUM_ENGINE_ENERGY_GATHER_H
#define AMPSUM_ENGINE_ENERGY_GATHER_H

#include <stdbool.h>

#include "energy_exact.h"
#include "energy_prices.h"

/* Sums of the appliances with one window length (0: f is 1). */
struct class_sum {
    bool in_use;   /* listed in `used` of the tally */
    wide *on;      /* by cell: count (P duty - standby) F minutes, over the class's denominator */
    wide off;      /* count standby F minutes: the standby that is not drawn; over that without the duty's part */
    mpz_t *big_on; /* the same of appliances too large for `wide` */
    mpz_t big_off;
    mpz_t bottom; /* the class's denominator */
};

/* Rate times minutes of windows on the day they start, and on the next. */
struct stretches {
    wide *on; /* prices->stretch_count */
    wide off;
};

struct gathered {
    struct class_sum *sum; /* where it goes; NULL: the place is free */
    unsigned days;
    unsigned months;
    struct stretches today;
    struct stretches next;
    bool crosses; /* some window runs past midnight */
};

/* Of two that would take the same place the earlier is spread over its dates, and gone. */
struct gather {
    struct prices *prices;
    bool by_month; /* cells of sums are those of each month, else of the year */
    struct gathered place[TIMES_KEPT];
    unsigned char used[TIMES_KEPT];
    size_t used_count;
};

/* Adds an appliance: rate[0] to the energy of each minute within the windows, rate[1] to the standby not drawn there.
 */
void gather_add(struct gather *gather, const struct appliance *appliance, const struct window_list *windows,
                struct class_sum *sum, const wide rate[2]);

/* Spreads all that was gathered over the dates, into the sums that it was added for. */
void gather_spread(struct gather *gather);

#endif
