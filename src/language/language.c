#include "ampsum/language.h"

#include <assert.h>
#include <ctype.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "rows.h"

enum { NAMES_MOST = 9 };

size_t language_count(void)
{
    return language_code_count;
}

const char *language_code(int language)
{
    return language_codes[language];
}

int language_find(const char *code)
{
    for (size_t i = 0; i < language_code_count; i++) {
        if (strcmp(language_codes[i], code) == 0) {
            return (int)i;
        }
    }
    return -1;
}

static int compare_key(const void *key, const void *row)
{
    return strcmp(key, *(const char *const *)row);
}

const char *say_plain(int language, const char *key)
{
    const char *const *found = bsearch(key, language_keys, language_key_count, sizeof language_keys[0], compare_key);
    assert(found != NULL);
    return language_sentences[language][found - language_keys];
}

/* What fills the place of that name; NULL where nothing does. */
static const char *filling(const char *name, size_t length, va_list places)
{
    va_list at;
    const char *found = NULL;
    va_copy(at, places);
    for (const char *place = va_arg(at, const char *); place != NULL; place = va_arg(at, const char *)) {
        const char *value = va_arg(at, const char *);
        if (strlen(place) == length && strncmp(place, name, length) == 0) {
            found = value;
        }
    }
    va_end(at);
    return found;
}

void say(struct text *text, int language, const char *key, ...)
{
    va_list places;
    va_start(places, key);
    for (const char *at = say_plain(language, key); *at != '\0';) {
        const char *end = *at == '{' ? strchr(at, '}') : NULL;
        if (end == NULL) {
            text_add_char(text, *at++);
            continue;
        }
        const char *value = filling(at + 1, (size_t)(end - at) - 1, places);
        assert(value != NULL);
        text_add(text, value);
        at = end + 1;
    }
    va_end(places);
}

/* ------------------------------------------------------------------ by the English ------------------------ */

/* Rows that are found by key alone: the "no" of language.groups is no answer, the "part" of a column no resistor. */
static bool is_sentence(size_t row)
{
    static const char *const others[] = {"language.", "solve.", "column."};
    bool found = true;
    for (size_t i = 0; i < sizeof others / sizeof others[0]; i++) {
        found = found && strncmp(language_keys[row], others[i], strlen(others[i])) != 0;
    }
    return found;
}

const char *say_template(int language, const char *english)
{
    const char *const *sentences = language_sentences[LANGUAGE_ENGLISH];
    for (size_t i = 0; language != LANGUAGE_ENGLISH && i < language_key_count; i++) {
        if (is_sentence(i) && strcmp(sentences[i], english) == 0) {
            return language_sentences[language][i];
        }
    }
    return english;
}

struct name {
    const char *start;
    size_t length;
};

static bool is_letter(char c)
{
    return isalpha((unsigned char)c) || (unsigned char)c >= 0x80;
}

/* R1, I12: a letter with a number behind it, alone. */
static size_t name_length(const char *english, const char *at)
{
    if (!isalpha((unsigned char)*at) || (at > english && (is_letter(at[-1]) || isdigit((unsigned char)at[-1])))) {
        return 0;
    }
    const size_t digits = strspn(at + 1, "0123456789");
    return digits == 0 || is_letter(at[1 + digits]) ? 0 : 1 + digits;
}

/* The sentence with {1}, {2} for its names. */
static size_t take_names(struct text *ret_template, const char *english, struct name *ret_names)
{
    size_t count = 0;
    for (const char *at = english; *at != '\0';) {
        const size_t length = count < NAMES_MOST ? name_length(english, at) : 0;
        if (length == 0) {
            text_add_char(ret_template, *at++);
            continue;
        }
        ret_names[count++] = (struct name){at, length};
        text_printf(ret_template, "{%zu}", count);
        at += length;
    }
    return count;
}

static void fill_names(struct text *text, const char *sentence, const struct name *names, size_t count)
{
    while (*sentence != '\0') {
        const size_t place = sentence[0] == '{' && isdigit((unsigned char)sentence[1]) && sentence[2] == '}'
                                 ? (size_t)(sentence[1] - '0')
                                 : 0;
        if (place >= 1 && place <= count) {
            text_add_length(text, names[place - 1].start, names[place - 1].length);
            sentence += 3;
        } else {
            text_add_char(text, *sentence++);
        }
    }
}

bool say_english(struct text *text, int language, const char *english)
{
    struct name names[NAMES_MOST];
    struct text pattern = {0};
    const size_t count = take_names(&pattern, english, names);
    const char *sentence = say_template(language, text_string(&pattern));
    const bool found = sentence != text_string(&pattern);
    fill_names(text, sentence, names, count);
    text_done(&pattern);
    return found;
}

