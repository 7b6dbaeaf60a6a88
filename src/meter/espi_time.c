#include "espi_parts.h"

enum { DAY_S = 86400 };

/* Local time, as seconds since 1970 read as if in UTC, at which the rule's change comes in that year. */
static int64_t rule_local_s(uint32_t rule, int year)
{
    int second = (int)(rule & 0xFFF) + (int)(rule >> 12 & 0x1F) * 3600;
    int weekday = (int)(rule >> 17 & 0x7);
    int day = (int)(rule >> 20 & 0x1F);
    int rule_operator = (int)(rule >> 25 & 0x7);
    int month = (int)(rule >> 28 & 0xF);
    month = month < 1 ? 1 : month > 12 ? 12 : month;
    int64_t first = days_from_date(year, month, rule_operator <= 1 && day > 0 ? day : 1);
    if (rule_operator == 0 || weekday == 0) {
        return first * DAY_S + second;
    }
    int first_weekday = (int)((first + 3) % 7) + 1;
    int64_t found = first + (weekday - first_weekday + 7) % 7;
    if (rule_operator >= 2) {
        int64_t end = days_from_date(year, month, 1) + days_in_month(year, month);
        found += (rule_operator == 7 ? 4 : rule_operator - 2) * 7;
        found -= found >= end ? 7 : 0; /* the last, or a fifth that the month lacks */
    }
    return found * DAY_S + second;
}

int32_t espi_offset_s(const struct espi_local_time *local, int64_t time_s)
{
    const uint32_t none = 0xFFFFFFFF;
    if (local->dst_offset_s == 0 || local->dst_start_rule == none || local->dst_end_rule == none ||
        local->dst_start_rule == 0 || local->dst_end_rule == 0) {
        return local->tz_offset_s;
    }
    int year = meter_local(time_s, local->tz_offset_s).year;
    int64_t start_s = rule_local_s(local->dst_start_rule, year) - local->tz_offset_s;
    int64_t end_s = rule_local_s(local->dst_end_rule, year) - local->tz_offset_s - local->dst_offset_s;
    bool summer = start_s <= end_s ? time_s >= start_s && time_s < end_s : time_s >= start_s || time_s < end_s;
    return local->tz_offset_s + (summer ? local->dst_offset_s : 0);
}
