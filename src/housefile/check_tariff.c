/*
 * A tariff's prices: one at every minute, never two. A window that crosses midnight belongs to the day and month on
 * which it starts, so what runs past the last day of a month meets the first day of the next. Any calendar counts: the
 * first of a month may be any day of the week.
 */
#include <stdlib.h>
#include <string.h>

#include "build.h"

enum { DAYS = 7, WORDS = (MINUTES_IN_DAY + 63) / 64 };

/* The minutes of one day. */
struct minutes {
    uint64_t bits[WORDS];
};

/* For each month and day of the week on which windows start: what they cover of that day and of the next. */
struct grid {
    struct minutes own[MONTHS_IN_YEAR][DAYS];
    struct minutes spill[MONTHS_IN_YEAR][DAYS];
};

/* The minutes of a word from `from` up to `to`, which are minutes of the day. */
static uint64_t bits_from(int from, int to, int word)
{
    int low = from - word * 64 > 0 ? from - word * 64 : 0;
    int high = to - word * 64 < 64 ? to - word * 64 : 64;
    if (low >= high) {
        return 0;
    }
    uint64_t all = ~UINT64_C(0);
    return (all << low) & (all >> (64 - high));
}

static void set_between(struct minutes *minutes, int from, int to)
{
    for (int word = from / 64; word * 64 < to; word++) {
        minutes->bits[word] |= bits_from(from, to, word);
    }
}

static void add_minutes(struct minutes *into, const struct minutes *more)
{
    for (int word = 0; word < WORDS; word++) {
        into->bits[word] |= more->bits[word];
    }
}

/* Does `some` share a minute with any of the other three? */
static bool meets_any(const struct minutes *some, const struct minutes *a, const struct minutes *b,
                      const struct minutes *c)
{
    uint64_t shared = 0;
    for (int word = 0; word < WORDS; word++) {
        shared |= some->bits[word] & (a->bits[word] | b->bits[word] | c->bits[word]);
    }
    return shared != 0;
}

static bool covers_day(const struct minutes *a, const struct minutes *b)
{
    for (int word = 0; word < WORDS; word++) {
        if ((a->bits[word] | b->bits[word]) != bits_from(0, MINUTES_IN_DAY, word)) {
            return false;
        }
    }
    return true;
}

/* What the period's windows cover of the day on which they start, and of the next. */
static void period_minutes(const struct period *period, struct minutes *ret_own, struct minutes *ret_spill)
{
    *ret_own = (struct minutes){{0}};
    *ret_spill = (struct minutes){{0}};
    for (size_t i = 0; i < period->hours.count; i++) {
        const struct window *window = &period->hours.window[i];
        bool crosses = window->end_min <= window->start_min;
        set_between(ret_own, window->start_min, crosses ? MINUTES_IN_DAY : window->end_min);
        set_between(ret_spill, 0, crosses ? window->end_min : 0);
    }
}

/* Marks the period; false where it shares a minute with what is marked already. */
static bool mark_period(struct grid *grid, const struct period *period)
{
    struct minutes own;
    struct minutes spill;
    period_minutes(period, &own, &spill);
    bool is_alone = true;
    for (int month = 0; month < MONTHS_IN_YEAR && is_alone; month++) {
        int before = (month + MONTHS_IN_YEAR - 1) % MONTHS_IN_YEAR;
        int after = (month + 1) % MONTHS_IN_YEAR;
        for (int day = 0; day < DAYS && is_alone; day++) {
            int yesterday = (day + DAYS - 1) % DAYS;
            int tomorrow = (day + 1) % DAYS;
            if ((period->months >> month & 1u) == 0 || (period->days >> day & 1u) == 0) {
                continue;
            }
            is_alone =
                !meets_any(&own, &grid->own[month][day], &grid->spill[month][yesterday],
                           &grid->spill[before][yesterday]) &&
                !meets_any(&spill, &grid->spill[month][day], &grid->own[month][tomorrow], &grid->own[after][tomorrow]);
            add_minutes(&grid->own[month][day], &own);
            add_minutes(&grid->spill[month][day], &spill);
        }
    }
    return is_alone;
}

