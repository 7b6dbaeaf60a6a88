/* One value of a key, between its field and its text. */
#include "ampsum/values.h"

#include <assert.h>
#include <math.h>
#include <string.h>

#include "ampsum/items.h"
#include "ampsum/quantity.h"
#include "ampsum/reference.h"
#include "ampsum/words.h"
#include "value_parts.h"

/* Longest line of a house file. */
enum { LINE_BYTES_MOST = 4096 };

/* What every reader of a type gets. */
struct reading {
    const struct key *key;
    const char *string;
    const struct house *house;
    char *field;
    struct text *fault;
};

static bool check_bounds(const struct reading *reading, double value)
{
    const struct key *key = reading->key;
    bool is_low = (key->least != 0 || key->most != 0) && value < key->least;
    double most = key->most != 0 ? key->most : VALUE_MOST;
    const double size = fabs(value);
    if (size > 0 && size < VALUE_LEAST) {
        text_add(reading->fault, "too small, expected at least ");
        quantity_write(reading->fault, VALUE_LEAST, key->dimension, reading->house->rules);
        return false;
    }
    if (!is_low && value <= most) {
        return true;
    }
    if (key->least > 0 && most < VALUE_MOST) {
        text_add(reading->fault, "out of range, expected ");
        quantity_write(reading->fault, key->least, key->dimension, reading->house->rules);
        text_add(reading->fault, " to ");
        quantity_write(reading->fault, most, key->dimension, reading->house->rules);
        return false;
    }
    text_add(reading->fault, is_low ? "too small, expected at least " : "too large, expected at most ");
    quantity_write(reading->fault, is_low ? key->least : most, key->dimension, reading->house->rules);
    return false;
}

static bool read_quantity(const struct reading *reading)
{
    double value = 0;
    bool unknown = (reading->key->flags & KEY_OR_UNKNOWN) != 0 && strcmp(reading->string, "unknown") == 0;
    bool good = unknown || (quantity_read(reading->string, reading->key->dimension, reading->house->rules,
                                          reading->key->flags, &value, reading->fault) &&
                            check_bounds(reading, value));
    if (!good && reading->key->unit != NULL) {
        text_printf(reading->fault, " in %s", reading->key->unit);
    }
    if (!good && (reading->key->flags & KEY_OR_UNKNOWN) != 0) {
        text_add(reading->fault, ", or the word unknown");
    }
    if (good) {
        memcpy(reading->field, &value, sizeof value);
    }
    return good;
}

static bool read_horsepower(const struct reading *reading)
{
    double value = 0;
    bool good = quantity_read_horsepower(reading->string, &value, reading->fault) && check_bounds(reading, value);
    if (good) {
        memcpy(reading->field, &value, sizeof value);
    }
    return good;
}

static bool read_whole(const struct reading *reading)
{
    long value = 0;
    bool good = quantity_read_whole(reading->string, (long)reading->key->least, (long)reading->key->most, &value,
                                    reading->fault);
    if (good) {
        memcpy(reading->field, &(int){(int)value}, sizeof(int));
    }
    return good;
}

/* Word `index` of those that the house's rule set knows for the key, or of all where it has none of its own there. */
static const char *expected_word(const struct reading *reading, size_t index)
{
    const char *rules = rules_word(reading->house->rules);
    if ((reading->key->flags & KEY_RULE_WORDS) == 0 || reference_choice(rules, reading->key->name, 0) == NULL) {
        return key_choice(reading->key, index).word;
    }
    const struct ref_choice *row = reference_choice(rules, reading->key->name, index);
    return row == NULL ? NULL : row->word;
}

/* The words that are expected, the nearest first. */
static void add_expected(const struct reading *reading)
{
    struct words_nearest nearest;
    words_nearest_init(&nearest, reading->string);
    const char *word = NULL;
    size_t count = 0;
    for (; (word = expected_word(reading, count)) != NULL; count++) {
        words_nearest_offer(&nearest, word);
    }
    text_printf(reading->fault, ", expected%s%s", nearest.best != NULL ? " " : "",
                nearest.best != NULL ? nearest.best : "");
    size_t added = nearest.best != NULL ? 1 : 0;
    for (size_t i = 0; i < count; i++) {
        word = expected_word(reading, i);
        if (nearest.best == NULL || strcmp(word, nearest.best) != 0) {
            text_printf(reading->fault, "%s %s", added == 0 ? "" : added + 1 == count ? " or" : ",", word);
            added++;
        }
    }
    if (nearest.best != NULL) {
        text_printf(reading->fault, " (nearest: %s)", nearest.best);
    }
}

