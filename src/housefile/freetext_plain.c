#include "freetext_plain.h"

#include <ctype.h>
#include <stdarg.h>
#include <stdbool.h>
#include <stdlib.h>
#include <string.h>
#include <strings.h>

#include "ampsum/quantity.h"
#include "ampsum/text.h"

/* What a word, or two of them, say beside the name. */
enum meaning { MEANS_NAME, MEANS_RATING, MEANS_VOLTAGE, MEANS_TIME, MEANS_SPAN };

enum { MAINS_LEAST_V = 100 }; /* 12 V of a lamp, 60 V of a mower are no voltage of a wall outlet */

static const char digits_of[] = "0123456789";

struct plain {
    struct arena *arena;
    const char **words; /* of the first piece; NULL: taken out */
    size_t word_count;
    const char **said; /* quantities in the order of reading */
    size_t said_count;
    const char *rating;
    const char *count; /* NULL: none was said behind the name */
    struct error *error;
};

/* ------------------------------------------------------------------ what is refused ----------------------- */

void freetext_fault(struct error *error, const char *key, const char *reason)
{
    const struct error_fault fault = {.section = "appliance", .key = key, .id = "", .reason = reason};
    if (error != NULL && !error_is_set(error)) {
        error_set(error, ERROR_INPUT, "%s", reason);
        error_add_fault(error, &fault);
    }
}

void freetext_refuse(struct error *error, const char *key, const char *value, const char *format, ...)
{
    struct text reason = {0};
    va_list arguments;
    va_start(arguments, format);
    text_printf_list(&reason, format, arguments);
    va_end(arguments);
    if (error != NULL && !error_is_set(error)) {
        error_set(error, ERROR_INPUT, "'%s': %s", value, text_string(&reason));
        error_add_fault(error, &(struct error_fault){"appliance", key, "", value, text_string(&reason)});
    }
    text_done(&reason);
}

/* ------------------------------------------------------------------ one word ------------------------------ */

static bool is_any(const char *word, const char *const *list)
{
    while (*list != NULL && strcasecmp(word, *list) != 0) {
        list++;
    }
    return *list != NULL;
}

/* Behind `1500`, `1/2`, `2e3`; the unit may follow. */
static const char *behind_number(const char *word)
{
    const char *end = word + strspn(word, "0123456789./");
    const char *exponent = end + 1 + (*end != '\0' && strchr("+-", end[1]) != NULL && end[1] != '\0');
    if (tolower((unsigned char)*end) == 'e' && isdigit((unsigned char)*exponent)) {
        end = exponent + strspn(exponent, digits_of);
    }
    return end;
}

/* The unit of a quantity, as it is written here; NULL where the word is none. */
static const char *unit_of(const char *word)
{
    const char *rest = behind_number(word);
    rest += strspn(rest, " ");
    const bool number = isdigit((unsigned char)word[0]) || (word[0] == '.' && isdigit((unsigned char)word[1]));
    const bool unit = *rest != '\0' && !isdigit((unsigned char)*rest) && tolower((unsigned char)*rest) != 'e';
    return number && unit ? quantity_unit(word) : NULL;
}

static bool is_span(const char *word)
{
    const char *rest = behind_number(word);
    const size_t dash = rest[0] == '-' ? 1 : strncmp(rest, "\u2013", 3) == 0 ? 3 : 0;
    return dash > 0 && isdigit((unsigned char)rest[dash]) && quantity_unit(rest + dash) != NULL;
}

static bool is_rating_unit(const char *unit)
{
    return quantity_has_unit(DIMENSION_POWER, unit) || quantity_has_unit(DIMENSION_APPARENT, unit) ||
           quantity_has_unit(DIMENSION_CURRENT, unit) || quantity_has_unit(DIMENSION_RESISTANCE, unit);
}

/* `4h/day` */
static bool is_a_day(const char *word)
{
    const char *slash = strchr(behind_number(word), '/');
    return isdigit((unsigned char)word[0]) && slash != NULL && tolower((unsigned char)slash[1]) == 'd' &&
           strchr("hm", tolower((unsigned char)*behind_number(word))) != NULL;
}

static enum meaning meaning_of(const char *word)
{
    const char *unit = unit_of(word);
    if (isdigit((unsigned char)word[0]) && is_span(word)) {
        return MEANS_SPAN;
    }
    if (unit == NULL) {
        return is_a_day(word) ? MEANS_TIME : MEANS_NAME;
    }
    if (strcmp(unit, "hp") == 0) {
        return MEANS_RATING;
    }
    if (is_rating_unit(unit)) {
        return memchr(word, '/', (size_t)(behind_number(word) - word)) != NULL ? MEANS_SPAN : MEANS_RATING;
    }
    if (quantity_has_unit(DIMENSION_VOLTAGE, unit)) {
        return strtol(word, NULL, 10) >= MAINS_LEAST_V ? MEANS_VOLTAGE : MEANS_NAME;
    }
    return strcmp(unit, "h") == 0 || strcmp(unit, "min") == 0 ? MEANS_TIME : MEANS_NAME;
}

