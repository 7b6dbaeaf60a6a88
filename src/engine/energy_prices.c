#include "energy_prices.h"

#include <stdlib.h>
#include <string.h>

/* What a period does on a date: bits. */
enum { STARTS_TODAY = 1, RUNS_IN = 2 };

/* Dates whose periods do the same share a profile. */
struct builder {
    struct prices *prices;
    const struct house *house;
    const struct index_list *periods;
    size_t *period_cell;                        /* cell of each period */
    size_t base_cell;                           /* where no period applies */
    unsigned char *doings;                      /* of each profile: one byte for each period */
    unsigned char *doing_now;                   /* of the date at hand */
    int known[MONTHS_IN_YEAR][DAYS_IN_WEEK][2]; /* profile + 1 by month, day, first of the month; 0: not yet */
};

static const struct period *period_at(const struct builder *builder, size_t i)
{
    return &builder->house->periods[builder->periods->index[i]];
}

static size_t cell_of_price(struct prices *prices, const char *price)
{
    for (size_t i = 0; i < prices->cell_count; i++) {
        if (price == prices->cell_price[i] ||
            (price != NULL && prices->cell_price[i] != NULL && strcmp(price, prices->cell_price[i]) == 0)) {
            return i;
        }
    }
    prices->cell_price[prices->cell_count] = price;
    return prices->cell_count++;
}

static void make_cells(struct builder *builder, const char *base_price)
{
    struct prices *prices = builder->prices;
    size_t count = builder->periods->count;
    prices->cell_price = arena_array(prices->arena, count + 1, sizeof *prices->cell_price);
    builder->period_cell = arena_array(prices->arena, count, sizeof *builder->period_cell);
    builder->base_cell = cell_of_price(prices, base_price);
    for (size_t i = 0; i < count; i++) {
        builder->period_cell[i] = cell_of_price(prices, period_at(builder, i)->price);
    }
}

/* ------------------------------------------------------------------ profiles ------------------------------ */

static int compare_segments(const void *left, const void *right)
{
    const struct segment *a = left;
    const struct segment *b = right;
    return (a->start_min > b->start_min) - (a->start_min < b->start_min);
}

/* The parts of a day that periods price: what starts today, and what runs in from yesterday. */
static size_t priced_parts(const struct builder *builder, struct segment *parts)
{
    size_t count = 0;
    for (size_t i = 0; i < builder->periods->count; i++) {
        const struct window_list *hours = &period_at(builder, i)->hours;
        for (size_t k = 0; k < hours->count; k++) {
            int start_min = hours->window[k].start_min;
            int stop_min = window_stop_min(hours->window[k]);
            if ((builder->doing_now[i] & STARTS_TODAY) != 0) {
                int stop_today_min = stop_min < MINUTES_IN_DAY ? stop_min : MINUTES_IN_DAY;
                parts[count++] = (struct segment){start_min, stop_today_min, builder->period_cell[i]};
            }
            if ((builder->doing_now[i] & RUNS_IN) != 0 && stop_min > MINUTES_IN_DAY) {
                parts[count++] = (struct segment){0, stop_min - MINUTES_IN_DAY, builder->period_cell[i]};
            }
        }
    }
    return count;
}

static size_t windows_in_periods(const struct builder *builder)
{
    size_t count = 0;
    for (size_t i = 0; i < builder->periods->count; i++) {
        count += period_at(builder, i)->hours.count;
    }
    return count;
}

/* Orders the parts and fills what no period prices with the base cell. */
static struct profile make_profile(const struct builder *builder)
{
    struct arena *arena = builder->prices->arena;
    size_t most = 2 * windows_in_periods(builder);
    struct segment *parts = arena_array(arena, most, sizeof *parts);
    size_t part_count = priced_parts(builder, parts);
    if (part_count > 1) {
        qsort(parts, part_count, sizeof *parts, compare_segments);
    }
    struct profile profile = {.segment = arena_array(arena, 2 * part_count + 1, sizeof *profile.segment)};
    int at_min = 0;
    for (size_t i = 0; i < part_count; i++) {
        if (parts[i].start_min > at_min) {
            profile.segment[profile.count++] = (struct segment){at_min, parts[i].start_min, builder->base_cell};
        }
        profile.segment[profile.count++] = parts[i];
        at_min = parts[i].stop_min;
    }
    if (at_min < MINUTES_IN_DAY) {
        profile.segment[profile.count++] = (struct segment){at_min, MINUTES_IN_DAY, builder->base_cell};
    }
    return profile;
}

