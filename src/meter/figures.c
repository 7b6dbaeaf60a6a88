#include <math.h>
#include <stdlib.h>

#include "ampsum/arena.h"
#include "parts.h"

const int meter_demand_minutes[METER_DEMANDS] = {15, 30, 60};

enum { NIGHT_START_S = 2 * 3600, NIGHT_END_S = 4 * 3600, DAY_S = 86400, HOUR_S = 3600 };

static void find_duration_curve(const struct meter_reading *readings, size_t count, struct meter_figures *figures);
static double night_median_w(const struct meter_reading *readings, size_t count);
static void find_demand(const struct meter_reading *readings, size_t count, size_t which,
                        struct meter_figures *figures);

/* Mean power over a time, W. */
static double mean_w(int64_t energy_uwh, int64_t seconds)
{
    return (double)energy_uwh / METER_UWH_PER_WH * HOUR_S / (double)seconds;
}

void meter_figures(const struct meter_reading *readings, size_t count, struct meter_figures *ret_figures)
{
    *ret_figures = (struct meter_figures){.mean_w = NAN, .base_w = NAN};
    for (size_t i = 0; i < count; i++) {
        ret_figures->energy_uwh += readings[i].energy_uwh;
        ret_figures->covered_s += readings[i].duration_s;
    }
    if (count > 0) {
        ret_figures->mean_w = mean_w(ret_figures->energy_uwh, ret_figures->covered_s);
    }
    find_duration_curve(readings, count, ret_figures);
    ret_figures->base_w = night_median_w(readings, count);
    for (size_t i = 0; i < METER_DEMANDS; i++) {
        find_demand(readings, count, i, ret_figures);
    }
}

struct power {
    double power_w;
    int64_t seconds;
};

static int compare_powers_down(const void *a, const void *b)
{
    const struct power *i = a;
    const struct power *j = b;
    return i->power_w > j->power_w ? -1 : i->power_w < j->power_w;
}

static void find_duration_curve(const struct meter_reading *readings, size_t count, struct meter_figures *figures)
{
    static const double shares[METER_SHARES] = {0, 1, 5, 10, 25, 50, 75, 90, 100};
    struct power *powers = memory_resize(NULL, count, sizeof *powers);
    for (size_t i = 0; i < count; i++) {
        powers[i] = (struct power){mean_w(readings[i].energy_uwh, readings[i].duration_s), readings[i].duration_s};
    }
    qsort(powers, count, sizeof *powers, compare_powers_down);
    size_t at = 0;
    int64_t passed_s = count > 0 ? powers[0].seconds : 0;
    for (size_t i = 0; i < METER_SHARES; i++) {
        double wanted_s = shares[i] / 100 * (double)figures->covered_s;
        while (at + 1 < count && (double)passed_s < wanted_s * (1 - 1e-12)) {
            passed_s += powers[++at].seconds;
        }
        figures->share_percent[i] = shares[i];
        figures->share_w[i] = count > 0 ? powers[at].power_w : NAN;
    }
    free(powers);
}

static int compare_doubles(const void *a, const void *b)
{
    double i = *(const double *)a;
    double j = *(const double *)b;
    return i < j ? -1 : i > j;
}

static double night_median_w(const struct meter_reading *readings, size_t count)
{
    double *powers_w = memory_resize(NULL, count, sizeof *powers_w);
    size_t nights = 0;
    for (size_t i = 0; i < count; i++) {
        int second = meter_local(readings[i].start_s, readings[i].utc_offset_s).second;
        if (second >= NIGHT_START_S && second < NIGHT_END_S && second + readings[i].duration_s <= NIGHT_END_S) {
            powers_w[nights++] = mean_w(readings[i].energy_uwh, readings[i].duration_s);
        }
    }
    qsort(powers_w, nights, sizeof *powers_w, compare_doubles);
    double median_w = nights == 0 ? NAN : (powers_w[(nights - 1) / 2] + powers_w[nights / 2]) / 2;
    free(powers_w);
    return median_w;
}

/* A window of whole readings slides along; it starts anew behind a gap or an overlap. */
static void find_demand(const struct meter_reading *readings, size_t count, size_t which, struct meter_figures *figures)
{
    const int64_t window_s = meter_demand_minutes[which] * 60;
    int64_t best_uwh = -1;
    int64_t sum_uwh = 0;
    size_t first = 0;
    for (size_t i = 0; i < count; i++) {
        const struct meter_reading *reading = &readings[i];
        if (i > 0 && readings[i - 1].start_s + readings[i - 1].duration_s != reading->start_s) {
            first = i;
            sum_uwh = 0;
        }
        sum_uwh += reading->energy_uwh;
        int64_t end_s = reading->start_s + reading->duration_s;
        while (first < i && end_s - readings[first].start_s > window_s) {
            sum_uwh -= readings[first++].energy_uwh;
        }
        if (end_s - readings[first].start_s == window_s && sum_uwh > best_uwh) {
            best_uwh = sum_uwh;
            figures->demand_start_s[which] = readings[first].start_s;
            figures->demand_offset_s[which] = readings[first].utc_offset_s;
        }
    }
    figures->demand_w[which] = best_uwh < 0 ? NAN : mean_w(best_uwh, window_s);
}

static bool same_day(const struct meter_date *a, const struct meter_date *b)
{
    return a->year == b->year && a->month == b->month && a->day == b->day;
}