static void explain_choice(const struct reading *reading)
{
    text_add(reading->fault, "unknown `");
    text_add_shown(reading->fault, reading->string);
    text_add(reading->fault, "`");
    add_expected(reading);
}

/* A word that only other rule sets know. */
static void explain_other_rules(const struct reading *reading, const char *word)
{
    text_printf(reading->fault, "`%s` is of ", word);
    reference_choice_sets(reading->fault, reading->key->name, word);
    text_printf(reading->fault, " rules; this house is %s", rules_word(reading->house->rules));
    add_expected(reading);
}

/* The choice whose word it is; for choices that carry a unit (50 Hz) the one whose number it is. */
static struct choice choice_of(const struct reading *reading)
{
    double value = 0;
    struct text unread = {0};
    bool has_unit = reading->key->dimension != DIMENSION_NONE &&
                    quantity_read(reading->string, reading->key->dimension, reading->house->rules, 0, &value, &unread);
    text_done(&unread);
    for (size_t i = 0;; i++) {
        struct choice choice = key_choice(reading->key, i);
        bool found = choice.word == NULL || strcmp(choice.word, reading->string) == 0;
        if (found || (has_unit && value == choice.value)) {
            return choice;
        }
    }
}

static bool read_choice(const struct reading *reading)
{
    struct choice choice = choice_of(reading);
    if (choice.word == NULL) {
        explain_choice(reading);
        return false;
    }
    if ((reading->key->flags & KEY_RULE_WORDS) != 0 && reading->house->rules != RULES_NONE &&
        !key_choice_allowed(reading->key, reading->house->rules, choice.value)) {
        explain_other_rules(reading, choice.word);
        return false;
    }
    memcpy(reading->field, &choice.value, sizeof choice.value);
    return true;
}

static const char *explain_text(const char *string, size_t length_most)
{
    size_t length = strlen(string);
    if (length == 0) {
        return "empty, expected a text";
    }
    if (!words_is_utf8(string, length)) {
        return "not valid UTF-8, expected UTF-8 text";
    }
    if (words_has_control(string)) {
        return "a line break, tab or other control character, expected plain text";
    }
    if (string[0] == ' ' || string[length - 1] == ' ') {
        return "a blank at an end, expected none";
    }
    if (string[0] == ';' || strstr(string, " ;") != NULL) {
        return "a semicolon at the start or after a blank would begin a comment, expected none";
    }
    return length > length_most ? "longer than a line of 4096 bytes, expected a shorter text" : NULL;
}

static bool read_text(const struct reading *reading)
{
    const char *reason = explain_text(reading->string, LINE_BYTES_MOST - 1 - strlen(reading->key->name));
    if (reason != NULL) {
        text_add(reading->fault, reason);
        return false;
    }
    const char *copy = arena_copy(reading->house->arena, reading->string);
    memcpy(reading->field, &copy, sizeof copy);
    return true;
}

static bool read_currency(const struct reading *reading)
{
    const struct ref_currency *currency = reference_currency(reading->string);
    if (currency == NULL) {
        text_add(reading->fault, "unknown currency `");
        text_add_shown(reading->fault, reading->string);
        text_add(reading->fault, "`, expected a code of ISO 4217 such as USD, EUR or GBP");
        return false;
    }
    memcpy(reading->field, &(const char *){currency->code}, sizeof(const char *));
    return true;
}

static bool read_decimal(const struct reading *reading)
{
    struct text decimal = {0};
    bool good = quantity_read_decimal(reading->string, reading->key->dimension, &decimal, reading->fault);
    if (good) {
        const char *copy = arena_copy(reading->house->arena, text_string(&decimal));
        memcpy(reading->field, &copy, sizeof copy);
    }
    text_done(&decimal);
    return good;
}