/* Is every minute of every day covered, also of the first of a month? */
static bool covers_all(const struct grid *grid)
{
    for (int month = 0; month < MONTHS_IN_YEAR; month++) {
        for (int day = 0; day < DAYS; day++) {
            int yesterday = (day + DAYS - 1) % DAYS;
            int month_before = (month + MONTHS_IN_YEAR - 1) % MONTHS_IN_YEAR;
            const struct minutes *own = &grid->own[month][day];
            if (!covers_day(own, &grid->spill[month][yesterday]) ||
                !covers_day(own, &grid->spill[month_before][yesterday])) {
                return false;
            }
        }
    }
    return true;
}

/* The first period of the tariff that shares a minute with `late`, for the message; NO_INDEX in a long list. */
static size_t find_other(const struct house *house, const struct tariff *tariff, size_t late)
{
    enum { LOOK_MOST = 100 };
    struct grid *grid = memory_new(sizeof *grid);
    size_t other = NO_INDEX;
    for (size_t i = 0; i < tariff->periods.count && i < LOOK_MOST && tariff->periods.index[i] != late; i++) {
        memset(grid, 0, sizeof *grid);
        mark_period(grid, &house->periods[tariff->periods.index[i]]);
        if (!mark_period(grid, &house->periods[late])) {
            other = tariff->periods.index[i];
            break;
        }
    }
    free(grid);
    return other;
}

static void refuse_overlap(struct build *build, const struct tariff *tariff, size_t period)
{
    const struct house *house = build->house;
    if (!faults_want(build->faults, row_line(build, KIND_PERIOD, period, NULL))) {
        build->faults->count++;
        return;
    }
    size_t other = find_other(house, tariff, period);
    struct text place = {0};
    if (other != NO_INDEX) {
        text_add(&place, house->periods[other].id);
        add_place(build, KIND_PERIOD, other, NULL, &place);
    } else {
        text_add(&place, "another period");
    }
    row_fault(build, KIND_PERIOD, period, NULL, "overlaps %s, expected periods of %s that share no minute",
              text_string(&place), tariff->id);
    text_done(&place);
}

/* One period alone: it meets nothing, and covers every minute where nothing limits it. */
static bool covers_alone(const struct period *period)
{
    int minutes = 0;
    for (size_t i = 0; i < period->hours.count; i++) {
        int length = period->hours.window[i].end_min - period->hours.window[i].start_min;
        minutes += length > 0 ? length : length + MINUTES_IN_DAY;
    }
    return period->days == DAYS_ALL && period->months == MONTHS_ALL && minutes == MINUTES_IN_DAY;
}

/* Reports overlaps; true where every minute has its price. */
static bool check_periods(struct build *build, const struct tariff *tariff)
{
    if (tariff->periods.count < 2) {
        return tariff->periods.count == 1 && covers_alone(&build->house->periods[tariff->periods.index[0]]);
    }
    struct grid *grid = memory_new(sizeof *grid);
    memset(grid, 0, sizeof *grid);
    for (size_t i = 0; i < tariff->periods.count; i++) {
        size_t period = tariff->periods.index[i];
        if (!mark_period(grid, &build->house->periods[period])) {
            refuse_overlap(build, tariff, period);
        }
    }
    bool covered = covers_all(grid);
    free(grid);
    return covered;
}

void check_tariff(struct build *build, size_t row)
{
    const struct tariff *tariff = &build->house->tariffs[row];
    bool covered = check_periods(build, tariff);
    bool has_blocks = row_has_key(build, KIND_TARIFF, row, "blocks");
    bool has_price = row_has_key(build, KIND_TARIFF, row, "price");
    if (has_blocks && has_price) {
        row_fault(build, KIND_TARIFF, row, "blocks", "beside price, expected one of them");
    }
    if (has_blocks && tariff->periods.count > 0) {
        row_fault(build, KIND_TARIFF, row, "blocks", "beside periods (%s), expected blocks or periods",
                  build->house->periods[tariff->periods.index[0]].id);
    }
    if (!has_blocks && !has_price && !covered) {
        row_fault(build, KIND_TARIFF, row, "price",
                  build->house->tariffs[row].periods.count == 0
                      ? "no price, expected price or blocks, or periods that cover every minute"
                      : "no price, expected price or blocks, since its periods do not cover every minute");
    }
}