/* `1500 watts` as `1500 W`; what is written with a unit of ours stays as it is. */
static const char *in_own_unit(struct arena *arena, const char *word)
{
    const char *said = behind_number(word);
    const char *unit = unit_of(word);
    said += strspn(said, " ");
    if (unit == NULL || strcasecmp(said, unit) == 0) {
        return word;
    }
    return arena_printf(arena, "%.*s %s", (int)(behind_number(word) - word), word, unit);
}

/* ------------------------------------------------------------------ the first piece ----------------------- */

/* Brackets around a word and signs behind it say nothing. */
static const char *bare_word(struct arena *arena, const char *start)
{
    size_t length = strlen(start);
    while (length > 1 && strchr("([", *start) != NULL) {
        start++;
        length--;
    }
    while (length > 1 && strchr(")].:;!", start[length - 1]) != NULL) {
        length--;
    }
    return arena_copy_length(arena, start, length);
}

static void split(struct plain *plain, const char *piece, size_t length)
{
    plain->words = arena_array(plain->arena, length + 1, sizeof *plain->words);
    plain->said = arena_array(plain->arena, length + 1, sizeof *plain->said);
    for (size_t at = 0; at < length;) {
        const size_t blanks = strspn(piece + at, " ");
        at += blanks < length - at ? blanks : length - at;
        size_t word = strcspn(piece + at, " ");
        word = word < length - at ? word : length - at;
        if (word > 0) {
            plain->words[plain->word_count++] = arena_copy_length(plain->arena, piece + at, word);
        }
        at += word;
    }
}

/* A time at the piece's end, or `2 h a day`: as part of a name it would not be counted. */
static bool is_time_of_use(const struct plain *plain, size_t next)
{
    static const char *const a_day[] = {"a", "per", "each", "every", "daily", "/day", NULL};
    return next >= plain->word_count || is_any(plain->words[next], a_day);
}

static void refuse_time(struct error *error, const char *time)
{
    freetext_refuse(error, "power", time,
                    "a time is no part of a name, expected hours=… for how long a day, use=07:00-09:00 for when, or "
                    "continuous=yes behind a comma");
}

static void take_said(struct plain *plain, const char *word, enum meaning meaning)
{
    if (meaning == MEANS_SPAN) {
        freetext_refuse(plain->error, "power", word, "a range is not accepted, expected its highest number alone%s",
                        strcasestr(word, "hp") != NULL ? " (one and a half is 1.5 hp)" : "");
    } else if (word[0] == '.') {
        freetext_refuse(plain->error, "power", word, "no digit before the point, expected 0%s", word);
    } else if (meaning == MEANS_RATING && plain->rating != NULL) {
        freetext_fault(plain->error, NULL,
                       arena_printf(plain->arena,
                                    "two ratings for one load, '%s' and '%s', expected each load by itself with its "
                                    "own: 'Heater, 1500 W'",
                                    plain->rating, word));
    } else {
        plain->rating = meaning == MEANS_RATING ? word : plain->rating;
        plain->said[plain->said_count++] = in_own_unit(plain->arena, word);
    }
}

/* `4x25W`: how many, and of what. */
static bool take_counted(struct plain *plain, const char *word)
{
    const size_t digits = strspn(word, digits_of);
    const char *sign = word + digits;
    const size_t length = *sign == 'x' || *sign == '*' ? 1 : strncmp(sign, "×", 2) == 0 ? 2 : 0;
    if (digits == 0 || length == 0 || plain->count != NULL || meaning_of(sign + length) != MEANS_RATING) {
        return false;
    }
    plain->count = arena_copy_length(plain->arena, word, digits);
    take_said(plain, sign + length, MEANS_RATING);
    return true;
}