static void note_doings(struct builder *builder, int month, int day, int month_before)
{
    for (size_t i = 0; i < builder->periods->count; i++) {
        const struct period *period = period_at(builder, i);
        bool today = (period->months >> month & 1U) != 0 && (period->days >> day & 1U) != 0;
        bool before = (period->months >> month_before & 1U) != 0 && (period->days >> day_before(day) & 1U) != 0;
        bool runs_in = before && windows_cross_midnight(&period->hours);
        builder->doing_now[i] = (unsigned char)((today ? STARTS_TODAY : 0) | (runs_in ? RUNS_IN : 0));
    }
}

/* The profile of a date of that kind, made when it is met first. */
static size_t profile_of_date(struct builder *builder, int month, int day, bool first)
{
    int *known = &builder->known[month][day][first];
    if (*known != 0) {
        return (size_t)*known - 1;
    }
    struct prices *prices = builder->prices;
    size_t bytes = builder->periods->count;
    note_doings(builder, month, day, first ? (month + MONTHS_IN_YEAR - 1) % MONTHS_IN_YEAR : month);
    size_t profile = 0;
    while (profile < prices->profile_count &&
           memcmp(&builder->doings[profile * bytes], builder->doing_now, bytes) != 0) {
        profile++;
    }
    if (profile == prices->profile_count) {
        memcpy(&builder->doings[profile * bytes], builder->doing_now, bytes);
        prices->profiles[prices->profile_count++] = make_profile(builder);
    }
    *known = (int)profile + 1;
    return profile;
}

/* ------------------------------------------------------------------ dates --------------------------------- */

/* The first of a month, which may run in from the month before. */
static void count_first(struct builder *builder, int month, int day)
{
    struct prices *prices = builder->prices;
    const size_t profile = profile_of_date(builder, month, day, true);
    prices->by_day[profile * DAYS_IN_WEEK + (size_t)day].today[month]++;
    prices->first_profile[month] = profile;
    prices->first_before[month] = day_before(day);
}

/* The other dates of a month that fall on one day of the week; `after` days after the first of the month. */
static void count_others(struct builder *builder, int month, int day, int after)
{
    struct prices *prices = builder->prices;
    const int dates = (month_days[month] - after + DAYS_IN_WEEK - 1) / DAYS_IN_WEEK - (after == 0 ? 1 : 0);
    const size_t profile = profile_of_date(builder, month, day, false);
    unsigned char *today = &prices->by_day[profile * DAYS_IN_WEEK + (size_t)day].today[month];
    unsigned char *next = &prices->by_day[profile * DAYS_IN_WEEK + (size_t)day_before(day)].next[month];
    *today = (unsigned char)(*today + dates);
    *next = (unsigned char)(*next + dates);
}

/* Where all periods hold in both months or in neither, their dates are alike but for the first. */
static void know_from_before(struct builder *builder, int month)
{
    for (size_t i = 0; i < builder->periods->count; i++) {
        const unsigned months = period_at(builder, i)->months;
        if ((months >> month & 1U) != (months >> (month - 1) & 1U)) {
            return;
        }
    }
    for (int day = 0; day < DAYS_IN_WEEK; day++) {
        builder->known[month][day][false] = builder->known[month - 1][day][false];
    }
}

static void count_dates(struct builder *builder)
{
    int first_day = 0;
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        if (month > 0) {
            know_from_before(builder, month);
        }
        count_first(builder, month, first_day);
        for (int after = 0; after < DAYS_IN_WEEK; after++) {
            count_others(builder, month, (first_day + after) % DAYS_IN_WEEK, after);
        }
        first_day = (first_day + month_days[month]) % DAYS_IN_WEEK;
    }
}

/* ------------------------------------------------------------------ stretches ----------------------------- */

static int compare_minutes(const void *left, const void *right)
{
    return *(const int *)left - *(const int *)right;
}

