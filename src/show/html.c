#include "ampsum/html.h"

#include <assert.h>
#include <math.h>
#include <stdarg.h>
#include <stdbool.h>
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

static bool takes(const char **at, const char *conversion)
{
    const size_t length = strlen(conversion);
    const bool same = strncmp(*at, conversion, length) == 0;
    *at += same ? length : 0;
    return same;
}

void html_add_list(struct text *html, const char *format, va_list arguments)
{
    for (const char *at = format; *at != '\0';) {
        const size_t literal = strcspn(at, "%");
        text_add_length(html, at, literal);
        at += literal;
        if (takes(&at, "%s")) {
            markup_add(html, va_arg(arguments, const char *));
        } else if (takes(&at, "%zu")) {
            text_printf(html, "%zu", va_arg(arguments, size_t));
        } else if (takes(&at, "%.0f")) {
            add_figure(html, va_arg(arguments, double), 0);
        } else if (takes(&at, "%.1f")) {
            add_figure(html, va_arg(arguments, double), 1);
        } else if (takes(&at, "%.2f")) {
            add_figure(html, va_arg(arguments, double), 2);
        } else if (takes(&at, "%g")) {
            add_figure(html, va_arg(arguments, double), -1);
        } else if (*at != '\0') {
            assert(at[0] == '%' && at[1] == '%');
            text_add_char(html, '%');
            at += 2;
        }
    }
}

void html_add(struct text *html, const char *format, ...)
{
    va_list arguments;
    va_start(arguments, format);
    html_add_list(html, format, arguments);
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
