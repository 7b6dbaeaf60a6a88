#include "ampsum/spoken.h"

#include <string.h>
#include <strings.h>

/* What people say for a unit of the house file, parted by bars; and what it measures. */
static const struct {
    const char *unit;
    enum dimension dimension;
    const char *words;
} units[] = {
    {"A", DIMENSION_CURRENT, "a|amp|amps|ampere|amperes"},
    {"V", DIMENSION_VOLTAGE, "v|volt|volts"},
    {"W", DIMENSION_POWER, "watt|watts"},
    {"kW", DIMENSION_POWER, "kilowatt|kilowatts|kw"},
    {"ft", DIMENSION_LENGTH, "foot|feet|'"},
    {"m", DIMENSION_LENGTH, "metre|metres|meter|meters"},
    {"ft2", DIMENSION_FLOOR_AREA, "sq ft|sq. ft|sq. ft.|sqft|square feet|ft\xC2\xB2"},
    {"m2", DIMENSION_FLOOR_AREA, "sq m|sqm|square metres|square meters|m\xC2\xB2"},
    {"h", DIMENSION_TIME, "hour|hours|hrs"},
    {"min", DIMENSION_TIME, "minute|minutes|mins"},
    {"%", DIMENSION_PERCENT, "percent|per cent"},
};

bool spoken_is(const char *words, const char *word, size_t length)
{
    while (length > 0) {
        const size_t own = strcspn(words, "|");
        if (own == length && strncasecmp(words, word, length) == 0) {
            return true;
        }
        if (words[own] == '\0') {
            break;
        }
        words += own + 1;
    }
    return false;
}

const char *spoken_quantity(struct arena *arena, const char *said, enum dimension dimension)
{
    const size_t length = strspn(said, "0123456789.,/");
    const char *word = said + length + strspn(said + length, " ");
    for (size_t i = 0; i < sizeof units / sizeof units[0] && length > 0; i++) {
        const bool measures = dimension == DIMENSION_NONE || dimension == units[i].dimension;
        if (measures && spoken_is(units[i].words, word, strlen(word))) {
            return arena_printf(arena, "%.*s %s", (int)length, said, units[i].unit);
        }
    }
    return NULL;
}