/* Where a segment of some profile starts, each once, and the end of the day. */
static void find_edges(struct prices *prices)
{
    size_t most = 1;
    for (size_t k = 0; k < prices->profile_count; k++) {
        most += prices->profiles[k].count;
    }
    int *edge_min = arena_array(prices->arena, most, sizeof *edge_min);
    size_t count = 0;
    for (size_t k = 0; k < prices->profile_count; k++) {
        for (size_t i = 0; i < prices->profiles[k].count; i++) {
            edge_min[count++] = prices->profiles[k].segment[i].start_min;
        }
    }
    qsort(edge_min, count, sizeof *edge_min, compare_minutes);
    for (size_t i = 0; i < count; i++) {
        if (i == 0 || edge_min[i] != edge_min[i - 1]) {
            edge_min[prices->stretch_count++] = edge_min[i];
        }
    }
    edge_min[prices->stretch_count] = MINUTES_IN_DAY;
    prices->edge_min = edge_min;
}

static void find_stretches(struct prices *prices)
{
    find_edges(prices);
    prices->stretch_cell = arena_array(prices->arena, prices->profile_count * prices->stretch_count, sizeof(size_t));
    size_t *cell = prices->stretch_cell;
    for (size_t k = 0; k < prices->profile_count; k++) {
        const struct segment *segment = prices->profiles[k].segment;
        for (size_t i = 0; i < prices->stretch_count; i++) {
            segment += prices->edge_min[i] >= segment->stop_min ? 1 : 0;
            *cell++ = segment->cell;
        }
    }
}

void prices_init(struct prices *prices, const struct house *house, const struct tariff *tariff, struct arena *arena)
{
    enum { DATE_KINDS = MONTHS_IN_YEAR * (DAYS_IN_WEEK + 1) };
    static const struct index_list no_periods = {NULL, 0};
    *prices = (struct prices){.arena = arena};
    struct builder builder = {
        .prices = prices, .house = house, .periods = tariff != NULL ? &tariff->periods : &no_periods};
    size_t kinds = builder.periods->count > 0 ? DATE_KINDS : 1;
    builder.doings = arena_array(arena, kinds, builder.periods->count);
    builder.doing_now = arena_array(arena, builder.periods->count, 1);
    make_cells(&builder, tariff != NULL ? tariff->price : NULL);
    prices->profiles = arena_array(arena, kinds, sizeof *prices->profiles);
    prices->by_day = arena_array(arena, kinds * DAYS_IN_WEEK, sizeof *prices->by_day);
    count_dates(&builder);
    find_stretches(prices);
    prices->part_min = arena_array(arena, 2 * prices->cell_count, sizeof *prices->part_min);
    prices->sum_min = arena_array(arena, MONTH_ROOM * prices->cell_count, sizeof *prices->sum_min);
    prices->all_min = arena_array(arena, MONTHS_IN_YEAR * prices->cell_count, sizeof *prices->all_min);
    struct window all_day = {0, MINUTES_IN_DAY};
    prices_minutes(prices, &(struct window_list){&all_day, 1}, DAYS_ALL, MONTHS_ALL, prices->all_min);
}

/* ------------------------------------------------------------------ minutes ------------------------------- */

/* Date counts of a set of days: the sum of those of its days. */
static const struct date_counts *counts_of_days(struct prices *prices, unsigned days)
{
    if (prices->by_days[days] != NULL) {
        return prices->by_days[days];
    }
    struct date_counts *sums = arena_array(prices->arena, prices->profile_count, sizeof *sums);
    for (size_t profile = 0; profile < prices->profile_count; profile++) {
        for (unsigned day = 0; day < DAYS_IN_WEEK; day++) {
            const struct date_counts *counts = &prices->by_day[profile * DAYS_IN_WEEK + day];
            for (int month = 0; (days >> day & 1U) != 0 && month < MONTHS_IN_YEAR; month++) {
                sums[profile].today[month] = (unsigned char)(sums[profile].today[month] + counts->today[month]);
                sums[profile].next[month] = (unsigned char)(sums[profile].next[month] + counts->next[month]);
            }
        }
    }
    prices->by_days[days] = sums;
    return sums;
}

/* Adds to ret_min, by cell, the minutes of start..stop of a day of the profile. */
static void add_part(const struct profile *profile, int start_min, int stop_min, uint32_t *ret_min)
{
    for (size_t i = 0; i < profile->count && profile->segment[i].start_min < stop_min; i++) {
        const struct segment *segment = &profile->segment[i];
        int from_min = start_min > segment->start_min ? start_min : segment->start_min;
        int to_min = stop_min < segment->stop_min ? stop_min : segment->stop_min;
        if (to_min > from_min) {
            ret_min[segment->cell] += (uint32_t)(to_min - from_min);
        }
    }
}

