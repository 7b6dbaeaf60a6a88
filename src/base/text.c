#include "ampsum/text.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "ampsum/arena.h"
#include "ampsum/decimal.h"
#include "ampsum/words.h"

enum { TEXT_SHOWN_MOST = 60 };

void text_done(struct text *text)
{
    if (text != NULL) {
        free(text->bytes);
        *text = (struct text){0};
    }
}

const char *text_string(const struct text *text)
{
    return text->bytes == NULL ? "" : text->bytes;
}

void text_clear(struct text *text)
{
    text->length = 0;
    if (text->bytes != NULL) {
        text->bytes[0] = '\0';
    }
}

static void text_reserve(struct text *text, size_t more)
{
    size_t needed = text->length + more + 1;
    if (needed <= more) {
        memory_fail();
    }
    if (needed > text->capacity) {
        size_t capacity = text->capacity < 64 ? 64 : text->capacity * 2;
        text->capacity = capacity < needed ? needed : capacity;
        text->bytes = memory_resize(text->bytes, text->capacity, 1);
    }
}

void text_add_capital(struct text *text, const char *string)
{
    const bool small = string[0] >= 'a' && string[0] <= 'z';
    text_add_char(text, small ? (char)(string[0] - 'a' + 'A') : string[0]);
    text_add(text, string[0] == '\0' ? "" : string + 1);
}

void text_add_length(struct text *text, const char *bytes, size_t length)
{
    text_reserve(text, length);
    memcpy(text->bytes + text->length, bytes, length);
    text->length += length;
    text->bytes[text->length] = '\0';
}

void text_add(struct text *text, const char *string)
{
    text_add_length(text, string, strlen(string));
}

void text_add_char(struct text *text, char c)
{
    text_add_length(text, &c, 1);
}

void text_printf(struct text *text, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    text_printf_list(text, format, arguments);
    va_end(arguments);
}

char *arena_text(struct arena *arena, struct text *text)
{
    char *string = arena_copy_length(arena, text_string(text), text->length);
    text_done(text);
    return string;
}

const char *arena_line(struct arena *arena, const char **at)
{
    const char *line = *at;
    const size_t length = strcspn(line, "\n");
    if (line[0] == '\0') {
        return NULL;
    }
    *at += length + (line[length] == '\n');
    return arena_copy_length(arena, line, length);
}

char *arena_printf(struct arena *arena, const char *format, ...)
{
    struct text text = {0};
    va_list arguments;
    va_start(arguments, format);
    text_printf_list(&text, format, arguments);
    va_end(arguments);
    return arena_text(arena, &text);
}

static void text_add_whole(struct text *text, int whole)
{
    const long long magnitude = whole < 0 ? -(long long)whole : whole;
    text_add_decimal(text, whole < 0, (struct decimal){(uint64_t)magnitude, 0});
}

/*
 * Formats of nothing but %s, %d and %%, which are most of them: a tenth of the work. False where there is anything
 * else (a NULL too), with nothing added.
 */
static bool add_simple(struct text *text, const char *format, va_list arguments)
{
    const size_t before = text->length;
    for (const char *at = format; *at != '\0';) {
        const size_t plain = strcspn(at, "%");
        text_add_length(text, at, plain);
        at += plain;
        const char what = *at == '\0' ? '\0' : at[1];
        const char *string = what == 's' ? va_arg(arguments, const char *) : what == '%' ? "%" : NULL;
        if (string != NULL) {
            text_add(text, string);
        } else if (what == 'd') {
            text_add_whole(text, va_arg(arguments, int));
        } else if (*at != '\0') {
            text->length = before;
            text->bytes[before] = '\0';
            return false;
        }
        at += *at == '\0' ? 0 : 2;
    }
    return true;
}

void text_printf_list(struct text *text, const char *format, va_list arguments)
{
    va_list again;
    va_copy(again, arguments);
    text_reserve(text, 1);
    const bool simple = add_simple(text, format, again);
    va_end(again);
    if (simple) {
        return;
    }
    va_copy(again, arguments);
    text_reserve(text, 1);
    size_t room = text->capacity - text->length;
    int length = vsnprintf(text->bytes + text->length, room, format, arguments);
    if (length < 0) {
        memory_fail();
    }
    if ((size_t)length >= room) { /* most fit at once */
        text_reserve(text, (size_t)length);
        vsnprintf(text->bytes + text->length, (size_t)length + 1, format, again);
    }
    va_end(again);
    text->length += (size_t)length;
}

