#include "typed.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/text.h"

/* What people write for a unit of the house file, parted by bars; and what it measures. */
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

/* True where the first `length` bytes are one of the words, which bars part, whatever their capitals. */
static bool is_one_of(const char *words, const char *word, size_t length)
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

/* Length of the number that begins here, `1,800` and `12.5` included. */
static size_t number_length(const char *string)
{
    return strspn(string, "0123456789.,/");
}

/* `100 amps`: the number as it was typed, and the unit of the file behind it; NULL where the word is none of ours. */
static const char *with_unit(struct arena *arena, const char *typed, enum dimension dimension)
{
    const size_t length = number_length(typed);
    const char *word = typed + length + strspn(typed + length, " ");
    for (size_t i = 0; i < sizeof units / sizeof units[0] && length > 0; i++) {
        const bool measures = dimension == DIMENSION_NONE || dimension == units[i].dimension;
        if (measures && is_one_of(units[i].words, word, strlen(word))) {
            return arena_printf(arena, "%.*s %s", (int)length, typed, units[i].unit);
        }
    }
    return NULL;
}

/* ---- money */

/* `16` as `0.16`, `7.5` as `0.075`: the point is moved in the text, so that no digit changes. */
static void add_hundredths(struct text *text, const char *number)
{
    const size_t whole = strcspn(number, ".");
    if (whole > 2) {
        text_add_length(text, number, whole - 2);
        text_add_char(text, '.');
        text_add_length(text, number + whole - 2, 2);
    } else {
        text_add(text, whole == 2 ? "0." : whole == 1 ? "0.0" : "0.00");
        text_add_length(text, number, whole);
    }
    text_add(text, number[whole] == '.' ? number + whole + 1 : "");
}

/* `$0.16`, `0.16 per kWh`, `16 cents`: the figure in whole units of the money. */
static const char *price(struct arena *arena, const char *typed)
{
    static const char *const signs[] = {"$", "\xC2\xA3", "\xE2\x82\xAC"};
    const char *at = typed;
    for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++) {
        at += strncmp(at, signs[i], strlen(signs[i])) == 0 ? strlen(signs[i]) : 0;
    }
    at += strspn(at, " ");
    const size_t length = strspn(at, "0123456789.");
    const char *behind = at + length + strspn(at + length, " ");
    size_t word = strcspn(behind, " /");
    const bool hundredth = is_one_of("cents|cent|ct|c|\xC2\xA2|p|pence", behind, word);
    const char *rest = hundredth ? behind + word + strspn(behind + word, " ") : behind;
    const bool known = rest[0] == '\0' || is_one_of("per kWh|/kWh|/ kWh", rest, strlen(rest));
    if (length == 0 || !known || (at == typed && !hundredth && rest[0] == '\0')) {
        return typed;
    }
    struct text text = {0};
    text_add_length(&text, at, length);
    if (hundredth) {
        const char *number = arena_copy(arena, text_string(&text));
        text_clear(&text);
        add_hundredths(&text, number);
    }
    return arena_text(arena, &text);
}

static const char *currency(struct arena *arena, const char *typed)
{
    struct text text = {0};
    for (const char *at = typed; *at != '\0'; at++) {
        text_add_char(&text, (char)toupper((unsigned char)*at));
    }
    return arena_text(arena, &text);
}

/* ---- times of the day */

/* `7am`, `7:30 pm`, `19:00`, `7`: minutes of the day, *ret_end behind it; -1 where it is no time. */
static int clock_time(const char *at, const char **ret_end)
{
    char *end = NULL;
    if (!isdigit((unsigned char)*at)) {
        return -1;
    }
    long hour = strtol(at, &end, 10);
    long minute = 0;
    if ((*end == ':' || *end == '.') && isdigit((unsigned char)end[1])) {
        minute = strtol(end + 1, &end, 10);
    }
    const char *word = end + strspn(end, " ");
    const bool pm = strncasecmp(word, "pm", 2) == 0;
    if (pm || strncasecmp(word, "am", 2) == 0) {
        if (hour < 1 || hour > 12) {
            return -1;
        }
        hour = hour % 12 + (pm ? 12 : 0);
        end += (word - end) + 2;
    }
    *ret_end = end + strspn(end, " ");
    return hour > 24 || minute > 59 ? -1 : (int)(hour * 60 + minute);
}

static void add_time(struct text *text, int minutes)
{
    text_printf(text, "%02d:%02d", minutes / 60, minutes % 60);
}

/* One span, `7am-8am` or `17:00 to 22:30`; *ret_end behind it. False where it is none. */
static bool add_span(const char *at, const char **ret_end, struct text *text)
{
    const int start = clock_time(at, ret_end);
    if (start < 0) {
        return false;
    }
    at = *ret_end;
    const size_t dash = strncmp(at, "\xE2\x80\x93", 3) == 0 ? 3
                        : *at == '-'                        ? 1
                        : strncasecmp(at, "to ", 3) == 0    ? 3
                                                            : 0;
    const int end = dash == 0 ? -1 : clock_time(at + dash + strspn(at + dash, " "), ret_end);
    if (end < 0) {
        return false;
    }
    add_time(text, start);
    text_add_char(text, '-');
    add_time(text, end);
    return true;
}

static const char *windows(struct arena *arena, const char *typed)
{
    static const char *const words[][2] = {
        {"morning|mornings", "06:00-09:00"}, {"noon", "11:30-13:30"},         {"afternoon", "13:00-17:00"},
        {"evening|evenings", "18:00-22:00"}, {"night|nights", "22:00-06:00"}, {"all day", "00:00-24:00"},
    };
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (is_one_of(words[i][0], typed, strlen(typed))) {
            return words[i][1];
        }
    }
    struct text text = {0};
    for (const char *at = typed; *at != '\0';) {
        if (!add_span(at, &at, &text) || (*at != '\0' && *at != ',')) {
            text_done(&text);
            return typed;
        }
        at += strspn(at, ", ");
        text_add(&text, *at == '\0' ? "" : ", ");
    }
    return arena_text(arena, &text);
}

/* ---- spaces of a panel */

/* `3-5`, `3 and 5`, `3/5`: two spaces. */
static const char *spaces(struct arena *arena, const char *typed)
{
    const size_t first = strspn(typed, "0123456789");
    const char *at = typed + first + strspn(typed + first, " ");
    at += strncasecmp(at, "and ", 4) == 0 ? 4 : *at == '-' || *at == '/' || *at == '+' ? 1 : 0;
    at += strspn(at, " ");
    const size_t second = strspn(at, "0123456789");
    if (first == 0 || second == 0 || at[second] != '\0' || at == typed + first) {
        return typed;
    }
    return arena_printf(arena, "%.*s,%s", (int)first, typed, at);
}

const char *typed_rating(struct arena *arena, const char *typed)
{
    const char *united = with_unit(arena, typed, DIMENSION_NONE);
    return united == NULL ? typed : united;
}

const char *typed_value(struct arena *arena, const struct key *key, const char *typed)
{
    if (key == NULL || typed[0] == '\0') {
        return typed;
    }
    switch (key->type) {
    case KEY_WINDOWS:
        return windows(arena, typed);
    case KEY_POSITION:
        return spaces(arena, typed);
    case KEY_CURRENCY:
        return currency(arena, typed);
    case KEY_DECIMAL:
        return price(arena, typed);
    default:
        break;
    }
    const char *united = key->dimension == DIMENSION_NONE ? NULL : with_unit(arena, typed, key->dimension);
    return united == NULL ? typed : united;
}
