#include "energy_gather.h"

#include <string.h>

/* ------------------------------------------------------------------ dates --------------------------------- */

/* Adds one stretch's energy to its cell of each month, or of the year, as often as there are dates. */
static void add_dates(const struct gather *gather, wide *on, wide energy, const uint16_t *times, unsigned in_year)
{
    if (!gather->by_month) {
        *on += energy * in_year;
        return;
    }
    for (size_t month = 0; month < MONTHS_IN_YEAR; month++) {
        if (times[month] != 0) {
            on[month * gather->prices->cell_count] += energy * times[month];
        }
    }
}

static void add_stretches(const struct gather *gather, struct class_sum *sum, size_t profile, const wide *energy,
                          const uint16_t *times, unsigned in_year)
{
    const size_t count = gather->prices->stretch_count;
    const size_t *cell = &gather->prices->stretch_cell[profile * count];
    for (size_t i = 0; in_year > 0 && i < count; i++) {
        if (energy[i] != 0) {
            add_dates(gather, &sum->on[cell[i]], energy[i], times, in_year);
        }
    }
}

static void spread(const struct gather *gather, struct gathered *gathered)
{
    const struct month_times *times = prices_times(gather->prices, gathered->days, gathered->months);
    struct class_sum *sum = gathered->sum;
    for (size_t k = 0; k < gather->prices->profile_count; k++) {
        add_stretches(gather, sum, k, gathered->today.on, times[k].today, times[k].today_in_year);
        sum->off += gathered->today.off * times[k].today_in_year;
        if (gathered->crosses) {
            add_stretches(gather, sum, k, gathered->next.on, times[k].next, times[k].next_in_year);
            sum->off += gathered->next.off * times[k].next_in_year;
        }
    }
    gathered->sum = NULL;
}

void gather_spread(struct gather *gather)
{
    for (size_t i = 0; i < gather->used_count; i++) {
        spread(gather, &gather->place[gather->used[i]]);
    }
    gather->used_count = 0;
}

/* ------------------------------------------------------------------ adding -------------------------------- */

static void stretches_clear(const struct gather *gather, struct stretches *stretches)
{
    const size_t count = gather->prices->stretch_count;
    if (stretches->on == NULL) {
        stretches->on = arena_array(gather->prices->arena, count, sizeof *stretches->on);
    }
    memset(stretches->on, 0, count * sizeof *stretches->on);
    stretches->off = 0;
}

/* The place for appliances of those days, months and sums. */
static struct gathered *place_of(struct gather *gather, unsigned days, unsigned months, struct class_sum *sum)
{
    const size_t place = (times_place(days, months) + (size_t)((uintptr_t)sum >> 4)) % TIMES_KEPT;
    struct gathered *gathered = &gather->place[place];
    if (gathered->sum == sum && gathered->days == days && gathered->months == months) {
        return gathered;
    }
    if (gathered->sum != NULL) {
        spread(gather, gathered);
    } else {
        gather->used[gather->used_count++] = (unsigned char)place;
    }
    gathered->sum = sum;
    gathered->days = days;
    gathered->months = months;
    gathered->crosses = false;
    stretches_clear(gather, &gathered->today);
    stretches_clear(gather, &gathered->next);
    return gathered;
}

static void add_part(const struct prices *prices, int start_min, int stop_min, const wide rate[2],
                     struct stretches *stretches)
{
    const int *edge_min = prices->edge_min;
    size_t i = 0;
    while (edge_min[i + 1] <= start_min) {
        i++;
    }
    for (int from_min = start_min; from_min < stop_min; from_min = edge_min[++i]) {
        const int to_min = stop_min < edge_min[i + 1] ? stop_min : edge_min[i + 1];
        stretches->on[i] += rate[0] * (to_min - from_min);
    }
    stretches->off += rate[1] * (stop_min - start_min);
}

void gather_add(struct gather *gather, const struct appliance *appliance, const struct window_list *windows,
                struct class_sum *sum, const wide rate[2])
{
    struct gathered *gathered = place_of(gather, appliance->days, appliance->months, sum);
    for (size_t i = 0; i < windows->count; i++) {
        const int stop_min = window_stop_min(windows->window[i]);
        const int stop_today_min = stop_min < MINUTES_IN_DAY ? stop_min : MINUTES_IN_DAY;
        add_part(gather->prices, windows->window[i].start_min, stop_today_min, rate, &gathered->today);
        if (stop_min > MINUTES_IN_DAY) {
            gathered->crosses = true;
            add_part(gather->prices, 0, stop_min - MINUTES_IN_DAY, rate, &gathered->next);
        }
    }
}
