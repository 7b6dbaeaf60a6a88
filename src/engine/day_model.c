#include <math.h>
#include <string.h>

#include "day_parts.h"

enum { HOURS = 24, HOUR_MINUTES = 60 };

/* Adds `power_w` for the minutes start..end to the hours that they fall in. */
static void add_minutes(double hour_w[HOURS], int start_min, int end_min, double power_w)
{
    for (int hour = start_min / HOUR_MINUTES; hour * HOUR_MINUTES < end_min; hour++) {
        int first = start_min > hour * HOUR_MINUTES ? start_min : hour * HOUR_MINUTES;
        int last = end_min < (hour + 1) * HOUR_MINUTES ? end_min : (hour + 1) * HOUR_MINUTES;
        hour_w[hour] += power_w * (last - first) / HOUR_MINUTES;
    }
}

/* Mean power of one appliance in each hour of the day, added to `hour_w`. */
static void add_appliance(const struct house *house, const struct appliance *appliance, struct day day,
                          double hour_w[HOURS])
{
    double voltage_v = house->branches[appliance->branch].voltage_v;
    double drawn_w = appliance_draw(house, appliance, voltage_v).power_w * appliance->duty_percent / 100;
    double share = day_on_share(appliance);
    /* What being on adds to standby, spread evenly over the windows. */
    double standby_w = appliance_is_load(appliance) ? appliance->standby_w : 0;
    double added_w = appliance->count * share * (drawn_w - standby_w);
    add_minutes(hour_w, 0, MINUTES_IN_DAY, appliance->count * standby_w);
    if (appliance->use.count == 0 && day_appliance_is_on(appliance, day, 0)) {
        add_minutes(hour_w, 0, MINUTES_IN_DAY, added_w);
    }
    for (size_t j = 0; j < appliance->use.count; j++) {
        struct window parts[2];
        int count = 0;
        day_window_part(appliance, day, j, parts, &count);
        for (int k = 0; k < count; k++) {
            add_minutes(hour_w, parts[k].start_min, parts[k].end_min, added_w);
        }
    }
}

void day_model_w(const struct house *house, struct day day, double ret_hour_w[HOURS])
{
    for (int hour = 0; hour < HOURS; hour++) {
        ret_hour_w[hour] = 0;
    }
    for (size_t i = 0; i < house->appliance_count; i++) {
        add_appliance(house, &house->appliances[i], day, ret_hour_w);
    }
}

static int leg_count(unsigned legs)
{
    return ((legs & LEG_A) != 0) + ((legs & LEG_B) != 0) + ((legs & LEG_C) != 0);
}

double day_energy_kwh(const struct house *house, struct day_scope scope, struct day day)
{
    double sum_kwh = 0;
    size_t at = 0;
    for (size_t i; (i = day_scope_next(house, scope, &at)) != NO_INDEX;) {
        double hour_w[HOURS] = {0};
        add_appliance(house, &house->appliances[i], day, hour_w);
        const int legs = scope.branch != NO_INDEX ? 1 : leg_count(house->branches[house->appliances[i].branch].legs);
        for (int hour = 0; hour < HOURS; hour++) {
            sum_kwh += hour_w[hour] / 1000 / legs;
        }
    }
    return sum_kwh;
}

/* Two digits at `at`; -1 where they are not there. */
static int two_digits(const char *at)
{
    bool digits = at[0] >= '0' && at[0] <= '9' && at[1] >= '0' && at[1] <= '9';
    return digits ? (at[0] - '0') * 10 + (at[1] - '0') : -1;
}

bool day_from_text(const char *string, struct day *ret_day)
{
    static const int month_days[MONTHS_IN_YEAR] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
    size_t length = strlen(string);
    bool with_year = length == 10 && string[4] == '-';
    if (!with_year && length != 5) {
        return false;
    }
    int year = with_year ? two_digits(string) * 100 + two_digits(string + 2) : 2018; /* begins on a Monday */
    const char *at = with_year ? string + 5 : string;
    int month = two_digits(at);
    int day = at[2] == '-' ? two_digits(at + 3) : -1;
    if (month < 1 || month > MONTHS_IN_YEAR || day < 1 || year < 1583 ||
        (with_year && (two_digits(string) < 0 || two_digits(string + 2) < 0))) {
        return false;
    }
    bool leap = (year % 4 == 0 && year % 100 != 0) || year % 400 == 0;
    if (day > month_days[month - 1] + (leap && month == 2 ? 1 : 0)) {
        return false;
    }
    int days = 365 * (year - 1) + (year - 1) / 4 - (year - 1) / 100 + (year - 1) / 400; /* since a Monday, year 1 */
    for (int i = 0; i < month - 1; i++) {
        days += month_days[i] + (leap && i == 1 ? 1 : 0);
    }
    ret_day->weekday = (days + day - 1) % 7;
    ret_day->month = month - 1;
    ret_day->month_before = day == 1 ? (month + 10) % MONTHS_IN_YEAR : month - 1;
    return true;
}

static bool same_date(const struct meter_date *a, const struct meter_date *b)
{
    return a->year == b->year && a->month == b->month && a->day == b->day;
}

static struct day day_from_date(const struct meter_date *date)
{
    int month = date->month - 1;
    return (struct day){date->weekday, month, date->day == 1 ? (month + 11) % MONTHS_IN_YEAR : month};
}

static bool same_day(struct day a, struct day b)
{
    return a.weekday == b.weekday && a.month == b.month && a.month_before == b.month_before;
}

static void compare(struct day_explained *row)
{
    double missing_kwh = row->metered_kwh - row->modelled_kwh;
    row->explained_percent = row->metered_kwh > 0 ? 100 * row->modelled_kwh / row->metered_kwh : NAN;
    row->to_add_w = row->covered_h > 0 ? missing_kwh * 1000 / row->covered_h : NAN;
}

void day_explain(const struct house *house, const struct meter_hour *hours, size_t count,
                 struct day_explained ret_hours[HOURS], struct day_explained *ret_all)
{
    for (int hour = 0; hour < HOURS; hour++) {
        ret_hours[hour] = (struct day_explained){0};
    }
    /* A year has few distinct days: one model each, kept until the year of readings is through. */
    struct known {
        struct day day;
        double hour_w[HOURS];
    } known[7 * MONTHS_IN_YEAR * 2];
    size_t known_count = 0;
    size_t now = 0;
    for (size_t i = 0; i < count; i++) {
        if (i == 0 || !same_date(&hours[i].date, &hours[i - 1].date)) {
            struct day day = day_from_date(&hours[i].date);
            for (now = 0; now < known_count && !same_day(known[now].day, day); now++) {
            }
            if (now == known_count) {
                known[known_count++].day = day;
                day_model_w(house, day, known[now].hour_w);
            }
        }
        int hour = hours[i].date.second / 3600;
        double covered_h = (double)hours[i].covered_s / 3600;
        ret_hours[hour].covered_h += covered_h;
        ret_hours[hour].metered_kwh += (double)hours[i].energy_uwh / METER_UWH_PER_WH / 1000;
        ret_hours[hour].modelled_kwh += known[now].hour_w[hour] * covered_h / 1000;
    }
    *ret_all = (struct day_explained){0};
    for (int hour = 0; hour < HOURS; hour++) {
        ret_all->covered_h += ret_hours[hour].covered_h;
        ret_all->metered_kwh += ret_hours[hour].metered_kwh;
        ret_all->modelled_kwh += ret_hours[hour].modelled_kwh;
        compare(&ret_hours[hour]);
    }
    compare(ret_all);
}
