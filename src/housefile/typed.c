#include "ampsum/typed.h"

#include <ctype.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/spoken.h"
#include "ampsum/text.h"

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
    const bool hundredth = spoken_is("cents|cent|ct|c|\xC2\xA2|p|pence", behind, word);
    const char *rest = hundredth ? behind + word + strspn(behind + word, " ") : behind;
    const bool known = rest[0] == '\0' || spoken_is("per kWh|/kWh|/ kWh", rest, strlen(rest));
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

/* Length of what parts the two ends of a span; 0 where nothing does. */
static size_t dash_length(const char *at)
{
    static const char *const words[] = {"\xE2\x80\x93", "-", "to ", "till ", "until "};
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (strncasecmp(at, words[i], strlen(words[i])) == 0) {
            return strlen(words[i]);
        }
    }
    return 0;
}

/* `7-10pm` begins in the evening: an hour without am or pm is of the half of the day that the end names. */
static int in_same_half(int start, const char *start_word, int end, const char *end_word)
{
    enum { HOUR = 60, NOON = 12 * HOUR };
    const bool bare = start >= HOUR && start < NOON && strpbrk(start_word, "aApP") == NULL;
    return bare && strpbrk(end_word, "pP") != NULL && start + NOON < end ? start + NOON : start;
}

/* One span, `7am-8am` or `from 17:00 to 22:30`; *ret_end behind it. False where it is none. */
static bool add_span(struct arena *arena, const char *at, const char **ret_end, struct text *text)
{
    at += strncasecmp(at, "from ", 5) == 0 ? 5 : 0;
    const int start = clock_time(at, ret_end);
    const size_t dash = start < 0 ? 0 : dash_length(*ret_end);
    if (dash == 0) {
        return false;
    }
    const char *start_word = arena_copy_length(arena, at, (size_t)(*ret_end - at));
    at = *ret_end + dash;
    at += strspn(at, " ");
    const int end = clock_time(at, ret_end);
    if (end < 0) {
        return false;
    }
    const char *end_word = arena_copy_length(arena, at, (size_t)(*ret_end - at));
    add_time(text, in_same_half(start, start_word, end, end_word));
    text_add_char(text, '-');
    add_time(text, end);
    return true;
}

/* Without the words that go before a time of the day: `in the evening`, `this afternoon`. */
static const char *time_word(const char *typed)
{
    static const char *const before[] = {"in the ", "at ", "this ", "every ", "during the "};
    for (size_t i = 0; i < sizeof before / sizeof before[0]; i++) {
        if (strncasecmp(typed, before[i], strlen(before[i])) == 0) {
            return typed + strlen(before[i]);
        }
    }
    return typed;
}

static const char *windows(struct arena *arena, const char *typed)
{
    static const char *const words[][2] = {
        {"morning|mornings", "06:00-09:00"},
        {"noon", "11:30-13:30"},
        {"afternoon|afternoons", "13:00-17:00"},
        {"evening|evenings", "18:00-22:00"},
        {"tonight", "18:00-24:00"}, /* from the evening on */
        {"night|nights|all night|overnight", "22:00-06:00"},
        {"day|all day|any time|anytime|always", "00:00-24:00"},
    };
    const char *word = time_word(typed);
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        if (spoken_is(words[i][0], word, strlen(word))) {
            return words[i][1];
        }
    }
    struct text text = {0};
    for (const char *at = typed; *at != '\0';) {
        if (!add_span(arena, at, &at, &text) || (*at != '\0' && *at != ',')) {
            text_done(&text);
            return typed;
        }
        at += strspn(at, ", ");
        text_add(&text, *at == '\0' ? "" : ", ");
    }
    return arena_text(arena, &text);
}

/* ---- spaces of a panel */

/* `3-5`, `3 and 5`, `3/5`, `3 & 5`: two spaces. */
static const char *spaces(struct arena *arena, const char *typed)
{
    const size_t first = strspn(typed, "0123456789");
    const char *at = typed + first + strspn(typed + first, " ");
    at += strncasecmp(at, "and ", 4) == 0 ? 4 : *at != '\0' && strchr("-/+&", *at) != NULL ? 1 : 0;
    at += strspn(at, " ");
    const size_t second = strspn(at, "0123456789");
    if (first == 0 || second == 0 || at[second] != '\0' || at == typed + first) {
        return typed;
    }
    return arena_printf(arena, "%.*s,%s", (int)first, typed, at);
}

/* ---- a breaker */

