#include <math.h>

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

void day_model_w(const struct house *house, struct day day, double ret_hour_w[HOURS])
{
    for (int hour = 0; hour < HOURS; hour++) {
        ret_hour_w[hour] = 0;
    }
    for (size_t i = 0; i < house->appliance_count; i++) {
        const struct appliance *appliance = &house->appliances[i];
        double voltage_v = house->branches[appliance->branch].voltage_v;
        double drawn_w = appliance_draw(house, appliance, voltage_v).power_w * appliance->duty_percent / 100;
        double share = day_on_share(appliance);
        /* What being on adds to standby, spread evenly over the windows. */
        double added_w = appliance->count * share * (drawn_w - appliance->standby_w);
        add_minutes(ret_hour_w, 0, MINUTES_IN_DAY, appliance->count * appliance->standby_w);
        if (appliance->use.count == 0 && day_appliance_is_on(appliance, day, 0)) {
            add_minutes(ret_hour_w, 0, MINUTES_IN_DAY, added_w);
        }
        for (size_t j = 0; j < appliance->use.count; j++) {
            struct window parts[2];
            int count = 0;
            day_window_part(appliance, day, j, parts, &count);
            for (int k = 0; k < count; k++) {
                add_minutes(ret_hour_w, parts[k].start_min, parts[k].end_min, added_w);
            }
        }
    }
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

void day_explain(const struct house *house, const struct meter_hour *hours, size_t count,
                 struct day_explained ret_hours[HOURS])
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
}
