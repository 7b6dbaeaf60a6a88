#include "form.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/words.h"

void form_add(struct form *form, const char *name, const char *value)
{
    form->field = memory_grow(form->field, form->count, &form->capacity, sizeof *form->field);
    form->field[form->count++] = (struct field){name, value};
}

void form_done(struct form *form)
{
    free(form->field);
    *form = (struct form){0};
}

bool form_text_is_plain(const char *string, size_t length)
{
    return strlen(string) == length && words_is_utf8(string, length) && !words_has_control(string);
}

static int hex_digit(char c)
{
    const char *digits = "0123456789abcdef";
    const char lower = c >= 'A' && c <= 'F' ? (char)(c - 'A' + 'a') : c;
    const char *found = lower == '\0' ? NULL : strchr(digits, lower);
    return found == NULL ? -1 : (int)(found - digits);
}

/* Blanks and escapes undone, line breaks turned into blanks; NULL where it is no text. */
static char *decode(const char *bytes, size_t length, struct arena *arena)
{
    char *decoded = arena_take(arena, length + 1);
    size_t used = 0;
    for (size_t i = 0; i < length; i++) {
        char c = bytes[i] == '+' ? ' ' : bytes[i];
        if (c == '%') {
            int high = length - i > 2 ? hex_digit(bytes[i + 1]) : -1;
            int low = length - i > 2 ? hex_digit(bytes[i + 2]) : -1;
            if (high < 0 || low < 0) {
                return NULL;
            }
            c = (char)(high * 16 + low);
            i += 2;
        }
        decoded[used++] = c == '\r' || c == '\n' || c == '\t' ? ' ' : c;
    }
    bool plain = form_text_is_plain(decoded, used);
    while (used > 0 && decoded[used - 1] == ' ') {
        decoded[--used] = '\0';
    }
    return plain ? decoded : NULL;
}

bool form_read(struct form *form, const char *bytes, size_t length, struct arena *arena)
{
    for (size_t at = 0; at < length;) {
        const char *pair = bytes + at;
        const char *end = memchr(pair, '&', length - at);
        size_t pair_length = end == NULL ? length - at : (size_t)(end - pair);
        const char *equals = memchr(pair, '=', pair_length);
        size_t name_length = equals == NULL ? pair_length : (size_t)(equals - pair);
        if (pair_length > 0) {
            char *name = decode(pair, name_length, arena);
            char *value =
                equals == NULL ? arena_copy(arena, "") : decode(equals + 1, pair_length - name_length - 1, arena);
            if (name == NULL || value == NULL || form->count == FORM_FIELDS_MOST) {
                return false;
            }
            form_add(form, name, value);
        }
        at += pair_length + 1;
    }
    return true;
}

const char *form_value(const struct form *form, const char *name)
{
    for (size_t i = 0; i < form->count; i++) {
        if (strcmp(form->field[i].name, name) == 0) {
            const char *value = form->field[i].value;
            return value + strspn(value, " ");
        }
    }
    return "";
}

bool form_has(const struct form *form, const char *name)
{
    for (size_t i = 0; i < form->count; i++) {
        if (strcmp(form->field[i].name, name) == 0) {
            return true;
        }
    }
    return false;
}