/* The minutes of the windows on the day they start (first half of part_min) and on the next. True where any is next. */
static bool split_windows(struct prices *prices, const struct profile *profile, const struct window_list *windows)
{
    bool crosses = false;
    memset(prices->part_min, 0, 2 * prices->cell_count * sizeof *prices->part_min);
    for (size_t i = 0; i < windows->count; i++) {
        int stop_min = window_stop_min(windows->window[i]);
        int stop_today_min = stop_min < MINUTES_IN_DAY ? stop_min : MINUTES_IN_DAY;
        add_part(profile, windows->window[i].start_min, stop_today_min, prices->part_min);
        if (stop_min > MINUTES_IN_DAY) {
            crosses = true;
            add_part(profile, 0, stop_min - MINUTES_IN_DAY, prices->part_min + prices->cell_count);
        }
    }
    return crosses;
}

/* The minutes that run in on the first of a month start in the month before, on a day of any profile. */
static unsigned times_on_first(const struct prices *prices, size_t profile, unsigned month, unsigned days,
                               unsigned months)
{
    unsigned before = (month + MONTHS_IN_YEAR - 1) % MONTHS_IN_YEAR;
    return profile == prices->first_profile[month] && (months >> before & 1U) != 0 &&
           (days >> prices->first_before[month] & 1U) != 0;
}

const struct month_times *prices_times(struct prices *prices, unsigned days, unsigned months)
{
    struct kept_times *kept = &prices->kept[times_place(days, months)];
    if (kept->days == days && kept->months == months) {
        return kept->times;
    }
    if (kept->times == NULL) {
        kept->times = arena_array(prices->arena, prices->profile_count, sizeof *kept->times);
    }
    kept->days = days;
    kept->months = months;
    const struct date_counts *counts = counts_of_days(prices, days);
    for (size_t k = 0; k < prices->profile_count; k++) {
        kept->times[k].today_in_year = 0;
        kept->times[k].next_in_year = 0;
        for (unsigned month = 0; month < MONTHS_IN_YEAR; month++) {
            unsigned counted = months >> month & 1U;
            unsigned first = times_on_first(prices, k, month, days, months);
            kept->times[k].today[month] = (uint16_t)(counted * counts[k].today[month]);
            kept->times[k].next[month] = (uint16_t)(counted * counts[k].next[month] + first);
            kept->times[k].today_in_year += kept->times[k].today[month];
            kept->times[k].next_in_year += kept->times[k].next[month];
        }
    }
    return kept->times;
}

static void add_times(uint16_t *restrict sum_min, const uint16_t *restrict times, uint32_t part_min)
{
    for (int month = 0; part_min > 0 && month < MONTH_ROOM; month++) {
        sum_min[month] = (uint16_t)(sum_min[month] + times[month] * part_min);
    }
}

void prices_minutes(struct prices *prices, const struct window_list *windows, unsigned days, unsigned months,
                    uint32_t *ret_min)
{
    size_t cells = prices->cell_count;
    const struct month_times *times = prices_times(prices, days, months);
    memset(prices->sum_min, 0, MONTH_ROOM * cells * sizeof *prices->sum_min);
    for (size_t k = 0; windows->count > 0 && k < prices->profile_count; k++) {
        if (times[k].today_in_year + times[k].next_in_year == 0) {
            continue;
        }
        bool crosses = split_windows(prices, &prices->profiles[k], windows);
        for (size_t cell = 0; cell < cells; cell++) {
            add_times(&prices->sum_min[cell * MONTH_ROOM], times[k].today, prices->part_min[cell]);
            if (crosses) {
                add_times(&prices->sum_min[cell * MONTH_ROOM], times[k].next, prices->part_min[cells + cell]);
            }
        }
    }
    for (size_t month = 0; month < MONTHS_IN_YEAR; month++) {
        for (size_t cell = 0; cell < cells; cell++) {
            ret_min[month * cells + cell] = prices->sum_min[cell * MONTH_ROOM + month];
        }
    }
}
