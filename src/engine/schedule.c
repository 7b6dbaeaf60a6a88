#include "schedule.h"

#include "ampsum/engine.h"

const int month_days[MONTHS_IN_YEAR] = {31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};

int windows_length_min(const struct window_list *list)
{
    int length_min = 0;
    for (size_t i = 0; i < list->count; i++) {
        length_min += window_stop_min(list->window[i]) - list->window[i].start_min;
    }
    return length_min;
}

/* True where a window that started `day_offset` days ago (0 or 1) covers minute `minute` of today. */
static bool windows_cover(const struct window_list *list, int minute, int day_offset)
{
    int at = minute + day_offset * MINUTES_IN_DAY;
    for (size_t i = 0; i < list->count; i++) {
        if (at >= list->window[i].start_min && at < window_stop_min(list->window[i])) {
            return true;
        }
    }
    return false;
}

bool windows_cross_midnight(const struct window_list *list)
{
    for (size_t i = 0; i < list->count; i++) {
        if (window_stop_min(list->window[i]) > MINUTES_IN_DAY) {
            return true;
        }
    }
    return false;
}

bool appliance_is_on(const struct appliance *appliance, struct moment moment)
{
    if (moment.month < 0 || (appliance->months >> moment.month & 1U) == 0) {
        return false;
    }
    int day = moment.minute / MINUTES_IN_DAY;
    int minute = moment.minute % MINUTES_IN_DAY;
    bool today = (appliance->days >> day & 1U) != 0;
    if (appliance->use.count == 0) {
        return today;
    }
    bool yesterday = (appliance->days >> day_before(day) & 1U) != 0;
    return (today && windows_cover(&appliance->use, minute, 0)) ||
           (yesterday && windows_cover(&appliance->use, minute, 1));
}
