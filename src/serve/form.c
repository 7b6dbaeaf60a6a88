#include "form.h"

#include <stdlib.h>
#include <string.h>

#include "ampsum/html.h"
#include "ampsum/words.h"

void form_add(struct form *form, const char *name, const char *value)
{
    form->field = memory_grow(form->field, form->count, &form->capacity, sizeof *form->field);
    form->field[form->count++] = (struct field){name, value, value};
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

/* Blanks and escapes undone; NULL where an escape is broken. */
static char *decode(const char *bytes, size_t length, struct arena *arena, size_t *ret_used)
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
        decoded[used++] = c;
    }
    *ret_used = used;
    return decoded;
}

static bool is_break(char c)
{
    return c == '\r' || c == '\n' || c == '\t';
}

/* Line breaks turned into blanks, those at the end cut; NULL where it is no text. */
static char *one_line(const char *decoded, size_t used, struct arena *arena)
{
    char *line = arena_copy_length(arena, decoded, used);
    for (size_t i = 0; i < used; i++) {
        line[i] = is_break(line[i]) ? ' ' : line[i];
    }
    const bool plain = form_text_is_plain(line, used);
    while (used > 0 && line[used - 1] == ' ') {
        line[--used] = '\0';
    }
    return plain ? line : NULL;
}

/* One name or value; `ret_lines`, where not NULL: with its breaks. NULL where it is no text. */
static const char *read_part(const char *bytes, size_t length, struct arena *arena, const char **ret_lines)
{
    size_t used = 0;
    const char *decoded = decode(bytes, length, arena, &used);
    const char *line = decoded == NULL ? NULL : one_line(decoded, used, arena);
    if (ret_lines != NULL) {
        *ret_lines = decoded;
    }
    return line;
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
            const char *lines = "";
            const char *name = read_part(pair, name_length, arena, NULL);
            const char *value =
                equals == NULL ? "" : read_part(equals + 1, pair_length - name_length - 1, arena, &lines);
            if (name == NULL || value == NULL || form->count == FORM_FIELDS_MOST) {
                return false;
            }
            form_add(form, name, value);
            form->field[form->count - 1].lines = lines;
        }
        at += pair_length + 1;
    }
    return true;
}

/* The first of that name; NULL: none. */
static const struct field *find(const struct form *form, const char *name)
{
    for (size_t i = 0; i < form->count; i++) {
        if (strcmp(form->field[i].name, name) == 0) {
            return &form->field[i];
        }
    }
    return NULL;
}

const char *form_value(const struct form *form, const char *name)
{
    const struct field *field = find(form, name);
    return field == NULL ? "" : field->value + strspn(field->value, " ");
}

bool form_has(const struct form *form, const char *name)
{
    return find(form, name) != NULL;
}

const char *form_lines(const struct form *form, const char *name)
{
    const struct field *field = find(form, name);
    return field == NULL ? "" : field->lines;
}

const char *form_given(const struct form *form, const char *name)
{
    const char *value = form_value(form, name);
    return value[0] == '\0' ? NULL : value;
}

const char *const *form_all(const struct form *form, const char *name, struct arena *arena, size_t *ret_count)
{
    const char **values = arena_array(arena, form->count + 1, sizeof *values);
    *ret_count = 0;
    for (size_t i = 0; i < form->count; i++) {
        const struct field *field = &form->field[i];
        if (strcmp(field->name, name) == 0 && field->value[strspn(field->value, " ")] != '\0') {
            values[(*ret_count)++] = field->value;
        }
    }
    return values;
}

void form_query(const struct form *form, struct text *query)
{
    for (size_t i = 0; i < form->count; i++) {
        text_printf(query, "%s%s=", i > 0 ? "&" : "", form->field[i].name);
        html_query(query, form->field[i].value);
    }
}