struct meter_total *meter_days(const struct meter_reading *readings, size_t count, size_t *ret_count)
{
    struct meter_total *days = NULL;
    size_t day_count = 0;
    size_t capacity = 0;
    int32_t first_offset_s = 0;
    for (size_t i = 0; i < count; i++) {
        struct meter_date date = meter_local(readings[i].start_s, readings[i].utc_offset_s);
        date.second = 0;
        if (day_count == 0 || !same_day(&days[day_count - 1].date, &date)) {
            days = memory_grow(days, day_count, &capacity, sizeof *days);
            days[day_count++] = (struct meter_total){.date = date};
            first_offset_s = readings[i].utc_offset_s;
        }
        struct meter_total *day = &days[day_count - 1];
        day->energy_uwh += readings[i].energy_uwh;
        day->covered_s += readings[i].duration_s;
        /* The clock going forward raises the offset and shortens the day. The next day's start tells, if it is there.
         */
        int32_t offset_s = i + 1 < count ? readings[i + 1].utc_offset_s : readings[i].utc_offset_s;
        day->length_s = DAY_S - (offset_s - first_offset_s);
    }
    *ret_count = day_count;
    return days;
}

struct meter_coverage meter_coverage(const struct meter_reading *readings, size_t count)
{
    struct meter_coverage coverage = {0};
    if (count == 0) {
        return coverage;
    }
    int64_t covered_s = 0;
    int64_t end_s = readings[0].start_s;
    for (size_t i = 0; i < count; i++) {
        const int64_t this_end_s = readings[i].start_s + readings[i].duration_s;
        end_s = this_end_s > end_s ? this_end_s : end_s;
        covered_s += readings[i].duration_s;
        coverage.months |= 1U << (meter_local(readings[i].start_s, readings[i].utc_offset_s).month - 1);
    }
    size_t day_count = 0;
    struct meter_total *days = meter_days(readings, count, &day_count);
    for (size_t i = 0; i < day_count; i++) {
        coverage.full_days += days[i].covered_s >= days[i].length_s;
    }
    free(days);
    const double span_s = (double)(end_s - readings[0].start_s);
    coverage.span_days = span_s / DAY_S;
    coverage.missing_percent = (double)covered_s >= span_s ? 0 : 100 * (1 - (double)covered_s / span_s);
    return coverage;
}

struct meter_total *meter_months(const struct meter_reading *readings, size_t count, size_t *ret_count)
{
    struct meter_total *months = NULL;
    size_t month_count = 0;
    size_t capacity = 0;
    for (size_t i = 0; i < count; i++) {
        struct meter_date date = meter_local(readings[i].start_s, readings[i].utc_offset_s);
        const struct meter_date *last = month_count > 0 ? &months[month_count - 1].date : NULL;
        if (last == NULL || last->year != date.year || last->month != date.month) {
            months = memory_grow(months, month_count, &capacity, sizeof *months);
            struct meter_date first = {.year = date.year, .month = date.month, .day = 1};
            first.weekday = (date.weekday - (date.day - 1) % 7 + 7) % 7;
            months[month_count++] = (struct meter_total){.date = first};
        }
        months[month_count - 1].energy_uwh += readings[i].energy_uwh;
        months[month_count - 1].covered_s += readings[i].duration_s;
    }
    *ret_count = month_count;
    return months;
}

/* Adds a piece of a reading that lies within one local hour. */
static void add_to_hour(struct meter_hour **hours, size_t *count, size_t *capacity, struct meter_date date,
                        int64_t energy_uwh, int64_t seconds)
{
    date.second = date.second / HOUR_S * HOUR_S;
    const struct meter_hour *last = *count > 0 ? &(*hours)[*count - 1] : NULL;
    /* An hour that the clock repeats comes twice in a row and is one cell of 7,200 s. */
    if (last == NULL || !same_day(&last->date, &date) || last->date.second != date.second) {
        *hours = memory_grow(*hours, *count, capacity, sizeof **hours);
        (*hours)[(*count)++] = (struct meter_hour){.date = date};
    }
    (*hours)[*count - 1].energy_uwh += energy_uwh;
    (*hours)[*count - 1].covered_s += seconds;
}

struct meter_hour *meter_hours(const struct meter_reading *readings, size_t count, size_t *ret_count)
{
    struct meter_hour *hours = NULL;
    size_t capacity = 0;
    *ret_count = 0;
    for (size_t i = 0; i < count; i++) {
        const struct meter_reading *reading = &readings[i];
        int64_t left_uwh = reading->energy_uwh;
        for (int64_t passed_s = 0; passed_s < reading->duration_s;) {
            struct meter_date date = meter_local(reading->start_s + passed_s, reading->utc_offset_s);
            int64_t seconds = HOUR_S - date.second % HOUR_S;
            bool last = seconds >= reading->duration_s - passed_s;
            seconds = last ? reading->duration_s - passed_s : seconds;
            /* Spread evenly over the reading; the last piece takes what is left, so that nothing is lost. */
            double share = (double)seconds / (double)reading->duration_s;
            int64_t piece_uwh = last ? left_uwh : (int64_t)((double)reading->energy_uwh * share);
            piece_uwh = piece_uwh < left_uwh ? piece_uwh : left_uwh;
            add_to_hour(&hours, ret_count, &capacity, date, piece_uwh, seconds);
            left_uwh -= piece_uwh;
            passed_s += seconds;
        }
    }
    return hours;
}
