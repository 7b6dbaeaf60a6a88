#include "html.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "ampsum/words.h"

/* Bytes of the well-formed UTF-8 character at `at`, else 0; *ret_held: a page may hold it. */
static size_t character_bytes(const char *at, bool *ret_held)
{
    const unsigned char first = (unsigned char)at[0];
    const size_t bytes = first < 0x80 ? 1 : first < 0xE0 ? 2 : first < 0xF0 ? 3 : 4;
    char character[5] = {0};
    for (size_t i = 0; i < bytes && at[i] != '\0'; i++) {
        character[i] = at[i];
    }
    *ret_held = first == '\n' || first == '\t' || !words_has_control(character);
    return strlen(character) == bytes && words_is_utf8(character, bytes) ? bytes : 0;
}

void html_escape(struct text *html, const char *string)
{
    static const struct {
        char character;
        const char *entity;
    } entities[] = {{'&', "&amp;"}, {'<', "&lt;"}, {'>', "&gt;"}, {'"', "&quot;"}, {'\'', "&#39;"}};
    for (const char *at = string == NULL ? "" : string; *at != '\0';) {
        const char *entity = NULL;
        for (size_t i = 0; i < sizeof entities / sizeof entities[0]; i++) {
            entity = entities[i].character == *at ? entities[i].entity : entity;
        }
        bool held = false;
        const size_t bytes = character_bytes(at, &held);
        if (entity != NULL) {
            text_add(html, entity);
        } else if (bytes == 0 || !held) {
            text_add(html, "\xEF\xBF\xBD");
        } else {
            text_add_length(html, at, bytes);
        }
        at += bytes == 0 ? 1 : bytes;
    }
}

static void add_figure(struct text *html, double value, int decimals)
{
    if (!isfinite(value)) {
        text_add_char(html, '-');
    } else if (decimals < 0) {
        text_add_rounded(html, value, 3);
    } else {
        text_add_fixed(html, value, decimals);
    }
}

void html_add(struct text *html, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    for (const char *at = format; *at != '\0'; at++) {
        if (*at != '%') {
            text_add_char(html, *at);
            continue;
        }
        at++;
        switch (*at) {
        case 's':
            html_escape(html, va_arg(arguments, const char *));
            break;
        case 'z':
            text_printf(html, "%zu", va_arg(arguments, size_t));
            break;
        case '0':
        case '1':
        case '2':
            add_figure(html, va_arg(arguments, double), *at - '0');
            break;
        case 'r':
            add_figure(html, va_arg(arguments, double), -1);
            break;
        default:
            assert(*at == '%');
            text_add_char(html, '%');
        }
    }
    va_end(arguments);
}

void html_query(struct text *html, const char *string)
{
    for (const char *at = string; *at != '\0'; at++) {
        bool plain = (*at >= 'a' && *at <= 'z') || (*at >= 'A' && *at <= 'Z') || (*at >= '0' && *at <= '9') ||
                     strchr("-._", *at) != NULL;
        if (plain) {
            text_add_char(html, *at);
        } else {
            text_printf(html, "%%%02X", (unsigned char)*at);
        }
    }
}
