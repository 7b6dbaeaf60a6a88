#include "ampsum/language.h"

#include <assert.h>
#include <ctype.h>
#include <stdarg.h>
#include <stdlib.h>
#include <string.h>

#include "rows.h"

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

/* Whether a name is heard to begin with an i: "I3", "Iluminación", "hilo", not "hielo". */
static bool sounds_as_i(const char *name)
{
    const bool mute = (name[0] == 'h' || name[0] == 'H') && (name[1] == 'i' || name[1] == 'I');
    return name[0] == 'i' || name[0] == 'I' || strncmp(name, "\xC3\xAD", 2) == 0 || strncmp(name, "\xC3\x8D", 2) == 0 ||
           (mute && name[2] != '\0' && strchr("aeouAEOU", name[2]) == NULL);
}

/* What fills a place. Before the sound of an i some languages join by another word: "I2 e I3". */
static void add_filling(struct text *text, int language, const char *name, size_t length)
{
    struct text joint = {0};
    text_printf(&joint, " %s ", say_plain(language, "language.and"));
    if (sounds_as_i(name) && text->length >= joint.length &&
        strcmp(text_string(text) + text->length - joint.length, text_string(&joint)) == 0) {
        text->length -= joint.length;
        text_printf(text, " %s ", say_plain(language, "language.and-before-i"));
    }
    text_add_length(text, name, length);
    text_done(&joint);
}

void say_list(struct text *text, int language, const char *key, va_list places)
{
    for (const char *at = say_plain(language, key); *at != '\0';) {
        const char *end = *at == '{' ? strchr(at, '}') : NULL;
        if (end == NULL) {
            text_add_char(text, *at++);
            continue;
        }
        const char *value = filling(at + 1, (size_t)(end - at) - 1, places);
        assert(value != NULL);
        add_filling(text, language, value, strlen(value));
        at = end + 1;
    }
}

void say(struct text *text, int language, const char *key, ...)
{
    va_list places;
    va_start(places, key);
    say_list(text, language, key, places);
    va_end(places);
}

/* ------------------------------------------------------------------ messages ------------------------------ */

/* The row of the key that stands there; NULL where none is so. */
static const char *find_row(int language, const char *key, size_t length)
{
    struct text alone = {0};
    text_add_length(&alone, key, length);
    const char *const *found =
        bsearch(text_string(&alone), language_keys, language_key_count, sizeof language_keys[0], compare_key);
    text_done(&alone);
    return found == NULL ? NULL : language_sentences[language][found - language_keys];
}

const char *say_form(int language, const char *form)
{
    const char *row = find_row(language, form, strlen(form));
    return row == NULL ? form : row;
}

/* The name at `place`, 1 upwards, of those that stand behind the key, parted by blanks. */
static void add_name(struct text *text, int language, const char *names, int place)
{
    for (; place > 1; place--) {
        names += strcspn(names, " ");
        names += *names == ' ';
    }
    add_filling(text, language, names, strcspn(names, " "));
}

bool say_message(struct text *text, int language, const char *message)
{
    const size_t length = strcspn(message, " ");
    const char *row = find_row(language, message, length);
    const char *names = message + length + (message[length] == ' ');
    for (const char *at = row == NULL ? message : row; *at != '\0';) {
        if (row != NULL && at[0] == '{' && isdigit((unsigned char)at[1]) && at[2] == '}') {
            add_name(text, language, names, at[1] - '0');
            at += 3; /* the place is one digit between braces */
        } else {
            text_add_char(text, *at++);
        }
    }
    return row != NULL;
}

/* ------------------------------------------------------------------ writing ------------------------------- */

struct writing language_writing(int language)
{
    return (struct writing){.decimal = say_plain(language, "language.decimal")[0],
                            .grouped = strcmp(say_plain(language, "language.groups"), "yes") == 0,
                            .voltage = say_plain(language, "language.voltage")[0]};
}

static bool is_letter(char c)
{
    return isalpha((unsigned char)c) || (unsigned char)c >= 0x80;
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

/* A blank without a break, narrow or not. */
static bool is_hard_blank(const char *at)
{
    return strncmp(at, "\xC2\xA0", 2) == 0 || strncmp(at, "\xE2\x80\xAF", 3) == 0;
}

/* The letter of a voltage, not the unit behind a number, nor the one that a blank is labelled with. */
static bool is_voltage(const char *line, const char *at)
{
    const bool squared = strncmp(at + 1, "\xC2\xB2", 2) == 0;
    const bool blank = is_hard_blank(at + 1);
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
    return strncmp(at, "ohm", 3) == 0 && (!is_letter(at[3]) || is_hard_blank(at + 3)) && before > line &&
           !isalpha((unsigned char)before[-1]);
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
