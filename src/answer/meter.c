#include "ampsum/answer_meter.h"

#include <math.h>
#include <stdlib.h>

#include "ampsum/demand.h"

/* The hour with the largest (sign 1) or the smallest (sign -1) lack of the list. */
static int extreme_hour(const struct meter_answer *answer, int sign)
{
    int extreme = 0;
    for (int hour = 1; hour < METER_HOURS; hour++) {
        double here_w = sign * answer->hours[hour].to_add_w;
        double there_w = sign * answer->hours[extreme].to_add_w;
        extreme = isfinite(here_w) && (!isfinite(there_w) || here_w > there_w) ? hour : extreme;
    }
    return extreme;
}

void answer_meter(const struct house *house, const struct meter_reading *readings, size_t count,
                  struct meter_answer *ret_answer)
{
    const struct meter_reading *last = &readings[count - 1];
    struct meter_answer *answer = ret_answer;
    *answer = (struct meter_answer){.house = house,
                                    .readings = readings,
                                    .count = count,
                                    .end_s = last->start_s + last->duration_s,
                                    .end_offset_s = last->utc_offset_s};
    meter_figures(readings, count, &answer->figures);
    answer->days = meter_days(readings, count, &answer->day_count);
    answer->months = meter_months(readings, count, &answer->month_count);
    size_t hour_count = 0;
    struct meter_hour *hours = meter_hours(readings, count, &hour_count);
    day_explain(house, hours, hour_count, answer->hours, &answer->all);
    free(hours);
    answer->lack = extreme_hour(answer, 1);
    answer->excess = extreme_hour(answer, -1);
}

bool meter_tells_demand(const struct meter_answer *answer)
{
    return demand_method_exists(answer->house->rules, DEMAND_MEASURED) && isfinite(answer->figures.demand_w[0]);
}

void meter_answer_done(struct meter_answer *answer)
{
    free(answer->days);
    free(answer->months);
    *answer = (struct meter_answer){0};
}
