#include "parts.h"

#include <string.h>

#include "ampsum/meter.h"

enum { DAY_S = 86400, ZONE_MOST_S = 18 * 3600, YEAR_LEAST = 1970, YEAR_MOST = 2200 };

/* Days of the civil calendar counted in years that begin in March, so that the leap day comes last. */
int64_t days_from_date(int year, int month, int day)
{
    int64_t y = year - (month <= 2 ? 1 : 0);
    int64_t century_years = y >= 0 ? y / 400 : (y - 399) / 400;
    int64_t year_of_era = y - century_years * 400;
    int64_t day_of_year = (153 * (month + (month > 2 ? -3 : 9)) + 2) / 5 + day - 1;
    int64_t day_of_era = year_of_era * 365 + year_of_era / 4 - year_of_era / 100 + day_of_year;
    return century_years * 146097 + day_of_era - 719468;
}

static void date_from_days(int64_t days, int *ret_year, int *ret_month, int *ret_day)
{
    days += 719468;
    int64_t era = (days >= 0 ? days : days - 146096) / 146097;
    int64_t day_of_era = days - era * 146097;
    int64_t year_of_era = (day_of_era - day_of_era / 1460 + day_of_era / 36524 - day_of_era / 146096) / 365;
    int64_t day_of_year = day_of_era - (365 * year_of_era + year_of_era / 4 - year_of_era / 100);
    int64_t month = (5 * day_of_year + 2) / 153;
    *ret_day = (int)(day_of_year - (153 * month + 2) / 5 + 1);
    *ret_month = (int)(month < 10 ? month + 3 : month - 9);
    *ret_year = (int)(year_of_era + era * 400 + (*ret_month <= 2 ? 1 : 0));
}

int days_in_month(int year, int month)
{
    return (int)(month == 12 ? 31 : days_from_date(year, month + 1, 1) - days_from_date(year, month, 1));
}

static int64_t floor_divide(int64_t a, int64_t b)
{
    return a / b - (a % b < 0 ? 1 : 0);
}

struct meter_date meter_local(int64_t start_s, int32_t utc_offset_s)
{
    int64_t local_s = start_s + utc_offset_s;
    int64_t days = floor_divide(local_s, DAY_S);
    struct meter_date date = {.second = (int)(local_s - days * DAY_S)};
    date_from_days(days, &date.year, &date.month, &date.day);
    date.weekday = (int)((days + 3) - floor_divide(days + 3, 7) * 7); /* 1970-01-01 was a Thursday */
    return date;
}

/* Exactly `digits` digits; moves *at past them. -1 where they are not there. */
static int read_digits(const char **at, int digits)
{
    int value = 0;
    for (int i = 0; i < digits; i++) {
        char c = (*at)[i];
        if (c < '0' || c > '9') {
            return -1;
        }
        value = value * 10 + (c - '0');
    }
    *at += digits;
    return value;
}

/* `Z`, `+HH`, `+HHMM`, `+HH:MM`; moves *at past it. */
static bool read_zone(const char **at, int32_t *ret_offset_s)
{
    char sign = **at;
    if (sign == 'Z' || sign == 'z') {
        (*at)++;
        *ret_offset_s = 0;
        return true;
    }
    if (sign != '+' && sign != '-') {
        return false;
    }
    (*at)++;
    int hours = read_digits(at, 2);
    bool colon = **at == ':';
    *at += colon ? 1 : 0;
    int minutes = read_digits(at, 2);
    if (hours < 0 || minutes > 59 || (colon && minutes < 0)) {
        return false;
    }
    int32_t offset_s = hours * 3600 + (minutes < 0 ? 0 : minutes) * 60;
    *ret_offset_s = sign == '-' ? -offset_s : offset_s;
    return offset_s <= ZONE_MOST_S;
}

bool meter_zone_read(const char *string, int32_t *ret_offset_s)
{
    int32_t offset_s = 0;
    if (!read_zone(&string, &offset_s) || *string != '\0') {
        return false;
    }
    *ret_offset_s = offset_s;
    return true;
}

static bool stamp_fault(const char **ret_fault, const char *fault)
{
    *ret_fault = fault;
    return false;
}

/* Three numbers with the sign between them; moves *at past what was read. */
static bool read_three(const char **at, char sign, const int *digits, int *ret_values)
{
    for (size_t i = 0; i < 3; i++) {
        const bool parted = i == 0 || **at == sign;
        *at += i > 0 && parted ? 1 : 0;
        ret_values[i] = parted ? read_digits(at, digits[i]) : -1;
        if (ret_values[i] < 0) {
            return false;
        }
    }
    return true;
}

/* `2026-03-29`, or `29.03.2026`: with points the day stands first, whoever writes it. */
static bool read_date(const char **at, int64_t *ret_days, const char **ret_fault)
{
    static const int year_first[] = {4, 2, 2};
    static const int day_first[] = {2, 2, 4};
    const bool points = strlen(*at) > 2 && (*at)[2] == '.';
    int read[3] = {0};
    if (!read_three(at, points ? '.' : '-', points ? day_first : year_first, read)) {
        return stamp_fault(ret_fault,
                           "not a time stamp; write it like 2026-03-29T01:45+01:00, or 29.03.2026 01:45 and --zone");
    }
    const int year = read[points ? 2 : 0];
    const int month = read[1];
    const int day = read[points ? 0 : 2];
    if (year < YEAR_LEAST || year > YEAR_MOST) {
        return stamp_fault(ret_fault, "year outside 1970 to 2200");
    }
    if (month < 1 || month > 12 || day < 1 || day > days_in_month(year, month)) {
        return stamp_fault(ret_fault, "no such date");
    }
    *ret_days = days_from_date(year, month, day);
    return true;
}