static bool read_legs(const struct reading *reading)
{
    for (unsigned legs = 1; legs < 8; legs++) {
        if (strcmp(legs_word(legs), reading->string) == 0) {
            memcpy(reading->field, &legs, sizeof legs);
            return true;
        }
    }
    text_add(reading->fault, "unknown legs `");
    text_add_shown(reading->fault, reading->string);
    text_add(reading->fault, "`, expected A, B, C, AB, BC, AC or ABC, in that order of capital letters; both of a "
                             "120/240 V house are AB");
    return false;
}

static unsigned protection_bit(const char *word)
{
    for (unsigned i = 0; i < PROTECTION_COUNT; i++) {
        if (strcmp(protection_words[i], word) == 0) {
            return 1u << i;
        }
    }
    return 0;
}

static bool read_protection(const struct reading *reading)
{
    unsigned bits = 0;
    bool good = true;
    struct items items;
    items_init(&items, reading->string);
    while (good && items_next(&items, reading->fault)) {
        unsigned bit = protection_bit(text_string(&items.item));
        good = bit != 0 && (bits & bit) == 0;
        if (!good) {
            text_add(reading->fault, bit == 0 ? "unknown `" : "given twice: `");
            text_add_shown(reading->fault, text_string(&items.item));
            text_add(reading->fault, "`, expected any of gfci, afci, rcd, each once");
        }
        bits |= bit;
    }
    good = good && !items.is_faulty;
    items_done(&items);
    if (good) {
        memcpy(reading->field, &bits, sizeof bits);
    }
    return good;
}

static bool read_windows(const struct reading *reading)
{
    return windows_read(reading->string, reading->house->arena, (struct window_list *)(void *)reading->field,
                        reading->fault);
}

static bool read_days(const struct reading *reading)
{
    return spans_read(&day_spans, reading->string, (unsigned *)(void *)reading->field, reading->fault);
}

static bool read_months(const struct reading *reading)
{
    return spans_read(&month_spans, reading->string, (unsigned *)(void *)reading->field, reading->fault);
}

static bool read_wire(const struct reading *reading)
{
    return wire_read(reading->string, (struct wire *)(void *)reading->field, reading->fault);
}

static bool read_protective(const struct reading *reading)
{
    return protective_read(reading->string, (struct protective *)(void *)reading->field, reading->fault);
}

static bool read_position(const struct reading *reading)
{
    return position_read(reading->string, reading->house->arena, (struct position_list *)(void *)reading->field,
                         reading->fault);
}

static bool read_blocks(const struct reading *reading)
{
    struct block_list blocks = {NULL, 0};
    if (!blocks_read(reading->string, reading->house->arena, &blocks, reading->fault)) {
        return false;
    }
    struct text written = {0};
    blocks_write(&blocks, false, &written);
    bool good = written.length + strlen(reading->key->name) < LINE_BYTES_MOST;
    text_done(&written);
    if (!good) {
        text_add(reading->fault, "longer than a line of 4096 bytes when written out, expected fewer blocks or digits");
        return false;
    }
    memcpy(reading->field, &blocks, sizeof blocks);
    return true;
}

bool value_read(const struct key *key, const char *string, const struct house *house, void *row, struct text *fault)
{
    static bool (*const readers[])(const struct reading *) = {
        [KEY_TEXT] = read_text,
        [KEY_QUANTITY] = read_quantity,
        [KEY_RATIO] = read_quantity,
        [KEY_HORSEPOWER] = read_horsepower,
        [KEY_WHOLE] = read_whole,
        [KEY_CHOICE] = read_choice,
        [KEY_WINDOWS] = read_windows,
        [KEY_DAYS] = read_days,
        [KEY_MONTHS] = read_months,
        [KEY_WIRE] = read_wire,
        [KEY_POSITION] = read_position,
        [KEY_LEGS] = read_legs,
        [KEY_PROTECTION] = read_protection,
        [KEY_DECIMAL] = read_decimal,
        [KEY_BLOCKS] = read_blocks,
        [KEY_CURRENCY] = read_currency,
        [KEY_PROTECTIVE] = read_protective,
    };
    assert(key->type < sizeof readers / sizeof readers[0] && readers[key->type] != NULL);
    const struct reading reading = {key, string, house, (char *)row + key->offset, fault};
    return readers[key->type](&reading);
}