/* ------------------------------------------------------------------ writing ------------------------------- */

struct writing language_writing(int language)
{
    return (struct writing){.decimal = say_plain(language, "language.decimal")[0],
                            .grouped = strcmp(say_plain(language, "language.groups"), "yes") == 0,
                            .voltage = say_plain(language, "language.voltage")[0]};
}

/* The digits there, with groups of three parted where there are five or more; what follows them. */
static const char *write_whole(struct text *text, const struct writing *writing, const char *at)
{
    enum { LEAST = 5, GROUP = 3 };
    const size_t digits = strspn(at, "0123456789");
    for (size_t i = 0; i < digits; i++) {
        if (writing->grouped && digits >= LEAST && i > 0 && (digits - i) % GROUP == 0) {
            text_add(text, "\xE2\x80\xAF");
        }
        text_add_char(text, at[i]);
    }
    return at + digits;
}

static const char *write_number(struct text *text, const struct writing *writing, const char *at)
{
    at = write_whole(text, writing, at);
    if (at[0] == '.' && isdigit((unsigned char)at[1])) {
        text_add_char(text, writing->decimal);
        const size_t digits = strspn(at + 1, "0123456789");
        text_add_length(text, at + 1, digits);
        at += 1 + digits;
    }
    return at;
}

/* A letter or digit stands before that place; spaces without a break and signs such as the times are none. */
static bool is_inside(const char *line, const char *at)
{
    if (at == line || (unsigned char)at[-1] < 0x80) {
        return at > line && isalnum((unsigned char)at[-1]);
    }
    const char *start = at - 1;
    while (start > line && ((unsigned char)*start & 0xC0) == 0x80) {
        start--;
    }
    const unsigned char first = (unsigned char)*start;
    return first != 0xC2 && first != 0xE2 && strncmp(start, "\xC3\x97", 2) != 0;
}

/* The letter of a voltage, not the unit behind a number, nor the one that a blank is labelled with. */
static bool is_voltage(const char *line, const char *at)
{
    const bool squared = strncmp(at + 1, "\xC2\xB2", 2) == 0;
    const bool blank = strncmp(at + 1, "\xC2\xA0", 2) == 0;
    if (*at != 'V' || at[1] == ':' || (is_letter(at[1]) && !squared && !blank) || is_inside(line, at)) {
        return false;
    }
    const char *before = at;
    while (before > line && (before[-1] == ' ' || (before - line > 1 && strncmp(before - 2, "\xC2\xA0", 2) == 0))) {
        before -= before[-1] == ' ' ? 1 : 2;
    }
    return before == at || before == line || !(isdigit((unsigned char)before[-1]) || before[-1] == '_');
}

/* "ohm", or that with a prefix, as a word of its own. */
static bool is_ohm(const char *line, const char *at)
{
    const char *before = at > line && strchr("kmM", at[-1]) != NULL ? at - 1 : at;
    return strncmp(at, "ohm", 3) == 0 && !is_letter(at[3]) && before > line && !isalpha((unsigned char)before[-1]);
}

/* The sign for the unit there, and its length as it was made; 0 where none stands there. */
static size_t sign_at(const char *line, const char *at, const char **ret_sign)
{
    static const char square_mm[] = "mm2";
    const bool square = strncmp(at, square_mm, 3) == 0 && !isalnum((unsigned char)at[3]);
    *ret_sign = square ? "mm\xC2\xB2" : "\xCE\xA9";
    return square || is_ohm(line, at) ? 3 : 0;
}

/* A blank between a number and its unit, which no line's end is to part. */
static bool is_unit_blank(const char *line, const char *at)
{
    const char *unit = at + 1 + (at[1] != '\0' && strchr("kmM", at[1]) != NULL);
    return *at == ' ' && at > line && isdigit((unsigned char)at[-1]) &&
           (isupper((unsigned char)*unit) || strncmp(unit, "ohm", 3) == 0 || strncmp(at + 1, "var", 3) == 0);
}

void language_write(struct text *text, const struct writing *writing, const char *line)
{
    for (const char *at = line; *at != '\0';) {
        const char *sign = NULL;
        const size_t unit = writing->signs ? sign_at(line, at, &sign) : 0;
        if (isdigit((unsigned char)*at) && !is_inside(line, at)) {
            at = write_number(text, writing, at);
        } else if (writing->voltage != 'V' && is_voltage(line, at)) {
            text_add_char(text, writing->voltage);
            at++;
        } else if (writing->signs && is_unit_blank(line, at)) {
            text_add(text, "\xC2\xA0");
            at++;
        } else if (unit > 0) {
            text_add(text, sign);
            at += unit;
        } else {
            text_add_char(text, *at++);
        }
    }
}
