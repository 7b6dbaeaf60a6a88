/*
 * The year of 365 dates from Monday 1 January, by what energy costs at each minute. Inside the engine only.
 *
 * A cell is a price that occurs; without time-of-use periods there is one cell. A profile is a day's course of cells;
 * dates share few profiles. So minutes are counted by date class and profile, never one by one.
 */
#ifndef AMPSUM_ENGINE_ENERGY_PRICES_H
#define AMPSUM_ENGINE_ENERGY_PRICES_H

#include <stdint.h>

#include "ampsum/model.h"

#include "schedule.h"

/* start_min..stop_min of a day costs what cell says. */
struct segment {
    int start_min;
    int stop_min;
    size_t cell;
};

struct profile {
    struct segment *segment; /* in order, from 0 to 1440 without a gap */
    size_t count;
};

/* Dates of each month, and those whose day before, in the same month, is one of the days: by profile and month. */
struct date_counts {
    unsigned char today[MONTHS_IN_YEAR];
    unsigned char next[MONTHS_IN_YEAR];
};

/*
 * How often, in each month, a minute of the day counts that starts on its day (today) or runs in from the day before
 * (next): of a set of days and months, by profile. A month is at most 44,640 minutes; the room beyond twelve lets the
 * processor take them at once.
 */
enum { MONTH_ROOM = 16, TIMES_BITS = 6, TIMES_KEPT = 1 << TIMES_BITS };
struct month_times {
    uint16_t today[MONTH_ROOM];
    uint16_t next[MONTH_ROOM];
    unsigned today_in_year; /* the sums over the months */
    unsigned next_in_year;
};

/* The times of a set of days and months that was asked for. */
struct kept_times {
    unsigned days; /* 0: nothing is kept */
    unsigned months;
    struct month_times *times; /* profile_count entries */
};

struct prices {
    const char **cell_price; /* cell_count decimal texts, NULL: energy is not priced by the minute */
    size_t cell_count;
    struct profile *profiles;
    size_t profile_count;
    int *edge_min;              /* where some profile goes from segment to segment: stretch_count + 1, from 0 to 1440 */
    size_t stretch_count;       /* a stretch of the day lies between two edges */
    size_t *stretch_cell;       /* profile_count * stretch_count */
    struct date_counts *by_day; /* profile_count * 7: dates by their own day (next: by the day before) */
    struct date_counts *by_days[DAYS_ALL + 1]; /* by set of days, profile_count entries, made when first asked for */
    size_t first_profile[MONTHS_IN_YEAR];      /* of the first date of each month */
    int first_before[MONTHS_IN_YEAR];          /* day of the week of the date before that */
    uint32_t *all_min;                         /* 12 * cell_count: all minutes of the year */
    struct kept_times kept[TIMES_KEPT];        /* by a hash of days and months */
    uint32_t *part_min;                        /* scratch, 2 * cell_count */
    uint16_t *sum_min;                         /* scratch, MONTH_ROOM * cell_count: cell by cell */
    struct arena *arena;
};

/* `tariff` NULL or without periods: one cell, its price the tariff's own. Everything is in `arena`. */
void prices_init(struct prices *prices, const struct house *house, const struct tariff *tariff, struct arena *arena);

/*
 * Minutes of the year within the windows on those days and months: `ret_min`, 12 * cell_count entries, month by month.
 * A window's minutes after midnight belong to the date on which they fall; those after 31 December are left out, those
 * from a Sunday 31 December before the year are in.
 */
void prices_minutes(struct prices *prices, const struct window_list *windows, unsigned days, unsigned months,
                    uint32_t *ret_min);

/* A place of TIMES_KEPT for days and months, spread by the golden ratio: sets that differ in their high bits alone,
 * too. */
static inline size_t times_place(unsigned days, unsigned months)
{
    return (uint32_t)((days << MONTHS_IN_YEAR | months) * 2654435769U) >> (32 - TIMES_BITS);
}

/* How often a day of each profile counts, of those days and months: profile_count entries, good until the next call. */
const struct month_times *prices_times(struct prices *prices, unsigned days, unsigned months);

#endif
