#include "html.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <string.h>

#include "ampsum/markup.h"

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
        const size_t literal = strcspn(at, "%");
        text_add_length(html, at, literal);
        at += literal;
        if (*at == '\0') {
            break;
        }
        at++;
        switch (*at) {
        case 's':
            markup_add(html, va_arg(arguments, const char *));
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
