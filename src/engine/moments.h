/* The moments of a year at which some appliances may go on or off: one for each kind of month and of day and each edge
 * of a window. Inside decide only. */
#ifndef AMPSUM_ENGINE_MOMENTS_H
#define AMPSUM_ENGINE_MOMENTS_H

#include "ampsum/engine.h"
#include "schedule.h"

struct moments {
    int *edge_min; /* minutes of the day, ascending, the first 0 */
    size_t edge_count;
    int month[MONTHS_IN_YEAR]; /* one of each kind */
    size_t month_count;
    int day[DAYS_IN_WEEK]; /* one of each kind */
    size_t day_count;
    size_t next;
};

/* For appliances `index`, `count` of them. Free with moments_done. */
void moments_init(struct moments *moments, const struct house *house, const size_t *index, size_t count);
void moments_done(struct moments *moments);

/* How many there are. */
size_t moments_count(const struct moments *moments);

/* The next moment, and the minute of its day (at most 1440) up to which nothing changes; false at the end. */
bool moments_next(struct moments *moments, struct moment *ret_at, int *ret_end_min);

#endif