/* `Heater 1 500 W`, `Motor 1 1/2 hp`: one number, or two? */
static bool is_parted(struct plain *plain, size_t at, const char *quantity)
{
    const char *before = at > 0 && plain->words[at - 1] != NULL ? plain->words[at - 1] : "-";
    const char *number_end = quantity + strspn(quantity, digits_of);
    const bool mixed = *number_end == '/';
    if (before[strspn(before, digits_of)] != '\0' || !(mixed || number_end - quantity == 3)) {
        return false;
    }
    struct text name = {0};
    for (size_t i = 0; i < at; i++) {
        text_printf(&name, "%s%s", i > 0 ? " " : "", plain->words[i] == NULL ? "" : plain->words[i]);
    }
    const char *value = arena_printf(plain->arena, "%s %s", before, quantity);
    if (mixed) {
        freetext_refuse(plain->error, "power", value,
                        "one number or two? expected a decimal such as 1.5 hp for one, or a comma before the rating: "
                        "'%s, %s'",
                        text_string(&name), quantity);
    } else {
        freetext_refuse(plain->error, "power", value,
                        "one number or two? expected %s%s for one (no thousands separator), or a comma before the "
                        "rating: '%s, %s'",
                        before, quantity, text_string(&name), quantity);
    }
    text_done(&name);
    return true;
}

/* `100 W equivalent`: what it shines like, not what it draws. */
static bool is_equivalent(const struct plain *plain, size_t next)
{
    const char *word = next < plain->word_count ? plain->words[next] : "";
    return strncasecmp(word, "equ", 3) == 0 || strncasecmp(word, "repl", 4) == 0;
}

/* Takes all quantities out of the words. */
static void take_quantities(struct plain *plain)
{
    for (size_t i = 0; i < plain->word_count && !error_is_set(plain->error); i++) {
        size_t used = 1;
        const char *word = bare_word(plain->arena, plain->words[i]);
        enum meaning meaning = meaning_of(word);
        if (meaning == MEANS_NAME && i + 1 < plain->word_count) {
            const char *next = bare_word(plain->arena, plain->words[i + 1]);
            const char *both = arena_printf(plain->arena, "%s %s", word, next);
            meaning = *behind_number(word) == '\0' || is_span(both) ? meaning_of(both) : MEANS_NAME;
            used = meaning == MEANS_NAME ? 1 : 2;
            word = meaning == MEANS_NAME ? word : both;
        }
        if (meaning == MEANS_TIME) {
            if (is_time_of_use(plain, i + used)) {
                refuse_time(plain->error, word);
            }
            continue;
        }
        if (meaning == MEANS_NAME || is_equivalent(plain, i + used)) {
            plain->words[i] = take_counted(plain, word) ? NULL : plain->words[i];
            continue;
        }
        if (is_parted(plain, i, word)) {
            return;
        }
        take_said(plain, word, meaning);
        plain->words[i] = NULL;
        plain->words[i + used - 1] = NULL;
        i += used - 1;
    }
}

/* Drops the words that were taken out. */
static void close_up(struct plain *plain)
{
    size_t kept = 0;
    for (size_t i = 0; i < plain->word_count; i++) {
        if (plain->words[i] != NULL) {
            plain->words[kept++] = plain->words[i];
        }
    }
    plain->word_count = kept;
}

static const char *last_word(const struct plain *plain)
{
    return plain->word_count == 0 ? "" : plain->words[plain->word_count - 1];
}

/* `lamp 9 W x 6`, `lamp 9 W x6` */
static void take_count_behind(struct plain *plain)
{
    const char *word = last_word(plain);
    const size_t sign = word[0] == 'x' || word[0] == '*' ? 1 : strncmp(word, "×", 2) == 0 ? 2 : 0;
    const char *number = word + sign;
    const bool apart = sign == 0 && plain->word_count > 2 && word[0] != '\0';
    const char *before = apart ? plain->words[plain->word_count - 2] : "";
    if (apart && strcmp(before, "x") != 0 && strcmp(before, "*") != 0 && strcmp(before, "×") != 0) {
        return;
    }
    if (strcmp(number, "1") == 0 || (!apart && (sign == 0 || plain->word_count < 2)) || number[0] == '\0' ||
        number[strspn(number, digits_of)] != '\0' || isdigit((unsigned char)plain->words[0][0])) {
        return;
    }
    plain->count = number;
    plain->word_count -= apart ? 2 : 1;
}

static bool is_plural(const char *word)
{
    const size_t length = strlen(word);
    return length > 3 && word[length - 1] == 's' && word[length - 2] != 's';
}

/* `two lamps` as `2 lamps`; `2 lamps 60 W each` are two of them. */
static void take_each(struct plain *plain)
{
    static const char *const numbers[] = {"two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", NULL};
    static const char *const each[] = {"each", "apiece", "ea", NULL};
    static const char *const times[] = {"x", "×", "*", NULL};
    const bool all = plain->said_count > 0 && is_any(last_word(plain), each);
    plain->word_count -= all ? 1 : 0;
    if (plain->word_count < 2 || !is_plural(last_word(plain))) {
        return;
    }
    for (size_t i = 0; numbers[i] != NULL; i++) {
        if (strcasecmp(plain->words[0], numbers[i]) == 0) {
            plain->words[0] = arena_printf(plain->arena, "%zu", i + 2);
        }
    }
    const bool counted = is_any(plain->words[1], times);
    if (all && plain->count == NULL && !counted && plain->words[0][strspn(plain->words[0], digits_of)] == '\0') {
        plain->count = plain->words[0];
        plain->words++;
        plain->word_count--;
    }
}

