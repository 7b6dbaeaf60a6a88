#include "typed.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/text.h"

/* Words of units as people write them, the unit of the house file, and what it measures; NONE: of any rating. */
static const struct {
    const char *word;
    const char *unit;
    enum dimension dimension;
} units[] = {
    {"a", "A", DIMENSION_CURRENT},
    {"amp", "A", DIMENSION_CURRENT},
    {"amps", "A", DIMENSION_CURRENT},
    {"ampere", "A", DIMENSION_CURRENT},
    {"amperes", "A", DIMENSION_CURRENT},
    {"v", "V", DIMENSION_VOLTAGE},
    {"volt", "V", DIMENSION_VOLTAGE},
    {"volts", "V", DIMENSION_VOLTAGE},
    {"watt", "W", DIMENSION_POWER},
    {"watts", "W", DIMENSION_POWER},
    {"kilowatt", "kW", DIMENSION_POWER},
    {"kilowatts", "kW", DIMENSION_POWER},
    {"kw", "kW", DIMENSION_POWER},
    {"foot", "ft", DIMENSION_LENGTH},
    {"feet", "ft", DIMENSION_LENGTH},
    {"'", "ft", DIMENSION_LENGTH},
    {"metre", "m", DIMENSION_LENGTH},
    {"metres", "m", DIMENSION_LENGTH},
    {"meter", "m", DIMENSION_LENGTH},
    {"meters", "m", DIMENSION_LENGTH},
    {"sq ft", "ft2", DIMENSION_FLOOR_AREA},
    {"sq. ft", "ft2", DIMENSION_FLOOR_AREA},
    {"sq. ft.", "ft2", DIMENSION_FLOOR_AREA},
    {"sqft", "ft2", DIMENSION_FLOOR_AREA},
    {"square feet", "ft2", DIMENSION_FLOOR_AREA},
    {"ft\xC2\xB2", "ft2", DIMENSION_FLOOR_AREA},
    {"sq m", "m2", DIMENSION_FLOOR_AREA},
    {"sqm", "m2", DIMENSION_FLOOR_AREA},
    {"square metres", "m2", DIMENSION_FLOOR_AREA},
    {"square meters", "m2", DIMENSION_FLOOR_AREA},
    {"m\xC2\xB2", "m2", DIMENSION_FLOOR_AREA},
    {"hour", "h", DIMENSION_TIME},
    {"hours", "h", DIMENSION_TIME},
    {"hrs", "h", DIMENSION_TIME},
    {"minute", "min", DIMENSION_TIME},
    {"minutes", "min", DIMENSION_TIME},
    {"mins", "min", DIMENSION_TIME},
    {"percent", "%", DIMENSION_PERCENT},
    {"per cent", "%", DIMENSION_PERCENT},
};

static const char *kept(struct arena *arena, struct text *text)
{
    const char *copy = arena_copy(arena, text_string(text));
    text_done(text);
    return copy;
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
        if (measures && strcasecmp(word, units[i].word) == 0) {
            struct text text = {0};
            text_add_length(&text, typed, length);
            text_printf(&text, " %s", units[i].unit);
            return kept(arena, &text);
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
    static const char *const parts[] = {"cents", "cent", "ct", "c", "\xC2\xA2", "p", "pence"};
    const char *at = typed;
    for (size_t i = 0; i < sizeof signs / sizeof signs[0]; i++) {
        at += strncmp(at, signs[i], strlen(signs[i])) == 0 ? strlen(signs[i]) : 0;
    }
    at += strspn(at, " ");
    const size_t length = strspn(at, "0123456789.");
    const char *behind = at + length + strspn(at + length, " ");
    size_t word = strcspn(behind, " /");
    bool hundredth = false;
    for (size_t i = 0; i < sizeof parts / sizeof parts[0]; i++) {
        hundredth = hundredth || (strlen(parts[i]) == word && word > 0 && strncasecmp(behind, parts[i], word) == 0);
    }
    const char *rest = hundredth ? behind + word + strspn(behind + word, " ") : behind;
    const bool known = rest[0] == '\0' || strcasecmp(rest, "per kWh") == 0 || strcasecmp(rest, "/kWh") == 0 ||
                       strcasecmp(rest, "/ kWh") == 0;
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
    return kept(arena, &text);
}

static const char *currency(struct arena *arena, const char *typed)
{
    struct text text = {0};
    for (const char *at = typed; *at != '\0'; at++) {
        text_add_char(&text, (char)toupper((unsigned char)*at));
    }
    return kept(arena, &text);
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
        {"morning", "06:00-09:00"},   {"mornings", "06:00-09:00"}, {"noon", "11:30-13:30"},
        {"afternoon", "13:00-17:00"}, {"evening", "18:00-22:00"},  {"evenings", "18:00-22:00"},
        {"night", "22:00-06:00"},     {"nights", "22:00-06:00"},   {"all day", "00:00-24:00"}};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strcasecmp(typed, words[i][0]) == 0) {
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
    return kept(arena, &text);
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
    struct text text = {0};
    text_add_length(&text, typed, first);
    text_printf(&text, ",%s", at);
    return kept(arena, &text);
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