int typed_poles(struct arena *arena, const char *typed, const char **ret_rating)
{
    static const char *const words[] = {
        "single pole", "single-pole", "1 pole",     "1-pole", "1p",     "double pole", "double-pole",
        "two pole",    "two-pole",    "2 pole",     "2-pole", "2p",     "double",      "triple pole",
        "triple-pole", "three pole",  "three-pole", "3 pole", "3-pole", "3p",
    };
    enum { SINGLE = 5, DOUBLE = 13 }; /* up to there they are of one pole, of two */
    const size_t length = strlen(typed);
    for (size_t i = 0; i < sizeof words / sizeof words[0]; i++) {
        const size_t own = strlen(words[i]);
        const int poles = i < SINGLE ? 1 : i < DOUBLE ? 2 : 3;
        if (length > own + 1 && typed[length - own - 1] == ' ' && strcasecmp(typed + length - own, words[i]) == 0) {
            *ret_rating = arena_copy_length(arena, typed, length - own - 1);
            return poles;
        }
        if (length > own + 1 && typed[own] == ' ' && strncasecmp(typed, words[i], own) == 0) {
            *ret_rating = typed + own + 1;
            return poles;
        }
    }
    *ret_rating = typed;
    return 0;
}

const char *typed_rating(struct arena *arena, const char *typed)
{
    const char *united = spoken_quantity(arena, typed, DIMENSION_NONE);
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
    if (strcmp(key->name, "breaker") == 0) {
        typed_poles(arena, typed, &typed);
    }
    const char *united = key->dimension == DIMENSION_NONE ? NULL : spoken_quantity(arena, typed, key->dimension);
    return united == NULL ? typed : united;
}

/* ---- a nameplate */

/* The units in which a nameplate states a rating, and the key that each belongs to; the first of a key is its own. */
static const struct {
    const char *unit;
    const char *key;
} ratings[] = {
    {"W", "power"},      {"kW", "power"},       {"A", "current"},       {"mA", "current"},    {"VA", "apparent"},
    {"kVA", "apparent"}, {"ohm", "resistance"}, {"kohm", "resistance"}, {"hp", "horsepower"},
};

enum { RATINGS = sizeof ratings / sizeof ratings[0] };

const char *const typed_plate_keys[] = {"power", "current", "apparent", "resistance", "horsepower", NULL};

const char *typed_plate_unit(size_t index)
{
    return index < RATINGS ? ratings[index].unit : NULL;
}

/* Where the unit begins at the end of `1500 W`; the end of the string where none of ours is there. */
static size_t unit_at(const char *value, size_t *ret_row)
{
    const size_t length = strlen(value);
    *ret_row = RATINGS;
    for (size_t i = 0; i < RATINGS; i++) {
        const size_t unit_length = strlen(ratings[i].unit);
        const size_t at = length > unit_length ? length - unit_length : 0;
        if (at > 0 && strcmp(value + at, ratings[i].unit) == 0 &&
            (value[at - 1] == ' ' || isdigit((unsigned char)value[at - 1]) != 0)) {
            *ret_row = i;
            return at;
        }
    }
    return length;
}

struct typed_plate typed_plate(struct arena *arena, const char *typed, const char *unit)
{
    size_t row = 0;
    const bool united = unit_at(typed, &row) < strlen(typed);
    for (size_t i = 0; !united && i < RATINGS; i++) {
        row = strcmp(ratings[i].unit, unit) == 0 ? i : row;
    }
    row = row == RATINGS ? 0 : row;
    return (struct typed_plate){ratings[row].key,
                                united ? typed : arena_printf(arena, "%s %s", typed, ratings[row].unit)};
}

void typed_plate_parts(struct arena *arena, const char *key, const char *value, const char **ret_number,
                       const char **ret_unit)
{
    size_t row = 0;
    size_t at = unit_at(value, &row);
    while (at > 0 && value[at - 1] == ' ') {
        at--;
    }
    for (size_t i = 0; row == RATINGS; i++) {
        row = strcmp(ratings[i].key, key) == 0 ? i : row;
    }
    *ret_number = arena_copy_length(arena, value, at);
    *ret_unit = ratings[row].unit;
}

/* ---- the spaces of a breaker */

const char *typed_spaces(struct arena *arena, const char *typed, int poles, bool two_columns)
{
    struct text text = {0};
    if (typed[0] == '\0' || typed[strspn(typed, "0123456789")] != '\0' || poles < 2 || poles > 3) {
        return typed;
    }
    for (int i = 0; i < poles; i++) {
        text_printf(&text, "%s%ld", i == 0 ? "" : ",", strtol(typed, NULL, 10) + i * (two_columns ? 2 : 1));
    }
    return arena_text(arena, &text);
}

int typed_spaces_poles(const char *spaces)
{
    int count = 1;
    for (const char *at = spaces; *at != '\0'; at++) {
        count += *at == ',';
    }
    return count == 2 || count == 3 ? count : 0;
}
