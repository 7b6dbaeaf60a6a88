/*
 * Windows, days and months, for the busiest minute and for the year's energy. A window belongs to the day, and the
 * month, on which it starts. Inside the engine only.
 */
#ifndef AMPSUM_ENGINE_SCHEDULE_H
#define AMPSUM_ENGINE_SCHEDULE_H

#include <stdbool.h>
#include <stddef.h>

#include "ampsum/model.h"

enum { DAYS_IN_WEEK = 7, DAYS_IN_YEAR = 365 };

/* Days of each month of a common year. */
extern const int month_days[MONTHS_IN_YEAR];

/* End of a window counted from midnight of the day on which it starts: above 1440 where it runs into the next day. */
static inline int window_stop_min(struct window window)
{
    return window.end_min > window.start_min ? window.end_min : window.end_min + MINUTES_IN_DAY;
}

/* Sum of the lengths of the windows, minutes. */
int windows_length_min(const struct window_list *list);

/* True where some window runs past midnight. */
bool windows_cross_midnight(const struct window_list *list);

/* The day of the week before. */
static inline int day_before(int day)
{
    return (day + DAYS_IN_WEEK - 1) % DAYS_IN_WEEK;
}

#endif