static bool read_time(const char **at, int *ret_second, const char **ret_fault)
{
    int hour = read_digits(at, 2);
    bool colon = hour >= 0 && **at == ':';
    *at += colon ? 1 : 0;
    int minute = colon ? read_digits(at, 2) : -1;
    int second = 0;
    if (minute >= 0 && **at == ':') {
        (*at)++;
        second = read_digits(at, 2);
    }
    if (minute < 0 || second < 0) {
        return stamp_fault(ret_fault, "not a time of day; write it like 01:45 or 01:45:00");
    }
    if (hour > 23 || minute > 59) {
        return stamp_fault(ret_fault, "no such time of day; hours are 00 to 23, minutes 00 to 59");
    }
    if (second > 59) {
        return stamp_fault(ret_fault, "second 60 or more; seconds are 00 to 59");
    }
    if (**at == '.') {
        size_t zeros = strspn(*at + 1, "0");
        *at += 1 + zeros;
        if (zeros == 0 || (**at >= '0' && **at <= '9')) {
            return stamp_fault(ret_fault, "a part of a second; readings start on whole seconds");
        }
    }
    *ret_second = hour * 3600 + minute * 60 + second;
    return true;
}

bool stamp_read(const char *string, int64_t *ret_local_s, bool *ret_zoned, int32_t *ret_offset_s,
                const char **ret_fault)
{
    const char *at = string;
    int64_t days = 0;
    int second = 0;
    if (!read_date(&at, &days, ret_fault)) {
        return false;
    }
    if ((*at == 'T' || *at == ' ') && at[1] != '\0') {
        at++;
        if (!read_time(&at, &second, ret_fault)) {
            return false;
        }
        at += *at == ' ' ? 1 : 0;
    }
    *ret_zoned = *at != '\0';
    if (*ret_zoned && (!read_zone(&at, ret_offset_s) || *at != '\0')) {
        return stamp_fault(ret_fault, "not a zone; write it like +01:00 or Z");
    }
    *ret_local_s = days * DAY_S + second;
    return true;
}

/* value * 10 + digit while it stays below the most; further digits only count. */
struct decimal {
    int64_t digits;
    int power;
    bool any;
    bool sticky_up; /* first digit that did not fit was 5 or more */
    bool full;
};

static void decimal_digit(struct decimal *decimal, int digit, bool after_point)
{
    const int64_t most = INT64_MAX / 10 - 1;
    decimal->any = true;
    if (decimal->digits <= most && !decimal->full) {
        decimal->digits = decimal->digits * 10 + digit;
        decimal->power -= after_point;
        return;
    }
    decimal->sticky_up = decimal->full ? decimal->sticky_up : digit >= 5;
    decimal->full = true;
    decimal->power += !after_point;
}

static const char *read_decimal(const char *at, const char *end, struct decimal *decimal)
{
    bool after_point = false;
    for (; at < end; at++) {
        if (*at == '.' && !after_point) {
            after_point = true;
        } else if (*at >= '0' && *at <= '9') {
            decimal_digit(decimal, *at - '0', after_point);
        } else {
            break;
        }
    }
    if (!decimal->any || at == end || (*at != 'e' && *at != 'E')) {
        return at;
    }
    const char *exponent = at + 1;
    bool minus = exponent < end && *exponent == '-';
    exponent += exponent < end && (*exponent == '-' || *exponent == '+') ? 1 : 0;
    int value = 0;
    const char *first = exponent;
    for (; exponent < end && *exponent >= '0' && *exponent <= '9'; exponent++) {
        value = value < 1000 ? value * 10 + (*exponent - '0') : value;
    }
    decimal->power += minus ? -value : value;
    return exponent > first ? exponent : at;
}

bool decimal_scaled(const char *string, size_t length, int power, int64_t *ret_value, const char **ret_fault)
{
    static const int64_t most = 1000000000000000;
    struct decimal decimal = {0};
    const char *end = string + length;
    const char *at = read_decimal(string, end, &decimal);
    if (at < end && *at == ',' && decimal.any) {
        return stamp_fault(ret_fault, "a decimal comma; write a point, like 0.25");
    }
    if (at != end || !decimal.any) {
        return stamp_fault(ret_fault, length > 0 && *string == '-' ? "below 0; a reading is energy drawn, 0 or more"
                                                                   : "not a number");
    }
    power += decimal.power;
    int64_t value = decimal.digits;
    for (; power > 0 && value != 0; power--) {
        if (value > most / 10) {
            return stamp_fault(ret_fault, "too large; the most is 1 GWh in one reading");
        }
        value *= 10;
    }
    bool up = decimal.sticky_up && power == 0;
    for (; power < 0 && value != 0; power++) {
        up = value % 10 >= 5;
        value /= 10;
    }
    value += up;
    if (value > most) {
        return stamp_fault(ret_fault, "too large; the most is 1 GWh in one reading");
    }
    *ret_value = value;
    return true;
}
