#include "ampsum/html.h"

#include <stdarg.h>
#include <stdbool.h>
#include <string.h>

#include "ampsum/markup.h"

void html_add_list(struct text *html, const char *format, va_list arguments)
{
    text_say_list(html, markup_add, format, arguments);
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