/* `Heater - 1500 W`: a sign that stood between name and rating. */
static void drop_signs(struct plain *plain)
{
    static const char *const signs[] = {"-", "\u2013", "=", "@", "/", "+", "&", ":", NULL};
    while (plain->said_count > 0 && plain->word_count > 1 && is_any(last_word(plain), signs)) {
        plain->word_count--;
    }
    const char *last = last_word(plain);
    const size_t length = strlen(last);
    if (plain->said_count > 0 && length > 1 && strchr(":;=", last[length - 1]) != NULL) {
        plain->words[plain->word_count - 1] = arena_copy_length(plain->arena, last, length - 1);
    }
}

/* ------------------------------------------------------------------ the whole ----------------------------- */

/* A part behind a comma that is neither key=value nor in a unit of ours. */
static void add_part(struct plain *plain, struct text *text, const char *part, size_t length)
{
    const size_t blanks = strspn(part, " ") < length ? strspn(part, " ") : length;
    char *word = arena_copy_length(plain->arena, part + blanks, length - blanks);
    const enum meaning meaning = strchr(word, '=') != NULL ? MEANS_NAME : meaning_of(word);
    char *unit_end = word + strlen(word);
    while (unit_end > word && unit_end[-1] == ' ') {
        *--unit_end = '\0';
    }
    text_add_length(text, part, blanks);
    text_add(text, meaning == MEANS_RATING || meaning == MEANS_VOLTAGE ? in_own_unit(plain->arena, word) : word);
}

static const char *compose(struct plain *plain, const char *rest)
{
    struct text text = {0};
    if (plain->count != NULL) {
        text_printf(&text, "%s x ", plain->count);
    }
    for (size_t i = 0; i < plain->word_count; i++) {
        text_printf(&text, "%s%s", i > 0 ? " " : "", plain->words[i]);
    }
    for (size_t i = 0; i < plain->said_count; i++) {
        text_printf(&text, ", %s", plain->said[i]);
    }
    while (*rest == ',') {
        const size_t length = strcspn(rest + 1, ",");
        text_add_char(&text, ',');
        add_part(plain, &text, rest + 1, length);
        rest += 1 + length;
    }
    const char *copy = arena_copy(plain->arena, text_string(&text));
    text_done(&text);
    return copy;
}

/* `Heater, 1500 W, 3 hours a day`, `Heater, 750-1500 W` */
static bool refuses_part(const char *rest, struct plain *plain)
{
    while (*rest == ',' && !error_is_set(plain->error)) {
        const size_t length = strcspn(rest + 1, ",");
        const char *part = arena_copy_length(plain->arena, rest + 1, length);
        struct plain piece = {.arena = plain->arena, .error = plain->error};
        split(&piece, part, length);
        const char *two =
            piece.word_count > 1 ? arena_printf(plain->arena, "%s %s", piece.words[0], piece.words[1]) : "";
        const enum meaning first = piece.word_count > 0 ? meaning_of(piece.words[0]) : MEANS_NAME;
        const enum meaning both = meaning_of(two);
        part += strspn(part, " ");
        if (strchr(part, '=') == NULL && (first == MEANS_TIME || both == MEANS_TIME)) {
            refuse_time(plain->error, part);
        } else if (strchr(part, '=') == NULL && (first == MEANS_SPAN || both == MEANS_SPAN)) {
            take_said(&piece, part, MEANS_SPAN);
        }
        rest += 1 + length;
    }
    return error_is_set(plain->error);
}

const char *freetext_plain(struct arena *arena, const char *string, struct error *error)
{
    struct plain plain = {.arena = arena, .error = error};
    const size_t length = strcspn(string, ",");
    split(&plain, string, length);
    if (refuses_part(string + length, &plain)) {
        return NULL;
    }
    take_quantities(&plain);
    close_up(&plain);
    if (!error_is_set(error) && plain.word_count == 0 && (plain.said_count > 0 || length > 0)) {
        freetext_refuse(error, "name", string, "a name is missing, expected such as 'Heater, 1500 W'");
    }
    if (error_is_set(error)) {
        return NULL;
    }
    if (plain.count == NULL) {
        take_count_behind(&plain);
    }
    take_each(&plain);
    drop_signs(&plain);
    return compose(&plain, string + length);
}