/* Bytes of the character at `string` if it may be shown, else 0. */
static size_t shown_size(const char *string)
{
    size_t size = 1;
    while (size < 4 && (string[size] & 0xC0) == 0x80) {
        size++;
    }
    char character[5] = {0};
    memcpy(character, string, size);
    return words_has_control(character) ? 0 : size;
}

void text_add_shown(struct text *text, const char *string)
{
    const char *at = string;
    while (*at != '\0' && at - string < TEXT_SHOWN_MOST) {
        size_t size = shown_size(at);
        if (size > 0) {
            text_add_length(text, at, size);
        } else {
            text_printf(text, "\\x%02X", (unsigned)(unsigned char)*at);
        }
        at += size > 0 ? size : 1;
    }
    text_add(text, *at == '\0' ? "" : "...");
}

/* Does a shell take this byte as it is, wherever it stands in a word but at its start? */
static bool is_plain(unsigned char c)
{
    return c >= 0x80 || (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
           (c != '\0' && strchr("/._-+:@%,=", c) != NULL);
}

void text_add_shell(struct text *text, const char *word)
{
    bool plain = word[0] != '\0' && word[0] != '=';
    for (const char *at = word; *at != '\0' && plain; at++) {
        plain = is_plain((unsigned char)*at);
    }
    if (plain) {
        text_add(text, word);
        return;
    }
    text_add_char(text, '\'');
    for (const char *at = word; *at != '\0'; at++) {
        if (*at == '\'') {
            text_add(text, "'\\''");
        } else {
            text_add_char(text, *at);
        }
    }
    text_add_char(text, '\'');
}

void text_add_harmless(struct text *text, const char *string)
{
    for (const char *at = string; *at != '\0';) {
        const size_t size = *at == '\n' ? 1 : shown_size(at);
        if (size > 0) {
            text_add_length(text, at, size);
        } else {
            text_printf(text, "\\x%02X", (unsigned)(unsigned char)*at);
        }
        at += size > 0 ? size : 1;
    }
}

void text_add_number(struct text *text, double value)
{
    assert(isfinite(value));
    struct decimal decimal;
    if ((value == 0 || fabs(value) >= 1e-4) &&
        decimal_short(fabs(value), &decimal)) { /* most are: no exponent either */
        text_add_decimal(text, value < 0, decimal);
        return;
    }
    char digits[40];
    for (int precision = 15; precision <= 17; precision++) {
        snprintf(digits, sizeof digits, "%.*g", precision, value);
        if (strtod(digits, NULL) == value) {
            break;
        }
    }
    text_add(text, strcmp(digits, "-0") == 0 ? "0" : digits);
}

void text_add_fixed(struct text *text, double value, int decimals)
{
    assert(isfinite(value) && decimals >= 0 && decimals <= 12);
    /*
     * Half-up on the decimal that people would write: 15 significant digits first, so that 2.675 (held a hair lower)
     * rounds as it reads. The nudge is far below what any printed figure shows.
     */
    double nudge = fabs(value) * 1e-14;
    double shown = value < 0 ? value - nudge : value + nudge;
    struct decimal decimal;
    if (decimal_rounded(fabs(shown), decimals, &decimal)) {
        text_add_decimal(text, value < 0 && decimal.digits > 0, decimal);
        return;
    }
    struct text digits = {0};
    text_printf(&digits, "%.*f", decimals, shown);
    const char *start = text_string(&digits);
    if (start[0] == '-' && strspn(start + 1, "0.") == strlen(start + 1)) {
        start++;
    }
    text_add(text, start);
    text_done(&digits);
}

void text_add_rounded(struct text *text, double value, int decimals)
{
    size_t before = text->length;
    text_add_fixed(text, value, decimals);
    if (memchr(text->bytes + before, '.', text->length - before) == NULL) {
        return;
    }
    while (text->bytes[text->length - 1] == '0') {
        text->length--;
    }
    if (text->bytes[text->length - 1] == '.') {
        text->length--;
    }
    text->bytes[text->length] = '\0';
}

void text_fixed(struct text *text, const char *before, double value, int decimals, const char *after)
{
    text_add(text, before);
    text_add_fixed(text, value, decimals);
    text_add(text, after);
}

void text_rounded(struct text *text, const char *before, double value, int decimals, const char *after)
{
    text_add(text, before);
    text_add_rounded(text, value, decimals);
    text_add(text, after);
}
