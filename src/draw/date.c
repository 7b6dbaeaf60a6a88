#include <errno.h>
#include <stdlib.h>
#include <time.h>

#include "ampsum/print.h"

/* Seconds since 1970 that the date is taken from; false where SOURCE_DATE_EPOCH is no such number. */
static bool read_clock(time_t *ret_seconds, bool *ret_utc)
{
    const char *given = getenv("SOURCE_DATE_EPOCH");
    *ret_utc = given != NULL && given[0] != '\0';
    if (!*ret_utc) {
        *ret_seconds = time(NULL);
        return true;
    }
    char *end = NULL;
    errno = 0;
    const long long seconds = strtoll(given, &end, 10);
    *ret_seconds = (time_t)seconds;
    return errno == 0 && *end == '\0' && seconds >= 0 && seconds < 253402300800LL; /* up to the year 9999 */
}

bool print_date(struct text *text, struct error *error)
{
    time_t seconds = 0;
    bool utc = false;
    struct tm parts;
    if (!read_clock(&seconds, &utc) || (utc ? gmtime_r(&seconds, &parts) : localtime_r(&seconds, &parts)) == NULL) {
        error_set(error, ERROR_INPUT, "SOURCE_DATE_EPOCH: not a date, expected seconds since 1970");
        return false;
    }
    text_printf(text, "%04d-%02d-%02d", parts.tm_year + 1900, parts.tm_mon + 1, parts.tm_mday);
    return true;
}
